"""The chains of all desks: where one goes on twice, and where a clock was set back."""

from collections.abc import Sequence

from scorer.ledger.acts import EntryId
from scorer.ledger.entry import Entry

SET_BACK_S = 60.0
"""A clock set back by more than this is told.  Our choice."""
Link = tuple[str, EntryId]
"""An entry in the chain of a desk."""
SetBack = tuple[Entry, float]
"""An entry, and by how many seconds the clock was set back before it."""


class Chains:
    """All chains so far, ready for more."""

    def __init__(self, entries: Sequence[Entry] = ()) -> None:
        self._links: dict[Link, Entry] = {(e.desk, e.hash): e for e in entries}
        self._after: dict[Link, tuple[int, list[Entry]]] = {}
        self._forked: dict[Link, tuple[int, list[Entry]]] = {}
        self._backs: dict[str, list[SetBack]] = {}
        self._loose: set[Link] = set()
        for entry in entries:
            self._hang(entry)

    def add(self, entry: Entry) -> bool:
        """Hang an entry on; False = it is there, or an older one hangs on it."""
        link = (entry.desk, entry.hash)
        if link in self._loose or link in self._links:
            return False
        self._links[link] = entry
        self._hang(entry)
        return True

    @property
    def forks(self) -> tuple[tuple[Entry, ...], ...]:
        """Return entries that go on from one and the same."""
        found = sorted(self._forked.values(), key=lambda place: place[0])
        return tuple(tuple(own) for _, own in found)

    @property
    def backs(self) -> tuple[SetBack, ...]:
        """Return where clocks were set back, desk by desk."""
        return tuple(back for own in self._backs.values() for back in own)

    def _hang(self, entry: Entry) -> None:
        link = (entry.desk, entry.prev)
        place = self._after.setdefault(link, (len(self._after), []))
        place[1].append(entry)
        if len(place[1]) > 1:
            self._forked[link] = place
        before = self._links.get(link)
        told = self._backs.setdefault(entry.desk, [])
        if before is None:
            self._loose.add(link)
            return
        back_s = (before.when - entry.when).total_seconds()
        if back_s > SET_BACK_S:
            told.append((entry, back_s))
