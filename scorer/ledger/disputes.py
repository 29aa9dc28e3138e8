"""Complaints and protests with their outcomes, and notes: from entries to rows and back.

An imported one holds what its row said of who and when; one entered here has that from
its entry.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from zoneinfo import ZoneInfo

from scorer.errors import InputError
from scorer.event.columns import COMPLAINTS, NOTES
from scorer.event.complaints import Filed, read_complaints
from scorer.event.model import Level, Origin, Outcome
from scorer.event.moments import read_moment
from scorer.event.raw import RawRow
from scorer.event.reading import Faults, entered
from scorer.ledger.acts import ComplaintDecided, ComplaintFiled, EntryId, NoteMade
from scorer.ledger.entry import Draft, Entry, to_come
from scorer.units import Unreadable

_TYPED = frozenset(COMPLAINTS.names) - {"number", "note"}
"""Columns that have fields of their own in the acts."""
FROM_A_FOLDER = "a folder"
"""Source of a row that has none: imported all the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """A complaint or protest, and its answer if it has one."""

    entry: Entry
    """The entry that holds: another than `filed` where it was corrected."""
    act: ComplaintFiled
    filed: Entry
    """The entry that it was filed with: answers and protests name it for good."""
    outcome: Entry | None
    decided: ComplaintDecided | None
    number: int
    """Its number in lists and in complaints.csv."""
    against: "Complaint | None" = None
    """The complaint whose outcome a protest is about."""
    zone: ZoneInfo

    @property
    def is_open(self) -> bool:
        """Tell whether nobody has decided yet."""
        return self.decided is None

    @property
    def level(self) -> Level:
        """Complaint or protest."""
        return self.act.level

    @property
    def filed_by(self) -> str:
        """Who took it down; empty = an imported row did not say."""
        return self.act.by if self.act.source else self.act.by or self.filed.who

    @property
    def filed_at(self) -> str:
        """When it was filed, local time; empty = an imported row did not say."""
        if self.act.at or self.act.source:
            return self.act.at
        return local(self.filed, self.zone)

    @property
    def note(self) -> str:
        """What was noted as it was filed, that it came late, say."""
        return self.act.extra.get("note", "") if self.act.source else self.filed.why

    @property
    def decided_by(self) -> str:
        """Who decided; empty = open, or an imported row did not say."""
        if self.decided is None or self.outcome is None:
            return ""
        by = self.decided.by
        return by if self.decided.source else by or self.outcome.who

    @property
    def decided_at(self) -> str:
        """When it was decided, local time; empty = open, or not said."""
        if self.decided is None or self.outcome is None:
            return ""
        if self.decided.at or self.decided.source:
            return self.decided.at
        return local(self.outcome, self.zone)

    @property
    def reason(self) -> str:
        """The reason of the outcome."""
        return self.outcome.why if self.outcome else ""

    @property
    def may_be_protested(self) -> bool:
        """Tell whether there is an outcome that somebody can protest against."""
        return (
            self.level is Level.COMPLAINT
            and self.decided is not None
            and self.decided.verdict is not Outcome.TAKEN_BACK
        )

    def protest_end(self, protest_s: float | None) -> datetime | None:
        """Return when the period to protest against the outcome ends; None = none runs.

        An imported outcome without a time counts from its import.
        """
        if self.outcome is None or not self.may_be_protested or not protest_s:
            return None
        when = self.outcome.when
        if self.decided_at:
            try:
                when = read_moment(self.decided_at, self.zone).local.astimezone(UTC)
            except Unreadable:  # entered past the checks of a folder
                when = self.outcome.when
        return when + timedelta(seconds=protest_s)

    @property
    def row(self) -> RawRow:
        """The line of complaints.csv that says all of it."""
        cells = {
            "task": "" if self.act.task is None else str(self.act.task),
            "pilot": str(self.act.pilot),
            "number": str(self.number),
            "kind": str(self.level),
            "against": str(self.against.number) if self.against else "",
            "text": self.act.text,
            "by": self.filed_by,
            "at": self.filed_at,
            "note": self.note,
            "outcome": str(self.decided.verdict) if self.decided else "",
            "reason": self.reason,
            "decided_by": self.decided_by,
            "decided_at": self.decided_at,
        }
        more = {k: v for k, v in self.act.extra.items() if k not in cells}
        origin = Origin(where=f"entry {self.entry.label}", entries=(self.entry.hash,))
        return RawRow(fields={**cells, **more}, origin=origin)


def answered(
    held: Sequence[tuple[Entry, ComplaintFiled]],
    answers: Mapping[EntryId, tuple[Entry, ComplaintDecided]],
    first: Callable[[EntryId], Entry | None],
    zone: ZoneInfo,
) -> tuple[Complaint, ...]:
    """Put complaints and their answers together, with a number each.

    `first` returns the entry that a complaint was filed with, of any version of it, by
    which `answers` are found.
    """
    found: dict[EntryId, Complaint] = {}
    for (entry, act), number in zip(held, _numbers(held), strict=True):
        filed, against = first(entry.hash) or entry, first(act.against)
        outcome, decided = answers.get(filed.hash, (None, None))
        found[filed.hash] = Complaint(
            entry=entry,
            act=act,
            filed=filed,
            outcome=outcome,
            decided=decided,
            number=number,
            against=found.get(against.hash) if against else None,
            zone=zone,
        )
    return tuple(found.values())


def _numbers(filed: Sequence[tuple[Entry, ComplaintFiled]]) -> Iterator[int]:
    """Number complaints: as imported where that is free, else by place in the list."""
    given: dict[str, EntryId] = {}
    for entry, act in filed:
        if act.extra.get("number", "").isdecimal():
            given.setdefault(act.extra["number"], entry.hash)
    taken = set(given)
    for place, (entry, act) in enumerate(filed, start=1):
        own = act.extra.get("number", "")
        if given.get(own) != entry.hash:
            own = next(str(n) for n in count(place) if str(n) not in taken)
            taken.add(own)
        yield int(own)


def note_row(entry: Entry, act: NoteMade, origin: Origin, zone: ZoneInfo) -> RawRow:
    """Return the line of notes.csv that says a note."""
    imported = bool(act.source)
    cells = {
        "at": act.at if imported else act.at or local(entry, zone),
        "text": act.text,
        "by": act.by if imported else act.by or entry.who,
    }
    more = {
        name: value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
        for name, value in act.extra.items()
        if name not in cells
    }
    return RawRow(fields={**cells, **more}, origin=origin)


def complaint_drafts(
    rows: Iterable[RawRow], why: str, zone: ZoneInfo, known: Sequence[Complaint] = ()
) -> Iterator[Draft]:
    """Turn lines of complaints.csv into acts; those `known` already are passed over.

    An answer that a known complaint lacks, or has otherwise, is taken over: where two
    answers differ, the ledger lists them.
    """
    faults = Faults()
    filed = read_complaints(rows, zone, faults)
    if faults.found:
        raise InputError(faults.found)
    named: dict[int, EntryId] = {}
    keys: dict[int, object] = {}
    held = _by_key(known)
    for item in filed:
        key = _key(item, keys)
        if item.number is not None:
            keys[item.number] = key
        old = held.get(key)
        if old is None:
            draft = _filed(item, named, why)
            yield draft
            name = to_come(draft)
        else:
            name = old.filed.hash
        if item.number is not None:
            named[item.number] = name
        if item.outcome and not (old and _same_answer(old, item.row)):
            yield _decided(item, item.outcome, name)


def note_drafts(
    rows: Iterable[RawRow], why: str, known: Iterable[RawRow] = ()
) -> Iterator[Draft]:
    """Turn lines of notes.csv into acts; those `known` already are passed over."""
    held = [entered(row, NOTES.names) for row in known]
    for row in rows:
        cells = entered(row, NOTES.names)
        if cells not in held:
            act = NoteMade(
                text=cells["text"],
                by=cells.get("by", ""),
                at=cells.get("at", ""),
                extra={k: v for k, v in cells.items() if k not in _OF_NOTES},
                source=source_of(row.origin) or FROM_A_FOLDER,
            )
            yield Draft(act=act, why=why)


_OF_NOTES = ("text", "by", "at")


def source_of(origin: Origin) -> str:
    """Say where an imported row stands: file and line."""
    if not origin.where or origin.line is None:
        return origin.where
    return f"{origin.where} line {origin.line}"


def _filed(item: Filed, named: Mapping[int, EntryId], why: str) -> Draft:
    cells = entered(item.row, COMPLAINTS.names)
    act = ComplaintFiled(
        pilot=item.pilot,
        text=cells["text"],
        task=item.task,
        level=item.level,
        against=named.get(item.against or 0, EntryId("")),
        by=cells.get("by", ""),
        at=cells.get("at", ""),
        extra=_extra(item),
        source=source_of(item.row.origin) or FROM_A_FOLDER,
    )
    return Draft(act=act, why=why)


def _extra(item: Filed) -> dict[str, str]:
    cells = {
        k: v for k, v in entered(item.row, COMPLAINTS.names).items() if k not in _TYPED
    }
    return cells | ({"number": str(item.number)} if item.number else {})


def _decided(item: Filed, outcome: Outcome, complaint: EntryId) -> Draft:
    cells = item.row.fields
    act = ComplaintDecided(
        complaint=complaint,
        verdict=outcome,
        by=cells.get("decided_by", ""),
        at=cells.get("decided_at", ""),
        source=source_of(item.row.origin) or FROM_A_FOLDER,
    )
    return Draft(act=act, why=cells.get("reason", ""))


def _by_key(known: Sequence[Complaint]) -> dict[object, Complaint]:
    """Find complaints by what their rows say, numbers left aside."""
    keys: dict[int, object] = {}
    for complaint in known:
        act = complaint.act
        row = complaint.row
        filed = Filed(
            row=row,
            pilot=act.pilot,
            task=act.task,
            number=complaint.number,
            level=act.level,
            against=complaint.against.number if complaint.against else None,
            outcome=None,
        )
        keys[complaint.number] = _key(filed, keys)
    return {keys[complaint.number]: complaint for complaint in reversed(known)}


def _key(item: Filed, keys: Mapping[int, object]) -> object:
    cells = entered(item.row, COMPLAINTS.names)
    more = {k: v for k, v in _extra(item).items() if k != "number"}
    said = tuple(cells.get(column, "") for column in ("text", "by", "at"))
    against = None if item.against is None else keys.get(item.against)
    return (item.pilot, item.task, item.level, said, frozenset(more.items()), against)


def _same_answer(old: Complaint, row: RawRow) -> bool:
    held, given = (entered(each, COMPLAINTS.names) for each in (old.row, row))
    columns = ("outcome", "reason", "decided_by", "decided_at")
    return all(
        held.get(c, "").casefold() == given.get(c, "").casefold() for c in columns
    )


def local(entry: Entry, zone: ZoneInfo) -> str:
    """Return when an entry was made, local time."""
    return entry.when.astimezone(zone).isoformat(sep=" ", timespec="seconds")
