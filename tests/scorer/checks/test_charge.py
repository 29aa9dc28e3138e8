"""The arithmetic of penalties, by hand."""

import pytest

from scorer.checks.charge import charge, describe
from scorer.event.model import PenaltyUnit, Units
from scorer.event.rulebook import Count, PenaltyRule, PenaltyStep
from scorer.words.voice import Voice
from tests.helpers import said


def amounts(excess, **rule):
    return [a.amount for a in charge((PenaltyRule(**rule),), excess)]


POINTS = {"unit": "task points"}
A_MINUTE = {**POINTS, "per": 100.0, "of": "min", "of_si": 60.0}


def test_a_fixed_penalty_does_not_ask_for_the_excess():
    assert amounts(0.0, **POINTS, base=200.0) == [200]
    assert amounts(99.0, **POINTS, base=200.0) == [200]


def test_a_point_a_foot_counts_exact_feet_and_rounds_the_points():
    feet = {**POINTS, "per": 1.0, "of": "ft", "of_si": 0.3048}
    assert amounts(4.46, **feet) == [15]  # 14.63
    assert amounts(14.5 * 0.3048, **feet) == [15]  # the half goes up
    assert amounts(14.49 * 0.3048, **feet) == [14]


@pytest.mark.parametrize(
    ("seconds", "points"),
    [
        (0.0, 0),
        (1.0, 100),
        (60.0, 100),
        (61.0, 200),
        (120.0, 200),
        (120.0000002, 200),
        (121.0, 300),
    ],
)
def test_a_minute_begun_counts_whole_and_float_dust_begins_none(seconds, points):
    """100 points a minute or part: rules of a 2014 event, see the shipped book."""
    assert amounts(seconds, **A_MINUTE, count=Count.STARTED) == [points] * (points > 0)


@pytest.mark.parametrize(
    ("seconds", "points"), [(59.0, 0), (59.9999999, 100), (60.0, 100), (119.0, 100)]
)
def test_only_completed_minutes_count_where_the_book_says_so(seconds, points):
    assert amounts(seconds, **A_MINUTE, count=Count.FULL) == [points] * (points > 0)


def test_times_of_day_as_floats_make_no_extra_minute():
    start = 1_789_200_000.1
    for minutes in range(1, 60):
        end = start + 60.0 * minutes
        assert amounts(end - start, **A_MINUTE, count=Count.STARTED) == [100 * minutes]


def test_a_cap_bounds_the_sum():
    assert amounts(1e4, **A_MINUTE, base=50.0, cap=500.0) == [500]


def test_steps_hold_from_their_excess_on():
    steps = (PenaltyStep(over=0.0, amount=50.0), PenaltyStep(over=10.0, amount=100.0))
    assert amounts(0.0, **POINTS, steps=steps) == [50]
    assert amounts(9.99, **POINTS, steps=steps) == [50]
    assert amounts(10.0, **POINTS, steps=steps) == [100]
    assert amounts(1e3, **POINTS, steps=steps[::-1]) == [100]


def test_under_the_first_step_nothing_is_due():
    assert amounts(4.0, **POINTS, steps=(PenaltyStep(over=5.0, amount=50.0),)) == []


def test_metres_are_not_rounded():
    assert amounts(0.25, unit="metres", per=0.5, of="m") == [0.125]


def test_no_result_and_disqualified_have_no_amount():
    for unit in ("no result", "disqualified"):
        (amount,) = charge((PenaltyRule(unit=unit),), 3.0)
        assert (amount.amount, amount.unit) == (0.0, PenaltyUnit(unit))


def test_several_penalties_on_one_act_are_all_charged_in_order():
    rules = (
        PenaltyRule(unit="task points", base=50.0),
        PenaltyRule(unit="metres", base=50.0),
    )

    charged = charge(rules, 0.0)

    assert [(a.amount, a.unit) for a in charged] == [
        (50, PenaltyUnit.TASK_POINTS),
        (50, PenaltyUnit.METRES),
    ]


def test_an_excess_under_nothing_counts_as_nothing():
    assert amounts(-5.0, **POINTS, base=10.0, per=1.0, of="m") == [10]


def test_the_sum_is_told_in_figures():
    rule = PenaltyRule(**A_MINUTE, base=20.0, count=Count.STARTED, cap=150.0)
    assert said(describe(rule, 61.0)) == (
        "20 for it and 2 min beyond the limit at 100 for each, at most 150: "
        "150 task points"
    )
    assert said(describe(PenaltyRule(unit="no result"), 1.0)) == "no result"
    graded = PenaltyRule(unit="metres", steps=(PenaltyStep(over=0.0, amount=50.0),))
    assert said(describe(graded, 1.0)) == "50 for how far it was: 50.00 m of result"


@pytest.mark.parametrize(
    ("of", "of_si", "metric", "imperial"),
    [
        ("ft", 0.3048, "36.39 ft (11.1 m)", "36.39 ft"),
        ("m", 1.0, "11.09 m", "11.09 m (36 ft)"),
        ("min", 60.0, "0.18 min", "0.18 min"),
    ],
)
def test_a_length_counted_otherwise_than_the_event_reads_is_told_both_ways(
    of, of_si, metric, imperial
):
    """A foot is 0.3048 m (international yard, 1959)."""
    rule = PenaltyRule(**POINTS, per=1.0, of=of, of_si=of_si)
    told = describe(rule, 36.39 * 0.3048)
    for units, text in ((Units.METRIC, metric), (Units.IMPERIAL, imperial)):
        assert f"{text} beyond the limit: " in Voice(units=units).say(told)
    german = Voice(units=Units.METRIC, language="de").say(told)
    assert metric.replace(".", ",") in german
