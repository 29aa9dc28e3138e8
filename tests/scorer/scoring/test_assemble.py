"""The order of work in a score: groups, metres, points, penalties."""

from dataclasses import replace

import pytest

from scorer.event.model import TaskState
from scorer.event.rules_reader import load_book
from scorer.scoring.assemble import assemble
from scorer.scoring.results import Group
from tests.helpers import lines
from tests.scorer.scoring.made import TASK, charge, entry, kind

BOOK = load_book("festival")


def scores(*entries, task=TASK, best="smallest", unit="m"):
    result = assemble(task, kind(best, unit), BOOK, entries)
    return {s.pilot: s for s in result.scores}


def test_groups_are_result_no_result_and_not_flown():
    found = scores(
        entry(1, 10.0),
        entry(2, None),
        entry(3, None, flew=False),
        entry(4, 5.0, charge(0, "no result")),
        entry(5, 5.0, charge(0, "disqualified")),
    )

    groups = {pilot: str(score.group) for pilot, score in found.items()}
    assert groups == {1: "A", 2: "B", 3: "C", 4: "B", 5: "C"}
    # By hand: P = 5, A = 1: group B has 1000·(5 + 1 − 1)/5 ÷ 2 = 500
    assert [found[p].score for p in (1, 2, 3, 4, 5)] == [1000, 500, 0, 500, 0]
    assert [found[p].rank for p in (1, 2, 3, 4, 5)] == [1, 2, 4, 2, 4]


@pytest.mark.parametrize(("best", "result"), [("smallest", 60.0), ("greatest", 0.0)])
def test_metres_enter_the_result_the_losing_way(best, result):
    found = scores(entry(1, 10.0, charge(50, "metres")), entry(2, 30.0), best=best)

    assert found[1].result == result
    assert found[1].measured == 10.0
    assert found[2].rank == 1


def test_a_penalty_in_metres_enters_a_result_in_kilometres():
    found = scores(entry(1, 10.0, charge(500, "metres")), unit="km", best="greatest")

    assert found[1].result == 9.5


def test_task_points_come_off_and_never_below_zero():
    found = scores(entry(1, 10.0, charge(1200, "task points")), entry(2, 20.0))

    assert (found[1].formula_points, found[1].task_penalty, found[1].score) == (
        1000,
        1200,
        0,
    )


def test_event_points_leave_the_task_score_alone():
    found = scores(entry(1, 10.0, charge(100, "event points")))

    assert (found[1].score, found[1].event_penalty) == (1000, 100)


def test_what_does_not_count_is_shown_and_costs_nothing():
    found = scores(entry(1, 10.0, charge(100, "task points", counts=False)))

    assert found[1].score == 1000
    assert any("not counted" in step for step in lines(found[1].after))


def test_results_are_ranked_as_published_after_rounding():
    found = scores(entry(1, 10.004), entry(2, 10.001), entry(3, 10.005))

    assert [found[p].result for p in (1, 2, 3)] == [10.0, 10.0, 10.01]
    assert [found[p].rank for p in (1, 2, 3)] == [1, 1, 3]


def test_a_cancelled_task_gives_nothing():
    task = replace(TASK, state=TaskState.CANCELLED)

    found = scores(entry(1, 10.0, charge(100, "event points")), task=task)

    assert (found[1].score, found[1].event_penalty) == (0, 0)


def test_places_that_the_measurements_cannot_part_are_told():
    result = assemble(
        TASK,
        kind(),
        BOOK,
        [entry(1, 10.00, sigma=0.05), entry(2, 10.02, sigma=0.05), entry(3, 50.0)],
    )
    by_pilot = {s.pilot: s for s in result.scores}

    assert (by_pilot[1].rank_low, by_pilot[1].rank_high) == (1, 2)
    assert (by_pilot[3].rank_low, by_pilot[3].rank_high) == (3, 3)
    (better, worse, chance) = result.remeasure[0]
    # The difference is 0.02 ± 0.0707: the order is wrong with Φ(−0.283) = 0.389
    # (standard normal table)
    assert (better, worse) == (1, 2)
    assert chance == pytest.approx(0.389, abs=0.03)


def test_every_step_has_its_numbers_put_in():
    found = scores(entry(1, 10.0, charge(50, "metres")), entry(2, 30.0))

    assert "result: 10.00 m and 50.00 m penalty on top: 60.00 m" in lines(
        found[1].steps
    )
    assert found[1].group is Group.A
