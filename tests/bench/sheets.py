"""How long the sheets of a large meet take, as ratios to the libraries beneath them.

Slips are compared with typst setting the same number of pages of plain text, the board
with typst setting a table of as many cells; the workbook with openpyxl writing as many
constants as it has cells.  "together" is how a publication makes board and slips.

Run: python tests/bench/sheets.py
"""

import io
import sys
import time
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import openpyxl
import pypdf
import typst

sys.path.insert(0, str(Path(__file__).parents[2]))

from scorer.event.finding import Verdict
from scorer.scoring.results import RuledFinding, RulingState
from scorer.sheets.board import board_setting
from scorer.sheets.kinds import SHEET_KINDS, Material, made
from scorer.sheets.site import write_site
from scorer.sheets.slips import slips_setting
from scorer.sheets.workbook import write_workbook
from tests.scorer.sheets import meet

PILOTS = 275
FIXES = 7200
LINES = 70


def large_meet():
    """275 pilots, five tasks, a finding and a two-hour track for each pilot."""
    results, event = meet.results(PILOTS), meet.event(PILOTS)
    findings = [
        meet.finding(n, Verdict.POSSIBLE, 0.6, 21.0) for n in range(1, PILOTS + 1)
    ]
    ruled = tuple(
        RuledFinding(
            finding=f,
            state=RulingState.UNRULED,
            ruling=None,
            charges=(meet.charge(f, RulingState.UNRULED),),
        )
        for f in findings
    )
    tracks = {
        (meet.MORNING, n): meet.flown(n, fixes=FIXES) for n in range(1, PILOTS + 1)
    }
    return replace(results, findings=ruled), event, tracks


def seconds(work):
    """Once, in seconds, and what came of it."""
    start = time.perf_counter()
    made = work()
    return time.perf_counter() - start, made


def plain_pages(count):
    """A document of plain text by typst."""
    text = "\n\n#pagebreak()\n\n".join(
        "\n\n".join(f"page {page}, line {line}: plain text" for line in range(LINES))
        for page in range(count)
    )
    typst.compile(f"#set text(size: 8pt)\n#set par(spacing: 2pt)\n{text}".encode())


def plain_table(results):
    """A table of numbers by typst, with as many cells as the board."""
    tasks = len(results.tasks)
    rows = sum(len(t.rows) for t in (results.standings, *results.class_standings))
    cells = rows * (tasks + 6) + sum(len(t.scores) for t in results.tasks) * 9
    typst.compile(
        f"#table(columns: 9, ..range({cells}).map(n => str(n * 7919)))".encode()
    )


def together(results, event, tracks):
    """Make board and slips as a publication does."""
    with TemporaryDirectory() as room:
        material = Material(
            event=event,
            results=results,
            stamp=meet.STAMP,
            tracks=tracks,
            room=Path(room),
        )
        return made([SHEET_KINDS["board"], SHEET_KINDS["slips"]], material)


def plain_cells(data):
    """A workbook with as many constants as the given one has cells."""
    source = openpyxl.load_workbook(io.BytesIO(data))
    book = openpyxl.Workbook()
    for sheet in source:
        target = book.create_sheet(sheet.title)
        for row in sheet.iter_rows():
            target.append([1 for _ in row])
    start = time.perf_counter()
    book.save(io.BytesIO())
    return time.perf_counter() - start


def main():
    """Print a table."""
    results, event, tracks = large_meet()
    slips_s, slips = seconds(
        lambda: slips_setting(results, event, meet.STAMP, tracks).pdf()
    )
    pages = len(pypdf.PdfReader(io.BytesIO(slips)).pages)
    plain_s, _ = seconds(lambda: plain_pages(pages))
    board_s, _ = seconds(lambda: board_setting(results, event, meet.STAMP).pdf())
    table_s, _ = seconds(lambda: plain_table(results))
    again = large_meet()
    both_s, _ = seconds(lambda: together(*again))
    book_s, book = seconds(lambda: write_workbook(results, event, meet.STAMP))
    cells_s = plain_cells(book)
    site_s, site = seconds(lambda: write_site(results, event, meet.STAMP, tracks))
    for text in (
        f"{PILOTS} slips, {pages} pages: {slips_s:.1f} s",
        f"  = {slips_s / plain_s:.1f} × plain text of as many pages",
        f"board: {board_s:.1f} s = {board_s / table_s:.1f} × a plain table",
        f"together: {both_s:.1f} s = {both_s / (slips_s + board_s):.2f} × one by one",
        f"workbook: {book_s:.1f} s = {book_s / cells_s:.1f} × plain cells",
        f"site: {site_s:.1f} s, {1000 * site_s / len(site):.0f} ms a file",
    ):
        print(text)  # noqa: T201


if __name__ == "__main__":
    main()
