"""Hold every statement of results.json against the list of statements that travels in it.

The list says which kinds there are, which values each has, and which words of the trade
stand in them; so a reader of any later version can tell what was changed.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from scorer.recount.digests import plain
from scorer.recount.numbers import Difference, differ

KEY = "statements"
_SAYING = frozenset({"says", "values", "steps", "figures", "rule"})
"""Names under which statements stand."""
_NUMBERS = (
    "_m",
    "_km2",
    "_s",
    "_deg",
    "_chance",
    "_points",
    "_number",
    "_hpa",
    "_count",
)
"""Endings of the names of numbers."""
_ALONE = frozenset({"points", "units", "task", "pilot", "m", "km2", "deg", "count"})
"""Names of numbers that need no ending."""
_UNCOUNTED = frozenset({"entered", "statements", "digests"})


def check_statements(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield statements that are not on the list, and kinds on it that nothing states."""
    kinds, terms = results[KEY]["kinds"], results[KEY]["terms"]
    used, said = set(), set()
    for name, part in results.items():
        if name in _UNCOUNTED:
            continue
        for where, stated in statements_of(part, name):
            kind, names = stated["kind"], sorted(set(stated) - {"kind"})
            used.add((kind, *names))
            if names not in kinds.get(kind, []):
                yield from differ(f"{where}: {kind}", names, kinds.get(kind, "no kind"))
            for key, value in stated.items():
                yield from _check_twice(f"{where}: {kind}, {key}", key, value)
                yield from _check_value(f"{where}: {kind}, {key}", key, value)
                for text in _texts(value):
                    own = f"{kind}.{key}"
                    said.add((own, text))
                    if own in terms and text not in terms[own]:
                        yield from differ(f"{where}: {kind}, {key}", text, terms[own])
    again: dict[str, list[list[str]]] = {}
    for kind, *names in sorted(used):
        again.setdefault(kind, []).append(names)
    yield from differ("kinds of statements", kinds, again)
    words = {own: sorted(t for key, t in said if key == own) for own in terms}
    yield from differ("words of statements", terms, words)
    stated_so = "task-measured.best" in terms
    yield from differ("words of tasks", stated_so, "task-measured" in kinds)


def statements_of(
    part: Any, where: str, *, within: bool = False, listed: bool = False
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Yield every statement below a part, and where it stands."""
    if isinstance(part, Mapping):
        if within:
            if not isinstance(part.get("kind"), str):
                if (
                    "kind" in part or len(part) != 1 or not listed
                ):  # else one of several values
                    raise TypeError(f"no kind of statement in {where}")
            else:
                yield where, part
        for name, inner in part.items():
            own = within or name in _SAYING
            yield from statements_of(inner, f"{where} {name}", within=own)
    elif isinstance(part, list | tuple):
        for number, inner in enumerate(part, start=1):
            at = f"{where} {number}"
            yield from statements_of(inner, at, within=within, listed=True)


def _texts(value: Any) -> Iterator[str]:
    for own in value if isinstance(value, list) else [value]:
        if isinstance(own, str):
            yield own


def _check_twice(where: str, name: str, value: Any) -> Iterator[Difference]:
    """Yield what a list says twice; two people may have entered the same."""
    if isinstance(value, list) and name != "entries":
        twice = len(value) - len({plain(own) for own in value})
        yield from differ(f"{where}, said twice", twice, 0)


def _check_value(where: str, name: str, value: Any) -> Iterator[Difference]:
    """Yield what is no value of its name: a text for a number, nothing at all."""
    if value is None or isinstance(value, bool):
        yield from differ(where, value, "a value")
    counts = name in _ALONE or name.endswith(_NUMBERS)
    if counts and isinstance(value, str | list | Mapping):
        yield from differ(where, value, "a number")
    elif not counts and isinstance(value, list | str) and not value:
        yield from differ(where, "nothing", "a value")
    if name.endswith("chance") and not counts | (0 <= value <= 1):
        yield from differ(where, value, "0 to 1")
