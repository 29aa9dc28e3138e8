"""The target log: cleared, opened, closed, moved, held against the marks."""

import pytest

from scorer.errors import InputError
from scorer.event.folder import read_folder, write_folder
from scorer.geodesy.site import Site
from scorer.scoring.evidence import take
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.tiny import EAST, NORTH, tiny, tiny_flight, tiny_raw

MARKS = """task,pilot,method,distance,time,by
1,1,tape,3 m,07:10,K
1,2,tape,5 m,07:40,K
1,3,tape,6 m,,K
1,4,none,,,K
"""
HEAD = "task,target,event,time,by\n"


def found(log, marks=MARKS, **more):
    """Return the matters that a target log leads to: kind, pilots."""
    results = score(tiny(tiny_flight(marks=marks, targets=HEAD + log, **more)))
    return [
        (m.says.kind, m.pilots, m)
        for m in results.matters
        if m.kind.name.startswith("target-")
    ]


def kinds(log, **more):
    return [(kind, pilots) for kind, pilots, _ in found(log, **more)]


CLEAR = "1,T,clear,06:50,O\n"


def test_a_drop_while_closed_is_a_matter():
    log = CLEAR + "1,T,opened,07:00,O\n1,T,closed,07:30,O\n"
    ((kind, pilots, matter),) = found(log)
    assert (kind, pilots) == ("target-closed", (2,))
    assert matter.holds_up
    assert "07:40" in said(matter)


@pytest.mark.parametrize(
    ("opened", "closed", "late"),
    [("07:10", "07:40", ()), ("07:11", "07:40", (1,)), ("07:00", "07:39", (2,))],
)
def test_both_ends_of_the_open_time_count(opened, closed, late):
    log = CLEAR + f"1,T,opened,{opened},O\n1,T,closed,{closed},O\n"
    assert kinds(log) == [("target-closed", (n,)) for n in late]


def test_a_target_that_opens_again_is_open_again():
    log = "1,T,opened,07:00,O\n1,T,closed,07:05,O\n1,T,opened,07:08,O\n"
    told = kinds(log)
    assert told == [("target-not-clear", ())] * 2
    log = log.replace("1,T,opened,07:08", "1,T,clear,07:06,O\n1,T,opened,07:08")
    assert kinds(CLEAR + log) == []


def test_marks_belong_to_the_target_as_it_stood():
    told = kinds("1,T,moved,07:30,O\n")
    assert told == [("target-moved-since", (1,)), ("target-moved-when", (3,))]


def test_without_a_log_nothing_is_asked():
    assert kinds("") == []


@pytest.mark.parametrize(
    "row",
    [
        "1,T,opened,,O",
        "1,T,open,07:00,O",
        "9,T,opened,07:00,O",
        "1,nowhere,opened,07:00,O",
        "1,area,opened,07:00,O",
    ],
)
def test_a_line_that_makes_no_sense_is_refused(row):
    with pytest.raises(InputError, match=r"targets\.csv"):
        tiny(tiny_flight(marks=MARKS, targets=HEAD + row + "\n"))


def test_a_folder_keeps_the_log(tmp_path):
    raw = tiny_raw(tiny_flight(marks=MARKS, targets=HEAD + CLEAR))
    write_folder(raw, tmp_path / "meet")
    (flight,) = read_folder(tmp_path / "meet").flights
    assert [row.fields["event"] for row in flight.targets] == ["clear"]


MOVED = (
    HEAD.strip() + ",easting,northing\n1,T,moved,07:30,O,500030,4500040\n"
)  # a triangle of 3, 4 and 5
PLACED = """task,pilot,method,easting,northing,time,by
1,1,grid,500000,4500010,07:10,K
1,2,grid,500030,4500050,07:40,K
1,3,grid,500030,4500060,,K
"""


def moved(marks, log=MOVED):
    """Score marks to a target that was moved by 50 m at half past seven."""
    return score(tiny(tiny_flight(marks=marks, targets=log)))


def asked(results):
    """Return what is asked about the move: kind, pilots, how far."""
    return [
        (m.says.kind, m.pilots, m.says.get("away"))
        for m in results.matters
        if m.kind.name == "target-moved"
    ]


def test_a_mark_counts_to_where_the_target_stood_as_it_fell():
    own = moved(PLACED).task(1)
    before, after, unknown = (own.score_of(n) for n in (1, 2, 3))
    assert before.result == pytest.approx(10, abs=0.01)
    assert after.result == pytest.approx(10, abs=0.01)
    assert unknown.result == pytest.approx(20, abs=0.01)
    assert any("as it stood until" in said(step) for step in before.steps)
    assert any("moved by 50.0" in said(step) for step in after.steps)


def test_only_a_mark_without_time_is_asked_about_where_places_are_known():
    ((kind, pilots, away),) = asked(moved(PLACED))
    assert (kind, pilots) == ("target-moved-when-by", (3,))
    assert away == pytest.approx(50, abs=0.1)


def test_which_place_a_tape_was_laid_to_is_asked_with_how_far_apart_they_are():
    kinds_ = [(kind, pilots) for kind, pilots, _ in asked(moved(MARKS))]
    assert kinds_ == [("target-moved-since-by", (1,)), ("target-moved-when-by", (3,))]


def test_the_other_entry_of_a_mark_tells_when_it_fell():
    other = PLACED + "1,1,grid,500000,4500010,,L\n"
    own = moved(other).task(1).score_of(1)
    assert own.settled
    assert own.result == pytest.approx(10, abs=0.01)


def test_each_of_several_moves_is_a_version_of_its_own():
    log = MOVED + "1,T,moved,07:35,O,500030,4500050\n"
    own = moved(PLACED, log).task(1)
    results = [own.score_of(n).result for n in (1, 2, 3)]
    assert results == pytest.approx([10, 0, 10], abs=0.01)


@pytest.mark.parametrize(
    ("event", "cells"),
    [
        ("opened", "500030,4500040,,"),
        ("moved", "500030,,,"),
        ("moved", ",,40.6,"),
        ("moved", "500030,4500040,40.6,15"),
        ("moved", ",,89.9,15"),
    ],
)
def test_a_position_that_makes_no_sense_is_refused(event, cells):
    log = HEAD.strip() + f",easting,northing,lat,lon\n1,T,{event},07:30,O,{cells}\n"
    with pytest.raises(InputError, match=r"targets\.csv"):
        moved(PLACED, log)


def test_a_marker_was_thrown_at_the_target_as_it_stood_when_it_fell():
    event = tiny(tiny_flight(marks=PLACED, targets=MOVED))
    taken = take(event, event.flights[0], Site.of(event))
    aims = [(mark.aim, mark.aimed_m) for mark in taken.placed]
    then, since = (EAST, NORTH), (EAST + 30, NORTH + 40)
    assert [aim for aim, _ in aims] == [then, since, since]
    assert [away for _, away in aims] == pytest.approx([10, 10, 20], abs=0.01)
