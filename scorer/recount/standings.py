"""Work standings out again: totals, results, ties, classes, teams."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact, half_up, total_of


def check_standings(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Compare standings of the field, of classes and of teams."""
    flown = [t for t in results["tasks"] if t["state"] == "flown"]
    imposed = _event_points(results, flown)
    yield from _check_event_charges(results)
    for task in flown:
        for score in task["scores"]:
            where = f"task {task['task']}, pilot {score['pilot']}"
            own = int(total_of(score, "task points"))
            yield from differ(f"{where}, task penalty", score["task_penalty"], own)
            off = int(total_of(score, "event points"))
            yield from differ(f"{where}, event penalty", score["event_penalty"], off)
    keys = []
    for row in results["standings"]:
        where = f"standings, pilot {row['pilot']}"
        off = imposed[str(row["pilot"])]
        yield from differ(f"{where}, penalty", row.get("event_penalty", off), off)
        line = _ByResult if _by_result(results) else _ByPoints
        own_line = line(results, flown, row)
        yield from own_line.check(where, off)
        keys.append(own_line.key(off))
    yield from _check_ranks("standings, pilot", results["standings"], keys)
    yield from _check_classes(results)
    yield from _check_teams(results)


def _by_result(results: Mapping[str, Any]) -> bool:
    measure = results.get("standings_by", {}).get("measure")
    return bool(measure == "result")


def _event_points(
    results: Mapping[str, Any], flown: Sequence[Mapping[str, Any]]
) -> Counter[str]:
    points = Counter(results.get("event_penalties", {}))
    for task in flown:
        for score in task["scores"]:
            points[str(score["pilot"])] += int(total_of(score, "event points"))
    return points


def _check_event_charges(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Event points imposed on the event as a whole add up to what is published."""
    if "event_charges" not in results:
        return
    sums: Counter[str] = Counter()
    for charge in results["event_charges"]:
        if charge["counts"] and charge["unit"] == "event points":
            sums[str(charge["pilot"])] += half_up(exact(charge["amount"]))
    yield from differ("event penalties", dict(results["event_penalties"]), dict(sums))


def _check_ranks(
    what: str,
    rows: Sequence[Mapping[str, Any]],
    keys: Sequence[tuple[Fraction, ...]],
    name: str = "pilot",
) -> Iterator[Difference]:
    """Rank by keys, the smallest best: one more than there are better ones."""
    for row, key in zip(rows, keys, strict=True):
        rank = 1 + sum(other < key for other in keys)
        yield from differ(f"{what} {row[name]}, rank", row["rank"], rank)


class _ByPoints:
    """One line of standings over points."""

    def __init__(
        self,
        results: Mapping[str, Any],
        flown: Sequence[Mapping[str, Any]],
        row: Mapping[str, Any],
    ) -> None:
        self.rules, self.flown, self.row = results["standings_rules"], flown, row
        self.own = [_own(task, row["pilot"]) for task in flown]
        self.scores = [score["score"] if score else 0 for score in self.own]

    def total(self, off: int) -> int:
        ordered = sorted(self.scores, reverse=True)
        return int(sum(ordered[: self.rules["best_of"]])) - off

    def check(self, where: str, off: int) -> Iterator[Difference]:
        numbers = [str(task["task"]) for task in self.flown]
        listed = {
            task: score["score"]
            for task, score in zip(numbers, self.own, strict=True)
            if score
        }
        stated = {  # results of old state 0 where a pilot was not entered
            task: score
            for task, score in self.row["tasks"].items()
            if score or task in listed
        }
        yield from differ(f"{where}, scores", stated, listed)
        yield from differ(f"{where}, total", self.row["total"], self.total(off))
        yield from differ(f"{where}, result", self.row.get("result"), None)
        if "counted" in self.row:
            counts = self._counting(numbers, listed)
            yield from differ(f"{where}, what counts", self.row["counted"], counts)
            counted = sum(listed.get(str(t), 0) for t in self.row["counted"]) - off
            yield from differ(f"{where}, counted", self.row["total"], counted)

    def _counting(self, numbers: list[str], listed: Mapping[str, int]) -> list[int]:
        """Return what counts: all as they were flown, or the best by their numbers."""
        most = self.rules["best_of"] or len(numbers)
        if most < len(numbers):
            order = {n: (-listed.get(n, 0), n not in listed, int(n)) for n in numbers}
            best = sorted(numbers, key=order.__getitem__)[:most]
            numbers = sorted(best, key=int)
        return [int(n) for n in numbers if n in listed]

    def key(self, off: int) -> tuple[Fraction, ...]:
        breakers: dict[str, list[int]] = {
            "shared-rank": [],
            "best-scores": sorted(-s for s in self.scores),
            "most-wins": [
                -sum(bool(s and s["rank"] == 1 and s["score"]) for s in self.own)
            ],
            "last-task": [-s for s in reversed(self.scores)],
        }
        parts = [-self.total(off), *breakers[self.rules["ties"]]]
        return tuple(Fraction(part) for part in parts)


class _ByResult:
    """One line of standings over results, where the rule book gives no points."""

    def __init__(
        self,
        results: Mapping[str, Any],
        flown: Sequence[Mapping[str, Any]],
        row: Mapping[str, Any],
    ) -> None:
        self.row, self.best = row, flown[0]["best"]
        self.wanted = min(
            results["standings_rules"]["best_of"] or len(flown), len(flown)
        )
        self.found = {}
        for task in flown:
            score = _own(task, row["pilot"])
            if score and score["result"] is not None:
                self.found[str(task["task"])] = exact(score["result"])

    def counted(self) -> list[Fraction]:
        return sorted(self.found.values(), reverse=self.best == "greatest")[
            : self.wanted
        ]

    def check(self, where: str, _off: int) -> Iterator[Difference]:
        total = sum(self.counted(), Fraction(0)) if self.found else None
        published = self.row.get("result")
        shown = None if published is None else exact(published)
        yield from differ(f"{where}, result", shown, total)
        listed = {k: exact(v) for k, v in self.row.get("results", {}).items()}
        yield from differ(f"{where}, results", listed, self.found)
        yield from differ(f"{where}, total", self.row["total"], 0)
        if "counted" in self.row:
            told = sorted(self.found[str(task)] for task in self.row["counted"])
            yield from differ(f"{where}, what counts", told, sorted(self.counted()))

    def key(self, _off: int) -> tuple[Fraction, ...]:
        counted = self.counted()
        total, none = sum(counted, Fraction(0)), Fraction(not counted)
        if self.best == "greatest":
            return none, -total
        return none, Fraction(self.wanted - len(counted)), total


def _own(task: Mapping[str, Any], pilot: int) -> Mapping[str, Any] | None:
    return next((s for s in task["scores"] if s["pilot"] == pilot), None)


def _check_classes(results: Mapping[str, Any]) -> Iterator[Difference]:
    """A class is the standings cut down to its pilots."""
    overall = {row["pilot"]: row for row in results["standings"]}
    for name, rows in results.get("class_standings", {}).items():
        for row in rows:
            same = {**overall[row["pilot"]], "rank": row["rank"]}
            where = f"class {name}, pilot {row['pilot']}"
            yield from differ(where, dict(row), same)
        keys = [(exact(overall[row["pilot"]]["rank"]),) for row in rows]
        yield from _check_ranks(f"class {name}, pilot", rows, keys)


def _check_teams(results: Mapping[str, Any]) -> Iterator[Difference]:
    """A team adds up what its counting pilots have."""
    teams = results.get("team_standings", [])
    overall = {row["pilot"]: row for row in results["standings"]}
    size = results["standings_rules"].get("team_size")
    keys: list[tuple[Fraction, ...]] = []
    for team in teams:
        where, members = f"team {team['team']}", team["pilots"]
        counting = len(members) if size is None else min(size, len(members))
        yield from differ(f"{where}, pilots that count", len(members), counting)
        total = sum(overall[pilot]["total"] for pilot in members)
        yield from differ(f"{where}, total", team["total"], total)
        if not _by_result(results):
            yield from differ(f"{where}, result", team.get("result"), None)
            keys.append((Fraction(-total),))
            continue
        results_of = [exact(overall[pilot]["result"]) for pilot in members]
        added = sum(results_of, Fraction(0)) if members else None
        shown = None if team["result"] is None else exact(team["result"])
        yield from differ(f"{where}, result", shown, added)
        greatest = results["standings_by"]["best"] == "greatest"
        missing = _missing(results, team, size, [overall[p] for p in members])
        missing = Fraction(0) if greatest else missing
        value = (added or Fraction(0)) * (-1 if greatest else 1)
        keys.append((Fraction(not members), missing, value))
    yield from _check_ranks("team", teams, keys, "team")


def _missing(
    results: Mapping[str, Any],
    team: Mapping[str, Any],
    size: int | None,
    counting: Sequence[Mapping[str, Any]],
) -> Fraction:
    """Count the results that a team should have and has not."""
    if "members" not in team:  # results of old counted pilots, not their tasks
        return Fraction(0 if size is None else size - len(counting))
    flown = sum(task["state"] == "flown" for task in results["tasks"])
    wanted = min(results["standings_rules"]["best_of"] or flown, flown)
    members = size or int(team["members"])
    found = sum(min(len(row.get("results", {})), wanted) for row in counting)
    return Fraction(members * wanted - found)
