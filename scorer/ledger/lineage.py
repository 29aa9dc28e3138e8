"""Which entries hold: replaced, withdrawn and undone ones worked out, clashes found.

Entries that replace one another form a lineage: all versions of one thing.  A lineage
whose versions end in one entry is settled.  Where two desks went different ways without
seeing each other it has several ends, and that is a conflict until somebody writes an
entry that replaces them all.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

from scorer.event.model import SetAside
from scorer.ledger.acts import Aside, EntryId, FormOfAct, Undone, Withdrawn, kinds_of
from scorer.ledger.aside import ReadEntry, Stored, open_ones, without_bad
from scorer.ledger.entry import Entry

TokenKey = tuple[str, str, str, tuple[EntryId, ...]]


class Lineage(NamedTuple):
    """All versions of one thing; there may be as many as entries, so it is a plain one."""

    versions: tuple[ReadEntry, ...]
    """In order, withdrawals included, undone ones left out."""
    ends: tuple[ReadEntry, ...]
    """Versions that nothing replaced; empty = withdrawn."""
    withdrawals: tuple[ReadEntry, ...]
    """Withdrawals that nothing replaced."""
    base: ReadEntry | None = None
    """What all ends replaced, where there are several and they agree on it."""

    @property
    def settled(self) -> bool:
        """Tell whether all desks agree on what holds."""
        return len(self.ends) + bool(self.withdrawals) <= 1


Places = MutableMapping[EntryId, int]
"""The place of each entry in the order of replay, counted from 0."""


class ById(Mapping[EntryId, ReadEntry]):
    """Entries by their hash; of places that came later it knows nothing."""

    def __init__(self, entries: Sequence[ReadEntry], at: Places) -> None:
        self._entries, self._at = entries, at

    def __getitem__(self, name: EntryId) -> ReadEntry:
        """Return an entry; KeyError where it is not among these."""
        place = self._at[name]
        if place >= len(self._entries) or self._entries[place].id != name:
            raise KeyError(name)
        return self._entries[place]

    def __iter__(self) -> Iterator[EntryId]:
        """Yield the hashes, in order."""
        return (item.id for item in self._entries)

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._entries)


@dataclass(frozen=True, kw_only=True)
class SortedEntries:
    """All entries of an event, sorted out."""

    entries: tuple[ReadEntry, ...]
    """All in order, the undone ones too."""
    lineages: tuple[Lineage, ...]
    """In order of their first versions."""
    undone: frozenset[EntryId]
    twice: Mapping[EntryId, EntryId] = field(default_factory=dict)
    """Entries that repeat an earlier one of the same draft, to that one."""
    set_aside: tuple[SetAside, ...] = ()
    """Entries that cannot be applied and nobody has withdrawn."""

    @cached_property
    def at(self) -> Places:
        """Where each entry stands; those that grow from these go on with it."""
        return {item.id: n for n, item in enumerate(self.entries)}

    @property
    def by_id(self) -> ById:
        """Every entry."""
        return ById(self.entries, self.at)

    def all_of(self, form: FormOfAct) -> list[ReadEntry]:
        """Return the entries whose acts are of a kind, or of several, in order."""
        own = [self._by_kind.get(kind, ()) for kind in kinds_of(form)]
        found = [item for held in own for item in held if item.is_a(form)]
        return sorted(found, key=lambda item: self.at[item.id])

    @cached_property
    def _by_kind(self) -> Mapping[str, tuple[ReadEntry, ...]]:
        return _of_kinds(self.entries)

    def and_more(
        self, held: Sequence[ReadEntry], lineages: Iterable[Lineage], at: Places
    ) -> "SortedEntries":
        """Return these and more that come after them, at the cost of those."""
        more = _of_kinds(held)
        kinds = {
            kind: (*self._by_kind.get(kind, ()), *own) for kind, own in more.items()
        }
        both = replace(self, entries=(*self.entries, *held), lineages=tuple(lineages))
        vars(both).update(at=at, _by_kind={**self._by_kind, **kinds})
        return both


def _of_kinds(held: Iterable[ReadEntry]) -> dict[str, tuple[ReadEntry, ...]]:
    found: dict[str, list[ReadEntry]] = defaultdict(list)
    for item in held:
        found[item.kind].append(item)
    return {kind: tuple(own) for kind, own in found.items()}


def sort_out(
    entries: Iterable[Entry],
    known: Iterable[ReadEntry] = (),
    stored: Stored | None = None,
) -> SortedEntries:
    """Work out what holds; the order in which entries are given does not matter.

    `known` are some of them that were worked on before: their acts are not read again.
    `stored` tells which files are at hand; without it all are taken to be.
    """
    read = {item.id: item for item in known if not isinstance(item.act, Aside)}
    ordered = sorted(entries, key=lambda entry: entry.order)
    held = [
        read.get(entry.hash) or ReadEntry(entry=entry, act=entry.act)
        for entry in ordered
    ]
    return standing_of(without_bad(held, stored))


def standing_of(held: tuple[ReadEntry, ...]) -> SortedEntries:
    """Work out what holds of entries in their order, the bad ones set aside."""
    twice = _repeated(held)
    single = [item for item in held if item.id not in twice]
    undone = _undone(single, twice)
    active = [
        item
        for item in single
        if item.id not in undone and not isinstance(item.act, Undone | Aside)
    ]
    return SortedEntries(
        entries=held,
        lineages=tuple(_lineages(active, twice)),
        undone=frozenset(undone),
        twice=twice,
        set_aside=open_ones(item for item in single if item.id not in undone),
    )


def named_by(item: ReadEntry) -> tuple[EntryId, ...]:
    """Return the entries that an entry takes the place of."""
    if item.is_a(Withdrawn) and isinstance(item.act, Withdrawn):
        return (item.act.entry, *item.entry.replaces)
    return item.entry.replaces


def _repeated(held: Sequence[ReadEntry]) -> dict[EntryId, EntryId]:
    """Find drafts that reached two copies of the event; the first in order counts."""
    first: dict[TokenKey, EntryId] = {}
    twice = {}
    for item in held:
        key = token_key(item.entry)
        if key is not None and not isinstance(item.act, Aside):
            original = first.setdefault(key, item.id)
            if original != item.id:
                twice[item.id] = original
    return twice


def token_key(entry: Entry) -> TokenKey | None:
    """Return what two entries of one draft share; None without a token."""
    if not entry.token:
        return None
    return entry.token, entry.kind, entry.payload, entry.replaces


def _undone(
    held: Sequence[ReadEntry], twice: Mapping[EntryId, EntryId]
) -> set[EntryId]:
    # An undo can only name what came before it, so the last one is never undone.
    undone: set[EntryId] = set()
    for item in reversed(held):
        if isinstance(item.act, Undone) and item.id not in undone:
            undone.add(twice.get(item.act.entry, item.act.entry))
    return undone


def _lineages(
    active: Sequence[ReadEntry], twice: Mapping[EntryId, EntryId]
) -> Iterable[Lineage]:
    by_id = {item.id: item for item in active}
    parents = {
        item.id: [
            by_id[twice.get(name, name)].id
            for name in named_by(item)
            if twice.get(name, name) in by_id
        ]
        for item in active
    }
    replaced = {name for names in parents.values() for name in names}
    for group in _groups(active, parents):
        ends = tuple(item for item in group if item.id not in replaced)
        yield Lineage(
            versions=tuple(group),
            ends=tuple(e for e in ends if not isinstance(e.act, Withdrawn)),
            withdrawals=tuple(e for e in ends if isinstance(e.act, Withdrawn)),
            base=_base(ends, parents, by_id),
        )


def joined(versions: Sequence[ReadEntry]) -> Lineage:
    """Return the lineage of entries that are joined by replacing."""
    (lineage,) = _lineages(versions, {})
    return lineage


def and_one_more(lineage: Lineage, item: ReadEntry) -> Lineage:
    """Return a lineage with an entry that replaces some of its versions."""
    versions = (*lineage.versions, item)
    names = {*named_by(item)}
    ends = tuple(one for one in lineage.ends if one.id not in names)
    withdrawals = tuple(one for one in lineage.withdrawals if one.id not in names)
    if ends or withdrawals:  # it clashes: what the ends have in common is looked for
        return joined(versions)
    taken_back = isinstance(item.act, Withdrawn)
    return Lineage(
        versions=versions,
        ends=() if taken_back else (item,),
        withdrawals=(item,) if taken_back else (),
    )


def _groups(
    active: Sequence[ReadEntry], parents: Mapping[EntryId, Sequence[EntryId]]
) -> list[list[ReadEntry]]:
    """Group entries that are joined by replacing, in order of each group's first."""
    leader: dict[EntryId, EntryId] = {}

    def find(name: EntryId) -> EntryId:
        while leader.setdefault(name, name) != name:
            leader[name] = leader[leader[name]]
            name = leader[name]
        return name

    for item in active:
        for name in parents[item.id]:
            leader[find(item.id)] = find(name)
    groups: dict[EntryId, list[ReadEntry]] = defaultdict(list)
    for item in active:
        groups[find(item.id)].append(item)
    return list(groups.values())


def _base(
    ends: Sequence[ReadEntry],
    parents: Mapping[EntryId, Sequence[EntryId]],
    by_id: Mapping[EntryId, ReadEntry],
) -> ReadEntry | None:
    if len(ends) < 2:
        return None
    shared = {tuple(parents[end.id]) for end in ends}
    if len(shared) != 1:
        return None
    (names,) = shared
    return by_id[names[0]] if len(names) == 1 else None
