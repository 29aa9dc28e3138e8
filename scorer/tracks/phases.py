"""One log: its recordings, stands and legs, and which of them is the flight to judge.

A log is cut into *recordings* where it pauses for long on the ground.  What lies between
two stands is a *leg*: a flight rises far above the terrain, a ride with the logger in a
car, or a walk, does not, and a car gathers and loses speed as no balloon can; who goes up
and comes down on the same spot is on a rope.  Flights that nothing but short stands part
are one.  Of several the one within the task's periods is judged, else that of the flight's
day, else the longest; all others, and rides and tethering, are left out and told.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
import scipy

from scorer.tracks.flown import Array, LeftOut, LogPart
from scorer.tracks.plain import diffs, marked, mean, median, usual_step
from scorer.tracks.stands import (
    MEAN_S,
    AveragedTrack,
    Stretch,
    filled,
    stretches_of,
    window_mean,
)

RIDE_M_S2 = 0.3
"""Root mean square of the sideways acceleration over 10 s: a car has more, a balloon,
some tonnes of air taken along by the wind, has less."""
CLEAR_M = 15.0
"""A flight rises at least this far above the ground ..."""
CLEAR_S = 20.0
"""... for at least this long."""
SURELY_ALOFT_M = 60.0
"""No error of terrain lifts a car that high over neighbouring stretches."""
LEFT_M = 1.5
"""The basket has left the ground when it is that high above its standing height."""
CARRIED_M = 300.0
"""A stretch farther away than this from the flight's end says nothing of the flight."""
ROPE_M = 90.0
"""Who stays within this of where it stood, not higher than `ROPE_TOP_M`, and comes down
there again, is on a rope: ropes are 20 to 50 m long (common practice, no source)."""
ROPE_TOP_M = 70.0
BACK_M = 40.0
HANGS_S = 60.0
"""Who is on a rope as a log begins or ends hangs there for at least this long."""
PAUSE_S = 1_800.0
PAUSE_STEPS = 10.0
"""A pause longer than both, the latter in usual steps, parts recordings ..."""
MOVING_M_S = 0.7
LEAST_PAUSED_M_S, MOST_PAUSED_M_S = 0.35, 60.0
"""... unless the logger moved before and after it, and as a balloon does meanwhile."""
STOP_S = 2_700.0
"""A longer stand parts two flights; a retry or a change of crew is shorter."""
RIDE_LEAST_M = 200.0
"""Shorter ways are walks about the field and not worth telling."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Phases:
    """What the log shows of standing and flying."""

    stretches: tuple[Stretch, ...]
    """Standing on the ground next to the flight or within it, in order of time."""
    launch: int | None
    """First fix in the air; None when the log does not show the launch."""
    landing: int | None
    """First fix on the ground again; None when the log does not show it."""
    span: Stretch | None = field(default=None, compare=False)
    """Fixes that may be judged; None = all."""
    left_out: tuple[LeftOut, ...] = field(default=(), compare=False)


NOTHING = Phases(stretches=(), launch=None, landing=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Which flight of a log is asked for."""

    periods: tuple[tuple[float, float], ...] = ()
    """Of the flight's tasks, POSIX seconds."""
    day: tuple[float, float] | None = None
    """The flight's local date."""


def find_phases(
    *,
    time_s: Array,
    east_m: Array,
    north_m: Array,
    altitude_m: Array,
    ground_m: Array,
    noise_m: float,
    terrain_m: float = 0.0,
    wanted: Wanted | None = None,
) -> Phases:
    """Find the flight to judge, its ground stretches, launch and landing.

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
    terrain_m : float
        By how much the ground may differ from `ground_m` from place to place, one sigma.
    wanted : Wanted, optional
        Which flight is asked for, where the log holds several.

    Returns
    -------
    Phases
        Empty and None where the log shows nothing of the kind.
    """
    if len(time_s) < 3 or not np.isfinite(altitude_m).any():
        return NOTHING
    whole = AveragedTrack(
        time_s=time_s,
        east_m=east_m,
        north_m=north_m,
        altitude_m=filled(time_s, altitude_m),
    )
    ground = filled(time_s, ground_m)
    legs: list[_Leg] = []
    for piece in _recordings(whole):
        legs += _Piece(whole, ground, ground_m, piece, noise_m, terrain_m).legs()
    flights = _flights(time_s, legs)
    if not flights:
        return _without_flight(legs, whole)
    return _judged(whole, legs, flights, wanted or Wanted())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Leg:
    """What lies between two stands of one recording."""

    part: LogPart
    fixes: Stretch
    before: Stretch | None
    """The stand it begins from; None = the recording begins in it."""
    after: Stretch | None
    piece: Stretch
    stands: tuple[Stretch, ...]
    """All of the recording."""
    launch: int | None = None
    landing: int | None = None


def _recordings(path: AveragedTrack) -> list[Stretch]:
    """Cut a log where it pauses for long, but not in the middle of the air."""
    time = path.time_s
    steps = diffs(time)
    wide = max(PAUSE_S, PAUSE_STEPS * float(median(steps)))
    cuts = [int(i) for i in marked(steps > wide) if not _moved_on(path, int(i))]
    ends = [-1, *cuts, len(time) - 1]
    return [Stretch(a + 1, b) for a, b in pairwise(ends)]


def _moved_on(path: AveragedTrack, at: int) -> bool:
    """Tell whether a balloon flew on through the pause after a fix."""
    time = path.time_s
    way = path.apart_m(at, at + 1) / (time[at + 1] - time[at])
    before = int(np.searchsorted(time, time[at] - 60.0))
    after = min(int(np.searchsorted(time, time[at + 1] + 60.0)), len(time) - 1)
    ends = [(before, at), (at + 1, after)]
    moving = [
        i < j and path.apart_m(i, j) > MOVING_M_S * (time[j] - time[i]) for i, j in ends
    ]
    return all(moving) and bool(LEAST_PAUSED_M_S < way < MOST_PAUSED_M_S)


class _Piece:
    """One recording of a log."""

    def __init__(  # noqa: PLR0917 - one log and a piece of it
        self,
        whole: AveragedTrack,
        ground: Array,
        known_m: Array,
        piece: Stretch,
        noise_m: float,
        terrain_m: float,
    ) -> None:
        cut = piece.fixes
        self.at = piece.first
        self.piece = piece
        self.noise_m = noise_m
        self.terrain_m = terrain_m
        self.raw = AveragedTrack(
            time_s=whole.time_s[cut],
            east_m=whole.east_m[cut],
            north_m=whole.north_m[cut],
            altitude_m=whole.altitude_m[cut],
        )
        time = self.raw.time_s
        raw = np.stack([self.raw.east_m, self.raw.north_m, self.raw.altitude_m])
        east, north, altitude = window_mean(time, raw, MEAN_S)
        self.path = AveragedTrack(
            time_s=time, east_m=east, north_m=north, altitude_m=altitude
        )
        self.level = self.path.altitude_m - ground[cut]
        self.raw_level = self.raw.altitude_m - known_m[cut]

    def legs(self) -> list[_Leg]:
        """Return the legs between the stands, numbered as in the whole log."""
        if len(self.raw.time_s) < 3:
            return []
        stands = stretches_of(
            self.raw, self.path, self.level, self.noise_m, self.terrain_m
        )
        if not stands:
            return [self._leg(None, None, (), self.level, self.level)]
        middles = np.array([0.5 * (run.first + run.last) for run in stands])
        bases = np.array([median(self.level[run.fixes]) for run in stands])
        base = np.interp(np.arange(len(self.level)), middles, bases)
        over = self.level - base
        raw = self.raw_level - base
        raw = np.where(np.isnan(raw), over, raw)
        ends = [None, *stands, None]
        legs = [self._leg(a, b, tuple(stands), over, raw) for a, b in pairwise(ends)]
        flights = sum(leg.part is LogPart.FLIGHT for leg in legs)
        return [self._off_the_rope(leg, over, flights) for leg in legs]

    def _off_the_rope(self, leg: _Leg, over: Array, flights: int) -> _Leg:
        """Take a log's first or last leg for a rope, where it hangs over one spot.

        Only beside a flight: a log may also begin in the air, just before a landing.
        """
        if leg.part is not LogPart.FLIGHT or flights < 2 or (leg.before and leg.after):
            return leg
        own = _moved(leg.fixes, -self.at)
        time = self.path.time_s
        if time[own.last] - time[own.first] < HANGS_S or not self._hangs(
            over[own.fixes], own
        ):
            return leg
        return replace(leg, part=LogPart.ROPE, launch=None, landing=None)

    def _leg(
        self,
        before: Stretch | None,
        after: Stretch | None,
        stands: tuple[Stretch, ...],
        over: Array,
        raw: Array,
    ) -> _Leg:
        first = 0 if before is None else before.last + 1
        last = len(over) - 1 if after is None else after.first - 1
        leg = Stretch(first, last)
        part = self._part(over, leg, before, after) if stands else LogPart.REST
        launch = landing = None
        if part is LogPart.FLIGHT and before is not None:
            launch = _left(raw, leg, self.noise_m, self._away_m(leg)) + self.at
        if part is LogPart.FLIGHT and after is not None:
            landing = _reached(raw, leg, self.noise_m) + self.at
        return _Leg(
            part=part,
            fixes=_moved(leg, self.at),
            before=before and _moved(before, self.at),
            after=after and _moved(after, self.at),
            piece=self.piece,
            stands=tuple(_moved(run, self.at) for run in stands),
            launch=launch,
            landing=landing,
        )

    def _part(
        self, over: Array, leg: Stretch, before: Stretch | None, after: Stretch | None
    ) -> LogPart:
        """Tell a flight from a ride, a walk and a rope."""
        if leg.last - leg.first < 2:
            return LogPart.REST
        time, high = self.path.time_s[leg.fixes], over[leg.fixes]
        fixes = max(int(CLEAR_S / max(usual_step(time), 0.1)), 1)
        held = scipy.ndimage.minimum_filter1d(high, fixes, mode="nearest").max()
        away = self._way_m(leg)
        grounded = LogPart.RIDE if away > RIDE_LEAST_M else LogPart.REST
        if time[-1] - time[0] < CLEAR_S or held < CLEAR_M:
            roped = high.max() > CLEAR_M / 3.0 and self._roped(high, leg, before, after)
            return LogPart.ROPE if roped else grounded
        if self._roped(high, leg, before, after):
            return LogPart.ROPE
        aloft = held >= SURELY_ALOFT_M + 3.0 * self.terrain_m
        flew = aloft or _jolt_m_s2(self.path, leg) < RIDE_M_S2
        return LogPart.FLIGHT if flew else grounded

    def _way_m(self, leg: Stretch) -> float:
        return float(self._away_m(leg).max())

    def _away_m(self, leg: Stretch) -> Array:
        """Return the distance of each fix from where the leg begins."""
        part = self.path
        return np.asarray(
            np.hypot(
                part.east_m[leg.fixes] - part.east_m[leg.first],
                part.north_m[leg.fixes] - part.north_m[leg.first],
            )
        )

    def _roped(
        self, high: Array, leg: Stretch, before: Stretch | None, after: Stretch | None
    ) -> bool:
        """Tell whether the balloon went up and came down on one spot."""
        if before is None or after is None:
            return False
        back = self.path.apart_m(before.last, after.first) < BACK_M
        return back and self._hangs(high, leg)

    def _hangs(self, high: Array, leg: Stretch) -> bool:
        low = float(high.max()) < ROPE_TOP_M + 3.0 * self.terrain_m
        return low and self._way_m(leg) < ROPE_M


def _moved(run: Stretch, by: int) -> Stretch:
    return Stretch(run.first + by, run.last + by)


def _flights(time: Array, legs: Sequence[_Leg]) -> list[list[_Leg]]:
    """Group the legs in the air: those that only short stands part are one flight."""
    groups: list[list[_Leg]] = []
    going_on = False
    for leg in legs:
        if leg.part is LogPart.FLIGHT:
            same = going_on and groups and _goes_on(time, groups[-1][-1], leg)
            if same:
                groups[-1].append(leg)
            else:
                groups.append([leg])
            going_on = True
        elif leg.part is not LogPart.REST:
            going_on = False
    return groups


def _goes_on(time: Array, one: _Leg, other: _Leg) -> bool:
    if one.piece != other.piece:
        return False
    return bool(time[other.fixes.first] - time[one.fixes.last] < STOP_S)


def _judged(
    path: AveragedTrack, legs: Sequence[_Leg], flights: list[list[_Leg]], wanted: Wanted
) -> Phases:
    """Return the flight that is asked for, and what was left out."""
    time = path.time_s
    own = max(flights, key=lambda group: _fit(time, group, wanted))
    first, final = own[0].fixes.first, own[-1].fixes.last
    piece = own[0].piece
    others = [leg for group in flights if group is not own for leg in group]
    rides = [leg for leg in legs if leg.part in {LogPart.RIDE, LogPart.ROPE}]
    begin = [leg.fixes.last for leg in others if leg.fixes.last < first]
    end = [leg.fixes.first for leg in others if leg.fixes.first > final]
    span = Stretch(
        max([piece.first, *(at + 1 for at in begin)]),
        min([piece.last, *(at - 1 for at in end)]),
    )
    told = sorted([*others, *rides], key=lambda leg: leg.fixes.first)
    return Phases(
        stretches=tuple(_neighbours(path, own[0].stands, first, final)),
        launch=own[0].launch,
        landing=own[-1].landing,
        span=span,
        left_out=tuple(_told(time, leg) for leg in told),
    )


def _without_flight(legs: Sequence[_Leg], path: AveragedTrack) -> Phases:
    """Return the stands alone, of the recording with most fixes."""
    if not legs:
        return NOTHING
    main = max(legs, key=lambda leg: leg.piece.last - leg.piece.first)
    some = main.piece != Stretch(0, len(path.time_s) - 1)
    return Phases(
        stretches=main.stands,
        launch=None,
        landing=None,
        span=main.piece if some else None,
    )


def _told(time: Array, leg: _Leg) -> LeftOut:
    first = leg.fixes.first if leg.launch is None else leg.launch
    last = leg.fixes.last if leg.landing is None else leg.landing
    return LeftOut(leg.part, float(time[first]), float(time[min(last, len(time) - 1)]))


def _fit(
    time: Array, group: Sequence[_Leg], wanted: Wanted
) -> tuple[float, float, float]:
    """Rank a flight: time within the tasks' periods, within the day, and as such."""
    start, end = float(time[group[0].fixes.first]), float(time[group[-1].fixes.last])

    def within(bounds: tuple[float, float]) -> float:
        return max(min(end, bounds[1]) - max(start, bounds[0]), 0.0)

    spans = wanted.periods
    whole = (min(a for a, _ in spans), max(b for _, b in spans)) if spans else None
    return (
        0.0 if whole is None else within(whole),
        0.0 if wanted.day is None else within(wanted.day),
        end - start,
    )


def _jolt_m_s2(path: AveragedTrack, leg: Stretch) -> float:
    """Return the root mean square of the sideways acceleration over 10 s."""
    time = path.time_s[leg.fixes]
    grid = np.arange(time[0], time[-1], MEAN_S)
    if len(grid) < 4:
        return 0.0
    parts = [
        np.diff(np.interp(grid, time, part[leg.fixes]), 2) / MEAN_S**2
        for part in (path.east_m, path.north_m)
    ]
    return float(np.sqrt(mean(parts[0] ** 2 + parts[1] ** 2)))


def _neighbours(
    path: AveragedTrack, stretches: Sequence[Stretch], first: int, final: int
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


def shifted(phases: Phases, by: int) -> Phases:
    """Return the phases counted from a later fix."""
    return replace(
        phases,
        stretches=tuple(_moved(run, -by) for run in phases.stretches),
        launch=None if phases.launch is None else phases.launch - by,
        landing=None if phases.landing is None else phases.landing - by,
        span=None,
    )


def _left(over: Array, leg: Stretch, noise_m: float, away_m: Array) -> int:
    """Return the first fix in the air: the last way up from standing height.

    Ways up and down on a rope before it do not count, nor hops on the spot.
    """
    high = over[leg.fixes]
    grounded = high < LEFT_M + noise_m
    clear = int(np.argmax(high > 5.0 + 2.0 * noise_m))
    gone = marked((away_m > ROPE_M) & ~grounded)
    if gone.size and gone[0] > clear:
        clear = int(gone[0])
    low = marked(grounded[:clear])
    return leg.first + (int(low[-1]) + 1 if low.size else 0)


def _reached(over: Array, leg: Stretch, noise_m: float) -> int:
    """Return the first fix on the ground after the last time clear of it."""
    high = over[leg.fixes]
    clear = len(high) - 1 - int(np.argmax(high[::-1] > 5.0 + 2.0 * noise_m))
    low = marked(high[clear:] < LEFT_M - 0.5 + noise_m)
    return leg.first + (clear + int(low[0]) if low.size else len(high))
