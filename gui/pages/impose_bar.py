"""The bar in which a penalty is written for something that no log shows."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLineEdit, QVBoxLayout

from gui.flow import FlowRow
from gui.keys import Key
from gui.models.amounts import COUNTED, read_amount
from gui.models.giving import Giving
from gui.parts.capbutton import CapButton
from gui.parts.keycap import hint_row
from gui.snapshot import Snapshot
from gui.theme import COLUMNS, INSIDE
from gui.widgets import choice, choose, field, label, refill, say
from scorer.event.model import PenaltyUnit
from scorer.facts import pilot
from scorer.words.voice import Voice


class ImposeBar(QFrame):
    """Task, pilot, amount, rule, why; Enter goes on and records at the end."""

    submitted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("actBar")
        self.setAccessibleName("Add a penalty")
        self._snapshot: Snapshot | None = None
        self._voice = Voice()
        self.title = label(look="strong")
        self.task = choice("Task", changed=self._tell)
        told = self._told
        self.pilot = field("Pilot's number", "number", changed=told, letters=7)
        self.named = label(look="strong")
        self.much = field("Amount", "how much", changed=told, letters=9)
        self.unit = choice(
            "Unit", *[(str(u), u) for u in PenaltyUnit], changed=self._on_unit
        )
        self.rule = field("Rule", "rule", changed=told, letters=7)
        self.why = field(
            "Why, in words", "say why: the pilot will read it", changed=self._told
        )
        self.sentence = label(look="second", wrap=True)
        self.button = CapButton("Record", Key.GO_ON, look="main")
        self.button.clicked.connect(self.submitted)
        self._lay_out()
        for box, after in (
            (self.pilot, self.much),
            (self.much, self.why),
            (self.rule, self.why),
        ):
            box.returnPressed.connect(after.setFocus)
        self.why.returnPressed.connect(self.submitted)

    def _lay_out(self) -> None:
        whole = QVBoxLayout(self)
        whole.setContentsMargins(COLUMNS, INSIDE + 4, COLUMNS, INSIDE + 4)
        whole.setSpacing(INSIDE)
        whole.addWidget(self.title)
        whole.addWidget(
            FlowRow(
                *(self.pilot, self.named, self.task, self.much, self.unit, self.rule)
            )
        )
        whole.addWidget(self.why)
        end = QHBoxLayout()
        end.setSpacing(INSIDE)
        end.addWidget(self.sentence, 1)
        end.addWidget(hint_row((Key.OUT, "drop")))
        end.addWidget(self.button)
        whole.addLayout(end)

    @property
    def fields(self) -> dict[str, QLineEdit | QComboBox]:
        """What is typed in it."""
        return {
            "task": self.task,
            "pilot": self.pilot,
            "unit": self.unit,
            "amount": self.much,
            "rule": self.rule,
            "why": self.why,
        }

    @property
    def wanted(self) -> Giving:
        """The penalty as written."""
        number = self.pilot.text().strip()
        task = self.task.currentData()
        unit = PenaltyUnit(self.unit.currentData())
        return Giving(
            pilot=int(number) if number.isascii() and number.isdigit() else None,
            task=task if isinstance(task, int) else None,
            amount=read_amount(self.much.text(), unit),
            rule=self.rule.text(),
            why=self.why.text(),
        )

    def begin(self, snapshot: Snapshot, task: int | None, voice: Voice) -> None:
        """Ask for what such a penalty needs."""
        self._snapshot, self._voice = snapshot, voice
        self.title.setText(voice.word("impose-title"))
        options: list[tuple[str, object]] = [
            (f"task {own.number}", own.number) for own in snapshot.event.tasks
        ]
        options.append((voice.word("impose-event"), "event"))
        refill(self.task, options)
        if task is not None:
            choose(self.task, task)
        self._tell()
        self.pilot.setFocus()

    def insist(self) -> None:
        """Say what is missing, and go there."""
        wrong = self.wanted.fault(self._snapshot) if self._snapshot else None
        if wrong is None:
            return
        say(self.sentence, self._voice.say(wrong), "bad")
        fields = {"impose-who": self.pilot, "decide-amount": self.much}
        fields["impose-whole-event"] = self.much
        fields.get(wrong.kind, self.why).setFocus()

    def drop(self) -> None:
        """Forget all of it."""
        self._snapshot = None
        for box in (self.pilot, self.much, self.rule, self.why):
            box.clear()
        choose(self.unit, PenaltyUnit.TASK_POINTS)
        say(self.sentence, "", "second")

    def _on_unit(self) -> None:
        counted = PenaltyUnit(self.unit.currentData()) in COUNTED
        self.much.setEnabled(counted)
        if not counted:
            self.much.clear()
        self._tell()

    def _told(self, _: str) -> None:
        self._tell()

    def _tell(self) -> None:
        """Say whose it is and what would be recorded, as it is typed."""
        snapshot = self._snapshot
        if snapshot is None:
            return
        wanted = self.wanted
        known = wanted.pilot is not None and snapshot.event.pilot(wanted.pilot)
        self.named.setText(
            self._voice.value(pilot(wanted.pilot)) if known and wanted.pilot else ""
        )
        whole = wanted.fault(snapshot) is None
        said = self._voice.say(wanted.says(snapshot))
        say(self.sentence, said, "strong" if whole else "second")
