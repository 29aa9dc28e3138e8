"""Many small sums of geodesy done as arrays: each asks, all are answered together.

A reduction is a generator that yields an `Ask` and is sent the answer.  `together` runs
many of them side by side: what they ask at one time is one sum over arrays, with the same
bits as if each had been asked alone.
"""

from collections import defaultdict
from collections.abc import Callable, Generator, Mapping, Sequence
from enum import Enum
from typing import Any, NamedTuple, TypeVar

import numpy as np

from scorer.errors import GeometryError, ScorerError
from scorer.geodesy.arrays import Array, Point, columns
from scorer.geodesy.placed import Spot
from scorer.geodesy.site import Site, Somewhere


class AskedSum(Enum):
    """What may be asked."""

    DISTANCE = "distance"
    OFFSET = "offset"
    BEARING = "bearing"
    PLACE = "place"


class Ask(NamedTuple):
    """One sum, and what it is about."""

    what: AskedSum
    about: tuple[Any, ...]


T = TypeVar("T")
Asking = Generator[Ask, Any, T]
"""A reduction under way: it yields what it asks, and returns what it comes to."""


def distance(a: Somewhere, b: Somewhere) -> Ask:
    """Ask for the distance of the event's kind between two points, metres."""
    return Ask(AskedSum.DISTANCE, (a, b))


def offset(a: Somewhere, bearing_deg: float, distance_m: float) -> Ask:
    """Ask for the point at a grid bearing and a distance of the event's kind."""
    return Ask(AskedSum.OFFSET, (a, bearing_deg, distance_m))


def grid_bearing(a: Spot, true_deg: float, length_m: float) -> Ask:
    """Ask for the grid bearing of a line that leaves a point at a true bearing."""
    return Ask(AskedSum.BEARING, (a, true_deg, length_m))


def in_plane(lat_deg: float, lon_deg: float) -> Ask:
    """Ask for the point of the plane at a latitude and longitude."""
    return Ask(AskedSum.PLACE, (lat_deg, lon_deg))


def alone(site: Site, asking: Asking[T]) -> T:
    """Run one reduction; raise what it raises."""
    (found,) = together(site, [asking])
    if isinstance(found, ScorerError):
        raise found
    return found


def together(site: Site, askings: Sequence[Asking[T]]) -> list[T | ScorerError]:
    """Run reductions side by side; return what each comes to, or the error it raised."""
    found: dict[int, T | ScorerError] = {}
    waiting: dict[int, Ask] = {}

    def go_on(index: int, answer: object) -> None:
        own = askings[index]
        try:
            if isinstance(answer, ScorerError):
                waiting[index] = own.throw(answer)
            else:
                waiting[index] = own.send(answer)
        except StopIteration as end:
            found[index] = end.value
        except ScorerError as error:
            found[index] = error

    for index in range(len(askings)):
        go_on(index, None)
    while waiting:
        asked, waiting = waiting, {}
        alike: dict[AskedSum, list[int]] = defaultdict(list)
        for index, ask in asked.items():
            alike[ask.what].append(index)
        for what, own in alike.items():
            answers = _answers(site, what, [asked[index].about for index in own])
            for index, answer in zip(own, answers, strict=True):
                go_on(index, answer)
    return [found[index] for index in range(len(askings))]


def _answers(
    site: Site, what: AskedSum, about: Sequence[tuple[Any, ...]]
) -> Sequence[object]:
    """Answer all at once; where one cannot be answered, each by itself."""
    try:
        return _SUMS[what](site, list(zip(*about, strict=True)))
    except GeometryError as error:
        if len(about) == 1:
            return [error]
        return [answer for one in about for answer in _answers(site, what, [one])]


def _distances(site: Site, about: Sequence[Sequence[Any]]) -> Sequence[object]:
    measured: list[float] = site.distances_m(*about).tolist()
    return measured


def _offsets(site: Site, about: Sequence[Sequence[Any]]) -> Sequence[object]:
    return _points(*site.offsets(*about))


def _bearings(site: Site, about: Sequence[Sequence[Any]]) -> Sequence[object]:
    spots, true_deg, length_m = about
    starts = columns([spot.point for spot in spots])
    turned = site.plane.grid_bearing_deg(starts, np.array(true_deg), np.array(length_m))
    bearings: list[float] = turned.tolist()
    return bearings


def _places(site: Site, about: Sequence[Sequence[Any]]) -> Sequence[object]:
    lat, lon = (np.array(degrees, dtype=float) for degrees in about)
    return _points(*site.plane.to_plane(lat, lon))


_SUMS: Mapping[
    AskedSum, Callable[[Site, Sequence[Sequence[Any]]], Sequence[object]]
] = {
    AskedSum.DISTANCE: _distances,
    AskedSum.OFFSET: _offsets,
    AskedSum.BEARING: _bearings,
    AskedSum.PLACE: _places,
}


def _points(east_m: Array, north_m: Array) -> list[Point]:
    """Make points of columns."""
    return list(zip(east_m.tolist(), north_m.tolist(), strict=True))
