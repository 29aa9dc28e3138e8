"""Start the window."""

import argparse
import logging
import sys
from collections.abc import Sequence
from types import TracebackType

from PySide6.QtWidgets import QApplication

from gui import ask
from gui.home import Home
from gui.window import Window
from scorer.recall import recall_of_user
from scorer.remembered import remembering_in


def main(arguments: Sequence[str] | None = None) -> int:
    """Show the window until it is closed; return the exit status."""
    given = _parser().parse_args(arguments)
    logging.basicConfig(level=logging.WARNING)
    app = QApplication.instance() or QApplication(sys.argv[:1])
    app.setApplicationName("sandtail")
    window = Window(Home.of_user())
    sys.excepthook = _hook(window)
    window.show()
    with remembering_in(recall_of_user):
        if given.event:
            window.open_target(given.event, given.official)
        return int(app.exec())


def _parser() -> argparse.ArgumentParser:
    top = argparse.ArgumentParser(
        prog="sandtail desk", description="The scoring desk, in a window."
    )
    top.add_argument(
        "event", nargs="?", metavar="EVENT", help="event file, folder, URL"
    )
    top.add_argument(
        "--official", default="", metavar="NAME", help="who is at the desk"
    )
    return top


class _hook:  # noqa: N801 - used like a function
    """Shows what the program did wrong, instead of dying of it."""

    def __init__(self, window: Window) -> None:
        self._window = window

    def __call__(
        self,
        kind: type[BaseException],
        error: BaseException,
        trace: TracebackType | None,
    ) -> None:
        logging.getLogger(__name__).error("crash", exc_info=(kind, error, trace))
        ask.crashed(self._window.frame.top, error)
