"""Say whose log is whose: every sign weighed, all logs of a flight together.

Each sign (`owner_signs.py`) and the marks that a track reaches add to the weight with
which a log is each pilot's; the logs are then given to pilots so that all weights
together are greatest.  What is sure is taken without a question.  What is contested,
contradicts itself or rests on too little is asked about, with the likely owner named.

Works on small heads of logs, so that it runs in the parent process while workers read.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

import numpy as np
import scipy

from scorer.event import matters
from scorer.event.matter import Matter, about
from scorer.event.model import Pilot
from scorer.facts import (
    Fact,
    Value,
    chance,
    count,
    fact,
    inner,
    log,
    several,
    term,
    words,
)
from scorer.facts import pilot as pilot_value
from scorer.tracks.heads import LogHead
from scorer.tracks.owner_signs import SIGNS, IdentitySign, near_ones
from scorer.tracks.roster import Roster, SignReading

SURE = 0.99
"""So probable an owner is taken without a question, unless a sign contradicts: one sign
that is seldom wrong suffices, a lone number does not."""
LIKELY = 0.5
"""So probable an owner is taken for the time being, and asked about."""
TOLD = 0.02
"""Less probable owners are not told."""
CONTRADICTS = -2.0
"""A sign that weighs so much against the owner is asked about whatever else is so."""
ANOTHER_LOG = -2.0
"""Weight of a log's being a pilot's second one, where it may be somebody else's first."""
MOST_TOGETHER = 1000
"""More logs with several possible owners than any flight has are taken one by one."""
REACHES, MISSES, MOST_BY_MARKS = 0.97, -1.5, 1.5
"""How often a track reaches its own pilot's mark; what a mark off the track weighs where
all other tracks reach it (where none does, the mark is in doubt); the most all
weigh: many balloons pass one target, so marks never make up for a lone weak sign."""
BY_HAND = "sign-by-hand"
MARKS = "sign-marks"
BASKET = "sign-basket"
IN_ONE_BASKET = IdentitySign(BASKET, lambda *_: None, fits=6.0, other=-3.0)
"""What it weighs that a log flew in one basket with one that is surely a pilot's."""

Marked = Mapping[int, Sequence[int]]
"""Which marks of a flight are whose: their places in the list, by pilot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Identified:
    """Whose a log is, how sure that is, and why."""

    head: LogHead
    pilot: int | None
    """Pilot's number; None where nobody is likely enough."""
    probability: float = 0.0
    """Of its being this pilot's, or the likely one's, in the light of all signs."""
    likely: int | None = None
    """The first choice where it is asked about."""
    signs: tuple[str, ...] = ()
    """What says so, heaviest first: words of the catalogue."""
    against: tuple[Fact, ...] = ()
    """What speaks against it."""
    trouble: Fact | None = None
    """Why it is asked about; None = it is sure."""
    known: bool = True
    """The roster has this pilot."""
    near: tuple[int, ...] = ()
    """Whose it may be where nothing fits: their codes are one sign off."""

    @property
    def sure(self) -> bool:
        """Tell whether nobody needs to be asked."""
        return self.pilot is not None and self.trouble is None

    def warning(self, flight: str) -> Matter | None:
        """Return the trouble as a matter, if there is any."""
        if self.trouble is None:
            return None
        settled = self.head.pilot is not None and self.known
        kind = matters.LOG_BY_HAND if settled else matters.LOG_PILOT
        return Matter(
            kind=matters.LOG_UNMATCHED if self.likely is None else kind,
            flight=flight,
            pilots=about(self.likely, *self.near),
            says=self.trouble,
            evidence=(self.head.name,),
        )


def whose(
    heads: Sequence[LogHead],
    pilots: Iterable[Pilot],
    marked: Marked | None = None,
    signs: "Signs | None" = None,
) -> list[Identified]:
    """Tell whose the logs of a flight are, all together.

    Parameters
    ----------
    heads : sequence of LogHead
        All logs of one flight.
    pilots : iterable of Pilot
        The roster.
    marked : mapping, optional
        Which of the marks that `LogHead.reaches` names are whose.
    signs : sequence, optional
        What `signs_of` gives for these logs and pilots, where it is known already.

    Returns
    -------
    list of Identified
        In the order of the heads.  A log assigned by hand is that pilot's, always.
    """
    own = tuple(pilots)
    given = signs_of(heads, own) if signs is None else signs
    return _Weighed(heads, Roster.of(own), marked or {}, given).owners()


def signs_of(heads: Iterable[LogHead], pilots: Iterable[Pilot]) -> "Signs":
    """Return the signs that each log has by itself; the marks are none of them."""
    roster = Roster.of(pilots)
    return [
        [_Sign(sign.name, r, sign) for sign in SIGNS if (r := sign.read(h, roster))]
        for h in heads
    ]


def with_baskets(
    signs: "Signs", owners: Iterable[tuple[int, Iterable[int]]]
) -> "Signs":
    """Return the signs with what says in whose baskets logs flew, by their places."""
    found = [list(own) for own in signs]
    for k, numbers in owners:
        reading = SignReading(frozenset(numbers), "")
        found[k].append(_Sign(BASKET, reading, IN_ONE_BASKET))
    return found


@dataclass(frozen=True, slots=True)
class _Sign:
    """What one sign weighs for one log, by pilot."""

    name: str
    reading: SignReading
    sign: IdentitySign

    def weight(self, pilot: int) -> float:
        own = self.reading
        if own.named:
            fits = self.sign.fits if own.proposes else 0.0
            return fits if pilot in own.named else self.sign.other
        return self.sign.nobody if pilot in own.compared else 0.0

    @property
    def says(self) -> Fact:
        """State what it says, as a word against somebody."""
        if self.reading.proposes and self.reading.named:
            return _fits(self.name, self.reading.named)
        if self.reading.named:
            many = count(len(self.reading.named))
            return fact("sign-fits-many", sign=term(self.name), pilots=many)
        written = words(self.reading.written)
        return fact("sign-fits-nobody", sign=term(self.name), written=written)


Signs = Sequence[Sequence[_Sign]]
"""The signs of each log."""


def _fits(sign: str, numbers: Iterable[int]) -> Fact:
    fitting = several(pilot_value(number) for number in sorted(numbers)[:_NAMED])
    return fact("sign-fits", sign=term(sign), pilots=fitting)


_NAMED = 4
"""At most so many pilots are named in one breath."""


class _Weighed:
    """The signs of all logs of a flight, weighed."""

    def __init__(
        self, heads: Sequence[LogHead], roster: Roster, marked: Marked, signs: Signs
    ) -> None:
        self.heads, self.roster, self.marked = heads, roster, marked
        self.signs = signs
        self.weights = [self._weights(k) for k in range(len(heads))]

    def _weights(self, k: int) -> dict[int, float]:
        """Return the weight of each pilot whom a sign of a log names."""
        candidates = {n for s in self.signs[k] for n in s.reading.proposed}
        return {
            n: sum(s.weight(n) for s in self.signs[k]) + self.by_marks(k, n)
            for n in sorted(candidates)
        }

    @cached_property
    def shares(self) -> Mapping[int, float]:
        """Return which share of the flight's tracks reaches each mark."""
        flown = [h.reaches for h in self.heads if h.reaches is not None]
        hits = Counter(chain.from_iterable(flown))
        every = (mark for own in self.marked.values() for mark in own)
        return {mark: (hits[mark] + 0.5) / (len(flown) + 1.0) for mark in every}

    @cached_property
    def hits(self) -> Mapping[int, float]:
        """Return what each mark weighs for a track that reaches it."""
        return {m: max(math.log(REACHES / s), 0.0) for m, s in self.shares.items()}

    def by_marks(self, k: int, pilot: int) -> float:
        """Weigh whether a track reaches a pilot's marks, where few tracks do."""
        reached = self.heads[k].reaches
        if reached is None:
            return 0.0
        total = 0.0
        for mark in self.marked.get(pilot, ()):
            missed = MISSES * self.shares[mark]
            total += self.hits[mark] if mark in reached else missed
        return max(-MOST_BY_MARKS, min(MOST_BY_MARKS, total))

    def owners(self) -> list[Identified]:
        """Give each log to a pilot, or to nobody."""
        given = self._given()
        taken = Counter(n for n in given if n is not None)
        return [self._owner(k, given[k], taken) for k in range(len(self.heads))]

    def _given(self) -> list[int | None]:
        """Assign all logs at once so that all weights together are greatest.

        Logs of which one pilot alone can be the owner are given beforehand.
        """
        given = [
            max((n for n in own if own[n] > 0.0), key=own.__getitem__, default=None)
            if head.pilot is None
            else head.pilot
            for head, own in zip(self.heads, self.weights, strict=True)
        ]
        free = [
            k
            for k, head in enumerate(self.heads)
            if head.pilot is None and len(self.weights[k]) > 1
        ]
        if len(free) > MOST_TOGETHER:
            return given
        held = Counter(given) - Counter(given[k] for k in free)
        wanted = Counter(n for k in free for n in self.weights[k])
        slots = [(n, j) for n, many in sorted(wanted.items()) for j in range(many)]
        places = defaultdict(list)
        for column, (n, j) in enumerate(slots):
            places[n].append((column, ANOTHER_LOG if j + held[n] else 0.0))
        gain = np.full((len(free), len(slots) + len(free)), -1e6)
        for row, k in enumerate(free):
            gain[row, len(slots) + row] = 0.0  # nobody's
            for n, weight in self.weights[k].items():
                for column, less in places[n]:
                    gain[row, column] = weight + less
        for row, column in zip(
            *scipy.optimize.linear_sum_assignment(-gain), strict=True
        ):
            given[free[row]] = slots[column][0] if column < len(slots) else None
        return given

    def _chances(
        self, k: int, own: int | None, taken: Counter[int]
    ) -> dict[int, float]:
        """Return how likely a log is each pilot's, the other logs as they are given."""
        odds = {
            n: math.exp(weight + (ANOTHER_LOG if n != own and taken[n] else 0.0))
            for n, weight in self.weights[k].items()
        }
        total = 1.0 + sum(odds.values())
        return {n: odd / total for n, odd in odds.items()}

    def _owner(self, k: int, own: int | None, taken: Counter[int]) -> Identified:
        head = self.heads[k]
        if head.pilot is not None:
            return self._by_hand(k, head.pilot)
        chances = self._chances(k, own, taken)
        likely = max(sorted(chances), key=lambda n: chances[n], default=None)
        if likely is None:
            return self._nobodys(head)
        p = chances[likely]
        signs = self._told(k, likely)
        against = (*self._against(k, likely), *_rivals(chances, likely))
        clash = any(s.weight(likely) <= CONTRADICTS for s in self.signs[k])
        trouble = None
        if p < SURE or clash:
            trouble = _asked(head, likely, p, signs, against)
        return Identified(
            head=head,
            pilot=likely if p >= LIKELY else None,
            probability=p,
            likely=likely,
            signs=signs,
            against=against,
            trouble=trouble,
        )

    def _nobodys(self, head: LogHead) -> Identified:
        near = near_ones(head, self.roster)
        says = fact("log-unmatched", log=log(head.name))
        if near:
            told = (
                fact(
                    "log-near-one",
                    sign=term(one.sign),
                    written=words(one.written),
                    pilot=pilot_value(one.pilot),
                )
                for one in near
            )
            says = fact("log-near", log=log(head.name), near=several(map(inner, told)))
        numbers = tuple(one.pilot for one in near)
        return Identified(head=head, pilot=None, trouble=says, near=numbers)

    def _by_hand(self, k: int, pilot: int) -> Identified:
        head, known = self.heads[k], pilot in self.roster.numbers
        against = self._against(k, pilot)
        if not known:
            against += (fact("no-such-pilot", pilot=pilot_value(pilot)),)
        trouble = None
        if against:
            trouble = fact(
                "log-by-hand-contradicted",
                log=log(head.name),
                pilot=pilot_value(pilot),
                against=several(map(inner, against)),
            )
        return Identified(
            head=head,
            pilot=pilot,
            probability=1.0,
            likely=pilot,
            signs=(BY_HAND, *self._told(k, pilot)),
            against=against,
            trouble=trouble,
            known=known,
        )

    def _told(self, k: int, pilot: int) -> tuple[str, ...]:
        own = [(s.weight(pilot), s.name) for s in self.signs[k]]
        own.append((self.by_marks(k, pilot), MARKS))
        own.sort(key=lambda pair: -pair[0])
        return tuple(name for weight, name in own if weight > 0.5)

    def _against(self, k: int, pilot: int) -> tuple[Fact, ...]:
        """State which signs fit others, and where marks are off the track."""
        own = [s.says for s in self.signs[k] if s.weight(pilot) <= -1.0]
        off = set(self.marked.get(pilot, ())) - (self.heads[k].reaches or set())
        if off and self.by_marks(k, pilot) < -1.0:
            own.append(fact("marks-off-track", marks=count(len(off))))
        return tuple(own)


def _rivals(chances: Mapping[int, float], likely: int) -> Iterator[Fact]:
    """State who else it may be."""
    for n, p in sorted(chances.items(), key=lambda pair: (-pair[1], pair[0])):
        if n != likely and p >= TOLD:
            yield fact("log-may-be", pilot=pilot_value(n), chance=chance(p))


def _asked(
    head: LogHead,
    pilot: int,
    p: float,
    signs: Sequence[str],
    against: Sequence[Fact],
) -> Fact:
    """State what is asked: the likely owner, what says so and what speaks against."""
    values: dict[str, Value] = {
        "log": log(head.name),
        "pilot": pilot_value(pilot),
        "chance": chance(p),
        "signs": several(term(sign) for sign in signs),
    }
    if against:
        values["against"] = several(map(inner, against))
        if p >= LIKELY:
            return fact("log-contradicted", **values)
        return fact("log-ambiguous", **values)
    return fact("log-likely" if p >= LIKELY else "log-unlikely", **values)
