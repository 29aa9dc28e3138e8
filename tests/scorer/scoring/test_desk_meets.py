"""Invented meets: reports on the wrong pilot, twin penalties, amounts ten times off.

The generator is `tests/bench/desks.py`; `pytest -s` prints the tables.  Where many are
low at once, three names can hardly hold the right one; it is printed, not asked for.
"""

import pytest

from tests.bench.desks import table


@pytest.mark.parametrize(("pilots", "meets"), [(10, 6), (100, 1), (275, 1)])
def test_slips_of_desks_are_asked_about_and_hardly_anything_else(pilots, meets):
    total, proposed, lines = table(pilots, range(meets))
    print("", *lines, sep="\n")  # noqa: T201
    wrong, asked, right, false = total["report on another pilot"]

    assert right >= 40
    assert asked >= 0.25 * wrong
    assert proposed >= (0.7 if pilots == 10 else 0.0) * asked
    assert false == 0
    wrong, asked, _, false = total["imposed by both desks"]
    assert (asked, false) == (wrong, 0)
    wrong, asked, right, false = total["amount ten times off"]
    assert asked >= 0.4 * wrong
    assert false <= 0.02 * right
