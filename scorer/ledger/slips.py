"""Slips in entries: what two texts of one measurement look like beside each other.

A hint for whoever compares them, no decision: scoring says whether entries agree.
"""

import re
from collections.abc import Mapping, Sequence

from scorer.event.entries import folded
from scorer.facts import Fact, fact, words
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


def hint(
    one: Mapping[str, str], other: Mapping[str, str], bare: str = "m"
) -> Fact | None:
    """State which slip two entries look like; None if like none."""
    units = (_cell(one, "unit") or bare, _cell(other, "unit") or bare)
    found = (
        slip(_cell(one, c), _cell(other, c), bare=units[0], other_bare=units[1])
        for c in COMPARED
        if c in LENGTHS or _cell(one, c) != _cell(other, c)
    )
    return next((slip_ for slip_ in found if slip_), None)


def columns_that_differ(rows: Sequence[Mapping[str, str]]) -> tuple[str, ...]:
    """Return the columns that do not read the same in all rows."""
    shown = (*COMPARED, "unit")
    return tuple(c for c in shown if len({folded(_cell(row, c)) for row in rows}) > 1)


def slip(one: str, other: str, *, bare: str = "m", other_bare: str = "") -> Fact | None:
    """State which slip two entries of one number look like; None if like none."""
    digits = (_digits(one), _digits(other))
    both = {"one": words(one), "other": words(other)}
    if not all(digits) or one.strip() == other.strip():
        return _same_number(one, other, bare, other_bare or bare)
    found = _feet_inches_slip(one, other, bare, other_bare or bare)
    if found:
        return found
    if digits[0] == digits[1]:
        return fact("slip-same-digits", **both)
    swapped = _swapped(*digits)
    if swapped:
        first, second = map(words, swapped)
        return fact("slip-swapped", first=first, second=second, **both)
    found = _unit_slip(one, other, bare, other_bare or bare)
    if found:
        return found
    if abs(len(digits[0]) - len(digits[1])) == 1 and _one_left_out(*digits):
        return fact("slip-left-out", **both)
    return fact("slip-one-digit", **both) if _one_wrong(*digits) else None


def _cell(fields: Mapping[str, str], column: str) -> str:
    return fields.get(column, "").strip()


def _length(text: str, bare: str) -> float | None:
    try:
        return length_m(text, bare) if text else None
    except Unreadable:
        return None


def _digits(text: str) -> str:
    return re.sub(r"\D", "", text)


def _swapped(one: str, other: str) -> tuple[str, ...]:
    """Return the two digits that stand the other way round, if that is all."""
    if len(one) != len(other):
        return ()
    places = [i for i, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
    if len(places) != 2:
        return ()
    i, j = places
    swapped = one[i] == other[j] and one[j] == other[i]
    return tuple(sorted((one[i], one[j]))) if swapped else ()


def _one_left_out(one: str, other: str) -> bool:
    long, short = (one, other) if len(one) > len(other) else (other, one)
    return any(long[:i] + long[i + 1 :] == short for i in range(len(long)))


def _one_wrong(one: str, other: str) -> bool:
    if len(one) != len(other) or len(one) < 2:
        return False
    return sum(a != b for a, b in zip(one, other, strict=True)) == 1


def _same_number(one: str, other: str, bare: str, other_bare: str) -> Fact | None:
    if one.strip() == other.strip() and one.strip() and bare != other_bare:
        units = {"unit": words(bare), "other_unit": words(other_bare)}
        return fact("slip-same-number", number=words(one), **units)
    return None


_RATIOS = {
    "slip-feet-metres": float(1 / FOOT_M),
    "slip-centimetres-metres": 100.0,
    "slip-inches-feet": 12.0,
    "slip-decimal-point": 10.0,
}


def _unit_slip(one: str, other: str, bare: str, other_bare: str) -> Fact | None:
    a, b = _length(one, bare), _length(other, other_bare)
    if not a or not b:
        return None
    greater, smaller = max(a, b), min(a, b)
    for kind, ratio in _RATIOS.items():
        if abs(greater / smaller / ratio - 1) < max(0.0005, 0.006 / smaller):
            return fact(kind, one=words(one), other=words(other))
    return None


def _feet_inches_slip(one: str, other: str, bare: str, other_bare: str) -> Fact | None:
    a, b = _length(one, bare), _length(other, other_bare)
    if not a or not b:
        return None
    both = {"one": words(one), "other": words(other)}
    for text, length, unit in ((one, b, bare), (other, a, other_bare)):
        if unit == "ft" and _as_feet_inches_m(text) == _millimetres(length):
            feet, _, inches = text.strip().partition(".")
            meant = {"feet": words(feet), "inches": words(inches)}
            return fact("slip-feet-inches", text=words(text), **meant, **both)
    return None


def _as_feet_inches_m(text: str) -> int | None:
    """Read `40.3` as 40 ft 3 in, in millimetres; None when it cannot be that."""
    match = re.fullmatch(r"(\d+)[.,](\d{1,2})", text.strip())
    if match is None or int(match[2]) >= 12:
        return None
    return _millimetres(float((int(match[1]) + int(match[2]) / 12) * FOOT_M))


def _millimetres(length_m_: float) -> int:
    return round(length_m_ * 1000)
