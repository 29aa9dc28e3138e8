"""The fixed part of IGC fix records as numbers, without a loop over fixes.

Source: FAI IGC, Technical specification for GNSS flight recorders, appendix A, A4.1 (B
record).
"""

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.lines import Bytes, Index
from scorer.tracks.order import DAY_S

FIX_LENGTH = 35
"""B record without extensions."""

_ZERO = np.uint8(ord("0"))
_MINUS = ord("-")
_FIELDS = {
    "clock": (1, (36000, 3600, 600, 60, 10, 1)),  # HHMMSS: seconds
    "lat_deg": (7, (10, 1)),
    "lat_mmin": (9, (10_000, 1000, 100, 10, 1)),  # thousandths of a minute
    "lon_deg": (15, (100, 10, 1)),
    "lon_mmin": (18, (10_000, 1000, 100, 10, 1)),
    "pressure_alt": (25, (10_000, 1000, 100, 10, 1)),
    "gnss_alt": (30, (10_000, 1000, 100, 10, 1)),
}
"""Offset in the B record and the weights of the digits (A4.1)."""


def _weights() -> NDArray[np.float32]:
    table = np.zeros((len(_FIELDS), FIX_LENGTH), dtype=np.float32)
    for row, (offset, weights) in enumerate(_FIELDS.values()):
        table[row, offset : offset + len(weights)] = weights
    return table


_WEIGHTS = _weights()


class Body:
    """The fixed part of N B records: characters, and fields as numbers.

    All fields come from one product of the (35, N) digits with a table of weights.
    Single precision is exact here: no sum exceeds 2^24.
    """

    def __init__(self, char: Bytes) -> None:
        self.char = char
        self._digits = char - _ZERO
        self._numbers = _WEIGHTS @ self._digits.astype(np.float32)

    @classmethod
    def gather(cls, data: Bytes, start: Index) -> "Body":
        """Take the records that begin at `start`."""
        if not start.size:
            return cls(np.empty((FIX_LENGTH, 0), dtype=np.uint8))
        rows = np.lib.stride_tricks.sliding_window_view(data, FIX_LENGTH)[start]
        return cls(np.ascontiguousarray(rows.T))

    def sound(self) -> NDArray[np.bool_]:
        """Mark the records whose characters may stand where they do."""
        char, digit = self.char, self._digits < 10
        good = digit[1:14].all(axis=0) & digit[15:23].all(axis=0)
        for place, pair in ((14, b"NS"), (23, b"EW"), (24, b"AV")):
            good &= (char[place] == pair[0]) | (char[place] == pair[1])
        for tens in (3, 5, 9, 18):  # minutes, seconds, both minutes of arc
            good &= char[tens] < ord("6")
        good &= self.number("clock") < DAY_S
        return good

    def number(self, name: str) -> Array:
        """Return a field that holds digits only, (N,)."""
        number: Array = self._numbers[list(_FIELDS).index(name)].astype(float)
        return number

    def angle(self, name: str, extra_min: Array) -> Array:
        """Return a latitude or longitude without its sign, (N,) degrees."""
        minutes = self.number(f"{name}_mmin") / 1000 + np.nan_to_num(extra_min)
        return self.number(f"{name}_deg") + minutes / 60

    def altitude(self, name: str) -> Array:
        """Return an altitude; NaN where no number stands, (N,).

        Its first character may be a minus.
        """
        offset, weights = _FIELDS[name]
        value = self.number(name)
        digits = self._digits[offset : offset + len(weights)]
        odd = np.flatnonzero((digits > 9).any(axis=0))
        if odd.size:
            minus = self.char[offset, odd] == _MINUS
            rest = digits[1:, odd]
            below = np.array(weights[1:], dtype=float) @ rest.astype(float)
            good = minus & (rest <= 9).all(axis=0)
            value[odd] = np.where(good, -below, np.nan)
        return value
