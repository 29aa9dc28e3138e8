"""Marks whose keyings differ, with both beside each other."""

from dataclasses import dataclass
from functools import partial

from gui.models.table import RIGHT, Column
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.event.moments import EventTime
from scorer.facts import Fact, parts
from scorer.ledger.acts import Fields, RowAct
from scorer.ledger.api import Current
from scorer.ledger.keyings import SlotState, keyed_by
from scorer.ledger.slips import COMPARED, columns_that_differ, hint
from scorer.units import Unreadable, length_m, show_length
from scorer.words.voice import Voice


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
    says: str
    """What is open about it, as a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One column of the keyings, side by side."""

    column: str
    texts: tuple[str, ...]
    differs: bool


def settle_rows(snapshot: Snapshot) -> list[SettleRow]:
    """List all marks that somebody must settle, the widest apart first."""
    rows = [_row(snapshot, slot) for slot in snapshot.slots if slot.disputed]
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
        Line(column="entered by", texts=tuple(s.by for s in row.sides), differs=False),
        Line(column="entered at", texts=tuple(s.at for s in row.sides), differs=False),
        Line(column="entry", texts=tuple(s.label for s in row.sides), differs=False),
    ]


def _row(snapshot: Snapshot, slot: SlotState) -> SettleRow:
    sides = tuple(
        Side(
            by=keyed_by(current),
            at=EventTime.of(current.entry.when, snapshot.state.zone).clock(),
            label=current.entry.label,
            fields=current.act.fields,
        )
        for current in _shown(slot)
        if isinstance(current.act, RowAct)
    )
    fields = [side.fields for side in sides]
    hints = (hint(fields[0], other, snapshot.bare) for other in fields[1:])
    gap_m = next((gap for p in slot.problems if (gap := _gap_of(p)) is not None), None)
    text = slot.slot.pilot
    number = int(text) if text.isdigit() else 0
    voice = Voice.of(snapshot.event)
    return SettleRow(
        slot=slot,
        pilot=number,
        name=snapshot.pilot_name(number),
        sides=sides,
        columns=columns_that_differ(fields),
        gap="" if gap_m is None else voice.exact(gap_m),
        gap_m=gap_m,
        hint=next((voice.say(slip) for slip in hints if slip), ""),
        says="; ".join(voice.say(problem) for problem in slot.problems),
    )


def _shown(slot: SlotState) -> tuple[Current, ...]:
    """Return what to choose from: what clashing desks settled, too."""
    return (*slot.keyings, *(slot.settling if len(slot.settling) > 1 else ()))


def _gap_of(problem: Fact) -> float | None:
    gaps = (part.get("gap") for part in parts(problem))
    return next((float(gap) for gap in gaps if isinstance(gap, int | float)), None)


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
    Column("What is open", lambda r: r.says, width=60),
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
