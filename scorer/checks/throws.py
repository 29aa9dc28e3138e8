"""How markers fall beside tracks, learnt from the meet itself.

Three signs tell whether a mark is of a track: how far the track was from it; how much the
mark's distance from its target differs from how near the track came to that target, since
nearly everybody drops where he is nearest; and, where the time was noted, how far the
track was from it then.  Each is scaled by what carries a marker, height and wind, as far
as this flight's marks show it, and its usual size is taken from the middle and the
shoulders of all marks, which a few wrong ones do not move.  Within the half that is
nearer no mark fits better than another; beyond, chances fall off as an exponential does,
slower than those of most errors; and some right marks are odd whatever is usual.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from scorer.checks.base import PlacedMark
from scorer.checks.mark_track import Approaches, Passes
from scorer.tracks.flown import Array

LEAST_MARKS = 8
"""Fewer marks teach nothing."""
SHARES = (0.75, 0.9)
"""At which shares of the marks the tail is learnt: of those beyond, many are wrong ones
or odd ones, of which a tail that takes them in finds hardly any; ..."""
LEAST_BEYOND = 3
"""... where at least so many lie beyond."""
SUPPOSED = 8
"""So many marks of the usual throw are supposed beside those of the flight."""
USUAL_M, USUAL_AIM_M, USUAL_THEN_M = 8.0, 8.0, 12.0
"""Usual sizes before anything is learnt (our choice)."""
LEAST_M = 1.0
"""Tape and receiver differ by as much anyway."""
ODD = 0.002
"""A right mark that is this rare is an odd one: dropped early, or a watch far off."""
LEAST_ODD, MOST_ODD, SUPPOSED_ODD = 0.003, 0.03, 0.005
"""How many odd ones there are: at least, at most, and before anything is learnt."""
SUPPOSED_FOR_ODD = 100
UNKNOWN = 0.5
"""What speaks against a sign that one explanation has and another has not."""
ELSEWHERE_M = 1e5
"""How far a balloon was that was not in the air."""
FAR = 8.0
"""Odd ones lie so much farther off."""
HEIGHTS_M = (math.inf, 200.0, 80.0, 30.0)
SPEEDS_M_S = (math.inf, 6.0, 2.5)
"""A throw twice as wide from so high, or in such a wind."""
WATCHES_S = (1.0, 3.0, 6.0, 12.0, 25.0)
"""How far off noted times are, as far as the meet tells."""


class FallOff(NamedTuple):
    """How chances fall off on one side of a sign's usual value."""

    core: float
    """Half of the marks lie within: none of them fits better than another."""
    width: float
    """Beyond, chances fall to a third over so much."""


class Tail(NamedTuple):
    """A sign's usual value, and how often marks differ from it by how much."""

    middle: float
    low: FallOff
    high: FallOff
    odd: float = SUPPOSED_ODD
    """Share of odd ones, that differ by `FAR` times as much."""

    def wider(self, times: float) -> "Tail":
        """Return a tail with all differences so many times as great."""
        low, high = (
            FallOff(times * s.core, times * s.width) for s in (self.low, self.high)
        )
        return Tail(self.middle, low, high, odd=0.0)

    def log_density(self, values: Array) -> Array:
        """Return the logarithm of the density of values; NaN = a usual one."""
        if self.odd:
            parts = (
                (math.log1p(-self.odd), self._replace(odd=0.0)),
                (
                    math.log(self.odd),
                    self.wider(FAR),
                ),
            )
            return np.logaddexp(*(w + tail.log_density(values) for w, tail in parts))
        area = sum(side.core + side.width for side in (self.low, self.high))
        return np.nan_to_num(-self._beyond(values), nan=-UNKNOWN) - math.log(area)

    def chance(self, values: Array) -> Array:
        """Return how often a right mark that is not odd is as far off; NaN = 1."""
        beyond = self._beyond(values)
        told = np.where(beyond > 0.0, 0.5 * np.exp(-beyond), 1.0)
        return np.where(np.isfinite(values), told, 1.0)

    def _beyond(self, values: Array) -> Array:
        """Return how far values lie beyond the core, in widths."""
        off = values - self.middle
        core = np.where(off < 0.0, self.low.core, self.high.core)
        width = np.where(off < 0.0, self.low.width, self.high.width)
        return np.asarray(np.maximum(np.abs(off) - core, 0.0) / width)


class ThrowSigns(NamedTuple):
    """The three signs of marks beside tracks, metres; NaN = not known."""

    away: Array
    aim: Array
    then: Array
    then_m_s: Array
    speed_m_s: Array
    height_m: Array


class Stated(NamedTuple):
    """What is entered of marks beside their places; each (M,)."""

    within_m: Array
    noted: Array
    """Whether a time was noted."""
    aimed_m: Array
    """NaN = not known."""

    @classmethod
    def of(cls, marks: Sequence[PlacedMark]) -> "Stated":
        """Take it from marks."""
        aimed = (math.nan if m.aimed_m is None else float(m.aimed_m) for m in marks)
        return cls(
            within_m=np.array([mark.within_m for mark in marks]),
            noted=np.array([mark.time_s is not None for mark in marks]),
            aimed_m=np.array([*aimed]),
        )


def signs_of(marks: Sequence[PlacedMark], passes: Passes) -> ThrowSigns:
    """Return the signs of marks beside one track, each (M,)."""
    return signs_beside(Stated.of(marks), passes)


def signs_beside(own: Stated, passes: Passes) -> ThrowSigns:
    """Return the signs of marks, each beside the pass that stands with it."""
    then = np.minimum(passes.then_m, ELSEWHERE_M)
    return ThrowSigns(
        away=np.where(own.within_m > 0.0, math.nan, passes.nearest_m),
        aim=own.aimed_m - passes.aim_m,
        then=np.where(own.noted, then, math.nan),
        then_m_s=passes.then_m_s,
        speed_m_s=passes.speed_m_s,
        height_m=passes.height_m,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Throw:
    """How markers of one flight fall beside the tracks of their pilots."""

    away: Tail
    aim: Tail
    then: Tail
    height_m: float
    """A throw from so high goes twice as far."""
    speed_m_s: float
    watch_s: float
    """About how far noted times are off."""

    def broad(self, times: float) -> "Throw":
        """Return how markers would fall that lie so much farther off."""
        return replace(
            self,
            away=self.away.wider(times),
            aim=self.aim.wider(times),
            then=self.then.wider(times),
        )

    def scaled(self, signs: ThrowSigns) -> tuple[Array, Array, Array]:
        """Return the signs, each as from a low and slow balloon."""
        wide = _wide(signs, self.height_m, self.speed_m_s)
        late = wide + _late(signs, self.watch_s)
        return signs.away / wide, signs.aim / wide, signs.then / late

    def log_density(self, signs: ThrowSigns) -> Array:
        """Return how likely marks are of a track, natural logarithms."""
        away, aim, then = self.scaled(signs)
        return (
            self.away.log_density(away)
            + self.aim.log_density(aim)
            + self.then.log_density(then)
        )

    def chances(self, signs: ThrowSigns) -> Array:
        """Return how often each sign of a right mark is as far off; (3, M)."""
        tails = (self.away, self.aim, self.then)
        return np.array(
            [
                tail.chance(own)
                for tail, own in zip(tails, self.scaled(signs), strict=True)
            ]
        )


def learnt(own: ThrowSigns) -> Throw | None:
    """Learn how markers fall from the signs of a flight's marks; None = too few."""
    known = np.isfinite(own.away) | np.isfinite(own.aim)
    if known.sum() < LEAST_MARKS:
        return None
    height_m, speed_m_s = min(
        ((h, v) for h in HEIGHTS_M for v in SPEEDS_M_S),
        key=lambda pair: _cost(own, *pair),
    )
    wide = _wide(own, height_m, speed_m_s)
    watch_s = min(WATCHES_S, key=lambda s: _spread(own.then, wide + _late(own, s)))
    return Throw(
        away=_one_sided(own.away / wide, USUAL_M),
        aim=_two_sided(own.aim / wide, USUAL_AIM_M),
        then=_one_sided(own.then / (wide + _late(own, watch_s)), USUAL_THEN_M),
        height_m=height_m,
        speed_m_s=speed_m_s,
        watch_s=watch_s,
    )


def own_signs(
    marks: Sequence[PlacedMark], tracks: Mapping[int, Approaches]
) -> ThrowSigns:
    """Return the signs of each mark beside the track of its own pilot."""
    rows = np.full((6, len(marks)), np.nan)
    for k, mark in enumerate(marks):
        track = tracks.get(mark.pilot)
        if track is not None and track.passes is not None:
            rows[:, k] = [column[k] for column in track.passes]
    return signs_of(marks, Passes(*rows))


def _wide(signs: ThrowSigns, height_m: float, speed_m_s: float) -> Array:
    """Return how much wider throws are from a height and in a wind."""
    up = np.clip(np.nan_to_num(signs.height_m), 0.0, 400.0) / height_m
    return np.asarray(1.0 + up + np.nan_to_num(signs.speed_m_s) / speed_m_s)


def _late(signs: ThrowSigns, watch_s: float) -> Array:
    """Return how far a balloon goes while a watch is off, as shares of a usual throw."""
    return np.asarray(np.nan_to_num(signs.then_m_s) * watch_s / USUAL_THEN_M)


def _cost(signs: ThrowSigns, height_m: float, speed_m_s: float) -> float:
    wide = _wide(signs, height_m, speed_m_s)
    middle = np.nanmedian(signs.aim) if np.isfinite(signs.aim).any() else 0.0
    simple = 0.02 * (math.isfinite(height_m) + math.isfinite(speed_m_s))
    return _spread(signs.away, wide) + _spread(signs.aim - middle, wide) + simple


def _spread(values: Array, wide: Array) -> float:
    """Return how badly values fit once scaled: what an exponential's likelihood says."""
    known = np.isfinite(values)
    if known.sum() < LEAST_MARKS:
        return 0.0
    size, scale = np.abs(values[known]), wide[known]
    scaled = size / scale
    kept = scaled <= np.quantile(scaled, 0.9)
    return float(math.log(scaled[kept].mean()) + np.log(scale[kept]).mean())


def _one_sided(values: Array, usual_m: float) -> Tail:
    """Fit a sign that is never negative: its middle is 0."""
    known = values[np.isfinite(values)]
    return _with_odd(Tail(0.0, FallOff(0.0, 0.0), _side(known, usual_m)), known)


def _two_sided(values: Array, usual_m: float) -> Tail:
    """Fit a sign that goes both ways."""
    known = values[np.isfinite(values)]
    middle = float(np.median(known)) if known.size else 0.0
    low, high = (
        _side(side[side >= 0.0], usual_m) for side in (middle - known, known - middle)
    )
    return _with_odd(Tail(middle, low, high), known)


def _side(sizes: Array, usual_m: float) -> FallOff:
    """Return the half of the marks that is nearer, and the slope of the others."""
    supposed = -usual_m * np.log(1.0 - (np.arange(SUPPOSED) + 0.5) / SUPPOSED)
    every = np.r_[sizes, supposed]
    core = float(np.median(every))
    shares = [s for s in SHARES if (1.0 - s) * len(every) >= LEAST_BEYOND]
    slopes = [
        float(np.quantile(every, share) - core) / math.log(0.5 / (1.0 - share))
        for share in shares or SHARES[:1]
    ]
    return FallOff(max(LEAST_M, core), max(LEAST_M, *slopes))


def _with_odd(tail: Tail, known: Array) -> Tail:
    """Learn how many odd ones there are, whatever made them so."""
    odd = float((tail.chance(known) < ODD).sum()) + SUPPOSED_ODD * SUPPOSED_FOR_ODD
    share = odd / (len(known) + SUPPOSED_FOR_ODD)
    return tail._replace(odd=min(max(share, LEAST_ODD), MOST_ODD))
