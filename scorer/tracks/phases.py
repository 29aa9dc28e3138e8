"""When a logger stood on the ground, and when the balloon flew.

A stretch of fixes is *standing* where the logger moves neither sideways nor up or down.
A balloon can hang so still for a while, so a stretch also has to lie where nothing of
the log lies under it, measured against the terrain.  What lies between two stretches is
a *leg*: a flight rises far above the terrain, a ride with the logger in a car, or a walk,
does not; and a car gathers and loses speed as no balloon can.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import minimum_filter1d

from scorer.tracks.flown import Array

LOOK_S = 20.0
"""Stillness is judged over this long before and after a fix."""
MEAN_S = 10.0
"""Values are averaged over this long first, against noise."""
STILL_M_S = 0.35
"""Slowest drift that counts as moving; half of the slowest wind pilots fly in."""
STAND_S = 30.0
"""A stretch is at least this long."""
END_STAND_S = 10.0
"""At the ends of a log a shorter one counts: many loggers start and stop by motion ..."""
END_STAND_M = 4.0
"""... if it stays within this: a balloon drifts farther in that time."""
END_SHARE = 0.7
"""So much of it is taken; the rest may show the beginning of the launch."""
SURE_S = 180.0
"""Nothing in the air hangs still this long: believed even where terrain disagrees."""
BRIDGE_S = 45.0
"""Stretches nearer than this in time, and in place, are one."""
RIDE_M_S2 = 0.3
"""Root mean square of the sideways acceleration over 10 s: a car has more, a balloon,
some tonnes of air taken along by the wind, has less."""
CLEAR_M = 15.0
"""A flight rises at least this far above the ground ..."""
CLEAR_S = 20.0
"""... for at least this long."""
SURELY_ALOFT_M = 60.0
"""No error of terrain lifts a car that high over neighbouring stretches."""
DRIFT_M_H = 5.0
"""How far a barometer may creep in an hour, generously."""
STRETCH_SHARE = 0.07
"""Share by which 20 K off the standard temperature change heights: 20 / 288."""
LEFT_M = 1.5
"""The basket has left the ground when it is that high above its standing height."""
MOST_STANDS = 200
"""Of more stands the first, the last and the longest are looked at: no flight has so
many, and the work grows with their square."""
CARRIED_M = 300.0
"""A stretch farther away than this from the flight's end says nothing of the flight."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Fixes `first` to `last`, both included, at which the logger stood."""

    first: int
    last: int

    @property
    def fixes(self) -> slice:
        """The fixes as a slice."""
        return slice(self.first, self.last + 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Phases:
    """What the log shows of standing and flying."""

    stretches: tuple[Stretch, ...]
    """Standing on the ground next to the flight or within it, in order of time."""
    launch: int | None
    """First fix in the air; None when the log does not show the launch."""
    landing: int | None
    """First fix on the ground again; None when the log does not show it."""


def find_phases(
    *,
    time_s: Array,
    east_m: Array,
    north_m: Array,
    altitude_m: Array,
    ground_m: Array,
    noise_m: float,
) -> Phases:
    """Find ground stretches, launch and landing.

    Parameters
    ----------
    time_s, east_m, north_m : ndarray, shape (N,)
        Seconds, strictly increasing, and metres in the event's plane.
    altitude_m : ndarray, shape (N,)
        Altitude from one sensor; an offset does not matter.  NaN where missing.
    ground_m : ndarray, shape (N,)
        Terrain under each fix.  NaN where unknown: there height proves nothing.
    noise_m : float
        One sigma of the sensor's change within half a minute: about 0.6 for a
        barometer, 3 for a GNSS receiver.

    Returns
    -------
    Phases
        Empty and None where the log shows nothing of the kind.
    """
    if len(time_s) < 3 or not np.isfinite(altitude_m).any():
        return Phases(stretches=(), launch=None, landing=None)
    altitude = _filled(time_s, altitude_m)
    path = _Path(
        time_s=time_s,
        east_m=window_mean(time_s, east_m, MEAN_S),
        north_m=window_mean(time_s, north_m, MEAN_S),
        altitude_m=window_mean(time_s, altitude, MEAN_S),
    )
    level = path.altitude_m - _filled(time_s, ground_m)
    raw = _Path(time_s=time_s, east_m=east_m, north_m=north_m, altitude_m=altitude)
    runs = _with_ends(raw, _runs(path, _still(path, noise_m)), noise_m)
    runs = _longest(path, runs)
    stretches = _on_the_ground(path, level, runs, noise_m)
    return _around_the_flight(path, level, altitude - ground_m, stretches, noise_m)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Path:
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

    The window is cut off at the ends of the log.  NaN spreads: fill it before.
    """
    if len(time_s) < 2:
        return values.copy()
    steps = np.diff(time_s)
    area = np.r_[0.0, np.cumsum(steps * 0.5 * (values[1:] + values[:-1]))]
    begin = np.maximum(time_s - 0.5 * width_s, time_s[0])
    end = np.minimum(time_s + 0.5 * width_s, time_s[-1])
    upper = _integral(time_s, values, area, end)
    lower = _integral(time_s, values, area, begin)
    return np.asarray((upper - lower) / (end - begin))


def _integral(time_s: Array, values: Array, area: Array, at_s: Array) -> Array:
    """Integrate the line through the fixes up to each of the times."""
    k = np.clip(np.searchsorted(time_s, at_s, side="right") - 1, 0, len(time_s) - 2)
    into = at_s - time_s[k]
    slope = (values[k + 1] - values[k]) / (time_s[k + 1] - time_s[k])
    return np.asarray(area[k] + into * (values[k] + 0.5 * slope * into))


def _filled(time_s: Array, values: Array) -> Array:
    """Bridge NaN linearly; all NaN gives zeros."""
    known = np.isfinite(values)
    if known.all():
        return values
    if not known.any():
        return np.zeros_like(values)
    return np.interp(time_s, time_s[known], values[known])


def _still(path: _Path, noise_m: float) -> NDArray[np.bool_]:
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


def _runs(path: _Path, still: NDArray[np.bool_]) -> list[Stretch]:
    """Return runs of still fixes, joined over short breaks, without the short ones."""
    edges = np.flatnonzero(np.diff(np.r_[False, still, False].astype(np.int8)))
    joined: list[Stretch] = []
    for first, after in zip(edges[::2], edges[1::2], strict=True):
        run = Stretch(int(first), int(after) - 1)
        if joined and _one_stand(path, joined[-1], run):
            run = Stretch(joined.pop().first, run.last)
        joined.append(run)
    return [run for run in joined if _lasts_s(path, run) >= STAND_S]


def _with_ends(raw: _Path, runs: list[Stretch], noise_m: float) -> list[Stretch]:
    """Add short stands at the very ends of the log."""
    last = len(raw.time_s) - 1
    head = _end_stand(raw, 0, noise_m)
    tail = _end_stand(raw, last, noise_m)
    if head is not None and not (runs and runs[0].first <= head.last):
        runs = [head, *runs]
    if tail is not None and not (runs and runs[-1].last >= tail.first):
        runs = [*runs, tail]
    return runs


def _end_stand(raw: _Path, end: int, noise_m: float) -> Stretch | None:
    """Return the fixes from one end of the log that stay at one place."""
    away = np.hypot(raw.east_m - raw.east_m[end], raw.north_m - raw.north_m[end])
    rise = np.abs(raw.altitude_m - raw.altitude_m[end])
    left = np.flatnonzero((away > END_STAND_M) | (rise > 1.0 + noise_m))
    last = len(away) - 1
    if end == 0:
        stay = int(left[0]) - 1 if left.size else last
        found = Stretch(0, int(END_SHARE * stay))
    else:
        stay = last - (int(left[-1]) + 1 if left.size else 0)
        found = Stretch(last - int(END_SHARE * stay), last)
    lasts = abs(raw.time_s[end] - raw.time_s[abs(end - stay)])
    return found if stay >= 2 and lasts >= END_STAND_S else None


def _one_stand(path: _Path, before: Stretch, after: Stretch) -> bool:
    pause = path.time_s[after.first] - path.time_s[before.last]
    near = path.apart_m(before.last, after.first) < STILL_M_S * LOOK_S
    rise = abs(path.altitude_m[after.first] - path.altitude_m[before.last])
    return bool(near and rise < 3.0 and pause < BRIDGE_S)


def _lasts_s(path: _Path, run: Stretch) -> float:
    return float(path.time_s[run.last] - path.time_s[run.first])


def _longest(path: _Path, runs: list[Stretch]) -> list[Stretch]:
    """Bound the number of stands; their order stays."""
    if len(runs) <= MOST_STANDS:
        return runs
    inner = sorted(runs[1:-1], key=lambda run: -_lasts_s(path, run))
    some = [runs[0], *inner[: MOST_STANDS - 2], runs[-1]]
    return sorted(some, key=lambda run: run.first)


def _on_the_ground(
    path: _Path, level: Array, runs: list[Stretch], noise_m: float
) -> list[Stretch]:
    """Keep the runs that nothing lies under; a long first or last one in any case."""
    if not runs:
        return []
    heights = np.array([np.median(level[run.fixes]) for run in runs])
    middles = np.array([0.5 * (run.first + run.last) for run in runs]).astype(int)
    under = int(np.argmin(level))
    marks = np.r_[middles, under]
    lows = np.r_[heights, float(np.quantile(level, 0.002))]
    hours = np.abs(path.time_s[middles][:, None] - path.time_s[marks]) / 3600.0
    rise = np.abs(path.altitude_m[middles][:, None] - path.altitude_m[marks])
    slack = 3.0 + 3.0 * noise_m + DRIFT_M_H * hours + STRETCH_SHARE * rise
    lowest = (heights[:, None] <= lows + slack).all(axis=1)
    kept = []
    for k, run in enumerate(runs):
        outer = k in {0, len(runs) - 1}
        if lowest[k] or (outer and _lasts_s(path, run) >= SURE_S):
            kept.append(run)
    return kept


def _around_the_flight(
    path: _Path,
    level: Array,
    raw_level: Array,
    stretches: list[Stretch],
    noise_m: float,
) -> Phases:
    """Find the legs that are flights; launch and landing are their outer ends."""
    if not stretches:
        return Phases(stretches=(), launch=None, landing=None)
    middles = np.array([0.5 * (run.first + run.last) for run in stretches])
    bases = np.array([np.median(level[run.fixes]) for run in stretches])
    over = level - np.interp(np.arange(len(level)), middles, bases)
    last = len(level) - 1
    ends = [Stretch(-1, -1), *stretches, Stretch(last + 1, last + 1)]
    legs = [
        Stretch(before.last + 1, after.first - 1) for before, after in pairwise(ends)
    ]
    flights = [leg for leg in legs if _is_flight(path, over, leg)]
    if not flights:
        return Phases(stretches=tuple(stretches), launch=None, landing=None)
    first, final = flights[0].first, flights[-1].last
    near = _neighbours(path, stretches, first, final)
    raw = raw_level - np.interp(np.arange(len(level)), middles, bases)
    raw = np.where(np.isnan(raw), over, raw)
    return Phases(
        stretches=tuple(near),
        launch=None if first == 0 else _left(raw, flights[0], noise_m),
        landing=None if final == last else _reached(raw, flights[-1], noise_m),
    )


def _is_flight(path: _Path, over: Array, leg: Stretch) -> bool:
    """Tell a flight from a ride or a walk."""
    if leg.last - leg.first < 2:
        return False
    time, high = path.time_s[leg.fixes], over[leg.fixes]
    fixes = max(int(CLEAR_S / max(float(np.median(np.diff(time))), 0.1)), 1)
    held = minimum_filter1d(high, fixes, mode="nearest").max()
    if held < CLEAR_M or time[-1] - time[0] < CLEAR_S:
        return False
    return bool(held >= SURELY_ALOFT_M or _jolt_m_s2(path, leg) < RIDE_M_S2)


def _jolt_m_s2(path: _Path, leg: Stretch) -> float:
    """Return the root mean square of the sideways acceleration over 10 s."""
    time = path.time_s[leg.fixes]
    grid = np.arange(time[0], time[-1], MEAN_S)
    if len(grid) < 4:
        return 0.0
    parts = [
        np.diff(np.interp(grid, time, part[leg.fixes]), 2) / MEAN_S**2
        for part in (path.east_m, path.north_m)
    ]
    return float(np.sqrt(np.mean(parts[0] ** 2 + parts[1] ** 2)))


def _neighbours(
    path: _Path, stretches: list[Stretch], first: int, final: int
) -> list[Stretch]:
    """Drop stretches that a ride lies between: other places, other terrain."""
    before = [run for run in stretches if run.last < first]
    after = [run for run in stretches if run.first > final]
    within = [run for run in stretches if first <= run.first and run.last <= final]
    before = [
        run for run in before if path.apart_m(run.last, before[-1].last) < CARRIED_M
    ]
    after = [
        run for run in after if path.apart_m(run.first, after[0].first) < CARRIED_M
    ]
    return [*before, *within, *after]


def _left(over: Array, leg: Stretch, noise_m: float) -> int:
    """Return the first fix in the air: the last way up from standing height."""
    high = over[leg.fixes]
    clear = int(np.argmax(high > 5.0 + 2.0 * noise_m))
    low = np.flatnonzero(high[:clear] < LEFT_M + noise_m)
    return leg.first + (int(low[-1]) + 1 if low.size else 0)


def _reached(over: Array, leg: Stretch, noise_m: float) -> int:
    """Return the first fix on the ground after the last time clear of it."""
    high = over[leg.fixes]
    clear = len(high) - 1 - int(np.argmax(high[::-1] > 5.0 + 2.0 * noise_m))
    low = np.flatnonzero(high[clear:] < LEFT_M - 0.5 + noise_m)
    return leg.first + (clear + int(low[0]) if low.size else len(high))
