"""How far outside or inside an area fixes lie, and how well a fix is known."""

import numpy as np
import shapely
from numpy.typing import NDArray

from scorer.checks.stays import Area, inside
from scorer.tracks.flown import Flown

Array = NDArray[np.float64]

ACCURACY_M = 3.0
"""One sigma of a fix where the log does not say; receivers of this kind state 2 to 5."""


def accuracy_m(flown: Flown) -> Array:
    """Return one sigma of each fix's place, (N,), filled in where not recorded."""
    known = np.isfinite(flown.accuracy_m) & (flown.accuracy_m > 0.0)
    return np.where(known, flown.accuracy_m, ACCURACY_M)


def depth_inside_m(area: Area, east_m: Array, north_m: Array) -> Array:
    """Return the distance of points to the outline, (N,), negative outside."""
    outline = area.boundary
    shapely.prepare(outline)
    away = shapely.distance(outline, shapely.points(east_m, north_m))
    return np.where(inside(area, east_m, north_m), away, -away)
