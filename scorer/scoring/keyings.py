"""From entries to marks: the one place that says whether entries of a marker agree.

Rows by different people are entries of the same field notes, to be compared.  Rows by one
person that measure the marker in different ways (another method, from another point) are
one survey, adjusted by least squares; that the survey fits together is part of agreeing.
Which row stands first never matters: the rule `keying.counts` says what counts.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction
from itertools import combinations
from math import fsum, hypot

from scorer.errors import ScorerError
from scorer.event.entries import (
    as_named,
    entry_text,
    folded,
    named_in,
    people,
    same_person,
)
from scorer.event.model import Keying, Method
from scorer.event.rulebook import KeyingRule
from scorer.facts import (
    Fact,
    Measure,
    Step,
    count,
    fact,
    inner,
    listed,
    parts,
    several,
    words,
)
from scorer.geodesy.survey import Mark
from scorer.rounding import Exact
from scorer.rounding import exact as exactly
from scorer.scoring.entries import ENTRIES, entry, exact, who
from scorer.scoring.entries import entries as said

Reduce = Callable[[Sequence[Keying]], Mark]
"""Turns what one person measured of a marker into a mark: one keying is reduced, several
are adjusted; raises ScorerError when it cannot."""

Slot = tuple[int, int, str]
"""Task, pilot, role of the mark."""


class Keyed(StrEnum):
    """How far the entries of one mark have come."""

    ONCE = "once"
    AGREE = "agree"
    DIFFER = "differ"
    SETTLED = "settled"
    REOPENED = "reopened"
    """An entry that the settling one had not seen contradicts it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreed:
    """What the entries of one marker come to."""

    keying: Keying
    """The one that counts."""
    mark: Mark | None
    """None with method `none`, and with `log`, which needs the track."""
    state: Keyed
    keyings: tuple[Keying, ...]
    """All of them, in an order that does not know where they stood."""
    survey: tuple[Keying, ...] = ()
    """The entries that `mark` was adjusted from, where there were several."""
    problems: tuple[Fact, ...] = ()
    """What keeps it open; empty = settled."""

    @property
    def settled(self) -> bool:
        """Tell whether nothing is open about it."""
        return not self.problems


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """By what the entries of one task are compared."""

    reduce: Reduce
    rule: KeyingRule
    target: str = ""
    """What a distance counts from that names no place."""
    best: str = "smallest"
    """`smallest` or `greatest`: which result of the task is the better one."""
    roles: tuple[str, ...] = ()
    """Names of the marks that the task asks for, where there are several."""
    not_flown: Mapping[int, str] = field(default_factory=dict)
    """Who is reported as not flown, and by whom."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Survey:
    """What one person measured of one marker."""

    keyings: tuple[Keying, ...]
    """One of each measurement."""
    mark: Mark | None
    problem: Fact | None = None


def agree(keyings: Iterable[Keying], terms: Terms) -> dict[Slot, Agreed]:
    """Say of each mark of a task what its entries come to.

    Without a settling row all must agree within the rule's tolerance: a measurement that
    two rows repeat in itself, and what different measurements give in distance and,
    where they are of one method, in place; and with `twice`, two people must have made
    them.  The survey with the most measurements counts; of several, what
    `keying.counts` says.  A settling row decides over the entries it has seen, and one
    it has not seen opens the mark again where it contradicts.
    """
    slots: dict[Slot, list[Keying]] = defaultdict(list)
    for keying in keyings:
        slots[keying.task, keying.pilot, keying.mark].append(keying)
    found = {slot: _Marker(terms, slots[slot]).agreed() for slot in sorted(slots)}
    return {slot: _beside(slot, own, found, terms.roles) for slot, own in found.items()}


def _beside(
    slot: Slot, own: Agreed, found: Mapping[Slot, Agreed], roles: Sequence[str]
) -> Agreed:
    """Ask where "no mark" of a whole task stands beside a mark with a name."""
    task, pilot, role = slot
    others = [
        k
        for (t, p, other), agreed in found.items()
        if (t, p) == (task, pilot) and other != role
        for k in agreed.keyings
        if other in roles and k.method is not Method.NONE
    ]
    if role or not others or own.keying.method is not Method.NONE:
        return own
    told = fact("no-mark-and-distance", entries=said([*own.keyings, *others]))
    return replace(own, problems=(*own.problems, told))


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


ALONE = frozenset({Method.NONE, Method.LOG})
LINES = frozenset({Method.TAPE, Method.POLAR})


class _Marker:
    """The entries of one mark while they are compared."""

    def __init__(self, terms: Terms, keyings: Iterable[Keying]) -> None:
        self.terms = terms
        self.keyings = tuple(sorted(keyings, key=_order))
        self.known: dict[tuple[int, ...], tuple[Mark | None, Fact | None]] = {}
        """What entries were reduced to, by their identity: each is compared often."""

    def agreed(self) -> Agreed:
        """Compare the entries, and say which counts."""
        settling = self.settling()
        entries = [k for k in self.keyings if not k.settles]
        if settling:
            counts = self.counting([self.survey([k]) for k in settling])
            told = [counts.problem, *self.contradicting(settling, entries)]
            told += [self.pairs(settling, "settled-in-two-ways")]
            state = Keyed.REOPENED if any(told[1:]) else Keyed.SETTLED
        else:
            surveys = [self.survey(own) for own in self.persons(entries)]
            told = self.differences(entries, surveys)
            found = self.candidates(surveys, entries)
            counts = self.counting(found, agreeing=not any(told))
            state = Keyed.AGREE if len(surveys) > 1 else Keyed.ONCE
            state = Keyed.DIFFER if any(told) and len(entries) > 1 else state
            told += [] if any(told) else [self.too_few(entries)]
        told.append(self.not_flown())
        return Agreed(
            keying=self.timed(counts),
            mark=counts.mark,
            state=state,
            keyings=self.keyings,
            survey=counts.keyings if len(counts.keyings) > 1 else (),
            problems=tuple(dict.fromkeys(t for t in told if t is not None)),
        )

    def timed(self, counts: _Survey) -> Keying:
        """Return what counts, with the time that any of the entries gives."""
        own = min(counts.keyings, key=lambda k: k.time_s is None)
        others = (k.time_s for k in self.keyings if k.time_s is not None)
        time_s = own.time_s if own.time_s is not None else next(others, None)
        return replace(own, time_s=time_s)

    # What each person measured.

    def persons(self, entries: Sequence[Keying]) -> list[list[Keying]]:
        """Sort entries by who made them; an entry without a name is a person alone."""
        persons: dict[object, list[Keying]] = defaultdict(list)
        for index, keying in enumerate(entries):
            persons[folded(keying.by) or index].append(keying)
        return list(persons.values())

    def survey(self, own: Sequence[Keying]) -> _Survey:
        """Put together what one person measured: alone, or adjusted."""
        each: dict[tuple[object, ...], Keying] = {}
        for keying in sorted(own, key=lambda k: k.bearing_deg is None):
            each.setdefault(self.measurement(keying), keying)
        keyings = tuple(k for k in own if each[self.measurement(k)] is k)
        alone = tuple(k for k in keyings if k.method in ALONE)
        if alone:  # stands for itself
            return _Survey(keyings=alone[:1], mark=None)
        mark, problem = self.reduced(keyings)
        if mark is not None and len(keyings) > 1 and mark.warnings:
            problem = fact(
                "survey-open",
                by=who(keyings[0].by),
                why=several(map(inner, mark.warnings)),
            )
            mark = replace(mark, warnings=())
        return _Survey(keyings=keyings, mark=mark, problem=problem)

    def reduced(self, keyings: Sequence[Keying]) -> tuple[Mark | None, Fact | None]:
        """Reduce what one person measured, once; or state why that cannot be done."""
        key = tuple(map(id, keyings))
        if key not in self.known:
            self.known[key] = self._reduced(keyings)
        return self.known[key]

    def _reduced(self, keyings: Sequence[Keying]) -> tuple[Mark | None, Fact | None]:
        if keyings[0].method in ALONE:
            return None, None
        try:
            return self.terms.reduce(keyings), None
        except ScorerError as error:
            return None, fact(
                "cannot-be-reduced",
                entries=said(keyings),
                why=inner(error.says),
            )

    def measurement(self, keying: Keying) -> tuple[object, ...]:
        return measurement(keying, self.terms.target)

    # What counts.

    def candidates(
        self, surveys: Sequence[_Survey], entries: Sequence[Keying]
    ) -> list[_Survey]:
        """Return what may count: the largest surveys, else every entry by itself."""
        most = max(len(s.keyings) for s in surveys)
        if most > 1:
            return [s for s in surveys if len(s.keyings) == most]
        return [self.survey([keying]) for keying in entries]

    def counting(
        self, candidates: Sequence[_Survey], *, agreeing: bool = False
    ) -> _Survey:
        """Choose by the rule, which does not know who came first."""
        known = [s for s in candidates if s.mark is not None]
        rows = known or list(candidates)
        greater = self.terms.best == "smallest"
        greater ^= self.terms.rule.counts == "more advantageous"

        def rank(survey: _Survey) -> tuple[object, ...]:
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
        self, entries: Sequence[Keying], surveys: Sequence[_Survey]
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

    def kinds(self, survey: _Survey) -> set[tuple[object, ...]]:
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

    def too_few(self, entries: Sequence[Keying]) -> Fact | None:
        if not self.terms.rule.twice or len(people(k.by for k in entries)) > 1:
            return None
        return fact(
            "keyed-once-only",
            by=who(entries[0].by),
            entries=said(entries[:1]),
        )

    def not_flown(self) -> Fact | None:
        """State that there are marks of somebody who is reported as not flown."""
        marks = [k for k in self.keyings if k.method is not Method.NONE]
        pilot = self.keyings[0].pilot
        if not marks or pilot not in self.terms.not_flown:
            return None
        return fact(
            "mark-of-not-flown",
            by=who(self.terms.not_flown[pilot]),
            entries=said(marks),
        )

    # What was settled, and what opens it again.

    def settling(self) -> list[Keying]:
        """Return the settling rows, without those that another one decided over."""
        rows = [k for k in self.keyings if k.settles]
        last = [
            row
            for row in rows
            if not any(_seen_by(other, row) for other in rows if other is not row)
        ]
        return last or rows

    def contradicting(
        self, settling: Sequence[Keying], entries: Sequence[Keying]
    ) -> list[Fact | None]:
        """State which entries contradict what was settled, and were not seen by it."""
        settled = settling[0]
        left = self.persons(self.unseen(settling, entries))
        against = [own for own in left if self.contradicts(settled, own)]
        rows = [keying for own in against for keying in own]
        if not rows:
            return []
        gaps = [self.gap_of_rows(settled, k) for k in rows]
        known = [gap for gap in gaps if gap is not None]
        how = fact("apart-by", gap=exact(max(known))) if known else fact("not-the-same")
        return [
            fact(
                "entry-contradicts-settled",
                entries=said(rows),
                settled=said([settled]),
                how=inner(how),
                tolerance=exact(self.terms.rule.tolerance_m),
            )
        ]

    def unseen(
        self, settling: Sequence[Keying], entries: Sequence[Keying]
    ) -> list[Keying]:
        """Return the entries over which no settling row decides."""
        left = list(entries)
        for row in settling:
            if row.between:
                left = [k for k in left if not _seen_by(row, k)]
            elif self.between_two(row, entries):
                left = []
        return left

    def between_two(self, row: Keying, entries: Sequence[Keying]) -> bool:
        """Tell whether a row that names no entries decides between two people at most.

        Who agrees with it stands for one of the two.
        """
        others = [k for k in entries if not same_person(k.by, row.by)]
        each = self.persons(others)
        against = sum(self.contradicts(row, own) for own in each)
        return against + min(1, len(each) - against) <= 2

    def contradicts(self, settled: Keying, own: Sequence[Keying]) -> bool:
        """Tell whether what one person measured contradicts what was settled."""
        surveys = [self.survey([settled]), self.survey(own)]
        return any(self.differences([settled, *own], surveys))


FINE = 4
"""Decimals of a metre to which differences are compared, and told."""


def _seen_by(settling: Keying, keying: Keying) -> bool:
    text = entry_text(keying.by, keying.entered)
    return as_named(text) in named_in(settling.between)


def _of_log(keying: Keying) -> tuple[object, ...]:
    return keying.time_s, folded(keying.note)


def _order(keying: Keying) -> tuple[object, ...]:
    """Order entries by what they say, wherever they stood."""
    numbers = (
        keying.distance_m,
        keying.bearing_deg,
        keying.distance2_m,
        keying.easting_m,
        keying.northing_m,
        keying.lat_deg,
        keying.lon_deg,
        keying.time_s,
    )
    entered = sorted((k, v) for k, v in keying.entered.items() if v.strip())
    known = [(n is not None, n or 0.0) for n in numbers]
    return (str(keying.method), *known, folded(keying.by), entered)


def _mean(first: _Survey, marks: Sequence[Mark]) -> Mark | None:
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


def revealed(problem: Fact) -> tuple[str, ...]:
    """Return the people whose entries a statement shows."""
    shown = (one["by"] for one in parts(problem) if one.kind in ENTRIES)
    return people(str(by.amount) for by in shown if by.measure is Measure.WORDS)


def entry_step(role: str, agreed: Agreed) -> Step:
    """State how a mark follows from its entries: one step on the way to points."""
    counts = inner(entry(agreed.keying))
    if agreed.problems:
        why = listed(agreed.problems)
        step = fact("step-entries-open", why=why, entry=counts)
    elif agreed.survey:
        step = fact(
            "step-entries-adjusted",
            measurements=count(len(agreed.survey)),
            by=who(agreed.survey[0].by),
            entered=count(len(agreed.keyings)),
        )
    elif agreed.keying.settles:
        reason = words(agreed.keying.settles)
        step = fact("step-entries-settled", entry=counts, reason=reason)
    elif agreed.state is Keyed.AGREE:
        agreeing = count(len(agreed.keyings))
        step = fact("step-entries-agree", entries=agreeing, entry=counts)
    else:
        step = fact("step-entered", entry=counts)
    return fact("step-of-mark", mark=words(role), step=inner(step)) if role else step
