"""Every entry of every desk, in words."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from zoneinfo import ZoneInfo

from gui.blind import is_once, may_see
from gui.models.table import TableColumn
from gui.snapshot import Snapshot
from scorer.event.moments import EventTime
from scorer.event.questions import QUESTIONS
from scorer.facts import Fact, fact, number, pilot, several, term, words
from scorer.ledger.acts import (
    Act,
    ComplaintDecided,
    ComplaintFiled,
    EntryId,
    MatterAccepted,
    PilotSet,
    RowAct,
    SettingsSet,
    Undone,
    Withdrawn,
    title_of,
)
from scorer.ledger.answers import answered_anew
from scorer.ledger.api import Entry
from scorer.ledger.cells import whole_number
from scorer.words.voice import Voice

NO_NAME = "desk"
"""What a desk is called that nobody named."""


@dataclass(frozen=True, kw_only=True)
class EntryRow:
    """One entry; its words are said when it is shown, for there are thousands."""

    entry: Entry
    act: Act
    hidden: bool
    """Its values must not be seen here yet."""
    stands: str
    """What became of it."""
    pilots: frozenset[int]
    """Whom it is about."""
    voice: Voice
    zone: ZoneInfo
    labels: Mapping[EntryId, str]
    """What entries are called."""
    before: Act | None = None
    """What stood in its place, or what it reverts."""

    @cached_property
    def at(self) -> str:
        """When it was made."""
        return EventTime.of(self.entry.when, self.zone).dated()

    @cached_property
    def clock(self) -> str:
        """The time of day when it was made."""
        return EventTime.of(self.entry.when, self.zone).clock()

    @property
    def day(self) -> str:
        """The day on which it was made."""
        return f"{EventTime.of(self.entry.when, self.zone).day:%a %d %b}"

    @property
    def desk(self) -> str:
        """The name people gave the desk, else its own, and the entry's number there."""
        given, _, own = self.entry.desk.rpartition("-")
        name = own if given in {"", NO_NAME} else given
        numbered = {"desk": words(name), "number": number(self.entry.number)}
        return self.voice.say(fact("journal-desk", **numbered))

    @cached_property
    def kind(self) -> str:
        """What was done."""
        return self.voice.say(title_of(self.entry.kind))

    @cached_property
    def about(self) -> str:
        """To what."""
        if self.hidden:
            return self.voice.say(_hidden(self.act))
        return self.voice.say(said_of(self.act, self.before, self.labels, self.voice))

    def is_same(self, other: "EntryRow") -> bool:
        """Tell whether another row says the same, so that it need not be said again."""
        return (
            self.entry is other.entry
            and self.hidden == other.hidden
            and self.stands == other.stands
            and self.voice is other.voice
        )


def entry_rows(
    snapshot: Snapshot, who: str, before: Iterable[EntryRow] = ()
) -> list[EntryRow]:
    """List all entries, newest first; marks whose second keying is to be blind hidden.

    Rows `before` that say the same are taken over, with what they have said.
    """
    hidden = {
        entry.hash
        for slot in snapshot.slots
        if not may_see(slot, who) and not is_once(snapshot.event, slot.slot)
        for current in slot.keyings
        for entry in current.entries
    }
    entries, zone = snapshot.state.entries, snapshot.state.zone
    acts = {held.id: held.written for held in snapshot.state.standing.entries}
    standing = {e.hash for current in snapshot.state.current for e in current.entries}
    gone: dict[str, str] = {}
    known = {row.entry.hash: row for row in before}
    voice = Voice.of(snapshot.event)
    spoken = next((row.voice for row in known.values()), voice)
    voice = spoken if spoken == voice else voice
    labels = labels_of(entries, acts, voice)
    for entry in entries:
        act = acts[entry.hash]
        for name in entry.replaces:
            gone[name] = voice.say(fact("journal-replaced", entry=words(entry.label)))
        if isinstance(act, Withdrawn | Undone):
            how = "journal-reverted" if isinstance(act, Undone) else "journal-withdrawn"
            gone[act.entry] = voice.say(Fact(how, (("entry", words(entry.label)),)))

    rows = [
        EntryRow(
            entry=entry,
            act=acts[entry.hash],
            hidden=entry.hash in hidden,
            stands="" if entry.hash in standing else gone.get(entry.hash, ""),
            pilots=whom(acts[entry.hash], acts),
            voice=voice,
            zone=zone,
            labels=labels,
            before=_before(entry, acts),
        )
        for entry in reversed(entries)
    ]
    return [_taken_over(row, known.get(row.entry.hash)) for row in rows]


def _before(entry: Entry, acts: Mapping[EntryId, Act]) -> Act | None:
    act = acts.get(entry.hash)
    if isinstance(act, Withdrawn | Undone):
        return acts.get(act.entry)
    return next((acts.get(name) for name in entry.replaces), None)


def said_of(
    act: Act, before: Act | None, labels: Mapping[EntryId, str], voice: Voice
) -> Fact:
    """Say what was done, in a line; of settings, which questions they answer anew."""
    if isinstance(act, SettingsSet) and isinstance(before, SettingsSet):
        keys = answered_anew(before, act)
        asked = [q for q in QUESTIONS if keys & set(q.rules)]
        if asked:
            named = (voice.word(f"question-{q.name}") for q in asked)
            return fact("journal-answers", questions=several(map(words, named)))
    if isinstance(act, Withdrawn | Undone) and isinstance(before, RowAct | SettingsSet):
        label = labels.get(act.entry, act.entry[:12])  # a row's thing holds no value
        told = f"{label}: {voice.say(before.thing)}"
        return fact("journal-of-entry", entry=words(told))
    return act.journal(lambda name: labels.get(name, name[:12]))


def labels_of(
    entries: Sequence[Entry], acts: Mapping[EntryId, Act], voice: Voice
) -> dict[EntryId, str]:
    """Return what entries, with their acts, are called where another speaks of them.

    A complaint by whose it is; marks by their number alone, for some are to stay hidden.
    """
    labels = {entry.hash: entry.label for entry in entries}
    for entry in entries:
        act = acts[entry.hash]
        if isinstance(act, ComplaintFiled):
            whose = {"level": term(act.level), "pilot": pilot(act.pilot)}
            labels[entry.hash] = voice.say(fact("journal-complaint-of", **whose))
    return labels


def _taken_over(row: EntryRow, before: EntryRow | None) -> EntryRow:
    return before if before is not None and row.is_same(before) else row


def _hidden(act: Act) -> Fact:
    fields = act.fields if isinstance(act, RowAct) else {}
    cells = {name: words(fields.get(name, "")) for name in ("task", "pilot")}
    return fact("journal-hidden", **cells)


def whom(act: Act, acts: Mapping[EntryId, Act]) -> frozenset[int]:
    """Return the pilots an act is about; what it reverts is about the same."""
    if isinstance(act, Withdrawn | Undone):
        named = acts.get(act.entry)
        return whom(named, acts) if named is not None else frozenset()
    if isinstance(act, ComplaintDecided):
        named = acts.get(act.complaint)
        return whom(named, acts) if named is not None else frozenset()
    if isinstance(act, MatterAccepted):
        listed = act.fields.get("pilots", "").replace(",", " ").split()
        return frozenset(filter(None, map(whole_number, listed)))
    numbers = [getattr(act, "pilot", None)]
    if isinstance(act, RowAct | PilotSet):
        column = "number" if isinstance(act, PilotSet) else "pilot"
        numbers.append(whole_number(act.fields.get(column, "")))
    return frozenset(n for n in numbers if n is not None)


COLUMNS = (
    TableColumn(
        "At",
        lambda r: r.entry.order,
        text=lambda r: f"{r.clock}\n{r.day}",
        tip=lambda r: r.at,
        firm=True,
    ),
    TableColumn(
        "Who",
        lambda r: r.entry.who,
        text=lambda r: f"{r.entry.who}\n{r.desk}",
        tip=lambda r: r.entry.label,
        width=22,
    ),
    TableColumn(
        "What", lambda r: r.kind, text=lambda r: f"{r.kind}\n{r.about}", rest=True
    ),
    TableColumn(
        "Why, and since then",
        lambda r: r.entry.why,
        text=lambda r: f"{r.entry.why}\n{r.stands}".strip("\n"),
        width=34,
    ),
)
