"""Desks compare clocks: whoever sets a deadline must not have a clock that is off.

A desk's clock is held against the entries of all desks, none of which can lie in the
future, and against the clock of the database server where there is one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from scorer.event.matter import Closes, Matter, matter_kind
from scorer.facts import Fact, fact, span, term, words
from scorer.ledger.entry import Entry
from scorer.ledger.ledger import Ledger

WARN_FROM_S = 60.0
CONFIRM_FROM_S = 300.0
"""A clock off by this much sets no deadline unless somebody confirms it by name."""
FIRST_YEAR = 2020
"""A clock that shows an earlier year was never set: this program is younger."""
CLOCK = matter_kind("desk-clock", closes=Closes.PUBLISH, acceptable=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Off:
    """By how much a desk's clock seems wrong."""

    off_s: float
    """Seconds; negative = it is behind."""
    against: str
    """What it was compared with: a word of the catalogue."""
    entry: Entry | None = None
    """The entry that lies in its future."""

    @property
    def says(self) -> Fact:
        """State it, with what to do."""
        other = words(self.entry.label) if self.entry else term(self.against)
        if self.off_s < 0:
            return fact("clock-behind", off=span(-self.off_s), other=other)
        return fact("clock-ahead", off=span(self.off_s), other=other)


def off_from(
    entries: Sequence[Entry], now: datetime, server: datetime | None = None
) -> Off | None:
    """Return how far a clock is off, the greater of both comparisons; None = under 60 s."""
    found = []
    if server is not None:
        found.append(Off(off_s=(now - server).total_seconds(), against="server-clock"))
    latest = max(entries, key=lambda entry: entry.when, default=None)
    if latest is not None and latest.when > now:
        behind_s = (now - latest.when).total_seconds()
        found.append(Off(off_s=behind_s, against="an-entry", entry=latest))
    worst = max(found, key=lambda off: abs(off.off_s), default=None)
    return worst if worst and abs(worst.off_s) >= WARN_FROM_S else None


def desk_off(ledger: Ledger) -> Off | None:
    """Return how far the clock of this desk is off."""
    server = ledger.store.server_time()
    return off_from(ledger.state().entries, ledger.clock(), server)


def clock_matters(off: Off | None) -> tuple[Matter, ...]:
    """State a clock that is off as a matter."""
    return () if off is None else (Matter(kind=CLOCK, says=off.says),)


def must_confirm(off: Off | None) -> bool:
    """Tell whether a deadline needs somebody who confirms the clock by name."""
    return off is not None and abs(off.off_s) >= CONFIRM_FROM_S


def suspect(entries: Sequence[Entry]) -> list[tuple[Entry, Entry | None]]:
    """Return entries of impossible moments, each with the one it should follow.

    Those of a year before `FIRST_YEAR`, and those over five minutes before one that stood
    before them when they were written.
    """
    ordered = sorted(entries, key=lambda entry: (entry.tick, entry.desk))
    found: list[tuple[Entry, Entry | None]] = [
        (entry, None) for entry in ordered if entry.when.year < FIRST_YEAR
    ]
    told = {entry.hash for entry, _ in found}
    for before, entry in pairwise(ordered):
        back_s = (before.when - entry.when).total_seconds()
        later = entry.tick > before.tick
        if later and back_s >= CONFIRM_FROM_S and entry.hash not in told:
            found.append((entry, before))
    return found
