import copy

import pytest

from scorer.ledger.acts import FlightSet, LogAssigned, MarkKeyed, Undone
from scorer.ledger.changes import changes
from scorer.ledger.entry import NO_ENTRY, Draft, Link, seal
from scorer.scoring.document import compared
from scorer.scoring.score import score
from tests.helpers import lines, said
from tests.scorer.ledger.ledger_desks import FIELD, HALL, Watch, tape
from tests.scorer.tiny import tiny, tiny_flight


def a_score(pilot, rank, result, points, **more):
    return {
        "pilot": pilot,
        "group": "A",
        "measured": result,
        "result": result,
        "rank": rank,
        "task_penalty": 0,
        "event_penalty": 0,
        "score": points,
        "settled": True,
        "charges": [],
        "marks": [{"keyings": [f"ann: tape distance {result}"]}],
        "why": "",
        **more,
    }


@pytest.fixture
def before():
    scores = [a_score(7, 1, 12.34, 1000), a_score(8, 2, 20.0, 900)]
    return {
        "tasks": [
            {
                "flight": "1",
                "task": 1,
                "kind": "FIN",
                "unit": "m",
                "state": "flown",
                "formula": {"P": 2, "A": 2, "M": 1, "W": 12.34, "RM": 12.34, "SM": 900},
                "scores": scores,
            }
        ],
        "findings": [],
        "warnings": [],
        "standings": [
            {"rank": 1, "pilot": 7, "total": 1000, "event_penalty": 0},
            {"rank": 2, "pilot": 8, "total": 900, "event_penalty": 0},
        ],
    }


@pytest.fixture
def after(before):
    return copy.deepcopy(before)


def test_equal_results_have_no_changes(before, after):
    assert changes(before, after) == ()
    assert changes(None, after) == ()


def test_a_keying_that_changed_is_the_reason_and_others_moved_by_it(before, after):
    after["tasks"][0]["scores"] = [
        a_score(8, 1, 20.0, 1000),
        a_score(7, 2, 21.34, 950),
    ]
    after["tasks"][0]["formula"]["W"] = 20.0
    after["standings"][0] |= {"pilot": 8}
    after["standings"][1] |= {"pilot": 7, "total": 950}

    seven, eight, *standings = changes(before, after)

    assert [said(v) for v in seven.values] == [
        "result 12.34 m → 21.34 m",
        "rank 1 → 2",
        "score 1000 → 950",
    ]
    told = lines(seven.reasons)
    assert "measured 12.34 m → 21.34 m" in told
    assert "no longer counted: ann: tape distance 12.34" in told
    assert "entered: ann: tape distance 21.34" in told
    assert lines(eight.reasons) == [
        "other pilots' results changed: best result 12.34 m → 20.00 m"
    ]
    assert [(c.task, lines(c.reasons)) for c in standings] == [
        (None, ["see task 1"]),
        (None, ["see task 1"]),
    ]


def test_a_cancelled_task_says_who_cancelled_it_and_takes_its_numbers_down(
    before, after
):
    """Its results.json has the task still, with nobody before anybody."""
    after["tasks"][0]["state"] = "cancelled"
    after["tasks"][0]["scores"] = [a_score(n, 1, None, 0, group="B") for n in (7, 8)]
    made = []
    told = (("flown", "set down"), ("cancelled", "thermals"), ("cancelled", "typo"))
    for number, (state, why) in enumerate(told, start=1):
        settings = {"task": [{"number": 1, "state": state}]}
        draft = Draft(act=FlightSet(flight="1", settings=settings), why=why)
        link = Link(desk=HALL, number=number, tick=number, prev=NO_ENTRY)
        made.append(seal(draft, link, who="ann", when=Watch()()))

    seven, eight, *_ = changes(before, after, entries=made)

    for change, points in ((seven, 1000), (eight, 900)):
        assert said(change.values[-1]) == f"score {points} → none"
        assert lines(change.reasons) == [
            "the task flown → cancelled",
            "flight 1 by ann because: thermals",
        ]


def test_a_penalty_is_named_with_its_ruling_and_reason(before, after):
    charge = {
        "finding": "floor:1:7:23000",
        "amount": 40,
        "unit": "task points",
        "ruling": "unruled",
        "reason": "",
        "by": "",
    }
    before["tasks"][0]["scores"][0]["charges"] = [charge]
    ruled = {**charge, "ruling": "waive", "reason": "gust", "by": "director"}
    after["tasks"][0]["scores"][0] |= {"charges": [ruled], "score": 1040}

    (change, *_) = changes(before, after, tasks=[1])

    (reason,) = change.reasons
    assert said(reason) == (
        "penalty: 40 task points for flying under the minimum height, not yet decided became "
        "40 task points for flying under the minimum height, waived, by director, because: gust"
    )


def test_a_decision_that_takes_the_result_is_said_once(before, after):
    charge = {
        "finding": "contact:1:7:23000",
        "amount": 0,
        "unit": "no result",
        "ruling": "unruled",
        "reason": "",
        "by": "",
    }
    ruled = {**charge, "ruling": "apply", "reason": "seen by two", "by": "director"}
    why = {"kind": "no-result-because"}
    gone = {
        "group": "B",
        "result": None,
        "why": "ground contact, confirmed, by director, because: seen by two",
        "steps": [{"kind": "step-group-b", "why": why}],
    }
    after["tasks"][0]["scores"][0] |= {"charges": [ruled], **gone}
    (change, *_) = changes(before, after, tasks=[1])
    (reason,) = lines(change.reasons)
    assert reason.count("seen by two") == 1
    # What else took it is said, also where a charge came with it.
    why["kind"] = "no-mark"
    after["tasks"][0]["scores"][0]["why"] = "no mark was found"
    (change, *_) = changes(before, after, tasks=[1])
    assert lines(change.reasons)[1:] == ["no mark was found"]


def test_another_way_to_write_an_identifier_is_no_change(before, after):
    charge = {"amount": 40, "unit": "task points", "ruling": "apply"}
    old, new = "floor:1:7:23000", "floor:1:7:20260912T062320Z"
    for tree, name in ((before, old), (after, new)):
        own = {"charges": [{**charge, "finding": name}], "why": f"no result: {name}"}
        tree["tasks"][0]["scores"][0] |= own

    assert changes(before, after) == ()
    after["tasks"][0]["scores"][0]["why"] = "no result: floor:1:7:20260912T062321Z"
    assert len(changes(before, after)) == 1


def test_what_programs_note_beside_a_penalty_is_no_change(before, after):
    own = {"finding": "floor:1:7:23000", "amount": 40, "unit": "task points"}
    for tree, rule in ((before, None), (after, {"kind": "rule-of-event"})):
        tree["tasks"][0]["scores"][0]["charges"] = [{**own, "rule": rule}]

    assert changes(before, after) == ()


def test_penalties_added_and_taken_off(before, after):
    charge = {"finding": "", "rule": "12.3", "amount": 10, "unit": "task points"}
    after["tasks"][0]["scores"][0] |= {"charges": [charge], "score": 990}

    (added, *_) = changes(before, after, tasks=[1])
    (off, *_) = changes(after, before, tasks=[1])
    assert (
        said(added.reasons[0]) == "penalty added: 10 task points added by an official"
    )
    assert said(off.reasons[0]).startswith("penalty taken off: 10 task points added")


def test_entries_between_tell_who_and_why(before, after):
    after["tasks"][0]["scores"][0] |= {"score": 999}
    link = Link(desk=HALL, number=9, tick=40, prev=NO_ENTRY)
    act = MarkKeyed(flight="1", fields=tape(7, "12.35", by="bob"))
    keyed = seal(Draft(act=act, why="keyed anew"), link, who="bob", when=Watch()())
    link = Link(desk=FIELD, number=1, tick=41, prev=NO_ENTRY)
    draft = Draft(act=Undone(entry=keyed.hash), why="wrong pilot")
    undone = seal(draft, link, who="cid", when=Watch()())

    act = LogAssigned(flight="1", name="logs/7.igc", sha256="0" * 64, pilot=7)
    link = Link(desk=FIELD, number=2, tick=42, prev=undone.hash)
    given = seal(Draft(act=act, why="asked"), link, who="cid", when=Watch()())

    (change, *_) = changes(before, after, tasks=[1], entries=[undone, keyed, given])

    assert lines(change.reasons) == [
        "the entry by bob because: keyed anew",
        "a correction by cid because: wrong pilot",
        "the pilot of log 7.igc by cid because: asked",
    ]


def test_a_new_and_a_vanished_pilot_are_named(before, after):
    after["tasks"][0]["scores"][1] = a_score(9, 2, 20.0, 900)

    eight, nine = changes(before, after, tasks=[1])

    assert (eight.pilot, lines(eight.reasons)) == (8, ["no longer entered"])
    assert (nine.pilot, lines(nine.reasons)) == (9, ["entered since the last version"])
    assert "rank none → 2" in said(nine)


def test_a_new_task_is_named_as_new(before, after):
    after["tasks"].append({**after["tasks"][0], "task": 2})

    found = changes(before, after, tasks=[2])
    assert {c.task for c in found} == {2}
    assert changes(before, after, tasks=[1]) == ()


def test_a_result_settled_since_says_so(before, after):
    before["tasks"][0]["scores"][0] |= {"settled": False, "result": None}

    (change, *_) = changes(before, after, tasks=[1])
    assert "the mark is settled now" in lines(change.reasons)


def test_a_ruling_that_changes_no_number_is_told_all_the_same(before, after):
    charge = {"finding": "f", "amount": 40, "unit": "task points", "ruling": "unruled"}
    before["tasks"][0]["scores"][0]["charges"] = [charge]
    ruled = {**charge, "ruling": "apply"}
    after["tasks"][0]["scores"][0]["charges"] = [ruled]

    (change,) = changes(before, after)
    assert change.values == ()
    assert "7, task 1: the same numbers (penalty: 40 task points for f" in said(change)


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_what_is_alike_need_not_be_written_to_be_compared(units):
    def scored(bob, unit=units):
        marks = "task,pilot,method,measured_from,distance\n" + "".join(
            f"1,{pilot},tape,T,{distance}\n"
            for pilot, distance in {1: "12.34 m", 2: bob, 3: "33 m", 4: "44 m"}.items()
        )
        return score(tiny(tiny_flight(marks=marks), units=unit))

    before, after = scored("22 m"), scored("5.5 m")
    short = compared(before, after), compared(after, before)
    whole = compared(before), compared(after)
    assert changes(*short) == changes(*whole) != ()
    written = [
        {row["pilot"]: len(row) for row in own["tasks"][0]["scores"]} for own in short
    ]
    assert written[0] == written[1]
    assert written[0][4] == 1 < written[0][2]
    other = scored("22 m", "imperial" if units == "metric" else "metric")
    assert compared(before, other) == whole[0]  # the same length, said otherwise
