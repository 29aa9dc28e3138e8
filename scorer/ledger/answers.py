"""Who answered the rules of an event, and when."""

from collections.abc import Mapping
from typing import Any

from scorer.event.rules_reader import plain_rules
from scorer.ledger.acts import SettingsSet
from scorer.ledger.entry import Entry
from scorer.ledger.replay import State


def answered_by(state: State) -> Mapping[str, Entry]:
    """Return by rule the entry that gave it the value it has now.

    Only rules that somebody set: those left to the book have no entry.
    """
    undone, found = state.standing.undone, dict[str, Entry]()
    before: dict[str, dict[str, Any]] = {}
    now = _values(state.settings)
    for held in state.standing.entries:
        if not isinstance(held.act, SettingsSet) or held.id in undone:
            continue
        before[held.id] = own = _values(held.act.settings)
        earlier = [before[name] for name in held.entry.replaces if name in before]
        stated = _stated(held.act.settings)
        for key, value in own.items():
            new = all(old[key] != value for old in earlier)
            if value == now[key] and new and (earlier or key in stated):
                found[key] = held.entry
    return found


def _values(settings: Mapping[str, Any]) -> dict[str, Any]:
    rules = plain_rules(settings.get("rules", {}))
    return {f"{name}.{key}": v for name, own in rules.items() for key, v in own.items()}


def _stated(settings: Mapping[str, Any]) -> set[str]:
    """Return the rules that settings name themselves."""
    rules = settings.get("rules", {})
    return {
        f"{name}.{key}"
        for name, own in rules.items()
        if isinstance(own, Mapping)
        for key in own
    }
