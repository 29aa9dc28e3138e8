"""From measurements and ruled findings to the scores of one task."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

import numpy as np

from scorer.event.model import PenaltyUnit, Task, TaskState, Units
from scorer.event.rulebook import RuleBook
from scorer.event.task_kinds import TaskKind, measure_of
from scorer.facts import (
    Fact,
    Step,
    Value,
    fact,
    inner,
    length,
    listed,
    points,
    term,
    words,
)
from scorer.rounding import Exact, Rounded, digits, exact, to_step, whole
from scorer.scoring.confidence import sureness
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.penalties import first, total
from scorer.scoring.points import Pointed, award, formula_of
from scorer.scoring.results import (
    Charge,
    Field,
    Group,
    Guest,
    MarkResult,
    RulingState,
    Score,
    TaskResult,
)
from scorer.scoring.ties import Tie, part, rounded_alike
from scorer.tasks.base import Measured


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreBasis:
    """All that bears on one pilot's score in one task."""

    pilot: int
    flew: bool
    measured: Measured
    settled: bool
    findings: tuple[str, ...]
    charges: tuple[Charge, ...]
    marks: tuple[MarkResult, ...]
    steps: tuple[Step, ...] = ()
    """Steps before the measurement: keyings and how they agree."""
    field: str = ""
    """Class, where classes are scored by themselves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """An entry with its group and its result."""

    entry: ScoreBasis
    group: Group
    result: Fraction | None
    shown: Fraction | None
    """The result as people read it,"""
    read: Value | None
    """and with what it counts and its decimals."""
    metres: float
    why: Fact | None
    steps: tuple[Step, ...]


def assemble(
    task: Task,
    kind: TaskKind,
    book: RuleBook,
    entries: Sequence[ScoreBasis],
    units: Units = Units.METRIC,
    *,
    keep: Keep = NOTHING_KEPT,
) -> TaskResult:
    """Put entries into groups, rank them, award points and take penalties off."""
    greatest = kind.best == "greatest"
    rounding = rounding_of(kind, book, units)
    given = keep.key("rounding", *rounding)

    def place(entry: ScoreBasis) -> _Placed:
        where = "placed", task.number, entry.pilot
        parts = (entry, kind, given)
        return keep.same(where, parts, lambda: _place(entry, kind, rounding))

    placed = [place(entry) for entry in entries]
    fields = [
        _Ranked.of(
            name,
            _told_alike([p for p in placed if p.entry.field == name], rounding),
            task,
            kind,
            book,
            keep=keep,
        )
        for name in sorted({entry.field for entry in entries})
    ]
    results = {p.entry.pilot: p.result for p in placed if p.result is not None}
    return TaskResult(
        flight=task.flight,
        task=task.number,
        kind=str(task.kind),
        unit=kind.unit,
        best=kind.best,
        state=str(task.state),
        formula=formula_of(results, len(entries), book.points, greatest=greatest),
        scores=tuple(score for own in fields for score in own.scores),
        remeasure=tuple(pair for own in fields for pair in own.remeasure),
        points=book.points,
        decimals=decimals_of(kind, book),
        counts=book.keying.counts,
        step=rounding.step,
        step_unit=rounding.unit,
        fields=tuple(own.field for own in fields if own.field.name),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ranked:
    """Scores of those who are ranked among themselves."""

    field: Field
    scores: tuple[Score, ...]
    remeasure: tuple[tuple[int, int, float], ...]

    @classmethod
    def of(
        cls,
        name: str,
        placed: Sequence[_Placed],
        task: Task,
        kind: TaskKind,
        book: RuleBook,
        *,
        keep: Keep,
    ) -> "_Ranked":
        """Rank, award points and take penalties off."""
        greatest = kind.best == "greatest"
        results = {p.entry.pilot: p.result for p in placed if p.result is not None}
        ties = _ties(placed, results, book)
        formula, pointed = award(
            results,
            [p.entry.pilot for p in placed if p.group is Group.B],
            len(placed),
            book.points,
            greatest=greatest,
            read={p.entry.pilot: p.read for p in placed if p.read is not None},
            parted={number: tie.drop_s for number, tie in ties.items()},
            keep=keep,
            place=(task.number, name),
        )
        cancelled, last = task.state is TaskState.CANCELLED, len(pointed) + 1

        def score(own: _Placed) -> Score:
            pilot = own.entry.pilot
            points, tie = pointed.get(pilot), ties.get(pilot)
            parts = (own, points, last, tie, cancelled)
            return keep.same(
                ("score", task.number, pilot),
                parts,
                lambda: _score(own, points, last, tie, cancelled=cancelled),
            )

        scores = [score(p) for p in placed]
        ordered = sorted(scores, key=lambda s: (s.rank, s.pilot))
        measured = {p.entry.pilot: p.entry.measured for p in placed}
        ranged, remeasure = _with_confidence(
            task.number, ordered, measured, keep, greatest=greatest
        )
        field = Field(name=name, formula=formula)
        return cls(field=field, scores=tuple(ranged), remeasure=remeasure)


def _ties(
    placed: Sequence[_Placed], results: Mapping[int, Fraction], book: RuleBook
) -> dict[int, Tie]:
    if book.points.parted_by == "nothing":
        return {}
    return part(results, {p.entry.pilot: p.entry.marks for p in placed})


class Rounding(NamedTuple):
    """How results of a task are rounded."""

    step: Fraction
    """They are multiples of it, in the kind's unit."""
    unit: str
    """People count it in: the kind's unit, or `in`."""
    as_taped: bool
    """People read them in feet and inches all the same, so as they were taped."""


def rounding_of(
    kind: TaskKind, book: RuleBook, units: Units = Units.METRIC
) -> Rounding:
    """Return how a kind's results are rounded in an event of these units."""
    imperial = kind.unit == "m" and units is Units.IMPERIAL
    if imperial and book.results.step_m is not None:
        return Rounding(exact(book.results.step_m), "in", as_taped=False)
    decimals = decimals_of(kind, book)
    as_taped = imperial and not kind.race and decimals > 0
    return Rounding(Fraction(1, 10**decimals), kind.unit, as_taped)


def planned(task: Task, kind: TaskKind, book: RuleBook) -> TaskResult:
    """Return the result of a task that is not flown yet: no ranks and no points."""
    result = assemble(task, kind, book, ())
    return replace(result, state=str(TaskState.PLANNED))


def unranked(
    kind: TaskKind, entries: Sequence[ScoreBasis], ranked: TaskResult
) -> tuple[Guest, ...]:
    """Return what guests came to, who are in no rank and take no points."""
    rounding = Rounding(ranked.step, ranked.step_unit, as_taped=False)
    placed = (_place(entry, kind, rounding) for entry in entries)
    return tuple(
        Guest(
            pilot=own.entry.pilot,
            result=None if own.result is None else Exact(own.result),
            why=own.why,
            field=own.entry.field,
        )
        for own in placed
    )


def decimals_of(kind: TaskKind, book: RuleBook) -> int:
    """Return the decimals a kind's result carries."""
    decimals: int = getattr(book.results, decimals_rule(kind.unit))
    return decimals


def decimals_rule(unit: str) -> str:
    """Return the rule of `results` that says the decimals of results in a unit."""
    return {"deg": "angle_decimals", "s": "time_decimals"}.get(unit, "decimals")


def _place(entry: ScoreBasis, kind: TaskKind, rounding: Rounding) -> _Placed:
    steps = [*entry.steps, *entry.measured.steps]
    metres = total(entry.charges, PenaltyUnit.METRES)
    out = first(entry.charges, PenaltyUnit.DISQUALIFIED)
    struck = first(entry.charges, PenaltyUnit.NO_RESULT)
    result, shown, read, why = None, None, None, None
    if not entry.flew:
        group, why = Group.C, entry.measured.reason or fact("did-not-fly")
    elif out is not None:
        group, why = Group.C, _because("disqualified-because", out)
    elif struck is not None:
        group, why = Group.B, _because("no-result-because", struck)
    elif entry.measured.value is None:
        group, why = Group.B, entry.measured.reason or fact("amount-no-result")
    else:
        group = Group.A
        value = entry.measured.value
        result, shown = _result(value, metres, kind, rounding, steps)
        read = _read(shown, kind, rounding)
    if why is not None:
        steps.append(fact(f"step-group-{group.casefold()}", why=inner(why)))
    return _Placed(
        entry=entry,
        group=group,
        result=result,
        shown=shown,
        read=read,
        metres=metres,
        why=why,
        steps=tuple(steps),
    )


def _read(shown: Fraction, kind: TaskKind, rounding: Rounding) -> Value:
    """Return a result as people read it: with the decimals that it was rounded to."""
    measure = measure_of(kind.unit, kind.code)
    places = None if rounding.as_taped else digits(rounding.step)
    if places is None or rounding.unit == "in":
        return Value(measure, shown)
    return Value(measure, Rounded(shown, places))


def _because(kind: str, charge: Charge) -> Fact:
    """State which breach or decision took a result."""
    cause = fact("penalty-imposed")
    if charge.finding:
        cause = fact("by-infringement", what=term(f"finding-{charge.kind}"))
    return fact(kind, cause=inner(cause), ruling=inner(ruled(charge)))


def ruled(charge: Charge) -> Fact:
    """State what officials made of a charge: who, when and why."""
    return decided(str(charge.ruling), charge.by, charge.at, charge.reason)


def decided(ruling: str, by: str, at: str, why: str) -> Fact:
    """State a decision: what, who, when and why."""
    return fact("ruled", parts=listed((term(f"ruling-{ruling}"), *_given(by, at, why))))


def given(by: str, at: str, why: str) -> Fact:
    """State who made a decision, when and why."""
    return fact("ruled", parts=listed(_given(by, at, why)))


def _given(by: str, at: str, why: str) -> tuple[Fact | None, ...]:
    return (
        fact("by-whom", who=words(by)) if by else None,
        fact("at-when", when=words(at)) if at else None,
        fact("because", why=words(why)) if why else None,
    )


def _result(
    value: float, metres: float, kind: TaskKind, rounding: Rounding, steps: list[Step]
) -> tuple[Fraction, Fraction]:
    """Put metre penalties in the losing way and round once, half up; all of it exact."""
    scale = {"m": Fraction(1), "km": Fraction(1, 1000)}.get(kind.unit)
    measure = measure_of(kind.unit, kind.code)
    if metres and scale is None:
        steps.append(fact("penalty-left-out", penalty=length(metres)))
    shift = exact(metres) * (scale or 0)
    greatest = kind.best == "greatest"
    changed = exact(value) + (-shift if greatest else shift)
    left = max(changed, Fraction(0))
    result = to_step(left, rounding.step)
    shown = left if rounding.as_taped else result
    before, after = Value(measure, value), _read(shown, kind, rounding)
    if not shift:
        steps.append(fact("step-result", measured=before, result=after))
        return result, shown
    kept = "less" if greatest else "more"
    kept = "not-under-0" if changed < 0 else kept
    by = Value(measure, shift)
    steps.append(fact(f"step-result-{kept}", measured=before, penalty=by, result=after))
    return result, shown


def _told_alike(placed: Sequence[_Placed], rounding: Rounding) -> Sequence[_Placed]:
    """Add to those that are equal by rounding alone a step that says so.

    People read a taped result as it was taped, and would find another rank just.
    """
    if not rounding.as_taped:
        return placed
    results = {p.entry.pilot: p.result for p in placed if p.result is not None}
    read = {p.entry.pilot: p.shown for p in placed if p.shown is not None}
    told = rounded_alike(results, read, digits(rounding.step) or 0)
    return [
        replace(p, steps=(*p.steps, told[p.entry.pilot]))
        if p.entry.pilot in told
        else p
        for p in placed
    ]


def _score(
    placed: _Placed, own: Pointed | None, last: int, tie: Tie | None, *, cancelled: bool
) -> Score:
    """Return a pilot's score; `last` is the rank that group C shares, behind A and B."""
    entry = placed.entry
    rank = own.rank if own else last
    awarded = own.points if own else 0
    task_penalty = whole(total(entry.charges, PenaltyUnit.TASK_POINTS))
    event_penalty = whole(total(entry.charges, PenaltyUnit.EVENT_POINTS))
    score = max(0, awarded - task_penalty)
    how = own.how if own else fact("points-did-not-fly")
    after = _penalty_steps(entry.charges, awarded, task_penalty, score, event_penalty)
    if cancelled:
        awarded = task_penalty = event_penalty = score = 0
        after.append(fact("step-cancelled"))
    return Score(
        pilot=entry.pilot,
        group=placed.group,
        measured=entry.measured.value if placed.group is Group.A else None,
        sigma=entry.measured.sigma if placed.group is Group.A else None,
        result=None if placed.result is None else Exact(placed.result),
        rank=rank,
        formula_points=awarded,
        task_penalty=task_penalty,
        event_penalty=event_penalty,
        score=score,
        settled=entry.settled,
        findings=entry.findings,
        charges=entry.charges,
        metres_penalty=placed.metres,
        marks=entry.marks,
        why=placed.why,
        steps=placed.steps if tie is None else (*placed.steps, tie.step),
        how=how,
        after=tuple(after),
        shown=None if placed.shown is None else Exact(placed.shown),
        parted=0 if tie is None else tie.drop_s,
        field=entry.field,
    )


def _penalty_steps(
    charges: Sequence[Charge], own: int, task: int, score: int, event: int
) -> list[Step]:
    steps = [_charge_step(charge) for charge in charges]
    if task < 0:
        given, sum_ = points(-task), points(score)
        steps.append(
            fact("step-score-more", points=points(own), bonus=given, score=sum_)
        )
    elif task:
        kind = "step-score-not-under-0" if own < task else "step-score-less"
        steps.append(
            fact(kind, points=points(own), penalty=points(task), score=points(score))
        )
    else:
        steps.append(fact("step-score", score=points(score)))
    if event:
        kind = "step-competition-points" if event > 0 else "step-competition-bonus"
        steps.append(fact(kind, points=points(abs(event))))
    return steps


def _charge_step(charge: Charge) -> Step:
    figures = charge.figures if charge.ruling is not RulingState.SET else None
    if charge.ruling is RulingState.BONUS:
        given = replace(charge.amount, amount=-charge.amount.amount)
        how = inner(ruled(charge))
        return fact("step-bonus", amount=inner(given.says), ruling=how)
    cause = fact("penalty-imposed")
    if charge.finding:
        cause = fact("for-infringement", what=term(f"finding-{charge.kind}"))
    return fact(
        "step-penalty" if charge.counts else "step-penalty-not-counted",
        amount=inner(figures or charge.amount.says),
        cause=inner(cause),
        ruling=inner(ruled(charge)),
    )


def _with_confidence(
    task: int,
    scores: Sequence[Score],
    measured: Mapping[int, Measured],
    keep: Keep,
    *,
    greatest: bool,
) -> tuple[list[Score], tuple[tuple[int, int, float], ...]]:
    ranked = [s for s in scores if s.group is Group.A]
    values = np.array([s.result for s in ranked], dtype=float)
    sigmas = np.array([s.sigma or 0.0 for s in ranked], dtype=float)
    apart = {
        index: (own.apart, own.value)
        for index, own in enumerate(measured[s.pilot] for s in ranked)
        if own.apart is not None and own.value is not None
    }
    sure = keep.once(
        "sure",
        (values, sigmas, apart, greatest),
        lambda: sureness(values, sigmas, greatest=greatest, apart=apart),
    )

    def ranging(own: Score, low: int, high: int) -> Score:
        return keep.same(
            ("ranged", task, own.pilot),
            (own, low, high),
            lambda: replace(own, rank_low=low, rank_high=high),
        )

    with_range = [*map(ranging, ranked, sure.low.tolist(), sure.high.tolist())]
    rest = [s for s in scores if s.group is not Group.A]
    swaps = tuple((ranked[a].pilot, ranked[b].pilot, p) for a, b, p in sure.swaps)
    return with_range + rest, swaps
