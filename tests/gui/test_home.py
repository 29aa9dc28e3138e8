"""Open matters as the home: one list, its counts, where it leads and how it comes back."""

import threading
from collections import defaultdict
from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton
from shiboken6 import isValid

from gui.frame import Frame
from gui.models.home import (
    STOPS,
    CardLine,
    HomeRows,
    TaskCard,
    first_and_rest,
    next_step,
    open_matters,
    open_rows,
)
from gui.models.logs import log_rows
from gui.models.matters import MatterRow, matter_list
from gui.pages.page import Form
from gui.pages.registry import HOME, RAIL
from gui.parts.taskcards import TaskCards
from gui.parts.write import broken
from gui.places_of import CLOSED_ON, page_of
from gui.seen import see
from scorer import facts
from scorer.event.matter import KINDS, SAFETY, Closes, Matter
from scorer.facts import Fact
from scorer.ledger.acts import MatterAccepted, NoteMade, RulingMade
from scorer.ledger.api import Ledger, new_desk
from scorer.words.voice import Voice
from tests.gui.helpers import (
    enter,
    key_mark,
    page,
    press,
    settled,
    type_text,
    write,
)
from tests.gui.test_blind import first_entry, twice

ALT = Qt.KeyboardModifier.AltModifier


def test_the_counts_of_the_rail_add_up_to_those_of_the_home(desk):
    home = page(desk, "matters")
    counts = desk.rail.counts
    assert counts[HOME] == len(home.rows.shown) > 0
    assert sum(counts.values()) == 2 * counts[HOME]
    desk.session.choose_task(2)
    counts = desk.rail.counts
    assert counts[HOME] == len(home.rows.shown)
    assert sum(counts.values()) == 2 * counts[HOME]


def test_every_matter_closes_on_a_page_of_the_rail(desk):
    on_rail = {name for _, names in RAIL for name in names}
    assert set(CLOSED_ON) == set(Closes)
    assert set(CLOSED_ON.values()) <= on_rail & {p.name for p in desk.pages}


def test_enter_leads_where_a_matter_is_closed_and_alt_left_comes_back(desk):
    home = page(desk, "matters")
    row = next(r for r in home.rows.shown if r.data.kind.name == "unruled")
    home.rows.choose(row.key)
    enter()
    assert desk.page.name == "findings"
    press(Qt.Key.Key_Left, ALT)
    assert desk.page.name == "matters"
    assert home.rows.row is row.data


@pytest.mark.parametrize("name", ["rules", "roster", "tasks", "logs", "settle"])
def test_the_page_that_closes_a_matter_shows_what_it_is_about(desk, name):
    task = desk.session.snapshot.task(2)
    rule = Fact("rule-unanswered", (("rule", facts.rule("publication.protest_time")),))
    matter = Matter(
        kind=next(k for k in KINDS.values() if CLOSED_ON[k.closes] == name),
        says=rule,
        flight=task.flight,
        task=task.number,
        pilots=(5,),
    )
    desk.lead(name, matter)
    front = page(desk, name)
    chosen = front.rows.row if name == "settle" else front.table.row
    about = {
        "rules": lambda row: "protest" in str(row.question.rules),
        "roster": lambda row: row.number == 5,
        "tasks": lambda row: row.number == 2,
        "logs": lambda row: row.pilot == 5 and row.held.flight == task.flight,
        "settle": lambda row: row is None or 5 in row.pilots,
    }
    assert about[name](chosen)


def test_the_next_matter_is_chosen_when_one_is_gone(desk):
    home = page(desk, "matters")
    rows = home.rows.model_.rows
    first, second = home.rows.shown[:2]
    home.rows.choose(first.key)
    home.rows.show_rows([r for r in rows if r is not first])
    assert home.rows.line is second


def test_a_matter_is_not_accepted_without_a_reason(qtbot, desk):
    home = page(desk, "matters")
    row = next((r for r in home.rows.shown if r.data.kind.acceptable), None)
    assert row is not None
    home.rows.choose(row.key)
    press(Qt.Key.Key_A)
    enter()
    assert home.fault.text()
    assert not desk.session.pending
    type_text("seen by the director")
    enter()
    settled(qtbot, desk)
    acts = desk.session.snapshot.state.all_of(MatterAccepted)
    assert acts[-1][1].fields["why"] == "seen by the director"
    assert row.key not in {r.key for r in home.rows.shown}


def test_a_reason_that_is_left_is_dropped(desk):
    home = page(desk, "matters")
    press(Qt.Key.Key_A)
    type_text("half a thought")
    press(Qt.Key.Key_Escape)
    assert home.why.text() == ""
    assert not home.bar.isVisible()


def test_a_note_is_recorded_about_a_matter(qtbot, desk):
    home = page(desk, "matters")
    home.rows.setFocus()
    press(Qt.Key.Key_N)
    type_text("asked post 4")
    enter()
    settled(qtbot, desk)
    texts = [a.text for _, a in desk.session.snapshot.state.all_of(NoteMade)]
    assert any(text.startswith("asked post 4") for text in texts)


def test_cards_count_what_the_list_counts(desk):
    home = page(desk, "matters")
    for card in home.cards.cards:
        wanted = sum(
            max(len(m.pilots), 1)
            for m in open_matters(desk.session.matters, None)
            if m.holds_up and m.task == card.task
        )
        assert card.left == wanted


def test_matters_are_listed_once_for_all_who_ask(qtbot, desk, monkeypatch):
    session = desk.session
    now = session.ledger.clock()
    monkeypatch.setattr(session.ledger, "clock", lambda: now)
    listed = session.matters
    assert listed.rows
    assert session.matters is listed
    monkeypatch.setattr(session.ledger, "clock", lambda: now + timedelta(minutes=1))
    assert session.matters is listed, "a worker lists anew: the window goes on"
    qtbot.waitUntil(lambda: session.matters is not listed)
    later = session.matters
    assert later == listed, "some of it hangs on the time, but nothing here"
    monkeypatch.setattr(session.ledger, "who", "Ingrid")
    assert session.matters is not later, "and on who may know what"


def test_what_may_be_seen_is_worked_out_by_workers_alone(qtbot, desk, monkeypatch):
    """It takes longer than the window's thread has, at 275 pilots."""
    session, target, threads = desk.session, desk.session.target, []

    def noting(*given, **named):
        threads.append(threading.current_thread())
        return see(*given, **named)

    monkeypatch.setattr("gui.session.see", noting)
    monkeypatch.setattr("gui.opening.see", noting)
    session.close()
    with qtbot.waitSignals([session.opened, session.scored]):
        desk.open_target(target, "Yrsa")
    page(desk, "keying")
    key_mark(4, "5.00")
    settled(qtbot, desk)

    # Results come while the ledger is looked at, and entries while results are made.
    seen, now = session._seen, session._scored
    session._take(session._snapshot, replace(seen, scored=replace(now)))
    assert not session.up_to_date
    settled(qtbot, desk)
    assert session._seen is not seen
    later = replace(now)
    early = replace(seen, snapshot=replace(seen.snapshot), scored=later)
    session._on_scored((later, early))
    qtbot.waitUntil(lambda: session._scored is later)
    assert session._seen.is_of(session._snapshot, later, "Yrsa")
    settled(qtbot, desk)
    assert threads
    assert threading.main_thread() not in threads


def test_a_row_is_said_anew_only_where_something_of_it_changed(desk):
    session = desk.session
    before, whole = session.matters, session._snapshot
    now = session.ledger.clock()
    args = (whole, session._scored, session.who, now)
    assert all(
        one is other
        for one, other in zip(
            matter_list(*args, before=before).rows, before.rows, strict=True
        )
    )
    known = {}
    rows = log_rows(session.snapshot, session.results, known)
    assert log_rows(session.snapshot, session.results, known)[0] is rows[0]
    pilots = [replace(p, name=f"{p.name}x") for p in session.snapshot.event.pilots]
    renamed = replace(session.snapshot.event, pilots=tuple(pilots))
    other = replace(session.snapshot, event=renamed)
    assert log_rows(other, session.results, known)[0].pilot_name.endswith("x")


def test_rows_say_what_matters_say_and_no_key(desk):
    snapshot = desk.session.snapshot
    found = open_rows(desk.session.matters, None)
    voice = Voice.of(snapshot.event)
    for row in HomeRows().of(found, desk.session.titles):
        if not row.is_head:
            whole = {row.says, row.then, *(f"{row.says}{s}{row.then}" for s in STOPS)}
            said = voice.sentence(row.data.says).casefold()
            assert said in {text.casefold() for text in whole}
            assert row.then[:1] == row.then[:1].upper(), "a line begins with a capital"
            assert row.key not in row.spoken


@pytest.mark.parametrize(
    ("width", "step", "form"),
    [(1024, 0, Form.NARROW), (1280, 0, Form.WIDE), (1024, 4, Form.SMALL)],
)
def test_the_home_fits_every_width(desk, width, step, form):
    home = page(desk, "matters")
    desk.screens.set_step(step)
    desk.resize(width, 640)
    desk._dress()
    QApplication.processEvents()
    try:
        frame: Frame = desk.frame
        assert desk.width() == width
        assert frame.form is form is home.form
        room = home.rows.delegate.columns.name
        names = {r.name for r in home.rows.shown}
        assert all(len(broken(name, room)) == 1 for name in names)
        area = frame.stack.currentWidget()
        assert home.minimumSizeHint().width() <= area.viewport().width()
    finally:
        desk.screens.set_step(0)
        desk.resize(1280, 800)
        desk._dress()


def test_the_window_stands_where_it_was_left_and_never_beyond_the_screen(window):
    room = window.screen().availableGeometry().size()
    settings, name = window.home.settings, f"geometry {window.screens.name}"
    try:
        window.resize(room.width() - 60, room.height() - 80)
        window.screens.keep_place()
        left = settings.text(name)
        window.resize(room.width() * 2, room.height() * 2)
        settings.set_text(name, "")
        window.screens.restore()
        assert window.width() <= room.width()
        assert window.height() <= room.height()
        settings.set_text(name, left)
        window.screens.restore()
        assert window.width() == room.width() - 60
        assert window.height() == room.height() - 80
    finally:
        window.resize(1280, 800)


@pytest.mark.parametrize(
    ("says", "page_"),
    [
        ("low-flight-pays", "rules"),
        ("least-time-long", "rules"),
        ("on-the-way", "tasks"),
    ],
)
def test_what_safety_says_of_a_rule_is_answered_among_the_rules(says, page_):
    """Half the minimum height costs too little: that is no matter of a task's form."""
    assert page_of(Matter(kind=KINDS[SAFETY], says=Fact(says))) == page_


def test_what_is_so_is_a_whole_sentence_where_it_is_short_enough():
    said = "Where pilots launch: not answered yet. Anywhere holds."
    assert first_and_rest(said) == (
        "Where pilots launch: not answered yet",
        "Anywhere holds.",
    )
    said = "Flew, but no mark is entered: no result for now. Enter the mark."
    first, rest = first_and_rest(said)
    assert first == "Flew, but no mark is entered"
    assert rest == "no result for now. Enter the mark."
    long = f"Not accounted for: {', '.join(map(str, range(40)))}. Did they fly?"
    assert first_and_rest(long)[0] == "Not accounted for"


def test_what_gives_way_to_something_else_lives_until_its_own_signal_has_ended(qtbot):
    """A link that leads on may have the very list rebuilt in which it stands."""
    line = CardLine(page="keying", title="Marks", told="3 left", left=3, total=9)
    card = TaskCard(task=1, title="Task 1", aside="", lines=(line,), stage="", up=False)
    cards, lived = TaskCards(), []
    qtbot.addWidget(cards)
    cards.show_cards([card])
    link = cards.findChild(QPushButton)

    def lead(*_):
        cards.show_cards([replace(card, title="Task 2")])
        lived.append(isValid(link))

    cards.asked.connect(lead)
    link.click()
    assert lived == [True]
    qtbot.waitUntil(lambda: not isValid(link))
    assert len(cards.findChildren(QPushButton)) == 1


def test_cards_are_as_wide_as_what_is_left_beside_their_bar(qtbot, desk):
    """On a small screen the bar of five cards covered the last letters of “3 left”."""
    line = CardLine(
        page="keying", title="Pilots accounted for", told="36 left", left=36, total=40
    )
    card = TaskCard(
        task=1, title="Task 1", aside="", lines=(line,) * 5, stage="", up=False
    )
    cards = page(desk, "matters").cards
    try:
        desk.resize(1024, 614)
        cards.show_cards([replace(card, task=n, title=f"Task {n}") for n in range(9)])
        qtbot.waitUntil(lambda: cards.verticalScrollBar().maximum() > 0)
        qtbot.waitUntil(lambda: cards.horizontalScrollBar().maximum() == 0)
    finally:
        desk.resize(1280, 800)


def test_a_row_names_its_pilot_once(qtbot):
    """His name stands beside what is said of him, which goes by his number."""
    says = facts.fact("mark-of", pilot=facts.pilot(7))
    voice = Voice(pilots={7: "Rosalind Amberforth-Quillon"})
    row = MatterRow(
        matter=Matter(kind=KINDS[SAFETY], says=says, pilots=(7,)), voice=voice
    )
    assert "Rosalind" in row.says
    assert "Rosalind" not in row.beside
    (shown,) = [r for r in HomeRows().of([row], defaultdict(str)) if r.number == "7"]
    assert shown.name == "Rosalind Amberforth-Quillon"
    assert "Rosalind" not in f"{shown.says} {shown.then}"


def test_a_row_is_made_once_as_long_as_its_matter_says_the_same(desk):
    found = open_rows(desk.session.matters, None)
    rows = HomeRows()
    first = rows.of(found, desk.session.titles)
    again = rows.of(found[1:], desk.session.titles)
    kept = {id(row) for row in first}
    assert {id(row) for row in again if not row.is_head} <= kept
    assert [r.key for r in rows.of(found, desk.session.titles)] == [
        r.key for r in first
    ]


def test_a_mark_that_one_person_entered_waits_on_enter_marks(qtbot, window, small):
    """Nothing differs yet: Compare entries counted it and said that nothing was there."""
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        twice(opened)
        first_entry(opened)
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Merel")
    once = [
        m
        for row in window.session.matters.rows
        for m in row.matter.each
        if m.says.kind == "keyed-once-only"
    ]
    assert once
    assert {page_of(m) for m in once} == {"keying"}
    settle = page(window, "settle")
    listed = sum(row.data.open for row in settle.rows.shown)
    assert window.rail.counts.get("settle", 0) == listed


def test_a_decision_whose_report_is_withdrawn_is_reverted_in_the_journal(qtbot, desk):
    """Infringements lists what is found: nothing there could close it."""
    notes = page(desk, "fieldnotes")
    write({"What": "Ground contact", "Task": "task 2", "Pilot's number": "3"})
    write({"Time": "06:30", "Note": "basket on the grass"})
    enter()
    settled(qtbot, desk)
    findings = page(desk, "findings")
    assert findings.rows.choose_where(lambda row: is_report(row, 3))
    for key in (Qt.Key.Key_C, Qt.Key.Key_1):
        press(key)
    enter()
    settled(qtbot, desk)
    notes = page(desk, "fieldnotes")
    notes.table.choose_where(lambda row: row.pilot == 3)
    notes.table.setFocus()
    press(Qt.Key.Key_Delete)
    type_text("of another balloon")
    enter()
    settled(qtbot, desk)
    home = page(desk, "matters")
    assert home.rows.choose_where(lambda m: m.says.kind == "ruling-meets-nothing")
    enter()
    assert desk.page.name == "desks"
    chosen = desk.page.table.row
    assert isinstance(chosen.act, RulingMade)
    assert chosen.pilots == {3}
    press(Qt.Key.Key_Delete)
    type_text("nothing is left of it")
    enter()
    settled(qtbot, desk)
    said = {m.says.kind for row in desk.session.matters.rows for m in row.matter.each}
    assert "ruling-meets-nothing" not in said
    reverted = desk.page.table.shown[0].about  # it was but a desk's name and a number
    assert reverted.endswith(": the decision on ground contact of pilot 3")


def test_an_event_just_begun_leads_on_to_pilots_and_tasks(desk):
    """Nothing was open, so the home offered to publish what nobody had flown."""
    event = desk.session.snapshot.event
    assert next_step(replace(event, pilots=(), flights=())) == ("roster", "no-pilots")
    assert next_step(replace(event, flights=())) == ("tasks", "no-tasks")
    assert next_step(event) == ("publish", "nothing-open")


def is_report(row, pilot):
    """Tell whether a row is a ground contact of a pilot that only an observer saw."""
    found = row.ruled.finding
    return (found.pilot, found.kind.name) == (pilot, "ground-contact") and row.open
