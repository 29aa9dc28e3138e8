"""Whether a log is that of the pilot it was matched to.

Two signs, both seen only when the tracks of a flight are put side by side: two pilots'
logs show one and the same flight; or a pilot's marks all lie off the own track, and all
fit one other pilot's.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import in_air
from scorer.checks.mark_track import Marks
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import count, fact, log
from scorer.facts import pilot as pilot_value
from scorer.tracks.flown import Array, Flown

EVERY_S = 60.0
"""Tracks are compared at whole minutes."""
LEAST_TOGETHER = 10
"""Minutes both must have been in the air."""
SAME_M = 15.0
"""Two loggers in one basket differ by less than this in half of the minutes, ..."""
SAME_MOST_M = 40.0
"""... and by less than this in nine of ten; two balloons cannot."""
SAME_HEIGHT_M = 30.0
"""The same of altitudes, offsets of the sensors included."""
LEAST_MARKS = 2
"""So many marks off the own track and on another's make a wrong log likely."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trail:
    """One track at whole minutes, small enough to send between processes."""

    pilot: int
    log: str
    first_min: int
    """Whole minutes since the epoch of the first row."""
    points: NDArray[np.float32]
    """(K, 3) east, north, altitude from the event's first thousand kilometres on, so that
    float32 holds them to 0.1 m; NaN = not recorded."""


def trail_of(flown: Flown) -> Trail:
    """Return where a track was at each whole minute in the air."""
    columns = (flown.east_m % 1e6, flown.north_m % 1e6, flown.altitude_m)
    first, points = at_minutes(flown.time_s, in_air(flown), columns)
    return Trail(
        pilot=flown.pilot,
        log=flown.log,
        first_min=first,
        points=points.astype(np.float32),
    )


def at_minutes(
    time_s: Array, air: slice, columns: Sequence[Array]
) -> tuple[int, Array]:
    """Return columns at each whole minute in the air, (K, columns), and the first minute.

    Minutes count from the epoch; without two fixes in the air there is none.
    """
    time = time_s[air]
    if len(time) < 2:
        return 0, np.empty((0, len(columns)))
    first = int(np.ceil(time[0] / EVERY_S))
    minutes = np.arange(first, int(time[-1] // EVERY_S) + 1)
    points = [np.interp(minutes * EVERY_S, time, column[air]) for column in columns]
    return first, np.stack(points, axis=1)


def one_basket(gap: NDArray[np.floating]) -> NDArray[np.bool_]:
    """Tell, (...), whether tracks that differ by so much at whole minutes are one flight.

    `gap` is (..., K, 2) or (..., K, 3): east, north and, where it is known, altitude in
    metres; NaN where not both flew.
    """
    away = np.hypot(gap[..., 0], gap[..., 1])
    count = np.isfinite(away).sum(axis=-1)
    close = (away < SAME_M).sum(axis=-1) * 2 > count
    close &= (away < SAME_MOST_M).sum(axis=-1) * 10 >= count * 9
    if gap.shape[-1] > 2:
        level = np.abs(gap[..., 2])
        close &= (level < SAME_HEIGHT_M).sum(axis=-1) * 10 >= count * 9
    return np.asarray(close & (count >= LEAST_TOGETHER))


def check_same_flight(trails: Sequence[Trail], flight: str) -> tuple[Matter, ...]:
    """Warn of each pair of pilots whose logs show one and the same flight."""
    order = sorted((t for t in trails if len(t.points)), key=lambda t: (t.pilot, t.log))
    if len(order) < 2:
        return ()
    pairs = _same_pairs(_aligned(order))
    return tuple(
        _same_warning(order[i], order[k], flight)
        for i, k in pairs
        if order[i].pilot != order[k].pilot
    )


def _aligned(trails: Sequence[Trail]) -> NDArray[np.float32]:
    """Return all trails on the minutes any has, (tracks, minutes, 3), NaN outside each.

    Minutes that none has are left out: a log under a wrong date costs no room.
    """
    own = [t.first_min + np.arange(len(t.points)) for t in trails]
    minutes = np.unique(np.concatenate(own))
    together = np.full((len(trails), len(minutes), 3), np.nan, dtype=np.float32)
    for row, trail in zip(together, trails, strict=True):
        at = int(np.searchsorted(minutes, trail.first_min))
        row[at : at + len(trail.points)] = trail.points
    return together


def _same_pairs(together: NDArray[np.float32]) -> list[tuple[int, int]]:
    """Return the pairs of tracks that are one flight; one track against all at a time."""
    pairs = []
    for i in range(len(together) - 1):
        mine = together[i]
        known = np.isfinite(mine[:, 0])
        rest = together[i + 1 :, known]
        found = np.flatnonzero(one_basket(rest - mine[known]))
        pairs += [(i, i + 1 + int(k)) for k in found]
    return pairs


def _same_warning(one: Trail, other: Trail, flight: str) -> Matter:
    return Matter(
        kind=matters.LOG_PILOT,
        flight=flight,
        pilots=(other.pilot,),
        says=fact(
            "logs-of-one-flight",
            log=log(one.log),
            pilot=pilot_value(one.pilot),
            other_log=log(other.log),
            other=pilot_value(other.pilot),
        ),
    )


def check_log_owner(flight: Marks) -> tuple[Matter, ...]:
    """Warn of each pilot whose marks all miss the own track and all fit one other's."""
    found = []
    marks = defaultdict(list)
    for k, mark in enumerate(flight.marks):
        marks[mark.pilot].append(k)
    for pilot in sorted(flight.tracks):
        own = marks[pilot]
        if len(own) < LEAST_MARKS or any(flight.fits(k, pilot) for k in own):
            continue
        others = [
            p
            for p in sorted(flight.tracks)
            if p != pilot and all(flight.fits(k, p) for k in own)
        ]
        if len(others) == 1:
            found.append(_owner_warning(flight, pilot, others[0], len(own)))
    return tuple(found)


def _owner_warning(flight: Marks, pilot: int, other: int, marks: int) -> Matter:
    return Matter(
        kind=matters.LOG_PILOT,
        flight=flight.flight,
        pilots=(pilot,),
        says=fact(
            "marks-on-other-track",
            marks=count(marks),
            pilot=pilot_value(pilot),
            log=log(flight.tracks[pilot].log),
            other_log=log(flight.tracks[other].log),
            other=pilot_value(other),
        ),
    )
