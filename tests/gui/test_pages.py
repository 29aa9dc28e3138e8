"""What the pages promise beyond keying, each by its keys."""

import threading
import zipfile
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
)

from gui.help import help_of
from gui.log_files import gather, take_in
from gui.models.board import CellState
from gui.models.logs import LogState
from gui.models.table import RIGHT, TableColumn
from gui.models.tasks import place_rows
from gui.parts.cells import CellDelegate
from gui.places_text import feature, read_corners, read_point
from gui.roster_file import doubts_of, faults_of, matched, proposed, read_roster
from gui.style import LOOK
from gui.task_form import form_of, new_faults, settings_of
from gui.view import TableView
from scorer.errors import InputError
from scorer.event import matters, place_kinds
from scorer.event.model import Pilot, TargetEvent
from scorer.ledger.acts import (
    DeclarationMade,
    FlightSet,
    LogAdded,
    LogAssigned,
    NoteMade,
    PilotSet,
    PlaceSet,
    ReportMade,
    TargetLogged,
    TaskSheetIssued,
    Withdrawn,
)
from scorer.ledger.api import Draft, Ledger, new_desk
from scorer.ledger.engine import is_sqlite_file
from scorer.progress import Control
from scorer.sheets.issuing import give_out, next_issued
from scorer.units import Unreadable
from tests.gui.helpers import (
    CTRL,
    because,
    command,
    enter,
    give,
    page,
    press,
    settled,
    type_text,
    write,
)
from tests.gui.test_blind import twice

# The window as a whole.


def test_every_command_has_a_key_of_its_own_where_it_counts(window):
    everywhere = [*window.commands.specs.values(), *window.page_actions.specs.values()]
    for shown in window.pages:
        keys = [s.key for s in (*everywhere, *shown.actions_.specs.values()) if s.key]
        assert len(keys) == len(set(keys)), shown.name


def test_every_command_calls_something_and_says_what_it_does(window):
    for owner, actions in [
        (window, window.commands),
        *((p, p.actions_) for p in window.pages),
    ]:
        for spec in actions.specs.values():
            assert callable(getattr(owner, spec.name))
            assert spec.tip


def _inside_combo(widget):
    """Tell the parts that Qt puts into a box to choose from, and its lists."""
    parent = widget.parent()
    return "Combo" in type(parent).__name__ or parent.inherits(
        "QComboBoxPrivateContainer"
    )


def test_everything_that_takes_the_keyboard_has_an_accessible_name(desk):
    for shown in desk.pages:
        for kind in (QLineEdit, QComboBox, QAbstractItemView):
            for widget in shown.findChildren(kind):
                if not (widget.isWindow() or _inside_combo(widget)):
                    assert widget.accessibleName(), (shown.name, widget)


def test_a_caution_stands_wherever_heights_are_shown(desk):
    for shown in desk.pages:
        if shown.shows_heights or shown.name == "start":
            cautions = [
                w for w in shown.findChildren(QLabel) if w.objectName() == "caution"
            ]
            assert cautions, shown.name
            assert "not for navigation" in " ".join(c.text() for c in cautions)


def test_tab_goes_round_the_entry_line_in_the_order_of_the_form(desk):
    keying = page(desk, "keying")
    keying.line.to_start()
    seen = []
    for _ in range(6):
        seen.append(QApplication.focusWidget().accessibleName())
        press(Qt.Key.Key_Tab)
    assert seen == [
        "Pilot's number",
        "Distance",
        "Bearing",
        "Time",
        "Note",
        "How measured",
    ]


def test_commands_are_found_by_words_and_given_by_enter(qtbot, desk):
    page(desk, "keying")
    press(Qt.Key.Key_F2)
    desk.finder.activateWindow()
    qtbot.waitUntil(desk.finder.words.hasFocus)
    type_text("page journal")
    enter()
    assert desk.page.name == "desks"


def test_commands_that_cannot_be_given_say_why(window):
    action = window.page_named("publish").actions_["publish"]
    window.show_page([p.name for p in window.pages].index("publish"))
    assert not action.isEnabled()
    assert "open or make an event first" in action.toolTip()


def test_text_and_look_change_by_key_and_are_remembered(window, home):
    window.show_page(0)
    press(Qt.Key.Key_F11)
    assert home.settings.text("theme") == "dusk"
    press(Qt.Key.Key_Plus, CTRL)
    here = window.screens.name
    assert home.settings.text(f"size {here}") == "1"
    assert window.screens.step == 1
    assert home.settings.text(f"theme {here}") == "dusk"
    press(Qt.Key.Key_Minus, CTRL)
    press(Qt.Key.Key_F11)
    assert home.settings.text("theme") == "noon"


def test_every_screen_keeps_its_own_text_and_colours(window, home, monkeypatch):
    """A beamer with large dark text leaves the laptop as it was."""
    screens = type(window.screens)(window, lambda: home.settings)
    on = {"at": "laptop 1280x800"}
    monkeypatch.setattr(type(screens), "name", property(lambda _: on["at"]))
    screens.set_step(0)
    on["at"] = "beamer 1024x768"
    screens.set_step(3)
    screens.next_theme()
    assert (screens.step, screens.theme.name) == (3, "dusk")
    on["at"] = "laptop 1280x800"
    assert screens.step == 0
    screens.next_theme()
    screens.next_theme()
    on["at"] = "beamer 1024x768"
    assert (screens.step, screens.theme.name) == (3, "dusk")
    on["at"] = "never seen 800x600"
    assert screens.step == 0


def test_what_other_desks_enter_appears(qtbot, desk):
    with Ledger.open(
        desk.session.target, desk=new_desk("field"), who="Tendai"
    ) as other:
        before = len(desk.session.snapshot.state.all_of(NoteMade))
        with qtbot.waitSignal(desk.session.changed):
            other.record(NoteMade(text="wind is up"))
    qtbot.waitUntil(
        lambda: len(desk.session.snapshot.state.all_of(NoteMade)) == before + 1
    )


def test_a_file_that_is_no_event_is_refused_with_a_way_out(qtbot, window, tmp_path):
    wrong = tmp_path / "letter.sandtail"
    wrong.write_text("dear all")
    with qtbot.waitSignal(window.jobs.refused):
        window.open_target(str(wrong), "Yrsa")
    assert "sandtail" in window.note.text()
    assert window.session.ledger is None


def test_an_invented_event_opens_with_enter(qtbot, window):
    start = window.page
    row = next(i for i in range(2) if "Vashkorim" in start.samples.item(i).text())
    start.samples.setFocus()
    start.samples.setCurrentRow(row)
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        start.samples.activated.emit(start.samples.model().index(row, 0))
    assert is_sqlite_file(window.home.data / "samples" / "vashkorim.sandtail")


# The roster.


def test_columns_of_a_roster_are_matched_by_their_names():
    headers = ["No.", "Pilot", "Reg", "Nation", "Serial", "Crew chief"]
    assert list(proposed(headers).values()) == [
        "number",
        "name",
        "registration",
        "country",
        "logger",
        "Crew chief",
    ]


def test_a_roster_with_faults_names_them_all(tmp_path):
    file = tmp_path / "r.csv"
    file.write_text("no;pilot\n7;Oisín\nseven;Bo\n7;Ida\n8;\n", encoding="utf-8")
    found = read_roster(file)
    faults = [str(f) for f in faults_of(matched(found, proposed(found.headers)))]
    assert len(faults) == 3
    assert any("line 3" in f and "whole number" in f for f in faults)
    assert any("each number once" in f for f in faults)
    assert any("pilot's name" in f for f in faults)


def test_an_import_tells_of_twins_and_other_people_before_it_is_recorded(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("no,pilot,reg\n1,Bo Ek,X-AB\n7,Jon Smyth,xab\n8,Dee Dum,X-CD\n")
    found = read_roster(path)
    there = [
        Pilot(number=1, name="Ann Iso"),
        Pilot(number=2, name="John Smith"),
        Pilot(number=8, name="Dee Dum", registration="X-CD"),
    ]

    doubts = doubts_of(matched(found, proposed(found.headers)), there)

    inner = [d.get("text") or d for d in doubts]
    assert [d.kind for d in inner] == [
        "same-registration",
        "alike-names",
        "folder-other-person",
    ]


def test_an_empty_roster_is_refused(tmp_path):
    file = tmp_path / "r.csv"
    file.write_text("no;pilot\n")
    with pytest.raises(InputError, match="a line for each pilot"):
        read_roster(file)


def test_a_pilot_is_entered_and_changed_by_keys(qtbot, desk):
    roster = page(desk, "roster")
    press(Qt.Key.Key_N, CTRL)
    type_text("41")
    press(Qt.Key.Key_Tab)
    type_text("Ode Lark")
    enter()
    settled(qtbot, desk)
    assert desk.session.snapshot.pilot_name(41) == "Ode Lark"
    row = next(r for r in roster.table.rows_model.rows if r.number == 41)
    roster.table.choose(row.key)
    press(Qt.Key.Key_F7)
    QApplication.focusWidget().selectAll()
    type_text("Ode Larkin")
    enter()
    settled(qtbot, desk)
    assert desk.session.snapshot.pilot_name(41) == "Ode Larkin"
    row = next(r for r in roster.table.rows_model.rows if r.number == 41)
    roster.table.choose(row.key)
    roster.table.setFocus()
    press(Qt.Key.Key_Delete)
    told = []
    roster.note.connect(told.append)
    because("entered twice")
    assert told == ["Removed: 41 Ode Larkin. The entries stay in the journal"]
    settled(qtbot, desk)
    assert desk.session.snapshot.event.pilot(41) is None
    assert any(
        isinstance(e.act, Withdrawn) for e in desk.session.snapshot.state.entries
    )


def test_a_number_that_is_taken_is_not_entered_again(desk):
    roster = page(desk, "roster")
    press(Qt.Key.Key_N, CTRL)
    type_text("3")
    press(Qt.Key.Key_Tab)
    type_text("Somebody")
    enter()
    assert not desk.session.pending
    assert roster.told.text().startswith("3 is ")
    assert roster.fields["name"].text() == "Somebody"


# Places and tasks.


def test_points_and_circles_are_read_as_people_write_them():
    assert read_point("48 36 00 N, 66 30 00 E") == (48.6, 66.5)
    assert read_point("48.6 66.5") == (48.6, 66.5)
    assert read_corners("1, 1; 1, 2; 2, 2") == [(1, 1), (1, 2), (2, 2)]
    circle = read_corners("0, 0 r 1 km")
    assert max(lat for lat, _ in circle) == pytest.approx(1 / 110.574, rel=1e-4)
    # a degree of the meridian at the equator is 110.574 km on WGS 84 (Snyder 1987, table)
    with pytest.raises(Unreadable, match="three corners"):
        read_corners("1, 1; 1, 2")


def test_an_area_is_a_closed_ring_the_engine_reads():
    made = feature("field", place_kinds.BOUNDARY, "48.6, 66.3 r 1 mi", {})
    ring = made["geometry"]["coordinates"][0]
    assert ring[0] == ring[-1]
    assert len(ring) == 73


def test_how_high_an_obstacle_stands_is_entered_and_comes_back_into_the_line(
    qtbot, desk
):
    own = page(desk, "places").line
    made = feature(
        "mast", place_kinds.OBSTACLE, "48.6, 66.3 r 20 m", {"height_m": "150 ft"}
    )
    assert made["properties"]["height_m"] == pytest.approx(45.72)
    desk.session.record(PlaceSet(feature=made))
    settled(qtbot, desk)
    row = next(r for r in place_rows(desk.session.snapshot) if r.place.name == "mast")
    own.change(row)
    assert own.tall.text() == "45.72 m"
    own.submit()
    settled(qtbot, desk)
    kept = next(r for r in place_rows(desk.session.snapshot) if r.place.name == "mast")
    assert kept.place.height_m == pytest.approx(45.72)


def test_a_task_form_gives_back_the_settings_it_was_filled_from(desk):
    for _, act in desk.session.snapshot.state.all_of(FlightSet):
        for task in act.settings["task"]:
            form = form_of(act.flight, act.settings, task["number"])
            assert settings_of(form, act.settings) == dict(act.settings)


def test_a_task_at_a_place_that_is_not_there_is_refused_by_name(desk):
    act = desk.session.snapshot.state.all_of(FlightSet)[0][1]
    tasks = [{**act.settings["task"][0], "target": "center"}]
    faults = new_faults(
        desk.session.snapshot, act.flight, {**act.settings, "task": tasks}
    )
    assert any('Did you mean "centre"?' in fault for fault in faults)


def test_a_task_is_cancelled_with_a_reason_and_counts_again(qtbot, desk):
    tasks = page(desk, "tasks")
    give(tasks, "cancel_task")
    because("thunder at nine")
    settled(qtbot, desk)
    assert desk.session.results.results.task(1).state == "cancelled"
    give(tasks, "cancel_task")
    because("it passed by")
    settled(qtbot, desk)
    assert desk.session.results.results.task(1).state == "flown"


def test_the_field_form_is_made_for_printing(qtbot, desk, monkeypatch):
    shown = []
    monkeypatch.setattr(
        "gui.pages.tasks.QDesktopServices.openUrl",
        lambda url: shown.append(url.toLocalFile()),
    )
    page(desk, "tasks")
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_P, CTRL)
    assert shown[0].endswith("field-form-1.pdf")
    assert Path(shown[0]).read_bytes()[:5] == b"%PDF-"


def test_a_task_sheet_is_issued_and_printed_with_its_version(qtbot, desk, monkeypatch):
    shown, told = [], []
    monkeypatch.setattr(
        "gui.pages.tasks.QDesktopServices.openUrl",
        lambda url: shown.append(Path(url.toLocalFile())),
    )
    tasks = page(desk, "tasks")
    tasks.note.connect(told.append)

    def issued(why=""):
        command(desk, "Issue the task sheet")
        qtbot.waitUntil(lambda: not desk.jobs.busy)
        if why:
            because(why)
            qtbot.waitUntil(lambda: not desk.jobs.busy)
        settled(qtbot, desk)
        acts = desk.session.snapshot.state.all_of(TaskSheetIssued)
        return [(act.flight, act.version, c.entry.why) for c, act in acts]

    first = ("first-morning", 1, "")
    assert issued() == [first]
    assert "version 1" in told[-1]
    assert issued() == [first]
    assert "it stands" in told[-1]

    def sheet():
        with qtbot.waitSignal(desk.jobs.finished):
            press(Qt.Key.Key_P, CTRL)
        pdf = shown[-1].with_name("task-sheet-first-morning.pdf")
        return " ".join(p.extract_text() for p in PdfReader(pdf).pages)

    assert "version 1, issued" in sheet()
    tasks.table.setFocus()
    press(Qt.Key.Key_F7)
    write({"Launch": "500-640"})
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)
    assert "issued" not in sheet()  # it says something else by now
    fog = "fog at the launch field"
    assert issued(fog) == [first, ("first-morning", 2, fog)]
    assert "fog at the launch field" in sheet()


def test_of_desks_that_issue_a_sheet_at_once_one_is_told_to_issue_again(
    qtbot, desk, small, monkeypatch
):
    """The window recorded its version as if it were alone: there were two of a number."""
    page(desk, "tasks")
    refused = []
    faster = Ledger.open(str(small), desk=new_desk("other"), who="Ingrid")
    made = next_issued

    def slow(*given):
        act = made(*given)
        give_out(faster, Draft(act=act))
        return act

    monkeypatch.setattr("gui.pages.tasks.next_issued", slow)
    desk.jobs.refused.connect(refused.append)
    with faster:
        command(desk, "Issue the task sheet")
        qtbot.waitUntil(lambda: bool(refused))
    desk.session.look_again()
    qtbot.waitUntil(
        lambda: len(desk.session.snapshot.state.all_of(TaskSheetIssued)) == 1
    )
    assert "version 1" in refused[0].lower()


def test_a_flown_task_tells_who_is_accounted_for(qtbot, desk):
    tasks = page(desk, "tasks")
    assert tasks.table.row.number == 1
    assert tasks.board.isVisible()
    assert not tasks.looked.isVisible()
    board = tasks.board.board.board
    assert {cell.pilot for cell in board.cells} == set(range(1, 7))
    logs = page(desk, "logs")
    counting = {r.pilot for r in logs.table.shown if r.state is LogState.COUNTS}
    assert counting >= set(board.of(CellState.DONE)) > set()
    tasks = page(desk, "tasks")
    press(Qt.Key.Key_N, CTRL)  # a task to come is looked over instead
    assert "copies" not in tasks.hint_label.text()
    write({"Launch": "500-640"})
    assert tasks.looked.isVisible()
    assert not tasks.board.isVisible()
    press(Qt.Key.Key_Escape)
    assert "copies" in tasks.hint_label.text(), "no new task is in the form any more"
    tasks.board.board.entered.emit(3)
    assert (desk.page.name, desk.page.number) == ("pilot", 3)


# Check-in.


def test_check_in_is_a_key_each_on_the_chosen_pilot(qtbot, desk):
    roster = page(desk, "roster")
    number = roster.table.row.number
    before = dict(roster.table.row.fields)

    def pilot():
        return desk.session.snapshot.event.pilot(number)

    for key in (Qt.Key.Key_1, Qt.Key.Key_2, Qt.Key.Key_3):
        press(key)
        settled(qtbot, desk)
        assert roster.table.row.number == number
    assert (pilot().competes, pilot().papers, pilot().waiver) == (False, True, True)
    for key in (Qt.Key.Key_1, Qt.Key.Key_2, Qt.Key.Key_3):
        press(key)
        settled(qtbot, desk)
    assert (pilot().competes, pilot().papers, pilot().waiver) == (True, False, False)
    turned = {"competes", "papers", "waiver"}
    after = roster.table.row.fields
    assert {n: t for n, t in after.items() if n not in turned} == {
        n: t for n, t in before.items() if n not in turned
    }
    roster.search.setFocus()
    type_text("1")
    settled(qtbot, desk)
    assert pilot().competes


# Field notes.


def test_reports_and_declared_goals_are_entered_by_keys(qtbot, desk):
    notes = page(desk, "fieldnotes")
    notes.what.setCurrentText("Too low")
    type_text("2")
    press(Qt.Key.Key_Tab)
    type_text("06:01:30")
    press(Qt.Key.Key_Tab)
    type_text("10 m")
    enter()
    settled(qtbot, desk)
    reports = [
        a
        for _, a in desk.session.snapshot.state.all_of(ReportMade)
        if a.fields["kind"] == "low"
    ]
    assert reports[-1].fields["value"] == "10 m"
    before = len(desk.session.snapshot.state.all_of(DeclarationMade))
    notes.task.setCurrentIndex(1)
    notes.what.setCurrentText("Declared goal")
    notes.pilot.setFocus()
    type_text("2")
    notes.value.setFocus()
    type_text("north well")
    enter()
    settled(qtbot, desk)
    assert len(desk.session.snapshot.state.all_of(DeclarationMade)) == before + 1


def test_what_happened_to_a_target_is_logged_and_changed_by_keys(qtbot, desk):
    notes = page(desk, "fieldnotes")
    write({"What": "Target closed", "Time": "06:10"})
    assert not notes.pilot.isEnabled()
    enter()
    settled(qtbot, desk)
    flight = desk.session.snapshot.flight("first-morning")
    line = max(flight.targets, key=lambda t: t.time_s)
    assert (line.task, line.event, line.by) == (1, TargetEvent.CLOSED, "Yrsa")
    assert line.target == flight.tasks[0].target
    row = next(r for r in notes.table.shown if r.kind == "target closed")
    assert notes.table.choose(row.ids)
    press(Qt.Key.Key_F7)
    write({"Time": "soon"})
    enter()
    assert "allowed is a local time" in notes.echoes["time"].beneath.text()
    assert QApplication.focusWidget() is notes.time
    write({"Time": "06:20", "Value": "centre"})
    enter()
    settled(qtbot, desk)
    after = desk.session.snapshot.flight("first-morning").targets
    assert len(after) == len(flight.targets)
    assert max(t.time_s for t in after) == line.time_s + 600


def test_a_changed_report_keeps_what_the_line_does_not_show(qtbot, desk):
    fields = {"task": "1", "pilot": "2", "goal": "north well", "height": "600 m"}
    made = DeclarationMade(flight="first-morning", fields=fields)
    desk.session.record(made)
    settled(qtbot, desk)
    notes = page(desk, "fieldnotes")
    row = next(r for r in notes.table.shown if r.fields.get("height") == "600 m")
    assert notes.table.choose(row.ids)
    notes.table.setFocus()
    press(Qt.Key.Key_F7)
    write({"Note": "read again"})
    enter()
    settled(qtbot, desk)
    acts = [a for _, a in desk.session.snapshot.state.all_of(DeclarationMade)]
    changed = next(a for a in acts if a.fields.get("note") == "read again")
    assert changed.fields["height"] == "600 m"


def test_a_report_is_about_the_task_chosen_for_the_whole_window(desk):
    """Chosen on another page, task 2 stood at the top and task 1 in the form."""
    page(desk, "matters")
    desk.session.choose_task(2)
    notes = page(desk, "fieldnotes")
    assert notes.task.currentData() == 2
    type_text("3")
    page(desk, "matters")
    desk.session.choose_task(1)
    page(desk, "fieldnotes")
    assert notes.task.currentData() == 2, "what is begun stays as it is"


def test_a_note_with_a_fault_is_not_recorded_and_says_what_is_allowed(desk):
    notes = page(desk, "fieldnotes")
    type_text("2")
    press(Qt.Key.Key_Tab)
    type_text("soon")
    enter()
    assert "allowed is a local time" in notes.echoes["time"].beneath.text()
    assert QApplication.focusWidget() is notes.time
    assert not desk.session.pending


# Logs.


def test_folders_and_zips_are_read_and_double_logs_passed_over(
    small_logs, small, tmp_path
):
    packed = tmp_path / "logs.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        for file in sorted(small_logs.iterdir()):
            archive.write(file, f"morning/{file.name}")
    found = gather([packed, small_logs], Control())
    assert len(found.logs) == 12
    with Ledger.open(small, desk=new_desk("a"), who="Yrsa") as ledger:
        taken = take_in(ledger, "first-morning", [packed], Control())
        assert (taken.added, taken.known) == (0, 6)
        other = take_in(ledger, "second-morning", [packed, small_logs], Control())
        assert (other.added, other.known) == (6, 6)
        names = [log.name for log in ledger.state().logs]
        assert len(set(names)) < len(names)  # each flight has its own 001.igc
        own = [
            log.name for log in ledger.state().logs if log.flight == "second-morning"
        ]
        assert len(set(own)) == len(own)


def test_taking_in_logs_can_be_cancelled_and_the_window_stays_awake(
    qtbot, desk, tmp_path, monkeypatch
):
    read, go_on = threading.Event(), threading.Event()
    for i in range(30):
        (tmp_path / f"l{i}.igc").write_bytes(b"AXXX001\r\n" + bytes([i]))

    def slow(file):
        read.set()
        go_on.wait(60)
        return file.read_bytes()

    monkeypatch.setattr("gui.log_files._read", slow)
    logs = page(desk, "logs")
    before = len(desk.session.snapshot.state.all_of(LogAdded))
    with qtbot.waitSignal(desk.jobs.stopped):
        logs.take_in([tmp_path])
        qtbot.waitUntil(read.is_set)
        page(desk, "keying")  # the window answers while the job runs
        assert desk.frame.foot.bar.isVisible()
        press(Qt.Key.Key_F8)
        go_on.set()
    assert not desk.frame.foot.bar.isVisible()
    assert "nothing half done" in desk.note.text()
    settled(qtbot, desk)
    assert len(desk.session.snapshot.state.all_of(LogAdded)) == before


def test_a_log_of_noise_cannot_be_used_and_asks_nobody_whose_it_is(
    qtbot, desk, tmp_path
):
    noise = tmp_path / "noise.igc"
    noise.write_bytes(bytes(range(256)) * 40)
    logs = page(desk, "logs")
    with qtbot.waitSignal(desk.jobs.finished):
        logs.take_in([noise])
    settled(qtbot, desk)
    row = next(r for r in logs.table.shown if r.name == noise.name)
    assert row.state is LogState.BROKEN
    logs.table.choose(row.held.current.ids)
    assert logs.about.text().startswith("noise.igc: cannot be used; ")
    assert "1 cannot be used" in logs.told.text()


def test_a_log_that_nothing_names_is_assigned_by_hand(
    qtbot, desk, small_logs, tmp_path
):
    lines = (small_logs / "004.igc").read_text(encoding="utf-8").splitlines()
    kept = [
        line
        for line in lines
        if line[:1] in "BH"
        and not line.startswith(("HFPLT", "HFGID", "HFCID", "HOPLT"))
    ]
    # Half a mile beside it: what flew in one basket is its pilot's without a word.
    kept = [
        f"{fix[:9]}{int(fix[9:14]) + 430:05}{fix[14:]}" if fix[0] == "B" else fix
        for fix in kept
    ]
    anonymous = tmp_path / "found-in-a-basket.igc"
    anonymous.write_text("\n".join(["AXXX", *kept]) + "\n", encoding="utf-8")
    logs = page(desk, "logs")
    with qtbot.waitSignal(desk.jobs.finished):
        logs.take_in([anonymous])
    settled(qtbot, desk)
    row = next(r for r in logs.table.shown if r.name == anonymous.name)
    assert row.state is LogState.UNMATCHED
    assert logs.table.shown[0] is row  # what needs people comes first
    logs.table.choose(row.held.current.ids)
    enter()
    type_text("4")
    assert logs.owner.text() == desk.session.snapshot.pilot_name(4)
    enter()
    settled(qtbot, desk)
    ((_, act),) = desk.session.snapshot.state.all_of(LogAssigned)
    assert act.pilot == 4
    row = next(r for r in logs.table.shown if r.name == anonymous.name)
    assert row.pilot == 4
    assert row.by_hand


# Results and publication.


def test_every_warning_of_the_score_is_shown_with_the_blocking_ones_first(desk):
    results = page(desk, "results")
    results.which.setCurrentIndex(results.which.count() - 1)
    shown = [row.warning for row in results.table.shown]
    assert shown == list(desk.session.results.results.told)
    assert shown
    blocks = [w.holds_up for w in shown]
    assert blocks == sorted(blocks, reverse=True)


def test_results_follow_an_entry_and_say_what_changed(qtbot, desk):
    results = page(desk, "results")
    assert not results.told.text().startswith("These must")
    qtbot.waitUntil(lambda: not desk.jobs.busy)
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_D)
    assert "not published yet" in results.change_words.text()


# The journal.


def test_undo_in_the_journal_needs_a_reason_and_is_an_entry(qtbot, desk):
    journal = page(desk, "desks")
    before = len(desk.session.snapshot.state.entries)
    mark = next(r for r in journal.table.shown if r.entry.kind == "mark")
    journal.table.choose(mark.entry.hash)
    press(Qt.Key.Key_Delete)
    because("  ")
    assert not desk.session.pending
    assert journal.why_bar.fault.text().startswith("Say why first")
    press(Qt.Key.Key_Escape)
    assert not journal.why_bar.isVisible()
    assert QApplication.focusWidget() is journal.table
    press(Qt.Key.Key_Delete)
    told = []
    journal.note.connect(told.append)
    because("keyed from the wrong form")
    assert told[0].startswith("Reverted: ")
    settled(qtbot, desk)
    assert len(desk.session.snapshot.state.entries) == before + 1
    row = next(
        r for r in journal.table.rows_model.rows if r.entry.hash == mark.entry.hash
    )
    assert row.stands.startswith("reverted by hall-3f9a1c")


def test_the_journal_verifies_every_entry(qtbot, desk):
    journal = page(desk, "desks")
    with qtbot.waitSignal(desk.jobs.finished):
        give(journal, "verify")
    assert "Nothing was altered" in journal.told.text()


def test_another_desks_file_is_merged(qtbot, desk, small, tmp_path, monkeypatch):
    journal = page(desk, "desks")
    other = tmp_path / "other.sandtail"
    other.write_bytes(Path(small).read_bytes())
    with Ledger.open(other, desk=new_desk("field"), who="Tendai") as ledger:
        ledger.record(NoteMade(text="written far from any network"))
    monkeypatch.setattr("gui.ask.open_file", lambda *_: other)
    with qtbot.waitSignal(desk.jobs.finished):
        give(journal, "merge")
    qtbot.waitUntil(
        lambda: any(
            a.text == "written far from any network"
            for _, a in desk.session.snapshot.state.all_of(NoteMade)
        )
    )


def test_an_entry_nobody_can_read_is_set_aside_and_holds_official_up(qtbot, desk):
    desk.session.record(PilotSet(fields={"number": "many", "name": "Bo"}))
    settled(qtbot, desk)
    aside = [
        matter
        for matter in desk.session.results.results.matters
        if matter.kind is matters.SET_ASIDE
    ]
    assert len(aside) == 1
    assert aside[0].holds_up


def test_tables_keep_the_chosen_row_when_rows_arrive(desk):
    journal = page(desk, "desks")
    table: TableView = journal.table
    chosen = table.shown[5]
    table.choose(chosen.entry.hash)
    table.set_rows(table.rows_model.rows[1:])
    assert table.row.entry.hash == chosen.entry.hash


def test_the_journal_keeps_the_second_keying_blind(qtbot, window, small):
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        twice(opened)
    desk = window
    with qtbot.waitSignals([desk.session.opened, desk.session.scored]):
        desk.open_target(str(small), "Ingrid")
    journal = page(desk, "desks")
    slot = next(s for s in desk.session.snapshot.slots if len(s.people) == 1)
    row = next(
        r for r in journal.table.shown if r.entry.hash == slot.keyings[0].entry.hash
    )
    assert row.about.endswith("hidden until entered twice")


# Rules and settings.


def test_terrain_is_taken_in_and_named_in_the_settings(
    qtbot, desk, small_logs, monkeypatch
):
    grid = small_logs.parents[2] / "terrain.tif"
    monkeypatch.setattr("gui.ask.open_file", lambda *_: grid)
    rules = page(desk, "rules")
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_O, CTRL)
    settled(qtbot, desk)
    assert "terrain.tif" in rules.grid.text()
    assert desk.session.results.results is not None


# Help.


def test_help_tells_the_keys_and_the_manual_s_part_of_the_page(window):
    for shown in window.pages:
        told = help_of(shown.title)
        assert "![" not in told
        assert told.startswith(f"## {shown.title}\n"), shown.title
    press(Qt.Key.Key_F1)
    assert "Make an event, open one" in window.finder.told.toPlainText()
    texts = [goal.text for goal in window.finder.goals.found[:5]]
    assert any("Ctrl+O" in text for text in texts)
    window.finder.reject()
    press(Qt.Key.Key_F2)
    assert not window.finder.told.isVisible()
    window.finder.reject()


def test_figures_are_never_shortened_and_the_name_keeps_some_letters(qtbot):
    names = [TableColumn("Pilot", lambda r: r, width=24, rest=True)]
    tasks = [
        TableColumn(f"Task {n}", lambda _: 1000, align=RIGHT) for n in range(1, 31)
    ]
    table = TableView((*names, *tasks), "Standings")
    qtbot.addWidget(table)
    crowded = []
    table.crowded.connect(crowded.append)
    table.set_rows(["Wolfeschlegelsteinhausenbergerdorff"] * 3)
    for width in (300, 600, 1500):
        table.resize(width, 200)
        table.fit()
        seen = [i for i in range(1, 31) if not table.isColumnHidden(i)]
        least = CellDelegate.width("1000")
        assert all(table.columnWidth(i) >= least for i in seen)
        assert table.columnWidth(0) >= 14 * LOOK.metrics().averageCharWidth()
        assert crowded[-1] == 30 - len(seen)


def test_every_page_is_the_first_that_its_name_finds(desk):
    """What another page says of itself may hold the word, too."""
    desk.go_to()
    for one in desk.pages[1:]:
        desk.finder.words.setText(one.title)
        first = desk.finder.chosen
        assert one.title.casefold() in first.text.split("   ")[0].casefold(), one.title
    desk.finder.reject()


def test_where_a_moved_target_stands_is_noted_with_it(qtbot, desk):
    notes = page(desk, "fieldnotes")
    notes.what.setCurrentIndex(notes.what.findData("target moved"))
    assert notes.place.isVisible()
    assert not notes.pilot.isVisible()
    event = desk.session.snapshot.event
    task = next(t for t in event.tasks if t.number == notes.task.currentData())
    own = next(p for p in event.places if p.name == task.target)
    notes.time.setText("7:50")
    notes.value.setText(own.name)
    notes.place.setText("531000.5")
    notes.submit()
    assert "Two coordinates" in notes.echoes["at"].fault
    assert not desk.session.pending
    notes.place.setText("301257.5, 5386711")
    notes.submit()
    assert [echo.fault for echo in notes.echoes.values() if echo.fault] == []
    settled(qtbot, desk)
    ((current, act),) = desk.session.snapshot.state.all_of(TargetLogged)
    assert (act.fields["easting"], act.fields["northing"]) == ("301257.5", "5386711")
    row = next(r for r in notes.table.rows_model.rows if r.ids == current.ids)
    notes.table.choose(row.ids)
    notes.correct()
    assert notes.place.text() == "301257.5, 5386711"
    notes.place.setText("48.6, 66.3")  # the other way round, nothing of the old stays
    notes.submit()
    settled(qtbot, desk)
    ((_, act),) = desk.session.snapshot.state.all_of(TargetLogged)
    assert {n: act.fields[n] for n in ("lat", "lon")} == {"lat": "48.6", "lon": "66.3"}
    assert "easting" not in act.fields
