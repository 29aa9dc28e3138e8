"""Distances between the points of a task, and whether they lie in its areas."""

import math
from collections.abc import Iterable

import numpy as np
import shapely

from scorer.event.model import Method
from scorer.geodesy.arrays import Array
from scorer.geodesy.precision import error_ellipse, sigma_towards
from scorer.tasks.base import Quantity
from scorer.tasks.geometry import added
from scorer.tasks.points import Located, placed
from scorer.tasks.work import NoResult, Work
from scorer.tracks.flown import Flown

NEAR_SIGMAS = 2.0
"""A mark nearer than this to an outline could be on the other side of it."""


def distance(work: Work, a: Located, b: Located) -> Quantity:
    """Measure between two points as the rule book says: 2D or 3D, with the working.

    A taped distance is taken as it was taped.  In 3D the heights of both points enter
    where either is in the air; marks on the ground lie on it.
    """
    flat = _flat(work, a, b)
    in_air = (a.mark and a.mark.method is Method.LOG) or (
        b.mark and b.mark.method is Method.LOG
    )
    if work.evidence.book.tracks.dimensions != 3 or not in_air:
        work.say(f"{a.name} to {b.name}: {work.length(flat.value)}")
        return flat
    if a.altitude_m is None or b.altitude_m is None:
        missing = a.name if a.altitude_m is None else b.name
        work.warn(
            f"the book asks for 3D distance and the height of {missing} is not known: "
            "give the place an elevation_m, or the event a ground_elevation"
        )
        raise NoResult(f"3D distance without the height of {missing}")
    rise = b.altitude_m - a.altitude_m
    slope = math.hypot(flat.value, rise)
    rise_sigma = math.hypot(a.altitude_sigma_m, b.altitude_sigma_m)
    parts = (flat.value * flat.sigma, rise * rise_sigma)
    sigma = math.hypot(*parts) / slope if slope > 0 else math.hypot(*flat, rise_sigma)
    work.say(
        f"{a.name} to {b.name}: √({flat.value:.2f}² + {rise:.2f}²) = "
        f"{work.length(slope)} in 3D"
    )
    return Quantity(slope, sigma)


def _flat(work: Work, a: Located, b: Located) -> Quantity:
    for taped, other in ((a, b), (b, a)):
        if taped.mark is None or taped.mark.distance_m is None:
            continue
        if taped.taped_from is not None and taped.taped_from == other.point:
            return Quantity(taped.mark.distance_m, taped.mark.sigma_m or 0.0)
    if a.point is None or b.point is None:
        bare = a.name if a.point is None else b.name
        work.warn(
            f"{bare} is taped without a bearing, so its place is not known: key the "
            "bearing, or the tape from the point this task counts from"
        )
        raise NoResult(f"the place of {bare} is not known")
    step = (b.point[0] - a.point[0], b.point[1] - a.point[1])
    sigma = sigma_towards(added(a.covariance, b.covariance), *step)
    return Quantity(surface_m(work, a, b), sigma)


def surface_m(work: Work, a: Located, b: Located) -> float:
    """Measure between two points on the event's surface, places by their elevation."""
    ends = [at.spot or placed(work, at) for at in (a, b)]
    return work.evidence.site.distance_m(*ends)


def require_inside(work: Work, at: Located, areas: Iterable[str]) -> tuple[str, ...]:
    """Return the areas that a mark lies in, edges included; none where none is asked.

    Raises
    ------
    NoResult
        It lies outside all of them.
    """
    names = tuple(areas)
    if not names:
        return ()
    site = work.evidence.site
    if at.point is None:
        return _inside_by_tape(work, at, names)
    spot = shapely.Point(at.point)
    gaps = {name: float(site.area(name).distance(spot)) for name in names}
    held = [name for name, gap in gaps.items() if gap == 0.0]
    edge = min(float(site.area(n).boundary.distance(spot)) for n in held or names)
    if edge < NEAR_SIGMAS * error_ellipse(at.covariance).major_m:
        side = "inside" if held else "outside"
        work.warn(
            f"{at.name} lies {edge:.1f} m {side} the edge of the area, nearer than its "
            "uncertainty lets tell: look at it"
        )
    if not held:
        nearest_one = min(gaps, key=gaps.__getitem__)
        raise NoResult(
            f'{at.name} is outside the scoring area "{nearest_one}" by '
            f"{work.length(gaps[nearest_one])}"
        )
    quoted = '" and "'.join(held)
    work.say(f'{at.name} is inside "{quoted}"')
    return tuple(held)


def _inside_by_tape(work: Work, at: Located, names: tuple[str, ...]) -> tuple[str, ...]:
    """Tell from a taped distance alone: a whole circle inside settles it."""
    site = work.evidence.site
    if at.taped_from is not None and at.mark is not None:
        spot, reach = shapely.Point(at.taped_from), at.mark.distance_m or 0.0
        for name in names:
            area = site.area(name)
            if area.covers(spot) and area.boundary.distance(spot) > reach:
                work.say(
                    f'{at.name} is inside "{name}", wherever it lies on that circle'
                )
                return (name,)
    work.warn(
        f"{at.name} is taped without a bearing: whether it lies inside the scoring area "
        "cannot be told; it counts as inside until somebody keys the bearing"
    )
    return names


def leg_m(work: Work, flown: Flown, *, slope: bool = False) -> Array:
    """Return the length of each leg of a track on the event's surface, (N-1,).

    With `slope` along it, by the altitudes.  NaN where an end was not recorded; such a
    track is measured on the grid, since no plane can place its fixes.
    """
    start, end = (
        (flown.east_m[part], flown.north_m[part])
        for part in (slice(-1), slice(1, None))
    )
    if np.isfinite(flown.east_m + flown.north_m).all():
        flat = np.asarray(work.evidence.site.distance_m(start, end))
    else:
        flat = np.hypot(end[0] - start[0], end[1] - start[1])
    return np.hypot(flat, np.diff(flown.altitude_m)) if slope else flat
