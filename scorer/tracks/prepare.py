"""Make a cleaned log ready for checks and tasks: plane, phases, heights."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.geodesy.cells import sample_of
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground, GroundElevation, Terrain
from scorer.tracks.air import Air
from scorer.tracks.columns import rows
from scorer.tracks.flown import Array, Disputed, Flown, LogMark, Moment
from scorer.tracks.height import (
    LOGGER_ABOVE_GROUND_M,
    Heights,
    Shape,
    heights_of,
    shape_of,
)
from scorer.tracks.impossible import impossible, no_metres
from scorer.tracks.lift_off import PLACE_SIGMA_M, lift_off, touch_down
from scorer.tracks.phases import Phases, Wanted, find_phases, shifted
from scorer.tracks.plain import median
from scorer.tracks.recording import Day, MainSensor, Recording, main_sensor
from scorer.tracks.stands import AveragedTrack, Stretch
from scorer.tracks.track import Datum, Track
from scorer.units import DEGREE_M

SURVEYED_SIGMA_M = 0.25
"""Elevation grids from laser scans: 0.15 to 0.3 m on open ground, where balloons stand and
targets lie.  Crops make it more, which the stands of a flight tell (`air.py`)."""
COARSE_CELL_M = 25.0
WHOLE_METRE_SIGMA_M = 2.5
"""Grids in whole metres, or with cells larger than that, come from radar in space: 4 m
at 90 % for the better (the specification of the 30 m Copernicus model, from memory)."""
FLAT_SIGMA_M = 6.0
"""Where one elevation stands for the whole field: gentle country, a few kilometres."""
SLOPE_M = 15.0
"""The slope is taken over twice that."""
MOST_SLOPES = 600
DATUM_SIGMA_M = {Datum.GEOID: 8.0}
"""Absolute GNSS altitude above mean sea level: geoid model, antenna, slow errors."""
NO_DATUM_SIGMA_M = 40.0
"""Ellipsoid and geoid differ by up to 100 m."""
BARO_PHASE_NOISE_M = 0.6
GNSS_PHASE_NOISE_M = 3.0
"""Change of a resting sensor within half a minute, one sigma."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ready:
    """A log made ready but for the air of its flight.  Picklable."""

    name: str
    sha256: str
    time_s: Array
    lat_deg: Array
    lon_deg: Array
    east_m: Array
    north_m: Array
    ground_m: Array
    accuracy_m: Array
    marks: tuple[LogMark, ...]
    shape: Shape | None
    phases: Phases
    lift_offs: tuple[Moment, ...]
    touch_down: Moment | None
    barometer: bool
    """The shape of the flight is a barometer's, which a receiver's never replaces."""


def make_ready(
    track: Track,
    *,
    plane: Plane,
    ground: Ground,
    qnh_hpa: float | None = None,
    temperature_c: float | None = None,
    ground_elevation_m: float | None = None,
    terrain_sigma_m: float | None = None,
    wanted: Wanted | None = None,
) -> Ready:
    """Do all with a cleaned log that needs no other log of its flight.

    Parameters
    ----------
    track : Track
        One log, cleaned.
    plane, ground
        The event's plane and terrain.
    qnh_hpa, temperature_c : float, optional
        Of the flight's day; the temperature at `ground_elevation_m`.  They help where
        there is no ground stretch, or no GNSS altitude.
    ground_elevation_m : float, optional
        Above mean sea level, where no terrain covers.
    terrain_sigma_m : float, optional
        One sigma of the terrain grid; None = by the kind of grid.
    wanted : Wanted, optional
        Which flight of the log is asked for.

    Returns
    -------
    Ready
        Without a shape where the log has no altitude at all.
    """
    recording = _recording(track, plane, ground, ground_elevation_m, terrain_sigma_m)
    main = main_sensor(recording)
    noise = GNSS_PHASE_NOISE_M
    if main is not None and main.barometer:
        noise = BARO_PHASE_NOISE_M
    phases = find_phases(
        time_s=recording.time_s,
        east_m=recording.east_m,
        north_m=recording.north_m,
        altitude_m=np.full(len(track), np.nan) if main is None else main.altitude_m,
        ground_m=recording.ground_m,
        noise_m=noise,
        terrain_m=_unevenness_m(recording),
        wanted=wanted,
    )
    if phases.span is not None and phases.span != Stretch(0, len(track) - 1):
        keep = phases.span.fixes
        track, recording = rows(track, keep), rows(recording, keep)
        main = main_sensor(recording)
        phases = shifted(phases, keep.start)
    standard = track.baro_datum == Datum.ISA
    day = Day(
        qnh_hpa=qnh_hpa if standard else None,
        temperature_c=temperature_c,
        elevation_m=ground_elevation_m,
    )
    lift_offs: tuple[Moment, ...] = ()
    down = None
    if main is not None:
        path = _path(recording, main)
        lift_offs, down = _moments(path, track.accuracy_m, phases, noise)
    return Ready(
        name=track.name,
        sha256=track.sha256,
        time_s=track.time_s,
        lat_deg=track.lat_deg,
        lon_deg=track.lon_deg,
        east_m=recording.east_m,
        north_m=recording.north_m,
        ground_m=recording.ground_m,
        accuracy_m=track.accuracy_m,
        marks=track.marks,
        barometer=main is not None and main.barometer,
        shape=shape_of(recording, phases.stretches, day),
        phases=phases,
        lift_offs=lift_offs,
        touch_down=down,
    )


def flown_in(ready: Ready, pilot: int, air: Air | None) -> Flown:
    """Return the flight with its heights in the air that other logs tell; None = alone.

    Heights are NaN where neither terrain nor an elevation is known, or the log has no
    altitude at all.
    """
    phases = ready.phases
    heights = heights_of(ready.time_s, ready.ground_m, ready.shape, air)
    return Flown(
        pilot=pilot,
        log=ready.name,
        sha256=ready.sha256,
        time_s=ready.time_s,
        lat_deg=ready.lat_deg,
        lon_deg=ready.lon_deg,
        east_m=ready.east_m,
        north_m=ready.north_m,
        ground_m=ready.ground_m,
        height_m=heights.height_m,
        height_sigma_m=heights.sigma_m,
        altitude_m=heights.altitude_m,
        climb_m_s=heights.climb_m_s,
        launch=phases.launch,
        landing=phases.landing,
        anchored=heights.anchored,
        accuracy_m=ready.accuracy_m,
        marks=ready.marks,
        stands=_stands(phases),
        lift_offs=ready.lift_offs,
        touch_down=ready.touch_down,
        left_out=phases.left_out,
        disputed=_disputed(ready, heights, air),
    )


def _disputed(ready: Ready, heights: Heights, air: Air | None) -> tuple[Disputed, ...]:
    """Return what contradicts the heights of a log by itself."""
    basket = heights.height_m - LOGGER_ABOVE_GROUND_M
    found = impossible(ready.name, ready.time_s, basket, heights.sigma_m)
    if ready.shape is None:
        return found
    scale = 1.0 if air is None else air.scale
    return found + no_metres(
        ready.name,
        ready.time_s,
        ready.shape.x.astype(float),
        ready.ground_m,
        ready.phases.stretches,
        gnss_m=ready.shape.view.gnss_m,
        terrain_m=scale * float(ready.shape.knots.terrain_sigma_m.max()),
    )


def _recording(
    track: Track,
    plane: Plane,
    ground: Ground,
    flat_m: float | None,
    terrain_sigma_m: float | None,
) -> Recording:
    """Put a track into the plane and over the ground."""
    east, north = plane.to_plane(track.lat_deg, track.lon_deg)
    # Asked for together: where the terrain lies elsewhere, each question is a way there.
    at, lat, lon = _beside(track)
    under = ground.look_up(np.append(track.lat_deg, lat), np.append(track.lon_deg, lon))
    n = len(track)
    here = GroundElevation(under.elevation_m[:n], under.from_terrain[:n])
    beside_m = np.where(under.from_terrain, under.elevation_m, np.nan)[n:]
    elevation, sigma = _terrain(here, ground, flat_m, terrain_sigma_m)
    gnss = np.where(track.valid_3d, track.gnss_alt_m, np.nan)
    return Recording(
        time_s=track.time_s,
        east_m=east,
        north_m=north,
        ground_m=elevation,
        terrain_sigma_m=sigma,
        gnss_alt_m=gnss,
        pressure_alt_m=track.pressure_alt_m,
        gnss_offset_sigma_m=DATUM_SIGMA_M.get(track.gnss_datum, NO_DATUM_SIGMA_M),
        place_sigma_m=_by_slope_m(track, at, beside_m),
        datum=str(track.gnss_datum),
    )


def _unevenness_m(recording: Recording) -> float:
    """Return by how much terrain may err from one stand to the next, for phases."""
    known = recording.terrain_sigma_m[np.isfinite(recording.ground_m)]
    return float(median(known)) if known.size else FLAT_SIGMA_M


def _beside(track: Track) -> tuple[NDArray[np.intp], Array, Array]:
    """Return some fixes, and the places north, south, east and west of them, (4 N,)."""
    some = np.arange(len(track))
    if len(some) > MOST_SLOPES:
        some = np.linspace(0, len(track) - 1, MOST_SLOPES).astype(int)
    lat, lon = track.lat_deg[some], track.lon_deg[some]
    north = SLOPE_M / DEGREE_M
    east = north / np.cos(np.radians(np.clip(lat, -89.0, 89.0)))
    around = np.concatenate((lon, lon, lon + east, lon - east))
    return some, np.concatenate((lat + north, lat - north, lat, lat)), around


def _by_slope_m(track: Track, some: NDArray[np.intp], beside_m: Array) -> Array:
    """Return the height that the error of a fix's place makes on a slope, (N,).

    `beside_m` is the ground as `_beside` has it, NaN where there is no grid.
    """
    up, down, right, left = beside_m.reshape(4, -1)
    slope = np.nan_to_num(np.hypot(up - down, right - left) / (2.0 * SLOPE_M))
    known = np.isfinite(track.accuracy_m) & (track.accuracy_m > 0.0)
    place = np.where(known, track.accuracy_m, PLACE_SIGMA_M)
    at = np.arange(len(track))
    return np.asarray(np.interp(at, some, slope) * place)


def _path(recording: Recording, main: MainSensor) -> AveragedTrack:
    """Return the fixes with the altitudes of one sensor."""
    return AveragedTrack(
        time_s=recording.time_s,
        east_m=recording.east_m,
        north_m=recording.north_m,
        altitude_m=main.altitude_m,
    )


def _moments(
    path: AveragedTrack, accuracy_m: Array, phases: Phases, noise_m: float
) -> tuple[tuple[Moment, ...], Moment | None]:
    """Fit each launch from a stand, and the landing."""
    launch, landing = phases.launch, phases.landing
    found = []
    before = [run for run in phases.stretches if launch is None or run.last < launch]
    if launch is not None and before:
        ends = [(launch, before[-1])]
        inner = [Stretch(*stand) for stand in _stands(phases)]
        ends += [(run.last + 1, run) for run in inner]
        found = [
            lift_off(path, accuracy_m, stand=run, at=at, noise_m=noise_m)
            for at, run in ends
        ]
    down = None
    if landing is not None:
        after = [run for run in phases.stretches if run.last >= landing]
        if after and landing < len(path.time_s):
            down = touch_down(
                path, accuracy_m, stand=after[0], at=landing, noise_m=noise_m
            )
    return tuple(found), down


def _stands(phases: Phases) -> tuple[tuple[int, int], ...]:
    """Return the ground stretches within the flight."""
    launch, landing = phases.launch, phases.landing
    return tuple(
        (stand.first, stand.last)
        for stand in phases.stretches
        if launch is not None
        and stand.first > launch
        and (landing is None or stand.last < landing)
    )


def _terrain(
    found: GroundElevation,
    ground: Ground,
    flat_m: float | None,
    terrain_sigma_m: float | None,
) -> tuple[Array, Array]:
    """Return the elevation under each fix and its sigma, NaN where unknown."""
    elevation = np.array(found.elevation_m, dtype=float)
    if flat_m is not None:
        elevation = np.where(np.isnan(elevation), flat_m, elevation)
    grid_sigma = terrain_sigma_m
    if grid_sigma is None:
        grid_sigma = _grid_sigma_m(ground.terrain)
    flat = ~found.from_terrain & np.isfinite(elevation)  # unknown ground has no height
    return elevation, np.where(flat, FLAT_SIGMA_M, grid_sigma)


def _grid_sigma_m(terrain: Terrain | None) -> float:
    """Tell a coarse grid, by its cells or whole metres, from a surveyed one."""
    if terrain is None:
        return FLAT_SIGMA_M
    a, b, _, d, e, _ = terrain.affine
    unit_m = DEGREE_M if terrain.crs == "EPSG:4326" else 1.0
    if unit_m * max(np.hypot(a, d), np.hypot(b, e)) > COARSE_CELL_M:
        return WHOLE_METRE_SIGMA_M
    sample = sample_of(terrain.data)
    sample = sample[np.isfinite(sample)]
    whole = sample.size > 0 and bool((sample == np.round(sample)).all())
    varied = whole and np.ptp(sample) > 0.0
    return WHOLE_METRE_SIGMA_M if varied else SURVEYED_SIGMA_M
