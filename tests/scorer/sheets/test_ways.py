"""Numbers in the files of tracks."""

from decimal import ROUND_HALF_EVEN, Decimal
from math import nan

import numpy as np
import pytest

from scorer.sheets.ways import rounded


@pytest.mark.parametrize(("decimals", "size"), [(6, 180.0), (6, 1e-4), (1, 9000.0)])
def test_numbers_are_rounded_as_decimal_arithmetic_rounds_them(
    decimals: int, size: float
) -> None:
    step = 10.0**-decimals
    some = np.random.default_rng(1).uniform(-size, size, 3000)
    halves = np.round(some, decimals) + 0.5 * step
    near = np.nextafter(halves, 0.0), halves, np.nextafter(halves, size)
    values = np.concatenate([some, *near, [0.0, -0.0, 0.125, 0.25, -1e-9]])
    exact = Decimal(1).scaleb(-decimals)
    expected = [
        repr(float(Decimal(v).quantize(exact, ROUND_HALF_EVEN)))
        for v in values.tolist()
    ]
    assert [repr(v) for v in rounded(values, decimals)] == expected


def test_what_was_not_recorded_stays_so() -> None:
    assert repr(rounded(np.array([nan, 1.26]), 1)) == "[nan, 1.3]"
