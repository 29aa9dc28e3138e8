"""The breakdown a pilot reads: nothing of what bore on the points is left out."""

import re

import pytest

from scorer.scoring.explain import explain
from scorer.scoring.score import score
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight

MARKS = """task,pilot,method,distance,by,note
1,1,tape,33 ft 0 in,Eva,windy
1,2,tape,66 ft,Eva,
1,3,tape,99 ft,Eva,
1,4,tape,99 ft,Eva,
"""
RULINGS = """task,pilot,finding,decision,amount,unit,rule,reason,by,at
1,2,,impose,10,metres,drop,thrown with a swing,Ida,2026-06-01 11:00
1,3,,impose,40,task points,briefing,late to the briefing,Ida,2026-06-01 11:05
,1,,impose,100,event points,conduct,landed in a crop,Ida,2026-06-02 09:00
"""


def breakdown(pilot, task=None, rules=RULES):
    flight = tiny_flight(marks=MARKS, rulings=RULINGS)
    event = tiny(flight, units="imperial", rules=rules)
    return "\n".join(explain(event, score(event), pilot, task))


def test_evidence_is_named_with_its_file_and_line():
    text = breakdown(1)

    assert "mark: 33 ft 0.0 in by Eva [marks.csv, line 2]" in text
    assert "note: windy" in text
    assert "no flight log" in text


def test_an_event_in_feet_is_told_in_feet_as_they_were_taped():
    """33 ft = 10.0584 m by the foot of 0.3048 m; ranked as 10.06 m."""
    text = breakdown(1)

    assert "result: 33 ft 0.0 in" in text
    assert "best 33 ft 0.0 in" in text
    assert re.search(r"measured to ± \d+\.\d in", text)
    assert not re.search(r"\d m\b", text), "metres beside feet"


def test_the_formula_has_its_numbers_in_words():
    """By hand: P = 4, A = 4, M = 2; pilots 3 and 4 share rank 3: 1000·(4 + 1 − 3)/4."""
    text = breakdown(3)

    # 66 ft and 10 m of penalty are 98 ft 9.7 in; 1000·(4 + 1 − 2)/4 = 750
    assert (
        "place 3, from the median place 2 on: 1000 × (4 + 1 − 3) ÷ 4 = 500 points"
        in text
    )
    assert (
        "4 entered, 4 with result, median rank 2 (98 ft 9.7 in, 750 points), "
        "best 33 ft 0.0 in" in text
    )
    assert "rule: points formula: the formula of the model event rules" in text


def test_a_penalty_in_metres_is_shown_where_it_enters():
    text = breakdown(2)

    # 66 ft = 20.1168 m
    # 10 m = 32 ft 9.7 in; 30.1168 m / 0.3048 = 98.808 ft
    assert "result: 66 ft 0.0 in and 32 ft 9.7 in penalty on top: 98 ft 9.7 in" in text
    assert "added by an official: 32 ft 9.7 in of result" in text
    assert "by Ida, 2026-06-01 11:00, because: thrown with a swing; rule: drop" in text


def test_points_taken_off_are_a_sum():
    assert re.search(r"score: (\d+) − 40 = \d+", breakdown(3))


def test_equal_results_name_each_other_and_the_rule():
    assert re.search(
        r"equal with 4 .*; rule: points of equal results: they share", breakdown(3)
    )


def test_the_total_tells_event_points_who_took_them_and_why():
    text = breakdown(1)

    assert "Total 900, rank" in text
    assert "competition points: −100" in text
    assert "added by an official: 100 competition points" in text
    assert "by Ida, 2026-06-02 09:00, because: landed in a crop; rule: conduct" in text


def test_one_task_alone_has_no_total():
    assert "Total" not in breakdown(1, task=1)


def test_what_the_best_of_leaves_out_is_said():
    two = FIN + FIN.replace("number = 1", "number = 2")
    marks = MARKS + "2,1,tape,99 ft,Eva,\n2,2,tape,33 ft,Eva,\n"
    event = tiny(
        tiny_flight(tasks=two, marks=marks),
        units="imperial",
        rules=RULES + "standings.best_of = 1\nstandings.by_class = true\n",
    )

    text = "\n".join(explain(event, score(event), 1))

    assert "task 2: 750 (does not count: not among the best)" in text
    assert "rule: how many of the best tasks count: 1 (set by the event)" in text
    assert "class AX-7: rank 1 of 2" in text


@pytest.mark.parametrize("pilot", [1, 2, 3, 4])
def test_no_line_is_told_twice(pilot):
    lines = [line for line in breakdown(pilot, task=1).splitlines() if line.strip()]

    assert len(lines) == len(set(lines))
