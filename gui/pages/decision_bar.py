"""The bar under an infringement: what is decided, how much, why, one sentence."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLineEdit

from gui.keys import Key
from gui.models.amounts import read_amount
from gui.models.decision import REASONS, Deciding, reasons
from gui.models.findings import Detail, FindingGroup, FindingRow
from gui.pages.page import Form
from gui.parts.actbar import ActBar
from gui.parts.choices import Choice
from gui.snapshot import Snapshot
from gui.widgets import choice, field
from scorer.event.finding import Amount
from scorer.event.model import Decision, PenaltyUnit
from scorer.facts import fact, pilot, words
from scorer.words.voice import Voice

WITHDRAW = "withdraw"
KEYS = {
    Decision.APPLY: (Key.CONFIRM, "choice-confirm", ""),
    Decision.WAIVE: (Key.WAIVE, "choice-waive", "choice-waive-aside"),
    Decision.SET: (Key.SET_AMOUNT, "choice-set", ""),
    Decision.HOLD: (Key.HOLD, "choice-hold", "choice-hold-aside"),
}


class DecisionBar(ActBar):
    """Confirm, waive, another amount, hold; reasons with numbers; Enter."""

    decided = Signal(object)  # Decision
    changed = Signal()  # amount or reason
    amount_given = Signal()

    def __init__(self) -> None:
        super().__init__("Decide the infringement")
        self._wide = True
        self._reasons: tuple[str, ...] = ()
        self.much = field(
            "Amount", "how much", changed=lambda _: self.changed.emit(), letters=9
        )
        self.unit = choice(
            "Unit",
            *[(str(unit), unit) for unit in PenaltyUnit],
            changed=self.changed.emit,
        )
        for place, widget in enumerate((self.much, self.unit)):
            self.low.insertWidget(place, widget)
            widget.hide()
        self.much.returnPressed.connect(self._to_why)
        self.choices.taken.connect(self._on_choice)
        self.whys.taken.connect(lambda _: self.changed.emit())
        self.words.textChanged.connect(lambda _: self.changed.emit())

    @property
    def fields(self) -> dict[str, QLineEdit | QComboBox]:
        """What is typed in it."""
        return {"amount": self.much, "unit": self.unit, "why": self.words}

    @property
    def begun(self) -> bool:
        """Tell whether something is taken or typed."""
        return self.choices.value is not None or bool(self.why or self.much.text())

    @property
    def amount(self) -> Amount | None:
        """The other amount as typed; None where it is none."""
        return read_amount(self.much.text(), PenaltyUnit(self.unit.currentData()))

    def arrange(self, form: Form) -> None:
        """Leave out what is only beside the words where there is little room."""
        self._wide = form is Form.WIDE
        self.esc.setVisible(self._wide)

    def show_nothing(self) -> None:
        """No infringement is chosen."""
        self.drop()
        self.choices.setEnabled(False)
        self.button.setEnabled(False)

    def show_row(
        self, row: FindingRow, detail: Detail | None, deciding: Deciding | None
    ) -> None:
        """Show what can be decided on a row."""
        voice = Voice()
        decided = row.group is FindingGroup.DECIDED
        shown = [
            Choice(
                decision,
                key,
                voice.word(text),
                self._aside(decision, aside, detail) if self._wide else "",
                detail.how if detail and decision is Decision.APPLY else "",
            )
            for decision, (key, text, aside) in KEYS.items()
        ]
        if decided and deciding is not None:
            text, aside = (
                voice.word("choice-withdraw"),
                voice.word("choice-withdraw-aside"),
            )
            shown.append(
                Choice(WITHDRAW, Key.TAKE_0, text, aside if self._wide else "")
            )
        self.choices.show_choices(shown)
        able = not decided or deciding is not None
        self.choices.setEnabled(able)
        self.button.setEnabled(able)
        if deciding is None:
            self.say(voice.word("decide-was" if decided else "decide-what"), "second")
        elif deciding.decision is None:
            self.say(voice.word("decide-what"), "second")

    @staticmethod
    def _aside(decision: Decision, aside: str, detail: Detail | None) -> str:
        if decision is Decision.APPLY:
            return detail.asks if detail else ""
        return Voice().word(aside) if aside else ""

    def show_deciding(
        self, deciding: Deciding, snapshot: Snapshot, voice: Voice
    ) -> None:
        """Show a decision with the reasons it may have."""
        decision = deciding.decision
        if decision is None:
            return
        if self.choices.value != decision:
            self.choices.take(decision)
        setting = decision is Decision.SET
        for widget in (self.much, self.unit):
            widget.setVisible(setting)
        own = reasons(snapshot, voice, deciding.ruled.finding, decision)
        self._show_reasons(own, voice)
        self.say_deciding(deciding, voice)

    def show_withdrawing(self, voice: Voice, number: int) -> None:
        """Show that a decision is to be reverted."""
        self.choices.take(WITHDRAW)
        own = tuple(voice.word(f"reason-withdraw-{n}") for n in range(1, REASONS + 1))
        self._show_reasons(own, voice)
        who = pilot(number)
        if self.why:
            told = fact("decide-reverts", pilot=who, why=words(self.why))
            self.say(voice.say(told))
        else:
            self.say(voice.say(fact("decide-reverts-why", pilot=who)), "second")

    def _show_reasons(self, own: tuple[str, ...], voice: Voice) -> None:
        if own != self._reasons:
            self.whys.drop()
            self._reasons = own
        self.ask_why(own, voice.word("choice-words"))

    def say_deciding(self, deciding: Deciding, voice: Voice) -> None:
        """Say what would be recorded."""
        self.say(voice.say(deciding.says()), "strong" if deciding.whole else "second")

    def insist(self, deciding: Deciding | None, voice: Voice) -> None:
        """Say what is missing, and go there."""
        if deciding is None or deciding.decision is None:
            able = self.choices.isEnabled()
            self.tell(voice.word("decide-what" if able else "decide-was"), "warn")
        elif deciding.decision is Decision.SET and deciding.amount is None:
            self.tell(voice.word("decide-amount"), "bad")
            self.much.setFocus()
        else:
            self.tell(voice.word("say-why-first"), "bad")

    def tell(self, text: str, look: str = "second") -> None:
        """Say something in place of the sentence."""
        self.say(text, look)

    def take(self, number: int) -> None:
        """Take a reason by its number."""
        if self.whys.isVisible():
            self.whys.take_number(number)

    def ask_amount(self) -> None:
        """Go to the amount."""
        self.much.setFocus()

    def drop(self) -> None:
        """Forget decision, amount and reason together."""
        self.much.blockSignals(True)
        self.much.clear()
        self.much.blockSignals(False)
        self.unit.setCurrentIndex(0)
        self.much.hide()
        self.unit.hide()
        self._reasons = ()
        super().drop()

    def _to_why(self) -> None:
        """Leave the amount: the numbers of reasons count again."""
        if self.amount is None:
            self.tell(Voice().word("decide-amount"), "bad")
            return
        self.amount_given.emit()

    def _on_choice(self, value: object) -> None:
        if isinstance(value, Decision):
            self.decided.emit(value)
