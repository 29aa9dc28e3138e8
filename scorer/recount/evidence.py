"""Logs, rows, places and goals: each is named by something, and named rightly."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from scorer.recount.entries import of_pilot, places_named
from scorer.recount.forms import CLOCK
from scorer.recount.globe import GlobePoint, MercatorZone, grid_of, places_of
from scorer.recount.numbers import Difference, differ, exact, half_up
from scorer.recount.statements import statements_of

_ROUND_M = 0.51
"""Coordinates of goals are told to a metre, places are kept to a centimetre."""

_UNITS = {"", "task points", "event points", "metres", "no result", "disqualified"}
_NAMED = ("reports", "declarations")
"""Tables whose rows are evidence."""


def check_evidence(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield evidence, rows and goals that nothing else in the file bears out."""
    yield from _check_logs(results)
    yield from _check_entered(results)
    yield from _check_goals(results)


def _check_logs(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Logs are of pilots there are; evidence names logs, and reports as entered."""
    roster = {pilot["number"] for pilot in results["pilots"]} | {None}
    names = {f"{table}.csv" for table in _NAMED}
    for flight in results["flights"]:
        for log in flight["logs"]:
            where = f"flight {flight['flight']}, {log['name']}"
            yield from differ(f"{where}, of the roster", log["pilot"] in roster, True)
            names.add(log["name"])
        yield from _check_without(results, flight)
    for finding in results["findings"]:
        where, told = f"{finding['id']}, evidence", finding["evidence"]
        own = {
            _named(table, row)
            for table in _NAMED
            for row in of_pilot(
                results["entered"][table], finding["task"], finding["pilot"]
            )
        }
        for one in sorted({*names, *own}, key=len, reverse=True):
            told = told.replace(one, "")
        yield from differ(where, told.strip("; "), "")


def _check_without(
    results: Mapping[str, Any], flight: Mapping[str, Any]
) -> Iterator[Difference]:
    """Whoever flew without a log, where others have one, is told of."""
    own = flight["flight"]
    have = {log["pilot"] for log in flight["logs"]}
    told = {
        pilot
        for matter in results["matters"]
        if (matter["kind"], matter["flight"]) == ("no-log", own)
        for pilot in matter["pilots"]
    }
    flew = {
        score["pilot"]
        for task in results["tasks"]
        if task["flight"] == own and task["state"] == "flown"
        for score in task["scores"]
        if score["group"] != "C"
    }
    if have:
        yield from differ(
            f"flight {own}, without a log", sorted(flew - have - told), []
        )


def _named(table: str, row: Mapping[str, str]) -> str:
    """Return how evidence names a row."""
    told = [row[name].strip() for name in ("by", "time") if row.get(name, "").strip()]
    return f"{table}.csv ({', '.join(told)})"


def _check_entered(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Rows have times, and no place is there that nothing names."""
    entered = results["entered"]
    names = [place["name"] for place in entered["places"]]
    yield from differ("places, names", len(names), len(set(names)))
    system = entered["reference_system"]
    if system.upper().startswith("EPSG"):
        fits = bool(re.fullmatch(r"(?i)EPSG:{1,2}\d{4,6}(\+\d+)?", system))
        yield from differ("reference system", fits, True)
    units = {row.get("unit", "").strip().casefold() for row in entered["rulings"]}
    yield from differ("units of decisions", sorted(units - _UNITS), [])
    yield from differ("units", entered["units"] in {"metric", "imperial"}, True)
    for table in ("reports", "declarations", "targets"):
        for number, row in enumerate(entered[table], start=1):
            if row.get("time") and not CLOCK.fullmatch(row["time"].strip()):
                yield from differ(f"{table} {number}, time", row["time"], "a time")
    named = places_named(results, places=False)
    for task in results["tasks"]:
        for score in task["scores"]:
            named |= {
                keying["fields"].get(name, "").strip().casefold()
                for mark in score["marks"]
                for keying in mark["keyings"]
                for name in ("from", "from2")
            }
    everybody = {pilot["number"] for pilot in entered["pilots"]}
    ranked = [{s["pilot"] for s in task["scores"]} for task in results["tasks"]]
    if all(own >= everybody for own in ranked):  # all rows are here
        here = {place["name"].casefold() for place in entered["places"]}
        yield from differ("places that nothing names", sorted(here - named), [])


def _check_goals(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Goals lie where their places do, and are those that were declared."""
    entered = results["entered"]
    places = places_of(entered)
    grid = grid_of(entered["reference_system"])
    for task in results["tasks"]:
        for score in task["scores"]:
            where = f"task {task['task']}, pilot {score['pilot']}"
            own = of_pilot(entered["declarations"], task["task"], score["pilot"])
            goals = [row.get("goal", "") for row in own]
            for at, said in statements_of(score["steps"], where, within=True):
                if said["kind"] == "goal-named" and goals:
                    named = said["goal"].strip().casefold()
                    told = {goal.strip().casefold() for goal in goals}
                    yield from differ(f"{at}, declared", named in told, True)
                if said["kind"] == "goal-at" and isinstance(
                    said.get("goal_place"), str
                ):
                    yield from _check_goal(at, said, goals, places, grid)


def _check_goal(
    where: str,
    said: Mapping[str, Any],
    goals: Sequence[str],
    places: Mapping[str, GlobePoint],
    grid: MercatorZone | None,
) -> Iterator[Difference]:
    """A place that may have been meant is one that was declared, where it lies."""
    name, at = said["goal_place"], said["at"]
    place = places.get(name.casefold())
    if goals and all(goal.strip().casefold() in places for goal in goals):
        declared = name.casefold() in {goal.strip().casefold() for goal in goals}
        yield from differ(f"{where}, declared", declared, True)
    if name in goals:
        yield from differ(f"{where}, a place", place is not None, True)
    if place is None or grid is None or at["kind"] != "grid-coordinates":
        return
    told = [exact(at[axis]) for axis in ("east_number", "north_number")]
    yield from differ(f"{where}, whole metres", told, [half_up(one) for one in told])
    gap = max(abs(float(a) - b) for a, b in zip(told, grid.of(place), strict=True))
    if gap > _ROUND_M:
        yield from differ(f"{where}, its coordinates", f"{gap:.1f} m", "there")
