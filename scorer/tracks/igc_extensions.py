"""Read the extensions of IGC fixes, as the I record lays them out.

Source: FAI IGC, Technical specification for GNSS flight recorders, appendix A, A3.6 (I
record) and A7 (codes); section numbers from memory.
"""

import re
from collections.abc import Mapping

import numpy as np

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.tracks.fixes import Repairs
from scorer.tracks.flown import Array
from scorer.tracks.igc_body import FIX_LENGTH
from scorer.tracks.lines import Index, Lines
from scorer.tracks.plain import marked

MAX_LAYOUTS = 64
"""Different I records in one file."""


def read_extensions(
    blob: Blob,
    fix_lines: Lines,
    where: Index,
    layouts: list[tuple[int, str]],
    repairs: Repairs,
) -> Mapping[str, Array]:
    """Read the extensions of each fix by the I record in force at its line.

    Returns a number (N,) by code, NaN where the fix has none; LAD, LOD and TDS as
    fractions of their last digit's unit.
    """
    values: dict[str, Array] = {}
    at = np.array([i for i, _ in layouts], dtype=np.int64)
    # Fixes before the first I record go by it too: logs exist that state it late.
    force = (np.searchsorted(at, where) - 1).clip(min=0)
    texts = [text for _, text in layouts]
    if len(set(texts)) > MAX_LAYOUTS:
        found = f"{len(set(texts))} different I records"
        raise InputError(
            [Fault(where=blob.name, found=found, allowed=f"at most {MAX_LAYOUTS}")]
        )
    unreadable = np.zeros(len(where), dtype=bool)
    for text in dict.fromkeys(texts):
        same = np.array([t == text for t in texts])
        rows = marked(same[force])
        own = fix_lines if same.all() else fix_lines.take(rows)
        for code, first, last in _layout(text):
            if code not in _SCALE:
                continue
            number = _extension(own, first, last)
            unreadable[rows] |= np.isnan(number)
            column = values.setdefault(code, np.full(len(where), np.nan))
            column[rows] = number * _scale(code, last - first + 1)
    repairs.note("garbled-extension", fix_lines.number[unreadable])
    return values


_SCALE = {"FXA": 1.0, "VXA": 1.0, "SIU": 1.0, "LAD": 0.001, "LOD": 0.001, "TDS": 1.0}


def _scale(code: str, digits: int) -> float:
    """Return the unit of an extension's last digit: metres, minutes of arc, seconds."""
    fraction = code in ("LAD", "LOD", "TDS")
    return _SCALE[code] / 10**digits if fraction else _SCALE[code]


def _layout(text: str) -> list[tuple[str, int, int]]:
    """Read an I record: `I023636LAD3737LOD` gives code, first and last byte from 1."""
    found = re.findall(r"(\d\d)(\d\d)([A-Z0-9]{3})", text[3:])
    return [
        (code, int(first), int(last))
        for first, last, code in found
        if FIX_LENGTH < int(first) <= int(last) < int(first) + 10
    ]


def _extension(lines: Lines, first: int, last: int) -> Array:
    """Read the digits at bytes first to last (from 1) of each line; else NaN."""
    long = lines.end - lines.start >= last
    every = bool(long.all())
    at = (lines.start if every else lines.start[long]) + (first - 1)
    value, good = np.zeros(len(at)), np.ones(len(at), dtype=bool)
    for byte in range(last - first + 1):
        digit = lines.data[at + byte] - np.uint8(48)
        good &= digit < 10
        value = value * 10.0 + digit
    value[~good] = np.nan
    if every:
        return value
    found = np.full(len(lines), np.nan)
    found[long] = value
    return found
