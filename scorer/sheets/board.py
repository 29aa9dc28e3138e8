"""The notice board: standings and task results, fit to be pinned up and signed."""

from collections.abc import Collection, Iterator
from functools import partial
from typing import Any

from scorer.event.model import Event
from scorer.facts import day, fact, flight, inner, task, words
from scorer.scoring import told
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import (
    Guest,
    Results,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.breakdown import remark
from scorer.sheets.parts import kept
from scorer.sheets.records import shown_teams
from scorer.sheets.sheet import Sheet, clean, task_order
from scorer.sheets.stamp import Stamp
from scorer.sheets.typeset import PrintWish, ReadySheet, around, code, column

UPRIGHT_POINTS, UPRIGHT_RESULTS = 8, 4
"""Standings of more tasks lie on their side."""
SIZES = ((12, 8.5, 1.2), (20, 7.5, 0.8), (99, 6.6, 0.55))
"""Up to so many tasks: size of text in points, room beside it in millimetres."""
Part = dict[str, Any]
Facts = tuple[tuple[str, str], ...]


def board_setting(
    results: Results,
    event: Event,
    stamp: Stamp,
    *,
    tasks: Collection[int] | None = None,
    standings: bool = True,
    parts: Collection[str] | None = None,
    wish: PrintWish | None = None,
    keep: Keep = NOTHING_KEPT,
) -> ReadySheet:
    """Return the notice board, ready to be set: standings, then each task's results.

    `tasks` picks task numbers (None: all), `parts` parts by the names that `board_parts`
    gives them (None: all).  Each part states event, state, version, times, rule book and
    hash, and has a line to sign; a code leads to the pages on the web where the stamp has
    their address.  `keep` has what was made of tasks before.
    """
    wish = wish or PrintWish()
    sheet = Sheet(
        results=results, event=event, stamp=stamp, language=wish.language, keep=keep
    )
    made = board_parts(sheet, tasks=tasks, standings=standings)
    every = dict(made)
    chosen = [own for name, own in every.items() if parts is None or name in parts]
    if chosen and len(chosen) < len(every):
        stay = [own["title"] for own in every.values() if own not in chosen]
        said = sheet.say(fact("sheets-stay", sheets=words("; ".join(stay))))
        chosen[0] = {**chosen[0], "notes": [*chosen[0]["notes"], said]}
    tree = around_board(sheet, wish) | {"parts": chosen}
    return ReadySheet("board", tree, stamp.moment)


def board_parts(
    sheet: Sheet, *, tasks: Collection[int] | None = None, standings: bool = True
) -> Iterator[tuple[str, Part]]:
    """Yield the parts of the board, each with its name: standings, then tasks."""
    if standings:
        for number, part in enumerate(_standings(sheet), 1):
            yield f"standings {number}", part
    for own in sheet.results.tasks:
        if tasks is None or own.task in tasks:
            for of in own.parts:
                yield f"task {own.task} {of.field}".strip(), _task_part(sheet, of)


def around_board(sheet: Sheet, wish: PrintWish) -> Part:
    """Return what stands on the board beside its parts."""
    stamp = sheet.stamp
    return around_results(sheet, wish, sheet.word("title-results")) | {
        "code": code(stamp.site_url, sheet.word("code-breakdowns")),
        "proof": proof_code(sheet),
        "sign": [sheet.word("sign-director"), sheet.word("sign-put-up")],
        "changes": [clean(change) for change in stamp.changes],
        "changes_title": sheet.word("title-changes"),
        "nothing": sheet.word("nothing-to-put-up"),
    }


def around_results(sheet: Sheet, wish: PrintWish, title: str) -> Part:
    """Return what stands around every page that shows results."""
    stamp = sheet.stamp
    hashed = fact("hash-in-short", hash=words(f"{stamp.short_hash}…"))
    return around(
        sheet.event,
        sheet.voice,
        wish,
        title,
        name=sheet.event_name,
        headline=title,
        published=sheet.published,
        hash=sheet.say(hashed),
        caution=sheet.word("caution"),
        author=[clean(stamp.by)] if stamp.by else [],
    )


def _part(sheet: Sheet, title: str, **own: Any) -> Part:
    known = {
        "title": title,
        "running": f"{title} · {sheet.standings_headline}",
        "facts": _plain_facts(sheet, sheet.facts),
        "proofs": sheet.proofs,
        "wide": False,
        "notes": [],
        "said": [],
        "columns": [],
        "rows": [],
        "size": 8.5,
        "inset": 1.2,
    }
    return known | own


def _plain_facts(sheet: Sheet, pairs: Facts) -> Facts:
    proofs = sheet.proofs
    return tuple(pair for pair in pairs if pair not in proofs)


def proof_code(sheet: Sheet) -> Part | None:
    """Return the square code of the head, by which `verify` finds what was cut off."""
    return code(sheet.stamp.head_code, sheet.word("code-head"))


def _standings(sheet: Sheet) -> Iterator[Part]:
    for table in (sheet.results.standings, *sheet.results.class_standings):
        yield _standings_part(sheet, table)
    for teams in shown_teams(sheet):
        widths = (None, 2, None, 5)
        columns = [
            column(own.title, width, "right" if own.decimals is not None else "left")
            for own, width in zip(teams.columns, widths, strict=True)
        ]
        rows = [[clean(value) for value in row] for row in teams.rows]
        yield _part(sheet, teams.title, columns=columns, rows=rows)


def _standings_part(sheet: Sheet, table: StandingsTable) -> Part:
    tasks = [t for t in sheet.results.tasks if t.state == "flown"]
    upright = UPRIGHT_RESULTS if table.by_result else UPRIGHT_POINTS
    size, inset = next((s, i) for most, s, i in SIZES if len(tasks) <= most)
    taken = any(row.event_penalty for row in table.rows)
    return _part(
        sheet,
        standings_title(sheet, table),
        wide=len(tasks) > upright,
        notes=list(standings_legend(sheet, table, tasks)),
        columns=_standings_columns(sheet, table, tasks, taken=taken),
        rows=[
            _standing_row(sheet, table, row, tasks, taken=taken) for row in table.rows
        ],
        size=size,
        inset=inset,
    )


def _standings_columns(
    sheet: Sheet, table: StandingsTable, tasks: list[TaskResult], *, taken: bool
) -> list[Part]:
    """Return the columns; that of competition penalties only where one was `taken`."""
    penalty = column(sheet.word("head-competition-short"), None, "right")
    return [
        column(sheet.word("head-rank"), None, "right", bold=True),
        column(sheet.word("head-number"), None, "right"),
        column(sheet.word("head-pilot"), 1),
        column(sheet.word("head-country")),
        *(column(_short_head(sheet, t, len(tasks)), None, "right") for t in tasks),
        *([penalty] if taken else []),
        column(sheet.total_head(table), None, "right", bold=True),
    ]


def _short_head(sheet: Sheet, own: TaskResult, among: int) -> str:
    """Return the heading of a task's column: its number alone where there are many."""
    return task_head(sheet, own) if among <= SIZES[0][0] else str(own.task)


def standings_legend(
    sheet: Sheet, table: StandingsTable, tasks: list[TaskResult]
) -> Iterator[str]:
    """Yield the words for what stands in the columns of standings."""
    titles = [
        fact(
            "task-in-short",
            task=task(t.task),
            kind=words(told.kind_title(sheet.voice, t.kind)),
        )
        for t in tasks
    ]
    if titles:
        yield " · ".join(map(sheet.say, titles))
    signs = [told.legend_dash(sheet.voice, table)]
    if _some_dropped(table):
        signs.append(sheet.word("brackets-do-not-count"))
    if any(row.event_penalty for row in table.rows):
        signs.append(sheet.word("legend-competition-penalty"))
    yield " ".join(signs)


def standings_title(sheet: Sheet, table: StandingsTable) -> str:
    """Return the title of the standings of the field or of a class."""
    if table is sheet.results.standings:
        return sheet.word("title-standings")
    return sheet.say(fact("title-standings-class", name=words(table.title)))


def task_head(sheet: Sheet, own: TaskResult) -> str:
    """Return the heading of a task's column of standings."""
    return sheet.say(fact("head-task-number", task=task(own.task)))


def _some_dropped(table: StandingsTable) -> bool:
    return any(row.counted and set(row.counted) < set(row.tasks) for row in table.rows)


def _standing_row(
    sheet: Sheet,
    table: StandingsTable,
    row: Standing,
    tasks: list[TaskResult],
    *,
    taken: bool,
) -> list[str]:
    pilot = sheet.pilot(row.pilot)
    return [
        str(row.rank),
        str(row.pilot),
        sheet.name(row.pilot),
        clean(pilot.country),
        *(sheet.cell(row, table, own) for own in tasks),
        *([told.minus(sheet.voice, row.event_penalty)] if taken else []),
        sheet.total(row, table),
    ]


def _task_part(sheet: Sheet, own: TaskResult) -> Part:
    title = sheet.task_title(own)
    stage = {
        "facts": _plain_facts(sheet, sheet.facts_of(own)),
        "running": f"{title} · {sheet.headline_of(own)}",
    }
    if own.state != "flown":
        said = [sheet.word(f"this-task-is-{own.state}")]
        return _part(sheet, title, said=said, **stage)
    table = kept(sheet, "on the board", own, partial(_task_table, sheet, own))
    return _part(sheet, title, **table, **stage)


def _task_table(sheet: Sheet, own: TaskResult) -> Part:
    ranges = any(told.place_range(score) for score in own.scores)
    notes = [formula_line(sheet, own)]
    if ranges:
        notes.append(sheet.word("places-mean"))
    return {
        "notes": notes,
        "columns": _task_columns(sheet, own, ranges=ranges),
        "rows": [
            *(_score_row(sheet, own, s, ranges=ranges) for s in task_order(own)),
            *(_guest_row(sheet, own, one, ranges=ranges) for one in own.guests),
        ],
    }


def formula_line(sheet: Sheet, own: TaskResult) -> str:
    """Say in a line which flight a task belongs to and what its points rest on."""
    return sheet.once("formula", own, lambda: _formula_line(sheet, own))


def _formula_line(sheet: Sheet, own: TaskResult) -> str:
    best = sheet.word(f"best-{own.best}")
    line = told.formula_line(sheet.voice, own)
    when = next(f.date for f in sheet.event.flights if f.id == own.flight)
    flown = fact("of-day", flight=flight(own.flight), day=day(when.isoformat()))
    about = fact(
        "formula-of-flight",
        flight=inner(flown),
        best=words(best),
        line=words(line),
    )
    return sheet.say(about)


def _task_columns(sheet: Sheet, own: TaskResult, *, ranges: bool) -> list[Part]:
    """Return the columns; those of points only where the task gives some."""
    points = [
        column(sheet.word("head-points"), None, "right"),
        column(sheet.word("head-penalty"), None, "right"),
        column(sheet.word("head-score"), None, "right", bold=True),
    ]
    return [
        column(sheet.word("head-rank"), None, "right", bold=True),
        column(sheet.word("head-number"), None, "right"),
        column(sheet.word("head-pilot"), 1),
        column(sheet.word("head-result"), None, "right", bold=not own.pointed),
        *(points if own.pointed else []),
        *([column(sheet.word("head-places"), None, "center")] if ranges else []),
        column(sheet.word("head-remarks"), 1.3),
    ]


def _score_row(
    sheet: Sheet, own: TaskResult, score: Score, *, ranges: bool
) -> list[str]:
    points = [
        str(score.formula_points),
        told.minus(sheet.voice, score.task_penalty),
        str(score.score),
    ]
    return [
        str(score.rank),
        str(score.pilot),
        sheet.name(score.pilot),
        sheet.result(score, own),
        *(points if own.pointed else []),
        *([told.place_range(score)] if ranges else []),
        remark(sheet, own, score),
    ]


def _guest_row(
    sheet: Sheet, own: TaskResult, guest: Guest, *, ranges: bool
) -> list[str]:
    """Return the line of a pilot out of competition: no rank and no points."""
    return [
        "",
        str(guest.pilot),
        sheet.name(guest.pilot),
        told.guest_result(sheet.voice, own, guest),
        *([""] * 3 if own.pointed else []),
        *([""] if ranges else []),
        sheet.word("out-of-competition"),
    ]
