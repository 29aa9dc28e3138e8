"""Open matters as the window shows them: the one list that everything counts by."""

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

from gui.blind import hidden_slots, secret_pairs, seen_matters
from gui.snapshot import ScoredSnapshot, Snapshot
from scorer.event.matter import Matter, grouped, in_order, readiness
from scorer.ledger.keyings import Slot
from scorer.ledger.matters import matters
from scorer.words.voice import Voice


@dataclass(frozen=True, kw_only=True)
class MatterRow:
    """One matter; what only one person may know yet is not said."""

    matter: Matter
    voice: Voice

    @cached_property
    def says(self) -> str:
        """What is open, in words."""
        return self.voice.sentence(self.matter.says)

    @cached_property
    def beside(self) -> str:
        """The same where its pilot's name stands beside it: people go by their numbers."""
        if self.matter.pilot is None:
            return self.says
        return replace(self.voice, pilots={}).sentence(self.matter.says)

    @property
    def text(self) -> str:
        """What is open, with its title; said when a page shows it."""
        matter = self.matter
        title = self.voice.title(matter.kind.name)
        return f"{title}: {self.voice.sentence(matter.placed)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class MatterList:
    """All that is open or doubtful, with what it comes to."""

    rows: tuple[MatterRow, ...] = ()
    ready: str = ""
    """Whether results could become official, in words."""

    @property
    def held_up(self) -> bool:
        """Tell whether results cannot become official."""
        return any(row.matter.holds_up for row in self.rows)


def matter_list(
    snapshot: Snapshot,
    scored: ScoredSnapshot | None,
    who: str,
    now: datetime,
    slots: frozenset[Slot] | None = None,
    *,
    before: MatterList | None = None,
) -> MatterList:
    """List all matters of an event; without results those that entries leave open.

    `slots` are the marks hidden from the official, where they were gathered already;
    `before` is an earlier list, of which rows are taken over that say the same.
    """
    voice = Voice.of(snapshot.event)
    if scored is None or scored.results is None:
        found = grouped(in_order(snapshot.event.matters))
    else:
        found = matters(scored.event, scored.results, snapshot.state, now)
    slots = (
        hidden_slots(snapshot.event, snapshot.state, who) if slots is None else slots
    )
    hidden = secret_pairs(snapshot.event, slots)
    told = seen_matters(found, hidden, who)
    known = {r.matter: r for r in before.rows if r.voice == voice} if before else {}
    rows = tuple(known.get(m) or MatterRow(matter=m, voice=voice) for m in told)
    for row in rows:  # put into words here: the window's thread has no time for it
        _ = row.says, row.beside
    return MatterList(rows=rows, ready=voice.say(readiness(told)))
