"""Feed the readers mutated logs, guided by coverage, until something but an InputError.

By hand, with atheris installed:

    python -m tests.fuzz.fuzz_readers CORPUS [libFuzzer options]

CORPUS is a folder for what it learns; copy some logs into it to begin with.  Useful
options: `-max_total_time=300 -max_len=4000 -timeout=10 -rss_limit_mb=4000`; the
instrumented process itself grows by some 20 kB a run, the readers do not.
"""

import sys
import warnings
from contextlib import suppress
from datetime import date

import atheris

with atheris.instrument_imports(include=["scorer.tracks", "zipfile", "csv"]):
    from scorer.errors import InputError
    from scorer.event.model import Blob
    from scorer.tracks.archive import is_archive, read_archive
    from scorer.tracks.clean import clean
    from scorer.tracks.read import LOG_FORMATS, read_log

NAMES = ("a.igc", "a.gpx", "a.nmea", "a.csv", "a")
DAY = date(2026, 9, 12)


def one(data):
    """Read one input in every way there is."""
    log = Blob(name=NAMES[len(data) % len(NAMES)], sha256="", content=data)
    if is_archive(log):
        read_archive(log)
    with suppress(InputError):
        clean(read_log(log, near_date=DAY, time_zone="Europe/Madrid"))
    reader = list(LOG_FORMATS.values())[len(data) % len(LOG_FORMATS)].read
    with suppress(InputError):
        reader(log, near_date=None, time_zone=None)


def main():
    warnings.simplefilter("error")
    atheris.Setup(sys.argv, one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
