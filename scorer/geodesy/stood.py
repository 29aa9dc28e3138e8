"""Where targets stood when: one that was moved has several places, each from a time on."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from scorer.errors import Fault, GeometryError, InputError
from scorer.event.model import Event, TargetLine
from scorer.geodesy.arrays import Point
from scorer.geodesy.placed import Spot
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground

FAR_M = 20_000.0
"""Nobody moves a target so far: it is a slip.  Our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """One version of a task's target: where it stood from a moment on."""

    task: int
    spot: Spot
    since_s: float = -math.inf
    """POSIX seconds; the first version stood there from the beginning."""


def every_stood(
    event: Event, plane: Plane, ground: Ground, spots: Mapping[str, Spot]
) -> tuple[Stood, ...]:
    """Return all versions of the targets that were moved, by task and time.

    Raises
    ------
    InputError
        A line of a target log puts a target too far off, or where the plane does not reach.
    """
    lines = [
        line
        for flight in event.flights
        for line in flight.targets
        if line.says_where and line.target in spots
    ]
    moved = dict.fromkeys((line.task, line.target) for line in lines)
    first = (Stood(task=task, spot=spots[name]) for task, name in moved)
    then = [_stood(line, plane, ground) for line in lines]
    faults = [
        _unfit(line, f"{away_m:,.0f} m away")
        for line, own in zip(lines, then, strict=True)
        if not (away_m := math.dist(own.spot.point, spots[line.target].point)) <= FAR_M
    ]
    if faults:
        raise InputError(faults)
    return tuple(sorted((*first, *then), key=lambda s: (s.task, s.since_s)))


def spots_at(all_: Iterable[Stood], task: int, time_s: float | None) -> dict[str, Spot]:
    """Return where a task's moved targets stood at a moment; None = at the end."""
    until = math.inf if time_s is None else time_s
    own = (one for one in all_ if one.task == task and one.since_s <= until)
    return {one.spot.name: one.spot for one in own}


def _stood(line: TargetLine, plane: Plane, ground: Ground) -> Stood:
    point = _point(line, plane)
    found = float(ground.elevation_m(*plane.to_wgs84(*point)))
    elevation_m = None if np.isnan(found) else found
    spot = Spot(name=line.target, point=point, elevation_m=elevation_m)
    return Stood(task=line.task, spot=spot, since_s=line.time_s)


def _point(line: TargetLine, plane: Plane) -> Point:
    try:
        if line.easting_m is None or line.northing_m is None:
            return plane.to_plane(line.lat_deg or 0.0, line.lon_deg or 0.0)
        plane.to_wgs84(line.easting_m, line.northing_m)
    except GeometryError as error:
        raise InputError([_unfit(line, str(error))]) from error
    return line.easting_m, line.northing_m


def _unfit(line: TargetLine, found: str) -> Fault:
    return Fault(
        where=line.origin.where or "targets.csv",
        line=line.origin.line,
        field="easting" if line.lat_deg is None else "lat",
        found=found,
        allowed=f"a place within {FAR_M / 1000:g} km of where {line.target} stood first",
        entries=line.origin.entries,
    )
