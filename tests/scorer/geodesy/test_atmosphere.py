"""The standard atmosphere against ICAO Doc 7488, the altimeter against tables."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from scorer.errors import GeometryError
from scorer.geodesy.atmosphere import (
    altitude_m,
    geometric_m,
    geopotential_m,
    pressure_altitude_m,
    pressure_hpa,
    standard_temperature_c,
)
from tests.helpers import reference_rows, shared_rows

FOOT_M = 0.3048


@pytest.mark.parametrize(
    "row", reference_rows("standard_atmosphere"), ids=lambda r: r["geopotential_m"]
)
def test_the_standard_atmosphere_matches_icao_doc_7488(row):
    height = float(row["geopotential_m"])
    pressure = float(row["pressure_pa"]) / 100

    assert pressure_hpa(height) == pytest.approx(pressure, rel=1e-5 / 2)
    assert standard_temperature_c(height) + 273.15 == pytest.approx(
        float(row["temperature_k"]), abs=0.0006
    )
    assert geometric_m(height) == pytest.approx(float(row["geometric_m"]), abs=0.5)
    assert pressure_altitude_m(pressure) == pytest.approx(height, abs=0.08)


def test_all_shared_rows_of_doc_7488_up_to_20_km_match():
    rows = [
        row
        for row in shared_rows("atmosphere/icao_doc7488_table_ambiance.csv")
        if -5000 <= float(row["H_geopotential_m"]) <= 20_000
    ]
    if not rows:
        pytest.skip("needs the shared data beside the checkout")
    for row in rows:
        height = geopotential_m(float(row["h_geometric_m"]))
        # the table rounds the other height to the metre: take the exact one, which
        # at the lower end may lie a little outside
        height = np.clip(height, -5000, 20_000)
        assert height == pytest.approx(float(row["H_geopotential_m"]), abs=0.51)
        assert pressure_hpa(height) * 100 == pytest.approx(
            float(row["pressure"]), rel=1.2e-4
        )


@pytest.mark.parametrize(
    "row",
    [
        row
        for row in shared_rows("atmosphere/ussa1976_pdas_fluids.csv")
        if float(row["Z_geometric_m"]) <= 20_000
    ],
    ids=lambda r: r["P_Pa"],
)
def test_the_us_standard_atmosphere_1976_is_the_same_to_20_km(row):
    height = geopotential_m(float(row["Z_geometric_m"]))

    assert pressure_hpa(height) * 100 == pytest.approx(float(row["P_Pa"]), rel=6e-5)


@settings(max_examples=50)
@given(st.floats(-4990, 20_000))
def test_pressure_and_height_undo_each_other(height):
    assert pressure_altitude_m(pressure_hpa(height)) == pytest.approx(height, abs=1e-6)


@settings(max_examples=50)
@given(st.floats(-400, 4000), st.floats(950, 1050), st.floats(-30, 45))
def test_the_reference_place_keeps_its_elevation_whatever_the_weather(
    elevation, qnh, temperature
):
    """A balloon on the ground there reads the pressure that QNH was made of."""
    there = geopotential_m(elevation) + pressure_altitude_m(qnh)

    got = altitude_m(there, qnh, elevation_m=elevation, temperature_c=temperature)

    assert got == pytest.approx(elevation, abs=1e-6)


@pytest.mark.parametrize(
    "row", reference_rows("cold_altimeter"), ids=lambda r: r["celsius"]
)
def test_cold_air_corrections_match_the_pilots_table(row):
    """The table rounds to 10 ft, mostly up."""
    celsius = float(row["celsius"])
    for height_ft, correction_ft in list(row.items())[1:]:
        wanted = float(height_ft)

        def error(shown_ft, wanted=wanted):
            true = altitude_m(shown_ft * FOOT_M, 1013.25, temperature_c=celsius)
            return true / FOOT_M - wanted

        exact = brentq(error, wanted - 500, wanted + 2500) - wanted
        assert -3 <= float(correction_ft) - exact <= 11


@pytest.mark.parametrize("height", [300.0, 2500.0, 10_000.0, 14_000.0])
@pytest.mark.parametrize("warmer", [-20.0, 0.0, 25.0])
def test_the_temperature_correction_is_the_integral_it_claims_to_be(height, warmer):
    """Numerical integration of (T + dT) / T from the ground up, by scipy."""
    ground = 500.0
    celsius = float(standard_temperature_c(ground)) + warmer

    got = altitude_m(
        height, 1013.25, elevation_m=geometric_m(ground), temperature_c=celsius
    )

    def ratio(h):
        return 1 + warmer / (float(standard_temperature_c(h)) + 273.15)

    thickness = quad(
        ratio, ground, height, points=[min(max(height, ground), 11_000.0)]
    )[0]
    assert geopotential_m(got) == pytest.approx(ground + thickness, abs=1e-3)


def test_heights_beyond_the_model_are_refused_and_marked():
    with pytest.raises(GeometryError, match="height beyond the atmosphere") as caught:
        pressure_hpa(np.array([0.0, 25_000.0, np.nan]))

    assert caught.value.mask.tolist() == [False, True, False]
    with pytest.raises(GeometryError, match="pressure"):
        pressure_altitude_m(10.0)


def test_scalars_and_arrays_get_the_same_answers_and_nan_stays():
    heights = np.array([-100.0, 640.0, 12_000.0, np.nan])

    together = altitude_m(heights, 1021.0, elevation_m=640.0, temperature_c=9.0)

    alone = [
        altitude_m(float(h), 1021.0, elevation_m=640.0, temperature_c=9.0)
        for h in heights
    ]
    np.testing.assert_array_equal(together, alone)
    assert np.isnan(together).tolist() == [False, False, False, True]
