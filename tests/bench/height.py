"""How long heights take, as ratios to a general library and a textbook filter.

Run: python tests/bench/height.py
"""

import sys
import time
from pathlib import Path

import numpy as np
from scipy.interpolate import make_smoothing_spline

sys.path.insert(0, str(Path(__file__).parents[1] / "scorer/tracks"))

from invented_logs import make_log, phases_of, recording_of
from test_smooth import kalman_rts

from scorer.tracks.height import estimate_heights
from scorer.tracks.recording import Day
from scorer.tracks.smooth import smooth_heights


def best_ms(work, rounds=7):
    """Best of several rounds, in milliseconds."""
    took = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return 1000.0 * min(took)


def main():
    """Print a table of times and ratios."""
    logs = [make_log(seed, step_s=1) for seed in range(40)]
    log = min(logs, key=lambda one: abs(len(one.reading.time_s) - 5400))
    recording = recording_of(log)
    phases = phases_of(recording)
    since = recording.time_s - recording.time_s[0]
    baro = recording.pressure_alt_m
    rows = {
        "phases": lambda: phases_of(recording),
        "heights with sigmas": lambda: estimate_heights(
            recording, phases.stretches, Day()
        ),
        "our smoother alone, two passes": lambda: smooth_heights(since, baro, 0.4),
        "scipy make_smoothing_spline": lambda: make_smoothing_spline(
            since, baro, lam=100.0
        ),
        "textbook Kalman and RTS loop": lambda: kalman_rts(since, baro, 0.16, 0.002),
    }
    took = {
        name: best_ms(work, 3 if "loop" in name else 7) for name, work in rows.items()
    }
    spline = took["scipy make_smoothing_spline"]
    print(f"{len(since)} fixes, numpy {np.__version__}")  # noqa: T201
    for name, each in took.items():
        print(f"{name:32} {each:8.2f} ms  {each / spline:6.2f} x spline")  # noqa: T201


if __name__ == "__main__":
    main()
