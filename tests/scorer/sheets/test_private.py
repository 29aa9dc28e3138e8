"""What is private stays at the desk: columns of the roster's own, and officials' remarks."""

import io
import zipfile

import pytest

from scorer.cli.main import main
from scorer.errors import InputError
from scorer.event.folder import write_folder
from scorer.scoring.analysis import Tracks
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.sheets.kinds import SHEET_KINDS, Material, made
from scorer.sheets.stamp import Stamp
from tests.scorer.tiny import tiny, tiny_flight, tiny_raw

PILOTS = """number,name,club,phone
1,Ann,Larks,0712-555
2,Bob,Swifts,0712-556
"""
MARKS = "task,pilot,method,distance,by,note\n1,1,tape,3 m,K,wife is ill\n1,2,none,,K,\n"
REPORTS = "task,pilot,kind,by,note\n1,1,ground-contact,E,smelt of wine\n"
SECRETS = (b"0712-555", b"wife is ill", b"smelt of wine")


def flight():
    """Make a flight with remarks."""
    return tiny_flight(marks=MARKS, reports=REPORTS)


def unpacked(data):
    """Return what stands in a file: a workbook's parts beside each other."""
    if not data.startswith(b"PK"):
        return data
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        return b"".join(map(book.read, book.namelist()))


def published(event, room):
    """Make everything that is put up, workbooks unpacked."""
    results = score(event)
    material = Material(
        event=event,
        results=results,
        stamp=Stamp(results_sha256="0" * 64),
        tracks=Tracks(event, results),
        room=room,
    )
    files = made((k for k in SHEET_KINDS.values() if k.published), material)
    texts = {
        name: data if isinstance(data, bytes) else b"".join(data)
        for name, data in files.items()
    }
    texts = {name: unpacked(data) for name, data in texts.items()}
    return {**texts, "results.json": to_json(results).encode()}


def test_private_columns_and_remarks_reach_nothing_that_is_put_up(tmp_path):
    for name, data in published(tiny(flight(), pilots=PILOTS), tmp_path).items():
        for secret in SECRETS:
            assert secret not in data, name


def test_columns_and_remarks_that_the_event_releases_are_published(tmp_path):
    event = tiny(flight(), pilots=PILOTS, public_columns=["club", "note"])
    files = published(event, tmp_path)
    whole = b"".join(files.values())
    assert b"Larks" in whole
    assert SECRETS[0] not in whole
    assert SECRETS[1] in whole
    assert SECRETS[2] in whole


def test_a_column_to_release_that_no_roster_has_is_a_fault():
    with pytest.raises(InputError, match="public_columns"):
        tiny(flight(), pilots=PILOTS, public_columns=["clubb"])


def test_export_stays_whole_and_says_so(tmp_path, capsys):
    write_folder(tiny_raw(flight(), pilots=PILOTS), tmp_path / "in")
    assert main(["export", str(tmp_path / "in"), str(tmp_path / "out")]) == 0
    assert "0712-555" in (tmp_path / "out" / "pilots.csv").read_text()
    said = capsys.readouterr().out
    assert "club and phone" in " ".join(said.split())
