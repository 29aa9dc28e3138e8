"""Heights that cannot be true, by the log itself.

They are under the ground or never above it; or the altitudes are in feet where the format
says metres: on the ground they stand off it by more than any that count from the sea, or
they change faster than a balloon climbs and falls.
"""

from collections.abc import Sequence

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.tracks.columns import fixes_in
from scorer.tracks.flown import Array, Disputed, Sign
from scorer.tracks.plain import marked, median, quantile
from scorer.tracks.stands import WIDE_DRIFT_M_H, WIDE_SHARE, Stretch

UNDER_M, UNDER_SIGMAS = 3.0, 3.0
"""Heights of the basket under the ground by more than both are impossible ..."""
UNDER_S = 10.0
"""... in the median over this long."""
NEVER_UP_M = 8.0
"""A log that stays lower, or within `UNDER_SIGMAS` of the ground, shows no flight: it was
left in a car."""
UP_SHARE = 0.95
ONE_SPELL_S = 120.0
"""Contradictions nearer than this in time are one."""
DATUM_M = 150.0
"""A receiver's altitudes stand off the ground by less where it stands, whatever they count
from: geoid and ellipsoid are up to 107 m apart; the rest is the receiver's."""
STAND_M = 15.0
"""From one stand to another the change of an altitude is as true as this, beside what
weather and terrain do: a receiver's slow error, three sigmas of its change."""
TERRAIN_SIGMAS = 4.0
FAST_M_S, FAST_S = 12.0, 30.0
"""No balloon climbs or falls faster for so long ..."""
FAST_WHOLE_S = 60.0
"""... and here and there a sensor does for less than this in all."""


def impossible(
    log: str, time_s: Array, basket_m: Array, sigma_m: Array
) -> tuple[Disputed, ...]:
    """Return when a log's heights, (N,) and NaN where unknown, cannot be true."""
    known = np.isfinite(basket_m)
    if np.count_nonzero(known) < 2:
        return ()
    time, height, sigma = time_s[known], basket_m[known], sigma_m[known]
    up = height - np.maximum(NEVER_UP_M, UNDER_SIGMAS * sigma)
    if quantile(up, UP_SHARE) < 0.0:
        return (Disputed(Sign.NEVER_UP, log, float(time[0]), float(time[-1])),)
    calm = scipy.ndimage.median_filter(height, fixes_in(time, UNDER_S), mode="nearest")
    under = calm < -np.maximum(UNDER_M, UNDER_SIGMAS * sigma)
    return spells(Sign.UNDER, log, time, calm, under)


def no_metres(
    log: str,
    time_s: Array,
    altitude_m: Array,
    ground_m: Array,
    stretches: Sequence[Stretch],
    *,
    gnss_m: float,
    terrain_m: float,
) -> tuple[Disputed, ...]:
    """Return whether altitudes cannot be metres, for the whole log.

    Parameters
    ----------
    log : str
        Its name.
    time_s, altitude_m, ground_m : (N,) arrays
        Altitudes of the main sensor, and the ground, NaN where that is not known.
    stretches : sequence of Stretch
        Where the logger stood.
    gnss_m : float
        What has to be added to the receiver's altitudes on the ground; NaN = not known.
    terrain_m : float
        One sigma of the ground.
    """
    if len(time_s) < 2:
        return ()
    slack = TERRAIN_SIGMAS * terrain_m
    off = abs(gnss_m) if abs(gnss_m) > DATUM_M + slack else 0.0
    off = max(off, _stands_apart_m(time_s, altitude_m, ground_m, stretches, slack))
    whole = float(time_s[0]), float(time_s[-1])
    if off:
        return (Disputed(Sign.OFF_GROUND, log, *whole, off),)
    speed = np.abs(np.interp(time_s + FAST_S, time_s, altitude_m) - altitude_m) / FAST_S
    fast = speed > FAST_M_S
    lasts = float(np.diff(time_s)[fast[:-1]].sum())
    if lasts < FAST_WHOLE_S:
        return ()
    return (Disputed(Sign.FAST, log, *whole, float(speed.max())),)


def _stands_apart_m(
    time_s: Array,
    altitude_m: Array,
    ground_m: Array,
    stretches: Sequence[Stretch],
    slack_m: float,
) -> float:
    """Return how far apart first and last stand put the ground; 0 if weather may do it."""
    if len(stretches) < 2:
        return 0.0
    one, other = stretches[0], stretches[-1]
    rise, true = (
        float(median(high[other.fixes]) - median(high[one.fixes]))
        for high in (altitude_m, ground_m)
    )
    hours = float(time_s[other.first] - time_s[one.last]) / 3600.0
    most = STAND_M + slack_m + WIDE_DRIFT_M_H * hours + WIDE_SHARE * abs(rise)
    return abs(rise - true) if abs(rise - true) > most else 0.0


def spells(
    by: Sign, log: str, time_s: Array, off_m: Array, where: NDArray[np.bool_]
) -> tuple[Disputed, ...]:
    """Join what is marked in `where`, (N,), to spells; `off_m` says by how much."""
    at = marked(where)
    ends = marked(np.diff(time_s[at]) > ONE_SPELL_S) + 1
    return tuple(
        Disputed(
            by,
            log,
            float(time_s[part[0]]),
            float(time_s[part[-1]]),
            float(np.abs(off_m[part]).max()),
        )
        for part in np.split(at, ends)
        if part.size
    )
