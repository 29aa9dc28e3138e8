"""A landing and another launch in one log: told, and the launch that counts."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.checks.floor import check_floor
from scorer.checks.launch import check_launch_distance, check_launch_period
from scorer.checks.retry import check_retry, counting_launch, stands_of
from scorer.event import matters
from scorer.event.matter import Blocks
from scorer.event.model import Period
from scorer.event.rulebook import FloorRule, LaunchRule, RuleBook
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground
from scorer.tracks.prepare import flown_in, make_ready
from scorer.tracks.track import Track
from tests.helpers import said
from tests.scorer.checks.invented import START_S, about, track

LAUNCH, STOP, AGAIN, LANDING = 60, 500, 800, 1900


def hops(stop=(STOP, AGAIN - 1)):
    """Launch 3000 m out, land 2000 m out, launch again: 500 s there and back down."""
    time = np.arange(0.0, 2000.0)
    knots = [0, LAUNCH, 120, 440, STOP, AGAIN, 860, 1800, LANDING, 2000]
    height = np.interp(time, knots, [0, 0, 80, 80, 0, 0, 80, 80, 0, 0])
    east = np.interp(
        time, [0, LAUNCH, STOP, AGAIN, LANDING], [-3000, -3000, -2000, -2000, 1500]
    )
    return track(
        time,
        east,
        height,
        launch=LAUNCH,
        landing=LANDING,
        stands=(stop,) if stop else (),
    )


def rules(retry, **launch):
    return RuleBook(name="test", launch=LaunchRule(retry=retry, **launch))


def test_a_retry_is_told_with_its_times_and_which_launch_counts():
    (told,) = check_retry(hops(), about(rules("first"))).matters

    assert told.kind is matters.RETRY
    assert told.blocks is Blocks.NOTHING
    assert told.says.kind == "launched-again"
    assert told.says.get("launch") == "launch-first"
    assert "The first launch counts" in said(told)
    assert "a stay on the ground from" in said(told)


@pytest.mark.parametrize("stop", [None, (STOP, STOP + 40)])
def test_a_flight_in_one_or_a_touch_on_the_way_is_no_retry(stop):
    flown = hops(stop)

    assert check_retry(flown, about(rules("last"))).matters == ()
    assert counting_launch(flown, about(rules("last"))) == LAUNCH


@pytest.mark.parametrize(
    ("retry", "drop", "launch"),
    [
        ("first", 1200, LAUNCH),
        ("last", 1200, AGAIN),
        ("last", None, AGAIN),
        ("last", 400, LAUNCH),  # the marker fell before the landing: no retry
    ],
)
def test_the_launch_that_counts_is_the_books_choice(retry, drop, launch):
    drop_s = None if drop is None else START_S + drop

    assert counting_launch(hops(), about(rules(retry), drop_s=drop_s)) == launch


@pytest.mark.parametrize(("retry", "found"), [("first", 0), ("last", 1)])
def test_the_launch_distance_is_that_of_the_launch_that_counts(retry, found):
    """The first launch lies 3000 m from the target, the second 2000 m."""
    book = rules(retry, least_distance_m=2500.0)

    seen = check_launch_distance(hops(), about(book, drop_s=START_S + 1200))

    assert len(seen.findings) == found


@pytest.mark.parametrize(("retry", "found"), [("first", 0), ("last", 1)])
def test_the_launch_period_too(retry, found):
    period = Period(start_s=START_S, end_s=START_S + 600)
    task = replace(about().task, launch_period=period)

    seen = check_launch_period(
        hops(), about(rules(retry), task=task, drop_s=START_S + 1200)
    )

    assert len(seen.findings) == found


def test_landing_and_climbing_out_again_is_no_low_flight():
    """Flown at 80 m over a floor of 30 m: only the stop on the way goes under it."""
    book = RuleBook(name="test", floor=FloorRule(height_m=30.0))

    assert check_floor(hops(), about(book)).findings == ()
    assert len(check_floor(hops(None), about(book)).findings) == 1


def test_stands_within_a_flight_are_found_in_a_log():
    """A log of a receiver and a barometer with noise of 1.5 m and 0.3 m, flat ground."""
    rng = np.random.default_rng(7)
    true = hops(None)
    height = true.height_m
    plane = Plane("EPSG:25830")
    east = true.east_m + rng.normal(0, 0.3, len(true))
    lat, lon = plane.to_wgs84(east, true.north_m + rng.normal(0, 0.3, len(true)))
    log = Track(
        name="007.igc",
        sha256="ab" * 32,
        format="igc",
        time_s=true.time_s.copy(),
        lat_deg=lat,
        lon_deg=lon,
        gnss_alt_m=640 + height + rng.normal(0, 1.5, len(true)),
        pressure_alt_m=655 + height + rng.normal(0, 0.3, len(true)),
        valid_3d=np.ones(len(true), dtype=bool),
        accuracy_m=np.full(len(true), 2.0),
        marks=(),
    )

    ready = make_ready(
        log, plane=plane, ground=Ground(None, 640.0), ground_elevation_m=640.0
    )
    flown = flown_in(ready, 7, None)

    (stand,) = stands_of(flown)
    assert stand.start_s == pytest.approx(START_S + STOP, abs=20)
    assert stand.end_s == pytest.approx(START_S + AGAIN, abs=20)
    assert abs(flown.launch - LAUNCH) < 20
