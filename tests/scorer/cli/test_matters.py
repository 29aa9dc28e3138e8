"""What is open, on the command line: listed, accepted, opened again."""

import csv
import re
import shutil
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from scorer.cli.main import main
from scorer.event.acceptances import rows_of
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.event.matter import _ELSEWHERE, KINDS, Closes, Matter
from scorer.event.matters import MARK_FAR_FROM_TRACK, UNRULED
from scorer.facts import Fact, fact, inner
from scorer.ledger import api
from scorer.ledger.acts import MatterAccepted, RulingMade
from scorer.ledger.matters import matters
from scorer.scoring.score import score
from scorer.words.catalogue import has, languages, takes
from scorer.words.voice import Voice, message_for

SMALL = Path(__file__).parents[3] / "sample_events" / "vashkorim"


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture
def folder(tmp_path):
    """The small sample; its mark of pilot 5 settled, so that one matter is left."""
    made = Path(shutil.copytree(SMALL, tmp_path / "meet"))
    marks = made / "flights/first-morning/marks.csv"
    lines = marks.read_text(encoding="utf-8").splitlines()
    kept = [row for row in lines if not row.startswith("1,5,") or "Merel" not in row]
    marks.write_text("\n".join(kept) + "\n", encoding="utf-8")
    return made


@pytest.fixture(params=["folder", "event file"])
def target(folder, tmp_path, request):
    if request.param == "folder":
        return str(folder)
    file = str(tmp_path / "meet.sandtail")
    assert main(["import", str(folder), file, "--by", "Eva"]) == 0
    return file


def test_what_is_open_is_listed_with_what_closes_it(capsys):
    assert main(["open-matters", str(SMALL)]) == 1
    out = capsys.readouterr().out
    assert "  1. Infringement to decide: Task 1, 1 " in out
    assert "  2. Marks to settle: Task 1, 5 " in out
    assert "Page Infringements" in out
    assert "Or accept it" in out
    assert "the flight's marks.csv" in out
    assert "Not ready to become official: 2 matters are open." in out
    assert main(["score", str(SMALL)]) == 0
    assert "2 matters are open" in capsys.readouterr().out


def test_an_accepted_matter_holds_nothing_up_and_stays_listed(target, capsys):
    capsys.readouterr()
    assert main(["open-matters", target]) == 1
    in_file = f"sandtail correct {target} row rulings task=1 pilot=1 finding="
    assert (in_file in capsys.readouterr().out) == target.endswith(".sandtail")
    assert main(["accept", target, "1", "--why", 'no gain, "seen"', "--by", "Ida"]) == 0
    capsys.readouterr()

    assert main(["open-matters", target]) == 0
    out = capsys.readouterr().out
    assert "Accepted as they stand:" in out
    assert "by Ida" in out
    assert 'because: no gain, "seen"' in out
    assert "Nothing keeps these from becoming official." in out
    assert main(["accept", target, "1", "--why", "again", "--by", "Ida"]) == 2


def test_an_acceptance_goes_through_file_folder_and_archive(folder, tmp_path, capsys):
    names = ("meet.sandtail", "out", "meet.zip", "again.sandtail")
    file, out, archive, again = (str(tmp_path / name) for name in names)
    assert main(["accept", str(folder), "1", "--why", "no gain", "--by", "Ida"]) == 0
    assert main(["import", str(folder), file, "--by", "Eva"]) == 0
    assert main(["import", str(folder), file, "--into", "--by", "Eva"]) == 0
    assert main(["export", file, out]) == 0
    assert main(["archive", file, archive]) == 0
    assert main(["restore", archive, again]) == 0
    (held,) = api.load(again).state.all_of(MatterAccepted)
    assert held[1].fields["by"] == "Ida"
    table = Path(folder / "accepted.csv").read_text(encoding="utf-8")
    assert Path(out, "accepted.csv").read_text(encoding="utf-8") == table
    for target in (file, out, archive, again):
        assert main(["open-matters", target]) == 0


def test_another_value_opens_the_matter_again(folder, capsys):
    assert main(["accept", str(folder), "1", "--why", "no gain", "--by", "Ida"]) == 0
    reports = folder / "flights/first-morning/reports.csv"
    text = reports.read_text(encoding="utf-8")
    assert "Merel" in text
    changed = text.replace("Merel", "Somebody else")
    reports.write_text(changed, encoding="utf-8")
    capsys.readouterr()

    assert main(["open-matters", str(folder), "--all"]) == 1
    out = capsys.readouterr().out
    assert "Acceptance without a matter" in out
    assert "no gain" in out


def test_entries_that_differ_can_only_be_settled(capsys):
    assert main(["accept", str(SMALL), "2", "--why", "never mind", "--by", "Ida"]) == 2
    assert "only be settled" in capsys.readouterr().err
    assert not (SMALL / "accepted.csv").exists()


def test_a_mark_of_who_did_not_fly_is_closed_by_taking_one_back(tmp_path, capsys):
    file = str(tmp_path / "meet.sandtail")
    by = ("--by", "Ida")
    main(["import", str(SMALL), file, *by])
    main(
        [
            "correct",
            file,
            "not-flown",
            "--task",
            "1",
            "--pilot",
            "4",
            "--why",
            "seen",
            *by,
        ]
    )
    entry = re.findall(r"recorded 1 entry: (\S+ #\d+)", capsys.readouterr().out)[-1]
    main(["open-matters", file])
    rows = re.split(r"\n +\d+\. ", capsys.readouterr().out)
    (listed,) = (row for row in rows if "4 Oisín Ek: Reported as not flown" in row)
    assert "→ Take back the report or the mark" in listed
    taken_back = f"sandtail withdraw {file} '{entry}' --why REASON"
    assert taken_back in " ".join(listed.split())
    assert listed.count("sandtail withdraw") == 2  # the report, or the mark
    assert "(Observer report by Ida" in listed
    assert "settles" not in listed

    main(["withdraw", file, entry, "--why", "another pilot", *by])
    main(["open-matters", file])
    assert "did not fly" not in capsys.readouterr().out


@pytest.mark.parametrize("number", ["0", "9", "-1"])
def test_a_number_that_is_not_in_the_list_is_refused(number, capsys):
    given = ["accept", "--why", "x", "--by", "Ida", "--", str(SMALL), number]
    assert main(given) == 2
    assert "allowed: 1 to 3, the numbers of" in capsys.readouterr().err


def test_a_reason_must_be_given(folder, capsys):
    assert main(["accept", str(folder), "1", "--why", "  ", "--by", "Ida"]) == 2
    assert "say why" in capsys.readouterr().err


def test_rows_stand_below_those_already_there(folder):
    table = folder / "accepted.csv"
    one = Matter(kind=MARK_FAR_FROM_TRACK, says=fact("no-log"), task=1, pilots=(2,))
    (row,) = rows_of(one, why="a remark, kept", by="Ann", at="2026-09-12 09:00")
    with table.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, list(row), lineterminator="\n")
        writer.writeheader()
        out.write("# by hand\n")
        writer.writerow(row)
    before = table.read_text(encoding="utf-8")
    assert main(["accept", str(folder), "1", "--why", "no gain", "--by", "Ida"]) == 0
    after = table.read_text(encoding="utf-8")
    assert after.startswith(before)
    assert len(after.splitlines()) == len(before.splitlines()) + 1


@pytest.mark.parametrize("cell", ["matter", "why", "kind"])
def test_a_row_that_says_too_little_is_a_fault(folder, cell, capsys):
    assert main(["accept", str(folder), "1", "--why", "no gain", "--by", "Ida"]) == 0
    table = folder / "accepted.csv"
    row = next(csv.DictReader(table.read_text(encoding="utf-8").splitlines()))
    with table.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, list(row))
        writer.writeheader()
        writer.writerow({**row, cell: ""})
    capsys.readouterr()
    assert main(["check", str(folder)]) == 2
    assert f"accepted.csv, line 2, {cell}" in capsys.readouterr().err


def test_one_list_for_engine_and_ledger(folder, tmp_path):
    """A folder and the event file made of it hold the same matters."""
    file = str(tmp_path / "meet.sandtail")
    assert main(["import", str(folder), file, "--by", "Eva"]) == 0
    event = build_event(read_folder(folder))
    loaded = api.load(file)
    other = build_event(loaded.raw)
    plain = matters(event, score(event))
    assert plain == matters(other, score(other), loaded.state)
    assert [m.kind for m in plain if m.holds_up] == [UNRULED]


def test_a_group_counts_once_and_is_accepted_member_by_member(tmp_path):
    says = [
        fact("undecided-floor", seen=inner(fact("no-log")), now=inner(fact("no-log")))
    ] * 3
    one, two, three = (
        Matter(kind=UNRULED, flight="1", task=1, pilots=(n,), says=s)
        for n, s in enumerate(says, start=1)
    )
    from scorer.event.acceptances import read_acceptances
    from scorer.event.matter import grouped, readiness, with_acceptances
    from scorer.event.raw import RawRow
    from scorer.event.reading import Faults

    (group,) = grouped([one, two, three])
    assert readiness([group]).get("matters") == 1
    rows = [RawRow(fields=r) for r in rows_of(group, why="briefed", by="Ann")]
    faults = Faults()
    given = read_acceptances(rows, ZoneInfo("UTC"), faults)
    assert not faults.found
    (accepted,) = grouped(with_acceptances([one, two, three], given))
    assert accepted.pilots == (1, 2, 3)
    assert accepted.accepted
    other = Matter(kind=UNRULED, flight="1", task=1, pilots=(3,), says=fact("no-log"))
    again = grouped(with_acceptances([one, two, other], given))
    assert [m.pilots for m in again] == [(1, 2), (3,), (3,)]
    assert [m.holds_up for m in again] == [False, True, False]


def test_several_matters_of_one_pilot_are_told_each():
    """They were told as "1 pilots"."""
    from scorer.event.matter import grouped

    first, second = (
        fact("undecided", seen=inner(fact(n))) for n in ("no-log", "air-unread")
    )
    own = [
        Matter(kind=UNRULED, flight="1", task=1, pilots=(7,), says=says)
        for says in (first, second)
    ]
    assert grouped(own) == tuple(own)


# What every kind of matter points to.

IN_NO_FOLDER = {
    "conflict",
    "fork",
    "clock",
    "desk-clock",
    "set-aside",
    "complaint",
    "protest-period",
}
"""Only entries of a ledger leave these open, or the hour."""
NO_COMMAND = {Closes.LOGS, Closes.PUBLISH, Closes.JOURNAL}
"""Logs come with a folder, into an event file by `import --into` or in the window."""
BY_NAME = {"set-aside", "conflict", "acceptance-gone"}
"""Kinds of which a command names the entry."""


def facts_elsewhere():
    return sorted(fact_ for fact_ in _ELSEWHERE if has(fact_))


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
@pytest.mark.parametrize("language", languages())
def test_every_kind_of_matter_points_to_page_file_and_command(kind, language):
    matter = Matter(kind=kind, says=Fact("anything"))
    voice = Voice(language=language)
    said = voice.closing(matter)
    if "air" not in kind.name and not kind.name.startswith("log-clock-"):
        assert voice.word(f"page-{kind.closes}") in said
    if kind.name not in IN_NO_FOLDER and not kind.name.startswith("log-clock-"):
        assert re.search(r"\.(csv|toml|json|geojson)\b", said), said
    command = message_for("command", matter)
    assert command or kind.closes in NO_COMMAND
    if kind.name in BY_NAME:
        assert takes(command, "entry")


@pytest.mark.parametrize("says", facts_elsewhere())
@pytest.mark.parametrize("language", languages())
def test_what_is_closed_elsewhere_says_the_page_it_leads_to(says, language):
    """Window and words said the page each by itself."""
    voice = Voice(language=language)
    others = (kind for kind in KINDS.values() if kind.closes is not _ELSEWHERE[says])
    for kind in others:
        matter = Matter(kind=kind, says=Fact(says))
        assert matter.closes is _ELSEWHERE[says]
        assert voice.word(f"page-{matter.closes}") in voice.closing(matter)


def test_a_decision_on_nothing_is_withdrawn_by_the_name_of_its_entry(
    folder, tmp_path, capsys
):
    file = str(tmp_path / "meet.sandtail")
    rulings = folder / "flights/first-morning/rulings.csv"
    head = rulings.read_text(encoding="utf-8").splitlines()[0]
    cells = dict.fromkeys(head.split(","), "")
    cells |= {"task": "1", "pilot": "4", "decision": "waive", "by": "Ada"}
    cells |= {"finding": "low-over-houses", "reason": "seen"}
    with rulings.open("a", encoding="utf-8") as file_:
        file_.write(",".join(cells.values()) + "\n")
    assert main(["import", str(folder), file, "--by", "Eva"]) == 0
    (own,) = (
        current.entry
        for current, act in api.load(file).state.all_of(RulingMade)
        if act.fields["finding"] == "low-over-houses"
    )
    capsys.readouterr()
    main(["open-matters", file])
    out = capsys.readouterr().out
    assert f"sandtail withdraw {file} '{own.label}' --why REASON" in out
    assert "Page Journal, where the decision is reverted" in out
    assert main(["withdraw", file, own.label, "--why", "typed", "--by", "Eva"]) == 0
    main(["open-matters", file])
    assert "Decision in doubt" not in capsys.readouterr().out


def test_a_new_event_is_told_which_rule_or_setting_is_to_be_answered(tmp_path, capsys):
    """Each was told to answer RULE, the elevation of the ground too, which is none."""
    file = str(tmp_path / "cup.sandtail")
    made = ["--name", "Cup", "--crs", "EPSG:25830", "--by", "Eva"]
    assert main(["new", file, *made, "--time-zone", "Nowhere"]) == 2
    assert capsys.readouterr().err.startswith('event.time_zone: found "Nowhere"')
    assert main(["new", file, *made, "--time-zone", "Europe/Madrid"]) == 0
    main(["open-matters", file])
    told = capsys.readouterr().out
    assert f"correct {file} rule floor.penalty ANSWER" in told
    assert f"correct {file} setting ground_elevation METRES_OR_FEET" in told
    own = ["correct", file, "setting", "ground_elevation", "650 m"]
    assert main([*own, "--why", "map", "--by", "Eva"]) == 0
    new = ["correct", file, "row", "pilots", "number=1", "name=Ann Ek"]
    assert main([*new, "--why", "late", "--by", "Eva"]) == 0
    told = capsys.readouterr().out
    assert "standings: rank none → 1 (entered since the last version)" in told
