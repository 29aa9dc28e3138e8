"""Floors around the true lowest points of worlds whose truth is known."""

import numpy as np
import pytest

from scorer.checks.base import CERTAIN_FROM
from tests.bench.floors import floors_of


@pytest.fixture(scope="module")
def told():
    """What is stated of each floor, and how it was, as two rows."""
    flown = [
        (name, seed) for name in ("plain", "coarse", "hot") for seed in range(1, 6)
    ]
    return np.array([p for name, seed in flown for p in floors_of(name, seed, 6)]).T


@pytest.mark.parametrize(
    ("low", "high"), [(0.0, 0.1), (0.1, 0.5), (0.5, 0.9), (0.9, 2)]
)
def test_breaches_are_true_as_often_as_is_said(told, low, high):
    """Goal: within 0.05; so few flights scatter by more (rates: `tests.bench.floors`)."""
    chance, true = told
    here = (chance >= low) & (chance < high)

    assert np.count_nonzero(here) > 30
    assert np.mean(chance[here]) == pytest.approx(np.mean(true[here]), abs=0.15)


def test_what_is_certain_is_true(told):
    chance, true = told

    assert np.mean(true[chance >= CERTAIN_FROM]) >= 0.95
