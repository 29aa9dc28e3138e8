"""What people should know about an event's ground before they trust a length."""

from collections.abc import Iterable, Iterator
from math import isinf

import numpy as np

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind
from scorer.event.model import DistanceKind, Event, Place
from scorer.facts import plain
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
    """List the doubts, each a sentence.

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
            says=plain(
                "neither terrain nor ground_elevation is given: ground distances are "
                "reduced at sea level, short by 0.16 m in a kilometre at 1,000 m"
            ),
        )


def _all(kind: MatterKind, texts: Iterable[str]) -> Iterator[Matter]:
    return (Matter(kind=kind, says=plain(text)) for text in texts)


def _of_datum(event: Event, plane: Plane) -> Iterator[str]:
    corners = [place.rings[0][0] for place in event.places]
    stated = [plane.accuracy_m(lat, lon) for lon, lat in corners]
    worst = max((step for step in stated if step is not None), default=0.0)
    if worst > _DATUM_M:
        size = "an unknown amount" if isinf(worst) else f"up to {worst:g} m"
        yield (
            f"{event.crs} ({plane.title}) and WGS84 may disagree by {size}: coordinates "
            "from satellite receivers and from its maps do not fit better than that"
        )


def _of_area(event: Event, plane: Plane) -> Iterator[str]:
    outside = [
        place.name
        for place in event.places
        if not all(plane.covers(lat, lon) for lon, lat in place.rings[0])
    ]
    if outside:
        yield (
            f"outside the area that {event.crs} ({plane.title}) is for: "
            f"{_list(outside)}; distances hold, coordinates may surprise"
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
        text = f"the terrain does not cover all of {_list(uncovered)}"
        yield Matter(kind=matters.TERRAIN, says=plain(text))
    pairs = [(f, w) for f, w in zip(found, written, strict=True) if w is not None]
    if pairs:
        yield from _all(matters.RULES, _of_pairs(np.array(pairs), terrain))


def _of_pairs(pairs: Array, terrain: Terrain) -> Iterator[str]:
    grid, written = np.median(pairs, axis=0)
    if abs(grid - written) <= _APART_M:
        return
    ratio = grid / written if written else 0.0
    hint = " as if the grid were in feet" if _FEET[0] < ratio < _FEET[1] else ""
    yield (
        f"{terrain.name} lies at {grid:.0f} m where the event says {written:.0f} m"
        f"{hint}: check the unit of both, and that the grid is the right one"
    )


def _heights(place: Place, terrain: Terrain) -> Array:
    corners = np.array(place.rings[0])
    return np.atleast_1d(terrain.elevation_m(corners[:, 1], corners[:, 0]))


def _list(names: list[str]) -> str:
    shown = ", ".join(f'"{name}"' for name in names[:6])
    more = len(names) - 6
    return f"{shown} and {more} more" if more > 0 else shown
