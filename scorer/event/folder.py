"""The event folder: read it as entered, and write it back."""

import hashlib
import json
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import tomli_w

from scorer.errors import Fault, InputError
from scorer.event.model import Blob, Origin
from scorer.event.raw import (
    DECLARATION_COLUMNS,
    MARK_COLUMNS,
    PILOT_COLUMNS,
    REPORT_COLUMNS,
    RULING_COLUMNS,
    RawEvent,
    RawFlight,
    RawLog,
    Row,
)
from scorer.event.reading import Faults
from scorer.event.tables import decode, read_bytes, read_csv, read_xlsx, write_csv
from scorer.event.toml_lines import key_lines

LOG_SUFFIXES = (".igc", ".gpx", ".nmea", ".csv", ".zip")
MOST_LOG_BYTES = 256 * 2**20
"""A log larger than this is refused: a day at ten fixes a second stays under it."""

_TABLES: Mapping[str, Sequence[str]] = {
    "marks": MARK_COLUMNS,
    "declarations": DECLARATION_COLUMNS,
    "reports": REPORT_COLUMNS,
    "rulings": RULING_COLUMNS,
}
ASSIGNED = "assigned.csv"
_ASSIGNED_COLUMNS = ("log", "pilot")


def read_folder(folder: Path) -> RawEvent:
    """Read an event folder as entered; raise InputError with every fault found."""
    raw, faults = read_folder_with_faults(folder)
    if faults:
        raise InputError(faults)
    return raw


def read_folder_with_faults(folder: Path) -> tuple[RawEvent, list[Fault]]:
    """Read what can be read, and list what cannot."""
    faults = Faults()
    if not (folder / "event.toml").is_file():
        found = "no such folder" if not folder.is_dir() else "no event.toml in it"
        faults.add(
            Origin(where=str(folder)),
            field=None,
            found=found,
            allowed="an event folder, with event.toml, pilots.csv and flights/",
        )
        return RawEvent(settings={}), faults.found
    reader = _Reader(folder, faults)
    return reader.event(), faults.found


class _Reader:
    def __init__(self, folder: Path, faults: Faults) -> None:
        self.folder = folder
        self.faults = faults

    def event(self) -> RawEvent:
        settings, origins = self.toml("event.toml")
        flights = self.folder / "flights"
        names = (
            sorted(p.name for p in flights.iterdir() if p.is_dir())
            if (flights.is_dir())
            else []
        )
        return RawEvent(
            settings=settings,
            pilots=self.pilots(),
            places=self.places(),
            flights=tuple(self.flight(name) for name in names if name[0] != "."),
            terrain=self.terrain(settings),
            origins={**origins, "places": Origin(where="places.geojson")},
        )

    def text(self, name: str) -> str | None:
        data = read_bytes(self.folder / name, name, self.faults)
        return None if data is None else decode(data, name, self.faults)

    def toml(self, name: str) -> tuple[dict[str, Any], dict[str, Origin]]:
        text = self.text(name)
        if text is None:
            return {}, {"": Origin(where=name)}
        lines = {k: Origin(where=name, line=n) for k, n in key_lines(text).items()}
        try:
            return tomllib.loads(text), {"": Origin(where=name), **lines}
        except tomllib.TOMLDecodeError as error:
            self.faults.add(
                Origin(where=name),
                field=None,
                found=f"a line that is not TOML: {error}",
                allowed='key = value, with text in "quotes"',
            )
            return {}, {"": Origin(where=name), **lines}

    def table(self, name: str, columns: Sequence[str]) -> tuple[Row, ...]:
        if not (self.folder / name).exists():
            return ()
        text = self.text(name)
        return () if text is None else read_csv(text, name, columns, self.faults)

    def pilots(self) -> tuple[Row, ...]:
        present = [
            n for n in ("pilots.csv", "pilots.xlsx") if (self.folder / n).exists()
        ]
        if len(present) != 1:
            self.faults.add(
                Origin(where="pilots.csv"),
                field=None,
                found="both pilots.csv and pilots.xlsx" if present else "no roster",
                allowed="one roster: pilots.csv or pilots.xlsx",
            )
        if present[:1] == ["pilots.xlsx"]:
            data = read_bytes(self.folder / "pilots.xlsx", "pilots.xlsx", self.faults)
            if data is None:
                return ()
            return read_xlsx(data, "pilots.xlsx", PILOT_COLUMNS, self.faults)
        return self.table("pilots.csv", PILOT_COLUMNS)

    def places(self) -> tuple[Mapping[str, Any], ...]:
        name = "places.geojson"
        if not (self.folder / name).exists():
            return ()
        text = self.text(name)
        if text is None:
            return ()
        origin = Origin(where=name)
        try:
            content = json.loads(text)
        except (json.JSONDecodeError, RecursionError) as error:
            origin = Origin(where=name, line=getattr(error, "lineno", None))
            self.faults.add(
                origin,
                field=None,
                found=f"text that is not JSON: {error}",
                allowed="a GeoJSON FeatureCollection",
            )
            return ()
        features = content.get("features") if isinstance(content, dict) else None
        if not isinstance(features, list):
            self.faults.add(
                origin,
                field="features",
                found="no list of features",
                allowed="a GeoJSON FeatureCollection",
            )
            return ()
        if "crs" in content and "CRS84" not in str(content["crs"]):
            self.faults.add(
                origin,
                field="crs",
                found=str(content["crs"])[:80],
                allowed="WGS84 longitude and latitude only (RFC 7946, section 4)",
            )
        return tuple(features)

    def terrain(self, settings: Mapping[str, Any]) -> Blob | None:
        event = settings.get("event")
        name = event.get("terrain") if isinstance(event, dict) else None
        if not isinstance(name, str):
            return None
        path = self.folder / name
        inside = path.resolve().is_relative_to(self.folder.resolve())
        if not inside or not path.is_file():
            self.faults.add(
                Origin(where="event.toml"),
                field="event.terrain",
                found=name,
                allowed="the name of a file in the event folder",
            )
            return None
        return _blob(path.read_bytes(), name)

    def flight(self, name: str) -> RawFlight:
        base = f"flights/{name}"
        settings, origins = self.toml(f"{base}/flight.toml")
        tables = {
            key: self.table(f"{base}/{key}.csv", columns)
            for key, columns in _TABLES.items()
        }
        return RawFlight(
            id=name, settings=settings, origins=origins, logs=self.logs(base), **tables
        )

    def logs(self, base: str) -> tuple[RawLog, ...]:
        folder = self.folder / base / "logs"
        if not folder.is_dir():
            return ()
        assigned = self.assigned(base)
        paths = sorted(
            p
            for p in folder.iterdir()
            if p.suffix.casefold() in LOG_SUFFIXES and p.name != ASSIGNED
        )
        return tuple(self.log(p, assigned.get(p.name)) for p in paths)

    def assigned(self, base: str) -> dict[str, int]:
        rows = self.table(f"{base}/logs/{ASSIGNED}", _ASSIGNED_COLUMNS)
        found = {}
        for row in rows:
            number = row.fields.get("pilot", "")
            if number.isascii() and number.isdigit():
                found[row.fields.get("log", "")] = int(number)
            else:
                self.faults.add(
                    row.origin,
                    field="pilot",
                    found=number,
                    allowed="a competition number",
                )
        return found

    def log(self, path: Path, pilot: int | None) -> RawLog:
        name = f"logs/{path.name}"
        try:
            size = path.stat().st_size
            if size > MOST_LOG_BYTES:
                most = f"{MOST_LOG_BYTES // 2**20} MiB"
                problem = f"{size / 2**20:,.0f} MiB; a log has at most {most}"
                return RawLog(blob=_blob(b"", name), pilot=pilot, problem=problem)
            return RawLog(blob=_blob(path.read_bytes(), name), pilot=pilot)
        except OSError as error:
            problem = f"the file cannot be read ({error.strerror})"
            return RawLog(blob=_blob(b"", name), pilot=pilot, problem=problem)


def _blob(data: bytes, name: str) -> Blob:
    return Blob(name=name, sha256=hashlib.sha256(data).hexdigest(), data=data)


def write_folder(raw: RawEvent, folder: Path) -> None:
    """Write an event as a folder that `read_folder` reads back to the same fields.

    Raises
    ------
    InputError
        The folder exists and is not empty: nothing is overwritten.
    """
    if folder.exists() and any(folder.iterdir()):
        fault = Fault(
            where=str(folder),
            found="a folder that is not empty",
            allowed="a new or empty folder",
            remedy="Choose another name: nothing is overwritten.",
        )
        raise InputError([fault])
    folder.mkdir(parents=True, exist_ok=True)
    _write(folder / "event.toml", tomli_w.dumps(dict(raw.settings)))
    _write(folder / "pilots.csv", write_csv(raw.pilots, PILOT_COLUMNS))
    places = {"type": "FeatureCollection", "features": list(raw.places)}
    text = json.dumps(places, ensure_ascii=False, indent=1)
    _write(folder / "places.geojson", text + "\n")
    if raw.terrain is not None:
        (folder / raw.terrain.name).write_bytes(raw.terrain.data)
    for flight in raw.flights:
        _write_flight(flight, folder / "flights" / flight.id)


def _write_flight(flight: RawFlight, folder: Path) -> None:
    (folder / "logs").mkdir(parents=True)
    _write(folder / "flight.toml", tomli_w.dumps(dict(flight.settings)))
    for name, columns in _TABLES.items():
        rows = getattr(flight, name)
        if rows:
            _write(folder / f"{name}.csv", write_csv(rows, columns))
    for log in flight.logs:
        (folder / "logs" / Path(log.blob.name).name).write_bytes(log.blob.data)
    assigned = [
        Row(fields={"log": Path(log.blob.name).name, "pilot": str(log.pilot)})
        for log in flight.logs
        if log.pilot is not None
    ]
    if assigned:
        _write(folder / "logs" / ASSIGNED, write_csv(assigned, _ASSIGNED_COLUMNS))


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="")
