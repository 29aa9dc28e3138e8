"""What the rules want noted with every mark is asked for, entry by entry and on paper."""

from dataclasses import replace

import pytest

from scorer.scoring.noted import NOT_NOTED
from scorer.scoring.score import score
from scorer.sheets.forms import write_field_form
from tests.scorer.sheets.test_paper import whole
from tests.scorer.tiny import RULES, tiny, tiny_flight

WANTED = "keying.drop_time = true\nkeying.measurer = true\n"
HEAD = "task,pilot,method,distance,time,measurer,by\n"
MARKS = (
    HEAD
    + "1,1,tape,3 m,07:10,team 1,Ann\n"
    + "1,2,tape,5 m,,,Ann\n"
    + "1,2,tape,5 m,07:12,,Bo\n"
    + "1,3,tape,7 m,,team 1,Ann\n"
    + "1,4,none,,,,Ann\n"
)


def asked(rules):
    pilots = "number,name\n1,A\n2,B\n3,C\n4,D\n"
    event = tiny(tiny_flight(marks=MARKS), rules=RULES + rules, pilots=pilots)
    return [
        (m.says.kind, m.pilots) for m in score(event).matters if m.kind is NOT_NOTED
    ]


def test_what_no_entry_of_a_measured_mark_notes_is_asked_for():
    assert asked(WANTED) == [
        ("measurer-not-noted", (2,)),
        ("drop-time-not-noted", (3,)),
    ]
    assert asked("") == []


@pytest.mark.parametrize(("rules", "wanted"), [("", False), (WANTED, True)])
def test_the_form_has_room_for_what_the_rules_want(rules, wanted):
    event = tiny(tiny_flight(), rules=RULES + rules)
    text = whole(write_field_form(replace(event, name="Tiny"), 1))

    for words in ("Fell at", "Measured by Remarks", "to the second"):
        assert (words in text) is wanted
