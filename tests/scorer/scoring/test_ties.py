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
from tests.helpers import said
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


MARKS = (
    "task,pilot,method,distance,time\n1,1,tape,9,07:10\n1,2,tape,9,07:05\n"
    "1,3,tape,4,07:30\n1,4,tape,30,\n"
)
PARTED = RULES + 'points.parted_by = "earlier-drop"\n'


def _scored(marks=MARKS, rules=PARTED):
    results = score(tiny(tiny_flight(marks=marks), rules=rules))
    assert verify(read_results(to_json(results), "results.json")) == []
    return results


def test_the_earlier_drop_parts_equal_results_and_says_so():
    """By hand: P = 4, M = 2: places 1, 3, 2."""
    results = _scored()
    found = {s.pilot: (s.rank, s.formula_points) for s in results.tasks[0].scores}
    assert found == {3: (1, 1000), 2: (2, 750), 1: (3, 500), 4: (4, 250)}

    steps = {s.pilot: said(s.steps[-1], results.voice) for s in results.tasks[0].scores}
    assert "same result as 1 Ann: the earlier first drop" in steps[2]
    assert "07:05:00" in steps[2]
    assert "same result" not in steps[3]
    assert not [m for m in results.matters if m.kind.name == "tie"]


def test_without_a_time_the_tie_stays_and_is_told():
    results = _scored(MARKS.replace("07:05", ""))
    assert sorted(s.rank for s in results.tasks[0].scores) == [1, 2, 2, 4]
    (left,) = [m for m in results.matters if m.kind.name == "tie"]
    assert left.pilots == (1, 2)
    assert not left.holds_up
    assert "No time is known of the first drop of 2 Bob" in said(left, results.voice)
    steps = {s.pilot: s.steps[-1].kind for s in results.tasks[0].scores}
    assert (steps[1], steps[2]) == ("tie-stays", "tie-stays")


def test_drops_in_one_second_share_the_place_without_a_matter():
    results = _scored(MARKS.replace("07:10", "07:05"))
    assert sorted(s.rank for s in results.tasks[0].scores) == [1, 2, 2, 4]
    assert not [m for m in results.matters if m.kind.name == "tie"]


def test_the_place_of_a_launch_is_no_drop():
    marks = (
        "task,pilot,mark,method,distance,easting,northing,time\n1,1,,tape,9,,,07:10\n"
        "1,2,,tape,9,,,07:20\n1,2,LAUNCH,grid,,500000,4499000,06:00\n"
    )
    results = _scored(marks)
    ranks = {s.pilot: s.rank for s in results.tasks[0].scores}
    assert (ranks[1], ranks[2]) == (1, 2)


def test_equal_results_are_not_parted_where_the_rules_do_not_say_so():
    results = _scored(rules=RULES)
    assert sorted(s.rank for s in results.tasks[0].scores) == [1, 2, 2, 4]


def test_best_results_of_one_length_all_get_the_best_points_in_the_formula():
    """Formula (1) gives 1000 to R = W, whoever fell first; a list of places does not."""
    marks = MARKS.replace("tape,4,07:30", "tape,9,07:30")
    own = {s.pilot: (s.rank, s.score) for s in _scored(marks).tasks[0].scores}
    assert own == {2: (1, 1000), 1: (2, 1000), 3: (3, 1000), 4: (4, 250)}
    places = PARTED + 'points.method = "places"\npoints.places = [10, 6, 3, 1]\n'
    own = {s.pilot: s.score for s in _scored(marks, places).tasks[0].scores}
    assert own == {2: 10, 1: 6, 3: 3, 4: 1}


def test_the_verifier_finds_a_first_drop_that_its_marks_do_not_have():
    tree = read_results(to_json(_scored()), "results.json")
    own = next(s for s in tree["tasks"][0]["scores"] if s["pilot"] == 2)
    own["parted"] += 60
    (found,) = verify(tree, digests=False)
    assert "pilot 2, first drop" in found.where
