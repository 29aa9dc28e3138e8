"""What officials set down about a flight, sorted by task and pilot."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from typing import TypeVar

from scorer.checks.base import PlacedMark
from scorer.errors import ScorerError
from scorer.event.entries import folded
from scorer.event.model import (
    Declaration,
    Event,
    Flight,
    Keying,
    Method,
    Report,
    ReportKind,
    Task,
)
from scorer.geodesy.arrays import Point
from scorer.geodesy.placed import Spot
from scorer.geodesy.redundant import adjust_keyings
from scorer.geodesy.site import Site
from scorer.geodesy.survey import Mark, reduce_keyings
from scorer.scoring.comparing import Known, Terms, reduced_alone
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.keyings import Agreed, agree
from scorer.scoring.work import OwnEvidence
from scorer.tasks.kinds import KINDS
from scorer.tasks.targets import taped_spot


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightEvidence:
    """Everything officials set down about a flight."""

    by_pilot: Mapping[int, Mapping[int, Mapping[str, Agreed]]]
    """Agreed marks by task, pilot and role."""
    own: Mapping[tuple[int, int], OwnEvidence]
    """By task and pilot."""
    placed: tuple[PlacedMark, ...]


def take(
    event: Event, flight: Flight, site: Site, keep: Keep = NOTHING_KEPT
) -> FlightEvidence:
    """Reduce and compare all keyings, and sort declarations and reports."""
    by_pilot = agreed_marks(event, flight, site, keep)
    numbers = [pilot.number for pilot in event.pilots]
    own = {}
    for task in flight.tasks:
        parts = _parts(flight, task, numbers, by_pilot[task.number])
        found = _owns(site, task, numbers, parts, keep)
        for number, evidence in zip(numbers, found, strict=True):
            own[task.number, number] = evidence
    placed = tuple(mark for evidence in own.values() for mark in evidence.placed)
    return FlightEvidence(
        by_pilot=by_pilot,
        own={key: e for key, e in own.items() if e != OwnEvidence()},
        placed=placed,
    )


def agreed_marks(
    event: Event, flight: Flight, site: Site, keep: Keep = NOTHING_KEPT
) -> dict[int, dict[int, dict[str, Agreed]]]:
    """Say of each mark of a flight what its entries come to: by task, pilot and role."""
    found: dict[int, dict[int, dict[str, Agreed]]] = {}
    for task in flight.tasks:
        keyings = [k for k in flight.keyings if k.task == task.number]
        by_pilot: dict[int, dict[str, Agreed]] = defaultdict(dict)
        terms = _terms(event, flight, site, task, keep)
        for (_, pilot, role), agreed in agree(keyings, terms).items():
            by_pilot[pilot][role] = agreed
        found[task.number] = dict(by_pilot)
    return found


def _terms(
    event: Event, flight: Flight, site: Site, task: Task, keep: Keep = NOTHING_KEPT
) -> Terms:
    kind, rule = KINDS[task.kind], event.book_of(task).keying
    declared: dict[int, list[Declaration]] = defaultdict(list)
    for declaration in flight.declarations:
        if declaration.task == task.number:
            declared[declaration.pilot].append(declaration)
    fell = _first_times(flight, task)
    measured = _Measured(task=task, site=site, declared=declared, fell=fell)
    given = keep.key("given", site, task, rule, kind.best, kind.roles)
    return Terms(
        reduce=measured.reduce,
        adjust=measured.adjust,
        rule=rule,
        target=task.target or "",
        best=kind.best,
        roles=kind.roles,
        not_flown={
            report.pilot: report.by
            for report in sorted(flight.reports, key=lambda r: folded(r.by))
            if report.task == task.number and report.kind is ReportKind.NOT_FLOWN
        },
        keep=keep,
        given=lambda pilot: (given, *declared.get(pilot, ())),
    )


def _first_times(flight: Flight, task: Task) -> dict[tuple[int, str], float]:
    """Return when marks fell, by pilot and role: the first time that is entered."""
    own = [k for k in flight.keyings if k.task == task.number and k.time_s is not None]
    times: dict[tuple[int, str], float] = {}
    for keying in own:
        key = keying.pilot, keying.mark
        times[key] = min(times.get(key, math.inf), keying.time_s or 0.0)
    return times


@dataclass(frozen=True, slots=True, kw_only=True)
class _Measured:
    """What the distances of a task's marks count from."""

    task: Task
    site: Site
    declared: Mapping[int, Sequence[Declaration]]
    fell: Mapping[tuple[int, str], float]

    def standing(self, keying: Keying) -> Site:
        """Another entry of the mark may tell when it fell, where this one does not."""
        known = self.fell.get((keying.pilot, keying.mark))
        time_s = known if keying.time_s is None else keying.time_s
        return self.site.standing(self.task.number, time_s)

    def counts_from(self, keying: Keying) -> Spot | str | None:
        """A bare distance is taped from the goal it counts to: a declared one, say."""
        if keying.method is not Method.TAPE or keying.bearing_deg is not None:
            return self.task.target
        given = self.declared.get(keying.pilot, ())
        return taped_spot(self.standing(keying), self.task, keying, given)

    def reduce(self, keyings: Sequence[Keying]) -> list[Mark | ScorerError]:
        """Reduce keyings by themselves, all together."""
        grounds = [self.standing(keying) for keying in keyings]
        return reduce_keyings(keyings, grounds, [self.counts_from(k) for k in keyings])

    def adjust(self, keyings: Sequence[Keying]) -> Mark:
        """Adjust several, from what the first counts to."""
        bare = [k for k in keyings if k.method is Method.TAPE and not k.from_place]
        target = self.task.target or (self.counts_from(bare[0]) if bare else None)
        return adjust_keyings(keyings, self.standing(keyings[0]), target)


_Parts = tuple[Mapping[str, Agreed], tuple[Declaration, ...], tuple[Report, ...]]


def _parts(
    flight: Flight,
    task: Task,
    pilots: Sequence[int],
    agreed: Mapping[int, Mapping[str, Agreed]],
) -> list[_Parts]:
    """Return what is set down about each of some pilots, as it stands."""
    declared = _by_pilot(flight.declarations, task)
    reported = _by_pilot(flight.reports, task)
    return [
        (agreed.get(pilot, {}), declared.get(pilot, ()), reported.get(pilot, ()))
        for pilot in pilots
    ]


def _owns(
    site: Site, task: Task, pilots: Sequence[int], parts: Sequence[_Parts], keep: Keep
) -> list[OwnEvidence]:
    given = keep.key("own", site, task)
    return keep.each(
        "own",
        [(given, *own, *own.values(), *said, *seen) for own, said, seen in parts],
        lambda wanted: [_own(site, task, *parts[index]) for index in wanted],
        [(task.number, pilot) for pilot in pilots],
    )


_Row = TypeVar("_Row", Declaration, Report)


def _by_pilot(rows: Sequence[_Row], task: Task) -> Mapping[int, tuple[_Row, ...]]:
    found: dict[int, tuple[_Row, ...]] = defaultdict(tuple)
    for row in rows:
        if row.task == task.number:
            found[row.pilot] += (row,)
    return found


def _own(
    site: Site,
    task: Task,
    agreed: Mapping[str, Agreed],
    declared: tuple[Declaration, ...],
    reported: tuple[Report, ...],
) -> OwnEvidence:
    return OwnEvidence(
        marks={role: a.mark for role, a in agreed.items() if a.mark is not None},
        keyings={role: a.keying for role, a in agreed.items()},
        no_mark=any(a.keying.method is Method.NONE for a in agreed.values()),
        declarations=declared,
        reports=reported,
        placed=tuple(
            placed
            for a in agreed.values()
            if (placed := _placed(site, task, a.keying, a.mark)) is not None
        ),
    )


def placed_alone(
    event: Event, flight: Flight, site: Site, keyings: Sequence[Keying]
) -> tuple[PlacedMark | None, ...]:
    """Place each entry of a mark as if it were the only one; None where it has no place."""
    by_task: dict[int, list[Keying]] = defaultdict(list)
    for keying in keyings:
        by_task[keying.task].append(keying)
    tasks = {t.number: t for t in flight.tasks if t.number in by_task}
    known: Known = {}
    for number, own in by_task.items():
        known |= reduced_alone(_terms(event, flight, site, tasks[number]), own)
    return tuple(
        _placed(site, tasks[keying.task], keying, known[(id(keying),)][0])
        for keying in keyings
    )


def _placed(
    site: Site, task: Task, keying: Keying, mark: Mark | None
) -> PlacedMark | None:
    """Place a mark: at its point, or at a distance round its target."""
    if mark is None:
        return None
    then = site.standing(task.number, keying.time_s)
    if mark.point is not None:
        point, within = mark.point, 0.0
    elif mark.distance_m is not None and (keying.from_place or task.target):
        point = then.point(keying.from_place or task.target or "")
        within = mark.distance_m
    else:
        return None
    aim, aimed_m = _aimed(then, task, mark, point if within else None)
    return PlacedMark(
        task=task.number,
        pilot=keying.pilot,
        mark=keying.mark,
        east_m=point[0],
        north_m=point[1],
        sigma_m=mark.ellipse.major_m if mark.ellipse else mark.sigma_m or 0.0,
        within_m=within,
        time_s=keying.time_s,
        aim=aim,
        aimed_m=aimed_m,
    )


def _aimed(
    site: Site, task: Task, mark: Mark, taped: Point | None
) -> tuple[Point | None, float | None]:
    """Return the target that a mark was thrown at, and how far it lies from it.

    `site` has the targets as they stood then; `taped` is where the mark's distance counts
    from, where nothing else is known of its place.
    """
    kind = KINDS[task.kind]
    if kind.best != "smallest" or kind.unit != "m" or kind.roles:
        return None, None
    if taped is not None or mark.point is None:
        return taped, mark.distance_m
    east, north = mark.point
    targets = (site.spots[n].point for n in task.targets if n in site.spots)
    near = [(hypot(e - east, n - north), (float(e), float(n))) for e, n in targets]
    away, aim = min(near, default=(None, None))
    return aim, away
