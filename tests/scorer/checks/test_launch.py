"""Where and when pilots launched, against bounds put to the metre and the second."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from astral import Observer
from astral import sun as astral_sun

from scorer.checks.base import PlacedMark
from scorer.checks.launch import (
    LAUNCH_AREA,
    LAUNCH_DISTANCE,
    check_launch_area,
    check_launch_distance,
    check_launch_period,
)
from scorer.checks.night import check_night
from scorer.checks.scoring_period import check_scoring_period
from scorer.event.finding import Verdict
from scorer.event.model import Period, Task
from scorer.event.rulebook import (
    Count,
    LaunchRule,
    NightRule,
    PenaltyRule,
    RuleBook,
    ScoringRule,
)
from scorer.geodesy.stood import Stood
from tests.helpers import reference_rows, said
from tests.scorer.checks.invented import (
    CENTRE,
    DAY,
    SITE,
    START_S,
    about,
    flight,
    track,
)

MILE_M = 1609.344
HIGH = [(0, 0), (60, 150), (1500, 150), (1600, 0)]
NO_RESULT = (PenaltyRule(unit="no result"),)
A_MINUTE = (
    PenaltyRule(
        unit="task points", per=100.0, of="min", of_si=60.0, count=Count.STARTED
    ),
)


def launched(east_m, **rule):
    book = RuleBook(name="test", launch=LaunchRule(penalty=NO_RESULT, **rule))
    flown = flight(HIGH, east_m=east_m)
    return (
        check_launch_distance(flown, about(book)).findings
        + check_launch_area(flown, about(book)).findings
    )


def test_a_launch_a_mile_and_more_away_is_in_order():
    assert launched(-1700.0, least_distance_m=MILE_M) == ()


@pytest.mark.parametrize(
    ("moved_s", "too_near"), [(-60.0, True), (300.0, False)], ids=["before", "after"]
)
def test_a_launch_is_held_against_the_target_as_it_stood_then(moved_s, too_near):
    there = replace(SITE.spots["centre"], point=(CENTRE[0] - 300.0, CENTRE[1]))
    stood = (Stood(task=1, spot=there, since_s=START_S + 60.0 + moved_s),)
    rule = LaunchRule(penalty=NO_RESULT, least_distance_m=MILE_M)
    rules = about(RuleBook(name="test", launch=rule), site=replace(SITE, stood=stood))
    found = check_launch_distance(flight(HIGH, east_m=-1700.0), rules).findings
    assert [f.verdict for f in found] == [Verdict.CERTAIN] * too_near


def test_a_launch_too_near_tells_how_much_is_missing():
    (found,) = launched(-1500.0, least_distance_m=MILE_M)

    assert found.kind is LAUNCH_DISTANCE
    assert found.verdict is Verdict.CERTAIN
    # The first fix in the air is 1 s on; grid against ground is 0.4 m in a kilometre.
    assert found.measured == pytest.approx(1495.0, abs=1.0)
    assert found.excess == pytest.approx(MILE_M - found.measured)
    assert found.penalty is not None


def test_within_the_accuracy_of_the_fix_it_is_possible_only():
    (found,) = launched(-1613.5, least_distance_m=MILE_M)

    assert found.verdict is Verdict.POSSIBLE


def test_a_launch_too_far_away_is_found():
    (found,) = launched(-9000.0, most_distance_m=8000.0)

    assert found.excess == pytest.approx(found.measured - 8000.0)
    assert found.says.kind == "seen-launch-too-far"
    assert found.says.get("beyond") == found.excess
    assert "too far" in said(found)


def test_a_launch_area_must_hold_the_launch():
    assert launched(-6000.0, area="meadow") == ()
    (found,) = launched(-5300.0, area="meadow")
    assert found.kind is LAUNCH_AREA
    assert found.measured == pytest.approx(205.0, abs=0.1)
    assert said(found) == "Launched 205 m outside meadow, over 99 % sure."


def test_a_log_that_does_not_show_the_launch_says_nothing_of_it():
    book = RuleBook(
        name="test", launch=LaunchRule(least_distance_m=MILE_M, area="meadow")
    )
    flown = track(np.arange(100.0), np.zeros(100), np.full(100, 50.0))
    rules = about(book, task=timed(launch_period=Period(start_s=0.0, end_s=1.0)))

    for check in (check_launch_distance, check_launch_area, check_launch_period):
        assert check(flown, rules).findings == ()


def test_a_task_without_a_target_has_no_launch_distance():
    book = RuleBook(name="test", launch=LaunchRule(least_distance_m=MILE_M))
    task = Task(number=2, flight="1", kind="PDG")

    seen = check_launch_distance(flight(HIGH, east_m=-10.0), about(book, task=task))

    assert seen.findings == ()


def timed(**periods):
    return Task(number=1, flight="1", kind="FIN", targets=("centre",), **periods)


def period_finding(opens_s, closes_s):
    book = RuleBook(name="test", launch=LaunchRule(period_penalty=A_MINUTE))
    task = timed(
        launch_period=Period(start_s=START_S + opens_s, end_s=START_S + closes_s)
    )
    return check_launch_period(flight(HIGH), about(book, task=task)).findings


def test_a_launch_within_its_period_is_in_order():
    assert period_finding(0.0, 200.0) == ()


def test_a_late_launch_pays_for_each_minute_begun():
    (found,) = period_finding(-600.0, -200.0)  # launched 61 s after START_S

    assert found.verdict is Verdict.CERTAIN
    assert found.excess == pytest.approx(261.0)
    assert found.limit == pytest.approx(400.0)
    assert found.measured == pytest.approx(661.0)
    assert found.penalty.amount == 500
    assert found.says.kind == "seen-late"
    assert found.says.get("beyond") == pytest.approx(261.0)
    assert found.says.get("period") == "task-launch-period"
    assert "4 min 21 s after the launch period ended" in said(found)


def test_an_early_launch_is_measured_from_the_opening():
    (found,) = period_finding(200.0, 600.0)

    assert (found.measured, found.limit) == (pytest.approx(-139.0), 0.0)
    assert found.excess == pytest.approx(139.0)


def test_a_launch_in_the_last_seconds_is_possible_only():
    (found,) = period_finding(0.0, 57.0)

    assert found.verdict is Verdict.POSSIBLE
    assert found.says.kind == "seen-late"


def test_a_launch_just_before_the_end_is_never_said_to_be_after_it():
    """Launched 61 s after START_S: a second before the end, by a fix good to seconds."""
    (found,) = period_finding(0.0, 62.0)

    assert found.verdict is Verdict.POSSIBLE
    assert found.says.kind == "seen-perhaps-late"
    assert said(found).startswith("Launched 1 s before the launch period ended")


def mark_finding(mark_s, drop_s=None, closes_s=900.0):
    book = RuleBook(name="test", scoring=ScoringRule(penalty=A_MINUTE))
    task = timed(scoring_period=Period(start_s=START_S, end_s=START_S + closes_s))
    mark = PlacedMark(
        task=1,
        pilot=7,
        east_m=400_000.0,
        north_m=4_600_020.0,
        time_s=None if mark_s is None else START_S + mark_s,
    )
    rules = about(
        book,
        task=task,
        marks=(mark,),
        drop_s=None if drop_s is None else START_S + drop_s,
    )
    return check_scoring_period(flight(HIGH), rules).findings


def test_a_mark_noted_after_the_scoring_period_is_certain():
    (found,) = mark_finding(1000.0)

    assert found.verdict is Verdict.CERTAIN
    assert found.excess == pytest.approx(100.0)


def test_the_stated_time_of_the_drop_outranks_the_one_noted_with_the_mark():
    assert mark_finding(1000.0, drop_s=800.0) == ()


def test_a_drop_told_by_the_nearest_pass_alone_is_possible_only():
    """5000 m at 5 m/s: the centre is passed 1060 s after START_S."""
    (found,) = mark_finding(None)

    assert found.verdict is Verdict.POSSIBLE
    assert found.excess == pytest.approx(160.0, abs=1.5)
    assert mark_finding(None, closes_s=1200.0) == ()


SUN = [row for row in reference_rows("sun_times") if row["sunrise"] and row["sunset"]]


def moment(text):
    return datetime.fromisoformat(f"{text}+00:00").timestamp()


def at_place(row, launch_s, landing_s):
    """A flight of ten fixes at a place of the table."""
    time = np.linspace(launch_s - 60.0, landing_s + 60.0, 200)
    launch = int(np.searchsorted(time, launch_s))
    landing = int(np.searchsorted(time, landing_s))
    place = {
        "lat_deg": np.full(200, float(row["lat_deg"])),
        "lon_deg": np.full(200, float(row["lon_deg"])),
    }
    time[launch], time[landing] = launch_s, landing_s
    return track(
        time - START_S, 0.0, np.full(200, 50.0), launch=launch, landing=landing, **place
    )


def night(row, launch_s, landing_s, before_s=0.0, after_s=0.0):
    book = RuleBook(
        name="test", night=NightRule(before_sunrise_s=before_s, after_sunset_s=after_s)
    )
    day = datetime.fromisoformat(row["date"]).date()
    rules = about(book, date=day, time_zone=row["time_zone"])
    return check_night(at_place(row, launch_s, landing_s), rules).findings


@pytest.mark.parametrize("row", SUN, ids=lambda row: f"{row['place']} {row['date']}")
def test_launch_and_landing_are_held_against_the_published_sunrise_and_sunset(row):
    """The table prints whole minutes; two minutes either way decide."""
    rise, fall = moment(row["sunrise"]), moment(row["sunset"])

    assert night(row, rise + 120.0, fall - 120.0) == ()
    early, late = night(row, rise - 120.0, fall + 120.0)

    assert (early.verdict, late.verdict) == (Verdict.CERTAIN, Verdict.CERTAIN)
    assert early.excess == pytest.approx(120.0, abs=60.0)
    assert late.excess == pytest.approx(120.0, abs=60.0)
    assert (early.says.kind, late.says.kind) == ("seen-early", "seen-late")
    assert said(early).startswith("Launched")
    assert said(late).startswith("Landed")


def test_the_book_may_allow_some_time_before_sunrise_and_after_sunset():
    row = SUN[0]
    rise, fall = moment(row["sunrise"]), moment(row["sunset"])

    assert night(row, rise - 1500.0, fall + 1500.0, 1800.0, 1800.0) == ()


def test_an_evening_launch_is_long_after_sunrise():
    row = SUN[0]
    fall = moment(row["sunset"])

    assert night(row, fall - 7200.0, fall - 600.0) == ()


def test_where_the_sun_does_not_set_there_is_no_night():
    """Tromsø, 69.65 N: midnight sun at the solstice (a fact of geography)."""
    seen = seen_at("69.65", datetime(2026, 6, 21, 0, 30, tzinfo=UTC))

    assert seen.findings == ()
    assert [matter.says.kind for matter in seen.matters] == ["polar-day"]


def seen_at(lat, launch, hours=1.0):
    """Check a flight of some hours at longitude 18.96 E under a plain daylight rule."""
    row = {"lat_deg": lat, "lon_deg": "18.96"}
    book = RuleBook(
        name="test", night=NightRule(before_sunrise_s=0.0, after_sunset_s=0.0)
    )
    rules = about(book, date=launch.date(), time_zone="Europe/Oslo")
    start_s = launch.timestamp()
    return check_night(at_place(row, start_s, start_s + hours * 3600.0), rules)


def test_where_the_sun_does_not_rise_every_flight_is_at_night():
    """78 N in December: polar night (a fact of geography)."""
    (found,) = seen_at("78.2", datetime(2026, 12, 21, 11, tzinfo=UTC)).findings

    assert found.verdict is Verdict.CERTAIN
    assert found.says.kind == "seen-polar-night"
    assert found.measured is None


def test_daylight_in_a_summer_without_a_night_of_its_own_date_is_daylight():
    """68 N, 22 May: the sun sets after midnight and rises soon after."""
    for hour in range(2, 21):
        at = datetime(2026, 5, 22, hour, tzinfo=UTC)
        assert seen_at("68.0", at).findings == (), hour


def test_a_landing_days_later_is_held_against_its_own_sunset():
    """Sunset of Lisbon-like latitude; by day on the third day, and two hours too late."""
    launch = datetime(2026, 9, 12, 6, tzinfo=UTC)
    assert seen_at("38.7", launch, hours=2 * 24 + 6).findings == ()

    fall = astral_sun.sunset(Observer(38.7, 18.96), date(2026, 9, 14)).timestamp()
    hours = (fall + 7200.0 - launch.timestamp()) / 3600.0
    (late,) = seen_at("38.7", launch, hours=hours).findings
    assert late.says.kind == "seen-late"
    assert late.excess == pytest.approx(7200.0, abs=60.0)


def test_a_flight_in_the_night_is_told_once_or_at_both_ends():
    """Launched an hour after sunset, landed three hours later."""
    fall = astral_sun.sunset(Observer(38.7, 18.96), date(2026, 9, 12))
    (late,) = seen_at("38.7", fall + timedelta(hours=1), hours=3).findings
    assert late.excess == pytest.approx(4 * 3600.0, abs=60.0)


def test_without_limits_in_the_book_nothing_is_asked():
    assert check_night(flight(HIGH), about(date=DAY)).findings == ()
