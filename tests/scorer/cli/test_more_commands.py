"""Season, winds and complaints on the command line."""

import json
import re
import shutil
from pathlib import Path

import pytest

from scorer.cli.main import main

SAMPLES = Path(__file__).parents[3] / "sample_events"
SMALL = str(SAMPLES / "vashkorim")


def test_a_season_is_printed_with_what_to_look_at(capsys):
    assert main(["season", SMALL, SMALL, "--best", "1"]) == 1

    out = capsys.readouterr().out
    assert "Event 1: Vashkorim Six" in out
    assert "The best event counts" in out
    assert "Look at: Vashkorim Six is given more than once" in out


def test_a_season_can_be_written_as_json(tmp_path, capsys):
    main(["season", SMALL, "--json", str(tmp_path / "season.json")])

    tree = json.loads((tmp_path / "season.json").read_text(encoding="utf-8"))
    assert len(tree["standings"]) == 6
    assert "Written: " in capsys.readouterr().out


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
    assert "1. complaint of pilot 4, task 1, filed 20" in out
    assert "by Eva" in out
    assert "rejected 20" in out
    assert "by Ida: measured again: it stands" in out
    assert "1 complaint or protest, 0 open" in out


def test_a_protest_names_the_complaint_it_is_about(meet, capsys):
    file(meet)
    assert file(meet, "--protest", "1") == 0
    assert "not answered yet" in capsys.readouterr().out

    main(["complaint", meet])

    out = " ".join(capsys.readouterr().out.split())
    assert "2. protest of pilot 4 against the outcome of 1, task 1, filed" in out
    assert "(The complaint it is about is not answered yet.)" in out


def test_a_protest_is_about_the_task_of_its_complaint(meet, capsys):
    file(meet)
    words = ["--pilot", "5", "--text", "no", "--protest", "1"]
    assert main(["complaint", meet, "file", *words]) == 0
    capsys.readouterr()

    main(["complaint", meet])

    assert "protest of pilot 5 against the outcome of 1, task 1" in " ".join(
        capsys.readouterr().out.split()
    )


def test_a_complaint_that_says_nothing_is_refused(meet, capsys):
    words = ["--pilot", "4", "--text", " "]

    assert main(["complaint", meet, "file", *words]) == 2
    assert "what the pilot says" in capsys.readouterr().err


@pytest.fixture
def with_period(tmp_path):
    """The sample with a protest period of one hour."""
    folder = Path(shutil.copytree(SMALL, tmp_path / "folder"))
    path = folder / "event.toml"
    text = path.read_text(encoding="utf-8")
    text += 'protest_time = "1 h"\n'  # in the last table, [rules.publication]
    path.write_text(text, encoding="utf-8")
    meet = str(tmp_path / "period.sandtail")
    assert main(["import", str(folder), meet, "--by", "Ida"]) == 0
    return meet


def test_an_outcome_says_until_when_one_may_protest(with_period, capsys):
    file(with_period)
    why = ["--why", "it stands", "--by", "Ida"]
    assert main(["complaint", with_period, "decide", "1", "rejected", *why]) == 0
    assert "protests until 20" in capsys.readouterr().out
    assert file(with_period, "--protest", "1") == 0
    out = capsys.readouterr().out
    assert "protest filed" in out
    assert "officials" not in out  # in time

    assert main(["complaint", with_period]) == 1
    assert "protests until 20" in capsys.readouterr().out


def test_a_late_protest_is_recorded_and_called_late(with_period, tmp_path, capsys):
    file(with_period)
    folder = tmp_path / "out"
    main(["export", with_period, str(folder)])
    (folder / "complaints.csv").write_text(
        "task,pilot,number,text,outcome,reason,decided_by,decided_at\n"
        "1,4,1,mine was nearer,rejected,it stands,Ida,2020-05-01 10:00\n",
        encoding="utf-8",
    )
    late = str(tmp_path / "late.sandtail")
    assert main(["import", str(folder), late]) == 0

    assert file(late, "--protest", "1") == 0

    assert "The time to protest ended at 1 May 11:00" in capsys.readouterr().out


def test_export_carries_complaints_and_says_what_stays_behind(meet, tmp_path, capsys):
    file(meet)
    main(["complaint", meet, "decide", "1", "upheld", "--why", "seen", "--by", "Ida"])
    capsys.readouterr()

    assert main(["export", meet, str(tmp_path / "out")]) == 0

    out = " ".join(capsys.readouterr().out.split())
    assert "Left behind: 0 publications" in out
    assert "who entered what when" in out
    assert "“sandtail archive” keeps them" in out
    again = str(tmp_path / "again.sandtail")
    assert main(["import", str(tmp_path / "out"), again, "--by", "Max"]) == 0
    capsys.readouterr()
    for target in (again, str(tmp_path / "out")):
        assert main(["complaint", target]) == 0
        out = " ".join(capsys.readouterr().out.split())
        assert "1. complaint of pilot 4, task 1, filed 20" in out
        assert "by Eva" in out
        assert "by Ida: seen" in out
        assert "Max" not in out


def test_a_folder_with_a_faulty_complaint_is_told_with_its_line(tmp_path, capsys):
    folder = Path(shutil.copytree(SMALL, tmp_path / "folder"))
    (folder / "complaints.csv").write_text("task,pilot,text\n1,77,mine\n")

    for words in (["check"], ["complaint"], ["score"]):
        assert main([*words, str(folder)]) == 2
        told = capsys.readouterr()
        assert "complaints.csv, line 2, pilot" in " ".join(
            (told.out + told.err).split()
        )


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
    assert "1 task point for each foot, at most 500" in " ".join(out.split())
    assert "set by the event" in out
    assert "Task 3 · Fly in (FIN) has rules of its own" in out


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

    out = capsys.readouterr().out
    assert re.search(r"again: 2 .* and 3 .*\(equal as ranked\)", out)
