"""What can be said of a measurement while it is being keyed.

Reading is the engine's own (`read_keying`), so that what is taken here is what will be
scored.  Values that somebody else keyed for the same marker are never looked at: the
second keying is blind.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum
from zoneinfo import ZoneInfo

from gui.snapshot import Snapshot
from scorer.event.entries import same_person
from scorer.event.model import Flight, Keying, ReportKind, Task
from scorer.event.moments import Clock
from scorer.event.raw import Row
from scorer.event.reading import Faults
from scorer.event.rows import Known, read_keying
from scorer.ledger.acts import EntryId, RowAct
from scorer.ledger.api import Current, Draft
from scorer.ledger.keyings import SlotState, keyed_by, slot_of
from scorer.units import FOOT_M, Unreadable, length_m, show_length

NEVER_SO_FAR_M = 5_000.0
"""A taped distance beyond this is no tape reading; common practice, no source."""


class Weight(StrEnum):
    """What a notice does to Enter."""

    STOP = "stop"
    """The entry cannot be recorded so."""
    ASK = "ask"
    """Enter once more records it."""
    TELL = "tell"
    """For information."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """One thing worth knowing before Enter."""

    weight: Weight
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What stands in the entry line, and who is at the desk."""

    flight: str
    task: int
    who: str
    fields: Mapping[str, str]
    replaces: tuple[EntryId, ...] = ()
    """Own earlier entry that this one corrects."""


def read(snapshot: Snapshot, typed: Typed) -> tuple[Keying | None, tuple[Notice, ...]]:
    """Read the entry line as scoring will; with every fault as a notice."""
    flight = snapshot.flight(typed.flight)
    if flight is None:
        return None, (_stop("choose a task first"),)
    faults = Faults()
    keying = read_keying(Row(fields=typed.fields), known_in(snapshot, flight), faults)
    notices = [_stop(_fault_text(f.field, f.allowed, f.remedy)) for f in faults.found]
    return keying, tuple(notices)


def check(
    snapshot: Snapshot,
    typed: Typed,
    *,
    near_m: float | None = None,
    pending: tuple[Draft, ...] = (),
) -> tuple[Notice, ...]:
    """Return all notices about the entry line, those that stop first.

    `near_m`: how near the pilot's track came to the task's target, where that is known.
    """
    keying, notices = read(snapshot, typed)
    task = snapshot.task(typed.task)
    if keying is None or task is None:
        return notices
    found = [
        *_already(snapshot, typed, keying, pending),
        *_not_flown(snapshot, typed, keying),
        *_size(snapshot, task, keying),
        *_far(snapshot, task, keying, near_m),
    ]
    order = list(Weight)
    return tuple(sorted(found, key=lambda notice: order.index(notice.weight)))


def known_in(snapshot: Snapshot, flight: Flight) -> Known:
    """Return what rows of a flight may refer to."""
    event = snapshot.event
    return Known(
        pilots={p.number: p for p in event.pilots},
        places={p.name: p for p in event.places},
        tasks={t.number: t for t in event.tasks},
        flight=flight.id,
        own=frozenset(t.number for t in flight.tasks),
        clock=Clock(
            flight.date,
            ZoneInfo(event.time_zone),
            [p for t in flight.tasks for p in t.periods],
        ),
        units=event.units,
    )


def _fault_text(field: str | None, allowed: str, remedy: str) -> str:
    text = f"{field}: allowed is {allowed}" if field else allowed
    return f"{text}. {remedy}" if remedy else text


def _stop(text: str) -> Notice:
    return Notice(weight=Weight.STOP, text=text)


def _ask(text: str) -> Notice:
    return Notice(weight=Weight.ASK, text=text)


def _already(
    snapshot: Snapshot, typed: Typed, keying: Keying, pending: tuple[Draft, ...]
) -> Iterator[Notice]:
    slot = slot_in(snapshot, typed, keying)
    waiting = any(_same_mark(draft, typed, keying) for draft in pending)
    if typed.replaces:
        yield Notice(weight=Weight.TELL, text="corrects your earlier entry")
        return
    if waiting or (slot is not None and _by(slot, typed.who)):
        yield _stop(
            f"you entered pilot {keying.pilot} in this task already: choose the row and "
            "press F7 to correct it, or another pilot"
        )
    elif slot is not None and len(slot.people) >= 2:
        yield _ask(f"entered twice already, by {' and '.join(slot.people)}")
    elif slot is not None and slot.people:
        yield Notice(
            weight=Weight.TELL,
            text=f"you are the second person: {slot.people[0]}’s entry stays hidden",
        )


def _same_mark(draft: Draft, typed: Typed, keying: Keying) -> bool:
    act = draft.act
    if not isinstance(act, RowAct) or act.flight != typed.flight:
        return False
    slot = slot_of(act)
    own = (str(keying.task), str(keying.pilot), keying.mark)
    return (slot.task, slot.pilot, slot.mark) == own


def slot_in(snapshot: Snapshot, typed: Typed, keying: Keying) -> SlotState | None:
    """Find what was keyed for the same mark."""
    own = (typed.flight, str(keying.task), str(keying.pilot), keying.mark)
    for state in snapshot.slots:
        slot = state.slot
        if (slot.flight, slot.task, slot.pilot, slot.mark) == own:
            return state
    return None


def own_keying(slot: SlotState, who: str) -> Current | None:
    """Return what an official keyed for a mark."""
    return next((c for c in slot.keyings if same_person(keyed_by(c), who)), None)


def _by(slot: SlotState, who: str) -> bool:
    return own_keying(slot, who) is not None


def _not_flown(snapshot: Snapshot, typed: Typed, keying: Keying) -> Iterator[Notice]:
    flight = snapshot.flight(typed.flight)
    for report in flight.reports if flight else ():
        same = (report.task, report.pilot) == (keying.task, keying.pilot)
        if same and report.kind is ReportKind.NOT_FLOWN:
            by = f" by {report.by}" if report.by else ""
            yield _ask(f"reported{by} as not flown in this task")


def _size(snapshot: Snapshot, task: Task, keying: Keying) -> Iterator[Notice]:
    """Tell of a length that would be likely if its unit were another one."""
    distance_m, radius_m = keying.distance_m, task.measuring_radius_m
    taped = keying.from_place is None
    if distance_m is None or not taped:
        return
    units = snapshot.event.units
    if radius_m is not None and distance_m > radius_m:
        text = f"{show_length(distance_m, units)} is outside the measuring radius"
        for name, other_m in _in_other_units(keying, snapshot.bare):
            if other_m <= radius_m:
                text += f"; in {name} it would be {show_length(other_m, units)}"
        yield _ask(text)
    elif distance_m > NEVER_SO_FAR_M:
        yield _ask(f"{show_length(distance_m, units)} is long for a measured distance")


OTHER_UNITS = {"m": "metres", "ft": "feet", "cm": "centimetres"}
"""In what a number without a unit may have been meant."""


def _in_other_units(keying: Keying, bare: str) -> Iterator[tuple[str, float]]:
    """Yield what a distance entered without a unit would be in another one."""
    if not _bare(keying):
        return
    for unit, name in OTHER_UNITS.items():
        with suppress(Unreadable):
            if unit != bare:
                yield name, length_m(keying.entered.get("distance", ""), unit)


def _bare(keying: Keying) -> bool:
    """Tell whether the distance was keyed without a unit."""
    text = keying.entered.get("distance", "")
    signs = any(letter.isalpha() or letter in "'\"′″" for letter in text)
    return not signs and not keying.entered.get("unit")


def _far(
    snapshot: Snapshot, task: Task, keying: Keying, near_m: float | None
) -> Iterator[Notice]:
    """Tell where the track never came near enough to have thrown there."""
    distance_m = keying.distance_m
    if near_m is None or distance_m is None or keying.from_place is not None:
        return
    units = snapshot.event.units
    throw_m = snapshot.event.book_of(task).tracks.throw_m
    if near_m <= distance_m + throw_m:
        return
    text = (
        f"far from the track: the log came no nearer to the target than "
        f"{show_length(near_m, units, 0)}"
    )
    in_metres_m = distance_m / float(FOOT_M)
    if snapshot.imperial and _bare(keying) and near_m <= in_metres_m + throw_m:
        yield _ask(f"{text}. Read as metres it would fit: was it measured in metres?")
    else:
        yield _ask(f"{text}. Is it this pilot's marker?")
