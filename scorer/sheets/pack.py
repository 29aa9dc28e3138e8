"""A workbook file whose bytes depend on nothing but what is in it."""

import io
import re
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from html import escape

from openpyxl import Workbook
from openpyxl.cell.cell import Cell
from openpyxl.compat import safe_string
from openpyxl.worksheet.worksheet import Worksheet

Cached = Mapping[str, Mapping[str, str | int | float]]
"""Sheet title, then cell, to the value its formula has."""

_ROWS = re.compile(rb"<sheetData ?/>|<sheetData>.*</sheetData>", re.DOTALL)
_DIMENSION = re.compile(rb'(<dimension ref=")[^"]*')
_MODIFIED = re.compile(r"(<dcterms:modified[^>]*>)[^<]*")
_OLDEST_ZIP_YEAR = 1980


def packed(book: Workbook, moment: datetime, cached: Cached) -> bytes:
    """Save a workbook: times taken from `moment`, formulas with their value beside them.

    Programs that do not calculate (a phone's preview, a data library) show the values;
    those that do calculate them anew.
    """
    book.properties.created = book.properties.modified = moment.replace(tzinfo=None)
    sheets = [_sheet_data(ws, cached.get(ws.title, {})) for ws in book.worksheets]
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


def _sheet_data(ws: Worksheet, values: Mapping[str, str | int | float]) -> _SheetData:
    """Write the cells of a worksheet: formulas with their value, text as it stands."""
    write = _Cells(ws, values)
    rows: dict[int, list[str]] = {row: [] for row in ws.row_dimensions}
    for (row, _), cell in sorted(ws._cells.items()):  # noqa: SLF001 - as above
        rows.setdefault(row, []).append(write.cell(cell))
    text = "".join(
        f"<row{write.attributes(row)}>{''.join(cells)}</row>"
        for row, cells in sorted(rows.items())
    )
    whole = f"<sheetData>{text}</sheetData>".encode()
    return _SheetData(ws.calculate_dimension().encode(), whole)


class _Cells:
    def __init__(self, ws: Worksheet, values: Mapping[str, str | int | float]) -> None:
        self._ws, self._values = ws, values
        self._looks: dict[bytes, str] = {}

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
        return self._looks[own]
