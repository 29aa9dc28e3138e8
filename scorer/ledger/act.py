"""What all acts have in common, and the registry of their kinds."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any, ClassVar, NewType

from scorer.event.model import Outcome, SetAside
from scorer.facts import Fact, fact, words
from scorer.ledger.bounds import NAME, PROSE, SHORT, SOURCE, Whole

EntryId = NewType("EntryId", str)
"""SHA-256 of an entry, lower-case hexadecimal."""
DeskId = NewType("DeskId", str)
"""A desk, unique in the event: readable name, hyphen, random tail."""
Sha256 = NewType("Sha256", str)
"""Content address of a stored file, lower-case hexadecimal."""


class EntryKind(StrEnum):
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
    AIR_RENEWED = "air-renewed"
    AIR_SET = "air-set"
    SHEET = "task-sheet"


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
"""Column name to text as entered; empty = not given."""
FormOfAct = type["Act"] | tuple[type["Act"], ...]
Label = Callable[[EntryId], str]
"""How people name an entry, by its hash."""
ACTS: dict[EntryKind, type["Act"]] = {}
"""Every kind of act, in the order of declaration; its title is the message `act-KIND`."""


def kinds_of(form: FormOfAct) -> frozenset[str]:
    """Return the names of all kinds of acts of a class, or of several."""
    if form not in _KINDS:
        _KINDS[form] = frozenset(
            str(kind) for kind, own in ACTS.items() if issubclass(own, form)
        )
    return _KINDS[form]


_KINDS: dict[Any, frozenset[str]] = {}


def title_of(kind: str) -> Fact:
    """State what a kind of act is called; kinds of later versions by their own name."""
    return (
        fact(f"act-{kind}") if kind in ACTS else fact("act-unknown", kind=words(kind))
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Base of all acts."""

    kind: ClassVar[EntryKind]

    def __init_subclass__(cls) -> None:
        """Declare the kind that a class of acts is of."""
        if "kind" in cls.__dict__:
            ACTS[cls.kind] = cls  # again with slots: the last one counts

    @property
    def files(self) -> tuple[Sha256, ...]:
        """Content addresses of the files this act needs."""
        return ()

    @property
    def thing(self) -> Fact:
        """Name what it sets down, within a sentence."""
        return fact(f"thing-{self.kind}")

    def journal(self, _: Label, /) -> Fact:
        """Say what was done, in a line; the argument names other entries."""
        return self.thing


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside(Act):
    """Stands for the act of an entry that is set aside: nothing is applied of it."""

    record: SetAside

    def journal(self, _: Label, /) -> Fact:
        """Say what is wrong with it."""
        return self.record.says
