"""The rail at the left: pages in the order of a morning, under headings, with what is open.

The window fills it from `gui.pages.registry`; pages do not touch it.  Counts are those of
the one list of open matters, so they add up to the count of the home.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from gui.parts.paint import paint_bar, paint_chosen
from gui.style import LOOK, follow
from gui.theme import Type

Index = QModelIndex | QPersistentModelIndex
NAME, COUNT, HEAD = (Qt.ItemDataRole.UserRole + i for i in (1, 2, 3))
MOST_ROW, LEAST_ROW = 30, 22
"""Height of a page's row, pixels at the first size of text; it shrinks on low screens."""
WIDE, NARROW = 186, 166


class Stop(NamedTuple):
    """One page of the rail."""

    name: str
    title: str
    key: str


class Rail(QListWidget):
    """Pages under headings."""

    asked = Signal(str)  # name of a page

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rail")
        self.setAccessibleName("Pages")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.setItemDelegate(_RailDelegate(self))
        self.narrow = False
        self.unit = MOST_ROW
        self.currentItemChanged.connect(self._on_current)
        follow(self.fit)

    def fill(self, groups: Sequence[tuple[str, Sequence[Stop]]]) -> None:
        """Show headings and pages."""
        self.clear()
        for title, stops in groups:
            top = self._added(title)
            top.setData(HEAD, True)
            top.setFlags(Qt.ItemFlag.NoItemFlags)
            for stop in stops:
                item = self._added(stop.title)
                item.setData(NAME, stop.name)
                item.setData(COUNT, 0)
                key = f" ({stop.key})" if stop.key else ""
                item.setToolTip(f"{stop.title}{key}")
        self.fit()

    def _added(self, text: str) -> QListWidgetItem:
        """Return a new row; one that Python makes may end the program as it is freed."""
        self.addItem(text)
        return self.item(self.count() - 1)

    def show_counts(self, counts: Mapping[str, int]) -> None:
        """Show how many matters are open by page."""
        for item in self._pages():
            count = counts.get(str(item.data(NAME)), 0)
            item.setData(COUNT, count)
            said = f"{item.text()}, {count} open" if count else item.text()
            item.setData(Qt.ItemDataRole.AccessibleTextRole, said)

    @property
    def counts(self) -> dict[str, int]:
        """The counts shown, by page."""
        return {str(item.data(NAME)): int(item.data(COUNT)) for item in self._pages()}

    def show_page(self, name: str) -> None:
        """Mark a page as the one in front."""
        self.blockSignals(True)
        found = [item for item in self._pages() if item.data(NAME) == name]
        if found:
            self.setCurrentItem(found[0])
        else:
            self.setCurrentRow(-1)
        self.blockSignals(False)
        self.viewport().update()

    def fit(self) -> None:
        """Fit width and rows to text and room."""
        self.setFixedWidth(LOOK.px(NARROW if self.narrow else WIDE))
        heads = sum(bool(self.item(i).data(HEAD)) for i in range(self.count()))
        rows = max(self.count() - heads, 1)
        room = (self.height() / LOOK.size - 8) / (rows + 1.12 * heads)
        self.unit = int(min(MOST_ROW, max(LEAST_ROW, room)))
        self.scheduleDelayedItemsLayout()

    def _pages(self) -> list[QListWidgetItem]:
        items = [self.item(i) for i in range(self.count())]
        return [item for item in items if not item.data(HEAD)]

    def _on_current(self, item: QListWidgetItem | None) -> None:
        if item is not None and item.data(NAME):
            self.asked.emit(str(item.data(NAME)))

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the rows to the height."""
        super().resizeEvent(event)
        self.fit()


class _RailDelegate(QStyledItemDelegate):
    """Draws headings, pages and counts."""

    def __init__(self, rail: Rail) -> None:
        super().__init__(rail)
        self._rail = rail

    # Qt's interface: Qt's names.

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the height of a row."""
        del option
        share = 1.12 if index.data(HEAD) else 1.0
        return QSize(0, LOOK.px(self._rail.unit * share))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Draw a row."""
        theme, box = LOOK.theme, QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        left = LOOK.px(12 if self._rail.narrow else 20) - 2
        words = box.adjusted(left, 0, -6, 0)
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        if index.data(HEAD):
            painter.setPen(QColor(theme.muted))
            painter.setFont(LOOK.font(Type.CAPTION))
            low = Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft
            painter.drawText(
                words.adjusted(0, 0, 0, -LOOK.px(4)), int(low), index.data()
            )
            painter.restore()
            return
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            paint_chosen(painter, box)
            paint_bar(painter, box, active=True)
        painter.setPen(QColor(theme.text))
        painter.setFont(LOOK.font(bold=chosen))
        painter.drawText(words, int(middle), index.data())
        if index.data(COUNT):
            _paint_count(painter, words, str(index.data(COUNT)))
        painter.restore()


def _paint_count(painter: QPainter, box: QRectF, text: str) -> None:
    theme = LOOK.theme
    painter.setFont(LOOK.font(Type.SECOND, bold=True))
    metrics = painter.fontMetrics()
    high = metrics.height()
    wide = max(metrics.horizontalAdvance(text) + LOOK.px(14), LOOK.px(22))
    ring = QRectF(box.right() - wide - 4, box.center().y() - high / 2, wide, high)
    painter.setPen(QPen(QColor(theme.edge), 1.2))
    painter.setBrush(QColor(theme.panel))
    painter.drawRoundedRect(ring, high / 2, high / 2)
    painter.setPen(QColor(theme.text))
    painter.drawText(ring, int(Qt.AlignmentFlag.AlignCenter), text)
