"""Invented flights with a known truth: what a balloon did, second by second.

The figures are common practice, no source: a balloon climbs and sinks at 2 to 5 m/s,
answers the burner after tens of seconds, drifts with the air around it, takes about ten
seconds to gain or lose half of a change in the wind, and drags to a stop.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator
from scipy.ndimage import gaussian_filter1d
from scipy.signal import lfilter, lfiltic

Array = NDArray[np.float64]
Terrain = Callable[[Array, Array], Array]
"""Elevation above mean sea level at east and north of the plane, all in metres."""

RESPONSE_S = 6.0
"""One sigma of the smoothing that stands for the balloon's inertia up and down."""
DRIFT_LAG_S = 12.0
"""Time constant with which a balloon takes up the wind's speed."""
SWING_PERIOD_S = 90.0
"""Typical period of the swing around a level that a pilot holds with the burner."""
FOLLOW_TERRAIN_BELOW_M = 60.0
"""Below this a pilot flies by the ground, far above it by the altimeter."""
TURNS = 6
"""Rounds in which path, terrain and launch point settle on each other."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wind:
    """Layers of wind, linear between them, turning and freshening slowly."""

    altitude_m: Array
    """(K,) above mean sea level, increasing."""
    speed_m_s: Array
    """(K,)."""
    toward_deg: Array
    """(K,) direction the air moves to, grid north; continuous, may exceed 360."""
    turn_deg_per_h: float = 0.0
    freshening_per_h: float = 0.0
    """Share by which all speeds grow in an hour."""

    def at(self, altitude_m: Array, since_s: Array) -> tuple[Array, Array]:
        """Return the east and north speed of the air, m/s."""
        hours = since_s / 3600.0
        speed = np.interp(altitude_m, self.altitude_m, self.speed_m_s)
        speed = speed * np.maximum(1.0 + self.freshening_per_h * hours, 0.2)
        toward = np.interp(altitude_m, self.altitude_m, self.toward_deg)
        angle = np.radians(toward + self.turn_deg_per_h * hours)
        return speed * np.sin(angle), speed * np.cos(angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class Approach:
    """The way past a target, in seconds relative to the moment of passing it."""

    target_east_m: float
    target_north_m: float
    miss_m: float = 0.0
    """Distance of the path from the target, positive to its right."""
    pass_m: float = 3.0
    """Height of the basket when passing."""
    lowest_m: float = 30.0
    """Lowest height of the basket on the way in, before the descent to the target."""
    lowest_before_s: float = 240.0
    """How long before passing the target that lowest point is reached."""
    descent_s: float = 60.0
    """How long before passing the target the last descent begins."""
    contact_s: float | None = None
    """When the basket touches the ground near the target; None for never."""
    contact_drag: float = 0.5
    """Share of the drift lost in that contact."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightPlan:
    """What a pilot sets out to do; heights are of the basket floor over the ground."""

    start_s: float
    """POSIX seconds, UTC, of the first instant of the truth."""
    stand_before_s: float = 600.0
    stand_after_s: float = 600.0
    car_before_s: float = 0.0
    """Ride to the launch place with the logger on."""
    car_after_s: float = 0.0
    """Retrieve with the logger on."""
    levels: tuple[tuple[float, float], ...] = ((900.0, 300.0),)
    """Seconds and height of each level held before the approach or the landing."""
    levels_after: tuple[tuple[float, float], ...] = ((600.0, 200.0),)
    """The same after the target; unused without an approach."""
    climb_m_s: float = 2.5
    sink_m_s: float = 2.5
    swing_m: float = 4.0
    """One sigma of the swing around a level, aloft."""
    drag_s: float = 10.0
    """How long the basket drags after touching down."""
    approach: Approach | None = None
    launch_east_m: float = 0.0
    """Launch place; with an approach it follows from the wind."""
    launch_north_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Truth:
    """What really happened; all arrays are (N,)."""

    time_s: Array
    """POSIX seconds, UTC, evenly spaced."""
    east_m: Array
    north_m: Array
    altitude_m: Array
    """Basket floor above mean sea level: `ground_m + height_m`."""
    ground_m: Array
    height_m: Array
    """Basket floor above the ground; 0 when standing."""
    launch_s: float
    """The basket leaves the ground for good."""
    landing_s: float
    """The basket touches the ground at the end."""
    pass_s: float | None
    """The path is nearest to the target."""
    contact_s: float | None
    """First touch of the ground near the target."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Course:
    """The flight in time alone: what does not depend on where it happens."""

    time_s: Array
    height_m: Array
    swing: Array
    launch_s: float
    landing_s: float
    pass_s: float | None


def random_wind(rng: np.random.Generator, *, ground_m: float) -> Wind:
    """Draw a morning wind: slow and steady at the ground, faster and veered aloft."""
    heights = np.array([0.0, 60.0, 200.0, 500.0, 1000.0, 2500.0])
    speed = np.cumsum(np.r_[rng.uniform(0.8, 2.0), rng.uniform(0.2, 1.8, 5)])
    veer = np.cumsum(np.r_[rng.uniform(0.0, 360.0), rng.normal(8.0, 12.0, 5)])
    return Wind(
        altitude_m=ground_m + heights,
        speed_m_s=speed,
        toward_deg=veer,
        turn_deg_per_h=float(rng.normal(0.0, 8.0)),
        freshening_per_h=float(rng.normal(0.05, 0.1)),
    )


def random_plan(
    rng: np.random.Generator, *, start_s: float, approach: Approach | None = None
) -> FlightPlan:
    """Draw the plan of an ordinary morning flight, with the approach as given."""
    before, after = int(rng.integers(1, 4)), int(rng.integers(1, 3))
    return FlightPlan(
        start_s=start_s,
        stand_before_s=float(rng.uniform(240.0, 1200.0)),
        stand_after_s=float(rng.uniform(180.0, 900.0)),
        levels=_random_levels(rng, before),
        levels_after=_random_levels(rng, after),
        climb_m_s=float(rng.uniform(1.5, 4.0)),
        sink_m_s=float(rng.uniform(1.5, 3.5)),
        swing_m=float(rng.uniform(2.0, 6.0)),
        drag_s=float(rng.uniform(3.0, 20.0)),
        approach=approach,
    )


def _random_levels(
    rng: np.random.Generator, count: int
) -> tuple[tuple[float, float], ...]:
    return tuple(
        (float(rng.uniform(240.0, 900.0)), float(rng.uniform(60.0, 600.0)))
        for _ in range(count)
    )


def fly(
    plan: FlightPlan,
    *,
    wind: Wind,
    terrain: Terrain,
    rng: np.random.Generator,
    step_s: float = 1.0,
) -> Truth:
    """Fly the plan in the wind over the terrain; the same generator, the same flight.

    With an approach the launch place is chosen so that the path passes the target at
    the stated distance, as pilots do who look for a field upwind.
    """
    course = _course(plan, rng, step_s)
    slow = _slowing(plan, course)
    east = np.full_like(course.time_s, _anchor(plan)[0])
    north = np.full_like(course.time_s, _anchor(plan)[1])
    for _ in range(TURNS):
        ground, height = _over(terrain, east, north, course)
        east, north = _drift(plan, course, wind, ground + height, slow)
    ride_east, ride_north = _rides(plan, course, rng)
    east, north = east + ride_east, north + ride_north
    ground, height = _over(terrain, east, north, course)
    return Truth(
        time_s=course.time_s,
        east_m=east,
        north_m=north,
        altitude_m=ground + height,
        ground_m=ground,
        height_m=height,
        launch_s=course.launch_s,
        landing_s=course.landing_s,
        pass_s=course.pass_s,
        contact_s=_contact_s(plan, course),
    )


def plan_from(
    plan: FlightPlan,
    *,
    distance_m: float,
    wind: Wind,
    terrain: Terrain,
    rng: np.random.Generator,
) -> FlightPlan:
    """Return the plan with its levels stretched to launch that far from the target.

    A distance shorter than the approach itself needs cannot be reached; then the
    shortest possible is returned.
    """
    if plan.approach is None:
        raise ValueError("a plan without an approach has no target to be far from")
    seed = int(rng.integers(2**32))
    target = plan.approach.target_east_m, plan.approach.target_north_m
    for _ in range(8):
        truth = fly(plan, wind=wind, terrain=terrain, rng=np.random.default_rng(seed))
        at = int(np.searchsorted(truth.time_s, truth.launch_s))
        have = np.hypot(truth.east_m[at] - target[0], truth.north_m[at] - target[1])
        cruise_s = sum(seconds for seconds, _ in plan.levels)
        assert truth.pass_s is not None
        pace = have / (truth.pass_s - truth.launch_s)
        factor = max(1.0 + (distance_m - have) / (pace * cruise_s), 0.05)
        levels = tuple((seconds * factor, height) for seconds, height in plan.levels)
        plan = replace(plan, levels=levels)
    return plan


def _anchor(plan: FlightPlan) -> tuple[float, float]:
    if plan.approach is None:
        return plan.launch_east_m, plan.launch_north_m
    return plan.approach.target_east_m, plan.approach.target_north_m


def _course(plan: FlightPlan, rng: np.random.Generator, step_s: float) -> _Course:
    """Lay the heights out in time: knots, a smooth curve, the pilot's swing."""
    launch = plan.car_before_s + plan.stand_before_s
    knots = [(launch, 0.0)]
    _levels(knots, plan.levels, plan)
    passing = None if plan.approach is None else _approach(knots, plan.approach, plan)
    if plan.approach is not None:
        _levels(knots, plan.levels_after, plan)
    clock, height = knots[-1]
    slow_from = min(height, 15.0)
    knots.append((clock + max(height - slow_from, 1.0) / plan.sink_m_s, slow_from))
    landing = knots[-1][0] + slow_from / 0.8
    end = landing + plan.drag_s + plan.stand_after_s + plan.car_after_s
    since = np.arange(0.0, end, step_s)
    knots = [(0.0, 0.0), *knots, (landing, 0.0), (landing + 6.0, -4.0), (end, -4.0)]
    curve, room = _curve(since, np.array(knots), step_s)
    if plan.approach is not None and passing is not None:
        last = plan.approach.lowest_before_s + 90.0  # no swing in the way in
        room = room * np.clip(np.abs(since - passing) / last - 0.5, 0.0, 1.0)
    swing = _swing(rng, len(since), step_s) * plan.swing_m * room
    return _Course(
        time_s=plan.start_s + since,
        height_m=curve,
        swing=swing,
        launch_s=plan.start_s + launch,
        landing_s=plan.start_s + landing,
        pass_s=None if passing is None else plan.start_s + passing,
    )


def _levels(
    knots: list[tuple[float, float]],
    levels: tuple[tuple[float, float], ...],
    plan: FlightPlan,
) -> None:
    """Append each level: the way there at the plan's rates, then the time on it."""
    for seconds, level in levels:
        clock, height = knots[-1]
        rate = plan.climb_m_s if level > height else plan.sink_m_s
        clock += max(abs(level - height) / rate, 5.0)
        knots += [(clock, level), (clock + seconds, level)]


def _approach(
    knots: list[tuple[float, float]], approach: Approach, plan: FlightPlan
) -> float:
    """Append the way in, past the target, and up again; return when it is passed."""
    clock, height = knots[-1]
    sink_s = max(abs(height - approach.lowest_m) / plan.sink_m_s, 10.0)
    passing = clock + sink_s + approach.lowest_before_s
    between = approach.lowest_m + 8.0
    knots += [
        (passing - approach.lowest_before_s, approach.lowest_m),
        (passing - 0.5 * (approach.lowest_before_s + approach.descent_s), between),
        (passing - approach.descent_s, between),
    ]
    low = [(passing - 8.0, approach.pass_m), (passing + 8.0, approach.pass_m)]
    if approach.contact_s is not None:
        touch = passing + approach.contact_s
        low = [knot for knot in low if abs(knot[0] - touch) > 10.0]
        low += [(touch - 6.0, 2.5), (touch + 2.0, -1.2), (touch + 8.0, 1.5)]
    knots += sorted(low)
    knots.append((knots[-1][0] + 12.0, knots[-1][1] + 8.0))
    return passing


def _curve(since: Array, knots: Array, step_s: float) -> tuple[Array, Array]:
    """Return the height curve and, 0 to 1, how much room there is for a swing."""
    raw = PchipInterpolator(knots[:, 0], knots[:, 1])(since)
    launch, landing = knots[1, 0], knots[-3, 0]
    aloft = (since >= launch) & (since < landing)
    soft = gaussian_filter1d(raw, RESPONSE_S / step_s, mode="nearest")
    near = np.clip(raw / 25.0, 0.0, 1.0)  # the pilot works more finely near the ground
    curve = np.where(aloft, near * soft + (1.0 - near) * raw, 0.0)
    room = np.clip((raw - 15.0) / 60.0, 0.0, 1.0) * aloft
    room = gaussian_filter1d(room, 20.0 / step_s, mode="nearest")
    return curve, room * np.clip(curve / 15.0, 0.0, 1.0)


def _swing(rng: np.random.Generator, count: int, step_s: float) -> Array:
    """Return noise of sigma 1 around the period with which a pilot burns."""
    angle = 2.0 * np.pi * step_s / SWING_PERIOD_S
    decay = np.exp(-step_s / (0.7 * SWING_PERIOD_S))
    poles = np.array([1.0, -2.0 * decay * np.cos(angle), decay**2])
    warm = int(4 * SWING_PERIOD_S / step_s)
    noise = lfilter([1.0], poles, rng.standard_normal(count + warm))[warm:]
    smooth = gaussian_filter1d(noise, RESPONSE_S / step_s, mode="nearest")
    return np.asarray(smooth / max(float(smooth.std()), 1e-9))


def _over(
    terrain: Terrain, east: Array, north: Array, course: _Course
) -> tuple[Array, Array]:
    """Return ground and height: by the ground when low, by the altimeter when high."""
    ground = np.asarray(terrain(east, north), dtype=np.float64)
    mean = gaussian_filter1d(ground, 120.0, mode="nearest")
    high = np.clip(course.height_m / FOLLOW_TERRAIN_BELOW_M - 1.0, 0.0, 4.0) / 4.0
    height = course.height_m + course.swing + high * (mean - ground)
    return ground, np.maximum(height, 0.0)


def _slowing(plan: FlightPlan, course: _Course) -> Array:
    """Return the share of the drift that the ground leaves the basket, 0 to 1."""
    time = course.time_s
    slow = np.where(time < course.launch_s, 0.0, 1.0)
    since = np.maximum(time - course.landing_s, 0.0)
    slow = slow * np.clip(1.0 - since / max(plan.drag_s, 1.0), 0.0, 1.0)
    touch = _contact_s(plan, course)
    if touch is not None and plan.approach is not None:
        after = time - touch
        lost = np.clip(after / 3.0, 0.0, 1.0)
        lost = lost * np.exp(-np.maximum(after - 4.0, 0.0) / DRIFT_LAG_S)
        slow = slow * (1.0 - plan.approach.contact_drag * lost)
    return slow


def _contact_s(plan: FlightPlan, course: _Course) -> float | None:
    """Return when the basket first touches near the target: the curve meets 0."""
    if plan.approach is None or plan.approach.contact_s is None:
        return None
    assert course.pass_s is not None
    wanted = course.pass_s + plan.approach.contact_s
    near = np.abs(course.time_s - wanted) < 12.0
    down = np.flatnonzero(near & (course.height_m <= 0.0))
    return float(course.time_s[down[0]]) if down.size else None


def _drift(
    plan: FlightPlan, course: _Course, wind: Wind, altitude_m: Array, slow: Array
) -> tuple[Array, Array]:
    """Return the path in the wind, moved to start or pass where the plan says."""
    time = course.time_s
    step_s = float(time[1] - time[0])
    keep = float(np.exp(-step_s / DRIFT_LAG_S))
    speed = []
    for air in wind.at(altitude_m, time - time[0]):
        state = lfiltic([1.0 - keep], [1.0, -keep], [air[0]])
        speed.append(lfilter([1.0 - keep], [1.0, -keep], air, zi=state)[0] * slow)
    path = [np.cumsum(part) * step_s for part in speed]
    at = course.launch_s if course.pass_s is None else course.pass_s
    here = int(np.searchsorted(time, at))
    aside = (0.0, 0.0)
    if plan.approach is not None:
        pace = max(float(np.hypot(speed[0][here], speed[1][here])), 1e-6)
        right = speed[1][here] / pace, -speed[0][here] / pace
        aside = plan.approach.miss_m * right[0], plan.approach.miss_m * right[1]
    anchor = _anchor(plan)
    return (
        path[0] - path[0][here] + anchor[0] + aside[0],
        path[1] - path[1][here] + anchor[1] + aside[1],
    )


def _rides(
    plan: FlightPlan, course: _Course, rng: np.random.Generator
) -> tuple[Array, Array]:
    """Return the shift of the path while the logger is driven there and back."""
    time = course.time_s
    start, end = time[0], time[-1]
    going = time - start < plan.car_before_s
    coming = end - time < plan.car_after_s
    step_s = float(time[1] - time[0])
    east, north = np.zeros_like(time), np.zeros_like(time)
    for riding, sign in ((going, -1.0), (coming, 1.0)):
        pace = 8.0 + 5.0 * _swing(rng, len(time), step_s)
        turn = rng.uniform(0.0, 2.0 * np.pi) + 0.8 * _swing(rng, len(time), step_s)
        pace = np.clip(pace, 0.0, 22.0) * riding
        for shift, part in ((east, np.sin(turn)), (north, np.cos(turn))):
            way = np.cumsum(pace * part) * step_s
            np.add(shift, way - way[-1] if sign < 0.0 else way, out=shift)
    return east, north
