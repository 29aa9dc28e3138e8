"""`import scorer` in a notebook: documented, true, and nothing loaded too early."""

import doctest
import importlib
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest

import scorer
from scorer.errors import InputError

ROOT = Path(__file__).parents[2]
SMALL = ROOT / "sample_events/vashkorim"


@pytest.fixture(scope="module")
def meet():
    return scorer.score(SMALL)


def test_examples_of_the_notebook_are_true(monkeypatch):
    monkeypatch.chdir(ROOT)
    for name in ("scorer", "scorer.notebook"):
        done = doctest.testmod(importlib.import_module(name), verbose=False)

        assert done.attempted >= 2, name
        assert done.failed == 0, name


def test_every_name_is_documented():
    for name in scorer.__all__:
        assert getattr(scorer, name).__doc__, name


def test_importing_loads_nothing_and_scoring_no_tables():
    code = (
        "import sys, scorer\n"
        "assert not {'numpy', 'pandas', 'scorer.notebook'} & set(sys.modules)\n"
        f"meet = scorer.score({str(SMALL)!r})\n"
        "assert 'pandas' not in sys.modules\n"
        "assert len(scorer.scores(meet)) == 12\n"
        "assert 'pandas' in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)


def test_tables_say_what_the_results_say(meet):
    scores = scorer.scores(meet)
    for task in meet.results.tasks:
        own = scores[scores["task"] == task.task].set_index("pilot")["score"]
        assert own.to_dict() == {s.pilot: s.score for s in task.scores}
    totals = scorer.standings(meet).set_index("pilot")["total"]
    assert totals.to_dict() == {
        row.pilot: row.total for row in meet.results.standings.rows
    }
    agreed = sum(len(s.marks) for t in meet.results.tasks for s in t.scores)
    assert len(scorer.marks(meet)) == agreed
    assert set(scorer.infringements(meet)["pilot"]) <= set(totals.index)


def test_a_track_has_heights_at_the_events_clock(meet):
    track = scorer.track(meet, 1)

    flown = meet.tracks["first-morning", 1]
    assert isinstance(track.index, pd.DatetimeIndex)
    assert str(track.index.tz) == meet.event.time_zone
    assert len(track) == len(flown)
    assert track["height_m"].to_numpy() == pytest.approx(flown.height_m, nan_ok=True)
    assert track.index[0].timestamp() == pytest.approx(flown.time_s[0])
    assert track.attrs["log"] == flown.log


def test_what_is_not_there_is_told_with_what_is(meet):
    with pytest.raises(InputError, match="allowed: standings"):
        scorer.table(meet, "standing")
    with pytest.raises(InputError, match="first-morning"):
        scorer.track(meet, 1, "third-morning")
    with pytest.raises(InputError, match="--pilot"):
        scorer.explain(meet, "Nobody")
    with pytest.raises(AttributeError, match="scorer"):
        _ = scorer.nothing
