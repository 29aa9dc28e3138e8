"""Typed statements: what is so, as a kind with values.  Sentences are made elsewhere.

The engine never writes a sentence.  It states a `Fact`, a kind and the values that belong
to it, each with its measure; `scorer.words` says it in the trade's plain English (or
another language) and in the event's own units.  So no code ever finds a fact in a
sentence, and a translation is one catalogue.

>>> keyed = fact("entry-tape", distance=length(12.34), by=words("Ann Iso"))
>>> keyed["distance"].amount
12.34
>>> keyed.document()
{'kind': 'entry-tape', 'distance_m': 12.34, 'by': 'Ann Iso'}
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Any, Union

from scorer.rounding import shown


class Measure(StrEnum):
    """What a value counts; its member's value is the ending of its key in documents."""

    LENGTH = "m"
    """A measured or computed length as it enters results: 12.34 m or 40 ft 5.8 in."""
    EXACT = "exact_m"
    """A small difference of lengths, in as many digits as tell it from its limit."""
    HEIGHT = "height_m"
    """A height or depth from a log: 20.4 m or 67 ft."""
    DISTANCE = "distance_m"
    """A long way over the ground: 412 m, 5.2 km or 3.2 miles."""
    RACE = "race_m"
    """The way of a race, as it enters results: 61.234 km or 38.049 mi."""
    AREA = "km2"
    TAKEN = "taken_s"
    """A time taken, as it enters results: 58 s, 2 min 5.4 s, 1 h 10 min 5 s."""
    ANGLE = "deg"
    """An angle of a result."""
    POSITION = "position_deg"
    """A latitude (north positive) or longitude (east positive)."""
    BEARING = "bearing_deg"
    """A direction: whole degrees."""
    SPAN = "s"
    """A duration, seconds: 31 s, 2 min, 9 h."""
    MOMENT = "time_s"
    """POSIX seconds, UTC; said in the event's zone."""
    DAY = "day"
    """A local date, ISO text."""
    CHANCE = "chance"
    """A probability, 0 to 1."""
    SPEED = "m_s"
    PRESSURE = "hpa"
    TEMPERATURE = "c"
    POINTS = "points"
    COUNT = "count"
    """A number of things; the catalogue chooses singular and plural by it."""
    NUMBER = "number"
    """A plain number, in as many digits as it has."""
    UNITS = "units"
    """How many units over a limit a penalty is paid for."""
    TASK = "task"
    PILOT = "pilot"
    """A competition number; said with the name."""
    FLIGHT = "flight"
    PLACE = "place"
    LOG = "log"
    """Name of a flight log."""
    WORDS = ""
    """What a person wrote: names, reasons, remarks.  Never translated."""
    TERM = "term"
    """A word of the trade; the catalogue has it as `term-…`."""
    RULE = "rule"
    """A rule's key, such as `floor.height`; said as its title or paragraph."""
    FACT = "fact"
    """A statement within a statement."""
    SEVERAL = "several"
    """Several values of one sort, the last joined by "and"."""
    LISTED = "listed"
    """Several remarks, said one after the other."""


DECIMALS = {
    Measure.EXACT: 9,
    Measure.HEIGHT: 4,
    Measure.DISTANCE: 4,
    Measure.RACE: 4,
    Measure.POSITION: 8,
    Measure.BEARING: 4,
    Measure.TAKEN: 4,
    Measure.SPAN: 3,
    Measure.MOMENT: 3,
}
"""Decimals of numbers in documents: finer than anything is measured or said, and coarser
than what another version of a library for numbers or maps computes otherwise."""
OTHER_DECIMALS = 6
"""Also of lengths, which are entered to a tenth of an inch: 2.54 mm."""

Amount = Union[str, int, float, Fraction, "Fact", tuple["Value", ...]]


@dataclass(frozen=True, slots=True)
class Value:
    """One value of a fact: an amount and what it counts.  Hashable and picklable."""

    measure: Measure
    amount: Amount

    def document(self) -> Any:
        """Return it as plain JSON types, numbers rounded to `DECIMALS`."""
        if isinstance(self.amount, Fact):
            return self.amount.document()
        if isinstance(self.amount, tuple):
            return [_document_of(value) for value in self.amount]
        if isinstance(self.amount, float | Fraction):
            return shown(self.amount, DECIMALS.get(self.measure, OTHER_DECIMALS))
        return self.amount


@dataclass(frozen=True, slots=True)
class Fact:
    """A kind of statement with its values, in the order they were given.

    `kind` is the name of a message in the catalogue; a test holds that it stands there
    and takes just these values.
    """

    kind: str
    values: tuple[tuple[str, Value], ...] = ()

    def __getitem__(self, name: str) -> Value:
        """Return a value by name; KeyError where the fact has none."""
        for own, value in self.values:
            if own == name:
                return value
        raise KeyError(name)

    def get(self, name: str) -> Amount | None:
        """Return a value's amount by name; None where the fact has none."""
        return next((value.amount for own, value in self.values if own == name), None)

    @property
    def names(self) -> tuple[str, ...]:
        """Names of its values as documents have them: they end in what a value counts."""
        return tuple(_key(name, value.measure) for name, value in self.values)

    def document(self) -> dict[str, Any]:
        """Return it as plain JSON types."""
        tree: dict[str, Any] = {"kind": self.kind}
        for name, (_, value) in zip(self.names, self.values, strict=True):
            tree[name] = value.document()
        return tree


Step = Fact
"""One step on the way to a pilot's points."""


def fact(kind: str, /, **values: Value) -> Fact:
    """State a fact."""
    return Fact(kind, tuple(values.items()))


def _key(name: str, measure: Measure) -> str:
    ending = str(measure)
    plain = measure in _PLAIN or name == ending or name.endswith(f"_{ending}")
    return name if plain else f"{name}_{ending}"


_PLAIN = frozenset(
    {Measure.WORDS, Measure.FACT, Measure.SEVERAL, Measure.LISTED, Measure.TERM}
)


def _document_of(value: Value) -> Any:
    """Return one of several values: alone where its measure goes without saying."""
    plain = value.document()
    return plain if value.measure in _PLAIN else {str(value.measure): plain}


def length(metres: float | Fraction) -> Value:
    """Return a length in metres, as results carry it."""
    return Value(Measure.LENGTH, metres)


def height(metres: float) -> Value:
    """Return a height or depth in metres."""
    return Value(Measure.HEIGHT, metres)


def distance(metres: float) -> Value:
    """Return a long way in metres."""
    return Value(Measure.DISTANCE, metres)


def area(km2: float | Fraction) -> Value:
    """Return an area in square kilometres."""
    return Value(Measure.AREA, km2)


def angle(degrees: float | Fraction) -> Value:
    """Return an angle in degrees."""
    return Value(Measure.ANGLE, degrees)


def position(degrees: float) -> Value:
    """Return a latitude or longitude in degrees."""
    return Value(Measure.POSITION, degrees)


def bearing(degrees: float) -> Value:
    """Return a direction in degrees."""
    return Value(Measure.BEARING, degrees)


def span(seconds: float) -> Value:
    """Return a duration in seconds."""
    return Value(Measure.SPAN, seconds)


def time_taken(seconds: float) -> Value:
    """Return the time taken in a race, seconds."""
    return Value(Measure.TAKEN, seconds)


def moment(time_s: float) -> Value:
    """Return a moment, POSIX seconds."""
    return Value(Measure.MOMENT, time_s)


def day(iso: str) -> Value:
    """Return a local date."""
    return Value(Measure.DAY, iso)


def chance(probability: float) -> Value:
    """Return a probability, 0 to 1."""
    return Value(Measure.CHANCE, probability)


def speed(m_s: float) -> Value:
    """Return a speed in metres a second."""
    return Value(Measure.SPEED, m_s)


def points(amount: float | Fraction) -> Value:
    """Return points."""
    return Value(Measure.POINTS, amount)


def count(amount: int) -> Value:
    """Return a number of things."""
    return Value(Measure.COUNT, amount)


def number(amount: float | Fraction) -> Value:
    """Return a plain number."""
    return Value(Measure.NUMBER, amount)


def task(amount: int) -> Value:
    """Return a task by its number."""
    return Value(Measure.TASK, amount)


def pilot(amount: int) -> Value:
    """Return a pilot by competition number."""
    return Value(Measure.PILOT, amount)


def flight(name: str) -> Value:
    """Return a flight by its name."""
    return Value(Measure.FLIGHT, name)


def place(name: str) -> Value:
    """Return a place by its name."""
    return Value(Measure.PLACE, name)


def log(name: str) -> Value:
    """Return a flight log by its name."""
    return Value(Measure.LOG, name)


def words(text: str) -> Value:
    """Return what a person wrote."""
    return Value(Measure.WORDS, text)


def term(name: str) -> Value:
    """Return a word of the trade by its name in the catalogue."""
    return Value(Measure.TERM, str(name))


def rule(key: str) -> Value:
    """Return a rule by its key."""
    return Value(Measure.RULE, key)


def inner(stated: Fact) -> Value:
    """Return a statement as a value of another one."""
    return Value(Measure.FACT, stated)


def several(values: Iterable[Value]) -> Value:
    """Return several values as one."""
    return Value(Measure.SEVERAL, tuple(values))


def listed(values: Iterable[Value | Fact | None]) -> Value:
    """Return remarks as one value; what is None is left out."""
    given = (inner(v) if isinstance(v, Fact) else v for v in values if v is not None)
    return Value(Measure.LISTED, tuple(given))


def values_within(whole: Fact) -> Iterator[Value]:
    """Yield every value of a fact, each before those within it."""
    for _, value in whole.values:
        yield from _with_inner(value)


def _with_inner(value: Value) -> Iterator[Value]:
    yield value
    if isinstance(value.amount, Fact):
        yield from values_within(value.amount)
    elif isinstance(value.amount, tuple):
        for one in value.amount:
            yield from _with_inner(one)


def parts(whole: Fact) -> Iterator[Fact]:
    """Yield a fact and every fact within it."""
    yield whole
    for value in values_within(whole):
        if isinstance(value.amount, Fact):
            yield value.amount
