"""From versions to what holds: equal ones put together, others united or listed.

Where desks clash nothing is silently chosen.  Measurements and observations of both
stand beside each other, and scoring shows them as a disagreement.  Of edits of one thing
those hold that do not touch each other; a field edited in two ways keeps the value both
started from.  Two rulings on one finding count as none.  All of it is listed until an
entry replaces what clashes.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from scorer.event.matter import about
from scorer.event.model import Origin
from scorer.event.raw import RawRow
from scorer.facts import Fact, fact, inner, several, words
from scorer.ledger.acts import (
    Act,
    ComplaintDecided,
    ComplaintFiled,
    DeclarationMade,
    EntryId,
    FlightSet,
    FormOfAct,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    MatterAccepted,
    NoteMade,
    PilotSet,
    PlaceSet,
    Published,
    ReportMade,
    RowAct,
    RulingMade,
    SettingsSet,
    TargetLogged,
    TerrainSet,
    kinds_of,
    to_payload,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.cells import plain_number, whole_number
from scorer.ledger.entry import Entry
from scorer.ledger.lineage import Lineage
from scorer.ledger.numbers import (
    number_of,
)
from scorer.ledger.united_edits import unite_edits

_KEPT_APART = (
    MarkKeyed,
    MarkSettled,
    DeclarationMade,
    ReportMade,
    TargetLogged,
    NoteMade,
    MatterAccepted,
)
"""Where ends differ, all of them stand: scoring shows them as a disagreement."""
DECISIONS = (RulingMade, LogAssigned, ComplaintDecided)
"""Where desks decide differently, none of it counts until they agree."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Two desks set down different things without seeing each other."""

    says: Fact
    """What is in question, with the remedy."""
    entries: tuple[Entry, ...]
    """The entries that clash: one that replaces them all settles it."""
    fields: tuple[str, ...] = ()
    """Fields edited in different ways, where it is about fields."""
    flight: str = ""
    """The flight it is about; empty = no single one."""
    task: int | None = None
    """The task it is about; None = no single one."""
    pilots: tuple[int, ...] = ()
    """Whom it is about."""


class Current:
    """One thing that holds, and the entries that say so.

    Usually one entry; several where equal or united edits of desks were put together.
    """

    __slots__ = ("_act", "_entries", "_held", "_ids", "last_row")

    def __init__(
        self,
        *,
        act: Act | None = None,
        entries: tuple[Entry, ...] = (),
        held: tuple[ReadEntry, ...] = (),
    ) -> None:
        """Take an act and its entries, or entries that agree, read when asked for."""
        self._act, self._entries, self._held = act, entries, held
        self._ids: tuple[EntryId, ...] = ()
        self.last_row: RawRow | None = None
        """The line that `row` gave last."""

    @property
    def ids(self) -> tuple[EntryId, ...]:
        """What an entry that replaces this must name."""
        if not self._ids:
            own = self._held or self._entries
            self._ids = tuple([item.id for item in own])
        return self._ids

    @property
    def act(self) -> Act:
        """What holds."""
        return self._held[0].act if self._act is None else self._act

    @property
    def kind(self) -> str:
        """The kind of it, known without reading it."""
        return self._held[0].kind if self._act is None else str(self._act.kind)

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries that say so."""
        if not self._entries:
            self._entries = tuple(item.entry for item in self._held)
        return self._entries

    @property
    def entry(self) -> Entry:
        """The entry to show, and to replace when there is only one."""
        return self.entries[0]

    @property
    def flight(self) -> str | None:
        """The flight it is of, known without reading it; None = of none."""
        if self._act is not None:
            return getattr(self._act, "flight", None)
        return self._held[0].flight

    def is_a(self, form: FormOfAct) -> bool:
        """Tell whether it is of a kind, without reading it."""
        return self.kind in kinds_of(form)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Current):
            return NotImplemented
        return self.act == other.act and self.entries == other.entries

    def __hash__(self) -> int:
        return hash(self.ids)

    @property
    def origin(self) -> Origin:
        """Where the record stands, for messages of the engine."""
        labels = " + ".join(entry.label for entry in self.entries)
        source = getattr(self.act, "source", "")
        where = f"entry {labels}" + (f" ({source})" if source else "")
        return Origin(where=where, entries=self.ids)

    def row(self, fields: Mapping[str, str]) -> RawRow:
        """Return it as a line of a table: the very line of the last time, if it is one.

        Who has read that line before knows it still (`scorer.event.read_before`).
        """
        own = self.last_row
        if own is None or (own.fields is not fields and own.fields != fields):
            own = self.last_row = RawRow(fields=fields, origin=self.origin)
        return own


def entered_by(act: Act, entry: Entry) -> str:
    """Return who made an entry of a table: its `by`, else who recorded it.

    Who imported a folder did not make the entries in it.
    """
    if not isinstance(act, RowAct):
        return entry.who
    return act.fields.get("by", "").strip() or ("" if act.source else entry.who)


def content_of(current: Current) -> Mapping[str, Any]:
    """Return the fields, settings or feature of what holds, for an edit form."""
    name = _content_field(current.act)
    return getattr(current.act, name) if name else {}


Resolved = tuple[list["Current"], list["Conflict"]]
"""What holds of one thing, and the clash about it if there is one."""


def resolved(lineage: Lineage) -> Resolved:
    """Return what holds of one thing, and the clash about it if there is one."""
    if lineage.settled:
        return ([Current(held=lineage.ends)] if lineage.ends else []), []
    ends = _distinct(lineage.ends)
    if len(ends) == 1 and not lineage.withdrawals:
        return [Current(held=lineage.ends)], []
    clashing = tuple(item.entry for item in (*lineage.ends, *lineage.withdrawals))
    if lineage.withdrawals:
        what = fact("clash-withdrawn", what=inner(ends[0].act.thing))
        held = [Current(act=end.act, entries=(end.entry,)) for end in ends]
        return held, [conflict(what, clashing)]
    if isinstance(ends[0].act, _KEPT_APART):
        what = fact("clash-corrected", what=inner(ends[0].act.thing))
        held = [Current(act=end.act, entries=(end.entry,)) for end in ends]
        return held, [conflict(what, clashing)]
    return _united(lineage, ends, clashing)


def _united(
    lineage: Lineage, ends: Sequence[ReadEntry], clashing: tuple[Entry, ...]
) -> tuple[list[Current], list[Conflict]]:
    base = lineage.base or lineage.versions[0]
    name = _content_field(base.act)
    if name is None or any(type(end.act) is not type(base.act) for end in ends):
        what = fact("clash-changed", what=inner(base.act.thing))
        held = Current(act=base.act, entries=clashing)
        return [held], [conflict(what, clashing)]
    value, clashes = unite_edits(
        getattr(base.act, name), [getattr(end.act, name) for end in ends]
    )
    act = replace(base.act, **{name: value})
    held = Current(act=act, entries=clashing)
    if not clashes:
        return [held], []
    what = fact(
        "clash-fields",
        what=inner(base.act.thing),
        fields=several(map(words, clashes)),
    )
    return [held], [conflict(what, clashing, clashes)]


ONE_OF_A_KEY = (
    SettingsSet,
    TerrainSet,
    PilotSet,
    PlaceSet,
    FlightSet,
    LogAdded,
    LogAssigned,
    MarkSettled,
    Published,
    ComplaintDecided,
    RulingMade,
)
"""Of these `key_of` may say that there is only one."""


def key_of(held: Act) -> tuple[object, ...] | None:
    """Return what there may be only one of; None where there may be many."""
    match held:
        case SettingsSet() | TerrainSet() as act:
            return (type(act),)
        case PilotSet() as act:
            return (type(act), plain_number(act.fields.get("number", "")))
        case PlaceSet() as act:
            return (type(act), act.name)
        case FlightSet() as act:
            return (type(act), act.flight)
        case LogAdded() | LogAssigned() as act:
            return (type(act), *log_key(act))
        case MarkSettled() as act:
            return (type(act), act.flight, *_cells(act, "task", "pilot", "mark"))
        case Published() as act:
            # without a moment it is of a program that counted for each set of tasks
            tasks = () if act.at else act.tasks
            return (type(act), tasks, act.version)
        case ComplaintDecided() as act:
            return (type(act), act.complaint)
        case RulingMade() as act if act.fields.get("finding", "").strip():
            by = ("finding",) if ":" in act.fields["finding"] else ("finding", "from")
            return (type(act), act.flight, *_cells(act, "task", "pilot", *by))
    return None


def _cells(act: RowAct, *names: str) -> tuple[str, ...]:
    return tuple(plain_number(act.fields.get(name, "")) for name in names)


def content_key(act: Act) -> str:
    """Return what an act sets down, without where it came from."""
    if hasattr(act, "source"):
        act = replace(act, source="")  # type: ignore[call-arg]
    if isinstance(act, PilotSet | RowAct | MatterAccepted):
        given = {name: text for name, text in act.fields.items() if text.strip()}
        act = replace(act, fields=given)
    if isinstance(act, MarkSettled):
        given = {name: text for name, text in act.fields.items() if name != "between"}
        act = replace(act, keyings=(), fields=given)
    return to_payload(act, sort=True)


def _distinct(held: Sequence[ReadEntry]) -> list[ReadEntry]:
    by_content: dict[str, ReadEntry] = {}
    for item in held:
        by_content.setdefault(content_key(item.act), item)
    return list(by_content.values())


def _content_field(act: Act) -> str | None:
    for name in ("settings", "fields", "feature"):
        if hasattr(act, name):
            return name
    return None


def conflict(
    what: Fact, entries: tuple[Entry, ...], fields: tuple[str, ...] = ()
) -> Conflict:
    """State that entries clash, and who made them."""
    who = (
        inner(fact("entry-by", entry=words(e.label), who=words(e.who))) for e in entries
    )
    says = fact("desks-clash", what=inner(what), entries=several(who))
    acts = [e.act for e in entries]
    return Conflict(
        says=says,
        entries=entries,
        fields=fields,
        flight=_only((getattr(act, "flight", "") for act in acts), ""),
        task=_only(map(_task_of, acts), None),
        pilots=about(*map(_pilot_of, acts)),
    )


T = TypeVar("T")


def _only(found: Iterable[T], nothing: T) -> T:
    """Return the one thing that all name who name any; else `nothing`."""
    named = {one for one in found if one != nothing}
    return named.pop() if len(named) == 1 else nothing


def _task_of(act: Act) -> int | None:
    """Return the one task that an act is about."""
    if isinstance(act, Published):
        return act.tasks[0] if len(act.tasks) == 1 else None
    if isinstance(act, ComplaintFiled):
        return act.task
    return whole_number(act.fields.get("task", "")) if isinstance(act, RowAct) else None


def _pilot_of(act: Act) -> int | None:
    if isinstance(act, LogAssigned | ComplaintFiled):
        return act.pilot
    if isinstance(act, PilotSet):
        return whole_number(number_of(act))
    return (
        whole_number(act.fields.get("pilot", "")) if isinstance(act, RowAct) else None
    )


def log_key(act: LogAdded | LogAssigned) -> tuple[str, str, str]:
    """Return what ties a log to its assignments."""
    return (act.flight, act.name.casefold(), act.sha256)
