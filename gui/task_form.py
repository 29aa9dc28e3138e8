"""A task's form and the content of flight.toml: from one to the other and back."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

import tomli_w

from gui.snapshot import Snapshot
from scorer.errors import Fault, ScorerError
from scorer.event.build import build
from scorer.event.moments import Clock
from scorer.event.raw import RawFlight
from scorer.files import ALLOWED, flaw_of_name
from scorer.ledger.acts import EntryId, FlightSet
from scorer.tasks.check import check_task
from scorer.tasks.kinds import KINDS, settings_table
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
    state: str = "flown"
    more: str = ""
    """Further keys, as in flight.toml."""


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
        state=str(task.get("state", "flown")),
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
    """List the faults that a flight's new settings would bring into the event."""
    raw = snapshot.state.raw(lambda _: b"")
    known = {f.id: f for f in raw.flights}
    if flight not in known and (flaw := flaw_of_name(flight)):
        return [f"flight {flight!r} needs another name: {flaw}; allowed: {ALLOWED}"]
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
    before = {_bare(fault) for fault in snapshot.faults}
    return [_bare(f) for f in (*faults, *deeper) if _bare(f) not in before]


def held_flight(
    snapshot: Snapshot, flight: str
) -> tuple[Mapping[str, Any], tuple[EntryId, ...]]:
    """Return a flight's settings and the entries that hold them; empty for a new one."""
    for current, act in snapshot.state.all_of(FlightSet):
        if act.flight == flight:
            return act.settings, current.ids
    return {}, ()


def keys_help(kind: str) -> str:
    """Explain the further keys that a task kind knows."""
    known = KINDS[kind]
    voice = Voice()
    lines = [f"{voice.say(known.title)}: {voice.say(known.about)}."]
    if known.roles:
        lines.append(f"Marks: {', '.join(known.roles)}.")
    lines += [f"{key} = {how}: {doc}" for key, how, doc in settings_table(known)]
    return "\n".join(lines)


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


def _bare(fault: Fault) -> str:
    place = f"{fault.field}: " if fault.field else ""
    text = f"{place}found {fault.found}; allowed: {fault.allowed}"
    return f"{text}. {fault.remedy}" if fault.remedy else text
