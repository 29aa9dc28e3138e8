"""Names of people and balloons, compared whatever their accents, capitals and order."""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from contextlib import suppress
from functools import lru_cache

import numpy as np
from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA, Indel

ALIKE = 0.84
"""Names at least so alike (0 to 1) are one, spelt differently."""
ALIKE_WORD = 0.74
"""Words at least so alike are one: Smith and Smyth, Jon and John, not Ann and Dan."""
RUN_TOGETHER = 0.92
"""Names whose letters are so alike are one, wherever their words part."""
WORTH_A_LOOK = 50.0
"""Names less alike than this, of 100, are no pair whatever their words are."""
MOST_TEXTS = 16_384
"""So many are remembered: every log asks for the names of the whole roster."""


@lru_cache(maxsize=MOST_TEXTS)
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
    """Return the words of a name or of a file's name, in order; digits part them.

    Signs that are words themselves are one each, whether they are written apart or not.
    """
    return [*_words(text)]


@lru_cache(maxsize=MOST_TEXTS)
def _words(text: str) -> tuple[str, ...]:
    parted = re.sub(r"(?<=[a-zß-ÿ])(?=[A-ZÀ-Þ])", " ", text)
    return tuple(re.findall(rf"[{_HAN}]|[^\W\d_{_HAN}]{{2,}}", plain(parted)))


_HAN = "\u3400-\u4dbf\u4e00-\u9fff"
"""CJK ideographs and their extension A (The Unicode Standard, blocks)."""


def meant_letters(text: str) -> str:
    """Return what a text meant whose UTF-8 was read as other letters; none = nothing.

    `BjÃ¶rn` is `Björn`: bytes of UTF-8 are hardly ever anything else by chance.
    """
    for letters in () if text.isascii() else ("cp1252", "cp1251", "cp1250"):
        with suppress(UnicodeError):
            return b"".join(_byte(letter, letters) for letter in text).decode()
    return ""


def _byte(letter: str, letters: str) -> bytes:
    """Return a letter as one byte; bytes that mean none are read as they are."""
    try:
        return letter.encode(letters)
    except UnicodeError:
        return letter.encode("latin-1")


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
    return " ".join(sorted(_parted(name)))


def _parted(name: str) -> list[str]:
    return re.findall(r"[^\W_]+", plain(name))


def one_off(one: str, other: str) -> bool:
    """Tell whether two codes or numbers differ in one sign, or in two exchanged ones.

    One sign wrong, missing or too many, or two neighbours swapped: the single errors of
    keying (F. J. Damerau, Communications of the ACM 7 (1964) 171).
    """
    return OSA.distance(one, other, score_cutoff=1) == 1


@lru_cache(maxsize=8)
def alike(names: tuple[tuple[int, str], ...]) -> tuple[tuple[int, int], ...]:
    """Return the pairs of numbers whose names are spelt nearly, but not quite, alike.

    Letters wrong, words left out, run together or cut to their first letter.
    """
    own = {
        number: _parted(name)
        for number, name in sorted(names)
        if len(name.replace(",", " ").split()) > 1 and not any(map(str.isdigit, name))
    }
    if len(own) < 2:
        return ()
    as_written = [" ".join(words) for words in own.values()]
    in_order = [" ".join(sorted(words)) for words in own.values()]
    near = sum(
        process.cdist(texts, texts, scorer=fuzz.ratio, score_cutoff=WORTH_A_LOOK)
        for texts in (as_written, in_order)
    )
    numbers = list(own)
    return tuple(
        (numbers[i], numbers[j])
        for i, j in np.argwhere(np.triu(near, 1) > 0.0).tolist()
        if in_order[i] != in_order[j] and _fit(own[numbers[i]], own[numbers[j]])
    )


def one_name(one: str, other: str) -> bool:
    """Tell whether two texts are one name, spelt anew.

    Ann Ek and Anne Ek, not Ann Ek and Dan Ek.
    """
    return folded(one) == folded(other) or _fit(_parted(one), _parted(other))


def related(one: str, other: str) -> bool:
    """Tell whether two names are easily taken for each other: one word is in both."""
    words = set(words_of(one)) & set(words_of(other))
    return bool(words) or (bool(one and other) and one_name(one, other))


def _fit(one: Sequence[str], other: Sequence[str]) -> bool:
    """Tell whether each word of the shorter name is nearly one of the other."""
    short, long = sorted((one, other), key=len)
    joined = Indel.normalized_similarity("".join(short), "".join(long))
    if len(short) < len(long) and joined >= RUN_TOGETHER:
        return True
    left = list(long)
    for word in sorted(short, key=len, reverse=True):
        ratios = [_as_word(word, w) for w in left]
        best = max(range(len(left)), key=ratios.__getitem__)
        if ratios[best] < ALIKE_WORD:
            return False
        del left[best]
    return len(max(short, key=len, default="")) > 1


def _as_word(one: str, other: str) -> float:
    """Return how alike two words are; a letter alone is any word that begins with it."""
    if min(len(one), len(other)) == 1 and (one + other).isalpha():
        return float(one[0] == other[0])
    return float(Indel.normalized_similarity(one, other))
