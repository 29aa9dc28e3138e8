from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.event.build import build_event
from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    FlightSet,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    NoteMade,
    PilotSet,
    PlaceSet,
    Published,
    RulingMade,
    SettingsSet,
    Stage,
    TerrainSet,
    Verdict,
)
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft, sha256_of
from scorer.ledger.faults import LedgerError
from scorer.ledger.merge import merge_into
from scorer.ledger.replay import replay
from scorer.ledger.tried import with_drafts
from scorer.ledger.united_edits import unite_edits
from tests.helpers import said
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    TENT,
    Watch,
    create,
    open_at,
    place,
    small_event,
    tape,
    without_origins,
)


@pytest.fixture
def ledger(tmp_path):
    with create(tmp_path / "e") as made:
        made.record_all(to_drafts(small_event()))
        yield made


@pytest.fixture
def apart(ledger, tmp_path):
    """Two copies of one event, at two desks without a network."""
    (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
    with open_at(tmp_path / "copy", FIELD) as field:
        yield ledger, field


def united(hall, field):
    """Bring the field's entries to the hall and return the state."""
    merge_into(hall.store, [field.store])
    return hall.state()


def pilot(number, name):
    return PilotSet(fields={"number": number, "name": name})


def current(state, form, number=0):
    return state.all_of(form)[number][0]


def names(state):
    return [act.fields["name"] for _, act in state.all_of(PilotSet)]


def test_an_event_comes_back_from_its_entries_as_it_was_entered(ledger):
    assert without_origins(ledger.raw()) == without_origins(small_event())


def test_records_name_the_entry_and_the_file_they_came_from(ledger):
    raw = ledger.raw()

    assert raw.pilots[1].origin.where == "entry hall-00000a #4 (table.csv line 3)"
    assert build_event(raw).pilots[0].name == "Ödön Vig"


def test_an_edit_takes_the_place_of_what_it_replaces(ledger):
    old = current(ledger.state(), PilotSet)
    ledger.record(pilot("1", "Ödön Vigh"), replaces=old.ids)

    assert names(ledger.state()) == ["Ödön Vigh", "Ines Roth"]
    assert len(ledger.state().history(old.entry.id)) == 2


def test_what_is_withdrawn_is_gone_and_stays_in_the_record(ledger):
    old = current(ledger.state(), PilotSet)
    edit = ledger.record(pilot("1", "Ödön Vigh"), replaces=old.ids)
    gone = ledger.withdraw([edit.id], why="fell ill")
    state = ledger.state()

    assert names(state) == ["Ines Roth"]
    assert state.history(old.entry.id) == (old.entry, edit, gone)
    assert not state.conflicts


def test_undoing_brings_back_what_was_replaced_or_withdrawn(ledger):
    old = current(ledger.state(), PilotSet)
    edit = ledger.record(pilot("1", "Ödön Vigh"), replaces=old.ids)
    gone = ledger.withdraw([edit.id], why="fell ill")
    undo = ledger.undo(gone.id, why="well again")
    assert names(ledger.state()) == ["Ödön Vigh", "Ines Roth"]

    ledger.undo(edit.id, why="was right before")
    assert names(ledger.state()) == ["Ödön Vig", "Ines Roth"]

    ledger.undo(undo.id, why="still ill")
    assert names(ledger.state()) == ["Ödön Vig", "Ines Roth"]


def test_undoing_an_undo_does_the_act_again(ledger):
    edit = ledger.record(
        pilot("1", "X"), replaces=current(ledger.state(), PilotSet).ids
    )
    undo = ledger.undo(edit.id, why="no")
    ledger.undo(undo.id, why="yes")

    assert names(ledger.state())[0] == "X"


def test_two_keyings_of_one_mark_both_stand(ledger):
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))

    marks = ledger.raw().flights[0].marks
    assert [m.fields["distance"] for m in marks] == ["12.34", "40 ft 3 1/2 in", "13.24"]
    assert len(ledger.state().keyings("1", "1", "1")) == 2


def test_a_log_goes_to_the_pilot_it_was_assigned_to(ledger):
    (log,) = ledger.state().logs
    assert log.pilot == 1

    act = LogAssigned(flight="1", name=log.name, sha256=log.sha256, pilot=2)
    ledger.record(act, replaces=[log.assigned.id])
    assert ledger.raw().flights[0].logs[0].pilot == 2

    ledger.undo(ledger.state().logs[0].assigned.id, why="was right before")
    assert ledger.state().logs[0].pilot == 1


def test_logs_of_one_name_and_other_content_get_names_apart(ledger):
    data = b"other"
    act = LogAdded(flight="1", name="logs/001.IGC", sha256=sha256_of(data), size=5)
    ledger.record(act, files={act.sha256: data})

    logs = ledger.raw().flights[0].logs
    assert [log.blob.name for log in logs] == [
        "logs/001.igc",
        f"logs/001~{act.sha256[:8]}.IGC",
    ]


def test_terrain_comes_with_its_content(ledger):
    data = b"heights"
    act = TerrainSet(name="terrain.tif", sha256=sha256_of(data), size=7)
    ledger.record(act, files={act.sha256: data})

    assert ledger.raw().terrain.data == data


def test_a_complaint_is_open_until_somebody_decides(ledger):
    filed = ledger.record(ComplaintFiled(pilot=1, text="12.34 was 12.43", task=1))
    assert [c.is_open for c in ledger.state().complaints] == [True]

    ledger.record(
        ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED),
        why="taped twice",
    )
    (complaint,) = ledger.state().complaints
    assert not complaint.is_open
    assert complaint.outcome.why == "taped twice"


def test_an_entry_is_found_by_label_or_start_of_hash(ledger):
    entry = ledger.state().entries[3]

    assert ledger.state().find(entry.label) == entry
    assert ledger.state().find(f"entry {entry.label}") == entry
    assert ledger.state().find(entry.hash[:10]) == entry
    with pytest.raises(LedgerError, match="desk and number"):
        ledger.state().find("nobody #7")


def test_rows_of_a_withdrawn_flight_are_listed_not_lost(ledger):
    flight = current(ledger.state(), FlightSet)
    ledger.withdraw(flight.ids, why="wrong day")
    state = ledger.state()

    assert state.raw(ledger.file).flights == ()
    assert "belong to flight 1," in said(state.conflicts[0])
    assert len(state.conflicts[0].entries) == 6


# Desks that did not see each other.


def test_edits_of_different_fields_both_hold(apart):
    hall, field = apart
    flight = current(hall.state(), FlightSet)
    task = flight.act.settings["task"][0]
    hall.record(
        replace(flight.act, settings={**flight.act.settings, "qnh_hpa": 1019.5}),
        replaces=flight.ids,
    )
    field.record(
        replace(
            flight.act,
            settings={**flight.act.settings, "task": [{**task, "state": "cancelled"}]},
        ),
        replaces=flight.ids,
    )
    state = united(hall, field)

    assert not state.conflicts
    settings = current(state, FlightSet).act.settings
    assert settings["qnh_hpa"] == 1019.5
    assert settings["task"][0]["state"] == "cancelled"
    assert len(current(state, FlightSet).ids) == 2


def test_edits_of_one_field_are_a_conflict_and_neither_is_chosen(apart):
    hall, field = apart
    old = current(hall.state(), SettingsSet)
    for ledger, venue in ((hall, "Mill"), (field, "Moor")):
        event = {**old.act.settings["event"], "venue": venue}
        ledger.record(
            SettingsSet(settings={**old.act.settings, "event": event}), replaces=old.ids
        )
    state = united(hall, field)

    (conflict,) = state.conflicts
    assert conflict.fields == ("event.venue",)
    assert "venue" not in current(state, SettingsSet).act.settings["event"]

    held = current(state, SettingsSet)
    event = {**held.act.settings["event"], "venue": "Mill"}
    hall.record(
        SettingsSet(settings={**held.act.settings, "event": event}),
        replaces=[entry.hash for entry in conflict.entries],
        why="asked the director",
    )
    assert not hall.state().conflicts
    assert current(hall.state(), SettingsSet).act.settings["event"]["venue"] == "Mill"


def test_equal_edits_are_no_conflict(apart):
    hall, field = apart
    old = current(hall.state(), PilotSet)
    for ledger in apart:
        ledger.record(pilot("1", "Ödön Vigh"), replaces=old.ids)
    state = united(hall, field)

    assert not state.conflicts
    assert names(state) == ["Ödön Vigh", "Ines Roth"]
    assert len(current(state, PilotSet).ids) == 2


def test_two_pilots_with_one_number_are_a_conflict(apart):
    hall, field = apart
    hall.record(pilot("7", "Nora"))
    field.record(pilot("007", "Emil"))
    state = united(hall, field)

    (conflict,) = state.conflicts
    assert "pilot 7: set down 2 times" in said(conflict)
    assert {e.desk for e in conflict.entries} == {HALL, FIELD}
    build_event(state.raw(hall.file))


def test_one_pilot_entered_at_two_desks_alike_is_one(apart):
    hall, field = apart
    hall.record(pilot("7", "Nora"))
    field.record(PilotSet(fields={"name": "Nora", "number": "7", "class": ""}))
    state = united(hall, field)

    assert not state.conflicts
    assert names(state) == ["Ödön Vig", "Ines Roth", "Nora"]


def test_withdrawn_at_one_desk_and_changed_at_another_is_a_conflict(apart):
    hall, field = apart
    old = current(hall.state(), PlaceSet)
    hall.withdraw(old.ids, why="not used")
    field.record(PlaceSet(feature=place("centre", lon=10.1)), replaces=old.ids)
    state = united(hall, field)

    (conflict,) = state.conflicts
    assert "withdrawn at one desk, changed at another" in said(conflict)
    assert len(state.all_of(PlaceSet)) == 1

    hall.withdraw([e.hash for e in conflict.entries], why="not used after all")
    assert not hall.state().conflicts
    assert not hall.state().all_of(PlaceSet)


def test_two_rulings_on_one_finding_are_a_conflict_and_count_as_none(apart):
    hall, field = apart
    fields = {"task": "1", "pilot": "2", "finding": "floor:1:2:23000"}
    for ledger, decision in ((hall, "apply"), (field, "waive")):
        ledger.record(
            RulingMade(flight="1", fields={**fields, "decision": decision}), why="x"
        )
    state = united(hall, field)

    assert "the decision on flying under the minimum height of pilot 2" in said(
        state.conflicts[0]
    )
    assert len(state.rows(RulingMade)) == 1  # the imposed one of the small event


def test_rulings_by_kind_on_two_moments_are_no_conflict(apart):
    hall, field = apart
    fields = {"task": "1", "pilot": "2", "finding": "floor", "decision": "apply"}
    for ledger, start in ((hall, "07:01:00"), (field, "07:20:00")):
        ledger.record(RulingMade(flight="1", fields={**fields, "from": start}))
    state = united(hall, field)

    assert not state.conflicts
    assert len(state.rows(RulingMade)) == 3


def test_a_keying_corrected_in_two_ways_stands_as_two(apart):
    hall, field = apart
    old = current(hall.state(), MarkKeyed)
    for ledger, distance in ((hall, "12.43"), (field, "13.24")):
        ledger.record(MarkKeyed(flight="1", fields=tape(1, distance)), replaces=old.ids)
    state = united(hall, field)

    found = {c.act.fields["distance"] for c in state.keyings("1", "1", "1")}
    assert found == {"12.43", "13.24"}
    assert "corrected in different ways" in said(state.conflicts[0])


def test_two_settlings_of_one_mark_stand_and_scoring_says_whether_they_agree(apart):
    hall, field = apart
    for ledger, distance in ((hall, "12.34"), (field, "12.43")):
        fields = tape(1, distance, settles="tape photo")
        ledger.record(MarkSettled(flight="1", fields=fields))
    state = united(hall, field)

    assert len(state.rows(MarkSettled)) == 2
    assert state.conflicts == ()


def test_two_assignments_of_one_log_are_a_conflict_and_count_as_none(apart):
    hall, field = apart
    data = b"log"
    act = LogAdded(flight="1", name="logs/x.igc", sha256=sha256_of(data), size=3)
    for number, ledger in enumerate(apart, start=1):
        ledger.record(act, files={act.sha256: data})
        ledger.record(
            LogAssigned(flight="1", name=act.name, sha256=act.sha256, pilot=number)
        )
    state = united(hall, field)

    assert [(log.name, log.pilot) for log in state.logs][1:] == [("logs/x.igc", None)]
    assert "the pilot of log x.igc" in said(state.conflicts[0])


def test_what_is_only_tried_out_is_told_without_desk_and_number(ledger):
    """It has none yet; people read them in what would clash."""
    data = b"log"
    act = LogAdded(flight="1", name="logs/x.igc", sha256=sha256_of(data), size=3)
    given = LogAssigned(flight="1", name=act.name, sha256=act.sha256, pilot=1)
    ledger.record(act, files={act.sha256: data})
    before = ledger.record(given)
    tried = with_drafts(ledger, [Draft(act=replace(given, pilot=2))])
    told = said(tried.conflicts[0])
    assert f"entries {before.label} by ann and the new entry by ann" in told


def test_two_answers_to_one_complaint_leave_it_open(apart, tmp_path):
    hall, field = apart
    filed = hall.record(ComplaintFiled(pilot=1, text="12.34 was 12.43"))
    merge_into(field.store, [hall.store])
    for ledger, verdict in ((hall, Verdict.UPHELD), (field, Verdict.REJECTED)):
        ledger.record(ComplaintDecided(complaint=filed.id, verdict=verdict), why="x")
    state = united(hall, field)

    assert "the answer to a complaint" in said(state.conflicts[0])
    assert state.complaints[0].is_open


def test_two_publications_of_one_version_are_a_conflict_and_both_listed(apart):
    hall, field = apart
    for ledger in apart:
        results = ledger.desk.encode()
        act = Published(
            stage=Stage.PROVISIONAL,
            version=1,
            results=sha256_of(results),
            heads=ledger.state().heads,
        )
        ledger.record(act, files={act.results: results})
    state = united(hall, field)

    assert "provisional results version 1: set down 2 times" in said(state.conflicts[0])
    assert len(state.publications) == 2
    hall.withdraw([state.publications[0].entry.id], why="agreed on the other")
    assert not hall.state().conflicts


def test_one_draft_that_reached_two_copies_counts_once(apart):
    hall, field = apart
    (draft,) = to_drafts(replace(small_event(), pilots=(), places=(), flights=()))
    draft = replace(draft, act=MarkKeyed(flight="1", fields=tape(1, "12.34", "bob")))
    for ledger in apart:
        ledger.record_all([draft])
    state = united(hall, field)

    assert len(state.keyings("1", "1", "1")) == 2
    assert not state.conflicts


def test_one_desk_that_went_on_in_two_copies_is_kept_whole(ledger, tmp_path):
    (tmp_path / "old copy").write_bytes((tmp_path / "e").read_bytes())
    ledger.record(NoteMade(text="in the event"))
    with open_at(tmp_path / "old copy", HALL) as copy:
        copy.record(NoteMade(text="in the copy"))
        state = united(ledger, copy)

    assert len(state.forks) == 1
    assert {act.text for _, act in state.all_of(NoteMade)} == {
        "in the event",
        "in the copy",
    }
    after = ledger.record(NoteMade(text="after"))
    assert after.number == state.forks[0][0].number + 1


@pytest.mark.parametrize(
    ("base", "edits", "value", "clashes"),
    [
        ({"a": 1}, [{"a": 1}, {"a": 2}], {"a": 2}, ()),
        ({"a": 1}, [{"a": 2}, {"a": 2}], {"a": 2}, ()),
        ({"a": 1}, [{"a": 2}, {"a": 3}], {"a": 1}, ("a",)),
        ({"a": 1, "b": 1}, [{"a": 1}, {"a": 2, "b": 1}], {"a": 2}, ()),
        ({"a": 1}, [{}, {"a": 2}], {"a": 1}, ("a",)),
        ({}, [{"a": 1}, {"a": 2}], {}, ("a",)),
        ({}, [{"a": 1}, {"b": 2}], {"a": 1, "b": 2}, ()),
        ({"a": 1}, [{"a": True}, {"a": 1}], {"a": True}, ()),
        ({"a": [1, 2]}, [{"a": [1]}, {"a": [2]}], {"a": [1, 2]}, ("a",)),
        ({"a": {"b": 1, "c": 1}}, [{"a": {"b": 2, "c": 1}}, {"a": {"b": 1, "c": 2}}],
         {"a": {"b": 2, "c": 2}}, ()),
        ([{"number": 1}], [[{"number": 1, "x": 1}], [{"number": 1}, {"number": 2}]],
         [{"number": 1, "x": 1}, {"number": 2}], ()),
    ],
)  # fmt: skip
def test_edits_are_woven_field_by_field(base, edits, value, clashes):
    assert unite_edits(base, edits) == (value, clashes)
    assert unite_edits(base, edits[::-1]) == (value, clashes)


@settings(max_examples=30)
@given(seed=st.randoms(use_true_random=False))
def test_the_state_does_not_depend_on_the_order_entries_are_given_in(history, seed):
    shuffled = list(history)
    seed.shuffle(shuffled)

    assert replay(shuffled) == replay(history)


@pytest.fixture(scope="module")
def history(tmp_path_factory):
    folder = tmp_path_factory.mktemp("history")
    with create(folder / "e") as hall:
        hall.record_all(to_drafts(small_event()))
        (folder / "copy").write_bytes((folder / "e").read_bytes())
        with open_at(folder / "copy", TENT, clock=Watch(step_s=-9)) as tent:
            for ledger in (hall, tent):
                old = current(ledger.state(), PilotSet)
                edit = ledger.record(pilot("1", ledger.desk), replaces=old.ids)
                ledger.record(pilot("9", ledger.desk))
                ledger.undo(edit.id, why="no")
            return united(hall, tent).entries
