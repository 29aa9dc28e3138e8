"""Flights, tasks and places as rows."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo

from gui.models.table import RIGHT, TableColumn
from gui.places_text import where_text, where_told
from gui.snapshot import Snapshot, flight_said
from gui.theme import Tone
from scorer.event.model import Flight, Period, Place, Task, TaskState
from scorer.event.moments import at
from scorer.ledger.acts import EntryId, PlaceSet
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskRow:
    """One task, or a flight that has none yet."""

    flight: Flight
    task: Task | None
    launch: str
    scoring: str

    @property
    def number(self) -> int | None:
        """The task's number."""
        return self.task.number if self.task else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRow:
    """One place."""

    place: Place
    where: str
    ids: tuple[EntryId, ...]
    voice: Voice = field(default_factory=Voice)
    feature: Mapping[str, Any] = field(default_factory=dict)
    """As recorded."""

    @property
    def recorded(self) -> Mapping[str, Any]:
        """What was recorded, with how its form is typed: kept while nobody types over."""
        return {**self.feature, "where": self.where}


def task_rows(snapshot: Snapshot) -> list[TaskRow]:
    """List all tasks by flight."""
    zone = ZoneInfo(snapshot.event.time_zone)
    rows = []
    for flight in snapshot.event.flights:
        tasks: tuple[Task | None, ...] = flight.tasks or (None,)
        rows += [
            TaskRow(
                flight=flight,
                task=task,
                launch=_said(task.launch_period if task else None, zone),
                scoring=_said(task.scoring_period if task else None, zone),
            )
            for task in tasks
        ]
    return rows


def place_rows(snapshot: Snapshot) -> list[PlaceRow]:
    """List all places."""
    state, places = snapshot.state, snapshot.event.places
    held = {act.name: (now.ids, act.feature) for now, act in state.all_of(PlaceSet)}
    voice = Voice.of(snapshot.event)
    return [_place_row(voice, p, *held.get(p.name, ((), {}))) for p in places]


def _place_row(
    voice: Voice, place: Place, ids: tuple[EntryId, ...], feature: Mapping[str, Any]
) -> PlaceRow:
    where = where_text(place, feature.get("geometry"))
    return PlaceRow(place=place, where=where, ids=ids, voice=voice, feature=feature)


def _said(period: Period | None, zone: ZoneInfo) -> str:
    if period is None:
        return ""
    start, end = at(period.start_s, zone), at(period.end_s, zone)
    until = end.clock(seconds=False)
    if end.day != start.day:
        until = end.dated(seconds=False)
    return f"{start.clock(seconds=False)}–{until}"


def _state_tone(row: TaskRow) -> Tone:
    off = row.task is not None and row.task.state is TaskState.CANCELLED
    return Tone.BAD if off else Tone.PLAIN


def _kind(row: TaskRow) -> str:
    if row.task is None:
        return ""
    return Voice().say(KINDS[row.task.kind].title)


def _flight(row: TaskRow) -> str:
    return f"{flight_said(row.flight.id)}, {row.flight.date:%a %d %b}"


def _elevation(row: PlaceRow) -> str:
    up_m = row.place.elevation_m
    return "–" if up_m is None else row.voice.height(up_m)


def _targets(row: TaskRow) -> str:
    own = row.task
    return "" if own is None else ", ".join((*own.targets, *own.roles.values()))


TASK_COLUMNS = (
    TableColumn("Task", lambda r: r.number, align=RIGHT),
    TableColumn("Kind", _kind, text=lambda r: f"{_kind(r)}\n{_flight(r)}", rest=True),
    TableColumn("Targets", _targets, width=24),
    TableColumn(
        "Launch, marks",
        lambda r: r.launch,
        text=lambda r: f"{r.launch}\n{r.scoring}".strip(),
        firm=True,
    ),
    TableColumn(
        "State", lambda r: str(r.task.state) if r.task else "no task", tone=_state_tone
    ),
)
PLACE_COLUMNS = (
    TableColumn("Place", lambda r: r.place.name, width=24, rest=True),
    TableColumn("Kind", lambda r: Voice().word(f"place-kind-{r.place.kind}")),
    TableColumn("Where", lambda r: where_told(r.place, r.voice), width=30, firm=True),
    TableColumn(
        "Elevation", lambda r: r.place.elevation_m, text=_elevation, align=RIGHT
    ),
)
