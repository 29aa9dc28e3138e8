"""Redundant measurements of one mark, adjusted by least squares.

Gauss-Newton on the two unknowns of a point in the plane, weights 1 / sigma².  Distances
are compared in the event's distance kind, bearings on the grid.  Text books: Ghilani,
Adjustment Computations (2017), chapters 11 to 16; the test of single observations is
Baarda's (A Testing Procedure for Use in Geodetic Networks, 1968).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from typing import NamedTuple

import numpy as np
import scipy

from scorer.errors import GeometryError
from scorer.facts import fact, length
from scorer.geodesy.arrays import Array, Point
from scorer.geodesy.observation import Observation, derivative, difference
from scorer.geodesy.precision import (
    Covariance,
    Ellipse,
    as_covariance,
    error_ellipse,
)
from scorer.geodesy.site import Site
from scorer.geodesy.starts import starts

SUSPECT = 3.29
"""Normalised residual that a good observation exceeds once in a thousand (Baarda)."""
_ROUNDS = 60
_HALVINGS = 12
_STILL_M = 1e-7
_SAME_PLACE_M = 0.01
_SAME_FIT = 1e-3
_SINGULAR = 1e-12


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
            raise GeometryError(fact("observation-unusable", what=item.label))
    begin = starts(observations) if near is None else [near]
    if not begin:
        raise GeometryError(fact("measurements-fix-no-point"))
    fits = [fit for fit in (_fit(observations, site, s) for s in begin) if fit]
    if not fits:
        raise GeometryError(fact("no-point-fits"))
    return _result(observations, site, _best(fits))


def _best(fits: list[_Fit]) -> Point:
    """Return the best fit; raise where another place fits as well."""
    best = min(fits, key=lambda fit: fit.chi_square)
    for other in fits:
        apart = hypot(other.point[0] - best.point[0], other.point[1] - best.point[1])
        if other.chi_square - best.chi_square < _SAME_FIT and apart > _SAME_PLACE_M:
            raise GeometryError(fact("two-points-fit", apart=length(apart)))
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
    values = [difference(item, site, point) / item.sigma for item in observations]
    return np.array(values)


def _design(observations: Sequence[Observation], point: Point) -> Array:
    """Derivatives of the computed values by east and north, in sigmas, (N, 2)."""
    return np.array([derivative(item, point) for item in observations])


def _is_singular(normal: Array) -> bool:
    least, greatest = np.linalg.eigvalsh(normal)
    return bool(not least > _SINGULAR * greatest)


def _result(observations: Sequence[Observation], site: Site, point: Point) -> Adjusted:
    design, misfit = _design(observations, point), _misfit(observations, site, point)
    cofactor: Array = np.asarray(np.linalg.inv(design.T @ design), dtype=float)
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
        residuals=tuple(difference(item, site, point) for item in observations),
        normalised=tuple(normalised),
        redundancy=redundancy,
        chi_square=chi_square,
        probability=float(scipy.special.chdtrc(redundancy, chi_square))
        if redundancy
        else None,
    )
