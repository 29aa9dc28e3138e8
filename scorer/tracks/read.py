"""Read a flight log of any known format, told by its content."""

import re
from dataclasses import replace
from datetime import date
from typing import Protocol

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.tracks.gpx import read_gpx
from scorer.tracks.igc import read_igc
from scorer.tracks.lines import decode, refuse_oversize
from scorer.tracks.nmea import read_nmea
from scorer.tracks.table import header_of, read_table
from scorer.tracks.track import Track

SNIFF_LINES = 50
SNIFF_BYTES = 16_384
"""How much of a log is looked at to tell its format."""


class Reader(Protocol):
    """What every format's reader offers."""

    def __call__(
        self, blob: Blob, *, near_date: date | None, time_zone: str | None
    ) -> Track:
        """Read a log or raise InputError."""
        ...


READERS: dict[str, Reader] = {
    "igc": read_igc,
    "gpx": read_gpx,
    "nmea": read_nmea,
    "csv": read_table,
}
_ENDINGS = {"igc": "igc", "gpx": "gpx", "nmea": "nmea", "nma": "nmea", "csv": "csv"}
_UTF16 = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}


def read_log(
    blob: Blob, *, near_date: date | None = None, time_zone: str | None = None
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

    Raises
    ------
    InputError
        The log cannot be used; the faults name file, line and reason.
    """
    refuse_oversize(blob)
    if not blob.data.strip(b"\0\r\n\t "):
        raise _unknown(blob, "an empty file")
    blob = _plain(blob)
    reader = READERS[_format(blob)]
    return reader(blob, near_date=near_date, time_zone=time_zone)


def _plain(blob: Blob) -> Blob:
    """Return UTF-16 text as UTF-8, without a byte order mark; XML stays as it is."""
    coding = _UTF16.get(blob.data[:2])
    if coding is None:
        return replace(blob, data=blob.data.removeprefix(b"\xef\xbb\xbf"))
    text = blob.data[2:].decode(coding, errors="replace")
    return blob if "<gpx" in text[:SNIFF_BYTES] else replace(blob, data=text.encode())


def _format(blob: Blob) -> str:
    """Tell the format by what the file holds; by its ending where that says nothing."""
    head = blob.data[:SNIFF_BYTES].replace(b"\0", b"").replace(b"\r", b"\n")
    if _GPX.search(head):
        return "gpx"
    signs = {"igc": len(_IGC.findall(head)), "nmea": len(_NMEA.findall(head))}
    most = max(signs, key=lambda name: signs[name])
    if signs[most]:
        return most
    lines = head.decode("utf-8", errors="replace").split("\n")[:SNIFF_LINES]
    if any(header_of(line[:10_000]) for line in lines):
        return "csv"
    ending = _ENDINGS.get(blob.name.rpartition(".")[2].casefold())
    if ending is None:
        raise _unknown(blob, f'a file that begins "{decode(head[:40])}"')
    return ending


_GPX = re.compile(rb"<(?:\w+:)?gpx[\s>]")
_IGC = re.compile(rb"^(?:B\d{13}[NS]|H[FOPS]DTE)", re.MULTILINE)
_NMEA = re.compile(rb"\$[A-Z]{2}(?:GGA|RMC|GSA|GSV|VTG|GLL),")


def _unknown(blob: Blob, found: str) -> InputError:
    allowed = "a flight log: " + ", ".join(name.upper() for name in READERS)
    return InputError([Fault(where=blob.name, found=found, allowed=allowed)])
