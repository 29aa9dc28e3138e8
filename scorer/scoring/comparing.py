"""Entries of one mark held against each other: what each measured, and how far apart.

Nothing here says what they come to: `scorer.scoring.keyings` does.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import combinations
from math import fsum, hypot

from scorer.errors import ScorerError
from scorer.event.entries import folded
from scorer.event.model import Keying, Method
from scorer.event.rulebook import KeyingRule
from scorer.facts import Fact, fact, inner, several
from scorer.geodesy.survey import Mark
from scorer.rounding import Exact
from scorer.rounding import exact as exactly
from scorer.scoring.entries import entries as said
from scorer.scoring.entries import exact, who
from scorer.scoring.keep import NOTHING_KEPT, Keep

Known = dict[tuple[int, ...], tuple[Mark | None, Fact | None]]
"""What entries were reduced to, by their identity: a mark, or why there is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """By what the entries of one task are compared."""

    reduce: Callable[[Sequence[Keying]], Sequence[Mark | ScorerError]]
    """Turns entries into marks, each by itself and all together as arrays; an error stands
    in the place of one that gives none."""
    adjust: Callable[[Sequence[Keying]], Mark]
    """Turns several entries of one person into one mark; raises ScorerError."""
    rule: KeyingRule
    target: str = ""
    """What a distance counts from that names no place."""
    best: str = "smallest"
    """`smallest` or `greatest`: which result of the task is the better one."""
    roles: tuple[str, ...] = ()
    """Names of the marks that the task asks for, where there are several."""
    not_flown: Mapping[int, str] = field(default_factory=dict)
    """Who is reported as not flown, and by whom."""
    keep: Keep = NOTHING_KEPT
    given: Callable[[int], tuple[object, ...]] = lambda _: ()
    """All that comparing a pilot's entries depends on beside them; for `keep` alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """What one person measured of one marker."""

    keyings: tuple[Keying, ...]
    """One of each measurement."""
    mark: Mark | None
    problem: Fact | None = None


def measurement(keying: Keying, target: str = "") -> tuple[object, ...]:
    """Return what tells one measurement of a marker from another, numbers aside.

    A distance from a point is one measurement, with a bearing or without.
    """
    if keying.method in ALONE:
        return (keying.method,)
    ends = (keying.from_place or target, keying.from2_place or "")
    if keying.method in LINES:
        return ("line", ends[0])
    return (keying.method, *ends)


def reduced_alone(terms: Terms, keyings: Sequence[Keying]) -> Known:
    """Reduce entries each by itself, all together."""
    own = [keying for keying in keyings if keying.method not in ALONE]
    known: Known = {(id(keying),): (None, None) for keying in keyings}
    for keying, mark in zip(own, terms.reduce(own), strict=True):
        known[(id(keying),)] = _mark_or_why([keying], mark)
    return known


def _mark_or_why(
    keyings: Sequence[Keying], mark: Mark | ScorerError
) -> tuple[Mark | None, Fact | None]:
    if not isinstance(mark, ScorerError):
        return mark, None
    why = inner(mark.says)
    return None, fact("cannot-be-reduced", entries=said(keyings), why=why)


ALONE = frozenset({Method.NONE, Method.LOG})
LINES = frozenset({Method.TAPE, Method.POLAR})


class Comparison:
    """The entries of one mark while they are compared."""

    def __init__(self, terms: Terms, keyings: Iterable[Keying], known: Known) -> None:
        self.terms = terms
        self.keyings = tuple(sorted(keyings, key=_order))
        self.known = known
        """Holds each entry by itself; surveys of several are added as they are met."""

    # What each person measured.

    def persons(self, entries: Sequence[Keying]) -> list[list[Keying]]:
        """Sort entries by who made them; an entry without a name is a person alone."""
        persons: dict[object, list[Keying]] = defaultdict(list)
        for index, keying in enumerate(entries):
            persons[folded(keying.by) or index].append(keying)
        return list(persons.values())

    def survey(self, own: Sequence[Keying]) -> Survey:
        """Put together what one person measured: alone, or adjusted."""
        each: dict[tuple[object, ...], Keying] = {}
        for keying in sorted(own, key=lambda k: k.bearing_deg is None):
            each.setdefault(self.measurement(keying), keying)
        keyings = tuple(k for k in own if each[self.measurement(k)] is k)
        alone = tuple(k for k in keyings if k.method in ALONE)
        if alone:  # stands for itself
            return Survey(keyings=alone[:1], mark=None)
        mark, problem = self.reduced(keyings)
        if mark is not None and len(keyings) > 1 and mark.warnings:
            problem = fact(
                "survey-open",
                by=who(keyings[0].by),
                why=several(map(inner, mark.warnings)),
            )
            mark = replace(mark, warnings=())
        return Survey(keyings=keyings, mark=mark, problem=problem)

    def reduced(self, keyings: Sequence[Keying]) -> tuple[Mark | None, Fact | None]:
        """Return what one person's entries come to, or state why to nothing."""
        key = tuple(map(id, keyings))
        if key not in self.known:
            try:
                mark: Mark | ScorerError = self.terms.adjust(keyings)
            except ScorerError as error:
                mark = error
            self.known[key] = _mark_or_why(keyings, mark)
        return self.known[key]

    def measurement(self, keying: Keying) -> tuple[object, ...]:
        """Return what tells one measurement from another, numbers aside."""
        return measurement(keying, self.terms.target)

    # What counts.

    def candidates(
        self, surveys: Sequence[Survey], entries: Sequence[Keying]
    ) -> list[Survey]:
        """Return what may count: the largest surveys, else every entry by itself."""
        most = max(len(s.keyings) for s in surveys)
        if most > 1:
            return [s for s in surveys if len(s.keyings) == most]
        return [self.survey([keying]) for keying in entries]

    def counting(
        self, candidates: Sequence[Survey], *, agreeing: bool = False
    ) -> Survey:
        """Choose by the rule, which does not know who came first."""
        known = [s for s in candidates if s.mark is not None]
        rows = known or list(candidates)
        greater = self.terms.best == "smallest"
        greater ^= self.terms.rule.counts == "more advantageous"

        def rank(survey: Survey) -> tuple[object, ...]:
            mark = survey.mark
            distance = None if mark is None else mark.distance_m
            signed = 0.0 if distance is None else -distance if greater else distance
            placed = mark is not None and mark.point is not None
            first = _order(survey.keyings[0])
            return (distance is None, signed, not placed, first)

        first = min(rows, key=rank)
        if self.terms.rule.counts != "mean" or not agreeing or len(known) < 2:
            return first
        return replace(first, mark=_mean(first, [s.mark for s in known if s.mark]))

    # Whether they agree.

    def differences(
        self, entries: Sequence[Keying], surveys: Sequence[Survey]
    ) -> list[Fact | None]:
        """State why entries do not agree; nothing where they do."""
        told = self.pairs(entries)
        if told is not None:
            return [told]
        problems: list[Fact | None] = [s.problem for s in surveys if s.problem]
        if problems:
            return problems
        for a, b in combinations(surveys, 2):
            if self.kinds(a) != self.kinds(b):
                gap = self.gap(a.keyings[0], a.mark, b.keyings[0], b.mark)
                told = self.differ(a.keyings[0], b.keyings[0], gap)
                if told is not None:
                    return [told]
        return []

    def kinds(self, survey: Survey) -> set[tuple[object, ...]]:
        """Return which measurements a survey has."""
        return {self.measurement(keying) for keying in survey.keyings}

    def pairs(self, entries: Sequence[Keying], kind: str = "") -> Fact | None:
        """Compare rows that give one and the same measurement, whoever made them.

        With a `kind`, all rows are compared, and that is stated where they differ.
        """
        for a, b in combinations(entries, 2):
            alike = self.measurement(a) == self.measurement(b)
            if kind or alike or {a.method, b.method} & ALONE:
                told = self.differ(a, b, self.gap_of_rows(a, b))
                if told is not None:
                    return fact(kind, entries=said([a, b])) if kind else told
        return None

    def gap_of_rows(self, a: Keying, b: Keying) -> float | None:
        """Return how far two rows by themselves differ; None when they cannot agree."""
        if {a.method, b.method} & ALONE:
            return self.gap(a, None, b, None)
        (mark_a, _), (mark_b, _) = self.reduced([a]), self.reduced([b])
        if mark_a is not None and mark_b is not None:
            return self.gap(a, mark_a, b, mark_b)
        if self.measurement(a) != self.measurement(b):
            return None
        # a distance from elsewhere, say, that fixes nothing alone: as entered
        pairs = ((a.distance_m, b.distance_m), (a.distance2_m, b.distance2_m))
        return max(
            (abs(x - y) for x, y in pairs if x is not None and y is not None),
            default=0.0,
        )

    def differ(self, a: Keying, b: Keying, gap: float | None) -> Fact | None:
        """State that two entries differ, and by how much; None where they agree."""
        entries = said([a, b])
        if gap is None:
            if (a.method is Method.NONE) != (b.method is Method.NONE):
                return fact("no-mark-and-distance", entries=entries)
            return fact("entries-not-comparable", entries=entries)
        if round(gap, FINE) > round(self.terms.rule.tolerance_m, FINE):
            return fact(
                "entries-differ",
                gap=exact(gap),
                tolerance=exact(self.terms.rule.tolerance_m),
                entries=entries,
            )
        if a.time_s is not None and b.time_s is not None and a.time_s != b.time_s:
            return fact("entries-differ-in-time", entries=entries)
        return None

    def gap(
        self, a: Keying, mark_a: Mark | None, b: Keying, mark_b: Mark | None
    ) -> float | None:
        """Return how far two entries differ in metres; None when they cannot agree."""
        if Method.NONE in {a.method, b.method}:
            return 0.0 if a.method is b.method else None
        if mark_a is None or mark_b is None:
            same = a.method is b.method and _of_log(a) == _of_log(b)
            return 0.0 if same else None
        gaps = []
        from_one = self.counts_from(a) == self.counts_from(b)
        if from_one and mark_a.distance_m is not None and mark_b.distance_m is not None:
            gaps.append(abs(mark_a.distance_m - mark_b.distance_m))
        alike = a.method is b.method or self.measurement(a) == self.measurement(b)
        if alike and mark_a.point is not None and mark_b.point is not None:
            (e1, n1), (e2, n2) = mark_a.point, mark_b.point
            gaps.append(hypot(e1 - e2, n1 - n2))
        return max(gaps) if gaps else None

    def counts_from(self, keying: Keying) -> str:
        """Return the place a mark's distance counts from: of a bare tape, its own."""
        bare = keying.method is Method.TAPE and keying.bearing_deg is None
        return (keying.from_place if bare else None) or self.terms.target


FINE = 4
"""Decimals of a metre to which differences are compared, and told."""


def _of_log(keying: Keying) -> tuple[object, ...]:
    return keying.time_s, folded(keying.note)


def numbers_of(keying: Keying) -> tuple[float | None, ...]:
    """Return all numbers of an entry, of whichever method it is."""
    return (
        keying.distance_m,
        keying.bearing_deg,
        keying.distance2_m,
        keying.easting_m,
        keying.northing_m,
        keying.lat_deg,
        keying.lon_deg,
        keying.time_s,
    )


def _order(keying: Keying) -> tuple[object, ...]:
    """Order entries by what they say, wherever they stood."""
    entered = sorted((k, v) for k, v in keying.entered.items() if v.strip())
    known = [(n is not None, n or 0.0) for n in numbers_of(keying)]
    return (str(keying.method), *known, folded(keying.by), entered)


def _mean(first: Survey, marks: Sequence[Mark]) -> Mark | None:
    """Return the mean of marks that agree; the place where all of them have one."""
    if first.mark is None:
        return None
    distances = [m.distance_m for m in marks if m.distance_m is not None]
    points = [m.point for m in marks if m.point is not None]
    distance, point = first.mark.distance_m, first.mark.point
    if len(distances) == len(marks):
        whole = sum((exactly(d) for d in distances), Fraction(0)) / len(distances)
        taped = all(isinstance(d, Exact) for d in distances)
        distance = Exact(whole) if taped else float(whole)
    if len(points) == len(marks):
        east, north = (fsum(axis) / len(points) for axis in zip(*points, strict=True))
        point = (east, north)
    return replace(first.mark, distance_m=distance, point=point)
