"""Say facts to people: in plain words, in the event's own units, time zone and language."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any, cast

from babel.numbers import format_decimal
from fluent.runtime.types import fluent_number

from scorer.errors import ended_once
from scorer.event.matter import SAFETY, Matter
from scorer.event.model import Event, Units
from scorer.event.moments import at
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact, Measure, Value, fact, parts, words
from scorer.rounding import Rounded, half_up
from scorer.units import FOOT_M, feet_and_inches, in_unit, length_decimals
from scorer.words.catalogue import ENGLISH, has, message, opening

MINUS = "−"


def message_for(purpose: str, matter: Matter) -> str | None:
    """Return the message that says something of a matter: of the nearest that has one.

    `closes-…` says what closes it, `command-…` the command that does; what is so with the
    matter may have its own, else its kind, else where it is closed.  One that is closed
    elsewhere than its kind may have one of `KIND-at-PLACE`.
    """
    kind, where = matter.kind.name, matter.closes
    own = kind if where is matter.kind.closes else f"{kind}-at-{where}"
    said = (matter.says.kind, *(one.says.kind for one in matter.members))
    names = (f"{purpose}-{one}" for one in (*dict.fromkeys(said), own, where))
    return next((name for name in names if has(name)), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Voice:
    """How one event speaks: every sentence and number that people read comes from here."""

    units: Units = Units.METRIC
    time_zone: str = "UTC"
    """IANA name; moments are said in it."""
    language: str = ENGLISH
    pilots: Mapping[int, str] = field(default_factory=dict)
    """Names by competition number."""
    days: frozenset[date] = frozenset()
    """Local dates of the flights: moments of other days are said with theirs."""
    dated: bool = False
    """Every moment is said with its date."""

    @classmethod
    def of(cls, event: Event, language: str = ENGLISH) -> "Voice":
        """Return the voice of an event."""
        return cls(
            units=event.units,
            time_zone=event.time_zone,
            language=language,
            pilots={pilot.number: pilot.name for pilot in event.pilots},
            days=frozenset(flight.date for flight in event.flights),
        )

    def say(self, stated: Fact) -> str:
        """Return the sentence of a fact; moments of several days each with its date."""
        told = {at(s, self.time_zone).day for s in _moments_of(stated)}
        voice = replace(self, dated=True) if len(told) > 1 else self
        return _said(voice, stated)

    def sentence(self, stated: Fact) -> str:
        """Say a fact as a sentence: with a capital, unless a name stands first."""
        said = self.say(stated)
        return said if self._named_first(stated) else f"{said[:1].upper()}{said[1:]}"

    def _named_first(self, stated: Fact) -> bool:
        """Tell whether a fact begins with a name, which keeps its letters."""
        first = opening(stated.kind, self.language)
        value = next((v for name, v in stated.values if name == first), None)
        while value is not None and isinstance(value.amount, tuple) and value.amount:
            value = value.amount[0]
        if value is not None and isinstance(value.amount, Fact):
            return self._named_first(value.amount)
        return value is not None and value.measure in _NAMES

    def word(self, name: str) -> str:
        """Return a title or word of the catalogue that takes no values."""
        return message(name, {}, self.language)

    def finding(self, kind: str) -> str:
        """Return the title of a kind of finding, by its published name."""
        return self.word(f"finding-{kind}")

    def term(self, name: str) -> str:
        """Return a word of the trade."""
        return self.word("term-" + name.replace(" ", "-").replace("_", "-"))

    def value(self, value: Value) -> str:
        """Return a value as people read it."""
        said = self.amount(value)
        if isinstance(said, str):
            return said
        told = self.figure if value.measure is Measure.POINTS else self.number
        return told(said)

    def amount(self, value: Value) -> str | int:
        """Return a value as the catalogue takes it: counts stay numbers, for plurals.

        Points are written as tables have them, their thousands together.
        """
        if value.measure in {Measure.COUNT, Measure.POINTS} and _whole(value.amount):
            whole = int(cast("int", value.amount))
            return whole if value.measure is Measure.COUNT else _ungrouped(whole)
        return _SAYERS[value.measure](self, value.amount)

    def number(self, amount: Any, decimals: int | None = None) -> str:
        """Print a number by the language's conventions, half up to so many decimals."""
        plain = _plain(amount) if decimals is None else half_up(amount, decimals)
        return _printed(str(plain), self.language)

    def figure(self, amount: float) -> str:
        """Print a number whose thousands stand together: `1018.5`."""
        return _figure(float(amount), self.language)

    def position(self, lat_deg: float, lon_deg: float) -> str:
        """Print where on the globe: `40.12345° N, 3.45678° W`."""
        both = {"lat": lat_deg, "lon": lon_deg}
        return ", ".join(self.coordinate(name, at, 5) for name, at in both.items())

    def coordinate(self, name: str, amount: Any, decimals: int = 6) -> str:
        """Print one axis of a point, `lat`, `lon`, `east` or `north`, as all texts do.

        Of the globe in degrees with its side, of the grid in metres, thousands together;
        `E` and `N` behind those stand in the sentence.
        """
        if name not in SIDES:
            return self.figure(amount)
        side = self.word(SIDES[name][amount < 0])
        return f"{self.number(abs(amount), decimals)}° {side}"

    def result(self, amount: Any, measure: Measure, decimals: int = 2) -> str:
        """Print a result, or what adds up of results, in its measure."""
        if measure is Measure.LENGTH:
            return self.length(amount, decimals)
        if measure is Measure.RACE:
            unit = "mi" if self.units is Units.IMPERIAL else "km"
            return f"{self.number(in_unit(amount, unit), 3)} {unit}"
        if measure is Measure.TAKEN:
            return self.time_taken(amount, decimals)
        space = "" if measure is Measure.ANGLE else " "
        return f"{self.number(amount, decimals)}{space}{_SIGNS[measure]}"

    def length(self, metres: Any, decimals: int = 2) -> str:
        """Print a length as results carry it: `12.34 m` or `40 ft 5.8 in`.

        What is known exactly is printed so: `1.155 m`, `9 ft 1.25 in`.  With no decimals
        asked for, feet are whole too: `151 ft`.
        """
        if self.units is not Units.IMPERIAL:
            return f"{self.number(metres, length_decimals(metres, decimals))} m"
        if decimals <= 0:
            return f"{self.number(in_unit(metres, 'ft'), 0)} ft"
        feet, left = feet_and_inches(metres)
        sign = MINUS if metres < 0 and (feet or left) else ""
        inches = f"{self.number(left, -int(left.as_tuple().exponent))} in"
        return f"{sign}{self.number(feet)} ft {inches}" if feet else f"{sign}{inches}"

    def exact(self, metres: float) -> str:
        """Print a small difference in all its digits: `0.012 m`, `0.47 in`."""
        if self.units is Units.IMPERIAL:
            if abs(metres) < FOOT_M:
                return f"{self.number(half_up(in_unit(metres, 'in'), 3))} in"
            return self.length(metres)
        return f"{self.number(metres)} m"

    def height(self, metres: float) -> str:
        """Print a height: `20.4 m` or `67 ft`."""
        if self.units is Units.IMPERIAL:
            return f"{self.number(in_unit(metres, 'ft'), 0)} ft"
        return f"{self.number(metres, 1)} m"

    def distance(self, metres: float) -> str:
        """Print a long way: `412 m`, `5.24 km`, `1,350 ft`, `3.26 miles`."""
        if self.units is Units.IMPERIAL:
            if abs(metres) < 1609.344:
                return f"{self.number(in_unit(metres, 'ft'), 0)} ft"
            return f"{self.number(in_unit(metres, 'mi'), 2)} mi"
        if abs(metres) < 1000:
            return f"{self.number(metres, 0)} m"
        return f"{self.number(in_unit(metres, 'km'), 2)} km"

    def speed(self, m_s: float) -> str:
        """Print a speed: `2.4 m/s` or `7.9 ft/s`."""
        if self.units is Units.IMPERIAL:
            return f"{self.number(in_unit(m_s, 'ft'), 1)} ft/s"
        return f"{self.number(m_s, 1)} m/s"

    def span(self, seconds: float) -> str:
        """Print a duration by its two greatest parts: `31 s`, `2 min 5 s`, `9 h`."""
        sign = MINUS if seconds < 0 else ""
        left = int(half_up(abs(seconds)))
        told: list[str] = []
        for size, unit in ((86400, "d"), (3600, "h"), (60, "min"), (1, "s")):
            amount, left = divmod(left, size)
            if amount and len(told) < 2:
                told.append(f"{amount} {unit}")
            elif told and len(told) < 2:
                break
        return sign + (" ".join(told) or "0 s")

    def time_taken(self, seconds: Any, decimals: int = 0) -> str:
        """Print the time taken in a race: `58 s`, `1 h 10 min 5 s`, `2 min 5.40 s`."""
        total = half_up(seconds, decimals)
        whole, left = divmod(abs(total), 60)
        hours, minutes = divmod(int(whole), 60)
        parts = [f"{hours} h"] if hours else []
        parts += [f"{minutes} min"] if minutes or (hours and left) else []
        parts += [f"{self.number(left, decimals)} s"] if left or not parts else []
        return (MINUS if total < 0 else "") + " ".join(parts)

    def moment(self, time_s: float) -> str:
        """Print a moment by the event's clocks; with its date where that is another.

        On a day on which the clocks change, with its offset: `02:30:00 (UTC+02:00)`.
        """
        told = at(time_s, self.time_zone)
        if not self.dated and (not self.days or told.day in self.days):
            return told.clock()
        return f"{self._day(told.day.isoformat())} {told.clock()}"

    def chance(self, probability: float) -> str:
        """Print a probability: whole percent, never 0 or 100 of what is not sure."""
        if probability >= 0.995:
            return self.word("over-99-percent")
        if probability < 0.005:
            return self.word("under-1-percent")
        return f"{self.number(100 * probability, 0)} %"

    def pilot(self, number: int) -> str:
        """Print a pilot: number and name."""
        return f"{number} {self.pilots.get(number, '')}".strip()

    def rule(self, key: str) -> str:
        """Print the title of a rule."""
        name = f"rule-{key.replace('.', '-').replace('_', '-')}"
        return self.word(name) if has(name) else key

    def book(self, book: RuleBook) -> str:
        """Print a rule book's title, translated if it is ours; its name if it has none."""
        own, name = book.title or book.name, f"book-{book.name}"
        ours = has(name) and message(name, {}) == own
        return self.word(name) if ours else own

    def title(self, kind: str) -> str:
        """Print what a kind of matter is called; its name where nobody gave a title."""
        name = f"matter-{kind}"
        title = self.word(name) if has(name) else kind.replace("-", " ")
        return f"{title[:1].upper()}{title[1:]}"

    def closing(self, matter: Matter) -> str:
        """Print what closes a matter, and whether it can be accepted as it stands."""
        how = words(self._way(matter))
        if matter.kind.name == SAFETY:
            return self.say(fact("closes-or-acknowledge", how=how))
        if matter.kind.acceptable and matter.holds_up:
            return self.say(fact("closes-or-accept", how=how))
        return self.say(fact("closes-only", how=how))

    def _way(self, matter: Matter) -> str:
        """Print where a matter is closed, and with what."""
        page = words(self.word(f"page-{matter.closes}"))
        message_name = message_for("closes", matter)
        return "" if message_name is None else self.say(fact(message_name, page=page))

    def _day(self, iso: str) -> str:
        from babel.dates import format_date  # noqa: PLC0415 - most texts name no day

        pattern = self.word("day-pattern")
        return str(format_date(date.fromisoformat(iso), pattern, locale=self.language))

    def _listed(self, values: tuple[Value, ...]) -> str:
        return ", ".join(self.value(value) for value in values)

    def _several(self, values: tuple[Value, ...]) -> str:
        said = [self.value(value) for value in values]
        if len(said) < 2:
            return "".join(said)
        return message(
            "list-end",
            {"before": ", ".join(said[:-1]), "last": said[-1]},
            self.language,
        )


@lru_cache(maxsize=4096)
def _figure(amount: float, language: str) -> str:
    """Print a number of a scale or a setting: the same ones return on every drawing."""
    text = format_decimal(amount, format="0.####", locale=language)
    return str(text).replace("-", MINUS)


@lru_cache(maxsize=4096)
def _ungrouped(amount: int) -> int:
    return cast("int", fluent_number(amount, useGrouping=False))


@lru_cache(maxsize=65536)
def _printed(digits: str, language: str) -> str:
    """Print a number with all its digits; places and points return on every sheet."""
    plain = Decimal(digits)
    places = "0" * max(0, -int(plain.as_tuple().exponent))
    pattern = f"#,##0.{places}" if places else "#,##0"
    text = format_decimal(plain, format=pattern, locale=language)
    return str(text).replace("-", MINUS)


def _plain(amount: Any) -> Any:
    """Return a number in as many decimals as it has, four at most."""
    rounded = half_up(amount, 4).normalize()
    return half_up(rounded, max(0, -int(rounded.as_tuple().exponent)))


def _decimals(amount: Any) -> int:
    """Return how many decimals a number has, two at most."""
    return max(0, -int(half_up(amount, 2).normalize().as_tuple().exponent))


def _places(amount: Any, usual: int) -> int:
    """Return with how many decimals a result is said: those it was rounded to."""
    return amount.decimals if isinstance(amount, Rounded) else usual


def _said(voice: Voice, stated: Fact) -> str:
    values = {
        name: voice.coordinate(name, value.amount)
        if (name, value.measure) in _AXES
        else voice.amount(value)
        for name, value in stated.values
    }
    return ended_once(message(stated.kind, values, voice.language))


SIDES = {
    "lat": ("compass-north", "compass-south"),
    "lon": ("compass-east", "compass-west"),
}
"""Words of the side of zero on which a coordinate lies."""
_AXES = frozenset(
    {
        ("lat", Measure.POSITION),
        ("lon", Measure.POSITION),
        ("east", Measure.NUMBER),
        ("north", Measure.NUMBER),
    }
)


def _moments_of(stated: Fact) -> list[float]:
    """Return the moments that a fact names, itself and within."""
    values = [value for part in parts(stated) for _, value in part.values]
    found = []
    for value in values:
        many = value.amount if isinstance(value.amount, tuple) else (value,)
        found += [float(cast("float", v.amount)) for v in many if v.measure is _MOMENT]
    return found


_MOMENT = Measure.MOMENT


def _whole(amount: object) -> bool:
    return isinstance(amount, int | float | Fraction) and amount == int(amount)


_NAMES = frozenset({Measure.WORDS, Measure.LOG, Measure.PLACE})
_SIGNS = {Measure.ANGLE: "°", Measure.AREA: "km²"}

Sayer = Callable[[Voice, Any], str]
_SAYERS: Mapping[Measure, Sayer] = {
    Measure.LENGTH: lambda voice, v: voice.length(v, _places(v, 2)),
    Measure.EXACT: Voice.exact,
    Measure.HEIGHT: Voice.height,
    Measure.DISTANCE: Voice.distance,
    Measure.POSITION: lambda voice, v: f"{voice.number(v, 6)}°",
    Measure.RACE: lambda voice, v: voice.result(v, Measure.RACE),
    Measure.AREA: lambda voice, v: voice.result(v, Measure.AREA, _places(v, 4)),
    Measure.TAKEN: lambda voice, v: voice.time_taken(v, _places(v, _decimals(v))),
    Measure.ANGLE: lambda voice, v: voice.result(v, Measure.ANGLE, _places(v, 2)),
    Measure.BEARING: lambda _, v: f"{int(half_up(v)) % 360:03d}°",
    Measure.SPAN: Voice.span,
    Measure.MOMENT: Voice.moment,
    Measure.DAY: Voice._day,  # noqa: SLF001 - of this module
    Measure.CHANCE: Voice.chance,
    Measure.SPEED: Voice.speed,
    Measure.PRESSURE: lambda voice, v: f"{voice.number(v, 1)} hPa",
    Measure.TEMPERATURE: lambda voice, v: f"{voice.number(v, 1)} °C",
    Measure.POINTS: lambda voice, v: voice.figure(v),
    Measure.NUMBER: lambda voice, v: voice.number(v),
    Measure.UNITS: lambda voice, v: voice.number(half_up(v, 2)),
    Measure.TASK: lambda _, v: str(v),
    Measure.PILOT: Voice.pilot,
    Measure.FLIGHT: lambda _, v: str(v),
    Measure.PLACE: lambda _, v: str(v),
    Measure.LOG: lambda _, v: str(v).rpartition("/")[2],
    Measure.WORDS: lambda _, v: str(v),
    Measure.TERM: Voice.term,
    Measure.RULE: Voice.rule,
    Measure.FACT: _said,
    Measure.LISTED: Voice._listed,  # noqa: SLF001 - of this module
    Measure.SEVERAL: Voice._several,  # noqa: SLF001 - of this module
}
