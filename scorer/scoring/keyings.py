"""From entries to marks: the one place that says whether entries of a marker agree.

Rows by different people are entries of the same field notes, to be compared.  Rows by one
person that measure the marker in different ways (another method, from another point) are
one survey, adjusted by least squares; that the survey fits together is part of agreeing.
Which row stands first never matters: the rule `keying.counts` says what counts.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from scorer.event.entries import (
    as_named,
    entry_text,
    named_in,
    people,
    same_person,
)
from scorer.event.model import Keying, Method
from scorer.facts import (
    Fact,
    Measure,
    Step,
    count,
    fact,
    inner,
    listed,
    parts,
    words,
)
from scorer.geodesy.survey import Mark
from scorer.scoring.coded import hashed_once
from scorer.scoring.comparing import Comparison, Survey, Terms, reduced_alone
from scorer.scoring.entries import ENTRIES, entry, exact, who
from scorer.scoring.entries import entries as said

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


@hashed_once
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
    order = sorted(slots)

    def find(wanted: Sequence[int]) -> list[Agreed]:
        own = [slots[order[index]] for index in wanted]
        known = reduced_alone(terms, [keying for rows in own for keying in rows])
        return [_Marker(terms, rows, known).agreed() for rows in own]

    given = [_given(terms, slots[s]) for s in order]
    agreed = terms.keep.each("mark", given, find, order)
    found = dict(zip(order, agreed, strict=True))
    return {slot: _beside(slot, own, found, terms.roles) for slot, own in found.items()}


def _given(terms: Terms, own: Sequence[Keying]) -> tuple[object, ...]:
    """Return all that the entries of one mark are compared by."""
    pilot = own[0].pilot
    return terms.not_flown.get(pilot), *terms.given(pilot), *own


def _beside(
    slot: Slot, own: Agreed, found: Mapping[Slot, Agreed], roles: Sequence[str]
) -> Agreed:
    """Ask where "no mark" of a whole task stands beside a mark with a name."""
    task, pilot, role = slot
    if role or own.keying.method is not Method.NONE:
        return own
    others = [
        k
        for (t, p, other), agreed in found.items()
        if (t, p) == (task, pilot) and other != role
        for k in agreed.keyings
        if other in roles and k.method is not Method.NONE
    ]
    if not others:
        return own
    told = fact("no-mark-and-distance", entries=said([*own.keyings, *others]))
    return replace(own, problems=(*own.problems, told))


class _Marker(Comparison):
    """What the entries of one mark come to, and what was settled of them."""

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

    def timed(self, counts: Survey) -> Keying:
        """Return what counts, with the time that any of the entries gives."""
        own = min(counts.keyings, key=lambda k: k.time_s is None)
        others = (k.time_s for k in self.keyings if k.time_s is not None)
        time_s = own.time_s if own.time_s is not None else next(others, None)
        return replace(own, time_s=time_s)

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

        Who agrees with it stands for one of the two; who entered two values of one
        measurement may have entered one of them afterwards, and stands for both.
        """
        others = [k for k in entries if not same_person(k.by, row.by)]
        each = self.persons(others)
        against = [own for own in each if self.contradicts(row, own)]
        values = sum(map(self.values, against))
        return values + min(1, len(each) - len(against)) <= 2

    def values(self, own: Sequence[Keying]) -> int:
        """Count the values that one person entered of one measurement, at most."""
        found: dict[object, set[str]] = defaultdict(set)
        for keying in own:
            text = entry_text(keying.by, keying.entered)
            found[self.measurement(keying)].add(as_named(text))
        return max(map(len, found.values()))

    def contradicts(self, settled: Keying, own: Sequence[Keying]) -> bool:
        """Tell whether what one person measured contradicts what was settled."""
        surveys = [self.survey([settled]), self.survey(own)]
        return any(self.differences([settled, *own], surveys))


def _seen_by(settling: Keying, keying: Keying) -> bool:
    text = entry_text(keying.by, keying.entered)
    return as_named(text) in named_in(settling.between)


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
