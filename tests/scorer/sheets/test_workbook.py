"""The workbook recomputed by LibreOffice must give every number of the engine."""

import io
import re
import shutil
import subprocess
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from scorer.cli.target import load
from scorer.event.rulebook import PointsRule
from scorer.rounding import Exact, exact
from scorer.scoring.score import score as score_event
from scorer.sheets.stamp import Stamp
from scorer.sheets.workbook import write_workbook
from scorer.words.voice import Voice
from tests.scorer.sheets import meet

SOFFICE = shutil.which("soffice") or shutil.which("libreoffice")


@pytest.fixture(scope="module")
def workbook_bytes(results, event, stamp):
    return write_workbook(results, event, stamp)


@pytest.fixture(scope="module")
def written(workbook_bytes):
    return openpyxl.load_workbook(io.BytesIO(workbook_bytes))


@pytest.fixture(scope="module")
def cached(workbook_bytes):
    return openpyxl.load_workbook(io.BytesIO(workbook_bytes), data_only=True)


MEAN = PointsRule(ties="mean", no_result="zero", show_up=70)
PLACES = PointsRule(
    method="places", places=(25, 18, 15, 12, 10, 8, 6, 4, 2, 1), ties="mean", show_up=1
)
VARIANTS = {
    "mean": lambda: meet.under(MEAN),
    "places": lambda: meet.under(PLACES),
    "next": lambda: meet.under(PointsRule(no_result="next-place")),
    "last": lambda: meet.under(
        replace(PLACES, no_result="last-place", ties="shared-rank")
    ),
    "next of places": lambda: meet.under(replace(PLACES, no_result="next-place")),
    "classes": lambda: meet.under(PointsRule(by_class=True)),
    "none": lambda: meet.under(PointsRule(method="none")),
    "best of three": lambda: meet.best_of(meet.results(), 3),
}


SAMPLE, BEST = "vashkorim", 1


@pytest.fixture(scope="module")
def variants(event, stamp, changed):
    made = {
        name: write_workbook(make(), event, stamp) for name, make in VARIANTS.items()
    }
    sample = load(str(Path(__file__).parents[3] / "sample_events" / SAMPLE))
    scored = score_event(sample)
    plain = write_workbook(scored, sample, stamp)
    best = write_workbook(meet.best_of(scored, BEST), sample, stamp)
    both = {"changed": plain, "changed best": best}
    return {
        **made,
        SAMPLE: plain,
        **{name: retyped(data, changed) for name, data in both.items()},
    }


@pytest.fixture(scope="module")
def changed():
    """The sample's results once a mark of its second task was measured 40 m longer."""
    sample = load(str(Path(__file__).parents[3] / "sample_events" / SAMPLE))
    (first, second), number, pilot = sample.flights[:2], 2, 1
    keyings = tuple(
        replace(k, distance_m=Exact(exact(k.distance_m) + 40))
        if k.pilot == pilot
        else k
        for k in second.keyings
    )
    flights = (first, replace(second, keyings=keyings), *sample.flights[2:])
    return score_event(replace(sample, flights=flights)), number, pilot


def retyped(plain, changed):
    """The workbook in which somebody typed over one measured value."""
    results, number, pilot = changed
    book = openpyxl.load_workbook(io.BytesIO(plain))
    sheet = book[f"Task {number}"]
    at = heads(sheet, 8)
    row = next(r for r in sheet.iter_rows(min_row=9) if r[at["No."] - 1].value == pilot)
    task = next(task for task in results.tasks if task.task == number)
    before, score = row[at["Measured, m"] - 1].value, task.score_of(pilot)
    assert before == pytest.approx(score.measured - 40, abs=0.01)
    row[at["Measured, m"] - 1].value = float(score.measured)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.fixture(scope="module")
def anew(workbook_bytes, variants, tmp_path_factory):
    """All workbooks without their stored values, calculated anew by LibreOffice."""
    if SOFFICE is None:
        pytest.skip("LibreOffice is not installed: nothing recomputes the workbook")
    folder = tmp_path_factory.mktemp("soffice")
    sources = []
    for name, data in {"plain": workbook_bytes, **variants}.items():
        sources.append(folder / f"{name}.xlsx")
        openpyxl.load_workbook(io.BytesIO(data)).save(
            sources[-1]
        )  # drops stored values
    subprocess.run(
        [
            SOFFICE,
            f"-env:UserInstallation=file://{folder}/profile",
            "--headless",
            "--convert-to",
            "xlsx:Calc MS Excel 2007 XML",
            "--outdir",
            folder / "out",
            *sources,
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    out = folder / "out"
    return {
        path.stem: openpyxl.load_workbook(path, data_only=True)
        for path in out.iterdir()
    }


@pytest.fixture(scope="module")
def recomputed(anew):
    return anew["plain"]


def formulas(book):
    return [
        (sheet.title, cell.coordinate)
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]


def heads(sheet, row):
    return {cell.value: cell.column for cell in sheet[row] if cell.value}


def test_every_formula_recomputed_by_libreoffice_has_the_value_stored_beside_it(
    written, cached, recomputed
):
    assert len(formulas(written)) > 600
    assert differences(written, cached, recomputed) == {}


def differences(written, cached, recomputed):
    pairs = {
        (title, cell): (cached[title][cell].value, recomputed[title][cell].value)
        for title, cell in formulas(written)
    }
    return {
        where: pair for where, pair in pairs.items() if (pair[0] or 0) != (pair[1] or 0)
    }


@pytest.mark.parametrize("name", [*VARIANTS, SAMPLE])
def test_other_rules_recomputed_by_libreoffice_give_the_engines_points(
    name, variants, anew
):
    written = openpyxl.load_workbook(io.BytesIO(variants[name]))
    cached = openpyxl.load_workbook(io.BytesIO(variants[name]), data_only=True)
    assert differences(written, cached, anew[name]) == {}
    for sheet in (s for s in written if s.title.startswith("Task 1")):
        assert [
            anew[name][sheet.title][c.coordinate].value
            for c in sheet[6]
            if "SUMPRODUCT" in str(c.value)
        ] == [0]


def test_a_measured_value_typed_over_changes_result_ranks_points_and_totals(
    anew, changed
):
    """LibreOffice against the engine, which scored the event with the other mark."""
    results, number, _ = changed
    sheet, standings = anew["changed"][f"Task {number}"], anew["changed"]["Standings"]
    at, total = heads(sheet, 8), heads(standings, 5)
    task = next(task for task in results.tasks if task.task == number)
    for row in sheet.iter_rows(min_row=9, values_only=True):
        score = task.score_of(row[at["No."] - 1])
        result = row[at["Result, m"] - 1]
        assert result == (None if score.result is None else float(score.result))
        assert row[at["Rank"] - 1] == score.rank
        assert row[at["Points"] - 1] == score.formula_points
        assert row[at["Score"] - 1] == score.score
    totals = {
        row[total["No."] - 1]: (row[total["Rank"] - 1], row[total["Total"] - 1])
        for row in standings.iter_rows(min_row=6, values_only=True)
    }
    for standing in results.standings.rows:
        assert totals[standing.pilot] == (standing.rank, standing.total)


def test_another_score_may_be_among_the_best_once_a_value_was_typed_over(
    anew, variants, changed
):
    """The result typed over was its pilot's best; the one of the other task is now."""
    results, number, pilot = changed
    book = openpyxl.load_workbook(io.BytesIO(variants["changed best"]))["Standings"]
    total = heads(book, 5)
    totals = {
        row[total["No."] - 1]: row[total["Total"] - 1]
        for row in anew["changed best"]["Standings"].iter_rows(
            min_row=6, values_only=True
        )
    }
    rows = meet.best_of(results, BEST).standings.rows
    assert totals == {row.pilot: row.total for row in rows}
    (own,) = (row for row in rows if row.pilot == pilot)
    before = next(
        row for row in book.iter_rows(min_row=6) if row[total["No."] - 1].value == pilot
    )
    struck = {c.column - 3 for c in before if c.font.strike}
    assert struck & set(own.counted), "what counted before would prove nothing"
    assert number not in own.counted


def test_metres_added_by_hand_make_a_result_worse(written):
    sheet = written["Task 1"]
    at = heads(sheet, 8)
    formula = sheet.cell(10, at["Result, m"]).value
    measured, metres = (
        sheet.cell(10, at[name]).column_letter
        for name in ("Measured, m", "Metres added")
    )
    assert formula == f"=ROUND(ROUND(${measured}10+${metres}10,8),2)"
    greatest = written["Task 2"]
    column = next(n for name, n in heads(greatest, 8).items() if "Result" in name)
    assert not str(greatest.cell(10, column).value).startswith("=") or "-$" in str(
        greatest.cell(10, column).value
    )


def test_the_front_of_a_draft_says_so_and_names_no_version(event, results):
    data = write_workbook(results, event, Stamp(results_sha256="3f" * 32))
    front = openpyxl.load_workbook(io.BytesIO(data))["Front"]
    text = "\n".join(str(c.value) for row in front.iter_rows() for c in row if c.value)
    assert front["A2"].value.startswith("Draft")
    assert "Version 1" not in text
    assert "first publication" not in text


def test_each_class_that_is_scored_by_itself_has_its_own_worksheet(variants):
    written = openpyxl.load_workbook(io.BytesIO(variants["classes"]))
    assert {"Task 1 AX-8  big", "Task 1 light"} <= set(written.sheetnames)
    assert "Task 1" not in written.sheetnames


def test_scores_that_do_not_count_are_struck_out(variants):
    sheet = openpyxl.load_workbook(io.BytesIO(variants["best of three"]))["Standings"]
    struck = [cell for cell in sheet[6] if cell.font.strike]
    assert len(struck) == 2


def test_points_ranks_and_scores_recomputed_equal_the_engine(recomputed, results):
    for task in results.tasks:
        sheet = recomputed[f"Task {task.task}"]
        at = heads(sheet, 8)
        rows = {
            row[at["No."] - 1]: row
            for row in sheet.iter_rows(min_row=9, values_only=True)
        }
        for score in task.scores:
            row = rows[score.pilot]
            assert row[at["Rank"] - 1] == score.rank
            assert row[at["Points"] - 1] == score.formula_points
            assert row[at["Score"] - 1] == score.score


def test_symbols_recomputed_equal_the_engine(recomputed, results):
    for task in results.tasks[:5]:
        row = [cell.value for cell in recomputed[f"Task {task.task}"][6]][3:9]
        f = task.formula
        assert [v or None for v in row] == [
            v or None for v in (f.P, f.A, f.M, f.W, f.RM, f.SM)
        ]


def test_totals_recomputed_equal_the_engine(recomputed, results):
    sheet = recomputed["Standings"]
    at = heads(sheet, 5)
    rows = {
        row[at["No."] - 1]: row for row in sheet.iter_rows(min_row=6, values_only=True)
    }
    for standing in results.standings.rows:
        assert rows[standing.pilot][at["Total"] - 1] == standing.total
        assert rows[standing.pilot][at["Rank"] - 1] == standing.rank


def test_points_are_formulas_over_the_result_and_the_six_symbols(written):
    sheet = written["Task 1"]
    formula = sheet.cell(10, heads(sheet, 8)["Points"]).value

    assert formula.startswith("=")
    for symbol in ("$D$6", "$E$6", "$F$6", "$G$6", "$H$6", "$I$6", "$H10"):
        assert symbol in formula


def test_no_text_is_a_formula_and_names_survive(written):
    sheet = written["Pilots"]
    names = {row[0].value: row[1] for row in sheet.iter_rows(min_row=5)}
    for number, name in meet.NASTY.items():
        cell = names[number]
        assert cell.value == name
        assert cell.data_type == "s"
        assert bool(cell.quotePrefix) == name.startswith(tuple("=+-@"))


def test_every_worksheet_repeats_and_freezes_heads_and_fits_the_width(written, stamp):
    for sheet in written:
        assert sheet.print_title_rows
        assert sheet.page_setup.fitToWidth == 1
        assert "Meridian Vale && " in sheet.oddHeader.left.text
        assert "Provisional, version 3" in sheet.oddHeader.right.text
        assert stamp.short_hash in sheet.oddFooter.center.text
        if sheet.title != "Front":
            assert sheet.page_setup.fitToHeight == 0
            assert sheet.freeze_panes


def test_front_sheet_states_the_publication(written, stamp):
    text = "\n".join(str(c.value) for row in written["Front"].iter_rows() for c in row)
    for fact in (
        "Meridian Vale",
        "Provisional, version 3",
        "2026-09-12 12:05 CEST",
        "R. Keel",
        "2026-09-12 18:00 CEST",
        stamp.results_sha256,
        "Festival & <target> rules",
        "not for navigation",
        "Version 2: Task 2 added.",
    ):
        assert fact in text


def test_the_same_results_give_the_same_bytes(workbook_bytes, event, stamp):
    assert write_workbook(meet.results(), event, stamp) == workbook_bytes


def test_rows_of_a_worksheet_stand_once_each_from_the_top_down(workbook_bytes):
    """As spreadsheets write them: common practice, no source."""
    with zipfile.ZipFile(io.BytesIO(workbook_bytes)) as archive:
        pages = [n for n in archive.namelist() if n.startswith("xl/worksheets/sheet")]
        for name in pages:
            rows = re.findall(rb'<row r="(\d+)"', archive.read(name))
            numbers = list(map(int, rows))
            assert numbers
            assert numbers == sorted(set(numbers))


def test_zip_entries_carry_the_time_of_publication(workbook_bytes):
    with zipfile.ZipFile(io.BytesIO(workbook_bytes)) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {
            (2026, 9, 12, 10, 5, 0)
        }
        assert b"2026-09-12T10:05:00Z</dcterms:modified>" in archive.read(
            "docProps/core.xml"
        )


def test_imperial_events_print_feet_on_letter_paper(results, imperial_event, stamp):
    results = replace(results, voice=Voice.of(imperial_event))
    data = write_workbook(results, imperial_event, stamp)
    sheet = openpyxl.load_workbook(io.BytesIO(data), data_only=True)["Task 1"]
    best = results.tasks[0].scores[0]

    assert sheet.page_setup.paperSize == 1
    assert sheet.cell(9, heads(sheet, 8)["Result as read"]).value.endswith(" in")
    assert sheet.cell(9, heads(sheet, 8)["Result, m"]).value == best.result
