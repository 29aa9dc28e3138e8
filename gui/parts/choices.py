"""Choices as buttons in a row, each with its key: stages, decisions, reasons, states.

Where a row is too long for its place, `row.fold(2)` lays it in two columns.

A page writes
`row = ChoiceRow("Decision"); row.show_choices([Choice("confirm", Key.CONFIRM, "Confirm",
"8 points")])`, hears `row.taken` (the value) and calls `row.take("confirm")` when the key
is given in the list; `row.value` is what is taken, None = nothing yet.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from gui.flow import drop
from gui.keys import cap
from gui.parts.capbutton import room_of
from gui.parts.keycap import KeyCap
from gui.parts.oneline import OneLine
from gui.parts.write import advance
from gui.theme import INSIDE
from gui.widgets import label, say

LEAST_LETTERS = 16
"""What a choice shows at the least; what it comes to gives way first."""


class Choice(NamedTuple):
    """One of several: its value, its key, its words."""

    value: Any
    key: str
    text: str
    aside: str = ""
    """Muted, behind the words: what it comes to."""
    tip: str = ""


class ChoiceButton(QToolButton):
    """A choice that can be pressed: cap, words, what it comes to."""

    def __init__(self, choice: Choice) -> None:
        super().__init__()
        self.choice = choice
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setToolTip(choice.tip)
        self.setAccessibleName(f"{choice.text} {choice.aside}".strip())
        self.setAccessibleDescription(f"Key: {cap(choice.key)}" if choice.key else "")
        row = QHBoxLayout(self)
        row.setContentsMargins(INSIDE + 2, INSIDE, INSIDE + 2, INSIDE)
        row.setSpacing(INSIDE)
        self.cap = KeyCap(choice.key) if choice.key else None
        if self.cap is not None:
            row.addWidget(self.cap)
        self.words = OneLine(choice.text, letters=LEAST_LETTERS)
        row.addWidget(self.words)
        self.aside = OneLine(choice.aside, "second", whole=True)
        row.addWidget(self.aside)
        self.aside.setVisible(bool(choice.aside))  # in the button, not as a window
        row.addStretch(1)
        for told in (self.words, self.aside):
            told.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.toggled.connect(self._on_toggled)

    def _on_toggled(self, on: bool) -> None:  # noqa: FBT001 - Qt's signal
        say(self.words, self.words.text(), "strong" if on else "")
        if self.cap is not None:
            self.cap.set_on(on=on)

    # Qt's interface: Qt's names.

    def sizeHint(self) -> QSize:
        """Return the room its words ask for, also once they are bold."""
        said, bold = self.words.text(), self.isChecked()
        more = 0 if bold else advance(said, bold=True) - advance(said)
        return room_of(self).sizeHint() + QSize(more, 0)

    def minimumSizeHint(self) -> QSize:
        """Return the least room: words give way, and their tooltip has them whole."""
        return room_of(self).minimumSize()


class ChoiceRow(QWidget):
    """Choices of which at most one is taken; `even` fills the row, each by what it says."""

    taken = Signal(object)  # the value of the choice

    def __init__(self, name: str, *, caption: str = "", even: bool = False) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._even = even
        self._group = QButtonGroup(self)
        self._group.buttonClicked.connect(self._on_clicked)
        self.buttons: list[ChoiceButton] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(INSIDE)
        if caption:
            self._grid.addWidget(label(caption, "strong"), 0, 0)
        self._first = int(bool(caption))
        self._columns: int | None = None

    def show_choices(self, choices: Sequence[Choice]) -> None:
        """Show other choices; what is taken stays taken while it is there."""
        if [button.choice for button in self.buttons] == list(choices):
            return
        before = self.value
        for button in self.buttons:
            self._group.removeButton(button)
        drop(*self.buttons)
        self.buttons = [ChoiceButton(choice) for choice in choices]
        for button in self.buttons:
            self._group.addButton(button)
        self._lay()
        self._set(before)

    def fold(self, columns: int | None) -> None:
        """Lay the choices in so many columns; None = all in one row."""
        if columns != self._columns:
            self._columns = columns
            self._lay()

    def _lay(self) -> None:
        columns = self._columns or max(len(self.buttons), 1)
        for at in range(self._first, self._grid.columnCount() + 1):
            self._grid.setColumnStretch(at, 0)
        for i, button in enumerate(self.buttons):
            down, at = divmod(i, columns)
            self._grid.addWidget(button, down, self._first + at)
        for i, button in enumerate(self.buttons if self._even else ()):
            at = self._first + i % columns
            share = max(self._grid.columnStretch(at), button.sizeHint().width())
            self._grid.setColumnStretch(at, share)
        if not self._even:
            self._grid.setColumnStretch(self._first + columns, 1)
        self._grid.activate()  # also while hidden: its room may be kept

    @property
    def value(self) -> Any:
        """The value taken; None = nothing yet."""
        return None if self.chosen is None else self.chosen.value

    @property
    def chosen(self) -> Choice | None:
        """The choice taken; None = nothing yet."""
        checked = self._group.checkedButton()
        return checked.choice if isinstance(checked, ChoiceButton) else None

    def take(self, value: Any) -> bool:
        """Take a choice, as its key does; tell whether it is there."""
        if not self._set(value):
            return False
        self.taken.emit(value)
        return True

    def take_number(self, number: int) -> bool:
        """Take a choice by its place from 1; tell whether it is there."""
        at = number - 1
        return at in range(len(self.buttons)) and self.take(
            self.buttons[at].choice.value
        )

    def drop(self) -> None:
        """Take nothing."""
        self._group.setExclusive(False)
        for button in self.buttons:
            button.setChecked(False)
        self._group.setExclusive(True)

    def _set(self, value: Any) -> bool:
        for button in self.buttons:
            if value is not None and button.choice.value == value:
                button.setChecked(True)
                return True
        return False

    def _on_clicked(self, button: object) -> None:
        if isinstance(button, ChoiceButton):
            self.taken.emit(button.choice.value)
