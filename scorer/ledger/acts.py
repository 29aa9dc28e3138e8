"""What officials do, one frozen class per kind of entry.

An act holds fields as they were entered; nothing here is parsed or judged.  Adding a
field needs a default and `metadata=LATER`, so that entries of older files stay readable;
renaming one needs a new kind.  Types and bounds of fields are checked by
`scorer.ledger.gate`, which reads them here.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from enum import StrEnum
from typing import Annotated, Any, ClassVar, NewType

from scorer.event.model import Level, Outcome, SetAside
from scorer.ledger.bounds import NAME, PROSE, SHORT, SOURCE, Moment, Names, Tree, Whole
from scorer.ledger.canonical import canonical

EntryId = NewType("EntryId", str)
"""SHA-256 of an entry, lower-case hexadecimal."""
DeskId = NewType("DeskId", str)
"""A desk, unique in the event: readable name, hyphen, random tail."""
Sha256 = NewType("Sha256", str)
"""Content address of a stored file, lower-case hexadecimal."""


class Kind(StrEnum):
    """Kinds of entries, as stored; never renamed."""

    SCHEMA = "schema"
    SETTINGS = "event-settings"
    PILOT = "pilot"
    PLACE = "place"
    FLIGHT = "flight"
    MARK = "mark"
    SETTLE = "settle"
    DECLARATION = "declaration"
    REPORT = "report"
    RULING = "ruling"
    LOG_ADDED = "log-added"
    LOG_ASSIGNED = "log-assigned"
    TERRAIN = "terrain"
    WITHDRAW = "withdraw"
    UNDO = "undo"
    PUBLICATION = "publication"
    COMPLAINT = "complaint"
    OUTCOME = "complaint-outcome"
    NOTE = "note"
    ACCEPTANCE = "acceptance"
    REOPENED = "reopen"
    TARGET = "target"


class Stage(StrEnum):
    """How far published results have come."""

    PROVISIONAL = "provisional"
    OFFICIAL = "official"
    FINAL = "final"


Verdict = Outcome
"""What became of a complaint."""


LATER: Mapping[str, bool] = {"later": True}
"""Metadata of fields that came after the kind: written only where they say something, so
that older versions read all that does not use them, and equal acts keep equal hashes."""
Flight = Annotated[str, NAME]
FileName = Annotated[str, NAME]
Prose = Annotated[str, PROSE]
Short = Annotated[str, SHORT]
Source = Annotated[str, SOURCE]
Number = Annotated[int, Whole(0, 999_999_999)]
Bytes = Annotated[int, Whole()]
Fields = Mapping[str, str]
"""Column name to text as keyed; empty = not given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Base of all acts."""

    kind: ClassVar[Kind]

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside(Act):
    """Stands for the act of an entry that is set aside: nothing is applied of it."""

    record: SetAside

    @property
    def text(self) -> str:
        """What is wrong with it, in short."""
        return f"set aside: {self.record.field}: found {self.record.found}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Created(Act):
    """The event was created: the root from which every desk's chain descends."""

    kind = Kind.SCHEMA
    format: Number
    program: Short = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsSet(Act):
    """The event's settings and rules, whole, as parsed from event.toml."""

    kind = Kind.SETTINGS
    settings: Annotated[Mapping[str, Any], Tree(tables=("event", "rules"))]
    source: Source = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PilotSet(Act):
    """One line of the roster."""

    kind = Kind.PILOT
    fields: Fields
    source: Source = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceSet(Act):
    """One place, as a GeoJSON feature."""

    kind = Kind.PLACE
    feature: Annotated[Mapping[str, Any], Tree(tables=("properties", "geometry"))]
    source: Source = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightSet(Act):
    """One flight with its tasks, whole, as parsed from flight.toml."""

    kind = Kind.FLIGHT
    flight: Flight
    settings: Annotated[Mapping[str, Any], Tree(rows=("task",))]
    source: Source = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowAct(Act):
    """Base of acts that are one line of a flight's table."""

    flight: Flight
    fields: Fields
    source: Source = ""
    """File and line, where it was imported."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkKeyed(RowAct):
    """One measurement as one official keyed it."""

    kind = Kind.MARK


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSettled(RowAct):
    """The measurement that holds where keyings differ; `fields.settles` says why."""

    kind = Kind.SETTLE
    keyings: tuple[EntryId, ...] = ()
    """The keyings that were looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeclarationMade(RowAct):
    """A goal that a pilot declared."""

    kind = Kind.DECLARATION


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportMade(RowAct):
    """What an official saw."""

    kind = Kind.REPORT


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetLogged(RowAct):
    """What happened to a target, and when."""

    kind = Kind.TARGET


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingMade(RowAct):
    """What an official decided."""

    kind = Kind.RULING


@dataclass(frozen=True, slots=True, kw_only=True)
class LogAdded(Act):
    """A flight log, as received."""

    kind = Kind.LOG_ADDED
    flight: Flight
    name: FileName
    """As received, relative to the event folder."""
    sha256: Sha256
    size: Bytes
    """Bytes."""
    pilot: Number | None = None
    """Where the log came with its pilot; else see `LogAssigned`."""
    problem: Prose = ""
    """Why its content could not be taken, where it could not."""
    source: Source = ""

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return (self.sha256,)


@dataclass(frozen=True, slots=True, kw_only=True)
class LogAssigned(Act):
    """An official says whose log it is; `pilot` None takes an assignment back."""

    kind = Kind.LOG_ASSIGNED
    flight: Flight
    name: FileName
    sha256: Sha256
    pilot: Number | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TerrainSet(Act):
    """The elevation grid."""

    kind = Kind.TERRAIN
    name: FileName
    sha256: Sha256
    size: Bytes = 0
    source: Source = ""

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return (self.sha256,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawn(Act):
    """What an entry set down no longer holds, nor anything it replaced."""

    kind = Kind.WITHDRAW
    entry: EntryId


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone(Act):
    """An entry counts as not made: what it replaced or withdrew holds again."""

    kind = Kind.UNDO
    entry: EntryId


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A published file."""

    name: FileName
    sha256: Sha256


@dataclass(frozen=True, slots=True, kw_only=True)
class Published(Act):
    """Results that went up on the board."""

    kind = Kind.PUBLICATION
    stage: Stage
    version: Number
    """Counts from 1 over all publications of the event."""
    tasks: tuple[Number, ...] = ()
    """Task numbers; empty = the whole event."""
    results: Sha256
    """The results as JSON, byte for byte."""
    documents: tuple[Document, ...] = ()
    heads: tuple[EntryId, ...]
    """Last entries of all chains it was computed from: they and their ancestors."""
    complaints_until: Annotated[str, Moment()] = ""
    """End of the complaint period, ISO 8601 UTC; empty = none runs."""
    program: Short = ""
    flags: tuple[str, ...] = ()
    """What was still open when it went up, as sentences."""
    at: Annotated[str, Moment()] = field(default="", metadata=LATER)
    """When it went up, ISO 8601 UTC: what its sheets say; empty = when it was entered."""
    clock_confirmed_by: Short = field(default="", metadata=LATER)
    """Who confirmed the desk's clock, where it seemed wrong by five minutes or more."""

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return (self.results, *(document.sha256 for document in self.documents))


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintFiled(Act):
    """A pilot disputes a result."""

    kind = Kind.COMPLAINT
    pilot: Number
    text: Prose
    task: Number | None = None
    """None = the event as a whole."""
    publication: Annotated[EntryId, Names((Kind.PUBLICATION,))] = EntryId("")
    level: Level = field(default=Level.COMPLAINT, metadata=LATER)
    against: Annotated[EntryId, Names((Kind.COMPLAINT,))] = field(
        default=EntryId(""), metadata=LATER
    )
    """The complaint whose outcome a protest is about."""
    by: Short = field(default="", metadata=LATER)
    """Who took it, where it was imported; else the entry says."""
    at: Short = field(default="", metadata=LATER)
    """When it was filed, where it was imported, as entered; else the entry says."""
    extra: Mapping[str, str] = field(default_factory=dict, metadata=LATER)
    """Further cells of an imported row, its number and note among them."""
    source: Source = field(default="", metadata=LATER)
    """File and line, where it was imported."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintDecided(Act):
    """The answer to a complaint; the entry's `why` holds the reason."""

    kind = Kind.OUTCOME
    complaint: Annotated[EntryId, Names((Kind.COMPLAINT,))]
    verdict: Outcome
    by: Short = field(default="", metadata=LATER)
    """Who decided, where it was imported; else the entry says."""
    at: Short = field(default="", metadata=LATER)
    """When it was decided, where it was imported, as entered; else the entry says."""
    source: Source = field(default="", metadata=LATER)
    """File and line, where it was imported."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteMade(Act):
    """Something worth keeping that changes no result."""

    kind = Kind.NOTE
    text: Prose
    about: EntryId = EntryId("")
    extra: Mapping[str, Any] = field(default_factory=dict)
    by: Short = field(default="", metadata=LATER)
    """Who made it, where it was imported; else the entry says."""
    at: Short = field(default="", metadata=LATER)
    """When it was made, where it was imported, as entered; else the entry says."""
    source: Source = field(default="", metadata=LATER)
    """File and line, where it was imported."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MatterAccepted(Act):
    """An official accepts an open matter as it stands; a row of accepted.csv."""

    kind = Kind.ACCEPTANCE
    fields: Fields
    source: str = ""
    """File and line, where it was imported."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskReopened(Act):
    """An official task is opened again: the event's rules of today hold for it."""

    kind = Kind.REOPENED
    task: Number


ACTS: Mapping[Kind, type[Act]] = {
    act.kind: act
    for act in (
        Created,
        SettingsSet,
        PilotSet,
        PlaceSet,
        FlightSet,
        MarkKeyed,
        MarkSettled,
        DeclarationMade,
        ReportMade,
        RulingMade,
        LogAdded,
        LogAssigned,
        TerrainSet,
        Withdrawn,
        Undone,
        Published,
        ComplaintFiled,
        ComplaintDecided,
        NoteMade,
        MatterAccepted,
        TaskReopened,
        TargetLogged,
    )
}


def to_payload(act: Act, *, sort: bool = False) -> str:
    """Write an act as JSON, with keys as people ordered them (or sorted, to compare)."""
    written = (
        f.name
        for f in fields(act)
        if "later" not in f.metadata or getattr(act, f.name) not in (f.default, {})
    )
    return canonical({n: _out(n, getattr(act, n)) for n in written}, sort=sort)


def _out(name: str, value: object) -> object:
    if name == "documents" and isinstance(value, tuple):
        return [[document.name, document.sha256] for document in value]
    return value
