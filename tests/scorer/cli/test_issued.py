"""Task sheets have a version and a time; a later one says first what changed."""

import io

import pytest
from pypdf import PdfReader

from scorer.cli import sheets
from scorer.cli.main import main
from scorer.event.folder import write_folder
from scorer.ledger import api
from scorer.ledger.acts import TaskSheetIssued
from tests.scorer.tiny import tiny_flight, tiny_raw


@pytest.fixture(autouse=True)
def desk(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")


@pytest.fixture
def file(tmp_path):
    write_folder(tiny_raw(tiny_flight()), tmp_path / "meet")
    target = str(tmp_path / "meet.sandtail")
    assert main(["import", str(tmp_path / "meet"), target, "--by", "Eva"]) == 0
    return target


def issue(file, out, *more, flight="f1"):
    return main(["issue", file, flight, "--out", str(out), "--by", "Dir", *more])


def text(path):
    pages = PdfReader(io.BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def issued(file):
    return [act.version for _, act in api.load(file).state.all_of(TaskSheetIssued)]


def test_a_change_after_issue_is_printed_for_the_briefing(file, tmp_path, capsys):
    first, second = tmp_path / "1.pdf", tmp_path / "2.pdf"
    assert issue(file, first) == 0
    assert "version 1, issued" in text(first)
    assert "Changed" not in text(first)
    capsys.readouterr()
    assert issue(file, second) == 0
    assert "Nothing changed since version 1" in capsys.readouterr().out
    assert not second.exists()
    times = ["times", "1", "--scoring", "07:00", "09:30", "--why", "fog", "--by", "Dir"]
    assert main(["correct", file, *times]) == 0
    assert issue(file, second, "--why", "fog at the launch field") == 0
    said = text(second)
    assert "version 2, issued" in said
    assert "fog at the launch field" in said
    assert "Scoring period" in said[: said.index("was: nothing")]
    assert issued(file) == [1, 2]


def test_an_unknown_flight_issues_nothing(file, tmp_path):
    out = tmp_path / "x.pdf"
    assert issue(file, out, flight="sunday") == 2
    assert not out.exists()
    assert issued(file) == []


def test_a_version_that_another_desk_gives_out_meanwhile_is_not_given_out_twice(
    file, tmp_path, monkeypatch, capsys
):
    """Both had looked before either had written."""
    real, other = sheets.write_task_sheet, tmp_path / "other.pdf"

    def meanwhile(*given, **more):
        monkeypatch.setattr(sheets, "write_task_sheet", real)
        assert issue(file, other) == 0
        return real(*given, **more)

    monkeypatch.setattr(sheets, "write_task_sheet", meanwhile)

    assert issue(file, tmp_path / "own.pdf") == 2
    assert "Another desk issued version 1" in capsys.readouterr().err
    assert issued(file) == [1]
