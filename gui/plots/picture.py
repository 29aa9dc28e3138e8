"""What a map and a height profile show, as numbers: made in a worker, drawn elsewhere.

East and north are metres from the picture's own origin, so that axes stay readable.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.event import place_kinds
from scorer.event.finding import Finding
from scorer.event.finding import Picture as FindingPicture
from scorer.event.model import Event, Place, Units
from scorer.event.moments import at
from scorer.event.place_kinds import PlaceKind
from scorer.geodesy.site import Site
from scorer.scoring.results import Results
from scorer.scoring.told import place_label
from scorer.tracks.flown import Flown
from scorer.units import FOOT_M
from scorer.words.voice import Voice

Array = NDArray[np.float64]
RINGS_M = (25.0, 50.0, 100.0, 250.0, 500.0)
RINGS_FT = (100.0, 200.0, 500.0, 1000.0, 2000.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """A place: one ring for an area, one point for a point."""

    name: str
    kind: PlaceKind
    en_m: Array
    """(N, 2)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spot:
    """A named point: a mark, a finding."""

    name: str
    east_m: float
    north_m: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Way:
    """A track with heights; all arrays are (N,)."""

    time_s: Array
    east_m: Array
    north_m: Array
    height_m: Array
    """Above the ground; NaN where not known."""
    sigma_m: Array
    anchored: bool
    launch: int | None
    landing: int | None

    def nearest(self, time_s: float) -> int:
        """Return the index of the fix nearest to a moment."""
        after = int(np.searchsorted(self.time_s, time_s))
        if after == 0:
            return 0
        if after == len(self.time_s):
            return after - 1
        earlier = time_s - self.time_s[after - 1] <= self.time_s[after] - time_s
        return after - 1 if earlier else after


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """Everything of one finding, or of one pilot's flight."""

    title: str
    imperial: bool
    zone: str
    origin: tuple[float, float] = (0.0, 0.0)
    """East and north of the event's plane where the picture has its 0, 0."""
    outlines: tuple[Outline, ...] = ()
    targets: tuple[Spot, ...] = ()
    marks: tuple[Spot, ...] = ()
    spots: tuple[Spot, ...] = ()
    way: Way | None = None
    span_s: tuple[float, float] | None = None
    """When the finding was, POSIX seconds."""
    limit_m: float | None = None
    """Minimum height, where the finding is about one."""
    missing: str = ""
    """Why there is no track, as a sentence."""

    @property
    def unit_m(self) -> float:
        """Metres in the unit that people at the event read."""
        return float(FOOT_M) if self.imperial else 1.0

    @property
    def unit(self) -> str:
        """The unit that people at the event read."""
        return "ft" if self.imperial else "m"

    @property
    def rings_m(self) -> tuple[float, ...]:
        """Radii of the rings round a target, round in the event's unit."""
        if self.imperial:
            return tuple(ring * float(FOOT_M) for ring in RINGS_FT)
        return RINGS_M

    def clock(self, time_s: float) -> str:
        """Print a moment as the event's clocks show it."""
        return at(time_s, self.zone).clock()


def picture_of(
    event: Event,
    site: Site,
    results: Results | None,
    flown: Flown | None,
    *,
    task: int | None,
    finding: Finding | None = None,
) -> Picture:
    """Gather what is to be seen of a pilot's flight, around one finding if given."""
    own = next((t for t in event.tasks if t.number == task), None)
    names = (*own.targets, *own.roles.values()) if own else ()
    targets = [p for p in event.places if p.name in names and p.is_point]
    origin = _origin(event, site, targets, flown)
    span = (finding.from_s, finding.to_s) if finding else None
    heights = finding is not None and finding.kind.picture is FindingPicture.HEIGHTS
    pilot = flown.pilot if flown else (finding.pilot if finding else None)
    return Picture(
        title=f"pilot {pilot}" if pilot is not None else event.name,
        imperial=event.units is Units.IMPERIAL,
        zone=event.time_zone,
        origin=origin,
        outlines=tuple(_outlines(event, site, origin)),
        targets=tuple(_spot(site, place, origin) for place in targets),
        marks=tuple(_marks(results, site, origin, task, pilot)),
        spots=tuple(_finding_spot(finding, site, origin)),
        way=_way(flown, origin),
        span_s=span,
        limit_m=finding.limit if finding and heights else None,
        missing="" if flown else "There is no log that counts for this pilot.",
    )


def places_picture(event: Event, site: Site) -> Picture:
    """Gather the event's places alone."""
    targets = [p for p in event.places if p.kind is place_kinds.TARGET]
    origin = _origin(event, site, targets, None)
    return Picture(
        title=event.name,
        imperial=event.units is Units.IMPERIAL,
        zone=event.time_zone,
        origin=origin,
        outlines=tuple(_outlines(event, site, origin)),
        targets=tuple(_spot(site, place, origin) for place in targets),
    )


def _origin(
    event: Event, site: Site, targets: list[Place], flown: Flown | None
) -> tuple[float, float]:
    points = [p for p in event.places if p.is_point]
    if targets or points:
        return site.point((targets or points)[0].name)
    if flown is not None and len(flown):
        return float(flown.east_m[0]), float(flown.north_m[0])
    rings = [ring for place in event.places for ring in place.rings]
    if rings:
        lon, lat = rings[0][0]
        return site.plane.to_plane(lat, lon)
    return 0.0, 0.0


def _outlines(
    event: Event, site: Site, origin: tuple[float, float]
) -> Iterator[Outline]:
    for place in event.places:
        lon, lat = np.array(place.rings[0], dtype=float).T
        east_m, north_m = site.plane.to_plane(lat, lon)
        en_m = np.column_stack([east_m - origin[0], north_m - origin[1]])
        name = place_label(Voice(units=event.units), place)
        yield Outline(name=name, kind=place.kind, en_m=en_m)


def _spot(site: Site, place: Place, origin: tuple[float, float]) -> Spot:
    east, north = site.point(place.name)
    return Spot(name=place.name, east_m=east - origin[0], north_m=north - origin[1])


def _marks(
    results: Results | None,
    site: Site,
    origin: tuple[float, float],
    task: int | None,
    pilot: int | None,
) -> Iterator[Spot]:
    scored = results.task(task) if results and task is not None else None
    score = scored.score_of(pilot) if scored and pilot is not None else None
    for mark in score.marks if score else ():
        if mark.lat_deg is not None and mark.lon_deg is not None:
            east, north = site.plane.to_plane(mark.lat_deg, mark.lon_deg)
            name = f"mark {mark.mark}".strip()
            yield Spot(name=name, east_m=east - origin[0], north_m=north - origin[1])


def _finding_spot(
    finding: Finding | None, site: Site, origin: tuple[float, float]
) -> Iterator[Spot]:
    if finding and finding.lat_deg is not None and finding.lon_deg is not None:
        east, north = site.plane.to_plane(finding.lat_deg, finding.lon_deg)
        yield Spot(name="here", east_m=east - origin[0], north_m=north - origin[1])


def _way(flown: Flown | None, origin: tuple[float, float]) -> Way | None:
    if flown is None or len(flown) < 2:
        return None
    return Way(
        time_s=flown.time_s,
        east_m=flown.east_m - origin[0],
        north_m=flown.north_m - origin[1],
        height_m=flown.height_m,
        sigma_m=np.nan_to_num(flown.height_sigma_m),
        anchored=flown.anchored,
        launch=flown.launch,
        landing=flown.landing,
    )
