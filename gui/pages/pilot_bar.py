"""What is decided for one pilot: choice, how much, why; one sentence and its preview."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from gui.keys import Key, numbered
from gui.models.decision import Deciding, draft_of
from gui.models.giving import GIVEN, WITH_AMOUNT, Giving, read_given
from gui.parts.capbutton import CapButton
from gui.parts.choices import Choice, ChoiceRow
from gui.parts.kept import Kept
from gui.parts.keycap import hint_row
from gui.parts.scrolled import show_whole
from gui.parts.trial import Trial
from gui.session import Session
from gui.theme import COLUMNS, INSIDE
from gui.widgets import field, label, say
from scorer.event.model import Decision
from scorer.facts import Fact, fact
from scorer.ledger.entry import Draft
from scorer.scoring.told import DASH
from scorer.words.voice import Voice


class PilotBar(QFrame):
    """Choices, how much, why, the sentence, what it would change, Record."""

    recorded = Signal(object)  # the drafts
    asks = Signal()
    dropped = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("actBar")
        voice = Voice()
        self.setAccessibleName(voice.word("decide-title"))
        self.session = session
        self.asked: Deciding | Giving | None = None
        self.choices = ChoiceRow(voice.word("decide-title"))
        self.choices.show_choices(
            [
                Choice(decision, key, voice.word(f"choice-{decision}"))
                for key, decision in numbered(GIVEN)
            ]
        )
        self.choices.taken.connect(self._on_choice)
        self.amount = field(
            "How much",
            voice.word("how-much"),
            changed=lambda _: self._again(),
            letters=16,
        )
        self.why = field("Why", "say why: the pilot will read it")
        fields = {"amount": self.amount, "why": self.why}
        self.kept = Kept(session, "pilot decision", fields)
        self.amount.returnPressed.connect(self.why.setFocus)
        self.why.returnPressed.connect(self.record)
        self.sentence = label(look="strong", wrap=True)
        self.sentence.setAccessibleName("What will be recorded")
        self.preview = label(look="second", wrap=True)
        self.preview.setAccessibleName("What it would change")
        self.button = CapButton("Record", Key.GO_ON, look="main")
        self.button.clicked.connect(self.record)
        self._lay_out()
        self.trial = Trial(session, self)
        self.trial.told.connect(self._tell_preview)
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

    def begin(self, asked: Deciding | Giving, *, choose: bool = True) -> None:
        """Ask about one pilot in one task; `choose` takes the decision at once."""
        self.drop()
        self.asked = asked
        self.choices.setVisible(isinstance(asked, Giving))
        self.show()
        self.asks.emit()
        if isinstance(asked, Deciding):
            self.amount.hide()
            self.why.setFocus()
            self.kept.begin(asked.ruled.finding.id)
            self._again()
        elif not (choose and self.choices.take(asked.decision)):
            self.choices.buttons[0].setFocus()
        show_whole(self)

    def take(self, number: int) -> bool:
        """Take the choice that bears a number; tell whether there is one."""
        if not isinstance(self.asked, Giving):
            return False
        return self.choices.take_number(number)

    def drop(self) -> None:
        """Forget decision, amount and reason together."""
        self.asked = None
        self.trial.drop()
        self.choices.drop()
        for box in (self.amount, self.why):
            box.clear()
        self.kept.done()
        for told in (self.sentence, self.preview):
            told.setText("")
        self.hide()
        self.dropped.emit()

    def drafts(self, why: str) -> Sequence[Draft]:
        """Return what would be recorded; none where something lacks."""
        snapshot, ledger = self.session.snapshot, self.session.ledger
        asked = self._read(why)
        if asked is None or snapshot is None or ledger is None or self._lacks(asked):
            return ()
        if isinstance(asked, Deciding):
            return (draft_of(asked, snapshot, ledger, self.session.who),)
        return (asked.draft(snapshot, ledger, self.session.who),)

    def record(self) -> None:
        """Record it; say in place what lacks, and go there."""
        drafts, asked = self.drafts(self.why.text()), self._read(self.why.text())
        if drafts:
            self.recorded.emit(drafts)
            self.drop()
        elif asked is not None:
            lacks = self._lacks(asked) or fact("decide-amount")
            say(self.sentence, self._voice.say(lacks), "bad")
            amount = lacks.kind == "decide-amount"
            (self.amount if amount else self.why).setFocus()

    # What it says.

    def _on_choice(self, value: object) -> None:
        if not isinstance(self.asked, Giving):
            return
        decision = Decision(str(value))
        self.asked = replace(self.asked, decision=decision)
        self.kept.begin(f"{self.asked.pilot} {self.asked.task} {decision}")
        needs = decision in WITH_AMOUNT
        self.amount.setVisible(needs)
        (self.amount if needs else self.why).setFocus()
        self._again()
        show_whole(self)

    @property
    def _voice(self) -> Voice:
        snapshot = self.session.snapshot
        return Voice() if snapshot is None else Voice.of(snapshot.event)

    def _read(self, why: str) -> Deciding | Giving | None:
        """Return the decision as it stands; None as long as nothing is chosen."""
        snapshot, asked = self.session.snapshot, self.asked
        if snapshot is None or asked is None:
            return None
        if isinstance(asked, Deciding):
            return asked.because(why)
        if self.choices.value is None:
            return None
        typed = self.amount.text()
        amount = read_given(snapshot, asked.decision, asked.task or 0, typed)
        return replace(asked, amount=amount, why=why)

    def _lacks(self, asked: Deciding | Giving) -> Fact | None:
        """State what keeps a decision from being recorded."""
        snapshot = self.session.snapshot
        if isinstance(asked, Giving):
            return asked.fault(snapshot) if snapshot else None
        return None if asked.whole else fact("say-why-first")

    def _again(self) -> None:
        """Say what would be recorded, and have tried what it changes."""
        self.trial.drop()
        self.preview.setText("")
        asked = self._read(self.why.text())
        if asked is None:
            return
        what = asked.says() if isinstance(asked, Deciding) else asked.what()
        if what is None:
            wrong = bool(self.amount.text().strip())
            lacks = self._voice.say(fact("decide-amount")) if wrong else ""
            say(self.sentence, lacks, "bad")
            return
        say(self.sentence, self._voice.say(what), "strong")
        self.trial.ask(self._to_try, *_place(asked))

    def _to_try(self) -> Sequence[Draft]:
        return self.drafts(self.why.text().strip() or DASH)

    def _tell_preview(self, text: str) -> None:
        self.preview.setText(text)
        show_whole(self)


def _place(asked: Deciding | Giving) -> tuple[int | None, int | None]:
    """Return task and pilot of a decision."""
    own = asked.ruled.finding if isinstance(asked, Deciding) else asked
    return own.task, own.pilot
