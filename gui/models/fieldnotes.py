"""What officials saw, what pilots declared, what happened to targets: as rows."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from gui.livecheck import known_in
from gui.models.table import RIGHT, TableColumn
from gui.places_text import pair
from gui.snapshot import Snapshot
from scorer.errors import Fault, ScorerError, ended_once
from scorer.event.model import Flight, ReportKind, TargetEvent, Units
from scorer.event.raw import RawRow
from scorer.event.reading import Faults
from scorer.event.rows import read_declaration, read_report, read_target_line
from scorer.facts import fact, words
from scorer.ledger.acts import (
    DeclarationMade,
    EntryId,
    Fields,
    ReportMade,
    RowAct,
    TargetLogged,
)
from scorer.units import Unreadable, with_unit
from scorer.words.voice import Voice

DECLARED = "declared goal"
"""Stands among the kinds of reports for a pilot's declaration."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteKind:
    """What can be noted down, and the columns that tell it."""

    act: type[RowAct]
    read: Callable[..., object]
    told: str
    """The column that says what is meant: `kind`, `event`; empty = none is needed."""
    is_: str
    """What stands in that column."""
    value: str
    """The column that takes the value."""
    of_pilot: bool = True
    moves: bool = False
    """It may say where a thing stands from then on."""


KINDS: Mapping[str, NoteKind] = MappingProxyType(
    {
        **{
            str(kind): NoteKind(
                act=ReportMade,
                read=read_report,
                told="kind",
                is_=str(kind),
                value="value",
            )
            for kind in ReportKind
        },
        DECLARED: NoteKind(
            act=DeclarationMade,
            read=read_declaration,
            told="",
            is_="",
            value="goal",
        ),
        **{
            f"target {event}": NoteKind(
                act=TargetLogged,
                read=read_target_line,
                told="event",
                is_=str(event),
                value="target",
                of_pilot=False,
                moves=event is TargetEvent.MOVED,
            )
            for event in TargetEvent
        },
    }
)
"""By name; `title_of` says what people call it."""


GRID, DEGREES = ("easting", "northing"), ("lat", "lon")
"""The columns that say a place, in either way."""
MOST_DEGREES = 180.0


def place_cells(text: str) -> dict[str, str]:
    """Return the cells of two coordinates; raise ScorerError where there are not two.

    Both within 180 are degrees, latitude first; else grid, easting first.
    """
    try:
        cells = pair(text)
    except Unreadable:
        raise ScorerError(Voice().word("note-place-two")) from None
    numbers = [float(c) for c in cells if re.fullmatch(r"-?[0-9]+(\.[0-9]*)?", c)]
    grid = len(numbers) == 2 and max(map(abs, numbers)) > MOST_DEGREES
    return dict(zip(GRID if grid else DEGREES, cells, strict=True))


def place_text(fields: Fields) -> str:
    """Return two coordinates as they are typed; empty where there are none."""
    own = (
        tuple(fields.get(name, "").strip() for name in way) for way in (GRID, DEGREES)
    )
    return next((", ".join(cells) for cells in own if all(cells)), "")


def title_of(kind: str) -> str:
    """Return what people call a kind; one that nobody knows stands as it was written."""
    name = f"note-{kind.replace(' ', '-')}"
    return Voice().word(name) if kind in KINDS else kind


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteRow:
    """One report or declaration, as entered."""

    kind: str
    flight: str
    fields: Fields
    task: int
    pilot: int
    """0 = it is about no pilot."""
    name: str
    value: str
    ids: tuple[EntryId, ...]
    by: str

    @property
    def title(self) -> str:
        """What people call it."""
        return title_of(self.kind)


def note_rows(snapshot: Snapshot) -> list[NoteRow]:
    """List reports and declarations, the last first."""
    rows = []
    for current, act in snapshot.state.all_of(RowAct):
        kind = _kind_of(act)
        if kind is None:
            continue
        pilot = _number(act.fields.get("pilot", ""))
        rows.append(
            NoteRow(
                kind=kind,
                flight=act.flight,
                fields=act.fields,
                task=_number(act.fields.get("task", "")),
                pilot=pilot,
                name=snapshot.pilot_name(pilot) if pilot else "",
                value=_value(act, kind, snapshot.event.units),
                ids=current.ids,
                by=act.fields.get("by", "") or current.entry.who,
            )
        )
    return rows[::-1]


def _kind_of(act: RowAct) -> str | None:
    """Return what the form calls a row; None = another page shows it."""
    if isinstance(act, ReportMade):
        return act.fields.get("kind", "")
    if isinstance(act, TargetLogged):
        return f"target {act.fields.get('event', '')}"
    return DECLARED if isinstance(act, DeclarationMade) else None


def _value(act: RowAct, kind: str, units: Units) -> str:
    column = KINDS[kind].value if kind in KINDS else "value"
    value, unit = (act.fields.get(name, "").strip() for name in (column, "unit"))
    if column == "value" and not unit:
        return with_unit(value, units.bare)
    return f"{value} {unit}".strip() if value else ""


def faults_of(
    snapshot: Snapshot, flight: Flight, fields: Fields, what: str
) -> dict[str, str]:
    """Return what is wrong with a row, by column, as scoring would."""
    faults = Faults()
    KINDS[what].read(RawRow(fields=fields), known_in(snapshot, flight), faults)
    found = {fault.field or "": _told(fault) for fault in faults.found}
    if what == DECLARED and "goal" not in fields:
        found["goal"] = Voice().word("note-goal-needed")
    return found


def _told(fault: Fault) -> str:
    allowed = words(fault.allowed)
    told = fact("note-needed", allowed=allowed)
    if fault.found:
        told = fact("note-allowed", found=words(fault.found), allowed=allowed)
    said = Voice().say(told)
    return ended_once(f"{said}. {fault.remedy}") if fault.remedy else said


def _number(text: str) -> int:
    plain = text.strip()
    return int(plain) if plain.isascii() and plain.isdigit() else 0


def _pilot(row: NoteRow) -> str:
    return str(row.pilot or "")


def _two(first: str, second: str) -> str:
    return f"{first}\n{second}" if second else first


def _task(row: NoteRow) -> str:
    return _two(str(row.task), row.fields.get("time", ""))


def _what(row: NoteRow) -> str:
    told = row.value, row.fields.get("height", ""), place_text(row.fields)
    return _two(row.title, ", ".join(filter(None, told)))


def _by(row: NoteRow) -> str:
    return _two(row.by, row.fields.get("note", ""))


COLUMNS = (
    TableColumn("Task, time", lambda r: r.task, text=_task, align=RIGHT, firm=True),
    TableColumn("No.", lambda r: r.pilot or None, text=_pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.name, width=24, rest=True),
    TableColumn("What", lambda r: r.title, text=_what, width=34),
    TableColumn("By", lambda r: r.by, text=_by, width=34),
)
