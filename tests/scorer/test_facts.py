"""Facts: typed statements, hashable, with plain documents."""

import pickle
from fractions import Fraction

from scorer.facts import (
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
