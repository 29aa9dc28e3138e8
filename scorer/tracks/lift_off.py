"""Where and when a balloon left the ground, and when it came down.

The place is where the basket stood, the mean of the stand before; the moment is that from
which a steady push upward explains the first metres: h = a (t - t0)^2 after t0 and the
standing height before.  The first fix seen in the air comes seconds later and lies
downwind.  Coming down the way is straight: h = v (t0 - t), and standing height after.
"""

import numpy as np

from scorer.tracks.flown import Array, Moment
from scorer.tracks.noise import mean_share
from scorer.tracks.plain import marked, mean, median, usual_step
from scorer.tracks.stands import AveragedTrack, Stretch

FIRST_M = 7.0
"""So high the first metres go, more for a noisy sensor."""
BEFORE_S = 40.0
AFTER_S = 40.0
GRID_S = 0.25
PLACE_S = 180.0
"""The place is the mean over so long at the end of the stand; before, crews unload."""
PLACE_TAU_S = 120.0
"""Memory of a receiver's errors sideways."""
PLACE_SIGMA_M = 3.0
"""One sigma of a fix where the log does not say; receivers of this kind state 2 to 5."""
SLOW_PLACE_M = 0.7
"""Errors of a place that no mean takes off; where in the basket the logger is."""
FOOT_S = 45.0
"""Standing height is the median over so long next to the moment: some memories of a
barometer's noise, and no longer, since pressure goes up or down by 0.2 m a minute."""
LEAST_SIGMA_S = 0.5
MEMORY_S, MEMORY_NOISE_M = 8.0, 0.6
"""Fixes nearer than this in time err alike in height, by a barometer of that noise; a
receiver's errors, some metres, live for a minute and longer."""
LONGEST_GAP_S = 30.0
"""With a longer pause around it nothing about the moment is certain."""


def lift_off(
    path: AveragedTrack, accuracy_m: Array, *, stand: Stretch, at: int, noise_m: float
) -> Moment:
    """Return place and moment of a launch from a stand; `at` is a fix just in the air.

    `path` has the fixes as they are, altitudes of one sensor; `accuracy_m` is (N,).
    """
    time_s, altitude_m = path.time_s, path.altitude_m
    place = _last_part(time_s, stand)
    end = max(at - 1, place.stop)
    since = max(int(np.searchsorted(time_s, time_s[end - 1] - FOOT_S)), place.start)
    foot = float(median(altitude_m[since:end]))
    begin = int(np.searchsorted(time_s, time_s[at] - BEFORE_S))
    stop = int(np.searchsorted(time_s, time_s[at] + AFTER_S, "right"))
    high = altitude_m[begin:stop] - foot
    crossed = marked(high[at - begin :] > FIRST_M + 2.0 * noise_m)
    if crossed.size:
        stop = at + int(crossed[0]) + 1
    part = slice(max(begin, stand.first), stop)
    time, height = time_s[part], altitude_m[part] - foot
    moment, sigma = _hinge(time, height, noise_m, 2)
    return _moment(path, accuracy_m, at=at, place=place, time_s=moment, sigma_s=sigma)


def touch_down(
    path: AveragedTrack, accuracy_m: Array, *, stand: Stretch, at: int, noise_m: float
) -> Moment:
    """Return place and moment of a landing before a stand; `at` is a fix on the ground.

    The place is that of the fix, since a basket may be dragged on.
    """
    time_s, altitude_m = path.time_s, path.altitude_m
    at = min(at, len(time_s) - 1)
    until = int(np.searchsorted(time_s, time_s[stand.first] + FOOT_S, "right"))
    foot = float(median(altitude_m[stand.first : min(until, stand.last + 1)]))
    stop = int(np.searchsorted(time_s, time_s[at] + 15.0, "right"))
    begin = int(np.searchsorted(time_s, time_s[at] - AFTER_S))
    high = altitude_m[begin : at + 1] - foot
    crossed = marked(high > FIRST_M + 2.0 * noise_m)
    if crossed.size:
        begin += int(crossed[-1])
    part = slice(begin, max(stop, at + 1))
    turned = -time_s[part][::-1]
    height = altitude_m[part][::-1] - foot
    moment, sigma = _hinge(turned, height, noise_m, 1)
    here = slice(at, at + 1)
    return _moment(path, accuracy_m, at=at, place=here, time_s=-moment, sigma_s=sigma)


def _last_part(time_s: Array, stand: Stretch) -> slice:
    first = int(np.searchsorted(time_s, time_s[stand.last] - PLACE_S))
    return slice(max(first, stand.first), stand.last + 1)


def _hinge(
    time_s: Array, height_m: Array, noise_m: float, power: int
) -> tuple[float, float]:
    """Fit the moment from which the height grows with a power of time, and its sigma."""
    step = usual_step(time_s) if len(time_s) > 1 else LONGEST_GAP_S
    if len(time_s) < 4:
        return float(time_s[0]), max(step, LONGEST_GAP_S)
    tries = np.arange(time_s[0], time_s[-1] - 0.5 * step, min(GRID_S, step))
    rise = np.maximum(time_s - tries[:, None], 0.0) ** power
    # the foot is known but for a little: one more reading of it
    size = np.einsum("ij,ij->i", rise, rise)
    slope = np.divide(rise @ height_m, size, out=np.zeros_like(size), where=size > 0)
    rest = height_m - np.maximum(slope, 0.0)[:, None] * rise
    square = np.einsum("ij,ij->i", rest, rest)
    spread = max((0.5 * noise_m) ** 2, float(square.min()) / len(time_s))
    memory = MEMORY_S * max(noise_m / MEMORY_NOISE_M, 1.0)
    spread *= max(1.0, memory / step)
    weight = np.exp(-0.5 * (square - square.min()) / spread)
    weight /= weight.sum()
    best = float(tries[int(square.argmin())])
    variance = float(weight @ (tries - best) ** 2)
    return best, float(np.sqrt(variance + LEAST_SIGMA_S**2 + step**2 / 12.0))


def _moment(
    path: AveragedTrack,
    accuracy_m: Array,
    *,
    at: int,
    place: slice,
    time_s: float,
    sigma_s: float,
) -> Moment:
    fixes_s = path.time_s
    known = accuracy_m[place]
    known = known[np.isfinite(known) & (known > 0.0)]
    one = float(median(known)) if known.size else PLACE_SIGMA_M
    stop = min(place.stop, len(fixes_s)) - 1
    lasts = float(fixes_s[stop] - fixes_s[place.start])
    after = int(np.clip(np.searchsorted(fixes_s, time_s), 1, len(fixes_s) - 1))
    gap = float(fixes_s[after] - fixes_s[after - 1])
    return Moment(
        at=at,
        time_s=time_s,
        sigma_s=sigma_s,
        east_m=float(mean(path.east_m[place])),
        north_m=float(mean(path.north_m[place])),
        sigma_m=float(
            np.hypot(one * np.sqrt(mean_share(lasts, PLACE_TAU_S)), SLOW_PLACE_M)
        ),
        sure=gap <= LONGEST_GAP_S,
    )
