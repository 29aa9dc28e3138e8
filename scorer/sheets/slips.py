"""A slip for each pilot: what was measured, found and decided, and the sum."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from scorer.event.model import Event
from scorer.facts import fact, number, words
from scorer.scoring import told
from scorer.scoring.results import Results, RuledFinding, Standing, TaskResult
from scorer.sheets.board import around_results, formula_line, proof_code
from scorer.sheets.breakdown import (
    Breakdown,
    TaskPart,
    beside_lines,
    breakdowns,
    entry_line,
    finding_facts,
    finding_heading,
    in_headline,
    step_lines,
)
from scorer.sheets.drawn import Drawings, Wish, finding_wish, marks_wish
from scorer.sheets.flights import Tracks, keep_of
from scorer.sheets.pictures import Size
from scorer.sheets.sheet import Sheet, clean
from scorer.sheets.stamp import Stamp
from scorer.sheets.typeset import Paper, PrintWish, ReadySheet, code, picture
from scorer.sheets.unchanged import Contents, WentUp

PLOT = Size(width=125, height=62)
WHOLE_MM = {Paper.A4: 250.0, Paper.LETTER: 232.0}
"""Slips no higher than this, about, are kept whole: a page holds 263 mm and 245 mm."""
STATED = (
    "fact-event",
    "fact-state",
    "fact-published",
    "fact-complaints",
    "fact-times",
    "fact-rules",
)
"""What a slip says of its publication in a line."""
SHARING = 0.7
"""Slips that are a greater share of a page than this begin one."""
Part = dict[str, Any]


def slips_setting(
    results: Results,
    event: Event,
    stamp: Stamp,
    tracks: Tracks,
    *,
    pilots: Collection[int] | None = None,
    wish: PrintWish | None = None,
) -> ReadySheet:
    """Return the pilots' slips, ready to be set, in roster order; short ones share a sheet.

    `pilots` picks competition numbers (None: all entered).  A pilot without a track in
    `tracks` gets the slip without map and profile, and it says so.
    """
    wish = wish or PrintWish()
    sheet = Sheet(
        results=results,
        event=event,
        stamp=stamp,
        language=wish.language,
        keep=keep_of(tracks),
    )
    chosen = [
        own for no, own in breakdowns(sheet).items() if pilots is None or no in pilots
    ]
    drawings = Drawings(sheet, tracks, picture)
    lines = {
        (p.task, p.field): f"{_state_beside(sheet, p)}{formula_line(sheet, p)}"
        for task in results.tasks
        for p in task.parts
    }
    most_mm = WHOLE_MM[wish.paper_for(event)]
    tree = around_results(sheet, wish, sheet.word("title-slips")) | {
        "counts": "long",
        "proof": proof_code(sheet),
        "proof_text": _proof_text(sheet),
        "stated": _stated(sheet),
        "competition_title": sheet.word("title-competition-points"),
        "legend": sheet.word("picture-legend"),
        "nothing": sheet.word("no-slip"),
        "parts": [_slip(sheet, own, drawings, lines, most_mm) for own in chosen],
    }
    return ReadySheet("slips", tree, stamp.moment)


def slips_up(  # noqa: PLR0917 - what slips are made of, and those that are up
    results: Results,
    event: Event,
    stamp: Stamp,
    tracks: Tracks,
    wish: PrintWish,
    before: Mapping[str, WentUp],
    *,
    contents: Contents | None = None,
) -> dict[int, WentUp]:
    """Return of which version each pilot's slip is: the last that changed something."""
    sheet = Sheet(results=results, event=event, stamp=stamp, language=wish.language)
    contents, paper = contents or Contents(sheet, tracks), wish.paper_for(event)
    found = {}
    for pilot, own in breakdowns(sheet).items():
        content = contents.of(own, "slip", paper)
        up = before.get(str(pilot))
        if up is None or not content or up.content != content:
            up = WentUp(version=stamp.version, content=content)
        found[pilot] = up
    return found


def slip_wishes(parts: Iterable[TaskPart]) -> Iterator[Wish]:
    """Yield what a pilot's slip draws of some tasks."""
    for part in parts:
        if part.task.state != "cancelled":
            yield marks_wish(part, PLOT)
            yield from (finding_wish(ruled.finding) for ruled in part.findings)


def _state_beside(sheet: Sheet, task: TaskResult) -> str:
    """Say a task's own state where it is not the one that its slips begin with."""
    own = sheet.headline_of(task)
    return "" if own == sheet.standings_headline else f"{own} · "


def _stated(sheet: Sheet) -> str:
    """Say what the slip belongs to: state, time, complaints, rules."""
    wanted = {sheet.word(name) for name in STATED}
    return " · ".join(
        f"{label}: {value}" for label, value in sheet.facts if label in wanted
    )


def _proof_text(sheet: Sheet) -> str:
    """Say the head, as on the board; a draft has none."""
    if not sheet.stamp.head:
        return ""
    return f"{sheet.word('fact-head')}: {sheet.stamp.head}"


def _slip(
    sheet: Sheet,
    own: Breakdown,
    drawings: Drawings[Part | None],
    lines: Mapping[tuple[int, str], str],
    most_mm: float,
) -> Part:
    pilot, site = sheet.pilot(own.pilot), sheet.stamp.site_url
    more = (pilot.registration, pilot.class_name, pilot.country)
    tasks = [
        _task(sheet, part, drawings, lines[part.task.task, part.task.field])
        for part in own.parts
    ]
    tasks += [{**_EMPTY, "title": line} for line in beside_lines(sheet, own)]
    charges = [
        clean(told.charge_line(sheet.voice, charge)) for charge in own.event_charges
    ]
    tall = tall_mm(tasks, charges)
    page = f"{site.rstrip('/')}/pilot-{own.pilot}.html" if site else ""
    running = fact("title-slip", number=number(own.pilot))
    return {
        "title": f"{own.pilot} · {sheet.name(own.pilot)}",
        "running": f"{sheet.say(running)} · {sheet.pilot_headline}",
        "about": " · ".join(clean(text) for text in more if text),
        "sum": "" if own.standing is None else sum_line(sheet, own.standing),
        "code": code(page, sheet.word("code-this-page")),
        "tasks": tasks,
        "whole": tall <= most_mm,
        "alone": tall > SHARING * most_mm,
        "competition": charges,
    }


def tall_mm(tasks: list[Part], charges: list[str]) -> float:
    """Return about how high a slip is, rather too much: its lines counted by letters."""
    tall = 30.0 + (8.0 if charges else 0.0) + 3.2 * _lines(charges, 105)
    for own in tasks:
        pictured = own["picture"] is not None
        steps = _lines([*own["steps"], *own["penalties"]], 85 if pictured else 105)
        heads = 3.6 * _lines([own["title"]], 80) + 2.5 * _lines([own["line"]], 140)
        tall += 4.5 + heads + max(3.2 * steps, 19.5 if pictured else 0.0)
        for found in own["findings"]:
            tall += 45.0 + (50.0 if found["pictures"] else 0.0)
    return tall


def _lines(texts: list[str], letters: int) -> int:
    """Return how many lines of so many letters texts take."""
    return sum(1 + len(text) // letters for text in texts)


def sum_line(sheet: Sheet, standing: Standing) -> str:
    """Say how a total came about, and which place it takes."""
    table = sheet.results.standings
    return sheet.say(
        fact(
            "sum-and-place",
            sum=words(told.total_sum(sheet.voice, standing, table)),
            rank=number(standing.rank),
            field=number(len(table.rows)),
        )
    )


def _task(
    sheet: Sheet, part: TaskPart, drawings: Drawings[Part | None], line: str
) -> Part:
    if part.task.state == "cancelled":
        title = words(sheet.task_title(part.task))
        cancelled = sheet.say(fact("task-cancelled-title", title=title))
        return {**_EMPTY, "title": cancelled}
    return {
        "title": _heading(sheet, part),
        "line": line,
        "steps": list(_steps(sheet, part)),
        "penalties": list(_imposed(sheet, part)),
        "picture": drawings.marks(part, PLOT),
        "findings": [_finding(sheet, ruled, drawings) for ruled in part.findings],
    }


_EMPTY: Part = {
    "line": "",
    "steps": [],
    "penalties": [],
    "picture": None,
    "findings": [],
}


def _heading(sheet: Sheet, part: TaskPart) -> str:
    """Say result with its uncertainty, rank and score of a task in a line."""
    task, score = part.task, part.score
    result = sheet.result(score, task)
    spread = told.spread(sheet.voice, task, score.sigma)
    if spread and score.result is not None:
        result = f"{result} ± {spread}"
    return sheet.say(
        fact(
            "slip-task",
            title=words(sheet.task_title(task)),
            result=words(result),
            rank=number(score.rank),
            score=words(told.score_sum(sheet.voice, score)),
        )
    )


def _steps(sheet: Sheet, part: TaskPart) -> Iterator[str]:
    """Yield the steps to a score and the marks as entered, a line each."""
    if not part.score.settled:
        yield sheet.word("explain-not-settled")
    yield from step_lines(sheet, part)
    for mark in part.score.marks:
        if len(mark.keyings) > 1:  # a lone one is told by the first step
            yield from (entry_line(sheet, entered) for entered in mark.keyings)


def _imposed(sheet: Sheet, part: TaskPart) -> Iterator[str]:
    for charge in part.score.charges:
        if not charge.finding:
            line = words(told.charge_line(sheet.voice, charge))
            yield sheet.say(fact("penalty-line", penalty=line))


def _finding(
    sheet: Sheet, ruled: RuledFinding, drawings: Drawings[Part | None]
) -> Part:
    finding = ruled.finding
    shown = list(drawings.finding(finding))
    return {
        "headline": in_headline(ruled),
        "title": finding_heading(sheet, ruled),
        "seen": sheet.say(finding.says),
        "facts": finding_facts(sheet, ruled),
        "pictures": shown,
        "note": "" if shown else sheet.word("no-map"),
    }
