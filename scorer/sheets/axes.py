"""Axes of time and height, and what profiles draw into them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, Polygon, clip_by_rect
from shapely.geometry.base import BaseGeometry

from scorer.event.moments import at
from scorer.sheets.maps import short, tidy
from scorer.sheets.scene import Label, Line, Numbers, Point, Shape, box, ticks
from scorer.sheets.sheet import Sheet, clean
from scorer.units import FOOT_M

LEFT, RIGHT, TOP, BELOW = 30.0, 8.0, 8.0, 22.0
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

    def x(self, time_s: Numbers) -> Numbers:
        """Return where moments stand."""
        share = (time_s - self.start_s) / (self.end_s - self.start_s)
        return LEFT + share * (self.width - LEFT - RIGHT)

    def y(self, value: Numbers) -> Numbers:
        """Return where heights stand."""
        share = (value - self.low) / (self.high - self.low)
        return self.height - BELOW - share * (self.height - TOP - BELOW)

    def at(self, time_s: float, value: float) -> Point:
        """Return one point."""
        return round(self.x(time_s), 2), round(self.y(value), 2)


def who(sheet: Sheet, pilot: int) -> Label:
    """Name the pilot above the frame: pictures are copied out of sheets."""
    text = short(clean(sheet.voice.pilot(pilot)))
    return Label(at=(LEFT, TOP - 1.5), text=text, role="faint")


def unit_of(sheet: Sheet) -> tuple[float, str]:
    """Return the unit that the event reads heights in: in metres, and its sign."""
    return (float(FOOT_M), "ft") if sheet.letter else (1.0, "m")


def ground(axes: Axes, sheet: Sheet) -> list[Shape]:
    """Shade the ground."""
    left, top = axes.at(axes.start_s, 0.0)
    below = axes.height - BELOW
    soil = box(left, top, axes.width - RIGHT - left, below - top, "soil")
    label = Label(
        at=(left + 3, below - 1.5),
        text=sheet.word("picture-ground"),
        role="faint",
        size=6,
    )
    return [soil, *([label] if below - top > 6 else [])]


def grid(axes: Axes, sheet: Sheet, caption: str, about: int = 4) -> list[Shape]:
    """Draw lines at round heights, the times beneath, and what the heights are."""
    shapes: list[Shape] = []
    for value in ticks(axes.low, axes.high, about):
        y = axes.at(axes.start_s, value)[1]
        role = "zero" if value == 0 else "grid"
        shapes.append(Line(points=((LEFT, y), (axes.width - RIGHT, y)), role=role))
        shapes.append(
            _tick(
                (LEFT - 3, y + 2.2),
                sheet.voice.figure(value),
                "end",
            )
        )
    shapes += _times(axes, sheet)
    at = (LEFT, axes.height - 3)
    return [*shapes, Label(at=at, text=caption, role="faint", size=6)]


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
        middle = min(x, axes.width - 0.4 * _clock_pt(step))  # all of it is seen
        shapes.append(_tick((middle, base + 9.5), f"{there:{pattern}}", "middle"))
        at_s += step
    return shapes


def _clock_pt(step_s: int) -> float:
    """Return the room that a clock time takes, in points."""
    return 24.0 if step_s >= 60 else 36.0


def _tick(at: Point, text: str, anchor: str) -> Label:
    return Label(at=at, text=text, role="axis-text", anchor=anchor, size=6)


def span_box(axes: Axes, span: tuple[float, float]) -> Line:
    """Mark the time of a finding."""
    least = (axes.end_s - axes.start_s) / 300
    start, end = (
        max(span[0], axes.start_s),
        min(max(span[1], span[0] + least), axes.end_s),
    )
    left, top = axes.at(start, axes.high)
    right, below = axes.at(max(end, start), axes.low)
    return box(left, top, right - left, below - top, "breach")


def band(
    axes: Axes,
    time_s: NDArray[np.float64],
    height: NDArray[np.float64],
    sigma: NDArray[np.float64],
) -> list[Shape]:
    """Draw the band that holds the height in two cases of three.

    Where it is so narrow that its edges, simplified, may cross, nobody sees it.
    """
    x = np.concatenate([axes.x(time_s), axes.x(time_s)[::-1]])
    y = np.concatenate([axes.y(height + sigma), axes.y(height - sigma)[::-1]])
    whole = Polygon(np.column_stack([x, y]))
    if not (
        (sigma > 0.0).all() and (np.diff(time_s) > 0.0).all()
    ):  # its edges may touch
        whole = whole.buffer(0)
    return [
        Line(
            points=tidy(part.exterior.simplify(SIMPLER_PT, preserve_topology=False)),
            role="band",
            closed=True,
        )
        for part in _seen(axes, whole)
        if isinstance(part, Polygon)
    ]


def height_line(
    axes: Axes, time_s: NDArray[np.float64], height: NDArray[np.float64]
) -> list[Shape]:
    """Draw heights over time."""
    whole = LineString(np.column_stack([axes.x(time_s), axes.y(height)]))
    return [
        Line(
            points=tidy(part.simplify(SIMPLER_PT, preserve_topology=False)),
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


def limit_line(axes: Axes, limit: float, text: str) -> list[Shape]:
    """Draw a limit with its words."""
    y = axes.at(axes.start_s, limit)[1]
    right = axes.width - RIGHT
    label = Label(at=(right - 2, y - 2.5), text=text, role="limit", anchor="end")
    return [Line(points=((LEFT, y), (right, y)), role="limit"), label]
