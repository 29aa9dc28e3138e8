"""The air of a flight as it was set down: plain JSON and back, to the last bit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from scorer.tracks.air import Air

MOST_LOGS = 100_000
LEAST, MOST = 1e-6, 1e6
"""No sigma, variance or mean of an air is smaller or larger, in its units."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptAir:
    """What a flight's logs were read with when its results first went up."""

    whole: Air
    """What all of them tell: a log that comes later is read with it."""
    logs: Mapping[str, Air] = field(default_factory=dict)
    """By content address of the log: what the others tell."""

    def of(self, sha256: str) -> Air:
        """Return the air for a log."""
        return self.logs.get(sha256, self.whole)

    def tree(self) -> dict[str, Any]:
        """Return it as plain JSON types."""
        logs = {sha: _tree(self.logs[sha]) for sha in sorted(self.logs)}
        return {"whole": _tree(self.whole), "logs": logs}


def kept_air(tree: object) -> KeptAir | None:
    """Read what `KeptAir.tree` wrote; None where it is none, whoever wrote it."""
    try:
        if not isinstance(tree, Mapping) or len(tree["logs"]) > MOST_LOGS:
            return None
        whole, *airs = _airs([tree["whole"], *tree["logs"].values()])
        logs = dict(zip(map(str, tree["logs"]), airs, strict=True))
        return KeptAir(whole=whole, logs=logs)
    except (KeyError, TypeError, ArithmeticError, ValueError, AttributeError):
        return None


def _tree(air: Air) -> dict[str, Any]:
    return {
        "mean": [float(x) for x in air.mean],
        "cov": [[float(x) for x in row] for row in air.cov],
        "scale": float(air.scale),
        "gnss": {datum: list(air.gnss[datum]) for datum in sorted(air.gnss)},
        "logs": air.logs,
    }


def _airs(trees: Sequence[Mapping[str, Any]]) -> list[Air]:
    mean = np.array([tree["mean"] for tree in trees], float)
    cov = np.array([tree["cov"] for tree in trees], float)
    scale = [float(tree["scale"]) for tree in trees]
    gnss = [
        {str(d): (float(m), float(s)) for d, (m, s) in tree["gnss"].items()}
        for tree in trees
    ]
    receivers = [number for own in gnss for pair in own.values() for number in pair]
    numbers = np.r_[mean.ravel(), cov.ravel(), scale, receivers]
    sound = mean.shape[1:] == (3,) and cov.shape[1:] == (3, 3)
    if not sound or not (abs(numbers) < MOST).all():
        raise ValueError("not an air")
    sigmas = np.r_[scale, receivers[1::2], np.linalg.eigvalsh(cov).ravel()]
    if not np.allclose(cov, cov.swapaxes(1, 2)) or sigmas.min() < LEAST:
        raise ValueError("not an air")
    each = zip(mean, cov, scale, gnss, trees, strict=True)
    return [
        Air(mean=m, cov=c, scale=s, gnss=g, logs=int(tree["logs"]))
        for m, c, s, g, tree in each
    ]
