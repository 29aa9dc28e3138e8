"""A card that is a form: Enter records from its fields and from its boxes alike.

A page writes `card = FormCard("A new place", "Record the place")`, hears `submitted`, gives
it its fields with `card.lay_out(two_columns(rows))`, says faults with `card.told`, and
connects the fields' `returnPressed` itself where Enter goes elsewhere first.
"""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLayout, QWidget

from gui.keys import Key
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.keycap import hint_row
from gui.style import LOOK
from gui.theme import INSIDE, UNIT
from gui.widgets import label


class FormCard(Card):
    """A panel with a form; a box to choose from takes no Enter itself."""

    submitted = Signal()

    def __init__(self, title: str, record: str) -> None:
        super().__init__(title)
        self.told = label(wrap=True)
        self.told.hide()
        self.button = CapButton(record, Key.GO_ON, look="main")
        self.button.clicked.connect(lambda _: self.submitted.emit())

    def lay_out(self, fields: QLayout) -> None:
        """Put the fields above what is told of them and the button: Tab goes so too."""
        low = QHBoxLayout()
        low.addWidget(self.button)
        low.addWidget(hint_row((Key.OUT, "empty the form")))
        low.addStretch(1)
        self.body.addLayout(fields)
        self.body.addWidget(self.told)
        self.body.addLayout(low)

    # Qt's interface: Qt's names.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Record where Enter is pressed in a box to choose from."""
        on_box = isinstance(self.window().focusWidget(), QComboBox)
        if on_box and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.submitted.emit()
            return
        super().keyPressEvent(event)


def two_columns(rows: Iterable[tuple[QWidget, QWidget]]) -> QGridLayout:
    """Return fields one below the other, each behind its title."""
    grid = QGridLayout()
    grid.setVerticalSpacing(INSIDE)
    for at, (title, box) in enumerate(rows):
        title.setContentsMargins(0, LOOK.px(UNIT + 2), 0, 0)
        grid.addWidget(title, at, 0, Qt.AlignmentFlag.AlignTop)  # beside its field
        grid.addWidget(box, at, 1)
    grid.setColumnStretch(1, 1)
    return grid
