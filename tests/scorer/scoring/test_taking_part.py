"""Who takes part: late entries, withdrawals, guests, check-in."""

import re
from pathlib import Path
from shutil import copytree

import pytest

from gui.models.results import StandingRow, standing_columns
from scorer.cli.standings import show_standings
from scorer.errors import InputError
from scorer.event.build import build
from scorer.event.folder import read_folder
from scorer.event.matter import Blocks
from scorer.ledger.matters import matters
from scorer.scoring.document import document, to_json
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.helpers import said
from tests.scorer.tiny import FIN, tiny, tiny_flight

SAMPLE = Path(__file__).parents[3] / "sample_events/vashkorim"
HEAD = "number,name,enters,leaves,competes,papers,waiver\n"
MARKS = """task,pilot,method,distance,by
{0},1,tape,3 m,K
{0},2,tape,5 m,K
{0},3,tape,9 m,K
"""


def flight(number, marks=MARKS, **more):
    """Make a flight of one task, a day for each."""
    tasks = FIN.replace("number = 1", f"number = {number}")
    return tiny_flight(
        f"f{number}",
        tasks=tasks,
        marks=marks.format(number),
        day=f"2026-06-0{number}",
        **more,
    )


def scored(*pilots, flights=None):
    """Score two tasks with a roster of these lines."""
    width = HEAD.count(",")
    rows = (line + "," * (width - line.count(",")) for line in pilots)
    roster = HEAD + "".join(f"{row}\n" for row in rows)
    return score(tiny(*(flights or (flight(1), flight(2))), pilots=roster))


EVERYBODY = ("1,Ann", "2,Bob", "3,Cid")


def entered(results):
    return [task.formula.P for task in results.tasks]


def kinds(results, kind):
    return [m for m in results.matters if m.kind.name == kind]


def test_a_late_pilot_changes_nothing_that_was_flown():
    before = scored(*EVERYBODY)
    after = scored(*EVERYBODY, "4,Dot,2")
    assert entered(after) == [3, 4]
    assert after.task(1).scores == before.task(1).scores
    assert after.task(1).missing == ()
    assert after.task(2).missing == (4,)


def test_a_pilot_who_leaves_stays_in_what_was_flown():
    marks = MARKS.replace("{0},3,tape,9 m,K\n", "")
    results = scored(*EVERYBODY[:2], "3,Cid,,2", flights=(flight(1), flight(2, marks)))
    assert entered(results) == [3, 2]
    assert results.task(2).missing == ()
    assert results.task(1).score_of(3).score > 0
    (row,) = [row for row in results.standings.rows if row.pilot == 3]
    assert row.total == results.task(1).score_of(3).score


def test_a_guest_is_shown_and_in_no_rank():
    results = scored("1,Ann,,,no", *EVERYBODY[1:])
    assert entered(results) == [2, 2]
    assert [g.pilot for g in results.task(1).guests] == [1]
    assert results.task(1).guests[0].result == 3
    assert results.task(1).score_of(2).rank == 1
    assert [row.pilot for row in results.standings.rows] == [2, 3]
    (guest,) = document(results)["tasks"][0]["guests"]
    assert guest == {"pilot": 1, "result": 3.0, "why": ""}


def test_no_result_waits_for_a_guest():
    marks = MARKS.replace("{0},1,tape,3 m,K\n", "{0},1,tape,3 m,K\n{0},1,tape,8 m,L\n")
    results = scored("1,Ann,,,no", *EVERYBODY[1:], flights=(flight(1, marks),))
    assert not [m for m in results.matters if m.holds_up and m.pilots == (1,)]


def test_a_mark_of_somebody_who_takes_no_part_is_asked_about():
    results = scored(*EVERYBODY[:2], "3,Cid,2")
    (matter,) = kinds(results, "not-entered")
    assert (matter.task, matter.pilots) == (1, (3,))
    assert matter.holds_up


def test_the_second_verifier_agrees():
    results = scored("1,Ann,,,no", "2,Bob", "3,Cid,,2", "4,Dot,2")
    assert verify(read_results(to_json(results), "results.json")) == []


def test_a_task_that_a_pilot_was_not_entered_in_is_a_dash_not_a_zero(capsys):
    results = scored(*EVERYBODY[:2], "3,Cid,,2", "4,Dot,2")
    lines = {row.pilot: row for row in results.standings.rows}
    first = results.task(1).score_of(3).score
    assert (lines[3].tasks, lines[3].total) == ({1: first}, first)
    assert (lines[4].tasks, lines[4].counted) == ({2: lines[4].total}, (2,))
    show_standings(results)
    told = capsys.readouterr().out
    assert re.search(rf"3 +Cid +{first} +– +{first}", told)
    assert "A dash: not entered in this task; it adds nothing." in told


def test_standings_without_a_dash_do_not_explain_one(capsys):
    show_standings(scored(*EVERYBODY))
    assert "dash" not in capsys.readouterr().out


def test_the_window_shows_the_dash_and_says_what_it_is():
    results = scored(*EVERYBODY[:2], "3,Cid,,2")
    (own,) = [row for row in results.standings.rows if row.pilot == 3]
    row = StandingRow(pilot=3, name="Cid", standing=own)
    column = standing_columns(results)[5]
    assert column.said(row) == "–"
    assert column.tip(row).startswith("A dash: not entered")


def test_the_verifier_takes_the_zeros_of_older_results_and_nothing_else():
    tree = read_results(to_json(scored(*EVERYBODY[:2], "3,Cid,,2")), "results.json")
    (own,) = [row for row in tree["standings"] if row["pilot"] == 3]
    own["tasks"]["2"] = 0
    assert not list(verify(tree, digests=False))
    own["tasks"]["2"] = 5
    assert list(verify(tree, digests=False))


GONE = "task,pilot,kind,by\n{0},3,withdrawn,Eve\n"


def test_a_report_of_withdrawal_is_as_if_the_roster_said_so():
    marks = MARKS.replace("{0},3,tape,9 m,K\n", "")
    flights = (
        flight(1),
        flight(2, marks, reports=GONE.format(2)),
        flight(3, marks),
    )
    by_report = scored(*EVERYBODY, flights=flights)
    flights = (flight(1), flight(2, marks), flight(3, marks))
    by_roster = scored(*EVERYBODY[:2], "3,Cid,,2", flights=flights)
    assert entered(by_report) == [3, 2, 2]
    assert by_report.tasks == by_roster.tasks
    assert by_report.standings == by_roster.standings
    assert not kinds(by_report, "not-entered")
    assert verify(read_results(to_json(by_report), "results.json")) == []


def test_a_mark_after_a_reported_withdrawal_is_asked_about():
    flights = (flight(1, reports=GONE.format(1)), flight(2))
    found = kinds(scored(*EVERYBODY, flights=flights), "not-entered")
    assert [(m.task, m.pilots) for m in found] == [(1, (3,)), (2, (3,))]


def test_the_earlier_of_roster_and_report_holds():
    marks = MARKS.replace("{0},3,tape,9 m,K\n", "")
    flights = (flight(1), flight(2, marks, reports=GONE.format(2)), flight(3, marks))
    results = scored(*EVERYBODY[:2], "3,Cid,,3", flights=flights)
    assert entered(results) == [3, 2, 2]


def checked(*pilots):
    roster = HEAD + "".join(f"{line}\n" for line in pilots)
    return tiny(flight(1), flight(2), pilots=roster)


def test_check_in_is_told_flight_by_flight():
    event = checked("1,Ann,,,,no,", "2,Bob,,,,2026-06-01,no", "3,Cid,,,,yes,yes")
    found = [m for m in matters(event, score(event)) if m.kind.name == "check-in"]
    assert [(m.says.kind, m.flight, m.pilots) for m in found] == [
        ("papers-not-seen", "f1", (1,)),
        ("waiver-not-signed", "f1", (2,)),
        ("papers-not-seen", "f2", (1,)),
        ("papers-ran-out", "f2", (2,)),
        ("waiver-not-signed", "f2", (2,)),
    ]
    assert "director decides" in said(found[0])
    assert not any(m.holds_up for m in found)


def test_check_in_reaches_no_results():
    event = checked("1,Ann,,,,2026-05-24,no", "2,Bob,,,,no,yes", "3,Cid,,,,,")
    text = to_json(score(event))
    assert "2026-05-24" not in text
    assert "papers" not in text
    assert "waiver" not in text.replace("event's waiver", "")


@pytest.mark.parametrize(
    "line",
    [
        "1,Ann,first",
        "1,Ann,0",
        "1,Ann,,x",
        "1,Ann,,,maybe",
        "1,Ann,,,,soon",
        "1,A,,,,,1",
    ],
)
def test_what_cannot_be_read_is_refused(line):
    with pytest.raises(InputError, match=r"pilots\.csv"):
        scored(line, *EVERYBODY[1:])


def test_a_log_of_somebody_reported_withdrawn_or_not_flown_is_asked_about(tmp_path):
    folder = tmp_path / "meet"
    copytree(SAMPLE, folder)
    with (folder / "flights/first-morning/reports.csv").open("a") as file:
        file.write("1,1,withdrawn,,,,Eve,\n1,2,not-flown,,,,Eve,\n")
    event, _ = build(read_folder(folder))
    results = score(event)
    found = [m for m in results.matters if m.says.kind == "withdrawn-but-log"]
    assert [(m.task, m.pilots) for m in found] == [(1, (1,))]
    asked = [m.says.kind for m in results.matters if (m.task, m.pilots) == (1, (2,))]
    assert "mark-of-not-flown" in asked
    assert "not-flown-but-log" not in asked  # one fact, told once


def test_a_log_of_somebody_reported_as_not_flown_holds_official_results(tmp_path):
    """Who is taken as not flown gets nothing: that is never settled by silence."""
    folder = tmp_path / "meet"
    copytree(SAMPLE, folder)
    flight = folder / "flights/first-morning"
    marks = (flight / "marks.csv").read_text().splitlines(keepends=True)
    kept = [line for line in marks if line.split(",")[1] != "2"]
    (flight / "marks.csv").write_text("".join(kept))
    with (flight / "reports.csv").open("a") as file:
        file.write("1,2,not-flown,,,,Eve,\n")

    event, _ = build(read_folder(folder))

    asked = [m for m in score(event).matters if m.says.kind == "not-flown-but-log"]
    assert [(m.task, m.pilots, m.kind.blocks) for m in asked] == [
        (1, (2,), Blocks.OFFICIAL)
    ]


def test_who_is_reported_as_not_flown_and_as_seen_in_the_air_is_asked_about(tmp_path):
    """One of two reports is on the wrong pilot, and neither is believed in silence."""
    folder = tmp_path / "meet"
    copytree(SAMPLE, folder)
    with (folder / "flights/first-morning/reports.csv").open("a") as file:
        file.write("1,2,not-flown,,,,Eve,\n1,2,ground-contact,06:20,,,Bo,\n")
    event, _ = build(read_folder(folder))
    asked = [m for m in score(event).matters if m.says.kind == "not-flown-but-seen"]
    assert [(m.task, m.pilots, m.kind.blocks) for m in asked] == [
        (1, (2,), Blocks.OFFICIAL)
    ]
