"""Models hold what they are given, sort by value, and pass Qt's own tester."""

from dataclasses import replace

import pytest
from pyproj.aoi import AreaOfInterest
from pyproj.database import query_utm_crs_info
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester

from gui.models import (
    fieldnotes,
    findings,
    journal,
    logs,
    marks,
    publications,
    results,
    roster,
    tasks,
)
from gui.models.table import ROW_ROLE, SORT_ROLE, TableColumn, TableModel, TableProxy
from gui.opening import proposed_crs
from gui.snapshot import flight_said
from scorer.event.finding import Verdict
from scorer.scoring.results import RulingState

FATAL = QAbstractItemModelTester.FailureReportingMode.Warning
"""A warning of Qt fails the test."""
PLAIN = (
    TableColumn("Number", lambda r: r[0]),
    TableColumn("Word", lambda r: r[1]),
)


@pytest.fixture
def filled(desk):
    """Every kind of rows that the pages show, made of the small event."""
    snapshot, scored = desk.session.snapshot, desk.session.results
    sheet = results.sheet_of(scored)
    task = snapshot.event.tasks[0]
    return {
        "marks": (marks.COLUMNS, marks.mark_rows(snapshot, task, "Merel")),
        "roster": (roster.COLUMNS, roster.pilot_rows(snapshot)),
        "logs": (logs.COLUMNS, logs.log_rows(snapshot, scored)),
        "tasks": (tasks.TASK_COLUMNS, tasks.task_rows(snapshot)),
        "places": (tasks.PLACE_COLUMNS, tasks.place_rows(snapshot)),
        "scores": (
            results.SCORE_COLUMNS,
            results.score_rows(sheet, scored.results.tasks[0]),
        ),
        "standings": (
            results.standing_columns(scored.results),
            results.standing_rows(sheet, scored.results.standings),
        ),
        "journal": (journal.COLUMNS, journal.entry_rows(snapshot, "Merel")),
        "notes": (fieldnotes.COLUMNS, fieldnotes.note_rows(snapshot)),
        "publications": (
            publications.PUBLICATION_COLUMNS,
            publications.publication_rows(snapshot),
        ),
    }


def test_all_models_pass_the_tester_of_qt_filled_sorted_and_emptied(qtbot, filled):
    for name, (columns, rows) in filled.items():
        model, proxy = TableModel(columns), TableProxy()
        proxy.setSourceModel(model)
        testers = [QAbstractItemModelTester(m, FATAL) for m in (model, proxy)]
        model.set_rows(rows)
        assert proxy.rowCount() == len(rows), name
        for column in range(len(columns)):
            proxy.sort(column, Qt.SortOrder.DescendingOrder)
        proxy.set_words("a")
        proxy.set_words("")
        model.set_rows(rows[::-1])
        model.set_rows([])
        assert proxy.rowCount() == 0
        del testers


def test_every_cell_of_every_model_says_something_or_nothing(filled):
    for columns, rows in filled.values():
        model = TableModel(columns)
        model.set_rows(rows)
        for i in range(len(rows)):
            for j in range(len(columns)):
                index = model.index(i, j)
                assert isinstance(index.data(), str)
                assert index.data(ROW_ROLE) is rows[i]
                index.data(Qt.ItemDataRole.ForegroundRole)
                index.data(Qt.ItemDataRole.ToolTipRole)


def test_sorting_goes_by_value_with_the_missing_last():
    model, proxy = TableModel(PLAIN), TableProxy()
    proxy.setSourceModel(model)
    model.set_rows([(10, "ten"), (9, "nine"), (None, "none"), (100, "hundred")])
    proxy.sort(0)
    assert [proxy.index(i, 1).data() for i in range(4)] == [
        "nine",
        "ten",
        "hundred",
        "none",
    ]


def test_all_words_of_a_search_must_stand_in_the_row():
    model, proxy = TableModel(PLAIN), TableProxy()
    proxy.setSourceModel(model)
    model.set_rows([(1, "Ek, Oisín"), (2, "Ek, Bo"), (12, "Oisín")])
    proxy.set_words("oisín ek")
    assert [proxy.index(i, 0).data(SORT_ROLE) for i in range(proxy.rowCount())] == [1]


def test_rows_with_the_same_keys_change_in_place(qtbot):
    model = TableModel(PLAIN, key=lambda r: r[0])
    model.set_rows([(1, "a"), (2, "b")])
    with qtbot.assertNotEmitted(model.modelReset), qtbot.waitSignal(model.dataChanged):
        model.set_rows([(1, "a"), (2, "changed")])
    assert model.index(1, 1).data() == "changed"


def test_findings_stand_in_the_order_of_their_weight(desk):
    rows = findings.finding_rows(desk.session.results)
    assert rows
    assert [r.group for r in rows] == sorted(r.group for r in rows)
    for group in findings.FindingGroup:
        own = [r.weight for r in rows if r.group is group]
        assert own == sorted(own)
    verdicts = [r.ruled.finding.verdict for r in rows if r.open]
    certain = [v is Verdict.CERTAIN for v in verdicts]
    assert certain == sorted(certain, reverse=True)


def test_infringements_on_which_nothing_changed_are_not_put_into_words_again(desk):
    scored = desk.session.results
    rows = findings.finding_rows(scored)
    again = findings.finding_rows(scored, before=rows)
    assert all(one is other for one, other in zip(rows, again, strict=True))
    ruled = scored.results.findings
    held = replace(ruled[0], state=RulingState.HOLD)
    other = replace(scored.results, findings=(held, *ruled[1:]))
    changed = findings.finding_rows(replace(scored, results=other), before=rows)
    fresh = [row for row in changed if row not in rows]
    assert any(held in row.each for row in fresh)
    assert changed == findings.finding_rows(replace(scored, results=other))


def test_results_shown_are_those_of_the_engine(desk, filled):
    shown = {r.pilot: r.score.score for r in filled["scores"][1]}
    engine = {s.pilot: s.score for s in desk.session.results.results.tasks[0].scores}
    assert shown == engine


@pytest.mark.parametrize(
    ("lat", "lon"),
    [
        ("48.6", "66.3"),
        ("48.6", "66"),
        ("0", "6"),
        ("-33", "151"),
        ("10", "180"),
        ("85", "3"),
    ],
)
def test_systems_are_proposed_as_the_dataset_of_proj_has_them(lat, lon):
    """Against a search of the whole EPSG dataset that comes with PROJ."""
    around = AreaOfInterest(float(lon), float(lat), float(lon), float(lat))
    known = query_utm_crs_info(datum_name="WGS 84", area_of_interest=around)
    assert {code for code, _ in proposed_crs(lat, lon)} == {
        f"EPSG:{info.code}" for info in known
    }


@pytest.mark.parametrize(
    ("name", "said"), [("1", "flight 1"), ("first-morning", "first morning")]
)
def test_a_flight_is_said_as_one_where_its_name_alone_is_a_number(name, said):
    assert flight_said(name) == said
