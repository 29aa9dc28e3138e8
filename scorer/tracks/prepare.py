"""Make a cleaned log ready for checks and tasks: plane, phases, heights."""

import numpy as np

from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground, Terrain
from scorer.tracks.flown import Array, Flown
from scorer.tracks.height import estimate_heights
from scorer.tracks.phases import Phases, find_phases
from scorer.tracks.recording import Day, Recording
from scorer.tracks.track import Datum, Track

SURVEYED_SIGMA_M = 0.5
"""Elevation grids from laser scans: 0.15 to 0.3 m on bare ground, more in crops."""
WHOLE_METRE_SIGMA_M = 2.5
"""Grids in whole metres come from radar in space: 4 m at 90 % for the better ones (the
specification of the 30 m Copernicus model, from memory)."""
FLAT_SIGMA_M = 2.0
"""Where one elevation stands for the whole field."""
DATUM_SIGMA_M = {Datum.GEOID: 8.0}
"""Absolute GNSS altitude above mean sea level: geoid model, antenna, slow errors."""
NO_DATUM_SIGMA_M = 40.0
"""Ellipsoid and geoid differ by up to 100 m."""
BARO_PHASE_NOISE_M = 0.6
GNSS_PHASE_NOISE_M = 3.0
"""Change of a resting sensor within half a minute, one sigma."""
DEAD_RANGE_M = 1.0
MOVED_M = 60.0
"""A barometer that shows less than the first while GNSS shows more than the second is
dead, as one whose climbs are not within `SLOPES` of those by GNSS."""
SLOPES = (0.75, 1.3)


def prepare(
    track: Track,
    *,
    pilot: int,
    plane: Plane,
    ground: Ground,
    qnh_hpa: float | None = None,
    temperature_c: float | None = None,
    ground_elevation_m: float | None = None,
    terrain_sigma_m: float | None = None,
) -> Flown:
    """Return the flight of a cleaned log with heights and their uncertainty.

    Parameters
    ----------
    track : Track
        One log, cleaned.
    pilot : int
        Whose it is, the competition number.
    plane, ground
        The event's plane and terrain.
    qnh_hpa, temperature_c : float, optional
        Of the flight's day; the temperature at `ground_elevation_m`.  They help where
        there is no ground stretch, or no GNSS altitude.
    ground_elevation_m : float, optional
        Above mean sea level, where no terrain covers.
    terrain_sigma_m : float, optional
        One sigma of the terrain grid; None = by the kind of grid.

    Returns
    -------
    Flown
        Heights are NaN where neither terrain nor an elevation is known, or the log has
        no altitude at all.
    """
    east, north = plane.to_plane(track.lat_deg, track.lon_deg)
    elevation, sigma = _terrain(track, ground, ground_elevation_m, terrain_sigma_m)
    gnss = np.where(track.valid_3d, track.gnss_alt_m, np.nan)
    baro = track.pressure_alt_m
    if not _alive(baro, gnss):
        baro = np.full(len(track), np.nan)
    by_baro = 2 * np.count_nonzero(np.isfinite(baro)) >= len(track)
    phases = find_phases(
        time_s=track.time_s,
        east_m=east,
        north_m=north,
        altitude_m=baro if by_baro else gnss,
        ground_m=elevation,
        noise_m=BARO_PHASE_NOISE_M if by_baro else GNSS_PHASE_NOISE_M,
    )
    recording = Recording(
        time_s=track.time_s,
        east_m=east,
        north_m=north,
        ground_m=elevation,
        terrain_sigma_m=sigma,
        gnss_alt_m=gnss,
        pressure_alt_m=baro,
        gnss_offset_sigma_m=DATUM_SIGMA_M.get(track.gnss_datum, NO_DATUM_SIGMA_M),
    )
    standard = track.baro_datum == Datum.ISA
    day = Day(
        qnh_hpa=qnh_hpa if standard else None,
        temperature_c=temperature_c,
        elevation_m=ground_elevation_m,
    )
    heights = estimate_heights(recording, phases.stretches, day)
    return Flown(
        pilot=pilot,
        log=track.name,
        sha256=track.sha256,
        time_s=track.time_s.copy(),
        lat_deg=track.lat_deg.copy(),
        lon_deg=track.lon_deg.copy(),
        east_m=east,
        north_m=north,
        ground_m=elevation,
        height_m=heights.height_m,
        height_sigma_m=heights.sigma_m,
        altitude_m=heights.altitude_m,
        climb_m_s=heights.climb_m_s,
        launch=phases.launch,
        landing=phases.landing,
        anchored=heights.anchored,
        accuracy_m=track.accuracy_m.copy(),
        marks=track.marks,
        stands=_stands(phases),
    )


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
    track: Track,
    ground: Ground,
    flat_m: float | None,
    terrain_sigma_m: float | None,
) -> tuple[Array, Array]:
    """Return the elevation under each fix and its sigma, NaN where unknown."""
    found = ground.look_up(track.lat_deg, track.lon_deg)
    elevation = np.array(found.elevation_m, dtype=float)
    if flat_m is not None:
        elevation = np.where(np.isnan(elevation), flat_m, elevation)
    grid_sigma = terrain_sigma_m
    if grid_sigma is None:
        grid_sigma = _grid_sigma_m(ground.terrain)
    return elevation, np.where(found.from_terrain, grid_sigma, FLAT_SIGMA_M)


def _grid_sigma_m(terrain: Terrain | None) -> float:
    """Tell a grid in whole metres from a finer one by a sample of its cells."""
    if terrain is None:
        return FLAT_SIGMA_M
    cells = terrain.data.ravel()
    sample = cells[:: max(cells.size // 500, 1)]
    sample = sample[np.isfinite(sample)]
    whole = sample.size > 0 and bool((sample == np.round(sample)).all())
    varied = whole and np.ptp(sample) > 0.0
    return WHOLE_METRE_SIGMA_M if varied else SURVEYED_SIGMA_M


def _alive(baro: Array, gnss: Array) -> bool:
    """Tell whether the barometer follows the flight that GNSS shows."""
    both = np.isfinite(baro) & np.isfinite(gnss)
    if np.count_nonzero(both) < 10:
        return bool(np.isfinite(baro).any()) and _varies(baro)
    high, low = np.quantile(gnss[both], (0.95, 0.05))
    if high - low < MOVED_M:
        return _varies(baro)
    both &= (gnss >= low) & (gnss <= high)  # without spikes
    level = gnss[both] - gnss[both].mean()
    slope = float(level @ (baro[both] - baro[both].mean()) / (level @ level))
    return SLOPES[0] < slope < SLOPES[1]


def _varies(baro: Array) -> bool:
    known = baro[np.isfinite(baro)]
    return bool(known.size and np.ptp(known) > DEAD_RANGE_M)
