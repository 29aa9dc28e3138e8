"""The window under test: no screen, no settings of the user, no sleeping."""

import os
import shutil
from importlib.util import find_spec

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("PYTEST_QT_API", "pyside6")

PATIENCE_MS = 60_000
HARMLESS = "This plugin does not support "  # of the platform without a screen
collect_ignore_glob = []
MISSING = [n for n in ("PySide6", "pyqtgraph", "pytestqt") if find_spec(n) is None]
if MISSING:
    collect_ignore_glob = ["test_*.py"]
    REASON = f"{', '.join(MISSING)} not installed: pip install sandtail[desk]"

    def pytest_report_header():
        return f"tests/gui skipped: {REASON}"
else:
    from PySide6.QtWidgets import QComboBox, QLineEdit
    from pytestqt.qtbot import QtBot

    from gui.home import Home
    from gui.unsaved import Unsaved
    from gui.window import Window
    from scorer.ledger.api import import_folder, new_desk
    from scorer.practice.meet import make_meet, write_meet
    from scorer.practice.scenes import SAMPLES

    for wait in (QtBot.waitUntil, QtBot.waitSignal, QtBot.waitSignals):
        # A machine full of other work is slow, and no fault of the window.
        wait.__kwdefaults__["timeout"] = PATIENCE_MS

    @pytest.fixture(scope="session")
    def small_file(tmp_path_factory):
        """An event file of the invented meet of six balloons."""
        place = tmp_path_factory.mktemp("small")
        write_meet(make_meet(*SAMPLES["vashkorim"]), place / "vashkorim")
        file = place / "vashkorim.sandtail"
        import_folder(place / "vashkorim", file, desk=new_desk("press"), who="Merel")
        return file

    @pytest.fixture(scope="session")
    def small_logs(small_file):
        """The folder with the logs of the invented meet's first morning."""
        return small_file.parent / "vashkorim" / "flights" / "first-morning" / "logs"

    @pytest.fixture
    def small(small_file, tmp_path):
        """A copy of the small event, to write in."""
        return shutil.copy(small_file, tmp_path / "vashkorim.sandtail")

    @pytest.fixture
    def home(tmp_path, monkeypatch):
        """Folders of a user who has never started the window."""
        monkeypatch.setenv("SANDTAIL_DESK", "hall-3f9a1c")
        return Home(settings_file=tmp_path / "window.ini", data=tmp_path / "data")

    @pytest.fixture(scope="session")
    def one_window(qapp, tmp_path_factory):
        """The one window of all tests: making it costs more than most of them."""
        place = tmp_path_factory.mktemp("first")
        home = Home(settings_file=place / "window.ini", data=place / "data")
        window = Window(home)
        window.show()
        window.tidy.stop()  # runs while a test has the window
        yield window
        window.close()

    @pytest.fixture
    def window(qtbot, one_window, home, monkeypatch):
        """The window as at its first start, with Yrsa at the desk; a crash fails."""

        def crashed(_, error):
            raise error

        monkeypatch.setattr("gui.ask.crashed", crashed)
        home.settings.set_text("official", "Yrsa")
        as_new(one_window, home)
        one_window.tidy.start()
        qtbot.waitUntil(one_window.isActiveWindow)
        yield one_window
        one_window.jobs.cancel()
        qtbot.waitUntil(lambda: not one_window.jobs.busy)
        one_window.session.close()
        qtbot.waitUntil(lambda: not one_window.session.scorer.busy)
        one_window.tidy.stop()

    def as_new(window, home):
        """Make a window forget what another test did."""
        window.home = window.session.home = home
        window.session.unsaved = Unsaved(home.data, "start")
        for box in window.findChildren(QLineEdit):
            if not isinstance(box.parent(), QComboBox):
                box.clear()
        for box in window.findChildren(QComboBox):
            if not box.isEditable():
                box.setCurrentIndex(0)
        start = window.page_named("start")
        start.official.setText("Yrsa")
        start.target.setText("centre")
        window.session._timer.setInterval(10)
        window.resize(1280, 800)  # the screen that there is not is smaller
        window.show()
        window.activateWindow()
        window.show_page(0)

    @pytest.fixture
    def desk(qtbot, window, small):
        """The window with the small event open and scored."""
        with qtbot.waitSignals([window.session.opened, window.session.scored]):
            window.open_target(str(small), "Yrsa")
        return window


@pytest.fixture(autouse=True)
def _no_qt_warnings(request):
    """Fail a test in which Qt warned of something."""
    log = getattr(request.node, "qt_log_capture", None)
    yield
    if log is not None:
        bad = [r.message for r in log.records if r.log_type_name != "DEBUG"]
        assert [m for m in bad if not m.startswith(HARMLESS)] == []
