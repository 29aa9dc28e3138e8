"""Invented meets with wrong marks: how many are doubted, and how many right ones.

The generator is `tests/bench/marks.py`, which shares no code with the model of throws;
`pytest -s` prints the tables, `python -m tests.bench.marks` longer ones.
"""

import pytest

from tests.bench.marks import HEAD, mixed

MEETS = ((10, range(900, 904)), (100, range(900, 901)))
"""Pilots, and the seeds of the meets."""


@pytest.mark.parametrize(("pilots", "seeds"), MEETS)
def test_wrong_marks_are_doubted_and_right_ones_hardly_ever(pilots, seeds):
    print()  # noqa: T201
    found = {}
    for timed in (False, True):
        tallies = [mixed(pilots, seed, timed=timed) for seed in seeds]
        found[timed] = sum(tallies[1:], tallies[0])
        how = "times to ± 10 s" if timed else "no times"
        print(f"{HEAD}\n{found[timed].row(f'{pilots} pilots, {how}')}")  # noqa: T201

    assert found[True].wrong >= 10
    assert found[True].found >= 0.6 * found[True].wrong
    assert found[False].found >= 0.12 * found[False].wrong
    assert all(own.alarms <= 0.005 * own.right + 1 for own in found.values())
