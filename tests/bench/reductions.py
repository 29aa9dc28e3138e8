# ruff: noqa: T201 - a script that prints
"""How long the entries of a task take to become marks, side by side and one by one.

    python -m tests.bench.reductions

As a ratio to what pyproj takes to lay out and measure as many lines in one call each.
"""

import random
import time

import numpy as np
from pyproj import Geod

from scorer.event.model import DistanceKind, Keying, Method, North
from scorer.geodesy.survey import reduce_keying, reduce_keyings
from tests.scorer.geodesy.meadow import site

ENTRIES = 550
"""Of 275 pilots, each entered by two people."""


def entries(method):
    """Draw entries of one method."""
    dice = random.Random(str(method))
    far = [dice.uniform(1, 90) for _ in range(ENTRIES)]
    polar = {"from_place": "east post", "north": North.TRUE}
    made = {
        Method.POLAR: lambda m: polar | {"distance_m": m, "bearing_deg": 4 * m},
        Method.ARCS: lambda m: {
            "distance_m": 90 + m / 2,
            "from_place": "east post",
            "distance2_m": 90 + m / 3,
            "from2_place": "north post",
            "side": "L",
        },
        Method.LATLON: lambda m: {"lat_deg": 42 + m / 1e6, "lon_deg": -1.5 + m / 1e6},
    }
    return [Keying(task=1, pilot=1, method=method, **made[method](m)) for m in far]


def cpu_s(work):
    """Return the least CPU time of three rounds."""
    took = []
    for _ in range(3):
        start = time.process_time()
        work()
        took.append(time.process_time() - start)
    return min(took)


def main():
    """Print a table of ratios."""
    made, geod = site(DistanceKind.GROUND), Geod(ellps="GRS80")
    lon, lat = np.full(ENTRIES, -1.5), np.full(ENTRIES, 42.0)
    turn = np.linspace(0, 359, ENTRIES)

    def plain():
        east, north, _ = geod.fwd(lon, lat, turn, turn + 1)
        geod.inv(lon, lat, east, north)

    library = cpu_s(plain)
    for method in (Method.POLAR, Method.ARCS, Method.LATLON):
        own = entries(method)
        targets = ["centre"] * ENTRIES
        each = cpu_s(lambda own=own: [reduce_keying(k, made, "centre") for k in own])
        many = cpu_s(
            lambda own=own, at=targets: reduce_keyings(own, [made] * ENTRIES, at)
        )
        print(
            f"{method:8} together {many / library:6.1f} x pyproj, "
            f"one by one {each / library:6.1f} x: {each / many:.1f} times as long"
        )


if __name__ == "__main__":
    main()
