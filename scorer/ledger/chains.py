"""The chains of all desks: where one goes on twice, and where a clock was set back."""

from collections.abc import Sequence
from dataclasses import dataclass

from scorer.ledger.acts import EntryId
from scorer.ledger.aside import ReadEntry
from scorer.ledger.entry import Entry

SET_BACK_S = 60.0
"""A clock set back by more than this is told.  Our choice."""
Link = tuple[str, EntryId]
"""An entry in the chain of a desk."""
SetBack = tuple[Entry, float]
"""An entry, and by how many seconds the clock was set back before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the chains of some entries told before."""

    forks: tuple[tuple[Entry, ...], ...]
    backs: tuple[SetBack, ...]


class Chains:
    """All chains so far, ready for more."""

    def __init__(
        self, held: Sequence[ReadEntry] = (), told: Sequence[SetBack] | None = None
    ) -> None:
        """Take up entries; `told` is where their clocks were set back, if it is known."""
        self._links: dict[Link, ReadEntry] = {(own.desk, own.id): own for own in held}
        self._after: dict[Link, tuple[int, list[ReadEntry]]] = {}
        self._forked: dict[Link, tuple[int, list[ReadEntry]]] = {}
        self._backs: dict[str, list[SetBack]] = {}
        self._loose: set[Link] = set()
        for own in held:
            self._hang(own, known=told is not None)
        for back in told or ():
            self._backs[back[0].desk].append(back)

    def add(self, held: ReadEntry) -> bool:
        """Hang an entry on; False = it is there, or an older one hangs on it."""
        link = (held.desk, held.id)
        if link in self._loose or link in self._links:
            return False
        self._links[link] = held
        self._hang(held)
        return True

    @property
    def forks(self) -> tuple[tuple[Entry, ...], ...]:
        """Return entries that go on from one and the same."""
        found = sorted(self._forked.values(), key=lambda place: place[0])
        return tuple(tuple(one.entry for one in own) for _, own in found)

    @property
    def backs(self) -> tuple[SetBack, ...]:
        """Return where clocks were set back, desk by desk."""
        return tuple(back for own in self._backs.values() for back in own)

    def _hang(self, held: ReadEntry, *, known: bool = False) -> None:
        link = (held.desk, held.prev)
        place = self._after.setdefault(link, (len(self._after), []))
        place[1].append(held)
        if len(place[1]) > 1:
            self._forked[link] = place
        before = self._links.get(link)
        told = self._backs.setdefault(held.desk, [])
        if before is None:
            self._loose.add(link)
            return
        if known:
            return
        back_s = (before.entry.when - held.entry.when).total_seconds()
        if back_s > SET_BACK_S:
            told.append((held.entry, back_s))


Told = Chains | Known
"""Where chains fork, and where clocks were set back."""
