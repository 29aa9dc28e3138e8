"""Make an invented meet with a known answer: the same seed, the same bytes."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from scorer.errors import ScorerError
from scorer.practice import documents, officials
from scorer.practice.answers import Played, answer, answer_json
from scorer.practice.casting import cast
from scorer.practice.grounds import Grounds, Point, geojson, make_grounds
from scorer.practice.igcfile import IgcFlight, igc_bytes
from scorer.practice.names import Entrant, roster
from scorer.practice.piloting import SharedFlight, Sortie, second_target, sortie
from scorer.practice.scenes import Aim, MeetSpec, Role
from scorer.practice.valley import make_valley

_ROSTER, _LAND, _CAST, _DESK, _FLY, _LOG = range(6)
"""Streams of chance, one for each purpose, so that none disturbs another."""
_PRESSES = 0.5
"""Share of the pilots who press the logger's button at the drop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meet:
    """An invented event folder, with the truth that it was made from."""

    spec: MeetSpec
    seed: int
    files: Mapping[str, bytes]
    """Content by path relative to the event folder, `answer.json` included."""
    answer: Mapping[str, Any]
    sorties: Mapping[str, Mapping[int, Sortie]]
    """The true flights, by flight and pilot."""


def make_meet(spec: MeetSpec, seed: int) -> Meet:
    """Invent a meet.

    Raises
    ------
    ScorerError
        The number of pilots or fixes is too small to make a meet of.
    """
    if spec.pilots < 1:
        raise ScorerError(f"found {spec.pilots} pilots; allowed: 1 or more")
    entrants = roster(spec.pilots, _chance(seed, _ROSTER))
    grounds = _grounds(spec, seed)
    played: list[Played] = []
    taken: set[int] = set()
    for index in range(len(spec.flights)):
        flight = _play(spec, seed, index, grounds, taken)
        taken |= {n for n, part in flight.cast.items() if part.role is not Role.CLEAN}
        played.append(flight)
    known = answer(spec, seed, played)
    files = _common_files(spec, seed, entrants, grounds)
    for index, flight in enumerate(played):
        files |= _tables(flight) | _logs(flight, entrants, seed, index)
    return Meet(
        spec=spec,
        seed=seed,
        files={**files, "answer.json": answer_json(known)},
        answer=known,
        sorties={flight.scene.id: flight.sorties for flight in played},
    )


def _play(
    spec: MeetSpec, seed: int, index: int, grounds: Grounds, taken: set[int]
) -> Played:
    """Hand out the parts of one flight, fly it, and let the officials work."""
    stage = SharedFlight(spec=spec, scene=spec.flights[index], grounds=grounds)
    parts = cast(stage.scene, spec.pilots, taken, _chance(seed, _CAST, index))
    sorties = {
        pilot: sortie(pilot, part, stage, _chance(seed, _FLY, index, pilot))
        for pilot, part in parts.items()
    }
    entered = officials.enter(parts, sorties, stage, _chance(seed, _DESK, index))
    return Played(stage=stage, cast=parts, sorties=sorties, entered=entered)


def write_meet(meet: Meet, folder: Path) -> None:
    """Write the event folder; it must not hold anything yet.

    Raises
    ------
    ScorerError
        The folder exists and is not empty: nothing is overwritten.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise ScorerError(
            f"{folder} is not empty, and nothing there is overwritten: "
            "name a folder that does not exist yet"
        )
    for name, content in meet.files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _chance(seed: int, *stream: int) -> np.random.Generator:
    return np.random.default_rng([seed, *stream])


def _grounds(spec: MeetSpec, seed: int) -> Grounds:
    first: Point = spec.land.east_m, spec.land.north_m
    second = {
        task.area: (task.target, second_target(scene, first))
        for scene in spec.flights
        for task in scene.tasks
        if task.aim is Aim.SECOND
    }
    valley = make_valley(spec.land, _chance(seed, _LAND))
    goals = {
        name: (east, north)
        for scene in spec.flights
        for task in scene.tasks
        for name, east, north in task.goals
    }
    return make_grounds(spec.crs, valley, first, second, goals)


def _common_files(
    spec: MeetSpec, seed: int, entrants: tuple[Entrant, ...], grounds: Grounds
) -> dict[str, bytes]:
    return {
        "README.md": documents.readme(spec, seed),
        "event.toml": documents.event_toml(spec, seed),
        "pilots.csv": documents.roster_csv(entrants),
        "places.geojson": geojson(grounds),
        "terrain.tif": grounds.valley.tiff(spec.crs),
    }


def _tables(flight: Played) -> dict[str, bytes]:
    stage, entered = flight.stage, flight.entered
    tables = {
        "flight.toml": documents.flight_toml(stage.scene, stage.spec),
        "marks.csv": officials.marks_csv(entered),
        "reports.csv": officials.reports_csv(entered),
        "rulings.csv": officials.rulings_csv(entered),
    }
    if entered.declarations:
        tables["declarations.csv"] = officials.declarations_csv(entered)
    return {f"flights/{flight.scene.id}/{name}": data for name, data in tables.items()}


def _logs(
    flight: Played, entrants: tuple[Entrant, ...], seed: int, index: int
) -> dict[str, bytes]:
    return {
        f"flights/{flight.scene.id}/logs/{pilot:03d}.igc": _log(
            sortie_,
            entrants[pilot - 1],
            flight.grounds,
            _chance(seed, _LOG, index, pilot),
        )
        for pilot, sortie_ in flight.sorties.items()
        if sortie_.reading is not None
    }


def _log(
    flight: Sortie, entrant: Entrant, grounds: Grounds, chance: np.random.Generator
) -> bytes:
    reading = flight.reading
    assert reading is not None
    lat, lon = grounds.plane.degrees(reading.east_m, reading.north_m)
    seen = np.cumsum(chance.choice([-1, 0, 0, 0, 0, 0, 1], len(lat)))
    pressed = chance.random() < _PRESSES
    return igc_bytes(
        IgcFlight(
            pilot=entrant.person.latin,
            number=entrant.number,
            registration=entrant.registration,
            serial=entrant.logger,
            time_s=reading.time_s,
            lat_deg=lat,
            lon_deg=lon,
            pressure_alt_m=reading.pressure_alt_m,
            gnss_alt_m=reading.gnss_alt_m,
            accuracy_m=reading.accuracy_m,
            satellites=9 + seen.clip(-3, 5),
            marks_s=tuple(drop.time_s for drop in flight.drops) if pressed else (),
            comment="invented flight, made for practice",
        )
    )
