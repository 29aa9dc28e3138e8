"""What the entries of an event add up to, as it was found the last time.

A snapshot lies in the user's cache and says where each entry stands, never what it says:
that is read from the event.  It counts only for the very rows it was made from, hashed
all of them, for this version of the program, and while every file they need is there.
Whatever does not fit means that everything is worked out from nothing, as `verify` always
does.
"""

import hashlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, cast

import numpy as np
from numpy.typing import NDArray

from scorer.ledger.acts import DeskId, EntryId, LogAdded, Sha256
from scorer.ledger.aside import ReadEntry, SoundEntry
from scorer.ledger.chains import Chains, Link, SetBack
from scorer.ledger.entry import NAME_AT, TOKEN_AT, RawRow, of_raw
from scorer.ledger.faults import LedgerError
from scorer.ledger.growing import Growing
from scorer.ledger.index import Index
from scorer.ledger.lineage import Lineage, SortedEntries
from scorer.ledger.replay import State
from scorer.ledger.store import START, Cursor, Store
from scorer.progress import undisturbed

if TYPE_CHECKING:
    from scorer.recall import Recall

MANY = 3000
"""Fewer entries are worked out in less than half a second."""
GROWN = 1000
"""So many entries more make a new snapshot worth it."""
Whole = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Groups:
    """Lists of places, one after the other."""

    members: Whole
    ends: Whole
    """Where each list ends in `members`."""

    @classmethod
    def of(cls, groups: Sequence[Sequence[int]]) -> "Groups":
        """Put lists together."""
        sizes = np.array([len(own) for own in groups], dtype=np.int32)
        members = np.array([n for own in groups for n in own], dtype=np.int32)
        return cls(members=members, ends=np.cumsum(sizes, dtype=np.int32))

    def among(self, held: Sequence[ReadEntry]) -> Iterator[tuple[ReadEntry, ...]]:
        """Yield the entries of each list."""
        every = tuple(map(held.__getitem__, self.members.tolist()))
        ends = self.ends.tolist()
        return (every[a:b] for a, b in zip([0, *ends], ends, strict=False))


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """Where each of an event's first entries stands; places count from 0 in replay."""

    rows: int
    last: Cursor
    """Up to where."""
    digest: str
    """Of all that these rows hold."""
    kinds: tuple[str, ...]
    kind_of: Whole
    """Which of them each row is of."""
    flights: tuple[str, ...]
    flight_of: Whole
    """The same; -1 = of none."""
    order: Whole
    """The place of arrival of each entry, in the order of replay."""
    versions: Groups
    ends: Groups
    withdrawals: Groups
    base: Whole
    """-1 = none."""
    undone: tuple[EntryId, ...]
    missing: tuple[EntryId, ...]
    chain_ends: Whole
    loose: tuple[Link, ...]
    forks: Groups
    desks: tuple[DeskId, ...]
    backs: tuple[tuple[int, float], ...]
    files: tuple[Sha256, ...] = field(repr=False)
    """What entries need besides logs."""


def digest_of(rows: Sequence[RawRow]) -> str:
    """Return a hash of all that rows hold."""
    # Where each row ends, its length says.
    made = hashlib.sha256(np.fromiter(map(len, rows), np.int64).tobytes())
    made.update(b"".join(rows))
    return made.hexdigest()


def names_of(rows: Sequence[RawRow]) -> list[EntryId]:
    """Return the hash of each row, as a desk writes it."""
    return [cast("EntryId", str(row[NAME_AT], "ascii")) for row in rows]


def tokens_of(rows: Sequence[RawRow]) -> list[str]:
    """Return the token of each row, as a desk writes it."""
    return [str(r[TOKEN_AT : r.index(b'"', TOKEN_AT)], "ascii") for r in rows]


def taken(rows: Sequence[RawRow], growing: Growing, last: Cursor) -> Snapshot | None:
    """Make a snapshot of what rows came to; None where it is not plain enough."""
    standing, chains, place = growing.standing, growing.chains, growing.standing.at
    if not growing.index.simple or not rows or len(rows) != len(place):
        return None
    try:
        names, tokens = names_of(rows), tokens_of(rows)
    except ValueError:
        return None
    by_id = standing.by_id
    found = [by_id[name].entry if name in place else None for name in names]
    if any(
        own is None or own.token != token or of_raw(row) != own
        for own, token, row in zip(found, tokens, rows, strict=True)
    ):
        return None
    arrived = {name: n for n, name in enumerate(names)}

    def places(held: Sequence[ReadEntry]) -> list[int]:
        return [place[item.id] for item in held]

    own = standing.lineages
    kinds, kind_of = _numbered(by_id[name].kind for name in names)
    flights, flight_of = _numbered(by_id[name].flight for name in names)
    return Snapshot(
        rows=len(rows),
        kinds=kinds,
        kind_of=kind_of,
        flights=flights,
        flight_of=flight_of,
        last=last,
        digest=digest_of(rows),
        order=np.array([arrived[h.id] for h in standing.entries], dtype=np.int32),
        versions=Groups.of([places(one.versions) for one in own]),
        ends=Groups.of([places(one.ends) for one in own]),
        withdrawals=Groups.of([places(one.withdrawals) for one in own]),
        base=np.array(
            [-1 if one.base is None else place[one.base.id] for one in own], np.int32
        ),
        undone=tuple(sorted(standing.undone)),
        missing=tuple(sorted(growing.index.missing)),
        chain_ends=np.array(places([*chains.ends.values()]), dtype=np.int32),
        loose=tuple(sorted(chains.loose)),
        forks=Groups.of([[place[e.hash] for e in fork] for fork in chains.forks]),
        desks=tuple(chains.set_back),
        backs=tuple((place[entry.hash], back_s) for entry, back_s in chains.backs),
        files=tuple(
            sorted(
                {
                    sha
                    for h in standing.entries
                    if not h.is_a(LogAdded)
                    for sha in h.act.files
                }
            )
        ),
    )


def _numbered(names: Iterable[str | None]) -> tuple[tuple[str, ...], Whole]:
    """Return each name once, and which of them is where; -1 = None."""
    own: dict[str | None, int] = {None: -1}
    places = [own.setdefault(name, len(own) - 1) for name in names]
    del own[None]
    return tuple(name for name in own if name is not None), np.array(places, np.int32)


def resumed(rows: Sequence[RawRow], own: Snapshot, growing: Growing) -> None:
    """Let a ledger grow from a snapshot of these rows."""
    names = names_of(rows)
    kinds = map(own.kinds.__getitem__, own.kind_of.tolist())
    flights = map((*own.flights, None).__getitem__, own.flight_of.tolist())
    arrived = list(map(SoundEntry, rows, names, kinds, flights))
    order = own.order.tolist()
    held = tuple(map(arrived.__getitem__, order))
    lineages = tuple(
        Lineage(versions, ends, withdrawals, None if base < 0 else held[base])
        for versions, ends, withdrawals, base in zip(
            own.versions.among(held),
            own.ends.among(held),
            own.withdrawals.among(held),
            own.base.tolist(),
            strict=True,
        )
    )
    standing = SortedEntries(
        entries=held, lineages=lineages, undone=frozenset(own.undone)
    )
    places = zip(map(names.__getitem__, order), range(len(order)), strict=True)
    vars(standing).update(at=dict(places))
    tokens = dict(zip(tokens_of(rows), names, strict=True))
    growing.resume(standing, _chains(own, held), _index(own, standing, tokens))


def _chains(own: Snapshot, held: Sequence[ReadEntry]) -> Chains:
    set_back: dict[DeskId, list[SetBack]] = {desk: [] for desk in own.desks}
    for n, back_s in own.backs:
        set_back[held[n].entry.desk].append((held[n].entry, back_s))
    ends = (held[n] for n in own.chain_ends.tolist())
    return Chains(
        ends={(one.entry.desk, one.id): one for one in ends},
        loose=set(own.loose),
        forks=tuple(tuple(h.entry for h in fork) for fork in own.forks.among(held)),
        set_back=set_back,
    )


def _index(own: Snapshot, standing: SortedEntries, tokens: dict[str, EntryId]) -> Index:
    within = np.full(len(standing.entries), -1)
    sizes = np.diff(own.versions.ends, prepend=0)
    within[own.versions.members] = np.repeat(np.arange(sizes.size), sizes)
    return Index(
        at=standing.at,
        lineages=list(standing.lineages),
        in_lineage=within.tolist(),
        tokens=tokens,
        missing=set(own.missing),
        simple=True,
    )


class Snapshots:
    """The snapshots of one store; whatever goes wrong with them only costs time."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._written = 0

    def resume(self, growing: Growing) -> Cursor:
        """Let a ledger grow from a snapshot; return up to where: START = from nothing."""
        if self._store.rows_at is None or self._store.last() < MANY:
            return START
        found = self._with_recall(lambda recall, key: recall.load(key))
        if not isinstance(found, Snapshot):
            return START
        with undisturbed():
            return self._resumed(found, growing)

    def _resumed(self, found: Snapshot, growing: Growing) -> Cursor:
        rows = self._store.raw_rows(found.last)
        if len(rows) != found.rows:
            return START
        if digest_of(rows) != found.digest:
            return START
        if self._store.known_files(found.files) != {*found.files}:
            return START
        resumed(rows, found, growing)
        self._written = found.rows
        return found.last

    def keep(self, growing: Growing, last: Cursor) -> None:
        """Write a snapshot down where enough came since the last one."""
        count = len(growing.standing.entries)
        most = max(MANY, self._written + GROWN)
        if self._store.rows_at is None or count < most:
            return
        self._written = count
        try:
            with self._store.unheard():
                rows = self._store.checked_rows(last)
        except LedgerError:
            return
        found = taken(rows, growing, last)
        if found is not None:
            self._with_recall(lambda recall, key: recall.save({key: found}))

    def _with_recall(self, work: Callable[["Recall", str], Any]) -> Any:
        # A desk that only keys marks need not wait for the scoring modules to load.
        from scorer.recall import recall_of_user  # noqa: PLC0415

        recall = recall_of_user()
        if recall is None:
            return None
        with closing(recall):
            return work(recall, f"snapshot of {self._store.rows_at}")


def grown(store: Store) -> State:
    """Return what all entries of a store add up to."""
    growing, snapshots = Growing(store.known_files), Snapshots(store)
    cursor = snapshots.resume(growing)
    with undisturbed():
        fresh, cursor = store.new_since(cursor)
        state = growing.add(fresh)
        snapshots.keep(growing, cursor)
    return state
