"""Equal results under `ties = "mean"`: the mean of the points of the places they share.

The oracle gives every place its points, as fractions, and takes the mean.
"""

import random
from fractions import Fraction
from math import floor

from scorer.event.rulebook import PointsRule
from scorer.scoring.points import award

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
