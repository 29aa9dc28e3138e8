"""What is decided for one pilot: choice, how much, why; one sentence and its preview."""

from collections.abc import Sequence

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from gui.jobs import Jobs
from gui.keys import Key, numbered
from gui.models.deciding import (
    GIVEN,
    WITH_AMOUNT,
    AskedDecision,
    decision_drafts,
    decision_says,
    read_amount,
)
from gui.parts.capbutton import CapButton
from gui.parts.choices import Choice, ChoiceRow
from gui.parts.keycap import hint_row
from gui.session import Session
from gui.theme import COLUMNS, INSIDE
from gui.widgets import field, label, say
from scorer.errors import ScorerError
from scorer.event.model import Decision, Event
from scorer.facts import Fact, count, fact, number, words
from scorer.ledger.entry import Draft
from scorer.ledger.tried import Tried, try_out
from scorer.words.voice import Voice

TRY_AFTER_MS = 250
DASH = "–"


class PilotBar(QFrame):
    """Choices, how much, why, the sentence, what it would change, Record."""

    recorded = Signal(object)  # the drafts
    dropped = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("actBar")
        voice = Voice()
        self.setAccessibleName(voice.word("decide-title"))
        self.session, self.tries = session, Jobs(self, "try")
        self.asked: AskedDecision | None = None
        self.choices = ChoiceRow(voice.word("decide-title"))
        self.choices.show_choices(
            [
                Choice(decision, key, voice.word(f"choice-{decision}"))
                for key, decision in numbered(GIVEN)
            ]
        )
        self.choices.taken.connect(self._on_choice)
        self.amount = field(
            "How much", voice.word("how-much"), changed=lambda _: self._again()
        )
        self.amount.setMaximumWidth(160)
        self.why = field("Why", "say why: the pilot will read it")
        self.amount.returnPressed.connect(self.why.setFocus)
        self.why.returnPressed.connect(self.record)
        self.sentence = label(look="strong", wrap=True)
        self.sentence.setAccessibleName("What will be recorded")
        self.preview = label(look="second", wrap=True)
        self.preview.setAccessibleName("What it would change")
        self.button = CapButton("Record", Key.GO_ON, look="main")
        self.button.clicked.connect(self.record)
        self._lay_out()
        self._timer = QTimer(self, interval=TRY_AFTER_MS, singleShot=True)
        self._timer.timeout.connect(self._try)
        self.tries.refused.connect(self.preview.setText)
        self.hide()

    def _lay_out(self) -> None:
        fields, told = QHBoxLayout(), QVBoxLayout()
        fields.setSpacing(INSIDE)
        fields.addWidget(self.amount)
        fields.addWidget(self.why, 1)
        told.setSpacing(2)
        told.addWidget(self.sentence)
        told.addWidget(self.preview)
        low = QHBoxLayout()
        low.setSpacing(COLUMNS)
        low.addLayout(told, 1)
        low.addWidget(hint_row((Key.OUT, "drop")))
        low.addWidget(self.button)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(COLUMNS, INSIDE, COLUMNS, INSIDE)
        whole.setSpacing(INSIDE)
        whole.addWidget(self.choices)
        whole.addLayout(fields)
        whole.addLayout(low)

    def begin(self, asked: AskedDecision, *, choose: bool = True) -> None:
        """Ask about one pilot in one task; `choose` takes the decision at once."""
        self.drop()
        self.asked = asked
        self.choices.setVisible(not asked.ruled)
        self.show()
        if asked.ruled:
            self.amount.hide()
            self.why.setFocus()
            self._again()
        elif not (choose and self.choices.take(asked.decision)):
            self.choices.buttons[0].setFocus()

    def take(self, number: int) -> bool:
        """Take the choice that bears a number; tell whether there is one."""
        if self.asked is None or self.asked.ruled:
            return False
        return self.choices.take_number(number)

    def drop(self) -> None:
        """Forget decision, amount and reason together."""
        self.asked = None
        self.choices.drop()
        for box in (self.amount, self.why):
            box.clear()
        for told in (self.sentence, self.preview):
            told.setText("")
        self.hide()
        self.dropped.emit()

    def drafts(self, why: str) -> Sequence[Draft]:
        """Return what would be recorded; raise ScorerError where something lacks."""
        snapshot, ledger = self.session.snapshot, self.session.ledger
        asked = self._read()
        if asked is None or snapshot is None or ledger is None:
            return ()
        return decision_drafts(snapshot, ledger, asked, why=why, by=self.session.who)

    def record(self) -> None:
        """Record it; say in place what lacks."""
        try:
            drafts = self.drafts(self.why.text())
        except ScorerError as error:
            say(self.sentence, str(error), "bad")
            (
                self.why
                if self.amount.text() or self.amount.isHidden()
                else self.amount
            ).setFocus()
            return
        if drafts:
            self.recorded.emit(drafts)
            self.drop()

    # What it says.

    def _on_choice(self, value: object) -> None:
        decision = Decision(str(value))
        asked = self.asked
        if asked is None:
            return
        self.asked = AskedDecision(
            pilot=asked.pilot, task=asked.task, decision=decision
        )
        needs = decision in WITH_AMOUNT
        self.amount.setVisible(needs)
        (self.amount if needs else self.why).setFocus()
        self._again()

    def _event(self) -> Event | None:
        snapshot = self.session.snapshot
        return None if snapshot is None else snapshot.event

    def _read(self) -> AskedDecision | None:
        event = self._event()
        if self.asked is None or event is None:
            return None
        if not self.asked.ruled and self.choices.value is None:
            return None
        if self.asked.ruled:
            return self.asked
        return read_amount(event, self.asked, self.amount.text())

    def _again(self) -> None:
        """Say what would be recorded, and have tried what it changes."""
        event = self._event()
        self.preview.setText("")
        try:
            asked = self._read()
        except ScorerError as error:
            typed = self.amount.text().strip()
            say(self.sentence, str(error) if typed else "", "bad")
            return
        if asked is None or event is None:
            return
        voice = Voice.of(event)
        say(self.sentence, voice.say(decision_says(event, asked)), "strong")
        self.preview.setText(voice.word("try-waits"))
        self._timer.start()

    def _try(self) -> None:
        ledger, pool = self.session.ledger, self.session.pool
        if ledger is None or self.asked is None:
            return
        if self.tries.busy:
            self._timer.start()
            return
        try:
            drafts = self.drafts(self.why.text().strip() or DASH)
            asked = self._read()
        except ScorerError:
            return

        def scoring(event: Event) -> object:
            from scorer.scoring.score import score  # noqa: PLC0415 - in the worker

            logs = sum(len(flight.logs) for flight in event.flights)
            return score(event, pool.for_logs(logs))

        self.tries.start(
            lambda _: try_out(ledger, drafts, scoring=scoring),  # type: ignore[arg-type]
            done=lambda tried: self._on_tried(tried, asked),
        )

    def _on_tried(self, tried: object, asked: AskedDecision | None) -> None:
        if isinstance(tried, Tried) and asked is not None and self.asked is not None:
            self.preview.setText(preview_words(tried, asked))


def preview_words(tried: Tried, asked: AskedDecision) -> str:
    """Say what a decision would change, the pilot's own first."""
    own = [c for c in tried.changes if (c.task, c.pilot) == (asked.task, asked.pilot)]
    values = {v.name: v for c in own for v in c.values}
    said: list[Fact] = []
    for name in ("score", "rank"):
        if name in values:
            both = (values[name].before, values[name].after)
            before, after = (words(DASH) if v is None else number(v) for v in both)  # type: ignore[arg-type]
            said.append(Fact(f"preview-{name}", (("before", before), ("after", after))))
    moved = sum(place.ranks[0] != place.ranks[1] for place in tried.places)
    if moved:
        said.append(fact("preview-ranks", ranks=count(moved)))
    if not said:
        return tried.voice.word("preview-none")
    return ", ".join(map(tried.voice.say, said)) + "."
