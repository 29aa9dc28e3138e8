"""What entries would change: an event with drafts put in that nobody recorded.

Commands show this before they record anything.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scorer.event.build import build_event
from scorer.event.matter import Matter, grouped
from scorer.event.model import Event
from scorer.ledger.acts import DeskId, EntryId, Sha256
from scorer.ledger.changes import Change, changes
from scorer.ledger.entry import NO_ENTRY, Draft, Link, seal
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from scorer.ledger.numbers import changed_numbers
from scorer.ledger.replay import State, replay
from scorer.ledger.sound import sound
from scorer.words.voice import Voice

if TYPE_CHECKING:
    from scorer.scoring.results import Results, StandingsTable

Scoring = Callable[[Event], "Results"]
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

    voice: Voice
    """How the event would speak: of pilots by their new names and numbers."""
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


def try_out(
    ledger: Ledger, drafts: Sequence[Draft], *, scoring: Scoring | None = None
) -> Tried:
    """Score an event with drafts put in; raise LedgerError where they do not fit it.

    `scoring` scores an event, with all cores say; by default here, log after log.
    """
    from scorer.scoring.document import document  # noqa: PLC0415 - as in whole.py
    from scorer.scoring.score import score  # noqa: PLC0415

    scoring = scoring or score
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

    before, after = (scoring(build_event(one.state.raw(load))) for one in (now, then))
    numbers = _new_numbers(now.state, then.state)
    keys = {matter.key for matter in before.matters}
    fresh_ones = (m for m in after.matters if m.is_open and m.key not in keys)
    return Tried(
        voice=after.voice,
        changes=changes(_renumbered(document(before), numbers), document(after)),
        opened=grouped(fresh_ones),
        places=tuple(_places(before.standings, after.standings, numbers)),
        missing=tuple((t.task, t.missing) for t in after.tasks if t.missing),
    )


def _new_numbers(now: State, then: State) -> dict[int, int]:
    """Return the numbers that drafts would change, old ones to new ones."""
    before, after = (changed_numbers(s.standing.lineages) for s in (now, then))
    fresh = {old: new for old, new in after.items() if before.get(old) != new}
    return {int(old): int(new) for old, new in fresh.items() if old.isdecimal()}


def _renumbered(tree: dict[str, Any], numbers: Mapping[int, int]) -> dict[str, Any]:
    """Return results under the new numbers: a number alone changes no score."""
    for rows in (tree["standings"], *(task["scores"] for task in tree["tasks"])):
        for row in rows:
            row["pilot"] = numbers.get(row["pilot"], row["pilot"])
    return tree


def _places(
    before: "StandingsTable", after: "StandingsTable", numbers: Mapping[int, int]
) -> Iterator[Place]:
    was = {numbers.get(row.pilot, row.pilot): row for row in before.rows}
    then = {row.pilot: row for row in after.rows}
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
