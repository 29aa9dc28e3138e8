"""Make the pictures of README.md and the guides, from the small sample.

`python -m gui.portrait` makes all of them again.  They are small: at the size a page shows
them, and of at most 256 colours.
"""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from scipy.spatial import KDTree

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
PICTURES = ROOT / "scorer/manual/guides/pictures"
SIZE = (1280, 780)
PATIENCE_S = 120.0
PAGES = ("matters", "keying", "settle", "findings", "publish")
"""Names of the pages shown."""
PILOT, DOTS = 6, 62.0
"""Whose slip is shown, and how finely paper is."""
COLOURS = 256


def main() -> int:
    """Write every picture."""
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
        _write(name, QImage.fromData(setting.pictures(DOTS)[0]))


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
            _write(name, window.grab().toImage())
        window.close()


def _write(name: str, image: QImage) -> None:
    """Write a picture in the colours it has most of, at most 256."""
    form = QImage.Format.Format_RGB32
    plain = image.convertToFormat(form)  # outlives the array that looks into it
    whole = np.frombuffer(plain.constBits(), np.uint32)
    kinds, places, counts = np.unique(whole, return_inverse=True, return_counts=True)
    few = kinds[np.argsort(-counts, kind="stable")[:COLOURS]]
    parts = few.view(np.uint8).reshape(-1, 4), kinds.view(np.uint8).reshape(-1, 4)
    _, nearest = KDTree(parts[0]).query(parts[1])
    pixels = nearest.astype(np.uint8)[places].tobytes()
    size = image.width(), image.height()
    made = QImage(pixels, *size, size[0], QImage.Format.Format_Indexed8)
    made.setColorTable(few.tolist())
    made.save(str(PICTURES / f"{name}.png"), quality=0)  # the smallest file


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
