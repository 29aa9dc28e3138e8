"""Corrections from the command line and by an edited folder: shown first, never doubled."""

import re
import shutil
from pathlib import Path

import pytest

from scorer.cli.main import main
from scorer.event.build import build_event
from scorer.event.folder import write_folder
from scorer.ledger import api
from scorer.ledger.acts import FlightSet, MarkKeyed, MarkSettled, PlaceSet, SettingsSet
from scorer.ledger.answers import answered_by
from scorer.scoring.score import score
from tests.scorer.tiny import place, tiny_flight, tiny_raw

MARKS = "task,pilot,method,distance,by\n1,1,tape,3 m,K\n1,2,tape,5 m,K\n"
REPORTS = "task,pilot,kind,by\n1,2,other,E\n"

SMALL = Path(__file__).parents[3] / "sample_events/vashkorim"
FLIGHTS = ("first-morning", "second-morning")


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture
def folder(tmp_path):
    raw = tiny_raw(tiny_flight(marks=MARKS, reports=REPORTS))
    write_folder(raw, tmp_path / "meet")
    return tmp_path / "meet"


@pytest.fixture(params=["file", "server"])
def file(request, folder, tmp_path):
    """Where the event is kept: corrections are the same in a file and on a server."""
    if request.param == "file":
        target = str(tmp_path / "meet.sandtail")
    else:
        target = request.getfixturevalue("server").url()
    assert main(["import", str(folder), target, "--by", "Eva"]) == 0
    return target


def state(file):
    """Return what stands in an event file."""
    return api.load(file).state


def results(file):
    """Score an event file."""
    return score(build_event(api.load(file).raw))


def correct(file, *words, why="asked for", dry=False):
    """Run a correction."""
    more = ["--dry-run"] if dry else []
    return main(["correct", file, *words, "--why", why, "--by", "Eva", *more])


def again(folder, file, *more):
    """Read the folder into its event file once more."""
    return main(["import", str(folder), file, "--into", "--by", "Eva", *more])


def edit(folder, name, old, new):
    """Change one text of a file."""
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_an_edited_folder_replaces_what_it_said(folder, file, capsys):
    edit(folder, "flights/f1/marks.csv", "3 m", "8 m")
    edit(
        folder,
        "flights/f1/flight.toml",
        'kind = "FIN"',
        'kind = "FIN", state = "cancelled"',
    )
    edit(folder, "pilots.csv", "Ann", "Anne")
    edit(folder, "event.toml", 'floor]\nheight = "none"', 'floor]\nheight = "20 m"')
    before = len(state(file).entries)
    capsys.readouterr()
    assert again(folder, file, "--dry-run") == 0
    told = capsys.readouterr().out
    assert "changed: flight f1" in told
    assert "changed: pilot 1" in told
    assert len(state(file).entries) == before
    assert again(folder, file) == 0
    now = state(file)
    assert now.conflicts == ()
    assert len(now.entries) == before + 4
    done = results(file)
    assert done.task(1).state == "cancelled"
    assert again(folder, file) == 0
    assert len(state(file).entries) == before + 4


def test_what_a_desk_changed_since_is_not_taken_back_by_the_same_folder(folder, file):
    assert correct(file, "task", "1", "cancelled") == 0
    assert again(folder, file) == 0
    assert results(file).task(1).state == "cancelled"
    assert state(file).conflicts == ()


def test_folder_and_desk_that_say_different_things_are_a_conflict_to_decide(
    folder, file
):
    assert correct(file, "row", "pilots", "number=1", "name=Anna") == 0
    edit(folder, "pilots.csv", "1,Ann", "1,Annika")
    assert again(folder, file) == 0
    (conflict,) = state(file).conflicts
    chosen = next(e for e in conflict.entries if "Annika" in e.payload)
    assert correct(file, "holds", chosen.label) == 0
    now = state(file)
    assert now.conflicts == ()
    assert results(file).voice.pilots[1] == "Annika"


def test_a_row_taken_out_of_the_folder_stays_until_asked(folder, file, capsys):
    edit(folder, "flights/f1/reports.csv", REPORTS.splitlines()[1], "")
    assert again(folder, file) == 0
    assert "no longer in the folder" in capsys.readouterr().out
    assert len(results(file).tasks[0].scores) == 4
    before = len(state(file).current)
    assert again(folder, file, "--withdraw-missing") == 0
    assert len(state(file).current) == before - 1


def test_a_dry_run_shows_ranks_and_points_and_records_nothing(file, capsys):
    before = len(state(file).entries)
    row = ["row", "marks", "task=1", "pilot=3", "method=tape", "distance=1 m"]
    assert correct(file, *row, dry=True) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "3 Cid, task 1:" in told
    assert "result none → 1.00 m" in told
    assert "Nothing was recorded." in told
    assert len(state(file).entries) == before
    assert correct(file, *row) == 0
    assert results(file).task(1).score_of(3).rank == 1


def test_a_mark_is_corrected_in_the_place_of_its_entry(file):
    (entry,) = [
        c.entry
        for c, act in state(file).all_of(MarkKeyed)
        if act.fields["pilot"] == "1"
    ]
    cells = ["row", "marks", "distance=9 m", "--instead", entry.label]
    assert correct(file, *cells) == 0
    assert results(file).task(1).score_of(1).result == 9
    assert len(state(file).all_of(MarkKeyed)) == 2


def settled(file):
    """Tell whether the first pilot's mark is settled."""
    return results(file).task(1).score_of(1).settled


def test_a_settled_mark_opens_again_for_what_it_had_not_seen(file):
    mark = ("row", "marks", "task=1", "pilot=1", "method=tape")
    assert correct(file, *mark, "distance=4 m", "by=L") == 0
    assert not settled(file)
    assert correct(file, *mark, "distance=3 m", "settles=the photo", "by=M") == 0
    assert settled(file)

    assert correct(file, *mark, "distance=8 m", "by=L") == 0  # L measured before

    assert not settled(file)
    assert correct(file, *mark, "distance=3 m", "settles=the photo", "by=M") == 0
    assert settled(file)
    assert len(state(file).all_of(MarkSettled)) == 1


def test_all_who_are_missing_did_not_fly_with_one_reason(file, capsys):
    assert results(file).task(1).missing == (3, 4)
    assert correct(file, "not-flown", "--task", "1", dry=True) == 0
    assert "Entries for 3 Cid and 4 Dot" in capsys.readouterr().out
    assert correct(file, "not-flown", "--task", "1", why="wind") == 0
    assert results(file).task(1).missing == ()


def test_a_pilot_who_withdraws_is_entered_no_more_from_that_task_on(file, capsys):
    assert correct(file, "withdraw-pilot", "4", "--task", "2") == 2
    capsys.readouterr()
    assert correct(file, "withdraw-pilot", "4", "--task", "1", dry=True) == 0
    assert "pilots entered 4 → 3" in " ".join(capsys.readouterr().out.split())
    assert correct(file, "withdraw-pilot", "4", "--task", "1") == 0
    assert results(file).task(1).missing == (3,)
    assert results(file).task(1).formula.P == 3


def test_another_number_takes_all_that_hangs_on_it(file):
    assert correct(file, "number", "1", "41") == 0
    own = results(file).task(1)
    assert own.score_of(1) is None
    assert (own.score_of(41).result, own.formula.P) == (3, 4)
    assert correct(file, "number", "2", "41") == 2


def test_a_target_is_moved(file):
    assert correct(file, "move", "T", "--grid", "500023", "4500000") == 0
    moved = [a.feature for _, a in state(file).all_of(PlaceSet)]
    (target,) = [f for f in moved if f["properties"]["name"] == "T"]
    assert target["geometry"]["coordinates"] == pytest.approx(
        place("T", "target", (23, 0))["geometry"]["coordinates"], abs=1e-8
    )
    assert state(file).conflicts == ()


def test_a_rule_is_answered(file):
    assert correct(file, "rule", "points.no_result", "zero") == 0
    assert build_event(api.load(file).raw).book.points.no_result == "zero"


def test_rules_say_who_answered_them_when_and_why(file, capsys):
    assert correct(file, "rule", "points.show_up", "20") == 0
    assert correct(file, "rule", "points.no_result", "zero", why="as briefed") == 0
    assert correct(file, "rule", "points.no_result", "zero", why="once more") in {0, 2}
    capsys.readouterr()
    assert main(["rules", file]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert told.count("Eva,") >= 2
    answers = answered_by(state(file))
    assert answers["points.no_result"].why == "as briefed"
    assert answers["points.show_up"].why == "asked for"
    assert "points.by_class" not in answers


def test_who_set_a_rule_last_answers_for_it(file):
    assert correct(file, "rule", "points.show_up", "20", why="first") == 0
    assert correct(file, "rule", "points.show_up", "50", why="second") == 0
    assert correct(file, "rule", "points.show_up", "20", why="third") == 0
    assert answered_by(state(file))["points.show_up"].why == "third"


def test_a_correction_without_a_reason_changes_nothing(file, capsys):
    before = len(state(file).entries)
    assert correct(file, "task", "1", "cancelled", why=" ") == 2
    assert "needs a reason: say why" in capsys.readouterr().err
    assert len(state(file).entries) == before


@pytest.mark.parametrize(
    "words",
    [
        ["task", "9", "flown"],
        ["withdraw-pilot", "77", "--task", "1"],
        ["move", "nowhere", "--grid", "1", "2"],
        ["move", "T"],
        ["row", "marks", "distance"],
        ["row", "marks", "task=1", "pilot=77", "method=none"],
        ["row", "marks", "task=1", "pilot=3", "method=tape", "distance=3", "bering=9"],
        ["row", "marks", "task=1", "pilot=3", "method=tape", "distance=3", "foo=9"],
        ["row", "pilots", "number=9", "name=Bo", "regstration=X-AB"],
        ["rule", "points.no_result", "perhaps"],
        ["holds", "hall-0a0a0a #2"],
    ],
)
def test_bad_input_changes_nothing(file, words):
    before = len(state(file).entries)
    assert correct(file, *words) == 2
    assert len(state(file).entries) == before


def test_a_task_that_is_planned_again_gives_no_points(file):
    assert correct(file, "task", "1", "planned") == 0
    assert results(file).task(1).scores == ()


DECISIONS = """task,pilot,decision,amount,unit,reason
1,2,score,1200,task points,the jury
,1,impose,90,event points,noise
"""


def test_decisions_are_tried_together_ranks_side_by_side(file, tmp_path, capsys):
    table = tmp_path / "what if.csv"
    table.write_text(DECISIONS)
    before = len(state(file).entries)
    assert correct(file, "decisions", str(table), dry=True) == 0
    told = capsys.readouterr().out
    assert "Rank then" in told
    row = next(line for line in told.splitlines() if line.split()[2:4] == ["2", "Bob"])
    assert row.split() == ["2", "1", "2", "Bob", "750", "1200"]
    assert len(state(file).entries) == before
    assert correct(file, "decisions", str(table)) == 0
    done = results(file)
    assert [(r.pilot, r.total) for r in done.standings.rows][:2] == [
        (2, 1200),
        (1, 910),
    ]
    assert state(file).conflicts == ()


@pytest.mark.parametrize("text", ["", "task,pilot\n", "task,pilot,decison\n1,2,x\n"])
def test_a_table_without_decisions_changes_nothing(file, tmp_path, text):
    table = tmp_path / "what if.csv"
    table.write_text(text)
    before = len(state(file).entries)
    assert correct(file, "decisions", str(table)) == 2
    assert correct(file, "decisions", str(tmp_path / "nowhere.csv")) == 2
    assert len(state(file).entries) == before


def test_times_of_a_task_are_extended(file):
    assert correct(file, "times", "1", "--scoring", "07:00", "09:30") == 0
    (task,) = build_event(api.load(file).raw).tasks
    assert task.scoring_period.end_s - task.scoring_period.start_s == 9000
    assert correct(file, "times", "1") == 2
    assert correct(file, "times", "1", "--scoring", "07:00", "late") == 2


TIMED = {
    "mark": "row marks task=1 pilot=3 method=tape distance=5 time={} by=Eva",
    "report": "row reports task=1 pilot=3 kind=other time={} by=Eva",
    "decision": "row rulings task=1 pilot=1 decision=impose amount=10 "
    "unit=task_points reason=x at={}",
    "target": "target 1 opened --at {}",
    "period": "times 1 --launch 01:00 {}",
}
"""What has a time and can be entered on the command line."""


@pytest.mark.parametrize("what", TIMED)
def test_every_time_entered_is_asked_for_where_the_clocks_show_it_twice(
    what, tmp_path, capsys
):
    """Madrid's clocks go back on 25 October 2026 at 03:00."""
    flight = tiny_flight(marks=MARKS, day="2026-10-25")
    write_folder(tiny_raw(flight, time_zone="Europe/Madrid"), tmp_path / "meet")
    file = str(tmp_path / "meet.sandtail")
    assert main(["import", str(tmp_path / "meet"), file, "--by", "Eva"]) == 0
    words = [w.replace("task_points", "task points") for w in TIMED[what].split()]
    capsys.readouterr()

    assert correct(file, *(w.format("02:30") for w in words)) == 2
    refused = " ".join(capsys.readouterr().err.split())
    assert 'Write "02:30 first" (02:30+02:00) or "02:30 second"' in refused
    assert correct(file, *(w.format("02:30 second") for w in words)) == 0


def test_a_bonus_is_told_as_one(file, capsys):
    row = ["task=1", "pilot=1", "decision=bonus", "amount=40", "unit=task points"]
    assert correct(file, "row", "rulings", *row, "reason=blocked", dry=True) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "decided: 40 task points, bonus, by Eva, because: blocked" in told


def test_a_preview_says_how_far_a_target_is_moved_and_what_it_closes(file, capsys):
    assert correct(file, "move", "T", "--grid", "500003", "4500004", dry=True) == 0
    assert "T is moved by 5.00 m, bearing 037°" in capsys.readouterr().out
    words = ["target", "1", "moved", "--at", "07:30"]
    assert correct(file, *words, why="cows") == 0
    capsys.readouterr()
    assert correct(file, *words, "--grid", "500030", "4500040", dry=True) == 0
    told = capsys.readouterr().out
    assert "T is moved by 50.0" in told
    assert "closes: task 1, 1 Ann and 2 Bob: 2 pilots: their target was moved" in told
    assert correct(file, *words, "--grid", "500030", "4500040") == 0
    assert correct(file, *words, "--grid", "530030", "4500040") == 2


def test_a_preview_names_who_is_missing_only_where_that_changes(file, capsys):
    assert correct(file, "rule", "points.show_up", "20", dry=True) == 0
    assert "Not accounted for" not in capsys.readouterr().out
    words = ["row", "reports", "task=1", "pilot=3", "kind=not-flown"]
    assert correct(file, *words, dry=True) == 0
    assert "Not accounted for after it, task 1: 4 Dot" in capsys.readouterr().out


def test_a_task_with_its_first_results_says_so_and_one_cancelled_that(file, capsys):
    assert correct(file, "task", "1", "planned") == 0
    capsys.readouterr()
    assert correct(file, "task", "1", "flown", dry=True) == 0
    told = capsys.readouterr().out
    assert "entered since the last version" not in told
    assert "penalty" not in told
    assert correct(file, "task", "1", "flown") == 0
    capsys.readouterr()
    assert correct(file, "task", "1", "cancelled", dry=True) == 0
    told = capsys.readouterr().out
    assert "(the task flown → cancelled)" in told
    assert "settled" not in told


SETTLED = """task,pilot,method,distance,by,settles
1,1,tape,3 m,K,
1,1,tape,3.5 m,L,
1,1,tape,3 m,M,the photo
"""


@pytest.mark.parametrize(("metres", "stays"), [("4", False), ("3", True)])
def test_a_correction_opens_a_mark_that_an_imported_row_had_settled(
    tmp_path, metres, stays
):
    write_folder(tiny_raw(tiny_flight(marks=SETTLED)), tmp_path / "meet")
    file = str(tmp_path / "meet.sandtail")
    assert main(["import", str(tmp_path / "meet"), file, "--by", "Eva"]) == 0
    assert settled(file)
    (entry,) = (
        c.entry for c, a in state(file).all_of(MarkKeyed) if a.fields["by"] == "L"
    )
    mark = ["row", "marks", f"distance={metres} m", "--instead", entry.label]
    assert correct(file, *mark) == 0
    assert settled(file) is stays
    assert main(["export", file, str(tmp_path / "out")]) == 0
    again_ = str(tmp_path / "again.sandtail")
    assert main(["import", str(tmp_path / "out"), again_, "--by", "Eva"]) == 0
    assert settled(again_) is stays


def test_the_events_own_settings_and_prizes_are_entered(file, capsys):
    assert correct(file, "setting", "ground_elevation", "12 m") == 0
    assert correct(file, "setting", "event.venue", "2026") == 0
    prize = ["prize", "Best of the day", "--for", "day", "--day", "2026-06-01"]
    assert correct(file, *prize, "--ties", "counted back") == 0
    assert correct(file, *prize, "--places", "1") == 0
    event = build_event(api.load(file).raw)
    assert (event.ground_elevation_m, event.venue) == (12.0, "2026")
    (award,) = event.awards
    assert (award.name, award.places, str(award.ties)) == (
        "Best of the day",
        1,
        "shared",
    )
    before = len(state(file).entries)
    for wrong in (
        ["setting", "bogus", "1"],
        ["setting", "crs", "nowhere"],
        ["setting", "terrain", "x.tif"],
        ["prize", "Nobody's", "--remove"],
        ["prize", "Best", "--for", "class", "--class", "nobody"],
    ):
        assert correct(file, *wrong) == 2
    assert len(state(file).entries) == before
    assert correct(file, "prize", "Best of the day", "--remove") == 0
    assert correct(file, "prize", "Best of all") == 0  # as its help says, overall
    (award,) = state(file).settings["award"]
    assert award == {"name": "Best of all", "for": "overall"}
    assert correct(file, "prize", "Best of all", "--remove") == 0
    assert correct(file, "setting", "venue", "none") == 0
    event = build_event(api.load(file).raw)
    assert (event.awards, event.venue) == ((), "")


def test_a_matter_that_stays_open_with_fewer_pilots_is_not_told_as_closed(file, capsys):
    words = ["row", "reports", "task=1", "pilot=3", "kind=not-flown"]
    assert correct(file, *words, dry=True) == 0
    assert "closes" not in capsys.readouterr().out
    assert correct(file, "not-flown", "--task", "1", dry=True) == 0
    assert "closes: task 1, 3 Cid and 4 Dot: " in capsys.readouterr().out


def test_a_fault_is_told_once_and_a_folder_is_called_one(folder, file, capsys):
    assert correct(file, "number", "1", "0") == 2
    assert capsys.readouterr().err.count("number: found") == 1
    assert correct(str(folder), "task", "1", "cancelled") == 2
    assert "is an event folder" in capsys.readouterr().err


def test_new_names_what_is_still_to_answer_in_words_with_its_key(tmp_path, capsys):
    words = ["new", f"{tmp_path}/next/", "--name", "Next", "--book", "festival"]
    assert main([*words, "--time-zone", "UTC", "--crs", "EPSG:32633"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "where the minimum height holds (floor.within)" in told
    assert "(publication.complaint_time)" in told


@pytest.fixture
def doubted(tmp_path):
    """Two flights with a log of one name that does not say whose it is."""
    folder = Path(shutil.copytree(SMALL, tmp_path / "small"))
    for flight in ("first-morning", "second-morning"):
        logs = folder / "flights" / flight / "logs"
        text = (logs / "001.igc").read_text(encoding="utf-8")
        kept = [
            k for k in text.splitlines() if not k.startswith(("A", "HFPLT", "HFGID"))
        ]
        (logs / "001.igc").unlink()
        (logs / "found.igc").write_text("\n".join(["AXXX000", *kept]), encoding="utf-8")
    return folder


def test_a_log_is_given_to_its_pilot_as_open_matters_says(doubted, tmp_path, capsys):
    """The window could, and no command."""
    file = str(tmp_path / "small.sandtail")
    assert main(["import", str(doubted), file, "--by", "Eva"]) == 0
    main(["open-matters", file])
    told = capsys.readouterr().out
    line = next(k for k in told.splitlines() if f"correct {file} log found.igc" in k)
    own = line.split()[4:6]
    assert "--flight first-morning" in line

    assert correct(file, "log", *own) == 2
    assert "Several flights have a log found.igc" in capsys.readouterr().err
    given = [
        correct(file, "log", "logs/Found.IGC", "1", "--flight", f) for f in FLIGHTS
    ]
    assert given == [0, 0]
    assert {log.pilot for log in state(file).logs if "found" in log.name} == {1}
    capsys.readouterr()
    main(["open-matters", file])
    assert "found.igc 1" not in capsys.readouterr().out

    assert correct(file, "log", "found.igc", "none", "--flight", FLIGHTS[0]) == 0
    given = {log.flight: log.pilot for log in state(file).logs if "found" in log.name}
    assert given == {FLIGHTS[0]: None, FLIGHTS[1]: 1}
    assert correct(file, "log", "no.igc", "1") == 2
    assert "There is no log no.igc" in capsys.readouterr().err
    assert correct(file, "log", "002.igc", "77", "--flight", FLIGHTS[0]) == 2
    assert "There is no pilot 77" in capsys.readouterr().err
    assert correct(file, "log", "002.igc", "2", "--flight", "third") == 2
    assert "There is no flight third" in capsys.readouterr().err


def test_what_others_rest_on_is_not_taken_back(file, capsys):
    """It was recorded and set aside at once, and what was set next clashed with it."""
    label = settings_entry(file).label
    before = len(state(file).entries)
    assert main(["withdraw", file, label, "--why", "oops", "--by", "Eva"]) == 2
    told = capsys.readouterr().err
    assert f"Entry {label}, the event's settings, cannot be taken back" in told
    assert len(state(file).entries) == before


def test_rules_are_answered_beside_a_withdrawal_that_is_set_aside(file, capsys):
    """A desk of an older program withdrew the settings: that counts for nothing."""
    entry = settings_entry(file)
    with api.Ledger.open(file, desk=api.this_desk(), who="Eva") as ledger:
        ledger.withdraw([entry.hash], why="oops")

        (made,) = ledger.state().entries[-1:]
    main(["open-matters", file])
    told = capsys.readouterr().out
    assert "is set aside and counts for nothing" in told
    assert not re.search(r"[.?!]\.(\s|$)", told)

    before = len(state(file).entries)
    for words in (("rule", "floor.height", '"20 m"'), ("setting", "venue", "Hill")):
        assert correct(file, *words) == 2
        assert f"Withdraw entry {made.label} first" in capsys.readouterr().err
    assert len(state(file).entries) == before

    assert main(["withdraw", file, made.label, "--why", "oops", "--by", "Eva"]) == 0
    assert correct(file, "rule", "floor.height", '"20 m"') == 0
    assert correct(file, "setting", "venue", "Hill") == 0
    held = api.sound(state(file)).state
    assert not held.conflicts
    assert not held.set_aside
    assert held.settings["rules"]["floor"]["height"] == "20 m"
    assert held.settings["event"]["venue"] == "Hill"


def test_a_flight_that_was_withdrawn_comes_back_by_the_command_that_is_told(
    file, capsys
):
    """Entries were told that nobody contradicts: that one of them holds settled nothing."""
    label = state(file).all_of(FlightSet)[0][0].entry.label
    before = results(file).tasks
    assert main(["withdraw", file, label, "--why", "oops", "--by", "Eva"]) == 0
    gone = state(file).entries[-1].label
    capsys.readouterr()
    main(["open-matters", file])
    told = capsys.readouterr().out
    assert "belong to flight f1, which is not set down or was withdrawn" in told
    assert f"'{gone}' --why REASON  (Entry withdrawn by Eva" in told
    assert main(["withdraw", file, gone, "--why", "no", "--by", "Eva"]) == 0
    assert results(file).tasks == before


def test_a_withdrawal_that_is_taken_back_lets_hold_what_it_withdrew(file):
    """The mark stayed away, and nothing told of it."""
    before = results(file).tasks
    label = state(file).all_of(MarkKeyed)[0][0].entry.label
    for _ in range(2):
        assert main(["withdraw", file, label, "--why", "oops", "--by", "Eva"]) == 0
        assert results(file).tasks != before
        withdrawal = state(file).entries[-1].label
        assert main(["withdraw", file, withdrawal, "--why", "no", "--by", "Eva"]) == 0
        assert results(file).tasks == before


def settings_entry(file):
    """Return the entry that holds the event's settings."""
    return state(file).all_of(SettingsSet)[0][0].entry
