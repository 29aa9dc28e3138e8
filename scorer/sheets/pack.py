"""A workbook file whose bytes depend on nothing but what is in it."""

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape
from operator import itemgetter

from openpyxl.compat import safe_string
from openpyxl.utils import get_column_letter

from scorer.sheets.looks import Book, Cell

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


def body_of(
    book: Book, cells: Mapping[tuple[int, int], Cell], heights: Mapping[int, float]
) -> Body:
    """Write cells, by row and column, and the heights of rows, in points."""
    rows: dict[int, list[str]] = {row: [] for row in heights}
    looks: dict[bytes, int] = {}
    for (row, col), cell in sorted(cells.items(), key=itemgetter(0)):
        look, number = book.look(cell)
        if number:
            looks[look] = number
        name = f"{get_column_letter(col)}{row}"
        rows.setdefault(row, []).append(_cell(cell, name, number))
    written = "".join(
        f'<row r="{row}"{_high(heights.get(row))}>{"".join(own)}</row>'
        for row, own in sorted(rows.items())
    )
    return Body(
        rows=written.encode(),
        looks=tuple(looks),
        numbers=tuple(looks.values()),
        last_row=max((row for row, _ in cells), default=1),
        last_col=max((col for _, col in cells), default=1),
    )


def _high(height: float | None) -> str:
    return "" if height is None else f' ht="{height:g}" customHeight="1"'


def _cell(cell: Cell, name: str, number: int) -> str:
    """Return a cell; empty where nothing stands in it and it has no look."""
    look, value = f' s="{number}"' if number else "", cell.value
    begin = f'<c r="{name}"{look}'
    if cell.formula:
        kind = ' t="str"' if isinstance(value, str) else ""
        shown = escape(value) if isinstance(value, str) else repr(value)
        formula = escape(cell.formula, quote=False)
        return f"{begin}{kind}><f>{formula}</f><v>{shown}</v></c>"
    if value is None or value == "":
        return f'{begin} t="n" />' if look else ""
    if isinstance(value, str):
        kept = ' xml:space="preserve"' if value != value.strip() else ""
        text = escape(value, quote=False)
        return f'{begin} t="inlineStr"><is><t{kept}>{text}</t></is></c>'
    return f'{begin} t="n"><v>{safe_string(value)}</v></c>'


def packed(
    book: Book, moment: datetime, written: Mapping[str, Sequence[Body]]
) -> bytes:
    """Save a workbook: times taken from `moment`, rows as they were `written`.

    Formulas have their value beside them: programs that do not calculate (a phone's
    preview, a data library) show it; those that do calculate it anew.
    """
    book.properties.created = book.properties.modified = moment.replace(tzinfo=None)
    raw = io.BytesIO()
    book.save(raw)
    named = {
        f"xl/worksheets/sheet{n}.xml": written[ws.title]
        for n, ws in enumerate(book.worksheets, 1)
    }
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
                data = _with_rows(data, named[name])
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


def _with_rows(xml: bytes, bodies: Sequence[Body]) -> bytes:
    """Put rows into the file of a worksheet without cells."""
    last_col = max(body.last_col for body in bodies)
    last_row = max(body.last_row for body in bodies)
    span = f"A1:{get_column_letter(last_col)}{last_row}".encode()
    sized = _DIMENSION.sub(lambda found: found[1] + span, xml, count=1)
    before, after = _ROWS.split(sized, maxsplit=1)
    rows = (body.rows for body in bodies)
    return b"".join((before, b"<sheetData>", *rows, b"</sheetData>", after))
