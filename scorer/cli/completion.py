"""`sandtail completion`: what a shell runs so that the Tab key finishes commands."""

import argparse
from typing import Any

import shtab

from scorer.cli.commands import parser
from scorer.cli.screen import write_plainly

FOLDERS = frozenset({"DIR", "FOLDER"})
FILES = frozenset({"EVENT", "FILE", "ARCHIVE", "A", "B"})
"""What an argument is called that the shell finishes with names of folders, or files."""


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "completion",
        description="Print a script that makes the Tab key finish commands, options and "
        "files. For bash, once and for all: sandtail completion bash > "
        "~/.local/share/bash-completion/completions/sandtail",
    )
    own.add_argument("shell", choices=shtab.SUPPORTED_SHELLS, help="the shell you use")
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Print the script."""
    whole = parser()
    _finish_names(whole)
    write_plainly(shtab.complete(whole, shell=given.shell) + "\n")
    return 0


def _finish_names(own: argparse.ArgumentParser) -> None:
    """Mark every argument that names a file or folder, those of commands too."""
    for action in own._actions:  # noqa: SLF001 - argparse has no other list
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            for inner in action.choices.values():
                _finish_names(inner)
        elif action.metavar in FOLDERS:
            action.complete = shtab.DIRECTORY  # type: ignore[attr-defined]
        elif action.metavar in FILES:
            action.complete = shtab.FILE  # type: ignore[attr-defined]
