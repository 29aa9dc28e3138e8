"""Nobody loses a result unseen because something was not entered or set."""

import pytest

from scorer.event.matters import RESULT_LOST
from scorer.scoring.score import score
from tests.scorer.tiny import tiny, tiny_flight

HEAD = "task,pilot,mark,method,easting,northing,time\n"
FELL = "1,1,,grid,500050,4500000,07:40\n1,2,,grid,500060,4500000,{}\n"


def task(kind, more):
    return f'[[task]]\nnumber = 1\nkind = "{kind}"\nstate = "flown"\n{more}\n'


LATE = 'target = "T"\nleast_time = "30 min"\ntime_from = "07:00"'
WINDOW = (
    'target = "T"\nscoring_areas = ["area"]\nwindows = { area = ["07:00", "08:00"] }'
)


def lost(tasks, marks, **tables):
    results = score(tiny(tiny_flight(tasks=tasks, marks=marks, **tables)))
    return results, [m for m in results.matters if m.kind is RESULT_LOST]


@pytest.mark.parametrize(("kind", "more"), [("MDT", LATE), ("CRT", WINDOW)])
def test_a_mark_without_its_time_holds_official_results_up(kind, more):
    results, found = lost(task(kind, more), HEAD + FELL.format(""))
    (own,) = found
    assert own.pilots == (2,)
    assert own.holds_up
    assert own.kind.acceptable
    why = own.says["why"].amount.kind
    assert why == "time-unknown"
    assert not [m for m in results.matters if m.says.kind == why]

    assert lost(task(kind, more), HEAD + FELL.format("07:45"))[1] == []


def test_what_a_pilot_did_is_no_lost_entry():
    assert lost(task("MDT", LATE), HEAD + FELL.format("07:10"))[1] == []


def test_who_did_not_fly_or_is_still_flying_lost_nothing_by_an_entry():
    race = task("GAS", 'launch_place = "T"')
    reports = "task,pilot,kind,by\n1,1,not-flown,Eve\n1,2,still-flying,Eve\n"
    marks = HEAD + "1,3,LAUNCH,grid,500000,4500000,06:00\n"
    _, found = lost(race, marks, reports=reports)
    assert [m.pilots for m in found] == [(3,)]
    assert found[0].says["why"].amount.kind == "landing-unknown"


def test_a_task_without_the_period_that_its_time_begins_at_is_asked_about():
    more = LATE.replace('"07:00"', '"launch-period"')
    _, found = lost(task("MDT", more), HEAD + FELL.format("07:45"))
    assert [m.pilots for m in found] == [(1,), (2,)]
