"""`sandtail desk` starts the window in a program of its own."""

import subprocess
import sys

import pytest

from scorer.cli import desk
from scorer.cli.commands import parser
from scorer.cli.main import main


def test_the_window_gets_the_event_and_who_is_at_the_desk(monkeypatch):
    started = []

    def run(command, check):
        started.append((command, check))
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setattr("scorer.cli.desk.subprocess.run", run)
    assert main(["desk", "dawn.sandtail", "--official", "Yrsa"]) == 0
    expected = [sys.executable, "-m", "gui", "dawn.sandtail", "--official", "Yrsa"]
    assert started == [(expected, False)]


def test_without_its_libraries_the_command_says_how_to_get_them(monkeypatch, capsys):
    monkeypatch.setattr("scorer.cli.desk.find_spec", lambda _: None)
    assert main(["desk"]) == 2
    assert "sandtail[desk]" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["desk"], ["desk", "event"]])
def test_the_event_may_be_left_out(words):
    assert parser().parse_args(words).run is desk.run
