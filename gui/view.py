"""The table view of all pages: keeps its place, tells which row is chosen."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import QModelIndex, QRect, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from gui.models.table import ROW_ROLE, Index, TableColumn, TableModel, TableProxy
from gui.parts.cells import TWO, CellDelegate
from gui.parts.paint import ONE
from gui.style import LOOK
from gui.theme import COLUMNS, INSIDE, UNIT, Theme

MOST_LETTERS = 60
LEAST_LETTERS, OTHER_LETTERS, NAME_LETTERS = 5, 10, 14
"""To so many letters columns are shortened at the least; to so many the others are
before the name is, and the name before the others are once more."""
MOST_MEASURED = 400
"""Rows that columns are fitted to."""
TWO_LINES = 0.6
"""Of the width of a head, at which it stands in two lines."""
NOTHING = frozenset({"", "–"})
"""Cells that say nothing."""
ENDS = (
    QAbstractItemView.CursorAction.MoveHome,
    QAbstractItemView.CursorAction.MoveEnd,
)
LEAST_ROWS, LEAST_COLUMNS = 2, 3
"""What a table shows at the least."""


class TableView(QTableView):
    """A view with its model and proxy; rows are chosen whole."""

    chosen = Signal(object)  # the row, or None
    entered = Signal(object)  # Enter on a row
    crowded = Signal(int)  # how many columns have no room
    fitted = Signal()  # columns have other widths

    def __init__(
        self,
        columns: Sequence[TableColumn],
        name: str,
        *,
        key: Any = None,
        sort: tuple[int, Qt.SortOrder] | None = None,
        measured: int = MOST_MEASURED,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.rows_model = TableModel(columns, self, key)
        self.proxy = TableProxy(self)
        self.proxy.setSourceModel(self.rows_model)
        self.setModel(self.proxy)
        self.setShowGrid(False)
        self.setItemDelegate(CellDelegate(self))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().setMinimumSectionSize(UNIT)
        self._measured = measured
        self._given_up: set[int] = set()
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setAccessibleName(f"Columns of {name}")
        self.verticalHeader().setAccessibleName(f"Rows of {name}")
        self.setSortingEnabled(True)
        if sort is not None:
            self.sortByColumn(*sort)
        else:
            self.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
            self.proxy.sort(-1)
        self._kept: Any = None
        self._refit = QTimer(self, interval=0, singleShot=True)
        self._refit.timeout.connect(self.fit)
        self.rows_model.dataChanged.connect(lambda *_: self._refit.start())
        self.rows_model.modelReset.connect(self._refit.start)
        self.rows_model.modelAboutToBeReset.connect(self._keep)
        self.rows_model.modelReset.connect(self._restore)
        self.selectionModel().currentRowChanged.connect(self._on_current)

    @property
    def row(self) -> Any:
        """The chosen row, or None."""
        index = self.currentIndex()
        return index.data(ROW_ROLE) if index.isValid() else None

    @property
    def shown(self) -> list[Any]:
        """All rows that are shown, in their order."""
        count = self.proxy.rowCount()
        return [self.proxy.index(i, 0).data(ROW_ROLE) for i in range(count)]

    def cell(self, index: Index) -> tuple[Any, TableColumn]:
        """Return row and column of a cell, without asking the model role by role."""
        at = self.proxy.mapToSource(index).row()
        return self.rows_model.rows[at], self.rows_model.columns[index.column()]

    def set_rows(self, rows: Sequence[Any]) -> None:
        """Show rows; the chosen one stays chosen while it is there."""
        self.rows_model.set_rows(rows)

    def set_theme(self, theme: Theme) -> None:
        """Take over colours."""
        self.rows_model.set_theme(theme)
        self._refit.start()

    def fit(self) -> None:
        """Fit columns to data, room and text: one takes the rest, and shortens last."""
        self._refit.stop()
        columns, head = self.rows_model.columns, self.horizontalHeader()
        rows = self.rows_model.rows[: self._measured]
        said = [[column.said(row) for row in rows] for column in columns]
        tall = any("\n" in text for texts in said for text in texts)
        self.verticalHeader().setDefaultSectionSize(LOOK.px(TWO if tall else ONE))
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        letter = LOOK.metrics().averageCharWidth()
        shown = self._with_something(self._offered_columns(), said)
        asked, figures = {}, {}
        for i in shown:
            texts = sorted(set(said[i]), key=len)[-8:]
            widest = max(map(CellDelegate.width, texts), default=0)
            title = head.fontMetrics().horizontalAdvance(columns[i].title)
            most = letter * (columns[i].width or MOST_LETTERS)
            asked[i] = max(title + letter + 2 * LOOK.px(INSIDE), min(widest, most))
            if columns[i].align & Qt.AlignmentFlag.AlignRight:
                figures[i] = max(min(widest, most), self._head_width(i))
        least = {i: max(letter * LEAST_LETTERS, self._head_width(i)) for i in shown}
        least |= figures  # of which half is gone, they would say something else
        least |= {i: asked[i] for i in shown if columns[i].firm}
        self._give_up(asked, least)
        self.crowded.emit(len(shown) - len(asked))
        given = self._share(asked, least)
        for i, width in given.items():
            head.resizeSection(i, width)
        self._fit_head(given)
        self.fitted.emit()

    def cut(self) -> list[tuple[str, str]]:
        """Return head and text of cells of the chosen row that cannot be read whole."""
        row, columns = self.row, self.rows_model.columns
        if row is None:
            return []
        said = ((i, column.title, column.said(row)) for i, column in enumerate(columns))
        return [
            (title, text)
            for i, title, text in said
            if text not in NOTHING and self.columnWidth(i) < CellDelegate.width(text)
        ]

    def _give_up(self, asked: dict[int, int], least: dict[int, int]) -> None:
        """Leave out columns from the right where the heads of all do not fit."""
        room, columns = self.viewport().width(), self.rows_model.columns
        name = LOOK.metrics().averageCharWidth() * NAME_LETTERS
        needs = {i: max(least[i], name * columns[i].rest) for i in asked}
        for i in sorted(asked, reverse=True):
            if sum(needs[j] for j in asked) <= room or len(asked) <= LEAST_COLUMNS:
                return
            if not columns[i].rest:
                del asked[i]
                self._given_up.add(i)
                self.setColumnHidden(i, True)

    def _with_something(self, shown: list[int], said: list[list[str]]) -> list[int]:
        """Leave out columns in which no row says anything; with no rows all stand."""
        whole = 0 < len(self.rows_model.rows) <= self._measured
        empty = [i for i in shown if whole and set(said[i]) <= NOTHING]
        for i in empty:
            self._given_up.add(i)
            self.setColumnHidden(i, True)
        return [i for i in shown if i not in empty]

    def _offered_columns(self) -> list[int]:
        """Return the columns that the page shows, those left out among them."""
        for i in self._given_up:
            self.setColumnHidden(i, False)
        self._given_up = set()
        count = len(self.rows_model.columns)
        return [i for i in range(count) if not self.isColumnHidden(i)]

    def _head_width(self, column: int) -> int:
        """Return the room of the longest word of a head, pixels."""
        metrics, words = LOOK.metrics(bold=True), self.rows_model.columns[column].title
        longest = max(map(metrics.horizontalAdvance, words.split()), default=0)
        half = metrics.horizontalAdvance(words) * TWO_LINES
        sorts = self.horizontalHeader().sortIndicatorSection() == column
        arrow = LOOK.px(COLUMNS) if sorts else 0
        return round(max(longest, half)) + 2 * LOOK.px(INSIDE) + arrow

    def _fit_head(self, given: dict[int, int]) -> None:
        """Give the heads as many lines as the words of one of them take."""
        metrics, high = LOOK.metrics(bold=True), 0
        for i, width in given.items():
            room = QRect(0, 0, width - 2 * LOOK.px(INSIDE), 9999)
            title = self.rows_model.columns[i].title
            box = metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, title)
            high = max(high, box.height())
        high += 2 * LOOK.px(INSIDE)
        self.horizontalHeader().setFixedHeight(high)
        row = self.verticalHeader().defaultSectionSize()
        self.setMinimumHeight(high + LEAST_ROWS * row + 2 * self.frameWidth())

    def _share(self, asked: dict[int, int], least: dict[int, int]) -> dict[int, int]:
        """Share the room: what is left goes to the widest, what lacks comes from it."""
        if not asked:
            return {}
        room = self.viewport().width()
        columns, letter = self.rows_model.columns, LOOK.metrics().averageCharWidth()
        rest = [i for i in asked if columns[i].rest]
        others = [i for i in asked if i not in rest]
        given = dict(asked)
        for some, letters in (
            (others, OTHER_LETTERS),
            (rest, NAME_LETTERS),
            (others, 0),
            (rest, 0),
        ):
            floor = {i: max(least[i], letter * letters) for i in some}
            _shorten(given, floor, sum(given.values()) - room)
        last = rest[0] if rest else list(asked)[-1]
        given[last] += max(0, room - sum(given.values()))
        return given

    def choose(self, key: Any) -> bool:
        """Choose the row of a key; tell whether it is shown."""
        return self.choose_where(lambda row: self.rows_model.key_of(row) == key)

    def choose_where(self, wanted: Callable[[Any], bool]) -> bool:
        """Choose the first row that is wanted; tell whether there is one."""
        for i in range(self.proxy.rowCount()):
            index = self.proxy.index(i, 0)
            if wanted(index.data(ROW_ROLE)):
                self.setCurrentIndex(index)
                self.selectRow(i)
                return True
        return False

    def choose_first(self) -> None:
        """Choose the first row where none is; show the chosen one as such."""
        if self.row is None and self.proxy.rowCount():
            self.selectRow(0)
        elif self.row is not None and not self.selectionModel().hasSelection():
            self.selectRow(self.currentIndex().row())

    def _keep(self) -> None:
        row = self.row
        self._kept = None if row is None else self.rows_model.key_of(row)

    def _restore(self) -> None:
        if self._kept is None or not self.choose(self._kept):
            self.chosen.emit(None)

    def _on_current(self, index: QModelIndex) -> None:
        self.chosen.emit(index.data(ROW_ROLE) if index.isValid() else None)

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns to the room."""
        super().resizeEvent(event)
        self._refit.start()

    def moveCursor(
        self,
        action: QAbstractItemView.CursorAction,
        modifiers: Qt.KeyboardModifier,
    ) -> QModelIndex:
        """Rows are chosen whole: Home and End are the first and the last of them."""
        if action in ENDS:
            modifiers |= Qt.KeyboardModifier.ControlModifier
        return super().moveCursor(action, modifiers)

    def keyboardSearch(self, search: str) -> None:
        """Letters are commands here, never a search."""
        del search

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter for the chosen row."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.row is not None:
                self.entered.emit(self.row)
            return
        super().keyPressEvent(event)


def _shorten(given: dict[int, int], floor: Mapping[int, int], over: int) -> None:
    """Take what is too much from the widest columns, down to the floor of each."""
    while over > 0:
        wide = [i for i in floor if given[i] > floor[i]]
        if not wide:
            return
        widest = max(wide, key=lambda i: given[i])
        less = min(over, max(given[widest] // 8, 1), given[widest] - floor[widest])
        given[widest] -= less
        over -= less
