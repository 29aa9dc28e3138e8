"""The known answer of an invented meet: what a perfect score would find.

Everything here comes from the truth of the flights and from where the markers really
lie, by pyproj's geodesic and shapely, never from the engine that is to be checked.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scorer.practice.casting import Cast, PilotPart
from scorer.practice.flights import Truth
from scorer.practice.grounds import Grounds, Point
from scorer.practice.officials import OfficialRecords
from scorer.practice.piloting import FLOOR_M, LAUNCH_M, SharedFlight, Sortie
from scorer.practice.scenes import (
    BOUNDARY,
    Aim,
    FlightScene,
    MeetSpec,
    Role,
    TaskScene,
)

LEAST_TIME_S = 3.0
"""Shorter breaches do not count in the invented meets."""
DEEP_M, DEEP_S = 6.0, 10.0
"""A breach deeper and longer than this must be found for certain."""

Json = dict[str, Any]

_B = frozenset(
    {
        Role.CONTACT_SEEN,
        Role.CONTACT_LOGGED,
        Role.NEAR,
        Role.LOST,
        Role.WRONG_NUMBER,
    }
)
_ON_MARKS = frozenset({Role.LOST, Role.DIFFER, Role.SETTLED})
_OPEN = frozenset({Role.DIFFER, Role.WRONG_NUMBER})
"""Parts that leave a question to settle: keyings that differ, and no keying at all."""
_WARNINGS: Mapping[Role, str] = {
    Role.WIDE: "mark-far-from-track",
    Role.SWAPPED: "mark-far-from-track",
    Role.DIFFER: "unsettled",
    Role.NO_LOG: "no-log",
    Role.GAP: "log-gap",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """One flight with all that the answer is drawn from."""

    stage: SharedFlight
    cast: Cast
    sorties: Mapping[int, Sortie]
    entered: OfficialRecords

    @property
    def scene(self) -> FlightScene:
        """The flight's day and tasks."""
        return self.stage.scene

    @property
    def grounds(self) -> Grounds:
        """The places."""
        return self.stage.grounds


def answer(spec: MeetSpec, seed: int, flights: Sequence[Played]) -> Json:
    """Return the known answer, fit for JSON."""
    return {
        "format": 1,
        "event": spec.name,
        "invented": True,
        "seed": seed,
        "rules": {
            "floor_m": FLOOR_M,
            "least_time_s": LEAST_TIME_S,
            "least_launch_distance_m": LAUNCH_M,
        },
        "tasks": [
            _task(flight, task) for flight in flights for task in flight.scene.tasks
        ],
        "planted": [line for flight in flights for line in _planted(flight)],
    }


def answer_json(known: Mapping[str, Any]) -> bytes:
    """Return the answer as text, a line for each pilot."""
    tasks = []
    for task in known["tasks"]:
        head = json.dumps({k: v for k, v in task.items() if k != "pilots"})[:-1]
        rows = ",\n".join(json.dumps(row, ensure_ascii=False) for row in task["pilots"])
        tasks.append(f'{head}, "pilots": [\n{rows}\n]}}')
    planted = ",\n".join(json.dumps(row) for row in known["planted"])
    rest = {k: v for k, v in known.items() if k not in {"tasks", "planted"}}
    return (
        f"{json.dumps(rest, ensure_ascii=False)[:-1]},\n"
        f'"tasks": [{", ".join(tasks)}],\n"planted": [\n{planted}\n]}}\n'
    ).encode()


def _task(flight: Played, task: TaskScene) -> Json:
    return {
        "flight": flight.scene.id,
        "task": task.number,
        "pilots": [
            _pilot(flight, task, pilot, part) for pilot, part in flight.cast.items()
        ],
    }


def _pilot(flight: Played, task: TaskScene, pilot: int, part: PilotPart) -> Json:
    sortie = flight.sorties[pilot]
    base: Json = {
        "pilot": pilot,
        "part": part.role.value,
        "flew": sortie.truth is not None,
        "group": _group(flight, task, part),
        "settled": not (part.role in _OPEN and task is flight.scene.tasks[-1]),
        "target": part.target(task),
        "mark": _mark(flight, task, pilot),
        "entered": _entered(flight, task, pilot, part),
    }
    if sortie.truth is None:
        return base | {"findings": []}
    return base | _seen(flight, task, part, sortie.truth)


def _group(flight: Played, task: TaskScene, part: PilotPart) -> str | None:
    """Group that the evidence as entered leads to; None = open until people act."""
    last = task is flight.scene.tasks[-1]
    if part.role is Role.ABSENT:
        return "C"
    if part.role is Role.DIFFER and last:
        return None
    if part.role in _B and (last or part.role not in _ON_MARKS):
        return "B"
    return "A"


def _mark(flight: Played, task: TaskScene, pilot: int) -> Json | None:
    """Where the pilot's own marker really lies."""
    for drop in flight.sorties[pilot].drops:
        if drop.task == task.number:
            grounds = flight.grounds
            lat, lon = grounds.plane.degrees_of(drop.point)
            target = grounds.points[flight.cast[pilot].target(task)]
            return {
                "distance_m": round(grounds.distance_m(target, drop.point), 4),
                "lat": round(lat, 8),
                "lon": round(lon, 8),
                "elevation_m": round(grounds.elevation_m(drop.point), 2),
                "dropped_at": _stamp(drop.time_s),
            }
    return None


def _entered(
    flight: Played, task: TaskScene, pilot: int, part: PilotPart
) -> Json | None:
    """Tell whose marker is keyed under this pilot, and how well it was measured."""
    owner = pilot
    if part.role in {Role.SWAPPED, Role.WIDE} and part.partner is not None:
        owner = part.partner
    if part.role is Role.WRONG_NUMBER:
        return None
    slip = flight.entered.slips.get((task.number, owner))
    mark = _mark(flight, task, owner)
    if slip is None or mark is None:
        return None
    return {
        "marker_of": owner,
        "method": slip.method,
        "distance_m": mark["distance_m"],
        "sigma_m": round(slip.sigma_m, 4),
    }


def _seen(flight: Played, task: TaskScene, part: PilotPart, truth: Truth) -> Json:
    """What a perfect reading of the flight would show."""
    grounds = flight.grounds
    target = grounds.points[part.target(task)]
    zone = _floor_zone(truth, task, grounds)
    touching = _touching(truth, task, grounds)
    breaches = _runs(truth, zone & (truth.height_m < FLOOR_M))
    contacts = _runs(truth, touching)
    launch, launch_m = _place(truth, truth.launch_s, target, grounds)
    seen: Json = {
        "launch": launch,
        "launch_distance_m": launch_m,
        "landing": _place(truth, truth.landing_s, target, grounds)[0],
        "log": part.role is not Role.NO_LOG,
        "over_floor": _lowest(truth, zone),
        "breaches": breaches,
        "contacts": contacts,
    }
    return seen | {"findings": _findings(seen, task, part)}


def _floor_zone(truth: Truth, task: TaskScene, grounds: Grounds) -> NDArray[np.bool_]:
    """Inside the boundary, in the air, before the scoring area is first entered."""
    if not task.area:
        return np.zeros(len(truth.time_s), dtype=bool)
    inside = grounds.inside(BOUNDARY, truth.east_m, truth.north_m)
    aloft = _aloft(truth)
    scoring = grounds.inside(task.area, truth.east_m, truth.north_m) & aloft
    before = np.ones(len(scoring), dtype=bool)
    if scoring.any():
        before[int(np.argmax(scoring)) :] = False
    return np.asarray(inside & aloft & before)


def _touching(truth: Truth, task: TaskScene, grounds: Grounds) -> NDArray[np.bool_]:
    if not task.area:
        return np.zeros(len(truth.time_s), dtype=bool)
    inside = grounds.inside(task.area, truth.east_m, truth.north_m)
    return np.asarray(inside & _aloft(truth) & (truth.height_m <= 0.0))


def _aloft(truth: Truth) -> NDArray[np.bool_]:
    """From launch to landing; touching in between is still flying."""
    return np.asarray(
        (truth.time_s > truth.launch_s + 1.0) & (truth.time_s < truth.landing_s - 1.0)
    )


def _lowest(truth: Truth, zone: NDArray[np.bool_]) -> Json | None:
    if not zone.any():
        return None
    at = int(np.flatnonzero(zone)[np.argmin(truth.height_m[zone])])
    return {
        "lowest_m": round(float(truth.height_m[at]), 2),
        "at": _stamp(float(truth.time_s[at])),
    }


def _runs(truth: Truth, mask: NDArray[np.bool_]) -> list[Json]:
    """Return each stretch of the mask with its lowest height."""
    edges = np.flatnonzero(np.diff(np.r_[False, mask, False].astype(np.int8)))
    return [
        {
            "from": _stamp(float(truth.time_s[start])),
            "to": _stamp(float(truth.time_s[end - 1])),
            "seconds": int(truth.time_s[end - 1] - truth.time_s[start]),
            "lowest_m": round(float(truth.height_m[start:end].min()), 2),
        }
        for start, end in zip(edges[::2], edges[1::2], strict=True)
    ]


def _place(
    truth: Truth, time_s: float, target: Point, grounds: Grounds
) -> tuple[Json, float]:
    at = min(int(np.searchsorted(truth.time_s, time_s)), len(truth.time_s) - 1)
    point: Point = float(truth.east_m[at]), float(truth.north_m[at])
    lat, lon = grounds.plane.degrees_of(point)
    away = grounds.distance_m(target, point)
    place = {"at": _stamp(time_s), "lat": round(lat, 7), "lon": round(lon, 7)}
    return place, round(away, 1)


def _findings(seen: Json, task: TaskScene, part: PilotPart) -> list[Json]:
    """List what must be found, and how sure the engine must be."""
    found: list[Json] = []
    reported = part.role is Role.CONTACT_SEEN
    if not seen["log"]:
        return found
    for run in seen["breaches"] if task.aim is Aim.FIRST else ():
        depth = FLOOR_M - run["lowest_m"]
        if run["seconds"] >= LEAST_TIME_S:
            sure = depth >= DEEP_M and run["seconds"] >= DEEP_S
            found.append(_finding("floor", run, certain=sure))
    for run in seen["contacts"]:
        found.append(_finding("ground-contact", run, certain=reported))
    if task.area and seen["launch_distance_m"] < LAUNCH_M:
        found.append({"kind": "launch-distance", "verdicts": ["possible", "certain"]})
    return found


def _finding(kind: str, run: Json, *, certain: bool) -> Json:
    verdicts = ["certain"] if certain else ["possible", "certain"]
    return {"kind": kind, "from": run["from"], "to": run["to"], "verdicts": verdicts}


def _planted(flight: Played) -> list[Json]:
    """List the parts that are not clean, with the warning each must raise."""
    lines = []
    for pilot, part in flight.cast.items():
        if part.role is Role.CLEAN:
            continue
        late = part.role in _ON_MARKS
        task = flight.scene.tasks[-1 if late else 0]
        lines.append(
            {
                "part": part.role.value,
                "flight": flight.scene.id,
                "task": task.number,
                "pilot": pilot,
                "partner": part.partner,
                "warning": _WARNINGS.get(part.role),
            }
        )
    return lines


def _stamp(time_s: float) -> str:
    return f"{datetime.fromtimestamp(round(time_s), UTC):%Y-%m-%dT%H:%M:%SZ}"
