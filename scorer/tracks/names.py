"""Names of people and balloons, compared whatever their accents, capitals and order."""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from functools import lru_cache
from itertools import combinations

ALIKE = 0.84
"""Names at least so alike (0 to 1) are one, spelt differently."""


def plain(text: str) -> str:
    """Return small letters without accents."""
    split = unicodedata.normalize("NFKD", text)
    bare = "".join(c for c in split if not unicodedata.combining(c)).casefold()
    return bare.translate(_LETTERS)


_LETTERS = str.maketrans(
    {"đ": "d", "ð": "d", "ł": "l", "ø": "o", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th"}
)
"""Letters whose strokes no decomposition takes away, as those without them write."""


def code(text: str) -> str:
    """Return letters and digits only: `D-ESEL` and `desel` are one registration."""
    return "".join(c for c in plain(text) if c.isalnum())


def words_of(text: str) -> list[str]:
    """Return the words of a name or of a file's name, in order; digits part them."""
    parted = re.sub(r"(?<=[a-zß-ÿ])(?=[A-ZÀ-Þ])", " ", text)
    return re.findall(r"[^\W\d_]{2,}", plain(parted))


def turned_of(words: Sequence[str]) -> Iterator[str]:
    """Yield a name of several words with any of them first, and backwards."""
    for i in range(len(words) if len(words) > 1 else 0):
        yield " ".join((*words[i:], *words[:i]))
    if len(words) > 2:
        yield " ".join(words[::-1])


_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa"})


def spellings(name: str) -> list[list[str]]:
    """Return the words of a name, once more as those without the signs write them."""
    composed = unicodedata.normalize("NFC", name)
    both = (words_of(name), words_of(composed.lower().translate(_UMLAUTS)))
    return [list(one) for one in dict.fromkeys(map(tuple, both)) if one]


def folded(name: str) -> str:
    """Return the words of a name in one order: equal for equal names."""
    return " ".join(sorted(re.findall(r"[^\W_]+", plain(name))))


@lru_cache(maxsize=8)
def alike(names: tuple[tuple[int, str], ...]) -> tuple[tuple[int, int], ...]:
    """Return the pairs of numbers whose names are spelt nearly, but not quite, alike.

    Only names that share a word or their first letters are compared.
    """
    groups: dict[str, set[int]] = defaultdict(set)
    lettered = ((n, name) for n, name in names if not any(c.isdigit() for c in name))
    own = {number: words_of(name) for number, name in lettered}
    for number, words in own.items():
        if len(words) > 1:
            for key in (*words, " ".join(sorted(word[0] for word in words))):
                groups[key].add(number)
    pairs = {
        pair for group in groups.values() for pair in combinations(sorted(group), 2)
    }
    return tuple(
        (one, other)
        for one, other in sorted(pairs)
        if sorted(own[one]) != sorted(own[other]) and _near(own[one], own[other])
    )


def _near(one: Sequence[str], other: Sequence[str]) -> bool:
    """Tell whether each word of one name is nearly one of the other."""
    if len(one) != len(other):
        return False
    left = list(other)
    for word in sorted(one, key=len, reverse=True):
        ratios = [SequenceMatcher(None, word, w).ratio() for w in left]
        best = max(range(len(left)), key=ratios.__getitem__)
        if ratios[best] < ALIKE_WORD:
            return False
        del left[best]
    return True


ALIKE_WORD = 0.74
"""Words at least so alike are one: Smith and Smyth, Jon and John, not Ann and Dan."""
