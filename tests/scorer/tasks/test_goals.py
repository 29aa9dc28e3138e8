"""Kinds with one mark and a distance to a goal: worked cases by hand."""

from dataclasses import replace

import pytest

from scorer.event import matters
from scorer.event.model import Method, TaskState
from scorer.event.rulebook import DeclarationRule, TrackRule
from scorer.facts import count, fact, length, moment, span, term, words
from scorer.facts import distance as far
from scorer.facts import place as named
from tests.helpers import said
from tests.scorer.tasks.evidence import (
    BOOK,
    START,
    declare,
    make_flown,
    make_keying,
    make_mark,
    make_place,
    make_site,
    period,
    result,
    stated,
    taped,
)

SITE = make_site(
    {"centre": (0, 0), "north goal": (0, 1000), "east goal": (2000, 0)},
    {
        "inner": ((-100, -100), (100, 100)),
        "outer": ((-500, -500), (500, 500)),
        "far": ((5000, 5000), (6000, 6000)),
    },
)


@pytest.mark.parametrize("kind", ["JDG", "FIN", "HNH", "WSD"])
def test_the_result_is_the_distance_from_mark_to_target(kind):
    got = result(kind, site=SITE, targets=("centre",), marks={"": (30, 40)})

    assert got.value == pytest.approx(50.0, abs=1e-9)  # 3-4-5
    assert got.reason is None
    assert not got.matters


def test_a_taped_distance_counts_as_it_was_taped():
    got = result("FIN", site=SITE, targets=("centre",), marks={"": taped(12.34)})

    assert got.value == 12.34
    assert got.sigma == 0.02


@pytest.mark.parametrize("kind", ["HWZ", "FIN"])
def test_of_several_targets_the_nearest_counts(kind):
    got = result(
        kind,
        site=SITE,
        targets=("centre", "north goal", "east goal"),
        marks={"": (30, 960)},
    )

    assert got.value == pytest.approx(50.0, abs=1e-9)  # to (0, 1000)
    nearest = stated(got.steps, "nearest-of")
    assert nearest["targets"] == count(3)
    assert nearest.get("length") == pytest.approx(50.0, abs=1e-9)


def test_a_mark_taped_from_one_of_several_targets_counts_with_a_warning():
    got = result(
        "HWZ",
        site=SITE,
        targets=("centre", "north goal"),
        marks={"": taped(20.0)},
        keyings={"": make_keying(method=Method.TAPE, from_place="north goal")},
    )

    assert got.value == 20.0
    assert stated(got, "nearest-target-unknown")["target"] == named("north goal")


def test_a_mark_taped_with_a_bearing_keeps_its_taped_distance():
    """The place of a taped mark is rounded by its bearing; the tape is what counts."""
    mark = make_mark(
        (30, 40.005), method=Method.TAPE, distance_m=50.0, sigma_m=0.03, sigma=0.5
    )

    got = result("JDG", site=SITE, targets=("centre",), marks={"": mark})

    assert (got.value, got.sigma) == (50.0, 0.03)


def test_a_distance_from_another_place_is_not_taken_for_one_from_the_target():
    """Polar from a reference 1000 m off: the tape says 10 m, the target is 990 m away."""
    mark = make_mark((0, 990), method=Method.POLAR, distance_m=990.0, sigma_m=0.5)

    got = result(
        "JDG",
        site=SITE,
        targets=("centre",),
        marks={"": mark},
        keyings={"": make_keying(method=Method.POLAR, from_place="north goal")},
    )

    assert got.value == pytest.approx(990.0, abs=1e-9)


def test_gbm_counts_only_inside_a_scoring_area():
    inside = result(
        "GBM",
        site=SITE,
        targets=("centre",),
        scoring_areas=("far", "inner"),
        marks={"": (60, -80)},
    )
    outside = result(
        "GBM",
        site=SITE,
        targets=("centre",),
        scoring_areas=("far", "inner"),
        marks={"": (60, -130)},
    )

    assert inside.value == pytest.approx(100.0, abs=1e-9)
    assert outside.value is None
    why = stated(outside.reason, "outside-area")
    assert why["area"] == named("inner")
    assert why.get("gap") == pytest.approx(30.0, abs=1e-9)
    assert said(why) == "the mark is outside the scoring area inner by 30.00 m"


def test_a_mark_on_the_edge_is_inside():
    got = result(
        "FIN",
        site=SITE,
        targets=("centre",),
        scoring_areas=("inner",),
        marks={"": (100, 0)},
    )

    assert got.value == pytest.approx(100.0, abs=1e-9)


def test_a_mark_nearer_to_the_edge_than_its_uncertainty_is_pointed_out():
    got = result(
        "FIN",
        site=SITE,
        targets=("centre",),
        scoring_areas=("inner",),
        marks={"": make_mark((97, 0), sigma=3.0)},
    )

    assert got.value == pytest.approx(97.0, abs=1e-9)
    assert stated(got, "near-edge-inside").get("edge") == pytest.approx(3.0)


def test_a_bare_tape_is_inside_where_its_whole_circle_is():
    near, far = (
        result(
            "FIN",
            site=SITE,
            targets=("centre",),
            scoring_areas=("inner",),
            marks={"": taped(distance)},
        )
        for distance in (99.0, 101.0)
    )

    assert not near.matters
    assert far.value == 101.0
    assert stated(far, "inside-unknown")


def test_a_bare_tape_from_elsewhere_gives_no_place_and_no_result():
    got = result(
        "JDG",
        site=SITE,
        targets=("centre",),
        marks={"": taped(10.0)},
        keyings={"": make_keying(method=Method.TAPE, from_place="north goal")},
    )

    assert got.value is None
    assert stated(got, "mark-without-bearing")["point"] == term("mark")
    assert got.reason == stated(got, "mark-without-bearing")


@pytest.mark.parametrize(
    ("more", "reason"),
    [
        ({}, "no-mark-entered"),
        ({"no_mark": True}, "no-mark-found"),
        ({"keyings": {"": make_keying(method=Method.NONE)}}, "no-mark-found"),
    ],
)
def test_no_mark_is_no_result(more, reason):
    got = result("FIN", site=SITE, targets=("centre",), **more)

    assert (got.value, got.reason) == (None, fact(reason))


def test_a_cancelled_task_gives_no_result():
    got = result(
        "FIN",
        site=SITE,
        targets=("centre",),
        marks={"": (3, 4)},
        state=TaskState.CANCELLED,
    )

    assert (got.value, got.reason) == (None, fact("task-cancelled"))


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        ("least-advantageous", 50.0),
        ("most-advantageous", 5.0),
        ("first", 50.0),
        ("last", 5.0),
        ("invalid", None),
    ],
)
def test_of_several_marks_the_task_says_which_counts(rule, expected):
    got = result(
        "FIN",
        site=SITE,
        targets=("centre",),
        marks={"1": (30, 40), "2": (3, 4)},
        keyings={"1": make_keying("1", time=10), "2": make_keying("2", time=20)},
        settings={"several_marks": rule},
    )

    assert got.value == (expected and pytest.approx(expected, abs=1e-9))


def test_two_marks_count_the_worse_unless_the_task_says_otherwise():
    """One club's published rule; a mark outside the scoring area is the worst of all."""
    marks = {"1": (30, 40), "2": (300, 400)}
    plain = result("FIN", site=SITE, targets=("centre",), marks=marks)
    outside = result(
        "FIN", site=SITE, targets=("centre",), marks=marks, scoring_areas=("inner",)
    )

    assert plain.value == pytest.approx(500.0, abs=1e-9)
    assert outside.value is None
    why = stated(outside.reason, "outside-area")
    assert why.get("point") == fact("mark-of-role", role=words("2"))


@pytest.mark.parametrize(("rule", "expected"), [("counts", 150.0), ("no result", None)])
def test_the_measuring_radius_costs_the_result_where_the_task_says_so(rule, expected):
    got = result(
        "FIN",
        site=SITE,
        targets=("centre",),
        measuring_radius_m=100.0,
        marks={"": (90, 120)},
        settings={"outside_radius": rule},
    )

    assert got.value == (expected and pytest.approx(expected, abs=1e-9))


def test_a_mark_taped_outside_the_measuring_radius_is_pointed_out():
    got = result(
        "FIN",
        site=SITE,
        targets=("centre",),
        measuring_radius_m=100.0,
        marks={"": taped(150.0)},
    )

    assert got.value == 150.0
    beyond = stated(got, "taped-outside-radius")
    assert (beyond["away"], beyond["radius"]) == (length(150.0), length(100.0))


WINDOWS = {"windows": {"inner": ["06:10", "06:20"], "outer": ["06:15", "06:30"]}}


def _crt(point, time, areas=("inner", "outer"), **more):
    keyings = {"": make_keying(time=time)}
    return result(
        "CRT",
        site=SITE,
        targets=("centre",),
        scoring_areas=areas,
        marks={"": point},
        settings=WINDOWS,
        **{"keyings": keyings, **more},
    )


@pytest.mark.parametrize(
    ("point", "minute", "expected"),
    [
        ((30, 40), 12, 50.0),  # inner, 06:12
        ((30, 40), 20, 50.0),  # at the very end
        ((300, 400), 12, None),  # outer alone, not valid yet
        ((300, 400), 16, 500.0),
        ((300, 400), 31, None),
    ],
)
def test_crt_counts_only_while_the_area_of_the_mark_is_valid(point, minute, expected):
    got = _crt(point, 60 * minute)

    assert got.value == (expected and pytest.approx(expected, abs=1e-9))


def test_crt_counts_a_mark_in_two_areas_if_either_is_valid():
    """(30, 40) is in both; inner ended at 06:20, outer is valid until 06:30."""
    assert _crt((30, 40), 60 * 25).value == pytest.approx(50.0, abs=1e-9)


def test_crt_takes_the_time_of_nearest_pass_where_none_is_entered():
    # passes (30, 40) at 12 m to the south at 06:12:20
    track = make_flown([(720, -70, 28), (740, 30, 28), (760, 130, 28)])

    got = _crt((30, 40), None, keyings={}, flown=track)

    assert got.value == pytest.approx(50.0, abs=1e-9)
    assert stated(got, "time-from-track")["time"] == moment(START + 740)


def test_crt_without_any_time_is_no_result_and_says_what_to_enter():
    got = _crt((30, 40), None, keyings={})

    assert got.value is None
    assert stated(got, "time-unknown")["point"] == term("mark")
    assert got.reason == stated(got, "time-unknown")


GOALS = {
    "site": SITE,
    "places": {n: make_place(n) for n in ("centre", "north goal", "east goal")},
}


@pytest.mark.parametrize("kind", ["PDG", "FON"])
def test_the_result_is_the_distance_to_the_declared_goal(kind):
    got = result(
        kind, **GOALS, marks={"": (30, 960)}, declarations=(declare("North Goal"),)
    )

    assert got.value == pytest.approx(50.0, abs=1e-9)


def test_of_several_declared_goals_the_nearest_valid_one_counts():
    declarations = (declare("east goal"), declare("nowhere"), declare("north goal"))

    got = result(
        "PDG",
        **GOALS,
        marks={"": (0, 400)},
        declarations=declarations,
        settings={"goals": 3},
    )

    assert got.value == pytest.approx(600.0, abs=1e-9)
    assert stated(got, "goal-not-valid")["goal"] == words("nowhere")


def test_of_goals_meant_by_coordinates_the_least_advantageous_counts():
    """Goals at 0 and 150 m are both within 200 m of the coordinates: the farther counts."""
    site = make_site({"a": (0, 0), "b": (150, 0), "c": (400, 0)})
    book = replace(
        BOOK,
        declarations=DeclarationRule(radius_m=200.0, several="least-advantageous"),
    )

    got = result(
        "PDG",
        site=site,
        book=book,
        marks={"": (0, 80)},
        declarations=(declare("440050 4470000"),),
    )

    assert got.value == pytest.approx(170.0, abs=1e-9)  # 8-15-17


def test_no_declaration_is_no_result():
    got = result("PDG", **GOALS, marks={"": (0, 0)})

    assert (got.value, got.reason) == (None, fact("no-goal-declared"))


def test_fly_on_counts_from_the_drop_of_the_mark_where_goals_are_due_by_then():
    got = result(
        "FON",
        **GOALS,
        marks={"": (0, 1010)},
        keyings={"": make_keying(time=600)},
        declarations=(declare("north goal", time=660),),
        settings={"declare_by": "drop"},
    )

    assert got.value == pytest.approx(10.0, abs=1e-9)
    late = stated(got.findings, "declared-late")
    assert late["late"] == span(60.0)
    assert (late.get("declared"), late.get("due")) == (START + 660, START + 600)
    assert all(w.kind is matters.DECLARATION for w in got.matters)


def test_wsd_tells_how_near_the_track_came_to_the_hares_launch():
    track = make_flown([(0, 3000, 0), (600, 2300, 0), (1200, 0, 0)])
    settings = {"hare_launch": "east goal", "hare_launch_within": "250 m"}

    def measured(**more):
        return result(
            "WSD",
            site=SITE,
            targets=("centre",),
            marks={"": (3, 4)},
            flown=track,
            settings={**settings, **more},
        )

    assert measured().value == pytest.approx(5.0, abs=1e-9)
    past = stated(measured(), "too-far-from-hare-launch")
    assert past.get("away") == pytest.approx(300.0)
    assert past["most"] == far(250.0)
    assert measured(outside_limits="no result").value is None
    assert not measured(hare_launch_within="350 m").matters


THREE_D = replace(BOOK, tracks=TrackRule(dimensions=3))


def test_in_3d_a_logged_mark_is_measured_along_the_slope():
    """Goal declared at 500 m, track at 300 + 200 = 500 m ± ... : 3-4-5 by hand.

    Mark by the track at 06:01:40: (300, 0) at 900 m; goal (0, 0) at 500 m; 300 m flat,
    400 m high: 500 m.
    """
    track = make_flown([(0, 200, 0, 800), (100, 300, 0, 900), (200, 400, 0, 1000)])

    got = result(
        "PDG",
        site=SITE,
        places={"centre": make_place("centre")},
        book=THREE_D,
        flown=track,
        keyings={"": make_keying(method=Method.LOG, time=100)},
        declarations=(declare("centre", height_m=500.0),),
    )

    assert got.value == pytest.approx(500.0, abs=1e-6)
    # both sigmas are 1 m: √((300·1)² + (400·1)²) / 500 = 1
    assert got.sigma == pytest.approx(1.0, abs=1e-6)


def test_in_3d_a_goal_without_height_gives_no_result_but_a_warning():
    track = make_flown([(0, 200, 0, 800), (200, 400, 0, 1000)])

    got = result(
        "JDG",
        site=SITE,
        targets=("centre",),
        book=THREE_D,
        flown=track,
        keyings={"": make_keying(method=Method.LOG, time=100)},
    )

    assert got.value is None
    assert stated(got, "height-unknown")["point"] == named("centre")


def test_in_3d_a_marker_on_the_ground_is_measured_on_the_ground():
    site = make_site({"centre": (0, 0, 650.0)})

    got = result(
        "JDG", site=site, targets=("centre",), book=THREE_D, marks={"": (30, 40)}
    )

    assert got.value == pytest.approx(50.0, abs=1e-9)


def test_the_period_helper_counts_from_the_start_of_the_day():
    assert period(0, 60).holds(period(0, 60).start_s + 30)


def test_crt_points_out_a_pass_too_uncertain_for_the_window():
    """Within a throw of the mark for 100 s about 06:10:40; the window opens at 06:10.

    The sigma of an even spread of 100 s is 100/√12 = 29 s, two of them are 58 s.
    """
    rows = [(540 + 10 * i, -170 + 20 * i, 40) for i in range(21)]

    got = _crt((30, 40), None, keyings={}, flown=make_flown(rows))

    assert got.value == pytest.approx(50.0, abs=1e-9)  # nearest at 06:10:40
    assert stated(got, "time-near-window")["point"] == term("mark")


def test_crt_in_an_area_that_nobody_gave_a_window_is_no_result():
    got = result(
        "CRT",
        site=SITE,
        targets=("centre",),
        scoring_areas=("far", "inner"),
        marks={"": (0, 50)},
        keyings={"": make_keying(time=720)},
        settings={"windows": {"far": ["06:10", "06:20"]}},
    )

    assert got.value is None
    assert stated(got, "area-never-valid").get("areas") == (named("inner"),)


@pytest.mark.parametrize(
    "flown", [None, make_flown([(0, float("nan"), 0), (9, 0, float("nan"))])]
)
def test_wsd_without_a_track_cannot_tell_of_the_hares_launch(flown):
    got = result(
        "WSD",
        site=SITE,
        targets=("centre",),
        marks={"": (3, 4)},
        flown=flown,
        settings={"hare_launch": "east goal"},
    )

    assert got.value == pytest.approx(5.0, abs=1e-9)
    assert stated(got, "hare-launch-unseen")["place"] == named("east goal")
