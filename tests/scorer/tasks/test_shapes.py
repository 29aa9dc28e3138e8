"""Elbow, land run and angle: worked cases by hand, and what must not change them."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.event.model import DistanceKind, North
from scorer.facts import fact, inner, term, words
from scorer.facts import place as named
from scorer.geodesy.plane import Plane
from scorer.tasks.geometry import (
    bearing_deg,
    corner_deg,
    propagate,
    round_covariance,
    signed_corner_deg,
    triangle_m2,
    turn_deg,
)
from tests.helpers import said
from tests.scorer.tasks.evidence import (
    CORNER,
    make_flown,
    make_mark,
    make_site,
    result,
    stated,
    taped,
)

SITE = make_site({"centre": (0, 0)}, {"field": ((-5000, -5000), (5000, 5000))})


@pytest.mark.parametrize(
    ("a", "b", "c", "expected"),
    [
        ((0, 0), (1000, 0), (2000, 0), 0.0),  # straight on
        ((0, 0), (1000, 0), (1000, 1000), 90.0),  # square to the left
        ((0, 0), (1000, 0), (1000, -1000), 90.0),  # square to the right
        ((0, 0), (1000, 0), (0, 0), 180.0),  # back again
        ((0, 0), (1000, 0), (1500, 866.02540378), 60.0),  # equilateral: 180 − 120
    ],
)
def test_elbow_is_180_degrees_minus_the_angle_abc(a, b, c, expected):
    got = result("ELB", site=SITE, marks={"A": a, "B": b, "C": c})

    assert got.value == pytest.approx(expected, abs=1e-6)


def test_elbow_takes_places_the_launch_and_marks_for_its_points():
    """Launch (0, −1000), centre (0, 0), mark C (1000, 0): a right angle."""
    got = result(
        "ELB",
        site=SITE,
        roles={"B": "centre"},
        targets=("centre",),
        marks={"C": (1000, 0)},
        flown=make_flown([(0, 0, -1000), (600, 0, 0), (1200, 1000, 0)], accuracy=2.0),
        settings={"launch_is": "A"},
    )

    assert got.value == pytest.approx(90.0, abs=1e-6)
    # only the launch is uncertain: 2 m across a leg of 1000 m
    assert got.sigma == pytest.approx(math.degrees(2 / 1000), rel=1e-3)


def test_the_sigma_of_a_straight_elbow_does_not_fold_to_nothing():
    """C uncertain by 1 m across a leg of 1000 m turns the leg by 0.0573°."""
    marks = {"A": (0, 0), "B": (1000, 0), "C": make_mark((2000, 0), 1.0, label="C")}

    got = result("ELB", site=SITE, marks=marks)

    assert got.sigma == pytest.approx(math.degrees(1 / 1000), rel=1e-3)


@pytest.mark.parametrize("kind", ["ELB", "LRN"])
@pytest.mark.parametrize(
    ("marks", "reason"),
    [
        ({"A": (0, 0), "B": (5, 5)}, "mark-not-entered"),
        ({"A": (0, 0), "B": (0, 0), "C": (9, 9)}, "one-point"),
        ({"A": (0, 0), "B": (9, 9), "C": taped(5.0)}, "mark-without-bearing"),
    ],
)
def test_three_points_that_make_no_figure_are_no_result(kind, marks, reason):
    got = result(kind, site=SITE, marks=marks)

    assert got.value is None
    assert got.reason.kind == reason
    last = inner(
        fact("mark-of-role", role=words("B" if reason == "one-point" else "C"))
    )
    assert last in dict(got.reason.values).values()


def test_a_place_of_the_task_goes_before_a_mark_with_its_role():
    got = result(
        "ELB",
        site=SITE,
        roles={"A": "centre"},
        targets=("centre",),
        marks={"A": (50, 50), "B": (1000, 0), "C": (1000, 1000)},
    )

    assert got.value == pytest.approx(90.0, abs=1e-6)
    assert stated(got, "mark-beside-place")["place"] == named("centre")


def test_a_mark_outside_the_scoring_area_is_no_corner():
    marks = {"A": (0, 0), "B": (1000, 0), "C": (1000, 6000)}

    got = result("LRN", site=SITE, scoring_areas=("field",), marks=marks)

    assert got.value is None
    outside = stated(got.reason, "outside-area")
    assert said(outside).startswith("mark C is outside the scoring area field by ")


def test_land_run_is_the_area_of_the_triangle():
    """Legs 3 km and 4 km at a right angle: 6 km²."""
    marks = {"A": (0, 3000), "B": (0, 0), "C": (4000, 0)}

    got = result("LRN", site=SITE, marks=marks)

    assert got.value == pytest.approx(6.0, abs=1e-9)
    assert got.sigma == pytest.approx(0.0, abs=1e-12)


def test_the_sigma_of_an_area_is_half_the_base_times_that_of_the_height():
    """A moves 2 m; of 4 km base ½ · 4000 · 2 = 4000 m² = 0.004 km²."""
    marks = {"A": make_mark((0, 3000), 2.0), "B": (0, 0), "C": (4000, 0)}

    got = result("LRN", site=SITE, marks=marks)

    assert got.sigma == pytest.approx(0.004, rel=1e-6)


def test_points_in_a_line_have_no_area_but_a_result():
    marks = {"A": (0, 0), "B": (1000, 0), "C": make_mark((2000, 0), 2.0)}

    got = result("LRN", site=SITE, marks=marks)

    assert got.value == pytest.approx(0.0, abs=1e-9)
    assert got.sigma == pytest.approx(0.001, rel=1e-6)  # ½ · 1000 · 2 m²


def test_an_area_on_the_ground_is_that_of_its_sides_on_the_ground():
    """At 2000 m above the sea a length is longer by 2000/6371000, an area by twice that.

    Against GeographicLib's area of the geodesic polygon, raised by the square.
    """
    geodesic = pytest.importorskip("geographiclib.geodesic").Geodesic.WGS84
    spots = {"p": (0, 3000, 2000.0), "q": (0, 0, 2000.0), "r": (4000, 0, 2000.0)}
    site = make_site(spots, kind=DistanceKind.GROUND)
    ring = geodesic.Polygon()
    for name in "pqr":
        ring.AddPoint(*site.plane.to_wgs84(*site.point(name)))
    _, _, area = ring.Compute()
    raised = abs(area) * (1 + 2000 / 6_371_000) ** 2

    got = result(
        "LRN",
        site=site,
        roles={"A": "p", "B": "q", "C": "r"},
        targets=("p", "q", "r"),
    )

    # the mean radius stands for that of each line here: 0.6 % of the raise
    assert got.value == pytest.approx(raised / 1e6, rel=5e-6)


@pytest.mark.parametrize(
    ("direction", "b", "expected"),
    [
        (0, (0, 1000), 0.0),
        (0, (1000, 0), 90.0),
        (350, (1000, 1000), 55.0),  # 45 − 350 + 360
        (90, (-1000, 0), 180.0),
        ("270", (0, -1000), 90.0),
    ],
)
def test_angle_is_between_the_set_direction_and_the_line(direction, b, expected):
    got = result(
        "ANG",
        site=SITE,
        targets=("centre",),
        marks={"": b},
        settings={"direction": direction},
    )

    assert got.value == pytest.approx(expected, abs=1e-6)


def test_a_true_direction_is_turned_by_the_convergence():
    """60 km west of the central meridian at 40.4° N grid north lies west of true north."""
    convergence = float(Plane("EPSG:25830").convergence_deg(*CORNER))
    assert convergence == pytest.approx(
        -0.4581, abs=2e-3
    )  # Δλ sin φ = −0.7071° · 0.648

    got = result(
        "ANG",
        site=SITE,
        targets=("centre",),
        marks={"": (0, 1000)},
        settings={"direction": "0 T"},
    )

    # true north is grid bearing −convergence; arc-to-chord of 1 km is under 0.00001°
    assert got.value == pytest.approx(abs(convergence), abs=1e-4)


def test_a_magnetic_direction_needs_the_events_declination():
    asked = {
        "targets": ("centre",),
        "marks": {"": (0, 1000)},
        "settings": {"direction": "10 M"},
    }
    without = result("ANG", site=SITE, **asked)
    site = make_site({"centre": (0, 0)}, declination_deg=-2.0)
    grid = site.grid_bearing_deg("centre", 10.0, North.MAGNETIC, 1000.0)

    got = result("ANG", site=site, **asked)

    assert without.value is None
    assert without.reason == stated(without, "declination-missing")
    assert got.value == pytest.approx(grid, abs=1e-6)
    assert grid == pytest.approx(8.0 + 0.4581, abs=2e-3)


def test_angle_without_a_line_is_no_result():
    got = result(
        "ANG",
        site=SITE,
        targets=("centre",),
        marks={"": (0, 0)},
        settings={"direction": 0},
    )

    assert got.value is None
    assert got.reason == fact("one-point", start=named("centre"), end=term("mark"))


LOCAL = st.floats(-4000, 4000).map(lambda v: round(v, 2))
POINTS = st.lists(st.tuples(LOCAL, LOCAL), min_size=3, max_size=3)


def _turned(point, degrees, shift):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    e, n = point
    return (e * c - n * s + shift[0], e * s + n * c + shift[1])


@settings(max_examples=40)
@given(POINTS, st.floats(0, 360), st.tuples(LOCAL, LOCAL))
def test_elbow_and_area_do_not_change_when_the_field_is_moved_and_turned(
    p, turn, shift
):
    moved = [_turned(point, turn, shift) for point in p]
    for kind, tolerance in (("ELB", 1e-5), ("LRN", 1e-6)):
        first = result(kind, site=SITE, marks=dict(zip("ABC", p, strict=True)))
        again = result(kind, site=SITE, marks=dict(zip("ABC", moved, strict=True)))
        legs = [math.dist(p[i], p[i + 1]) for i in (0, 1)]
        if min(legs) > 1.0:
            assert again.value == pytest.approx(first.value, abs=tolerance)


@given(POINTS, st.floats(0.1, 10))
def test_a_figure_of_another_scale_has_the_same_corner_and_the_square_area(p, scale):
    a, b, c = p
    larger = [(e * scale, n * scale) for e, n in p]

    sides = [math.dist(x, y) for x, y in ((a, b), (b, c), (c, a))]

    if min(sides[:2]) > 0.01:
        assert corner_deg(*larger) == pytest.approx(corner_deg(a, b, c), abs=1e-6)
    assert triangle_m2(*(s * scale for s in sides)) == pytest.approx(
        triangle_m2(*sides) * scale**2, rel=1e-9, abs=3e-8 * (max(sides) * scale) ** 2
    )


@given(POINTS)
def test_herons_area_is_that_of_the_cross_product(p):
    (ax, ay), (bx, by), (cx, cy) = p
    sides = [math.dist(x, y) for x, y in zip(p, p[1:] + p[:1], strict=True)]
    cross = abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 2

    # a flat triangle loses half the digits: √(eps) of the longest side's square
    assert triangle_m2(*sides) == pytest.approx(
        cross, abs=3e-8 * max(sides) ** 2 + 1e-9
    )


@given(st.floats(0, 359.99), st.floats(0, 359.99))
def test_a_turn_is_the_smaller_one_and_the_same_both_ways(first, second):
    turn = turn_deg(first, second)

    assert 0 <= turn <= 180
    assert turn == pytest.approx(turn_deg(second, first), abs=1e-9)
    assert math.cos(math.radians(turn)) == pytest.approx(
        math.cos(math.radians(second - first)), abs=1e-9
    )


def test_sigmas_agree_with_a_simulation():
    """First-order sigma of a corner against 40,000 draws, to 2 %."""
    rng = np.random.default_rng(5)
    points = [(0.0, 0.0), (900.0, 100.0), (1200.0, 1100.0)]
    sigmas = (3.0, 2.0, 5.0)
    noise = rng.normal(size=(40_000, 3, 2)) * np.array(sigmas)[:, None]
    drawn = np.array(points) + noise
    ba, bc = drawn[:, 0] - drawn[:, 1], drawn[:, 2] - drawn[:, 1]
    angles = np.degrees(
        np.arctan2(ba[:, 0] * bc[:, 1] - ba[:, 1] * bc[:, 0], (ba * bc).sum(axis=1))
    )

    sigma = propagate(
        lambda moved: signed_corner_deg(*moved),
        points,
        [round_covariance(s) for s in sigmas],
        360.0,
    )

    assert sigma == pytest.approx(angles.std(), rel=0.02)


def test_a_bearing_across_north_has_no_jump_in_its_sigma():
    points, spread = [(0.0, 0.0), (0.0, 1000.0)], round_covariance(1.0)

    sigma = propagate(lambda p: bearing_deg(*p), points, [spread, spread], 360.0)

    assert sigma == pytest.approx(math.degrees(2**0.5 / 1000), rel=1e-5)
