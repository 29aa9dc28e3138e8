"""What entries would change: an event with drafts put in that nobody recorded.

Commands show this before they record anything.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from scorer.event.build import build_event
from scorer.event.matter import Matter, grouped
from scorer.event.model import Event, SetAside
from scorer.facts import Fact, bearing, fact, inner, length, words
from scorer.facts import place as named
from scorer.geodesy.site import Site
from scorer.geodesy.stood import Stood
from scorer.ledger.acts import EntryId, PlaceSet, Sha256, TargetLogged
from scorer.ledger.aside import in_time
from scorer.ledger.changes import Change, changes
from scorer.ledger.entry import NO_ENTRY, UNWRITTEN, Draft, Entry, Link, seal
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from scorer.ledger.numbers import numbers_since, under_new, with_other_numbers
from scorer.ledger.replay import State
from scorer.ledger.sound import Sound, sound
from scorer.words.voice import Voice

if TYPE_CHECKING:
    from scorer.scoring.results import Results, StandingsTable

Scoring = Callable[[Event], "Results"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceChange:
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
    closed: tuple[Matter, ...]
    """Matters that are open now and would not be."""
    moves: tuple[Fact, ...]
    """How far targets and other points would be moved."""
    places: tuple["PlaceChange", ...]
    """The standings side by side, of those whose rank or total changes."""
    missing: tuple[tuple[int, tuple[int, ...]], ...]
    """Who would still not be accounted for, by task, where somebody would be now."""


def with_drafts(ledger: Ledger, drafts: Sequence[Draft]) -> State:
    """Return the state that drafts would make."""
    if not drafts:
        return ledger.state()
    entries: list[Entry] = []
    known = ledger.state().standing.entries  # in the order of their ticks
    said = (one.entry for one in reversed(known))
    tick = next((own.tick for own in said if in_time(own, len(known))), 0)
    prev = EntryId(NO_ENTRY)
    for number, draft in enumerate(drafts, start=1):
        link = Link(desk=UNWRITTEN, number=number, tick=tick + number, prev=prev)
        entries.append(seal(draft, link, who=ledger.who, when=ledger.clock()))
        prev = entries[-1].hash
    own = {sha for draft in drafts for sha in draft.files}

    def stored(hashes: Iterable[Sha256]) -> set[Sha256]:
        asked = set(hashes)
        return (own & asked) | ledger.store.known_files(asked - own)

    return ledger.with_more(entries, stored)


def try_out(
    ledger: Ledger, drafts: Sequence[Draft], *, scoring: Scoring | None = None
) -> Tried:
    """Score an event with drafts put in; raise LedgerError where they do not fit it.

    `scoring` scores an event, with all cores say; by default here, log after log.
    """
    from scorer.scoring.score import score  # noqa: PLC0415 - as in event_commands.py

    scoring = scoring or score
    now, then = _now_and_then(ledger, drafts)
    if unfit := _newly_aside(now, then):
        raise LedgerError(_told(unfit))
    for label in _held_again(now, then):
        raise LedgerError(Voice().say(fact("beside-withdrawal", entry=words(label))))
    fresh = {
        sha256: data
        for draft in drafts
        for sha256, data in draft.files.items()
        if isinstance(data, bytes)
    }
    events = [build_event(ledger.raw(one.state, fresh)) for one in (now, then)]
    before, after = map(scoring, events)
    changed = with_other_numbers(then.state.standing.lineages)
    numbers = numbers_since(changed, now.state.entries, now.state.heads)
    both = _written(before, after, numbers)
    keys, new_keys = ({m.key for m in one.matters} for one in (before, after))
    fresh_ones = [m for m in after.matters if m.is_open and m.key not in keys]
    asked = set(map(_asks_what, fresh_ones))  # what stays open with other values
    done = (
        m
        for m in before.matters
        if m.holds_up and m.key not in new_keys and _asks_what(m) not in asked
    )
    known_missing = {(t.task, t.missing) for t in before.tasks}
    missing = ((t.task, t.missing) for t in after.tasks if t.missing)
    return Tried(
        voice=after.voice,
        changes=changes(*both),
        opened=grouped(fresh_ones),
        closed=grouped(done),
        moves=tuple(moves_between(*events)) if _moves(drafts) else (),
        places=tuple(_places(before.standings, after.standings, numbers)),
        missing=tuple(own for own in missing if own not in known_missing),
    )


def refuse_unfit(ledger: Ledger, draft: Draft, entry: Entry) -> None:
    """Raise LedgerError where a draft that takes an entry back would be set aside."""
    unfit = [
        o for o in _newly_aside(*_now_and_then(ledger, [draft])) if o.desk == UNWRITTEN
    ]
    if unfit:
        what = inner(entry.act.thing)
        says = fact("withdraw-unfit", entry=words(entry.label), what=what)
        raise LedgerError(Voice().say(says))


def _now_and_then(ledger: Ledger, drafts: Sequence[Draft]) -> tuple[Sound, Sound]:
    return sound(ledger.state()), sound(with_drafts(ledger, drafts))


def _newly_aside(now: Sound, then: Sound) -> list[SetAside]:
    known = {one.entry for one in now.state.set_aside}
    return [one for one in then.state.set_aside if one.entry not in known]


def _held_again(now: Sound, then: Sound) -> Iterator[str]:
    """Yield the withdrawals set aside now that drafts would clash with: they hold again."""
    aside = {one.entry for one in now.state.set_aside}
    for conflict in then.state.conflicts:
        if any(entry.desk == UNWRITTEN for entry in conflict.entries):
            yield from (e.label for e in conflict.entries if e.hash in aside)


def _told(unfit: Iterable[SetAside]) -> str:
    told = (f"{o.field}: found {o.found}; allowed: {o.allowed}" for o in unfit)
    return "; ".join(dict.fromkeys(told))


def _written(
    before: "Results", after: "Results", numbers: Mapping[int, int]
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Write both as they are compared; where nobody's number changed, what differs."""
    from scorer.scoring.document import compared  # noqa: PLC0415 - as in event_commands.py

    if numbers:
        return under_new(compared(before), numbers), compared(after)
    return compared(before, after), compared(after, before)


def _asks_what(matter: Matter) -> tuple[object, ...]:
    return (matter.kind.name, matter.says.kind, matter.flight, matter.task, matter.mark)


def _moves(drafts: Iterable[Draft]) -> bool:
    return any(isinstance(draft.act, PlaceSet | TargetLogged) for draft in drafts)


def moves_between(before: Event, after: Event) -> Iterator[Fact]:
    """Say of each point that stands elsewhere in the second event how far it moved."""
    old, new = Site.of(before), Site.of(after)
    pairs = [
        (old.spots[name], spot)
        for name, spot in new.spots.items()
        if name in old.spots and old.spots[name].point != spot.point
    ]
    stood: dict[tuple[int, str], list[Stood]] = {}
    for one in new.stood:
        stood.setdefault((one.task, one.spot.name), []).append(one)
    pairs += [
        (a.spot, b.spot)
        for own in stood.values()
        for a, b in pairwise(own)
        if b not in old.stood
    ]
    for start, end in pairs:
        away, towards = new.distance_m(start, end), new.bearing_deg(start, end)
        values = {"away": length(away), "bearing": bearing(towards)}
        yield fact("is-moved", place=named(end.name), **values)


def _places(
    before: "StandingsTable", after: "StandingsTable", numbers: Mapping[int, int]
) -> Iterator[PlaceChange]:
    was = {numbers.get(row.pilot, row.pilot): row for row in before.rows}
    then = {row.pilot: row for row in after.rows}
    for pilot in dict.fromkeys((*then, *was)):
        both = was.get(pilot), then.get(pilot)
        ranks = [row.rank if row else None for row in both]
        totals = [row.total if row else 0 for row in both]
        if ranks[0] != ranks[1] or totals[0] != totals[1]:
            yield PlaceChange(
                pilot=pilot,
                ranks=(ranks[0], ranks[1]),
                totals=(totals[0], totals[1]),
            )
