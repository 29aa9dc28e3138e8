"""Work the steps of a score out again: its group, its charges and its sum."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.entries import ENTERING, same
from scorer.recount.marks import given
from scorer.recount.numbers import Difference, differ, exact, total_of

SUMS = ("step-score", "step-score-less", "step-score-more", "step-score-not-under-0")
CHARGING = ("step-penalty", "step-penalty-not-counted", "step-bonus")
OF_EVENT = ("step-competition-points", "step-competition-bonus")
_DECIDED = ("score", "average", "result")
"""Rulings by which people set a score or a result."""
ONE_LEG = frozenset({"FIN", "JDG", "HWZ", "PDG", "FON", "HNH", "GBM"})
"""Kinds of tasks whose result is the length of one leg."""
_NEAR = Fraction(1, 5000)


def check_way(
    where: str,
    task: Mapping[str, Any],
    score: Mapping[str, Any],
    findings: Mapping[str, Any],
) -> Iterator[Difference]:
    """Yield what the steps of a score lack, say twice, or say otherwise."""
    steps = score["steps"]
    yield from _check_parts(where, score, [step["kind"] for step in steps])
    charged = [step for step in steps if step["kind"] in CHARGING]
    own = [c for c in score["charges"] if c["ruling"] not in _DECIDED]
    yield from differ(f"{where}, steps of penalties", len(charged), len(own))
    for step, charge in zip(charged, own, strict=False):
        again = _charge_step(charge, findings)
        if not same(step, again):
            yield from differ(f"{where}, step of a penalty", step, again)
    for step in steps:
        if step["kind"] in {"step-group-b", "step-group-c"}:
            yield from _check_group(where, score, step["why"], findings)
        if step["kind"] == "task-measured":
            yield from _check_kind(where, task, step)
        if step["kind"] in OF_EVENT:
            off = abs(exact(step["points"]))
            yield from differ(
                f"{where}, event points", off, abs(score["event_penalty"])
            )
    yield from _check_measured(where, task, score)
    yield from _check_ranked(where, task, score)
    yield from differ(
        f"{where}, unit", score["result_unit"], task["rules"]["step_unit"]
    )
    metres = total_of(score, "metres")
    yield from differ(f"{where}, metres", exact(score["metres_penalty"]), metres)


def _check_parts(
    where: str, score: Mapping[str, Any], kinds: Sequence[str]
) -> Iterator[Difference]:
    group = {"A": 0}.get(score["group"], 1)
    wanted = {
        "group": (sum(k in {"step-group-b", "step-group-c"} for k in kinds), group),
        "result": (sum(_gives_result(k) for k in kinds), 1 - group),
        "points": (sum(k.startswith("points-") for k in kinds), 1),
        "sum": (sum(k in SUMS for k in kinds), 1),
        "event points": (
            sum(k in OF_EVENT for k in kinds),
            score["event_penalty"] != 0,
        ),
        "task": (
            min(1, sum(k == "task-measured" for k in kinds)),
            kinds.count("task-measured"),
        ),
    }
    for name, (found, needed) in wanted.items():
        yield from differ(f"{where}, steps of the {name}", found, int(needed))
    if group and f"step-group-{score['group'].casefold()}" not in kinds:
        yield from differ(f"{where}, group of the steps", kinds, score["group"])
    yield from differ(f"{where}, a reason", bool(score["why"]), bool(group))
    known = "task-measured" in kinds
    late = (
        [k for k in kinds[kinds.index("task-measured") :] if _enters(k)]
        if known
        else []
    )
    yield from differ(f"{where}, steps of entries that stand late", late, [])
    early = [k for k in _until(kinds, "task-measured") if k in SUMS or _ends(k)]
    yield from differ(f"{where}, steps that stand early", early, [])
    measured = any(mark["method"] != "none" for mark in score["marks"])
    if measured and score["group"] == "A" and "step-result-given" not in kinds:
        yield from differ(f"{where}, how it was measured", known, True)


def _until(kinds: Sequence[str], kind: str) -> Sequence[str]:
    return kinds[: kinds.index(kind)] if kind in kinds else ()


def _ends(kind: str) -> bool:
    """Tell whether a step comes of what was measured."""
    measured = kind in {"leg", "great-distance"} or kind.startswith("step-group")
    return measured or _gives_result(kind) or kind.startswith("points-")


def _gives_result(kind: str) -> bool:
    return kind.startswith("step-result") and kind != "step-result-given"


def _enters(kind: str) -> bool:
    return kind in ENTERING or kind == "step-of-mark"


def _charge_step(
    charge: Mapping[str, Any], findings: Mapping[str, Any]
) -> dict[str, Any]:
    if charge["ruling"] == "bonus":
        given = {**charge, "amount": -exact(charge["amount"])}
        return {"kind": "step-bonus", "amount": amount(given), "ruling": ruled(charge)}
    cause: dict[str, Any] = {"kind": "penalty-imposed"}
    if charge["finding"]:
        what = f"finding-{findings[charge['finding']]['kind']}"
        cause = {"kind": "for-infringement", "what": what}
    figures = None if charge["ruling"] == "set" else charge["figures"]
    return {
        "kind": "step-penalty" if charge["counts"] else "step-penalty-not-counted",
        "amount": figures or amount(charge),
        "cause": cause,
        "ruling": ruled(charge),
    }


def amount(charge: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a penalty comes to, as steps say it."""
    told: dict[str, Any] = {"kind": f"amount-{charge['unit'].replace(' ', '-')}"}
    name = {"task points": "points", "event points": "points", "metres": "length_m"}
    if charge["unit"] in name:
        told[name[charge["unit"]]] = exact(charge["amount"])
    return told


def ruled(charge: Mapping[str, Any]) -> dict[str, Any]:
    """Return what officials decided, when and why, as steps say it."""
    parts: list[Any] = [f"ruling-{charge['ruling']}"]
    for key, kind, name in (
        ("by", "by-whom", "who"),
        ("at", "at-when", "when"),
        ("reason", "because", "why"),
    ):
        if charge[key]:
            parts.append({"kind": kind, name: charge[key]})
    return {"kind": "ruled", "parts": parts}


def _check_group(
    where: str,
    score: Mapping[str, Any],
    why: Mapping[str, Any],
    findings: Mapping[str, Any],
) -> Iterator[Difference]:
    """A breach that took the result is the charge that says so."""
    unit = {"no-result-because": "no result", "disqualified-because": "disqualified"}
    counted = {c["unit"]: c for c in reversed(score["charges"]) if c["counts"]}
    for kind, own in unit.items():
        charge = counted.get(own)
        if why["kind"] != kind:
            continue
        if charge is None:
            yield from differ(f"{where}, {own}", "said", "no such penalty")
            continue
        cause: dict[str, Any] = {"kind": "penalty-imposed"}
        if charge["finding"]:
            what = f"finding-{findings[charge['finding']]['kind']}"
            cause = {"kind": "by-infringement", "what": what}
        again = {"kind": kind, "cause": cause, "ruling": ruled(charge)}
        if not same(why, again):
            yield from differ(f"{where}, why", why, again)


def _check_kind(
    where: str, task: Mapping[str, Any], step: Mapping[str, Any]
) -> Iterator[Difference]:
    own = f"task-kind-{task['kind'].casefold()}"
    yield from differ(f"{where}, kind of task", step["name"]["kind"], own)
    if "about" in step:
        yield from differ(f"{where}, its words", step["about"]["kind"], f"{own}-about")
    yield from differ(f"{where}, which is best", step["best"], task["best"])


def _check_measured(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any]
) -> Iterator[Difference]:
    """The leg that was measured is the one that was scored."""
    kinds = [step["kind"] for step in score["steps"]]
    legs = [exact(step["length_m"]) for step in score["steps"] if step["kind"] == "leg"]
    if task["kind"] not in ONE_LEG or given(score) or score["measured"] is None:
        return
    if {"marks-sum", "marks-mean"} & set(kinds):
        if "nearest-of" in kinds:
            return  # several legs of each drop, and which was nearest is not told
        drops = len(legs) if "marks-mean" in kinds else 1
        legs = [sum(legs, Fraction(0)) / max(drops, 1)]
    measured = exact(score["measured"])
    if not any(abs(leg - measured) <= _NEAR for leg in legs):
        yield from differ(f"{where}, measured", measured, legs or "no leg")


def _formula_of(task: Mapping[str, Any], score: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return the formula of the field that a pilot is ranked in."""
    own = [f for f in task.get("fields", ()) if f["class"] == score["field"]]
    formula: Mapping[str, Any] = (own or [task])[0]["formula"]
    return formula


def _check_ranked(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any]
) -> Iterator[Difference]:
    """The rank that gave the points: the pilot's, or the mean of those that tie."""
    tied = sum(
        (own["field"], own["rank"]) == (score["field"], score["rank"])
        for own in task["scores"]
    )
    mean = score["rank"] + Fraction(tied - 1, 2)
    ranked = {score["rank"], mean}
    if score["group"] == "B" and task["rules"]["no_result"] == "last-place":
        ranked = {_formula_of(task, score)["P"]}
    for step in score["steps"]:
        if "rank_number" in step and exact(step["rank_number"]) not in ranked:
            yield from differ(f"{where}, rank of the points", step["rank_number"], mean)
        if step["kind"] == "step-score-set":
            set_ = [c for c in score["charges"] if c["ruling"] in {"score", "average"}]
            again = [(score["score"], ruled(charge)) for charge in set_]
            told = (
                exact(step["score_points" if "score_points" in step else "points"]),
                step["ruling"],
            )
            if not any(told[0] == own and same(told[1], how) for own, how in again):
                yield from differ(f"{where}, score that was set", told, again)
