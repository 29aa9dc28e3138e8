"""Ways flown inside volumes of air, against shapely and against simple arithmetic."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon, box

from scorer.tasks.crossing import (
    NOWHERE,
    PlaneTrack,
    Volume,
    circle,
    clip,
    inside,
    length_m,
    minus,
    moment,
    union,
    value_at,
)

SQUARE = box(0, 0, 100, 100)


def path(points, altitude=None):
    """Return a path through points, one a second."""
    rows = np.array(points, dtype=float)
    high = np.zeros(len(rows)) if altitude is None else np.array(altitude, dtype=float)
    return PlaneTrack(np.arange(len(rows), dtype=float), rows[:, 0], rows[:, 1], high)


def legs(p):
    return np.hypot(np.diff(p.east_m), np.diff(p.north_m))


def test_a_leg_across_counts_from_outline_to_outline():
    stays = inside(path([(-50, 50), (150, 50)]), Volume(SQUARE))

    np.testing.assert_allclose(stays, [[0.25, 0.75]])


def test_stays_that_touch_at_a_fix_are_one():
    stays = inside(path([(-50, 50), (50, 50), (50, 150)]), Volume(SQUARE))

    np.testing.assert_allclose(stays, [[0.5, 1.5]])


def test_a_leg_that_only_touches_a_corner_is_outside():
    stays = inside(path([(-50, 50), (50, 150)]), Volume(box(0, 0, 100, 100)))

    assert len(stays) == 0


def test_a_leg_along_the_edge_is_inside():
    np.testing.assert_allclose(
        inside(path([(0, 0), (100, 0)]), Volume(SQUARE)), [[0, 1]]
    )


def test_a_balloon_standing_still_inside_is_inside():
    stays = inside(path([(50, 50), (50, 50), (50, 50)]), Volume(SQUARE))

    np.testing.assert_allclose(stays, [[0, 2]])


def test_a_leg_can_leave_and_come_back():
    shape = Polygon(
        [
            (0, 0),
            (100, 0),
            (100, 100),
            (60, 100),
            (60, 20),
            (40, 20),
            (40, 100),
            (0, 100),
        ]
    )

    stays = inside(path([(0, 50), (100, 50)]), Volume(shape))

    np.testing.assert_allclose(stays, [[0, 0.4], [0.6, 1]])


def test_floor_and_ceiling_cut_a_climb():
    """Climbs from 0 to 200 m: inside 50 m to 150 m is the middle half."""
    p = path([(50, 50), (60, 50)], [0, 200])

    stays = inside(p, Volume(SQUARE, 50.0, 150.0))

    np.testing.assert_allclose(stays, [[0.25, 0.75]])


@pytest.mark.parametrize(
    ("altitude", "expected"),
    [([100, 100], 1), ([50, 50], 1), ([49, 49], 0), ([151, 151], 0), ([200, 0], 0.5)],
)
def test_levels_belong_to_the_volume(altitude, expected):
    p = path([(50, 50), (60, 50)], altitude)

    stays = inside(p, Volume(SQUARE, 50.0, 150.0))

    assert (stays[:, 1] - stays[:, 0]).sum() == pytest.approx(expected)


def test_what_was_not_recorded_is_outside():
    p = path([(10, 50), (20, 50), (np.nan, 50), (40, 50), (50, 50)])
    high = path([(10, 50), (20, 50), (30, 50)], [10, np.nan, 10])

    np.testing.assert_allclose(inside(p, Volume(SQUARE)), [[0, 1], [3, 4]])
    assert len(inside(high, Volume(SQUARE, 0.0, None))) == 0
    assert len(inside(high, Volume(SQUARE))) == 1


def test_a_path_of_one_fix_is_nowhere():
    assert len(inside(path([(50, 50)]), Volume(SQUARE))) == 0
    assert len(inside(path([(50, 50)] * 2), Volume(Polygon()))) == 0


def test_the_chord_of_a_circle():
    """At 600 m from the centre of a circle of 1000 m the chord is 1600 m; ring 1000 − 800:
    the inner chord is 2·√(800² − 600²) = 1058.3 m."""
    p = path([(-3000, 600), (3000, 600)])
    way = 6000.0

    disc = inside(p, Volume(circle((0, 0), 1000.0)))
    ring = inside(p, Volume(circle((0, 0), 1000.0, 800.0)))

    assert np.diff(disc).sum() * way == pytest.approx(1600.0, abs=0.02)
    assert np.diff(ring).sum() * way == pytest.approx(
        1600.0 - 2 * (800**2 - 600**2) ** 0.5, abs=0.05
    )


COORDINATE = st.floats(-200, 300).map(lambda v: round(v, 1))
WALK = st.lists(st.tuples(COORDINATE, COORDINATE), min_size=2, max_size=25)
SHAPES = [
    SQUARE,
    circle((50, 50), 80.0, 30.0),
    MultiPolygon([box(-150, -150, -20, 20), box(20, -20, 250, 30)]),
    Polygon([(0, 0), (200, 20), (60, 60), (20, 200)]),
]


@given(WALK, st.sampled_from(SHAPES))
def test_the_way_inside_is_that_of_shapely(points, shape):
    p = path(points)

    got = length_m(inside(p, Volume(shape)), legs(p)).sum()

    # leg by leg: shapely would count a way flown twice only once in a whole line
    expected = sum(
        shapely.intersection(LineString(pair), shape).length
        for pair in pairwise(points)
        if pair[0] != pair[1]
    )
    assert got == pytest.approx(expected, abs=1e-6)


@given(WALK, st.sampled_from(SHAPES))
def test_inside_and_outside_make_up_the_whole_way(points, shape):
    p = path(points)
    everywhere = np.array([[0.0, len(points) - 1.0]])

    held = inside(p, Volume(shape))

    rest = minus(everywhere, held)
    both = length_m(held, legs(p)).sum() + length_m(rest, legs(p)).sum()
    assert both == pytest.approx(legs(p).sum(), abs=1e-6)


SPAN = st.tuples(st.integers(0, 40), st.integers(1, 10)).map(
    lambda s: (s[0], s[0] + s[1])
)
SPANS = st.lists(SPAN, max_size=8).map(
    lambda s: np.array(s, dtype=float).reshape(-1, 2)
)


def _cells(spans):
    """Return the whole numbers that begin a covered cell: the naive second way."""
    return {c for a, b in spans.tolist() for c in range(int(a), int(b))}


@given(SPANS, SPANS)
def test_joining_and_cutting_stretches_is_set_arithmetic(first, second):
    assert _cells(union(first, second)) == _cells(first) | _cells(second)
    assert _cells(minus(first, second)) == _cells(first) - _cells(second)
    assert _cells(clip(union(first), 5, 20)) == _cells(first) & set(range(5, 20))
    joined = union(first, second)
    assert (joined[1:, 0] > joined[:-1, 1]).all()


def test_nothing_joined_is_nothing():
    assert union().shape == NOWHERE.shape == (0, 2)
    assert minus(NOWHERE, np.array([[0.0, 1.0]])).shape == (0, 2)


def test_a_moment_is_between_fixes_in_proportion_to_time():
    p = path([(0, 0), (10, 0), (20, 0)])

    assert moment(p, 1.25) == 1.25
    assert moment(p, -5) == 0
    assert moment(p, 99) == 2
    assert value_at(p.east_m, 1.25) == pytest.approx(12.5)
