"""The notice board: standings and task results, fit to be pinned up and signed."""

from collections.abc import Collection

import segno

from scorer.event.model import Event
from scorer.scoring.results import Results, Score, Standing, StandingsTable, TaskResult
from scorer.sheets.breakdown import remark
from scorer.sheets.paper import GREY, MM, Column, Paper, Row, draw_table
from scorer.sheets.sheet import DASH, Sheet, clean, task_order, task_title
from scorer.sheets.stamp import CAUTION, Stamp

QR_SIDE = 24 * MM
MANY_TASKS = 8


def write_board(
    results: Results,
    event: Event,
    stamp: Stamp,
    *,
    tasks: Collection[int] | None = None,
    standings: bool = True,
) -> bytes:
    """Return the notice-board sheets as a PDF: standings, then each task's results.

    `tasks` picks task numbers (None: all).  Each part states event, state, version,
    times, rule book and hash, and has a line to sign; a code leads to the pages on the
    web where the stamp has their address.
    """
    sheet = Sheet(results=results, event=event, stamp=stamp)
    paper = result_paper(sheet, "Results")
    for table in _standings(sheet) if standings else []:
        paper.new_page()
        _standings_part(paper, sheet, table)
    for task in results.tasks:
        if tasks is None or task.task in tasks:
            paper.new_page()
            _task_part(paper, sheet, task)
    if not paper.page:
        paper.new_page()
        paper.paragraph("Nothing to put up.")
    return paper.finished()


def result_paper(sheet: Sheet, title: str, *, wide: bool = False) -> Paper:
    """Return empty paper headed with what every sheet of results states."""
    stamp = sheet.stamp
    return Paper(
        title=f"{sheet.event_name}: {title}",
        head_left=sheet.event_name,
        head_right=f"{title} · {stamp.headline}",
        foot_left=sheet.published,
        foot_middle=f"SHA-256 {stamp.short_hash}…",
        moment=stamp.moment,
        key=f"{title} {stamp.results_sha256}",
        letter=sheet.letter,
        wide=wide,
        author=clean(stamp.by),
    )


def _standings(sheet: Sheet) -> list[StandingsTable]:
    return [sheet.results.standings, *sheet.results.class_standings]


def _opening(paper: Paper, sheet: Sheet, title: str) -> None:
    """Title, facts and the code that leads to the pages."""
    top = paper.y
    paper.heading(title, mark=True)
    paper.facts(sheet.facts)
    url = sheet.stamp.site_url
    if url:
        draw_qr(paper, url, paper.left + paper.room - QR_SIDE, top)
        paper.y = min(paper.y, top - QR_SIDE - 4 * MM)
    paper.skip(3 * MM)


def draw_qr(
    paper: Paper, url: str, x: float, top: float, below: str = "breakdowns"
) -> None:
    """Draw a QR code as vector squares, its top edge at `top`."""
    matrix = segno.make(url, error="m", micro=False).matrix
    cell = QR_SIDE / len(matrix)
    path = paper.canvas.beginPath()
    for row, line in enumerate(matrix):
        for col, dark in enumerate(line):
            if dark:
                path.rect(x + col * cell, top - (row + 1) * cell, cell, cell)
    paper.canvas.setFillColorRGB(0, 0, 0)
    paper.canvas.drawPath(path, stroke=0, fill=1)
    y = top - QR_SIDE - 3 * MM
    middle = x + QR_SIDE / 2
    paper.text(middle, y, below, size=6.5, colour=GREY, align="center")


def _standings_part(paper: Paper, sheet: Sheet, table: StandingsTable) -> None:
    title = clean(table.title)
    _opening(paper, sheet, f"Standings · {title}" if title else "Standings")
    tasks = [task for task in sheet.results.tasks if task.state == "flown"]
    shown = tasks if len(tasks) <= MANY_TASKS else []
    total, wide = ("Result", 14) if table.by == "result" else ("Total", 8)
    columns = [
        Column(title="Rank", share=7, align="center", bold=True),
        Column(title="No.", share=6, align="center"),
        Column(title="Pilot", share=38, wrap=True),
        Column(title="Country", share=10),
        *(
            Column(title=f"T{t.task} {t.kind}", share=wide, align="right")
            for t in shown
        ),
        Column(title="Event pen.", share=9, align="right"),
        Column(title=total, share=wide + 2, align="right", bold=True),
    ]
    rows = [_standing_row(sheet, table, row, shown) for row in table.rows]
    draw_table(paper, columns, rows)
    _closing(paper, sheet, brackets=_some_dropped(table))


def _some_dropped(table: StandingsTable) -> bool:
    return any(row.counted and set(row.counted) < set(row.tasks) for row in table.rows)


def _standing_row(
    sheet: Sheet, table: StandingsTable, row: Standing, tasks: list[TaskResult]
) -> Row:
    pilot = sheet.pilot(row.pilot)
    return Row(
        cells=(
            str(row.rank),
            str(row.pilot),
            sheet.name(row.pilot),
            clean(pilot.country),
            *(_task_cell(sheet, table, row, task) for task in tasks),
            f"−{row.event_penalty}" if row.event_penalty else "",
            sheet.total(row, table),
        )
    )


def _task_cell(
    sheet: Sheet, table: StandingsTable, row: Standing, task: TaskResult
) -> str:
    text = sheet.part(row, table, task)
    counted = not row.counted or task.task in row.counted
    return (text if counted else f"({text})") if text else DASH


def _task_part(paper: Paper, sheet: Sheet, task: TaskResult) -> None:
    _opening(paper, sheet, task_title(task))
    if task.state == "cancelled":
        paper.paragraph("This task is cancelled; it counts nothing.", bold=True)
    else:
        paper.paragraph(formula_line(sheet, task), size=8, colour=GREY)
        paper.skip(2 * MM)
        draw_table(
            paper,
            _task_columns(),
            [_score_row(sheet, task, s) for s in task_order(task)],
        )
    _closing(paper, sheet)


def formula_line(sheet: Sheet, task: TaskResult) -> str:
    """Print the symbols of a task's formula in a line."""
    f, flight = task.formula, clean(task.flight)
    symbols = (
        f"P {f.P} · A {f.A} · M {f.M} · W {sheet.amount(f.W, task)} · "
        f"RM {sheet.amount(f.RM, task)} · SM {f.SM}"
    )
    return f"Flight {flight} · {task.best} result is best · {symbols}"


def _task_columns() -> list[Column]:
    return [
        Column(title="Rank", share=6, align="center", bold=True),
        Column(title="No.", share=6, align="center"),
        Column(title="Pilot", share=30, wrap=True),
        Column(title="Group", share=7, align="center"),
        Column(title="Result", share=14, align="right"),
        Column(title="Points", share=9, align="right"),
        Column(title="Task pen.", share=8, align="right"),
        Column(title="Score", share=8, align="right", bold=True),
        Column(title="Remarks", share=28, wrap=True),
    ]


def _score_row(sheet: Sheet, task: TaskResult, score: Score) -> Row:
    return Row(
        cells=(
            str(score.rank),
            str(score.pilot),
            sheet.name(score.pilot),
            score.group.value,
            sheet.amount(score.result, task),
            str(score.formula_points),
            f"−{score.task_penalty}" if score.task_penalty else "",
            str(score.score),
            clean(remark(sheet, score)),
        )
    )


def _closing(paper: Paper, sheet: Sheet, *, brackets: bool = False) -> None:
    paper.skip(3 * MM)
    if brackets:
        paper.paragraph("Scores in brackets do not count.", size=7.5, colour=GREY)
    for change in sheet.stamp.changes:
        paper.paragraph(f"Changed: {clean(change)}", size=7.5, colour=GREY)
    paper.paragraph(CAUTION, size=7, colour=GREY)
    paper.signature("Competition director", "Place, date and time put up")
