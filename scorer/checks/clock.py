"""Whether the clock of a log can be believed: its date, its jumps, its span of time."""

from collections.abc import Iterator
from datetime import date, datetime
from zoneinfo import ZoneInfo

import numpy as np

from scorer.checks.base import Circumstances, Scope, Seen, check, in_air
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import Fact, count, day, distance, fact, log, moment, span, speed
from scorer.tracks.flown import Flown

ROLLOVER_DAYS = 1024 * 7
"""The week count of the satellite system begins anew after 1024 weeks (IS-GPS-200)."""
IMPOSSIBLE_M_S = 60.0
"""No balloon drifts that fast near the ground; between two fixes it is a jump."""
JUMP_S = 60.0
"""A pause at least this long in which the balloon hardly moved is a jump of the clock."""
JUMP_SHARE = 0.2
"""... hardly: less than this share of what its drift before and after would carry it."""
DRIFT_M_S = 1.5
"""Drifts under this tell nothing."""


@check("log clock", Scope.FLIGHT)
def check_clock(flown: Flown, about: Circumstances) -> Seen:
    """Warn where the log's date or times cannot be those of the flight."""
    if not len(flown):
        return Seen()
    facts = [*_date(flown, about)] or [*_coverage(flown, about)]
    facts += [*_position_jumps(flown), *_time_jumps(flown)]
    return Seen(matters=tuple(_matter(f, flown, about) for f in facts))


def _date(flown: Flown, about: Circumstances) -> Iterator[Fact]:
    zone = ZoneInfo(about.time_zone)
    air = in_air(flown)
    ends = flown.time_s[air] if air.stop > air.start else flown.time_s
    days = {datetime.fromtimestamp(float(t), zone).date() for t in (ends[0], ends[-1])}
    if not min(days) <= about.date <= max(days):
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
    away = np.hypot(np.diff(flown.east_m), np.diff(flown.north_m))
    fast = np.flatnonzero(away > IMPOSSIBLE_M_S * np.diff(flown.time_s))
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
    steps = np.diff(time)
    away = np.hypot(np.diff(flown.east_m[air]), np.diff(flown.north_m[air]))
    for i in np.flatnonzero(steps > JUMP_S).tolist():
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
