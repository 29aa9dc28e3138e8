"""The standard atmosphere, and heights from pressure on a day that differs from it.

All functions take scalars or arrays, broadcast, and let NaN through.  Heights named
`pressure_altitude` are geopotential metres, as altimeters and flight recorders have them
(datum 1013.25 hPa); heights named `altitude` are geometric metres above mean sea level.

Source of the constants: ICAO Doc 7488, Manual of the ICAO Standard Atmosphere, 3rd
edition (1993); the same values stand in ISO 2533:1975.
"""

import numpy as np
from numpy.typing import ArrayLike

from scorer.facts import fact
from scorer.geodesy.arrays import Array, floats, refuse

STANDARD_PRESSURE_HPA = 1013.25
STANDARD_TEMPERATURE_K = 288.15
ZERO_CELSIUS_K = 273.15
LAPSE_RATE_K_PER_M = 0.0065
"""Fall of temperature with geopotential height up to 11 km."""
GRAVITY_M_S2 = 9.80665
GAS_CONSTANT_J_KG_K = 287.05287
"""Of dry air."""
TROPOPAUSE_M = 11_000.0
"""Geopotential; above it the temperature stays the same up to `CEILING_M`."""
CEILING_M = 20_000.0
FLOOR_M = -5_000.0
EARTH_RADIUS_M = 6_356_766.0
"""Nominal radius that turns geometric into geopotential height."""

_EXPONENT = GRAVITY_M_S2 / (GAS_CONSTANT_J_KG_K * LAPSE_RATE_K_PER_M)
_TROPOPAUSE_K = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * TROPOPAUSE_M
_SCALE_M = GAS_CONSTANT_J_KG_K * _TROPOPAUSE_K / GRAVITY_M_S2
_TROPOPAUSE_HPA = (
    STANDARD_PRESSURE_HPA * (_TROPOPAUSE_K / STANDARD_TEMPERATURE_K) ** _EXPONENT
)


def standard_temperature_c(pressure_altitude_m: ArrayLike) -> Array:
    """Temperature of the standard atmosphere at a geopotential height."""
    (height,) = floats(pressure_altitude_m)
    _check_range(height)
    held = np.minimum(height, TROPOPAUSE_M)
    kelvin: Array = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * held
    return (kelvin - ZERO_CELSIUS_K)[()]


def pressure_hpa(pressure_altitude_m: ArrayLike) -> Array:
    """Pressure of the standard atmosphere at a geopotential height, -5 to 20 km.

    Raises
    ------
    GeometryError
        A height beyond; `mask` marks the offending ones.
    """
    (height,) = floats(pressure_altitude_m)
    _check_range(height)
    held = np.minimum(height, TROPOPAUSE_M)
    ratio = 1 - LAPSE_RATE_K_PER_M * held / STANDARD_TEMPERATURE_K
    pressure: Array = STANDARD_PRESSURE_HPA * ratio**_EXPONENT
    above = np.maximum(height - TROPOPAUSE_M, 0.0)
    pressure = pressure * np.exp(-above / _SCALE_M)
    return pressure[()]


def pressure_altitude_m(at_hpa: ArrayLike) -> Array:
    """Geopotential height in the standard atmosphere of a pressure, 54.7 to 1777 hPa.

    Raises
    ------
    GeometryError
        A pressure beyond; `mask` marks the offending ones.
    """
    (pressure,) = floats(at_hpa)
    outside = (pressure < _LEAST_HPA) | (pressure > _MOST_HPA)
    refuse(outside, fact("pressure-beyond-the-atmosphere"))
    low = np.maximum(pressure, _TROPOPAUSE_HPA) / STANDARD_PRESSURE_HPA
    height: Array = (
        STANDARD_TEMPERATURE_K / LAPSE_RATE_K_PER_M * (1 - low ** (1 / _EXPONENT))
    )
    high = np.minimum(pressure, _TROPOPAUSE_HPA) / _TROPOPAUSE_HPA
    height = height - _SCALE_M * np.log(high)
    return height[()]


def geopotential_m(altitude_m: ArrayLike) -> Array:
    """Geopotential of a geometric height: r h / (r + h)."""
    (height,) = floats(altitude_m)
    return (EARTH_RADIUS_M * height / (EARTH_RADIUS_M + height))[()]


def geometric_m(height_m: ArrayLike) -> Array:
    """Geometric of a geopotential height: r H / (r - H)."""
    (height,) = floats(height_m)
    return (EARTH_RADIUS_M * height / (EARTH_RADIUS_M - height))[()]


def altitude_m(
    pressure_height_m: ArrayLike,
    qnh_hpa: ArrayLike,
    *,
    elevation_m: ArrayLike = 0.0,
    temperature_c: ArrayLike | None = None,
) -> Array:
    """Geometric altitude above mean sea level on a given day.

    Parameters
    ----------
    pressure_height_m : array_like
        As a flight recorder writes it: geopotential metres, datum 1013.25 hPa.
    qnh_hpa : array_like
        Altimeter setting of the day at a place of `elevation_m`.
    elevation_m : array_like
        Above mean sea level, where QNH and temperature were observed.  Read the other
        way round, the altitude there comes out exact whatever the temperature.
    temperature_c : array_like, optional
        Air temperature there; None = that of the standard atmosphere, no correction.

    Notes
    -----
    The air is taken to be warmer or colder than standard by the same amount dT at every
    pressure, as in ICAO Doc 8168 (PANS-OPS), Vol. I, part III, section 1, chapter 4,
    altimeter temperature corrections.  Between pressure heights H1 and H2 the true
    thickness is the integral of (T + dT) / T, which below the tropopause is

        H2 - H1 + dT / L x ln(T1 / T2).

    Ten degrees of dT are 3.5 m in a hundred.
    """
    height, setting, elevation = floats(pressure_height_m, qnh_hpa, elevation_m)
    ground = geopotential_m(elevation)
    foot = ground + pressure_altitude_m(setting)
    thickness = height - foot
    if temperature_c is not None:
        standard = standard_temperature_c(foot)
        warmer = np.asarray(temperature_c, dtype=float) - standard
        thickness = thickness + warmer * (_stretch(height) - _stretch(foot))
    return geometric_m(ground + thickness)


def _stretch(height: Array) -> Array:
    """Integral of 1 / T over geopotential height from 0, metres per kelvin."""
    held = np.minimum(height, TROPOPAUSE_M)
    ratio = 1 - LAPSE_RATE_K_PER_M * held / STANDARD_TEMPERATURE_K
    above = np.maximum(height - TROPOPAUSE_M, 0.0)
    stretch: Array = -np.log(ratio) / LAPSE_RATE_K_PER_M + above / _TROPOPAUSE_K
    return stretch


def _check_range(height: Array) -> None:
    outside = (height < FLOOR_M) | (height > CEILING_M)
    refuse(outside, fact("height-beyond-the-atmosphere"))


_ROUNDED = 1e-5
"""Pressures printed with five figures may lie this much beyond the limits."""
_LEAST_HPA = float(pressure_hpa(CEILING_M)) * (1 - _ROUNDED)
_MOST_HPA = float(pressure_hpa(FLOOR_M)) * (1 + _ROUNDED)
