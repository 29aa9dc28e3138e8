"""The marks of one task as an official may see them: blind until keyed twice."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from gui.blind import may_see, own_keying
from gui.models.table import RIGHT, TableColumn
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.event.entries import same_person
from scorer.event.model import Pilot, ReportKind, Task
from scorer.event.moments import EventTime
from scorer.ledger.acts import EntryId, Fields, MarkKeyed, RowAct
from scorer.ledger.api import Draft
from scorer.ledger.cells import whole_number
from scorer.ledger.keyings import SlotState, slot_of
from scorer.scoring.keyings import Keyed
from scorer.tasks.kinds import KINDS
from scorer.units import Unreadable, length_m
from scorer.words.voice import Voice

HIDDEN = "hidden"


class MarkState(StrEnum):
    """How far one mark has come, for the official at the desk."""

    WAITING = "being written"
    DIFFERS = "entries differ"
    CONTRADICTED = "mark, yet reported not flown"
    MISSING = "to enter"
    SECOND = "to enter a second time"
    ONCE = "entered once, by you"
    NOT_FLOWN = "reported not flown"
    AGREE = "agrees"
    SETTLED = "settled"


TONES = {
    MarkState.WAITING: Tone.WARN,
    MarkState.DIFFERS: Tone.BAD,
    MarkState.CONTRADICTED: Tone.BAD,
    MarkState.MISSING: Tone.PLAIN,
    MarkState.SECOND: Tone.ACCENT,
    MarkState.ONCE: Tone.MUTED,
    MarkState.NOT_FLOWN: Tone.MUTED,
    MarkState.AGREE: Tone.GOOD,
    MarkState.SETTLED: Tone.GOOD,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkRow:
    """One mark of one pilot."""

    pilot: int
    name: str
    registration: str
    mark: str
    state: MarkState
    value: str
    """As keyed; `hidden` while the second keying is to be blind."""
    metres: float | None
    """The value read, for sorting; None where hidden."""
    by: str
    method: str
    time: str
    note: str
    warning: str
    own: tuple[EntryId, ...] = ()
    """The official's own entry, which may be corrected."""


def mark_rows(
    snapshot: Snapshot,
    task: Task,
    who: str,
    *,
    pending: Sequence[Draft] = (),
    warnings: Sequence[tuple[int, str]] = (),
) -> list[MarkRow]:
    """List the marks of a task: every pilot, and every mark where there are several."""
    known = {
        (s.slot.pilot, s.slot.mark): s
        for s in snapshot.slots
        if (s.slot.flight, s.slot.task) == (task.flight, str(task.number))
    }
    waiting = dict(_waiting(pending, task, who))
    warned = dict(reversed(warnings))
    not_flown = _not_flown(snapshot, task)
    rows = []
    held: dict[str, list[str]] = {}
    for number, mark in (*known, *waiting):
        held.setdefault(number, []).append(mark)
    for pilot in snapshot.event.pilots:
        if not pilot.takes_part(task.number) and str(pilot.number) not in held:
            continue
        for mark in _marks_of(task, held.get(str(pilot.number), [])):
            key = (str(pilot.number), mark)
            maker = _Maker(snapshot=snapshot, pilot=pilot, mark=mark, who=who)
            rows.append(
                maker.row(
                    known.get(key),
                    waiting.get(key),
                    absent=pilot.number in not_flown,
                    warning=warned.get(pilot.number, ""),
                )
            )
    return rows


def roles_of(task: Task) -> tuple[str, ...]:
    """Return the marks that a task asks each pilot for; empty = one without a name."""
    return KINDS[task.kind].roles


def _marks_of(task: Task, own: Sequence[str]) -> list[str]:
    return sorted({*(roles_of(task) or ([] if own else [""])), *own})


def _waiting(
    pending: Sequence[Draft], task: Task, who: str
) -> Iterator[tuple[tuple[str, str], Draft]]:
    """Yield an official's own entries on their way: others' may be first values."""
    for draft in pending:
        act = draft.act
        if not isinstance(act, MarkKeyed) or not same_person(
            act.fields.get("by", ""), who
        ):
            continue
        if act.flight == task.flight:
            slot = slot_of(act)
            if slot.task == str(task.number):
                yield (slot.pilot, slot.mark), draft


def _not_flown(snapshot: Snapshot, task: Task) -> set[int]:
    flight = snapshot.flight(task.flight)
    reports = flight.reports if flight else ()
    return {
        r.pilot
        for r in reports
        if r.task == task.number and r.kind is ReportKind.NOT_FLOWN
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maker:
    snapshot: Snapshot
    pilot: Pilot
    mark: str
    who: str

    def row(
        self,
        slot: SlotState | None,
        waiting: Draft | None,
        *,
        absent: bool,
        warning: str,
    ) -> MarkRow:
        """Make the row of one mark."""
        mine = own_keying(slot, self.who) if slot else None
        act = self._shown(slot, waiting)
        fields: Fields = act.fields if act else {}
        hidden = slot is not None and act is None
        return MarkRow(
            pilot=self.pilot.number,
            name=self.pilot.name,
            registration=self.pilot.registration,
            mark=self.mark,
            state=self._state(slot, waiting, mine=mine is not None, absent=absent),
            value=HIDDEN if hidden else _value(fields),
            metres=self._metres(fields),
            by=", ".join(slot.people) if slot else "",
            method="" if hidden else fields.get("method", ""),
            time=fields.get("time", ""),
            note=fields.get("note", ""),
            warning="" if hidden else warning,
            own=mine.ids if mine else (),
        )

    def _shown(self, slot: SlotState | None, waiting: Draft | None) -> RowAct | None:
        """Return the measurement that this official may see."""
        if waiting is not None and isinstance(waiting.act, RowAct):
            return waiting.act
        if slot is None:
            return None
        if slot.settled is not None and isinstance(slot.settled.act, RowAct):
            return slot.settled.act
        if not may_see(slot, self.who):
            return None
        own = own_keying(slot, self.who) or slot.keyings[0]
        return own.act if isinstance(own.act, RowAct) else None

    def _state(
        self,
        slot: SlotState | None,
        waiting: Draft | None,
        *,
        mine: bool,
        absent: bool,
    ) -> MarkState:
        if waiting is not None:
            return MarkState.WAITING
        if slot is None:
            return MarkState.NOT_FLOWN if absent else MarkState.MISSING
        if slot.disputed:
            return MarkState.DIFFERS
        if slot.open and absent:
            return MarkState.CONTRADICTED
        if slot.state is Keyed.ONCE:
            return MarkState.ONCE if mine else MarkState.SECOND
        return MarkState.SETTLED if slot.state is Keyed.SETTLED else MarkState.AGREE

    def _metres(self, fields: Fields) -> float | None:
        text, unit = fields.get("distance", ""), fields.get("unit", "")
        try:
            return length_m(text, unit or self.snapshot.bare) if text else None
        except Unreadable:
            return None


def _value(fields: Fields) -> str:
    if fields.get("method") == "none":
        return "no mark found"
    shown = ("distance", "unit", "bearing", "from", "distance2", "from2", "side")
    more = ("easting", "northing", "lat", "lon")
    parts = [fields[name] for name in (*shown, *more) if fields.get(name)]
    return " · ".join(parts)


def understood(fields: Fields, snapshot: Snapshot) -> str:
    """Say what was measured, a taped distance as the event's people read it."""
    voice = Voice.of(snapshot.event)
    if fields.get("method") == "none":
        return voice.term("method-none")
    try:
        unit = fields.get("unit", "") or snapshot.bare
        length = voice.length(length_m(fields.get("distance", ""), unit))
    except Unreadable:
        return _value(fields)
    beside = {name: text for name, text in fields.items() if name != "distance"}
    rest = _value({**beside, "unit": ""})
    return f"{length} · {rest}" if rest else length


class WithFirst(StrEnum):
    """How an own entry stands beside that of somebody else."""

    AGREE = "✓ Agree"
    DIFFER = "Differ"
    ALONE = "no second"
    ENOUGH = "counts"
    WAITING = "on its way"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnRow:
    """One entry of the official at the desk."""

    pilot: int
    name: str
    mark: str
    value: str
    at: str
    order: tuple[int, int]
    """The newest has the greatest."""
    beside: WithFirst
    fields: Fields
    ids: tuple[EntryId, ...] = ()
    """Empty while it is on its way."""


def own_rows(
    snapshot: Snapshot, task: Task, who: str, pending: Sequence[Draft] = ()
) -> list[OwnRow]:
    """List what an official entered of a task, the newest first."""
    twice = snapshot.event.book_of(task).keying.twice
    rows = []
    for state in snapshot.slots:
        slot, mine = state.slot, own_keying(state, who)
        if (slot.flight, slot.task) != (task.flight, str(task.number)) or mine is None:
            continue
        if isinstance(mine.act, RowAct):
            at = EventTime.of(mine.entry.when, snapshot.state.zone).clock(seconds=False)
            order = mine.entry.tick, mine.entry.number
            beside = _beside(state, twice=twice)
            row = _own(snapshot, mine.act, at=at, order=order, beside=beside)
            rows.append(replace(row, ids=mine.ids))
    waiting = [draft for _, draft in _waiting(pending, task, who)]
    last = max((row.order[0] for row in rows), default=0)
    for number, draft in enumerate(waiting):
        if isinstance(draft.act, RowAct):
            order = last + 1, number
            beside = WithFirst.WAITING
            rows.append(_own(snapshot, draft.act, at="", order=order, beside=beside))
    gone = {name for draft in waiting for name in draft.replaces}
    kept = [row for row in rows if not gone & set(row.ids)]
    return sorted(kept, key=lambda row: row.order, reverse=True)


def _own(
    snapshot: Snapshot,
    act: RowAct,
    *,
    at: str,
    order: tuple[int, int],
    beside: WithFirst,
) -> OwnRow:
    slot = slot_of(act)
    pilot = whole_number(slot.pilot) or 0
    return OwnRow(
        pilot=pilot,
        name=snapshot.pilot_name(pilot),
        mark=slot.mark,
        value=understood(act.fields, snapshot),
        at=at,
        order=order,
        beside=beside,
        fields=act.fields,
    )


def _beside(state: SlotState, *, twice: bool) -> WithFirst:
    if state.disputed:
        return WithFirst.DIFFER
    if state.state is not Keyed.ONCE:
        return WithFirst.AGREE
    return WithFirst.ALONE if twice else WithFirst.ENOUGH


_BESIDE_TONES = {
    WithFirst.AGREE: Tone.GOOD,
    WithFirst.DIFFER: Tone.BAD,
    WithFirst.ALONE: Tone.MUTED,
    WithFirst.ENOUGH: Tone.MUTED,
    WithFirst.WAITING: Tone.WARN,
}
OWN_COLUMNS = (
    TableColumn("No.", lambda r: r.pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.name, width=24, rest=True),
    TableColumn("Mark", lambda r: r.mark),
    TableColumn("Your entry", lambda r: r.value, align=RIGHT, width=24),
    TableColumn("At", lambda r: r.order, text=lambda r: r.at, firm=True),
    TableColumn(
        "With the first",
        lambda r: r.beside,
        text=lambda r: str(r.beside),
        tone=lambda r: _BESIDE_TONES[r.beside],
    ),
)
"""Columns of the official's last entries."""


COLUMNS = (
    TableColumn("No.", lambda r: r.pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.name, tip=lambda r: r.registration, width=28),
    TableColumn("Mark", lambda r: r.mark),
    TableColumn(
        "State",
        lambda r: list(MarkState).index(r.state),
        text=lambda r: str(r.state),
        tone=lambda r: TONES[r.state],
    ),
    TableColumn(
        "Entered",
        lambda r: r.metres,
        text=lambda r: r.value,
        align=RIGHT,
        tone=lambda r: Tone.MUTED if r.value == HIDDEN else Tone.PLAIN,
        width=22,
    ),
    TableColumn("Entered by", lambda r: r.by, width=24),
    TableColumn("Time", lambda r: r.time),
    TableColumn("Method", lambda r: r.method),
    TableColumn("Note", lambda r: r.note, width=24),
    TableColumn("Worth knowing", lambda r: r.warning, tone=lambda _: Tone.WARN),
)
"""Columns of the keying page."""
