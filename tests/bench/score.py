"""How long a whole score takes, how it grows, and how much memory it wants.

Invented meets of 60, 275 and 1,100 logs of 5,400 fixes each (an hour and a half at a fix
a second) are scored from the files on, with one process and with two, each in a fresh
interpreter.  Beside it stands what a general library takes for the reading of as many
logs alone.

Run: python -m tests.bench.score [NUMBER OF LOGS ...]
"""

# ruff: noqa: T201

import hashlib
import io
import json
import platform
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import aerofiles
import numpy as np

from scorer.cli.target import load
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.scoring.document import to_json
from scorer.scoring.score import score

SIZES = (60, 275, 1100)
FIXES = 5400
ROUNDS = 3
"""The best of so many counts: other work on the machine only slows down."""
ONE, MAKE = "--one", "--make"
SAMPLE = 8
"""So many logs are read by the general library; all take it alike."""


def measured(folder, processes):
    """Score once in this process; return seconds, peak memory and a hash."""
    start = time.perf_counter()
    event = load(folder)
    loaded = time.perf_counter()
    if processes > 1:
        context = get_context("spawn" if sys.platform == "win32" else "fork")
        with ProcessPoolExecutor(processes, mp_context=context) as pool:
            results = score(event, pool)
    else:
        results = score(event)
    scored = time.perf_counter()
    text = to_json(results).encode()
    return {
        "load_s": loaded - start,
        "score_s": scored - loaded,
        "write_s": time.perf_counter() - scored,
        "memory_mb": peaks(),
        "sha256": hashlib.sha256(text).hexdigest()[:12],
    }


def peaks():
    """Peak memory of this process and of its largest child; NaN where unknown."""
    try:
        import resource  # not on every system
    except ImportError:
        return [float("nan")] * 2
    unit = 2**20 if sys.platform == "darwin" else 2**10
    kinds = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return [resource.getrusage(kind).ru_maxrss / unit for kind in kinds]


def apart(what, *arguments):
    """Do one part in a fresh interpreter, whose peak memory is then its own."""
    command = [sys.executable, "-m", "tests.bench.score", what, *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, check=True, text=True)
    return json.loads(done.stdout or "{}")


def read_by_aerofiles(paths):
    """Return how long one log takes to be read by a general library, in seconds."""
    logs = [path.read_text(encoding="utf-8") for path in paths]
    start = time.perf_counter()
    for text in logs:
        aerofiles.igc.Reader().read(io.StringIO(text))
    return (time.perf_counter() - start) / len(logs)


def row(count, place):
    """Make a meet, measure it, print a line for one process and for two."""
    folder = f"{place}/{count}"
    apart(MAKE, count, folder)
    paths = sorted(Path(folder).glob("flights/*/logs/*.igc"))
    logs = len(paths)
    other = read_by_aerofiles(paths[:SAMPLE]) * logs
    results = [
        min((apart(ONE, folder, n) for _ in range(ROUNDS)), key=lambda r: r["score_s"])
        for n in (1, 2)
    ]
    for processes, one in zip((1, 2), results, strict=True):
        parent, child = one["memory_mb"]
        whole = one["load_s"] + one["score_s"] + one["write_s"]
        print(
            f"{logs:6}{processes:6}{one['load_s']:8.2f}{one['score_s']:8.2f}"
            f"{one['write_s']:8.2f}{1e3 * whole / logs:10.1f}{parent:8.0f}"
            f"{child:8.0f}{other / whole:9.1f}"
        )
    assert results[0]["sha256"] == results[1]["sha256"]


def main(sizes):
    print(f"{FIXES} fixes a log; Python {platform.python_version()}, ", end="")
    print(f"numpy {np.__version__}, {platform.machine()}")
    print("  logs procs    load   score   write  ms a log  MB own MB child  x read")
    with tempfile.TemporaryDirectory() as place:
        for count in sizes:
            row(count, place)
    print(
        "x read: how often the whole score fits into the time aerofiles reads the logs"
    )


if __name__ == "__main__":
    match sys.argv[1:]:
        case [what, folder, processes] if what == ONE:
            print(json.dumps(measured(folder, int(processes))))
        case [what, count, folder] if what == MAKE:
            spec = crowd(pilots=int(count), fixes=FIXES)
            write_meet(make_meet(spec, 3), Path(folder))
        case sizes:
            main([int(text) for text in sizes] or SIZES)
