"""The command line: how a command is found, run, and how it ends.

Exit status: 0 all well; 1 something that was asked for is held up, or was found wrong;
2 the input cannot be used, or the system refused something; 130 the user stopped it.
Who reads the output and has read enough (`| head`) changes nothing of that.
"""

import atexit
import gc
import sys
from collections.abc import Sequence
from contextlib import nullcontext

from scorer.cli.commands import parser
from scorer.cli.streams import lasting
from scorer.errors import Cancelled, ScorerError
from scorer.progress import undisturbed
from scorer.remembered import Memory, remembering_in

WELL, UNSETTLED, BAD_INPUT, STOPPED = 0, 1, 2, 130
# What is held at the end goes as a whole, never looked through.
atexit.register(gc.freeze)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; return its exit status."""
    with lasting() as lost:
        status = _ended(sys.argv[1:] if arguments is None else arguments)
    if lost.error is None:
        return status
    _complain_of("output-lost", lost.error)
    return BAD_INPUT


def _ended(words: Sequence[str]) -> int:
    """Run one command, and tell why it ended where it could not go on."""
    asked = next((word for word in words if not word.startswith("-")), "")
    try:
        with undisturbed():
            given = parser(asked, alone=[asked] == list(words[:1])).parse_args(words)
        anew = asked == "verify" or getattr(given, "afresh", False)
        with nullcontext() if anew else remembering_in(_users_memory):
            return int(given.run(given))
    except ScorerError as error:
        _complain(str(error))
        return BAD_INPUT
    except (Cancelled, KeyboardInterrupt):
        _complain("stopped")
        return STOPPED
    except OSError as error:
        _complain_of("system-failed", error)
        return BAD_INPUT


def _users_memory() -> Memory | None:
    from scorer.recall import recall_of_user  # noqa: PLC0415 - where it is asked for

    return recall_of_user()


def _complain(text: str) -> None:
    """Say on the error output why a command ended."""
    from scorer.cli.screen import errors, say  # noqa: PLC0415 - only where it is needed

    say(text, errors)


def _complain_of(kind: str, error: OSError) -> None:
    """Say what the system refused, and what to do."""
    from scorer.facts import fact, words  # noqa: PLC0415 - only where it is needed
    from scorer.words.voice import Voice  # noqa: PLC0415

    _complain(Voice().say(fact(kind, error=words(str(error)))))
