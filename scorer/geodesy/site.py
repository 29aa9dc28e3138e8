"""The ground of one event: its plane, its places, its elevations, made ready once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import overload

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from scorer.errors import Fault, InputError, nearest
from scorer.event.matter import Matter
from scorer.event.model import DistanceKind, Event, North, Units
from scorer.facts import fact, words
from scorer.geodesy.arrays import Array, Point, Points, columns, floats
from scorer.geodesy.cautions import cautions
from scorer.geodesy.placed import Spot, project_places, read_declination
from scorer.geodesy.plane import Plane
from scorer.geodesy.precision import SurveySigmas, read_sigmas
from scorer.geodesy.stood import Stood, every_stood, spots_at
from scorer.geodesy.terrain import Ground, Terrain

_EVENT = "event.toml"
_OFFSET_ROUNDS = 4


Somewhere = Spot | str | Point
"""A spot, the name of a place, or (east_m, north_m)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """All places of an event in its plane, with true lengths between them.

    Distances are of the event's own kind.  A `ground` distance is taken at the mean of
    the elevations of its two ends; where neither is known, at sea level, and `cautions`
    says so.  Holds plain data only, so it can be sent to other processes.
    """

    plane: Plane
    ground: Ground = Ground()
    distance_kind: DistanceKind = DistanceKind.GROUND
    units: Units = Units.METRIC
    declination_deg: float | None = None
    """Magnetic declination, east positive; None = not given."""
    sigmas: SurveySigmas = SurveySigmas()
    spots: Mapping[str, Spot] = field(default_factory=dict)
    areas: Mapping[str, Polygon] = field(default_factory=dict)
    stood: tuple[Stood, ...] = ()
    """All places of targets that were moved; `spots` has the first of each."""
    cautions: tuple[Matter, ...] = ()
    """What people should know about these data before they trust a length."""

    @classmethod
    def of(cls, event: Event) -> "Site":
        """Make an event's places and elevations ready.

        Besides places and terrain it reads two optional settings of the event:
        `declination` (degrees, east positive, or text such as `1.5 W`) and the table
        `survey` (see `scorer.geodesy.precision`).

        Raises
        ------
        InputError
            The reference system, the terrain file, a setting or an area's outline
            cannot be used; all such faults of areas at once.
        """
        plane = Plane(event.crs)
        terrain = (
            None
            if event.terrain is None
            else Terrain.open(event.terrain, crs_if_missing=event.crs)
        )
        ground = Ground(terrain, event.ground_elevation_m)
        spots, areas = project_places(event.places, plane, ground)
        return cls(
            plane=plane,
            ground=ground,
            distance_kind=event.distance,
            units=event.units,
            declination_deg=read_declination(event.extra.get("declination")),
            sigmas=read_sigmas(event.extra.get("survey", {}), _EVENT),
            spots=spots,
            areas=areas,
            stood=every_stood(event, plane, ground, spots),
            cautions=tuple(cautions(event, plane, ground)),
        )

    def standing(self, task: int, time_s: float | None) -> "Site":
        """Return the site with a task's targets where they stood at a moment.

        `time_s`: POSIX seconds; None = where they stand at the end.
        """
        if not self.stood:
            return self
        then = spots_at(self.stood, task, time_s)
        return replace(self, spots={**self.spots, **then}) if then else self

    def spot(self, where: Somewhere) -> Spot:
        """Return a named point, or make a spot of a bare point."""
        if isinstance(where, Spot):
            return where
        if not isinstance(where, str):
            return self.spot_at(where, name="")
        if where not in self.spots:
            raise self._unknown(where, self.spots, "point")
        return self.spots[where]

    def spot_at(self, point: Point, *, name: str) -> Spot:
        """Give a point a name and the elevation of its ground."""
        elevation = float(self.elevation_at(point))
        known = None if np.isnan(elevation) else elevation
        return Spot(name=name, point=point, elevation_m=known)

    def point(self, name: str) -> Point:
        """Return (east_m, north_m) of a named point."""
        return self.spot(name).point

    def area(self, name: str) -> Polygon:
        """Return a named area in the plane, prepared for fast questions."""
        if name not in self.areas:
            raise self._unknown(name, self.areas, "area")
        polygon = self.areas[name]
        shapely.prepare(polygon)  # does nothing the second time; is lost on pickling
        return polygon

    def inside(self, name: str, points: Points | Point) -> NDArray[np.bool_]:
        """Tell which points lie in a named area, its edge included; NaN never does."""
        return np.asarray(shapely.intersects_xy(self.area(name), *points))

    def elevation_m(self, where: Somewhere) -> float | None:
        """Elevation of the ground at a point: its own, else terrain, else the event's."""
        return self.spot(where).elevation_m

    def elevation_at(self, points: Points | Point) -> Array:
        """Elevation of the ground at points of the plane; NaN where unknown."""
        lat, lon = self.plane.to_wgs84(*(np.asarray(v, dtype=float) for v in points))
        return self.ground.elevation_m(lat, lon)

    @overload
    def distance_m(self, a: Somewhere, b: Somewhere) -> float: ...
    @overload
    def distance_m(self, a: Points, b: Somewhere | Points) -> Array: ...
    @overload
    def distance_m(self, a: Somewhere, b: Points) -> Array: ...
    def distance_m(self, a: Somewhere | Points, b: Somewhere | Points) -> float | Array:
        """Distance of the event's kind; either end may be arrays of points."""
        (start, low), (end, high) = self._end(a), self._end(b)
        elevation = _mean(low, high)
        return self.plane.distance(start, end, self.distance_kind, elevation)  # type: ignore[arg-type]

    def bearing_deg(self, a: Somewhere, b: Somewhere) -> float:
        """Grid bearing from one point to another."""
        return self.plane.bearing_deg(self.spot(a).point, self.spot(b).point)

    def distances_m(self, a: Sequence[Somewhere], b: Sequence[Somewhere]) -> Array:
        """Distances of the event's kind between points one by one, (N,)."""
        (start, low), (end, high) = self._ends(a), self._ends(b)
        return self.plane.distance(start, end, self.distance_kind, _mean(low, high))

    def offset(self, a: Somewhere, bearing_deg: float, distance_m: float) -> Point:
        """Return the point at a grid bearing and a distance of the event's kind.

        The inverse of `bearing_deg` and `distance_m`.
        """
        east, north = self.offsets([a], [bearing_deg], [distance_m])
        return float(east[0]), float(north[0])

    def offsets(
        self,
        a: Sequence[Somewhere],
        bearing_deg: Sequence[float],
        distance_m: Sequence[float],
    ) -> Points:
        """Return the points at grid bearings and distances, each (N,)."""
        start, low = self._ends(a)
        turn, wanted = np.array(bearing_deg, float), np.array(distance_m, float)
        end, high = start, low
        for _ in range(_OFFSET_ROUNDS):
            level, before = _mean(low, high), end
            end = self.plane.offset(start, turn, wanted, self.distance_kind, level)
            same = all(np.array_equal(x, y) for x, y in zip(end, before, strict=True))
            if same or self.distance_kind is not DistanceKind.GROUND:
                break
            high = self.elevation_at(end)
        return end

    def grid_bearing_deg(
        self, a: Somewhere, bearing_deg: float, north: North, length_m: float
    ) -> float:
        """Turn a bearing from any north at a point into a grid bearing.

        Raises
        ------
        InputError
            A magnetic bearing, and the event gives no declination.
        """
        if north is North.GRID:
            return bearing_deg % 360.0
        true = bearing_deg + (
            self.needed_declination_deg() if north is North.MAGNETIC else 0.0
        )
        return self.plane.grid_bearing_deg(self.spot(a).point, true, length_m)

    def needed_declination_deg(self) -> float:
        """Return the declination, or raise InputError that says how to give it."""
        if self.declination_deg is not None:
            return self.declination_deg
        raise InputError(
            [
                Fault(
                    where=_EVENT,
                    field="event.declination",
                    found="nothing, and a bearing is from magnetic north",
                    allowed="degrees, east positive, such as 1.5 or -0.8",
                    remedy="Take it from the map's margin or a magnetic field model "
                    "for the day, or key the bearing from grid or true north (T).",
                    says=fact("declination-missing"),
                )
            ]
        )

    def _end(self, where: Somewhere | Points) -> tuple[Point | Points, Array]:
        """Point or points, and the elevation there where distances depend on it."""
        if isinstance(where, (str, Spot)):
            spot = self.spot(where)
            return spot.point, _known(spot.elevation_m)
        if self.distance_kind is not DistanceKind.GROUND:
            return where, _known(None)
        return where, self.elevation_at(where)

    def _ends(self, where: Sequence[Somewhere]) -> tuple[Points, Array]:
        """Points as columns, and the elevations where distances depend on them, (N,)."""
        spots = [None if isinstance(w, tuple) else self.spot(w) for w in where]
        bare = np.array([spot is None for spot in spots])
        points = columns(
            [w if s is None else s.point for w, s in zip(where, spots, strict=True)]  # type: ignore[misc]
        )
        known = [np.nan if s is None else _known(s.elevation_m) for s in spots]
        level = np.array(known, dtype=float)
        if self.distance_kind is DistanceKind.GROUND and bare.any():
            level[bare] = self.elevation_at((points[0][bare], points[1][bare]))
        return points, level

    def _unknown(self, name: str, known: Mapping[str, object], what: str) -> InputError:
        other = self.areas if what == "point" else self.spots
        found = f'"{name}", which is no {what}' if name in other else f'"{name}"'
        names = ", ".join(f'"{n}"' for n in known) or f"none: the event has no {what}"
        hint = "" if name in other else nearest(name, known)
        return InputError(
            [
                Fault(
                    where="places.geojson",
                    field="name",
                    found=found,
                    allowed=f"a {what} of the event ({names})",
                    remedy=hint,
                    says=fact(
                        "no-such-point" if what == "point" else "no-such-area",
                        name=words(name),
                    ),
                )
            ]
        )


def _known(elevation_m: float | None) -> Array:
    return np.asarray(np.nan if elevation_m is None else elevation_m, dtype=float)


def _mean(low: Array, high: Array) -> Array:
    """Mean of two elevations, either alone where the other is unknown, else 0."""
    a, b = floats(low, high)
    one = np.where(np.isnan(a), b, a)
    other = np.where(np.isnan(b), a, b)
    return np.nan_to_num((one + other) / 2)
