"""The points formula against published scores and a plain second implementation."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.event.rulebook import PointsRule
from scorer.facts import fact, number
from scorer.facts import points as points_of
from scorer.scoring.points import award, rank_points
from tests.helpers import said

INTERNATIONAL = PointsRule()


def award_smallest(
    results, without=(), entered=None, rule=INTERNATIONAL, *, greatest=False
):
    exact = {pilot: Fraction(str(value)) for pilot, value in results.items()}
    total = entered or len(results) + len(without)
    return award(exact, tuple(without), total, rule, greatest=greatest)


@pytest.mark.parametrize(
    ("entered", "rank", "points"),
    [
        # Published results of a national championship, 2014: rank 12 of 13.
        (13, 12, 154),
        # Published results of a world championship, 2024: rank 102 of 118.
        (118, 102, 144),
    ],
)
def test_rank_points_are_the_published_ones(entered, rank, points):
    assert rank_points(entered, Fraction(rank)) == points


# Published results of a world championship task, 2022 (metres, points), noted without
# the number of the task, so a reader cannot look them up again.
PUBLISHED_LINE = [(0.17, 1000), (0.57, 995), (1.91, 979), (2.00, 977), (2.22, 975)]


def medians_that_give(published):
    """Return the results at the median, in cm, by which all published scores come out."""
    fitting = []
    for median_cm in range(3000, 5000, 10):
        results = {i: r for i, (r, _) in enumerate(published)}
        # 118 entered, as in such a championship; the ranks after fill up to the median
        for rank in range(len(results) + 1, 59):
            results[rank] = max(2.3, median_cm / 100 * rank / 59)
        results[59] = median_cm / 100
        _, pointed = award_smallest(results, entered=118)
        if all(pointed[i].points == p for i, (_, p) in enumerate(published)):
            fitting.append(median_cm)
    return fitting


def test_published_scores_lie_on_one_straight_line_from_the_best_result():
    """The source tells neither P nor the median, so the slope of the line is fitted; what
    is checked is that 1000 stands at the best result and that the line is straight."""
    fitting = medians_that_give(PUBLISHED_LINE)

    assert fitting
    assert max(fitting) < 1.01 * min(fitting)  # another slope by 1 % does not fit


def test_a_line_from_the_target_or_a_bent_one_gives_other_scores():
    from_the_target = [(0.0, 1000), *PUBLISHED_LINE]
    bent = [*PUBLISHED_LINE[:-1], (2.22, 973)]

    assert not medians_that_give(from_the_target)
    assert not medians_that_give(bent)


def plain_points(results, entered, *, greatest):
    """A second implementation, as plain as the printed words, in Fraction."""
    ordered = sorted(results.values(), reverse=greatest)
    scorers = len(ordered)
    median = entered // 2 + entered % 2
    median = min(median, scorers)
    best, at_median = ordered[0], ordered[median - 1]

    def half_up(value):
        return (2 * value.numerator + value.denominator) // (2 * value.denominator)

    points_of_median = half_up(Fraction(1000) * (entered + 1 - median) / entered)
    points = {}
    for pilot, result in results.items():
        rank = 1 + sum(
            (other > result) if greatest else (other < result) for other in ordered
        )
        if result == best:
            points[pilot] = 1000
        elif rank < median:
            share = (result - best) / (at_median - best)
            points[pilot] = half_up(1000 - (1000 - points_of_median) * share)
        else:
            points[pilot] = half_up(Fraction(1000) * (entered + 1 - rank) / entered)
    return points


fields = st.lists(
    st.integers(0, 30_000).map(lambda cm: Fraction(cm, 100)), min_size=1, max_size=60
)


@settings(max_examples=300)
@given(fields, st.integers(0, 40), st.booleans())
def test_points_equal_a_plain_second_implementation(values, others, greatest):
    results = dict(enumerate(values, start=1))
    entered = len(results) + others

    _, pointed = award(results, (), entered, INTERNATIONAL, greatest=greatest)

    assert {p: e.points for p, e in pointed.items()} == plain_points(
        results, entered, greatest=greatest
    )


@given(fields, st.integers(0, 40))
def test_a_better_result_never_has_fewer_points(values, others):
    results = dict(enumerate(values, start=1))

    _, pointed = award(
        results, (), len(results) + others, INTERNATIONAL, greatest=False
    )

    ordered = sorted(results, key=results.get)
    points = [pointed[p].points for p in ordered]
    assert points == sorted(points, reverse=True)
    assert points[0] == 1000
    assert all(p >= 1 for p in points)


@given(fields, st.integers(1, 7))
def test_a_change_of_unit_changes_no_points(values, factor):
    results = dict(enumerate(values, start=1))
    scaled = {p: v * factor for p, v in results.items()}

    ours = [
        {
            p: e.points
            for p, e in award(r, (), len(r), INTERNATIONAL, greatest=False)[1].items()
        }
        for r in (results, scaled)
    ]

    assert ours[0] == ours[1]


def test_a_worked_field_of_five():
    """By hand: P = 5, M = 3, W = 10, RM = 30, SM = 1000·(5 + 1 − 3)/5 = 600.

    20 m: 1000 − 400·10/20 = 800; 40 m: rank 4: 400; 50 m: rank 5: 200.
    """
    formula, pointed = award_smallest({1: 10, 2: 20, 3: 30, 4: 40, 5: 50})

    assert (formula.P, formula.A, formula.M, formula.SM) == (5, 5, 3, 600)
    assert [pointed[p].points for p in range(1, 6)] == [1000, 800, 600, 400, 200]


def test_the_last_of_group_a_takes_the_medians_place_when_few_have_a_result():
    """By hand: P = 10, A = 2 < M = 5, so M = 2 and SM = 1000·(10 + 1 − 2)/10 = 900."""
    formula, pointed = award_smallest({1: 10, 2: 30}, without=[3, 4], entered=10)

    assert (formula.M, formula.RM, formula.SM) == (2, 30.0, 900)
    assert pointed[2].points == 900


def test_group_b_shares_the_leftover_rank_points():
    """By hand: P = 10, A = 2: the mean of 800, 700, …, 100 is 450 = 1000·9/10 ÷ 2."""
    _, pointed = award_smallest({1: 10, 2: 30}, without=[3, 4], entered=10)

    assert [pointed[p].points for p in (3, 4)] == [450, 450]
    assert pointed[3].rank == 3


def test_everybody_has_five_hundred_when_nobody_has_a_result():
    _, pointed = award_smallest({}, without=[1, 2, 3])

    assert {e.points for e in pointed.values()} == {500}


def test_equal_to_the_best_up_to_the_median_has_a_thousand():
    _, pointed = award_smallest({1: 5, 2: 5, 3: 5, 4: 9})

    assert [pointed[p].points for p in (1, 2, 3)] == [1000] * 3


def test_ties_below_the_median_share_the_rank_or_take_the_mean():
    """By hand: P = 6, M = 3; 40 m twice at ranks 4 and 5: 500, or 1000·2.5/6 = 417."""
    field = {1: 10, 2: 20, 3: 30, 4: 40, 5: 40, 6: 50}

    shared = award_smallest(field)[1]
    mean = award_smallest(field, rule=PointsRule(ties="mean"))[1]

    assert [shared[p].points for p in (4, 5, 6)] == [500, 500, 167]
    assert [mean[p].points for p in (4, 5, 6)] == [417, 417, 167]


def test_points_by_place_come_from_the_book():
    rule = PointsRule(method="places", places=(10, 8, 6), ties="mean")

    _, pointed = award_smallest({1: 1, 2: 2, 3: 2, 4: 3}, without=[5], rule=rule)

    assert [pointed[p].points for p in range(1, 6)] == [10, 7, 7, 0, 0]


def test_showing_up_is_worth_what_the_book_says():
    rule = PointsRule(no_result="zero", show_up=50)

    _, pointed = award_smallest({1: 1}, without=[2], entered=3, rule=rule)

    assert pointed[2].points == 50


def test_the_formula_is_told_with_its_numbers_put_in():
    _, pointed = award_smallest({1: 10, 2: 20, 3: 30, 4: 40, 5: 50})

    assert said(pointed[2].how) == (
        "place 2, before the median place 3: 1000 − (1000 − 600) × "
        "(20.00 m − 10.00 m) ÷ (30.00 m − 10.00 m) = 800 points"
    )


PLACES = PointsRule(method="places", places=(10, 6, 3, 1), ties="mean")


def test_points_by_place_say_which_places_they_are_of():
    """By hand: places 2 and 3 share (6 + 3) / 2, a half going up."""
    found = award(
        {1: Fraction(1), 2: Fraction(4), 3: Fraction(4), 4: Fraction(9)},
        (),
        5,
        PLACES,
        greatest=False,
    )[1]
    assert [found[p].points for p in (1, 2, 3, 4)] == [10, 5, 5, 1]
    assert found[1].how == fact("points-of-place", rank=number(1), points=points_of(10))
    shared = {"first": number(2), "last": number(3), "points": points_of(5)}
    assert found[2].how == fact("points-of-places", **shared)
    assert found[4].how.kind == "points-of-place"


@pytest.mark.parametrize(
    ("no_result", "kind", "place", "awarded"),
    [
        ("next-place", "points-of-next-place", 3, 3),
        ("last-place", "points-of-last-place", 4, 1),
    ],
)
def test_who_has_no_result_is_told_whose_points_it_gets(
    no_result, kind, place, awarded
):
    rule = replace(PLACES, no_result=no_result)
    own = award({1: Fraction(1), 2: Fraction(4)}, (3,), 4, rule, greatest=False)[1][3]
    assert own.points == awarded
    assert own.how == fact(kind, rank=number(place), points=points_of(awarded))


def test_the_best_result_may_lie_in_the_centre():
    """By hand: P 6, M 3, RM 8, SM 1000 × 4 / 6 = 667; 1000 − 333 × 4 / 8 = 833.5."""
    results = {1: 0, 2: 4, 3: 8, 4: 20, 5: 30, 6: 40}
    formula, pointed = award_smallest(results)

    assert (formula.M, formula.W, formula.RM, formula.SM) == (3, 0, 8, 667)
    assert [pointed[p].points for p in results] == [1000, 834, 667, 500, 333, 167]


def test_the_greatest_is_first_where_it_is_best_and_numbers_part_equal_lines():
    _, pointed = award_smallest({1: 5, 2: 9, 3: 7, 4: 7}, greatest=True)
    assert {p: e.rank for p, e in pointed.items()} == {2: 1, 3: 2, 4: 2, 1: 4}
    assert list(pointed) == [2, 3, 4, 1]
    assert pointed[2].points == 1000


def test_where_nobody_has_a_result_the_formula_has_no_median():
    formula, _ = award_smallest({}, without=[1, 2])
    assert (formula.A, formula.M, formula.W, formula.RM, formula.SM) == (
        0,
        0,
        None,
        None,
        0,
    )


def test_who_has_the_least_points_by_the_formula_is_told_the_formula():
    """By hand: P 4, last place 4: 1000 × 1 / 4 = 250."""
    results, rule = {1: 1, 2: 2, 3: 3, 4: 4}, replace(INTERNATIONAL, show_up=250)
    assert award_smallest(results, rule=rule)[1][4].how.kind == "points-by-rank"
    above = replace(rule, show_up=251)
    raised = award_smallest(results, rule=above)[1][4]
    assert (raised.points, raised.how.kind, raised.rank) == (251, "points-at-least", 4)


@pytest.mark.parametrize(
    ("results", "kind", "points"),
    [
        # P 6, M 3: places 2, 3 lie on both sides: (667 + 1000 × 4 / 6) / 2
        ({1: 1, 2: 2, 3: 2, 4: 4, 5: 5, 6: 6}, "points-across-median", 667),
        # places 3, 4 both from the median on: 1000 × (7 − 3.5) / 6
        ({2: 3, 3: 3, 1: 1, 4: 2, 5: 5, 6: 6}, "points-by-rank", 583),
        # places 2, 3, 4: (667 + 1000 × 4 / 6 + 500) / 3
        ({2: 2, 3: 2, 4: 2, 1: 1, 5: 5, 6: 6}, "points-across-median", 611),
    ],
)
def test_equal_results_are_told_by_which_side_of_the_median_they_lie_on(
    results, kind, points
):
    rule = replace(INTERNATIONAL, ties="mean")
    own = award_smallest(results, rule=rule)[1]
    for pilot in (2, 3):
        how = own[pilot].how
        assert (how.kind, own[pilot].points) == (kind, points)
        if kind == "points-across-median":
            last = 1 + list(results.values()).count(results[2])
            assert (how.get("first"), how.get("last"), how.get("median")) == (
                2,
                last,
                3,
            )
            assert (how.get("median_points"), how.get("entered")) == (667, 6)


def test_without_a_formula_there_are_places_and_no_points():
    rule = PointsRule(method="none")
    _, pointed = award_smallest({1: 4, 2: 2}, without=[3], rule=rule)
    assert {p: (e.rank, e.points) for p, e in pointed.items()} == {
        2: (1, 0),
        1: (2, 0),
        3: (3, 0),
    }
    assert pointed[1].how.kind == "points-none"
