"""What officials decide for one pilot, as the desk asks for it: drafts and the sentence."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from gui.models.decision import Deciding, draft_of, now_of, plain
from gui.snapshot import Snapshot
from scorer.errors import ScorerError
from scorer.event.model import Decision, Event, PenaltyUnit, Units
from scorer.event.task_kinds import TASK_KINDS
from scorer.facts import (
    Fact,
    Value,
    length,
    number,
    pilot,
    points,
    task,
    term,
)
from scorer.ledger.api import Draft, Ledger
from scorer.ledger.corrections import enter
from scorer.scoring.results import RuledFinding
from scorer.units import Unreadable, length_m
from scorer.words.voice import Voice

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
class AskedDecision:
    """One decision as it is being made."""

    pilot: int
    task: int
    decision: Decision
    amount: float | None = None
    """Points, or metres or the task's unit of a result; None = it has none."""
    ruled: RuledFinding | None = None
    """Infringement it is about, where it is about one."""


def read_amount(event: Event, asked: AskedDecision, text: str) -> AskedDecision:
    """Return a decision with the amount typed; raise ScorerError where there is none."""
    if asked.decision not in WITH_AMOUNT:
        return asked
    if asked.decision is Decision.RESULT and _is_length(event, asked.task):
        bare = "ft" if event.units is Units.IMPERIAL else "m"
        try:
            metres = float(length_m(text, bare))
        except Unreadable as fault:
            raise ScorerError(fault.allowed) from None
        return replace(asked, amount=metres)
    try:
        amount = float(text.strip())
    except ValueError:
        raise ScorerError("a whole number, such as 20") from None
    if amount < 0 or (asked.decision is not Decision.RESULT and amount % 1):
        raise ScorerError("a whole number from 0 up, such as 20")
    return replace(asked, amount=amount)


def _is_length(event: Event, number_: int) -> bool:
    own = next((t for t in event.tasks if t.number == number_), None)
    return own is not None and TASK_KINDS[own.kind].unit in {"m", "km"}


def decision_says(event: Event, asked: AskedDecision) -> Fact:
    """State what will be recorded."""
    values: list[tuple[str, Value]] = [
        ("pilot", pilot(asked.pilot)),
        ("task", task(asked.task)),
    ]
    if asked.amount is not None:
        values.append(("amount", _amount(event, asked)))
    if asked.ruled is not None:
        values.append(("what", term(f"finding-{asked.ruled.finding.kind}")))
    return Fact(f"decide-{asked.decision}", tuple(values))


def _amount(event: Event, asked: AskedDecision) -> Value:
    amount = asked.amount or 0.0
    if asked.decision is not Decision.RESULT:
        return points(amount)
    return length(amount) if _is_length(event, asked.task) else number(amount)


def decision_drafts(
    snapshot: Snapshot, ledger: Ledger, asked: AskedDecision, *, why: str, by: str
) -> Sequence[Draft]:
    """Return the entries that record a decision; raise ScorerError where none fits.

    On an infringement it is the entry that Infringements makes.
    """
    if not why.strip():
        raise ScorerError(Voice().word("say-why-first"))
    if asked.ruled is not None:
        decided = Deciding(ruled=asked.ruled, decision=asked.decision, why=why)
        return (draft_of(decided, snapshot, ledger, by),)
    cells: Mapping[str, str] = {
        "task": str(asked.task),
        "pilot": str(asked.pilot),
        "decision": str(asked.decision),
        "amount": "" if asked.amount is None else plain(asked.amount),
        "unit": _unit(snapshot.event, asked),
        "reason": why.strip(),
        "by": by,
        "at": now_of(snapshot, ledger),
    }
    given = {name: text for name, text in cells.items() if text}
    return enter(snapshot.state, "rulings", given, why.strip())


def _unit(event: Event, asked: AskedDecision) -> str:
    match asked.decision:
        case Decision.BONUS | Decision.SCORE | Decision.IMPOSE:
            return str(PenaltyUnit.TASK_POINTS)
        case Decision.RESULT if _is_length(event, asked.task):
            return str(PenaltyUnit.METRES)
    return ""
