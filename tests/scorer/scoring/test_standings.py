"""Totals over tasks, best-of-N, ties, classes and teams."""

import pytest

from scorer.event.model import Pilot
from scorer.event.rulebook import StandingsRule
from scorer.scoring.results import Formula, Group, Score, TaskResult
from scorer.scoring.standings import class_standings, standings, team_standings

PILOTS = [
    Pilot(number=1, name="Ann", class_name="AX-8", extra={"team": "red"}),
    Pilot(number=2, name="Bob", class_name="AX-7", extra={"team": "blue"}),
    Pilot(number=3, name="Cid", class_name="AX-8", extra={"team": "red"}),
]


def task(number, points, state="flown"):
    ordered = sorted(points, key=lambda p: -points[p])
    return TaskResult(
        flight="f1",
        task=number,
        kind="FIN",
        unit="m",
        best="smallest",
        state=state,
        formula=Formula(method="international", P=3, A=3, M=2, W=1, RM=2, SM=667),
        scores=tuple(
            Score(
                pilot=pilot,
                group=Group.A,
                measured=1.0,
                sigma=0.0,
                result=1.0,
                rank=rank,
                formula_points=points[pilot],
                task_penalty=0,
                event_penalty=0,
                score=points[pilot],
                settled=True,
            )
            for rank, pilot in enumerate(ordered, start=1)
        ),
    )


TASKS = [
    task(1, {1: 1000, 2: 500, 3: 700}),
    task(2, {1: 200, 2: 700, 3: 400}),
    task(3, {1: 0, 2: 1000, 3: 900}, state="cancelled"),
]


def lines(table):
    return [(row.rank, row.pilot, row.total) for row in table.rows]


def test_totals_add_up_flown_tasks_only():
    table = standings(TASKS, PILOTS, {}, StandingsRule())

    assert lines(table) == [(1, 1, 1200), (1, 2, 1200), (3, 3, 1100)]


def test_event_penalties_may_bring_a_total_below_zero():
    table = standings(TASKS, PILOTS, {1: 1300}, StandingsRule())

    assert lines(table)[-1] == (3, 1, -100)


def test_only_the_best_so_many_tasks_count():
    table = standings(TASKS, PILOTS, {}, StandingsRule(best_of=1))

    assert lines(table) == [(1, 1, 1000), (2, 2, 700), (2, 3, 700)]
    assert table.rows[1].counted == (2,)


@pytest.mark.parametrize(
    ("ties", "first"),
    [("best-scores", 1), ("most-wins", None), ("last-task", 2)],
)
def test_equal_totals_are_parted_as_the_book_says(ties, first):
    table = standings(TASKS, PILOTS, {}, StandingsRule(ties=ties))

    if first is None:  # one win each: still equal
        assert [row.rank for row in table.rows] == [1, 1, 3]
    else:
        assert lines(table)[0][:2] == (1, first)
        assert [row.rank for row in table.rows] == [1, 2, 3]


def test_a_class_is_ranked_within_itself():
    overall = standings(TASKS, PILOTS, {}, StandingsRule())

    eights = next(t for t in class_standings(overall, PILOTS) if t.title == "AX-8")

    assert lines(eights) == [(1, 1, 1200), (2, 3, 1100)]


def test_a_team_adds_up_its_best():
    rule = StandingsRule(team_column="team", team_size=1)
    overall = standings(TASKS, PILOTS, {}, rule)

    table = team_standings(overall, PILOTS, rule)

    assert [row.total for row in table.rows] == [1200, 1200]
    assert table.teams == {"blue": (2,), "red": (1,)}
    assert team_standings(overall, PILOTS, StandingsRule()) is None


def test_equal_totals_are_parted_by_the_best_score_then_the_next():
    """The greater best score comes first; where it is equal too, the greater second."""
    tasks = [
        task(1, {1: 500, 2: 800, 3: 800}),
        task(2, {1: 500, 2: 150, 3: 100}),
        task(3, {1: 0, 2: 50, 3: 100}),
    ]
    table = standings(tasks, PILOTS, {}, StandingsRule(ties="best-scores"))

    assert lines(table) == [(1, 2, 1000), (2, 3, 1000), (3, 1, 1000)]
