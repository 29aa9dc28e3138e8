"""A wrong clock: proposed from what others tell, accepted by an official, then applied."""

import hashlib
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from scorer.event import matters
from scorer.event.build import build_event
from scorer.event.finding import Verdict
from scorer.event.folder import read_folder
from scorer.event.matter import Acceptance
from scorer.event.model import Period
from scorer.scoring.score import score
from scorer.tracks.read import read_log
from tests.helpers import said

SAMPLE = Path(__file__).parents[3] / "sample_events" / "vashkorim"
PILOT = 2
"""Has a log with a barometer and a mark with a place."""


@pytest.fixture(scope="module")
def event():
    whole = build_event(read_folder(SAMPLE))
    return replace(whole, flights=whole.flights[:1], acceptances=())


@pytest.fixture(scope="module")
def plain(event):
    return score(event)


def later(data, seconds):
    """Set the clock of an IGC log wrong: each fix so much later, within its day."""
    lines = []
    for line in data.split(b"\r\n"):
        if line[:1] == b"B":
            clock = int(line[1:3]) * 3600 + int(line[3:5]) * 60 + int(line[5:7])
            clock += seconds
            told = f"{clock // 3600:02}{clock // 60 % 60:02}{clock % 60:02}"
            lines.append(b"B" + told.encode() + line[7:])
        else:
            lines.append(line)
    return b"\r\n".join(lines)


def log_of(event, pilot=PILOT):
    (log,) = (x for x in event.flights[0].logs if f"{pilot:03}.igc" in x.blob.name)
    return log


def filed(log, data, name=None):
    blob = replace(
        log.blob,
        content=data,
        sha256=hashlib.sha256(data).hexdigest(),
        name=name or log.blob.name,
    )
    return replace(log, blob=blob, pilot=PILOT)


def in_flight(event, **changes):
    return replace(event, flights=(replace(event.flights[0], **changes),))


def with_wrong(event, seconds):
    own = log_of(event)
    logs = [
        filed(own, later(own.blob.data, seconds)) if log is own else log
        for log in event.flights[0].logs
    ]
    return in_flight(event, logs=tuple(logs))


def noted(event, plain, off_s=0.0):
    """Somebody wrote down when the marker fell: as the right track passes it."""
    (flight,) = event.flights
    mark = next(m for m in scored(plain).marks if m.lat_deg is not None)
    track = read_log(log_of(event).blob, near_date=flight.date)
    north = (track.lat_deg - mark.lat_deg) * 111_000.0
    east = (track.lon_deg - mark.lon_deg) * 111_000.0 * np.cos(np.radians(mark.lat_deg))
    fell_s = float(track.time_s[np.hypot(east, north).argmin()]) + off_s
    keyings = tuple(
        replace(one, time_s=fell_s) if one.pilot == PILOT and one.task == 1 else one
        for one in flight.keyings
    )
    return in_flight(event, keyings=keyings)


def clocks(results):
    kinds = {matters.LOG_CLOCK_WRONG, matters.LOG_CLOCK_ALONE, matters.LOG_CLOCK}
    return [m for m in results.matters if m.kind in kinds and m.pilots == (PILOT,)]


def summary(results, pilot=PILOT):
    return next(x for x in results.flights[0].logs if x.pilot == pilot and x.counts)


def scored(results):
    return next(s for s in results.task(1).scores if s.pilot == PILOT)


def accepted(event, matter):
    own = Acceptance(matter=matter.key, by="Ida", at="", why="the logger was set wrong")
    return replace(event, acceptances=(own,))


def test_clocks_that_are_right_are_left_alone(plain):
    assert not any(m.says.kind == "clock-proposed" for m in plain.matters)
    assert all(log.clock_sigma_s == 0.0 for log in plain.flights[0].logs)


@pytest.mark.parametrize("seconds", [3600, 10800])
def test_a_clock_in_another_zone_is_told_by_the_other_balloons(event, plain, seconds):
    wrong = with_wrong(event, seconds)
    (told,) = clocks(score(wrong))[:1]

    assert told.kind is matters.LOG_CLOCK_ALONE
    assert not told.holds_up  # who flew alone may have done so
    assert told.says.get("off") == abs(seconds)
    assert told.says.get("way") == "clock-earlier"
    assert "wrong time zone" in said(told.says)

    put_right = score(accepted(wrong, told))
    assert summary(put_right).launch_s == summary(plain).launch_s
    assert summary(put_right).clock_s == -seconds
    kinds = [step.kind for step in scored(put_right).steps]
    assert "step-clock-moved" in kinds
    assert [m.accepted.by for m in put_right.matters if m.accepted] == ["Ida"]
    assert not any(m.kind.name == "acceptance-gone" for m in put_right.matters)


def test_nothing_is_certain_that_rests_on_a_doubtful_clock(event, plain):
    """The launch period closes half an hour after the right launch."""
    begins = summary(plain).launch_s
    (flight,) = event.flights
    period = Period(start_s=begins - 7200.0, end_s=begins + 1800.0)
    tasks = tuple(replace(task, launch_period=period) for task in flight.tasks)
    strict = in_flight(event, tasks=tasks)

    results = score(with_wrong(strict, 3600))

    found = [
        ruled.finding
        for ruled in results.findings
        if ruled.finding.pilot == PILOT and ruled.finding.kind.name == "launch-period"
    ]
    assert [f.verdict for f in found] == [Verdict.POSSIBLE]
    assert math.isinf(summary(results).clock_sigma_s)
    matter = next(m for m in clocks(results) if m.kind is matters.LOG_CLOCK_ALONE)
    right = score(accepted(with_wrong(strict, 3600), matter))
    assert not [r for r in right.findings if r.finding.kind.name == "launch-period"]


def test_times_that_people_noted_tell_how_far_a_clock_is_off(event, plain):
    wrong = noted(with_wrong(event, 420), plain)
    wrong = in_flight(wrong, keyings=noted(event, plain).flights[0].keyings)

    told = next(m for m in clocks(score(wrong)) if m.kind is matters.LOG_CLOCK_WRONG)

    assert told.says.get("off") == pytest.approx(420.0, abs=30.0)
    assert told.says.get("way") == "clock-earlier"


def test_a_clock_that_noted_times_bear_out_is_not_doubted(event, plain):
    assert not any(
        m.kind is matters.LOG_CLOCK_WRONG for m in score(noted(event, plain)).matters
    )


def two_logs(event, seconds):
    own = log_of(event)
    other = filed(own, later(own.blob.data, seconds), "logs/second.igc")
    return in_flight(event, logs=(*event.flights[0].logs, other))


def test_two_logs_that_differ_are_both_doubtful_where_nothing_tells_which_is_right(
    event,
):
    told = clocks(score(two_logs(event, 150)))

    assert [m.says.kind for m in told].count("clock-doubtful") == 2


def test_of_two_logs_the_one_that_the_others_contradict_is_put_right(event):
    told = [m for m in clocks(score(two_logs(event, 5000))) if m.says.get("off")]

    assert [m.says.get("off") for m in told] == [pytest.approx(5000.0, abs=3.0)]
    assert told[0].evidence == ("logs/second.igc",)
