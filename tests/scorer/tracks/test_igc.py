"""IGC facts are those of the FAI IGC technical specification for GNSS flight recorders,
appendix A (the data file standard), from memory; records are named by their letters, and
aerofiles reads the same files."""

import io
from datetime import UTC, date, datetime

import aerofiles.igc
import numpy as np
import pytest

from scorer.errors import InputError
from scorer.tracks.igc import read_igc
from scorer.tracks.track import Datum
from tests.helpers import SHARED, said, shared_file
from tests.scorer.tracks.logs import (
    START_S,
    b_record,
    blob,
    clock,
    drift,
    igc,
    kinds,
    shared_blob,
)

REAL = sorted(path.name for path in (SHARED / "igc").glob("*/*.igc"))


def test_a_b_record_gives_time_place_and_both_altitudes():
    track = read_igc(igc(b_record()))

    assert track.time_s.tolist() == [START_S]
    assert track.lat_deg[0] == pytest.approx(41 + 30.123 / 60, abs=1e-12)
    assert track.lon_deg[0] == pytest.approx(-(3 + 12.345 / 60), abs=1e-12)
    assert track.pressure_alt_m.tolist() == [640]
    assert track.gnss_alt_m.tolist() == [695]
    assert track.valid_3d.tolist() == [True]
    assert track.format == "igc"


def test_south_and_east_have_their_signs():
    track = read_igc(igc(b_record(lat="3839773S", lon="17608501E")))

    assert track.lat_deg[0] == pytest.approx(-(38 + 39.773 / 60))
    assert track.lon_deg[0] == pytest.approx(176 + 8.501 / 60)


def test_altitudes_below_zero_have_a_minus_in_the_first_place():
    track = read_igc(igc(b_record(pressure="-0012", gnss="-0007"), *drift(2)[1:]))

    assert track.pressure_alt_m[0] == -12
    assert track.gnss_alt_m[0] == -7


@pytest.mark.parametrize("written", ["  640", "0 640", "ABCDE", "0-640"])
def test_an_unreadable_altitude_is_absent_and_recorded(written):
    track = read_igc(igc(b_record(pressure=written), *drift(2)[1:]))

    assert np.isnan(track.pressure_alt_m[0])
    assert track.gnss_alt_m[0] == 695
    assert kinds(track) == {"garbled-altitude": 1}


@pytest.mark.parametrize(
    "line",
    [
        "HFDTE120926",
        "HFDTEDATE:120926",
        "HFDTEDATE: 120926,01",
        "HPDTE120926",
    ],
)
def test_both_forms_of_the_date_record_are_read(line):
    assert read_igc(igc(b_record(), head=("AXYZ4F7", line))).start_s == START_S


def test_an_impossible_date_is_recorded_and_another_one_counts():
    log = igc(b_record(), head=("AXYZ4F7", "HFDTE000000", "HFDTE120926"))

    track = read_igc(log)

    assert track.start_s == START_S
    assert track.repairs[0].kind == "bad-date"
    assert track.repairs[0].first_line == 2


def test_a_log_without_a_date_is_refused_by_itself():
    with pytest.raises(InputError, match=r"012\.igc, HFDTE: found no date record"):
        read_igc(igc(b_record(), head=("AXYZ4F7",)))


def test_a_log_without_a_date_takes_that_of_the_flight_and_says_so():
    track = read_igc(igc(b_record(), head=()), near_date=date(2026, 9, 12))

    assert track.start_s == START_S
    assert track.repairs[0].says.get("day") == "2026-09-12"
    assert "dated by the flight, 12 Sep" in said(track.repairs[0])


def test_a_local_date_may_be_another_day_in_utc():
    # 06:41 UTC is 18:41 in Auckland; 20:41 UTC of the 11th is 08:41 there on the 12th.
    log = igc(b_record("204112"), head=())

    track = read_igc(log, near_date=date(2026, 9, 12), time_zone="Pacific/Auckland")

    assert track.start_s == datetime(2026, 9, 11, 20, 41, 12, tzinfo=UTC).timestamp()


def test_a_week_number_rollover_is_put_right_and_recorded():
    # 1024 weeks before 2026-09-12 is 2007-01-27 (IS-GPS-200: the week number has 10 bits).
    log = igc(*drift(2), head=("AXYZ4F7", "HFDTE270107"))

    track = read_igc(log, near_date=date(2026, 9, 12))

    assert track.start_s == START_S
    assert kinds(track) == {"week-rollover": 2}
    assert track.repairs[0].says.get("added") == 7168 * 86400.0
    assert "7168 d added" in said(track.repairs[0])


def test_another_wrong_date_is_left_as_it_is():
    track = read_igc(
        igc(*drift(2), head=("AXYZ4F7", "HFDTE110926")), near_date=date(2026, 9, 12)
    )

    assert track.start_s == START_S - 86_400
    assert not track.repairs


def test_time_goes_on_over_utc_midnight():
    late = datetime(2026, 9, 12, 23, 59, 58, tzinfo=UTC)

    track = read_igc(igc(*drift(5, late)))

    np.testing.assert_array_equal(track.time_s - late.timestamp(), np.arange(5))


def test_a_new_date_record_after_midnight_is_not_counted_twice():
    late = datetime(2026, 9, 12, 23, 59, 58, tzinfo=UTC)
    lines = drift(5, late)

    track = read_igc(igc(*lines[:2], "HFDTE130926", *lines[2:]))

    np.testing.assert_array_equal(track.time_s - late.timestamp(), np.arange(5))


def test_one_garbled_hour_does_not_move_the_rest_to_another_day():
    """A slip to 23 h amid 06 h once looked like two midnights passing."""
    lines = drift(10)
    lines[4] = lines[4].replace("B06", "B23", 1)

    track = read_igc(igc(*lines))

    assert track.end_s - track.start_s == 9
    assert kinds(track) == {"backward-time": 1}
    assert track.repairs[0].first_line == 7


def test_a_slip_across_midnight_does_not_move_the_rest_either():
    lines = drift(10, datetime(2026, 9, 12, 22, 0, 0, tzinfo=UTC))
    lines[4] = lines[4].replace("B22", "B02", 1)

    track = read_igc(igc(*lines))

    assert track.end_s - track.start_s == 9


def test_repeated_times_keep_the_first_fix_and_are_recorded():
    first, second = b_record(gnss="00700"), b_record(gnss="00800")

    track = read_igc(igc(first, second, *drift(3)[1:]))

    assert track.gnss_alt_m[0] == 700
    assert kinds(track) == {"duplicate-time": 1}
    assert track.repairs[0].first_line == 4


def test_backward_times_cost_the_fewest_fixes():
    lines = drift(20)
    moved = [*lines[:10], lines[3], lines[4], *lines[10:]]

    track = read_igc(igc(*moved))

    assert len(track) == 20
    assert kinds(track) == {"backward-time": 2}
    assert track.repairs[0].first_line == 13


def test_a_2d_fix_keeps_its_place_and_has_no_satellite_altitude():
    track = read_igc(igc(b_record(validity="V", gnss="00000"), *drift(2)[1:]))

    assert track.valid_3d.tolist() == [False, True]
    assert np.isnan(track.gnss_alt_m[0])
    assert track.pressure_alt_m[0] == 640
    assert kinds(track) == {"no-3d-altitude": 1}


@pytest.mark.parametrize(
    ("field", "channel", "kind"),
    [
        ("pressure", "pressure_alt_m", "no-pressure-altitude"),
        ("gnss", "gnss_alt_m", "no-satellite-altitude"),
    ],
)
def test_an_altitude_of_zero_throughout_is_absent_and_recorded(field, channel, kind):
    track = read_igc(igc(*drift(5, **{field: "00000"})))

    assert np.isnan(getattr(track, channel)).all()
    assert kinds(track) == {kind: 5}


@pytest.mark.parametrize(
    ("line", "datum"),
    [
        ("HFALGALTGPS:GEO", Datum.GEOID),
        ("HFALG:GEO", Datum.GEOID),
        ("HFALGALTGPS:ELL", Datum.ELLIPSOID),
        ("HFALGALTGPS:WGS84 ELLIPSOID", Datum.ELLIPSOID),
        ("HFALGALTGPS:NKN", Datum.UNKNOWN),
        ("HFDTM100GPSDATUM:WGS-84", Datum.UNKNOWN),
    ],
)
def test_the_altitude_datum_of_the_header_is_read(line, datum):
    assert read_igc(igc(line, b_record())).gnss_datum == datum


def test_a_header_may_say_that_no_altitude_was_recorded():
    track = read_igc(igc("HFALGALTGPS:NIL", "HFALPALTPRESSURE:MSL", *drift(2)))

    assert np.isnan(track.gnss_alt_m).all()
    assert track.baro_datum == Datum.GEOID


def test_extensions_stand_where_the_i_record_says():
    head = ("AXYZ4F7", "HFDTE120926", "I043638FXA3941VXA4243SIU4446ENL")

    track = read_igc(igc(b_record(extra="01402009123"), head=head))

    # FXA and VXA are 95 % figures: two sigma.
    assert track.accuracy_m.tolist() == [7]
    assert track.vertical_accuracy_m.tolist() == [10]
    assert track.satellites.tolist() == [9]


def test_lad_and_lod_add_decimals_of_a_minute():
    head = ("AXYZ4F7", "HFDTE120926", "I023636LAD3737LOD")

    track = read_igc(igc(b_record(extra="73"), head=head))

    assert track.lat_deg[0] == pytest.approx(41 + 30.1237 / 60, abs=1e-12)
    assert track.lon_deg[0] == pytest.approx(-(3 + 12.3453 / 60), abs=1e-12)


def test_tds_adds_tenths_of_a_second():
    head = ("AXYZ4F7", "HFDTE120926", "I013636TDS")
    lines = [b_record(extra=str(tenth)) for tenth in (0, 2, 4)]

    track = read_igc(igc(*lines, head=head))

    np.testing.assert_allclose(track.time_s - START_S, [0, 0.2, 0.4], atol=1e-6)
    assert not track.repairs


def test_a_fix_with_a_cut_extension_is_kept_without_it():
    head = ("AXYZ4F7", "HFDTE120926", "I013638FXA")
    lines = drift(3, extra="014")
    lines[1] = lines[1][:-2]

    track = read_igc(igc(*lines, head=head))

    assert len(track) == 3
    np.testing.assert_array_equal(track.accuracy_m, [7, np.nan, 7])
    assert kinds(track) == {"garbled-extension": 1}


@pytest.mark.parametrize(
    "broken",
    [
        b_record()[:34],
        b_record(clock="246060"),
        b_record(clock="06411x"),
        b_record(lat="4160123N"),
        b_record(lat="4130123X"),
        b_record(lon="0031234 W"),
        b_record(lat="9130123N"),
        b_record(lon="19912345W"),
        b_record(validity="Z"),
        "B",
        "B\x00\xff",
    ],
)
def test_a_garbled_fix_costs_that_fix_and_is_recorded(broken):
    lines = drift(4)
    lines[2] = broken

    track = read_igc(igc(*lines))

    assert len(track) == 3
    (repair,) = track.repairs
    assert repair.kind in {"garbled-fix", "bad-position"}
    assert (repair.count, repair.first_line) == (1, 5)


def test_a_line_of_rubbish_is_recorded():
    track = read_igc(igc(*drift(2), "\x07\x08 rubbish", "!?"))

    assert kinds(track) == {"garbled-line": 2}


@pytest.mark.parametrize("end", ["\r\n", "\n", "\r", "\r\r\n", "\n\r"])
def test_any_line_end_is_read(end):
    track = read_igc(igc(*drift(3), end=end))

    assert len(track) == 3
    assert not track.repairs


def test_eight_bit_text_is_kept_readable():
    data = b"AXYZ4F7\r\nHFDTE120926\r\nHFPLTPILOT:J\xfcrgen Gro\xdf\r\nHFGIDGLIDERID:D-O\xc3\x84B\r\n"

    track = read_igc(blob("a.igc", data + b_record().encode()))

    assert track.headers["pilot"] == "Jürgen Groß"
    assert track.headers["registration"] == "D-OÄB"


def test_headers_have_standard_names_and_lose_nothing():
    head = (
        "AXYZ4F7 FLIGHT:1",
        "HFDTE120926",
        "HFPLTPILOTINCHARGE: Ana García ",
        "HFGIDGLIDERID:EC-XYZ",
        "HFCIDCOMPETITIONID:012",
        "HFFTYFRTYPE:Maker,Model 3",
        "HFTZNTIMEZONE:+2.0",
        "HFGTYGLIDERTYPE:Balloon 77",
        "HFSITSITE:",
    )

    headers = read_igc(igc(b_record(), head=head)).headers

    assert headers == {
        "logger": "XYZ4F7",
        "pilot": "Ana García",
        "registration": "EC-XYZ",
        "competition_id": "012",
        "recorder": "Maker,Model 3",
        "time_zone": "+2.0",
        "GTY": "Balloon 77",
    }


def test_pilot_events_become_marks_at_their_fix():
    lines = drift(10)
    log = igc(*lines[:5], f"E{clock(4)}PEV Mark 1", "E064113ATS102312", *lines[5:])

    (mark,) = read_igc(log).marks

    assert mark.time_s == START_S + 4
    assert mark.label == "Mark 1"
    assert mark.lat_deg == pytest.approx(41 + 30.104 / 60)
    assert mark.alt_m == 695


def test_an_event_after_midnight_falls_on_the_next_day():
    late = datetime(2026, 9, 12, 23, 59, 58, tzinfo=UTC)
    log = igc(*drift(2, late), "E000003PEV", *drift(9, late)[2:])

    (mark,) = read_igc(log).marks

    assert mark.time_s == late.timestamp() + 5


def test_joined_logs_are_read_as_one_and_said_so():
    second = datetime(2026, 9, 13, 6, 0, 0, tzinfo=UTC)
    log = igc(
        "HFPLTPILOT:Ana",
        *drift(3),
        "GSIGNATURE",
        "AXYZ4F7",
        "HFDTE130926",
        "HFPLTPILOT:Bea",
        *drift(3, second),
    )

    track = read_igc(log)

    assert len(track) == 6
    assert track.end_s == second.timestamp() + 2
    assert track.headers["pilot"] == "Ana"
    assert kinds(track) == {"joined": 1, "headers-differ": 1}


def test_logs_joined_in_the_wrong_order_lose_no_fix():
    second = datetime(2026, 9, 13, 6, 0, 0, tzinfo=UTC)
    log = igc(
        *drift(3, second),
        "AXYZ4F7",
        "HFDTE120926",
        *drift(5),
        head=("AXYZ4F7", "HFDTE130926"),
    )

    track = read_igc(log)

    assert len(track) == 8
    assert track.start_s == START_S
    assert kinds(track) == {"joined": 1, "parts-reordered": 1}


def test_each_joined_log_has_its_own_extensions():
    log = igc(
        "I013638FXA",
        b_record("064112", extra="014"),
        "AXYZ4F7",
        "I023637SIU3840FXA",
        b_record("064113", extra="09020"),
    )

    track = read_igc(log)

    assert track.accuracy_m.tolist() == [7, 10]
    np.testing.assert_array_equal(track.satellites, [np.nan, 9])


@pytest.mark.parametrize(
    "data", ["AXYZ4F7\r\nHFDTE120926\r\n", "B\r\nB\r\n", "HFDTE120926\r\n" + "B" * 50]
)
def test_a_log_without_a_fix_is_refused(data):
    with pytest.raises(InputError, match=r"bad.igc.*found no (usable )?fix"):
        read_igc(blob("bad.igc", data))


def test_a_track_keeps_the_hash_and_the_name_of_its_file():
    log = igc(b_record())

    track = read_igc(log)

    assert (track.name, track.sha256) == (log.name, log.sha256)


def aerofiles_fixes(log):
    text = io.StringIO(log.data.decode("latin-1"))
    return aerofiles.igc.Reader().read(text)["fix_records"][1]


def compare(track, expected, angle_deg):
    """Each of our fixes is one of theirs; what is missing was recorded as left out."""
    left_out = ("duplicate-time", "backward-time", "garbled-fix")
    assert len(track) + sum(kinds(track).get(k, 0) for k in left_out) == len(expected)
    theirs = {}
    for fix in expected:
        theirs.setdefault(
            (fix["time"].hour, fix["time"].minute, fix["time"].second), []
        ).append(fix)
    for i, moment in enumerate(track.time_s.tolist()):
        when = datetime.fromtimestamp(moment, UTC)
        fix = theirs[when.hour, when.minute, when.second][0]
        assert track.lat_deg[i] == pytest.approx(fix["lat"], abs=angle_deg)
        assert track.lon_deg[i] == pytest.approx(fix["lon"], abs=angle_deg)
        gnss, baro = track.gnss_alt_m[i], track.pressure_alt_m[i]
        assert gnss == fix["gps_alt"] or (np.isnan(gnss) and not fix["gps_alt"])
        assert baro == fix["pressure_alt"] or (
            np.isnan(baro) and not fix["pressure_alt"]
        )


def test_agrees_with_aerofiles_on_an_invented_log():
    late = datetime(2026, 9, 12, 23, 58, 0, tzinfo=UTC)
    log = igc(*drift(600, late))

    compare(read_igc(log), aerofiles_fixes(log), 1e-9)


@pytest.mark.parametrize("name", REAL)
def test_agrees_with_aerofiles_on_real_logs(name):
    """aerofiles does not read LAD and LOD: then we differ by less than 0.001'."""
    (path,) = (SHARED / "igc").glob(f"*/{name}")
    log = shared_blob(path)
    more_digits = b"LAD" in log.data

    compare(read_igc(log), aerofiles_fixes(log), 1e-3 / 60 if more_digits else 1e-9)


def test_real_log_with_a_utc_midnight():
    track = read_igc(shared_blob(shared_file("igc/igc_lib/new_zealand.igc")))

    assert datetime.fromtimestamp(track.start_s, UTC).day == 6
    assert datetime.fromtimestamp(track.end_s, UTC).day == 7
    assert not track.repairs


def test_real_log_with_fifty_repeated_times():
    track = read_igc(shared_blob(shared_file("igc/igc_lib/no_time_increment.igc")))

    assert kinds(track) == {"duplicate-time": 50}


def test_real_log_with_more_digits():
    """Its line `B1627534845381N00824437EA008060089373`, LAD 7 and LOD 3, read by hand."""
    track = read_igc(shared_blob(shared_file("igc/aerofiles/xctrack-2020-09-04.igc")))

    assert track.lat_deg[0] == pytest.approx(48 + 45.3817 / 60, abs=1e-12)
    assert track.lon_deg[0] == pytest.approx(8 + 24.4373 / 60, abs=1e-12)
