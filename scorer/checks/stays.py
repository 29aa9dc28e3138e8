"""A track and the areas of an event: which fixes are inside, when it enters and leaves.

A point on the outline counts as inside, as with marks.
"""

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from scorer.tracks.plain import diffs, marked

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Area = Polygon | MultiPolygon

CORNER_LEG_M = 6.0
"""Legs longer than this are looked at for corners they cut with both ends on one side.

Below it the corner is smaller than the error of the fixes.
"""
BLOCK = 32


class Stay(NamedTuple):
    """One stay in an area, POSIX seconds; open ends are the ends of the track."""

    enter_s: float
    leave_s: float


def inside(area: Area, east_m: Array, north_m: Array) -> Mask:
    """Tell for each fix, (N,), whether it lies inside; NaN is outside.

    Looks at the boxes around `BLOCK` fixes first: where a box does not touch the outline
    one fix answers for all in it.
    """
    shapely.prepare(area)
    if len(east_m) < 2 * BLOCK or not np.isfinite(east_m.sum() + north_m.sum()):
        return np.asarray(shapely.intersects_xy(area, east_m, north_m))
    start = np.arange(0, len(east_m), BLOCK)
    held = shapely.intersects_xy(area, east_m[start], north_m[start])
    held = np.repeat(held, BLOCK)[: len(east_m)]
    fixes = east_m, north_m
    where = marked(_touching(area, fixes, fixes))
    held[where] = shapely.intersects_xy(area, east_m[where], north_m[where])
    return np.asarray(held)


def _touching(area: Area, low: tuple[Array, Array], high: tuple[Array, Array]) -> Mask:
    """Tell which boxes, (N,), may touch the outline: by the boxes around `BLOCK` each."""
    start = np.arange(0, len(low[0]), BLOCK)
    west, south = (np.minimum.reduceat(xy, start) for xy in low)
    east, north = (np.maximum.reduceat(xy, start) for xy in high)
    outline = area.boundary
    shapely.prepare(outline)
    touched = shapely.intersects(outline, shapely.box(west, south, east, north))
    return np.repeat(touched, BLOCK)[: len(low[0])]


def inside_any(areas: Iterable[Area], east_m: Array, north_m: Array) -> Mask:
    """Tell for each fix, (N,), whether it lies inside one of several areas."""
    held = np.zeros(len(east_m), dtype=bool)
    for area in areas:
        held |= inside(area, east_m, north_m)
    return held


def stays(area: Area, time_s: Array, east_m: Array, north_m: Array) -> list[Stay]:
    """Return each stay in an area, in order, with its ends where the outline is crossed.

    Between two fixes the way is straight and the speed even.  A corner cut by a leg of
    more than `CORNER_LEG_M` is a stay too, or the gap between two.
    """
    if not len(time_s):
        return []
    held = inside(area, east_m, north_m)
    turns = _crossings_s(area, held, time_s, (east_m, north_m))
    if held[0]:
        turns.insert(0, float(time_s[0]))
    if held[-1]:
        turns.append(float(time_s[-1]))
    return [Stay(a, b) for a, b in zip(turns[0::2], turns[1::2], strict=True)]


def first_entry_s(
    areas: Iterable[Area], time_s: Array, east_m: Array, north_m: Array
) -> float | None:
    """Return when a track is first inside any of several areas; None = never."""
    entries = [
        stay.enter_s
        for area in areas
        for stay in stays(area, time_s, east_m, north_m)[:1]
    ]
    return min(entries, default=None)


def _crossings_s(
    area: Area, held: Mask, time_s: Array, plane: tuple[Array, Array]
) -> list[float]:
    """Return the times at which the side changes, in order."""
    east, north = plane
    flips = held[1:] != held[:-1]
    looked = np.hypot(diffs(east), diffs(north)) > CORNER_LEG_M
    if looked.any():
        low = [np.minimum(xy[:-1], xy[1:]) for xy in plane]
        high = [np.maximum(xy[:-1], xy[1:]) for xy in plane]
        looked &= _touching(area, (low[0], low[1]), (high[0], high[1]))
    looked |= flips
    at = marked(looked)
    shares = _shares(area.boundary, np.column_stack(plane)[np.array([at, at + 1]).T])
    times: list[float] = []
    each = zip(at.tolist(), flips[at].tolist(), shares, strict=True)
    for i, flipped, met in each:  # plain numbers: a leg or two of dozens meet it
        crossed = met
        if len(met) % 2 != flipped:
            # A leg that touches the outline without crossing it can give one too many.
            crossed = met[:-1] if met else [0.5]
        times += [float(time_s[i] + s * (time_s[i + 1] - time_s[i])) for s in crossed]
    return times


def _shares(outline: shapely.Geometry, legs_en_m: Array) -> list[list[float]]:
    """Return where on each leg, (N, 2, 2), it meets an outline, 0 to 1, in order."""
    legs = np.asarray(shapely.linestrings(legs_en_m))
    shapely.prepare(outline)
    meeting = marked(shapely.intersects(outline, legs))
    met = shapely.intersection(legs[meeting], outline)
    points, of = shapely.get_coordinates(met, return_index=True)
    leg = meeting[of]
    along = shapely.line_locate_point(
        legs[leg], shapely.points(points), normalized=True
    )
    shares: list[list[float]] = [[] for _ in legs]
    for i in np.lexsort((along, leg)):
        shares[leg[i]].append(float(along[i]))
    return shares
