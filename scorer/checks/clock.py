"""Whether the clock of a log can be believed: its date, its jumps, its span of time."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from scorer.checks.base import Circumstances, Scope, Seen, check, in_air
from scorer.event import matters
from scorer.event.finding import Finding, Verdict
from scorer.event.matter import Matter
from scorer.event.model import Period
from scorer.event.moments import at
from scorer.facts import (
    Fact,
    count,
    day,
    distance,
    fact,
    flight,
    inner,
    log,
    moment,
    span,
    speed,
)
from scorer.tracks.flown import Flown
from scorer.tracks.order import DAY_S
from scorer.tracks.plain import diffs, marked

ROLLOVER_DAYS = 1024 * 7
"""The week count of the satellite system begins anew after 1024 weeks (IS-GPS-200)."""
IMPOSSIBLE_M_S = 60.0
"""No balloon drifts that fast near the ground; between two fixes it is a jump."""
JUMP_S = 60.0
"""A pause at least this long in which the balloon hardly moved is a jump of the clock."""
JUMP_SHARE = 0.2
"""... hardly: less than this share of what its drift before and after would carry it."""
CLOCK_SIGMA_S = 10.0
"""A clock that is known no better makes no finding about times certain."""
DRIFT_M_S = 1.5
"""Drifts under this tell nothing."""
DOUBTS = frozenset(
    {
        "clock-week-count",
        "clock-dated-late",
        "clock-dated-early",
        "clock-fits-other",
        "clock-ends-before",
        "clock-begins-after",
        "clock-jump",
        "clock-open",
    }
)
"""Facts of a log's clock after which nothing about times is certain by it."""


@check("log clock", Scope.FLIGHT)
def check_clock(flown: Flown, about: Circumstances) -> Seen:
    """Warn where the log's date or times cannot be those of the flight."""
    if not len(flown):
        return Seen()
    facts = [*_elsewhere(flown, about)] or [*_date(flown, about)]
    facts = facts or [*_coverage(flown, about)]
    facts += [
        fact("clock-open", log=log(flown.log), why=inner(f)) for f in about.doubts
    ]
    facts += [*_position_jumps(flown), *_time_jumps(flown)]
    return Seen(matters=tuple(_matter(f, flown, about) for f in facts))


def doubted(
    findings: Iterable[Finding],
    matters_told: Iterable[Matter],
    noted_s: Collection[float],
    *,
    sigma_s: float = 0.0,
) -> tuple[Finding, ...]:
    """Let no finding about times be certain by a log whose clock is in doubt.

    `noted_s` are times that people noted: those do not hang on the log.  `sigma_s` is
    that of the log's clock by what others tell of it; infinite = it cannot be right.
    """
    doubt = sigma_s > CLOCK_SIGMA_S or any(
        m.kind is matters.LOG_CLOCK and m.says.kind in DOUBTS for m in matters_told
    )
    return tuple(
        _possible(found)
        if doubt and found.kind.unit == "s" and found.from_s not in noted_s
        else found
        for found in findings
    )


def _possible(found: Finding) -> Finding:
    if found.verdict is not Verdict.CERTAIN:
        return found
    says = fact("seen-by-doubtful-clock", seen=inner(found.says))
    return replace(found, verdict=Verdict.POSSIBLE, says=says)


def _elsewhere(flown: Flown, about: Circumstances) -> Iterator[Fact]:
    """Tell of a log that is not of this flight and would be of another."""
    start, end = _ends(flown)
    own = _fits(start, end, about.periods, {about.date}, about.time_zone)
    for other in () if own else about.others:
        days = (other.day - about.date).days
        shift = 0.0 if about.dated else days * DAY_S
        if _fits(
            start + shift, end + shift, other.periods, {other.day}, about.time_zone
        ):
            yield fact("clock-fits-other", log=log(flown.log), flight=flight(other.id))
            return


def _fits(
    start: float,
    end: float,
    periods: Iterable[Period],
    days: set[date],
    zone: str,
) -> bool:
    """Tell whether a flight lies in periods; where there are none, on one of the days."""
    own = [(period.start_s, period.end_s) for period in periods]
    if own:
        return any(start <= closes and end >= opens for opens, closes in own)
    return not days.isdisjoint(_days(start, end, zone))


def _ends(flown: Flown) -> tuple[float, float]:
    air = in_air(flown)
    time = flown.time_s[air] if air.stop > air.start else flown.time_s
    return float(time[0]), float(time[-1])


def _days(start: float, end: float, zone: str) -> set[date]:
    """Return the local dates from one moment to another."""
    first, last = at(start, zone).day, at(end, zone).day
    return {first + timedelta(days=n) for n in range((last - first).days + 1)}


def _date(flown: Flown, about: Circumstances) -> Iterator[Fact]:
    zone = about.time_zone
    expected = {about.date}.union(
        *(_days(period.start_s, period.end_s, zone) for period in about.periods)
    )
    days = _days(*_ends(flown), zone)
    if expected.isdisjoint(days):
        yield _other_day(flown, min(days), about)


def _other_day(flown: Flown, dated: date, about: Circumstances) -> Fact:
    off = (dated - about.date).days
    whose, when, days = log(flown.log), day(dated.isoformat()), count(abs(off))
    if off % ROLLOVER_DAYS == 0:
        return fact("clock-week-count", log=whose, dated=when, days=days)
    if off > 0:
        return fact("clock-dated-late", log=whose, dated=when, days=days)
    return fact("clock-dated-early", log=whose, dated=when, days=days)


def _coverage(flown: Flown, about: Circumstances) -> Iterator[Fact]:
    """Tell of a log that misses the periods of the flight's tasks, or a part of them."""
    if not about.periods:
        return
    whose = log(flown.log)
    start, end = float(flown.time_s[0]), float(flown.time_s[-1])
    opens = min(p.start_s for p in about.periods)
    closes = max(p.end_s for p in about.periods)
    if end < opens:
        yield fact("clock-ends-before", log=whose, apart=span(opens - end))
        return
    if start > closes:
        yield fact("clock-begins-after", log=whose, apart=span(start - closes))
        return
    if flown.launch is None:
        yield fact("clock-no-launch", log=whose, at=moment(start))
    if flown.landing is None:
        yield fact("clock-no-landing", log=whose, at=moment(end))


def _position_jumps(flown: Flown) -> Iterator[Fact]:
    away = np.hypot(diffs(flown.east_m), diffs(flown.north_m))
    fast = marked(away > IMPOSSIBLE_M_S * diffs(flown.time_s))
    if fast.size:
        first = int(fast[0])
        yield fact(
            "clock-too-fast",
            log=log(flown.log),
            jumps=count(int(fast.size)),
            faster=speed(IMPOSSIBLE_M_S),
            way=distance(float(away[first])),
            at=moment(float(flown.time_s[first])),
        )


def _time_jumps(flown: Flown) -> Iterator[Fact]:
    air = in_air(flown)
    time = flown.time_s[air]
    if len(time) < 4:
        return
    steps = diffs(time)
    away = np.hypot(diffs(flown.east_m[air]), diffs(flown.north_m[air]))
    for i in marked(steps > JUMP_S).tolist():
        around = [k for k in (i - 1, i + 1) if 0 <= k < len(steps)]
        drift = min(float(away[k] / steps[k]) for k in around)
        if drift > DRIFT_M_S and away[i] < JUMP_SHARE * drift * steps[i]:
            yield fact(
                "clock-jump",
                log=log(flown.log),
                ahead=span(float(steps[i])),
                at=moment(float(time[i])),
                way=distance(float(away[i])),
            )


def _matter(says: Fact, flown: Flown, about: Circumstances) -> Matter:
    return Matter(
        kind=matters.LOG_CLOCK,
        flight=about.task.flight,
        pilots=(flown.pilot,),
        says=says,
    )
