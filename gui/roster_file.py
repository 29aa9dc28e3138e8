"""Rosters as people have them: a table with columns of any name, matched to ours."""

from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from scorer.errors import Fault, InputError
from scorer.event.columns import PILOTS
from scorer.event.model import Pilot
from scorer.event.raw import RawRow
from scorer.event.reading import Faults
from scorer.event.rows import read_pilot
from scorer.event.tables import GOES_ON, decode, read_bytes, read_csv, read_xlsx
from scorer.facts import Fact, fact, words
from scorer.ledger.acts import EntryId, PilotSet
from scorer.ledger.api import Current, Draft, State
from scorer.ledger.numbers import other_person
from scorer.scoring.check_in import of_import

LEAVE_OUT = ""
GIVEN = ("first name", "given name", "given", "forename", "vorname")
"""What a column of first names is called where a name stands in two."""
FAMILY = ("family name", "last name", "surname", "family", "nachname", "familienname")
KNOWN_AS: Mapping[str, tuple[str, ...]] = {
    "number": (
        *("number", "no", "nr", "num", "#", "competition number", "comp no"),
        *("start number", "start no", "startnummer", "nummer"),
    ),
    "name": ("name", "pilot", "pilot name", "full name", *GIVEN, *FAMILY),
    "registration": (
        *("registration", "reg", "balloon", "aircraft", "tail number"),
        *("kennzeichen", "ballon"),
    ),
    "class": ("class", "category", "division", "klasse"),
    "country": ("country", "nation", "nat", "nationality", "land", "nationalität"),
    "logger": ("logger", "logger serial", "serial", "logger no", "device"),
}
"""What the columns of a roster are called, in small letters without dots."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterFile:
    """A roster as it stands in a file."""

    name: str
    headers: tuple[str, ...]
    rows: tuple[RawRow, ...]
    data: bytes = b""
    encoding: str = ""
    """In which letters it was read; empty for a workbook, which says it itself."""


ENCODINGS: Mapping[str, str] = {
    "utf-8-sig": "UTF-8",
    "utf-16": "UTF-16",
    "cp1252": "Western European",
    "cp1250": "Central European",
    "cp1251": "Cyrillic",
    "cp1253": "Greek",
    "cp1254": "Turkish",
    "cp1257": "Baltic",
    "mac-roman": "Macintosh, Western",
}
"""In which letters spreadsheets write tables, and what people call them."""


def guessed(data: bytes) -> str:
    """Guess the letters a table is written in.

    What marks itself, then UTF-8, then the usual one of western spreadsheets.  People see
    it and can choose another.
    """
    if data[:2] in {BOM_UTF16_LE, BOM_UTF16_BE}:
        return "utf-16"
    for name in ("utf-8-sig", "cp1252", "cp1250"):
        try:
            data.decode(name)
        except UnicodeDecodeError:
            continue
        return name
    return "cp1251"


def read_roster(path: Path) -> RosterFile:
    """Read a CSV or XLSX roster; raise InputError with all that is wrong with it."""
    faults = Faults()
    data = read_bytes(path, path.name, faults)
    if data is None:
        raise InputError(faults.found)
    book = path.suffix.casefold() == ".xlsx"
    return roster_of(path.name, data, "" if book else guessed(data))


def roster_of(name: str, data: bytes, encoding: str) -> RosterFile:
    """Read a roster from its bytes, in given letters; none = it is a workbook."""
    faults = Faults()
    rows: tuple[RawRow, ...] = ()
    if not encoding:
        rows = read_xlsx(data, name, (), faults, titled=True)
    else:
        plain = data.decode(encoding, errors="replace").encode()
        text = decode(plain, name, faults)
        rows = read_csv(text, name, (), faults, titled=True) if text is not None else ()
    if not rows and not faults.found:
        faults.found.append(
            Fault(
                where=name,
                found="no line beneath the header",
                allowed="a header and a line for each pilot",
            )
        )
    if faults.found:
        raise InputError(faults.found)
    headers = tuple(dict.fromkeys(column for row in rows for column in row.fields))
    return RosterFile(
        name=name, headers=headers, rows=rows, data=data, encoding=encoding
    )


def proposed(headers: Sequence[str], rows: Sequence[RawRow] = ()) -> dict[str, str]:
    """Match headers to our columns; what is not known keeps its own name.

    Where no header is one for numbers, the first column of whole numbers has them; a name
    may stand in two columns.
    """
    matching: dict[str, str] = {}
    parted = any(map(_is_part, headers))
    for header in headers:
        fits = [ours for ours, names in KNOWN_AS.items() if _plain(header) in names]
        taken = set(matching.values()) - ({"name"} if parted else set())
        free = [ours for ours in fits if ours not in taken]
        matching[header] = free[0] if free else header.strip()
    if rows and "number" not in matching.values():
        left = (h for h in headers if matching[h] not in KNOWN_AS)
        counts = next((h for h in left if _numbers_all(h, rows)), None)
        matching |= {counts: "number"} if counts is not None else {}
    return matching


def _plain(header: str) -> str:
    plain = header.casefold().replace(".", " ").replace("_", " ").removesuffix(GOES_ON)
    return " ".join(plain.split())


def _is_part(header: str) -> bool:
    """Tell whether a column holds a part of each name only."""
    parts = _plain(header) in {*GIVEN, *FAMILY}
    return parts or (header.endswith(GOES_ON) and _plain(header) in KNOWN_AS["name"])


def _numbers_all(header: str, rows: Sequence[RawRow]) -> bool:
    """Tell whether a column holds another whole number in each line."""
    found = [row.fields.get(header, "").strip() for row in rows]
    return len(set(found)) == len(found) and all(
        text.isascii() and text.isdigit() for text in found
    )


def matched(file: RosterFile, matching: Mapping[str, str]) -> tuple[RawRow, ...]:
    """Return the rows under our columns; columns matched to nothing are left out.

    What several columns say of one thing is joined, first names before the rest.
    """
    order = sorted(file.headers, key=lambda header: _plain(header) not in GIVEN)
    names = {h: matching[h] for h in order if matching.get(h, LEAVE_OUT)}
    return tuple(
        RawRow(fields=_joined(row.fields, names), origin=row.origin)
        for row in file.rows
    )


def _joined(fields: Mapping[str, str], names: Mapping[str, str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for header, name in names.items():
        if text := fields.get(header, "").strip():
            found[name] = f"{found[name]} {text}" if name in found else text
    return found


def faults_of(rows: Sequence[RawRow]) -> list[Fault]:
    """List what is wrong with matched rows, as building the event would."""
    faults = Faults()
    seen: dict[int, RawRow] = {}
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


def doubts_of(rows: Sequence[RawRow], pilots: Sequence[Pilot]) -> list[Fact]:
    """State what an import would leave to ask about, those entered already included."""
    faults = Faults()
    read = [pilot for row in rows if (pilot := read_pilot(row, faults)) is not None]
    asked = [m.placed for m in of_import(read, pilots)]
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


class Happens(StrEnum):
    """What an import does about one line of a file."""

    NEW = "new"
    CHANGED = "changed"
    SAME = "as entered"
    OTHER = "somebody else"
    """The number's line names another person than before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineOutcome:
    """What becomes of one line of a file."""

    happens: Happens
    fields: Mapping[str, str]
    """As they will stand: what the file does not say stays as it was entered."""
    before: Mapping[str, str]
    row: RawRow
    replaces: tuple[EntryId, ...] = ()

    @property
    def changes(self) -> tuple[str, ...]:
        """What changes, column by column: `Bo → Bo Ek`."""
        if self.happens in {Happens.NEW, Happens.SAME}:
            return ()
        names = dict.fromkeys((*self.before, *self.fields))
        pairs = ((self.before.get(n, ""), self.fields.get(n, "")) for n in names)
        return tuple(f"{old or '–'} → {new or '–'}" for old, new in pairs if old != new)


def outcomes_of(rows: Sequence[RawRow], state: State) -> list[LineOutcome]:
    """Say line by line what an import would do.

    Columns that a file does not have, and cells that are empty in it, stay as they were
    entered; where a number is somebody else's now, nothing of the one before stays.
    """
    present = {
        _number(act.fields): (current, act) for current, act in state.all_of(PilotSet)
    }
    return [_outcome(row, present.get(_number(row.fields))) for row in rows]


def _outcome(row: RawRow, known: tuple[Current, PilotSet] | None) -> LineOutcome:
    if known is None:
        fields = ordered(row.fields)
        return LineOutcome(happens=Happens.NEW, fields=fields, before={}, row=row)
    current, act = known
    before = dict(act.fields)
    other = other_person(before.get("name", ""), row.fields.get("name", ""))
    fields = ordered(row.fields if other else {**before, **row.fields})
    changed = Happens.OTHER if other else Happens.CHANGED
    return LineOutcome(
        happens=Happens.SAME if fields == ordered(before) else changed,
        fields=fields,
        before=before,
        row=row,
        replaces=current.ids,
    )


def drafts_of(rows: Sequence[RawRow], source: str, state: State) -> list[Draft]:
    """Draft the entries that take rows in; who is entered alike already is left out."""
    drafts = []
    for one in outcomes_of(rows, state):
        if one.happens is Happens.SAME:
            continue
        line = one.row.origin.line
        where = f"{source}, line {line}" if line else source
        anew = " anew" if one.replaces else ""
        drafts.append(
            Draft(
                act=PilotSet(fields=one.fields, source=where),
                why=f"list of pilots imported{anew}",
                replaces=one.replaces,
            )
        )
    return drafts


def _number(fields: Mapping[str, str]) -> str:
    text = fields.get("number", "").strip()
    return str(int(text)) if text.isascii() and text.isdigit() else text
