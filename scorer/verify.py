"""A second verifier: recompute published results, with arithmetic of its own.

It reads results.json, and the keyed marks where they are at hand, and works every group,
rank, point, penalty and total out again in exact fractions.  It shares no code with the
scoring it checks; only the error types are common.

Source of the formula: published model event rules, chapter 14 (symbols from memory).
"""

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from scorer.errors import Fault, InputError

FORMAT = 1
_LOSING = {"smallest": 1, "greatest": -1}
_METRES_IN = {"m": Fraction(1), "km": Fraction(1, 1000)}
_STRIKING = ("no result", "disqualified")


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One published number that does not follow from the others."""

    where: str
    published: str
    recomputed: str

    def __str__(self) -> str:
        return f"{self.where}: published {self.published}, recomputed {self.recomputed}"


def read_results(text: str, where: str) -> dict[str, Any]:
    """Read results.json, numbers as exact fractions.

    Raises
    ------
    InputError
        The text is not a results.json of a known format.
    """
    try:
        tree = json.loads(text, parse_float=Fraction, parse_constant=_refuse)
    except (ValueError, RecursionError) as error:
        raise _bad(where, f"text that is not JSON ({error})") from None
    found = tree.get("format") if isinstance(tree, dict) else None
    if found != FORMAT:
        raise _bad(where, f"format {found}")
    return dict(tree)


def _refuse(name: str) -> float:
    raise ValueError(f"{name} is no number")


def _bad(where: str, found: str) -> InputError:
    allowed = f"results.json of format {FORMAT}"
    return InputError([Fault(where=where, found=found, allowed=allowed)])


def verify(
    results: Mapping[str, Any], marks: Sequence[Mapping[str, str]] = ()
) -> list[Difference]:
    """Recompute everything that follows from other published numbers.

    Parameters
    ----------
    results : mapping
        The tree of results.json, as `read_results` returns it.
    marks : sequence of mappings, optional
        Rows of marks.csv: taped distances are compared with what was measured.

    Returns
    -------
    list of Difference
        Empty when all agrees.

    Raises
    ------
    InputError
        A part that every results.json has is missing.
    """
    try:
        return list(_differences(results, marks))
    except (KeyError, TypeError, IndexError) as error:
        raise _bad("results.json", f"a tree without {error}") from None


def _differences(
    results: Mapping[str, Any], marks: Sequence[Mapping[str, str]]
) -> Iterator[Difference]:
    findings = {finding["id"]: finding for finding in results["findings"]}
    for task in results["tasks"]:
        yield from _check_task(task, findings)
        yield from _check_marks(task, marks)
    yield from _check_standings(results)


def _differ(where: str, published: object, recomputed: object) -> Iterator[Difference]:
    if published != recomputed:
        yield Difference(
            where=where, published=_show(published), recomputed=_show(recomputed)
        )


def _show(value: object) -> str:
    return str(float(value)) if isinstance(value, Fraction) else str(value)


def half_up(value: Fraction) -> int:
    """Round to a whole number, a half going away from zero."""
    doubled = 2 * abs(value)
    whole = (doubled.numerator + doubled.denominator) // (2 * doubled.denominator)
    return whole if value >= 0 else -whole


# ---- one task


def _check_task(
    task: Mapping[str, Any], findings: Mapping[str, Any]
) -> Iterator[Difference]:
    name = f"task {task['task']}"
    scores = task["scores"]
    yield from _differ(f"{name}, P", task["formula"]["P"], len(scores))
    for score in scores:
        where = f"{name}, pilot {score['pilot']}"
        yield from _check_charges(where, score, findings)
        yield from _check_group(where, score)
        if score["group"] == "A":
            yield from _check_result(where, task, score)
    if task["state"] == "cancelled":
        for score in scores:
            where = f"{name} (cancelled), pilot {score['pilot']}, score"
            yield from _differ(where, score["score"], 0)
        return
    points = _points(task)
    for score in scores:
        where = f"{name}, pilot {score['pilot']}"
        rank, own = points[score["pilot"]]
        yield from _differ(f"{where}, rank", score["rank"], rank)
        yield from _differ(f"{where}, formula points", score["formula_points"], own)
        left = max(0, own - score["task_penalty"])
        yield from _differ(f"{where}, score", score["score"], left)


def _sum(score: Mapping[str, Any], unit: str) -> Fraction:
    counted = (c for c in score["charges"] if c["counts"] and c["unit"] == unit)
    return sum((Fraction(c["amount"]) for c in counted), Fraction(0))


def _check_charges(
    where: str, score: Mapping[str, Any], findings: Mapping[str, Any]
) -> Iterator[Difference]:
    for charge in score["charges"]:
        if not charge["finding"]:
            continue
        finding = findings[charge["finding"]]
        ruling = charge["ruling"]
        counts = ruling in {"apply", "set"} or (
            ruling == "unruled" and finding["verdict"] == "certain"
        )
        label = f"{where}, {charge['finding']}, counts"
        yield from _differ(label, charge["counts"], counts)
        yield from _differ(f"{label}: ruling", ruling, finding["ruling"])


def _check_group(where: str, score: Mapping[str, Any]) -> Iterator[Difference]:
    struck = [c["unit"] for c in score["charges"] if c["counts"]]
    group = score["group"]
    if "disqualified" in struck:
        yield from _differ(f"{where}, group", group, "C")
    elif "no result" in struck and group == "A":
        yield from _differ(f"{where}, group", group, "B")
    has_result = score["result"] is not None
    yield from _differ(f"{where}, has a result", has_result, group == "A")


def _check_result(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any]
) -> Iterator[Difference]:
    metres = _sum(score, "metres")
    yield from _differ(f"{where}, metres", Fraction(score["metres_penalty"]), metres)
    scale = _METRES_IN.get(task["unit"], Fraction(0))
    value = Fraction(score["measured"]) + _LOSING[task["best"]] * metres * scale
    step = Fraction(10) ** task["rules"]["decimals"]
    exact = max(value, Fraction(0)) * step
    # `measured` is published with four decimals: both roundings that it allows are right
    slack = Fraction(1, 20000) * step
    fitting = {half_up(exact - slack), half_up(exact), half_up(exact + slack)}
    if Fraction(score["result"]) * step not in fitting:
        yield from _differ(
            f"{where}, result", Fraction(score["result"]), half_up(exact) / step
        )


def _points(task: Mapping[str, Any]) -> dict[int, tuple[int, int]]:
    """Return rank and points of every pilot, worked out from the results alone."""
    scores, rules = task["scores"], task["rules"]
    sign = _LOSING[task["best"]]
    values = {
        s["pilot"]: sign * Fraction(s["result"]) for s in scores if s["group"] == "A"
    }
    entered, scorers = len(scores), len(values)
    method = task["formula"]["method"]
    award = {
        "international": _international,
        "places": _places,
        "none": lambda *_: 0,
    }[method]
    flew = scorers + sum(s["group"] == "B" for s in scores)
    found: dict[int, tuple[int, int]] = {}
    for score in scores:
        pilot, group = score["pilot"], score["group"]
        if group == "A":
            better = sum(v < values[pilot] for v in values.values())
            equal = sum(v == values[pilot] for v in values.values())
            place = better, equal
            points = award(values, values[pilot], place, entered, rules)
            found[pilot] = better + 1, max(points, rules["show_up"])
        elif group == "B":
            points = _share(entered, scorers, rules) if method == "international" else 0
            found[pilot] = scorers + 1, max(points, rules["show_up"])
        else:
            found[pilot] = flew + 1, 0
    return found


def _international(
    values: Mapping[int, Fraction],
    own: Fraction,
    place: tuple[int, int],
    entered: int,
    rules: Mapping[str, Any],
) -> int:
    better, equal = place
    ordered = sorted(values.values())
    median = min((entered + 1) // 2, len(ordered))
    if own == ordered[0]:
        return 1000
    if better + 1 < median:
        at_median = half_up(Fraction(1000 * (entered + 1 - median), entered))
        span = ordered[median - 1] - ordered[0]
        return half_up(1000 - (1000 - at_median) * (own - ordered[0]) / span)
    rank = Fraction(better + 1)
    if rules["ties"] == "mean":
        rank += Fraction(equal - 1, 2)
    return half_up(1000 * (entered + 1 - rank) / entered)


def _places(
    _values: Mapping[int, Fraction],
    _own: Fraction,
    place: tuple[int, int],
    _entered: int,
    rules: Mapping[str, Any],
) -> int:
    better, equal = place
    table = [*rules["places"], *[0] * (better + equal)]
    if rules["ties"] == "mean":
        return half_up(Fraction(sum(table[better : better + equal]), equal))
    return int(table[better])


def _share(entered: int, scorers: int, rules: Mapping[str, Any]) -> int:
    if rules["no_result"] == "zero":
        return 0
    if scorers == 0:
        return 500
    return half_up(Fraction(1000 * (entered + 1 - scorers), entered) / 2)


# ---- keyed marks

_FOOT = Fraction("0.3048")
_UNITS = {
    "m": Fraction(1),
    "cm": Fraction(1, 100),
    "km": Fraction(1000),
    "ft": _FOOT,
    "'": _FOOT,
    "in": _FOOT / 12,
    '"': _FOOT / 12,
    "yd": 3 * _FOOT,
}
_TAPED = re.compile(r"([\d.,/ ]*[\d.,/])\s*([a-z'\"]*)\s*")
_ONE_TARGET = ("FIN", "JDG", "HNH")


def taped_m(text: str, bare: str) -> Fraction | None:
    """Read a taped distance; None when this reader does not know the spelling."""
    total, at, rest = Fraction(0), 0, text.strip().casefold()
    for sign, plain in (("′", "'"), ("’", "'"), ("″", '"'), ("”", '"'), ("½", " 1/2")):
        rest = rest.replace(sign, plain)
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
    return total


def _number(text: str) -> Fraction | None:
    try:
        return sum(
            (Fraction(part.replace(",", ".")) for part in text.split()), Fraction(0)
        )
    except (ValueError, ZeroDivisionError):
        return None


def _check_marks(
    task: Mapping[str, Any], marks: Sequence[Mapping[str, str]]
) -> Iterator[Difference]:
    if task["kind"] not in _ONE_TARGET:
        return
    keyed: dict[int, list[Mapping[str, str]]] = {}
    for row in marks:
        if row.get("task") == str(task["task"]) and not row.get("mark"):
            keyed.setdefault(int(row["pilot"]), []).append(row)
    for score in task["scores"]:
        rows = keyed.get(score["pilot"], [])
        if score["measured"] is None or not score["settled"] or not rows:
            continue
        if any(mark["method"] == "adjusted" for mark in score["marks"]):
            continue  # several measurements together: none of them is the result
        settling = [row for row in rows if row.get("settles")]
        row = settling[-1] if settling else rows[0]
        if row.get("method") != "tape" or row.get("from"):
            continue
        metres = taped_m(row["distance"], row.get("unit") or row.get("bare", "m"))
        far = None if metres is None else abs(metres - Fraction(score["measured"]))
        if metres is not None and far is not None and far > Fraction(1, 10000):
            where = f"task {task['task']}, pilot {score['pilot']}, keyed distance"
            yield from _differ(where, Fraction(score["measured"]), metres)


# ---- standings


def _check_standings(results: Mapping[str, Any]) -> Iterator[Difference]:
    rules = results["standings_rules"]
    flown = [t for t in results["tasks"] if t["state"] == "flown"]
    scores = {
        (task["task"], s["pilot"]): s["score"] for task in flown for s in task["scores"]
    }
    imposed = Counter(results.get("event_penalties", {}))
    for task in flown:
        for score in task["scores"]:
            imposed[str(score["pilot"])] += int(_sum(score, "event points"))
            where = f"task {task['task']}, pilot {score['pilot']}"
            own = int(_sum(score, "task points"))
            yield from _differ(f"{where}, task penalty", score["task_penalty"], own)
    totals: list[int] = []
    for row in results["standings"]:
        where = f"standings, pilot {row['pilot']}"
        own_scores = [scores[task["task"], row["pilot"]] for task in flown]
        best = sorted(own_scores, reverse=True)[: rules["best_of"]]
        total = sum(best) - imposed[str(row["pilot"])]
        yield from _differ(f"{where}, total", row["total"], total)
        totals.append(total)
    if rules["ties"] == "shared-rank":
        for row, total in zip(results["standings"], totals, strict=True):
            rank = 1 + sum(other > total for other in totals)
            yield from _differ(
                f"standings, pilot {row['pilot']}, rank", row["rank"], rank
            )
