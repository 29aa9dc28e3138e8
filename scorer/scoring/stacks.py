"""Marks of one stack of sheets that are all wrong in one way.

Whoever measures writes the reference, the unit or the end of a bearing once and goes on
by it, so that marks measured from one point stand or fall together.  Where several of
them are doubted and the same was meant by each, they are one matter, and the marks that
nobody doubts by themselves join them if all of them together fit better so.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from scorer.checks.mark_doubts import Weighing
from scorer.checks.mark_track import Doubt
from scorer.event.entries import folded
from scorer.facts import Fact, fact, place, task, term
from scorer.scoring.keyings import Agreed
from scorer.scoring.meant import GuessBasis, meant_by, weighed_by

LEAST_DOUBTED = 2
"""So many marks that were meant alike are one stack."""
SLIPS = {
    "meant-reference": "stack-reference",
    "meant-turned": "stack-turned",
    "meant-unit": "stack-unit",
    "meant-task": "stack-task",
}
"""What all marks of a stack may be wrong in, and what says so."""


class Stack(NamedTuple):
    """What the marks of a stack have in common."""

    task: int
    start: str
    """Place they are measured from."""
    measurer: str


class Slip(NamedTuple):
    """What was meant by all of them: the kind of slip, and the place, task or unit."""

    kind: str
    to: str


def with_stacks(
    weighing: Weighing, hand: GuessBasis, doubts: Iterable[Doubt]
) -> list[Doubt]:
    """Return all doubts, those of one stack told as such, with whom they take along."""
    found = {doubt.mark: doubt for doubt in doubts}
    alike: dict[tuple[Stack, Slip], list[int]] = defaultdict(list)
    for doubt in found.values():
        if doubt.meant is not None and doubt.meant.kind in SLIPS:
            stack = _stack(weighing, hand, doubt.mark)
            alike[stack, _slip(doubt.meant)].append(doubt.mark)
    alike = {key: marks for key, marks in alike.items() if len(marks) >= LEAST_DOUBTED}
    stacks = _stacks(weighing, hand) if alike else {}
    for (stack, slip), marks in alike.items():
        rest = [k for k in stacks[stack] if k not in marks]
        joining = _joining(weighing, hand, rest, slip)
        for k, (odds, meant) in joining.items():
            found[k] = Doubt(k, odds, None, meant)
        says = _named(stack, slip)
        for k in (*marks, *joining):
            found[k] = found[k]._replace(stack=says)
    return [found[k] for k in sorted(found)]


def _stacks(weighing: Weighing, hand: GuessBasis) -> Mapping[Stack, list[int]]:
    stacks: dict[Stack, list[int]] = defaultdict(list)
    for k in range(len(weighing.flight.marks)):
        stacks[_stack(weighing, hand, k)].append(k)
    return stacks


def _stack(weighing: Weighing, hand: GuessBasis, k: int) -> Stack:
    own = _agreed(weighing, hand, k).keying
    target = next(t.target for t in hand.flight.tasks if t.number == own.task)
    return Stack(own.task, own.from_place or target or "", folded(own.measurer))


def _agreed(weighing: Weighing, hand: GuessBasis, k: int) -> Agreed:
    mark = weighing.flight.marks[k]
    return hand.agreed[mark.task][mark.pilot][mark.mark]


def _slip(meant: Fact) -> Slip:
    named = (name for name in ("place", "task", "unit") if name in dict(meant.values))
    return Slip(meant.kind, next((str(meant.get(name)) for name in named), ""))


def _joining(
    weighing: Weighing, hand: GuessBasis, rest: Sequence[int], slip: Slip
) -> Mapping[int, tuple[float, Fact]]:
    """Return the other marks of a stack, where all of them together fit better so.

    A mark for which that cannot be, or without a track, says nothing and stays out.
    """
    known = meant_by(hand, [_agreed(weighing, hand, k) for k in rest])
    found: dict[int, tuple[float, Fact]] = {}
    for k, own in zip(rest, known, strict=True):
        same = [one for one in own if _slip(one.says) == slip]
        for weighed in weighed_by(weighing, hand, k, same) if same else ():
            assert weighed.says is not None
            found[k] = weighed.odds - math.log(same[0].prior), weighed.says
    together = sum(gain for gain, _ in found.values())
    return found if together > 0.0 else {}


def _named(stack: Stack, slip: Slip) -> Fact:
    """State what a stack is taken for."""
    values = {"start": place(stack.start)}
    if slip.kind == "meant-reference":
        values["place"] = place(slip.to)
    if slip.kind == "meant-task":
        values["other"] = task(int(slip.to))
    if slip.kind == "meant-unit":
        values["unit"] = term(slip.to)
    return fact(SLIPS[slip.kind], **values)
