# ruff: noqa: T201 - a script that prints
"""How fast the readers are beside general libraries, on the same bytes in one run.

    python -m tests.bench.readers

Needs aerofiles, gpxpy and pynmea2.  Prints the least processor time of several rounds;
times depend on the machine, ratios little.  gpxpy works without lxml here, the faster of its two ways.
"""

import io
import platform
import time

import aerofiles.igc
import gpxpy
import numpy as np
import pynmea2

from scorer.tracks.read import read_log
from tests.scorer.tracks.logs import (
    blob,
    clock,
    drift,
    gga,
    gpx,
    igc,
    rmc,
    sentence,
    trkpt,
)

FIXES = 3 * 3600
"""Three hours at one fix a second."""
ROUNDS = 7


def best(work):
    """Return the least processor time of some rounds, seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def igc_log():
    head = ("AXYZ4F7", "HFDTE120926", "I023638FXA3940SIU")
    return igc(*drift(FIXES, extra="01409"), head=head)


def nmea_log():
    """Write the sentences that receivers send unasked: RMC VTG GGA GSA GSV GLL."""
    view = [
        sentence(f"GPGSV,3,{i},12,01,40,083,46,02,17,308,41,12,07,344,39,14,22,228,45")
        for i in (1, 2, 3)
    ]
    active = sentence("GPGSA,A,3,01,02,12,14,15,18,24,25,29,,,,2.0,1.2,1.6")
    course = sentence("GPVTG,45.0,T,,M,3.1,N,5.7,K,A")
    lines = []
    for i in range(FIXES):
        moment = f"{clock(i)}.00"
        place = sentence(f"GPGLL,4130.1234,N,00312.3456,W,{moment},A,A")
        lines += [rmc(moment), course, gga(moment), active, *view, place]
    return blob("a.nmea", "\r\n".join(lines))


def read_nmea_by_pynmea2(log):
    for line in log.data.decode().splitlines():
        pynmea2.parse(line, check=True)


def main():
    igc_file, nmea_file = igc_log(), nmea_log()
    gpx_file = blob("a.gpx", gpx("".join(trkpt(i) for i in range(FIXES))))
    rows = [
        (
            "IGC",
            igc_file,
            "aerofiles",
            lambda: aerofiles.igc.Reader().read(io.StringIO(igc_file.data.decode())),
        ),
        ("GPX", gpx_file, "gpxpy", lambda: gpxpy.parse(gpx_file.data)),
        ("NMEA", nmea_file, "pynmea2", lambda: read_nmea_by_pynmea2(nmea_file)),
    ]
    print(f"{FIXES} fixes; Python {platform.python_version()}, numpy {np.__version__}")
    print(f"{'format':8}{'MB':>6}{'ours ms':>10}{'other ms':>10}{'times':>7}  other")
    for name, log, other, theirs in rows:
        assert len(read_log(log)) == FIXES
        ours_s, theirs_s = best(lambda log=log: read_log(log)), best(theirs)
        print(
            f"{name:8}{len(log.data) / 1e6:6.2f}{ours_s * 1e3:10.2f}{theirs_s * 1e3:10.1f}"
            f"{theirs_s / ours_s:7.1f}  {other}"
        )


if __name__ == "__main__":
    main()
