"""Heights that two logs of one basket show differently: nothing is certain by them."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from scorer.event import matters
from scorer.event.finding import Drawing, Finding, Verdict
from scorer.event.matter import Matter
from scorer.facts import fact, height, inner, log, moment, several
from scorer.tracks.flown import Disputed, Flown

BY_HEIGHT = frozenset({Drawing.HEIGHTS, Drawing.ALTITUDE})
"""Findings that are shown by a profile rest on heights."""


def undisputed(findings: Iterable[Finding], flown: Flown) -> tuple[Finding, ...]:
    """Let no finding be certain by heights that another log of the basket disputes."""
    return tuple(
        _possible(found) if _rests_on(found, flown.disputed) else found
        for found in findings
    )


def _rests_on(found: Finding, disputed: Iterable[Disputed]) -> bool:
    return found.kind.picture in BY_HEIGHT and any(
        one.start_s <= found.to_s and found.from_s <= one.end_s for one in disputed
    )


def _possible(found: Finding) -> Finding:
    if found.verdict is not Verdict.CERTAIN:
        return found
    says = fact("seen-by-disputed-heights", seen=inner(found.says))
    return replace(found, verdict=Verdict.POSSIBLE, says=says)


def disputes(flown: Flown, flight: str) -> tuple[Matter, ...]:
    """Tell of each log that shows other heights than the one that leads."""
    return tuple(
        _matter(flown, other, list(parts), flight)
        for other, parts in groupby(flown.disputed, key=lambda one: one.log)
    )


def _matter(flown: Flown, other: str, parts: Sequence[Disputed], flight: str) -> Matter:
    whiles = (
        fact("log-heights-while", start=moment(one.start_s), end=moment(one.end_s))
        for one in parts
    )
    says = fact(
        "log-heights-differ",
        log=log(flown.log),
        other=log(other),
        most=height(max(one.most_m for one in parts)),
        whiles=several(map(inner, whiles)),
    )
    return Matter(
        kind=matters.LOG_DUPLICATE, flight=flight, pilots=(flown.pilot,), says=says
    )
