"""NMEA 0183 sentences in the bytes of a log, without a loop over sentences.

Source: NMEA 0183, sentence structure and checksum: `$`, talker and type, fields parted by
commas, `*` and the exclusive or of all characters between `$` and `*` as two hexadecimal
digits.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.event.model import Blob
from scorer.tracks.fixes import Repairs
from scorer.tracks.flown import Array
from scorer.tracks.lines import (
    MAX_LOG_LINES,
    Bytes,
    Index,
    decimals,
    places,
    refuse_oversize,
)

MAX_COMMAS = 40_000_000
"""A log of MAX_LOG_BYTES has half of that."""
MAX_FIELDS = 20
_BEHIND = b"\n" + b"," * (MAX_FIELDS + 2) + b"$*"
"""Put behind the file, so that every search in it finds something."""
TYPES = ("GGA", "RMC", "ZDA", "GST", "GSA")
_LF, _BLANK, _DOLLAR, _STAR, _COMMA = (ord(c) for c in "\n $*,")
_HEX = np.full(256, 255, dtype=np.uint8)
for _i, _c in enumerate("0123456789ABCDEF"):
    _HEX[[ord(_c), ord(_c.lower())]] = _i


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sentences:
    """Sound sentences of the types read here, in file order; arrays are (S,)."""

    data: Bytes
    """The file, and a little behind it."""
    start: Index
    """Offset of `$`."""
    end: Index
    """Offset behind the last field."""
    kind: Index
    """Index into TYPES."""
    line: Index
    comma: Index
    """Index into `commas` of the sentence's first."""
    commas: Index
    """(C,) offsets of all commas of the file, and some behind its end."""

    def __len__(self) -> int:
        return len(self.start)

    def of(self, kind: str) -> "Sentences":
        """Select the sentences of a type."""
        return self.take(self.kind == TYPES.index(kind))

    def take(self, which: NDArray[np.bool_]) -> "Sentences":
        """Select some of the sentences."""
        return Sentences(
            data=self.data,
            start=self.start[which],
            end=self.end[which],
            kind=self.kind[which],
            line=self.line[which],
            comma=self.comma[which],
            commas=self.commas,
        )

    def field(self, k: int) -> tuple[Index, Index]:
        """Return where field k (from 1) begins and ends; an empty place if missing."""
        before, behind = self.commas[self.comma + (k - 1)], self.commas[self.comma + k]
        return np.minimum(before + 1, self.end), np.minimum(behind, self.end)

    def number(self, k: int) -> Array:
        """Read field k as a number; NaN where there is none."""
        return decimals(self.data, *self.field(k))

    def letter(self, k: int) -> Bytes:
        """Return the first character of field k; 0 where it is empty."""
        start, end = self.field(k)
        char = self.data[np.minimum(start, len(self.data) - 1)]
        return np.where(start < end, char, 0).astype(np.uint8)


def find_sentences(blob: Blob, repairs: Repairs) -> Sentences:
    """Find the sentences of TYPES whose checksum is right.

    Sentences without a checksum are taken only where the whole log has none: in any
    other log such a line was cut off.
    """
    refuse_oversize(blob)
    data = np.frombuffer(blob.data + _BEHIND, np.uint8)
    dollar = data == _DOLLAR
    starts, kind = _known(
        data, places(blob, dollar[: len(blob.data)], MAX_LOG_LINES, "sentences")
    )
    limits = places(blob, (data < _BLANK) | dollar, 3 * MAX_LOG_LINES, "lines")
    behind = np.searchsorted(limits, starts, side="right")
    stops, feeds = limits[behind], np.cumsum(data[limits] == _LF)
    star = _stars(blob, data, starts, stops)
    starred = star < stops
    commas = places(blob, data == _COMMA, MAX_COMMAS, "commas")
    found = Sentences(
        data=data,
        start=starts,
        end=np.where(starred, star, stops),
        kind=kind,
        line=feeds[behind - 1] + 1,
        comma=np.searchsorted(commas, starts),
        commas=commas,
    )
    right = starred & _checked(found, stops)
    repairs.note("bad-checksum", found.line[starred & ~right])
    if starred.any():
        cut = found.line[~starred]
        repairs.note("cut-sentence", cut)
        return found if right.all() else found.take(right)
    repairs.note("no-checksum", found.line)
    return found


def _stars(blob: Blob, data: Bytes, starts: Index, stops: Index) -> Index:
    """Return where the `*` of each sentence stands; one behind its end if it has none."""
    usual = np.maximum(stops - 3, starts)  # two digits between it and the end
    if (data[usual] == _STAR).all():
        return usual
    stars = places(blob, data == _STAR, 3 * MAX_LOG_LINES, "checksums")
    return stars[np.searchsorted(stars, starts)]


def _known(data: Bytes, start: Index) -> tuple[Index, Index]:
    """Select the sentences of TYPES, whoever the talker is."""
    letters = np.array([[ord(c) for c in name] for name in TYPES], dtype=np.uint8)
    kind = np.full(len(start), -1, dtype=np.int64)
    third, fourth, fifth = data[start + 3], data[start + 4], data[start + 5]
    comma = data[start + 6] == _COMMA
    for i, (a, b, c) in enumerate(letters):
        kind[comma & (third == a) & (fourth == b) & (fifth == c)] = i
    return start[kind >= 0], kind[kind >= 0]


def _checked(found: Sentences, stops: Index) -> NDArray[np.bool_]:
    """Compare the stated checksums with the bytes."""
    if not len(found):
        return np.zeros(0, dtype=bool)
    data, last = found.data, len(found.data) - 1
    spans = np.column_stack([found.start + 1, np.minimum(found.end, last)]).ravel()
    total = np.bitwise_xor.reduceat(data, spans)[::2]
    high = _HEX[data[np.minimum(found.end + 1, last)]]
    low = _HEX[data[np.minimum(found.end + 2, last)]]
    stated = (high < 16) & (low < 16) & (found.end + 3 <= stops)
    right: NDArray[np.bool_] = total == ((high & 15) << 4 | (low & 15))
    return stated & right
