"""Pages of our workbooks: their cells, and how they are kept harmless."""

from collections.abc import Callable, Collection, Sequence
from functools import cache
from typing import Any

from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from scorer.facts import fact, words
from scorer.sheets.looks import (
    BAND_FILL,
    BELOW,
    BODY,
    HEAD,
    HEAD_ALIGN,
    HEAD_FILL,
    HEAD_TEXT,
    LIVE,
    NUMBER,
    TEXT,
    TITLE,
    WRAP,
    Book,
    Cell,
)
from scorer.sheets.pack import Body, body_of
from scorer.sheets.records import SheetColumn
from scorer.sheets.sheet import Sheet, clean

ARMED = ("=", "+", "-", "@")
FORMULA_STARTS = (*ARMED, "\t", "\r")
WIDEST, SENTENCE, NAME, NARROWEST = 40, 46, 30, 6
_HEADER_NAME = 70
LINE_HEIGHT = 12.5
MOST_LETTERS = 32_767
"""A cell holds no more."""
PAPER_A4, PAPER_LETTER = 9, 1


class SheetPage:
    """One worksheet being filled."""

    def __init__(self, book: Book, sheet: Sheet, title: str) -> None:
        self.voice = sheet.voice
        self.ws: Worksheet = book.create_sheet(title)
        self._cells: dict[tuple[int, int], Cell] = {}
        self._heights: dict[int, float] = {}
        self._bodies: list[Body] = []
        self._book, self._keep = book, sheet.keep

    def fill(self, key: str, write: Callable[[], None]) -> None:
        """Write rows below all others, or take them as they were written before.

        `key` is that of all that `write` makes them of; empty = it is not known.
        """
        known: Body | None = self._keep.get(key, _size) if key else None
        if known is None or not self._book.has(known.looks, known.numbers):
            above = self._cells, self._heights
            self._cells, self._heights = {}, {}
            write()
            known = body_of(self._book, self._cells, self._heights)
            self._cells, self._heights = above
            if key and self._book.steady(known.looks):
                self._keep.put(key, known, size=_size(known))
        self._bodies.append(known)

    @property
    def bodies(self) -> tuple[Body, ...]:
        """All rows as they are written, from the top down."""
        return body_of(self._book, self._cells, self._heights), *self._bodies

    @property
    def last_row(self) -> int:
        """The last row in which anything stands."""
        return max(
            (*(row for row, _ in self._cells), *(b.last_row for b in self._bodies))
        )

    @property
    def last_col(self) -> int:
        """The last column in which anything stands."""
        return max(
            (*(col for _, col in self._cells), *(b.last_col for b in self._bodies))
        )

    def cell(self, row: int, col: int) -> Cell:
        """Return a cell, new where nothing stands yet."""
        cell = self._cells.get((row, col))
        if cell is None:
            cell = self._cells[row, col] = Cell()
        return cell

    def put(
        self, row: int, col: int, value: Any, *, font: Font = BODY, form: str = ""
    ) -> Cell:
        """Write a value; text stays text, whatever sign it begins with."""
        cell = self.cell(row, col)
        if isinstance(value, bool):
            value = self.voice.term("yes" if value else "no")
        if isinstance(value, str):
            cell.value = clean(value)[:MOST_LETTERS]
            cell.quoted = cell.value.startswith(FORMULA_STARTS)
        else:
            cell.value = value
        cell.font, cell.form = font, form
        cell.alignment = TEXT if isinstance(value, str) else NUMBER
        return cell

    def live(
        self, row: int, col: int, formula: str, value: float | None, form: str
    ) -> Cell:
        """Write a formula together with the value it has now (None: shown empty)."""
        cell = self.cell(row, col)
        cell.formula, cell.value = formula, "" if value is None else value
        cell.font, cell.form, cell.alignment = LIVE, form, NUMBER
        return cell

    def link(self, row: int, col: int, to: str) -> None:
        """Let a cell lead to another worksheet: openpyxl keeps account of links."""
        self.ws.cell(row, col).hyperlink = f"#'{to}'!A1"

    def high(self, row: int, height: float) -> None:
        """Set the height of a row, in points."""
        self._heights[row] = height

    def title(self, text: str) -> None:
        """Write the title of the page, in the first row."""
        self.put(1, 1, text, font=TITLE)
        self.high(1, 24)

    def head(self, row: int, titles: Sequence[str], left: Collection[int] = ()) -> None:
        """Write a row of column headings; those of columns of words stand left."""
        for col, title in enumerate(titles, 1):
            cell = self.put(row, col, title, font=HEAD)
            cell.fill = HEAD_FILL
            cell.alignment = HEAD_TEXT if col in left else HEAD_ALIGN
        self.high(row, 30)

    def line(self, row: int, columns: int, widths: Sequence[float]) -> None:
        """Finish a row: as high as its wrapped texts, a hairline below, tinted if odd."""
        lines = max(
            (_lines(self.cell(row, col), w) for col, w in enumerate(widths, 1)),
            default=1,
        )
        if lines > 1:
            self.high(row, LINE_HEIGHT * lines)
        for col in range(1, columns + 1):
            cell = self.cell(row, col)
            cell.border, cell.fill = BELOW, BAND_FILL if row % 2 else cell.fill

    def across(self, row: int, columns: int, text: str, *, font: Font = BODY) -> None:
        """Write a sentence over several columns, as high as its lines need."""
        cell = self.put(row, 1, text, font=font)
        cell.alignment = WRAP
        letters = [get_column_letter(n) for n in range(1, columns + 1)]
        if columns > 1:
            self.ws.merged_cells.add(f"A{row}:{letters[-1]}{row}")
        width = sum(self.ws.column_dimensions[letter].width for letter in letters)
        self.high(row, LINE_HEIGHT * _lines(cell, width))

    def span(self, head_row: int) -> str:
        """Return the cells of the table below a head row, that row included."""
        return f"A{head_row}:{get_column_letter(self.last_col)}{self.last_row}"

    def widths(self, widths: Sequence[float]) -> None:
        """Set the column widths, in characters."""
        for col, width in enumerate(widths, 1):
            self.ws.column_dimensions[get_column_letter(col)].width = width


def _size(body: Body) -> int:
    return len(body.rows)


def _lines(cell: Cell, width: float) -> int:
    """Return how many lines a wrapped text takes: spreadsheets do not work it out."""
    room, lines, taken = max(width * 1.08, 1.0), 1, 0
    wraps = cell.alignment is not None and cell.alignment.wrap_text
    if not wraps or not isinstance(cell.value, str) or len(cell.value) <= room:
        return 1
    for word in cell.value.split():
        if taken and taken + 1 + len(word) > room:
            lines, taken = lines + 1, 0
        taken += len(word) + (1 if taken else 0)
        while taken > room:
            lines, taken = lines + 1, taken - int(room)
    return lines


@cache
def number_format(decimals: int | None) -> str:
    """Return the number format with this many decimals; none for text."""
    if decimals is None:
        return ""
    return "0" if decimals == 0 else f"0.{'0' * decimals}"


def width_of(column: SheetColumn, values: Sequence[Any]) -> float:
    """Return a width that shows the column's values, in characters."""
    if column.wide:
        return NAME if column.key == "name" else SENTENCE
    words = max((len(w) for w in column.title.split()), default=0) + 1
    shown = (_shown_length(value, column.decimals) for value in {*values})
    return min(max(words, NARROWEST, *shown, 0) + 2, WIDEST)


def _shown_length(value: Any, decimals: int | None) -> int:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return len(f"{value:.{decimals or 0}f}")
    return len(str(value or ""))


def set_print(
    page: SheetPage,
    sheet: Sheet,
    *,
    head_row: int,
    columns: int,
    portrait: bool = False,
) -> None:
    """Freeze and repeat the heads, fit the width, put the facts around every page."""
    ws, last = page.ws, get_column_letter(columns)
    ws.freeze_panes = f"A{head_row + 1}"
    ws.print_title_rows = f"{head_row}:{head_row}"
    ws.print_area = f"A1:{last}{page.last_row}"
    ws.page_setup.orientation = "portrait" if portrait else "landscape"
    ws.page_setup.paperSize = PAPER_LETTER if sheet.letter else PAPER_A4
    ws.page_setup.fitToWidth, ws.page_setup.fitToHeight = 1, 0
    ws.sheet_properties.pageSetUpPr.fitToPage = True
    ws.page_margins.left = ws.page_margins.right = 0.45
    ws.page_margins.top, ws.page_margins.bottom = 0.75, 0.7
    ws.sheet_view.showGridLines = False
    put_around(page, sheet)


def put_around(page: SheetPage, sheet: Sheet) -> None:
    """Set the header and footer: event, state, version, time, hash, page."""
    stamp, ws = sheet.stamp, page.ws
    ws.oddHeader.left.text = _around(sheet.event_name)
    ws.oddHeader.right.text = _around(f"{ws.title} · {sheet.standings_headline}")
    ws.oddFooter.left.text = _around(sheet.published)
    ws.oddFooter.center.text = f"SHA-256 {stamp.short_hash}…"
    page_of = fact("page-of", page=words("&P"), pages=words("&N"))
    ws.oddFooter.right.text = sheet.say(page_of)


def _around(text: str) -> str:
    short = text if len(text) <= _HEADER_NAME else f"{text[: _HEADER_NAME - 1]}…"
    return short.replace("&", "&&")
