"""Where an event file lies, and copies of one that is in use."""

import threading
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from scorer.cli.main import main
from scorer.ledger import drives
from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.drives import kind_of, on_network, uri_of
from scorer.ledger.opening import open_store
from tests.scorer.ledger.ledger_desks import MORNING, create, small_event

MOUNTS = r"""
/dev/sda1 / ext4 rw 0 0
server:/home /home nfs4 rw 0 0
//box/meet /mnt/our\040meet cifs rw 0 0
tmpfs /home/ann/here tmpfs rw 0 0
desk@box: /mnt/far fuse.sshfs rw 0 0
""".splitlines()


@pytest.mark.parametrize(
    ("place", "kind"),
    [
        ("/root/meet", "ext4"),
        ("/home/ann/meet", "nfs4"),
        ("/home/ann/here/meet", "tmpfs"),
        ("/homestead/meet", "ext4"),
        ("/mnt/our meet/meet", "cifs"),
        ("/mnt/far/meet", "fuse.sshfs"),
    ],
)
def test_the_kind_of_drive_is_that_of_the_nearest_mount(place, kind):
    """Lines of /proc/mounts as proc(5) describes them: a blank in a path is \\040."""
    assert kind_of(PurePosixPath(place), MOUNTS) == kind


def test_a_share_has_an_address_that_sqlite_can_open():
    """SQLite, Uniform Resource Identifiers: an authority must be empty or localhost."""
    assert uri_of(PureWindowsPath(r"\\box\meet\e.sandtail")) == (
        "file:////box/meet/e.sandtail"
    )
    assert (
        uri_of(PureWindowsPath(r"C:\meet\e.sandtail")) == "file:///C:/meet/e.sandtail"
    )
    assert uri_of(PurePosixPath("/meet/e 1")) == "file:///meet/e%201"


def test_an_event_on_a_network_drive_is_told_how_to_be_used(
    tmp_path, monkeypatch, capsys
):
    create(tmp_path / "e").close()
    assert main(["copy", str(tmp_path / "e"), str(tmp_path / "one")]) == 0
    assert "caution" not in capsys.readouterr().out
    listed = tmp_path / "mounts"
    listed.write_text(f"box:/x {tmp_path} nfs rw 0 0\n", encoding="utf-8")
    monkeypatch.setattr(drives, "_MOUNTS", listed)

    assert on_network(tmp_path / "e")
    assert main(["copy", str(tmp_path / "e"), str(tmp_path / "two")]) == 0
    assert "desks take turns there" in capsys.readouterr().out


def test_a_copy_made_while_somebody_writes_is_whole(tmp_path, capsys):
    stop = threading.Event()
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))

        def write():
            while not stop.is_set():
                ledger.record(NoteMade(text="x"))

        writer = threading.Thread(target=write)
        writer.start()
        for name in ("a", "b", "c"):
            assert main(["copy", str(tmp_path / "e"), str(tmp_path / name)]) == 0
        stop.set()
        writer.join()
    whole = [entry.hash for entry in entries(tmp_path / "e")]
    for name in ("a", "b", "c"):
        held = [entry.hash for entry in entries(tmp_path / name)]
        assert held == whole[: len(held)]
        assert len(held) >= 12
        with open_store(tmp_path / name, when=MORNING, read_only=True) as store:
            assert verify(store).sound
    assert "entries, a whole copy" in capsys.readouterr().out
    assert main(["copy", str(tmp_path / "e"), str(tmp_path / "a")]) != 0
    assert [e.hash for e in entries(tmp_path / "a")] == whole[
        : len(entries(tmp_path / "a"))
    ]


def entries(path: Path):
    with open_store(path, when=MORNING, read_only=True) as store:
        return store.entries()
