"""Large terrain gives the same results whoever works, and is sent to nobody whole."""

import os
import pickle
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from scorer.cli.target import load
from scorer.geodesy import cells, gridfile, terrain
from scorer.scoring import packed
from scorer.scoring.document import to_json
from scorer.scoring.keep import Keep
from scorer.scoring.score import score

SMALL = Path(__file__).parents[3] / "sample_events" / "vashkorim"


@pytest.fixture(scope="module")
def event():
    return load(SMALL)


@pytest.fixture(scope="module")
def whole(event):
    return to_json(score(event))


@pytest.fixture
def large(monkeypatch):
    """Its terrain counts as large."""
    monkeypatch.setattr(packed, "SENT_WHOLE", 1000)
    monkeypatch.setattr(gridfile, "MAX_CELLS", 1000)
    monkeypatch.setattr(gridfile, "TILE", 16)
    monkeypatch.setattr(cells, "MOST_HELD", 4 * 16 * 16)
    terrain._opened.cache_clear()
    yield
    terrain._opened.cache_clear()


def test_results_are_the_same_whoever_works_on_a_large_terrain(event, whole, large):
    keep = Keep()
    assert to_json(score(event)) == whole
    for pool in (ThreadPoolExecutor(2), ProcessPoolExecutor(2)):
        with pool:
            assert to_json(score(event, executor=pool)) == whole
    with ThreadPoolExecutor(2) as pool:
        assert to_json(score(event, executor=pool, keep=keep)) == whole
        assert to_json(score(event, executor=pool, keep=keep)) == whole


def test_what_is_sent_is_a_small_part_of_it(event, large, monkeypatch):
    sent = []

    def noted(grid, some, real=cells.Sent.of):
        sent.append(real(grid, some))
        return sent[-1]

    monkeypatch.setattr(cells.Sent, "of", noted)
    with ThreadPoolExecutor(1) as pool:
        score(event, executor=pool)
    grid = event.terrain.data
    assert len(sent) > len(event.flights)
    assert max(own.cells.size for own in sent) < 0.2 * np.prod(sent[0].shape)
    assert len(pickle.dumps(sent[0])) < 5000 < len(grid)


def test_a_broken_pool_is_made_up_for_with_a_large_terrain(event, whole, large):
    with ProcessPoolExecutor(1) as broken:
        broken.submit(_end)
        assert to_json(score(event, executor=broken)) == whole


def _end():
    os._exit(1)
