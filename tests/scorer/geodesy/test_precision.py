"""Sigmas and error ellipses."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.errors import InputError
from scorer.geodesy.precision import (
    SurveySigmas,
    axes_covariance,
    error_ellipse,
    read_sigmas,
    sigma_towards,
)


def test_a_tape_s_sigma_grows_with_the_distance():
    sigmas = SurveySigmas(tape_m=0.01, tape_per_m=0.0005)

    assert sigmas.taped_m(0) == 0.01
    assert sigmas.taped_m(100) == pytest.approx(0.06)


def test_a_degree_moves_a_mark_17_mm_for_each_metre():
    assert SurveySigmas(bearing_deg=1.0).across_m(10.0) == pytest.approx(
        0.1745, abs=5e-5
    )


@settings(max_examples=50)
@given(st.floats(0, 179.9), st.floats(0.01, 10), st.floats(0.1, 0.9))
def test_an_ellipse_gives_back_the_axes_it_was_made_of(bearing, major, ratio):
    got = error_ellipse(axes_covariance(bearing, major, ratio * major))

    assert got.major_m == pytest.approx(major, rel=1e-6)
    assert got.minor_m == pytest.approx(ratio * major, rel=1e-6)
    assert abs((got.bearing_deg - bearing + 90) % 180 - 90) < 1e-3


def test_the_sigma_towards_a_point_is_the_ellipse_seen_from_there():
    """Axes 2 m to the east, 1 m to the north."""
    covariance = axes_covariance(90.0, 2.0, 1.0)

    assert sigma_towards(covariance, 50.0, 0.0) == pytest.approx(2.0)
    assert sigma_towards(covariance, 0.0, -50.0) == pytest.approx(1.0)
    assert sigma_towards(covariance, 30.0, 30.0) == pytest.approx(np.sqrt(2.5))


def test_within_its_own_uncertainty_the_long_axis_counts():
    covariance = axes_covariance(90.0, 2.0, 1.0)

    assert sigma_towards(covariance, 0.0, 0.0) == pytest.approx(2.0)
    assert sigma_towards(covariance, 0.0, 3.9) == pytest.approx(2.0)


def test_settings_are_read_with_their_units():
    got = read_sigmas(
        {"tape": "1 in", "tape_per_m": 0.001, "bearing": 2, "latlon": "5 m"},
        "event.toml",
    )

    assert got.tape_m == pytest.approx(0.0254)
    assert got == SurveySigmas(
        tape_m=got.tape_m, tape_per_m=0.001, bearing_deg=2.0, latlon_m=5.0
    )
    assert read_sigmas({}, "event.toml") == SurveySigmas()


def test_all_faults_of_the_settings_are_listed_at_once():
    wrong = {"tap": "2 cm", "grid": "wide", "bearing": -1, "place": 3, "latlon": True}

    with pytest.raises(InputError) as caught:
        read_sigmas(wrong, "event.toml")

    faults = caught.value.faults
    assert [f.field for f in faults] == [f"survey.{key}" for key in wrong]
    assert 'Did you mean "tape"' in faults[0].allowed
    with pytest.raises(InputError, match="a table with"):
        read_sigmas("2 cm", "event.toml")
