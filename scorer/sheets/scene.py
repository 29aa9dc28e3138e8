"""A drawing as data: shapes in points, y downwards; SVG and PDF draw the same ones."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import floor, log10
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

PAUSE_S = 30.0
"""A longer pause between fixes is left open in drawings."""
Numbers = TypeVar("Numbers", float, NDArray[np.float64])
"""One, or many."""
Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, below."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """An open or closed line through points; `role` names its look."""

    points: tuple[Point, ...]
    role: str
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """A round or crossed sign at a place, its size in points whatever the scale."""

    at: Point
    radius: float
    role: str
    sign: str = "disc"
    """`disc`, `ring` or `cross`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A short text beside a place."""

    at: Point
    text: str
    role: str = "label"
    anchor: str = "start"
    """`start`, `middle` or `end`."""
    size: float = 6.5


Shape = Line | Dot | Label


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A finished drawing."""

    width: float
    height: float
    title: str
    """What it shows, in a sentence: read out where it cannot be seen."""
    shapes: tuple[Shape, ...]


def stretches(time_s: NDArray[np.float64]) -> list[slice]:
    """Return the stretches between pauses of the log: nothing is drawn across one."""
    if not len(time_s):
        return []
    breaks = np.flatnonzero(np.diff(time_s) > PAUSE_S) + 1
    edges = [0, *breaks.tolist(), len(time_s)]
    return [slice(a, b) for a, b in pairwise(edges)]


def nice_step(span: float, about: int) -> float:
    """Return a step of 1, 2 or 5 times a power of ten: some `about` of them in `span`."""
    rough = max(span, 1e-9) / about
    power = 10.0 ** floor(log10(rough))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= rough * 0.999)


def ticks(low: float, high: float, about: int) -> list[float]:
    """Return round values within a span, some `about`; at least two, to tell the scale."""
    step = nice_step(high - low, about)
    first = -floor(-low / step)
    count = floor(high / step + 1e-9) - first + 1
    if count < 2 and about < 20:
        return ticks(low, high, about * 2)
    return [round((first + n) * step, 9) for n in range(max(count, 0))]


def box(x: float, y: float, width: float, height: float, role: str) -> Line:
    """Return a rectangle."""
    right, below = x + width, y + height
    corners = ((x, y), (right, y), (right, below), (x, below))
    return Line(points=corners, role=role, closed=True)


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """Return least x, least y, greatest x, greatest y."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
