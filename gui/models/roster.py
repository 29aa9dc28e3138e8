"""The pilots of the event."""

from collections.abc import Mapping
from dataclasses import dataclass

from gui.models.table import RIGHT, TableColumn
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.ledger.acts import EntryId, PilotSet


@dataclass(frozen=True, slots=True, kw_only=True)
class PilotRow:
    """One line of the roster, as entered."""

    number: int
    """For sorting; 0 where it is none."""
    fields: Mapping[str, str]
    ids: tuple[EntryId, ...]
    by: str

    @property
    def key(self) -> object:
        """What the row is known by, changed or not."""
        return self.number or self.ids


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


def _text(name: str) -> TableColumn:
    return TableColumn(
        name.capitalize(), lambda row: row.fields.get(name, ""), width=34
    )


def _about(row: PilotRow) -> str:
    """Say who it is on two lines: the name, and what flies."""
    own = (row.fields.get(name, "") for name in ("registration", "class", "country"))
    second = "  ·  ".join(filter(None, own))
    return f"{row.fields.get('name', '')}\n{second}"


def _check_in(row: PilotRow) -> str:
    """Say how check-in stands: whether the pilot competes, papers and waiver."""
    competes = row.fields.get("competes", "").casefold() != "no"
    papers, waiver = (row.fields.get(n, "").casefold() for n in ("papers", "waiver"))
    told = {
        "yes": "papers seen",
        "no": "papers not seen",
        "": "",
    }.get(papers, f"papers until {papers}")
    signed = {"yes": "waiver signed", "no": "waiver not signed"}.get(waiver, "")
    second = ", ".join(filter(None, (told, signed)))
    first = "competes" if competes else "guest, out of competition"
    return f"{first}\n{second}"


def turned(row: PilotRow, column: str) -> dict[str, str]:
    """Return a pilot's cells with an answer of the check-in turned to the other one.

    Who says nothing competes, and has neither shown papers nor signed: papers that hold
    until a day were seen.
    """
    said = row.fields.get(column, "").strip().casefold()
    yes = said != "no" if column == "competes" else said not in {"", "no"}
    return {**row.fields, column: "no" if yes else "yes"}


def _check_in_tone(row: PilotRow) -> Tone:
    lacks = "no" in (row.fields.get(n, "").casefold() for n in ("papers", "waiver"))
    return Tone.WARN if lacks else Tone.PLAIN


COLUMNS = (
    TableColumn("No.", lambda row: row.number, align=RIGHT),
    TableColumn(
        "Pilot",
        lambda row: row.fields.get("name", ""),
        text=_about,
        width=44,
        rest=True,
    ),
    TableColumn("Check-in", _check_in, tone=_check_in_tone, width=34),
    _text("logger"),
    TableColumn("Entered by", lambda row: row.by),
)


def extra_columns(rows: list[PilotRow]) -> tuple[TableColumn, ...]:
    """Return columns for what the roster holds beyond ours."""
    own = {"number", "name", "registration", "class", "country", "logger"}
    own |= {"competes", "papers", "waiver"}
    names = dict.fromkeys(n for row in rows for n in row.fields if n not in own)
    return tuple(_text(name) for name in names)
