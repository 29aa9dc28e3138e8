"""Work out again what parts equal results: the first drop of each, from its marks."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact

_NO_DROPS = ("LAUNCH", "LANDING")


def check_parted(
    where: str, scores: Sequence[Mapping[str, Any]], rules: Mapping[str, Any]
) -> Iterator[Difference]:
    """Compare what parts equal results of a field with what their marks say."""
    with_result = [s for s in scores if s["group"] == "A"]
    values = {score["pilot"]: exact(score["result"]) for score in with_result}
    again = parted(with_result, values, rules)
    for score in with_result:
        own, shown = score["pilot"], score.get("parted", 0)
        yield from differ(f"{where}, pilot {own}, first drop", shown, again[own])


def parted(
    scores: Sequence[Mapping[str, Any]],
    values: Mapping[int, Fraction],
    rules: Mapping[str, Any],
) -> dict[int, int]:
    """Return the second of each first drop; 0 where nothing parts a result from others."""
    found = dict.fromkeys(values, 0)
    if rules.get("parted_by", "nothing") == "nothing":
        return found
    drops = {score["pilot"]: _first(score["marks"]) for score in scores}
    for pilot, value in values.items():
        equal = [drops[other] for other, own in values.items() if own == value]
        if len(equal) > 1 and all(equal):
            found[pilot] = drops[pilot]
    return found


def _first(marks: Sequence[Mapping[str, Any]]) -> int:
    times = [
        int(datetime.fromisoformat(mark["time"]).timestamp())
        for mark in marks
        if mark["time"] is not None and mark["mark"] not in _NO_DROPS
    ]
    return min(times, default=0)
