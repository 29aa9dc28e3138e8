"""Flights in turn: what each came to before, or a new score."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from scorer.checks.base import declared_checks
from scorer.event.model import Event, Flight
from scorer.geodesy.site import Site
from scorer.progress import Control
from scorer.scoring.flight import FlightJudge, FlightScore, name_of
from scorer.scoring.helpers import Helpers
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.log_keep import UNSURE
from scorer.scoring.shared import hours_of, periods_of
from scorer.scoring.work import zone_offsets


class FlightTurn:
    """One flight on its way to its score: begun, then brought to its end."""

    def __init__(
        self,
        event: Event,
        flight: Flight,
        site: Site,
        *,
        keep: Keep = NOTHING_KEPT,
        given: str = "",
    ) -> None:
        """Look among what is kept.

        `given` is the key of its event; empty = it is not asked for among what is kept.
        """
        self.event, self.flight, self.site = event, flight, site
        self.keep, self.given = keep, given
        place = "air", event.name, flight.id
        air = keep.same(place, (flight.air,), lambda: _written(flight.air))
        self.key = self._key(air)
        self.known, self.origin = _recalled(self.key, keep)
        self.own: FlightJudge | None = None

    def begin(self, executor: Helpers | None) -> None:
        """Hand its logs to the executor in batches, where there is something to do."""
        if self.known is None and self.own is None:
            self.own = FlightJudge(
                self.event, self.flight, self.site, self.keep, executor
            )
            self.own.work.begin()

    def drop(self) -> None:
        """Let go of what was handed out."""
        if self.own is not None:
            self.own.work.drop()

    def score(self, control: Control, meanwhile: Callable[[], None]) -> FlightScore:
        """Score it; `meanwhile` is called once its logs are handed out for good."""
        found = self.own.score(control, meanwhile) if self.own else self.known
        assert found is not None
        if self.key and not any(m.says.kind in UNSURE for m in found.matters):
            logs = f"{self.origin} {found.summary.air_kept}"
            self.keep.name(found.summary.place, found.summary, logs)
            for task in found.tasks:
                self.keep.name(task.place, task, self.origin)
            if self.own:
                self._put(found, self.own.air_once_up(found))
        return found

    def _put(self, found: FlightScore, up_with: Mapping[str, Any] | None) -> None:
        """Keep it, also as what it is once its air is set down."""
        name = name_of(self.event, self.flight)
        size = BYTES_A_PILOT * len(self.event.pilots)
        self.keep.put(self.key, found, size=size, newest_of=name)
        if up_with is not None:
            own = _AirSet(key=self.key)
            self.keep.put(self._key(_written(up_with)), own, newest_of=f"{name} up")

    def _key(self, air: str) -> str:
        return _key(self.event, self.flight, self.keep, self.given, air)


def _written(air: Mapping[str, Any] | None) -> str:
    """Write down what a flight's key says of its air: plain JSON, as it came."""
    return json.dumps(None if air is None else dict(air), sort_keys=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class _AirSet:
    """A flight whose air was set down just as it was found: all is as it was."""

    key: str
    """Of its score before."""


def _recalled(key: str, keep: Keep) -> tuple[FlightScore | None, str]:
    """Return a flight that was scored before, and the key under which it was."""
    known: FlightScore | _AirSet | None = keep.get(key) if key else None
    if not isinstance(known, _AirSet):
        return known, key
    before: FlightScore | None = keep.get(known.key)
    if before is None:
        return None, key
    summary = replace(before.summary, air_kept=True)
    return replace(before, summary=summary), known.key


BYTES_A_PILOT = 20_000
"""Of what a flight came to."""


def key_of_event(event: Event, keep: Keep) -> str:
    """Return the key of all of an event that its flights share."""
    if not keep.holds:
        return ""
    others = [(one.id, one.date, periods_of(one)) for one in event.flights]
    names = [check.name for check in declared_checks()]
    return keep.key("event", replace(event, flights=(), matters=()), others, names)


def _key(event: Event, flight: Flight, keep: Keep, given: str, air: str) -> str:
    """Return the key of all that the score of a flight with some air depends on."""
    if not given:
        return ""
    rows = {name: getattr(flight, name) for name in _TABLES}
    place = "rows", event.name, flight.id
    entered = keep.same(place, (*rows.values(),), lambda: keep.key("rows", rows))
    none: dict[str, Any] = dict.fromkeys(_TABLES, ())
    rest = replace(flight, air=None, **none)
    offsets = zone_offsets(event.time_zone, hours_of(event, flight))
    return keep.key("flight", given, offsets, entered, rest, air)


_TABLES = ("keyings", "declarations", "reports", "rulings", "targets")
"""What is entered of a flight: the very same tuples where nothing was."""
