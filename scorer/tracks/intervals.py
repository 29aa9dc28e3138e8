"""Means over short intervals: what the offset of a sensor is estimated from."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.columns import columns
from scorer.tracks.flown import Array
from scorer.tracks.offset import Knots, Observations
from scorer.tracks.plain import marked
from scorer.tracks.recording import Recording
from scorer.tracks.stands import Stretch

INTERVAL_S = 45.0
"""Means are taken over this long; shorter than GNSS noise remembers."""
MOST_INTERVALS = 120
AROUND_FLIGHT_S = 1800.0
"""Standing longer than this before or after the flight adds nothing."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Intervals:
    """Even intervals around the flight."""

    number: NDArray[np.intp]
    """(N,) interval of each fix; -1 = outside."""
    centre_s: Array
    """(K,) since the first fix of the log."""
    width_s: float

    @classmethod
    def around(cls, time_s: Array, stretches: Sequence[Stretch]) -> "Intervals":
        """Cut the time from some while before the flight to some while after it."""
        since = time_s - time_s[0]
        begin, end = 0.0, float(since[-1])
        if stretches:
            begin = max(begin, since[stretches[0].last] - AROUND_FLIGHT_S)
        if len(stretches) > 1:
            end = min(end, since[stretches[-1].first] + AROUND_FLIGHT_S)
        width = max(INTERVAL_S, (end - begin) / MOST_INTERVALS)
        number = np.floor((since - begin) / width).astype(np.intp)
        count = int((end - begin) // width) + 1
        number = np.where((number < 0) | (number >= count), -1, number)
        return cls(
            number=number,
            centre_s=np.asarray(begin + (np.arange(count) + 0.5) * width, dtype=float),
            width_s=width,
        )


def _means(
    key: NDArray[np.intp], values: Sequence[Array]
) -> tuple[NDArray[np.intp], list[Array]]:
    """Return the keys that occur, increasing, and the mean of each column under each."""
    size = np.bincount(key)
    found = marked(size)
    sums = [np.bincount(key, weights=one)[found] for one in values]
    return found, [total / size[found] for total in sums]


def _seen(
    recording: Recording,
    intervals: Intervals,
    *,
    fixes: NDArray[np.intp],
    value: Array,
    parts: tuple[Array, Array],
    stretch: Array,
) -> Observations:
    """Average observations over intervals, apart for each stretch."""
    fixes = fixes[intervals.number[fixes] >= 0]
    count = len(intervals.centre_s)
    key = intervals.number[fixes] + count * (stretch[fixes].astype(np.intp) + 1)
    observed = (
        value,
        recording.east_m,
        recording.north_m,
        recording.terrain_sigma_m,
        parts[0],
        parts[1],
    )
    found, means = _means(key, [one[fixes] for one in observed])
    return Observations(
        value_m=means[0],
        time_s=intervals.centre_s[found % count],
        east_m=means[1],
        north_m=means[2],
        terrain_sigma_m=means[3],
        warm=means[4],
        inversion=means[5],
        stretch=np.asarray(found // count - 1, dtype=float),
        width_s=intervals.width_s,
    )


def seen_on_ground(
    recording: Recording,
    stretches: Sequence[Stretch],
    intervals: Intervals,
    value: Array,
    parts: tuple[Array, Array],
) -> Observations:
    """Average what standing tells of the offset, apart for each stretch."""
    stretch = np.full(len(value), -1.0)
    for number, run in enumerate(stretches):
        stretch[run.fixes] = number
    fixes = marked((stretch >= 0) & np.isfinite(value))
    return _settled(
        _seen(
            recording, intervals, fixes=fixes, value=value, parts=parts, stretch=stretch
        )
    )


def _settled(seen: Observations) -> Observations:
    """Give all that was seen in one stand one place: fixes wander, baskets do not."""
    key = seen.stretch.astype(np.intp)
    found, means = _means(key, [seen.east_m, seen.north_m])
    at = np.searchsorted(found, key)
    return replace(seen, east_m=means[0][at], north_m=means[1][at])


def seen_by_gnss(
    recording: Recording, intervals: Intervals, x: Array, parts: tuple[Array, Array]
) -> Observations | None:
    """Average what GNSS tells of the offset; None where it tells nothing."""
    value = recording.gnss_alt_m - x
    fixes = marked(np.isfinite(value) & (intervals.number >= 0))
    if not fixes.size:
        return None
    nowhere = np.full(len(x), -1.0)
    return _seen(
        recording, intervals, fixes=fixes, value=value, parts=parts, stretch=nowhere
    )


def interval_means(
    intervals: Intervals, values: Array, good: NDArray[np.bool_]
) -> Array:
    """Return means over the intervals that hold good fixes, in order of time."""
    fixes = marked(good & (intervals.number >= 0))
    return _means(intervals.number[fixes], [values[fixes]])[1][0]


def joined(one: Observations, other: Observations) -> Observations:
    """Put observations on the ground and those by GNSS in one, in this order."""
    further = columns(other)
    both: dict[str, Any] = {
        name: np.append(own, further[name]) for name, own in columns(one).items()
    }
    return replace(one, **both)


def knots_of(recording: Recording, intervals: Intervals) -> Knots:
    """Return the middles of the intervals and the places there."""
    since = recording.time_s - recording.time_s[0]
    sigma = np.interp(intervals.centre_s, since, recording.terrain_sigma_m)
    return Knots(
        time_s=intervals.centre_s,
        east_m=np.interp(intervals.centre_s, since, recording.east_m),
        north_m=np.interp(intervals.centre_s, since, recording.north_m),
        terrain_sigma_m=sigma,
    )
