"""Read the tables of an event folder, CSV and XLSX, into rows of text."""

import csv
import io
import zlib
from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from statistics import median
from zipfile import BadZipFile, ZipFile

from scorer.errors import nearest
from scorer.event.model import Origin
from scorer.event.raw import RawRow
from scorer.event.reading import Faults

MOST_BYTES = 16 * 2**20
"""A table larger than this was not made by people."""
MOST_LINES = 100_000
MOST_COLUMNS = 200
MOST_CELLS = 2_000_000
MOST_SHEET_ROWS = 20_000
"""Of a workbook, which holds a roster: an empty row costs as much as a full one."""
GOES_ON = " +"
"""Behind the header of a column whose own is merged with the one before."""
_MOST_TITLES = 20
"""Lines among which the header stands where a list has a title above it."""
_MOST_UNPACKED = 32 * 2**20
_MOST_TAGS = {True: 600_000, False: 50_000}
"""XML tags of sheets and texts (four a cell), and of all else in a workbook."""
_TOO_MUCH = "Keep the table alone: take away what stands beside and beneath it."


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
    text: str,
    where: str,
    columns: Sequence[str],
    faults: Faults,
    *,
    titled: bool = False,
) -> tuple[RawRow, ...]:
    """Read comma or semicolon separated text with a header row.

    Lines that start with `#` and empty lines are passed over.  A header that is nearly
    one of `columns` is a fault; others are kept.  `titled`: as people hand in lists, with
    a title above the header, or cells parted by tabs.
    """
    count = text.count("\n") + text.count("\r")  # at most twice as many as lines
    if count > 2 * MOST_LINES:
        faults.add(
            Origin(where=where),
            field=None,
            found=f"some {count:,} lines",
            allowed=f"at most {MOST_LINES:,} lines",
            remedy=_TOO_MUCH,
        )
        return ()
    lines = [(n, line) for n, line in enumerate(io.StringIO(text, newline=""), 1)]
    kept = _without_comments(lines)
    if not kept:
        return ()
    first = [line for _, line in kept[: _MOST_TITLES if titled else 1]]
    delimiter = max(
        ",;\t" if titled else ",;",
        key=lambda mark: median(line.count(mark) for line in first),
    )
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
    return _rows(_from_header(records, titled=titled), where, columns, faults)


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
    data: bytes,
    where: str,
    columns: Sequence[str],
    faults: Faults,
    *,
    titled: bool = False,
) -> tuple[RawRow, ...]:
    """Read the first sheet of a workbook as if it were a CSV file."""
    # Whoever reads no workbook need not wait for what reads them.
    from openpyxl import load_workbook  # noqa: PLC0415

    try:
        _check_unpacked(data)
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        sheet = book.worksheets[0]
        sheet.reset_dimensions()  # what the file says of its size may be anything
        filled = _filled(sheet.iter_rows(values_only=True))
    except _TooMuchError as error:
        faults.add(
            Origin(where=where),
            field=None,
            found=error.found,
            allowed=error.allowed,
            remedy=_TOO_MUCH,
        )
        return ()
    except _NOT_A_WORKBOOK as error:
        faults.add(
            Origin(where=where),
            field=None,
            found=f"a file that is not a workbook ({error})",
            allowed="an XLSX workbook with the roster on its first sheet",
        )
        return ()
    wide = max((len(cells) for _, cells in filled), default=0) if titled else 0
    kept = [(n, [*c, *[""] * (wide - len(c))]) for n, c in filled if not _comment(c[0])]
    return _rows(_from_header(kept, titled=titled), where, columns, faults)


def _from_header(
    records: list[tuple[int, list[str]]], *, titled: bool
) -> list[tuple[int, list[str]]]:
    """Pass over a title above the header, and name headers merged with the one before.

    A title fills at most half as many cells as the lines of the table.
    """
    if not titled or not records:
        return records
    filled = [sum(map(bool, map(str.strip, c))) for _, c in records[:_MOST_TITLES]]
    start = next(at for at, many in enumerate(filled) if 2 * many > max(filled))
    line, head = records[start]
    for at, name in enumerate(head):
        below = any(
            cells[at : at + 1] not in ([], [""]) for _, cells in records[start:]
        )
        if at and not name.strip() and below:
            head[at] = f"{head[at - 1]}{GOES_ON}"
    return [(line, head), *records[start + 1 :]]


_NOT_A_WORKBOOK = (
    BadZipFile,
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


class _TooMuchError(Exception):
    """More in a workbook than anybody keeps in a roster."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(found)
        self.found, self.allowed = found, allowed


def _check_unpacked(data: bytes) -> None:
    """Count what a workbook holds before anything is made of it."""
    with ZipFile(io.BytesIO(data)) as book:
        members = [m for m in book.infolist() if not m.filename.startswith("xl/media/")]
        size = sum(member.file_size for member in members)
        if size > _MOST_UNPACKED:
            found = f"{size / 2**20:,.0f} MiB once unpacked"
            raise _TooMuchError(found, f"at most {_MOST_UNPACKED // 2**20} MiB")
        counts = {True: 0, False: 0}
        for member in members:
            name = member.filename
            cells = "worksheets/" in name or "sharedStrings" in name
            counts[cells] += book.read(member).count(b"<")
    for cells, what in ((True, "cells and texts"), (False, "formats and names")):
        if counts[cells] > _MOST_TAGS[cells]:
            found = f"{counts[cells]:,} XML tags of {what}"
            raise _TooMuchError(found, f"at most {_MOST_TAGS[cells]:,}")


def _filled(rows: Iterable[Sequence[object]]) -> list[tuple[int, list[str]]]:
    """Return the rows that hold something, with their numbers."""
    filled = []
    for number, values in enumerate(rows, start=1):
        if number > MOST_SHEET_ROWS:
            found = f"a sheet that goes on after row {MOST_SHEET_ROWS:,}"
            raise _TooMuchError(found, f"at most {MOST_SHEET_ROWS:,} rows")
        if any(value is not None for value in values[MOST_COLUMNS:]):
            found = f"a cell in row {number:,} far to the right"
            raise _TooMuchError(found, f"at most {MOST_COLUMNS} columns")
        cells = ["" if v is None else _cell(v) for v in values[:MOST_COLUMNS]]
        if any(cell.strip() for cell in cells):
            filled.append((number, cells))
    return filled


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
) -> tuple[RawRow, ...]:
    if not records:
        return ()
    head_line, head = records[0]
    if _too_large(records, Origin(where=where, line=head_line), faults):
        return ()
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
        rows.append(RawRow(fields={n: c.strip() for n, c in pairs if n}, origin=origin))
    return tuple(rows)


def _too_large(
    records: Sequence[tuple[int, list[str]]], origin: Origin, faults: Faults
) -> bool:
    """Note a table of more columns or cells than anybody fills."""
    wide, cells = len(records[0][1]), len(records) * len(records[0][1])
    for found, most, what in (
        (wide, MOST_COLUMNS, "columns"),
        (cells, MOST_CELLS, "cells"),
    ):
        if found > most:
            faults.add(
                origin,
                field=None,
                found=f"{found:,} {what}",
                allowed=f"at most {most:,} {what}",
                remedy=_TOO_MUCH,
            )
            return True
    return False


def _check_header(
    names: Sequence[str], columns: Sequence[str], origin: Origin, faults: Faults
) -> bool:
    before = len(faults.found)
    for name in [n for n, count in Counter(names).items() if n and count > 1]:
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


def write_csv(rows: Iterable[RawRow], columns: Sequence[str]) -> str:
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


def so_many_bytes(size: int) -> str:
    """Say a size as people read it: in whole mebibytes, small ones in kibibytes."""
    large = size >= 2**20
    return f"{size / 2**20:,.0f} MiB" if large else f"{size / 2**10:,.0f} KiB"


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
                found=so_many_bytes(status.st_size),
                allowed=f"at most {so_many_bytes(most)}",
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
