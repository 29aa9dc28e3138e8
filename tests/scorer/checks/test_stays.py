"""Which fixes are inside, and when a track enters and leaves, against shapely alone."""

import numpy as np
import pytest
import shapely
import shapely.affinity
from shapely import LineString, Polygon

from scorer.checks.stays import first_entry_s, inside, inside_any, stays

SQUARE = Polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
STAR = Polygon(
    [
        (np.cos(a) * r, np.sin(a) * r)
        for a, r in zip(
            np.linspace(0, 2 * np.pi, 20, endpoint=False), [90, 30] * 10, strict=True
        )
    ]
)
HOLED = Polygon(SQUARE.exterior.coords, [[(40, 40), (60, 40), (60, 60), (40, 60)]])


def walk(seed, count=400, step=12.0):
    rng = np.random.default_rng(seed)
    steps = rng.normal(0.0, step, (count, 2))
    path = np.cumsum(steps, axis=0)
    path -= path.mean(axis=0) - 20.0
    return np.cumsum(rng.uniform(0.5, 3.0, count)), path[:, 0], path[:, 1]


@pytest.mark.parametrize("area", [SQUARE, STAR, HOLED], ids=["square", "star", "holed"])
@pytest.mark.parametrize("seed", range(5))
def test_inside_is_what_shapely_says_of_each_point(area, seed):
    _, east, north = walk(seed, 999)
    east[17] = np.nan

    held = inside(area, east, north)
    east[17] = 0.0
    held_without_nan = inside(area, east, north)

    one_by_one = [
        area.intersects(shapely.Point(p)) for p in zip(east, north, strict=True)
    ]
    one_by_one[17] = False
    assert held.tolist() == one_by_one
    assert held_without_nan.sum() >= held.sum()


@pytest.mark.parametrize("area", [SQUARE, STAR, HOLED], ids=["square", "star", "holed"])
@pytest.mark.parametrize("seed", range(8))
def test_time_inside_is_the_length_of_the_way_inside_at_even_speed(area, seed):
    """Second implementation: the length of shapely's intersection, leg by leg."""
    time, east, north = walk(seed)

    total = sum(stay.leave_s - stay.enter_s for stay in stays(area, time, east, north))

    plain = 0.0
    for i in range(len(time) - 1):
        leg = LineString([(east[i], north[i]), (east[i + 1], north[i + 1])])
        plain += (time[i + 1] - time[i]) * leg.intersection(area).length / leg.length
    # Corners cut by legs under 6 m may be left out.
    assert total == pytest.approx(plain, rel=0.01, abs=0.5)


def test_the_crossing_lies_between_the_fixes_where_the_line_meets_the_outline():
    time, east = np.array([0.0, 10.0, 20.0]), np.array([-30.0, 70.0, 170.0])

    (stay,) = stays(SQUARE, time, east, np.full(3, 50.0))

    assert stay == pytest.approx((3.0, 13.0))


def test_a_way_through_with_both_fixes_outside_is_a_stay():
    (stay,) = stays(
        SQUARE, np.array([0.0, 10.0]), np.array([-50.0, 150.0]), np.array([50.0, 50.0])
    )

    assert stay == pytest.approx((2.5, 7.5))


def test_a_hole_crossed_between_two_inner_fixes_parts_the_stay():
    found = stays(
        HOLED, np.array([0.0, 10.0]), np.array([10.0, 90.0]), np.array([50.0, 50.0])
    )

    assert [tuple(s) for s in found] == [
        pytest.approx((0.0, 3.75)),
        pytest.approx((6.25, 10.0)),
    ]


def test_a_track_that_starts_and_ends_inside_stays_from_end_to_end():
    time = np.array([5.0, 6.0, 7.0])

    assert stays(SQUARE, time, np.full(3, 50.0), np.full(3, 50.0)) == [(5.0, 7.0)]


def test_a_corner_touched_from_outside_is_no_stay():
    time = np.array([0.0, 10.0])

    found = stays(SQUARE, time, np.array([-50.0, 50.0]), np.array([50.0, -50.0]))

    assert sum(s.leave_s - s.enter_s for s in found) == pytest.approx(0.0)


def test_first_entry_is_into_whichever_area_comes_first():
    far = shapely.affinity.translate(SQUARE, 500, 0)
    time, east = np.array([0.0, 100.0]), np.array([-100.0, 900.0])
    north = np.full(2, 50.0)

    assert first_entry_s([far, SQUARE], time, east, north) == pytest.approx(10.0)
    assert first_entry_s([], time, east, north) is None
    assert first_entry_s([SQUARE], time, east, north + 500.0) is None
    assert inside_any(
        [far, SQUARE], np.array([50.0, 550.0, 300.0]), north[:1]
    ).tolist() == [
        True,
        True,
        False,
    ]


def test_an_empty_track_has_no_stay():
    empty = np.empty(0)

    assert stays(SQUARE, empty, empty, empty) == []
