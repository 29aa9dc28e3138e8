"""What is said of one thing in several places is said alike: rules, matters, steps."""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.digests import plain
from scorer.recount.links import BLOCKS
from scorer.recount.marks import ONE_TARGET, given
from scorer.recount.numbers import Difference, differ, exact
from scorer.recount.way import CHARGING, OF_EVENT, ONE_LEG, SUMS

_OF_KIND = ("title", "closes", "decides", "acceptable")
"""What all matters of one kind share."""
_SHOWN = Fraction(1, 10**6)
_FINDING = re.compile(r"[a-z-]+:\d+:\d+:\w+")
_PARTS = {
    "event": {"name", "rule_book"},
    "standings_by": {"measure", "unit", "best"},
    "standings_rules": {"best_of", "ties", "team_size"},
}
"""Parts that are not lists, and what they have."""


def check_alike(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield what is said of one thing here so, there otherwise."""
    for name, keys in _PARTS.items():
        yield from differ(f"{name}, names", set(results[name]), keys)
    yield from _check_rules(results)
    yield from _check_matters(results)
    yield from _check_open(results)
    charged = {charge["finding"] for charge in results["event_charges"]} - {""}
    here = {finding["id"] for finding in results["findings"]}
    yield from differ("infringements of the event", sorted(charged - here), [])
    areas = {own["task"]: own["scoring_areas"] for own in results["entered"]["tasks"]}
    for own in results["entered"]["tasks"]:
        for name in ("targets", "scoring_areas"):
            twice = len(own[name]) - len(set(own[name]))
            yield from differ(f"task {own['task']}, {name} twice", twice, 0)
    for task in results["tasks"]:
        yield from _check_task(task, areas.get(task["task"], ()))


def _check_rules(results: Mapping[str, Any]) -> Iterator[Difference]:
    """A rule has one value in a task; a minimum height is that of its infringements."""
    said: dict[tuple[int | None, str], set[str]] = defaultdict(set)
    for finding in results["findings"]:
        rule = finding["rule"]
        for charge in finding["charges"]:
            if charge["ruling"] in {"unruled", "hold"}:
                yield from differ(f"{finding['id']}, rule", charge["rule"], rule)
        for own in (rule, *(charge["rule"] for charge in finding["charges"])):
            if own is not None and own["kind"] == "rule-of-event":
                said[finding["task"], plain(own["rule"])].add(plain(own))
        if finding["kind"] == "floor" and rule and "value_height_m" in rule:
            where = f"{finding['id']}, minimum height"
            stated, own = exact(finding["limit"]), exact(rule["value_height_m"])
            if abs(stated - own) > Fraction(6, 1000):
                yield from differ(where, stated, own)
    for (task, name), values in said.items():
        yield from differ(f"task {task}, rule {name}, values", len(values), 1)


def _check_matters(results: Mapping[str, Any]) -> Iterator[Difference]:
    shared: dict[str, Mapping[str, Any]] = {}
    findings = {finding["id"] for finding in results["findings"]}
    for number, matter in enumerate(results["matters"], start=1):
        where = f"matter {number}"
        first = shared.setdefault(matter["kind"], matter)
        for name in _OF_KIND:
            yield from differ(f"{where}, {name}", matter[name], first[name])
        if matter["blocks"] not in BLOCKS:
            yield from differ(f"{where}, blocks", matter["blocks"], sorted(BLOCKS))
        evidence = matter["evidence"]
        yield from differ(
            f"{where}, evidence", len(evidence), len(set(map(str, evidence)))
        )
        named = {one for one in evidence if _FINDING.fullmatch(str(one))}
        yield from differ(f"{where}, infringements", sorted(named - findings), [])
        if matter["accepted"] is not None:
            yield from differ(f"{where}, accepted", matter["acceptable"], True)


def _check_open(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Infringements nobody decided are told of; a matter names a mark that there is.

    In a task that is cancelled or not flown yet nobody has to decide anything.
    """
    flown = {task["task"] for task in results["tasks"] if task["state"] == "flown"}
    waiting = {
        finding["id"]
        for finding in results["findings"]
        if finding["task"] in flown
        and finding["ruling"] in {"unruled", "hold"}
        and finding["verdict"] != "clear"
    }
    told = {
        own
        for matter in results["matters"]
        if matter["kind"] == "unruled"
        for own in matter["evidence"]
    }
    yield from differ("infringements to decide", sorted(told), sorted(waiting))
    marks: dict[tuple[int, int], set[str]] = defaultdict(set)
    for task in results["tasks"]:
        for score in task["scores"]:
            own = {mark["mark"] for mark in score["marks"]}
            marks[task["task"], score["pilot"]] |= own
    for number, matter in enumerate(results["matters"], start=1):
        if matter["mark"] and matter["task"] is not None:
            known = set().union(*(marks[matter["task"], p] for p in matter["pilots"]))
            there = matter["mark"] in known
            yield from differ(f"matter {number}, its mark", there or not known, True)


_LESS_OR_MORE = ("step-result-less", "step-result-more", "step-result-not-under-0")
_PHASES: Sequence[frozenset[str]] = (
    frozenset({"task-measured"}),
    frozenset({"declared-goal", "declared-goal-at-height"}),
    frozenset({"inside-area", "inside-area-by-tape"}),
    frozenset({"target-stood-until", "target-stood-since", "leg"}),
    frozenset({"nearest-of"}),
    frozenset({"step-result", *_LESS_OR_MORE, "step-group-b", "step-group-c"}),
    frozenset({"points-by-result", "points-by-rank", "points-shared", "points-best"}),
    frozenset(CHARGING),
    frozenset(SUMS),
    frozenset(OF_EVENT),
)
"""Steps of a task with one leg, in their order."""


def _check_task(task: Mapping[str, Any], areas: Sequence[str]) -> Iterator[Difference]:
    rules = task["rules"]
    if rules["step_unit"] != "in":
        again = Fraction(1, 10 ** min(6, max(0, rules["decimals"])))
        yield from differ(f"task {task['task']}, decimals", exact(rules["step"]), again)
    placed: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for score in task["scores"]:
        placed[score["field"]].append((score["rank"], score["pilot"]))
        where = f"task {task['task']}, pilot {score['pilot']}"
        none = (score["result"] is None, score["result_exact"] is None)
        yield from differ(f"{where}, exact result", none[0], none[1])
        if score["group"] != "A":
            yield from differ(f"{where}, first drop", score["parted"], 0)
        yield from _check_exact(where, task, score)
        if task["kind"] in ONE_LEG and len(score["marks"]) == 1:
            yield from _check_steps(where, task, score, areas)
    for own in placed.values():
        yield from differ(f"task {task['task']}, order of scores", own, sorted(own))


def _check_exact(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any]
) -> Iterator[Difference]:
    """What was taped stands exactly too, and what was not measured has no sigma."""
    told, measured = score["measured_exact"], score["measured"]
    if measured is None:
        yield from differ(
            f"{where}, exact and sigma", (told, score["sigma"]), (None, None)
        )
    elif told is not None and abs(exact(told) - exact(measured)) > _SHOWN:
        yield from differ(f"{where}, exactly measured", told, measured)
    marks = [mark for mark in score["marks"] if mark["keyings"]]
    if told is not None or measured is None or given(score) or len(marks) != 1:
        return
    rows = [keying["fields"] for keying in marks[0]["keyings"]]
    taped = len(rows) == 1 and rows[0].get("method", "").strip().casefold() == "tape"
    if task["kind"] in ONE_TARGET and taped and not rows[0].get("from"):
        yield from differ(f"{where}, exactly measured", told, measured)


def _check_steps(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any], areas: Sequence[str]
) -> Iterator[Difference]:
    """Steps of one leg stand in order, each once; its length is the mark's distance."""
    steps, (mark,) = score["steps"], score["marks"]
    places = [
        phase
        for step in steps
        for phase, kinds in enumerate(_PHASES)
        if step["kind"] in kinds
    ]
    yield from differ(f"{where}, order of steps", places, sorted(places))
    said = [plain(step) for step in steps]
    yield from differ(f"{where}, steps said twice", len(said) - len(set(said)), 0)
    legs = [exact(step["length_m"]) for step in steps if step["kind"] == "leg"]
    if legs:
        measured = sum(step["kind"] == "task-measured" for step in steps)
        yield from differ(f"{where}, steps of the task", measured, 1)
        inside = any(step["kind"].startswith("inside-area") for step in steps)
        yield from differ(f"{where}, inside an area", inside, bool(areas))
    nearest = [step for step in steps if step["kind"] == "nearest-of"]
    if legs and task["kind"] in ONE_LEG:
        yield from differ(f"{where}, the nearest", len(nearest), int(len(legs) > 1))
    for step in nearest:
        yield from differ(f"{where}, legs", len(legs), step["targets_count"])
        yield from differ(f"{where}, the nearest", exact(step["length_m"]), min(legs))
    declared = any(step["kind"] in _PHASES[1] for step in steps)
    for step in steps:
        end = step.get("end")
        if step["kind"] == "leg" and end and end.get("kind") == "goal-named":
            yield from differ(f"{where}, a declared goal", declared, True)
        areas_ = [plain(area) for area in step.get("areas", ())]
        twice = len(areas_) - len(set(areas_))
        yield from differ(f"{where}, areas said twice", twice, 0)
    if task["kind"] not in ONE_TARGET or not legs or mark["distance_m"] is None:
        return
    far = exact(mark["distance_m"])
    if score["sigma"] is not None and mark["method"] != "adjusted":
        yield from differ(f"{where}, sigma", score["sigma"], mark["sigma_m"])
    if not any(abs(leg - far) <= Fraction(1, 1000) for leg in legs):
        yield from differ(f"{where}, distance of its mark", far, legs[0])
