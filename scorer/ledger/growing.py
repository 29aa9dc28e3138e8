"""The state of a ledger that grows, entry by entry.

Entries that come after all others, and touch one thing each, are worked in at the cost of
that thing.  Whatever reaches further (an undo, entries between older ones, one that was
set aside, two things joined) is worked out from nothing: there is one truth, `replay`,
and a test holds this against it.
"""

from collections import ChainMap
from collections.abc import Collection, Mapping, Sequence
from copy import copy
from dataclasses import replace
from functools import cached_property

from scorer.ledger.acts import Aside, EntryId, Undone
from scorer.ledger.aside import ReadEntry, Stored, checked
from scorer.ledger.chains import Chains, Known, Told
from scorer.ledger.entry import Entry
from scorer.ledger.lineage import (
    Lineage,
    SortedEntries,
    joined,
    named_by,
    sort_out,
)
from scorer.ledger.replay import State, replay, state_of
from scorer.ledger.resolve import Resolved, resolved


class Growing:
    """What entries so far add up to, ready for more."""

    def __init__(self, stored: Stored | None = None) -> None:
        self._stored = stored
        self._standing = SortedEntries(entries=(), lineages=(), undone=frozenset())
        self._told: Told = Known(forks=(), backs=())
        self._missing: frozenset[EntryId] | None = frozenset()
        self._resolved: dict[int, tuple[Lineage, Resolved]] = {}

    def resume(
        self, standing: SortedEntries, told: Known, missing: frozenset[EntryId]
    ) -> None:
        """Begin where a snapshot ended; `missing` are named by entries, and not there."""
        self._standing, self._told, self._missing = standing, told, missing
        self.__dict__.pop("_index", None)
        self.__dict__.pop("_chains", None)

    @property
    def standing(self) -> SortedEntries:
        """All entries so far, sorted out."""
        return self._standing

    @property
    def missing(self) -> frozenset[EntryId]:
        """What entries name that is not there yet."""
        return frozenset(self._index.missing)

    @property
    def simple(self) -> bool:
        """Tell whether a snapshot can hold it."""
        return self._index.simple

    @cached_property
    def _index(self) -> "_Index":
        """Where each entry stands; made when the first one more comes."""
        return _Index(self._standing, self._missing)

    @cached_property
    def _chains(self) -> Chains:
        told = self._told.backs if isinstance(self._told, Known) else None
        return Chains(self._standing.entries, told)

    def add(self, fresh: Sequence[Entry]) -> State:
        """Return the state that all entries add up to, these included."""
        held = self._worked_in(sorted(fresh, key=lambda entry: entry.order))
        if held is None:
            known = self._standing.entries
            entries = [*(item.entry for item in known), *fresh]
            self._standing = sort_out(entries, known, self._stored)
            self._index = _Index(self._standing)
            self._chains = Chains(self._standing.entries)
            self._told = self._chains
        elif held:
            self._standing = replace(
                self._standing,
                entries=(*self._standing.entries, *held),
                lineages=tuple(self._index.lineages),
            )
            self._told = self._chains
        return self.state()

    def state(self) -> State:
        """Return the state that all entries add up to."""
        known, self._resolved = self._resolved, {}

        def of(lineage: Lineage) -> Resolved:
            found = known.get(id(lineage)) or (lineage, resolved(lineage))
            self._resolved[id(lineage)] = found
            return found[1]

        return state_of(self._standing, self._told, of)

    def with_more(self, fresh: Sequence[Entry], stored: Stored) -> State:
        """Return the state with entries put in that stay out: of one desk, its first."""
        index = self._index.copy()
        held = self._checked(fresh, index, stored)
        if held is None or not all(map(index.take, held)):
            entries = [item.entry for item in self._standing.entries]
            return replay([*entries, *fresh], stored)
        standing = replace(
            self._standing,
            entries=(*self._standing.entries, *held),
            lineages=tuple(index.lineages),
        )
        known = self._resolved

        def of(lineage: Lineage) -> Resolved:
            return known[id(lineage)][1] if id(lineage) in known else resolved(lineage)

        return state_of(standing, self._told, of)

    def _worked_in(self, fresh: Sequence[Entry]) -> list[ReadEntry] | None:
        """Work entries in; None = they reach too far for it."""
        if not fresh:
            return []
        held = self._checked(fresh, self._index, self._stored)
        if held is None:
            return None
        near = all(self._index.take(item) and self._chains.add(item) for item in held)
        return list(held) if near else None

    def _checked(
        self, fresh: Sequence[Entry], index: "_Index", stored: Stored | None
    ) -> Sequence[ReadEntry] | None:
        """Read entries that come after all others; None = they do not."""
        if not self._standing.entries or not index.simple:
            return None
        if fresh[0].order <= self._standing.entries[-1].entry.order:
            return None
        read = [ReadEntry(entry=entry, act=entry.act) for entry in fresh]
        by_id = ChainMap({item.id: item for item in read}, index.by_id)
        return checked(read, by_id, len(index.by_id) + len(read), stored)


class _Index:
    """Where each entry stands."""

    def __init__(
        self, standing: SortedEntries, missing: Collection[EntryId] | None = None
    ) -> None:
        self.by_id = {item.id: item for item in standing.entries}
        self.lineages: list[Lineage] = list(standing.lineages)
        self.place = {
            item.id: n for n, own in enumerate(self.lineages) for item in own.versions
        }
        """Of the lineage that an entry is a version in."""
        self.tokens = {item.token for item in standing.entries} - {""}
        self.missing = _missing(standing, self.by_id) if missing is None else {*missing}
        """Named by entries, and not there yet."""
        self.simple = not standing.twice and not any(
            item.is_a(Aside) for item in standing.entries
        )

    def copy(self) -> "_Index":
        """Return one that takes entries by itself."""
        own = copy(self)
        own.by_id, own.place = dict(self.by_id), dict(self.place)
        own.lineages, own.missing = list(self.lineages), set(self.missing)
        own.tokens = set(self.tokens)
        return own

    def take(self, item: ReadEntry) -> bool:
        """Work an entry in; False = it reaches too far."""
        known = item.id in self.by_id or item.id in self.missing
        if isinstance(item.act, Aside | Undone) or known or item.token in self.tokens:
            return False
        names = [name for name in named_by(item) if name in self.by_id]
        places = {self.place.get(name, -1) for name in names}
        if -1 in places or len(places) > 1:
            return False
        self.by_id[item.id] = item
        if item.token:
            self.tokens.add(item.token)
        self.missing.update(name for name in _names(item) if name not in self.by_id)
        if places:
            (n,) = places
            self.lineages[n] = joined((*self.lineages[n].versions, item))
        else:
            n = len(self.lineages)
            self.lineages.append(joined((item,)))
        self.place[item.id] = n
        return True


def _missing(
    standing: SortedEntries, by_id: Mapping[EntryId, ReadEntry]
) -> set[EntryId]:
    names = (name for item in standing.entries for name in _names(item))
    return {name for name in names if name not in by_id}


def _names(item: ReadEntry) -> tuple[EntryId, ...]:
    return (
        *named_by(item),
        *((item.act.entry,) if isinstance(item.act, Undone) else ()),
    )
