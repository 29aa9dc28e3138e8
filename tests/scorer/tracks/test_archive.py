import io
import stat
import zipfile

import pytest

from scorer.errors import InputError
from scorer.tracks import archive
from scorer.tracks.archive import is_archive, open_archive, read_archive
from tests.scorer.tracks.logs import blob, drift, igc

LOG = igc(*drift(50)).data


def zipped(files, *, name="logs.zip", method=zipfile.ZIP_DEFLATED):
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", method) as file:
        for entry, data in files:
            file.writestr(entry, data)
    return blob(name, raw.getvalue())


def test_files_of_a_zip_are_returned_by_name_with_their_hash():
    box = zipped([("b/12.igc", LOG), ("7.gpx", b"<gpx/>")])

    files = open_archive(box)

    assert [(f.name, f.data) for f in files] == [
        ("7.gpx", b"<gpx/>"),
        ("b/12.igc", LOG),
    ]
    assert files[1].sha256 == blob("", LOG).sha256
    assert is_archive(box)
    assert not is_archive(files[0])


def test_a_zip_within_a_zip_is_opened_once():
    inner = zipped([("12.igc", LOG)])
    middle = zipped([("x.zip", inner.data), ("3.igc", LOG)])
    outer = zipped([("team.zip", inner.data), ("7.igc", LOG)])

    assert [f.name for f in open_archive(outer)] == ["7.igc", "team/12.igc"]
    result = read_archive(zipped([("deep.zip", middle.data)]))
    assert [f.name for f in result.blobs] == ["deep/3.igc"]
    assert "a zip in a zip in a zip" in result.faults[0].found


@pytest.mark.parametrize(
    "name",
    [
        "../12.igc",
        "/etc/12.igc",
        "a/../../12.igc",
        "C:\\12.igc",
        "..\\12.igc",
        "a\n.igc",
    ],
)
def test_names_that_lead_out_are_refused_and_cost_that_file_alone(name):
    entry = zipfile.ZipInfo("x")
    entry.filename = name

    result = read_archive(zipped([(entry, LOG), ("7.igc", LOG)]))

    assert [f.name for f in result.blobs] == ["7.igc"]
    assert "leads out" in result.faults[0].found
    assert result.faults[0].where.startswith("logs.zip: ")


def test_links_are_refused():
    entry = zipfile.ZipInfo("12.igc")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16

    with pytest.raises(InputError, match=r"logs.zip: 12.igc: found a link"):
        open_archive(zipped([(entry, "/etc/passwd")]))


def test_locked_files_are_refused():
    raw = bytearray(zipped([("12.igc", LOG)]).data)
    at = raw.index(b"PK\x01\x02")
    raw[at + 8] |= 1  # general purpose bit 0: encrypted (APPNOTE.TXT 4.4.4)

    with pytest.raises(InputError, match="a locked file"):
        open_archive(blob("logs.zip", bytes(raw)))


def test_files_that_unpack_out_of_all_proportion_are_refused():
    bomb = bytes(3 * 2**20)

    result = read_archive(zipped([("12.igc", bomb), ("7.igc", LOG)]))

    assert [f.name for f in result.blobs] == ["7.igc"]
    assert "out of all proportion" in result.faults[0].found


def test_repetitive_small_files_are_not_taken_for_bombs():
    quiet = LOG.splitlines(keepends=True)[-1] * 20_000

    assert len(open_archive(zipped([("12.igc", quiet)]))) == 1


def test_size_and_number_are_limited(monkeypatch):
    monkeypatch.setattr(archive, "MAX_TOTAL_BYTES", 5000)
    monkeypatch.setattr(archive, "MAX_ENTRIES", 4)
    box = zipped([(f"{i}.igc", LOG) for i in range(6)])

    result = read_archive(box)

    assert 0 < len(result.blobs) < 4
    assert any("MiB in all" in f.allowed for f in result.faults)
    assert "at most 4 files" in result.faults[-1].allowed


def test_a_file_too_large_is_refused(monkeypatch):
    monkeypatch.setattr(archive, "MAX_LOG_BYTES", 100)

    with pytest.raises(InputError, match="a file too large"):
        open_archive(zipped([("12.igc", LOG)]))


@pytest.mark.parametrize("at", [3, 40, 60])
def test_a_damaged_file_costs_that_file_alone(at):
    raw = bytearray(zipped([("12.igc", LOG), ("7.igc", LOG)]).data)
    raw[at + 10] ^= 0xFF
    raw[at + 11] ^= 0xFF

    result = read_archive(blob("logs.zip", bytes(raw)))

    assert "7.igc" in [f.name for f in result.blobs]


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"no zip at all", LOG])
def test_what_is_no_zip_is_refused(data):
    with pytest.raises(InputError, match=r"logs.zip: found a damaged zip"):
        open_archive(blob("logs.zip", data))


def test_what_systems_leave_behind_is_passed_over():
    box = zipped(
        [
            ("__MACOSX/._12.igc", b"x"),
            ("a/.DS_Store", b"x"),
            ("a/", b""),
            ("7.igc", LOG),
        ]
    )

    assert [f.name for f in open_archive(box)] == ["7.igc"]
