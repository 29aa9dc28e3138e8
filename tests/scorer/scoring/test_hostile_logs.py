"""One log never stops a score: mutated, shuffled, spanning decades, over no terrain."""

import hashlib
import random
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from scorer.event import matters
from scorer.event.model import Blob, LogFile
from scorer.scoring import work
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.tracks.clean import DAY_S, MAX_SPAN_S, clean
from scorer.tracks.phases import find_phases
from scorer.tracks.read import read_log
from scorer.tracks.stands import MOST_STANDS
from tests.bench import hostile
from tests.helpers import said
from tests.scorer.tracks.logs import drift, igc

SEEDS = range(12)


@pytest.fixture(scope="module")
def event():
    return hostile.sample()


def with_logs(event, *datas):
    """Put these logs in the place of all others, each given to a pilot by hand."""
    pilots = [pilot.number for pilot in event.pilots]
    logs = tuple(
        LogFile(
            blob=Blob(
                name=f"logs/hostile-{at}.igc",
                sha256=hashlib.sha256(data).hexdigest(),
                content=data,
            ),
            pilot=pilots[at % len(pilots)],
        )
        for at, data in enumerate(datas)
    )
    return replace(event, flights=(replace(event.flights[0], logs=logs),))


def igc_lines(event):
    """Return the lines of the sample's first IGC log."""
    logs = (log.blob for log in event.flights[0].logs)
    return next(b.data for b in logs if b.name.endswith(".igc")).split(b"\r\n")


def mutated(lines, seed):
    """Do to a log what bad cards, wrong clocks and joined files do, and worse."""
    rng = random.Random(seed)
    lines = lines[:: rng.choice((1, 1, 3, 20))]
    for _ in range(rng.randint(1, 4)):
        at, upto = sorted(rng.choices(range(len(lines) + 1), k=2))
        part = lines[at:upto]
        match rng.randrange(9):
            case 0:
                rng.shuffle(part)
            case 1:
                part = part * rng.randint(0, 3)
            case 2:
                part = [_digits(rng, line) for line in part]
            case 3:
                day = f"{rng.randint(1, 31):02}{rng.randint(1, 12):02}"
                part = [b"HFDTE%s%02d" % (day.encode(), rng.randint(0, 99)), *part]
            case 4:  # one altitude, or both, is constant, wild or away
                part = [_altitude(rng, line) for line in part]
            case 5:  # another place
                way = b"%07d" % rng.randint(0, 8959999)
                part = [line[:7] + way + line[14:] for line in part]
            case 6:
                part = [_cut(rng, line) for line in part]
            case 7:  # standing still
                first = next((p for p in part if p[:1] == b"B"), b"")
                part = [line[:7] + first[7:] for line in part]
            case 8:
                part = part[:: rng.randint(2, 60)]
        lines = [*lines[:at], *part, *lines[upto:]]
    return b"\r\n".join(lines)


def _digits(rng, line):
    if line[:1] != b"B" or rng.random() < 0.5:
        return line
    at = rng.randrange(1, max(len(line), 2))
    return line[:at] + b"%d" % rng.randint(0, 9) + line[at + 1 :]


def _altitude(rng, line):
    if line[:1] != b"B":
        return line
    pressure = rng.choice(
        (line[25:30], b"00000", b"-9999", b"%05d" % rng.randint(0, 99999))
    )
    satellite = rng.choice((line[30:35], b"00000", b"%05d" % rng.randint(0, 99999)))
    return line[:24] + rng.choice((b"A", b"V")) + pressure + satellite + line[35:]


def _cut(rng, line):
    at = rng.randrange(len(line) + 1)
    return line[:at] if rng.random() < 0.3 else line


@pytest.mark.parametrize("seed", SEEDS)
def test_no_mutated_log_stops_a_score_or_makes_the_program_fail(event, seed):
    lines = igc_lines(event)
    results = score(
        with_logs(event, *(mutated(lines, 100 * seed + n) for n in range(4)))
    )

    to_json(results)
    assert not [said(w) for w in results.matters if hostile.FAILS in said(w)]


@pytest.mark.parametrize("seed", range(4))
def test_no_event_of_mutated_logs_in_any_format_stops_a_score(event, seed):
    """More of them: `python -m tests.bench.hostile`."""
    ran = hostile.run(event, seed)

    assert not ran.fails


def test_a_fault_of_the_program_in_one_log_costs_that_log_alone(event, monkeypatch):
    good = b"\r\n".join(igc_lines(event))
    alone = score(with_logs(event, good))
    bad = good.replace(b"\r\n", b"\n")
    real = work.ready_of

    def failing(shared, track):
        if track.name == "logs/hostile-1.igc":
            raise ZeroDivisionError("something unforeseen")
        return real(shared, track)

    monkeypatch.setattr(work, "ready_of", failing)
    results = score(with_logs(event, good, bad))

    (warning,) = [w for w in results.matters if w.kind is matters.LOG_BROKEN]
    assert warning.says.get("log") == "logs/hostile-1.igc"
    assert "something unforeseen" in said(warning)
    assert warning.pilot == event.pilots[1].number
    first = event.pilots[0].number
    kept = [s for t in results.tasks for s in t.scores if s.pilot == first]
    assert kept == [s for t in alone.tasks for s in t.scores if s.pilot == first]


def test_recordings_decades_apart_leave_the_flight_s_own(event):
    lines = igc_lines(event)
    good = b"\r\n".join(lines)
    fixes = [line for line in lines if line[:1] == b"B"]
    old = [b"HFDTE010176", *fixes[::7]]
    both = b"\r\n".join([*lines, *old])
    results = score(with_logs(event, both))

    (log,) = results.flights[0].logs
    (alone,) = score(with_logs(event, good)).flights[0].logs
    assert (log.launch_s, log.landing_s) == (alone.launch_s, alone.landing_s)
    assert any(note.kind == "repair-far-off" for note in log.notes)


def test_a_log_is_cut_to_a_bounded_span_whatever_its_dates():
    track = read_log(igc(*drift(40)), near_date=date(2026, 9, 12), time_zone="UTC")
    far = replace(track, time_s=track.time_s[0] + 91 * DAY_S * np.arange(len(track)))

    cut = clean(replace(far, lat_deg=far.lat_deg * 0 + 41.5))

    assert cut.time_s[-1] - cut.time_s[0] <= MAX_SPAN_S


def test_the_number_of_stands_that_are_looked_at_is_bounded():
    # Every 40 s the logger stands for 40 s, for ten days.
    time = np.arange(0.0, 10 * DAY_S, 4.0)
    east = np.cumsum(np.where((time // 40.0) % 2 == 1, 12.0, 0.0))
    phases = find_phases(
        time_s=time,
        east_m=east,
        north_m=np.zeros_like(time),
        altitude_m=np.full_like(time, 100.0),
        ground_m=np.full_like(time, 100.0),
        noise_m=0.6,
    )

    assert len(phases.stretches) <= MOST_STANDS
