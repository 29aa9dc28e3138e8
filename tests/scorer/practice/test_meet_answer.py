"""The known answer, recomputed by other means than those it was made with."""

import json
from datetime import datetime
from itertools import pairwise

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from scorer.practice.meet import make_meet
from scorer.practice.scenes import QUILLOWEN, SAMPLES, Role

FLOOR_M = 75 * 0.3048
MILE_M = 1609.344
EARTH_M = 6_371_000.0


@pytest.fixture(scope="module")
def meet():
    return make_meet(*SAMPLES["quillowen"])


@pytest.fixture(scope="module")
def rows(meet):
    return {
        (task["task"], row["pilot"]): (task["flight"], row)
        for task in meet.answer["tasks"]
        for row in task["pilots"]
    }


@pytest.fixture(scope="module")
def places(meet):
    return {
        f["properties"]["name"]: f["geometry"]["coordinates"]
        for f in json.loads(meet.files["places.geojson"])["features"]
    }


TARGETS = {1: "centre", 2: "centre", 3: "mill meadow"}
AREAS = {1: "scoring area", 2: "long area", 3: "long area"}


def posix(stamp):
    return datetime.fromisoformat(stamp).timestamp()


def in_ring(ring, lon, lat):
    """Ray casting, written plainly: crossings of a line to the east."""
    inside = np.zeros(len(lon), dtype=bool)
    for (x1, y1), (x2, y2) in pairwise(ring):
        if y1 != y2:
            where = (x2 - x1) * (lat - y1) / (y2 - y1) + x1
            inside ^= ((y1 > lat) != (y2 > lat)) & (lon < where)
    return inside


def test_distances_are_those_of_geographiclib_raised_to_the_ground(rows, places):
    """C. Karney's geodesic on WGS84; elevation factor 1 + h / R (Torge, Geodesy, 4.1).

    Half a millimetre in 300 m leaves room for R and for the target's own elevation.
    """
    checked = 0
    for (task, _), (_, row) in rows.items():
        if row["mark"] is None:
            continue
        lon, lat = places[TARGETS[task]]
        mark = row["mark"]
        line = Geodesic.WGS84.Inverse(lat, lon, mark["lat"], mark["lon"])
        raised = line["s12"] * (1 + mark["elevation_m"] / EARTH_M)
        assert mark["distance_m"] == pytest.approx(raised, abs=0.0015)
        checked += 1
    assert checked > 100


def test_lowest_heights_and_breaches_follow_from_the_flights(meet, rows, places):
    from pyproj import Transformer

    to_degrees = Transformer.from_crs(QUILLOWEN.crs, "EPSG:4326", always_xy=True)
    for (task, pilot), (flight, row) in rows.items():
        truth = meet.sorties[flight][pilot].truth
        if truth is None:
            continue
        lon, lat = to_degrees.transform(truth.east_m, truth.north_m)
        boundary = in_ring(places["field"][0], lon, lat)
        scoring = in_ring(places[AREAS[task]][0], lon, lat)
        flying = (truth.time_s > truth.launch_s + 1) & (
            truth.time_s < truth.landing_s - 1
        )
        lowest, below, entered = np.inf, 0, False
        for k in np.flatnonzero(flying):
            entered = entered or scoring[k]
            if boundary[k] and not entered:
                lowest = min(lowest, truth.height_m[k])
                below += truth.height_m[k] < FLOOR_M
        if np.isinf(lowest):
            assert row["over_floor"] is None
        else:
            assert row["over_floor"]["lowest_m"] == pytest.approx(lowest, abs=0.005)
        assert sum(run["seconds"] + 1 for run in row["breaches"]) == below


def parts(rows, role, task):
    return [
        row for (t, _), (_, row) in rows.items() if t == task and row["part"] == role
    ]


def test_each_planted_breach_is_what_its_name_says(rows):
    for task in (1, 2):
        for row in parts(rows, Role.DEEP, task) + parts(rows, Role.DEEP_SEEN, task):
            (run,) = row["breaches"]
            assert FLOOR_M - run["lowest_m"] > 10
            assert run["seconds"] >= 20
            assert row["findings"][0]["verdicts"] == ["certain"]
        for row in parts(rows, Role.SHALLOW, task):
            (run,) = row["breaches"]
            assert 1.5 < FLOOR_M - run["lowest_m"] < 3
        for row in parts(rows, Role.GRAZE, task):
            assert FLOOR_M + 1 < row["over_floor"]["lowest_m"] < FLOOR_M + 2
    (row,) = parts(rows, Role.BRIEF, 1)
    (run,) = row["breaches"]
    assert 3 <= run["seconds"] <= 9


def test_ground_contacts_lie_in_the_scoring_area_and_nowhere_else(rows):
    touched = {
        (task, row["part"])
        for (task, _), (_, row) in rows.items()
        if row.get("contacts")
    }

    assert touched == {
        (1, Role.CONTACT_SEEN),
        (2, Role.CONTACT_LOGGED),
        (3, Role.CONTACT_LOGGED),
    }


def test_only_the_near_launch_is_nearer_than_a_mile(rows):
    near = {
        row["part"]
        for _, row in rows.values()
        if row["flew"] and row["launch_distance_m"] < MILE_M
    }

    assert near == {Role.NEAR}


def test_a_clean_flight_expects_no_finding_and_a_result(rows):
    clean = parts(rows, Role.CLEAN, 1) + parts(rows, Role.CLEAN, 2)

    assert len(clean) > 30
    for row in clean:
        assert row["findings"] == []
        assert row["group"] == "A"
        assert row["over_floor"]["lowest_m"] > FLOOR_M + 4


def test_mixed_up_numbers_carry_the_distance_of_the_marker_keyed_there(rows):
    (wide,) = parts(rows, Role.WIDE, 1)
    (wrong,) = parts(rows, Role.WRONG_NUMBER, 1)
    one, two = parts(rows, Role.SWAPPED, 1)

    assert wide["mark"] is None
    assert wide["entered"]["distance_m"] == wrong["mark"]["distance_m"]
    assert wrong["entered"] is None
    assert wrong["group"] == "B"
    assert one["entered"]["distance_m"] == two["mark"]["distance_m"]
    assert two["entered"]["distance_m"] == one["mark"]["distance_m"]


def test_swapped_markers_lie_far_from_the_other_track(meet, rows):
    """Farther than the 100 m that a rule book of festivals takes for a throw."""
    one, two = parts(rows, Role.SWAPPED, 1)
    drops = [
        meet.sorties["saturday"][row["pilot"]].drops[0].point for row in (one, two)
    ]
    for row, point in ((one, drops[1]), (two, drops[0])):
        truth = meet.sorties["saturday"][row["pilot"]].truth
        gap = np.hypot(truth.east_m - point[0], truth.north_m - point[1]).min()
        assert gap > 150


def test_the_file_says_the_same_as_the_object(meet):
    assert json.loads(meet.files["answer.json"]) == meet.answer
    assert posix(meet.answer["tasks"][0]["pilots"][0]["launch"]["at"]) > 0
