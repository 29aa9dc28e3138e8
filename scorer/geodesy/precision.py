"""How well each way of measuring a marker does: one sigma, with where it comes from."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from math import hypot, radians
from typing import NamedTuple

import numpy as np

from scorer.errors import Fault, InputError, nearest
from scorer.geodesy.arrays import Array, turned
from scorer.units import Unreadable, length_m

TAPE_M = 0.01
"""Reading and holding a tape at a sand-filled bag.  Common practice, no source."""
TAPE_PER_M = 0.0005
"""Slope, sag and tension of a hand-held tape: 5 cm in 100 m.  Common practice, no
source; the tape itself may err by 0.3 mm + 0.2 mm per metre (class II of the European
measuring instruments directive, annex on material measures, from memory)."""
BEARING_DEG = 1.0
"""A hand-held compass or a bearing by eye along a line.  Common practice, no source."""
RECEIVER_M = 3.0
"""A hand-held satellite receiver, each axis.  Common practice, no source; the published
performance standard of GPS (SPS PS, 5th ed. 2020) promises better than 8 m at 95 %
globally for the signal alone, which is about 3.3 m per axis."""
PLACE_M = 0.0
"""The places of the event: their coordinates are what all marks refer to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveySigmas:
    """One sigma of each kind of measurement; an event sets its own where it knows."""

    tape_m: float = TAPE_M
    """Of any taped distance."""
    tape_per_m: float = TAPE_PER_M
    """Added in proportion to the distance."""
    bearing_deg: float = BEARING_DEG
    grid_m: float = RECEIVER_M
    """Keyed coordinates in the event's plane, each axis."""
    latlon_m: float = RECEIVER_M
    """Keyed latitude and longitude, each axis."""
    place_m: float = PLACE_M
    """A named place other than the task's target, each axis, against the target."""

    def taped_m(self, distance_m: float) -> float:
        """One sigma of a taped distance: a + b x d."""
        return self.tape_m + self.tape_per_m * distance_m

    def across_m(self, distance_m: float) -> float:
        """One sigma across the line of a mark set out by bearing and distance."""
        return distance_m * radians(self.bearing_deg)


Covariance = tuple[tuple[float, float], tuple[float, float]]
"""Of (east, north), square metres."""


class Ellipse(NamedTuple):
    """The one-sigma error ellipse of a point; it holds the truth in 39 % of cases."""

    major_m: float
    minor_m: float
    bearing_deg: float
    """Grid bearing of the long axis, 0 up to 180."""


def error_ellipse(covariance: Covariance) -> Ellipse:
    """Return the axes of a covariance of (east, north)."""
    values, vectors = np.linalg.eigh(np.asarray(covariance))
    east, north = vectors[:, 1]
    minor, major = np.sqrt(np.maximum(values, 0.0))
    bearing = float(turned(np.degrees(np.arctan2(east, north)), 180.0))
    return Ellipse(float(major), float(minor), bearing)


def axes_covariance(bearing_deg: float, along_m: float, across_m: float) -> Covariance:
    """Return the covariance of sigmas along a grid bearing and across it."""
    east, north = np.sin(np.radians(bearing_deg)), np.cos(np.radians(bearing_deg))
    turn = np.array([[east, north], [north, -east]])
    return as_covariance(turn @ np.diag([along_m**2, across_m**2]) @ turn.T)


def as_covariance(matrix: Array) -> Covariance:
    """Make plain numbers of a symmetric 2 x 2 matrix."""
    mixed = float(matrix[0, 1] + matrix[1, 0]) / 2
    return (float(matrix[0, 0]), mixed), (mixed, float(matrix[1, 1]))


def sigma_towards(covariance: Covariance, east_m: float, north_m: float) -> float:
    """One sigma of the distance to a point that lies (east, north) away.

    Where the point is nearer than the uncertainty itself the direction means nothing;
    the long axis of the ellipse is given then.
    """
    length = hypot(east_m, north_m)
    major = error_ellipse(covariance).major_m
    if length <= 2 * major:
        return major
    unit = np.array([east_m, north_m]) / length
    return float(np.sqrt(unit @ np.asarray(covariance) @ unit))


def read_sigmas(settings: object, where: str) -> SurveySigmas:
    """Read a `[survey]` table: lengths with unit, `tape_per_m` and `bearing` as numbers.

    Raises
    ------
    InputError
        Listing every key that is unknown and every value that is no sigma.
    """
    if not isinstance(settings, Mapping):
        allowed = f"a table with any of {', '.join(_KEYS)}"
        fault = Fault(
            where=where, field="survey", found=repr(settings), allowed=allowed
        )
        raise InputError([fault])
    values: dict[str, float] = {}
    faults: list[Fault] = []
    for key, found in settings.items():
        try:
            values[_field(key)] = _sigma(key, found)
        except ValueError as error:
            faults.append(_fault(where, key, found, str(error)))
    if faults:
        raise InputError(faults)
    return SurveySigmas(**values)


_KEYS = {
    field.name.removesuffix("_m").removesuffix("_deg")
    if field.name != "tape_per_m"
    else field.name: field.name
    for field in fields(SurveySigmas)
}


def _field(key: str) -> str:
    if key not in _KEYS:
        raise ValueError(f"one of {', '.join(_KEYS)}. {nearest(key, _KEYS)}".strip())
    return _KEYS[key]


def _sigma(key: str, found: object) -> float:
    """Turn one setting into its number."""
    numeric = isinstance(found, (int, float)) and not isinstance(found, bool)
    if key in {"tape_per_m", "bearing"}:
        value = float(found) if numeric else float("nan")  # type: ignore[arg-type]
        allowed = "a number, not negative"
    else:
        value = _length(found)
        allowed = 'a length with its unit, such as "2 cm", not negative'
    if not 0 <= value < float("inf"):
        raise ValueError(allowed)
    return value


def _length(found: object) -> float:
    try:
        return length_m(found) if isinstance(found, str) else float("nan")
    except Unreadable:
        return float("nan")


def _fault(where: str, key: str, found: object, allowed: str) -> Fault:
    return Fault(where=where, field=f"survey.{key}", found=repr(found), allowed=allowed)
