"""Where legs begin and end: at marks, targets and places that are in the file."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.entries import whole
from scorer.recount.globe import GlobePoint, line, places_of, spot_of
from scorer.recount.marks import given
from scorer.recount.numbers import Difference, differ, exact

_TO_TARGET = frozenset({"FIN", "JDG", "HNH", "HWZ", "GBM"})
"""Kinds of tasks whose legs end at a target of the task."""
_NEAR_M = 0.05
"""Places and marks are published to a centimetre each way, and legs end there."""
_RAISED = 1e-3
"""Share by which the event's kind of length may differ from that on the ellipsoid."""
_SUM_M = Fraction(1, 1000)
_STOOD = frozenset({"target-stood-until", "target-stood-since"})


def check_ends(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield legs that lead from or to other places than those that were set down."""
    entered = results["entered"]
    places = places_of(entered)
    for own in entered["tasks"]:
        absent = [name for name in own["targets"] if name.casefold() not in places]
        yield from differ(f"task {own['task']}, targets that lie nowhere", absent, [])
    targets = {own["task"]: own["targets"] for own in entered["tasks"]}
    moves = _moves(entered["targets"])
    for task in results["tasks"]:
        number = task["task"]
        names = {name.casefold() for name in targets.get(number, ())}
        moved = {name for of, name in moves if of == number}
        for score in task["scores"]:
            where = f"task {number}, pilot {score['pilot']}"
            about = _Ends(score["marks"], places, names, moved)
            for step in score["steps"]:
                yield from about.check(where, task["kind"], step)
            yield from _check_sum(where, score)


def _moves(rows: Sequence[Mapping[str, str]]) -> set[tuple[int | None, str]]:
    """Return which targets of which tasks the target log speaks of."""
    return {
        (whole(row.get("task")), row.get("target", "").strip().casefold())
        for row in rows
    }


class _Ends:
    """What the steps of one score may lead from and to."""

    def __init__(
        self,
        marks: Sequence[Mapping[str, Any]],
        places: Mapping[str, GlobePoint],
        targets: set[str],
        moved: set[str],
    ) -> None:
        self.places, self.targets, self.moved = places, targets, moved
        self.marks = [at for at in map(spot_of, marks) if at is not None]
        self.alone = len(marks) == 1

    def check(
        self, where: str, kind: str, step: Mapping[str, Any]
    ) -> Iterator[Difference]:
        own = step["kind"]
        if own == "leg":
            if kind in _TO_TARGET and isinstance(step.get("end_place"), str):
                at_target = step["end_place"].casefold() in self.targets
                yield from differ(f"{where}, a leg to a target", at_target, True)
            yield from self._length(where, step)
        elif own == "great-distance":
            yield from self._great(where, step)
        elif own in _STOOD:
            name = step.get("target_place")
            known = isinstance(name, str) and name.casefold() in self.targets
            yield from differ(f"{where}, a target that was moved", known, True)

    def _length(self, where: str, step: Mapping[str, Any]) -> Iterator[Difference]:
        """A leg from the one mark is as long as it is to the place."""
        name = step.get("end_place")
        if not isinstance(name, str) or name.casefold() in self.moved:
            return
        end = self.places.get(name.casefold())
        if end is None or not self.alone or not self.marks or "start" not in step:
            return
        if step["start"] != "mark":
            return
        there, told = line(self.marks[0], end).length_m, float(step["length_m"])
        if abs(told - there) > _NEAR_M + _RAISED * there:
            yield from differ(f"{where}, a leg to {name}", told, round(there, 2))

    def _great(self, where: str, step: Mapping[str, Any]) -> Iterator[Difference]:
        """A long way leads from its place to a mark, and is as long as that."""
        start, end = _point(step.get("start_at")), _point(step.get("end_at"))
        name = step.get("start_place")
        if isinstance(name, str):
            known = self.places.get(name.casefold())
            yield from differ(f"{where}, {name}, a place", known is not None, True)
            if known and start and name.casefold() not in self.moved:
                yield from _apart(f"{where}, {name}", start, [known])
        if start and end:
            there = line(start, end).length_m
            told = float(step["distance_distance_m"])
            if abs(told - there) > _NEAR_M + _RAISED * there:
                yield from differ(f"{where}, a way", told, round(there, 2))
        reported = step.get("end") == "reported-landing"
        if end and self.marks and (reported or isinstance(step.get("end"), Mapping)):
            yield from _apart(f"{where}, its landing", end, self.marks)


def _point(at: Any) -> GlobePoint | None:
    if not isinstance(at, Mapping) or at["kind"] != "latitude-longitude":
        return None
    return GlobePoint(float(at["lat_position_deg"]), float(at["lon_position_deg"]))


def _apart(
    where: str, told: GlobePoint, known: Sequence[GlobePoint]
) -> Iterator[Difference]:
    gap = min(line(told, own).length_m for own in known)
    if gap > _NEAR_M:
        yield from differ(where, f"{gap:.2f} m away", "there")


def _check_sum(where: str, score: Mapping[str, Any]) -> Iterator[Difference]:
    """The ways of a race, together, are what was measured."""
    ways = [
        exact(step["distance_distance_m"])
        for step in score["steps"]
        if step["kind"] == "great-distance"
    ]
    if not ways or given(score) or score["measured"] is None:
        return
    measured, total = exact(score["measured"]), sum(ways, Fraction(0))
    if abs(measured - total) > _SUM_M:
        yield from differ(f"{where}, its ways together", measured, total)
