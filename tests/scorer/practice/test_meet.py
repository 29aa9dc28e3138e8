"""Invented meets: the same seed gives the same bytes, and nothing is overwritten."""

import importlib.util
import re
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from zoneinfo import available_timezones

import numpy as np
import pytest

from scorer.errors import ScorerError
from scorer.practice.__main__ import main
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.names import people
from scorer.practice.scenes import QUILLOWEN, SAMPLES, VASHKORIM, Role, crowd

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def small():
    return make_meet(VASHKORIM, 5)


@pytest.fixture(scope="module")
def making():
    path = ROOT / "sample_events" / "make.py"
    spec = importlib.util.spec_from_file_location("sample_making", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_same_seed_gives_the_same_bytes(small):
    again = make_meet(VASHKORIM, 5)

    assert dict(again.files) == dict(small.files)


def test_another_seed_gives_another_meet(small):
    other = make_meet(VASHKORIM, 6)

    for name in ("pilots.csv", "terrain.tif", "flights/first-morning/logs/001.igc"):
        assert other.files[name] != small.files[name]


def test_one_pilot_more_leaves_the_ground_and_the_other_flights_as_they_were():
    few = make_meet(crowd(pilots=4), 3)
    more = make_meet(crowd(pilots=5), 3)

    for name in ("terrain.tif", "flights/flight-1/logs/002.igc"):
        body = [
            [line for line in m.files[name].splitlines() if not line.startswith(b"H")]
            for m in (few, more)
        ]
        assert body[0][1:] == body[1][1:]


def test_a_meet_of_many_flights_goes_on_into_the_next_month():
    days = [date.fromisoformat(s.date) for s in crowd(pilots=4, flights=30).flights]
    assert len(set(days)) == 30
    assert days[-1] - days[0] == timedelta(days=29)


def test_the_samples_in_the_repository_are_what_their_seeds_make(making, capsys):
    assert making.main(["--check"]) == 0
    assert capsys.readouterr().out == ""


def test_checking_names_each_file_that_differs_and_writes_nothing(
    making, tmp_path, capsys
):
    assert making.main(["--folder", str(tmp_path)]) == 0
    marks = tmp_path / "vashkorim" / "flights" / "first-morning" / "marks.csv"
    marks.write_bytes(marks.read_bytes() + b"#\n")
    (tmp_path / "quillowen" / "event.toml").unlink()
    (tmp_path / "quillowen" / "left-over.txt").write_text("x")
    capsys.readouterr()

    assert making.main(["--check", "--folder", str(tmp_path)]) == 1

    said = capsys.readouterr().out
    assert "marks.csv: differs" in said
    assert "event.toml: missing" in said
    assert "left-over.txt: not made" in said
    assert marks.read_bytes().endswith(b"#\n")


def test_rebuilding_takes_away_what_is_no_longer_made(making, tmp_path):
    old = tmp_path / "vashkorim" / "flights" / "dropped" / "logs" / "001.igc"
    old.parent.mkdir(parents=True)
    old.write_text("x")

    making.main(["--folder", str(tmp_path)])

    assert not (tmp_path / "vashkorim" / "flights" / "dropped").exists()
    assert making.main(["--check", "--folder", str(tmp_path)]) == 0


def test_a_folder_that_holds_something_is_never_written_to(small, tmp_path):
    (tmp_path / "mine.txt").write_text("keep me")

    with pytest.raises(ScorerError, match="nothing there is overwritten"):
        write_meet(small, tmp_path)

    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]


def test_a_written_meet_holds_exactly_its_files(small, tmp_path):
    folder = tmp_path / "new" / "meet"

    write_meet(small, folder)

    there = {
        p.relative_to(folder).as_posix(): p.read_bytes()
        for p in folder.rglob("*")
        if p.is_file()
    }
    assert there == dict(small.files)


def test_nobody_plays_two_parts_and_every_part_is_played_once():
    meet = make_meet(QUILLOWEN, 11)

    planted = meet.answer["planted"]
    asked = sorted(str(role) for scene in QUILLOWEN.flights for role in scene.cast)
    assert sorted(line["part"] for line in planted) == asked
    assert len({line["pilot"] for line in planted}) == len(planted)


@pytest.mark.parametrize("pilots", [1, 2, 5, 16])
def test_a_meet_too_small_for_all_parts_is_still_made(pilots):
    spec = replace(QUILLOWEN, pilots=pilots, flights=QUILLOWEN.flights[:1])

    meet = make_meet(spec, 2)

    assert len(meet.answer["tasks"][0]["pilots"]) == pilots


def test_no_pilots_is_refused():
    with pytest.raises(ScorerError, match="found 0 pilots; allowed: 1 or more"):
        make_meet(replace(VASHKORIM, pilots=0), 1)


@pytest.mark.parametrize(("fixes", "step"), [(3600, 1), (1500, 2)])
def test_logs_of_a_crowd_have_exactly_the_fixes_asked_for(fixes, step):
    meet = make_meet(crowd(pilots=6, fixes=fixes, sample_s=step), 4)

    for name, content in meet.files.items():
        if name.endswith(".igc"):
            assert content.count(b"\r\nB") == fixes
    for sortie in meet.sorties["flight-1"].values():
        assert sortie.truth.landing_s < sortie.truth.time_s[-1] - 100.0


def test_too_few_fixes_for_a_flight_is_an_error_that_says_how_many():
    with pytest.raises(ScorerError, match="ask for at least 240"):
        make_meet(crowd(pilots=3, fixes=60, sample_s=10), 1)


def test_the_command_makes_a_meet_and_says_where(tmp_path, capsys):
    folder = tmp_path / "made"

    assert main(["--pilots", "3", "--seed", "9", "--out", str(folder)]) == 0

    assert "3 pilots" in capsys.readouterr().out
    assert (folder / "event.toml").is_file()
    assert main(["--pilots", "3", "--out", str(folder)]) == 2
    assert "not empty" in capsys.readouterr().err


def test_the_command_makes_a_sample(tmp_path):
    folder = tmp_path / "made"

    assert main(["--sample", "vashkorim", "--out", str(folder)]) == 0

    kept = ROOT / "sample_events" / "vashkorim" / "pilots.csv"
    assert (folder / "pilots.csv").read_bytes() == kept.read_bytes()


def test_any_number_of_people_are_all_different_with_a_plain_spelling():
    crowd_of = people(1100, np.random.default_rng(1))

    assert len({person.name for person in crowd_of}) == 1100
    assert all(person.latin.isascii() for person in crowd_of)
    assert any(any("֐" <= c <= "ۿ" for c in p.name) for p in crowd_of)
    assert max(len(person.name) for person in crowd_of) >= 40


def test_invented_places_bear_no_name_of_a_real_city():
    """Cities of the IANA time zone database, the gazetteer Python brings along."""
    real = {
        part.replace("_", " ").casefold()
        for zone in available_timezones()
        for part in zone.split("/")
    }

    for spec, _ in SAMPLES.values():
        prose = f"{spec.name} {spec.venue} {spec.tale}"
        for word in re.findall(r"[A-Z]\w+", prose):
            assert word.casefold() not in real


def test_the_page_of_each_sample_says_invented_and_shows_the_cautions():
    for name in SAMPLES:
        text = (ROOT / "sample_events" / name / "README.md").read_text("utf-8")
        page = " ".join(text.split())
        assert "This meet is invented" in page
        assert "not for navigation" in page
        assert "aviation authority" in page
        assert "power lines" in page


def test_the_samples_stay_small():
    files = [p for p in (ROOT / "sample_events").rglob("*") if p.is_file()]

    assert sum(p.stat().st_size for p in files) < 6_000_000


def test_every_part_has_a_meaning_in_words():
    assert all(len(role) > 4 for role in Role)
