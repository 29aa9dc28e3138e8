"""Dataclasses whose arrays are columns: one row for each fix or observation."""

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

_Table = TypeVar("_Table", bound="DataclassInstance")

Rows = slice | NDArray[np.bool_] | NDArray[np.int64]
"""Which rows: a slice, a mask or their numbers."""


def columns(of: "DataclassInstance") -> dict[str, NDArray[Any]]:
    """Return the arrays of a dataclass by name."""
    values = {item.name: getattr(of, item.name) for item in fields(of)}
    return {name: v for name, v in values.items() if isinstance(v, np.ndarray)}


def rows(of: _Table, which: Rows) -> _Table:
    """Return the same with some of the rows; a column left empty stays so."""
    some = {name: v[which] if v.size else v for name, v in columns(of).items()}
    return replace(of, **some)
