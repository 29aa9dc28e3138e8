"""The heights of a picture: what an infringement was measured on, and where it counts.

The curve is the basket's, as the check saw it: its lowest point is the infringement's own
measured value, its limit stands only where the check held it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import LineString

from scorer.checks.base import Circumstances, basket_m
from scorer.checks.contact import scope as contact_scope
from scorer.checks.floor import Floor, floor_of
from scorer.checks.stays import inside_any
from scorer.event.finding import Drawing as Kind
from scorer.event.finding import Finding
from scorer.event.model import Event
from scorer.facts import Fact, Value, fact, inner, listed, moment, span, words
from scorer.facts import height as height_value
from scorer.scoring import told
from scorer.sheets.profiles import pace_of, touches_ground
from scorer.tracks.flown import Flown
from scorer.words.voice import Voice

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
TIMES_LIMIT = 2.7
"""A profile of a limit is so many times as high as the limit."""
TOUCH_BOTTOM_M, TOUCH_TOP_M = -2.0, 10.0
"""The same where the limit is the ground itself, which no log knows to the metre."""
AROUND_S, AROUND_TOUCH_S = 75.0, 45.0
"""Shown before and after an infringement, and before and after a touch of the ground."""
THIN_M = 1.0
"""The track on a map keeps to its fixes as near as this."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PictureTrack:
    """A track in the picture's plane; arrays are (N,) unless said otherwise."""

    time_s: Array
    east_m: Array
    north_m: Array
    thin_m: Array
    """(K, 2): the way with few points, for drawing."""
    breach_m: Array
    """(K, 2): the part that is the infringement; empty for none."""
    launch: int | None
    landing: int | None

    def nearest(self, time_s: float) -> int:
        """Return the index of the fix nearest to a moment."""
        after = int(np.searchsorted(self.time_s, time_s))
        if after == 0:
            return 0
        if after == len(self.time_s):
            return after - 1
        earlier = time_s - self.time_s[after - 1] <= self.time_s[after] - time_s
        return after - 1 if earlier else after


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Limit:
    """A limit over the time in which it holds."""

    level_m: float
    text: str
    holds: Mask
    """(N,)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shade:
    """A time that is marked in the profile, and what for."""

    start_s: float
    end_s: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pace:
    """Drift and vertical speed around a touch of the ground; arrays are (M,)."""

    time_s: Array
    drift_m_s: Array
    climb_m_s: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeightCurve:
    """The curve of a profile; all arrays are (N,) with the track."""

    caption: str
    time_s: Array
    level_m: Array
    """NaN where not known."""
    sigma_m: Array
    window_s: tuple[float, float]
    """What is shown first."""
    whole_s: tuple[float, float]
    """The flight, from launch to landing."""
    bottom_m: float
    top_m: float
    limits: tuple[Limit, ...] = ()
    shades: tuple[Shade, ...] = ()
    breach_s: Array
    """(K,): times of the infringement's part of the curve; empty for none."""
    breach_m: Array
    """(K,): its heights."""
    worst: tuple[float, float] | None = None
    """When and at what height it was measured."""
    worst_text: str = ""
    """In the words of the text."""
    pace: Pace | None = None
    estimate: bool = False
    """The log shows no time on the ground."""
    says: str = ""


def marked_at(finding: Finding) -> str:
    """Return the word by which the worst place of an infringement is marked."""
    known = {Kind.HEIGHTS: "map-lowest", Kind.ALTITUDE: "map-deepest"}
    if touches_ground(finding):
        return "map-touch"
    return known.get(finding.kind.picture, "map-here")


def way_of(
    flown: Flown | None, origin: tuple[float, float], finding: Finding | None
) -> PictureTrack | None:
    """Return a track for the map; None where there is none worth drawing."""
    if flown is None or len(flown) < 2:
        return None
    east, north = flown.east_m - origin[0], flown.north_m - origin[1]
    both = np.column_stack([east, north])
    known = both[np.isfinite(both).all(axis=1)]
    thin = known
    if len(known) > 2:
        thin = np.array(LineString(known).simplify(THIN_M).coords)
    breach = np.zeros((0, 2))
    if finding is not None:
        at = _times_in(flown.time_s, finding)
        breach = np.column_stack([np.interp(at, flown.time_s, xy) for xy in both.T])
    return PictureTrack(
        time_s=flown.time_s,
        east_m=east,
        north_m=north,
        thin_m=thin,
        breach_m=breach,
        launch=flown.launch,
        landing=flown.landing,
    )


def heights_of(
    flown: Flown,
    finding: Finding | None,
    about: Circumstances | None,
    event: Event,
    voice: Voice,
) -> HeightCurve | None:
    """Return the heights around an infringement, or of the whole flight."""
    if len(flown) < 2 or (finding and finding.kind.picture is Kind.MAP):
        return None
    floor = _floor(flown, finding, about)
    level, caption = _level(flown, finding, floor)
    if np.isfinite(level).sum() < 2:
        return None
    sigma = np.nan_to_num(flown.height_sigma_m)
    whole = _whole(flown)
    window = whole if finding is None else _window(finding)
    bottom, top = _room(level, sigma, flown.time_s, window, finding)
    limits = (
        *_minimum(flown, finding, floor, voice),
        *_walls(flown, finding, about, event, voice),
    )
    breach_s, breach_m = _breach(flown.time_s, level, finding)
    shades = _shades(flown, finding, about, voice, floor)
    return HeightCurve(
        caption=voice.word(caption),
        time_s=flown.time_s,
        level_m=level,
        sigma_m=sigma,
        window_s=window,
        whole_s=whole,
        bottom_m=bottom,
        top_m=top,
        limits=limits,
        shades=shades,
        breach_s=breach_s,
        breach_m=breach_m,
        worst=_worst(flown.time_s, level, finding),
        worst_text="" if finding is None else told.measured(voice, finding),
        pace=_pace(flown, finding, window),
        estimate=not flown.anchored,
        says=_says(voice, finding, caption, limits, shades),
    )


def _floor(
    flown: Flown, finding: Finding | None, about: Circumstances | None
) -> Floor | None:
    """Return the minimum height as the check held it, where the picture is of it."""
    if finding is None or about is None or finding.kind.picture is not Kind.HEIGHTS:
        return None
    return floor_of(flown, about) if finding.limit else None


def _level(
    flown: Flown, finding: Finding | None, floor: Floor | None
) -> tuple[Array, str]:
    """Return what is drawn: the basket over what the rule counts from, or altitude."""
    if finding is not None and finding.kind.picture is Kind.ALTITUDE:
        return flown.altitude_m, "profile-altitude"
    if floor is None:
        return basket_m(flown), "profile-basket"
    above = floor.rule.above is not None
    return floor.basket_m, "profile-basket-place" if above else "profile-basket"


def _whole(flown: Flown) -> tuple[float, float]:
    first = 0 if flown.launch is None else flown.launch
    last = len(flown) - 1 if flown.landing is None else flown.landing
    last = min(last, len(flown) - 1)
    return float(flown.time_s[first]) - 60.0, float(flown.time_s[last]) + 60.0


def _window(finding: Finding) -> tuple[float, float]:
    around = AROUND_TOUCH_S if touches_ground(finding) else AROUND_S
    middle = float(finding.details.get("lowest_at_s", finding.from_s))
    start, end = min(finding.from_s, middle), max(finding.to_s, middle)
    return start - around, min(end, start + 600.0) + around


def _room(
    level: Array,
    sigma: Array,
    time_s: Array,
    window: tuple[float, float],
    finding: Finding | None,
) -> tuple[float, float]:
    """Return the lowest and the greatest height shown."""
    if finding is not None and finding.kind.picture is Kind.HEIGHTS:
        if not finding.limit:
            return TOUCH_BOTTOM_M, TOUCH_TOP_M
        top = TIMES_LIMIT * finding.limit
        return -0.04 * top, top
    seen = (time_s >= window[0]) & (time_s <= window[1]) & np.isfinite(level)
    if not seen.any():
        seen = np.isfinite(level)
    low = float((level - sigma)[seen].min())
    high = float((level + sigma)[seen].max())
    room = max(high - low, 10.0)
    if finding is not None and finding.kind.picture is Kind.ALTITUDE:
        return low - 0.5 * room, high + 0.5 * room
    return min(low, -0.04 * room), high + 0.1 * room


def _minimum(
    flown: Flown, finding: Finding | None, floor: Floor | None, voice: Voice
) -> list[Limit]:
    """Return the minimum height where the check held it."""
    if finding is None or finding.kind.picture is not Kind.HEIGHTS or not finding.limit:
        return []
    near = (flown.time_s >= finding.from_s) & (flown.time_s <= finding.to_s)
    text = voice.say(fact("profile-minimum", limit=height_value(finding.limit)))
    holds = near if floor is None else floor.holds
    return [Limit(level_m=finding.limit, text=text, holds=holds)]


def _walls(
    flown: Flown,
    finding: Finding | None,
    about: Circumstances | None,
    event: Event,
    voice: Voice,
) -> list[Limit]:
    """Return the floor and the ceiling of an airspace while the track is within it."""
    if finding is None or finding.kind.picture is not Kind.ALTITUDE:
        return []
    own = event.place(str(finding.details.get("place", "")))
    if own is None or about is None:
        return []
    holds = inside_any([about.site.area(own.name)], flown.east_m, flown.north_m)
    found = []
    if own.lower_m is not None:
        text = voice.say(fact("profile-lower", limit=height_value(own.lower_m)))
        found.append(Limit(level_m=own.lower_m, text=text, holds=holds))
    if own.upper_m is not None:
        text = voice.say(fact("profile-upper", limit=height_value(own.upper_m)))
        found.append(Limit(level_m=own.upper_m, text=text, holds=holds))
    return found


def _shades(
    flown: Flown,
    finding: Finding | None,
    about: Circumstances | None,
    voice: Voice,
    floor: Floor | None,
) -> tuple[Shade, ...]:
    """Mark the time in the task's scoring areas, with what holds or ends there."""
    if finding is None or about is None or finding.kind.picture is not Kind.HEIGHTS:
        return ()
    areas = [about.site.area(name) for name in about.task.scoring_areas]
    if not areas:
        return ()
    within = inside_any(areas, flown.east_m, flown.north_m)
    name = "profile-area"
    if finding.limit:
        if floor is not None and not (floor.holds & within).any():
            name = "profile-area-free"
    elif (contact_scope(flown, about) & within).any():
        name = "profile-area-contact"
    text = voice.word(name)
    return tuple(
        Shade(start_s=start, end_s=end, text=text)
        for start, end in _spans(flown.time_s, within)
    )


def _spans(time_s: Array, where: Mask) -> list[tuple[float, float]]:
    edges = np.flatnonzero(np.diff(np.r_[False, where, False].astype(np.int8)))
    last = len(time_s) - 1
    return [
        (float(time_s[a]), float(time_s[min(b, last)]))
        for a, b in edges.reshape(-1, 2).tolist()
    ]


def _times_in(time_s: Array, finding: Finding) -> Array:
    """Return the infringement's ends and the fixes between."""
    inner_ = time_s[(time_s > finding.from_s) & (time_s < finding.to_s)]
    return np.asarray(np.r_[finding.from_s, inner_, finding.to_s])


def _breach(
    time_s: Array, level: Array, finding: Finding | None
) -> tuple[Array, Array]:
    if finding is None:
        return np.zeros(0), np.zeros(0)
    at = _times_in(time_s, finding)
    known = np.isfinite(level)
    height = np.interp(at, time_s[known], level[known])
    limit = finding.limit if finding.kind.picture is Kind.HEIGHTS else None
    if limit and (height <= limit).any():
        height = np.where(height > limit + 1e-6, np.nan, height)
    return at, np.asarray(height)


def _worst(
    time_s: Array, level: Array, finding: Finding | None
) -> tuple[float, float] | None:
    """Return when and at what height an infringement was measured."""
    if finding is None or finding.kind.picture not in {Kind.HEIGHTS, Kind.ALTITUDE}:
        return None
    if finding.kind.picture is Kind.ALTITUDE:
        altitude = float(finding.details["altitude_m"])
        near = (time_s >= finding.from_s - 30) & (time_s <= finding.to_s + 30)
        off = np.where(near, np.abs(level - altitude), np.inf)
        return float(time_s[int(np.nanargmin(off))]), altitude
    if finding.measured is None:
        return None
    known_at = finding.details.get("lowest_at_s")
    if known_at is not None:
        return float(known_at), finding.measured
    at = np.linspace(finding.from_s, finding.to_s, 20)
    heights = np.interp(at, time_s, np.nan_to_num(level, nan=np.inf))
    return float(at[int(np.argmin(heights))]), finding.measured


def _pace(
    flown: Flown, finding: Finding | None, window: tuple[float, float]
) -> Pace | None:
    if finding is None or not touches_ground(finding):
        return None
    found = pace_of(flown, *window)
    if found is None:
        return None
    return Pace(time_s=found[0], drift_m_s=found[1], climb_m_s=found[2])


def _says(
    voice: Voice,
    finding: Finding | None,
    caption: str,
    limits: tuple[Limit, ...],
    shades: tuple[Shade, ...],
) -> str:
    if finding is None:
        return voice.word(caption)
    told_: list[Fact] = []
    if finding.measured is not None and finding.kind.picture is Kind.HEIGHTS:
        values: dict[str, Value] = {
            "measured": words(told.measured(voice, finding)),
            "when": moment(float(finding.details.get("lowest_at_s", finding.from_s))),
        }
        told_.append(fact("profile-says-worst", **values))
    told_ += [fact("profile-says-limit", limit=words(one.text)) for one in limits]
    if shades:
        value = {"start": moment(shades[0].start_s), "area": words(shades[0].text)}
        told_.append(fact("profile-says-area", **value))
    if finding.to_s > finding.from_s:
        told_.append(fact("profile-says-lasts", lasts=span(finding.duration_s)))
    said = listed(map(inner, told_))
    return voice.say(
        fact("profile-says", caption=words(voice.word(caption)), parts=said)
    )
