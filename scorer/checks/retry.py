"""A landing and another launch within one log: a retry, or a stop on the way.

Which launch counts is for the event's rules; people are told in any case.
"""

from dataclasses import replace
from typing import NamedTuple

from scorer.checks.base import Circumstances, Scope, Seen, check, dropped_s
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import fact, inner, log, moment, several, term
from scorer.tracks.flown import Flown

LEAST_STAND_S = 60.0
"""A shorter stand within a flight is a touch, not a landing (our choice)."""
FIRST, LAST = "first", "last"
"""Values of `launch.retry`."""


class Stand(NamedTuple):
    """A stay on the ground between two launches."""

    first: int
    last: int
    """Last fix on the ground: the next one is in the air."""
    start_s: float
    end_s: float


def stands_of(flown: Flown) -> list[Stand]:
    """Return the stays on the ground within a flight, in order."""
    found = [
        Stand(first, last, float(flown.time_s[first]), float(flown.time_s[last]))
        for first, last in flown.stands
    ]
    return [stand for stand in found if stand.end_s - stand.start_s >= LEAST_STAND_S]


def hops_of(flown: Flown) -> list[Flown]:
    """Return the log once for each launch in it, with that launch and its landing."""
    stands = stands_of(flown)
    launches = [flown.launch, *(stand.last + 1 for stand in stands)]
    landings = [*(stand.first for stand in stands), flown.landing]
    return [
        replace(flown, launch=launch, landing=landing)
        for launch, landing in zip(launches, landings, strict=True)
    ]


def counting_launch(flown: Flown, about: Circumstances) -> int | None:
    """Return the fix of the launch that counts by the rule book; None = not shown.

    With `last` that is the last launch before the marker fell, so that a landing after
    the drop changes nothing.
    """
    if about.book.launch.retry != LAST:
        return flown.launch
    drop_s = dropped_s(flown, about)
    before = [s for s in stands_of(flown) if drop_s is None or s.end_s < drop_s]
    return before[-1].last + 1 if before else flown.launch


@check("retry", Scope.FLIGHT)
def check_retry(flown: Flown, about: Circumstances) -> Seen:
    """Tell of landings within a flight, and which launch counts."""
    stands = stands_of(flown)
    if not stands:
        return Seen()
    times = (
        fact("stood-from-to", start=moment(int(s.start_s)), end=moment(int(s.end_s)))
        for s in stands
    )
    warning = Matter(
        kind=matters.RETRY,
        flight=about.task.flight,
        pilots=(flown.pilot,),
        says=fact(
            "launched-again",
            log=log(flown.log),
            stands=several(map(inner, times)),
            launch=term(f"launch-{about.book.launch.retry}"),
        ),
    )
    return Seen(matters=(warning,))
