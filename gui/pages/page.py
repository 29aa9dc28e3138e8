"""What all pages have: a title, a hint, commands, and the event they show.

A page fills in `build` and, as far as it needs them, the hooks below it.  It leads
elsewhere with `go.emit(name of a page, what to show there)`; the other page gets that in
`lead_to`.  The task chosen for the whole window is `self.session.task` (None = all tasks);
`task_chosen` is called when it changes while the page is in front.
"""

from collections.abc import Callable, Sequence
from enum import IntEnum
from functools import cached_property
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QWidget,
)

from gui.actions import Actions, Spec, needs
from gui.flow import FirmColumn, FlowRow
from gui.jobs import Jobs
from gui.keys import Key
from gui.parts.capbutton import CapButton
from gui.parts.foot import Hints
from gui.parts.keycap import hint_row
from gui.parts.oneline import OneLine
from gui.parts.whybar import WhyBar
from gui.session import Session
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, INSIDE, MARGIN, NOON, Theme
from gui.view import TableView
from gui.widgets import caution, field, label
from scorer.facts import Fact
from scorer.words.catalogue import message
from scorer.words.voice import Voice

FIND = 16
"""Letters of a field to find something in a list."""
NARROW_EM, SMALL_EM = 84, 60
"""Widths of the window, in widths of text, under which it takes another form."""

FULL_CAUTION = f"{message('caution', {})} {message('caution-low', {})}"
SHORT_CAUTION = message("caution-short", {})


REVERT = Spec(
    "revert",
    "Re&vert",
    Key.REVERT,
    "Revert what you recorded last here",
    needs(Condition.EVENT, Condition.WRITABLE),
)
"""A command of every page."""


class Form(IntEnum):
    """How much room there is: broken by widths of text, so larger text has less."""

    SMALL = 0
    """List and detail alternate; the rail is a box at the top."""
    NARROW = 1
    """Smaller margins, short texts."""
    WIDE = 2

    @classmethod
    def of(cls, ems: float) -> "Form":
        """Return the form of a window so many widths of text wide."""
        return cls((ems >= SMALL_EM) + (ems >= NARROW_EM))


class Page(QWidget):
    """One page of the window."""

    note = Signal(str)  # a line for the foot of the window
    choice = Signal()  # the chosen row changed
    keys_changed = Signal()  # of the foot
    go = Signal(str, object)  # name of another page, and what to show there
    back = Signal()  # where the user came from
    name = ""
    title = ""
    key: Key = Key.NONE
    """Brings the page to the front; pages without one are found with F2."""
    hint = ""
    """Beside the title; `say_hint` says something else."""
    hints: Hints = ()
    """Keys at the right of the heading, with what they do."""
    foot_keys: Hints = ()
    """Keys of the page in the foot; what they do everywhere is added by the window."""
    specs: Sequence[Spec] = ()
    shows_heights = False

    def __init__(self, session: Session, jobs: Jobs) -> None:
        super().__init__()
        self.session = session
        self.jobs = jobs
        self.theme: Theme = NOON
        self.setObjectName(self.name)
        self.setAccessibleName(self.title)
        self.actions_ = Actions(self, (*self.specs, REVERT), self.title)
        self.form, self.fitted = Form.WIDE, False
        self.body = FirmColumn(self)
        self.body.setSpacing(BETWEEN)
        self.body.addLayout(self._head())
        self.build()
        if self.shows_heights and self.findChild(QLabel, "caution") is None:
            self.body.addWidget(caution(SHORT_CAUTION))

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        head.setSpacing(BETWEEN)
        self.heading = label(self.title, "title")
        head.addWidget(self.heading)
        self.hint_label = OneLine(self.hint, "hint")
        head.addWidget(self.hint_label, 1)
        self.head = head
        if self.hints:
            self.hint_keys = hint_row(*self.hints)
            head.addWidget(self.hint_keys)
        return head

    # What pages fill in.

    def build(self) -> None:
        """Make the widgets."""

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what stands in the event now, and what was computed of it."""

    def rescored(self) -> None:
        """Show new results."""

    def enter(self) -> None:
        """The page came to the front: put the keyboard where work begins."""

    def lead_to(self, what: Any) -> None:
        """Another page leads here: a `Matter`, a pilot's number, whatever both know."""

    def task_chosen(self) -> None:
        """Another task was chosen for the whole window, or all of them."""

    def arrange(self) -> None:
        """There is another room: `self.form` tells how much."""

    def forget(self) -> None:
        """The event is closed: drop find texts, drafts, choices.  Call the base's too.

        What is to be kept of them (`session.unsaved`) was kept while it was typed.
        """
        for box in self.findChildren(QLineEdit):
            if box.accessibleName().startswith("Find"):
                box.clear()

    @property
    def panes(self) -> Sequence[QWidget]:
        """Where F6 goes, one after the other: list, detail, decision."""
        return self.findChildren(QAbstractItemView)

    @property
    def sides(self) -> Sequence[QWidget]:
        """List and detail, of which one is seen at a time in a small window; F6 turns."""
        return ()

    @property
    def chosen(self) -> bool:
        """Tell whether a row is chosen."""
        return False

    # What pages use.

    @cached_property
    def why_bar(self) -> WhyBar:
        """Where the page asks why, under its heading; made when it first asks."""
        made = WhyBar(self.session, self.name)
        self.body.insertWidget(1, made)
        return made

    def ask_why(
        self,
        question: str,
        about: str,
        done: Callable[[str], object],
        told: Fact | None = None,
    ) -> None:
        """Ask, in the page, why a thing is done; `done` gets the reason.

        `about` tells it from other things of this page, also after a crash; `told` stands
        in the foot afterwards.
        """

        def end(why: str) -> None:
            done(why)
            if told is not None:
                self.tell(told)

        self.why_bar.ask(question, about, end)

    def find_in_head(self, changed: Callable[[str], object]) -> QLineEdit:
        """Put a field to find in the list into the heading, and return it."""
        search = field("Find in the list", "find …", changed=changed, letters=FIND)
        self.head.insertWidget(2, search)
        return search

    def say_keys(self, keys: Hints) -> None:
        """Show other keys in the foot: what the page shows now is done with those."""
        if keys != self.foot_keys:
            self.foot_keys = keys
            self.keys_changed.emit()

    def say_hint(self, text: str) -> None:
        """Say something beside the title."""
        self.hint_label.setText(text)

    def fit(self, form: Form) -> None:
        """Take another form; the window calls it when its width in text changes."""
        self.form, self.fitted = form, True
        wide = form is Form.WIDE
        side = MARGIN if wide else MARGIN - INSIDE
        self.body.setContentsMargins(side, side - INSIDE, side, side - INSIDE)
        if self.hints:
            self.hint_keys.setVisible(wide)
        self.arrange()
        seen = [s for s in self.sides if s.isVisibleTo(self)]
        self._turn_to(next(iter(seen or self.sides), None))

    def next_pane(self, step: int = 1) -> None:
        """Give the keyboard to the next pane; with -1 to the one before."""
        panes = [pane for pane in self.panes if self._offered(pane)]
        if not panes:
            return
        now = next((i for i, p in enumerate(panes) if p.hasFocus() or _within(p)), None)
        first = 0 if step > 0 else -1
        self.to_pane(panes[first if now is None else (now + step) % len(panes)])

    def to_pane(self, pane: QWidget) -> None:
        """Give the keyboard to a pane; in a small window it takes its turn first."""
        for side in self.sides:
            if side is pane or side.isAncestorOf(pane):
                self._turn_to(side)
        pane.setFocus()

    def _offered(self, pane: QWidget) -> bool:
        own = next((s for s in self.sides if s is pane or s.isAncestorOf(pane)), None)
        seen = pane.isVisible() if own in {None, pane} else pane.isVisibleTo(own)
        return (seen or own is pane) and pane.isEnabled()

    def _turn_to(self, side: QWidget | None) -> None:
        """Show one side alone where the window is small, else all of them."""
        for one in self.sides:
            one.setVisible(self.form is not Form.SMALL or one is side)

    @property
    def voice(self) -> Voice:
        """How the event speaks."""
        return Voice.of(self.snapshot.event) if self.snapshot else Voice()

    def revert(self) -> None:
        """Revert what was recorded last on this page, all of it."""
        self.tell(self.session.revert_last())

    def tell(self, stated: Fact) -> None:
        """Say something that happened in the foot of the window."""
        self.note.emit(self.voice.say(stated))

    @property
    def snapshot(self) -> Snapshot | None:
        """What stands in the event now."""
        return self.session.snapshot

    @property
    def tables(self) -> list[TableView]:
        """All tables of the page."""
        return self.findChildren(TableView)

    def set_theme(self, theme: Theme) -> None:
        """Take over colours."""
        self.theme = theme
        for table in self.tables:
            table.set_theme(theme)

    def button(self, name: str, *, main: bool = False) -> CapButton:
        """Return a button for a command of this page."""
        action, spec = self.actions_[name], self.actions_.specs[name]
        look = "main" if main else ""
        button = CapButton(spec.text.replace("&", ""), spec.key, look=look)
        button.cap.setVisible(bool(spec.key))
        button.clicked.connect(action.trigger)

        def follow() -> None:
            button.setEnabled(action.isEnabled())
            button.setToolTip(action.toolTip())

        action.changed.connect(follow)
        follow()
        return button

    def buttons(
        self,
        *names: str,
        main: str = "",
        before: Sequence[QWidget] = (),
        after: Sequence[QWidget] = (),
    ) -> FlowRow:
        """Return a row of buttons, with what stands before and after them."""
        own = (self.button(name, main=name == main) for name in names)
        return FlowRow(*before, *own, *after)


def _within(pane: QWidget) -> bool:
    """Tell whether something in a pane has the keyboard."""
    focus = pane.window().focusWidget()
    return focus is not None and pane.isAncestorOf(focus)


class ListPage(Page):
    """A page about the rows of one table; work begins in it."""

    table: TableView

    def enter(self) -> None:
        """Go to the table, also where the other side had the room."""
        self.to_pane(self.table)
        self.table.choose_first()

    def lead_to(self, what: Any) -> None:
        """Choose the row that a matter, or a pilot's number, is about."""
        self.table.choose_where(lambda row: self.is_about(row, what))

    def is_about(self, row: Any, what: Any) -> bool:
        """Tell whether a row is about what another page leads to."""
        del row, what
        return False

    @property
    def chosen(self) -> bool:
        """Tell whether a row is chosen."""
        return self.table.row is not None
