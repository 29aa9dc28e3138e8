"""results.json: the published form of results, format 1."""

import hashlib
import json
from collections import Counter
from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from scorer.event.matter import Matter
from scorer.facts import Fact
from scorer.progress import undisturbed
from scorer.rounding import Exact, exact, shown, text, whole
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import (
    Charge,
    FlightResult,
    Formula,
    Guest,
    MarkResult,
    Results,
    RuledFinding,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.scoring.statements import Words, of_task, vocabulary
from scorer.units import INCH_M
from scorer.words.voice import Voice

FORMAT = 1
OF_A_TASK = 3
"""Level of a task in the text."""

Document = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A part of results.json as it stands there, which is made once."""

    text: bytes
    """JSON as `indented` writes it at the level of a task, UTF-8."""
    plain: bytes
    """What its digest is made of, UTF-8."""
    words: Words

    @classmethod
    def of(cls, task: TaskResult, voice: Voice) -> "Written":
        """Write a task down."""
        tree = _task(task, voice)
        return cls(
            text=_bytes(indented(tree, OF_A_TASK)),
            plain=_bytes(_plain(tree)),
            words=Words.of(of_task(task)),
        )


def document(results: Results) -> Document:
    """Return results as the tree of results.json: plain types, in a fixed order."""
    tasks = [_task(task, results.voice) for task in results.tasks]
    return _whole(results, tasks, [Words.of(of_task(task)) for task in results.tasks])


def _whole(
    results: Results, tasks: Sequence[Document | Written], of_tasks: Iterable[Words]
) -> Document:
    tree: Document = {
        "format": FORMAT,
        "event": {"name": results.event, "rule_book": results.book},
        "caution": results.voice.word("caution"),
        "pilots": [
            {"number": number, "name": name}
            for number, name in results.voice.pilots.items()
        ],
        "tasks": tasks,
        "findings": [_finding(ruled, results.voice) for ruled in results.findings],
        "standings_by": {
            "measure": results.standings.by,
            "unit": results.standings.unit,
            "best": results.standings.best,
        },
        "standings": [_standing(row) for row in results.standings.rows],
        "standings_rules": {
            "best_of": results.standings_rule.best_of,
            "ties": results.standings_rule.ties,
            "team_size": results.standings_rule.team_size,
        },
        "event_penalties": _event_penalties(results),
        "event_charges": [
            {"pilot": pilot, **_charge(charge)}
            for pilot, charge in results.event_charges
        ],
        "class_standings": {
            table.title: [_standing(row) for row in table.rows]
            for table in results.class_standings
        },
        "flights": [_flight(flight) for flight in results.flights],
        "matters": [_matter(matter, results.voice) for matter in results.told],
        "warnings": [_warning(matter, results.voice) for matter in results.matters],
    }
    if results.team_standings is not None:
        tree["team_standings"] = _teams(results.team_standings)
    if results.entered is not None:
        tree["entered"] = results.entered.document()
    tree["statements"] = vocabulary(results, of_tasks)
    tree["digests"] = {name: digest(part) for name, part in tree.items()}
    return tree


def compared(results: Results, beside: Results | None = None) -> Document:
    """Return the parts of results.json by which two versions are compared.

    Of scores that are the same in `beside`, with which it will be, the number alone.
    """
    return {
        "tasks": [
            _task(task, results.voice, _unchanged(task, results, beside))
            for task in results.tasks
        ],
        "standings": [_standing(row) for row in results.standings.rows],
    }


def _unchanged(task: TaskResult, of: Results, beside: Results | None) -> set[int]:
    """Return the pilots whose scores of a task are the same in both."""
    other = beside and beside.task(task.task)
    if not beside or not other or beside.voice != of.voice:
        return set()
    if (task.unit, task.step_unit) != (other.unit, other.step_unit):
        return set()
    theirs = {score.pilot: score for score in other.scores}
    return {own.pilot for own in task.scores if theirs.get(own.pilot) == own}


def digest(part: Any) -> str:
    """Return the SHA-256 of a part, whatever its spacing and the order of its names."""
    return hashlib.sha256(_bytes(_plain(part))).hexdigest()


def _plain(part: Any) -> str:
    """Write a value with a mark of its kind, its names in order, numbers as fractions."""
    match part:
        case dict():
            return (
                "{" + "".join(_plain(k) + _plain(part[k]) for k in sorted(part)) + "}"
            )
        case list() | tuple():
            return "[" + "".join(_plain(one) for one in part) + "]"
        case str():
            return f"'{len(part)}:{part}"
        case None | True | False:
            return f"!{part};"
        case Written():
            return _text(part.plain)
    return f"#{part}/1;" if isinstance(part, int) else _fraction(float.__repr__(part))


@lru_cache(maxsize=100_000)
def _fraction(text_: str) -> str:
    numerator, denominator = Fraction(text_).as_integer_ratio()
    return f"#{numerator}/{denominator};"


def to_json(results: Results, keep: Keep = NOTHING_KEPT) -> str:
    """Return results.json: the same results give the same text.

    A task that `keep` knows since it was scored is written once.
    """
    with undisturbed():
        tasks = [_written(task, results.voice, keep) for task in results.tasks]
        return indented(_whole(results, tasks, [own.words for own in tasks])) + "\n"


def _written(task: TaskResult, voice: Voice, keep: Keep) -> Written:
    known = keep.named(task.place, task)
    if not known:
        return Written.of(task, voice)
    parts = known, task.task, voice
    of = f"{task.flight} {task.task}"
    return keep.newest("written", of, parts, lambda: Written.of(task, voice))


def _bytes(text_: str) -> bytes:
    return text_.encode("utf-8", "surrogatepass")


def _text(written: bytes) -> str:
    return written.decode("utf-8", "surrogatepass")


def indented(tree: Any, level: int = 1) -> str:
    """Write a tree as JSON, a line for each value, one space deeper for each level.

    The same text as that of `json.dumps(tree, ensure_ascii=False, indent=1,
    allow_nan=False)`, which does all of it in Python: here only what holds others.
    """
    if isinstance(tree, Written):
        return _text(tree.text)
    if not isinstance(tree, dict | list | tuple) or not tree:
        return _encoder(level)(tree)
    nested = any(
        isinstance(one, dict | list | tuple | Written) and one
        for one in (tree.values() if isinstance(tree, dict) else tree)
    )
    pad = "\n" + " " * level
    if not nested:
        flat = _encoder(level)(tree)
        return f"{flat[0]}{pad}{flat[1:-1]}{pad[:-1]}{flat[-1]}"
    if isinstance(tree, dict):
        parts = [f"{_name(k)}: {indented(v, level + 1)}" for k, v in tree.items()]
        return "{" + pad + f",{pad}".join(parts) + pad[:-1] + "}"
    parts = [indented(one, level + 1) for one in tree]
    return "[" + pad + f",{pad}".join(parts) + pad[:-1] + "]"


@cache
def _encoder(level: int) -> Callable[[Any], str]:
    between = (",\n" + " " * level, ": ")
    own = json.JSONEncoder(
        ensure_ascii=False, allow_nan=False, separators=between, check_circular=False
    )
    return own.encode


@lru_cache(maxsize=10_000, typed=True)
def _name(key: object) -> str:
    """Write the name of a value; numbers as text, as JSON has it."""
    return _encoder(0)({key: None}).removeprefix("{").removesuffix(": null}")


def moment(time_s: float | None) -> str | None:
    """Return a moment as `2026-09-12T06:41:12Z`."""
    if time_s is None:
        return None
    rounded = datetime.fromtimestamp(int(shown(time_s, 0)), tz=UTC)
    return rounded.strftime("%Y-%m-%dT%H:%M:%SZ")


def _rounded(value: float | None, decimals: int) -> float | None:
    return None if value is None else shown(value, decimals)


def _task(task: TaskResult, voice: Voice, unsaid: Container[int] = ()) -> Document:
    """Write a task; of scores of `unsaid` pilots the number alone."""
    guests = [_guest(guest, voice) for guest in task.guests]
    return {
        "flight": task.flight,
        "task": task.task,
        "kind": task.kind,
        "unit": task.unit,
        "best": task.best,
        "state": task.state,
        "formula": _formula(task.formula),
        "fields": [
            {"class": own.name, "formula": _formula(own.formula)} for own in task.fields
        ],
        "rules": {
            "ties": task.points.ties,
            "parted_by": task.points.parted_by,
            "no_result": task.points.no_result,
            "show_up": task.points.show_up,
            "places": list(task.points.places),
            "decimals": task.decimals,
            "counts": task.counts,
            "step": _in_unit(task.step, task),
            "step_unit": task.step_unit,
        },
        "accounted_for": task.accounted,
        "missing": list(task.missing),
        **({"guests": guests} if guests else {}),
        "scores": [
            {"pilot": score.pilot}
            if score.pilot in unsaid
            else _score(score, task, voice)
            for score in task.scores
        ],
        "remeasure": [
            {"better": a, "worse": b, "chance": shown(p, 3)}
            for a, b, p in task.remeasure
        ],
    }


def _formula(formula: Formula) -> Document:
    return {
        "method": formula.method,
        "P": formula.P,
        "A": formula.A,
        "M": formula.M,
        "W": formula.W,
        "RM": formula.RM,
        "SM": formula.SM,
    }


def _in_unit(value: float | Fraction, task: TaskResult) -> str:
    """Write a result or step exactly, in the unit it was rounded in."""
    scale = INCH_M if task.step_unit == "in" else Fraction(1)
    return text(exact(value) / scale)


def _score(score: Score, task: TaskResult, voice: Voice) -> Document:
    taped = isinstance(score.measured, Exact)
    return {
        "pilot": score.pilot,
        "group": str(score.group),
        "measured": score.measured if taped else _rounded(score.measured, 4),
        "measured_exact": text(exact(score.measured or 0)) if taped else None,
        "sigma": _rounded(score.sigma, 4),
        "result": score.result,
        "result_exact": None if score.result is None else _in_unit(score.result, task),
        "result_unit": task.step_unit,
        "parted": score.parted,
        "field": score.field,
        "rank": score.rank,
        "formula_points": score.formula_points,
        "task_penalty": score.task_penalty,
        "event_penalty": score.event_penalty,
        "score": score.score,
        "settled": score.settled,
        "findings": list(score.findings),
        "metres_penalty": score.metres_penalty,
        "rank_range": [score.rank_low, score.rank_high],
        "charges": [_charge(charge) for charge in score.charges],
        "marks": [_mark(mark) for mark in score.marks],
        "why": "" if score.why is None else voice.say(score.why),
        "steps": [step.document() for step in score.way],
    }


def _guest(guest: Guest, voice: Voice) -> Document:
    return {
        "pilot": guest.pilot,
        "result": guest.result,
        "why": "" if guest.why is None else voice.say(guest.why),
    }


def _charge(charge: Charge) -> Document:
    return {
        "finding": charge.finding,
        "amount": charge.amount.amount,
        "unit": str(charge.amount.unit),
        "counts": charge.counts,
        "figures": _stated(charge.figures),
        "ruling": str(charge.ruling),
        "rule": _stated(charge.rule),
        "reason": charge.reason,
        "by": charge.by,
        "at": charge.at,
    }


def _mark(mark: MarkResult) -> Document:
    return {
        "mark": mark.mark,
        "method": mark.method,
        "distance_m": _rounded(mark.distance_m, 4),
        "sigma_m": _rounded(mark.sigma_m, 4),
        "lat": _rounded(mark.lat_deg, 7),
        "lon": _rounded(mark.lon_deg, 7),
        "time": moment(mark.time_s),
        "state": None if mark.state is None else str(mark.state),
        "keyings": [
            {"by": k.by, "method": str(k.method), "fields": dict(k.entered)}
            for k in mark.keyings
        ],
    }


def _finding(ruled: RuledFinding, voice: Voice) -> Document:
    finding = ruled.finding
    penalty = finding.penalty
    return {
        "id": finding.id,
        "flight": finding.flight,
        "task": finding.task,
        "pilot": finding.pilot,
        "kind": str(finding.kind),
        "verdict": str(finding.verdict),
        "probability": shown(finding.probability, 4),
        "from": moment(finding.from_s or None),
        "to": moment(finding.to_s or None),
        "measured": _rounded(finding.measured, 2),
        "limit": _rounded(finding.limit, 2),
        "unit": finding.unit,
        "excess": shown(finding.excess, 2),
        "duration_s": shown(finding.duration_s, 1),
        "sigma": shown(finding.sigma, 2),
        "lat": _rounded(finding.lat_deg, 7),
        "lon": _rounded(finding.lon_deg, 7),
        "evidence": finding.evidence,
        "sha256": finding.sha256,
        "ruling": str(ruled.state),
        "penalty": None
        if penalty is None
        else {"amount": penalty.amount, "unit": str(penalty.unit)},
        "charges": [_charge(charge) for charge in ruled.charges],
        "rule": _stated(finding.rule),
        "says": finding.says.document(),
        "text": voice.say(finding.says),
    }


def _event_penalties(results: Results) -> Document:
    sums: Counter[int] = Counter()
    for pilot, charge in results.event_charges:
        sums[pilot] += whole(charge.amount.amount)
    return {str(pilot): points for pilot, points in sorted(sums.items())}


def _standing(row: Standing) -> Document:
    tree: Document = {
        "rank": row.rank,
        "pilot": row.pilot,
        "total": row.total,
        "tasks": {str(task): score for task, score in row.tasks.items()},
        "event_penalty": row.event_penalty,
        "counted": list(row.counted),
    }
    if row.results or row.result is not None:
        tree["result"] = row.result
        tree["results"] = {str(task): value for task, value in row.results.items()}
    return tree


def _teams(table: StandingsTable) -> list[Document]:
    names = dict(enumerate(table.teams.items(), start=1))
    by_rank = list(table.rows)
    return [
        {
            "rank": row.rank,
            "team": names[row.pilot][0],
            "total": row.total,
            "result": row.result,
            "pilots": list(names[row.pilot][1]),
            "members": table.members[names[row.pilot][0]],
        }
        for row in by_rank
    ]


def _flight(flight: FlightResult) -> Document:
    """Name the logs; what each showed, and the winds, have tables of their own."""
    return {
        "flight": flight.id,
        "date": flight.date,
        "logs": [
            {
                "name": log.name,
                "sha256": log.sha256,
                "pilot": log.pilot,
            }
            for log in flight.logs
        ],
    }


def _warning(matter: Matter, voice: Voice) -> Mapping[str, Any]:
    return {
        "kind": matter.kind.name,
        "flight": matter.flight,
        "task": matter.task,
        "pilot": matter.pilot,
        "blocks": matter.holds_up,
        "says": matter.says.document(),
        "text": voice.sentence(matter.says),
    }


def _matter(matter: Matter, voice: Voice) -> Mapping[str, Any]:
    return {
        "kind": matter.kind.name,
        "title": voice.title(matter.kind.name),
        "blocks": str(matter.blocks),
        "closes": str(matter.kind.closes),
        "decides": str(matter.kind.decides),
        "acceptable": matter.kind.acceptable,
        "flight": matter.flight,
        "task": matter.task,
        "pilots": list(matter.pilots),
        "mark": matter.mark,
        "evidence": list(matter.evidence),
        "says": matter.says.document(),
        "values": [member.says.document() for member in matter.members],
        "text": voice.sentence(matter.says),
        "accepted": None
        if matter.accepted is None
        else {
            "by": matter.accepted.by,
            "at": matter.accepted.at,
            "why": matter.accepted.why,
        },
    }


def _stated(stated: Fact | None) -> Document | None:
    return None if stated is None else stated.document()
