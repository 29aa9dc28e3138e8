"""Tables of frozen rows: one model, one proxy, columns as data.

Models hold values and compute none; sorting goes by value, never by text.
"""

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QBrush, QColor

from gui.theme import NOON, Theme, Tone

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()
Role = Qt.ItemDataRole
SORT_ROLE = Role.UserRole + 1
ROW_ROLE = Role.UserRole + 2
RIGHT = Qt.AlignmentFlag.AlignRight
LEFT = Qt.AlignmentFlag.AlignLeft


def plain(value: Any) -> str:
    """Write a value; what is not there is a dash."""
    return "–" if value is None else str(value)


def plain_tone(_: Any) -> Tone:
    """Return the tone of ordinary rows."""
    return Tone.PLAIN


class TableColumn(NamedTuple):
    """All that one column is: adding a column means adding one of these."""

    title: str
    value: Callable[[Any], Any]
    """Of a row; what it sorts by."""
    text: Callable[[Any], str] | None = None
    """Of a row; left out = the value as it is."""
    align: Qt.AlignmentFlag = LEFT
    tone: Callable[[Any], Tone] = plain_tone
    tip: Callable[[Any], str] | None = None
    width: int = 0
    """In letters; 0 = as wide as its content."""
    rest: bool = False
    """Takes the room that is left, and is the last to be shortened: the name."""
    firm: bool = False
    """Is never shortened: a time of which half is gone says nothing."""

    def said(self, row: Any) -> str:
        """Write a row's cell."""
        return plain(self.value(row)) if self.text is None else self.text(row)


class TableModel(QAbstractTableModel):
    """Shows rows; read only."""

    def __init__(
        self,
        columns: Sequence[TableColumn],
        parent: QObject | None = None,
        key: Callable[[Any], Any] | None = None,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.theme: Theme = NOON
        self.rows: tuple[Any, ...] = ()
        self._key = key

    def set_rows(self, rows: Sequence[Any]) -> None:
        """Replace what is shown; where only values changed, the view stays put."""
        fresh = tuple(rows)
        if self._key is not None and self._keys(fresh) == self._keys(self.rows):
            self.rows = fresh
            if fresh:
                last = self.index(len(fresh) - 1, len(self.columns) - 1)
                self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.rows = fresh
        self.endResetModel()

    def set_columns(self, columns: Sequence[TableColumn]) -> None:
        """Replace the columns, and with them all rows."""
        self.beginResetModel()
        self.columns, self.rows = tuple(columns), ()
        self.endResetModel()

    def set_theme(self, theme: Theme) -> None:
        """Take over colours."""
        self.theme = theme
        if self.rows:
            last = self.index(len(self.rows) - 1, len(self.columns) - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def key_of(self, row: Any) -> Any:
        """Return what names a row."""
        return row if self._key is None else self._key(row)

    def _keys(self, rows: Sequence[Any]) -> list[Any]:
        return [self.key_of(row) for row in rows]

    # Qt's interface: Qt's names.

    def rowCount(self, parent: Index = ROOT) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = Role.DisplayRole,
    ) -> Any:
        """Return the title of a column, or the number of a row."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if section >= len(self.columns):
            return None
        if role == Role.DisplayRole:
            return self.columns[section].title
        if role == Role.TextAlignmentRole:
            align = self.columns[section].align | Qt.AlignmentFlag.AlignVCenter
            return int(align) | int(Qt.TextFlag.TextWordWrap)
        return None

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        """Return what a cell shows in some role."""
        if not index.isValid():
            return None
        row, column = self.rows[index.row()], self.columns[index.column()]
        match role:
            case Role.DisplayRole | Role.AccessibleTextRole:
                return column.said(row)
            case Role.TextAlignmentRole:
                return column.align | Qt.AlignmentFlag.AlignVCenter
            case Role.ForegroundRole:
                tone = column.tone(row)
                plain_text = tone is Tone.PLAIN
                return None if plain_text else QBrush(QColor(self.theme.tone(tone)))
            case Role.ToolTipRole:
                return (column.tip(row) if column.tip else column.said(row)) or None
            case _ if role == SORT_ROLE:
                return column.value(row)
            case _ if role == ROW_ROLE:
                return row
        return None


class TableProxy(QSortFilterProxyModel):
    """Sorts by value and filters by words, all of which must stand in a row."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._words: list[str] = []
        self._wanted: Callable[[Any], bool] | None = None
        self.setSortRole(SORT_ROLE)

    def set_words(self, text: str) -> None:
        """Show only rows in which every word stands somewhere."""
        self._words = text.casefold().split()
        self.invalidate()

    def set_wanted(self, wanted: Callable[[Any], bool] | None) -> None:
        """Show only rows that pass; None = all."""
        self._wanted = wanted
        self.invalidate()

    # Qt's interface: Qt's names.

    def filterAcceptsRow(self, source_row: int, source_parent: Index) -> bool:
        """Tell whether a row is shown."""
        del source_parent
        model = self.sourceModel()
        if not isinstance(model, TableModel):
            return True
        row = model.rows[source_row]
        if self._wanted is not None and not self._wanted(row):
            return False
        if not self._words:
            return True
        text = " ".join(column.said(row) for column in model.columns).casefold()
        return all(word in text for word in self._words)

    def lessThan(self, source_left: Index, source_right: Index) -> bool:
        """Compare by value; what is not there comes last."""
        left, right = source_left.data(SORT_ROLE), source_right.data(SORT_ROLE)
        if left is None or right is None:
            return left is not None
        try:
            return bool(left < right)
        except TypeError:
            return str(left) < str(right)
