import codecs
import pickle

import pytest

from scorer.errors import InputError
from scorer.tracks.read import read_log
from tests.scorer.tracks.logs import (
    b_record,
    blob,
    drift,
    gga,
    gpx,
    igc,
    kinds,
    rmc,
    trkpt,
)

IGC = igc(*drift(3)).data
GPX = gpx("".join(trkpt(i) for i in range(3))).encode()
NMEA = f"{gga()}\r\n{rmc()}\r\n".encode()
CSV = b"time,lat,lon\n2026-09-12T06:41:12Z,41.5,-3.2\n"


@pytest.mark.parametrize("name", ["x", "x.txt", "x.igc", "x.gpx", "x.csv", "x.nmea"])
@pytest.mark.parametrize(
    ("data", "kind"), [(IGC, "igc"), (GPX, "gpx"), (NMEA, "nmea"), (CSV, "csv")]
)
def test_the_content_tells_the_format_whatever_the_name(name, data, kind):
    assert read_log(blob(name, data)).format == kind


@pytest.mark.parametrize("data", [IGC, GPX, NMEA, CSV])
@pytest.mark.parametrize("coding", ["utf-8-sig", "utf-16-le", "utf-16-be"])
def test_any_format_may_be_unicode_with_a_byte_order_mark(data, coding):
    mark = {"utf-16-le": codecs.BOM_UTF16_LE, "utf-16-be": codecs.BOM_UTF16_BE}
    text = mark.get(coding, b"") + data.decode().encode(coding)

    log = blob("x", text)

    assert read_log(log).sha256 == log.sha256


def test_the_hash_is_that_of_the_bytes_received():
    log = blob("x.igc", codecs.BOM_UTF8 + IGC)

    assert read_log(log).sha256 == log.sha256


@pytest.mark.parametrize("data", [b"", b"\r\n \t", bytes(100)])
def test_an_empty_file_is_refused(data):
    with pytest.raises(InputError, match=r"a.igc: found an empty file"):
        read_log(blob("a.igc", data))


@pytest.mark.parametrize(
    "data", [b"hello", b"%PDF-1.7\n", b"\x89PNG\r\n", b"PK\x03\x04zzz"]
)
def test_other_files_are_refused_by_what_they_begin_with(data):
    with pytest.raises(
        InputError, match=r'a file that begins ".*allowed: a flight log: IGC'
    ):
        read_log(blob("a.doc", data))


@pytest.mark.parametrize("ending", ["igc", "gpx", "nmea", "csv"])
def test_the_ending_decides_which_reader_says_what_is_wrong(ending):
    with pytest.raises(InputError, match=rf"a\.{ending}"):
        read_log(blob(f"a.{ending}", b"hello"))


def test_one_endless_line_is_refused_without_a_blow_up():
    for start in (b"B", b"$GPGGA,", b"time,lat,lon", b"<gpx ", b"<gpx>"):
        with pytest.raises(InputError):
            read_log(blob("a.igc", start + b"1" * 5_000_000))


def test_an_error_travels_between_processes():
    with pytest.raises(InputError) as caught:
        read_log(blob("a.igc", b"A"))

    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_an_igc_log_with_a_comment_about_gpx_is_igc():
    log = igc("LXYZ converted from $GPGGA, by hand", b_record())

    assert read_log(log).format == "igc"


@pytest.mark.parametrize(
    ("module", "limit", "data"),
    [
        ("igc", "MAX_FIXES", IGC),
        ("sentences", "MAX_COMMAS", NMEA),
        ("gpx_xml", "MAX_POINTS", GPX.replace(b"<ele>", b"<!-- --><ele>")),
        ("table", "MAX_ROWS", CSV),
        ("lines", "MAX_LOG_LINES", IGC),
    ],
)
def test_more_than_any_logger_writes_is_refused_before_it_fills_the_memory(
    monkeypatch, module, limit, data
):
    monkeypatch.setattr(f"scorer.tracks.{module}.{limit}", 1)

    with pytest.raises(InputError, match="allowed: at most"):
        read_log(blob("a", data))


def test_a_track_of_too_many_tags_is_read_the_slower_way(monkeypatch):
    monkeypatch.setattr("scorer.tracks.gpx_points.MAX_TAGS", 1)

    assert len(read_log(blob("a.gpx", GPX))) == 3


def test_waypoints_beyond_a_limit_are_recorded(monkeypatch):
    monkeypatch.setattr("scorer.tracks.gpx_xml.MAX_MARKS", 1)
    way = b"<wpt lat='1' lon='2'><time>2026-09-12T06:41:12Z</time></wpt>\n"

    track = read_log(blob("a.gpx", GPX.replace(b"<trk>", way * 3 + b"<trk>")))

    assert len(track.marks) == 1
    assert kinds(track) == {"too-many-marks": 2}
