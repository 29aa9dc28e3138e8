"""What officials saw, what pilots declared, what happened to targets: as rows."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from gui.livecheck import known_in
from gui.models.table import RIGHT, Column
from gui.snapshot import Snapshot
from scorer.event.model import ReportKind, TargetEvent
from scorer.event.raw import Row
from scorer.event.reading import Faults
from scorer.event.rows import read_declaration, read_report, read_target_line
from scorer.ledger.acts import (
    DeclarationMade,
    EntryId,
    Fields,
    ReportMade,
    RowAct,
    TargetLogged,
)

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
    hint: str
    of_pilot: bool = True


KINDS: Mapping[str, NoteKind] = MappingProxyType(
    {
        **{
            str(kind): NoteKind(
                act=ReportMade,
                read=read_report,
                told="kind",
                is_=str(kind),
                value="value",
                hint="height or value",
            )
            for kind in ReportKind
        },
        DECLARED: NoteKind(
            act=DeclarationMade,
            read=read_declaration,
            told="",
            is_="",
            value="goal",
            hint="goal: a place, or coordinates",
        ),
        **{
            f"target {event}": NoteKind(
                act=TargetLogged,
                read=read_target_line,
                told="event",
                is_=str(event),
                value="target",
                hint="which target; empty: the task's first",
                of_pilot=False,
            )
            for event in TargetEvent
        },
    }
)
"""By what the form calls it."""


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
                value=_value(act, kind),
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


def _value(act: RowAct, kind: str) -> str:
    column = KINDS[kind].value if kind in KINDS else "value"
    value = act.fields.get(column, "").strip()
    return f"{value} {act.fields.get('unit', '')}".strip() if value else ""


def faults_of(snapshot: Snapshot, flight: str, fields: Fields, what: str) -> list[str]:
    """List what is wrong with a row, as scoring would."""
    own = snapshot.flight(flight)
    if own is None:
        return ["choose a task first"]
    faults = Faults()
    known = known_in(snapshot, own)
    KINDS[what].read(Row(fields=fields), known, faults)
    return [
        f"{f.field}: allowed is {f.allowed}" + (f". {f.remedy}" if f.remedy else "")
        for f in faults.found
    ]


def _number(text: str) -> int:
    plain = text.strip()
    return int(plain) if plain.isascii() and plain.isdigit() else 0


COLUMNS = (
    Column("Task", lambda r: r.task, align=RIGHT),
    Column("No.", lambda r: r.pilot or "", align=RIGHT),
    Column("Pilot", lambda r: r.name, width=26),
    Column("What", lambda r: r.kind),
    Column("Time", lambda r: r.fields.get("time", "")),
    Column("Value or place", lambda r: r.value, width=30),
    Column("Height", lambda r: r.fields.get("height", "")),
    Column("By", lambda r: r.by),
    Column("Note", lambda r: r.fields.get("note", "")),
)
