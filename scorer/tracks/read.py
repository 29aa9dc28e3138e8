"""Read a flight log of any known format, told by its content."""

import re
from dataclasses import replace
from datetime import date
from math import inf
from pathlib import PurePosixPath

from scorer.errors import Fault, InputError
from scorer.event.log_formats import LOG_FORMATS, LogFormat
from scorer.event.model import Blob
from scorer.tracks.gpx import read_gpx
from scorer.tracks.igc import read_igc
from scorer.tracks.lines import decode, refuse_oversize
from scorer.tracks.nmea import read_nmea
from scorer.tracks.order import Spans
from scorer.tracks.table import header_of, read_table
from scorer.tracks.track import Track

SNIFF_LINES = 50
SNIFF_BYTES = 16_384
"""How much of a log is looked at to tell its format."""


_SOMETHING = re.compile(rb"[^\0\r\n\t ]")
_UTF16 = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}


def read_log(
    blob: Blob,
    *,
    near_date: date | None = None,
    time_zone: str | None = None,
    periods: Spans = (),
) -> Track:
    """Read a flight log; the content tells the format, else the file name's ending.

    Parameters
    ----------
    blob : Blob
    near_date : date, optional
        Local date of the flight: dates a log that holds none, and rights one whose
        receiver's week number has rolled over.  Both are recorded as repairs.
    time_zone : str, optional
        IANA name of the local time, for logs that use it.
    periods : tuple of (start, end), optional
        Periods of the flight's tasks, POSIX seconds: tell the day of a log without dates
        that runs past midnight, and which of two equal hours a local clock showed.

    Raises
    ------
    InputError
        The log cannot be used; the faults name file, line and reason.
    """
    refuse_oversize(blob)
    blob = replace(blob, content=blob.data)
    if not _SOMETHING.search(blob.data):
        raise _unknown(blob, "an empty file")
    blob = _plain(blob)
    track: Track = _format(blob).read(
        blob, near_date=near_date, time_zone=time_zone, periods=periods
    )
    return track


def _plain(blob: Blob) -> Blob:
    """Return UTF-16 text as UTF-8, without a byte order mark; XML stays as it is."""
    coding = _UTF16.get(blob.data[:2])
    if coding is None:
        return replace(blob, content=blob.data.removeprefix(b"\xef\xbb\xbf"))
    text = blob.data[2:].decode(coding, errors="replace")
    return (
        blob if "<gpx" in text[:SNIFF_BYTES] else replace(blob, content=text.encode())
    )


def _format(blob: Blob) -> LogFormat:
    """Tell the format by what the file holds; by its ending where that says nothing."""
    head = blob.data[:SNIFF_BYTES].replace(b"\0", b"").replace(b"\r", b"\n")
    told = [form for form in LOG_FORMATS.values() if not form.fallback]
    rest = [form for form in LOG_FORMATS.values() if form.fallback]
    for forms in (told, rest):
        signs = [form.signs(head) for form in forms]
        if any(signs):
            return forms[signs.index(max(signs))]
    ending = PurePosixPath(blob.name).suffix.casefold()
    for form in LOG_FORMATS.values():
        if ending in form.suffixes:
            return form
    raise _unknown(blob, f'a file that begins "{decode(head[:40])}"')


_GPX = re.compile(rb"<(?:\w+:)?gpx[\s>]")
_IGC = re.compile(rb"\n(?:B\d{13}[NS]|H[FOPS]DTE)")
_NMEA = re.compile(rb"\$[A-Z]{2}(?:GGA|RMC|GSA|GSV|VTG|GLL),")


def _unknown(blob: Blob, found: str) -> InputError:
    allowed = "a flight log: " + ", ".join(map(str.upper, LOG_FORMATS))
    return InputError([Fault(where=blob.name, found=found, allowed=allowed)])


def _has_header(head: bytes) -> float:
    """Tell a table by its header."""
    lines = head.decode("utf-8", errors="replace").split("\n")[:SNIFF_LINES]
    return float(any(header_of(line[:10_000]) for line in lines))


for _form in (
    LogFormat(
        name="igc",
        suffixes=(".igc",),
        signs=lambda head: len(_IGC.findall(b"\n" + head)),
        read=read_igc,
    ),
    LogFormat(
        name="gpx",
        suffixes=(".gpx",),
        signs=lambda head: inf if _GPX.search(head) else 0,
        read=read_gpx,
    ),
    LogFormat(
        name="nmea",
        suffixes=(".nmea", ".nma"),
        signs=lambda head: len(_NMEA.findall(head)),
        read=read_nmea,
    ),
    LogFormat(
        name="csv",
        suffixes=(".csv",),
        signs=_has_header,
        read=read_table,
        fallback=True,
    ),
):
    LOG_FORMATS.declare(_form.name, _form)
