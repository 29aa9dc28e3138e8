"""The plain functions for the arrays of a log, against numpy's own, to the last bit."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from scorer.tracks.plain import diffs, marked, mean, median, quantile, usual_step

NUMBERS = arrays.arrays(
    np.float64, st.integers(1, 60), elements=st.floats(-1e9, 1e9) | st.just(np.nan)
)


@given(NUMBERS)
def test_the_middle_is_that_of_numpy(values):
    assert median(values).tobytes() == np.median(values).tobytes()


def test_nothing_has_no_middle():
    assert np.isnan(median(np.empty(0)))


@given(NUMBERS, st.floats(0, 1))
def test_what_a_share_lies_under_is_that_of_numpy(values, share):
    assert np.array_equal(
        quantile(values, share), np.quantile(values, share), equal_nan=True
    )


@given(NUMBERS)
def test_differences_and_the_usual_one_are_those_of_numpy(values):
    assert np.array_equal(diffs(values), np.diff(values), equal_nan=True)
    if len(values) > 1:
        usual = np.median(np.diff(values))
        assert np.array_equal(usual_step(values), usual, equal_nan=True)


@given(NUMBERS)
def test_the_mean_and_where_something_holds_are_those_of_numpy(values):
    assert np.array_equal(mean(values), np.mean(values), equal_nan=True)
    assert np.array_equal(marked(values > 0), np.flatnonzero(values > 0))
