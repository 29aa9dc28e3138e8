"""Make, import and open events: the work behind the Start page, for a worker."""

import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from os.path import lexists
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from pyproj import CRS

from gui.models.rule_rows import rows_of
from gui.seen import Seen, see
from gui.snapshot import Snapshot, look
from scorer.errors import Fault, InputError, ScorerError
from scorer.event.build import build
from scorer.event.raw import RawEvent
from scorer.facts import fact, words
from scorer.ledger.acts import DeskId, PlaceSet, SettingsSet
from scorer.ledger.api import Draft, Ledger, import_folder, restore
from scorer.ledger.api import make_event as make_event_at
from scorer.ledger.archive import is_archive
from scorer.ledger.drives import on_network
from scorer.ledger.engine import is_url
from scorer.ledger.faults import UnreachableError
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import SAMPLES
from scorer.scoring.asked import asked
from scorer.scoring.score import unanswered
from scorer.units import Unreadable, angle_deg
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Opening:
    """An event ready to be shown."""

    ledger: Ledger
    target: str
    snapshot: Snapshot
    seen: Seen
    """What the official who opened it may see of it."""
    caution: str = ""
    """What to know of where it lies; empty = nothing."""


@dataclass(frozen=True, slots=True)
class DatabaseAway:
    """A database that does not answer yet, and of which nothing is known here."""

    target: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NewEvent:
    """What the guide asks for, as typed."""

    file: str
    name: str
    venue: str
    time_zone: str
    lat: str
    lon: str
    crs: str
    units: str
    book: str
    ground_elevation: str
    target: str
    """Name of a target to set at the site; empty = none yet."""


ZONES, ZONE_DEG = 60, 6.0
UTM_WGS84 = (32600, 32700)
"""EPSG codes of the zones, north and south, less their numbers."""


def proposed_crs(lat: str, lon: str) -> tuple[tuple[str, str], ...]:
    """Return projected systems in metres that fit a place, best first: code and name.

    The zones of the universal transverse Mercator grid on WGS 84, as the EPSG dataset
    that comes with PROJ gives their areas of use; asked for the zones round the place
    alone, since going through the whole dataset takes longer than a field may.

    Raises
    ------
    Unreadable
        The latitude or longitude is none.
    """
    lat_deg, lon_deg = angle_deg(lat, "latitude"), angle_deg(lon, "longitude")
    own = int((lon_deg + 180) // ZONE_DEG)
    near = {at % ZONES + 1 for at in (own - 1, own, own + 1)}
    found = []
    for code in sorted(north + zone for zone in near for north in UTM_WGS84):
        crs = CRS.from_epsg(code)
        if (area := crs.area_of_use) is None:
            continue
        west, south, east, north_deg = area.bounds
        if west <= lon_deg <= east and south <= lat_deg <= north_deg:
            found.append((f"EPSG:{code}", str(crs.name)))
    return tuple(found)


def crs_name(code: str) -> str:
    """Return the name of a reference system; raise ScorerError if it cannot serve."""
    try:
        crs = CRS.from_user_input(code)
    except Exception as error:  # pyproj raises several kinds for bad text
        raise ScorerError(
            f"there is no reference system {code!r}; give a code such as EPSG:32632"
        ) from error
    if not crs.is_projected:
        raise ScorerError(f"{code} ({crs.name}) is not a plane in metres; choose one")
    return str(crs.name)


def settings_of(new: NewEvent) -> dict[str, Any]:
    """Return the content of event.toml that the guide's answers make."""
    event = {
        "name": new.name.strip(),
        "venue": new.venue.strip(),
        "time_zone": new.time_zone.strip(),
        "crs": new.crs.strip(),
        "units": new.units,
        "ground_elevation": new.ground_elevation.strip(),
    }
    return {
        "format": 1,
        "event": {key: text for key, text in event.items() if text},
        "rules": {"book": new.book},
    }


def point_feature(
    name: str, kind: str, lat_deg: float, lon_deg: float
) -> dict[str, Any]:
    """Return a place as a GeoJSON feature."""
    return {
        "type": "Feature",
        "properties": {"name": name, "kind": kind},
        "geometry": {
            "type": "Point",
            "coordinates": [round(lon_deg, 8), round(lat_deg, 8)],
        },
    }


def make_event(new: NewEvent, *, desk: DeskId, who: str) -> Opening:
    """Make an event file; refuse with every fault of the answers before writing."""
    settings = settings_of(new)
    places = _places(new)
    faults = build(RawEvent(settings=settings, places=tuple(places)))[1]
    faults += _file_faults(new.file)
    if faults:
        raise InputError(faults)
    drafts = [Draft(act=SettingsSet(settings=settings), why="new event")]
    drafts += [Draft(act=PlaceSet(feature=p), why="new event") for p in places]
    make_event_at(Path(new.file).expanduser(), drafts, desk=desk, who=who)
    return open_target(new.file, desk=desk, who=who)


def _places(new: NewEvent) -> list[Mapping[str, Any]]:
    if not new.target.strip():
        return []
    try:
        lat_deg = angle_deg(new.lat, "latitude")
        lon_deg = angle_deg(new.lon, "longitude")
    except Unreadable as fault:
        raise InputError(
            [Fault(where="site", found=fault.found, allowed=fault.allowed)]
        ) from fault
    return [point_feature(new.target.strip(), "target", lat_deg, lon_deg)]


def _file_faults(name: str) -> list[Fault]:
    path = Path(name).expanduser()
    if not name.strip():
        return [Fault(where="file", found="nothing", allowed="where to keep the event")]
    if path.exists():
        return [
            Fault(
                where="file",
                found=f"{path}, which exists",
                allowed="a name that is free",
                remedy="Nothing is overwritten; open it instead, or choose another.",
            )
        ]
    return []


def open_target(target: str, *, desk: DeskId, who: str) -> Opening:
    """Open an event file or a database; one that is away as this computer last read it."""
    ledger = Ledger.open(_place(target), desk=desk, who=who, or_copy=True)
    try:
        snapshot = look(ledger)
        # What the rules say is parsed here, not in the window's thread.
        rows_of(
            asked(snapshot.event.book, unanswered(snapshot.event)),
            Voice.of(snapshot.event),
        )
        seen = see(snapshot, None, who, ledger.clock(), ledger=ledger)
    except BaseException:
        ledger.close()
        raise
    caution = ""
    if not is_url(target) and on_network(Path(target)):
        caution = Voice.of(snapshot.event).say(fact("on-network", file=words(target)))
    return Opening(
        ledger=ledger, target=target, snapshot=snapshot, seen=seen, caution=caution
    )


def open_or_wait(target: str, *, desk: DeskId, who: str) -> Opening | DatabaseAway:
    """Open an event; a database never read here that does not answer is tried again."""
    try:
        return open_target(target, desk=desk, who=who)
    except UnreachableError:
        if not is_url(target):
            raise
        return DatabaseAway(target)


def take_in(source: Path, file: Path, *, desk: DeskId, who: str) -> Opening:
    """Make an event file of an event folder, or of an archive, and open it."""
    if source.is_dir():
        import_folder(source, file, desk=desk, who=who)
    elif is_archive(source):
        restore(source, file)
    else:
        raise ScorerError(f"{source} is neither an event folder nor an archive")
    return open_target(str(file), desk=desk, who=who)


def sample(name: str, file: Path, *, desk: DeskId, who: str) -> Opening:
    """Make an event file of an invented meet and open it."""
    spec, seed = SAMPLES[name]
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / name
        write_meet(make_meet(spec, seed), folder)
        return take_in(folder, file, desk=desk, who=who)


def free_file(folder: Path, stem: str) -> Path:
    """Return a name for an event file that is free."""
    path = folder / f"{stem}.sandtail"
    number = 2
    while lexists(path):
        path = folder / f"{stem}-{number}.sandtail"
        number += 1
    return path


def local_zone() -> str:
    """Return this computer's time zone by its IANA name, as far as it tells."""
    key = getattr(datetime.now().astimezone().tzinfo, "key", None)
    if isinstance(key, str):
        return key
    link = Path("/etc/localtime")
    parts = link.resolve().parts if link.exists() else ()
    for length in (3, 2, 1):
        name = "/".join(parts[-length:])
        if name in available_timezones():
            return str(ZoneInfo(name))
    return "UTC"


def _place(target: str) -> str | Path:
    return target if is_url(target) else Path(target).expanduser()
