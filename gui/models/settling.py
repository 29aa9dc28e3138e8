"""Marks whose keyings differ, with both beside each other."""

from dataclasses import dataclass
from functools import partial

from gui.models.table import RIGHT, Column
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.ledger.acts import Fields, RowAct
from scorer.ledger.keyings import COMPARED, SlotState, compare, keyed_by
from scorer.units import Unreadable, length_m, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One keying, as it stands beside another."""

    by: str
    at: str
    label: str
    fields: Fields


@dataclass(frozen=True, slots=True, kw_only=True)
class SettleRow:
    """One mark to settle."""

    slot: SlotState
    pilot: int
    name: str
    sides: tuple[Side, ...]
    columns: tuple[str, ...]
    """Columns that differ."""
    gap: str
    """How far apart, in words."""
    gap_m: float | None
    hint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One column of the keyings, side by side."""

    column: str
    texts: tuple[str, ...]
    differs: bool


def settle_rows(snapshot: Snapshot) -> list[SettleRow]:
    """List all marks that somebody must settle, the widest apart first."""
    rows = [_row(snapshot, slot) for slot in snapshot.slots if slot.open]
    return sorted(rows, key=lambda row: -(row.gap_m or 0.0))


def lines_of(row: SettleRow) -> list[Line]:
    """Put the keyings of a mark side by side, column by column."""
    shown = [
        column
        for column in (*COMPARED, "unit", "note", "mark")
        if any(side.fields.get(column) for side in row.sides)
    ]
    lines = [
        Line(
            column=column,
            texts=tuple(side.fields.get(column, "") for side in row.sides),
            differs=column in row.columns,
        )
        for column in shown
    ]
    return [
        *lines,
        Line(column="keyed by", texts=tuple(s.by for s in row.sides), differs=False),
        Line(column="keyed at", texts=tuple(s.at for s in row.sides), differs=False),
        Line(column="entry", texts=tuple(s.label for s in row.sides), differs=False),
    ]


def _row(snapshot: Snapshot, slot: SlotState) -> SettleRow:
    sides = tuple(
        Side(
            by=keyed_by(current),
            at=f"{current.entry.when.astimezone():%H:%M:%S}",
            label=current.entry.label,
            fields=current.act.fields,
        )
        for current in slot.keyings
        if isinstance(current.act, RowAct)
    )
    tolerance_m = snapshot.event.book.keying.tolerance_m
    found = [
        compare(
            sides[0].fields, side.fields, bare=snapshot.bare, tolerance_m=tolerance_m
        )
        for side in sides[1:]
    ]
    columns = dict.fromkeys(name for c in found for name in c.columns)
    gap_m = max((c.gap_m for c in found if c.gap_m is not None), default=None)
    text = slot.slot.pilot
    number = int(text) if text.isdigit() else 0
    return SettleRow(
        slot=slot,
        pilot=number,
        name=snapshot.pilot_name(number),
        sides=sides,
        columns=tuple(columns),
        gap="" if gap_m is None else show_length(gap_m, snapshot.event.units),
        gap_m=gap_m,
        hint=next((c.hint for c in found if c.hint), ""),
    )


def read_length(snapshot: Snapshot, text: str) -> str:
    """Say how a distance is read; empty where it cannot be."""
    try:
        return show_length(length_m(text, snapshot.bare), snapshot.event.units)
    except Unreadable:
        return ""


COLUMNS = (
    Column("Task", lambda r: r.slot.slot.task, align=RIGHT),
    Column("No.", lambda r: r.pilot, align=RIGHT),
    Column("Pilot", lambda r: r.name, width=26),
    Column("Mark", lambda r: r.slot.slot.mark),
    Column("Apart", lambda r: r.gap_m, text=lambda r: r.gap, align=RIGHT),
    Column("Differs in", lambda r: ", ".join(r.columns)),
    Column("Looks like", lambda r: r.hint, tone=lambda _: Tone.WARN),
)


def side_columns(row: SettleRow) -> tuple[Column, ...]:
    """Return the columns of the view side by side."""
    first = Column("", lambda line: line.column)
    sides = [
        Column(f"[{i + 1}] {side.by}", partial(_side, i), tone=_side_tone, width=40)
        for i, side in enumerate(row.sides)
    ]
    return (first, *sides)


def _side(i: int, line: Line) -> str:
    return line.texts[i]


def _side_tone(line: Line) -> Tone:
    return Tone.BAD if line.differs else Tone.PLAIN
