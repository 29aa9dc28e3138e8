"""The target log: cleared, opened, closed, moved, held against the marks."""

import pytest

from scorer.errors import InputError
from scorer.event.folder import read_folder, write_folder
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.tiny import tiny, tiny_flight, tiny_raw

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
