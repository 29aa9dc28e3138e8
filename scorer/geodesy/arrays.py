"""What the geodesy modules share about scalars and arrays."""

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scorer.errors import GeometryError
from scorer.facts import Fact

Array = NDArray[np.float64]
Point = tuple[float, float]
"""(east_m, north_m) in the event's plane."""
Points = tuple[Array, Array]
"""(east_m, north_m), each an array."""


def floats(*values: ArrayLike) -> tuple[Array, ...]:
    """Make float arrays of one shape."""
    arrays = [np.asarray(v, dtype=float) for v in values]
    if all(one.shape == arrays[0].shape for one in arrays):
        return tuple(arrays)
    return tuple(np.broadcast_arrays(*arrays))


def columns(points: Sequence[Point]) -> Points:
    """Make two arrays, (N,) each, of N points."""
    pairs = np.array(points, dtype=float).reshape(-1, 2)
    return pairs[:, 0].copy(), pairs[:, 1].copy()


def mapped(function: Callable[..., Any], *arrays: Array) -> tuple[Array, ...]:
    """Call a function of pyproj with arrays of one shape; return arrays of that shape.

    It takes an array of one element for a number, which NumPy allows no more.
    """
    if arrays[0].size == 1:
        values = function(*(array.item() for array in arrays))
    else:
        values = function(*(array.ravel() for array in arrays))
    shape = arrays[0].shape
    return tuple(np.asarray(v, dtype=float).reshape(shape) for v in values)


def plain(value: Array) -> float | Array:
    """Return a Python float for a zero-dimensional array, an array as it is."""
    return float(value) if np.ndim(value) == 0 else value


def refuse(mask: ArrayLike, says: Fact) -> None:
    """Raise GeometryError where `mask` holds for any element."""
    bad = np.asarray(mask, dtype=bool)
    if not bad.any():
        return
    raise GeometryError(says, mask=np.atleast_1d(bad))


def turned(angle_deg: ArrayLike, full_deg: float = 360.0) -> Array:
    """Bring angles into 0 up to a full turn, which itself becomes 0.

    The remainder alone does not: -1e-15 % 360 is 360 in floating point.
    """
    angle = np.asarray(angle_deg, dtype=float) % full_deg
    return np.where(angle == full_deg, 0.0, angle)
