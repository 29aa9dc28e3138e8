"""Standings worksheets: each task's score looked up, each total a formula."""

from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from scorer.facts import fact, words
from scorer.scoring import told
from scorer.scoring.results import Standing, StandingsTable, TaskResult
from scorer.sheets.board import standings_title, task_head
from scorer.sheets.cells import SheetPage, set_print
from scorer.sheets.looks import (
    INK,
    MIDDLE,
    NOT_COUNTED,
    NOTE,
    NUMBER,
    STRONG,
    WRAP,
    Book,
)
from scorer.sheets.sheet import DASH, Sheet
from scorer.sheets.workbook_points import Where

HEAD, FIRST = 5, 6
FIRST_TASK_COL = 4
COUNTED = Font(strike=False, color=INK)


def add_standings(
    book: Book,
    sheet: Sheet,
    table: StandingsTable,
    title: str,
    where: dict[int, list[Where]],
) -> SheetPage:
    """Write the standings of the field or of one class."""
    page = SheetPage(book, sheet, title)
    tasks = [task for task in sheet.results.tasks if task.state == "flown"]
    writer = _Writer(page, sheet, table, tasks, where)
    page.title(standings_title(sheet, table))
    page.put(2, 1, f"{sheet.event_name} · {sheet.standings_headline}", font=STRONG)
    signs = f"{sheet.word('struck-out')} {told.legend_dash(sheet.voice, table)}"
    page.put(3, 1, f"{sheet.standings_published}. {signs}", font=NOTE)
    heads = [task_head(sheet, task) for task in tasks]
    total = f"{sheet.total_head(table)} {table.unit}".strip()
    published = sheet.say(fact("as-published", what=words(total)))
    tail = [sheet.word("head-competition-penalty"), total, published]
    first = [sheet.word(f"head-{name}") for name in ("rank", "number", "pilot")]
    page.head(HEAD, [*first, *heads, *tail], left={3})
    for row, standing in enumerate(table.rows, FIRST):
        writer.row(row, standing)
    page.widths(writer.widths)
    if table.by_result:  # no points come off a result
        letter = get_column_letter(writer.penalty_col)
        page.ws.column_dimensions[letter].hidden = True
    set_print(page, sheet, head_row=HEAD, columns=FIRST_TASK_COL + len(tasks) + 1)
    return page


class _Writer:
    def __init__(
        self,
        page: SheetPage,
        sheet: Sheet,
        table: StandingsTable,
        tasks: list[TaskResult],
        where: dict[int, list[Where]],
    ) -> None:
        self.page, self.sheet, self.table = page, sheet, table
        self.tasks, self.where = tasks, where
        self.widths = [7.0, 7.0, 34.0, *[10.0] * len(tasks), 10.0, 10.0, 12.0]
        self.penalty_col = FIRST_TASK_COL + len(tasks)
        self.best = "SMALL" if table.best == "smallest" else "LARGE"
        self.form = "0.00" if table.by_result else "0"
        self.last = max(FIRST, FIRST + len(table.rows) - 1)
        self.by_total = all(
            row.rank == 1 + sum(other.total > row.total for other in table.rows)
            for row in table.rows
        )
        """Ranks follow from the totals alone: no rule parts equal ones."""

    def row(self, row: int, standing: Standing) -> None:
        """Write one pilot's line."""
        page = self.page
        self._rank(row, standing)
        page.put(row, 2, standing.pilot, form="0")
        page.put(row, 3, self.sheet.name(standing.pilot)).alignment = WRAP
        for col, task in enumerate(self.tasks, FIRST_TASK_COL):
            self._task(row, col, task.task, standing)
        penalty = standing.event_penalty or None
        page.put(row, self.penalty_col, penalty, form="0")
        self._sum(row, standing)
        if len(counted := _counted(standing)) < len(self.table.values(standing)):
            self._strike(row, len(counted))
        for col in (1, 2):
            page.cell(row, col).alignment = MIDDLE
        page.line(row, self.penalty_col + 1, self.widths)

    def _sum(self, row: int, standing: Standing) -> None:
        """Write what the line comes to, live and as published."""
        value = self.table.value(standing)
        if value is not None:
            total = self._total(row, standing)
            self.page.live(row, self.penalty_col + 1, total, value, self.form)
            self.page.put(row, self.penalty_col + 2, value, form=self.form)

    def _rank(self, row: int, standing: Standing) -> None:
        totals = get_column_letter(self.penalty_col + 1)
        if not self.by_total:
            self.page.put(row, 1, standing.rank, form="0")
            return
        span = f"${totals}${FIRST}:${totals}${self.last}"
        self.page.live(row, 1, f"RANK({totals}{row},{span},0)", standing.rank, "0")

    def _task(self, row: int, col: int, task: int, standing: Standing) -> None:
        value = self.table.values(standing).get(task)
        if value is None:
            self.page.put(row, col, DASH).alignment = NUMBER
            return
        what = "result" if self.table.by_result else "score"
        formula = "+".join(_looked_up(there, row, what) for there in self.where[task])
        cell = self.page.live(row, col, formula, value, self.form)
        if task not in _counted(standing):
            cell.font = NOT_COUNTED

    def _total(self, row: int, standing: Standing) -> str:
        span, counted = self._cells(row), len(_counted(standing))
        if counted < len(self.table.values(standing)):
            order = ",".join(str(n) for n in range(1, counted + 1))
            span = f"{self.best}({span},{{{order}}})"
        whole = f"SUM({span})" if self.tasks else "0"
        if self.table.by_result:  # points do not come off a result
            return whole
        return f"{whole}-{get_column_letter(self.penalty_col)}{row}"

    def _cells(self, row: int) -> str:
        first, last = FIRST_TASK_COL, self.penalty_col - 1
        return f"${get_column_letter(first)}{row}:${get_column_letter(last)}{row}"

    def _strike(self, row: int, counted: int) -> None:
        """Strike out what is not among the best so many; of equal ones the later."""
        cells, first = self._cells(row), get_column_letter(FIRST_TASK_COL)
        sign = ">" if self.best == "LARGE" else "<"
        better = f'COUNTIF({cells},"{sign}"&{first}{row})'
        before = f"COUNTIF(${first}{row}:{first}{row},{first}{row})"
        for sign, look in (("<=", COUNTED), (">", NOT_COUNTED)):
            rule = FormulaRule([f"{better}+{before}{sign}{counted}"], font=look)
            self.page.ws.conditional_formatting.add(cells.replace("$", ""), rule)


def _looked_up(there: Where, row: int, what: str) -> str:
    pilots, values = (there.span(key, outside=True) for key in ("pilot", what))
    return f"SUMIF({pilots},$B{row},{values})"


def _counted(standing: Standing) -> set[int]:
    return set(standing.counted or standing.tasks)
