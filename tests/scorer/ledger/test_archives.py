import hashlib
import json
import shutil
import zipfile

import pytest

from scorer.ledger.acts import MarkKeyed, Stage
from scorer.ledger.archive import is_archive, open_archive
from scorer.ledger.bundle import MANIFEST
from scorer.ledger.convert import to_drafts
from scorer.ledger.event_commands import archive, compute, load, restore, verify_target
from scorer.ledger.faults import DamagedError, LedgerError, NotALedgerError
from scorer.ledger.opening import open_store
from scorer.ledger.publish import publish
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    MORNING,
    create,
    open_at,
    small_event,
    without_origins,
)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    path = tmp_path_factory.mktemp("archive") / "e"
    with create(path) as ledger:
        ledger.record_all(to_drafts(small_event()))
        for _ in range(2):
            publish(ledger, compute(ledger, documents=sheets), Stage.PROVISIONAL)
            fields = {"task": "1", "pilot": "2", "method": "none", "by": "bob"}
            ledger.record(MarkKeyed(flight="1", fields=fields))
    return path


def sheets(results):
    return {"board.pdf": b"%PDF " + results[:9]}


@pytest.fixture(scope="module")
def zipped(kept):
    path = kept.with_name("event.zip")
    archive(kept, path)
    return path


def taken(path):
    """Read all that is in an archive."""
    with open_archive(path) as book:
        return book.entries, tuple(book.files())


def test_the_same_ledger_gives_the_same_bytes(kept, zipped, tmp_path):
    """From the file, a copy, what was made of the archive; whatever they are called."""
    shutil.copy(kept, tmp_path / "other")
    digest = archive(tmp_path / "other", tmp_path / "event.zip")
    restore(zipped, tmp_path / "again")
    archive(tmp_path / "again", tmp_path / "sub.zip")

    assert digest == hashlib.sha256(zipped.read_bytes()).hexdigest()
    assert (tmp_path / "event.zip").read_bytes() == zipped.read_bytes()
    assert (tmp_path / "sub.zip").read_bytes() == zipped.read_bytes()


def test_an_archive_is_read_like_the_event_itself(kept, zipped):
    assert is_archive(zipped)
    assert without_origins(load(zipped).raw) == without_origins(load(kept).raw)
    assert load(zipped).state == load(kept).state


def test_a_jury_runs_an_archive_again(zipped):
    audit = verify_target(zipped)

    assert audit.sound, str(audit)
    assert (audit.publications, audit.reproduced) == (2, 2)


def test_an_event_made_of_an_archive_goes_on(zipped, tmp_path):
    assert restore(zipped, tmp_path / "e") == 16
    with open_at(tmp_path / "e", FIELD) as ledger:
        ledger.record(MarkKeyed(flight="1", fields={"task": "1", "pilot": "1"}))
        assert ledger.state().entries[-1].number == 1
    assert verify_target(tmp_path / "e", scoring=None).sound


def test_the_archive_can_be_checked_without_the_program(zipped):
    """As its README says: nothing of ours is used here but the ZIP file."""
    with zipfile.ZipFile(zipped) as book:
        page = book.read("README.txt").decode()
        manifest = json.loads(book.read("manifest.json"))
        for name, digest in manifest["files"].items():
            assert hashlib.sha256(book.read(name)).hexdigest() == digest
            if name.startswith("files/"):
                assert name == f"files/{digest}"
        last = {}
        for line in book.read("entries.jsonl").decode().splitlines():
            entry = json.loads(line)
            names = [
                "at",
                "desk",
                "kind",
                "number",
                "prev",
                "replaces",
                "tick",
                "token",
                "who",
                "why",
            ]
            header = json.dumps(
                {name: entry[name] for name in names},
                ensure_ascii=False,
                separators=(",", ":"),
            )
            content = f"{header}\n{entry['payload']}".encode()
            assert hashlib.sha256(content).hexdigest() == entry["hash"]
            assert entry["prev"] == last.get(entry["desk"], "0" * 64)
            last[entry["desk"]] = entry["hash"]

    assert manifest["heads"] == [last[HALL]]
    assert (
        "at, desk, kind, number, prev, replaces, tick, token, who and why"
        in " ".join(page.split())
    )
    assert "not for navigation" in page


def test_what_was_published_lies_in_the_archive_by_name(zipped, kept):
    with open_at(kept, read_only=True) as ledger:
        first = ledger.state().publications[0]
    base = f"published/event/001-provisional-{first.entry.hash[:8]}"

    with zipfile.ZipFile(zipped) as book:
        results = book.read(f"{base}/results.json")
        assert hashlib.sha256(results).hexdigest() == first.act.results
        assert book.read(f"{base}/board.pdf").startswith(b"%PDF")
        assert "event/flights/1/marks.csv" in book.namelist()


def test_an_archive_is_never_written_over_another_file(kept, zipped):
    before = zipped.read_bytes()

    with pytest.raises(LedgerError, match="choose another name"):
        archive(kept, zipped)
    assert zipped.read_bytes() == before


def test_no_half_written_archive_is_left(kept, tmp_path):
    with pytest.raises(LedgerError, match="cannot write"):
        archive(kept, tmp_path / "no folder" / "event.zip")
    assert list(tmp_path.iterdir()) == []


def rewritten(zipped, path, change):
    with zipfile.ZipFile(zipped) as old, zipfile.ZipFile(path, "w") as new:
        for name in old.namelist():
            data = change(name, old.read(name))
            if data is not None:
                new.writestr(name, data)
    return path


def test_an_altered_entry_or_file_in_an_archive_is_found(zipped, tmp_path):
    def entry(name, data):
        return data.replace(b"12.34", b"11.34") if name == "entries.jsonl" else data

    def file(name, data):
        return data[:-1] if name.startswith("files/") else data

    with pytest.raises(DamagedError, match=r"entry hall-00000a #7 was altered"):
        taken(rewritten(zipped, tmp_path / "a", entry))
    with pytest.raises(DamagedError, match="Ask for another copy"):
        taken(rewritten(zipped, tmp_path / "b", file))


def test_a_file_left_out_of_an_archive_is_missed(zipped, tmp_path):
    def without_files(name, data):
        return None if name.startswith("files/") else data

    with pytest.raises(
        DamagedError, match=r"files/.* is missing. Ask for another copy"
    ):
        taken(rewritten(zipped, tmp_path / "a", without_files))


@pytest.mark.parametrize("data", [b"", b"PK", b"hello" * 100])
def test_what_is_no_archive_is_named_as_such(tmp_path, data):
    (tmp_path / "a.zip").write_bytes(data)

    assert not is_archive(tmp_path / "a.zip")
    with pytest.raises(NotALedgerError, match="another copy"):
        taken(tmp_path / "a.zip")


def test_a_damaged_archive_is_named_as_such(zipped, tmp_path):
    whole = zipped.read_bytes()
    sound = taken(zipped)
    for at in range(40, len(whole), len(whole) // 60):
        data = bytearray(whole)
        data[at] ^= 0xFF
        (tmp_path / "a.zip").write_bytes(data)
        try:  # a byte that stands for nothing may change nothing
            assert taken(tmp_path / "a.zip") == sound
        except (NotALedgerError, DamagedError) as error:
            assert "another copy" in str(error)  # noqa: PT017


def test_an_archive_from_the_future_says_so(zipped, tmp_path):
    def newer(name, data):
        return (
            data.replace(b'"format": 1', b'"format": 2') if name == MANIFEST else data
        )

    with pytest.raises(NotALedgerError, match="Update the program"):
        taken(rewritten(zipped, tmp_path / "a", newer))


def test_reading_an_archive_changes_nothing(zipped):
    before = zipped.read_bytes()
    load(zipped)
    assert zipped.read_bytes() == before
    assert not is_archive_open(zipped)


def is_archive_open(path):
    return any(p.name.startswith(path.name + "-") for p in path.parent.iterdir())


def test_the_store_of_a_kept_event_is_sound(kept):
    with open_store(kept, when=MORNING, read_only=True) as store:
        assert len(store.entries()) == 16
