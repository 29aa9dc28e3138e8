"""Fly everybody: plans by role, the flight itself, the drops, the logger's record."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from scorer.errors import ScorerError
from scorer.practice.casting import PilotPart
from scorer.practice.flights import Approach, FlightPlan, Truth, Wind, fly, plan_from
from scorer.practice.grounds import Grounds, Point
from scorer.practice.scenes import Aim, FlightScene, MeetSpec, Role
from scorer.practice.sensors import Logger, LoggerReading, random_logger, record

Array = NDArray[np.float64]

FLOOR_M = 22.86
"""75 ft: the minimum height of the invented meets."""
LAUNCH_M = 1_609.344
"""One mile: their least launch distance."""
SECOND_TARGET_M = 900.0
"""Way from the first target to the second."""
SECOND_HEIGHT_M = 24.0
"""Height at which the second target is reached, about."""
FALL_S = 1.1
"""Time a marker flies on with the basket's speed, about."""
TIMING_S = 2.0
"""One sigma of letting go too early or too late."""
GAP_S = 95.0
NEAR_LAUNCH_M = 1_420.0
FAR_ENOUGH_M = 1.15 * LAUNCH_M

_WIND_HEIGHTS_M = np.array([0.0, 30.0, 100.0, 250.0, 500.0, 1500.0])
_WIND_SPEEDS_M_S = np.array([1.4, 2.1, 3.1, 4.4, 5.6, 8.0])
_WIND_VEER_DEG = np.array([0.0, 3.0, 9.0, 18.0, 28.0, 45.0])
_TURN_DEG_PER_H = 6.0
_FRESHENING_PER_H = 0.06
_BASE_LOWEST_M = 32.0
_UNLUCKY = 0.15
"""Share of the pilots whom the wind carries far past the target."""
_AWAY_S = 700.0
_TRIES = 12
_STAND_S = 150.0
"""Least time on the ground at the end of a log of fixed length."""
_LOW_WORK_S = 900.0
"""Climbs, descents, the approach and standing after it, about."""
_LEAST_S = 2_400.0
# role: lowest height over the floor zone, width of the dip there in seconds
_DIPS: Mapping[Role, tuple[float, float]] = {
    Role.DEEP: (11.5, 18.0),
    Role.DEEP_SEEN: (9.0, 20.0),
    Role.SHALLOW: (20.6, 20.0),
    Role.BRIEF: (21.2, 5.0),
    Role.GRAZE: (24.4, 15.0),
}
_CONTACTS = frozenset({Role.CONTACT_SEEN, Role.CONTACT_LOGGED})
_NEARBY = frozenset({Role.WRONG_NUMBER, Role.DIFFER, Role.SETTLED})
"""Parts whose marker is taped, so it must lie within the measuring radius."""
_NO_MARKER = frozenset({Role.WIDE, Role.ABSENT})


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedFlight:
    """What everybody in one flight shares."""

    spec: MeetSpec
    scene: FlightScene
    grounds: Grounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """A marker where it came to lie."""

    task: int
    time_s: float
    """Of the throw, POSIX seconds, UTC."""
    point: Point


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sortie:
    """One pilot's flight as it really was, and what the logger wrote."""

    pilot: int
    role: Role
    truth: Truth | None
    """None = did not fly."""
    reading: LoggerReading | None
    """None = no log."""
    drops: tuple[Drop, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WindAndClock:
    """The wind and the clock of one flight."""

    wind: Wind
    since_s: float
    """Start of the launch period: the wind is as stated then."""
    until_s: float

    def seen_from(self, start_s: float) -> Wind:
        """Return the same wind for a truth that begins at `start_s`."""
        hours = (start_s - self.since_s) / 3600.0
        wind = self.wind
        return replace(
            wind,
            toward_deg=wind.toward_deg + wind.turn_deg_per_h * hours,
            speed_m_s=wind.speed_m_s * (1.0 + wind.freshening_per_h * hours),
        )


def local_s(date: str, clock: str, time_zone: str) -> float:
    """Return POSIX seconds of a local time."""
    moment = datetime.fromisoformat(f"{date}T{clock}")
    return moment.replace(tzinfo=ZoneInfo(time_zone)).timestamp()


def air_of(scene: FlightScene, spec: MeetSpec) -> WindAndClock:
    """Return the air of a flight."""
    start, end = (local_s(scene.date, t, spec.time_zone) for t in scene.launch_period)
    wind = Wind(
        altitude_m=spec.land.elevation_m + _WIND_HEIGHTS_M,
        speed_m_s=scene.breeze * _WIND_SPEEDS_M_S,
        toward_deg=scene.toward_deg + _WIND_VEER_DEG,
        turn_deg_per_h=_TURN_DEG_PER_H,
        freshening_per_h=_FRESHENING_PER_H,
    )
    return WindAndClock(wind=wind, since_s=start, until_s=end)


def second_target(scene: FlightScene, first: Point) -> Point:
    """Return where a second target lies: downwind of the first."""
    toward = np.interp(SECOND_HEIGHT_M, _WIND_HEIGHTS_M, _WIND_VEER_DEG)
    angle = np.radians(scene.toward_deg + toward + 0.8 * _TURN_DEG_PER_H)
    return (
        float(np.round(first[0] + SECOND_TARGET_M * np.sin(angle))),
        float(np.round(first[1] + SECOND_TARGET_M * np.cos(angle))),
    )


def sortie(
    pilot: int, part: PilotPart, stage: SharedFlight, rng: np.random.Generator
) -> Sortie:
    """Fly one pilot in one flight."""
    role = part.role
    if role is Role.ABSENT:
        return Sortie(pilot=pilot, role=role, truth=None, reading=None)
    truth = _dipped(_flown(part, stage, rng), role)
    drops = () if role in _NO_MARKER else _drops(truth, part, stage, rng)
    logger = _logger(role, stage, rng)
    reading = None if role is Role.NO_LOG else record(truth, logger, rng=rng)
    if reading is not None and role is Role.GAP:
        reading = _with_gap(reading, truth)
    return Sortie(pilot=pilot, role=role, truth=truth, reading=reading, drops=drops)


def _flown(part: PilotPart, stage: SharedFlight, rng: np.random.Generator) -> Truth:
    """Fly a plan; launch as far away as the rules or the part ask, fit the log in."""
    spec = stage.spec
    air = air_of(stage.scene, spec)
    plan = _plan(part, stage, air, rng)
    wind, terrain = air.seen_from(plan.start_s), stage.grounds.valley.elevation_m
    if part.role is Role.NEAR:
        plan = plan_from(
            plan, distance_m=NEAR_LAUNCH_M, wind=wind, terrain=terrain, rng=rng
        )
    seed = int(rng.integers(2**32))
    for _ in range(_TRIES):
        truth = fly(plan, wind=wind, terrain=terrain, rng=np.random.default_rng(seed))
        late = _late_s(truth, spec)
        if (
            part.role is not Role.NEAR
            and _launch_m(truth, _aim(part, stage)) < FAR_ENOUGH_M
        ):
            plan = replace(plan, levels=_stretched(plan.levels, 1.3))
        elif late > 0.0:
            after = sum(seconds for seconds, _ in plan.levels_after)
            share = max(1.0 - (late + 30.0) / after, 0.1)
            plan = replace(plan, levels_after=_stretched(plan.levels_after, share))
        else:
            return truth if spec.fixes is None else _cut(truth, spec)
    raise ScorerError(
        f"no flight fits into {spec.fixes} fixes of {spec.sample_s} s: "
        f"ask for at least {_LEAST_S / spec.sample_s:.0f}"
    )


def _late_s(truth: Truth, spec: MeetSpec) -> float:
    """Return how much too late the landing is for a log of fixed length."""
    if spec.fixes is None:
        return 0.0
    end = truth.time_s[0] + spec.fixes * spec.sample_s
    return float(truth.landing_s + _STAND_S - end)


def _cut(truth: Truth, spec: MeetSpec) -> Truth:
    assert spec.fixes is not None
    count = (spec.fixes - 1) * spec.sample_s + 1
    arrays = ("time_s", "east_m", "north_m", "altitude_m", "ground_m", "height_m")
    return replace(truth, **{name: getattr(truth, name)[:count] for name in arrays})


def _plan(
    part: PilotPart, stage: SharedFlight, air: WindAndClock, rng: np.random.Generator
) -> FlightPlan:
    spec = stage.spec
    stand_s = float(rng.uniform(240.0, 420.0))
    launch_s = rng.uniform(air.since_s + 60.0, min(air.until_s, air.since_s + 1500.0))
    levels, after = _levels(stage.scene, rng)
    if part.role is Role.WIDE:
        after = _filling(after, _AWAY_S)  # to land outside the boundary
    stand_after_s = float(rng.uniform(180.0, 300.0))
    if spec.fixes is not None:
        aloft_s = spec.fixes * spec.sample_s - stand_s - _LOW_WORK_S
        levels, after = _filling(levels, 0.65 * aloft_s), _filling(after, 0.3 * aloft_s)
        stand_after_s += 0.25 * spec.fixes * spec.sample_s
        if part.role is Role.NEAR:
            stand_after_s += aloft_s
    return FlightPlan(
        start_s=float(np.floor(launch_s - stand_s)),
        stand_before_s=stand_s,
        stand_after_s=stand_after_s,
        levels=levels,
        levels_after=after,
        climb_m_s=float(rng.uniform(1.8, 3.5)),
        sink_m_s=float(rng.uniform(1.5, 3.0)),
        swing_m=float(rng.uniform(2.0, 5.0)),
        drag_s=float(rng.uniform(3.0, 15.0)),
        approach=_approach(part, stage, rng),
    )


def _levels(
    scene: FlightScene, rng: np.random.Generator
) -> tuple[tuple[tuple[float, float], ...], tuple[tuple[float, float], ...]]:
    """Draw the levels before and after the first target."""
    before = tuple(
        (float(rng.uniform(260.0, 480.0)), float(rng.uniform(70.0, 320.0)))
        for _ in range(int(rng.integers(1, 3)))
    )
    home = (float(rng.uniform(240.0, 420.0)), float(rng.uniform(60.0, 260.0)))
    if all(task.aim is Aim.FIRST for task in scene.tasks):
        return before, (home,)
    low = float(rng.uniform(16.0, 32.0))
    return before, ((float(rng.uniform(420.0, 480.0)), low), home)


def _approach(
    part: PilotPart, stage: SharedFlight, rng: np.random.Generator
) -> Approach:
    east, north = _aim(part, stage)
    miss = float(np.clip(rng.normal(0.0, 50.0), -160.0, 160.0))
    if part.role in _NEARBY:
        miss *= 0.4
    elif rng.random() < _UNLUCKY:
        miss = float(rng.choice([-1.0, 1.0]) * rng.uniform(100.0, 180.0))
    lowest, passing = float(rng.uniform(30.0, 60.0)), float(rng.uniform(2.5, 6.0))
    if part.role in _DIPS:
        lowest = _BASE_LOWEST_M
    elif part.role is Role.SWAPPED:
        miss, lowest, passing = part.side * float(rng.uniform(225.0, 265.0)), 45.0, 36.0
    elif part.role is Role.WIDE:
        miss, lowest, passing = part.side * float(rng.uniform(650.0, 850.0)), 70.0, 70.0
    touch = float(rng.uniform(-24.0, -18.0)) if part.role in _CONTACTS else None
    return Approach(
        target_east_m=east,
        target_north_m=north,
        miss_m=miss,
        pass_m=passing,
        lowest_m=lowest,
        lowest_before_s=float(rng.uniform(215.0, 255.0)),
        contact_s=touch,
        contact_drag=0.6,
    )


def _dipped(truth: Truth, role: Role) -> Truth:
    """Press the path down, smoothly, to the lowest height the role asks for."""
    if role not in _DIPS or truth.pass_s is None:
        return truth
    wanted, width_s = _DIPS[role]
    before = truth.pass_s - truth.time_s
    zone = np.flatnonzero((before > 190.0) & (before < 280.0))
    at = zone[np.argmin(truth.height_m[zone])]
    shape = np.exp(-0.5 * ((truth.time_s - truth.time_s[at]) / width_s) ** 2)
    height = truth.height_m - (truth.height_m[at] - wanted) * shape
    height = np.where(truth.height_m > 0.0, np.maximum(height, 0.0), truth.height_m)
    return replace(truth, height_m=height, altitude_m=truth.ground_m + height)


def _aim(part: PilotPart, stage: SharedFlight) -> Point:
    """Return the first place on the way that the pilot wants to pass."""
    return stage.grounds.points[part.target(stage.scene.tasks[0])]


def _drops(
    truth: Truth, part: PilotPart, stage: SharedFlight, rng: np.random.Generator
) -> tuple[Drop, ...]:
    assert truth.pass_s is not None
    since = truth.time_s - truth.pass_s
    near = np.abs(since) < 40.0
    later = (since > 60.0) & (truth.time_s < truth.landing_s)
    return tuple(
        Drop(
            task=task.number,
            **_drop(
                truth,
                near if task.aim is Aim.FIRST else later,
                stage.grounds.points[part.target(task)],
                rng,
            ),
        )
        for task in stage.scene.tasks
    )


def _drop(
    truth: Truth, when: NDArray[np.bool_], target: Point, rng: np.random.Generator
) -> dict[str, Any]:
    """Throw towards the target where the path is nearest; the marker flies on a little."""
    place = np.flatnonzero(when)
    path = np.column_stack([truth.east_m, truth.north_m])
    nearest = place[np.argmin(np.hypot(*(path[place] - target).T))]
    at = int(nearest) + int(np.round(rng.normal(0.0, TIMING_S)))
    flown = path[at] + FALL_S * (path[at] - path[at - 1])
    missing = np.array(target) - flown
    reach = float(np.hypot(*missing))
    throw = min(float(np.clip(rng.normal(6.0, 4.0), 0.0, 15.0)), reach)
    fallen = flown + missing / max(reach, 1e-9) * throw + rng.normal(0.0, 2.0, 2)
    return {
        "time_s": float(truth.time_s[at]),
        "point": (float(np.round(fallen[0], 3)), float(np.round(fallen[1], 3))),
    }


def _logger(role: Role, stage: SharedFlight, rng: np.random.Generator) -> Logger:
    scene, spec = stage.scene, stage.spec
    standard_c = 15.0 - 0.0065 * spec.land.elevation_m
    return replace(
        random_logger(rng),
        step_s=spec.sample_s,
        qnh_hpa=scene.qnh_hpa,
        warmer_k=scene.temperature_c - standard_c + float(rng.normal(0.0, 1.0)),
        has_baro=role is not Role.NO_BARO,
        dropouts=0,
    )


def _with_gap(reading: LoggerReading, truth: Truth) -> LoggerReading:
    """Take out a stretch of the record soon after launch."""
    start = truth.launch_s + 110.0
    keep = (reading.time_s < start) | (reading.time_s > start + GAP_S)
    arrays = {
        item.name: getattr(reading, item.name)[keep]
        for item in fields(reading)
        if item.name != "true"
    }
    return replace(reading, **arrays)


def _launch_m(truth: Truth, target: Point) -> float:
    at = int(np.searchsorted(truth.time_s, truth.launch_s))
    east, north = truth.east_m[at] - target[0], truth.north_m[at] - target[1]
    return float(np.hypot(east, north))


def _stretched(
    levels: tuple[tuple[float, float], ...], factor: float
) -> tuple[tuple[float, float], ...]:
    return tuple((seconds * factor, height) for seconds, height in levels)


def _filling(
    levels: tuple[tuple[float, float], ...], total_s: float
) -> tuple[tuple[float, float], ...]:
    """Stretch levels to last so long in all."""
    return _stretched(levels, max(total_s, 120.0) / sum(s for s, _ in levels))
