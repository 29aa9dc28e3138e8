"""What check-in leaves open about pilots: one person twice, papers, waiver."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from datetime import date

from scorer.event import matters
from scorer.event.matter import Matter
from scorer.event.model import Event, Flight, Pilot, TaskState
from scorer.facts import Fact, fact, words

_OWN: Mapping[str, Callable[[Pilot], str]] = {
    "same-name": lambda pilot: pilot.name,
    "same-registration": lambda pilot: pilot.registration,
    "same-logger": lambda pilot: pilot.logger,
}
"""What should be one pilot's alone, by the fact that says it is not."""


def same_people(event: Event) -> Iterator[Matter]:
    """Tell of one name, registration or logger that stands under several numbers."""
    for kind, of in _OWN.items():
        numbers = defaultdict(list)
        for pilot in event.pilots:
            numbers[" ".join(of(pilot).split()).casefold()].append(pilot)
        for text, same in numbers.items():
            if text and len(same) > 1:
                yield Matter(
                    kind=matters.SAME_PERSON,
                    pilots=tuple(sorted(pilot.number for pilot in same)),
                    says=fact(kind, what=words(of(same[0]))),
                )


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
