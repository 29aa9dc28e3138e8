"""Checksum and fields are those of NMEA 0183, as pynmea2 reads it; decoded answers are
gpsd's."""

import json
from datetime import UTC, date, datetime

import numpy as np
import pynmea2
import pytest

from scorer.errors import InputError
from scorer.tracks.fixes import UERE_M
from scorer.tracks.nmea import read_nmea
from scorer.tracks.order import DAY_S, WEEK_ROLLOVER_DAYS
from scorer.tracks.track import Datum
from tests.helpers import shared_file
from tests.scorer.tracks.logs import (
    START_S,
    blob,
    clock,
    gga,
    kinds,
    rmc,
    sentence,
    shared_blob,
)


def nmea(*sentences, end="\r\n"):
    return blob("12.nmea", end.join([*sentences, ""]))


def test_checksum_of_a_published_sentence():
    """The example of gpsd's description of NMEA (gpsd.io/NMEA.html), RMC."""
    body = "GPRMC,225446,A,4916.45,N,12311.12,W,000.5,054.7,191194,020.3,E"
    published = f"${body}*68"

    assert sentence(body) == published
    track = read_nmea(nmea(published))
    assert track.start_s == datetime(1994, 11, 19, 22, 54, 46, tzinfo=UTC).timestamp()
    assert track.lat_deg[0] == pytest.approx(49 + 16.45 / 60, abs=1e-12)
    assert track.lon_deg[0] == pytest.approx(-(123 + 11.12 / 60), abs=1e-12)
    assert not track.repairs


def test_gga_and_rmc_of_one_moment_make_one_fix():
    track = read_nmea(nmea(gga(), rmc()))

    assert track.time_s.tolist() == [START_S]
    assert track.lat_deg[0] == pytest.approx(41 + 30.1234 / 60, abs=1e-12)
    assert track.lon_deg[0] == pytest.approx(-(3 + 12.3456 / 60), abs=1e-12)
    assert track.gnss_alt_m.tolist() == [640.5]
    assert track.gnss_datum == Datum.GEOID
    assert track.satellites.tolist() == [9]
    assert track.accuracy_m[0] == pytest.approx(1.2 * UERE_M)
    assert track.valid_3d.tolist() == [True]


@pytest.mark.parametrize("talker", ["GP", "GN", "GL", "GA", "BD"])
def test_any_talker_is_read(talker):
    log = nmea(sentence(talker + gga()[3:-3]), sentence(talker + rmc()[3:-3]))

    assert len(read_nmea(log)) == 1


def test_rmc_alone_gives_fixes_without_altitude():
    track = read_nmea(nmea(rmc(), rmc("064113.00")))

    assert len(track) == 2
    assert np.isnan(track.gnss_alt_m).all()
    assert not track.valid_3d.any()


def test_a_date_that_comes_late_dates_what_came_before():
    log = nmea(gga("064112.00"), gga("064113.00"), gga("064114.00"), rmc("064114.00"))

    np.testing.assert_array_equal(read_nmea(log).time_s - START_S, [0, 1, 2])


def test_zda_dates_a_log_without_rmc():
    zda = sentence("GPZDA,064112.00,12,09,2026,00,00")

    assert read_nmea(nmea(gga(), zda)).start_s == START_S


def test_time_goes_on_over_midnight_whether_dated_or_not():
    clocks = ["235958.00", "235959.00", "000000.00", "000001.00"]
    last = rmc(clocks[3], date="130926")
    log = nmea(*map(gga, clocks), last)

    np.testing.assert_array_equal(np.diff(read_nmea(log).time_s), [1, 1, 1])
    assert (
        read_nmea(log).end_s == datetime(2026, 9, 13, 0, 0, 1, tzinfo=UTC).timestamp()
    )


def test_without_any_date_the_flight_s_counts_and_is_recorded():
    log = nmea(gga(), gga("064113.00"))

    track = read_nmea(log, near_date=date(2026, 9, 12))

    assert track.start_s == START_S
    assert kinds(track) == {"date-assumed": 1}
    with pytest.raises(InputError, match="no sentence with a date"):
        read_nmea(log)


def test_a_wrong_checksum_costs_that_sentence_and_is_recorded():
    bad = gga("064113.00").replace("4130", "4131")

    track = read_nmea(nmea(gga(), rmc(), bad, gga("064114.00")))

    assert len(track) == 2
    assert kinds(track) == {"bad-checksum": 1}
    assert track.repairs[0].first_line == 3


def test_a_sentence_cut_off_is_not_half_read():
    cut = gga("064113.00")[:25]

    track = read_nmea(nmea(gga(), rmc(), cut))

    assert len(track) == 1
    assert kinds(track) == {"cut-sentence": 1}


def test_a_log_without_any_checksum_is_read_and_said_so():
    track = read_nmea(nmea(gga()[:-3], rmc()[:-3]))

    assert len(track) == 1
    assert kinds(track) == {"no-checksum": 2}


@pytest.mark.parametrize(
    "sentences",
    [
        [gga(quality=0), rmc()],
        [gga(quality=6), rmc()],
        [gga(quality=7), rmc()],
        [gga(quality=8), rmc()],
        [gga(), rmc(status="V")],
        [rmc(tail=",,,E")],
        [rmc(tail=",,,S")],
        [gga(lat=",", lon=","), rmc(lat=",", lon=",")],
    ],
)
def test_positions_that_were_not_measured_are_no_fixes(sentences):
    track = read_nmea(nmea(*sentences, gga("064120.00"), rmc("064120.00")))

    assert len(track) == 1
    assert kinds(track) == {"no-position": 1}


def test_a_date_without_a_fix_is_not_believed():
    log = nmea(rmc("000000.00", status="V", date="060180"), gga(), rmc())

    assert read_nmea(log).start_s == START_S


def test_gsa_tells_of_two_dimensions():
    gsa = sentence("GPGSA,A,2,01,02,03,,,,,,,,,,2.0,1.2,1.0")

    track = read_nmea(nmea(gga(), gsa, rmc(), gga("064113.00")))

    assert track.valid_3d.tolist() == [False, True]


def test_gst_gives_the_accuracy_where_there_is_one():
    gst = sentence("GPGST,064112.00,1.0,,,,3.0,4.0,6.5")

    track = read_nmea(nmea(gga(), rmc(), gst, gga("064113.00")))

    np.testing.assert_allclose(track.accuracy_m, [5, 1.2 * UERE_M])
    np.testing.assert_array_equal(track.vertical_accuracy_m, [6.5, np.nan])


def test_parts_of_a_second_are_kept():
    log = nmea(
        *(
            s
            for t in ("06.20", "06.40", "06.60")
            for s in (gga(f"0641{t}"), rmc(f"0641{t}"))
        )
    )

    np.testing.assert_allclose(np.diff(read_nmea(log).time_s), 0.2, atol=1e-6)


@pytest.mark.parametrize("end", ["\r\n", "\n", "\r", "", "  \n"])
def test_any_line_end_is_read(end):
    assert len(read_nmea(nmea(gga(), rmc(), gga("064113.00"), end=end))) == 2


def test_agrees_with_pynmea2_on_an_invented_log():
    clocks = [f"{clock(i)}.00" for i in range(200)]
    lines = [
        line
        for i, t in enumerate(clocks)
        for line in (
            gga(
                t,
                lat=f"4130.{i:04d},N",
                lon=f"00312.{i:04d},W",
                alt=f"{640 + i / 10:.1f}",
            ),
            rmc(t, lat=f"4130.{i:04d},N", lon=f"00312.{i:04d},W"),
        )
    ]

    track = read_nmea(nmea(*lines))

    expected = [pynmea2.parse(line, check=True) for line in lines[::2]]
    np.testing.assert_allclose(
        track.lat_deg, [m.latitude for m in expected], atol=1e-12
    )
    np.testing.assert_allclose(
        track.lon_deg, [m.longitude for m in expected], atol=1e-12
    )
    assert track.gnss_alt_m.tolist() == [m.altitude for m in expected]


def answers(path):
    """Return gpsd's fixes with a time, by that time; the last report of each counts.

    gpsd's own answers carry a week rollover for old logs: times are compared modulo that.
    """
    fixes = {}
    for line in path.read_text().splitlines():
        if '"TPV"' not in line:
            continue
        fix = json.loads(line)
        if "time" in fix and "lat" in fix:
            moment = datetime.fromisoformat(fix["time"]).timestamp()
            fixes.setdefault(
                round(moment % (WEEK_ROLLOVER_DAYS * DAY_S), 3), {}
            ).update(fix)
    return fixes


@pytest.mark.parametrize(
    "name",
    [
        "foretrex-201",
        "garmin25lp",
        "haicom-305N",
        "iTrek",
        "nmea-fuzzy-cases",
        "nmea-rtk",
        "quectelLC79D",
        "ublox-neo-m9n-nmea",
    ],
)
def test_agrees_with_gpsd_on_real_logs(name):
    """gpsd prints 9 decimals of a degree and 4 of a metre; it may miss the last moment."""
    path = shared_file(f"nmea/gpsd/{name}.log")
    expected = answers(path.with_name(f"{name}.log.chk"))

    track = read_nmea(shared_blob(path))

    times = (track.time_s % (WEEK_ROLLOVER_DAYS * DAY_S)).round(3).tolist()
    assert expected.keys() <= set(times)
    assert len(set(times) - expected.keys()) <= 1
    for i, moment in enumerate(times):
        if moment in expected:
            fix = expected[moment]
            assert track.lat_deg[i] == pytest.approx(fix["lat"], abs=6e-10)
            assert track.lon_deg[i] == pytest.approx(fix["lon"], abs=6e-10)
            if track.valid_3d[i] and "altMSL" in fix:
                assert track.gnss_alt_m[i] == pytest.approx(fix["altMSL"], abs=6e-5)


def test_a_simulated_log_is_no_evidence():
    log = shared_blob(shared_file("nmea/gpsd/GPSmap-76S.log"))

    with pytest.raises(InputError, match=r"no usable fix \(\d+ × no position\)"):
        read_nmea(log)
