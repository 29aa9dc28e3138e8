"""Reports beside the log of their pilot: what bears them out, what contradicts them."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.checks.contact import GROUND_CONTACT
from scorer.checks.mark_track import Course
from scorer.checks.report_log import REPORT_LOG, ReportBasis, contradicted, likeliest
from scorer.checks.reports import from_reports
from scorer.event.finding import Verdict
from scorer.event.model import Pilot, ReportKind
from scorer.geodesy.site import Site
from scorer.geodesy.stood import Stood
from tests.helpers import said
from tests.scorer.checks.invented import START_S, about
from tests.scorer.checks.test_reports import BOOK, report
from tests.scorer.tiny import EAST, NORTH, tiny, tiny_flight

EVENT = tiny(tiny_flight(marks="task,pilot,method,distance\n1,1,tape,5\n"))
SITE, TASK = Site.of(EVENT), EVENT.flights[0].tasks[0]
BASIS = ReportBasis(site=SITE, task=TASK)


def course(height_m, away_m=0.0, *, low_at=None):
    """Half an hour at one height, east of the target; low for half a minute if asked."""
    time = START_S + np.arange(0.0, 1800.0, 2.0)
    height = np.full(len(time), float(height_m))
    if low_at is not None:
        height[np.abs(time - START_S - low_at) < 15.0] = 1.0
    east = np.full(len(time), EAST + 500.0 + away_m)
    return Course(time, east, np.full(len(time), NORTH), height)


TOUCH = report(ReportKind.GROUND_CONTACT, 600.0)


def basis_of(tracks, **more):
    courses = {number: (lambda c=track: c) for number, track in tracks.items()}
    return replace(BASIS, courses=courses, **more)


def test_a_balloon_that_was_high_and_far_cannot_be_the_one_that_touched():
    seen = BASIS.beside(TOUCH, course(153.0, 3800.0))

    assert seen.height_m == pytest.approx(153.0)
    assert seen.away_m == pytest.approx(3800.0)
    assert seen.contradicts


@pytest.mark.parametrize(
    ("height_m", "away_m", "against"),
    [
        (20.0, 0.0, False),
        (35.0, 0.0, True),
        (0.0, 1200.0, False),
        (0.0, 1550.0, True),
        (20.0, 1200.0, True),
    ],
)
def test_height_and_distance_contradict_alone_and_together(height_m, away_m, against):
    assert BASIS.beside(TOUCH, course(height_m, away_m)).contradicts is against


def test_low_far_away_and_then_near_but_high_is_not_the_one_that_was_seen():
    track = course(60.0)
    away = track.time_s < START_S + 600.0
    east = np.where(away, track.east_m + 2500.0, track.east_m)
    track = replace(track, east_m=east, height_m=np.where(away, 1.0, track.height_m))
    assert BASIS.beside(TOUCH, track).contradicts


@pytest.mark.parametrize(("since_s", "far"), [(500.0, False), (700.0, True)])
def test_a_target_that_was_moved_is_near_where_it_stood_then(since_s, far):
    spot = replace(SITE.spots["T"], point=(EAST + 4000.0, NORTH))
    moved = Stood(task=TASK.number, spot=spot, since_s=START_S + since_s)
    basis = replace(BASIS, site=replace(SITE, stood=(moved,)))
    assert basis.beside(TOUCH, course(5.0, 3800.0)).contradicts is far


def test_low_flight_is_held_against_the_height_that_was_seen():
    low = report(ReportKind.LOW, 600.0, value=15.0)
    assert not BASIS.beside(low, course(40.0)).contradicts
    assert BASIS.beside(low, course(50.0)).contradicts


@pytest.mark.parametrize(("height_m", "against"), [(80.0, False), (200.0, True)])
def test_low_flight_without_a_height_is_held_against_the_minimum_height(
    height_m, against
):
    low, basis = report(ReportKind.LOW, 600.0), replace(BASIS, least_m=100.0)
    assert basis.beside(low, course(height_m)).contradicts is against
    assert not BASIS.beside(low, course(height_m)).contradicts  # nobody says how low


@pytest.mark.parametrize("late_s", [-110.0, 0.0, 110.0])
def test_watches_may_differ_by_two_minutes(late_s):
    track = course(150.0, low_at=600.0 + late_s)
    assert not BASIS.beside(TOUCH, track).contradicts


def test_a_report_without_a_time_or_of_another_sort_says_nothing():
    untimed = report(ReportKind.GROUND_CONTACT)
    other = report(ReportKind.STILL_FLYING, 600.0)
    late = report(ReportKind.GROUND_CONTACT, 9000.0)
    track = course(150.0)
    assert all(BASIS.beside(r, track) is None for r in (untimed, other, late))


def test_who_was_low_and_near_is_proposed_easily_mistaken_numbers_first():
    tracks = {
        7: course(150.0),
        12: course(140.0, low_at=580.0),
        17: course(140.0, low_at=620.0),
        30: course(3.0, 4000.0),
    }
    own = BASIS.beside(TOUCH, tracks[7])

    matter = contradicted(TOUCH, own, basis_of(tracks))

    assert (matter.kind, matter.pilot, matter.holds_up) == (REPORT_LOG, 7, True)
    named = matter.says.get("there").get("named")
    assert [one.amount.get("pilot") for one in named] == [17, 12]
    text = said(matter)
    assert "Official A reported a ground contact" in text
    assert "150.0 m above the ground and inside the scoring area at 06:10:00" in text
    assert "pilot 17 (1.0 m at" in text


def test_nobody_is_proposed_where_nobody_was_there():
    own = BASIS.beside(TOUCH, course(150.0))
    assert contradicted(TOUCH, own, BASIS).says.get("there").kind == "report-nobody"


def names_of(tracks, of=TOUCH, **more):
    return [number for number, _ in likeliest(of, basis_of(tracks, **more))]


def test_time_height_and_place_are_weighed_together():
    tracks = {
        30: course(140.0, low_at=690.0),
        40: course(12.0),
        50: course(140.0, low_at=605.0),
        60: course(140.0, 700.0, low_at=605.0),
    }
    assert names_of(tracks)[0] == 50
    assert names_of(tracks)[-1] == 30


def test_a_number_like_the_one_written_outweighs_some_seconds_but_not_a_height():
    like = {77: course(140.0, low_at=640.0), 55: course(140.0, low_at=600.0)}
    assert names_of(like) == [77, 55]
    high = {**like, 77: course(25.0)}
    assert names_of(high) == [55, 77]


def test_of_one_name_is_like_the_one_written():
    tracks = {n: course(140.0, low_at=600.0) for n in (30, 44, 55, 60)}
    names = {7: "Ida Bergman", 30: "Bo Ek", 44: "Tor Alm", 55: "Åke Bergman", 60: "Li"}
    pilots = [Pilot(number=n, name=name) for n, name in names.items()]
    assert names_of(tracks, pilots=pilots)[0] == 55


def test_of_whom_it_is_reported_already_comes_last():
    tracks = {n: course(140.0, low_at=600.0) for n in (30, 44)}
    theirs = replace(TOUCH, pilot=30, time_s=TOUCH.time_s + 20.0)
    assert names_of(tracks, reports=(TOUCH, theirs)) == [44, 30]
    hours_ago = replace(theirs, time_s=TOUCH.time_s - 3000.0)
    assert names_of(tracks, reports=(TOUCH, hours_ago)) == [30, 44]


def test_where_more_than_three_fit_alike_it_is_said_that_logs_cannot_tell():
    tracks = {n: course(140.0, low_at=600.0) for n in (30, 44, 55, 60, 88)}
    own = BASIS.beside(TOUCH, course(150.0))
    there = contradicted(TOUCH, own, basis_of(tracks)).says.get("there")
    assert (there.kind, there.get("more"), len(there.get("named"))) == (
        "report-many",
        2,
        3,
    )


def found(seen, *findings):
    rules = about(BOOK)
    return from_reports([TOUCH], findings, rules, pilot=7, beside=lambda _: seen)


def test_a_contradicted_report_is_possible_until_somebody_decides():
    seen = BASIS.beside(TOUCH, course(153.0, 3800.0))
    (one,) = found(seen)
    assert (one.kind, one.verdict) == (GROUND_CONTACT, Verdict.POSSIBLE)
    assert "3.80 km from the nearest target or scoring area" in said(one)


def test_a_report_that_fits_the_log_is_certain_and_says_where_the_balloon_was():
    seen = BASIS.beside(TOUCH, course(2.0))
    (one,) = found(seen)
    assert (one.verdict, one.probability) == (Verdict.CERTAIN, 1.0)
    assert "By the log the balloon was 2.0 m above the ground" in said(one)


def test_what_the_log_shows_itself_bears_a_report_out():
    (log,) = found(None)
    log = replace(log, sha256="ab", evidence="7.igc")
    high = BASIS.beside(TOUCH, course(153.0))
    (one,) = found(high, log)
    assert one.verdict is Verdict.CERTAIN
