"""Small linear systems against scipy's own functions, to the last digits.

Which routine scipy calls, and in which order it sums, changes with its versions.
"""

from functools import partial

import numpy as np
import pytest
from scipy.linalg import cholesky as scipy_cholesky
from scipy.linalg import solve_triangular

from scorer.tracks.systems import cholesky, solve_lower

same = partial(np.testing.assert_allclose, rtol=1e-12, atol=1e-13)


@pytest.mark.parametrize("n", [1, 2, 9, 60])
@pytest.mark.parametrize("order", ["C", "F"])
def test_small_systems_are_those_of_scipy(n: int, order: str) -> None:
    rng = np.random.default_rng(n)
    some, value = rng.normal(size=(n + 1, n)), rng.normal(size=(n, 3))
    matrix = np.array(some.T @ some + np.eye(n), order=order)  # type: ignore[call-overload]
    lower = scipy_cholesky(matrix, lower=True)
    same(cholesky(matrix), lower)
    for triangle in (lower, np.ascontiguousarray(lower)):
        for right in (value, value[:, 0]):
            expected = solve_triangular(triangle, right, lower=True)
            same(solve_lower(triangle, right), expected)


def test_nothing_asked_is_nothing_found() -> None:
    assert cholesky(np.empty((0, 0))).shape == (0, 0)
    assert solve_lower(np.empty((0, 0)), np.empty((0, 4))).shape == (0, 4)


def test_what_has_no_answer_is_refused() -> None:
    with pytest.raises(np.linalg.LinAlgError):
        cholesky(-np.eye(3))
    with pytest.raises(np.linalg.LinAlgError):
        solve_lower(np.diag([1.0, 0.0]), np.ones(2))
