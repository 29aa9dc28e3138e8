"""Tracks for other programs: cut to the flight and thinned to lines that still fit."""

import numpy as np
from numpy.typing import NDArray

from scorer.sheets.scene import stretches
from scorer.tracks.flown import Flown

THINNED_M = 1.0
"""Lines are held so close.  Half the step of places in many logs, a thousandth of a minute,
is 0.93 m: closer ones would follow their noise."""
LONGEST = 120
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
    high, step = -low, 1
    while len(start):
        end = start + step
        run = time_s.take(end) - here_s
        rise = columns.take(end, axis=1) - here
        slope = rise / run
        fits = ((low <= slope) & (slope <= high)).all(axis=0)
        onward[start[fits]] = end[fits]
        low = np.maximum(low, (rise - THINNED_M) / run)
        high = np.minimum(high, (rise + THINNED_M) / run)
        step += 1
        grows = (low <= high).all(axis=0) & (start + step < len(time_s))
        grows &= step <= LONGEST
        start, here_s = start[grows], here_s[grows]
        here, low, high = (part.compress(grows, 1) for part in (here, low, high))
    return onward
