"""Make the pictures of README.md, from the small sample: `python -m gui.portrait`.

They are small: at the size a page shows them, and of flat colours.
"""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtWidgets import QApplication

from gui.home import Home
from gui.window import Window
from scorer.cli.compute import compute
from scorer.cli.output import stamp_of
from scorer.cli.target import load
from scorer.ledger.api import import_folder, new_desk
from scorer.scoring.analysis import Tracks
from scorer.sheets.board import board_setting
from scorer.sheets.slips import slips_setting

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "sample_events/vashkorim"
PICTURES = Path(__file__).with_name("pictures")
SIZE = (1180, 700)
PATIENCE_S = 120.0
PAGES = ("findings",)
"""Names of the pages shown."""
PILOT, DOTS = 6, 62.0
"""Whose slip is shown, and how finely paper is."""


def main() -> int:
    """Write every picture shown in README.md."""
    PICTURES.mkdir(exist_ok=True)
    _paper()
    _window()
    return 0


def _paper() -> None:
    event = load(str(SAMPLE))
    results = compute(event)
    stamp, tracks = stamp_of(results), Tracks(event, results)
    for name, setting in (
        ("board", board_setting(results, event, stamp)),
        ("slip", slips_setting(results, event, stamp, tracks, pilots=[PILOT])),
    ):
        (PICTURES / f"{name}.png").write_bytes(setting.pictures(DOTS)[0])


def _window() -> None:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    os.environ["SANDTAIL_DESK"] = "hall-3f9a1c"
    app = QApplication(sys.argv[:1])
    with TemporaryDirectory() as room:
        file = Path(room) / "vashkorim.sandtail"
        import_folder(SAMPLE, file, desk=new_desk("hall"), who="Merel")
        window = Window(Home(settings_file=Path(room) / "w.ini", data=Path(room)))
        window.resize(*SIZE)
        window.show()
        window.open_target(str(file), "Yrsa")
        _wait(app, lambda: window.session.up_to_date)
        for name in PAGES:
            page = window.page_named(name)
            window.show_page([p.name for p in window.pages].index(page.name))
            _linger(app, 3.0)  # drawings are made by a worker
            window.grab().save(str(PICTURES / f"{name}.png"))
        window.close()


def _wait(app: QApplication, ready: Callable[[], bool]) -> None:
    """Let the window work until something is so."""
    end = time.monotonic() + PATIENCE_S
    while not ready():
        if time.monotonic() > end:
            raise TimeoutError("the sample was not scored in time")
        app.processEvents()
        time.sleep(0.02)


def _linger(app: QApplication, seconds: float) -> None:
    end = time.monotonic() + seconds
    _wait(app, lambda: time.monotonic() > end)


if __name__ == "__main__":
    sys.exit(main())
