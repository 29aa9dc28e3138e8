"""What in an event and its tasks can hurt people, before anybody flies.

It asks and never clears: that nothing is found says nothing about a flight.  The aviation
authority, the event's waiver, the director and licensed pilots decide.
"""

from collections.abc import Iterable, Iterator
from itertools import product

import shapely

from scorer.checks.charge import charge
from scorer.errors import ScorerError
from scorer.event import matters, place_kinds
from scorer.event.matter import Matter, marked
from scorer.event.model import Event, PenaltyUnit, Place, Task, TaskState
from scorer.event.rulebook import FloorRule, RuleBook
from scorer.event.task_kinds import TASK_KINDS
from scorer.facts import (
    Fact,
    Value,
    distance,
    fact,
    height,
    inner,
    moment,
    points,
    span,
)
from scorer.facts import place as named
from scorer.geodesy.site import Site
from scorer.geodesy.sun import sun_at

LEAST_TIME_S = 10.0
"""A longer least time under the minimum is asked about (our choice)."""
LEAST_COST = 100
"""Points of 1000 that half the minimum height should cost at least (our choice)."""
NEAR_M = 500.0
"""Nearer to a target or scoring area, what is forbidden is told (our choice)."""
HIGH_M = 300.0
"""Forbidden air that begins higher above the ground is not in the way (our choice)."""


def unsafe(event: Event, site: Site | None = None) -> tuple[Matter, ...]:
    """Return what to look at before flying: pure, from what was set down alone."""
    try:
        ready = site or Site.of(event)
    except ScorerError:  # said where the event is scored
        return ()
    tasks = [task for task in event.tasks if task.state is not TaskState.CANCELLED]
    books = [event.book, *(event.book_of(task) for task in tasks)]
    found = [_matter(says) for book in books for says in doubts_of(book)]
    for task in tasks:
        own = (*_of_light(event, task, ready), *_of_places(event, task, ready))
        found += [_matter(says, task) for says in own]
    found += [_matter(says) for says in _tall(event, books)]
    return marked(dict.fromkeys(found), event.acceptances)


def titled(matter: Matter) -> Fact:
    """State what to look at, which task it is about, and who acknowledged it."""
    return fact("safety-told", what=inner(matter.placed))


def _matter(says: Fact, task: Task | None = None) -> Matter:
    if task is None:
        return Matter(kind=matters.SAFETY, says=says)
    return Matter(kind=matters.SAFETY, says=says, flight=task.flight, task=task.number)


def doubts_of(book: RuleBook) -> Iterator[Fact]:
    """Yield what a minimum height that nothing holds up, or that costs little, says."""
    floor = book.floor
    if floor.height_m is None:
        return
    minimum = height(floor.height_m)
    if floor.height_m <= 0:
        yield fact("minimum-of-nothing", minimum=minimum)
        return
    if floor.tolerance_m >= floor.height_m:
        tolerance = height(floor.tolerance_m)
        yield fact("tolerance-eats-minimum", tolerance=tolerance, minimum=minimum)
    if floor.least_time_s > LEAST_TIME_S:
        yield fact("least-time-long", least=span(floor.least_time_s))
    cost = _cost_of_half(floor)
    if cost is not None and cost < LEAST_COST:
        yield fact("low-flight-pays", points=points(cost))


def _cost_of_half(floor: FloorRule) -> float | None:
    """Return the points that half the minimum height costs; None where it costs more."""
    if not floor.penalty or floor.height_m is None:
        return None  # people decide: asked elsewhere
    amounts = charge(floor.penalty, floor.height_m / 2)
    counted = {PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS}
    if any(amount.unit not in counted for amount in amounts):
        return None
    return sum(amount.amount for amount in amounts)


def _tall(event: Event, books: Iterable[RuleBook]) -> Iterator[Fact]:
    """Yield what stands as high as a minimum height: to keep to it clears nothing."""
    minima = {b.floor.height_m for b in books if b.floor.height_m is not None}
    if not minima:
        return
    for place in event.places:
        if place.height_m is not None and place.height_m >= min(minima):
            yield fact(
                "higher-than-minimum",
                place=named(place.name),
                kind=inner(fact(f"place-kind-{place.kind}")),
                height=height(place.height_m),
                minimum=height(min(minima)),
            )


def _of_light(event: Event, task: Task, site: Site) -> Iterator[Fact]:
    """Yield launches before sunrise and marks after sunset, less what the book allows."""
    if TASK_KINDS[task.kind].race or not site.spots:
        return  # long-distance races fly by night
    night = event.book_of(task).night
    spot = site.spots.get(task.target or "") or next(iter(site.spots.values()))
    lat, lon = site.plane.to_wgs84(*spot.point)

    def dark(time_s: float) -> bool:
        return not sun_at(time_s, float(lat), float(lon)).up

    def sun(time_s: float, what: str) -> Value:
        sun = sun_at(time_s, float(lat), float(lon))
        edges = (sun.since, sun.until)
        edge = next((e for e in edges if e and e.rises == (what == "rises")), None)
        if edge is None:
            return inner(fact("sun-unknown"))
        return inner(fact(f"sun-{what}", at=moment(edge.time_s)))

    if task.launch_period is not None:
        opens = task.launch_period.start_s
        if dark(opens + (night.before_sunrise_s or 0.0)):
            yield fact(
                "launch-in-the-dark", opens=moment(opens), how=sun(opens, "rises")
            )
    if task.scoring_period is not None:
        closes = task.scoring_period.end_s
        if dark(closes - (night.after_sunset_s or 0.0)):
            how = sun(closes, "sets")
            yield fact("landing-in-the-dark", closes=moment(closes), how=how)


def _of_places(event: Event, task: Task, site: Site) -> Iterator[Fact]:
    """Yield what is forbidden or stands near the targets, the areas, or on the way."""
    forbidden = [
        p
        for p in event.places
        if p.kind in place_kinds.FORBIDDEN and p.name in site.areas
    ]
    low = [place for place in forbidden if _is_low(place, site)]
    aims = dict(_aims(task, site))
    for place, (name, aim) in product(low, aims.items()):
        shape = site.area(place.name)
        away = float(shape.distance(aim))
        if away == 0.0:
            both = {**_said(place), "from": named(name)}
            if shape.covers(aim):
                yield fact("within-forbidden", **both)
            else:
                yield fact("overlaps-forbidden", **both)
        elif away < NEAR_M:
            ends = {"from": named(name), "away": distance(away)}
            yield fact("near-forbidden", **_said(place), **ends)
    yield from _on_the_way(event, task, site, low)


def _on_the_way(
    event: Event, task: Task, site: Site, low: Iterable[Place]
) -> Iterator[Fact]:
    """Yield what lies between the launch areas and the first target."""
    if task.target is None or task.target not in site.spots:
        return
    target = shapely.Point(site.point(task.target))
    starts = [p.name for p in event.places if p.kind is place_kinds.LAUNCH_AREA]
    for start, place in product(starts, low):
        if start not in site.areas:
            continue
        way = shapely.union(site.area(start), target).convex_hull
        shape = site.area(place.name)
        if way.intersects(shape) and shape.distance(target) >= NEAR_M:
            ends = {"launch": named(start), "target": named(task.target)}
            yield fact("on-the-way", **_said(place), **ends)


def _aims(task: Task, site: Site) -> Iterator[tuple[str, shapely.Geometry]]:
    for name in (*task.targets, *task.roles.values()):
        if name in site.spots:
            yield name, shapely.Point(site.point(name))
    for name in task.scoring_areas:
        if name in site.areas:
            yield name, site.area(name)


def _is_low(place: Place, site: Site) -> bool:
    """Tell whether a balloon near the ground would meet it."""
    if place.lower_m is None:
        return True
    middle = site.area(place.name).representative_point()
    ground = float(site.elevation_at((middle.x, middle.y)))
    return not place.lower_m - ground > HIGH_M  # unknown ground: told


def _said(place: Place) -> dict[str, Value]:
    kind = fact(f"place-kind-{place.kind}")
    if place.height_m is not None:
        kind = fact("kind-and-height", kind=inner(kind), height=height(place.height_m))
    return {"place": named(place.name), "kind": inner(kind)}
