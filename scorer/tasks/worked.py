"""One worked example of each task kind: places, marks and the sum anyone can do by hand.

The manual prints them, and the tests score them as whole events.  Lengths are metres
east and north of one point of the event's map grid.
"""

from collections.abc import Mapping
from dataclasses import dataclass

Spot = tuple[float, float]
"""(east_m, north_m); (latitude, longitude) in degrees where `degrees` is set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A pilot's result in a task of one kind."""

    task: str
    """What the `[[task]]` says beyond number and kind."""
    places: Mapping[str, tuple[Spot, ...]]
    """Name to one spot for a point, to the corners for an area."""
    marks: Mapping[str, Spot]
    """By role; the role is empty where a task has one mark."""
    times: Mapping[str, str]
    """When they fell, by role, where that matters."""
    declared: str = ""
    """Goal that the pilot declared at 06:40."""
    log: tuple[str, Spot, str, Spot] | None = None
    """A straight flight: from when and where to when and where."""
    degrees: bool = False
    sum: str
    """The sum, in signs that need no words."""
    result: float
    """In the kind's unit."""


AREA = ((-500.0, -500.0), (500.0, -500.0), (500.0, 500.0), (-500.0, 500.0))
NORTH = ((-500.0, 0.0), (500.0, 0.0), (500.0, 1000.0), (-500.0, 1000.0))
SOUTH = ((-500.0, -1000.0), (500.0, -1000.0), (500.0, -100.0), (-500.0, -100.0))
TARGET = {"T": ((0.0, 0.0),)}
GOAL = {"G": ((2000.0, 0.0),)}


def _one(
    task: str,
    mark: Spot,
    total: str,
    result: float,
    *,
    places: Mapping[str, tuple[Spot, ...]],
    at: str = "",
    declared: str = "",
) -> Worked:
    """Return an example with one mark."""
    return Worked(
        task=task,
        places=places,
        marks={"": mark},
        times={"": at} if at else {},
        declared=declared,
        sum=total,
        result=result,
    )


def _several(
    task: str,
    marks: Mapping[str, Spot],
    total: str,
    result: float,
    places: Mapping[str, tuple[Spot, ...]],
) -> Worked:
    """Return an example with marks A, B and C."""
    return Worked(
        task=task, places=places, marks=marks, times={}, sum=total, result=result
    )


WORKED: Mapping[str, Worked] = {
    "PDG": _one(
        'declare_by = "07:00"',
        (2030, 40),
        "√(30² + 40²) = 50",
        50,
        places=GOAL,
        declared="G",
    ),
    "JDG": _one('target = "T"', (-5, 12), "√(5² + 12²) = 13", 13, places=TARGET),
    "HWZ": _one(
        'targets = ["T", "G"]',
        (1960, 30),
        "min(√(1960² + 30²), √(40² + 30²)) = 50",
        50,
        places=TARGET | GOAL,
    ),
    "FIN": _one(
        'target = "T"\nscoring_area = "area"',
        (60, -80),
        "√(60² + 80²) = 100",
        100,
        places=TARGET | {"area": AREA},
    ),
    "FON": _one(
        'limits_from = "declaration"',
        (2000, 120),
        "√(0² + 120²) = 120",
        120,
        places=GOAL,
        declared="G",
        at="07:10",
    ),
    "HNH": _one('target = "T"', (8, 15), "√(8² + 15²) = 17", 17, places=TARGET),
    "WSD": _one(
        'target = "T"\nhare_launch = "G"',
        (-20, -21),
        "√(20² + 21²) = 29",
        29,
        places=TARGET | GOAL,
    ),
    "GBM": _one(
        'target = "G"\nscoring_area = "area"',
        (500, 360),
        "√((2000 − 500)² + 360²) = 1542.6",
        1542.60,
        places=GOAL | {"area": AREA},
    ),
    "CRT": _one(
        'target = "T"\nscoring_areas = ["north", "south"]\n'
        'windows = { north = ["07:00", "07:10"], south = ["07:10", "07:20"] }',
        (0, 300),
        "√(0² + 300²) = 300",
        300,
        places=TARGET | {"north": NORTH, "south": SOUTH},
        at="07:05",
    ),
    "RTA": Worked(
        task='scoring_area = "area"\nstart = "launch-period"\n'
        'launch_period = ["06:45", "07:30"]',
        places={"area": AREA},
        marks={},
        times={},
        log=("06:50", (-4000, 0), "07:15", (3500, 0)),
        sum="(06:50 − 06:45) + (4000 − 500) ÷ 5 = 300 + 700 = 1000",
        result=1000,
    ),
    "ELB": _several(
        "",
        {"A": (0, 0), "B": (3000, 0), "C": (3000, 4000)},
        "180° − 90° = 90°",
        90,
        {},
    ),
    "LRN": _several(
        "",
        {"A": (0, 0), "B": (3000, 0), "C": (0, 2000)},
        "3 × 2 ÷ 2 = 3",
        3,
        {},
    ),
    "MDT": _one(
        'target = "T"\nleast_time = "30 min"\ntime_from = "launch-period"\n'
        'launch_period = ["06:45", "07:30"]',
        (300, 400),
        "07:20 − 06:45 = 35 min ≥ 30 min; √(300² + 400²) = 500",
        500,
        places=TARGET,
        at="07:20",
    ),
    "SFL": _one(
        'target = "T"\nscoring_area = "area"',
        (200, 210),
        "√(200² + 210²) = 290",
        290,
        places=TARGET | {"area": AREA},
    ),
    "MDD": _several(
        'scoring_areas = ["north", "south"]',
        {"A": (0, 300), "B": (160, -300)},
        "√(160² + 600²) = 620.97",
        620.97,
        {"north": NORTH, "south": SOUTH},
    ),
    "XDT": _one(
        'reference = "T"\nmost_time = "30 min"\ntime_from = "launch-period"\n'
        'launch_period = ["06:45", "07:30"]',
        (3000, 4000),
        "07:10 − 06:45 = 25 min ≤ 30 min; √(3000² + 4000²) = 5000",
        5000,
        places=TARGET,
        at="07:10",
    ),
    "XDI": _one(
        'reference = "G"\nscoring_area = "area"',
        (-400, 70),
        "√(2400² + 70²) = 2401.02",
        2401.02,
        places=GOAL | {"area": AREA},
    ),
    "XDD": _several(
        'scoring_area = "area"',
        {"A": (-300, -400), "B": (300, 400)},
        "√(600² + 800²) = 1000",
        1000,
        {"area": AREA},
    ),
    "ANG": _one(
        'target = "T"\ndirection = "0"',
        (1000, 1000),
        "arctan(1000 ÷ 1000) − 0° = 45°",
        45,
        places=TARGET,
    ),
    "3DT": Worked(
        task='scoring_area = "area"',
        places={"area": AREA},
        marks={},
        times={},
        log=("06:50", (-2000, 0), "07:10", (4000, 0)),
        sum="500 − (−500) = 1000",
        result=1000,
    ),
    "GAS": Worked(
        task='target = "T"',
        places={"T": ((0.0, -3.0),)},
        marks={"LANDING": (0.0, -2.0)},
        times={},
        degrees=True,
        sum="6378137 × π ÷ 180 = 111319.49",
        result=111319.49,
    ),
}
"""By the code of the kind."""
