"""Least squares against scipy, numpy and worked textbook arithmetic."""

import re
from dataclasses import replace
from math import hypot

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.stats import chi2

from scorer.errors import GeometryError
from scorer.event.model import DistanceKind, Method, Units
from scorer.facts import Measure, count, fact, inner, place, term, words
from scorer.geodesy.adjust import SUSPECT, adjust
from scorer.geodesy.observation import Observation, Observed
from scorer.geodesy.redundant import adjust_keyings, observe
from scorer.geodesy.survey import reduce_keying
from scorer.words.voice import Voice
from tests.helpers import lines, said
from tests.scorer.geodesy.meadow import CENTRE, keying, site

SITE = site()
GRID = site(DistanceKind.GRID)


def distance(name, value, sigma=0.02, made=SITE):
    return Observation(
        kind=Observed.DISTANCE,
        value=value,
        sigma=sigma,
        spot=made.spot(name),
        label=place(name),
    )


def bearing(name, value, sigma=0.5, made=SITE):
    return Observation(
        kind=Observed.BEARING,
        value=value,
        sigma=sigma,
        spot=made.spot(name),
        label=place(name),
    )


def coordinates(east, north, sigma=3.0):
    return (
        Observation(kind=Observed.EAST, value=east, sigma=sigma, label=term("east")),
        Observation(kind=Observed.NORTH, value=north, sigma=sigma, label=term("north")),
    )


def seen_from(made, spot, noise=(0.0,) * 5):
    """All kinds of observations of a point, with errors in sigmas."""
    names = ("centre", "east post", "north post")
    exact = [distance(n, made.distance_m(n, spot), made=made) for n in names]
    exact += [bearing(n, made.bearing_deg(n, spot), made=made) for n in names[:2]]
    return [
        replace(o, value=o.value + e * o.sigma)
        for o, e in zip(exact, noise, strict=True)
    ]


def misfit(observations, made, p):
    """An independent second writing of the observation equations."""
    east, north = CENTRE[0] + float(p[0]), CENTRE[1] + float(p[1])
    out = []
    for o in observations:
        if o.kind is Observed.EAST:
            out.append((o.value - east) / o.sigma)
        elif o.kind is Observed.NORTH:
            out.append((o.value - north) / o.sigma)
        elif o.kind is Observed.DISTANCE:
            out.append((o.value - made.distance_m(o.spot, (east, north))) / o.sigma)
        else:
            angle = np.degrees(
                np.arctan2(east - o.spot.point[0], north - o.spot.point[1])
            )
            out.append(((o.value - angle + 180) % 360 - 180) / o.sigma)
    return np.array(out)


noises = st.tuples(*[st.floats(-2, 2)] * 5)


@settings(max_examples=25)
@given(st.floats(10, 200), st.floats(20, 150), noises)
def test_point_and_covariance_agree_with_scipy(east, north, noise):
    spot = CENTRE[0] + east, CENTRE[1] + north
    observations = seen_from(SITE, spot, noise)

    got = adjust(observations, SITE)

    found = least_squares(
        lambda p: misfit(observations, SITE, p),
        (east, north),
        jac="3-point",
        diff_step=1e-4,
        xtol=1e-12,
    )
    apart = np.subtract(got.point, CENTRE)
    assert tuple(apart) == pytest.approx(tuple(found.x), abs=1e-4)
    assert got.chi_square == pytest.approx(2 * found.cost, abs=1e-6)
    assert got.redundancy == 3
    expected = np.linalg.inv(found.jac.T @ found.jac)
    np.testing.assert_allclose(
        got.covariance, expected, rtol=0.002, atol=1e-4 * np.trace(expected)
    )
    assert got.probability == pytest.approx(chi2.sf(got.chi_square, 3))


def test_the_mean_of_two_coordinate_pairs_by_hand():
    """Weights 1/9 and 1/1: the mean lies at 9/10 of the way to the better pair."""
    rough, fine = coordinates(10.0, 20.0, 3.0), coordinates(20.0, 20.0, 1.0)

    got = adjust([*rough, *fine], SITE)

    assert got.point == pytest.approx((19.0, 20.0), abs=1e-9)
    assert got.residuals == pytest.approx((-9.0, 0.0, 1.0, 0.0), abs=1e-9)
    assert got.covariance[0][0] == pytest.approx(0.9)
    assert got.chi_square == pytest.approx((9 / 3) ** 2 + 1)
    assert got.sigma0 == pytest.approx((10 / 2) ** 0.5)


def test_observations_that_agree_leave_no_residuals():
    spot = CENTRE[0] + 40, CENTRE[1] + 60

    got = adjust(seen_from(SITE, spot), SITE)

    assert got.point == pytest.approx(spot, abs=1e-6)
    assert got.chi_square == pytest.approx(0, abs=1e-6)
    assert got.suspect is None
    assert got.probability == pytest.approx(1)


@pytest.mark.parametrize("bad", range(5))
def test_the_observation_with_the_blunder_is_named(bad):
    noise = [0.3, -0.5, 0.2, -0.4, 0.1]
    noise[bad] = 30.0
    spot = CENTRE[0] + 45, CENTRE[1] + 30

    got = adjust(seen_from(SITE, spot, noise), SITE)

    assert got.worst == bad
    assert got.suspect == bad
    assert abs(got.normalised[bad]) > SUSPECT
    assert got.probability < 1e-6


def test_an_observation_nothing_controls_has_no_normalised_residual():
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    both = seen_from(SITE, spot)[:1] + seen_from(SITE, spot)[3:4]

    got = adjust(both, SITE)

    assert got.normalised == (None, None)
    assert (got.worst, got.suspect, got.sigma0, got.probability) == (None,) * 4
    assert got.redundancy == 0


def test_the_covariance_is_what_a_simulation_gives():
    """300 sets of random errors: the spread of the points, within a tenth."""
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    rng = np.random.default_rng(2)
    points = [
        adjust(seen_from(GRID, spot, rng.normal(size=5)), GRID).point
        for _ in range(300)
    ]

    got = adjust(seen_from(GRID, spot), GRID)

    spread = np.cov(np.transpose(points))
    np.testing.assert_allclose(np.diag(spread), np.diag(got.covariance), rtol=0.2)
    assert np.mean(points, axis=0) == pytest.approx(spot, abs=0.005)


def test_a_third_distance_decides_between_two_points():
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    two = [distance(n, SITE.distance_m(n, spot)) for n in ("centre", "east post")]
    third = distance("north post", SITE.distance_m("north post", spot))

    with pytest.raises(GeometryError) as caught:
        adjust(two, SITE)
    assert caught.value.says.kind == "two-points-fit"
    assert caught.value.says.get("apart") == pytest.approx(120.0, abs=0.1)

    assert adjust([*two, third], SITE).point == pytest.approx(spot, abs=1e-5)
    assert adjust(two, SITE, near=(spot[0], spot[1] + 9)).point == pytest.approx(
        spot, abs=1e-5
    )


def test_bearings_alone_fix_a_point_across_north():
    """One of the bearings lies on either side of 0 degrees."""
    spot = CENTRE[0] + 0.4, CENTRE[1] + 60
    lines = [
        bearing("centre", 0.5),
        bearing("east post", GRID.bearing_deg("east post", spot), made=GRID),
        bearing("centre", 359.9),
    ]

    got = adjust(lines, GRID)

    # the two bearings from the target mean to 0.2 degrees
    turn = GRID.bearing_deg("centre", got.point)
    assert (turn + 180) % 360 - 180 == pytest.approx(0.2, abs=0.01)


@pytest.mark.parametrize(
    "few",
    [
        [],
        [distance("centre", 20.0)],
        [bearing("centre", 20.0)],
        [bearing("centre", 20.0), bearing("centre", 20.0)],
        [coordinates(1.0, 2.0)[0]],
    ],
)
def test_too_little_to_fix_a_point_is_refused(few):
    with pytest.raises(GeometryError, match=r"fix no point|no point fits"):
        adjust(few, SITE)


def test_observations_without_sigma_or_value_are_refused():
    for wrong in (distance("centre", 20.0, 0.0), distance("centre", float("nan"))):
        with pytest.raises(GeometryError) as caught:
            adjust([wrong, distance("east post", 90.0)], SITE)
        assert caught.value.says == fact("observation-unusable", what=place("centre"))


ARCS = {
    "from_place": "centre",
    "from2_place": "east post",
    "side": "L",
}


def arcs_to(spot, made=SITE, **change):
    fields = {
        **ARCS,
        "distance_m": made.distance_m("centre", spot),
        "distance2_m": made.distance_m("east post", spot),
        **change,
    }
    return keying(Method.ARCS, **fields)


def test_one_keying_adjusted_is_the_keying_reduced():
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    keyed = arcs_to(spot)

    both = adjust_keyings([keyed], SITE, "centre"), reduce_keying(keyed, SITE, "centre")

    assert both[0].point == pytest.approx(both[1].point, abs=1e-6)
    np.testing.assert_allclose(both[0].covariance, both[1].covariance, rtol=1e-3)
    assert both[0].warnings == ()


def test_more_keyings_make_a_mark_surer():
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    second = arcs_to(
        spot,
        from2_place="north post",
        distance2_m=SITE.distance_m("north post", spot) + 0.03,
    )

    one = adjust_keyings([arcs_to(spot)], SITE, "centre")
    two = adjust_keyings([arcs_to(spot), second], SITE, "centre")

    assert two.ellipse.major_m < one.ellipse.major_m
    assert hypot(two.point[0] - spot[0], two.point[1] - spot[1]) < 0.03
    (fit,) = [step for step in two.steps if step.kind == "adjusted"]
    assert fit["spare"] == count(2)
    assert two.warnings == ()


@pytest.mark.parametrize(
    ("units", "lengths"),
    [
        (Units.METRIC, {"m"}),
        (Units.IMPERIAL, {"in"}),
    ],
)
def test_steps_of_a_survey_are_told_in_the_units_people_read(units, lengths):
    made = replace(SITE, units=units)
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    polar = keying(
        Method.POLAR,
        by="Vera",
        distance_m=made.distance_m("north post", spot) + 0.0254,
        bearing_deg=made.bearing_deg("north post", spot),
        from_place="north post",
    )

    steps = adjust_keyings([arcs_to(spot, made), polar], made, "centre").steps

    own = [s for s in steps if s.kind in {"observed-residual", "error-ellipse"}]
    spoken = lines(own, Voice(units=units))
    found = set(re.findall(r"[\d.] (m|ft|in)\b", "\n".join(spoken)))
    assert found - {"ft"} == lengths
    post = fact("observed-distance", start=place("north post"))
    label = inner(fact("observed-by", what=inner(post), by=words("Vera")))
    (taped,) = [s for s in own if s.get("what") == label.amount]
    assert taped.get("value") == pytest.approx(polar.distance_m)
    assert 0 < abs(taped.get("residual")) < 0.0254
    assert 0.01 < taped.get("sigma") < 0.1
    assert taped["residual"].measure is Measure.LENGTH
    turned = [s for s in own if "value" in dict(s.values)]
    assert any(s["value"].measure is Measure.ANGLE for s in turned)


def test_coordinates_stay_in_metres_in_an_imperial_event():
    made = replace(GRID, units=Units.IMPERIAL)
    spot = CENTRE[0] + 60.0, CENTRE[1] + 80.0
    receiver = keying(Method.GRID, easting_m=spot[0] + 3, northing_m=spot[1] + 4)
    tape = keying(Method.TAPE, distance_m=100.0)

    steps = adjust_keyings([receiver, tape], made, "centre").steps

    east = f"east: {Voice().number(round(spot[0] + 3, 3))} m, off by "
    spoken = lines(steps, Voice(units=Units.IMPERIAL))
    assert any(line.startswith(east) for line in spoken), spoken


def test_a_contradiction_is_warned_of_and_placed():
    spot = CENTRE[0] + 40, CENTRE[1] + 60
    wrong = keying(
        Method.POLAR,
        by="Vera",
        distance_m=SITE.distance_m("north post", spot) + 2.0,
        bearing_deg=SITE.bearing_deg("north post", spot),
        from_place="north post",
    )

    mark = adjust_keyings([arcs_to(spot), wrong], SITE, "centre")

    (doubt,) = mark.warnings
    assert doubt.kind == "survey-contradicted-by"
    assert doubt.get("chance") < 0.01
    worst = fact("observed-distance", start=place("north post"))
    assert doubt.get("what") == fact("observed-by", what=inner(worst), by=words("Vera"))
    assert "What fits worst: distance from north post, entered by Vera." in said(doubt)


@pytest.mark.parametrize("method", [Method.NONE, Method.LOG])
def test_what_observes_no_point_is_refused(method):
    with pytest.raises(GeometryError, match="measures no point"):
        observe(keying(method), SITE, "centre")


def test_coordinates_and_a_tape_share_a_mark():
    """A receiver's 3 m beside a taped distance: the tape rules along its line."""
    spot = CENTRE[0] + 60.0, CENTRE[1] + 80.0
    receiver = keying(Method.GRID, easting_m=spot[0] + 3, northing_m=spot[1] + 4)
    tape = keying(Method.TAPE, distance_m=100.0)

    mark = adjust_keyings([receiver, tape], GRID, "centre")

    assert mark.distance_m == pytest.approx(100.0, abs=0.01)
    assert mark.sigma_m == pytest.approx(0.06, abs=0.001)
    # across the tape nothing is new: one receiver, 3 m
    assert mark.ellipse.major_m == pytest.approx(3.0, abs=0.01)
    lat, lon = GRID.plane.to_wgs84(*spot)
    same = keying(Method.LATLON, lat_deg=lat, lon_deg=lon)
    assert len(observe(same, GRID)) == 2
