"""A season takes events as they were put up, and scores only what never was."""

from dataclasses import replace

import pytest

from scorer.cli import season as command
from scorer.cli.main import main
from scorer.event.raw import RawEvent
from scorer.ledger import api
from scorer.ledger.acts import MarkKeyed, Stage
from scorer.ledger.came import came_to
from scorer.ledger.convert import to_drafts
from scorer.scoring.season import Came
from tests.scorer.ledger.ledger_desks import create, small_event


@pytest.fixture
def target(tmp_path):
    with create(tmp_path / "e") as hall:
        raw: RawEvent = small_event()
        hall.record_all(to_drafts(raw))
        assert came_to(tmp_path / "e") is None  # never put up
        api.publish(hall, api.compute(hall), Stage.PROVISIONAL, tasks=[1])
        assert came_to(tmp_path / "e") is None  # a task is no standings
        done = api.compute(hall)
        api.publish(hall, done, Stage.PROVISIONAL)
        came = Came.of(done.event, done.results)
    return tmp_path / "e", came


def test_an_event_comes_to_what_its_publication_says(target):
    path, scored = target
    found = came_to(path)
    assert found == replace(scored, pilots=found.pilots)
    assert [(p.number, p.name, p.class_name, p.country) for p in found.pilots] == [
        (p.number, p.name, p.class_name, p.country) for p in scored.pilots
    ]


def test_no_event_that_was_put_up_is_scored_and_later_entries_are_told(
    target, monkeypatch, capsys
):
    path, _ = target
    with api.Ledger.open(path, desk=api.new_desk("x"), who="Ann") as ledger:
        held, act = ledger.state().all_of(MarkKeyed)[0]
        fields = {**act.fields, "distance": "1.11"}
        ledger.record(replace(act, fields=fields), replaces=held.ids)
    monkeypatch.setattr(command, "compute", None)
    assert main(["season", str(path)]) == 1
    assert "version 2. 1 entry was made since" in capsys.readouterr().out
    monkeypatch.undo()
    assert main(["season", str(path), "--afresh"]) in {0, 1}
    assert "made since" not in capsys.readouterr().out


def test_a_folder_is_scored(tmp_path):
    assert came_to(tmp_path) is None
