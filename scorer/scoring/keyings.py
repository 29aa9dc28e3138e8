"""From keyings to agreed marks: two keyings of one marker agree, or stay unsettled.

Rows by different people are keyings of the same field notes, to be compared.  Rows by one
person that measure the marker in different ways (another method, from another point) are
one survey, adjusted by least squares; that the survey fits together is part of agreeing.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import hypot

from scorer.errors import ScorerError
from scorer.event.model import Keying, Method
from scorer.event.rulebook import KeyingRule
from scorer.geodesy.survey import Mark

Reduce = Callable[[Sequence[Keying]], Mark]
"""Turns what one person measured of a marker into a mark: one keying is reduced, several
are adjusted; raises ScorerError when it cannot."""

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
    survey: tuple[Keying, ...] = ()
    """The keyings that `mark` was adjusted from, where there were several."""
    problem: str = ""
    """Why it is not settled, in one sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Survey:
    """What one person measured of one marker."""

    keyings: tuple[Keying, ...]
    """One of each measurement."""
    mark: Mark | None
    problem: str = ""


def agree(
    keyings: Iterable[Keying], reduce: Reduce, rule: KeyingRule
) -> dict[Slot, Agreed]:
    """Compare the keyings of each marker.

    A keying with a reason under `settles` decides; the last one, if there are several.
    Otherwise all must agree within the rule's tolerance: a measurement that two rows
    repeat in itself, and what different measurements give in distance and, where they
    are of one method, in place; and with `twice`, two people must have keyed it.  The
    survey with the most measurements counts, the first of several.
    """
    slots: dict[Slot, list[Keying]] = defaultdict(list)
    for keying in keyings:
        slots[keying.task, keying.pilot, keying.mark].append(keying)
    return {slot: _one(tuple(slots[slot]), reduce, rule) for slot in sorted(slots)}


def _one(keyings: tuple[Keying, ...], reduce: Reduce, rule: KeyingRule) -> Agreed:
    settling = [k for k in keyings if k.settles]
    if settling:
        counts = _survey(settling[-1:], reduce)
        problem = counts.problem
    else:
        surveys = [_survey(own, reduce) for own in _by_person(keyings)]
        counts = max(surveys, key=lambda s: len(s.keyings))
        problem = _problem(keyings, surveys, reduce, rule)
    first = counts.keyings[0]
    return Agreed(
        keying=next((k for k in counts.keyings if k.time_s is not None), first),
        mark=counts.mark,
        settled=not problem,
        keyings=keyings,
        survey=counts.keyings if len(counts.keyings) > 1 else (),
        problem=problem,
    )


def _by_person(keyings: Sequence[Keying]) -> list[list[Keying]]:
    """Sort keyings by who made them; a row without a name is a person of its own."""
    people: dict[str, list[Keying]] = defaultdict(list)
    for index, keying in enumerate(keyings):
        name = " ".join(keying.by.split()).casefold()
        people[name or f" {index}"].append(keying)
    return list(people.values())


def measurement(keying: Keying) -> tuple[object, ...]:
    """Return what tells one measurement of a marker from another, numbers aside.

    A distance from a point is one measurement, with a bearing or without.
    """
    if keying.method in {Method.NONE, Method.LOG}:
        return (keying.method,)
    ends = (keying.from_place or "", keying.from2_place or "")
    if keying.method in {Method.TAPE, Method.POLAR}:
        return ("line", ends[0])
    return (keying.method, *ends)


def _survey(own: Sequence[Keying], reduce: Reduce) -> _Survey:
    """Put together what one person measured: alone, or adjusted."""
    each: dict[tuple[object, ...], Keying] = {}
    for keying in sorted(own, key=lambda k: k.bearing_deg is None):
        each.setdefault(measurement(keying), keying)
    keyings = tuple(k for k in own if each[measurement(k)] is k)
    pointing = [k for k in keyings if k.method not in {Method.NONE, Method.LOG}]
    if len(pointing) < len(keyings):  # none or log: stands for itself
        return _Survey(keyings=keyings[:1], mark=_reduced(keyings[:1], reduce)[0])
    mark, problem = _reduced(keyings, reduce)
    if mark is not None and len(keyings) > 1 and mark.warnings:
        problem = "; ".join(doubt.kind.replace("-", " ") for doubt in mark.warnings)
        mark = replace(mark, warnings=())
    return _Survey(keyings=keyings, mark=mark, problem=problem)


def _reduced(keyings: Sequence[Keying], reduce: Reduce) -> tuple[Mark | None, str]:
    """Reduce what one person keyed; with a sentence where that cannot be done."""
    if keyings[0].method in {Method.NONE, Method.LOG}:
        return None, ""
    try:
        return reduce(keyings), ""
    except ScorerError as error:
        what = " with ".join(said(k) for k in keyings)
        return None, f"{what} cannot be reduced: {error}"


def _problem(
    keyings: Sequence[Keying],
    surveys: Sequence[_Survey],
    reduce: Reduce,
    rule: KeyingRule,
) -> str:
    """Say in one sentence why keyings do not agree; empty where they do."""
    repeated = _repeated(keyings, reduce, rule)
    if repeated:
        return repeated
    problems = list(dict.fromkeys(s.problem for s in surveys if s.problem))
    if problems:
        return "; ".join(problems)
    for a, b in combinations(surveys, 2):
        if {measurement(k) for k in a.keyings} != {measurement(k) for k in b.keyings}:
            gap = difference(a.keyings[0], a.mark, b.keyings[0], b.mark)
            differ = _differ(a.keyings[0], b.keyings[0], gap, rule)
            if differ:
                return differ
    if rule.twice and len({k.by for k in keyings}) < 2:
        return f"keyed by one person only: {said(keyings[0])}; a second must key it"
    return ""


def _repeated(keyings: Sequence[Keying], reduce: Reduce, rule: KeyingRule) -> str:
    """Compare rows that give one and the same measurement, whoever keyed them."""
    for a, b in combinations(keyings, 2):
        lone = {a.method, b.method} & {Method.NONE, Method.LOG}
        if measurement(a) == measurement(b) or lone:
            gap = _gap_of_rows(a, b, reduce)
            differ = _differ(a, b, gap, rule)
            if differ:
                return differ
    return ""


def _gap_of_rows(a: Keying, b: Keying, reduce: Reduce) -> float | None:
    if {a.method, b.method} & {Method.NONE, Method.LOG}:
        return difference(a, None, b, None)
    (mark_a, _), (mark_b, _) = _reduced([a], reduce), _reduced([b], reduce)
    if mark_a is not None and mark_b is not None:
        return difference(a, mark_a, b, mark_b)
    # a distance from elsewhere, say, that fixes nothing alone: as keyed
    pairs = ((a.distance_m, b.distance_m), (a.distance2_m, b.distance2_m))
    return max(
        (abs(x - y) for x, y in pairs if x is not None and y is not None), default=0.0
    )


def _differ(a: Keying, b: Keying, gap: float | None, rule: KeyingRule) -> str:
    """Say that two keyings differ, and by how much; empty where they agree."""
    if gap is None:
        return f"two keyings differ: {said(a)}; {said(b)}"
    if gap > rule.tolerance_m + 1e-9:
        by = f"by {gap:.2f} m, more than {rule.tolerance_m:g} m"
        return f"two keyings differ {by}: {said(a)}; {said(b)}"
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
    alike = a.method is b.method or measurement(a) == measurement(b)
    if alike and mark_a.point is not None and mark_b.point is not None:
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
