"""Ctrl+Z in an empty field reverts the last entry; in a typed one it undoes typing.

The window puts one `EmptyFieldUndo` on all fields; pages need not know of it.
"""

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit


class EmptyFieldUndo(QObject):
    """Lets an empty field pass on the key that it would keep for its own text."""

    def __init__(self, window: QObject) -> None:
        super().__init__(window)
        for box in window.findChildren(QLineEdit):
            box.installEventFilter(self)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave the key to the command of the page."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and isinstance(watched, QLineEdit)
            and not watched.text()
            and event.matches(QKeySequence.StandardKey.Undo)
        ):
            event.ignore()
            return True
        return False
