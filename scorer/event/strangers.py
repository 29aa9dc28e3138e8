"""Rows that name a pilot or task the event does not have: found, and left out."""

from collections.abc import Iterable
from dataclasses import replace

from scorer.errors import Fault
from scorer.event.build import build
from scorer.event.model import Origin
from scorer.event.raw import RawEvent, RawFlight, RawLog, RawRow

_NAMED = frozenset({"pilot", "task"})
Lines = frozenset[tuple[str, int | None]]
"""Rows by file and line."""


def without_strangers(raw: RawEvent) -> tuple[RawEvent, tuple[Fault, ...]]:
    """Leave out every row whose pilot or task cannot be; return the rest and the faults.

    The roster and the flights' own settings are left as they are.
    """
    _, faults = build(raw)
    named = [f for f in faults if f.field in _NAMED and f.line is not None]
    lost: Lines = frozenset((f.where, f.line) for f in named)
    rest = replace(
        raw,
        flights=tuple(_flight(flight, lost) for flight in raw.flights),
        complaints=_kept(raw.complaints, lost),
    )
    still = {(f.where, f.line) for f in build(rest)[1]}
    return rest, tuple(f for f in named if (f.where, f.line) not in still)


def _flight(flight: RawFlight, lost: Lines) -> RawFlight:
    return replace(
        flight,
        marks=_kept(flight.marks, lost),
        declarations=_kept(flight.declarations, lost),
        reports=_kept(flight.reports, lost),
        rulings=_kept(flight.rulings, lost),
        targets=_kept(flight.targets, lost),
        logs=tuple(_log(log, flight, lost) for log in flight.logs),
    )


def _log(log: RawLog, flight: RawFlight, lost: Lines) -> RawLog:
    """Keep the log itself; whose it was said to be is left out."""
    origin = flight.origins.get(log.blob.name, Origin())
    return replace(log, pilot=None) if (origin.where, origin.line) in lost else log


def _kept(rows: Iterable[RawRow], lost: Lines) -> tuple[RawRow, ...]:
    return tuple(r for r in rows if (r.origin.where, r.origin.line) not in lost)
