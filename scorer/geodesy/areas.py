"""Areas of the event as polygons in its plane.

An edge is straight in longitude and latitude, as RFC 7946 section 3.1.1 has it.  In the
plane such an edge bends (half a metre in an east-west edge of 5 km at 45 degrees), so it
is cut into pieces short enough that each strays by less than `STRAY_M`.
"""

import numpy as np
from shapely import Polygon
from shapely.validation import explain_validity

from scorer.errors import Fault, GeometryError
from scorer.event.model import Place
from scorer.geodesy.arrays import Array
from scorer.geodesy.plane import Plane

STRAY_M = 0.005
"""How far a piece of an edge may lie from the true edge."""
_MOST_PIECES = 10_000


def project_area(place: Place, plane: Plane) -> Polygon | Fault:
    """Return a place's polygon in the plane, or what is wrong with it."""
    if any(len(_closed(np.array(ring, float))) < 4 for ring in place.rings):
        return _fault(place, "a ring with fewer than three corners")
    try:
        rings = [project_ring(np.array(ring, float), plane) for ring in place.rings]
    except GeometryError as error:
        return _fault(place, str(error))
    polygon = Polygon(rings[0], rings[1:])
    if not polygon.is_valid:
        return _fault(place, f"an outline that is no area: {_reason(polygon, plane)}")
    if polygon.area == 0:
        return _fault(place, "an area of no size")
    return polygon


def project_ring(lonlat_deg: Array, plane: Plane) -> Array:
    """Project a closed ring (N, 2) of longitude and latitude, edges cut into pieces."""
    corners = _closed(lonlat_deg)
    # the shorter way between two corners, across 180 degrees too
    corners = np.column_stack((np.unwrap(corners[:, 0], period=360.0), corners[:, 1]))
    start, end = corners[:-1], corners[1:]
    first, middle, last = (_project(p, plane) for p in (start, (start + end) / 2, end))
    stray = np.hypot(*((first + last) / 2 - middle).T)
    # the stray of a piece falls with the square of its length
    pieces = np.ceil(np.sqrt(stray / STRAY_M)).clip(1, _MOST_PIECES).astype(int)
    parts = [
        a + (b - a) * (np.arange(n) / n)[:, None]
        for a, b, n in zip(start, end, pieces, strict=True)
    ]
    return _project(np.vstack([*parts, corners[-1:]]), plane)


def _closed(ring: Array) -> Array:
    same = np.array_equal(ring[0], ring[-1])
    return ring if same else np.vstack([ring, ring[:1]])


def _project(lonlat: Array, plane: Plane) -> Array:
    east = (lonlat[:, 0] + 180.0) % 360.0 - 180.0
    return np.column_stack(plane.to_plane(lonlat[:, 1], east))


def _reason(polygon: Polygon, plane: Plane) -> str:
    """Say what GEOS found, with the spot in degrees as in the file."""
    text = explain_validity(polygon)
    if not text.endswith("]"):
        return text
    what, _, spot = text[:-1].partition("[")
    lat, lon = plane.to_wgs84(*(float(v) for v in spot.split()[:2]))
    return f"{what.lower()} near longitude {lon:.6f}, latitude {lat:.6f}"


def _fault(place: Place, found: str) -> Fault:
    allowed = "a polygon of at least three corners whose outline does not cross"
    remedy = "Draw it again, corner after corner in one direction."
    return place_fault(place, found, allowed, remedy)


def place_fault(place: Place, found: str, allowed: str, remedy: str = "") -> Fault:
    """Say what is wrong with a place of the event, where it stands."""
    return Fault(
        where=place.origin.where or "places.geojson",
        line=place.origin.line,
        field=f'{"point" if place.is_point else "area"} "{place.name}"',
        found=found,
        allowed=allowed,
        remedy=remedy,
        entries=place.origin.entries,
    )
