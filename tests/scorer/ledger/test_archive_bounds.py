"""What `archive` says it wrote can be read; what was changed since is not believed."""

import errno
import hashlib
import json
import os
import random
import shutil
import tracemalloc
import zipfile
from contextlib import contextmanager

import pytest

from scorer.event.folder import write_folder
from scorer.ledger import archive as archives
from scorer.ledger import bundle
from scorer.ledger.acts import LogAdded, Published, Stage
from scorer.ledger.bundle import MANIFEST
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft, sha256_of
from scorer.ledger.event_commands import (
    archive,
    compute,
    import_folder,
    load,
    merge_files,
    restore,
    verify_target,
)
from scorer.ledger.faults import DamagedError, LedgerError, NotALedgerError
from scorer.ledger.files import address_of, pack, spool
from scorer.ledger.publish import publish
from tests.scorer.ledger.ledger_desks import HALL, blob, create, open_at, small_event

resource = pytest.importorskip("resource", reason="limits files as a full disk does")
MIB = 2**20
BOARD = random.Random(1).randbytes(200_000)  # as much as it is, once compressed


@pytest.fixture(scope="module")
def event(tmp_path_factory):
    path = tmp_path_factory.mktemp("bounds") / "e"
    with create(path) as ledger:
        ledger.record_all(to_drafts(small_event()))
        made = compute(ledger, documents=lambda _: {"board.pdf": BOARD})
        publish(ledger, made, Stage.PROVISIONAL)
    return path


@pytest.fixture(scope="module")
def zipped(event):
    archive(event, event.with_name("event.zip"))
    return event.with_name("event.zip")


def left(folder):
    return sorted(path.name for path in folder.iterdir())


def test_what_is_too_large_to_be_read_is_refused_when_written(
    event, zipped, tmp_path, monkeypatch
):
    """One limit on both sides: nobody finds out on the day he needs the archive."""
    with zipfile.ZipFile(zipped) as book:
        largest = max(info.file_size for info in book.infolist())
    monkeypatch.setattr(bundle, "MOST_BYTES", largest)
    archive(event, tmp_path / "a.zip")
    restore(tmp_path / "a.zip", tmp_path / "r")

    monkeypatch.setattr(bundle, "MOST_BYTES", largest - 1)
    with pytest.raises(LedgerError, match=f"archived: .* has {largest:,} bytes"):
        archive(event, tmp_path / "b.zip")
    with pytest.raises(NotALedgerError, match=f"has {largest:,} bytes"):
        restore(tmp_path / "a.zip", tmp_path / "s")
    assert left(tmp_path) == ["a.zip", "r"]


def test_one_limit_for_what_is_read_in_one_piece(event, zipped, tmp_path, monkeypatch):
    with zipfile.ZipFile(zipped) as book:
        longest = max(map(len, book.read("entries.jsonl").splitlines(keepends=True)))
        most = max(longest, book.getinfo(MANIFEST).file_size)
    monkeypatch.setattr(bundle, "MOST_TEXT", most)
    archive(event, tmp_path / "a.zip")
    assert load(tmp_path / "a.zip").state == load(event).state

    monkeypatch.setattr(bundle, "MOST_TEXT", most - 1)
    with pytest.raises(LedgerError, match="cannot be archived"):
        archive(event, tmp_path / "b.zip")
    with pytest.raises(NotALedgerError, match="an archive holds files up to"):
        load(tmp_path / "a.zip")
    assert left(tmp_path) == ["a.zip"]


def test_an_archive_that_does_not_read_back_is_removed(event, tmp_path, monkeypatch):
    """As on a disk that loses what was written to it."""
    flush = os.fsync

    def loses(number):
        flush(number)
        os.pwrite(number, b"\0" * 64, os.fstat(number).st_size // 2)

    monkeypatch.setattr(archives.os, "fsync", loses)
    with pytest.raises(LedgerError, match="cannot be read back, and was removed"):
        archive(event, tmp_path / "a.zip")
    assert left(tmp_path) == []


def test_an_archive_that_reads_back_otherwise_is_removed(event, tmp_path, monkeypatch):
    monkeypatch.setattr(archives.Archive, "hashes", {})
    with pytest.raises(LedgerError, match="reads back otherwise, and was removed"):
        archive(event, tmp_path / "a.zip")
    assert left(tmp_path) == []


def test_no_archive_is_made_of_a_ledger_with_a_hole(tmp_path):
    with create(tmp_path / "e") as ledger:
        entries = ledger.record_all(to_drafts(small_event()))
        some = [ledger.state().entries[0], *entries[:2], *entries[3:]]
        files = [
            ledger.store.stored_file(sha256) for sha256 in ledger.store.file_hashes()
        ]
    with create(tmp_path / "new") as other:
        other.store.take(some, files)

    with pytest.raises(DamagedError, match="taken out"):
        archive(tmp_path / "new", tmp_path / "a.zip")
    assert not (tmp_path / "a.zip").exists()


@contextmanager
def little_room(most):
    """No file may grow beyond some bytes, as on a disk that fills up."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_full_disk_leaves_no_half_archive(event, tmp_path):
    with little_room(60_000), pytest.raises(LedgerError, match="on a disk with room"):
        archive(event, tmp_path / "a.zip")
    assert left(tmp_path) == []


def test_a_disk_that_is_full_in_the_end_leaves_no_half_archive(
    event, tmp_path, monkeypatch
):
    def full(_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(archives.os, "fsync", full)
    with pytest.raises(LedgerError, match="No space left on device"):
        archive(event, tmp_path / "a.zip")
    assert left(tmp_path) == []


@pytest.mark.parametrize("most", [5_000, 45_000])
def test_a_full_disk_leaves_no_half_event(zipped, tmp_path, most):
    (tmp_path / "out").mkdir()
    write_folder(small_event(), tmp_path / "folder")
    out = tmp_path / "out/e"
    for act in (
        lambda: restore(zipped, out),
        lambda: merge_files([zipped], out),
        lambda: import_folder(tmp_path / "folder", out, desk=HALL, who="ann"),
    ):
        with little_room(most), pytest.raises(LedgerError):
            act()
        assert left(tmp_path / "out") == []


def test_nothing_is_written_through_a_link_that_leads_nowhere(event, zipped, tmp_path):
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")

    for act in (
        lambda: restore(zipped, tmp_path / "link"),
        lambda: archive(event, tmp_path / "link"),
    ):
        with pytest.raises(LedgerError, match="exists already"):
            act()
    assert left(tmp_path) == ["link"]
    assert (tmp_path / "link").is_symlink()


# What was changed since.


def forged(zipped, path, change):
    """Change members by name and make the manifest fit, as somebody who means it does."""
    with zipfile.ZipFile(zipped) as old:
        members = {name: old.read(name) for name in old.namelist()}
    listing = json.loads(members.pop(MANIFEST))
    change(members, listing)
    listing["files"] = {n: hashlib.sha256(d).hexdigest() for n, d in members.items()}
    with zipfile.ZipFile(path, "w") as new:
        for name, data in members.items():
            new.writestr(name, data)
        new.writestr(MANIFEST, json.dumps(listing))
    return path


def refused(path, words):
    with pytest.raises(DamagedError, match=words):
        verify_target(path)
    with pytest.raises(DamagedError, match="Ask for another copy"):
        restore(path, path.with_name("r"))
    assert not path.with_name("r").exists()


def test_entries_cut_from_an_archive_are_missed(zipped, tmp_path):
    def cut(members, _):
        lines = members["entries.jsonl"].splitlines(keepends=True)
        members["entries.jsonl"] = b"".join(lines[:-5])

    refused(forged(zipped, tmp_path / "a", cut), "names other last entries")


def test_a_list_of_entries_that_does_not_fit_the_manifest_is_refused(zipped, tmp_path):
    with zipfile.ZipFile(zipped) as old, zipfile.ZipFile(tmp_path / "a", "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "entries.jsonl":
                first, second, rest = data.split(b"\n", 2)
                data = b"\n".join((second, first, rest))
            new.writestr(name, data)
    refused(tmp_path / "a", r"entries\.jsonl was altered")


def test_an_archive_without_entries_is_none(zipped, tmp_path):
    def empty(members, listing):
        members["entries.jsonl"] = b""
        listing["heads"] = []
        for name in list(members):
            if name.startswith("published/"):
                del members[name]

    refused(forged(zipped, tmp_path / "a", empty), "0 entries")


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(
    ("name", "data"), [("entries.jsonl", b""), (MANIFEST, None), ("README.txt", b"x")]
)
def test_a_member_put_in_twice_is_refused(zipped, tmp_path, name, data):
    shutil.copy(zipped, tmp_path / "a")
    with zipfile.ZipFile(tmp_path / "a", "a") as book:
        book.writestr(name, book.read(name) if data is None else data)
    refused(tmp_path / "a", f"{name} is in it twice")


def test_a_member_put_in_is_refused_listed_or_not(zipped, tmp_path):
    shutil.copy(zipped, tmp_path / "a")
    with zipfile.ZipFile(tmp_path / "a", "a") as book:
        book.writestr("event/more.csv", b"x")
    refused(tmp_path / "a", "event/more.csv was put in")

    def listed(members, _):
        members["RESULTS.pdf"] = b"%PDF"

    refused(forged(zipped, tmp_path / "b", listed), "RESULTS.pdf is not what")


def test_other_results_under_a_published_name_are_refused(zipped, tmp_path):
    def other(members, _):
        name = next(n for n in members if n.endswith("/results.json"))
        members[name] += b" "

    refused(forged(zipped, tmp_path / "a", other), "is not what the entries say")


def test_a_file_under_anothers_address_is_refused(zipped, tmp_path):
    def other(members, _):
        name = next(n for n in members if n.startswith("files/"))
        members[name] += b" "

    refused(forged(zipped, tmp_path / "a", other), "is not what the entries say")


NAMES = ["event/../../x", "/event/x", "event/..\\x", "c:/x"]
NAMES += ["event/CON.csv", "event/a:b", "event/event.toml.", "event/dir/"]


@pytest.mark.parametrize("name", NAMES)
def test_a_member_that_leads_out_of_a_folder_is_refused(zipped, tmp_path, name):
    def out(members, _):
        members[name] = b"x"

    with pytest.raises(NotALedgerError, match="no plain name"):
        load(forged(zipped, tmp_path / "a", out))


def test_members_that_grow_beyond_all_measure_are_refused(zipped, tmp_path):
    """A member that says of itself that it is larger than deflate can make it."""
    data = bytearray(zipped.read_bytes())
    at = data.index(b"PK\x01\x02")  # the first record of the central directory
    data[at + 24 : at + 28] = (MIB * 512).to_bytes(4, "little")
    (tmp_path / "a").write_bytes(data)

    with pytest.raises(NotALedgerError, match="packed in no way of ours"):
        load(tmp_path / "a")


def before(data):
    return b"#!/bin/sh\n" + data


def behind(data):
    return data + b"more"


def a_remark(data):
    return data[:-2] + b"\2\0hi"


def between(data):
    """Hide something between the last member and the list of all."""
    listed, end = data.index(b"PK\1\2"), data.rindex(b"PK\5\6")
    place = int.from_bytes(data[end + 16 : end + 20], "little") + 6
    ends = data[listed : end + 16] + place.to_bytes(4, "little") + data[end + 20 :]
    return data[:listed] + b"hidden" + ends


def a_link(data):
    at = data.index(b"PK\1\2") + 38
    return data[:at] + (0o120777 << 16).to_bytes(4, "little") + data[at + 4 :]


@pytest.mark.parametrize("change", [before, behind, a_remark, between, a_link])
def test_what_no_list_names_is_refused(zipped, tmp_path, change):
    (tmp_path / "a").write_bytes(change(zipped.read_bytes()))
    with pytest.raises(DamagedError, match=r"something was put|is no plain file"):
        verify_target(tmp_path / "a")


def two_spellings(members, _):
    members["event/Event.toml"] = b"x"


def says_more(_, listing):
    listing["signed"] = "by the jury"


def turned_round(members, _):
    lines = members["entries.jsonl"].splitlines(keepends=True)
    members["entries.jsonl"] = b"".join(reversed(lines))


OTHER = {
    two_spellings: "in two spellings",
    says_more: "says more than one of ours: signed",
    turned_round: "stand in another order",
}


@pytest.mark.parametrize("change", OTHER)
def test_what_no_archive_of_ours_has_is_refused(zipped, tmp_path, change):
    refused(forged(zipped, tmp_path / "a", change), OTHER[change])


@pytest.mark.parametrize("listing", ["[]", '{"format": true}', '{"format": 1}'])
def test_a_manifest_that_is_none_is_refused(zipped, tmp_path, listing):
    with zipfile.ZipFile(zipped) as old, zipfile.ZipFile(tmp_path / "a", "w") as new:
        new.writestr("entries.jsonl", old.read("entries.jsonl"))
        new.writestr(MANIFEST, listing)
    with pytest.raises(NotALedgerError):
        load(tmp_path / "a")


def test_a_file_that_no_entry_names_is_told(zipped, tmp_path):
    def strange(members, _):
        members["files/" + sha256_of(b"strange")] = b"strange"

    found = verify_target(forged(zipped, tmp_path / "a", strange), scoring=None)
    assert ["no entry names it" in str(p) for p in found.problems] == [True]
    assert found.sound


def test_an_archive_does_not_grow_without_measure(zipped, tmp_path, monkeypatch):
    with zipfile.ZipFile(zipped) as book:
        packed = sum(info.compress_size for info in book.infolist())
    monkeypatch.setattr(bundle, "FREE_GROWTH", 0)
    with (
        zipfile.ZipFile(zipped, "r") as old,
        zipfile.ZipFile(tmp_path / "a", "w") as new,
    ):
        for info in old.infolist():
            new.writestr(info, old.read(info))
        new.writestr("event/x", b"0" * (200 * packed), zipfile.ZIP_DEFLATED)
    with pytest.raises(NotALedgerError, match="would grow to"):
        load(tmp_path / "a")


# In pieces.


def much(pieces=48):
    """Tens of megabytes that compress to almost nothing, never held at once."""
    return (bytes([number]) * MIB for number in range(pieces))


def test_a_spooled_file_is_stored_like_any_other(tmp_path):
    data = b"".join(much(2))
    (spooled,) = spool([much(2)], [tmp_path / "s"])

    assert (spooled.sha256, spooled.size) == (sha256_of(data), len(data))
    assert spooled.data == pack(spooled.sha256, data).data
    assert b"".join(spooled) == data


def test_archiving_and_restoring_hold_one_piece_of_a_file_at_a_time(tmp_path):
    paths = tmp_path / "tracks", tmp_path / "log"
    tracks, log = spool([much(), much(40)], paths)
    path = tmp_path / "e"
    with create(path) as ledger:
        ledger.record_all(to_drafts(small_event()))
        made = compute(ledger, documents=lambda _: {"data/tracks.geojson": tracks})
        publish(ledger, made, Stage.PROVISIONAL)
        act = LogAdded(flight="1", name="logs/9.igc", sha256=log.sha256, size=log.size)
        ledger.record_all([Draft(act=act, files={log.sha256: log})])

    peaks = []
    for work in (
        lambda: archive(path, tmp_path / "a.zip"),
        lambda: restore(tmp_path / "a.zip", tmp_path / "r"),
        lambda: merge_files([tmp_path / "r"], tmp_path / "m"),
    ):
        tracemalloc.start()
        work()
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()

    assert max(peaks) < 16 * MIB, peaks
    with open_at(tmp_path / "m", read_only=True) as ledger:
        assert address_of(ledger.file(tracks.sha256)) == tracks.sha256
        (publication,) = ledger.state().publications
        assert isinstance(publication.act, Published)
    with zipfile.ZipFile(tmp_path / "a.zip") as book:
        copied = book.getinfo("event/flights/1/logs/9.igc")
        assert copied.file_size == log.size


def test_the_logs_of_the_event_folder_in_an_archive_are_the_logs(zipped):
    with zipfile.ZipFile(zipped) as book:
        log = book.read("event/flights/1/logs/001.igc")
    assert log == blob("logs/001.igc", b"AXXX001\r\n" * 300).data
