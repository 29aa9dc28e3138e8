"""Equal results of a task, parted by what the rules name: the earlier drop."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from scorer.facts import Fact, Step, fact, moment, pilot, several
from scorer.rounding import whole
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
    equal = defaultdict(list)
    for number, result in results.items():
        equal[result].append(number)
    found = {}
    for tied in equal.values():
        if len(tied) > 1:
            drops = {number: first_drop(marks[number]) for number in tied}
            found.update({number: _tie(number, drops) for number in tied})
    return found


def _tie(own: int, drops: Mapping[int, int | None]) -> Tie:
    others = several(pilot(number) for number in drops if number != own)
    at = drops[own]
    unknown = [number for number, drop in drops.items() if drop is None]
    if at is None or unknown:
        known = several(map(pilot, unknown))
        step = fact("tie-stays", others=others, unknown=known)
        return Tie(drop_s=0, step=step)
    return Tie(drop_s=at, step=fact("tie-parted", others=others, at=moment(at)))


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
