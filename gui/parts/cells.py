"""The one delegate of tables with columns: hairlines, no zebra, the bar of the chosen row.

A page gives `gui.view.TableView` its columns; a cell whose text has two lines is drawn with
the second one muted, and one that says `44 → 43` with what will be in bold.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from gui.parts.paint import ONE, paint_bar, paint_chosen
from gui.parts.write import advance, write
from gui.style import LOOK
from gui.theme import INSIDE, Type

if TYPE_CHECKING:
    from gui.view import TableView

Index = QModelIndex | QPersistentModelIndex
TWO = 44
"""Height of a row of two lines, pixels at the first size of text."""
ARROW = "→"


class CellDelegate(QStyledItemDelegate):
    """Draws cells: plain, of two lines, or of a change."""

    def __init__(self, table: "TableView") -> None:
        super().__init__(table)
        self._table = table

    @staticmethod
    def width(text: str) -> int:
        """Return the room a text asks for, pixels."""
        first, _, second = text.partition("\n")
        own = advance(first, bold=ARROW in text)
        return max(own, advance(second, Type.SECOND)) + 2 * LOOK.px(INSIDE)

    # Qt's interface: Qt's names.

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the room of a cell."""
        del option
        text = str(index.data() or "")
        return QSize(self.width(text), LOOK.px(TWO if "\n" in text else ONE))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Draw a cell."""
        theme, box = LOOK.theme, QRectF(option.rect)
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            paint_chosen(painter, box)
            if self._table.columnViewportPosition(index.column()) == 0:
                paint_bar(painter, box, active=self._table.hasFocus())
        painter.setPen(QColor(theme.line))
        low = int(box.bottom())
        painter.drawLine(int(box.left()), low, int(box.right()) + 1, low)
        self._write(painter, box, index)
        painter.restore()

    def _write(self, painter: QPainter, box: QRectF, index: Index) -> None:
        theme = LOOK.theme
        row, column = self._table.cell(index)
        first, _, second = column.said(row).partition("\n")
        room = box.adjusted(LOOK.px(INSIDE), 0, -LOOK.px(INSIDE), 0)
        lines = [(first, Type.TEXT, theme.tone(column.tone(row)))]
        if second:
            lines.append((second, Type.SECOND, theme.muted))
        high = sum(LOOK.metrics(size).height() for _, size, _ in lines)
        top = room.center().y() - high / 2
        for text, size, ink in lines:
            tall = LOOK.metrics(size).height()
            line = QRectF(room.left(), top, room.width(), tall)
            bold = size is Type.TEXT and ARROW in text
            write(painter, line, text, size, ink, bold=bold, align=column.align)
            top += tall
