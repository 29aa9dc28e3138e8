"""Lists of rows with one, two or three columns of words, under headings.

A page writes `rows = RowList("Open matters", says=True)` and
`rows.show_rows([head("Keep results from becoming official", 10), Row(key=…, number="141",
name="Ottilie Brandmeier", second="Task 2", says="Two entries differ by 11 in",
then="choose one", at="Compare entries ›")])`.  It hears `chosen` (the row's `data`,
or None) and `entered` (Enter, double click); `row`, `choose(key)`, `choose_next()` move.
Without `says`, names take the room and `at` stands at the right, as in a narrow list.
The chosen row stays chosen by its key when rows change; when it is gone, the next one is.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QWidget

from gui.keys import cap
from gui.parts.paint import RowDelegate
from gui.parts.signs import RowSign
from gui.style import LOOK, follow
from gui.theme import Tone

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()
ROW_ROLE = Qt.ItemDataRole.UserRole + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """One row, as words."""

    key: Any
    """What names it, from one refresh to the next."""
    number: str = ""
    name: str = ""
    second: str = ""
    """Beneath the name; with it, or with `then`, a row takes two lines."""
    says: str = ""
    then: str = ""
    """Beneath what it says: what counts for now."""
    at: str = ""
    """At the right: where it leads, or how sure it is."""
    sign: RowSign = RowSign.NONE
    strong: bool = False
    """What is still to do is bold."""
    tone: Tone = Tone.PLAIN
    link: bool = False
    """`at` is where Enter leads."""
    is_head: bool = False
    count: int | None = None
    """Of a heading: how many stand under it."""
    data: Any = None
    """What the page gets back."""

    @property
    def lines(self) -> int:
        """How many lines it takes."""
        return 2 if self.second or self.then else 1

    @property
    def spoken(self) -> str:
        """All of it, for assistive tools and tooltips."""
        parts = (f"{self.number} {self.name}".strip(), self.says, self.then)
        told = [part for part in (*parts, self.second, self.at) if part]
        return ", ".join(told)


def head(text: str, count: int | None = None) -> ListRow:
    """Return a heading between rows."""
    return ListRow(key=("head", text), name=text, is_head=True, count=count)


class RowModel(QAbstractListModel):
    """Rows and headings; read only."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.rows: tuple[ListRow, ...] = ()

    def set_rows(self, rows: Sequence[ListRow]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    # Qt's interface: Qt's names.

    def rowCount(self, parent: Index = ROOT) -> int:
        """Return how many rows and headings there are."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a row shows in some role."""
        if not index.isValid():
            return None
        row = self.rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{row.number} {row.name}".strip()
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return None if row.is_head and role == ROW_ROLE else row.spoken
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Headings are not chosen."""
        if index.isValid() and self.rows[index.row()].is_head:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable


ANY_WIDTH = (1 << 24) - 1
"""Qt's QWIDGETSIZE_MAX: a widget without a greatest width."""


class RowList(QListView):
    """Rows under headings; one is chosen, Enter goes where it leads."""

    chosen = Signal(object)  # the row's data, or None
    entered = Signal(object)  # the row's data

    def __init__(self, name: str, *, says: bool = False, wide_at: bool = True) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setAccessibleDescription(f"Keys: arrows, {cap('Return')}")
        self.says = says
        """Whether statements have a column of their own."""
        self.wide_at = wide_at
        """Whether every row says where it leads, or only the chosen one."""
        self.model_ = RowModel(self)
        self.setModel(self.model_)
        self.delegate = RowDelegate(self)
        self.setItemDelegate(self.delegate)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setMinimumHeight(80)
        self.selectionModel().currentChanged.connect(self._on_current)
        self.doubleClicked.connect(self._on_double)
        follow(self._refit)

    def keep_width(self, width: int | None) -> None:
        """Keep to a width that grows with the text; None = take what there is."""
        self.setMinimumWidth(LOOK.px(width) if width else 0)
        self.setMaximumWidth(LOOK.px(width) if width else ANY_WIDTH)

    @property
    def row(self) -> Any:
        """Data of the chosen row; None = none is."""
        row = self.line
        return None if row is None else row.data

    @property
    def line(self) -> ListRow | None:
        """The chosen row."""
        index = self.currentIndex()
        row = index.data(ROW_ROLE) if index.isValid() else None
        return row if isinstance(row, ListRow) and not row.is_head else None

    @property
    def shown(self) -> list[ListRow]:
        """All rows, without the headings."""
        return [row for row in self.model_.rows if not row.is_head]

    def show_rows(self, rows: Sequence[ListRow]) -> None:
        """Show other rows; the chosen one, or the one that follows it, stays chosen."""
        if tuple(rows) == self.model_.rows:
            return
        before, place = self.line, self.currentIndex().row()
        scroll = self.verticalScrollBar().value()
        self.selectionModel().blockSignals(True)
        self.model_.set_rows(rows)
        self._refit()
        found = before is not None and self.choose(before.key)
        if not found and before is not None:
            found = self._choose_from(place)
        self.selectionModel().blockSignals(False)
        self.verticalScrollBar().setValue(scroll)
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())
        if not found and before is not None:
            self.chosen.emit(None)
        elif found:
            self.chosen.emit(self.row)

    def choose(self, key: Any) -> bool:
        """Choose the row of a key; tell whether it is there."""
        for i, row in enumerate(self.model_.rows):
            if row.key == key and not row.is_head:
                self.setCurrentIndex(self.model_.index(i))
                return True
        return False

    def choose_first(self) -> None:
        """Choose the first row where none is chosen."""
        if self.line is None:
            self._choose_from(0)

    def choose_where(self, wanted: Callable[[Any], bool]) -> bool:
        """Choose the first row whose data is wanted; tell whether there is one."""
        first = next((row for row in self.shown if wanted(row.data)), None)
        return first is not None and self.choose(first.key)

    def choose_after(self, key: Any, wanted: Callable[[Any], bool]) -> bool:
        """Choose the next wanted row after a key, from the first again after the last."""
        shown = self.shown
        at = next((i for i, row in enumerate(shown) if row.key == key), -1)
        others = (*shown[at + 1 :], *shown[: max(at, 0)])
        found = next((row for row in others if wanted(row.data)), None)
        return found is not None and self.choose(found.key)

    def choose_left(self, left: Callable[[Any], bool]) -> None:
        """Choose the first row that is left to do, unless the chosen one is such a row."""
        if self.line is None or not left(self.line.data):
            self.choose_where(left)
        self.choose_first()

    def choose_next(self, step: int = 1) -> bool:
        """Choose the next row, or the one before; tell whether there is one."""
        at = self.currentIndex().row() + step
        while 0 <= at < len(self.model_.rows):
            if not self.model_.rows[at].is_head:
                self.setCurrentIndex(self.model_.index(at))
                return True
            at += step
        return False

    def _choose_from(self, place: int) -> bool:
        found = self._row_from(place)
        if found is not None:
            self.setCurrentIndex(self.model_.index(found))
        return found is not None

    def _row_from(self, place: int) -> int | None:
        """Return where the first row from a place on is, else the last before it."""
        rows = self.model_.rows
        after = range(max(place, 0), len(rows))
        before = range(min(place, len(rows)) - 1, -1, -1)
        return next((i for i in (*after, *before) if not rows[i].is_head), None)

    def _refit(self) -> None:
        self.delegate.fit(self.model_.rows, self.viewport().width())
        self.scheduleDelayedItemsLayout()
        self.viewport().update()

    def _on_current(self, index: QModelIndex) -> None:
        self.chosen.emit(self.row if index.isValid() else None)

    def _on_double(self, _: QModelIndex) -> None:
        if self.line is not None:
            self.entered.emit(self.row)

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns to the room; the chosen row stays in it."""
        super().resizeEvent(event)
        self._refit()
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter for the chosen row."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.line is not None:
                self.entered.emit(self.row)
            return
        super().keyPressEvent(event)

    def moveCursor(
        self,
        action: QAbstractItemView.CursorAction,
        modifiers: Qt.KeyboardModifier,
    ) -> QModelIndex:
        """Never stop at a heading: Home is the first row, not what stands over it."""
        index = super().moveCursor(action, modifiers)
        found = self._row_from(index.row()) if index.isValid() else None
        return index if found is None else self.model_.index(found)

    def scrollTo(
        self,
        index: Index,
        hint: QAbstractItemView.ScrollHint = QAbstractItemView.ScrollHint.EnsureVisible,
    ) -> None:
        """Show the heading with the first row under it."""
        above = index.row() - 1
        if above >= 0 and self.model_.rows[above].is_head:
            super().scrollTo(self.model_.index(above), hint)
        super().scrollTo(index, hint)

    def keyboardSearch(self, search: str) -> None:
        """Letters are commands here, never a search."""
        del search

    def sizeHint(self) -> QSize:
        """Ask for little; layouts give the room."""
        return QSize(240, 160)
