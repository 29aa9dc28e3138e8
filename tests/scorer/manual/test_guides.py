"""What the guides show is what the program answers."""

import re
import shutil
from doctest import ELLIPSIS, OutputChecker
from pathlib import Path
from shlex import split

import pytest

from scorer.cli.commands import COMMANDS
from scorer.cli.main import main
from scorer.manual.guides import GUIDES, PICTURE, beside, guide, pictures_in

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
    text = PICTURE.sub(r"*Picture: \1*", guide(name))
    assert text.strip() in capsys.readouterr().out
    main(["manual"])
    assert f"**{name}**" in capsys.readouterr().out


def test_every_picture_is_there_small_and_told_in_words():
    """Eight bytes begin a PNG (W3C, PNG Specification, third edition, 5.2; from memory)."""
    shown = {path for name in GUIDES for path in pictures_in(guide(name))}
    kept = {path.name for path in (ROOT / "scorer/manual/guides/pictures").iterdir()}
    assert {Path(path).name for path in shown} == kept
    for path in shown:
        assert beside(path).startswith(b"\x89PNG\r\n\x1a\n")
        assert len(beside(path)) < 100_000
    for name in GUIDES:
        assert guide(name).count("![") == len(PICTURE.findall(guide(name)))
        assert all(len(told) > 40 for told, _ in PICTURE.findall(guide(name)))


def test_a_terminal_is_told_what_a_picture_shows(capsys):
    main(["manual", "pilot"])
    out = capsys.readouterr().out
    assert "*Picture: A slip: result" in out
    assert "](pictures/" not in out


def test_the_whole_manual_is_written_as_pages(tmp_path, capsys):
    assert main(["manual", "--out", str(tmp_path / "manual")]) == 0
    assert "index.html" in capsys.readouterr().out
    pages = {p.name: p.read_text("utf-8") for p in (tmp_path / "manual").glob("*.html")}
    linked = re.findall(r'<li><a href="([\w-]+\.html)">', pages["index.html"])
    assert sorted(linked) == sorted(set(pages) - {"index.html"})
    assert "sandtail publish" in pages["commands.html"]
    for name, text in pages.items():
        assert "not for navigation" in text, name
        for path in re.findall(r'<img src="([^"]+)"', text):
            assert (tmp_path / "manual" / path).read_bytes() == beside(path)
    assert (
        '<img src="pictures/settle.png" alt="Compare entries' in pages["morning.html"]
    )
    # Written over itself.
    stale = tmp_path / "manual" / "index.html"
    stale.write_text(pages["index.html"] + "x", "utf-8")
    assert main(["manual", "--out", str(tmp_path / "manual")]) == 0
    assert stale.read_text("utf-8") == pages["index.html"]
