"""Acts that follow the scoring: publications, complaints, notes, acceptances."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from scorer.event.model import Level, Outcome
from scorer.facts import Fact, fact, inner, listed, number, several, term, words
from scorer.facts import flight as flight_value
from scorer.facts import task as task_value
from scorer.ledger.act import (
    LATER,
    Act,
    EntryId,
    EntryKind,
    Fields,
    FileName,
    Flight,
    Label,
    Number,
    Prose,
    Sha256,
    Short,
    Source,
    Stage,
)
from scorer.ledger.bounds import MomentBound, Names, Tree
from scorer.ledger.cells import cells_of, said_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A published file."""

    name: FileName
    sha256: Sha256


@dataclass(frozen=True, slots=True, kw_only=True)
class Published(Act):
    """Results that went up on the board."""

    kind = EntryKind.PUBLICATION
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
    complaints_until: Annotated[str, MomentBound()] = ""
    """End of the complaint period, ISO 8601 UTC; empty = none runs."""
    program: Short = ""
    flags: tuple[str, ...] = ()
    """What was still open when it went up, as sentences."""
    at: Annotated[str, MomentBound()] = field(default="", metadata=LATER)
    """When it went up, ISO 8601 UTC: what its sheets say; empty = when it was entered."""
    clock_confirmed_by: Short = field(default="", metadata=LATER)
    """Who confirmed the desk's clock, where it seemed wrong by five minutes or more."""

    air: tuple[Sha256, ...] = field(default=(), metadata=LATER)
    """The file that says with what air each log was read; none = it was not said."""

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        documents = (document.sha256 for document in self.documents)
        return (self.results, *documents, *self.air)

    @property
    def thing(self) -> Fact:
        """Name the version."""
        stage, version = words(self.stage), number(self.version)
        return fact("thing-publication", stage=stage, version=version)

    def journal(self, _: Label, /) -> Fact:
        """Say which version of what went up."""
        if not self.tasks:
            return fact("journal-published-event", what=inner(self.thing))
        tasks = several(map(task_value, self.tasks))
        return fact("journal-published-tasks", what=inner(self.thing), tasks=tasks)


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintFiled(Act):
    """A pilot disputes a result."""

    kind = EntryKind.COMPLAINT
    pilot: Number
    text: Prose
    task: Number | None = None
    """None = the event as a whole."""
    publication: Annotated[EntryId, Names((EntryKind.PUBLICATION,))] = EntryId("")
    level: Level = field(default=Level.COMPLAINT, metadata=LATER)
    against: Annotated[EntryId, Names((EntryKind.COMPLAINT,))] = field(
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

    def journal(self, _: Label, /) -> Fact:
        """Say who complains, and of what."""
        level, pilot = term(self.level), words(str(self.pilot))
        text = words(self.text)
        return fact("journal-complaint", level=level, pilot=pilot, text=text)


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintDecided(Act):
    """The answer to a complaint; the entry's `why` holds the reason."""

    kind = EntryKind.OUTCOME
    complaint: Annotated[EntryId, Names((EntryKind.COMPLAINT,))]
    verdict: Outcome
    by: Short = field(default="", metadata=LATER)
    """Who decided, where it was imported; else the entry says."""
    at: Short = field(default="", metadata=LATER)
    """When it was decided, where it was imported, as entered; else the entry says."""
    source: Source = field(default="", metadata=LATER)
    """File and line, where it was imported."""

    def journal(self, label: Label, /) -> Fact:
        """Say how it was answered."""
        verdict, entry = said_of("outcome", self.verdict), words(label(self.complaint))
        return fact("journal-answer", verdict=verdict, entry=entry)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteMade(Act):
    """Something worth keeping that changes no result."""

    kind = EntryKind.NOTE
    text: Prose
    about: EntryId = EntryId("")
    extra: Mapping[str, Any] = field(default_factory=dict)
    by: Short = field(default="", metadata=LATER)
    """Who made it, where it was imported; else the entry says."""
    at: Short = field(default="", metadata=LATER)
    """When it was made, where it was imported, as entered; else the entry says."""
    source: Source = field(default="", metadata=LATER)
    """File and line, where it was imported."""

    def journal(self, _: Label, /) -> Fact:
        """Say what was noted."""
        return fact("journal-note", text=words(self.text))


@dataclass(frozen=True, slots=True, kw_only=True)
class MatterAccepted(Act):
    """An official accepts an open matter as it stands; a row of accepted.csv."""

    kind = EntryKind.ACCEPTANCE
    fields: Fields
    source: str = ""
    """File and line, where it was imported."""

    def journal(self, _: Label, /) -> Fact:
        """Say which matter is let stand."""
        named = {
            n: self.fields.get(n, "") for n in ("flight", "task", "pilots", "mark")
        }
        matter = said_of("matter", self.fields.get("kind", ""))
        return fact("journal-acceptance", matter=matter, cells=listed(cells_of(named)))


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskReopened(Act):
    """An official task is opened again: the event's rules of today hold for it."""

    kind = EntryKind.REOPENED
    task: Number

    def journal(self, _: Label, /) -> Fact:
        """Say which task it is."""
        return fact("where-task", task=task_value(self.task))


@dataclass(frozen=True, slots=True, kw_only=True)
class AirRenewed(Act):
    """The air of a flight is found from all its logs again: their heights may change."""

    kind = EntryKind.AIR_RENEWED
    flight: Flight

    def journal(self, _: Label, /) -> Fact:
        """Say which flight it is."""
        return fact("where-flight", flight=flight_value(self.flight))


@dataclass(frozen=True, slots=True, kw_only=True)
class AirSet(Act):
    """The air of a flight came with its folder: set down when results first went up."""

    kind = EntryKind.AIR_SET
    flight: Flight
    air: Sha256
    """The file that says with what air each log was read, as of a publication."""

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return (self.air,)

    def journal(self, _: Label, /) -> Fact:
        """Say which flight it is."""
        return fact("where-flight", flight=flight_value(self.flight))


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskSheetIssued(Act):
    """A flight's task sheet was given out at the briefing."""

    kind = EntryKind.SHEET
    flight: Flight
    version: Number
    """Counts from 1 for each flight."""
    at: Annotated[str, MomentBound()]
    """When, ISO 8601 UTC: what the sheet says."""
    lines: Annotated[Mapping[str, Any], Tree()]
    """What it says, line by line, to tell what changes later."""

    def journal(self, _: Label, /) -> Fact:
        """Say which flight it is for."""
        return fact("where-flight", flight=flight_value(self.flight))
