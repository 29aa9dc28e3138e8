"""Rules as questions, answered by keys: an event becomes official without a line of TOML."""

import shutil
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QWidget

from gui.models.home import counts_of, open_matters
from gui.models.rules import read_answer, shown
from gui.parts.capbutton import CapButton
from scorer.cli.main import main
from scorer.event.answering import LEFT, Cost, Costs, costs_of
from scorer.event.matters import RULES
from scorer.event.questions import QUESTIONS, question_of
from scorer.event.rulebook import COMPLAINT_TIME
from scorer.ledger.acts import SettingsSet
from scorer.ledger.api import import_folder, new_desk
from scorer.ledger.corrections import answered
from scorer.ledger.tried import try_out
from scorer.scoring.asked import asked, worked
from scorer.words.voice import Voice
from tests.gui.helpers import CTRL, enter, page, press, settled, type_text


@pytest.fixture
def bare(small_file, tmp_path):
    """The small event as somebody begins it: nothing answered, its book chosen."""
    folder = tmp_path / "bare"
    shutil.copytree(small_file.parent / "vashkorim", folder)
    path = folder / "event.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index("[rules.floor]")], encoding="utf-8")
    file = tmp_path / "bare.sandtail"
    import_folder(folder, file, desk=new_desk("press"), who="Merel")
    return file


@pytest.fixture
def begun(qtbot, window, bare):
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(bare), "Yrsa")
    return window


def rule_matters(window):
    rows = window.session.matters.rows
    return [r.matter for r in rows if r.matter.kind is RULES and r.matter.holds_up]


def test_an_event_is_answered_by_keys_until_no_rule_keeps_it_from_official(
    qtbot, begun, bare, capsys
):
    rules = page(begun, "rules")
    waiting = [r.key for r in rules.table.shown if r.data.waits]
    assert waiting == ["floor", "contact", "complaints"]
    assert [r.key for r in rules.table.shown][:3] == waiting
    assert len(rule_matters(begun)) == 4  # the floor waits for two rules
    assert "16 of 19 questions answered" in rules.accessibleDescription()

    # How low: inside the field, a point a foot, at most 500.
    assert QApplication.focusWidget() is rules.table
    enter()
    press(Qt.Key.Key_Down)
    press(Qt.Key.Key_2)
    type_text("1")
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, begun)

    # The ground: the next one that waits is chosen.
    qtbot.waitUntil(lambda: rules.table.row.question.name == "contact")
    enter()
    press(Qt.Key.Key_Down)
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, begun)

    # Complaints: nothing is no answer.
    qtbot.waitUntil(lambda: rules.table.row.question.name == "complaints")
    enter()
    press(Qt.Key.Key_Return, CTRL)
    assert "nothing can become official" in rules.sentence.fault.text()
    type_text("2 h")
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, begun)

    assert rule_matters(begun) == []
    book = begun.session.snapshot.event.book
    assert book.asked == ()
    assert (book.floor.within, book.contact.within) == ("field", "scoring-area")
    assert (book.floor.penalty[0].per, book.floor.penalty[0].of) == (1.0, "m")
    assert book.publication.complaint_s == 7200
    assert "All 19 questions" in rules.accessibleDescription()

    # The command line says the same of the same event.
    begun.session.close()
    capsys.readouterr()
    assert main(["rules", str(bare)]) == 0
    said = capsys.readouterr().out
    assert "2 h" in said
    assert "not answered" not in said
    main(["open-matters", str(bare)])
    assert "Answer it on the page Rules" not in capsys.readouterr().out


@pytest.fixture
def without_heights(qtbot, window, bare):
    """An event that says nothing of the ground's height, which is no question."""
    folder = bare.parent / "bare"
    path = folder / "event.toml"
    lines = path.read_text(encoding="utf-8").splitlines()
    kept = [x for x in lines if not x.startswith(("terrain", "ground_elevation"))]
    path.write_text("\n".join(kept), encoding="utf-8")
    file = bare.with_name("flat.sandtail")
    import_folder(folder, file, desk=new_desk("press"), who="Merel")
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(file), "Yrsa")
    return window


def test_page_and_rail_count_the_same_matters(qtbot, without_heights):
    desk = without_heights
    rules = page(desk, "rules")
    held = rule_matters(desk)
    assert [m.says.kind for m in held].count("rule-unanswered") == len(held) - 1
    counts = counts_of(open_matters(desk.session.matters, None))["rules"]
    every = [row for row in rules.table.model().rows if row.is_head and row.count]
    assert sum(row.count for row in every) == counts
    assert f"{counts} matters are open here" in rules.accessibleDescription()
    assert f"{len(held)} keep results" in rules.accessibleDescription()
    (beside,) = (m for m in held if m.says.kind != "rule-unanswered")
    rules.lead_to(beside)
    assert rules.table.row == beside
    enter()
    assert rules.event_form.isVisible()
    press(Qt.Key.Key_Escape)


def test_home_command_line_page_and_publication_name_the_same_rules(
    begun, bare, capsys
):
    rules = page(begun, "rules")
    shown = {
        k for r in rules.table.shown if r.data.waits for k in r.data.question.rules
    }
    held = [m.says.get("rule") for m in rule_matters(begun)]
    assert set(held) == shown & set(begun.session.snapshot.event.book.asked)
    assert COMPLAINT_TIME in held
    main(["open-matters", str(bare)])
    told = capsys.readouterr().out
    voice = Voice()
    assert all(voice.rule(key).casefold() in told.casefold() for key in held)


def test_each_question_shows_its_sentence_and_the_engines_own_cases(desk):
    rules = page(desk, "rules")
    event = desk.session.snapshot.event
    voice = Voice.of(event)
    for one in asked(event.book):
        assert rules.table.choose(one.question.name)
        assert rules.question.text() == voice.word(one.title)
        assert set(rules.sentence.fields) == set(one.question.keys)
        cases = worked(one.question, event.book, event.units)
        told = [w.text() for w in rules.cases.findChildren(QLabel)]
        for case in cases:
            assert voice.say(case.costs) in told
        names = [box.accessibleName() for box in rules.sentence.fields.values()]
        assert all(names)
        assert len(set(names)) == len(names)


def test_cases_follow_what_is_typed_and_recording_says_what_it_changes(qtbot, desk):
    rules = page(desk, "rules")
    rules.table.choose("floor")
    press(Qt.Key.Key_2)
    rules.costs.per.selectAll()
    type_text("20")
    texts = [w.text() for w in rules.cases.findChildren(QLabel)]
    assert "500 task points" in texts  # at most
    assert not rules.warning.isVisible()
    qtbot.waitUntil(lambda: "Recording this" in rules.ahead.text())

    ledger = desk.session.ledger
    value = '{ unit = "task points", per = 20, of = "ft", cap = 500 }'
    drafts = answered(ledger.state(), "floor.penalty", value, "tried")
    changed = [c for c in try_out(ledger, drafts).changes if c.task is not None]
    names = [{v.name for v in change.values} for change in changed]
    penalties = sum("task_penalty" in own for own in names)
    ranks = sum("rank" in own for own in names)
    assert f"{penalties} penalt" in rules.ahead.text()
    assert f"and {ranks} rank" in rules.ahead.text()


@pytest.mark.parametrize("text", ["low", "-3 m", "75 kg", "∞ m", "1,000 ft"])
def test_what_cannot_be_read_is_told_beneath_and_not_recorded(desk, text):
    rules = page(desk, "rules")
    before = len(desk.session.snapshot.state.entries)
    rules.table.choose("floor")
    enter()
    rules.sentence.fields["floor.height"].setFocus()
    rules.sentence.fields["floor.height"].selectAll()
    type_text(text)
    press(Qt.Key.Key_Return, CTRL)

    assert rules.sentence.fault.isVisible()
    assert QApplication.focusWidget() is rules.sentence.fields["floor.height"]
    assert desk.session.pending == ()
    assert len(desk.session.snapshot.state.entries) == before
    press(Qt.Key.Key_Escape)
    assert rules.sentence.texts["floor.height"] == "75 ft"
    assert not rules.sentence.fault.isVisible()


def test_digits_are_typed_in_fields_and_choose_elsewhere(desk):
    rules = page(desk, "rules")
    rules.table.choose("floor")
    rules.sentence.fields["floor.height"].setFocus()
    type_text("4")
    assert rules.costs.costs.way is Cost.BY_AMOUNT
    rules.table.setFocus()
    press(Qt.Key.Key_4)
    assert rules.costs.costs.way is Cost.DECIDED


def test_the_events_own_paragraph_is_kept_with_the_answer(qtbot, desk):
    rules = page(desk, "rules")
    rules.table.choose("floor")
    rules.paragraph.setFocus()
    type_text("9.3")
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)

    book = desk.session.snapshot.event.book
    assert book.paragraphs["floor.height"] == "9.3"
    ((_, act),) = desk.session.snapshot.state.all_of(SettingsSet)
    assert act.settings["rules"]["floor"]["height"] == "75 ft"
    rules.table.choose("contact")
    rules.table.choose("floor")
    assert rules.paragraph.text() == "9.3"


def test_what_is_typed_survives_another_entry_and_the_end_of_the_window(qtbot, desk):
    rules = page(desk, "rules")
    rules.table.choose("complaints")
    enter()
    box = QApplication.focusWidget()
    assert isinstance(box, QLineEdit)
    box.selectAll()
    type_text("3 h")
    desk.session.look_again()
    qtbot.waitUntil(lambda: desk.session.up_to_date)

    assert rules.sentence.texts[COMPLAINT_TIME] == "3 h"
    assert desk.session.unsaved.of("rule")[COMPLAINT_TIME] == "3 h"


def test_an_answer_that_no_form_has_stays_as_it_is_until_another_is_chosen(desk):
    event = desk.session.snapshot.event
    two = (*event.book.floor.penalty, *event.book.contact.penalty)
    costs = costs_of(two)
    assert costs.kept == two
    floor = question_of("floor.height")
    book = replace(event.book, floor=replace(event.book.floor, penalty=two))
    other = replace(event, book=book)
    texts = shown(floor, event)
    same = read_answer(floor, other, texts, costs, bare="ft", paragraph="")
    assert floor.penalty not in same.plain
    chosen = Costs(way=Cost.NO_RESULT)
    changed = read_answer(floor, other, texts, chosen, bare="ft", paragraph="")
    assert changed.plain[floor.penalty] == {"unit": "no result"}
    assert LEFT not in changed.plain.values()
    assert len(QUESTIONS) == 19


def test_a_question_shown_again_stands_there_once(desk):
    """Fields and words of the time before were shown again, over each other."""
    rules = page(desk, "rules")
    question = rules.table.row.question
    seen = rules.sentence._lines.findChildren(QWidget)
    for _ in range(2):
        rules._show_question(question)
    QApplication.processEvents()
    flow = rules.sentence._flow
    laid = {flow.itemAt(i).widget() for i in range(flow.count())}
    own = Qt.FindChildOption.FindDirectChildrenOnly
    shown = rules.sentence._lines.findChildren(QWidget, options=own)
    assert seen
    assert {one for one in shown if one.isVisible()} == laid


def test_the_main_button_bears_its_key_as_on_every_page(desk):
    rules = page(desk, "rules")
    (save,) = [b for b in rules.findChildren(CapButton) if b.objectName() == "main"]
    assert save.cap.text == "Ctrl+Enter"


def test_a_time_to_protest_left_open_is_called_no_limit(qtbot, desk):
    """It stood there as “2 h, then none to protest”: as if nobody might."""
    rules = page(desk, "rules")
    rules.table.choose("complaints")
    rules.to_answer()
    fields = rules.sentence.fields
    fields["publication.complaint_time"].setText("2 h")
    fields["publication.protest_time"].setText("")
    fields["publication.protest_time"].textEdited.emit("")
    press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)
    assert rules.table.line.second == "2 h, then no limit to protest"
    kept = rules.sentence.fields["publication.protest_time"]
    assert (kept.text(), kept.placeholderText()) == ("", "no limit")
    for field in rules.sentence.fields.values():
        empty = field.fontMetrics().horizontalAdvance(field.placeholderText())
        assert empty < field.width()
