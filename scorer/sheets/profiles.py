"""Height profiles: the basket over the ground, its uncertainty, the limit, the breach."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import basket_m
from scorer.event.finding import Drawing, Finding
from scorer.facts import Fact, fact, moment, words
from scorer.facts import height as height_value
from scorer.facts import pilot as pilot_value
from scorer.scoring import told
from scorer.sheets.axes import (
    BELOW,
    LEFT,
    RIGHT,
    TOP,
    Axes,
    band,
    grid,
    ground,
    height_line,
    limit_line,
    span_box,
    unit_of,
    who,
)
from scorer.sheets.scene import Line, Scene, Shape, box, stretches
from scorer.sheets.sheet import Sheet
from scorer.tracks.flown import Flown

AROUND_S, AROUND_TOUCH_S = 120.0, 45.0
"""Shown before and after a finding, and before and after a touch of the ground."""
TIMES_LIMIT = 2.5
"""A picture of a limit is so many times as high as the limit."""
TOUCH_M = 4.0
"""The same of a picture of the ground itself: it is 10 m high."""
DRIFT_OVER_S = 4.0
"""Speeds are taken over so long."""


def finding_profile(
    sheet: Sheet, finding: Finding, flown: Flown, width: float, height: float
) -> Scene | None:
    """Return the profile around one finding, scaled to its limit where that is a height."""
    is_height = finding.kind.picture is Drawing.HEIGHTS
    window = window_of(finding)
    title = sheet.say(
        fact(
            "picture-profile",
            what=words(told.finding_title(sheet.voice, finding)),
            pilot=pilot_value(finding.pilot),
            start=moment(window[0]),
            end=moment(window[1]),
        )
    )
    spans = ((finding.from_s, finding.to_s),)
    return _profile(
        sheet,
        flown,
        window,
        spans,
        (width, height, title),
        limit=finding.limit or None if is_height else None,
        most_m=TIMES_LIMIT * (finding.limit or TOUCH_M) if is_height else None,
    )


def touches_ground(finding: Finding) -> bool:
    """Tell whether a finding's limit is the ground itself."""
    return finding.kind.picture is Drawing.HEIGHTS and not finding.limit


def window_of(finding: Finding) -> tuple[float, float]:
    """Return the time that is drawn around a finding, POSIX seconds."""
    around = AROUND_TOUCH_S if touches_ground(finding) else AROUND_S
    return finding.from_s - around, finding.to_s + around


def finding_speeds(
    sheet: Sheet, finding: Finding, flown: Flown, width: float, height: float
) -> Scene | None:
    """Draw drift and vertical speed around a touch of the ground: a basket stops both."""
    pace = pace_of(flown, *window_of(finding))
    if pace is None:
        return None
    unit_m = unit_of(sheet)[0]
    at, drift, up = pace[0], pace[1] / unit_m, pace[2] / unit_m
    what = words(told.finding_title(sheet.voice, finding))
    shapes: list[Shape] = []
    speed = words(f"{unit_of(sheet)[1]}/s")
    for top, values, named in (
        (0.0, drift, fact("picture-drift", unit=speed)),
        (height / 2, up, fact("picture-vertical", unit=speed)),
    ):
        shapes += _panel(
            sheet, finding, at, values, (width, height / 2, top), title=named
        )
    shapes.append(who(sheet, finding.pilot))
    title = sheet.say(
        fact("picture-speeds", what=what, pilot=pilot_value(finding.pilot))
    )
    return Scene(width=width, height=height, title=title, shapes=tuple(shapes))


def pace_of(
    flown: Flown, start_s: float, end_s: float
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]] | None:
    """Return times, drift and vertical speed, each (M,), m/s; None without heights."""
    at = np.arange(start_s, end_s, 1.0)
    known = np.isfinite(flown.height_m)
    if known.sum() < 2:
        return None
    east, north, up = (
        _moved(flown.time_s[known], values[known], at) / DRIFT_OVER_S
        for values in (flown.east_m, flown.north_m, flown.height_m)
    )
    return at, np.hypot(east, north), up


def _moved(
    time_s: NDArray[np.float64], values: NDArray[np.float64], at: NDArray[np.float64]
) -> NDArray[np.float64]:
    half = DRIFT_OVER_S / 2
    after, before = (np.interp(at + d, time_s, values) for d in (half, -half))
    return np.asarray(after - before)


def _panel(
    sheet: Sheet,
    finding: Finding,
    at: NDArray[np.float64],
    values: NDArray[np.float64],
    size: tuple[float, float, float],
    *,
    title: Fact,
) -> list[Shape]:
    """Draw one speed over time, its top edge so far down."""
    width, height, top = size
    axes = Axes(
        start_s=float(at[0]),
        end_s=float(at[-1]),
        low=min(float(values.min()) * 1.1, 0.0),
        high=max(float(values.max()) * 1.1, 1.0),
        width=width,
        height=height,
    )
    shapes: list[Shape] = [
        box(LEFT, TOP, width - LEFT - RIGHT, height - TOP - BELOW, "sky")
    ]
    shapes += grid(axes, sheet, sheet.say(title), about=3)
    shapes += [span_box(axes, (finding.from_s, finding.to_s))]
    shapes += height_line(axes, at, values)
    return [_lowered(shape, top) for shape in shapes]


def _lowered(shape: Shape, by: float) -> Shape:
    if isinstance(shape, Line):
        return replace(shape, points=tuple((x, y + by) for x, y in shape.points))
    return replace(shape, at=(shape.at[0], shape.at[1] + by))


def flight_profile(
    sheet: Sheet,
    flown: Flown,
    findings: tuple[Finding, ...],
    width: float,
    height: float,
) -> Scene | None:
    """Return the profile of a whole flight with all findings on it."""
    first = flown.launch or 0
    last = len(flown) - 1 if flown.landing is None else flown.landing
    window = float(flown.time_s[first]) - 60, float(flown.time_s[last]) + 60
    spans = tuple((f.from_s, f.to_s) for f in findings)
    limits = {
        f.limit for f in findings if f.kind.picture is Drawing.HEIGHTS and f.limit
    }
    limit = limits.pop() if len(limits) == 1 else None
    title = sheet.say(fact("picture-flight", pilot=pilot_value(flown.pilot)))
    return _profile(sheet, flown, window, spans, (width, height, title), limit=limit)


def _profile(
    sheet: Sheet,
    flown: Flown,
    window: tuple[float, float],
    spans: tuple[tuple[float, float], ...],
    look: tuple[float, float, str],
    *,
    limit: float | None,
    most_m: float | None = None,
) -> Scene | None:
    inside = (flown.time_s >= window[0]) & (flown.time_s <= window[1])
    known = inside & np.isfinite(flown.height_m)
    if known.sum() < 2:
        return None
    unit_m, unit = unit_of(sheet)
    time_s, height = flown.time_s[known], basket_m(flown)[known] / unit_m
    sigma = np.nan_to_num(flown.height_sigma_m[known]) / unit_m
    width, tall, title = look
    top = most_m / unit_m if most_m else None
    axes = _axes(
        window, height, sigma, limit and limit / unit_m, (width, tall), most=top
    )
    shapes: list[Shape] = [
        box(LEFT, TOP, width - LEFT - RIGHT, tall - TOP - BELOW, "sky"),
        *ground(axes, sheet),
    ]
    caption = fact("picture-axis", unit=words(unit))
    shapes += grid(axes, sheet, sheet.say(caption))
    shapes += [span_box(axes, span) for span in spans]
    parts = [p for p in stretches(time_s) if p.stop - p.start > 1]
    for p in parts:
        shapes += band(axes, time_s[p], height[p], sigma[p])
    if limit is not None:
        text = sheet.say(fact("picture-limit", limit=height_value(limit)))
        shapes += limit_line(axes, limit / unit_m, text)
    for p in parts:
        shapes += height_line(axes, time_s[p], height[p])
    shapes.append(who(sheet, flown.pilot))
    return Scene(width=width, height=tall, title=title, shapes=tuple(shapes))


def _axes(
    window: tuple[float, float],
    height: NDArray[np.float64],
    sigma: NDArray[np.float64],
    limit: float | None,
    size: tuple[float, float],
    *,
    most: float | None,
) -> Axes:
    """Return the axes: as high as `most`, or as the flight itself."""
    top = most or max(float((height + sigma).max()), (limit or 0.0) * 1.5, 1.0) * 1.06
    low = min(float((height - sigma).min()), -0.08 * top)
    return Axes(
        start_s=window[0],
        end_s=window[1],
        low=max(low, -0.2 * top),
        high=top,
        width=size[0],
        height=size[1],
    )
