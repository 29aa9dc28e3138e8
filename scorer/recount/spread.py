"""Whether the places that a result may be follow from its uncertainty.

The engine draws them by chance; what lies far apart leaves nothing to chance.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import erf, hypot, sqrt
from typing import Any

from scorer.recount.numbers import Difference, differ

_APART = 4.5
"""Sigmas of a difference from which no draw of some thousands turns two results round."""
_NEAR = 8
"""Sigmas from the target within which errors of two axes bend the law of a distance."""
_CHANCE = 0.06
"""By which a drawn chance may miss that of two normal results."""
_WORTH = 0.05
"""Chance from which two neighbours are told of."""


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
    told = [(pair["better"], pair["worse"]) for pair in task["remeasure"]]
    beside = list(_neighbours(task["scores"]))
    here = [(a["pilot"], b["pilot"]) for a, b in beside]
    listed = [pair for pair in here if pair in told]
    yield from differ(f"{where}, neighbours worth measuring again", told, listed)
    for better, worse in beside:
        pair = (better["pilot"], worse["pilot"])
        far = hypot(_sigma(better), _sigma(worse)) and not _near(better, worse)
        if far and pair not in told and _swapped(better, worse) > _WORTH + _CHANCE:
            yield from differ(f"{where}, {pair[0]} before {pair[1]}", "not told", pair)
    for pair in task["remeasure"]:
        better, worse = scores[pair["better"]], scores[pair["worse"]]
        own = f"{where}, {pair['better']} before {pair['worse']}"
        if better["rank"] > worse["rank"]:
            yield from differ(own, better["rank"], f"up to {worse['rank']}")
            continue
        if _near(better, worse):
            continue
        chance = _swapped(better, worse)
        if abs(float(pair["chance"]) - chance) > _CHANCE:
            yield from differ(f"{own}, chance", float(pair["chance"]), round(chance, 3))


def _neighbours(
    scores: Sequence[Mapping[str, Any]],
) -> Iterator[tuple[Mapping[str, Any], Mapping[str, Any]]]:
    """Yield who stands beside whom, field by field."""
    ranked = [score for score in scores if score["group"] == "A"]
    for one, other in pairwise(ranked):
        if one["field"] == other["field"]:
            yield one, other


def _near(*scores: Mapping[str, Any]) -> bool:
    """Tell whether a result is so near its target that its law is not normal."""
    return any(score["result"] < _NEAR * _sigma(score) for score in scores)


def _swapped(better: Mapping[str, Any], worse: Mapping[str, Any]) -> float:
    """Return the chance that the order of two normal results is wrong."""
    gap = abs(float(better["result"] - worse["result"]))
    spread = hypot(_sigma(better), _sigma(worse))
    return 0.5 if not spread else (1 - erf(gap / spread / sqrt(2))) / 2
