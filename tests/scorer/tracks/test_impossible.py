"""Heights that cannot be true by the log itself."""

import numpy as np
import pytest

from scorer.tracks.columns import MOST_FIXES
from scorer.tracks.flown import Sign
from scorer.tracks.impossible import impossible, no_metres
from scorer.tracks.stands import Stretch

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
    assert one.most == 12.0
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

    assert (one.start_s, one.end_s, one.most) == (0.0, 1199.0, 0.0)


STANDS = (Stretch(0, 99), Stretch(1100, 1199))


def unlike_metres(altitude, ground=None, gnss_m=0.0, stands=STANDS):
    ground = np.zeros(1200) if ground is None else ground
    return no_metres(
        "a.igc", TIME_S, altitude, ground, stands, gnss_m=gnss_m, terrain_m=1.0
    )


@pytest.mark.parametrize("gnss_m", [107.0, -107.0, 0.0, np.nan])
def test_metres_count_from_the_geoid_or_the_ellipsoid(gnss_m):
    """Which are up to 107 m apart (EGM96: lowest undulation, from memory)."""
    assert unlike_metres(flight(), gnss_m=gnss_m) == ()


def test_a_receiver_farther_off_the_ground_than_any_datum_writes_no_metres():
    (one,) = unlike_metres(flight(), gnss_m=-2.28 * 400.0)

    assert one.by is Sign.OFF_GROUND
    assert one.most == pytest.approx(912.0)


def test_stands_that_are_3_28_times_as_far_apart_as_the_ground_are_no_metres():
    ground = np.linspace(10.0, 60.0, 1200)
    feet = (flight() + ground) / 0.3048

    (one,) = unlike_metres(feet, ground)

    assert one.by is Sign.OFF_GROUND
    assert unlike_metres(flight() + 1.1 * ground, ground) == ()
    assert unlike_metres(feet, np.full(1200, np.nan), stands=STANDS[:1]) == ()
    assert unlike_metres(feet, np.full(1200, np.nan)) == ()


def test_faster_than_a_balloon_climbs_or_falls_is_no_metres():
    up = np.interp(TIME_S, [0, 100, 200, 1000, 1100], [0.0, 0, 500, 500, 0])

    (one,) = unlike_metres(up / 0.3048)

    assert one.by is Sign.FAST
    assert one.most == pytest.approx(5.0 / 0.3048)
    assert unlike_metres(up) == ()
    spell = np.where((TIME_S > 400) & (TIME_S < 420), 700.0, up)
    assert unlike_metres(spell) == ()


def test_where_nothing_is_known_nothing_is_impossible():
    assert found(np.full(1200, np.nan)) == ()
