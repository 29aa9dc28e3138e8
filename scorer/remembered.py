"""Where the engine may look for what it found before, by content.

Nowhere, unless a program says so as it starts.  What is remembered changes when something
is known, never what.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from operator import is_
from typing import Any, Protocol, TypeVar

T = TypeVar("T")


def one_and_same(given: Sequence[object], before: Sequence[object]) -> bool:
    """Tell whether things are the very objects of the last time, in their order."""
    return len(given) == len(before) and all(map(is_, given, before))


class Memory(Protocol):
    """Answers that outlast the program, none of them of another version of it."""

    def load(self, key: str) -> Any | None:
        """Return an answer; None = not known."""

    def save(self, found: Mapping[str, object]) -> None:
        """Write answers down."""

    def close(self) -> None:
        """Let go of it."""


_OPENING: list[Callable[[], Memory | None]] = []


@contextmanager
def remembering_in(opening: Callable[[], Memory | None]) -> Iterator[None]:
    """Let what is found meanwhile be remembered; `opening` returns None for nowhere."""
    _OPENING.append(opening)
    try:
        yield
    finally:
        _OPENING.remove(opening)


def remembered(key: str, form: type[T], find: Callable[[], T]) -> T:
    """Return what a key stands for, found now or before."""
    memory = _OPENING[-1]() if _OPENING else None
    if memory is None:
        return find()
    with closing(memory):
        known = memory.load(key)
        if isinstance(known, form):
            return known
        found = find()
        memory.save({key: found})
        return found
