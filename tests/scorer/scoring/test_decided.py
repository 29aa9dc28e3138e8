"""Decisions of the competition office: asked, given, set, the mean of the others."""

import pytest

from scorer.errors import InputError
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.helpers import lines
from tests.scorer.tiny import FIN, tiny, tiny_flight

HEAD = "task,pilot,finding,decision,amount,unit,reason,by\n"
MARKS = """task,pilot,method,distance,by
{0},1,tape,3 m,K
{0},2,tape,5 m,K
{0},3,tape,9 m,K
{0},4,none,,K
"""


def flight(number, rulings="", marks=MARKS, **more):
    return tiny_flight(
        f"f{number}",
        tasks=FIN.replace("number = 1", f"number = {number}"),
        marks=marks.format(number),
        day=f"2026-06-0{number}",
        rulings=HEAD + rulings,
        **more,
    )


def scored(rulings="", tasks=3, **more):
    """Score some tasks with decisions in the first flight; all must verify."""
    first = flight(1, rulings, **more)
    results = score(tiny(first, *map(flight, range(2, tasks + 1))))
    assert verify(read_results(to_json(results), "results.json")) == []
    return results


PLAIN = {1: 1000, 2: 750, 3: 500, 4: 250}
"""Four entered, M = 2; the fourth flew without a result: (1000 · (4 + 1 − 3) / 4) / 2."""


def first_scores(results):
    return {own.pilot: own.score for own in results.task(1).scores}


def test_without_decisions():
    assert first_scores(scored()) == PLAIN


def test_a_bonus_is_given_and_told():
    results = scored("1,3,,bonus,120,task points,blocked at launch,Jo\n")
    own = results.task(1).score_of(3)
    assert (own.score, own.task_penalty, own.rank) == (620, -120, 3)
    told = "\n".join(lines(own.way, results.voice))
    assert "bonus: 120 task points (bonus, by Jo, because: blocked at launch)" in told
    assert "500 + 120 = 620" in told


def test_a_bonus_on_the_whole_event_adds_to_the_total():
    before = scored().standings.rows
    after = scored(",3,,bonus,40,event points,redress,Jo\n").standings.rows
    totals = [{row.pilot: row.total for row in rows} for rows in (before, after)]
    assert totals[1][3] - totals[0][3] == 40


def test_a_score_is_set_and_others_keep_theirs():
    results = scored("1,2,,score,900,task points,the jury's decision,Jury\n")
    assert first_scores(results) == {**PLAIN, 2: 900}
    told = lines(results.task(1).score_of(2).way, results.voice)
    assert told[-1].startswith("score by decision: 900")


def test_a_set_score_comes_after_penalties():
    both = "1,2,,impose,100,task points,late,A\n1,2,,score,700,,the jury,Jury\n"
    assert first_scores(scored(both))[2] == 700


def test_a_result_is_given_in_place_of_what_was_measured():
    results = scored("1,4,,result,4.25,metres,mark taken away by a child,Jo\n")
    own = results.task(1).score_of(4)
    assert (own.result, own.rank, str(own.group)) == (4.25, 2, "A")
    assert not [m for m in results.matters if m.holds_up and m.pilots == (4,)]


def test_somebody_of_whom_nothing_is_known_can_be_given_a_result():
    marks = MARKS.replace("{0},4,none,,K\n", "")
    results = scored("1,4,,result,1,metres,measured by the crew,Jo\n", marks=marks)
    assert results.task(1).score_of(4).rank == 1
    assert results.task(1).missing == ()


def test_the_mean_of_the_other_scores_half_up():
    second = flight(2, "2,3,,impose,99,task points,late,A\n")
    results = score(tiny(flight(1, "1,3,,average,,,no fair chance,Jo\n"), second))
    assert results.task(1).score_of(3).score == 401
    three = scored("1,3,,average,,,no fair chance,Jo\n1,2,,average,,,same,Jo\n")
    assert first_scores(three) == PLAIN  # like scores in all tasks: by hand 500 and 750


def test_a_mean_leaves_out_other_means():
    rulings = [f"{n},2,,average,,,no fair chance,Jo\n" for n in (1, 2)]
    results = score(tiny(flight(1, rulings[0]), flight(2, rulings[1]), flight(3)))
    assert [task.score_of(2).score for task in results.tasks] == [750, 750, 750]


LOW = "task,pilot,kind,by\n1,2,ground-contact,E\n"


def test_an_infringement_is_held_while_the_pilot_is_asked():
    held = scored(
        "1,2,ground-contact,hold,,,come to the office,Jo\n", tasks=1, reports=LOW
    )
    open_ = scored(tasks=1, reports=LOW)
    assert first_scores(held) == first_scores(open_)
    (matter,) = [m for m in held.matters if m.kind.name == "unruled"]
    assert matter.holds_up
    assert matter.says.kind == "undecided-held"
    waived = "1,2,ground-contact,hold,,,come,Jo\n1,2,ground-contact,waive,,,heard,Jo\n"
    after = scored(waived, tasks=1, reports=LOW)
    assert not [
        m for m in after.matters if m.kind.name.startswith(("unruled", "ruling"))
    ]


@pytest.mark.parametrize(
    "row",
    [
        "1,2,,bonus,,task points,r,Jo",
        "1,2,,bonus,10,metres,r,Jo",
        "1,2,,bonus,-10,task points,r,Jo",
        "1,2,,score,,task points,r,Jo",
        "1,2,,score,10,event points,r,Jo",
        "1,2,,result,3,,r,Jo",
        "1,2,,result,,metres,r,Jo",
        "1,2,,average,10,,r,Jo",
        "1,2,ground-contact,average,,,r,Jo",
        "1,2,,hold,,,r,Jo",
        ",2,,score,10,task points,r,Jo",
        ",2,,average,,,r,Jo",
    ],
)
def test_a_decision_that_makes_no_sense_is_refused(row):
    with pytest.raises(InputError, match=r"rulings\.csv"):
        tiny(flight(1, row + "\n"))
