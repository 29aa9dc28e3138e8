"""What a log itself says against it: pauses, a wrong clock, a part that is missing."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from scorer.checks.clock import check_clock
from scorer.checks.gaps import check_gaps
from scorer.event import matters
from scorer.event.model import Period
from scorer.event.rulebook import RuleBook, TrackRule
from tests.helpers import said
from tests.scorer.checks.invented import DAY, START_S, about, flight, track

HIGH = [(0, 0), (60, 150), (1500, 150), (1600, 0)]


def without(flown, first, last):
    """The same flight with fixes `first` to `last` left out."""
    keep = np.ones(len(flown), dtype=bool)
    keep[first : last + 1] = False
    arrays = {
        name: getattr(flown, name)[keep]
        for name in flown.__slots__
        if isinstance(getattr(flown, name), np.ndarray)
    }
    moved = {
        name: getattr(flown, name) - int((~keep[: getattr(flown, name)]).sum())
        for name in ("launch", "landing")
    }
    return replace(flown, **arrays, **moved)


def texts(check, flown, **more):
    warnings = check(flown, about(**more)).matters
    assert all(w.pilot == 7 and w.task is None for w in warnings)
    return [said(w) for w in warnings]


def test_a_pause_as_long_as_the_book_lets_pass_is_not_told():
    assert texts(check_gaps, without(flight(HIGH), 500, 558)) == []


def test_pauses_in_the_air_are_counted_and_the_longest_is_told():
    flown = without(without(flight(HIGH), 900, 1020), 300, 380)

    (text,) = texts(check_gaps, flown)

    assert "2 pauses of up to 2 min 2 s" in text
    (warning,) = check_gaps(flown, about()).matters
    assert warning.kind is matters.LOG_GAP
    assert warning.says.kind == "log-has-pauses"
    assert (warning.says.get("pauses"), warning.says.get("longest")) == (2, 122.0)


def test_a_pause_on_the_ground_is_of_no_interest():
    flown = flight(HIGH, stand_s=300.0)

    assert texts(check_gaps, without(flown, 50, 200)) == []


def test_a_pause_that_hides_the_launch_itself_is_told():
    flown = flight(HIGH, stand_s=300.0)
    hidden = replace(without(flown, 200, 420), launch=200)

    assert len(texts(check_gaps, hidden)) == 1


def test_the_book_sets_how_long_a_pause_may_be():
    book = RuleBook(name="test", tracks=TrackRule(log_gap_s=10.0))

    assert len(texts(check_gaps, without(flight(HIGH), 500, 515), book=book)) == 1


def test_a_log_of_the_day_is_in_order():
    assert texts(check_clock, flight(HIGH)) == []


@pytest.mark.parametrize(
    ("days", "kind", "words"),
    [
        (1, "clock-dated-late", "1 day after the flight"),
        (-30, "clock-dated-early", "30 days before the flight"),
    ],
)
def test_a_log_of_another_day_is_told(days, kind, words):
    flown = flight(HIGH)
    shifted = replace(flown, time_s=flown.time_s + 86400.0 * days)

    (told,) = check_clock(shifted, about()).matters

    assert told.says.kind == kind
    assert told.says.get("days") == abs(days)
    assert told.says.get("dated") == (DAY + timedelta(days)).isoformat()
    assert words in said(told)


def test_1024_weeks_early_is_the_week_count_begun_anew():
    flown = flight(HIGH)

    (text,) = texts(check_clock, replace(flown, time_s=flown.time_s - 7168 * 86400.0))

    assert "count of 1,024 weeks anew" in text
    assert "7,168 days" in text


def test_the_date_is_that_of_the_events_time_zone():
    """06:01 UTC on the 12th is the evening of the 11th in Honolulu."""
    assert len(texts(check_clock, flight(HIGH), time_zone="Pacific/Honolulu")) == 1
    day = date(2026, 9, 11)
    assert (
        texts(check_clock, flight(HIGH), time_zone="Pacific/Honolulu", date=day) == []
    )


def test_a_flight_over_midnight_is_of_both_days():
    flown = flight(HIGH)
    night = replace(flown, time_s=flown.time_s + 17.8 * 3600.0)

    for day in (DAY, DAY + timedelta(1)):
        assert texts(check_clock, night, date=day) == []


def periods(start_s, end_s):
    return (Period(start_s=START_S + start_s, end_s=START_S + end_s),)


@pytest.mark.parametrize(
    ("start_s", "end_s", "words"),
    [
        (7200.0, 9000.0, "before any period of the flight begins"),
        (-9000.0, -7200.0, "after all periods of the flight"),
    ],
)
def test_a_log_beside_all_periods_is_told(start_s, end_s, words):
    (text,) = texts(check_clock, flight(HIGH), periods=periods(start_s, end_s))

    assert words in text
    assert "whole hours" in text


def test_a_log_that_begins_or_ends_in_the_air_is_told():
    flown = track(np.arange(600.0), 5.0 * np.arange(600.0), 100.0)

    both = texts(check_clock, flown, periods=periods(0.0, 900.0))

    assert "begins in the air at 06:00:00" in both[0]
    assert "ends in the air at 06:09:59" in both[1]


def test_a_log_that_begins_in_the_air_alone_is_told_of_its_beginning_alone():
    flown = replace(flight(HIGH), launch=None)

    (text,) = texts(check_clock, flown, periods=periods(0.0, 900.0))

    assert "the launch is not in it" in text


def test_a_log_that_ends_in_the_air_alone_is_told_of_its_end_alone():
    flown = replace(flight(HIGH), landing=None)

    (text,) = texts(check_clock, flown, periods=periods(0.0, 900.0))

    assert "the landing is not in it" in text


def test_three_fixes_are_too_few_for_a_jump_of_the_clock():
    flown = track([0.0, 1.0, 900.0], [0.0, 5.0, 10.0], 100.0)

    assert texts(check_clock, flown) == []


def test_a_jump_no_balloon_can_make_is_told():
    flown = flight(HIGH)
    east = flown.east_m.copy()
    east[500:] += 5000.0

    (text,) = texts(check_clock, replace(flown, east_m=east))

    assert "a jump faster than 60.0 m/s, the first of 5.01 km at 06:08:19" in text
    (told,) = check_clock(replace(flown, east_m=east), about()).matters
    assert (told.says.kind, told.says.get("jumps")) == ("clock-too-fast", 1)
    assert told.says.get("way") == pytest.approx(5005.0)


def test_a_clock_set_forward_in_flight_is_told_and_a_mere_pause_is_not():
    flown = flight(HIGH)
    time = flown.time_s.copy()
    time[500:] += 3600.0

    (text,) = texts(check_clock, replace(flown, time_s=time))

    (told,) = check_clock(replace(flown, time_s=time), about()).matters
    assert (told.says.kind, told.says.get("ahead")) == ("clock-jump", 3601.0)
    assert "jumps ahead by 1 h" in text
    assert texts(check_clock, without(flown, 500, 900)) == []


def test_an_empty_log_says_nothing():
    empty = track(np.empty(0), np.empty(0), np.empty(0))

    assert check_clock(empty, about()).matters == ()
