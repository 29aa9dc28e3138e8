"""The task sheet of a flight, for the briefing: targets, times, limits, a map."""

from collections.abc import Callable, Iterator, Mapping
from zoneinfo import ZoneInfo

from scorer.errors import Fault, InputError
from scorer.event.model import Event, Flight, Period, Task, Units
from scorer.event.moments import Clock, at
from scorer.event.rulebook import Penalties, RuleBook
from scorer.facts import Fact, fact, height, inner, place, several, term, words
from scorer.facts import flight as flight_value
from scorer.facts import rule as rule_value
from scorer.geodesy.plane import Plane
from scorer.geodesy.sun import Daylight, sun_at
from scorer.rounding import half_up
from scorer.scoring import told
from scorer.scoring.safety import unsafe
from scorer.sheets.forms import form_paper
from scorer.sheets.maps import MapWish, areas_of, corners, draw_map
from scorer.sheets.paper import CLAY, GREY, MM, Paper
from scorer.sheets.scene_pdf import place as place_scene
from scorer.sheets.sheet import book_title, clean
from scorer.tasks.kinds import KINDS
from scorer.words.catalogue import has
from scorer.words.voice import Voice

MAP_HEIGHT = 72 * MM


def write_task_sheet(event: Event, flight: str, *, printed_at: str = "") -> bytes:
    """Return the task sheet of one flight as a PDF.

    `printed_at` is a UTC time, ISO 8601, or empty.
    """
    own = _flight(event, flight)
    voice = Voice.of(event)
    title = clean(voice.say(fact("title-task-sheet", flight=flight_value(own.id))))
    paper = form_paper(event, title, printed_at)
    paper.new_page()
    heading = fact(
        "flight-of-day", flight=flight_value(own.id), day=words(own.date.isoformat())
    )
    paper.heading(clean(voice.say(heading)))
    paper.facts(_flight_facts(event, own))
    for task in own.tasks:
        _task(paper, event, task)
    _map(paper, event, own)
    _limits(paper, event, own)
    here = {None, *(task.number for task in own.tasks)}
    for matter in unsafe(event):
        if matter.task in here:
            paper.paragraph(clean(voice.say(matter.says)), size=8.5)
    paper.skip(2 * MM)
    paper.heading(voice.word("title-before-all"), size=11)
    for name in ("caution-task-sheet", "caution-low", "caution"):
        paper.paragraph(voice.word(name), size=7.5)
    paper.signature(voice.word("sign-director"))
    return paper.finished()


def _flight(event: Event, name: str) -> Flight:
    for flight in event.flights:
        if flight.id == name:
            return flight
    known = ", ".join(flight.id for flight in event.flights) or "none"
    fault = Fault(where="flight", found=name, allowed=f"a flight of the event: {known}")
    raise InputError([fault])


def _flight_facts(event: Event, flight: Flight) -> list[tuple[str, str]]:
    qnh = "" if flight.qnh_hpa is None else f"{flight.qnh_hpa:g} hPa"
    warm = "" if flight.temperature_c is None else f"{flight.temperature_c:g} °C"
    voice = Voice.of(event)
    times = voice.say(fact("local-times", zone=words(event.time_zone)))
    rows = [
        ("fact-event", clean(event.name)),
        ("fact-venue", clean(event.venue)),
        ("fact-rules", clean(book_title(event.book))),
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
    point = next((p for p in event.places if p.is_point), None)
    if point is None:
        return ""
    lon, lat = point.rings[0][0]
    noon = Clock(flight.date, ZoneInfo(event.time_zone)).read("12:00")
    sun = sun_at(noon, lat, lon)
    if sun.daylight is not Daylight.ORDINARY:
        return str(sun.daylight.value)
    edges = (sun.since, sun.until) if sun.up else (sun.until, sun.since)
    told = (at(edge.time_s, event.time_zone) for edge in edges if edge is not None)
    return ", ".join(
        t.clock(seconds=False) if t.day == flight.date else t.dated(seconds=False)
        for t in told
    )


def _minute(event: Event, time_s: float) -> str:
    return at(time_s, event.time_zone).clock(seconds=False)


def _task(paper: Paper, event: Event, task: Task) -> None:
    paper.need(40 * MM)
    paper.skip(3 * MM)
    paper.rule(paper.y)
    kind, voice = KINDS[task.kind], Voice.of(event)
    title = told.title_of(voice, task.number, task.kind)
    if task.state == "cancelled":
        title = voice.say(fact("task-cancelled-title", title=words(title)))
    paper.heading(title, size=13)
    best = words(voice.word(f"best-{kind.best}"))
    about = fact("task-about", about=inner(kind.about), best=best)
    paper.paragraph(voice.say(about), size=8.5, colour=GREY)
    paper.skip(1 * MM)
    paper.facts(list(_task_facts(event, task)))


def _task_facts(event: Event, task: Task) -> Iterator[tuple[str, str]]:
    plane, voice = Plane(event.crs), Voice.of(event)
    for name in dict.fromkeys((*task.targets, *task.roles.values())):
        role = next((r for r, n in task.roles.items() if n == name), "")
        label = voice.word("fact-target")
        if role:
            label = voice.say(fact("fact-point", role=words(role)))
        yield label, _place(event, plane, name)
    radius = task.measuring_radius_m
    rows = (
        ("fact-scoring-areas", clean(", ".join(task.scoring_areas))),
        ("fact-launch-period", _period(event, task.launch_period)),
        ("fact-scoring-period", _period(event, task.scoring_period)),
        ("fact-radius", "" if radius is None else voice.length(radius, 0)),
        ("fact-marker", clean(task.marker)),
    )
    for name, value in rows:
        if value:
            yield voice.word(name), value
    kinds = {setting.key: setting.kind for setting in KINDS[task.kind].settings}
    for key, value in task.settings.items():
        yield _label(voice, key), _setting(event, kinds.get(key, ""), value)


def _label(voice: Voice, key: str) -> str:
    """Return the title of a task's setting; its key, spaced, where it has none."""
    text = key.replace("_", " ")
    name = f"setting-{key.replace('_', '-')}"
    return voice.word(name) if has(name) else clean(f"{text[:1].upper()}{text[1:]}")


def _setting(event: Event, kind: str, value: object) -> str:
    """Print the value of a setting by how it is read."""
    if isinstance(value, int | float) and kind in _SAID:
        return _SAID[kind](event, float(value))
    if isinstance(value, dict):
        return clean("; ".join(f"{key} {item}" for key, item in value.items()))
    if isinstance(value, list | tuple):
        return clean(", ".join(str(item) for item in value))
    return clean(value).replace("-", " ")


_SAID: Mapping[str, Callable[[Event, float], str]] = {
    "length": lambda event, metres: Voice.of(event).distance(metres),
    "duration": lambda event, seconds: Voice.of(event).span(seconds),
    "start": _minute,
    "time": _minute,
}


def _place(event: Event, plane: Plane, name: str) -> str:
    own = event.place(name)
    if own is None or not own.is_point:
        return clean(name)
    lon, lat = own.rings[0][0]
    east, north = (float(v) for v in plane.to_plane(lat, lon))
    voice = Voice.of(event)
    grid = fact(
        "at-grid",
        east=words(str(half_up(east))),
        north=words(str(half_up(north))),
    )
    parts = [clean(name), voice.say(grid), f"{lat:.5f}°, {lon:.5f}°"]
    if own.elevation_m is not None:
        above = fact("above-sea", height=height(own.elevation_m))
        parts.append(voice.say(above))
    return " · ".join(parts)


def _period(event: Event, period: Period | None) -> str:
    if period is None:
        return ""
    start, end = (at(t, event.time_zone) for t in (period.start_s, period.end_s))
    until = end.clock(seconds=False)
    if end.day != start.day:
        until = end.dated(seconds=False)
    both = fact(
        "explain-from-to", start=words(start.clock(seconds=False)), end=words(until)
    )
    return Voice.of(event).say(both)


def _map(paper: Paper, event: Event, flight: Flight) -> None:
    names = {n for t in flight.tasks for n in (*t.targets, *t.roles.values())}
    targets = tuple(p for p in event.places if p.is_point and p.name in names)
    areas, voice = areas_of(event), Voice.of(event)
    wish = MapWish(
        title=voice.say(fact("picture-targets", flight=flight_value(flight.id))),
        width=paper.room,
        height=MAP_HEIGHT,
        focus=tuple(corners((*targets, *areas))),
        areas=areas,
        targets=targets,
        imperial=event.units is Units.IMPERIAL,
        names=True,
    )
    scene = draw_map(wish)
    if scene is None:
        return
    paper.need(MAP_HEIGHT + 10 * MM)
    paper.skip(4 * MM)
    place_scene(paper, scene, paper.left, paper.y)
    paper.skip(MAP_HEIGHT)
    paper.paragraph(voice.word("caution-map"), size=7, colour=GREY)


def _limits(paper: Paper, event: Event, flight: Flight) -> None:
    voice = Voice.of(event)
    paper.need(40 * MM)
    paper.heading(voice.word("title-limits"), size=11)
    books = [event.book_of(task) for task in flight.tasks] or [event.book]
    lines = [line for book in books for line in limit_lines(book, voice)]
    for line in dict.fromkeys(lines):
        paper.paragraph(f"·  {line}", size=8.5)
    for key in event.book.unset:
        open_ = voice.say(fact("limit-not-answered", rule=rule_value(key)))
        paper.paragraph(f"·  {open_}", size=8.5, colour=CLAY)


def limit_lines(book: RuleBook, voice: Voice) -> Iterator[str]:
    """Yield the limits that a rule book sets, with what a breach costs."""
    floor, contact, launch = book.floor, book.contact, book.launch
    if floor.height_m is not None:
        least = book.answer("floor.height")
        until = book.answer("floor.until")
        limit = fact("limit-height", height=least, until=until)
        if floor.within:
            inside = place(floor.within)
            limit = fact("limit-height-in", height=least, until=until, place=inside)
        yield _limit(voice, limit, floor.penalty)
    if contact.penalty or contact.within:
        where = term("within-scoring-area")
        if contact.within:
            where = book.answer("contact.within")
        yield _limit(voice, fact("limit-contact", place=where), contact.penalty)
    if launch.least_distance_m is not None:
        far = book.answer("launch.least_distance")
        yield _limit(voice, fact("limit-least-launch", far=far), launch.penalty)
    if launch.most_distance_m is not None:
        far = book.answer("launch.most_distance")
        yield _limit(voice, fact("limit-most-launch", far=far), launch.penalty)
    if launch.area:
        limit = fact("limit-launch-area", place=place(launch.area))
        yield _limit(voice, limit, launch.penalty)
    if book.boundary.within:
        limit = fact("limit-boundary", place=place(book.boundary.within))
        yield _limit(voice, limit, book.boundary.penalty)


def _limit(voice: Voice, limit: Fact, penalties: Penalties) -> str:
    """Say a limit and what a breach of it costs."""
    if not penalties:
        return clean(voice.say(fact("limit-decided", limit=inner(limit))))
    cost = several(inner(penalty.says) for penalty in penalties)
    return clean(voice.say(fact("limit-costs", limit=inner(limit), cost=cost)))
