"""What holds of versions, put in by hand: equal ones, woven ones, clashes and doubles."""

from dataclasses import replace
from itertools import count

import pytest

from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    FlightSet,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    MatterAccepted,
    PilotSet,
    PlaceSet,
    Published,
    ReportMade,
    RulingMade,
    SettingsSet,
    Stage,
    TerrainSet,
    Verdict,
    to_payload,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.entry import Entry
from scorer.ledger.holding import resolve
from scorer.ledger.lineage import Lineage, SortedEntries
from scorer.ledger.resolve import (
    Current,
    content_key,
    content_of,
    entered_by,
    key_of,
)

SHA = "a" * 64
NUMBERS = count(1)


def entry(act=None, *, who="Ida", desk="hall"):
    n = next(NUMBERS)
    return Entry(
        desk=desk,
        number=n,
        tick=n,
        kind=str(act.kind) if act else "",
        payload=to_payload(act) if act else "",
        who=who,
        at="2026-06-01T06:00:00Z",
        prev="",
        hash=f"{n:064x}",
    )


def held(act, **more):
    return ReadEntry(entry=entry(act, **more), act=act)


def settled(act):
    """One version of one thing."""
    one = held(act)
    return Lineage(versions=(one,), ends=(one,), withdrawals=())


def forked(base, *ends, withdrawn=()):
    """One thing that desks took different ways with."""
    first = held(base)
    last = tuple(held(act, desk=f"desk{n}") for n, act in enumerate(ends))
    gone = tuple(held(act) for act in withdrawn)
    return Lineage(
        versions=(first, *last, *gone), ends=last, withdrawals=gone, base=first
    )


def outcome(*lineages):
    return resolve(SortedEntries(entries=(), lineages=lineages, undone=frozenset()))


def pilot(number="1", name="Ann", **more):
    return PilotSet(fields={"number": number, "name": name, **more})


def mark(distance="5", **more):
    fields = {"task": "1", "pilot": "2", "distance": distance, **more}
    return MarkKeyed(flight="f1", fields=fields)


def ruling(finding="floor:1:2:x", decision="apply", **more):
    fields = {"task": "1", "pilot": "2", "finding": finding, "decision": decision}
    return RulingMade(flight="f1", fields=fields | more)


def published(tasks=(1,), version=1, at=""):
    return Published(
        stage=Stage.OFFICIAL, version=version, tasks=tasks, results=SHA, heads=(), at=at
    )


FLIGHT = settled(FlightSet(flight="f1", settings={}))
COMPLAINT = ComplaintFiled(pilot=2, task=1, text="why?")
ADDED = LogAdded(flight="f1", name="a.igc", sha256=SHA, size=1)
GIVEN = LogAssigned(flight="f1", name="A.IGC", sha256=SHA, pilot=2)


def test_who_made_an_entry_is_its_by_else_who_recorded_it_and_no_importer():
    own = entry(who="Clerk")
    assert entered_by(pilot(), own) == "Clerk"
    assert entered_by(mark(by=" Eva "), own) == "Eva"
    assert entered_by(mark(), own) == "Clerk"
    assert entered_by(replace(mark(), source="marks.csv"), own) == ""
    assert entered_by(replace(mark(by="Eva"), source="marks.csv"), own) == "Eva"


def test_a_record_says_where_it_stands():
    first, second = entry(), entry(desk="field")
    both = Current(act=replace(mark(), source="marks.csv"), entries=(first, second))
    assert both.entry is first
    assert both.ids == (first.hash, second.hash)
    where = f"entry hall #{first.number} + field #{second.number} (marks.csv)"
    assert both.origin.where == where
    assert both.origin.entries == both.ids
    alone = Current(act=mark(), entries=(first,)).origin.where
    assert alone == f"entry hall #{first.number}"


@pytest.mark.parametrize(
    ("act", "content"),
    [
        (SettingsSet(settings={"event": {"name": "X"}}), {"event": {"name": "X"}}),
        (pilot(), {"number": "1", "name": "Ann"}),
        (
            PlaceSet(feature={"properties": {"name": "T"}}),
            {"properties": {"name": "T"}},
        ),
        (GIVEN, {}),
    ],
)
def test_what_holds_gives_its_fields_settings_or_feature(act, content):
    assert content_of(Current(act=act, entries=(entry(),))) == content


def test_content_is_what_an_act_sets_down_not_where_it_came_from():
    assert content_key(mark(note=" ")) == content_key(mark())
    assert content_key(replace(mark(), source="x.csv")) == content_key(mark())
    assert content_key(mark("6")) != content_key(mark())
    assert content_key(pilot(team="")) == content_key(pilot())
    matter = MatterAccepted(fields={"kind": "safety", "mark": " "})
    assert content_key(matter) == content_key(MatterAccepted(fields={"kind": "safety"}))

    chosen = MarkSettled(flight="f1", fields={"pilot": "2", "between": "a"})
    other = replace(chosen, fields={"pilot": "2", "between": "b"}, keyings=("k",))
    assert content_key(chosen) == content_key(other)
    assert content_key(chosen) != content_key(replace(chosen, fields={"pilot": "3"}))
    settings = FlightSet(flight="f1", settings={"a": ""})
    assert content_key(settings) != content_key(replace(settings, settings={}))


@pytest.mark.parametrize(
    ("act", "key"),
    [
        (SettingsSet(settings={}), ()),
        (TerrainSet(name="t.tif", sha256=SHA, size=1), ()),
        (pilot("07"), ("7",)),
        (PlaceSet(feature={"properties": {"name": "T"}}), ("T",)),
        (FlightSet(flight="f1", settings={}), ("f1",)),
        (ADDED, ("f1", "a.igc", SHA)),
        (GIVEN, ("f1", "a.igc", SHA)),
        (
            MarkSettled(flight="f1", fields={"task": "1", "pilot": "02"}),
            ("f1", "1", "2", ""),
        ),
        (published(tasks=(1, 2)), ((1, 2), 1)),
        (published(tasks=(1, 2), at="2026-06-01T08:00:00Z"), ((), 1)),
        (ComplaintDecided(complaint="c", verdict=next(iter(Verdict))), ("c",)),
        (ruling("floor:1:2:x", **{"from": "07:00"}), ("f1", "1", "2", "floor:1:2:x")),
        (ruling("floor", **{"from": "7"}), ("f1", "1", "2", "floor", "7")),
    ],
)
def test_of_some_things_there_is_only_one(act, key):
    assert key_of(act) == (type(act), *key)


@pytest.mark.parametrize("act", [mark(), ruling(" "), COMPLAINT])
def test_of_others_there_may_be_many(act):
    assert key_of(act) is None


def test_what_was_withdrawn_holds_no_more_and_what_is_settled_holds_once():
    gone = Lineage(versions=(held(mark()),), ends=(), withdrawals=(held(mark()),))
    current, conflicts = outcome(FLIGHT, gone, settled(mark()))
    assert [type(c.act) for c in current] == [FlightSet, MarkKeyed]
    assert conflicts == ()


def test_desks_that_write_the_same_agree_and_all_their_entries_are_named():
    same = forked(mark("4"), mark("5"), replace(mark("5"), source="b.csv"))
    current, conflicts = outcome(FLIGHT, same)
    (_, one) = current
    assert one.act == mark("5")
    assert one.ids == tuple(end.id for end in same.ends)
    assert conflicts == ()


def test_measurements_that_differ_both_stand_and_the_clash_says_what_it_is_about():
    fork = forked(mark("4"), mark("5"), mark("6"))
    current, (clash,) = outcome(FLIGHT, fork)
    assert [c.act.fields.get("distance") for c in current[1:]] == ["5", "6"]
    assert clash.says.get("what") is not None
    assert clash.says.kind == "desks-clash"
    assert (clash.flight, clash.task, clash.pilots) == ("f1", 1, (2,))
    assert [e.hash for e in clash.entries] == [end.id for end in fork.ends]


def test_a_change_and_a_withdrawal_clash_and_the_change_stands_for_now():
    fork = forked(mark("4"), mark("5"), withdrawn=(mark("4"),))
    current, (clash,) = outcome(FLIGHT, fork)
    assert [c.act for c in current[1:]] == [mark("5")]
    assert len(clash.entries) == 2


def test_fields_that_do_not_touch_are_woven_and_others_keep_what_both_began_with():
    woven = forked(pilot(), pilot(name="Anne"), pilot(team="red"))
    current, conflicts = outcome(woven)
    assert current[0].act.fields == {"number": "1", "name": "Anne", "team": "red"}
    assert current[0].ids == tuple(end.id for end in woven.ends)
    assert conflicts == ()

    current, (clash,) = outcome(forked(pilot(), pilot(name="Anne"), pilot(name="Anna")))
    assert current[0].act.fields["name"] == "Ann"
    assert clash.fields == ("name",)
    assert (clash.flight, clash.task, clash.pilots) == ("", None, (1,))


def test_desks_begin_with_what_all_of_them_replaced_else_with_the_first_version():
    fork = forked(
        pilot(name="Ada", team=""),
        pilot(name="Ann", team="red"),
        pilot(name="Anne", team=""),
    )
    began = held(pilot(name="Ann", team=""))
    (one,), conflicts = outcome(fork._replace(base=began))
    assert (one.act.fields["name"], one.act.fields["team"]) == ("Anne", "red")
    assert conflicts == ()

    (one,), (clash,) = outcome(fork._replace(base=None))
    assert one.act.fields["name"] == "Ada"
    assert clash.fields == ("name",)


def test_what_has_no_fields_is_kept_as_it_was_where_desks_differ():
    fork = forked(GIVEN, replace(GIVEN, pilot=3), replace(GIVEN, pilot=4))
    current, (clash,) = outcome(FLIGHT, fork)
    assert current[1].act == GIVEN
    assert clash.pilots == (3, 4)


def test_what_one_desk_made_another_thing_of_is_kept_as_it_was():
    other = PlaceSet(feature={"properties": {"name": "T"}})
    for ends in ((pilot(name="B"), other), (other, pilot(name="B"))):
        (one,), (clash,) = outcome(forked(pilot(), *ends))
        assert one.act == pilot()
        assert clash.fields == ()


def test_of_two_that_set_down_one_thing_the_first_holds_and_both_are_listed():
    current, (clash,) = outcome(settled(pilot()), settled(pilot(name="Bob")))
    assert [c.act.fields["name"] for c in current] == ["Ann"]
    assert len(clash.entries) == 2

    again = replace(pilot(), source="pilots.csv")
    current, conflicts = outcome(settled(pilot()), settled(again))
    assert [(len(c.entries), c.act.source) for c in current] == [(2, "")]
    assert conflicts == ()


def test_of_two_decisions_none_holds_and_of_two_publications_both():
    current, (clash,) = outcome(
        FLIGHT, settled(ruling()), settled(ruling(decision="waive"))
    )
    assert [type(c.act) for c in current] == [FlightSet]
    assert (clash.task, clash.pilots) == (1, (2,))

    current, (clash,) = outcome(
        settled(published()), settled(replace(published(), results="b" * 64))
    )
    assert [c.act.results for c in current] == [SHA, "b" * 64]
    assert (clash.task, clash.flight) == (1, "")
    several = [replace(published((1, 2)), results=c * 64) for c in "ab"]
    assert outcome(*map(settled, several))[1][0].task is None


def test_things_hold_in_the_order_in_which_they_were_first_set_down():
    lines = [settled(pilot(str(n), f"P{n}")) for n in (3, 1, 2)]
    again = settled(pilot("1", "P1"))
    current, _ = outcome(*lines, again)
    assert [c.act.fields["number"] for c in current] == ["3", "1", "2"]


def test_a_clash_about_several_flights_or_tasks_names_none():
    fork = forked(
        mark("4"),
        replace(mark("5"), flight="f2"),
        mark("6", task="2"),
    )
    _, (clash, *lost) = outcome(FLIGHT, fork)
    assert (clash.flight, clash.task) == ("", None)
    assert [one.says.kind for one in lost] == ["flight-lost"]


def test_what_belongs_to_no_flight_is_listed_by_flight_and_not_lost():
    lines = [settled(mark()), settled(ReportMade(flight="f0", fields={}))]
    _, lost = outcome(*lines, settled(mark("7")))
    assert [one.says.get("flight") for one in lost] == ["f0", "f1"]
    assert [len(one.entries) for one in lost] == [1, 2]
    assert outcome(FLIGHT, settled(mark()))[1] == ()


def test_a_complaint_in_a_clash_names_its_task_and_pilot():
    fork = forked(COMPLAINT, replace(COMPLAINT, text="a"), replace(COMPLAINT, text="b"))
    _, conflicts = outcome(fork)
    assert [(c.task, c.pilots, c.flight) for c in conflicts] == [(1, (2,), "")]


def test_a_changed_number_is_followed_by_what_names_the_pilot():
    old, new = pilot("1"), pilot("9")
    first, last = held(old), held(new)
    moved = Lineage(versions=(first, last), ends=(last,), withdrawals=())
    own = mark(pilot="1")
    current, _ = outcome(FLIGHT, moved, settled(own))
    assert current[2].act.fields["pilot"] == "9"
