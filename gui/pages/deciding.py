"""What pages share on which something is decided: a list, its chosen row, going on.

Such a page calls `make_list` first in `build`, fills in the hooks, and lays out with
`columns` and `head_of_row`.
"""

from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QWidget

from gui.actions import Spec, needs
from gui.keys import Key
from gui.pages.page import Form, Page
from gui.parts.oneline import OneLine
from gui.parts.rows import RowList
from gui.state import Condition
from gui.style import follow
from gui.theme import BETWEEN, COLUMNS

NARROW_PX = 228
MOVES = (
    Spec("to_pilot", "&Pilot", Key.PILOT, "Page of the pilot", needs(Condition.CHOSEN)),
    Spec("previous", "Before", Key.PREVIOUS, "The one before"),
    Spec("following", "Next", Key.NEXT, "The next one"),
    Spec("out", "Back to the &list", Key.OUT, "Drop what is not recorded"),
)
"""Commands of every such page, beside its own."""


class DecidingPage(Page):
    """The list, the detail of its chosen row, a bar in which something is decided."""

    wide_px = 0
    """Width of the list where there is room."""
    rows: RowList
    detail: QWidget
    _row: Any = None
    """Data of the row that is shown; it has a `key`, and is `open` until decided."""

    # What such pages fill in.

    def _show(self, row: Any) -> None:
        """Show a row, or that there is none."""

    def _tell(self) -> None:
        """Say what would be recorded on the row shown, or what is missing."""

    def submit(self) -> None:
        """Record the decision, and go on to the next one."""

    def out(self) -> None:
        """Drop what is not recorded, and go back to the list."""

    def to_pilot(self) -> None:
        """Go to the page of the pilot."""

    # What they use.

    def make_list(self, name: str) -> None:
        """Make the list: the chosen row is shown, Enter records."""
        self.rows = self.table = RowList(name)
        self.rows.chosen.connect(self._on_chosen)
        self.rows.entered.connect(lambda _: self.submit())

    def head_of_row(self, look: str) -> QHBoxLayout:
        """Make the line that says whom the detail is about, and what."""
        self.who = OneLine(look="name")
        self.what = OneLine(look=look, letters=16)
        line = QHBoxLayout()
        line.setSpacing(BETWEEN)
        line.addWidget(self.who)
        line.addWidget(self.what, 1)
        return line

    def columns(self, detail: QWidget) -> QHBoxLayout:
        """Lay list and detail beside each other; the list is as wide as its text asks."""
        self.detail = detail
        both = QHBoxLayout()
        both.setSpacing(COLUMNS)
        both.addWidget(self.rows)
        both.addWidget(detail, 1)
        follow(self.fit_list)
        return both

    def fit_list(self) -> None:
        """Give the list its width."""
        width = {Form.WIDE: self.wide_px, Form.NARROW: NARROW_PX}.get(self.form)
        self.rows.keep_width(width)

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """List and detail; the bar stays beneath both."""
        return self.rows, self.detail

    @property
    def chosen(self) -> bool:
        """Tell whether a row is chosen."""
        return self._row is not None

    def previous(self) -> None:
        """Choose the one before."""
        self.rows.choose_next(-1)

    def following(self) -> None:
        """Choose the next one."""
        self.rows.choose_next(1)

    def _on_chosen(self, row: Any) -> None:
        self._show(row)
        self.choice.emit()

    def _go_on(self, row: Any) -> None:
        """Choose the next row that is open; stay where there is none."""
        self.rows.choose_after(row.key, lambda one: one.open)
        self.to_pane(self.rows)
        self._tell()
