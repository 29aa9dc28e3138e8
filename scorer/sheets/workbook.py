"""The workbook: every number of a publication, with the formulas that made the points."""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from scorer.event.model import Event
from scorer.facts import count, fact, number, words
from scorer.facts import task as task_value
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import Results
from scorer.sheets import records
from scorer.sheets.cells import SheetPage, number_format, set_print, width_of
from scorer.sheets.looks import MIDDLE, NOTE, STRONG, WRAP, Book
from scorer.sheets.method import (
    formula_words,
    method_rules,
    method_title,
    methods_used,
    order_of_work,
)
from scorer.sheets.pack import packed
from scorer.sheets.records import SheetTable, Value
from scorer.sheets.sheet import Sheet, clean
from scorer.sheets.stamp import Stamp
from scorer.sheets.workbook_points import Where
from scorer.sheets.workbook_standings import add_standings
from scorer.sheets.workbook_task import add_task
from scorer.words.catalogue import ENGLISH

LIST_HEAD = 4
TOGETHER = 200
"""Rows of a list that are kept together: one that changed takes no more with it."""
METHOD_WIDTHS = (46, 46, 60)
_SHEET_TITLE = 31
_FORBIDDEN = str.maketrans(dict.fromkeys("[]:*?/\\'", " "))


def write_workbook(
    results: Results, event: Event, stamp: Stamp, language: str = ENGLISH
) -> bytes:
    """Return the XLSX workbook of a publication, made at once."""
    return workbook_setting(results, event, stamp, language)()


def workbook_setting(
    results: Results,
    event: Event,
    stamp: Stamp,
    language: str = ENGLISH,
    *,
    standings: bool = True,
    keep: Keep = NOTHING_KEPT,
) -> Callable[[], bytes]:
    """Return what packs the workbook of a publication; of some tasks, without standings.

    Points, ranks, scores and totals are formulas over the results and the numbers that the
    points of each task rest on.  The same arguments give the same bytes; `keep` has rows
    that were written before.
    """
    sheet = Sheet(
        results=results, event=event, stamp=stamp, language=language, keep=keep
    )
    book = Book()
    front = SheetPage(book, sheet, sheet.word("page-front"))
    book.remove(book.active)
    tasks, where = _tasks(book, sheet)
    summed = _standings(book, sheet, where) if standings else []
    for place, page in enumerate(summed, 1):
        book.move_sheet(page.ws, place - book.index(page.ws))
    teams = records.team_tables(sheet) if standings else ()
    lists = [_list(book, sheet, table) for table in (*teams, *_listed(sheet))]
    pages = [front, *tasks, *summed, *lists, _method(book, sheet)]
    _front(front, book, sheet)
    _properties(book, sheet)
    written = {page.ws.title: page.bodies for page in pages}
    return partial(packed, book, stamp.moment, written)


def _tasks(book: Book, sheet: Sheet) -> tuple[list[SheetPage], dict[int, list[Where]]]:
    """Write each task's worksheet, or one for each class that is scored by itself."""
    pages, where = [], defaultdict(list)
    for part in (part for task in sheet.results.tasks for part in task.parts):
        own = sheet.say(fact("page-task", task=task_value(part.task)))
        title = _free(book, f"{own} {part.field}")
        page, there = add_task(book, sheet, part, title)
        pages.append(page)
        where[part.task].append(there)
    return pages, where


def _standings(
    book: Book, sheet: Sheet, where: dict[int, list[Where]]
) -> list[SheetPage]:
    overall = add_standings(
        book, sheet, sheet.results.standings, sheet.word("page-standings"), where=where
    )
    others = [
        add_standings(book, sheet, table, _free(book, title), where=where)
        for table in sheet.results.class_standings
        for title in (sheet.say(fact("page-class", name=words(table.title))),)
    ]
    return [overall, *others]


def _free(book: Book, wanted: str) -> str:
    """Return a worksheet title that spreadsheets allow and no other sheet has."""
    plain = clean(wanted).translate(_FORBIDDEN).strip()[:_SHEET_TITLE] or "Sheet"
    taken = {title.casefold() for title in book.sheetnames}
    title, more = plain, 2
    while title.casefold() in taken:
        tail = f" {more}"
        title = plain[: _SHEET_TITLE - len(tail)] + tail
        more += 1
    return title


def _listed(sheet: Sheet) -> tuple[SheetTable, ...]:
    makers = (
        *(records.marks, records.keyings, records.findings, records.penalties),
        *(records.rulings, records.warnings, records.logs, records.pilots),
    )
    return tuple(make(sheet) for make in makers)


def _list(book: Book, sheet: Sheet, whole: SheetTable) -> SheetPage:
    table, printed = _arranged(whole)
    page = SheetPage(book, sheet, _free(book, table.title))
    page.title(table.title)
    page.put(2, 1, f"{sheet.event_name} · {sheet.edition}", font=STRONG)
    widths = _list_widths(table)
    page.widths(widths)
    lines = sheet.say(fact("so-many-lines", count=count(len(table.rows))))
    note = sheet.word(table.caution) if table.caution else lines
    page.across(3, printed, note, font=NOTE)
    left = [n for n, column in enumerate(table.columns, 1) if column.wide]
    page.head(LIST_HEAD, [column.title for column in table.columns], left=left)
    for start in range(0, len(table.rows), TOGETHER):
        some = replace(table, rows=table.rows[start : start + TOGETHER])
        first = LIST_HEAD + 1 + start
        key = sheet.keep.key("list", some, first, widths, sheet.language)
        page.fill(key, partial(_list_rows, page, some, first, widths))
    set_print(page, sheet, head_row=LIST_HEAD, columns=printed)
    if table.rows:
        page.ws.auto_filter.ref = page.span(LIST_HEAD)
    return page


def _list_rows(
    page: SheetPage, table: SheetTable, first: int, widths: list[float]
) -> None:
    for row, values in enumerate(table.rows, first):
        _list_row(page, row, table, values)
        page.line(row, len(table.columns), widths)


def _list_widths(table: SheetTable) -> list[float]:
    empty = [()] * len(table.columns)
    values = zip(*table.rows, strict=True) if table.rows else empty
    return [width_of(c, v) for c, v in zip(table.columns, values, strict=True)]


def _arranged(table: SheetTable) -> tuple[SheetTable, int]:
    """Leave out empty columns, put those not printed last; tell how many print."""
    values = list(zip(*table.rows, strict=True)) or [()] * len(table.columns)
    columns = [
        (column, own)
        for column, own in zip(table.columns, values, strict=True)
        if not own or any(value not in {None, ""} for value in own)
    ]
    columns.sort(key=lambda one: one[0].aside)
    rows = tuple(zip(*(own for _, own in columns), strict=True))
    shown = tuple(column for column, _ in columns)
    printed = sum(not column.aside for column in shown)
    return replace(table, columns=shown, rows=rows), max(printed, 1)


def _list_row(
    page: SheetPage, row: int, table: SheetTable, values: tuple[Value, ...]
) -> None:
    for col, (column, value) in enumerate(zip(table.columns, values, strict=True), 1):
        cell = page.put(row, col, value, form=number_format(column.decimals))
        if column.wide:
            cell.alignment = WRAP
        elif column.decimals == 0:
            cell.alignment = MIDDLE


def _method(book: Book, sheet: Sheet) -> SheetPage:
    page = SheetPage(book, sheet, sheet.word("page-method"))
    page.title(sheet.word("title-method"))
    page.widths(METHOD_WIDTHS)
    row = 3
    for heading, lines in _method_texts(sheet):
        row = _paragraphs(page, row, heading, lines) + 1
    heads = ("head-rule", "head-value", "head-source")
    page.head(row, [sheet.word(name) for name in heads], left={1, 2})
    for values in method_rules(sheet):
        row += 1
        for col, value in enumerate(values, 1):
            page.put(row, col, value).alignment = WRAP
        page.line(row, len(METHOD_WIDTHS), METHOD_WIDTHS)
    set_print(page, sheet, head_row=1, columns=len(METHOD_WIDTHS), portrait=True)
    return page


def _method_texts(sheet: Sheet) -> list[tuple[str, tuple[str, ...]]]:
    formulas = [
        (method_title(sheet, method), formula_words(sheet, method))
        for method in methods_used(sheet)
    ]
    cautions = (sheet.word("title-cautions"), _cautions(sheet))
    return [(sheet.word("title-order"), order_of_work(sheet)), *formulas, cautions]


def _cautions(sheet: Sheet) -> tuple[str, ...]:
    return sheet.word("caution"), sheet.word("caution-low")


def _paragraphs(page: SheetPage, row: int, heading: str, lines: tuple[str, ...]) -> int:
    page.put(row, 1, heading, font=STRONG)
    for line in lines:
        row += 1
        page.across(row, len(METHOD_WIDTHS), line)
    return row + 1


def _front(page: SheetPage, book: Book, sheet: Sheet) -> None:
    page.title(sheet.event_name)
    page.put(2, 1, sheet.edition, font=STRONG)
    row = 3
    for label, value in sheet.facts:
        row += 1
        page.put(row, 1, label, font=STRONG)
        page.put(row, 2, value).alignment = WRAP
    row += 2
    page.put(row, 1, sheet.word("title-worksheets"), font=STRONG)
    for title in book.sheetnames[1:]:
        row += 1
        page.put(row, 2, title)
        page.link(row, 2, title)
    row = _changes(page, row + 2, sheet)
    page.widths([20, 88])
    page.put(row, 1, sheet.word("title-cautions"), font=STRONG)
    for text in _cautions(sheet):
        page.across(row + 1, 2, text)
        row += 1
    set_print(page, sheet, head_row=1, columns=2, portrait=True)
    page.ws.freeze_panes, page.ws.page_setup.fitToHeight = None, 1


def _changes(page: SheetPage, row: int, sheet: Sheet) -> int:
    page.put(row, 1, sheet.word("title-changes"), font=STRONG)
    stamp = sheet.stamp
    listed = [(stamp.version, stamp.changes)] if stamp.published_at else []
    listed += [(edition.version, edition.changes) for edition in stamp.earlier]
    for version, changes in listed:
        first = sheet.word("first-publication") if version == 1 else "–"
        for change in changes or (first,):
            of = fact("of-version", version=number(version), what=words(change))
            page.put(row, 2, sheet.say(of)).alignment = WRAP
            row += 1
    if not listed:
        page.put(row, 2, sheet.published)
        row += 1
    return row + 1


def _properties(book: Book, sheet: Sheet) -> None:
    book.properties.title = f"{sheet.event_name}, {sheet.headline}"
    book.properties.creator = clean(sheet.stamp.by) or sheet.event_name
    book.properties.subject = f"SHA-256 {sheet.stamp.results_sha256}"
    book.active = 0
