"""Distances and bearings on the ellipsoid, by formulas of their own.

Source: T. Vincenty, Direct and inverse solutions of geodesics on the ellipsoid, Survey
Review 23 (1975), no. 176, pages 88 to 93; the transverse Mercator series after
L. Krüger (1912) to the third power of n (formulas from memory, held against a general
library by the tests).
"""

from collections.abc import Mapping
from math import (
    asinh,
    atan,
    atan2,
    atanh,
    cos,
    cosh,
    degrees,
    hypot,
    radians,
    sin,
    sinh,
    sqrt,
    tan,
)
from typing import Any, NamedTuple

_A = 6378137.0
_F = 1 / 298.257223563
_B = _A * (1 - _F)
_MOST_TURNS = 60


class GlobePoint(NamedTuple):
    """A point, degrees."""

    lat: float
    lon: float


def places_of(entered: Mapping[str, Any]) -> dict[str, GlobePoint]:
    """Return where the places of an event lie, by their names in small letters."""
    found = ((one["name"].casefold(), spot_of(one)) for one in entered["places"])
    return {name: at for name, at in found if at is not None}


def spot_of(row: Mapping[str, Any]) -> GlobePoint | None:
    """Return the point that a row of results states, if it does."""
    if row["lat"] is None or row["lon"] is None:
        return None
    return GlobePoint(float(row["lat"]), float(row["lon"]))


class GeodesicLine(NamedTuple):
    """The way from one point to another."""

    length_m: float
    bearing_deg: float
    """At its start, from true north."""


def line(start: GlobePoint, end: GlobePoint) -> GeodesicLine:
    """Return the geodesic between two points that are not antipodes."""
    off = radians(end.lon - start.lon)
    u1 = atan((1 - _F) * tan(radians(start.lat)))
    u2 = atan((1 - _F) * tan(radians(end.lat)))
    turn = off
    for _ in range(_MOST_TURNS):
        across = cos(u2) * sin(turn)
        along = cos(u1) * sin(u2) - sin(u1) * cos(u2) * cos(turn)
        sine = hypot(across, along)
        if sine == 0:
            return GeodesicLine(0.0, 0.0)
        cosine = sin(u1) * sin(u2) + cos(u1) * cos(u2) * cos(turn)
        sigma = atan2(sine, cosine)
        alpha = cos(u1) * cos(u2) * sin(turn) / sine
        square = 1 - alpha**2
        middle = cosine - 2 * sin(u1) * sin(u2) / square if square else 0.0
        c = _F / 16 * square * (4 + _F * (4 - 3 * square))
        inner = middle + c * cosine * (2 * middle**2 - 1)
        before, turn = turn, off + (1 - c) * _F * alpha * (sigma + c * sine * inner)
        if abs(turn - before) < 1e-13:
            break
    wide = square * (_A**2 - _B**2) / _B**2
    a = 1 + wide / 16384 * (4096 + wide * (wide * (320 - 175 * wide) - 768))
    b = wide / 1024 * (256 + wide * (wide * (74 - 47 * wide) - 128))
    last = b / 6 * middle * (4 * sine**2 - 3) * (4 * middle**2 - 3)
    less = b * sine * (middle + b / 4 * (cosine * (2 * middle**2 - 1) - last))
    return GeodesicLine(_B * a * (sigma - less), degrees(atan2(across, along)) % 360)


class MercatorZone(NamedTuple):
    """A zone of the universal transverse Mercator grid."""

    meridian_deg: float
    south: bool

    def of(self, spot: GlobePoint) -> tuple[float, float]:
        """Return east and north of a point, metres."""
        lat, off = radians(spot.lat), radians(spot.lon - self.meridian_deg)
        n = _F / (2 - _F)
        root = 2 * sqrt(n) / (1 + n)
        t = sinh(atanh(sin(lat)) - root * atanh(root * sin(lat)))
        xi, eta = atan2(t, cos(off)), asinh(sin(off) / hypot(t, cos(off)))
        series = (
            n / 2 - 2 * n**2 / 3 + 5 * n**3 / 16,
            13 * n**2 / 48 - 3 * n**3 / 5,
            61 * n**3 / 240,
        )
        north, east = xi, eta
        for power, share in enumerate(series, start=1):
            north += share * sin(2 * power * xi) * cosh(2 * power * eta)
            east += share * cos(2 * power * xi) * sinh(2 * power * eta)
        radius = 0.9996 * _A / (1 + n) * (1 + n**2 / 4 + n**4 / 64)
        return 500000 + radius * east, radius * north + (1e7 if self.south else 0)

    def turn_deg(self, spot: GlobePoint) -> float:
        """Return by how much grid north lies east of true north there."""
        off = radians(spot.lon - self.meridian_deg)
        return degrees(atan(tan(off) * sin(radians(spot.lat))))


_ZONES = {"326": (1, False), "327": (1, True), "258": (28, False)}
"""Codes of zones by their first figures, and the least zone of each; WGS84 and ETRS89."""


def grid_of(code: str) -> MercatorZone | None:
    """Return the zone that a code such as `EPSG:32642` names; None for any other system."""
    name, _, digits = code.partition(":")
    if name.upper() != "EPSG" or len(digits) != 5 or not digits.isdecimal():
        return None
    known, zone = _ZONES.get(digits[:3]), int(digits[3:])
    if known is None or not known[0] <= zone <= (38 if known[0] > 1 else 60):
        return None
    return MercatorZone(6.0 * zone - 183, known[1])
