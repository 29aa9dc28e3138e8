"""Compare taped distances, as keyed, with what was measured."""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact, exact_text

_FOOT = Fraction("0.3048")
_UNITS = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1)),
    "mm": Fraction(1, 1000),
    "cm": Fraction(1, 100),
    "km": Fraction(1000),
    **dict.fromkeys(("ft", "feet", "foot", "'"), _FOOT),
    **dict.fromkeys(("in", "inch", "inches", '"', "''"), _FOOT / 12),
    **dict.fromkeys(("yd", "yard", "yards"), 3 * _FOOT),
    **dict.fromkeys(("mi", "mile", "miles"), 5280 * _FOOT),
    **dict.fromkeys(("nm", "nmi"), Fraction(1852)),
}
_TAPED = re.compile(
    r"(\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d*)?|[.,]\d+)\s*([a-z]+|'{1,2}|\"|)\s*"
)
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("′’‘", "'"),
        **dict.fromkeys("″”“", '"'),
        "\u00a0": " ",
        **{
            sign: f" {spelled}"
            for sign, spelled in zip(
                "½¼¾⅛⅜⅝⅞",
                ["1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8"],
                strict=True,
            )
        },
    }
)
_LONGEST_TEXT = 60
ONE_TARGET = ("FIN", "JDG", "HNH")


def taped_m(text: str, bare: str) -> Fraction | None:
    """Read a taped distance; None when this reader does not know the spelling."""
    if len(text) > _LONGEST_TEXT:
        return None
    total, at, rest = Fraction(0), 0, text.translate(_SIGNS).strip().casefold()
    units = [bare, "in"]
    while at < len(rest):
        match = _TAPED.match(rest, at)
        if match is None or not units:
            return None
        unit = _UNITS.get(match[2] or units[0])
        number = _number(match[1])
        if unit is None or number is None:
            return None
        total += number * unit
        units = units[1:]
        at = match.end()
    if not at:
        return None
    return total


def _number(text: str) -> Fraction | None:
    try:
        return sum(
            (exact_text(part.replace(",", ".")) for part in text.split()), Fraction(0)
        )
    except (ValueError, ZeroDivisionError):
        return None


def given(score: Mapping[str, Any]) -> bool:
    """Tell whether people gave a result in place of what was measured."""
    steps = (step for step in score["steps"] if isinstance(step, Mapping))
    return any(step["kind"] == "step-result-given" for step in steps)


def check_marks(
    task: Mapping[str, Any], marks: Sequence[Mapping[str, str]]
) -> Iterator[Difference]:
    """Compare the marks of tasks with one target, where a tape alone gives the result."""
    if task["kind"] not in ONE_TARGET:
        return
    keyed: dict[int, list[Mapping[str, str]]] = {}
    for row in marks:
        if row.get("task") == str(task["task"]) and not row.get("mark"):
            keyed.setdefault(int(row["pilot"]), []).append(row)
    for score in task["scores"]:
        rows = keyed.get(score["pilot"], [])
        if score["measured"] is None or not score["settled"] or not rows:
            continue
        if given(score):
            continue
        if any(mark["method"] == "adjusted" for mark in score["marks"]):
            continue  # several measurements together: none of them is the result
        settling = [row for row in rows if row.get("settles")]
        counts = task.get("rules", {}).get("counts", "less advantageous")
        metres = _counted(settling[-1:] or rows, counts)
        if len({row.get("distance") for row in settling}) > 1:
            continue  # one of them decided over another
        far = None if metres is None else abs(metres - exact(score["measured"]))
        if metres is not None and far is not None and far > Fraction(1, 10000):
            where = f"task {task['task']}, pilot {score['pilot']}, keyed distance"
            yield from differ(where, exact(score["measured"]), metres)


def _counted(rows: Sequence[Mapping[str, str]], counts: str) -> Fraction | None:
    """Return the distance that counts of entries that agree; the smallest is best.

    None where they are not all taped from the target, or in a spelling of their own.
    """
    if any(row.get("method") != "tape" or row.get("from") for row in rows):
        return None
    read = [taped_m(r["distance"], r.get("unit") or r.get("bare", "m")) for r in rows]
    known = [metres for metres in read if metres is not None]
    if len(known) < len(rows):
        return None
    if counts == "mean":
        return sum(known, Fraction(0)) / len(known)
    return max(known) if counts == "less advantageous" else min(known)
