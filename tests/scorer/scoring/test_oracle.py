"""Whole tasks against a reckoning of our own, in fractions, straight from the formula.

It ranks by counting who is better, has a list of every place with its points, and shares
nothing with the scoring but the shape of what goes in and comes out.

Source of the international formula: published model event rules, chapter 14, symbols from
memory; points by place, their ties and the parting by drops are as the rule book says them.
"""

import random
from fractions import Fraction
from math import floor
from types import SimpleNamespace

import pytest

from scorer.event.rulebook import PointsRule, ResultsRule
from scorer.event.rules_reader import load_book
from scorer.rounding import Exact
from scorer.scoring.assemble import assemble
from scorer.scoring.document import to_json
from scorer.scoring.results import MarkResult, Results
from scorer.scoring.standings import standings
from scorer.verify import read_results, verify
from tests.scorer.scoring.made import TASK, charge, entry, kind

BOOK = load_book("festival")
HALF = Fraction(1, 2)
FIELDS = 60
"""Of each method and direction."""


def half_up(value):
    return floor(value + HALF)


def reckon(pilots, rule, best, step):
    """Return rank and points, after penalties, of every pilot; pilots are of one field."""
    entered = len(pilots)
    lose = 1 if best == "smallest" else -1
    having = [p for p in pilots if p.state == "A"]
    for own in having:
        raw = max(Fraction(0), own.measured + lose * own.metres)
        own.result = half_up(raw / step) * step
    for own in having:
        equal = [p for p in having if p.result == own.result]
        timed = rule.parted_by == "earlier-drop" and all(p.drop for p in equal)
        own.key = (lose * own.result, own.drop if timed and len(equal) > 1 else 0)
    at_place = _places(having, entered, rule)
    found = {}
    flown = [p for p in pilots if p.state != "C"]
    for own in pilots:
        if own.state == "A":
            rank = 1 + sum(p.key < own.key for p in having)
            shared = sum(p.key == own.key for p in having)
            points = _shared(at_place, (rank, shared), own, having, rule)
        elif own.state == "B":
            rank, points = len(having) + 1, _unplaced(len(having), entered, rule)
        else:
            rank, points = len(flown) + 1, 0
        if own.state != "C":
            points = max(points, rule.show_up)
        found[own.number] = rank, points, max(0, points - own.points_off)
    return found


def _places(having, entered, rule):
    """Return the points of each place, unrounded, as if nobody were equal."""
    if rule.method == "none":
        return [Fraction(0)] * entered
    if rule.method == "places":
        listed = [*rule.places, *[0] * entered]
        return [Fraction(p) for p in listed[:entered]]
    ordered = sorted(having, key=lambda p: p.key)
    median = min(-(-entered // 2), len(ordered))
    by_rank = [
        Fraction(1000 * (entered + 1 - n), entered) for n in range(1, entered + 1)
    ]
    if not ordered:
        return by_rank
    of_median = half_up(by_rank[median - 1])
    first, middle = ordered[0].result, ordered[median - 1].result
    for index, own in enumerate(ordered[: median - 1]):
        part = abs(own.result - first) / abs(middle - first) if middle != first else 0
        by_rank[index] = 1000 - (1000 - of_median) * Fraction(part)
    return by_rank


def _shared(at_place, taken, own, having, rule):
    rank, shared = taken
    if (
        rule.method == "international"
        and own.result == min(having, key=lambda p: p.key).result
    ):
        return 1000
    if rule.ties == "mean":
        return half_up(sum(at_place[rank - 1 : rank - 1 + shared]) / shared)
    return half_up(at_place[rank - 1])


def _unplaced(scorers, entered, rule):
    place = {"next-place": scorers + 1, "last-place": entered}.get(rule.no_result)
    if rule.method == "none":
        return 0
    if rule.method == "places":
        listed = [*rule.places, *[0] * (entered + 1)]
        return listed[place - 1] if place else 0
    if place:
        return half_up(Fraction(1000 * (entered + 1 - place), entered))
    if rule.no_result == "zero":
        return 0
    if not scorers:
        return 500
    left = [Fraction(1000 * (entered + 1 - n), entered) for n in range(1, entered + 1)]
    return half_up(sum(left[scorers:]) / len(left[scorers:]))


def drawn(dice, number):
    """Draw a pilot: few different results, so that many are equal; some are near a half."""
    state = dice.choices("ABC", (8, 2, 1))[0]
    return SimpleNamespace(
        number=number,
        class_name=dice.choice(("light", "heavy")),
        state=state,
        measured=Fraction(dice.randrange(0, 3000), dice.choice((1000, 200, 1))),
        metres=dice.choice((0, 0, 0, 10, 50)),
        points_off=dice.choice((0, 0, 0, 25, 300)),
        drop=dice.choice((0, 0, 100, 200, 300)),
    )


def a_field(dice):
    pilots = [drawn(dice, n) for n in range(1, dice.randrange(2, 16))]
    few = [p.measured for p in pilots[:3]]
    for own in pilots[3:]:
        if dice.random() < 0.6:
            own.measured = dice.choice(few)
    return pilots


def a_rule(dice, method):
    return PointsRule(
        method=method,
        ties=dice.choice(("shared-rank", "mean")),
        parted_by=dice.choice(("nothing", "earlier-drop")),
        no_result=dice.choice(("share", "zero", "next-place", "last-place")),
        by_class=dice.random() < 0.4,
        show_up=dice.choice((0, 0, 5)),
        places=tuple(sorted((dice.randrange(60) for _ in range(9)), reverse=True))
        if method == "places"
        else (),
    )


def as_entry(own, rule):
    charges = [charge(own.metres, "metres")] if own.metres else []
    charges += [charge(own.points_off, "task points")] if own.points_off else []
    value = Exact(own.measured) if own.state == "A" else None
    made = entry(own.number, value, *charges, flew=own.state != "C")
    mark = MarkResult(
        mark="", method="tape", distance_m=1.0, sigma_m=0.1, time_s=own.drop or None
    )
    named = own.class_name if rule.by_class else ""
    return type(made)(
        **{k: getattr(made, k) for k in made.__slots__}
        | {"marks": (mark,), "field": named}
    )


@pytest.mark.parametrize("best", ["smallest", "greatest"])
@pytest.mark.parametrize("method", ["international", "places", "none"])
def test_whole_tasks_agree_with_the_reckoning_and_the_verifier(method, best):
    dice = random.Random(f"{method} {best}")
    cases = 0
    for _ in range(FIELDS):
        pilots, rule = a_field(dice), a_rule(dice, method)
        decimals = dice.choice((0, 1, 2))
        book = type(BOOK)(
            name="made", points=rule, results=ResultsRule(decimals=decimals)
        )
        task = assemble(TASK, kind(best), book, [as_entry(p, rule) for p in pilots])
        wanted = {}
        for name in {p.class_name if rule.by_class else "" for p in pilots}:
            among = [p for p in pilots if not rule.by_class or p.class_name == name]
            wanted |= reckon(among, rule, best, Fraction(1, 10**decimals))
        found = {s.pilot: (s.rank, s.formula_points, s.score) for s in task.scores}
        assert found == wanted, (rule, pilots)
        cases += len(found)
        table = standings(
            [task],
            [SimpleNamespace(number=p.number) for p in pilots],
            {},
            BOOK.standings,
        )
        results = Results(
            event="E", book="made", tasks=(task,), findings=(), standings=table
        )
        assert verify(read_results(to_json(results), "results.json")) == []
    assert cases > 5 * FIELDS
