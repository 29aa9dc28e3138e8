"""One whole morning at the desk, by keys: from a new event to results on the board."""

import csv

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from gui.models.logs import LogState
from scorer.ledger.acts import (
    LogAdded,
    MarkKeyed,
    MarkSettled,
    PilotSet,
    Published,
    RulingMade,
    Undone,
)
from scorer.ledger.api import verify_target
from tests.gui.helpers import (
    CTRL,
    enter,
    key_mark,
    page,
    press,
    settled,
    type_text,
)
from tests.gui.watchdog import Watchdog

AREA = "48.60180, 66.30400 r 260 m"
BOUNDARY = "48.60180, 66.30400 r 1400 m"


@pytest.fixture
def answers(monkeypatch):
    """Answers to the questions that a file or a name needs, in the order asked."""
    given = {"open_file": [], "text": []}
    monkeypatch.setattr("gui.ask.open_file", lambda *_: given["open_file"].pop(0))
    monkeypatch.setattr("gui.ask.text", lambda *_: given["text"].pop(0))
    return given


@pytest.fixture
def watched(window, monkeypatch):
    """The window, and what watches its own thread from here to the end of the test."""
    # Keys of a test do not come through the system's window: nobody is away here.
    monkeypatch.setattr(window.tidy, "idle_s", 1e9)
    dog = Watchdog()
    dog.watch(monkeypatch)
    yield window, dog
    dog.stop()


def tab(times=1):
    for _ in range(times):
        press(Qt.Key.Key_Tab)


def fill(fields):
    """Type into fields by their accessible names."""
    shown = QApplication.activeWindow() or QApplication.topLevelWidgets()[0]
    for name, text in fields.items():
        box = next(
            w
            for w in shown.findChildren(QLineEdit)
            if w.accessibleName() == name and w.isVisible()
        )
        box.setFocus()
        box.selectAll()
        type_text(text)


def roster(path, source):
    """A roster as people have them: other names of columns, six real and twenty more."""
    text = source.read_text(encoding="utf-8-sig")
    rows = list(csv.DictReader(text.splitlines()))
    with path.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out, delimiter=";")
        writer.writerow(["No.", "Pilot", "Reg.", "Serial", "Crew chief"])
        for row in rows:
            cells = (
                row["number"],
                row["name"],
                row["registration"],
                row["logger"],
                "Ode",
            )
            writer.writerow(cells)
        for number in range(7, 27):
            writer.writerow((number, f"Guest {number}", f"Q9-G{number}", "", "Ebb"))
    return path


def test_a_whole_morning_by_keys(qtbot, watched, tmp_path, small_logs, answers):
    window, watchdog = watched
    file = tmp_path / "dawn.sandtail"
    source = small_logs.parents[2] / "pilots.csv"

    # A new event.
    start = window.page
    assert start.name == "start"
    start.event_name.setFocus()
    fill({"Name": "Dawn at the wells", "Site: latitude": "48 36 06.5 N"})
    fill({"longitude": "66 18 14.4 E", "Elevation": "215 m"})
    tab()
    assert start.crs.currentText() == "EPSG:32642"  # zone 42 lies from 66° to 72° east
    start.zone.setCurrentText("Asia/Qyzylorda")
    start.book.setCurrentIndex(start.book.findData("festival"))
    fill({"File": str(file)})
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        press(Qt.Key.Key_Return, CTRL)
    assert window.page.name == "matters"

    # The roster.
    page(window, "roster")
    answers["open_file"].append(roster(tmp_path / "list.csv", source))
    with qtbot.waitSignal(window.jobs.finished):
        press(Qt.Key.Key_O, CTRL)
    assert "26 pilots, no faults" in window.page.dialog.told.text()
    press(Qt.Key.Key_Return)
    settled(qtbot, window)
    pilots = window.session.snapshot.state.all_of(PilotSet)
    assert len(pilots) == 26
    assert pilots[0][1].fields["crew chief"] == "Ode"

    # Places and a task.
    places = page(window, "places")
    for name, kind, where in (
        ("scoring area", "scoring-area", AREA),
        ("field", "boundary", BOUNDARY),
    ):
        press(Qt.Key.Key_N, CTRL)
        type_text(name)
        places.line.kind.setCurrentIndex(places.line.kind.findData(kind))
        fill({"Coordinates": where})
        enter()
        settled(qtbot, window)
    assert {p.name for p in window.session.snapshot.event.places} == {
        "centre",
        "scoring area",
        "field",
    }
    tasks = page(window, "tasks")
    press(Qt.Key.Key_N, CTRL)
    fill({"Flight": "first-morning", "Date": "2026-08-22", "Task": "1"})
    fill({"Targets": "centre", "Scoring areas": "scoring area"})
    fill({"Measured within": "100", "Launch": "550"})
    tasks.editor.state.setCurrentText("flown")
    press(Qt.Key.Key_Return, CTRL)
    launch = tasks.editor.echoes["launch"]
    assert "is no period" in launch.beneath.text()  # half a period is no period
    assert QApplication.focusWidget() is launch.field
    type_text("550-640")
    assert launch.reading.text() == "05:50 to 06:40"
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, window)
    assert [t.number for t in window.session.snapshot.event.tasks] == [1]

    # First keying, without the mouse: a bare Enter takes the next pilot.
    keying = page(window, "keying")
    for number in range(1, 23):
        enter()
        assert keying.line.number.text() == str(number)
        type_text(f"{number}.5" if number != 4 else "none")
        enter()
    key_mark(23, "31' 2\"")
    settled(qtbot, window)
    marks = window.session.snapshot.state.all_of(MarkKeyed)
    assert len(marks) == 23
    assert {act.fields["by"] for _, act in marks} == {"Yrsa"}
    press(Qt.Key.Key_Z, CTRL)  # the last was a slip: taken back, keyed anew
    settled(qtbot, window)
    assert keying.line.distance.text() == "31' 2\""
    keying.line.distance.setFocus()
    keying.line.distance.selectAll()
    type_text("9.5")
    enter()
    settled(qtbot, window)
    assert len(window.session.snapshot.state.all_of(MarkKeyed)) == 23
    assert any(isinstance(e.act, Undone) for e in window.session.snapshot.state.entries)

    # Second keying, blind, by somebody else; one differs.
    answers["text"].append("Obafemi")
    press(Qt.Key.Key_F9)
    shown = " ".join(row.value for row in keying.rows)
    assert "3.5" not in shown
    assert "hidden" in shown
    assert keying.table.shown == []
    for number in range(1, 24):
        text = {3: "5.3", 4: "none", 23: "9.5"}.get(number, f"{number}.5")
        key_mark(number, text)
    settled(qtbot, window)
    assert [s.slot.pilot for s in window.session.snapshot.slots if s.open] == ["3"]

    # Settled side by side.
    settle = page(window, "settle")
    assert "digits swapped" in settle.told.text()
    press(Qt.Key.Key_1)
    press(Qt.Key.Key_4)
    type_text("field form, line 3")
    enter()
    settled(qtbot, window)
    ((_, mark),) = window.session.snapshot.state.all_of(MarkSettled)
    assert mark.fields["distance"] == "3.5"
    assert not [s for s in window.session.snapshot.slots if s.open]

    # The logs.
    logs = page(window, "logs")
    with qtbot.waitSignal(window.jobs.finished):
        logs.take_in([small_logs])
    settled(qtbot, window)
    assert len(window.session.snapshot.state.all_of(LogAdded)) == 6
    assert {r.state for r in logs.table.shown} == {LogState.COUNTS}

    # A ruling on each finding, by key.
    findings = page(window, "findings")
    while any(row.data.open for row in findings.rows.shown):
        before = len(window.session.snapshot.state.all_of(RulingMade))
        row = findings.rows.row
        press(Qt.Key.Key_C if row.ruled.finding.penalty else Qt.Key.Key_W)
        press(Qt.Key.Key_1)
        enter()
        settled(qtbot, window)
        assert len(window.session.snapshot.state.all_of(RulingMade)) == before + 1

    # Results, a breakdown one key away.
    results = page(window, "results")
    press(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is results.bill
    assert "Rules: Festival target competition" in results.rules.text()
    assert any(row.name.startswith("Taped ") for row in results.bill.shown)

    # Provisional results go up.
    publish = page(window, "publish")
    qtbot.waitUntil(lambda: publish.found is not None)
    qtbot.waitUntil(lambda: not window.jobs.busy)
    with qtbot.waitSignal(window.jobs.finished):
        press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, window)
    ((_, up),) = window.session.snapshot.state.all_of(Published)
    assert up.version == 1
    folder = publish.place / "event-version-1-provisional"
    for name in (
        "board.pdf",
        "results.xlsx",
        "slips.pdf",
        "site/index.html",
        "results.json",
    ):
        assert (folder / name).stat().st_size > 0
    assert (folder / "board.pdf").read_bytes()[:5] == b"%PDF-"

    # The window was never away.
    assert watchdog.turns > 1000
    assert not watchdog.late, "what was done, milliseconds, pace of the machine"

    # Everything stands in the file, and recomputes.
    window.session.close()
    audit = verify_target(file)
    assert not audit.problems
    assert QTest is not None
