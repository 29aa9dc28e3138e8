"""Heights that cannot be right: nothing is certain by them."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from scorer.event import matters
from scorer.event.finding import Drawing, Finding, Verdict
from scorer.event.matter import Matter
from scorer.facts import Value, fact, height, inner, log, moment, several, speed
from scorer.tracks.flown import Disputed, Flown, Sign

BY_HEIGHT = frozenset({Drawing.HEIGHTS, Drawing.ALTITUDE})
"""Findings that are shown by a profile rest on heights."""


def undisputed(findings: Iterable[Finding], flown: Flown) -> tuple[Finding, ...]:
    """Let no finding be certain by heights that something contradicts."""
    return tuple(_weighed(found, flown) for found in findings)


def _weighed(found: Finding, flown: Flown) -> Finding:
    by = [one.by for one in flown.disputed if _rests_on(found, one)]
    if found.verdict is not Verdict.CERTAIN or not by:
        return found
    seen = inner(found.says)
    says = fact("seen-by-impossible-heights", seen=seen)
    if Sign.OTHER in by:
        says = fact("seen-by-disputed-heights", seen=seen)
    return replace(found, verdict=Verdict.POSSIBLE, says=says)


def _rests_on(found: Finding, one: Disputed) -> bool:
    during = one.start_s <= found.to_s and found.from_s <= one.end_s
    return found.kind.picture in BY_HEIGHT and during


def disputes(flown: Flown, flight: str) -> tuple[Matter, ...]:
    """Tell of each log that contradicts the heights of the one that leads, or its own."""
    return tuple(
        _matter(flown, list(parts), flight)
        for _, parts in groupby(flown.disputed, key=lambda one: (one.by, one.log))
    )


def _matter(flown: Flown, parts: Sequence[Disputed], flight: str) -> Matter:
    whiles = (
        fact("log-heights-while", start=moment(one.start_s), end=moment(one.end_s))
        for one in parts
    )
    by, most = parts[0].by, max(one.most for one in parts)
    values: dict[str, Value] = {"log": log(flown.log)}
    if by is Sign.OTHER:
        values["other"] = log(parts[0].log)
    if by in {Sign.OTHER, Sign.UNDER}:
        values["whiles"] = several(map(inner, whiles))
    if by is not Sign.NEVER_UP:
        values["most"] = speed(most) if by is Sign.FAST else height(most)
    says = fact(f"log-heights-{by}", **values)
    kind = matters.LOG_DUPLICATE if by is Sign.OTHER else matters.LOG_HEIGHTS
    return Matter(kind=kind, flight=flight, pilots=(flown.pilot,), says=says)
