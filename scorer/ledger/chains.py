"""The chains of all desks: where one goes on twice, and where a clock was set back."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from scorer.ledger.acts import DeskId, EntryId
from scorer.ledger.aside import ReadEntry
from scorer.ledger.entry import Entry

SET_BACK_S = 60.0
"""A clock set back by more than this is told.  Our choice."""
Link = tuple[DeskId, EntryId]
"""An entry in the chain of a desk."""
SetBack = tuple[Entry, float]
"""An entry, and by how many seconds the clock was set back before it."""


@dataclass(slots=True, kw_only=True)
class Chains:
    """What all chains come to so far, ready for more."""

    ends: dict[Link, ReadEntry]
    """Where nothing goes on yet."""
    loose: set[Link]
    """What chains go on from and is not there: another desk's entry, or one to come."""
    forks: tuple[tuple[Entry, ...], ...]
    """Entries that go on from one and the same."""
    set_back: dict[DeskId, list[SetBack]]
    """Where clocks were set back, desk by desk."""

    @classmethod
    def of(cls, held: Sequence[ReadEntry]) -> "Chains":
        """Hang entries on one another."""
        links = {(own.entry.desk, own.id): own for own in held}
        after: dict[Link, list[ReadEntry]] = defaultdict(list)
        set_back: dict[DeskId, list[SetBack]] = defaultdict(list)
        for own in held:
            link = (own.entry.desk, own.entry.prev)
            after[link].append(own)
            set_back[own.entry.desk].extend(_set_back(links.get(link), own))
        forks = (hung for hung in after.values() if len(hung) > 1)
        return cls(
            ends={link: own for link, own in links.items() if link not in after},
            loose={link for link in after if link not in links},
            forks=tuple(tuple(own.entry for own in hung) for hung in forks),
            set_back=dict(set_back),
        )

    def add(self, held: ReadEntry) -> bool:
        """Hang an entry on; False = not at the end of a chain, or one waited for it."""
        desk = held.entry.desk
        link, on = (desk, held.id), (desk, held.entry.prev)
        new = desk not in self.set_back
        if link in self.loose or not (new or on in self.ends):
            return False
        if new:
            self.loose.add(on)
        back = _set_back(self.ends.pop(on, None), held)
        self.set_back.setdefault(desk, []).extend(back)
        self.ends[link] = held
        return True

    @property
    def backs(self) -> tuple[SetBack, ...]:
        """Return where clocks were set back, desk by desk."""
        return tuple(back for own in self.set_back.values() for back in own)


def _set_back(before: ReadEntry | None, held: ReadEntry) -> list[SetBack]:
    if before is None:
        return []
    back_s = (before.entry.when - held.entry.when).total_seconds()
    return [(held.entry, back_s)] if back_s > SET_BACK_S else []
