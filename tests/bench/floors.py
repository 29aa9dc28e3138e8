"""How true the probabilities of floor breaches are, in worlds of known truth.

For each flight heights of the floor are drawn around its true lowest point on the way in,
without a look at what the log shows; a finding there is true where the basket was under the
floor for the shortest time that counts.  Prints by probability what is stated and how often
it is true.

Over 600 flights a world (--flights 30 --seeds 1-20; plain: 480, seeds 33-48), what is stated
and how often it is true:

    hot           0.02:0.01  0.19:0.16  0.40:0.34  0.60:0.58  0.81:0.83  0.97:0.97
    cold          0.02:0.01  0.19:0.19  0.40:0.47  0.60:0.67  0.81:0.86  0.96:0.99
    coarse-float  0.02:0.04  0.19:0.21  0.40:0.35  0.60:0.59  0.81:0.76  0.96:0.92
    hole          0.02:0.01  0.18:0.15  0.40:0.37  0.60:0.56  0.81:0.82  0.96:0.97
    plain         0.03:0.01  0.19:0.11  0.40:0.28  0.60:0.63  0.81:0.81  0.96:0.98

In plain, below one half, too much is stated: its grid is better than laser-scanned ground
is taken to be, so stated sigmas are a little too wide.

Run: python -m tests.bench.floors [--worlds plain,hot] [--flights 30] [--seeds 1,2]
"""

# ruff: noqa: T201

import numpy as np

from scorer.checks.floor import check_floor
from scorer.checks.runs import runs_of
from scorer.event.rulebook import FloorRule, RuleBook
from scorer.scoring.work import one_thread
from tests.bench.heights import arguments, flown_of, told_and_true
from tests.bench.worlds import make_world
from tests.scorer.checks.invented import about

LEAST_TIME_S, FINE_S = 3.0, 0.1
AROUND_SIGMAS = 2.5
"""Floors are drawn so many stated sigmas around the truth."""
EACH = 5
EDGES = (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 1.0001)


def breached(log, floor_m):
    """The basket was under the floor on the way in, for the shortest time that counts."""
    time = np.arange(*log.way_in, FINE_S)
    runs = runs_of(np.interp(time, log.time_s, log.height_m) < floor_m)
    return bool((time[runs.last] - time[runs.first] >= LEAST_TIME_S).any())


def stated(log, flown, floor_m):
    """Return the highest probability stated on the way in; 0 where nothing is found."""
    rule = FloorRule(height_m=floor_m, within="field", least_time_s=LEAST_TIME_S)
    found = check_floor(flown, about(RuleBook(name="floor", floor=rule))).findings
    begin, end = log.way_in
    return max((f.probability for f in found if begin < f.from_s < end), default=0.0)


def pairs_of(logs, flowns, seed):
    """Yield what is stated and whether it is true, for some floors of each flight."""
    rng = np.random.default_rng([seed, 11])
    for log, flown in zip(logs, flowns, strict=True):
        near = np.abs(flown.time_s - log.lowest_s) < 5.0
        if not (near & np.isfinite(flown.height_m)).any() or not flown.anchored:
            continue
        sigma = float(flown.height_sigma_m[near].mean())
        for _ in range(EACH):
            floor_m = log.lowest_m + rng.uniform(-1.0, 1.0) * AROUND_SIGMAS * sigma
            yield stated(log, flown, floor_m), breached(log, floor_m)


def floors_of(name, seed, count):
    """Fly a world and hold its flights against floors."""
    world, ground, logs = make_world(name, seed, count)
    with one_thread():
        flowns = flown_of(world, ground, logs)
    return list(pairs_of(logs, flowns, seed))


def report(name, pairs):
    print(f"{name:13}{len(pairs):6} {told_and_true(pairs, EDGES)}", flush=True)


def main():
    asked = arguments(flights=30, seeds=[1]).parse_args()
    print("world        floors  stated:true/number")
    whole = []
    for name in asked.worlds:
        own = [
            pair
            for seed in asked.seeds
            for pair in floors_of(name, seed, asked.flights)
        ]
        report(name, own)
        whole += own
    report("all", whole)


if __name__ == "__main__":
    main()
