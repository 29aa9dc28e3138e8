"""Open matters as the window shows them: the one list that everything counts by."""

from dataclasses import dataclass
from datetime import datetime

from gui.blind import hidden_matter, hidden_slots, pairs_of
from gui.snapshot import ScoredSnapshot, Snapshot
from scorer.event.matter import Matter, grouped, in_order, readiness
from scorer.ledger.keyings import Slot
from scorer.ledger.matters import matters
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class MatterRow:
    """One matter; what only one person may know yet is not said."""

    matter: Matter
    voice: Voice

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
) -> MatterList:
    """List all matters of an event; without results those that entries leave open.

    `slots` are the marks hidden from the official, where they were gathered already.
    """
    voice = Voice.of(snapshot.event)
    if scored is None or scored.results is None:
        found = grouped(in_order(snapshot.event.matters))
    else:
        found = matters(scored.event, scored.results, snapshot.state, now)
    hidden = pairs_of(hidden_slots(snapshot.state, who) if slots is None else slots)
    told = (hidden_matter(matter, hidden, who) for matter in found)
    rows = tuple(MatterRow(matter=matter, voice=voice) for matter in told)
    return MatterList(rows=rows, ready=voice.say(readiness(found)))
