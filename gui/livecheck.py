"""What can be said of a measurement while it is being keyed.

Reading is the engine's own (`read_keying`), so that what is taken here is what will be
scored.  Values that somebody else keyed for the same marker are never looked at: the
second keying is blind.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from zoneinfo import ZoneInfo

from gui.blind import own_keying
from gui.snapshot import Snapshot
from scorer.errors import Fault
from scorer.event.entries import same_person
from scorer.event.model import Flight, Keying, ReportKind, Task
from scorer.event.moments import Clock
from scorer.event.raw import RawRow
from scorer.event.reading import Faults
from scorer.event.rows import Known, read_keying
from scorer.facts import Fact, distance, fact, inner, moment, several, term, words
from scorer.facts import pilot as pilot_value
from scorer.ledger.acts import EntryId, RowAct
from scorer.ledger.api import Draft
from scorer.ledger.cells import said_of
from scorer.ledger.keyings import SlotState, slot_of
from scorer.scoring.noted import NOT_MEASURED, lacking
from scorer.scoring.typed import TypedBeside, unlike_track
from scorer.units import Unreadable, length_m

NEAR, ALIKE = 2, 0.6
"""At most so many numbers near a typed one are told, and how alike they are at least."""
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
    says: Fact
    field: str = ""
    """Column of the field it is about; empty = the line as a whole."""


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
        return None, (_stop(fact("entry-no-task")),)
    faults = Faults()
    keying = read_keying(
        RawRow(fields=typed.fields), known_in(snapshot, flight), faults
    )
    return keying, tuple(_fault(snapshot, typed, fault) for fault in faults.found)


def _fault(snapshot: Snapshot, typed: Typed, fault: Fault) -> Notice:
    """State what is wrong with a field, and what may stand in it."""
    name = fault.field or ""
    text = typed.fields.get(name, "").strip()
    if name == "pilot" and text:
        return _stop(no_pilot(snapshot, text), name)
    told = words(f"{fault.allowed}. {fault.remedy}" if fault.remedy else fault.allowed)
    cell = said_of("cell", name)
    if not text:
        return _stop(fact("entry-lacks", cell=cell, allowed=told), name)
    return _stop(
        fact("entry-unreadable", cell=cell, found=words(text), allowed=told), name
    )


def no_pilot(snapshot: Snapshot, text: str) -> Fact:
    """State that nobody has a number, with those that are near it."""
    numbers = sorted(pilot.number for pilot in snapshot.event.pilots)
    if not numbers:
        return fact("entry-no-pilots")
    last, typed = words(str(numbers[-1])), words(text)
    near = get_close_matches(text.lstrip("0"), map(str, numbers), n=NEAR, cutoff=ALIKE)
    if not near:
        return fact("entry-no-pilot", typed=typed, last=last)
    told = several(map(words, near))
    return fact("entry-no-pilot-near", typed=typed, near=told, last=last)


def check(
    snapshot: Snapshot,
    typed: Typed,
    *,
    beside: TypedBeside | None = None,
    pending: tuple[Draft, ...] = (),
) -> tuple[Notice, ...]:
    """Return all notices about the entry line, those that stop first.

    `beside`: the pilot's track, where there is one.
    """
    keying, notices = read(snapshot, typed)
    task = snapshot.task(typed.task)
    if keying is None or task is None:
        return notices
    found = [
        *_already(snapshot, typed, keying, pending),
        *_not_flown(snapshot, typed, keying),
        *_size(snapshot, task, keying),
        *_far(snapshot, task, keying, beside),
        *_not_noted(snapshot, task, keying),
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


def _stop(says: Fact, field: str = "") -> Notice:
    return Notice(weight=Weight.STOP, says=says, field=field)


def _ask(says: Fact) -> Notice:
    return Notice(weight=Weight.ASK, says=says)


def _already(
    snapshot: Snapshot, typed: Typed, keying: Keying, pending: tuple[Draft, ...]
) -> Iterator[Notice]:
    slot = slot_in(snapshot, typed, keying)
    own = own_keying(slot, typed.who) if slot is not None else None
    pilot = pilot_value(keying.pilot)
    if typed.replaces:
        yield Notice(weight=Weight.TELL, says=fact("entry-corrects"))
    elif own is not None:
        at = moment(own.entry.when.timestamp())
        yield _stop(fact("entry-already", pilot=pilot, at=at), "pilot")
    elif any(_same_mark(draft, typed, keying) for draft in pending):
        yield _stop(fact("entry-already-waiting", pilot=pilot), "pilot")
    elif slot is not None and len(slot.people) >= 2:
        people = several(map(words, slot.people))
        yield _ask(fact("entry-third", people=people))


def _same_mark(draft: Draft, typed: Typed, keying: Keying) -> bool:
    act = draft.act
    if not isinstance(act, RowAct) or act.flight != typed.flight:
        return False
    slot = slot_of(act)
    own = (str(keying.task), str(keying.pilot), keying.mark)
    mine = same_person(act.fields.get("by", ""), typed.who)
    return mine and (slot.task, slot.pilot, slot.mark) == own


def slot_in(snapshot: Snapshot, typed: Typed, keying: Keying) -> SlotState | None:
    """Find what was keyed for the same mark."""
    own = (typed.flight, str(keying.task), str(keying.pilot), keying.mark)
    for state in snapshot.slots:
        slot = state.slot
        if (slot.flight, slot.task, slot.pilot, slot.mark) == own:
            return state
    return None


def _not_flown(snapshot: Snapshot, typed: Typed, keying: Keying) -> Iterator[Notice]:
    flight = snapshot.flight(typed.flight)
    for report in flight.reports if flight else ():
        same = (report.task, report.pilot) == (keying.task, keying.pilot)
        if same and report.kind is ReportKind.NOT_FLOWN:
            by = words(report.by) if report.by else term("somebody")
            yield _ask(fact("entry-not-flown", pilot=pilot_value(keying.pilot), by=by))


def _size(snapshot: Snapshot, task: Task, keying: Keying) -> Iterator[Notice]:
    """Tell of a length that would be likely if its unit were another one."""
    distance_m, radius_m = keying.distance_m, task.measuring_radius_m
    taped = keying.from_place is None
    if distance_m is None or not taped:
        return
    own = distance(float(distance_m))
    if radius_m is not None and distance_m > radius_m:
        most = distance(radius_m)
        for name, other_m in _in_other_units(keying, snapshot.bare):
            if other_m <= radius_m:
                says = fact(
                    "entry-too-far-meant",
                    distance=own,
                    most=most,
                    unit=term(name),
                    other=distance(other_m),
                )
                yield _ask(says)
                return
        yield _ask(fact("entry-too-far", distance=own, most=most))
    elif distance_m > NEVER_SO_FAR_M:
        yield _ask(fact("entry-long", distance=own))


def _not_noted(snapshot: Snapshot, task: Task, keying: Keying) -> Iterator[Notice]:
    """Ask for what the rules want noted with every mark."""
    rule, measured = snapshot.event.book_of(task).keying, bool(keying.measurer)
    for lacks in lacking(rule, keying, any_measurer=measured):
        column = "time" if lacks.kind == "drop-time-not-noted" else "measurer"
        yield _ask(fact("entry-not-noted", cell=said_of("cell", column)))


OTHER_UNITS = {"m": "in-metres", "ft": "in-feet", "cm": "in-centimetres"}
"""In what a number without a unit may have been meant, and its word."""


def _in_other_units(keying: Keying, bare: str) -> Iterator[tuple[str, float]]:
    """Yield what a distance entered without a unit would be in another one."""
    if not _bare(keying):
        return
    for unit, name in OTHER_UNITS.items():
        with suppress(Unreadable):
            if unit != bare:
                text = keying.entered.get("distance", "")
                yield name, float(length_m(text, unit))


def _bare(keying: Keying) -> bool:
    """Tell whether the distance was keyed without a unit."""
    text = keying.entered.get("distance", "")
    signs = any(letter.isalpha() or letter in "'\"′″" for letter in text)
    return not signs and not keying.entered.get("unit")


def _far(
    snapshot: Snapshot, task: Task, keying: Keying, beside: TypedBeside | None
) -> Iterator[Notice]:
    """Tell where a mark does not fit its pilot's track, as scoring would."""
    flight = snapshot.flight(task.flight)
    if beside is None or flight is None or keying.method in NOT_MEASURED:
        return
    found = unlike_track(snapshot.event, flight, keying, beside)
    if found is not None:
        how, meant = found
        if meant is None:
            yield _ask(fact("entry-unlike-track", how=inner(how)))
        else:
            both = {"how": inner(how), "meant": inner(meant)}
            yield _ask(fact("entry-unlike-track-meant", **both))
