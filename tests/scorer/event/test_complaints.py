"""Complaints and notes of an event folder: every fault told, nothing scored by them."""

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from scorer.errors import InputError
from scorer.event.build import build, build_event
from scorer.event.complaints import read_complaints
from scorer.event.folder import read_folder, read_folder_with_faults, write_folder
from scorer.event.model import Level, Outcome
from scorer.event.moments import read_moment
from scorer.event.reading import Faults
from scorer.ledger.event_commands import results_json
from scorer.units import Unreadable
from tests.scorer.ledger.ledger_desks import small_event

HEAD = "task,pilot,number,kind,against,text,by,at,note,outcome,reason,decided_by,decided_at"
ZONE = ZoneInfo("Europe/Berlin")


@pytest.fixture
def folder(tmp_path):
    write_folder(small_event(), tmp_path / "meet")
    return tmp_path / "meet"


def write(folder, *rows, head=HEAD, name="complaints.csv"):
    (folder / name).write_text("\n".join([head, *rows, ""]), encoding="utf-8")


def faults_of(folder):
    raw, faults = read_folder_with_faults(folder)
    return [str(fault) for fault in [*faults, *build(raw)[1]]]


def test_a_folder_without_the_file_has_no_complaints(folder):
    raw = read_folder(folder)

    assert (raw.complaints, raw.notes) == ((), ())
    assert faults_of(folder) == []


def test_a_complaint_and_the_protest_against_its_outcome_are_read(folder):
    write(
        folder,
        "1,2,1,complaint,,mine was nearer,Eva,2026-09-12 10:05,,Rejected,twice taped,"
        "Ida,2026-09-12 11:00",
        ",2,,protest,1,the tape was slack,Eva,2026-09-12T11:30,,,,,",
    )

    first, second = read_complaints(read_folder(folder).complaints, ZONE, Faults())

    assert faults_of(folder) == []
    assert (first.pilot, first.task, first.level) == (2, 1, Level.COMPLAINT)
    assert (first.outcome, first.number) == (Outcome.REJECTED, 1)
    assert (second.task, second.level, second.against) == (None, Level.PROTEST, 1)
    assert second.outcome is None


def test_a_complaint_without_kind_is_a_complaint(folder):
    write(folder, "1,2,mine was nearer", head="task,pilot,text")

    (filed,) = read_complaints(read_folder(folder).complaints, ZONE, Faults())

    assert filed.level is Level.COMPLAINT


@pytest.mark.parametrize(
    ("row", "parts"),
    [
        ("1,9,,,,x,,,,,,,", ['line 2, pilot: found "9"', "one of 1, 2"]),
        ("7,2,,,,x,,,,,,,", ['line 2, task: found "7"', "one of 1"]),
        ("1,x,,,,x,,,,,,,", ['pilot: found "x"', "a whole number"]),
        ("1,,,,,x,,,,,,,", ["pilot: found nothing"]),
        ("1,2,,protst,,x,,,,,,,", ['kind: found "protst"', 'Did you mean "protest"?']),
        ("1,2,,,,,,,,,,,", ["text: found nothing", "what the pilot says"]),
        ("1,2,,,,x,,10:05,,,,,", ['at: found "10:05"', "YYYY-MM-DD HH:MM"]),
        ("1,2,,,,x,,,,upheld,,,soon", ['decided_at: found "soon"']),
        ("1,2,,,,x,,,,maybe,,,", ["one of upheld, rejected, taken back"]),
        ("1,2,,,,x,,,,,why,Ida,", ["outcome: found nothing", "reason and decided_by"]),
        ("1,2,x,,,x,,,,,,,", ['number: found "x"']),
        ("1,2,,protest,4,x,,,,,,,", ['against: found "4"', "line above: none yet"]),
        ("1,2,,,1,x,,,,,,,", ["against", "nothing with kind complaint"]),
    ],
)
def test_a_fault_names_its_line_and_field(folder, row, parts):
    write(folder, row)

    (fault,) = faults_of(folder)

    assert fault.startswith("complaints.csv, line 2, ")
    assert all(part in fault for part in parts), fault


def test_all_faults_come_at_once_with_those_of_other_files(folder):
    write(folder, "1,9,3,,,x,,,,,,,", "1,2,3,,,,,now,,,,,", "5,1,3,,,y,,,,,,,")
    write(folder, ",,rain", "noon,,", head="at,text,by", name="notes.csv")
    (folder / "flights/1/marks.csv").write_text("task,pilot,method\n1,1,tepe\n")

    found = "\n".join(faults_of(folder))

    for part in (
        'complaints.csv, line 2, pilot: found "9"',
        'complaints.csv, line 3, number: found "3"; allowed: each number once; it',
        "complaints.csv, line 3, text",
        'complaints.csv, line 3, at: found "now"',
        "complaints.csv, line 4, number",
        "notes.csv, line 2, text: found nothing",
        'notes.csv, line 3, at: found "noon"',
        "notes.csv, line 3, text",
        "marks.csv, line 2, method",
    ):
        assert part in found, found


def test_a_broken_roster_is_told_once_not_with_every_complaint(folder):
    write(folder, "1,2,,,,x,,,,,,,", "1,1,,,,y,,,,,,,")
    (folder / "pilots.csv").write_bytes(b"number,name\n1,Jos\xe9\n")
    raw, faults = read_folder_with_faults(folder)

    more = build(raw, faults)[1]

    assert not [fault for fault in more if fault.where == "complaints.csv"]


def test_a_protest_against_a_faulty_line_is_no_fault_of_its_own(folder):
    write(folder, "1,2,1,,,,,,,,,,", "1,2,2,protest,1,x,,,,,,,")

    (fault,) = faults_of(folder)

    assert "line 2, text" in fault


def test_a_slip_in_the_name_of_the_file_is_told(folder):
    write(folder, "1,2,,,,x,,,,,,,", name="complaint.csv")

    assert any("complaints.csv" in fault for fault in faults_of(folder))


def test_a_misspelt_column_is_told(folder):
    write(folder, "1,2,x,upheld", head="task,pilot,text,outcom")

    assert any('Did you mean "outcome"?' in fault for fault in faults_of(folder))


def test_no_score_depends_on_complaints(folder):
    write(folder, "1,2,,,,mine was nearer,,,,upheld,it was,Ida,2026-09-12 11:00")
    with_one = read_folder(folder)
    without = replace(with_one, complaints=())

    assert with_one.complaints
    assert results_json(build_event(with_one)) == results_json(build_event(without))


def test_a_folder_with_a_faulty_complaint_is_refused(folder):
    write(folder, "1,9,,,,x,,,,,,,")

    with pytest.raises(InputError, match="pilot"):
        build_event(read_folder(folder))


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("2026-09-12 08:05", "2026-09-12T06:05:00+00:00"),  # Berlin, summer
        ("2026-12-12 08:05:07", "2026-12-12T07:05:07+00:00"),
        ("2026-09-12 08:05:00+02:00", "2026-09-12T06:05:00+00:00"),
        ("2026-09-12T06:05:00Z", "2026-09-12T06:05:00+00:00"),
    ],
)
def test_times_are_local_unless_they_name_their_offset(text, utc):
    """Central European time: UTC+1, in summer UTC+2 (IANA time zone database)."""
    found = read_moment(text, ZONE).local.astimezone(ZoneInfo("UTC"))

    assert found.isoformat() == utc


@pytest.mark.parametrize("text", ["08:05", "2026-09-12", "2026-13-01 08:00", "٣", ""])
def test_a_time_without_its_day_is_refused(text):
    with pytest.raises(Unreadable):
        read_moment(text, ZONE)
