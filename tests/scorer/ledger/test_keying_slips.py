import pytest

from scorer.ledger.acts import MarkKeyed
from scorer.ledger.convert import to_drafts
from scorer.ledger.faults import LedgerError
from scorer.ledger.keyings import (
    Slot,
    Standing,
    compare,
    disagreements,
    keyed_counts,
    settle,
    slip,
    slots,
    to_key,
)
from tests.scorer.ledger.ledger_desks import create, small_event, tape


@pytest.fixture
def ledger(tmp_path):
    with create(tmp_path / "e") as made:
        made.record_all(to_drafts(small_event()))
        yield made


def key(ledger, pilot, distance, by, **more):
    return ledger.record(
        MarkKeyed(flight="1", fields=tape(pilot, distance, by, **more))
    )


# Feet to metres: 1 ft = 0.3048 m exactly (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("one", "other", "bare", "said"),
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
        ("12.34", "1.34", "m", "left out or keyed twice"),
        ("12.34", "112.34", "m", "left out or keyed twice"),
        ("12.34", "12.84", "m", "one digit differs"),
    ],
)
def test_a_slip_is_pointed_out(one, other, bare, said):
    assert said in slip(one, other, bare=bare)
    assert said in slip(other, one, bare=bare)


@pytest.mark.parametrize(
    ("one", "other"), [("12.34", "57.81"), ("12.34", "12.34"), ("", "12.3"), ("x", "y")]
)
def test_what_looks_like_no_slip_is_not_called_one(one, other):
    assert slip(one, other) == ""


def test_the_same_number_in_two_units_is_pointed_out():
    one, other = tape(1, "12.3", unit="ft"), tape(1, "12.3", unit="m")

    found = compare(one, other)
    assert found.columns == ("distance",)
    assert found.hint == "the same number in ft and in m: 12.3"


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
        ({"distance": "10", "bearing": "90"}, {"distance": "10", "bearing": "90 M"}, False),
        ({"method": "none", "distance": ""}, {"distance": "10"}, False),
        ({"from": "A"}, {"from": "a"}, True),
        ({"from": "A"}, {"from": "B"}, False),
        ({"easting": "500000.00"}, {"easting": "500000.005"}, True),
        ({"easting": "500000.00"}, {"easting": "500000.02"}, False),
    ],
)  # fmt: skip
def test_keyings_agree_within_the_tolerance(one, other, agree):
    found = compare(tape(1, "5") | one, tape(1, "5", "bob") | other)

    assert (not found.columns) is agree


def test_bare_numbers_count_feet_at_an_imperial_event():
    found = compare(tape(1, "40.5"), tape(1, "12.3444 m"), bare="ft")

    assert not found.columns


def test_keyings_that_differ_are_listed_with_gap_and_hint(ledger):
    key(ledger, 1, "12.43", "bob")

    (found,) = disagreements(ledger.state())
    assert found.slot == Slot(flight="1", task="1", pilot="1")
    assert found.standing is Standing.DIFFER
    assert found.people == ("ann", "bob")
    assert found.differences[0].gap_m == pytest.approx(0.09, abs=1e-9)
    assert "swapped" in found.differences[0].hint


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
    assert slots(ledger.state())[0].standing is Standing.SETTLED
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
    assert again.standing is Standing.REOPENED

    ledger.record_all([settle(again, again.keyings[1].act.fields, reason="new tape")])
    (slot,) = [s for s in slots(ledger.state()) if s.slot.pilot == "1"]
    assert slot.standing is Standing.SETTLED
    assert slot.settled.act.fields["distance"] == "15.1"
    assert not ledger.state().conflicts


def test_nobody_keys_a_mark_twice_nor_a_third_time(ledger):
    state = ledger.state()
    assert to_key(state, flight="1", task=1, who="ann", pilots=[1, 2, 3]) == (3,)
    assert to_key(state, flight="1", task=1, who="Bob", pilots=[2, 1, 3]) == (2, 1, 3)

    key(ledger, "01", "12.34", "bob")
    state = ledger.state()
    assert to_key(state, flight="1", task=1, who="cid", pilots=[1, 2, 3]) == (2, 3)
    assert to_key(state, flight="1", task=1, who=" BOB", pilots=[1, 2, 3]) == (2, 3)


def test_marks_are_counted_by_how_far_they_are(ledger):
    key(ledger, 1, "12.34", "bob")

    counts = keyed_counts(slots(ledger.state()))
    assert counts == {Standing.AGREE: 1, Standing.ONCE: 1}


def test_marks_of_several_roles_are_apart(ledger):
    key(ledger, 1, "99", "bob", mark="B")

    assert not disagreements(ledger.state())


def survey(ledger, by, *, distance="80.62", **more):
    return key(ledger, 1, distance, by, **{"from": "post", **more})


def test_different_measurements_by_one_person_are_a_survey_not_a_difference(ledger):
    survey(ledger, "ann")
    survey(ledger, "ann", distance="", method="grid", easting="1", northing="2")

    assert not disagreements(ledger.state())


def test_a_survey_keyed_again_is_compared_measurement_by_measurement(ledger):
    survey(ledger, "ann")
    key(ledger, 1, "12.34", "bob")
    survey(ledger, "bob", distance="86.02")

    (found,) = disagreements(ledger.state())
    assert [bool(d.columns) for d in found.differences] == [False, False, True]


def test_the_same_measurement_twice_by_one_person_is_compared(ledger):
    key(ledger, 1, "12.43", "ann")

    assert len(disagreements(ledger.state())) == 1


def test_no_mark_found_differs_from_any_measurement_of_it(ledger):
    key(ledger, 1, "", "ann", method="none")

    assert len(disagreements(ledger.state())) == 1
