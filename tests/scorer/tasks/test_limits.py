"""What lies just on a limit or an edge keeps to it, whatever arithmetic makes of it.

By hand: all coordinates are whole metres on a flat grid, so each length below is exactly
its limit; a millimetre more or less is beyond it.
"""

from dataclasses import replace

import pytest

from scorer.event.build import build_event
from scorer.scoring.score import score
from scorer.tasks.worked import AREA, GOAL, TARGET, Worked
from tests.scorer.tasks.test_worked import features, marks
from tests.scorer.tiny import RULES, tiny_flight, tiny_raw

LEGS = {"A": (-300.0, -400.0), "B": (300.0, 400.0)}
NOT_LESS = 'least_leg = "{}"\noutside_limits = "no result"'
NOT_MORE = 'most_leg = "{}"\noutside_limits = "no result"'
CASES = {
    "edge of an area": (
        "GBM",
        'target = "G"\nscoring_area = "area"',
        {"": (500.0, 360.0)},
    ),
    "corner of an area": (
        "GBM",
        'target = "G"\nscoring_area = "area"',
        {"": (-500.0, 500.0)},
    ),
    "least leg": ("XDD", NOT_LESS.format("1 km"), LEGS),
    "most leg": ("XDD", NOT_MORE.format("1 km"), LEGS),
    "measuring radius": (
        "JDG",
        'target = "T"\nmeasuring_radius = "500 m"\noutside_radius = "no result"',
        {"": (-300.0, 400.0)},
    ),
}
MOVED = {
    "edge of an area": {"": (500.001, 360.0)},
    "corner of an area": {"": (-500.001, 500.0)},
    "least leg": {"A": (-300.0, -400.0), "B": (300.0, 399.998)},
    "most leg": {"A": (-300.0, -400.0), "B": (300.0, 400.002)},
    "measuring radius": {"": (-300.0, 400.002)},
}


def why(code, task, where):
    own = Worked(
        task=task,
        places=TARGET | GOAL | {"area": AREA},
        marks=where,
        times={},
        sum="",
        result=0.0,
    )
    tasks = f'[[task]]\nnumber = 1\nkind = "{code}"\nstate = "flown"\n{task}\n'
    flight = tiny_flight(tasks=tasks, marks=marks(own))
    raw = replace(tiny_raw(flight, rules=RULES), places=tuple(features(own)))
    return score(build_event(raw)).tasks[0].score_of(1).why


@pytest.mark.parametrize("name", CASES)
def test_what_lies_on_a_limit_keeps_to_it_and_a_millimetre_more_does_not(name):
    code, task, where = CASES[name]
    assert why(code, task, where) is None
    assert why(code, task, MOVED[name]) is not None
