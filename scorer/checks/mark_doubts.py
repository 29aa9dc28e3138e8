"""Marks that something else fits better: another pilot, two marks exchanged, another entry.

What is entered is weighed against everything that may have been meant, each with how often
such mistakes are made.  A mark is doubted where all of that together is likelier than that
it is right.  By Markov's inequality that befalls a right mark no oftener than the chances
of all mistakes add up to, as long as throws are as learnt; seldomer by far, in fact.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import PlacedMark
from scorer.checks.mark_track import Doubt, Marks, Passes, mistaken, mixed_up
from scorer.checks.throws import (
    Stated,
    Throw,
    ThrowSigns,
    learnt,
    own_signs,
    signs_beside,
)
from scorer.facts import Fact
from scorer.tracks.flown import Array

SOMETHING = 0.02
"""How often a mark is wrong in a way that nobody could guess (our choice, like those
below: two to four sheets in a hundred were wrong where meets were tried)."""
NUMBER = 0.01
"""How often the number on it is somebody else's."""
EXCHANGED = 0.5
"""Share of those where his mark is entered under the first one's number."""
NOTHING_ENTERED = 5.0
"""So much likelier it is of one of whom nothing is entered than of one entered as "no
mark"."""
BROAD = 6.0
"""What is wrong in such a way lies so much farther off than what is right."""
RARE = 0.1
"""A sign of a right mark that is rarer is told as what is unusual."""
LEAST_GAIN = 4.0
"""Natural logarithm: marks for which no explanation can be so much likelier are right,
whatever else would fit too; the commonest slip is made once in a hundred marks."""
NAMED_FROM = 0.6
"""Share of the odds from which one explanation is named as the better one."""


NoMarks = frozenset[tuple[int, int]]
"""Tasks and pilots."""
_Places = int | NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """Another entry that may have been meant, on the track of the same pilot."""

    says: Fact
    prior: float
    """How often such a mistake is made."""
    placed: PlacedMark


class Weighing:
    """The marks of a flight beside all its tracks."""

    def __init__(
        self, flight: Marks, throw: Throw, own: ThrowSigns, none: NoMarks
    ) -> None:
        self.flight = flight
        self.throw = throw
        self.own = own
        self.none = none
        self.numbers = sorted(
            n for n, track in flight.tracks.items() if track.passes is not None
        )
        self.column = {number: n for n, number in enumerate(self.numbers)}

    @classmethod
    def of(cls, flight: Marks, none: NoMarks = frozenset()) -> "Weighing | None":
        """Learn the throw of a flight; None where its marks are too few.

        `none` are the tasks and pilots entered as "no mark".
        """
        own = own_signs(flight.marks, flight.tracks)
        throw = learnt(own)
        return None if throw is None else cls(flight, throw, own, none)

    @cached_property
    def chances(self) -> Array:
        """How often each sign of a right mark is as far off; (3, M)."""
        return self.throw.chances(self.own)

    @cached_property
    def rarest(self) -> Array:
        """How often a right mark's rarest sign is as rare; (M,), 1 = nothing known."""
        known = [m.pilot in self.column for m in self.flight.marks]
        return np.where(known, self.chances.min(axis=0, initial=1.0), 1.0)

    @property
    def looked_at(self) -> NDArray[np.int64]:
        """The marks that something else may fit better.

        Within the core all fit alike, so nothing gains more than what lies beyond it.
        """
        return np.flatnonzero((self.beyond > LEAST_GAIN) & (self.rarest < 1.0))

    @cached_property
    def beyond(self) -> Array:
        """How far each mark lies beyond the core: the most that anything gains; (M,)."""
        return np.asarray(-np.log(np.clip(2.0 * self.chances, 1e-30, 1.0)).sum(axis=0))

    def without(self, marks: Sequence[int]) -> "Weighing | None":
        """Weigh all marks by a throw that some taught nothing; None = too few others."""
        others = np.setdiff1d(np.arange(len(self.flight.marks)), marks)
        throw = learnt(ThrowSigns(*(column[others] for column in self.own)))
        if throw is None:
            return None
        return Weighing(self.flight, throw, self.own, self.none)

    def fits(self, marks: _Places, columns: _Places) -> Array:
        """Return how likely marks are of tracks, natural logarithms.

        `marks` are places in the list and `columns` those of tracks, put side by side.
        """
        passes = Passes(*np.moveaxis(self._passes[columns, :, marks], -1, 0))
        stated = Stated(*(column[marks] for column in self._stated))
        found = self.throw.log_density(signs_beside(stated, passes))
        return np.where(self._flown[columns], found, -math.inf)

    @cached_property
    def _passes(self) -> Array:
        """What each track shows of each mark; (P, 6, M)."""
        tracks = (self.flight.tracks[number].passes for number in self.numbers)
        return np.array([passes for passes in tracks if passes is not None])

    @cached_property
    def _stated(self) -> Stated:
        return Stated.of(self.flight.marks)

    @cached_property
    def _flown(self) -> NDArray[np.bool_]:
        """Whether a track comes near any mark at all; (P,)."""
        tracks = (self.flight.tracks[n].distance_m for n in self.numbers)
        return np.isfinite([own.min(initial=math.inf) for own in tracks])

    @cached_property
    def right(self) -> Array:
        """How likely each mark is of its own pilot's track; (M,)."""
        return self.throw.log_density(self.own)

    @cached_property
    def anything(self) -> Array:
        """How likely it is where nobody knows what was meant; (M,)."""
        return self.throw.broad(BROAD).log_density(self.own)

    def doubts(
        self, meant: Mapping[int, Sequence["Weighed"]], least_odds: float = 0.0
    ) -> list[Doubt]:
        """Return the marks that are likelier wrong than right.

        `meant` has the entries that may have been meant, by the mark's place; with other
        `least_odds` than even ones (natural logarithm) more marks are doubted or fewer.
        """
        every = {
            k: self._explained(k, [self._by_anything(k), *meant.get(k, ())])
            for k in map(int, self.looked_at)
        }
        found = [self._doubt(k, every) for k in every]
        doubts = {d.mark: d for d in found if d.odds >= least_odds}
        for doubt in list(doubts.values()):
            if doubt.swap is not None and doubt.swap not in doubts:
                doubts[doubt.swap] = self._other_half(doubt)
        return [doubts[k] for k in sorted(doubts)]

    def _other_half(self, doubt: Doubt) -> Doubt:
        assert doubt.swap is not None
        sign = self._sign(doubt.swap)
        return Doubt(doubt.swap, doubt.odds, sign, swap=doubt.mark)

    def _sign(self, k: int) -> int | None:
        """Return the sign of a mark that is rarest, where one is rare."""
        rare = self.rarest[k] < RARE
        return int(self.chances[:, k].argmin()) if rare else None

    def _by_anything(self, k: int) -> "Weighed":
        gain = float(self.anything[k] - self.right[k])
        return Weighed(odds=math.log(SOMETHING) + gain)

    def _doubt(self, k: int, every: Mapping[int, "_Explained"]) -> Doubt:
        own = every[k]
        odds = own.odds.copy()
        for at in np.flatnonzero(np.isin(own.swap, [*every])):
            # weighed beside what else explains the other mark
            other = every[int(own.swap[at])]
            rest = other.odds[other.swap != k]
            odds[at] -= np.logaddexp.reduce([0.0, *rest])
        total, best = float(np.logaddexp.reduce(odds)), int(odds.argmax())
        sign = self._sign(k)
        if odds[best] < total + math.log(NAMED_FROM):
            return Doubt(k, total, sign)
        if best < len(own.first):
            return Doubt(k, total, sign, own.first[best].says)
        swap, other_pilot = int(own.swap[best]), int(own.other[best])
        return Doubt(k, total, sign, swap=None if swap < 0 else swap, other=other_pilot)

    def weighed(
        self, k: int, meant: Sequence[Meant], signs: ThrowSigns
    ) -> list["Weighed"]:
        """Weigh entries that may have been meant, by their signs on the own track."""
        gains = (self.throw.log_density(signs) - self.right[k]).tolist()
        return [
            Weighed(odds=math.log(one.prior) + gain, says=one.says)
            for one, gain in zip(meant, gains, strict=True)
        ]

    # Numbers of others.

    @cached_property
    def _of_slot(self) -> Mapping[tuple[int, str, int], int]:
        marks = self.flight.marks
        return {(m.task, m.mark, m.pilot): k for k, m in enumerate(marks)}

    def _explained(self, k: int, first: Sequence["Weighed"]) -> "_Explained":
        """Weigh whether a mark is another pilot's, or exchanged with another's, too."""
        mark, right = self.flight.marks[k], self.right
        others = [*self._priors(mark)]
        numbers = np.array([n for n, _ in others], dtype=np.int64)
        column = np.array([self.column[n] for n in numbers.tolist()], dtype=np.int64)
        slots = ((mark.task, mark.mark, n) for n in numbers.tolist())
        theirs = np.array([self._of_slot.get(s, -1) for s in slots], dtype=np.int64)
        odds = np.array([math.log(prior) for _, prior in others])
        if others:
            odds += self.fits(k, column) - right[k]
            back = theirs[theirs >= 0]
            own = self.column[mark.pilot]
            odds[theirs >= 0] += self.fits(back, own) - right[back]
        told = np.isfinite(odds)
        nobody = np.full(len(first), -1)
        return _Explained(
            first=first,
            odds=np.r_[[one.odds for one in first], odds[told]],
            swap=np.r_[nobody, theirs[told]],
            other=np.r_[nobody, numbers[told]],
        )

    def _priors(self, mark: PlacedMark) -> Iterator[tuple[int, float]]:
        """Yield how often a mark is each other pilot's."""
        others = [n for n in self.numbers if n != mark.pilot]
        placed = [n for n in others if (mark.task, mark.mark, n) in self._of_slot]
        free = [n for n in others if (mark.task, mark.mark, n) not in self._of_slot]
        for group, share in ((placed, EXCHANGED), (free, 1.0 - EXCHANGED)):
            weights = {
                n: 1.0 if (mark.task, n) in self.none else NOTHING_ENTERED
                for n in group
            }
            like = {n for n in group if mistaken(mark.pilot, n)}
            for n, own in mixed_up(weights, like).items():
                yield n, NUMBER * share * own


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """One explanation, with how much likelier it is than that the mark is right."""

    odds: float
    says: Fact | None = None


class _Explained(NamedTuple):
    """All explanations of a mark: some by what they say, then by whose it may be; (N,)."""

    first: Sequence[Weighed]
    odds: Array
    swap: NDArray[np.int64]
    """The mark it may be exchanged with; -1 = none."""
    other: NDArray[np.int64]
    """The pilot it may be of; -1 = none."""
