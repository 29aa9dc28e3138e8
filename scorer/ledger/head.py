"""The head of a ledger as sheets print it: what was there as results went up.

A ledger alone cannot tell whether its end was cut off, or all of it written anew with
fitting hashes.  A sheet that hangs in public can: its head names how many entries there
were, the last entry of every chain and the results, so nothing before can be changed.

Written `24:HASH:RESULTS`, `HASH+HASH` where desks have chains of their own; each is the
beginning of a SHA-256.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Self

from scorer.ledger.acts import EntryId, Sha256
from scorer.ledger.entry import Entry, ancestors, heads_of, publications

FIGURES = 32
"""Of each hash: 128 bits, more than anybody can find a second content for."""
FEWEST = 12
"""Somebody who copies a head by hand may stop here."""
_HEAD = re.compile(
    r"(?:sandtail:)?(\d{1,9}):([0-9a-f]{12,64}(?:\+[0-9a-f]{12,64})*)(?::([0-9a-f]{12,64}))?"
)
_LOOSE = re.compile(r"[\s\u200b\u00ad]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """Where a ledger stood."""

    entries: int
    hashes: tuple[str, ...]
    """Beginning of the hash of each chain's last entry, sorted."""
    results: str = ""
    """Beginning of the hash of results.json; empty where none went up with it."""

    @classmethod
    def of(cls, entries: Sequence[Entry], results: Sha256 | str = "") -> Self:
        """Return the head of all these entries."""
        hashes = tuple(one[:FIGURES] for one in heads_of(entries))
        return cls(entries=len(entries), hashes=hashes, results=results[:FIGURES])

    def __str__(self) -> str:
        parts = (str(self.entries), "+".join(self.hashes), self.results)
        return ":".join(part for part in parts if part)

    @property
    def before(self) -> str:
        """The ledger's part alone, without results."""
        return str(Head(entries=self.entries, hashes=self.hashes))


def read_head(text: str) -> Head | None:
    """Read a head as printed or scanned; None where it is none."""
    match = _HEAD.fullmatch(_LOOSE.sub("", text).casefold())
    return None if match is None else _head(match)


def heads_in(text: str) -> tuple[Head, ...]:
    """Return all heads that a text names, each once."""
    return tuple(dict.fromkeys(_head(one) for one in _HEAD.finditer(text.casefold())))


def _head(match: re.Match[str]) -> Head:
    count, hashes, results = match.groups(default="")
    return Head(
        entries=int(count), hashes=tuple(sorted(hashes.split("+"))), results=results
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """What a ledger does not hold although a head says that it did."""

    says: str
    altered: bool
    """Whether it must have been rewritten, rather than cut off."""


def lacks(entries: Sequence[Entry], head: Head) -> Iterator[Lack]:
    """Yield what contradicts a head."""
    named = [_named(entries, one) for one in head.hashes]
    for beginning, found in zip(head.hashes, named, strict=True):
        if found is None:
            yield Lack(says=_not_there(entries, head, beginning), altered=True)
    if None not in named:
        count = len(ancestors(entries, [one for one in named if one is not None]))
        if count != head.entries:
            says = (
                f"{count} entries lead up to it, where the sheet counts {head.entries}"
            )
            yield Lack(says=says, altered=True)
    acts = (act for _, act in publications(entries))
    if head.results and not any(act.results.startswith(head.results) for act in acts):
        says = (
            f"no entry says that results {head.results[:12]}… went up: it was cut off"
        )
        yield Lack(says=says, altered=False)


def _not_there(entries: Sequence[Entry], head: Head, beginning: str) -> str:
    short = max(0, head.entries - len(entries))
    what = f"its last entry {beginning[:12]}… is not here"
    if short:
        return (
            f"{what}: there were {head.entries} entries then, {len(entries)} are here"
        )
    return f"{what}, though there are {len(entries)} entries: they were written anew"


def _named(entries: Iterable[Entry], beginning: str) -> EntryId | None:
    return next((e.hash for e in entries if e.hash.startswith(beginning)), None)
