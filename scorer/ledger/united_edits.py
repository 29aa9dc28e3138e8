"""Unite edits that two desks made to one thing without seeing each other.

Edits of different fields both hold.  Edits of one field to different values clash: the
value that both started from stays, and the clash is listed for people to decide.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

ABSENT: Any = object()
"""Stands for a key that is not there."""


class UnitedEdits(NamedTuple):
    """Edits put together."""

    value: Any
    clashes: tuple[str, ...]
    """Paths of fields that were edited in different ways."""


def unite_edits(base: Any, edits: Sequence[Any], path: str = "") -> UnitedEdits:
    """Put several edits of one base together, in any order with the same outcome."""
    changed: list[Any] = []
    for edit in edits:
        if not _same(edit, base) and not any(_same(edit, other) for other in changed):
            changed.append(edit)
    if len(changed) < 2:
        return UnitedEdits(changed[0] if changed else base, ())
    tables = all(isinstance(value, Mapping) for value in changed)
    if tables and isinstance(base, Mapping):
        return _unite_tables(base, changed, path)
    if tables and base is ABSENT and _holds_rules(path):
        united = _unite_tables({}, changed, path)
        return united if united.value else UnitedEdits(ABSENT, united.clashes)
    if all(_is_numbered(value) for value in (base, *changed)):
        united = _unite_tables(_by_number(base), [_by_number(e) for e in changed], path)
        return UnitedEdits(list(united.value.values()), united.clashes)
    return UnitedEdits(base, (path or "the whole",))


def _unite_tables(
    base: Mapping[Any, Any], edits: Sequence[Mapping[Any, Any]], path: str
) -> UnitedEdits:
    # Base order first, then what the edits add, in an order that both desks get.
    added = {key for edit in edits for key in edit} - set(base)
    value = {}
    clashes: list[str] = []
    for key in [*base, *sorted(added, key=repr)]:
        part = unite_edits(
            base.get(key, ABSENT),
            [edit.get(key, ABSENT) for edit in edits],
            f"{path}.{key}" if path else str(key),
        )
        clashes.extend(part.clashes)
        if part.value is not ABSENT:
            value[key] = part.value
    return UnitedEdits(value, tuple(clashes))


def _same(one: Any, other: Any) -> bool:
    if one is ABSENT or other is ABSENT:
        return one is other
    return type(one) is type(other) and bool(one == other)


def _holds_rules(path: str) -> bool:
    """Tell whether a table holds rules, each an answer of its own: `rules.points`."""
    return path == "rules" or (path.startswith("rules.") and path.count(".") == 1)


def _is_numbered(value: Any) -> bool:
    """Tell whether a value is a list of tables with distinct numbers, as tasks are."""
    if not isinstance(value, list | tuple):
        return False
    numbers = [item.get("number") for item in value if isinstance(item, Mapping)]
    return (
        len(numbers) == len(value)
        and None not in numbers
        and len(set(map(repr, numbers))) == len(numbers)
    )


def _by_number(tables: Sequence[Mapping[str, Any]]) -> dict[Any, Mapping[str, Any]]:
    return {table["number"]: table for table in tables}
