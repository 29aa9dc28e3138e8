"""A few facts in one row: a caption, what is so, and a second line each.

A page writes `row = FactRow("About the contact")` and
`row.show_facts([Told("Lowest", "67 ft ± 3 ft", "minimum 75 ft")])`; the columns are equally
wide and texts wrap before they are cut.  The sentences come from the matter, through Voice.
"""

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from gui.flow import clear
from gui.theme import COLUMNS
from gui.widgets import label


class Told(NamedTuple):
    """One fact."""

    caption: str
    text: str
    second: str = ""


class FactRow(QWidget):
    """Facts beside each other; assistive tools read them as one sentence."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self.facts: tuple[Told, ...] = ()
        self._many, self._short = 0, False
        self._labels: list[QLabel] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(COLUMNS)
        self._grid.setVerticalSpacing(2)
        self.setAccessibleName(name)

    def show_facts(self, facts: Sequence[Told]) -> None:
        """Show other facts; the same ones are left as they are."""
        if tuple(facts) == self.facts:
            return
        alike = len(facts) == len(self.facts)
        self.facts = tuple(facts)
        if alike:
            self._fill()
        else:
            self._lay()
        said = "; ".join(f"{t.caption}: {t.text} {t.second}".strip() for t in facts)
        self.setAccessibleDescription(said)

    def arrange(self, *, short: bool, many: int) -> None:
        """Leave out second lines, and take so many facts in a row; 0 = all."""
        if (many, short) != (self._many, self._short):
            self._many, self._short = many, short
            self._lay()

    def _lay(self) -> None:
        clear(self._grid)
        self._labels = []
        many = self._many or max(len(self.facts), 1)
        for column in range(max(self._grid.columnCount(), many)):
            self._grid.setColumnStretch(column, int(column < many))
        lines = 2 if self._short else 3
        for place in range(len(self.facts)):
            line, column = divmod(place, many)
            looks = ("caption", "section", "caption")
            for row, look in enumerate(looks[:lines]):
                made = label("", look, wrap=row > 0)
                self._labels.append(made)
                at = line * lines + row, column
                self._grid.addWidget(made, *at, Qt.AlignmentFlag.AlignTop)
        self._fill()

    def _fill(self) -> None:
        """Write the facts into the labels that stand there."""
        lines = 2 if self._short else 3
        for place, made in enumerate(self._labels):
            told = self.facts[place // lines]
            made.setText(told[place % lines])
            made.setToolTip(told.second)
