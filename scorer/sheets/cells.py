"""Cells of our workbooks: their look, their formats, and how they are kept harmless."""

from array import array
from collections.abc import Callable, Collection, Sequence
from copy import copy
from functools import cache
from typing import Any

from openpyxl import Workbook
from openpyxl.cell.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.styles.cell_style import StyleArray
from openpyxl.styles.numbers import BUILTIN_FORMATS_MAX_SIZE, BUILTIN_FORMATS_REVERSE
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from scorer.facts import fact, words
from scorer.sheets.pack import Body, body_of, has_looks
from scorer.sheets.records import SheetColumn
from scorer.sheets.sheet import Sheet, clean

INK, SLATE, SAND, CLAY, LINE = "1D2B34", "2E4A59", "F5EFE3", "A8521C", "B9B2A3"
FACE = "Arial"
TITLE = Font(name=FACE, size=15, bold=True, color=SLATE)
NOTE = Font(name=FACE, size=9, color="55606A")
BODY = Font(name=FACE, size=9, color=INK)
STRONG = Font(name=FACE, size=9, color=INK, bold=True)
HEAD = Font(name=FACE, size=9, color="FFFFFF", bold=True)
LIVE = Font(name=FACE, size=9, color="1F4E8C")
"""Cells that hold formulas, blue so that an auditor finds them."""
NOT_COUNTED = Font(name=FACE, size=9, color="8A8F94", strike=True)
HEAD_FILL = PatternFill("solid", fgColor=SLATE)
BAND_FILL = PatternFill("solid", fgColor=SAND)
THIN = Side(style="thin", color=LINE)
BELOW = Border(bottom=THIN)
WRAP = Alignment(wrap_text=True, vertical="top", horizontal="left")
TEXT = Alignment(vertical="top", horizontal="left")
NUMBER = Alignment(vertical="top", horizontal="right", indent=1)
MIDDLE = Alignment(vertical="top", horizontal="center")
HEAD_ALIGN = Alignment(wrap_text=True, vertical="center", horizontal="center")
HEAD_TEXT = Alignment(wrap_text=True, vertical="center", horizontal="left")
MOST_DECIMALS = 9
OURS: tuple[Sequence[Any], ...] = (
    (TITLE, NOTE, BODY, STRONG, HEAD, LIVE, NOT_COUNTED),
    (HEAD_FILL, BAND_FILL),
    (BELOW,),
    (WRAP, TEXT, NUMBER, MIDDLE, HEAD_ALIGN, HEAD_TEXT),
    tuple(
        form
        for form in ("0", *(f"0.{'0' * n}" for n in range(1, MOST_DECIMALS + 1)))
        if form not in BUILTIN_FORMATS_REVERSE
    ),
)
"""Fonts, fills, borders, alignments and formats of numbers that cells have."""
ARMED = ("=", "+", "-", "@")
FORMULA_STARTS = (*ARMED, "\t", "\r")
WIDEST, SENTENCE, NAME, NARROWEST = 40, 46, 30, 6
_HEADER_NAME = 70
LINE_HEIGHT = 12.5
PAPER_A4, PAPER_LETTER = 9, 1


class Book(Workbook):  # type: ignore[misc]
    """A workbook that knows from the start all that cells of ours look like.

    So fonts and formats have the same numbers whatever is written first, and rows that
    were written before can be put into another one.
    """

    def __init__(self) -> None:
        super().__init__()
        for known, ours in zip(self._lists(), OURS, strict=True):
            for one in ours:
                known.add(one)
        self._own = tuple(map(len, self._lists()))

    def steady(self, body: Body) -> bool:
        """Tell whether rows look like nothing but what is known from the start."""
        return all(
            own < most
            for look in body.looks
            for own, most in zip(_parts(look), self._own, strict=True)
        )

    def _lists(self) -> tuple[Any, ...]:
        return (
            self._fonts,
            self._fills,
            self._borders,
            self._alignments,
            self._number_formats,
        )


class SheetPage:
    """One worksheet being filled, and the values of its formulas."""

    def __init__(self, book: Book, sheet: Sheet, title: str) -> None:
        self.voice = sheet.voice
        self.ws: Worksheet = book.create_sheet(title)
        self.values: dict[str, str | int | float] = {}
        self.bodies: list[Body] = []
        """Rows that are written already, from the top down."""
        self._book, self._keep = book, sheet.keep
        self._looks: dict[tuple[Any, ...], Any] = {}

    def fill(self, first: int, key: str, write: Callable[[], None]) -> None:
        """Write rows from `first` on, or take them as they were written before.

        `key` is that of all that `write` makes them of; empty = it is not known.
        """
        known: Body | None = self._keep.get(key, _size) if key else None
        if known is None or not has_looks(self._book, known):
            write()
            known = body_of(self.ws, self.values, first)
            if key and self._book.steady(known):
                self._keep.put(key, known, size=_size(known))
        self.bodies.append(known)

    @property
    def last_row(self) -> int:
        """The last row in which anything stands."""
        return max((int(self.ws.max_row), *(own.last_row for own in self.bodies)))

    @property
    def last_col(self) -> int:
        """The last column in which anything stands."""
        return max((int(self.ws.max_column), *(own.last_col for own in self.bodies)))

    def dress(self, cell: Cell, **look: Any) -> Cell:
        """Give a cell fonts, borders and formats: one of our constants each, or a text.

        openpyxl compares each with all there are, at every cell: what was given to a cell
        of the same look before is copied.
        """
        own = cell._style  # noqa: SLF001 - openpyxl's own recipe
        key = (own and own.tobytes(), *look, *map(id, look.values()))
        known = self._looks.get(key)
        if known is None:
            for name, value in look.items():
                setattr(cell, name, value)
            # Held with its style: so no other value takes an address of the key.
            known = self._looks[key] = copy(cell._style), look  # noqa: SLF001
        cell._style = copy(known[0])  # noqa: SLF001
        return cell

    def put(
        self, row: int, col: int, value: Any, *, font: Font = BODY, form: str = ""
    ) -> Cell:
        """Write a value; text stays text, whatever sign it begins with."""
        cell: Cell = self.ws.cell(row, col)
        if isinstance(value, bool):
            value = self.voice.term("yes" if value else "no")
        if isinstance(value, str):
            self._put_text(cell, clean(value))
        elif value is not None:
            cell.value = value
        side = TEXT if isinstance(value, str) else NUMBER
        format_ = {"number_format": form} if form else {}
        return self.dress(cell, **format_, font=font, alignment=side)

    def _put_text(self, cell: Cell, text: str) -> None:
        if not text:
            return
        cell.value = text
        cell.data_type = "s"
        if text.startswith(FORMULA_STARTS):
            cell.quotePrefix = True

    def live(
        self, row: int, col: int, formula: str, value: float | None, form: str
    ) -> Cell:
        """Write a formula together with the value it has now (None: shown empty)."""
        cell: Cell = self.ws.cell(row, col)
        cell.value = f"={formula}"
        self.values[cell.coordinate] = "" if value is None else value
        return self.dress(cell, number_format=form, font=LIVE, alignment=NUMBER)

    def title(self, text: str) -> None:
        """Write the title of the page, in the first row."""
        self.put(1, 1, text, font=TITLE)
        self.ws.row_dimensions[1].height = 24

    def head(self, row: int, titles: Sequence[str], left: Collection[int] = ()) -> None:
        """Write a row of column headings; those of columns of words stand left."""
        for col, title in enumerate(titles, 1):
            cell = self.put(row, col, title, font=HEAD)
            cell.fill = HEAD_FILL
            cell.alignment = HEAD_TEXT if col in left else HEAD_ALIGN
        self.ws.row_dimensions[row].height = 30

    def line(self, row: int, columns: int, widths: Sequence[float]) -> None:
        """Finish a row: as high as its wrapped texts, a hairline below, tinted if odd."""
        lines = max(
            (_lines(self.ws.cell(row, col), w) for col, w in enumerate(widths, 1)),
            default=1,
        )
        if lines > 1:
            self.ws.row_dimensions[row].height = LINE_HEIGHT * lines
        for col in range(1, columns + 1):
            tint = {"fill": BAND_FILL} if row % 2 else {}
            self.dress(self.ws.cell(row, col), border=BELOW, **tint)

    def across(self, row: int, columns: int, text: str, *, font: Font = BODY) -> None:
        """Write a sentence over several columns, as high as its lines need."""
        cell = self.put(row, 1, text, font=font)
        cell.alignment = WRAP
        if columns > 1:
            self.ws.merge_cells(
                start_row=row, end_row=row, start_column=1, end_column=columns
            )
        letters = (get_column_letter(n) for n in range(1, columns + 1))
        width = sum(self.ws.column_dimensions[letter].width for letter in letters)
        self.ws.row_dimensions[row].height = LINE_HEIGHT * _lines(cell, width)

    def span(self, head_row: int) -> str:
        """Return the cells of the table below a head row, that row included."""
        return f"A{head_row}:{get_column_letter(self.last_col)}{self.last_row}"

    def widths(self, widths: Sequence[float]) -> None:
        """Set the column widths, in characters."""
        for col, width in enumerate(widths, 1):
            self.ws.column_dimensions[get_column_letter(col)].width = width


def _parts(look: bytes) -> tuple[int, ...]:
    """Return the numbers of a look's font, fill, border, alignment and own format."""
    own = StyleArray(array("i", look))
    form = max(own.numFmtId - BUILTIN_FORMATS_MAX_SIZE, 0)
    return own.fontId, own.fillId, own.borderId, own.alignmentId, form


def _size(body: Body) -> int:
    return len(body.rows)


def _lines(cell: Cell, width: float) -> int:
    """Return how many lines a wrapped text takes: spreadsheets do not work it out."""
    if not cell.alignment.wrap_text or not isinstance(cell.value, str):
        return 1
    room, lines, taken = max(width * 1.08, 1.0), 1, 0
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
    shown = (_shown_length(value, column.decimals) for value in values)
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
    ws.freeze_panes = ws.cell(head_row + 1, 1)
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
