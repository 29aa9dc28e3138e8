"""Entries of one mark beside each other, large, with what differs underlined."""

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from gui.flow import drop
from gui.models.settling import SettleAnswer, differing, first_of
from gui.parts.keycap import KeyCap
from gui.parts.oneline import OneLine
from gui.parts.wrapped import Wrapped
from gui.theme import BETWEEN, COLUMNS, INSIDE, NOON, Theme
from gui.widgets import label

MOST_DIFFERING = 4
"""Where more pieces differ, the two have nothing in common: nothing is marked."""


class EntryCard(QFrame):
    """One entry: its number, who made it, the value, what stands beside it."""

    pressed = Signal()

    def __init__(self, number: int, side: SettleAnswer, others: Sequence[str]) -> None:
        super().__init__()
        self.setObjectName("card")
        self.side = side
        self.setAccessibleName(f"{number} {side.title}: {side.value}")
        told = "; ".join(f"{name}: {text}" for name, text in side.lines)
        self.setAccessibleDescription(f"{side.by} {side.at} {told}".strip())
        self._pieces = differing(side.value, others) if side.keying else ()
        if sum(differs for _, differs in self._pieces) > MOST_DIFFERING:
            self._pieces = ()
        self.cap = KeyCap(str(number))
        # What was measured is large; a sentence in its place would push all else away.
        self.value = Wrapped(look="figure" if side.keying else "title")
        self.value.setTextFormat(Qt.TextFormat.RichText)
        head = QHBoxLayout()
        head.setSpacing(INSIDE)
        head.addWidget(self.cap)
        head.addWidget(label(side.title, "strong"))
        head.addStretch(1)
        head.addWidget(OneLine(f"{side.by}, {side.at}" if side.by else "", "second"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(COLUMNS)
        grid.setVerticalSpacing(2)
        shown = first_of([name for name, _ in side.lines])
        for row, name in enumerate(shown):
            grid.addWidget(label(name, "second"), row, 0)
            text = side.lines[row][1] if name == side.lines[row][0] else ""
            grid.addWidget(OneLine(text, "second"), row, 1)
        if len(shown) < len(side.lines):
            self.setToolTip(told.replace("; ", "\n"))
        grid.setColumnStretch(1, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(COLUMNS, BETWEEN, COLUMNS, BETWEEN)
        whole.setSpacing(4)
        whole.addLayout(head)
        whole.addWidget(self.value)
        whole.addLayout(grid)
        whole.addStretch(1)  # cards of unequal height begin on one line

    def dress(self, theme: Theme) -> None:
        """Write the value, what differs in the colour of what blocks."""
        own = self._pieces or ((self.side.value, False),)
        marked = f"color:{theme.bad};text-decoration:underline"
        self.value.setText(
            "".join(
                f'<span style="{marked}">{escape(text)}</span>'
                if differs
                else escape(text)
                for text, differs in own
            )
        )

    def set_taken(self, *, taken: bool, theme: Theme) -> None:
        """Show it as the one that holds."""
        self.cap.set_on(on=taken)
        ground = theme.chosen if taken else theme.panel
        edge = theme.accent if taken else theme.line
        look = f"background: {ground}; border: 1px solid {edge}; border-radius: 4px"
        self.setStyleSheet(f"#card {{ {look}; }}")

    # Qt's interface: Qt's names.

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take it."""
        del event
        self.pressed.emit()


class EntryCards(QWidget):
    """Cards side by side; at most one is taken."""

    taken = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Entries side by side")
        self.cards: list[EntryCard] = []
        self.theme: Theme = NOON
        self._taken: int | None = None
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(BETWEEN)

    def show_sides(self, sides: Sequence[SettleAnswer], theme: Theme) -> None:
        """Show other entries."""
        self.theme = theme
        if [card.side for card in self.cards] != list(sides):
            for card in self.cards:
                self._row.removeWidget(card)
            drop(*self.cards)
            self.cards = []
            for number, side in enumerate(sides, start=1):
                others = [one.value for one in sides if one is not side]
                card = EntryCard(number, side, others)
                card.pressed.connect(lambda n=number: self.taken.emit(n))
                self._row.addWidget(card, 1)
                self.cards.append(card)
        self.dress(theme)

    def take(self, number: int | None) -> None:
        """Show one as the one that holds; None = none is chosen."""
        self._taken = number
        self.dress(self.theme)

    def dress(self, theme: Theme) -> None:
        """Take over colours."""
        self.theme = theme
        for number, card in enumerate(self.cards, start=1):
            card.dress(theme)
            card.set_taken(taken=number == self._taken, theme=theme)
