"""A mark: where a marker fell, as far as it was measured."""

from dataclasses import dataclass
from typing import Any

from scorer.event.model import Method
from scorer.facts import (
    Fact,
    Step,
    Value,
    fact,
    height,
    inner,
    length,
    number,
    place,
    term,
)
from scorer.geodesy.arrays import Point
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import (
    Covariance,
    Ellipse,
    error_ellipse,
    sigma_towards,
)
from scorer.geodesy.site import Site, Somewhere
from scorer.geodesy.together import Asking, alone, offset
from scorer.geodesy.together import distance as between


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """Where a marker fell, as far as it was measured."""

    point: Point | None
    """(east_m, north_m) in the event's plane; None = the distance alone is known."""
    distance_m: float | None
    """From the target, unrounded; None = no mark, or no target to count from."""
    sigma_m: float | None
    """One sigma of `distance_m`."""
    covariance: Covariance | None = None
    """Of `point`, square metres."""
    latlon_deg: tuple[float, float] | None = None
    """Latitude and longitude as entered, WGS84, where that is how it was measured."""
    method: Method
    label: str = ""
    """Which of the pilot's marks, where a task has several."""
    steps: tuple[Step, ...] = ()
    """How it was reduced."""
    warnings: tuple[Fact, ...] = ()

    @property
    def ellipse(self) -> Ellipse | None:
        """One-sigma error ellipse of the point."""
        return None if self.covariance is None else error_ellipse(self.covariance)


def mark_at(
    point: Point,
    covariance: Covariance,
    site: Site,
    target: Somewhere | None,
    **more: Any,
) -> Mark:
    """Make a mark of a point, as `placed` does, by itself."""
    return alone(site, placed(point, covariance, site, target, **more))


def placed(
    point: Point,
    covariance: Covariance,
    site: Site,
    target: Somewhere | None,
    *,
    method: Method,
    label: str = "",
    steps: tuple[Step, ...] = (),
    warnings: tuple[Fact, ...] = (),
) -> Asking[Mark]:
    """Make a mark of a point: measure it from the target, with its uncertainty."""
    shown = (*steps, fact("mark-at", at=inner(coordinates(point))))
    distance = sigma = None
    if target is not None:
        spot = site.spot(target)
        distance = yield between(spot, point)
        step = (point[0] - spot.point[0], point[1] - spot.point[1])
        sigma = sigma_towards(covariance, *step)
        shown = (*shown, _from_target(distance, spot, site))
    return Mark(
        point=point,
        distance_m=distance,
        sigma_m=sigma,
        covariance=covariance,
        method=method,
        label=label,
        steps=shown,
        warnings=warnings,
    )


def offset_from_line(
    site: Site, start: Somewhere, end: Somewhere, along_m: float, across_m: float
) -> Asking[Point]:
    """Find the point at a chainage along a line and an offset square to it.

    The offset counts to the right, seen from start to end; negative = left.
    """
    bearing = site.bearing_deg(start, end)
    foot = yield offset(start, bearing % 360.0, along_m)
    side = bearing + (90.0 if across_m >= 0 else -90.0)
    square: Point = yield offset(foot, side % 360.0, abs(across_m))
    return square


def coordinates(point: Point) -> Fact:
    """State a point of the plane; coordinates stay in metres whatever people measure in."""
    east, north = (number(round(axis, 2)) for axis in point)
    return fact("grid-coordinates", east=east, north=north)


def _from_target(distance_m: float, target: Spot, site: Site) -> Step:
    values = {
        "length": length(distance_m),
        "target": named(target),
        "surface": term(f"distance-{site.distance_kind}"),
    }
    if target.elevation_m is None:
        return fact("mark-from-target", **values)
    ground = height(target.elevation_m)
    return fact("mark-from-target-at-height", **values, ground=ground)


def named(spot: Spot) -> Value:
    """Name a point of the event, or give its coordinates where it has no name."""
    return place(spot.name) if spot.name else inner(coordinates(spot.point))
