"""Touches and clean passes of a world whose truth is known (`tests.bench.worlds`)."""

import numpy as np
import pytest

from scorer.checks.base import CERTAIN_FROM
from tests.bench.contacts import passes_of, rates


@pytest.fixture(scope="module")
def rated():
    return rates(list(passes_of("plain", 1, 21)))


def test_nine_of_ten_touches_are_brought_up_and_some_are_certain(rated):
    hit, sure, _, _ = rated

    assert len(hit) == 7
    assert np.mean(hit) >= 0.9
    assert np.mean(sure) >= 0.2


def test_clean_passes_at_1_to_3_m_are_hardly_ever_brought_up(rated):
    _, _, false, _ = rated

    assert len(false) >= 5
    assert sum(false) <= 1


def test_what_is_certain_is_true(rated):
    *_, found = rated

    assert all(true for chance, true in found if chance >= CERTAIN_FROM)
