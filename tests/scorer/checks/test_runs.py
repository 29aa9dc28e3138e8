"""Stretches of fixes, and the moments at which a value passes a level."""

import numpy as np
import pytest

from scorer.checks.runs import crossing_s, merge, runs_of, span_s

T, F = True, False


@pytest.mark.parametrize(
    ("mask", "runs"),
    [
        ([], []),
        ([F, F], []),
        ([T], [(0, 0)]),
        ([T, T, F, T], [(0, 1), (3, 3)]),
        ([F, T, T, F, F, T, F], [(1, 2), (5, 5)]),
    ],
)
def test_runs_are_the_unbroken_stretches(mask, runs):
    found = runs_of(np.array(mask, dtype=bool))

    assert list(zip(*found, strict=True)) == runs


def test_runs_parted_by_less_than_the_pause_are_one():
    time = np.array([0.0, 1.0, 2.0, 9.0, 30.0, 31.0])
    runs = runs_of(np.array([T, F, T, T, F, T]))

    assert list(zip(*merge(runs, time, 3.0), strict=True)) == [(0, 3), (5, 5)]
    assert list(zip(*merge(runs, time, 30.0), strict=True)) == [(0, 5)]


def test_a_level_is_passed_where_the_line_between_two_fixes_meets_it():
    time, value = np.array([10.0, 20.0]), np.array([4.0, 0.0])

    assert crossing_s(time, value, 0, 1, 1.0) == 17.5
    assert crossing_s(time, value, 1, 0, 1.0) == 17.5


def test_next_to_a_value_not_recorded_the_fix_itself_counts():
    time, value = np.array([10.0, 20.0]), np.array([4.0, np.nan])

    assert crossing_s(time, value, 0, 1, 1.0) == 10.0


def test_a_span_at_the_ends_of_a_track_ends_there():
    time, value = np.array([0.0, 1.0, 2.0]), np.array([0.0, 0.0, 0.0])

    assert span_s(time, value, 1.0, (0, 2)) == (0.0, 2.0)
