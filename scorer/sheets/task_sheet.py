"""The task sheet of a flight, for the briefing: targets, times, limits, a map."""

from collections.abc import Iterator
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from scorer.errors import Fault, InputError
from scorer.event.model import Event, Flight, Period, Task, Units
from scorer.event.rulebook import PenaltyRule, RuleBook
from scorer.geodesy.plane import Plane
from scorer.geodesy.sun import sun_times
from scorer.rounding import half_up
from scorer.sheets.forms import form_paper
from scorer.sheets.maps import MapWish, areas_of, corners, draw_map
from scorer.sheets.paper import CLAY, GREY, MM, Paper
from scorer.sheets.scene_pdf import place as place_scene
from scorer.sheets.sheet import book_title, clean
from scorer.sheets.stamp import CAUTION, LOW_FLIGHT
from scorer.tasks.kinds import KINDS
from scorer.units import FOOT_M, show_height, show_length
from scorer.words.voice import Voice

MAP_HEIGHT = 72 * MM
BEFORE_ALL = (
    "The aviation authority's rules, the event's waiver, the event director and the "
    "safety officials come before anything on this sheet. The pilot in command decides "
    "whether to fly."
)


def write_task_sheet(event: Event, flight: str, *, printed_at: str = "") -> bytes:
    """Return the task sheet of one flight as a PDF.

    `printed_at` is a UTC time, ISO 8601, or empty.
    """
    own = _flight(event, flight)
    title = f"Task sheet, flight {clean(own.id)}"
    paper = form_paper(event, title, printed_at)
    paper.new_page()
    paper.heading(f"Flight {clean(own.id)} · {own.date.isoformat()}")
    paper.facts(_flight_facts(event, own))
    for task in own.tasks:
        _task(paper, event, task)
    _map(paper, event, own)
    _limits(paper, event, own)
    paper.skip(2 * MM)
    paper.heading("Before all this", size=11)
    for text in (BEFORE_ALL, LOW_FLIGHT, CAUTION):
        paper.paragraph(text, size=7.5)
    paper.signature("Competition director")
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
    rows = [
        ("Event", clean(event.name)),
        ("Venue", clean(event.venue)),
        ("Rule book", clean(book_title(event.book))),
        ("Times", f"local, {event.time_zone}"),
        ("QNH", qnh),
        ("Temperature", warm),
        ("Sunrise, sunset", _sun(event, flight)),
        ("Coordinates", f"grid {event.crs}, and WGS84 latitude and longitude"),
    ]
    return [(label, value) for label, value in rows if value]


def _sun(event: Event, flight: Flight) -> str:
    at = next((p for p in event.places if p.is_point), None)
    if at is None:
        return ""
    lon, lat = at.rings[0][0]
    times = sun_times(flight.date, lat, lon, time_zone=event.time_zone)
    if times.sunrise_s is None or times.sunset_s is None:
        return str(times.daylight.value)
    rise, fall = (_minute(event, t) for t in (times.sunrise_s, times.sunset_s))
    return f"{rise}, {fall} (about a minute)"


def _minute(event: Event, time_s: float) -> str:
    there = datetime.fromtimestamp(time_s, UTC).astimezone(ZoneInfo(event.time_zone))
    return f"{there:%H:%M}"


def _task(paper: Paper, event: Event, task: Task) -> None:
    paper.need(40 * MM)
    paper.skip(3 * MM)
    paper.rule(paper.y)
    kind = KINDS[task.kind]
    cancelled = " · CANCELLED" if task.state == "cancelled" else ""
    voice = Voice.of(event)
    name = voice.say(kind.title)
    paper.heading(f"Task {task.number} · {name} ({kind.code}){cancelled}", size=13)
    about = f"Result: {voice.say(kind.about)}; {kind.best} is best."
    paper.paragraph(about, size=8.5, colour=GREY)
    paper.skip(1 * MM)
    paper.facts(list(_task_facts(event, task)))


def _task_facts(event: Event, task: Task) -> Iterator[tuple[str, str]]:
    plane = Plane(event.crs)
    for name in dict.fromkeys((*task.targets, *task.roles.values())):
        role = next((r for r, n in task.roles.items() if n == name), "")
        label = f"Point {role}" if role else "Target"
        yield label, _place(event, plane, name)
    rows = (
        ("Scoring areas", clean(", ".join(task.scoring_areas))),
        ("Launch period", _period(event, task.launch_period)),
        ("Scoring period", _period(event, task.scoring_period)),
        ("Measuring radius", _length(event, task.measuring_radius_m)),
        ("Marker", clean(task.marker)),
        *((_words(key), _setting(value)) for key, value in task.settings.items()),
    )
    for label, value in rows:
        if value:
            yield label, value


def _words(key: str) -> str:
    text = clean(key).replace("_", " ")
    return f"{text[:1].upper()}{text[1:]}"


def _setting(value: object) -> str:
    if isinstance(value, dict):
        return clean("; ".join(f"{key} {item}" for key, item in value.items()))
    if isinstance(value, list | tuple):
        return clean(", ".join(str(item) for item in value))
    return clean(value)


def _place(event: Event, plane: Plane, name: str) -> str:
    place = event.place(name)
    if place is None or not place.is_point:
        return clean(name)
    lon, lat = place.rings[0][0]
    east, north = (float(v) for v in plane.to_plane(lat, lon))
    parts = [
        clean(name),
        f"grid {half_up(east)} E {half_up(north)} N",
        f"{lat:.5f}°, {lon:.5f}°",
    ]
    if place.elevation_m is not None:
        height = show_height(place.elevation_m, event.units)
        parts.append(f"{height} above mean sea level")
    return " · ".join(parts)


def _period(event: Event, period: Period | None) -> str:
    if period is None:
        return ""
    return f"{_minute(event, period.start_s)} to {_minute(event, period.end_s)}"


def _length(event: Event, metres: float | None) -> str:
    return "" if metres is None else show_length(metres, event.units, 0)


def _map(paper: Paper, event: Event, flight: Flight) -> None:
    names = {n for t in flight.tasks for n in (*t.targets, *t.roles.values())}
    targets = tuple(p for p in event.places if p.is_point and p.name in names)
    areas = areas_of(event)
    wish = MapWish(
        title=f"Targets and areas of flight {flight.id}",
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
    note = "Not for navigation: outlines as the event set them, no ground detail."
    paper.paragraph(note, size=7, colour=GREY)


def _limits(paper: Paper, event: Event, flight: Flight) -> None:
    books = dict.fromkeys(event.book_of(task).name for task in flight.tasks)
    paper.need(40 * MM)
    paper.heading("Limits of the game", size=11)
    tasks = {event.book_of(t).name: event.book_of(t) for t in flight.tasks}
    for name in books or [event.book.name]:
        for line in limit_lines(tasks.get(name, event.book), event.units):
            paper.paragraph(f"·  {line}", size=8.5)
    for key in event.book.unset:
        text = f"·  {key}: the rule book asks the event to set this, and it is not set"
        paper.paragraph(text, size=8.5, colour=CLAY)


def limit_lines(book: RuleBook, units: Units) -> Iterator[str]:
    """Yield the limits that a rule book sets, with what a breach costs."""
    floor, launch = book.floor, book.launch
    if floor.height_m is not None:
        where = f" inside {clean(floor.within)}" if floor.within else ""
        height = _length_or_height(floor.height_m, units)
        until = {"drop": "the drop", "exit": "leaving it"}.get(floor.until, "")
        ends = until or "first entering the scoring area"
        yield f"At least {height} above the ground{where} until {ends}" + _cost(
            floor.penalty
        )
    if book.contact.penalty or book.contact.within:
        yield "No touching the ground in the scoring area" + _cost(book.contact.penalty)
    if launch.least_distance_m is not None:
        far = _far(launch.least_distance_m, units)
        yield f"Launch at least {far} from the target" + _cost(launch.penalty)
    if launch.most_distance_m is not None:
        far = _far(launch.most_distance_m, units)
        yield f"Launch at most {far} from the target" + _cost(launch.penalty)
    if launch.area:
        yield f"Launch from {clean(launch.area)}" + _cost(launch.penalty)
    if book.boundary.within:
        yield f"Stay within {clean(book.boundary.within)}" + _cost(
            book.boundary.penalty
        )


def _far(metres: float, units: Units) -> str:
    mile_m = float(5280 * FOOT_M)
    if units is Units.IMPERIAL and metres >= mile_m:
        return f"{half_up(metres / mile_m, 2).normalize():f} mi"
    return show_length(metres, units, 0)


def _length_or_height(metres: float, units: Units) -> str:
    if units is Units.IMPERIAL:
        return show_height(metres, units)
    return f"{half_up(metres, 2).normalize():f} m"


def _cost(penalties: tuple[PenaltyRule, ...]) -> str:
    if not penalties:
        return "; officials decide what a breach costs."
    return f"; a breach costs {' and '.join(_rate(p) for p in penalties)}."


def _rate(penalty: PenaltyRule) -> str:
    if penalty.unit in {"no result", "disqualified"}:
        what = {"no result": "the result", "disqualified": "disqualification"}
        return what[penalty.unit]
    unit, cap = penalty.unit, ""
    parts = [f"{penalty.base:g} {unit}"] if penalty.base or not penalty.per else []
    if penalty.per:
        parts.append(f"{penalty.per:g} {unit} for each {penalty.of}")
    if penalty.steps:
        steps = (f"{s.amount:g} from {s.over:g} beyond it" for s in penalty.steps)
        parts = [f"{unit}: {', '.join(steps)}"]
    if penalty.cap is not None:
        cap = f", at most {penalty.cap:g}"
    return f"{' plus '.join(parts)}{cap}"
