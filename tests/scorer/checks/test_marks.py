"""Marks against tracks: who cannot have thrown it, and who can; whose log it is."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString, Point

from scorer.checks.base import PlacedMark
from scorer.checks.mark_told import check_marks
from scorer.checks.mark_track import (
    Marks,
    approaches,
    fitting,
    mistaken,
    nearest,
)
from scorer.checks.pilot import check_log_owner, check_same_flight, trail_of
from scorer.event import matters
from tests.helpers import said
from tests.scorer.checks.invented import CENTRE, START_S, flight, track

HIGH = [(0, 0), (60, 150), (1500, 150), (1600, 0)]


def mark(pilot, east_m, north_m, *, task=1, time_s=None, sigma_m=0.0):
    return PlacedMark(
        task=task,
        pilot=pilot,
        east_m=CENTRE[0] + east_m,
        north_m=CENTRE[1] + north_m,
        sigma_m=sigma_m,
        time_s=None if time_s is None else START_S + time_s,
    )


def tracks(north_by_pilot):
    """Flights due east past the centre, each at its own distance to the north."""
    base = flight(HIGH)
    return {
        pilot: replace(
            base,
            pilot=pilot,
            log=f"logs/{pilot:03d}.igc",
            north_m=base.north_m + north,
        )
        for pilot, north in north_by_pilot.items()
    }


def flight_of(north_by_pilot, marks, **more):
    flown = tracks(north_by_pilot)
    near = {pilot: approaches(f, marks) for pilot, f in flown.items()}
    return Marks(marks=marks, tracks=near, throw_m=100.0, flight="1", **more)


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("spread", [100.0, 5000.0])
def test_the_nearest_is_what_shapely_finds_on_the_line_of_fixes(seed, spread):
    rng = np.random.default_rng(seed)
    time = np.cumsum(rng.uniform(1.0, 2.0, 2000))
    steps = rng.normal(3.0, 1.0, (2000, 2)) * np.c_[np.ones(2000), np.ones(2000)]
    turn = np.cumsum(rng.normal(0.0, 0.02, 2000))
    path = np.cumsum(
        np.c_[np.sin(turn) * steps[:, 0], np.cos(turn) * steps[:, 0]], axis=0
    )
    points = path[1000] + rng.normal(0.0, spread, (40, 2))

    away, when = nearest(time, path, points)

    line = LineString(path)
    plain = [line.distance(Point(p)) for p in points]
    np.testing.assert_allclose(away, plain, atol=0.5)
    there = np.c_[np.interp(when, time, path[:, 0]), np.interp(when, time, path[:, 1])]
    np.testing.assert_allclose(np.hypot(*(there - points).T), plain, atol=1.5)


def test_a_hovering_balloon_is_where_it_hovers():
    path = np.zeros((50, 2))

    away, _ = nearest(np.arange(50.0), path, np.array([[3.0, 4.0]]))

    assert away == pytest.approx([5.0])


def test_a_mark_within_a_throw_of_the_track_is_in_order():
    assert check_marks(flight_of({7: 0.0}, [mark(7, 10.0, 90.0)])) == ()


def test_a_throw_is_lengthened_by_the_uncertainty_of_mark_and_track():
    """100 m + 3 · √(2² + 5²) = 116.2 m."""
    near = mark(7, 0.0, 115.0, sigma_m=5.0)
    far = mark(7, 0.0, 117.0, sigma_m=5.0)

    assert check_marks(flight_of({7: 0.0}, [near])) == ()
    assert len(check_marks(flight_of({7: 0.0}, [far]))) == 1


def test_a_mark_no_track_reaches_asks_for_the_measurement():
    (warning,) = check_marks(flight_of({7: 0.0, 8: 100.0}, [mark(7, 0.0, 800.0)]))

    assert warning.kind is matters.MARK_FAR_FROM_TRACK
    assert (warning.task, warning.pilot) == (1, 7)
    assert warning.holds_up
    what, others = warning.says.get("what"), warning.says.get("others")
    assert (what.kind, others.kind) == ("mark-beyond-throw", "mark-fits-nobody")
    assert what.get("away") == pytest.approx(800.0, abs=0.1)
    assert "800 m" in said(warning)
    assert "No other track" in said(warning)


def test_two_swapped_numbers_are_found_and_named():
    marks = [mark(12, 0.0, 1010.0), mark(21, 0.0, 5.0), mark(30, 0.0, 20.0)]

    warnings = check_marks(flight_of({12: 0.0, 21: 1000.0, 30: 10.0}, marks))

    assert [w.pilot for w in warnings] == [12, 21]
    first, second = (w.says.get("others") for w in warnings)
    assert (first.kind, second.kind) == ("marks-swapped", "marks-swapped")
    assert (first.get("pilot"), first.get("other")) == (12, 21)
    assert (second.get("pilot"), second.get("other")) == (21, 12)
    assert "marks of pilots 12 and 21 fit each other’s flights" in said(warnings[0])
    assert "perhaps swapped" in said(warnings[0])


def test_who_has_no_mark_of_his_own_is_suggested_before_who_has():
    marks = [mark(40, 0.0, 1000.0), mark(51, 0.0, 1001.0)]
    flight_ = flight_of({40: 0.0, 51: 1000.0, 63: 1050.0}, marks)

    assert [fit.pilot for fit in fitting(flight_, 0, {0})] == [63, 51]
    (warning,) = check_marks(flight_)
    assert said(warning).index("63 (") < said(warning).index("51 (")


def test_a_number_easily_mistaken_is_suggested_before_a_nearer_track():
    marks = [mark(112, 0.0, 1000.0)]
    flight_ = flight_of({112: 0.0, 121: 1060.0, 7: 1000.0}, marks)

    assert [fit.pilot for fit in fitting(flight_, 0, {0})] == [121, 7]


@pytest.mark.parametrize(
    ("one", "other", "answer"),
    [
        (12, 21, True),
        (112, 121, True),
        (12, 13, True),
        (12, 112, True),
        (12, 1, True),
        (12, 12, False),
        (123, 321, False),
        (12, 34, False),
        (1, 123, False),
    ],
)
def test_numbers_one_slip_of_the_key_apart_are_easily_mistaken(one, other, answer):
    assert mistaken(one, other) is answer
    assert mistaken(other, one) is answer


def test_at_most_three_pilots_are_named_and_the_rest_counted():
    north = {p: 1000.0 + p for p in range(20, 26)}

    (warning,) = check_marks(flight_of({99: 0.0, **north}, [mark(99, 0.0, 1010.0)]))

    others = warning.says.get("others")
    assert len(others.get("named")) == 3
    assert others.get("more") == 3
    assert "and 3 more." in said(warning)


def test_a_mark_noted_when_the_pilot_was_elsewhere_is_told():
    """The centre is passed 1060 s after START_S; noted ten minutes later."""
    (warning,) = check_marks(flight_of({7: 0.0}, [mark(7, 0.0, 10.0, time_s=1660.0)]))

    assert "was noted at 06:27:40" in said(warning)
    assert warning.says.get("what").kind == "mark-at-other-time"
    assert "It came near (10 m) at 06:17:40" in said(warning)


def test_a_mark_noted_within_a_minute_of_the_pass_is_in_order():
    assert check_marks(flight_of({7: 0.0}, [mark(7, 0.0, 10.0, time_s=1100.0)])) == ()


def test_a_time_after_the_landing_says_nothing_of_whose_mark_it_is():
    """The order of times is asked about by `scorer.tasks.possible`, once."""
    assert check_marks(flight_of({7: 0.0}, [mark(7, 0.0, 10.0, time_s=9000.0)])) == ()


def test_driving_past_after_landing_is_no_fit():
    time = np.arange(0.0, 2000.0)
    east = np.interp(time, [0, 100, 700, 1000, 2000], [-5000, -5000, -2000, -2000, 500])
    flown = track(time, east, 0.0, launch=100, landing=700)

    near = approaches(flown, [mark(7, 0.0, 0.0)])

    assert near.distance_m[0] == pytest.approx(2000.0, abs=6.0)


def test_a_log_without_a_flight_cannot_be_compared():
    flown = track(np.arange(10.0), 0.0, 0.0, launch=0, landing=0)
    marks = [mark(7, 0.0, 0.0)]
    flight_ = Marks(
        marks=marks, tracks={7: approaches(flown, marks)}, throw_m=100.0, flight="1"
    )

    (warning,) = check_marks(flight_)

    assert "cannot be compared" in said(warning)


def test_a_pilot_without_a_log_is_passed_over():
    assert check_marks(flight_of({7: 0.0}, [mark(8, 0.0, 5000.0)])) == ()


def test_without_marks_there_is_nothing_to_compare():
    assert check_marks(flight_of({7: 0.0}, [])) == ()


def noisy(flown, seed, **changes):
    rng = np.random.default_rng(seed)
    return replace(
        flown,
        east_m=flown.east_m + rng.normal(0.0, 3.0, len(flown)),
        north_m=flown.north_m + rng.normal(0.0, 3.0, len(flown)),
        altitude_m=flown.altitude_m + rng.normal(8.0, 2.0),
        **changes,
    )


def test_two_loggers_in_one_basket_under_two_numbers_are_told():
    one = flight(HIGH)
    two = noisy(flight(HIGH, step_s=3.0), 1, pilot=9, log="logs/009.igc")
    other = replace(one, pilot=11, north_m=one.north_m + 60.0)

    warnings = check_same_flight([trail_of(f) for f in (other, two, one)], "1")

    (warning,) = warnings
    assert warning.kind is matters.LOG_PILOT
    assert "pilot 7" in said(warning)
    assert "pilot 9" in said(warning)


def test_two_logs_of_one_pilot_may_show_one_flight():
    one = flight(HIGH)

    assert check_same_flight([trail_of(one), trail_of(noisy(one, 2))], "1") == ()


def test_the_same_way_at_another_height_or_time_is_another_flight():
    one = flight(HIGH)
    above = replace(one, pilot=8, altitude_m=one.altitude_m + 80.0)
    later = replace(one, pilot=9, time_s=one.time_s + 180.0)

    assert check_same_flight([trail_of(f) for f in (one, above, later)], "1") == ()


def test_too_short_a_time_together_proves_nothing():
    one = flight([(0, 0), (60, 150), (200, 150), (300, 0)])

    assert (
        check_same_flight([trail_of(one), trail_of(noisy(one, 3, pilot=8))], "1") == ()
    )


def test_logs_without_a_flight_are_passed_over():
    still = track(np.arange(10.0), 0.0, 0.0, launch=0, landing=0)

    assert check_same_flight([trail_of(still), trail_of(flight(HIGH))], "1") == ()


def test_all_marks_on_one_other_track_make_the_log_doubtful():
    marks = [mark(7, 0.0, 1000.0), mark(7, 900.0, 1040.0, task=2)]

    (warning,) = check_log_owner(flight_of({7: 0.0, 8: 1020.0, 9: 5000.0}, marks))

    assert warning.kind is matters.LOG_PILOT
    assert warning.pilot == 7
    assert warning.says.kind == "marks-on-other-track"
    assert (warning.says.get("marks"), warning.says.get("other")) == (2, 8)
    assert "probably another pilot’s" in said(warning)


def test_one_mark_alone_or_two_possible_tracks_do_not():
    one = [mark(7, 0.0, 1000.0)]
    two = [*one, mark(7, 900.0, 1040.0, task=2)]

    assert check_log_owner(flight_of({7: 0.0, 8: 1020.0}, one)) == ()
    assert check_log_owner(flight_of({7: 0.0, 8: 1020.0, 9: 1000.0}, two)) == ()
