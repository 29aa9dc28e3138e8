"""What the measuring team of an invented meet writes, against where the markers lie."""

import csv
import io
from collections import defaultdict

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Transformer

from scorer.practice.grounds import TruePlane
from scorer.practice.measuring import BEARING_DEG, RECEIVER_M, TAPE_M, TAPE_PER_M
from scorer.practice.meet import make_meet
from scorer.practice.scenes import Role, crowd
from scorer.practice.spellings import on_tape, spellings
from scorer.units import length_m

SPEC = crowd(pilots=160)
PLANE = TruePlane(SPEC.crs)


@pytest.fixture(scope="module")
def meet():
    return make_meet(SPEC, 12)


@pytest.fixture(scope="module")
def rows(meet):
    text = meet.files["flights/flight-1/marks.csv"].decode()
    return list(csv.DictReader(io.StringIO(text)))


@pytest.fixture(scope="module")
def plain(meet, rows):
    """Rows whose pilot is the marker's owner and whose reading nobody got wrong."""
    special = {line["pilot"] for line in meet.answer["planted"]}
    return [row for row in rows if int(row["pilot"]) not in special]


def point(meet, row):
    (drop,) = meet.sorties["flight-1"][int(row["pilot"])].drops
    return drop.point


def metres(text, unit):
    return length_m(text, unit or "ft")


def taped_ok(measured, true):
    """Two sigma, and half a quarter of an inch or half a centimetre of reading."""
    return abs(measured - true) <= 2 * (TAPE_M + TAPE_PER_M * true) + 0.0051


@settings(max_examples=150)
@given(st.floats(0.0, 2000.0), st.sampled_from(["metric", "imperial"]))
def test_every_spelling_is_read_back_as_what_the_tape_said(distance, units):
    """Half the last place written: 0.5 cm of a metre, 1/8 inch, 0.005 ft."""
    tape = on_tape(distance, units)
    bare = {"metric": "m", "imperial": "ft"}[units]

    for spell in spellings(units):
        text, unit = spell(tape)
        assert length_m(text, unit or bare) == pytest.approx(float(tape), abs=0.0051)


def test_the_crowd_writes_in_every_way(rows):
    texts = [row["distance"] for row in rows if row["distance"]]
    signs = {
        "decimal": any(t.replace(".", "").isdigit() for t in texts),
        "metres": any(t.endswith(" m") for t in texts),
        "words": any(" ft " in t for t in texts),
        "signs": any("'" in t and '"' in t for t in texts),
        "fraction": any("/" in t for t in texts),
        "primes": any("′" in t for t in texts),
        "column": any(row["unit"] == "m" for row in rows),
    }

    assert all(signs.values()), signs


def test_all_methods_occur_and_only_near_markers_are_taped(meet, plain):
    methods = {row["method"] for row in plain}
    answers = {row["pilot"]: row for row in meet.answer["tasks"][0]["pilots"]}

    assert {"tape", "polar", "grid", "latlon", "arcs"} <= methods
    for row in plain:
        far = answers[int(row["pilot"])]["mark"]["distance_m"] > 300 * 0.3048
        assert (row["method"] in {"grid", "latlon"}) == far


def test_tapes_agree_with_the_true_distance(meet, plain):
    answers = {row["pilot"]: row for row in meet.answer["tasks"][0]["pilots"]}
    taped = [row for row in plain if row["method"] == "tape"]

    assert len(taped) > 60
    for row in taped:
        true = answers[int(row["pilot"])]["mark"]["distance_m"]
        assert taped_ok(metres(row["distance"], row["unit"]), true)


def test_coordinates_lie_within_the_receiver_of_the_marker(meet, plain):
    to_plane = Transformer.from_crs("EPSG:4326", SPEC.crs, always_xy=True)
    for row in plain:
        if row["method"] == "grid":
            east, north = float(row["easting"]), float(row["northing"])
        elif row["method"] == "latlon":
            east, north = to_plane.transform(float(row["lon"]), float(row["lat"]))
        else:
            continue
        true = point(meet, row)
        assert abs(east - true[0]) <= 2 * RECEIVER_M + 0.2
        assert abs(north - true[1]) <= 2 * RECEIVER_M + 0.2


def reference(name):
    from scorer.practice.grounds import REFERENCES

    east, north = REFERENCES[name]
    return SPEC.land.east_m + east, SPEC.land.north_m + north


def test_polar_rows_point_at_the_marker(meet, plain):
    polar = [row for row in plain if row["method"] == "polar"]

    assert polar
    for row in polar:
        start, end = reference(row["from"]), point(meet, row)
        true = PLANE.ground_m(start, end, SPEC.land.elevation_m)
        assert taped_ok(metres(row["distance"], row["unit"]), true)
        text = row["bearing"]
        bearing = float(text.removesuffix(" T"))
        if text.endswith("T"):
            bearing -= PLANE.convergence_deg(start)
        grid = np.degrees(np.arctan2(end[0] - start[0], end[1] - start[1]))
        assert abs((bearing - grid + 180) % 360 - 180) <= 2 * BEARING_DEG + 0.06


def test_two_arcs_meet_at_the_marker_on_the_side_that_is_keyed(meet, plain):
    arcs = [row for row in plain if row["method"] == "arcs"]

    assert arcs
    for row in arcs:
        end = point(meet, row)
        for name, column in (("from", "distance"), ("from2", "distance2")):
            true = PLANE.ground_m(reference(row[name]), end, SPEC.land.elevation_m)
            assert taped_ok(metres(row[column], row["unit"]), true)
        a, b = np.array(reference(row["from"])), np.array(reference(row["from2"]))
        line = np.array([b - a, np.array(end) - a])
        left = np.linalg.det(line) > 0
        assert row["side"] == ("L" if left else "R")


def test_two_people_who_key_the_same_slip_agree_within_a_centimetre(plain):
    """1 cm: `keying.tolerance` of the festival book."""
    keyed = defaultdict(list)
    for row in plain:
        keyed[row["pilot"]].append(row)
    twice = [rows for rows in keyed.values() if len(rows) == 2]

    assert len(twice) > 15
    for one, two in twice:
        assert one["by"] != two["by"]
        for column in ("distance", "distance2"):
            if one[column]:
                gap = metres(one[column], one["unit"]) - metres(
                    two[column], two["unit"]
                )
                assert abs(gap) <= 0.01
        for column in ("easting", "northing", "lat", "lon", "bearing"):
            assert one[column] == two[column]


def test_planted_disagreements_differ_by_more_than_a_foot(meet, rows):
    for role, count in ((Role.DIFFER, 2), (Role.SETTLED, 3)):
        pilots = [p["pilot"] for p in meet.answer["planted"] if p["part"] == role]
        assert len(pilots) == 4
        for pilot in pilots:
            own = [row for row in rows if row["pilot"] == str(pilot)]
            lengths = [metres(row["distance"], row["unit"]) for row in own]
            assert len(own) == count
            assert abs(lengths[1] - lengths[0]) > 0.3
            assert [bool(row["settles"]) for row in own[2:]] == [True] * (count - 2)


def test_a_lost_marker_is_keyed_as_none_and_an_absent_pilot_not_at_all(meet, rows):
    for line in meet.answer["planted"]:
        own = [row["method"] for row in rows if row["pilot"] == str(line["pilot"])]
        if line["part"] == Role.LOST:
            assert own == ["none"]
        if line["part"] in {Role.ABSENT, Role.WRONG_NUMBER}:
            assert own == []
