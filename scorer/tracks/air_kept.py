"""The air of a flight as it was set down: plain JSON and back, to the last bit."""

from collections.abc import Mapping
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
        logs = {str(sha): _air(one) for sha, one in tree["logs"].items()}
        return KeptAir(whole=_air(tree["whole"]), logs=logs)
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


def _air(tree: Mapping[str, Any]) -> Air:
    mean, cov = np.array(tree["mean"], float), np.array(tree["cov"], float)
    scale = float(tree["scale"])
    gnss = {str(d): (float(m), float(s)) for d, (m, s) in tree["gnss"].items()}
    numbers = np.r_[mean.ravel(), cov.ravel(), scale, *gnss.values()]
    if mean.shape != (3,) or cov.shape != (3, 3) or not (abs(numbers) < MOST).all():
        raise ValueError("not an air")
    sigmas = [scale, *(s for _, s in gnss.values()), *np.linalg.eigvalsh(cov)]
    if not np.allclose(cov, cov.T) or min(sigmas) < LEAST:
        raise ValueError("not an air")
    return Air(mean=mean, cov=cov, scale=scale, gnss=gnss, logs=int(tree["logs"]))
