"""A pilot's breakdown on the command line: found by name, as a paper has it."""

import shutil
from pathlib import Path

import pytest

from scorer.cli.explain import pilot_of
from scorer.cli.main import main
from scorer.errors import InputError
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.ledger import api
from scorer.ledger.acts import MarkKeyed, Stage

SMALL = Path(__file__).parents[3] / "sample_events" / "vashkorim"
LARGE = SMALL.parent / "quillowen"


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture(scope="module")
def event():
    return build_event(read_folder(LARGE))


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("13", 13),
        ("tourmignon", 29),
        ("Anaelle", 29),  # without its accent
        ("KVAMSDALEN håvard", 32),
        ("雲野井 朋果", 25),
        ("Siobhán Ek", 4),
    ],
)
def test_a_pilot_is_found_by_number_name_or_part_of_it(event, text, number):
    assert pilot_of(event, text) == number


def test_a_name_that_fits_several_lists_them(event):
    with pytest.raises(InputError) as caught:
        pilot_of(event, "María del Carmen")
    assert "8 María del Carmen Quintanabal, 21 María del Carmen Zubelzaga" in str(
        caught.value
    )


@pytest.mark.parametrize("text", ["nobody at all", "", "0", "999999999999"])
def test_a_name_of_nobody_is_refused(event, text):
    with pytest.raises(InputError, match="--pilot: found"):
        pilot_of(event, text)


def test_a_breakdown_as_an_earlier_version_had_it(tmp_path, capsys):
    file = str(tmp_path / "meet.sandtail")
    assert main(["import", str(SMALL), file, "--by", "Eva"]) == 0
    with api.Ledger.open(file, desk=api.this_desk(), who="Eva") as ledger:
        api.publish(ledger, api.compute(ledger), Stage.PROVISIONAL)
        (current, act) = next(
            (c, a)
            for c, a in ledger.state().all_of(MarkKeyed)
            if (a.fields["task"], a.fields["pilot"]) == ("1", "2")
        )
        changed = {**act.fields, "easting": "301190.4"}
        again = MarkKeyed(flight=act.flight, fields=changed)
        ledger.record(again, replaces=current.ids, why="misread")
    capsys.readouterr()

    assert main(["explain", file, "--pilot", "2", "--task", "1"]) == 0
    now = capsys.readouterr().out
    given = ["explain", file, "--pilot", "2", "--task", "1", "--version"]
    assert main([*given, "1"]) == 0
    then = capsys.readouterr().out
    assert then.startswith("as published: version 1, provisional, ")
    assert "301190.4 E, " in now
    assert "301190.4" not in then
    assert "301187.8 E, " in then
    assert "its numbers change" not in then

    assert main([*given, "7"]) == 2
    assert "published so far: 1 (provisional, whole event)" in capsys.readouterr().err


def test_a_version_of_one_task_is_explained_and_no_draft_beside_it(tmp_path, capsys):
    file = str(tmp_path / "meet.sandtail")
    assert main(["import", str(SMALL), file, "--by", "Eva"]) == 0
    with api.Ledger.open(file, desk=api.this_desk(), who="Eva") as ledger:
        api.publish(ledger, api.compute(ledger), Stage.PROVISIONAL, tasks=(1,))
    capsys.readouterr()

    assert main(["explain", file, "--pilot", "2", "--version", "1"]) == 0

    told = capsys.readouterr().out
    assert told.startswith("as published: version 1, provisional, ")
    assert "Task 1" in told
    assert "Task 2" not in told
    assert "Total" not in told
    assert main(["explain", file, "--pilot", "2", "--task", "2", "--version", "1"]) == 2


@pytest.fixture
def strange(tmp_path):
    """The small sample with a row of a pilot and one of a task that nobody knows."""
    folder = Path(shutil.copytree(SMALL, tmp_path / "meet"))
    marks = folder / "flights/first-morning/marks.csv"
    with marks.open("a", encoding="utf-8") as out:
        out.write("1,99,,tape,12.34 m\n")
    reports = folder / "flights/first-morning/reports.csv"
    with reports.open("a", encoding="utf-8") as out:
        out.write("8,1,ground-contact\n")
    return folder


def test_rows_of_strangers_are_named_and_refused_with_a_hint(strange, tmp_path, capsys):
    file = tmp_path / "meet.sandtail"
    assert main(["import", str(strange), str(file), "--by", "Eva"]) == 2
    told = capsys.readouterr().err
    assert 'pilot: found "99"' in told
    assert "--leave-out" in told
    assert not file.exists()


def test_rows_of_strangers_are_left_out_on_request(strange, tmp_path, capsys):
    file, plain = str(tmp_path / "a.sandtail"), str(tmp_path / "b.sandtail")
    assert main(["import", str(SMALL), plain, "--by", "Eva"]) == 0
    capsys.readouterr()
    assert main(["import", str(strange), file, "--by", "Eva", "--leave-out"]) == 0
    out = capsys.readouterr().out
    assert out.count("left out: ") == 2
    assert "marks.csv, line " in out
    assert "reports.csv, line " in out
    rows = [
        [a.fields for _, a in api.load(f).state.all_of(MarkKeyed)]
        for f in (file, plain)
    ]
    assert rows[0] == rows[1]


def test_leaving_rows_out_is_offered_only_where_it_helps(strange, tmp_path, capsys):
    """A line of the roster without its number makes strangers of its pilot's marks."""
    roster = strange / "pilots.csv"
    text = roster.read_text(encoding="utf-8")
    roster.write_text(text.replace("\n3,", "\n,"), encoding="utf-8")
    assert main(["import", str(strange), str(tmp_path / "a"), "--by", "Eva"]) == 2
    told = capsys.readouterr().err
    assert "pilots.csv, line 4, number: found nothing" in told
    assert 'pilot: found "99"' in told
    assert "--leave-out" not in told


def test_other_faults_still_refuse_the_whole_import(strange, tmp_path, capsys):
    marks = strange / "flights/first-morning/marks.csv"
    with marks.open("a", encoding="utf-8") as out:
        out.write("1,1,,tape,twelve\n")
    file = tmp_path / "meet.sandtail"
    given = ["import", str(strange), str(file), "--by", "Eva", "--leave-out"]
    assert main(given) == 2
    told = capsys.readouterr().err
    assert '"twelve"' in told
    assert '"99"' not in told
    assert not file.exists()
