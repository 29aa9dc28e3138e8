"""The air is set down as results first go up: later logs change nobody else's heights."""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest

from scorer.cli.main import main
from scorer.errors import InputError
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.ledger import api
from scorer.scoring.score import score
from scorer.tracks.air import Air
from scorer.tracks.air_kept import KeptAir, kept_air
from tests.helpers import said

SAMPLE = str(Path(__file__).parents[3] / "sample_events" / "vashkorim")
FLIGHT = "first-morning"
LATE = "006.igc"


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture(scope="module")
def once(tmp_path_factory):
    """The sample without one log and without the second morning; entered, and up."""
    place = tmp_path_factory.mktemp("once")
    shutil.copytree(SAMPLE, place / "meet")
    shutil.rmtree(place / "meet" / "flights" / "second-morning")
    (place / "meet" / "flights" / FLIGHT / "logs" / LATE).unlink()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SANDTAIL_DESK", "hall-0a0a0a")
        file, up = str(place / "entered.sandtail"), str(place / "up.sandtail")
        assert main(["import", str(place / "meet"), file, "--by", "Eva"]) == 0
        shutil.copy(file, up)
        assert main(["publish", up, "provisional", "--by", "Eva"]) == 0
    return place


@pytest.fixture
def folder(once, tmp_path):
    return Path(shutil.copytree(once / "meet", tmp_path / "meet"))


@pytest.fixture
def file(once, tmp_path):
    return str(shutil.copy(once / "entered.sandtail", tmp_path / "meet.sandtail"))


@pytest.fixture
def published(once, tmp_path):
    """The event once its first results are up."""
    return str(shutil.copy(once / "up.sandtail", tmp_path / "up.sandtail"))


@pytest.fixture(scope="module")
def before(once):
    """Results before anything was up."""
    return score(event(str(once / "entered.sandtail")))


def bring_late_log(file, folder):
    shutil.copy(
        Path(SAMPLE) / "flights" / FLIGHT / "logs" / LATE,
        folder / "flights" / FLIGHT / "logs" / LATE,
    )
    assert main(["import", str(folder), "--into", file, "--by", "Eva"]) == 0


def event(file):
    return build_event(api.load(file).raw)


def airs(results):
    """Temperature of the column by log, of those that counted at first."""
    logs = results.flights[0].logs
    return {x.name: x.air.mean.tolist() for x in logs if LATE not in x.name}


def late(results):
    return [m for m in results.matters if m.kind.name == "air-late"]


def test_a_late_log_changes_nobody_elses_heights_once_results_are_up(
    before, published, folder
):
    up = score(event(published))
    assert up.flights[0].air_kept
    assert airs(up) == airs(before)  # to the last bit

    bring_late_log(published, folder)
    after = score(event(published))

    assert airs(after) == airs(before)
    (told,) = late(after)
    assert LATE in said(told.says)
    own = next(x for x in after.flights[0].logs if LATE in x.name)
    assert own.air.mean.tolist() == before.flights[0].air.mean.tolist()
    assert after.flights[0].air.mean.tolist() == before.flights[0].air.mean.tolist()


def test_without_a_publication_a_new_log_counts_for_the_air_of_all(
    before, file, folder
):
    bring_late_log(file, folder)

    after = score(event(file))

    assert airs(after) != airs(before)
    assert not late(after)


def test_an_official_renews_the_air_with_a_reason_and_sees_first_what_it_changes(
    published, folder, capsys
):
    kept = airs(score(event(published)))
    bring_late_log(published, folder)
    words = [
        "correct",
        published,
        "air",
        FLIGHT,
        "--why",
        "all logs are in",
        "--by",
        "Eva",
    ]
    capsys.readouterr()
    assert main([*words, "--dry-run"]) == 0
    assert airs(score(event(published))) == kept

    assert main(words) == 0
    renewed = score(event(published))
    assert not renewed.flights[0].air_kept
    assert airs(renewed) != kept
    assert not late(renewed)
    assert main(["publish", published, "provisional", "--by", "Eva"]) == 0
    assert airs(score(event(published))) == airs(renewed)
    assert main(["verify", published]) == 0
    assert "2 of them computed again" in " ".join(capsys.readouterr().out.split())


@pytest.fixture
def copy(published, tmp_path):
    """A folder of the event with results up, to which the late log came afterwards."""
    assert main(["export", published, str(tmp_path / "copy")]) == 0
    logs = Path("flights") / FLIGHT / "logs"
    shutil.copy(Path(SAMPLE) / logs / LATE, tmp_path / "copy" / logs / LATE)
    return tmp_path / "copy"


def test_a_folder_takes_the_air_along_and_gives_the_heights_that_went_up(
    copy, before, tmp_path
):
    of_folder = score(build_event(read_folder(copy)))
    assert of_folder.flights[0].air_kept
    assert airs(of_folder) == airs(before)  # to the last bit
    assert len(late(of_folder)) == 1

    made = str(tmp_path / "made.sandtail")
    assert main(["import", str(copy), made, "--by", "Eva"]) == 0
    of_made = score(event(made))
    assert airs(of_made) == airs(before)
    assert len(late(of_made)) == 1
    assert main(["export", made, str(tmp_path / "again")]) == 0
    name = Path("flights") / FLIGHT / "air.json"
    assert (tmp_path / "again" / name).read_bytes() == (copy / name).read_bytes()
    assert main(["correct", made, "air", FLIGHT, "--why", "all", "--by", "Eva"]) == 0
    assert not late(score(event(made)))


def test_a_folder_read_into_its_event_again_changes_nothing_of_the_air(copy, published):
    words = ["correct", published, "air", FLIGHT, "--why", "x", "--by", "Eva"]
    assert main(words) == 0
    assert main(["import", str(copy), "--into", published, "--by", "Eva"]) == 0
    assert not score(event(published)).flights[0].air_kept


def test_a_damaged_air_is_told_and_counts_for_nothing(folder):
    (folder / "flights" / FLIGHT / "air.json").write_text('{"logs": {}}')
    results = score(build_event(read_folder(folder)))
    assert not results.flights[0].air_kept
    told = [m.flight for m in results.matters if m.kind.name == "air-unread"]
    assert told == [FLIGHT]


@pytest.mark.parametrize("text", ["null", "[]", "{", '{"whole": "\\ud800"}'])
def test_an_air_that_is_no_table_is_a_fault_with_its_file(folder, text):
    (folder / "flights" / FLIGHT / "air.json").write_text(text)
    with pytest.raises(InputError, match=f"flights/{FLIGHT}/air.json"):
        read_folder(folder)


def test_an_unknown_flight_is_refused(file):
    words = ["correct", file, "air", "third-noon", "--why", "x", "--by", "Eva"]
    assert main(words) == 2


TREE = KeptAir(
    whole=Air(mean=np.array([1.5, -0.2, 3.0]), cov=np.diag([0.1, 0.9, 2.0]), scale=0.7),
    logs={
        "ab": Air(
            mean=np.zeros(3),
            cov=np.array([[1.0, 0.2, 0.0], [0.2, 0.5, 0.0], [0.0, 0.0, 1e-3]]),
            scale=1.0,
            gnss={"geoid": (-47.0, 1.5)},
            logs=12,
        )
    },
).tree()


@pytest.mark.parametrize(
    "change",
    [
        {"mean": [1.0, float("nan"), 0]},
        {"mean": [1.0, 1e7, 0]},
        {"cov": [[0.0] * 3] * 3},
        {"cov": [[1e-9, 0, 0], [0, 1, 0], [0, 0, 1]]},
        {"cov": [[1, 5, 0], [0, 1, 0], [0, 0, 1]]},
        {"scale": "wide"},
        {"scale": 0.0},
        {"gnss": {"geoid": [1.0]}},
        {"logs": float("inf")},
    ],
)
@pytest.mark.parametrize("where", ["whole", "logs"])
def test_what_is_no_air_is_not_read_as_one(change, where):
    tree = json.loads(json.dumps(TREE))
    part = tree["whole"] if where == "whole" else tree["logs"]["ab"]
    part.update(change)
    assert kept_air(tree) is None


@pytest.mark.parametrize("tree", [None, {"whole": TREE["whole"]}, [TREE]])
def test_what_has_not_the_form_of_an_air_is_not_read_as_one(tree):
    assert kept_air(tree) is None
    assert kept_air(TREE).tree() == TREE
