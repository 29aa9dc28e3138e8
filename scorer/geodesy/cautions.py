"""What people should know about an event's ground before they trust a length."""

from collections.abc import Iterable, Iterator
from math import isinf

import numpy as np

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind
from scorer.event.model import DistanceKind, Event, Place
from scorer.facts import (
    Fact,
    Value,
    count,
    distance,
    fact,
    height,
    inner,
    length,
    several,
    words,
)
from scorer.facts import place as named
from scorer.geodesy.arrays import Array
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground, Terrain

_DATUM_M = 2.0
"""A step between datums worse than this shows in coordinates.  Our choice."""
_APART_M = 150.0
"""Terrain and the elevation that somebody wrote down should not differ by more.  Our
choice."""
_FEET = (2.7, 4.0)
"""Between these ratios lies a grid in feet that passes for metres: 3.28, with room for
the relief."""


def cautions(event: Event, plane: Plane, ground: Ground) -> Iterator[Matter]:
    """List the doubts.

    Where the reference system or the terrain is what it is, a doubt is a notice; it
    holds results up (`matters.RULES`) only where the event can be put right.
    """
    yield from _all(matters.REFERENCE, _of_datum(event, plane))
    yield from _all(matters.REFERENCE, _of_area(event, plane))
    if ground.terrain is not None:
        yield from _all(matters.TERRAIN, ground.terrain.notes)
        yield from _of_terrain(event, ground.terrain)
    elif event.distance is DistanceKind.GROUND and ground.fallback_m is None:
        yield Matter(
            kind=matters.RULES,
            says=fact(
                "no-elevation",
                short=length(0.16),
                way=distance(1000.0),
                up=height(1000.0),
            ),
        )


def _all(kind: MatterKind, doubts: Iterable[Fact]) -> Iterator[Matter]:
    return (Matter(kind=kind, says=doubt) for doubt in doubts)


def _of_datum(event: Event, plane: Plane) -> Iterator[Fact]:
    corners = [place.rings[0][0] for place in event.places]
    stated = [plane.accuracy_m(lat, lon) for lon, lat in corners]
    worst = max((step for step in stated if step is not None), default=0.0)
    if isinf(worst):
        yield fact("datums-apart-by-an-unknown-amount", system=words(plane.title))
    elif worst > _DATUM_M:
        yield fact("datums-apart", system=words(plane.title), most=length(worst))


def _of_area(event: Event, plane: Plane) -> Iterator[Fact]:
    outside = [
        place.name
        for place in event.places
        if not all(plane.covers(lat, lon) for lon, lat in place.rings[0])
    ]
    if outside:
        yield fact(
            "outside-the-systems-area",
            system=words(plane.title),
            places=_several(outside),
        )


def _of_terrain(event: Event, terrain: Terrain) -> Iterator[Matter]:
    """Compare the grid with the places: does it cover them, do heights agree."""
    uncovered, found, written = [], [], []
    for place in event.places:
        heights = _heights(place, terrain)
        if np.isnan(heights).any():
            uncovered.append(place.name)
            continue
        known = place.elevation_m if place.is_point else None
        found.append(float(heights.mean()))
        written.append(event.ground_elevation_m if known is None else known)
    if uncovered:
        says = fact("terrain-does-not-cover", places=_several(uncovered))
        yield Matter(kind=matters.TERRAIN, says=says)
    pairs = [(f, w) for f, w in zip(found, written, strict=True) if w is not None]
    if pairs:
        yield from _all(matters.RULES, _of_pairs(np.array(pairs), terrain))


def _of_pairs(pairs: Array, terrain: Terrain) -> Iterator[Fact]:
    grid, written = np.median(pairs, axis=0)
    if abs(grid - written) <= _APART_M:
        return
    ratio = grid / written if written else 0.0
    yield fact(
        "terrain-in-feet" if _FEET[0] < ratio < _FEET[1] else "terrain-elsewhere",
        terrain=words(terrain.name),
        grid=height(float(grid)),
        written=height(float(written)),
    )


def _heights(place: Place, terrain: Terrain) -> Array:
    corners = np.array(place.rings[0])
    return np.atleast_1d(terrain.elevation_m(corners[:, 1], corners[:, 0]))


def _several(names: list[str]) -> Value:
    shown, more = [named(name) for name in names[:6]], len(names) - 6
    rest = [inner(fact("and-more", more=count(more)))] if more > 0 else []
    return several([*shown, *rest])
