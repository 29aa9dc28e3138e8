"""What was official is not scored anew by a rule that changes later."""

import shutil

import pytest

from scorer.cli.main import main
from scorer.event.build import build_event
from scorer.event.folder import read_folder, write_folder
from scorer.event.rulebook import SECTIONS
from scorer.event.rules_reader import book_names, load_book, override, plain_rules
from scorer.ledger import api
from scorer.ledger.acts import FlightSet, SettingsSet
from scorer.scoring.score import score
from tests.scorer.tiny import RULES, tiny_flight, tiny_raw

MARKS = """task,pilot,method,distance,by
1,1,tape,3 m,K
1,2,tape,5 m,K
1,3,none,,K
1,4,none,,K
"""
SECOND = '[[task]]\nnumber = 2\nkind = "FIN"\ntarget = "T"\nscoring_area = "area"\n'
ANSWERS = """floor.penalty = "none"
contact.penalty = "none"
"""


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture
def file(tmp_path):
    second = tiny_flight(
        "f2", tasks=SECOND, marks=MARKS.replace("\n1,", "\n2,"), day="2026-06-02"
    )
    raw = tiny_raw(tiny_flight(marks=MARKS), second, rules=RULES + ANSWERS)
    write_folder(raw, tmp_path / "meet")
    target = str(tmp_path / "meet.sandtail")
    assert main(["import", str(tmp_path / "meet"), target, "--by", "Eva"]) == 0
    return target


def put_up(file, stage, *more):
    return main(["publish", file, stage, *more, "--by", "Eva"])


def correct(file, *words):
    return main(["correct", file, *words, "--why", "asked", "--by", "Eva"])


def results(file):
    return score(build_event(api.load(file).raw))


def without_result(file):
    """Points of a pilot without result, task by task; by hand 250 or nothing."""
    return [task.score_of(3).score for task in results(file).tasks]


def kept(file):
    return [m for m in results(file).matters if m.kind.name == "rule-kept"]


def test_an_official_task_keeps_its_rules_until_it_is_opened_again(file, capsys):
    first, _ = without_result(file)
    assert first > 0
    assert put_up(file, "official", "--task", "1") == 0
    capsys.readouterr()
    assert correct(file, "rule", "points.no_result", "zero") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Task 1 is official and keeps" in told
    assert without_result(file) == [first, 0]
    (matter,) = kept(file)
    assert matter.task == 1
    assert not matter.holds_up
    assert correct(file, "reopen", "1") == 0
    assert without_result(file) == [0, 0]
    assert kept(file) == []


def test_a_correction_made_official_again_still_keeps_them(file):
    first, _ = without_result(file)
    assert put_up(file, "official", "--task", "1") == 0
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert put_up(file, "official", "--task", "1", "--why", "again") == 0
    assert without_result(file) == [first, 0]
    assert main(["verify", file]) == 0


def test_a_task_that_goes_up_as_provisional_is_open_again(file):
    assert put_up(file, "official", "--task", "1") == 0
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert put_up(file, "provisional", "--task", "1") == 0
    assert without_result(file) == [0, 0]


def test_the_whole_event_official_keeps_all_that_was_flown(file):
    before = without_result(file)
    assert put_up(file, "official") == 0
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert without_result(file) == before
    assert put_up(file, "provisional") == 0
    assert without_result(file) == before


@pytest.mark.parametrize("rules", [{"points": 5}, {"points": [1]}, 5])
def test_rules_of_a_task_that_are_none_are_set_aside_beside_kept_ones(file, rules):
    before = without_result(file)
    assert put_up(file, "official") == 0
    assert correct(file, "rule", "points.no_result", "zero") == 0
    with api.Ledger.open(file, desk=api.this_desk(), who="Eva") as ledger:
        held, act = ledger.state().all_of(FlightSet)[0]
        (row,) = act.settings["task"]
        settings = {**act.settings, "task": [{**row, "rules": rules}]}
        spoilt = FlightSet(flight=act.flight, settings=settings)
        entry = ledger.record(spoilt, replaces=held.ids)
    state = api.sound(api.load(file).state).state
    assert [one.entry for one in state.set_aside] == [entry.hash]
    assert without_result(file) == before


def test_rules_that_two_desks_wove_together_are_what_was_official(
    file, tmp_path, monkeypatch
):
    field = shutil.copy(file, tmp_path / "field.sandtail")
    with monkeypatch.context() as other:
        other.setenv("SANDTAIL_DESK", "field-0b0b0b")
        assert correct(str(field), "rule", "points.show_up", "77") == 0
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert main(["merge", file, str(field)]) == 0
    before = without_result(file)
    assert before == [77, 77]
    assert put_up(file, "official") == 0
    assert kept(file) == []
    assert without_result(file) == before


def test_a_rule_that_is_undone_later_stays_what_was_official(file):
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert put_up(file, "official") == 0
    with api.Ledger.open(file, desk=api.this_desk(), who="Eva") as ledger:
        ((held, _),) = ledger.state().all_of(SettingsSet)
        ledger.undo(held.entry.hash, why="not what the book says")
    assert without_result(file) == [0, 0]
    assert {m.task for m in kept(file)} == {1, 2}


def test_an_edited_folder_does_not_change_them_either(file, tmp_path):
    before = without_result(file)
    assert put_up(file, "official") == 0
    path = tmp_path / "meet" / "event.toml"
    path.write_text(path.read_text() + '\n[rules.points]\nno_result = "zero"\n')
    again = ["import", str(tmp_path / "meet"), file, "--into", "--by", "Eva"]
    assert main(again) == 0
    assert without_result(file) == before


def test_a_folder_says_what_its_tasks_keep(file, tmp_path):
    before = without_result(file)
    assert put_up(file, "official", "--task", "1") == 0
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert main(["export", file, str(tmp_path / "out")]) == 0
    text = (tmp_path / "out" / "flights" / "f1" / "flight.toml").read_text()
    assert "no_result" in text
    done = score(build_event(read_folder(tmp_path / "out")))
    assert [t.score_of(3).score for t in done.tasks] == [before[0], 0]


def test_opening_a_task_that_is_not_there_changes_nothing(file):
    before = len(api.load(file).state.entries)
    assert correct(file, "reopen", "9") == 2
    assert len(api.load(file).state.entries) == before


@pytest.mark.parametrize("name", book_names())
def test_what_each_rule_is_reads_back_as_the_book(name):
    book, faults = load_book(name), []
    plain = plain_rules({"book": name})
    again = override(book, plain, "event", lambda *fault: faults.append(fault))
    assert faults == []
    for section in SECTIONS:
        assert getattr(again, section) == getattr(book, section)
