"""Height profiles: the basket over the ground, its uncertainty, the limit, the breach."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, Polygon, clip_by_rect
from shapely.geometry.base import BaseGeometry

from scorer.checks.base import basket_m
from scorer.event.finding import Finding, Picture
from scorer.event.moments import at
from scorer.facts import fact, moment, words
from scorer.facts import height as height_value
from scorer.facts import pilot as pilot_value
from scorer.scoring import told
from scorer.sheets.scene import Label, Line, Point, Scene, Shape, box, stretches, ticks
from scorer.sheets.sheet import Sheet
from scorer.tracks.flown import Flown
from scorer.units import FOOT_M
from scorer.words.voice import MINUS

LEFT, RIGHT, TOP, BELOW = 30.0, 8.0, 8.0, 22.0
AROUND_S, AROUND_TOUCH_S = 120.0, 45.0
"""Shown before and after a finding, and before and after a touch of the ground."""
TIMES_LIMIT = 2.5
"""A picture of a limit is so many times as high as the limit."""
TOUCH_M = 4.0
"""The same of a picture of the ground itself: it is 10 m high."""
DRIFT_OVER_S = 4.0
"""Speeds are taken over so long."""
SIMPLER_PT = 0.2
TIME_STEPS_S = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """Lets time and height fill a drawing."""

    start_s: float
    end_s: float
    low: float
    high: float
    """Heights in the shown unit."""
    width: float
    height: float

    def x(self, time_s: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return where moments stand."""
        share = (time_s - self.start_s) / (self.end_s - self.start_s)
        return LEFT + share * (self.width - LEFT - RIGHT)

    def y(self, value: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return where heights stand."""
        share = (value - self.low) / (self.high - self.low)
        return self.height - BELOW - share * (self.height - TOP - BELOW)

    def at(self, time_s: float, value: float) -> Point:
        """Return one point."""
        x, y = self.x(np.array([time_s])), self.y(np.array([value]))
        return round(float(x[0]), 2), round(float(y[0]), 2)


def finding_profile(
    sheet: Sheet, finding: Finding, flown: Flown, width: float, height: float
) -> Scene | None:
    """Return the profile around one finding, scaled to its limit where that is a height."""
    is_height = finding.kind.picture is Picture.HEIGHTS
    window = _window(finding)
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
    return finding.kind.picture is Picture.HEIGHTS and not finding.limit


def _window(finding: Finding) -> tuple[float, float]:
    around = AROUND_TOUCH_S if touches_ground(finding) else AROUND_S
    return finding.from_s - around, finding.to_s + around


def finding_speeds(
    sheet: Sheet, finding: Finding, flown: Flown, width: float, height: float
) -> Scene | None:
    """Draw drift and vertical speed around a touch of the ground: a basket stops both."""
    start, end = _window(finding)
    at = np.arange(start, end, 1.0)
    known = np.isfinite(flown.height_m)
    if known.sum() < 2:
        return None
    east, north, up = (
        _moved(flown.time_s[known], values[known], at) / DRIFT_OVER_S
        for values in (flown.east_m, flown.north_m, flown.height_m)
    )
    what = words(told.finding_title(sheet.voice, finding))
    who = pilot_value(finding.pilot)
    shapes: list[Shape] = []
    for top, values, title in (
        (0.0, np.hypot(east, north), "picture-drift"),
        (height / 2, up, "picture-vertical"),
    ):
        shapes += _panel(
            sheet, finding, at, values, (width, height / 2, top), title=title
        )
    title = sheet.say(fact("picture-speeds", what=what, pilot=who))
    return Scene(width=width, height=height, title=title, shapes=tuple(shapes))


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
    title: str,
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
    shapes += _grid(axes, sheet, sheet.word(title), about=3)
    shapes += [_span(axes, (finding.from_s, finding.to_s))]
    shapes += _line(axes, at, values)
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
        f.limit for f in findings if f.kind.picture is Picture.HEIGHTS and f.limit
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
    unit_m = float(FOOT_M) if sheet.letter else 1.0
    time_s, height = flown.time_s[known], basket_m(flown)[known] / unit_m
    sigma = np.nan_to_num(flown.height_sigma_m[known]) / unit_m
    width, tall, title = look
    top = most_m / unit_m if most_m else None
    axes = _axes(
        window, height, sigma, limit and limit / unit_m, (width, tall), most=top
    )
    shapes: list[Shape] = [
        box(LEFT, TOP, width - LEFT - RIGHT, tall - TOP - BELOW, "sky"),
        *_ground(axes, sheet),
    ]
    caption = fact("picture-axis", unit=words("ft" if sheet.letter else "m"))
    shapes += _grid(axes, sheet, sheet.say(caption))
    shapes += [_span(axes, span) for span in spans]
    parts = [p for p in stretches(time_s) if p.stop - p.start > 1]
    for p in parts:
        shapes += _band(axes, time_s[p], height[p], sigma[p])
    if limit is not None:
        text = sheet.say(fact("picture-limit", height=height_value(limit)))
        shapes += _limit(axes, limit / unit_m, text)
    for p in parts:
        shapes += _line(axes, time_s[p], height[p])
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


def _ground(axes: Axes, sheet: Sheet) -> list[Shape]:
    """Shade the ground."""
    left, top = axes.at(axes.start_s, 0.0)
    below = axes.height - BELOW
    soil = box(left, top, axes.width - RIGHT - left, below - top, "soil")
    label = Label(
        at=(left + 3, below - 1.5),
        text=sheet.word("picture-ground"),
        role="faint",
        size=5,
    )
    return [soil, *([label] if below - top > 6 else [])]


def _grid(axes: Axes, sheet: Sheet, caption: str, about: int = 4) -> list[Shape]:
    shapes: list[Shape] = []
    for value in ticks(axes.low, axes.high, about):
        y = axes.at(axes.start_s, value)[1]
        role = "zero" if value == 0 else "grid"
        shapes.append(Line(points=((LEFT, y), (axes.width - RIGHT, y)), role=role))
        shapes.append(
            _tick((LEFT - 3, y + 2.2), f"{value:g}".replace("-", MINUS), "end")
        )
    shapes += _times(axes, sheet)
    at = (LEFT, axes.height - 3)
    return [*shapes, Label(at=at, text=caption, role="faint", size=5.8)]


def _times(axes: Axes, sheet: Sheet) -> list[Shape]:
    span = axes.end_s - axes.start_s
    room = axes.width - LEFT - RIGHT
    step = next(
        (s for s in TIME_STEPS_S if span / s <= min(6, room / _clock_pt(s))), 14_400
    )
    pattern = "%H:%M" if step >= 60 else "%H:%M:%S"
    at_s = -(-axes.start_s // step) * step
    shapes: list[Shape] = []
    base = axes.height - BELOW
    while at_s <= axes.end_s:
        x = axes.at(at_s, axes.low)[0]
        shapes.append(Line(points=((x, base), (x, base + 3)), role="axis"))
        there = at(at_s, sheet.event.time_zone).local
        shapes.append(_tick((x, base + 9.5), f"{there:{pattern}}", "middle"))
        at_s += step
    return shapes


def _clock_pt(step_s: int) -> float:
    """Return the room that a clock time takes, in points."""
    return 24.0 if step_s >= 60 else 36.0


def _tick(at: Point, text: str, anchor: str) -> Label:
    return Label(at=at, text=text, role="axis-text", anchor=anchor, size=6)


def _span(axes: Axes, span: tuple[float, float]) -> Line:
    least = (axes.end_s - axes.start_s) / 300
    start, end = (
        max(span[0], axes.start_s),
        min(max(span[1], span[0] + least), axes.end_s),
    )
    left, top = axes.at(start, axes.high)
    right, below = axes.at(max(end, start), axes.low)
    return box(left, top, right - left, below - top, "breach")


def _band(
    axes: Axes,
    time_s: NDArray[np.float64],
    height: NDArray[np.float64],
    sigma: NDArray[np.float64],
) -> list[Shape]:
    x = np.concatenate([axes.x(time_s), axes.x(time_s)[::-1]])
    y = np.concatenate([axes.y(height + sigma), axes.y(height - sigma)[::-1]])
    whole = Polygon(np.column_stack([x, y])).buffer(0)
    return [
        Line(points=_tidy(part.exterior.simplify(SIMPLER_PT)), role="band", closed=True)
        for part in _seen(axes, whole)
        if isinstance(part, Polygon)
    ]


def _line(
    axes: Axes, time_s: NDArray[np.float64], height: NDArray[np.float64]
) -> list[Shape]:
    whole = LineString(np.column_stack([axes.x(time_s), axes.y(height)]))
    return [
        Line(
            points=_tidy(part.simplify(SIMPLER_PT, preserve_topology=False)),
            role="height",
        )
        for part in _seen(axes, whole)
        if isinstance(part, LineString)
    ]


def _seen(axes: Axes, shape: BaseGeometry) -> Sequence[BaseGeometry]:
    """Return the parts of a shape within the frame."""
    right, below = axes.width - RIGHT, axes.height - BELOW
    seen = clip_by_rect(shape, LEFT, TOP, right, below)
    return [part for part in getattr(seen, "geoms", [seen]) if not part.is_empty]


def _tidy(line: BaseGeometry) -> tuple[Point, ...]:
    return tuple((round(float(a), 2), round(float(b), 2)) for a, b in line.coords)


def _limit(axes: Axes, limit: float, text: str) -> list[Shape]:
    y = axes.at(axes.start_s, limit)[1]
    right = axes.width - RIGHT
    label = Label(at=(right - 2, y - 2.5), text=text, role="limit", anchor="end")
    return [Line(points=((LEFT, y), (right, y)), role="limit"), label]
