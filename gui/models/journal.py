"""Every entry of every desk, in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from gui.models.marks import may_see
from gui.models.table import Column
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.event.moments import EventTime
from scorer.ledger.acts import (
    Act,
    Aside,
    ComplaintDecided,
    ComplaintFiled,
    FlightSet,
    LogAdded,
    LogAssigned,
    MatterAccepted,
    NoteMade,
    PilotSet,
    PlaceSet,
    Published,
    RowAct,
    TerrainSet,
    Undone,
    Withdrawn,
)
from scorer.ledger.api import Entry
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryRow:
    """One entry."""

    entry: Entry
    at: str
    about: str
    stands: str
    """What became of it."""


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
    standing = {e.hash for current in snapshot.state.current for e in current.entries}
    gone: dict[str, str] = {}
    for entry in entries:
        act = entry.act
        for name in entry.replaces:
            gone[name] = f"replaced by {entry.label}"
        if isinstance(act, Withdrawn | Undone):
            word = "undone" if isinstance(act, Undone) else "withdrawn"
            gone[act.entry] = f"{word} by {entry.label}"
    return [
        EntryRow(
            entry=entry,
            at=EventTime.of(entry.when, zone).dated(),
            about=_hidden(entry.act)
            if entry.hash in hidden
            else about(entry.act, labels),
            stands="" if entry.hash in standing else gone.get(entry.hash, ""),
        )
        for entry in reversed(entries)
    ]


def _hidden(act: Act) -> str:
    fields = act.fields if isinstance(act, RowAct) else {}
    where = ", ".join(f"{n} {fields.get(n, '')}" for n in ("task", "pilot"))
    return f"{where}: hidden until keyed twice"


def about(act: Act, labels: Mapping[Any, str]) -> str:  # noqa: C901 - one line a kind
    """Say in one line what an act is about."""
    match act:
        case RowAct():
            cells = [f"{n} {t}" for n, t in act.fields.items() if n != "by" and t]
            return ", ".join(cells)
        case PilotSet():
            return " ".join(t for t in act.fields.values() if t)
        case PlaceSet():
            found = act.feature.get("properties") or {}
            return f"{found.get('kind', 'place')} {found.get('name', '')}"
        case FlightSet():
            return f"flight {act.flight}, {len(act.settings.get('task', []))} tasks"
        case LogAdded() | TerrainSet():
            return act.name
        case LogAssigned():
            whose = "nobody" if act.pilot is None else f"pilot {act.pilot}"
            return f"{act.name} to {whose}"
        case Withdrawn() | Undone():
            return f"entry {labels.get(act.entry, act.entry[:12])}"
        case Published():
            tasks = ", ".join(map(str, act.tasks)) or "whole event"
            return f"{act.stage}, version {act.version}, {tasks}"
        case ComplaintFiled():
            return f"pilot {act.pilot}: {act.text}"
        case ComplaintDecided():
            return f"{act.verdict}: entry {labels.get(act.complaint, '')}"
        case MatterAccepted():
            return _accepted(act.fields)
        case NoteMade() | Aside():
            return act.text
    return ""


def _accepted(cells: Mapping[str, str]) -> str:
    named = (f"{n} {cells[n]}" for n in ("task", "pilots") if cells.get(n))
    return ", ".join((*named, Voice().title(cells.get("kind", ""))))


COLUMNS = (
    Column("At", lambda r: r.entry.order, text=lambda r: r.at),
    Column("Desk", lambda r: r.entry.label),
    Column("Who", lambda r: r.entry.who),
    Column("Kind", lambda r: r.entry.kind),
    Column("About", lambda r: r.about, width=44),
    Column("Why", lambda r: r.entry.why, width=26),
    Column("Since then", lambda r: r.stands, tone=lambda _: Tone.MUTED),
)
