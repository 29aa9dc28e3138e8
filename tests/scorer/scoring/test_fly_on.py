"""Fly on: a goal declared before the drop is in time, whatever else was entered."""

from scorer.scoring.score import score
from tests.scorer.tiny import RULES, tiny, tiny_flight

FON = '[[task]]\nnumber = 1\nkind = "FON"\ndeclare_by = "drop"\n'
LATE = RULES + (
    "declarations.late_penalty = "
    '{ unit = "task points", per = 10, of = "min", count = "started" }\n'
)


def penalties(marks):
    flight = tiny_flight(
        tasks=FON,
        marks="task,pilot,mark,method,easting,northing,time\n" + marks,
        declarations="task,pilot,goal,time\n1,1,G,06:40\n1,2,G,06:40\n",
    )
    task = score(tiny(flight, rules=LATE)).tasks[0]
    return {s.pilot: s.task_penalty for s in task.scores if s.pilot < 3}


def test_where_a_pilot_took_off_or_landed_is_no_drop():
    marks = (
        "1,1,LAUNCH,grid,500000,4499000,06:10\n1,1,,grid,502000,4500050,06:50\n"
        "1,1,LANDING,grid,503000,4500000,06:20\n1,2,,grid,502000,4500060,06:50\n"
    )
    assert penalties(marks) == {1: 0, 2: 0}


def test_the_first_drop_is_what_a_declaration_must_come_before():
    """By hand: dropped at 06:37:30, declared at 06:40: three minutes begun."""
    marks = "1,1,,grid,502000,4500050,06:37:30\n1,2,,grid,502000,4500060,06:40\n"
    assert penalties(marks) == {1: 30, 2: 0}
