"""What a log that pauses says of marks: not that they lie far from the track."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.checks.mark_told import check_marks
from scorer.checks.mark_track import Marks, approaches
from scorer.checks.pauses import Pauses
from scorer.event import matters
from scorer.tracks.columns import columns
from tests.helpers import said
from tests.scorer.checks.test_marks import HIGH, flight, mark

THROW_M = 100.0


def kept(flown, which):
    """The same log with some of its fixes."""
    arrays = {name: own[which] for name, own in columns(flown).items()}
    before = int(np.count_nonzero(which[: flown.launch]))
    landed = None
    if which[flown.landing :].any():
        landed = int(np.count_nonzero(which[: flown.landing]))
    launch = before if which[: flown.launch].any() else None
    return replace(flown, **arrays, launch=launch, landing=landed, lift_offs=())


def told(flown, *marks):
    near = {flown.pilot: approaches(flown, marks)}
    return check_marks(Marks(marks=marks, tracks=near, throw_m=THROW_M, flight="1"))


def gap(from_s, to_s):
    flown = flight(HIGH)
    since = flown.time_s - flown.time_s[flown.launch]
    return kept(flown, (since < from_s) | (since > to_s))


@pytest.mark.parametrize("noted", [None, 1060.0])
def test_a_mark_that_may_have_fallen_in_a_pause_is_not_called_far(noted):
    """The track passes the centre 1,060 s after the log begins, at 5 m/s."""
    one = mark(7, 0.0, 250.0, time_s=noted)

    (far,) = told(flight(HIGH), one)
    (silent,) = told(gap(850.0, 1150.0), one)

    assert far.kind is matters.MARK_FAR_FROM_TRACK
    assert silent.kind is matters.LOG_GAP
    assert not silent.holds_up
    assert (silent.task, silent.pilot, silent.says.kind) == (1, 7, "mark-in-pause")
    assert "pauses from" in said(silent)


def test_no_pause_explains_a_mark_farther_away_than_any_balloon_flies():
    (far,) = told(gap(850.0, 1150.0), mark(7, 0.0, 3000.0))

    assert far.kind is matters.MARK_FAR_FROM_TRACK


def test_a_pause_at_another_time_explains_nothing_about_a_noted_mark():
    (far,) = told(gap(300.0, 600.0), mark(7, 0.0, 250.0, time_s=1060.0))

    assert far.kind is matters.MARK_FAR_FROM_TRACK


def test_a_log_that_ends_in_the_air_does_not_tell_where_the_mark_fell():
    short = gap(700.0, 1e9)
    assert short.landing is None

    (after,) = told(short, mark(7, 0.0, 40.0))
    (noted,) = told(short, mark(7, 0.0, 40.0, time_s=1060.0))

    assert (after.kind, noted.kind) == (matters.LOG_GAP, matters.LOG_GAP)
    assert after.says.kind == noted.says.kind == "mark-after-log"


def test_a_log_that_begins_in_the_air_does_not_tell_where_the_mark_fell():
    late = gap(-1e9, 1200.0)
    assert late.launch is None

    (before,) = told(late, mark(7, 0.0, 40.0, time_s=1060.0))

    assert before.says.kind == "mark-before-log"


def test_a_noted_time_within_a_pause_is_no_sign_of_a_wrong_mark():
    one = mark(7, 0.0, 0.0, time_s=1060.0)
    passes = approaches(gap(850.0, 1150.0), [one]).passes

    assert np.isnan(passes.then_m).all()
    assert approaches(gap(1400.0, 1450.0), [one]).passes.then_m < 10.0
    late = mark(7, 0.0, 0.0, time_s=5000.0)
    assert np.isinf(approaches(flight(HIGH), [late]).passes.then_m).all()


@pytest.mark.parametrize("seed", range(5))
def test_nobody_who_flies_no_faster_comes_nearer_in_a_pause(seed):
    """Random ways with a speed of 8 m/s; all but both ends is taken out."""
    rng = np.random.default_rng(seed)
    turn = np.cumsum(rng.normal(0.0, 0.1, (50, 600)), axis=1)
    ways = np.cumsum(8.0 * np.stack([np.sin(turn), np.cos(turn)], axis=-1), axis=1)
    points = rng.normal(0.0, 2500.0, (40, 2))
    noted = rng.uniform(0.0, 600.0, 40)
    for way in ways:
        pause = Pauses(
            np.zeros(1), np.array([599.0]), way[:1], way[-1:], np.array([8.0])
        )
        away = np.hypot(*(points[:, None] - way).T).T
        least = pause.least_m(points, np.full(40, np.nan), 60.0)[:, 0]
        assert (least <= away.min(axis=1) + 1e-6).all()
        near = np.abs(np.arange(600.0) - noted[:, None]) <= 60.0
        then = np.where(near, away, np.inf).min(axis=1)
        assert (pause.least_m(points, noted, 60.0)[:, 0] <= then + 1e-6).all()
        assert (least > 0.0).any()
