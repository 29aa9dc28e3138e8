"""Kinds with the distance between two points: worked cases by hand."""

import math
from dataclasses import replace

import pytest

from scorer.event import matters
from scorer.event.model import Method
from scorer.facts import fact, length, span
from scorer.facts import place as named
from scorer.tasks.points import called
from scorer.tracks.flown import LogMark, Moment
from tests.scorer.tasks.evidence import (
    START,
    at,
    make_flown,
    make_keying,
    make_mark,
    make_site,
    period,
    result,
    stated,
    taped,
)

SITE = make_site(
    {"centre": (0, 0), "start": (-3000, 0)},
    {
        "west": ((-1000, -1000), (0, 1000)),
        "east": ((200, -1000), (1200, 1000)),
    },
)
FLIGHT = make_flown(
    [(0, -3000, 0), (600, -1500, 0), (1200, 0, 0), (1800, 1500, 0)], landing=3
)
"""2.5 m/s due east, launch at (-3000, 0) at 06:00."""


@pytest.mark.parametrize("kind", ["SFL", "XDI"])
def test_distance_from_the_launch_to_a_mark_in_the_area(kind):
    got = result(
        kind, site=SITE, scoring_areas=("west",), marks={"": (0, 400)}, flown=FLIGHT
    )

    assert got.value == pytest.approx((3000**2 + 400**2) ** 0.5, abs=1e-6)
    assert got.sigma == pytest.approx(1.0, abs=1e-6)  # the launch's; the mark is exact


@pytest.mark.parametrize("kind", ["SFL", "XDI"])
def test_a_mark_outside_the_area_is_no_result(kind):
    got = result(
        kind, site=SITE, scoring_areas=("west",), marks={"": (100, 0)}, flown=FLIGHT
    )

    assert got.value is None
    assert stated(got.reason, "outside-area")["area"] == named("west")


@pytest.mark.parametrize(
    ("reference", "expected"),
    [("centre", 750.0), ("launch", (3450**2 + 600**2) ** 0.5), ("A", 250.0)],
)
def test_the_reference_is_a_place_the_launch_or_a_mark(reference, expected):
    """Of A (450, 600) and B (300, 400) the farther counts, 750 m; from A to B 250 m."""
    got = result(
        "XDI",
        site=SITE,
        scoring_areas=("east",),
        marks={"A": (450, 600), "B": (300, 400)},
        flown=FLIGHT,
        settings={"reference": reference, "several_marks": "most-advantageous"},
    )

    assert got.value == pytest.approx(expected, abs=1e-6)


def test_without_a_reference_marks_a_and_b_are_the_ends():
    got = result("XDT", site=SITE, **_timed(60, 120), settings={"most_time": "2 min"})

    assert got.value == pytest.approx(500.0, abs=1e-9)


def _timed(a, b, **more):
    return {
        "marks": {"A": (0, 0), "B": (300, 400)},
        "keyings": {"A": make_keying("A", time=a), "B": make_keying("B", time=b)},
        "flown": FLIGHT,
        **more,
    }


@pytest.mark.parametrize(
    ("most", "from_", "valid"),
    [
        ("20 min", "launch", True),  # B fell 1200 s after the launch
        ("19 min", "launch", False),
        ("10 min", "reference", True),  # 600 s after A
        ("9 min", "reference", False),
        ("15 min", "06:05", True),
        ("14 min", "06:05:30", False),  # 870 s
    ],
)
def test_xdt_counts_within_the_greatest_time_only(most, from_, valid):
    got = result(
        "XDT",
        site=SITE,
        **_timed(600, 1200),
        settings={"most_time": most, "time_from": from_},
    )

    assert (got.value is not None) is valid
    if valid:
        assert got.value == pytest.approx(500.0, abs=1e-9)


@pytest.mark.parametrize(
    ("least", "valid"), [("20 min", True), ("20 min 1 s", False), ("10 min", True)]
)
def test_mdt_counts_after_the_least_time_only(least, valid):
    got = result(
        "MDT",
        site=SITE,
        targets=("centre",),
        marks={"": (30, 40)},
        keyings={"": make_keying(time=1200)},
        flown=FLIGHT,
        settings={"least_time": least},
    )

    assert got.value == (pytest.approx(50.0, abs=1e-9) if valid else None)


def test_a_time_near_the_limit_is_pointed_out():
    """The log shows the moment of the launch to about 2 s."""
    got = result(
        "MDT",
        site=SITE,
        targets=("centre",),
        marks={"": (30, 40)},
        keyings={"": make_keying(time=1203)},
        flown=FLIGHT,
        settings={"least_time": "20 min"},
    )

    assert got.value == pytest.approx(50.0, abs=1e-9)
    near = stated(got, "time-near-limit")
    assert near["limit"] == span(1200.0)
    assert near.get("elapsed") == pytest.approx(1200.0, abs=4.0)


@pytest.mark.parametrize(("least", "valid"), [("2900 m", True), ("3100 m", False)])
def test_mdt_counts_after_the_least_way_flown_only(least, valid):
    """2.5 m/s for 1200 s are 3000 m."""
    got = result(
        "MDT",
        site=SITE,
        targets=("centre",),
        marks={"": (30, 40)},
        keyings={"": make_keying(time=1200)},
        flown=FLIGHT,
        settings={"least_flown": least},
    )

    assert got.value == (pytest.approx(50.0, abs=1e-9) if valid else None)


def test_the_launch_period_can_start_the_clock():
    def measured(**task):
        return result(
            "XDT",
            site=SITE,
            targets=("centre",),
            marks={"": (30, 40)},
            keyings={"": make_keying(time=600)},
            settings={"most_time": "5 min", "time_from": "launch-period"},
            **task,
        )

    assert measured(launch_period=period(300, 900)).value == pytest.approx(50.0)
    assert measured(launch_period=period(299, 900)).value is None
    assert measured().reason == fact("no-launch-period")


@pytest.mark.parametrize(
    ("marks", "valid"),
    [
        ({"A": (-100, 0), "B": (200, 400)}, True),  # one in each area: 500 m
        ({"A": (-100, 0), "B": (-400, 400)}, False),  # both in the west
        ({"A": (-100, 0), "B": (100, 0)}, False),  # B in neither
    ],
)
def test_mdd_counts_marks_in_different_areas(marks, valid):
    got = result("MDD", site=SITE, scoring_areas=("west", "east"), marks=marks)

    assert got.value == (pytest.approx(500.0, abs=1e-9) if valid else None)


def test_each_mark_of_a_double_drop_can_have_its_own_area():
    def measured(areas):
        return result(
            "MDD",
            site=SITE,
            marks={"A": (-100, 0), "B": (200, 400)},
            settings={"mark_areas": areas},
        )

    assert measured({"A": "west", "B": "east"}).value == pytest.approx(500.0)
    assert measured({"a": "east", "b": "west"}).value is None


def test_xdd_is_the_distance_between_two_marks():
    marks = {"A": make_mark((0, 0), 3.0), "B": make_mark((30, 40), 4.0)}

    got = result("XDD", site=SITE, marks=marks)

    assert got.value == pytest.approx(50.0, abs=1e-9)
    assert got.sigma == pytest.approx(5.0, abs=1e-9)  # √(3² + 4²)


def test_a_missing_second_mark_is_no_result():
    got = result("XDD", site=SITE, marks={"A": (0, 0)})

    assert (got.value, got.reason) == (None, fact("mark-not-entered", mark=called("B")))
    assert [w.kind for w in got.matters] == [matters.UNSETTLED]


def test_a_pilot_without_any_mark_is_not_asked_for_each():
    got = result("XDD", site=SITE)

    assert (got.value, got.reason) == (None, fact("mark-not-entered", mark=called("A")))
    assert not got.matters


def test_a_second_mark_that_was_not_found_is_no_result():
    got = result(
        "XDD",
        site=SITE,
        marks={"A": (0, 0)},
        keyings={"B": make_keying("B", method=Method.NONE)},
    )

    assert (got.value, got.reason) == (None, fact("mark-not-found", mark=called("B")))


def test_a_bare_tape_cannot_be_an_end_of_a_line():
    got = result("XDD", site=SITE, marks={"A": (0, 0), "B": taped(5.0)})

    assert got.value is None
    assert stated(got, "mark-without-bearing")["point"] == called("B")


LEGS = {"least_leg": "600 m", "most_leg": "2 km"}


@pytest.mark.parametrize(
    ("b", "limit", "beyond"),
    [((300, 400), 600.0, "leg-too-short"), ((3000, 0), 2000.0, "leg-too-long")],
)
def test_a_leg_outside_the_limits_is_for_people_unless_the_task_says(b, limit, beyond):
    def measured(**more):
        return result(
            "XDD", site=SITE, marks={"A": (0, 0), "B": b}, settings={**LEGS, **more}
        )

    assert measured().value is not None
    open_leg = stated(measured(), "outside-limits-open").get("reason")
    assert measured(outside_limits="no result").value is None
    assert measured(outside_limits="no result").reason == open_leg
    assert open_leg.kind == beyond
    assert length(limit) in dict(open_leg.values).values()
    assert open_leg.get("length") == pytest.approx(math.hypot(*b))


def test_a_leg_within_the_limits_needs_no_warning():
    got = result("XDD", site=SITE, marks={"A": (0, 0), "B": (600, 800)}, settings=LEGS)

    assert got.value == pytest.approx(1000.0, abs=1e-9)
    assert not got.matters


def test_a_launch_nobody_knows_is_no_result():
    got = result("SFL", site=SITE, scoring_areas=("west",), marks={"": (-10, 0)})

    assert got.value is None
    assert got.reason == fact("launch-unknown")


def test_a_launch_keyed_by_officials_goes_before_the_log():
    got = result(
        "SFL",
        site=SITE,
        scoring_areas=("west",),
        marks={"": (-10, 0), "LAUNCH": (-2000, 0)},
        flown=FLIGHT,
    )

    assert got.value == pytest.approx(1990.0, abs=1e-9)


def test_logger_marks_stand_in_where_none_is_keyed():
    start = FLIGHT.time_s[0]
    marks = (
        LogMark(time_s=start + 600, label="1"),
        LogMark(time_s=start + 1200, label="2"),
    )
    track = make_flown(
        [(0, -3000, 0), (600, -1500, 0), (1200, 0, 0), (1800, 1500, 0)], marks=marks
    )

    got = result(
        "XDD",
        site=SITE,
        flown=track,
        settings={"logger_marks": {"A": 1, "B": 2}},
    )

    assert got.value == pytest.approx(1500.0, abs=1e-6)
    assert got.sigma == pytest.approx(2**0.5, abs=1e-6)
    assert [m.method for m in got.marks] == [Method.LOG, Method.LOG]
    assert got.times == {"A": start + 600, "B": start + 1200}


@pytest.mark.parametrize(
    ("flown", "time", "reason"),
    [
        (None, 1200, "way-unknown"),
        (FLIGHT, 2000, "log-ends-before-mark"),
    ],
)
def test_a_way_flown_that_the_log_does_not_show_is_no_result(flown, time, reason):
    got = result(
        "MDT",
        site=SITE,
        targets=("centre",),
        marks={"": (30, 40)},
        keyings={"": make_keying(time=time)},
        flown=flown,
        settings={"least_flown": "1 km"},
    )

    assert got.value is None
    assert got.reason == fact(reason)


def test_the_way_flown_ends_between_two_fixes():
    """2.5 m/s for 900 s are 2250 m, 300 s into the second leg of 600 s."""
    got = result(
        "MDT",
        site=SITE,
        targets=("centre",),
        marks={"": (30, 40)},
        keyings={"": make_keying(time=900)},
        flown=FLIGHT,
        settings={"least_flown": "1 km"},
    )

    assert stated(got.steps, "way-flown").get("way") == pytest.approx(2250.0, abs=0.5)


def test_a_leg_nearer_to_the_limit_than_its_uncertainty_is_pointed_out():
    marks = {"A": (0, 0), "B": make_mark((300, 400), 3.0)}

    got = result("XDD", site=SITE, marks=marks, settings={"least_leg": "495 m"})

    assert got.value == pytest.approx(500.0, abs=1e-9)
    assert stated(got, "leg-near-limit").get("length") == pytest.approx(500.0)


def test_a_mark_before_the_start_of_time_is_pointed_out():
    got = result(
        "XDT",
        site=SITE,
        **_timed(1200, 600),
        settings={"most_time": "1 h", "time_from": "reference"},
    )

    assert stated(got, "fell-before-start")


def left_at_14_s():
    """Stood at (0, 0) until 14 s, then 10 m/s east; fixes every 10 s, down at 2,000 s."""
    fixes = [(0, 0, 0), (10, 0, 0)]
    fixes += [(t, 10.0 * (t - 14), 0) for t in range(20, 2001, 10)]
    fixes += [(2010, 19_860.0, 0)]
    flown = make_flown(fixes, launch=2, landing=len(fixes) - 1)
    east, north = at((0, 0))
    left = Moment(
        at=2, time_s=START + 14, sigma_s=0.5, east_m=east, north_m=north, sigma_m=2.0,
        sure=True,
    )  # fmt: skip
    down = replace(left, at=len(fixes) - 1, time_s=START + 2000)
    return replace(flown, lift_offs=(left,), touch_down=down)


def from_launch(kind, time, settings):
    return result(
        kind,
        site=SITE,
        flown=left_at_14_s(),
        marks={"": make_mark((1000, 0))},
        keyings={"": make_keying(time=time)},
        settings=settings,
    )


def test_the_launch_is_where_and_when_the_basket_left_not_the_first_fix_in_the_air():
    within = {"most_time": "30 min", "reference": "launch"}
    got = from_launch("XDT", 1810, within)
    assert got.value == pytest.approx(1000.0, abs=1e-6)  # from the fix it is 940
    assert got.sigma == pytest.approx(2.0)
    assert from_launch("XDT", 1816, within).reason.kind == "fell-too-late"

    least = {"least_time": "30 min", "reference": "launch"}
    assert from_launch("MDT", 1812, least).reason.kind == "fell-too-early"
    assert from_launch("MDT", 1816, least).value == pytest.approx(1000.0, abs=1e-6)


def test_the_way_flown_counts_from_where_the_basket_left_to_where_it_came_down():
    way = {"least_flown": "9.95 km", "reference": "launch"}
    got = from_launch("MDT", 1014, way)
    assert got.value is not None
    told = next(step for step in got.steps if step.kind == "way-flown")
    assert told.get("way") == pytest.approx(10_000 - 24, abs=0.1)  # 24 m: 4 of 10 s

    inside = make_site({}, {"air": ((-5000, -5000), (30_000, 5000))})
    flown = result("3DT", site=inside, scoring_areas=("air",), flown=left_at_14_s())
    assert flown.value == pytest.approx(19_860.0 - 24.0, abs=0.1)
