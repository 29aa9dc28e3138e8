"""What corrects an event: the drafts of each correction, with what they replace."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from pyproj import Transformer

from scorer.errors import Fault, InputError
from scorer.event.answering import with_answers
from scorer.event.build import EVENT_KEYS
from scorer.event.moments import Clock, read_moment
from scorer.facts import fact, words
from scorer.files import name_key
from scorer.ledger.acts import (
    Act,
    AirRenewed,
    DeclarationMade,
    FlightSet,
    MarkKeyed,
    PilotSet,
    PlaceSet,
    Published,
    ReportMade,
    RowAct,
    RulingMade,
    SettingsSet,
    TargetLogged,
    TaskReopened,
    Withdrawn,
)
from scorer.ledger.cells import plain_number, whole_number
from scorer.ledger.entry import Draft, Entry
from scorer.ledger.faults import LedgerError
from scorer.ledger.keyings import entered, settling, slot_of
from scorer.ledger.numbers import number_of, renumbered
from scorer.ledger.replay import State
from scorer.ledger.resolve import Current, key_of
from scorer.units import Unreadable
from scorer.words.voice import Voice

ROWS: Mapping[str, type[RowAct]] = {
    "marks": MarkKeyed,
    "declarations": DeclarationMade,
    "reports": ReportMade,
    "rulings": RulingMade,
    "targets": TargetLogged,
}
"""What a row of each table becomes."""
PILOTS = "pilots"
Cells = Mapping[str, str]


def _refuse(kind: str, name: object) -> LedgerError:
    return LedgerError(Voice().say(fact(kind, name=words(str(name)))))


def enter(
    state: State, table: str, cells: Cells, why: str, instead: Entry | None = None
) -> tuple[Draft, ...]:
    """Enter a row; `instead` = the entry it corrects, whose other cells stay."""
    held = None if instead is None else _held(state, instead)
    if held is not None and isinstance(held.act, RowAct | PilotSet):
        cells = {**held.act.fields, **cells}
    act: Act
    if table == PILOTS:
        held = held or _pilot(state, cells.get("number", ""))
        before = held.act.fields if held and isinstance(held.act, PilotSet) else {}
        act = PilotSet(fields={**before, **cells})
    else:
        form = ROWS[table]
        act = form(flight=_flight_of_row(state, form, cells), fields=cells)
        if isinstance(act, MarkKeyed) and cells.get("settles", "").strip():
            draft = settling(entered(state, slot_of(act)), cells, why=why)
            ids = (*(held.ids if held else ()), *draft.replaces)
            return (replace(draft, replaces=tuple(dict.fromkeys(ids))),)
        if form is RulingMade:
            _check_when(state, act.flight, cells.get("at", "").strip())
    return (_in_place(state, act, why, held),)


def _check_when(state: State, flight: str, text: str) -> None:
    """Refuse a time of a decision that is none: entries of today have good ones."""
    own = (act for _, act in state.all_of(FlightSet) if act.flight == flight)
    day = next((act.settings.get("date") for act in own), None)
    try:
        if text and isinstance(day, date):
            Clock(day, state.zone).moment(text)
        elif text:
            read_moment(text, state.zone)
    except Unreadable as fault:
        unfit = Fault(
            where="at", found=f'"{text}"', allowed=fault.allowed, remedy=fault.remedy
        )
        raise InputError([unfit]) from None


def _flight_of_row(state: State, form: type[RowAct], cells: Cells) -> str:
    """Return the flight that a row goes to: its task's, or the last for none."""
    flights = state.all_of(FlightSet)
    if form is RulingMade and not cells.get("task", "").strip() and flights:
        return flights[-1][1].flight
    return flight_of(state, cells.get("task", ""))


def _in_place(state: State, act: Act, why: str, held: Current | None = None) -> Draft:
    """Put an act in the place of what there may be only one of."""
    key = key_of(act)
    same = [c for c in state.current if key is not None and key_of(c.act) == key]
    replaces = {i: None for c in (*([held] if held else ()), *same) for i in c.ids}
    return Draft(act=act, why=why, replaces=tuple(replaces))


def _held(state: State, entry: Entry) -> Current:
    for current in state.current:
        if entry.hash in current.ids:
            return current
    raise _refuse("correct-gone", entry.label)


def _pilot(state: State, number: object) -> Current | None:
    wanted = plain_number(number)
    for current, act in state.all_of(PilotSet):
        if number_of(act) == wanted:
            return current
    return None


def flight_of(state: State, task: object) -> str:
    """Return the flight of a task by its number."""
    for _, act in state.all_of(FlightSet):
        rows = act.settings.get("task", [])
        if any(
            plain_number(row.get("number", "")) == plain_number(task) for row in rows
        ):
            return act.flight
    raise _refuse("correct-no-task", task)


def not_flown(
    state: State, task: int, pilots: Iterable[int], why: str, by: str
) -> tuple[Draft, ...]:
    """Report of several pilots that they did not fly a task, with one reason."""
    flight = flight_of(state, task)
    cells = {"task": str(task), "kind": "not-flown", "by": by, "note": why}
    return tuple(
        Draft(act=ReportMade(flight=flight, fields={**cells, "pilot": str(n)}), why=why)
        for n in pilots
    )


def withdrawn(state: State, pilot: int, task: int, why: str) -> tuple[Draft, ...]:
    """Take a pilot out from a task on; what was flown before stays as it is."""
    held = _pilot(state, pilot)
    if held is None or not isinstance(held.act, PilotSet):
        raise _refuse("correct-no-pilot", pilot)
    flight_of(state, task)
    act = replace(held.act, fields={**held.act.fields, "leaves": str(task)}, source="")
    return (Draft(act=act, why=why, replaces=held.ids),)


def task_state(state: State, task: int, to: str, why: str) -> tuple[Draft, ...]:
    """Set a task planned, flown or cancelled."""
    return of_task(state, task, {"state": to}, why)


def of_task(
    state: State, task: int, changes: Mapping[str, Any], why: str
) -> tuple[Draft, ...]:
    """Set some keys of a task."""
    flight = flight_of(state, task)
    ((held, act),) = [p for p in state.all_of(FlightSet) if p[1].flight == flight]
    rows = [
        {**row, **changes} if row.get("number") == task else row
        for row in act.settings["task"]
    ]
    made = FlightSet(flight=flight, settings={**act.settings, "task": rows})
    return (Draft(act=made, why=why, replaces=held.ids),)


def moved(
    state: State, name: str, at: tuple[float, float], why: str, *, grid: bool
) -> tuple[Draft, ...]:
    """Move a point: `at` is (longitude, latitude), or on the grid (easting, northing)."""
    for held, act in state.all_of(PlaceSet):
        if act.name != name:
            continue
        geometry = act.feature.get("geometry") or {}
        if geometry.get("type") != "Point":
            raise _refuse("correct-no-point", name)
        corner = _lon_lat(state, at) if grid else at
        new = {**act.feature, "geometry": {**geometry, "coordinates": [*corner]}}
        return (Draft(act=PlaceSet(feature=new), why=why, replaces=held.ids),)
    raise _refuse("correct-no-point", name)


def _lon_lat(state: State, at: tuple[float, float]) -> tuple[float, float]:
    ((_, act),) = state.all_of(SettingsSet)
    crs = act.settings["event"]["crs"]
    back = Transformer.from_crs(crs, "EPSG:4326", always_xy=True)
    lon, lat = back.transform(*at)
    return round(float(lon), 9), round(float(lat), 9)


def answered(state: State, key: str, value: str, why: str) -> tuple[Draft, ...]:
    """Answer one rule of the event, by its key."""
    rules = state.settings.get("rules", {})
    if "." in key:
        rules = with_answers(rules, {key: _plain(value)})
    else:
        rules = {**rules, key: _plain(value)}
    return (settings_with(state, "rules", rules, why),)


def event_set(state: State, key: str, value: str, why: str) -> tuple[Draft, ...]:
    """Set a key of the event itself, such as its venue; `none` takes it out.

    Raises
    ------
    LedgerError
        There is no such key, or it is a file, which a folder brings.
    """
    name = key.removeprefix("event.")
    if name not in EVENT_KEYS or name == "terrain":
        raise _refuse("correct-no-setting", key)
    own = {n: held for n, held in state.settings.get("event", {}).items() if n != name}
    if value.strip().casefold() != "none":
        own[name] = value if name in _TEXTS else _plain(value)
    return (settings_with(state, "event", own, why),)


_TEXTS = frozenset({"name", "venue"})
"""Keys whose value is a text whatever it looks like."""


def prize_set(
    state: State, name: str, cells: Mapping[str, Any] | None, why: str
) -> tuple[Draft, ...]:
    """Declare a prize, in the place of one of that name; `cells` None takes it out."""
    rows = list(state.settings.get("award", ()))
    left = [row for row in rows if row.get("name") != name]
    if cells is None and len(left) == len(rows):
        raise _refuse("correct-no-prize", name)
    made = [] if cells is None else [{"name": name, **cells}]
    return (settings_with(state, "award", [*left, *made], why),)


def settings_with(state: State, table: str, content: Any, why: str = "") -> Draft:
    """Set one table of the event's settings."""
    held = state.all_of(SettingsSet)
    made = SettingsSet(settings={**state.settings, table: content})
    ids = held[0][0].ids if held else ()
    return Draft(act=made, why=why, replaces=ids)


def _plain(text: str) -> Any:
    """Read a value as in event.toml; what is none there is a text."""
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except tomllib.TOMLDecodeError:
        return text


def with_number(state: State, old: int, new: int, why: str) -> tuple[Draft, ...]:
    """Give a pilot another number, with all that hangs on the old one."""
    held, taken = _pilot(state, old), _pilot(state, new)
    if held is None:
        raise _refuse("correct-no-pilot", old)
    if taken is not None:
        raise _refuse("correct-number-taken", new)
    drafts = []
    for current in state.current:
        act = renumbered(current.act, {str(old): str(new)})
        if act is not None:
            drafts.append(Draft(act=act, why=why, replaces=current.ids))
    return tuple(drafts)


def holds(state: State, entry: Entry, why: str) -> tuple[Draft, ...]:
    """Decide where desks clash: this entry holds, in the place of all that clash."""
    for conflict in state.conflicts:
        others = [e for e in conflict.entries if e.hash != entry.hash]
        if len(others) == len(conflict.entries):
            continue
        if isinstance(
            entry.act, Published
        ):  # it stays up as it is, the others come down
            return tuple(Draft(act=Withdrawn(entry=e.hash), why=why) for e in others)
        ids = tuple(other.hash for other in conflict.entries)
        return (Draft(act=entry.act, why=why, replaces=ids),)
    raise _refuse("correct-no-clash", entry.label)


def reopened(state: State, task: int, why: str) -> tuple[Draft, ...]:
    """Open an official task again: the rules of today hold for it."""
    flight_of(state, task)
    return (Draft(act=TaskReopened(task=task), why=why),)


def air_renewed(state: State, flight: str, why: str) -> tuple[Draft, ...]:
    """Find the air of a flight from all its logs again, late ones too."""
    known = [act.flight for _, act in state.all_of(FlightSet)]
    if flight not in known:
        raise _refuse("correct-no-flight", flight)
    return (Draft(act=AirRenewed(flight=flight), why=why),)


def log_given(
    state: State, name: str, pilot: str, flight: str | None, why: str
) -> tuple[Draft, ...]:
    """Say whose a log is, by its name and a pilot's number; `none` takes that back.

    Raises
    ------
    LedgerError
        No log, or one in each of several flights, is called so; or nobody has the number.
    """
    flights = [act.flight for _, act in state.all_of(FlightSet)]
    if flight is not None and flight not in flights:
        raise _refuse("correct-no-flight", flight)
    wanted = name_key(name).removeprefix("logs/")
    logs = [
        (name_key(told), log)
        for own in (flights if flight is None else [flight])
        for told, log in state.logs_by_name(own)
    ]
    found = [log for told, log in logs if told.removeprefix("logs/") == wanted]
    if not found:
        raise _refuse("correct-no-log", name)
    if len(found) > 1:
        raise _refuse("correct-log-twice", name)
    if pilot.casefold() == "none":
        return (found[0].given_to(None, why),)
    number = whole_number(pilot)
    if number is None or _pilot(state, number) is None:
        raise _refuse("correct-no-pilot", pilot)
    return (found[0].given_to(number, why),)


def removed(state: State, entry: Entry, why: str) -> tuple[Draft, ...]:
    """Take back what an entry set down, with all that it replaced."""
    held = _held(state, entry)
    return (Draft(act=Withdrawn(entry=held.ids[0]), why=why, replaces=held.ids[1:]),)
