"""State entries of marks: who entered what, for sentences, steps and results."""

from collections.abc import Callable, Mapping, Sequence

from scorer.event.model import Keying, Method
from scorer.facts import (
    Fact,
    Measure,
    Value,
    bearing,
    fact,
    inner,
    length,
    moment,
    number,
    place,
    position,
    several,
    term,
    words,
)

ENTRIES = frozenset(
    {
        "entry-tape",
        "entry-tape-from",
        "entry-bearing",
        "entry-arcs",
        "entry-offset",
        "entry-coordinates",
        "entry-log",
        "entry-none",
        "entry-as-entered",
    }
)
"""Kinds of facts that show what somebody entered."""
SIDES = {"L": term("left"), "R": term("right")}


def entry(keying: Keying) -> Fact:
    """State one entry: what was measured from where, and by whom."""
    what = _measured(keying)
    if keying.noted_s is None:
        return what
    return fact("entry-timed", entry=inner(what), at=moment(keying.noted_s))


def _measured(keying: Keying) -> Fact:
    own = _STATED.get(keying.method)
    what = None if own is None else own(keying, who(keying.by))
    if what is not None:
        return what
    given = " ".join(v for k, v in keying.entered.items() if v and k in _TOLD)
    method = term(f"method-{keying.method}")
    return fact("entry-as-entered", by=who(keying.by), method=method, text=words(given))


_TOLD = ("distance", "from", "distance2", "from2", "easting", "northing", "lat", "lon")


def _taped(keying: Keying, by: Value) -> Fact | None:
    if keying.distance_m is None:
        return None
    distance, start = length(keying.distance_m), _start(keying.from_place)
    if keying.bearing_deg is not None:
        turned = bearing(keying.bearing_deg)
        return fact(
            "entry-bearing", by=by, distance=distance, bearing=turned, start=start
        )
    if keying.from_place is None:
        return fact("entry-tape", by=by, distance=distance)
    return fact("entry-tape-from", by=by, distance=distance, start=start)


def _two_distances(keying: Keying, by: Value) -> Fact | None:
    one, other = keying.distance_m, keying.distance2_m
    if one is None or other is None:
        return None
    values = {
        "by": by,
        "distance": length(one),
        "start": _start(keying.from_place),
        "other": length(other),
        "end": _start(keying.from2_place),
        "side": SIDES.get(keying.side.upper()) or term("either"),
    }
    if keying.method is Method.OFFSET:
        return fact("entry-offset", **values)
    return fact("entry-arcs", **values)


def _coordinates(keying: Keying, by: Value) -> Fact | None:
    if keying.easting_m is not None and keying.northing_m is not None:
        east, north = number(keying.easting_m), number(keying.northing_m)
        at = fact("grid-coordinates", east=east, north=north)
    elif keying.lat_deg is not None and keying.lon_deg is not None:
        lat, lon = position(keying.lat_deg), position(keying.lon_deg)
        at = fact("latitude-longitude", lat=lat, lon=lon)
    else:
        return None
    return fact("entry-coordinates", by=by, at=inner(at))


def _logged(keying: Keying, by: Value) -> Fact | None:
    if keying.time_s is None or keying.distance_m is not None:
        return None
    return fact("entry-log", by=by, at=moment(keying.time_s))


def _start(name: str | None) -> Value:
    return term("the-target") if name is None else place(name)


_STATED: Mapping[Method, Callable[[Keying, Value], Fact | None]] = {
    Method.TAPE: _taped,
    Method.POLAR: _taped,
    Method.ARCS: _two_distances,
    Method.OFFSET: _two_distances,
    Method.GRID: _coordinates,
    Method.LATLON: _coordinates,
    Method.LOG: _logged,
    Method.NONE: lambda _, by: fact("entry-none", by=by),
}


def entries(keyings: Sequence[Keying]) -> Value:
    """Return entries as one value."""
    return several(inner(entry(keying)) for keying in keyings)


def who(name: str) -> Value:
    """Return who entered something."""
    return words(name) if name.strip() else term("somebody")


def exact(metres: float) -> Value:
    """Return a difference in as many digits as tell it from its limit."""
    return Value(Measure.EXACT, metres)
