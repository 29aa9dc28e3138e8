"""The command line as people use it: what it prints, how it ends."""

import json
import shutil
from pathlib import Path

import pytest

from scorer.cli import show
from scorer.cli.commands import parser
from scorer.cli.main import main
from scorer.cli.screen import screen
from scorer.event.columns import TABLES
from scorer.event.raw import RawRow
from scorer.event.tables import write_csv

ROOT = Path(__file__).parents[3]
SMALL = ROOT / "sample_events" / "vashkorim"


@pytest.fixture
def folder(tmp_path):
    return Path(shutil.copytree(SMALL, tmp_path / "meet"))


def test_score_prints_tasks_findings_standings_and_says_what_blocks(capsys):
    status = main(["score", str(SMALL)])

    out = capsys.readouterr().out
    assert status == 0
    for part in (
        "Task 1 · Fly in (FIN)",
        "Infringements",
        "Standings",
        "Open matters",
        "Not ready",
    ):
        assert part in out
    assert "The aviation authority, the event's waiver" in out


def test_score_of_one_task_prints_that_task_alone(capsys):
    main(["score", str(SMALL), "--task", "2"])

    out = capsys.readouterr().out
    assert "Task 2" in out
    assert "Task 1 " not in out
    assert "Standings" not in out


def test_a_large_event_is_told_in_short_on_a_terminal_alone(capsys, monkeypatch):
    """Ten flights of 275 pilots are thousands of lines, of which none could be read."""
    monkeypatch.setattr(show, "MOST_ROWS", 5)
    main(["score", str(SMALL)])
    whole = capsys.readouterr().out
    monkeypatch.setattr(screen, "_force_terminal", True)
    main(["score", str(SMALL)])
    short = capsys.readouterr().out
    main(["score", str(SMALL), "--task", "1"])
    one = capsys.readouterr().out

    assert "told in short" not in whole
    assert "told in short" in short
    for part in ("Task 1 · Fly in", "6 entered", "Standings", "Open matters"):
        assert part in short
    assert "Infringements" not in short
    assert "Oisín Ek" in one
    assert "Infringements" in one


def test_json_on_standard_output_is_nothing_but_json(capsys):
    main(["score", str(SMALL), "--json", "-"])

    tree = json.loads(capsys.readouterr().out)
    assert tree["format"] == 1
    assert tree["event"]["name"] == "Vashkorim Six"


def test_the_same_folder_gives_the_same_bytes(tmp_path):
    for name in ("a", "b"):
        main(["score", str(SMALL), "--out", str(tmp_path / name)])

    for file in ("results.json", "results.xlsx"):
        one, other = ((tmp_path / n / file).read_bytes() for n in ("a", "b"))
        assert one == other, file


def test_an_event_without_anything_to_settle_ends_well(folder):
    for flight in (folder / "flights").iterdir():
        rows = (flight / "marks.csv").read_text(encoding="utf-8").splitlines()
        seen, kept = set(), rows[:1]
        for row in rows[1:]:
            key = tuple(row.split(",")[:2])
            if key not in seen:
                kept.append(row)
            seen.add(key)
        (flight / "marks.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    head = "task,pilot,finding,decision,by,reason\n"
    rulings = folder / "flights/first-morning/rulings.csv"
    rows = "1,1,ground-contact,apply,Mina,seen\n1,6,floor,apply,Mina,seen\n"
    rulings.write_text(head + rows, encoding="utf-8")

    assert main(["score", str(folder)]) == 0


def test_faults_end_with_status_two_and_all_of_them(folder, capsys):
    (folder / "pilots.csv").write_text("number,name\n1,Ann\n1,Bob\n")
    (folder / "flights/first-morning/flight.toml").write_text('date = "soon"\n')

    status = main(["check", str(folder)])

    err = capsys.readouterr().err
    assert status == 2
    assert "pilots.csv, line 3" in err
    assert "flight.toml, line 1, date" in err


def test_a_task_without_what_its_kind_needs_is_a_fault(folder, capsys):
    path = folder / "flights/first-morning/flight.toml"
    text = path.read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.startswith("target")]
    path.write_text("\n".join([*kept, "retires = 3", ""]), encoding="utf-8")

    assert main(["check", str(folder)]) == 2
    err = capsys.readouterr().err
    assert "targets: found none" in err
    assert "retires" in err


def test_check_of_a_sound_event_counts_what_is_there(capsys):
    assert main(["check", str(SMALL)]) == 0
    assert "no faults. 6 pilots" in capsys.readouterr().out


COLUMNS = [
    (name, column)
    for name, table in TABLES.items()
    for column in table.names
    if name != "assigned"  # a file's name, as long as the disk lets it be
]


@pytest.mark.parametrize(("name", "column"), COLUMNS)
def test_check_refuses_a_text_that_import_refuses(name, column, folder, capsys):
    """A name of 10,000 letters was well for one and no entry for the other."""
    table = TABLES[name]
    below = folder if table.of == "event" else folder / "flights" / "first-morning"
    row = {own.name: own.example for own in table.columns}
    row |= {"task": "1", "pilot": "1", column: "x" * 10_000}
    row = {own: row[own] for own in table.names}
    text = write_csv([RawRow(fields=row)], table.names)
    (below / f"{name}.csv").write_text(text, encoding="utf-8")
    target = str(folder.parent / "meet.sandtail")

    checked = main(["check", str(folder)]), capsys.readouterr().err
    imported = (
        main(["import", str(folder), target, "--by", "A"]),
        capsys.readouterr().err,
    )

    assert imported[0] == checked[0]
    assert imported[1].startswith(checked[1])
    assert not Path(target).exists() or checked[0] == 0


def test_what_no_entry_can_hold_is_told_with_its_line_and_column(folder, capsys):
    roster = folder / "pilots.csv"
    text = roster.read_text(encoding="utf-8")
    name = text.splitlines()[1].split(",")[1]
    roster.write_text(text.replace(name, "x" * 10_000), encoding="utf-8")
    reports = folder / "flights/first-morning/reports.csv"
    text = reports.read_text(encoding="utf-8")
    assert "Merel" in text
    reports.write_text(text.replace("Merel", "y" * 5_000), encoding="utf-8")

    assert main(["check", str(folder)]) == 2
    told = capsys.readouterr().err.splitlines()
    allowed = "allowed: at most 4,000 characters"
    assert told[0] == f"pilots.csv line 2, name: found 10,000 characters; {allowed}"
    assert told[1].startswith("flights/first-morning/reports.csv line")
    assert told[1].endswith(f", by: found 5,000 characters; {allowed}")


def test_check_tells_of_twins_on_the_roster(folder, capsys):
    path = folder / "pilots.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(f"{text}97,Oisin Ekk,q9frc,,,\n", encoding="utf-8")

    assert main(["check", str(folder)]) == 0
    out = capsys.readouterr().out
    assert "The registration Q9-FRC stands under several numbers" in out
    assert "Oisín Ek and Oisin Ekk are spelt nearly alike" in out


def test_explain_puts_the_numbers_in(capsys):
    assert main(["explain", str(SMALL), "--pilot", "4"]) == 0

    out = capsys.readouterr().out
    assert "Total" in out
    assert "6 entered, " in out
    assert "mark: " in out


def test_explaining_an_unknown_pilot_lists_the_known_ones(capsys):
    assert main(["explain", str(SMALL), "--pilot", "99"]) == 2
    assert "one of 1, 2, 3, 4, 5, 6" in capsys.readouterr().err


def test_rules_prints_every_value_with_its_source(capsys):
    assert main(["rules", "festival"]) == 0
    out = capsys.readouterr().out
    assert "common practice" in out
    assert main(["rules"]) == 0


def test_no_such_folder_is_told(capsys):
    assert main(["score", "/nowhere/at/all"]) == 2
    assert "no such folder" in capsys.readouterr().err


def test_an_unwritable_output_folder_is_told(tmp_path, capsys):
    (tmp_path / "file").write_text("")

    assert main(["score", str(SMALL), "--out", str(tmp_path / "file")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_every_command_is_described_in_the_readme():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    actions = parser()._subparsers._group_actions[0].choices

    for command in actions:
        assert f"sandtail {command}" in readme, command


def test_broken_logs_cost_themselves_alone(folder, capsys):
    logs = folder / "flights/first-morning/logs"
    first = min(logs.iterdir())
    first.write_bytes(first.read_bytes()[:40])

    main(["score", str(folder)])

    out = capsys.readouterr().out
    assert "Log that cannot be read" in out
    assert "all others" in out
