"""An entry held against its pilot's track while it is typed, as scoring would hold it.

The meet is `tests/bench/marks.py`, which shares no code with the model of throws; how
often right entries may be asked about is a binomial of scipy.stats.
"""

import pytest
from scipy import stats

from scorer.checks.mark_doubts import Weighing
from scorer.checks.mark_track import Aloft, Marks
from scorer.geodesy.site import Site
from scorer.scoring.evidence import take
from scorer.scoring.typed import TypedBeside, unlike_track
from tests.bench.marks import event_of, meet, spoilt
from tests.scorer.tiny import EAST, NORTH

MEET = meet(60, 17, timed=False)


def aloft_of(number, course=None):
    return Aloft(pilot=number, log=f"{number}.igc", sigma_m=3.0, course=course)


@pytest.fixture(scope="module")
def throw():
    event = event_of(MEET, MEET.rows)
    taken = take(event, event.flights[0], Site.of(event))
    tracks = {
        number: aloft_of(number).approaches(course.near(taken.placed))
        for number, course in MEET.courses.items()
    }
    marks = Marks(marks=taken.placed, tracks=tracks, throw_m=100.0, flight="f1")
    return Weighing.of(marks).throw


def told(rows, wanted, throw):
    """Hold some entries against their tracks; return what is said of each, by row."""
    event = event_of(MEET, rows)
    flight, site = event.flights[0], Site.of(event)
    found = {}
    for k in wanted:
        keying = flight.keyings[k]
        course = MEET.courses[keying.pilot]
        beside = TypedBeside(
            site=site, aloft=aloft_of(keying.pilot), course=course, throw=throw
        )
        found[k] = unlike_track(event, flight, keying, beside)
    return found


def test_right_entries_are_hardly_ever_asked_about(throw):
    every = range(len(MEET.rows))
    asked = sum(one is not None for one in told(MEET.rows, every, throw).values())
    assert asked <= stats.binom.ppf(0.999, len(MEET.rows), 0.005)


@pytest.mark.parametrize(
    ("kind", "meant"),
    [("polar turned", "meant-turned"), ("wrong reference", "meant-reference")],
)
def test_slips_of_entry_are_asked_about_with_what_was_meant(kind, meant, throw):
    rows, wrong = spoilt(MEET, kind, 5)
    found = told(rows, sorted(wrong), throw)

    assert len(wrong) >= 3
    asked = [one for one in found.values() if one is not None]
    assert len(asked) >= 0.75 * len(wrong)
    said = [better.kind for _, better in asked if better is not None]
    assert said.count(meant) >= 0.5 * len(asked)


def test_before_marks_have_taught_anything_only_the_reach_of_a_throw_asks():
    place = {"easting": f"{EAST + 1500.0:.1f}", "northing": f"{NORTH - 1500.0:.1f}"}
    named = {name: MEET.rows[0][name] for name in ("task", "pilot", "by")}
    far = {**named, "method": "grid", **place}
    rows = [far, *MEET.rows[1:]]
    found = told(rows, range(20), None)

    unlike, _ = found[0]
    assert unlike.kind == "mark-beyond-throw"
    assert all(found[k] is None for k in range(1, 20))
