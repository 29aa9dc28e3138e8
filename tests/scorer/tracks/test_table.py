from datetime import UTC, date, datetime

import numpy as np
import pytest

from scorer.errors import InputError
from scorer.tracks.read import read_log
from tests.scorer.tracks.logs import START_S, blob, kinds

ROWS = "2026-09-12T06:41:12Z,41.5,-3.2,640\n2026-09-12T06:41:13Z,41.6,-3.3,641.5\n"


def read(text, **settings):
    return read_log(blob("012.csv", text), **settings)


def test_columns_are_found_by_name():
    track = read(
        "lon,satellites,TIME,Latitude,Altitude (m)\n-3.2,9,2026-09-12T06:41:12Z,41.5,640\n"
    )

    assert track.time_s.tolist() == [START_S]
    assert (track.lat_deg[0], track.lon_deg[0], track.gnss_alt_m[0]) == (
        41.5,
        -3.2,
        640,
    )
    assert track.satellites.tolist() == [9]
    assert track.format == "csv"


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_comma_semicolon_and_tab_part_columns(sign):
    track = read(("time,lat,lon,alt\n" + ROWS).replace(",", sign))

    np.testing.assert_array_equal(track.gnss_alt_m, [640, 641.5])


def test_decimals_may_have_a_comma_where_columns_do_not():
    track = read("time;lat;lng;ele\n2026-09-12 06:41:12;41,5;-3,2;640,25\n")

    assert (track.lat_deg[0], track.gnss_alt_m[0]) == (41.5, 640.25)


@pytest.mark.parametrize(
    "written",
    [
        "2026-09-12T06:41:12Z",
        "2026-09-12 06:41:12",
        "2026/09/12 06:41:12",
        "2026-09-12T08:41:12+02:00",
        "12.09.2026 06:41:12",
        "1789195272",
        "1789195272000",
        "06:41:12",
        "6:41:12",
        "064112",
    ],
)
def test_many_ways_to_write_a_time_are_read(written):
    """1789195272 is 2026-09-12 06:41:12 UTC by `date -u -d @1789195272`."""
    track = read(f"time,lat,lon\n{written},41.5,-3.2\n", near_date=date(2026, 9, 12))

    assert track.start_s == START_S


def test_a_date_column_dates_the_time_column():
    track = read("date,time,lat,lon\n2026-09-12,6:41:12,41.5,-3.2\n")

    assert track.start_s == START_S


def test_local_times_need_the_event_s_time_zone():
    text = "Local time,lat,lon\n2026-09-12 08:41:12,41.5,-3.2\n"

    assert read(text, time_zone="Europe/Madrid").start_s == START_S
    with pytest.raises(
        InputError, match="local times; allowed: times in UTC, or an event"
    ):
        read(text)


def test_local_times_across_the_end_of_summer_time():
    """Madrid's clocks went from 03:00 back to 02:00 on 2026-10-25 (EU directive 2000/84)."""
    text = "local time,lat,lon\n2026-10-25 01:59:59,41,-3\n2026-10-25 03:00:00,41,-3\n"

    track = read(text, time_zone="Europe/Madrid")

    assert track.time_s.tolist() == [
        datetime(2026, 10, 24, 23, 59, 59, tzinfo=UTC).timestamp(),
        datetime(2026, 10, 25, 2, 0, 0, tzinfo=UTC).timestamp(),
    ]


def test_local_clocks_take_the_flight_s_local_date():
    text = "local time,lat,lon\n08:41:12,41.5,-3.2\n"

    track = read(text, near_date=date(2026, 9, 12), time_zone="Europe/Madrid")

    assert track.start_s == START_S


def test_a_clock_without_a_date_is_refused_with_its_line():
    with pytest.raises(InputError, match=r'012.csv, line 2, time: found "06:41:12"'):
        read("time,lat,lon\n06:41:12,41.5,-3.2\n")


def test_clocks_pass_midnight():
    text = "time,lat,lon\n23:59:59,41,-3\n00:00:00,41,-3\n"

    track = read(text, near_date=date(2026, 9, 12), time_zone="America/Regina")

    np.testing.assert_array_equal(np.diff(track.time_s), [1])


def test_feet_become_metres():
    track = read(
        "time,lat,lon,alt_ft,pressure altitude ft\n"
        + ROWS.split("\n", maxsplit=1)[0]
        + ",1000\n"
    )

    assert track.gnss_alt_m[0] == pytest.approx(640 * 0.3048)
    assert track.pressure_alt_m[0] == pytest.approx(304.8)


def test_comments_quotes_and_blank_lines_are_understood():
    text = '# a note\n\n"time","lat","lon"\n\n"2026-09-12T06:41:12Z","41.5","-3.2"\n# end\n'

    assert len(read(text)) == 1


def test_rows_that_cannot_be_read_are_recorded():
    text = (
        f"time,lat,lon,alt\n{ROWS}cut,4\nx,41,-3,1\n2026-09-12T06:41:15Z,north,-3,1\n"
    )

    track = read(text)

    assert len(track) == 2
    assert kinds(track) == {"garbled-line": 1, "no-time": 1, "bad-position": 1}
    assert [r.first_line for r in track.repairs] == [4, 5, 6]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("lat,lon\n41,-3\n", "no column of times"),
        ("time,lat,lon\n", "no fix"),
        ("time,lat,lon\nx,y,z\n", r"no usable fix \(1 × no time"),
        ("easting,northing\n1,2\n", "no row that names columns"),
    ],
)
def test_tables_that_are_no_track_are_refused_with_the_reason(text, reason):
    with pytest.raises(InputError, match=reason):
        read(text)
