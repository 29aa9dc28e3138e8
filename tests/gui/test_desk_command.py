"""`sandtail desk` starts the window in a program of its own."""

import os
import subprocess
import sys

import pytest

from scorer.cli import desk
from scorer.cli.commands import parser
from scorer.cli.main import main
from tests.gui.helpers import enter, type_text


def test_the_window_gets_the_event_and_who_is_at_the_desk(monkeypatch):
    started = []

    def run(command, check):
        started.append((command, check))
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setattr("scorer.cli.desk.os.name", "nt")
    monkeypatch.setattr("scorer.cli.desk.subprocess.run", run)
    assert main(["desk", "dawn.sandtail", "--official", "Yrsa"]) == 0
    expected = [sys.executable, "-m", "gui", "dawn.sandtail", "--official", "Yrsa"]
    assert started == [(expected, False)]


@pytest.mark.skipif(os.name != "posix", reason="no program takes another's place")
def test_the_window_is_the_process_that_was_started(tmp_path):
    """Whoever ends what was started ends the window, in whatever way."""
    (tmp_path / "gui").mkdir()
    (tmp_path / "gui" / "__init__.py").touch()
    told = "import os, sys\nprint(os.getpid(), sys.argv[1:])\n"
    (tmp_path / "gui" / "__main__.py").write_text(told)
    here = os.pathsep.join([str(tmp_path), *filter(None, sys.path)])
    started = subprocess.Popen(
        [sys.executable, "-m", "scorer", "desk", "dawn.sandtail"],
        env={**os.environ, "PYTHONPATH": here},
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        text=True,
    )
    out, _ = started.communicate(timeout=120)
    assert out.split() == [str(started.pid), "['dawn.sandtail']"]


@pytest.mark.skipif(os.name != "posix", reason="no program takes another's place")
def test_what_lies_in_the_folder_at_hand_is_no_part_of_the_window(tmp_path):
    known, at_hand = tmp_path / "known", tmp_path / "hand"
    (known / "gui").mkdir(parents=True)
    (known / "gui" / "__init__.py").touch()
    (known / "gui" / "__main__.py").write_text("import json\nprint('the window')\n")
    at_hand.mkdir()
    for name in ("json", "gui"):
        (at_hand / f"{name}.py").write_text("raise SystemExit('something else')\n")
    done = subprocess.run(
        [sys.executable, "-P", "-m", "scorer", "desk"],
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(known), *sys.path])},
        cwd=at_hand,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.stdout.strip() == "the window", done.stderr


def test_without_its_libraries_the_command_says_how_to_get_them(monkeypatch, capsys):
    monkeypatch.setattr("scorer.cli.desk.find_spec", lambda _: None)
    assert main(["desk"]) == 2
    assert "sandtail[desk]" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["desk"], ["desk", "event"]])
def test_the_event_may_be_left_out(words):
    assert parser().parse_args(words).run is desk.run


def test_an_event_that_is_asked_for_opens_once_somebody_says_who_asks(
    qtbot, window, small
):
    """On a new computer `sandtail desk EVENT` knows nobody yet."""
    start = window.page_named("start")
    start.official.clear()
    window.open_target(str(small))
    assert "say who you are, then Enter" in start.told.text()
    type_text("Yrsa")
    with qtbot.waitSignal(window.session.opened):
        enter()
    assert window.session.who == "Yrsa"
