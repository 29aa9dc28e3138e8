"""Small invented logs, and what tests of the readers share."""

import hashlib
from datetime import UTC, datetime, timedelta

from scorer.event.model import Blob

START = datetime(2026, 9, 12, 6, 41, 12, tzinfo=UTC)
START_S = START.timestamp()


def blob(name, data):
    """Make a file of text or bytes."""
    raw = data.encode() if isinstance(data, str) else data
    return Blob(name=name, sha256=hashlib.sha256(raw).hexdigest(), content=raw)


def shared_blob(path):
    return blob(path.name, path.read_bytes())


def b_record(
    clock="064112",
    *,
    lat="4130123N",
    lon="00312345W",
    validity="A",
    pressure="00640",
    gnss="00695",
    extra="",
):
    """Write a B record: FAI IGC technical specification, appendix A, B record."""
    return f"B{clock}{lat}{lon}{validity}{pressure}{gnss}{extra}"


def igc(*lines, head=("AXYZ4F7", "HFDTE120926"), end="\r\n", name="012.igc"):
    return blob(name, end.join([*head, *lines, ""]))


def clock(i, start=START):
    return (start + timedelta(seconds=i)).strftime("%H%M%S")


def drift(n, start=START, **fields):
    """Write n B records, one a second, drifting north-east."""
    return [
        b_record(
            clock(i, start),
            lat=f"4130{100 + i % 800:03d}N",
            lon=f"0031{2345 - i % 900}W",
            **fields,
        )
        for i in range(n)
    ]


def gpx(points, *, before="", version="1.1", head='<?xml version="1.0"?>\n'):
    return (
        f'{head}<gpx version="{version}" creator="invented"'
        f' xmlns="http://www.topografix.com/GPX/{version.replace(".", "/")}">\n'
        f"{before}<trk><name>Morning flight</name><trkseg>\n{points}</trkseg></trk></gpx>\n"
    )


def trkpt(i, *, lat=41.5, lon=-3.2, inner=""):
    moment = (START + timedelta(seconds=i)).strftime("%Y-%m-%dT%H:%M:%SZ")
    return (
        f'<trkpt lat="{lat + i * 1e-5:.6f}" lon="{lon + i * 1e-5:.6f}">'
        f"<ele>{640 + i % 50}.5</ele><time>{moment}</time>{inner}</trkpt>\n"
    )


def sentence(body):
    """Add the checksum of NMEA 0183: exclusive or of the characters between $ and *."""
    total = 0
    for char in body:
        total ^= ord(char)
    return f"${body}*{total:02X}"


def gga(
    clock="064112.00", *, quality=1, lat="4130.1234,N", lon="00312.3456,W", alt="640.5"
):
    return sentence(f"GPGGA,{clock},{lat},{lon},{quality},09,1.2,{alt},M,50.2,M,,")


def rmc(
    clock="064112.00",
    *,
    status="A",
    lat="4130.1234,N",
    lon="00312.3456,W",
    date="120926",
    tail=",,,A",
):
    return sentence(f"GPRMC,{clock},{status},{lat},{lon},3.1,45.0,{date}{tail}")


def kinds(track):
    return {repair.kind: repair.count for repair in track.repairs}
