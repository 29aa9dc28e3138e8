"""Rules that official tasks keep: what was official is not scored anew by a new rule.

From its official publication on a task keeps the event's rules as they stood then, until
it goes up as provisional by itself, that publication comes down, or an official opens it
again expressly.  What is kept is put into the task's own rules, so that score, sheets and
an exported folder say the same.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from scorer.event.matter import Closes, Matter, matter_kind
from scorer.event.rules_reader import plain_rules, written
from scorer.facts import fact, rule, words
from scorer.facts import task as task_value
from scorer.ledger.acts import (
    EntryId,
    FlightSet,
    LogAdded,
    PlaceSet,
    Published,
    RowAct,
    SettingsSet,
    Stage,
    TaskReopened,
    Undone,
    Withdrawn,
)
from scorer.ledger.entry import Entry, ancestors
from scorer.ledger.holding import resolve
from scorer.ledger.lineage import SortedEntries, standing_of
from scorer.ledger.resolve import Current

RULE_KEPT = matter_kind("rule-kept", closes=Closes.RULES)
Up = tuple[Entry, Published]
Rules = Mapping[str, Mapping[str, Any]]
"""Section to key to the value as in event.toml."""
_OF_THE_EVENT = frozenset({"standings", "publication"})
"""Sections that are no task's."""
_PLACES = frozenset({"within", "area", "above"})
"""Keys that name a place; one that is gone cannot be kept."""
_WORDS = frozenset({"none", "scoring-area"})
"""What rules name besides places."""


def kept_rules(
    standing: SortedEntries, current: Sequence[Current], up: Sequence[Up]
) -> dict[int, Rules]:
    """Return the rules that official tasks keep and that are others now, by task.

    `current` is what holds, `up` the publications that stand, in order.
    """
    rules = _rules_of(current)
    if len(standing.all_of(SettingsSet)) < 2 or rules is None:
        return {}
    changing = standing.all_of((SettingsSet, Withdrawn, Undone))
    now = plain_rules(rules)
    places = {
        c.act.name for c in current if c.is_a(PlaceSet) and isinstance(c.act, PlaceSet)
    }
    official = _official(standing, current, up)
    differs = {}
    for heads in set(official.values()):
        seen = ancestors((held.entry for held in standing.entries), heads)
        then, _ = resolve(standing_of(tuple(h for h in changing if h.id in seen)))
        old = _rules_of(then)
        differs[heads] = (
            {} if old is None else _differences(plain_rules(old), now, places)
        )
    return {task: differs[heads] for task, heads in official.items() if differs[heads]}


def with_kept(settings: Mapping[str, Any], kept: Mapping[int, Rules]) -> dict[str, Any]:
    """Return a flight's settings with what its tasks keep among their own rules."""
    tasks = settings.get("task")
    if not kept or not isinstance(tasks, list):
        return dict(settings)
    rows = [_with_kept(row, kept.get(_number(row), {})) for row in tasks]
    return {**settings, "task": rows}


def of_kept(kept: Mapping[int, Rules], settings: Mapping[str, Any]) -> Iterator[Matter]:
    """Tell which official tasks keep which rules, beside the event's own of today."""
    now = plain_rules(settings.get("rules", {})) if kept else {}
    for task, sections in kept.items():
        for section, values in sections.items():
            for key, value in values.items():
                says = fact(
                    "rule-kept",
                    task=task_value(task),
                    rule=rule(f"{section}.{key}"),
                    kept=words(written(value)),
                    now=words(written(now[section][key])),
                )
                yield Matter(kind=RULE_KEPT, task=task, says=says)


def _official(
    standing: SortedEntries, current: Sequence[Current], up: Sequence[Up]
) -> dict[int, tuple[EntryId, ...]]:
    """Return for each official task the heads it became official from."""
    since: dict[int, tuple[EntryId, ...]] = {}
    opened = [
        (c.entry.order, c.act.task)
        for c in current
        if c.is_a(TaskReopened) and isinstance(c.act, TaskReopened)
    ]
    for entry, act in up:
        for order, task in opened:
            if order < entry.order:
                since.pop(task, None)
        opened = [one for one in opened if one[0] > entry.order]
        official = act.stage is not Stage.PROVISIONAL
        for task in act.tasks or (_flown(standing, act.heads) if official else ()):
            if official:
                since.setdefault(task, act.heads)
            else:
                since.pop(task, None)
    for _, task in opened:
        since.pop(task, None)
    return since


def _flown(standing: SortedEntries, heads: Iterable[EntryId]) -> tuple[int, ...]:
    """Return the tasks that were flown as a publication of the whole event went up."""
    seen = ancestors((h.entry for h in standing.entries), heads) - standing.undone
    held = [h for h in standing.entries if h.id in seen]
    shown = {h.flight for h in held if h.is_a((RowAct, LogAdded))}
    acts = [h.act for h in held if h.is_a(FlightSet)]
    flights = {act.flight: act for act in acts if isinstance(act, FlightSet)}
    return tuple(
        _number(row)
        for name, flight in flights.items()
        for row in flight.settings.get("task", ())
        if isinstance(row, Mapping)
        and row.get("state", "flown" if name in shown else "planned") == "flown"
    )


def _number(row: Any) -> int:
    number = row.get("number") if isinstance(row, Mapping) else None
    return number if isinstance(number, int) else -1


def _rules_of(current: Iterable[Current]) -> Mapping[str, Any] | None:
    """Return the event's rules of what holds; None where it has no settings."""
    acts = (
        c.act for c in current if c.is_a(SettingsSet) and isinstance(c.act, SettingsSet)
    )
    return next((act.settings.get("rules", {}) for act in acts), None)


def _differences(old: Rules, now: Rules, places: set[str]) -> Rules:
    found: dict[str, dict[str, Any]] = {}
    known = [*places, *_WORDS]  # asked for values that may be none, lists say
    for section in (name for name in old if name not in _OF_THE_EVENT):
        for key, value in old[section].items():
            names_place = key in _PLACES and value not in known
            if value != now[section][key] and not names_place:
                found.setdefault(section, {})[key] = value
    return found


def _with_kept(row: Any, kept: Rules) -> Any:
    own = row.get("rules", {}) if isinstance(row, Mapping) else None
    if not kept or not isinstance(own, Mapping):
        return row
    rules = dict(own)
    for section, values in kept.items():
        said = own.get(section, {})
        if isinstance(said, Mapping):  # what is no table is refused as it stands
            rules[section] = {**values, **said}
    return {**row, "rules": rules}
