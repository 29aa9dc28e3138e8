"""What people type as an answer to a rule, and how it stands in an event.

From one to the other and back: no answer needs a line of a file.  A bare number counts in
the event's own unit.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from scorer.event.model import PenaltyUnit, Units
from scorer.event.rulebook import (
    UNITS_SI,
    Count,
    Penalties,
    PenaltyRule,
    RuleBook,
    rule_of,
    rules_of,
)
from scorer.event.rules_reader import ALIASES, NONE, read_value
from scorer.rounding import half_up
from scorer.units import Unreadable, duration_s, length_m, number, with_unit

Plain = Any
"""A value as it stands in event.toml."""
LEFT = object()
"""An answer that leaves a rule to its book."""
_WHOLE = re.compile(r"\d{1,9}", re.ASCII)
_YES = {"yes": True, "no": False}
_STEP = re.compile(
    r"(?P<amount>[\d.,]+)\s*(?:points?|m|metres)?\s+(?:from|over)\s+(?P<over>.+)",
    re.IGNORECASE,
)


def plain_of(key: str, text: str, units: Units) -> Plain:
    """Read what was typed for a rule `section.key`; raise Unreadable.

    Nothing typed leaves the rule to the book (`LEFT`); `none` says that there is none.
    """
    _, how, default = rule_of(key)
    plain = text.strip()
    if not plain:
        return LEFT
    if plain == NONE and default in (None, ()):
        return NONE
    reader = _READ.get(how.kind)
    made = plain if reader is None else reader(plain, units)
    read_value(key, made)
    return made


def typed(key: str, book: RuleBook, units: Units) -> str:
    """Return the value of a rule as it is typed; empty where it has none."""
    held, how = book.held(key)
    if held in (None, ()):
        return NONE if key in book.provenance and held is None else ""
    known = book.provenance.get(key)
    if known is not None and how.kind in {"length", "step", "duration"}:
        return known.entered
    writer = _WRITTEN.get(how.kind)
    return str(held) if writer is None else writer(held, units)


def _length(text: str, units: Units) -> str:
    length_m(text, units.bare)
    return with_unit(text, units.bare)


def _duration(text: str, _: Units) -> str:
    made = with_unit(text, "s")
    duration_s(made)
    return made


def _whole(text: str, _: Units) -> int:
    if not _WHOLE.fullmatch(text):
        raise Unreadable(text, "a whole number, 0 or more")
    return int(text)


def _wholes(text: str, units: Units) -> list[int]:
    return [_whole(one, units) for one in re.split(r"[\s,;]+", text) if one]


def _share(text: str, _: Units) -> float:
    percent = text.endswith("%")
    share = number(text.removesuffix("%").strip())
    return share / 100 if percent else share


def _yes_no(text: str, _: Units) -> bool:
    if text not in _YES:
        raise Unreadable(text, "yes or no")
    return _YES[text]


_READ: Mapping[str, Callable[[str, Units], Plain]] = {
    "length": _length,
    "step": _length,
    "duration": _duration,
    "count": _whole,
    "counts": _wholes,
    "share": _share,
    "yes-no": _yes_no,
}


def _said_length(held: float, units: Units) -> str:
    if units is Units.IMPERIAL:
        feet = half_up(held / UNITS_SI["ft"], 3).normalize()
        return f"{feet:f} ft"
    return f"{half_up(held, 4).normalize():f} m"


def _said_duration(held: float, _: Units) -> str:
    for unit in ("h", "min"):
        if held and held % UNITS_SI[unit] == 0:
            return f"{held / UNITS_SI[unit]:g} {unit}"
    return f"{held:g} s"


_WRITTEN: Mapping[str, Callable[[Any, Units], str]] = {
    "length": _said_length,
    "step": _said_length,
    "duration": _said_duration,
    "counts": lambda held, _: ", ".join(map(str, held)),
    "share": lambda held, _: f"{half_up(held * 100, 2).normalize():f} %",
    "yes-no": lambda held, _: "yes" if held else "no",
}


class Cost(StrEnum):
    """The four ways in which a breach costs; the same for every rule."""

    NO_RESULT = "no-result"
    BY_AMOUNT = "by-amount"
    BY_STEPS = "by-steps"
    DECIDED = "decided"
    """Officials decide each time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """What a breach costs, as it is filled in."""

    way: Cost
    unit: PenaltyUnit = PenaltyUnit.TASK_POINTS
    base: str = ""
    """The fixed part."""
    per: str = ""
    """For each `of`."""
    of: str = ""
    """`m`, `ft`, `min` …; empty = nothing is counted."""
    count: Count = Count.EXACT
    most: str = ""
    """At most; empty = without end."""
    steps: str = ""
    """`50 from 0 ft, 200 from 10 ft`."""
    kept: Penalties = ()
    """Penalties of a form that no answer has: they stay until another is chosen."""


def costs_of(penalties: Penalties) -> Costs:
    """Return how penalties of a book are filled in."""
    if not penalties:
        return Costs(way=Cost.DECIDED)
    first = penalties[0]
    unit = PenaltyUnit(first.unit)
    if len(penalties) > 1 or (first.steps and (first.per or first.base or first.cap)):
        way = Cost.BY_STEPS if first.steps else Cost.BY_AMOUNT
        return Costs(way=way, unit=unit, kept=penalties)
    if unit in {PenaltyUnit.NO_RESULT, PenaltyUnit.DISQUALIFIED}:
        return Costs(way=Cost.NO_RESULT, unit=unit)
    if first.steps:
        of = first.of or ("s" if first.of_si == 1.0 else "m")
        return Costs(way=Cost.BY_STEPS, unit=unit, of=of, steps=_steps_of(first, of))
    return Costs(
        way=Cost.BY_AMOUNT,
        unit=unit,
        base=f"{first.base:g}" if first.base else "",
        per=f"{first.per:g}" if first.per else "",
        of=first.of,
        count=first.count,
        most="" if first.cap is None else f"{first.cap:g}",
    )


def _steps_of(rule: PenaltyRule, of: str) -> str:
    si = UNITS_SI[of]
    return ", ".join(
        f"{step.amount:g} from {half_up(step.over / si, 3).normalize():f} {of}"
        for step in rule.steps
    )


def plain_costs(costs: Costs, bare: str) -> Plain:
    """Return a penalty as it stands in event.toml; raise Unreadable.

    `bare` is the unit of a number without one: `ft`, `m` or `s`.
    """
    if costs.way is Cost.DECIDED:
        return NONE
    if costs.way is Cost.NO_RESULT:
        ending = costs.unit is PenaltyUnit.DISQUALIFIED
        unit = PenaltyUnit.DISQUALIFIED if ending else PenaltyUnit.NO_RESULT
        return {"unit": str(unit)}
    unit = costs.unit
    if unit in {PenaltyUnit.NO_RESULT, PenaltyUnit.DISQUALIFIED}:
        unit = PenaltyUnit.TASK_POINTS
    table: dict[str, Any] = {"unit": str(unit)}
    if costs.way is Cost.BY_STEPS:
        of = costs.of or bare
        steps = [_step(one, of) for one in re.split(r"[;,]\s+", costs.steps) if one]
        if not steps:
            raise Unreadable(
                costs.steps, f"steps such as 50 from 0 {of}, 200 from 9 {of}"
            )
        return {**table, "of": of, "steps": steps}
    for name, text in (("base", costs.base), ("per", costs.per), ("cap", costs.most)):
        if text.strip():
            table[name] = _positive(text)
    if "per" not in table and "base" not in table:
        raise Unreadable("", "how much it costs, as a number such as 50")
    if "per" in table:
        table |= {"of": costs.of or bare, "count": str(costs.count)}
    return table


def _step(text: str, of: str) -> Mapping[str, Any]:
    allowed = f"steps such as 50 from 0 {of}, 200 from 9 {of}"
    found = _STEP.fullmatch(text.strip())
    if found is None:
        raise Unreadable(text, allowed)
    over = found["over"].strip()
    return {
        "over": with_unit(over, of),
        "amount": _positive(found["amount"]),
    }


def _positive(text: str) -> float | int:
    value = number(text)
    if value < 0:
        raise Unreadable(text, "a number from 0 up; what is typed is taken off")
    return int(value) if value == int(value) else value


def with_answers(
    rules: Mapping[str, Any],
    answers: Mapping[str, Plain],
    paragraphs: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Return `[rules]` with answers put in; `LEFT` takes a rule out again.

    `paragraphs` are the event's own, by `section.key`; an empty one is taken out.
    """
    made = {name: _copied(table) for name, table in rules.items()}
    for alias in ALIASES.keys() & made.keys():
        section, name = ALIASES[alias]
        made.setdefault(section, {}).setdefault(name, made.pop(alias))
    for key, value in answers.items():
        section, _, name = key.partition(".")
        own = made.setdefault(section, {})
        own.pop(name, None)
        if value is not LEFT:
            own[name] = value
    for key, text in (paragraphs or {}).items():
        section, _, name = key.partition(".")
        _put_paragraph(made.setdefault(section, {}), section, name, text.strip())
    return {name: table for name, table in made.items() if table != {}}


def _copied(table: Any) -> Any:
    return dict(table) if isinstance(table, Mapping) else table


def _put_paragraph(own: dict[str, Any], section: str, name: str, text: str) -> None:
    given = own.pop("source", {})
    if isinstance(given, str):
        given = dict.fromkeys(rules_of(section), given)
    named = {**given, name: text}
    kept = {key: value for key, value in named.items() if value}
    if kept:
        own["source"] = kept
