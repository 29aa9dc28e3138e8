"""Which pressure altitudes are no barometer's: spikes, what lies between jumps, dead ones.

They are left out by `clean`; where a barometer says nothing the receiver bridges it.
"""

from itertools import pairwise

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.tracks.columns import fixes_in
from scorer.tracks.flown import Array
from scorer.tracks.plain import diffs, marked, mean, median, quantile
from scorer.tracks.stands import WIDE_SHARE

Mask = NDArray[np.bool_]

SPIKE_M = 10.0
SPIKE_WINDOW_S = 9.0
"""Within half of it a balloon pushed by 0.5 m/s2 leaves its way by 5 m ..."""
MOST_SPIKES = 0.05
JUMP_M = 10.0
FASTEST_M_S, SOON_S = 3.0, 5.0
"""From one fix to the next a barometer that changes by more than `JUMP_M` and this a
second, for `SOON_S` at most, by as much unlike the receiver beside it, has jumped ..."""
ALONE_M_S = 12.0
"""... or by this a second where no receiver tells: no balloon falls faster."""
MOST_JUMPS = 200
"""A barometer with more of them shows nothing else: it is left as it is."""
SAME_LEVEL_M = 25.0
"""What follows a jump is believed where both sensors stand as far apart as before it, or
as in the longest part, within this."""
DEAD_RANGE_M = 1.0
MOVED_M = 60.0
"""A barometer that shows less than the first while GNSS shows more than the second is
dead, as one whose climbs are not within `SLOPES` of those by GNSS."""
SLOPES = (0.75, 1.3)


def spikes(time_s: Array, altitude_m: Array) -> Mask:
    """Mark, (N,), altitudes that jump aside for a moment, as no balloon's do.

    A jump lasts at most half of `SPIKE_WINDOW_S`; a log full of them is left as it is.
    """
    aside = np.zeros(len(altitude_m), dtype=bool)
    known = marked(np.isfinite(altitude_m))
    if len(known) < 3:
        return aside
    size = 2 * fixes_in(time_s[known], 0.5 * SPIKE_WINDOW_S) + 1
    off = np.abs(
        altitude_m[known] - scipy.ndimage.median_filter(altitude_m[known], size)
    )
    wild = off > SPIKE_M
    aside[known[wild]] = wild.mean() <= MOST_SPIKES
    return aside


def between_jumps(time_s: Array, baro: Array, gnss: Array) -> Mask:
    """Mark, (N,), what lies between jumps of a barometer and fits not the longest part."""
    known = marked(np.isfinite(baro))
    time, high = time_s[known], baro[known]
    off = high - gnss[known]
    jumped = _jumped(time, high, off)
    lost = np.zeros(len(baro), dtype=bool)
    if not 0 < np.count_nonzero(jumped) <= MOST_JUMPS:
        return lost
    edges = np.r_[0, marked(jumped) + 1, len(known)]
    parts = [slice(*pair) for pair in pairwise(edges.tolist())]
    longest = max(range(len(parts)), key=lambda k: float(np.ptp(time[parts[k]])))
    kept = parts[longest]
    lost[known] = True
    lost[known[kept]] = False
    usual = _middle(off[kept])
    for k in (*range(longest + 1, len(parts)), *range(longest - 1, -1, -1)):
        one, two = kept.stop - 1, parts[k].start
        if k < longest:
            one, two = parts[k].stop - 1, kept.start
        apart = [off[one] - off[two], _middle(off[parts[k]]) - usual]
        most = SAME_LEVEL_M
        if np.isnan(apart).all():
            apart = [high[one] - high[two]]
            most = JUMP_M + ALONE_M_S * (time[two] - time[one])
        if np.nanmin(np.abs(apart)) <= most:
            lost[known[parts[k]]] = False
            kept = slice(min(kept.start, parts[k].start), max(kept.stop, parts[k].stop))
    return lost


def _middle(off: Array) -> float:
    """Return the median of what is known; NaN where nothing is."""
    known = off[np.isfinite(off)]
    return float(median(known)) if known.size else np.nan


def _jumped(time_s: Array, baro: Array, off: Array) -> NDArray[np.bool_]:
    """Tell, (N - 1,), where a barometer changes from a fix to the next as no flight does.

    `off` is by how much it stands off the receiver, NaN where there is none.
    """
    apart = _apart(off)
    told = np.isfinite(apart)
    lasts, change = diffs(time_s), np.abs(diffs(baro))
    beside = FASTEST_M_S * np.minimum(lasts, SOON_S) + WIDE_SHARE * change
    most = JUMP_M + np.where(told, beside, ALONE_M_S * lasts)
    unlike = ~told | (np.abs(apart) > most)
    return np.asarray((change > most) & unlike)


def _apart(off: Array) -> Array:
    """Return, (N - 1,), by how much what is known before and after each step differs."""
    at, known = np.arange(len(off)), np.isfinite(off)
    last = np.maximum.accumulate(np.where(known, at, -1))[:-1]
    after = np.minimum.accumulate(np.where(known, at, len(off))[::-1])[::-1][1:]
    both = (last >= 0) & (after < len(off))
    apart = off[np.minimum(after, len(off) - 1)] - off[last]
    return np.asarray(np.where(both, apart, np.nan))


def alive(baro: Array, gnss: Array) -> bool:
    """Tell whether the barometer follows the flight that GNSS shows."""
    both = np.isfinite(baro) & np.isfinite(gnss)
    if np.count_nonzero(both) < 10:
        return _varies(baro)
    seen = gnss[both]
    high, low = quantile(seen, 0.95), quantile(seen, 0.05)
    if high - low < MOVED_M:
        return _varies(baro)
    both &= (gnss >= low) & (gnss <= high)  # without spikes
    level = gnss[both] - mean(gnss[both])
    slope = float(level @ (baro[both] - mean(baro[both])) / (level @ level))
    return SLOPES[0] < slope < SLOPES[1]


def _varies(baro: Array) -> bool:
    known = baro[np.isfinite(baro)]
    return bool(known.size < 2 or np.ptp(known) > DEAD_RANGE_M)
