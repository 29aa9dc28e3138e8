"""A mark from two distances: where two arcs about two named points meet."""

from dataclasses import dataclass
from math import acos, atan2, degrees, hypot, sqrt

import numpy as np

from scorer.errors import GeometryError
from scorer.facts import fact, length, place
from scorer.geodesy.arrays import Array, Point
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import Covariance, as_covariance, axes_covariance
from scorer.geodesy.site import Site
from scorer.geodesy.together import Asking, distance, offset

LEAST_CUT_DEG = 30.0
"""Arcs that cut at less than this fix a point badly.  Common practice in surveying, no
source."""
SLACK_SIGMAS = 3.0
"""Arcs that miss each other by no more than this are taken to touch.  Our choice."""
_ROUNDS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """One distance from a named point."""

    spot: Spot
    distance_m: float
    """Of the event's kind."""
    sigma_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """Where two arcs meet."""

    point: Point
    covariance: Covariance
    base_m: float
    """Between the two named points."""
    angle_deg: float
    """Between the two lines at the mark, 0 to 180; best near 90."""
    missing_m: float
    """By how much the arcs miss each other, 0 where they cut."""


def cut(site: Site, a: Arc, b: Arc, side: str) -> Asking[Cut]:
    """Intersect two arcs on a side of the line from the first point to the second.

    Parameters
    ----------
    side : str
        `L` or `R`.

    Raises
    ------
    GeometryError
        The points are one and the same, or the arcs miss each other by more than
        `SLACK_SIGMAS` sigmas; the text says by how much.
    """
    base_m = yield distance(a.spot, b.spot)
    missing = _missing(a, b, base_m)
    if missing > 0:
        return (yield from _touch(site, a, b, base_m, missing))
    point = yield from _cross(a, b, base_m, -1.0 if side == "R" else 1.0)
    return _cut(a, b, point, base_m)


def _missing(a: Arc, b: Arc, base_m: float) -> float:
    """Gap between the arcs in metres; raise where no slack of a tape explains it."""
    ends = {"first": place(a.spot.name), "second": place(b.spot.name)}
    if base_m == 0:
        raise GeometryError(fact("arcs-from-one-point", **ends))
    apart = base_m - a.distance_m - b.distance_m
    within = abs(a.distance_m - b.distance_m) - base_m
    gap = max(apart, within, 0.0)
    if gap <= SLACK_SIGMAS * hypot(a.sigma_m, b.sigma_m):
        return gap
    raise GeometryError(
        fact(
            "arcs-too-short" if apart > 0 else "arcs-too-long",
            **ends,
            base=length(base_m),
            one=length(a.distance_m),
            other=length(b.distance_m),
            gap=length(gap),
        )
    )


def _cross(a: Arc, b: Arc, base_m: float, side: float) -> Asking[Point]:
    """Intersect in the plane, with the radii made true by what they measure there."""
    (x, y), (x2, y2) = a.spot.point, b.spot.point
    base = hypot(x2 - x, y2 - y)
    east, north = (x2 - x) / base, (y2 - y) / base
    r, s = a.distance_m * base / base_m, b.distance_m * base / base_m
    point = a.spot.point
    for _ in range(_ROUNDS):
        along = (r * r - s * s + base * base) / (2 * base)
        across = side * sqrt(max(r * r - along * along, 0.0))
        before = point
        point = (
            x + along * east - across * north,
            y + along * north + across * east,
        )
        if hypot(point[0] - before[0], point[1] - before[1]) < 1e-9:
            break
        r *= _ratio(a.distance_m, (yield distance(a.spot, point)))
        s *= _ratio(b.distance_m, (yield distance(b.spot, point)))
    return point


def _ratio(wanted: float, got: float) -> float:
    return wanted / got if got > 0 else 1.0


def _cut(a: Arc, b: Arc, point: Point, base_m: float) -> Cut:
    u, r = _ray(a.spot.point, point)
    v, s = _ray(b.spot.point, point)
    cosine = float(np.clip(u @ v, -1.0, 1.0))
    sine = sqrt(1 - cosine * cosine)
    along, across = _flat_sigmas(a, b, (r, s), between=cosine < 0)
    # where the arcs all but touch, the circles bend away before their tangents meet
    if min(r, s) == 0 or hypot(a.sigma_m, b.sigma_m) > across * sine:
        east, north = u - v if cosine < 0 else u + v
        covariance = axes_covariance(degrees(atan2(east, north)), along, across)
    else:
        inverse = np.linalg.inv(np.vstack([u, v]))
        sigmas = np.diag([a.sigma_m**2, b.sigma_m**2])
        covariance = as_covariance(inverse @ sigmas @ inverse.T)
    return Cut(
        point=point,
        covariance=covariance,
        base_m=base_m,
        angle_deg=degrees(acos(cosine)),
        missing_m=0.0,
    )


def _ray(start: Point, end: Point) -> tuple[Array, float]:
    """Unit vector (east, north) and length of a line."""
    step = np.array([end[0] - start[0], end[1] - start[1]])
    size = float(np.hypot(*step))
    return (step / size if size else np.array([1.0, 0.0])), size


def _flat_sigmas(
    a: Arc, b: Arc, radii: tuple[float, float], *, between: bool
) -> tuple[float, float]:
    """Sigmas along and across the line through both points where the arcs touch.

    Two circles of radii r, s that overlap by d cut at sqrt(2 d r s / (r + s)) off that
    line, by the sagitta h² / 2r of each; one within the other with |r - s| for r + s.
    """
    r, s = radii
    sigma = hypot(a.sigma_m, b.sigma_m)
    reach = max(r, s)
    bent = r + s if between else abs(r - s)
    across = min(reach, sqrt(2 * sigma * r * s / bent)) if bent else reach
    along = a.sigma_m * b.sigma_m / sigma if sigma else 0.0
    return along, max(across, sigma)


def _touch(site: Site, a: Arc, b: Arc, base_m: float, missing_m: float) -> Asking[Cut]:
    """Put the mark on the line through both points, the gap shared by variance."""
    variance = a.sigma_m**2 + b.sigma_m**2
    share = missing_m * (a.sigma_m**2 / variance)
    if a.distance_m + b.distance_m < base_m:
        along, angle = a.distance_m + share, 180.0
    elif a.distance_m > b.distance_m:
        along, angle = a.distance_m - share, 0.0
    else:
        along, angle = -(a.distance_m + share), 0.0
    bearing = site.bearing_deg(a.spot, b.spot)
    if along < 0:
        bearing, along = (bearing + 180.0) % 360.0, -along
    point = yield offset(a.spot, bearing, along)
    radii = (a.distance_m, b.distance_m)
    sigmas = _flat_sigmas(a, b, radii, between=angle == 180.0)
    return Cut(
        point=point,
        covariance=axes_covariance(bearing, *sigmas),
        base_m=base_m,
        angle_deg=angle,
        missing_m=missing_m,
    )
