"""The one delegate of row lists: where words of a row stand, and how they are drawn.

Columns are fitted to data, width and size of text: the number, the name (24 letters at
most), the statement (which takes the rest), and where the row leads.  What is longer than
its column goes on in the next line: nothing that is said is cut off.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import (
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from gui.parts.signs import RowSign, paint
from gui.parts.write import advance, broken, write
from gui.style import LOOK
from gui.theme import BAR, BETWEEN, COLUMNS, INSIDE, Type

if TYPE_CHECKING:
    from gui.parts.rows import ListRow, RowList

Index = QModelIndex | QPersistentModelIndex
NAME_LETTERS = 24
RIGHT = Qt.AlignmentFlag.AlignRight
ONE, TWO, HEAD = 27, 42, 32
"""Heights of rows and headings, pixels at the first size of text."""
SIGN_ROOM = 14
APART = 4
"""Above and beneath the lines of a row, together."""


@dataclass(slots=True)
class Columns:
    """Left edges and widths, pixels."""

    number: int = 0
    name: int = 0
    says: int = 0
    at: int = 0


@dataclass(frozen=True, slots=True)
class Stack:
    """Lines under each other: of a name or statement, then of what stands beneath."""

    lines: tuple[tuple[str, Type, bool, int], ...]
    """Each with its size, whether it is bold, and its width."""

    @classmethod
    def of(cls, *texts: tuple[str, int, Type, bool]) -> "Stack":
        """Break texts, each with its width, size and weight."""
        return cls(
            tuple(
                (line, size, bold, room)
                for text, room, size, bold in texts
                for line in broken(text, room, size, bold=bold)
            )
        )

    @property
    def height(self) -> int:
        """How high they are together, pixels."""
        return sum(LOOK.metrics(size).height() for _, size, _, _ in self.lines)

    def paint(self, painter: QPainter, x: float, y: float, ink: str) -> None:
        """Write them; what stands beneath is paler."""
        for text, size, bold, room in self.lines:
            at = QRectF(x, y, room, LOOK.metrics(size).height())
            colour = ink if size is Type.TEXT else LOOK.theme.muted
            write(painter, at, text, size, colour, bold=bold)
            y += at.height()


class RowDelegate(QStyledItemDelegate):
    """Draws rows, as high as what they say."""

    def __init__(self, rows: "RowList") -> None:
        super().__init__(rows)
        self._list = rows
        self.columns = Columns()

    def fit(self, rows: Sequence["ListRow"], width: int) -> None:
        """Fit the columns to rows and to a width."""
        letter = LOOK.metrics().averageCharWidth()
        of_rows = [row for row in rows if not row.is_head]
        numbers = [advance(row.number, bold=True) for row in of_rows]
        found = Columns(number=max(numbers, default=0))
        ats = [advance(row.at, Type.SECOND, bold=True) for row in of_rows]
        found.at = max(ats, default=0)
        left = self._left() + found.number + (LOOK.px(INSIDE) if found.number else 0)
        room = width - left - LOOK.px(COLUMNS)
        if self._list.says:
            wide = [
                max(advance(row.name, bold=True), advance(row.second, Type.SECOND))
                for row in of_rows
            ]
            most = letter * (NAME_LETTERS + 1)
            found.name = min(max(wide, default=0), most, int(room * 0.5))
            found.says = room - found.name - LOOK.px(COLUMNS)
            at_room = found.at if self._list.wide_at else LOOK.px(INSIDE)
            found.says -= at_room + LOOK.px(COLUMNS)
        else:
            found.name = room - (found.at + LOOK.px(BETWEEN) if found.at else 0)
        self.columns = found

    def _name_room(self, row: "ListRow") -> int:
        """Return the room of a row's name: what its own words at the right leave."""
        if self._list.says or row.link or not self.columns.at:
            return self.columns.name
        at = advance(row.at, Type.SECOND, bold=True)
        free = self.columns.at - at + (0 if row.at else LOOK.px(BETWEEN))
        return self.columns.name + free

    def _above(self, row: "ListRow") -> bool:
        """Tell whether the words at the right keep to the first line.

        The second line needs the room beneath them.
        """
        second = advance(row.second, Type.SECOND)
        beside = bool(row.at) and not (self._list.says or row.link)
        return beside and second > self._name_room(row)

    def _second_room(self, row: "ListRow") -> int:
        """Return the room of a row's second line."""
        if self._above(row):
            return self.columns.name + self.columns.at + LOOK.px(BETWEEN)
        return self._name_room(row)

    def _stacks(self, row: "ListRow") -> tuple["Stack", ...]:
        """Return the lines of a row's columns: the name's, and those of what it says."""
        bold = row.strong and (not self._list.says or not row.number)
        own = Stack.of(
            (row.name, self._name_room(row), Type.TEXT, bold),
            (row.second, self._second_room(row), Type.SECOND, False),
        )
        if not self._list.says:
            return (own,)
        says = self.columns.says
        return own, Stack.of(
            (row.says, says, Type.TEXT, row.strong),
            (row.then, says, Type.SECOND, False),
        )

    def _left(self) -> int:
        return LOOK.px(COLUMNS) + LOOK.px(SIGN_ROOM)

    # Qt's interface: Qt's names.

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the height of a row."""
        del option
        row = self._row(index)
        if row.is_head:
            return QSize(0, LOOK.px(HEAD))
        usual = LOOK.px(TWO if row.lines > 1 else ONE)
        lines = max(stack.height for stack in self._stacks(row)) + LOOK.px(APART)
        return QSize(0, max(usual, lines))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Draw a row."""
        row, theme = self._row(index), LOOK.theme
        box = QRectF(option.rect)
        painter.save()
        if row.is_head:
            self._paint_head(painter, box, row)
            painter.restore()
            return
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            paint_chosen(painter, box)
            paint_bar(painter, box, active=self._list.hasFocus())
        line_left = box.left() + LOOK.px(COLUMNS)
        painter.setPen(QColor(theme.line))
        low = int(box.bottom())
        painter.drawLine(int(line_left), low, int(box.right()), low)
        self._paint_row(painter, box, row, chosen=chosen)
        painter.restore()

    def _paint_head(self, painter: QPainter, box: QRectF, row: "ListRow") -> None:
        theme = LOOK.theme
        painter.fillRect(box, QColor(theme.stripe))
        left = box.adjusted(LOOK.px(COLUMNS), 0, -LOOK.px(COLUMNS), 0)
        wide = write(painter, left, row.name, Type.SECOND, theme.text, bold=True)
        if row.count is not None:
            rest = left.adjusted(wide + LOOK.px(INSIDE), 0, 0, 0)
            write(painter, rest, f"{row.count}", Type.SECOND, theme.muted)

    def _paint_row(
        self, painter: QPainter, box: QRectF, row: "ListRow", *, chosen: bool
    ) -> None:
        theme, columns = LOOK.theme, self.columns
        stacks = self._stacks(row)
        top = box.top() + (box.height() - max(stack.height for stack in stacks)) / 2
        x = box.left() + LOOK.px(COLUMNS)
        ink = theme.tone(row.tone)
        if row.sign is not RowSign.NONE:
            room = QRectF(x - LOOK.px(6), box.top(), LOOK.px(SIGN_ROOM), box.height())
            paint(painter, row.sign, room)
        x += LOOK.px(SIGN_ROOM)
        first = QRectF(0, top, 0, LOOK.metrics().height())
        if columns.number:
            at = QRectF(x, first.top(), columns.number, first.height())
            write(painter, at, row.number, Type.TEXT, ink, bold=True, align=RIGHT)
            x += columns.number + LOOK.px(INSIDE)
        for stack in stacks:
            stack.paint(painter, x, top, ink)
            x += columns.name + LOOK.px(COLUMNS)
        self._paint_at(painter, box, row, first, chosen=chosen)

    def _paint_at(
        self,
        painter: QPainter,
        box: QRectF,
        row: "ListRow",
        first: QRectF,
        *,
        chosen: bool,
    ) -> None:
        """Write what stands at the right, in the first line where others need the room."""
        theme, says = LOOK.theme, self.columns.says
        own = advance(row.at, Type.SECOND, bold=True)
        show_at = self._list.wide_at
        if not show_at and chosen:  # what is so comes before where that is closed
            free = says - own - LOOK.px(INSIDE)
            show_at = advance(row.says, bold=row.strong) <= free
        text = row.at if show_at else "›" * row.link
        colour = theme.accent if row.link else theme.muted
        wide = max(self.columns.at, LOOK.px(COLUMNS))
        beside = self._above(row) or (show_at and not self._list.wide_at)
        level = first if beside else box
        right = box.right() - LOOK.px(COLUMNS)
        at = QRectF(right - wide, level.top(), wide, level.height())
        bold = row.link and chosen
        write(painter, at, text, Type.SECOND, colour, bold=bold, align=RIGHT)

    def _row(self, index: Index) -> "ListRow":
        return self._list.model_.rows[index.row()]


def paint_chosen(painter: QPainter, box: QRectF) -> None:
    """Draw the ground of what is chosen."""
    painter.fillRect(box, QColor(LOOK.theme.chosen))


def paint_bar(painter: QPainter, box: QRectF, *, active: bool) -> None:
    """Draw the bar of what is chosen; `active` tells whether keys go there."""
    theme = LOOK.theme
    bar = QRectF(box.left(), box.top(), BAR, box.height())
    painter.fillRect(bar, QColor(theme.accent if active else theme.edge))
