"""One track of a pilot's logs: daily files, a phone beside a logger, a pause filled."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.event.model import Pilot
from scorer.tracks.choose import choose
from scorer.tracks.columns import MOST_FIXES, fixes_in, rows
from scorer.tracks.flown import LogMark
from scorer.tracks.heads import LogHead
from scorer.tracks.join import joined, parts_of
from scorer.tracks.match import whose
from scorer.tracks.prepare import flown_in, make_ready
from tests.scorer.tracks.invented_logs import make_log
from tests.scorer.tracks.test_prepare import HILLS, PLANE, track_of


def ready(track):
    return make_ready(track, plane=PLANE, ground=HILLS)


def track_from(lead, *others):
    parts = parts_of(lead, others)
    return parts, joined([flown_in(one, 7, None) for one in (lead, *parts)])


@pytest.fixture(scope="module")
def whole():
    return track_of(make_log(4), marks=())


def test_files_one_behind_the_other_are_one_flight_from_launch_to_landing(whole):
    n = len(whole)
    cuts = [slice(0, n // 3), slice(n // 3, 2 * n // 3), slice(2 * n // 3, n)]
    first, second, third = (ready(rows(whole, cut)) for cut in cuts)
    assert first.phases.landing is None
    assert second.phases.launch is None

    parts, track = track_from(second, third, first)

    alone = flown_in(ready(whole), 7, None)
    assert len(parts) == 2
    assert len(track) == n
    assert (np.diff(track.time_s) > 0).all()
    assert track.time_s[track.launch] == pytest.approx(
        alone.time_s[alone.launch], abs=5.0
    )
    assert track.time_s[track.landing] == pytest.approx(
        alone.time_s[alone.landing], abs=10.0
    )
    assert track.lift_off(track.launch) is not None


def test_a_phone_fills_the_pause_of_a_logger_and_replaces_nothing_else(whole):
    n = len(whole)
    keep = np.ones(n, dtype=bool)
    keep[n // 2 : n // 2 + 200] = False
    logger = ready(rows(whole, keep))
    phone = ready(replace(whole, name="phone.gpx", pressure_alt_m=np.array([])))

    _, track = track_from(logger, phone)

    alone = flown_in(logger, 7, None)
    assert len(track) == n
    same = np.isin(track.time_s, alone.time_s)
    assert np.array_equal(track.height_m[same], alone.height_m)
    assert (track.height_sigma_m[~same] > np.median(alone.height_sigma_m)).all()
    assert track.time_s[track.launch] == alone.time_s[alone.launch]


def test_another_flight_s_log_is_no_part(whole):
    other = replace(whole, time_s=whole.time_s - 40_000.0)

    assert parts_of(ready(whole), [ready(other)]) == []


def test_a_barometer_leads_even_where_a_phone_has_more_fixes():
    heads = [
        LogHead(name="7 phone.igc", sha256="a", pilot=7, fixes=5000),
        LogHead(name="7 logger.igc", sha256="b", pilot=7, fixes=1700, barometer=True),
    ]
    match = choose(whose(heads, [Pilot(number=7, name="Ann Iso")]))

    assert match.chosen[7].name == "7 logger.igc"


def test_marks_of_both_logs_stand_in_order_of_time(whole):
    times = whole.time_s[10:400:13]
    own, others = (
        tuple(LogMark(time_s=float(t), label="x") for t in half)
        for half in (times[::2], times[1::2])
    )
    logger = ready(replace(whole, marks=own))
    phone = ready(replace(whole, name="phone.gpx", marks=others))

    _, track = track_from(logger, phone)

    assert [one.time_s for one in track.marks] == times.tolist()


def lower(track, by_m, lasts_s):
    """The same log, but lower for a while in the middle of the flight."""
    off = np.abs(track.time_s - np.median(track.time_s)) < 0.5 * lasts_s
    return replace(
        track,
        name="other.igc",
        pressure_alt_m=track.pressure_alt_m - by_m * off,
        gnss_alt_m=track.gnss_alt_m - by_m * off,
    )


def test_heights_that_two_logs_show_differently_are_noted(whole):
    _, track = track_from(ready(whole), ready(lower(whole, 40.0, 200.0)))

    (one,) = track.disputed
    middle = float(np.median(whole.time_s))
    assert one.log == "other.igc"
    assert one.most == pytest.approx(40.0, abs=3.0)
    assert one.start_s == pytest.approx(middle - 100.0, abs=20.0)
    assert one.end_s == pytest.approx(middle + 100.0, abs=20.0)
    alone = flown_in(ready(whole), 7, None)
    assert np.array_equal(track.height_m, alone.height_m)


@pytest.mark.parametrize("seed", [4, 5, 6])
def test_two_sound_logs_dispute_nothing(seed):
    """One has a barometer, the other's clock is a second late and it has none."""
    own = track_of(make_log(seed), marks=())
    phone = replace(
        own, name="phone.gpx", time_s=own.time_s + 1.0, pressure_alt_m=np.array([])
    )

    parts, track = track_from(ready(own), ready(phone))

    assert len(parts) == 1
    assert track.disputed == ()


def test_a_spike_and_what_only_one_log_has_dispute_nothing(whole):
    spiked = lower(whole, 40.0, 4.0)
    assert track_from(ready(whole), ready(spiked))[1].disputed == ()

    middle = np.abs(whole.time_s - np.median(whole.time_s)) < 150.0
    paused = ready(rows(whole, ~middle))
    assert track_from(paused, ready(lower(whole, 40.0, 200.0)))[1].disputed == ()


@pytest.mark.parametrize(
    ("each_s", "fixes"), [(1.0, 30), (10.0, 3), (100.0, 1), (0.001, MOST_FIXES)]
)
def test_a_running_median_holds_no_more_fixes_together_however_many_a_second(
    each_s, fixes
):
    assert fixes_in(np.arange(90) * each_s, 30.0) == fixes
