"""The pilots of the event."""

from collections.abc import Mapping
from dataclasses import dataclass

from gui.models.table import RIGHT, Column
from gui.snapshot import Snapshot
from scorer.ledger.acts import EntryId, PilotSet


@dataclass(frozen=True, slots=True, kw_only=True)
class PilotRow:
    """One line of the roster, as entered."""

    number: int
    """For sorting; 0 where it is none."""
    fields: Mapping[str, str]
    ids: tuple[EntryId, ...]
    by: str


def pilot_rows(snapshot: Snapshot) -> list[PilotRow]:
    """List the roster as it stands."""
    rows = []
    for current, act in snapshot.state.all_of(PilotSet):
        text = act.fields.get("number", "").strip()
        rows.append(
            PilotRow(
                number=int(text) if text.isascii() and text.isdigit() else 0,
                fields=act.fields,
                ids=current.ids,
                by=current.entry.who,
            )
        )
    return sorted(rows, key=lambda row: row.number)


def _text(name: str) -> Column:
    return Column(name.capitalize(), lambda row: row.fields.get(name, ""), width=34)


COLUMNS = (
    Column("No.", lambda row: row.number, align=RIGHT),
    _text("name"),
    _text("registration"),
    _text("class"),
    _text("country"),
    _text("logger"),
    Column("Entered by", lambda row: row.by),
)


def extra_columns(rows: list[PilotRow]) -> tuple[Column, ...]:
    """Return columns for what the roster holds beyond ours."""
    own = {"number", "name", "registration", "class", "country", "logger"}
    names = dict.fromkeys(n for row in rows for n in row.fields if n not in own)
    return tuple(_text(name) for name in names)
