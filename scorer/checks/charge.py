"""From a breach to what the rule book asks for it: the arithmetic of penalties."""

import math
from collections.abc import Iterator

from scorer.event.finding import Amount
from scorer.event.model import PenaltyUnit
from scorer.event.rulebook import Count, Penalties, PenaltyRule
from scorer.facts import (
    Fact,
    Measure,
    Value,
    fact,
    height,
    inner,
    number,
    points,
    several,
    term,
)
from scorer.rounding import exact, half_up, shown, whole

GUARD = 1e-6
"""Share of a unit by which a count may miss a whole number and still be it.

Times of this century are floats to a quarter of a microsecond, so the difference of two
can say 2.0000000040 minutes where two minutes were flown; that is not a third one begun.
"""
GUARD_DECIMALS = 6
"""Amounts are rounded to these before the half is looked at, for the same reason."""
POINTS = frozenset({PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS})
LENGTHS = frozenset({"m", "ft", "km", "mi"})
COUNTED = POINTS | {PenaltyUnit.METRES}


def charge(rules: Penalties, excess: float) -> tuple[Amount, ...]:
    """Return what each penalty of a rule comes to, in the order of the book.

    Parameters
    ----------
    rules : tuple of PenaltyRule
        Several on one act are all charged.
    excess : float
        How far beyond the limit, in the SI unit of the finding (metres or seconds);
        nothing or less counts as 0, which leaves the fixed part.

    Returns
    -------
    tuple of Amount
        Points are whole, rounded half up; metres are not rounded here.  Amounts of `no
        result` and `disqualified` are 0.  A penalty that comes to nothing is left out.
    """
    amounts = (_amount(rule, max(excess, 0.0)) for rule in rules)
    return tuple(a for a in amounts if a.amount > 0 or a.unit not in COUNTED)


def sums(rules: Penalties, excess: float) -> tuple[Fact, ...]:
    """State in figures how each amount of `charge` comes about, in the same order."""
    over = max(excess, 0.0)
    return tuple(describe(rule, over) for rule in rules if charge((rule,), over))


def units_over(rule: PenaltyRule, excess: float) -> float:
    """Count the units a penalty is paid for: exact, begun, or completed ones.

    Exact ones have as many decimals as they are published with, so that whoever reads them
    comes to the same points.
    """
    units = excess / rule.of_si
    if rule.count is Count.STARTED:
        return float(math.ceil(units - GUARD))
    if rule.count is Count.FULL:
        return float(math.floor(units + GUARD))
    return shown(units, GUARD_DECIMALS)


def describe(rule: PenaltyRule, excess: float) -> Fact:
    """State in figures how a penalty comes to its amount."""
    amount = _amount(rule, excess)
    if amount.unit not in COUNTED:
        return amount.says
    parts = list(_parts(rule, excess)) or [fact("penalty-base", amount=number(0))]
    figures = several(map(inner, parts))
    total = inner(amount.says)
    if rule.cap is None:
        return fact("penalty-figures", parts=figures, amount=total)
    return fact(
        "penalty-figures-capped", parts=figures, most=number(rule.cap), amount=total
    )


def _parts(rule: PenaltyRule, excess: float) -> Iterator[Fact]:
    if rule.base:
        yield fact("penalty-base", amount=number(rule.base))
    if rule.per:
        yield fact(
            "penalty-per",
            units=Value(Measure.UNITS, units_over(rule, excess)),
            of=term(f"unit-{rule.of}"),
            read=_read(rule, excess),
            each=points(rule.per),
        )
    if rule.steps:
        yield fact("penalty-step", amount=number(_step(rule, excess)))


def _read(rule: PenaltyRule, excess: float) -> Value:
    """State a length as the event reads it: rules may count in feet where it has metres."""
    return height(excess) if rule.of in LENGTHS else term(f"unit-{rule.of}")


def _amount(rule: PenaltyRule, excess: float) -> Amount:
    unit = PenaltyUnit(rule.unit)
    if unit not in COUNTED:
        return Amount(amount=0.0, unit=unit)
    units = exact(units_over(rule, excess))
    total = exact(rule.base) + exact(rule.per) * units + exact(_step(rule, excess))
    if rule.cap is not None:
        total = min(total, exact(rule.cap))
    steady = half_up(total, GUARD_DECIMALS)
    amount = whole(steady) if unit in POINTS else steady
    return Amount(amount=float(amount), unit=unit)


def _step(rule: PenaltyRule, excess: float) -> float:
    """Return the amount of the highest step reached; a step holds from its excess on."""
    reached = [s for s in rule.steps if excess + GUARD * rule.of_si >= s.over]
    return max(reached, key=lambda s: s.over).amount if reached else 0.0
