"""Height profiles: height over the ground with its uncertainty, the limit, the breach."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import LineString

from scorer.event.finding import Finding, Picture
from scorer.event.moments import at
from scorer.facts import fact, moment, number, words
from scorer.facts import height as height_value
from scorer.scoring import told
from scorer.sheets.scene import Label, Line, Point, Scene, Shape, box, stretches, ticks
from scorer.sheets.sheet import Sheet
from scorer.tracks.flown import Flown
from scorer.units import FOOT_M

LEFT, RIGHT, TOP, BELOW = 30.0, 8.0, 8.0, 22.0
AROUND_S = 120.0
"""Shown before and after a finding."""
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
        """Return where heights stand; those outside stand at the edge."""
        share = (np.clip(value, self.low, self.high) - self.low) / (
            self.high - self.low
        )
        return self.height - BELOW - share * (self.height - TOP - BELOW)

    def at(self, time_s: float, value: float) -> Point:
        """Return one point."""
        x, y = self.x(np.array([time_s])), self.y(np.array([value]))
        return round(float(x[0]), 2), round(float(y[0]), 2)


def finding_profile(
    sheet: Sheet, finding: Finding, flown: Flown, width: float, height: float
) -> Scene | None:
    """Return the profile around one finding, its limit drawn where it is a height."""
    limit = finding.limit if finding.kind.picture is Picture.HEIGHTS else None
    window = finding.from_s - AROUND_S, finding.to_s + AROUND_S
    title = sheet.say(
        fact(
            "picture-profile",
            what=words(told.finding_title(sheet.voice, finding)),
            pilot=number(finding.pilot),
            start=moment(window[0]),
            end=moment(window[1]),
        )
    )
    spans = ((finding.from_s, finding.to_s),)
    return _profile(sheet, flown, window, spans, (width, height, title), limit=limit)


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
    title = sheet.say(fact("picture-flight", pilot=number(flown.pilot)))
    return _profile(sheet, flown, window, spans, (width, height, title), limit=limit)


def _profile(
    sheet: Sheet,
    flown: Flown,
    window: tuple[float, float],
    spans: tuple[tuple[float, float], ...],
    look: tuple[float, float, str],
    *,
    limit: float | None,
) -> Scene | None:
    inside = (flown.time_s >= window[0]) & (flown.time_s <= window[1])
    known = inside & np.isfinite(flown.height_m)
    if known.sum() < 2:
        return None
    unit_m = float(FOOT_M) if sheet.letter else 1.0
    time_s, height = flown.time_s[known], flown.height_m[known] / unit_m
    sigma = np.nan_to_num(flown.height_sigma_m[known]) / unit_m
    width, tall, title = look
    axes = _axes(window, height, sigma, limit and limit / unit_m, (width, tall))
    shapes: list[Shape] = [
        box(LEFT, TOP, width - LEFT - RIGHT, tall - TOP - BELOW, "sky")
    ]
    shapes += _grid(axes, sheet)
    shapes += [_span(axes, span) for span in spans]
    parts = [p for p in stretches(time_s) if p.stop - p.start > 1]
    shapes += [_band(axes, time_s[p], height[p], sigma[p]) for p in parts]
    if limit is not None:
        text = sheet.say(fact("picture-limit", height=height_value(limit)))
        shapes += _limit(axes, limit / unit_m, text)
    shapes += [_line(axes, time_s[p], height[p]) for p in parts]
    return Scene(width=width, height=tall, title=title, shapes=tuple(shapes))


def _axes(
    window: tuple[float, float],
    height: NDArray[np.float64],
    sigma: NDArray[np.float64],
    limit: float | None,
    size: tuple[float, float],
) -> Axes:
    top = max(float((height + sigma).max()), (limit or 0.0) * 1.5, 1.0)
    low = min(float((height - sigma).min()), 0.0)
    return Axes(
        start_s=window[0],
        end_s=window[1],
        low=max(low, -0.15 * top),
        high=top * 1.06,
        width=size[0],
        height=size[1],
    )


def _grid(axes: Axes, sheet: Sheet) -> list[Shape]:
    shapes: list[Shape] = []
    for value in ticks(axes.low, axes.high, 4):
        y = axes.at(axes.start_s, value)[1]
        role = "zero" if value == 0 else "grid"
        shapes.append(Line(points=((LEFT, y), (axes.width - RIGHT, y)), role=role))
        shapes.append(_tick((LEFT - 3, y + 2.2), f"{value:g}", "end"))
    shapes += _times(axes, sheet)
    unit = "ft" if sheet.letter else "m"
    caption = sheet.say(fact("picture-axis", unit=words(unit)))
    at = (LEFT, axes.height - 3)
    return [*shapes, Label(at=at, text=caption, role="faint", size=5.8)]


def _times(axes: Axes, sheet: Sheet) -> list[Shape]:
    span = axes.end_s - axes.start_s
    step = next((s for s in TIME_STEPS_S if span / s <= 6), 14_400)
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
) -> Line:
    x = np.concatenate([axes.x(time_s), axes.x(time_s)[::-1]])
    y = np.concatenate([axes.y(height + sigma), axes.y(height - sigma)[::-1]])
    return Line(points=_simple(x, y), role="band", closed=True)


def _line(axes: Axes, time_s: NDArray[np.float64], height: NDArray[np.float64]) -> Line:
    return Line(points=_simple(axes.x(time_s), axes.y(height)), role="height")


def _simple(x: NDArray[np.float64], y: NDArray[np.float64]) -> tuple[Point, ...]:
    line = LineString(np.column_stack([x, y])).simplify(
        SIMPLER_PT, preserve_topology=False
    )
    return tuple((round(float(a), 2), round(float(b), 2)) for a, b in line.coords)


def _limit(axes: Axes, limit: float, text: str) -> list[Shape]:
    y = axes.at(axes.start_s, limit)[1]
    right = axes.width - RIGHT
    label = Label(at=(right - 2, y - 2.5), text=text, role="limit", anchor="end")
    return [Line(points=((LEFT, y), (right, y)), role="limit"), label]
