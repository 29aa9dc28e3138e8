"""The JSON schema of results.json, with every kind there is."""

import json
from collections.abc import Callable, Iterable, Mapping
from importlib import resources
from typing import Any

from scorer.event.finding import Verdict, finding_kinds
from scorer.event.matter import KINDS as MATTER_KINDS
from scorer.event.matter import Blocks, Closes, Decides
from scorer.event.model import Method, PenaltyUnit, TaskState, Units
from scorer.event.rulebook import rules_of
from scorer.event.task_kinds import TASK_KINDS
from scorer.scoring.keyings import Keyed
from scorer.scoring.results import Group, RulingState

_ENUMS: Mapping[str, Callable[[], Iterable[object]]] = {
    "kinds of tasks": lambda: TASK_KINDS,
    "units of tasks": lambda: dict.fromkeys(k.unit for k in TASK_KINDS.values()),
    "which results are best": lambda: dict.fromkeys(
        kind.best for kind in TASK_KINDS.values()
    ),
    "units of results": lambda: dict.fromkeys(
        (*(kind.unit for kind in TASK_KINDS.values()), "km", "in")
    ),
    "states of tasks": lambda: TaskState,
    "groups": lambda: Group,
    "kinds of infringements": finding_kinds,
    "verdicts": lambda: Verdict,
    "units of penalties": lambda: PenaltyUnit,
    "states of decisions": lambda: RulingState,
    "kinds of matters": lambda: MATTER_KINDS,
    "what matters block": lambda: Blocks,
    "where matters close": lambda: Closes,
    "who decides": lambda: Decides,
    "states of marks": lambda: (*Keyed, None),
    "methods of measuring": lambda: Method,
    "units of events": lambda: Units,
}
"""What may stand in a place of the schema, by how the schema names it there."""


def results_schema() -> dict[str, Any]:
    """Return the schema: the tree of `results.schema.json` with the kinds put in.

    Where `enum` names kinds, they come from their declarations, so that a new one never
    breaks its own schema; a rule's key stands for the answers that rule may have.
    """
    text = resources.files("scorer.sheets").joinpath("results.schema.json")
    tree: dict[str, Any] = _filled(json.loads(text.read_text(encoding="utf-8")))
    return tree


def _filled(part: Any) -> Any:
    if isinstance(part, list):
        return [_filled(own) for own in part]
    if not isinstance(part, dict):
        return part
    return {
        key: _allowed(own) if key == "enum" and isinstance(own, str) else _filled(own)
        for key, own in part.items()
    }


def _allowed(name: str) -> list[str | None]:
    if name in _ENUMS:
        return [None if one is None else str(one) for one in _ENUMS[name]()]
    section, _, key = name.partition(".")
    return [*rules_of(section)[key][1].choices]
