"""Amounts of decisions that look like slips: ten times another, or as much as a whole task.

The amount stands and counts; people are asked once.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from statistics import median

from scorer.event import matters
from scorer.event.entries import folded
from scorer.event.finding import Amount
from scorer.event.matter import Matter
from scorer.event.model import Decision, Event, PenaltyUnit, Ruling
from scorer.facts import Fact, fact, inner, words
from scorer.scoring.results import RuledFinding

TIMES = (10.0, 100.0)
NEAR = 0.005
"""A digit too many or too few, and no more than rounding beside."""
WHOLE_TASK = 1000.0
"""Points of the winner of a task (published model event rules)."""
_AMOUNTS = frozenset({Decision.SET, Decision.IMPOSE, Decision.BONUS})
_POINTS = frozenset({PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS})


def off_by_a_digit(one: float, other: float) -> bool:
    """Tell whether of two amounts one is ten or a hundred times the other."""
    small, great = sorted((abs(one), abs(other)))
    return small > 0.0 and any(abs(great / small / n - 1.0) < NEAR for n in TIMES)


def beside_proposal(ruled: RuledFinding) -> Iterator[Matter]:
    """Ask about an amount set ten times as great or small as the rules propose."""
    ruling, finding = ruled.ruling, ruled.finding
    if ruling is None or ruling.decision is not Decision.SET:
        return
    for amount in (finding.penalty, *finding.also):
        if amount is None or amount.unit is not ruling.unit:
            continue
        if off_by_a_digit(amount.amount, ruling.amount or 0.0):
            other = fact("amount-proposed", amount=inner(amount.says))
            yield _asked(ruling, finding.flight, other)
            return


def unusual(event: Event) -> Iterator[Matter]:
    """Ask about amounts ten times those of like decisions, or of all points of a task.

    Like decisions are of one sort and unit for one rule, or for one reason.
    """
    every = [(f.id, r) for f in event.flights for r in f.rulings]
    alike: dict[object, list[Ruling]] = defaultdict(list)
    for _, ruling in every:
        if ruling.decision in _AMOUNTS and ruling.amount:
            alike[_sort(ruling)].append(ruling)
    for flight, ruling in every:
        if ruling.decision not in _AMOUNTS or not ruling.amount:
            continue
        others = [r for r in alike[_sort(ruling)] if r is not ruling]
        usual = median(r.amount or 0.0 for r in others) if others else 0.0
        if off_by_a_digit(usual, ruling.amount) and _rarer(ruling, others):
            like = min(others, key=lambda r: abs((r.amount or 0.0) - usual))
            amount = inner(_amount(like).says)
            yield _asked(ruling, flight, fact("amount-usual", amount=amount))
        elif _takes_all(ruling):
            yield _asked(ruling, flight, fact("amount-of-all"))


def _rarer(ruling: Ruling, others: Sequence[Ruling]) -> bool:
    """Of two amounts that stand against each other the greater one is asked about."""
    return len(others) > 1 or (ruling.amount or 0.0) > (others[0].amount or 0.0)


def _sort(ruling: Ruling) -> tuple[object, ...]:
    why = folded(ruling.rule) or folded(ruling.reason)
    return ruling.decision, ruling.unit, why


def _takes_all(ruling: Ruling) -> bool:
    taken = ruling.decision is not Decision.BONUS and ruling.unit in _POINTS
    return taken and (ruling.amount or 0.0) >= WHOLE_TASK


def _amount(ruling: Ruling) -> Amount:
    assert ruling.unit is not None
    return Amount(amount=ruling.amount or 0.0, unit=ruling.unit)


def _asked(ruling: Ruling, flight: str, beside: Fact) -> Matter:
    return Matter(
        kind=matters.RULING,
        flight=flight,
        task=ruling.task,
        pilots=(ruling.pilot,),
        says=fact(
            "amount-unusual",
            amount=inner(_amount(ruling).says),
            who=words(ruling.by or "?"),
            beside=inner(beside),
        ),
    )
