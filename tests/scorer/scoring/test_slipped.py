"""Sheets that slipped by a row, and stacks entered in two tasks."""

import pytest

from scorer.scoring.score import score
from tests.bench.marks import asked_of_rows, meet, slip_line, slipped
from tests.helpers import said
from tests.scorer.tiny import FIN, tiny, tiny_flight

TWO = FIN + FIN.replace("number = 1", "number = 2")


def stacks(first, second):
    rows = [f"1,{n},tape,{d}" for n, d in enumerate(first, start=1)]
    rows += [f"2,{n},tape,{d}" for n, d in enumerate(second, start=1)]
    marks = "task,pilot,method,distance\n" + "\n".join(rows) + "\n"
    results = score(tiny(tiny_flight(tasks=TWO, marks=marks)))
    return [m for m in results.matters if m.kind.name == "stack-twice"]


def test_one_stack_in_two_tasks_is_asked_about_once():
    (asked,) = stacks([5.01, 6.22, 7.43, 8.84], [5.01, 6.22, 7.43, 9.99])

    assert (asked.task, asked.pilots, asked.holds_up) == (2, (1, 2, 3), True)
    assert "3 of the 4 pilots" in said(asked)
    assert "task 1 and task 2" in said(asked)


def test_one_or_two_equal_numbers_are_chance():
    assert stacks([5.01, 6.22, 7.43, 8.84], [5.01, 6.22, 9.43, 9.99]) == []


@pytest.mark.parametrize("timed", [False, True])
def test_rows_one_line_off_are_one_matter_that_names_the_stretch(timed):
    own = meet(40, 17, timed=timed)
    assert asked_of_rows(own, own.rows) == []

    (asked,) = asked_of_rows(own, slipped(own, 5, 35))

    numbers = {int(own.rows[k]["pilot"]) for k in range(5, 36)}
    assert asked.task == 1
    assert len(set(asked.pilots) & numbers) >= 24
    assert len(set(asked.pilots) - numbers) <= 2
    assert asked.says.get("way") == "row-before"
    assert "slipped by a row" in said(asked)


@pytest.mark.parametrize(("pilots", "seeds"), [(10, (40, 42, 43)), (50, (41,))])
def test_short_slips_are_told_with_and_without_times(pilots, seeds):
    """`pytest -s` prints the table, `python -m tests.bench.marks slips` a longer one."""
    found = {}
    for timed in (False, True):
        found[timed], line = slip_line(pilots, seeds, timed=timed, sizes=(4, 6))
        print(line)  # noqa: T201

    assert found[False][0] == found[True][0] == 0
    assert found[True][6] == len(seeds)
    assert found[False][6] >= 0.5 * len(seeds)
