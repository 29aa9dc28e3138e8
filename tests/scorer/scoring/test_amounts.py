"""Amounts of decisions that look like slips are asked about, and count all the same."""

from dataclasses import replace

import pytest

from scorer.event.finding import Amount
from scorer.event.model import PenaltyUnit
from scorer.scoring.amounts import off_by_a_digit
from scorer.scoring.score import score
from scorer.words.voice import Voice
from tests.helpers import said
from tests.scorer.tiny import tiny, tiny_flight

MARKS = "task,pilot,method,distance\n1,1,tape,5\n1,2,tape,6\n1,3,tape,7\n1,4,tape,8\n"
HEAD = "task,pilot,decision,amount,unit,rule,reason,by\n"


def asked(*rulings):
    own = score(
        tiny(tiny_flight(marks=MARKS, rulings=HEAD + "\n".join(rulings) + "\n"))
    )
    return [m for m in own.matters if m.says.kind == "amount-unusual"], own


def impose(pilot, amount, rule="gravity drop", decision="impose"):
    return f"1,{pilot},{decision},{amount},task points,{rule},thrown,Ann"


@pytest.mark.parametrize(
    ("one", "other", "slip"),
    [
        (100, 1000, True),
        (50, 5, True),
        (12.5, 1250, True),
        (100, 900, False),
        (0, 10, False),
    ],
)
def test_a_digit_more_or_less_is_ten_or_a_hundred_times(one, other, slip):
    assert off_by_a_digit(one, other) is slip
    assert off_by_a_digit(other, one) is slip


def test_ten_times_what_others_got_for_the_same_is_asked_about_and_counts():
    (one,), results = asked(impose(1, 50), impose(2, 50), impose(3, 500))

    assert (one.pilot, one.task, one.holds_up) == (3, 1, True)
    assert one.says.get("beside").kind == "amount-usual"
    assert "500 task points" in said(one)
    assert "50 task points" in said(one)
    assert results.task(1).score_of(3).task_penalty == 500


def test_of_two_amounts_the_greater_one_is_asked_about():
    (one,), _ = asked(impose(1, 50), impose(2, 500))
    assert one.pilot == 2


def test_other_rules_and_amounts_are_not_compared():
    found, _ = asked(impose(1, 50), impose(2, 500, rule="late"), impose(3, 75))
    assert found == []


def test_a_thousand_for_a_hundred_is_asked_about_though_nothing_is_like_it():
    (one,), _ = asked(impose(1, 1000))
    assert one.says.get("beside").kind == "amount-of-all"


def test_a_bonus_of_a_whole_task_takes_nothing():
    found, _ = asked(impose(1, 1000, decision="bonus"))
    assert found == []


def test_points_that_are_given_are_not_said_as_a_penalty_below_nothing():
    given = Amount(amount=-50, unit=PenaltyUnit.TASK_POINTS)
    assert Voice().say(given.says) == "50 task points given"
    assert Voice().say(replace(given, amount=1).says) == "1 task point"
