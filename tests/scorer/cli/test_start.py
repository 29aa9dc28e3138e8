"""A command loads what it needs, and the Tab key knows all commands."""

import argparse
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from scorer.cli.commands import COMMANDS, parser
from scorer.cli.main import main

ROOT = Path(__file__).parents[3]
HEAVY = {
    "numpy",
    "scipy",
    "pandas",
    "pyproj",
    "rasterio",
    "shapely",
    "sqlalchemy",
    "openpyxl",
    "jinja2",
    "PySide6",
}


def loaded(*words):
    """Return what a command has loaded when it ends."""
    code = (
        "import sys\n"
        "from scorer.cli.main import main\n"
        "try:\n"
        "    main(sys.argv[1:])\n"
        "except SystemExit:\n"
        "    pass\n"
        "print(*sys.modules, file=sys.stderr)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, *words],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    return set(run.stderr.split())


@pytest.mark.parametrize(
    "words", [["--version"], ["--help"], ["rules"], ["rules", "festival"]], ids=" ".join
)
def test_what_computes_nothing_loads_nothing_that_computes(words):
    assert not loaded(*words) & HEAVY


def test_version_and_help_load_no_terminal_library_and_no_words():
    for words in (["--version"], ["--help"]):
        assert not loaded(*words) & {"rich", "fluent", "babel"}


def test_help_of_a_command_loads_that_command_alone():
    own = {m for m in loaded("desk", "--help") if m.startswith("scorer.cli.")}

    begin = {"commands", "main", "streams"}
    assert own == {f"scorer.cli.{name}" for name in {"desk", *begin}}


def test_the_list_of_commands_is_the_table(capsys):
    with pytest.raises(SystemExit):
        main(["--help"])

    shown = capsys.readouterr().out
    for command in COMMANDS:
        assert f"    {command.name}" in shown
    whole = parser()._subparsers._group_actions[0].choices
    assert set(whole) == {command.name for command in COMMANDS}


def test_every_command_of_the_table_runs_something():
    whole = parser()._subparsers._group_actions[0].choices

    for name, own in whole.items():
        parts = [a for a in own._actions if isinstance(a, argparse._SubParsersAction)]
        acts = list(parts[0].choices.values()) if parts else [own]
        assert all(callable(act.get_default("run")) for act in acts), name


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
def test_the_tab_key_finishes_commands_and_options(tmp_path, capsys):
    main(["completion", "bash"])
    script = tmp_path / "sandtail"
    script.write_text(capsys.readouterr().out)
    ask = (
        f"source {script}; "
        "COMP_WORDS=({words}); COMP_CWORD={last}; "
        "$(complete -p sandtail | sed 's/.*-F \\([^ ]*\\).*/\\1/'); "
        'echo "${COMPREPLY[@]}"'
    )

    def reply(*words):
        text = ask.replace("{words}", " ".join(words))
        run = subprocess.run(
            ["bash", "-c", text.replace("{last}", str(len(words) - 1))],
            capture_output=True,
            text=True,
            check=True,
        )
        return run.stdout.split()

    assert reply("sandtail", "open") == ["open-matters"]
    assert reply("sandtail", "score", "--js") == ["--json"]
    assert reply("sandtail", "publish", "x", "offi") == ["official"]
