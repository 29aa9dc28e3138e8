"""Altitude against an airspace: its walls, floor and ceiling, and the ground beneath."""

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, contains_xy

from scorer.event.finding import Finding
from scorer.event.model import Place
from scorer.facts import fact, moment, words
from scorer.facts import height as height_value
from scorer.facts import pilot as pilot_value
from scorer.sheets.axes import (
    BELOW,
    LEFT,
    RIGHT,
    SIMPLER_PT,
    TOP,
    Axes,
    band,
    grid,
    height_line,
    limit_line,
    unit_of,
    who,
)
from scorer.sheets.maps import outline, short, tidy
from scorer.sheets.profiles import window_of
from scorer.sheets.scene import Line, Scene, Shape, box, stretches
from scorer.sheets.sheet import Sheet, clean
from scorer.tracks.flown import Flown


def airspace_profile(
    sheet: Sheet, finding: Finding, flown: Flown, width: float, height: float
) -> Scene | None:
    """Return the altitude around a finding, with the airspace as a wall where it was met.

    The wall stands over the time that the track was within the outline, from the lower
    limit to the upper one.
    """
    place = sheet.event.place(str(finding.details.get("place", "")))
    start, end = window_of(finding)
    seen = (flown.time_s >= start) & (flown.time_s <= end)
    seen &= np.isfinite(flown.altitude_m)
    if place is None or seen.sum() < 2:
        return None
    unit_m, unit = unit_of(sheet)
    axes = _axes(flown, seen, place, unit_m, (width, height))
    inside = contains_xy(outline(place.rings), flown.lon_deg[seen], flown.lat_deg[seen])
    caption = fact("picture-axis-sea", unit=words(unit))
    shapes: list[Shape] = [
        box(LEFT, TOP, width - LEFT - RIGHT, height - TOP - BELOW, "sky"),
        *_wall(axes, flown.time_s[seen], inside, place, unit_m),
        *_terrain(axes, flown.time_s[seen], flown.ground_m[seen] / unit_m),
        *grid(axes, sheet, sheet.say(caption)),
        *_way(axes, flown, seen, unit_m),
        *_limits(axes, sheet, place, unit_m),
        who(sheet, finding.pilot),
    ]
    title = fact(
        "picture-altitude",
        place=words(place.name),
        pilot=pilot_value(finding.pilot),
        start=moment(start),
        end=moment(end),
    )
    return Scene(
        width=width, height=height, title=sheet.say(title), shapes=tuple(shapes)
    )


def _axes(
    flown: Flown,
    seen: NDArray[np.bool_],
    place: Place,
    unit_m: float,
    size: tuple[float, float],
) -> Axes:
    """Return axes that hold the ground, the flight and the limits of the airspace."""
    time_s, ground = flown.time_s[seen], flown.ground_m[seen]
    limits = [v for v in (place.lower_m, place.upper_m) if v is not None]
    highest = flown.altitude_m[seen] + np.nan_to_num(flown.height_sigma_m[seen])
    low = float(np.nanmin(ground)) / unit_m
    top = max([float(highest.max()), *limits]) / unit_m
    room = max(top - low, 10.0)
    return Axes(
        start_s=float(time_s[0]),
        end_s=float(time_s[-1]),
        low=low - 0.12 * room,
        high=low + 1.15 * room,
        width=size[0],
        height=size[1],
    )


def _way(
    axes: Axes, flown: Flown, seen: NDArray[np.bool_], unit_m: float
) -> list[Shape]:
    """Draw the altitude with its band, a stretch between pauses at a time."""
    time_s, altitude = flown.time_s[seen], flown.altitude_m[seen] / unit_m
    sigma = np.nan_to_num(flown.height_sigma_m[seen]) / unit_m
    shapes: list[Shape] = []
    for part in (p for p in stretches(time_s) if p.stop - p.start > 1):
        shapes += band(axes, time_s[part], altitude[part], sigma[part])
        shapes += height_line(axes, time_s[part], altitude[part])
    return shapes


def _limits(axes: Axes, sheet: Sheet, place: Place, unit_m: float) -> list[Shape]:
    shapes: list[Shape] = []
    for limit, kind in (
        (place.lower_m, "picture-airspace-from"),
        (place.upper_m, "picture-airspace-to"),
    ):
        if limit is not None:
            name = words(short(clean(place.name)))
            said = sheet.say(fact(kind, name=name, height=height_value(limit)))
            shapes += limit_line(axes, limit / unit_m, said)
    return shapes


def _wall(
    axes: Axes,
    time_s: NDArray[np.float64],
    inside: NDArray[np.bool_],
    place: Place,
    unit_m: float,
) -> list[Shape]:
    """Draw an airspace over each time that the track was within its outline."""
    low = axes.low if place.lower_m is None else place.lower_m / unit_m
    high = axes.high if place.upper_m is None else place.upper_m / unit_m
    edges = np.flatnonzero(np.diff(inside, prepend=False, append=False))
    walls: list[Shape] = []
    for first, end in edges.reshape(-1, 2):
        left, top = axes.at(float(time_s[first]), high)
        right, below = axes.at(float(time_s[end - 1]), low)
        wide = max(right - left, 1.0)
        walls.append(box(left, top, wide, below - top, "prohibited"))
        walls.append(box(left, top, wide, below - top, "prohibited-edge"))
    return walls


def _terrain(
    axes: Axes, time_s: NDArray[np.float64], ground: NDArray[np.float64]
) -> list[Shape]:
    """Shade the ground beneath the track."""
    line = LineString(np.column_stack([axes.x(time_s), axes.y(ground)]))
    top = tidy(line.simplify(SIMPLER_PT, preserve_topology=False))
    below = axes.height - BELOW
    points = (*top, (top[-1][0], below), (top[0][0], below))
    return [Line(points=points, role="soil", closed=True)]
