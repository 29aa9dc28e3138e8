"""A publication is one truth: one moment, and a stage and version for each task."""

from collections import Counter
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta

import pytest

from scorer.event.build import build_event
from scorer.ledger import publish as publishing
from scorer.ledger.acts import FlightSet, MarkKeyed, PilotSet, Stage, Withdrawn
from scorer.ledger.convert import to_drafts
from scorer.ledger.corrections import task_state, with_number, withdrawn
from scorer.ledger.event_commands import compute
from scorer.ledger.faults import RefusedError
from scorer.ledger.numbers import numbers_since, under_new, with_other_numbers
from scorer.scoring.analysis import Tracks
from scorer.scoring.document import to_json
from scorer.scoring.explain import explain
from scorer.scoring.score import score
from scorer.sheets.board import board_setting, formula_line
from scorer.sheets.edition import prepare, put_up
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import write_site
from scorer.sheets.stamp import utc
from scorer.sheets.tables import about
from tests.helpers import said
from tests.scorer.ledger.ledger_desks import Watch, create
from tests.scorer.tiny import FIN, RULES, tiny_flight, tiny_raw

HEAD = "task,pilot,method,distance,by\n"
OPEN_RULES = (
    RULES
    + """contact.penalty = "none"
publication.protest_time = "none"
"""
)


def marks(task, *metres):
    """Return the marks of one task, pilot by pilot."""
    lines = (f"{task},{p},tape,{m} m,K" for p, m in enumerate(metres, start=1))
    return HEAD + "\n".join(lines) + "\n"


@pytest.fixture
def ledger(tmp_path):
    second = FIN.replace("number = 1", "number = 2")
    raw = tiny_raw(
        tiny_flight(marks=marks(1, 3, 5, 7)),
        tiny_flight("f2", tasks=second, marks=marks(2, 7, 5, 3, 1), day="2026-06-02"),
        rules=OPEN_RULES,
    )
    with create(tmp_path / "e", clock=Watch(step_s=1.25)) as made:
        made.record_all(to_drafts(raw))
        yield made


def up(ledger, stage, *tasks, why=""):
    """Put results up; return what their sheets say."""
    computed = compute(ledger)
    prepared = prepare(ledger, computed, stage, tasks=tasks, why=why)
    assert not prepared.refusals, [said(r.says) for r in prepared.refusals]
    put_up(ledger, prepared, {}, tasks=tasks, why=why)
    return Sheet(results=computed.results, event=computed.event, stamp=prepared.stamp)


def headlines(sheet):
    """Return what stands over each task, and over the standings."""
    tasks = [sheet.headline_of(task) for task in sheet.results.tasks]
    return [*tasks, sheet.standings_headline]


def test_one_official_task_makes_nothing_else_official(ledger):
    up(ledger, Stage.PROVISIONAL)
    sheet = up(ledger, Stage.OFFICIAL, 2)
    assert headlines(sheet) == [
        "Provisional, version 1",
        "Official, version 2",
        "Provisional, version 2",
    ]
    assert said(sheet.stamp.rests_on) == (
        "task 1: Provisional, version 1, task 2: Official, version 2"
    )
    assert "Official, version 2, task 2" in sheet.headline
    assert board_setting(sheet.results, sheet.event, sheet.stamp).pdf()


def test_what_was_never_put_up_is_a_draft_and_so_are_standings_that_rest_on_it(ledger):
    sheet = up(ledger, Stage.OFFICIAL, 2)
    draft = "Draft, not published"
    assert headlines(sheet) == [draft, "Official, version 1", draft]


def test_standings_that_are_a_draft_never_say_when_they_were_published(ledger):
    """A publication of one task: its own paper has the moment, the standings have none."""
    sheet = up(ledger, Stage.OFFICIAL, 2)
    at, end = (
        sheet.local(t) for t in (sheet.stamp.published_at, sheet.stamp.complaint_end)
    )
    assert at
    assert end
    own = dict(sheet.facts)
    assert own[sheet.word("fact-published")] == sheet.word("not-yet")
    assert sheet.word("fact-complaints") not in own
    task = dict(sheet.facts_of(sheet.results.task(2)))
    assert task[sheet.word("fact-published")].startswith(at)
    assert task[sheet.word("fact-complaints")] == end
    assert about(sheet)["published_at"] is None
    assert about(sheet)["tasks"][1]["published_at"] == sheet.stamp.published_at
    # what holds both says of which tasks the moment is
    assert sheet.published == f"Official, version 1, task 2 · Published {at}"
    assert sheet.edition == sheet.published
    assert sheet.standings_published == "Not published"
    tracks = Tracks(sheet.event, sheet.results)
    pages = write_site(sheet.results, sheet.event, sheet.stamp, tracks)
    front, second = (pages[n].decode() for n in ("index.html", "task-2.html"))
    assert "Draft, not published" in front
    assert sheet.stamp.published_at not in front
    assert sheet.stamp.published_at in second
    (first, *_) = board_setting(sheet.results, sheet.event, sheet.stamp).tree["parts"]
    assert at not in str(first)


def test_standings_that_are_provisional_have_no_time_for_complaints(ledger):
    up(ledger, Stage.PROVISIONAL)
    sheet = up(ledger, Stage.OFFICIAL, 2)
    assert sheet.standings_headline == "Provisional, version 2"
    assert sheet.word("fact-complaints") not in dict(sheet.facts)
    assert sheet.word("fact-complaints") in dict(sheet.facts_of(sheet.results.task(2)))
    row = {"task": "1", "pilot": "4", "method": "tape", "distance": "9", "by": "K"}
    ledger.record(MarkKeyed(flight="f1", fields=row))
    whole = up(ledger, Stage.OFFICIAL)
    assert dict(whole.facts)[whole.word("fact-complaints")] == whole.local(
        whole.stamp.complaint_end
    )
    assert whole.edition == f"{whole.standings_headline} · {whole.published}"


def test_a_version_says_first_which_tasks_it_takes_back(ledger):
    up(ledger, Stage.OFFICIAL, 2)
    assert up(ledger, Stage.PROVISIONAL).stamp.changes == ()  # it stays official

    row = {"task": "2", "pilot": "4", "method": "tape", "distance": "9", "by": "K"}
    ledger.record(MarkKeyed(flight="f2", fields={**row, "settles": "read again"}))
    first, *_ = up(ledger, Stage.PROVISIONAL).stamp.changes
    assert first == "Task 2 is taken back: Official, version 1 → Provisional"

    drafts = task_state(ledger.state(), 2, "cancelled", "the jury's decision")
    ledger.record_all(drafts)
    first, *rest = up(ledger, Stage.PROVISIONAL).stamp.changes
    assert first == "Task 2 is taken down: Provisional, version 3 → nothing up"
    (pilot, *_) = [told for told in rest if "Task 2" in told or "task 2" in told]
    assert "because: the jury's decision" in pilot
    assert " 0 → none" not in pilot


def test_sheets_of_a_version_that_somebody_else_put_up_first_do_not_go_up(ledger):
    """Both were made side by side, and say one number."""
    slow = prepare(ledger, compute(ledger), Stage.PROVISIONAL)
    up(ledger, Stage.PROVISIONAL)
    with pytest.raises(RefusedError, match="put up version 1 meanwhile"):
        put_up(ledger, slow, {})
    assert [p.act.version for p in ledger.state().publications] == [1]


def test_who_waits_for_the_turn_of_another_does_not_take_his_number(ledger):
    """Both had looked, and one waited while the other wrote."""
    slow = prepare(ledger, compute(ledger), Stage.PROVISIONAL)
    turn = ledger.store.turn

    @contextmanager
    def waits():
        ledger.store.turn = turn
        up(ledger, Stage.PROVISIONAL)
        with turn() as connection:
            yield connection

    ledger.store.turn = waits
    with pytest.raises(RefusedError, match="put up version 1 meanwhile"):
        put_up(ledger, slow, {})
    assert [p.act.version for p in ledger.state().publications] == [1]


def test_what_changed_since_it_was_put_up_is_a_draft(ledger):
    up(ledger, Stage.PROVISIONAL)
    row = {"task": "1", "pilot": "4", "method": "tape", "distance": "1", "by": "K"}
    ledger.record(MarkKeyed(flight="f1", fields=row))
    sheet = up(ledger, Stage.OFFICIAL, 2)
    assert headlines(sheet)[0] == "Draft, not published"


def test_a_later_publication_of_the_whole_event_takes_nothing_official_back(ledger):
    up(ledger, Stage.OFFICIAL, 2)
    sheet = up(ledger, Stage.PROVISIONAL)
    assert headlines(sheet) == [
        "Provisional, version 2",
        "Official, version 1",
        "Provisional, version 2",
    ]
    assert [e.version for e in sheet.stamp.earlier] == [1]


def test_the_board_the_ledger_and_the_deadline_say_one_moment(ledger):
    sheet = up(ledger, Stage.OFFICIAL, 2, why="first results")
    (publication,) = ledger.state().publications
    act, stamp = publication.act, sheet.stamp
    assert act.at == stamp.published_at == stamp.of_task(2).published_at
    assert act.complaints_until == stamp.complaint_end
    assert ".000000" in act.at
    length = utc(stamp.complaint_end) - utc(stamp.published_at)
    assert length == timedelta(hours=1)
    assert ("Reason", "first results") in sheet.facts


def test_changes_name_pilots_and_say_why_in_words(ledger):
    up(ledger, Stage.PROVISIONAL)
    row = {"task": "1", "pilot": "4", "method": "tape", "distance": "1", "by": "K"}
    ledger.record(MarkKeyed(flight="f1", fields=row), why="found under a bush")
    sheet = up(ledger, Stage.PROVISIONAL, 1)
    (own,) = [c for c in sheet.stamp.changes if c.startswith("4 Dot")]
    assert "task 1: " in own
    assert "did not fly → with result" in own
    assert "result none → 1.00 m" in own
    assert "found under a bush" in own


def test_a_task_not_flown_yet_is_never_official(ledger):
    third = FIN.replace("number = 1", "number = 3")
    flight = tiny_flight("f3", tasks=third, day="2026-06-03")
    (draft,) = [
        d
        for d in to_drafts(tiny_raw(flight, rules=OPEN_RULES))
        if d.act.kind == "flight"
    ]
    ledger.record(draft.act)
    prepared = prepare(ledger, compute(ledger), Stage.OFFICIAL, tasks=[3])
    kinds = [r.says.kind for r in prepared.refusals]
    assert "refused-planned" in kinds


def test_official_refuses_by_name(ledger):
    prepared = prepare(ledger, compute(ledger), Stage.OFFICIAL, tasks=[1])
    told = [said(r.says, prepared.computed.voice) for r in prepared.refusals]
    assert any("4 Dot" in line for line in told)


def test_what_went_up_is_read_once_however_often_it_went_up(ledger, monkeypatch):
    row = {"task": "1", "pilot": "4", "method": "tape", "by": "K"}
    for distance in ("", "4", "8", "9"):
        if distance:
            act = MarkKeyed(flight="f1", fields={**row, "distance": distance})
            ledger.record(act)
        up(ledger, Stage.PROVISIONAL)
    computed, read, file = compute(ledger), Counter(), ledger.file

    def counted(sha256):
        read[sha256] += 1
        return file(sha256)

    monkeypatch.setattr(ledger, "file", counted)
    prepared = prepare(ledger, computed, Stage.PROVISIONAL)
    assert len(prepared.stamp.earlier) == 4
    published = [p.act.results for p in ledger.state().publications]
    assert {read[sha256] for sha256 in published} == {1}, read


def test_a_changed_number_takes_nothing_official_back_and_is_told(ledger):
    up(ledger, Stage.OFFICIAL, 2)
    ledger.record_all(with_number(ledger.state(), 4, 44, "as on the balloon"))
    sheet = up(ledger, Stage.PROVISIONAL)
    assert headlines(sheet)[1] == "Official, version 1"
    (own,) = sheet.stamp.changes
    assert own.startswith("44 Dot, standings: number 4 → 44 (")
    assert "as on the balloon" in own
    assert up(ledger, Stage.PROVISIONAL).stamp.changes == ()


def test_a_number_that_passes_on_takes_nobody_elses_results_with_it(ledger):
    """3 becomes 9 and 2 becomes 3: whoever had 3 is not held against whoever has it."""
    up(ledger, Stage.OFFICIAL, 2)
    ledger.record_all(with_number(ledger.state(), 3, 9, "as on the balloon"))
    ledger.record_all(with_number(ledger.state(), 2, 3, "as on the balloon"))
    sheet = up(ledger, Stage.PROVISIONAL)
    assert headlines(sheet)[1] == "Official, version 1"
    told = [change.partition(" (")[0] for change in sheet.stamp.changes]
    assert told == [
        "3 Bob, standings: number 2 → 3",
        "9 Cid, standings: number 3 → 9",
    ]


def test_whose_number_another_one_has_is_held_against_nobody(ledger):
    before = ledger.state()
    (line,) = (c for c, a in before.all_of(PilotSet) if a.fields["number"] == "3")
    ledger.record(Withdrawn(entry=line.ids[0]), why="sold the balloon")
    ledger.record_all(with_number(ledger.state(), 2, 3, "as on the balloon"))
    state = ledger.state()
    changed = with_other_numbers(state.standing.lineages)
    numbers = numbers_since(changed, state.entries, before.heads)
    rows = [{"pilot": number} for number in (1, 2, 3)]
    assert under_new({"standings": rows}, numbers)["standings"] == [
        {"pilot": 1},
        {"pilot": 3},
    ]
    assert under_new({"standings": rows}, numbers_since(changed, (), ())) == {
        "standings": rows
    }


def test_the_first_standings_say_what_changed_in_tasks_that_were_up(ledger):
    up(ledger, Stage.PROVISIONAL, 2)
    row = {"task": "2", "pilot": "3", "method": "tape", "distance": "4", "by": "K"}
    (old,) = (
        c
        for c, act in ledger.state().all_of(MarkKeyed)
        if (act.fields["task"], act.fields["pilot"]) == ("2", "3")
    )
    ledger.record(MarkKeyed(flight="f2", fields=row), replaces=old.ids)
    sheet = up(ledger, Stage.PROVISIONAL)
    assert [c for c in sheet.stamp.changes if c.startswith("3 Cid, task 2: result 3")]
    assert not [c for c in sheet.stamp.changes if "task 1" in c]


def test_a_pilot_reads_which_tasks_stand_at_what(ledger):
    sheet = up(ledger, Stage.OFFICIAL, 2)
    top = "task 1: Draft, not published, task 2: Official, version 1"
    top += ", standings: Draft, not published"
    assert sheet.standings_headline == "Draft, not published"
    assert sheet.pilot_headline == top
    tracks = Tracks(sheet.event, sheet.results)
    pages = write_site(sheet.results, sheet.event, sheet.stamp, tracks)
    assert f"<strong>{top}</strong>" in pages["pilot-1.html"].decode()
    whole = up(ledger, Stage.PROVISIONAL)
    assert whole.pilot_headline == whole.standings_headline


def test_who_withdrew_is_named_in_later_tasks(ledger):
    ledger.record_all(withdrawn(ledger.state(), 4, 2, "ill"))
    sheet = up(ledger, Stage.PROVISIONAL)
    first, second = sheet.results.tasks
    assert (first.withdrawn, second.withdrawn) == ((), (4,))
    assert formula_line(sheet, second).endswith("; withdrawn before it: 4 Dot")
    assert "withdrawn" not in formula_line(sheet, first)
    tracks = Tracks(sheet.event, sheet.results)
    pages = write_site(sheet.results, sheet.event, sheet.stamp, tracks)
    assert "withdrawn before it, no score" in pages["pilot-4.html"].decode()
    told = [*explain(sheet.event, sheet.results, 4)]
    assert any("withdrawn before it, no score" in line for line in told)


REPORTED = (
    "task,pilot,kind,time,by\n1,1,ground-contact,07:20,K\n1,2,ground-contact,07:30,L\n"
)


def test_results_are_the_same_bytes_of_a_folder_and_of_an_event_file(tmp_path):
    """What is evidence is named by what it says, not by the line or entry it stands in."""
    raw = tiny_raw(
        tiny_flight(marks=marks(1, 3, 5, 7), reports=REPORTED), rules=OPEN_RULES
    )
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(raw))
        there = compute(ledger).results
    own = to_json(score(build_event(raw)))
    assert own == to_json(there)
    assert "reports.csv (K, 07:20)" in own


def test_results_at_which_nothing_stands_any_more_are_not_read(ledger, monkeypatch):
    read = []
    real = publishing._results
    monkeypatch.setattr(
        publishing, "_results", lambda own, sha: read.append(sha) or real(own, sha)
    )
    for metres in "1234":
        row = {
            "task": "1",
            "pilot": "4",
            "method": "tape",
            "distance": metres,
            "by": "K",
        }
        ledger.record(MarkKeyed(flight="f1", fields=row))
        prepared = prepare(ledger, compute(ledger), Stage.PROVISIONAL)
        put_up(ledger, prepared, {"site/newest.json": b'{"changes": []}'})
        read.clear()
    results = [p.act.results for p in ledger.state().publications]
    prepare(ledger, compute(ledger), Stage.PROVISIONAL)
    assert set(read) == {results[-1]}
    read.clear()
    prepare(ledger, compute(ledger), Stage.PROVISIONAL, tasks=[1])
    assert set(read) == {results[-1]}


def test_a_lower_stage_is_held_against_the_higher_one_below_it(ledger):
    """What is official stays so beneath any number of provisional versions."""
    up(ledger, Stage.OFFICIAL, 2)
    for _ in range(3):
        sheet = up(ledger, Stage.PROVISIONAL)
        assert headlines(sheet)[1] == "Official, version 1"


def test_a_task_that_was_cancelled_is_taken_down_once(ledger):
    up(ledger, Stage.PROVISIONAL)
    held, act = next(
        own for own in ledger.state().all_of(FlightSet) if own[1].flight == "f1"
    )
    (task,) = act.settings["task"]
    settings = {**act.settings, "task": [{**task, "state": "cancelled"}]}
    ledger.record(replace(act, settings=settings), replaces=held.ids, why="wind")
    assert prepare(ledger, compute(ledger), Stage.PROVISIONAL).changes
    up(ledger, Stage.PROVISIONAL)
    assert not prepare(ledger, compute(ledger), Stage.PROVISIONAL).changes


def test_a_file_that_holds_no_results_takes_nothing_down(ledger, monkeypatch):
    """Whoever put it up: what was readable before stands."""
    up(ledger, Stage.PROVISIONAL)
    computed = compute(ledger)
    publishing.publish(ledger, replace(computed, document=b"{}"), Stage.PROVISIONAL)
    prepared = prepare(ledger, computed, Stage.OFFICIAL, tasks=[2])
    assert [task.version for task in prepared.stamp.tasks] == [1, 3]
