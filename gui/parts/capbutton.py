"""A button with its key on it; `main` in the accent colour is a page's one big act.

A page writes `CapButton("Record", Key.GO_ON, look="main")` or `CapButton("Print slip",
Key.PRINT)` and hears `clicked`; `say` changes the words, which also tell what keeps it from
being pressed.
"""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QHBoxLayout,
    QLayout,
    QPushButton,
    QSizePolicy,
)

from gui.keys import cap
from gui.parts.keycap import KeyCap
from gui.parts.oneline import OneLine
from gui.theme import COLUMNS, INSIDE

LEAST_LETTERS = 24
"""What its words keep at the least."""


class CapButton(QPushButton):
    """Words and a key cap."""

    def __init__(self, text: str, key: str, look: str = "") -> None:
        super().__init__()
        self.setObjectName(look)
        self.setAutoDefault(False)
        self.words = OneLine(letters=LEAST_LETTERS)
        self.words.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.cap = KeyCap(key, filled=look == "main")
        wide, high = (COLUMNS, INSIDE) if look != "plain" else (4, 4)
        row = QHBoxLayout(self)
        row.setContentsMargins(wide, high, wide, high)
        row.setSpacing(INSIDE)
        row.addWidget(self.words)
        row.addWidget(self.cap)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleDescription(f"Key: {cap(key)}")
        self.say(text)

    def say(self, text: str) -> None:
        """Give it other words."""
        self.words.setText(text)
        self.setAccessibleName(text)
        self.updateGeometry()

    # Qt's interface: Qt's names.

    def sizeHint(self) -> QSize:
        """Return the room its words ask for."""
        return room_of(self).sizeHint()

    def minimumSizeHint(self) -> QSize:
        """Return the least room."""
        return room_of(self).minimumSize()


def room_of(button: QAbstractButton) -> QLayout:
    """Return the layout within a button; an empty one while there is none yet."""
    return button.layout() or QHBoxLayout()
