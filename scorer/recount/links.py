"""Compare what results.json says of one thing in several places."""

from collections import Counter, defaultdict, deque
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from fractions import Fraction
from typing import Any

from scorer.recount.digests import plain
from scorer.recount.marks import ONE_TARGET, given, taped_m
from scorer.recount.numbers import Difference, differ, exact

_CERTAIN_FROM = Fraction(99, 100)
BLOCKS = {"official": 0, "final": 1, "nothing": 2}
"""What a matter keeps from coming, what matters most first."""
_NEAR_M = Fraction(1, 10000)


def check_links(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield what is there twice, is missing, or does not agree with its other place."""
    yield from _check_pilots(results)
    yield from _check_tables(results)
    yield from _check_findings(results)
    yield from _check_warnings(results)
    yield from _check_logs(results)
    for task in results["tasks"]:
        yield from _check_task(task)


def once(where: str, items: Sequence[Any]) -> Iterator[Difference]:
    """Yield what is there more than once."""
    for item, times in Counter(items).items():
        if times > 1:
            yield from differ(f"{where} {item}", f"{times} times", "once")


def _check_pilots(results: Mapping[str, Any]) -> Iterator[Difference]:
    numbers = [pilot["number"] for pilot in results["pilots"]]
    yield from once("pilots, number", numbers)
    if not numbers:
        return
    named = {row["pilot"] for row in results["standings"]}
    for task in results["tasks"]:
        named |= {score["pilot"] for score in task["scores"]}
        named |= {guest["pilot"] for guest in task.get("guests", ())}
    named |= {finding["pilot"] for finding in results["findings"]}
    strangers = named - set(numbers) - {None}
    yield from differ("pilots nobody entered", sorted(strangers), [])


def _check_tables(results: Mapping[str, Any]) -> Iterator[Difference]:
    """All who have a score in a flown task stand in the standings, each once."""
    rows = results["standings"]
    yield from _check_order("standings", rows)
    flown = [t for t in results["tasks"] if t["state"] == "flown"]
    scored = {score["pilot"] for task in flown for score in task["scores"]}
    standing = {row["pilot"] for row in rows}
    if (flown and rows) or scored:
        missing = sorted(scored - standing)
        yield from differ("standings, pilots not there", missing, [])
    tables = results["class_standings"]
    members = [row["pilot"] for own in tables.values() for row in own]
    yield from once("classes, pilot", members)
    for name, own in tables.items():
        yield from _check_order(f"class {name}", own)
    teams = results.get("team_standings", ())
    yield from once("teams", [team["team"] for team in teams])
    yield from once("teams, pilot", [p for team in teams for p in team["pilots"]])


def _check_order(name: str, rows: Sequence[Mapping[str, Any]]) -> Iterator[Difference]:
    yield from once(f"{name}, pilot", [row["pilot"] for row in rows])
    ranks = [row["rank"] for row in rows]
    yield from differ(f"{name}, order of ranks", ranks, sorted(ranks))


def _check_findings(results: Mapping[str, Any]) -> Iterator[Difference]:
    findings = results["findings"]
    yield from once("infringement", [finding["id"] for finding in findings])
    for task in results["tasks"]:
        for score in task["scores"]:
            about = f"task {task['task']}, pilot {score['pilot']}, infringement"
            yield from once(about, score["findings"])
            for name in score["findings"]:
                own = next((f for f in findings if f["id"] == name), None)
                where = f"task {task['task']}, pilot {score['pilot']}, {name}"
                if own is None:
                    yield from differ(where, "named", "not among the infringements")
                    continue
                yield from differ(f"{where}, pilot", own["pilot"], score["pilot"])
                if own["task"] is not None:
                    yield from differ(f"{where}, task", own["task"], task["task"])
    for finding in findings:
        yield from _check_finding(finding, results["tasks"])


def _check_finding(
    finding: Mapping[str, Any], tasks: Sequence[Mapping[str, Any]]
) -> Iterator[Difference]:
    where = finding["id"]
    own = next((t for t in tasks if t["task"] == finding["task"]), None)
    if own is not None:
        yield from differ(f"{where}, flight", finding["flight"], own["flight"])
        listed = [
            score["pilot"] for score in own["scores"] if where in score["findings"]
        ]
        here = any(score["pilot"] == finding["pilot"] for score in own["scores"])
        wanted = [finding["pilot"]] if here else listed
        yield from differ(f"{where}, scores that name it", listed, wanted)
    chance = exact(finding["probability"])
    if not 0 <= chance <= 1:
        yield from differ(f"{where}, probability", chance, "0 to 1")
    if finding["verdict"] == "certain" and chance < _CERTAIN_FROM:
        yield from differ(f"{where}, certain", chance, "0.99 or more")
    for charge in finding["charges"]:
        yield from differ(f"{where}, charge", charge["finding"], where)
    begin, end = _moment(finding["from"]), _moment(finding["to"])
    if begin is not None and end is not None and begin > end:
        yield from differ(f"{where}, from", finding["from"], f"until {finding['to']}")
    excess = finding["excess"]
    if None not in (finding["measured"], finding["limit"], excess) and excess:
        beyond = abs(exact(finding["measured"]) - exact(finding["limit"]))
        if abs(beyond - exact(excess)) > Fraction(2, 100):
            yield from differ(f"{where}, excess", exact(excess), beyond)


def _moment(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text)


def _check_warnings(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Each open matter has its warnings: one, or one for each that it stands for."""
    warned = Counter(
        (w["kind"], w["flight"], w["task"], plain(w["says"]))
        for w in results["warnings"]
    )
    told: Counter[tuple[Any, ...]] = Counter()
    alike: dict[tuple[Any, ...], list[Mapping[str, Any]]] = defaultdict(list)
    grouped: set[tuple[Any, ...]] = set()
    for matter in results["matters"]:
        about = matter["kind"], matter["flight"], matter["task"]
        alike[(*about, plain(matter["says"]))].append(matter)
        for says in matter["values"] or [matter["says"]]:
            told[(*about, plain(says))] += 1
        if matter["values"]:
            grouped |= {(*about, pilot) for pilot in matter["pilots"]}
    yield from differ("warnings", sum(warned.values()), sum(told.values()))
    for key in [k for k in {**warned, **told} if warned[k] != told[k]]:
        where = f"warning {key[0]}, flight {key[1]}, task {key[2]}"
        yield from differ(where, warned[key], told[key])
    yield from _check_order_told(results)
    for warning in results["warnings"]:
        about = warning["kind"], warning["flight"], warning["task"]
        same = alike[(*about, plain(warning["says"]))]
        alone = (*about, warning["pilot"]) not in grouped
        if same and alone:  # else it is one of several that a matter stands for
            yield from _check_warning(warning, same)


def _check_order_told(results: Mapping[str, Any]) -> Iterator[Difference]:
    """What keeps results from official comes first; within that, as warnings come."""
    come: dict[tuple[Any, ...], deque[int]] = defaultdict(deque)
    for number, own in enumerate(results["warnings"]):
        come[own["kind"], own["flight"], own["task"], plain(own["says"])].append(number)
    places = []
    for matter in results["matters"]:
        about = matter["kind"], matter["flight"], matter["task"]
        waiting = [
            come[*about, plain(says)] for says in matter["values"] or [matter["says"]]
        ]
        # Words may be the same of several: each matter stands for the next of them.
        numbers = [numbers.popleft() for numbers in waiting if numbers]
        weight = BLOCKS.get(matter["blocks"], 0), matter["accepted"] is None
        places.append((*weight, *numbers[:1]))
    yield from differ("order of matters", places, sorted(places))


def _check_warning(
    warning: Mapping[str, Any], alike: Sequence[Mapping[str, Any]]
) -> Iterator[Difference]:
    """Compare a warning with the matter that says the same of the same pilot."""
    where = f"warning {warning['kind']}"
    pilots = {None if len(m["pilots"]) != 1 else m["pilots"][0]: m for m in alike}
    matter = pilots.get(warning["pilot"])
    if matter is None:
        yield from differ(f"{where}, pilot", warning["pilot"], sorted(pilots, key=str))
        return
    yield from differ(f"{where}, text", warning["text"], matter["text"])
    holds = matter["blocks"] != "nothing" and matter["accepted"] is None
    yield from differ(f"{where}, blocks", warning["blocks"], holds)


def _check_logs(results: Mapping[str, Any]) -> Iterator[Difference]:
    known: dict[str, set[str]] = {}
    for flight in results["flights"]:
        where = f"flight {flight['flight']}"
        yield from once(f"{where}, log", [log["name"] for log in flight["logs"]])
        for log in flight["logs"]:
            known.setdefault(log["sha256"], set()).add(log["name"])
    for finding in results["findings"]:
        if finding["sha256"] and known and finding["sha256"] not in known:
            where = f"{finding['id']}, evidence"
            yield from differ(where, finding["sha256"], "the hash of a log")
    named = [flight["flight"] for flight in results["flights"]]
    yield from once("flight", named)
    flown = {task["flight"] for task in results["tasks"]}
    if named:
        yield from differ("flights of tasks", sorted(flown - set(named)), [])


def _check_task(task: Mapping[str, Any]) -> Iterator[Difference]:
    where, scores = f"task {task['task']}", task["scores"]
    yield from once(f"{where}, pilot", [score["pilot"] for score in scores])
    if task["state"] == "flown":
        sum_ = task["accounted_for"] + len(task["missing"])
        yield from differ(f"{where}, accounted for or missing", sum_, len(scores))
        unknown = {s["pilot"] for s in scores if not s["marks"] and s["group"] != "A"}
        absent = sorted(set(task["missing"]) & unknown)
        yield from differ(f"{where}, missing", list(task["missing"]), absent)
    classes = {own["class"] for own in task.get("fields", ())} or {""}
    strange = {score.get("field", "") for score in scores} - classes
    yield from differ(f"{where}, classes that are not ranked", sorted(strange), [])
    for score in scores:
        own = f"{where}, pilot {score['pilot']}"
        low, high = score["rank_range"]
        if score["group"] == "A" and not low <= score["rank"] <= high:
            yield from differ(f"{own}, places it may be", [low, high], score["rank"])
        if len(score["marks"]) == 1 and score["measured"] is not None:
            yield from _check_mark(own, task, score)


def _check_mark(
    where: str, task: Mapping[str, Any], score: Mapping[str, Any]
) -> Iterator[Difference]:
    """The one tape from the one target is what was measured, in metres or feet."""
    mark = score["marks"][0]
    if len(mark["keyings"]) != 1 or task["kind"] not in ONE_TARGET or given(score):
        return
    row = mark["keyings"][0]["fields"]
    if row.get("method") != "tape" or row.get("from") or not row.get("distance"):
        return
    units = [row["unit"]] if row.get("unit") else ["m", "ft"]
    read = [taped_m(row["distance"], unit) for unit in units]
    measured = exact(score["measured"])
    if None in read or any(abs(far - measured) <= _NEAR_M for far in read if far):
        return
    yield from differ(f"{where}, entered distance", measured, read[0])
