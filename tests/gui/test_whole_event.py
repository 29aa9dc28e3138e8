"""A whole event at the desk, from nothing to final results, by keys alone."""

from datetime import timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from scorer.event.model import Outcome
from scorer.ledger.acts import (
    ComplaintDecided,
    MarkSettled,
    PilotSet,
    Published,
    RulingMade,
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
    write,
)

PILOTS = ((1, "Ilse Tarn"), (2, "Oke Brand"), (3, "Mara Voss"), (4, "Jon Quell"))


def answered(qtbot, window):
    """Record the answer to a question."""
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, window)


def put_up(qtbot, window, stage):
    """Publish as a stage, by its number; the page looks first at what is open."""
    publish = page(window, "publish")
    press(stage)
    wanted = publish.stages.value

    def looked():
        wish = publish.outlook.wish if publish.outlook else None
        ready = publish.actions_["publish"].isEnabled() and window.session.up_to_date
        return ready and wish == publish.wish() and wish.stage == wanted

    qtbot.waitUntil(looked)
    assert not publish.found.blocked, [(x.title, x.proof) for x in publish.found.lines]
    with qtbot.waitSignal(window.jobs.finished):
        press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, window)


def stages(session):
    """Return as what results went up, the first first."""
    return [str(act.stage) for _, act in session.snapshot.state.all_of(Published)]


def test_an_event_from_nothing_to_final_by_keys_alone(
    qtbot, window, tmp_path, monkeypatch
):
    file = tmp_path / "wells.sandtail"
    session = window.session

    # A new event: from the start page, the file's name last.
    assert QApplication.focusWidget().accessibleName() == "Name"
    write(
        {
            "Name": "Dawn at the wells",
            "Site: latitude": "48 36 06.5 N",
            "longitude": "66 18 14.4 E",
            "Time zone": "Asia/Qyzylorda",
            "Elevation": "215 m",
            "Rule book": "Festival",
            "Target at the site": "centre",
            "File": str(file),
        }
    )
    with qtbot.waitSignals([session.opened, session.scored]):
        press(Qt.Key.Key_Return, CTRL)
    assert window.page.name == "matters"
    start = window.page_named("start")
    of_the_event = ("name", "lat", "lon", "crs", "elevation", "file")
    assert {start.kept.texts[name] for name in of_the_event} == {""}
    assert start.zone.currentText() != "Asia/Qyzylorda"

    # Nothing can be entered yet, and pages say what lacks.
    assert "There is no task yet" in page(window, "keying").hint_label.text()
    publish = page(window, "publish")
    qtbot.waitUntil(lambda: publish.found is not None and publish.outlook is not None)
    proofs = [line.proof for line in publish.found.lines if line.matters]
    assert not [proof for proof in proofs if proof.count("not answered yet") > 1]

    # Pilots, one line each.
    home = page(window, "matters")
    assert home.rows.shown or home.onward.words.text() == "Pilots"
    page(window, "roster")
    for number, name in PILOTS:
        write({"Pilot's number": str(number), "Pilot's name": name})
        enter()
    settled(qtbot, window)
    assert len(session.snapshot.state.all_of(PilotSet)) == len(PILOTS)

    # A place, and a task that needs it.
    page(window, "places")
    press(Qt.Key.Key_N, CTRL)
    write({"Name of the place": "scoring area", "Kind of place": "Scoring area"})
    write({"Coordinates": "48.60180, 66.30400 r 260 m"})
    enter()
    press(Qt.Key.Key_N, CTRL)
    write({"Name of the place": "field", "Kind of place": "Boundary"})
    write({"Coordinates": "48.60180, 66.30400 r 1400 m"})
    enter()
    settled(qtbot, window)
    assert len(session.snapshot.event.places) == 3

    # The task, typed into the form as it opens.
    tasks = page(window, "tasks")
    press(Qt.Key.Key_N, CTRL)
    write({"Task": "1", "Flight": "first-morning", "Date": "2026-08-22"})
    write({"Targets": "centre", "Scoring areas": "scoring area"})
    write({"Measured within": "100", "Launch": "550-640", "State": "flown"})
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, window)
    assert [t.number for t in session.snapshot.event.tasks] == [1], tasks.told.text()

    # What the rules leave to the event: each answer leads to the next question.
    rules = page(window, "rules")
    assert [r.key for r in rules.table.shown if r.data.waits] == [
        "floor",
        "contact",
        "complaints",
    ]
    enter()
    press(Qt.Key.Key_Down)  # within the first area named
    press(Qt.Key.Key_2)  # by amount
    type_text("1")
    answered(qtbot, window)
    enter()
    press(Qt.Key.Key_Down)
    press(Qt.Key.Key_2)
    type_text("1")
    answered(qtbot, window)
    assert rules.table.row.question.name == "complaints"
    enter()
    type_text("2 h")
    answered(qtbot, window)
    assert session.snapshot.event.book.asked == ()

    # Marks by two people; the fourth pilot's was not found; one differs.
    page(window, "keying")
    for number, distance in ((1, "12.30"), (2, "3.45"), (3, "7.02"), (4, "none")):
        key_mark(number, distance)
    settled(qtbot, window)
    with monkeypatch.context() as patched:
        patched.setattr("gui.ask.text", lambda *_: "Obafemi")
        press(Qt.Key.Key_F9)
    for number, distance in ((1, "12.30"), (2, "3.54"), (3, "7.02"), (4, "none")):
        key_mark(number, distance)
    settled(qtbot, window)
    page(window, "settle")
    press(Qt.Key.Key_1)
    press(Qt.Key.Key_4)
    type_text("field form, line 2")
    enter()
    settled(qtbot, window)
    assert not [s for s in session.snapshot.slots if s.open]

    # What an observer saw, and the decision on it.
    page(window, "fieldnotes")
    write({"What": "Ground contact", "Pilot's number": "3"})
    write({"Time": "06:30", "Note": "basket on the grass"})
    enter()
    settled(qtbot, window)
    page(window, "findings")
    press(Qt.Key.Key_C)
    press(Qt.Key.Key_1)
    enter()
    settled(qtbot, window)
    assert len(session.snapshot.state.all_of(RulingMade)) == 1

    # Provisional, then official.
    put_up(qtbot, window, Qt.Key.Key_1)
    put_up(qtbot, window, Qt.Key.Key_2)
    assert stages(session) == ["provisional", "official"]

    # A complaint about a mark, filed and answered.
    page(window, "complaints")
    press(Qt.Key.Key_K)
    type_text("1")
    write({"Task the complaint is about": "task 1"})
    write({"Complaint": "measured from the wrong cross"})
    enter()
    settled(qtbot, window)
    press(Qt.Key.Key_1)  # upheld
    type_text("the photograph shows it")
    enter()
    settled(qtbot, window)
    ((_, answer),) = session.snapshot.state.all_of(ComplaintDecided)
    assert answer.verdict == Outcome.UPHELD

    # Another pilot's protest against the answer, filed and dismissed.
    press(Qt.Key.Key_K)
    type_text("2")
    write({"Task the complaint is about": "task 1", "Complaint or protest": "protest"})
    write({"Complaint": "the photograph shows another marker"})
    enter()
    settled(qtbot, window)
    assert window.page.level.currentText() == "complaint", "a protest is said each time"
    press(Qt.Key.Key_2)
    type_text("the jury saw the marker's number")
    enter()
    settled(qtbot, window)
    verdicts = [a.verdict for _, a in session.snapshot.state.all_of(ComplaintDecided)]
    assert verdicts == [Outcome.UPHELD, Outcome.REJECTED]

    # What if pilot 2 got a bonus: seen, and left as it was.
    window.lead("pilot", 2)
    pilot = window.page
    press(Qt.Key.Key_F7)
    press(Qt.Key.Key_1)
    type_text("20")
    qtbot.waitUntil(lambda: "→" in pilot.bar.preview.text())
    press(Qt.Key.Key_Escape)
    assert len(session.snapshot.state.all_of(RulingMade)) == 1
    assert not session.pending

    # The correction it brings, seen by both people.
    keying = page(window, "keying")
    press(Qt.Key.Key_F6)
    while keying.table.row is None or keying.table.row.pilot != 1:
        press(Qt.Key.Key_Down)
    press(Qt.Key.Key_F7)
    write({"Distance": "12.80"})
    enter()
    settled(qtbot, window)
    page(window, "settle")
    press(Qt.Key.Key_2)
    press(Qt.Key.Key_4)
    type_text("photograph 7")
    enter()
    settled(qtbot, window)
    assert len(session.snapshot.state.all_of(MarkSettled)) == 2
    window.lead("settle", 2)  # as another page leads to a pilot's
    assert window.page.rows.row.pilots == (2,)

    # What changed is official first; once the time for complaints is over, final.
    put_up(qtbot, window, Qt.Key.Key_2)
    ledger = session.ledger
    early = ledger.clock
    monkeypatch.setattr(ledger, "clock", lambda: early() + timedelta(hours=2.1))
    put_up(qtbot, window, Qt.Key.Key_3)
    assert stages(session) == ["provisional", "official", "official", "final"]
    results = session.results.results
    assert {s.pilot: s.rank for s in results.task(1).scores}[2] == 1

    session.close()
    assert not verify_target(file).problems
