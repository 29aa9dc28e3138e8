"""Whether the places that a result may be follow from its uncertainty.

The engine draws them by chance; what lies far apart leaves nothing to chance.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import erf, hypot, sqrt
from typing import Any

from scorer.recount.numbers import Difference, differ

_APART = 4.5
"""Sigmas of a difference from which no draw of some thousands turns two results round."""
_NEAR = 8
"""Sigmas from the target within which errors of two axes bend the law of a distance."""
_CHANCE = 0.06
"""By which a drawn chance may miss that of two normal results."""


def check_spread(
    where: str, task: Mapping[str, Any], scores: Sequence[Mapping[str, Any]]
) -> Iterator[Difference]:
    """Compare ranges of places, and pairs worth measuring again, with results."""
    sign = 1 if task["best"] == "smallest" else -1
    ranked = [s for s in scores if s["group"] == "A"]
    step = Fraction(1, 10 ** min(6, task["rules"]["decimals"]))
    for score in ranked:
        apart = [
            sign
            * float(other["result"] - score["result"])
            / max(hypot(_sigma(other), _sigma(score)), float(step) / 100)
            for other in ranked
            if other is not score
        ]
        best = 1 + sum(gap < -_APART for gap in apart)
        worst = len(ranked) - sum(gap > _APART for gap in apart)
        low, high = score["rank_range"]
        own = f"{where}, pilot {score['pilot']}, places it may be"
        if not best <= low <= high <= worst:
            yield from differ(own, [low, high], [best, worst])
    for score in scores:
        if score["group"] != "A":
            label = f"{where}, pilot {score['pilot']}, places it may be"
            yield from differ(label, list(score["rank_range"]), [None, None])


def _sigma(score: Mapping[str, Any]) -> float:
    return 0.0 if score["sigma"] is None else float(score["sigma"])


def check_remeasure(where: str, task: Mapping[str, Any]) -> Iterator[Difference]:
    """Pairs worth measuring again are neighbours whose order may be wrong."""
    scores = {score["pilot"]: score for score in task["scores"]}
    for pair in task["remeasure"]:
        better, worse = scores[pair["better"]], scores[pair["worse"]]
        own = f"{where}, {pair['better']} before {pair['worse']}"
        if better["rank"] > worse["rank"]:
            yield from differ(own, better["rank"], f"up to {worse['rank']}")
            continue
        gap = abs(float(better["result"] - worse["result"]))
        if any(s["result"] < _NEAR * _sigma(s) for s in (better, worse)):
            continue  # so near the target distances are not normal
        spread = hypot(_sigma(better), _sigma(worse))
        chance = 0.5 if not spread else (1 - erf(gap / spread / sqrt(2))) / 2
        if abs(float(pair["chance"]) - chance) > _CHANCE:
            yield from differ(f"{own}, chance", float(pair["chance"]), round(chance, 3))
