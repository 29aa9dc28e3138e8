"""What goes up, as the window tells it: bills add up, the checklist counts, the hall waits."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtGui import QFontMetrics

from gui.hall_view import HallWindow, spoken
from gui.models.bill import bill_of
from gui.models.checklist import SEVEN, LineState, checklist, part_of
from gui.models.hall import FIRST, PAGE, HallBoard, HallRow, hall_board
from gui.models.home import task_cards
from gui.publishing import Wish, computed_of, look_ahead
from gui.seen import see
from gui.snapshot import ScoredSnapshot, look
from scorer.event.build import build, build_event
from scorer.event.folder import read_folder
from scorer.event.matter import KINDS, Matter
from scorer.facts import fact
from scorer.ledger.acts import MarkKeyed, Stage, Withdrawn
from scorer.ledger.api import Ledger, new_desk
from scorer.ledger.matters import accept
from scorer.ledger.publish import open_matters, publish, read_once
from scorer.ledger.sound import sound
from scorer.practice.scenes import SAMPLES
from scorer.scoring.score import score
from scorer.words.voice import Voice

NAMES = tuple(SAMPLES)


@pytest.fixture(scope="module", params=NAMES)
def sample(request):
    """An invented meet and its results."""
    folder = Path(__file__).parents[2] / "sample_events" / request.param
    event = build_event(read_folder(folder))
    return event, score(event)


def test_every_bill_of_the_samples_adds_up_to_the_score(sample):
    _, results = sample
    bills = 0
    for task in results.tasks:
        for own in task.scores:
            bill = bill_of(results, task, own)
            assert bill.sum == own.score, (task.task, own.pilot)
            assert bill.score == results.voice.figure(own.score)
            said = [c.finding for c in own.charges]
            assert Counter(line.finding for line in bill.lines if line.finding) >= (
                Counter(filter(None, said))
            )
            bills += 1
    assert bills >= 6


def test_a_bill_tells_every_step_of_the_way(sample):
    _, results = sample
    for task in results.tasks:
        for own in task.scores:
            bill = bill_of(results, task, own)
            told = "; ".join(f"{line.text}; {line.second}" for line in bill.lines)
            for step in (*own.steps, *([own.how] if own.how else ())):
                assert results.voice.say(step) in told


# The checklist.


@pytest.fixture
def ledger(small):
    """The small event, to write in."""
    with Ledger.open(small, desk=new_desk("hall"), who="Yrsa") as opened:
        yield opened


def scored_of(ledger):
    """Score what stands in a ledger, as the window does."""
    state = sound(ledger.state()).state
    event, faults = build(state.raw(ledger.file))
    assert not faults
    return ScoredSnapshot(state=state, event=event, faults=(), results=score(event))


def test_every_kind_of_matter_stands_in_a_line():
    for kind in KINDS.values():
        assert part_of(Matter(kind=kind, says=fact("same-numbers")))


def test_the_checklist_counts_just_the_matters(ledger):
    scored = scored_of(ledger)
    for stage in Stage:
        for tasks in ((), (1,), (2,)):
            outlook = look_ahead(ledger, scored, Wish(stage=stage, tasks=tasks))
            found = checklist(outlook)
            counted = sum(line.count for line in found.lines)
            assert counted == sum(len(m.each) for m in outlook.open), stage
            assert [line.part for line in found.lines[:7]] == list(SEVEN)
            lines = [line for line in found.lines if line.check is LineState.BLOCKS]
            assert bool(lines) == bool(outlook.refused)
            held = {r.matter.key for r in outlook.refused if r.matter}
            told = {m.key for line in lines for m in line.matters}
            assert held <= told
            without = [r for r in outlook.refused if r.matter is None]
            assert len(without) == sum(not line.matters for line in lines)
            assert found.blocked == len(lines)
            done = len(found.lines) - found.blocked
            assert found.done == f"{done} of {len(found.lines)}"


def test_no_line_tells_what_a_mark_measured(ledger):
    scored = scored_of(ledger)
    outlook = look_ahead(ledger, scored, Wish(stage=Stage.OFFICIAL))
    told = " ".join(f"{x.title} {x.proof}" for x in checklist(outlook).lines)
    assert "2.91" not in told
    assert "2.01" not in told
    assert "5 " in told  # whose marks they are


# The board in the hall.


def put_up(ledger, stage, *tasks, why=""):
    """Put results up, without their sheets."""
    computed = computed_of(scored_of(ledger))
    publish(ledger, computed, stage, tasks=tasks, why=why)
    return computed


LONG_NAMES = ("Leilehua Kahananuiokalani", "Chukwuemeka Mthimkhulweni")


@pytest.mark.parametrize(
    ("size", "names"),
    [
        ((1920, 1080), LONG_NAMES),
        ((1024, 640), ("Leilehua Te Rangihaeroa", "Sibongakonke Okonkwuru")),
    ],
)
def test_names_and_words_stand_whole_on_the_board(
    ledger, qtbot, monkeypatch, size, names
):
    """Of names of some twenty letters a third was cut on a screen of 1920 by 1080."""
    put_up(ledger, Stage.PROVISIONAL)
    shown, hall = board(ledger), HallWindow()
    qtbot.addWidget(hall)
    own = shown.rows[0]
    rows = [replace(own, rank=str(n), pilot=n, name=names[n % 2]) for n in range(1, 53)]
    hall.show_board(replace(shown, rows=tuple(rows)))
    hall.set_address("https://meet.example/pages")
    cut = []
    elided = QFontMetrics.elidedText

    def cutting(metrics, text, *how):
        fits = elided(metrics, text, *how)
        if fits != text:
            cut.append(text)
        return fits

    monkeypatch.setattr(QFontMetrics, "elidedText", cutting)
    hall.resize(*size)
    hall.grab()
    assert cut == []


def told_ahead(ledger, stage, *tasks):
    """Return what is told before results go up, of tasks and their stages."""
    outlook = look_ahead(ledger, scored_of(ledger), Wish(stage=stage, tasks=tasks))
    return [Voice().say(one) for one in outlook.prepared.raised]


def test_what_goes_up_is_told_though_no_score_changes(ledger):
    first = "goes up for the first time"
    sums = "the standings go up for the first time"
    every = "Tasks 1 and 2 go up for the first time"
    assert told_ahead(ledger, Stage.PROVISIONAL) == [every, sums]
    put_up(ledger, Stage.PROVISIONAL, 1)
    assert told_ahead(ledger, Stage.PROVISIONAL, 2) == [f"Task 2 {first}"]
    assert told_ahead(ledger, Stage.PROVISIONAL) == [f"Task 2 {first}", sums]
    assert told_ahead(ledger, Stage.PROVISIONAL, 1) == []
    higher = "Task 1: Provisional → Official"
    assert told_ahead(ledger, Stage.OFFICIAL, 1) == [higher]
    put_up(ledger, Stage.PROVISIONAL)
    assert told_ahead(ledger, Stage.PROVISIONAL) == []


def board(ledger):
    return hall_board(ledger.state(), read_once(ledger), Voice(), "Vashkorim")


def shown(found):
    return [(row.rank, row.pilot, row.total) for row in found.rows]


def of_standings(results):
    rows = results.standings.rows
    voice = results.voice
    return [(str(r.rank), r.pilot, voice.figure(r.total)) for r in rows]


def test_the_hall_shows_nothing_before_anything_went_up(ledger):
    scored_of(ledger)
    found = board(ledger)
    assert found.rows == ()
    assert found.stage is None
    assert found.title == "Nothing is published yet"


def test_the_hall_shows_what_went_up_and_never_what_came_after(ledger):
    computed = put_up(ledger, Stage.PROVISIONAL)
    before = board(ledger)
    assert shown(before) == of_standings(computed.results)
    assert before.title == "Standings after tasks 1 and 2"
    assert "Version 1" in before.when
    held = {p for m in computed.results.matters if m.holds_up for p in m.pilots}
    assert {row.pilot for row in before.rows if row.open} == held
    assert held
    row = {"task": "1", "pilot": "3", "method": "tape", "distance": "0.01", "by": "K"}
    ledger.record(MarkKeyed(flight="first-morning", fields=row))
    now = scored_of(ledger).results
    assert of_standings(now) != shown(before)
    assert board(ledger) == before


def test_the_hall_never_takes_standings_from_a_publication_of_one_task(ledger):
    """Its document holds all tasks as they stood then, drafts too: they stay unseen."""
    computed = put_up(ledger, Stage.PROVISIONAL, 2)
    found = board(ledger)
    assert found.title == "Results of task 2"
    own = {s.pilot: s for s in computed.results.task(2).scores}
    assert {r.pilot: r.total for r in found.rows} == {
        n: Voice().figure(s.score) for n, s in own.items()
    }
    assert not any("1" in line.split(":")[0] for line in found.tasks)


def test_the_hall_goes_back_where_a_publication_is_reverted(ledger):
    first = put_up(ledger, Stage.PROVISIONAL)
    row = {"task": "1", "pilot": "3", "method": "tape", "distance": "0.01", "by": "K"}
    ledger.record(MarkKeyed(flight="first-morning", fields=row))
    put_up(ledger, Stage.PROVISIONAL)
    assert shown(board(ledger)) != of_standings(first.results)
    last = ledger.state().publications[-1].entry.hash
    ledger.record(Withdrawn(entry=last), why="wrong")
    assert shown(board(ledger)) == of_standings(first.results)


def test_home_says_of_each_task_where_it_stands_as_the_board_does(ledger):
    """A provisional version of the whole event takes no official task back."""
    put_up(ledger, Stage.PROVISIONAL)
    for matter in open_matters(computed_of(scored_of(ledger)), (2,)):
        if matter.holds_up:
            accept(ledger, matter, why="looked at")
    put_up(ledger, Stage.OFFICIAL, 2)
    put_up(ledger, Stage.PROVISIONAL)
    now, scored = ledger.clock(), scored_of(ledger)
    seen = see(look(ledger), scored, "Ann", now, ledger=ledger)
    again = see(look(ledger), scored, "Ben", now, seen, ledger=ledger)
    assert again.up is seen.up
    said = {
        n: f"Task {n}: {own.stage}, version {own.version}" for n, own in seen.up.items()
    }
    board_says = " ".join(board(ledger).tasks).casefold()
    assert all(line.casefold() in board_says for line in said.values())
    assert [(n, own.stage, own.version) for n, own in sorted(seen.up.items())] == [
        (1, Stage.PROVISIONAL, 3),
        (2, Stage.OFFICIAL, 2),
    ]
    cards = task_cards(seen.shown, seen.results, [], seen.up)
    assert cards[1].stage.startswith("Official, version 2,")


def test_a_screen_reader_hears_all_that_the_hall_shows():
    rows = tuple(
        HallRow(rank=str(n), pilot=n, name=f"P{n}", total=str(900 - n), open=n == 12)
        for n in range(1, 15)
    )
    board = HallBoard(
        event="Meet",
        title="Standings after task 1",
        stage=None,
        stage_word="Provisional",
        when="Version 1, Sunday",
        open_words="1 pilot not decided",
        rows=rows,
        tasks=("Task 1: Provisional, version 1",),
    )
    said = spoken(board, 0, "", Voice())
    assert all(f"{n} P{n} {900 - n}" in said for n in range(1, 15))
    assert "12: 12 P12 888, score may change: not decided yet" in said
    assert "1 pilot not decided" in said
    assert said.endswith("Task 1: Provisional, version 1")
    assert "away since 10:04" in spoken(board, 0, "10:04", Voice())


def test_pages_of_the_hall_go_round_and_show_everybody():
    rows = tuple(
        HallRow(rank=str(n), pilot=n, name="", total="", open=False)
        for n in range(1, 276)
    )
    found = HallBoard(
        event="", title="", stage=None, stage_word="", when="", open_words="", rows=rows
    )
    seen = [*rows[:FIRST], *(r for i in range(found.pages) for r in found.page(i))]
    assert seen == list(rows)
    assert len(found.page(0)) == PAGE
    assert found.page(found.pages) == found.page(0)
    assert found.ranks_words(1) == "Ranks 53 to 94 of 275"
