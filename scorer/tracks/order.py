"""Days and the order of time in a log: midnight, repeated and backward times."""

from bisect import bisect_left
from datetime import date, datetime
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.plain import diffs, marked

Array = NDArray[np.float64]
Index = NDArray[np.int64]

Spans = tuple[tuple[float, float], ...]
"""Starts and ends, POSIX seconds."""

DAY_S = 86_400.0
HALF_DAY_S = DAY_S / 2
EXCURSION_FIXES = 100
"""A jump over half a day and back within this many fixes is a slip of the clock, not
midnight."""
NIGHT_S = 15 * 3600.0
"""So long a recorder rests at most between an evening's flight and the next morning's.
Clocks that are set from UTC to local time fall by less than the rest of a day, but for
places a third of the world from Greenwich."""
WEEK_ROLLOVER_DAYS = 1024 * 7
"""The GPS week number starts again after 1024 weeks (IS-GPS-200, 20.3.3.3.1.1); old
receivers then date their logs this many days early."""
NEAR_DAYS = 2
"""How far a date may lie from the flight's date to be that of the flight."""

MOST_DAYS = 10
"""So far around the flight's date a log without dates is looked for: the longest races."""


def epoch_day(day: date) -> int:
    """Return the number of days since 1970-01-01."""
    return day.toordinal() - date(1970, 1, 1).toordinal()


def midnights(time_of_day_s: Array) -> Index:
    """Count the midnights passed before each fix of one recording.

    A time of day that falls by over half a day has passed midnight.  Two such jumps in
    opposite directions within EXCURSION_FIXES are a slip of the clock: they cancel.  A
    lone jump forward is a gap in the recording.  A lesser fall for good has passed
    midnight in a pause of half a day to `NIGHT_S`.

    Parameters
    ----------
    time_of_day_s : (N,) seconds since midnight UTC, in the order recorded

    Returns
    -------
    (N,) int
        Days to add; -1 is possible within a slip.
    """
    step = diffs(time_of_day_s)
    jumps = marked(np.abs(step) > HALF_DAY_S)
    change = np.zeros(len(time_of_day_s), dtype=np.int64)
    k = 0
    while k < len(jumps):  # over the jumps: none, or one a night
        here = jumps[k]
        back = step[here] < 0
        following = jumps[k + 1] if k + 1 < len(jumps) else None
        if (
            following is not None
            and (step[following] < 0) != back
            and following - here <= EXCURSION_FIXES
        ):
            change[here + 1] = 1 if back else -1
            change[following + 1] = -1 if back else 1
            k += 2
            continue
        change[here + 1] = int(back)
        k += 1
    change[_rested(step) + 1] = 1
    return np.cumsum(change)


def _rested(step_s: Array) -> Index:
    """Return the steps back over a night's rest: EXCURSION_FIXES stand on either side."""
    least = DAY_S - NIGHT_S
    back = marked((step_s < -least) & (step_s >= -HALF_DAY_S))
    first, last = back - EXCURSION_FIXES + 1, back + EXCURSION_FIXES
    whole = (first >= 0) & (last <= len(step_s))
    forward = np.r_[0, np.cumsum(step_s > least)]
    within = forward[last[whole]] - forward[first[whole]]
    rested: Index = back[whole][within == 0]
    return rested


def longest_advance(time_s: Array) -> NDArray[np.bool_]:
    """Mark the most fixes that can be kept so that time strictly increases.

    (N,) in, (N,) out.  Method: longest increasing subsequence by patience sorting
    (C. Schensted, Canadian Journal of Mathematics 13, 1961), only in the stretches that
    are out of order.
    """
    keep = np.ones(len(time_s), dtype=bool)
    if len(time_s) < 2 or (diffs(time_s) > 0).all():
        return keep
    # A fix later than all before it and earlier than all after it always stays.
    before = np.maximum.accumulate(np.concatenate([[-np.inf], time_s[:-1]]))
    after = np.minimum.accumulate(np.concatenate([time_s[1:], [np.inf]])[::-1])[::-1]
    tangled = ~((time_s > before) & (time_s < after))
    edges = marked(np.diff(tangled.astype(np.int8), prepend=0, append=0))
    for first, stop in zip(edges[::2], edges[1::2], strict=True):
        keep[first:stop] = _patience(time_s[first:stop])
    return keep


def _patience(values: Array) -> NDArray[np.bool_]:
    tails: list[float] = []
    tops: list[int] = []
    parent = [-1] * len(values)
    for i, value in enumerate(values.tolist()):
        at = bisect_left(tails, value)
        parent[i] = tops[at - 1] if at else -1
        if at == len(tails):
            tails.append(value)
            tops.append(i)
        elif value < tails[at]:  # of equal times the first one stays
            tails[at], tops[at] = value, i
    keep = np.zeros(len(values), dtype=bool)
    i = tops[-1]
    while i >= 0:
        keep[i] = True
        i = parent[i]
    return keep


def first_day(
    running_s: Array,
    near: date,
    time_zone: str | None = None,
    periods: Spans = (),
    *,
    local: bool = False,
) -> int:
    """Return the day (since 1970) from which a clock without dates counts.

    Of those on which the log covers some of the task's periods, the one on which it
    begins within or nearest to them, then the one on which it covers most.  Where it
    covers none, or there are none: the one on which it is recorded on the flight's local
    date.

    Parameters
    ----------
    running_s : (N,) seconds since midnight of that day, UTC, counted on past midnight
    near : the flight's local date
    time_zone : IANA name of the local time; None = UTC
    periods : start and end of each, POSIX seconds
    local : `running_s` is of the local clocks
    """
    zone = ZoneInfo(time_zone or "UTC")
    noon = datetime(near.year, near.month, near.day, 12, tzinfo=zone)
    offset = noon.utcoffset() if local else None
    running = running_s - (offset.total_seconds() if offset else 0.0)
    start, end = float(running.min()), float(running.max())
    middle = min(float(np.median(running)), start + HALF_DAY_S)
    own = round((noon.timestamp() - middle) / DAY_S)
    if not periods:
        return own
    opens = min(period[0] for period in periods)
    closes = max(period[1] for period in periods)

    def held(day: int) -> float:
        first, last = start + day * DAY_S, end + day * DAY_S
        return sum(max(0.0, min(last, e) - max(first, s)) for s, e in periods)

    def fits(day: int) -> tuple[float, float, int]:
        first = start + day * DAY_S
        away = max(opens - first, first - closes, 0.0)
        return -away, held(day), -abs(day - own)

    days = [d for d in range(own - MOST_DAYS, own + MOST_DAYS + 1) if held(d) > 0.0]
    return max(days, key=fits, default=own)


def lost_weeks(day: int, near: date) -> int:
    """Return the days by which a receiver's week rollover dated a log too early.

    0 unless the date becomes that of the flight by adding one or two rollovers.
    """
    missing = epoch_day(near) - day
    turns = round(missing / WEEK_ROLLOVER_DAYS)
    off = abs(missing - turns * WEEK_ROLLOVER_DAYS)
    return turns * WEEK_ROLLOVER_DAYS if 1 <= turns <= 2 and off <= NEAR_DAYS else 0
