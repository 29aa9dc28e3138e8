from collections import Counter

import pytest

from scorer.ledger.acts import MarkKeyed, PilotSet, PlaceSet
from scorer.ledger.convert import to_drafts
from scorer.ledger.faults import LedgerError
from scorer.ledger.keyings import (
    Slot,
    disagreements,
    settle,
    slots,
)
from scorer.ledger.slips import columns_that_differ, hint, slip
from scorer.scoring.keyings import Keyed
from tests.helpers import said
from tests.scorer.ledger.ledger_desks import create, place, small_event, tape


@pytest.fixture
def ledger(tmp_path):
    with create(tmp_path / "e") as made:
        made.record_all(to_drafts(small_event()))
        made.record(PilotSet(fields={"number": "9", "name": "Nina Ott"}))
        made.record(PlaceSet(feature=place("post", "reference", lat=50.001)))
        yield made


def record(ledger, fields):
    return ledger.record(MarkKeyed(flight="1", fields=fields))


def key(ledger, pilot, distance, by, **more):
    return record(ledger, tape(pilot, distance, by, **more))


def of(ledger, pilot):
    return next(s for s in slots(ledger.state()) if s.slot.pilot == str(pilot))


# Feet to metres: 1 ft = 0.3048 m exactly (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("one", "other", "bare", "told"),
    [
        ("12.3", "13.2", "m", "two digits swapped (2 and 3)"),
        ("12.34", "12.43", "m", "two digits swapped (3 and 4)"),
        ("102.5", "120.5", "m", "two digits swapped (0 and 2)"),
        ("12.34", "21.34", "m", "two digits swapped (1 and 2)"),
        ("12.34", "123.4", "m", "another point or unit"),
        ("12.34", "1234", "m", "another point or unit"),
        ("12.34 m", "12.34 ft", "m", "another point or unit"),
        ("40.5", "12.34", "m", "feet against metres"),
        ("3.76", "12.34", "m", "feet against metres"),
        ("2.5", "250", "m", "centimetres against metres"),
        ("2.5", "250.5", "m", "centimetres against metres"),
        ("40.3", "40 ft 3 in", "ft", "feet and inches against decimal feet"),
        ("40.3", "40.25", "ft", "feet and inches against decimal feet"),
        ("12.34", "1.34", "m", "left out or entered twice"),
        ("12.34", "112.34", "m", "left out or entered twice"),
        ("12.34", "12.84", "m", "one digit differs"),
    ],
)
def test_a_slip_is_pointed_out(one, other, bare, told):
    assert told in said(slip(one, other, bare=bare)).casefold()
    assert told in said(slip(other, one, bare=bare)).casefold()


@pytest.mark.parametrize(
    ("one", "other"), [("12.34", "57.81"), ("12.34", "12.34"), ("", "12.3"), ("x", "y")]
)
def test_what_looks_like_no_slip_is_not_called_one(one, other):
    assert slip(one, other) is None


def test_the_same_number_in_two_units_is_pointed_out():
    one, other = tape(1, "12.3", unit="ft"), tape(1, "12.3", unit="m")

    assert columns_that_differ([one, other]) == ("unit",)
    assert said(hint(one, other)) == "The same number in ft and in m: 12.3."


@pytest.mark.parametrize(
    ("one", "other", "agree"),
    [
        ({"distance": "12.34"}, {"distance": "12.35"}, True),
        ({"distance": "12.34"}, {"distance": "12.36"}, False),
        ({"distance": "12.34"}, {"distance": "1234 cm"}, True),
        ({"distance": "12,3"}, {"distance": "12.30"}, True),
        ({"distance": "10", "bearing": "90"}, {"distance": "10", "bearing": "90.05"}, True),
        ({"distance": "10", "bearing": "90"}, {"distance": "10", "bearing": "91"}, False),
        ({"distance": "10", "bearing": "90"}, {"distance": "10"}, True),
        ({"method": "none", "distance": ""}, {"distance": "10"}, False),
        ({"distance": "10"}, {"distance": "10", "from": "centre"}, True),
        ({"distance": "10"}, {"distance": "10", "from": "post", "bearing": "0"}, False),
        ({"distance": "10", "time": "07:00"}, {"distance": "10", "time": "07:05"}, False),
        ({"distance": "10", "time": "07:00"}, {"distance": "10"}, True),
    ],
)  # fmt: skip
def test_entries_agree_within_the_tolerance(ledger, one, other, agree):
    record(ledger, tape(9, "5") | one)
    record(ledger, tape(9, "5", "bob") | other)

    slot = of(ledger, 9)
    assert slot.open is not agree
    assert slot.state is (Keyed.AGREE if agree else Keyed.DIFFER)


def test_keyings_that_differ_are_listed_with_gap_and_hint(ledger):
    key(ledger, 1, "12.43", "bob")

    (found,) = disagreements(ledger.state())
    assert found.slot == Slot(flight="1", task="1", pilot="1")
    assert found.state is Keyed.DIFFER
    assert found.people == ("ann", "bob")
    (problem,) = found.problems
    assert problem.kind == "entries-differ"
    assert problem.get("gap") == pytest.approx(0.09, abs=1e-9)
    assert said(problem) == (
        "Two entries differ by 0.09 m: 12.34 m by ann and 12.43 m by bob. Choose one; "
        "0.01 m is allowed."
    )
    assert "swapped" in said(hint(*(c.act.fields for c in found.keyings)))


def test_a_third_keying_that_agrees_with_one_does_not_outvote_the_other(ledger):
    key(ledger, 1, "12.43", "bob")
    key(ledger, 1, "12.43", "cid")

    assert len(disagreements(ledger.state())) == 1


def test_settling_needs_a_reason_and_ends_the_disagreement(ledger):
    key(ledger, 1, "12.43", "bob")
    (found,) = disagreements(ledger.state())

    with pytest.raises(LedgerError, match="say what shows which"):
        settle(found, found.keyings[0].act.fields, reason=" ")
    (entry,) = ledger.record_all(
        [settle(found, found.keyings[0].act.fields, reason="photo of the tape")]
    )

    assert entry.why == "photo of the tape"
    assert not disagreements(ledger.state())
    assert of(ledger, 1).state is Keyed.SETTLED
    row = ledger.raw().flights[0].marks[-1]
    assert row.fields["settles"] == "photo of the tape"


def test_a_correction_after_settling_opens_it_again(ledger):
    second = key(ledger, 1, "12.43", "bob")
    (found,) = disagreements(ledger.state())
    ledger.record_all([settle(found, found.keyings[0].act.fields, reason="photo")])
    ledger.record(
        MarkKeyed(flight="1", fields=tape(1, "15.1", "bob")), replaces=[second.id]
    )

    (again,) = disagreements(ledger.state())
    assert again.state is Keyed.REOPENED

    ledger.record_all([settle(again, again.keyings[1].act.fields, reason="new tape")])
    (slot,) = [s for s in slots(ledger.state()) if s.slot.pilot == "1"]
    assert slot.state is Keyed.SETTLED
    assert slot.settled.act.fields["distance"] == "15.1"
    assert not ledger.state().conflicts


def test_marks_are_counted_by_how_far_they_are(ledger):
    key(ledger, 1, "12.34", "bob")

    counts = Counter(slot.state for slot in slots(ledger.state()))
    assert counts == {Keyed.AGREE: 1, Keyed.ONCE: 1}


def test_marks_of_several_roles_are_apart(ledger):
    key(ledger, 1, "99", "bob", mark="B")

    assert not disagreements(ledger.state())


def survey(ledger, by, *, distance="80.62", **more):
    return key(ledger, 1, distance, by, **{"from": "post", **more})


def test_a_survey_keyed_again_is_compared_measurement_by_measurement(ledger):
    survey(ledger, "ann")
    key(ledger, 1, "12.34", "bob")
    survey(ledger, "bob", distance="86.02")

    (found,) = disagreements(ledger.state())
    assert [p.kind for p in found.problems] == ["entries-differ"]
    assert "86.02" in said(found.problems[0])


def test_the_same_measurement_twice_by_one_person_is_compared(ledger):
    key(ledger, 1, "12.43", "ann")

    assert len(disagreements(ledger.state())) == 1


def test_no_mark_found_differs_from_any_measurement_of_it(ledger):
    key(ledger, 1, "", "ann", method="none")

    assert len(disagreements(ledger.state())) == 1
