"""A second verifier: recompute published results, with arithmetic of its own.

It reads results.json, and the keyed marks where they are at hand, and works every group,
rank, point, penalty and total out again in exact fractions.  Its parts are in
`scorer.recount`; it shares no code with the scoring it checks, only the error types.

Source of the formula: published model event rules, chapter 14 (symbols from memory).
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.errors import Fault, InputError
from scorer.recount.digests import KEY, check_digests
from scorer.recount.from_rows import KEY as ENTERED
from scorer.recount.from_rows import check_whole
from scorer.recount.links import check_links
from scorer.recount.marks import check_marks
from scorer.recount.numbers import (
    Difference,
    differ,
    exact,
    exact_text,
    exact_whole,
    half_up,
    total_of,
)
from scorer.recount.penalties import check_sum
from scorer.recount.shape import check_shape
from scorer.recount.standings import check_standings
from scorer.recount.statements import KEY as STATEMENTS
from scorer.recount.steps import check_entries, check_steps
from scorer.recount.ties import check_parted, parted

FORMAT = 1
_LOSING = {"smallest": 1, "greatest": -1}
_METRES_IN = {"m": Fraction(1), "km": Fraction(1, 1000)}
_INCHES = {"in": Fraction(254, 10000)}
_MOST_DECIMALS = 6
_STRIKING = ("no result", "disqualified")


def read_results(text: str, where: str) -> dict[str, Any]:
    """Read results.json, numbers as exact fractions.

    Raises
    ------
    InputError
        The text is not a results.json of a known format.
    """
    try:
        tree = json.loads(
            text,
            parse_float=exact_text,
            parse_int=exact_whole,
            parse_constant=_refuse,
        )
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
    results: Mapping[str, Any],
    marks: Sequence[Mapping[str, str]] = (),
    *,
    digests: bool = True,
) -> list[Difference]:
    """Recompute everything that follows from other published numbers.

    Parameters
    ----------
    results : mapping
        The tree of results.json, as `read_results` returns it.
    marks : sequence of mappings, optional
        Rows of marks.csv: taped distances are compared with what was measured.
    digests : bool
        Whether also the digest of each part is worked out again.

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
        told = list(_differences(results, marks))
        return [*told, *check_digests(results)] if digests else told
    except (KeyError, IndexError) as error:
        raise _bad("results.json", f"a tree without {error}") from None
    except (TypeError, ValueError, AttributeError, ArithmeticError) as error:
        found = f"a value that cannot stand where it stands ({error})"
        raise _bad("results.json", found) from None


def _differences(
    results: Mapping[str, Any], marks: Sequence[Mapping[str, str]]
) -> Iterator[Difference]:
    findings = {finding["id"]: finding for finding in results["findings"]}
    older = KEY not in results and ENTERED not in results  # it has other parts
    for task in results["tasks"]:
        yield from _check_task(task, findings, older=older)
        yield from check_marks(task, marks)
    yield from check_standings(results)
    if not older:
        yield from check_shape(results)
        yield from check_links(results)
    listed = STATEMENTS in results and bool(results["flights"])
    if ENTERED in results or listed:  # in older ones neither travelled
        yield from check_whole(results)


def _check_task(
    task: Mapping[str, Any], findings: Mapping[str, Any], *, older: bool
) -> Iterator[Difference]:
    name = f"task {task['task']}"
    scores = task["scores"]
    yield from differ(f"{name}, P", task["formula"]["P"], len(scores))
    yield from _check_symbols(name, task, task["formula"], scores)
    for field in task.get("fields", ()):
        among = [s for s in scores if s["field"] == field["class"]]
        own = f"{name}, class {field['class']}"
        method = field["formula"]["method"]
        yield from differ(f"{own}, method", method, task["formula"]["method"])
        yield from differ(f"{own}, P", field["formula"]["P"], len(among))
        yield from _check_symbols(own, task, field["formula"], among)
    formulas = {f["class"]: f["formula"] for f in task.get("fields", ())}
    for score in scores:
        where = f"{name}, pilot {score['pilot']}"
        yield from _check_charges(where, score, findings)
        yield from _check_group(where, score)
        if score["group"] == "A":
            yield from _check_result(where, task, score)
        if older and _in_sentences(score):
            continue
        own = formulas.get(score.get("field", ""), task["formula"])
        if task["state"] == "flown":
            yield from check_steps(where, task, score, own, _step(task))
        yield from check_entries(where, score, str(task["task"]))
    if task["state"] == "cancelled":
        for score in scores:
            where = f"{name} (cancelled), pilot {score['pilot']}, score"
            yield from differ(where, score["score"], 0)
        return
    for among in _by_field(scores):
        yield from check_parted(name, among, task["rules"])
    points = _points(task)
    for score in scores:
        where = f"{name}, pilot {score['pilot']}"
        rank, awarded = points[score["pilot"]]
        yield from differ(f"{where}, rank", score["rank"], rank)
        yield from differ(f"{where}, formula points", score["formula_points"], awarded)
        left = max(0, awarded - score["task_penalty"])
        yield from differ(f"{where}, score", score["score"], left)


def _in_sentences(score: Mapping[str, Any]) -> bool:
    """Tell whether steps and entries are sentences, as the first version wrote them."""
    entries = [keying for mark in score["marks"] for keying in mark["keyings"]]
    return all(isinstance(said, str) for said in (*score["steps"], *entries))


def _check_symbols(
    name: str,
    task: Mapping[str, Any],
    formula: Mapping[str, Any],
    scores: Sequence[Mapping[str, Any]],
) -> Iterator[Difference]:
    """Work the symbols of the formula out again: A, M, W, RM and SM."""
    entered = len(scores)
    sign = _LOSING[task["best"]]
    results = [exact(s["result"]) for s in scores if s["group"] == "A"]
    results.sort(key=lambda value: sign * value)
    median = min((entered + 1) // 2, len(results))
    best = results[0] if results else None
    at_median = results[median - 1] if results else None
    points = Fraction(1000 * (entered + 1 - median), entered or 1)
    again = {
        "A": len(results),
        "M": median,
        "W": best,
        "RM": at_median,
        "SM": half_up(points) if results else 0,
    }
    for symbol, value in again.items():
        shown = formula[symbol]
        read = exact(shown) if isinstance(value, Fraction) else shown
        yield from differ(f"{name}, {symbol}", read, value)


def _check_charges(
    where: str, score: Mapping[str, Any], findings: Mapping[str, Any]
) -> Iterator[Difference]:
    for charge in score["charges"]:
        if not charge["finding"]:
            continue
        finding = findings[charge["finding"]]
        ruling = charge["ruling"]
        counts = ruling in {"apply", "set"} or (
            ruling in {"unruled", "hold"} and finding["verdict"] == "certain"
        )
        label = f"{where}, {charge['finding']}, counts"
        yield from differ(label, charge["counts"], counts)
        yield from differ(f"{label}: ruling", ruling, finding["ruling"])
        if charge.get("figures") and ruling != "set":
            yield from check_sum(f"{where}, {charge['finding']}", charge)
    for name in score["findings"]:
        here = [c for c in score["charges"] if c["finding"] == name]
        label = f"{where}, {name}, charges"
        yield from differ(label, here, findings[name].get("charges", here))


def _check_group(where: str, score: Mapping[str, Any]) -> Iterator[Difference]:
    struck = [c["unit"] for c in score["charges"] if c["counts"]]
    group = score["group"]
    if "disqualified" in struck:
        yield from differ(f"{where}, group", group, "C")
    elif "no result" in struck and group == "A":
        yield from differ(f"{where}, group", group, "B")
    has_result = score["result"] is not None
    yield from differ(f"{where}, has a result", has_result, group == "A")


def _check_result(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any]
) -> Iterator[Difference]:
    metres = total_of(score, "metres")
    yield from differ(f"{where}, metres", exact(score["metres_penalty"]), metres)
    scale = _METRES_IN.get(task["unit"], Fraction(0))
    known = score.get("measured_exact")
    measured = exact(score["measured"] if known is None else known)
    value = max(measured + _LOSING[task["best"]] * metres * scale, Fraction(0))
    step = _step(task)
    # what was computed is published with four decimals: both roundings it allows are right
    slack = Fraction(0) if known is not None else Fraction(1, 20000)
    fitting = {step * half_up((value + off) / step) for off in (-slack, 0, slack)}
    result = exact(score["result"])
    if result not in fitting:
        yield from differ(f"{where}, result", result, step * half_up(value / step))
    if score.get("result_exact") is not None:
        shown = exact(score["result_exact"]) * _INCHES.get(score["result_unit"], 1)
        yield from differ(f"{where}, exact result", shown, result)


def _step(task: Mapping[str, Any]) -> Fraction:
    """Return what results are multiples of, in the task's unit."""
    rules = task["rules"]
    if "step" not in rules:
        return Fraction(1, 10 ** _decimals(task))
    return exact(rules["step"]) * _INCHES.get(rules["step_unit"], 1)


def _decimals(task: Mapping[str, Any]) -> int:
    found = task["rules"]["decimals"]
    if not 0 <= found <= _MOST_DECIMALS:
        raise ValueError(f"{found} decimals of a result")
    return int(found)


def _points(task: Mapping[str, Any]) -> dict[int, tuple[int, int]]:
    """Return rank and points of every pilot, each within its own field."""
    return {
        pilot: own
        for scores in _by_field(task["scores"])
        for pilot, own in _points_of(task, scores).items()
    }


def _by_field(scores: Sequence[Mapping[str, Any]]) -> list[list[Mapping[str, Any]]]:
    """Return the scores of each field that is ranked by itself."""
    fields: dict[str, list[Mapping[str, Any]]] = {}
    for score in scores:
        fields.setdefault(score.get("field", ""), []).append(score)
    return list(fields.values())


def _points_of(
    task: Mapping[str, Any], scores: Sequence[Mapping[str, Any]]
) -> dict[int, tuple[int, int]]:
    """Return rank and points of every pilot of a field, from the results alone."""
    rules = task["rules"]
    sign = _LOSING[task["best"]]
    values = {
        s["pilot"]: sign * exact(s["result"]) for s in scores if s["group"] == "A"
    }
    drops = parted(scores, values, rules)
    keys = {pilot: (value, drops[pilot]) for pilot, value in values.items()}
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
            better = sum(key < keys[pilot] for key in keys.values())
            equal = sum(key == keys[pilot] for key in keys.values())
            place = better, equal
            points = award(values, values[pilot], place, entered, rules)
            found[pilot] = better + 1, max(points, rules["show_up"])
        elif group == "B":
            points = _without_result(method, entered, scorers, rules)
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
    if rules["ties"] == "mean" and better + 1 < median <= better + equal:
        return _across_median(better, equal, median, entered)
    if better + 1 < median:
        at_median = half_up(Fraction(1000 * (entered + 1 - median), entered))
        span = ordered[median - 1] - ordered[0]
        return half_up(1000 - (1000 - at_median) * (own - ordered[0]) / span)
    rank = Fraction(better + 1)
    if rules["ties"] == "mean":
        rank += Fraction(equal - 1, 2)
    return half_up(1000 * (entered + 1 - rank) / entered)


def _across_median(better: int, equal: int, median: int, entered: int) -> int:
    """Mean of the points of every rank that equal results share."""
    at_median = half_up(Fraction(1000 * (entered + 1 - median), entered))
    each = [
        Fraction(at_median)
        if rank < median
        else Fraction(1000 * (entered + 1 - rank), entered)
        for rank in range(better + 1, better + equal + 1)
    ]
    return half_up(sum(each, Fraction(0)) / equal)


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


def _without_result(
    method: str, entered: int, scorers: int, rules: Mapping[str, Any]
) -> int:
    """Points of who flew without a result."""
    if method == "none":
        return 0
    placed = {"next-place": scorers + 1, "last-place": entered}.get(rules["no_result"])
    if placed is None:
        return _share(entered, scorers, rules) if method == "international" else 0
    if method == "places":
        return int([*rules["places"], *[0] * placed][placed - 1])
    return half_up(Fraction(1000 * (entered + 1 - placed), entered))


def _share(entered: int, scorers: int, rules: Mapping[str, Any]) -> int:
    if rules["no_result"] == "zero":
        return 0
    if scorers == 0:
        return 500
    return half_up(Fraction(1000 * (entered + 1 - scorers), entered) / 2)
