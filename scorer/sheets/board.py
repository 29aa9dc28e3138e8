"""The notice board: standings and task results, fit to be pinned up and signed."""

from collections.abc import Collection

import segno

from scorer.event.model import Event
from scorer.facts import fact, flight, words
from scorer.facts import task as task_value
from scorer.scoring import told
from scorer.scoring.results import Results, Score, Standing, StandingsTable, TaskResult
from scorer.sheets.breakdown import remark
from scorer.sheets.paper import GREY, MM, Column, Paper, Row, draw_table
from scorer.sheets.sheet import DASH, Sheet, clean, task_order
from scorer.sheets.stamp import Stamp

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
    paper = result_paper(sheet, sheet.word("title-results"))
    for table in _standings(sheet) if standings else []:
        paper.new_page()
        _standings_part(paper, sheet, table)
    for task in results.tasks:
        if tasks is None or task.task in tasks:
            paper.new_page()
            _task_part(paper, sheet, task)
    if not paper.page:
        paper.new_page()
        paper.paragraph(sheet.word("nothing-to-put-up"))
    return paper.finished()


def result_paper(sheet: Sheet, title: str, *, wide: bool = False) -> Paper:
    """Return empty paper headed with what every sheet of results states."""
    stamp = sheet.stamp
    return Paper(
        title=f"{sheet.event_name}: {title}",
        head_left=sheet.event_name,
        head_right=f"{title} · {sheet.headline}",
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
        x = paper.left + paper.room - QR_SIDE
        draw_qr(paper, url, x, top, sheet.word("code-breakdowns"))
        paper.y = min(paper.y, top - QR_SIDE - 4 * MM)
    paper.skip(3 * MM)


def draw_qr(paper: Paper, url: str, x: float, top: float, below: str) -> None:
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
    _opening(paper, sheet, standings_title(sheet, table))
    tasks = [t for t in sheet.results.tasks if t.state == "flown"]
    shown = tasks if len(tasks) <= MANY_TASKS else []
    by_result = table.by == "result"
    wide, total = (14, "head-result") if by_result else (8, "head-total")
    columns = [
        Column(title=sheet.word("head-rank"), share=7, align="center", bold=True),
        Column(title=sheet.word("head-number"), share=6, align="center"),
        Column(title=sheet.word("head-pilot"), share=38, wrap=True),
        Column(title=sheet.word("head-country"), share=10),
        *(Column(title=task_head(sheet, t), share=wide, align="right") for t in shown),
        Column(title=sheet.word("head-competition-short"), share=9, align="right"),
        Column(title=sheet.word(total), share=wide + 2, align="right", bold=True),
    ]
    rows = [_standing_row(sheet, table, row, shown) for row in table.rows]
    draw_table(paper, columns, rows)
    _closing(paper, sheet, brackets=_some_dropped(table))


def standings_title(sheet: Sheet, table: StandingsTable) -> str:
    """Return the title of the standings of the field or of a class."""
    if table is sheet.results.standings:
        return sheet.word("title-standings")
    return sheet.say(fact("title-standings-class", name=words(table.title)))


def task_head(sheet: Sheet, own: TaskResult) -> str:
    """Return the heading of a task's column of standings."""
    return sheet.say(fact("head-task-number", task=task_value(own.task)))


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
    _opening(paper, sheet, sheet.task_title(task))
    if task.state == "cancelled":
        paper.paragraph(sheet.word("this-task-is-cancelled"), bold=True)
    else:
        paper.paragraph(formula_line(sheet, task), size=8, colour=GREY)
        paper.skip(2 * MM)
        draw_table(
            paper,
            _task_columns(sheet),
            [_score_row(sheet, task, s) for s in task_order(task)],
        )
    _closing(paper, sheet)


def formula_line(sheet: Sheet, own: TaskResult) -> str:
    """Say in a line which flight a task belongs to and what its points rest on."""
    best = sheet.word(f"best-{own.best}")
    line = told.formula_line(sheet.voice, own)
    about = fact(
        "formula-of-flight",
        flight=flight(own.flight),
        best=words(best),
        line=words(line),
    )
    return sheet.say(about)


def _task_columns(sheet: Sheet) -> list[Column]:
    return [
        Column(title=sheet.word("head-rank"), share=6, align="center", bold=True),
        Column(title=sheet.word("head-number"), share=6, align="center"),
        Column(title=sheet.word("head-pilot"), share=30, wrap=True),
        Column(title=sheet.word("head-result"), share=18, align="right"),
        Column(title=sheet.word("head-points"), share=9, align="right"),
        Column(title=sheet.word("head-penalty"), share=9, align="right"),
        Column(title=sheet.word("head-score"), share=8, align="right", bold=True),
        Column(title=sheet.word("head-remarks"), share=30, wrap=True),
    ]


def _score_row(sheet: Sheet, task: TaskResult, score: Score) -> Row:
    return Row(
        cells=(
            str(score.rank),
            str(score.pilot),
            sheet.name(score.pilot),
            sheet.result(score, task),
            str(score.formula_points),
            f"−{score.task_penalty}" if score.task_penalty else "",
            str(score.score),
            remark(sheet, task, score),
        )
    )


def _closing(paper: Paper, sheet: Sheet, *, brackets: bool = False) -> None:
    paper.skip(3 * MM)
    if brackets:
        paper.paragraph(sheet.word("brackets-do-not-count"), size=7.5, colour=GREY)
    for change in sheet.stamp.changes:
        changed = sheet.say(fact("changed", what=words(change)))
        paper.paragraph(changed, size=7.5, colour=GREY)
    paper.paragraph(sheet.word("caution"), size=7, colour=GREY)
    paper.signature(sheet.word("sign-director"), sheet.word("sign-put-up"))
