"""One pilot's flight made ready for the checks and tasks."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LogMark:
    """A moment the pilot marked on the logger (an event record, a waypoint)."""

    time_s: float
    """POSIX seconds, UTC."""
    label: str = ""
    """What the logger wrote beside it, e.g. a mark number."""
    lat_deg: float | None = None
    lon_deg: float | None = None
    alt_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flown:
    """Cleaned fixes in the event's plane with heights; all arrays are (N,), read-only.

    NaN means not recorded and never zero.  Time strictly increases.
    """

    pilot: int
    log: str
    """Name of the log as received."""
    sha256: str
    time_s: Array
    """POSIX seconds, UTC."""
    lat_deg: Array
    lon_deg: Array
    east_m: Array
    """Event CRS."""
    north_m: Array
    """Event CRS."""
    ground_m: Array
    """Terrain under the fix, above mean sea level."""
    height_m: Array
    """Height of the logger over the terrain, the smoothed best estimate."""
    height_sigma_m: Array
    """One sigma of `height_m`."""
    altitude_m: Array
    """Above mean sea level: `ground_m + height_m`."""
    climb_m_s: Array
    """Smoothed vertical speed, up positive."""
    launch: int | None
    """Index of the first fix in the air; None when the log does not show it."""
    landing: int | None
    """Index of the first fix on the ground again; None when the log does not show it."""
    anchored: bool
    """A ground stretch fixed the height; if False no height finding is `certain`."""
    accuracy_m: Array
    """Estimated one-sigma horizontal accuracy of each fix; NaN where not recorded."""
    marks: tuple[LogMark, ...] = ()
    stands: tuple[tuple[int, int], ...] = ()
    """First and last fix of each stay on the ground between launch and landing."""

    def __post_init__(self) -> None:
        for item in fields(self):
            value = getattr(self, item.name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)

    def __len__(self) -> int:
        return len(self.time_s)
