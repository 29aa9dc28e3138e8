"""Reports beside the log of their pilot: what bears them out, what contradicts them."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.checks.contact import GROUND_CONTACT
from scorer.checks.mark_track import Course
from scorer.checks.report_log import FAR_M, REPORT_LOG, beside, contradicted
from scorer.checks.reports import from_reports
from scorer.event.finding import Verdict
from scorer.event.model import ReportKind
from scorer.geodesy.site import Site
from scorer.geodesy.stood import Stood
from tests.helpers import said
from tests.scorer.checks.invented import START_S, about
from tests.scorer.checks.test_reports import BOOK, report
from tests.scorer.tiny import EAST, NORTH, tiny, tiny_flight

EVENT = tiny(tiny_flight(marks="task,pilot,method,distance\n1,1,tape,5\n"))
SITE, TASK = Site.of(EVENT), EVENT.flights[0].tasks[0]


def course(height_m, away_m=0.0, *, low_at=None):
    """Half an hour at one height, east of the target; low for half a minute if asked."""
    time = START_S + np.arange(0.0, 1800.0, 2.0)
    height = np.full(len(time), float(height_m))
    if low_at is not None:
        height[np.abs(time - START_S - low_at) < 15.0] = 1.0
    east = np.full(len(time), EAST + 500.0 + away_m)
    return Course(time, east, np.full(len(time), NORTH), height)


TOUCH = report(ReportKind.GROUND_CONTACT, 600.0)


def test_a_balloon_that_was_high_and_far_cannot_be_the_one_that_touched():
    seen = beside(TOUCH, course(153.0, 3800.0), SITE, TASK)

    assert seen.height_m == pytest.approx(153.0)
    assert seen.away_m == pytest.approx(3800.0)
    assert seen.contradicts(TOUCH)


@pytest.mark.parametrize(
    ("height_m", "away_m", "against"),
    [
        (25.0, 0.0, False),
        (35.0, 0.0, True),
        (5.0, FAR_M - 50.0, False),
        (5.0, FAR_M + 50.0, True),
    ],
)
def test_either_height_or_distance_contradicts(height_m, away_m, against):
    seen = beside(TOUCH, course(height_m, away_m), SITE, TASK)
    assert seen.contradicts(TOUCH) is against


@pytest.mark.parametrize(("since_s", "far"), [(500.0, False), (700.0, True)])
def test_a_target_that_was_moved_is_near_where_it_stood_then(since_s, far):
    spot = replace(SITE.spots["T"], point=(EAST + 4000.0, NORTH))
    moved = Stood(task=TASK.number, spot=spot, since_s=START_S + since_s)
    seen = beside(TOUCH, course(5.0, 3800.0), replace(SITE, stood=(moved,)), TASK)
    assert seen.contradicts(TOUCH) is far


def test_low_flight_is_held_against_the_height_that_was_seen():
    low = report(ReportKind.LOW, 600.0, value=15.0)
    assert not beside(low, course(40.0), SITE, TASK).contradicts(low)
    assert beside(low, course(50.0), SITE, TASK).contradicts(low)


@pytest.mark.parametrize("late_s", [-110.0, 0.0, 110.0])
def test_watches_may_differ_by_two_minutes(late_s):
    track = course(150.0, low_at=600.0 + late_s)
    assert not beside(TOUCH, track, SITE, TASK).contradicts(TOUCH)


def test_a_report_without_a_time_or_of_another_sort_says_nothing():
    untimed = report(ReportKind.GROUND_CONTACT)
    other = report(ReportKind.STILL_FLYING, 600.0)
    late = report(ReportKind.GROUND_CONTACT, 9000.0)
    track = course(150.0)
    assert all(beside(r, track, SITE, TASK) is None for r in (untimed, other, late))


def test_who_was_low_and_near_is_proposed_easily_mistaken_numbers_first():
    tracks = {
        7: course(150.0),
        12: course(140.0, low_at=580.0),
        17: course(140.0, low_at=620.0),
        30: course(3.0, 4000.0),
    }
    courses = {number: (lambda c=track: c) for number, track in tracks.items()}
    own = beside(TOUCH, tracks[7], SITE, TASK)

    matter = contradicted(TOUCH, own, courses, SITE, TASK)

    assert (matter.kind, matter.pilot, matter.holds_up) == (REPORT_LOG, 7, True)
    named = matter.says.get("there").get("named")
    assert [one.amount.get("pilot") for one in named] == [17, 12]
    text = said(matter)
    assert "Official A reported a ground contact" in text
    assert "150.0 m above the ground and inside the scoring area at 06:10:00" in text
    assert "pilot 17 (1.0 m at" in text


def test_nobody_is_proposed_where_nobody_was_there():
    own = beside(TOUCH, course(150.0), SITE, TASK)
    matter = contradicted(TOUCH, own, {}, SITE, TASK)
    assert matter.says.get("there").kind == "report-nobody"


def found(seen, *findings):
    rules = about(BOOK)
    return from_reports([TOUCH], findings, rules, pilot=7, beside=lambda _: seen)


def test_a_contradicted_report_is_possible_until_somebody_decides():
    seen = beside(TOUCH, course(153.0, 3800.0), SITE, TASK)
    (one,) = found(seen)
    assert (one.kind, one.verdict) == (GROUND_CONTACT, Verdict.POSSIBLE)
    assert "3.80 km from the nearest target or scoring area" in said(one)


def test_a_report_that_fits_the_log_is_certain_and_says_where_the_balloon_was():
    seen = beside(TOUCH, course(2.0), SITE, TASK)
    (one,) = found(seen)
    assert (one.verdict, one.probability) == (Verdict.CERTAIN, 1.0)
    assert "By the log the balloon was 2.0 m above the ground" in said(one)


def test_what_the_log_shows_itself_bears_a_report_out():
    (log,) = found(None)
    log = replace(log, sha256="ab", evidence="7.igc")
    high = beside(TOUCH, course(153.0), SITE, TASK)
    (one,) = found(high, log)
    assert one.verdict is Verdict.CERTAIN
