"""Task sheets that were issued: their versions, and what changed since the last."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Pair = tuple[str, str]
Lines = Mapping[str, str]
"""What a sheet says: place and label to value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """One version of a flight's task sheet."""

    version: int
    at: str
    """When it was issued, UTC, ISO 8601."""
    why: str = ""
    before: Lines | None = None
    """What the version before it said; None = there was none."""


def lines_of(tree: Mapping[str, Any]) -> dict[str, str]:
    """Return all that a sheet says of times, places and limits, a line each."""
    return dict(_lines(tree))


def _lines(tree: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    yield from _rows("", tree["facts"])
    for task in tree["tasks"]:
        yield task["title"], task["about"]
        yield from _rows(task["title"], task["facts"])
    for group in tree["limits"]:
        for section in group["sections"]:
            title = f"{group['title']} · {section['title']}"
            yield from _rows(title, section["rows"])


def _rows(title: str, rows: Sequence[Pair]) -> Iterator[tuple[str, str]]:
    for label, value in rows:
        yield " · ".join(part for part in (title, label) if part), value


def changed(before: Lines, now: Lines) -> Iterator[tuple[str, str, str]]:
    """Yield what differs: the line, what it said and what it says; empty = nothing."""
    for name in dict.fromkeys((*now, *before)):
        old, new = before.get(name, ""), now.get(name, "")
        if old != new:
            yield name, old, new
