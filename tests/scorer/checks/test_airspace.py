"""Prohibited airspace and boundaries: depth, limits of height, and how sure it is."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import Point, Polygon

from scorer.checks.airspace import check_airspace
from scorer.checks.boundary import check_boundary
from scorer.checks.edges import ACCURACY_M, accuracy_m, depth_inside_m
from scorer.event.finding import Verdict
from scorer.event.rulebook import AirspaceRule, BoundaryRule, PenaltyRule, RuleBook
from tests.scorer.checks.invented import CENTRE, PLACES, SITE, START_S, about, track

TOWN = next(p for p in PLACES if p.name == "town")
"""600 m square about 2000 m west of the centre, from 0 to 900 m above the sea."""
A_METRE = (PenaltyRule(unit="task points", per=1.0, of="m", cap=1000.0),)


def past(north_m, altitude_m, *, step_s=1.0, **more):
    """Due east at 5 m/s past the town."""
    time = np.arange(0.0, 600.0, step_s)
    return track(
        time, -3500.0 + 5.0 * time, altitude_m - 641.0, north_m=north_m, **more
    )


def entries(flown, place=TOWN, **rule):
    book = RuleBook(name="test", airspace=AirspaceRule(penalty=A_METRE, **rule))
    return check_airspace(flown, about(book, prohibited=(place,))).findings


def test_a_track_past_or_above_is_in_order():
    assert entries(past(400.0, 700.0)) == ()
    assert entries(past(0.0, 950.0)) == ()


def test_through_the_middle_the_nearest_way_out_is_the_depth():
    (found,) = entries(past(200.0, 700.0))

    assert found.verdict is Verdict.CERTAIN
    assert found.measured == pytest.approx(100.0, abs=0.1)
    assert found.penalty.amount == 100
    assert found.from_s == pytest.approx(START_S + 240.0, abs=0.1)
    assert found.to_s == pytest.approx(START_S + 360.0, abs=0.1)
    assert found.details["place"] == "town"
    assert found.says.kind == "seen-airspace"
    assert found.says.get("place") == "town"
    assert found.says.get("depth") == found.measured
    assert found.says.get("duration") == pytest.approx(120.0, abs=0.2)


def test_just_under_the_upper_limit_the_way_up_is_the_depth():
    (found,) = entries(past(0.0, 890.0))

    assert found.measured == pytest.approx(10.0, abs=0.1)
    assert found.details["altitude_m"] == pytest.approx(890.0)


def test_within_the_uncertainty_of_the_altitude_it_is_possible_only():
    (found,) = entries(past(0.0, 899.0, sigma_m=1.0))

    assert found.verdict is Verdict.POSSIBLE
    assert found.probability == pytest.approx(0.841, abs=0.01)  # Φ(1)


def test_without_a_stand_on_the_ground_a_limited_airspace_is_possible_only():
    low = past(0.0, 700.0, anchored=False)

    (limited,) = entries(low)
    (unlimited,) = entries(low, replace(TOWN, lower_m=None, upper_m=None))

    assert limited.verdict is Verdict.POSSIBLE
    assert unlimited.verdict is Verdict.CERTAIN


def test_below_the_lower_limit_is_in_order():
    assert entries(past(0.0, 700.0), replace(TOWN, lower_m=750.0)) == ()


def test_a_depth_within_the_tolerance_is_let_pass():
    assert entries(past(280.0, 700.0), tolerance_m=50.0) == ()
    assert len(entries(past(200.0, 700.0), tolerance_m=50.0)) == 1


def test_a_corner_cut_between_two_fixes_is_found():
    """Fixes every 60 s lie 300 m apart; none of them is inside."""
    time = np.arange(0.0, 600.0, 60.0)
    east, north = -2600.0 + 3.6 * time, 3.6 * time - 60.0
    flown = track(time, east, 60.0, north_m=north)
    town = SITE.area("town")
    places = zip(flown.east_m, flown.north_m, strict=True)
    assert not any(town.contains(Point(p)) for p in places)

    (found,) = entries(flown)

    assert found.verdict is Verdict.CERTAIN
    # The line north = east + 2540 m leaves the corner at -2300, 300 by 60 / sqrt 2.
    assert 25.0 < found.measured < 45.0


def test_a_track_that_has_no_fix_in_the_air_enters_nothing():
    flown = past(0.0, 700.0, launch=0, landing=0)

    assert entries(flown) == ()


def stays_within(flown, **rule):
    book = RuleBook(
        name="test", boundary=BoundaryRule(within="field", penalty=A_METRE, **rule)
    )
    return check_boundary(flown, about(book)).findings


def test_inside_the_boundary_is_in_order():
    assert stays_within(past(0.0, 700.0)) == ()


def test_leaving_the_boundary_tells_how_far_and_how_long():
    time = np.arange(0.0, 900.0)
    north = 3500.0 + 600.0 * np.sin(np.pi * time / 900.0)

    (found,) = stays_within(track(time, 0.0, 100.0, north_m=north))

    # 600 sin(x) > 500 from x = 0.985: 900 s (π − 2 · 0.9851) / π = 335.6 s.
    assert found.measured == pytest.approx(100.0, abs=0.1)
    assert found.duration_s == pytest.approx(335.6, abs=0.3)
    assert found.penalty.amount == 100
    assert found.says.kind == "seen-outside-boundary"
    assert found.says.get("depth") == found.measured


def test_on_the_line_it_is_possible_only():
    (found,) = stays_within(
        track(np.arange(300.0), 0.0, 100.0, north_m=np.full(300, 4001.0))
    )

    assert found.verdict is Verdict.POSSIBLE
    assert found.probability == pytest.approx(0.691, abs=0.01)  # Φ(1 m / 2 m)


def test_inside_but_within_the_uncertainty_of_the_line_it_is_possible_with_no_excess():
    (found,) = stays_within(
        track(np.arange(300.0), 0.0, 100.0, north_m=np.full(300, 3999.0))
    )

    assert found.verdict is Verdict.POSSIBLE
    assert (found.excess, found.duration_s) == (0.0, 299.0)


def test_two_excursions_are_two_findings_and_a_short_return_is_none():
    time = np.arange(0.0, 1200.0)
    back = [(0, 3900), (100, 4100), (300, 4100), (310, 3980), (320, 4100), (500, 4100)]
    back += [(600, 3700), (800, 3700), (900, 4050), (1000, 3700)]
    north = np.interp(time, *zip(*back, strict=True))

    found = stays_within(track(time, 0.0, 100.0, north_m=north))

    assert [round(f.measured) for f in found] == [100, 50]


def test_without_a_boundary_in_the_book_nothing_is_asked():
    assert check_boundary(past(0.0, 700.0), about()).findings == ()


def test_a_boundary_narrower_than_the_margin_is_measured_everywhere():
    time = np.arange(60.0)
    book = RuleBook(name="test", boundary=BoundaryRule(within="narrow"))
    narrow = Polygon([(-30, -30), (30, -30), (30, 30), (-30, 30)])
    shifted = Polygon(
        [(x + CENTRE[0], y + CENTRE[1]) for x, y in narrow.exterior.coords]
    )
    rules = about(book, site=replace(SITE, areas={"narrow": shifted}))

    seen = check_boundary(track(time, 40.0, 100.0), rules)

    assert seen.findings[0].measured == pytest.approx(10.0, abs=0.01)


def test_depth_is_the_distance_to_the_outline_with_its_sign():
    area = Polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    east, north = np.array([5.0, 5.0, 13.0]), np.array([5.0, 9.0, 14.0])

    np.testing.assert_allclose(depth_inside_m(area, east, north), [5.0, 1.0, -5.0])


def test_a_fix_without_accuracy_is_given_the_usual_one():
    flown = track(np.arange(3.0), 0.0, 0.0, accuracy_m=np.array([np.nan, 0.0, 1.5]))

    assert accuracy_m(flown).tolist() == [ACCURACY_M, ACCURACY_M, 1.5]
