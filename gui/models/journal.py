"""Every entry of every desk, in words."""

from collections.abc import Mapping
from dataclasses import dataclass

from gui.blind import may_see
from gui.models.table import Column
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.event.moments import EventTime
from scorer.facts import Fact, fact, words
from scorer.ledger.acts import (
    Act,
    ComplaintDecided,
    EntryId,
    MatterAccepted,
    PilotSet,
    RowAct,
    Undone,
    Withdrawn,
    title_of,
)
from scorer.ledger.api import Entry
from scorer.ledger.cells import whole_number
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryRow:
    """One entry."""

    entry: Entry
    at: str
    kind: str
    about: str
    stands: str
    """What became of it."""
    pilots: frozenset[int] = frozenset()
    """Whom it is about."""


def entry_rows(snapshot: Snapshot, who: str) -> list[EntryRow]:
    """List all entries, newest first; marks whose second keying is to be blind hidden."""
    hidden = {
        entry.hash
        for slot in snapshot.slots
        if not may_see(slot, who)
        for current in slot.keyings
        for entry in current.entries
    }
    entries, zone = snapshot.state.entries, snapshot.state.zone
    labels = {entry.hash: entry.label for entry in entries}
    by_id = {entry.hash: entry for entry in entries}
    standing = {e.hash for current in snapshot.state.current for e in current.entries}
    gone: dict[str, str] = {}
    voice = Voice.of(snapshot.event)
    for entry in entries:
        act = entry.act
        for name in entry.replaces:
            gone[name] = voice.say(fact("journal-replaced", entry=words(entry.label)))
        if isinstance(act, Withdrawn | Undone):
            how = "journal-reverted" if isinstance(act, Undone) else "journal-withdrawn"
            gone[act.entry] = voice.say(Fact(how, (("entry", words(entry.label)),)))

    def label(name: EntryId) -> str:
        return labels.get(name, name[:12])

    return [
        EntryRow(
            entry=entry,
            at=EventTime.of(entry.when, zone).dated(),
            kind=voice.say(title_of(entry.kind)),
            about=voice.say(
                _hidden(entry.act) if entry.hash in hidden else entry.act.journal(label)
            ),
            stands="" if entry.hash in standing else gone.get(entry.hash, ""),
            pilots=whom(entry, by_id),
        )
        for entry in reversed(entries)
    ]


def _hidden(act: Act) -> Fact:
    fields = act.fields if isinstance(act, RowAct) else {}
    cells = {name: words(fields.get(name, "")) for name in ("task", "pilot")}
    return fact("journal-hidden", **cells)


def whom(entry: Entry, by_id: Mapping[EntryId, Entry]) -> frozenset[int]:
    """Return the pilots an entry is about; what it reverts is about the same."""
    act = entry.act
    if isinstance(act, Withdrawn | Undone):
        named = by_id.get(act.entry)
        return whom(named, by_id) if named is not None else frozenset()
    if isinstance(act, ComplaintDecided):
        named = by_id.get(act.complaint)
        return whom(named, by_id) if named is not None else frozenset()
    if isinstance(act, MatterAccepted):
        listed = act.fields.get("pilots", "").replace(",", " ").split()
        return frozenset(filter(None, map(whole_number, listed)))
    numbers = [getattr(act, "pilot", None)]
    if isinstance(act, RowAct | PilotSet):
        column = "number" if isinstance(act, PilotSet) else "pilot"
        numbers.append(whole_number(act.fields.get(column, "")))
    return frozenset(n for n in numbers if n is not None)


COLUMNS = (
    Column("At", lambda r: r.entry.order, text=lambda r: r.at),
    Column("Desk", lambda r: r.entry.label),
    Column("Who", lambda r: r.entry.who),
    Column("Kind", lambda r: r.kind),
    Column("About", lambda r: r.about, width=44),
    Column("Why", lambda r: r.entry.why, width=26),
    Column("Since then", lambda r: r.stands, tone=lambda _: Tone.MUTED),
)
