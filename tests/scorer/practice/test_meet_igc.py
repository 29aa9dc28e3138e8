"""The logs of invented meets, read by aerofiles (an IGC reader of other people)."""

import datetime as dt
import io
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Transformer

from scorer.practice.igcfile import IgcFlight, igc_bytes
from scorer.practice.meet import make_meet
from scorer.practice.scenes import SAMPLES, VASHKORIM
from scorer.practice.sensors import Logger, record

aerofiles = pytest.importorskip("aerofiles")

HALF_STEP_DEG = 0.5 / 60_000 + 1e-9
"""B records give thousandths of minutes."""


@pytest.fixture(scope="module")
def meet():
    return make_meet(*SAMPLES["quillowen"])


def read(content):
    return aerofiles.igc.Reader().read(io.StringIO(content.decode("ascii"), newline=""))


def test_fixes_are_those_of_the_logger_to_half_a_step(meet):
    to_degrees = Transformer.from_crs(meet.spec.crs, "EPSG:4326", always_xy=True)
    for pilot in (1, 7, 33):
        reading = meet.sorties["sunday"][pilot].reading
        if reading is None:
            continue
        log = read(meet.files[f"flights/sunday/logs/{pilot:03d}.igc"])
        errors, fixes = log["fix_records"]
        lon, lat = to_degrees.transform(reading.east_m, reading.north_m)

        assert errors == []
        assert len(fixes) == len(reading.time_s)
        assert [f["datetime"].timestamp() for f in fixes] == list(reading.time_s)
        assert np.abs([f["lat"] for f in fixes] - lat).max() < HALF_STEP_DEG
        assert np.abs([f["lon"] for f in fixes] - lon).max() < HALF_STEP_DEG
        assert [f["gps_alt"] for f in fixes] == list(reading.gnss_alt_m)
        pressure = np.nan_to_num(reading.pressure_alt_m)
        assert [f["pressure_alt"] for f in fixes] == list(pressure)
        assert {f["validity"] for f in fixes} == {"A"}
        assert {f["FXA"] for f in fixes} <= set(range(1, 12))
        assert {f["SIU"] for f in fixes} <= set(range(6, 15))


def test_a_logger_without_errors_writes_the_true_path(meet):
    truth = meet.sorties["saturday"][1].truth
    exact = Logger(
        step_s=3, mount_m=0.0, gnss_offset_m=0.0, gnss_sigma_m=0.0, gnss_white_m=0.0,
        horizontal_sigma_m=0.0, dips_per_h=0.0,
    )  # fmt: skip
    reading = record(truth, exact, rng=np.random.default_rng(1))
    to_degrees = Transformer.from_crs(meet.spec.crs, "EPSG:4326", always_xy=True)
    lon, lat = to_degrees.transform(truth.east_m[::3], truth.north_m[::3])

    content = igc_bytes(
        flight(reading.time_s, np.array(lat), np.array(lon), reading.gnss_alt_m)
    )

    _, fixes = read(content)["fix_records"]
    assert np.abs([f["lat"] for f in fixes] - lat).max() < HALF_STEP_DEG
    assert np.abs([f["lon"] for f in fixes] - lon).max() < HALF_STEP_DEG
    altitude = [f["gps_alt"] for f in fixes]
    assert np.abs(altitude - truth.altitude_m[::3]).max() <= 0.5


def flight(time_s, lat, lon, alt, **other):
    ones = np.ones(len(time_s))
    given_ = {
        "pilot": "Nobody", "number": 12, "registration": "Q9-AAA", "serial": "1234",
        "pressure_alt_m": alt, "gnss_alt_m": alt, "accuracy_m": 2 * ones,
        "satellites": np.full(len(time_s), 9),
    }  # fmt: skip
    return IgcFlight(time_s=time_s, lat_deg=lat, lon_deg=lon, **(given_ | other))


def test_the_head_names_pilot_number_aircraft_day_and_datums(meet):
    content = meet.files["flights/saturday/logs/001.igc"]
    head = read(content)["header"][1]

    assert head["utc_date"] == dt.date(2026, 3, 14)
    assert head["competition_id"] == "1"
    assert head["glider_registration"].startswith("Q9-")
    assert head["pilot"].isascii()
    assert head["gps_datum"] == "WGS84"
    assert b"HFALGALTGPS:ELL\r\n" in content
    assert b"HFALPALTPRESSURE:ISA\r\n" in content


def test_lines_end_in_cr_lf_and_hold_only_characters_the_standard_allows(meet):
    """Appendix A: printable ASCII without $ * ! \\ ^ ~, at most 76 characters a line."""
    for name, content in meet.files.items():
        if name.endswith(".igc"):
            lines = content.split(b"\r\n")
            assert lines.pop() == b""
            assert all(len(line) <= 76 for line in lines)
            assert not set(content) - set(range(0x20, 0x7F)) - {13, 10}
            assert not set(b"$*!\\^~") & set(content)


def test_the_button_is_written_at_the_moment_of_the_drop(meet):
    pressed = 0
    for pilot, sortie in meet.sorties["sunday"].items():
        content = meet.files.get(f"flights/sunday/logs/{pilot:03d}.igc", b"")
        if b"PEV" not in content:
            continue
        pressed += 1
        clocks = [
            dt.datetime.fromtimestamp(drop.time_s, dt.UTC).strftime("%H%M%S")
            for drop in sortie.drops
        ]
        found = [
            line[1:7].decode() for line in content.split(b"\r\n") if line[:1] == b"E"
        ]
        assert found == clocks
    assert 8 < pressed < 32


def test_a_missing_barometer_writes_zero_and_missing_satellites_a_v(meet):
    """Appendix A: pressure altitude is zero where there is no sensor; V has no height."""
    lost = np.array([np.nan, np.nan])
    when = np.array([1.7e9, 1.7e9 + 1])

    content = igc_bytes(flight(when, np.zeros(2), np.zeros(2), lost))

    _, fixes = read(content)["fix_records"]
    assert [(f["pressure_alt"], f["gps_alt"], f["validity"]) for f in fixes] == [
        (0, 0, "V")
    ] * 2


def test_a_log_over_midnight_utc_keeps_its_first_day():
    when = np.arange(1_700_006_395.0, 1_700_006_405.0)  # 23:59:55 on 14 November 2023

    log = read(igc_bytes(flight(when, np.zeros(10), np.zeros(10), np.zeros(10))))

    assert log["header"][1]["utc_date"] == dt.date(2023, 11, 14)
    clocks = [f["time"].isoformat() for f in log["fix_records"][1]]
    assert (clocks[4], clocks[5]) == ("23:59:59", "00:00:00")


@settings(max_examples=60)
@given(
    lat=st.floats(-89.999, 89.999),
    lon=st.floats(-179.999, 179.999),
    alt=st.integers(-999, 9999),
)
def test_any_place_on_earth_is_read_back(lat, lon, alt):
    one = np.array([1.7e9])

    content = igc_bytes(
        flight(one, np.array([lat]), np.array([lon]), np.array([float(alt)]))
    )

    (fix,) = read(content)["fix_records"][1]
    assert fix["lat"] == pytest.approx(lat, abs=HALF_STEP_DEG)
    assert fix["lon"] == pytest.approx(lon, abs=HALF_STEP_DEG)
    assert (fix["gps_alt"], fix["pressure_alt"]) == (alt, alt)


def test_a_gap_is_as_long_as_planted(meet):
    (gap,) = [p for p in meet.answer["planted"] if p["warning"] == "log-gap"]
    reading = meet.sorties[gap["flight"]][gap["pilot"]].reading

    assert 90 <= np.diff(reading.time_s).max() <= 100


def test_small_meets_are_read_as_well():
    small = make_meet(replace(VASHKORIM, sample_s=2), 8)

    for name, content in small.files.items():
        if name.endswith(".igc"):
            assert read(content)["fix_records"][0] == []
