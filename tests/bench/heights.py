"""How true heights, launches, landings and findings are, in worlds of known truth.

Prints for each world the robust standard deviation of the lowest height where the floor
holds, the median stated one, that of z; how often a landing is found, how far off launch
place and moment are, and how often findings are right.

Run: python -m tests.bench.heights [--worlds plain,hot] [--flights 40] [--seeds 1,2]
"""

# ruff: noqa: T201

import argparse
import time

import numpy as np
from scipy.special import ndtr

from scorer.checks.base import CERTAIN_FROM, basket_m
from scorer.tracks.air import Pool
from scorer.tracks.clean import clean
from scorer.tracks.phases import Wanted
from scorer.tracks.prepare import flown_in, make_ready
from tests.bench.worlds import CENTRE, PLANE, START_S, WORLDS, make_world

COLUMNS = (
    "world",
    "n",
    "bias",
    "rsd",
    "stated",
    "sd z",
    "unanch",
    "stated",
    "land %",
    "dL m",
    "dL s",
    "false",
    "true",
    "n deep",
    "ms",
)


def robust_sd(values):
    values = np.asarray(values, float)
    if len(values) < 3:
        return np.nan
    return 1.4826 * np.median(np.abs(values - np.median(values)))


def flown_of(world, ground, logs, *, alone=False):
    """Heights of all logs of a world's flight, as the engine makes them."""
    day = START_S - 6 * 3600.0, START_S + 18 * 3600.0
    wanted = Wanted(day=day, periods=((START_S, START_S + 3 * 3600.0),))
    ready = [
        make_ready(
            clean(log.track),
            plane=PLANE,
            ground=ground,
            ground_elevation_m=world.fixed_m,
            wanted=wanted,
        )
        for log in logs
    ]
    if alone:
        return [flown_in(one, n + 1, None) for n, one in enumerate(ready)]
    pool = Pool([one.shape.view for one in ready])
    return [
        flown_in(one, n + 1, pool.air(one.shape.view)) for n, one in enumerate(ready)
    ]


def lowest(log, flown):
    """Estimated minus true height at the true lowest point of the way in, and its sigma.

    And the true and estimated lowest heights of the way in, wherever they are, with the
    sigma there.
    """
    time, height = flown.time_s, basket_m(flown)
    within = (time > log.way_in[0]) & (time < log.way_in[1]) & np.isfinite(height)
    if not within.any():
        return None
    at = int(np.argmin(np.where(within, height, np.inf)))
    true = np.interp(time[within], log.time_s, log.height_m)
    low = np.flatnonzero(within)[int(true.argmin())]
    error = height[low] - true.min()
    sigma = flown.height_sigma_m
    return error, sigma[low], true.min(), height[at], sigma[at]


def measured(name, seed, count, alone):
    world, ground, logs = make_world(name, seed, count)
    start = time.perf_counter()
    flowns = flown_of(world, ground, logs, alone=alone)
    took = (time.perf_counter() - start) / count
    rows = []
    for log, flown in zip(logs, flowns, strict=True):
        low = lowest(log, flown)
        where = (np.nan, np.nan)
        when = np.nan
        if flown.launch is not None:
            left = flown.lift_off(flown.launch)
            when = left.time_s - log.launch_s
            here = np.array([left.east_m, left.north_m])
            way = -np.array(log.launch_at) + CENTRE
            off = here - np.array(log.launch_at)
            where = (off @ way / np.hypot(*way), np.hypot(*off))
        if not log.launched:
            where, when = (np.nan, np.nan), 0.0 if flown.launch is None else 999.0
        rows.append(
            {
                "ended": log.landed,
                "began": log.launched,
                "trouble": log.trouble,
                "low": low,
                "launch_s": when,
                "toward": where[0],
                "anchored": flown.anchored,
                "landed": flown.landing is not None
                and abs(
                    flown.time_s[min(flown.landing, len(flown) - 1)] - log.landing_s
                )
                < 60,
            }
        )
    return rows, took


def table(rows, name, took):
    known = [r for r in rows if r["low"] is not None]
    own = [r for r in known if r["anchored"]]
    free = [r for r in known if not r["anchored"]]
    error, sigma, true, seen, there = np.array([r["low"] for r in own]).T
    z = error / sigma
    # limits drawn for each flight, from deep breaches to clear of them
    rng = np.random.default_rng(5)
    limit = true + rng.uniform(-12.0, 15.0, len(true))
    sure = ndtr((limit - seen) / there) >= CERTAIN_FROM
    legal, deep = limit < true, limit - true > np.maximum(3.0, 4.0 * sigma)
    loose = np.array([r["low"][:2] for r in free]) if free else np.full((1, 2), np.nan)
    should, ended = rows, [r for r in rows if r["ended"]]
    print(
        f"{name:13}{len(own):4}{np.median(error):7.2f}{robust_sd(error):7.2f}"
        f"{np.median(sigma):7.2f}{robust_sd(z):6.2f}/{np.std(z):4.2f}"
        f"{robust_sd(loose[:, 0]) if len(free) > 2 else np.abs(loose[:, 0]).max():7.1f}{np.median(loose[:, 1]):7.1f}"
        f"{100 * np.mean([r['landed'] for r in ended]):7.1f}"
        f"{np.nanmedian([r['toward'] for r in should]):7.2f}"
        f"{np.nanmedian([r['launch_s'] for r in should]):6.1f}/"
        f"{100 * np.mean([abs(r['launch_s']) > 15 or np.isnan(r['launch_s']) for r in should]):3.0f}%"
        f"{100 * np.mean(sure[legal]):6.1f}{100 * np.mean(sure[deep]) if deep.any() else np.nan:6.1f}"
        f"{deep.sum():5}{1e3 * took:6.0f}",
        flush=True,
    )


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--worlds", default=",".join(WORLDS))
    parser.add_argument("--flights", type=int, default=40)
    parser.add_argument("--seeds", default="1")
    parser.add_argument("--alone", action="store_true")
    asked = parser.parse_args()
    print(
        "world           n   bias    rsd stated  rsd/sd z  unanch  stated land%   toward  launch s  false true deep  ms"
    )
    for name in asked.worlds.split(","):
        rows, took = [], 0.0
        for seed in asked.seeds.split(","):
            some, each = measured(name, int(seed), asked.flights, asked.alone)
            rows += some
            took += each
        table(rows, name, took)


if __name__ == "__main__":
    main()
