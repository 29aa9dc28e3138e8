"""Keys that are a field's or a command's, by what stands in the field.

Ctrl+Z in an empty field reverts the last entry; in a typed one it undoes typing.  A letter
typed in a box chooses in it what begins so; others are commands of the page.  The window
puts one of each on all its fields; pages need not know of it.
"""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

COMMANDS = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class _WhoseKeys(QObject):
    """Says of each key, before it is a command of the page, whose it is."""

    form: type[QWidget]
    """What it is put on."""

    def __init__(self, window: QObject) -> None:
        super().__init__(window)
        for box in window.findChildren(self.form):
            box.installEventFilter(self)

    def decided(self, watched: QObject, event: QKeyEvent) -> bool:
        """Accept a key for the field, or ignore it, for the page; False = as ever."""
        raise NotImplementedError

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ask whose a key is."""
        return (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and self.decided(watched, event)
        )


class EmptyFieldUndo(_WhoseKeys):
    """Lets an empty field pass on the key that it would keep for its own text."""

    form = QLineEdit

    def decided(self, watched: QObject, event: QKeyEvent) -> bool:
        """Leave the key to the command of the page."""
        empty = isinstance(watched, QLineEdit) and not watched.text()
        if empty and event.matches(QKeySequence.StandardKey.Undo):
            event.ignore()
            return True
        return False


class BoxLetters(_WhoseKeys):
    """Keeps letters for a box in which something begins with them."""

    form = QComboBox

    def decided(self, watched: QObject, event: QKeyEvent) -> bool:
        """Take a letter before it is a command of the page."""
        letter = event.text().isalpha() and not event.modifiers() & COMMANDS
        if isinstance(watched, QComboBox) and letter:
            begins = Qt.MatchFlag.MatchStartsWith
            if watched.findText(event.text(), begins) >= 0:
                event.accept()
                return True
        return False
