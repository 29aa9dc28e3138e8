"""Two officials key one marker without seeing each other: compare, hint, settle.

This works on what was keyed, while it is keyed.  The last word is scoring's, which
compares the marks after reducing them to one plane; both use the same tolerance.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import radians, sin

from scorer.ledger.acts import MarkKeyed, MarkSettled, RowAct
from scorer.ledger.entry import Draft
from scorer.ledger.faults import LedgerError
from scorer.ledger.replay import State
from scorer.ledger.resolve import Current
from scorer.units import FOOT_M, Unreadable, bearing, length_m

TOLERANCE_M = 0.01
"""Default of `keying.tolerance` in the rule books."""
LENGTHS = ("distance", "distance2")
NUMBERS = ("easting", "northing")
COMPARED = (
    "method",
    *LENGTHS,
    *NUMBERS,
    "bearing",
    "from",
    "from2",
    "side",
    "lat",
    "lon",
    "time",
)
_FEET_PER_METRE = float(1 / FOOT_M)


class Standing(StrEnum):
    """How far the keying of one mark has come."""

    ONCE = "once"
    AGREE = "agree"
    DIFFER = "differ"
    SETTLED = "settled"
    REOPENED = "reopened"
    """Keyed or corrected after it was settled, and not the same."""


@dataclass(frozen=True, slots=True, order=True, kw_only=True)
class Slot:
    """One mark of one pilot in one task, as text without leading zeros."""

    flight: str
    task: str
    pilot: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What is different between two keyings."""

    columns: tuple[str, ...]
    """Columns that differ; empty = they agree."""
    gap_m: float | None
    """Difference of the first length that differs."""
    hint: str
    """The slip it looks like, as a sentence; may be empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotState:
    """All keyings of one mark."""

    slot: Slot
    keyings: tuple[Current, ...]
    settled: Current | None
    standing: Standing
    differences: tuple[Comparison, ...] = ()
    """Of every later keying against the first of the same measurement."""

    @property
    def open(self) -> bool:
        """Tell whether somebody must settle it before results become official."""
        return self.standing in {Standing.DIFFER, Standing.REOPENED}

    @property
    def people(self) -> tuple[str, ...]:
        """Who keyed it."""
        return tuple(dict.fromkeys(keyed_by(current) for current in self.keyings))


def slots(
    state: State,
    *,
    imperial: bool = False,
    tolerance_m: float = TOLERANCE_M,
    flight: str | None = None,
) -> tuple[SlotState, ...]:
    """Return the keyings of every mark, sorted by flight, task, pilot and mark.

    `imperial`: a bare number counts feet, as the event's units say.
    """
    groups: dict[Slot, list[Current]] = defaultdict(list)
    for current, act in state.all_of(RowAct):
        if isinstance(act, MarkKeyed | MarkSettled) and flight in {None, act.flight}:
            groups[slot_of(act)].append(current)
    bare = "ft" if imperial else "m"
    return tuple(
        _slot_state(slot, groups[slot], bare, tolerance_m)
        for slot in sorted(groups, key=_slot_order)
    )


def disagreements(
    state: State, *, imperial: bool = False, tolerance_m: float = TOLERANCE_M
) -> tuple[SlotState, ...]:
    """Return the marks that somebody must settle."""
    every = slots(state, imperial=imperial, tolerance_m=tolerance_m)
    return tuple(slot for slot in every if slot.open)


def to_key(
    state: State, *, flight: str, task: int, who: str, pilots: Iterable[int]
) -> tuple[int, ...]:
    """Return which pilots' marks an official may key now, in the order of `pilots`.

    Whoever keyed a mark does not key it again, and nobody keys it a third time; so the
    second keying is blind by another pair of eyes.
    """
    people: dict[str, set[str]] = defaultdict(set)
    for current, act in state.all_of(RowAct):
        if isinstance(act, MarkKeyed | MarkSettled) and act.flight == flight:
            slot = slot_of(act)
            if slot.task == str(task):
                people[slot.pilot].add(keyed_by(current).casefold())
    mine = who.strip().casefold()
    return tuple(
        pilot
        for pilot in pilots
        if mine not in people[str(pilot)] and len(people[str(pilot)]) < 2
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
        fields={**fields, "settles": reason.strip()},
        keyings=tuple(entry_id for keyed in slot.keyings for entry_id in keyed.ids),
    )
    replaced = slot.settled.ids if slot.settled else ()
    return Draft(act=act, why=reason.strip(), replaces=replaced)


def compare(
    one: Mapping[str, str],
    other: Mapping[str, str],
    *,
    bare: str = "m",
    tolerance_m: float = TOLERANCE_M,
) -> Comparison:
    """Compare two keyings column by column; `bare` is the unit of bare numbers."""
    units = (_unit(one, bare), _unit(other, bare))
    columns = []
    gap, hint = None, ""
    for column in COMPARED:
        texts = (_cell(one, column), _cell(other, column))
        if texts[0] == texts[1] and (column not in LENGTHS or units[0] == units[1]):
            continue
        if _agree(column, texts, units, tolerance_m, _cell(one, "distance")):
            continue
        columns.append(column)
        hint = hint or slip(*texts, bare=units[0], other_bare=units[1])
        if gap is None and column in LENGTHS:
            gap = _gap(_length(texts[0], units[0]), _length(texts[1], units[1]))
    return Comparison(columns=tuple(columns), gap_m=gap, hint=hint)


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
    """Return who keyed it: the row's `by`, else who wrote the entry."""
    act = current.act
    by = act.fields.get("by", "").strip() if isinstance(act, RowAct) else ""
    return by or current.entry.who


def _slot_state(
    slot: Slot, found: Sequence[Current], bare: str, tolerance_m: float
) -> SlotState:
    keyings = tuple(c for c in found if isinstance(c.act, MarkKeyed))
    settling = [c for c in found if isinstance(c.act, MarkSettled)]
    settled = settling[-1] if settling else None
    pairs = (
        [(settled, c) for c in keyings]
        if settled
        else [(_counterpart(keyings, i), c) for i, c in enumerate(keyings) if i]
    )
    differences = tuple(
        SAME
        if first is None
        else compare(_fields(first), _fields(c), bare=bare, tolerance_m=tolerance_m)
        for first, c in pairs
    )
    return SlotState(
        slot=slot,
        keyings=keyings,
        settled=settled,
        standing=_standing(keyings, settled, differences),
        differences=differences,
    )


SAME = Comparison(columns=(), gap_m=None, hint="")


ALONE = ("alone",)
"""Measurement of a row that contradicts, or repeats, whatever else is keyed."""


def _counterpart(keyings: Sequence[Current], index: int) -> Current | None:
    """Return the earlier row that one is compared with; None = it adds to a survey.

    Rows by one person that measure a marker in different ways are one survey, which
    scoring adjusts: only rows of one and the same measurement are compared then.
    """
    own, earlier = keyings[index], keyings[:index]
    same = [c for c in earlier if _measurement(c) == _measurement(own)]
    if same:
        return same[0]
    alone = [c for c in (own, *earlier) if _measurement(c) == ALONE]
    if alone:
        return earlier[0] if alone[0] is own else alone[0]
    person = keyed_by(own).casefold()
    others = [c for c in keyings if c is not own and keyed_by(c).casefold() == person]
    return None if others else earlier[0]


def _measurement(current: Current) -> tuple[str, ...]:
    """Return what tells one measurement from another, numbers aside."""
    fields = _fields(current)
    method = _cell(fields, "method").casefold()
    if method in {"none", "log"}:
        return ALONE
    start = _cell(fields, "from").casefold()
    if method in {"tape", "polar"}:
        return ("line", start)
    return (method, start, _cell(fields, "from2").casefold())


def _standing(
    keyings: Sequence[Current],
    settled: Current | None,
    differences: Sequence[Comparison],
) -> Standing:
    if settled is None:
        if any(difference.columns for difference in differences):
            return Standing.DIFFER
        return Standing.AGREE if len(keyings) > 1 else Standing.ONCE
    act = settled.act
    seen = set(act.keyings) if isinstance(act, MarkSettled) else set()
    for keyed, difference in zip(keyings, differences, strict=True):
        unseen = not seen & set(keyed.ids)
        if not seen:  # imported: it had seen what stood above it
            unseen = keyed.entry.order > settled.entry.order
        if difference.columns and unseen:
            return Standing.REOPENED
    return Standing.SETTLED


def _slot_order(slot: Slot) -> tuple[object, ...]:
    return (slot.flight, *map(_as_number, (slot.task, slot.pilot)), slot.mark)


def _as_number(text: str) -> tuple[int, str]:
    return (int(text), "") if text.isascii() and text.isdigit() else (0, text)


def _fields(current: Current) -> Mapping[str, str]:
    return current.act.fields if isinstance(current.act, RowAct) else {}


def _cell(fields: Mapping[str, str], column: str) -> str:
    return fields.get(column, "").strip()


def _plain(text: str) -> str:
    text = text.strip()
    return text.lstrip("0") or "0" if text.isascii() and text.isdigit() else text


def _unit(fields: Mapping[str, str], bare: str) -> str:
    return _cell(fields, "unit") or bare


def _length(text: str, bare: str) -> float | None:
    try:
        return length_m(text, bare) if text else None
    except Unreadable:
        return None


def _agree(
    column: str,
    texts: tuple[str, str],
    units: tuple[str, str],
    tolerance_m: float,
    distance: str,
) -> bool:
    if column in LENGTHS or column in NUMBERS:
        bares = units if column in LENGTHS else ("m", "m")
        one, other = (_length(t, u) for t, u in zip(texts, bares, strict=True))
        if one is not None and other is not None:
            return abs(one - other) <= tolerance_m + 1e-9
    if column == "bearing":
        return _bearings_agree(texts, tolerance_m, _length(distance, units[0]))
    return texts[0].casefold() == texts[1].casefold()


def _bearings_agree(
    texts: tuple[str, str], tolerance_m: float, distance_m: float | None
) -> bool:
    """Agree where the two bearings part the mark by no more than the tolerance."""
    if not all(texts):
        return True  # one did not key it: the distance decides
    try:
        (one, north), (other, other_north) = (bearing(text) for text in texts)
    except Unreadable:
        return texts[0] == texts[1]
    apart_m = 2 * (distance_m or 0.0) * abs(sin(radians(one - other) / 2))
    return north == other_north and apart_m <= tolerance_m + 1e-9


def _gap(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else abs(one - other)


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


def keyed_counts(states: Iterable[SlotState]) -> Mapping[Standing, int]:
    """Count marks by how far their keying has come."""
    return Counter(state.standing for state in states)
