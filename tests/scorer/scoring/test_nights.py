"""Whole events with logs at hard hours: past midnight, in the wrong folder, of no date."""

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from scorer.event.build import build_event
from scorer.event.finding import Verdict
from scorer.event.raw import RawLog
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight, tiny_raw, wgs84
from tests.scorer.tracks.logs import blob

SPEED_M_S = 4.0


def near(spot, east_m):
    """Return [lon, lat] of a point east of a place, within the circle of degrees."""
    lat, lon = spot
    there = lon + east_m / (111_320.0 * np.cos(np.radians(lat)))
    return (there + 180.0) % 360.0 - 180.0, lat


def logged(
    start_s,
    *,
    name="logs/1.csv",
    dated="utc",
    zone="UTC",
    minutes=40,
    delay_m=0.0,
    around=None,
):
    """Write a flight past the target: ten minutes on the ground, up, along, and down."""
    n = minutes * 12
    time = start_s + 5.0 * np.arange(n)
    up = np.clip((np.arange(n) - 120) / 40, 0, 1) * np.clip(
        (n - 30 - np.arange(n)) / 40, 0, 1
    )
    way = np.cumsum(np.where(up > 0, SPEED_M_S * 5.0, 0.0))
    rows = []
    for moment, height, east in zip(time, 200 * up, way - way[-1] / 2, strict=True):
        lon, lat = wgs84(east - delay_m, 40.0) if around is None else near(around, east)
        local = datetime.fromtimestamp(
            moment, ZoneInfo(zone) if dated == "local" else UTC
        )
        shown = {
            "utc": f"{local:%Y-%m-%dT%H:%M:%SZ}",
            "local": f"{local:%Y-%m-%d %H:%M:%S}",
            "none": f"{local:%H:%M:%S}",
        }[dated]
        rows.append(f"{shown},{lat:.7f},{lon:.7f},{height:.1f}")
    head = "local time" if dated == "local" else "time"
    text = "\n".join([f"{head},lat,lon,alt", *rows, ""])
    return RawLog(blob=blob(name, text), pilot=1)


def night(launch, scoring, *logs, name="f1", number=1, day="2026-06-01", marks=""):
    tasks = FIN.replace("number = 1", f"number = {number}")
    tasks += f"launch_period = {launch}\n" if launch else ""
    tasks += f"scoring_period = {scoring}\n" if scoring else ""
    flight = tiny_flight(name, tasks=tasks, day=day, marks=marks)
    return replace(flight, logs=tuple(logs))


def at(text, zone="UTC"):
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).timestamp()


def clocks(results):
    return [m for m in results.matters if str(m.kind.name) == "log-clock"]


def launches(results):
    return {
        r.finding.pilot: r.finding
        for r in results.findings
        if str(r.finding.kind) == "launch-period"
    }


@pytest.mark.parametrize(
    "zone", ["Pacific/Kiritimati", "Pacific/Pago_Pago", "Asia/Kathmandu"]
)
@pytest.mark.parametrize("dated", ["utc", "local", "none"])
def test_a_launch_after_midnight_is_of_its_flight_in_every_zone(zone, dated):
    """Launch about 00:20 of the night after the flight's date, period 00:10 to 01:00."""
    start = at("2026-06-02T00:09:30", zone)
    flight = night(
        '["00:10+1", "01:00+1"]', None, logged(start, dated=dated, zone=zone)
    )
    results = score(tiny(flight, time_zone=zone))
    assert clocks(results) == []
    assert launches(results) == {}
    (log,) = results.flights[0].logs
    assert log.launch_s == pytest.approx(start + 600, abs=60)


MORNING = ('["06:00", "07:00"]', '["06:00", "08:00"]')
EVENING = ('["18:00", "19:00"]', '["18:00", "20:00"]')


def two_flights(*morning_logs, evening_day="2026-06-01"):
    evening = night(*EVENING, name="f2", number=2, day=evening_day)
    return score(tiny(night(*MORNING, *morning_logs), evening))


@pytest.mark.parametrize("dated", ["utc", "none"])
@pytest.mark.parametrize("day", ["2026-06-01", "2026-06-03"])
def test_a_log_in_the_wrong_flight_names_the_flight_it_fits(dated, day):
    results = two_flights(logged(at(f"{day}T18:10:00"), dated=dated), evening_day=day)
    (told,) = clocks(results)
    assert told.says.kind == "clock-fits-other"
    assert "fits flight f2" in said(told)
    assert told.flight == "f1"
    assert {f.verdict for f in launches(results).values()} == {Verdict.POSSIBLE}


def test_the_right_one_of_two_logs_leads_though_it_is_shorter():
    morning = logged(at("2026-06-01T06:10:00"), name="logs/a.csv", minutes=30)
    evening = logged(at("2026-06-01T18:10:00"), name="logs/b.csv", minutes=60)
    for logs in ((morning, evening), (evening, morning)):
        results = two_flights(*(replace(one, pilot=1) for one in logs))
        assert clocks(results) == []
        assert launches(results) == {}


def test_a_late_launch_by_a_good_clock_is_certain_and_by_a_doubtful_one_possible():
    """Launch at about 02:40 of the second hour, when the period is over at 01:30 local.

    Madrid, 25 October 2026: a log wholly within the doubled hour does not tell which.
    """
    zone, day = "Europe/Madrid", "2026-10-25"
    start = datetime(2026, 10, 25, 1, 5, tzinfo=UTC).timestamp()
    period, scoring = '["00:30", "01:30"]', '["00:30", "05:00"]'
    sure = night(period, scoring, logged(start), day=day)
    loose = night(period, scoring, logged(start, dated="local", zone=zone), day=day)

    certain = launches(score(tiny(sure, time_zone=zone)))[1]
    possible = launches(score(tiny(loose, time_zone=zone)))[1]

    assert certain.verdict is Verdict.CERTAIN
    assert possible.verdict is Verdict.POSSIBLE
    assert "The clock of the log is in doubt." in said(possible.says)


def test_a_task_over_two_mornings_is_judged_on_both():
    """One period from the first morning to the second: logs of both are of the flight."""
    for day in ("2026-06-01", "2026-06-02"):
        flight = night(
            '["06:00", "07:00+1"]',
            '["06:00", "08:00+1"]',
            logged(at(f"{day}T06:10:00")),
        )
        results = score(tiny(flight))
        assert clocks(results) == []
        assert launches(results) == {}


def test_noted_times_stay_certain_by_a_doubtful_clock():
    """What an official wrote down does not hang on the log."""
    marks = "task,pilot,method,distance,bearing,time,by\n1,1,polar,1.00,0,09:45,Eva\n"
    flight = night(*MORNING, logged(at("2026-06-03T06:10:00")), marks=marks)
    results = score(tiny(flight))
    (told,) = clocks(results)
    assert told.says.kind == "clock-dated-late"
    verdicts = {str(r.finding.kind): r.finding.verdict for r in results.findings}
    assert verdicts["scoring-period"] is Verdict.CERTAIN
    assert verdicts.get("launch-period") is Verdict.POSSIBLE


RTA = """[[task]]
number = 1
kind = "RTA"
scoring_area = "area"
launch_period = ["06:00", "06:30"]
start = "06:00"
"""


@pytest.mark.parametrize(("rules", "equal"), [("", True), ("time_decimals = 2", False)])
def test_races_count_whole_seconds_unless_the_book_says_otherwise(rules, equal):
    """Three flights alike whose logs begin parts of a second apart."""
    start = at("2026-06-01T06:00:00")
    logs = [
        replace(logged(start, name=f"logs/{n}.csv", delay_m=0.5 * n), pilot=n)
        for n in (1, 2, 3)
    ]
    flight = replace(tiny_flight(tasks=RTA), logs=tuple(logs))
    own = f'book = "festival"\n[results]\n{rules}\n'
    results = score(
        tiny(
            flight,
            rules=own
            + '[contact]\nwithin = "scoring-area"\n[floor]\nheight = "none"\nwithin = "none"\n',
        )
    )
    scores = [s for s in results.tasks[0].scores if s.pilot < 4]
    assert all(s.result is not None for s in scores)
    assert (len({s.result for s in scores}) == 1) is equal
    assert (len({s.score for s in scores}) == 1) is equal


def far_away(where, launch, scoring, *logs, marks="", rules=""):
    """Make an event of the four pilots at a target anywhere."""
    zone, crs, spot, day = where
    lat, lon = spot
    target = {
        "type": "Feature",
        "properties": {"name": "T", "kind": "target"},
        "geometry": {"type": "Point", "coordinates": [lon, lat]},
    }
    flight = night(launch, scoring, *logs, day=day, marks=marks)
    del flight.settings["task"][0]["scoring_area"]
    raw = tiny_raw(
        flight,
        rules=RULES.replace("scoring-area", "none") + rules,
        time_zone=zone,
        crs=crs,
        distance="ground",
    )
    return score(build_event(replace(raw, places=(target,))))


NIGHT = '[night]\nbefore_sunrise = "0 s"\nafter_sunset = "0 s"\n'
# Zone, reference system, target, date, begin of the log, launch and scoring period; the
# sun is up all night (78 N in June), sets at about half past midnight (68 N in late May:
# 22:32 UTC by the almanac of astral), or has set long ago (the date line).
HARD = [
    (
        ("Arctic/Longyearbyen", "EPSG:32633", (78.2, 15.6), "2026-06-20"),
        ("2026-06-21T00:00", '["00:05+1", "01:00+1"]', '["00:05+1", "02:00+1"]'),
        set(),
    ),
    (
        ("Europe/Oslo", "EPSG:32633", (68.4, 17.4), "2026-05-25"),
        ("2026-05-25T23:20", '["23:25", "00:20"]', '["23:25", "01:00"]'),
        set(),
    ),
    (
        ("Pacific/Fiji", "EPSG:3460", (-16.8, 179.9995), "2026-12-31"),
        ("2026-12-31T23:30", '["23:35", "00:30"]', '["23:35", "01:30"]'),
        {"night"},
    ),
]


@pytest.mark.parametrize(("where", "when", "expected"), HARD)
@pytest.mark.parametrize("dated", ["utc", "local", "none"])
def test_flights_at_midnight_near_the_pole_and_at_the_date_line(
    where, when, expected, dated
):
    zone, _, spot, _ = where
    begin, launch, scoring = when
    start = at(begin, zone)
    log = logged(start, dated=dated, zone=zone, around=spot)
    results = far_away(where, launch, scoring, log, rules=NIGHT)
    (summary,) = results.flights[0].logs
    assert summary.launch_s == pytest.approx(start + 600, abs=60)
    assert clocks(results) == []
    assert launches(results) == {}
    assert {str(r.finding.kind) for r in results.findings} == expected


def test_a_mark_on_the_other_side_of_the_date_line_is_as_far_as_the_geodesic():
    """Against geographiclib, on the ellipsoid at sea level."""
    geodesic = pytest.importorskip("geographiclib.geodesic").Geodesic.WGS84
    zone, _, spot, _ = where = HARD[2][0]
    lat, lon = -16.8003, -179.9991
    marks = f"task,pilot,method,lat,lon,time,by\n1,1,latlon,{lat},{lon},00:10,Eva\n"
    results = far_away(where, '["23:35", "00:30"]', '["23:35", "01:30"]', marks=marks)
    own = next(s for s in results.tasks[0].scores if s.pilot == 1)
    assert own.measured == pytest.approx(
        geodesic.Inverse(*spot, lat, lon)["s12"], abs=1e-3
    )
    assert own.marks[0].time_s == at("2027-01-01T00:10", zone)
