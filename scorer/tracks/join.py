"""One track of all logs of a pilot's flight: in turn, or laid over each other.

The leading log gives the track wherever it has fixes.  Another one of the same flight
fills its pauses and what it misses at the ends; one that goes on where the leading one
ends in the air (daily files of a long race) is put behind it.  Where both have fixes and
their heights cannot both be true, that is noted with the track.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.tracks.columns import columns, fixes_in
from scorer.tracks.flown import Array, Disputed, Flown, Moment, Sign
from scorer.tracks.impossible import spells
from scorer.tracks.plain import median
from scorer.tracks.prepare import Ready

PAUSE_S = 30.0
"""A pause of the leading log longer than this is filled."""
MOST_M_S = 60.0
"""Faster than that no balloon goes from one log to the next."""
TOGETHER_M = 100.0
"""Loggers in one basket are a receiver's error and a pause's guess apart."""
LONGEST_S = 6 * 3600.0
"""Logs farther apart than that are not put one behind the other."""
DISPUTED_SIGMAS = 4.0
"""Heights of two logs that lie farther apart contradict each other (our choice) ..."""
DISPUTED_S = 30.0
"""... in the median over this long: short spikes of one of them dispute nothing."""
CLOCKS_APART_S = 2.0
"""Two loggers stamp one moment so differently: in a descent that is a height."""


def parts_of(lead: Ready, others: Sequence[Ready]) -> list[Ready]:
    """Return the logs that make one track with the leading one, in their order."""
    own = [lead]
    left = list(others)
    while found := [r for r in left if any(_belongs(one, r) for one in own)]:
        own += found
        left = [r for r in left if not any(r is one for one in found)]
    return own[1:]


def _belongs(track: Ready, other: Ready) -> bool:
    """Tell whether another log shows the same flight, or goes on with it."""
    early, late = sorted((track, other), key=lambda one: float(one.time_s[0]))
    gap = float(late.time_s[0] - early.time_s[-1])
    if gap <= 0.0:
        return _together(early, late)
    if early.phases.landing is not None or late.phases.launch is not None:
        return False
    away = float(
        np.hypot(early.east_m[-1] - late.east_m[0], early.north_m[-1] - late.north_m[0])
    )
    return gap <= LONGEST_S and away < MOST_M_S * gap


def _together(one: Ready, other: Ready) -> bool:
    """Tell whether two logs were at one place while both recorded."""
    during = (other.time_s >= one.time_s[0]) & (other.time_s <= one.time_s[-1])
    time = other.time_s[during]
    if not time.size:
        return False
    off = [
        np.interp(time, one.time_s, mine) - theirs[during]
        for mine, theirs in (
            (one.east_m, other.east_m),
            (one.north_m, other.north_m),
        )
    ]
    return bool(median(np.hypot(*off)) < TOGETHER_M)


def joined(logs: Sequence[Flown]) -> Flown:
    """Return one track of logs that belong together, the leading one first."""
    track = logs[0]
    for other in logs[1:]:
        track = _with(track, other)
    return track


def _with(track: Flown, other: Flown) -> Flown:
    """Put into a track what another log has and it misses."""
    track = replace(track, disputed=(*track.disputed, *_disputed(track, other)))
    missing = _missing(track.time_s, other.time_s)
    both = dict.fromkeys((*track.marks, *other.marks))
    marks = tuple(sorted(both, key=lambda mark: mark.time_s))
    if not missing.any():
        return replace(track, marks=marks)
    time = np.r_[track.time_s, other.time_s[missing]]
    order = np.argsort(time, kind="stable")
    further = columns(other)
    arrays = {
        name: np.r_[own, further[name][missing]][order]
        for name, own in columns(track).items()
    }
    place = np.empty(len(order), dtype=int)
    place[order] = np.arange(len(order))

    def at(time_s: float) -> int:
        return int(np.searchsorted(arrays["time_s"], time_s))

    launch, lift_offs = track.launch, track.lift_offs
    source = track
    if launch is None and other.launch is not None:
        before = float(other.time_s[other.launch]) <= float(track.time_s[0]) + PAUSE_S
        if before:
            launch, lift_offs, source = other.launch, other.lift_offs, other
    landing, down, end = track.landing, track.touch_down, track
    if landing is None and other.landing is not None:
        index = min(other.landing, len(other) - 1)
        if float(other.time_s[index]) >= float(track.time_s[-1]) - PAUSE_S:
            landing, down, end = other.landing, other.touch_down, other
    return replace(
        track,
        **arrays,
        launch=None if launch is None else at(float(source.time_s[launch])),
        landing=None
        if landing is None
        else at(float(end.time_s[min(landing, len(end) - 1)])),
        lift_offs=tuple(_moved(one, source, at) for one in lift_offs),
        touch_down=None if down is None else _moved(down, end, at),
        stands=tuple(
            (int(place[first]), int(place[last])) for first, last in track.stands
        ),
        marks=marks,
        left_out=(*track.left_out, *other.left_out),
        anchored=track.anchored and other.anchored,
    )


def _moved(one: Moment, of: Flown, at: Callable[[float], int]) -> Moment:
    return replace(one, at=at(float(of.time_s[min(one.at, len(of) - 1)])))


def _missing(own_s: Array, other_s: Array) -> NDArray[np.bool_]:
    """Tell which times lie in pauses of a track, or before and after it."""
    after = np.searchsorted(own_s, other_s)
    before = np.maximum(after - 1, 0)
    inside = (after > 0) & (after < len(own_s))
    gap = own_s[np.minimum(after, len(own_s) - 1)] - own_s[before]
    return np.asarray(np.where(inside, gap > PAUSE_S, True) & ~np.isin(other_s, own_s))


def _disputed(track: Flown, other: Flown) -> tuple[Disputed, ...]:
    """Return where in the air another log of the basket shows other heights."""
    air = slice(track.launch or 0, track.landing)
    time, climb = track.time_s[air], track.climb_m_s[air]
    off, sigma = (
        np.interp(time, other.time_s, theirs)
        for theirs in (other.height_m, other.height_sigma_m)
    )
    off = off - track.height_m[air]
    both = ~_missing(other.time_s, time) & np.isfinite(off)
    if np.count_nonzero(both) < 2:
        return ()
    time = time[both]
    off = scipy.ndimage.median_filter(
        off[both], fixes_in(time, DISPUTED_S), mode="nearest"
    )
    doubt = np.hypot(sigma, track.height_sigma_m[air])
    doubt = np.hypot(doubt, CLOCKS_APART_S * climb)[both]
    where = np.abs(off) > DISPUTED_SIGMAS * doubt
    return spells(Sign.OTHER, other.log, time, off, where)
