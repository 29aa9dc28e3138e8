"""What check-in leaves open about pilots: one person twice, papers, waiver."""

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date

from scorer.event import matters
from scorer.event.matter import Matter
from scorer.event.model import Event, Flight, Pilot, TaskState
from scorer.facts import Fact, count, fact, term, words
from scorer.tracks.names import alike, code, folded, words_of

_OWN: Mapping[str, tuple[Callable[[Pilot], str], Callable[[str], str]]] = {
    "same-name": (lambda pilot: pilot.name, folded),
    "same-registration": (lambda pilot: pilot.registration, code),
    "same-logger": (lambda pilot: pilot.logger, code),
}
"""What should be one pilot's alone, and how it is compared, by the fact that says it is
not."""


def of_roster(pilots: Sequence[Pilot]) -> Iterator[Matter]:
    """Tell of one name, registration or logger under several numbers, and mixed columns.

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
    for column, of in _BESIDE_NAME.items():
        mixed = [p for p in pilots if _is_code(p.name) and _is_name(of(p))]
        if mixed:
            says = fact(
                "columns-exchanged",
                pilots=count(len(mixed)),
                column=term(column),
                name=words(mixed[0].name),
                beside=words(of(mixed[0])),
            )
            yield _exchanged(mixed, says)
    mixed = [p for p in pilots if _MARKS.fullmatch(p.logger) and _is_serial(p)]
    if mixed:
        says = fact(
            "codes-exchanged",
            pilots=count(len(mixed)),
            logger=words(mixed[0].logger),
            registration=words(mixed[0].registration),
        )
        yield _exchanged(mixed, says)


def _exchanged(mixed: Sequence[Pilot], says: Fact) -> Matter:
    found = tuple(sorted(pilot.number for pilot in mixed))
    return Matter(kind=matters.COLUMNS_EXCHANGED, pilots=found, says=says)


_BESIDE_NAME: Mapping[str, Callable[[Pilot], str]] = {
    "column-registration": lambda pilot: pilot.registration,
    "column-logger": lambda pilot: pilot.logger,
}


_MARKS = re.compile(r"[A-Z0-9]{1,2}-[A-Z0-9]{3,5}", re.IGNORECASE)
"""A registration: nationality mark, hyphen, up to five signs (ICAO Annex 7, 2; from
memory).  Those without a hyphen look like serials, and nothing is said of them."""


def _is_serial(pilot: Pilot) -> bool:
    """Tell whether what stands as the registration has no hyphen and is something."""
    own = pilot.registration
    return bool(own) and "-" not in own and len(own.split()) == 1


def _is_name(text: str) -> bool:
    """Tell whether a text reads like a person's name: two words of letters or more."""
    return len(words_of(text)) > 1 and not any(c.isdigit() for c in text)


def _is_code(text: str) -> bool:
    """Tell whether a text reads like a registration, a serial or a short code."""
    one = len(text.split()) == 1
    return one and (text.isupper() or any(c.isdigit() for c in text))


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
