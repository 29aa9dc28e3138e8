"""Invented meets: hardly a log goes to a wrong pilot in silence, and few need a question.

The generator is `tests/bench/owners.py`; `pytest -s` prints the table, and
`python -m tests.bench.owners` a longer one.
"""

import pytest

from tests.bench.owners import HEAD, STYLES, mixed, tried

MEETS = ((10, 40), (100, 4), (275, 1))
"""Pilots and flights."""


@pytest.mark.parametrize(("pilots", "flights"), MEETS)
def test_mixed_styles_are_matched_or_asked_about(pilots, flights):
    tally = mixed(pilots, flights)
    print(f"\n{HEAD}\n{tally.row(f'{pilots} pilots, {flights} flights')}")  # noqa: T201

    assert tally.silent_wrong == 0
    assert tally.unasked >= 0.95 * tally.decidable


@pytest.mark.parametrize(
    "style", range(len(STYLES)), ids=lambda k: " ".join(STYLES[k][:2])
)
def test_no_style_goes_wrong_when_all_pilots_use_it(style):
    for case, found in tried(30, 5, style):
        assert not found.sure or found.likely == case.owner
