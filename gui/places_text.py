"""Places as people type them: a point, a list of corners, a circle."""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from pyproj import Geod

from scorer.errors import Fault, InputError, ScorerError
from scorer.event.model import Origin, Place
from scorer.event.place_kinds import Geometry, PlaceKind
from scorer.event.places import read_place
from scorer.event.reading import Faults
from scorer.event.tables import MOST_BYTES
from scorer.facts import count, fact
from scorer.units import Unreadable, angle_deg, length_m
from scorer.words.voice import Voice

WGS84 = Geod(ellps="WGS84")
CORNERS = 72
"""Of a circle."""
ALLOWED = (
    "latitude, longitude (48.6018, 66.3040); for an area several with ; between, or a "
    "circle: 48.6018, 66.3040 r 500 m, or r 1600 ft"
)
ALLOWED_LINE = (
    "48.6018, 66.3040 for a point, several with ; between for a line, the first one "
    "again at the end for an area, or a circle: 48.6018, 66.3040 r 20 m, or "
    "r 60 ft"
)
_CIRCLE = re.compile(
    r"^(?P<centre>.+?)\s+r(?:adius)?\s*(?P<radius>[\d.,].*)$", re.IGNORECASE
)
Point = tuple[float, float]


def read_point(text: str) -> Point:
    """Read `latitude, longitude` in degrees; raise Unreadable."""
    lat, lon = pair(text)
    return angle_deg(lat, "latitude"), angle_deg(lon, "longitude")


def pair(text: str) -> tuple[str, str]:
    """Cut a text into two coordinates; raise Unreadable where there are not two."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if len(parts) != 2:
        parts = text.split()
    if len(parts) != 2:
        raise Unreadable(text, ALLOWED)
    return parts[0], parts[1]


def read_corners(text: str) -> list[Point]:
    """Read the corners of an area, or those of a circle; raise Unreadable."""
    circle = _CIRCLE.match(text.strip())
    if circle is not None:
        return _circle(read_point(circle["centre"]), length_m(circle["radius"]))
    corners = [read_point(part) for part in re.split(r"[;\n]", text) if part.strip()]
    if len(corners) < 3:
        raise Unreadable(text, f"at least three corners; {ALLOWED}")
    return corners


def feature(
    name: str,
    kind: PlaceKind,
    where: str,
    levels: Mapping[str, str],
    recorded: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """Return a place as a GeoJSON feature; raise InputError with what is wrong.

    `levels`: texts of `elevation_m`, `lower_m`, `upper_m`, `height_m`, lengths with
    their unit.  `recorded` is the feature it was: what nobody typed over stays, a hole
    and other properties too.
    """
    before = dict(recorded or {})
    kept = {
        k: v for k, v in (before.get("properties") or {}).items() if k not in levels
    }
    properties: dict[str, Any] = {**kept, "name": name.strip(), "kind": str(kind)}
    for key, text in levels.items():
        if text.strip():
            properties[key] = round(length_m(text), 3)
    geometry = before.get("geometry") if before.get("where") == where.strip() else None
    geometry = geometry or _geometry(kind, where)
    made = {"type": "Feature", "properties": properties, "geometry": geometry}
    check([made])
    return made


def _geometry(kind: PlaceKind, where: str) -> dict[str, Any]:
    """Return the form that was typed: of what may be any, points in a row are a line."""
    free = kind.geometry is Geometry.ANY and not _CIRCLE.match(where.strip())
    points = [part for part in re.split(r"[;\n]", where) if part.strip()]
    if kind.is_point or (free and len(points) == 1):
        return {"type": "Point", "coordinates": _pair(*read_point(where))}
    if free:
        line = [_pair(*read_point(part)) for part in points]
        if len(line) < 2:
            raise Unreadable(where, f"a point, a line or an area; {ALLOWED_LINE}")
        if line[0] != line[-1] or len(line) < 4:
            return {"type": "LineString", "coordinates": line}
        return {"type": "Polygon", "coordinates": [line]}
    ring = [_pair(*corner) for corner in read_corners(where)]
    return {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}


def check(features: list[dict[str, Any]]) -> None:
    """Raise InputError where features are no places of ours."""
    faults = Faults()
    for index, made in enumerate(features):
        place = read_place(made, index, Origin(where="place"), faults)
        if place is None and not faults.found:
            faults.found.append(
                Fault(where="place", found="nothing", allowed="a name and a kind")
            )
    if faults.found:
        raise InputError(faults.found)


def read_geojson(path: Path) -> list[dict[str, Any]]:
    """Read the features of a GeoJSON file (RFC 7946) with our names and kinds."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise ScorerError(
                f"{path.name} has over {MOST_BYTES // 2**20} MiB; choose a file with the "
                "event's places alone"
            )
        tree = json.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError) as error:
        raise ScorerError(f"{path.name} cannot be read as GeoJSON ({error})") from error
    features = tree.get("features") if isinstance(tree, dict) else None
    if not isinstance(features, list) or not features:
        raise ScorerError(f"{path.name} holds no FeatureCollection with places")
    check(features)
    return features


def where_told(place: Place, voice: Voice) -> str:
    """Say where a place is, as all texts say coordinates; of an area, how it is drawn."""
    corners = [corner for ring in place.rings for corner in ring]
    lon, lat = corners[0]
    if place.is_point:
        return voice.position(lat, lon)
    return voice.say(fact("place-corners", corners=count(len(corners))))


def where_text(place: Place, geometry: Mapping[str, Any] | None = None) -> str:
    """Write a place's coordinates the way they are typed.

    `geometry` is what was recorded: a line is written as its points, not as the strip
    that stands for it on maps.
    """
    given = geometry or {}
    form: Any = given.get("type")
    found: Any = given.get("coordinates")
    if place.kind.geometry is Geometry.ANY and form in {"Point", "LineString"}:
        return _written([found] if form == "Point" else found)
    ring = place.rings[0]
    closed = place.kind.geometry is Geometry.ANY
    return _written(ring if place.is_point or closed else ring[:-1])


def _written(corners: Iterable[Sequence[float]]) -> str:
    return "; ".join(f"{lat:.7f}, {lon:.7f}" for lon, lat, *_ in corners)


def _pair(lat_deg: float, lon_deg: float) -> list[float]:
    return [round(lon_deg, 8), round(lat_deg, 8)]


def _circle(centre: Point, radius_m: float) -> list[Point]:
    lat_deg, lon_deg = centre
    bearings = [-360.0 * i / CORNERS for i in range(CORNERS)]  # outer rings run left
    many = len(bearings)
    lon, lat, _ = WGS84.fwd(
        [lon_deg] * many, [lat_deg] * many, bearings, [radius_m] * many
    )
    return list(zip(lat, lon, strict=True))
