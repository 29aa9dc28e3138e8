"""The task sheet of a flight, for the briefing: targets, times, limits, a map."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from scorer.errors import Fault, InputError
from scorer.event.model import Event, Flight, Period, Place, TargetEvent, Task
from scorer.event.moments import at
from scorer.event.place_kinds import STANDING
from scorer.facts import Fact, count, fact, height, inner, number, several, task, words
from scorer.facts import flight as flight_value
from scorer.geodesy.plane import Plane
from scorer.geodesy.sun import Daylight
from scorer.rounding import half_up
from scorer.scoring import told
from scorer.scoring.safety import titled, unsafe
from scorer.sheets.forms import around_form
from scorer.sheets.issue import Issue, changed, lines_of
from scorer.sheets.limits import (
    Section,
    between_minutes,
    edges_of,
    limits_of,
    minute,
    sun_of,
)
from scorer.sheets.maps import (
    MapWish,
    areas_of,
    corners,
    draw_map,
    moved_of,
    stands_since,
)
from scorer.sheets.scene import Scene
from scorer.sheets.sheet import clean, local_times
from scorer.sheets.stamp import NEVER, local, utc
from scorer.sheets.typeset import PrintWish, picture, typeset
from scorer.tasks.kinds import KINDS
from scorer.words.catalogue import has
from scorer.words.voice import Voice

MAP_WIDTH, MAP_HEIGHT = 527.0, 150.0
CAUTIONS = ("caution-task-sheet", "caution-low", "caution")
Row = tuple[str, str]


def write_task_sheet(
    event: Event,
    flight: str,
    *,
    printed_at: str = "",
    issue: Issue | None = None,
    wish: PrintWish | None = None,
) -> bytes:
    """Return the task sheet of one flight as a PDF.

    `printed_at` is a UTC time, ISO 8601, or empty.  One that is issued says its version,
    and before anything else what changed since the version before it.
    """
    wish = wish or PrintWish()
    tree = task_sheet(event, flight, printed_at=printed_at, wish=wish)
    if issue is not None:
        printed_at = issue.at
        voice = Voice.of(event, wish.language)
        tree["facts"] = [*_issued(event, issue, tree, voice), *tree["facts"]]
    return typeset("task_sheet", tree, utc(printed_at or NEVER))


def _issued(
    event: Event, issue: Issue, tree: Mapping[str, Any], voice: Voice
) -> Iterator[Row]:
    at = words(local(issue.at, event.time_zone))
    told = fact("issued-at", version=number(issue.version), at=at)
    yield voice.word("fact-version"), voice.say(told)
    if issue.why:
        yield voice.word("fact-why"), clean(issue.why)
    if issue.before is None:
        return
    nothing = voice.word("said-nothing")
    for name, old, new in changed(issue.before, lines_of(tree)):
        both = {"old": words(old or nothing), "new": words(new or nothing)}
        label = voice.say(fact("changed-line", name=words(name)))
        yield label, voice.say(fact("changed-from-to", **both))


def task_sheet(
    event: Event, flight: str, *, printed_at: str = "", wish: PrintWish | None = None
) -> dict[str, Any]:
    """Return what the task sheet of one flight says, ready to be set."""
    wish = wish or PrintWish()
    own, voice = _flight(event, flight), Voice.of(event, wish.language)
    title = clean(voice.say(fact("title-task-sheet", flight=flight_value(own.id))))
    heading = fact(
        "flight-of-day", flight=flight_value(own.id), day=words(own.date.isoformat())
    )
    return around_form(event, voice, wish, title, printed_at) | {
        "heading": clean(voice.say(heading)),
        "facts": _flight_facts(event, own, voice),
        "tasks": [_task(event, one, voice) for one in own.tasks],
        "picture": picture(flight_area(event, own, voice)),
        "below": voice.word("caution-map"),
        "limits": _limits(event, own, voice),
        "unset": _unset(event, own, voice),
        "before_all": voice.word("title-before-all"),
        "cautions": [voice.word(name) for name in CAUTIONS],
        "unsafe": _unsafe(event, own, voice),
        "sign": [voice.word("sign-director")],
    }


def _flight(event: Event, name: str) -> Flight:
    for flight in event.flights:
        if flight.id == name:
            return flight
    known = ", ".join(flight.id for flight in event.flights) or "none"
    fault = Fault(where="flight", found=name, allowed=f"a flight of the event: {known}")
    raise InputError([fault])


def _with(voice: Voice, value: float | None, unit: str) -> str:
    return "" if value is None else f"{voice.figure(value)} {unit}"


def _flight_facts(event: Event, flight: Flight, voice: Voice) -> list[Row]:
    qnh = _with(voice, flight.qnh_hpa, "hPa")
    warm = _with(voice, flight.temperature_c, "°C")
    times = voice.say(local_times(event, [flight.date]))
    rows = [
        ("fact-venue", clean(event.venue)),
        ("fact-rules", clean(voice.book(event.book))),
        ("fact-times", times),
        ("fact-qnh", qnh),
        ("fact-temperature", warm),
        ("fact-sun", _sun(event, flight)),
        (
            "fact-coordinates",
            voice.say(fact("grid-and-wgs84", grid=words(event.crs))),
        ),
    ]
    return [(voice.word(label), value) for label, value in rows if value]


def _sun(event: Event, flight: Flight) -> str:
    """Print sunrise and sunset about noon, with the date where it is another."""
    sun = sun_of(event, flight)
    if sun is None:
        return ""
    if sun.daylight is not Daylight.ORDINARY:
        return str(sun.daylight.value)
    edges = (at(time_s, event.time_zone) for time_s in edges_of(sun))
    return ", ".join(
        t.clock(seconds=False) if t.day == flight.date else t.dated(seconds=False)
        for t in edges
    )


def _task(event: Event, own: Task, voice: Voice) -> dict[str, Any]:
    kind = KINDS[own.kind]
    title = told.title_of(voice, own.number, own.kind)
    if own.state == "cancelled":
        title = voice.say(fact("task-cancelled-title", title=words(title)))
    best = words(voice.word(f"best-{kind.best}"))
    about = fact("task-about", about=inner(kind.about), best=best)
    return {
        "title": clean(title),
        "about": voice.say(about),
        "facts": list(_task_facts(event, own, voice)),
    }


def _task_facts(event: Event, own: Task, voice: Voice) -> Iterator[Row]:
    plane = Plane(event.crs)
    for name in dict.fromkeys((*own.targets, *own.roles.values())):
        role = next((r for r, n in own.roles.items() if n == name), "")
        label = voice.word("fact-target")
        if role:
            label = voice.say(fact("fact-point", role=words(role)))
        yield label, _place(plane, event.place(name), name, voice)
        yield from _moves(event, plane, own.number, name, voice)
    radius = own.measuring_radius_m
    rows = (
        ("fact-scoring-areas", clean(", ".join(own.scoring_areas))),
        ("fact-launch-period", _period(event, own.launch_period, voice)),
        ("fact-scoring-period", _period(event, own.scoring_period, voice)),
        ("fact-radius", "" if radius is None else voice.length(radius, 0)),
        ("fact-marker", clean(own.marker)),
    )
    for name, value in rows:
        if value:
            yield voice.word(name), value
    kinds = {setting.key: setting.kind for setting in KINDS[own.kind].settings}
    for key, value in own.settings.items():
        yield _label(voice, key), _setting(event, voice, kinds.get(key, ""), value)


def _label(voice: Voice, key: str) -> str:
    """Return the title of a task's setting; its key, spaced, where it has none."""
    text = key.replace("_", " ")
    name = f"setting-{key.replace('_', '-')}"
    return voice.word(name) if has(name) else clean(f"{text[:1].upper()}{text[1:]}")


def _setting(event: Event, voice: Voice, kind: str, value: object) -> str:
    """Print the value of a setting by how it is read."""
    if isinstance(value, int | float) and kind in _SAID:
        return _SAID[kind](event, voice, float(value))
    if isinstance(value, dict):
        return clean("; ".join(f"{key} {item}" for key, item in value.items()))
    if isinstance(value, list | tuple):
        return clean(", ".join(str(item) for item in value))
    return clean(value).replace("-", " ")


_SAID: Mapping[str, Callable[[Event, Voice, float], str]] = {
    "length": lambda _, voice, metres: voice.distance(metres),
    "duration": lambda _, voice, seconds: voice.span(seconds),
    "start": lambda event, _, time_s: minute(event, time_s),
    "time": lambda event, _, time_s: minute(event, time_s),
}


def _moves(
    event: Event, plane: Plane, task: int, name: str, voice: Voice
) -> Iterator[Row]:
    """Yield where a target stands since it was moved, in order of time."""
    lines = [line for flight in event.flights for line in flight.targets]
    for line in sorted(lines, key=lambda one: one.time_s):
        about = line.task, line.target, line.event
        if about == (task, name, TargetEvent.MOVED):
            moved = fact("fact-target-moved", at=words(minute(event, line.time_s)))
            there = stands_since(event, line)
            said = name if there else voice.word("moved-nobody-said-where")
            yield voice.say(moved), _place(plane, there, said, voice)


def _place(plane: Plane, own: Place | None, name: str, voice: Voice) -> str:
    """Print a point with where it is; `name` where there is no such point."""
    if own is None or not own.is_point:
        return clean(name)
    lon, lat = own.rings[0][0]
    east, north = (float(v) for v in plane.to_plane(lat, lon))
    grid = fact(
        "at-grid",
        east=number(float(half_up(east))),
        north=number(float(half_up(north))),
    )
    parts = [clean(name), voice.say(grid), voice.position(lat, lon)]
    if own.elevation_m is not None:
        above = fact("above-sea", height=height(own.elevation_m))
        parts.append(voice.say(above))
    return " · ".join(parts)


def _period(event: Event, period: Period | None, voice: Voice) -> str:
    return "" if period is None else between_minutes(event, period, voice)


def flight_area(event: Event, flight: Flight, voice: Voice) -> Scene | None:
    """Map a flight's targets and areas, and what stands in the way where it is seen."""
    names = {n for t in flight.tasks for n in (*t.targets, *t.roles.values())}
    targets: tuple[Place, ...] = (
        *(p for p in event.places if p.is_point and p.name in names),
        *(p for own in flight.tasks for p in moved_of(event, own.number)),
    )
    areas = areas_of(event, flight.tasks)
    wish = MapWish(
        title=voice.say(fact("picture-targets", flight=flight_value(flight.id))),
        width=MAP_WIDTH,
        height=MAP_HEIGHT,
        focus=tuple(corners((*targets, *(a for a in areas if a.kind not in STANDING)))),
        areas=areas,
        targets=targets,
        voice=voice,
    )
    return draw_map(wish)


def _limits(event: Event, flight: Flight, voice: Voice) -> list[dict[str, Any]]:
    """Return the limits; tasks with the same ones share a list."""
    shared: dict[tuple[Section, ...], list[Task]] = {}
    for own in flight.tasks:
        if own.state != "cancelled":
            limits = tuple(limits_of(event, flight, own, voice))
            shared.setdefault(limits, []).append(own)
    return [
        {
            "title": voice.say(_of_tasks(tasks)),
            "sections": [{"title": title, "rows": rows} for title, rows in limits],
        }
        for limits, tasks in shared.items()
        if limits
    ]


def _of_tasks(tasks: list[Task]) -> Fact:
    numbers = several(task(own.number) for own in tasks)
    return fact("title-limits-of", count=count(len(tasks)), tasks=numbers)


def _unsafe(event: Event, flight: Flight, voice: Voice) -> list[str]:
    """Say what is unsafe in what was set for a flight."""
    here = {None, *(own.number for own in flight.tasks)}
    return [
        clean(voice.sentence(titled(matter)))
        for matter in unsafe(event)
        if matter.task in here
    ]


def _unset(event: Event, flight: Flight, voice: Voice) -> list[str]:
    """Say which rules the event has not answered."""
    books = [event.book_of(own) for own in flight.tasks] or [event.book]
    rules = dict.fromkeys(book.named(key) for book in books for key in book.unset)
    return [clean(voice.say(fact("limit-not-answered", rule=named))) for named in rules]
