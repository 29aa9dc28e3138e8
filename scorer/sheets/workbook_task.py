"""One task's worksheet: results as keyed, points as formulas that anyone can recompute."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import PatternFill
from openpyxl.utils import get_column_letter

from scorer.event.model import TaskState
from scorer.facts import fact, words
from scorer.scoring import told
from scorer.scoring.results import Guest, Score, TaskResult
from scorer.sheets.board import formula_line
from scorer.sheets.breakdown import remark
from scorer.sheets.cells import SheetPage, number_format, set_print
from scorer.sheets.looks import MIDDLE, NOTE, NUMBER, STRONG, WRAP, Book
from scorer.sheets.parts import key_of_part
from scorer.sheets.records import SYMBOLS, unit
from scorer.sheets.sheet import Sheet, task_order
from scorer.sheets.workbook_points import (
    FIRST,
    FIRST_SYMBOL_COL,
    HEAD_ROW,
    SYMBOL_ROW,
    PlacesTable,
    Where,
    by_place,
    follows,
    half_up_in_sheet,
    international,
    rounded_result,
)

ALIGNED = {
    **dict.fromkeys(("rank", "pilot", "group", "places"), MIDDLE),
    "name": WRAP,
    "remark": WRAP,
}
OF_POINTS = ("points", "task_penalty", "score", "event_penalty", "published")
"""Columns that say nothing where a task gives no points."""
RED = PatternFill("solid", bgColor="F4B8A8")


COLUMNS = (
    ("rank", "rank", 7),
    ("pilot", "number", 7),
    ("name", "pilot", 30),
    ("group", "group", 14),
    ("measured", "measured-in", 12),
    ("sigma", "sigma", 10),
    ("metres", "metres-penalty", 10),
    ("result", "result-in", 12),
    ("read", "result-as-read", 15),
    ("points", "points", 10),
    ("task_penalty", "task-penalty", 10),
    ("score", "score", 9),
    ("event_penalty", "competition-penalty", 12),
    ("places", "places", 9),
    ("remark", "remarks", 34),
    ("published", "published", 11),
)
"""Key, message `head-…` and width in characters of each column."""
SLIM = 0.9
"""Letters of words beside the digits in which widths are counted."""


def _keys(sheet: Sheet, task: TaskResult) -> list[tuple[str, str, float]]:
    """Return key, heading and width of each column."""
    imperial = sheet.letter and task.unit == "m"
    in_unit = words(unit(task.unit))
    groups = [len(sheet.voice.term(f"group-{one}")) for one in "abc"]
    least = {"group": SLIM * max(groups)}
    return [
        (
            key,
            sheet.say(fact(f"head-{head}", unit=in_unit)),
            max(width, least.get(key, 0)),
        )
        for key, head, width in COLUMNS
        if imperial or key != "read"
    ]


def add_task(
    book: Book, sheet: Sheet, task: TaskResult, title: str
) -> tuple[SheetPage, Where]:
    """Write a task's worksheet; return it and where its columns stand."""
    page = SheetPage(book, sheet, title)
    keys = _keys(sheet, task)
    letters = {key: get_column_letter(n) for n, (key, _, _) in enumerate(keys, 1)}
    rows = task_order(task)
    where = Where(
        title=page.ws.title,
        first=FIRST,
        last=max(FIRST, FIRST + len(rows) - 1),
        columns=letters,
        with_result=sheet.voice.term("group-a"),
        without=sheet.voice.term("group-b"),
    )
    _titles(page, sheet, task)
    places = _places_beside(task, len(keys) + 2)
    page.widths([width for _, _, width in keys])
    if not task.pointed:
        for key in OF_POINTS:
            page.ws.column_dimensions[letters[key]].hidden = True
    maker = Rows(
        page=page, sheet=sheet, task=task, where=where, places=places, keys=keys
    )
    if task.state == TaskState.FLOWN:
        maker.symbols()
    page.fill(key_of_part(sheet, "worksheet", task), maker.table)
    set_print(page, sheet, head_row=HEAD_ROW, columns=len(keys) - 1)
    return page, where


def _places_beside(task: TaskResult, column: int) -> PlacesTable | None:
    listed = task.points.places
    if task.formula.method != "places" or not listed:
        return None
    return PlacesTable(column=column, count=len(listed))


def _titles(page: SheetPage, sheet: Sheet, task: TaskResult) -> None:
    page.title(sheet.task_title(task))
    about = formula_line(sheet, task)
    if task.state != "flown":
        about = sheet.word(f"this-task-is-{task.state}")
    page.put(2, 1, f"{sheet.event_name} · {about}", font=STRONG)
    stage = f"{sheet.headline_of(task)} · {sheet.published_of(task)}"
    page.put(3, 1, stage, font=NOTE)
    page.put(4, 1, sheet.word("blue-cells"), font=NOTE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Writes the symbols and rows of one task."""

    page: SheetPage
    sheet: Sheet
    task: TaskResult
    where: Where
    places: PlacesTable | None
    keys: list[tuple[str, str, float]]
    """Key, heading and width of each column."""

    @property
    def _widths(self) -> list[float]:
        return [width for _, _, width in self.keys]

    @property
    def _result_form(self) -> str:
        return number_format(self.task.decimals)

    def table(self) -> None:
        """Write the head of the table, its rows and the points of places beside it."""
        left = [n for n, own in enumerate(self.keys, 1) if ALIGNED.get(own[0]) is WRAP]
        self.page.head(HEAD_ROW, [title for _, title, _ in self.keys], left=left)
        if self.places is not None:
            self._points_of_places(self.places.column)
        if self.task.state == TaskState.FLOWN:
            for row, score in enumerate(task_order(self.task), FIRST):
                self.row(row, score)
            for row, guest in enumerate(self.task.guests, self.where.last + 1):
                self.guest(row, guest)

    def _points_of_places(self, column: int) -> None:
        self.page.put(HEAD_ROW, column, self.sheet.word("head-place"), font=STRONG)
        title = self.sheet.word("head-points")
        self.page.put(HEAD_ROW, column + 1, title, font=STRONG)
        for place, points in enumerate(self.task.points.places, 1):
            self.page.put(HEAD_ROW + place, column, place, form="0")
            self.page.put(HEAD_ROW + place, column + 1, points, form="0")

    def symbols(self) -> None:
        """Write what the points rest on: pilots as entered, the others as formulas."""
        f, col = self.task.formula, FIRST_SYMBOL_COL
        for offset, key in enumerate(SYMBOLS.values()):
            title = self.sheet.word(f"head-{key.replace('_', '-')}")
            self.page.put(SYMBOL_ROW - 1, col + offset, title, font=STRONG)
            self.page.cell(SYMBOL_ROW - 1, col + offset).alignment = WRAP
        self.page.put(SYMBOL_ROW, col, f.P, font=STRONG, form="0")
        live = self._symbol_formulas()
        values = {"A": f.A, "M": f.M, "W": f.W, "RM": f.RM, "SM": f.SM}
        for offset, name in enumerate([*SYMBOLS][1:], 1):
            form = self._result_form if name in {"W", "RM"} else "0"
            self.page.live(SYMBOL_ROW, col + offset, live[name], values[name], form)
        self.page.high(SYMBOL_ROW - 1, 26)
        self._check(col + len(SYMBOLS) + 1)

    def _symbol_formulas(self) -> dict[str, str]:
        p, a, m = (self.where.symbol(name) for name in "PAM")
        results = self.where.span("result")
        best, nth = (
            ("MIN", "SMALL") if self.task.best == "smallest" else ("MAX", "LARGE")
        )
        return {
            "A": f'COUNTIF({self.where.span("group")},"{self.where.with_result}")',
            "M": f"MIN({a},ROUNDUP({p}/2,0))",
            "W": f'IF({a}=0,"",{best}({results}))',
            "RM": f'IF({a}=0,"",{nth}({results},{m}))',
            "SM": f"IF({a}=0,0,{half_up_in_sheet(f'1000*({p}+1-{m})/{p}')})",
        }

    def _check(self, col: int) -> None:
        differ = self.sheet.word("scores-that-differ")
        self.page.put(SYMBOL_ROW - 1, col, differ, font=STRONG)
        self.page.cell(SYMBOL_ROW - 1, col).alignment = WRAP
        ours, theirs = self.where.span("score"), self.where.span("published")
        self.page.live(SYMBOL_ROW, col, f"SUMPRODUCT(--({ours}<>{theirs}))", 0, "0")
        column = self.where.columns["published"]
        self.page.ws.conditional_formatting.add(
            f"{column}{self.where.first}:{column}{self.where.last}",
            FormulaRule(
                formula=[f"{column}{FIRST}<>{self.where.columns['score']}{FIRST}"],
                fill=RED,
            ),
        )

    def row(self, row: int, score: Score) -> None:
        """Write one pilot's row."""
        columns, entered = self.where.columns, self._entered(score)
        for col, key in enumerate(columns, 1):
            if key == "result" and follows(score, self.task):
                formula = rounded_result(self.where, row, self.task)
                value, form = entered[key]
                self.page.live(row, col, formula, value, form)
            elif key in self._live:
                formula, value = self._live[key](self, row), _value(score, key)
                self.page.live(row, col, formula, value, "0")
            else:
                value, form = entered[key]
                self.page.put(row, col, value, form=form)
            self.page.cell(row, col).alignment = ALIGNED.get(key, NUMBER)
        self.page.line(row, len(columns) - 1, self._widths)

    def guest(self, row: int, guest: Guest) -> None:
        """Write who flew out of competition, below what the formulas count."""
        own = {
            "pilot": guest.pilot,
            "name": self.sheet.name(guest.pilot),
            "result": guest.result,
            "remark": self.sheet.word("out-of-competition"),
        }
        if guest.result is None:
            own["group"] = told.guest_result(self.sheet.voice, self.task, guest)
        forms = {"pilot": "0", "result": self._result_form}
        for col, key in enumerate(self.where.columns, 1):
            self.page.put(row, col, own.get(key), form=forms.get(key, ""))
            self.page.cell(row, col).alignment = ALIGNED.get(key, NUMBER)
        self.page.line(row, len(self.where.columns) - 1, self._widths)

    def _entered(self, score: Score) -> dict[str, tuple[Any, str]]:
        metres = score.metres_penalty or None
        return {
            "rank": (score.rank, "0"),
            "pilot": (score.pilot, "0"),
            "name": (self.sheet.name(score.pilot), ""),
            "group": (told.group(self.sheet.voice, score), ""),
            "measured": (score.measured, "0.000"),
            "sigma": (score.sigma, "0.000"),
            "metres": (metres, "0.00"),
            "result": (score.result, self._result_form),
            "read": (told.result(self.sheet.voice, self.task, score), ""),
            "points": (score.formula_points, "0"),
            "task_penalty": (score.task_penalty or None, "0"),
            "event_penalty": (score.event_penalty or None, "0"),
            "published": (score.score, "0"),
            "places": (told.places(score), ""),
            "remark": (remark(self.sheet, self.task, score), ""),
        }

    def _rank(self, row: int) -> str:
        order = 1 if self.task.best == "smallest" else 0
        cell = {key: f"${letter}{row}" for key, letter in self.where.columns.items()}
        a, groups = self.where.symbol("A"), self.where.span("group")
        own, without = self.where.with_result, self.where.without
        return (
            f'IF({cell["group"]}="{own}",'
            f"RANK({cell['result']},{self.where.span('result')},{order}),"
            f'IF({cell["group"]}="{without}",{a}+1,{a}+COUNTIF({groups},"{without}")+1))'
        )

    def _points(self, row: int) -> str:
        rules = self.task.points
        if self.task.formula.method == "places":
            return by_place(self.where, row, rules, self.places)
        return international(self.where, row, rules)

    def _score(self, row: int) -> str:
        c = self.where.columns
        return f"MAX(0,{c['points']}{row}-{c['task_penalty']}{row})"

    @property
    def _live(self) -> dict[str, Callable[["Rows", int], str]]:
        live: dict[str, Callable[[Rows, int], str]]
        live = {"score": Rows._score}
        if self.task.points.parted_by == "nothing":
            live["rank"] = Rows._rank
        if self.task.formula.method in {"international", "places"}:
            live["points"] = Rows._points
        return live


def _value(score: Score, key: str) -> float:
    return {
        "rank": score.rank,
        "points": score.formula_points,
        "score": score.score,
    }[key]
