"""What entries would change: an event with drafts put in that nobody recorded.

Commands show this before they record anything.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scorer.event.build import build_event
from scorer.event.matter import Matter, grouped
from scorer.ledger.acts import DeskId, EntryId, Sha256
from scorer.ledger.changes import Change, changes
from scorer.ledger.entry import NO_ENTRY, Draft, Link, seal
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from scorer.ledger.replay import State, replay
from scorer.ledger.sound import sound

if TYPE_CHECKING:
    from scorer.scoring.results import StandingsTable

_NOWHERE = DeskId("tried-000000")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One pilot's place in the standings, as it is and as it would be."""

    pilot: int
    ranks: tuple[int | None, int | None]
    """None = in no rank."""
    totals: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What some drafts would come to."""

    changes: tuple[Change, ...]
    """In ranks, results and points, pilot by pilot."""
    opened: tuple[Matter, ...]
    """Matters that would be open and are not now."""
    places: tuple["Place", ...]
    """The standings side by side, of those whose rank or total changes."""
    missing: tuple[tuple[int, tuple[int, ...]], ...]
    """Who would not be accounted for, by task."""


def with_drafts(ledger: Ledger, drafts: Sequence[Draft]) -> State:
    """Return the state that drafts would make."""
    state = ledger.state()
    entries = list(state.entries)
    tick, prev = max((e.tick for e in entries), default=0), EntryId(NO_ENTRY)
    for number, draft in enumerate(drafts, start=1):
        link = Link(desk=_NOWHERE, number=number, tick=tick + number, prev=prev)
        entries.append(seal(draft, link, who=ledger.who, when=ledger.clock()))
        prev = entries[-1].hash
    own = {sha for draft in drafts for sha in draft.files}

    def stored(hashes: Iterable[Sha256]) -> set[Sha256]:
        asked = set(hashes)
        return (own & asked) | ledger.store.known_files(asked - own)

    return replay(entries, stored=stored)


def try_out(ledger: Ledger, drafts: Sequence[Draft]) -> Tried:
    """Score an event with drafts put in; raise LedgerError where they do not fit it."""
    from scorer.scoring.document import document  # noqa: PLC0415 - as in whole.py
    from scorer.scoring.score import score  # noqa: PLC0415

    now, then = sound(ledger.state()), sound(with_drafts(ledger, drafts))
    known = {one.entry for one in now.state.set_aside}
    unfit = [one for one in then.state.set_aside if one.entry not in known]
    if unfit:
        told = (f"{o.field}: found {o.found}; allowed: {o.allowed}" for o in unfit)
        raise LedgerError("; ".join(told))
    fresh = {sha: data for draft in drafts for sha, data in draft.files.items()}

    def load(sha256: Sha256) -> bytes:
        data = fresh.get(sha256)
        return data if isinstance(data, bytes) else ledger.file(sha256)

    before, after = (score(build_event(one.state.raw(load))) for one in (now, then))
    keys = {matter.key for matter in before.matters}
    fresh_ones = (m for m in after.matters if m.is_open and m.key not in keys)
    return Tried(
        changes=changes(document(before), document(after)),
        opened=grouped(fresh_ones),
        places=tuple(_places(before.standings, after.standings)),
        missing=tuple((t.task, t.missing) for t in after.tasks if t.missing),
    )


def _places(before: "StandingsTable", after: "StandingsTable") -> Iterator[Place]:
    was, then = ({row.pilot: row for row in table.rows} for table in (before, after))
    for pilot in dict.fromkeys((*then, *was)):
        both = was.get(pilot), then.get(pilot)
        ranks = [row.rank if row else None for row in both]
        totals = [row.total if row else 0 for row in both]
        if ranks[0] != ranks[1] or totals[0] != totals[1]:
            yield Place(
                pilot=pilot,
                ranks=(ranks[0], ranks[1]),
                totals=(totals[0], totals[1]),
            )
