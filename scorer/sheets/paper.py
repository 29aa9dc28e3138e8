"""Paper: pages with our head and foot, text, tables that run over pages."""

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from hashlib import md5

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.utils import TimeStamp
from reportlab.pdfgen.canvas import Canvas

from scorer.sheets.typeface import fitted, font, runs, width, wrapped

INK, SLATE, GREY = HexColor(0x1D2B34), HexColor(0x2E4A59), HexColor(0x5C666E)
SAND, LINE, CLAY = HexColor(0xF5EFE3), HexColor(0xB9B2A3), HexColor(0xA8521C)
WHITE = HexColor(0xFFFFFF)
MM = 72 / 25.4
MARGIN = 14 * MM
HEAD_ROOM, FOOT_ROOM = 12 * MM, 12 * MM
LEADING = 1.28
_TOTAL = "pages"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a printed table."""

    title: str
    share: float
    """Part of the width, relative to the other columns."""
    align: str = "left"
    """`left`, `right` or `center`."""
    bold: bool = False
    wrap: bool = False
    """Break long text into lines; otherwise it is cut with an ellipsis."""


@dataclass(slots=True, kw_only=True)
class Paper:
    """A document being drawn, from the top of each page down.

    It has no page until `new_page` is called.
    """

    title: str
    head_left: str
    head_right: str
    foot_left: str
    foot_middle: str
    moment: datetime
    key: str
    """Something that tells this document from others, e.g. the hash of the results."""
    letter: bool = False
    wide: bool = False
    author: str = ""
    canvas: Canvas = field(init=False)
    y: float = field(init=False, default=0.0)
    page: int = field(init=False, default=0)
    _file: io.BytesIO = field(init=False)

    def __post_init__(self) -> None:
        size = LETTER if self.letter else A4
        self._file = io.BytesIO()
        self.canvas = Canvas(
            self._file,
            pagesize=landscape(size) if self.wide else size,
            invariant=1,
            pageCompression=1,
            initialFontName=font("SheetBook").fontName,
            lang="en",
        )
        _dated(self.canvas, self.moment, self.key)
        self.canvas.setTitle(self.title)
        self.canvas.setAuthor(self.author or self.head_left)
        self.canvas.setCreator("Sandtail")

    @property
    def width(self) -> float:
        """Width of the page, in points."""
        return float(self.canvas._pagesize[0])  # noqa: SLF001 - it has no getter

    @property
    def height(self) -> float:
        """Height of the page, in points."""
        return float(self.canvas._pagesize[1])  # noqa: SLF001 - it has no getter

    @property
    def left(self) -> float:
        """Left edge of what may be printed."""
        return MARGIN

    @property
    def room(self) -> float:
        """Width of what may be printed."""
        return self.width - 2 * MARGIN

    @property
    def bottom(self) -> float:
        """Lowest line of what may be printed."""
        return FOOT_ROOM + 4 * MM

    def new_page(self) -> None:
        """Finish the page and begin the next with its head and foot."""
        if self.page:
            self.canvas.showPage()
        self.page += 1
        self._head()
        self._foot()
        self.y = self.height - HEAD_ROOM - 6 * MM

    def _head(self) -> None:
        y, half = self.height - HEAD_ROOM, self.room * 0.6
        right = fitted(self.head_right, self.room * 0.38, 8)
        self.text(self.left, y, fitted(self.head_left, half, 8), size=8, colour=GREY)
        self.text(self.left + self.room, y, right, size=8, colour=GREY, align="right")
        self.rule(y - 2 * MM)

    def _foot(self) -> None:
        y = FOOT_ROOM - 2 * MM
        self.rule(y + 4 * MM)
        third = self.room / 3
        self.text(self.left, y, fitted(self.foot_left, third, 7), size=7, colour=GREY)
        middle = self.left + self.room / 2
        self.text(middle, y, self.foot_middle, size=7, colour=GREY, align="center")
        right = self.left + self.room - 14
        shown = f"Page {self.page} of "
        self.text(right, y, shown, size=7, colour=GREY, align="right")
        self.canvas.saveState()
        self.canvas.translate(right, y)
        self.canvas.doForm(_TOTAL)
        self.canvas.restoreState()

    def need(self, height: float) -> bool:
        """Begin a new page unless this much room is left; tell whether it did."""
        if self.y - height >= self.bottom:
            return False
        self.new_page()
        return True

    def skip(self, height: float) -> None:
        """Leave some room."""
        self.y -= height

    def rule(self, y: float, colour: Color = LINE) -> None:
        """Draw a hairline over the whole width."""
        self.canvas.setStrokeColor(colour)
        self.canvas.setLineWidth(0.5)
        self.canvas.line(self.left, y, self.left + self.room, y)

    def text(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = 9,
        bold: bool = False,
        colour: Color = INK,
        align: str = "left",
        halo: bool = False,
    ) -> None:
        """Draw one line of text at its base line; `halo` clears the lines behind it."""
        if align != "left":
            taken = width(text, size, bold=bold)
            x -= taken if align == "right" else taken / 2
        if halo:
            self.canvas.saveState()
            self._draw_runs(x, y, text, (size, bold), WHITE, stroked=True)
            self.canvas.restoreState()
        self._draw_runs(x, y, text, (size, bold), colour, stroked=False)

    def _draw_runs(
        self,
        x: float,
        y: float,
        text: str,
        look: tuple[float, bool],
        colour: Color,
        *,
        stroked: bool,
    ) -> None:
        size, bold = look
        drawn = self.canvas.beginText(x, y)
        drawn.setFillColor(colour)
        if stroked:
            self.canvas.setLineWidth(1.6)
            self.canvas.setDash([], 0)
            drawn.setStrokeColor(colour)
            drawn.setTextRenderMode(2)
        for name, piece in runs(text, bold=bold):
            drawn.setFont(name, size)
            drawn.textOut(piece)
        self.canvas.drawText(drawn)

    def heading(
        self,
        text: str,
        size: float = 15,
        *,
        mark: bool = False,
        room: float | None = None,
    ) -> None:
        """Write a heading; with `mark`, put it into the document's outline."""
        lines = wrapped(text, room or self.room, size, bold=True)
        self.need(size * LEADING * (len(lines) + 1))
        if mark:
            name = f"mark{self.page}-{int(self.y)}"
            self.canvas.bookmarkHorizontal(name, self.left, self.y)
            self.canvas.addOutlineEntry(text, name, level=0)
        for line in lines:
            self.y -= size * LEADING
            self.text(self.left, self.y, line, size=size, bold=True, colour=SLATE)
        self.y -= size * 0.4

    def paragraph(
        self,
        text: str,
        *,
        size: float = 9,
        bold: bool = False,
        colour: Color = INK,
        indent: float = 0.0,
    ) -> None:
        """Write a paragraph over the width, lines broken, pages turned."""
        for line in wrapped(text, self.room - indent, size, bold=bold):
            self.need(size * LEADING)
            self.y -= size * LEADING
            at = self.left + indent
            self.text(at, self.y, line, size=size, bold=bold, colour=colour)

    def facts(self, rows: Sequence[tuple[str, str]], size: float = 8.5) -> None:
        """Write label and value pairs."""
        label_room = 32 * MM
        for label, value in rows:
            lines = wrapped(value, self.room - label_room, size)
            self.need(size * LEADING * len(lines))
            for number, line in enumerate(lines):
                self.y -= size * LEADING
                if number == 0:
                    self.text(self.left, self.y, label, size=size, colour=GREY)
                self.text(self.left + label_room, self.y, line, size=size)

    def signature(self, *labels: str) -> None:
        """Draw lines to sign on, side by side."""
        self.need(18 * MM)
        self.y -= 14 * MM
        each = self.room / len(labels)
        for number, label in enumerate(labels):
            x = self.left + number * each
            self.canvas.setStrokeColor(INK)
            self.canvas.setLineWidth(0.6)
            self.canvas.line(x, self.y, x + each - 6 * MM, self.y)
            self.text(x, self.y - 3.5 * MM, label, size=7.5, colour=GREY)
        self.y -= 5 * MM

    def finished(self) -> bytes:
        """Return the document."""
        self.canvas.showPage()
        self.canvas.beginForm(_TOTAL, 0, -4, 30, 12)
        self.text(0, 0, str(self.page), size=7, colour=GREY)
        self.canvas.endForm()
        self.canvas.save()
        return self._file.getvalue()


def _dated(canvas: Canvas, moment: datetime, key: str) -> None:
    """Take the times and the identifier of a document from what it shows."""
    document = canvas._doc  # noqa: SLF001 - reportlab offers no other way
    stamp = TimeStamp(1)
    stamp.t = moment.timestamp()
    stamp.lt = tuple(moment.timetuple())
    stamp.YMDhms = stamp.lt[:6]
    document._timeStamp = stamp  # noqa: SLF001 - the same
    signature = md5(usedforsecurity=False)
    signature.update(f"{moment.isoformat()} {key}".encode())
    document.signature = signature


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a printed table."""

    cells: tuple[str, ...]
    bold: bool = False
    height: float = 0.0
    """Least height, in points: room to write by hand."""
    tinted: bool | None = None
    """None = every second row."""


def draw_table(
    paper: Paper,
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    size: float = 8.5,
    before_page: Callable[[], None] | None = None,
    grid: bool = False,
) -> None:
    """Draw a table, its head again on each page; `before_page` runs after a page turn."""
    drawer = _Drawer(paper, columns, size=size, grid=grid)
    drawer.head()
    for number, row in enumerate(rows):
        lines = drawer.lines(row)
        if paper.need(drawer.height(row, lines)):
            if before_page is not None:
                before_page()
            drawer.head()
        tinted = number % 2 == 1 if row.tinted is None else row.tinted
        drawer.row(row, lines, tinted=tinted)


class _Drawer:
    def __init__(
        self, paper: Paper, columns: Sequence[Column], *, size: float, grid: bool
    ) -> None:
        self.paper, self.columns, self.size, self.grid = paper, columns, size, grid
        shares = sum(column.share for column in columns)
        self.widths = [paper.room * column.share / shares for column in columns]
        self.pad = 2.2

    def head(self) -> None:
        paper = self.paper
        titles = [
            wrapped(c.title, w - 2 * self.pad, self.size, bold=True)
            for c, w in zip(self.columns, self.widths, strict=True)
        ]
        height = max(len(t) for t in titles) * self.size * LEADING + 2 * self.pad
        paper.need(height + 2 * self.size * LEADING)
        paper.canvas.setFillColor(SLATE)
        paper.canvas.rect(
            paper.left, paper.y - height, paper.room, height, stroke=0, fill=1
        )
        row = Row(cells=("",) * len(titles), bold=True)
        self._cells(row, titles, colour=WHITE)
        paper.y -= height

    def lines(self, row: Row) -> list[list[str]]:
        cells = zip(row.cells, self.columns, self.widths, strict=True)
        return [self._broken(text, c, w, bold=row.bold) for text, c, w in cells]

    def _broken(
        self, text: str, column: Column, room: float, *, bold: bool
    ) -> list[str]:
        bold, room = bold or column.bold, room - 2 * self.pad
        if column.wrap:
            return wrapped(text, room, self.size, bold=bold)
        return [fitted(text, room, self.size, bold=bold)]

    def height(self, row: Row, lines: list[list[str]]) -> float:
        most = max(len(cell) for cell in lines)
        return max(row.height, most * self.size * LEADING + 2 * self.pad)

    def row(self, row: Row, lines: list[list[str]], *, tinted: bool) -> None:
        paper, height = self.paper, self.height(row, lines)
        if tinted:
            paper.canvas.setFillColor(SAND)
            paper.canvas.rect(
                paper.left, paper.y - height, paper.room, height, stroke=0, fill=1
            )
        self._cells(row, lines)
        paper.y -= height
        paper.rule(paper.y)
        if self.grid:
            self._uprights(height)

    def _sunk(self, row: Row) -> float:
        """Put a single line into the middle of a high row."""
        return max(0.0, (row.height - self.size * LEADING - 2 * self.pad) / 2)

    def _uprights(self, height: float) -> None:
        x = self.paper.left
        for taken in (0.0, *self.widths):
            x += taken
            self.paper.canvas.line(x, self.paper.y, x, self.paper.y + height)

    def _cells(self, row: Row, lines: list[list[str]], colour: Color = INK) -> None:
        x = self.paper.left
        for column, room, cell in zip(self.columns, self.widths, lines, strict=True):
            at = {"left": self.pad, "right": room - self.pad, "center": room / 2}
            y = self.paper.y - self.pad - self.size - self._sunk(row)
            for line in cell:
                self.paper.text(
                    x + at[column.align],
                    y,
                    line,
                    size=self.size,
                    bold=row.bold or column.bold,
                    colour=colour,
                    align=column.align,
                )
                y -= self.size * LEADING
            x += room
