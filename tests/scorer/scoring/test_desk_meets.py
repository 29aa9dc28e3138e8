"""Invented meets: reports on the wrong pilot, twin penalties, amounts ten times off.

The generator is `tests/bench/desks.py`; `pytest -s` prints the tables.  Where more than
three did such a thing within the reach of a watch, three names can hardly hold the right
one: such reports are printed, and not counted as decidable.
"""

import pytest

from tests.bench.desks import Reports, table


@pytest.mark.parametrize(("pilots", "meets"), [(10, 6), (100, 1), (275, 1)])
def test_slips_of_desks_are_asked_about_and_hardly_anything_else(pilots, meets):
    seen, total, lines = table(pilots, range(meets))
    print("", *lines, sep="\n")  # noqa: T201
    every = sum(seen.values(), Reports())

    assert every.right >= 80
    assert every.false == 0
    assert every.asked >= 0.4 * every.wrong
    assert every.decidable >= 5
    assert every.told >= (0.85 if pilots < 275 else 0.6) * every.decidable
    wrong, asked, _, false = total["imposed by both desks"]
    assert (asked, false) == (wrong, 0)
    wrong, asked, right, false = total["amount ten times off"]
    assert asked >= 0.4 * wrong
    assert false <= 0.02 * right
