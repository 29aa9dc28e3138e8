"""Whether the parts of results.json are such as any program of this format writes."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from scorer.recount.numbers import Difference, differ

_CHOICES = {
    "group": {"A", "B", "C"},
    "verdict": {"certain", "possible", "clear"},
    "best": {"smallest", "greatest"},
}
"""What may stand under a key."""
_ALIKE = (
    ("tasks",),
    ("tasks", "formula"),
    ("tasks", "rules"),
    ("tasks", "scores"),
    ("tasks", "scores", "charges"),
    ("tasks", "scores", "marks"),
    ("tasks", "scores", "marks", "keyings"),
    ("findings",),
    ("findings", "charges"),
    ("standings",),
    ("team_standings",),
    ("event_charges",),
    ("tasks", "remeasure"),
    ("matters",),
    ("warnings",),
    ("flights",),
    ("flights", "logs"),
    ("pilots",),
)
"""Lists whose members all have the same keys."""
_KEYS: Mapping[tuple[str, ...], frozenset[str]] = {
    ("tasks", "rules"): frozenset(
        {
            *("ties", "parted_by", "no_result", "show_up", "places"),
            *("decimals", "counts", "step", "step_unit"),
        }
    ),
    ("flights",): frozenset(("flight", "date", "logs")),
    ("flights", "logs"): frozenset(("name", "pilot", "sha256")),
}
"""What rows have, also where there is one alone; more are no fault."""
_MAY_LACK = {"guests", "fields", "result", "results"}


def check_shape(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield what lacks a key or a kind of value that its neighbours have."""
    for path in _ALIKE:
        rows = list(_rows(results, path))
        forms = _forms(rows)
        keys = {*forms, *_KEYS.get(path, ())} - _MAY_LACK
        for number, row in enumerate(rows, start=1):
            where = f"{' '.join(path)} {number}"
            yield from differ(
                f"{where}, keys", sorted(set(row) - _MAY_LACK), sorted(keys)
            )
            yield from _check_values(where, row, forms)


def _rows(tree: Any, path: Sequence[str]) -> Iterator[Mapping[str, Any]]:
    if not path:
        yield from ([tree] if isinstance(tree, Mapping) else ())
        return
    below = tree.get(path[0], ())
    for inner in [below] if isinstance(below, Mapping) else below:
        if isinstance(inner, Mapping):
            yield from _rows(inner, path[1:])
        else:
            raise TypeError(f"{inner!r:.40} among {path[0]}")


def _forms(rows: Sequence[Mapping[str, Any]]) -> Mapping[str, set[str]]:
    """Return the kinds of value that stand under each key."""
    found: dict[str, set[str]] = {}
    for row in rows:
        for key, value in row.items():
            found.setdefault(key, set()).add(_form(value))
    return found


def _check_values(
    where: str, row: Mapping[str, Any], forms: Mapping[str, set[str]]
) -> Iterator[Difference]:
    for key, value in row.items():
        allowed = _CHOICES.get(key)
        if allowed is not None and isinstance(value, str) and value not in allowed:
            yield from differ(f"{where}, {key}", value, " or ".join(map(str, allowed)))
        if len(forms[key] - {"nothing"}) > 1:
            own = sorted(forms[key])
            yield from differ(f"{where}, {key}, kinds of value", own, "one")


def _form(value: object) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "truth"
    if isinstance(value, str):
        return "text"
    return "list" if isinstance(value, list) else _other(value)


def _other(value: object) -> str:
    return "tree" if isinstance(value, Mapping) else "number"
