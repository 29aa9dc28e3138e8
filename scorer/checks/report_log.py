"""What a pilot's log shows at the moment of a report, and whether it contradicts it.

Whoever reports a touch or low flight stood where it could be seen.  How far a log is from
that in time, height and place is weighed together, fix by fix, and the fix that fits best
counts: a balloon that was high all the time about then, or far from the task's targets and
scoring areas, was not the one that was seen.  The same weights, with how easily numbers
are mistaken, say who else it may have been.  The log decides nothing: it is stated beside
the report, and people are asked.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import shapely

from scorer.checks.mark_track import Course, mistaken, mixed_up
from scorer.event.matter import Blocks, Closes, Matter, matter_kind
from scorer.event.model import Pilot, Report, ReportKind, Task
from scorer.facts import (
    Fact,
    count,
    distance,
    fact,
    height,
    inner,
    moment,
    several,
    words,
)
from scorer.facts import pilot as pilot_value
from scorer.geodesy.site import Site
from scorer.tracks.flown import Array
from scorer.tracks.names import related

REPORT_LOG = matter_kind(
    "report-contradicted", blocks=Blocks.OFFICIAL, closes=Closes.REPORTS
)
WITHIN_S = 120.0
"""Between what an official's watch and a log say of one act (our choice)."""
WATCH_S, HEIGHT_M, PLACE_M = 30.0, 5.0, 250.0
"""How far off watches, heights and places usually are: chances fall to a third over so
much (our choice: heights are known to some metres before the air of the flight is, and
nobody on the ground tells from far away whether a basket touches)."""
JUDGED = 0.2
"""Share by which people misjudge a height."""
AIM_M = 600.0
"""The same from the target, where most officials stand, but once at most."""
AGAINST = 6.0
"""Natural logarithm: a log so far from a report contradicts it, by 30 m of height, say, or
1.5 km, or less of both."""
REPORTED = 2.0
"""What speaks against one of whom the same is reported at that time: it was seen anyway."""
NEARLY = 2.5
"""Others who fit so little worse than the likeliest are told of."""
NAMED = 3
"""At most so many pilots are proposed."""
SEEN = frozenset({ReportKind.GROUND_CONTACT, ReportKind.LOW})

Courses = Mapping[int, Callable[[], Course]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Where a balloon was about the moment of a report."""

    height_m: float | None
    """Above the ground; None = the log does not tell."""
    away_m: float | None
    """From the nearest target or scoring area of the task then; None = it has none."""
    at_s: float
    """When it fitted the report best."""
    against: float
    """How much speaks against its being the one that was seen, natural logarithm."""

    @property
    def contradicts(self) -> bool:
        """Tell whether somebody who was there cannot be the one who was seen."""
        return self.against > AGAINST

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


@dataclass(frozen=True, kw_only=True)
class ReportBasis:
    """What reports of a task are held against."""

    site: Site
    task: Task
    courses: Courses = field(default_factory=dict)
    """Where each pilot's track was in the air."""
    pilots: Sequence[Pilot] = ()
    reports: Sequence[Report] = ()
    """All of the flight."""
    least_m: float | None = None
    """The minimum height; None = the rules have none."""

    @cached_property
    def names(self) -> Mapping[int, str]:
        """The names of pilots by number."""
        return {pilot.number: pilot.name for pilot in self.pilots}

    def beside(self, report: Report, course: Course) -> Beside | None:
        """Return where a balloon was about a report; None where its log does not say."""
        if report.kind not in SEEN or report.time_s is None:
            return None
        span = report.time_s - WITHIN_S, report.time_s + WITHIN_S
        here = slice(*np.searchsorted(course.time_s, span).tolist())
        time = course.time_s[here]
        if not len(time):
            return None
        heights = None if course.height_m is None else course.height_m[here]
        if heights is not None and not np.isfinite(heights).any():
            heights = None
        away, aim = self._away_m(course.east_m[here], course.north_m[here], report)
        if heights is None and away is None:
            return None
        against = np.abs(time - report.time_s) / WATCH_S
        if heights is not None:
            off = self._off(heights, report)
            against += np.where(np.isfinite(off), off, np.inf)  # unknown is not low
        if away is not None:
            against += away / PLACE_M + np.minimum(aim / AIM_M, 1.0)
        at = int(against.argmin())
        return Beside(
            height_m=None if heights is None else float(heights[at]),
            away_m=None if away is None else float(away[at]),
            at_s=float(time[at]),
            against=float(against[at]),
        )

    def _off(self, heights_m: Array, report: Report) -> Array:
        """Return how far heights are from what was seen, in what is usual."""
        low = high = 0.0
        if report.kind is ReportKind.LOW:
            low = report.value or 0.0
            high = low if report.value is not None else (self.least_m or math.inf)
        above = np.maximum(heights_m, 0.0)
        off = np.maximum(np.maximum(above - high, low - above), 0.0)
        return np.asarray(off / max(HEIGHT_M, JUDGED * low))

    def _away_m(
        self, east_m: Array, north_m: Array, report: Report
    ) -> tuple[Array | None, Array]:
        """Return how far fixes are from targets and scoring areas, and from targets."""
        own, points = self.task, shapely.points(east_m, north_m)
        site = self.site.standing(own.number, report.time_s or 0.0)
        spots = [shapely.Point(site.point(n)) for n in own.targets if n in site.spots]
        areas = [site.area(n) for n in own.scoring_areas if n in site.areas]
        if not spots and not areas:
            return None, np.zeros(len(east_m))
        away, aim = (
            np.min([shapely.distance(points, shape) for shape in shapes], axis=0)
            for shapes in ([*spots, *areas], spots or areas)
        )
        return away, aim


def contradicted(report: Report, own: Beside, basis: ReportBasis) -> Matter:
    """Ask about a report that its pilot's log contradicts; name who was there."""
    found = likeliest(report, basis)
    named = several(inner(_told(number, seen)) for number, seen in found[:NAMED])
    there = fact("report-nobody")
    if found:
        there = fact("report-others", named=named)
    if len(found) > NAMED:
        there = fact("report-many", named=named, more=count(len(found) - NAMED))
    return Matter(
        kind=REPORT_LOG,
        flight=basis.task.flight,
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


def likeliest(report: Report, basis: ReportBasis) -> list[tuple[int, Beside]]:
    """Return who may have been seen in a pilot's stead, the likeliest first.

    All who fit the report nearly as well as the likeliest does, `NAMED` at least if as
    many were there.
    """
    others = [number for number in basis.courses if number != report.pilot]
    name = basis.names.get(report.pilot, "")
    like = {
        n
        for n in others
        if mistaken(report.pilot, n) or related(name, basis.names.get(n, ""))
    }
    taken = {r.pilot for r in basis.reports if _same_act(r, report)}
    chances = mixed_up(dict.fromkeys(others, 1.0), like)
    found = []
    for number in others:
        seen = basis.beside(report, basis.courses[number]())
        if seen is None or seen.height_m is None or seen.contradicts:
            continue
        odds = math.log(chances[number]) - seen.against - REPORTED * (number in taken)
        found.append((odds, number, seen))
    found.sort(key=lambda one: (-one[0], one[1]))
    return [
        (number, seen)
        for place, (odds, number, seen) in enumerate(found)
        if place < NAMED or odds > found[0][0] - NEARLY
    ]


def _same_act(one: Report, other: Report) -> bool:
    """Tell whether another report may be of the same act."""
    if one is other or one.time_s is None or other.time_s is None:
        return False
    alike = one.kind is other.kind and one.task == other.task
    return alike and abs(one.time_s - other.time_s) <= WITHIN_S


def _told(number: int, seen: Beside) -> Fact:
    return fact(
        "report-other",
        pilot=pilot_value(number),
        height=height(max(seen.height_m or 0.0, 0.0)),
        at=moment(seen.at_s),
    )
