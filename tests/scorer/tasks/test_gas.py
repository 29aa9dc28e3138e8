"""The long-distance race: geodesics against GeographicLib, and who says where it ended."""

from dataclasses import replace

import numpy as np
import pytest
from pyproj import Geod

from scorer.event import place_kinds
from scorer.event.model import DistanceKind, Method, Place
from scorer.facts import fact, number
from scorer.geodesy.mark import Mark
from scorer.geodesy.plane import Plane
from scorer.geodesy.precision import axes_covariance
from scorer.geodesy.stood import Stood
from scorer.scoring.score import score
from scorer.tracks.flown import Flown
from tests.scorer.tasks.evidence import (
    CORNER,
    START,
    make_keying,
    make_site,
    result,
    stated,
)
from tests.scorer.tiny import tiny, tiny_flight

PLANE = Plane("EPSG:25830")
SITE = make_site({"meadow": (0, 0)})
HOME = PLANE.to_wgs84(*CORNER)
DAY_S = 86_400


def landed(lat, lon, label="", sigma=3.0):
    """Return a reported landing."""
    return Mark(
        point=PLANE.to_plane(lat, lon),
        distance_m=None,
        sigma_m=None,
        covariance=axes_covariance(0.0, sigma, sigma),
        method=Method.LATLON,
        label=label,
    )


def journey(*points, landing=True):
    """Return a track of days: (hours after START, lat, lon)."""
    rows = np.array(points, dtype=float)
    east, north = PLANE.to_plane(rows[:, 1], rows[:, 2])
    n = len(rows)
    zero = np.zeros(n)
    return Flown(
        pilot=7,
        log="logs/007.igc",
        sha256="ab",
        time_s=START + rows[:, 0] * 3600,
        lat_deg=rows[:, 1].copy(),
        lon_deg=rows[:, 2].copy(),
        east_m=east,
        north_m=north,
        ground_m=zero.copy(),
        height_m=zero.copy(),
        height_sigma_m=zero.copy(),
        altitude_m=zero.copy(),
        climb_m_s=zero.copy(),
        launch=0,
        landing=n - 1 if landing else None,
        anchored=True,
        accuracy_m=np.full(n, 2.0),
    )


def geodesic_m(a, b):
    """Distance by GeographicLib."""
    library = pytest.importorskip("geographiclib.geodesic")
    return library.Geodesic.WGS84.Inverse(*a, *b)["s12"]


ENDS = [(52.2, 21.0), (39.5, 2.7), (58.9, 5.7), (33.6, -7.6), (40.40, -3.71)]
"""Far apart on purpose: 2,200 km to the north-east, over the sea, south, next door."""


@pytest.mark.parametrize("end", ENDS)
def test_the_result_is_the_geodesic_from_launch_to_landing(end):
    """The plane of the event is that of zone 30; the distance must not be its."""
    got = result(
        "GAS", site=SITE, settings={"launch_place": "meadow"}, marks={"": landed(*end)}
    )

    # 0.5 mm: the way through the plane and back
    assert got.value == pytest.approx(geodesic_m(HOME, end), abs=0.0005)
    assert got.sigma == pytest.approx(3.0, rel=1e-6)


def test_the_events_own_kind_of_distance_does_not_matter():
    end = ENDS[0]
    values = {
        result(
            "GAS",
            site=replace(SITE, distance_kind=kind),
            targets=("meadow",),
            marks={"": landed(*end)},
        ).value
        for kind in DistanceKind
    }

    assert len(values) == 1


def test_launch_and_landing_come_from_the_log_where_nothing_is_reported():
    """Three days; the route goes far beyond the landing and does not count."""
    start, beyond, end = (40.5, -3.6), (47.0, 12.0), (46.0, 9.0)
    track = journey((0, *start), (50, *beyond), (71, *end))

    got = result("GAS", site=SITE, flown=track)

    assert got.value == pytest.approx(geodesic_m(start, end), abs=0.0005)
    assert got.sigma == pytest.approx(8**0.5, rel=1e-6)  # 2 m at either end
    assert fact("landing-by-log") in got.steps


def test_a_reported_landing_goes_before_the_log_and_a_gap_between_them_is_told():
    track = journey((0, 40.5, -3.6), (71, 46.0, 9.0))

    near = result("GAS", site=SITE, flown=track, marks={"": landed(46.001, 9.0)})
    far = result("GAS", site=SITE, flown=track, marks={"LANDING": landed(46.02, 9.0)})

    assert near.value == pytest.approx(
        geodesic_m((40.5, -3.6), (46.001, 9.0)), abs=0.001
    )
    assert not near.matters
    apart = stated(far, "landings-apart").get("apart")
    assert apart == pytest.approx(geodesic_m((46.0, 9.0), (46.02, 9.0)), abs=0.01)


@pytest.mark.parametrize(
    ("more", "reason"),
    [
        ({}, "launch-place-unknown"),
        ({"settings": {"launch_place": "meadow"}}, "landing-unknown"),
        (
            {"flown": journey((0, 40.5, -3.6), (5, 41.0, -3.0), landing=False)},
            "landing-unknown",
        ),
    ],
)
def test_without_a_launch_or_a_landing_there_is_no_result(more, reason):
    got = result("GAS", site=SITE, **more)

    assert got.value is None
    assert got.reason == fact(reason)


@pytest.mark.parametrize(
    ("outside", "valid"), [({}, True), ({"outside_limits": "no result"}, False)]
)
def test_a_landing_after_the_time_is_for_people_unless_the_task_says(outside, valid):
    got = result(
        "GAS",
        site=SITE,
        targets=("meadow",),
        marks={"": landed(*ENDS[1])},
        keyings={"": make_keying(time=3 * DAY_S + 1)},
        settings={"land_by": "2026-09-15 06:00", **outside},
    )

    assert (got.value is not None) is valid
    late = stated(got if valid else got.reason, "landed-late")
    assert (late.get("landed"), late.get("due")) == (
        START + 3 * DAY_S + 1,
        START + 3 * DAY_S,
    )


def test_stages_add_up_and_one_without_a_landing_counts_nothing():
    site = make_site({"first": (0, 0), "second": (50_000, 0), "third": (0, 50_000)})
    ends = [ENDS[1], ENDS[2]]
    starts = [PLANE.to_wgs84(*site.point(n)) for n in ("first", "second")]

    got = result(
        "GAS",
        site=site,
        settings={"stages": ["first", "second", "third"]},
        marks={"1": landed(*ends[0], "1"), "2": landed(*ends[1], "2")},
    )

    expected = sum(geodesic_m(a, b) for a, b in zip(starts, ends, strict=True))
    assert got.value == pytest.approx(expected, abs=0.001)
    assert got.sigma == pytest.approx(18**0.5, rel=1e-6)
    assert stated(got, "stage-without-landing")["stage"] == number(3)


def test_farther_is_better_whatever_the_route():
    values = [
        result(
            "GAS", site=SITE, targets=("meadow",), marks={"": landed(lat, 0.0)}
        ).value
        for lat in (41.0, 43.0, 45.0, 47.0)
    ]

    assert values == sorted(values)


def test_a_landing_in_time_counts_and_one_without_time_is_pointed_out():
    def measured(time):
        return result(
            "GAS",
            site=SITE,
            targets=("meadow",),
            marks={"": landed(*ENDS[1])},
            keyings={"": make_keying(time=time)},
            settings={"land_by": "2026-09-15 06:00", "outside_limits": "no result"},
        )

    assert not measured(3 * DAY_S).matters
    assert measured(3 * DAY_S).value == pytest.approx(
        geodesic_m(HOME, ENDS[1]), abs=0.001
    )
    assert stated(measured(None), "landing-time-unknown")


def test_stages_without_any_landing_are_no_result():
    got = result("GAS", site=SITE, settings={"stages": ["meadow"]})

    assert (got.value, got.reason) == (None, fact("no-stage-landed"))


@pytest.mark.parametrize(("lat", "lon"), [(0.0, 87.0), (-40.0, 176.0), (12.0, -100.0)])
def test_a_landing_far_beyond_the_plane_is_measured_from_its_degrees(lat, lon):
    """Against pyproj.Geod, to a millimetre: the plane of the event has no part in it."""
    marks = (
        "task,pilot,mark,method,lat,lon\n"
        f"1,1,LAUNCH,latlon,40.5,-3.5\n1,1,LANDING,latlon,{lat},{lon}\n"
    )
    tasks = '[[task]]\nnumber = 1\nkind = "GAS"\n'
    got = score(tiny(tiny_flight(tasks=tasks, marks=marks))).tasks[0].score_of(1)
    _, _, far = Geod(ellps="WGS84").inv(-3.5, 40.5, lon, lat)

    assert got.measured == pytest.approx(far, abs=1e-3)


def test_a_launch_field_that_was_moved_counts_from_where_it_stood_then():
    """Its old latitude and longitude say nothing any more."""
    there = Place(name="meadow", kind=place_kinds.TARGET, rings=((HOME[::-1],),))
    spot = replace(SITE.spots["meadow"], point=PLANE.to_plane(41.0, -3.0))
    moved = replace(SITE, spots={"meadow": spot}, stood=(Stood(task=1, spot=spot),))
    end = ENDS[0]

    values = [
        result(
            "GAS",
            site=site,
            places={"meadow": there},
            settings={"launch_place": "meadow"},
            marks={"": landed(*end)},
        ).value
        for site in (SITE, moved)
    ]
    assert values[0] == pytest.approx(geodesic_m(HOME, end), abs=0.001)
    assert values[1] == pytest.approx(geodesic_m((41.0, -3.0), end), abs=0.001)
