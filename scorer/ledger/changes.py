"""What changed between two published results, pilot by pilot, with the reason.

Works on two results.json documents, so that it needs nothing but what was published.
"""

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from scorer.event.entries import entry_text
from scorer.event.finding import dateless
from scorer.event.task_kinds import TASK_KINDS
from scorer.facts import Fact, Measure, fact, inner, length, listed, points, term, words
from scorer.facts import Value as Stated
from scorer.facts import number as number_value
from scorer.facts import pilot as pilot_value
from scorer.facts import task as task_value
from scorer.ledger.act import title_of
from scorer.ledger.acts import (
    EntryId,
    FlightSet,
    LogAssigned,
    PilotSet,
    RowAct,
    Undone,
    Withdrawn,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.cells import whole_number
from scorer.ledger.entry import Entry
from scorer.words.catalogue import has

Document = Mapping[str, Any]
_POINTS = frozenset({"score", "total", "task_penalty", "event_penalty", "SM"})


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedNumber:
    """One number that changed."""

    name: str
    before: object
    after: object
    measure: Measure = Measure.NUMBER
    """What a result counts."""

    @property
    def says(self) -> Fact:
        """What it was and what it is."""
        before, after = (self._value(v) for v in (self.before, self.after))
        kind = f"changed-{self.name.replace('_', '-')}"
        return fact(kind, before=before, after=after)

    def _value(self, value: object) -> Stated:
        if value is None:
            return term("nothing-before")
        if isinstance(value, bool):
            return term("yes" if value else "no")
        if self.name == "group":
            return _known(f"group-{str(value).casefold()}", str(value))
        if not isinstance(value, int | float):
            return words(str(value))
        if self.name in _POINTS:
            return Stated(Measure.POINTS, value)
        measured = self.name in {"result", "measured", "W", "RM"}
        return Stated(self.measure if measured else Measure.NUMBER, value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What changed for one pilot in one task, or in the standings (`task` None)."""

    pilot: int
    task: int | None
    values: tuple[ChangedNumber, ...]
    """Empty = the numbers stay, but what they rest on changed (a ruling, a keying)."""
    reasons: tuple[Fact, ...]
    """Why, the pilot's own evidence first."""

    @property
    def numbers(self) -> Fact:
        """Where numbers changed, and how."""
        where = fact("in-standings")
        if self.task is not None:
            where = fact("where-task", task=task_value(self.task))
        numbers = [value.says for value in self.values] or [fact("same-numbers")]
        return fact("change-of", where=inner(where), numbers=listed(numbers))

    @property
    def says(self) -> Fact:
        """Whose numbers changed, where, how and why."""
        return fact(
            "change",
            pilot=pilot_value(self.pilot),
            what=inner(self.numbers),
            reasons=listed(self.reasons),
        )


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
    between = sorted(entries, key=lambda item: item.order)
    acts = _by_pilot(between)
    old = {task["task"]: task for task in before.get("tasks", ())}
    new = {task["task"]: task for task in after.get("tasks", ())}
    found: list[Change] = []
    for number in sorted({*old, *new}):
        if not wanted or number in wanted:
            own = old.get(number, {}), new.get(number, {})
            made = [*_made_it_so(own[1], between)] if own[0] else []
            found += _task_changes(number, *own, acts, made)
    if not wanted:
        found += _standing_changes(before, after, found)
    return tuple(found)


def check_readable(tree: Document) -> None:
    """Raise what comparing a document of any origin would, unless its parts are sound.

    Raises
    ------
    TypeError, ValueError, KeyError, AttributeError
        It is no such document.
    """
    sorted(task["task"] for task in tree.get("tasks", ()))
    for task in tree.get("tasks", ()):
        _field_reason(task, task)
        for score in _by_number(task.get("scores", ())).values():
            _check_score(score)
    for row in _by_number(tree.get("standings", ())).values():
        _values(row, row, ("rank",))


def _check_score(score: Document) -> None:
    for keying in _keyings(score.get("marks", ())):
        if not isinstance(keying, str):
            texts = (keying["by"], *keying["fields"].values())
            if not all(isinstance(text, str) for text in texts):
                raise TypeError("an entry of a mark that is no text")
    for charge in _charges(score.get("charges", ())).values():
        _charge(charge)
    dateless(score.get("why") or "")
    _taken_away(score)


def number_changes(
    numbers: Mapping[int, int], entries: Iterable[Entry], known: Container[int]
) -> Iterator[Change]:
    """Yield the pilots who were put up under other numbers, with who changed them, why.

    `numbers` are the old ones to the new ones; `entries` as in `changes`; `known` are
    the numbers put up.
    """
    acts = _by_pilot(e for e in entries if isinstance(e.act, PilotSet))
    for old, new in numbers.items():
        if old != new and new in acts and old in known:
            value = ChangedNumber(name="number", before=old, after=new)
            reasons = tuple(told for _, told in acts[new])
            yield Change(pilot=new, task=None, values=(value,), reasons=reasons)


def _task_changes(
    number: int,
    old: Document,
    new: Document,
    acts: Mapping[int, Sequence[tuple[int | None, Fact]]],
    made: Sequence[Fact],
) -> list[Change]:
    """Compare a task; `made` are the entries that gave it the state it has now."""
    alike = old.get("state") == new.get("state") if old else False
    goes = new.get("state") == "cancelled" and not alike
    before = _by_number(old.get("scores", ()))
    after = _by_number(() if goes else new.get("scores", ()))
    found: list[Change] = []
    if not before and goes:
        return found  # nothing of it was up, and nothing comes
    field = [_field_reason(old, new), *([] if alike else made)]
    measure = _measure(new or old)
    for pilot in sorted({*before, *after}):
        was, is_now = before.get(pilot, {}), after.get(pilot, {})
        if was == is_now:  # most of them
            continue
        values = _values(was, is_now, ("group", "result", "rank", "score"), measure)
        values += _values(was, is_now, ("task_penalty", "event_penalty"))
        own = _own_reasons(was, is_now, measure) if alike else []
        if values or own:
            own += [s for task, s in acts.get(pilot, ()) if task in {None, number}]
            reasons = own or field
            change = Change(
                pilot=pilot, task=number, values=values, reasons=tuple(reasons)
            )
            found.append(change)
    return found


def _made_it_so(task: Document, entries: Sequence[Entry]) -> Iterator[Fact]:
    """Yield the entry that gave a task its state: the first that all later ones keep."""
    so, found = (task.get("task"), task.get("state")), None
    for entry in entries:
        act = entry.act
        if isinstance(act, FlightSet) and act.flight == task.get("flight"):
            rows = act.settings.get("task", ())
            states = [(row.get("number"), row.get("state")) for row in rows]
            found = (found or entry) if so in states else None
    if found is not None:
        yield _entry_made(found, inner(found.act.thing))


_MEASURES = {"m": Measure.LENGTH, "deg": Measure.ANGLE, "km2": Measure.AREA}


def _measure(task: Document) -> Measure:
    """Return what the results of a task count."""
    kind = TASK_KINDS.get(task.get("kind", ""))
    if kind is not None and kind.race:
        return Measure.RACE
    return _MEASURES.get(task.get("unit", ""), Measure.TAKEN)


def _values(
    old: Document,
    new: Document,
    names: Sequence[str],
    measure: Measure = Measure.NUMBER,
) -> tuple[ChangedNumber, ...]:
    return tuple(
        ChangedNumber(
            name=name, before=old.get(name), after=new.get(name), measure=measure
        )
        for name in names
        if old.get(name) != new.get(name)
        and (old or new.get(name) != 0)
        and (new or old.get(name) != 0)
    )


def _own_reasons(old: Document, new: Document, measure: Measure) -> list[Fact]:
    """Say what changed in a pilot's own evidence and rulings."""
    if not old:
        return [fact("pilot-entered-since")]
    if not new:
        return [fact("pilot-no-longer-entered")]
    reasons = [v.says for v in _values(old, new, ("measured",), measure)]
    if old.get("settled") != new.get("settled"):
        kind = "mark-settled-since" if new.get("settled") else "mark-open-since"
        reasons.append(fact(kind))
    reasons += _keying_reasons(old.get("marks", ()), new.get("marks", ()))
    charged = _charge_reasons(old.get("charges", ()), new.get("charges", ()))
    reasons += charged
    told = bool(charged) and _taken_away(new)
    changed = dateless(old.get("why") or "") != dateless(new.get("why") or "")
    if new.get("why") and changed and not told:
        reasons.append(fact("fault-in-words", text=words(str(new["why"]))))
    return reasons


_TAKING = frozenset({"no-result-because", "disqualified-because"})


def _taken_away(score: Document) -> bool:
    """Tell whether a charge took the result: then it says why there is none."""
    whys = (s.get("why") for s in score.get("steps", ()) if isinstance(s, Mapping))
    return any(isinstance(w, Mapping) and w.get("kind") in _TAKING for w in whys)


def _keying_reasons(old: Sequence[Document], new: Sequence[Document]) -> list[Fact]:
    before, after = ([*map(_entry, _keyings(marks))] for marks in (old, new))
    gone = [fact("entry-gone", entry=words(e)) for e in before if e not in after]
    come = [fact("entry-come", entry=words(e)) for e in after if e not in before]
    return gone + come


def _keyings(marks: Sequence[Document]) -> Iterator[Any]:
    return (keying for mark in marks for keying in mark.get("keyings", ()))


def _entry(keying: Any) -> str:
    """Say an entry of a mark; older documents hold it said."""
    if isinstance(keying, str):
        return keying
    return entry_text(keying["by"], keying["fields"])


def _charge_reasons(old: Sequence[Document], new: Sequence[Document]) -> list[Fact]:
    before, after = (_charges(charges) for charges in (old, new))
    reasons = []
    for key in dict.fromkeys((*before, *after)):
        was, is_now = before.get(key), after.get(key)
        if _read_alike(was, is_now):
            continue
        given = (is_now or was or {}).get("ruling") in _GIVEN
        kind = "decision" if given else "penalty"
        if is_now is None:
            reasons.append(
                Fact(f"{kind}-gone", (("penalty", inner(_charge(was or {}))),))
            )
        elif was is None:
            reasons.append(Fact(f"{kind}-come", (("penalty", inner(_charge(is_now))),)))
        else:
            before_, after_ = inner(_charge(was)), inner(_charge(is_now))
            reasons.append(fact("penalty-became", before=before_, after=after_))
    return reasons


_GIVEN = frozenset({"bonus", "score", "average"})
"""What officials decide that takes nothing off."""


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


def _read_alike(was: Document | None, is_now: Document | None) -> bool:
    """Tell whether people read the same of both: what programs note beside is no change."""
    return bool(was and is_now) and _charge(was or {}) == _charge(is_now or {})


def _charge(charge: Document) -> Fact:
    """State a penalty: how much, for what, who decided what and why."""
    kind = str(charge.get("finding") or "").partition(":")[0]
    cause = fact("penalty-imposed")
    if kind:
        cause = fact("for-infringement", what=_known(f"finding-{kind}", kind))
    ruling, by, why = (charge.get(name) for name in ("ruling", "by", "reason"))
    parts = (
        _known(f"ruling-{ruling}", str(ruling)) if ruling else None,
        fact("by-whom", who=words(str(by))) if by else None,
        fact("because", why=words(str(why))) if why else None,
    )
    if ruling in _GIVEN:
        given = listed(part for part in parts if part)
        if ruling != "bonus":  # the charge makes up the difference: it says nothing
            return fact("given-told", ruling=given)
        amount = _amount({**charge, "amount": -charge.get("amount", 0)})
        return fact("bonus-told", amount=inner(amount), ruling=given)
    told = {"amount": inner(_amount(charge)), "cause": inner(cause)}
    if not any(parts):
        return fact("penalty-plain", **told)
    return fact("penalty-told", ruling=listed(parts), **told)


def _amount(charge: Document) -> Fact:
    amount, unit = charge.get("amount", 0), str(charge.get("unit", ""))
    if unit == "metres":
        return fact("amount-metres", length=length(amount))
    if unit in {"task points", "event points"}:
        kind = f"amount-{unit.replace(' ', '-')}"
        return fact(kind, points=points(amount))
    known = {"no result": fact("amount-no-result"), "disqualified": _OUT}
    return known.get(unit) or fact("fault-in-words", text=words(f"{amount} {unit}"))


_OUT = fact("amount-disqualified")


def _known(name: str, plain: str) -> Stated:
    """Return a word of the trade; what is written where it is none: papers are old."""
    return term(name) if has(f"term-{name}") else words(plain)


def _field_reason(old: Document, new: Document) -> Fact:
    """Say why scores move of pilots for whom nothing was decided."""
    if not old.get("scores"):
        return fact("task-new")
    if not new:
        return fact("task-gone")
    if state := _values(old, new, ("state",)):
        return state[0].says
    values = _values(old, new, ("kind",))
    formulas = old.get("formula", {}), new.get("formula", {})
    values += _values(*formulas, ("P", "A", "M", "W", "RM", "SM"), _measure(new))
    if not values:
        return fact("others-changed")
    return fact("others-changed-so", values=listed(value.says for value in values))


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
            reason = fact("totals-changed")
            if pilot not in old:
                reason = fact("pilot-entered-since")
            elif pilot not in new:
                reason = fact("pilot-no-longer-entered")
            elif own:
                reason = fact("see-tasks", tasks=listed(map(number_value, own)))
            change = Change(pilot=pilot, task=None, values=values, reasons=(reason,))
            found.append(change)
    return found


def _by_pilot(
    entries: Iterable[Entry],
) -> dict[int, list[tuple[int | None, Fact]]]:
    """Sort entries by the pilot they are about, with their task and what they are."""
    every = list(entries)
    by_id = {entry.hash: entry for entry in every}
    found: dict[int, list[tuple[int | None, Fact]]] = {}
    for entry in sorted(every, key=lambda item: item.order):
        pilot, task = pilot_and_task(entry, by_id)
        if pilot is not None:
            what = fact(f"thing-{entry.kind}", name=pilot_value(pilot))
            if isinstance(entry.act, LogAssigned):
                what = entry.act.thing
            found.setdefault(pilot, []).append((task, _entry_made(entry, inner(what))))
    return found


def _entry_made(entry: Entry, what: Stated) -> Fact:
    """State who made an entry of something, and why."""
    named = {"what": what, "who": words(entry.who), "entry": words(entry.label)}
    if not entry.why:
        return fact("entry-made", **named)
    return fact(
        "entry-made-because", why=inner(fact("because", why=words(entry.why))), **named
    )


def told_of(entry: Entry) -> Fact:
    """State what was entered, by whom, and how people name the entry."""
    return fact(
        "entry-first",
        kind=inner(title_of(entry.kind)),
        who=words(entry.who),
        entry=words(entry.label),
    )


def entered(entry: Entry) -> Fact:
    """State what was entered, by whom and why."""
    return _entry_made(entry, inner(title_of(entry.kind)))


def pilot_and_task(
    entry: Entry | ReadEntry, by_id: Mapping[EntryId, Entry | ReadEntry]
) -> tuple[int | None, int | None]:
    """Return what an entry is about, each None where it is about none, or about all."""
    act = entry.act
    if isinstance(act, Withdrawn | Undone):
        named = by_id.get(act.entry)
        return pilot_and_task(named, by_id) if named is not None else (None, None)
    if isinstance(act, LogAssigned):
        return act.pilot, None
    if isinstance(act, RowAct | PilotSet):
        column = "pilot" if isinstance(act, RowAct) else "number"
        cells = act.fields
        return whole_number(cells.get(column, "")), whole_number(cells.get("task", ""))
    return None, None


def _by_number(rows: Iterable[Document]) -> dict[int, Document]:
    return {row["pilot"]: row for row in rows}
