"""The state of a ledger that grows, entry by entry.

Entries that come after all others, and touch one thing each, are worked in at the cost of
that thing.  Whatever reaches further (an undo, entries between older ones, one that was
set aside, two things joined) is worked out from nothing: there is one truth, `replay`,
and a test holds this against it.
"""

from collections.abc import Sequence

from scorer.ledger.acts import EntryId
from scorer.ledger.aside import ReadEntry, Stored, checked
from scorer.ledger.chains import Chains
from scorer.ledger.entry import Entry
from scorer.ledger.holding import Holding
from scorer.ledger.index import Index
from scorer.ledger.lineage import SortedEntries, sort_out
from scorer.ledger.replay import State, replay, state_of


class Growing:
    """What entries so far add up to, ready for more."""

    def __init__(self, stored: Stored | None = None) -> None:
        self._stored = stored
        self._holding = Holding()
        none = SortedEntries(entries=(), lineages=(), undone=frozenset())
        self.resume(none, Chains.of(()), Index.of(none))

    def resume(self, standing: SortedEntries, chains: Chains, index: Index) -> None:
        """Begin where a snapshot ended."""
        self.standing, self.chains, self.index = standing, chains, index

    def add(self, fresh: Sequence[Entry]) -> State:
        """Return the state that all entries add up to, these included."""
        held = self._worked_in(sorted(fresh, key=lambda entry: entry.order))
        if held is None:
            known = self.standing.entries
            entries = [*(item.entry for item in known), *fresh]
            found = sort_out(entries, known, self._stored)
            self.resume(found, Chains.of(found.entries), Index.of(found))
        elif held:
            self.standing = self.standing.and_more(
                held, self.index.lineages, self.index.at
            )
        return self.state()

    def state(self) -> State:
        """Return the state that all entries add up to."""
        held = self._holding.of(self.standing.lineages, self.index.touched)
        self.index.touched = set()
        return state_of(self.standing, self.chains, held)

    def with_more(self, fresh: Sequence[Entry], stored: Stored) -> State:
        """Return the state with entries put in that stay out: of one desk, its first."""
        index = self.index.copy()
        held = self._checked(fresh, index, stored)
        if held is None or not all(map(index.take, held)):
            entries = [item.entry for item in self.standing.entries]
            return replay([*entries, *fresh], stored)
        standing = self.standing.and_more(held, index.lineages, index.at)
        holds = self._holding.copy().of(standing.lineages, index.touched)
        return state_of(standing, self.chains, holds)

    def _worked_in(self, fresh: Sequence[Entry]) -> list[ReadEntry] | None:
        """Work entries in; None = they reach too far for it."""
        if not fresh:
            return []
        held = self._checked(fresh, self.index, self._stored)
        if held is None:
            return None
        near = all(self.index.take(item) and self.chains.add(item) for item in held)
        return list(held) if near else None

    def _checked(
        self, fresh: Sequence[Entry], index: Index, stored: Stored | None
    ) -> Sequence[ReadEntry] | None:
        """Read entries that come after all others; None = they do not."""
        known = self.standing.entries
        if not known or not index.simple:
            return None
        if fresh[0].order <= known[-1].entry.order:
            return None
        read = [ReadEntry(entry=entry, act=entry.act) for entry in fresh]
        own, by_id = {item.id: item for item in read}, self.standing.by_id

        def find(name: EntryId) -> ReadEntry | None:
            return own.get(name) or by_id.get(name)

        return checked(read, find, len(known) + len(read), stored)
