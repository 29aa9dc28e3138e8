"""What the flights of logs say of whose they are: one basket, or far from all others.

A log that tells no owner and was in one basket with one that does is that pilot's second
logger.  A log that left the ground far from where all others of the flight did is perhaps
of another event, whatever is written in it.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import scipy

from scorer.checks.pilot import at_minutes, one_basket
from scorer.facts import distance, fact, log
from scorer.facts import pilot as pilot_value
from scorer.tracks.flown import Array
from scorer.tracks.match import Identified
from scorer.tracks.prepare import Ready
from scorer.units import EARTH_M

FAR_M = 50_000.0
"""Nobody drives so far to launch by himself to the same targets (our choice) ..."""
LEAST_OTHERS = 4
"""... as so many others show."""

Owners = tuple[tuple[int, tuple[int, ...]], ...]
"""Logs, by their place in the list, and of whom the baskets were in which they flew."""


def owners_by_basket(readies: Sequence[Ready], found: Sequence[Identified]) -> Owners:
    """Say in whose baskets logs flew that are asked about."""
    asked = [
        k for k, own in enumerate(found) if not own.sure and own.head.pilot is None
    ]
    sure = [(k, own.pilot) for k, own in enumerate(found) if own.pilot and own.sure]
    if not asked or not sure:
        return ()
    ways = {k: _in_air(readies[k]) for k in (*asked, *(k for k, _ in sure))}
    owners = (
        (k, {pilot for other, pilot in sure if _together(ways[k], ways[other])})
        for k in asked
    )
    return tuple((k, tuple(sorted(numbers))) for k, numbers in owners if numbers)


def _in_air(ready: Ready) -> tuple[int, Array]:
    air = slice(ready.phases.launch or 0, ready.phases.landing)
    return at_minutes(ready.time_s, air, (ready.east_m, ready.north_m))


def _together(one: tuple[int, Array], other: tuple[int, Array]) -> bool:
    """Tell whether two logs flew in one basket, by what they show at whole minutes."""
    start = max(one[0], other[0])
    mine, theirs = (points[start - first :] for first, points in (one, other))
    both = min(len(mine), len(theirs))
    return bool(one_basket(mine[:both] - theirs[:both]))


def launched_far_off(
    readies: Sequence[Ready], found: Sequence[Identified]
) -> list[Identified]:
    """Ask about logs that launched far from where any other one did."""
    known = {
        k: _launch(r) for k, r in enumerate(readies) if r.phases.launch is not None
    }
    seen = [k for k, at in known.items() if np.isfinite(at).all()]
    if len(seen) <= LEAST_OTHERS:
        return list(found)
    places = np.radians([known[k] for k in seen])
    lat, lon = places.T
    on_sphere = np.stack(
        [np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)], axis=1
    )
    chord, _ = scipy.spatial.cKDTree(on_sphere).query(on_sphere, k=2)
    away = 2.0 * EARTH_M * np.arcsin(np.clip(chord[:, 1] / 2.0, 0.0, 1.0))
    far = {k: float(m) for k, m in zip(seen, away, strict=True) if m > FAR_M}
    return [_asked(own, far.get(k)) for k, own in enumerate(found)]


def _launch(ready: Ready) -> tuple[float, float]:
    at = ready.phases.launch or 0
    return float(ready.lat_deg[at]), float(ready.lon_deg[at])


def _asked(own: Identified, away_m: float | None) -> Identified:
    if (
        away_m is None
        or own.pilot is None
        or not own.sure
        or own.head.pilot is not None
    ):
        return own
    says = fact(
        "log-far-off",
        log=log(own.head.name),
        pilot=pilot_value(own.pilot),
        away=distance(away_m),
    )
    return replace(own, trouble=says)
