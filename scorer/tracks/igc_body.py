"""The fixed part of IGC fix records as numbers, without a loop over fixes.

Source: FAI IGC, Technical specification for GNSS flight recorders, appendix A, A4.1 (B
record).
"""

from functools import cached_property

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
    "hours": (1, 3),
    "minutes": (3, 5),
    "seconds": (5, 7),
    "lat_deg": (7, 9),
    "lat_mmin": (9, 14),  # thousandths of a minute
    "lon_deg": (15, 18),
    "lon_mmin": (18, 23),
    "pressure_alt": (25, 30),
    "gnss_alt": (30, 35),
}
"""First and last place in the B record (A4.1)."""


class Body:
    """The fixed part of N B records: characters, and fields as numbers."""

    def __init__(self, char: Bytes) -> None:
        self.char = char
        """(35, N)."""
        self._digits = char - _ZERO

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
        good &= self.clock_s < DAY_S
        return good

    def number(self, name: str) -> NDArray[np.int32]:
        """Return a field that holds digits only, (N,)."""
        first, last = _FIELDS[name]
        total = np.zeros(self.char.shape[1], dtype=np.int32)
        for digit in self._digits[first:last]:  # over the digits of a number
            total *= 10
            total += digit
        return total

    @cached_property
    def clock_s(self) -> NDArray[np.int32]:
        """The seconds since midnight, (N,)."""
        hours, minutes, seconds = map(self.number, ("hours", "minutes", "seconds"))
        return hours * 3600 + minutes * 60 + seconds

    def angle(self, name: str, extra_min: Array) -> Array:
        """Return a latitude or longitude without its sign, (N,) degrees."""
        minutes: Array = self.number(f"{name}_mmin") / 1000 + np.nan_to_num(extra_min)
        return self.number(f"{name}_deg") + minutes / 60

    def altitude(self, name: str) -> Array:
        """Return an altitude; NaN where no number stands, (N,).

        Its first character may be a minus.
        """
        first, last = _FIELDS[name]
        value = self.number(name).astype(float)
        digits = self._digits[first:last]
        odd = np.flatnonzero((digits > 9).any(axis=0))
        if odd.size:
            minus = self.char[first, odd] == _MINUS
            rest = digits[1:, odd]
            below = 10.0 ** np.arange(3, -1, -1) @ rest
            good = minus & (rest <= 9).all(axis=0)
            value[odd] = np.where(good, -below, np.nan)
        return value
