"""The signs by which logs tell whose they are, and how much each weighs.

Weights are natural logarithms of likelihood ratios: how much more often a log of this
pilot shows the sign than a log of somebody else does.  They are our choice, from common
practice: names and registrations are typed once and seldom wrong, loggers are lent,
competition numbers stay in devices from the last event, bare numbers are counters as
often as not.
"""

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import PurePosixPath
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import Indel

from scorer.event.model import Pilot
from scorer.tracks.heads import LogHead
from scorer.tracks.names import (
    ALIKE,
    code,
    one_off,
    plain,
    spellings,
    turned_of,
    words_of,
)

NEXT = 0.05
"""Names that are nearly as alike as the best one are not told from it."""
MOST_OF_ONE_WORD = 5
"""A word that stands in more names than this tells nobody."""
LEAST_PART = 4
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


@dataclass(frozen=True, slots=True)
class IdentitySign:
    """One sign: how it is read, and what it weighs."""

    name: str
    """As in the catalogue: `term-NAME`."""
    read: "Callable[[LogHead, Roster], SignReading | None]"
    """None = the log does not show this sign."""
    fits: float
    """For each pilot it fits."""
    other: float
    """For each pilot it does not fit, where it fits another one."""
    nobody: float = 0.0
    """For each pilot whose entry it contradicts, where it fits nobody."""


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
        return frozenset(
            number
            for words, numbers in self.by_words.items()
            if script & _scripts(" ".join(words))
            for number in numbers
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


# Names.

_NO_NAME = frozenset(
    (
        *("pilot", "in", "command", "pic", "name", "unknown", "none", "not", "set"),
        *("default", "user", "test", "tba", "tbd", "null", "nil", "no", "na", "owner"),
        *("anonymous", "logger", "crew", "phone", "the", "competitor", "your", "my"),
    )
)
"""What devices say where nobody said a name (common practice, no source)."""


class NameFit(NamedTuple):
    """Whom a written name fits, and how well."""

    whole: Numbers = frozenset()
    alike: Numbers = frozenset()
    part: Numbers = frozenset()


@lru_cache(maxsize=4096)
def _named(written: tuple[str, ...], roster: Roster) -> NameFit:
    """Compare words with names: whole, spelt differently, or by one word alone."""
    own = frozenset(written)
    found = set(roster.by_words.get(own, ()))
    for words, numbers in () if found else roster.by_words.items():
        if (words <= own or own <= words) and _tells(words, own):
            found |= numbers
    if found:
        return NameFit(whole=frozenset(found))
    if near := _close(" ".join(written), roster):
        return NameFit(alike=near)
    return NameFit(part=_by_one_word(own, roster))


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


def _by_one_word(written: Iterable[str], roster: Roster) -> Numbers:
    hits = [
        numbers
        for word in written
        if len(word) >= LEAST_PART and len(numbers := roster.by_word.get(word, set()))
    ]
    fewest = min(map(len, hits), default=0)
    if fewest > MOST_OF_ONE_WORD:
        return frozenset()
    return frozenset(set().union(*(own for own in hits if len(own) == fewest)))


def _inside(head: LogHead) -> tuple[str, ...]:
    written = words_of(head.headers.get("pilot", ""))
    return tuple(word for word in written if word not in _NO_NAME)


def _whole_name(head: LogHead, roster: Roster) -> SignReading | None:
    written = _inside(head)
    named = _named(written, roster)
    if not written or named.alike or named.part:
        return None
    if not named.whole and any(word in roster.by_word for word in written):
        return None  # one of several of that name
    text = head.headers.get("pilot", "")
    return SignReading(named.whole, text, roster.written_like(" ".join(written)))


def _alike_name(head: LogHead, roster: Roster) -> SignReading | None:
    named = _named(_inside(head), roster).alike
    return SignReading(named, head.headers.get("pilot", "")) if named else None


def _part_of_name(head: LogHead, roster: Roster) -> SignReading | None:
    named = _named(_inside(head), roster).part
    return SignReading(named, head.headers.get("pilot", "")) if named else None


# Names of files and folders.


def _segments(head: LogHead) -> list[str]:
    """Return the names of the folders and of the file without its ending, file last."""
    path = PurePosixPath(head.name.replace("\\", "/"))
    return [part for part in (*path.parent.parts, path.stem) if part not in ("", "/")]


def _file_name(head: LogHead, roster: Roster) -> SignReading | None:
    found: set[int] = set()
    for segment in _segments(head):
        written = tuple(words_of(segment))
        found |= _named(written, roster).whole if len(written) > 1 else set()
        for letters in re.findall(r"[^\W\d_]{4,}", plain(segment)):
            found |= roster.by_letters.get(letters, set())
            found |= roster.by_words.get(frozenset((letters,)), set())
    return SignReading(frozenset(found), head.name) if found else None


def _part_in_file_name(head: LogHead, roster: Roster) -> SignReading | None:
    if _file_name(head, roster):
        return None
    written = {word for segment in _segments(head) for word in words_of(segment)}
    found = _by_one_word(written, roster)
    return SignReading(found, head.name) if found else None


def _runs(segment: str) -> Iterator[str]:
    """Yield up to four adjoining words of a name as one, dates left out."""
    words = re.findall(r"[^\W_]+", _DATE.sub(" ", segment))
    for i in range(len(words)):
        for j in range(i + 1, min(i + 4, len(words)) + 1):
            yield code("".join(words[i:j]))


_DATE = re.compile(
    r"(?<!\d)(?:19|20)\d\d[-_.]?\d\d[-_.]?\d\d"
    r"(?:[-_T ]*\d\d[-_.]?\d\d(?:[-_.]?\d\d)?)?(?!\d)"
)
LEAST_CODE, LEAST_DIGITS = 3, 7
"""A serial or registration in a file's name has so many signs with a letter among them,
or so many digits: fewer may be a date or a counter."""


def _coded(head: LogHead, table: dict[str, set[int]]) -> SignReading | None:
    found: set[int] = set()
    for segment in _segments(head):
        for run in _runs(segment):
            if len(run) >= (LEAST_DIGITS if run.isdigit() else LEAST_CODE):
                found |= table.get(run, set())
    return SignReading(frozenset(found), head.name) if found else None


def _registration_in_file_name(head: LogHead, roster: Roster) -> SignReading | None:
    return _coded(head, roster.by_registration)


def _logger_in_file_name(head: LogHead, roster: Roster) -> SignReading | None:
    named = _RECORDER_NAME.fullmatch(_segments(head)[-1]) if _segments(head) else None
    if named is None:
        return _coded(head, roster.by_logger)
    serial = code(named["long"] or named["short"])
    found = roster.by_logger.get(serial, set())
    return SignReading(frozenset(found), serial) if found else None


_RECORDER_NAME = re.compile(
    r"\d{4}-\d\d-\d\d-[A-Z0-9]{3}-(?P<long>[A-Z0-9]{3,8})-\d\d"
    r"|\d[1-9A-C][1-9A-V][A-Z](?P<short>[A-Z0-9]{3})[0-9A-Z]",
    re.IGNORECASE,
)
"""File names that recorders give, with date, maker, serial and number of the day's
flight: `2026-09-12-XYZ-4F7-01`, `69CX4F71` (IGC specification, 2.5; from memory)."""


def _called(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a number that a file's or folder's name calls the pilot's."""
    found = [m for segment in _segments(head) if (m := _CALLED.fullmatch(segment))]
    numbers = {int(one["number"]) for one in found}
    known = frozenset(numbers & roster.numbers)
    return SignReading(known, found[-1][0], roster.numbers) if found else None


_CALLED = re.compile(
    r"(?:pilot|competitor)(?:[ _.-]*(?:number|num|no|nr|#))*[ _.-]*"
    r"(?P<number>\d{1,4})(?:[ _-]+(?:flight|task)[ _.-]*\d{1,2})*",
    re.IGNORECASE | re.ASCII,
)
_BARE = re.compile(
    r"(?:(?:number|num|no|nr|#)[ _.-]*)?(?P<number>\d{1,3})"
    r"(?:[ _-]+(?:flight|task)[ _.-]*\d{1,2})*",
    re.IGNORECASE | re.ASCII,
)
"""Four digits alone may be a date or a time of day: `0112`, `0729`."""


def _number(segment: str, roster: Roster) -> SignReading | None:
    found = _BARE.fullmatch(segment)
    number = int(found["number"]) if found else None
    return (
        SignReading(frozenset({number}), segment) if number in roster.numbers else None
    )


def _number_and_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a number beside a word of that pilot's name; `(2)` and `~1` are counters."""
    for segment in reversed(_segments(head)):
        bare = re.sub(r"\(\d+\)|~\d+", " ", _DATE.sub(" ", segment))
        numbers = {int(n) for n in re.findall(r"(?<![^\W_])\d{1,4}(?![^\W_])", bare)}
        own = set(words_of(bare))
        named = {n for n in numbers if own & roster.words_of.get(n, set())}
        if named:
            return SignReading(frozenset(named), segment)
    return None


def _file_number(head: LogHead, roster: Roster) -> SignReading | None:
    return _number(_segments(head)[-1], roster) if _segments(head) else None


def _folder_number(head: LogHead, roster: Roster) -> SignReading | None:
    read = [r for one in _segments(head)[:-1] if (r := _number(one, roster))]
    return read[-1] if read and _called(head, roster) is None else None


# What the log says inside.


def _logger(head: LogHead, roster: Roster) -> SignReading | None:
    """Read the serial in the header, with or without the maker."""
    written = head.headers.get("logger", "")
    serial = code(written)
    found: set[int] = set()
    for key in filter(None, (serial, serial[3:])):
        found |= roster.by_logger.get(key, set())
    return (
        SignReading(frozenset(found), written, _those(roster.by_logger))
        if serial
        else None
    )


def _registration(head: LogHead, roster: Roster) -> SignReading | None:
    """Read the registration, also where it stands as the competition id."""
    table = roster.by_registration
    for key in ("registration", "competition_id"):
        written = head.headers.get(key, "")
        found = table.get(code(written))
        if found or (key == "registration" and code(written)):
            return SignReading(frozenset(found or ()), written, _those(table))
    return None


def _those(table: dict[str, set[int]]) -> Numbers:
    return frozenset().union(*table.values())


def _competition_id(head: LogHead, roster: Roster) -> SignReading | None:
    written = head.headers.get("competition_id", "")
    digits = re.fullmatch(r"\s*#?0*(\d{1,6})\s*", written)
    known = digits is not None and int(digits[1]) in roster.numbers
    return (
        SignReading(frozenset({int(digits[1])}), written) if digits and known else None
    )


SIGNS = (
    IdentitySign("sign-pilot-name", _whole_name, fits=8.0, other=-6.0, nobody=-4.0),
    IdentitySign("sign-name-alike", _alike_name, fits=5.0, other=-3.0),
    IdentitySign("sign-name-part", _part_of_name, fits=2.5, other=-2.0),
    IdentitySign("sign-registration", _registration, fits=6.0, other=-4.0, nobody=-1.0),
    IdentitySign("sign-logger", _logger, fits=6.0, other=-4.0, nobody=-0.5),
    IdentitySign("sign-competition-id", _competition_id, fits=2.5, other=-1.5),
    IdentitySign("sign-file-name", _file_name, fits=8.0, other=-6.0),
    IdentitySign("sign-file-name-part", _part_in_file_name, fits=2.5, other=-2.0),
    IdentitySign(
        "sign-file-registration", _registration_in_file_name, fits=6.0, other=-4.0
    ),
    IdentitySign("sign-file-logger", _logger_in_file_name, fits=6.0, other=-4.0),
    IdentitySign("sign-file-called", _called, fits=6.0, other=-5.0, nobody=-3.0),
    IdentitySign("sign-file-number-name", _number_and_name, fits=6.0, other=-4.0),
    IdentitySign("sign-folder-number", _folder_number, fits=2.5, other=-2.5),
    IdentitySign("sign-file-number", _file_number, fits=2.5, other=-2.5),
)
"""All signs, the most telling first where they are told."""


# Where no sign fits: what is nearly somebody's.

MOST_NEAR = 3
"""More pilots whose codes are near are no proposal."""


class NearEntry(NamedTuple):
    """Whose entry on the roster is one sign off what a log says."""

    pilot: int
    sign: str
    written: str


def near_ones(head: LogHead, roster: Roster) -> tuple[NearEntry, ...]:
    """Return whose serial or registration a log gives but for one letter or digit.

    It decides nothing: people are asked.  Letters and digits are compared, one of which
    may be another one, lacking, too many or exchanged with the next.
    """
    found: dict[int, NearEntry] = {}
    for sign, key, table in (
        ("sign-logger", "logger", roster.by_logger),
        ("sign-registration", "registration", roster.by_registration),
        ("sign-registration", "competition_id", roster.by_registration),
    ):
        written = head.headers.get(key, "")
        for text in filter(None, (code(written), code(written)[3:])):
            for known, numbers in table.items():
                if len(known) >= LEAST_CODE and one_off(text, known):
                    for number in numbers:
                        found.setdefault(number, NearEntry(number, sign, written))
    return tuple(found[n] for n in sorted(found)) if len(found) <= MOST_NEAR else ()
