"""From measurements and ruled findings to the scores of one task."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from scorer.event.model import PenaltyUnit, Task, TaskState
from scorer.event.rulebook import RuleBook
from scorer.rounding import half_up, whole
from scorer.scoring.confidence import sureness
from scorer.scoring.penalties import first, show, total
from scorer.scoring.points import Pointed, award
from scorer.scoring.results import (
    Charge,
    Group,
    MarkResult,
    RulingState,
    Score,
    TaskResult,
)
from scorer.scoring.words import UNIT_NAMES
from scorer.tasks.base import Kind, Measured


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """All that bears on one pilot's score in one task."""

    pilot: int
    flew: bool
    measured: Measured
    settled: bool
    findings: tuple[str, ...]
    charges: tuple[Charge, ...]
    marks: tuple[MarkResult, ...]
    steps: tuple[str, ...] = ()
    """Steps before the measurement: keyings and how they agree."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """An entry with its group and its result."""

    entry: Entry
    group: Group
    result: Fraction | None
    metres: float
    why: str
    steps: tuple[str, ...]


def assemble(
    task: Task, kind: Kind, book: RuleBook, entries: Sequence[Entry]
) -> TaskResult:
    """Put entries into groups, rank them, award points and take penalties off."""
    greatest = kind.best == "greatest"
    cancelled = task.state is TaskState.CANCELLED
    placed = [_place(entry, kind, book) for entry in entries]
    results = {
        p.entry.pilot: p.result
        for p in placed
        if p.group is Group.A and p.result is not None
    }
    without = [p.entry.pilot for p in placed if p.group is Group.B]
    formula, pointed = award(
        results, without, len(entries), book.points, greatest=greatest
    )
    scores = [_score(p, pointed, cancelled=cancelled) for p in placed]
    ordered = sorted(scores, key=lambda s: (s.rank, s.pilot))
    ranged, remeasure = _with_confidence(ordered, greatest=greatest)
    return TaskResult(
        flight=task.flight,
        task=task.number,
        kind=str(task.kind),
        unit=kind.unit,
        best=kind.best,
        state=str(task.state),
        formula=formula,
        scores=tuple(ranged),
        remeasure=remeasure,
        points=book.points,
        decimals=decimals_of(kind, book),
    )


def decimals_of(kind: Kind, book: RuleBook) -> int:
    """Return the decimals a kind's result carries."""
    return book.results.angle_decimals if kind.unit == "deg" else book.results.decimals


def _place(entry: Entry, kind: Kind, book: RuleBook) -> _Placed:
    steps = [*entry.steps, *entry.measured.steps]
    metres = total(entry.charges, PenaltyUnit.METRES)
    out = first(entry.charges, PenaltyUnit.DISQUALIFIED)
    struck = first(entry.charges, PenaltyUnit.NO_RESULT)
    result = None
    if not entry.flew:
        group, why = Group.C, entry.measured.reason or "did not fly"
    elif out is not None:
        group, why = Group.C, f"disqualified: {_because(out)}"
    elif struck is not None:
        group, why = Group.B, f"no result: {_because(struck)}"
    elif entry.measured.value is None:
        group, why = Group.B, entry.measured.reason or "no result"
    else:
        group, why = Group.A, ""
        result = _result(entry.measured.value, metres, kind, book, steps)
    if why:
        steps.append(f"group {group}: {why}")
    return _Placed(
        entry=entry,
        group=group,
        result=result,
        metres=metres,
        why=why,
        steps=tuple(steps),
    )


def _because(charge: Charge) -> str:
    parts = [charge.finding or charge.rule or "imposed", charge.reason]
    if charge.ruling is RulingState.UNRULED:
        return f"{parts[0]}, provisionally: no ruling yet"
    ruled = f"ruling: {charge.ruling}" + (f" by {charge.by}" if charge.by else "")
    return ", ".join(p for p in (*parts, ruled) if p)


def _result(
    value: float, metres: float, kind: Kind, book: RuleBook, steps: list[str]
) -> Fraction:
    """Put metre penalties in the losing way and round once, half up."""
    scale = {"m": 1.0, "km": 0.001}.get(kind.unit)
    decimals = decimals_of(kind, book)
    unit = UNIT_NAMES[kind.unit]
    if metres and scale is None:
        steps.append(f"{metres:g} m penalty cannot enter a result in {unit}: left out")
    shift = metres * (scale or 0.0)
    changed = value - shift if kind.best == "greatest" else value + shift
    result = half_up(max(changed, 0.0), decimals)
    sign = "−" if kind.best == "greatest" else "+"
    put_in = f" {sign} {shift:g} {unit} penalty" if shift else ""
    steps.append(
        f"result: {half_up(value, decimals + 2)}{put_in} = {result} {unit}, "
        f"rounded half up to {decimals} decimals"
    )
    return Fraction(result)


def _score(
    placed: _Placed, pointed: Mapping[int, Pointed], *, cancelled: bool
) -> Score:
    entry = placed.entry
    own = pointed.get(entry.pilot)
    rank = own.rank if own else _last_rank(pointed)
    points = own.points if own else 0
    task_penalty = whole(total(entry.charges, PenaltyUnit.TASK_POINTS))
    event_penalty = whole(total(entry.charges, PenaltyUnit.EVENT_POINTS))
    score = max(0, points - task_penalty)
    how = own.how if own else "group C, did not fly or is disqualified: 0"
    steps = [*placed.steps, how]
    steps += _penalty_steps(entry.charges, points, task_penalty, score, event_penalty)
    if cancelled:
        points = task_penalty = event_penalty = score = 0
        steps.append("the task is cancelled: it does not count")
    return Score(
        pilot=entry.pilot,
        group=placed.group,
        measured=entry.measured.value if placed.group is Group.A else None,
        sigma=entry.measured.sigma if placed.group is Group.A else None,
        result=None if placed.result is None else float(placed.result),
        rank=rank,
        formula_points=points,
        task_penalty=task_penalty,
        event_penalty=event_penalty,
        score=score,
        settled=entry.settled,
        findings=entry.findings,
        charges=entry.charges,
        metres_penalty=placed.metres,
        marks=entry.marks,
        why=placed.why,
        how=how,
        steps=tuple(steps),
    )


def _last_rank(pointed: Mapping[int, Pointed]) -> int:
    """Rank that group C shares: behind all of A and B."""
    return len(pointed) + 1


def _penalty_steps(
    charges: Sequence[Charge], points: int, task: int, score: int, event: int
) -> list[str]:
    steps = [_charge_step(charge) for charge in charges]
    if task:
        floor = ", not under 0" if points - task < 0 else ""
        steps.append(f"score: {points} − {task} = {score}{floor}")
    else:
        steps.append(f"score: {score}")
    if event:
        steps.append(f"{event} event points come off the total")
    return steps


def _charge_step(charge: Charge) -> str:
    what = f"penalty {show(charge.amount)}"
    why = f" for {charge.finding}" if charge.finding else " imposed"
    state = f"ruling: {charge.ruling}"
    by = "".join(
        f", {label}{value}"
        for label, value in (
            ("by ", charge.by),
            ("at ", charge.at),
            ("reason: ", charge.reason),
            ("rule: ", charge.rule),
        )
        if value
    )
    counts = "" if charge.counts else "; does not count"
    asked = charge.sum if charge.ruling is not RulingState.SET else ""
    figures = f": {asked}" if " = " in asked else ""
    return f"{what}{why}{figures} ({state}{by}){counts}"


def _with_confidence(
    scores: Sequence[Score], *, greatest: bool
) -> tuple[list[Score], tuple[tuple[int, int, float], ...]]:
    ranked = [s for s in scores if s.group is Group.A]
    values = np.array([s.result for s in ranked], dtype=float)
    sigmas = np.array([s.sigma or 0.0 for s in ranked], dtype=float)
    sure = sureness(values, sigmas, greatest=greatest)
    with_range = [
        replace(s, rank_low=int(low), rank_high=int(high))
        for s, low, high in zip(ranked, sure.low, sure.high, strict=True)
    ]
    rest = [s for s in scores if s.group is not Group.A]
    swaps = tuple((ranked[a].pilot, ranked[b].pilot, p) for a, b, p in sure.swaps)
    return with_range + rest, swaps
