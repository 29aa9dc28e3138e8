"""A task looked over before it is flown: what was found well, and what to look at.

It asks what `scorer.scoring.safety` asks, and tells too where nothing was found.  Nothing
found says nothing about a flight: the authority, the waiver, the director and licensed
pilots decide.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from scorer.errors import ScorerError
from scorer.event import place_kinds
from scorer.event.model import Event, Flight, Period, Task, TaskState
from scorer.facts import Fact, distance, fact, moment
from scorer.facts import place as named
from scorer.geodesy.site import Site
from scorer.geodesy.sun import sun_at
from scorer.scoring.safety import unsafe

FAR_M = 3218.688
"""Closed airspace within this is told: two statute miles (our choice)."""
_LIGHT = frozenset({"launch-in-the-dark", "landing-in-the-dark"})
_NEAR = frozenset(
    {"within-forbidden", "overlaps-forbidden", "near-forbidden", "on-the-way"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """One thing that was looked at."""

    well: bool
    says: Fact


def look_over(event: Event, flight: str, number: int) -> tuple[Looked, ...]:
    """Return what was looked at for one task, what to look at first."""
    alone = _alone(event, flight, number)
    task = next((t for t in alone.tasks if t.number == number), None)
    if task is None:
        return ()
    try:
        site = _site(alone)
    except ScorerError:  # said where the event is scored
        return ()
    doubts = [m.says for m in unsafe(alone, site) if m.task in {None, number}]
    kinds = {says.kind for says in doubts}
    found = [Looked(well=False, says=says) for says in doubts]
    found += [Looked(well=False, says=says) for says in _order(task)]
    found += _inside(alone, task, site)
    if not kinds & _LIGHT and task.launch_period:
        found += _light(task, site)
    if not any(True for _ in _order(task)) and task.launch_period:
        found.append(Looked(well=True, says=fact("looked-times")))
    if not kinds & _NEAR and site.spots:
        found += _airspace(alone, task, site)
    return tuple(sorted(found, key=lambda one: one.well))


def _site(event: Event) -> Site:
    """Return the event's site; without its terrain where only that cannot be read here."""
    try:
        return Site.of(event)
    except ScorerError:
        return Site.of(replace(event, terrain=None))


def _alone(event: Event, flight: str, number: int) -> Event:
    """Return the event with this task alone, so that others say nothing here."""

    def kept(own: Flight) -> Flight:
        tasks = tuple(
            replace(t, state=TaskState.PLANNED) for t in own.tasks if t.number == number
        )
        return replace(own, tasks=tasks if own.id == flight else ())

    return replace(event, flights=tuple(map(kept, event.flights)))


def _order(task: Task) -> Iterator[Fact]:
    """Yield times of a task that do not follow each other."""
    launch, marks = task.launch_period, task.scoring_period
    if launch is None or marks is None:
        return
    if marks.end_s <= launch.end_s:
        yield fact(
            "looked-marks-end-early",
            marks=moment(marks.end_s),
            launch=moment(launch.end_s),
        )
    if marks.start_s < launch.start_s:
        yield fact(
            "looked-marks-begin-early",
            marks=moment(marks.start_s),
            launch=moment(launch.start_s),
        )


def _light(task: Task, site: Site) -> Iterator[Looked]:
    opens: Period | None = task.launch_period
    if opens is None or not site.spots:
        return
    spot = site.spots.get(task.target or "") or next(iter(site.spots.values()))
    lat, lon = site.plane.to_wgs84(*spot.point)
    sun = sun_at(opens.start_s, float(lat), float(lon))
    if sun.up and sun.since is not None:
        says = fact("looked-light", sunrise=moment(sun.since.time_s))
        yield Looked(well=True, says=says)


def _inside(event: Event, task: Task, site: Site) -> Iterator[Looked]:
    """Tell whether targets and scoring areas lie inside the boundary that holds."""
    book = event.book_of(task)
    name = book.boundary.within or book.floor.within
    if name is None or name not in site.areas:
        return
    bounds = site.area(name)
    aims: dict[str, shapely.Geometry] = {
        own: shapely.Point(site.point(own)) for own in task.targets if own in site.spots
    }
    aims |= {own: site.area(own) for own in task.scoring_areas if own in site.areas}
    outside = [own for own, shape in aims.items() if not bounds.covers(shape)]
    for own in outside:
        says = fact("looked-outside", place=named(own), within=named(name))
        yield Looked(well=False, says=says)
    if aims and not outside:
        yield Looked(well=True, says=fact("looked-inside", within=named(name)))


def _airspace(event: Event, task: Task, site: Site) -> Iterator[Looked]:
    spot = site.spots.get(task.target or "")
    if spot is None:
        return
    here = shapely.Point(spot.point)
    near = [
        (float(site.area(p.name).distance(here)), p.name)
        for p in event.places
        if p.kind is place_kinds.PROHIBITED and p.name in site.areas
    ]
    away, name = min(near, default=(float("inf"), ""))
    if away > FAR_M:
        yield Looked(well=True, says=fact("looked-airspace", far=distance(FAR_M)))
    else:
        says = fact("looked-airspace-near", place=named(name), away=distance(away))
        yield Looked(well=False, says=says)
