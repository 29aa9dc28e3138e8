"""Cards of the tasks at the right of the home: what is left, and what went up.

The home fills it; its lines are links to the pages on which the work is done.
"""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
)

from gui.flow import clear
from gui.models.home import CardLine, TaskCard
from gui.parts.capbutton import room_of
from gui.parts.card import Card
from gui.parts.oneline import OneLine
from gui.parts.scrolled import Scrolled
from gui.parts.signs import RowSign, SignLabel
from gui.style import LOOK, follow
from gui.theme import BETWEEN, INSIDE
from gui.widgets import held, label


class TaskCards(Scrolled):
    """One card a task; a finished one shrinks to two lines."""

    asked = Signal(str, int)  # name of a page, task

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Tasks")
        self.cards: tuple[TaskCard, ...] = ()
        self.narrow = False
        self._column = QVBoxLayout()
        self._column.setSpacing(BETWEEN)
        self._inside = held(self._column)
        self.setWidget(self._inside)
        follow(self.fit)

    def fit(self) -> None:
        """Fit the width to the text, and to the figures that stand in it."""
        bar = self.verticalScrollBar().sizeHint().width()
        least = self._inside.minimumSizeHint().width() + bar
        self.setFixedWidth(max(LOOK.px(226 if self.narrow else 280), least))

    def show_cards(self, cards: Sequence[TaskCard]) -> None:
        """Show other cards."""
        if tuple(cards) == self.cards:
            return
        self.cards = tuple(cards)
        clear(self._column)
        for card in cards:
            self._column.addWidget(self._card(card))
        self._column.addStretch(1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fit the width to what is shown once it knows its size."""
        taken = super().eventFilter(watched, event)
        if event.type() == QEvent.Type.LayoutRequest and watched is self._inside:
            self.fit()
        return taken

    def _card(self, card: TaskCard) -> Card:
        made = Card(card.title, card.aside)
        if card.left or not card.up:
            for line in card.lines:
                link = _CardLink(line)
                link.clicked.connect(
                    lambda _=False, page=line.page: self.asked.emit(page, card.task)
                )
                link.setEnabled(bool(line.page))
                made.body.addWidget(link)
        row = QHBoxLayout()
        row.setSpacing(INSIDE)
        waits = RowSign.WAITS if card.left else RowSign.DONE
        row.addWidget(SignLabel(waits if card.up else RowSign.LATER))
        row.addWidget(
            label(card.stage, "strong" if card.up else "second", wrap=True), 1
        )
        made.body.addLayout(row)
        return made


class _CardLink(QPushButton):
    """What is left of one sort of work; leads to its page."""

    def __init__(self, line: CardLine) -> None:
        super().__init__()
        self.setObjectName("link")
        self.line = line
        self.setAccessibleName(f"{line.title}: {line.told}")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 6)
        row.setSpacing(INSIDE)
        row.addWidget(SignLabel(RowSign.WAITS if line.left else RowSign.DONE))
        row.addWidget(OneLine(line.title, "strong" if line.left else "second"), 1)
        row.addWidget(label(line.told, "strong" if line.left else "second"))

    # Qt's interface: Qt's names.

    def sizeHint(self) -> QSize:
        """Return the room its words ask for."""
        return room_of(self).sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw how much is done, beneath what is left."""
        super().paintEvent(event)
        if not self.line.left:
            return
        painter, theme = QPainter(self), LOOK.theme
        bar = QRectF(0, self.height() - 4, self.width(), 3)
        painter.fillRect(bar, QColor(theme.line))
        done = 1 - self.line.left / max(self.line.total, self.line.left)
        bar.setWidth(bar.width() * done)
        painter.fillRect(bar, QColor(theme.accent))
