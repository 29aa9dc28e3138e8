"""A letter typed in a box chooses in it what begins so; others are commands of the page.

The window puts one `BoxLetters` on all boxes; pages need not know of it.
"""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox

COMMANDS = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class BoxLetters(QObject):
    """Keeps letters for a box in which something begins with them."""

    def __init__(self, window: QObject) -> None:
        super().__init__(window)
        for box in window.findChildren(QComboBox):
            box.installEventFilter(self)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take a key before it is a command of the page."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and isinstance(watched, QComboBox)
            and not event.modifiers() & COMMANDS
            and event.text().isalpha()
        ):
            begins = Qt.MatchFlag.MatchStartsWith
            if watched.findText(event.text(), begins) >= 0:
                event.accept()
                return True
        return False
