"""Names under which an event goes into a folder, whatever its entries call things."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from scorer.event.model import Blob, Origin
from scorer.event.raw import RawEvent, RawFlight, RawLog
from scorer.files import flaw_of_name, name_key, safe_name


def plainly_named(
    raw: RawEvent, reserved: frozenset[str], assigned: str
) -> tuple[RawEvent, tuple[str, ...]]:
    """Give everything a name that is plain on every system and that nothing else has.

    `reserved` are names at the top of a folder, `assigned` the one among the logs.
    Returned beside the event is a sentence for each name that had to change.
    """
    notes: list[str] = []
    terrain = raw.terrain and _terrain(raw.terrain, reserved, notes)
    taken: set[str] = set()
    flights = tuple(_flight(flight, taken, assigned, notes) for flight in raw.flights)
    settings = _naming_terrain(raw.settings, terrain)
    named = replace(raw, settings=settings, terrain=terrain, flights=flights)
    return named, tuple(notes)


def _terrain(blob: Blob, reserved: frozenset[str], notes: list[str]) -> Blob:
    parts = blob.name.split("/")
    if name_key(parts[0]) not in reserved and not any(map(flaw_of_name, parts)):
        return blob
    name = safe_name(parts[-1], reserved)
    notes.append(f"the terrain {blob.name!r} is written as {name!r}")
    return replace(blob, name=name)


def _naming_terrain(
    settings: Mapping[str, Any], blob: Blob | None
) -> Mapping[str, Any]:
    """Let the settings name the terrain as it is written, or reading would miss it."""
    event = settings.get("event")
    if not isinstance(event, dict):
        return settings
    if blob is None:  # it was withdrawn: a folder that names none can be read again
        rest = {key: own for key, own in event.items() if key != "terrain"}
        return settings if rest == event else {**settings, "event": rest}
    if event.get("terrain") == blob.name:
        return settings
    return {**settings, "event": {**event, "terrain": blob.name}}


def _flight(
    flight: RawFlight, taken: set[str], assigned: str, notes: list[str]
) -> RawFlight:
    name = _free(flight.id, taken)
    if name != flight.id:
        where = flight.origins.get("", Origin()).where or "no entry names it"
        notes.append(f"flight {flight.id!r} ({where}) is written as {name!r}")
    used = {name_key(assigned)}
    logs = tuple(_log(log, flight.id, used, notes) for log in flight.logs)
    return replace(flight, id=name, logs=logs)


def _log(log: RawLog, flight: str, used: set[str], notes: list[str]) -> RawLog:
    own = log.blob.name.rpartition("/")[2]
    name = _free(own, used)
    if name != own:
        notes.append(f"log {own!r} of flight {flight!r} is written as {name!r}")
    return replace(log, blob=replace(log.blob, name=f"logs/{name}"))


def _free(name: str, taken: set[str]) -> str:
    free = safe_name(name, taken)
    taken.add(name_key(free))
    return free
