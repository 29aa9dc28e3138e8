"""Marks of one stack of sheets that are all wrong in one way.

Whoever measures writes the reference, the unit or the end of a bearing once and goes on
by it, so that marks measured from one point stand or fall together.  Where several of
them are doubted and the same was meant by each, they are one matter, and the marks that
nobody doubts by themselves join them if all of them together fit better so.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np

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


STACK_WRONG = 0.002
"""How often a stack is wrong in such a way (our choice)."""
ODDER = 1.5
PICKED = 2.0
"""Natural logarithm: a mark that is so much likelier so is one of the wrong ones, where
others of its stack are right."""

Gains = Mapping[int, tuple[float, Fact]]
"""How much likelier marks are so, natural logarithm, and what was meant by each."""


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
    slips_of: dict[Stack, list[Slip]] = defaultdict(list)
    for (stack, slip), marks in alike.items():
        if len(marks) >= LEAST_DOUBTED:
            slips_of[stack].append(slip)
    taken: dict[tuple[Stack, Slip], Mapping[int, tuple[float, Fact] | None]] = {}
    for stack, marks in _stacks(weighing, hand).items():
        if _by_itself(hand, stack, marks) and _odd(weighing, marks):
            taken |= {(stack, s): own for s, own in _whole(weighing, hand, marks)}
        for slip in () if any(one is stack for one, _ in taken) else slips_of[stack]:
            doubted = alike[stack, slip]
            rest = [k for k in marks if k not in doubted]
            joining = _joining(weighing, hand, rest, slip)
            taken[stack, slip] = {**dict.fromkeys(doubted), **joining}
    for (stack, slip), own in taken.items():
        for k, gain in own.items():
            if gain is not None:
                odds, meant = gain
                found[k] = Doubt(k, odds, None, meant)
            found[k] = found[k]._replace(stack=_named(stack, slip))
    return [found[k] for k in sorted(found)]


def _by_itself(hand: GuessBasis, stack: Stack, marks: Sequence[int]) -> bool:
    """Tell whether marks are measured from a point of their own, not from a target."""
    targets = {target for task in hand.flight.tasks for target in task.targets}
    return len(marks) >= LEAST_DOUBTED and stack.start not in targets


def _odd(weighing: Weighing, marks: Sequence[int]) -> bool:
    """Tell whether marks are odder than all are: only such stacks are looked at."""
    return bool(weighing.beyond[marks].mean() > ODDER * weighing.beyond.mean())


def _whole(
    weighing: Weighing, hand: GuessBasis, marks: Sequence[int]
) -> Iterator[tuple[Slip, Gains]]:
    """Yield what all marks of a stack were meant as, if that is likelier by far.

    They are weighed by a throw that they taught nothing: many wrong ones among few marks
    look usual to what they taught.
    """
    others = weighing.without(marks)
    if others is None:
        return
    every = _gains(others, hand, marks)
    found = {slip: _likelier(own) for slip, own in every.items()}
    best = max(found, key=lambda slip: found[slip][0], default=None)
    if best is None or found[best][0] < math.log(len(found) / STACK_WRONG):
        return
    clearly = sum(gain > PICKED for gain, _ in every[best].values())
    if clearly >= LEAST_DOUBTED:
        yield best, {k: every[best][k] for k in found[best][1]}


def _likelier(own: Gains) -> tuple[float, list[int]]:
    """Return how much likelier a stack is wrong, and which marks of it.

    All of it is, or, where two teams measured from one point, any half of it.
    """
    gains = {k: gain for k, (gain, _) in own.items()}
    all_of_it = sum(gains.values())
    half = sum(
        float(np.logaddexp(0.0, gain)) - math.log(2.0) for gain in gains.values()
    )
    odds = float(np.logaddexp(all_of_it, half)) - math.log(2.0)
    if all_of_it >= half:
        return odds, list(gains)
    return odds, [k for k, gain in gains.items() if gain > PICKED]


def _gains(
    weighing: Weighing, hand: GuessBasis, marks: Sequence[int]
) -> Mapping[Slip, Gains]:
    """Return by slip how much likelier each mark is so, and what was meant by it.

    A mark for which that cannot be, or without a track, says nothing and stays out.
    """
    found: dict[Slip, dict[int, tuple[float, Fact]]] = defaultdict(dict)
    known = meant_by(hand, [_agreed(weighing, hand, k) for k in marks])
    for k, own in zip(marks, known, strict=True):
        same = [one for one in own if one.says.kind in SLIPS]
        weighed = weighed_by(weighing, hand, k, same) if same else []
        for one, gain in zip(same, weighed, strict=False):  # none without a track
            found[_slip(one.says)][k] = gain.odds - math.log(one.prior), one.says
    return found


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
) -> Gains:
    """Return the other marks of a stack, where all of them together fit better so."""
    found = _gains(weighing, hand, rest).get(slip, {})
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
