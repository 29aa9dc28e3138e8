"""Read the places of an event: features of a GeoJSON collection (RFC 7946)."""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
from shapely import LineString, Polygon
from shapely import Point as ShapePoint
from shapely.validation import explain_validity

from scorer.event.model import Origin, Place
from scorer.event.place_kinds import PLACE_KINDS, Geometry, PlaceKind
from scorer.event.reading import Faults
from scorer.units import DEGREE_M

Ring = tuple[tuple[float, float], ...]
LOWEST_M, HIGHEST_M = -500.0, 9000.0
"""No ground on Earth lies lower (the shore of the Dead Sea: -430 m) or higher."""
STRIP_M = 10.0
"""Half the width of the strip that stands for a line or point on a map: wires and masts
are wider than the line that somebody drew (our choice)."""
_GREATEST = 1e9
"""No degree and no height is larger; NaN is not within either."""
_HEIGHTS = ("elevation_m", "lower_m", "upper_m", "height_m")
_OWN = ("name", "kind", *_HEIGHTS)


def read_place(
    feature: Mapping[str, Any], index: int, origin: Origin, faults: Faults
) -> Place | None:
    """Read one feature; None without a name and kind.

    A place with other faults is still returned, so that what names it is not at fault.
    """
    reader = _Feature(feature, index, origin, faults)
    name = reader.name()
    kind = reader.kind()
    rings = reader.rings(kind) if kind else ()
    heights = {key: reader.height(key) for key in _HEIGHTS}
    low, high = heights["lower_m"], heights["upper_m"]
    if (tall := heights["height_m"]) is not None and tall < 0:
        reader.refuse("height_m", tall, "0 or more, metres above the ground")
    if low is not None and high is not None and low >= high:
        reader.refuse("upper_m", high, f"more than lower_m ({low:g})")
    if not name or kind is None:
        return None
    extra = {k: v for k, v in reader.properties.items() if k not in _OWN}
    return Place(
        name=name, kind=kind, rings=rings, extra=extra, origin=origin, **heights
    )


class _Feature:
    """One feature while it is read."""

    def __init__(
        self, feature: Mapping[str, Any], index: int, origin: Origin, faults: Faults
    ) -> None:
        self.origin = origin
        self.faults = faults
        self.label = f"features[{index}]"
        feature = feature if isinstance(feature, Mapping) else {}
        properties = feature.get("properties")
        self.properties = properties if isinstance(properties, Mapping) else {}
        geometry = feature.get("geometry")
        self.geometry = geometry if isinstance(geometry, Mapping) else {}

    def refuse(self, field: str, found: object, allowed: str, remedy: str = "") -> None:
        self.faults.add(
            self.origin,
            field=f"{self.label}.{field}",
            found=found,
            allowed=allowed,
            remedy=remedy,
        )

    def name(self) -> str:
        name = self.properties.get("name")
        if not isinstance(name, str) or not name.strip():
            self.refuse("properties.name", name, "a unique name")
            return ""
        self.label = f'"{name.strip()}"'
        return name.strip()

    def kind(self) -> PlaceKind | None:
        kind = self.properties.get("kind")
        if isinstance(kind, str) and kind in PLACE_KINDS:
            return PLACE_KINDS[kind]
        field = f"{self.label}.properties.kind"
        found = "nothing" if kind is None else kind
        self.faults.unknown(self.origin, field, found, PLACE_KINDS)
        return None

    def height(self, key: str) -> float | None:
        value = self.properties.get(key)
        if value is None:
            return None
        ground = key == "elevation_m"
        if _is_number(value) and (not ground or LOWEST_M <= value <= HIGHEST_M):
            return float(value)
        limits = f", {LOWEST_M:,.0f} to {HIGHEST_M:,.0f}" if ground else ""
        self.refuse(
            f"properties.{key}", value, f"metres as a number{limits}, or left out"
        )
        return None

    def rings(self, kind: PlaceKind) -> tuple[Ring, ...]:
        wanted = str(kind.geometry)
        found = self.geometry.get("type")
        coordinates = self.geometry.get("coordinates")
        if kind.geometry is Geometry.ANY:
            if found in {"Point", "LineString"}:
                return self.strip(coordinates if found != "Point" else [coordinates])
            wanted = "Polygon" if found in {"Polygon", "MultiPolygon"} else wanted
        parts = coordinates if isinstance(coordinates, list) else []
        if found == f"Multi{wanted}" and len(parts) == 1:
            coordinates = parts[0]  # as many programs export a single one
        elif found != wanted:
            many = f"{len(parts)} parts: make each a place with its own name."
            self.refuse(
                "geometry.type",
                "nothing" if found is None else found,
                f"{wanted} for kind {kind}",
                many if found == f"Multi{wanted}" else "",
            )
            return ()
        if kind.is_point:
            point = self.position(coordinates)
            return ((point,),) if point else ()
        if not isinstance(coordinates, list) or not coordinates:
            self.refuse("geometry.coordinates", coordinates, "a list of rings")
            return ()
        rings = [self.ring(ring) for ring in coordinates]
        return self.polygon([ring for ring in rings if ring])

    def strip(self, line: object) -> tuple[Ring, ...]:
        """Return the strip of ground that a point or line stands for."""
        points = line if isinstance(line, list) else []
        read = [self.position(p) for p in points]
        whole = [p for p in read if p is not None]
        if not points or len(whole) < len(read):
            if not points:
                self.refuse("geometry.coordinates", line, "at least two positions")
            return ()
        lon, lat = np.array(whole).T
        narrow = math.cos(math.radians(float(lat.mean())))
        metres = np.column_stack(((lon - lon[0]) * narrow, lat - lat[0])) * DEGREE_M
        path = LineString(metres) if len(metres) > 1 else ShapePoint(metres[0])
        edge = np.array(path.buffer(STRIP_M, quad_segs=4).exterior.coords) / DEGREE_M
        ring = zip(lon[0] + edge[:, 0] / narrow, lat[0] + edge[:, 1], strict=True)
        return (tuple((float(x), float(y)) for x, y in ring),)

    def ring(self, ring: object) -> Ring:
        points = ring if isinstance(ring, list) else []
        read = [self.position(p) for p in points]
        whole = tuple(p for p in read if p is not None)
        if len(whole) < len(read):
            return ()
        if len(whole) < 4 or whole[0] != whole[-1]:
            self.refuse(
                "geometry.coordinates",
                f"a ring of {len(whole)} positions",
                "at least four positions, the last the same as the first",
            )
            return ()
        return whole

    def polygon(self, rings: list[Ring]) -> tuple[Ring, ...]:
        if not rings:
            return ()
        shape = Polygon(*_across_180(rings))
        if not shape.is_valid:
            self.refuse(
                "geometry.coordinates",
                explain_validity(shape),
                "a polygon that does not cross itself",
            )
            return ()
        return tuple(rings)

    def position(self, value: object) -> tuple[float, float] | None:
        if (
            isinstance(value, list)
            and len(value) in {2, 3}
            and all(_is_number(v) for v in value)
            and abs(value[0]) <= 180
            and abs(value[1]) <= 90
        ):
            return float(value[0]), float(value[1])
        self.refuse(
            "geometry.coordinates",
            value,
            "[longitude, latitude] in degrees WGS84, longitude first",
        )
        return None


def _across_180(rings: list[Ring]) -> tuple[Any, list[Any]]:
    """Return outline and holes with longitudes that go on past 180 degrees."""
    first = rings[0][0][0]
    whole = []
    for ring in rings:
        lon, lat = np.array(ring).T
        near = lon[0] + 360.0 * np.round((first - lon[0]) / 360.0)
        whole.append(
            np.column_stack((np.unwrap(lon - lon[0] + near, period=360.0), lat))
        )
    return whole[0], whole[1:]


def _is_number(value: object) -> bool:
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and abs(value) <= _GREATEST
    )
