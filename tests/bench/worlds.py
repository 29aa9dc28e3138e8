"""Invented flights in worlds of known truth: real air, real ground, honest troubles.

Nothing here knows the estimator.  The air is a column of given temperatures integrated by
the hydrostatic equation (g and R of ICAO Doc 7488), turned into pressure altitude by the
standard atmosphere's formula; the ground is a sum of waves of a given slope, of which the
event is given a grid with its own posts, rounding and errors; the flight itself is flown by
`scorer.practice.flights`.  Sizes of sensor errors are those makers state; see `sensors`.
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy.signal import lfilter

from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground, Terrain
from scorer.practice.flights import Approach, Wind, fly, random_plan, random_wind
from scorer.tracks.columns import rows
from scorer.tracks.track import Datum, Track

CRS = "EPSG:25830"
CENTRE = np.array([400_000.0, 4_600_000.0])
PLANE = Plane(CRS)
HALF_M = 16_000.0
START_S = 1_789_192_800.0
"""2026-09-12 06:00 UTC."""
G_M_S2, R_J_KG_K = 9.80665, 287.05287
MOUNT_M, MOUNT_SD_M = 1.0, 0.15


@dataclass(frozen=True, kw_only=True)
class World:
    """One place on one morning."""

    name: str
    base_m: float = 400.0
    slope: float = 0.02
    """Root mean square slope of the ground."""
    wave_m: float = 1500.0
    cell_m: float = 10.0
    grid_error_m: float = 0.0
    grid_error_length_m: float = 400.0
    whole_metres: bool = False
    fixed_m: float | None = None
    """No grid: one stated elevation."""
    hole: float | None = None
    """No data within so many metres round the target."""
    surface_c: float | None = None
    """Air at the ground; None = standard."""
    inversion_k: float = 1.0
    inversion_top_m: float = 150.0
    trend_hpa_h: float = 0.2
    qnh_hpa: float = 1016.0
    undulation_m: float = 47.0
    troubles: tuple[str, ...] = ()
    lag_s: float = 0.5


@dataclass(frozen=True, kw_only=True)
class Log:
    """A log and the truth behind it."""

    track: Track
    trouble: str
    launch_s: float
    launch_at: tuple[float, float]
    landing_s: float
    lowest_s: float
    lowest_m: float
    """Basket over the true ground, lowest on the way in."""
    way_in: tuple[float, float]
    """From when to when."""
    contact_s: float | None
    pass_m: float
    time_s: np.ndarray
    """Of the truth of this task's flight."""
    height_m: np.ndarray
    east_m: np.ndarray
    north_m: np.ndarray
    altitude_m: np.ndarray
    launched: bool
    """The log shows a stand of 60 s or more before the launch."""
    landed: bool
    """The log shows a stand of 60 s or more after the landing."""
    wind: Wind
    """All balloons of a world fly in the same."""


ALL_TROUBLES = (
    "yesterday",
    "cars",
    "tether",
    "lag",
    "spikes",
    "phone",
    "aloft",
    "pause",
    "none",
)
WORLDS = {
    w.name: w
    for w in (
        World(name="plain"),
        World(name="troubles", troubles=ALL_TROUBLES),
        World(name="hills", slope=0.15, wave_m=1200.0, cell_m=10.0, surface_c=20.0),
        World(
            name="coarse", slope=0.06, cell_m=30.0, whole_metres=True, grid_error_m=2.0
        ),
        World(name="coarse-float", slope=0.06, cell_m=30.0, grid_error_m=2.0),
        World(
            name="high",
            base_m=2300.0,
            slope=0.15,
            wave_m=1400.0,
            cell_m=90.0,
            whole_metres=True,
            grid_error_m=2.0,
            surface_c=12.0,
        ),
        World(name="cold", surface_c=-15.0, trend_hpa_h=1.5, inversion_k=4.0),
        World(name="hot", surface_c=35.0, trend_hpa_h=-1.5),
        World(name="inversion", inversion_k=9.0, inversion_top_m=220.0),
        World(name="fixed", slope=0.02, wave_m=2500.0, fixed_m=400.0),
        World(name="hole", hole=500.0),
    )
}


class Land:
    """Waves of ground, and the grid of them that the event is given."""

    def __init__(self, world, rng):
        self.world = world
        count = 24
        length = world.wave_m * rng.uniform(0.6, 1.8, count)
        angle = rng.uniform(0.0, 2.0 * np.pi, count)
        self.k = 2 * np.pi / length * np.array([np.sin(angle), np.cos(angle)])
        self.phase = rng.uniform(0.0, 2.0 * np.pi, count)
        # rms slope of sum a cos(k x + p) is sqrt(sum a^2 k^2 / 2)
        self.a = world.slope * np.sqrt(2.0 / count) / np.hypot(*self.k)
        self.error = None
        if world.grid_error_m:
            n = 60
            self.ek = rng.normal(size=(2, n)) / world.grid_error_length_m
            self.ep = rng.uniform(0.0, 2.0 * np.pi, n)

    def __call__(self, east, north):
        angle = np.multiply.outer(np.asarray(east) - CENTRE[0], self.k[0])
        angle += (
            np.multiply.outer(np.asarray(north) - CENTRE[1], self.k[1]) + self.phase
        )
        return self.world.base_m + np.cos(angle) @ self.a

    def ground(self):
        world = self.world
        if world.fixed_m is not None:
            return Ground(None, world.fixed_m)
        cell = world.cell_m
        count = int(2 * HALF_M / cell)
        at = (np.arange(count) + 0.5) * cell - HALF_M
        data = world.base_m + _waves(at, -at, self.k, self.phase, self.a)
        if world.grid_error_m:
            size = np.full(len(self.ep), world.grid_error_m * np.sqrt(2 / len(self.ep)))
            data += _waves(at, -at, self.ek, self.ep, size)
        data = data.astype(np.float32)
        if world.whole_metres:
            data = np.round(data)
        if world.hole is not None:
            away = np.hypot(at[None, :], at[:, None])
            data[away < world.hole] = np.nan
        west, north = CENTRE[0] - HALF_M, CENTRE[1] + HALF_M
        return Ground(
            Terrain(data=data, affine=(cell, 0.0, west, 0.0, -cell, north), crs=CRS),
            None,
        )


def _waves(east, north, k, phase, size):
    """Sum of size cos(k . x + phase) on a grid, rows from north: a product of two."""
    across = np.exp(1j * np.multiply.outer(k[0], east))
    along = size * np.exp(1j * (np.multiply.outer(north, k[1]) + phase))
    return along.real @ across.real - along.imag @ across.imag


def pressure_hpa(world, altitude_m, hours):
    """Pressure of a real column: hydrostatic equation over the world's temperatures."""
    z = np.arange(world.base_m - 1200.0, world.base_m + 3500.0, 5.0)
    up = z - world.base_m
    standard = 15.0 - 0.0065 * world.base_m
    aloft = standard if world.surface_c is None else world.surface_c
    if world.surface_c is not None:
        aloft += world.inversion_k
    kelvin = 273.15 + aloft - 0.0065 * up
    kelvin -= world.inversion_k * np.clip(1.0 - up / world.inversion_top_m, 0.0, 1.3)
    rate = G_M_S2 / (R_J_KG_K * kelvin)
    log = -np.r_[0.0, np.cumsum(0.5 * (rate[1:] + rate[:-1]) * 5.0)]
    # QNH ties the ground's pressure to the standard atmosphere
    start = world.qnh_hpa * (1.0 - 0.0065 * world.base_m / 288.15) ** 5.25588
    log += np.log(start) - np.interp(world.base_m, z, log)
    return np.exp(np.interp(altitude_m, z, log)) + world.trend_hpa_h * hours


def pressure_altitude_m(hpa):
    return 288.15 / 0.0065 * (1.0 - (hpa / 1013.25) ** (1.0 / 5.25588))


def wander(since, sigma, tau, rng):
    grid = np.arange(since[0], since[-1] + 2.0, 1.0)
    keep = np.exp(-1.0 / tau)
    drive = rng.standard_normal(len(grid)) * sigma * np.sqrt(1.0 - keep**2)
    drive[0] = rng.standard_normal() * sigma
    return np.interp(since, grid, lfilter([1.0], [1.0, -keep], drive))


def flight_of(
    rng, world, land, start_s, *, contact, target=(0.0, 0.0), wind=None, **changes
):
    own = random_wind(rng, ground_m=world.base_m)
    wind = own if wind is None else wind
    approach = Approach(
        target_east_m=CENTRE[0] + target[0],
        target_north_m=CENTRE[1] + target[1],
        miss_m=float(rng.uniform(-60.0, 60.0)),
        pass_m=float(rng.uniform(1.2, 4.0)),
        lowest_m=float(rng.uniform(15.0, 60.0)),
        lowest_before_s=float(rng.uniform(180.0, 400.0)),
        contact_s=float(rng.uniform(12.0, 25.0)) if contact else None,
    )
    plan = random_plan(rng, start_s=start_s, approach=approach)
    plan = replace(
        plan,
        levels=plan.levels[:2],
        levels_after=plan.levels_after[:1],
        stand_before_s=float(rng.uniform(90.0, 900.0)),
        stand_after_s=float(rng.uniform(60.0, 600.0)),
        **changes,
    )
    return plan, fly(plan, wind=wind, terrain=land, rng=rng)


def tethering(truth, rng):
    """Up and down on a rope before the launch: 3 to 6 minutes, to 12 to 30 m."""
    top, lasts = rng.uniform(12.0, 30.0), rng.uniform(180.0, 360.0)
    end = truth.launch_s - rng.uniform(60.0, 120.0)
    since = truth.time_s - (end - lasts)
    shape = np.clip(np.minimum(since, lasts - since) / 25.0, 0.0, 1.0)
    shape = shape * (1.0 - 0.3 * np.sin(since / 17.0) ** 2)
    shape *= top
    swing = 0.35 * shape
    east = truth.east_m + swing * np.sin(since / 21.0)
    north = truth.north_m + swing * np.cos(since / 21.0) * (shape > 0)
    return replace(
        truth,
        height_m=truth.height_m + shape,
        east_m=east,
        north_m=north,
        altitude_m=truth.altitude_m + shape,
    )


def record(truths, world, rng, *, lag_s, phone=False, spikes=False, step_s=1):
    """What a logger writes of one or several flights, one after the other."""
    time = np.concatenate([t.time_s for t in truths])
    east, north, altitude = (
        np.concatenate([getattr(t, n) for t in truths])
        for n in ("east_m", "north_m", "altitude_m")
    )
    mount = np.clip(rng.normal(MOUNT_M, MOUNT_SD_M), 0.5, 1.5)
    altitude = altitude + mount
    since = time - time[0]
    kept = np.arange(0, len(time), step_s)
    hours = (time - START_S) / 3600.0
    high = pressure_altitude_m(pressure_hpa(world, altitude, hours))
    if lag_s > 0.0:
        keep = np.exp(-1.0 / lag_s)
        high = lfilter([1.0 - keep], [1.0, -keep], high - high[0]) + high[0]
    noise = rng.uniform(0.2, 0.45)
    high = high + rng.normal(0.0, 10.0) + rng.normal(0.0, 0.8) * hours
    high = high + wander(since, rng.uniform(0.2, 0.6), 3600.0, rng)
    high = high + wander(since, noise, rng.uniform(5.0, 25.0), rng)
    if spikes:
        for at in rng.integers(30, len(time) - 30, 8):
            high[at : at + int(rng.integers(1, 4))] += rng.choice(
                [-1, 1]
            ) * rng.uniform(15, 90)
    ellipsoid = rng.random() < 0.5
    gnss = altitude + rng.normal(0.0, 1.0) + (world.undulation_m if ellipsoid else 0.0)
    gnss = gnss + wander(since, rng.uniform(1.5, 4.0), rng.uniform(60.0, 250.0), rng)
    gnss = gnss + rng.normal(0.0, 1.5) + 0.4 * rng.standard_normal(len(since))
    sideways = rng.uniform(1.0, 2.5)
    lat, lon = PLANE.to_wgs84(
        (east + wander(since, sideways, 120.0, rng))[kept],
        (north + wander(since, sideways, 120.0, rng))[kept],
    )
    return Track(
        name="x.igc",
        sha256="ab" * 32,
        format="igc",
        time_s=np.round(time[kept]),
        lat_deg=np.round(lat * 60_000.0) / 60_000.0,
        lon_deg=np.round(lon * 60_000.0) / 60_000.0,
        gnss_alt_m=np.round(gnss[kept]),
        gnss_datum=Datum.ELLIPSOID if ellipsoid else Datum.GEOID,
        pressure_alt_m=np.array([]) if phone else np.round(high[kept]),
        valid_3d=np.ones(len(kept), bool),
        accuracy_m=np.round(sideways * rng.uniform(0.8, 1.3, len(kept))),
    )


def make_log(world, land, seed, number):
    rng = np.random.default_rng([seed, number, 5])
    trouble = world.troubles[number % len(world.troubles)] if world.troubles else "none"
    changes = {}
    if trouble == "cars":
        changes = {"car_before_s": 500.0, "car_after_s": 500.0}
    start = START_S + rng.uniform(0.0, 900.0)
    wind = random_wind(np.random.default_rng([seed, 9]), ground_m=world.base_m)
    plan, truth = flight_of(
        rng, world, land, start, contact=number % 3 == 0, wind=wind, **changes
    )
    truths = [truth]
    if trouble == "tether":
        truths = [tethering(truth, rng)]
    if trouble in {"yesterday", "cars"}:
        back = 11.5 * 3600.0 if trouble == "yesterday" else 0.0
        if trouble == "yesterday":
            _, other = flight_of(
                rng, world, land, start - back, contact=True, target=(2500.0, -1800.0)
            )
            truths = [other, truth]
    log = record(
        truths,
        world,
        rng,
        step_s=int(rng.choice([1, 2, 3])),
        phone=trouble == "phone",
        lag_s=3.0 if trouble == "lag" else world.lag_s,
        spikes=trouble == "spikes",
    )
    if trouble == "aloft":
        log = rows(
            log,
            (log.time_s > truth.launch_s + 90) & (log.time_s < truth.landing_s - 60),
        )
    if trouble == "pause":
        gap = truth.pass_s - rng.uniform(150.0, 420.0)
        log = rows(
            log, (log.time_s < gap) | (log.time_s > gap + rng.uniform(60.0, 320.0))
        )
    shown = rng.random()
    if trouble == "none" and shown < 0.1:  # switched on in the air
        log = rows(log, log.time_s > truth.launch_s + rng.uniform(20.0, 90.0))
    if trouble == "none" and shown > 0.9:  # switched off in the air
        log = rows(log, log.time_s < truth.landing_s - rng.uniform(5.0, 60.0))
    since = truth.time_s - truth.pass_s
    way = (since > -420.0) & (since < -60.0)
    low = int(np.argmin(np.where(way, truth.height_m, np.inf)))
    at = int(np.searchsorted(truth.time_s, truth.launch_s)) - 2
    log = replace(log, name=f"{number + 1:03}.igc", sha256=f"{number + 1:064x}")
    return Log(
        track=log,
        trouble=trouble,
        launch_s=truth.launch_s,
        launch_at=(truth.east_m[at], truth.north_m[at]),
        landing_s=truth.landing_s,
        lowest_s=truth.time_s[low],
        lowest_m=float(truth.height_m[low]),
        way_in=(truth.pass_s - 420.0, truth.pass_s - 60.0),
        contact_s=truth.contact_s,
        pass_m=plan.approach.pass_m,
        time_s=truth.time_s,
        height_m=truth.height_m,
        east_m=truth.east_m,
        north_m=truth.north_m,
        altitude_m=truth.altitude_m,
        launched=log.time_s[0] < truth.launch_s - 60.0,
        landed=log.time_s[-1] > truth.landing_s + plan.drag_s + 59.0,
        wind=wind,
    )


def make_world(name, seed, count):
    """Return a world, its ground, and logs with their truth."""
    world = WORLDS[name]
    land = Land(world, np.random.default_rng([seed, 1]))
    return world, land.ground(), [make_log(world, land, seed, n) for n in range(count)]
