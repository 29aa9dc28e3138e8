"""Read the tables of an event folder, CSV and XLSX, into rows of text."""

import csv
import io
import zlib
from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from zipfile import BadZipFile, ZipFile

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from scorer.errors import nearest
from scorer.event.model import Origin
from scorer.event.raw import Row
from scorer.event.reading import Faults

_MOST_UNPACKED = 512 * 2**20
MOST_BYTES = 64 * 2**20
"""A table larger than this was not made by people."""


def decode(data: bytes, where: str, faults: Faults) -> str | None:
    """Decode UTF-8 (a byte order mark is allowed); None when it is not."""
    if data[:2] in {BOM_UTF16_LE, BOM_UTF16_BE}:
        faults.add(
            Origin(where=where, line=1),
            field=None,
            found="text in UTF-16",
            allowed="text in UTF-8",
            remedy="Save the file as UTF-8 (in a spreadsheet: CSV UTF-8).",
        )
        return None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        faults.add(
            Origin(where=where, line=line),
            field=None,
            found=f"byte 0x{data[error.start]:02x} that is not UTF-8",
            allowed="text in UTF-8",
            remedy="Save the file as UTF-8 (in a spreadsheet: CSV UTF-8).",
        )
        return None
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        faults.add(
            Origin(where=where, line=line),
            field=None,
            found="a zero byte",
            allowed="text in UTF-8",
            remedy="The file is damaged or not a text file: save it again as CSV UTF-8.",
        )
        return None
    return text


def read_csv(
    text: str, where: str, columns: Sequence[str], faults: Faults
) -> tuple[Row, ...]:
    """Read comma or semicolon separated text with a header row.

    Lines that start with `#` and empty lines are passed over.  A header that is nearly
    one of `columns` is a fault; others are kept.
    """
    lines = [(n, line) for n, line in enumerate(io.StringIO(text, newline=""), 1)]
    kept = _without_comments(lines)
    if not kept:
        return ()
    header_line = kept[0][1]
    delimiter = ";" if header_line.count(";") > header_line.count(",") else ","
    numbers = [n for n, _ in kept]
    reader = csv.reader((line for _, line in kept), delimiter=delimiter, strict=True)
    records: list[tuple[int, list[str]]] = []
    start = 0
    try:
        for cells in reader:
            records.append((numbers[start], cells))
            start = reader.line_num
    except csv.Error as error:
        line = numbers[min(start, len(numbers) - 1)]
        faults.add(
            Origin(where=where, line=line),
            field=None,
            found=f"a line that cannot be read ({error})",
            allowed='cells parted by "," or ";", quotes closed',
        )
        return ()
    return _rows(records, where, columns, faults)


def _without_comments(lines: list[tuple[int, str]]) -> list[tuple[int, str]]:
    """Drop comment and blank lines, but not inside a quoted cell."""
    kept, quoted = [], False
    for number, line in lines:
        if not quoted and (line.lstrip().startswith("#") or not line.strip()):
            continue
        kept.append((number, line))
        quoted ^= line.count('"') % 2 == 1
    return kept


def read_xlsx(
    data: bytes, where: str, columns: Sequence[str], faults: Faults
) -> tuple[Row, ...]:
    """Read the first sheet of a workbook as if it were a CSV file."""
    try:
        _check_unpacked(data)
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        records = [
            (number, ["" if v is None else _cell(v) for v in values])
            for number, values in enumerate(
                book.worksheets[0].iter_rows(values_only=True), start=1
            )
        ]
    except _NOT_A_WORKBOOK as error:
        faults.add(
            Origin(where=where),
            field=None,
            found=f"a file that is not a workbook ({error})",
            allowed="an XLSX workbook with the roster on its first sheet",
        )
        return ()
    filled = [(n, cells) for n, cells in records if any(c.strip() for c in cells)]
    kept = [(n, c) for n, c in filled if not _comment(c[0])]
    return _rows(kept, where, columns, faults)


_NOT_A_WORKBOOK = (
    BadZipFile,
    InvalidFileException,
    LookupError,
    ValueError,
    OSError,
    EOFError,
    TypeError,
    AttributeError,
    SyntaxError,  # XML that is none
    RuntimeError,  # encrypted, or a compression nobody knows
    zlib.error,
)
_FORMULA_ERRORS = ("#REF!", "#N/A", "#NAME?", "#VALUE!", "#DIV/0!", "#NULL!", "#NUM!")


def _comment(cell: str) -> bool:
    """Tell a comment from a formula that failed, which must not get lost."""
    text = cell.strip()
    return text.startswith("#") and text not in _FORMULA_ERRORS


def _check_unpacked(data: bytes) -> None:
    with ZipFile(io.BytesIO(data)) as book:
        size = sum(member.file_size for member in book.infolist())
    if size > _MOST_UNPACKED:
        raise ValueError(f"unpacked it would take {size / 2**20:,.0f} MiB")


def _cell(value: object) -> str:
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime):
        return value.isoformat(sep=" ")
    return str(value)


def _rows(
    records: Sequence[tuple[int, list[str]]],
    where: str,
    columns: Sequence[str],
    faults: Faults,
) -> tuple[Row, ...]:
    if not records:
        return ()
    head_line, head = records[0]
    names = [name.strip().casefold() for name in head]
    if not _check_header(names, columns, Origin(where=where, line=head_line), faults):
        return ()
    rows = []
    for line, cells in records[1:]:
        origin = Origin(where=where, line=line)
        if len(cells) > len(names) and any(c.strip() for c in cells[len(names) :]):
            faults.add(
                origin,
                field=None,
                found=f"{len(cells)} cells",
                allowed=f"at most {len(names)}, as many as the header has",
                remedy="A decimal comma or a comma in a name needs quotes around it.",
            )
            continue
        pairs = zip(names, cells, strict=False)
        rows.append(Row(fields={n: c.strip() for n, c in pairs if n}, origin=origin))
    return tuple(rows)


def _check_header(
    names: Sequence[str], columns: Sequence[str], origin: Origin, faults: Faults
) -> bool:
    before = len(faults.found)
    for name in {n for n in names if n and list(names).count(n) > 1}:
        faults.add(
            origin, field=name, found=f'"{name}" twice', allowed="each column once"
        )
    for name in names:
        strange = name and name not in columns and "\t" not in name
        hint = nearest(name, columns) if strange else ""
        if hint:
            faults.add(
                origin, field=name, found=name, allowed=", ".join(columns), remedy=hint
            )
    missing = [c for c in columns[:2] if c not in names]
    if missing:
        tabs = any("\t" in name for name in names)
        faults.add(
            origin,
            field=None,
            found=f"a header without {' and '.join(missing)}",
            allowed=", ".join(columns),
            remedy="Cells are parted by tabs: save with commas or semicolons."
            if tabs
            else "The first line must name the columns.",
        )
    return len(faults.found) == before


def write_csv(rows: Iterable[Row], columns: Sequence[str]) -> str:
    """Write rows as CSV: the known columns, then others in the order they appear."""
    rows = list(rows)
    extra = {name: None for row in rows for name in row.fields if name not in columns}
    used = [c for c in columns if any(c in r.fields for r in rows) or c in columns[:2]]
    names = [*used, *extra]
    out = io.StringIO(newline="")
    plain = csv.writer(out, lineterminator="\n")
    quoted = csv.writer(out, lineterminator="\n", quoting=csv.QUOTE_ALL)
    plain.writerow(names)
    for row in rows:
        cells = [row.fields.get(name, "") for name in names]
        # Without quotes these would be read as another line, or as a comment.
        unsafe = cells[0].startswith("#") or any("\r" in cell for cell in cells)
        (quoted if unsafe else plain).writerow(cells)
    return out.getvalue()


def read_bytes(
    path: Path, where: str, faults: Faults, most: int = MOST_BYTES
) -> bytes | None:
    """Read a file of the folder, refusing one too large to be what it should be."""
    try:
        status = path.stat()
        if status.st_size > most:
            faults.add(
                Origin(where=where),
                field=None,
                found=f"{status.st_size / 2**20:,.0f} MiB",
                allowed=f"at most {most // 2**20} MiB",
                remedy="Look whether the right file was saved here.",
            )
            return None
        if S_ISREG(status.st_mode) or S_ISDIR(status.st_mode):
            return path.read_bytes()
        faults.add(
            Origin(where=where),
            field=None,
            found="a pipe or a device",
            allowed="an ordinary file",
        )
    except OSError as error:
        faults.add(
            Origin(where=where),
            field=None,
            found=f"a file that cannot be read ({error.strerror})",
            allowed="a readable file",
        )
    return None
