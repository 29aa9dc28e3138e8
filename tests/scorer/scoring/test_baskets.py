"""Whose a log is by how it flew: in one basket with another one, or far from all."""

import re
from pathlib import Path
from shutil import copytree

import pytest

from scorer.event import matters
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.scoring.score import score
from tests.helpers import said

SAMPLE = Path(__file__).parents[3] / "sample_events/vashkorim"


def later(text, seconds):
    """A second logger's fixes: a little later, with nothing said of whose it is."""
    rows = [row for row in text.splitlines() if row.startswith(("HFDTE", "B"))]
    return "AXYZ\r\n" + "\r\n".join(rows[:1] + rows[1 + seconds :]) + "\r\n"


def moved(text):
    """The same flight some three degrees farther north."""
    return re.sub(
        r"^(B\d{6})(\d\d)",
        lambda m: f"{m[1]}{int(m[2]) + 3:02}",
        text,
        flags=re.MULTILINE,
    )


@pytest.fixture(scope="module")
def results(tmp_path_factory):
    folder = tmp_path_factory.mktemp("baskets") / "meet"
    copytree(SAMPLE, folder)
    logs = folder / "flights/first-morning/logs"
    two, one = ((logs / name).read_text() for name in ("002.igc", "001.igc"))
    (logs / "LOG00055.IGC").write_text(later(two, 3))
    (logs / "001.igc").write_text(moved(one))
    return score(build_event(read_folder(folder)))


def test_a_log_that_says_nothing_is_of_whose_basket_it_flew_in(results):
    told = [m for m in results.matters if "LOG00055.IGC" in said(m)]
    spare = next(
        log
        for f in results.flights
        for log in f.logs
        if log.name.endswith("LOG00055.IGC")
    )

    assert spare.pilot == 2
    assert [m.says.kind for m in told] == ["log-joined"]
    assert "one basket" in said(spare.notes[0])


def test_a_log_that_launched_far_from_all_others_is_asked_about(results):
    (asked,) = (m for m in results.matters if m.says.kind == "log-far-off")

    assert (asked.kind, asked.pilots) == (matters.LOG_PILOT, (1,))
    assert asked.holds_up
    assert 250e3 < asked.says.get("away") < 400e3
