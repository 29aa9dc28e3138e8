"""The measuring team and those who key: what reaches marks.csv of each marker.

The noise is that which `scorer.geodesy.precision` states for each method; it is drawn
here on its own so that the two can be held against each other.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

import numpy as np

from scorer.practice.grounds import REFERENCES, Grounds, Point
from scorer.practice.piloting import Drop
from scorer.practice.scenes import FIRST_TARGET
from scorer.practice.spellings import on_tape, spellings
from scorer.units import FOOT_M

Cells = Mapping[str, str]
"""Column to text."""

TAPE_M, TAPE_PER_M = 0.01, 0.0005
BEARING_DEG = 1.0
RECEIVER_M = 3.0
MEASURING_RADIUS_M: Mapping[str, float] = {
    "imperial": float(300 * FOOT_M),
    "metric": 100.0,
}
_BY_TAPE_ALONE_M = 25.0
"""Nobody sights a marker from elsewhere that lies this near to the target."""
_WIDEST = 2.0
"""Noise beyond so many sigma is drawn anew: teams notice gross errors."""
_RECEIVED = ("grid", "latlon")
_NEAR = ("tape",)
_NEAR_SIGHTED = ("tape",) * 8 + ("polar", "arcs")
"""Near the first target, where there are named points to measure from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One marker as the measuring team wrote it down."""

    method: str
    cells: Cells = field(default_factory=dict)
    """Everything but the distances."""
    distances_m: Mapping[str, Fraction] = field(default_factory=dict)
    """Column (`distance`, `distance2`) to what the tape said."""
    sigma_m: float = 0.0
    """One sigma of the distance from the target that follows from it."""


def measure(
    drop: Drop,
    target_name: str,
    grounds: Grounds,
    units: str,
    rng: np.random.Generator,
    *,
    method: str | None = None,
) -> Slip:
    """Measure a marker: taped near the target, by a receiver outside the radius."""
    target = grounds.points[target_name]
    distance = grounds.distance_m(target, drop.point)
    if method is None:
        near = distance <= MEASURING_RADIUS_M[units]
        sighted = target_name == FIRST_TARGET and distance > _BY_TAPE_ALONE_M
        ways = (_NEAR_SIGHTED if sighted else _NEAR) if near else _RECEIVED
        method = str(rng.choice(ways))
    if method in _RECEIVED:
        return _received(drop, grounds, rng, method)
    if method == "polar":
        return _polar(drop, target, grounds, units, rng)
    if method == "arcs":
        return _arcs(drop, target, grounds, units, rng)
    cells = {"from": target_name} if grounds.kinds[target_name] == "goal" else {}
    if rng.random() < 0.4 or method == "tape with bearing":
        cells["bearing"] = _bearing(target, drop.point, grounds, rng)
    return Slip(
        method="tape",
        cells=cells,
        distances_m={"distance": _taped(distance, units, rng)},
        sigma_m=_tape_sigma(distance),
    )


def keyed(slip: Slip, units: str, spelling: int) -> dict[str, str]:
    """Return the columns of one keying, distances in one of the spellings."""
    cells = {"method": slip.method, **slip.cells}
    ways = spellings(units)
    for column, metres in slip.distances_m.items():
        text, unit = ways[spelling % len(ways)](metres)
        cells[column] = text
        if unit:
            cells["unit"] = unit
    return cells


def misread(slip: Slip) -> Slip:
    """Return the slip as one misreads it: two feet or a metre more on the first tape."""
    wrong = dict(slip.distances_m)
    wrong["distance"] = slip.distances_m["distance"] + Fraction(9, 10)
    return Slip(
        method=slip.method, cells=slip.cells, distances_m=wrong, sigma_m=slip.sigma_m
    )


def _noise(sigma: float, rng: np.random.Generator) -> float:
    while True:
        drawn = float(rng.standard_normal())
        if abs(drawn) <= _WIDEST:
            return sigma * drawn


def _tape_sigma(distance_m: float) -> float:
    return TAPE_M + TAPE_PER_M * distance_m


def _taped(distance_m: float, units: str, rng: np.random.Generator) -> Fraction:
    read = distance_m + _noise(_tape_sigma(distance_m), rng)
    return on_tape(max(read, 0.0), units)


def _bearing(
    start: Point, end: Point, grounds: Grounds, rng: np.random.Generator
) -> str:
    """Return a bearing with its error, from grid or true north."""
    grid = np.degrees(np.arctan2(end[0] - start[0], end[1] - start[1]))
    grid += _noise(BEARING_DEG, rng)
    if rng.random() < 0.3:
        return f"{(grid + grounds.plane.convergence_deg(start)) % 360:.1f} T"
    return f"{grid % 360:.1f}"


def _received(
    drop: Drop, grounds: Grounds, rng: np.random.Generator, method: str
) -> Slip:
    """Take coordinates with a hand-held receiver."""
    east, north = (part + _noise(RECEIVER_M, rng) for part in drop.point)
    if method == "grid":
        cells = {"easting": f"{east:.1f}", "northing": f"{north:.1f}"}
    else:
        lat, lon = grounds.plane.degrees_of((east, north))
        cells = {"lat": f"{lat:.6f}", "lon": f"{lon:.6f}"}
    return Slip(method=method, cells=cells, sigma_m=RECEIVER_M)


def _polar(
    drop: Drop, target: Point, grounds: Grounds, units: str, rng: np.random.Generator
) -> Slip:
    """Measure distance and bearing from the nearest named point."""
    name = _nearest(drop.point, grounds)[0]
    start = grounds.points[name]
    distance = grounds.distance_m(start, drop.point)
    along, across = _tape_sigma(distance), distance * np.radians(BEARING_DEG)
    line, sight = _unit(start, drop.point), _unit(target, drop.point)
    cosine = float(line @ sight)
    return Slip(
        method="polar",
        cells={"from": name, "bearing": _bearing(start, drop.point, grounds, rng)},
        distances_m={"distance": _taped(distance, units, rng)},
        sigma_m=float(np.hypot(along * cosine, across * np.sqrt(1.0 - cosine**2))),
    )


def _arcs(
    drop: Drop, target: Point, grounds: Grounds, units: str, rng: np.random.Generator
) -> Slip:
    """Tape from two named points that see the marker under a good angle."""
    names = _good_pair(drop.point, grounds)
    first, second = (grounds.points[name] for name in names)
    lengths = [grounds.distance_m(p, drop.point) for p in (first, second)]
    rows = np.array([_unit(first, drop.point), _unit(second, drop.point)])
    spread = np.linalg.inv(rows) * [_tape_sigma(length) for length in lengths]
    base, to = np.subtract(second, first), np.subtract(drop.point, first)
    return Slip(
        method="arcs",
        cells={
            "from": names[0],
            "from2": names[1],
            "side": "L" if base[0] * to[1] - base[1] * to[0] > 0 else "R",
        },
        distances_m={
            "distance": _taped(lengths[0], units, rng),
            "distance2": _taped(lengths[1], units, rng),
        },
        sigma_m=float(np.linalg.norm(_unit(target, drop.point) @ spread)),
    )


def _nearest(point: Point, grounds: Grounds) -> Sequence[str]:
    return sorted(REFERENCES, key=lambda name: _length(grounds.points[name], point))


def _good_pair(point: Point, grounds: Grounds) -> tuple[str, str]:
    """Return the two named points whose lines to the mark cross most squarely."""
    names = _nearest(point, grounds)
    pairs = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :]]
    lines = {name: _unit(grounds.points[name], point) for name in names}
    return max(pairs, key=lambda pair: _cross(lines[pair[0]], lines[pair[1]]))


def _cross(a: np.ndarray, b: np.ndarray) -> float:
    return abs(float(a[0] * b[1] - a[1] * b[0]))


def _length(a: Point, b: Point) -> float:
    return float(np.hypot(b[0] - a[0], b[1] - a[1]))


def _unit(a: Point, b: Point) -> np.ndarray:
    return np.subtract(b, a) / max(_length(a, b), 1e-9)
