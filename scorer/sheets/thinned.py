"""Tracks for other programs: cut to the flight and thinned to lines that still fit."""

import numpy as np
from numpy.typing import NDArray

from scorer.sheets.scene import stretches
from scorer.tracks.flown import Flown

THINNED_M = 1.0
"""Lines are held so close.  Half the step of places in many logs, a thousandth of a minute,
is 0.93 m: closer ones would follow their noise."""
AROUND = 30
"""Fixes before the launch and after the landing that are written."""


def thinned(flown: Flown) -> NDArray[np.int64]:
    """Return the fixes to keep: ends of each stretch, and where way or height turn.

    Between them, straight lines in time differ from all others by `THINNED_M` at most,
    east, north and in altitude: of each line the fix farthest off is kept too, until none
    is farther (Douglas and Peucker, 1973, with distances at the same moment).  They begin a
    little before the launch and end a little after the landing: the way of the crew's car
    is nobody's business.
    """
    first = max((flown.launch or 0) - AROUND, 0)
    last = len(flown) if flown.landing is None else flown.landing + AROUND
    time_s = flown.time_s[first:last]
    columns = [
        np.interp(time_s, time_s[known], column[known])
        for whole in (flown.east_m, flown.north_m, flown.altitude_m)
        for column in (whole[first:last],)
        if (known := np.isfinite(column)).any()
    ]
    ends = [(part.start, part.stop - 1) for part in stretches(time_s)]
    kept = np.unique(np.array(ends, dtype=np.int64))
    while True:
        lines = (np.interp(time_s, time_s[kept], column[kept]) for column in columns)
        off = np.max(
            [abs(c - on) for c, on in zip(columns, lines, strict=True)], axis=0
        )
        farthest = np.maximum.reduceat(off, kept)
        of_line = np.repeat(farthest, np.diff(kept, append=len(off)))
        more = np.flatnonzero((off == of_line) & (off > THINNED_M))
        if not len(more):
            return kept + first
        kept = np.union1d(kept, more)
