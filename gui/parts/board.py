"""The number board: every pilot's number in one sight, each as far as it has come.

A page writes `card = BoardCard("Numbers left to enter")`, `card.show_board(board)` with a
`Board` of `gui.models.board`, and `card.point_at(142)` for the number being typed; it hears
`card.board.entered` (the number chosen with Enter or a click).  Filled is yours, grey is
somebody else's, boxed is unknown, plain is done: a cell says so in words too.
"""

from math import ceil
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from gui.models.board import Board, Cell, CellState
from gui.parts.card import Card
from gui.parts.write import write
from gui.style import LOOK, follow
from gui.theme import INSIDE, UNIT, Type

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()
MIDDLE = Qt.AlignmentFlag.AlignHCenter
HIGH, TALL, LEAST = 21, 27, 3
"""Usual and greatest height of a cell, pixels at the first size of text."""
LEAST_ROWS = 4


class BoardModel(QAbstractTableModel):
    """The numbers in rows of so many; read only."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.board, self.columns = Board(), 1
        self.pointed: int | None = None

    def show(self, board: Board, columns: int) -> None:
        """Show a board in other columns, or with other cells."""
        same = len(board.cells) == len(self.board.cells) and columns == self.columns
        if same:
            self.board = board
            if not board.cells:
                return
            last = self.index(self.rowCount() - 1, columns - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.board, self.columns = board, columns
        self.endResetModel()

    def cell(self, index: Index) -> Cell | None:
        """Return what stands in a place; None where the last row has ended."""
        at = index.row() * self.columns + index.column()
        inside = index.isValid() and at < len(self.board.cells)
        return self.board.cells[at] if inside else None

    # Qt's interface: Qt's names.

    def rowCount(self, parent: Index = ROOT) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else ceil(len(self.board.cells) / self.columns)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Return how many numbers stand in a row."""
        return 0 if parent.isValid() else self.columns

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Only numbers are chosen."""
        if self.cell(index) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows in some role."""
        cell = self.cell(index)
        if cell is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return cell.says
        return None


class NumberDelegate(QStyledItemDelegate):
    """Draws the numbers."""

    def __init__(self, board: "NumberBoard") -> None:
        super().__init__(board)
        self._board = board

    # Qt's interface: Qt's names.

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Draw one number."""
        cell = self._board.model_.cell(index)
        if cell is None:
            return
        theme = LOOK.theme
        box = QRectF(option.rect).adjusted(1, 1, -1, -1)
        pointed = cell.pilot == self._board.model_.pointed
        here = self._board.hasFocus() and index == self._board.currentIndex()
        painter.save()
        _ground(painter, box, cell.state, pointed=pointed)
        if here:
            painter.setPen(QPen(QColor(theme.accent), 2))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
        bold = pointed or cell.state in {CellState.YOURS, CellState.UNKNOWN}
        ink = theme.accent_text if pointed else _ink(cell.state)
        write(painter, box, cell.text, Type.CAPTION, ink, bold=bold, align=MIDDLE)
        painter.restore()


def _ink(state: CellState) -> str:
    theme = LOOK.theme
    inks = {CellState.YOURS: theme.text, CellState.UNKNOWN: theme.bad}
    return inks.get(state, theme.muted)


def _ground(painter: QPainter, box: QRectF, state: CellState, *, pointed: bool) -> None:
    """Draw what a number stands on."""
    theme = LOOK.theme
    if pointed:
        painter.fillRect(box, QColor(theme.accent))
    elif state is CellState.YOURS:
        painter.fillRect(box, QColor(theme.filled))
    elif state is CellState.OTHERS:
        painter.fillRect(box, QColor(theme.stripe))
    elif state is CellState.UNKNOWN:
        painter.setPen(QPen(QColor(theme.bad), 2))
        painter.drawRect(box.adjusted(1, 1, -1, -1))


class NumberBoard(QTableView):
    """All numbers of a task; arrows move, Enter or a click takes one."""

    entered = Signal(int)  # a pilot's number

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.model_ = BoardModel(self)
        self.setModel(self.model_)
        self.setItemDelegate(NumberDelegate(self))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setObjectName("numbers")
        self.setStyleSheet("#numbers { border: none; padding: 0; }")
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for header in (self.horizontalHeader(), self.verticalHeader()):
            header.hide()
            header.setMinimumSectionSize(1)
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setAccessibleName(f"Columns of {name}")
        self.verticalHeader().setAccessibleName(f"Rows of {name}")
        self.clicked.connect(self._on_clicked)
        follow(self.fit)

    @property
    def board(self) -> Board:
        """What is shown."""
        return self.model_.board

    def show_board(self, board: Board) -> None:
        """Show other cells."""
        self.model_.show(board, self.model_.columns)
        self.fit()

    def point_at(self, pilot: int | None) -> None:
        """Show whose mark is being typed."""
        if pilot != self.model_.pointed:
            self.model_.pointed = pilot
            self.viewport().update()

    def fit(self) -> None:
        """Put as many numbers into a row as there is room for."""
        metrics = LOOK.metrics(Type.CAPTION, bold=True)
        widest = max((len(cell.text) for cell in self.board.cells), default=LEAST)
        widest = max(widest, LEAST)
        wide = metrics.horizontalAdvance("0" * widest) + LOOK.px(UNIT)
        room = max(self.viewport().width(), wide)
        columns = max(1, room // wide)
        if columns != self.model_.columns:
            self.model_.show(self.board, columns)
        high = self.viewport().height() // max(self.model_.rowCount(), 1)
        high = min(max(high, metrics.height()), LOOK.px(TALL))
        self.horizontalHeader().setDefaultSectionSize(room // columns)
        self.verticalHeader().setDefaultSectionSize(high)
        self.updateGeometries()  # else what scrolled before still would

    def _on_clicked(self, index: QModelIndex) -> None:
        cell = self.model_.cell(index)
        if cell is not None:
            self.entered.emit(cell.pilot)

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the numbers to the room."""
        super().resizeEvent(event)
        self.fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter for the number the keyboard is on."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._on_clicked(self.currentIndex())
            return
        super().keyPressEvent(event)

    def keyboardSearch(self, search: str) -> None:
        """Digits are commands here, never a search."""
        del search

    def minimumSizeHint(self) -> QSize:
        """Ask for a few rows."""
        return QSize(LOOK.px(160), LOOK.px(HIGH) * LEAST_ROWS)

    def sizeHint(self) -> QSize:
        """Ask for little; layouts give the room."""
        return QSize(LOOK.px(320), LOOK.px(HIGH) * LEAST_ROWS)


class Share(QWidget):
    """A thin line: how much is done."""

    def __init__(self) -> None:
        super().__init__()
        self.share = 0.0
        self.setFixedHeight(3)

    def show_share(self, share: float) -> None:
        """Show another share, 0 to 1."""
        self.share = share
        self.update()

    # Qt's interface: Qt's names.

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it."""
        del event
        painter, box = QPainter(self), self.rect()
        painter.fillRect(box, QColor(LOOK.theme.line))
        done = QRect(0, 0, round(box.width() * self.share), box.height())
        painter.fillRect(done, QColor(LOOK.theme.good))


class Legend(QWidget):
    """What the grounds of numbers mean, and how many there are of each; it wraps."""

    def __init__(self) -> None:
        super().__init__()
        self.legends: tuple[tuple[CellState, str], ...] = ()
        follow(self._fit)

    def show_legends(self, legends: tuple[tuple[CellState, str], ...]) -> None:
        """Show other counts."""
        self.legends = legends
        self.setAccessibleName("; ".join(text for _, text in legends))
        self._fit()

    def _places(self) -> list[tuple[CellState, str, QRectF]]:
        metrics = LOOK.metrics(Type.CAPTION)
        high, swatch = metrics.height() + UNIT, LOOK.px(24)
        found, x, y = [], 0, 0
        for state, text in self.legends:
            wide = swatch + INSIDE + metrics.horizontalAdvance(text)
            if x and x + wide > self.width():
                x, y = 0, y + high
            found.append((state, text, QRectF(x, y, wide, high)))
            x += wide + LOOK.px(INSIDE) * 2
        return found

    def _fit(self) -> None:
        places = self._places()
        self.setFixedHeight(int(max((box.bottom() for *_, box in places), default=1)))
        self.update()

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrap anew."""
        super().resizeEvent(event)
        self._fit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw each with a number as an example."""
        del event
        painter = QPainter(self)
        for state, text, box in self._places():
            swatch = QRectF(box.left(), box.top() + 1, LOOK.px(24), box.height() - 3)
            _ground(painter, swatch, state, pointed=False)
            painter.setPen(QColor(_ink(state)))
            painter.setFont(LOOK.font(Type.CAPTION))
            painter.drawText(swatch, int(Qt.AlignmentFlag.AlignCenter), "12")
            painter.setPen(QColor(LOOK.theme.text))
            rest = box.adjusted(LOOK.px(24) + INSIDE, 0, 2, 0)
            left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(rest, int(left), text)


class BoardCard(Card):
    """The board with its heading, how much is done, and what its grounds mean."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.board = NumberBoard(name)
        self.share, self.legend = Share(), Legend()
        self.body.addWidget(self.share)
        self.body.addWidget(self.board, 1)
        self.body.addWidget(self.legend)

    def show_board(self, board: Board) -> None:
        """Show where all numbers stand."""
        self.name_it(board.title, board.done)
        self.share.show_share(board.share)
        self.board.show_board(board)
        self.legend.show_legends(board.legends)

    def point_at(self, pilot: int | None) -> None:
        """Show whose mark is being typed."""
        self.board.point_at(pilot)
