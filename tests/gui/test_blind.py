"""The second person's desk holds no first values: attacked by looking into everything."""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QAbstractItemModel, QAbstractListModel, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QLabel,
    QLineEdit,
    QTextEdit,
    QWidget,
)

from gui.blind import (
    blinded,
    blinded_results,
    blinded_scores,
    hidden_slots,
    ranks_hidden,
    seen_matters,
)
from gui.jobs import Jobs
from gui.livecheck import Typed, check
from gui.models.journal import entry_rows
from gui.models.many import Many, preview_of
from gui.models.marks import mark_rows, own_rows
from gui.models.matters import matter_list
from gui.models.settling import Sort, settle_rows
from gui.parts.trial import Trial, preview_words
from gui.pool import Pool
from gui.publishing import Wish, computed_of, publish_now
from gui.snapshot import compute, look
from scorer.errors import ScorerError
from scorer.event.matter import Matter, grouped
from scorer.event.matters import MARK_FAR_FROM_TRACK, NO_MARK, TIE, UNSETTLED
from scorer.event.model import Decision
from scorer.facts import Fact, count, fact
from scorer.facts import pilot as pilot_value
from scorer.ledger.acts import (
    MarkKeyed,
    NoteMade,
    PilotSet,
    SettingsSet,
    Stage,
    Undone,
    Withdrawn,
)
from scorer.ledger.api import Draft, Ledger, new_desk
from scorer.ledger.changes import Change, ChangedNumber
from scorer.ledger.keyings import slot_of
from scorer.ledger.merge import merge_into
from scorer.ledger.tried import PlaceChange, Tried
from scorer.progress import Control
from scorer.scoring.score import score
from scorer.words.voice import Voice
from tests.gui.helpers import enter, key_mark, page, press, settled, type_text
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight

FIRST, CORRECTED = "77.1234", "78.4321"
"""What one official typed, and before correcting it: nothing else reads like these."""
CODES = tuple(
    r"(?<![0-9a-f.])" + r"\W?".join(digits) + r"(?![0-9a-f])"
    for digits in ("771234", "784321")
)
"""Their digits, whatever stands between; not within a hash or a time, by chance."""


def everything(thing, seen=None):
    """Yield all texts and numbers that a value holds, however deep."""
    seen = set() if seen is None else seen
    if isinstance(thing, str | int | float | Fraction | bytes):
        yield thing
        return
    if thing is None or id(thing) in seen:
        return
    seen.add(id(thing))
    if is_dataclass(thing):
        inner = [getattr(thing, f.name) for f in fields(thing)]
        inner += list(getattr(thing, "__dict__", {}).values())
    elif isinstance(thing, Mapping):
        inner = [*thing.keys(), *thing.values()]
    elif isinstance(thing, tuple | list | set | frozenset):
        inner = thing
    else:
        return
    for one in inner:
        yield from everything(one, seen)


def told(thing):
    """Return what of the first values stands in a text or number."""
    if isinstance(thing, bytes):
        thing = thing.decode("utf-8", "replace")
    if isinstance(thing, str):
        return [code for code in CODES if re.search(code, thing)]
    near = [float(thing) - float(value) for value in (FIRST, CORRECTED)]
    return [thing for gap in near if abs(gap) < 1e-3]


def leaks(thing):
    return [one for one in everything(thing) if told(one)]


def twice(ledger):
    """Let every mark have to be entered twice."""
    ((current, act),) = ledger.state().all_of(SettingsSet)
    rules = {**act.settings.get("rules", {})}
    rules["keying"] = {**rules.get("keying", {}), "twice": True}
    ledger.record(
        SettingsSet(settings={**act.settings, "rules": rules}),
        replaces=current.ids,
        why="entered twice",
    )


def first_entry(ledger):
    """Let Merel's first entry of pilot 3 in task 2 be one that is found anywhere."""
    state = ledger.state()
    ((current, act),) = [
        (c, a)
        for c, a in state.all_of(MarkKeyed)
        if (slot_of(a).task, slot_of(a).pilot) == ("2", "3")
    ]
    for text in (CORRECTED, FIRST):
        fields = {**act.fields, "distance": f"{text} m", "by": "Merel"}
        fields |= {"note": f"read as {text}"}
        entry = ledger.record(
            replace(act, fields=fields), replaces=current.ids, why=f"it is {text}"
        )
        current = next(c for c in ledger.state().current if c.entry.hash == entry.hash)


@pytest.fixture
def ledger(small):
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        twice(opened)
        first_entry(opened)
        yield opened


@pytest.fixture
def scored(ledger):
    pool = Pool()
    yield compute(ledger, pool, Control())
    pool.close()


def test_the_second_persons_event_holds_no_first_value(ledger):
    whole = look(ledger)
    assert leaks(whole), "the attack finds what is there"
    seen = blinded(whole, "Ingrid")
    assert leaks(seen) == []
    assert len(seen.state.entries) == len(whole.state.entries)
    assert [s.slot for s in seen.slots] == [s.slot for s in whole.slots]
    assert [s.open for s in seen.slots] == [s.open for s in whole.slots]


def test_rows_of_marks_and_of_the_journal_hold_no_first_value(ledger):
    seen = blinded(look(ledger), "Ingrid")
    rows = mark_rows(seen, seen.task(2), "Ingrid")
    assert len(rows) >= 6
    assert leaks(rows) == []
    assert leaks(entry_rows(seen, "Ingrid")) == []


def test_who_entered_the_first_value_sees_it(ledger):
    whole = look(ledger)
    others = blinded(whole, "merel")  # the same person, whatever the capitals
    assert leaks(others)
    assert leaks(mark_rows(others, others.task(2), "Merel"))


def test_an_entry_that_was_reverted_stays_hidden_too(ledger):
    entry = next(e for e in reversed(ledger.state().entries) if e.kind == "mark")
    ledger.record(Withdrawn(entry=entry.hash), why="wrong sheet")
    assert leaks(blinded(look(ledger), "Ingrid")) == []


@pytest.mark.parametrize("form", [Withdrawn, Undone])
def test_the_reason_for_which_it_was_taken_back_stays_hidden(ledger, form):
    entry = next(e for e in reversed(ledger.state().entries) if e.kind == "mark")
    ledger.record(form(entry=entry.hash), why=f"it was not {FIRST}")
    seen = blinded(look(ledger), "Ingrid")
    assert leaks(seen) == []
    assert leaks(entry_rows(seen, "Ingrid")) == []


def test_a_first_value_of_a_chain_that_goes_on_twice_stays_hidden(ledger, small):
    apart = small.with_name("apart.sandtail")
    apart.write_bytes(small.read_bytes())
    now = ledger.clock
    ledger.clock = lambda: now() - timedelta(hours=1)
    first_entry(ledger)
    with Ledger.open(str(apart), desk=ledger.desk, who="Merel") as copy:
        copy.record(NoteMade(text="in the copy"))
        merge_into(ledger.store, [copy.store])
    whole = look(ledger)
    assert leaks(whole.state.forks)
    assert leaks(whole.state.backs)
    assert leaks(blinded(whole, "Ingrid")) == []


def test_a_first_value_that_is_set_aside_stays_hidden(ledger):
    act = next(
        a for _, a in ledger.state().all_of(MarkKeyed) if slot_of(a).pilot == "3"
    )
    pilot = ledger.state().all_of(PilotSet)[0][0]
    fields = {**act.fields, "task": "2", "distance": f"{FIRST} m"}
    added = ledger.record(replace(act, fields=fields), replaces=pilot.ids)
    assert added.hash in {one.entry for one in ledger.state().set_aside}
    assert leaks(blinded(look(ledger), "Ingrid")) == []


def test_results_of_the_second_persons_desk_hold_no_first_value(scored):
    assert leaks(scored.results)
    seen = blinded_scores(scored, "Ingrid")
    assert leaks(seen) == []
    assert (2, 3) in seen.hidden
    assert seen.results.task(2).score_of(3) is None
    assert 3 not in {row.pilot for row in seen.results.standings.rows}


def test_results_that_leave_something_out_are_never_published(scored):
    with pytest.raises(ScorerError, match="must not see"):
        computed_of(blinded_scores(scored, "Ingrid"))
    assert computed_of(scored) is not None


def test_where_one_entry_counts_its_result_is_no_secret(small):
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        pool = Pool()
        found = compute(opened, pool, Control())
        pool.close()
    assert not hidden_slots(found.event, found.state, "Ingrid")
    assert blinded_scores(found, "Ingrid") is found


def test_where_one_entry_counts_everybody_may_close_what_it_leaves_open(small):
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        pool = Pool()
        found = compute(opened, pool, Control())
        pool.close()
        snapshot = look(opened)
    task = next(t for t in found.event.tasks if t.number == 2)
    far = Matter(
        kind=MARK_FAR_FROM_TRACK,
        flight=task.flight,
        task=2,
        pilots=(3,),
        says=Fact("mark-missing"),
    )
    open_ = replace(found.results, matters=(*found.results.matters, far))
    scored = replace(found, results=open_)
    listed = matter_list(snapshot, scored, "Ingrid", datetime.now(UTC))
    assert far in [row.matter for row in listed.rows]
    rows = settle_rows(snapshot, listed, "Ingrid")
    assert any(3 in row.pilots for row in rows if row.sort is Sort.UNFIT)


@pytest.mark.parametrize(
    ("units", "rules"),
    [("imperial", ""), ("metric", 'points.parted_by = "earlier-drop"\n')],
)
def test_nobody_is_told_to_be_equal_with_a_hidden_result(units, rules):
    """An equal result is the hidden one: 13 ft 4.6 in and 13 ft 4 5/8 in both count 4.08."""
    marks = "task,pilot,method,distance,by\n1,1,tape,13 ft 4 5/8 in,K\n"
    second = "13 ft 4.6 in" if units == "imperial" else "13 ft 4 5/8 in"
    flight = tiny_flight(marks=f"{marks}1,2,tape,{second},K\n")
    event = tiny(flight, rules=RULES + rules, units=units)
    results = score(event)
    (one,) = (own for own in results.task(1).scores if own.pilot == 1)
    assert any("2 Bob" in results.voice.say(step) for step in one.steps)

    blind = blinded_results(results, frozenset({(1, 2)}), "Ingrid")
    (own,) = (own for own in blind.task(1).scores if own.pilot == 1)
    assert len(own.steps) == len(one.steps) - 1
    assert not any("2 Bob" in results.voice.say(step) for step in own.steps)


DECIDED = {
    "nothing": "",
    "a score": "1,3,,score,700,task points,the jury,Dee\n",
    "the mean": "1,3,,average,,,no fair chance,Dee\n",
}
FIRST_VALUES = (
    "tape,1 m",
    "tape,9 m",
    "tape,30 m",
    "tape,4.08 m",
    "tape,800 m",
    "none,",
)
"""Best of all, between others, worst, equal to another, far off, no mark found."""


@pytest.mark.parametrize("decided", DECIDED)
@pytest.mark.parametrize("by_class", ["points.by_class", "standings.by_class"])
def test_whatever_the_first_value_is_the_second_person_sees_the_same(by_class, decided):
    """Neither ranks, points and sums nor a gap in them tell where it lies."""
    head = "task,pilot,method,distance,by\n"
    others = f"{head}2,1,tape,4.08 m,K\n2,3,tape,12 m,K\n2,4,tape,13 m,K\n"
    rulings = f"task,pilot,finding,decision,amount,unit,reason,by\n{DECIDED[decided]}"
    first = tiny_flight(marks=others.replace("\n2,", "\n1,"), rulings=rulings)
    rules = f"{RULES}{by_class} = true\nstandings.team_size = 2\n"
    seen = []
    for value in FIRST_VALUES:
        tasks = FIN.replace("number = 1", "number = 2")
        marks = f"{others}2,2,{value},K\n"
        second = tiny_flight("f2", tasks=tasks, marks=marks, day="2026-06-02")
        results = score(tiny(first, second, rules=rules))
        seen.append(blinded_results(results, frozenset({(2, 2)}), "Ingrid"))
    for shown in ("tasks", "standings", "class_standings", "team_standings"):
        assert len({repr(getattr(one, shown)) for one in seen}) == 1, shown
    assert seen[0].task(2).score_of(1).result == 4.08, "what may be seen is there"
    assert seen[0].task(1).score_of(1).rank == 1


# The window itself.


def shown_in(widget: QWidget):
    """Yield all that a widget and its models say, in every role."""
    for any_ in (widget, *widget.findChildren(QWidget)):
        yield from (any_.toolTip(), any_.statusTip(), any_.whatsThis())
        yield from (any_.accessibleName(), any_.accessibleDescription())
        yield any_.windowTitle()
    for label in widget.findChildren(QLabel):
        yield label.text()
    for button in widget.findChildren(QAbstractButton):
        yield button.text()
    for field in widget.findChildren(QLineEdit):
        yield from (field.text(), field.placeholderText())
    for text in widget.findChildren(QTextEdit):
        yield text.toPlainText()
    for view in widget.findChildren(QAbstractItemView):
        model = view.model()
        while isinstance(model, QAbstractItemModel):
            flat = isinstance(model, QAbstractListModel)
            columns = 1 if flat else model.columnCount()
            for i in range(model.rowCount()):
                for j in range(columns):
                    index = model.index(i, j)
                    for role in (*map(int, Qt.ItemDataRole), *range(256, 264)):
                        yield from everything(index.data(role))
            model = getattr(model, "sourceModel", lambda: None)()


@pytest.fixture
def second(qtbot, window, small):
    """The window with Ingrid at the desk, who entered nothing yet."""
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as opened:
        twice(opened)
        first_entry(opened)
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(small), "Ingrid")
    return window


def test_no_page_of_the_second_person_holds_a_first_value(qtbot, second):
    assert leaks(second.session._snapshot), "the value is in the event"
    for shown in second.pages:
        second.show_page(second.pages.index(shown))
        qtbot.waitUntil(lambda: not second.session.looker.busy)
        found = [text for text in shown_in(shown) if told(text)]
        assert found == [], shown.name
    assert leaks(second.session.matters.rows) == []


def test_results_say_why_rows_are_left_out(second):
    """The second person found an empty table there, without a word."""
    results = page(second, "results")
    told = Voice().sentence(ranks_hidden(second.session.results.hidden))
    assert told in results.told.text()


def test_where_nothing_is_hidden_results_say_nothing_of_it(desk):
    told = Voice().sentence(ranks_hidden(frozenset()))
    assert told[-40:] not in page(desk, "results").told.text()


def with_first_value(file, value):
    """Make an event file in which pilot 3 has this first value, and results are up."""
    with Ledger.open(str(file), desk=new_desk("press"), who="Merel") as opened:
        twice(opened)
        ((current, act),) = [
            (c, a)
            for c, a in opened.state().all_of(MarkKeyed)
            if (slot_of(a).task, slot_of(a).pilot) == ("2", "3")
        ]
        fields = {**act.fields, "distance": value, "by": "Merel"}
        opened.record(replace(act, fields=fields), replaces=current.ids)
        pool = Pool()
        wish = Wish(stage=Stage.PROVISIONAL)
        found = compute(opened, pool, Control())
        publish_now(opened, found, wish, file.parent / "up", Control())
        pool.close()


def all_pages(qtbot, window, file):
    """Return all that the second person is shown, by page, without hashes and times."""
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(file), "Ingrid")
    seen = {}
    for shown in window.pages:
        window.show_page(window.pages.index(shown))
        if shown.name == "pilot":
            shown.lead_to(2)
        for jobs in window.findChildren(Jobs):
            qtbot.waitUntil(lambda jobs=jobs: not jobs.busy)
        QApplication.processEvents()
        window.session.shelf._executor.submit(len, "").result()  # all pictures are made
        told = []
        window.session.shelf._made.emit(lambda told=told: told.append("all of them"))
        qtbot.waitUntil(lambda told=told: bool(told))
        QApplication.processEvents()
        texts = (text for text in shown_in(shown) if isinstance(text, str))
        seen[shown.name] = {re.sub(NOT_THE_SAME, "", text) for text in texts}
    window.session.close()
    return seen


NOT_THE_SAME = r"\b[0-9a-f]{6,}\b|\d\d:\d\d(:\d\d)?(\.\d+)?"


def test_all_pages_are_the_same_whatever_the_first_value_is(qtbot, window, small):
    """Ranks, points, differences and the board would tell where it lies."""
    seen = []
    for value in ("1 m", "1 m", "60 m"):  # twice: some words come when they come
        file = small.with_name("meet.sandtail")
        file.write_bytes(small.read_bytes())
        with_first_value(file, value)
        seen.append(all_pages(qtbot, window, file))
    one, again, other = seen
    for name, texts in other.items():
        assert sorted(texts - (one[name] | again[name])) == [], name
        assert sorted((one[name] & again[name]) - texts) == [], name


def test_the_own_entry_opens_the_mark_for_comparing(qtbot, second):
    keying = page(second, "keying")
    second.session.choose_task(2)
    keying.line.to_start()
    key_mark(3, "12 m")
    settled(qtbot, second)
    assert leaks(second.session.snapshot), "both entries may be compared now"
    (slot,) = [
        s
        for s in second.session.snapshot.slots
        if (s.slot.task, s.slot.pilot) == ("2", "3")
    ]
    assert slot.disputed


def test_another_official_at_the_desk_sees_what_is_theirs(qtbot, second):
    second.session.set_who("Merel")
    assert leaks(second.session.snapshot)
    second.session.set_who("Ingrid")
    assert leaks(second.session.snapshot) == []
    assert leaks(second.session.results) == []


@pytest.mark.parametrize(
    "wrong", [{"distance": f"{FIRST} furlongs"}, {"time": FIRST}, {"bearing": FIRST}]
)
def test_what_cannot_be_read_of_a_first_entry_stays_hidden(ledger, wrong):
    """Typed elsewhere and set aside: the journal and the matter tell that, no more."""
    ((current, act),) = [
        (c, a)
        for c, a in ledger.state().all_of(MarkKeyed)
        if (slot_of(a).task, slot_of(a).pilot) == ("2", "3")
    ]
    ledger.record(replace(act, fields={**act.fields, **wrong}), replaces=current.ids)
    whole = look(ledger)
    assert leaks(whole.state.set_aside) or "bearing" in wrong
    seen = blinded(whole, "Ingrid")
    assert leaks(seen) == []
    assert leaks(entry_rows(seen, "Ingrid")) == []
    assert leaks(matter_list(whole, None, "Ingrid", ledger.clock()).rows) == []
    theirs = matter_list(whole, None, "Merel", ledger.clock()).rows
    assert leaks(theirs) or "bearing" in wrong


def test_what_another_official_typed_on_this_desk_stays_hidden(qtbot, second):
    """Half typed, or on its way while the database is away: the desk changes hands."""
    keying = page(second, "keying")
    second.session.choose_task(2)
    keying.line.to_start()
    type_text("4")
    enter()
    type_text(FIRST)
    second.session.set_who("Yrsa")
    assert keying.line.distance.text() == ""
    assert [text for text in shown_in(keying) if told(text)] == []
    second.session.set_who("Ingrid")
    assert keying.line.distance.text() == FIRST
    keying.clear()

    typed = {"task": "2", "pilot": "4", "distance": f"{FIRST} m", "by": "Ingrid"}
    snapshot, task = second.session.snapshot, second.session.snapshot.task(2)
    waits = [Draft(act=MarkKeyed(flight=task.flight, fields=typed), why="")]
    assert leaks(own_rows(snapshot, task, "Ingrid", waits))
    for who in ("Yrsa", "Merel"):
        assert leaks(own_rows(snapshot, task, who, waits)) == []
        assert leaks(mark_rows(snapshot, task, who, pending=waits)) == []
        mine = Typed(flight=task.flight, task=2, who=who, fields={**typed, "by": who})
        found = check(snapshot, mine, pending=tuple(waits))
        assert not [n for n in found if n.says.kind == "entry-already-waiting"]


def test_the_preview_of_many_holds_no_result_that_is_hidden(scored):
    results = scored.results
    chosen = [ruled for ruled in results.findings if ruled.finding.task is not None]
    many = Many.of(Decision.WAIVE, chosen[:1], results.voice)
    (row,) = many.rows
    task = results.task(chosen[0].finding.task)
    first = next(score.pilot for score in task.scores if score.pilot != row.number)
    hidden = frozenset({(task.task, row.number), (task.task, first)})
    seen = blinded_results(results, hidden, "Ingrid")
    whole = preview_of(many, results, results)
    assert first in {one.number for one in whole.first}
    assert whole.moved == 0
    found = preview_of(many, seen, seen)
    assert not {first, row.number} & {one.number for one in found.first}
    assert [row.score for row in found.rows] == [(None, None)]
    assert (found.moved, found.new_winner, found.first) == (None, None, ())


def test_what_a_decision_would_change_tells_no_rank_that_is_hidden():
    rank = ChangedNumber(name="rank", before=1, after=3)
    moved = PlaceChange(pilot=1, ranks=(4, 5), totals=(900, 800))
    tried = Tried(
        voice=Voice(),
        changes=(Change(pilot=1, task=2, values=(rank,), reasons=()),),
        opened=(),
        closed=(),
        moves=(),
        places=(moved,),
        missing=(),
    )
    told = "Place 1 → 3 in the task, place 4 → 5 in the standings, 1 rank moves in the standings."
    assert preview_words(tried, 2, 1) == told
    hidden = frozenset({(2, 3)})
    assert preview_words(tried, 2, 1, hidden) == Voice().sentence(ranks_hidden(hidden))


def doubted(pilot, task=2, kind=MARK_FAR_FROM_TRACK, **values):
    says = fact("mark-log-far", **values) if values else fact("mark-missing")
    about = {"flight": "second-morning", "task": task, "pilots": (pilot,)}
    return Matter(kind=kind, says=says, **about)


def test_that_a_hidden_entry_is_doubted_is_told_to_nobody(ledger):
    """Its kind alone, that mark and log do not fit, speaks against the first value."""
    hidden = frozenset({(2, 3)})
    once = replace(doubted(3, kind=UNSETTLED), reveals=("Merel",))
    mine, other = doubted(4), doubted(3, task=1)
    named = doubted(5, who=pilot_value(3))
    found = (doubted(3), once, mine, other, named, doubted(3, kind=TIE))
    seen = seen_matters(found, hidden, "Ingrid")
    assert [(m.kind.name, m.pilots, m.task) for m in seen] == [
        ("unsettled", (3,), 2),
        ("mark-far-from-track", (4,), 2),
        ("mark-far-from-track", (3,), 1),
    ]
    assert seen[0].says.kind == "hidden-until-entered-twice"
    assert seen_matters(found, frozenset(), "Ingrid") == found


def test_of_like_matters_told_as_one_those_of_hidden_entries_are_left_out(ledger):
    (whole,) = grouped(doubted(n, kind=NO_MARK) for n in (3, 4, 5))
    (seen,) = seen_matters((whole,), frozenset({(2, 3)}), "Ingrid")
    assert seen.pilots == (4, 5)
    assert seen.says.values == (("pilots", count(2)),)


def test_who_must_still_enter_is_told_what_publishing_shows(qtbot, second):
    publish = page(second, "publish")
    press(Qt.Key.Key_1)
    qtbot.waitUntil(lambda: publish.outlook is not None)
    told = publish.bar.second.text()
    assert "wait for your own entry" in told
    assert "let somebody else publish" in told
    second.session.choose_task(1)
    qtbot.waitUntil(lambda: "Marks of task 1 wait" in publish.bar.second.text())
    assert publish.bar.second.objectName() == "warn"
    publish.bar.wait("Nothing goes up yet.")
    assert publish.bar.second.objectName() == "second"


@pytest.mark.parametrize("distance", [FIRST, "12.5"])
def test_what_an_entry_would_change_tells_the_second_person_nothing(
    qtbot, second, distance
):
    """Typed rightly or not, what is said is the same: why nothing can be said."""
    keying = page(second, "keying")
    second.session.choose_task(2)
    keying.line.to_start()
    type_text("3")
    enter()
    type_text(f"{distance} m")
    press(Qt.Key.Key_F4)
    why = Voice().sentence(ranks_hidden(second.session.results.hidden))
    qtbot.waitUntil(lambda: keying.notices.text() == why)


def test_what_another_desk_entered_a_moment_ago_is_hidden_too(ledger, small):
    """What is tried has it before the window shows it."""
    seen = blinded(look(ledger), "Merel")
    session = SimpleNamespace(snapshot=seen)
    trial = SimpleNamespace(session=session)
    assert (2, 3) not in Trial._hidden(trial, ledger, "Merel")
    ((current, act),) = [
        (c, a)
        for c, a in ledger.state().all_of(MarkKeyed)
        if (slot_of(a).task, slot_of(a).pilot) == ("2", "3")
    ]
    with Ledger.open(str(small), desk=new_desk("other"), who="Ingrid") as other:
        other.record(Withdrawn(entry=current.entry.hash), why="wrong sheet")
        other.record(replace(act, fields={**act.fields, "by": "Ingrid"}))
    assert (2, 3) in Trial._hidden(trial, ledger, "Merel")


def test_the_second_person_takes_no_archive_with_first_values(second, monkeypatch):
    def asked(*_):
        raise AssertionError

    monkeypatch.setattr("gui.ask.save_file", asked)
    shown, told_ = page(second, "desks"), []
    shown.note.connect(told_.append)
    shown.archive()
    assert told_ == [Voice().word("archive-hidden")]


def test_where_one_entry_counts_its_value_stands_in_the_journal(small):
    """Results showed it, and the journal said that it is hidden until entered twice."""
    with Ledger.open(str(small), desk=new_desk("press"), who="Merel") as ledger:
        first_entry(ledger)
        whole = look(ledger)
        entry = next(e for e in reversed(ledger.state().entries) if e.kind == "mark")
        ledger.record(Withdrawn(entry=entry.hash), why=f"it was not {FIRST}")
        reverted = look(ledger)
    for snapshot in (whole, reverted):
        assert blinded(snapshot, "Ingrid") is snapshot
        told = [row.about for row in entry_rows(snapshot, "Ingrid")]
        assert any(FIRST in text for text in told)
        # the second person still enters it without looking
        assert leaks(mark_rows(snapshot, snapshot.task(2), "Ingrid")) == []
