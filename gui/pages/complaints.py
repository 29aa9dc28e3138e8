"""Complaints and protests: filed, answered, and how long one may still protest."""

from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gui.actions import Spec, needs, takes
from gui.keys import Key, numbered
from gui.models.publications import (
    ComplaintRow,
    complaint_rows,
    deadline_words,
    outcome_word,
)
from gui.pages.page import Form, Page
from gui.parts.card import Card
from gui.parts.choices import Choice, ChoiceRow
from gui.parts.kept import Kept
from gui.parts.keycap import hint_row
from gui.parts.oneline import OneLine
from gui.parts.rows import ListRow, RowList, head
from gui.parts.signs import RowSign
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, INSIDE
from gui.widgets import choice, choose, field, held, label, refill, say
from scorer.event.matter import Matter
from scorer.event.model import Level, Outcome
from scorer.facts import fact, inner, pilot, term, words
from scorer.ledger.acts import ComplaintFiled
from scorer.ledger.cells import whole_number
from scorer.ledger.entry import Draft
from scorer.ledger.filing import answering, filing
from scorer.words.voice import Voice

FORM = "complaint"
EVENT = 0
OPEN = needs(Condition.EVENT)
WRITING = needs(Condition.EVENT, Condition.WRITABLE)


class ComplaintsPage(Page):
    """The list, the chosen one with its answer, a line to file one."""

    name = "complaints"
    title = "Complaints"
    key = Key.PAGE_0
    foot_keys = ((Key.GO_ON, "answer"), (Key.COMPLAINT, "file one"))
    hints = ((Key.COMPLAINT, "file one"), (Key.PILOT, "page of the pilot"))
    specs = (
        Spec("begin", "&File a complaint", Key.COMPLAINT, "Pilot, then text", WRITING),
        Spec("to_pilot", "&Pilot", Key.PILOT, "Page of the pilot", OPEN),
        Spec("out", "O&ut", Key.OUT, "Drop what is not recorded", OPEN),
        *takes(
            WRITING,
            *((f"Answer {n}", "Take that answer") for n, _ in enumerate(Outcome, 1)),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.list = RowList("Complaints and protests")
        self.list.chosen.connect(self._on_chosen)
        self.list.entered.connect(lambda _: self._to_reason())
        self.columns = QHBoxLayout()
        self.columns.setSpacing(BETWEEN)
        self.columns.addWidget(self.list, 40)
        right = QVBoxLayout()
        right.setSpacing(BETWEEN)
        right.addWidget(self._detail(), 1)
        right.addWidget(self._filing())
        self.columns.addWidget(held(right), 60)
        self.body.addLayout(self.columns, 1)
        self.kept = Kept(
            self.session,
            FORM,
            {
                "pilot": self.pilot,
                "task": self.task,
                "level": self.level,
                "text": self.dispute,
            },
        )
        self.kept_answer = Kept(self.session, "answer", {"why": self.reason})
        self._just_filed: ComplaintFiled | None = None
        self._answered = ""

    def _detail(self) -> Card:
        self.detail = Card(Voice().word("complaint-unchosen"))
        self.about = label(look="second", wrap=True)
        self.text = label(wrap=True)
        self.text.setAccessibleName("What is disputed")
        self.answer = label(look="strong", wrap=True)
        self.answer.setAccessibleName("Answer")
        self.until = label(look="second", wrap=True)
        self.until.setAccessibleName("Deadline")
        self.verdict = ChoiceRow("Answer", caption="Answer")
        self.verdict.show_choices(
            [
                Choice(outcome, key, outcome_word(outcome))
                for key, outcome in numbered(Outcome)
            ]
        )
        self.verdict.taken.connect(lambda _: self._to_reason())
        self.reason = field("Reason of the answer", "why: the pilot will read it")
        self.reason.returnPressed.connect(self.decide)
        self.reason.installEventFilter(self)
        self.fault = label(look="bad", wrap=True)
        self.fault.setAccessibleName("What lacks")
        self.fault.hide()
        self.verdict.taken.connect(lambda _: self.fault.hide())
        self.reason.textEdited.connect(lambda _: self.fault.hide())
        for widget in (self.about, self.text, self.answer, self.until):
            self.detail.body.addWidget(widget)
        self.detail.body.addStretch(1)
        below: tuple[QWidget, ...] = (self.verdict, self.reason, self.fault)
        for made in below:
            self.detail.body.addWidget(made)
        return self.detail

    def _filing(self) -> Card:
        card = Card("File a complaint or protest")
        card.head.addWidget(hint_row((Key.GO_ON, "next, then record")))
        self.pilot = field("Number of the pilot who complains", "No.", letters=8)
        self.task = choice("Task the complaint is about")
        self.level = choice("Complaint or protest", *[(str(v), v) for v in Level])
        self.dispute = field("Complaint", "what is disputed, and why")
        self.unfit = label(look="bad", wrap=True)
        self.unfit.setAccessibleName("What lacks in the complaint")
        self.unfit.hide()
        self.pilot.returnPressed.connect(self.dispute.setFocus)
        for box in (self.task, self.level):
            box.installEventFilter(self)
        self.dispute.returnPressed.connect(self.submit)
        row = QHBoxLayout()
        row.setSpacing(INSIDE)
        self.whose = OneLine(look="strong")
        self.pilot.textChanged.connect(lambda _: self._tell_whose())
        for typed in (self.pilot, self.dispute):
            typed.textEdited.connect(lambda _: self.unfit.hide())
        for widget in (self.pilot, self.task, self.level):
            row.addWidget(widget)
        row.addWidget(self.whose, 1)
        card.body.addLayout(row)
        card.body.addWidget(self.dispute)
        card.body.addWidget(self.unfit)
        return card

    def _tell_whose(self) -> None:
        """Say whose number is typed, before anything is recorded."""
        typed, snapshot = whole_number(self.pilot.text()), self.snapshot
        own = snapshot.event.pilot(typed) if snapshot and typed else None
        self.whose.setText("" if own is None else own.name)

    @property
    def panes(self) -> tuple[QWidget, ...]:
        """List, answer, filing."""
        return self.list, self.reason, self.pilot

    @property
    def chosen(self) -> bool:
        """Tell whether one is chosen."""
        return self.list.line is not None

    def arrange(self) -> None:
        """Where there is little room only the list and the chosen one stand there."""
        self.list.setVisible(True)
        self.columns.setDirection(
            QHBoxLayout.Direction.TopToBottom
            if self.form is Form.SMALL
            else QHBoxLayout.Direction.LeftToRight
        )

    def enter(self) -> None:
        """Go to the list."""
        self.list.setFocus()
        self.list.choose_first()

    def lead_to(self, what: Any) -> None:
        """Show a complaint, or begin one of a pilot."""
        if isinstance(what, Matter):
            rows = (r.data for r in self.list.shown)
            wanted = (r for r in rows if r.complaint.act.pilot in what.pilots)
            found = next((r for r in wanted if r.complaint.is_open), None)
            if found is not None:
                self.list.choose(found.complaint.entry.hash)
        elif isinstance(what, int):
            self.begin()
            self.pilot.setText(str(what))
            self.dispute.setFocus()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show complaints as they stand."""
        tasks = snapshot.event.tasks if snapshot else ()
        options: list[tuple[str, object]] = [("event", EVENT)]
        options += [(f"task {t.number}", t.number) for t in tasks]
        refill(self.task, options)
        rows = complaint_rows(snapshot) if snapshot else []
        open_ones = [row for row in rows if row.complaint.is_open]
        answered = [row for row in rows if not row.complaint.is_open]
        shown: list[ListRow] = []
        for title, group in (("Open", open_ones), ("Answered", answered)):
            if group:
                shown += [head(title, len(group)), *map(_row, group)]
        self.list.show_rows(shown)
        self.list.choose_first()
        if self.list.choose_where(lambda row: row.complaint.act == self._just_filed):
            self._just_filed = None
        self.say_hint("" if rows else self.voice.word("complaint-none"))
        self._on_chosen(self.list.row)
        if snapshot is not None:
            self.kept.restore()

    def forget(self) -> None:
        """The event is closed: drop the answer; a half typed complaint stays with it."""
        super().forget()
        self.out()
        self.pilot.clear()
        self.dispute.clear()
        self.kept.forget()
        self.kept_answer.forget()
        self._just_filed, self._answered = None, ""

    def _on_chosen(self, row: object) -> None:
        given = row if isinstance(row, ComplaintRow) else None
        say(self.fault, "")
        self.fault.hide()
        waits = given is not None and given.complaint.is_open
        self.verdict.setVisible(waits)
        self.reason.setVisible(waits)
        self._answer(given.complaint.entry.hash if given and waits else "")
        if given is None:
            self.detail.name_it(Voice().word("complaint-unchosen"))
            for told in (self.about, self.text, self.answer, self.until):
                told.setText("")
            return
        own = given.complaint
        level = Voice().term(own.level)
        title = f"{level[:1].upper()}{level[1:]} of {own.act.pilot} {given.name}"
        self.detail.name_it(
            title, "" if own.act.task is None else f"task {own.act.task}"
        )
        at, by = words(given.at), words(own.filed_by)
        said = fact("complaint-filed-at", at=at)
        if own.filed_by:
            said = fact("complaint-filed-by", at=at, by=by)
        self.about.setText(". ".join(filter(None, (self.voice.say(said), own.note))))
        self.text.setText(own.act.text)
        self.answer.setText(given.answer)
        snapshot = self.snapshot
        self.until.setText("" if snapshot is None else deadline_words(snapshot, own))
        self.choice.emit()

    def _answer(self, complaint: str) -> None:
        """Ask for the answer to another complaint: what was meant for one stays with it."""
        if complaint != self._answered:
            self._answered = complaint
            self.verdict.drop()
            self.reason.clear()
            self.kept_answer.turn_to(complaint)

    def _to_reason(self) -> None:
        self.reason.setFocus()

    # Commands.

    def begin(self) -> None:
        """Go to the line that files one."""
        task = self.session.task
        if task is not None and self.task.findData(task) >= 0:
            self.task.setCurrentIndex(self.task.findData(task))
        self.pilot.setFocus()
        self.pilot.selectAll()

    def to_pilot(self) -> None:
        """Go to the page of the pilot."""
        row = self.list.row
        if isinstance(row, ComplaintRow):
            self.go.emit("pilot", row.complaint.act.pilot)

    def out(self) -> None:
        """Drop what is not recorded, and go back to the list."""
        self._drop_answer()
        self.fault.hide()
        self.unfit.hide()
        self.list.setFocus()

    def take(self, number: int) -> None:
        """Take an answer by its number."""
        if self.verdict.isVisible():
            self.verdict.take_number(number)

    def submit(self) -> None:
        """File a complaint; say in place what lacks, and below if it comes late."""
        fault, draft = self._filed()
        self.unfit.setText(fault)
        self.unfit.setVisible(bool(fault))
        if draft is None or not isinstance(draft.act, ComplaintFiled):
            return
        self.session.record_all([draft])
        act = self._just_filed = draft.act  # to be chosen when the list shows it
        self.pilot.clear()
        self.dispute.clear()
        choose(self.level, Level.COMPLAINT)  # a protest is said anew each time
        self.kept.keep()
        told = fact("complaint-recorded", level=term(act.level), pilot=pilot(act.pilot))
        if draft.why:
            late = fact("heard-or-not", late=words(draft.why))
            told = fact(
                "complaint-recorded-late", recorded=inner(told), late=inner(late)
            )
        self.tell(told)
        self.list.setFocus()

    def _filed(self) -> tuple[str, Draft | None]:
        """Return what lacks, or the entry."""
        snapshot, ledger = self.snapshot, self.session.ledger
        number = self.pilot.text().strip()
        if snapshot is None or ledger is None:
            return self.voice.word("complaint-whose"), None
        known = number.isascii() and number.isdigit()
        if not known or snapshot.event.pilot(int(number)) is None:
            self.pilot.setFocus()
            wrong = fact("complaint-no-pilot", number=words(number))
            lacks = self.voice.word("complaint-whose")
            return self.voice.say(wrong) if number else lacks, None
        text = self.dispute.text().strip()
        if not text:
            return self.voice.word("complaint-what"), None
        against = None
        if Level(self.level.currentData()) is Level.PROTEST:
            row = self.list.row
            if not isinstance(row, ComplaintRow) or not row.complaint.may_be_protested:
                return self.voice.word("protest-about"), None
            against = row.complaint
        return "", filing(
            snapshot.state,
            snapshot.event,
            ledger.clock(),
            pilot=int(number),
            text=text,
            task=self.task.currentData() or None,
            against=against,
        )

    def decide(self) -> None:
        """Answer the chosen complaint; say in place what lacks."""
        row, verdict = self.list.row, self.verdict.value
        reason = self.reason.text().strip()
        fault = ""
        if not isinstance(row, ComplaintRow) or not row.complaint.is_open:
            fault = self.voice.word("complaint-choose-open")
        elif verdict is None:
            fault = self.voice.word("complaint-take-answer")
        elif not reason:
            fault = Voice().word("say-why-first")
        say(self.fault, fault, "bad")
        self.fault.setVisible(bool(fault))
        if fault or not isinstance(row, ComplaintRow):
            return
        if (snapshot := self.snapshot) is None:
            return
        answer = Outcome(verdict)
        draft = answering(snapshot.state, row.complaint, answer, reason)
        self.session.record_all([draft])
        self._drop_answer()
        own = row.complaint
        of = {"level": term(own.level), "pilot": pilot(own.act.pilot)}
        verdict = words(outcome_word(answer))
        self.tell(fact("complaint-answered-so", verdict=verdict, **of))
        self.list.setFocus()

    def _drop_answer(self) -> None:
        """Forget answer and reason together."""
        self.verdict.drop()
        self.reason.clear()
        self.kept_answer.keep()

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take an answer by its number in the reason still empty; go on from a box."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            on = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
            if on and watched in {self.task, self.level}:
                self.dispute.setFocus()
                return True
            digit = event.text() if event.text() in {"1", "2", "3"} else ""
            waits = self.verdict.value is None and self.verdict.isVisible()
            if watched is self.reason and digit and waits and not self.reason.text():
                self.take(int(digit))
                return True
        return super().eventFilter(watched, event)


def _row(row: ComplaintRow) -> ListRow:
    own = row.complaint
    level = Voice().term(own.level)
    about = "event" if own.act.task is None else f"task {own.act.task}"
    return ListRow(
        key=own.entry.hash,
        number=str(own.act.pilot),
        name=row.name,
        second=own.act.text,
        at=f"{level}, {about}",
        sign=RowSign.WAITS if own.is_open else RowSign.DONE,
        data=row,
    )
