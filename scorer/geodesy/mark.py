"""A mark: where a marker fell, as far as it was measured."""

from dataclasses import dataclass

from scorer.event.model import Method
from scorer.facts import Fact, Step, plain
from scorer.geodesy.arrays import Point
from scorer.geodesy.places import Spot
from scorer.geodesy.precision import (
    Covariance,
    Ellipse,
    error_ellipse,
    sigma_towards,
)
from scorer.geodesy.site import Site, Somewhere
from scorer.units import show_length


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
    method: Method
    label: str = ""
    """Which of the pilot's marks, where a task has several."""
    steps: tuple[Step, ...] = ()
    """How it was reduced, numbers put in."""
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
    *,
    method: Method,
    label: str = "",
    steps: tuple[Step, ...] = (),
    warnings: tuple[Fact, ...] = (),
) -> Mark:
    """Make a mark of a point: measure it from the target, with its uncertainty."""
    shown = (*steps, plain(f"mark at {show_point(point)}"))
    if target is None:
        distance = sigma = None
    else:
        spot = site.spot(target)
        distance = site.distance_m(spot, point)
        step = (point[0] - spot.point[0], point[1] - spot.point[1])
        sigma = sigma_towards(covariance, *step)
        shown = (*shown, plain(_from_target(distance, spot, site)))
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
) -> Point:
    """Return the point at a chainage along a line and an offset square to it.

    The offset counts to the right, seen from start to end; negative = left.
    """
    bearing = site.bearing_deg(start, end)
    foot = site.offset(start, bearing % 360.0, along_m)
    side = bearing + (90.0 if across_m >= 0 else -90.0)
    return site.offset(foot, side % 360.0, abs(across_m))


def show_point(point: Point) -> str:
    """Print a point of the plane."""
    return f"E {point[0]:,.2f} m, N {point[1]:,.2f} m"


def _from_target(distance: float, target: Spot, site: Site) -> str:
    shown = show_length(distance, site.units, 2)
    height = "" if target.elevation_m is None else f" at {target.elevation_m:.0f} m"
    return f"{shown} from {named(target)} ({site.distance_kind}{height})"


def named(spot: Spot) -> str:
    """Print a point of the event by its name, else by its coordinates."""
    return f'"{spot.name}"' if spot.name else show_point(spot.point)
