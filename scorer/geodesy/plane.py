"""The event's plane: a projected reference system, and true lengths in it.

Three kinds of distance between two points of the plane:

- *grid*: straight in the plane, what two coordinate pairs give by Pythagoras;
- *ellipsoid*: the geodesic on the reference system's own ellipsoid;
- *ground*: the geodesic raised to the elevation of the ground, what a tape held level
  measures.  On short lines this is grid / (point scale x elevation factor).

Bearings are degrees clockwise from grid north, 0 up to 360, unless a name says otherwise.
Points are pairs (east_m, north_m); each of the two may be an array.
"""

from dataclasses import dataclass
from math import inf
from typing import overload

import numpy as np
from numpy.typing import ArrayLike
from pyproj import Transformer

from scorer.errors import GeometryError
from scorer.event.model import DistanceKind
from scorer.facts import angle, fact, length, number, words
from scorer.geodesy.arrays import (
    Array,
    Point,
    Points,
    floats,
    mapped,
    plain,
    refuse,
    turned,
)
from scorer.geodesy.reference import frame

_ROUNDS = 20
_CLOSE_M = 1e-8
_CLOSE_RATIO = 1e-11


@dataclass(frozen=True, slots=True)
class Plane:
    """The plane of an event.

    Cheap to copy and to send to another process: it holds nothing but the name of its
    reference system, everything else is rebuilt where it is needed.

    Parameters
    ----------
    crs : str
        What PROJ accepts for a projected system with axes east and north in metres:
        an EPSG code, a PROJ string, WKT.  A vertical part is left aside.

    Raises
    ------
    InputError
        The system is unknown, not projected, or not in metres east and north.
    """

    crs: str

    def __post_init__(self) -> None:
        frame(self.crs)

    @property
    def title(self) -> str:
        """Full name of the reference system."""
        return str(frame(self.crs).horizontal.name)

    def accuracy_m(self, lat_deg: float, lon_deg: float) -> float | None:
        """Accuracy of the step between WGS84 and this system's datum at a point.

        Zero where there is no step, between a datum and itself; None where the register
        states none; infinite where nobody knows the step and PROJ only passes from
        ellipsoid to ellipsoid ("ballpark").  Lengths and bearings do not suffer from it,
        only coordinates do that come from a satellite receiver on one side and from a
        local map on the other.

        Source: EPSG register, accuracies of coordinate operations, through PROJ.
        """
        forward = frame(self.crs).forward
        forward.transform(lon_deg, lat_deg)
        # A choice of operations has no accuracy until one of them is taken.
        used = forward.get_last_used_operation()
        if "ballpark" in used.description.lower():
            return inf
        # Conversions alone change no datum.  Some versions of PROJ say 0 m for them,
        # others that nothing is stated.
        if all(step.type_name == "Conversion" for step in used.operations or ()):
            return 0.0
        return float(used.accuracy) if used.accuracy >= 0 else None

    def covers(self, lat_deg: float, lon_deg: float) -> bool:
        """Tell whether a point lies in the system's stated area of use, if it has one."""
        area = frame(self.crs).horizontal.area_of_use
        if area is None:
            return True
        crosses = area.west > area.east  # the 180th meridian
        inside = (
            (lon_deg >= area.west or lon_deg <= area.east)
            if crosses
            else area.west <= lon_deg <= area.east
        )
        return bool(inside and area.south <= lat_deg <= area.north)

    @overload
    def to_plane(self, lat_deg: float, lon_deg: float) -> Point: ...
    @overload
    def to_plane(self, lat_deg: Array, lon_deg: Array) -> Points: ...
    def to_plane(self, lat_deg: ArrayLike, lon_deg: ArrayLike) -> Point | Points:
        """Project WGS84 coordinates.

        Parameters
        ----------
        lat_deg, lon_deg : float or array_like, same shape
            NaN gives NaN.

        Returns
        -------
        tuple of float or ndarray
            East and north, metres.

        Raises
        ------
        GeometryError
            A latitude beyond 90 degrees, or a point the projection cannot reach;
            `mask` marks the offending ones.
        """
        lat, lon = floats(lat_deg, lon_deg)
        refuse(np.abs(lat) > 90, fact("latitude-beyond-90"))
        east, north = self._run(frame(self.crs).forward, lon, lat)
        return plain(east), plain(north)  # type: ignore[return-value]

    @overload
    def to_wgs84(self, east_m: float, north_m: float) -> Point: ...
    @overload
    def to_wgs84(self, east_m: Array, north_m: Array) -> Points: ...
    def to_wgs84(self, east_m: ArrayLike, north_m: ArrayLike) -> Point | Points:
        """Return (lat_deg, lon_deg) in WGS84 of points of the plane; NaN gives NaN."""
        lon, lat = self._run(frame(self.crs).inverse, east_m, north_m)
        return plain(lat), plain(lon)  # type: ignore[return-value]

    def point_scale(self, east_m: ArrayLike, north_m: ArrayLike) -> Array:
        """Scale of the grid at points: grid length per length on the ellipsoid.

        The geometric mean over all directions; in a conformal projection (UTM, every
        Transverse Mercator and Lambert conformal conic) the same in each of them.
        """
        lat, lon = self._geographic(east_m, north_m)
        factors = frame(self.crs).proj.get_factors(lon, lat)
        scale: Array = np.sqrt(np.asarray(factors.areal_scale, dtype=float))
        return scale[()]

    def convergence_deg(self, east_m: ArrayLike, north_m: ArrayLike) -> Array:
        """Grid convergence at points: true bearing = grid bearing + convergence.

        Positive where grid north lies east of true north: in the northern hemisphere
        east of the central meridian.
        """
        lat, lon = self._geographic(east_m, north_m)
        factors = frame(self.crs).proj.get_factors(lon, lat)
        return np.asarray(factors.meridian_convergence, dtype=float)[()]

    def elevation_factor(
        self, elevation_m: ArrayLike, lat_deg: ArrayLike, azimuth_deg: ArrayLike
    ) -> Array:
        """Length on the ellipsoid per length at an elevation: R / (R + h).

        R is the radius of curvature in the direction of the line, by Euler's theorem
        from those along the meridian and across it.  Elevation above mean sea level
        stands in for the height over the ellipsoid; the two differ by less than 110 m
        anywhere on Earth, which is 17 mm in a kilometre.

        Source: any textbook of geodesy, e.g. Torge, Geodesy (2001), section 4.1.
        """
        geod = frame(self.crs).geod
        lat, azimuth = np.radians(lat_deg), np.radians(azimuth_deg)
        w = np.sqrt(1 - geod.es * np.sin(lat) ** 2)
        across = geod.a / w
        along = geod.a * (1 - geod.es) / w**3
        radius = 1 / (np.cos(azimuth) ** 2 / along + np.sin(azimuth) ** 2 / across)
        return np.asarray(radius / (radius + np.asarray(elevation_m, dtype=float)))[()]

    @overload
    def distance(
        self, a: Point, b: Point, kind: DistanceKind, elevation_m: float = 0.0
    ) -> float: ...
    @overload
    def distance(
        self,
        a: Points,
        b: Point | Points,
        kind: DistanceKind,
        elevation_m: ArrayLike = 0.0,
    ) -> Array: ...
    @overload
    def distance(
        self, a: Point, b: Points, kind: DistanceKind, elevation_m: ArrayLike = 0.0
    ) -> Array: ...
    def distance(
        self,
        a: Point | Points,
        b: Point | Points,
        kind: DistanceKind,
        elevation_m: ArrayLike = 0.0,
    ) -> float | Array:
        """Measure between points of the plane.

        Parameters
        ----------
        a, b : pair of float or array_like
            Ends, east and north in metres; broadcast against each other.
        kind : DistanceKind
        elevation_m : float or array_like
            Of the ground along the line, above mean sea level; used by `ground` alone.

        Returns
        -------
        float or ndarray
            Metres, unrounded; NaN where an end is NaN.
        """
        start, end = floats(*a), floats(*b)
        if kind is DistanceKind.GRID:
            return plain(np.hypot(end[0] - start[0], end[1] - start[1]))
        lat, azimuth, long = self._geodesic((start[0], start[1]), (end[0], end[1]))
        if kind is DistanceKind.GROUND:
            long = long / self.elevation_factor(elevation_m, lat, azimuth)
        return plain(long)

    @overload
    def bearing_deg(self, a: Point, b: Point) -> float: ...
    @overload
    def bearing_deg(self, a: Points, b: Point | Points) -> Array: ...
    @overload
    def bearing_deg(self, a: Point, b: Points) -> Array: ...
    def bearing_deg(self, a: Point | Points, b: Point | Points) -> float | Array:
        """Grid bearing from `a` to `b`, straight in the plane; 0 for one same point."""
        east = np.asarray(b[0], dtype=float) - np.asarray(a[0], dtype=float)
        north = np.asarray(b[1], dtype=float) - np.asarray(a[1], dtype=float)
        return plain(turned(np.degrees(np.arctan2(east, north))))

    @overload
    def offset(
        self,
        a: Point,
        bearing_deg: float,
        distance_m: float,
        kind: DistanceKind,
        elevation_m: float = 0.0,
    ) -> Point: ...
    @overload
    def offset(
        self,
        a: Points,
        bearing_deg: Array,
        distance_m: Array,
        kind: DistanceKind,
        elevation_m: ArrayLike = 0.0,
    ) -> Points: ...
    def offset(
        self,
        a: Point | Points,
        bearing_deg: ArrayLike,
        distance_m: ArrayLike,
        kind: DistanceKind,
        elevation_m: ArrayLike = 0.0,
    ) -> Point | Points:
        """Return the points at grid bearings and distances of any kind from `a`.

        The inverse of `bearing_deg` and `distance`: both give back what was put in.
        Arrays give each point as it comes out alone.
        """
        x, y, turn, wanted, level = floats(*a, bearing_deg, distance_m, elevation_m)
        start = (x, y)
        east, north = np.sin(np.radians(turn)), np.cos(np.radians(turn))
        close = np.maximum(_CLOSE_M, _CLOSE_RATIO * wanted)
        grid = wanted
        for _ in range(_ROUNDS):
            b = (start[0] + grid * east, start[1] + grid * north)
            missing = wanted - self.distance(start, b, kind, level)
            far = ~(np.abs(missing) <= close)
            if not far.any():
                return plain(b[0]), plain(b[1])  # type: ignore[return-value]
            grid = np.where(far, grid + missing, grid)
        first = int(np.argmax(far))
        raise GeometryError(
            fact(
                "no-point-so-far",
                length=length(wanted.flat[first]),
                bearing=angle(turn.flat[first]),
                east=number(start[0].flat[first]),
                north=number(start[1].flat[first]),
                system=words(self.title),
            )
        )

    @overload
    def grid_bearing_deg(self, a: Point, true_deg: float, length_m: float) -> float: ...
    @overload
    def grid_bearing_deg(
        self, a: Points, true_deg: Array, length_m: Array
    ) -> Array: ...
    def grid_bearing_deg(
        self, a: Point | Points, true_deg: ArrayLike, length_m: ArrayLike
    ) -> float | Array:
        """Turn bearings from true north at `a` into the grid bearings of those lines.

        Of `length_m` on the ellipsoid: the geodesic is laid out and its chord in the
        plane taken, so the (small) arc-to-chord correction is included.
        """
        east, north, turn, long = floats(*a, true_deg, length_m)
        lat, lon = self._geographic(east, north)
        geod = frame(self.crs).geod
        lon2, lat2, _ = mapped(geod.fwd, lon, lat, turn, np.maximum(long, 1.0))
        end = self._run(frame(self.crs).project, lon2, lat2)
        return self.bearing_deg((east, north), end)

    def _geodesic(self, a: Points, b: Points) -> tuple[Array, Array, Array]:
        """Latitude half-way, azimuth and length of lines on the system's ellipsoid."""
        ends = floats(*self._geographic(*a), *self._geographic(*b))
        lat1, lon1, lat2, lon2 = ends
        azimuth, _, long = mapped(frame(self.crs).geod.inv, lon1, lat1, lon2, lat2)
        return (lat1 + lat2) / 2, azimuth, long

    def _geographic(self, east_m: ArrayLike, north_m: ArrayLike) -> Points:
        """Latitude and longitude in the system's own datum, as arrays."""
        lon, lat = self._run(frame(self.crs).unproject, east_m, north_m)
        return lat, lon

    def _run(self, step: Transformer, x: ArrayLike, y: ArrayLike) -> Points:
        """Transform, keep NaN, and refuse what has no image."""
        x, y = floats(x, y)
        u, v = mapped(step.transform, x, y)
        lost = ~(np.isnan(x) | np.isnan(y)) & ~(np.isfinite(u) & np.isfinite(v))
        refuse(lost, fact("system-cannot-show-point", system=words(self.title)))
        return u, v
