"""The line in which a ruling is written."""

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gui.widgets import choice, choose, field, label, refill, say
from scorer.event.finding import Finding
from scorer.event.model import Decision, PenaltyUnit
from scorer.scoring import told
from scorer.words.voice import Voice

COUNTED = frozenset(
    {PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS, PenaltyUnit.METRES}
)
WHOLE_EVENT = "event"
HINT = "Enter records, Esc leaves all as it is."


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A ruling as written."""

    decision: Decision
    finding: str = ""
    task: int | None = None
    pilot: int | None = None
    amount: str = ""
    unit: str = ""
    rule: str = ""
    reason: str = ""
    seen: Mapping[str, str] | None = None
    """When and what the finding showed, by column."""

    def fields(self) -> dict[str, str]:
        """Return the columns of a row of rulings."""
        return {
            "task": "" if self.task is None else str(self.task),
            "pilot": "" if self.pilot is None else str(self.pilot),
            "finding": self.finding,
            "decision": str(self.decision),
            "amount": self.amount,
            "unit": self.unit,
            "rule": self.rule,
            "reason": self.reason,
            **(self.seen or {}),
        }


class RulingLine(QWidget):
    """Amount and unit where they are asked for, rule, reason; Enter goes on."""

    submitted = Signal(object)
    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.told = label(look="section", wrap=True)
        self.fault = label(HINT, "muted")
        self.task = choice("Task")
        self.pilot = field("Pilot's number", "pilot's number")
        self.amount = field("Amount", "amount")
        self.unit = choice(
            "Unit",
            *[(str(unit), str(unit)) for unit in PenaltyUnit],
            changed=self._on_unit,
        )
        self.rule = field("Rule", "rule, if another one")
        self.reason = field("Reason", "reason; the pilot will read it")
        row = QHBoxLayout()
        for widget, share in (
            (self.task, 1),
            (self.pilot, 1),
            (self.amount, 1),
            (self.unit, 1),
            (self.rule, 2),
        ):
            row.addWidget(widget, share)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 4)
        layout.addWidget(self.told)
        layout.addLayout(row)
        layout.addWidget(self.reason)
        layout.addWidget(self.fault)
        self.reason.returnPressed.connect(self.submit)
        self.amount.returnPressed.connect(self.reason.setFocus)
        self.rule.returnPressed.connect(self.reason.setFocus)
        self.pilot.returnPressed.connect(self.amount.setFocus)
        self.reason.textEdited.connect(lambda _: self.changed.emit())
        self._decision = Decision.APPLY
        self._finding: Finding | None = None

    def begin(self, decision: Decision, finding: Finding, *, reason: str = "") -> None:
        """Ask for what a ruling on a finding needs."""
        self._decision, self._finding = decision, finding
        voice = Voice()
        penalty = finding.penalty
        asked = voice.word("none") if penalty is None else voice.say(penalty.says)
        words = {
            Decision.APPLY: f"Confirm what the rules ask for ({asked}). Why?",
            Decision.WAIVE: "Waive: no penalty. Why?",
            Decision.SET: f"Set another penalty (the rules ask for {asked}).",
        }[decision]
        self.told.setText(
            f"{told.finding_title(voice, finding)}, pilot {finding.pilot}: {words}"
        )
        self._clear(reason)
        setting = decision is Decision.SET or (
            decision is Decision.APPLY and finding.penalty is None
        )
        if setting:
            self._decision = Decision.SET
        for widget in (self.amount, self.unit):
            widget.setVisible(setting)
        for widget in (self.task, self.pilot):
            widget.setVisible(False)
        self.show()
        (self.amount if setting else self.reason).setFocus()

    def begin_impose(self, tasks: list[int], task: int | None) -> None:
        """Ask for what an imposed penalty needs."""
        self._decision, self._finding = Decision.IMPOSE, None
        self.told.setText("Add a penalty for something that no log shows.")
        options: list[tuple[str, object]] = [(f"task {n}", n) for n in tasks]
        options.append(("the event as a whole", WHOLE_EVENT))
        refill(self.task, options)
        if task is not None:
            choose(self.task, task)
        self._clear("")
        for widget in (self.task, self.pilot, self.amount, self.unit):
            widget.setVisible(True)
        self.show()
        self.pilot.setFocus()

    def _clear(self, reason: str) -> None:
        for box in (self.pilot, self.amount, self.rule):
            box.clear()
        choose(self.unit, str(PenaltyUnit.TASK_POINTS))
        self.reason.setText(reason)
        say(self.fault, HINT, "muted")

    def _on_unit(self) -> None:
        counted = str(self.unit.currentData()) in COUNTED
        self.amount.setEnabled(counted)
        if not counted:
            self.amount.clear()

    def submit(self) -> None:
        """Hand the ruling over, if it is whole."""
        unit = str(self.unit.currentData())
        setting = self._decision in {Decision.SET, Decision.IMPOSE}
        amount = self.amount.text().strip().replace(",", ".")
        fault = self._fault(unit, amount) if setting else ""
        say(self.fault, fault or HINT, "bad" if fault else "muted")
        if fault:
            return
        finding = self._finding
        pilot = self.pilot.text().strip()
        task = self.task.currentData()
        imposed = task if isinstance(task, int) else None
        self.submitted.emit(
            Wanted(
                decision=self._decision,
                finding=finding.id if finding else "",
                seen=finding.ruled_on if finding else None,
                task=finding.task if finding else imposed,
                pilot=finding.pilot if finding else int(pilot),
                amount=amount if setting else "",
                unit=unit if setting else "",
                rule=self.rule.text().strip(),
                reason=self.reason.text().strip(),
            )
        )

    def _fault(self, unit: str, amount: str) -> str:
        whole = amount.isascii() and amount.isdigit()
        if unit in COUNTED and not (
            whole or (unit == PenaltyUnit.METRES and _number(amount))
        ):
            self.amount.setFocus()
            return f"amount: how many {unit}, a number from 0 up"
        pilot = self.pilot.text().strip()
        if self._finding is None and not (pilot.isascii() and pilot.isdigit()):
            self.pilot.setFocus()
            return "pilot: the number of a pilot"
        whole_event = self._finding is None and self.task.currentData() == WHOLE_EVENT
        if whole_event and unit != PenaltyUnit.EVENT_POINTS:
            self.unit.setFocus()
            return "unit: on the event as a whole only competition points can be added"
        return ""


def _number(text: str) -> bool:
    try:
        return float(text) >= 0
    except ValueError:
        return False
