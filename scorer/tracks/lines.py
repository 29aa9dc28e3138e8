"""Lines and decimal numbers in the bytes of a log, without a loop over lines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.tracks.plain import marked

Bytes = NDArray[np.uint8]
Index = NDArray[np.int64]

MAX_LOG_BYTES = 128 * 2**20
"""Four days at 1 Hz in the wordiest format stay under this."""
MAX_LOG_LINES = 8_000_000
MAX_FIXES = 2_000_000
"""Three weeks at one fix a second."""
MAX_NUMBER = 17
"""Longest number read without float(): a sign, a point and 15 digits."""
MAX_TEXT = 200
"""Longest header or label kept, in characters."""

_LF, _CR, _POINT = 10, 13, 46


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lines:
    """The lines of a log that are not empty; all arrays are (L,)."""

    data: Bytes
    start: Index
    """Offset of the first byte."""
    end: Index
    """Offset behind the last byte, line ends excluded."""
    number: Index
    """Line number as an editor counts, from 1."""

    def __len__(self) -> int:
        return len(self.start)

    def take(self, which: NDArray[np.bool_] | Index) -> "Lines":
        """Select some of the lines."""
        return Lines(
            data=self.data,
            start=self.start[which],
            end=self.end[which],
            number=self.number[which],
        )

    def text(self, i: int) -> str:
        """Return one line as text."""
        return decode(self.data[self.start[i] : self.end[i]].tobytes())


def split_lines(blob: Blob) -> Lines:
    """Find the lines of a log; CR, LF and any mixture of them end a line.

    Raises InputError when the log is larger than MAX_LOG_BYTES or MAX_LOG_LINES.
    """
    refuse_oversize(blob)
    data = np.frombuffer(blob.data, dtype=np.uint8)
    stops = places(blob, (data == _LF) | (data == _CR), 3 * MAX_LOG_LINES, "lines")
    before, behind = np.append(-1, stops) + 1, np.append(stops, len(data))
    filled = before < behind
    places(blob, filled, MAX_LOG_LINES, "lines")
    feed = data[stops] == _LF
    breaks = feed if feed.any() else ~feed
    return Lines(
        data=data,
        start=before[filled],
        end=behind[filled],
        number=np.append(0, np.cumsum(breaks))[filled] + 1,
    )


def refuse_oversize(blob: Blob) -> None:
    """Raise InputError for a log that no logger wrote in a flight."""
    if blob.size > MAX_LOG_BYTES:
        size, most = blob.size / 2**20, MAX_LOG_BYTES / 2**20
        raise too_big(blob, f"{size:.0f} MiB", f"a log of at most {most:.0f} MiB")


def places(blob: Blob, mask: NDArray[np.bool_], most: int, what: str) -> Index:
    """Return where a mask over a log is true; InputError for more than `most` places.

    Counts first: a log of nothing but commas must not fill the memory with places.
    """
    count = int(np.count_nonzero(mask))
    if count > most:
        raise too_big(blob, f"{count} {what}", f"at most {most} {what}")
    return marked(mask)


def too_big(blob: Blob, found: str, allowed: str) -> InputError:
    """Return the error for a log that no logger wrote in a flight."""
    remedy = "Cut the log to the flight"
    return InputError(
        [Fault(where=blob.name, found=found, allowed=allowed, remedy=remedy)]
    )


def decode(raw: bytes) -> str:
    """Return bytes of unknown encoding as text fit to print, at most MAX_TEXT long."""
    raw = raw[: 4 * MAX_TEXT]
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError:
        text = raw.decode("cp1252", errors="replace")
    return printable(text)


def printable(text: str) -> str:
    """Return text in one line without control characters, at most MAX_TEXT long."""
    kept = text[: 4 * MAX_TEXT]
    if not kept.isprintable():
        kept = "".join(c if c.isprintable() else " " for c in kept)
    return " ".join(kept.split())[:MAX_TEXT]


def decimals(data: Bytes, start: Index, end: Index) -> NDArray[np.float64]:
    """Read decimal numbers such as `-12.50` at many places of the same bytes.

    Parameters
    ----------
    data : (B,) uint8
    start, end : (N,) int
        Where each number stands.  It may have a sign, one decimal point and at most
        15 digits; no exponent, no blanks.

    Returns
    -------
    (N,) float64
        The same values as float() gives; NaN where no such number stands.
    """
    value = np.full(len(start), np.nan)
    length = (end - start).clip(0, MAX_NUMBER + 1)
    counts = np.bincount(length, minlength=MAX_NUMBER + 2)
    for width in marked(counts[: MAX_NUMBER + 1]).tolist():
        if not width:
            continue
        rows = marked(length == width)
        windows = np.lib.stride_tricks.sliding_window_view(data, width)
        char = np.ascontiguousarray(windows[start[rows]].T)
        while rows.size:  # one round for each place of the point
            same = _like_first(char)
            alike = char if same.all() else char[:, same]
            value[rows[same]] = _fixed(alike)
            rows, char = rows[~same], char[:, ~same]
    return value


def _like_first(char: Bytes) -> NDArray[np.bool_]:
    """Mark the numbers whose point stands where that of the first one does."""
    points = marked(char[:, 0] == _POINT)
    pointed = char == _POINT
    same: NDArray[np.bool_]
    same = pointed[int(points[0])] if points.size else ~pointed.any(axis=0)
    return same


def _fixed(char: Bytes) -> NDArray[np.float64]:
    """Read numbers of one length, (W, N) characters, the point in the same place."""
    points = marked(char[:, 0] == _POINT)
    point = int(points[0]) if points.size else len(char)
    minus = char[0] == 45
    signed = minus | (char[0] == 43)
    digit = char - np.uint8(48)
    digit[0, signed] = 0
    places = [k for k in range(len(char)) if k != point]
    total = np.zeros(char.shape[1], dtype=np.int64)
    good = np.ones(char.shape[1], dtype=bool)
    for k in places:
        total *= 10
        total += digit[k]
        good &= digit[k] < 10
    count = len(places) - signed.astype(np.int64)
    good &= (count > 0) & (count <= 15)
    value = total / 10.0 ** max(len(char) - 1 - point, 0)
    return np.where(good, np.where(minus, -value, value), np.nan)


def numbers(data: Bytes, start: Index, end: Index) -> NDArray[np.float64]:
    """Read whatever float() reads at many places of the same bytes; else NaN."""
    value = decimals(data, start, end)
    length = end - start
    for i in marked(np.isnan(value) & (length > 0) & (length < 100)).tolist():
        value[i] = number(data[start[i] : end[i]].tobytes())
    return value


def number(text: str | bytes) -> float:
    """Read one number; NaN where none stands or it is not finite."""
    try:
        value = float(text)
    except ValueError:
        return np.nan
    return value if np.isfinite(value) else np.nan
