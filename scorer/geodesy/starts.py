"""Where a least squares adjustment of one point may start."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, islice
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from scorer.geodesy.arrays import Point
from scorer.geodesy.observation import Observation, Observed, origin

_MOST_STARTS = 4
_MOST_PAIRS = 36
_APART_M = 1.0


def starts(observations: Sequence[Observation]) -> list[Point]:
    """Return a few places to start from, the likeliest first.

    They are keyed coordinates and the points where pairs of observations meet.  Of
    those nearer to each other than `_APART_M` the better one stays.
    """
    points = sorted(_candidates(observations), key=lambda p: _misfit(observations, p))
    kept: list[Point] = []
    for point in points:
        if all(hypot(point[0] - k[0], point[1] - k[1]) > _APART_M for k in kept):
            kept.append(point)
    return kept[:_MOST_STARTS]


def _misfit(observations: Sequence[Observation], point: Point) -> float:
    """Sum of squares in sigmas, distances taken in the plane: rough, but quick."""
    total = 0.0
    for item in observations:
        if item.spot is None:
            own = point[0] if item.kind is Observed.EAST else point[1]
            total += ((item.value - own) / item.sigma) ** 2
            continue
        east, north = point[0] - item.spot.point[0], point[1] - item.spot.point[1]
        if item.kind is Observed.DISTANCE:
            total += ((item.value - hypot(east, north)) / item.sigma) ** 2
        else:
            turn = item.value - degrees(atan2(east, north))
            total += (((turn + 180.0) % 360.0 - 180.0) / item.sigma) ** 2
    return total


def _candidates(observations: Sequence[Observation]) -> Iterator[Point]:
    """Keyed coordinates, and where the first pairs of observations meet."""
    east = next((o.value for o in observations if o.kind is Observed.EAST), None)
    north = next((o.value for o in observations if o.kind is Observed.NORTH), None)
    if east is not None and north is not None:
        yield east, north
    lines = [o for o in observations if o.spot is not None]
    for a, b in islice(combinations(lines, 2), _MOST_PAIRS):
        yield from _meeting(a, b)


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
    (x, y), (x2, y2) = origin(a).point, origin(b).point
    u, v = _unit(a.value), _unit(b.value)
    turn = u[0] * v[1] - u[1] * v[0]
    if abs(turn) > 1e-9:
        along = ((x2 - x) * v[1] - (y2 - y) * v[0]) / turn
        yield x + along * u[0], y + along * u[1]


def _arc_and_ray(arc: Observation, ray: Observation) -> Iterator[Point]:
    """Points of a ray at a distance from another point, or its nearest to it."""
    (x, y), (x2, y2) = origin(ray).point, origin(arc).point
    east, north = _unit(ray.value)
    foot = (x2 - x) * east + (y2 - y) * north
    aside = (x2 - x) * north - (y2 - y) * east
    half = sqrt(max(arc.value**2 - aside**2, 0.0))
    for along in sorted({foot + half, foot - half}):
        if along > 0:
            yield x + along * east, y + along * north


def _two_arcs(a: Observation, b: Observation) -> Iterator[Point]:
    """Both points where two arcs meet, or the nearest to it."""
    (x, y), (x2, y2) = origin(a).point, origin(b).point
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
