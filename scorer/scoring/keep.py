"""What was found before, by content, so that what has not changed is not found again.

A key is a hash of everything that an answer depends on, so an answer never grows old: it
is asked for again or forgotten.  Results do not depend on a `Keep`, only the time they
take does.
"""

import sys
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping, Sequence
from fractions import Fraction
from operator import is_
from typing import Any, Protocol, TypeVar

from scorer.scoring.coded import Digests, digest

T = TypeVar("T")

MOST_BYTES = 400_000_000
"""About so much is kept in memory: some thousand logs of an hour at a fix a second."""
SMALL = 4_000
"""Bytes that count for an answer whose size nobody states."""
MUCH = 50
"""So many answers found at once are many."""
MOST_NAMES = 1000
"""Of tasks and flights: more than any event has."""
NAMED = 400
"""The same for what stands under the name of its place, beside its answer."""


class Lasting(Protocol):
    """A place where answers outlast the program; it may lose any of them at any time."""

    def load(self, key: str) -> Any | None:
        """Return the answer of a key; None = it is not there, or not sound."""

    def save(self, found: Mapping[str, object]) -> None:
        """Keep answers; says nothing where it cannot."""


class Keep:
    """Answers by content: as many as fit, those not asked for longest forgotten first."""

    def __init__(
        self, lasting: Lasting | None = None, most_bytes: int = MOST_BYTES
    ) -> None:
        self._lasting = lasting
        self._most = most_bytes
        self._held = 0
        self._found: OrderedDict[Hashable, tuple[Any, int]] = OrderedDict()
        self._fresh: dict[str, object] = {}
        self._newest: dict[str, tuple[str, object]] = {}
        self._names: dict[Hashable, tuple[object, str]] = {}
        self._lock = threading.RLock()
        self._digests = Digests()

    def __reduce__(self) -> tuple[Callable[[], "Keep"], tuple[()]]:
        """Take nothing along to another process."""
        return _nothing_kept, ()

    @property
    def holds(self) -> bool:
        """Tell whether anything put in may ever come back."""
        return self._most > 0

    @property
    def digests(self) -> Digests:
        """The hashes that keys are made of, for whoever asks for the same."""
        return self._digests

    @property
    def held_bytes(self) -> int:
        """About how many bytes it holds in memory."""
        return self._held

    def key(self, what: str, *parts: object) -> str:
        """Return the key of an answer that depends on these alone."""
        if not self.holds:
            return ""
        return sys.intern(digest(what, *parts, known=self._digests))

    def recent(self, key: Hashable) -> Any | None:
        """Return an answer of this program; None = it must be found."""
        with self._lock:
            if key in self._found:
                self._found.move_to_end(key)
                return self._found[key][0]
        return None

    def get(self, key: str, size: Callable[[Any], int] = lambda _: SMALL) -> Any | None:
        """Return an answer, of an earlier program too; `size` as in `put`."""
        found = self.recent(key)
        if found is None and self._lasting is not None and self.holds:
            found = self._lasting.load(key)
            if found is not None:
                self._put(key, found, size(found))
        return found

    def put(
        self,
        key: str,
        value: object,
        *,
        size: int = SMALL,
        lasts: bool = True,
        newest_of: str = "",
    ) -> None:
        """Keep an answer of about so many bytes, also where it lasts.

        What each mark changes is one of many: only the newest is written, at the end.
        """
        if not self.holds:
            return
        self._put(key, value, size)
        if lasts and self._lasting is not None:
            with self._lock:
                if newest_of:
                    self._newest[newest_of] = key, value
                else:
                    self._fresh[key] = value

    def once(
        self, what: str, parts: object, find: Callable[[], T], *, place: Hashable = None
    ) -> T:
        """Return what was found for these parts before, in this program; else find it.

        With a `place` (a pilot in a task, say), `parts` is a tuple of frozen values, and
        where they are the very objects of the last time there, no key is made.
        """
        places = None if place is None else [place]
        return self.each(what, [parts], lambda _: [find()], places)[0]

    def newest(self, what: str, of: str, parts: object, find: Callable[[], T]) -> T:
        """Return what was found for these parts before, by an earlier program too.

        Of each `of` (a flight, say) the newest answer outlasts the program.
        """
        key = self.key(what, parts)
        held: tuple[T] | None = self.get(key) if key else None
        if held is None:
            held = (find(),)
            self.put(key, held, newest_of=f"{what} {of}")
        return held[0]

    def each(
        self,
        what: str,
        parts: Sequence[Any],
        find: Callable[[Sequence[int]], Sequence[T]],
        places: Sequence[Hashable] | None = None,
    ) -> list[T]:
        """Return what was found for each of several parts, as `once` does.

        `find` is given the indices of those that were not found before, together.
        """
        if not self.holds:
            return list(find(range(len(parts))))
        known: list[tuple[T] | None] = [None] * len(parts)
        if places is not None:
            each = zip(places, parts, strict=True)
            known = [self._there((what, place), own) for place, own in each]
        other = [index for index, held in enumerate(known) if held is None]
        keys = {index: self.key(what, parts[index]) for index in other}
        for index in other:
            known[index] = self.recent(keys[index])
        wanted = [index for index in other if known[index] is None]
        for index, made in zip(wanted, find(wanted) if wanted else (), strict=True):
            known[index] = (made,)
            self._put(keys[index], known[index], SMALL)
        for index, place in enumerate(places or ()):
            if index in keys:
                self.hold((what, place), (parts[index], known[index]))
        return [held[0] for held in known if held is not None]

    def same(
        self, place: Hashable, parts: Sequence[object], find: Callable[[], T]
    ) -> T:
        """Return what was found for these very objects the last time in a place."""
        held: tuple[T] | None = self._there(place, parts) if self.holds else None
        if held is None:
            held = (find(),)
            self.hold(place, (parts, held))
        return held[0]

    def hold(self, place: Hashable, value: object, size: int = NAMED) -> None:
        """Keep in this program what stands in a place, in place of what stood there."""
        if self.holds:
            self._put(place, value, size)

    def name(self, place: Hashable, value: object, key: str) -> None:
        """Say by which key of all that it depends on the value in a place is known.

        Logs of later flights do not make room at the cost of these few.
        """
        if self.holds:
            with self._lock:
                self._names.pop(place, None)
                self._names[place] = value, key
                if len(self._names) > MOST_NAMES:
                    del self._names[next(iter(self._names))]

    def named(self, place: Hashable, value: object) -> str:
        """Return the key by which this very object is known in a place; empty = none."""
        held = self._names.get(place)
        return held[1] if held is not None and held[0] is value else ""

    def _there(self, place: Hashable, parts: Sequence[object]) -> Any | None:
        held = self.recent(place)
        if held is None or len(held[0]) != len(parts):
            return None
        if not all(map(is_, held[0], parts)) and not all(map(_same, held[0], parts)):
            return None
        return held[1]

    def settle(self) -> None:
        """Hand over to the lasting place what was found since the last time.

        Where that is much, it took so long that the newest of what changes often is
        written with it: a program that is killed later has all of it at its next start.
        """
        with self._lock:
            fresh, self._fresh = self._fresh, {}
            if len(fresh) >= MUCH:
                fresh |= self._changed()
        if fresh and self._lasting is not None:
            self._lasting.save(fresh)

    def close(self) -> None:
        """Hand over everything, the newest of what changes often too."""
        with self._lock:
            self._fresh |= self._changed()
        self.settle()

    def _changed(self) -> dict[str, object]:
        """Return the newest of what changes often, once."""
        newest, self._newest = self._newest, {}
        return dict(newest.values())

    def _put(self, key: Hashable, value: object, size: int) -> None:
        with self._lock:
            _, before = self._found.pop(key, (None, 0))
            self._found[key] = value, size
            self._held += size - before
            while self._held > self._most and len(self._found) > 1:
                _, (_, size) = self._found.popitem(last=False)
                self._held -= size


def _same(one: object, other: object) -> bool:
    """Tell whether two are one object, or plain values without any difference."""
    return one is other or (
        type(one) is type(other) and type(one) in _EXACT and one == other
    )


_EXACT = frozenset({bool, int, str, Fraction})

NOTHING_KEPT = Keep(most_bytes=0)
"""Keeps nothing: everything is found anew."""


def _nothing_kept() -> Keep:
    return NOTHING_KEPT
