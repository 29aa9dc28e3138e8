"""What hands do that nobody meant: they paste, jump to the ends, and take back."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

import gui
from gui.last import not_here
from gui.models.journal import entry_rows
from gui.parts.line import Line
from gui.parts.rows import ListRow, RowList, head
from gui.parts.write import advance
from gui.refusal import plainly
from gui.zones import clock_there
from scorer.errors import Fault, InputError
from scorer.ledger.acts import SettingsSet
from scorer.ledger.corrections import event_set
from scorer.words.voice import Voice
from tests.gui.helpers import (
    CTRL,
    command,
    give,
    page,
    press,
    settled,
    type_text,
    write,
)

K = Qt.Key


@pytest.mark.parametrize(
    ("pasted", "held"),
    [
        ("Ana\tMaría\r\nRuiz", "Ana María Ruiz"),
        ("x\u2028y\x00z", "x y z"),
        ("🎈\t🎈", "🎈 🎈"),
    ],
)
def test_what_is_pasted_from_a_table_is_one_line(qtbot, pasted, held):
    field = Line("7")
    qtbot.addWidget(field)
    QApplication.clipboard().setText(pasted)
    field.paste()
    assert field.text() == f"7{held}"
    QTest.keyClicks(field, "!")
    assert field.text() == f"7{held}!"  # the cursor stands behind what was pasted


def test_every_field_of_the_window_is_for_one_line(desk):
    fields = desk.findChildren(QLineEdit)
    own = [f for f in fields if f.accessibleName() and not f.isReadOnly()]
    assert len(own) > 50
    plain = [f.accessibleName() for f in own if not isinstance(f, Line)]
    assert plain == []


def test_home_and_end_go_to_the_first_and_last_row_and_not_to_headings(qtbot):
    rows = RowList("Rows")
    qtbot.addWidget(rows)
    one, two, three = (ListRow(key=n, name=n, data=n) for n in "abc")
    rows.show_rows([head("First"), one, two, head("Second"), three])
    rows.show()
    rows.choose("b")
    seen = []
    for key in (K.Key_Home, K.Key_End, K.Key_PageUp, K.Key_PageDown):
        QTest.keyClick(rows, key)
        seen.append(rows.row)
    assert seen == ["a", "c", "a", "c"]


def test_the_first_row_is_shown_with_its_heading(qtbot):
    rows = RowList("Rows")
    qtbot.addWidget(rows)
    many = [ListRow(key=n, name=str(n), second="–", data=n) for n in range(40)]
    rows.show_rows([head("All of them"), *many])
    rows.resize(200, 120)
    rows.show()
    rows.choose(39)
    assert rows.verticalScrollBar().value() > 0
    QTest.keyClick(rows, K.Key_Home)
    assert (rows.row, rows.verticalScrollBar().value()) == (0, 0)


def test_the_chosen_row_stays_in_sight_where_a_list_gets_less_room(qtbot):
    rows = RowList("Rows")
    qtbot.addWidget(rows)
    rows.show_rows([ListRow(key=n, name=str(n), data=n) for n in range(40)])
    rows.resize(200, 400)
    rows.show()
    rows.choose(39)
    rows.resize(200, 150)
    QApplication.processEvents()
    shown = rows.visualRect(rows.currentIndex())
    assert rows.viewport().rect().contains(shown)


LONG = "2 entries agree; counted: 44.10 m by Ilse Tarn; Fly in: nearest to the target"


@pytest.mark.parametrize("says", [True, False])
@pytest.mark.parametrize("width", [900, 420, 260])
def test_what_a_row_says_goes_on_in_the_next_line_and_nothing_is_cut(
    qtbot, says, width
):
    rows = RowList("Rows", says=says)
    qtbot.addWidget(rows)
    short = ListRow(key=0, name="Place", second="5 of 8", at="500", data=0)
    told = {"says": LONG, "then": LONG} if says else {"second": LONG}
    long = ListRow(key=1, name="Result", at="44.10 m", data=1, **told)
    rows.resize(width, 400)
    rows.show_rows([short, long])
    rows.show()
    stacks = rows.delegate._stacks(long)
    lines = [line for stack in stacks for line in stack.lines]
    assert all(advance(text, size, bold=b) <= room + 1 for text, size, b, room in lines)
    written = " ".join(text for text, *_ in lines)
    assert written.count(LONG) == (2 if says else 1)
    low, high = (rows.visualRect(rows.model_.index(i)).height() for i in (0, 1))
    assert high >= max(stack.height for stack in stacks)
    assert (high > low) is (len(lines) > 3 or (not says and len(lines) > 2))


def test_a_choice_is_as_wide_taken_as_before(desk):
    """Bold words took the room of what they cost: “200 task poi…”."""
    row = page(desk, "publish").stages
    before = [button.sizeHint().width() for button in row.buttons]
    for button, width in zip(row.buttons, before, strict=True):
        row.take(button.choice.value)
        assert button.words.objectName() == "strong"
        assert abs(button.sizeHint().width() - width) <= 1


def test_home_and_end_of_a_table_are_its_first_and_last_row(desk):
    pilots = page(desk, "roster")
    numbers = [row.number for row in pilots.table.shown]
    pilots.to_pane(pilots.table)
    for key, number in ((K.Key_End, numbers[-1]), (K.Key_Home, numbers[0])):
        press(key)
        assert pilots.table.row.number == number


def test_what_nobody_finds_is_said(desk):
    QTest.keyClick(desk, K.Key_F2)
    QTest.keyClicks(desk.finder.words, "zzz")
    assert desk.finder.ways.text().startswith("Nothing found for “zzz”")
    desk.finder.words.clear()
    assert "Nothing" not in desk.finder.ways.text()
    desk.finder.reject()


def test_a_page_asked_for_while_an_event_opens_comes_once_it_is_open(
    qtbot, window, small
):
    """The only page that could be gone to was Start, and so the words led there."""
    start = window.page_named("start")
    told = []
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Yrsa")
        assert start.opening
        press(K.Key_F2)
        QTest.keyClicks(window.finder.words, "page publish")
        QTest.keyClick(window.finder.words, K.Key_Return)
        told.append(window.note.text())
        assert window.page is start
    assert told == ["Publish comes to the front once the event is open"]
    assert window.page.name == "publish"
    assert not start.opening

    window.session.close()  # the next one opens as ever
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Yrsa")
    assert window.page.name == "matters"


def test_what_is_typed_of_a_new_event_is_there_after_another_was_looked_at(
    qtbot, window, small
):
    start = window.page_named("start")
    start.event_name.setFocus()
    type_text("Dusk at the mill")
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Yrsa")
    with qtbot.waitSignal(window.session.closed):
        window.close_event()
    assert window.page is start
    assert start.event_name.text() == "Dusk at the mill"


def test_the_list_of_f2_knows_an_event_that_opens_meanwhile(qtbot, window, small):
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Yrsa")
        press(K.Key_F2)
        QTest.keyClicks(window.finder.words, "ek")
    assert window.finder.isVisible()
    QTest.keyClick(window.finder.words, K.Key_Return)
    assert window.page.name == "pilot"


def test_words_that_mean_a_page_lead_to_no_other(window):
    """No event is open: what is meant cannot be gone to, and nothing else is."""
    press(K.Key_F2)
    QTest.keyClicks(window.finder.words, "page hall board")
    assert window.finder.chosen is None
    QTest.keyClick(window.finder.words, K.Key_Return)
    assert window.page.name == "start"


def test_an_answer_to_a_rule_is_taken_back_and_the_one_before_holds(qtbot, desk):
    rules = page(desk, "rules")
    told = []
    rules.note.connect(told.append)
    before = desk.session.snapshot.event.book.publication.complaint_s
    rules.table.choose("complaints")
    rules.to_answer()
    press(K.Key_A, CTRL)
    type_text("7 min")
    press(K.Key_Return, CTRL)
    settled(qtbot, desk)
    assert desk.session.snapshot.event.book.publication.complaint_s == 420 != before
    question = "How long may pilots complain?"
    assert told[-1].startswith(f"Recorded: {question} 7 min, then ")
    rows = entry_rows(desk.session.snapshot, "Yrsa")
    assert rows[0].about == f"the answer to “{question}”"
    press(K.Key_Z, CTRL)
    settled(qtbot, desk)
    assert told[-1].startswith("Reverted: ")
    assert question in told[-1]
    assert desk.session.snapshot.event.book.publication.complaint_s == before
    # Each change sets all settings: only the last can give way, and never the first.
    snapshot = desk.session.snapshot
    entries = [e for e in snapshot.state.entries if isinstance(e.act, SettingsSet)]
    refused = [not_here(snapshot, entry) for entry in entries]
    assert [r and r.kind for r in refused] == [
        "revert-first-settings",
        "revert-settings-since",
    ]


def test_what_is_seen_of_a_task_is_that_of_the_chosen_one_as_the_event_is_now(
    qtbot, desk
):
    tasks = page(desk, "tasks")

    def seen():
        return tasks.looked.accessibleDescription()

    for times in ("200-210", "1200-1210"):  # the first of both is in the night
        press(K.Key_N, CTRL)
        write({"Launch": times, "Marks count": "1-14"})
        press(K.Key_Return, CTRL)
        assert not tasks.told.isVisible(), tasks.told.text()
        settled(qtbot, desk)
    first, second = tasks.table.shown[-2:]
    for row, dark in ((first, True), (second, False), (first, True)):
        assert tasks.table.choose((row.flight.id, row.number))
        assert "dark" not in seen()  # nothing of another task, not even for a moment
        qtbot.waitUntil(lambda dark=dark: bool(seen()) and ("dark" in seen()) == dark)
    # Another desk corrects the time zone: it is another time of the sun then.
    desk.session.record_all(
        event_set(desk.session.snapshot.state, "time_zone", "Pacific/Fiji", "")
    )
    was = seen()
    settled(qtbot, desk)
    qtbot.waitUntil(lambda: seen() not in ("", was))


def test_who_is_without_a_log_is_told_in_order_of_numbers(qtbot, desk):
    roster = page(desk, "roster")
    for number in (99, 12):
        press(K.Key_N, CTRL)
        write({"Pilot's number": str(number), "Pilot's name": f"Late {number}"})
        press(K.Key_Return)
        settled(qtbot, desk)
    assert roster is desk.page
    logs = page(desk, "logs")
    told = logs.missing.text()
    assert told.index("12") < told.index("99")


def test_a_complaint_names_its_pilot_before_and_after_it_is_recorded(qtbot, desk):
    complaints = page(desk, "complaints")
    told = []
    complaints.note.connect(told.append)
    press(K.Key_K)
    name = desk.session.snapshot.event.pilot(3).name
    for typed, shown in (("99", ""), ("3", name)):
        complaints.pilot.setText(typed)
        assert complaints.whose.text() == shown
    complaints.pilot.setFocus()
    for key in (K.Key_Return, K.Key_Return):  # nothing is said about what
        press(key)
    assert complaints.unfit.isVisible()
    type_text("too near")
    assert not complaints.unfit.isVisible()  # it says what lacks, and nothing does
    press(K.Key_Return)
    settled(qtbot, desk)
    press(K.Key_Return)
    complaints.reason.setText("seen")
    press(K.Key_Return)
    assert complaints.fault.isVisible()
    complaints.take(2)
    assert not complaints.fault.isVisible()
    press(K.Key_Return)
    settled(qtbot, desk)
    press(K.Key_Z, CTRL)
    settled(qtbot, desk)
    # Whose complaint it was, in words: no number of an entry, which nobody knows.
    assert name in told[-1]
    assert "#" not in told[-1]


def test_a_terrain_is_taken_back_as_what_is_typed_is(
    qtbot, desk, small_file, tmp_path, monkeypatch
):
    """Its file and its name in the settings: both, or the event would lack a file."""
    path = tmp_path / "hills.tif"
    path.write_bytes((small_file.parent / "vashkorim" / "terrain.tif").read_bytes())
    monkeypatch.setattr("gui.ask.open_file", lambda *_: path)
    rules, told = page(desk, "rules"), []
    rules.note.connect(told.append)
    before = desk.session.snapshot.event.terrain.name
    give(rules, "terrain")
    qtbot.waitUntil(lambda: desk.session.snapshot.event.terrain.name == "hills.tif")
    settled(qtbot, desk)
    rules.table.setFocus()
    press(K.Key_Z, CTRL)
    qtbot.waitUntil(lambda: desk.session.snapshot.event.terrain.name == before)
    settled(qtbot, desk)
    assert "hills.tif" not in rules.grid.text()
    assert told[-1].startswith("Reverted")


def test_logs_that_were_imported_are_taken_back_together(qtbot, desk, small_logs):
    logs, told = page(desk, "logs"), []
    logs.note.connect(told.append)
    before = len(desk.session.snapshot.state.logs)
    logs.flight.setCurrentIndex(logs.flight.findData("second-morning"))
    logs.take_in([small_logs])
    qtbot.waitUntil(lambda: len(desk.session.snapshot.state.logs) > before)
    settled(qtbot, desk)
    logs.table.setFocus()
    press(K.Key_Z, CTRL)
    qtbot.waitUntil(lambda: len(desk.session.snapshot.state.logs) == before)
    assert told[-1].startswith("Reverted")


def test_what_an_event_says_of_itself_is_changed_and_taken_back(qtbot, desk):
    rules = page(desk, "rules")
    give(rules, "change_event")
    form = rules.event_form
    was = desk.session.snapshot.event
    assert (form.event_name.text(), form.zone.currentText()) == (
        was.name,
        was.time_zone,
    )
    form.zone.setCurrentText("Atlantis/Capital")
    assert "no time zone" in form.told.text()
    form.give()
    assert form.isVisible()  # and nothing is recorded
    assert not desk.session.pending
    form.zone.setCurrentText("Pacific/Fiji")
    assert "Pacific/Fiji it is" in form.told.text()
    form.give()
    settled(qtbot, desk)
    now = desk.session.snapshot.event
    assert (now.name, now.time_zone) == (was.name, "Pacific/Fiji")
    desk.activateWindow()  # without a window manager nobody does it after a dialog
    qtbot.waitUntil(rules.table.hasFocus)
    press(K.Key_Z, CTRL)
    settled(qtbot, desk)
    assert desk.session.snapshot.event.time_zone == was.time_zone


@pytest.mark.parametrize(
    ("zone", "lon_deg", "well"),
    [
        ("Etc/UTC", -68.2, False),  # a computer's own zone, left as it was
        ("America/Argentina/Buenos_Aires", -68.2, True),
        ("Europe/Madrid", -9.0, True),  # summer time, at its western end
        ("Asia/Urumqi", 87.6, True),
        ("Asia/Shanghai", 76.0, True),  # one zone for all of it
        ("Pacific/Kiritimati", -157.4, True),  # beyond the line of dates
        ("America/Chicago", 9.0, False),
        ("Nowhere/Else", 9.0, False),
    ],
)
def test_a_time_zone_far_from_the_sun_of_its_site_is_doubted(zone, lon_deg, well):
    # Longitudes of places in those zones: from memory.
    told, fits = clock_there(zone, lon_deg, datetime(2026, 7, 1, 12, tzinfo=UTC))
    assert fits is well
    assert ("by the sun" in Voice().say(told)) == (not well and "/Else" not in zone)


def test_the_start_page_doubts_the_zone_of_the_computer(window):
    start = window.page_named("start")
    start.lat.setText("46 17 31 S")
    start.lon.setText("-68.2")
    start.lon.editingFinished.emit()
    start.zone.setCurrentText("Etc/UTC")
    assert "by the sun" in start.told.text()
    start.zone.setCurrentText("America/Argentina/Buenos_Aires")
    assert "it is" in start.told.text()
    assert "by the sun" not in start.told.text()


def test_a_command_is_found_from_any_page_after_all_of_the_page_in_front(desk):
    page(desk, "matters")
    command(desk, "time zone")
    assert desk.page.name == "rules"
    assert desk.page.event_form.isVisible()
    desk.page.event_form.reject()
    desk.activateWindow()
    press(K.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert desk.page.name == "matters"
    QTest.keyClick(desk, K.Key_F2)
    shown = desk.finder.goals.found
    assert not shown[0].elsewhere
    QTest.keyClicks(desk.finder.words, "e")
    shown = [goal.elsewhere for goal in desk.finder.goals.found]
    assert shown == sorted(shown)
    desk.finder.reject()


def test_where_all_tasks_are_shown_the_page_says_into_which_marks_go(qtbot, desk):
    keying = page(desk, "keying")
    assert desk.session.task is None
    shown = keying.chosen_task.number
    assert f"Marks of task {shown}" in keying.hint_label.text()
    assert f"task {shown}" in keying.board.title.text()
    desk.session.choose_task(2)
    assert keying.hint_label.text() == keying.hint


def test_a_desk_that_nobody_named_is_told_by_its_own_letters(desk):
    journal = page(desk, "desks")
    entry = journal.table.shown[0]
    for name, told in (("press-1a2b3c", "press"), ("desk-1a2b3c", "1a2b3c")):
        own = replace(entry, entry=replace(entry.entry, desk=name))
        assert own.desk.startswith(f"desk {told}, ")


def test_the_heights_of_a_pilot_show_what_is_held_against_them(qtbot, desk):
    ruled = next(
        r
        for r in desk.session.results.results.findings
        if r.finding.measured is not None and r.finding.unit == "m"
    )
    desk.lead("pilot", ruled.finding.pilot)
    pilot = desk.page
    at = next(
        i
        for i, row in enumerate(pilot.tasks.shown)
        if row.task.task == ruled.finding.task
    )
    pilot.tasks.selectRow(at)
    qtbot.waitUntil(lambda: pilot.profile.picture is not None)
    own = [x.data.finding for x in pilot.lines.shown if x.data.finding]
    assert own[0] == pilot._asked[3]
    worst = pilot.profile.picture.heights.worst_text
    first = next(
        r.finding
        for r in desk.session.results.results.findings
        if r.finding.id == own[0]
    )
    assert f"{first.measured:.1f} m" in worst


def test_a_slip_says_where_it_is(qtbot, desk, monkeypatch):
    opened, told = [], []
    monkeypatch.setattr("gui.pages.pilot.QDesktopServices.openUrl", opened.append)
    desk.lead("pilot", 3)
    desk.page.note.connect(told.append)
    desk.page.print_slip()
    qtbot.waitUntil(lambda: bool(opened))
    assert opened[0].toLocalFile() in told[-1]


def test_a_cost_that_is_not_said_yet_works_no_case(desk):
    rules = page(desk, "rules")
    rules.table.choose("contact")
    rules.put_back()
    rules.take(2)
    assert rules.costs.fault.text().startswith("Write how much it costs")
    assert not rules.cases.isVisible()
    type_text("50")
    assert not rules.costs.fault.isVisible()
    assert rules.cases.isVisible()


def test_what_cannot_be_read_is_told_as_people_say_it(desk):
    places = page(desk, "places")
    press(K.Key_N, CTRL)
    write({"Name of the place": "here", "Coordinates": "46 x, 1e9"})
    press(K.Key_Return)
    told = places.line.told.text()
    assert told.startswith("“")
    assert "cannot be read. Write " in told
    assert "allowed:" not in told
    assert plainly(InputError([Fault(where="a", found="b", allowed="c", line=3)])) == (
        "a, line 3: found b; allowed: c"
    )


def test_no_list_has_items_that_python_makes():
    """Freeing them, as words were typed that narrowed a list, ended the program."""
    made = re.compile(r"\bQ(List|Tree|Table)WidgetItem\(")
    files = Path(gui.__file__).parent.rglob("*.py")
    assert [f.name for f in files if made.search(f.read_text("utf-8"))] == []
