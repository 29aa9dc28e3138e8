"""A field that says how it reads what is typed, and what is wrong with it.

A page writes `Echo("Launch", read=read_period)`; `read` returns the reading as words
(`06:45 to 07:30`) or raises `ScorerError` or `ValueError` with the sentence to show.  The
reading stands beside the field, bold; the fault beneath it, and the edge turns red.  An
empty field reads as nothing unless `needed` says what is missing.
"""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from gui.parts.line import Line
from gui.refusal import plainly
from gui.style import LOOK, follow
from gui.theme import INSIDE
from gui.widgets import label, say_or_hide
from scorer.errors import ScorerError


def as_typed(text: str) -> str:
    """Read nothing into a text."""
    del text
    return ""


class Echo(QWidget):
    """A field, its reading, its fault or its second line."""

    changed = Signal(str)  # what stands in it

    def __init__(
        self,
        name: str,
        hint: str = "",
        *,
        read: Callable[[str], str] = as_typed,
        needed: str = "",
        width: int = 0,
    ) -> None:
        super().__init__()
        self._read, self._needed = read, needed
        self.field = Line()
        self.field.setAccessibleName(name)
        self.field.setPlaceholderText(hint)
        self._letters = width
        self.reading = label(look="strong")
        self.beneath = label(look="second", wrap=True)
        self.beneath.hide()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(INSIDE)
        grid.setVerticalSpacing(2)
        grid.addWidget(self.field, 0, 0)
        grid.addWidget(self.reading, 0, 1)
        grid.setColumnStretch(0, 2 if not width else 0)
        grid.setColumnStretch(1, int(bool(width) or read is not as_typed))
        grid.addWidget(self.beneath, 1, 0, 1, 2)
        self.setFocusProxy(self.field)
        self.fault = ""
        if width:
            follow(self._fit)
        self.field.textChanged.connect(self._on_changed)

    def _fit(self) -> None:
        """Give the field the width of so many letters, which grows with the text."""
        letter = LOOK.metrics().averageCharWidth()
        self.field.setMaximumWidth(letter * self._letters + 4 * LOOK.px(INSIDE))

    @property
    def text(self) -> str:
        """What stands in the field, without the blanks round it."""
        return self.field.text().strip()

    def set_text(self, text: str) -> None:
        """Put a text into the field."""
        self.field.setText(text)

    def refuse(self, fault: str) -> None:
        """Say a fault that only the whole form can know."""
        self.fault = fault
        self._show()

    def check(self) -> bool:
        """Tell whether it can be recorded; say what is wrong if not."""
        self._look()
        if not self.text and self._needed:
            self.fault = self._needed
        self._show()
        return not self.fault

    def _look(self) -> None:
        self.fault, told = "", ""
        if self.text:
            try:
                told = self._read(self.text)
            except (ScorerError, ValueError) as error:
                self.fault = plainly(error)
        self.reading.setText(told)

    def _on_changed(self) -> None:
        self._look()
        self._show()
        self.changed.emit(self.text)

    def _show(self) -> None:
        self.field.setProperty("wrong", bool(self.fault))
        style = self.field.style()
        style.unpolish(self.field)
        style.polish(self.field)
        self.field.setAccessibleDescription(self.fault or self.reading.text())
        look = "bad" if self.fault else "second"
        say_or_hide(self.beneath, self.fault, look)
