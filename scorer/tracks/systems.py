"""Small linear systems, which each log asks for by the dozen.

scipy's own functions call such routines of LAPACK too; what they do with their arguments
takes several times as long as systems of ten unknowns.
"""

import numpy as np
import scipy

from scorer.tracks.flown import Array


def cholesky(matrix: Array) -> Array:
    """Return the lower triangle L of a positive definite (N, N) matrix L L'.

    Raises
    ------
    numpy.linalg.LinAlgError
        It is not positive definite.
    """
    if not matrix.size:
        return np.empty_like(matrix)
    lower, info = scipy.linalg.lapack.dpotrf(matrix, lower=1, clean=1)
    if info:
        raise np.linalg.LinAlgError("the matrix is not positive definite")
    return np.asarray(lower)


def solve_banded(bands: Array, value: Array) -> Array:
    """Return X of A X = B, (N,), of a positive definite A given by its upper bands.

    The last of `bands`, (U + 1, N), is the diagonal.

    Raises
    ------
    numpy.linalg.LinAlgError
        It is not positive definite.
    """
    _, solved, info = scipy.linalg.lapack.dpbsv(bands, value)
    if info:
        raise np.linalg.LinAlgError("the matrix is not positive definite")
    return np.asarray(solved)


def solve_lower(lower: Array, value: Array) -> Array:
    """Return X of L X = B, (N,) or (N, K), for a lower triangle.

    Raises
    ------
    numpy.linalg.LinAlgError
        There is a zero in its diagonal.
    """
    if not lower.size or not value.size:
        return np.empty_like(value)
    solve = scipy.linalg.lapack.dtrtrs
    if lower.flags.f_contiguous:
        solved, info = solve(lower, value, lower=1)
    else:  # as an upper triangle, column by column: it need not be copied
        solved, info = solve(lower.T, value, lower=0, trans=1)
    if info:
        raise np.linalg.LinAlgError("the triangle is singular")
    return np.asarray(solved)
