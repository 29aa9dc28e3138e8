"""Where a track is inside a volume of air: crossings between fixes and ways flown inside.

A moment of a track is written as one number `u`: 12.25 is a quarter of the way from fix 12
to fix 13.  Between two fixes the way is straight and the speed even.  Stretches of a track
are arrays (K, 2) of from and to in `u`, in order and apart; so joining volumes and cutting
holes out of them is arithmetic on numbers, not on polygons.
"""

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import MultiPolygon, Point, Polygon

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Mask = NDArray[np.bool_]

_LINE = 1  # shapely's type of a plain line
NOWHERE: Array = np.empty((0, 2))


class PlaneTrack(NamedTuple):
    """A track in the event's plane; all arrays are (N,), NaN where not recorded."""

    time_s: Array
    east_m: Array
    north_m: Array
    altitude_m: Array
    """Above mean sea level."""


class Volume(NamedTuple):
    """An area of the plane with a floor and a ceiling."""

    area: Polygon | MultiPolygon
    lower_m: float | None = None
    """Above mean sea level; None = from the ground."""
    upper_m: float | None = None
    """Above mean sea level; None = no ceiling."""


def inside(path: PlaneTrack, volume: Volume) -> Array:
    """Return the stretches (K, 2) in `u` of a path that lie in a volume.

    A leg with an end that was not recorded is outside, and so is one without altitude
    where the volume has a floor or a ceiling.
    """
    if len(path.time_s) < 2:
        return NOWHERE
    low, high = _between_levels(path.altitude_m, volume.lower_m, volume.upper_m)
    east, north = path.east_m, path.north_m
    usable = np.isfinite(np.diff(east) + np.diff(north)) & (high >= low)
    legs = np.flatnonzero(usable & _near(volume.area, east, north))
    if not legs.size:
        return NOWHERE
    leg, enter, leave = _shares(volume.area, legs, east, north)
    enter, leave = np.maximum(enter, low[leg]), np.minimum(leave, high[leg])
    kept = leave > enter
    return union(np.column_stack((leg + enter, leg + leave))[kept])


def _between_levels(
    altitude: Array, lower: float | None, upper: float | None
) -> tuple[Array, Array]:
    """Return from which share of each leg to which it is between two levels, (N-1,).

    Nowhere is a share from 1 to 0.
    """
    start, rise = altitude[:-1], np.diff(altitude)
    low, high = np.zeros(len(rise)), np.ones(len(rise))
    for level, sign in ((lower, 1.0), (upper, -1.0)):
        if level is None:
            continue
        over, climb = sign * (start - level), sign * rise
        with np.errstate(divide="ignore", invalid="ignore"):
            share = -over / climb
        low = np.where((climb > 0) & (over < 0), np.maximum(low, share), low)
        high = np.where((climb < 0) & (over + climb < 0), np.minimum(high, share), high)
        never = ~(np.maximum(over, over + climb) >= 0)  # NaN is never
        low, high = np.where(never, 1.0, low), np.where(never, 0.0, high)
    return low, high


def _near(area: Polygon | MultiPolygon, east: Array, north: Array) -> Mask:
    """Tell of each leg whether its box meets that of the area."""
    if area.is_empty:
        return np.zeros(len(east) - 1, dtype=bool)
    west, south, right, top = area.bounds
    return np.asarray(
        (np.fmax(east[:-1], east[1:]) >= west)
        & (np.fmin(east[:-1], east[1:]) <= right)
        & (np.fmax(north[:-1], north[1:]) >= south)
        & (np.fmin(north[:-1], north[1:]) <= top)
    )


def _shares(
    area: Polygon | MultiPolygon, legs: Index, east: Array, north: Array
) -> tuple[Index, Array, Array]:
    """Return leg, and from which share to which it is in an area: three arrays (K,)."""
    ends = np.stack(
        (
            np.column_stack((east[legs], north[legs])),
            np.column_stack((east[legs + 1], north[legs + 1])),
        ),
        axis=1,
    )
    shapely.prepare(area)
    lines: NDArray[np.object_] = np.asarray(shapely.linestrings(ends))
    whole = np.asarray(shapely.covers(area, lines))
    still = (ends[:, 0] == ends[:, 1]).all(axis=1)
    whole[still] = shapely.intersects_xy(area, *ends[still, 0].T)
    cut = np.flatnonzero(~whole & ~still & shapely.intersects(area, lines))
    leg, enter, leave = _cut_shares(area, lines[cut], ends[cut])
    count = int(whole.sum())
    return (
        np.concatenate((legs[whole], legs[cut][leg])),
        np.concatenate((np.zeros(count), enter)),
        np.concatenate((np.ones(count), leave)),
    )


def _cut_shares(
    area: Polygon | MultiPolygon, lines: NDArray[np.object_], ends: Array
) -> tuple[Index, Array, Array]:
    """Cut legs by an area's outline; a mere touch gives nothing."""
    pieces, leg = shapely.get_parts(
        shapely.intersection(lines, area), return_index=True
    )
    flat = shapely.get_type_id(pieces) == _LINE
    pieces, leg = pieces[flat], leg[flat]
    if not len(pieces):
        return np.empty(0, dtype=np.int64), np.empty(0), np.empty(0)
    first, last = (
        shapely.get_coordinates(shapely.get_point(pieces, i)) for i in (0, -1)
    )
    start, step = ends[leg, 0], ends[leg, 1] - ends[leg, 0]
    size = (step**2).sum(axis=1)
    shares = np.stack(
        [((p - start) * step).sum(axis=1) / size for p in (first, last)], axis=1
    )
    shares = np.sort(shares.clip(0.0, 1.0), axis=1)
    return leg.astype(np.int64), shares[:, 0], shares[:, 1]


def union(*stretches: Array) -> Array:
    """Join stretches; those that overlap or touch become one."""
    spans = np.concatenate((NOWHERE, *stretches))
    spans = spans[spans[:, 0].argsort(kind="stable")]
    if not len(spans):
        return NOWHERE
    reach = np.maximum.accumulate(spans[:, 1])
    opens = np.concatenate(([True], spans[1:, 0] > reach[:-1]))
    starts = np.flatnonzero(opens)
    closes = np.concatenate((starts[1:] - 1, [len(spans) - 1]))
    return np.column_stack((spans[starts, 0], reach[closes]))


def minus(stretches: Array, holes: Array) -> Array:
    """Take holes out of stretches."""
    holes = union(holes)
    kept = []
    for start, end in union(stretches):
        edges = holes[(holes[:, 1] > start) & (holes[:, 0] < end)].clip(start, end)
        cuts = np.concatenate(([start], edges.ravel(), [end])).reshape(-1, 2)
        kept.append(cuts[cuts[:, 1] > cuts[:, 0]])
    return np.concatenate((NOWHERE, *kept))


def clip(stretches: Array, start: float, end: float) -> Array:
    """Keep what lies between two moments in `u`."""
    cut = stretches.clip(start, end)
    return cut[cut[:, 1] > cut[:, 0]]


def value_at(values: Array, u: ArrayLike) -> Array:
    """Return a quantity of the track at moments in `u`, linear between fixes."""
    at = np.asarray(u, dtype=float)
    return np.asarray(np.interp(at, np.arange(len(values)), values))


def moment(path: PlaneTrack, time_s: float) -> float:
    """Return `u` of a time; before the track 0, after it the last fix."""
    return float(np.interp(time_s, path.time_s, np.arange(len(path.time_s))))


def length_m(stretches: Array, leg_m: Array) -> Array:
    """Return the way flown in each stretch, (K,).

    Parameters
    ----------
    stretches : ndarray, shape (K, 2)
        From and to in `u`.
    leg_m : ndarray, shape (N-1,)
        Length of each leg, metres; NaN counts as nothing.
    """
    way = np.concatenate(([0.0], np.nancumsum(leg_m)))
    return value_at(way, stretches[:, 1]) - value_at(way, stretches[:, 0])


def circle(
    centre: tuple[float, float], outer_m: float, inner_m: float = 0.0
) -> Polygon:
    """Return a disc or a ring, outlines within a 200,000th of the radius.

    The corners lie on the circle: of 4 × 256 chords the middle is r(1 − cos(π/1024)) =
    4.7e-6 r inside it, 9 mm on 2 km.
    """
    disc = Point(centre).buffer(outer_m, quad_segs=256)
    if inner_m <= 0:
        return disc
    hole = Point(centre).buffer(inner_m, quad_segs=256)
    return Polygon(disc.exterior, [hole.exterior])
