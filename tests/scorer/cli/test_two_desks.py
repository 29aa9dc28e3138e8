"""Two desks, numbers that change, and clashes decided from the command line."""

import shutil

import pytest

from scorer.cli.main import main
from scorer.event.build import build_event
from scorer.event.folder import write_folder
from scorer.ledger import api
from scorer.ledger.acts import MarkKeyed, PilotSet, PlaceSet, TargetLogged, Withdrawn
from scorer.ledger.answers import answered_by
from scorer.ledger.matters import matters
from scorer.ledger.sound import sound
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.tiny import tiny_flight, tiny_raw

PILOTS = """number,name,registration,logger
139,Iver Lund,Q-AAA,x1
2,Bo Ek,Q-BBB,x2
3,Cleo Dahl,Q-CCC,x3
"""
MARKS = "task,pilot,method,distance,by\n1,139,tape,3 m,K\n1,2,tape,5 m,K\n"
REPORTS = "task,pilot,kind,by\n1,3,not-flown,K\n"
RULINGS = (
    "task,pilot,decision,amount,unit,reason,by\n1,2,impose,50,task points,late,K\n"
)


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture
def folder(tmp_path):
    flight = tiny_flight(marks=MARKS, reports=REPORTS, rulings=RULINGS)
    write_folder(tiny_raw(flight, pilots=PILOTS), tmp_path / "meet")
    return tmp_path / "meet"


@pytest.fixture
def hall(folder, tmp_path):
    target = str(tmp_path / "hall.sandtail")
    assert main(["import", str(folder), target, "--by", "Eva"]) == 0
    return target


@pytest.fixture
def field(hall, tmp_path):
    return shutil.copy(hall, tmp_path / "field.sandtail")


def correct(file, *words, by="Eva"):
    return main(["correct", str(file), *words, "--why", "seen", "--by", by])


def at_field(monkeypatch, file, *words, by="Ola"):
    """Correct something at the other desk."""
    with monkeypatch.context() as other:
        other.setenv("SANDTAIL_DESK", "field-0b0b0b")
        return correct(file, *words, by=by)


def merge(hall, field):
    return main(["merge", str(hall), str(field)])


def state(file):
    return sound(api.load(file).state).state


def results(file):
    return score(build_event(api.load(file).raw))


def kinds(found):
    return [matter.kind.name for matter in found.matters]


def edit(folder, name, old, new):
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def again(folder, file, *more):
    return main(["import", str(folder), file, "--into", "--by", "Eva", *more])


# Numbers.


def test_a_wrong_number_put_right_in_the_folder_leaves_one_pilot(folder, hall, capsys):
    mark = ["task=1", "pilot=139", "method=tape", "distance=3 m", "by=Ola"]
    assert correct(hall, "row", "marks", *mark) == 0
    edit(folder, "pilots.csv", "139,", "141,")
    edit(folder, "flights/f1/marks.csv", "1,139,", "1,141,")
    capsys.readouterr()
    assert again(folder, hall, "--dry-run") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Iver Lund has number 141 now, not 139" in told
    assert again(folder, hall) == 0
    own = results(hall).task(1)
    assert (own.formula.P, own.score_of(139)) == (3, None)
    assert own.score_of(141).result == 3
    assert "old-number" in kinds(results(hall))
    assert state(hall).conflicts == ()
    assert again(folder, hall) == 0
    assert results(hall).task(1).score_of(141).result == 3


def test_a_desk_that_goes_on_with_the_old_number_is_understood(
    hall, field, monkeypatch
):
    assert correct(hall, "number", "139", "141") == 0
    row = ["row", "marks", "task=1", "pilot=139", "method=tape", "distance=4 m"]
    assert at_field(monkeypatch, field, *row) == 0
    merge(hall, field)
    found = results(hall)
    own = found.task(1).score_of(141)
    assert len(own.marks[0].keyings) == 2
    assert not own.settled
    (matter,) = [m for m in found.matters if m.kind.name == "old-number"]
    assert matter.pilots == (141,)
    assert not matter.holds_up
    assert state(hall).set_aside == ()


def test_a_number_alone_changes_no_result(hall, capsys):
    capsys.readouterr()
    assert correct(hall, "number", "139", "141", "--dry-run") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "This changes no result" in told
    assert "141 Iver Lund" in told


def test_an_old_number_that_somebody_else_has_now_is_theirs(hall):
    assert correct(hall, "number", "139", "141") == 0
    assert correct(hall, "row", "pilots", "number=139", "name=Runa Vik") == 0
    row = ["row", "marks", "task=1", "pilot=139", "method=tape", "distance=9 m"]
    assert correct(hall, *row) == 0
    own = results(hall).task(1)
    assert (own.score_of(139).result, own.score_of(141).result) == (9, 3)


@pytest.mark.parametrize("number", ["14l", "²", ""])
def test_a_number_that_is_none_takes_nothing_with_it(hall, number, capsys):
    filed = ["--pilot", "139", "--text", "too far", "--by", "Eva"]
    assert main(["complaint", hall, "file", *filed]) == 0
    held, act = state(hall).all_of(PilotSet)[0]
    capsys.readouterr()
    row = ["row", "pilots", f"number={number}", "--instead", held.entry.label]
    assert correct(hall, *row) == 2
    assert "a whole number from 1 up" in " ".join(capsys.readouterr().err.split())

    with api.Ledger.open(hall, desk=api.this_desk(), who="Eva") as ledger:
        cells = {**act.fields, "number": number}
        ledger.record(PilotSet(fields=cells), replaces=held.ids)
    assert [one.field for one in state(hall).set_aside] == ["number"]
    assert [c.act.pilot for c in state(hall).complaints] == [139]
    assert results(hall).task(1).score_of(139).result == 3


def test_a_folder_that_has_the_old_number_does_not_bring_it_back(folder, hall):
    assert correct(hall, "number", "139", "141") == 0
    before = len(state(hall).current)
    assert again(folder, hall) == 0
    assert len(state(hall).current) == before
    assert results(hall).task(1).score_of(141).result == 3


def test_other_people_behind_a_number_are_told_before_and_asked_after(
    folder, hall, capsys
):
    edit(folder, "pilots.csv", "2,Bo Ek,Q-BBB,x2", "2,Runa Vik,Q-RRR,x9")
    capsys.readouterr()
    assert again(folder, hall, "--dry-run") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "number 2 is another person: Bo Ek becomes Runa Vik" in told
    assert again(folder, hall) == 0
    (matter,) = [m for m in results(hall).matters if m.kind.name == "other-person"]
    assert matter.holds_up
    assert matter.pilots == (2,)


@pytest.mark.parametrize("now", ["Bo Eek", "BO EK", "Ek Bo", "Bó Ek"])
def test_a_name_spelt_anew_is_the_same_person(folder, hall, now):
    edit(folder, "pilots.csv", "Bo Ek", now)
    assert again(folder, hall) == 0
    assert "other-person" not in kinds(results(hall))


def test_a_pilot_taken_out_and_one_put_in_are_two_people(folder, hall):
    edit(folder, "pilots.csv", "3,Cleo Dahl,Q-CCC,x3", "8,Runa Vik,Q-RRR,x9")
    edit(folder, "flights/f1/reports.csv", "1,3,", "1,8,")
    assert again(folder, hall) == 0
    assert {p.number for p in build_event(api.load(hall).raw).pilots} == {139, 2, 3, 8}


# A folder read once more.


def test_an_edited_folder_shows_ranks_and_changes_decisions(folder, hall, capsys):
    edit(folder, "flights/f1/rulings.csv", "50,task points", "20,task points")
    edit(folder, "places.geojson", '"name": "P"', '"name": "P2"')
    edit(folder, "flights/f1/marks.csv", "5 m", "1 m")
    capsys.readouterr()
    assert again(folder, hall, "--dry-run") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "2 Bo Ek, task 1:" in told
    assert "result 5.00 m → 1.00 m" in told
    assert "rank 2 → 1" in told
    assert results(hall).task(1).score_of(2).result == 5
    assert again(folder, hall) == 0
    now = results(hall)
    assert now.task(1).score_of(2).task_penalty == 20
    names = [a.feature["properties"]["name"] for _, a in state(hall).all_of(PlaceSet)]
    assert sorted(names) == ["G", "P2", "Q", "R", "T", "area"]


# Clashes.


CLASHES = {
    "a pilot": ("row", "pilots", "number=2", "name={}"),
    "a task": ("task", "1", "{}"),
    "a place": ("move", "T", "--grid", "{}", "4500000"),
}
SAID = {
    "a pilot": ("Boe Ek", "Bo Eck"),
    "a task": ("planned", "cancelled"),
    "a place": ("500010", "500020"),
}


@pytest.mark.parametrize("what", CLASHES)
def test_a_clash_of_desks_is_decided_from_the_command_line(
    what, hall, field, monkeypatch
):
    ours, theirs = ([w.format(x) for w in CLASHES[what]] for x in SAID[what])
    assert correct(hall, *ours) == 0
    assert at_field(monkeypatch, field, *theirs) == 0
    assert merge(hall, field) == 1
    (conflict,) = state(hall).conflicts
    assert "conflict" in kinds(results(hall))
    theirs_ = next(e for e in conflict.entries if e.desk.startswith("field"))
    assert correct(hall, "holds", theirs_.label) == 0
    now = state(hall)
    assert now.conflicts == ()
    content = [c.act for c in now.current if type(c.act) is type(theirs_.act)]
    assert theirs_.act in content


def test_two_desks_that_answer_different_rules_do_not_clash(hall, field, monkeypatch):
    assert correct(hall, "rule", "points.no_result", "zero") == 0
    other = ("rule", "points.show_up", "50")
    assert at_field(monkeypatch, field, *other) == 0
    assert merge(hall, field) == 0
    assert state(hall).conflicts == ()
    book = build_event(api.load(hall).raw).book
    assert (book.points.no_result, book.points.show_up) == ("zero", 50)
    first, second = (
        answered_by(state(hall))[f"points.{key}"].desk
        for key in ("no_result", "show_up")
    )
    assert (first.startswith("field"), second.startswith("field")) == (False, True)
    assert correct(hall, "rule", "results.decimals", "1") == 0
    assert answered_by(state(hall))["points.show_up"].desk == second


def test_two_answers_to_one_rule_are_decided(hall, field, monkeypatch):
    assert correct(hall, "rule", "points.show_up", "20") == 0
    assert at_field(monkeypatch, field, "rule", "points.show_up", "50") == 0
    assert merge(hall, field) == 1
    (conflict,) = state(hall).conflicts
    chosen = next(e for e in conflict.entries if e.desk.startswith("field"))
    assert correct(hall, "holds", chosen.label) == 0
    assert state(hall).conflicts == ()
    assert build_event(api.load(hall).raw).book.points.show_up == 50


def first_mark(file, pilot):
    return next(
        c.entry for c, a in state(file).all_of(MarkKeyed) if a.fields["pilot"] == pilot
    )


def test_a_mark_corrected_at_one_desk_and_removed_at_another_names_task_and_pilot(
    hall, field, monkeypatch
):
    label = first_mark(hall, "2").label
    row = ["row", "marks", "distance=7 m", "--instead", label]
    assert correct(hall, *row) == 0
    assert at_field(monkeypatch, field, "remove", label) == 0
    merge(hall, field)
    (matter,) = [m for m in results(hall).matters if m.kind.name == "conflict"]
    assert (matter.task, matter.pilots, matter.flight) == (1, (2,), "f1")
    (conflict,) = state(hall).conflicts
    gone = next(e for e in conflict.entries if isinstance(e.act, Withdrawn))
    assert correct(hall, "holds", gone.label) == 0
    assert state(hall).conflicts == ()
    assert results(hall).task(1).score_of(2).result is None


def test_two_versions_of_one_number_are_a_matter_and_one_comes_down(
    hall, field, monkeypatch
):
    put_up = ["publish", "{}", "provisional", "--task", "1", "--by", "Eva"]
    assert main([w.format(hall) for w in put_up]) == 0
    with monkeypatch.context() as other:
        other.setenv("SANDTAIL_DESK", "field-0b0b0b")
        assert main([w.format(field) for w in put_up[:3]] + ["--by", "Ola"]) == 0
    merge(hall, field)
    (matter,) = [m for m in results(hall).matters if m.kind.name == "conflict"]
    assert "version 1" in said(matter)
    (conflict,) = state(hall).conflicts
    assert correct(hall, "holds", conflict.entries[0].label) == 0
    assert state(hall).conflicts == ()
    up = [p for p in state(hall).publications if not p.withdrawn]
    assert [p.entry.label for p in up] == [conflict.entries[0].label]


def test_the_same_penalty_at_two_desks_is_asked_about(hall, field, monkeypatch):
    row = ["row", "rulings", "task=1", "pilot=139", "decision=impose", "amount=100"]
    row += ["unit=task points"]
    assert correct(hall, *row, "reason=landed on a crop") == 0
    assert at_field(monkeypatch, field, *row, "reason=crop landing") == 0
    merge(hall, field)
    (matter,) = [m for m in results(hall).matters if m.kind.name == "ruling"]
    assert matter.says.kind == "penalty-added-again"
    assert matter.holds_up
    assert "Eva" in said(matter)
    assert "Ola" in said(matter)


# Taking back.


def test_an_entry_is_removed_and_shown_first(hall, capsys):
    label = first_mark(hall, "139").label
    before = len(state(hall).entries)
    assert correct(hall, "remove", label, "--dry-run") == 0
    assert "result 3.00 m → none" in " ".join(capsys.readouterr().out.split())
    assert len(state(hall).entries) == before
    assert correct(hall, "remove", label) == 0
    assert results(hall).task(1).score_of(139).result is None
    assert correct(hall, "remove", label) == 2


# Targets.


def moved(file):
    return [m for m in results(file).told if m.kind.name == "target-moved"]


def test_a_target_moved_after_marks_were_taken_is_a_matter(hall, capsys):
    move = ["move", "T", "--grid", "500023", "4500000"]
    capsys.readouterr()
    assert correct(hall, *move, "--dry-run") == 0
    assert "was moved by 23.0" in " ".join(capsys.readouterr().out.split())
    assert moved(hall) == []
    assert correct(hall, *move) == 0
    (matter,) = moved(hall)
    assert matter.says.get("away") == pytest.approx(23, abs=0.02)
    assert (matter.task, matter.pilots) == (1, (2, 139))
    assert matter.holds_up
    label = first_mark(hall, "2").label
    row = ["row", "marks", "distance=9 m", "--instead", label]
    assert correct(hall, *row) == 0
    (matter,) = moved(hall)
    assert matter.pilots == (139,)
    assert correct(hall, "move", "T", "--grid", "500000", "4500000") == 0
    (matter,) = moved(hall)
    assert matter.pilots == (2,)  # measured again while it stood elsewhere


@pytest.mark.parametrize(
    "spelt",
    [
        ("40.645", "8.75"),
        ("40 38.7 N", "8 45 E"),
        ("8°45'E", "40°38'42\"N"),
        ("N40 38 42", "E8,75"),
        ("+40.645", "8 45 00"),
    ],
)
def test_a_place_is_moved_to_where_people_write_it(hall, spelt):
    assert correct(hall, "move", "T", "--lat-lon", *spelt) == 0
    (at,) = (a for _, a in state(hall).all_of(PlaceSet) if a.name == "T")
    assert at.feature["geometry"]["coordinates"] == pytest.approx([8.75, 40.645])
    assert (
        correct(hall, "target", "1", "moved", "--at", "07:00", "--lat-lon", *spelt) == 0
    )
    (line,) = state(hall).all_of(TargetLogged)
    assert line[1].fields["lat"] in spelt
    assert results(hall).task(1).task == 1  # it can be read


@pytest.mark.parametrize(
    ("option", "spelt"),
    [
        ("--lat-lon", ("40 70 N", "8 45 E")),
        ("--lat-lon", ("40.1 W", "8.7 E")),
        ("--lat-lon", ("nan", "8")),
        ("--grid", ("nan", "inf")),
    ],
)
def test_a_place_that_is_none_is_refused_with_what_may_stand_there(
    hall, option, spelt, capsys
):
    before = len(state(hall).entries)
    assert correct(hall, "move", "T", option, *spelt) == 2
    assert f"{option}: found" in capsys.readouterr().err
    assert len(state(hall).entries) == before


def test_a_mark_measured_again_leaves_what_was_accepted_of_the_others(hall, capsys):
    """All marks of a target were one matter: it opened again with the first of them."""
    assert correct(hall, "move", "T", "--grid", "500023", "4500000") == 0
    found = listed(hall)
    number = next(n for n, m in enumerate(found, 1) if m.kind.name == "target-moved")
    assert main(["accept", str(hall), f"{number}", "--why", "map", "--by", "Ida"]) == 0
    assert [m.accepted.by for m in moved(hall)] == ["Ida"]

    row = ["row", "marks", "distance=9 m", "--instead", first_mark(hall, "2").label]
    assert correct(hall, *row) == 0

    (left,) = moved(hall)
    assert (left.pilots, left.accepted.by) == ((139,), "Ida")
    assert not left.holds_up
    capsys.readouterr()
    main(["open-matters", str(hall)])
    out = " ".join(capsys.readouterr().out.split())
    assert "Acceptance without a matter: Task 1, 2" in out
    assert "accepted by Ida" in out
    assert "Nothing of the kind is open there any more" in out
    last = state(hall).entries[-1]
    assert f"Entered about it since the acceptance: Mark entered by {last.who}" in out
    assert f"entry {last.label}" in out


def listed(file):
    loaded = api.load(file)
    event = build_event(loaded.raw)
    return matters(event, score(event), loaded.state)


def test_a_folder_that_moves_a_target_asks_too(folder, hall):
    path = folder / "places.geojson"
    text = path.read_text(encoding="utf-8")
    start = text.index("[", text.index('"coordinates"'))
    lon = text[start + 1 : text.index(",", start)]
    path.write_text(text.replace(lon, f"{float(lon) + 0.001}", 1), encoding="utf-8")
    assert again(folder, hall) == 0
    assert [m.pilots for m in moved(hall)] == [(2, 139)]


def test_the_target_log_is_kept_from_the_command_line(hall):
    assert correct(hall, "target", "1", "opened", "--at", "07:00") == 0
    kinds_ = kinds(results(hall))
    assert "target-not-clear" in kinds_
    assert correct(hall, "target", "1", "clear", "--at", "06:55") == 0
    assert "target-not-clear" not in kinds(results(hall))
    before = len(state(hall).entries)
    assert correct(hall, "target", "1", "opened", "--at", "noon") == 2
    assert correct(hall, "target", "9", "opened", "--at", "07:00") == 2
    assert len(state(hall).entries) == before
