"""Times that officials enter, in whole events without logs."""

from dataclasses import replace

import pytest

from scorer.errors import InputError
from scorer.event.build import build_event
from scorer.event.finding import Verdict
from scorer.scoring.score import score
from tests.scorer.tiny import FIN, rows, tiny, tiny_flight, tiny_raw

PERIOD = FIN + 'scoring_period = ["07:00", "08:00"]\n'
MARKS = """task,pilot,method,distance,bearing,time,by
1,1,polar,1.00,0,{0},Eva
1,2,polar,2.00,0,{1},Eva
1,3,polar,3.00,0,{2},Eva
"""


def scored(*times, tasks=PERIOD, **event):
    """Score three marks with their times of one morning."""
    flight = tiny_flight(tasks=tasks, marks=MARKS.format(*times))
    return score(tiny(flight, **event))


def outside(results):
    """Return whose marks fell outside the scoring period, and by how much."""
    found = [r.finding for r in results.findings]
    return {
        f.pilot: (f.verdict, f.excess) for f in found if str(f.kind) == "scoring-period"
    }


def test_noted_times_are_held_against_the_scoring_period_without_any_log():
    """05:10 and 09:45 lie outside 07:00 to 08:00, by hand 110 and 105 minutes."""
    assert outside(scored("05:10", "07:30", "09:45")) == {
        1: (Verdict.CERTAIN, 110 * 60.0),
        3: (Verdict.CERTAIN, 105 * 60.0),
    }


def test_a_night_period_holds_times_on_both_sides_of_midnight():
    """23:30 to 00:30: 00:10 is of the night, 00:45 a quarter of an hour late."""
    tasks = FIN + 'scoring_period = ["23:30", "00:30"]\n'
    late = outside(scored("23:45", "00:10", "00:45", tasks=tasks))
    assert late == {3: (Verdict.CERTAIN, 15 * 60.0)}


def test_a_time_that_comes_twice_is_asked_for_in_its_row():
    """Madrid, 25 October 2026; the refusal names file and line and what to write."""
    tasks = FIN + 'scoring_period = ["01:00", "04:00"]\n'
    marks = MARKS.format("02:30", "02:30 second", "02:30+02:00")
    flight = tiny_flight(tasks=tasks, marks=marks, day="2026-10-25")
    with pytest.raises(InputError) as refused:
        tiny(flight, time_zone="Europe/Madrid")
    (fault,) = refused.value.faults
    assert (fault.where, fault.line, fault.field) == ("marks.csv", 2, "time")
    assert '"02:30 first"' in fault.remedy


RULINGS = """task,pilot,decision,amount,unit,reason,by,at
1,1,impose,10,task points,late,Cy,{0}
"""
ACCEPTED = "kind,flight,task,pilots,mark,matter,why,by,at\n"
ACCEPTED += "no-log,f1,,1,,m0123456789abcde,seen,Cy,{0}\n"
WHEN = [
    ("2026-10-25 02:30", '"02:30 first"'),
    ("2026-03-29 02:30", "03:30:00"),
    ("2026-13-01 10:00", ""),
    ("at noon", ""),
]
"""In Madrid the clocks go back on 25 October and forward on 29 March 2026, at night."""


@pytest.mark.parametrize(("when", "remedy"), WHEN)
@pytest.mark.parametrize("table", ["rulings", "accepted"])
def test_when_a_decision_was_made_is_a_time_that_exists_once(table, when, remedy):
    own = {"rulings": RULINGS.format(when)} if table == "rulings" else {}
    raw = tiny_raw(
        tiny_flight(marks=MARKS.format("", "", ""), **own), time_zone="Europe/Madrid"
    )
    if table == "accepted":
        raw = replace(raw, accepted=rows(ACCEPTED.format(when), "accepted.csv"))
    with pytest.raises(InputError) as refused:
        build_event(raw)
    (fault,) = refused.value.faults
    assert (fault.where, fault.field) == (f"{table}.csv", "at")
    assert remedy in fault.remedy


@pytest.mark.parametrize(
    ("when", "told"),
    [
        ("", ""),
        ("2026-10-25 02:30 second", "2026-10-25 02:30 (UTC+01:00)"),
        ("2026-10-25 02:30+02:00", "2026-10-25 02:30 (UTC+02:00)"),
        ("10:05", "2026-06-01 10:05"),
        ("10:05:20", "2026-06-01 10:05:20"),
        ("00:20+1", "2026-06-02 00:20"),
    ],
)
def test_when_a_decision_was_made_may_be_written_in_every_way_of_a_time(when, told):
    own = RULINGS.format(when)
    flight = tiny_flight(marks=MARKS.format("", "", ""), rulings=own)
    event = build_event(tiny_raw(flight, time_zone="Europe/Madrid"))
    assert event.flights[0].rulings[0].at == told


def test_a_time_noted_within_the_period_is_taken_at_its_word():
    """One second before the end is no infringement; one after may be one."""
    late = outside(scored("07:59:59", "08:00:00", "08:00:01"))
    assert late == {3: (Verdict.POSSIBLE, 1.0)}
