"""The points formulas of a task's worksheet, and where its cells stand.

The formulas are those of `scorer.scoring.points`, written in the language of
spreadsheets: the international one of the published model event rules, and a list of
points by place.
"""

from dataclasses import dataclass
from fractions import Fraction

from openpyxl.utils import get_column_letter

from scorer.event.rulebook import PointsRule
from scorer.rounding import exact, half_up
from scorer.scoring.results import Score, TaskResult
from scorer.sheets.records import SYMBOLS

SYMBOL_ROW, HEAD_ROW, FIRST, FIRST_SYMBOL_COL = 6, 8, 9, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """Where the parts of a task's worksheet stand."""

    title: str
    first: int
    last: int
    columns: dict[str, str]
    with_result: str
    """What stands in the cells of who has a result,"""
    without: str
    """and of who flew without one."""

    def span(self, key: str, *, outside: bool = False) -> str:
        """Return a column's cells as a fixed reference."""
        letter = self.columns[key]
        cells = f"${letter}${self.first}:${letter}${self.last}"
        return f"'{self.title}'!{cells}" if outside else cells

    def cell(self, key: str, row: int) -> str:
        """Return one cell, its column fixed."""
        return f"${self.columns[key]}{row}"

    def symbol(self, name: str) -> str:
        """Return the cell of a number that the points rest on."""
        index = [*SYMBOLS].index(name)
        return f"${get_column_letter(FIRST_SYMBOL_COL + index)}${SYMBOL_ROW}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacesTable:
    """Where the points of the places are listed, right of the task's table."""

    column: int
    """Of the ranks; their points stand right of them."""
    count: int

    @property
    def ranks(self) -> str:
        """The ranks."""
        return self._span(self.column)

    @property
    def points(self) -> str:
        """Their points."""
        return self._span(self.column + 1)

    def _span(self, column: int) -> str:
        letter = get_column_letter(column)
        return f"${letter}${FIRST}:${letter}${FIRST + self.count - 1}"


def half_up_in_sheet(expression: str) -> str:
    """Round to a whole number, half up, as the engine does in exact fractions.

    The inner rounding lifts a half that binary arithmetic left a hair too low; no value
    of the formulas comes that near a half without being one.
    """
    return f"ROUND(ROUND({expression},9),0)"


def rounded_result(where: Where, row: int, task: TaskResult) -> str:
    """Return the formula of a result: what was measured and the metres added, rounded.

    Metres make a result worse, so they come off where the greatest is best.
    """
    sign = "+" if task.best == "smallest" else "-"
    whole = f"{where.cell('measured', row)}{sign}{where.cell('metres', row)}"
    if task.step == Fraction(1, 10**task.decimals):
        return f"ROUND(ROUND({whole},{task.decimals + 6}),{task.decimals})"
    step = float(task.step)
    return f"ROUND({half_up_in_sheet(f'({whole})/{step!r}')}*{step!r},6)"


def follows(score: Score, task: TaskResult) -> bool:
    """Tell whether a result is just what its formula gives."""
    if score.result is None or score.measured is None:
        return False
    sign = 1 if task.best == "smallest" else -1
    whole = exact(score.measured) + sign * exact(score.metres_penalty)
    steps = Fraction(half_up(whole / task.step))
    return exact(score.result) == steps * task.step


def international(where: Where, row: int, rules: PointsRule) -> str:
    """Return the points formula of the published model event rules for one row."""
    p, a, m, w, rm, sm = (where.symbol(key) for key in SYMBOLS)
    rank, result = where.cell("rank", row), where.cell("result", row)
    by_result = half_up_in_sheet(f"1000-(1000-{sm})*({result}-{w})/({rm}-{w})")
    by_rank = half_up_in_sheet(f"1000*({p}+1-{rank})/{p}")
    if rules.ties == "mean":
        by_rank = _mean_of_places(where, row)
        by_result = f"IF({result}={rm},{by_rank},{by_result})"
    share = f"IF({a}=0,500,{half_up_in_sheet(f'1000*({p}+1-{a})/{p}/2')})"
    in_b = {
        "zero": "0",
        "next-place": half_up_in_sheet(f"1000*({p}-{a})/{p}"),
        "last-place": half_up_in_sheet(f"1000/{p}"),
    }.get(rules.no_result, share)
    in_a = f"IF({result}={w},1000,IF({rank}<{m},{by_result},{by_rank}))"
    return _by_group(where, row, (in_a, in_b), rules.show_up)


def _mean_of_places(where: Where, row: int) -> str:
    """Return the mean points of the places that equal results share.

    Those before the median have its points each, those from it on the mean of theirs.
    """
    p, m, sm = (where.symbol(key) for key in ("P", "M", "SM"))
    rank = where.cell("rank", row)
    shared = f"COUNTIF({where.span('rank')},{rank})"
    before = f"MAX(0,{m}-{rank})"
    middle = f"({rank}+{before}+({shared}-{before}-1)/2)"
    later = f"({shared}-{before})*1000*({p}+1-{middle})/{p}"
    return half_up_in_sheet(f"({before}*{sm}+{later})/{shared}")


def by_place(
    where: Where, row: int, rules: PointsRule, places: PlacesTable | None
) -> str:
    """Return the points formula of a list of points by place for one row."""
    if places is None:
        return "0"
    rank = where.cell("rank", row)
    shared = f"COUNTIF({where.span('rank')},{rank})" if rules.ties == "mean" else "1"
    chosen = f"({places.ranks}>={rank})*({places.ranks}<={rank}+{shared}-1)"
    in_a = half_up_in_sheet(f"SUMPRODUCT({chosen}*{places.points})/{shared}")
    place = {
        "next-place": f"{where.symbol('A')}+1",
        "last-place": where.symbol("P"),
    }.get(rules.no_result, "0")
    in_b = f"SUMIF({places.ranks},{place},{places.points})"
    return _by_group(where, row, (in_a, in_b), rules.show_up)


def _by_group(where: Where, row: int, of_both: tuple[str, str], show_up: int) -> str:
    group = where.cell("group", row)
    in_a, in_b = (f"MAX({show_up},{own})" if show_up else own for own in of_both)
    without = f'IF({group}="{where.without}",{in_b},0)'
    return f'IF({group}="{where.with_result}",{in_a},{without})'
