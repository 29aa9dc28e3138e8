"""Heights that cannot be true by the log itself."""

import numpy as np
import pytest

from scorer.tracks.impossible import MOST_FIXES, impossible

TIME_S = np.arange(0.0, 1200.0)
SIGMA_M = np.full(1200, 1.0)


def flight(**changes):
    height = np.interp(TIME_S, [0, 100, 200, 1000, 1100], [0.0, 0, 80, 80, 0])
    for part, value in changes.values():
        height[part] = value
    return height


def found(height, sigma=SIGMA_M):
    return impossible("a.igc", TIME_S, height, sigma)


def test_a_flight_from_the_ground_to_the_ground_is_possible():
    rng = np.random.default_rng(1)

    assert found(flight() + rng.normal(0.0, 0.5, 1200)) == ()


def test_what_lies_under_the_ground_is_not():
    (one,) = found(flight(low=(slice(500, 560), -12.0)))

    assert one.log == "a.igc"
    assert one.most_m == 12.0
    assert (one.start_s, one.end_s) == pytest.approx((500.0, 559.0), abs=6.0)
    assert found(flight(low=(slice(500, 560), -12.0)), np.full(1200, 5.0)) == ()
    assert found(flight(low=(slice(500, 503), -12.0))) == ()


def test_of_hundreds_of_fixes_a_second_no_more_are_held_together():
    """The work goes with their number."""
    height, time_s = np.full(6000, 80.0), np.arange(6000) / 1000.0
    height[3000 : 3000 + MOST_FIXES] = -12.0

    (one,) = impossible("a.igc", time_s, height, np.ones(6000))

    assert one.start_s == pytest.approx(3.0, abs=MOST_FIXES / 1000.0)


def test_a_log_that_stays_on_the_ground_shows_no_flight():
    rng = np.random.default_rng(2)

    (one,) = found(rng.normal(0.0, 2.0, 1200))

    assert (one.start_s, one.end_s, one.most_m) == (0.0, 1199.0, 0.0)


def test_where_nothing_is_known_nothing_is_impossible():
    assert found(np.full(1200, np.nan)) == ()
