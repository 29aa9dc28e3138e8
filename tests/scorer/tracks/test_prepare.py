"""From a cleaned track to a flight with heights: wiring, sensors, terrain."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from scorer.event.model import Blob
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground, Terrain
from scorer.tracks.clean import clean
from scorer.tracks.flown import LogMark, Sign
from scorer.tracks.height import LOGGER_ABOVE_GROUND_M
from scorer.tracks.prepare import flown_in, make_ready
from scorer.tracks.read import read_log
from scorer.tracks.track import Datum, Track
from tests.scorer.tracks.invented_logs import make_log, rolling

IGC = Path(__file__).parents[4] / "shared/data/igc"
EAST_M, NORTH_M = 400_000.0, 4_600_000.0
PLANE = Plane("EPSG:25830")


def grid(rounded=False):
    """The invented hills as a grid of 25 m."""
    east = np.arange(-15_000.0, 25_000.0, 25.0) + 12.5
    north = np.arange(25_000.0, -15_000.0, -25.0) - 12.5
    data = rolling(east[None, :], north[:, None]).astype(np.float32)
    return Terrain(
        data=np.round(data) if rounded else data,
        affine=(25.0, 0.0, EAST_M - 15_000.0, 0.0, -25.0, NORTH_M + 25_000.0),
        crs="EPSG:25830",
    )


HILLS = Ground(grid())


def track_of(log, **changes):
    reading = log.reading
    lat, lon = PLANE.to_wgs84(reading.east_m + EAST_M, reading.north_m + NORTH_M)
    values = {
        "name": "012.igc",
        "sha256": "ab" * 32,
        "format": "igc",
        "time_s": reading.time_s,
        "lat_deg": lat,
        "lon_deg": lon,
        "gnss_alt_m": reading.gnss_alt_m,
        "pressure_alt_m": reading.pressure_alt_m,
        "valid_3d": np.ones(len(lat), dtype=bool),
        "accuracy_m": reading.accuracy_m,
        "marks": (LogMark(time_s=float(reading.time_s[5]), label="1"),),
    }
    return Track(**{**values, **changes})


def prepared(track, ground=HILLS, **more):
    ready = make_ready(clean(track), plane=PLANE, ground=ground, **more)
    return flown_in(ready, 12, None)


@pytest.mark.parametrize("seed", range(6))
def test_a_flight_is_ready_for_the_checks(seed):
    log = make_log(seed)
    flown = prepared(track_of(log))

    error = flown.height_m - LOGGER_ABOVE_GROUND_M - log.basket_m
    assert flown.anchored
    assert np.abs(error / flown.height_sigma_m).mean() < 1.5
    assert abs(flown.time_s[flown.launch] - log.truth.launch_s) < 20.0
    assert abs(flown.time_s[flown.landing] - log.truth.landing_s) < 20.0
    np.testing.assert_allclose(flown.east_m - EAST_M, log.reading.east_m, atol=1e-3)
    np.testing.assert_allclose(flown.altitude_m, flown.ground_m + flown.height_m)


def test_what_the_log_says_is_passed_on_and_nothing_can_be_changed():
    track = track_of(make_log(1))
    flown = prepared(track)

    assert (flown.pilot, flown.log, flown.sha256) == (12, "012.igc", "ab" * 32)
    assert flown.marks == track.marks
    np.testing.assert_array_equal(flown.accuracy_m, track.accuracy_m)
    with pytest.raises(ValueError, match="read-only"):
        flown.height_m[0] = 0.0


def test_a_dead_barometer_is_not_used():
    """Recorders without one write 0 throughout: known from real logs."""
    log = make_log(2)
    dead = track_of(log, pressure_alt_m=np.zeros(len(log.reading.time_s)))
    absent = track_of(log, pressure_alt_m=np.full(len(log.reading.time_s), np.nan))

    one, other = prepared(dead), prepared(absent)

    np.testing.assert_array_equal(one.height_m, other.height_m)
    assert np.median(one.height_sigma_m) > 1.5


def test_a_barometer_in_a_closed_box_is_not_used():
    log = make_log(2)
    half = 300.0 + 0.5 * log.reading.pressure_alt_m

    flown = prepared(track_of(log, pressure_alt_m=half))

    assert np.median(flown.height_sigma_m) > 1.5


def test_fixes_the_receiver_called_flat_give_no_altitude():
    log = make_log(3)
    flat = np.zeros(len(log.reading.time_s), dtype=bool)
    wild = track_of(log, gnss_alt_m=log.reading.gnss_alt_m + 500.0, valid_3d=flat)

    flown = prepared(wild)

    off = flown.height_m - LOGGER_ABOVE_GROUND_M - log.basket_m
    assert np.abs(off / flown.height_sigma_m).mean() < 1.5


def test_a_grid_in_whole_metres_is_trusted_less():
    log = make_log(3)
    middle = len(log.reading.time_s) // 2

    fine = prepared(track_of(log))
    coarse = prepared(track_of(log), Ground(grid(rounded=True)))
    told = prepared(track_of(log), terrain_sigma_m=6.0)

    assert 2.0 < coarse.height_sigma_m[middle] < 5.0
    assert fine.height_sigma_m[middle] < coarse.height_sigma_m[middle]
    assert told.height_sigma_m[middle] > coarse.height_sigma_m[middle]


def test_one_elevation_serves_where_no_terrain_covers():
    track = track_of(make_log(3))

    plain = prepared(track, Ground(), ground_elevation_m=600.0)
    fallen_back = prepared(track, Ground(fallback_m=600.0))
    nothing = prepared(track, Ground())

    np.testing.assert_array_equal(plain.height_m, fallen_back.height_m)
    np.testing.assert_array_equal(plain.ground_m, 600.0)
    assert np.isnan(nothing.height_m).all()
    assert np.isfinite(nothing.altitude_m).all()
    assert not nothing.anchored


def test_a_datum_of_mean_sea_level_narrows_a_log_without_ground_stretch():
    log = make_log(3)
    time = log.reading.time_s
    flying = (time > log.truth.launch_s + 120.0) & (time < log.truth.landing_s - 90.0)
    whole = track_of(log)
    arrays = ("time_s", "lat_deg", "lon_deg", "gnss_alt_m", "pressure_alt_m")
    arrays += ("valid_3d", "accuracy_m")
    air = replace(
        whole,
        vertical_accuracy_m=np.empty(0),
        satellites=np.empty(0),
        **{name: getattr(whole, name)[flying] for name in arrays},
    )

    unknown = prepared(air)
    sea = prepared(replace(air, gnss_datum=Datum.GEOID))

    assert not sea.anchored
    assert sea.height_sigma_m.max() < 0.5 * unknown.height_sigma_m.min()


REAL = sorted(IGC.glob("*/*.igc")) if IGC.exists() else []


@pytest.mark.parametrize("path", REAL, ids=lambda path: path.stem)
def test_real_logs_are_prepared_without_fault(path):
    """Real logs of gliders (see the README beside them): any log must pass."""
    data = path.read_bytes()
    track = read_log(Blob(name=path.name, sha256="0" * 64, content=data))
    zone = int((np.median(track.lon_deg) + 180.0) // 6.0) + 1
    south = np.median(track.lat_deg) < 0.0
    plane = Plane(f"EPSG:{(32700 if south else 32600) + zone}")

    ready = make_ready(
        track,
        plane=plane,
        ground=Ground(),
        ground_elevation_m=float(np.nanmin(track.gnss_alt_m)),
    )
    flown = flown_in(ready, 1, None)

    assert np.isfinite(flown.height_m).all()
    assert (flown.height_sigma_m > 0.0).all()


@pytest.mark.parametrize(
    ("name", "launch_s", "landing_s"),
    [
        ("olsztyn", (20, 50), (17_690, 17_759)),
        ("new_zealand", (20, 60), (15_500, 15_622)),
    ],
)
def test_real_launches_and_landings_are_found(name, launch_s, landing_s):
    """igc_lib's own logs; times read off their speeds: standing, then gaining 10 m/s."""
    paths = [path for path in REAL if path.stem == name]
    if not paths:
        pytest.skip("reference data not beside the checkout")
    track = read_log(Blob(name=name, sha256="0" * 64, content=paths[0].read_bytes()))
    zone = int((np.median(track.lon_deg) + 180.0) // 6.0) + 1
    south = np.median(track.lat_deg) < 0.0

    ready = make_ready(
        track,
        plane=Plane(f"EPSG:{(32700 if south else 32600) + zone}"),
        ground=Ground(),
        ground_elevation_m=float(np.nanmin(track.gnss_alt_m)),
    )
    flown = flown_in(ready, 1, None)

    since = flown.time_s - flown.time_s[0]
    assert launch_s[0] <= since[flown.launch] <= launch_s[1]
    assert landing_s[0] <= since[flown.landing] <= landing_s[1]


def test_beside_unknown_ground_heights_are_as_sure_as_elsewhere():
    """What lies under unknown ground says nothing of the ground that is known."""
    track = track_of(make_log(2))
    whole = prepared(track)
    middle = len(track) // 2
    at = np.hypot(
        whole.east_m - whole.east_m[middle], whole.north_m - whole.north_m[middle]
    )
    terrain = grid()
    rows, columns = np.mgrid[: terrain.data.shape[0], : terrain.data.shape[1]]
    _, _, west, _, _, north = terrain.affine
    away = np.hypot(
        west + 25.0 * (columns + 0.5) - whole.east_m[middle],
        north - 25.0 * (rows + 0.5) - whole.north_m[middle],
    )
    holed = replace(terrain, data=np.where(away < 500.0, np.nan, terrain.data))

    seen = prepared(track, Ground(holed))

    beside = np.isfinite(seen.height_m) & (at < 800.0)
    assert np.isnan(seen.height_m[middle])
    assert np.count_nonzero(beside) > 20
    ratio = seen.height_sigma_m[beside] / whole.height_sigma_m[beside]
    np.testing.assert_allclose(ratio, 1.0, atol=0.05)


@pytest.mark.parametrize("fault", ["none", "zero", "shifted", "frozen"])
def test_what_a_barometer_shows_between_jumps_is_not_believed(fault):
    """The receiver bridges it; a log that never jumps is left as it is."""
    track = track_of(make_log(3))
    sound = prepared(track)
    pressure = track.pressure_alt_m.copy()
    n = len(pressure)
    match fault:
        case "zero":
            pressure[int(0.4 * n) : int(0.5 * n)] = 0.0
        case "shifted":
            pressure[int(0.7 * n) :] -= 60.0
        case "frozen":
            pressure[int(0.4 * n) : int(0.5 * n)] = pressure[int(0.4 * n)]

    seen = prepared(replace(track, pressure_alt_m=pressure))

    off = np.abs(seen.height_m - sound.height_m)
    if fault == "frozen":  # as long as it is frozen nothing jumps
        off = off[int(0.55 * n) :]
    assert off.max() < {"none": 1e-9}.get(fault, 20.0)
    assert (seen.launch is None, seen.landing is None) == (False, False)


def test_a_barometer_is_held_against_the_receiver_wherever_that_tells():
    """A receiver that misses a few fixes still shows that a part stands elsewhere."""
    track = track_of(make_log(3))
    sound = prepared(track)
    n = len(track)
    pressure, gnss = track.pressure_alt_m.copy(), track.gnss_alt_m.copy()
    dead = slice(int(0.4 * n), int(0.5 * n))
    pressure[dead] = np.nan
    pressure[dead.stop - 1] = 0.0
    pressure[: dead.start] -= 60.0
    gnss[[dead.start - 1, dead.stop, int(0.2 * n), int(0.8 * n)]] = np.nan

    seen = prepared(replace(track, pressure_alt_m=pressure, gnss_alt_m=gnss))

    assert np.nanmax(np.abs(seen.height_m - sound.height_m)) < 20.0


FEET_PER_METRE = 1.0 / 0.3048
"""The international foot is 0.3048 m exactly."""


@pytest.mark.parametrize("seed", range(4))
def test_a_log_in_feet_whose_format_says_metres_makes_no_height_certain(seed):
    track = track_of(make_log(seed))
    feet = replace(
        track,
        gnss_alt_m=track.gnss_alt_m * FEET_PER_METRE,
        pressure_alt_m=track.pressure_alt_m * FEET_PER_METRE,
    )

    assert prepared(track).disputed == ()
    whole = [one for one in prepared(feet).disputed if one.by is Sign.OFF_GROUND]
    assert [(one.start_s, one.end_s) for one in whole] == [
        (feet.time_s[0], feet.time_s[-1])
    ]
