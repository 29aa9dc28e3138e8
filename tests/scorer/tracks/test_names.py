"""Names of people: what is one name spelt anew, and what is somebody else's."""

import pytest

from scorer.ledger.numbers import other_person


@pytest.mark.parametrize(
    ("before", "now", "other"),
    [
        ("Ann Ek", "Anne Ek", False),
        ("Ann Ek", "EK, Änn", False),
        ("Ann Ek", "A. Ek", False),
        ("Ann Ek", "Ann Maria Ek", False),
        ("Jan van der Berg", "Jan Vanderberg", False),
        ("Ann Ek", "Dan Ek", True),
        ("Ann Featherstonehaugh", "Dan Featherstonehaugh", True),
        ("Ann Featherstonehaugh", "Bo Featherstonehaugh", True),
        ("Pilot 1", "Pilot 2", True),
        ("A", "A", False),
        ("", "Ann Ek", True),
    ],
)
def test_a_number_s_line_names_somebody_else_or_one_name_spelt_anew(before, now, other):
    assert other_person(before, now) is other
    assert other_person(now, before) is other
