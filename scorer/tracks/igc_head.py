"""Read what the lines of an IGC file say beside the fixes.

Source: FAI IGC, Technical specification for GNSS flight recorders, appendix A, A3 and A7;
section numbers from memory.
"""

import re
from dataclasses import dataclass
from datetime import date

from scorer.facts import words
from scorer.tracks.fixes import Repairs
from scorer.tracks.lines import Bytes, Index, Lines
from scorer.tracks.order import epoch_day
from scorer.tracks.track import Datum

MAX_SPECIAL = 10_000
"""Header and event lines looked at; a log has some dozens."""

_DATE = re.compile(r"H[FOPS]DTE(?:DATE)?\s*:?\s*(\d\d)(\d\d)(\d\d)", re.IGNORECASE)
_HEADER = re.compile(r"H[FOPS]([A-Z0-9]{3})(.*)")
_STANDARD = {
    "PLT": "pilot",
    "GID": "registration",
    "CID": "competition_id",
    "FTY": "recorder",
    "TZN": "time_zone",
}


@dataclass(slots=True, kw_only=True)
class IgcHead:
    """What the lines that are not fixes say; positions are indices of lines."""

    headers: dict[str, str]
    dates: list[tuple[int, int]]
    """(line, days since 1970)."""
    layouts: list[tuple[int, str]]
    """(line, I record)."""
    parts: list[int]
    """Lines at which a further recording begins."""
    events: list[tuple[int, str]]
    """(line, E record)."""
    gnss_datum: Datum = Datum.UNKNOWN
    baro_datum: Datum = Datum.ISA
    no_gnss_alt: bool = False
    no_baro_alt: bool = False


def read_head(lines: Lines, special: Index, kind: Bytes, repairs: Repairs) -> IgcHead:
    """Read the header, event, layout and date records among the lines."""
    head = IgcHead(headers={}, dates=[], layouts=[], parts=[], events=[])
    skipped = special[MAX_SPECIAL:]
    repairs.note("too-many-headers", lines.number[skipped])
    differs: dict[str, int] = {}
    for i in special[:MAX_SPECIAL].tolist():
        text, number = lines.text(i), int(lines.number[i])
        match chr(kind[i]):
            case "A":
                _recorder(head, i, text)
            case "I":
                head.layouts.append((i, text))
            case "E":
                head.events.append((i, text))
            case _ if _DATE.match(text):
                _note_date(head, i, text, number, repairs)
            case _:
                _note_header(head, text, number, differs)
    joined = [int(lines.number[i]) for i in head.parts]
    repairs.note("joined", joined)
    for key, number in differs.items():
        repairs.note("headers-differ", [number], what=words(key.replace("_", " ")))
    return head


def _recorder(head: IgcHead, i: int, text: str) -> None:
    """Take the recorder's serial from an A record (A3.2): maker and serial number."""
    serial = re.split(r"FLIGHT:|[\s:]", text[1:], maxsplit=1)[0]
    if "logger" in head.headers:
        head.parts.append(i)
    else:
        head.headers["logger"] = serial


def _note_date(head: IgcHead, i: int, text: str, number: int, repairs: Repairs) -> None:
    """Read both forms of the date record, `HFDTE160701` and `HFDTEDATE:160701,01`."""
    found = _DATE.match(text)
    day, month, year = (int(part) for part in found.groups()) if found else (0, 0, 0)
    try:
        when = date(year + (2000 if year < 80 else 1900), month, day)
    except ValueError:
        repairs.note("bad-date", [number], record=words(text))
        return
    head.dates.append((i, epoch_day(when)))


def _note_header(
    head: IgcHead, text: str, number: int, differs: dict[str, int]
) -> None:
    found = _HEADER.match(text.upper())
    if not found:
        return
    code, rest = found[1], text[5:]
    value = rest.split(":", 1)[-1].strip()
    if code == "ALG":
        head.gnss_datum, head.no_gnss_alt = _gnss_datum(value)
    elif code == "ALP":
        head.baro_datum, head.no_baro_alt = _baro_datum(value)
    key = _STANDARD.get(code, code)
    if not value:
        return
    if head.headers.setdefault(key, value) != value and key in _STANDARD.values():
        differs.setdefault(key, number)


def _gnss_datum(value: str) -> tuple[Datum, bool]:
    """Read HFALG (A3.3.2): ELL, GEO, NKN or NIL, and what recorders write instead."""
    text = value.upper()
    if "ELL" in text:
        return Datum.ELLIPSOID, False
    if "GEO" in text or "MSL" in text:
        return Datum.GEOID, False
    return Datum.UNKNOWN, "NIL" in text


def _baro_datum(value: str) -> tuple[Datum, bool]:
    """Read HFALP: ISA, MSL, NKN or NIL."""
    text = value.upper()
    if "ISA" in text:
        return Datum.ISA, False
    if "MSL" in text:
        return Datum.GEOID, False
    return Datum.UNKNOWN, "NIL" in text
