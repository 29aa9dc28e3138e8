"""What holds for every kind: no crash, no order upset, a sigma, a trace."""

import math
import pickle
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.event.model import Method, Units
from scorer.event.rulebook import DeclarationRule, TrackRule
from scorer.facts import fact, inner, moment, words
from scorer.tasks.base import Evidence, Quantity
from scorer.tasks.kinds import KINDS
from scorer.tasks.measure import _finite, measure
from scorer.tasks.work import Work
from scorer.tracks.flown import LogMark
from scorer.words.voice import Voice
from tests.helpers import said
from tests.scorer.tasks.evidence import (
    BOOK,
    START,
    declare,
    make_evidence,
    make_flown,
    make_keying,
    make_mark,
    make_place,
    make_site,
    period,
    result,
    spoken,
    stated,
    taped,
)

SITE = make_site(
    {"centre": (0, 0, 600.0), "church": (1500, 0), "mill": (0, 2500)},
    {
        "north": ((-4000, 0), (4000, 4000)),
        "south": ((-4000, -4000), (4000, 0)),
        "field": ((-4000, -4000), (4000, 4000)),
    },
)
PLACES = {name: make_place(name) for name in SITE.spots}
FLIGHT = make_flown(
    [(60 * i, -5000 + 150 * i, 20 * i, 600 + 5 * i) for i in range(61)],
    launch=2,
    landing=58,
    marks=[LogMark(time_s=0.0, label="0")],
)

TASKS = {
    "PDG": {"settings": {"declare_by": "06:10"}},
    "JDG": {"targets": ("centre",)},
    "HWZ": {"targets": ("centre", "church", "mill")},
    "FIN": {"targets": ("centre",), "scoring_areas": ("field",)},
    "FON": {"settings": {"declare_by": "drop"}},
    "HNH": {"targets": ("centre",), "measuring_radius_m": 100.0},
    "WSD": {
        "targets": ("centre",),
        "settings": {"hare_launch": "mill", "hare_launch_within": "500 m"},
    },
    "GBM": {"targets": ("centre",), "scoring_areas": ("north",)},
    "CRT": {
        "targets": ("centre",),
        "scoring_areas": ("north", "south"),
        "settings": {
            "windows": {"north": ["06:00", "06:30"], "south": ["06:20", "07:00"]}
        },
    },
    "RTA": {"scoring_areas": ("field",)},
    "ELB": {"settings": {"launch_is": "A"}},
    "LRN": {"roles": {"A": "church"}, "targets": ("church",)},
    "MDT": {"settings": {"least_time": "5 min"}},
    "SFL": {"scoring_areas": ("field",)},
    "MDD": {"scoring_areas": ("north", "south")},
    "XDT": {"settings": {"most_time": "55 min"}},
    "XDI": {"scoring_areas": ("field",)},
    "XDD": {},
    "ANG": {"targets": ("centre",), "settings": {"direction": 30}},
    "3DT": {"scoring_areas": ("field",)},
    "GAS": {"targets": ("centre",)},
}
GIVEN = {
    "site": SITE,
    "places": PLACES,
    "flown": FLIGHT,
    "marks": {
        "": make_mark((300, 400), 2.0),
        "B": make_mark((800, 900), 2.0, label="B"),
        "C": make_mark((100, 1900), 2.0, label="C"),
    },
    "keyings": {"": make_keying(time=1200), "B": make_keying("B", time=1500)},
    "declarations": (declare("church", time=300),),
}


def evidence(kind, **more):
    """Return good evidence for a kind; its one mark, or its marks by role."""
    one = {"PDG", "JDG", "HWZ", "FIN", "FON", "HNH", "WSD", "GBM", "CRT", "MDT", "SFL"}
    one |= {"XDT", "XDI", "ANG", "GAS"}
    marks = {k: v for k, v in GIVEN["marks"].items() if (k == "") is (kind in one)}
    if kind in {"MDD", "XDD"}:
        marks["A"] = make_mark((200, -300), 2.0, label="A")
    return make_evidence(kind, **{**GIVEN, "marks": marks, **TASKS[kind], **more})


@pytest.mark.parametrize("kind", list(KINDS))
def test_good_evidence_gives_a_result_with_sigma_and_trace(kind):
    got = measure(evidence(kind))

    assert got.value is not None, got.reason
    assert got.value > 0
    assert got.sigma > 0
    assert got.reason is None
    assert got.steps[0]["about"] == inner(KINDS[kind].about)
    assert got.steps[0]["name"] == inner(KINDS[kind].title)
    assert all(spoken(got))
    assert len(got.steps) >= 2


@pytest.mark.parametrize("kind", list(KINDS))
def test_evidence_travels_to_other_processes_and_gives_the_same(kind):
    made = evidence(kind)

    assert measure(pickle.loads(pickle.dumps(made))) == measure(made)


@pytest.mark.parametrize("kind", list(KINDS))
def test_no_evidence_at_all_is_no_result_with_a_reason(kind):
    got = measure(evidence(kind, marks={}, keyings={}, declarations=(), flown=None))

    assert got.value is None
    assert got.reason


POINT = st.tuples(st.floats(-6000, 6000), st.floats(-6000, 6000))
ODD = st.sampled_from(
    [
        taped(10.0),
        taped(float("nan")),
        make_mark((0, 0), 0.0),
        make_mark((float("nan"), 5.0), 1.0),
        make_mark((1e7, -1e7), 1.0),
    ]
)
MARK = st.one_of(POINT.map(lambda p: make_mark(p, 1.0)), ODD)
ROLE = st.sampled_from(["", "A", "B", "C", "1", "LAUNCH", "LANDING"])
KEYING = st.builds(
    lambda role, method, time, note, place: (
        role,
        make_keying(role, method, time, note=note, from_place=place),
    ),
    ROLE,
    st.sampled_from([Method.LOG, Method.NONE, Method.GRID]),
    st.one_of(st.none(), st.floats(-100, 5000)),
    st.sampled_from(["", "1", "0", "x"]),
    st.sampled_from([None, "church", "nowhere"]),
)
DECLARATION = st.builds(
    lambda goal, time, place: declare(goal, time=time, place=place),
    st.sampled_from(
        ["church", "", "4012 7034", "churhc", "9000 7000", "91, 3", "tower"]
    ),
    st.one_of(st.none(), st.floats(-100, 5000)),
    st.sampled_from(["", "mill", "desk", "4012 7034"]),
)
TRACKS = st.sampled_from(
    [
        None,
        FLIGHT,
        make_flown([(0, 0, 0)]),
        make_flown([(0, float("nan"), 0), (10, 0, float("nan"))], launch=None),
        make_flown([(0, 0, 0, float("nan")), (900, 900, 0, float("nan"))], landing=1),
    ]
)
BOOKS = st.builds(
    lambda dims, radius, several, least: replace(
        BOOK,
        tracks=TrackRule(dimensions=dims),
        declarations=DeclarationRule(
            radius_m=radius, several=several, least_distance_m=least
        ),
    ),
    st.sampled_from([2, 3]),
    st.sampled_from([None, 200.0, 5000.0]),
    st.sampled_from([None, "least-advantageous", "nearest", "invalid"]),
    st.sampled_from([None, 100.0]),
)


@settings(max_examples=15)
@pytest.mark.parametrize("kind", list(KINDS))
@given(
    marks=st.dictionaries(ROLE, MARK, max_size=4),
    keyings=st.lists(KEYING, max_size=3).map(dict),
    declarations=st.lists(DECLARATION, max_size=3).map(tuple),
    flown=TRACKS,
    book=BOOKS,
    bad=st.booleans(),
)
def test_no_evidence_whatever_crashes_a_kind(
    *, kind, marks, keyings, declarations, flown, book, bad
):
    task = dict(TASKS[kind])
    if bad:  # a task whose settings nobody checked
        task["settings"] = {**task.get("settings", {}), "windows": 3, "direction": "x"}
        task["targets"] = ("nowhere",)

    got = measure(
        make_evidence(
            kind,
            site=SITE,
            places=PLACES,
            marks=marks,
            keyings=keyings,
            declarations=declarations,
            flown=flown,
            book=book,
            **task,
        )
    )

    assert (got.value is None) == bool(got.reason)
    if got.value is not None:
        assert math.isfinite(got.value)
        assert got.value >= 0
        assert got.sigma >= 0


DISTANCE_KINDS = ["JDG", "FIN", "SFL", "XDI", "XDT", "MDT"]


@settings(max_examples=25)
@given(st.lists(st.floats(1, 3900), min_size=2, max_size=6, unique=True))
def test_a_farther_mark_never_has_the_smaller_distance(distances):
    for kind in DISTANCE_KINDS:
        values = [
            measure(
                evidence(
                    kind,
                    marks={"": (0.6 * d, 0.8 * d)},
                    settings={"reference": "centre", **TASKS[kind].get("settings", {})},
                    measuring_radius_m=None,
                )
            ).value
            for d in sorted(distances)
        ]
        assert values == sorted(values)


@settings(max_examples=25)
@given(st.floats(0, 360), POINT, POINT, POINT)
def test_distances_do_not_change_when_the_field_is_moved_and_turned(turn, a, b, shift):
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def moved(p):
        return (p[0] * c - p[1] * s + shift[0], p[0] * s + p[1] * c + shift[1])

    first = result("XDD", site=SITE, marks={"A": a, "B": b})
    again = result("XDD", site=SITE, marks={"A": moved(a), "B": moved(b)})

    assert again.value == pytest.approx(first.value, abs=1e-6)


def test_settings_nobody_checked_are_told_not_raised():
    got = result("ANG", site=SITE, marks={"": (0, 10)}, settings={"direction": "x"})

    assert got.value is None
    assert stated(got, "unreadable")["found"] == words("x")
    assert "degrees" in stated(got, "unreadable").get("allowed")


def test_times_are_those_of_the_events_zone():
    """08:00 in Madrid in summer is 06:00 UTC, when the log begins."""
    made = make_evidence(
        "RTA",
        site=SITE,
        scoring_areas=("field",),
        flown=FLIGHT,
        settings={"start": "08:00"},
    )
    # FLIGHT enters the field (east −4000) at (5000 − 4000) / 150 min = 400 s after 06:00

    madrid = measure(replace(made, time_zone="Europe/Madrid"))

    assert madrid.value == pytest.approx(400.0, abs=1e-6)
    assert stated(madrid.steps, "area-entered")["time"] == moment(START + 400)
    assert said(
        stated(madrid.steps, "area-entered"), Voice(time_zone="Europe/Madrid")
    ).endswith("at 08:06:40")
    assert measure(made).value is None
    assert measure(replace(made, day=date(2026, 9, 11))).value == pytest.approx(
        400 + 86_400 - 7200
    )


def test_lengths_are_shown_as_people_at_the_event_read_them():
    site = replace(SITE, units=Units.IMPERIAL)

    got = result("JDG", site=site, targets=("centre",), marks={"": (0, 12.34)})

    assert "the mark to centre: 40 ft 5.8 in" in spoken(got, Voice(units=site.units))
    assert stated(got.steps, "leg").get("length") == pytest.approx(12.34)


def test_what_is_to_be_looked_at_in_a_mark_is_passed_on():
    mark = make_mark((0, 5), 1.0, warnings=(fact("bearing-without-declination"),))

    got = result("JDG", site=SITE, targets=("centre",), marks={"": mark})

    assert stated(got, "bearing-without-declination")
    assert got.marks == (mark,)


def test_evidence_needs_no_more_than_task_book_site_pilot_and_day():
    made = make_evidence("3DT", site=SITE, scoring_areas=("field",))
    bare = Evidence(
        task=made.task, book=made.book, site=made.site, pilot=made.pilot, day=made.day
    )

    assert measure(bare).value is None
    assert period(0, 1).holds(period(0, 1).end_s)


def test_a_value_beyond_all_numbers_is_no_result_and_a_sigma_none():
    made = make_evidence("JDG", site=SITE, targets=("centre",), marks={"": (3, 4)})
    work = Work(made, {})

    beyond = _finite(work, Quantity(math.inf, 1.0))

    assert beyond.value is None
    assert beyond.reason == fact("no-finite-number")
    assert _finite(work, Quantity(5.0, math.nan)).sigma is None
