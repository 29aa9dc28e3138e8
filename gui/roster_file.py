"""Rosters as people have them: a table with columns of any name, matched to ours."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scorer.errors import Fault, InputError
from scorer.event.columns import PILOTS
from scorer.event.model import Pilot
from scorer.event.raw import Row
from scorer.event.reading import Faults
from scorer.event.rows import read_pilot
from scorer.event.tables import decode, read_bytes, read_csv, read_xlsx
from scorer.facts import Fact, fact, words
from scorer.ledger.acts import PilotSet
from scorer.ledger.api import Draft, State
from scorer.ledger.numbers import other_person
from scorer.scoring.check_in import of_roster

LEAVE_OUT = ""
KNOWN_AS: Mapping[str, tuple[str, ...]] = {
    "number": ("number", "no", "nr", "num", "#", "competition number", "start number"),
    "name": ("name", "pilot", "pilot name", "full name"),
    "registration": ("registration", "reg", "balloon", "aircraft", "tail number"),
    "class": ("class", "category", "division"),
    "country": ("country", "nation", "nat", "nationality"),
    "logger": ("logger", "logger serial", "serial", "logger no", "device"),
}
"""What the columns of a roster are called, in small letters without dots."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterFile:
    """A roster as it stands in a file."""

    name: str
    headers: tuple[str, ...]
    rows: tuple[Row, ...]


def read_roster(path: Path) -> RosterFile:
    """Read a CSV or XLSX roster; raise InputError with all that is wrong with it."""
    faults = Faults()
    data = read_bytes(path, path.name, faults)
    rows: tuple[Row, ...] = ()
    if data is not None and path.suffix.casefold() == ".xlsx":
        rows = read_xlsx(data, path.name, (), faults)
    elif data is not None:
        text = decode(data, path.name, faults)
        rows = read_csv(text, path.name, (), faults) if text is not None else ()
    if not rows and not faults.found:
        faults.found.append(
            Fault(
                where=path.name,
                found="no line beneath the header",
                allowed="a header and a line for each pilot",
            )
        )
    if faults.found:
        raise InputError(faults.found)
    headers = tuple(dict.fromkeys(name for row in rows for name in row.fields))
    return RosterFile(name=path.name, headers=headers, rows=rows)


def proposed(headers: Sequence[str]) -> dict[str, str]:
    """Match headers to our columns; what is not known keeps its own name."""
    matching: dict[str, str] = {}
    for header in headers:
        plain = " ".join(header.casefold().replace(".", " ").replace("_", " ").split())
        fits = [ours for ours, names in KNOWN_AS.items() if plain in names]
        free = [ours for ours in fits if ours not in matching.values()]
        matching[header] = free[0] if free else header.strip()
    return matching


def matched(file: RosterFile, matching: Mapping[str, str]) -> tuple[Row, ...]:
    """Return the rows under our columns; columns matched to nothing are left out."""
    return tuple(
        Row(
            fields={
                matching[header]: text.strip()
                for header, text in row.fields.items()
                if matching.get(header, LEAVE_OUT) and text.strip()
            },
            origin=row.origin,
        )
        for row in file.rows
    )


def faults_of(rows: Sequence[Row]) -> list[Fault]:
    """List what is wrong with matched rows, as building the event would."""
    faults = Faults()
    seen: dict[int, Row] = {}
    for row in rows:
        pilot = read_pilot(row, faults)
        if pilot is not None and pilot.number in seen:
            first = seen[pilot.number].origin.line
            faults.add(
                row.origin,
                field="number",
                found=str(pilot.number),
                allowed=f"each number once; it also stands in line {first}",
            )
        elif pilot is not None:
            seen[pilot.number] = row
    return faults.found


def doubts_of(rows: Sequence[Row], pilots: Sequence[Pilot]) -> list[Fact]:
    """State what an import would leave to ask about, those entered already included."""
    faults = Faults()
    read = [pilot for row in rows if (pilot := read_pilot(row, faults)) is not None]
    come = {pilot.number for pilot in read}
    every = [*(p for p in pilots if p.number not in come), *read]
    known = {matter.key for matter in of_roster(pilots)}
    asked = [m.placed for m in of_roster(every) if m.key not in known]
    before = {p.number: p.name for p in pilots}
    for pilot in read:
        if pilot.number in before and other_person(before[pilot.number], pilot.name):
            asked.append(
                fact(
                    "folder-other-person",
                    number=words(str(pilot.number)),
                    before=words(before[pilot.number]),
                    now=words(pilot.name),
                )
            )
    return asked


def ordered(fields: Mapping[str, str]) -> dict[str, str]:
    """Put our own columns first."""
    own = {name: fields[name] for name in PILOTS.names if fields.get(name)}
    return own | {name: text for name, text in fields.items() if name not in own}


def drafts_of(rows: Sequence[Row], source: str, state: State) -> list[Draft]:
    """Draft the entries that take rows in; who is entered alike already is left out."""
    present = {
        _number(act.fields): (current, act) for current, act in state.all_of(PilotSet)
    }
    drafts = []
    for row in rows:
        fields = ordered(row.fields)
        line = f", line {row.origin.line}" if row.origin.line else ""
        act = PilotSet(fields=fields, source=f"{source}{line}")
        known = present.get(_number(fields))
        if known is None:
            drafts.append(Draft(act=act, why="list of pilots imported"))
        elif dict(known[1].fields) != fields:
            drafts.append(
                Draft(
                    act=act, why="list of pilots imported anew", replaces=known[0].ids
                )
            )
    return drafts


def _number(fields: Mapping[str, str]) -> str:
    text = fields.get("number", "").strip()
    return str(int(text)) if text.isascii() and text.isdigit() else text
