"""Compare decisions and reports, as entered, with what came of them."""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.entries import of_pilot, same, whole
from scorer.recount.forms import CLOCK
from scorer.recount.marks import taped_m
from scorer.recount.numbers import Difference, differ, exact, exact_text
from scorer.recount.statements import statements_of
from scorer.recount.way import ruled

Rows = Sequence[Mapping[str, str]]
_ON_FINDING = ("apply", "waive", "set", "hold")
_ADDING = ("impose", "bonus", "score", "average")
_HUNDREDTH = Fraction(1, 100)
_MOMENT = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d")
_TO_MINUTES = 16


def check_decided(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield decisions nobody entered, and entered ones that do nothing."""
    rows: Rows = results["entered"]["rulings"]
    for finding in results["findings"]:
        if finding["ruling"] in _ON_FINDING:
            own = of_pilot(rows, finding["task"], finding["pilot"])
            own = [row for row in own if _is_about(row, finding)]
            yield from _check_charges(finding["id"], own, finding["charges"])
            decisions = {_decision(row) for row in own}
            if finding["ruling"] not in decisions:
                told = sorted(decisions)
                yield from differ(f"{finding['id']}, decision", finding["ruling"], told)
    for where, pilot, task, charges in _charged(results):
        added = [c for c in charges if c["ruling"] in _ADDING]
        counted = [c["counts"] for c in added]
        yield from differ(f"{where}, decisions count", counted, [True] * len(added))
        yield from _check_charges(where, of_pilot(rows, task, pilot), added)
    yield from _check_done(results, rows)
    yield from _check_given(results, rows)


def _check_given(results: Mapping[str, Any], rows: Rows) -> Iterator[Difference]:
    """Each result or score that people gave was entered so, and each such row counts."""
    told = _told_of(results)
    for task in results["tasks"]:
        for score in task["scores"]:
            where = f"task {task['task']}, pilot {score['pilot']}"
            own = of_pilot(rows, task["task"], score["pilot"])
            given = [r for r in own if _decision(r) == "result"]
            steps = [s for s in score["steps"] if s["kind"] == "step-result-given"]
            if steps and not any(_gives(row, step) for row in given for step in steps):
                yield from differ(f"{where}, a result given", steps[0], given)
            if given and not steps and score["pilot"] not in told:
                yield from differ(f"{where}, a result given", "nothing", given)
            set_ = [r for r in own if _decision(r) == "score"]
            amounts = {_number(row.get("amount", "")) for row in set_}
            if any(c["ruling"] == "score" for c in score["charges"]):
                fits = Fraction(score["score"]) in amounts
                yield from differ(f"{where}, a score set", fits, True)


def _gives(row: Mapping[str, str], step: Mapping[str, Any]) -> bool:
    """Tell whether a row gives the result of a step, by whom, when and why."""
    metres = taped_m(row.get("amount", ""), "m")
    numbers = [exact(v) for k, v in step.items() if k.startswith("result_")]
    if metres is not None and all(abs(metres - own) > _HUNDREDTH for own in numbers):
        return False
    at, parts = row.get("at", "").strip(), step["ruling"]["parts"]
    told = [own["when"] for own in parts if isinstance(own, Mapping) and "when" in own]
    said = {name: row.get(name, "").strip() for name in ("by", "reason")}
    again = ruled({"ruling": "result", "at": (told or [""])[0], **said})
    return bool(told) == bool(at) and same(step["ruling"], again) and _at(at, told)


def _at(at: str, told: Sequence[str]) -> bool:
    """Tell whether a time is told as it was entered, or at least is one."""
    if not at or _MOMENT.match(at):
        return not at or told[0].startswith(at[:_TO_MINUTES])
    return at == told[0] or bool(CLOCK.fullmatch(at))


def _is_about(row: Mapping[str, str], finding: Mapping[str, Any]) -> bool:
    return bool(row.get("finding", "").partition(":")[0].strip() == finding["kind"])


def _decision(row: Mapping[str, str]) -> str:
    return row.get("decision", "").strip().casefold()


def _charged(
    results: Mapping[str, Any],
) -> Iterator[tuple[str, int, int | None, Sequence[Mapping[str, Any]]]]:
    for task in results["tasks"]:
        for score in task["scores"]:
            where = f"task {task['task']}, pilot {score['pilot']}"
            yield where, score["pilot"], task["task"], score["charges"]
    for charge in results["event_charges"]:
        yield f"event, pilot {charge['pilot']}", charge["pilot"], None, [charge]


def _check_charges(
    where: str, rows: Rows, charges: Sequence[Mapping[str, Any]]
) -> Iterator[Difference]:
    """Each charge is what one of the decisions says: which, why, by whom, how much."""
    for charge in charges:
        if not any(_says(row, charge) for row in rows):
            told = {
                k: charge[k] for k in ("ruling", "amount", "unit", "reason", "by", "at")
            }
            yield from differ(f"{where}, decided", told, list(map(dict, rows)))


def _cites(row: Mapping[str, str], charge: Mapping[str, Any]) -> bool:
    """Tell whether a charge cites the rule that the decision names, if it names one."""
    named, rule = row.get("rule", "").strip(), charge["rule"]
    if not named:
        return rule is None or rule["kind"] == "rule-of-event"
    if rule is None or rule["kind"] == "rule-of-event":
        return False
    if rule["kind"] == "rule-in-words":
        return bool(rule["text"].strip() == named)
    told = [
        own["rule"] for _, own in statements_of(rule, "", within=True) if "rule" in own
    ]
    return named in told


def _says(row: Mapping[str, str], charge: Mapping[str, Any]) -> bool:
    same = all(row.get(n, "").strip() == charge[n].strip() for n in ("reason", "by"))
    same = same and _cites(row, charge)
    at = row.get("at", "").strip()
    if _MOMENT.match(at):  # else it is written in another way, as a clock alone
        same = same and charge["at"].startswith(at[:_TO_MINUTES])
    elif at != charge["at"].strip():
        same = same and bool(CLOCK.fullmatch(at))
    if not same or _decision(row) != charge["ruling"]:
        return False
    if charge["ruling"] not in {"set", "impose", "bonus"}:
        return True
    number = _number(row.get("amount", ""))
    given = (
        None if number is None else number * (-1 if charge["ruling"] == "bonus" else 1)
    )
    unit = row.get("unit", "").strip().casefold()
    if number is None and unit.endswith("points"):
        return False
    return unit == charge["unit"] and given in {None, exact(charge["amount"])}


def _number(text: str) -> Fraction | None:
    """Return what was entered as an amount; None where nothing or no plain number was."""
    try:
        return exact_text(text.strip().replace(",", "."))
    except (ValueError, ZeroDivisionError):
        return None


def _check_done(results: Mapping[str, Any], rows: Rows) -> Iterator[Difference]:
    """Each decision does something, or is told of as one that does not.

    Of a task that is planned or cancelled nothing has to come.
    """
    told = _told_of(results)
    idle = {t["task"] for t in results["tasks"] if t["state"] != "flown"}
    for row in rows:
        pilot, task, decision = (
            whole(row.get("pilot")),
            whole(row.get("task")),
            _decision(row),
        )
        where = f"decision of task {task}, pilot {pilot}"
        known = pilot in told or task in idle
        if known or decision not in {*_ON_FINDING, *_ADDING}:
            continue
        if decision in _ON_FINDING:
            done = any(
                _is_about(row, f)
                and (f["task"], f["pilot"]) == (task, pilot)
                and decision in {f["ruling"], "hold"}  # what was held is decided later
                for f in results["findings"]
            )
        else:
            done = any(
                (own_pilot, own_task) == (pilot, task)
                and any(_says(row, c) for c in charges)
                for _, own_pilot, own_task, charges in _charged(results)
            )
        if not done:
            yield from differ(f"{where}, {decision}", "entered", "nothing came of it")


def _told_of(results: Mapping[str, Any]) -> set[int]:
    """Return the pilots of whose decisions something is open, or who are out of it."""
    open_ = {
        pilot
        for matter in results["matters"]
        if matter["kind"].startswith(("ruling", "decision"))
        for pilot in matter["pilots"]
    }
    ranked = {score["pilot"] for task in results["tasks"] for score in task["scores"]}
    entered = {pilot["number"] for pilot in results["entered"]["pilots"]}
    return open_ | (entered - ranked)


def check_reported(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield reports nobody entered, and entered ones that nothing says anything of."""
    rows: Rows = results["entered"]["reports"]
    for task in results["tasks"]:
        for score in task["scores"]:
            where = f"task {task['task']}, pilot {score['pilot']}"
            own = of_pilot(rows, task["task"], score["pilot"])
            yield from _check_not_flown(where, task, score, own)
    bare = "ft" if results["entered"]["units"] == "imperial" else "m"
    for finding in results["findings"]:
        own = of_pilot(rows, finding["task"], finding["pilot"])
        for where, said in statements_of(finding["says"], finding["id"], within=True):
            if said["kind"] in {"reported-what", "reported-at"}:
                yield from differ(
                    f"{where}, reported", _as_reported(own, said, bare), True
                )
            elif said["kind"] == "reported" and "by" in said:
                names = sorted({row.get("by", "").strip() for row in own})
                if said["by"] not in {*names, "somebody", "?"}:
                    yield from differ(f"{where}, by", said["by"], names)


def _check_not_flown(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any], rows: Rows
) -> Iterator[Difference]:
    """Who is reported as not flown is in the last group, and only with such a report."""
    stayed = [r for r in rows if r.get("kind", "").strip() == "not-flown"]
    if stayed and task["state"] == "flown":
        yield from differ(f"{where}, reported as not flown", score["group"], "C")
    for step in score["steps"]:
        why = step.get("why")
        if isinstance(why, Mapping) and why["kind"] == "reported-not-flown":
            names = sorted({row.get("by", "").strip() or "?" for row in stayed})
            if why["by"] not in names:
                yield from differ(f"{where}, who reported it", why["by"], names)


def _as_reported(rows: Rows, said: Mapping[str, Any], bare: str) -> bool:
    """Tell whether one of the rows reports what is said, with its height."""
    for row in rows:
        if f"report-{row.get('kind', '').strip()}" != said["what"]:
            continue
        height = said.get("height_height_m")
        if height is None:
            return True
        read = taped_m(row.get("value", ""), row.get("unit") or bare)
        if read is None or abs(read - exact(height)) <= _HUNDREDTH:
            return True
    return False


def check_named(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Rows name flights, tasks and pilots there are; declared goals are those declared."""
    entered = results["entered"]
    of_flight = {task["task"]: task["flight"] for task in results["tasks"]}
    flights = {flight["flight"] for flight in results["flights"]}
    pilots = {pilot["number"] for pilot in entered["pilots"]}
    for table in ("reports", "rulings", "declarations", "targets"):
        for number, row in enumerate(entered[table], start=1):
            where, task = f"{table} {number}", whole(row.get("task"))
            flight = of_flight.get(task) if task is not None else row["flight"]
            yield from differ(f"{where}, flight", row["flight"], flight)
            yield from differ(
                f"{where}, flight there is", row["flight"] in flights, True
            )
            if table != "targets" and whole(row.get("pilot")) not in pilots:
                yield from differ(
                    f"{where}, pilot", row.get("pilot"), "one of the roster"
                )
    for task in results["tasks"]:
        for score in task["scores"]:
            own = of_pilot(entered["declarations"], task["task"], score["pilot"])
            goals = {row.get("goal", "").strip().casefold() for row in own}
            where = f"task {task['task']}, pilot {score['pilot']}"
            for step in score["steps"]:
                declared = step["kind"] in {"declared-goal", "declared-goal-at-height"}
                if declared and step["goal"].strip().casefold() not in goals:
                    told = sorted(goals)
                    yield from differ(f"{where}, declared goal", step["goal"], told)
