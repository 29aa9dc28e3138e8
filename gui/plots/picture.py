"""What a map and a height profile show, as numbers and words: made in a worker.

A picture of an infringement is drawn from the infringement's own values, in the words of
the text beside it.  East and north are metres from the picture's own origin.
"""

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace

import numpy as np
from numpy.typing import NDArray

from gui.plots.heights import HeightCurve, PictureTrack, heights_of, marked_at, way_of
from scorer.checks.base import Circumstances
from scorer.event import place_kinds
from scorer.event.finding import Finding
from scorer.event.model import Event, Place, Task, Units
from scorer.event.moments import at
from scorer.event.place_kinds import PlaceKind
from scorer.facts import Fact, Value, bearing, distance, fact, inner, listed, place
from scorer.facts import pilot as pilot_value
from scorer.facts import task as task_value
from scorer.geodesy.site import Site
from scorer.scoring.keyings import Keyed
from scorer.scoring.results import MarkResult, Results, Score
from scorer.scoring.told import place_label
from scorer.sheets.maps import areas_of, targets_of
from scorer.tracks.flown import Flown
from scorer.units import FOOT_M
from scorer.words.voice import Voice

__all__ = [
    "HeightCurve",
    "Outline",
    "Picture",
    "PictureSpot",
    "PictureTrack",
    "alike",
    "picture_of",
    "places_picture",
]

Array = NDArray[np.float64]
KNOWN = frozenset({Keyed.AGREE, Keyed.SETTLED, None})
"""Marks that everybody may see: entered twice, settled, or from the log."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """A place: one ring for an area, one point for a point."""

    name: str
    kind: PlaceKind
    en_m: Array
    """(N, 2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureSpot:
    """A named point: a target, a mark, where something was found."""

    name: str
    east_m: float
    north_m: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """Everything of one infringement, or of one pilot's flight."""

    title: str
    imperial: bool
    zone: str
    origin: tuple[float, float] = (0.0, 0.0)
    """East and north of the event's plane where the picture has its 0, 0."""
    outlines: tuple[Outline, ...] = ()
    targets: tuple[PictureSpot, ...] = ()
    marks: tuple[PictureSpot, ...] = ()
    spots: tuple[PictureSpot, ...] = ()
    """Where the infringement was at its worst."""
    rings_m: tuple[float, ...] = ()
    """Radii of the rings round the first target."""
    ring_names: tuple[str, ...] = ()
    """What the rings are; empty = their radii."""
    least_view_m: float = 60.0
    """The map shows at least so much."""
    focus_m: Array | None = None
    """(K, 2): what is shown first; None = the infringement, or everything."""
    way: PictureTrack | None = None
    heights: HeightCurve | None = None
    """None where heights say nothing about it."""
    span_s: tuple[float, float] | None = None
    """When the infringement was, POSIX seconds."""
    missing: str = ""
    """Why there is no track, as a sentence."""
    map_says: str = ""
    """What the map shows, for those who do not see it."""
    profile_says: str = ""
    task: int | None = None
    """Of a map of places: the task whose places alone are on it."""

    @property
    def unit_m(self) -> float:
        """Metres in the unit that people at the event read."""
        return float(FOOT_M) if self.imperial else 1.0

    @property
    def unit(self) -> str:
        """The unit that people at the event read."""
        return "ft" if self.imperial else "m"

    @property
    def voice(self) -> Voice:
        """How lengths and moments are said in it."""
        units = Units.IMPERIAL if self.imperial else Units.METRIC
        return Voice(units=units, time_zone=self.zone)

    def clock(self, time_s: float) -> str:
        """Print a moment as the event's clocks show it."""
        return at(time_s, self.zone).clock()


def alike(one: object, other: object) -> bool:
    """Tell whether two pictures, or parts of them, show the same."""
    if one is other:
        return True
    if type(one) is not type(other):
        return False
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other, equal_nan=True)  # type: ignore[arg-type]
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(alike, one, other))
    if is_dataclass(one):
        names = (field.name for field in fields(one))
        return all(alike(getattr(one, n), getattr(other, n)) for n in names)
    return one == other


def picture_of(
    event: Event,
    site: Site,
    results: Results | None,
    flown: Flown | None,
    *,
    task: int | None,
    finding: Finding | None = None,
    about: Circumstances | None = None,
) -> Picture:
    """Gather what is to be seen of a pilot's flight, around one infringement if given.

    `about` is what the checks of the task knew: where its limits hold.
    """
    voice = Voice.of(event)
    pilot = flown.pilot if flown else (finding.pilot if finding else None)
    targets = _targets(event, task, pilot)
    origin = _origin(event, site, targets, flown)
    heights = (
        heights_of(flown, finding, about, event, voice) if flown is not None else None
    )
    spots = tuple(_finding_spot(finding, site, origin, voice))
    scored = results.task(task) if results and task is not None else None
    score = scored.score_of(pilot) if scored and pilot is not None else None
    marks = _marks(score, site, origin, voice)
    picture = Picture(
        title=_title(voice, pilot, task, event),
        imperial=event.units is Units.IMPERIAL,
        zone=event.time_zone,
        origin=origin,
        outlines=tuple(_outlines(event, site, origin, task, _within(finding, about))),
        targets=tuple(_spot(site, place, origin) for place in targets),
        marks=tuple(marks),
        spots=spots,
        rings_m=_limit_ring(finding),
        way=way_of(flown, origin, finding),
        heights=heights,
        span_s=(finding.from_s, finding.to_s) if finding else None,
        missing="" if flown else voice.word("picture-no-log"),
    )
    return _told(picture, voice, pilot, task, finding)


def _told(
    picture: Picture,
    voice: Voice,
    pilot: int | None,
    task: int | None,
    finding: Finding | None,
) -> Picture:
    """Put what map and profile show into sentences."""
    if pilot is None or task is None or finding is None:
        return picture
    where = _where(picture)
    seen = [] if where is None else [where]
    own = {"pilot": pilot_value(pilot), "task": task_value(task)}
    map_says = fact("map-says", **own, parts=listed(map(inner, seen)))
    heights = picture.heights
    told = "" if heights is None else heights.says
    return replace(picture, map_says=voice.say(map_says), profile_says=told)


def _limit_ring(finding: Finding | None) -> tuple[float, ...]:
    """Return the limit of a launch's distance, round its target."""
    launched = finding is not None and finding.kind.section == "launch"
    if finding is None or not launched or finding.unit != "m" or not finding.limit:
        return ()
    return (finding.limit,)


def _where(picture: Picture) -> Fact | None:
    """State where it was, seen from the nearest target."""
    if not picture.spots or not picture.targets:
        return None
    spot = picture.spots[0]
    near = min(picture.targets, key=lambda t: _apart(t, spot))
    east, north = spot.east_m - near.east_m, spot.north_m - near.north_m
    towards = float(np.degrees(np.arctan2(east, north)))
    values: dict[str, Value] = {
        "away": distance(_apart(near, spot)),
        "bearing": bearing(towards),
        "target": place(near.name),
    }
    return fact("map-where", **values)


def _apart(one: PictureSpot, other: PictureSpot) -> float:
    return float(np.hypot(one.east_m - other.east_m, one.north_m - other.north_m))


def places_picture(event: Event, site: Site, task: int | None = None) -> Picture:
    """Gather the event's places alone, or those that bear on one task."""
    own = next((t for t in event.tasks if t.number == task), None)
    shown = event.places if own is None else _bearing_on(event, own)
    targets = [p for p in shown if p.kind is place_kinds.TARGET]
    origin = _origin(event, site, targets, None)
    voice, title = Voice.of(event), event.name
    if own is not None:
        there = [place(target.name) for target in targets]
        number = task_value(own.number)
        says = fact("picture-task-alone", task=number)
        if there:  # a goal that pilots declare is no place of the event
            says = fact("picture-task", task=number, targets=listed(there))
        title = voice.say(says)
    names = listed([place(p.name) for p in shown])
    return Picture(
        title=title,
        imperial=event.units is Units.IMPERIAL,
        zone=event.time_zone,
        origin=origin,
        outlines=tuple(_outline(p, site, origin, voice) for p in shown),
        targets=tuple(_spot(site, place, origin) for place in targets),
        map_says=voice.sentence(fact("map-places", places=names)) if shown else "",
        task=None if own is None else own.number,
    )


def _bearing_on(event: Event, task: Task) -> list[Place]:
    """Return the places that bear on a task: targets and areas of others are absent."""
    own = {*task.targets, *task.roles.values()}
    areas = areas_of(event, [task])
    return [
        one
        for one in event.places
        if one in areas
        or (one.is_point and (one.kind is not place_kinds.TARGET or one.name in own))
    ]


def _title(voice: Voice, pilot: int | None, task: int | None, event: Event) -> str:
    if pilot is None:
        return event.name
    if task is None:
        return voice.pilot(pilot)
    both = {"pilot": pilot_value(pilot), "task": task_value(task)}
    return voice.say(fact("picture-title", **both))


def _targets(event: Event, task: int | None, pilot: int | None) -> list[Place]:
    return [] if task is None else list(targets_of(event, task, pilot))


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
    event: Event,
    site: Site,
    origin: tuple[float, float],
    task: int | None,
    within: str | None,
) -> Iterator[Outline]:
    """Yield the areas that bear on a task: those of other tasks are absent."""
    voice = Voice.of(event)
    own = next((t for t in event.tasks if t.number == task), None)
    for place_ in event.places if own is None else areas_of(event, [own]):
        if own is None and place_.is_point:
            continue
        yield _outline(place_, site, origin, voice, inside=place_.name == within)


def _within(finding: Finding | None, about: Circumstances | None) -> str | None:
    """Return the area in which the minimum height holds, where the picture is of it."""
    if about is None or finding is None or finding.kind.section != "floor":
        return None
    return about.book.floor.within


def _outline(
    own: Place,
    site: Site,
    origin: tuple[float, float],
    voice: Voice,
    *,
    inside: bool = False,
) -> Outline:
    lon, lat = np.array(own.rings[0], dtype=float).T
    east_m, north_m = site.plane.to_plane(lat, lon)
    en_m = np.column_stack([east_m - origin[0], north_m - origin[1]])
    name = place_label(voice, own)
    if inside:
        name = voice.say(fact("map-minimum-inside", place=place(name)))
    return Outline(name=name, kind=own.kind, en_m=en_m)


def _spot(site: Site, own: Place, origin: tuple[float, float]) -> PictureSpot:
    east, north = site.point(own.name)
    return PictureSpot(
        name=own.name, east_m=east - origin[0], north_m=north - origin[1]
    )


def _marks(
    score: Score | None, site: Site, origin: tuple[float, float], voice: Voice
) -> Iterator[PictureSpot]:
    """Yield the marks that stand fast; others are not everybody's to see yet."""
    for mark in score.marks if score else ():
        if mark.lat_deg is None or mark.lon_deg is None:
            continue
        if mark.state in KNOWN:
            east, north = site.plane.to_plane(mark.lat_deg, mark.lon_deg)
            yield PictureSpot(
                name=_mark_words(mark, voice),
                east_m=float(east) - origin[0],
                north_m=float(north) - origin[1],
            )


def _mark_words(mark: MarkResult, voice: Voice) -> str:
    named = f"{voice.word('map-mark')} {mark.mark}".strip()
    if mark.distance_m is None:
        return named
    return f"{named}, {voice.distance(mark.distance_m)}"


def _finding_spot(
    finding: Finding | None, site: Site, origin: tuple[float, float], voice: Voice
) -> Iterator[PictureSpot]:
    if finding and finding.lat_deg is not None and finding.lon_deg is not None:
        east, north = site.plane.to_plane(finding.lat_deg, finding.lon_deg)
        name = voice.word(marked_at(finding))
        yield PictureSpot(name=name, east_m=east - origin[0], north_m=north - origin[1])
