"""Coordinates of a goal as pilots write them: grid figures, grid squares, lat/lon.

Short figures leave out the leading ones, which everybody at the event knows: `4+4` figures
count tens of metres within a square of 100 km, `5+5` metres within 100 km, `6+6` metres
within 1,000 km.  The square is the one that brings the point nearest to the event's site.
The figures mean the point itself (the south-west corner of the square they name), as a map
reader plots them; half a unit is not added.  4+4 figures: published event rules of 2000.
"""

import math
import re
from dataclasses import dataclass
from functools import lru_cache

import mgrs
from pyproj import CRS

from scorer.errors import GeometryError
from scorer.facts import Fact, distance, fact, inner, number, position, words
from scorer.geodesy.arrays import Point
from scorer.geodesy.plane import Plane
from scorer.units import Unreadable, angle_deg

FARTHEST_M = 250_000.0
"""Coordinates farther than this from the site are a slip of the pen.  Our choice."""
_DOUBTFUL = 0.4
"""Short figures this share of their square away from the site could mean the next one."""
_LONGEST_TEXT = 60
_NOISE_M = 0.01

_SHORT = {4: (10.0, 100_000.0), 5: (1.0, 100_000.0), 6: (1.0, 1_000_000.0)}
"""By number of figures: what the last one counts, and the square's side; metres."""
_FULL = frozenset({(6, 7), (7, 7), (7, 6)})

_NUMBER = r"\d{4,7}(?:[.,]\d{1,3})?"
_FIGURES = re.compile(
    rf"(?:(\d{{1,2}})\s*[C-HJ-NP-X]?\s+)?E?\s*({_NUMBER})\s*(?:m?\s*E)?\s*[-/,;+\s]\s*"
    rf"N?\s*({_NUMBER})\s*(?:m?\s*N)?",
    re.IGNORECASE | re.ASCII,
)
_RUN = re.compile(r"\d{8}|\d{10}|\d{12,13}", re.ASCII)
_SQUARE = re.compile(
    r"(\d{1,2}[C-HJ-NP-X])\s*([A-HJ-NP-Z]{2})\s*(\d{3,5})\s*(\d{3,5})",
    re.IGNORECASE | re.ASCII,
)
_MINUTES = re.compile(
    r"(\d{2})(\d{5})([NS])\s*(\d{3})(\d{5})([EW])", re.IGNORECASE | re.ASCII
)
_SECONDS = re.compile(
    r"(\d{2})(\d{2})(\d{2})([NS])\s*(\d{3})(\d{2})(\d{2})([EW])",
    re.IGNORECASE | re.ASCII,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """A point read from text."""

    point: Point
    """(east_m, north_m) in the event's plane."""
    how: Fact
    """How the text was understood, for the steps."""
    doubt: Fact | None = None
    """What people should look at before they trust it."""


def read_point(text: str, plane: Plane, near: Point) -> Fix:
    """Read coordinates; `near` is the event's site, which gives what was left out.

    Raises
    ------
    GeometryError
        The text is no coordinates, or names a point nowhere near the event.
    """
    plain = text.strip()
    if len(plain) > _LONGEST_TEXT:
        raise _unreadable(text)
    fix = _read(plain, plane, near)
    if fix is None:
        raise _unreadable(text)
    off = _apart(fix.point, near)
    if off > FARTHEST_M:
        bounds = {"away": distance(off), "most": distance(FARTHEST_M)}
        raise GeometryError(fact("coordinates-too-far", text=words(text), **bounds))
    return fix


def _unreadable(text: str) -> GeometryError:
    shown = text if len(text) <= _LONGEST_TEXT else f"{text[:_LONGEST_TEXT]}…"
    return GeometryError(fact("coordinates-unreadable", text=words(shown)))


def _read(text: str, plane: Plane, near: Point) -> Fix | None:
    square = _SQUARE.fullmatch(text)
    if square:
        return _read_square(square, plane)
    figures = _FIGURES.fullmatch(text)
    if figures:
        return _read_figures(figures[2], figures[3], figures[1], plane, near)
    if _RUN.fullmatch(text):
        half = 6 if len(text) == 13 else len(text) // 2
        return _read_figures(text[:half], text[half:], None, plane, near)
    return _read_lat_lon(text, plane)


def _read_square(match: re.Match[str], plane: Plane) -> Fix:
    """Read a grid square, on WGS84, as its south-west corner.

    The library gives the middle of a square of one metre; so figures are filled up to
    metres, and the half metre is cut off again.
    """
    zone, square, east, north = (part.upper() for part in match.groups())
    if len(east) != len(north):
        raise GeometryError(fact("figures-unequal", text=words(match[0])))
    try:
        lat, lon = mgrs.MGRS().toLatLon(f"{zone}{square}{east:0<5}{north:0<5}")
    except mgrs.core.MGRSError:
        raise GeometryError(fact("no-such-square", text=words(match[0]))) from None
    south = 100 * (zone[-1] < "N")
    own = Plane(f"EPSG:{32600 + south + int(zone[:-1])}")
    corner = tuple(math.floor(v + _NOISE_M) for v in own.to_plane(lat, lon))
    how = fact("grid-square", square=words(f"{zone} {square} {east} {north}"))
    return Fix(point=_between((corner[0], corner[1]), own, plane), how=how)


def _read_figures(
    east: str, north: str, zone: str | None, plane: Plane, near: Point
) -> Fix:
    grid = _zone_plane(zone, plane, near) if zone else plane
    around = near if grid is plane else _between(near, plane, grid)
    whole = tuple(len(re.split("[.,]", part)[0]) for part in (east, north))
    decimals = re.search("[.,]", east + north) is not None
    if whole in _FULL:
        point = (_metres(east), _metres(north))
        how = fact("full-figures", east=words(east), north=words(north))
        fix = Fix(point=point, how=how)
    elif whole[0] == whole[1] and whole[0] in _SHORT and not decimals:
        fix = _complete(east, north, around)
    else:
        raise _unreadable(f"{east} {north}")
    if grid is plane:
        return fix
    how = fact("in-zone", how=inner(fix.how), zone=words(zone or ""))
    return Fix(point=_between(fix.point, grid, plane), how=how, doubt=fix.doubt)


def _complete(east: str, north: str, near: Point) -> Fix:
    """Put the leading figures before short ones."""
    unit, side = _SHORT[len(east)]
    parts = (int(east) * unit, int(north) * unit)
    point = tuple(
        part + side * round((site - part) / side)
        for part, site in zip(parts, near, strict=True)
    )
    figures = words(f"{east} {north}")
    whole = {"east": number(point[0]), "north": number(point[1])}
    how = fact("figures-completed", figures=figures, unit=number(unit), **whole)
    off = max(abs(a - b) for a, b in zip(point, near, strict=True))
    apart = {"off": distance(off), "side": distance(side)}
    doubt = fact("figures-doubtful", figures=figures, **apart)
    doubted = doubt if off > _DOUBTFUL * side else None
    return Fix(point=(point[0], point[1]), how=how, doubt=doubted)


def _zone_plane(zone: str, plane: Plane, near: Point) -> Plane:
    """Return the plane of a UTM zone: the event's own if it is that zone.

    Otherwise on WGS84, and of the hemisphere the event is in.
    """
    number = int(zone)
    if not 1 <= number <= 60:
        raise GeometryError(fact("no-such-zone", zone=words(zone)))
    if _utm_zone(plane.crs) == number:
        return plane
    lat, _ = plane.to_wgs84(*near)
    return Plane(f"EPSG:{(32600 if lat >= 0 else 32700) + number}")


@lru_cache(maxsize=64)
def _utm_zone(crs: str) -> int | None:
    zone = CRS(crs).utm_zone
    return int(zone[:-1]) if zone else None


def _read_lat_lon(text: str, plane: Plane) -> Fix | None:
    """Read latitude and longitude; a hemisphere letter settles the order."""
    parts = _compact(text) or _halves(text)
    if parts is None:
        return None
    first, second = parts
    if re.search(r"[EW]", first, re.IGNORECASE | re.ASCII):
        first, second = second, first
    try:
        lat, lon = angle_deg(first, "latitude"), angle_deg(second, "longitude")
    except Unreadable:
        return None
    how = fact("latitude-longitude", lat=position(lat), lon=position(lon))
    return Fix(point=plane.to_plane(lat, lon), how=how)


def _compact(text: str) -> tuple[str, str] | None:
    """Part `4012345N00312345W` (minutes to 0.001) and `401234N 0031234W` (seconds)."""
    match = _MINUTES.fullmatch(text)
    if match:
        a, am, n, o, om, e = match.groups()
        return f"{a} {am[:2]}.{am[2:]} {n}", f"{o} {om[:2]}.{om[2:]} {e}"
    match = _SECONDS.fullmatch(text)
    if match:
        a, am, asec, n, o, om, osec, e = match.groups()
        return f"{a} {am} {asec} {n}", f"{o} {om} {osec} {e}"
    return None


def _halves(text: str) -> tuple[str, str] | None:
    """Part a text into its two angles."""
    for mark in (";", "/", ", ", ","):
        halves = text.split(mark)
        if len(halves) == 2 and all(re.search(r"\d", half) for half in halves):
            return halves[0].strip(), halves[1].strip()
    before = re.fullmatch(
        r"([NSEW][^NSEW]+)([NSEW][^NSEW]+)", text, re.IGNORECASE | re.ASCII
    )
    after = re.fullmatch(
        r"([^NSEW]+[NSEW])([^NSEW]+[NSEW])", text, re.IGNORECASE | re.ASCII
    )
    match = before or after
    if match:
        return match[1].strip(), match[2].strip()
    words = text.split()
    return (words[0], words[1]) if len(words) == 2 and "." in text else None


def _between(point: Point, source: Plane, goal: Plane) -> Point:
    return goal.to_plane(*source.to_wgs84(*point))


def _metres(figures: str) -> float:
    return float(figures.replace(",", "."))


def _apart(a: Point, b: Point) -> float:
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5)
