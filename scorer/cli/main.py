"""The command line: how a command is found, run, and how it ends.

Exit status: 0 all well; 1 something that was asked for is held up, or was found wrong;
2 the input cannot be used; 130 the user stopped it.
"""

import atexit
import gc
import os
import sys
from collections.abc import Sequence
from contextlib import nullcontext, suppress

from scorer.cli.commands import parser
from scorer.errors import Cancelled, ScorerError
from scorer.progress import undisturbed
from scorer.remembered import Memory, remembering_in

WELL, UNSETTLED, BAD_INPUT, STOPPED = 0, 1, 2, 130
# What is held at the end goes as a whole, never looked through.
atexit.register(gc.freeze)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; return its exit status."""
    words = sys.argv[1:] if arguments is None else arguments
    asked = next((word for word in words if not word.startswith("-")), "")
    try:
        with undisturbed():
            given = parser(asked, alone=[asked] == list(words[:1])).parse_args(words)
        anew = asked == "verify" or getattr(given, "afresh", False)
        with nullcontext() if anew else remembering_in(_users_memory):
            status = int(given.run(given))
        if sys.stdout is not None:  # none where it was closed
            sys.stdout.flush()
    except ScorerError as error:
        _complain(str(error))
        return BAD_INPUT
    except (Cancelled, KeyboardInterrupt):
        _complain("stopped")
        return STOPPED
    except BrokenPipeError:
        _discard()
        return STOPPED
    except OSError as error:
        _discard()
        _complain(f"stopped: {error}")
        return BAD_INPUT
    return status


def _users_memory() -> Memory | None:
    from scorer.recall import recall_of_user  # noqa: PLC0415 - where it is asked for

    return recall_of_user()


def _complain(text: str) -> None:
    """Say on the error output why a command ended."""
    from scorer.cli.screen import errors, say  # noqa: PLC0415 - only where it is needed

    say(text, errors)


def _discard() -> None:
    """Let what is still to be printed go nowhere, so that the end is quiet."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
