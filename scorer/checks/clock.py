"""Whether the clock of a log can be believed: its date, its jumps, its span of time."""

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

import numpy as np

from scorer.checks.base import Circumstances, Seen, in_air
from scorer.checks.launch import span
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import plain
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


def check_clock(flown: Flown, about: Circumstances) -> Seen:
    """Warn where the log's date or times cannot be those of the flight."""
    if not len(flown):
        return Seen()
    texts = [*_date(flown, about)] or [*_coverage(flown, about)]
    texts += [*_position_jumps(flown, about), *_time_jumps(flown, about)]
    return Seen(matters=tuple(_warning(t, flown, about) for t in texts))


def _date(flown: Flown, about: Circumstances) -> Iterator[str]:
    zone = ZoneInfo(about.time_zone)
    air = in_air(flown)
    ends = flown.time_s[air] if air.stop > air.start else flown.time_s
    days = {datetime.fromtimestamp(float(t), zone).date() for t in (ends[0], ends[-1])}
    if min(days) <= about.date <= max(days):
        return
    off = (min(days) - about.date).days
    hint = ""
    if off % ROLLOVER_DAYS == 0:
        hint = (
            "; the receiver's week count has begun anew (1024 weeks), times may be good"
        )
    yield (
        f"flown on {min(days).isoformat()}, not on {about.date.isoformat()}: "
        f"{abs(off)} days {'late' if off > 0 else 'early'}{hint}"
    )


def _coverage(flown: Flown, about: Circumstances) -> Iterator[str]:
    """Tell of a log that misses the periods of the flight's tasks, or a part of them."""
    if not about.periods:
        return
    start, end = float(flown.time_s[0]), float(flown.time_s[-1])
    opens = min(p.start_s for p in about.periods)
    closes = max(p.end_s for p in about.periods)
    if end < opens or start > closes:
        apart = opens - end if end < opens else start - closes
        side = "ends before" if end < opens else "begins after"
        yield (
            f"{side} all periods of the flight by {span(apart)}; a time zone or a wrong "
            "clock shifts a log by whole hours"
        )
        return
    if flown.launch is None:
        yield f"begins in the air at {_clock(start, about)}, the launch is not in it"
    if flown.landing is None:
        yield f"ends in the air at {_clock(end, about)}, the landing is not in it"


def _position_jumps(flown: Flown, about: Circumstances) -> Iterator[str]:
    away = np.hypot(np.diff(flown.east_m), np.diff(flown.north_m))
    fast = np.flatnonzero(away > IMPOSSIBLE_M_S * np.diff(flown.time_s))
    if fast.size:
        first = int(fast[0])
        yield (
            f"{fast.size} jump{'s' * (fast.size > 1)} faster than {IMPOSSIBLE_M_S:.0f} "
            f"m/s, the first of {away[first]:.0f} m at {_clock(flown.time_s[first], about)}"
        )


def _time_jumps(flown: Flown, about: Circumstances) -> Iterator[str]:
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
            yield (
                f"the clock jumps ahead by {span(float(steps[i]))} at "
                f"{_clock(time[i], about)}: the balloon moved {away[i]:.0f} m meanwhile"
            )


def _clock(time_s: float, about: Circumstances) -> str:
    moment = datetime.fromtimestamp(float(time_s), ZoneInfo(about.time_zone))
    return moment.strftime("%H:%M:%S")


def _warning(text: str, flown: Flown, about: Circumstances) -> Matter:
    return Matter(
        kind=matters.LOG_CLOCK,
        flight=about.task.flight,
        pilots=(flown.pilot,),
        says=plain(f"{flown.log}: {text}."),
    )
