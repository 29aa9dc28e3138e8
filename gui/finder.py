"""The searchable list of all commands."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from gui.actions import Actions
from gui.widgets import label

MOVES = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class Finder(QDialog):
    """Type words, choose, Enter."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Commands")
        self.resize(760, 560)
        self.words = QLineEdit(placeholderText="what do you want to do?")
        self.words.setAccessibleName("Find a command")
        self.words.textChanged.connect(self._narrow)
        self.words.installEventFilter(self)
        self.list = QListWidget()
        self.list.setAccessibleName("Commands and their keys")
        self.list.itemActivated.connect(lambda _: self.give())
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        layout = QVBoxLayout(self)
        layout.addWidget(self.words)
        layout.addWidget(self.list, 1)
        told = "Enter gives the command; Esc closes the list."
        layout.addWidget(label(told, "muted"))
        self._actions: list[QAction] = []

    def show_commands(self, groups: Sequence[Actions]) -> None:
        """List commands, those of the page in front first."""
        self.list.clear()
        self._actions = []
        for group in groups:
            for name, action in group.all.items():
                spec = group.specs[name]
                text = _plain(spec.text).rstrip("…")
                line = (
                    f"{text}   [{spec.key or 'no key'}]   {spec.tip}  ({group.where})"
                )
                item = QListWidgetItem(line)
                item.setToolTip(action.toolTip())
                if not action.isEnabled():
                    item.setFlags(Qt.ItemFlag.NoItemFlags)
                self.list.addItem(item)
                self._actions.append(action)
        self.words.clear()
        self._narrow("")
        self.words.setFocus()
        self.open()

    def give(self) -> None:
        """Give the chosen command."""
        row = self.list.currentRow()
        self.accept()
        if row >= 0 and self._actions[row].isEnabled():
            self._actions[row].trigger()

    def _narrow(self, text: str) -> None:
        words = text.casefold().split()
        first = -1
        for i in range(self.list.count()):
            item = self.list.item(i)
            fits = all(word in item.text().casefold() for word in words)
            item.setHidden(not fits)
            if fits and first < 0 and item.flags() & Qt.ItemFlag.ItemIsEnabled:
                first = i
        self.list.setCurrentRow(first)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move in the list and give commands from the field."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in MOVES:
                self.list.keyPressEvent(event)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.give()
                return True
        return super().eventFilter(watched, event)


def _plain(text: str) -> str:
    """Take the marks of shortcuts out; two of them stand for the sign itself."""
    return "&".join(part.replace("&", "") for part in text.split("&&"))
