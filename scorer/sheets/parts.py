"""What sheets make of one part of the results, made again only where that part changed.

A part (a task, the logs of a flight) is told apart by all that it holds, together with the
rules, the roster and the language.  What depends on the publication, its version, moment
or head, is no such thing: it is made each time.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from scorer.scoring.keep import Keep
from scorer.scoring.results import FlightResult, RuledFinding, TaskResult
from scorer.sheets.sheet import Sheet

T = TypeVar("T")
ABOUT = "parts"


def kept(
    sheet: Sheet, what: str, part: TaskResult | FlightResult, find: Callable[[], T]
) -> T:
    """Return what was made of a part before; else make it.

    `find` may look at the part, the infringements of its flight, at names and rules; it
    makes plain values, and never asks the stamp.
    """
    return found_before(sheet.keep, key_of_part(sheet, what, part), find)


def found_before(keep: Keep, key: str, find: Callable[[], T]) -> T:
    """Return what was made under a key before; else make it.  Empty = nothing is kept."""
    if not key:
        return find()
    held: tuple[T] | None = keep.get(key)
    if held is None:
        held = (find(),)
        keep.put(key, held)
    return held[0]


def key_of_part(sheet: Sheet, what: str, part: TaskResult | FlightResult) -> str:
    """Return the key of what is made of a part; empty where nothing is kept."""
    if not sheet.keep.holds:
        return ""
    return sheet.keep.key(what, about(sheet), _key(sheet, part))


def about(sheet: Sheet) -> str:
    """Return the key of what all parts share; empty where nothing is kept."""
    if not sheet.keep.holds:
        return ""
    event = replace(sheet.event, flights=(), matters=(), acceptances=(), awards=())
    more = [(flight.id, flight.date, flight.tasks) for flight in sheet.event.flights]
    return sheet.keyed(ABOUT, lambda: sheet.keep.key(ABOUT, sheet.voice, event, more))


def _key(sheet: Sheet, part: TaskResult | FlightResult) -> str:
    if isinstance(part, FlightResult):
        return sheet.keyed(f"flight {part.id}", lambda: _told(sheet.keep, part))
    name = f"task {part.task} {part.field}"
    return sheet.keyed(name, lambda: _of_task(sheet, part))


def _of_task(sheet: Sheet, part: TaskResult) -> str:
    found = [f for f in sheet.results.findings if f.finding.flight == part.flight]
    whole = next(t for t in sheet.results.tasks if t.task == part.task)
    return _told(sheet.keep, whole, part.field, found)


def _told(
    keep: Keep,
    part: TaskResult | FlightResult,
    field: str = "",
    found: Sequence[RuledFinding] = (),
) -> str:
    """Return the key of a part, of a class of it, and of what its flight's logs showed.

    It is that of all they hold, which is gone through once for each score of the flight:
    what a score depends on may change without any change in some of its parts.
    """

    def whole() -> str:
        return keep.key("part", part, field, found)

    known = keep.named(part.place, part)
    if not known:
        return whole()
    ids = [one.finding.id for one in found]
    key = keep.key("part of", known, part.place, field, ids)
    return found_before(keep, key, whole)
