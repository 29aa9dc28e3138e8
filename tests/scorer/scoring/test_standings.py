"""Totals over tasks, best-of-N, ties, classes and teams."""

from dataclasses import replace

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


def test_more_wins_part_equal_totals_and_a_place_without_points_is_no_win():
    tasks = [
        task(1, {1: 400, 3: 300, 2: 0}),
        task(2, {1: 400, 3: 300, 2: 200}),
        task(3, {3: 200, 2: 150, 1: 0}),
        task(4, {2: 0, 1: 0, 3: 0}),  # nobody has points: no win
        task(5, {2: 450, 3: 0, 1: 0}),
    ]
    table = standings(tasks, PILOTS, {}, StandingsRule(ties="most-wins"))

    assert lines(table) == [(1, 1, 800), (2, 2, 800), (2, 3, 800)]


def test_the_last_task_parts_equal_totals_then_the_one_before():
    tasks = [task(1, {1: 500, 2: 400, 3: 300}), task(2, {1: 300, 2: 400, 3: 500})]
    rule = StandingsRule(ties="last-task")
    assert lines(standings(tasks, PILOTS, {}, rule)) == [
        (1, 3, 800),
        (2, 2, 800),
        (3, 1, 800),
    ]
    tasks.append(task(3, {1: 100, 2: 100, 3: 100}))
    ranked = [row.pilot for row in standings(tasks, PILOTS, {}, rule).rows]
    assert ranked == [3, 2, 1]


def test_who_was_not_entered_in_a_task_has_no_score_of_it():
    tasks = [
        task(1, {1: 0, 2: 600}),
        task(2, {1: 500, 2: 100, 3: 400}),
        task(3, {1: 0, 3: 100}),
    ]
    rows = {r.pilot: r for r in standings(tasks, PILOTS, {}, StandingsRule()).rows}

    assert rows[1].tasks == {1: 0, 2: 500, 3: 0}
    assert rows[2].tasks == {1: 600, 2: 100}
    assert (rows[2].total, rows[2].counted) == (700, (1, 2))
    assert (rows[3].tasks, rows[3].counted) == ({2: 400, 3: 100}, (2, 3))

    best = standings(tasks, PILOTS, {}, StandingsRule(best_of=2)).rows
    counted = {row.pilot: row.counted for row in best}
    assert counted == {1: (1, 2), 2: (1, 2), 3: (2, 3)}


def test_scores_of_nothing_that_somebody_flew_for_count_before_those_of_others():
    """Pilot 2 was entered in tasks 2 and 3 alone: of three zeros his own is named."""
    tasks = [task(1, {1: 9}), task(2, {1: 9, 2: 0}), task(3, {1: 9, 2: 5})]
    row = standings(tasks, PILOTS, {}, StandingsRule(best_of=2)).rows[1]
    assert (row.pilot, row.total, row.counted) == (2, 5, (2, 3))


def test_as_many_best_tasks_as_there_are_count_all():
    table = standings(TASKS, PILOTS, {}, StandingsRule(best_of=2))
    assert lines(table) == [(1, 1, 1200), (1, 2, 1200), (3, 3, 1100)]
    assert all(row.counted == (1, 2) for row in table.rows)


def test_equal_totals_stand_in_the_order_of_their_numbers():
    pilots = list(reversed(PILOTS))
    table = standings([task(1, {3: 7, 2: 7, 1: 7})], pilots, {}, StandingsRule())
    assert lines(table) == [(1, 1, 7), (1, 2, 7), (1, 3, 7)]


def test_classes_are_listed_by_name_and_who_has_none_is_in_none():
    pilots = [*PILOTS, Pilot(number=4, name="Dot")]
    overall = standings(
        [task(1, {4: 900, 1: 700, 2: 800, 3: 700})], pilots, {}, StandingsRule()
    )

    found = {t.title: lines(t) for t in class_standings(overall, pilots)}
    assert found == {"AX-7": [(1, 2, 800)], "AX-8": [(1, 1, 700), (1, 3, 700)]}
    assert list(found) == ["AX-7", "AX-8"]


def test_a_team_has_the_scores_of_its_pilots_by_task_and_who_has_no_team_none():
    pilots = [*PILOTS, Pilot(number=4, name="Dot")]
    tasks = [
        task(1, {1: 300, 2: 500, 3: 200, 4: 999}),
        task(2, {1: 10, 2: 9, 3: 20}),
    ]
    rule = StandingsRule(team_column="Team")
    overall = standings(tasks, pilots, {}, rule)

    table = team_standings(overall, pilots, rule)

    assert [(r.rank, r.pilot, r.total) for r in table.rows] == [
        (1, 1, 530),
        (2, 2, 509),
    ]
    assert [dict(r.tasks) for r in table.rows] == [{1: 500, 2: 30}, {1: 500, 2: 9}]
    assert table.teams == {"red": (1, 3), "blue": (2,)}
    assert table.members == {"red": 2, "blue": 1}


@pytest.mark.parametrize("column", ["class", "country"])
def test_a_team_may_be_a_class_or_a_country(column):
    pilots = [
        Pilot(number=n, name=f"P{n}", class_name=group, country=group)
        for n, group in ((1, "a"), (2, "b"), (3, "a"))
    ]
    rule = StandingsRule(team_column=column, team_size=2)
    overall = standings([task(1, {1: 5, 2: 9, 3: 6})], pilots, {}, rule)
    table = team_standings(overall, pilots, rule)
    assert list(table.teams.items()) == [("a", (3, 1)), ("b", (2,))]


def test_points_add_up_where_one_task_of_several_gives_some():
    """Results add up only where no task gives points."""
    none = task(2, {1: 0, 2: 0, 3: 0})
    without = replace(none, formula=replace(none.formula, method="none"))
    rule = StandingsRule()

    assert standings([TASKS[0], without], PILOTS, {}, rule).by == "points"
    assert standings([without], PILOTS, {}, rule).by == "result"
    far = replace(without, task=3, best="greatest")  # of two kinds: nothing adds up
    assert standings([without, far], PILOTS, {}, rule).by == "points"
