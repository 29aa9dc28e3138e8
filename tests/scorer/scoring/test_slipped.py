"""Sheets that slipped by a row, and stacks entered in two tasks."""

import pytest

from scorer.geodesy.site import Site
from scorer.scoring.evidence import take
from scorer.scoring.meant import weighed
from scorer.scoring.score import score
from scorer.scoring.slipped import shifted
from tests.bench.marks import event_of, look_at, meet
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


def slipped(own, first, last):
    """Move the measurements of some rows of task 1 down by one row."""
    rows = list(own.rows)
    for k in range(last, first, -1):
        rows[k] = {**own.rows[k - 1], "pilot": own.rows[k]["pilot"]}
    rows[first] = {**own.rows[last], "pilot": own.rows[first]["pilot"]}
    return rows


def asked_of(own, rows):
    marks, _, _ = look_at(own, rows)
    event = event_of(own, rows)
    flight = event.flights[0]
    weighing = weighed(marks, take(event, flight, Site.of(event)))
    return list(shifted(weighing, flight))


@pytest.mark.parametrize("timed", [False, True])
def test_rows_one_line_off_are_one_matter_that_names_the_stretch(timed):
    own = meet(40, 17, timed=timed)
    assert asked_of(own, own.rows) == []

    (asked,) = asked_of(own, slipped(own, 5, 35))

    numbers = {int(own.rows[k]["pilot"]) for k in range(5, 36)}
    assert asked.task == 1
    assert len(set(asked.pilots) & numbers) >= 24
    assert len(set(asked.pilots) - numbers) <= 2
    assert asked.says.get("way") == "row-before"
    assert "slipped by a row" in said(asked)
