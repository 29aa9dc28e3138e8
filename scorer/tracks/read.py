"""Read a flight log of any known format, told by its content."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Protocol

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.tracks.igc import read_igc
from scorer.tracks.lines import decode, refuse_oversize
from scorer.tracks.track import Track

SNIFF_BYTES = 65_536
"""How much of a log is looked at to tell its format."""


class Reader(Protocol):
    """What every format's reader offers."""

    def __call__(
        self, blob: Blob, *, near_date: date | None, time_zone: str | None
    ) -> Track:
        """Read a log or raise InputError."""
        ...


READERS: dict[str, Reader] = {"igc": read_igc}
_SIGNS: dict[str, Callable[[bytes], object]] = {
    "igc": re.compile(rb"^(?:B\d{13}[NS]|H[FOPS]DTE)", re.MULTILINE).search,
}
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
    head = blob.data[:SNIFF_BYTES].replace(b"\r", b"\n").replace(b"\0", b"")
    for name, sign in _SIGNS.items():
        if sign(head):
            return name
    ending = blob.name.rpartition(".")[2].casefold()
    if ending in READERS:
        return ending
    raise _unknown(blob, f'a file that begins "{decode(head[:40])}"')


def _unknown(blob: Blob, found: str) -> InputError:
    allowed = "a flight log: " + ", ".join(name.upper() for name in READERS)
    return InputError([Fault(where=blob.name, found=found, allowed=allowed)])
