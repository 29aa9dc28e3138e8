"""The tables that officials fill in: marks, reports, rulings; and what is planted there."""

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

import numpy as np

from scorer.event.columns import DECLARATIONS, MARKS, REPORTS, RULINGS
from scorer.practice.casting import Cast, PilotPart
from scorer.practice.flights import Truth
from scorer.practice.grounds import Grounds
from scorer.practice.measuring import Slip, keyed, measure, misread
from scorer.practice.piloting import Drop, SharedFlight, Sortie, local_s
from scorer.practice.scenes import FlightScene, MeetSpec, Role, TaskScene

Row = dict[str, str]
_MISREAD = frozenset({Role.DIFFER, Role.SETTLED})
_MIXED_UP = frozenset({Role.SWAPPED, Role.WRONG_NUMBER})
_TWICE = 0.25
"""Share of the markers that two people key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfficialRecords:
    """What officials set down of one flight."""

    marks: tuple[Row, ...]
    reports: tuple[Row, ...]
    rulings: tuple[Row, ...]
    declarations: tuple[Row, ...]
    slips: Mapping[tuple[int, int], Slip] = field(default_factory=dict)
    """The measurement of each marker found, by task and the pilot it belongs to."""


def enter(
    cast: Cast,
    sorties: Mapping[int, Sortie],
    stage: SharedFlight,
    rng: np.random.Generator,
) -> OfficialRecords:
    """Measure, key, report and rule."""
    scene = stage.scene
    desk = _Desk(spec=stage.spec, grounds=stage.grounds, rng=rng)
    last = scene.tasks[-1]
    slips: dict[tuple[int, int], Slip] = {}
    marks: list[Row] = []
    for task in scene.tasks:
        for pilot in _in_field_order(sorties, task):
            part = cast[pilot]
            drop = next(d for d in sorties[pilot].drops if d.task == task.number)
            special = part.role if task is last else Role.CLEAN
            slip = desk.slip(drop, part.target(task), special)
            if slip.method != "none":
                slips[task.number, pilot] = slip
            under = part.partner if part.role in _MIXED_UP else pilot
            marks += desk.keyings(slip, task.number, under or pilot, special)
    return OfficialRecords(
        marks=tuple(marks),
        reports=tuple(_reports(cast, sorties, stage)),
        rulings=tuple(_rulings(cast, scene, stage.spec)),
        declarations=tuple(_declarations(cast, stage, rng)),
        slips=slips,
    )


def table(columns: Iterable[str], rows: Iterable[Row]) -> bytes:
    """Return a CSV file."""
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, list(columns), restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue().encode()


def marks_csv(entered: OfficialRecords) -> bytes:
    """Return marks.csv."""
    return table(MARKS.names, entered.marks)


def reports_csv(entered: OfficialRecords) -> bytes:
    """Return reports.csv."""
    return table(REPORTS.names, entered.reports)


def rulings_csv(entered: OfficialRecords) -> bytes:
    """Return rulings.csv."""
    return table(RULINGS.names, entered.rulings)


def declarations_csv(entered: OfficialRecords) -> bytes:
    """Return declarations.csv."""
    return table(DECLARATIONS.names, entered.declarations)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Desk:
    """Where slips of paper become rows."""

    spec: MeetSpec
    grounds: Grounds
    rng: np.random.Generator

    def slip(self, drop: Drop, target: str, role: Role) -> Slip:
        """Measure one marker; a part may ask for a method."""
        if role is Role.LOST:
            return Slip(method="none")
        method = {
            Role.WRONG_NUMBER: "tape with bearing",
            Role.SWAPPED: "grid",
            Role.DIFFER: "tape",
            Role.SETTLED: "tape",
        }.get(role)
        return measure(
            drop, target, self.grounds, self.spec.units, self.rng, method=method
        )

    def keyings(self, slip: Slip, task: int, pilot: int, role: Role) -> list[Row]:
        """Return one row for each person who keyed the slip."""
        hands = self.rng.permutation(len(self.spec.officials))
        ways = [int(way) for way in self.rng.integers(0, 60, 2)]
        rows = [self._row(slip, task, pilot, int(hands[0]), ways[0])]
        if role in _MISREAD:
            rows.append(self._row(misread(slip), task, pilot, int(hands[1]), ways[0]))
        elif slip.method != "none" and self.rng.random() < _TWICE:
            rows.append(self._row(slip, task, pilot, int(hands[1]), ways[1]))
        if role is Role.SETTLED:
            third = self._row(slip, task, pilot, int(hands[-1]), ways[0])
            rows.append({**third, "settles": "read again on the field slip"})
        if slip.method == "none":
            rows[0]["note"] = "looked for until 10:00, not found"
        return rows

    def _row(self, slip: Slip, task: int, pilot: int, hand: int, way: int) -> Row:
        return {
            "task": str(task),
            "pilot": str(pilot),
            **keyed(slip, self.spec.units, way),
            "by": self.spec.officials[hand],
        }


def _in_field_order(sorties: Mapping[int, Sortie], task: TaskScene) -> list[int]:
    """Return who dropped a marker, in the order in which the markers fell."""
    fell = {
        pilot: drop.time_s
        for pilot, sortie in sorties.items()
        for drop in sortie.drops
        if drop.task == task.number
    }
    return sorted(fell, key=lambda pilot: (fell[pilot], pilot))


def _clock(time_s: float | None, spec: MeetSpec) -> str:
    if time_s is None:
        return ""
    return f"{datetime.fromtimestamp(time_s, ZoneInfo(spec.time_zone)):%H:%M:%S}"


def _declarations(
    cast: Cast, stage: SharedFlight, rng: np.random.Generator
) -> list[Row]:
    """Hand in the chosen goals at the briefing, in the half hour before launching."""
    scene, spec = stage.scene, stage.spec
    opens_s = local_s(scene.date, scene.launch_period[0], spec.time_zone)
    return [
        {
            "task": str(task.number),
            "pilot": str(pilot),
            "goal": part.goal,
            "time": _clock(opens_s - float(rng.integers(120, 1800)), spec),
            "place": "briefing tent",
            "by": spec.officials[0],
        }
        for task in scene.tasks
        if task.goals
        for pilot, part in cast.items()
        if part.role is not Role.ABSENT
    ]


def _reports(
    cast: Cast, sorties: Mapping[int, Sortie], stage: SharedFlight
) -> list[Row]:
    rows: list[Row] = []
    for pilot, part in cast.items():
        truth = sorties[pilot].truth
        if truth is None:
            rows += [
                _report(task, pilot, "not-flown", "stayed on the ground", stage)
                for task in stage.scene.tasks
            ]
        elif part.role is Role.CONTACT_SEEN:
            rows.append(_contact_seen(truth, pilot, stage))
        elif part.role is Role.DEEP_SEEN:
            rows.append(_low_seen(truth, pilot, stage))
    return rows


def _contact_seen(truth: Truth, pilot: int, stage: SharedFlight) -> Row:
    note = "basket touched, drag mark in the grass"
    row = _report(stage.scene.tasks[0], pilot, "ground-contact", note, stage)
    return row | {"time": _clock(truth.contact_s, stage.spec)}


def _low_seen(truth: Truth, pilot: int, stage: SharedFlight) -> Row:
    assert truth.pass_s is not None
    before = truth.pass_s - truth.time_s
    zone = np.flatnonzero((before > 150.0) & (before < 300.0))
    lowest = zone[np.argmin(truth.height_m[zone])]
    value, unit = {"imperial": ("30", "ft"), "metric": ("9", "m")}[stage.spec.units]
    note = "below the tops of the poplars"
    return {
        **_report(stage.scene.tasks[0], pilot, "low", note, stage),
        "time": _clock(float(truth.time_s[lowest]), stage.spec),
        "value": value,
        "unit": unit,
    }


def _report(
    task: TaskScene, pilot: int, kind: str, note: str, stage: SharedFlight
) -> Row:
    return {
        "task": str(task.number),
        "pilot": str(pilot),
        "kind": kind,
        "by": stage.spec.officials[0],
        "note": note,
    }


_DECISIONS: Mapping[Role, Row] = {
    Role.DEEP: {
        "finding": "floor",
        "decision": "apply",
        "rule": "floor.height",
        "reason": "height and time confirmed on the log",
    },
    Role.DEEP_SEEN: {
        "finding": "floor",
        "decision": "set",
        "amount": "60",
        "unit": "task points",
        "rule": "floor.height",
        "reason": "over the poplars with people below: more than the scale",
    },
    Role.SHALLOW: {
        "finding": "floor",
        "decision": "waive",
        "rule": "floor.height",
        "reason": "gave way to a balloon above at the radio call of an observer",
    },
    Role.CONTACT_LOGGED: {
        "finding": "ground-contact",
        "decision": "apply",
        "rule": "contact.penalty",
        "reason": "drift lost and height zero on the log; the pilot agrees",
    },
    Role.NEAR: {
        "finding": "launch-distance",
        "decision": "apply",
        "rule": "launch.least_distance",
        "reason": "launch field lies inside the mile",
    },
    Role.IMPOSED: {
        "finding": "",
        "decision": "impose",
        "amount": "50",
        "unit": "task points",
        "rule": "gravity drop",
        "reason": "marker thrown, not dropped",
    },
}
_RULED_LATER = (Role.DEEP,)
"""Parts on which nobody has ruled yet in the last flight of a meet of several."""


_EVERY_TASK = frozenset({Role.CONTACT_LOGGED})
"""Parts that are ruled on in each task of the flight, not in the first alone."""


def _rulings(cast: Cast, scene: FlightScene, spec: MeetSpec) -> list[Row]:
    waits = len(spec.flights) > 1 and scene is spec.flights[-1]
    rows: list[Row] = []
    for pilot, part in sorted(cast.items(), key=_importance):
        if part.role not in _DECISIONS or (waits and part.role in _RULED_LATER):
            continue
        for task in scene.tasks if part.role in _EVERY_TASK else scene.tasks[:1]:
            minute = min(10 + len(rows), 59)
            rows.append(
                {
                    "task": str(task.number),
                    "pilot": str(pilot),
                    **_DECISIONS[part.role],
                    "by": spec.officials[-1],
                    "at": f"{scene.date} 11:{minute:02d}",
                }
            )
    return rows


def _importance(item: tuple[int, PilotPart]) -> tuple[int, int]:
    order = list(_DECISIONS)
    pilot, part = item
    return (order.index(part.role) if part.role in order else len(order)), pilot
