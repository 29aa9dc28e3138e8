"""How long the checks of one log take, as ratios to shapely asked point by point.

Run: python tests/bench/checks.py
"""

import sys
import time
from pathlib import Path

import numpy as np
import shapely

sys.path.insert(0, str(Path(__file__).parents[1] / "scorer/checks"))
sys.path.insert(0, str(Path(__file__).parents[2]))

from invented import CENTRE, PLACES, SITE, about, flight

from scorer.checks.base import PlacedMark
from scorer.checks.mark_track import approaches
from scorer.checks.pilot import check_same_flight, trail_of
from scorer.checks.run import run_checks
from scorer.checks.stays import inside
from scorer.checks.winds import drift_of
from scorer.event import place_kinds
from scorer.event.rulebook import (
    BoundaryRule,
    ContactRule,
    FloorRule,
    LaunchRule,
    NightRule,
    RuleBook,
)

KNOTS = [(0, 0), (60, 150), (900, 20), (960, 20), (1000, 3), (1100, 300), (5100, 300)]
MARKS = 550
TRACKS = 275


def best_ms(work, rounds=5):
    """Best of several rounds, in milliseconds."""
    took = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return 1000.0 * min(took)


def main():
    """Print a table of times and ratios."""
    flown = flight([*KNOTS, (5280, 0)], speed_m_s=2.5, east_m=-2500.0)
    book = RuleBook(
        name="all",
        floor=FloorRule(height_m=22.86, within="field", least_time_s=3.0),
        contact=ContactRule(within="scoring-area"),
        launch=LaunchRule(least_distance_m=1609.344),
        boundary=BoundaryRule(within="field"),
        night=NightRule(before_sunrise_s=0.0, after_sunset_s=0.0),
    )
    town = tuple(p for p in PLACES if p.kind is place_kinds.PROHIBITED)
    rules = about(book, prohibited=town)
    rng = np.random.default_rng(0)
    marks = [
        PlacedMark(task=1, pilot=k, east_m=east, north_m=north)
        for k, (east, north) in enumerate(CENTRE + rng.normal(0.0, 40.0, (MARKS, 2)))
    ]
    points = shapely.points([(m.east_m, m.north_m) for m in marks])
    line = shapely.LineString(np.c_[flown.east_m, flown.north_m])
    trails = [trail_of(flown)] * TRACKS
    field = SITE.area("field")
    each = [shapely.Point(p) for p in zip(flown.east_m, flown.north_m, strict=True)]

    rows = (
        ("all checks", lambda: run_checks(flown, rules), None),
        (
            "inside a boundary",
            lambda: inside(field, flown.east_m, flown.north_m),
            ("shapely, each point", lambda: [field.intersects(p) for p in each]),
        ),
        (
            f"nearest to {MARKS} marks",
            lambda: approaches(flown, marks),
            ("shapely, each mark to the line", lambda: shapely.distance(line, points)),
        ),
        ("drift by height", lambda: drift_of(flown), None),
        (
            f"{TRACKS} tracks, same flight?",
            lambda: check_same_flight(trails, "1"),
            None,
        ),
    )
    print(f"{len(flown)} fixes, shapely {shapely.__version__}")  # noqa: T201
    for name, ours, other in rows:
        took = best_ms(ours)
        text = f"{name:28} {took:8.2f} ms"
        if other is not None:
            text += f"   {best_ms(other[1]) / took:6.1f} x faster than {other[0]}"
        print(text)  # noqa: T201


if __name__ == "__main__":
    main()
