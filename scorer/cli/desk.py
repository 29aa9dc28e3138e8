"""`sandtail desk`: the scoring desk in a window."""

import argparse
import os
import subprocess
import sys
from importlib.util import find_spec
from typing import Any

from scorer.errors import ScorerError
from scorer.fresh import surroundings

NEEDED = ("PySide6", "pyqtgraph", "gui")


def add(commands: Any) -> None:
    """Add the command."""
    own = commands.add_parser(
        "desk",
        description="Open the scoring desk: key marks, take logs in, rule, publish.",
    )
    own.add_argument(
        "event",
        nargs="?",
        metavar="EVENT",
        help="event file, postgresql:// address; a folder or archive is taken in",
    )
    own.add_argument(
        "--official", default="", metavar="NAME", help="who is at the desk"
    )
    own.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """Start the window in a program of its own: the engine loads no window.

    Where the system can, it takes the place of this one, so both end together however
    one of them is ended.
    """
    missing = [name for name in NEEDED if find_spec(name) is None]
    if missing:
        raise ScorerError(
            f"the window needs {', '.join(missing)}: install it with "
            '`pip install "sandtail[desk]"`'
        )
    event = [given.event] if given.event else []
    official = ["--official", given.official] if given.official else []
    command = [sys.executable, "-m", "gui", *event, *official]
    os.environ.update(surroundings())
    if os.name == "posix":
        os.execv(command[0], command)  # noqa: S606 - our own words
    return subprocess.run(command, check=False).returncode  # noqa: S603 - our own words
