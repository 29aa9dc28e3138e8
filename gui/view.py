"""The table view of all pages: keeps its place, tells which row is chosen."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QModelIndex, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from gui.models.table import ROW_ROLE, Column, TableModel, TableProxy
from gui.theme import Theme

MOST_LETTERS = 60


class Table(QTableView):
    """A view with its model and proxy; rows are chosen whole."""

    chosen = Signal(object)  # the row, or None
    entered = Signal(object)  # Enter on a row

    def __init__(
        self,
        columns: Sequence[Column],
        name: str,
        *,
        key: Any = None,
        sort: tuple[int, Qt.SortOrder] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.rows_model = TableModel(columns, self, key)
        self.proxy = TableProxy(self)
        self.proxy.setSourceModel(self.rows_model)
        self.setModel(self.proxy)
        self.setAlternatingRowColors(True)
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
        self.horizontalHeader().setStretchLastSection(True)
        self._kept: Any = None
        self._fitted = False
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

    def set_rows(self, rows: Sequence[Any]) -> None:
        """Show rows; the chosen one stays chosen while it is there."""
        self.rows_model.set_rows(rows)
        if not self._fitted and rows:
            self.fit()

    def set_theme(self, theme: Theme) -> None:
        """Take over colours."""
        self.rows_model.set_theme(theme)
        QTimer.singleShot(0, self, self.fit)

    def fit(self) -> None:
        """Make columns as wide as their content asks, within reason."""
        self._fitted = bool(self.rows_model.rows)
        letter = self.fontMetrics().averageCharWidth()
        head = self.horizontalHeader()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        for i, column in enumerate(self.rows_model.columns):
            texts = [column.said(row) for row in self.rows_model.rows[:400]]
            widest = max(
                (self.fontMetrics().horizontalAdvance(t) for t in texts), default=0
            )
            title = head.fontMetrics().horizontalAdvance(column.title) + letter * 4
            most = letter * (column.width or MOST_LETTERS)
            head.resizeSection(i, max(title, min(widest + letter * 2, most)))

    def choose(self, key: Any) -> bool:
        """Choose the row of a key; tell whether it is shown."""
        for i in range(self.proxy.rowCount()):
            index = self.proxy.index(i, 0)
            if self.rows_model.key_of(index.data(ROW_ROLE)) == key:
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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter for the chosen row."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.row is not None:
                self.entered.emit(self.row)
            return
        super().keyPressEvent(event)
