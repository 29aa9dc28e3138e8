"""The places of an event put into its plane, and what is read beside them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from scorer.errors import Fault, GeometryError, InputError
from scorer.event.model import Place
from scorer.geodesy.areas import place_fault, project_area
from scorer.geodesy.arrays import Point
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A point of the event with its name."""

    name: str
    point: Point
    """(east_m, north_m)."""
    elevation_m: float | None = None
    """Of the ground there, above mean sea level; None = unknown."""


def project_places(
    places: Iterable[Place], plane: Plane, ground: Ground
) -> tuple[dict[str, Spot], dict[str, Polygon]]:
    """Return the points and the areas by name; raise InputError with every fault."""
    made = {
        p.name: _spot(p, plane, ground) if p.is_point else project_area(p, plane)
        for p in places
    }
    faults = [item for item in made.values() if isinstance(item, Fault)]
    if faults:
        raise InputError(faults)
    spots = {name: item for name, item in made.items() if isinstance(item, Spot)}
    areas = {name: item for name, item in made.items() if isinstance(item, Polygon)}
    return spots, areas


def _spot(place: Place, plane: Plane, ground: Ground) -> Spot | Fault:
    lon, lat = place.rings[0][0]
    try:
        point = plane.to_plane(lat, lon)
    except GeometryError as error:
        allowed = "longitude, latitude in degrees, in this order"
        return place_fault(place, str(error), allowed)
    elevation = place.elevation_m
    if elevation is None:
        found = float(ground.elevation_m(lat, lon))
        elevation = None if np.isnan(found) else found
    return Spot(name=place.name, point=point, elevation_m=elevation)


_DECLINATION = re.compile(
    r"([+-]?\d+(?:\.\d+)?)\s*°?|(\d+(?:\.\d+)?)\s*°?\s*([EW])", re.IGNORECASE
)


def read_declination(setting: object) -> float | None:
    """Read the event's declination: a number of degrees, or text such as `1.5 W`."""
    if setting is None:
        return None
    match = _DECLINATION.fullmatch(str(setting).strip())
    value = np.nan
    if match:
        value = float(match[1] or match[2])
        if (match[3] or "").upper() == "W":
            value = -value
    if not abs(value) <= 180:
        raise InputError(
            [
                Fault(
                    where="event.toml",
                    field="event.declination",
                    found=repr(setting),
                    allowed='degrees, east positive, such as 1.5, -0.8 or "0.8 W"',
                )
            ]
        )
    return value
