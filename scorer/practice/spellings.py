"""How different people write one measured distance."""

from collections.abc import Callable
from fractions import Fraction

from scorer.rounding import half_up
from scorer.units import FOOT_M, INCH_M

Spelling = Callable[[Fraction], tuple[str, str]]
"""Takes metres; returns what stands in the columns `distance` and `unit`."""

_VULGAR = {1: "¼", 2: "½", 3: "¾"}


def on_tape(metres: float, units: str) -> Fraction:
    """Read a tape: to the centimetre, or to the quarter of an inch; exact metres."""
    if units == "imperial":
        quarter = INCH_M / 4
        return quarter * int(half_up(Fraction(metres) / quarter))
    return Fraction(half_up(metres, 2))


def spellings(units: str) -> tuple[Spelling, ...]:
    """Return the ways in which people at such an event write a distance."""
    return (*_IMPERIAL, *_MIXED) if units == "imperial" else (*_METRIC, *_MIXED)


def _feet(metres: Fraction) -> tuple[int, Fraction]:
    inches = Fraction(metres) / INCH_M
    return int(inches // 12), inches % 12


def _quarters(metres: Fraction) -> tuple[int, int, int]:
    """Whole feet, whole inches, quarters of an inch."""
    feet, inches = _feet(INCH_M / 4 * int(half_up(metres / (INCH_M / 4))))
    return feet, int(inches), int((inches % 1) * 4)


def _fraction(quarters: int) -> str:
    return {0: "", 1: " 1/4", 2: " 1/2", 3: " 3/4"}[quarters]


def _decimal_inches(quarters: int) -> str:
    return {0: "", 1: ".25", 2: ".5", 3: ".75"}[quarters]


def _feet_words(metres: Fraction) -> tuple[str, str]:
    feet, inches, quarters = _quarters(metres)
    return f"{feet} ft {inches}{_decimal_inches(quarters)} in", ""


def _feet_signs(metres: Fraction) -> tuple[str, str]:
    feet, inches, quarters = _quarters(metres)
    return f"{feet}' {inches}{_fraction(quarters)}\"", ""


def _feet_primes(metres: Fraction) -> tuple[str, str]:
    feet, inches, quarters = _quarters(metres)
    return f"{feet}′ {inches}{_VULGAR.get(quarters, '')}″", ""


def _feet_long(metres: Fraction) -> tuple[str, str]:
    feet, inches, quarters = _quarters(metres)
    noun = "foot" if feet == 1 else "feet"
    return f"{feet} {noun} {inches}{_fraction(quarters)} inches", ""


def _bare_feet(metres: Fraction) -> tuple[str, str]:
    return str(half_up(metres / FOOT_M, 2)), ""


def _feet_column(metres: Fraction) -> tuple[str, str]:
    return str(half_up(metres / FOOT_M, 2)), "ft"


def _bare_metres(metres: Fraction) -> tuple[str, str]:
    return str(half_up(metres, 2)), ""


def _metres(metres: Fraction) -> tuple[str, str]:
    return f"{half_up(metres, 2)} m", ""


def _metres_tight(metres: Fraction) -> tuple[str, str]:
    return f"{half_up(metres, 2)}m", ""


def _metres_comma(metres: Fraction) -> tuple[str, str]:
    return f"{half_up(metres, 2)} m".replace(".", ","), ""


def _metres_column(metres: Fraction) -> tuple[str, str]:
    return str(half_up(metres, 2)), "m"


def _centimetres(metres: Fraction) -> tuple[str, str]:
    return f"{half_up(metres * 100)} cm", ""


_IMPERIAL: tuple[Spelling, ...] = (
    _feet_words,
    _feet_signs,
    _bare_feet,
    _feet_primes,
    _feet_column,
    _feet_long,
)
_METRIC: tuple[Spelling, ...] = (
    _bare_metres,
    _metres,
    _metres_comma,
    _centimetres,
    _metres_tight,
    _bare_metres,
)
_MIXED: tuple[Spelling, ...] = (_metres, _metres_column, _feet_words)
