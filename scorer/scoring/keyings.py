"""From keyings to agreed marks: two keyings of one marker agree, or stay unsettled."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot

from scorer.errors import ScorerError
from scorer.event.model import Keying, Method
from scorer.event.rulebook import KeyingRule
from scorer.geodesy.survey import Mark

Reduce = Callable[[Keying], Mark]
"""Turns a keying into a mark; raises ScorerError when it cannot."""

Slot = tuple[int, int, str]
"""Task, pilot, role of the mark."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreed:
    """What the keyings of one marker come to."""

    keying: Keying
    """The one that counts: the settling one, else the first."""
    mark: Mark | None
    """None with method `none`, and with `log`, which needs the track."""
    settled: bool
    keyings: tuple[Keying, ...]
    problem: str = ""
    """Why it is not settled, in one sentence."""


def agree(
    keyings: Iterable[Keying], reduce: Reduce, rule: KeyingRule
) -> dict[Slot, Agreed]:
    """Compare the keyings of each marker.

    A keying with a reason under `settles` decides; the last one, if there are several.
    Otherwise all must agree within the rule's tolerance, in distance and, where both
    have one, in place; and with `twice`, two people must have keyed it.
    """
    slots: dict[Slot, list[Keying]] = defaultdict(list)
    for keying in keyings:
        slots[keying.task, keying.pilot, keying.mark].append(keying)
    return {slot: _one(tuple(slots[slot]), reduce, rule) for slot in sorted(slots)}


def _one(keyings: tuple[Keying, ...], reduce: Reduce, rule: KeyingRule) -> Agreed:
    marks, failed = [], []
    for keying in keyings:
        try:
            marks.append(_reduced(keying, reduce))
        except ScorerError as error:
            marks.append(None)
            failed.append(f"{said(keying)} cannot be reduced: {error}")
    settling = [i for i, k in enumerate(keyings) if k.settles]
    at = settling[-1] if settling else 0
    problem = "" if settling else _problem(keyings, marks, rule)
    if failed and (not settling or marks[at] is None):
        problem = "; ".join(failed)
    return Agreed(
        keying=keyings[at],
        mark=marks[at],
        settled=not problem,
        keyings=keyings,
        problem=problem,
    )


def _reduced(keying: Keying, reduce: Reduce) -> Mark | None:
    return None if keying.method in {Method.NONE, Method.LOG} else reduce(keying)


def _problem(
    keyings: Sequence[Keying], marks: Sequence[Mark | None], rule: KeyingRule
) -> str:
    for (a, mark_a), (b, mark_b) in combinations(zip(keyings, marks, strict=True), 2):
        gap = difference(a, mark_a, b, mark_b)
        if gap is None:
            return f"two keyings differ: {said(a)}; {said(b)}"
        if gap > rule.tolerance_m + 1e-9:
            by = f"by {gap:.2f} m, more than {rule.tolerance_m:g} m"
            return f"two keyings differ {by}: {said(a)}; {said(b)}"
    people = {k.by for k in keyings}
    if rule.twice and len(people) < 2:
        return f"keyed by one person only: {said(keyings[0])}; a second must key it"
    return ""


def difference(
    a: Keying, mark_a: Mark | None, b: Keying, mark_b: Mark | None
) -> float | None:
    """Return how far two keyings differ in metres; None when they cannot agree."""
    if Method.NONE in {a.method, b.method}:
        return 0.0 if a.method is b.method else None
    if mark_a is None or mark_b is None:
        same = a.method is b.method and (a.time_s, a.note) == (b.time_s, b.note)
        return 0.0 if same else None
    gaps = []
    if mark_a.distance_m is not None and mark_b.distance_m is not None:
        gaps.append(abs(mark_a.distance_m - mark_b.distance_m))
    if a.method is b.method and mark_a.point is not None and mark_b.point is not None:
        (e1, n1), (e2, n2) = mark_a.point, mark_b.point
        gaps.append(hypot(e1 - e2, n1 - n2))
    return max(gaps) if gaps else None


def said(keying: Keying) -> str:
    """Say who keyed what, as it was keyed."""
    who = keying.by or "somebody"
    skip = {"task", "pilot", "method", "by", "note", "settles", "mark"}
    given = [f"{k} {v}" for k, v in keying.entered.items() if k not in skip]
    what = ", ".join(given) or "no distance"
    if keying.method is Method.NONE:
        what = "no mark found"
    return f"{who}: {keying.method} {what}" + (
        f" (settles: {keying.settles})" if keying.settles else ""
    )


def by_pilot(agreed: Mapping[Slot, Agreed], task: int) -> dict[int, dict[str, Agreed]]:
    """Return a task's agreed marks by pilot and role."""
    pilots: dict[int, dict[str, Agreed]] = defaultdict(dict)
    for (number, pilot, role), mark in agreed.items():
        if number == task:
            pilots[pilot][role] = mark
    return dict(pilots)
