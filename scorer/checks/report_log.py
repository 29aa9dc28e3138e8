"""What a pilot's log shows at the moment of a report, and whether it contradicts it.

Whoever reports a touch or low flight stood where it could be seen.  A balloon that was
high all the time about then, or far from the task's targets and scoring areas, was not
the one that was seen; who was low and near may have been.  The log decides nothing: it is
stated beside the report, and people are asked.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import shapely

from scorer.checks.mark_track import Course, mistaken
from scorer.event.matter import Blocks, Closes, Matter, matter_kind
from scorer.event.model import Report, ReportKind, Task
from scorer.facts import Fact, distance, fact, height, inner, moment, several, words
from scorer.facts import pilot as pilot_value
from scorer.geodesy.site import Site
from scorer.tracks.flown import Array

REPORT_LOG = matter_kind(
    "report-contradicted", blocks=Blocks.OFFICIAL, closes=Closes.REPORTS
)
WITHIN_S = 120.0
"""Between what an official's watch and a log say of one act (our choice)."""
HIGH_M = 30.0
"""So much higher than reported contradicts a report: heights are known to some metres
before the air of the flight is, and people judge them to some more (our choice)."""
LEVEL_M = 0.5
"""Of moments as low as that, the one nearest to the report is told."""
FAR_M = 1500.0
"""Nobody on the ground tells from farther whether a basket touches (our choice)."""
NAMED = 3
"""At most so many pilots are proposed."""
SEEN = frozenset({ReportKind.GROUND_CONTACT, ReportKind.LOW})

Courses = Mapping[int, Callable[[], Course]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Where a balloon was about the moment of a report."""

    height_m: float | None
    """Lowest above the ground; None = the log does not tell."""
    away_m: float | None
    """From the nearest target or scoring area of the task then; None = it has none."""
    at_s: float
    """When it was lowest, or at the report where heights are not known."""

    def contradicts(self, report: Report) -> bool:
        """Tell whether somebody who was there cannot be the one who was seen."""
        seen_m = (report.value or 0.0) if report.kind is ReportKind.LOW else 0.0
        high = self.height_m is not None and self.height_m > seen_m + HIGH_M
        return high or (self.away_m is not None and self.away_m > FAR_M)

    @property
    def says(self) -> Fact:
        """State where it was."""
        parts = (
            None
            if self.height_m is None
            else fact("beside-height", height=height(max(self.height_m, 0.0))),
            None if self.away_m is None else _how_far(self.away_m),
        )
        return fact(
            "beside-report",
            where=several(inner(p) for p in parts if p is not None),
            at=moment(self.at_s),
        )


def _how_far(away_m: float) -> Fact:
    if away_m == 0.0:
        return fact("beside-inside")
    return fact("beside-away", away=distance(away_m))


def beside(report: Report, course: Course, site: Site, task: Task) -> Beside | None:
    """Return where a balloon was about a report; None where its log does not say."""
    if report.kind not in SEEN or report.time_s is None:
        return None
    span = report.time_s - WITHIN_S, report.time_s + WITHIN_S
    first, last = np.searchsorted(course.time_s, span)
    if first >= last:
        return None
    here = slice(int(first), int(last))
    off = np.abs(course.time_s[here] - report.time_s)
    at, up = int(first) + int(off.argmin()), None
    heights = None if course.height_m is None else course.height_m[here]
    if heights is not None and np.isfinite(heights).any():
        up = float(np.nanmin(heights))
        low = np.where(heights < up + LEVEL_M, off, np.inf)  # NaN is not low
        at = int(first) + int(low.argmin())
    then = site.standing(task.number, report.time_s)
    away = _away(course.east_m[here], course.north_m[here], then, task)
    if up is None and away is None:
        return None
    return Beside(height_m=up, away_m=away, at_s=float(course.time_s[at]))


def _away(
    east_m: Array,
    north_m: Array,
    site: Site,
    task: Task,
) -> float | None:
    """Return how near some fixes come to the task's targets and scoring areas."""
    shapes: list[shapely.Geometry] = [
        shapely.Point(site.point(n)) for n in task.targets if n in site.spots
    ]
    shapes += [site.area(n) for n in task.scoring_areas if n in site.areas]
    if not shapes:
        return None
    points = shapely.points(east_m, north_m)
    return min(float(shapely.distance(points, shape).min()) for shape in shapes)


def contradicted(
    report: Report, own: Beside, courses: Courses, site: Site, task: Task
) -> Matter:
    """Ask about a report that its pilot's log contradicts; name who was there."""
    found = list(_there(report, courses, site, task))
    named = several(inner(one) for one in found[:NAMED])
    there = fact("report-others", named=named) if found else fact("report-nobody")
    return Matter(
        kind=REPORT_LOG,
        flight=task.flight,
        task=report.task,
        pilots=(report.pilot,),
        says=fact(
            "report-contradicted",
            who=words(report.by or "?"),
            report=inner(fact(f"report-says-{report.kind}")),
            noted=moment(report.time_s or 0.0),
            pilot=pilot_value(report.pilot),
            beside=inner(own.says),
            there=inner(there),
        ),
        evidence=(report.named,),
    )


def _there(report: Report, courses: Courses, site: Site, task: Task) -> Iterator[Fact]:
    """Yield who was low and near then: easily mistaken numbers first, then the lowest."""
    found = [
        (number, seen)
        for number, course in courses.items()
        if number != report.pilot
        and (seen := beside(report, course(), site, task)) is not None
        and seen.height_m is not None
        and not seen.contradicts(report)
    ]
    found.sort(key=lambda one: (not mistaken(report.pilot, one[0]), one[1].height_m))
    for number, seen in found:
        yield fact(
            "report-other",
            pilot=pilot_value(number),
            height=height(max(seen.height_m or 0.0, 0.0)),
            at=moment(seen.at_s),
        )
