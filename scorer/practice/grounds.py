"""The places of an invented meet: targets, areas, points to measure from."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from pyproj import Geod, Proj, Transformer
from shapely import Polygon

from scorer.practice.scenes import BOUNDARY, FIRST_AREA, FIRST_TARGET
from scorer.practice.valley import Valley
from scorer.units import EARTH_M

Array = NDArray[np.float64]
Point = tuple[float, float]
"""East and north in the event's plane, metres."""

AREA_RADIUS_M = 300.0
BOUNDARY_RADIUS_M = 1_300.0
"""Less than the least launch distance, so that nobody launches inside the boundary."""
REFERENCES: Mapping[str, Point] = {
    "gate post": (118.0, -87.0),
    "water tower": (-236.0, 164.0),
    "wind vane": (61.0, 251.0),
    "old weighbridge": (-147.0, -203.0),
}
"""Points to measure from: metres east and north of the first target."""

_WGS84 = Geod(ellps="WGS84")


class TruePlane:
    """The event's plane by pyproj alone, so that the truth does not lean on the engine."""

    def __init__(self, crs: str) -> None:
        self._inverse = Transformer.from_crs(crs, "EPSG:4326", always_xy=True)
        self._forward = Transformer.from_crs("EPSG:4326", crs, always_xy=True)
        self._proj = Proj(crs)

    def degrees(self, east_m: Array, north_m: Array) -> tuple[Array, Array]:
        """Return (lat_deg, lon_deg)."""
        lon, lat = self._inverse.transform(east_m, north_m)
        return np.asarray(lat), np.asarray(lon)

    def metres(self, lat_deg: float, lon_deg: float) -> Point:
        """Return east and north of one point."""
        east, north = self._forward.transform(lon_deg, lat_deg)
        return float(east), float(north)

    def degrees_of(self, point: Point) -> tuple[float, float]:
        """Return (lat_deg, lon_deg) of one point."""
        lon, lat = self._inverse.transform(*point)
        return float(lat), float(lon)

    def ground_m(self, a: Point, b: Point, elevation_m: float) -> float:
        """Distance that a level tape measures at that elevation."""
        (lat1, lon1), (lat2, lon2) = self.degrees_of(a), self.degrees_of(b)
        length = float(_WGS84.inv(lon1, lat1, lon2, lat2)[2])
        return length * (1.0 + elevation_m / EARTH_M)

    def convergence_deg(self, point: Point) -> float:
        """Grid convergence: true bearing = grid bearing + convergence."""
        lat, lon = self.degrees_of(point)
        return float(self._proj.get_factors(lon, lat).meridian_convergence)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """Points and areas by name, in the plane, exactly as the file gives them."""

    plane: TruePlane
    valley: Valley
    points: Mapping[str, Point]
    areas: Mapping[str, Polygon]
    kinds: Mapping[str, str]

    def elevation_m(self, point: Point) -> float:
        """Elevation of the ground at one point."""
        where = np.array([point[0]]), np.array([point[1]])
        return float(self.valley.elevation_m(*where)[0])

    def distance_m(self, a: Point, b: Point) -> float:
        """Level distance at the mean elevation of both ends."""
        mean = (self.elevation_m(a) + self.elevation_m(b)) / 2
        return self.plane.ground_m(a, b, mean)

    def inside(self, name: str, east_m: Array, north_m: Array) -> NDArray[np.bool_]:
        """Tell which points lie in an area."""
        return np.asarray(shapely.intersects_xy(self.areas[name], east_m, north_m))


def make_grounds(
    crs: str,
    valley: Valley,
    first: Point,
    second: Mapping[str, tuple[str, Point]],
    goals: Mapping[str, Point],
) -> Grounds:
    """Lay out the places.

    `second` gives area names with a second target and its place, `goals` what pilots
    may declare, by name, from the first target.
    """
    plane = TruePlane(crs)
    raw_points = {FIRST_TARGET: first}
    named = {**REFERENCES, **goals}
    raw_points |= {name: _moved(first, by) for name, by in named.items()}
    raw_areas = {
        FIRST_AREA: _rounded(first, AREA_RADIUS_M, 12, 0.04),
        BOUNDARY: _rounded(first, BOUNDARY_RADIUS_M, 16, 0.03),
    }
    for area, (name, point) in second.items():
        raw_points[name] = point
        ends = [_rounded(p, AREA_RADIUS_M, 12, 0.0) for p in (first, point)]
        raw_areas[area] = Polygon(
            shapely.get_coordinates(shapely.union_all(ends).convex_hull)
        )
    kinds = {FIRST_TARGET: "target", FIRST_AREA: "scoring-area", BOUNDARY: "boundary"}
    kinds |= dict.fromkeys(REFERENCES, "reference")
    kinds |= dict.fromkeys(goals, "goal") | dict.fromkeys(second, "scoring-area")
    kinds |= {name: "target" for name, _ in second.values()}
    points = {name: _as_written(plane, p) for name, p in raw_points.items()}
    areas = {
        name: Polygon([_as_written(plane, p) for p in _corners(shape)])
        for name, shape in raw_areas.items()
    }
    for shape in areas.values():
        shapely.prepare(shape)
    return Grounds(plane=plane, valley=valley, points=points, areas=areas, kinds=kinds)


def geojson(grounds: Grounds) -> bytes:
    """Return places.geojson, one feature a line."""
    features = [
        _feature(grounds, name, "Point", _position(grounds.plane, point))
        for name, point in grounds.points.items()
    ]
    features += [
        _feature(
            grounds,
            name,
            "Polygon",
            [[_position(grounds.plane, p) for p in _corners(shape)]],
        )
        for name, shape in grounds.areas.items()
    ]
    lines = ",\n".join(json.dumps(f, ensure_ascii=False) for f in features)
    head = '{"type": "FeatureCollection", "features": [\n'
    return f"{head}{lines}\n]}}\n".encode()


def _feature(
    grounds: Grounds, name: str, shape: str, coordinates: list[Any]
) -> dict[str, Any]:
    return {
        "type": "Feature",
        "properties": {"name": name, "kind": grounds.kinds[name]},
        "geometry": {"type": shape, "coordinates": coordinates},
    }


def _position(plane: TruePlane, point: Point) -> list[float]:
    lat, lon = plane.degrees_of(point)
    return [round(lon, 8), round(lat, 8)]


def _as_written(plane: TruePlane, point: Point) -> Point:
    """Return the point that the file's rounded coordinates stand for."""
    lon, lat = _position(plane, point)
    return plane.metres(lat, lon)


def _corners(shape: Polygon) -> list[Point]:
    return [(float(east), float(north)) for east, north in shape.exterior.coords]


def _moved(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]


def _rounded(centre: Point, radius_m: float, corners: int, uneven: float) -> Polygon:
    """Return a polygon around a point, a little uneven, counter-clockwise."""
    turn = 2.0 * np.pi * np.arange(corners) / corners
    reach = radius_m * (1.0 + uneven * np.cos(3.0 * turn + 0.7))
    east = np.round(centre[0] + reach * np.cos(turn))
    north = np.round(centre[1] + reach * np.sin(turn))
    return Polygon(np.column_stack([east, north]))
