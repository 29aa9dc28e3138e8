"""Complaints, protests and notes as an event folder holds them.

They change no score: an official who upholds one sets down a ruling or a settled mark.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from scorer.event.model import Level, Origin, Outcome
from scorer.event.moments import read_moment
from scorer.event.raw import RawEvent, RawRow
from scorer.event.reading import Cells, Faults

OF_OUTCOMES = ("reason", "decided_by", "decided_at")
"""Columns that only a decided complaint fills."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filed:
    """One line of complaints.csv, understood."""

    row: RawRow
    pilot: int
    task: int | None
    """None = the event as a whole."""
    number: int | None
    """By which other lines name it; None = none given."""
    level: Level
    against: int | None
    """Number of the complaint that a protest is about."""
    outcome: Outcome | None
    """None = open."""


def read_complaints(
    rows: Iterable[RawRow], zone: ZoneInfo, faults: Faults
) -> tuple[Filed, ...]:
    """Read complaints.csv; `check` looks for pilots and tasks."""
    above: dict[int, Origin] = {}
    found = [_read(Cells(row, faults), zone, above) for row in rows]
    return tuple(filed for filed in found if filed is not None)


def check(
    raw: RawEvent,
    zone: ZoneInfo,
    pilots: Collection[int],
    tasks: Collection[int],
    faults: Faults,
) -> None:
    """Note every fault of an event's complaints and notes."""
    sound_roster = not faults.knows("pilots.csv", "pilots.xlsx")
    files = [flight.origins.get("", Origin()).where for flight in raw.flights]
    sound_flights = not faults.knows(*files)
    for item in read_complaints(raw.complaints, zone, faults):
        if sound_roster and item.pilot not in pilots:
            faults.unknown(item.row.origin, "pilot", item.pilot, pilots)
        if sound_flights and item.task is not None and item.task not in tasks:
            faults.unknown(item.row.origin, "task", item.task, tasks)
    for row in raw.notes:
        cells = Cells(row, faults)
        cells.required("text", "the note")
        cells.read("at", lambda text: read_moment(text, zone))


def _read(cells: Cells, zone: ZoneInfo, above: dict[int, Origin]) -> Filed | None:
    before = len(cells.faults.found)
    pilot = cells.integer("pilot")
    task = cells.integer("task") if cells.text("task") else None
    level = cells.choice("kind", Level) if cells.text("kind") else Level.COMPLAINT
    against = _against(cells, level, above)
    number = cells.integer("number") if cells.text("number") else None
    if number is not None and number in above:
        line = above[number].line
        cells.refuse("number", f"each number once; it also stands in line {line}")
    elif number is not None:
        above[number] = cells.row.origin
    cells.required("text", "what the pilot says")
    for column in ("at", "decided_at"):
        cells.read(column, lambda text: read_moment(text, zone))
    outcome = _outcome(cells)
    if len(cells.faults.found) > before or pilot is None or level is None:
        return None
    return Filed(
        row=cells.row,
        pilot=pilot,
        task=task,
        number=number,
        level=level,
        against=against,
        outcome=outcome,
    )


def _against(cells: Cells, level: Level | None, above: dict[int, Origin]) -> int | None:
    if not cells.text("against"):
        return None
    if level is Level.COMPLAINT:
        remedy = "Write protest under kind where it is one."
        cells.refuse("against", "nothing with kind complaint", remedy)
        return None
    number = cells.integer("against")
    if number is not None and number not in above:
        numbers = ", ".join(map(str, above)) or "none yet"
        cells.refuse("against", f"the number of a line above: {numbers}")
    return number


def _outcome(cells: Cells) -> Outcome | None:
    if cells.text("outcome"):
        return cells.choice("outcome", Outcome)
    if any(cells.text(column) for column in OF_OUTCOMES):
        given = [column for column in OF_OUTCOMES if cells.text(column)]
        cells.refuse(
            "outcome",
            f"{', '.join(Outcome)}, since {' and '.join(given)} is given",
        )
    return None
