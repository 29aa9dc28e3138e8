"""What changed between two published results, pilot by pilot, with the reason.

Works on two results.json documents, so that it needs nothing but what was published.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from scorer.event.entries import entry_text
from scorer.event.finding import dateless
from scorer.ledger.acts import (
    EntryId,
    LogAssigned,
    PilotSet,
    RowAct,
    Undone,
    Withdrawn,
)
from scorer.ledger.entry import Entry

Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One number that changed."""

    name: str
    before: object
    after: object

    def __str__(self) -> str:
        return f"{self.name} {_said(self.before)} → {_said(self.after)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What changed for one pilot in one task, or in the standings (`task` None)."""

    pilot: int
    task: int | None
    values: tuple[Value, ...]
    """Empty = the numbers stay, but what they rest on changed (a ruling, a keying)."""
    reasons: tuple[str, ...]
    """Sentences, the pilot's own evidence first."""

    def __str__(self) -> str:
        where = "standings" if self.task is None else f"task {self.task}"
        numbers = ", ".join(map(str, self.values)) or "the same numbers"
        return f"pilot {self.pilot}, {where}: {numbers} ({'; '.join(self.reasons)})"


def changes(
    before: Document | None,
    after: Document,
    *,
    tasks: Iterable[int] = (),
    entries: Iterable[Entry] = (),
) -> tuple[Change, ...]:
    """Compare two documents; `before` None = a first version, nothing to compare.

    `tasks` limits the comparison to those (empty = all and the standings); `entries` are
    those that came between, to name who did what and why.
    """
    if before is None:
        return ()
    wanted = set(tasks)
    acts = _by_pilot(entries)
    old = {task["task"]: task for task in before.get("tasks", ())}
    new = {task["task"]: task for task in after.get("tasks", ())}
    found: list[Change] = []
    for number in sorted({*old, *new}):
        if not wanted or number in wanted:
            found += _task_changes(number, old.get(number), new.get(number), acts)
    if not wanted:
        found += _standing_changes(before, after, found)
    return tuple(found)


def _task_changes(
    number: int,
    old: Document | None,
    new: Document | None,
    acts: Mapping[int, Sequence[tuple[int | None, str]]],
) -> list[Change]:
    before = _by_number((old or {}).get("scores", ()))
    after = _by_number((new or {}).get("scores", ()))
    found = []
    field = _field_reason(old or {}, new or {})
    for pilot in sorted({*before, *after}):
        was, is_now = before.get(pilot, {}), after.get(pilot, {})
        values = _values(was, is_now, ("group", "result", "rank", "score"))
        values += _values(was, is_now, ("task_penalty", "event_penalty"))
        own = _own_reasons(was, is_now)
        if values or own:
            own += [s for task, s in acts.get(pilot, ()) if task in {None, number}]
            reasons = own or [field]
            change = Change(
                pilot=pilot, task=number, values=values, reasons=tuple(reasons)
            )
            found.append(change)
    return found


def _values(old: Document, new: Document, names: Sequence[str]) -> tuple[Value, ...]:
    return tuple(
        Value(name=name.replace("_", " "), before=old.get(name), after=new.get(name))
        for name in names
        if old.get(name) != new.get(name)
    )


def _own_reasons(old: Document, new: Document) -> list[str]:
    """Say what changed in a pilot's own evidence and rulings."""
    if not old:
        return ["entered since the last version"]
    if not new:
        return ["no longer entered"]
    reasons = []
    for name in ("measured", "settled"):
        if old.get(name) != new.get(name):
            reasons.append(str(Value(name=name, before=old[name], after=new[name])))
    reasons += _keying_reasons(old.get("marks", ()), new.get("marks", ()))
    reasons += _charge_reasons(old.get("charges", ()), new.get("charges", ()))
    if new.get("why") and dateless(old.get("why") or "") != dateless(new["why"]):
        reasons.append(str(new["why"]))
    return reasons


def _keying_reasons(old: Sequence[Document], new: Sequence[Document]) -> list[str]:
    before, after = ([*map(_entry, _keyings(marks))] for marks in (old, new))
    gone = [f"no longer counted: {line}" for line in before if line not in after]
    come = [f"entered: {line}" for line in after if line not in before]
    return gone + come


def _keyings(marks: Sequence[Document]) -> Iterator[Any]:
    return (keying for mark in marks for keying in mark.get("keyings", ()))


def _entry(keying: Any) -> str:
    """Say an entry of a mark; older documents hold it said."""
    if isinstance(keying, str):
        return keying
    return entry_text(keying["by"], keying["fields"])


def _charge_reasons(old: Sequence[Document], new: Sequence[Document]) -> list[str]:
    before, after = (_charges(charges) for charges in (old, new))
    reasons = []
    for key in dict.fromkeys((*before, *after)):
        was, is_now = before.get(key), after.get(key)
        if _without_id(was) == _without_id(is_now):
            continue
        if is_now is None:
            reasons.append(f"penalty taken off: {_charge(was or {})}")
        elif was is None:
            reasons.append(f"penalty added: {_charge(is_now)}")
        else:
            reasons.append(f"penalty {_charge(was)} became {_charge(is_now)}")
    return reasons


def _charges(charges: Sequence[Document]) -> dict[tuple[str, int], Document]:
    """Number the charges on one finding, for it may cost more than one thing."""
    found: dict[tuple[str, int], Document] = {}
    for charge in charges:
        name = (
            dateless(charge.get("finding") or "")
            or f"imposed {charge.get('rule', '')}".strip()
        )
        number = 0
        while (name, number) in found:
            number += 1
        found[name, number] = charge
    return found


def _without_id(charge: Document | None) -> Document | None:
    return charge and {**charge, "finding": ""}


def _charge(charge: Document) -> str:
    name = charge.get("finding") or "imposed"
    text = f"{name} {charge.get('amount', '')} {charge.get('unit', '')}".strip()
    text += f", {charge.get('ruling', '')}"
    if charge.get("reason"):
        text += f": {charge['reason']}"
    return f"{text} ({charge['by']})" if charge.get("by") else text


def _field_reason(old: Document, new: Document) -> str:
    """Say why scores move of pilots for whom nothing was decided."""
    if not old:
        return "task new in this version"
    if not new:
        return "task no longer there"
    values = _values(old, new, ("state", "kind"))
    values += _values(
        old.get("formula", {}), new.get("formula", {}), ("P", "A", "M", "W", "RM", "SM")
    )
    numbers = ", ".join(map(str, values))
    text = "other pilots' results changed"
    return f"{text}: {numbers}" if numbers else text


def _standing_changes(
    before: Document, after: Document, tasks: Sequence[Change]
) -> list[Change]:
    old = _by_number(before.get("standings", ()))
    new = _by_number(after.get("standings", ()))
    by_pilot: dict[int, list[int]] = {}
    for change in tasks:
        if not change.values:
            continue
        by_pilot.setdefault(change.pilot, []).append(change.task or 0)
    found = []
    for pilot in sorted({*old, *new}):
        names = ("rank", "total", "event_penalty")
        values = _values(old.get(pilot, {}), new.get(pilot, {}), names)
        if values:
            own = by_pilot.get(pilot)
            reason = (
                f"see task {', '.join(map(str, own))}"
                if own
                else "other pilots' totals changed"
            )
            change = Change(pilot=pilot, task=None, values=values, reasons=(reason,))
            found.append(change)
    return found


def _by_pilot(
    entries: Iterable[Entry],
) -> dict[int, list[tuple[int | None, str]]]:
    """Sort entries by the pilot they are about, with their task and a sentence."""
    every = list(entries)
    by_id = {entry.hash: entry for entry in every}
    found: dict[int, list[tuple[int | None, str]]] = {}
    for entry in sorted(every, key=lambda item: item.order):
        pilot, task = _about(entry, by_id)
        if pilot is not None:
            text = f"{entry.kind} by {entry.who} (entry {entry.label})"
            if entry.why:
                text += f": {entry.why}"
            found.setdefault(pilot, []).append((task, text))
    return found


def _about(
    entry: Entry, by_id: Mapping[EntryId, Entry]
) -> tuple[int | None, int | None]:
    act = entry.act
    if isinstance(act, Withdrawn | Undone):
        named = by_id.get(act.entry)
        return _about(named, by_id) if named is not None else (None, None)
    if isinstance(act, LogAssigned):
        return act.pilot, None
    if isinstance(act, RowAct | PilotSet):
        column = "pilot" if isinstance(act, RowAct) else "number"
        return _whole(act.fields.get(column, "")), _whole(act.fields.get("task", ""))
    return None, None


def _whole(text: str) -> int | None:
    text = text.strip()
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None


def _by_number(rows: Iterable[Document]) -> dict[int, Document]:
    return {row["pilot"]: row for row in rows}


def _said(value: object) -> str:
    return "none" if value is None else str(value)
