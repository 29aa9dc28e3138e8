"""Marks by the logger, and by the track at a time."""

import pytest

from scorer.event.model import Method
from scorer.facts import count, fact, span, words
from scorer.tasks.logmarks import STRAY_M_S2, find_logged, track_at
from scorer.tasks.measure import measure
from scorer.tasks.work import NoResult
from scorer.tracks.flown import LogMark
from tests.helpers import said
from tests.scorer.tasks.evidence import (
    CORNER,
    START,
    make_evidence,
    make_flown,
    make_keying,
    make_site,
    result,
    stated,
)

SITE = make_site({"centre": (0, 0)})


def logged(*labels, every=100):
    """Return marks of the logger, one each `every` seconds from the first on."""
    return [
        LogMark(time_s=START + every * (i + 1), label=label)
        for i, label in enumerate(labels)
    ]


def flight(*labels):
    """Return a track 1 m/s due east along north 0, with marks at 100 m, 200 m, ..."""
    return make_flown([(i * 10, i * 10, 0) for i in range(61)], marks=logged(*labels))


def measured(flown, settings=None, **keying):
    return result(
        "JDG",
        site=SITE,
        targets=("centre",),
        flown=flown,
        keyings={"": make_keying(method=Method.LOG, **keying)},
        settings=settings or {},
    )


def test_the_track_at_a_time_is_interpolated():
    got = measured(flight(), time=123)

    assert got.value == pytest.approx(123.0, abs=1e-6)
    # the fix's 1 m, and the straight line's 0.05 · 3 · 7 / 2 m
    assert got.sigma == pytest.approx(
        (1 + (STRAY_M_S2 * 3 * 7 / 2) ** 2) ** 0.5, rel=1e-6
    )


@pytest.mark.parametrize(
    ("labels", "name", "expected"),
    [
        (("PEV",), "", 100.0),  # the only one
        (("1", "2", "3"), "2", 200.0),
        (("1", "2", "3"), "mark 3", 300.0),
        (("MARK 01", "MARK 02"), "2", 200.0),
        (("alpha", "beta"), "Beta", 200.0),
        (("PEV", "PEV", "PEV"), "2", 200.0),  # without numbers: in order of time
        (("2", "1"), "1", 200.0),  # its label, not its place
    ],
)
def test_the_note_of_the_keying_names_the_loggers_mark(labels, name, expected):
    got = measured(flight(*labels), note=name)

    assert got.value == pytest.approx(expected, abs=1e-6)
    assert got.marks[0].method is Method.LOG


@pytest.mark.parametrize(
    ("labels", "name", "kind"),
    [
        ((), "", "log-without-marks"),
        (("1", "2"), "", "logger-marks-several"),
        (("1", "2"), "3", "logger-mark-unknown"),
        (("1", "1"), "1", "logger-marks-alike"),
        (("PEV", "PEV"), "0", "logger-mark-unknown"),
        (("PEV", "PEV"), "gamma", "logger-mark-unknown"),
    ],
)
def test_a_logger_mark_is_never_guessed(labels, name, kind):
    got = measured(flight(*labels), note=name)

    assert got.value is None
    assert got.reason.kind == kind
    if labels:
        assert got.reason.get("labels") == tuple(words(label) for label in labels)
    if "marks" in dict(got.reason.values):
        assert got.reason["marks"] == count(2)


def test_the_task_can_name_the_loggers_mark():
    """Nothing is keyed: every pilot's logger mark 2 counts."""
    got = result(
        "JDG",
        site=SITE,
        targets=("centre",),
        flown=flight("1", "2"),
        settings={"logger_marks": "2"},
    )

    assert got.value == pytest.approx(200.0, abs=1e-6)


def test_a_measured_mark_goes_before_the_logger():
    got = result(
        "JDG",
        site=SITE,
        targets=("centre",),
        flown=flight("1"),
        marks={"": (3, 4)},
        settings={"logger_marks": "1"},
    )

    assert got.value == pytest.approx(5.0, abs=1e-9)


def test_no_mark_found_goes_before_the_logger():
    got = result(
        "JDG",
        site=SITE,
        targets=("centre",),
        flown=flight("1"),
        keyings={"": make_keying(method=Method.NONE)},
        settings={"logger_marks": "1"},
    )

    assert got.value is None


def test_a_mark_with_a_place_of_its_own_is_there():
    """A waypoint of a receiver: its own coordinates, not the track's."""
    plane = SITE.plane
    lat, lon = plane.to_wgs84(CORNER[0] + 30, CORNER[1] + 40)
    own = LogMark(time_s=START + 100, label="1", lat_deg=lat, lon_deg=lon)
    track = make_flown([(0, 0, 0), (600, 600, 0)], marks=[own])

    got = measured(track)

    assert got.value == pytest.approx(50.0, abs=1e-4)


@pytest.mark.parametrize("time", [-1, 601])
def test_a_time_the_log_does_not_cover_is_no_result(time):
    got = measured(flight(), time=time)

    assert got.value is None
    assert got.reason == fact("mark-outside-log")


def test_without_a_log_there_is_no_mark_of_it():
    got = measured(None, time=100)

    assert got.value is None
    assert got.reason == fact("mark-without-log")


def test_a_pause_of_the_log_around_the_mark_is_told():
    """Half-way through 200 s the sigma is 0.05 · 100 · 100 / 2 = 250 m."""
    got = measured(make_flown([(0, 0, 0), (200, 200, 0)]), time=100)

    assert got.value == pytest.approx(100.0, abs=1e-6)
    assert got.sigma == pytest.approx(250.0, rel=1e-4)
    assert stated(got, "mark-in-a-pause")["pause"] == span(200.0)


def test_the_first_and_the_last_fix_belong_to_the_track():
    track = flight()

    for time, east in ((0, 0), (600, 600), (10, 10)):
        at = track_at(track, START + time, 3.0)
        assert at.point == pytest.approx((CORNER[0] + east, CORNER[1]), abs=1e-6)
        assert at.covariance[0][0] == pytest.approx(1.0)


def test_a_receiver_that_states_no_accuracy_gets_that_of_the_event():
    track = make_flown([(0, 0, 0), (10, 10, 0)], accuracy=float("nan"))

    assert track_at(track, START, 3.0).covariance[0][0] == pytest.approx(9.0)


def test_finding_a_mark_raises_what_the_pilot_can_read():
    with pytest.raises(NoResult) as none:
        find_logged(flight("1", "2"), "")
    assert "name one of them in the note" in said(none.value.reason)


def test_several_marks_of_the_logger_follow_the_rule_for_several():
    evidence = make_evidence(
        "JDG",
        site=SITE,
        targets=("centre",),
        flown=flight("1", "2"),
        settings={"logger_marks": {"X": 1, "Y": 2}},
    )

    assert measure(evidence).value == pytest.approx(200.0, abs=1e-6)
