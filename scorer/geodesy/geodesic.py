"""Lines on the WGS84 ellipsoid, for distances that no plane can hold."""

import numpy as np
from numpy.typing import ArrayLike
from pyproj import Geod

from scorer.facts import fact
from scorer.geodesy.arrays import Array, mapped, refuse, turned

_WGS84 = Geod(ellps="WGS84")


def geodesic_m(
    lat1_deg: ArrayLike, lon1_deg: ArrayLike, lat2_deg: ArrayLike, lon2_deg: ArrayLike
) -> Array:
    """Shortest distance on the ellipsoid, metres; the inputs broadcast, NaN stays.

    By Karney's algorithm (Algorithms for geodesics, J. Geodesy 87, 2013, 43-55), good
    to nanometres at any distance.
    """
    return geodesic_inverse(lat1_deg, lon1_deg, lat2_deg, lon2_deg)[0]


def geodesic_inverse(
    lat1_deg: ArrayLike, lon1_deg: ArrayLike, lat2_deg: ArrayLike, lon2_deg: ArrayLike
) -> tuple[Array, Array]:
    """Return a geodesic's length in metres and its true azimuth at the first point.

    Azimuths are degrees, 0 up to 360; the inputs broadcast, NaN stays.

    Raises
    ------
    GeometryError
        A latitude beyond 90 degrees; `mask` marks the offending ones.
    """
    values = (lat1_deg, lon1_deg, lat2_deg, lon2_deg)
    lat1, lon1, lat2, lon2 = np.broadcast_arrays(
        *(np.asarray(v, dtype=float) for v in values)
    )
    refuse((np.abs(lat1) > 90) | (np.abs(lat2) > 90), fact("latitude-beyond-90"))
    azimuth, _, length = mapped(_WGS84.inv, lon1, lat1, lon2, lat2)
    return length[()], turned(azimuth)[()]
