"""The pages Going up, each by its keys: Publish, the pilot, complaints, the hall board."""

import json
from dataclasses import replace
from datetime import timedelta
from html import escape

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from gui.desk_paper import shown_part
from gui.models.checklist import ASKS, CheckLine, ChecklistPart, LineState
from gui.models.decision import Deciding
from gui.paper import print_wish
from gui.parts.wholerow import WholeRow
from gui.publishing import board_pages
from gui.widgets import choose
from scorer.event.model import Decision
from scorer.facts import Fact
from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    MarkKeyed,
    Published,
    RulingMade,
)
from scorer.ledger.publish import Refusal
from scorer.sheets.typeset import Paper, PrintWish
from scorer.sheets.unchanged import SLIPS
from tests.gui.helpers import CTRL, enter, page, press, settled, type_text


def looked(qtbot, publish, stage=None):
    """Wait until the page has looked what is open, at a stage."""
    qtbot.waitUntil(
        lambda: (
            publish.outlook is not None
            and publish._looked == publish._key(publish.wish())
            and not publish.session.looker.busy
            and (stage is None or publish.outlook.wish.stage == stage)
        )
    )


@pytest.fixture
def quick(monkeypatch):
    """Publications without their sheets: what goes up is tried elsewhere."""
    made = []
    monkeypatch.setattr(
        "gui.publishing.documents", lambda *_, wish, **__: made.append(wish) or {}
    )
    return made


def put_up(qtbot, desk):
    publish = page(desk, "publish")
    looked(qtbot, publish)
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)
    return publish


# Publish.


def test_official_is_refused_on_the_same_page_and_leads_away(qtbot, desk):
    publish = page(desk, "publish")
    looked(qtbot, publish)
    press(Qt.Key.Key_2)
    looked(qtbot, publish, "official")
    assert publish.check_card.title.text() == "Not ready to become official"
    blocked = [r for r in publish.check_list.shown if r.data.check is LineState.BLOCKS]
    assert len(blocked) >= 2
    assert f"Close {len(blocked)} lines first" in publish.bar.sentence.text()
    assert not publish.bar.button.isEnabled()
    press(Qt.Key.Key_Return, CTRL)
    assert not desk.jobs.busy
    assert not desk.session.snapshot.state.all_of(Published)
    line = publish.check_list.row
    assert line.check is LineState.BLOCKS
    enter()
    assert desk.page.name in {"settle", "findings"}


def test_no_question_follows_and_the_reason_of_a_version_goes_up(
    qtbot, desk, quick, monkeypatch
):
    monkeypatch.setattr("gui.ask.text", lambda *_: pytest.fail("a question was asked"))
    publish = put_up(qtbot, desk)
    ((_, up),) = desk.session.snapshot.state.all_of(Published)
    assert (up.version, str(up.stage)) == (1, "provisional")
    assert len(publish.past.shown) == 1


@pytest.mark.parametrize(
    ("versions", "told"),
    [((1, 1), "2 files in"), ((1, 0), "the slips that changed, 1 of 2; the others")],
)
def test_how_many_slips_changed_is_said_where_some_stay(
    qtbot, desk, monkeypatch, versions, told
):
    listed = {number: {"version": own} for number, own in enumerate(versions)}
    made = {SLIPS: json.dumps(listed).encode()}
    monkeypatch.setattr("gui.publishing.documents", lambda *_, **__: dict(made))
    publish = page(desk, "publish")
    looked(qtbot, publish)
    said = []
    publish.note.connect(said.append)
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)
    assert any(told in text for text in said), said


def test_the_page_asks_who_found_a_clock_right_that_is_off(qtbot, desk, monkeypatch):
    """Ten minutes behind the last entry: a deadline would be wrong by as much."""
    ledger = desk.session.ledger
    last = max(entry.when for entry in ledger.state().entries)
    monkeypatch.setattr(ledger, "clock", lambda: last - timedelta(minutes=10))
    publish = page(desk, "publish")
    looked(qtbot, publish)
    press(Qt.Key.Key_2)
    looked(qtbot, publish, "official")
    told = [f"{r.name} {r.second}" for r in publish.check_list.shown]
    assert any("10 min behind" in text for text in told)
    assert publish.more.clock.isVisibleTo(publish)
    publish.more.clock.setFocus()
    type_text("Tendai")
    enter()
    looked(qtbot, publish, "official")
    told = [f"{r.name} {r.second}" for r in publish.check_list.shown]
    assert publish.wish().clock_confirmed_by == "Tendai"
    assert not any("10 min behind" in t and "Deadlines" in t for t in told)


def test_paper_and_language_are_chosen_and_remembered(qtbot, desk, quick):
    publish = page(desk, "publish")
    looked(qtbot, publish)
    more = publish.more
    texts = [more.language.itemText(i) for i in range(more.language.count())]
    assert texts == ["English", "Deutsch"]
    choose(more.paper, "LETTER")
    choose(more.language, "de")
    publish.look()
    put_up(qtbot, desk)
    assert quick == [PrintWish(paper=Paper.LETTER, language="de")]
    assert print_wish(desk.home.settings) == quick[0]
    choose(more.paper, "")
    choose(more.language, "en")


def misread(qtbot, desk, publish):
    """Correct a mark of task 2 and wait until the page has looked again."""
    keyed = next(
        (c, a)
        for c, a in desk.session.ledger.state().all_of(MarkKeyed)
        if (a.fields["task"], a.fields["pilot"]) == ("2", "4")
    )
    changed = MarkKeyed(
        flight=keyed[1].flight, fields={**keyed[1].fields, "distance": "0.5 m"}
    )
    desk.session.record(changed, replaces=keyed[0].ids, why="tape misread")
    settled(qtbot, desk)
    looked(qtbot, publish)


def test_the_board_seen_first_is_the_one_that_goes_up(qtbot, desk):
    """Its pages are those that change; what stays up is not shown as if it changed."""
    publish = page(desk, "publish")
    looked(qtbot, publish)
    whole = board_pages(desk.session.ledger, publish.outlook)
    put_up(qtbot, desk)
    misread(qtbot, desk, publish)
    changed = board_pages(desk.session.ledger, publish.outlook)
    assert 0 < len(changed) < len(whole)


def test_a_corrected_task_says_what_is_up_and_that_it_changed(qtbot, desk, quick):
    publish = put_up(qtbot, desk)
    misread(qtbot, desk, publish)
    desk.lead("pilot", 4)
    shown = desk.page
    qtbot.waitUntil(lambda: bool(shown.hand.stages))
    stages = {row.task.task: row.stage for row in shown.tasks.shown}
    assert "changed since" in stages[2]
    assert "version 1" in stages[2]
    assert "changed since" not in stages[1]


def test_a_second_version_lists_what_changed_by_rank(qtbot, desk, quick):
    publish = put_up(qtbot, desk)
    misread(qtbot, desk, publish)
    qtbot.waitUntil(lambda: bool(publish.moves.shown))
    sizes = [row.size for row in publish.moves.shown]
    assert sizes == sorted(sizes, reverse=True)
    own = next(row for row in publish.moves.shown if row.pilot == 4)
    assert own.scored
    assert "tape misread" in own.why
    assert publish.every.count() >= len(sizes)
    (whole,) = publish.findChildren(WholeRow)
    desk.next_pane()
    press(Qt.Key.Key_Home)
    assert publish.moves.row is not None
    qtbot.waitUntil(whole.isVisible)
    assert escape(publish.moves.row.why) in whole.text()


# Complaints.


def test_a_complaint_is_filed_and_answered_by_keys(qtbot, desk, quick):
    put_up(qtbot, desk)
    complaints = page(desk, "complaints")
    press(Qt.Key.Key_K)
    enter()
    assert QApplication.focusWidget() is complaints.dispute
    enter()
    assert complaints.unfit.isVisible()
    assert complaints.unfit.text() != ""
    complaints.pilot.setFocus()
    type_text("1")
    enter()
    type_text("the tape was right")
    enter()
    settled(qtbot, desk)
    ((_, filed),) = desk.session.snapshot.state.all_of(ComplaintFiled)
    assert filed.pilot == 1
    assert filed.publication
    enter()  # the list leads to the reason, still empty: digits take answers there
    assert QApplication.focusWidget() is complaints.reason
    press(Qt.Key.Key_1)
    assert complaints.reason.text() == ""
    enter()
    assert "Say why first" in complaints.fault.text()
    type_text("photograph shows 77")
    enter()
    settled(qtbot, desk)
    ((current, act),) = desk.session.snapshot.state.all_of(ComplaintDecided)
    assert str(act.verdict) == "upheld"
    assert current.entry.why == "photograph shows 77"
    assert "upheld by Yrsa" in complaints.answer.text()


# The pilot.


def test_a_bonus_is_said_tried_and_recorded_by_keys(qtbot, desk):
    desk.lead("pilot", 6)
    pilot = desk.page
    assert pilot.big.text() == "6"
    assert pilot.total.text() == "631"
    press(Qt.Key.Key_F7)
    press(Qt.Key.Key_1)
    type_text("20")
    assert "20 task points more in task 1" in pilot.bar.sentence.text()
    qtbot.waitUntil(lambda: "→" in pilot.bar.preview.text())
    assert "631 → 651" in pilot.bar.preview.text()
    assert not desk.session.snapshot.state.all_of(RulingMade)[0][1].fields.get("x")
    enter()
    enter()
    assert "Say why first" in pilot.bar.sentence.text()
    type_text("waited for a rescue")
    before = len(desk.session.snapshot.state.all_of(RulingMade))
    enter()
    settled(qtbot, desk)
    made = desk.session.snapshot.state.all_of(RulingMade)
    assert len(made) == before + 1
    assert made[-1][1].fields["decision"] == "bonus"
    assert pilot.total.text() == "651"
    told = " ".join(f"{row.name} {row.second}" for row in pilot.told.shown)
    assert "Decision" in told


def test_a_hold_is_the_same_entry_from_the_pilot_and_from_infringements(qtbot, desk):
    findings = page(desk, "findings")
    row = findings.rows.row
    number, finding = row.ruled.finding.pilot, row.ruled.finding
    drafts = Deciding(ruled=row.ruled, decision=Decision.HOLD, why="asked")
    due = drafts.fields(desk.session.who, "")
    desk.lead("pilot", number)
    pilot = desk.page
    line = next(r for r in pilot.lines.shown if r.data.finding == finding.id)
    pilot.lines.choose(line.key)
    pilot.lines.setFocus()
    press(Qt.Key.Key_H)
    type_text("asked")
    enter()
    settled(qtbot, desk)
    made = [a.fields for _, a in desk.session.snapshot.state.all_of(RulingMade)]
    own = next(f for f in made if f.get("finding") == finding.id)
    assert {name: own.get(name, "") for name in due if name != "at"} == {
        name: text for name, text in due.items() if name != "at"
    }
    assert own["from"] == due["from"] != ""
    assert own["at"]


def test_esc_drops_decision_amount_and_reason_together(qtbot, desk):
    desk.lead("pilot", 6)
    pilot = desk.page
    press(Qt.Key.Key_F7)
    press(Qt.Key.Key_2)
    type_text("500")
    press(Qt.Key.Key_Escape)
    assert not pilot.bar.isVisible()
    assert pilot.bar.amount.text() == pilot.bar.why.text() == ""
    assert not desk.session.pending
    qtbot.waitUntil(lambda: not pilot.bar.trial.jobs.busy)


def test_a_preview_of_what_is_asked_no_more_is_not_shown(qtbot, desk):
    desk.lead("pilot", 6)
    bar = desk.page.bar
    press(Qt.Key.Key_F7)
    press(Qt.Key.Key_1)
    type_text("20")
    qtbot.waitUntil(lambda: bar.trial.jobs.busy)
    type_text("x")
    assert "20 task points" not in bar.sentence.text()
    qtbot.waitUntil(lambda: not bar.trial.jobs.busy)
    assert not bar.preview.text()


def test_other_pilots_are_a_key_away_and_lines_lead_where_they_are_decided(qtbot, desk):
    desk.lead("pilot", 1)
    pilot = desk.page
    press(Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert pilot.number == 2
    press(Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert pilot.number == 1
    wanted = next(r for r in pilot.lines.shown if r.data.finding)
    pilot.lines.choose(wanted.key)
    pilot.lines.setFocus()
    enter()
    assert desk.page.name == "findings"


def test_what_is_shown_as_published_is_the_page_that_went_up(qtbot, desk):
    put_up_whole(qtbot, desk)
    desk.lead("pilot", 4)
    pilot = desk.page
    qtbot.waitUntil(lambda: bool(pilot.hand.up))
    assert "version 1, provisional" in pilot.holds.text()
    assert "Nothing on it has changed" in pilot.holds.text()
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_V)
    folder = desk.page_named("publish").place / "event-version-1-provisional"
    stored = (folder / "site/pilot-4.html").read_text(encoding="utf-8")
    pilot.paper.selectAll()
    shown = pilot.paper.toPlainText()
    other = type(pilot.paper)()
    other.setHtml(shown_part(stored))
    assert shown == other.toPlainText()
    score = desk.session.results.results.task(1).score_of(4)
    assert str(score.score) in shown


def test_where_no_log_counts_the_pilots_page_says_so(qtbot, desk):
    """An empty picture stood there without a word."""
    desk.lead("pilot", 4)
    pilot = desk.page
    qtbot.waitUntil(lambda: pilot.profile.picture is not None)
    assert pilot.missing.text() == ""
    none = replace(pilot.profile.picture, way=None, heights=None, missing="No log.")
    pilot._on_picture(pilot._asked, none)
    assert pilot.missing.text() == "No log."


def put_up_whole(qtbot, desk):
    publish = page(desk, "publish")
    looked(qtbot, publish)
    with qtbot.waitSignal(desk.jobs.finished):
        press(Qt.Key.Key_Return, CTRL)
    settled(qtbot, desk)


# The hall board.


def test_the_hall_keeps_its_page_while_the_desk_is_away(qtbot, desk, quick):
    put_up(qtbot, desk)
    board = page(desk, "board")
    qtbot.waitUntil(lambda: bool(board.hall.board and board.hall.board.rows))
    before = board.hall.board
    desk.session._set_problem("no connection")
    assert board.hall.away
    assert board.hall.board is before
    desk.session._set_problem("")
    assert board.hall.away == ""
    assert not board.hall.grab().toImage().isNull()


def test_the_journal_tells_of_one_pilot(desk):
    journal = page(desk, "desks")
    every = len(journal.table.shown)
    journal.lead_to(3)
    assert 0 < len(journal.table.shown) < every
    assert all(3 in row.pilots for row in journal.table.shown)
    journal.table.setFocus()
    press(Qt.Key.Key_Escape)
    assert len(journal.table.shown) == every


def test_what_was_not_looked_at_yet_is_not_published_and_says_so(qtbot, desk):
    publish, told = page(desk, "publish"), []
    qtbot.waitUntil(lambda: publish.found is not None)
    settled(qtbot, desk)
    publish.note.connect(told.append)
    publish.more.why.setText("a reason given since")
    publish.publish()
    assert "press again" in told[-1]
    assert not desk.jobs.busy
    publish.more.why.clear()


def test_a_letter_typed_in_a_box_chooses_in_it(desk):
    """P, for a protest, led to the page of the pilot; what no line begins with still does."""
    complaints = page(desk, "complaints")
    press(Qt.Key.Key_K)
    type_text("1")
    complaints.level.setFocus()
    type_text("p")
    assert desk.page is complaints
    assert complaints.level.currentText() == "protest"
    enter()
    assert QApplication.focusWidget() is complaints.dispute


def test_a_line_that_wants_something_said_leads_to_its_field(desk):
    publish = page(desk, "publish")
    line = CheckLine(
        part=ChecklistPart.BOARD,
        check=LineState.BLOCKS,
        title="Final results are up",
        proof="Say why they are opened again.",
        asks="why",
    )
    publish._on_entered(line)
    assert QApplication.focusWidget() is publish.more.why
    assert set(ASKS.values()) <= set(publish.more.fields)


@pytest.mark.parametrize(
    ("kind", "offered"),
    [
        ("refused-final-up", False),
        ("refused-final-task", False),
        ("refused-clock", True),
    ],
)
def test_provisional_is_offered_only_where_it_is_not_refused_as_well(
    qtbot, desk, kind, offered
):
    publish = page(desk, "publish")
    press(Qt.Key.Key_2)
    looked(qtbot, publish, "official")
    outlook = publish.outlook
    refusals = (Refusal(says=Fact(kind)),)
    outlook = replace(outlook, prepared=replace(outlook.prepared, refusals=refusals))
    publish.bar.show_outlook(outlook, publish.found)
    assert publish.found.blocked
    assert bool(publish.bar.second.text()) is offered


def test_the_board_never_covers_the_desk(qtbot, desk, monkeypatch):
    """A second screen that goes leaves its windows on the one that stays: the desk's."""
    board = page(desk, "board")
    board.hall.showFullScreen()  # this platform has one screen
    qtbot.waitUntil(board.hall.isVisible)
    board._moved()
    assert not board.hall.isVisible()
    shown = []
    monkeypatch.setattr(board, "show_hall", lambda: shown.append(1))
    board._moved()
    assert not shown, "there is none yet"
    monkeypatch.setattr(type(board), "_other", property(lambda own: own.screen()))
    board._moved()
    assert shown, "it is back"
    board.close_hall()
    board._moved()
    assert len(shown) == 1, "nobody asked for it any more"
