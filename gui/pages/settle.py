"""Compare entries: both beside each other, the map, what speaks for which; choose, why.

Ranks and points are not here: which entry is right does not depend on what it is worth.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from gui.actions import Spec, needs, takes
from gui.flow import FirmColumn
from gui.keys import Key
from gui.models.settling import (
    OTHER,
    SettleRow,
    Sort,
    drafts_of,
    first_of,
    holds,
    read_length,
    reasons,
    settle_rows,
    whole,
)
from gui.pages.deciding import MOVES, DecidingPage
from gui.pages.entry_cards import EntryCards
from gui.pages.page import Form
from gui.parts.actbar import ActBar
from gui.parts.card import Card
from gui.parts.kept import Kept
from gui.parts.rows import ListRow, head
from gui.parts.scrolled import Scrolled
from gui.parts.signs import RowSign
from gui.plots.compared import Compared
from gui.plots.map import MapPlot
from gui.refusal import plainly
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, Theme
from gui.widgets import field, held, label
from scorer.errors import ScorerError
from scorer.event.matter import Matter
from scorer.facts import count, fact, words
from scorer.ledger.api import Draft
from scorer.words.voice import Voice

READY = needs(Condition.EVENT, Condition.WRITABLE, Condition.CHOSEN)
WHICH = (((Key.TAKE_1, Key.TAKE_2), "which holds"),)
OTHER_VALUE = (Key.TAKE_0, "another value")
HEADS = {
    Sort.DIFFER: "compare-differ",
    Sort.UNFIT: "compare-unfit",
    Sort.CHOSEN: "compare-chosen",
}


class SettlePage(DecidingPage):
    """The list, the entries, the map, the choice."""

    name = "settle"
    title = "Compare entries"
    key = Key.PAGE_5
    hint = "1, 2 … which holds, 0 another value; the number of a reason; Enter."
    foot_keys = (*WHICH, OTHER_VALUE)
    wide_px = 272
    _row: SettleRow | None = None
    specs = (
        *takes(
            READY,
            ("&1", "The first entry, or reason"),
            ("&2", "The second entry, or reason"),
            ("&3", "The third entry, or reason"),
            ("&4", "The reason in words"),
        ),
        Spec("take_other", "Another &value", Key.TAKE_0, "None is right", READY),
        Spec("whole", "Whole &map", Key.WHOLE, "All of the map, or the entries again"),
        *MOVES,
    )

    def build(self) -> None:
        """Make the widgets."""
        self._take: int | None = None
        self._fit_all = False
        self.make_list("Marks to choose about")
        self.body.addLayout(self.columns(self._detail()), 1)
        self.session.shelf.compared.connect(self._on_compared)

    def _detail(self) -> QWidget:
        top = self.head_of_row("second")
        self.cards = EntryCards()
        self.cards.taken.connect(self._begin)
        self.map = MapPlot()
        self.map.widget.setMinimumSize(160, 90)
        speaks = Voice().word("compare-speaks")
        self.speaks = Card(speaks)
        self.told = label(wrap=True)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        scrolled = Scrolled(self.told, least=QSize(100, 44))
        scrolled.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        scrolled.setAccessibleName(speaks)
        self.speaks.body.addWidget(scrolled, 1)
        self.not_worth = label(Voice().word("compare-not-worth"), "caption", wrap=True)
        self.speaks.body.addWidget(self.not_worth)
        middle = QHBoxLayout()
        middle.setSpacing(BETWEEN)
        middle.addWidget(self.map.widget, 3)
        middle.addWidget(self.speaks, 2)
        self.bar = ActBar("Choose which entry holds")
        self.bar.choices.hide()
        self.value = field("Value that holds", "the value that holds", letters=18)
        self.value.textChanged.connect(lambda _: self._tell())
        self.value.returnPressed.connect(self._to_reason)
        self.bar.reasons.insertWidget(0, self.value)
        self.value.hide()
        fields = {"value": self.value, "why": self.bar.words}
        self.kept = Kept(self.session, "compare", fields)
        self.bar.recorded.connect(self.submit)
        self.bar.whys.taken.connect(lambda _: self._tell())
        self.bar.words.textChanged.connect(lambda _: self._tell())
        whole_ = FirmColumn()
        whole_.setSpacing(BETWEEN)
        whole_.addLayout(top)
        whole_.addWidget(self.cards)
        whole_.addLayout(middle, 1)
        whole_.addWidget(self.bar)
        self._inside = whole_
        return held(whole_)

    def arrange(self) -> None:
        """Take the form that the room allows."""
        self.fit_list()
        small = self.form is Form.SMALL
        (self.body if small else self._inside).addWidget(self.bar)
        self.bar.esc.setVisible(self.form is Form.WIDE)
        self.not_worth.setVisible(self.form is Form.WIDE)
        self.speaks.setVisible(self.form is not Form.SMALL)

    # What is shown.

    @property
    def panes(self) -> list[QWidget]:
        """List, map, choice."""
        return [self.rows, self.map.widget, self.bar]

    def enter(self) -> None:
        """Go to the list, to what is open there."""
        self.to_pane(self.rows)
        self.rows.choose_left(lambda row: row.open)

    def forget(self) -> None:
        """The event is closed: drop what was being chosen."""
        super().forget()
        self._drop()
        self._row = None
        self.map.show(None, self.theme)

    def lead_to(self, what: Any) -> None:
        """Show the mark that a matter is about, or a pilot's."""
        if isinstance(what, int):
            self.rows.choose_where(lambda row: what in row.pilots)
        if isinstance(what, Matter):
            for row in self.rows.shown:
                own: SettleRow = row.data
                same = own.slots[0].slot.task == str(what.task)
                if same and set(what.pilots) & set(own.pilots):
                    self.rows.choose(row.key)
                    return

    def task_chosen(self) -> None:
        """Show the marks of the task chosen."""
        self.refresh(self.snapshot)

    def rescored(self) -> None:
        """Show which marks fit the flights now."""
        self.refresh(self.snapshot)

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what is to be chosen."""
        if snapshot is None:
            self.rows.show_rows([])
            self._show(None)
            return
        scored, session = self.session.results, self.session
        found = settle_rows(
            snapshot,
            session.matters,
            session.who,
            session.task,
            scored.results if scored else None,
        )
        self.rows.show_rows(list(self._listed(found)))
        left = sum(row.open for row in found)
        told = fact("compare-count", count=count(left))
        none = self.voice.word("compare-none")
        self.say_hint(self.voice.say(told) if left else none)
        self.rows.choose_first()
        self._show(self.rows.row)

    def _listed(self, found: list[SettleRow]) -> Iterable[ListRow]:
        for sort in Sort:
            own = [row for row in found if row.sort is sort]
            if own:
                yield head(self.voice.word(HEADS[sort]), len(own))
            for row in own:
                one = len(row.pilots) == 1
                both = " · ".join(first_of([self.voice.pilot(n) for n in row.pilots]))
                yield ListRow(
                    key=row.key,
                    number=str(row.pilots[0]) if one else "",
                    name=row.name if one else both,
                    second=row.second,
                    sign=RowSign.NONE if row.open else RowSign.DONE,
                    strong=row.open,
                    data=row,
                )

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, on the map too."""
        super().set_theme(theme)
        self.map.show(self.map.picture, theme)
        self.cards.dress(theme)

    def _show(self, row: SettleRow | None) -> None:
        """Show a row; another one, or one that changed, drops what was chosen."""
        before = self._row
        self._row = row
        if before is None or row is None or row.key != before.key:
            self._drop()
            self.map.show(None, self.theme)
        elif row == before:
            return
        elif row.sides != before.sides:
            self._drop()
        self.who.setText(
            "" if row is None else " · ".join(first_of([*map(self._named, row.pilots)]))
        )
        self.what.setText(self._about(row))
        fits = row is None or row.sort is not Sort.UNFIT
        which = (*WHICH, OTHER_VALUE) if fits else WHICH
        self.say_keys(which if row is not None and row.open else ())
        self.cards.show_sides(row.sides if row else (), self.theme)
        self._say_speaks(None)
        if row is None or not row.keyings:
            self.map.show(None, self.theme)
        else:
            self.session.shelf.ask_compared(self.name, row.key, row.keyings, row.names)
        self._tell()

    def _named(self, number: int) -> str:
        name = self.snapshot.pilot_name(number) if self.snapshot else ""
        return f"{number}  {name}"

    def _about(self, row: SettleRow | None) -> str:
        if row is None:
            return ""
        slot = row.slots[0].slot
        if not slot.mark:
            return f"task {slot.task}"
        told = fact("compare-of", task=words(slot.task), mark=words(slot.mark))
        return self.voice.say(told)

    def _on_compared(self, key: object, compared: Compared | None) -> None:
        if self._row is None or key != self._row.key:
            return
        self._fit_all = False
        self.map.show(compared.picture if compared else None, self.theme)
        self._say_speaks(compared)

    def _say_speaks(self, compared: Compared | None) -> None:
        row = self._row
        told = list(row.hints) if row else []
        if compared is not None and not (row and row.names):
            told.insert(min(len(told), 1), compared.log)
        said = [f"○  {self.voice.sentence(one)}" for one in told]
        self.told.setText("\n\n".join(said))

    # Choosing.

    def take(self, number: int) -> None:
        """Take an entry by its number, and after that a reason."""
        if self._take is None:
            self._begin(number)
        else:
            self.bar.whys.take_number(number)

    def _begin(self, take: int) -> None:
        row, snapshot = self._row, self.snapshot
        if row is None or snapshot is None or not row.open or take > len(row.sides):
            return
        self._take = take
        self.cards.take(take)
        self.value.setVisible(take == OTHER)
        own = reasons(snapshot, row, self.voice)
        self.bar.ask_why(own, self.voice.word("choice-words"))
        self._tell()
        self.to_pane(self.value if take == OTHER else self.rows)
        if self.kept.begin(f"{row.key} {take}"):
            self.bar.go_on()

    def take_other(self) -> None:
        """Enter the value that holds instead of all."""
        if self._row is not None and self._row.sort is Sort.DIFFER:
            self._begin(OTHER)

    def _to_reason(self) -> None:
        """Leave the value: the numbers of reasons count again."""
        if self._read():
            self.to_pane(self.rows)

    def _read(self) -> str:
        return read_length(self.snapshot, self.value.text()) if self.snapshot else ""

    def _tell(self) -> None:
        """Say what would be recorded, or what is missing."""
        row, take = self._row, self._take
        self.bar.button.setEnabled(row is not None and row.open)
        if row is None or not row.open:
            was = "" if row is None else self.voice.word("compare-was")
            self.bar.say(was, "second")
        elif take is None:
            name = "compare-take" if row.sort is Sort.DIFFER else "compare-take-unfit"
            self.bar.say(self.voice.word(name), "second")
        elif take == OTHER and not self._read():
            self.bar.say(self.voice.word("compare-other-what"), "second")
        else:
            what = holds(row, take, self._read())
            said = self.voice.say(whole(what, self.bar.why))
            self.bar.say(said, "strong" if self.bar.why else "second")

    def submit(self) -> None:
        """Record the choice, and go on to the next one."""
        row, take = self._row, self._take
        if row is None or take is None or self.snapshot is None:
            return
        if take == OTHER and not self._read():
            self.bar.say(self.voice.word("compare-other-what"), "bad")
            self.to_pane(self.value)
            return
        if not self.bar.why:
            self.bar.say(self.voice.word("say-why-first"), "bad")
            return
        what = words(self.voice.say(holds(row, take, self._read())))
        drafts = self._drafts(row, take)
        if drafts:
            self._drop()
            self.session.record_all(drafts)
            number = words(str(row.pilots[0]))
            told = fact("compare-recorded", pilot=number, what=what)
            self.tell(told)
            self._go_on(row)

    def _drafts(self, row: SettleRow, take: int) -> tuple[Draft, ...]:
        ledger, who = self.session.ledger, self.session.who
        if ledger is None:
            return ()
        # Both of two marks: in the event that pages are given, what somebody else
        # entered once does not stand, also where it counts.
        row = replace(row, state=ledger.state())
        try:
            return drafts_of(row, take, self.value.text(), self.bar.why, who)
        except ScorerError as error:
            self.bar.say(plainly(error), "bad")
            return ()

    def _drop(self) -> None:
        """Forget choice and reason together."""
        self._take = None
        self.value.clear()
        self.value.hide()
        self.cards.take(None)
        self.bar.drop()
        self.kept.done()

    def out(self) -> None:
        """Drop what is not recorded, and go back to the list."""
        self._drop()
        self._tell()
        self.to_pane(self.rows)

    # Where the keyboard is.

    def whole(self) -> None:
        """Show all of the map, or the entries again."""
        self._fit_all = not self._fit_all
        if self._fit_all:
            self.map.fit()
        else:
            self.map.focus()

    def to_pilot(self) -> None:
        """Go to the page of the pilot."""
        if self._row is not None:
            self.go.emit("pilot", self._row.pilots[0])
