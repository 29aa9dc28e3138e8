"""What fits a mark better is taken as one decision, for all entries it touches."""

from dataclasses import replace

import pytest

from scorer.event import matters
from scorer.event.matter import Matter, grouped
from scorer.facts import angle, fact, inner, length, pilot, place, several, task, term
from scorer.facts import words as text
from scorer.ledger.acts import MarkKeyed, MarkSettled
from scorer.ledger.as_meant import as_meant, proposal
from scorer.ledger.faults import LedgerError
from tests.scorer.ledger.ledger_desks import create

FLIGHT = "f1"


@pytest.fixture
def ledger(tmp_path):
    with create(tmp_path / "e") as own:
        yield own


def key(ledger, **cells):
    cells = {"task": "1", "method": "tape", **cells}
    return ledger.record(MarkKeyed(flight=FLIGHT, fields=cells))


def doubted(meant, number=1):
    what = fact("mark-not-unusual", mark=inner(fact("mark-of", pilot=pilot(number))))
    says = fact("mark-astray", what=inner(what), others=inner(meant))
    return Matter(
        kind=matters.MARK_FAR_FROM_TRACK,
        flight=FLIGHT,
        task=1,
        pilots=(number,),
        says=says,
    )


def taken(ledger, meant, number=1):
    """Take it and return the entries that then stand, by task and pilot."""
    drafts = as_meant(ledger.state(), doubted(meant, number), why="sheet", by="Eva")
    ledger.record_all(drafts)
    state = ledger.state()
    found = {}
    for _, act in (*state.all_of(MarkKeyed), *state.all_of(MarkSettled)):
        own = act.fields
        found.setdefault((own["task"], own["pilot"]), []).append((act, own))
    return found


def fits(*numbers):
    named = (
        fact("track-reaches", pilot=pilot(n), away=length(3.0), at=text("07:00"))
        for n in numbers
    )
    return fact("mark-fits", named=several(map(inner, named)))


def test_two_marks_are_exchanged_with_all_their_entries(ledger):
    key(ledger, pilot="1", distance="5", by="ann")
    key(ledger, pilot="1", distance="5", by="bob")
    key(ledger, pilot="2", distance="8", by="ann")

    found = taken(ledger, fact("marks-swapped", pilot=pilot(1), other=pilot(2)))

    assert [own["distance"] for _, own in found["1", "1"]] == ["8"]
    assert [own["distance"] for _, own in found["1", "2"]] == ["5", "5"]
    assert {own["by"] for _, own in found["1", "2"]} == {"ann", "bob"}


def test_a_mark_goes_to_the_pilot_whose_flight_it_fits(ledger):
    key(ledger, pilot="1", distance="5")
    key(ledger, pilot="2", method="none")

    found = taken(ledger, fits(2))

    assert ("1", "1") not in found
    assert [own["distance"] for _, own in found["1", "2"]] == ["5"]


def test_it_does_not_go_where_another_mark_stands(ledger):
    key(ledger, pilot="1", distance="5")
    key(ledger, pilot="2", distance="6")

    with pytest.raises(LedgerError, match="Another mark stands"):
        as_meant(ledger.state(), doubted(fits(2)), why="sheet", by="Eva")


def test_a_mark_goes_to_its_task_or_both_are_exchanged(ledger):
    key(ledger, pilot="1", distance="5")
    found = taken(ledger, fact("meant-task", task=task(2)))
    assert [own["distance"] for _, own in found["2", "1"]] == ["5"]
    assert ("1", "1") not in found

    key(ledger, pilot="2", distance="7")
    key(ledger, pilot="2", distance="9", task="2")
    found = taken(ledger, fact("meant-task", task=task(2)), number=2)
    assert found["1", "2"][0][1]["distance"] == "9"
    assert found["2", "2"][0][1]["distance"] == "7"


@pytest.mark.parametrize(
    ("meant", "cells"),
    [
        (fact("meant-turned", bearing=angle(225.5)), {"bearing": "225.5 T"}),
        (fact("meant-reference", place=place("bridge")), {"from": "bridge"}),
        (
            fact("meant-unit", unit=term("in-feet"), distance=length(3.71)),
            {"distance": "12.17", "unit": "ft"},
        ),
        (
            fact("meant-digits", text=text("12.17"), instead=text("21.17")),
            {"distance": "21.17"},
        ),
        (fact("meant-side", side=term("left")), {"side": "L"}),
    ],
)
def test_other_cells_are_settled_on_and_the_entry_stays(ledger, meant, cells):
    given = {"bearing": "45.5 T", "from": "centre", "side": "R", "distance": "12.17"}
    key(ledger, pilot="1", by="ann", **given)

    (keyed, _), (settled, own) = taken(ledger, meant)["1", "1"]

    assert isinstance(keyed, MarkKeyed)
    assert keyed.fields.items() >= given.items()
    assert isinstance(settled, MarkSettled)
    assert own.items() >= {**given, **cells, "by": "Eva", "settles": "sheet"}.items()


def test_what_nothing_stands_out_for_cannot_be_taken(ledger):
    key(ledger, pilot="1", distance="5")
    for meant in (fact("mark-fits-none"), fits(2, 3)):
        assert proposal(doubted(meant)) is None
        with pytest.raises(LedgerError, match="proposes nothing"):
            as_meant(ledger.state(), doubted(meant), why="sheet", by="Eva")


def test_a_stack_is_taken_at_once_each_entry_with_its_own_cells(ledger):
    key(ledger, pilot="1", distance="5", bearing="10", **{"from": "bridge"})
    key(ledger, pilot="2", distance="7", bearing="250 T", **{"from": "bridge"})
    one, two = (
        replace(
            doubted(fact("meant-turned", bearing=angle(deg)), number),
            kind=matters.STACK_UNFIT,
            says=fact(
                "stack-turned",
                what=inner(fact("mark-of", pilot=pilot(number))),
                meant=inner(fact("meant-turned", bearing=angle(deg))),
                start=place("bridge"),
            ),
        )
        for number, deg in ((1, 190.0), (2, 70.0))
    )
    (stack,) = grouped([one, two])

    ledger.record_all(as_meant(ledger.state(), stack, why="compass", by="Eva"))

    settled = [act.fields for _, act in ledger.state().all_of(MarkSettled)]
    assert {own["pilot"]: own["bearing"] for own in settled} == {
        "1": "190",
        "2": "70 T",
    }
