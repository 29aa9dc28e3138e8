"""The award list: the prizes that the event declares.

Without any: places one to three of every task, class and of the whole event.
"""

from collections.abc import Iterator
from typing import Any

from scorer.event.model import Event
from scorer.facts import day, fact, words
from scorer.scoring.awarding import Given, given
from scorer.scoring.results import Results, StandingsTable, TaskResult
from scorer.sheets.board import around_results, standings_title
from scorer.sheets.sheet import Sheet, clean, task_order
from scorer.sheets.stamp import Stamp
from scorer.sheets.typeset import PrintWish, ReadySheet, column

PLACES = 3
Award = dict[str, Any]


def write_awards(
    results: Results, event: Event, stamp: Stamp, *, wish: PrintWish | None = None
) -> bytes:
    """Return the award list as a PDF."""
    return awards_setting(results, event, stamp, wish=wish).pdf()


def awards_setting(
    results: Results, event: Event, stamp: Stamp, *, wish: PrintWish | None = None
) -> ReadySheet:
    """Return the award list, ready to be set, equal places side by side.

    Who is placed but has no result in a task, or no point in standings, gets no award.
    """
    wish = wish or PrintWish()
    sheet = Sheet(results=results, event=event, stamp=stamp, language=wish.language)
    title = sheet.word("title-awards")
    tree = around_results(sheet, wish, title) | {
        "heading": title,
        "facts": [pair for pair in sheet.facts[:-1] if pair[0] != sheet.facts[0][0]],
        "awards": list(_awards(sheet)),
        "nothing": sheet.word("nothing-to-award"),
        "sign": [sheet.word("sign-director"), sheet.word("sign-awarded")],
        "parts": [{"running": f"{title} · {sheet.standings_headline}"}],
    }
    return ReadySheet("awards", tree, stamp.moment)


def _awards(sheet: Sheet) -> Iterator[Award]:
    results = sheet.results
    if sheet.event.awards:
        yield from (_declared(sheet, one) for one in given(sheet.event, results))
        return
    for table in (results.standings, *results.class_standings):
        yield _of_standings(sheet, table)
    if results.team_standings is not None:
        yield _of_teams(sheet, results.team_standings)
    for task in results.tasks:
        if task.state == "flown":
            yield from (_of_task(sheet, part) for part in task.parts)
            yield from () if task.fields else _of_classes(sheet, task)


def _declared(sheet: Sheet, one: Given) -> Award:
    """Return a declared prize with those who get it."""
    if one.table is not None and one.table.teams:
        teams = _of_teams(sheet, one.table, one.award.places)
        return {**teams, "title": clean(one.award.name)}
    scores = {} if one.task is None else {s.pilot: s for s in one.task.scores}
    lines = {} if one.table is None else {r.pilot: r for r in one.table.rows}
    rows = []
    for place, pilot in one.places:
        if one.task is not None:
            last = sheet.result(scores[pilot], one.task)
        elif one.table is not None:
            last = sheet.total(lines[pilot], one.table)
        else:
            last = sheet.voice.figure(one.totals[pilot])
        rows.append(_line(sheet, place, pilot, last))
    if one.table is not None:
        head = sheet.total_head(one.table)
    else:
        head = sheet.word("head-total" if one.task is None else "head-result")
    return _award(sheet, _title(sheet, one), head, rows)


def _title(sheet: Sheet, one: Given) -> str:
    """Return the name of a prize, with the day, task and class it is for."""
    parts = [one.award.name]
    if one.day is not None:
        parts.append(sheet.say(fact("award-of-day", day=day(one.day.isoformat()))))
    if one.task is not None:
        parts.append(sheet.task_title(one.task))
    told = one.task is not None and one.task.field  # the task's title names the class
    if one.award.class_name and not told:
        name = words(one.award.class_name)
        parts.append(sheet.say(fact("title-standings-class", name=name)))
    return " · ".join(map(clean, parts))


def _award(sheet: Sheet, title: str, last: str, rows: list[list[str]]) -> Award:
    columns = [
        column(sheet.word("head-place"), None, "right", bold=True),
        column(sheet.word("head-number"), None, "right"),
        column(sheet.word("head-pilot"), 1),
        column(sheet.word("head-country")),
        column(last, None, "right"),
    ]
    none = sheet.word("nobody-placed")
    return {"title": title, "columns": columns, "rows": rows, "none": none}


def _line(sheet: Sheet, place: int, pilot: int, last: str) -> list[str]:
    country = clean(sheet.pilot(pilot).country)
    return [str(place), str(pilot), sheet.name(pilot), country, last]


def _of_standings(sheet: Sheet, table: StandingsTable) -> Award:
    rows = [
        _line(sheet, row.rank, row.pilot, sheet.total(row, table))
        for row in table.rows
        if row.rank <= PLACES and table.earns(row)
    ]
    title = standings_title(sheet, table)
    return _award(sheet, title, sheet.total_head(table), rows)


def _of_teams(sheet: Sheet, table: StandingsTable, places: int = PLACES) -> Award:
    names = list(table.teams)
    rows = [
        [str(row.rank), clean(names[row.pilot - 1]), sheet.total(row, table)]
        for row in table.rows
        if row.rank <= places and table.earns(row)
    ]
    columns = [
        column(sheet.word("head-place"), None, "right", bold=True),
        column(sheet.word("head-team"), 1),
        column(sheet.total_head(table), None, "right"),
    ]
    title, none = sheet.word("title-standings-teams"), sheet.word("nobody-placed")
    return {"title": title, "columns": columns, "rows": rows, "none": none}


def _of_task(sheet: Sheet, task: TaskResult) -> Award:
    rows = [
        _line(sheet, score.rank, score.pilot, sheet.result(score, task))
        for score in task_order(task)
        if score.rank <= PLACES and score.result is not None
    ]
    return _award(sheet, sheet.task_title(task), sheet.word("head-result"), rows)


def _of_classes(sheet: Sheet, task: TaskResult) -> Iterator[Award]:
    """Yield the places of each class that has standings, ranked among itself."""
    for table in sheet.results.class_standings:
        among = {row.pilot for row in table.rows}
        own = [
            score
            for score in task_order(task)
            if score.pilot in among and score.result is not None
        ]
        places = [1 + sum(other.rank < score.rank for other in own) for score in own]
        rows = [
            _line(sheet, place, score.pilot, sheet.result(score, task))
            for place, score in zip(places, own, strict=True)
            if place <= PLACES
        ]
        both = fact(
            "task-in-class",
            task=words(sheet.task_title(task)),
            name=words(table.title),
        )
        yield _award(sheet, sheet.say(both), sheet.word("head-result"), rows)
