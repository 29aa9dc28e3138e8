"""The plane against published coordinates, scale factors and lengths."""

import pickle
from math import cos, radians, sin, sqrt, tan

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import CRS, Proj

from scorer.errors import GeometryError, InputError
from scorer.event.model import DistanceKind
from scorer.geodesy.plane import Plane
from scorer.geodesy.reference import utm_zone_crs
from tests.helpers import reference_rows, shared_rows

UTM30 = Plane("EPSG:25830")
CENTRE = UTM30.to_plane(42.0, -1.5)
GRID, GROUND, ELLIPSOID = (
    DistanceKind.GRID,
    DistanceKind.GROUND,
    DistanceKind.ELLIPSOID,
)
GRS80_A, GRS80_F = 6378137.0, 1 / 298.257222101


def degrees_of(text):
    d, m, s = text.split()
    size = abs(int(d)) + int(m) / 60 + float(s) / 3600
    return -size if d.startswith("-") else size


@pytest.mark.parametrize(
    "row", reference_rows("projected_points"), ids=lambda r: r["source"]
)
def test_coordinates_match_published_examples(row):
    plane = Plane(row["crs"])

    east, north = plane.to_plane(float(row["lat_deg"]), float(row["lon_deg"]))
    lat, lon = plane.to_wgs84(float(row["east_m"]), float(row["north_m"]))

    tolerance = float(row["tolerance_m"])
    assert east == pytest.approx(float(row["east_m"]), abs=tolerance)
    assert north == pytest.approx(float(row["north_m"]), abs=tolerance)
    assert lat == pytest.approx(float(row["lat_deg"]), abs=tolerance / 1e5)
    assert lon == pytest.approx(float(row["lon_deg"]), abs=2 * tolerance / 1e5)


@pytest.mark.parametrize(
    "row",
    reference_rows("utm_zones") + shared_rows("geodesy/utm/utm_known_values.csv"),
    ids=lambda r: r["lat"],
)
def test_utm_zones_and_coordinates_match_the_utm_library(row):
    """Values of the utm package's tests, printed to the metre; zone and all."""
    lat, lon = float(row["lat"]), float(row["lon"])

    crs = utm_zone_crs(lat, lon)

    hemisphere = "6" if row["northern"] == "True" else "7"
    assert crs == f"EPSG:32{hemisphere}{int(row['zone']):02d}"
    got = Plane(crs).to_plane(lat, lon)
    wanted = (float(row["easting"]), float(row["northing"]))
    assert got == pytest.approx(wanted, abs=1.0)


def test_an_equal_area_map_has_point_scale_one_everywhere():
    """EPSG:3035 stretches one way what it shrinks the other: the mean stays 1."""
    plane = Plane("EPSG:3035")

    for lat, lon in ((42.0, -1.5), (60.0, 25.0)):
        assert plane.point_scale(*plane.to_plane(lat, lon)) == pytest.approx(
            1, abs=1e-7
        )


def test_shared_proj_rows_match():
    """PROJ and IOGP GIGS rows for EPSG:32631, where the shared data are there."""
    rows = [
        row
        for row in shared_rows("geodesy/proj/transverse_mercator_utm_checks.csv")
        if row["operation"].endswith("+inv +step +init=epsg:32631")
    ]
    if not rows:
        pytest.skip("needs the shared data beside the checkout")
    plane = Plane("EPSG:32631")
    for row in rows:
        lon, lat = (float(v) for v in row["accept"].split()[:2])
        wanted = tuple(float(v) for v in row["expect"].split()[:2])
        assert plane.to_plane(lat, lon) == pytest.approx(wanted, abs=0.03)


def transverse_mercator_scale(lat_deg, dlon_deg, k0=0.9996):
    """Snyder, Professional Paper 1395, equation 8-11, for GRS80."""
    e2 = GRS80_F * (2 - GRS80_F)
    second = e2 / (1 - e2)
    phi, lam = radians(lat_deg), radians(dlon_deg)
    t, c = tan(phi) ** 2, second * cos(phi) ** 2
    a = lam * cos(phi)
    return k0 * (
        1
        + (1 + c) * a**2 / 2
        + (5 - 4 * t + 42 * c + 13 * c**2 - 28 * second) * a**4 / 24
        + (61 - 148 * t + 16 * t**2) * a**6 / 720
    )


def transverse_mercator_convergence(lat_deg, dlon_deg):
    """First terms of the usual series (any survey handbook), degrees, for GRS80."""
    e2 = GRS80_F * (2 - GRS80_F)
    eta2 = e2 / (1 - e2) * cos(radians(lat_deg)) ** 2
    lam, phi = radians(dlon_deg), radians(lat_deg)
    first = lam * sin(phi)
    third = lam**3 / 3 * sin(phi) * cos(phi) ** 2 * (1 + 3 * eta2 + 2 * eta2**2)
    fifth = lam**5 / 15 * sin(phi) * cos(phi) ** 4 * (2 - tan(phi) ** 2)
    return np.degrees(first + third + fifth)


@pytest.mark.parametrize("lat", [-38.0, 0.0, 42.0, 65.0])
@pytest.mark.parametrize("dlon", [-3.0, -0.5, 0.0, 1.5])
def test_scale_and_convergence_follow_the_handbook_series(lat, dlon):
    zone = 30 if lat >= 0 else 55
    plane = Plane(f"+proj=utm +zone={zone} {'+south ' * (lat < 0)}+ellps=GRS80")
    point = plane.to_plane(lat, (-3.0 if lat >= 0 else 147.0) + dlon)

    scale, turn = plane.point_scale(*point), plane.convergence_deg(*point)

    assert scale == pytest.approx(transverse_mercator_scale(lat, dlon), abs=2e-9)
    assert turn == pytest.approx(transverse_mercator_convergence(lat, dlon), abs=1e-6)


@pytest.mark.parametrize(
    "row", reference_rows("point_scales"), ids=lambda r: r["scale"]
)
def test_point_scales_match_published_ones(row):
    plane = Plane(row["crs"])
    point = plane.to_plane(degrees_of(row["lat_dms"]), degrees_of(row["lon_dms"]))

    got = plane.point_scale(*point)

    assert got == pytest.approx(float(row["scale"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", reference_rows("plane_lines"))
def test_a_long_line_matches_the_published_grid_and_ellipsoidal_distances(row):
    plane = Plane(row["crs"])
    a = float(row["east1_m"]), float(row["north1_m"])
    b = float(row["east2_m"]), float(row["north2_m"])

    assert plane.distance(a, b, GRID) == pytest.approx(float(row["grid_m"]), abs=0.0005)
    assert plane.distance(a, b, ELLIPSOID) == pytest.approx(
        float(row["ellipsoid_m"]), abs=0.0005
    )


def test_a_true_bearing_is_the_grid_bearing_plus_the_convergence():
    north_of = UTM30.to_plane(42.001, -1.5)

    bearing = UTM30.bearing_deg(CENTRE, north_of)

    # a line to the north is true 0; the grid turns it by a degree east of the meridian
    turn = UTM30.convergence_deg(*CENTRE)
    assert turn > 1
    assert bearing - 360 + turn == pytest.approx(0.0, abs=1e-4)
    assert UTM30.grid_bearing_deg(CENTRE, 0.0, 100.0) == pytest.approx(
        360 - turn, abs=1e-4
    )


def test_ground_is_grid_by_point_scale_and_elevation_factor_on_short_lines():
    """The rule of the survey handbooks; it holds for short lines to a millimetre."""
    elevation, end = 1500.0, UTM30.offset(CENTRE, 60.0, 1000.0, GRID)

    got = UTM30.distance(CENTRE, end, GROUND, elevation)

    middle = (CENTRE[0] + end[0]) / 2, (CENTRE[1] + end[1]) / 2
    factor = UTM30.elevation_factor(elevation, 42.0, 60.0 + 1.0)
    by_hand = 1000.0 / (UTM30.point_scale(*middle) * factor)
    assert got == pytest.approx(by_hand, abs=0.001)


def test_the_mean_of_three_point_scales_gives_a_long_line():
    """Simpson's rule over 40 km, the handbook way to a line scale factor."""
    end = UTM30.offset(CENTRE, 75.0, 40_000.0, GRID)
    middle = (CENTRE[0] + end[0]) / 2, (CENTRE[1] + end[1]) / 2
    inverse = [1 / UTM30.point_scale(*p) for p in (CENTRE, middle, end)]

    got = UTM30.distance(CENTRE, end, ELLIPSOID)

    simpson = 40_000.0 * (inverse[0] + 4 * inverse[1] + inverse[2]) / 6
    assert got == pytest.approx(simpson, abs=0.001)


def test_the_elevation_factor_uses_the_radius_along_the_line():
    """Radii of curvature by hand: GRS80 at 42 degrees along and across the meridian."""
    e2 = GRS80_F * (2 - GRS80_F)
    w2 = 1 - e2 * sin(radians(42)) ** 2
    along, across = GRS80_A * (1 - e2) / w2**1.5, GRS80_A / sqrt(w2)

    for azimuth, radius in ((0, along), (90, across), (180, along)):
        got = UTM30.elevation_factor(640.0, 42.0, azimuth)
        assert got == pytest.approx(radius / (radius + 640.0), abs=1e-13)


def test_a_kilometre_on_the_ground_at_1500_m_is_half_a_metre_off_on_the_grid():
    """The size that makes the reduction worth while, see the module's docstring."""
    end = UTM30.offset(CENTRE, 10.0, 1000.0, GROUND, 1500.0)

    assert UTM30.distance(CENTRE, end, GRID) == pytest.approx(999.555, abs=0.001)


@pytest.mark.parametrize("crs", ["EPSG:3857", "EPSG:3035", "EPSG:25830", "EPSG:2154"])
def test_ground_distances_do_not_depend_on_the_projection(crs):
    """A map that distorts badly gives the same length as GeographicLib."""
    plane = Plane(crs)
    a, b = plane.to_plane(46.5, 2.0), plane.to_plane(46.51, 2.02)

    got = plane.distance(a, b, ELLIPSOID)

    wanted = Geodesic.WGS84.Inverse(46.5, 2.0, 46.51, 2.02)["s12"]
    assert got == pytest.approx(wanted, abs=0.0005)


@settings(max_examples=60)
@given(
    place=st.tuples(st.floats(36, 60), st.floats(-9, 3)),
    bearing=st.floats(0, 359.9),
    distance=st.floats(0.01, 20_000),
    elevation=st.floats(-100, 4000),
    kind=st.sampled_from(list(DistanceKind)),
)
def test_offset_undoes_bearing_and_distance(place, bearing, distance, elevation, kind):
    start = UTM30.to_plane(*place)

    end = UTM30.offset(start, bearing, distance, kind, elevation)

    got = UTM30.distance(start, end, kind, elevation)
    assert got == pytest.approx(distance, abs=1e-6)
    turn = UTM30.bearing_deg(start, end) - bearing
    assert abs((turn + 180) % 360 - 180) * radians(1) * distance < 1e-6


@settings(max_examples=60)
@given(lat=st.floats(-79, 83), lon=st.floats(-6, 0))
def test_projecting_there_and_back_gives_the_same_place(lat, lon):
    back = UTM30.to_wgs84(*UTM30.to_plane(lat, lon))

    assert back == pytest.approx((lat, lon), abs=1e-10)


def test_scalars_and_arrays_get_the_same_answers():
    lat, lon = np.array([41.9, 42.0, np.nan]), np.array([-1.4, -1.5, -1.6])

    together = UTM30.to_plane(lat, lon)

    alone = [UTM30.to_plane(float(a), float(b)) for a, b in zip(lat, lon, strict=True)]
    np.testing.assert_array_equal(np.transpose(together), alone)
    lengths = UTM30.distance(together, CENTRE, GROUND, 640.0)
    one = [UTM30.distance(p, CENTRE, GROUND, 640.0) for p in alone]
    np.testing.assert_array_equal(lengths, one)
    assert np.isnan(lengths[2])
    assert isinstance(one[0], float)


def test_latitudes_beyond_the_pole_are_refused_and_marked():
    with pytest.raises(GeometryError, match="latitude beyond 90") as caught:
        UTM30.to_plane(np.array([42.0, 91.0]), np.array([0.0, 0.0]))

    assert caught.value.mask.tolist() == [False, True]


def test_points_that_a_projection_cannot_show_are_refused():
    with pytest.raises(GeometryError, match="cannot show"):
        UTM30.to_plane(np.array([42.0, 0.0]), np.array([0.0, np.inf]))


@pytest.mark.parametrize(
    ("crs", "said"),
    [
        ("EPSG:4326", "latitude and longitude"),
        ("EPSG:4258", "latitude and longitude"),
        ("EPSG:2263", "US survey foot.*EPSG:32618"),
        ("EPSG:2048", "west and south.*EPSG:32734"),
        ("EPSG:3031", "north and north"),
        ("EPSG:999999", "unknown.*No system has this number"),
        ("ETRS89 / UTM zone 30", 'Did you mean "ETRS89 / UTM zone 30N".*EPSG:25830'),
        ("", "unknown"),
    ],
)
def test_a_reference_system_that_cannot_serve_is_refused_with_a_remedy(crs, said):
    with pytest.raises(InputError, match=said) as caught:
        Plane(crs)

    assert caught.value.faults[0].field == "event.crs"


def test_a_vertical_part_is_left_aside():
    assert Plane("EPSG:25830+5782").to_plane(42.0, -1.5) == CENTRE


def test_axes_named_north_first_still_give_east_first():
    """EPSG:2180 and others list northing first; our pairs do not."""
    east, north = Plane("EPSG:2180").to_plane(52.0, 21.0)

    assert (east, north) == pytest.approx(Proj("EPSG:2180")(21.0, 52.0), abs=1e-6)
    assert Plane("EPSG:2180").to_plane(52.1, 21.0)[1] > north + 10_000


def test_a_plane_travels_to_other_processes():
    again = pickle.loads(pickle.dumps(UTM30))

    assert again == UTM30
    assert again.to_plane(42.0, -1.5) == CENTRE


def test_a_plane_knows_what_area_it_is_for_and_how_well_its_datum_is_tied():
    assert UTM30.covers(42.0, -1.5)
    assert not UTM30.covers(42.0, 12.0)
    assert UTM30.accuracy_m(42.0, -1.5) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("crs", "lat_deg", "lon_deg", "worst_m"),
    [
        ("EPSG:27700", 51.5, -1.5, 2.0),
        ("EPSG:28992", 52.1, 5.3, 1.0),
        ("EPSG:32145", 44.2, -72.6, 4.0),
        ("EPSG:3035", 47.0, 11.0, 1.0),
    ],
)
def test_a_choice_of_datum_shifts_is_as_accurate_as_the_one_taken(
    crs, lat_deg, lon_deg, worst_m
):
    """EPSG register, operations 1314, 4833, 1188 and 1149, checked through PROJ 9.5 and
    9.8; a grid of shifts on the machine makes it better, never worse."""
    stated = Plane(crs).accuracy_m(lat_deg, lon_deg)

    assert stated is not None
    assert 0 <= stated <= worst_m


def test_no_stated_accuracy_is_not_an_unknown_one():
    """PROJ before 9.8 states 0 m between WGS 84 and itself, since then nothing."""
    same = Plane("EPSG:32632").accuracy_m(47.0, 11.0)
    loose = Plane("+proj=tmerc +lon_0=9 +x_0=500000 +ellps=bessel")

    assert same is None or same == 0
    assert loose.accuracy_m(47.0, 9.0) == np.inf


def test_a_system_without_a_stated_area_covers_everything():
    """One made of parameters has no area of use in any register."""
    own = Plane("+proj=tmerc +lat_0=40 +lon_0=-3 +ellps=WGS84 +units=m +type=crs")

    assert own.covers(40.0, -3.0)
    assert own.covers(-60.0, 170.0)
    assert not Plane("EPSG:25830").covers(-60.0, 170.0)


def corners(crs):
    """Return the stated area of use of a system: west, south, east, north."""
    return CRS(crs).area_of_use.bounds


def test_the_edges_of_a_systems_area_belong_to_it():
    west, south, east, north = corners("EPSG:25830")
    assert all(UTM30.covers(lat, lon) for lat in (south, north) for lon in (west, east))
    assert not UTM30.covers(south - 0.01, west)
    assert not UTM30.covers(north + 0.01, east)
    assert not UTM30.covers(south, west - 0.01)
    assert not UTM30.covers(north, east + 0.01)


def test_an_area_across_180_degrees_is_covered_on_both_sides():
    west, south, east, north = corners("EPSG:3460")  # a map of islands on both sides
    islands = Plane("EPSG:3460")
    assert west > east
    for lon in (west, 179.9, 180.0, -180.0, -179.9, east):
        assert islands.covers(-17.0, lon)
    assert not islands.covers(-17.0, west - 0.01)
    assert not islands.covers(-17.0, east + 0.01)
    assert not islands.covers(north + 0.01, 179.9)
    assert not islands.covers(south - 0.01, 179.9)


@pytest.mark.parametrize(
    "crs", ["EPSG:32630", "EPSG:3857", "EPSG:4087", "+proj=utm +zone=30 +datum=WGS84"]
)
def test_a_step_that_changes_nothing_is_exact(crs):
    assert Plane(crs).accuracy_m(42.0, -3.0) == 0.0


def test_the_pole_itself_is_a_latitude():
    east, north = UTM30.to_plane(90.0, -3.0)
    assert (east, north) == pytest.approx(Proj("EPSG:25830")(-3.0, 90.0))
    with pytest.raises(GeometryError):
        UTM30.to_plane(90.000001, -3.0)


@pytest.mark.parametrize("kind", [GRID, GROUND, ELLIPSOID])
def test_offsets_of_arrays_are_those_of_each_point(kind):
    """To the bit, whatever the others beside it need."""
    start = (np.array([CENTRE[0], CENTRE[0] + 5e3]), np.array([CENTRE[1]] * 2))
    turn, far, level = (
        np.array([10.0, 250.0]),
        np.array([0.0, 90e3]),
        np.array([0, 2e3]),
    )

    both = UTM30.offset(start, turn, far, kind, level)

    for i in range(2):
        one = UTM30.offset((start[0][i], start[1][i]), turn[i], far[i], kind, level[i])
        assert one == (both[0][i], both[1][i])
        got = UTM30.distance((start[0][i], start[1][i]), one, kind, level[i])
        assert got == pytest.approx(far[i], abs=1e-6)


def test_a_point_that_no_plane_shows_is_refused_by_its_own_numbers():
    start = (np.array([CENTRE[0]] * 2), np.array([CENTRE[1]] * 2))
    with pytest.raises(GeometryError) as caught:
        UTM30.offset(start, np.zeros(2), np.array([1.0, np.nan]), GRID)
    assert caught.value.says.kind == "no-point-so-far"
    assert np.isnan(caught.value.says.get("length"))


def test_a_true_bearing_at_one_point_is_laid_out_over_a_metre():
    """Convergence: snyder's series, as above; a line of no length has a bearing too."""
    at = UTM30.to_plane(42.0, -1.5)
    convergence = float(UTM30.convergence_deg(*at))
    for long in (0.0, 1.0):
        got = UTM30.grid_bearing_deg(at, 60.0, long)
        assert got == pytest.approx(60.0 - convergence, abs=1e-4)
