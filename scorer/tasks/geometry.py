"""Angles, areas and how uncertain they are: the plane geometry of the task kinds."""

import math
from collections.abc import Callable, Sequence

import numpy as np

from scorer.geodesy.arrays import Point
from scorer.geodesy.precision import Covariance, as_covariance, axes_covariance

EXACT: Covariance = ((0.0, 0.0), (0.0, 0.0))
"""Of a place: its coordinates are what all marks refer to."""


def bearing_deg(a: Point, b: Point) -> float:
    """Grid bearing of the line from `a` to `b`, degrees from 0 up to 360."""
    return math.degrees(math.atan2(b[0] - a[0], b[1] - a[1])) % 360.0


def turn_deg(first_deg: float, second_deg: float) -> float:
    """Angle between two directions, 0 to 180 degrees, whichever way round."""
    return abs((second_deg - first_deg + 180.0) % 360.0 - 180.0)


def corner_deg(a: Point, b: Point, c: Point) -> float:
    """Angle ABC at `b`, 0 to 180 degrees.

    By the arc tangent of cross and dot product, which keeps its accuracy for angles near
    0 and 180 degrees, where the arc cosine does not.
    """
    return abs(signed_corner_deg(a, b, c))


def signed_corner_deg(a: Point, b: Point, c: Point) -> float:
    """Angle ABC with its sign, over −180 up to 180: does not fold where it passes 0."""
    ax, ay = a[0] - b[0], a[1] - b[1]
    cx, cy = c[0] - b[0], c[1] - b[1]
    return math.degrees(math.atan2(ax * cy - ay * cx, ax * cx + ay * cy))


def signed_triangle_m2(a: Point, b: Point, c: Point) -> float:
    """Area of a triangle in the plane, negative where ABC goes round clockwise."""
    return ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2.0


def triangle_m2(ab_m: float, bc_m: float, ca_m: float) -> float:
    """Area of a triangle from its three sides, so on the surface the sides are on.

    Heron's formula as arranged by W. Kahan ("Miscalculating area and angles of a
    needle-like triangle", 2014), stable for flat triangles.  Sides that miss closing by
    a rounding give 0.
    """
    a, b, c = sorted((ab_m, bc_m, ca_m), reverse=True)
    product = (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c))
    return math.sqrt(max(product, 0.0)) / 4.0


def propagate(
    value: Callable[[Sequence[Point]], float],
    points: Sequence[Point],
    covariances: Sequence[Covariance],
    full_turn: float | None = None,
) -> float:
    """One sigma of a value of several points whose errors are independent.

    First order: along each axis of each point's error ellipse a central difference, one
    sigma to either side.  Give it a value that does not fold: a signed angle or area,
    since the size of one hardly changes where the sign does.

    Parameters
    ----------
    value : callable
        Of the list of points; must be smooth over a few sigmas.
    points : sequence of (east_m, north_m)
    covariances : sequence of 2 x 2 tuples
        Of each point, square metres; `EXACT` for a point without error.
    full_turn : float, optional
        What the value wraps round at: 360 for an angle in degrees.
    """
    total = 0.0
    for i, covariance in enumerate(covariances):
        for east, north in _axes(covariance):
            ends = []
            for sign in (1.0, -1.0):
                moved = list(points)
                moved[i] = (points[i][0] + sign * east, points[i][1] + sign * north)
                ends.append(value(moved))
            change = ends[0] - ends[1]
            if full_turn is not None:
                change = (change + full_turn / 2) % full_turn - full_turn / 2
            total += (change / 2) ** 2
    return math.sqrt(total)


def _axes(covariance: Covariance) -> list[Point]:
    """Half axes of an error ellipse, as steps in the plane; none of no length."""
    values, vectors = np.linalg.eigh(np.asarray(covariance))
    steps = vectors * np.sqrt(values.clip(min=0.0))
    return [(float(e), float(n)) for e, n in steps.T if e or n]


def added(a: Covariance, b: Covariance) -> Covariance:
    """Covariance of the difference of two points whose errors are independent."""
    return as_covariance(np.asarray(a) + np.asarray(b))


def round_covariance(sigma_m: float) -> Covariance:
    """Covariance of a point that is equally uncertain in every direction."""
    return axes_covariance(0.0, sigma_m, sigma_m)
