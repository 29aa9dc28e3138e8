"""Facts: typed statements, hashable, with plain documents."""

import pickle
from fractions import Fraction

import pytest

from scorer.facts import (
    Measure,
    Value,
    count,
    fact,
    inner,
    length,
    parts,
    several,
    span,
    values_within,
    words,
)
from scorer.rounding import Exact

FOUND = fact(
    "differ",
    gap=length(Fraction(1, 4)),
    entries=several([words("a"), inner(fact("tape", distance=length(2.5)))]),
    waited=span(3.0),
    pilots=count(2),
)


def test_a_fact_is_hashable_and_survives_pickling():
    assert pickle.loads(pickle.dumps(FOUND)) == FOUND
    assert len({FOUND, FOUND}) == 1


def test_a_document_names_what_its_values_count():
    assert FOUND.document() == {
        "kind": "differ",
        "gap_m": 0.25,
        "entries": ["a", {"kind": "tape", "distance_m": 2.5}],
        "waited_s": 3.0,
        "pilots_count": 2,
    }


def test_parts_yields_facts_within_facts():
    assert [stated.kind for stated in parts(FOUND)] == ["differ", "tape"]


def test_values_within_yields_those_of_inner_facts_in_their_order():
    plain = [v.amount for v in values_within(FOUND) if not hasattr(v.amount, "kind")]
    assert [amount for amount in plain if not isinstance(amount, tuple)] == [
        Fraction(1, 4),
        "a",
        2.5,
        3.0,
        2,
    ]


COMPUTED = {
    Measure.LENGTH: 12.3456789,
    Measure.EXACT: 0.0123456789,
    Measure.HEIGHT: 151.2318743,
    Measure.DISTANCE: 5_432.1987654,
    Measure.RACE: 61_234.5678912,
    Measure.POSITION: 46.123456789,
    Measure.MOMENT: 1_789_123_456.7,
    Measure.SPAN: 31.23456789,
    Measure.CHANCE: 0.123456789,
    Measure.UNITS: 3.3,
}


@pytest.mark.parametrize(("measure", "amount"), COMPUTED.items())
def test_another_version_of_a_library_says_the_same_number(measure, amount):
    """Libraries for numbers and maps differ in the last digits of a double."""
    own, other = (Value(measure, amount * off) for off in (1 - 1e-15, 1 + 2e-15))
    assert own.amount != other.amount
    assert own.document() == other.document()


def test_what_was_entered_keeps_its_digits():
    entered = fact("entry-tape", distance=length(Exact(Fraction("12.33932"))))
    assert entered.document()["distance_m"] == 12.33932
