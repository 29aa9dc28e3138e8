"""Tracks for other programs: cut to the flight and thinned to lines that still fit."""

import numpy as np
from numpy.typing import NDArray

from scorer.sheets.scene import stretches
from scorer.tracks.flown import Flown

THINNED_M = 2.0
"""Lines are held so close.  The step of places in many logs, a thousandth of a minute, is
1.85 m, and places err by more: closer lines follow that noise, with one point in five fixes
where this has one in twenty."""
LONGEST = 30
"""A line is no longer than so many fixes: a smooth flight is thinned as fast as another."""
AROUND = 30
"""Fixes before the launch and after the landing that are written."""


def thinned(flown: Flown) -> NDArray[np.int64]:
    """Return the fixes to keep: ends of each stretch, and where way or height turn.

    Between them, straight lines in time differ from all others by `THINNED_M` at most,
    east, north and in altitude: each line goes as far as one can (by cones of slopes,
    Sklansky and Gonzalez 1980, with distances at the same moment; from memory).  They begin
    a little before the launch and end a little after the landing: the way of the crew's
    car is nobody's business.
    """
    first = max((flown.launch or 0) - AROUND, 0)
    last = len(flown) if flown.landing is None else flown.landing + AROUND
    time_s = flown.time_s[first:last]
    columns = np.array(
        [
            np.interp(time_s, time_s[known], column[known])
            for whole in (flown.east_m, flown.north_m, flown.altitude_m)
            for column in (whole[first:last],)
            if (known := np.isfinite(column)).any()
        ]
    )
    kept: list[int] = []
    for part in stretches(time_s):
        onward = _onward(time_s[part], columns[:, part]).tolist()
        at = 0
        kept.append(part.start)
        while onward[at] > at:
            at = onward[at]
            kept.append(part.start + at)
    return np.array(kept, dtype=np.int64) + first


def _onward(
    time_s: NDArray[np.float64], columns: NDArray[np.float64]
) -> NDArray[np.int64]:
    """Return for each of (N,) fixes the last one that a line from it may end at.

    `columns` is (C, N), metres.  All lines grow by a fix at a time; `low` and `high` are
    the slopes that pass all fixes so far closely enough.
    """
    onward = np.arange(len(time_s))
    start = np.arange(len(time_s) - 1)
    here_s, here = time_s[:-1], columns[:, :-1]
    low = np.full(here.shape, -np.inf)
    high = -low
    for step in range(1, LONGEST + 1):
        end = start + step
        run = time_s.take(end) - here_s
        slope = (columns.take(end, axis=1) - here) / run
        fits = ((low <= slope) & (slope <= high)).all(axis=0)
        onward[start[fits]] = end[fits]
        low = np.maximum(low, slope - THINNED_M / run)
        high = np.minimum(high, slope + THINNED_M / run)
        grows = (low <= high).all(axis=0) & (end + 1 < len(time_s))
        start, here_s = start[grows], here_s[grows]
        here, low, high = (part.compress(grows, 1) for part in (here, low, high))
    return onward
