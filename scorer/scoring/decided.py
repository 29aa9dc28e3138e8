"""Scores that people decided: set by a jury, or the mean of a pilot's other tasks.

They come after everything else of a task, as a charge that makes up the difference, so
that the sum of a score can still be followed and worked out again.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from scorer.event.finding import Amount
from scorer.event.model import Decision, Event, PenaltyUnit, Ruling
from scorer.facts import fact, inner, points
from scorer.rounding import whole
from scorer.scoring.assemble import decided
from scorer.scoring.penalties import cited
from scorer.scoring.results import Charge, RulingState, Score, TaskResult

SETTING = (Decision.SCORE, Decision.AVERAGE)
Key = tuple[int, int]
"""Task and pilot."""


def with_decisions(tasks: Sequence[TaskResult], event: Event) -> tuple[TaskResult, ...]:
    """Put scores in that officials set; of several on one score the last counts."""
    rulings = {
        (ruling.task, ruling.pilot): ruling
        for flight in event.flights
        for ruling in flight.rulings
        if ruling.decision in SETTING and ruling.task is not None
    }
    if not rulings:
        return tuple(tasks)
    by_amount = {k: r for k, r in rulings.items() if r.decision is Decision.SCORE}
    first = tuple(_with(task, by_amount, event, {}) for task in tasks)
    means = _means(first, {k for k in rulings if k not in by_amount})
    rest = {k: r for k, r in rulings.items() if k in means}
    return tuple(_with(task, rest, event, means) for task in first)


def _means(tasks: Iterable[TaskResult], wanted: set[Key]) -> dict[Key, int]:
    """Return the means, half up, of the pilot's scores in the other flown tasks."""
    scores: dict[int, dict[int, int]] = {}
    for task in tasks:
        if task.state == "flown":
            for own in task.scores:
                scores.setdefault(own.pilot, {})[task.task] = own.score
    found = {}
    for task_number, pilot in wanted:
        others = [
            score
            for number, score in scores.get(pilot, {}).items()
            if (number, pilot) not in wanted
        ]
        if others:
            found[task_number, pilot] = whole(Fraction(sum(others), len(others)))
    return found


def _with(
    task: TaskResult,
    rulings: Mapping[Key, Ruling],
    event: Event,
    means: Mapping[Key, int],
) -> TaskResult:
    if task.state != "flown" or not any(number == task.task for number, _ in rulings):
        return task

    def scored(own: Score) -> Score:
        ruling = rulings.get((task.task, own.pilot))
        if ruling is None:
            return own
        amount = means.get((task.task, own.pilot), int(ruling.amount or 0))
        return _set(own, amount, ruling, event)

    return replace(task, scores=tuple(map(scored, task.scores)))


def _set(own: Score, wanted: int, ruling: Ruling, event: Event) -> Score:
    """Return a score as it was set, with the charge that makes up the difference."""
    off = own.formula_points - own.task_penalty - wanted
    charge = Charge(
        finding="",
        amount=Amount(amount=float(off), unit=PenaltyUnit.TASK_POINTS),
        counts=True,
        ruling=RulingState(ruling.decision),
        rule=cited(ruling.rule, event.book) if ruling.rule else None,
        reason=ruling.reason,
        by=ruling.by,
        at=ruling.at,
    )
    how = decided(str(ruling.decision), ruling.by, ruling.at, ruling.reason)
    step = fact("step-score-set", points=points(wanted), ruling=inner(how))
    return replace(
        own,
        charges=(*own.charges, charge),
        task_penalty=own.task_penalty + off,
        score=wanted,
        after=(*own.after, step),
    )
