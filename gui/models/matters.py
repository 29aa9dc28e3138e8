"""Open matters as the window shows them: the one list that everything counts by."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from gui.models.marks import may_see
from gui.snapshot import Scored, Snapshot
from scorer.event.entries import same_person
from scorer.event.matter import Matter, grouped, in_order, readiness
from scorer.ledger.matters import matters
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class MatterRow:
    """One matter; what only one person may know yet is not said."""

    matter: Matter
    text: str


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
    snapshot: Snapshot, scored: Scored | None, who: str, now: datetime
) -> MatterList:
    """List all matters of an event; without results those that entries leave open."""
    voice = Voice.of(snapshot.event)
    if scored is None or scored.results is None:
        found = grouped(in_order(snapshot.event.matters))
    else:
        found = matters(scored.event, scored.results, snapshot.state, now)
    rows = tuple(
        MatterRow(matter=matter, text=_text(matter, snapshot, voice, who))
        for matter in found
    )
    return MatterList(rows=rows, ready=voice.say(readiness(found)))


def _text(matter: Matter, snapshot: Snapshot, voice: Voice, who: str) -> str:
    title = voice.title(matter.kind.name)
    if _hidden(matter, snapshot, who):
        return f"{title}: {voice.word('hidden-until-entered-twice')}"
    return f"{title}: {voice.sentence(matter.placed)}"


def _hidden(matter: Matter, snapshot: Snapshot, who: str) -> bool:
    """Tell whether it shows entries that an official must not see before the own one."""
    if _is_one(who, matter.reveals):
        return False
    about = {(str(matter.task), str(pilot)) for pilot in matter.pilots}
    return bool(matter.reveals) and any(
        not may_see(slot, who)
        for slot in snapshot.slots
        if (slot.slot.task, slot.slot.pilot) in about
    )


def _is_one(who: str, people: Iterable[str]) -> bool:
    return any(same_person(who, name) for name in people)
