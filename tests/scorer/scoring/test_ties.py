"""Equal results under `ties = "mean"`: the mean of the points of the places they share.

The oracle gives every place its points, as fractions, and takes the mean.
"""

import random
from fractions import Fraction
from math import floor

from scorer.event.rulebook import PointsRule
from scorer.scoring.document import to_json
from scorer.scoring.points import award
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.scorer.tiny import RULES, tiny, tiny_flight

MEAN = PointsRule(ties="mean")


def oracle(results, entered):
    ordered = sorted(results)
    median = min(-(-entered // 2), len(ordered))
    at_median = floor(Fraction(1000 * (entered + 1 - median), entered) + Fraction(1, 2))

    def of_place(place, result):
        if place < median:
            share = (result - ordered[0]) / (ordered[median - 1] - ordered[0])
            return 1000 - (1000 - at_median) * share
        return Fraction(1000 * (entered + 1 - place), entered)

    points = {}
    for result in ordered:
        places = [i for i, r in enumerate(ordered, 1) if r == result]
        if result == ordered[0]:
            points[result] = 1000
        else:
            mean = sum(of_place(p, result) for p in places) / len(places)
            points[result] = floor(mean + Fraction(1, 2))
    return points


def awarded(results, entered):
    field = {pilot: Fraction(r) for pilot, r in enumerate(results, 1)}
    return award(field, (), entered, MEAN, greatest=False)[1]


def test_a_group_on_both_sides_of_the_median():
    """By hand: P = 6, M = 3, SM = 667; places 2 to 5 are (667 + 667 + 500 + 333) / 4.

    Exactly: (667 + 2000/3 + 500 + 1000/3) / 4 = 541.75.
    """
    found = awarded([1, 4, 4, 4, 4, 9], 6)

    assert [found[p].points for p in (1, 2, 5, 6)] == [1000, 542, 542, 167]
    assert found[2].how.kind == "points-across-median"


def test_fields_with_many_equal_results_agree_with_the_oracle():
    dice = random.Random(9)
    across = 0
    for _ in range(300):
        size = dice.randrange(1, 14)
        results = [Fraction(dice.randrange(1, 6)) for _ in range(size)]
        entered = size + dice.randrange(4)
        found, wanted = awarded(results, entered), oracle(results, entered)
        assert {results[p - 1]: own.points for p, own in found.items()} == wanted
        across += any(own.how.kind == "points-across-median" for own in found.values())
    assert across > 20


def test_the_earlier_drop_parts_equal_results():
    """By hand: P = 4, M = 2: places 1, 3, 2 and a tie of those whose times are unknown."""
    marks = (
        "task,pilot,method,distance,time\n1,1,tape,9,07:10\n1,2,tape,9,07:05\n"
        "1,3,tape,4,07:30\n1,4,tape,30,\n"
    )
    rules = RULES + 'points.parted_by = "earlier-drop"\n'
    results = score(tiny(tiny_flight(marks=marks), rules=rules))
    found = {s.pilot: (s.rank, s.formula_points) for s in results.tasks[0].scores}

    assert found == {3: (1, 1000), 2: (2, 750), 1: (3, 500), 4: (4, 250)}
    assert verify(read_results(to_json(results), "results.json")) == []

    unknown = marks.replace("07:05", "")
    results = score(tiny(tiny_flight(marks=unknown), rules=rules))
    assert sorted(s.rank for s in results.tasks[0].scores) == [1, 2, 2, 4]
