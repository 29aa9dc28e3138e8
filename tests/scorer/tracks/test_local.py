"""Logs with local clocks, and logs without dates, through hard nights.

Expected instants come from `zoneinfo` run the other way: instants are turned into what the
local clocks showed, and reading that must give the instants back.
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from scorer.tracks.igc import read_igc
from scorer.tracks.local import from_local
from scorer.tracks.nmea import read_nmea
from scorer.tracks.order import first_day
from scorer.tracks.table import read_table
from tests.scorer.event.test_moments import LEAP_DAY, NEW_YEAR, ZONES, changes
from tests.scorer.tracks.logs import b_record, blob, gga, igc, kinds

STEP_S = 60


def shown(time_s, zone):
    """Return what local clocks show, in seconds since 1970-01-01 on them."""
    local = [datetime.fromtimestamp(t, UTC).astimezone(zone) for t in time_s]
    return np.array([m.replace(tzinfo=UTC).timestamp() for m in local])


def night(day, zone, hours=10):
    """Return instants, a minute apart, from the evening before a local date on."""
    start = datetime(day.year, day.month, day.day, tzinfo=zone).timestamp()
    return start - 5 * 3600 + np.arange(0.0, hours * 3600, STEP_S)


@pytest.mark.parametrize("name", ZONES)
def test_a_local_clock_gives_every_instant_back_in_hard_nights(name):
    """Both changes of 2026, the ones before them, New Year and the leap day."""
    zone = ZoneInfo(name)
    for day in (*changes(zone), *changes(zone, 2018), NEW_YEAR, LEAP_DAY):
        time_s = night(day, zone)
        read = from_local(shown(time_s, zone), zone)
        np.testing.assert_array_equal(read.time_s, time_s, err_msg=f"{name} {day}")
        assert not (read.doubtful | read.kept).any()


@pytest.mark.parametrize(
    ("name", "day"),
    [
        ("Antarctica/Troll", "2026-10-25"),  # two hours
        ("Europe/Dublin", "2026-10-25"),  # winter time is the exception by law
        ("Africa/Casablanca", "2026-02-15"),  # back for Ramadan
        ("Africa/Casablanca", "2026-03-22"),
        ("Pacific/Apia", "2011-12-31"),  # no 30 December: to the other side of the line
        ("Pacific/Kwajalein", "1993-08-22"),
        ("America/St_Johns", "2006-10-29"),  # at one minute past midnight
        ("Asia/Pyongyang", "2018-05-05"),  # half an hour, at night's end
        ("America/Caracas", "2016-05-01"),
        ("America/Sao_Paulo", "2018-11-04"),  # at midnight
    ],
)
def test_odd_changes_of_odd_zones_give_every_instant_back(name, day):
    zone = ZoneInfo(name)
    time_s = night(date.fromisoformat(day), zone, hours=14)
    read = from_local(shown(time_s, zone), zone)
    np.testing.assert_array_equal(read.time_s, time_s)
    assert len(set(time_s - shown(time_s, zone))) == 2


MADRID = ZoneInfo("Europe/Madrid")
TWICE_S = datetime(2026, 10, 25, 0, 0, tzinfo=UTC).timestamp()
"""02:00 the first time; an hour later the clocks go back (Directive 2000/84/EC)."""


@pytest.mark.parametrize("name", ["Europe/Madrid", "Australia/Lord_Howe"])
@pytest.mark.parametrize("which", [0, 1])
def test_a_log_that_begins_or_ends_within_the_hour_shown_twice(name, which):
    zone = ZoneInfo(name)
    (day,) = (d for d in changes(zone) if _falls_back(d, zone))
    time_s = night(day, zone, hours=12)
    local = shown(time_s, zone)
    fold = np.array(
        [datetime.fromtimestamp(t, UTC).astimezone(zone).fold for t in time_s]
    )
    back = int(np.flatnonzero(fold)[0])
    part = slice(back, None) if which else slice(None, back)

    read = from_local(local[part], zone)

    np.testing.assert_array_equal(read.time_s, time_s[part])
    assert read.told.sum() == (fold.sum())
    assert not read.doubtful.any()


def _falls_back(day, zone):
    start = datetime(day.year, day.month, day.day, tzinfo=zone)
    return start.utcoffset() > (start + timedelta(days=1)).utcoffset()


def test_a_log_wholly_within_the_hour_is_asked_of_the_periods_else_in_doubt():
    time_s = TWICE_S + 3600 + np.arange(600.0, 1800.0, STEP_S)
    local = shown(time_s, MADRID)

    alone = from_local(local, MADRID)
    fitting = from_local(local, MADRID, ((TWICE_S + 3600, TWICE_S + 7200),))

    np.testing.assert_array_equal(alone.time_s, time_s - 3600)
    assert alone.doubtful.all()
    np.testing.assert_array_equal(fitting.time_s, time_s)
    assert fitting.told.all()
    assert not fitting.doubtful.any()


@pytest.mark.parametrize("month", [3, 10])
def test_a_clock_that_nobody_set_keeps_its_offset(month):
    """It runs through the change without a pause, and shows what nobody else sees."""
    days = [d for d in changes(MADRID) if d.month == month]
    time_s = night(days[0] + timedelta(days=0), MADRID, hours=12)
    before = MADRID.utcoffset(datetime.fromtimestamp(time_s[0], MADRID))
    local = time_s + before.total_seconds()

    read = from_local(local, MADRID)

    np.testing.assert_array_equal(read.time_s, time_s)
    assert read.kept.any()


def test_a_pause_within_the_hour_may_hide_the_change():
    time_s = np.r_[
        TWICE_S - 600 : TWICE_S + 900 : 60, TWICE_S + 6000 : TWICE_S + 7800 : 60
    ]

    read = from_local(shown(time_s, MADRID), MADRID)

    np.testing.assert_array_equal(read.time_s, time_s)
    assert read.doubtful.any()


def test_one_garbled_time_in_the_hour_left_out_moves_nothing_else():
    (day,) = (d for d in changes(MADRID) if d.month == 3)
    time_s = night(day, MADRID, hours=12)
    local = shown(time_s, MADRID)
    missing = int(np.argmax(np.diff(local)))
    local = np.insert(local, missing + 1, local[missing] + 1500.0)

    read = from_local(local, MADRID)

    np.testing.assert_array_equal(np.delete(read.time_s, missing + 1), time_s)
    assert not read.kept.any()


def test_a_table_tells_what_became_of_its_local_times():
    time_s = TWICE_S + np.arange(-600.0, 9000.0, 5)
    local = [
        datetime.fromtimestamp(t, MADRID).strftime("%Y-%m-%d %H:%M:%S") for t in time_s
    ]
    rows = "".join(f"{text},41.5,{-3.2 + i * 1e-5}\n" for i, text in enumerate(local))

    track = read_table(
        blob("1.csv", f"local time,lat,lon\n{rows}"), time_zone="Europe/Madrid"
    )

    np.testing.assert_array_equal(track.time_s, time_s)
    assert kinds(track) == {"doubled-hour": 7200 // 5}


def test_one_date_throughout_is_that_of_the_first_fix():
    text = "date,time,lat,lon\n2026-06-01,23:59:59,41,-3\n2026-06-01,00:00:00,41,-3\n"

    track = read_table(blob("1.csv", text))

    assert track.start_s == datetime(2026, 6, 1, 23, 59, 59, tzinfo=UTC).timestamp()
    assert track.end_s - track.start_s == 1


# Of a log without dates: local begin, length in hours, launch period in local time.
UNDATED = {
    "morning": ("05:30", 3, ("06:30", "07:30")),
    "evening": ("17:00", 4, ("18:00", "19:00")),
    "over midnight": ("22:40", 4, ("23:30", "00:30")),
    "after midnight": ("23:50", 3, ("00:10+1", "01:00+1")),
    "a race after midnight": ("00:05+1", 62, ("21:00", "00:30")),
    "two nights": ("19:00", 50, ("20:00", "21:00")),
}


@pytest.mark.parametrize("name", ZONES)
@pytest.mark.parametrize("day", [date(2026, 6, 1), date(2025, 12, 31), LEAP_DAY])
@pytest.mark.parametrize("kind", UNDATED)
def test_a_log_without_dates_is_of_the_day_of_its_periods_in_every_zone(
    name, day, kind
):
    zone = ZoneInfo(name)
    begin, hours, period = UNDATED[kind]

    def local(text):
        clock, _, days = text.partition("+")
        moment = datetime.fromisoformat(f"{day} {clock}").replace(tzinfo=zone)
        return (moment + timedelta(days=int(days or 0))).timestamp()

    start = local(begin)  # of the flight's date, or the day after
    opens, closes = local(period[0]), local(period[1])
    closes += 86_400 if closes < opens else 0
    time_s = start + np.arange(0.0, hours * 3600, 300)
    running = time_s - start + start % 86_400

    found = first_day(running, day, name, ((opens, closes),))

    assert found * 86_400 == start - start % 86_400


def _undated(time_s):
    """Write fixes as IGC, NMEA and tables without dates."""
    moments = [datetime.fromtimestamp(t, UTC) for t in time_s]
    yield read_igc, igc(*(b_record(f"{m:%H%M%S}") for m in moments), head=("AXYZ4F7",))
    yield read_nmea, blob("1.nmea", "\n".join(gga(f"{m:%H%M%S}.00") for m in moments))
    rows = "".join(f"{m:%H:%M:%S},41.5,-3.2\n" for m in moments)
    yield read_table, blob("1.csv", f"time,lat,lon\n{rows}")
    kiritimati = ZoneInfo("Pacific/Kiritimati")
    rows = "".join(f"{m.astimezone(kiritimati):%H:%M:%S},41.5,-3.2\n" for m in moments)
    yield read_table, blob("2.csv", f"local time,lat,lon\n{rows}")


def test_all_formats_date_a_log_without_dates_alike():
    """At the date line, past midnight of both clocks: UTC+14 has no change of clocks."""
    zone = ZoneInfo("Pacific/Kiritimati")
    opens = datetime(2026, 1, 1, 0, 10, tzinfo=zone).timestamp()
    time_s = opens + np.arange(-1800.0, 16 * 3600, 60)
    for read, log in _undated(time_s):
        track = read(
            log,
            near_date=date(2025, 12, 31),
            time_zone=str(zone),
            periods=((opens, opens + 3000),),
        )
        np.testing.assert_array_equal(track.time_s, time_s)
        assert "date-assumed" in kinds(track)


@pytest.mark.parametrize("undated", [False, True])
def test_times_without_a_zone_are_local_where_only_that_fits_the_flight(undated):
    """Tonga, UTC+13: 06:10 local is 17:10 UTC of the day before."""
    zone = ZoneInfo("Pacific/Tongatapu")
    opens = datetime(2026, 6, 1, 6, tzinfo=zone).timestamp()
    time_s = opens + np.arange(600.0, 3600.0, 60)
    form = "%H:%M:%S" if undated else "%Y-%m-%d %H:%M:%S"
    local = [datetime.fromtimestamp(t, zone).strftime(form) for t in time_s]
    world = [datetime.fromtimestamp(t, UTC).strftime(form) for t in time_s]
    near = {
        "near_date": date(2026, 6, 1),
        "time_zone": str(zone),
        "periods": ((opens, opens + 3600.0),),
    }
    for texts, kind in ((local, "zone-assumed"), (world, "no-zone")):
        rows = "".join(f"{text},-21.1,-175.2\n" for text in texts)
        track = read_table(blob("1.csv", f"time,lat,lon\n{rows}"), **near)
        np.testing.assert_array_equal(track.time_s, time_s)
        assert kind in kinds(track)
