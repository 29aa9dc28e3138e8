"""Entries, archives and links of others never write outside the folder they are given.

Found by attacking the first version: `export` and `archive` wrote wherever the name of a
flight or a terrain in a merged file said.
"""

import resource
import signal
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from scorer.errors import InputError
from scorer.event.folder import read_folder, read_folder_with_faults, write_folder
from scorer.ledger import api
from scorer.ledger.acts import (
    Document,
    FlightSet,
    LogAdded,
    Published,
    SettingsSet,
    Sha256,
    Stage,
    TerrainSet,
)
from scorer.ledger.entry import Draft, sha256_of
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    Watch,
    blob,
    small_event,
)

ROOT = Path(__file__).parents[3]
OUT = (
    *("../../pwned", "/tmp/sandtail-pwned", "..", ".", "", "a/../../pwned"),
    *("..\\..\\pwned", "C:\\pwned", "con", "sat: morning?", "x\0y", "x" * 300, ".git"),
)


def as_it_was(ledger, drafts):
    """Record without any check, as an older or a foreign program may have."""
    ledger.store.append(drafts, desk=ledger.desk, who="mallory", when=ledger.clock())


def file_draft(act, data):
    return Draft(act=act, files={act.sha256: data})


def foreign(path, name):
    """An event whose flight, log, terrain and publication carry a name."""
    data = b"AXXX\n"
    sha = sha256_of(data)
    settings = {**small_event().settings}
    settings["event"] = {**settings["event"], "terrain": name}
    date = small_event().flights[0].settings["date"]
    with Ledger.create(path, desk=FIELD, who="mallory", clock=Watch()) as ledger:
        as_it_was(
            ledger,
            [
                Draft(act=SettingsSet(settings=settings)),
                Draft(act=FlightSet(flight=name, settings={"date": date})),
                file_draft(LogAdded(flight=name, name=name, sha256=sha, size=5), data),
                file_draft(
                    LogAdded(flight=name, name=f"logs/{name}", sha256=sha, size=5), data
                ),
                file_draft(TerrainSet(name=name, sha256=sha, size=5), data),
            ],
        )
        up = Published(
            stage=Stage.PROVISIONAL,
            version=1,
            results=Sha256(sha),
            documents=(Document(name=name, sha256=Sha256(sha)),),
            heads=ledger.state().heads,
        )
        as_it_was(ledger, [file_draft_of(up, data)])
    return path


def file_draft_of(up, data):
    return Draft(act=up, files={up.results: data})


def all_files(folder):
    return {p.relative_to(folder).as_posix() for p in folder.rglob("*")}


@pytest.mark.parametrize("name", OUT)
def test_export_writes_below_its_folder_and_names_what_it_renamed(name, tmp_path):
    place = tmp_path / "deep" / "deeper"
    place.mkdir(parents=True)
    foreign(place / "e", name)
    before = all_files(tmp_path)

    exported = api.export_folder(place / "e", place / "out")

    inside = {p for p in all_files(tmp_path) if p.startswith("deep/deeper/out")}
    assert all_files(tmp_path) == before | inside
    assert not Path("/tmp/sandtail-pwned").exists()
    assert any(n.startswith(f"flight {name!r} (entry field-") for n in exported.renamed)
    assert (place / "out" / "renamed.txt").read_text().splitlines() == list(
        exported.renamed
    )
    raw, faults = read_folder_with_faults(place / "out")
    assert faults == []
    assert raw.terrain.data == b"AXXX\n"
    assert [len(flight.logs) for flight in raw.flights] == [2]


@pytest.mark.parametrize("name", OUT)
def test_archives_hold_plain_names_only_and_still_come_back(name, tmp_path):
    foreign(tmp_path / "e", name)
    api.archive(tmp_path / "e", tmp_path / "e.zip")

    with zipfile.ZipFile(tmp_path / "e.zip") as book:
        (tmp_path / "out").mkdir()
        for member in book.namelist():
            parts = member.split("/")
            assert ".." not in parts
            assert not any(c in member for c in "\\:\0")
    assert api.restore(tmp_path / "e.zip", tmp_path / "again") == 7


def test_a_merge_carries_bad_names_and_the_export_after_it_stays_inside(tmp_path):
    with Ledger.create(tmp_path / "a", desk=HALL, who="ann", clock=Watch()):
        pass
    api.merge_files([tmp_path / "a"], tmp_path / "b")
    with Ledger.open(tmp_path / "b", desk=FIELD, who="mallory") as ledger:
        as_it_was(ledger, [Draft(act=FlightSet(flight="../../x", settings={}))])
    api.merge_files([tmp_path / "b"], tmp_path / "a")

    api.export_folder(tmp_path / "a", tmp_path / "deep")

    assert {p.name for p in tmp_path.iterdir()} == {"a", "b", "deep"}


@pytest.mark.parametrize("name", ["pilots.csv", "event.toml", "flights/1/marks.csv"])
def test_a_terrain_never_takes_the_place_of_a_table(name, tmp_path):
    raw = replace(small_event(), terrain=blob(name, b"grid"))

    notes = write_folder(raw, tmp_path / "out")

    assert len(notes) == 1
    again = read_folder(tmp_path / "out")
    assert again.terrain.data == b"grid"
    assert again.pilots
    assert again.flights[0].marks


def test_a_terrain_in_a_folder_of_its_own_comes_back(tmp_path):
    raw = replace(small_event(), terrain=blob("maps/grid.tif", b"grid"))

    assert write_folder(raw, tmp_path / "out") == ()
    assert read_folder(tmp_path / "out").terrain.name == "maps/grid.tif"


def test_logs_never_take_each_other_s_place_nor_that_of_the_assignments(tmp_path):
    flight = small_event().flights[0]
    names = ("logs/a.igc", "other/A.igc", "assigned.csv", "logs/../a.igc")
    logs = tuple(
        replace(flight.logs[0], blob=blob(name, name.encode()), pilot=1)
        for name in names
    )
    raw = replace(small_event(), flights=(replace(flight, logs=logs),))

    notes = write_folder(raw, tmp_path / "out")

    again = read_folder(tmp_path / "out").flights[0]
    assert {log.blob.data.decode() for log in again.logs} == set(names)
    assert [log.pilot for log in again.logs] == [1] * 4
    assert len(notes) == 3


@pytest.mark.parametrize("name", OUT)
def test_a_new_flight_of_such_a_name_is_refused_when_set_down(name, tmp_path):
    with Ledger.create(tmp_path / "e", desk=HALL, who="ann", clock=Watch()) as ledger:
        with pytest.raises(InputError, match="Choose another name"):
            ledger.record(FlightSet(flight=name, settings={}))
        assert len(ledger.state().entries) == 1


def test_a_flight_that_has_such_a_name_already_can_still_be_corrected(tmp_path):
    with Ledger.create(tmp_path / "e", desk=HALL, who="ann", clock=Watch()) as ledger:
        as_it_was(ledger, [Draft(act=FlightSet(flight="sat: 1", settings={}))])
        old = ledger.state().entries[-1].hash

        new = FlightSet(flight="sat: 1", settings={"qnh_hpa": 1000.0})
        ledger.record(new, replaces=[old])


@pytest.mark.parametrize("name", ["con", "sat: morning?", "nul.1", "a\u202eb"])
def test_a_folder_of_a_flight_with_such_a_name_is_a_fault(name, tmp_path):
    write_folder(small_event(), tmp_path / "meet")
    (tmp_path / "meet" / "flights" / "1").rename(tmp_path / "meet" / "flights" / name)

    faults = read_folder_with_faults(tmp_path / "meet")[1]

    assert len(faults) == 1
    assert "Rename the folder" in str(faults[0])


LINKED = (
    *("event.toml", "pilots.csv", "places.geojson", "flights", "flights/1"),
    *("flights/1/flight.toml", "flights/1/marks.csv", "flights/1/logs"),
    "flights/1/logs/one.igc",
)


@pytest.mark.parametrize("name", LINKED)
def test_a_link_out_of_the_event_folder_is_a_fault(name, tmp_path):
    flight = small_event().flights[0]
    log = replace(flight.logs[0], blob=blob("logs/one.igc", b"AXXX\n"))
    raw = replace(small_event(), flights=(replace(flight, logs=(log,)),))
    write_folder(raw, tmp_path / "meet")
    path = tmp_path / "meet" / name
    path.rename(tmp_path / "outside")
    path.symlink_to(tmp_path / "outside")

    faults = [str(fault) for fault in read_folder_with_faults(tmp_path / "meet")[1]]

    assert any(f"{name}: found a link that leads out" in fault for fault in faults)
    with pytest.raises(InputError):
        read_folder(tmp_path / "meet")


def test_links_within_the_folder_are_followed(tmp_path):
    write_folder(small_event(), tmp_path / "meet")
    (tmp_path / "meet" / "pilots.csv").rename(tmp_path / "meet" / "roster-2026")
    (tmp_path / "meet" / "pilots.csv").symlink_to("roster-2026")

    assert read_folder(tmp_path / "meet").pilots


@pytest.mark.parametrize("act", ["restore", "import", "archive", "merge"])
def test_nothing_writes_through_a_dangling_link(act, tmp_path):
    write_folder(small_event(), tmp_path / "meet")
    new = {"desk": HALL, "who": "ann", "clock": Watch()}
    api.import_folder(tmp_path / "meet", tmp_path / "e", **new)
    api.archive(tmp_path / "e", tmp_path / "e.zip")
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "elsewhere")
    acts = {
        "restore": lambda: api.restore(tmp_path / "e.zip", link),
        "import": lambda: api.import_folder(tmp_path / "meet", link, **new),
        "archive": lambda: api.archive(tmp_path / "e", link),
        "merge": lambda: api.merge_files([tmp_path / "e"], link),
    }

    with pytest.raises(LedgerError, match="exists already"):
        acts[act]()
    assert not (tmp_path / "elsewhere").exists()


def small_disk():
    """Let no file grow beyond 100 kB, as on a full disk."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))


@pytest.mark.parametrize(
    "command",
    [
        ("restore", "e.zip", "new"),
        ("import", "meet", "new", "--by", "ann"),
        ("export", "e", "new"),
        ("archive", "e", "new"),
        ("merge", "e", "e", "--to", "new"),
    ],
    ids=lambda command: command[0],
)
def test_a_full_disk_leaves_nothing_half_written(command, tmp_path):
    flight = small_event().flights[0]
    noise = b"".join(
        sha256_of(bytes([i % 256, i // 256])).encode() for i in range(9000)
    )
    log = replace(flight.logs[0], blob=blob("logs/one.igc", noise))
    raw = replace(small_event(), flights=(replace(flight, logs=(log,)),))
    write_folder(raw, tmp_path / "meet")
    api.import_folder(tmp_path / "meet", tmp_path / "e", desk=HALL, who="ann")
    api.archive(tmp_path / "e", tmp_path / "e.zip")
    before = all_files(tmp_path)

    ended = subprocess.run(
        [sys.executable, "-m", "scorer", *command],
        cwd=tmp_path,
        env={"PYTHONPATH": str(ROOT), "SANDTAIL_DESK": "hall-0a0a0a"},
        preexec_fn=small_disk,
        capture_output=True,
        text=True,
        check=False,
    )

    assert ended.returncode == 2, ended.stdout + ended.stderr
    assert "Traceback" not in ended.stderr
    assert all_files(tmp_path) == before
