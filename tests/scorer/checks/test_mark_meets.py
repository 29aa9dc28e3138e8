"""Invented meets with wrong marks: how many are doubted, and how many right ones.

The generator is `tests/bench/marks.py`, which shares no code with the model of throws;
`pytest -s` prints the tables, `python -m tests.bench.marks` longer ones.
"""

import pytest

from tests.bench.marks import HEAD, Tally, curve, look_at, meet, spoilt

MEETS = ((10, range(900, 904)), (100, range(900, 901)), (275, range(900, 901)))
"""Pilots, and the seeds of the meets."""


@pytest.mark.parametrize(("pilots", "seeds"), MEETS)
def test_wrong_marks_are_doubted_and_right_ones_hardly_ever(pilots, seeds):
    found = {}
    for timed in (False, True):
        by_odds, lines = curve(pilots, seeds, timed=timed)
        found[timed] = by_odds[0.0]
        print("", *lines, sep="\n")  # noqa: T201
        shares = [own.found for own in by_odds.values()]
        assert shares == sorted(shares, reverse=True)

    assert found[True].wrong >= 10
    assert found[True].found >= 0.6 * found[True].wrong
    assert found[False].found >= 0.12 * found[False].wrong
    assert all(own.alarms <= 0.005 * own.right + 1 for own in found.values())


@pytest.mark.parametrize("kind", ["wrong reference", "polar turned"])
def test_wrong_references_and_turned_bearings_are_found_without_times(kind):
    found = Tally()
    for seed in (10, 11):
        own = meet(100, seed, timed=False)
        rows, wrong = spoilt(own, kind, seed)
        found.add(rows, wrong, look_at(own, rows), kind)
    print(f"\n{HEAD}\n{found.row(kind)}")  # noqa: T201

    assert found.wrong >= 10
    assert found.found >= 0.9 * found.wrong
    assert found.alarms <= 0.005 * found.right + 1
