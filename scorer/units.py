"""Lengths, durations, speeds and bearings: read what people write, print what they read.

Inside everything is SI.  Reading is exact (`Fraction`) until the very last step, so that
`40 ft 3 1/2 in` and `40.291666… ft` cannot differ by a rounding of ours.

Sources: the international foot is 0.3048 m and the statute mile 5280 ft exactly
(international yard and pound agreement, 1959); the nautical mile is 1852 m
(International Hydrographic Conference, 1929); the knot is one of them in an hour.
"""

import re
from decimal import Decimal
from fractions import Fraction

from scorer.errors import ScorerError, ended_once
from scorer.facts import Fact, fact, words
from scorer.rounding import Exact, digits, exact, half_up

FOOT_M = Fraction(3048, 10000)
INCH_M = FOOT_M / 12
EARTH_M = 6_371_000.0
"""Mean radius of the Earth (IUGG: 6,371,008.8 m), where a sphere is near enough."""
DEGREE_M = 111_195.0
"""One degree of a great circle on that sphere: fit for a strip or a small map."""

_LENGTHS_M: dict[str, Fraction] = {
    "m": Fraction(1),
    "km": Fraction(1000),
    "cm": Fraction(1, 100),
    "mm": Fraction(1, 1000),
    "ft": FOOT_M,
    "in": INCH_M,
    "yd": 3 * FOOT_M,
    "mi": 5280 * FOOT_M,
    "nm": Fraction(1852),
}
_LENGTH_WORDS = {
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "feet": "ft",
    "foot": "ft",
    "'": "ft",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "''": "in",
    "mile": "mi",
    "miles": "mi",
    "yard": "yd",
    "yards": "yd",
    "nmi": "nm",
}
_DURATIONS_S = {
    "s": 1,
    "sec": 1,
    "second": 1,
    "seconds": 1,
    "min": 60,
    "minute": 60,
    "minutes": 60,
    "h": 3600,
    "hour": 3600,
    "hours": 3600,
}
_SPEEDS_M_S = {
    "m/s": Fraction(1),
    "km/h": Fraction(1000, 3600),
    "kt": Fraction(1852, 3600),
    "ft/min": FOOT_M / 60,
    "mph": 5280 * FOOT_M / 3600,
}
_SIGNS = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "\u00a0": " "}
)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8"}
_VULGAR["⅞"] = "7/8"

_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d*)?|[.,]\d+)"
_PIECE = re.compile(rf"\s*({_NUMBER})\s*('{{1,2}}|\"|[a-zA-Z][a-zA-Z/]*)?\s*")

LENGTHS_ALLOWED = (
    "a length such as 12.34, 12.34 m, 40 ft 3.5 in or 40' 3 1/2\"; not negative"
)
_LONGEST_TEXT = 60
_MOST_DECIMALS = 4
"""Of a keyed length: of metres or inches.  More are rounded as results are."""
_GREATEST = 1_000_000_000
"""No number that people write for a length, a time or a coordinate is greater."""


def with_unit(text: str, unit: str) -> str:
    """Return a quantity with a unit behind it where it stands without one."""
    return f"{text} {unit}" if re.fullmatch(r"[\d.,\s/]+", text) else text


class Unreadable(ScorerError):
    """A text that is not the kind of quantity asked for."""

    def __init__(self, found: str, allowed: str, remedy: str = "") -> None:
        shown = found if len(found) <= _LONGEST_TEXT else f"{found[:_LONGEST_TEXT]}…"
        told = f'found "{shown}"; allowed: {allowed}'
        super().__init__(ended_once(f"{told}. {remedy}") if remedy else told)
        self.found = shown
        self.allowed = allowed
        self.remedy = remedy

    @property
    def says(self) -> Fact:
        """State it, to be told in a step or a matter."""
        allowed = f"{self.allowed}. {self.remedy}" if self.remedy else self.allowed
        return fact("unreadable", found=words(self.found), allowed=words(allowed))

    def __reduce__(self) -> tuple[type["Unreadable"], tuple[str, str, str]]:
        return Unreadable, (self.found, self.allowed, self.remedy)


def length_m(text: str, bare: str | None = None) -> Exact:
    """Read a length; `bare` is the unit of a number without one (None: must be given).

    It is exactly what was written: 9 ft 1 1/4 in is 2.77495 m, not a float near it.

    Accepts metres, kilometres, centimetres, millimetres, feet, inches, feet with inches,
    yards, statute and nautical miles; decimals with a point or a comma; fractions.
    Two numbers without units are feet and inches where bare numbers count feet.
    A comma before exactly three digits is refused: it could part thousands.
    """
    pieces = _pieces(text, LENGTHS_ALLOWED)
    if len(pieces) == 1:
        number, unit = pieces[0]
        return Exact(number * _LENGTHS_M[_length_unit(unit or bare, text)])
    return Exact(_feet_and_inches(pieces, text, bare))


def _feet_and_inches(
    pieces: list[tuple[Fraction, str]], text: str, bare: str | None
) -> Fraction:
    if len(pieces) != 2:
        raise Unreadable(text, LENGTHS_ALLOWED)
    (feet, feet_unit), (inches, inch_unit) = pieces
    if not feet_unit and not inch_unit and bare == "ft":
        feet_unit = "ft"  # 38 4.5 where bare numbers count feet
    units = (_length_unit(feet_unit, text), _length_unit(inch_unit or "in", text))
    if units != ("ft", "in") or feet.denominator != 1 or inches >= 12:
        raise Unreadable(text, "whole feet, then inches under 12, as in 40 ft 3.5 in")
    return feet * FOOT_M + inches * INCH_M


def _length_unit(unit: str | None, text: str) -> str:
    if not unit:
        raise Unreadable(text, f"{LENGTHS_ALLOWED}; here the unit must be written")
    name = unit.casefold()
    name = _LENGTH_WORDS.get(name, name)
    if name not in _LENGTHS_M:
        raise Unreadable(text, f"{LENGTHS_ALLOWED}; units: {', '.join(_LENGTHS_M)}")
    return name


def _pieces(text: str, allowed: str) -> list[tuple[Fraction, str]]:
    plain = text[: _LONGEST_TEXT + 1].translate(_SIGNS).strip()
    for sign, spelled in _VULGAR.items():
        plain = plain.replace(sign, f" {spelled}")
    plain = plain.strip()
    pieces, at = [], 0
    while at < len(plain):
        match = _PIECE.match(plain, at)
        if match is None or len(text) > _LONGEST_TEXT:
            raise Unreadable(text, allowed)
        pieces.append((_number(match[1], text, allowed), match[2] or ""))
        at = match.end()
    if not pieces:
        raise Unreadable(text, allowed)
    return pieces


def _number(digits: str, text: str, allowed: str) -> Fraction:
    if re.fullmatch(r"\d+,\d{3}", digits):
        raise Unreadable(text, "a decimal point, since a comma could part thousands")
    try:
        value = sum(
            (Fraction(part.replace(",", ".")) for part in digits.split()), Fraction(0)
        )
    except (ValueError, ZeroDivisionError):
        raise Unreadable(text, allowed) from None
    if value > _GREATEST:
        raise Unreadable(text, f"{allowed}; at most {_GREATEST:,}")
    return value


def duration_s(text: str) -> float:
    """Read a duration such as `3 s`, `10 min`, `2 h` or `1 h 30 min`."""
    allowed = "a duration with its unit, such as 3 s, 10 min or 1 h 30 min"
    total = Fraction(0)
    for number, unit in _pieces(text, allowed):
        if unit.casefold() not in _DURATIONS_S:
            raise Unreadable(text, allowed)
        total += number * _DURATIONS_S[unit.casefold()]
    return float(total)


def speed_m_s(text: str) -> float:
    """Read a speed with its unit: m/s, km/h, kt, ft/min, mph."""
    allowed = f"a speed with its unit: {', '.join(_SPEEDS_M_S)}"
    pieces = _pieces(text, allowed)
    if len(pieces) != 1 or pieces[0][1].casefold() not in _SPEEDS_M_S:
        raise Unreadable(text, allowed)
    return float(pieces[0][0] * _SPEEDS_M_S[pieces[0][1].casefold()])


def number(text: str) -> float:
    """Read a plain finite number, decimal point or comma, sign allowed."""
    plain = text.strip().replace("−", "-")
    short = plain if len(plain) <= _LONGEST_TEXT else ""
    if not re.fullmatch(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)", short, re.ASCII):
        raise Unreadable(text, "a plain number such as 12, 12.5 or -3.25")
    value = float(plain.replace(",", "."))
    if abs(value) > _GREATEST:
        raise Unreadable(text, f"a number of at most {_GREATEST:,}")
    return value


def bearing(text: str) -> tuple[float, str]:
    """Read a bearing: degrees 0 to 360 and the north it counts from.

    Returns the degrees and `""` (grid), `"T"` (true) or `"M"` (magnetic).
    """
    match = re.fullmatch(
        r"\s*(\d{1,3}(?:[.,]\d+)?)\s*°?\s*([tTmM]?)\s*", text[:_LONGEST_TEXT]
    )
    degrees = float(match[1].replace(",", ".")) if match else 361.0
    if match is None or degrees > 360:
        raise Unreadable(text, "degrees from 0 to 360, with T (true) or M (magnetic)")
    return degrees % 360, match[2].upper()


def show_length(metres: float | Fraction, units: str, decimals: int = 2) -> str:
    """Print a length as people at the event read it: `12.34 m` or `40 ft 5.8 in`.

    What is known exactly is printed so: `1.155 m`, `9 ft 1.25 in`.  With no decimals
    asked for, feet are whole too: `151 ft`.
    """
    if units != "imperial":
        return f"{half_up(metres, length_decimals(metres, decimals))} m"
    if decimals <= 0:
        return f"{half_up(exact(metres) / FOOT_M)} ft"
    feet, inches = feet_and_inches(metres)
    sign = "−" if metres < 0 and (feet or inches) else ""
    return f"{sign}{feet} ft {inches} in"


def length_decimals(metres: float | Fraction, least: int) -> int:
    """Return with how many decimals a length in metres is printed: as keyed, 4 at most."""
    if least <= 0 or not isinstance(metres, Exact | Fraction):
        return least
    return max(least, digits(exact(metres), _MOST_DECIMALS) or 0)


def feet_and_inches(metres: float | Fraction) -> tuple[int, Decimal]:
    """Part the size of a length: whole feet, and inches with one to four decimals.

    Inches are exact where they have no more than four decimals, else rounded to tenths.
    """
    inches = abs(exact(metres)) / INCH_M
    places = max(1, digits(inches, _MOST_DECIMALS) or 0)
    feet, left = divmod(half_up(inches, places), 12)
    return int(feet), left


def in_unit(metres: float | Fraction, unit: str) -> Fraction:
    """Return a length in another unit of length, exactly."""
    return exact(metres) / _LENGTHS_M[_length_unit(unit, unit)]


_ANGLE = re.compile(
    r"""\s*([NSEW]?)\s*([+-]?\d{1,3}(?:[.,]\d+)?)\s*[°\s]?\s*
    (?:(\d{1,2}(?:[.,]\d+)?)\s*['\s]?\s*)?(?:(\d{1,2}(?:[.,]\d+)?)\s*(?:"|'')?\s*)?
    ([NSEW]?)\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_AXES = {"latitude": ("N", "S", 90.0), "longitude": ("E", "W", 180.0)}


def angle_deg(text: str, axis: str) -> float:
    """Read a `latitude` or `longitude`: decimal degrees, or degrees, minutes, seconds.

    North and east are positive; a hemisphere letter may stand before or behind.
    """
    plus, minus, most = _AXES[axis]
    allowed = f"a {axis} of at most {most:g}°, such as 40.1234 or 40 12 34.5 {plus}"
    match = _ANGLE.fullmatch(text[:_LONGEST_TEXT].translate(_SIGNS).replace("−", "-"))
    if match is None:
        raise Unreadable(text, allowed)
    before, *parts, after = match.groups()
    letter = (before or after).upper()
    degrees, minutes, seconds = (float((p or "0").replace(",", ".")) for p in parts)
    signed = match[2].startswith(("-", "+"))
    if (
        (before and after)
        or letter not in {"", plus, minus}
        or (letter and signed)
        or minutes >= 60
        or seconds >= 60
    ):
        raise Unreadable(text, allowed)
    size = abs(degrees) + minutes / 60 + seconds / 3600
    if size > most:
        raise Unreadable(text, allowed)
    return -size if letter == minus or match[2].startswith("-") else size
