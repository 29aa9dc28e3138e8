"""Mutated logs: a reader answers with a Track or an InputError, whatever it is fed."""

import io
import zipfile
from datetime import date

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from scorer.errors import InputError
from scorer.tracks.archive import read_archive
from scorer.tracks.clean import clean
from scorer.tracks.read import LOG_FORMATS, read_log
from tests.helpers import said
from tests.scorer.tracks.logs import blob, clock, drift, gga, gpx, igc, rmc, trkpt

SEEDS = {
    "igc": igc(
        "HFALGALTGPS:GEO",
        "I043638FXA3941VXA4242LAD4343TDS",
        *drift(6, extra="01402079"),
        "E064115PEV 1",
        *drift(3),
    ).data,
    "gpx": gpx(
        "".join(trkpt(i, inner="<hdop>1.5</hdop><fix>3d</fix>") for i in range(4)),
        before='<wpt lat="1" lon="2"><time>2026-09-12T06:41:12Z</time></wpt>',
    ).encode(),
    "nmea": "\r\n".join(
        line
        for i in range(4)
        for line in (gga(f"{clock(i)}.00"), rmc(f"{clock(i)}.00"))
    ).encode(),
    "csv": b"time;lat;lon;alt;sat\n"
    + b"".join(b"2026-09-12T06:41:1%dZ;41,5;-3,2;640;9\n" % i for i in range(4)),
}
PIECES = [
    *(
        b"\n",
        b"\r",
        b"\0",
        b"$",
        b"*",
        b",",
        b";",
        b"<",
        b">",
        b'"',
        b"\xff",
        b"-",
        b".",
    ),
    *(
        b"AXXX\r\n",
        b"HFDTE010170\r\n",
        b"HFDTE311299\r\n",
        b"I013636TDS\r\n",
        b"E999999PEV",
    ),
    *(
        b"</trkpt>",
        b"<trkpt",
        b"<!--",
        b"<![CDATA[",
        b"&lt;",
        b"nan",
        b"1e999",
        b"$GPGGA,,,",
    ),
    *(
        b"$GPZDA,000000,31,12,9999,00,00",
        b"9" * 40,
        b"-00001",
        b"\xe2\x80\xa8",
        b"\xf0\x9f",
    ),
]
EDITS = st.lists(
    st.tuples(
        st.floats(0, 1),
        st.sampled_from([0, 1, 5, 60]),
        st.one_of(st.sampled_from(PIECES), st.binary(max_size=6)),
    ),
    max_size=8,
)


def mutated(data, edits):
    for where, cut, piece in edits:
        at = int(where * len(data))
        data = data[:at] + piece + data[at + cut :]
    return data


def hold(track):
    """Check what a Track promises."""
    assert (np.diff(track.time_s) > 0).all()
    assert np.isfinite(track.time_s).all()
    assert (np.abs(track.lat_deg) <= 90).all()
    assert (np.abs(track.lon_deg) <= 180).all()
    for channel in (track.gnss_alt_m, track.pressure_alt_m, track.accuracy_m):
        assert not np.isinf(channel).any()
    assert all(np.isfinite(mark.time_s) for mark in track.marks)
    assert all(repair.count > 0 and said(repair) for repair in track.repairs)


@pytest.mark.parametrize("kind", SEEDS)
@given(edits=EDITS, dated=st.booleans())
@settings(max_examples=120)
def test_no_mutated_log_brings_a_reader_down(kind, edits, dated):
    log = blob(f"012.{kind}", mutated(SEEDS[kind], edits))
    near = date(2026, 9, 12) if dated else None

    try:
        track = clean(read_log(log, near_date=near, time_zone="Europe/Madrid"))
    except InputError as error:
        assert str(error).startswith("012.")  # noqa: PT017 - either outcome is right
    else:
        hold(track)


@pytest.mark.parametrize("reader", list(LOG_FORMATS))
@given(data=st.binary(max_size=200))
@settings(max_examples=60)
def test_no_bytes_bring_a_reader_down(reader, data):
    try:
        hold(
            LOG_FORMATS[reader].read(
                blob("x", data), near_date=date(2026, 9, 12), time_zone=None
            )
        )
    except InputError as error:
        assert error.faults  # noqa: PT017 - either outcome is right


def box():
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as file:
        for kind, data in SEEDS.items():
            file.writestr(f"012.{kind}", data)
    return raw.getvalue()


@given(edits=EDITS)
@example(edits=[(0.796875, 1, b"\0\0\1"), (0.875, 0, b"\n"), (0.875, 5, b"\0\0")])
@settings(max_examples=150)
def test_no_mutated_zip_brings_the_opening_down(edits):
    """The example gave an entry without a name, over which zipfile stumbles."""
    archive = read_archive(blob("logs.zip", mutated(box(), edits)))

    assert all(".." not in file.name for file in archive.blobs)
