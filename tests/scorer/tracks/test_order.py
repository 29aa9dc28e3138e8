from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.tracks.order import (
    epoch_day,
    first_day,
    longest_advance,
    lost_weeks,
    midnights,
)

H = 3600.0


@pytest.mark.parametrize(
    ("hours", "days"),
    [
        ([6, 7, 8], [0, 0, 0]),
        ([22, 23, 0, 1], [0, 0, 1, 1]),
        ([23, 0, 23, 0], [0, 1, 0, 1]),  # jitter about midnight
        ([6, 6, 23, 6, 6], [0, 0, -1, 0, 0]),  # a slip forward
        ([22, 22, 1, 22, 22], [0, 0, 1, 0, 0]),  # a slip backward
        ([6, 20], [0, 0]),  # a long gap
        ([23, 0, 23.9, 0.1], [0, 1, 0, 1]),
        ([5], [0]),
        ([], []),
    ],
)
def test_midnights_are_told_from_slips_and_gaps(hours, days):
    assert midnights(np.array(hours) * H).tolist() == days


EVENING, MORNING = np.linspace(18, 19.5, 200), np.linspace(6.5, 8, 200)


@pytest.mark.parametrize(
    ("pieces", "days"),
    [
        ((EVENING, MORNING), (0, 1)),  # 11 h of rest
        ((EVENING, MORNING + 2), (0, 1)),  # 13 h: it falls by less than half a day
        ((EVENING, MORNING + 3.9), (0, 1)),
        ((EVENING, MORNING + 6), (0, 0)),  # so does a clock set from UTC to local time
        ((EVENING, MORNING + 2, EVENING, MORNING + 2), (0, 1, 1, 2)),
        ((EVENING, MORNING[:99] + 2), (0, 0)),  # too few
        ((EVENING[:99], MORNING + 2), (0, 0)),
        ((EVENING, MORNING[:50] + 2, EVENING), (0, 0, 0)),  # a slip back
        ((MORNING + 2, EVENING[:50], MORNING + 3.5), (0, 0, 0)),  # a slip forward
        ((MORNING, EVENING), (0, 0)),  # a pause on one day
    ],
)
def test_an_evening_and_the_next_morning_are_two_days(pieces, days):
    hours = np.concatenate(pieces)
    expected = np.repeat(days, [len(piece) for piece in pieces])

    np.testing.assert_array_equal(midnights(hours * H), expected)


def test_several_midnights_add_up():
    hours = np.arange(0, 24 * 5, 0.1)

    np.testing.assert_array_equal(midnights(hours % 24 * H), hours // 24)


@given(st.lists(st.integers(0, 12), max_size=9))
def test_the_most_fixes_are_kept(times):
    """Against all subsets: no strictly increasing choice is longer."""
    keep = longest_advance(np.array(times, dtype=float))

    kept = [t for t, k in zip(times, keep, strict=True) if k]
    assert kept == sorted(set(kept))
    best = 0
    for choice in range(2 ** len(times)):
        picked = [t for i, t in enumerate(times) if choice >> i & 1]
        if picked == sorted(set(picked)):
            best = max(best, len(picked))
    assert len(kept) == best


def test_of_equal_times_the_first_stays():
    assert longest_advance(np.array([1.0, 2, 2, 2, 3])).tolist() == [1, 1, 0, 0, 1]


@pytest.mark.parametrize(
    ("hour", "zone", "day"),
    [
        (6.7, "Europe/Madrid", 12),
        (6.7, None, 12),
        (20.7, "Pacific/Auckland", 11),
        (13.5, "America/Regina", 12),
        (0.5, "America/Regina", 13),
    ],
)
def test_the_utc_day_of_a_local_date(hour, zone, day):
    guessed = first_day(np.array([hour * H]), date(2026, 9, 12), zone)

    assert guessed == epoch_day(date(2026, 9, day))


@pytest.mark.parametrize(
    ("logged", "days"),
    [
        (date(2007, 1, 27), 7168),
        (date(2007, 1, 26), 7168),
        (date(1987, 6, 13), 2 * 7168),
        (date(2026, 9, 12), 0),
        (date(2026, 9, 11), 0),
        (date(2046, 4, 28), 0),
        (date(2007, 2, 7), 0),
    ],
)
def test_lost_weeks_are_whole_rollovers(logged, days):
    """1024 weeks before 2026-09-12 is 2007-01-27 (IS-GPS-200: 10-bit week number)."""
    assert lost_weeks(epoch_day(logged), date(2026, 9, 12)) == days
