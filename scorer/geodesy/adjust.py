"""Redundant measurements of one mark, adjusted by least squares.

Gauss-Newton on the two unknowns of a point in the plane, weights 1 / sigma².  Distances
are compared in the event's distance kind, bearings on the grid.  Text books: Ghilani,
Adjustment Computations (2017), chapters 11 to 16; the test of single observations is
Baarda's (A Testing Procedure for Use in Geodetic Networks, 1968).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from math import cos, degrees, hypot, radians, sin, sqrt
from typing import NamedTuple

import numpy as np
from scipy.special import chdtrc

from scorer.errors import GeometryError
from scorer.geodesy.arrays import Array, Point
from scorer.geodesy.places import Spot
from scorer.geodesy.precision import (
    Covariance,
    Ellipse,
    as_covariance,
    error_ellipse,
)
from scorer.geodesy.site import Site

SUSPECT = 3.29
"""Normalised residual that a good observation exceeds once in a thousand (Baarda)."""
_ROUNDS = 60
_HALVINGS = 12
_STILL_M = 1e-7
_SAME_PLACE_M = 0.01
_SAME_FIT = 1e-3
_MOST_STARTS = 24
_SINGULAR = 1e-12


class Observed(StrEnum):
    """What an observation says of a mark."""

    DISTANCE = "distance"
    """Metres from a spot, of the event's kind."""
    BEARING = "bearing"
    """Degrees from grid north at a spot."""
    EAST = "east"
    """Metres in the plane."""
    NORTH = "north"
    """Metres in the plane."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One number that was measured of a mark."""

    kind: Observed
    value: float
    sigma: float
    """In the unit of `value`, greater than 0."""
    spot: Spot | None = None
    """Where a distance or bearing starts."""
    label: str = ""
    """Who measured it, from where; for people."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """The point that fits all observations best, and how well it does."""

    point: Point
    covariance: Covariance
    """Square metres, from the sigmas given (not scaled by `sigma0`)."""
    observations: tuple[Observation, ...]
    residuals: tuple[float, ...]
    """Observed minus adjusted, each in its observation's unit."""
    normalised: tuple[float | None, ...]
    """Residual by its own sigma; None where nothing else controls the observation."""
    redundancy: int
    """Observations beyond the two that a point needs."""
    chi_square: float
    """Sum of squared residuals in sigmas."""
    probability: float | None
    """Of so great a `chi_square` by chance alone; None without redundancy."""

    @property
    def sigma0(self) -> float | None:
        """Root of chi-square by redundancy: 1 where the sigmas are right."""
        return sqrt(self.chi_square / self.redundancy) if self.redundancy else None

    @property
    def ellipse(self) -> Ellipse:
        """One-sigma error ellipse."""
        return error_ellipse(self.covariance)

    @property
    def worst(self) -> int | None:
        """Index of the observation that fits worst; None where none is controlled."""
        sizes = [(abs(w), i) for i, w in enumerate(self.normalised) if w is not None]
        return max(sizes, key=lambda s: (s[0], -s[1]))[1] if sizes else None

    @property
    def suspect(self) -> int | None:
        """Index of the worst observation, where it is too bad to be chance."""
        worst = self.worst
        if worst is None or abs(self.normalised[worst] or 0.0) <= SUSPECT:
            return None
        return worst


class _Fit(NamedTuple):
    point: Point
    chi_square: float


def adjust(
    observations: Sequence[Observation], site: Site, *, near: Point | None = None
) -> Adjusted:
    """Adjust the observations of one mark.

    Parameters
    ----------
    observations : sequence of Observation
        At least two that fix a point.
    near : (east_m, north_m), optional
        Where the mark is about; decides between two points that fit alike, as two
        distances alone always have them.

    Raises
    ------
    GeometryError
        The observations fix no point, or two, or contradict each other so that no
        solution is found.
    """
    for item in observations:
        if not item.sigma > 0 or not np.isfinite(item.value):
            raise GeometryError(f"observation {item.label!r} has no value or no sigma")
    starts = list(_starts(observations)) if near is None else [near]
    if not starts:
        raise GeometryError(
            "these observations fix no point: give two distances, a distance and a "
            "bearing, two bearings, or coordinates"
        )
    fits = [fit for fit in (_fit(observations, site, s) for s in starts) if fit]
    if not fits:
        raise GeometryError(
            "no point fits these observations: measure again, or leave out the one "
            "that contradicts the others"
        )
    return _result(observations, site, _best(fits))


def _best(fits: list[_Fit]) -> Point:
    """Return the best fit; raise where another place fits as well."""
    best = min(fits, key=lambda fit: fit.chi_square)
    for other in fits:
        apart = hypot(other.point[0] - best.point[0], other.point[1] - best.point[1])
        if other.chi_square - best.chi_square < _SAME_FIT and apart > _SAME_PLACE_M:
            raise GeometryError(
                f"two points {apart:.2f} m apart fit these distances alike: say on "
                "which side of the line the mark lies, or measure from a third point"
            )
    return best.point


def _fit(observations: Sequence[Observation], site: Site, start: Point) -> _Fit | None:
    """Gauss-Newton with halved steps; None where it does not settle."""
    point, misfit = start, _misfit(observations, site, start)
    chi_square = float(misfit @ misfit)
    for _ in range(_ROUNDS):
        design = _design(observations, point)
        normal = design.T @ design
        if _is_singular(normal):
            return None
        step = np.linalg.solve(normal, design.T @ misfit)
        for _halving in range(_HALVINGS):
            trial = (point[0] + float(step[0]), point[1] + float(step[1]))
            after = _misfit(observations, site, trial)
            if float(after @ after) <= chi_square * (1 + 1e-12):
                break
            step = step / 2
        point, misfit, chi_square = trial, after, float(after @ after)
        if hypot(*step) < _STILL_M:
            return _Fit(point, chi_square)
    return None


def _misfit(observations: Sequence[Observation], site: Site, point: Point) -> Array:
    """Observed minus computed, in sigmas, (N,)."""
    values = [_difference(item, site, point) / item.sigma for item in observations]
    return np.array(values)


def _difference(item: Observation, site: Site, point: Point) -> float:
    """Observed minus computed, in the observation's unit."""
    if item.kind is Observed.EAST:
        return item.value - point[0]
    if item.kind is Observed.NORTH:
        return item.value - point[1]
    spot = _spot(item)
    if item.kind is Observed.DISTANCE:
        return item.value - site.distance_m(spot, point)
    turn = item.value - site.bearing_deg(spot, point)
    return (turn + 180.0) % 360.0 - 180.0


def _design(observations: Sequence[Observation], point: Point) -> Array:
    """Derivatives of the computed values by east and north, in sigmas, (N, 2)."""
    return np.array([_derivative(item, point) for item in observations])


def _derivative(item: Observation, point: Point) -> tuple[float, float]:
    if item.kind is Observed.EAST:
        return 1 / item.sigma, 0.0
    if item.kind is Observed.NORTH:
        return 0.0, 1 / item.sigma
    spot = _spot(item)
    east, north = point[0] - spot.point[0], point[1] - spot.point[1]
    length = max(hypot(east, north), 1e-6)
    if item.kind is Observed.DISTANCE:
        return east / length / item.sigma, north / length / item.sigma
    per_metre = degrees(1.0) / length**2 / item.sigma
    return north * per_metre, -east * per_metre


def _spot(item: Observation) -> Spot:
    if item.spot is None:
        raise GeometryError(f"{item.kind} {item.label!r} starts from no named point")
    return item.spot


def _is_singular(normal: Array) -> bool:
    least, greatest = np.linalg.eigvalsh(normal)
    return bool(not least > _SINGULAR * greatest)


def _result(observations: Sequence[Observation], site: Site, point: Point) -> Adjusted:
    design, misfit = _design(observations, point), _misfit(observations, site, point)
    cofactor = np.linalg.inv(design.T @ design)
    # share of each observation that the others do not control
    free = 1 - np.einsum("ij,jk,ik->i", design, cofactor, design)
    normalised = [
        float(v) / sqrt(r) if r > 1e-6 else None
        for v, r in zip(misfit, free, strict=True)
    ]
    chi_square, redundancy = float(misfit @ misfit), len(observations) - 2
    return Adjusted(
        point=point,
        covariance=as_covariance(cofactor),
        observations=tuple(observations),
        residuals=tuple(_difference(item, site, point) for item in observations),
        normalised=tuple(normalised),
        redundancy=redundancy,
        chi_square=chi_square,
        probability=float(chdtrc(redundancy, chi_square)) if redundancy else None,
    )


def _starts(observations: Sequence[Observation]) -> Iterator[Point]:
    """Points to start from: coordinates, and where pairs of observations meet."""
    east = next((o.value for o in observations if o.kind is Observed.EAST), None)
    north = next((o.value for o in observations if o.kind is Observed.NORTH), None)
    if east is not None and north is not None:
        yield east, north
    lines = [o for o in observations if o.spot is not None]
    found = 0
    for a, b in combinations(lines, 2):
        for point in _meeting(a, b):
            yield point
            found += 1
            if found >= _MOST_STARTS:
                return


def _meeting(a: Observation, b: Observation) -> Iterable[Point]:
    """Where two observations meet in the plane, roughly: scale and kind left out."""
    if a.kind is Observed.BEARING:
        a, b = b, a
    if a.kind is Observed.BEARING:
        return _rays(a, b)
    if b.kind is Observed.BEARING:
        return _arc_and_ray(a, b)
    return _two_arcs(a, b)


def _rays(a: Observation, b: Observation) -> Iterator[Point]:
    (x, y), (x2, y2) = _spot(a).point, _spot(b).point
    u, v = _unit(a.value), _unit(b.value)
    turn = u[0] * v[1] - u[1] * v[0]
    if abs(turn) > 1e-9:
        along = ((x2 - x) * v[1] - (y2 - y) * v[0]) / turn
        yield x + along * u[0], y + along * u[1]


def _arc_and_ray(arc: Observation, ray: Observation) -> Iterator[Point]:
    """Points of a ray at a distance from another point, or its nearest to it."""
    (x, y), (x2, y2) = _spot(ray).point, _spot(arc).point
    east, north = _unit(ray.value)
    foot = (x2 - x) * east + (y2 - y) * north
    aside = (x2 - x) * north - (y2 - y) * east
    half = sqrt(max(arc.value**2 - aside**2, 0.0))
    for along in sorted({foot + half, foot - half}):
        if along > 0:
            yield x + along * east, y + along * north


def _two_arcs(a: Observation, b: Observation) -> Iterator[Point]:
    """Both points where two arcs meet, or the nearest to it."""
    (x, y), (x2, y2) = _spot(a).point, _spot(b).point
    base = hypot(x2 - x, y2 - y)
    if base == 0:
        return
    east, north = (x2 - x) / base, (y2 - y) / base
    along = (a.value**2 - b.value**2 + base**2) / (2 * base)
    across = sqrt(max(a.value**2 - along**2, 0.0))
    for side in (across, -across) if across > 0 else (0.01, -0.01):
        yield x + along * east - side * north, y + along * north + side * east


def _unit(bearing_deg: float) -> tuple[float, float]:
    return sin(radians(bearing_deg)), cos(radians(bearing_deg))
