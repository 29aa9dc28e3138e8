"""Who answered the rules of an event, when, and what another answer would change."""

from collections.abc import Mapping, Sequence
from typing import Any

from scorer.event.rules_reader import plain_rules
from scorer.facts import Fact, count, fact, inner, several, task
from scorer.ledger.acts import SettingsSet
from scorer.ledger.entry import Draft, Entry
from scorer.ledger.ledger import Ledger
from scorer.ledger.replay import State
from scorer.ledger.tried import Scoring, try_out, with_drafts


def answered_by(state: State) -> Mapping[str, Entry]:
    """Return by rule the entry that gave it the value it has now.

    Only rules that somebody set: those left to the book have no entry.
    """
    undone, found = state.standing.undone, dict[str, Entry]()
    before: dict[str, dict[str, Any]] = {}
    now = _values(state.settings)
    for held in state.standing.entries:
        if not held.is_a(SettingsSet) or held.id in undone:
            continue
        assert isinstance(held.act, SettingsSet)
        before[held.id] = own = _values(held.act.settings)
        earlier = [before[name] for name in held.entry.replaces if name in before]
        stated = _stated(held.act.settings)
        for key, value in own.items():
            new = all(old[key] != value for old in earlier)
            if value == now[key] and new and (earlier or key in stated):
                found[key] = held.entry
    return found


def answered_anew(before: SettingsSet, now: SettingsSet) -> frozenset[str]:
    """Return the rules to which an entry gives another value than the one before."""
    old, new = _values(before.settings), _values(now.settings)
    other = {key for key in old.keys() | new.keys() if old.get(key) != new.get(key)}
    return frozenset(other | (_stated(now.settings) ^ _stated(before.settings)))


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


def foreseen(
    ledger: Ledger, drafts: Sequence[Draft], *, scoring: Scoring | None = None
) -> tuple[Fact, ...]:
    """State what recording answers would change, before it is recorded."""
    tried = try_out(ledger, drafts, scoring=scoring)
    kept, then = ledger.state().kept, with_drafts(ledger, drafts).kept
    keeping = [task for task, own in then.items() if own != kept.get(task)]
    changed = [change for change in tried.changes if change.task is not None]
    if not changed:
        told = [fact("answer-changes-nothing")]
    else:
        numbers = [{value.name for value in change.values} for change in changed]
        told = [
            fact(
                "answer-changes",
                tasks=several(
                    inner(fact("where-task", task=task(number)))
                    for number in sorted({c.task for c in changed if c.task})
                ),
                penalties=count(sum(bool(own & _PENALTIES) for own in numbers)),
                ranks=count(sum("rank" in own for own in numbers)),
            )
        ]
    if keeping:
        names = (fact("where-task", task=task(number)) for number in sorted(keeping))
        told.append(fact("answer-kept", tasks=several(map(inner, names))))
    return tuple(told)


_PENALTIES = frozenset({"task_penalty", "event_penalty"})
"""Values of a change that are penalties."""
