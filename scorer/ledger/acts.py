"""What officials do, one frozen class per kind of entry.

An act holds fields as they were entered; nothing here is parsed or judged.  Adding a
field needs a default and `metadata=LATER`, so that entries of older files stay readable;
renaming one needs a new kind.  Types and bounds of fields are checked by
`scorer.ledger.gate`, which reads them here.  An act names the `thing` it sets down, and its
line of the `journal`; its kind is called by the message `act-KIND`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Annotated, Any

from scorer.event.finding import read_id
from scorer.facts import Fact, count, fact, inner, listed, term, words
from scorer.facts import log as log_value
from scorer.ledger.act import (
    ACTS,
    LATER,
    Act,
    Aside,
    Bytes,
    DeskId,
    EntryId,
    EntryKind,
    Fields,
    FileName,
    Flight,
    FormOfAct,
    Label,
    Number,
    Prose,
    Sha256,
    Short,
    Source,
    Stage,
    Verdict,
    kinds_of,
    title_of,
)
from scorer.ledger.acts_later import (
    AirRenewed,
    AirSet,
    ComplaintDecided,
    ComplaintFiled,
    Document,
    MatterAccepted,
    NoteMade,
    Published,
    TaskReopened,
    TaskSheetIssued,
)
from scorer.ledger.bounds import Tree
from scorer.ledger.canonical import canonical
from scorer.ledger.cells import cells_of, plain_number, said_of

__all__ = [
    "ACTS",
    "LATER",
    "Act",
    "AirRenewed",
    "AirSet",
    "Aside",
    "ComplaintDecided",
    "ComplaintFiled",
    "Created",
    "DeclarationMade",
    "DeskId",
    "Document",
    "EntryId",
    "EntryKind",
    "Fields",
    "Flight",
    "FlightSet",
    "FormOfAct",
    "LogAdded",
    "LogAssigned",
    "MarkKeyed",
    "MarkSettled",
    "MatterAccepted",
    "NoteMade",
    "Number",
    "PilotSet",
    "PlaceSet",
    "Published",
    "ReportMade",
    "RowAct",
    "RulingMade",
    "SettingsSet",
    "Sha256",
    "Stage",
    "TargetLogged",
    "TaskReopened",
    "TaskSheetIssued",
    "TerrainSet",
    "Undone",
    "Verdict",
    "Withdrawn",
    "kinds_of",
    "title_of",
    "to_payload",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Created(Act):
    """The event was created: the root from which every desk's chain descends."""

    kind = EntryKind.SCHEMA
    format: Number
    program: Short = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsSet(Act):
    """The event's settings and rules, whole, as parsed from event.toml."""

    kind = EntryKind.SETTINGS
    settings: Annotated[Mapping[str, Any], Tree(tables=("event", "rules"))]
    source: Source = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PilotSet(Act):
    """One line of the roster."""

    kind = EntryKind.PILOT
    fields: Fields
    source: Source = ""

    @property
    def thing(self) -> Fact:
        """Name the pilot."""
        return fact(
            "thing-pilot", name=words(plain_number(self.fields.get("number", "")))
        )

    def journal(self, _: Label, /) -> Fact:
        """Say what the line of the roster holds."""
        return fact("journal-pilot", cells=listed(cells_of(self.fields)))


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceSet(Act):
    """One place, as a GeoJSON feature."""

    kind = EntryKind.PLACE
    feature: Annotated[Mapping[str, Any], Tree(tables=("properties", "geometry"))]
    source: Source = ""

    @property
    def name(self) -> str:
        """The name by which events know it."""
        return str((self.feature.get("properties") or {}).get("name"))

    @property
    def thing(self) -> Fact:
        """Name the place."""
        return fact("thing-place", name=words(self.name))

    def journal(self, _: Label, /) -> Fact:
        """Say which place it is, of what kind."""
        found = self.feature.get("properties") or {}
        kind = said_of("place-kind", str(found.get("kind", "")))
        return fact("journal-place", kind=kind, name=words(str(found.get("name", ""))))


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightSet(Act):
    """One flight with its tasks, whole, as parsed from flight.toml."""

    kind = EntryKind.FLIGHT
    flight: Flight
    settings: Annotated[Mapping[str, Any], Tree(rows=("task",))]
    source: Source = ""

    @property
    def thing(self) -> Fact:
        """Name the flight."""
        return fact("thing-flight", name=words(self.flight))

    def journal(self, _: Label, /) -> Fact:
        """Say which flight it is, with how many tasks."""
        tasks = count(len(self.settings.get("task", ())))
        return fact("journal-flight", flight=words(self.flight), tasks=tasks)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowAct(Act):
    """Base of acts that are one line of a flight's table."""

    flight: Flight
    fields: Fields
    source: Source = ""
    """File and line, where it was imported."""

    @property
    def thing(self) -> Fact:
        """Name the row by its pilot and task."""
        return _row_thing(self)

    def journal(self, _: Label, /) -> Fact:
        """Say what the row holds."""
        return fact("journal-row", cells=listed(cells_of(self.fields)))


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkKeyed(RowAct):
    """One measurement as one official keyed it."""

    kind = EntryKind.MARK


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSettled(RowAct):
    """The measurement that holds where keyings differ; `fields.settles` says why."""

    kind = EntryKind.SETTLE
    keyings: tuple[EntryId, ...] = ()
    """The keyings that were looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeclarationMade(RowAct):
    """A goal that a pilot declared."""

    kind = EntryKind.DECLARATION


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportMade(RowAct):
    """What an official saw."""

    kind = EntryKind.REPORT


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetLogged(RowAct):
    """What happened to a target, and when."""

    kind = EntryKind.TARGET

    @property
    def thing(self) -> Fact:
        """Name the target."""
        target = words(self.fields.get("target", ""))
        return fact("thing-target-line", name=target)


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingMade(RowAct):
    """What an official decided."""

    kind = EntryKind.RULING

    @property
    def thing(self) -> Fact:
        """Name the infringement it decides on."""
        named = read_id(self.fields.get("finding", ""))
        if named is None:
            return _row_thing(self)
        on = term(f"finding-{named.kind}")
        return fact("thing-decision", on=on, of_pilot=words(str(named.pilot)))


@dataclass(frozen=True, slots=True, kw_only=True)
class LogAdded(Act):
    """A flight log, as received."""

    kind = EntryKind.LOG_ADDED
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

    @property
    def thing(self) -> Fact:
        """Name the log."""
        return fact("thing-log", name=log_value(self.name))

    def journal(self, _: Label, /) -> Fact:
        """Say which log it is, and of which flight."""
        return fact("journal-log", log=log_value(self.name), flight=words(self.flight))


@dataclass(frozen=True, slots=True, kw_only=True)
class LogAssigned(Act):
    """An official says whose log it is; `pilot` None takes an assignment back."""

    kind = EntryKind.LOG_ASSIGNED
    flight: Flight
    name: FileName
    sha256: Sha256
    pilot: Number | None

    @property
    def thing(self) -> Fact:
        """Name the log whose pilot it tells."""
        return fact("thing-log-pilot", name=log_value(self.name))

    def journal(self, _: Label, /) -> Fact:
        """Say whose the log is."""
        if self.pilot is None:
            return fact("journal-log-of-nobody", log=log_value(self.name))
        whose = words(str(self.pilot))
        return fact("journal-log-assigned", log=log_value(self.name), pilot=whose)


@dataclass(frozen=True, slots=True, kw_only=True)
class TerrainSet(Act):
    """The elevation grid."""

    kind = EntryKind.TERRAIN
    name: FileName
    sha256: Sha256
    size: Bytes = 0
    source: Source = ""

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return (self.sha256,)

    def journal(self, _: Label, /) -> Fact:
        """Say which file it is."""
        return fact("journal-terrain", name=words(self.name))


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawn(Act):
    """What an entry set down no longer holds, nor anything it replaced."""

    kind = EntryKind.WITHDRAW
    entry: EntryId

    def journal(self, label: Label, /) -> Fact:
        """Say which entry it is about."""
        return fact("journal-of-entry", entry=words(label(self.entry)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone(Act):
    """An entry counts as not made: what it replaced or withdrew holds again."""

    kind = EntryKind.UNDO
    entry: EntryId

    def journal(self, label: Label, /) -> Fact:
        """Say which entry it is about."""
        return fact("journal-of-entry", entry=words(label(self.entry)))


def _row_thing(act: RowAct) -> Fact:
    cells = {f"of_{n}": words(act.fields.get(n) or "?") for n in ("task", "pilot")}
    return fact("thing-row", what=inner(fact(f"thing-{act.kind}")), **cells)


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
