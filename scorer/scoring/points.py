"""Points of a task: the international formula, points by place, or none.

Results enter as the decimals people read, and the arithmetic is exact (`Fraction`), so a
calculation on paper gives the same points.

Source of the international formula: published model event rules, chapter 14.  Symbols,
the case of fewer than half, and group B are from memory; the shape is checked in the
tests against published scores.
"""

from collections import Counter
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from scorer.event.rulebook import PointsRule
from scorer.facts import Measure, Step, Value, fact, inner, number, points
from scorer.rounding import Exact, exact, whole
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.ranking import competition_ranks, mean_ranks
from scorer.scoring.results import Formula

BEST = 1000
NOBODY = 500
"""Points of each who flew when nobody has a result."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointed:
    """Points of one pilot in one task, and the formula with its numbers put in."""

    rank: int
    points: int
    how: Step


def award(
    results: Mapping[int, Fraction],
    without: Sequence[int],
    entered: int,
    rule: PointsRule,
    *,
    greatest: bool,
    read: Mapping[int, Value] | None = None,
    parted: Mapping[int, int] | None = None,
    keep: Keep = NOTHING_KEPT,
    place: Hashable = None,
) -> tuple[Formula, dict[int, Pointed]]:
    """Award points to groups A and B.

    Parameters
    ----------
    results : mapping
        Pilot number to result, for group A.
    without : sequence of int
        Pilots of group B.
    entered : int
        P, all pilots entered, those of group C included.
    rule : PointsRule
    greatest : bool
        The greatest result is best.
    read : mapping, optional
        Results as people read them, for the steps; lengths where it is left out.
    parted : mapping, optional
        What parts equal results, the smallest first.
    keep, place : optional
        What was found before, and where it stands: who is awarded the same again gets
        the very points of the last time.
    """
    part = parted or {}
    ordered = _order(results, part, greatest=greatest)
    keys = [(results[p], part.get(p, 0)) for p in ordered]
    ranks = competition_ranks(keys)
    formula = formula_of(results, entered, rule, greatest=greatest)
    places = mean_ranks(keys) if rule.ties == "mean" else [Fraction(r) for r in ranks]
    told = read or {p: Value(Measure.LENGTH, results[p]) for p in ordered}
    ends = [told[ordered[at - 1]] for at in (1, formula.M)] if ordered else []
    every = Counter(ranks)
    given = keep.key("points", formula, rule)
    pointed = {}
    for pilot, rank, at in zip(ordered, ranks, places, strict=True):
        own = _At(rank=rank, place=at, tied=every[rank], read=(told[pilot], *ends))
        find = partial(_with_result, results[pilot], own, formula, rule)
        parts = (given, results[pilot], rank, at, every[rank], *own.read)
        pointed[pilot] = keep.same(("points", place, pilot), parts, find)
    for pilot in without:
        last = len(ordered) + 1
        pointed[pilot] = keep.same(
            ("points", place, pilot),
            (given, last),
            partial(_without, last, formula, rule),
        )
    return formula, pointed


def _with_result(result: Fraction, at: "_At", f: Formula, rule: PointsRule) -> Pointed:
    if rule.method == "places":
        own, how = _by_place(at.rank, at.tied, rule)
    elif rule.method == "none":
        own, how = 0, fact("points-none")
    else:
        own, how = _international(result, at, f, across=rule.ties == "mean")
    return _at_least(rule, Pointed(rank=at.rank, points=own, how=how))


def _without(rank: int, f: Formula, rule: PointsRule) -> Pointed:
    own, how = _without_result(f, rule)
    return _at_least(rule, Pointed(rank=rank, points=own, how=how))


def _order(
    results: Mapping[int, Fraction], part: Mapping[int, int], *, greatest: bool
) -> list[int]:
    sign = -1 if greatest else 1
    # Seldom two fractions are one float, and floats are compared much faster.
    exact = {p: sign * result for p, result in results.items()}
    return sorted(results, key=lambda p: (float(exact[p]), exact[p], part.get(p, 0), p))


def formula_of(
    results: Mapping[int, Fraction], entered: int, rule: PointsRule, *, greatest: bool
) -> Formula:
    """Return the symbols of the formula for a field of so many entered pilots."""
    ordered = sorted(
        results.values(), key=lambda one: (float(one), one), reverse=greatest
    )
    scorers = len(ordered)
    median = min(-(-entered // 2), scorers)
    best = ordered[0] if ordered else None
    at_median = ordered[median - 1] if ordered else None
    return Formula(
        method=rule.method,
        P=entered,
        A=scorers,
        M=median,
        W=None if best is None else Exact(best),
        RM=None if at_median is None else Exact(at_median),
        SM=rank_points(entered, Fraction(median)) if ordered else 0,
    )


def rank_points(entered: int, rank: Fraction) -> int:
    """Return 1000·(P + 1 − L)/P, rounded half up: formula (2)."""
    return whole(Fraction(BEST) * (entered + 1 - rank) / entered)


def _by_place(rank: int, tied: int, rule: PointsRule) -> tuple[int, Step]:
    if rule.ties == "mean" and tied > 1:
        total = sum(_of_place(rank + i, rule) for i in range(tied))
        mean = whole(Fraction(total, tied))
        last = number(rank + tied - 1)
        return mean, fact(
            "points-of-places", first=number(rank), last=last, points=points(mean)
        )
    own = _of_place(rank, rule)
    return own, fact("points-of-place", rank=number(rank), points=points(own))


def _of_place(place: int, rule: PointsRule) -> int:
    """Return the points that the rules list for a place; none beyond the list."""
    return rule.places[place - 1] if place <= len(rule.places) else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _At:
    """Where a result stands among the others."""

    rank: int
    place: Fraction
    """The rank, or the mean of the ranks that equal results share."""
    tied: int
    """How many results are equal."""
    read: tuple[Value, ...]
    """The result, the best and that of rank M, as people read them."""


def _international(
    result: Fraction, at: _At, f: Formula, *, across: bool
) -> tuple[int, Step]:
    """Award points by formula (1) or (2).

    `across`: equal results share their points, the mean of both where they lie across M.
    """
    best, at_median = exact(f.W or 0), exact(f.RM or 0)
    if at.rank == 1 or result == best:
        return BEST, fact("points-best", points=points(BEST))
    if across and at.rank < f.M < at.rank + at.tied:
        return _across(at.rank, at.tied, f)
    if at.rank < f.M:
        share = (result - best) / (at_median - best)
        own = whole(BEST - (BEST - f.SM) * share)
        return own, fact(
            "points-by-result",
            rank=number(at.rank),
            median=number(f.M),
            **dict(zip(("result", "best", "at_median"), at.read, strict=True)),
            median_points=points(f.SM),
            points=points(own),
        )
    own = rank_points(f.P, at.place)
    return own, fact(
        "points-by-rank",
        rank=number(at.place),
        median=number(f.M),
        entered=number(f.P),
        points=points(own),
    )


def _across(rank: int, tied: int, f: Formula) -> tuple[int, Step]:
    """Return the mean points of the ranks that equal results share, on both sides of M.

    Better than M they have the result of rank M, so its points by formula (1) too.
    """
    better = Fraction(f.SM * (f.M - rank))
    others = range(f.M, rank + tied)
    worse = sum((Fraction(BEST * (f.P + 1 - at), f.P) for at in others), Fraction(0))
    own = whole((better + worse) / tied)
    return own, fact(
        "points-across-median",
        first=number(rank),
        last=number(rank + tied - 1),
        median=number(f.M),
        median_points=points(f.SM),
        entered=number(f.P),
        points=points(own),
    )


def _without_result(f: Formula, rule: PointsRule) -> tuple[int, Step]:
    if rule.no_result in {"next-place", "last-place"} and rule.method != "none":
        return _as_placed(f, rule)
    if rule.method != "international" or rule.no_result == "zero":
        return 0, fact("points-without-result")
    if f.A == 0:
        return NOBODY, fact("points-nobody", points=points(NOBODY))
    own = whole(Fraction(BEST * (f.P + 1 - f.A), 2 * f.P))
    return own, fact(
        "points-shared", entered=number(f.P), scorers=number(f.A), points=points(own)
    )


def _as_placed(f: Formula, rule: PointsRule) -> tuple[int, Step]:
    """Award the points of the place after the last result, or of the last place."""
    place = f.A + 1 if rule.no_result == "next-place" else f.P
    if rule.method == "international":
        own = rank_points(f.P, Fraction(place))
    else:
        own = _of_place(place, rule)
    told = {"rank": number(place), "points": points(own)}
    if rule.no_result == "next-place":
        return own, fact("points-of-next-place", **told)
    return own, fact("points-of-last-place", **told)


def _at_least(rule: PointsRule, pointed: Pointed) -> Pointed:
    if pointed.points >= rule.show_up:
        return pointed
    least = points(rule.show_up)
    how = fact("points-at-least", how=inner(pointed.how), least=least)
    return Pointed(rank=pointed.rank, points=rule.show_up, how=how)
