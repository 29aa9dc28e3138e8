"""What the logs show, with its picture, and what officials decide on it.

Evidence, decision and reason are in one sight; ranks and points are not here: whoever
decides does not see what it is worth to whom.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import (
    QFrame,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui.actions import Spec, needs, takes
from gui.flow import FirmColumn
from gui.keys import Key
from gui.models.decision import Deciding, draft_of, earlier_of, overtaken
from gui.models.findings import (
    Detail,
    FindingGroup,
    FindingRow,
    detail_of,
    finding_rows,
)
from gui.pages.deciding import MOVES, DecidingPage
from gui.pages.decision_bar import WITHDRAW, DecisionBar
from gui.pages.impose_bar import ImposeBar
from gui.pages.many import ManyView
from gui.pages.page import SHORT_CAUTION, Form
from gui.parts.factrow import FactRow
from gui.parts.fronted import FrontStack
from gui.parts.kept import Kept
from gui.parts.keycap import hint_row
from gui.parts.rows import ListRow, head
from gui.parts.signs import RowSign
from gui.plots.pair import Pair
from gui.plots.picture import Picture
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, INSIDE, Theme
from gui.widgets import caution, held
from scorer.event.matter import Matter
from scorer.event.model import Decision
from scorer.facts import count, fact, term, words
from scorer.ledger.acts import RulingMade, Withdrawn
from scorer.ledger.api import Draft
from scorer.words.voice import Voice

CHOSEN = needs(Condition.EVENT, Condition.WRITABLE, Condition.CHOSEN)
SIGNS = {
    FindingGroup.ON_HOLD: RowSign.WAITS,
    FindingGroup.DECIDED: RowSign.DONE,
    FindingGroup.LET_PASS: RowSign.LATER,
}
HEADS = {
    FindingGroup.TO_DECIDE: "group-to-decide",
    FindingGroup.ON_HOLD: "group-on-hold",
    FindingGroup.DECIDED: "group-decided",
    FindingGroup.LET_PASS: "group-let-pass",
}


KEYS = (
    ((Key.CONFIRM, Key.WAIVE, Key.SET_AMOUNT, Key.HOLD), "decide"),
    (Key.CHOOSE, "choose several"),
)
KEYS_OF_MANY = ((Key.CHOOSE, "in or out"), (Key.CHOOSE_ALL, "all"))


class FindingsPage(DecidingPage):
    """The list, the facts, the picture, the decision."""

    name = "findings"
    title = "Infringements"
    key = Key.PAGE_7
    hint = "C, W, S or H; the number of a reason; Enter."
    hints = ((Key.ADD_PENALTY, "add a penalty no log shows"),)
    foot_keys = KEYS
    shows_heights = True
    wide_px = 296
    _row: FindingRow | None = None
    specs = (
        Spec(
            "confirm", "&Confirm", Key.CONFIRM, "What the rules ask for counts", CHOSEN
        ),
        Spec("waive", "&Waive", Key.WAIVE, "No penalty", CHOSEN),
        Spec(
            "set_amount", "Another &amount", Key.SET_AMOUNT, "Another penalty", CHOSEN
        ),
        Spec("hold", "&Hold", Key.HOLD, "The pilot is asked first", CHOSEN),
        *takes(
            CHOSEN,
            ("Reason &1", "The first reason"),
            ("Reason &2", "The second reason"),
            ("Reason &3", "The third reason"),
            ("Reason in words", "Type the reason"),
        ),
        Spec("take_back", "Revert", Key.TAKE_0, "After F7: as not decided", CHOSEN),
        Spec("correct", "C&hange", Key.CORRECT, "Change or revert a decision", CHOSEN),
        Spec(
            "impose",
            "A&dd a penalty",
            Key.ADD_PENALTY,
            "A penalty for something that no log shows",
            needs(Condition.EVENT, Condition.WRITABLE, Condition.TASKS),
        ),
        Spec("choose_row", "Row in or out", Key.CHOOSE, "Choose several", CHOSEN),
        Spec("choose_all", "All rows", Key.CHOOSE_ALL, "Choose all to decide", CHOSEN),
        Spec("record_many", "Record all", Key.BIG_ACT, "Record all at once", CHOSEN),
        Spec("whole", "Whole &flight", Key.WHOLE, "The whole flight in the picture"),
        *MOVES,
    )

    def build(self) -> None:
        """Make the widgets."""
        self._deciding: Deciding | None = None
        self._withdrawing = False
        self._shown: Detail | None = None
        self._asked: tuple[object, ...] = ()
        self._known: tuple[tuple[object, ...], list[FindingRow]] = ((None, None), [])
        self._spoken: Voice | None = None
        """How the rows known were put into words."""
        self._several: dict[str, FindingRow] = {}
        self.make_list("Infringements")
        self.many = ManyView(self.session)
        self.many.recorded.connect(self._record_many)
        self.many.dropped.connect(self._leave_many)
        self.pair = Pair(side_by_side=True)
        self.stack = QStackedWidget()
        self.stack.addWidget(self._two_panes())
        self.stack.addWidget(self.many)
        self.body.addWidget(self.stack, 1)
        self.session.shelf.pictured.connect(self._on_picture)

    def _two_panes(self) -> QWidget:
        whole = QVBoxLayout()
        whole.setSpacing(BETWEEN)
        whole.addLayout(self.columns(self._detail()), 1)
        self._whole = whole
        return held(whole)

    def _detail(self) -> QWidget:
        top = self.head_of_row("section")
        self.pilot_key = hint_row((Key.PILOT, "pilot page"))
        top.addWidget(self.pilot_key)
        self.facts = FactRow("What it rests on")
        frame = QFrame()
        frame.setObjectName("card")
        inside = FirmColumn(frame)
        inside.setContentsMargins(1, 1, 1, INSIDE)
        inside.setSpacing(INSIDE)
        inside.addWidget(self.pair, 1)
        told = caution(SHORT_CAUTION)
        told.setContentsMargins(BETWEEN, 0, BETWEEN, 0)
        inside.addWidget(told)
        self.bar = DecisionBar()
        self.bar.recorded.connect(self.submit)
        self.bar.decided.connect(self._decide)
        self.bar.changed.connect(self._on_bar)
        self.bar.amount_given.connect(self.rows.setFocus)
        self.imposing = ImposeBar()
        self.imposing.submitted.connect(self._record_imposed)
        self.kept = Kept(self.session, "decide", self.bar.fields)
        self.kept_penalty = Kept(self.session, "penalty", self.imposing.fields)
        self.bars = FrontStack(self.bar, self.imposing)
        whole = FirmColumn()
        whole.setSpacing(BETWEEN)
        whole.addLayout(top)
        whole.addWidget(self.facts)
        whole.addWidget(frame, 1)
        whole.addWidget(self.bars)
        self._inside = whole
        return held(whole)

    def arrange(self) -> None:
        """Take the form that the room allows."""
        self.fit_list()
        self.pilot_key.setVisible(self.form is Form.WIDE)
        small = self.form is Form.SMALL
        (self._whole if small else self._inside).addWidget(self.bars)
        self.bar.arrange(self.form)
        self.pair.show_pace(wanted=self.form is Form.WIDE)
        self.facts.arrange(short=self.form is not Form.WIDE, many=3 if small else 0)
        self.rescored()

    # What is shown.

    @property
    def panes(self) -> list[QWidget]:
        """List, picture, decision."""
        if self.stack.currentWidget() is self.many:
            return self.many.panes
        return [self.rows, self.pair.map.widget, self.pair.profile.widget, self.bars]

    def enter(self) -> None:
        """Go to the list, or back to what many would come to."""
        self._asked = ()
        if self.stack.currentWidget() is self.many:
            self.to_pane(self.many.table)
            return
        self.to_pane(self.rows)
        self.rows.choose_left(lambda row: row.open)
        self._show(self.rows.row)

    def forget(self) -> None:
        """The event is closed: drop decisions, choices and what was recorded."""
        super().forget()
        self._drop()
        self._several = {}
        self._row, self._asked = None, ()
        self._known = (None, None), []
        self.pair.show_picture(None, self.theme)
        self.many.drop()
        self._to_list()

    def lead_to(self, what: Any) -> None:
        """Show the infringement that a matter is about, or a pilot's."""
        if isinstance(what, int):
            self.rows.choose_where(lambda row: what == row.ruled.finding.pilot)
        if isinstance(what, Matter):
            named = set(what.evidence)
            about = (what.task, what.pilots)
            for row in self.rows.shown:
                own = [ruled.finding for ruled in row.data.each]
                alike = any((f.task, (f.pilot,)) == about for f in own)
                if any(f.id in named for f in own) or (not named and alike):
                    self.rows.choose(row.key)
                    return

    def task_chosen(self) -> None:
        """Show the infringements of the task chosen."""
        self.rescored()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what was recorded meanwhile."""
        del snapshot
        self.rescored()

    def rescored(self) -> None:
        """Show the infringements of the score."""
        under_way = self._under_way()
        found = [
            self._as_recorded(row) if row.open and _ids(row) <= under_way else row
            for row in self._worded()
        ]
        self.rows.show_rows(list(self._listed(found)))
        kept = {row.key: row for row in found}
        self._several = {
            k: kept[k] for k in self._several if k in kept and kept[k].open
        }
        self.say_hint(self._hint(found))
        self.rows.choose_first()
        self._show(self.rows.row)

    def _worded(self) -> list[FindingRow]:
        """Return the infringements of the score in words, which cost more than showing."""
        asked = self.session.results, self.session.task
        known, rows = self._known
        if any(one is not other for one, other in zip(asked, known, strict=True)):
            voice = asked[0].results.voice if asked[0] and asked[0].results else None
            rows = finding_rows(*asked, rows if voice == self._spoken else ())
            self._spoken = voice
            self._known = asked, rows
        return rows

    def _hint(self, found: list[FindingRow]) -> str:
        if self.session.results is None:
            return self.voice.word("infringements-not-scored")
        if not found:
            return self.voice.word("infringements-none")
        left = sum(len(r.each) for r in found if r.open)
        if not left:
            return self.voice.word("infringements-none-open")
        return self.voice.say(fact("infringements-open", count=count(left)))

    def _under_way(self) -> set[str]:
        """Return the infringements whose decision is recorded and not yet scored."""
        known = self.session.results
        scored = {e.hash for e in known.state.entries} if known else set()
        snapshot = self.snapshot
        fresh = [
            act
            for current, act in (snapshot.state.all_of(RulingMade) if snapshot else ())
            if current.entry.hash not in scored
        ]
        fresh += [d.act for d in self.session.pending if isinstance(d.act, RulingMade)]
        return {act.fields.get("finding", "") for act in fresh} - {""}

    def _as_recorded(self, row: FindingRow) -> FindingRow:
        """Return a row whose decision is recorded and not yet scored."""
        second = self.voice.word("short-recorded")
        return replace(row, group=FindingGroup.DECIDED, second=second)

    def _listed(self, found: list[FindingRow]) -> Iterable[ListRow]:
        voice = self.voice
        for group in FindingGroup:
            own = [row for row in found if row.group is group]
            if own:
                title = voice.word(HEADS[group])
                yield head(title, sum(len(row.each) for row in own))
            for row in own:
                sign = SIGNS.get(group, RowSign.NONE)
                if row.key in self._several:
                    sign = RowSign.NOTE
                wide = self.form is Form.WIDE
                yield ListRow(
                    key=row.key,
                    number=row.number,
                    name=row.name,
                    second=row.second if wide else f"{row.sure}, {row.second}",
                    at=row.sure if wide else "",
                    sign=sign,
                    strong=True,
                    data=row,
                )

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, in the picture too."""
        super().set_theme(theme)
        self.pair.show_picture(self.pair.picture, theme)

    def _show(self, row: FindingRow | None) -> None:
        """Show a row; another one drops what was being decided."""
        before = self._row
        if before is None or row is None or row.key != before.key:
            self._drop()
        elif self._was_overtaken(row):
            self._row = row
            self._tell()
            return
        self._row = row
        scored = self.session.results
        detail = detail_of(scored, row) if scored and row else None
        self.who.setText(f"{row.number}  {row.name}".strip() if row else "")
        self.what.setText(detail.title if detail else "")
        self._shown = detail
        self.facts.show_facts(detail.facts if detail else ())
        self._ask_picture(row)
        self._tell()

    def _was_overtaken(self, row: FindingRow) -> bool:
        """Drop a decision that another desk made meanwhile, and say so."""
        deciding = self._deciding
        if deciding is None or not deciding.begun:
            return False
        other = overtaken(deciding.ruled, row.ruled)
        if other is None:
            return False
        self._drop()
        self.bar.tell(self.voice.say(other), "bad")
        self.tell(other)
        return True

    def _ask_picture(self, row: FindingRow | None) -> None:
        if row is None or row.members:
            self._asked = ()
            self.pair.show_picture(None, self.theme)
            return
        finding = row.ruled.finding
        asked = (finding.flight, finding.pilot, finding.task, finding.id)
        edition = (*asked, id(self.session.results))
        if edition == self._asked:
            return
        if asked != self._asked[:4]:
            self.pair.show_picture(None, self.theme)
        self._asked = edition
        self.session.shelf.ask_picture(
            self.name, finding.flight, finding.pilot, finding.task, finding
        )

    def _on_picture(self, asked: tuple[object, ...], picture: Picture | None) -> None:
        if asked == self._asked[:4]:
            self.pair.show_picture(picture, self.theme)

    # Deciding.

    def _tell(self) -> None:
        """Show in the bar what can be decided, and what would be recorded."""
        row = self._row
        if row is None or self.snapshot is None:
            self.bar.show_nothing()
            return
        self.bar.show_row(row, self._shown, self._deciding)
        if self._withdrawing:
            self.bar.show_withdrawing(self.voice, row.ruled.finding.pilot)
        elif self._deciding is not None:
            self.bar.show_deciding(self._deciding, self.snapshot, self.voice)

    def confirm(self) -> None:
        """Let the penalty of the rule book count."""
        self._decide(Decision.APPLY)

    def waive(self) -> None:
        """Let no penalty count."""
        self._decide(Decision.WAIVE)

    def set_amount(self) -> None:
        """Let another penalty count."""
        self._decide(Decision.SET)

    def hold(self) -> None:
        """Ask the pilot first."""
        self._decide(Decision.HOLD)

    def _decide(self, decision: Decision) -> None:
        if self._row is None or self.stack.currentWidget() is self.many:
            return
        if decision is not Decision.SET and self._begin_many(decision):
            return
        row = self._row
        if row.members:
            return
        if row.group is FindingGroup.DECIDED and self._deciding is None:
            self.bar.tell(self.voice.word("decide-was"), "warn")
            return
        self._withdrawing = False
        deciding = self._deciding or Deciding(ruled=row.ruled)
        if decision is Decision.APPLY and not deciding.can_confirm:
            self.bar.tell(self.voice.word("decide-nothing-to-confirm"), "warn")
            return
        self._deciding = deciding.decide(decision)
        self._tell()
        if decision is Decision.SET and self._deciding.amount is None:
            self.bar.ask_amount()
        else:
            self.to_pane(self.rows)
        if self.kept.begin(f"{row.key} {decision}"):
            self.bar.go_on()

    def _on_bar(self) -> None:
        """Take over amount and reason from the bar."""
        if self._deciding is None or self._row is None:
            return
        amount = self.bar.amount if self._deciding.decision is Decision.SET else None
        self._deciding = self._deciding.of(amount).because(self.bar.why)
        self.bar.say_deciding(self._deciding, self.voice)

    def take_back(self) -> None:
        """Revert the decision, after F7."""
        row = self._row
        if (
            row is None
            or self._deciding is None
            or row.group is not FindingGroup.DECIDED
        ):
            return
        if self.snapshot and earlier_of(self.snapshot, row.ruled) is None:
            self.bar.tell(self.voice.word("decide-by-kind"), "warn")
            return
        self._withdrawing = True
        self._deciding = Deciding(ruled=row.ruled)
        self._tell()
        if self.kept.begin(f"{row.key} {WITHDRAW}"):
            self.bar.go_on()

    def take(self, number: int) -> None:
        """Take a reason by its number; the next one is for words."""
        if self.stack.currentWidget() is self.many:
            self.many.take(number)
        elif self._withdrawing or (self._deciding and self._deciding.decision):
            self.bar.take(number)

    def correct(self) -> None:
        """Change or revert a decision."""
        row = self._row
        if row is None or row.group is not FindingGroup.DECIDED or row.members:
            return
        self._withdrawing = False
        self._deciding = Deciding(ruled=row.ruled)
        self._tell()
        self.to_pane(self.rows)

    def submit(self) -> None:
        """Record the decision, and go on to the next one."""
        snapshot, ledger = self.snapshot, self.session.ledger
        row, deciding = self._row, self._deciding
        if row is None or snapshot is None or ledger is None:
            return
        if row.members:
            self.bar.tell(self.voice.word("decide-what"), "warn")
            return
        if self._withdrawing:
            self._withdraw(row)
            return
        if deciding is None or not deciding.whole:
            self.bar.insist(deciding, self.voice)
            return
        draft = draft_of(deciding, snapshot, ledger, self.session.who)
        self._record((draft,))
        decided = term(f"ruling-{deciding.decision}")
        number = words(str(row.ruled.finding.pilot))
        told = fact("decide-recorded", pilot=number, decision=decided)
        self.tell(told)
        self._go_on(row)

    def _withdraw(self, row: FindingRow) -> None:
        why = self.bar.why
        earlier = earlier_of(self.snapshot, row.ruled) if self.snapshot else None
        if not why or earlier is None:
            self.bar.tell(self.voice.word("say-why-first"), "bad")
            return
        act = Withdrawn(entry=earlier.ids[0])
        self._record((Draft(act=act, why=why, replaces=earlier.ids[1:]),))
        self._drop()
        self._tell()

    def _record(self, drafts: tuple[Draft, ...]) -> None:
        self._drop()
        self.session.record_all(drafts)

    def _drop(self) -> None:
        """Forget decision and reason together."""
        self._deciding, self._withdrawing = None, False
        self.bar.drop()
        self.imposing.drop()
        for kept in (self.kept, self.kept_penalty):
            kept.done()
        self.bars.setCurrentWidget(self.bar)

    def out(self) -> None:
        """Drop what is not recorded, and go back to the list."""
        if self.stack.currentWidget() is self.many:
            self._leave_many()
            return
        if not self.bar.begun and self._deciding is None and self._several:
            self._several = {}
            self.rescored()
        self._drop()
        self.to_pane(self.rows)
        self._tell()

    # A penalty that no log shows.

    def impose(self) -> None:
        """Add a penalty for something that no log shows."""
        snapshot = self.snapshot
        if snapshot is None or self.stack.currentWidget() is self.many:
            return
        self._drop()
        own = self._row.ruled.finding.task if self._row else None
        self.bars.setCurrentWidget(self.imposing)
        self.imposing.begin(snapshot, self.session.task or own, self.voice)
        self.kept_penalty.begin("")

    def _record_imposed(self) -> None:
        snapshot, ledger = self.snapshot, self.session.ledger
        if snapshot is None or ledger is None:
            return
        wanted = self.imposing.wanted
        if wanted.fault(snapshot) is not None:
            self.imposing.insist()
            return
        self._record((wanted.draft(snapshot, ledger, self.session.who),))
        told = fact(
            "decide-recorded",
            pilot=words(str(wanted.pilot)),
            decision=term("ruling-impose"),
        )
        self.tell(told)
        self.to_pane(self.rows)

    # Several at once.

    def choose_row(self) -> None:
        """Take the row in or out of several."""
        if self.stack.currentWidget() is self.many:
            self.many.toggle()
            return
        row = self._row
        if row is None or not row.open:
            return
        if self._several.pop(row.key, None) is None:
            self._several[row.key] = row
        self.rescored()

    def choose_all(self) -> None:
        """Take all that are to be decided in, or out where all are in."""
        if self.stack.currentWidget() is self.many:
            self.many.toggle_all()
            return
        every = {row.key: row.data for row in self.rows.shown if row.data.open}
        self._several = {} if every.keys() == self._several.keys() else every
        self.rescored()

    def _begin_many(self, decision: Decision) -> bool:
        """Show what a decision on several would come to; tell whether it is on several."""
        row = self._row
        chosen = list(self._several.values())
        if not chosen and row is not None and row.members:
            chosen = [row]
        ruled = [one for each in chosen for one in each.each]
        if not ruled:
            return False
        self._drop()
        self.many.begin(decision, ruled, self.voice)
        self.stack.setCurrentWidget(self.many)
        self._head_of_many()
        self.to_pane(self.many.table)
        return True

    def _head_of_many(self) -> None:
        self.heading.setText("Results")
        self.say_hint(self.many.hint)
        self.say_keys(KEYS_OF_MANY)
        self.hint_keys.hide()

    def _to_list(self) -> None:
        self.stack.setCurrentIndex(0)
        self.heading.setText(self.title)
        self.say_keys(KEYS)
        self.hint_keys.setVisible(self.form is Form.WIDE)

    def _leave_many(self) -> None:
        self.many.drop()
        self._several = {}
        self._to_list()
        self.rescored()
        self.to_pane(self.rows)

    def record_many(self) -> None:
        """Record all decisions at once."""
        if self.stack.currentWidget() is self.many:
            self.many.submit()

    def _record_many(self, drafts: tuple[Draft, ...]) -> None:
        self._record(drafts)
        self._leave_many()
        self.rows.choose_left(lambda row: row.open)
        self._show(self.rows.row)
        told = fact("many-recorded", count=count(len(drafts)))
        self.tell(told)

    def revert(self) -> None:
        """Revert what was recorded last on this page, all of it."""
        if self.stack.currentWidget() is not self.many:
            self._drop()
            super().revert()

    # Where the keyboard is.

    def whole(self) -> None:
        """Show the whole flight, or what matters again."""
        self.pair.toggle_whole()

    def to_pilot(self) -> None:
        """Go to the page of the pilot."""
        row = self._row
        if row is not None and not row.members:
            self.go.emit("pilot", row.ruled.finding.pilot)


def _ids(row: FindingRow) -> set[str]:
    return {ruled.finding.id for ruled in row.each}
