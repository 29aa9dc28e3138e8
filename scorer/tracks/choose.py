"""Choose which of a pilot's logs counts, which are parts of it, and what clashes."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind
from scorer.facts import Fact, count, fact, inner, log, several
from scorer.facts import pilot as pilot_value
from scorer.tracks.heads import LogHead
from scorer.tracks.match import Identified

SHORT_SHARE = 0.1
"""A log of less than so much of another's fixes leads nothing."""
MEETS_S = 300.0
"""Two logs of one balloon that run beside each other for longer show one place."""

Parts = Callable[[LogHead, Sequence[LogHead]], Sequence[LogHead]]
"""Tells which of a pilot's other logs make one track with the leading one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """Whose log is whose."""

    chosen: Mapping[int, LogHead]
    """The log that counts, or leads, by pilot's number."""
    joined: Mapping[int, tuple[LogHead, ...]] = field(default_factory=dict)
    """Other logs that are parts of the same track."""
    logs: tuple[Identified, ...]
    """All logs, in the order of their names."""
    matters: tuple[Matter, ...]


def choose(
    logs: Iterable[Identified], *, flight: str = "", parts: Parts | None = None
) -> Match:
    """Choose the leading log for each pilot, and its parts.

    Of several logs of one pilot an assignment by hand wins, then one within the periods
    of the flight's tasks, then one that is surely the pilot's, then one with a barometer,
    then the log with more fixes in the flight's day, then the first by name; the choice
    is reported (`log-duplicate`).  The same file twice counts once, without a word.
    """
    ordered = sorted(logs, key=lambda found: found.head.name)
    by_pilot: dict[int, list[Identified]] = {}
    for found in ordered:
        if found.pilot is not None:
            by_pilot.setdefault(found.pilot, []).append(found)
    chosen, joined = {}, {}
    told: list[Matter] = []
    proved: set[int] = set()
    for number in sorted(by_pilot):
        own = _Own(number, by_pilot[number], flight, parts)
        chosen[number], joined[number] = own.lead.head, own.parts
        told += own.matters()
        proved |= own.proved
    asked = [f.warning(flight) for f in ordered if id(f) not in proved]
    return Match(
        chosen=chosen,
        joined=joined,
        logs=tuple(replace(f, trouble=None) if id(f) in proved else f for f in ordered),
        matters=(*(matter for matter in asked if matter is not None), *told),
    )


class _Own:
    """All logs of one pilot."""

    def __init__(
        self, number: int, logs: Sequence[Identified], flight: str, parts: Parts | None
    ) -> None:
        self.number, self.flight = number, flight
        self.lead = _best(logs)
        head = self.lead.head
        others = [
            f for f in logs if f is not self.lead and f.head.sha256 != head.sha256
        ]
        fair = [f for f in others if head.pilot is None or f.head.pilot is not None]
        heads = [f.head for f in fair]
        self.parts = tuple(parts(head, heads)) if parts is not None else ()
        in_it = {id(part) for part in self.parts}
        self.rest = [f for f in others if id(f.head) not in in_it]
        # One basket: where the leading log is surely the pilot's, so is what flew with it.
        self.proved = {
            id(f) for f in fair if self.lead.sure and id(f.head) in in_it
        } | {id(f) for f in logs if f.head.sha256 == head.sha256 and self.lead.sure}

    def matters(self) -> list[Matter]:
        """State what people should know, or decide."""
        stated = (
            (matters.LOG_DUPLICATE, self._duplicates()),
            (matters.LOG_DUPLICATE, self._several_parts()),
            (matters.LOG_PILOT, self._other_time()),
            (matters.LOG_PILOT, self._contested()),
        )
        return [self._matter(kind, says) for kind, says in stated if says is not None]

    def _matter(self, kind: MatterKind, says: Fact) -> Matter:
        return Matter(kind=kind, flight=self.flight, pilots=(self.number,), says=says)

    def _duplicates(self) -> Fact | None:
        if not self.rest:
            return None
        head = self.lead.head
        how = _with_fixes(head)
        if head.pilot is not None:
            how = fact("log-by-hand", log=log(head.name))
        return fact(
            "log-several",
            pilot=pilot_value(self.number),
            counts=inner(how),
            others=several(inner(_with_fixes(other.head)) for other in self.rest),
        )

    def _several_parts(self) -> Fact | None:
        if not self.parts:
            return None
        return fact(
            "log-joined",
            pilot=pilot_value(self.number),
            lead=log(self.lead.head.name),
            others=several(log(part.name) for part in self.parts),
        )

    def _other_time(self) -> Fact | None:
        """Ask about a log that counts and has nothing within the flight's periods."""
        head = self.lead.head
        if head.within or head.pilot is not None:
            return None
        return fact(
            "log-other-time", log=log(head.name), pilot=pilot_value(self.number)
        )

    def _contested(self) -> Fact | None:
        """Ask about logs that are surely one pilot's and were in two places at once."""
        head = self.lead.head
        if head.pilot is not None or not self.lead.sure:
            return None
        apart = [f.head for f in self.rest if f.sure and _at_once(head, f.head)]
        if not apart:
            return None
        return fact(
            "log-contested",
            pilot=pilot_value(self.number),
            lead=log(head.name),
            others=several(log(other.name) for other in apart),
        )


def _at_once(one: LogHead, other: LogHead) -> bool:
    both = min(one.end_s, other.end_s) - max(one.start_s, other.start_s)
    return both > MEETS_S and one.within and other.within


def _best(logs: Sequence[Identified]) -> Identified:
    """Take by hand, within the periods, surely the pilot's, with a barometer, by fixes."""
    most = max(f.head.fixes for f in logs)

    def rank(found: Identified) -> tuple[bool, bool, bool, bool, bool, int, str]:
        head = found.head
        short = head.fixes < SHORT_SHARE * most
        by_hand, barometer = head.pilot is not None, head.barometer
        own = (not by_hand, not head.within, not found.sure, short, not barometer)
        return *own, -head.fixes, head.name

    return min(logs, key=rank)


def _with_fixes(head: LogHead) -> Fact:
    return fact("log-with-fixes", log=log(head.name), fixes=count(head.fixes))
