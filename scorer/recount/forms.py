"""What may stand under each name of results.json: texts, numbers, times, known words."""

import re
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ

_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
CLOCK = re.compile(
    r"(\d{4}-\d\d-\d\d[T ]+)?T?\d\d?(:?[0-5]\d(:?[0-5]\d([.,]\d+)?)?)?"
    r"\s*(Z|[+-]\d\d:?\d\d|\(UTC[+-]\d\d:\d\d\))?(\s+(first|second))?\s*(\+[1-9])?"
)
"""Times as people write them."""
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_NUMBER = re.compile(r"-?\d+(\.\d+)?(/\d+)?")
_HASH = re.compile(r"[0-9a-f]{64}|")
_SKIPPED = frozenset({"fields", "statements", "digests", "entered", "values"})
"""Parts whose names are other people's, or that are looked at elsewhere."""


def _number(low: float, high: float, *, none: bool = True) -> Callable[[Any], bool]:
    def fits(value: Any) -> bool:
        if value is None:
            return none
        plain = isinstance(value, int | Fraction) and not isinstance(value, bool)
        return plain and low <= value <= high

    return fits


def _text(
    pattern: re.Pattern[str] | None = None, *, none: bool = False
) -> Callable[[Any], bool]:
    def fits(value: Any) -> bool:
        if value is None:
            return none
        return isinstance(value, str) and (
            pattern is None or bool(pattern.fullmatch(value))
        )

    return fits


def _one_of(*words: str | None) -> Callable[[Any], bool]:
    return lambda value: value in words


def _tree(value: Any) -> bool:
    return value is None or isinstance(value, Mapping)


def _truth(value: Any) -> bool:
    return isinstance(value, bool)


_TIMES = _text(_TIME, none=True)
_ANY = float("inf")
_FORMS: Mapping[str, Callable[[Any], bool]] = {
    **dict.fromkeys(("time", "from", "to"), _TIMES),
    **dict.fromkeys(("lat",), _number(-90, 90)),
    **dict.fromkeys(("lon",), _number(-180, 180)),
    **dict.fromkeys(("sigma", "sigma_m", "distance_m"), _number(0, _ANY)),
    **dict.fromkeys(("measured", "limit"), _number(-_ANY, _ANY)),
    "duration_s": _number(0, _ANY, none=False),
    **dict.fromkeys(("settled", "acceptable"), _truth),
    **dict.fromkeys(("by", "at", "reason", "why", "text", "title", "name"), _text()),
    **dict.fromkeys(("flight", "mark", "method", "id", "team", "rule_book"), _text()),
    "sha256": _text(_HASH),
    "date": _text(_DAY),
    "state": _one_of(
        "planned",
        "flown",
        "cancelled",
        "once",
        "agree",
        "differ",
        "settled",
        "reopened",
        None,
    ),
    "decides": _one_of("scoring", "director", "jury"),
    "closes": _one_of(
        "pilots",
        "places",
        "tasks",
        "rules",
        "marks",
        "compare",
        "reports",
        "logs",
        "infringements",
        "publish",
        "complaints",
        "journal",
    ),
    "caution": _text(re.compile(r".+")),
    "unit": _one_of(
        "",
        "m",
        "km",
        "s",
        "deg",
        "km2",
        "in",
        "task points",
        "event points",
        "metres",
        "no result",
        "disqualified",
    ),
    "best": _one_of("", "smallest", "greatest"),
    "measured_exact": _text(_NUMBER, none=True),
    "result_exact": _text(_NUMBER, none=True),
    "show_up": _number(0, _ANY, none=False),
    **dict.fromkeys(("figures", "accepted", "penalty"), _tree),
    "format": _one_of(1),  # type: ignore[arg-type]
}


_PLACED: Mapping[str, Callable[[Any], bool]] = {
    "rules ties": _one_of("shared-rank", "mean"),
    "rules parted_by": _one_of("nothing", "earlier-drop"),
    "rules no_result": _one_of("share", "zero", "next-place", "last-place"),
    "rules counts": _one_of("less advantageous", "more advantageous", "mean"),
    "standings_rules ties": _one_of(
        "shared-rank", "best-scores", "most-wins", "last-task"
    ),
    "standings_rules team_size": _number(1, _ANY),
    "standings_rules best_of": _number(1, _ANY),
    "standings_by measure": _one_of("points", "result"),
}
"""What may stand under a name in one part alone."""


def check_forms(part: Any, where: str = "") -> Iterator[Difference]:
    """Yield what is no value of its name."""
    if isinstance(part, Mapping):
        for name, value in part.items():
            own = f"{where} {name}".lstrip()
            if name in _SKIPPED or (isinstance(value, Mapping) and "kind" in value):
                continue
            fits = _PLACED.get(" ".join(own.split()[-2:])) or _FORMS.get(name)
            if fits is not None and not isinstance(value, Mapping) and not fits(value):
                yield from differ(own, value, f"what may stand under {name}")
            yield from check_forms(value, own)
    elif isinstance(part, list) and not where.endswith(("steps", "kinds")):
        for number, value in enumerate(part, start=1):
            yield from check_forms(value, f"{where} {number}")
