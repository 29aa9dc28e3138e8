"""What else an entry of a mark may have been meant to say, and whether it fits better.

Slips that people make where they measure, write and key: a bearing read from the wrong
end, another reference point, another task, feet for metres, digits exchanged, the other
side of a line (common practice, no source; how often, is our choice).
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import pairwise

from scorer.checks.mark_doubts import Meant, Weighed, Weighing
from scorer.checks.mark_track import PASSES, Course, Doubt, Marks, Passes
from scorer.checks.throws import ThrowSigns, signs_of
from scorer.event import place_kinds
from scorer.event.model import Event, Flight, Keying, Method
from scorer.facts import Fact, angle, fact, length, place, task, term, words
from scorer.geodesy.site import Site
from scorer.rounding import Exact, exact
from scorer.scoring.comparing import LINES
from scorer.scoring.evidence import FlightEvidence, placed_alone
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.keyings import Agreed
from scorer.units import FOOT_M, Unreadable, length_m

TURNED, REFERENCE, TASK, UNIT, DIGITS, SIDE = 0.003, 0.004, 0.004, 0.002, 0.003, 0.003
"""How often each slip is made."""
UNIT_GIVEN = 0.25
"""Of those, where a unit was written beside the number."""
SHOWING = frozenset(
    {
        *("mark-unlike-aim", "meant-turned", "meant-unit", "meant-digits"),
        *("meant-reference", "meant-side"),
    }
)
"""What shows of an entry something that whoever enters it again must not see."""
DIGITS_OF = ("distance", "bearing", "easting", "northing")
Guess = tuple[Fact, float, Keying]
"""What was meant, how often such a slip is made, and the entry as it would be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GuessBasis:
    """What guesses about entries need to know of their event."""

    event: Event
    flight: Flight
    site: Site
    agreed: Mapping[int, Mapping[int, Mapping[str, Agreed]]]
    """What the entries of each mark come to: by task, pilot and role."""
    courses: Mapping[int, Callable[[], Course]]
    """Where each pilot's track was in the air."""
    keep: Keep = NOTHING_KEPT

    @property
    def key(self) -> str:
        """Return the key of all that guesses depend on beside the mark's own entries."""
        event, flight = self.event, self.flight
        used = list(dict.fromkeys(k.from_place for k in flight.keyings))
        fell = frozenset(
            (k.pilot, k.mark, k.task, k.time_s)
            for k in (flight.keyings if self.site.stood else ())
        )
        books = [event.book_of(task) for task in flight.tasks]
        rest = (event.units, event.places, flight.tasks, flight.declarations, books)
        return self.keep.key("guesses", self.site, rest, used, fell)


def weighed(flight: Marks, taken: FlightEvidence) -> Weighing | None:
    """Put the marks of a flight beside its tracks; None = too few to learn from."""
    given = taken.own.items()
    return Weighing.of(flight, frozenset(key for key, own in given if own.no_mark))


def doubted(
    weighing: Weighing, hand: GuessBasis, least_odds: float = 0.0
) -> list[Doubt]:
    """Return the marks of a flight that something else fits better."""
    looked_at = [int(k) for k in weighing.looked_at]
    marks = (weighing.flight.marks[k] for k in looked_at)
    agreed = [hand.agreed[m.task][m.pilot][m.mark] for m in marks]
    every = {
        k: weighed_by(weighing, hand, k, known)
        for k, known in zip(looked_at, meant_by(hand, agreed), strict=True)
        if known
    }
    return weighing.doubts(every, least_odds)


def meant_by(hand: GuessBasis, marks: Sequence[Agreed]) -> list[list[Meant]]:
    """Return what else may have been meant by each of some marks, as before if known."""
    given = hand.key
    return hand.keep.each(
        "meant",
        [(given, own) for own in marks],
        lambda wanted: _meant(hand, [marks[index] for index in wanted]),
    )


def _meant(hand: GuessBasis, marks: Sequence[Agreed]) -> list[list[Meant]]:
    """Return what else may have been meant by each of some marks, all placed together."""
    guesses = [(k, g) for k, own in enumerate(marks) for g in guesses_of(hand, own)]
    entries = [keying for _, (_, _, keying) in guesses]
    placed = placed_alone(hand.event, hand.flight, hand.site, entries)
    meant: list[list[Meant]] = [[] for _ in marks]
    for (k, (says, prior, _)), own in zip(guesses, placed, strict=True):
        if own is not None:
            meant[k].append(Meant(says=says, prior=prior, placed=own))
    return meant


def weighed_by(
    weighing: Weighing, hand: GuessBasis, k: int, known: Sequence[Meant]
) -> list[Weighed]:
    """Weigh what else a mark's entry may say on its pilot's own track."""
    mark = weighing.flight.marks[k]
    make = hand.courses.get(mark.pilot)
    if make is None:
        return []
    course = make()

    def signs() -> ThrowSigns:
        marks = [replace(one.placed, time_s=mark.time_s) for one in known]
        return signs_of(marks, Passes(*course.near(marks)[PASSES:]))

    place = "signs", hand.flight.id, mark.task, mark.pilot, mark.mark
    own = hand.keep.same(place, (mark, known, course), signs)
    return weighing.weighed(k, known, own)


def guesses_of(hand: GuessBasis, agreed: Agreed) -> Iterator[Guess]:
    """Yield the other entries that one may have been meant as."""
    keying = agreed.keying
    yield from _other_tasks(hand, keying)
    if agreed.survey:
        return  # measured in several ways, which agree
    yield from _turned(keying)
    yield from _other_references(hand, keying)
    yield from _other_units(hand.event, keying)
    yield from _digits(hand.event, keying)
    if keying.side in _OTHER_SIDE:
        other = _OTHER_SIDE[keying.side]
        says = fact("meant-side", side=term(_SIDES[other]))
        yield says, SIDE, replace(keying, side=other)


_OTHER_SIDE = {"L": "R", "R": "L"}
_SIDES = {"L": "left", "R": "right"}


def _turned(keying: Keying) -> Iterator[Guess]:
    if keying.bearing_deg is not None and keying.method in LINES:
        back = Exact((exact(keying.bearing_deg) + 180) % 360)
        says = fact("meant-turned", bearing=angle(back))
        yield says, TURNED, replace(keying, bearing_deg=back)


def _other_tasks(hand: GuessBasis, keying: Keying) -> Iterator[Guess]:
    """Yield the entry as one of another task of the flight."""
    own = next(t for t in hand.flight.tasks if t.number == keying.task)
    others = [t for t in hand.flight.tasks if t is not own and t.target != own.target]
    for other in others:
        start = None if keying.from_place in own.targets else keying.from_place
        moved = replace(keying, task=other.number, from_place=start)
        yield fact("meant-task", task=task(other.number)), TASK / len(others), moved


def _other_references(hand: GuessBasis, keying: Keying) -> Iterator[Guess]:
    """Yield the entry as measured from other points of the event."""
    if keying.method not in LINES or keying.distance_m is None:
        return
    own = next(t for t in hand.flight.tasks if t.number == keying.task)
    now = keying.from_place or own.target
    names = dict.fromkeys((*own.targets, *_points(hand, keying)))
    others = [n for n in names if n != now and n in hand.site.spots]
    for name in others:
        says = fact("meant-reference", place=place(name))
        yield says, REFERENCE / len(others), replace(keying, from_place=name)


def _points(hand: GuessBasis, keying: Keying) -> Iterator[str]:
    """Yield the points that a bearing with a distance may be measured from."""
    if keying.bearing_deg is None:
        return
    used = (k.from_place for k in hand.flight.keyings)
    yield from (name for name in used if name is not None)
    for own in hand.event.places:
        if own.kind in {place_kinds.TARGET, place_kinds.REFERENCE}:
            yield own.name


def _other_units(event: Event, keying: Keying) -> Iterator[Guess]:
    if keying.distance_m is None or keying.method not in LINES:
        return
    text = keying.entered.get("distance", "")
    given = bool(keying.entered.get("unit", "").strip()) or any(map(str.isalpha, text))
    prior = UNIT * (UNIT_GIVEN if given else 1.0)
    feet = _in_feet(event, keying)
    own = exact(keying.distance_m)
    meant = Exact(own / exact(FOOT_M)) if feet else Exact(own * exact(FOOT_M))
    says = fact(
        "meant-unit",
        unit=term("in-metres" if feet else "in-feet"),
        distance=length(meant),
    )
    yield says, prior, replace(keying, distance_m=meant)


def _in_feet(event: Event, keying: Keying) -> bool:
    unit = keying.entered.get("unit", "").strip().casefold()
    text = keying.entered.get("distance", "").casefold()
    if unit:
        return unit == "ft"
    if any(map(str.isalpha, text)):
        return "f" in text
    return event.units == "imperial" or any(sign in text for sign in "'′")


def _digits(event: Event, keying: Keying) -> Iterator[Guess]:
    """Yield the entry with two neighbouring digits of a number exchanged."""
    found: list[tuple[str, str, Keying]] = []
    for column in DIGITS_OF:
        text = keying.entered.get(column, "").strip()
        for other in exchanged(text):
            moved = _with(event, keying, column, other)
            if moved is not None:
                found.append((text, other, moved))
    for text, other, moved in found:
        says = fact("meant-digits", text=words(text), instead=words(other))
        yield says, DIGITS / len(found), moved


def exchanged(text: str) -> Iterator[str]:
    """Yield a number with two neighbouring digits exchanged, whatever stands between."""
    places = [found.start() for found in re.finditer(r"\d", text)]
    for one, other in pairwise(places):
        if text[one] != text[other]:
            letters = list(text)
            letters[one], letters[other] = letters[other], letters[one]
            yield "".join(letters)


def _with(event: Event, keying: Keying, column: str, text: str) -> Keying | None:
    """Return an entry with another number in one column; None where that is none."""
    with suppress(Unreadable, ValueError):
        if column == "distance":
            unit = keying.entered.get("unit", "").strip()
            return replace(keying, distance_m=length_m(text, unit or event.units.bare))
        number = float(re.sub(r"[^\d.]", "", text.replace(",", ".")))
        if column == "bearing" and keying.method in LINES:
            return replace(keying, bearing_deg=number) if number <= 360.0 else None
        if keying.method is Method.GRID and column == "easting":
            return replace(keying, easting_m=number)
        if keying.method is Method.GRID and column == "northing":
            return replace(keying, northing_m=number)
    return None
