"""One pilot's flight made ready for the checks and tasks."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.columns import columns

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


class LogPart(StrEnum):
    """What a part of a log shows."""

    FLIGHT = "flight"
    RIDE = "ride"
    ROPE = "rope"
    """Tethered."""
    REST = "rest"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A part of the log that is not the flight to judge."""

    part: LogPart
    start_s: float
    """POSIX seconds, UTC."""
    end_s: float


class Sign(StrEnum):
    """What contradicts heights."""

    OTHER = "other"
    """Another log of the basket."""
    UNDER = "under"
    """They are under the ground."""
    NEVER_UP = "never-up"
    OFF_GROUND = "off-ground"
    """Altitudes where it stood, by more than any that count from the sea."""
    FAST = "fast"
    """No balloon climbs or falls so."""


@dataclass(frozen=True, slots=True)
class Disputed:
    """A while for which heights cannot be right."""

    by: Sign
    log: str
    """The other one; the track's own where nothing but itself contradicts it."""
    start_s: float
    """POSIX seconds, UTC."""
    end_s: float
    most: float = 0.0
    """How far apart, under or off the ground, m, or how fast, m/s, at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """A launch or a landing: where and when, by all fixes around it."""

    at: int
    """First fix in the air, or on the ground again."""
    time_s: float
    """POSIX seconds, UTC, fitted between the fixes."""
    sigma_s: float
    east_m: float
    """Where the basket stood, in the event's plane."""
    north_m: float
    sigma_m: float
    sure: bool
    """The log has fixes all around it; False keeps findings from being certain."""


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

    lift_offs: tuple[Moment, ...] = ()
    """Each launch that a stand was seen before, in order."""
    touch_down: Moment | None = None
    """The landing, where the log shows it."""

    left_out: tuple[LeftOut, ...] = ()
    """What else the log holds and is not judged."""
    disputed: tuple[Disputed, ...] = ()
    """Where other logs of the track, or the ground, contradict its heights; in order of log
    and time."""

    def lift_off(self, at: int | None) -> Moment | None:
        """Return the launch with that first fix in the air; None where not fitted."""
        return next((one for one in self.lift_offs if one.at == at), None)

    def __post_init__(self) -> None:
        for own in columns(self).values():
            own.setflags(write=False)

    def __len__(self) -> int:
        return len(self.time_s)
