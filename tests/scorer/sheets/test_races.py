"""A race without points on paper, in tables, on pages and in the workbook."""

import io
import re

import openpyxl
import pytest

from gui.models.results import standing_columns, standing_rows
from scorer.scoring.document import document
from scorer.scoring.score import score
from scorer.sheets.awards import write_awards
from scorer.sheets.board import board_setting
from scorer.sheets.schema import results_schema
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import write_site
from scorer.sheets.stamp import Stamp
from scorer.sheets.tables import write_tables
from scorer.sheets.workbook import write_workbook
from tests.scorer.tiny import tiny, tiny_flight

STAMP = Stamp(results_sha256="0" * 64)
MARKS = """task,pilot,method,lat,lon,by
1,1,latlon,42,-3,Eva
1,2,latlon,41,-3,Eva
1,3,none,,,Eva
"""


@pytest.fixture(scope="module")
def race():
    task = '[[task]]\nnumber = 1\nkind = "GAS"\ntarget = "T"\n'
    rules = 'book = "gas-race"\npublication.complaint_time = "2 h"\n'
    rules += 'standings.team_column = "team"\n'
    event = tiny(tiny_flight(tasks=task, marks=MARKS), rules=rules)
    return event, score(event)


def sums(results):
    return [row.result for row in results.standings.rows]


def test_the_board_prints_kilometres(race):
    pypdf = pytest.importorskip("pypdf", reason="nothing else reads the PDFs back")
    event, results = race

    pages = pypdf.PdfReader(
        io.BytesIO(board_setting(results, event, STAMP).pdf())
    ).pages

    text = pages[0].extract_text()
    assert "Result" in text
    assert f"{sums(results)[0] / 1000:.3f} km" in text
    assert "no result" in text


def test_tables_carry_metres(race):
    event, results = race

    data = write_tables(results, event, STAMP)

    text = data["standings.csv"].decode("utf-8-sig")
    assert "rank,pilot,name,task_1,competition_penalty,result_m" in text
    assert f"1,1,Ann,{sums(results)[0]},0,{sums(results)[0]}" in text
    teams = data["standings-teams.csv"].decode("utf-8-sig")
    assert f"1,red,{sum(sums(results)[:2])}," in teams


def test_pages_print_kilometres_and_sort_by_metres(race):
    event, results = race

    pages = dict(write_site(results, event, STAMP, {}))

    text = pages["index.html"].decode("utf-8")
    assert f'data-value="{sums(results)[0]}">{sums(results)[0] / 1000:.3f} km<' in text


def test_the_workbook_adds_results_up(race):
    event, results = race

    book = openpyxl.load_workbook(io.BytesIO(write_workbook(results, event, STAMP)))

    page = book["Standings"]
    assert [cell.value for cell in page[5]][3:7] == [
        "Task 1",
        "Competition penalty",
        "Result m",
        "Result m as published",
    ]
    assert page.cell(6, 6).value == "=SUM($D6:$D6)"
    assert page.cell(6, 7).value == sums(results)[0]
    assert page.cell(8, 7).value is None  # nothing keyed but a mark not found


def test_results_json_of_a_race_is_valid_by_the_schema(race):
    jsonschema = pytest.importorskip(
        "jsonschema", reason="nothing else checks a schema"
    )
    jsonschema.validate(document(race[1]), results_schema())


def test_no_sheet_of_a_race_without_points_has_columns_of_points(race):
    pypdf = pytest.importorskip("pypdf", reason="nothing else reads the PDFs back")
    event, results = race
    words = ("Points", "Score", "Task penalty", "Competition penalty")

    pages = dict(write_site(results, event, STAMP, {}))
    heads = {
        name: re.findall(
            r"<th [^>]*scope=\"col\"[^>]*>(.*?)</th>", data.decode("utf-8")
        )
        for name, data in pages.items()
        if name.endswith(".html") and name != "method.html"
    }
    book = openpyxl.load_workbook(io.BytesIO(write_workbook(results, event, STAMP)))
    paper = pypdf.PdfReader(
        io.BytesIO(board_setting(results, event, STAMP).pdf())
    ).pages
    task = next(
        p.extract_text() for p in paper if "flew, no result" in p.extract_text()
    )

    assert any(heads.values())
    for name, columns in heads.items():
        assert not set(columns) & set(words), name
    for page, row in ((book["Task 1"], 8), (book["Standings"], 5)):
        hidden = {
            cell.value
            for cell in page[row]
            if page.column_dimensions[cell.column_letter].hidden
        }
        shown = {cell.value for cell in page[row]} - hidden
        assert not shown & set(words), page.title
    assert not any(word in task for word in words)


def test_teams_of_a_race_are_read_in_kilometres(race):
    pypdf = pytest.importorskip("pypdf", reason="nothing else reads the PDFs back")
    event, results = race
    both = f"{sum(sums(results)[:2]) / 1000:.3f} km"

    pages = dict(write_site(results, event, STAMP, {}))
    paper = pypdf.PdfReader(
        io.BytesIO(board_setting(results, event, STAMP).pdf())
    ).pages

    assert both in pages["index.html"].decode("utf-8")
    assert any(both in page.extract_text() for page in paper)
    assert not any("None" in page.extract_text() for page in paper)


def said(results, table, sheet):
    columns = standing_columns(results, table)
    return [
        {column.title: column.said(row) for column in columns}
        for row in standing_rows(sheet, table)
    ]


def test_the_window_shows_results_added_up_and_teams_by_name(race):
    event, results = race
    sheet = Sheet(results=results, event=event, stamp=STAMP)
    first, second, none, _ = sums(results)

    alone = said(results, results.standings, sheet)
    assert alone[0]["Result"] == f"{first / 1000:.3f} km" == alone[0]["Task 1"]
    assert (none, alone[2]["Result"], alone[2]["Task 1"]) == (None, "no result", "–")
    columns = standing_columns(results)
    tip = next(c for c in columns if c.title == "Task 1").tip
    assert tip(standing_rows(sheet, results.standings)[2]).startswith("A dash: no res")
    teams = said(results, results.team_standings, sheet)
    assert teams[0]["Pilot"] == "red"
    assert teams[0]["Result"] == f"{(first + second) / 1000:.3f} km"


def test_a_team_without_a_result_gets_no_prize(race):
    pypdf = pytest.importorskip("pypdf", reason="nothing else reads the PDFs back")
    event, results = race
    blue = results.team_standings.rows[1]
    assert (blue.rank, blue.result) == (2, None)

    pages = pypdf.PdfReader(io.BytesIO(write_awards(results, event, STAMP))).pages
    text = "\n".join(page.extract_text() for page in pages)

    assert "Team Result\n1 red" in text
    assert "blue" not in text
