"""Season, winds and complaints on the command line."""

import json
import shutil
from pathlib import Path

import pytest

from scorer.cli.main import main

SAMPLES = Path(__file__).parents[3] / "sample_events"
SMALL = str(SAMPLES / "vashkorim")


def test_a_season_is_printed_with_what_to_look_at(capsys):
    assert main(["season", SMALL, SMALL, "--best", "1"]) == 1

    out = capsys.readouterr().out
    assert "E1: Vashkorim Six" in out
    assert "The best 1 events count" in out
    assert "Look at: Vashkorim Six is given more than once" in out


def test_a_season_can_be_written_as_json(tmp_path, capsys):
    main(["season", SMALL, "--json", str(tmp_path / "season.json")])

    tree = json.loads((tmp_path / "season.json").read_text(encoding="utf-8"))
    assert len(tree["standings"]) == 6
    assert "wrote" in capsys.readouterr().out


@pytest.mark.parametrize(
    "bad", [["--best", "0"], ["--places", "25,x"], ["--places", "5,-1"]]
)
def test_wrong_options_of_a_season_are_told(bad, capsys):
    assert main(["season", SMALL, *bad]) == 2
    assert "allowed" in capsys.readouterr().err


def test_winds_come_with_their_caution(capsys):
    assert main(["winds", SMALL, "--flight", "first-morning"]) == 0

    out = capsys.readouterr().out
    assert "Flight first-morning" in out
    assert "second-morning" not in out
    assert "It is no forecast" in out


@pytest.fixture
def meet(tmp_path):
    path = str(tmp_path / "meet.sandtail")
    assert main(["import", SMALL, path, "--by", "Ida"]) == 0
    return path


def file(meet, *more):
    text = ["--text", "my mark was nearer", "--by", "Eva"]
    return main(
        ["complaint", meet, "file", "--pilot", "4", "--task", "1", *text, *more]
    )


def test_a_complaint_is_filed_decided_and_listed_with_times(meet, capsys):
    assert file(meet) == 0
    assert main(["complaint", meet]) == 1  # open
    why = ["--why", "measured again: it stands", "--by", "Ida"]
    assert main(["complaint", meet, "decide", "1", "rejected", *why]) == 0
    capsys.readouterr()

    assert main(["complaint", meet]) == 0

    out = " ".join(capsys.readouterr().out.split())
    assert "1. pilot 4, task 1, filed 20" in out
    assert "by Eva" in out
    assert "rejected 20" in out
    assert "by Ida: measured again: it stands" in out
    assert "1 complaints and protests, 0 open" in out


def test_a_protest_names_the_complaint_it_is_about(meet, capsys):
    file(meet)
    assert file(meet, "--protest", "1") == 0
    assert "not decided yet" in capsys.readouterr().out

    main(["complaint", meet])

    assert "Protest against the outcome of" in capsys.readouterr().out


def test_a_complaint_of_nobody_is_refused(meet, capsys):
    status = main(["complaint", meet, "file", "--pilot", "99", "--text", "x"])

    assert status == 2
    assert "one of 1, 2, 3, 4, 5, 6" in capsys.readouterr().err


def test_deciding_what_was_never_filed_is_refused(meet, capsys):
    assert main(["complaint", meet, "decide", "3", "upheld", "--why", "x"]) == 2
    assert "a number of the list" in capsys.readouterr().err


def test_the_rules_an_event_is_scored_by_are_printed_with_its_own_values(capsys):
    assert main(["rules", str(SAMPLES / "quillowen")]) == 0

    out = capsys.readouterr().out
    assert "Quillowen Lantern Meet: the rules it is scored by" in out
    assert "1 task point for each ft over the limit, at most 500" in out
    assert "set by the event" in out
    assert "Task 3 (FIN) has rules of its own" in out


def test_an_unknown_book_is_told_with_the_nearest(capsys):
    assert main(["rules", "festval"]) == 2
    assert "festival" in capsys.readouterr().err


def test_equal_results_are_not_called_a_wrong_order(tmp_path, capsys):
    folder = tmp_path / "meet"
    shutil.copytree(SMALL, folder)
    marks = folder / "flights/first-morning/marks.csv"
    head = marks.read_text(encoding="utf-8").splitlines()[0]
    columns = head.split(",")
    rows = [
        {"task": "1", "pilot": str(n), "method": "tape", "distance": "9 m", "by": "Eva"}
        for n in (2, 3)
    ]
    lines = [",".join(row.get(c, "") for c in columns) for row in rows]
    marks.write_text("\n".join([head, *lines, ""]), encoding="utf-8")

    main(["score", str(folder), "--task", "1"])

    assert "2 and 3 (equal as published)" in capsys.readouterr().out
