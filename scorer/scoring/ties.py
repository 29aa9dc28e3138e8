"""Equal results of a task, parted by what the rules name: the earlier drop."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from scorer.facts import Fact, Step, fact, moment, number, pilot, several
from scorer.rounding import Rounded, whole
from scorer.scoring.results import MarkResult, TaskResult
from scorer.tasks.points import LANDING_MARK, LAUNCH_MARK

NO_DROPS = frozenset({LAUNCH_MARK, LANDING_MARK})
"""Roles of marks that are no markers thrown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """What parts a pilot's result from equal ones."""

    drop_s: int
    """When the first marker fell, POSIX seconds; 0 = nothing parts them."""
    step: Step


def first_drop(marks: Sequence[MarkResult]) -> int | None:
    """Return the second in which the first of a pilot's markers fell; None = unknown."""
    times = [
        mark.time_s
        for mark in marks
        if mark.mark not in NO_DROPS and mark.time_s is not None
    ]
    return whole(min(times)) if times else None


def part(
    results: Mapping[int, Fraction], marks: Mapping[int, Sequence[MarkResult]]
) -> dict[int, Tie]:
    """Part equal results by the earlier drop, where the times of all of them are known."""
    found = {}
    for tied in _equal(results).values():
        if len(tied) > 1:
            drops = {own: first_drop(marks[own]) for own in tied}
            found.update({own: _tie(own, drops) for own in tied})
    return found


def _tie(own: int, drops: Mapping[int, int | None]) -> Tie:
    others = several(pilot(other) for other in drops if other != own)
    at = drops[own]
    unknown = [other for other, drop in drops.items() if drop is None]
    if at is None or unknown:
        known = several(map(pilot, unknown))
        step = fact("tie-stays", others=others, unknown=known)
        return Tie(drop_s=0, step=step)
    return Tie(drop_s=at, step=fact("tie-parted", others=others, at=moment(at)))


def rounded_alike(
    results: Mapping[int, Fraction], read: Mapping[int, Fraction], decimals: int
) -> dict[int, Step]:
    """Tell of results that people read differently why they are equal: by rounding.

    `results` are as ranked, in metres with so many decimals; `read` as people read them.
    """
    found = {}
    for result, tied in _equal(results).items():
        if len({read[number] for number in tied}) < 2:
            continue
        each = number(Rounded(result, decimals))
        for own in tied:
            others = several(pilot(other) for other in tied if other != own)
            found[own] = fact("tie-rounded", others=others, metres=each)
    return found


def _equal(results: Mapping[int, Fraction]) -> Mapping[Fraction, Sequence[int]]:
    """Return who has each result."""
    equal = defaultdict(list)
    for own, result in results.items():
        equal[result].append(own)
    return equal


def left_tied(task: TaskResult) -> Iterator[tuple[tuple[int, ...], Fact]]:
    """Yield pilots whose place is shared for want of a time, and what says so."""
    if task.points.parted_by != "earlier-drop":
        return
    equal = defaultdict(list)
    for score in task.scores:
        if score.result is not None and not score.parted:
            equal[score.field, score.rank].append(score)
    for tied in equal.values():
        if len(tied) > 1:
            unknown = [s.pilot for s in tied if first_drop(s.marks) is None]
            numbers = tuple(s.pilot for s in tied)
            yield (
                numbers,
                fact(
                    "tie-not-parted",
                    pilots=several(map(pilot, numbers)),
                    unknown=several(map(pilot, unknown)),
                ),
            )
