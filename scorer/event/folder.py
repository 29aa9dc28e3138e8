"""The event folder: read it as entered, and write it back."""

import hashlib
import json
import os
import re
import shutil
import tempfile
import tomllib
from collections.abc import Mapping, Sequence
from difflib import SequenceMatcher
from os.path import lexists
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any

import tomli_w

from scorer.errors import Fault, InputError
from scorer.event.columns import ASSIGNED, PILOTS, TABLES, tables_of
from scorer.event.log_formats import log_suffixes
from scorer.event.model import Blob, Origin
from scorer.event.naming import plainly_named
from scorer.event.raw import RawEvent, RawFlight, RawLog, RawRow
from scorer.event.reading import NOTHING, Cells, Faults
from scorer.event.tables import (
    MOST_BYTES,
    decode,
    read_bytes,
    read_csv,
    read_xlsx,
    write_csv,
)
from scorer.event.toml_lines import key_lines
from scorer.files import ALLOWED, flaw_of_name, inside, leads_out, sync_folder

MOST_LOG_BYTES = 256 * 2**20
"""A log larger than this is refused: a day at ten fixes a second stays under it."""

MOST_TERRAIN_BYTES = 2**30
MOST_TOML_BYTES = 128 * 2**10
"""Settings of an event or a flight; the longest known have 20 KiB."""
MOST_KEY_PARTS = 16
_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+"""
_DEEP_KEY = re.compile(rf"(?<![\w-])(?:{_PART}\.[ \t]*+){{{MOST_KEY_PARTS}}}")
"""tomllib needs the square of the number of parts."""
MOST_PLACES = 5_000
ASSIGNED_FILE = f"{ASSIGNED.name}.csv"
AIR_FILE = "air.json"
"""With what air the logs of a flight were read when its results first went up."""
_NO_LOGS = frozenset({ASSIGNED_FILE})
_LEFT_BEHIND = frozenset({"thumbs.db", "desktop.ini"})
_TABLE_SUFFIXES = frozenset(
    {".csv", ".txt", ".tsv", ".xlsx", ".xls", ".ods", ".json", ".geojson"}
)
_ALIKE = 0.85
"""Two names more alike than this are meant to be the same.  Our choice."""
_AT_LINE = re.compile(r" \(at line (\d+), column \d+\)")
RENAMED = "renamed.txt"
"""Written where an event's own names could not be those of files."""
_WITHIN = "files and folders within the event folder"
_AIR = "what export wrote; without the file, the air is found from all logs"
_COPY = "Put a copy in its place."


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


_FILES = frozenset(
    {"pilots.csv", "pilots.xlsx", "places.geojson"}
    | {f"{table}.csv" for table in TABLES}
)
_RESERVED = _FILES | {"event.toml", "flights", RENAMED}
"""Names at the top of an event folder that no terrain may have."""


class _Reader:
    def __init__(self, folder: Path, faults: Faults) -> None:
        self.folder = folder
        self.faults = faults

    def event(self) -> RawEvent:
        settings, origins = self.toml("event.toml")
        tables: dict[str, Any] = {
            name: self.table(f"{name}.csv", columns)
            for name, columns in tables_of("event").items()
        }
        return RawEvent(
            settings=settings,
            pilots=self.pilots(),
            places=self.places(),
            flights=tuple(self.flight(name) for name in self.flights()),
            terrain=self.terrain(settings),
            origins={**origins, "places": Origin(where="places.geojson")},
            **tables,
        )

    def flights(self) -> list[str]:
        """Return the names of the flights' folders."""
        folder = self.folder / "flights"
        if folder.exists() and not folder.is_dir():
            self.refuse("flights", "a file", "a folder with a folder for each flight")
        there = folder.is_dir() and not self.led_out("flights")
        paths = folder.iterdir() if there else []
        names = sorted(p.name for p in paths if p.is_dir() and _may_be_flight(p))
        return [name for name in names if self.is_flight(name)]

    def is_flight(self, name: str) -> bool:
        """Tell whether a folder can be that of a flight; note why it cannot."""
        where = f"flights/{storable(name)}"
        flaw = flaw_of_name(name)
        if storable(name) != name:
            found = "a folder whose name is not UTF-8"
            self.refuse(where, found, "letters and digits")
        elif flaw:
            found = f"a name that not every system can have: {flaw}"
            self.refuse(where, found, ALLOWED, "Rename the folder.")
        else:
            return not self.led_out(where)
        return False

    def led_out(self, name: str) -> bool:
        """Tell of a link that leads out of the folder, and note it."""
        out = leads_out(self.folder, self.folder / name)
        if out:
            found = "a link that leads out of the event folder"
            self.refuse(storable(name), found, _WITHIN, _COPY)
        return out

    def bytes(self, name: str, most: int = MOST_BYTES) -> bytes | None:
        """Read a file of the folder; None, and a fault, where that cannot be done."""
        if self.led_out(name):
            return None
        return read_bytes(self.folder / name, name, self.faults, most)

    def refuse(self, where: str, found: str, allowed: str, remedy: str = "") -> None:
        """Note a fault of a file as a whole."""
        self.faults.add(
            Origin(where=where), field=None, found=found, allowed=allowed, remedy=remedy
        )

    def text(self, name: str, most: int = MOST_BYTES) -> str | None:
        data = self.bytes(name, most)
        return None if data is None else decode(data, name, self.faults)

    def toml(self, name: str) -> tuple[dict[str, Any], dict[str, Origin]]:
        text = self.text(name, MOST_TOML_BYTES)
        if text is None or self.too_deep(name, text):
            return {}, {"": Origin(where=name)}
        lines = {k: Origin(where=name, line=n) for k, n in key_lines(text).items()}
        try:
            return tomllib.loads(text), {"": Origin(where=name), **lines}
        except (ValueError, RecursionError) as error:
            at = _AT_LINE.search(str(error))
            self.faults.add(
                Origin(where=name, line=int(at[1]) if at else None),
                field=None,
                found=f"text that is not TOML: {_AT_LINE.sub('', str(error))}",
                allowed='key = value, with text in "quotes"',
            )
            return {}, {"": Origin(where=name), **lines}

    def too_deep(self, name: str, text: str) -> bool:
        """Note a key of very many parts, which reading would take minutes over."""
        deep = _DEEP_KEY.search(text)
        if deep is not None:
            self.faults.add(
                Origin(where=name, line=text.count("\n", 0, deep.start()) + 1),
                field=None,
                found=f"a key of more than {MOST_KEY_PARTS} parts, dots between them",
                allowed="keys of a few parts, such as rules.floor.height",
            )
        return deep is not None

    def table(self, name: str, columns: Sequence[str]) -> tuple[RawRow, ...]:
        if not lexists(self.folder / name):
            self.misnamed(name)
            return ()
        text = self.text(name)
        return () if text is None else read_csv(text, name, columns, self.faults)

    def misnamed(self, name: str) -> None:
        """Note a file that nothing reads where this one is missing: a slip in its name."""
        path = self.folder / name
        folder = path.parent
        others = [p.name for p in folder.iterdir()] if folder.is_dir() else []
        for other in sorted(others):
            stem, suffix = Path(other.casefold()).stem, Path(other.casefold()).suffix
            alike = SequenceMatcher(None, stem, path.stem).ratio() > _ALIKE
            if suffix in _TABLE_SUFFIXES and alike and other not in _FILES:
                where = f"{name.rpartition('/')[0]}/{other}".lstrip("/")
                remedy = f"Save it as {path.name}, in UTF-8."
                found = "a file of a name that nothing reads"
                self.refuse(storable(where), found, path.name, remedy)

    def pilots(self) -> tuple[RawRow, ...]:
        rosters = ("pilots.csv", "pilots.xlsx")
        present = [n for n in rosters if lexists(self.folder / n)]
        if len(present) != 1:
            found = "both pilots.csv and pilots.xlsx" if present else "no roster"
            allowed = "one roster: pilots.csv or pilots.xlsx"
            self.refuse("pilots.csv", found, allowed)
        if not present:
            self.misnamed("pilots.csv")
        if present[:1] == ["pilots.xlsx"]:
            data = self.bytes("pilots.xlsx")
            if data is None:
                return ()
            return read_xlsx(data, "pilots.xlsx", PILOTS.names, self.faults)
        return self.table("pilots.csv", PILOTS.names)

    def json(self, name: str, allowed: str) -> Any:
        """Read a JSON file; None, and a fault, where that cannot be done."""
        text = self.text(name)
        if text is None:
            return None
        try:
            content = json.loads(text)
            json.dumps(content, ensure_ascii=False).encode()  # half characters
        except (ValueError, RecursionError) as error:
            origin = Origin(where=name, line=getattr(error, "lineno", None))
            found = f"text that is not JSON: {error}"
            self.faults.add(origin, field=None, found=found, allowed=allowed)
            return None
        return [] if content is None else content

    def places(self) -> tuple[Mapping[str, Any], ...]:
        name = "places.geojson"
        if not lexists(self.folder / name):
            self.misnamed(name)
            return ()
        content = self.json(name, "a GeoJSON FeatureCollection")
        if content is None:
            return ()
        origin = Origin(where=name)
        features = content.get("features") if isinstance(content, dict) else None
        if not isinstance(features, list):
            self.faults.add(
                origin,
                field="features",
                found="no list of features",
                allowed="a GeoJSON FeatureCollection",
            )
            return ()
        if len(features) > MOST_PLACES:
            self.faults.add(
                origin,
                field="features",
                found=f"{len(features):,} features",
                allowed=f"at most {MOST_PLACES:,} places",
                remedy="Keep what the event's tasks and rules name.",
            )
            return ()
        if "crs" in content and "CRS84" not in str(content["crs"]):
            self.faults.add(
                origin,
                field="crs",
                found=str(content["crs"])[:80],
                allowed="WGS84 longitude and latitude only (RFC 7946, section 4)",
                remedy="Export the places again as WGS84 (EPSG:4326); where they are "
                "that already, take the member out.",
            )
        return tuple(features)

    def terrain(self, settings: Mapping[str, Any]) -> Blob | None:
        event = settings.get("event")
        name = event.get("terrain") if isinstance(event, dict) else None
        if not isinstance(name, str):
            return None
        path = self.folder / name.replace("\0", "/")
        if leads_out(self.folder, path) or not path.is_file():
            self.faults.add(
                Origin(where="event.toml"),
                field="event.terrain",
                found=name,
                allowed="the name of a file in the event folder",
            )
            return None
        data = read_bytes(path, name, self.faults, MOST_TERRAIN_BYTES)
        return None if data is None else _blob(data, name)

    def flight(self, name: str) -> RawFlight:
        base = f"flights/{name}"
        settings, origins = self.toml(f"{base}/flight.toml")
        tables = {
            key: self.table(f"{base}/{key}.csv", columns)
            for key, columns in tables_of("flight").items()
        }
        paths = self.log_paths(base)
        assigned = self.assigned(base, [p.name for p in paths])
        by_hand = {f"logs/{log}": row.origin for log, (_, row) in assigned.items()}
        logs = [self.log(p, assigned.get(p.name, (None, None))[0]) for p in paths]
        return RawFlight(
            id=name,
            settings=settings,
            origins={**origins, **by_hand},
            logs=tuple(logs),
            marks=tables["marks"],
            declarations=tables["declarations"],
            reports=tables["reports"],
            rulings=tables["rulings"],
            targets=tables["targets"],
            air=self.air(f"{base}/{AIR_FILE}"),
        )

    def air(self, name: str) -> Mapping[str, Any] | None:
        """Return the air that was set down with published results, where it was."""
        if not lexists(self.folder / name):
            return None
        air = self.json(name, _AIR)
        if air is not None and not isinstance(air, dict):
            self.refuse(name, "no table", _AIR)
            return None
        return air

    def log_paths(self, base: str) -> list[Path]:
        """Return all that lies in a flight's folder of logs, what is no log as well."""
        folder = self.folder / base / "logs"
        if not folder.is_dir() or self.led_out(f"{base}/logs"):
            if lexists(folder) and not folder.is_dir():
                self.refuse(f"{base}/logs", "no folder", "a folder with flight logs")
            return []
        return sorted(
            p
            for p in folder.iterdir()
            if not _hidden(p.name) and p.name.casefold() not in _NO_LOGS
            if not self.led_out(f"{base}/logs/{p.name}")
        )

    def assigned(self, base: str, logs: Sequence[str]) -> dict[str, tuple[int, RawRow]]:
        """Return the pilot that a log was assigned to by hand, and the row that says so."""
        name = f"{base}/logs/{ASSIGNED_FILE}"
        found: dict[str, tuple[int, RawRow]] = {}
        for row in self.table(name, ASSIGNED.names):
            cells = Cells(row, self.faults)
            log, number = (
                cells.text("log").removeprefix("logs/"),
                cells.integer("pilot"),
            )
            if log not in logs:
                self.faults.unknown(row.origin, "log", log or NOTHING, logs)
            elif log in found:
                line = found[log][1].origin.line
                cells.refuse("log", f"each log once; it also stands in line {line}")
            elif number is not None:
                found[log] = number, row
        return found

    def log(self, path: Path, pilot: int | None) -> RawLog:
        name = f"logs/{storable(path.name)}"
        try:
            problem = _why_not(path)
            data = b"" if problem else path.read_bytes()
        except OSError as error:
            problem, data = f"the file cannot be read ({error.strerror})", b""
        return RawLog(blob=_blob(data, name), pilot=pilot, problem=problem)


def _why_not(path: Path) -> str:
    """Say why a file cannot be taken as a log; nothing when it can."""
    status = path.stat()
    if S_ISDIR(status.st_mode):
        return "a folder; logs stand directly in logs, or in a zip"
    if path.suffix.casefold() not in log_suffixes():
        return f"a file that does not end in {', '.join(log_suffixes())}"
    if not S_ISREG(status.st_mode):
        return "no ordinary file"
    if status.st_size > MOST_LOG_BYTES:
        most = f"{MOST_LOG_BYTES // 2**20} MiB"
        return f"{status.st_size / 2**20:,.0f} MiB; a log has at most {most}"
    return ""


def storable(name: str) -> str:
    """Return a file's name as text that can be written anywhere."""
    return name.encode("utf-8", "backslashreplace").decode()


def _hidden(name: str) -> bool:
    """Tell what systems leave behind from what people put there."""
    return name.startswith((".", "~", "__MACOSX")) or name.casefold() in _LEFT_BEHIND


def _may_be_flight(path: Path) -> bool:
    """Tell what people put there: what a flight says in it is never passed over."""
    return not _hidden(path.name) or (path / "flight.toml").is_file()


def _blob(data: bytes, name: str) -> Blob:
    return Blob(name=name, sha256=hashlib.sha256(data).hexdigest(), content=data)


def write_folder(raw: RawEvent, folder: Path) -> tuple[str, ...]:
    """Write an event as a folder that `read_folder` reads back to the same fields.

    Names that not every system can have are written as near as can be, each with a
    sentence that is returned, and kept beside the event.  The folder is filled only when
    all is written; a full disk leaves nothing.

    Raises
    ------
    InputError
        The folder exists and is not empty: nothing is overwritten.
    """
    if lexists(folder) and (not folder.is_dir() or any(folder.iterdir())):
        fault = Fault(
            where=str(folder),
            found="a folder that is not empty" if folder.is_dir() else "a file or link",
            allowed="a new or empty folder",
            remedy="Choose another name: nothing is overwritten.",
        )
        raise InputError([fault])
    made = not folder.exists()
    folder.mkdir(parents=True, exist_ok=True)
    try:
        with tempfile.TemporaryDirectory(dir=folder, prefix=".part-") as part:
            notes = _write_event(raw, Path(part))
            # event.toml comes last: without it, it is no event
            for path in sorted(
                Path(part).iterdir(), key=lambda p: p.name == "event.toml"
            ):
                path.rename(folder / path.name)
            sync_folder(folder)
    except BaseException:
        _empty(folder)
        if made:
            folder.rmdir()
        raise
    return notes


def _empty(folder: Path) -> None:
    """Take away what was written into a folder that was empty before."""
    for path in folder.iterdir():
        if path.is_dir():
            shutil.rmtree(path, ignore_errors=True)
        else:
            path.unlink(missing_ok=True)


def _write_event(raw: RawEvent, folder: Path) -> tuple[str, ...]:
    raw, notes = plainly_named(raw, _RESERVED, ASSIGNED_FILE)
    _write(folder, "event.toml", tomli_w.dumps(dict(raw.settings)))
    _write(folder, "pilots.csv", write_csv(raw.pilots, PILOTS.names))
    places = {"type": "FeatureCollection", "features": list(raw.places)}
    text = json.dumps(places, ensure_ascii=False, indent=1)
    _write(folder, "places.geojson", text + "\n")
    if raw.terrain is not None:
        _write_bytes(folder, raw.terrain.name, raw.terrain.data)
    _write_tables(raw, folder, "", tables_of("event"))
    for flight in raw.flights:
        _write_flight(flight, folder, f"flights/{flight.id}")
    if notes:
        _write(folder, RENAMED, "\n".join(notes) + "\n")
    return notes


def _write_flight(flight: RawFlight, folder: Path, base: str) -> None:
    inside(folder, f"{base}/logs").mkdir(parents=True)
    _write(folder, f"{base}/flight.toml", tomli_w.dumps(dict(flight.settings)))
    _write_tables(flight, folder, f"{base}/", tables_of("flight"))
    if flight.air is not None:
        text = json.dumps(flight.air, sort_keys=True, indent=1)
        _write(folder, f"{base}/{AIR_FILE}", text + "\n")
    for log in flight.logs:
        _write_bytes(folder, f"{base}/{log.blob.name}", log.blob.data)
    assigned = [
        RawRow(
            fields={"log": log.blob.name.removeprefix("logs/"), "pilot": str(log.pilot)}
        )
        for log in flight.logs
        if log.pilot is not None
    ]
    if assigned:
        text = write_csv(assigned, ASSIGNED.names)
        _write(folder, f"{base}/logs/{ASSIGNED_FILE}", text)


def _write_tables(
    holder: RawEvent | RawFlight,
    folder: Path,
    base: str,
    tables: Mapping[str, Sequence[str]],
) -> None:
    for name, columns in tables.items():
        rows = getattr(holder, name)
        if rows:
            _write(folder, f"{base}{name}.csv", write_csv(rows, columns))


def _write(folder: Path, name: str, text: str) -> None:
    _write_bytes(folder, name, text.encode())


def _write_bytes(folder: Path, name: str, data: bytes) -> None:
    path = inside(folder, name)
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
