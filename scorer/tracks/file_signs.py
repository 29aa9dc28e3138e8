"""What the names of a log's file and folders say of whose it is."""

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from pathlib import PurePosixPath

from scorer.tracks.heads import LogHead
from scorer.tracks.names import code, plain, words_of
from scorer.tracks.roster import (
    LEAST_PART,
    Numbers,
    Roster,
    SignReading,
    by_one_word,
    named_by,
    part_reading,
)


@lru_cache(maxsize=4096)
def _segments(name: str) -> tuple[str, ...]:
    """Return the names of the folders and of the file without its ending, file last."""
    path = PurePosixPath(name.replace("\\", "/"))
    parts = (*path.parent.parts, path.stem)
    return tuple(part for part in parts if part not in ("", "/"))


@lru_cache(maxsize=4096)
def _whole_names(name: str, roster: Roster) -> Numbers:
    """Return whose whole names stand in the names of a file and its folders."""
    found: set[int] = set()
    for segment in _segments(name):
        written = tuple(words_of(segment))
        found |= named_by(written, roster).whole if len(written) > 1 else set()
        for letters in re.findall(r"[^\W\d_]{4,}", plain(segment)):
            found |= roster.by_letters.get(letters, set())
            found |= roster.by_words.get(frozenset((letters,)), set())
    return frozenset(found)


def file_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read whole names."""
    found = _whole_names(head.name, roster)
    return SignReading(found, head.name) if found else None


def part_in_file_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read words of names beside whole ones; of many that bear one, against others."""
    whole = _whole_names(head.name, roster)
    known = set().union(*(roster.words_of[number] for number in whole))
    written = {
        word for own in _segments(head.name) for word in _parts(own, roster)
    } - known
    return part_reading(by_one_word(written, roster), head.name)


def _parts(segment: str, roster: Roster) -> Iterator[str]:
    """Yield the words that may be a part of a name: long ones, or one that is all.

    Months and days of the week beside a day or a year are a date.
    """
    words = words_of(segment)
    numbers = re.findall(r"\d+", segment)
    dated = any(int(n) <= LAST_DAY or len(n) >= len("2026") for n in numbers)
    for word in words:
        whole = len(word) >= LEAST_PART or (len(words) == 1 and not numbers)
        if whole and word in roster.by_word and not (dated and _is_date(word)):
            yield word


LAST_DAY = 31
LANGUAGES = ("en", "de", "fr", "es", "it", "nl", "pt", "pl", "cs", "sv", "da", "ja")
"""In which phones may write dates (our choice)."""


def _is_date(word: str) -> bool:
    """Tell whether a word is a month or a day of the week."""
    return word in calendar_words()


@lru_cache(maxsize=1)
def calendar_words() -> frozenset[str]:
    """Return months and days of the week, whole and cut short (Unicode's CLDR)."""
    from babel import Locale  # noqa: PLC0415 - most names hold no such word

    own = [Locale(language) for language in LANGUAGES]
    tables = [
        table["format"][width]
        for locale in own
        for table in (locale.months, locale.days)
        for width in ("wide", "abbreviated")
    ]
    return frozenset(w for t in tables for name in t.values() for w in words_of(name))


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
    for segment in _segments(head.name):
        for run in _runs(segment):
            if len(run) >= (LEAST_DIGITS if run.isdigit() else LEAST_CODE):
                found |= table.get(run, set())
    return SignReading(frozenset(found), head.name) if found else None


def registration_in_file_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read registrations, however they are parted."""
    return _coded(head, roster.by_registration)


def logger_in_file_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read serials, by themselves or in the name that a recorder gives."""
    file = _segments(head.name)[-1:]
    named = _RECORDER_NAME.fullmatch(file[0]) if file else None
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


def called(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a number that a file's or folder's name calls the pilot's."""
    found = [m for segment in _segments(head.name) if (m := _CALLED.fullmatch(segment))]
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


def number_and_name(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a number beside a word of that pilot's name; `(2)` and `~1` are counters.

    A month beside a number is a date, whoever bears its name.
    """
    for segment in reversed(_segments(head.name)):
        bare = re.sub(r"\(\d+\)|~\d+", " ", _DATE.sub(" ", segment))
        named = {
            number
            for number, word in _beside(bare)
            if word in roster.words_of.get(number, ()) and not _is_date(word)
        }
        if named:
            return SignReading(frozenset(named), segment)
    return None


def _beside(text: str) -> Iterator[tuple[int, str]]:
    """Yield the numbers of up to four digits with each word next to them."""
    every = re.findall(r"[^\W_]+", text)
    signs = [one for one in every if one.isdigit() or words_of(one)]
    for one, other in pairwise(signs):
        for number, beside in ((one, other), (other, one)):
            if re.fullmatch(r"\d{1,4}", number, re.ASCII):
                for word in words_of(beside):
                    yield int(number), word


def file_number(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a number that is all of the file's name."""
    file = _segments(head.name)[-1:]
    return _number(file[0], roster) if file else None


def folder_number(head: LogHead, roster: Roster) -> SignReading | None:
    """Read a number that is all of a folder's name."""
    read = [r for one in _segments(head.name)[:-1] if (r := _number(one, roster))]
    return read[-1] if read and called(head, roster) is None else None
