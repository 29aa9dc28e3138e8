import json
from dataclasses import replace
from datetime import timedelta

import pytest

from scorer.event.complaints import Level
from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    MarkKeyed,
    NoteMade,
    PlaceSet,
    Stage,
    Verdict,
)
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import sha256_of
from scorer.ledger.faults import RefusedError
from scorer.ledger.keyings import disagreements, settle
from scorer.ledger.merge import merge_into
from scorer.ledger.publish import (
    Computed,
    ancestors,
    changes_of,
    changes_since_last,
    complaint_end,
    file_hashes,
    open_points,
    publish,
    refusals,
)
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


@pytest.fixture
def clock():
    return Watch()


@pytest.fixture
def ledger(tmp_path, clock):
    with create(tmp_path / "e", clock=clock) as made:
        made.record_all(to_drafts(small_event()))
        yield made


def computed(ledger, complaint_s=HOUR_S, **more):
    """Stand in for scoring: distances in the order keyed, shaped as results.json."""
    state = ledger.state()
    scores, warnings = [], []
    for slot in {k.act.fields["pilot"]: k for k, _ in state.all_of(MarkKeyed)}:
        keyings = state.keyings("1", "1", slot)
        differing = [d for d in disagreements(state) if d.slot.pilot == slot]
        last = keyings[-1].act.fields["distance"]
        scores.append(
            {
                "pilot": int(slot),
                "group": "A",
                "result": last,
                "measured": last,
                "rank": 1,
                "score": 1000,
                "task_penalty": 0,
                "event_penalty": 0,
                "settled": not differing,
                "charges": [],
                "marks": [{"keyings": [k.act.fields["distance"] for k in keyings]}],
                "why": "",
            }
        )
    tree = {
        "tasks": [{"flight": "1", "task": 1, "formula": {}, "scores": scores}],
        "findings": [],
        "standings": [],
        "warnings": warnings,
        **more,
    }
    return Computed(
        state=state,
        results=json.dumps(tree).encode(),
        complaint_s=complaint_s,
        documents={"board.pdf": b"%PDF"},
        program="sandtail 0.1.0",
    )


def test_versions_count_up_and_their_bytes_are_kept(ledger):
    first = publish(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1])
    second = publish(ledger, computed(ledger), Stage.OFFICIAL, tasks=[1])

    one, two = ledger.state().publications
    assert (one.entry, two.entry) == (first, second)
    assert [(p.act.stage, p.act.version) for p in (one, two)] == [
        ("provisional", 1),
        ("official", 2),
    ]
    assert one.act.program == "sandtail 0.1.0"
    assert ledger.file(one.act.results) == computed(ledger).results
    assert file_hashes(one.act)["board.pdf"] == sha256_of(b"%PDF")
    assert ledger.file(sha256_of(b"%PDF")) == b"%PDF"


def test_tasks_and_the_whole_event_have_versions_of_their_own(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL, tasks=[1])
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    assert [p.act.version for p in ledger.state().publications] == [1, 1]


def test_provisional_results_go_up_with_their_open_ends_named(ledger):
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    (up,) = ledger.state().publications
    assert up.act.flags == (
        "task 1, pilot 1: keyings differ and nobody has settled them",
    )


def test_official_is_refused_while_keyings_are_unsettled(ledger):
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))

    with pytest.raises(RefusedError, match="pilot 1: keyings differ") as caught:
        publish(ledger, computed(ledger), Stage.OFFICIAL)
    assert len(caught.value.reasons) == 1
    assert not ledger.state().publications

    (slot,) = disagreements(ledger.state())
    ledger.record_all([settle(slot, slot.keyings[1].act.fields, reason="photo")])
    publish(ledger, computed(ledger), Stage.OFFICIAL)


FINDING = {
    "id": "floor:1:2:23000",
    "flight": "1",
    "task": 1,
    "pilot": 2,
    "verdict": "possible",
    "ruling": "unruled",
}


def test_official_is_refused_while_a_finding_is_unruled(ledger):
    with pytest.raises(RefusedError, match="nobody has ruled on floor:1:2:23000"):
        publish(ledger, computed(ledger, findings=[FINDING]), Stage.OFFICIAL)

    for settled in ({"ruling": "waive"}, {"verdict": "clear"}):
        done = computed(ledger, findings=[{**FINDING, **settled}])
        assert refusals(ledger, done, Stage.OFFICIAL) == ()


def test_only_warnings_that_block_and_concern_the_task_refuse(ledger):
    def warning(text, **more):
        base = {"kind": "log-pilot", "flight": "1", "task": 1, "pilot": 1}
        return {**base, "blocks": True, "text": text, **more}

    done = computed(
        ledger,
        matters=[
            warning("a mark far from the track"),
            warning("only to know", blocks=False),
            warning("other task", task=2),
            warning("a log of the flight", task=None),
            warning("a log of another flight", task=None, flight="9"),
            warning("rules unset", task=None, flight=""),
        ],
    )

    assert open_points(done.state, done.parsed, [1]) == (
        "a mark far from the track",
        "a log of the flight",
        "rules unset",
    )
    assert len(open_points(done.state, done.parsed)) == 5


def test_a_finding_that_a_warning_names_is_said_once(ledger):
    warning = {
        "kind": "unruled",
        "flight": "1",
        "task": 1,
        "pilot": 2,
        "blocks": True,
        "text": "floor: unruled",
    }
    done = computed(ledger, findings=[FINDING], matters=[warning])

    assert open_points(done.state, done.parsed) == ("floor: unruled",)


def test_official_is_refused_while_desks_are_in_conflict(ledger, tmp_path):
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    with open_at(tmp_path / "copy", FIELD) as field:
        field.record(PlaceSet(feature=place("north", lon=10.2)))
        ledger.record(PlaceSet(feature=place("north", lon=10.1)))
        merge_into(ledger.store, [field.store])

    with pytest.raises(RefusedError, match="place north: set down 2 times"):
        publish(ledger, computed(ledger), Stage.OFFICIAL)


def test_official_is_refused_for_results_that_missed_an_entry(ledger):
    stale = computed(ledger)
    ledger.record(NoteMade(text="changes no result"))
    assert refusals(ledger, stale, Stage.OFFICIAL) == ()

    ledger.record(MarkKeyed(flight="1", fields=tape(2, "12", task="9")))
    assert refusals(ledger, stale, Stage.OFFICIAL, tasks=[1]) == ()

    ledger.record(MarkKeyed(flight="1", fields=tape(2, "12", by="bob")))
    with pytest.raises(RefusedError, match="score again"):
        publish(ledger, stale, Stage.OFFICIAL, tasks=[1])


def test_the_complaint_period_comes_from_the_book_or_must_be_given(ledger, clock):
    unset = computed(ledger, complaint_s=None)
    with pytest.raises(RefusedError, match=r"publication\.complaint_time"):
        publish(ledger, unset, Stage.OFFICIAL)

    publish(ledger, unset, Stage.OFFICIAL, complaint_s=2 * HOUR_S)
    (up,) = ledger.state().publications
    assert complaint_end(up) - up.entry.when == pytest.approx(
        timedelta(hours=2), abs=timedelta(seconds=2)
    )


def test_provisional_results_start_no_complaint_period(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    assert complaint_end(ledger.state().publications[0]) is None


def test_final_needs_official_results_first(ledger):
    publish(ledger, computed(ledger), Stage.PROVISIONAL)

    with pytest.raises(RefusedError, match="no official results are up"):
        publish(ledger, computed(ledger), Stage.FINAL)


def test_final_waits_for_the_complaint_period(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    with pytest.raises(
        RefusedError, match="the complaint period runs until 2026-09-12"
    ):
        publish(ledger, computed(ledger), Stage.FINAL)

    clock.now += timedelta(hours=1)
    publish(ledger, computed(ledger), Stage.FINAL)
    assert ledger.state().publications[-1].act.stage is Stage.FINAL


def test_final_waits_for_every_complaint(ledger, clock):
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


def test_final_waits_for_a_protest_and_for_the_time_to_protest(ledger, clock):
    def done():
        return replace(computed(ledger), protest_s=2 * HOUR_S)

    publish(ledger, done(), Stage.OFFICIAL, tasks=[1])
    filed = ledger.record(ComplaintFiled(pilot=2, text="mine was nearer", task=1))
    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED)
    ledger.record(act, why="taped twice")
    clock.now += timedelta(hours=1)  # the complaint period is over

    period = r"protest period after the complaint of pilot 2 .* until 2026-09-12 08:00"
    with pytest.raises(RefusedError, match=period) as caught:
        publish(ledger, done(), Stage.FINAL, tasks=[1])
    assert len(caught.value.reasons) == 1

    protest = ComplaintFiled(
        pilot=2, text="slack tape", task=1, level=Level.PROTEST, against=filed.id
    )
    protested = ledger.record(protest)
    clock.now += timedelta(hours=1)
    with pytest.raises(RefusedError, match=r"the protest of pilot 2 .* is open"):
        publish(ledger, done(), Stage.FINAL, tasks=[1])

    act = ComplaintDecided(complaint=protested.id, verdict=Verdict.REJECTED)
    ledger.record(act, why="jury")
    publish(ledger, done(), Stage.FINAL, tasks=[1])


def test_final_asks_for_a_protest_period_that_the_book_leaves_open(ledger, clock):
    def done():
        return replace(computed(ledger), unset=("publication.protest_time",))

    publish(ledger, done(), Stage.OFFICIAL)
    clock.now += timedelta(hours=1)
    assert refusals(ledger, done(), Stage.FINAL) == ()  # nobody complained

    filed = ledger.record(ComplaintFiled(pilot=2, text="mine was nearer"))
    act = ComplaintDecided(complaint=filed.id, verdict=Verdict.UPHELD)
    ledger.record(act, why="seen")

    (reason,) = refusals(ledger, done(), Stage.FINAL)
    assert "set publication.protest_time" in reason


def test_final_is_what_was_official(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    (old,) = ledger.state().keyings("1", "1", "1")
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "9.99")), replaces=old.ids)
    clock.now += timedelta(hours=1)

    with pytest.raises(RefusedError, match="publish them as official again"):
        publish(ledger, computed(ledger), Stage.FINAL)

    publish(ledger, computed(ledger), Stage.OFFICIAL)
    with pytest.raises(RefusedError, match="the complaint period runs"):
        publish(ledger, computed(ledger), Stage.FINAL)


def test_final_results_are_opened_again_only_with_a_reason(ledger, clock):
    publish(ledger, computed(ledger), Stage.OFFICIAL)
    clock.now += timedelta(hours=1)
    publish(ledger, computed(ledger), Stage.FINAL)

    with pytest.raises(RefusedError, match="say why they are opened again"):
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

    (told,) = changes_since_last(ledger, done, tasks=[1])
    publish(ledger, done, Stage.PROVISIONAL, tasks=[1])
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "7"), source="later"))

    (again,) = changes_of(ledger, ledger.state().publications[-1])
    assert told == again
    assert str(told.values[0]) == "result 12.34 → 9.99"
    assert any("read the form again" in reason for reason in told.reasons)
    assert changes_of(ledger, ledger.state().publications[0]) == ()


def test_a_withdrawn_publication_does_not_count_as_up(ledger):
    up = publish(ledger, computed(ledger), Stage.OFFICIAL)
    ledger.withdraw([up.id], why="wrong sheet")

    with pytest.raises(RefusedError, match="no official results"):
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
