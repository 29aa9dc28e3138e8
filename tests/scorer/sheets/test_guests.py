"""Pilots out of competition: shown after those ranked, in no rank, on everything."""

import csv
import io

import pytest
from openpyxl import load_workbook

from scorer.scoring.analysis import Tracks
from scorer.scoring.score import score
from scorer.sheets.board import board_setting
from scorer.sheets.kinds import SHEET_KINDS, Material, made
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Stamp
from scorer.sheets.typeset import PrintWish
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight

PILOTS = "number,name,competes\n1,Ann,no\n2,Bob,\n3,Cid,\n4,Dot,no\n"
MARKS = """task,pilot,method,distance,by
1,1,tape,3 m,K
1,2,tape,5 m,K
1,3,tape,9 m,K
"""
STAMP = Stamp(results_sha256="0" * 64)


@pytest.fixture(scope="module")
def event():
    return tiny(tiny_flight(marks=MARKS), pilots=PILOTS)


@pytest.fixture(scope="module")
def results(event):
    return score(event)


@pytest.fixture(scope="module")
def files(event, results, tmp_path_factory):
    material = Material(
        event=event,
        results=results,
        stamp=STAMP,
        tracks=Tracks(event, results),
        room=tmp_path_factory.mktemp("room"),
    )
    wanted = (SHEET_KINDS[name] for name in ("site", "workbook"))
    return made(wanted, material)


@pytest.mark.parametrize(
    ("language", "mark"), [("en", "out of competition"), ("de", "außer Konkurrenz")]
)
def test_the_board_has_them_last_and_without_rank(event, results, language, mark):
    wish = PrintWish(language=language)
    tree = board_setting(results, event, STAMP, wish=wish).tree
    rows = tree["parts"][-1]["rows"]
    assert [row[:3] for row in rows] == [
        ["1", "2", "Bob"],
        ["2", "3", "Cid"],
        ["", "1", "Ann"],
        ["", "4", "Dot"],
    ]
    assert rows[2][3].startswith("3")
    assert [row[-1] for row in rows[2:]] == [mark, mark]
    assert {len(row) for row in rows} == {len(tree["parts"][-1]["columns"])}


def test_a_guest_gets_a_slip(event, results):
    tree = slips_setting(results, event, STAMP, {}, pilots=[1]).tree
    (own,) = tree["parts"]
    assert own["title"] == "1 · Ann"
    (task,) = own["tasks"]
    assert "3" in task["title"]
    assert task["title"].endswith("out of competition")


def test_pages_have_them(files):
    text = files["site/task-1.html"].decode()
    body = text.split("<tbody>")[1].split("</tbody>")[0]
    rows = body.split("<tr ")[1:]
    assert [row.split('"')[1] for row in rows] == ["2 Bob", "3 Cid", "1 Ann", "4 Dot"]
    assert "out of competition" in rows[2]
    assert rows[2].count("<td") == rows[0].count("<td")
    assert "out of competition" in files["site/pilot-1.html"].decode()
    assert "out of competition" not in files["site/pilot-2.html"].decode()


def test_standings_have_a_dash_where_a_pilot_was_not_entered(tmp_path):
    flights = [
        tiny_flight(
            f"f{number}",
            tasks=FIN.replace("number = 1", f"number = {number}"),
            marks=MARKS.replace("\n1,", f"\n{number},"),
            day=f"2026-06-0{number}",
        )
        for number in (1, 2)
    ]
    event = tiny(*flights, pilots="number,name,leaves\n1,Ann,\n2,Bob,\n3,Cid,2\n")
    results = score(event)
    tree = board_setting(results, event, STAMP).tree
    (row,) = [row for row in tree["parts"][0]["rows"] if row[2] == "Cid"]
    assert row[5] == "–"
    assert any("not entered in this task" in note for note in tree["parts"][0]["notes"])
    material = Material(
        event=event,
        results=results,
        stamp=STAMP,
        tracks=Tracks(event, results),
        room=tmp_path,
    )
    files = made((SHEET_KINDS["workbook"],), material)
    (data,) = [files[n] for n in files if n.endswith(".xlsx")]
    sheet = load_workbook(io.BytesIO(data))["Standings"]
    lines = {line[2].value: line for line in sheet.iter_rows()}
    assert lines["Cid"][4].value == "–"
    assert "not entered in this task" in sheet.cell(3, 1).value


def test_the_worksheet_has_them_below_what_its_formulas_count(files):
    (name,) = [n for n in files if n.endswith(".xlsx")]
    book = load_workbook(io.BytesIO(files[name]))
    (sheet,) = [s for s in book if any(c.value == "Ann" for c in s["C"])][:1]
    lines = {row[2].value: row for row in sheet.iter_rows() if row[2].value}
    assert lines["Ann"][0].value is None
    assert lines["Ann"][0].row > lines["Cid"][0].row
    assert "out of competition" in [cell.value for cell in lines["Ann"]]


def test_a_guest_stands_once_with_the_own_class():
    pilots = (
        "number,name,class,competes\n1,Ann,hot,no\n2,Bob,hot,\n3,Cid,gas,\n4,Dot,,no\n"
    )
    rules = RULES + "points.by_class = true\n"
    event = tiny(tiny_flight(marks=MARKS), pilots=pilots, rules=rules)
    parts = score(event).task(1).parts
    shown = {part.field: [guest.pilot for guest in part.guests] for part in parts}
    assert shown == {"gas": [4], "hot": [1]}


def test_data_have_them_after_those_ranked(files):
    text = files["site/data/scores.csv"].decode("utf-8-sig")
    rows = list(csv.DictReader(text.splitlines()))
    assert [row["pilot"] for row in rows] == ["2", "3", "1", "4"]
    assert [row["rank"] for row in rows] == ["1", "2", "", ""]
    assert [row["score"] for row in rows[2:]] == ["", ""]
    assert [row["flown"] for row in rows[2:]] == ["out of competition"] * 2
    assert rows[2]["result"] == "3.0"
    assert rows[3]["result"] == ""
    assert rows[3]["why"]
