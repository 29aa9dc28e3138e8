"""A decision on a pilot that no infringement asks for, while it is being made.

A bonus, a score or a result set, the mean of other scores, a penalty for what no log
shows: Infringements and the page of the pilot make the same one.
"""

from dataclasses import dataclass

from gui.models.amounts import cell_of, read_amount, written
from gui.models.decision import charges, now_of
from gui.snapshot import Snapshot
from scorer.event.finding import Amount
from scorer.event.model import Decision, PenaltyUnit
from scorer.event.task_kinds import TASK_KINDS
from scorer.facts import Fact, Value, fact, inner, length, number, pilot, points, words
from scorer.facts import task as task_value
from scorer.ledger.acts import RulingMade
from scorer.ledger.api import Draft, Ledger
from scorer.units import Unreadable
from scorer.units import number as plain_number

GIVEN = (
    Decision.BONUS,
    Decision.SCORE,
    Decision.RESULT,
    Decision.AVERAGE,
    Decision.IMPOSE,
)
"""What is decided without an infringement, in the order of the keys that take them."""
WITH_AMOUNT = frozenset(GIVEN) - {Decision.AVERAGE}


@dataclass(frozen=True, slots=True, kw_only=True)
class Giving:
    """One such decision; nothing of it is recorded yet."""

    pilot: int | None = None
    task: int | None = None
    """None = the event as a whole."""
    decision: Decision = Decision.IMPOSE
    amount: Amount | float | None = None
    """A bare number is a result that is no length; None = it has none, or not yet."""
    rule: str = ""
    why: str = ""

    def fault(self, snapshot: Snapshot) -> Fact | None:
        """State what is missing or cannot be; None = it can be recorded."""
        if self.pilot is None or snapshot.event.pilot(self.pilot) is None:
            return fact("impose-who")
        if self.decision in WITH_AMOUNT and self.amount is None:
            return fact("decide-amount")
        if self.task is None and self._unit is not PenaltyUnit.EVENT_POINTS:
            return fact("impose-whole-event")
        return None if self.why.strip() else fact("say-why-first")

    @property
    def _unit(self) -> PenaltyUnit | None:
        return self.amount.unit if isinstance(self.amount, Amount) else None

    def what(self) -> Fact | None:
        """State what is given or taken; None as long as pilot or amount lacks."""
        if self.pilot is None or (self.decision in WITH_AMOUNT and self.amount is None):
            return None
        if self.decision is Decision.IMPOSE and isinstance(self.amount, Amount):
            costs = charges(self.pilot, (self.amount,))
            return costs if self.task is None else self._in_task(costs)
        values: list[tuple[str, Value]] = [
            ("pilot", pilot(self.pilot)),
            ("task", task_value(self.task or 0)),
        ]
        if self.amount is not None:
            values.append(("amount", _value(self.amount)))
        return Fact(f"decide-{self.decision}", tuple(values))

    def _in_task(self, costs: Fact) -> Fact:
        what = inner(costs)
        return fact("decide-in-task", what=what, task=task_value(self.task or 0))

    def says(self, snapshot: Snapshot) -> Fact:
        """State what would be recorded, or what is missing."""
        wrong, what = self.fault(snapshot), self.what()
        if wrong is not None or what is None:
            return wrong or fact("impose-who")
        return fact("decide-whole", what=inner(what), why=words(self.why.strip()))

    def draft(self, snapshot: Snapshot, ledger: Ledger, who: str) -> Draft:
        """Make its entry."""
        own = snapshot.task(self.task)
        flight = own.flight if own else snapshot.event.flights[-1].id
        amount = self.amount
        bare = "" if amount is None or isinstance(amount, Amount) else written(amount)
        fields = {
            "task": "" if self.task is None else str(self.task),
            "pilot": str(self.pilot),
            "finding": "",
            "decision": str(self.decision),
            "amount": cell_of(amount) if isinstance(amount, Amount) else bare,
            "unit": str(self._unit or ""),
            "rule": self.rule.strip(),
            "reason": self.why.strip(),
            "by": who,
            "at": now_of(snapshot, ledger),
        }
        given = {name: text for name, text in fields.items() if text}
        return Draft(act=RulingMade(flight=flight, fields=given), why=self.why.strip())


def read_given(
    snapshot: Snapshot, decision: Decision, task: int, text: str
) -> Amount | float | None:
    """Read how much is given in a task; None where it is no amount of the decision."""
    if decision not in WITH_AMOUNT:
        return None
    if decision is not Decision.RESULT:
        return read_amount(text, PenaltyUnit.TASK_POINTS)
    own = snapshot.task(task)
    if own is not None and TASK_KINDS[own.kind].unit in {"m", "km"}:
        return read_amount(text, PenaltyUnit.METRES, snapshot.bare)
    try:
        amount = plain_number(text)
    except Unreadable:
        return None
    return amount if amount >= 0 else None


def _value(amount: Amount | float) -> Value:
    if not isinstance(amount, Amount):
        return number(amount)
    is_length = amount.unit is PenaltyUnit.METRES
    return length(amount.amount) if is_length else points(amount.amount)
