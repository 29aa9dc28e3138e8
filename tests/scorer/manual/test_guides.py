"""What the guides show is what the program answers."""

import re
import shutil
from doctest import ELLIPSIS, OutputChecker
from pathlib import Path
from shlex import split

import pytest

from scorer.cli.commands import COMMANDS
from scorer.cli.main import main
from scorer.manual.guides import GUIDES, guide

ROOT = Path(__file__).parents[3]
BLOCK = re.compile(
    r"^```(console|csv)(?: (\S+))?\n(.*?)^```$", re.DOTALL | re.MULTILINE
)


def blocks(name):
    """Return (kind, file, text) of what a guide has to be done, in its order."""
    return BLOCK.findall(guide(name))


def commands(text):
    """Return (words, expected answer) of each command of a console block."""
    for part in re.split(r"^\$ sandtail ", text, flags=re.MULTILINE)[1:]:
        line, _, answer = part.partition("\n")
        yield split(line), answer


def plain(text):
    """Return a text without spaces at the ends of lines."""
    return "".join(f"{line.rstrip()}\n" for line in text.splitlines())


@pytest.mark.parametrize("name", GUIDES)
def test_what_a_guide_shows_is_what_happens(name, tmp_path, monkeypatch, capsys):
    shutil.copytree(ROOT / "sample_events/vashkorim", tmp_path / "vashkorim")
    monkeypatch.chdir(tmp_path)
    for kind, file, text in blocks(name):
        if kind == "csv":
            with Path(file).open("a", encoding="utf-8") as table:
                table.write(text)
            continue
        for words, expected in commands(text):
            assert main(words) in {0, 1}, words
            got = plain(capsys.readouterr().out)
            alike = OutputChecker().check_output(plain(expected), got, ELLIPSIS)
            assert alike, f"sandtail {' '.join(words)}\n{got}\nguide:\n{expected}"


def test_the_guides_leave_no_block_out():
    """A block of another name would never be run."""
    for name in GUIDES:
        opened = re.findall(r"^```(\w+)", guide(name), re.MULTILINE)
        assert set(opened) <= {"console", "csv", "sh"}
        done = [kind for kind, _, _ in blocks(name)]
        assert done == [kind for kind in opened if kind != "sh"]


def test_commands_that_guides_name_are_there():
    known = {command.name for command in COMMANDS}
    for name in GUIDES:
        named = re.findall(r"(?<![.\w])sandtail ([a-z][a-z-]+)", guide(name))
        assert set(named) <= known, name


@pytest.mark.parametrize("name", GUIDES)
def test_the_manual_prints_each_guide_and_lists_it(name, capsys):
    assert main(["manual", name]) == 0
    assert guide(name).strip() in capsys.readouterr().out
    main(["manual"])
    assert f"**{name}**" in capsys.readouterr().out
