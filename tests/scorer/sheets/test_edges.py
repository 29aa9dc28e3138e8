"""Sheets of unusual events: empty, unpublished, badly named, without evidence."""

import io
import json
from dataclasses import replace
from unicodedata import bidirectional

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scorer.checks.charge import sums as charge_sums
from scorer.cli.screen import shown
from scorer.event.rulebook import PenaltyRule
from scorer.scoring.results import Results, Standing, StandingsTable
from scorer.sheets.board import board_setting
from scorer.sheets.forms import write_field_form
from scorer.sheets.sheet import Sheet, clean
from scorer.sheets.site import write_site
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Stamp, local, utc
from scorer.sheets.tables import write_tables
from scorer.sheets.task_sheet import write_task_sheet
from scorer.sheets.workbook import write_workbook
from tests.scorer.sheets import meet

DRAFT = Stamp(results_sha256="0" * 64)


@pytest.fixture(scope="module")
def small():
    return meet.results(6), meet.event(6)


def test_an_event_without_pilots_or_tasks_can_be_printed(event):
    bare = replace(event, pilots=(), flights=(), places=())
    nothing = Results(
        event="x",
        book="x",
        tasks=(),
        findings=(),
        standings=StandingsTable(title="", rows=()),
    )

    assert write_workbook(nothing, bare, DRAFT).startswith(b"PK")
    assert board_setting(nothing, bare, DRAFT).pdf().startswith(b"%PDF")
    assert slips_setting(nothing, bare, DRAFT, {}).pdf().startswith(b"%PDF")
    assert b"Standings" in write_site(nothing, bare, DRAFT, {})["index.html"]
    assert (
        json.loads(write_tables(nothing, bare, DRAFT)["marks.geojson"])["features"]
        == []
    )


def test_what_was_never_published_says_so(small):
    results, event = small
    front = openpyxl.load_workbook(io.BytesIO(write_workbook(results, event, DRAFT)))[
        "Front"
    ]
    cells = {row[0].value: row[1].value for row in front.iter_rows()}
    assert cells["State"] == "Draft, not published"
    assert cells["Published"] == "not published"
    assert (
        b"Draft, not published" in write_site(results, event, DRAFT, {})["index.html"]
    )
    about = json.loads(write_tables(results, event, DRAFT)["tables.json"])["about"]
    assert (about["state"], about["published_at"]) == ("draft", None)


def test_a_results_pilot_missing_from_the_roster_still_prints(small):
    results, event = small
    short = replace(event, pilots=event.pilots[1:])
    assert b"No. 1" in write_site(results, short, DRAFT, {})["index.html"]
    assert slips_setting(results, short, DRAFT, {}).pdf().startswith(b"%PDF")
    assert write_workbook(results, short, DRAFT).startswith(b"PK")


def test_teams_are_in_workbook_pages_and_data(small):
    results, event = small
    teams = StandingsTable(
        title="Teams",
        rows=(
            Standing(rank=1, pilot=1, total=1900, tasks={}),
            Standing(rank=2, pilot=2, total=100, tasks={}),
        ),
        teams={"=Red <b>": (1, 3), "Blue": (2,)},
        members={"=Red <b>": 2, "Blue": 1},
    )
    results = replace(results, team_standings=teams)

    book = openpyxl.load_workbook(io.BytesIO(write_workbook(results, event, DRAFT)))
    assert [cell.value for cell in book["Team standings"][5]][:3] == [
        1,
        "=Red <b>",
        1900,
    ]
    assert b"=Red &lt;b&gt;" in write_site(results, event, DRAFT, {})["index.html"]
    assert b"'=Red <b>" in write_tables(results, event, DRAFT)["standings-teams.csv"]


def test_class_names_that_no_worksheet_may_have_are_changed(small):
    results, event = small
    table = results.standings
    classes = tuple(
        replace(table, title=title)
        for title in ("A/B*[x]:?", "A B  x", "y" * 60, "y" * 61)
    )
    book = openpyxl.load_workbook(
        io.BytesIO(
            write_workbook(replace(results, class_standings=classes), event, DRAFT)
        )
    )
    assert len({title.casefold() for title in book.sheetnames}) == len(book.sheetnames)
    assert all(len(title) <= 31 for title in book.sheetnames)


def test_event_points_imposed_on_the_event_are_shown(small):
    results, event = small
    charge = results.tasks[0].score_of(3).charges[-1]
    results = replace(results, event_charges=((2, charge),))
    page = write_site(results, event, DRAFT, {})["pilot-2.html"].decode()
    assert "100 competition points; added, by M. Oake" in page
    assert (
        b"100.0,competition points,yes,,added"
        in write_tables(results, event, DRAFT)["penalties.csv"]
    )


def test_how_a_penalty_comes_about_is_shown(small):
    results, event = small
    ruled = results.findings[0]
    sums = charge_sums((PenaltyRule(unit="task points", per=1, of="m"),), 15.0)
    finding = replace(ruled.finding, sums=sums)
    results = replace(
        results, findings=(replace(ruled, finding=finding), *results.findings[1:])
    )
    page = write_site(results, event, DRAFT, {})["pilot-1.html"].decode()
    figures = "15 m beyond the limit: 15 task points"
    assert f"<dd>{figures}</dd>" in page


def test_signs_heaped_upon_a_letter_reach_into_no_other_line():
    heaped = "Z" + "\u0351\u036b\u0343" * 9 + "o \u0e01" + "\u0e47" * 30
    assert clean(heaped) == "Z\u0351\u036b\u0343\u0351o \u0e01" + "\u0e47" * 4
    for name in (
        "นกแก้ว กำธร",
        "\u05e9\u05c1\u05b8\u05dc\u05d5\u05b9\u05dd",
        "الوهّابيّ",
        "ក្រុម",
        "Ǟ̱̈́",
    ):
        assert clean(name) == name


@settings(max_examples=8, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(st.characters(codec=None), min_size=1, max_size=80))
def test_any_text_can_be_a_name(name):
    results, event = meet.results(3), meet.event(3)
    first = replace(event.pilots[0], name=name, registration=name, extra={name: name})
    event = replace(event, name=name, venue=name, pilots=(first, *event.pilots[1:]))

    book = openpyxl.load_workbook(
        io.BytesIO(write_workbook(results, event, meet.STAMP))
    )
    assert (book["Pilots"].cell(5, 2).value or "") == clean(name)
    assert board_setting(results, event, meet.STAMP).pdf().startswith(b"%PDF")
    assert slips_setting(results, event, meet.STAMP, {}).pdf().startswith(b"%PDF")
    assert write_field_form(event, 1).startswith(b"%PDF")
    assert write_task_sheet(event, meet.MORNING).startswith(b"%PDF")
    data = write_tables(results, event, meet.STAMP)
    rows = json.loads(data["tables.json"])["tables"]["pilots"]["rows"]
    assert rows[0]["name"] == clean(name)
    write_site(results, event, meet.STAMP, {})["pilot-1.html"].decode("utf-8")


def test_times_without_an_offset_are_utc():
    assert (
        utc("2026-09-12T10:05:00")
        == utc("2026-09-12T10:05:00Z")
        == utc("2026-09-12T12:05:00+02:00")
    )
    assert local("2026-09-12T10:05:00Z", "Europe/Madrid") == "2026-09-12 12:05 CEST"
    assert local("", "UTC") == ""


@pytest.mark.parametrize(
    ("stored", "printed"),
    [
        ("2026-09-12T10:05:04.000000Z", "(2026-09-12T10:05:04Z)"),
        ("2026-09-12T10:05:04.250000Z", "(2026-09-12T10:05:04.250000Z)"),
        ("2026-09-12T10:05:04Z", "(2026-09-12T10:05:04Z)"),
    ],
)
def test_a_publication_of_a_whole_second_is_printed_without_its_parts(
    small, stored, printed
):
    results, event = small
    stamp = replace(meet.STAMP, published_at=stored)
    sheet = Sheet(results=results, event=event, stamp=stamp)
    assert dict(sheet.facts)["Published"].endswith(f" {printed}")


EXPLICIT = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
TURNS = [chr(n) for n in range(0x110000) if bidirectional(chr(n)) in EXPLICIT]


def test_no_name_turns_the_numbers_that_stand_after_it():
    """Explicit directional formatting characters, as Python's own table has them."""
    assert len(TURNS) == 9
    for sign in TURNS:
        assert clean(f"to the tree{sign}: 5.8 m") == "to the tree: 5.8 m"
        assert shown(f"to the tree{sign}: 5.8 m") == "to the tree: 5.8 m"
    kept = "\u200e\u200f\u200c\u200d"  # marks and joiners, which names need
    assert clean(f"a{kept}b") == f"a{kept}b"
