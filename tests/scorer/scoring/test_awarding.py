"""Prizes that the event declares: for whom, how many, what becomes of ties."""

import tomllib
from dataclasses import replace

import pytest

from scorer.errors import InputError
from scorer.event.build import build_event
from scorer.scoring.awarding import given
from scorer.scoring.score import score
from scorer.sheets.awards import write_awards
from tests.scorer.sheets import meet
from tests.scorer.tiny import FIN, RULES, tiny_flight, tiny_raw

ROWS = "task,pilot,method,distance,by\n"
BEST = (
    {1: "1 m", 2: "2 m", 3: "3 m", 4: "4 m"},
    {2: "1 m", 1: "2 m", 3: "9 m", 4: "9 m"},
)
"""Two tasks: 1 and 2 change places, 3 and 4 are equal in the second."""


def made(declared, results=BEST, rules=""):
    """Make an event of one task a day with these prizes."""
    flights = []
    for number, marks in enumerate(results, start=1):
        rows = "".join(f"{number},{n},tape,{d},K\n" for n, d in marks.items())
        flights.append(
            tiny_flight(
                f"f{number}",
                tasks=FIN.replace("number = 1", f"number = {number}"),
                marks=ROWS + rows,
                day=f"2026-06-0{number}",
            )
        )
    raw = tiny_raw(*flights, rules=RULES + rules)
    return build_event(
        replace(raw, settings={**raw.settings, **tomllib.loads(declared)})
    )


def prizes(declared, results=BEST, rules=""):
    event = made(declared, results, rules)
    return [one.places for one in given(event, score(event))]


def award(*lines):
    return "[[award]]\nname = 'Cup'\n" + "\n".join(lines) + "\n"


def test_ties_are_shared():
    assert prizes(award("for = 'overall'")) == [((1, 1), (1, 2), (3, 3))]


def test_ties_are_counted_back_by_places_in_tasks():
    """By hand: 5 + 1, 3 + 3 and 1 + 5 points; one first place goes before none."""
    both = ({1: "1 m", 2: "2 m", 3: "3 m"}, {3: "1 m", 2: "2 m", 1: "3 m"})
    places = 'points.method = "places"\npoints.places = [5, 3, 1]\n'
    equal = prizes(award("for = 'overall'"), both, places)
    assert equal == [((1, 1), (1, 2), (1, 3))]
    counted = award("for = 'overall'", "ties = 'counted back'")
    assert prizes(counted, both, places) == [((1, 1), (1, 3), (3, 2))]


def test_ties_of_a_task_are_counted_back_by_the_standings():
    declared = award("for = 'task'", "task = 2")
    assert prizes(declared) == [((1, 2), (2, 1), (3, 3), (3, 4))]
    counted = award("for = 'task'", "task = 2", "ties = 'counted back'")
    assert prizes(counted) == [((1, 2), (2, 1), (3, 3))]


def test_each_task_and_each_day_has_its_own():
    assert len(prizes(award("for = 'task'", "places = 1"))) == 2
    days = prizes(award("for = 'day'", "places = 1"))
    assert days == [((1, 1),), ((1, 2),)]
    assert prizes(award("for = 'day'", "day = 2026-06-02", "places = 1")) == [((1, 2),)]


def test_classes_are_placed_among_themselves():
    assert prizes(award("for = 'class'", "places = 1")) == [((1, 1),), ((1, 2),)]
    assert prizes(award("for = 'class'", "class = 'AX-8'", "places = 2")) == [
        ((1, 2), (2, 4))
    ]
    assert prizes(award("for = 'task'", "task = 1", "class = 'AX-8'")) == [
        ((1, 2), (2, 4))
    ]


def test_classes_scored_by_themselves_have_prizes_of_their_own_in_a_task():
    """Places of two classes are no equal places of one task."""
    rules = "points.by_class = true\n"
    both = prizes(award("for = 'task'", "task = 1"), rules=rules)
    assert both == [((1, 1), (2, 3)), ((1, 2), (2, 4))]
    own = prizes(award("for = 'task'", "task = 1", "class = 'AX-8'"), rules=rules)
    assert own == [((1, 2), (2, 4))]


@pytest.mark.parametrize(
    "lines",
    [
        ["for = 'luck'"],
        [],
        ["for = 'day'", "task = 1"],
        ["for = 'overall'", "class = 'AX-8'"],
        ["for = 'class'", "class = 'AX-9'"],
        ["for = 'task'", "places = 0"],
        ["for = 'task'", "places = 1000"],
        ["for = 'task'", "ties = 'toss'"],
        ["for = 'day'", "day = 'monday'"],
        ["for = 'task'", "prize = 'hat'"],
    ],
)
def test_a_prize_that_makes_no_sense_is_refused(lines):
    with pytest.raises(InputError, match="award"):
        made(award(*lines))


@pytest.mark.parametrize(
    "declared", ["award = 3", "award = ['cup']", "[award]\nfor = 1"]
)
def test_prizes_are_tables(declared):
    with pytest.raises(InputError, match="award"):
        made(declared)


def test_the_list_is_printed_in_the_order_declared():
    kinds = ("overall", "class", "day", "task", "team")
    declared = "".join(award(f"for = '{kind}'") for kind in kinds)
    event = made(declared)
    pdf = write_awards(score(event), event, meet.STAMP)
    assert pdf.startswith(b"%PDF")
