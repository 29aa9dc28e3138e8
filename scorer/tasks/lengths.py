"""Distances between the points of a task, and whether they lie in its areas."""

import math
from collections.abc import Iterable

import numpy as np
import shapely

from scorer.event.model import Method
from scorer.facts import fact, length, place, several
from scorer.geodesy.arrays import Array
from scorer.geodesy.precision import error_ellipse, sigma_towards
from scorer.tasks.base import Apart, Quantity, Together
from scorer.tasks.geometry import added
from scorer.tasks.points import Located, placed
from scorer.tasks.work import NoResult, Work
from scorer.tracks.flown import Flown

SCALE = 0.002
"""Share by which the plane of an event and its ground may differ: the scale of a UTM zone
is at most 0.001 off within its bounds, and 3 km of height another 0.0005."""
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
        work.say(fact("leg", start=a.name, end=b.name, length=length(flat.value)))
        return flat
    if a.altitude_m is None or b.altitude_m is None:
        missing = a.name if a.altitude_m is None else b.name
        raise work.failed(fact("height-unknown", point=missing))
    rise = b.altitude_m - a.altitude_m
    slope = math.hypot(flat.value, rise)
    rise_sigma = math.hypot(a.altitude_sigma_m, b.altitude_sigma_m)
    parts = (flat.value * flat.sigma, rise * rise_sigma)
    sigma = (
        math.hypot(*parts) / slope if slope > 0 else math.hypot(*flat[:2], rise_sigma)
    )
    work.say(
        fact(
            "leg-in-3d",
            start=a.name,
            end=b.name,
            flat=length(flat.value),
            rise=length(rise),
            slope=length(slope),
        )
    )
    return Quantity(slope, sigma, _risen(flat.apart, rise, rise_sigma))


def _risen(
    flat: Apart | Together | None, rise_m: float, sigma_m: float
) -> Apart | None:
    """Add the third dimension."""
    if not isinstance(flat, Apart):
        return None
    (ee, en), (ne, nn) = flat.covariance_m2
    covariance = ((ee, en, 0.0), (ne, nn, 0.0), (0.0, 0.0, sigma_m**2))
    return Apart((*flat.vector_m, rise_m), covariance)


def _flat(work: Work, a: Located, b: Located) -> Quantity:
    for taped, other in ((a, b), (b, a)):
        if taped.mark is None or taped.mark.distance_m is None:
            continue
        if taped.taped_from is not None and taped.taped_from == other.point:
            return Quantity(taped.mark.distance_m, taped.mark.sigma_m or 0.0)
    if a.point is None or b.point is None:
        bare = a.name if a.point is None else b.name
        raise work.failed(fact("mark-without-bearing", point=bare))
    step = (b.point[0] - a.point[0], b.point[1] - a.point[1])
    covariance = added(a.covariance, b.covariance)
    sigma = sigma_towards(covariance, *step)
    return Quantity(surface_m(work, a, b), sigma, Apart(step, covariance))


def surface_m(work: Work, a: Located, b: Located) -> float:
    """Measure between two points on the event's surface, places by their elevation."""
    ends = [at.spot or placed(work, at) for at in (a, b)]
    return work.evidence.site.distance_m(*ends)


ROUNDING_M = 1e-4
"""What comes of arithmetic and not of measuring: what lies so near a limit lies on it."""


def under(metres: float, least: float) -> bool:
    """Tell whether a length is less than the least that is asked for."""
    return metres < least - ROUNDING_M


def over(metres: float, most: float) -> bool:
    """Tell whether a length is more than the most that is let pass."""
    return metres > most + ROUNDING_M


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
    held = [name for name, gap in gaps.items() if not over(gap, 0.0)]
    edge = min(float(site.area(n).boundary.distance(spot)) for n in held or names)
    if edge < NEAR_SIGMAS * error_ellipse(at.covariance).major_m:
        kind = "near-edge-inside" if held else "near-edge-outside"
        work.warn(fact(kind, point=at.name, edge=length(edge)))
    if not held:
        nearest_one = min(gaps, key=gaps.__getitem__)
        gap = length(gaps[nearest_one])
        area = place(nearest_one)
        raise NoResult(fact("outside-area", point=at.name, area=area, gap=gap))
    work.say(fact("inside-area", point=at.name, areas=several(map(place, held))))
    return tuple(held)


def _inside_by_tape(work: Work, at: Located, names: tuple[str, ...]) -> tuple[str, ...]:
    """Tell from a taped distance alone, which puts a mark somewhere on a circle.

    A circle wholly inside an area settles it, one that no area reaches does too; between
    them people are asked.
    """
    site = work.evidence.site
    if at.taped_from is None or at.mark is None:
        work.warn(fact("inside-unknown", point=at.name))
        return names
    spot, reach = shapely.Point(at.taped_from), at.mark.distance_m or 0.0
    slack = NEAR_SIGMAS * (at.mark.sigma_m or 0.0) + SCALE * reach
    bounds = {name: _reach(site.area(name), spot) for name in names}
    for name in names:
        area = site.area(name)
        if area.covers(spot) and area.boundary.distance(spot) > reach:
            whole = fact("inside-area-by-tape", point=at.name, area=place(name))
            work.say(whole)
            return (name,)
    near = {
        name: max(least - reach, reach - most) for name, (least, most) in bounds.items()
    }
    nearest_one = min(near, key=near.__getitem__)
    if near[nearest_one] > slack:
        gap = length(near[nearest_one])
        area_ = place(nearest_one)
        raise NoResult(fact("outside-area", point=at.name, area=area_, gap=gap))
    work.warn(fact("inside-unknown", point=at.name))
    return tuple(name for name in names if near[name] <= slack)


def _reach(area: shapely.Geometry, spot: shapely.Point) -> tuple[float, float]:
    """Return how far the nearest and the farthest point of an area lie from a spot."""
    corners = shapely.get_coordinates(area)
    farthest = float(np.hypot(*(corners - (spot.x, spot.y)).T).max())
    return float(shapely.distance(area, spot)), farthest


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


def flight_in_u(flown: Flown) -> tuple[float, float]:
    """Return from which moment to which a track flew, in `u` as `crossing` has it.

    By the fitted launch and landing where the log shows them; else by its fixes.
    """
    left, down = flown.lift_off(flown.launch), flown.touch_down
    start = float(flown.launch or 0)
    end = float(len(flown) - 1 if flown.landing is None else flown.landing)
    if left is not None:
        start = _in_u(flown, left.time_s)
    if down is not None and down.at == flown.landing:
        end = _in_u(flown, down.time_s)
    return start, max(start, end)


def _in_u(flown: Flown, time_s: float) -> float:
    return float(np.interp(time_s, flown.time_s, np.arange(len(flown))))
