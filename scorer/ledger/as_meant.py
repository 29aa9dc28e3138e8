"""What an open matter says fits a mark better, as one decision for all it touches.

A mark of another pilot or task takes all its entries with it, whoever made them; two that
are exchanged go both ways.  Another bearing, place, unit, number or side is what an
official settles on: the entries stay as they were made.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from scorer.event.matter import Matter
from scorer.event.model import Method
from scorer.facts import Fact, parts
from scorer.ledger.acts import FlightSet, RowAct, Withdrawn
from scorer.ledger.entry import Draft
from scorer.ledger.faults import LedgerError
from scorer.ledger.keyings import Slot, SlotState, entered, settle
from scorer.ledger.replay import State
from scorer.words.voice import Voice

EXCHANGED, OTHER_PILOT = "marks-swapped", "mark-fits"
_SETTLED = frozenset(
    {"meant-turned", "meant-reference", "meant-unit", "meant-digits", "meant-side"}
)
_SIDES = {"left": "L", "right": "R"}
_UNITS = {"in-metres": "m", "in-feet": "ft"}


def proposal(matter: Matter) -> Fact | None:
    """Return what a matter says fits better; None = nothing that could be taken."""
    for part in parts(matter.says):
        if part.kind in {EXCHANGED, "meant-task", *_SETTLED}:
            return part
        if part.kind == OTHER_PILOT and len(_named(part)) == 1:
            return part
    return None


def as_meant(state: State, matter: Matter, *, why: str, by: str) -> tuple[Draft, ...]:
    """Draft the entries that take a mark as it fits.

    Raises
    ------
    LedgerError
        The matter proposes nothing, or another mark stands where this one belongs.
    """
    if matter.members:
        each = (as_meant(state, one, why=why, by=by) for one in matter.members)
        return tuple(draft for drafts in each for draft in drafts)
    meant = proposal(matter)
    if meant is None or matter.task is None or matter.pilot is None:
        raise _refuse("as-meant-nothing")
    slot = Slot(
        flight=matter.flight,
        task=str(matter.task),
        pilot=str(matter.pilot),
        mark=matter.mark,
    )
    if meant.kind == EXCHANGED:
        other = replace(slot, pilot=str(meant.get("other")))
        return _exchanged(state, slot, other, why)
    if meant.kind == OTHER_PILOT:
        return _given(state, slot, replace(slot, pilot=str(_named(meant)[0])), why)
    if meant.kind == "meant-task":
        other = replace(slot, task=str(meant.get("task")))
        if _placed(entered(state, other)):
            return _exchanged(state, slot, other, why)
        return _given(state, slot, other, why)
    own = entered(state, slot)
    counted = own.settled or next(iter(own.keyings), None)
    if counted is None or not isinstance(counted.act, RowAct):
        raise _refuse("as-meant-nothing")
    fields = {**counted.act.fields, **_cells(meant, counted.act.fields), "by": by}
    return (settle(own, fields, reason=why),)


def _named(meant: Fact) -> list[int]:
    named = meant.get("named")
    found = named if isinstance(named, tuple) else ()
    facts = (one.amount for one in found if isinstance(one.amount, Fact))
    return [int(str(own.get("pilot"))) for own in facts]


def _exchanged(state: State, one: Slot, other: Slot, why: str) -> tuple[Draft, ...]:
    """Exchange two marks; never one of them alone: the other one would be lost."""
    both = (*_moved(state, one, other, why),), (*_moved(state, other, one, why),)
    if not all(both):
        raise _refuse("as-meant-nothing")
    return both[0] + both[1]


def _given(state: State, slot: Slot, to: Slot, why: str) -> tuple[Draft, ...]:
    """Give a mark to where nothing is entered, or only that there is none."""
    there = entered(state, to)
    if _placed(there):
        raise _refuse("as-meant-taken")
    gone = (
        Draft(act=Withdrawn(entry=own.ids[0]), why=why, replaces=own.ids[1:])
        for own in (*there.keyings, *there.settling)
    )
    return (*gone, *_moved(state, slot, to, why))


def _placed(slot: SlotState) -> bool:
    acts = (own.act for own in (*slot.keyings, *slot.settling))
    return any(
        act.fields.get("method", "").strip() != Method.NONE
        for act in acts
        if isinstance(act, RowAct)
    )


def _moved(state: State, slot: Slot, to: Slot, why: str) -> Iterator[Draft]:
    """Yield all entries of one mark as those of another."""
    own = entered(state, slot)
    targets = _targets(state, slot.task) if to.task != slot.task else set()
    for current in (*own.keyings, *own.settling):
        if isinstance(current.act, RowAct):
            fields = {**current.act.fields, "task": to.task, "pilot": to.pilot}
            if fields.get("from", "").strip() in targets:
                del fields["from"]  # it counted from the target of the other task
            act = replace(current.act, flight=to.flight, fields=fields)
            yield Draft(act=act, why=why, replaces=current.ids)


def _targets(state: State, number: str) -> set[object]:
    """Return the names of a task's targets."""
    found: set[object] = set()
    for _, act in state.all_of(FlightSet):
        for row in act.settings.get("task", []):
            if str(row.get("number")) == number:
                found |= {row.get("target"), *row.get("targets", ())}
    return found


def _cells(meant: Fact, fields: Mapping[str, str]) -> dict[str, str]:
    """Return the cells that a slip changes."""
    match meant.kind:
        case "meant-turned":
            north = re.sub(r"[\d.,°\s]", "", fields.get("bearing", ""))
            degrees = round(float(str(meant.get("bearing"))), 4)
            return {"bearing": f"{degrees:g} {north}".strip()}
        case "meant-reference":
            return {"from": str(meant.get("place"))}
        case "meant-side":
            return {"side": _SIDES[str(meant.get("side"))]}
        case "meant-unit":
            number = re.search(r"[\d.,]+", fields.get("distance", ""))
            unit = _UNITS[str(meant.get("unit"))]
            return {"distance": number[0] if number else "", "unit": unit}
        case _:
            text, instead = str(meant.get("text")), str(meant.get("instead"))
            column = next(c for c, cell in fields.items() if cell.strip() == text)
            return {column: instead}


def _refuse(kind: str) -> LedgerError:
    return LedgerError(Voice().say(Fact(kind)))
