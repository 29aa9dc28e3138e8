"""A workbook file whose bytes depend on nothing but what is in it."""

import io
import re
import zipfile
from collections.abc import Mapping
from datetime import datetime
from html import escape

from openpyxl import Workbook

Cached = Mapping[str, Mapping[str, str | int | float]]
"""Sheet title, then cell, to the value its formula has."""

_FORMULA = re.compile(r'<c r="([A-Z]+\d+)"([^>]*)>(<f>.*?</f>)<v ?(?:/>|></v>)</c>')
_MODIFIED = re.compile(r"(<dcterms:modified[^>]*>)[^<]*")
_OLDEST_ZIP_YEAR = 1980


def packed(book: Workbook, moment: datetime, cached: Cached) -> bytes:
    """Save a workbook: times taken from `moment`, formulas with their value beside them.

    Programs that do not calculate (a phone's preview, a data library) show the values;
    those that do calculate them anew.
    """
    book.properties.created = book.properties.modified = moment.replace(tzinfo=None)
    raw = io.BytesIO()
    book.save(raw)
    titles = {
        f"xl/worksheets/sheet{number}.xml": title
        for number, title in enumerate(book.sheetnames, 1)
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
            elif name in titles:
                data = _with_values(data, cached.get(titles[name], {}))
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


def _with_values(xml: bytes, values: Mapping[str, str | int | float]) -> bytes:
    def put(match: re.Match[str]) -> str:
        cell, attributes, formula = match.groups()
        if cell not in values:
            return match[0]
        value = values[cell]
        attributes = re.sub(r' t="[^"]*"', "", attributes)
        if isinstance(value, str):
            attributes += ' t="str"'
        shown = escape(value) if isinstance(value, str) else repr(value)
        return f'<c r="{cell}"{attributes}>{formula}<v>{shown}</v></c>'

    return _FORMULA.sub(put, xml.decode("utf-8")).encode("utf-8")
