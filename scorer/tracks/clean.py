"""Leave out what cannot be true in a track; record all of it."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from scorer.errors import Fault, InputError
from scorer.facts import Value, fact, inner, moment, several, span, speed
from scorer.tracks import barometer
from scorer.tracks.columns import rows
from scorer.tracks.flown import Array
from scorer.tracks.order import DAY_S, Index
from scorer.tracks.plain import marked
from scorer.tracks.track import Repair, Track
from scorer.units import EARTH_M

MAX_SPEED_M_S = 120.0
"""Faster than any jet stream carries a balloon; common practice, no source."""
SPEED_SLACK_M = 100.0
"""A step this small is never called a jump, however short the time."""
MAX_CLIMB_M_S = 30.0
"""Faster than any balloon climbs or falls; common practice, no source."""
CLIMB_SLACK_M = 40.0
"""An altitude step this small is never called a spike."""
LOWEST_M, HIGHEST_M = -1_000.0, 30_000.0
"""Altitudes beyond these are no balloon's: the shore of the Dead Sea less what pressure
adds, and well above the highest manned flight under hot air; common practice, no source."""
MAX_EXCURSION = 60
"""Fixes that can lie aside together and still be an excursion, not a move."""
CLOCK_GAP_S = DAY_S / 2
CLOCK_SHARE = 0.02
"""A recording within the log that lies over CLOCK_GAP_S from all others and holds a
smaller share of the fixes is a receiver without the right time."""
MAX_SPAN_S = 10 * DAY_S
"""Longest log that is one flight: the longest gas race took under five days (from
memory), and loggers are switched on early and off late.  Work grows with the span."""
MOST_WHILES = 5
"""So many times are told one by one."""
_ROUNDS = 50

Mask = NDArray[np.bool_]
Impossible = Callable[[Index, Index], Mask]
"""Tells for pairs of fixes (earlier, later) whether nobody gets from one to the other."""


def clean(track: Track, near_s: float | None = None) -> Track:
    """Return the track without impossible fixes and altitudes.

    Left out, each recorded as a repair: positions at exactly 0°/0°, stray recordings under
    a wrong clock, what does not fit into one `MAX_SPAN_S` around `near_s` (a moment of the
    flight, POSIX seconds; else where most fixes are), jumps that no balloon makes and that
    lead back; altitudes that spike or that no balloon reaches are removed while their
    fixes stay.  No value is altered.  Vectorised over fixes.

    A jump that does not lead back is recorded (`jump`) and left in: which side of it is
    wrong cannot be told.  Raises InputError when no fix is left.
    """
    track = _without(track, _at_zero(track), "null-position")
    track = _without(track, _astray(track.time_s), "clock-jump")
    far = _far_off(track.time_s, near_s)
    track = _without(track, far, "far-off", apart=span(MAX_SPAN_S))
    track = _without_jumps(track)
    for name, what in (("gnss_alt_m", "satellite"), ("pressure_alt_m", "pressure")):
        track = _without_beyond(track, name, what)
        track = _without_spikes(track, name, what)
    return _by_barometer(track)


def _without(track: Track, bad: Mask, kind: str, **values: Value) -> Track:
    if not bad.any():
        return track
    repair = _repair(kind, bad, track, **values)
    if bad.all():
        found = f"{len(track)} fixes, none of them usable ({repair.title})"
        raise InputError([Fault(where=track.name, found=found, allowed="a flight log")])
    return replace(rows(track, ~bad), repairs=(*track.repairs, repair))


def _repair(kind: str, bad: Mask, track: Track, **values: Value) -> Repair:
    start = moment(float(track.time_s[np.argmax(bad)]))
    return Repair(
        kind=kind,
        count=int(bad.sum()),
        first_line=None,
        values=(("start", start), *values.items()),
    )


def _at_zero(track: Track) -> Mask:
    zero: Mask = (track.lat_deg == 0) & (track.lon_deg == 0)
    return zero


def _far_off(time_s: Array, near_s: float | None) -> Mask:
    """Mark what lies outside one span: that around the flight, else the fullest one."""
    if time_s[-1] - time_s[0] <= MAX_SPAN_S:
        return np.zeros(len(time_s), dtype=bool)
    begin = np.nan if near_s is None else near_s - MAX_SPAN_S / 2
    if not ((time_s >= begin) & (time_s <= begin + MAX_SPAN_S)).any():
        held = np.searchsorted(time_s, time_s + MAX_SPAN_S, side="right")
        begin = time_s[int(np.argmax(held - np.arange(len(time_s))))]
    far: Mask = (time_s < begin) | (time_s > begin + MAX_SPAN_S)
    return far


def _astray(time_s: Array) -> Mask:
    """Mark the fixes of small groups that lie far from all others in time."""
    group = np.cumsum(np.diff(time_s, prepend=time_s[0]) > CLOCK_GAP_S)
    size = np.bincount(group)
    small = size < CLOCK_SHARE * len(time_s)
    astray: Mask = small[group]
    return astray


def _without_jumps(track: Track) -> Track:
    time, lat, lon = track.time_s, np.radians(track.lat_deg), np.radians(track.lon_deg)

    def impossible(i: Index, j: Index) -> Mask:
        # Haversine on a sphere: good to 0.6 %, far within the bound's meaning.
        half = (
            np.sin((lat[j] - lat[i]) / 2) ** 2
            + np.cos(lat[i]) * np.cos(lat[j]) * np.sin((lon[j] - lon[i]) / 2) ** 2
        )
        way_m = 2 * EARTH_M * np.arcsin(np.sqrt(np.minimum(half, 1)))
        too_far: Mask = way_m > SPEED_SLACK_M + MAX_SPEED_M_S * (time[j] - time[i])
        return too_far

    aside, open_ends = _excursions(len(track), impossible)
    if open_ends.size:
        behind = np.zeros(len(track), dtype=bool)
        behind[open_ends] = True
        jump = _repair("jump", behind, track)
        track = replace(track, repairs=(*track.repairs, jump))
    return _without(track, aside, "position-spike", faster=speed(MAX_SPEED_M_S))


def _without_beyond(track: Track, name: str, what: str) -> Track:
    alt = getattr(track, name)
    bad = (alt < LOWEST_M) | (alt > HIGHEST_M)
    return _removed(track, name, bad, f"{what}-altitude-beyond")


def _removed(track: Track, name: str, bad: Mask, kind: str, **values: Value) -> Track:
    """Remove altitudes while their fixes stay."""
    if not bad.any():
        return track
    kept = np.where(bad, np.nan, getattr(track, name))
    repairs = (*track.repairs, _repair(kind, bad, track, **values))
    return (
        replace(track, gnss_alt_m=kept, repairs=repairs)
        if name == "gnss_alt_m"
        else replace(track, pressure_alt_m=kept, repairs=repairs)
    )


def _without_spikes(track: Track, name: str, what: str) -> Track:
    alt = getattr(track, name)
    known = marked(~np.isnan(alt))
    time, height = track.time_s[known], alt[known]

    def impossible(i: Index, j: Index) -> Mask:
        step = np.abs(height[j] - height[i])
        too_high: Mask = step > CLIMB_SLACK_M + MAX_CLIMB_M_S * (time[j] - time[i])
        return too_high

    aside, _ = _excursions(len(known), impossible)
    bad = np.zeros(len(track), dtype=bool)
    bad[known[aside]] = True
    kind, faster = f"{what}-altitude-spike", speed(MAX_CLIMB_M_S)
    return _removed(track, name, bad, kind, faster=faster)


def _by_barometer(track: Track) -> Track:
    """Leave pressure altitudes out that are no barometer's; the receiver bridges them."""
    gnss = np.where(track.valid_3d, track.gnss_alt_m, np.nan)
    name, kind = "pressure_alt_m", "pressure-altitude"
    aside = barometer.spikes(track.time_s, track.pressure_alt_m)
    track = _removed(track, name, aside, f"{kind}-aside")
    lost = barometer.between_jumps(track.time_s, track.pressure_alt_m, gnss)
    track = _removed(track, name, lost, f"{kind}-jump", whiles=_whiles(track, lost))
    known = np.isfinite(track.pressure_alt_m)
    dead = known & (not barometer.alive(track.pressure_alt_m, gnss))
    return _removed(track, name, dead, f"{kind}-dead")


def _whiles(track: Track, where: Mask) -> Value:
    """Return from when to when something is so, the longest times of many."""
    edges = marked(np.diff(where, prepend=False, append=False))
    spans = [(track.time_s[a], track.time_s[b - 1]) for a, b in edges.reshape(-1, 2)]
    longest = sorted(spans, key=lambda one: one[0] - one[1])[:MOST_WHILES]
    return several(
        inner(fact("log-heights-while", start=moment(start), end=moment(end)))
        for start, end in sorted(longest)
    )


def _excursions(n: int, impossible: Impossible) -> tuple[Mask, Index]:
    """Mark short stretches that lie aside of the fixes before and after them.

        o o o       o o o        the stretch between two jumps is aside when the way
              x x                past it, from the last o before to the first o after,
                                 is possible; likewise a short stretch at either end

    Returns the mask (n,), and the fixes behind jumps that remain.
    """
    keep = np.arange(n)
    for _ in range(_ROUNDS):
        jumps = marked(impossible(keep[:-1], keep[1:])) + 1
        if not jumps.size:
            break
        aside = _aside(keep, jumps, impossible)
        if not aside.any():
            break
        keep = keep[~aside]
    mask = np.ones(n, dtype=bool)
    mask[keep] = False
    left = keep[1:][impossible(keep[:-1], keep[1:])]
    return mask, left


def _aside(keep: Index, jumps: Index, impossible: Impossible) -> Mask:
    """Mark, among the fixes kept so far, the stretches to leave out this round."""
    bounds = np.concatenate([[0], jumps, [len(keep)]])
    size = np.diff(bounds)
    before = np.concatenate([[np.iinfo(np.int64).max], size[:-1]])
    after = np.concatenate([size[1:], [np.iinfo(np.int64).max]])
    # Never two neighbours in one round, never a long stretch for a short one.
    lone = (size < before) & (size <= after) & (size <= MAX_EXCURSION)
    out = lone & _leads_back(keep, bounds, impossible)
    if out.any():
        return np.repeat(out, size)
    # Several stretches, each aside of the next: take neighbouring short ones as one.
    short = (size <= MAX_EXCURSION) & (size < size.max())
    edges = marked(np.diff(short, prepend=~short[:1]))
    joined = np.append(bounds[edges], len(keep))
    size = np.diff(joined)
    out = short[edges] & (size <= MAX_EXCURSION)
    out &= _leads_back(keep, joined, impossible)
    return np.repeat(out, size)


def _leads_back(keep: Index, bounds: Index, impossible: Impossible) -> Mask:
    """Tell for each stretch whether the way past it is possible; at the ends it is."""
    good = np.ones(len(bounds) - 1, dtype=bool)
    good[1:-1] = ~impossible(keep[bounds[1:-2] - 1], keep[bounds[2:-1]])
    return good
