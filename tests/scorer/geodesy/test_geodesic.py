"""Geodesics against GeographicLib's own cases and its Python package."""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from scorer.errors import GeometryError
from scorer.geodesy.geodesic import geodesic_inverse, geodesic_m
from tests.helpers import reference_rows, shared_file

CASES = [{k: float(v) for k, v in row.items()} for row in reference_rows("geodesics")]


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c['s12']:.0f}")
def test_inverse_matches_the_published_cases(case):
    length, azimuth = geodesic_inverse(
        case["lat1"], case["lon1"], case["lat2"], case["lon2"]
    )

    assert length == pytest.approx(case["s12"], abs=1e-8)
    assert azimuth == pytest.approx(case["azi1"] % 360, abs=1e-11)


def test_the_hundred_hard_cases_of_geodtest():
    """Karney's test set (short, nearly antipodal and meridional lines among them)."""
    rows = np.loadtxt(shared_file("geodesy/geographiclib/GeodTest-100.dat"))

    got = geodesic_m(rows[:, 0], rows[:, 1], rows[:, 3], rows[:, 4])

    np.testing.assert_allclose(got, rows[:, 6], rtol=0, atol=2e-8)


def test_scalars_arrays_and_geographiclib_agree():
    rng = np.random.default_rng(7)
    lat1, lat2 = rng.uniform(-90, 90, (2, 50))
    lon1, lon2 = rng.uniform(-180, 180, (2, 50))

    together = geodesic_m(lat1, lon1, lat2, lon2)

    for i in range(50):
        ends = lat1[i], lon1[i], lat2[i], lon2[i]
        assert geodesic_m(*ends) == together[i]
        wanted = Geodesic.WGS84.Inverse(*ends)["s12"]
        assert together[i] == pytest.approx(wanted, abs=1e-7)


def test_one_launch_point_serves_many_landings():
    got = geodesic_m(42.0, -1.5, np.array([42.0, np.nan, 43.0]), -1.5)

    assert got.shape == (3,)
    assert got[0] == 0
    assert np.isnan(got[1])
    # 111.1 km: a degree of latitude at 42.5 degrees
    assert got[2] == pytest.approx(111_085, abs=20)


def test_a_latitude_beyond_the_pole_is_marked():
    with pytest.raises(GeometryError, match="latitude") as caught:
        geodesic_m([0.0, 91.0], 0.0, 0.0, 1.0)

    assert caught.value.mask.tolist() == [False, True]
