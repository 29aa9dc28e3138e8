"""Read rule books and the overrides of an event or a task."""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from enum import Enum
from functools import cache
from importlib.resources import files
from typing import Any

from scorer.errors import Fault, InputError, nearest
from scorer.event.model import PenaltyUnit
from scorer.event.rulebook import (
    SECTIONS,
    UNITS_SI,
    Certainty,
    Count,
    PenaltyRule,
    PenaltyStep,
    Provenance,
    Rule,
    RuleBook,
    rule_of,
    rules_of,
)
from scorer.rounding import digits, exact
from scorer.units import INCH_M, Unreadable, duration_s, length_m

Note = Callable[[str, str, str, str], None]
"""Called with field, found, allowed, remedy for each fault."""

ALIASES = {"keying_tolerance": ("keying", "tolerance")}
"""Keys that may stand directly below `[rules]`."""

_PENALTY_KEYS = ("unit", "base", "per", "of", "count", "cap", "steps")
_WHOLE = (str(PenaltyUnit.NO_RESULT), str(PenaltyUnit.DISQUALIFIED))
"""Penalties without an amount: their name alone says all."""
_STEP_DECIMALS = 4
"""Of the inches of a step, so that every result has an exact decimal."""
SOURCE = "source"
"""Key of a section by which an event names the paragraph of its own rules."""
NONE = "none"
"""The answer that there is none of it."""


def book_names() -> tuple[str, ...]:
    """Names of the shipped rule books."""
    folder = files("scorer.event") / "books"
    names = (p.name for p in folder.iterdir() if p.name.endswith(".toml"))
    return tuple(sorted(name.removesuffix(".toml") for name in names))


@cache
def load_book(name: str) -> RuleBook:
    """Load a shipped rule book; raise InputError if there is none of that name."""
    if name not in book_names():
        allowed = ", ".join(book_names())
        raise InputError(
            [
                Fault(
                    where="event.toml",
                    field="rules.book",
                    found=name,
                    allowed=allowed,
                    remedy=nearest(name, book_names()),
                )
            ]
        )
    return read_book(_content(name), f"{name}.toml")


def plain_rules(rules: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """Return what each rule is, section by section, as it would stand in event.toml.

    What the event does not say its book says, and what that does not say is the default.
    """
    name = str(rules.get("book", "festival"))
    book: Mapping[str, Any] = _content(name) if name in book_names() else {}
    own = _sections(rules, lambda *_: None)
    return {
        section: {
            key: own.get(section, {}).get(
                key, _of_book(book, section, key, how, default)
            )
            for key, (_, how, default) in rules_of(section).items()
        }
        for section in SECTIONS
    }


def _of_book(
    book: Mapping[str, Any], section: str, key: str, how: Rule, default: object
) -> Any:
    entry = book.get(section, {}).get(key)
    if entry is not None:
        return entry["value"]
    if default in (None, ()):
        return NONE
    unit = {"length": " m", "duration": " s"}.get(how.kind)
    return f"{default}{unit}" if unit else str(default) if how.choices else default


def _content(name: str) -> dict[str, Any]:
    path = files("scorer.event") / "books" / f"{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def read_book(content: Mapping[str, Any], where: str) -> RuleBook:
    """Build a rule book from TOML where each value stands with source and certainty."""
    faults: list[Fault] = []

    def note(field: str, found: str, allowed: str, remedy: str) -> None:
        faults.append(
            Fault(where=where, field=field, found=found, allowed=allowed, remedy=remedy)
        )

    plain: dict[str, dict[str, Any]] = {}
    sources: dict[str, Provenance] = {}
    for section in (name for name in SECTIONS if name in content):
        plain[section] = {k: v["value"] for k, v in content[section].items()}
        for key, entry in content[section].items():
            sources[f"{section}.{key}"] = Provenance(
                entered=written(entry["value"]),
                source=entry["source"],
                certainty=Certainty(entry["certainty"]),
            )
    bare = RuleBook(
        name=content["name"], title=content["title"], about=content["about"]
    )
    book = _put_in(bare, plain, note)
    if faults:
        raise InputError(faults)
    return replace(book, provenance=sources, unset=tuple(content.get("ask", ())))


def override(book: RuleBook, rules: Mapping[str, Any], by: str, note: Note) -> RuleBook:
    """Return the book with single values put in by the event or a task.

    Every fault goes to `note`; the value at fault keeps what the book says.
    """
    sections = _sections(rules, note)
    own = _paragraphs(sections, note)
    changed = _put_in(book, sections, note)
    sources = dict(book.provenance)
    for section, values in sections.items():
        for key, value in values.items():
            sources[f"{section}.{key}"] = Provenance(
                entered=written(value), source=by, certainty=Certainty.EVENT
            )
    unset = tuple(key for key in book.unset if key not in sources)
    paragraphs = {**book.paragraphs, **own}
    return replace(changed, provenance=sources, unset=unset, paragraphs=paragraphs)


def _paragraphs(sections: dict[str, dict[str, Any]], note: Note) -> dict[str, str]:
    """Take out of each section where the event's own rules have it.

    `source = "§ 9.4"` is of every key of the section, `source = { height = "§ 9.4" }` of
    single ones.
    """
    found: dict[str, str] = {}
    for section, values in sections.items():
        given = values.pop(SOURCE, {})
        known = rules_of(section)
        if isinstance(given, str):
            given = dict.fromkeys(known, given)
        if not isinstance(given, Mapping):
            note(f"{section}.{SOURCE}", repr(given), 'a paragraph such as "§ 9.4"', "")
            continue
        for key, paragraph in given.items():
            field = f"{section}.{SOURCE}.{key}"
            if key not in known:
                note(field, key, ", ".join(known), nearest(key, known))
            elif not isinstance(paragraph, str) or not paragraph.strip():
                note(field, repr(paragraph), 'a paragraph such as "§ 9.4"', "")
            else:
                found[f"{section}.{key}"] = paragraph.strip()
    return found


def _sections(rules: Mapping[str, Any], note: Note) -> dict[str, dict[str, Any]]:
    sections: dict[str, dict[str, Any]] = {}
    for name, value in rules.items():
        if name == "book":
            continue
        if name in ALIASES:
            section, key = ALIASES[name]
            sections.setdefault(section, {})[key] = value
        elif name not in SECTIONS:
            note(name, name, ", ".join(SECTIONS), nearest(name, SECTIONS))
        elif not isinstance(value, Mapping):
            note(name, repr(value), f"a table [rules.{name}]", "")
        else:
            sections.setdefault(name, {}).update(value)
    return sections


def _put_in(
    book: RuleBook, sections: Mapping[str, Mapping[str, Any]], note: Note
) -> RuleBook:
    changes = {}
    for section, values in sections.items():
        known = rules_of(section)
        read: dict[str, Any] = {}
        for key, value in values.items():
            if key not in known:
                note(f"{section}.{key}", key, ", ".join(known), nearest(key, known))
                continue
            attribute, how, default = known[key]
            try:
                read[attribute] = _value(value, how, default)
            except Unreadable as fault:
                note(f"{section}.{key}", fault.found, fault.allowed, "")
        changes[section] = replace(getattr(book, section), **read)
    return replace(book, **changes)


def written(value: Any) -> str:
    """Write a value as people read it in a list of rules."""
    if isinstance(value, Mapping):
        inside = ", ".join(f"{k} {written(v)}" for k, v in value.items())
        return f"{{{inside}}}"
    if isinstance(value, list):
        return "[" + ", ".join(written(v) for v in value) + "]"
    return "yes" if value is True else "no" if value is False else str(value)


def _value(value: Any, how: Rule, default: object) -> Any:
    if value == NONE and default in (None, ()):
        return default
    read = _READERS[how.kind](value, how)
    return type(default)(read) if isinstance(default, Enum) else read


def read_value(key: str, value: Any) -> Any:
    """Read the value of the rule `section.key` as event.toml has it; raise Unreadable."""
    _, how, default = rule_of(key)
    return _value(value, how, default)


def _text(value: Any, allowed: str) -> str:
    if not isinstance(value, str) or not value.strip():
        raise Unreadable(written(value), allowed)
    return value.strip()


def _read_length(value: Any, _: Rule) -> float:
    return length_m(_text(value, 'a length in quotes with its unit, such as "75 ft"'))


def _read_step(value: Any, _: Rule) -> float:
    allowed = 'a step in feet or inches, such as "1 in", "1/2 in" or "0.1 ft"'
    step = length_m(_text(value, allowed))
    if not step or digits(exact(step) / INCH_M, _STEP_DECIMALS) is None:
        raise Unreadable(written(value), allowed)
    return step


def _read_duration(value: Any, _: Rule) -> float:
    return duration_s(_text(value, 'a duration in quotes with its unit: "3 s"'))


def _read_name(value: Any, how: Rule) -> str:
    return _text(value, f"text in quotes: {how.doc}")


def _read_choice(value: Any, how: Rule) -> Any:
    if value not in how.choices:
        hint = nearest(str(value), how.choices)
        raise Unreadable(written(value), f"{', '.join(how.choices)}. {hint}".strip())
    return value


def _read_count(value: Any, _: Rule) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise Unreadable(written(value), "a whole number, not negative, no quotes")
    return value


def _read_counts(value: Any, how: Rule) -> tuple[int, ...]:
    if not isinstance(value, list):
        raise Unreadable(written(value), "a list of whole numbers: [10, 8, 6]")
    return tuple(_read_count(item, how) for item in value)


def _read_share(value: Any, _: Rule) -> float:
    share = _amount(value)
    if share > 1:
        raise Unreadable(written(value), "a share from 0 to 1: 0.2 is 20 %")
    return share


def _read_yes_no(value: Any, _: Rule) -> bool:
    if not isinstance(value, bool):
        raise Unreadable(written(value), "true or false, without quotes")
    return value


def _read_penalties(value: Any, _: Rule) -> tuple[PenaltyRule, ...]:
    if value in _WHOLE:
        value = {"unit": value}
    tables = value if isinstance(value, list) else [value]
    if not all(isinstance(table, Mapping) for table in tables):
        whole = " or ".join(f'"{unit}"' for unit in _WHOLE)
        allowed = f'{whole}; {{ unit = "task points", base = 100 }}, or a list of these'
        raise Unreadable(written(value), allowed)
    return tuple(_penalty(table) for table in tables)


def _penalty(table: Mapping[str, Any]) -> PenaltyRule:
    for key in table:
        if key not in _PENALTY_KEYS:
            allowed = f"{', '.join(_PENALTY_KEYS)}. {nearest(key, _PENALTY_KEYS)}"
            raise Unreadable(key, allowed.strip())
    units = [str(unit) for unit in PenaltyUnit]
    unit = table.get("unit")
    if unit not in units:
        raise Unreadable(written(unit), f"unit = one of {', '.join(units)}")
    of = table.get("of", "")
    if of and of not in UNITS_SI:
        raise Unreadable(written(of), f"of = one of {', '.join(UNITS_SI)}")
    per = _amount(table.get("per", 0))
    if per and not of:
        raise Unreadable(written(table), '`of` beside `per`, such as of = "ft"')
    count = table.get("count", Count.EXACT)
    if count not in list(Count):
        raise Unreadable(written(count), f"count = one of {', '.join(Count)}")
    cap = table.get("cap")
    return PenaltyRule(
        unit=unit,
        base=_amount(table.get("base", 0)),
        per=per,
        of=of,
        of_si=UNITS_SI.get(of, 1.0),
        count=Count(count),
        cap=None if cap is None else _amount(cap),
        steps=tuple(_step(step, of) for step in table.get("steps", ())),
    )


def _amount(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Unreadable(written(value), "a number without quotes")
    if not 0 <= value < 1e9:
        raise Unreadable(written(value), "a number from 0 up; penalties are positive")
    return float(value)


def _step(step: Any, of: str) -> PenaltyStep:
    allowed = (
        '{ over = "10 m", amount = 100 } (over: length, duration or number of `of`)'
    )
    if not isinstance(step, Mapping) or step.keys() != {"over", "amount"}:
        raise Unreadable(written(step), allowed)
    over = step["over"]
    if isinstance(over, str):
        try:
            over = length_m(over)
        except Unreadable:
            over = duration_s(over)
    else:
        over = _amount(over) * UNITS_SI.get(of, 1.0)
    return PenaltyStep(over=over, amount=_amount(step["amount"]))


_READERS: Mapping[str, Callable[[Any, Rule], Any]] = {
    "length": _read_length,
    "step": _read_step,
    "duration": _read_duration,
    "name": _read_name,
    "text": _read_name,
    "choice": _read_choice,
    "count": _read_count,
    "counts": _read_counts,
    "yes-no": _read_yes_no,
    "share": _read_share,
    "penalties": _read_penalties,
}
