"""Declared goals: which are valid, what is late, what could mean two things."""

from dataclasses import replace

import pytest

from scorer.event import matters, place_kinds
from scorer.event.finding import Amount
from scorer.event.model import PenaltyUnit
from scorer.event.rulebook import Count, DeclarationRule, PenaltyRule
from scorer.facts import count, fact, length, term, words
from scorer.facts import place as named
from tests.scorer.tasks.evidence import (
    BOOK,
    declare,
    make_flown,
    make_keying,
    make_place,
    make_site,
    result,
    stated,
)

SPOTS = {
    "Church": (0, 0),
    "Old Mill": (2000, 0),
    "Mill Bridge": (2150, 0),
    "tower": (0, 3000),
}
SITE = make_site(SPOTS)
PLACES = {
    name: make_place(
        name, place_kinds.REFERENCE if name == "tower" else place_kinds.GOAL
    )
    for name in SPOTS
}
MARK = {"": (0, 10)}


def measured(*declarations, book=None, mark=MARK, **more):
    """Measure a PDG with these declarations; `book` are its declaration rules."""
    rules = replace(BOOK, declarations=DeclarationRule(**(book or {})))
    return result(
        "PDG",
        site=SITE,
        places=PLACES,
        marks=mark,
        declarations=declarations,
        book=rules,
        **more,
    )


@pytest.mark.parametrize(
    ("goal", "expected"),
    [
        ("Church", 10.0),
        ("  old   mill ", (2000**2 + 10**2) ** 0.5),
        ("4000 7000", 10.0),  # the church by its figures
        ("440000 4470100", 90.0),
    ],
)
def test_a_goal_is_a_name_or_coordinates(goal, expected):
    got = measured(declare(goal))

    assert got.value == pytest.approx(expected, abs=1e-9)
    assert not got.matters


@pytest.mark.parametrize(
    ("goal", "kind"),
    [
        ("", "goal-empty"),
        ("Chruch", "perhaps-meant"),
        ("tower", "coordinates-unreadable"),  # a reference is no goal
        ("123 456", "coordinates-unreadable"),
        ("440000 7470100", "coordinates-too-far"),
        ("9000 7000", "figures-doubtful"),  # 50 km off: could be either square
    ],
)
def test_a_goal_that_is_not_understood_is_not_valid_and_says_what_to_do(goal, kind):
    got = measured(declare(goal))

    assert (got.value, got.reason) == (None, fact("no-valid-goal"))
    assert stated(got, "goal-not-valid")["goal"] == words(goal)
    assert stated(got, kind)
    if kind == "perhaps-meant":
        assert stated(got, kind)["goal"] == named("Church")
    assert {w.kind for w in got.matters} == {matters.DECLARATION}


@pytest.mark.parametrize(
    ("how", "goal", "valid"),
    [
        ("name", "Church", True),
        ("name", "4000 7000", False),
        ("coordinates", "4000 7000", True),
        ("coordinates", "Church", False),
        ("any", "Church", True),
    ],
)
def test_a_task_can_ask_for_names_or_for_coordinates(how, goal, valid):
    got = measured(declare(goal), settings={"declare_as": how})

    assert (got.value is not None) is valid


def test_a_task_can_list_the_goals_that_may_be_declared():
    settings = {"goal_places": ["Church", "tower"]}

    assert measured(declare("tower"), settings=settings).value == pytest.approx(2990.0)
    assert measured(declare("Old Mill"), settings=settings).value is None
    asked = measured(declare("4000 7000"), settings=settings)
    goals = stated(asked, "goal-must-be-named").get("goals")
    assert goals == (named("Church"), named("tower"))


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        ("least-advantageous", 2150.0),
        ("nearest", 2000.0),
        ("invalid", None),
        (None, None),
    ],
)
def test_coordinates_near_several_goals_mean_what_the_book_says(rule, expected):
    """442060 is 60 m from Old Mill (442000) and 90 m from Mill Bridge (442150)."""
    got = measured(
        declare("442060 4470000"),
        book={"radius_m": 200.0, "several": rule},
        mark={"": (0, 0)},
    )

    assert got.value == (expected and pytest.approx(expected, abs=1e-9))
    if rule is None:
        open_goals = stated(got, "goal-ambiguous-unanswered").get("goals")
        assert open_goals == (named("Old Mill"), named("Mill Bridge"))


def test_coordinates_near_one_goal_mean_it():
    got = measured(declare("440100 4470100"), book={"radius_m": 200.0})

    assert got.value == pytest.approx(10.0, abs=1e-9)  # the church, 141 m away


def test_coordinates_near_no_goal_are_not_valid_where_the_book_has_a_radius():
    got = measured(declare("440150 4470150"), book={"radius_m": 200.0})

    assert got.value is None
    why = stated(got, "no-goal-within-but")
    assert why["nearest"] == named("Church")
    assert why.get("away") == pytest.approx(212.13, abs=0.005)
    assert why["radius"] == length(200.0)


LATE = (
    PenaltyRule(
        unit="task points", per=100.0, of="min", of_si=60.0, count=Count.STARTED
    ),
)
"""100 task points a minute or part (published results of a 2014 event)."""


@pytest.mark.parametrize(
    ("late", "points"),
    [(-1, None), (0, None), (1, 100), (60, 100), (61, 200), (150, 300)],
)
def test_a_late_declaration_costs_points_for_each_minute_begun(late, points):
    got = measured(
        declare("Church", time=1800 + late),
        book={"late_penalty": LATE},
        settings={"declare_by": "06:30"},
    )

    expected = [Amount(amount=points, unit=PenaltyUnit.TASK_POINTS)] if points else []
    assert [f.penalty for f in got.findings] == expected
    assert got.value == pytest.approx(10.0, abs=1e-9)  # it stays valid
    assert all(f.rule.get("rule") == "declarations.late_penalty" for f in got.findings)


def test_several_late_declarations_cost_once_by_the_latest():
    got = measured(
        declare("Church", time=1801),
        declare("Old Mill", time=1900),
        book={"late_penalty": LATE},
        settings={"declare_by": "06:30", "goals": 2},
    )

    assert [f.penalty.amount for f in got.findings] == [200]


def test_being_late_without_a_penalty_in_the_book_is_for_people():
    got = measured(declare("Church", time=1801), settings={"declare_by": "06:30"})

    assert [f.penalty for f in got.findings] == [None]  # waits for a ruling


def test_a_declaration_without_time_cannot_be_told_to_be_late():
    got = measured(declare("Church"), settings={"declare_by": "06:30"})

    assert got.value == pytest.approx(10.0, abs=1e-9)
    assert stated(got, "goal-without-time")["goal"] == words("Church")


TRACK = make_flown(
    [(0, -500, 0), (600, -500, 0), (1200, 0, 0), (1800, 500, 0)], launch=1
)
"""Launched at 06:10 from (−500, 0)."""


@pytest.mark.parametrize(("time", "late"), [(500, False), (600, False), (660, True)])
def test_goals_can_be_due_by_the_launch(time, late):
    got = measured(
        declare("Church", time=time),
        book={"late_penalty": LATE},
        settings={"declare_by": "launch"},
        flown=TRACK,
    )

    assert bool(got.findings) is late


def test_goals_due_by_the_drop_count_from_the_marks_time():
    got = measured(
        declare("Church", time=1301),
        book={"late_penalty": LATE},
        keyings={"": make_keying(time=1200)},
        settings={"declare_by": "drop"},
    )

    assert [f.penalty.amount for f in got.findings] == [200]  # 101 s


def test_goals_due_by_a_launch_nobody_knows_are_pointed_out():
    got = measured(declare("Church", time=1), settings={"declare_by": "launch"})

    assert got.value == pytest.approx(10.0, abs=1e-9)
    assert stated(got, "goals-due-unknown")["moment"] == term("launch")


@pytest.mark.parametrize(
    ("limits", "kind"),
    [
        ({"least_distance": "501 m"}, "goal-too-near"),  # 500 m from the launch
        ({"least_distance": "500 m"}, ""),
        ({"most_distance": "499 m"}, "goal-too-far"),
        ({"most_distance": "500 m"}, ""),
        ({"least_distance": "100 m", "most_distance": "1 km"}, ""),
    ],
)
def test_a_goal_too_near_or_too_far_from_the_launch_is_not_valid(limits, kind):
    got = measured(declare("Church"), settings=limits, flown=TRACK)

    assert (got.value is None) is bool(kind)
    if kind:
        assert stated(got, kind).get("away") == pytest.approx(500.0)
        assert stated(got, kind)["start"] == term("launch")


def test_a_goal_nearer_to_the_limit_than_the_log_can_tell_is_pointed_out():
    """The launch is known to 1 m, so two sigmas are 2 m."""
    near, clear = (
        measured(declare("Church"), settings={"least_distance": limit}, flown=TRACK)
        for limit in ("499 m", "497 m")
    )

    assert stated(near, "goal-near-limit").get("away") == pytest.approx(500.0)
    assert not clear.matters


@pytest.mark.parametrize(
    ("time", "place", "least", "valid"),
    [
        (1200, "", 100.0, False),  # over the church itself
        (1800, "", 499.0, True),  # 500 m past it
        (300, "", 501.0, False),  # on the ground: where it took off, 500 m
        (1200, "Old Mill", 1999.0, True),  # as entered, before the log
        (1200, "4030 7000", 301.0, False),
        (1200, "desk 2", 100.0, False),  # words that are no place: by the log
        (None, "", 499.0, True),
    ],
)
def test_a_goal_too_near_to_where_it_was_declared_is_not_valid(
    time, place, least, valid
):
    got = measured(
        declare("Church", time=time, place=place),
        book={"least_distance_m": least},
        flown=TRACK,
    )

    assert (got.value is not None) is valid


def test_limits_can_count_from_where_the_goal_was_declared():
    got = measured(
        declare("Church", time=1800),
        settings={"most_distance": "400 m", "limits_from": "declaration"},
        flown=TRACK,
    )

    far = stated(got, "goal-too-far")
    assert far["goal"] == named("Church")
    assert far.get("away") == pytest.approx(500.0)
    assert far["start"] == term("place-of-declaration")


def test_a_distance_that_cannot_be_checked_is_pointed_out():
    got = measured(declare("Church"), settings={"least_distance": "1 km"})

    assert got.value == pytest.approx(10.0, abs=1e-9)
    assert stated(got, "goal-distance-unknown")["start"] == term("launch")


@pytest.mark.parametrize(
    ("rule", "expected"), [(None, None), ("first", 10.0), ("last", 2990.0)]
)
def test_of_more_goals_than_allowed_the_task_says_which_count(rule, expected):
    settings = {"goal_places": ["Church", "tower"]}
    if rule:
        settings["extra_goals"] = rule

    got = measured(declare("Church"), declare("tower"), settings=settings)

    assert got.value == (expected and pytest.approx(expected, abs=1e-9))
    told = got.matters if rule is None else got.steps
    goals = stated(told, "goals-that-count" if rule else "too-many-goals")
    assert (goals["declared"], goals["most"]) == (count(2), count(1))
    assert bool(got.matters) is (rule is None)


def test_figures_need_a_place_of_the_event_to_belong_to():
    got = result(
        "PDG", site=make_site(), marks=MARK, declarations=(declare("4000 7000"),)
    )

    assert got.value is None
    assert stated(got, "no-place-for-figures")
