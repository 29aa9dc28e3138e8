"""A card that is a form: Enter records from its fields and from its boxes alike.

A page writes `card = FormCard("A new place")`, hears `submitted`, and connects the fields'
`returnPressed` itself where Enter goes elsewhere first.
"""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox

from gui.parts.card import Card


class FormCard(Card):
    """A panel with a form; a box to choose from takes no Enter itself."""

    submitted = Signal()

    # Qt's interface: Qt's names.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Record where Enter is pressed in a box to choose from."""
        on_box = isinstance(self.window().focusWidget(), QComboBox)
        if on_box and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.submitted.emit()
            return
        super().keyPressEvent(event)
