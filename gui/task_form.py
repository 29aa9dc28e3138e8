"""A task's form and the content of flight.toml: from one to the other and back."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

import tomli_w

from gui.snapshot import Snapshot
from scorer.errors import Fault, ScorerError, ended_once
from scorer.event.build import build
from scorer.event.model import Event
from scorer.event.moments import LONGEST_OVERNIGHT_S, Clock
from scorer.event.raw import RawFlight
from scorer.facts import Fact, fact, words
from scorer.files import ALLOWED, flaw_of_name
from scorer.ledger.acts import EntryId, FlightSet
from scorer.scoring.looked_over import Looked, look_over
from scorer.tasks.check import check_task
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice

FLIGHT_FIELDS = ("date", "qnh_hpa", "temperature_c", "note")
PLAIN_FIELDS = ("target", "scoring_area", "measuring_radius", "marker", "state", "kind")
PERIODS = ("launch_period", "scoring_period")


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskForm:
    """Everything that is typed about one task and its flight."""

    flight: str
    date: str
    qnh: str = ""
    temperature: str = ""
    number: str = ""
    """Empty = only the flight is set down."""
    kind: str = "FIN"
    targets: str = ""
    """Names with commas between; `A = name` where the kind has roles."""
    areas: str = ""
    launch: tuple[str, str] = ("", "")
    scoring: tuple[str, str] = ("", "")
    radius: str = ""
    marker: str = ""
    state: str = "planned"
    more: str = ""
    """Further keys, as in flight.toml."""


_TIME = r"(\d{1,2})(?::?(\d{2}))?(\+1)?"
_DIGITS = re.compile(r"(\d{1,2})(\d\d)(\d\d)?", re.ASCII)
_PERIOD = re.compile(rf"{_TIME}\s*(?:-|–|to|bis|\s)\s*{_TIME}", re.ASCII)
_LONGEST_MIN = LONGEST_OVERNIGHT_S / 60
_DAY_MIN = 24 * 60


def read_period(text: str, what: str) -> tuple[str, str]:
    """Read a period as people write it: `645-730`, `7-930`, `06:45 to 07:30`.

    Past midnight where that is the night; `what` names it in the refusal.  Raises
    ScorerError.
    """
    plain = text.strip()
    found = _PERIOD.fullmatch(plain)
    if found is None:
        dated = [part.strip() for part in plain.split(" to ")]
        if len(dated) == 2 and all(":" in part for part in dated):
            return dated[0], dated[1]  # with dates or offsets: the engine reads them
        raise _told(fact("period-unread", found=words(plain[:40])))
    parts = (found.groups()[:3], found.groups()[3:])
    first, last = (_minutes(hours, minutes, plain) for hours, minutes, _ in parts)
    start, end = (f"{m // 60:02d}:{m % 60:02d}" for m in (first, last))
    marked = parts[0][2] or parts[1][2]
    if not marked and last <= first and last + _DAY_MIN - first > _LONGEST_MIN:
        both = {"from": words(start), "to": words(end)}
        raise _told(fact("period-backwards", what=words(what), **both))
    return f"{start}{parts[0][2] or ''}", f"{end}{parts[1][2] or ''}"


def with_colons(text: str) -> str:
    """Read a time typed as digits alone, `755` or `075530`; others stay as they are."""
    found = _DIGITS.fullmatch(text.strip())
    return ":".join(filter(None, found.groups())) if found else text


def _minutes(hours: str, minutes: str | None, text: str) -> int:
    made = int(hours) * 60 + int(minutes or 0)
    if int(hours) > 23 or int(minutes or 0) > 59:
        raise _told(fact("period-unread", found=words(text[:40])))
    return made


def _told(stated: Fact) -> ScorerError:
    return ScorerError(Voice().sentence(stated))


def period_text(period: tuple[str, str]) -> str:
    """Write a period as it is read: `06:45 to 07:30`."""
    return " to ".join(period) if all(period) else "".join(period)


FIELD_OF = {
    "number": "number",
    "kind": "number",
    "date": "date",
    "qnh": "qnh",
    "temperature": "temperature",
    "scoring_area": "areas",
    "scoring_period": "scoring",
    "launch_period": "launch",
    "target": "targets",
    "measuring_radius": "radius",
    "marker": "marker",
}
"""Under which field of the form a fault is told, by what its own field begins with."""
SETTINGS = frozenset(s.key for kind in KINDS.values() for s in kind.settings)
"""Further fields, by the keys of what kinds of tasks ask."""


def field_of(fault: Fault) -> str:
    """Return the field of the form that a fault is about; empty for none."""
    own = re.split(r"[.,]\s*", fault.field or "")
    names = [part for part in own if part and not part.isdecimal()]
    setting = next((name for name in names if name in SETTINGS), "")
    return setting or next(
        (
            field
            for name in reversed(names)
            for start, field in FIELD_OF.items()
            if name.startswith(start)
        ),
        "",
    )


def form_of(flight: str, settings: Mapping[str, Any], number: int | None) -> TaskForm:
    """Fill the form from what stands in the event."""
    tasks = settings.get("task", [])
    task: Mapping[str, Any] = next((t for t in tasks if t.get("number") == number), {})
    shown = {"number", "targets", "scoring_areas", *PLAIN_FIELDS, *PERIODS}
    more = {key: value for key, value in task.items() if key not in shown}
    return TaskForm(
        flight=flight,
        date=str(settings.get("date", "")),
        qnh=_said(settings.get("qnh_hpa")),
        temperature=_said(settings.get("temperature_c")),
        number="" if number is None else str(number),
        kind=str(task.get("kind", "FIN")),
        targets=_names(task.get("target"), task.get("targets")),
        areas=_names(task.get("scoring_area"), task.get("scoring_areas")),
        launch=_period(task.get("launch_period")),
        scoring=_period(task.get("scoring_period")),
        radius=str(task.get("measuring_radius", "")),
        marker=str(task.get("marker", "")),
        state=str(task.get("state", "")),
        more=tomli_w.dumps(dict(more)) if more else "",
    )


def settings_of(form: TaskForm, before: Mapping[str, Any]) -> dict[str, Any]:
    """Put the form into a flight's settings; what it does not show stays as it is."""
    settings: dict[str, Any] = {k: v for k, v in before.items() if k != "task"}
    settings["date"] = _date(form.date)
    for key, text in (("qnh_hpa", form.qnh), ("temperature_c", form.temperature)):
        settings.pop(key, None)
        if text.strip():
            settings[key] = _float(key, text)
    tasks = [dict(task) for task in before.get("task", [])]
    if form.number.strip():
        task = _task(form)
        numbers = [t.get("number") for t in tasks]
        if task["number"] in numbers:
            tasks[numbers.index(task["number"])] = task
        else:
            tasks.append(task)
    if tasks:
        settings["task"] = tasks
    return settings


def without_task(before: Mapping[str, Any], number: int) -> dict[str, Any]:
    """Return a flight's settings with one task taken out."""
    tasks = [task for task in before.get("task", []) if task.get("number") != number]
    return {**before, "task": tasks}


def new_faults(
    snapshot: Snapshot, flight: str, settings: Mapping[str, Any]
) -> list[str]:
    """Say the faults that a flight's new settings would bring into the event."""
    return [bare(fault) for fault in built_with(snapshot, flight, settings)[1]]


def built_with(
    snapshot: Snapshot, flight: str, settings: Mapping[str, Any]
) -> tuple[Event, list[Fault]]:
    """Build the event with a flight's new settings; list the faults they bring into it."""
    raw = snapshot.state.raw(lambda _: b"")
    known = {f.id: f for f in raw.flights}
    if flight not in known and (flaw := flaw_of_name(flight)):
        unfit = Fault(
            where="",
            field="flight",
            found=f"{flight}: {flaw}",
            allowed=f"another name: {ALLOWED}",
        )
        return snapshot.event, [unfit]
    if flight in known:
        changed = tuple(
            replace(f, settings=settings) if f.id == flight else f for f in raw.flights
        )
    else:
        changed = (*raw.flights, RawFlight(id=flight, settings=settings))
    event, faults = build(replace(raw, flights=changed))
    places = {place.name: place for place in event.places}
    deeper = [
        fault
        for own in event.flights
        if own.id == flight
        for task in own.tasks
        for fault in check_task(
            task, places, Clock(own.date, ZoneInfo(event.time_zone))
        )
    ]
    before = {bare(fault) for fault in snapshot.faults}
    return event, [f for f in (*faults, *deeper) if bare(f) not in before]


def by_field(faults: Iterable[Fault]) -> dict[str, str]:
    """Say faults under the fields they are about, the first of each."""
    told: dict[str, str] = {}
    for fault in faults:
        field = field_of(fault)
        if field:
            text = f"“{fault.found}” does not fit: {fault.allowed}. {fault.remedy}"
            told.setdefault(field, ended_once(text.strip()))
    return told


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedOver:
    """A form looked over: faults under their fields, and what to look at."""

    by_field: Mapping[str, str]
    looked: tuple[Looked, ...]
    event: Event
    """With the task as it stands in the form."""


def looked_over(
    snapshot: Snapshot, form: TaskForm, settings: Mapping[str, Any]
) -> LookedOver:
    """Build the event with what stands in the form, and look the task over."""
    event, faults = built_with(snapshot, form.flight, settings)
    told = by_field(faults)
    looked = () if faults else look_over(event, form.flight, int(form.number))
    return LookedOver(by_field=told, looked=looked, event=event)


def held_flight(
    snapshot: Snapshot, flight: str
) -> tuple[Mapping[str, Any], tuple[EntryId, ...]]:
    """Return a flight's settings and the entries that hold them; empty for a new one."""
    for current, act in snapshot.state.all_of(FlightSet):
        if act.flight == flight:
            return act.settings, current.ids
    return {}, ()


def _task(form: TaskForm) -> dict[str, Any]:
    text = form.number.strip()
    if not (text.isascii() and text.isdigit() and int(text) > 0):
        raise ScorerError(f'number: found "{text}"; allowed: a whole number from 1 up')
    task: dict[str, Any] = {"number": int(text), "kind": form.kind}
    task |= _named("target", form.targets) | _named("scoring_area", form.areas)
    for key, (start, end) in zip(PERIODS, (form.launch, form.scoring), strict=True):
        if start.strip() or end.strip():
            task[key] = [start.strip(), end.strip()]
    plain = {
        "measuring_radius": form.radius,
        "marker": form.marker,
        "state": form.state,
    }
    task |= {key: text.strip() for key, text in plain.items() if text.strip()}
    try:
        return task | tomllib.loads(form.more)
    except tomllib.TOMLDecodeError as error:
        raise ScorerError(f"further keys: {error}; write key = value lines") from error


def _named(key: str, text: str) -> dict[str, Any]:
    """Write one name, several, or names by role."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        return {}
    if all("=" in part for part in parts):
        pairs = [part.split("=", 1) for part in parts]
        return {f"{key}s": {role.strip(): name.strip() for role, name in pairs}}
    return {key: parts[0]} if len(parts) == 1 else {f"{key}s": parts}


def _names(one: Any, several: Any) -> str:
    if isinstance(several, Mapping):
        return ", ".join(f"{role} = {name}" for role, name in several.items())
    names = several if isinstance(several, list) else [one] if one else []
    return ", ".join(map(str, names))


def _period(value: Any) -> tuple[str, str]:
    if isinstance(value, list | tuple) and len(value) == 2:
        return str(value[0]), str(value[1])
    return "", ""


def _said(value: Any) -> str:
    return (
        ""
        if value is None
        else f"{value:g}"
        if isinstance(value, float)
        else str(value)
    )


def _date(text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise ScorerError(
            f'date: found "{text}"; allowed: a date such as 2026-09-12'
        ) from None


def _float(key: str, text: str) -> float:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise ScorerError(f'{key}: found "{text}"; allowed: a number') from None


def bare(fault: Fault) -> str:
    """Say a fault without the place in a file."""
    place = f"{fault.field}: " if fault.field else ""
    text = f"{place}found {fault.found}; allowed: {fault.allowed}"
    return ended_once(f"{text}. {fault.remedy}") if fault.remedy else text
