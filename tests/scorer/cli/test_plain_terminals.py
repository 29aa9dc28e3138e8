"""Terminals that have few letters, and systems that know no user."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from scorer.cli.main import main

ROOT = Path(__file__).parents[3]
SAMPLE = "sample_events/vashkorim"


def run(*command, **more):
    return subprocess.run(
        [sys.executable, *command],
        cwd=ROOT,
        env=os.environ | more,
        check=False,
        capture_output=True,
    )


@pytest.mark.parametrize("encoding", ["cp1252", "ascii", "cp437"])
def test_letters_that_a_terminal_lacks_become_the_nearest_it_has(encoding):
    done = run("-m", "scorer", "score", SAMPLE, PYTHONIOENCODING=encoding)
    text = done.stdout.decode(encoding)

    assert done.returncode == 0, done.stderr
    assert "\\u" not in text
    assert "\\x" not in text
    assert done.stderr == b"", "progress is for terminals alone"
    assert ("Oisin Ek" if encoding == "ascii" else "Oisín Ek") in text


def test_json_to_a_terminal_of_few_letters_stays_whole(tmp_path, monkeypatch):
    monkeypatch.chdir(ROOT)
    main(["score", SAMPLE, "--json", str(tmp_path / "plain.json")])
    plain = (tmp_path / "plain.json").read_text(encoding="utf-8")
    poor = run(
        *("-m", "scorer", "score", SAMPLE, "--json", "-"), PYTHONIOENCODING="ascii"
    )

    assert json.loads(poor.stdout.decode()) == json.loads(plain)


NOBODY = """
import getpass, sys
def nobody():
    raise {error}("no name")
getpass.getuser = nobody
from scorer.cli.main import main
sys.exit(main(sys.argv[1:]))
"""


@pytest.mark.parametrize("error", ["KeyError", "OSError", "ImportError"])
def test_a_system_that_knows_no_user_still_tells_the_version(error):
    """What getpass raises differs between systems and versions of Python."""
    done = run("-c", NOBODY.format(error=error), "--version")

    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(b"sandtail")


def test_without_a_known_user_an_entry_asks_who_makes_it(tmp_path):
    nobody = NOBODY.format(error="OSError")
    command = ("-c", nobody, "import", SAMPLE, str(tmp_path / "e"))

    assert b"required: --by" in run(*command).stderr
    assert run(*command, "--by", "Ann").returncode == 0
