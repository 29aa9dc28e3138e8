"""Where each entry of a ledger stands, so that one more costs what it touches."""

from collections import ChainMap
from collections.abc import Iterable, MutableMapping
from copy import copy
from dataclasses import dataclass

from scorer.ledger.acts import Aside, EntryId, Undone
from scorer.ledger.aside import ReadEntry
from scorer.ledger.lineage import (
    Lineage,
    Places,
    SortedEntries,
    and_one_more,
    joined,
    named_by,
)


@dataclass(slots=True, kw_only=True)
class Index:
    """Where entries stand; it grows with them."""

    at: Places
    lineages: list[Lineage]
    in_lineage: list[int]
    """By place: the lineage that an entry is a version in; -1 = none."""
    tokens: MutableMapping[str, EntryId]
    """Which entry came with each."""
    missing: set[EntryId]
    """Named by entries, and not there yet."""
    simple: bool
    """Nothing was set aside or came twice."""
    touched: set[int] | None = None
    """Lineages that changed since somebody looked; None = all of them."""

    @classmethod
    def of(cls, standing: SortedEntries) -> "Index":
        """Make the index of entries."""
        at, entries = standing.at, standing.entries
        within = [-1] * len(entries)
        for n, own in enumerate(standing.lineages):
            for item in own.versions:
                within[at[item.id]] = n
        return cls(
            at=at,
            lineages=list(standing.lineages),
            in_lineage=within,
            tokens={item.entry.token: item.id for item in entries},
            missing={name for item in entries for name in _names(item)} - at.keys(),
            simple=not standing.twice and not any(i.is_a(Aside) for i in entries),
        )

    def copy(self) -> "Index":
        """Return one that takes entries by itself, for a while."""
        own = copy(self)
        own.at, own.tokens = ChainMap({}, self.at), ChainMap({}, self.tokens)
        own.lineages, own.in_lineage = list(self.lineages), list(self.in_lineage)
        own.missing, own.touched = set(self.missing), set()
        return own

    def take(self, item: ReadEntry) -> bool:
        """Work an entry in; False = it reaches too far."""
        known = item.id in self.at or item.id in self.missing
        token = item.entry.token
        twice = token and token in self.tokens
        if isinstance(item.act, Aside | Undone) or known or twice:
            return False
        named = {name for name in named_by(item) if name in self.at}
        within = {self.in_lineage[self.at[name]] for name in named}
        if -1 in within or len(within) > 1:
            return False
        self.missing.update(name for name in _names(item) if name not in self.at)
        self.tokens[token] = item.id
        self.at[item.id] = len(self.in_lineage)
        self.in_lineage.append(self._hung_on(item, within))
        return True

    def _hung_on(self, item: ReadEntry, within: Iterable[int]) -> int:
        """Make an entry a version in its lineage, or begin one; return which."""
        at = next(iter(within), len(self.lineages))
        if at < len(self.lineages):
            self.lineages[at] = and_one_more(self.lineages[at], item)
        else:
            self.lineages.append(joined((item,)))
        if self.touched is not None:
            self.touched.add(at)
        return at


def _names(item: ReadEntry) -> tuple[EntryId, ...]:
    if item.is_a(Undone) and isinstance(item.act, Undone):
        return (*named_by(item), item.act.entry)
    return named_by(item)
