"""A panel with a heading, the ground everything lies on.

A page writes `card = Card("What changes", "all 214")` and fills `card.body`; `aside` is the
muted words behind the heading, `card.head` the row it stands in.
"""

from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from gui.parts.oneline import OneLine
from gui.theme import BETWEEN, COLUMNS, INSIDE

TITLE_LETTERS = 20
"""What a heading keeps at the least: what stands beside it gives way first."""


class Card(QFrame):
    """A panel; its heading is its accessible name."""

    def __init__(self, title: str = "", aside: str = "") -> None:
        super().__init__()
        self.setObjectName("card")
        self.setAccessibleName(title)
        self.title = OneLine(title, "section", letters=TITLE_LETTERS)
        self.aside = OneLine(aside, "second")
        self.head = QHBoxLayout()
        self.head.setSpacing(INSIDE)
        self.head.addWidget(self.title)
        self.head.addWidget(self.aside)
        self.head.addStretch(1)
        self.body = QVBoxLayout()
        self.body.setSpacing(INSIDE)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(COLUMNS, BETWEEN, COLUMNS, BETWEEN)
        whole.setSpacing(INSIDE)
        whole.addLayout(self.head)
        whole.addLayout(self.body)
        for told in (self.title, self.aside):
            told.setVisible(bool(told.text()))

    def name_it(self, title: str, aside: str = "") -> None:
        """Give it another heading."""
        self.setAccessibleName(title)
        for told, text in ((self.title, title), (self.aside, aside)):
            told.setText(text)
            told.setVisible(bool(text))
