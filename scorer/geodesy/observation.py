"""Single observations of a mark, and how they depend on where it lies."""

from dataclasses import dataclass
from enum import StrEnum
from math import degrees, hypot

from scorer.errors import GeometryError
from scorer.facts import Value, fact, words
from scorer.geodesy.arrays import Point
from scorer.geodesy.placed import Spot
from scorer.geodesy.site import Site


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
    label: Value = words("")
    """Who measured it, from where; for people."""


def difference(item: Observation, site: Site, point: Point) -> float:
    """Observed minus computed, in the observation's unit."""
    if item.kind is Observed.EAST:
        return item.value - point[0]
    if item.kind is Observed.NORTH:
        return item.value - point[1]
    spot = origin(item)
    if item.kind is Observed.DISTANCE:
        return item.value - site.distance_m(spot, point)
    turn = item.value - site.bearing_deg(spot, point)
    return (turn + 180.0) % 360.0 - 180.0


def derivative(item: Observation, point: Point) -> tuple[float, float]:
    """Change of the computed value by east and by north, in sigmas per metre."""
    if item.kind is Observed.EAST:
        return 1 / item.sigma, 0.0
    if item.kind is Observed.NORTH:
        return 0.0, 1 / item.sigma
    spot = origin(item)
    east, north = point[0] - spot.point[0], point[1] - spot.point[1]
    length = max(hypot(east, north), 1e-6)
    if item.kind is Observed.DISTANCE:
        return east / length / item.sigma, north / length / item.sigma
    per_metre = degrees(1.0) / length**2 / item.sigma
    return north * per_metre, -east * per_metre


def origin(item: Observation) -> Spot:
    """Return the point that a distance or bearing starts from."""
    if item.spot is None:
        raise GeometryError(fact("observation-unusable", what=item.label))
    return item.spot
