"""Compare the numbers that the steps of a score say with the score itself."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact

_MEASURED = Fraction(1, 10**4)
"""Steps keep all figures; the score has four decimals, its result as many as it is
rounded to."""
_SCORE = {
    "step-result": {"measured_m": "measured", "result_m": "result"},
    "points-by-result": {"result_m": "result", "points": "formula_points"},
    "points-by-rank": {"points": "formula_points"},
    "points-shared": {"points": "formula_points"},
    "points-best": {"points": "formula_points"},
    "step-score": {"score_points": "score"},
    "step-score-less": {
        "points": "formula_points",
        "penalty_points": "task_penalty",
        "score_points": "score",
    },
}
"""What a step of each kind says of its score, by key."""
_FORMULA = {
    "best_m": "W",
    "at_median_m": "RM",
    "median_points": "SM",
    "median_number": "M",
    "entered_number": "P",
    "scorers_number": "A",
}
"""What steps say of the formula."""
_ENTERED = ("step-entered", "step-entries-agree", "step-entries-settled")
_DECIDED = ("score", "average", "bonus", "result")
"""Rulings by which people set a score."""
_WHOLE = ("step-score", "step-score-less")


def check_steps(
    where: str, score: Mapping[str, Any], formula: Mapping[str, Any], step_m: Fraction
) -> Iterator[Difference]:
    """Yield what a pilot would read otherwise than it was counted.

    `step_m` is what results are multiples of.
    """
    steps = score["steps"]
    decided = any(charge["ruling"] in _DECIDED for charge in score["charges"])
    slack = {"measured": _MEASURED, **dict.fromkeys(("result", "W", "RM"), step_m)}
    for number, step in enumerate(steps, start=1):
        label = f"{where}, step {number}"
        before = decided and step["kind"] in _WHOLE  # the score came after that sum
        for key, of in _SCORE.get(step["kind"], {}).items():
            if key in step and not before:
                yield from _same(f"{label}, {of}", step[key], score[of], slack.get(of))
        for key, of in _FORMULA.items():
            if key in step and step["kind"].startswith("points-"):
                yield from _same(
                    f"{label}, {of}", step[key], formula[of], slack.get(of)
                )
    yield from _check_order(where, [step["kind"] for step in steps])


def _check_order(where: str, kinds: Sequence[str]) -> Iterator[Difference]:
    """A score has its result, its points and its sum once each, in this order."""
    parts = {
        "result": [n for n, kind in enumerate(kinds) if kind == "step-result"],
        "points": [n for n, kind in enumerate(kinds) if kind.startswith("points-")],
        "score": [n for n, kind in enumerate(kinds) if kind in _WHOLE],
    }
    for name, found in parts.items():
        if len(found) > 1:
            yield from differ(f"{where}, steps to the {name}", len(found), 1)
    order = [found[0] for found in parts.values() if found]
    yield from differ(f"{where}, order of steps", order, sorted(order))


def _same(
    where: str, told: object, counted: object, slack: Fraction | None
) -> Iterator[Difference]:
    if told is None or counted is None:
        yield from differ(where, told, counted)
    elif abs(exact(told) - exact(counted)) > (slack or 0):
        yield from differ(where, exact(told), exact(counted))


def check_entries(
    where: str, score: Mapping[str, Any], task: str
) -> Iterator[Difference]:
    """Compare what marks say of their entries with the rows as entered."""
    for mark in score["marks"]:
        names = [keying["by"] for keying in mark["keyings"]]
        for number, keying in enumerate(mark["keyings"], start=1):
            label, row = f"{where}, entry {number}", keying["fields"]
            again = {
                "by": (keying["by"], row.get("by", "")),
                "pilot": (str(score["pilot"]), row.get("pilot", "")),
                "task": (task, row.get("task", "")),
                "method": (keying["method"], row.get("method", "").casefold()),
                "mark": (mark["mark"], row.get("mark", "")),
            }
            for name, (stated, entered) in again.items():
                yield from differ(f"{label}, {name}", stated, entered.strip())
        told = [
            step["entry"]["by"]
            for step in score["steps"]
            if step["kind"] in _ENTERED and "by" in step["entry"]
        ]
        if len(score["marks"]) == 1 and names and all(names):
            strangers = [name for name in told if name not in names]
            yield from differ(f"{where}, who entered it", strangers, [])
