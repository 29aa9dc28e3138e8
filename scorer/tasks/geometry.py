"""Angles, areas and how uncertain they are: the plane geometry of the task kinds."""

import math
from collections.abc import Callable, Sequence

import numpy as np

Point = tuple[float, float]
"""(east_m, north_m) in the event's plane."""


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
    ax, ay = a[0] - b[0], a[1] - b[1]
    cx, cy = c[0] - b[0], c[1] - b[1]
    return math.degrees(abs(math.atan2(ax * cy - ay * cx, ax * cx + ay * cy)))


def triangle_m2(ab_m: float, bc_m: float, ca_m: float) -> float:
    """Area of a triangle from its three sides, so on the surface the sides are on.

    Heron's formula as arranged by W. Kahan ("Miscalculating area and angles of a
    needle-like triangle", 2014), stable for flat triangles.  Sides that miss closing by
    a rounding give 0.
    """
    a, b, c = sorted((ab_m, bc_m, ca_m), reverse=True)
    product = (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c))
    return math.sqrt(max(product, 0.0)) / 4.0


def distance_sigma_m(a_sigma_m: float, b_sigma_m: float) -> float:
    """One sigma of the distance between two points of independent, round errors.

    Along any line the error of each point is its own sigma, so they add in squares.
    """
    return math.hypot(a_sigma_m, b_sigma_m)


def propagate(
    value: Callable[[Sequence[Point]], float],
    points: Sequence[Point],
    sigmas_m: Sequence[float],
    *,
    full_turn: float | None = None,
) -> float:
    """One sigma of a value of several points, each with a round error of its own.

    Parameters
    ----------
    value : callable
        Of the list of points.
    points : sequence of (east_m, north_m)
    sigmas_m : sequence of float
        One sigma of each point along any axis; 0 leaves the point out.
    full_turn : float, optional
        What the value wraps at (360 for a bearing in degrees).

    Returns
    -------
    float
        First order, by a central difference one sigma to either side.
    """
    total = 0.0
    for i, sigma in enumerate(sigmas_m):
        if not sigma > 0:
            continue
        for step in ((sigma, 0.0), (0.0, sigma)):
            ends = []
            for sign in (1.0, -1.0):
                moved = list(points)
                east, north = points[i]
                moved[i] = (east + sign * step[0], north + sign * step[1])
                ends.append(value(moved))
            change = ends[0] - ends[1]
            if full_turn is not None:
                change = (change + full_turn / 2) % full_turn - full_turn / 2
            total += (change / 2) ** 2
    return math.sqrt(total)


def finite(*values: float) -> bool:
    """Tell whether all values are numbers that can be computed with."""
    return bool(np.isfinite(values).all())
