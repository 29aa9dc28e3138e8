"""From an event as entered to an `Event`: the one place where entries get a meaning."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TypeVar
from zoneinfo import ZoneInfo, available_timezones

from pyproj import CRS
from pyproj.exceptions import CRSError

from scorer.errors import Fault, InputError, nearest
from scorer.event.acceptances import read_acceptances
from scorer.event.awards import read_awards
from scorer.event.complaints import check
from scorer.event.model import (
    DistanceKind,
    Event,
    Flight,
    LogFile,
    Origin,
    Pilot,
    Place,
    ReportKind,
    Task,
    TaskState,
    Units,
)
from scorer.event.moments import Clock
from scorer.event.places import HIGHEST_M, LOWEST_M, read_place
from scorer.event.raw import RawEvent, RawFlight, RawRow
from scorer.event.read_before import read_rows
from scorer.event.reading import Faults
from scorer.event.rows import (
    Known,
    read_declaration,
    read_keying,
    read_pilot,
    read_report,
    read_ruling,
    read_target_line,
)
from scorer.event.rulebook import RuleBook
from scorer.event.rules_reader import load_book, override
from scorer.event.settings import TomlTable
from scorer.event.task_reader import check_rule_places, read_task
from scorer.units import Unreadable, length_m

T = TypeVar("T")

FORMAT = 1
NOTE = "note"
"""Column of what officials write beside entries and reports: private unless released."""
_ROUGHEST_M = 100.0
"""Greatest sigma of a terrain grid that makes sense."""
_PASSED_ON = ("declination", "survey")
"""Settings that the geodesy layer reads, and checks."""
EVENT_KEYS = (
    "name",
    "venue",
    "time_zone",
    "crs",
    "units",
    "distance",
    "terrain",
    "terrain_sigma",
    "ground_elevation",
    "public_columns",
    *_PASSED_ON,
)
FLIGHT_KEYS = ("date", "qnh_hpa", "temperature_c", "note", "task")


def build_event(raw: RawEvent) -> Event:
    """Build the event, or raise InputError with every fault there is."""
    event, faults = build(raw)
    if faults:
        raise InputError(faults)
    return event


def build(raw: RawEvent, known: Sequence[Fault] = ()) -> tuple[Event, list[Fault]]:
    """Build what can be built, and list every fault; with faults, score nothing.

    What only follows from faults that are `known` already is not listed.
    """
    faults = Faults(known)
    top = TomlTable(raw.settings, "", raw.origins, faults)
    _check_format(top)
    settings = top.inside("event", required=True)
    settings.check_keys(EVENT_KEYS)
    zone_name, zone = _zone(settings)
    places = _unique(_places(raw, faults), lambda p: p.name, "name", faults)
    pilots = _unique(
        read_rows(raw.pilots, lambda row: read_pilot(row, faults), "pilots", faults),
        lambda p: p.number,
        "number",
        faults,
    )
    book = _book(top.inside("rules"), places)
    units = settings.choice("units", Units, Units.METRIC) or Units.METRIC
    flights = _Flights(
        raw=raw,
        zone=zone,
        places=places,
        pilots=pilots,
        book=book,
        units=units,
        faults=faults,
    ).read()
    numbers = [n for flight in raw.flights for n in _task_numbers(flight)]
    check(raw, zone, pilots, numbers, faults)
    event = Event(
        name=settings.text("name", required=True),
        venue=settings.text("venue"),
        time_zone=zone_name,
        crs=_crs(settings),
        units=units,
        distance=settings.choice("distance", DistanceKind, DistanceKind.GROUND)
        or DistanceKind.GROUND,
        ground_elevation_m=settings.quantity("ground_elevation", _elevation_m),
        terrain=raw.terrain,
        terrain_sigma_m=settings.quantity("terrain_sigma", _sigma_m),
        book=book,
        pilots=tuple(_withdrawn(pilots.values(), flights)),
        places=tuple(places.values()),
        flights=flights,
        matters=raw.matters,
        awards=read_awards(top, pilots.values()),
        public_columns=_public(settings, pilots.values()),
        acceptances=read_acceptances(raw.accepted, zone, faults),
        extra={k: v for k, v in settings.table.items() if k in _PASSED_ON},
    )
    return event, faults.found


def _withdrawn(pilots: Iterable[Pilot], flights: Iterable[Flight]) -> Iterator[Pilot]:
    """Yield the pilots; who is reported withdrawn leaves as if the roster said so."""
    first: dict[int, int] = {}
    for report in (r for flight in flights for r in flight.reports):
        if report.kind is ReportKind.WITHDRAWN:
            known = first.get(report.pilot, report.task)
            first[report.pilot] = min(known, report.task)
    for pilot in pilots:
        told = (pilot.leaves, first.get(pilot.number))
        leaves = min((n for n in told if n is not None), default=None)
        yield pilot if leaves == pilot.leaves else replace(pilot, leaves=leaves)


_TOP_KEYS = ("format", "event", "rules", "award")


def _check_format(top: TomlTable) -> None:
    found = top.table.get("format")
    if type(found) is not int or found != FORMAT:
        top.refuse(
            "format",
            "nothing" if found is None else found,
            f"format = {FORMAT}",
            "A higher number needs a newer version of this program.",
        )
    top.check_keys(_TOP_KEYS)


def _elevation_m(text: str) -> float:
    negative = text.strip().startswith(("-", "−"))
    size = length_m(text.strip().lstrip("-−"))
    metres = -size if negative else size
    if not LOWEST_M <= metres <= HIGHEST_M:
        allowed = f"an elevation of the ground, {LOWEST_M:,.0f} m to {HIGHEST_M:,.0f} m"
        raise Unreadable(text, allowed)
    return metres


def _sigma_m(text: str) -> float:
    metres = length_m(text)
    if not 0 < metres <= _ROUGHEST_M:
        raise Unreadable(text, f"a length over 0 and up to {_ROUGHEST_M:g} m")
    return metres


def _zone(settings: TomlTable) -> tuple[str, ZoneInfo]:
    name = settings.text("time_zone", required=True, default="UTC")
    try:
        return name, ZoneInfo(name)
    except (KeyError, OSError, ValueError):
        hint = nearest(name, available_timezones())
        allowed = 'an IANA name such as "Europe/Madrid"'
        settings.refuse("time_zone", name, allowed, hint)
        return "UTC", ZoneInfo("UTC")


def _public(settings: TomlTable, pilots: Iterable[Pilot]) -> frozenset[str]:
    """Read which further columns may be published: of the roster, and `note`."""
    names = settings.names("public_columns")
    known = dict.fromkeys([NOTE, *(key for pilot in pilots for key in pilot.extra)])
    for name in names:
        if name.casefold() not in {k.casefold() for k in known}:
            settings.unknown("public_columns", name, known)
    return frozenset(name.casefold() for name in names)


def _crs(settings: TomlTable) -> str:
    name = settings.text("crs", required=True)
    allowed = 'a projected reference system in metres, such as "EPSG:25830"'
    if not name:
        return name
    try:
        crs = CRS.from_user_input(name)
    except (CRSError, ValueError):
        settings.refuse("crs", name, allowed)
        return name
    metres = all(axis.unit_conversion_factor == 1 for axis in crs.axis_info[:2])
    if not crs.is_projected or not metres:
        settings.refuse("crs", f"{name} ({crs.name})", allowed)
    return name


def _book(rules: TomlTable, places: Mapping[str, Place]) -> RuleBook:
    name = rules.text("book", default="festival")
    try:
        book = load_book(name)
    except InputError as error:
        fault = error.faults[0]
        rules.refuse("book", name, fault.allowed, fault.remedy)
        book = load_book("festival")
    book = override(book, rules.table, "event.toml", rules.refuse)
    check_rule_places(rules, book, places)
    return book


def _places(raw: RawEvent, faults: Faults) -> list[Place]:
    file = raw.origins.get("places", Origin(where="places.geojson"))
    read = [
        read_place(f, i, raw.origins.get(f"places.{i}", file), faults)
        for i, f in enumerate(raw.places)
    ]
    return [place for place in read if place is not None]


K = TypeVar("K", str, int)
R = TypeVar("R", Pilot, Place, Task)


def _unique(
    records: Iterable[R], key: Callable[[R], K], field: str, faults: Faults
) -> dict[K, R]:
    kept: dict[K, R] = {}
    for record in records:
        name = key(record)
        if name in kept:
            first = kept[name].origin
            line = f", line {first.line}" if first.line else ""
            faults.add(
                record.origin,
                field=field,
                found=str(name),
                allowed=f"each {field} once; it also stands in {first.where}{line}",
            )
        else:
            kept[name] = record
    return kept


def _unsaid(raw: RawFlight) -> TaskState:
    """Return the state of tasks that say none: flown once anything shows a flight."""
    shown = raw.marks or raw.reports or raw.rulings or raw.logs
    return TaskState.FLOWN if shown else TaskState.PLANNED


def _task_numbers(raw: RawFlight) -> frozenset[int]:
    """Numbers that a flight's own settings claim, sound or not."""
    given = raw.settings.get("task", [])
    tables = (
        [t for t in given if isinstance(t, Mapping)] if isinstance(given, list) else []
    )
    return frozenset(t["number"] for t in tables if isinstance(t.get("number"), int))


def _in_time(flight: Flight) -> tuple[date, float, str]:
    """Sort flights as they are flown: their names say nothing (`flight-10`)."""
    first = min((task.number for task in flight.tasks), default=math.inf)
    return flight.date, first, flight.id


class _Flights:
    """Reads the flights of an event; tasks first, since rows refer to all of them."""

    def __init__(
        self,
        *,
        raw: RawEvent,
        zone: ZoneInfo,
        places: Mapping[str, Place],
        pilots: Mapping[int, Pilot],
        book: RuleBook,
        units: Units,
        faults: Faults,
    ) -> None:
        self.raw = raw
        self.zone = zone
        self.places = places
        self.pilots = pilots
        self.book = book
        self.faults = faults
        self.units = units

    def read(self) -> tuple[Flight, ...]:
        days = {f.id: self._day(f) for f in self.raw.flights}
        read = [t for f in self.raw.flights for t in self._tasks(f, days[f.id])]
        tasks = _unique(read, lambda t: t.number, "number", self.faults)
        flights = (self._flight(f, days[f.id], tasks) for f in self.raw.flights)
        return tuple(sorted(flights, key=_in_time))

    def _settings(self, raw: RawFlight) -> TomlTable:
        return TomlTable(raw.settings, "", raw.origins, self.faults)

    def _day(self, raw: RawFlight) -> date:
        settings = self._settings(raw)
        if self._broken(raw):
            return date(1970, 1, 1)
        settings.check_keys(FLIGHT_KEYS)
        return settings.day("date") or date(1970, 1, 1)

    def _broken(self, raw: RawFlight) -> bool:
        """Tell whether flight.toml could not be read, which is said already."""
        return self.faults.knows(raw.origins.get("", Origin()).where)

    def _tasks(self, raw: RawFlight, day: date) -> list[Task]:
        settings = self._settings(raw)
        given = settings.table.get("task", [])
        if not isinstance(given, list) or not all(isinstance(t, dict) for t in given):
            settings.refuse("task", given, "[[task]] tables")
            return []
        rows = (
            raw.marks,
            raw.declarations,
            raw.reports,
            raw.rulings,
            raw.targets,
        )
        if not given and any(rows) and not self._broken(raw):
            settings.refuse("task", "nothing", "a [[task]] table for each task flown")
        clock = Clock(day, self.zone)
        tasks = []
        for index, table in enumerate(given):
            inside = TomlTable(table, f"task.{index}", raw.origins, self.faults)
            task = read_task(
                inside,
                raw.id,
                clock,
                self.places,
                self.book,
                unsaid=_unsaid(raw),
            )
            if task is not None:
                tasks.append(task)
                if task.book is not None:
                    check_rule_places(inside.inside("rules"), task.book, self.places)
        return tasks

    def _flight(self, raw: RawFlight, day: date, tasks: Mapping[int, Task]) -> Flight:
        own = [t for t in tasks.values() if t.flight == raw.id]
        known = Known(
            pilots=self.pilots,
            places=self.places,
            tasks=tasks,
            flight=raw.id,
            own=_task_numbers(raw),
            clock=Clock(day, self.zone, [p for t in own for p in t.periods]),
            units=self.units,
        )
        settings, faults, asked = self._settings(raw), self.faults, known.asked

        def read(
            rows: Sequence[RawRow],
            reader: Callable[[RawRow, Known, Faults], T | None],
        ) -> tuple[T, ...]:
            own = (reader.__name__, asked)
            return read_rows(rows, lambda r: reader(r, known, faults), own, faults)

        return Flight(
            id=raw.id,
            date=day,
            qnh_hpa=settings.number("qnh_hpa", 870, 1085),
            temperature_c=settings.number("temperature_c", -60, 60),
            tasks=tuple(own),
            keyings=read(raw.marks, read_keying),
            declarations=read(raw.declarations, read_declaration),
            reports=read(raw.reports, read_report),
            rulings=read(raw.rulings, read_ruling),
            targets=read(raw.targets, read_target_line),
            logs=self._logs(raw),
            air=raw.air,
            extra={k: v for k, v in raw.settings.items() if k not in FLIGHT_KEYS},
            origin=raw.origins.get("", Origin()),
        )

    def _logs(self, raw: RawFlight) -> tuple[LogFile, ...]:
        for log in raw.logs:
            if log.pilot is not None and log.pilot not in self.pilots:
                origin = raw.origins.get(log.blob.name, Origin(where=log.blob.name))
                known = list(self.pilots)
                self.faults.unknown(origin, "pilot", log.pilot, known)
        return tuple(
            LogFile(blob=log.blob, pilot=log.pilot, problem=log.problem)
            for log in raw.logs
        )
