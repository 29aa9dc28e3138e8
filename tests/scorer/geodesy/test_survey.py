"""From what was keyed to a mark: every method by hand, and against scipy."""

import pickle
from math import cos, hypot, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from scorer.errors import GeometryError, InputError
from scorer.event.model import DistanceKind, Method, North, Origin, Units
from scorer.facts import angle, fact, height, length, place, term
from scorer.geodesy.precision import SurveySigmas
from scorer.geodesy.survey import mark_at, offset_from_line, reduce_keying
from scorer.geodesy.together import alone
from scorer.words.voice import Voice
from tests.helpers import said
from tests.scorer.geodesy.meadow import CENTRE, PLANE, keying, site

SITE = site()
EXACT = SurveySigmas(tape_m=0.01, tape_per_m=0.0)


def away(mark):
    """East and north of a mark from the target."""
    return mark.point[0] - CENTRE[0], mark.point[1] - CENTRE[1]


def test_a_tape_gives_the_distance_as_keyed_and_no_point():
    mark = reduce_keying(keying(Method.TAPE, distance_m=12.34), SITE, "centre")

    assert mark.distance_m == 12.34
    assert mark.point is None
    # 1 cm + 0.5 mm a metre
    assert mark.sigma_m == pytest.approx(0.01617)
    assert mark.steps == (fact("taped", length=length(12.34), start=place("centre")),)


def test_a_tape_with_a_bearing_gives_the_point_too():
    keyed = keying(Method.TAPE, distance_m=50.0, bearing_deg=30.0)

    mark = reduce_keying(keyed, site(DistanceKind.GRID), "centre")

    assert mark.distance_m == 50
    assert away(mark) == pytest.approx((25.0, 43.3013), abs=1e-4)
    assert mark.ellipse.minor_m == pytest.approx(0.035)
    assert mark.ellipse.major_m == pytest.approx(50 * radians(1.0))
    assert mark.ellipse.bearing_deg == pytest.approx(120)
    assert mark.sigma_m == pytest.approx(0.035)


def test_a_magnetic_bearing_without_declination_leaves_the_point_open():
    keyed = keying(Method.TAPE, distance_m=50.0, bearing_deg=30.0, north=North.MAGNETIC)

    mark = reduce_keying(keyed, SITE, "centre")

    assert mark.distance_m == 50
    assert mark.point is None
    assert mark.warnings == (fact("bearing-without-declination"),)
    with pytest.raises(InputError, match=r"event\.declination"):
        reduce_keying(
            keying(
                Method.POLAR,
                distance_m=50.0,
                bearing_deg=30.0,
                north=North.MAGNETIC,
                from_place="east post",
            ),
            SITE,
            "centre",
        )


def test_a_bearing_is_turned_step_by_step_to_grid_north():
    keyed = keying(
        Method.TAPE, distance_m=50.0, bearing_deg=359.5, north=North.MAGNETIC
    )

    mark = reduce_keying(keyed, site(declination_deg=1.2), "centre")

    # 359.5 + 1.2 = 0.7 true; the convergence at the target is 1.0038
    east, north = away(mark)
    assert np.degrees(np.arctan2(east, north)) == pytest.approx(0.7 - 1.0038, abs=1e-3)
    magnetic, true = mark.steps[1:3]
    assert magnetic.kind == "bearing-from-magnetic-north"
    assert magnetic["magnetic"] == angle(359.5)
    assert magnetic["declination"] == angle(1.2)
    assert magnetic.get("true") == pytest.approx(0.7)
    assert true.kind == "bearing-from-true-north"
    assert true.get("turn") == pytest.approx(-1.0038, abs=1e-3)
    assert true.get("grid") == pytest.approx(359.6962, abs=1e-3)
    assert said(true).endswith("turned by −1.00°: 359.70° from grid north")
    assert said(magnetic) == (
        "bearing 359.50° from magnetic north, declination 1.20°: 0.70° from true north"
    )


def test_polar_measures_from_any_named_point():
    """From the post 100 m east, 100 m to the north: 141.42 m from the target."""
    keyed = keying(
        Method.POLAR, distance_m=100.0, bearing_deg=0.0, from_place="east post"
    )

    mark = reduce_keying(keyed, site(DistanceKind.GRID), "centre")

    assert away(mark) == pytest.approx((100.0, 100.0), abs=1e-6)
    assert mark.distance_m == pytest.approx(100 * sqrt(2), abs=1e-6)
    # along: 6 cm north; across: 1.745 m east; seen from the target at 45 degrees
    assert mark.sigma_m == pytest.approx(hypot(0.06, 1.7453) / sqrt(2), abs=1e-4)
    last = mark.steps[-1]
    assert last.kind == "mark-from-target-at-height"
    assert last.get("length") == mark.distance_m
    assert last["target"] == place("centre")
    assert last["ground"] == height(640.0)
    assert said(last) == (
        "141.42 m from centre, measured on the map grid at 640.0 m above sea level"
    )


def test_polar_from_the_target_keeps_the_distance_as_measured():
    keyed = keying(Method.POLAR, distance_m=73.21, bearing_deg=200.0)

    mark = reduce_keying(keyed, SITE, "centre")

    assert mark.distance_m == 73.21
    assert SITE.distance_m("centre", mark.point) == pytest.approx(73.21, abs=1e-7)


def test_a_ground_distance_shows_how_it_becomes_shorter_on_the_grid():
    keyed = keying(Method.POLAR, distance_m=100.0, bearing_deg=45.0)

    mark = reduce_keying(keyed, SITE, "centre")

    # point scale 0.99979, elevation factor 0.99990 at 640 m: together 0.99969
    assert hypot(*away(mark)) == pytest.approx(99.969, abs=0.0005)
    (shorter,) = [s for s in mark.steps if s.kind == "length-on-the-grid"]
    assert shorter["length"] == length(100.0)
    assert shorter["surface"] == term("distance-ground")
    assert shorter.get("scale") == pytest.approx(0.999690, abs=1e-6)
    assert shorter.get("grid") == pytest.approx(99.969, abs=0.0005)


@pytest.mark.parametrize(("side", "north"), [("L", 40.0), ("R", -40.0)])
def test_two_arcs_meet_on_the_side_that_was_keyed(side, north):
    """A 3-4-5 triangle: 50 m from the target, sqrt(70² + 40²) from the east post."""
    keyed = keying(
        Method.ARCS,
        distance_m=50.0,
        from_place="centre",
        distance2_m=hypot(70.0, 40.0),
        from2_place="east post",
        side=side,
    )

    mark = reduce_keying(keyed, site(DistanceKind.GRID), "centre")

    assert away(mark) == pytest.approx((30.0, north), abs=1e-6)
    assert mark.distance_m == 50
    assert mark.warnings == ()


@pytest.mark.parametrize("kind", list(DistanceKind))
@pytest.mark.parametrize("side", ["L", "R"])
def test_arcs_agree_with_a_general_solver(kind, side):
    """Scipy's least squares on the distances of the site itself."""
    made = site(kind)
    keyed = keying(
        Method.ARCS,
        distance_m=77.7,
        from_place="north post",
        distance2_m=88.8,
        from2_place="east post",
        side=side,
    )

    mark = reduce_keying(keyed, made, "centre")

    def misfit(p):
        spot = CENTRE[0] + p[0], CENTRE[1] + p[1]
        return (
            made.distance_m("north post", spot) - 77.7,
            made.distance_m("east post", spot) - 88.8,
        )

    # left of the line from north to east lies the far side from the target
    start = (90.0, 90.0) if side == "L" else (10.0, 10.0)
    found = least_squares(misfit, start, jac="3-point", diff_step=1e-4, xtol=1e-12)
    assert away(mark) == pytest.approx(tuple(found.x), abs=1e-5)
    inverse = np.linalg.inv(
        found.jac.T
        @ np.diag(
            [1 / made.sigmas.taped_m(77.7) ** 2, 1 / made.sigmas.taped_m(88.8) ** 2]
        )
        @ found.jac
    )
    np.testing.assert_allclose(mark.covariance, inverse, rtol=2e-3, atol=1e-8)


def test_arcs_that_cannot_meet_say_by_how_much():
    keyed = keying(
        Method.ARCS,
        distance_m=40.0,
        from_place="centre",
        distance2_m=50.0,
        from2_place="east post",
        side="L",
    )

    with pytest.raises(GeometryError) as caught:
        reduce_keying(keyed, SITE, "centre")
    assert caught.value.says.kind == "arcs-too-short"
    assert caught.value.says.get("gap") == pytest.approx(10.0, abs=0.005)
    assert "together too short by 10.00 m" in said(caught.value)


def test_one_arc_within_the_other_says_by_how_much():
    keyed = keying(
        Method.ARCS,
        distance_m=160.0,
        from_place="centre",
        distance2_m=50.0,
        from2_place="east post",
        side="L",
    )

    with pytest.raises(GeometryError) as caught:
        reduce_keying(keyed, SITE, "centre")
    assert caught.value.says.kind == "arcs-too-long"
    assert caught.value.says.get("gap") == pytest.approx(10.0, abs=0.005)


def test_arcs_from_one_and_the_same_point_fix_nothing():
    keyed = keying(
        Method.ARCS,
        distance_m=16.0,
        from_place="centre",
        distance2_m=16.0,
        from2_place="centre",
        side="L",
    )

    with pytest.raises(GeometryError) as caught:
        reduce_keying(keyed, SITE, "centre")
    assert caught.value.says.kind == "arcs-from-one-point"
    assert "are the same point" in said(caught.value)
    assert pickle.loads(pickle.dumps(caught.value)).says == caught.value.says


@pytest.mark.parametrize(
    ("first", "second", "east"),
    [(40.0, 59.98, 40.01), (150.0, 49.97, 149.985), (50.0, 150.03, -50.015)],
)
def test_arcs_that_miss_by_less_than_a_tape_may_err_touch(first, second, east):
    keyed = keying(
        Method.ARCS,
        distance_m=first,
        from_place="centre",
        distance2_m=second,
        from2_place="east post",
        side="L",
    )

    mark = reduce_keying(keyed, site(DistanceKind.GRID), "centre", EXACT)

    assert away(mark) == pytest.approx((east, 0.0), abs=1e-6)
    (doubt,) = mark.warnings
    assert doubt.kind == "arcs-miss-each-other"
    gap = max(100.0 - first - second, abs(first - second) - 100.0)
    assert doubt.get("gap") == pytest.approx(gap, abs=1e-6)
    assert mark.distance_m == pytest.approx(abs(east), abs=1e-6)


def test_the_uncertainty_of_touching_arcs_is_what_a_simulation_gives():
    """Random tape errors on arcs that just cut: the spread off the line, within a half.

    Two arcs of 50 m over a base of 100 m, 1 cm each: sqrt(2 x 1.41 cm x 25 m) = 0.84 m.
    """
    made = site(DistanceKind.GRID)
    rng = np.random.default_rng(11)
    spread = []
    for _ in range(300):
        a, b = 50 + rng.normal(0, 0.01, 2)
        overlap = a + b - 100
        if overlap > 0:
            spread.append(sqrt(overlap * 2 * a * b / (a + b)))
    keyed = keying(
        Method.ARCS,
        distance_m=50.0,
        from_place="centre",
        distance2_m=50.0,
        from2_place="east post",
        side="L",
    )

    mark = reduce_keying(keyed, made, "centre", EXACT)

    assert mark.ellipse.bearing_deg == pytest.approx(0, abs=1e-3)
    assert mark.ellipse.major_m == pytest.approx(0.8409, abs=1e-3)
    simulated = sqrt(np.mean(np.square(spread)))
    assert simulated / 1.5 < mark.ellipse.major_m < simulated * 1.5
    assert mark.ellipse.minor_m == pytest.approx(0.00707, abs=1e-4)


def test_arcs_that_cut_at_a_small_angle_are_warned_of():
    keyed = keying(
        Method.ARCS,
        distance_m=52.0,
        from_place="centre",
        distance2_m=50.0,
        from2_place="east post",
        side="L",
    )

    mark = reduce_keying(keyed, SITE, "centre")

    (doubt,) = mark.warnings
    assert doubt.kind == "arcs-cut-badly"
    assert doubt["angle"] == angle(157)
    assert "meet at 157.00° and fix the point badly" in said(doubt)
    assert (doubt["least"], doubt["most"]) == (angle(30.0), angle(150.0))
    assert mark.ellipse.major_m > 4 * mark.ellipse.minor_m


@settings(max_examples=60)
@given(
    east=st.floats(-150, 250),
    north=st.floats(2, 150) | st.floats(-150, -2),
    kind=st.sampled_from(list(DistanceKind)),
)
def test_arcs_find_the_point_that_the_distances_came_from(east, north, kind):
    made = site(kind)
    spot = CENTRE[0] + east, CENTRE[1] + north
    keyed = keying(
        Method.ARCS,
        distance_m=made.distance_m("centre", spot),
        from_place="centre",
        distance2_m=made.distance_m("east post", spot),
        from2_place="east post",
        side="L" if north > 0 else "R",
    )

    mark = reduce_keying(keyed, made, "centre")

    assert mark.point == pytest.approx(spot, abs=1e-4)


@settings(max_examples=60)
@given(
    distance=st.floats(0, 3000),
    bearing=st.floats(0, 359.99),
    post=st.sampled_from(["centre", "east post", "north post"]),
    north=st.sampled_from(list(North)),
)
def test_polar_undoes_a_bearing_and_a_distance(distance, bearing, post, north):
    made = site(declination_deg=-3.5)
    keyed = keying(
        Method.POLAR,
        distance_m=distance,
        bearing_deg=bearing,
        north=north,
        from_place=post,
    )

    mark = reduce_keying(keyed, made, "centre")

    assert made.distance_m(post, mark.point) == pytest.approx(distance, abs=1e-6)
    if distance > 1:
        grid = made.grid_bearing_deg(post, bearing, north, distance)
        turn = made.bearing_deg(post, mark.point) - grid
        assert (turn + 180) % 360 - 180 == pytest.approx(0, abs=1e-5)


def test_grid_coordinates_are_the_point():
    keyed = keying(Method.GRID, easting_m=CENTRE[0] + 30, northing_m=CENTRE[1] - 40)

    mark = reduce_keying(keyed, site(DistanceKind.GRID), "centre")

    assert away(mark) == (30, -40)
    assert mark.distance_m == pytest.approx(50.0)
    assert mark.sigma_m == pytest.approx(3.0)


def test_latitude_and_longitude_are_projected():
    keyed = keying(Method.LATLON, lat_deg=42.001, lon_deg=-1.502)

    mark = reduce_keying(keyed, SITE, "centre")

    assert mark.point == PLANE.to_plane(42.001, -1.502)
    assert mark.steps[0].get("lat") == 42.001
    assert said(mark.steps[0]) == "42.001000° N, 1.502000° W (WGS84)"


def test_coordinates_at_zero_are_coordinates():
    """0 is a longitude like any other, not a field left empty."""
    mark = reduce_keying(keying(Method.LATLON, lat_deg=42.0, lon_deg=0.0), SITE)

    assert mark.point == PLANE.to_plane(42.0, 0.0)


def test_no_mark_found_is_no_distance():
    mark = reduce_keying(keying(Method.NONE, mark="B"), SITE, "centre")

    assert (mark.point, mark.distance_m, mark.sigma_m) == (None, None, None)
    assert mark.label == "B"


def test_without_a_target_there_is_a_point_and_no_distance():
    keyed = keying(
        Method.POLAR, distance_m=5.0, bearing_deg=0.0, from_place="east post"
    )

    mark = reduce_keying(keyed, SITE)

    assert mark.distance_m is None
    assert mark.point is not None


@pytest.mark.parametrize(
    ("fields", "empty"),
    [
        ({"method": Method.TAPE}, ["distance"]),
        ({"method": Method.POLAR, "distance_m": 1.0}, ["bearing"]),
        (
            {"method": Method.ARCS, "from_place": "centre"},
            ["distance", "distance2", "from2", "side"],
        ),
        ({"method": Method.GRID, "easting_m": 1.0}, ["northing"]),
        ({"method": Method.LATLON}, ["lat", "lon"]),
    ],
)
def test_every_field_a_method_lacks_is_named_with_its_line(fields, empty):
    keyed = keying(origin=Origin(where="flights/1/marks.csv", line=9), **fields)

    with pytest.raises(InputError) as caught:
        reduce_keying(keyed, SITE, "centre")

    faults = caught.value.faults
    assert [f.field for f in faults] == empty
    assert {(f.where, f.line) for f in faults} == {("flights/1/marks.csv", 9)}
    assert all("Pilot 7" in f.remedy for f in faults)
    assert [f.says["lacks"] for f in faults] == [term(f"entry-{e}") for e in empty]
    assert "the entry lacks" in said(caught.value)


def test_an_unknown_point_is_a_fault_of_the_keyed_row():
    keyed = keying(
        Method.POLAR,
        distance_m=1.0,
        bearing_deg=1.0,
        from_place="est post",
        origin=Origin(where="marks.csv", line=4),
    )

    with pytest.raises(InputError, match='Did you mean "east post"') as caught:
        reduce_keying(keyed, SITE, "centre")

    assert (caught.value.faults[0].line, caught.value.faults[0].field) == (4, "from")


@pytest.mark.parametrize("metres", [-0.01, float("nan"), float("inf")])
def test_a_distance_that_is_none_is_refused(metres):
    with pytest.raises(InputError, match="not negative"):
        reduce_keying(keying(Method.TAPE, distance_m=metres), SITE, "centre")


def test_a_tape_that_goes_from_elsewhere_needs_a_bearing():
    keyed = keying(Method.TAPE, distance_m=5.0, from_place="east post")

    with pytest.raises(InputError, match="another point than the task's target"):
        reduce_keying(keyed, SITE, "centre")


def test_a_logger_mark_is_not_reduced_here():
    with pytest.raises(ValueError, match="track"):
        reduce_keying(keying(Method.LOG), SITE, "centre")


def test_the_place_s_own_uncertainty_counts_except_at_the_target():
    sigmas = SurveySigmas(tape_m=0.03, tape_per_m=0, bearing_deg=1e-6, place_m=0.04)
    from_post = keying(
        Method.POLAR, distance_m=10.0, bearing_deg=0.0, from_place="east post"
    )
    from_target = keying(Method.POLAR, distance_m=10.0, bearing_deg=0.0)

    assert reduce_keying(from_post, SITE, "centre", sigmas).ellipse.major_m == (
        pytest.approx(0.05)
    )
    assert reduce_keying(from_target, SITE, "centre", sigmas).sigma_m == 0.03


def test_a_mark_on_the_target_has_an_uncertainty_all_the_same():
    mark = mark_at(CENTRE, ((9.0, 0.0), (0.0, 9.0)), SITE, "centre", method=Method.LOG)

    assert mark.distance_m == 0
    assert mark.sigma_m == 3


@settings(max_examples=30)
@given(
    along=st.floats(0, 90),
    across=st.floats(-60, 60),
    turn=st.sampled_from([("centre", "east post"), ("north post", "centre")]),
)
def test_chainage_and_offset_give_the_point_square_to_the_line(along, across, turn):
    made = site(DistanceKind.GRID)
    start, end = (made.point(name) for name in turn)

    got = alone(made, offset_from_line(made, *turn, along, across))

    bearing = radians(made.bearing_deg(*turn))
    wanted = (
        start[0] + along * sin(bearing) + across * cos(bearing),
        start[1] + along * cos(bearing) - across * sin(bearing),
    )
    assert got == pytest.approx(wanted, abs=1e-6)
    assert end != start


def test_imperial_events_read_feet_and_inches_in_the_steps():
    keyed = keying(Method.TAPE, distance_m=12.34)

    mark = reduce_keying(keyed, site(units=Units.IMPERIAL), "centre")

    feet = Voice(units=Units.IMPERIAL)
    assert [said(s, feet) for s in mark.steps] == ["taped 40 ft 5.8 in from centre"]


@pytest.mark.parametrize(("side", "across"), [("R", -12.0), ("L", 12.0)])
def test_an_offset_from_a_line_gives_the_point_and_its_distance(side, across):
    """By hand: 30 m from the target towards the east post, 12 m to the right of it (south)
    or to the left (north): √(30² + 12²) = 32.311 m."""
    made = site(DistanceKind.GRID)
    keyed = keying(
        Method.OFFSET,
        distance_m=30.0,
        distance2_m=12.0,
        from_place="centre",
        from2_place="east post",
        side=side,
    )

    mark = reduce_keying(keyed, made, "centre")

    assert away(mark) == pytest.approx((30.0, across), abs=1e-6)
    assert mark.distance_m == pytest.approx(32.3110, abs=1e-4)
    assert mark.steps[0] == fact(
        "offset-from-line",
        along=length(30.0),
        start=place("centre"),
        end=place("east post"),
        across=length(12.0),
        side=term("right" if side == "R" else "left"),
    )
    assert mark.ellipse.major_m < 2.0


def test_an_offset_without_its_side_is_refused():
    made = site(DistanceKind.GRID)
    keyed = keying(
        Method.OFFSET,
        distance_m=30.0,
        distance2_m=12.0,
        from_place="centre",
        from2_place="east post",
    )

    with pytest.raises(InputError, match="side"):
        reduce_keying(keyed, made, "centre")
