"""Work out from the roster who is ranked where: in tasks, in classes, in teams."""

from collections.abc import Iterator, Mapping
from typing import Any

from scorer.recount.numbers import Difference, differ


def check_who(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield who is ranked where the roster does not put them, or is not."""
    roster = {pilot["number"]: pilot for pilot in results["entered"]["pilots"]}
    named = [pilot["number"] for pilot in results["pilots"]]
    numbers = [pilot["number"] for pilot in results["entered"]["pilots"]]
    yield from differ("roster", numbers, named)
    numbers = [task["task"] for task in results["entered"]["tasks"]]
    yield from differ("tasks set", [t["task"] for t in results["tasks"]], numbers)
    for task in results["tasks"]:
        if task["state"] == "flown":
            yield from _check_task(task, roster)
    for name, rows in results["class_standings"].items():
        own = [roster[row["pilot"]]["class"] for row in rows]
        yield from differ(
            f"class {name}, classes of its pilots", own, [name] * len(own)
        )
    ranked = [row["pilot"] for row in results["standings"]]
    if results["class_standings"]:
        placed = {
            row["pilot"] for rows in results["class_standings"].values() for row in rows
        }
        lacking = [n for n in ranked if roster[n]["class"] and n not in placed]
        yield from differ("classes, pilots in none", lacking, [])
    guests = [number for number in ranked if not roster[number].get("competes", True)]
    yield from differ("standings, out of competition", guests, [])
    yield from _check_teams(results, roster)


def _check_task(
    task: Mapping[str, Any], roster: Mapping[int, Mapping[str, Any]]
) -> Iterator[Difference]:
    number = task["task"]
    entered = {
        own["number"]
        for own in roster.values()
        if own.get("enters", number) <= number < own.get("leaves", number + 1)
    }
    ranked = {n for n in entered if roster[n].get("competes", True)}
    scored = {score["pilot"] for score in task["scores"]}
    yield from differ(f"task {number}, who is entered", sorted(scored), sorted(ranked))
    for guest in task.get("guests", ()):
        out = guest["pilot"] in entered - ranked
        yield from differ(f"task {number}, guest {guest['pilot']}", out, True)
    if task.get("fields"):
        for score in task["scores"]:
            where = f"task {number}, pilot {score['pilot']}, class"
            yield from differ(where, score["field"], roster[score["pilot"]]["class"])


def _check_teams(
    results: Mapping[str, Any], roster: Mapping[int, Mapping[str, Any]]
) -> Iterator[Difference]:
    """The members that count are those with the best places of their team."""
    places = {row["pilot"]: row["rank"] for row in results["standings"]}
    size = results["standings_rules"].get("team_size")
    for team in results.get("team_standings", ()):
        name, where = team["team"], f"team {team['team']}"
        others = [roster[n].get("team") for n in team["pilots"]]
        yield from differ(f"{where}, of another one", others, [name] * len(others))
        own = sorted(places[n] for n in places if roster[n].get("team") == name)
        if "members" in team:
            yield from differ(f"{where}, its pilots", team["members"], len(own))
        if results["standings_by"]["measure"] == "result":
            have = sum(
                row.get("result") is not None
                and roster[row["pilot"]].get("team") == name
                for row in results["standings"]
            )
            counting = have if size is None else min(size, have)
            yield from differ(f"{where}, that count", len(team["pilots"]), counting)
        best = own if size is None else own[:size]
        if results["standings_by"]["measure"] == "points":
            counting = sorted(places[n] for n in team["pilots"])
            yield from differ(f"{where}, places that count", counting, best)
    listed = {team["team"] for team in results.get("team_standings", ())}
    teams = any("team" in pilot for pilot in roster.values())
    yield from differ("teams are ranked", "team_standings" in results, teams)
    if "team_standings" in results:
        named = {roster[n].get("team", "") for n in places} - {""}
        yield from differ("teams", sorted(listed), sorted(named))
