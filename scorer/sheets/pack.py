"""A workbook file whose bytes depend on nothing but what is in it."""

import io
import re
import zipfile
from array import array
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from openpyxl import Workbook
from openpyxl.cell.cell import Cell
from openpyxl.compat import safe_string
from openpyxl.styles.cell_style import StyleArray
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

Values = Mapping[str, str | int | float]
"""Cell to the value its formula has."""
Cached = Mapping[str, Values]
"""The same by the title of the worksheet."""

_ROWS = re.compile(rb"<sheetData ?/>|<sheetData>.*</sheetData>", re.DOTALL)
_DIMENSION = re.compile(rb'(<dimension ref=")[^"]*')
_MODIFIED = re.compile(r"(<dcterms:modified[^>]*>)[^<]*")
_OLDEST_ZIP_YEAR = 1980


@dataclass(frozen=True, slots=True)
class Body:
    """Some rows of a worksheet as its file has them."""

    rows: bytes
    looks: tuple[bytes, ...]
    """How their cells look, each as it first occurs,"""
    numbers: tuple[int, ...]
    """and the number that it has in the workbook."""
    last_row: int
    last_col: int


Bodies = Mapping[str, Sequence[Body]]
"""The same by the title of the worksheet, from the top down."""


def body_of(ws: Worksheet, values: Values, first: int) -> Body:
    """Write the cells from a row on, and take them off the worksheet."""
    own = {at: cell for at, cell in ws._cells.items() if at[0] >= first}  # noqa: SLF001
    last_row, last_col = ws.max_row, ws.max_column
    heights = [row for row in ws.row_dimensions if row >= first]
    write = _Cells(ws, values)
    rows = _rows(write, own, heights).encode()
    for at in own:
        del ws._cells[at]  # noqa: SLF001 - as below
    for row in heights:
        del ws.row_dimensions[row]
    looks = tuple(write.numbers)
    numbers = tuple(write.numbers.values())
    return Body(rows, looks, numbers, last_row, last_col)


def has_looks(book: Workbook, body: Body) -> bool:
    """Give a workbook the looks of a body; tell whether they have their numbers there."""
    styles = book._cell_styles  # noqa: SLF001 - as below
    return body.numbers == tuple(
        styles.add(StyleArray(array("i", look))) for look in body.looks
    )


def packed(book: Workbook, moment: datetime, cached: Cached, bodies: Bodies) -> bytes:
    """Save a workbook: times taken from `moment`, formulas with their value beside them.

    Programs that do not calculate (a phone's preview, a data library) show the values;
    those that do calculate them anew.  `bodies` are what was taken off worksheets.
    """
    book.properties.created = book.properties.modified = moment.replace(tzinfo=None)
    sheets = [
        _sheet_data(ws, cached.get(ws.title, {}), bodies.get(ws.title, ()))
        for ws in book.worksheets
    ]
    for ws in book.worksheets:  # its own writer of cells takes most of the time
        linked = {at: cell for at, cell in ws._cells.items() if cell.hyperlink}  # noqa: SLF001
        ws._cells = linked  # noqa: SLF001
    raw = io.BytesIO()
    book.save(raw)
    named = {f"xl/worksheets/sheet{n}.xml": own for n, own in enumerate(sheets, 1)}
    packed_to = io.BytesIO()
    with (
        zipfile.ZipFile(raw) as source,
        zipfile.ZipFile(packed_to, "w", zipfile.ZIP_DEFLATED) as target,
    ):
        for name in source.namelist():
            data = source.read(name)
            if name == "docProps/core.xml":
                data = _dated(data, moment)
            elif name in named:
                data = named[name].put_into(data)
            target.writestr(_entry(name, moment), data)
    return packed_to.getvalue()


def _entry(name: str, moment: datetime) -> zipfile.ZipInfo:
    year = max(moment.year, _OLDEST_ZIP_YEAR)
    when = (year, moment.month, moment.day, moment.hour, moment.minute, 0)
    entry = zipfile.ZipInfo(name, when)
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.external_attr = 0o644 << 16
    return entry


def _dated(xml: bytes, moment: datetime) -> bytes:
    text = xml.decode("utf-8")
    return _MODIFIED.sub(rf"\g<1>{moment:%Y-%m-%dT%H:%M:%SZ}", text).encode("utf-8")


@dataclass(frozen=True, slots=True)
class _SheetData:
    """The cells of a worksheet as its file has them."""

    dimension: bytes
    rows: bytes

    def put_into(self, xml: bytes) -> bytes:
        """Put them into the file of the worksheet without cells."""
        sized = _DIMENSION.sub(lambda found: found[1] + self.dimension, xml, count=1)
        before, after = _ROWS.split(sized, maxsplit=1)
        return b"".join((before, self.rows, after))


def _sheet_data(ws: Worksheet, values: Values, bodies: Sequence[Body]) -> _SheetData:
    """Write the cells of a worksheet: formulas with their value, text as it stands."""
    own = _rows(_Cells(ws, values), ws._cells, ws.row_dimensions)  # noqa: SLF001
    dimension, rows = ws.calculate_dimension(), own.encode()
    if bodies:
        last_col = max(ws.max_column, *(body.last_col for body in bodies))
        last_row = max(ws.max_row, *(body.last_row for body in bodies))
        dimension = f"A1:{get_column_letter(last_col)}{last_row}"
    rows += b"".join(body.rows for body in bodies)
    return _SheetData(dimension.encode(), b"<sheetData>" + rows + b"</sheetData>")


def _rows(
    write: "_Cells", own: Mapping[tuple[int, int], Cell], heights: Iterable[int]
) -> str:
    rows: dict[int, list[str]] = {row: [] for row in heights}
    for (row, _), cell in sorted(own.items()):
        rows.setdefault(row, []).append(write.cell(cell))
    return "".join(
        f"<row{write.attributes(row)}>{''.join(cells)}</row>"
        for row, cells in sorted(rows.items())
    )


class _Cells:
    def __init__(self, ws: Worksheet, values: Values) -> None:
        self._ws, self._values = ws, values
        self._looks: dict[bytes, str] = {}
        self.numbers: dict[bytes, int] = {}
        """Looks that occurred, and their numbers in the workbook."""

    def attributes(self, row: int) -> str:
        """Return what is said of a row."""
        own = self._ws.row_dimensions.get(row)
        told = {"r": str(row)} | ({} if own is None else dict(own))
        return "".join(f' {name}="{escape(text)}"' for name, text in told.items())

    def cell(self, cell: Cell) -> str:
        """Return a cell; empty where nothing stands in it and it has no look."""
        value, look, name = cell.value, self._look(cell), cell.coordinate
        begin = f'<c r="{name}"{look}'
        if value is None or value == "":
            return f'{begin} t="n" />' if look else ""
        if cell.data_type == "s":
            kept = ' xml:space="preserve"' if value != value.strip() else ""
            text = escape(value, quote=False)
            return f'{begin} t="inlineStr"><is><t{kept}>{text}</t></is></c>'
        if cell.data_type != "f":
            number = safe_string(value)
            return f'{begin} t="{cell.data_type}"><v>{number}</v></c>'
        now = self._values.get(name)
        kind = ' t="str"' if isinstance(now, str) else ""
        shown = escape(now) if isinstance(now, str) else repr(now)
        held = "<v />" if now is None else f"<v>{shown}</v>"
        return f"{begin}{kind}><f>{escape(value[1:], quote=False)}</f>{held}</c>"

    def _look(self, cell: Cell) -> str:
        style = cell._style  # noqa: SLF001 - as above
        own = style.tobytes() if style else b""
        if own not in self._looks:
            self._looks[own] = f' s="{cell.style_id}"' if cell.has_style else ""
            if cell.has_style:
                self.numbers[own] = cell.style_id
        return self._looks[own]
