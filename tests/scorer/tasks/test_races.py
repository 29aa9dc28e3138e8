"""Race to an area and the way flown inside airspace: worked cases by hand."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from shapely import LineString

from scorer.event import matters, place_kinds
from scorer.event.model import DistanceKind, Method
from scorer.event.rulebook import ResultsRule, RuleBook, TrackRule
from scorer.facts import count, fact, moment
from scorer.facts import place as named
from tests.scorer.tasks.evidence import (
    BOOK,
    CORNER,
    START,
    make_flown,
    make_keying,
    make_place,
    make_site,
    period,
    result,
    stated,
)

SITE = make_site(
    {"centre": (0, 0)},
    {
        "box": ((1000, -500), (2000, 500)),
        "far": ((9000, 9000), (9100, 9100)),
        "slant": ((1000, -500), (2000, 500), (1000, 500)),
        "hole": ((1400, -500), (1500, 500)),
    },
)
EAST = make_flown([(10 * i, 50 * i, 0, 300) for i in range(61)], launch=2, landing=60)
"""5 m/s due east along north 0 at 300 m; launched at 00:20 at east 100."""


def test_rta_is_the_time_from_the_launch_to_the_crossing():
    """East 1000 is reached at 200 s, between no fixes; the launch was at 20 s."""
    got = result("RTA", site=SITE, scoring_areas=("box",), flown=EAST)

    assert got.value == pytest.approx(180.0, abs=1e-6)
    # 1 m at 5 m/s square to the edge: 0.2 s; the launch 2 s
    assert got.sigma == pytest.approx((0.2**2 + 2**2) ** 0.5, rel=1e-3)


def test_the_crossing_is_interpolated_between_fixes():
    """100 s between fixes: east 1000 is 80 % of the way from 600 to 1100."""
    track = make_flown([(100 * i, 100 + 500 * i, 0) for i in range(6)])

    got = result("RTA", site=SITE, scoring_areas=("box",), flown=track)

    assert got.value == pytest.approx(180.0, abs=1e-6)


def test_an_edge_crossed_at_a_slant_is_less_sure():
    """The edge from (1000, −500) to (2000, 500) runs at 45° to a track due east: an error
    of 1 m across shifts the crossing by 1 m along; √(1² + 1²) / 5 m/s = 0.28 s."""
    got = result(
        "RTA",
        site=make_site({}, {"slant": ((2000, -500), (2000, 500), (1000, -500))}),
        scoring_areas=("slant",),
        flown=EAST,
        settings={"start": "06:00"},
    )

    # the hypotenuse from (1000, −500) to (2000, 500) is met at east 1500, at 300 s
    assert got.value == pytest.approx(300.0, abs=1e-6)
    assert got.sigma == pytest.approx(2**0.5 / 5, rel=1e-3)


@pytest.mark.parametrize(
    ("start", "task", "expected"),
    [
        ("06:00:00", {}, 200.0),
        ("launch-period", {"launch_period": period(10, 600)}, 190.0),
        ("launch-period", {}, None),
        ("06:03:20", {}, None),  # inside already
        ("06:30", {}, None),  # after the flight
    ],
)
def test_time_starts_when_the_task_says(start, task, expected):
    got = result(
        "RTA",
        site=SITE,
        scoring_areas=("box",),
        flown=EAST,
        settings={"start": start},
        **task,
    )

    assert got.value == (expected and pytest.approx(expected, abs=1e-6))
    assert bool(got.reason) is (expected is None)


def test_the_first_of_several_areas_counts():
    got = result(
        "RTA",
        site=SITE,
        scoring_areas=("far", "hole", "box"),
        flown=EAST,
    )

    assert got.value == pytest.approx(180.0, abs=1e-6)


def test_an_area_never_reached_is_no_result():
    got = result("RTA", site=SITE, scoring_areas=("far",), flown=EAST)

    assert (got.value, got.reason) == (None, fact("area-not-entered"))


@pytest.mark.parametrize("kind", ["RTA", "3DT"])
@pytest.mark.parametrize("flown", [None, make_flown([(0, 0, 0)])])
def test_without_a_track_there_is_no_result(kind, flown):
    got = result(kind, site=SITE, scoring_areas=("box",), flown=flown)

    assert got.value is None
    assert got.reason == fact("no-log-to-measure")


def test_a_race_can_end_with_a_mark_in_the_area():
    def measured(point):
        return result(
            "RTA",
            site=SITE,
            scoring_areas=("box",),
            flown=EAST,
            marks={"": point},
            keyings={"": make_keying(time=260)},
            settings={"reach": "mark"},
        )

    assert measured((1300, 20)).value == pytest.approx(240.0, abs=1e-6)
    outside = stated(measured((900, 20)).reason, "outside-area")
    assert outside["area"] == named("box")


def test_a_floor_is_entered_from_below():
    """Climbs 1 m/s from 200 m at launch (20 s): 400 m are reached at 220 s."""
    climb = make_flown([(10 * i, 50 * i, 0, 180 + 10 * i) for i in range(61)], launch=2)

    got = result(
        "RTA",
        site=SITE,
        scoring_areas=("box",),
        flown=climb,
        settings={"lower": "400 m", "start": "06:00"},
    )

    assert got.value == pytest.approx(220.0, abs=1e-6)
    assert got.sigma == pytest.approx(1.0, rel=1e-3)  # 1 m of height at 1 m/s


def test_3dt_is_the_way_flown_inside():
    got = result("3DT", site=SITE, scoring_areas=("box",), flown=EAST)

    assert got.value == pytest.approx(1000.0, abs=1e-6)
    assert got.sigma == pytest.approx(2**0.5, rel=1e-6)  # 1 m at either end


def test_3dt_counts_from_launch_to_landing_and_within_the_scoring_period():
    """East 1250 to 1750 between 250 s and 350 s."""
    within = result(
        "3DT",
        site=SITE,
        scoring_areas=("box",),
        flown=EAST,
        scoring_period=period(250, 350),
    )
    before = result(
        "3DT",
        site=SITE,
        scoring_areas=("box",),
        flown=EAST,
        scoring_period=period(0, 100),
    )

    assert within.value == pytest.approx(500.0, abs=1e-6)
    assert before.value is None


def test_areas_that_overlap_count_once_and_holes_not_at_all():
    got = result(
        "3DT",
        site=SITE,
        scoring_areas=("box", "hole"),
        flown=EAST,
        settings={"without": ["hole"]},
    )

    assert got.value == pytest.approx(900.0, abs=1e-6)
    together = stated(got.steps, "ways-together")
    assert together["stays"] == count(2)
    assert together.get("total") == pytest.approx(900.0, abs=1e-6)


def test_a_ring_round_a_place_is_airspace_too():
    """A ring of 800 m to 1200 m round the centre, flown through radially from 100 m on."""
    got = result(
        "3DT",
        site=SITE,
        flown=EAST,
        settings={
            "circles": [{"centre": "centre", "inner": "800 m", "outer": "1.2 km"}]
        },
    )

    assert got.value == pytest.approx(400.0, abs=0.02)


@pytest.mark.parametrize(
    ("place", "settings", "expected"),
    [
        ({}, {}, 1000.0),
        ({"lower_m": 301.0}, {}, None),  # flown at 300 m
        ({"upper_m": 299.0}, {}, None),
        ({"lower_m": 250.0, "upper_m": 350.0}, {}, 1000.0),
        ({"lower_m": 301.0}, {"lower": "200 m"}, 1000.0),  # the task goes before
        ({}, {"upper": "984 ft"}, None),  # 299.9 m
        ({}, {"upper": "985 ft"}, 1000.0),  # 300.2 m
    ],
)
def test_floor_and_ceiling_are_the_places_own_or_the_tasks(place, settings, expected):
    got = result(
        "3DT",
        site=SITE,
        scoring_areas=("box",),
        places={"box": make_place("box", place_kinds.TASK_AREA, **place)},
        flown=EAST,
        settings=settings,
    )

    assert got.value == (expected and pytest.approx(expected, abs=1e-6))


def test_in_3d_the_way_is_along_the_slope():
    """3 m up on every 4 m along: 1000 m over the ground are 1250 m."""
    climb = make_flown([(i, 50 * i, 0, 37.5 * i) for i in range(61)])

    got = result(
        "3DT",
        site=SITE,
        book=replace(BOOK, tracks=TrackRule(dimensions=3)),
        scoring_areas=("box",),
        flown=climb,
    )

    assert got.value == pytest.approx(1250.0, abs=1e-6)


def test_a_pause_of_the_log_inside_is_told():
    rows = [(10 * i, 50 * i, 0) for i in range(61) if not 24 <= i <= 34]

    for kind, expected in (("3DT", 1000.0), ("RTA", 200.0)):
        got = result(kind, site=SITE, scoring_areas=("box",), flown=make_flown(rows))
        assert got.value == pytest.approx(expected, abs=1e-6)
        paused = [w for w in got.matters if w.kind is matters.LOG_GAP]
        assert bool(paused) is (kind == "3DT")  # the race was over by then


def test_a_way_on_the_ground_is_longer_than_on_the_grid():
    """60 km west of the central meridian the grid is 0.99964 of the ellipsoid."""
    grid = result("3DT", site=SITE, scoring_areas=("box",), flown=EAST)
    site = replace(SITE, distance_kind=DistanceKind.ELLIPSOID)

    got = result("3DT", site=site, scoring_areas=("box",), flown=EAST)

    scale = float(site.plane.point_scale(CORNER[0] + 1500, CORNER[1]))
    assert scale == pytest.approx(0.99964, abs=1e-5)  # 0.9996 (1 + x²/2R²)
    assert got.value == pytest.approx(grid.value / scale, rel=1e-6)


def test_a_long_real_looking_track_agrees_with_shapely():
    rng = np.random.default_rng(3)
    steps = rng.normal(0, 20, size=(4000, 2)).cumsum(axis=0) + np.array([1500, 0])
    track = make_flown([(i, e, n) for i, (e, n) in enumerate(steps)])

    got = result("3DT", site=SITE, scoring_areas=("box",), flown=track)

    line = list(zip(track.east_m, track.north_m, strict=True))
    expected = sum(
        LineString(pair).intersection(SITE.areas["box"]).length
        for pair in pairwise(line)
    )
    assert got.value == pytest.approx(expected, rel=1e-9)


def test_a_marks_time_by_the_logger_ends_the_race():
    got = result(
        "RTA",
        site=SITE,
        scoring_areas=("box",),
        flown=EAST,
        keyings={"": make_keying(method=Method.LOG, time=300)},
        settings={"reach": "mark", "start": "06:00"},
    )

    assert got.value == pytest.approx(300.0, abs=1e-6)
    assert stated(got.steps, "mark-by-log")["time"] == moment(START + 300)
    assert EAST.time_s[0] == START


def test_a_race_to_a_mark_needs_an_area_for_it():
    got = result(
        "RTA",
        site=SITE,
        flown=EAST,
        marks={"": (1300, 0)},
        settings={
            "reach": "mark",
            "circles": [{"centre": "centre", "outer": "2 km"}],
        },
    )

    assert got.value is None
    assert stated(got, "race-without-area")


def test_a_log_that_begins_after_the_start_is_told():
    got = result(
        "RTA",
        site=SITE,
        scoring_areas=("box",),
        flown=EAST,
        settings={"start": "05:59"},
    )

    assert got.value == pytest.approx(260.0, abs=1e-6)
    assert stated(got, "log-begins-after-start")["time"] == moment(START)


def _race(decimals, every_s):
    track = make_flown(
        [(every_s * i, 5 * every_s * i, 0) for i in range(int(400 / every_s))]
    )
    return result(
        "RTA",
        site=SITE,
        scoring_areas=("box",),
        flown=track,
        settings={"start": "06:00"},
        book=RuleBook(name="t", results=ResultsRule(time_decimals=decimals)),
    )


@pytest.mark.parametrize(
    ("decimals", "every_s", "told"), [(0, 1.0, 0), (2, 1.0, 1), (2, 0.2, 0)]
)
def test_parts_of_a_second_ask_for_logs_that_show_them(decimals, every_s, told):
    got = _race(decimals, every_s)
    kinds = [matter.says.kind for matter in got.matters]
    assert kinds.count("race-finer-than-log") == told
