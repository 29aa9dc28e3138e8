"""What a log says of itself, small enough for all logs of a flight to be weighed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from scorer.event.model import Period
from scorer.tracks.track import Track


@dataclass(frozen=True, slots=True, kw_only=True)
class LogHead:
    """What matching needs to know of a log."""

    name: str
    """With the folders it came in, where it came in a zip."""
    sha256: str
    headers: Mapping[str, str] = field(default_factory=dict)
    """As in Track."""
    pilot: int | None = None
    """Number assigned by hand."""
    fixes: int = 0
    """Within the flight's day."""
    within: bool = True
    """It has fixes within the periods of the flight's tasks."""
    barometer: bool = False
    start_s: float = 0.0
    end_s: float = 0.0
    """First and last fix, POSIX seconds."""
    reaches: frozenset[int] | None = None
    """Which of the flight's marks its track reaches, by their place in the list; None =
    it shows no flight, or nobody looked."""

    @classmethod
    def of(
        cls,
        track: Track,
        *,
        pilot: int | None = None,
        day: Period | None = None,
        periods: Sequence[Period] = (),
    ) -> "LogHead":
        """Take the head of a track; `day` says which fixes count."""
        time = track.time_s
        held = (((time >= p.start_s) & (time <= p.end_s)).any() for p in periods)
        start, end = (day.start_s, day.end_s) if day else (time[0], time[-1])
        inside = (time >= start) & (time <= end)
        return cls(
            name=track.name,
            sha256=track.sha256,
            headers=track.headers,
            pilot=pilot,
            fixes=int(np.count_nonzero(inside)),
            within=not periods or any(held),
            barometer=2 * int(np.isfinite(track.pressure_alt_m).sum()) > len(time),
            start_s=track.start_s,
            end_s=track.end_s,
        )
