"""The entries of marks in a ledger: how far each has come, by scoring's one comparison.

Nothing here decides whether entries agree: the event is built from what stands, and
scoring says it.  What is said of two texts while they are typed is a hint, no decision.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from scorer.errors import ScorerError
from scorer.event.build import build
from scorer.event.entries import folded, people, same_person
from scorer.event.model import Event
from scorer.facts import Fact
from scorer.geodesy.site import Site
from scorer.ledger.acts import MarkKeyed, MarkSettled, RowAct, TerrainSet
from scorer.ledger.entry import Draft
from scorer.ledger.faults import LedgerError
from scorer.ledger.replay import Loader, State
from scorer.ledger.resolve import Current, entered_by
from scorer.scoring.evidence import agreed_marks
from scorer.scoring.keyings import Agreed, Keyed
from scorer.units import FOOT_M, Unreadable, length_m

LENGTHS = ("distance", "distance2")
COMPARED = (
    "method",
    *LENGTHS,
    "easting",
    "northing",
    "bearing",
    "from",
    "from2",
    "side",
    "lat",
    "lon",
    "time",
)
_FEET_PER_METRE = float(1 / FOOT_M)


@dataclass(frozen=True, slots=True, order=True, kw_only=True)
class Slot:
    """One mark of one pilot in one task, as text without leading zeros."""

    flight: str
    task: str
    pilot: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotState:
    """All entries of one mark, and what scoring says of them."""

    slot: Slot
    keyings: tuple[Current, ...]
    settling: tuple[Current, ...]
    """What settles it: one, or several where desks clash."""
    agreed: Agreed | None
    """None where the entries cannot be read; the event's faults say why."""

    @property
    def settled(self) -> Current | None:
        """The last entry that settles it, if any."""
        return self.settling[-1] if self.settling else None

    @property
    def state(self) -> Keyed:
        """How far they have come."""
        return self.agreed.state if self.agreed else Keyed.ONCE

    @property
    def problems(self) -> tuple[Fact, ...]:
        """What keeps the mark open."""
        return self.agreed.problems if self.agreed else ()

    @property
    def open(self) -> bool:
        """Tell whether it holds up official results."""
        return bool(self.problems)

    @property
    def disputed(self) -> bool:
        """Tell whether somebody must choose between its entries."""
        choosing = self.state in {Keyed.DIFFER, Keyed.REOPENED}
        return choosing or any(p.kind == "no-mark-and-distance" for p in self.problems)

    @property
    def people(self) -> tuple[str, ...]:
        """Who entered it, each person once."""
        return people(map(keyed_by, self.keyings))


def slots(state: State, event: Event | None = None) -> tuple[SlotState, ...]:
    """Return the entries of every mark, sorted by flight, task, pilot and mark.

    `event` is what `event_of` builds of the state.
    """
    event = event_of(state) if event is None else event
    groups: dict[Slot, list[Current]] = defaultdict(list)
    for current, act in state.all_of(RowAct):
        if isinstance(act, MarkKeyed | MarkSettled):
            groups[slot_of(act)].append(current)
    agreed = _agreed(event)
    return tuple(
        _slot_state(slot, groups[slot], agreed.get(slot))
        for slot in sorted(groups, key=_slot_order)
    )


def event_of(state: State, load: Loader | None = None) -> Event:
    """Build the event that entries of marks are compared in, as far as it can be read.

    Of its files only the terrain is loaded, and none without a loader.
    """
    terrain = {act.sha256 for _, act in state.all_of(TerrainSet)}
    event, _ = build(
        state.raw(lambda sha: load(sha) if load and sha in terrain else b"")
    )
    return event


def _agreed(event: Event) -> dict[Slot, Agreed]:
    if event.terrain is not None and not event.terrain.data:
        event = replace(event, terrain=None)
    try:
        site = Site.of(event)
    except ScorerError:  # told among the faults of the event
        return {}
    return {
        Slot(flight=flight.id, task=str(task), pilot=str(pilot), mark=role): agreed
        for flight in event.flights
        for task, by_pilot in agreed_marks(event, flight, site).items()
        for pilot, marks in by_pilot.items()
        for role, agreed in marks.items()
    }


def disagreements(state: State, event: Event | None = None) -> tuple[SlotState, ...]:
    """Return the marks of which somebody must choose between entries."""
    return tuple(slot for slot in slots(state, event) if slot.disputed)


def to_key(
    state: State, *, flight: str, task: int, who: str, pilots: Iterable[int]
) -> tuple[int, ...]:
    """Return which pilots' marks an official may key now, in the order of `pilots`.

    Whoever keyed a mark does not key it again, and nobody keys it a third time; so the
    second keying is blind by another pair of eyes.
    """
    names: dict[str, list[str]] = defaultdict(list)
    for current, act in state.all_of(RowAct):
        if isinstance(act, MarkKeyed | MarkSettled) and act.flight == flight:
            slot = slot_of(act)
            if slot.task == str(task):
                names[slot.pilot].append(keyed_by(current))
    return tuple(
        pilot
        for pilot in pilots
        if not any(same_person(who, name) for name in names[str(pilot)])
        and len(people(names[str(pilot)])) < 2
    )


def settle(slot: SlotState, fields: Mapping[str, str], *, reason: str) -> Draft:
    """Draft the entry that settles a disagreement.

    `fields` is the measurement that holds: usually those of one of the keyings.
    """
    if not reason.strip():
        raise LedgerError(
            f"pilot {slot.slot.pilot} in task {slot.slot.task}: settling needs a "
            "reason; say what shows which keying is right"
        )
    act = MarkSettled(
        flight=slot.slot.flight,
        fields={**_without_between(fields), "settles": reason.strip()},
        keyings=tuple(entry_id for keyed in slot.keyings for entry_id in keyed.ids),
    )
    replaced = tuple(entry_id for c in slot.settling for entry_id in c.ids)
    return Draft(act=act, why=reason.strip(), replaces=replaced)


def _without_between(fields: Mapping[str, str]) -> dict[str, str]:
    return {name: text for name, text in fields.items() if name != "between"}


def hint(one: Mapping[str, str], other: Mapping[str, str], bare: str = "m") -> str:
    """Say which slip two entries look like; empty if like none."""
    units = (_cell(one, "unit") or bare, _cell(other, "unit") or bare)
    found = (
        slip(_cell(one, c), _cell(other, c), bare=units[0], other_bare=units[1])
        for c in COMPARED
        if c in LENGTHS or _cell(one, c) != _cell(other, c)
    )
    return next((text for text in found if text), "")


def columns_that_differ(rows: Sequence[Mapping[str, str]]) -> tuple[str, ...]:
    """Return the columns that do not read the same in all rows."""
    shown = (*COMPARED, "unit")
    return tuple(c for c in shown if len({folded(_cell(row, c)) for row in rows}) > 1)


def slip(one: str, other: str, *, bare: str = "m", other_bare: str = "") -> str:
    """Say which slip two keyings of one number look like; empty if like none."""
    digits = (_digits(one), _digits(other))
    if not all(digits) or one.strip() == other.strip():
        return _same_number(one, other, bare, other_bare or bare)
    found = _feet_inches_slip(one, other, bare, other_bare or bare)
    if found:
        return found
    if digits[0] == digits[1]:
        return f"the same digits with another point or unit: {one} and {other}"
    swapped = _swapped(*digits)
    if swapped:
        return f"two digits swapped ({swapped}): {one} and {other}"
    found = _unit_slip(one, other, bare, other_bare or bare)
    if found:
        return found
    if abs(len(digits[0]) - len(digits[1])) == 1 and _one_left_out(*digits):
        return f"a digit left out or keyed twice: {one} and {other}"
    if _one_wrong(*digits):
        return f"one digit differs: {one} and {other}"
    return ""


def slot_of(act: RowAct) -> Slot:
    """Return the mark that a row is about."""
    return Slot(
        flight=act.flight,
        task=_plain(act.fields.get("task", "")),
        pilot=_plain(act.fields.get("pilot", "")),
        mark=act.fields.get("mark", "").strip().upper(),
    )


def keyed_by(current: Current) -> str:
    """Return who made an entry; empty where nobody is named."""
    return entered_by(current.act, current.entry)


def _slot_state(
    slot: Slot, found: Sequence[Current], agreed: Agreed | None
) -> SlotState:
    return SlotState(
        slot=slot,
        keyings=tuple(c for c in found if isinstance(c.act, MarkKeyed)),
        settling=tuple(c for c in found if isinstance(c.act, MarkSettled)),
        agreed=agreed,
    )


def _slot_order(slot: Slot) -> tuple[object, ...]:
    return (slot.flight, *map(_as_number, (slot.task, slot.pilot)), slot.mark)


def _as_number(text: str) -> tuple[int, str]:
    return (int(text), "") if text.isascii() and text.isdigit() else (0, text)


def _cell(fields: Mapping[str, str], column: str) -> str:
    return fields.get(column, "").strip()


def _plain(text: str) -> str:
    text = text.strip()
    return text.lstrip("0") or "0" if text.isascii() and text.isdigit() else text


def _length(text: str, bare: str) -> float | None:
    try:
        return length_m(text, bare) if text else None
    except Unreadable:
        return None


def _digits(text: str) -> str:
    return re.sub(r"\D", "", text)


def _swapped(one: str, other: str) -> str:
    """Return the two digits that stand the other way round, if that is all."""
    if len(one) != len(other):
        return ""
    places = [i for i, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
    if len(places) != 2:
        return ""
    i, j = places
    swapped = one[i] == other[j] and one[j] == other[i]
    return " and ".join(sorted((one[i], one[j]))) if swapped else ""


def _one_left_out(one: str, other: str) -> bool:
    long, short = (one, other) if len(one) > len(other) else (other, one)
    return any(long[:i] + long[i + 1 :] == short for i in range(len(long)))


def _one_wrong(one: str, other: str) -> bool:
    if len(one) != len(other) or len(one) < 2:
        return False
    return sum(a != b for a, b in zip(one, other, strict=True)) == 1


def _same_number(one: str, other: str, bare: str, other_bare: str) -> str:
    if one.strip() == other.strip() and one.strip() and bare != other_bare:
        return f"the same number in {bare} and in {other_bare}: {one}"
    return ""


def _unit_slip(one: str, other: str, bare: str, other_bare: str) -> str:
    a, b = _length(one, bare), _length(other, other_bare)
    if not a or not b:
        return ""
    greater, smaller = max(a, b), min(a, b)
    for ratio, what in (
        (_FEET_PER_METRE, "feet against metres"),
        (100.0, "centimetres against metres"),
        (12.0, "inches against feet"),
        (10.0, "the decimal point one place off"),
    ):
        if abs(greater / smaller / ratio - 1) < max(0.0005, 0.006 / smaller):
            return f"{what}: {one} and {other}"
    return ""


def _feet_inches_slip(one: str, other: str, bare: str, other_bare: str) -> str:
    a, b = _length(one, bare), _length(other, other_bare)
    if not a or not b:
        return ""
    for text, length, unit in ((one, b, bare), (other, a, other_bare)):
        if unit == "ft" and _as_feet_inches_m(text) == _millimetres(length):
            feet, _, inches = text.strip().partition(".")
            said = f"{text} may mean {feet} ft {inches} in"
            return f"feet and inches against decimal feet ({said}): {one} and {other}"
    return ""


def _as_feet_inches_m(text: str) -> int | None:
    """Read `40.3` as 40 ft 3 in, in millimetres; None when it cannot be that."""
    match = re.fullmatch(r"(\d+)[.,](\d{1,2})", text.strip())
    if match is None or int(match[2]) >= 12:
        return None
    return _millimetres(float((int(match[1]) + int(match[2]) / 12) * FOOT_M))


def _millimetres(length_m_: float) -> int:
    return round(length_m_ * 1000)


def keyed_counts(states: Iterable[SlotState]) -> Mapping[Keyed, int]:
    """Count marks by how far their entries have come."""
    return Counter(state.state for state in states)
