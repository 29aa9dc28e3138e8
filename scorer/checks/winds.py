"""Drift by height from the tracks of a flight: the wind that was.

A balloon drifts with the air around it, so each track tells the wind at the heights it
was flown at.  Each track gives samples; `wind_table` fits one wind, linear from the middle
of each layer to the next, to the samples of all tracks.  Samples far from it lose weight
by Student's law, and no track counts for more than `MOST_S` in a layer: a car that was
taken for a balloon, or a log of another place, does not turn the wind of the others.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.checks.base import basket_m, in_air
from scorer.tracks.flown import Flown
from scorer.tracks.plain import usual_step

Array = NDArray[np.float64]

LAYER_M = 50.0
LAYERS = 80
"""Up to 4000 m above the ground; what was flown higher is in the top layer."""
MEAN_S = 20.0
"""Drift is taken over this long: less is noise of the fixes, more is turns of the way."""
LONGEST_S = 60.0
"""Over longer pauses of a log nothing is known of the drift."""
LEAST_S = 60.0
"""Layers flown for less than this in all are left out."""
MOST_S = 180.0
"""What one track counts for in a layer: no balloon outvotes the others by staying long."""
TAKES_UP_S = 12.0
"""Time in which a balloon takes up 63 % of a change of the wind: half of it in some ten
seconds (common practice, no source)."""
CLIMB_M_S = 1.5
"""Who climbs as fast comes from other air: half the weight."""
CLEAR_M = 3.0
"""Lower, a basket may drag on the ground."""
FREEDOM = 4.0
ROUNDS = 20
LEAST_SIGMA_M_S = 0.3
"""What fixes of 2 m make of a drift over 20 s, and gusts."""
MEDIAN_OFF = float(np.sqrt(2.0 * np.log(2.0)))
"""Median length of a vector whose parts have a sigma of 1."""
BEND_M_S, STEP_M_S = 1.0, 5.0
"""One sigma of what three neighbouring layers lack of a straight line, and of what two
differ by."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drift:
    """Samples of one track, all (K,); grid directions."""

    height_m: Array
    """Basket over the ground."""
    east_m_s: Array
    north_m_s: Array
    seconds: Array
    climb_m_s: Array
    place: tuple[float, float] = (0.0, 0.0)
    """Sum of east and north times time, for the convergence."""


class Layer(NamedTuple):
    """The wind of one layer."""

    height_m: float
    """Middle of the layer, above the ground."""
    from_deg: float
    """Direction it came from, true north, 0 up to 360."""
    speed_m_s: float
    spread_m_s: float
    """Root mean square deviation of the drift from the wind, sample by sample."""
    seconds: float
    balloons: int
    """How many tracks crossed the layer."""


def drift_of(flown: Flown) -> Drift:
    """Return the samples of one track between launch and landing, clear of the ground."""
    air = in_air(flown)
    time = flown.time_s[air]
    if len(time) < 2:
        return _none()
    east, north, height = flown.east_m[air], flown.north_m[air], basket_m(flown)[air]
    step = max(round(MEAN_S / max(usual_step(time), 0.1)), 1)
    stop = len(time) - 1
    ends = np.minimum(np.arange(0, stop + step, step), stop)
    begin, end = ends[:-1], ends[1:]
    seconds = time[end] - time[begin]
    middle = height[(begin + end) // 2]
    least = np.fmin(np.fmin(height[begin], height[end]), middle)
    usual = (seconds > 0.5 * MEAN_S) & (seconds <= LONGEST_S)
    good = usual & np.isfinite(middle) & (least > CLEAR_M)
    pace = np.where(seconds > 0.0, seconds, np.nan)
    speeds = [(xy[end] - xy[begin]) / pace for xy in (east, north)]
    good &= np.isfinite(speeds[0]) & np.isfinite(speeds[1])
    at = 0.5 * (time[begin] + time[end])
    speeds = [speed + TAKES_UP_S * _change(at, speed, good) for speed in speeds]
    lasts = seconds[good]
    return Drift(
        height_m=middle[good],
        east_m_s=speeds[0][good],
        north_m_s=speeds[1][good],
        seconds=lasts,
        climb_m_s=np.nan_to_num((height[end] - height[begin])[good] / lasts),
        place=(float(east[begin][good] @ lasts), float(north[begin][good] @ lasts)),
    )


def wind_table(
    drifts: Sequence[Drift], convergence_deg: float = 0.0
) -> tuple[Layer, ...]:
    """Return the layers that were flown for long enough, from the ground up.

    `convergence_deg` turns the grid's north to true north: true = grid + convergence.
    Winds are vectors, so a speed is less than the mean of the speeds where the wind
    turned; `spread_m_s` tells by how much drifts differed.
    """
    some = [one for one in drifts if len(one.seconds)]
    if not some:
        return ()
    height, east, north, seconds, climb = (
        np.concatenate([getattr(one, name) for one in some])
        for name in ("height_m", "east_m_s", "north_m_s", "seconds", "climb_m_s")
    )
    own = np.repeat(np.arange(len(some)), [len(one.seconds) for one in some])
    layer = np.clip(height // LAYER_M, 0, LAYERS - 1).astype(int)
    cell = own * LAYERS + layer
    stayed = np.bincount(cell, seconds, len(some) * LAYERS)
    weight = seconds * np.minimum(MOST_S / stayed[cell], 1.0)
    weight = weight / (1.0 + (climb / CLIMB_M_S) ** 2)
    drift = np.column_stack([east, north])
    start = np.full((LAYERS, 2), np.nan)
    cells, each = _medians(drift, cell)  # of each track, and then of all of them
    layers, middle = _medians(each, cells % LAYERS)
    start[layers] = middle
    between = _Between.of(height)
    wind, sober = _fit(between, drift, weight, start)
    total = np.bincount(layer, seconds, LAYERS)
    balloons = (stayed.reshape(-1, LAYERS) > 0.0).sum(axis=0)
    off = ((drift - between(wind)) ** 2).sum(axis=1)
    rows = []
    for n in np.flatnonzero(total >= LEAST_S).tolist():
        here = layer == n
        toward = float(np.degrees(np.arctan2(*wind[n]))) + convergence_deg
        rows.append(
            Layer(
                height_m=(n + 0.5) * LAYER_M,
                from_deg=(toward + 180.0) % 360.0,
                speed_m_s=float(np.hypot(*wind[n])),
                spread_m_s=float(np.average(off[here], weights=sober[here])) ** 0.5,
                seconds=float(total[n]),
                balloons=int(balloons[n]),
            )
        )
    return tuple(rows)


def middle_of(drifts: Sequence[Drift]) -> tuple[float, float] | None:
    """Return where, on average, the tracks were: east and north of the plane."""
    seconds = float(sum(one.seconds.sum() for one in drifts))
    if seconds <= 0.0:
        return None
    east, north = (sum(one.place[n] for one in drifts) for n in (0, 1))
    return east / seconds, north / seconds


def _none() -> Drift:
    nothing = np.zeros(0)
    return Drift(
        height_m=nothing,
        east_m_s=nothing,
        north_m_s=nothing,
        seconds=nothing,
        climb_m_s=nothing,
    )


def _change(at_s: Array, speed: Array, good: NDArray[np.bool_]) -> Array:
    """Return how fast a speed changes, (K,), over its neighbours where both are good."""
    change = np.zeros(len(speed))
    if len(speed) > 2:
        inner = good[:-2] & good[2:]
        slope = (speed[2:] - speed[:-2]) / np.maximum(at_s[2:] - at_s[:-2], MEAN_S)
        change[1:-1] = np.where(inner, slope, 0.0)
    return change


def _medians(values: Array, group: NDArray[np.int_]) -> tuple[NDArray[np.int_], Array]:
    """Return the groups that there are, (G,), and the medians of values in each, (G, 2)."""
    found, size = np.unique(group, return_counts=True)
    first = np.cumsum(size) - size
    low, high = first + (size - 1) // 2, first + size // 2
    each = [column[np.lexsort((column, group))] for column in values.T]
    return found, np.column_stack([(own[low] + own[high]) / 2.0 for own in each])


class _Between(NamedTuple):
    """Where samples lie between the middles of two layers, all (K,)."""

    below: NDArray[np.int_]
    share: Array
    """Of the upper layer."""

    @classmethod
    def of(cls, height_m: Array) -> "_Between":
        along = np.clip(height_m / LAYER_M - 0.5, 0.0, LAYERS - 1.0)
        below = np.minimum(along.astype(int), LAYERS - 2)
        return cls(below, along - below)

    def __call__(self, wind: Array) -> Array:
        """Return the wind at the samples, (K, 2)."""
        share = self.share[:, None]
        return (1.0 - share) * wind[self.below] + share * wind[self.below + 1]

    def banded(self, weight: Array) -> Array:
        """Return the normal equations' matrix in upper banded form, (3, LAYERS)."""
        less, share = 1.0 - self.share, self.share
        matrix = np.zeros((3, LAYERS))
        matrix[2] = self._sum(weight * less**2) + self._sum(weight * share**2, 1)
        matrix[1] = self._sum(weight * less * share, 1)
        return matrix

    def right(self, values: Array, weight: Array) -> Array:
        """Return the normal equations' right side, (LAYERS, 2)."""
        less, share = weight * (1.0 - self.share), weight * self.share
        parts = [self._sum(less * v) + self._sum(share * v, 1) for v in values.T]
        return np.column_stack(parts)

    def _sum(self, values: Array, up: int = 0) -> Array:
        return np.bincount(self.below + up, values, LAYERS).astype(np.float64)


def _fit(
    between: _Between, drift: Array, weight: Array, start: Array
) -> tuple[Array, Array]:
    """Fit the wind at the layers' middles, (LAYERS, 2), and the weights it rests on.

    Weights count in samples of `MEAN_S`; what is said of bends keeps layers apart that
    were flown at one height only.
    """
    known = np.isfinite(start[:, 0])
    at = np.arange(LAYERS)
    wind = np.column_stack([np.interp(at, at[known], s[known]) for s in start.T])
    counts = weight / MEAN_S
    sober = counts
    for _ in range(ROUNDS):
        off = np.linalg.norm(drift - between(wind), axis=1)
        sigma = max(_weighted_median(off, counts) / MEDIAN_OFF, LEAST_SIGMA_M_S)
        sober = counts * (FREEDOM + 2.0) / (FREEDOM + (off / sigma) ** 2)
        scaled = sober / sigma**2
        wind = scipy.linalg.solveh_banded(
            between.banded(scaled) + BENDS, between.right(drift, scaled)
        )
    return wind, sober


def _bends() -> Array:
    """Return in banded form, (3, LAYERS), what is said of bends and steps."""
    bend = np.diff(np.eye(LAYERS), 2, axis=0)
    step = np.diff(np.eye(LAYERS), axis=0)
    whole = bend.T @ bend / BEND_M_S**2 + step.T @ step / STEP_M_S**2
    matrix = np.zeros((3, LAYERS))
    for up in range(3):
        matrix[2 - up, up:] = np.diag(whole, up)
    return matrix


BENDS = _bends()


def _weighted_median(values: Array, weights: Array) -> float:
    order = np.argsort(values, kind="stable")
    running = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(running, 0.5 * running[-1])])
