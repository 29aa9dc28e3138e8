"""Drift by height from the tracks of a flight: the wind that was.

A balloon drifts with the air around it, so each track tells the wind at the heights it
was flown at.  Each track gives sums by layer; sums of several tracks add up, in any
grouping; `wind_table` turns them into directions and speeds.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import in_air
from scorer.tracks.flown import Flown

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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drift:
    """Sums over time by layer, all (LAYERS,); grid directions."""

    seconds: Array
    east_m: Array
    """Way drifted: sum of speed times time."""
    north_m: Array
    square_m2_s: Array
    """Sum of squared speed times time."""
    place: tuple[float, float] = (0.0, 0.0)
    """Sum of east and north times time, for the convergence."""

    def __add__(self, other: "Drift") -> "Drift":
        return Drift(
            seconds=self.seconds + other.seconds,
            east_m=self.east_m + other.east_m,
            north_m=self.north_m + other.north_m,
            square_m2_s=self.square_m2_s + other.square_m2_s,
            place=(self.place[0] + other.place[0], self.place[1] + other.place[1]),
        )


class Layer(NamedTuple):
    """The wind of one layer."""

    height_m: float
    """Middle of the layer, above the ground."""
    from_deg: float
    """Direction it came from, true north, 0 up to 360."""
    speed_m_s: float
    """Of the mean drift."""
    spread_m_s: float
    """Root mean square deviation of the drift from its mean."""
    seconds: float


def no_drift() -> Drift:
    """Return the sums of no track at all."""
    nothing = np.zeros(LAYERS)
    return Drift(seconds=nothing, east_m=nothing, north_m=nothing, square_m2_s=nothing)


def drift_of(flown: Flown) -> Drift:
    """Return the sums of one track between launch and landing."""
    air = in_air(flown)
    time = flown.time_s[air]
    if len(time) < 2:
        return no_drift()
    east, north, height = flown.east_m[air], flown.north_m[air], flown.height_m[air]
    step = max(round(MEAN_S / max(float(np.median(np.diff(time))), 0.1)), 1)
    stop = len(time) - 1
    ends = np.minimum(np.arange(0, stop + step, step), stop)
    begin, end = ends[:-1], ends[1:]
    seconds = time[end] - time[begin]
    middle = height[(begin + end) // 2]
    good = np.isfinite(middle) & (seconds > 0.0) & (seconds <= LONGEST_S)
    begin, end, seconds = begin[good], end[good], seconds[good]
    layer = np.clip(middle[good] // LAYER_M, 0, LAYERS - 1).astype(int)
    moves = [(xy[end] - xy[begin]) for xy in (east, north)]
    square = (moves[0] ** 2 + moves[1] ** 2) / seconds

    def total(weights: Array) -> Array:
        return np.bincount(layer, weights, LAYERS).astype(np.float64)

    return Drift(
        seconds=total(seconds),
        east_m=total(moves[0]),
        north_m=total(moves[1]),
        square_m2_s=total(square),
        place=(float(east[begin] @ seconds), float(north[begin] @ seconds)),
    )


def wind_table(drift: Drift, convergence_deg: float = 0.0) -> tuple[Layer, ...]:
    """Return the layers that were flown for long enough, from the ground up.

    `convergence_deg` turns the grid's north to true north: true = grid + convergence.
    The mean is that of the drift as a vector, so its speed is less than the mean of the
    speeds where the wind turned; `spread_m_s` tells by how much drifts differed.
    """
    rows = []
    for layer in np.flatnonzero(drift.seconds >= LEAST_S).tolist():
        seconds = float(drift.seconds[layer])
        east, north = drift.east_m[layer] / seconds, drift.north_m[layer] / seconds
        speed = float(np.hypot(east, north))
        toward = float(np.degrees(np.arctan2(east, north))) + convergence_deg
        variance = float(drift.square_m2_s[layer]) / seconds - speed**2
        rows.append(
            Layer(
                height_m=(layer + 0.5) * LAYER_M,
                from_deg=(toward + 180.0) % 360.0,
                speed_m_s=speed,
                spread_m_s=max(variance, 0.0) ** 0.5,
                seconds=seconds,
            )
        )
    return tuple(rows)


def middle_of(drift: Drift) -> tuple[float, float] | None:
    """Return where, on average, the tracks were: east and north of the plane."""
    seconds = float(drift.seconds.sum())
    if seconds <= 0.0:
        return None
    return drift.place[0] / seconds, drift.place[1] / seconds
