"""Pilots by the things that logs may say of them, and written names held against theirs."""

import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import Indel

from scorer.event.model import Pilot
from scorer.tracks.names import ALIKE, code, spellings, turned_of, words_of

NEXT = 0.05
"""Names that are nearly as alike as the best one are not told from it."""
MOST_OF_ONE_WORD = 5
"""A word that stands in more names than this proposes nobody; it speaks against others."""
LEAST_PART = 3
"""Letters of a single word of a name that means anything."""

Numbers = frozenset[int]
Entrant = tuple[int, str, str, str]
"""Number, name, registration, logger."""


class SignReading(NamedTuple):
    """What one sign of a log says."""

    named: Numbers
    """Whom it fits; empty = nobody on the roster."""
    written: str
    """The words it was read from."""
    compared: Numbers = frozenset()
    """Where it fits nobody: whose entries it contradicts."""
    proposes: bool = True
    """False = it fits so many that it is a sign against all others alone."""

    @property
    def proposed(self) -> Numbers:
        """Whom it speaks for."""
        return self.named if self.proposes else frozenset()


class Roster:
    """Pilots by the things that logs may say."""

    def __init__(self, entrants: tuple[Entrant, ...]) -> None:
        self.numbers = frozenset(number for number, *_ in entrants)
        self.by_registration = _index((own, number) for number, _, own, _ in entrants)
        self.by_logger = _index((own, number) for number, _, _, own in entrants)
        self.by_words: dict[frozenset[str], set[int]] = {}
        self.by_word: dict[str, set[int]] = {}
        self.by_letters: dict[str, set[int]] = {}
        self.words_of: dict[int, set[str]] = {}
        for number, name, _, _ in entrants:
            for spelt in spellings(name):
                words = frozenset(spelt)
                self.by_words.setdefault(words, set()).add(number)
                self.words_of.setdefault(number, set()).update(words)
                for word in words:
                    self.by_word.setdefault(word, set()).add(number)
                for whole in (spelt, spelt[::-1], [spelt[0], spelt[-1]]):
                    if len(whole) > 1:
                        self.by_letters.setdefault("".join(whole), set()).add(number)
        self.by_scripts: dict[frozenset[str], set[int]] = {}
        for words, numbers in self.by_words.items():
            script = _scripts(" ".join(words))
            self.by_scripts.setdefault(script, set()).update(numbers)
        self.one_word = {
            frozenset(parts)
            for _, name, _, _ in entrants
            for word in name.split()
            if len(parts := words_of(word)) > 1
            and word.isalpha()
            and min(map(len, parts)) > 1
        }
        """Words that capitals part: MacDonald."""
        self.spelt = {
            turned: frozenset(own)
            for _, name, _, _ in entrants
            for own in spellings(name)
            for turned in turned_of(own)
        }

    @classmethod
    def of(cls, pilots: Iterable[Pilot]) -> "Roster":
        """Return the roster of these pilots, made once."""
        return _made(
            tuple((p.number, p.name, p.registration, p.logger) for p in pilots)
        )

    def written_like(self, text: str) -> Numbers:
        """Return whose names are written with the same letters as a text."""
        script = _scripts(text)
        return frozenset().union(
            *(own for scripts, own in self.by_scripts.items() if script & scripts)
        )


@lru_cache(maxsize=2)
def _made(entrants: tuple[Entrant, ...]) -> Roster:
    return Roster(entrants)


def _index(pairs: Iterable[tuple[str, int]]) -> dict[str, set[int]]:
    table: dict[str, set[int]] = {}
    for text, number in pairs:
        if key := code(text):
            table.setdefault(key, set()).add(number)
    return table


@lru_cache(maxsize=4096)
def _scripts(text: str) -> frozenset[str]:
    """Return the scripts of a text's letters: the first words of their names."""
    return frozenset(
        unicodedata.name(c, "?").split()[0] for c in set(text) if c.isalpha()
    )


class NameFit(NamedTuple):
    """Whom a written name fits, and how well."""

    whole: Numbers = frozenset()
    alike: Numbers = frozenset()
    part: Numbers = frozenset()


@lru_cache(maxsize=4096)
def named_by(written: tuple[str, ...], roster: Roster) -> NameFit:
    """Compare words with names: whole, spelt differently, or by one word alone."""
    own = frozenset(written)
    found = set(roster.by_words.get(own, ()))
    for words, numbers in () if found else roster.by_words.items():
        within = words <= own or own <= words
        if within and words & own not in roster.one_word and _tells(words, own):
            found |= numbers
    if found:
        return NameFit(whole=frozenset(found))
    if near := _close(" ".join(written), roster):
        return NameFit(alike=near)
    long = (word for word in own if len(word) >= LEAST_PART)
    return NameFit(part=by_one_word(long, roster))


def _tells(one: frozenset[str], other: frozenset[str]) -> bool:
    """Tell whether words that are all in both names are enough: two of them.

    Words of one sign only where no further sign makes it another name.
    """
    both = one & other
    short = sum(len(word) == 1 for word in both)
    more = any(len(word) == 1 for word in one ^ other)
    return len(both) - (short if more else 0) >= 2


def _close(text: str, roster: Roster) -> Numbers:
    """Return whose names are spelt nearly like a text of several words."""
    if " " not in text:
        return frozenset()
    how = Indel.normalized_similarity
    close = process.extract(text, list(roster.spelt), scorer=how, score_cutoff=ALIKE)
    near = (roster.spelt[c] for c, alike, _ in close if alike > close[0][1] - NEXT)
    return frozenset().union(*(roster.by_words[words] for words in near))


def by_one_word(written: Iterable[str], roster: Roster) -> Numbers:
    """Return whose names have a word that was written, the rarest of those there are."""
    hits = [own for word in written if (own := roster.by_word.get(word))]
    fewest = min(map(len, hits), default=0)
    return frozenset(set().union(*(own for own in hits if len(own) == fewest)))


def part_reading(named: Numbers, written: str) -> SignReading | None:
    """Return what a word of a name says: of many that bear it, that it is none else's."""
    few = len(named) <= MOST_OF_ONE_WORD
    return SignReading(named, written, proposes=few) if named else None
