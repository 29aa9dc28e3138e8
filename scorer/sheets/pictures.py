"""The drawings of a breakdown: a map for each finding and mark, height profiles."""

from dataclasses import dataclass

import numpy as np

from scorer.event.finding import Drawing, Finding
from scorer.event.model import Place
from scorer.facts import distance, fact, words
from scorer.facts import pilot as pilot_value
from scorer.scoring import told
from scorer.sheets.altitudes import airspace_profile
from scorer.sheets.breakdown import TaskPart
from scorer.sheets.flights import Tracks
from scorer.sheets.maps import (
    MapWish,
    areas_of,
    corners,
    draw_map,
    marks_map,
    nearest_of,
    targets_of,
)
from scorer.sheets.profiles import (
    finding_profile,
    finding_speeds,
    touches_ground,
)
from scorer.sheets.scene import Scene
from scorer.sheets.sheet import Sheet, clean
from scorer.tracks.flown import Flown


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Width and height of a drawing, in points."""

    width: float
    height: float


MAP = Size(width=200, height=135)
HEIGHTS = Size(width=300, height=135)
NARROW = Size(width=180, height=135)
"""Three pictures side by side."""


def finding_pictures(
    sheet: Sheet, finding: Finding, tracks: Tracks
) -> tuple[Scene, ...]:
    """Return the pictures of one finding, the same on paper and pages."""
    flown = tracks.get((finding.flight, finding.pilot))
    pace = finding_pace(sheet, finding, flown, NARROW)
    first, second = (MAP, HEIGHTS) if pace is None else (NARROW, NARROW)
    drawn = (
        finding_map(sheet, finding, flown, first),
        finding_heights(sheet, finding, flown, second),
        pace,
    )
    return tuple(one for one in drawn if one is not None)


def finding_map(
    sheet: Sheet, finding: Finding, flown: Flown | None, size: Size
) -> Scene | None:
    """Map one finding: where it was, the target, the areas around, the track."""
    targets = targets_of(sheet.event, finding.task, finding.pilot)
    spot = _spot(finding)
    near = nearest_of(targets, spot[:1]) or targets[:1]
    focus = [*spot, *_on_track(finding, flown), *corners(near)]
    circles = _circles(sheet, finding, near)
    focus += [_limit_beside(finding, place, spot[0]) for place, *_ in circles if spot]
    if finding.kind.around and not spot:
        focus += corners(p for p in sheet.event.places if p.kind is finding.kind.around)
    if not spot and flown is None:
        return None
    wish = MapWish(
        title=sheet.say(
            fact(
                "picture-where",
                what=words(told.finding_title(sheet.voice, finding)),
                pilot=pilot_value(finding.pilot),
            )
        ),
        width=size.width,
        height=size.height,
        focus=tuple(focus),
        areas=areas_of(sheet.event, sheet.tasks_of(finding.task)),
        targets=targets,
        circles=circles,
        flown=flown,
        spans=((finding.from_s, finding.to_s),),
        spots=tuple(spot),
        voice=sheet.voice,
        who=clean(sheet.voice.pilot(finding.pilot)),
    )
    return draw_map(wish)


def _circles(
    sheet: Sheet, finding: Finding, near: tuple[Place, ...]
) -> tuple[tuple[Place, float, str], ...]:
    """Draw the limit of a launch's distance around its target."""
    if finding.kind.section != "launch" or finding.unit != "m" or not finding.limit:
        return ()
    text = sheet.say(fact("picture-limit", limit=distance(finding.limit)))
    return tuple((place, finding.limit, text) for place in near)


def _limit_beside(
    finding: Finding, about: Place, spot: tuple[float, float]
) -> tuple[float, float]:
    """Return (lat, lon) of the limit in the direction of a launch: a map shows both."""
    lon, lat = about.rings[0][0]
    share = (finding.limit or 0.0) / max(finding.measured or 0.0, 1.0)
    east = (spot[1] - lon + 180.0) % 360.0 - 180.0
    return lat + (spot[0] - lat) * share, lon + east * share


def _spot(finding: Finding) -> list[tuple[float, float]]:
    if finding.lat_deg is None or finding.lon_deg is None:
        return []
    return [(finding.lat_deg, finding.lon_deg)]


def _on_track(finding: Finding, flown: Flown | None) -> list[tuple[float, float]]:
    if flown is None:
        return []
    inside = (flown.time_s >= finding.from_s) & (flown.time_s <= finding.to_s)
    lat, lon = flown.lat_deg[inside], flown.lon_deg[inside]
    return [(float(a), float(b)) for a, b in zip(lat, lon, strict=True)]


def finding_heights(
    sheet: Sheet, finding: Finding, flown: Flown | None, size: Size
) -> Scene | None:
    """Draw the heights around one finding, where heights bear on it."""
    if flown is None or finding.kind.picture is Drawing.MAP:
        return None
    if finding.kind.picture is Drawing.ALTITUDE:
        return airspace_profile(sheet, finding, flown, size.width, size.height)
    return finding_profile(sheet, finding, flown, size.width, size.height)


def finding_pace(
    sheet: Sheet, finding: Finding, flown: Flown | None, size: Size
) -> Scene | None:
    """Draw drift and vertical speed around a touch of the ground; None for other kinds."""
    if flown is None or not touches_ground(finding):
        return None
    return finding_speeds(sheet, finding, flown, size.width, size.height)


def part_map(sheet: Sheet, part: TaskPart, size: Size) -> Scene | None:
    """Map the marks of one task around its target."""
    return marks_map(sheet, part.task, part.score, size.width, size.height)


def flight_map(
    sheet: Sheet, flown: Flown, parts: tuple[TaskPart, ...], size: Size
) -> Scene | None:
    """Map a whole flight with the targets, marks and findings of its tasks."""
    tasks = [part.task.task for part in parts]
    found = [t for n in tasks for t in targets_of(sheet.event, n, flown.pilot)]
    names = {target.name for target in found}
    places = tuple(p for p in sheet.event.places if p.name in names)
    findings = tuple(r.finding for part in parts for r in part.findings)
    first, last = flown.launch or 0, flown.landing or len(flown) - 1
    way = slice(first, last + 1)
    track = np.column_stack([flown.lat_deg[way], flown.lon_deg[way]])
    own = tuple(task for n in tasks for task in sheet.tasks_of(n))
    wish = MapWish(
        title=sheet.say(fact("picture-way", pilot=pilot_value(flown.pilot))),
        width=size.width,
        height=size.height,
        focus=np.vstack([track, np.reshape(corners(places), (-1, 2))]),
        areas=areas_of(sheet.event, own),
        targets=places,
        flown=flown,
        marks=tuple(mark for part in parts for mark in part.score.marks),
        spans=tuple((f.from_s, f.to_s) for f in findings),
        spots=tuple(spot for f in findings for spot in _spot(f)),
        voice=sheet.voice,
    )
    return draw_map(wish)
