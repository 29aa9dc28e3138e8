"""What officials saw and what pilots declared, as rows."""

from dataclasses import dataclass

from gui.livecheck import known_in
from gui.models.table import RIGHT, Column
from gui.snapshot import Snapshot
from scorer.event.raw import Row
from scorer.event.reading import Faults
from scorer.event.rows import read_declaration, read_report
from scorer.ledger.acts import DeclarationMade, EntryId, Fields, ReportMade, RowAct

DECLARED = "declared goal"
"""Stands among the kinds of reports for a pilot's declaration."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteRow:
    """One report or declaration, as entered."""

    kind: str
    flight: str
    fields: Fields
    task: int
    pilot: int
    name: str
    ids: tuple[EntryId, ...]
    by: str


def note_rows(snapshot: Snapshot) -> list[NoteRow]:
    """List reports and declarations, the last first."""
    rows = []
    for current, act in snapshot.state.all_of(RowAct):
        if not isinstance(act, ReportMade | DeclarationMade):
            continue
        declared = isinstance(act, DeclarationMade)
        pilot = _number(act.fields.get("pilot", ""))
        rows.append(
            NoteRow(
                kind=DECLARED if declared else act.fields.get("kind", ""),
                flight=act.flight,
                fields=act.fields,
                task=_number(act.fields.get("task", "")),
                pilot=pilot,
                name=snapshot.pilot_name(pilot),
                ids=current.ids,
                by=act.fields.get("by", "") or current.entry.who,
            )
        )
    return rows[::-1]


def faults_of(
    snapshot: Snapshot, flight: str, fields: Fields, *, declared: bool
) -> list[str]:
    """List what is wrong with a row, as scoring would."""
    own = snapshot.flight(flight)
    if own is None:
        return ["choose a task first"]
    faults = Faults()
    known = known_in(snapshot, own)
    read = read_declaration if declared else read_report
    read(Row(fields=fields), known, faults)
    return [
        f"{f.field}: allowed is {f.allowed}" + (f". {f.remedy}" if f.remedy else "")
        for f in faults.found
    ]


def _number(text: str) -> int:
    plain = text.strip()
    return int(plain) if plain.isascii() and plain.isdigit() else 0


COLUMNS = (
    Column("Task", lambda r: r.task, align=RIGHT),
    Column("No.", lambda r: r.pilot, align=RIGHT),
    Column("Pilot", lambda r: r.name, width=26),
    Column("What", lambda r: r.kind),
    Column("Time", lambda r: r.fields.get("time", "")),
    Column(
        "Value or goal",
        lambda r: (
            r.fields.get("goal", "")
            or f"{r.fields.get('value', '')} {r.fields.get('unit', '')}".strip()
        ),
        width=30,
    ),
    Column("Height", lambda r: r.fields.get("height", "")),
    Column("By", lambda r: r.by),
    Column("Note", lambda r: r.fields.get("note", "")),
)
