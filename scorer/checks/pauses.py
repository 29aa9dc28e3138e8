"""Where a balloon may have been while its log has no fixes.

Between two fixes, or before the first and after the last of a log that begins or ends in
the air, a balloon may have gone as far as its speed allows.  What lies within that is not
accused of lying far from the track: the log does not tell.
"""

from typing import NamedTuple

import numpy as np

from scorer.tracks.flown import Array
from scorer.tracks.plain import diffs, marked, quantile

PAUSE_S = 60.0
"""Fixes farther apart leave open where the balloon was (our choice; two at most as far
apart as noted times are believed)."""
FASTER = 1.3
"""In a pause a balloon may be so much faster than it nearly ever is while the log shows
it: it finds other winds."""
FAST_SHARE = 0.95
MOST_PAUSES = 1000
"""Of more pauses the longest are looked at."""
OPEN_S = 3600.0
"""A log that begins or ends in the air leaves open at most so much of the flight."""


class Pauses(NamedTuple):
    """The P pauses of a track; all (P,) but for the places, (P, 2)."""

    start_s: Array
    """POSIX seconds."""
    end_s: Array
    before_m: Array
    """East and north of the last fix before; NaN where the log begins in the air."""
    after_m: Array
    """Of the first fix after; NaN where the log ends in the air."""
    fastest_m_s: Array

    @classmethod
    def of(
        cls, time_s: Array, en_m: Array, *, begins: bool = False, ends: bool = False
    ) -> "Pauses":
        """Find the pauses of fixes, (N,) and (N, 2), N >= 2.

        `begins`, `ends` tell that the log does so in the air.
        """
        steps, legs = diffs(time_s), np.hypot(*diffs(en_m).T)
        at = marked(steps > PAUSE_S)
        if len(at) > MOST_PAUSES:
            at = np.sort(at[np.argsort(-steps[at], kind="stable")[:MOST_PAUSES]])
        usual = float(quantile(legs / steps, FAST_SHARE))
        own = cls(
            time_s[at],
            time_s[at + 1],
            en_m[at],
            en_m[at + 1],
            FASTER * np.maximum(usual, legs[at] / steps[at]),
        )
        nowhere = np.full(2, np.nan)
        if begins:
            first, place = time_s[0], en_m[0]
            own = own.beside(first - OPEN_S, first, nowhere, place, FASTER * usual)
        if ends:
            last, place = time_s[-1], en_m[-1]
            own = own.beside(last, last + OPEN_S, place, nowhere, FASTER * usual)
        return own

    def beside(self, *pause: Array | float) -> "Pauses":
        """Put one pause more behind."""
        return Pauses(*map(_one_more, self, pause))

    def least_m(self, points_m: Array, noted_s: Array, slack_s: float) -> Array:
        """Return how far at least the track was from M points in each pause, (M, P).

        With a noted time, (M,), only what it passed within `slack_s` of it counts: NaN
        for the other pauses.
        """
        asked = np.isfinite(noted_s)[:, None]
        begin = np.where(asked, noted_s[:, None] - slack_s, -np.inf)
        end = np.where(asked, noted_s[:, None] + slack_s, np.inf)
        begin, end = np.maximum(begin, self.start_s), np.minimum(end, self.end_s)
        before, after = (
            np.hypot(*(points_m[:, None] - place).T).T
            for place in (self.before_m, self.after_m)
        )
        # no place within a time t of the one fix and t' of the other is nearer
        gone = self.fastest_m_s
        since, left = gone * (end - self.start_s), gone * (self.end_s - begin)
        both = 0.5 * (before + after - gone * (self.end_s - self.start_s))
        least = np.fmax(np.fmax(before - since, after - left), both)
        return np.where(begin < end, np.maximum(least, 0.0), np.nan)


def _one_more(column: Array, value: Array | float) -> Array:
    return np.concatenate([column, np.asarray(value, dtype=float)[None]])
