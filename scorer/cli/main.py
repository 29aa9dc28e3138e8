"""The command line: what each command takes, and how it ends.

Exit status: 0 all well; 1 something that was asked for is held up, or was found wrong;
2 the input cannot be used; 130 the user stopped it.
"""

import argparse
import os
import sys
from collections.abc import Sequence
from contextlib import suppress

from scorer.cli import (
    check,
    complaint,
    desk,
    explain,
    ledger,
    manual,
    matters,
    publish,
    rules,
    score,
    season,
    sheets,
    verify,
    winds,
)
from scorer.cli.screen import errors, say
from scorer.errors import Cancelled, ScorerError
from scorer.version import PROGRAM

WELL, UNSETTLED, BAD_INPUT, STOPPED = 0, 1, 2, 130

COMMANDS = (
    score,
    explain,
    matters,
    check,
    rules,
    season,
    winds,
    ledger,
    publish,
    complaint,
    sheets,
    verify,
    desk,
)
"""Modules with `add(subparsers)`; the parser they add sets `run`."""

CAUTION = (
    "Results and heights are evidence for a sport, with stated uncertainty. They are not "
    "for navigation and do not say whether a flight was lawful or safe: the aviation "
    "authority, the event's waiver, the director and licensed pilots decide that."
)


def parser() -> argparse.ArgumentParser:
    """Make the parser of all commands."""
    top = argparse.ArgumentParser(
        prog="sandtail",
        description="Score target competitions of balloons: marks, logs, rulings, points.",
        epilog=CAUTION,
    )
    top.add_argument("--version", action="version", version=PROGRAM)
    commands = top.add_subparsers(required=True, metavar="COMMAND")
    for command in COMMANDS:
        command.add(commands)
    manual.add(commands, parser)
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; return its exit status."""
    given = parser().parse_args(arguments)
    try:
        status = int(given.run(given))
        if sys.stdout is not None:  # none where it was closed
            sys.stdout.flush()
    except ScorerError as error:
        say(str(error), errors)
        return BAD_INPUT
    except (Cancelled, KeyboardInterrupt):
        errors.print("stopped", markup=False)
        return STOPPED
    except BrokenPipeError:
        _discard()
        return STOPPED
    except OSError as error:
        _discard()
        errors.print(f"stopped: {error}", markup=False, soft_wrap=True)
        return BAD_INPUT
    return status


def _discard() -> None:
    """Let what is still to be printed go nowhere, so that the end is quiet."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
