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
from scorer.tracks.lines import Bytes, Index, decimals, refuse_oversize

TYPES = ("GGA", "RMC", "ZDA", "GST", "GSA")
_LF, _CR, _DOLLAR, _STAR, _COMMA = (ord(c) for c in "\n\r$*,")
_HEX = np.full(256, 255, dtype=np.uint8)
for _i, _c in enumerate("0123456789ABCDEF"):
    _HEX[[ord(_c), ord(_c.lower())]] = _i


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sentences:
    """Sound sentences of the types read here, in file order; arrays are (S,)."""

    data: Bytes
    start: Index
    """Offset of `$`."""
    end: Index
    """Offset behind the last field."""
    kind: Index
    """Index into TYPES."""
    line: Index
    commas: Index
    """(C,) offsets of all commas of the file."""

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
            commas=self.commas,
        )

    def field(self, k: int) -> tuple[Index, Index]:
        """Return where field k (from 1) begins and ends; an empty place if missing."""
        first = np.searchsorted(self.commas, self.start) + k - 1
        known = np.append(self.commas, len(self.data))
        comma = known[np.minimum(first, len(known) - 1)]
        behind = known[np.minimum(first + 1, len(known) - 1)]
        there = comma < self.end
        start = np.where(there, comma + 1, self.end)
        return start, np.where(there, np.minimum(behind, self.end), self.end)

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
    data = np.frombuffer(blob.data, np.uint8)
    feed = data == _LF
    starts = np.flatnonzero(data == _DOLLAR)
    starts = starts[starts + 7 < len(data)]
    starts, kind = _known(data, starts)
    limits = np.flatnonzero(feed | (data == _CR) | (data == _DOLLAR))
    limits = np.append(limits, len(data))
    stops = limits[np.searchsorted(limits, starts, side="right")]
    stars = np.append(np.flatnonzero(data == _STAR), len(data))
    star = stars[np.searchsorted(stars, starts)]
    starred = star < stops
    found = Sentences(
        data=data,
        start=starts,
        end=np.where(starred, star, stops),
        kind=kind,
        line=np.searchsorted(np.flatnonzero(feed), starts) + 1,
        commas=np.flatnonzero(data == _COMMA),
    )
    right = starred & _checked(found, stops)
    repairs.note(
        "bad-checksum", found.line[starred & ~right], "sentence with a wrong checksum"
    )
    if starred.any():
        cut = found.line[~starred]
        repairs.note("cut-sentence", cut, "sentence cut off before its checksum")
        return found.take(right)
    repairs.note(
        "no-checksum", found.line, "sentence without a checksum, used as it is"
    )
    return found


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
