"""The tasks form by keys: what is typed is read beside its field, faults stand under it."""

import tomllib
from datetime import date

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from gui.pages.task_settings import AS_WRITTEN, TaskSettings
from gui.task_form import (
    built_with,
    form_of,
    held_flight,
    looked_over,
    period_text,
    read_period,
    settings_of,
    with_colons,
)
from scorer.errors import ScorerError
from scorer.event.model import Period
from scorer.event.moments import Clock
from scorer.ledger.acts import FlightSet
from scorer.scoring.looked_over import look_over
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice
from tests.gui.helpers import CTRL, page, press, settled, type_text


@pytest.mark.parametrize(
    ("text", "period"),
    [
        ("645-730", ("06:45", "07:30")),
        ("7-930", ("07:00", "09:30")),
        ("06:45 to 07:30", ("06:45", "07:30")),
        ("6:45–7:30", ("06:45", "07:30")),
        ("0645 0730", ("06:45", "07:30")),
        ("2200-130", ("22:00", "01:30")),
        ("22:00-1:30+1", ("22:00", "01:30+1")),
    ],
)
def test_a_period_is_read_as_people_write_it(text, period):
    assert read_period(text, "Launch") == period
    assert read_period(period_text(period), "Launch") == period


def test_a_task_that_says_no_state_says_none_once_it_was_changed():
    """It became flown, with nothing known of anybody."""
    own = {"number": 1, "kind": "FIN", "target": "centre"}
    held = {"date": date(2026, 6, 1), "task": [own]}
    assert settings_of(form_of("f1", held, 1), held) == held


def test_a_period_written_the_wrong_way_round_says_what_to_do():
    with pytest.raises(ScorerError) as refused:
        read_period("730-645", "Launch")
    assert str(refused.value) == (
        "Launch ends before it begins: 07:30 to 06:45. Write the earlier time first."
    )


@pytest.mark.parametrize(
    "text", ["645", "645-", "soon", "2500-2600", "1-2-3", "٦٤٥-٧٣٠", "-", "12:75-13"]
)
def test_what_is_no_period_is_refused(text):
    with pytest.raises(ScorerError):
        read_period(text, "Launch")


@given(st.text(max_size=20))
def test_whatever_is_typed_is_a_period_or_refused(text):
    try:
        read_period(text, "Launch")
    except ScorerError:
        return


def last_task(window):
    return max(window.session.snapshot.event.tasks, key=lambda t: t.number)


def test_the_next_task_takes_some_twenty_keys(qtbot, desk):
    last = last_task(desk)
    tasks = page(desk, "tasks")
    press(Qt.Key.Key_N, CTRL)
    editor = tasks.editor
    assert editor.fields["number"].text() == str(last.number + 1)
    assert QApplication.focusWidget() is editor.fields["launch"]
    assert "Filled in from task" in tasks.hint_label.text()
    type_text("645-730")
    assert editor.echoes["launch"].reading.text() == "06:45 to 07:30"
    press(Qt.Key.Key_Tab)
    type_text("7-930")
    press(Qt.Key.Key_Tab)
    type_text("yellow")
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)

    made = last_task(desk)
    assert made.number == last.number + 1
    assert str(made.state) == "planned"
    assert (made.marker, made.targets) == ("yellow", last.targets)
    event = desk.session.snapshot.event
    flight = next(f for f in event.flights if f.id == made.flight)
    zone = Clock(flight.date, desk.session.snapshot.state.zone)
    assert made.launch_period == zone.period("06:45", "07:30")
    assert isinstance(made.scoring_period, Period)
    assert tasks.told.text() == ""


def test_faults_stand_under_their_fields_and_the_first_gets_the_keyboard(desk):
    tasks = page(desk, "tasks")
    before = desk.session.snapshot.state.all_of(FlightSet)
    press(Qt.Key.Key_N, CTRL)
    type_text("730-645")
    editor = tasks.editor
    assert "Write the earlier time first" in editor.echoes["launch"].beneath.text()
    editor.fields["targets"].setFocus()
    editor.fields["targets"].selectAll()
    type_text("center")
    press(Qt.Key.Key_Return, CTRL)

    assert desk.session.pending == ()
    assert desk.session.snapshot.state.all_of(FlightSet) == before
    assert 'Did you mean "centre"?' in editor.echoes["targets"].beneath.text()
    assert QApplication.focusWidget() is editor.fields["targets"]
    told = " ".join(e.beneath.text() for e in editor.echoes.values())
    assert "launch_period" not in told
    assert "flight.toml" not in told


@pytest.mark.parametrize("name", ["number", "date", "qnh", "temperature", "radius"])
def test_nonsense_in_a_field_is_told_there(desk, name):
    tasks = page(desk, "tasks")
    press(Qt.Key.Key_N, CTRL)
    box = tasks.editor.fields[name]
    box.setFocus()
    box.selectAll()
    type_text("x1,000y")
    press(Qt.Key.Key_Return, CTRL)
    assert desk.session.pending == ()
    assert tasks.editor.echoes[name].beneath.text()
    assert QApplication.focusWidget() is box


def test_what_was_looked_over_is_what_the_engine_says(qtbot, desk):
    tasks = page(desk, "tasks")
    press(Qt.Key.Key_N, CTRL)
    type_text("645-730")
    qtbot.waitUntil(lambda: bool(tasks.looked.accessibleDescription()))
    qtbot.waitUntil(lambda: not tasks._looker.busy and not tasks._timer.isActive())
    shown = tasks.looked.accessibleDescription()

    snapshot, form = desk.session.snapshot, tasks.editor.form()
    settings = settings_of(form, held_flight(snapshot, form.flight)[0])
    found = looked_over(snapshot, form, settings).looked
    voice = Voice.of(snapshot.event)
    assert len(found) > 1
    assert shown == " ".join(voice.sentence(one.says) for one in found)
    words = [w.text() for w in tasks.looked.findChildren(type(tasks.told))]
    assert any("Whether to fly is for the director" in text for text in words)


@pytest.mark.parametrize(
    ("launch", "marks", "kind"),
    [
        (["03:00", "06:40"], ["05:00", "09:00"], "launch-in-the-dark"),
        (["06:45", "09:40"], ["07:00", "09:00"], "looked-marks-end-early"),
        (["06:45", "07:40"], ["06:00", "09:00"], "looked-marks-begin-early"),
        (["06:45", "07:40"], ["07:00", "09:00"], "looked-light"),
    ],
)
def test_light_and_the_order_of_times_are_looked_at(desk, launch, marks, kind):
    last = last_task(desk)
    settings, _ = held_flight(desk.session.snapshot, last.flight)
    times = {"launch_period": launch, "scoring_period": marks}
    rows = [
        {**row, **times} if row["number"] == last.number else row
        for row in settings["task"]
    ]
    made, faults = built_with(
        desk.session.snapshot, last.flight, {**settings, "task": rows}
    )
    assert faults == []
    looked = look_over(made, last.flight, last.number)
    assert kind in {one.says.kind for one in looked}
    well = next(one.well for one in looked if one.says.kind == kind)
    assert well is (kind == "looked-light")
    assert [one.well for one in looked] == sorted(one.well for one in looked)


@pytest.mark.parametrize("code", KINDS)
def test_what_a_kind_of_task_asks_comes_back_from_its_fields(qtbot, code):
    shown = TaskSettings()
    qtbot.addWidget(shown)
    shown.show_kind(code)
    written = {
        s.key: {
            "count": 2,
            "bearing": 45,
            "places": ["gate", "mill"],
            "areas": ["north field"],
            "area-by-role": {"A": "north field", "B": "south field"},
            "by-role": {"A": "1", "B": "2"},
            "windows": {"north field": ["07:00", "07:10"]},
            "circles": [{"centre": "mill", "outer": "2 km"}],
        }.get(s.kind, s.choices[-1] if s.choices else "500 m")
        for s in KINDS[code].settings
    }
    written["rules"] = {"floor": {"height": "100 ft"}}
    shown.put(tomli_w.dumps(written))
    assert set(shown.boxes) == {
        s.key for s in KINDS[code].settings if s.kind not in AS_WRITTEN
    }
    assert tomllib.loads(shown.text) == written
    shown.put("")
    assert shown.text == ""


def test_a_setting_of_a_task_is_recorded_from_its_field_or_refused_beneath_it(
    qtbot, desk
):
    tasks = page(desk, "tasks")
    for number in (1, 2):
        row = next(row for row in tasks.table.shown if row.number == number)
        assert tasks.table.choose(tasks.table.rows_model.key_of(row))
    settings = tasks.editor.settings
    box = settings.boxes["least_distance"]
    qtbot.waitUntil(box.isVisible)
    box.setFocus()
    type_text("far")
    press(Qt.Key.Key_Return, CTRL)
    told = settings._faults["least_distance"]
    assert told.isVisibleTo(settings)
    assert "far" in told.text()
    box.setText("500 m")
    settings.boxes["goals"].setText("2")
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)
    acts = [a for _, a in desk.session.snapshot.state.all_of(FlightSet)]
    held = [t for a in acts for t in a.settings["task"] if t["number"] == 2]
    assert [(t["goals"], t["least_distance"]) for t in held] == [(2, "500 m")]


def test_times_typed_as_digits_alone_are_read():
    said = ("755", "0755", "075530", "7:55", "07:55+1", "")
    assert list(map(with_colons, said)) == [
        *("7:55", "07:55", "07:55:30"),
        *("7:55", "07:55+1", ""),
    ]
