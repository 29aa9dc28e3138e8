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
_BESIDE_M = 5.0
"""By which a mark measured by a bearing may err beside its ray: 1.4 degrees at 200 m.

That makes it farther from its target on average, by half its square over the distance.
"""
_CHANCE = 0.06
"""By which a drawn chance may miss that of two normal results."""
_BENT = 0.05
"""Share of a spread from which such a bend counts."""
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
            (
                sign * float(other["result"] - score["result"]),
                _APART * max(_spread(score, other), float(step) / 100)
                + _bent(score)
                + _bent(other),
            )
            for other in ranked
            if other is not score
        ]
        best = 1 + sum(gap < -reach for gap, reach in apart)
        worst = len(ranked) - sum(gap > reach for gap, reach in apart)
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


def _spread(one: Mapping[str, Any], other: Mapping[str, Any]) -> float:
    return hypot(_sigma(one), _sigma(other))


def _bent(score: Mapping[str, Any]) -> float:
    """Return by how much farther a mark may lie than it was measured, on average.

    A tape from the target errs along itself alone.
    """
    taped = score["measured_exact"] is not None
    if taped or score["result_unit"] != "m" or score["result"] <= 0:
        return 0.0
    return _BESIDE_M**2 / 2 / float(score["result"])


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
        far = _spread(better, worse) and not _near(better, worse)
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


def _near(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Tell whether results are so near their targets that their law is not normal."""
    bent = _bent(one) + _bent(other) > _BENT * _spread(one, other)
    return bent or any(s["result"] < _NEAR * _sigma(s) for s in (one, other))


def _swapped(better: Mapping[str, Any], worse: Mapping[str, Any]) -> float:
    """Return the chance that the order of two normal results is wrong."""
    gap = abs(float(better["result"] - worse["result"]))
    spread = _spread(better, worse)
    return 0.5 if not spread else (1 - erf(gap / spread / sqrt(2))) / 2
