import json
from dataclasses import replace
from datetime import timedelta

import pytest

from scorer.event import matters
from scorer.event.acceptances import rows_of
from scorer.event.matter import Closes, Matter, readiness
from scorer.event.model import Level
from scorer.event.rulebook import COMPLAINT_TIME
from scorer.facts import count, fact
from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    FlightSet,
    MarkKeyed,
    MatterAccepted,
    NoteMade,
    PlaceSet,
    ReportMade,
    RulingMade,
    SettingsSet,
    Stage,
    Verdict,
)
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import ancestors, sha256_of
from scorer.ledger.event_commands import compute
from scorer.ledger.faults import LedgerError, RefusedError
from scorer.ledger.filing import filing
from scorer.ledger.keyings import disagreements, settle
from scorer.ledger.matters import accept
from scorer.ledger.matters import matters as matters_of
from scorer.ledger.merge import merge_into
from scorer.ledger.publish import (
    changes_of,
    changes_since_last,
    complaint_end,
    file_hashes,
    open_matters,
    publish,
    refusals,
)
from scorer.verify import read_results, verify
from scorer.version import computed_by
from scorer.words.voice import Voice
from tests.helpers import said, sentence
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    Watch,
    create,
    open_at,
    place,
    small_event,
    tape,
)

HOUR_S = 3600
ANSWERED = {
    "book": "festival",
    "floor": {"height": "none", "within": "none"},
    "contact": {"penalty": "none", "within": "none"},
    "publication": {"complaint_time": "1 h", "protest_time": "none"},
}


def event(**publication):
    """The small event with every rule answered, and no log that cannot be read."""
    raw = small_event()
    rules = {**ANSWERED, "publication": {**ANSWERED["publication"], **publication}}
    (flight,) = raw.flights
    return replace(
        raw,
        settings={**raw.settings, "rules": rules},
        flights=(replace(flight, logs=()),),
    )


@pytest.fixture
def clock():
    return Watch()


@pytest.fixture
def ledger(tmp_path, clock):
    with create(tmp_path / "e", clock=clock) as made:
        made.record_all(to_drafts(event()))
        yield made


@pytest.fixture
def answer(ledger):
    """Answer the rules of publication otherwise."""

    def set_down(**publication):
        (old,) = ledger.state().all_of(SettingsSet)
        settings = event(**publication).settings
        ledger.record(SettingsSet(settings=settings), replaces=old[0].ids)

    return set_down


def computed(ledger):
    """Score what stands in the ledger, with a sheet."""
    return compute(ledger, documents=lambda _: {"board.pdf": b"%PDF"})


def test_versions_count_up_and_their_bytes_are_kept(ledger):
    first = publish(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1])
    second = publish(ledger, computed(ledger), Stage.OFFICIAL, tasks=[1])

    one, two = ledger.state().publications
    assert (one.entry, two.entry) == (first, second)
    assert [(p.act.stage, p.act.version) for p in (one, two)] == [
        ("provisional", 1),
        ("official", 2),
    ]
    assert one.act.program == computed_by()
    assert ledger.file(one.act.results) == computed(ledger).document
    assert file_hashes(one.act)["board.pdf"] == sha256_of(b"%PDF")
    assert ledger.file(sha256_of(b"%PDF")) == b"%PDF"


def test_versions_form_one_line_across_tasks_and_the_whole_event(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1])
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    assert [p.act.version for p in ledger.state().publications] == [1, 2]


def test_provisional_results_go_up_with_their_open_ends_named(ledger):
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    (up,) = ledger.state().publications
    (flag,) = up.act.flags
    assert flag.startswith("Task 1, 1 Ödön Vig: ")


def test_official_is_refused_while_keyings_are_unsettled(ledger):
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))

    (refused,) = refusals(ledger, computed(ledger), Stage.OFFICIAL)
    assert (refused.matter.kind.name, refused.matter.pilots) == ("unsettled", (1,))
    with pytest.raises(RefusedError, match="cannot become official yet") as caught:
        publish(ledger, computed(ledger), Stage.OFFICIAL)
    assert len(caught.value.reasons) == 1
    assert not ledger.state().publications

    (slot,) = disagreements(ledger.state())
    ledger.record_all([settle(slot, slot.keyings[1].act.fields, reason="photo")])
    publish(ledger, computed(ledger), Stage.OFFICIAL)


def reported(ledger):
    seen = {"task": "1", "pilot": "2", "kind": "ground-contact", "by": "Ivo"}
    return ledger.record(ReportMade(flight="1", fields=seen))


def test_official_is_refused_while_an_infringement_is_undecided(ledger):
    reported(ledger)
    done = computed(ledger)
    (refused,) = refusals(ledger, done, Stage.OFFICIAL)
    assert (refused.matter.kind.name, refused.matter.pilots) == ("unruled", (2,))
    with pytest.raises(RefusedError):
        publish(ledger, done, Stage.OFFICIAL)

    (finding,) = done.results.findings
    fields = {
        "task": "1",
        "pilot": "2",
        "finding": finding.finding.id,
        "decision": "waive",
        "reason": "a gust",
    }
    ledger.record(RulingMade(flight="1", fields=fields))
    assert refusals(ledger, computed(ledger), Stage.OFFICIAL) == ()


def test_an_infringement_that_is_accepted_as_it_stands_holds_nothing_up(ledger):
    reported(ledger)
    (matter,) = [m for m in open_matters(computed(ledger)) if m.holds_up]
    accept(ledger, matter, why="seen by two, no advantage")

    done = computed(ledger)
    (told,) = [m for m in open_matters(done) if m.accepted]
    assert told.says == matter.says
    assert (told.accepted.by, told.accepted.why) == ("ann", "seen by two, no advantage")
    publish(ledger, done, Stage.OFFICIAL)
    (up,) = ledger.state().publications
    assert "no advantage" in up.act.flags[0]
    (written,) = json.loads(ledger.file(up.act.results))["matters"]
    assert written["accepted"]["why"] == "seen by two, no advantage"


def test_a_matter_opens_again_once_its_values_change(ledger):
    first = reported(ledger)
    (matter,) = [m for m in open_matters(computed(ledger)) if m.holds_up]
    accept(ledger, matter, why="seen by two")
    seen = {"task": "1", "pilot": "2", "kind": "ground-contact", "by": "Ivo"}
    ledger.record(
        ReportMade(flight="1", fields={**seen, "by": "Udo"}),
        replaces=[first.id],
    )

    found = open_matters(computed(ledger))
    assert [m.kind.name for m in found] == ["unruled", "acceptance-gone"]
    assert [m.holds_up for m in found] == [True, False]
    told = said(found[1], computed(ledger).voice)
    assert "seen by two" in told
    assert "it is open again" in told
    assert f"Now it says: {said(found[0], computed(ledger).voice)}" in told
    assert "Entered about it since the acceptance: Observer report by ann" in told


def test_disagreeing_entries_cannot_be_accepted(ledger):
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))
    (matter,) = [m for m in open_matters(computed(ledger)) if m.holds_up]
    with pytest.raises(LedgerError, match="can only be settled"):
        accept(ledger, matter, why="never mind")

    (fields,) = rows_of(matter, why="never mind", by="ann")
    ledger.record(MatterAccepted(fields=fields))  # past the command
    assert refusals(ledger, computed(ledger), Stage.OFFICIAL)


def test_only_matters_that_block_and_concern_the_task_refuse(ledger):
    def matter(text, kind=matters.LOG_PILOT, flight="1", task=1):
        return Matter(kind=kind, flight=flight, task=task, says=sentence(text))

    done = computed(ledger)
    stated = (
        matter("a mark far from the track"),
        matter("only to know", kind=matters.LOG_GAP),
        matter("other task", task=2),
        matter("a log of the flight", task=None),
        matter("a log of another flight", task=None, flight="9"),
        matter("rules unset", kind=matters.RULES, task=None, flight=""),
    )
    done = replace(done, results=replace(done.results, matters=stated))

    def told(**more):
        found = refusals(ledger, done, Stage.OFFICIAL, **more)
        return [r.matter.says.get("text") for r in found]

    assert told(tasks=[1]) == [
        "a mark far from the track",
        "a log of the flight",
        "rules unset",
    ]
    assert len(told()) == 5


def test_official_is_refused_while_desks_are_in_conflict(ledger, tmp_path):
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    with open_at(tmp_path / "copy", FIELD) as field:
        field.record(PlaceSet(feature=place("north", lon=10.2)))
        ledger.record(PlaceSet(feature=place("north", lon=10.1)))
        merge_into(ledger.store, [field.store])

    with pytest.raises(RefusedError, match="Place north: set down 2 times"):
        publish(ledger, computed(ledger), Stage.OFFICIAL)


def test_official_is_refused_for_results_that_missed_an_entry(ledger):
    stale = computed(ledger)
    ledger.record(NoteMade(text="changes no result"))
    assert refusals(ledger, stale, Stage.OFFICIAL) == ()

    ledger.record(MarkKeyed(flight="1", fields=tape(2, "12", task="9")))
    assert refusals(ledger, stale, Stage.OFFICIAL, tasks=[1]) == ()

    ledger.record(MarkKeyed(flight="1", fields=tape(2, "12", by="bob")))
    with pytest.raises(RefusedError, match="Score again"):
        publish(ledger, stale, Stage.OFFICIAL, tasks=[1])


def test_the_complaint_period_comes_from_the_book_or_must_be_given(ledger, answer):
    answer(complaint_time="none")
    unset = computed(ledger)
    (refused,) = refusals(ledger, unset, Stage.OFFICIAL)
    assert refused.matter is not None
    assert refused.matter.says.kind == "rule-unanswered"
    assert refused.matter.says.get("rule") == COMPLAINT_TIME

    publish(ledger, unset, Stage.OFFICIAL, complaint_s=2 * HOUR_S)
    (up,) = ledger.state().publications
    assert up.act.flags == ()
    period = complaint_end(up) - up.entry.when
    assert abs(period - timedelta(hours=2)) <= timedelta(seconds=2)


def test_without_a_time_to_complain_every_list_says_that_official_waits(ledger, answer):
    """The list of matters and the refusal used to contradict each other."""
    answer(complaint_time="none")
    unset = computed(ledger)

    (refused,) = refusals(ledger, unset, Stage.OFFICIAL)
    listed = matters_of(unset.event, unset.results, ledger.state())
    assert [m for m in listed if m.holds_up] == [refused.matter]
    assert refused.matter.kind.closes is Closes.RULES
    assert unset.results.blocked
    assert readiness(listed) == fact("not-ready-official", matters=count(1))
    assert refusals(ledger, unset, Stage.PROVISIONAL) == ()

    answer(complaint_time="2 h")
    said = computed(ledger)
    assert refusals(ledger, said, Stage.OFFICIAL) == ()
    assert not any(m.holds_up for m in matters_of(said.event, said.results))


def test_provisional_results_start_no_complaint_period(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    assert complaint_end(ledger.state().publications[0]) is None


def test_final_needs_official_results_first(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    with pytest.raises(RefusedError, match="No official results are up"):
        publish(ledger, computed(ledger), Stage.FINAL)


def test_final_waits_for_the_complaint_period(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    with pytest.raises(RefusedError, match="The time to complain runs until"):
        publish(ledger, computed(ledger), Stage.FINAL)

    clock.now += timedelta(hours=1)
    publish(ledger, computed(ledger), Stage.FINAL)
    assert ledger.state().publications[-1].act.stage is Stage.FINAL


def test_final_waits_for_every_complaint(ledger, clock):
    evening = {"number": 5, "kind": "FIN", "target": "centre"}
    settings = {"date": "2026-09-13", "task": [evening]}
    ledger.record(FlightSet(flight="2", settings=settings))
    publish(ledger, computed(ledger), Stage.OFFICIAL, tasks=[1])
    filed = ledger.record(ComplaintFiled(pilot=2, text="mine was nearer", task=1))
    ledger.record(ComplaintFiled(pilot=2, text="about another task", task=5))
    clock.now += timedelta(hours=1)

    with pytest.raises(RefusedError, match="complaint of pilot 2") as caught:
        publish(ledger, computed(ledger), Stage.FINAL, tasks=[1])
    assert len(caught.value.reasons) == 1

    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED)
    ledger.record(act, why="taped twice")
    publish(ledger, computed(ledger), Stage.FINAL, tasks=[1])


def test_final_waits_for_a_protest_and_for_the_time_to_protest(ledger, clock, answer):
    answer(protest_time="2 h")

    def done():
        return computed(ledger)

    publish(ledger, done(), Stage.OFFICIAL, tasks=[1])
    filed = ledger.record(ComplaintFiled(pilot=2, text="mine was nearer", task=1))
    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED)
    ledger.record(act, why="taped twice")
    clock.now += timedelta(hours=1)  # the complaint period is over

    period = r"time to protest after the complaint of pilot 2 .* until 10:00"
    with pytest.raises(RefusedError, match=period) as caught:
        publish(ledger, done(), Stage.FINAL, tasks=[1])
    assert len(caught.value.reasons) == 1

    protest = ComplaintFiled(
        pilot=2, text="slack tape", task=1, level=Level.PROTEST, against=filed.id
    )
    protested = ledger.record(protest)
    clock.now += timedelta(hours=1)
    with pytest.raises(RefusedError, match=r"The protest of pilot 2 .* is open"):
        publish(ledger, done(), Stage.FINAL, tasks=[1])

    act = ComplaintDecided(complaint=protested.id, verdict=Verdict.REJECTED)
    ledger.record(act, why="jury")
    publish(ledger, done(), Stage.FINAL, tasks=[1])


def test_what_is_filed_late_says_so_and_is_about_what_was_up_for_its_task(
    ledger, clock, answer
):
    answer(protest_time="2 h")

    def filed(**more):
        """File what pilot 2 disputes at this hour."""
        given = {"pilot": 2, "text": " the tape slipped ", **more}
        state = ledger.state()
        draft = filing(state, computed(ledger).event, clock.now, **given)
        (entry,) = ledger.record_all([draft])
        return next(c for c in ledger.state().complaints if c.entry.hash == entry.hash)

    before = filed(task=1)
    assert (before.act.publication, before.note) == ("", "")
    up = publish(ledger, computed(ledger), Stage.OFFICIAL, tasks=[1])
    in_time = filed(task=1)
    assert (in_time.act.publication, in_time.note) == (up.hash, "")
    assert in_time.act.text == "the tape slipped"
    assert filed(task=2).act.publication == ""

    clock.now = complaint_end(ledger.state().publications[0]) + timedelta(minutes=1)
    assert "time to complain ended at" in filed().note

    early = filed(against=in_time)
    assert (early.level, early.act.task) == (Level.PROTEST, 1)
    assert "not answered yet" in early.note
    assert "about a protest" in filed(against=early).note
    answered = ComplaintDecided(complaint=in_time.entry.id, verdict=Verdict.REJECTED)
    ledger.record(answered, why="as measured")
    in_time = next(
        c for c in ledger.state().complaints if c.entry.hash == in_time.entry.hash
    )
    clock.now += timedelta(hours=2)
    assert filed(against=in_time).note == ""  # the last moment belongs to it
    clock.now += timedelta(minutes=1)
    assert "time to protest ended at" in filed(against=in_time).note


def test_final_asks_for_a_protest_period_that_the_book_leaves_open(ledger, clock):
    def done():  # before anybody complains, only final results ask for it
        made = computed(ledger)
        book = replace(made.event.book, unset=("publication.protest_time",))
        return replace(made, event=replace(made.event, book=book))

    publish(ledger, done(), Stage.OFFICIAL)
    clock.now += timedelta(hours=1)
    assert refusals(ledger, done(), Stage.FINAL) == ()  # nobody complained

    filed = ledger.record(ComplaintFiled(pilot=2, text="mine was nearer"))
    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.UPHELD)
    ledger.record(act, why="seen")

    (refused,) = refusals(ledger, done(), Stage.FINAL)
    assert refused.says.kind == "matter-placed"
    assert refused.matter.says.kind == "protest-time-open"


def test_no_version_of_the_whole_event_opens_a_final_task_without_a_word(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    clock.now += timedelta(hours=1)
    publish(ledger, computed(ledger), Stage.FINAL, tasks=[1])
    assert refusals(ledger, computed(ledger), Stage.PROVISIONAL) == ()  # it stays

    (old,) = ledger.state().keyings("1", "1", "1")
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "9.99")), replaces=old.ids)

    (refused,) = refusals(ledger, computed(ledger), Stage.PROVISIONAL)
    assert "task 1 would be opened again" in Voice().say(refused.says)
    # Nor one that names it beside others.
    assert refusals(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1, 2])
    with pytest.raises(RefusedError, match="task 1 would be opened again"):
        publish(ledger, computed(ledger), Stage.PROVISIONAL)
    publish(ledger, computed(ledger), Stage.PROVISIONAL, why="a complaint was right")
    assert refusals(ledger, computed(ledger), Stage.PROVISIONAL) == ()


def test_final_is_what_was_official(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    (old,) = ledger.state().keyings("1", "1", "1")
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "9.99")), replaces=old.ids)
    clock.now += timedelta(hours=1)

    with pytest.raises(RefusedError, match="Publish them as official again"):
        publish(ledger, computed(ledger), Stage.FINAL)

    publish(ledger, computed(ledger), Stage.OFFICIAL)
    with pytest.raises(RefusedError, match="The time to complain runs"):
        publish(ledger, computed(ledger), Stage.FINAL)


def test_final_results_are_opened_again_only_with_a_reason(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    clock.now += timedelta(hours=1)
    publish(ledger, computed(ledger), Stage.FINAL)

    with pytest.raises(RefusedError, match="Say why they are opened again"):
        publish(ledger, computed(ledger), Stage.OFFICIAL)
    publish(ledger, computed(ledger), Stage.OFFICIAL, why="ruling of the jury")


def test_a_task_without_results_is_not_published(ledger):
    with pytest.raises(RefusedError, match="hold no task 7"):
        publish(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1, 7])


def test_what_changed_is_told_before_and_after_publishing(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1])
    (old,) = ledger.state().keyings("1", "1", "1")
    ledger.record(
        MarkKeyed(flight="1", fields=tape(1, "9.99")),
        replaces=old.ids,
        why="read the form again",
    )
    done = computed(ledger)

    told, _ = changes_since_last(ledger, done, tasks=[1])  # and who was first before
    publish(ledger, done, Stage.PROVISIONAL, tasks=[1])
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "7"), source="later"))

    again, _ = changes_of(ledger, ledger.state().publications[-1])
    assert told == again
    assert (told.pilot, said(told.values[0])) == (1, "result 12.34 m → 9.99 m")
    assert any("read the form again" in said(reason) for reason in told.reasons)
    assert changes_of(ledger, ledger.state().publications[0]) == ()


def test_a_withdrawn_publication_does_not_count_as_up(ledger):
    up = publish(ledger, computed(ledger), Stage.OFFICIAL)
    ledger.withdraw([up.id], why="wrong sheet")

    with pytest.raises(RefusedError, match="No official results"):
        publish(ledger, computed(ledger), Stage.FINAL)
    publish(ledger, computed(ledger), Stage.PROVISIONAL)
    assert [p.act.version for p in ledger.state().publications] == [1, 2]
    assert [p.withdrawn for p in ledger.state().publications] == [True, False]


def test_a_publication_names_all_entries_it_was_computed_from(ledger):
    before = {entry.hash for entry in ledger.state().entries}
    publish(ledger, computed(ledger), Stage.PROVISIONAL)
    ledger.record(NoteMade(text="later"))

    (up,) = ledger.state().publications
    assert ancestors(ledger.state().entries, up.act.heads) == before


def test_results_with_two_decisions_of_two_desks_follow_from_each_other(
    ledger, tmp_path
):
    """What desks disagree about stands in results.json, in forms that verify knows."""
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    with open_at(tmp_path / "copy", FIELD) as field:
        old = ledger.state().keyings("1", "1", "1")[0].ids
        for desk, distance in ((ledger, "12.34"), (field, "12.43")):
            act = MarkKeyed(flight="1", fields=tape(1, distance))
            desk.record(act, replaces=old)
        merge_into(ledger.store, [field.store])

    document = computed(ledger).document.decode()
    assert "thing-row" in document
    assert verify(read_results(document, "results.json")) == []
