"""All that holds, thing by thing: one thing more costs what it touches.

Things are resolved each by itself (`scorer.ledger.resolve`).  What goes over all of them
(numbers that changed, two of what there may be but one, what belongs to no flight) is
counted as things come, so that nothing is walked over while there is none of it.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator, Sequence
from copy import copy
from itertools import chain

from scorer.facts import count, fact, inner
from scorer.facts import flight as flight_name
from scorer.ledger.acts import FlightSet, MarkSettled, PilotSet, Published, kinds_of
from scorer.ledger.entry import Entry
from scorer.ledger.lineage import Lineage, SortedEntries
from scorer.ledger.numbers import ChangedNumbers, changed_numbers, renumbered
from scorer.ledger.resolve import (
    DECISIONS,
    ONE_OF_A_KEY,
    Conflict,
    Current,
    conflict,
    content_key,
    key_of,
    resolved,
)

Key = tuple[object, ...]
"""What there may be only one of."""
Place = tuple[int, int]
"""A lineage, and which of what holds of it."""
Held = tuple[tuple[Current, ...], tuple[Conflict, ...]]
"""All that holds, in order of first setting down, and all clashes."""
_NO_NUMBERS = ChangedNumbers(last={}, passed={})


class Holding:
    """What holds of each lineage, ready for more."""

    def __init__(self) -> None:
        self._begin()

    def _begin(self) -> None:
        self._numbers = _NO_NUMBERS
        self._current: list[list[Current]] = []
        self._clashes: dict[int, list[Conflict]] = {}
        self._rosters: dict[int, Lineage] = {}
        self._keyed: dict[Key, dict[Place, Current]] = {}
        self._doubled: set[Key] = set()
        self._named: Counter[str] = Counter()
        self._flights: Counter[str] = Counter()

    def copy(self) -> "Holding":
        """Return one that goes on by itself, for a while."""
        own = Holding()
        vars(own).update({name: copy(held) for name, held in vars(self).items()})
        return own

    def of(
        self, lineages: Sequence[Lineage], fresh: Collection[int] | None = None
    ) -> Held:
        """Return all that holds, in order of first setting down, and all clashes.

        `fresh` are the lineages that are not those of the last time; None = all of them.
        """
        if fresh is None:
            self._begin()
            fresh = range(len(lineages))
        if self._renumbered(lineages, fresh):
            fresh = range(len(lineages))
        for n in sorted(fresh):
            if n < len(self._current):
                self._drop(n)
            else:
                self._current.append([])
            self._take(n, lineages[n])
        every = tuple(chain.from_iterable(self._current))
        current, doubles = self._one_of_each(every)
        clashes = (self._clashes[n] for n in sorted(self._clashes))
        return current, (
            *chain.from_iterable(clashes),
            *doubles,
            *self._orphans(current),
        )

    def _renumbered(self, lineages: Sequence[Lineage], fresh: Collection[int]) -> bool:
        """Tell whether lineages change numbers of pilots: all may name one."""
        touched = False
        for n in fresh:
            own = lineages[n]
            touched |= self._rosters.pop(n, None) is not None
            if own.ends and own.ends[0].is_a(PilotSet):
                self._rosters[n], touched = own, True
        if not touched:
            return False
        before = self._numbers
        self._numbers = changed_numbers(self._rosters[n] for n in sorted(self._rosters))
        return self._numbers != before

    def _drop(self, n: int) -> None:
        """Forget what held of a lineage."""
        self._clashes.pop(n, None)
        for place, item in enumerate(self._current[n]):
            self._count(item.flight, item.kind, -1)
            if item.kind in _KEYED and (key := key_of(item.act)) is not None:
                held = self._keyed[key]
                self._note(key, {at: h for at, h in held.items() if at != (n, place)})

    def _take(self, n: int, own: Lineage) -> None:
        """Take what holds of a lineage."""
        found, clashes = resolved(own)
        if self._numbers:
            found = [_under_new(item, self._numbers) for item in found]
        self._current[n] = found
        if clashes:
            self._clashes[n] = clashes
        for place, item in enumerate(found):
            kind = item.kind
            self._count(item.flight, kind, 1)
            if kind in _KEYED and (key := key_of(item.act)) is not None:
                self._note(key, {**self._keyed.get(key, {}), (n, place): item})

    def _count(self, flight: str | None, kind: str, by: int) -> None:
        if flight is not None:
            self._named[flight] += by
            if kind in _FLIGHTS:
                self._flights[flight] += by

    def _note(self, key: Key, held: dict[Place, Current]) -> None:
        """Note what there is of a key; never changed in place, for `copy` shares it."""
        self._keyed[key] = held
        if not held:
            del self._keyed[key]
        if len(held) > 1:
            self._doubled.add(key)
        else:
            self._doubled.discard(key)

    def _one_of_each(
        self, every: tuple[Current, ...]
    ) -> tuple[tuple[Current, ...], list[Conflict]]:
        """Let one thing hold per pilot number, place name and so on; list the doubles."""
        if not self._doubled:
            return every, []
        groups = sorted(sorted(self._keyed[key].items()) for key in self._doubled)
        instead: dict[int, Current | None] = {}
        conflicts = []
        for group in groups:
            items = [item for _, item in group]
            kept, clashes = _of_one_key(items)
            conflicts.extend(clashes)
            instead |= dict.fromkeys(map(id, items))
            instead |= {id(old): new for old, new in zip(items, kept, strict=False)}
        current = (instead.get(id(item), item) for item in every)
        return tuple(item for item in current if item is not None), conflicts

    def _orphans(self, current: Sequence[Current]) -> Iterator[Conflict]:
        """List what belongs to a flight that is not there, so that it is not lost."""
        lost = {flight for flight, times in self._named.items() if times} - {
            flight for flight, times in self._flights.items() if times
        }
        of: dict[str, list[Entry]] = defaultdict(list)
        for item in current if lost else ():
            if (flight := item.flight) in lost and flight is not None:
                of[flight].extend(item.entries)
        for flight, entries in sorted(of.items()):
            name, many = flight_name(flight), count(len(entries))
            yield Conflict(
                says=fact("flight-lost", entries=many, flight=name),
                entries=tuple(entries),
            )


_KEYED = kinds_of(ONE_OF_A_KEY)
_FLIGHTS = kinds_of(FlightSet)


def resolve(standing: SortedEntries) -> Held:
    """Return all that holds, in order of first setting down, and all clashes."""
    return Holding().of(standing.lineages)


def _under_new(item: Current, changed: ChangedNumbers) -> Current:
    """Return what holds under a pilot's number as it is now."""
    act = renumbered(item.act, changed.as_of(lambda: item.entries[0]))
    return item if act is None else Current(act=act, entries=item.entries)


def _of_one_key(items: Sequence[Current]) -> tuple[list[Current], list[Conflict]]:
    """Return what holds of things of which there may be only one, in their places."""
    entries = tuple(entry for item in items for entry in item.entries)
    first = items[0].act
    if len({content_key(item.act) for item in items}) == 1:
        return [Current(act=first, entries=entries)], []
    if isinstance(first, MarkSettled):  # scoring says whether they agree
        return list(items), []
    what = fact("clash-set-down", what=inner(first.thing), times=count(len(items)))
    clashes = [conflict(what, entries)]
    if isinstance(first, Published):
        return list(items), clashes
    return ([] if isinstance(first, DECISIONS) else [items[0]]), clashes
