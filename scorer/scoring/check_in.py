"""What check-in leaves open about pilots: one person twice, papers, waiver."""

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date

from scorer.event import matters
from scorer.event.matter import Matter
from scorer.event.model import Event, Flight, Pilot, TaskState
from scorer.facts import Fact, count, fact, term, words
from scorer.tracks.names import alike, code, folded, meant_letters, words_of

_OWN: Mapping[str, tuple[Callable[[Pilot], str], Callable[[str], str]]] = {
    "same-name": (lambda pilot: pilot.name, folded),
    "same-registration": (lambda pilot: pilot.registration, code),
    "same-logger": (lambda pilot: pilot.logger, code),
}
"""What should be one pilot's alone, and how it is compared, by the fact that says it is
not."""


def of_roster(pilots: Sequence[Pilot]) -> Iterator[Matter]:
    """Tell of what stands under several numbers, of mixed columns and misread letters.

    Names are compared without accents, capitals and order of words; of names that are
    spelt nearly alike it is only told.
    """
    for kind, (of, key) in _OWN.items():
        numbers = defaultdict(list)
        for pilot in pilots:
            numbers[key(of(pilot))].append(pilot)
        for text, same in numbers.items():
            if text and len(same) > 1:
                yield Matter(
                    kind=matters.SAME_PERSON,
                    pilots=tuple(sorted(pilot.number for pilot in same)),
                    says=fact(kind, what=words(of(same[0]))),
                )
    names = {pilot.number: pilot.name for pilot in pilots}
    for one, other in alike(tuple(names.items())):
        yield Matter(
            kind=matters.ALIKE_NAMES,
            pilots=tuple(sorted((one, other))),
            says=fact("alike-names", one=words(names[one]), other=words(names[other])),
        )
    yield from _exchanged_columns(pilots)
    yield from _exchanged_numbers(pilots)
    yield from _misread_letters(pilots)


def of_import(read: Sequence[Pilot], before: Sequence[Pilot]) -> Iterator[Matter]:
    """Tell what an import of pilots adds to what is doubtful about the roster."""
    come = {pilot.number for pilot in read}
    known = {matter.key for matter in of_roster(before)}
    every = [*(p for p in before if p.number not in come), *read]
    yield from (m for m in of_roster(every) if m.key not in known)


_BESIDE: Mapping[str, Callable[[Pilot], str]] = {
    "column-registration": lambda pilot: pilot.registration,
    "column-logger": lambda pilot: pilot.logger,
    "column-class": lambda pilot: pilot.class_name,
    "column-country": lambda pilot: pilot.country,
}
_CODES = frozenset({"column-registration", "column-logger"})
"""A code as the name is of these; countries and classes may be of two words, as names
are, and some people enter themselves as one word."""


def _exchanged_columns(pilots: Sequence[Pilot]) -> Iterator[Matter]:
    """Tell of names and registrations that stand in other columns."""
    names = Counter(folded(pilot.name) for pilot in pilots)
    for column, of in _BESIDE.items():
        others = Counter(folded(of(pilot)) for pilot in pilots)
        named = [
            p
            for p in pilots
            if _is_name(text := of(p))
            and others[folded(text)] == 1
            and (
                (column in _CODES and _is_code(p.name))
                or (key := folded(p.name)) in others
                or (names[key] > 1 and not _is_name(p.name))
            )
        ]
        if named:
            yield _exchanged("columns-exchanged", named, column, lambda p: p.name, of)
        if column == "column-registration":
            continue
        coded = [
            p
            for p in pilots
            if _MARKS.fullmatch(of(p)) and p.registration and not _is_registration(p)
        ]
        if coded:
            reg = _BESIDE["column-registration"]
            yield _exchanged("codes-exchanged", coded, column, reg, of)


def _exchanged(
    kind: str,
    mixed: Sequence[Pilot],
    column: str,
    own: Callable[[Pilot], str],
    other: Callable[[Pilot], str],
) -> Matter:
    says = fact(
        kind,
        pilots=count(len(mixed)),
        column=term(column),
        own=words(own(mixed[0])),
        beside=words(other(mixed[0])),
    )
    found = tuple(sorted(pilot.number for pilot in mixed))
    return Matter(kind=matters.COLUMNS_EXCHANGED, pilots=found, says=says)


LONG_NUMBER = 5
"""Digits that no competition number has, and many a logger's serial (common practice,
no source)."""


def _exchanged_numbers(pilots: Sequence[Pilot]) -> Iterator[Matter]:
    """Tell of serials that stand as numbers, and short numbers as loggers' serials.

    A serial is longer than a number by two digits, and as long as nobody else's number.
    """
    mixed = [p for p in pilots if _is_exchanged(p)]
    others = {_digits(p.number) for p in pilots if not _is_exchanged(p)}
    found = [
        p
        for p in mixed
        if _digits(p.number) >= LONG_NUMBER
        or (others and _digits(p.number) > max(others))
    ]
    if found:
        number, logger = found[0].number, found[0].logger
        values = {"number": words(str(number)), "logger": words(logger)}
        yield Matter(
            kind=matters.COLUMNS_EXCHANGED,
            pilots=tuple(sorted(pilot.number for pilot in found)),
            says=fact("numbers-exchanged", pilots=count(len(found)), **values),
        )


def _is_exchanged(pilot: Pilot) -> bool:
    logger = pilot.logger.strip()
    digits = logger.isascii() and logger.isdigit()
    return digits and len(logger.lstrip("0")) + 2 <= _digits(pilot.number)


def _digits(number: int) -> int:
    return len(str(number))


_MARKS = re.compile(r"[A-Z0-9]{1,2}-[A-Z0-9]{3,5}", re.IGNORECASE)
"""A registration: nationality mark, hyphen, up to five signs (ICAO Annex 7, 2; from
memory).  Those without a hyphen look like serials, and nothing is said of them."""


def _is_registration(pilot: Pilot) -> bool:
    """Tell whether what stands as the registration may be one: it has a hyphen."""
    return "-" in pilot.registration or len(pilot.registration.split()) > 1


def _is_name(text: str) -> bool:
    """Tell whether a text reads like a person's name: two words of letters or more."""
    return len(words_of(text)) > 1 and not any(c.isdigit() for c in text)


def _is_code(text: str) -> bool:
    """Tell whether a text reads like a registration, a serial or a short code."""
    one = len(text.split()) == 1
    return one and (text.isupper() or any(c.isdigit() for c in text))


def _misread_letters(pilots: Sequence[Pilot]) -> Iterator[Matter]:
    """Tell of names whose letters a program read as those of another alphabet."""
    found = [(p, meant) for p in pilots if (meant := meant_letters(p.name))]
    lost = [(p, "") for p in pilots if _LOST.search(p.name)]
    for kind, mixed in (("letters-misread", found), ("letters-lost", lost)):
        if mixed:
            pilot, meant = mixed[0]
            values = {"meant": words(meant)} if meant else {}
            number = count(len(mixed))
            yield Matter(
                kind=matters.LETTERS_MISREAD,
                pilots=tuple(sorted(p.number for p, _ in mixed)),
                says=fact(kind, pilots=number, name=words(pilot.name), **values),
            )


_LOST = re.compile(r"\ufffd|[^\W\d_]\?+[^\W\d_]")
"""What stands where a letter could not be read or written: `Bj?rn`."""


def not_checked_in(event: Event) -> Iterator[Matter]:
    """Tell flight by flight of papers that were not seen or ran out, and of waivers.

    It is nobody's but the officials': no results hold it.
    """
    for flight in event.flights:
        tasks = [t.number for t in flight.tasks if t.state is not TaskState.CANCELLED]
        for pilot in event.pilots:
            if any(map(pilot.takes_part, tasks)):
                for says in _lacking(pilot, flight):
                    yield Matter(
                        kind=matters.CHECK_IN,
                        flight=flight.id,
                        pilots=(pilot.number,),
                        says=says,
                    )


def _lacking(pilot: Pilot, flight: Flight) -> Iterator[Fact]:
    if pilot.papers is False:
        yield fact("papers-not-seen")
    elif isinstance(pilot.papers, date) and pilot.papers < flight.date:
        yield fact("papers-ran-out")
    if pilot.waiver is False:
        yield fact("waiver-not-signed")
