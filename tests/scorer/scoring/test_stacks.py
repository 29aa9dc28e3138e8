"""Marks of one stack of sheets that are wrong in one way are one matter, one decision."""

import pytest

from scorer.checks.mark_told import check_marks
from scorer.event import matters
from scorer.event.matter import grouped
from scorer.geodesy.site import Site
from scorer.scoring.meant import GuessBasis, doubted
from scorer.scoring.stacks import with_stacks
from tests.bench.marks import meet, weighed_meet
from tests.helpers import said


def told_of(own, rows):
    """Return what is told of marks and tracks, like ones as one."""
    event, taken, marks, weighing = weighed_meet(own, rows)
    courses = {n: (lambda c=c: c) for n, c in own.courses.items()}
    hand = GuessBasis(
        event=event,
        flight=event.flights[0],
        site=Site.of(event),
        agreed=taken.by_pilot,
        courses=courses,
    )
    doubts = with_stacks(weighing, hand, doubted(weighing, hand))
    return grouped(check_marks(marks, doubts))


def polar_from(own, start):
    """Return the places of the rows measured from a point."""
    return [
        k
        for k, r in enumerate(own.rows)
        if r["method"] == "polar" and r["from"] == start
    ]


@pytest.fixture(scope="module")
def own():
    return meet(60, 31, timed=False)


def wrong(own, where, **cells):
    rows = list(own.rows)
    for k in where:
        made = {c: how(rows[k][c]) for c, how in cells.items()}
        rows[k] = {**rows[k], **made}
    return rows


def stacks(told):
    return [m for m in told if m.kind is matters.STACK_UNFIT]


def back(bearing):
    return f"{(float(bearing) + 180.0) % 360.0:.1f}"


def numbers(own, where):
    return tuple(sorted(int(own.rows[k]["pilot"]) for k in where))


def test_right_marks_are_no_stack(own):
    assert stacks(told_of(own, own.rows)) == []


def test_a_reference_that_is_wrong_for_a_stack_is_one_matter(own):
    where = polar_from(own, "P")
    assert len(where) >= 3

    told = told_of(own, wrong(own, where, **{"from": lambda _: "Q"}))

    (stack,) = stacks(told)
    right = polar_from(own, "Q")
    assert set(stack.pilots) >= set(numbers(own, where)) - set(numbers(own, right))
    assert not set(stack.pilots) & set(numbers(own, right))
    assert (stack.holds_up, stack.task) == (True, 1)
    assert stack.says.kind == "stack-reference-many"
    assert "measured from Q and fit their flights if they were measured from P" in said(
        stack
    )
    assert len(stack.members) == len(stack.pilots)


def test_a_stack_of_which_no_mark_is_odd_by_itself_is_told_by_all_of_them():
    """Six wrong ones of sixty teach a throw to which they look usual."""
    few = meet(30, 4, timed=False)
    where = polar_from(few, "V")

    (stack,) = stacks(told_of(few, wrong(few, where, **{"from": lambda _: "W"})))

    assert len(where) == 6
    assert stack.pilots == numbers(few, where)


def test_bearings_read_from_the_other_end_by_one_team_are_one_matter(own):
    where = polar_from(own, "U")
    assert len(where) >= 3

    (stack,) = stacks(told_of(own, wrong(own, where, bearing=back)))

    assert stack.pilots == numbers(own, where)
    assert stack.says.kind == "stack-turned-many"
