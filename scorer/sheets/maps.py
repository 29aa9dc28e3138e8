"""Small maps: where the track went, where the mark fell, where something was found."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache
from math import cos, hypot, radians
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import ArrayLike, NDArray
from shapely import (
    LineString,
    Polygon,
    box,
    clip_by_rect,
    get_coordinates,
    transform,
)
from shapely.geometry.base import BaseGeometry

from scorer.event.model import Event, Place, TargetLine, Task, Units
from scorer.event.place_kinds import FORBIDDEN, PLACE_KINDS
from scorer.facts import fact, words
from scorer.facts import pilot as pilot_value
from scorer.geodesy.plane import Plane
from scorer.scoring import told
from scorer.scoring.results import MarkResult, Score, TaskResult
from scorer.sheets.labels import first_clear, is_clear, room_of, taken, wide
from scorer.sheets.scene import (
    Box,
    Dot,
    Label,
    Line,
    Numbers,
    Point,
    Scene,
    Shape,
    nice_step,
    stretches,
)
from scorer.sheets.scene import box as frame
from scorer.sheets.sheet import Sheet, clean
from scorer.tracks.flown import Flown
from scorer.units import DEGREE_M, FOOT_M
from scorer.words.voice import Voice

Rings = tuple[tuple[tuple[float, float], ...], ...]
"""Longitude and latitude of the corners of an area."""
SIMPLER_PT = 0.25
FINEST_SPAN_M = 12.0
_TURN = np.linspace(0, 2 * np.pi, 49)
CIRCLE = np.column_stack([np.sin(_TURN), -np.cos(_TURN)])
"""From its top to the right."""
WHO_PT = 8.0
"""How far down the pilot's name stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MapFrame:
    """Lets a window on the ground fill a drawing: metres to points."""

    lat_deg: float
    lon_deg: float
    """Of the middle."""
    width: float
    height: float
    scale: float
    """Points per metre."""

    def points(
        self, lat_deg: NDArray[np.float64], lon_deg: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """Return (N, 2) x and y on the drawing."""
        return np.array(self._at(lat_deg, lon_deg)).T

    def point(self, lat_deg: float, lon_deg: float) -> Point:
        """Return one place on the drawing."""
        return self._at(lat_deg, lon_deg)

    def _at(self, lat_deg: Numbers, lon_deg: Numbers) -> tuple[Numbers, Numbers]:
        narrow = DEGREE_M * cos(radians(self.lat_deg))
        east = _near(lon_deg, self.lon_deg) - self.lon_deg
        x = self.width / 2 + east * narrow * self.scale
        y = self.height / 2 - (lat_deg - self.lat_deg) * DEGREE_M * self.scale
        return x, y

    def holds(self, point: Point, margin: float = 0.0) -> bool:
        """Tell whether a point of the drawing is inside it."""
        x, y = point
        across = margin <= x <= self.width - margin
        return across and margin <= y <= self.height - margin


def framed(places: ArrayLike, width: float, height: float) -> MapFrame | None:
    """Return the frame that shows all (lat, lon) places with a margin; None for none."""
    known = np.asarray(places, dtype=float).reshape(-1, 2)
    known = known[np.isfinite(known).all(axis=1)]
    if not len(known):
        return None
    known[:, 1] = _near(known[:, 1], float(known[0, 1]))
    (south, west), (north, east) = known.min(axis=0), known.max(axis=0)
    lat, lon = (south + north) / 2, (west + east) / 2
    across = (east - west) * DEGREE_M * cos(radians(lat))
    upward = (north - south) * DEGREE_M
    room = 0.84
    scale = min(
        room * width / max(across, FINEST_SPAN_M),
        room * height / max(upward, FINEST_SPAN_M),
    )
    return MapFrame(
        lat_deg=float(lat),
        lon_deg=float(lon),
        width=width,
        height=height,
        scale=float(scale),
    )


def _near(lon_deg: Numbers, middle_deg: float) -> Numbers:
    """Count longitudes on beyond 180 degrees where that is the shorter way to a middle."""
    return lon_deg - 360.0 * ((lon_deg - middle_deg + 180.0) // 360.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class MapWish:
    """What a map should show."""

    title: str
    width: float
    height: float
    focus: ArrayLike
    """(lat, lon) places that must be on it."""
    areas: tuple[Place, ...] = ()
    targets: tuple[Place, ...] = ()
    flown: Flown | None = None
    marks: tuple[MarkResult, ...] = ()
    spans: tuple[tuple[float, float], ...] = ()
    """Findings' (from, to), POSIX seconds: drawn on the track."""
    spots: tuple[tuple[float, float], ...] = ()
    """Findings' (lat, lon)."""
    who: str = ""
    """Whose picture it is."""
    rings: bool = False
    """Draw distance rings around the first target."""
    voice: Voice = Voice()
    """How the event speaks, in the language of the sheet."""
    circles: tuple[tuple[Place, float, str], ...] = ()
    """Limits of distance: point, radius in metres, what it is."""


def draw_map(wish: MapWish) -> Scene | None:
    """Return the map, north up; None when there is nothing to place on it."""
    view = framed(wish.focus, wish.width, wish.height)
    if view is None:
        return None
    shapes: list[Shape] = [frame(0, 0, wish.width, wish.height, "ground")]
    areas = [(place, _seen(view, place)) for place in wish.areas]
    for place, seen in areas:
        shapes += _area(view, place, seen)
    rings = _distances(view, wish.voice) if wish.rings and wish.targets else []
    for radius, _ in rings:
        shapes += _ring(view, wish.targets[0], radius)
    if wish.flown is not None:
        shapes += _track(view, wish.flown, wish.spans)
    for about, radius_m, text in wish.circles:
        shapes += _circle(view, about, radius_m, text)
    if wish.who:
        shapes.append(Label(at=(4, WHO_PT), text=short(wish.who), role="faint"))
    shapes += _points(view, wish, shapes)
    for radius, text in rings:
        shapes += _ring_name(view, wish.targets[0], radius, text, shapes)
    shapes += _area_names(view, areas, shapes, wish.voice)
    if not wish.rings:
        shapes += _scale_bar(view, shapes, wish.voice)
    shapes.append(frame(0, 0, wish.width, wish.height, "edge"))
    return Scene(
        width=wish.width, height=wish.height, title=wish.title, shapes=tuple(shapes)
    )


@lru_cache(maxsize=512)
def outline(rings: Rings) -> BaseGeometry:
    """Return an area in longitude and latitude, valid whatever was entered."""
    whole = [np.array(ring, dtype=float) for ring in rings if len(ring) >= 4]
    for ring in whole:  # the shorter way from corner to corner, across 180 degrees too
        ring[:, 0] = np.unwrap(ring[:, 0], period=360.0)
    return Polygon(whole[0], whole[1:]).buffer(0) if whole else Polygon()


def _seen(view: MapFrame, place: Place) -> BaseGeometry:
    """Return the part of an area that the window holds, on the drawing."""
    drawn = transform(outline(place.rings), lambda xy: view.points(xy[:, 1], xy[:, 0]))
    return drawn.intersection(box(0, 0, view.width, view.height))


def _area(view: MapFrame, place: Place, seen: BaseGeometry) -> list[Shape]:
    role = place.kind.role
    filled = [
        Line(points=tidy(piece.exterior), role=role, closed=True)
        for piece in _parts(seen)
        if isinstance(piece, Polygon)
    ]
    edges: list[Shape] = []
    for lats, lons in _edges(place.rings) if filled else ():
        edges += _lines(view, view.points(lats, lons), f"{role}-edge")
    return [*filled, *edges]


@lru_cache(maxsize=512)
def _edges(rings: Rings) -> tuple[tuple[NDArray[np.float64], ...], ...]:
    """Return latitude and longitude of the corners of each ring."""
    return tuple((ring[:, 1], ring[:, 0]) for ring in map(np.array, rings))


def _area_names(
    view: MapFrame,
    areas: Iterable[tuple[Place, BaseGeometry]],
    placed: Sequence[Shape],
    voice: Voice,
) -> list[Shape]:
    """Name each area within its part that is seen; what would lie over words, lower."""
    shapes: list[Shape] = []
    for place, seen in areas:
        if seen.is_empty:
            continue
        text = short(clean(told.place_label(voice, place)))
        left, top, right, _ = seen.bounds
        named = Label(at=(0, 0), text=text, role="faint", anchor="middle")
        half = wide(named) / 2 + 3
        x = min(max((left + right) / 2, half), view.width - half)
        lines = int((view.height - top) / NAME_LINE_PT)
        choices = (
            replace(named, at=(round(x, 2), round(top + 8 + NAME_LINE_PT * line, 2)))
            for line in range(lines)
        )
        clear = first_clear(choices, [*placed, *shapes])
        if clear is not None and view.holds(clear.at, 6):
            shapes.append(clear)
    return shapes


def _circle(view: MapFrame, about: Place, radius_m: float, text: str) -> list[Shape]:
    """Draw a limit of distance, its words where the circle is seen."""
    lon, lat = about.rings[0][0]
    x, y = view.point(lat, lon)
    turn = np.linspace(0, 2 * np.pi, 181)
    radius = radius_m * view.scale
    ring = np.column_stack([x + radius * np.sin(turn), y - radius * np.cos(turn)])
    drawn = _lines(view, ring, "limit")
    seen = [p for p in ring.tolist() if view.holds((p[0], p[1]), 14)]
    if seen:
        at = min(seen, key=lambda p: (abs(p[0] - view.width / 2), p[1]))
        place = (round(at[0], 2), round(at[1] - 3, 2))
        drawn.append(Label(at=place, text=text, role="limit", anchor="middle"))
    return drawn


def _parts(shape: BaseGeometry) -> Sequence[BaseGeometry]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if not part.is_empty]


def tidy(line: BaseGeometry) -> tuple[Point, ...]:
    """Return the points of a line, to the hundredth."""
    columns = get_coordinates(line).round(2).T.tolist()
    return tuple(zip(*columns, strict=True))


def _lines(view: MapFrame, xy: NDArray[np.float64], role: str) -> list[Shape]:
    """Clip to the frame, leave out what cannot be seen."""
    xy = xy[np.isfinite(xy).all(axis=1)]
    if len(xy) < 2:
        return []
    line = clip_by_rect(LineString(xy), 0, 0, view.width, view.height)
    return [
        Line(
            points=tidy(part.simplify(SIMPLER_PT, preserve_topology=False)),
            role=role,
        )
        for part in _parts(line)
        if isinstance(part, LineString)
    ]


def _track(
    view: MapFrame, flown: Flown, spans: Sequence[tuple[float, float]]
) -> list[Shape]:
    first = flown.launch or 0
    last = len(flown) if flown.landing is None else flown.landing + 1
    xy = view.points(flown.lat_deg[first:last], flown.lon_deg[first:last])
    shapes: list[Shape] = []
    for stretch in stretches(flown.time_s[first:last]):
        shapes += _lines(view, xy[stretch], "track")
    for start, end in spans:
        inside = (flown.time_s >= start - 1) & (flown.time_s <= end + 1)
        found = view.points(flown.lat_deg[inside], flown.lon_deg[inside])
        shapes += _lines(view, found, "found")
    for index, role in ((flown.launch, "launched"), (flown.landing, "landed")):
        if index is not None:
            at = view.point(flown.lat_deg[index], flown.lon_deg[index])
            shapes += [Dot(at=at, radius=2.2, role=role)] if view.holds(at) else []
    return shapes


def _points(view: MapFrame, wish: MapWish, placed: Sequence[Shape]) -> list[Shape]:
    """Draw targets, spots and marks, which way north is, and names clear of them all."""
    named: list[tuple[Dot, str]] = []
    for place in wish.targets:
        lon, lat = place.rings[0][0]
        at = view.point(lat, lon)
        named.append(
            (Dot(at=at, radius=4, role="target", sign="cross"), clean(place.name))
        )
    spots = [
        Dot(at=view.point(*spot), radius=4.5, role="spot", sign="ring")
        for spot in wish.spots
    ]
    for mark in wish.marks:
        if mark.lat_deg is not None and mark.lon_deg is not None:
            at = view.point(mark.lat_deg, mark.lon_deg)
            name = mark.mark or wish.voice.word("explain-mark")
            named.append((Dot(at=at, radius=2.6, role="mark"), clean(name)))
    named = [(dot, text) for dot, text in named if view.holds(dot.at)]
    shapes: list[Shape] = [dot for dot, _ in named]
    shapes += [dot for dot in spots if view.holds(dot.at)]
    shapes += _north(view, shapes)
    for dot, text in named:
        choices = sorted(_beside(view, dot, text), key=lambda one: _cut(view, one))
        shapes.append(first_clear(choices, [*placed, *shapes]) or choices[0])
    return shapes


TALLEST_PT = 8.0
"""A label any higher would lose its head."""
NAME_LINE_PT = 7.0


def _beside(view: MapFrame, dot: Dot, text: str) -> Iterator[Label]:
    """Yield where the name of a sign may stand, the best place first.

    Names of marks stand rather below, others above; to the side that has more room, and
    farther off or in the middle where all beside it is taken.
    """
    x, y = dot.at
    right = x < view.width * 0.6
    lines = (y - 4, y + 8) if dot.role != "mark" else (y + 8, y - 4)
    farther = [8 + NAME_LINE_PT, 8 + 2 * NAME_LINE_PT, -4 - NAME_LINE_PT]
    seen = [
        line
        for line in (*lines, *(y + off for off in farther))
        if TALLEST_PT <= line < view.height - 2
    ] or [lines[0]]
    for line in seen:
        for to_right in (right, not right):
            yield Label(
                at=(round(x + (5 if to_right else -5), 2), round(line, 2)),
                text=short(text),
                anchor="start" if to_right else "end",
            )
    centred = Label(at=(x, y), text=short(text), anchor="middle")
    half = wide(centred) / 2
    middle = round(max(min(x, view.width - half), half), 2)
    for line in (y - 6, y + 11, *(y + off for off in farther)):
        if TALLEST_PT <= line < view.height - 2:
            yield replace(centred, at=(middle, round(line, 2)))


def _cut(view: MapFrame, label: Label) -> bool:
    """Tell whether the frame would cut a label."""
    left, _, right, _ = room_of(label)
    return left < 0 or right > view.width


def short(text: str) -> str:
    """Cut a name to what a picture has room for."""
    return text if len(text) <= 24 else f"{text[:23]}…"


def _distances(view: MapFrame, voice: Voice) -> list[tuple[float, str]]:
    """Return radii of rings around a target, in points, with their lengths in words."""
    imperial = voice.units is Units.IMPERIAL
    unit_m, unit = (float(FOOT_M), "ft") if imperial else (1.0, "m")
    step = nice_step(max(view.width, view.height) / view.scale / unit_m, 6)
    return [
        (ring * step * unit_m * view.scale, f"{voice.figure(ring * step)} {unit}")
        for ring in range(1, 8)
    ]


def _ring(view: MapFrame, target: Place, radius: float) -> list[Shape]:
    lon, lat = target.rings[0][0]
    x, y = view.point(lat, lon)
    across, down = max(x, view.width - x), max(y, view.height - y)
    if radius > hypot(across, down):  # it runs round the whole drawing
        return []
    return _lines(view, (x, y) + radius * CIRCLE, "ring")


def _ring_name(
    view: MapFrame, target: Place, radius: float, text: str, placed: Sequence[Shape]
) -> list[Shape]:
    """Say a ring's distance at its top, foot or sides, where nothing else stands."""
    lon, lat = target.rings[0][0]
    x, y = view.point(lat, lon)
    name = Label(at=(x, y), text=text, role="faint", anchor="middle", size=6)
    half = wide(name) / 2 + 1
    places = (
        (x, y - radius + 6.5),
        (x, y + radius - 2),
        (x + radius - half, y + 2),
        (x - radius + half, y + 2),
    )
    seen = (p for p in places if view.holds(p, 4) and half <= p[0] <= view.width - half)
    choices = (replace(name, at=(round(a, 2), round(b, 2))) for a, b in seen)
    clear = first_clear(choices, placed)
    return [] if clear is None else [clear]


def _scale_bar(view: MapFrame, placed: Sequence[Shape], voice: Voice) -> list[Shape]:
    """Draw the scale in a corner where no sign and no words stand, rather a lower one."""
    long, text = _scale(view, voice)
    left, right = 6.0, view.width - long - 36
    feet = (view.height - 6.0, 10.0)
    ends = [(x, y) for y in feet for x in (left, right)]
    rooms = taken(placed)
    clear = (
        (x, y) for x, y in ends if is_clear((x - 1, y - 8, x + long + 32, y + 3), rooms)
    )
    x, y = next(clear, ends[0])
    bar = Line(
        points=((x, y - 3), (x, y), (x + long, y), (x + long, y - 3)), role="axis"
    )
    return [bar, Label(at=(x + long + 3, y), text=text, role="axis-text", size=6)]


def _scale(view: MapFrame, voice: Voice) -> tuple[float, str]:
    """Return a round length in points, and in words."""
    span_m = view.width / view.scale
    mile_m = float(5280 * FOOT_M)
    if voice.units is Units.IMPERIAL:
        unit_m, sign = (mile_m, "mi") if span_m > 5 * mile_m else (float(FOOT_M), "ft")
    else:
        unit_m, sign = (1000.0, "km") if span_m > 5000 else (1.0, "m")
    length = nice_step(span_m / unit_m, 5)
    return length * unit_m * view.scale, f"{voice.figure(length)} {sign}"


def _north(view: MapFrame, placed: Sequence[Shape]) -> list[Shape]:
    """Draw which way north is: above to the right, or beneath where a sign lies there."""
    rooms = taken(placed)
    x = view.width - 9
    clear = (y for y in (16.0, view.height - 12) if is_clear(_about(x, y), rooms))
    y = next(clear, 16.0)
    arrow = ((x, y), (x, y - 10), (x - 2.5, y - 6), (x, y - 10), (x + 2.5, y - 6))
    label = Label(at=(x, y + 6), text="N", role="axis-text", anchor="middle", size=6)
    return [Line(points=arrow, role="axis"), label]


def _about(x: float, y: float) -> Box:
    """Return the room of an arrow that stands here, with its letter."""
    return x - 3, y - 11, x + 3, y + 7


def areas_of(event: Event, tasks: Iterable[Task]) -> tuple[Place, ...]:
    """Return the areas that bear on some tasks, the widest kinds first.

    They are the tasks' own scoring areas, those their rules and settings name, and all
    that is prohibited or stands in the way.
    """
    named: set[str] = set()
    for task in tasks:
        book = event.book_of(task)
        ruled = (book.floor.within, book.contact.within, book.launch.area)
        named |= {*task.scoring_areas, *task.roles.values(), *task.targets}
        named |= {name for name in (*ruled, book.boundary.within) if name}
        named |= set(_texts(task.settings))
    order = list(PLACE_KINDS)
    areas = [
        place
        for place in event.places
        if not place.is_point and (place.kind in FORBIDDEN or place.name in named)
    ]
    return tuple(sorted(areas, key=lambda p: order.index(p.kind.name)))


def _texts(value: object) -> Iterator[str]:
    """Yield every text within the settings of a task: some are names of areas."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from (str(key), *_texts(item))
    elif isinstance(value, list | tuple):
        for item in value:
            yield from _texts(item)


def targets_of(event: Event, task: int, pilot: int | None = None) -> tuple[Place, ...]:
    """Return the named points of a task: targets, roles, and what a pilot chose.

    A pilot's own are the goals declared by name and the points marks were measured from.
    """
    names: dict[str, None] = {}
    for flight in event.flights:
        for known in flight.tasks:
            if known.number == task:
                names |= dict.fromkeys((*known.targets, *known.roles.values()))
        for said in flight.declarations:
            if (said.task, said.pilot) == (task, pilot):
                names[said.goal] = None
        for keyed in flight.keyings:
            if (keyed.task, keyed.pilot) == (task, pilot):
                names |= dict.fromkeys(
                    (keyed.from_place or "", keyed.from2_place or "")
                )
    found = (event.place(name) for name in names)
    return tuple(place for place in found if place is not None and place.is_point)


def moved_of(event: Event, task: int) -> tuple[Place, ...]:
    """Return where a task's moved targets stand since, named with the time."""
    lines = (one for flight in event.flights for one in flight.targets)
    found = (stands_since(event, line) for line in lines if line.task == task)
    return tuple(place for place in found if place is not None)


def stands_since(event: Event, line: TargetLine) -> Place | None:
    """Return where a line of a target log put a target; None = it does not say."""
    place = event.place(line.target)
    if not line.says_where or place is None:
        return None
    lat, lon = line.lat_deg, line.lon_deg
    if line.easting_m is not None and line.northing_m is not None:
        lat, lon = Plane(event.crs).to_wgs84(line.easting_m, line.northing_m)
    at = datetime.fromtimestamp(line.time_s, ZoneInfo(event.time_zone))
    name = f"{line.target} {at:%H:%M}"
    rings = (((float(lon or 0.0), float(lat or 0.0)),),)
    return replace(place, name=name, rings=rings, elevation_m=None)


def nearest_of(
    places: Sequence[Place], spots: Iterable[tuple[float, float]]
) -> tuple[Place, ...]:
    """Return for each (lat, lon) spot the nearest of some points, each point once."""
    chosen: dict[str, Place] = {}
    for lat, lon in spots:
        narrow = cos(radians(lat))
        if places:
            ends = np.array([place.rings[0][0] for place in places])
            east = (_near(ends[:, 0], lon) - lon) * narrow
            near = places[int(np.hypot(ends[:, 1] - lat, east).argmin())]
            chosen[near.name] = near
    return tuple(chosen.values())


def corners(places: Iterable[Place]) -> list[tuple[float, float]]:
    """Return the (lat, lon) of all corners of some places."""
    return [(lat, lon) for place in places for ring in place.rings for lon, lat in ring]


def marks_map(
    sheet: Sheet, task: TaskResult, score: Score, width: float, height: float
) -> Scene | None:
    """Map a pilot's marks around the target, with distance rings."""
    placed = [
        (m.lat_deg, m.lon_deg)
        for m in score.marks
        if m.lat_deg is not None and m.lon_deg is not None
    ]
    if not placed:
        return None
    targets = (
        *targets_of(sheet.event, task.task, score.pilot),
        *moved_of(sheet.event, task.task),
    )
    near = nearest_of(targets, placed)
    wish = MapWish(
        title=sheet.say(
            fact(
                "picture-marks",
                task=words(sheet.task_title(task)),
                pilot=pilot_value(score.pilot),
            )
        ),
        width=width,
        height=height,
        focus=tuple(placed + corners(near)),
        areas=areas_of(sheet.event, sheet.tasks_of(task.task)),
        targets=(*near, *(place for place in targets if place not in near)),
        marks=score.marks,
        rings=bool(near),
        voice=sheet.voice,
    )
    return draw_map(wish)
