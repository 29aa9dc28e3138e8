"""Compare the numbers that the steps of a score say with the score itself."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact

_MEASURED = Fraction(1, 10**4)
"""Steps keep six decimals or more; the score has four decimals, its result as many as it is
rounded to."""
_SCORE = {
    "step-result": {
        "measured": "measured",
        "penalty": "metres_penalty",
        "result": "result",
    },
    "points-": {"result": "result", "points": "formula_points"},
    "step-score": {"score_points": "score"},
    "step-score-less": {
        "points": "formula_points",
        "penalty_points": "task_penalty",
        "score_points": "score",
    },
}
"""What a step says of its score, by name and by the beginning of its kind."""
_FORMULA = {
    "best": "W",
    "at_median": "RM",
    "median_points": "SM",
    "median_number": "M",
    "entered_number": "P",
    "scorers_number": "A",
}
"""What steps say of the formula."""
_IN = {
    "m": ("m", "race_m"),
    "km": ("distance_m", "race_m"),
    "s": ("taken_s",),
    "deg": ("deg",),
    "km2": ("km2",),
}
"""Endings of the names of results, by the unit of the task."""
_HALF = Fraction(51, 100)
"""Of a step: what rounding can change."""
_ENTERED = ("step-entered", "step-entries-agree", "step-entries-settled")
_DECIDED = ("score", "average", "bonus", "result")
"""Rulings by which people set a score."""
_SUMMED = {
    "step-score-less": ("penalty_points", -1),
    "step-score-more": ("bonus_points", 1),
}
_WHOLE = ("step-score", "step-score-less")


def check_steps(
    where: str,
    task: Mapping[str, Any],
    score: Mapping[str, Any],
    formula: Mapping[str, Any],
    step_m: Fraction,
) -> Iterator[Difference]:
    """Yield what a pilot would read otherwise than it was counted.

    `step_m` is what results are multiples of.
    """
    steps = score["steps"]
    decided = any(charge["ruling"] in _DECIDED for charge in score["charges"])
    half = step_m * _HALF
    slack = {"measured": _MEASURED, **dict.fromkeys(("result", "W", "RM"), half)}
    for number, step in enumerate(steps, start=1):
        label = f"{where}, step {number}"
        before = decided and step["kind"] in _WHOLE  # the score came after that sum
        for name, of in _of_score(step["kind"]).items():
            for told in [] if before else _said(step, name, task["unit"]):
                yield from _same(f"{label}, {of}", told, score[of], slack.get(of))
        yield from _check_score_sum(label, step)
        if not step["kind"].startswith("points-"):
            continue
        for name, of in _FORMULA.items():
            for told in _said(step, name, task["unit"]):
                yield from _same(f"{label}, {of}", told, formula[of], slack.get(of))
        yield from _check_least(label, task, score, step)
    yield from _check_order(where, [step["kind"] for step in steps])


def _of_score(kind: str) -> Mapping[str, str]:
    """Return what a step of a kind says of its score."""
    if kind.startswith("step-result"):
        return _SCORE["step-result"]
    return _SCORE["points-"] if kind.startswith("points-") else _SCORE.get(kind, {})


def _said(step: Mapping[str, Any], name: str, unit: str) -> Iterator[Any]:
    """Yield what a step says under a name; a result in the unit of its task.

    A result in another unit is none: it has no number to be compared.
    """
    if name in step:
        yield step[name]
        return
    endings = _IN.get(unit, ())
    for key, value in step.items():
        begun, _, ending = key.partition(f"{name}_")
        if begun or not ending or isinstance(value, Mapping | list):
            continue
        if ending in endings:
            yield exact(value) / (1000 if unit == "km" else 1)
        elif any(ending in others for others in _IN.values()):
            yield None


def _check_score_sum(where: str, step: Mapping[str, Any]) -> Iterator[Difference]:
    """A score is its points less a penalty, or with a bonus."""
    if {"points", "score_points"} <= step.keys() and step["kind"] in _SUMMED:
        off, sign = _SUMMED[step["kind"]]
        again = exact(step["points"]) + sign * exact(step[off])
        yield from differ(f"{where}, its sum", exact(step["score_points"]), again)


def _check_least(
    where: str,
    task: Mapping[str, Any],
    score: Mapping[str, Any],
    step: Mapping[str, Any],
) -> Iterator[Difference]:
    """Points that everybody gets at least are those of the rules, and count."""
    if step["kind"] == "points-at-least":
        least = task["rules"]["show_up"]
        yield from differ(f"{where}, least points", step["least_points"], least)
        yield from differ(f"{where}, points", score["formula_points"], least)


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
