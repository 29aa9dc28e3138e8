"""Heights that cannot be right: nothing is certain by them.

Two logs of one basket show them differently, or they are under the ground.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from scorer.event import matters
from scorer.event.finding import Drawing, Finding, Verdict
from scorer.event.matter import Matter
from scorer.facts import Value, fact, height, inner, log, moment, several
from scorer.tracks.flown import Disputed, Flown

BY_HEIGHT = frozenset({Drawing.HEIGHTS, Drawing.ALTITUDE})
"""Findings that are shown by a profile rest on heights."""


def undisputed(findings: Iterable[Finding], flown: Flown) -> tuple[Finding, ...]:
    """Let no finding be certain by heights that something contradicts."""
    return tuple(_weighed(found, flown) for found in findings)


def _weighed(found: Finding, flown: Flown) -> Finding:
    by = [one.log for one in flown.disputed if _rests_on(found, one)]
    if found.verdict is not Verdict.CERTAIN or not by:
        return found
    seen = inner(found.says)
    says = fact("seen-by-impossible-heights", seen=seen)
    if any(name != flown.log for name in by):
        says = fact("seen-by-disputed-heights", seen=seen)
    return replace(found, verdict=Verdict.POSSIBLE, says=says)


def _rests_on(found: Finding, one: Disputed) -> bool:
    during = one.start_s <= found.to_s and found.from_s <= one.end_s
    return found.kind.picture in BY_HEIGHT and during


def disputes(flown: Flown, flight: str) -> tuple[Matter, ...]:
    """Tell of each log that contradicts the heights of the one that leads, or its own."""
    return tuple(
        _matter(flown, other, list(parts), flight)
        for other, parts in groupby(flown.disputed, key=lambda one: one.log)
    )


def _matter(flown: Flown, other: str, parts: Sequence[Disputed], flight: str) -> Matter:
    whiles = (
        fact("log-heights-while", start=moment(one.start_s), end=moment(one.end_s))
        for one in parts
    )
    most_m = max(one.most_m for one in parts)
    values: dict[str, Value] = {
        "log": log(flown.log),
        "whiles": several(map(inner, whiles)),
    }
    if other != flown.log:
        values |= {"other": log(other), "most": height(most_m)}
        says = fact("log-heights-differ", **values)
    elif most_m:
        says = fact("log-under-ground", **values, most=height(most_m))
    else:
        says = fact("log-never-up", log=log(flown.log))
    own = other == flown.log
    kind = matters.LOG_HEIGHTS if own else matters.LOG_DUPLICATE
    return Matter(kind=kind, flight=flight, pilots=(flown.pilot,), says=says)
