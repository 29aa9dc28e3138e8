"""What was found before, by content, so that what has not changed is not found again.

A key is a hash of everything that an answer depends on, so an answer never grows old: it
is asked for again or forgotten.  Results do not depend on a `Keep`, only the time they
take does.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol, TypeVar

from scorer.scoring.coded import Digests, digest

T = TypeVar("T")

MOST_BYTES = 400_000_000
"""About so much is kept in memory: some thousand logs of an hour at a fix a second."""
SMALL = 4_000
"""Bytes that count for an answer whose size nobody states."""


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
        self._found: OrderedDict[str, tuple[Any, int]] = OrderedDict()
        self._fresh: dict[str, object] = {}
        self._newest: dict[str, tuple[str, object]] = {}
        self._lock = threading.RLock()
        self._digests = Digests()

    @property
    def holds(self) -> bool:
        """Tell whether anything put in may ever come back."""
        return self._most > 0

    def key(self, what: str, *parts: object) -> str:
        """Return the key of an answer that depends on these alone."""
        return digest(what, *parts, known=self._digests) if self.holds else ""

    def recent(self, key: str) -> Any | None:
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

    def once(self, what: str, parts: object, find: Callable[[], T]) -> T:
        """Return what was found for these parts before, in this program; else find it."""
        return self.each(what, [parts], lambda _: [find()])[0]

    def each(
        self,
        what: str,
        parts: Sequence[object],
        find: Callable[[Sequence[int]], Sequence[T]],
    ) -> list[T]:
        """Return what was found for each of several parts, as `once` does.

        `find` is given the indices of those that were not found before, together.
        """
        if not self.holds:
            return list(find(range(len(parts))))
        keys = [self.key(what, one) for one in parts]
        known = [self.recent(key) for key in keys]
        wanted = [index for index, held in enumerate(known) if held is None]
        for index, made in zip(wanted, find(wanted) if wanted else (), strict=True):
            known[index] = (made,)
            self._put(keys[index], known[index], SMALL)
        return [held[0] for held in known if held is not None]

    def settle(self) -> None:
        """Hand over to the lasting place what was found since the last time."""
        with self._lock:
            fresh, self._fresh = self._fresh, {}
        if fresh and self._lasting is not None:
            self._lasting.save(fresh)

    def close(self) -> None:
        """Hand over everything, the newest of what changes often too."""
        with self._lock:
            newest, self._newest = self._newest, {}
            self._fresh.update(newest.values())
        self.settle()

    def _put(self, key: str, value: object, size: int) -> None:
        with self._lock:
            _, before = self._found.pop(key, (None, 0))
            self._found[key] = value, size
            self._held += size - before
            while self._held > self._most and len(self._found) > 1:
                _, (_, size) = self._found.popitem(last=False)
                self._held -= size


NOTHING_KEPT = Keep(most_bytes=0)
"""Keeps nothing: everything is found anew."""
