"""Ranks against scipy.stats.rankdata (methods `min` and `average`)."""

from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import rankdata

from scorer.scoring.ranking import competition_ranks, mean_ranks

ordered = st.lists(st.integers(0, 20), max_size=60).map(sorted)


@given(ordered)
def test_competition_ranks_are_scipys_minimum_ranks(values):
    assert competition_ranks(values) == rankdata(values, method="min").tolist()


@given(ordered)
def test_mean_ranks_are_scipys_average_ranks(values):
    assert [float(r) for r in mean_ranks(values)] == rankdata(values).tolist()
