"""Dataclasses whose arrays are columns: one row for each fix or observation."""

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.plain import usual_step

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

_Table = TypeVar("_Table", bound="DataclassInstance")

MOST_FIXES = 300
"""Fixes that are held together at most: the work of a running median goes with them."""

Rows = slice | NDArray[np.bool_] | NDArray[np.int64]
"""Which rows: a slice, a mask or their numbers."""


def columns(of: "DataclassInstance") -> dict[str, NDArray[Any]]:
    """Return the arrays of a dataclass by name."""
    values = {item.name: getattr(of, item.name) for item in fields(of)}
    return {name: v for name, v in values.items() if isinstance(v, np.ndarray)}


def fixes_in(time_s: NDArray[np.float64], span_s: float) -> int:
    """Return how many fixes of a log are of so long: one at least, `MOST_FIXES` at most."""
    return int(np.clip(span_s / usual_step(time_s), 1, MOST_FIXES))


def rows(of: _Table, which: Rows) -> _Table:
    """Return the same with some of the rows; a column left empty stays so."""
    some = {name: v[which] if v.size else v for name, v in columns(of).items()}
    return replace(of, **some)
