"""Where a logger stood on the ground.

A stretch of fixes is *standing* where the logger moves neither sideways nor up or down.
A balloon can hang so still for a while, so a stretch also has to lie where nothing of
the log lies under it, measured against the terrain; one that stays on the spot for a
minute and more, as nothing in the wind does, is given more room there.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.plain import diffs, marked, median, quantile

LOOK_S = 20.0
"""Stillness is judged over this long before and after a fix."""
MEAN_S = 10.0
"""Values are averaged over this long first, against noise."""
STILL_M_S = 0.35
"""Slowest drift that counts as moving; half of the slowest wind pilots fly in."""
STAND_S = 20.0
"""A stretch of still fixes is at least this long: a stand of twice `LOOK_S` more."""
END_STAND_S = 10.0
"""At the ends of a log a shorter one counts: many loggers start and stop by motion ..."""
END_STAND_M = 4.0
"""... if it stays within this: a balloon drifts farther in that time."""
END_SHARE = 0.7
"""So much of it is taken; the rest may show the beginning of the launch."""
SURE_S = 180.0
"""Nothing in the air hangs still this long: believed even where terrain disagrees."""
SPOT_S = 45.0
SPOT_M_S = 0.12
"""Who moves less than this for so long is not in the wind ..."""
BRIDGE_S = 45.0
"""Stretches nearer than this in time, and in place, are one."""
DRIFT_M_H = 5.0
"""How far a barometer may creep in an hour, as a rule ..."""
STRETCH_SHARE = 0.07
"""Share by which 20 K off the standard temperature change heights: 20 / 288."""
WIDE_DRIFT_M_H = 20.0
"""... and at worst, 2.4 hPa: falling or rising very rapidly, as forecasters say."""
WIDE_SHARE = 0.15
"""The same of 43 K: -28 or +58 degrees at sea level."""
MOST_STANDS = 200
"""Of more stands the first, the last and the longest are looked at: no flight has so
many, and the work grows with their square."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Fixes `first` to `last`, both included, at which the logger stood."""

    first: int
    last: int

    @property
    def fixes(self) -> slice:
        """The fixes as a slice."""
        return slice(self.first, self.last + 1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AveragedTrack:
    """Averaged positions and altitudes, all (N,)."""

    time_s: Array
    east_m: Array
    north_m: Array
    altitude_m: Array

    def apart_m(self, one: int, other: int) -> float:
        """Horizontal distance between two fixes."""
        return float(
            np.hypot(
                self.east_m[one] - self.east_m[other],
                self.north_m[one] - self.north_m[other],
            )
        )


def window_mean(time_s: Array, values: Array, width_s: float) -> Array:
    """Return the mean over a window around each fix, of the line through the fixes.

    `values` are (N,), or (K, N) for several at once.
    The window is cut off at the ends of the log.  NaN spreads: fill it before.
    """
    if len(time_s) < 2:
        return values.copy()
    steps = diffs(time_s)
    area = np.zeros(values.shape)
    pairs = values[..., 1:] + values[..., :-1]
    np.cumsum(steps * 0.5 * pairs, axis=-1, out=area[..., 1:])
    begin = np.maximum(time_s - 0.5 * width_s, time_s[0])
    end = np.minimum(time_s + 0.5 * width_s, time_s[-1])
    upper = _integral(time_s, values, area, end)
    lower = _integral(time_s, values, area, begin)
    return np.asarray((upper - lower) / (end - begin))


def _integral(time_s: Array, values: Array, area: Array, at_s: Array) -> Array:
    """Integrate the line through the fixes up to each of the times."""
    k = np.clip(np.searchsorted(time_s, at_s, side="right") - 1, 0, len(time_s) - 2)
    into = at_s - time_s[k]
    here = values[..., k]
    slope = (values[..., k + 1] - here) / (time_s[k + 1] - time_s[k])
    return np.asarray(area[..., k] + into * (here + 0.5 * slope * into))


def filled(time_s: Array, values: Array) -> Array:
    """Bridge NaN linearly; all NaN gives zeros."""
    known = np.isfinite(values)
    if known.all():
        return values
    if not known.any():
        return np.zeros_like(values)
    return np.interp(time_s, time_s[known], values[known])


def _still(path: AveragedTrack, noise_m: float) -> NDArray[np.bool_]:
    """Mark the fixes around which the logger moves neither sideways nor vertically."""
    time = path.time_s
    begin = np.maximum(time - LOOK_S, time[0])
    end = np.minimum(time + LOOK_S, time[-1])
    moved = [
        np.interp(end, time, part) - np.interp(begin, time, part)
        for part in (path.east_m, path.north_m, path.altitude_m)
    ]
    span = end - begin
    sideways = np.hypot(moved[0], moved[1]) <= STILL_M_S * span
    level = np.abs(moved[2]) <= 1.0 + 2.5 * noise_m
    return np.asarray(sideways & level & (span >= LOOK_S))


def _runs(path: AveragedTrack, still: NDArray[np.bool_]) -> list[Stretch]:
    """Return runs of still fixes, joined over short breaks, without the short ones."""
    edges = marked(np.diff(still, prepend=False, append=False))
    joined: list[Stretch] = []
    for first, after in zip(edges[::2], edges[1::2], strict=True):
        run = Stretch(int(first), int(after) - 1)
        if joined and _one_stand(path, joined[-1], run):
            run = Stretch(joined.pop().first, run.last)
        joined.append(run)
    return [run for run in joined if _lasts_s(path, run) >= STAND_S]


def _with_ends(
    raw: AveragedTrack, runs: list[Stretch], noise_m: float
) -> list[Stretch]:
    """Add short stands at the very ends of the log."""
    last = len(raw.time_s) - 1
    head = _end_stand(raw, 0, noise_m)
    tail = _end_stand(raw, last, noise_m)
    if head is not None and not (runs and runs[0].first <= head.last):
        runs = [head, *runs]
    if tail is not None and not (runs and runs[-1].last >= tail.first):
        runs = [*runs, tail]
    return runs


def _end_stand(raw: AveragedTrack, end: int, noise_m: float) -> Stretch | None:
    """Return the fixes from one end of the log that stay at one place."""
    away = np.hypot(raw.east_m - raw.east_m[end], raw.north_m - raw.north_m[end])
    rise = np.abs(raw.altitude_m - raw.altitude_m[end])
    left = marked((away > END_STAND_M) | (rise > 1.0 + noise_m))
    last = len(away) - 1
    if end == 0:
        stay = int(left[0]) - 1 if left.size else last
        found = Stretch(0, int(END_SHARE * stay))
    else:
        stay = last - (int(left[-1]) + 1 if left.size else 0)
        found = Stretch(last - int(END_SHARE * stay), last)
    lasts = abs(raw.time_s[end] - raw.time_s[abs(end - stay)])
    return found if stay >= 2 and lasts >= END_STAND_S else None


def _one_stand(path: AveragedTrack, before: Stretch, after: Stretch) -> bool:
    pause = path.time_s[after.first] - path.time_s[before.last]
    near = path.apart_m(before.last, after.first) < STILL_M_S * LOOK_S
    rise = abs(path.altitude_m[after.first] - path.altitude_m[before.last])
    return bool(near and rise < 3.0 and pause < BRIDGE_S)


def _lasts_s(path: AveragedTrack, run: Stretch) -> float:
    return float(path.time_s[run.last] - path.time_s[run.first])


def _longest(path: AveragedTrack, runs: list[Stretch]) -> list[Stretch]:
    """Bound the number of stands; their order stays."""
    if len(runs) <= MOST_STANDS:
        return runs
    inner = sorted(runs[1:-1], key=lambda run: -_lasts_s(path, run))
    some = [runs[0], *inner[: MOST_STANDS - 2], runs[-1]]
    return sorted(some, key=lambda run: run.first)


def stretches_of(
    raw: AveragedTrack,
    path: AveragedTrack,
    level: Array,
    noise_m: float,
    terrain_m: float,
) -> list[Stretch]:
    """Return the stretches on the ground, from fixes as they are and averaged.

    `level` (N,) is the averaged height over the terrain, whose own error is `terrain_m`.
    """
    runs = _with_ends(raw, _runs(path, _still(path, noise_m)), noise_m)
    return _on_the_ground(path, level, _longest(path, runs), noise_m, terrain_m)


def _on_the_ground(
    path: AveragedTrack,
    level: Array,
    runs: list[Stretch],
    noise_m: float,
    terrain_m: float,
) -> list[Stretch]:
    """Keep the runs that nothing lies under; a long first or last one in any case."""
    if not runs:
        return []
    heights = np.array([median(level[run.fixes]) for run in runs])
    middles = np.array([0.5 * (run.first + run.last) for run in runs]).astype(int)
    under = int(np.argmin(level))
    marks = np.append(middles, under)
    lows = np.append(heights, quantile(level, 0.002))
    hours = np.abs(path.time_s[middles][:, None] - path.time_s[marks]) / 3600.0
    rise = np.abs(path.altitude_m[middles][:, None] - path.altitude_m[marks])
    above = heights[:, None] - lows - (3.0 + 3.0 * noise_m + 3.0 * terrain_m)
    lowest = (above <= DRIFT_M_H * hours + STRETCH_SHARE * rise).all(axis=1)
    fair = (above <= WIDE_DRIFT_M_H * hours + WIDE_SHARE * rise).all(axis=1)
    kept = []
    for k, run in enumerate(runs):
        sure = k in {0, len(runs) - 1} and _lasts_s(path, run) >= SURE_S
        if lowest[k] or sure or (fair[k] and _on_the_spot(path, run)):
            kept.append(run)
    return kept


def _on_the_spot(path: AveragedTrack, run: Stretch) -> bool:
    """Tell whether the logger stayed as nothing in the wind does."""
    lasts = _lasts_s(path, run)
    return lasts >= SPOT_S and path.apart_m(run.first, run.last) <= max(
        SPOT_M_S * lasts, END_STAND_M
    )
