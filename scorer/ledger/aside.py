"""Entries that are set aside.

Their act does not pass the gate, no desk writes such a header, or they name what they
cannot be about.  They stay in the file and in the chains, and count for nothing.
"""

from collections.abc import Callable, Iterable, Sequence
from types import EllipsisType

from scorer.event.model import SetAside
from scorer.ledger.acts import (
    Act,
    Aside,
    EntryId,
    EntryKind,
    FormOfAct,
    LogAdded,
    Sha256,
    Undone,
    Withdrawn,
    kinds_of,
)
from scorer.ledger.bounds import SHORT
from scorer.ledger.entry import (
    Entry,
    RawRow,
    of_raw,
    set_aside,
)
from scorer.ledger.gate import UnfitError, check_moment, references

MOST_AHEAD = 1_000_000
"""A sound tick, and a sound number in a desk's chain, is at most the number of all
entries, since each entry adds one to what was seen before; so many may be missing here."""
_MARKS = frozenset({EntryKind.MARK, EntryKind.SETTLE})
"""Kinds that may take each other's place."""
FILES = "files"
"""What a record says is wrong where a file that an entry names is not here."""
Stored = Callable[[Iterable[Sha256]], set[Sha256]]
"""Tells which of some files are at hand."""


class ReadEntry:
    """An entry with its act, which is read when it is first asked for.

    Those of a snapshot passed all checks before: of them even the entry is made then.
    """

    __slots__ = ("_act", "_entry", "_flight", "_row", "id", "kind")

    _row: RawRow | None
    _entry: Entry | None
    _act: Act | None
    _flight: str | EllipsisType | None

    def __init__(self, *, entry: Entry, act: Act | None = None) -> None:
        """Take an entry, with its act where that is known."""
        self._row, self._entry, self._act, self._flight = None, entry, act, ...
        self.id, self.kind = entry.hash, entry.kind

    @property
    def entry(self) -> Entry:
        """The entry."""
        row, entry = self._row, self._entry  # in this order: other threads read too
        if row is not None:
            entry = self._entry = of_raw(row)
            self._row = None
        assert entry is not None
        return entry

    @property
    def act(self) -> Act:
        """Its act; `Aside` where it cannot be applied."""
        if self._act is None:
            self._act = self.entry.act
        return self._act

    @property
    def flight(self) -> str | None:
        """The flight its act is of, of a sound one without reading it; None = of none."""
        if isinstance(self._flight, EllipsisType):
            self._flight = getattr(self.act, "flight", None)
        return self._flight

    def is_a(self, form: FormOfAct) -> bool:
        """Tell whether its act is of a kind, without reading it."""
        if self._act is None:
            return self.kind in kinds_of(form)
        return isinstance(self._act, form)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, ReadEntry):
            return NotImplemented
        return self.entry == other.entry and self.act == other.act

    def __hash__(self) -> int:
        return hash(self.id)

    @property
    def written(self) -> Act:
        """The act as it was written, also where it is set aside."""
        return self.entry.act if isinstance(self.act, Aside) else self.act


class SoundEntry(ReadEntry):
    """One that was found sound before, by the row in which it lies."""

    __slots__ = ()

    def __init__(
        self, row: RawRow, name: EntryId, kind: str, flight: str | None
    ) -> None:
        """Take a row and what was found in it; `name` is its hash."""
        self._row, self._entry, self._act, self._flight = row, None, None, flight
        self.id, self.kind = name, kind


Find = Callable[[EntryId], ReadEntry | None]
"""Finds an entry by its hash."""


def without_bad(
    held: Sequence[ReadEntry], stored: Stored | None = None
) -> tuple[ReadEntry, ...]:
    """Put `Aside` in the place of each act that cannot be applied."""
    return checked(held, {item.id: item for item in held}.get, len(held), stored)


def checked(
    fresh: Sequence[ReadEntry],
    find: Find,
    entries: int,
    stored: Stored | None = None,
) -> tuple[ReadEntry, ...]:
    """Do the same with some of so many entries; `find` knows all that these may name."""
    limit = entries + MOST_AHEAD
    missing = _missing(fresh, stored)
    return tuple(_checked(item, find, limit, missing) for item in fresh)


def open_ones(held: Iterable[ReadEntry]) -> tuple[SetAside, ...]:
    """Return what is set aside and nobody has withdrawn."""
    every = list(held)
    closed = {
        name
        for item in every
        if isinstance(item.act, Withdrawn | Undone)
        for name in (item.act.entry, *item.entry.replaces)
    }
    return tuple(
        item.act.record
        for item in every
        if isinstance(item.act, Aside) and item.id not in closed
    )


def in_time(entry: Entry, entries: int) -> bool:
    """Tell whether tick and number are such as a desk among so many entries gives."""
    limit = entries + MOST_AHEAD
    return 1 <= entry.tick <= limit and 1 <= entry.number <= limit


def _checked(
    item: ReadEntry,
    find: Find,
    limit: int,
    missing: set[Sha256],
) -> ReadEntry:
    if isinstance(item.act, Aside):
        return item
    try:
        _check_header(item.entry, limit)
        _check_names(item, find)
        _check_files(item.act, missing)
    except UnfitError as error:
        return ReadEntry(entry=item.entry, act=set_aside(item.entry, error))
    return item


def _check_header(entry: Entry, limit: int) -> None:
    for field, value in (("tick", entry.tick), ("number", entry.number)):
        if not 1 <= value <= limit:
            allowed = f"1 to {limit:,}, by the number of entries there are"
            raise UnfitError(field, f"{value:,}", allowed)
    if not entry.at:
        raise UnfitError("at", "nothing", "a moment")
    check_moment("at", entry.at)
    for field, text in (("who", entry.who), ("desk", entry.desk), ("why", entry.why)):
        most = SHORT.most * (25 if field == "why" else 1)
        if len(text) > most or "\0" in text:
            found = f"{len(text):,} characters"
            raise UnfitError(field, found, f"plain text, at most {most:,} characters")
        if not text.isascii() and any("\ud800" <= c <= "\udfff" for c in text):
            raise UnfitError(field, "half a character", "plain text")


def _check_names(item: ReadEntry, find: Find) -> None:
    """Refuse to take the place of another kind of thing, or to speak of one."""
    own = item.entry.kind
    taking_back = isinstance(item.act, Withdrawn | Undone)
    for name in item.entry.replaces:
        other = find(name)
        if other is None or taking_back or other.entry.kind == own:
            continue
        if not {own, other.entry.kind} <= _MARKS:
            found = f"entry {other.entry.label} ({other.entry.kind})"
            raise UnfitError("replaces", found, f"entries of kind {own}")
    for field, kinds in references(type(item.act)).items():  # type: ignore[arg-type]
        name = getattr(item.act, field)
        other = find(name)
        if name and (other is None or other.entry.kind not in kinds):
            found = f"entry {other.entry.label}" if other else f"entry {name[:12]}…"
            raise UnfitError(field, found, f"an entry of kind {' or '.join(kinds)}")


def _check_files(act: Act, missing: set[Sha256]) -> None:
    # A log that is missing is told as such, with its name: the score does that.
    for sha256 in act.files if missing and not isinstance(act, LogAdded) else ():
        if sha256 in missing:
            found = f"a file that is not here ({sha256[:12]}…)"
            raise UnfitError(FILES, found, "files that were stored with the entry")


def _missing(held: Iterable[ReadEntry], stored: Stored | None) -> set[Sha256]:
    if stored is None:
        return set()
    needed = {
        sha
        for item in held
        if not isinstance(item.act, LogAdded)
        for sha in item.act.files
    }
    return needed - stored(needed) if needed else set()
