"""The next event is made from the last one."""

import pytest

from scorer.cli.main import main
from scorer.event.build import build_event
from scorer.event.folder import write_folder
from scorer.ledger import api
from tests.scorer.tiny import RULES, tiny_flight, tiny_raw

PILOTS = """number,name,phone,home
1,Ann,+990 55 0123,Upper Ford
2,Bob,+990 55 0456,Lower Ford
"""
MARKS = "task,pilot,method,distance\n1,1,tape,3 m\n"


@pytest.fixture
def last(tmp_path):
    flight = tiny_flight(marks=MARKS)
    rules = f"{RULES}points.no_result = 'zero'\n"
    own = {"venue": "Ford", "public_columns": ["home", "note"]}
    write_folder(tiny_raw(flight, pilots=PILOTS, rules=rules, **own), tmp_path / "old")
    return tmp_path / "old"


def new(last, target, *more):
    command = ["new", str(target), "--name", "Next", "--from", str(last), "--by", "E"]
    return main([*command, *more])


@pytest.mark.parametrize("target", ["next.sandtail", "next/"])
def test_rules_places_and_texts_are_taken_and_nobody(last, tmp_path, target):
    target = f"{tmp_path}/{target}"
    assert new(last, target) == 0
    event = build_event(api.load(target).raw)
    assert (event.name, event.venue) == ("Next", "Ford")
    assert event.book.points.no_result == "zero"
    assert len(event.places) == 6
    assert (event.pilots, event.flights) == ((), ())
    assert event.public_columns == {"note"}


def test_people_come_when_asked_without_what_is_private(last, tmp_path):
    target = tmp_path / "next.sandtail"
    assert (
        new(last, target, "--people", "--venue", "Mill", "--book", "championship") == 0
    )
    event = build_event(api.load(target).raw)
    assert [p.name for p in event.pilots] == ["Ann", "Bob"]
    assert [dict(p.extra) for p in event.pilots] == [
        {"home": "Upper Ford"},
        {"home": "Lower Ford"},
    ]
    held = target.read_bytes()
    assert b"Upper Ford" in held
    # Whole numbers: four digits alone stand in one hash of thousands by chance.
    assert b"+990 55" not in held
    assert (event.venue, event.book.name) == ("Mill", "championship")


def test_an_event_file_gives_the_next_one_too(last, tmp_path):
    file = str(tmp_path / "old.sandtail")
    assert main(["import", str(last), file, "--by", "E"]) == 0
    assert new(file, tmp_path / "next.sandtail") == 0
    event = build_event(api.load(tmp_path / "next.sandtail").raw)
    assert len(event.places) == 6


@pytest.mark.parametrize("more", [[], ["--people"], ["--crs", "EPSG:25830"]])
def test_without_the_last_one_zone_and_system_are_asked(tmp_path, capsys, more):
    target = tmp_path / "next.sandtail"
    assert main(["new", str(target), "--name", "Next", "--by", "E", *more]) == 2
    assert "--time-zone" in capsys.readouterr().err
    assert not target.exists()
