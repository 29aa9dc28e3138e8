"""Desk, score and publication read entries of marks alike, whatever their history."""

import json
import random
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

from scorer.event import matters
from scorer.event.build import build
from scorer.event.raw import RawRow
from scorer.ledger.acts import MarkKeyed, MarkSettled, ReportMade, Stage, Withdrawn
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft
from scorer.ledger.event_commands import compute
from scorer.ledger.keyings import event_of, settle, slots
from scorer.ledger.publish import refusals
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.ledger.ledger_desks import create
from tests.scorer.tiny import tiny, tiny_flight, tiny_raw

RULES = """book = "festival"
floor.height = "none"
floor.within = "none"
contact.within = "none"
launch.least_distance = "none"
"""
TASKS = """[[task]]
number = 1
kind = "FIN"
target = "T"

[[task]]
number = 2
kind = "FIN"
target = "T"
[task.rules]
keying = {tolerance = "0.5 m", twice = true, counts = "mean"}

[[task]]
number = 3
kind = "ELB"
"""
FIELD = 30
PILOTS = "number,name\n" + "".join(f"{n},Pilot {n}\n" for n in range(1, FIELD + 1))
PEOPLE = ("Ann", "ann ", "ANN", "Bo", "bo", "Bó", "Bo\u0301", "Cy", "Di", "")
METHODS = (
    {"method": "none"},
    {"method": "log", "time": "07:00"},
    {"method": "polar", "distance": "20", "bearing": "45", "from": "T"},
    {"method": "polar", "distance": "20.008", "bearing": "45.023", "from": "T"},
    {"method": "polar", "distance": "50", "bearing": "10", "from": "P"},
    {"method": "tape", "distance": "50", "from": "P"},
    {"method": "grid", "easting": "500030", "northing": "4500040"},
    {"method": "arcs", "distance": "80.62", "from": "P", "distance2": "67.08",
     "from2": "Q", "side": "L"},
)  # fmt: skip
LENGTHS = ("50", "50.00", "50.01", "50.012", "50.4", "51", "164 ft")


BOUNDED = settings(
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
)
"""A seed cannot be shrunk."""


def entered(chance, task, pilot):
    """Make one random entry of a mark, as a row."""
    row = {"task": str(task), "pilot": str(pilot), "by": chance.choice(PEOPLE)}
    if task == 3:
        row["mark"] = chance.choice(("A", "A", "B", ""))
    if chance.random() < 0.1:
        row["time"] = chance.choice(("07:01", "07:02"))
    if chance.random() < 0.6:
        return {**row, "method": "tape", "distance": chance.choice(LENGTHS)}
    return {**row, **chance.choice(METHODS)}


def begin(ledger):
    """Set down the event of the histories, without any marks."""
    flight = tiny_flight(tasks=TASKS)
    ledger.record_all(to_drafts(tiny_raw(flight, rules=RULES, pilots=PILOTS)))


def keyed(chance):
    """Draft entries of random marks, some as an import would bring them."""
    for _ in range(FIELD * 2):
        fields = entered(chance, chance.randint(1, 3), chance.randint(1, FIELD))
        source = chance.choice(("", "", "", "marks.csv line 2"))
        yield Draft(act=MarkKeyed(flight="f1", fields=fields, source=source))


def decided(chance, ledger):
    """Draft corrections, settlements, withdrawals and reports of some marks."""
    for slot in slots(ledger.state()):
        what = chance.random()
        if not slot.keyings:
            continue
        one = chance.choice(slot.keyings)
        task, pilot = int(slot.slot.task), int(slot.slot.pilot)
        if what < 0.25:
            by = {"by": chance.choice(PEOPLE)}
            yield settle(slot, {**one.act.fields, **by}, reason="the photograph")
        elif what < 0.35:
            fields = {**entered(chance, task, pilot), "mark": slot.slot.mark}
            act = MarkKeyed(flight="f1", fields=fields)
            yield Draft(act=act, replaces=one.ids)
        elif what < 0.4:
            yield Draft(act=Withdrawn(entry=one.ids[0]), why="twice")
        elif what < 0.45:
            fields = {"task": str(task), "pilot": str(pilot), "kind": "not-flown"}
            yield Draft(act=ReportMade(flight="f1", fields={**fields, "by": "post 4"}))
        elif what < 0.5:  # by hand, into the table: without what it has seen
            fields = {**one.act.fields, "settles": "x", "by": chance.choice(PEOPLE)}
            if slot.settled is None:
                yield Draft(act=MarkSettled(flight="f1", fields=fields, source="x"))


OPEN = {
    "entries-differ",
    "entries-differ-in-time",
    "entries-not-comparable",
    "no-mark-and-distance",
    "entry-contradicts-settled",
    "settled-in-two-ways",
    "keyed-once-only",
    "survey-open",
    "cannot-be-reduced",
    "mark-of-not-flown",
}
"""What entries can leave open; that a mark is missing is no statement of entries."""


def on_desk(ledger):
    """Return what the desk says of each mark."""
    state = ledger.state()
    return {
        (int(s.slot.task), int(s.slot.pilot), s.slot.mark): (s.state, s.problems)
        for s in slots(state, event_of(state, ledger.file))
    }


def in_results(results):
    """Return what the score says of each mark that has entries."""
    told = {}
    for matter in results.matters:
        if matter.says.kind in OPEN:
            told.setdefault((matter.task, matter.pilot, matter.mark), []).append(
                matter.says
            )
    return {
        (task.task, one.pilot, mark.mark): (
            mark.state,
            tuple(told.get((task.task, one.pilot, mark.mark), ())),
        )
        for task in results.tasks
        for one in task.scores
        for mark in one.marks
        if mark.state is not None
    }


def check(ledger):
    """Hold desk, score and publication against each other."""
    done = compute(ledger)
    results = done.results
    desk = on_desk(ledger)
    assert desk == in_results(results)
    for task in results.tasks:
        own = {key: says for key, (_, says) in desk.items() if key[0] == task.task}
        for one in task.scores:
            problems = [
                p for (_, n, _), told in own.items() if n == one.pilot for p in told
            ]
            elsewhere = [
                m
                for m in results.matters
                if m.kind in {matters.UNSETTLED, matters.NO_MARK}
                if m.says.kind not in OPEN
                if (m.task, m.pilot) == (task.task, one.pilot)
            ]
            assert not (problems and one.settled)
            assert problems or elsewhere or one.settled
        told = refusals(ledger, done, Stage.OFFICIAL, tasks=[task.task])
        refused = [r.matter for r in told if r.matter is not None]
        asked = {
            (m.task, m.pilot, m.mark, m.says) for m in refused if m.says.kind in OPEN
        }
        assert asked == {(*key, p) for key, told in own.items() for p in told}
    return desk


@settings(BOUNDED, max_examples=2)
@given(seed=st.integers(0, 2**32))
def test_desk_score_and_publication_agree_on_any_history(tmp_path_factory, seed):
    """Some hundred marks with a history of their own in each example."""
    chance = random.Random(seed)
    with create(tmp_path_factory.mktemp("history") / "e") as ledger:
        begin(ledger)
        for _ in range(2):
            ledger.record_all(list(keyed(chance)))
            ledger.record_all(list(decided(chance, ledger)))
            ledger.record_all(list(keyed(chance)))
            desk = check(ledger)
        raw = ledger.state().raw(ledger.file)
    with create(tmp_path_factory.mktemp("again") / "e") as again:
        again.record_all(to_drafts(raw))
        assert on_desk(again) == desk  # a folder written and read says the same


def table(chance, pilots, entries):
    """Make a random table of marks, also with settling rows."""
    rows = []
    for _ in range(entries):
        fields = entered(chance, chance.randint(1, 3), chance.randint(1, pilots))
        if chance.random() < 0.15:
            fields["settles"] = "the photograph"
            if chance.random() < 0.5:
                fields["between"] = "Ann: tape 50.0; Bo: tape 51"
        rows.append(RawRow(fields=fields))
    return rows


@settings(BOUNDED, max_examples=8)
@given(seed=st.integers(0, 2**32))
@example(seed=2346765)  # one entry twice, its columns in another order
def test_the_order_of_rows_changes_no_byte_of_the_results(seed):
    chance = random.Random(seed)
    rows = table(chance, 12, 60)
    texts = set()
    for _ in range(2):
        flight = replace(tiny_flight(tasks=TASKS), marks=tuple(rows))
        texts.add(to_json(score(tiny(flight, rules=RULES, pilots=PILOTS))))
        chance.shuffle(rows)
    assert len(texts) == 1


def only(*rows, counts="less advantageous", kind="FIN"):
    """Score one pilot's rows (by, distance, settles, between) of a taped mark."""
    named = ("by", "distance", "settles", "between")
    marks = tuple(
        RawRow(fields={"task": "1", "pilot": "1", "method": "tape", **dict(zip(named, r, strict=False))})
        for r in rows
    )  # fmt: skip
    tasks = f'[[task]]\nnumber = 1\nkind = "{kind}"\ntarget = "T"\n'
    rules = f'{RULES}keying.counts = "{counts}"\n'
    flight = replace(tiny_flight(tasks=tasks), marks=marks)
    results = score(tiny(flight, rules=rules))
    (mark,) = results.task(1).score_of(1).marks
    told = [m.says for m in results.matters if m.kind is matters.UNSETTLED]
    return mark, told


@pytest.mark.parametrize(
    ("counts", "kind", "distance"),
    [
        ("less advantageous", "FIN", 10.01),
        ("more advantageous", "FIN", 10.0),
        ("mean", "FIN", 10.005),
        ("less advantageous", "XDT", 10.0),
        ("more advantageous", "XDT", 10.01),
    ],
)
def test_the_book_says_which_of_two_that_agree_counts(counts, kind, distance):
    rows = (("Ann", "10.00"), ("Bo", "10.01"))
    for order in (rows, rows[::-1]):
        mark, _ = only(*order, counts=counts, kind=kind)
        assert mark.distance_m == pytest.approx(distance, abs=1e-9)
        assert mark.state == "agree"


@pytest.mark.parametrize(
    ("rows", "state"),
    [
        ([("a", "10.00"), ("b", "10.5"), ("c", "10.5", "x")], "settled"),
        ([("a", "10.00"), ("b", "10.5"), ("c", "10.5", "x"), ("d", "11")], "reopened"),
        ([("a", "10.00"), ("b", "10.5"), ("c", "10.5", "x"), ("d", "10.5")], "settled"),
        ([("a", "10.00"), ("b", "11"), ("c", "10.5", "x")], "settled"),
        ([("a", "10"), ("b", "11"), ("c", "10.5", "x", "A: tape 10.00; b : tape 11,0")],
         "settled"),
        ([("a", "10"), ("b", "11"), ("c", "10.5", "x", "a: tape 10")], "reopened"),
        ([("a", "10"), ("c", "10.5", "x", "a: tape 10"), ("c", "12")], "reopened"),
        ([("a", "10"), ("c", "10.5", "x"), ("e", "12", "y")], "reopened"),
        ([("a", "10"), ("c", "10.5", "x"), ("e", "12", "y", "a: tape 10; c: tape 10.5")],
         "settled"),
    ],
)  # fmt: skip
def test_a_settling_row_decides_only_over_what_it_has_seen(rows, state):
    for _ in range(2):
        mark, told = only(*rows)
        assert mark.state == state
        assert bool(told) is (state == "reopened")
        rows = rows[::-1]


@pytest.mark.parametrize(
    ("second", "told"),
    [
        ({}, set()),
        ({"distance": "12.340 m", "by": "Bo", "settles": "read again"}, set()),
        ({"distance": "12.43", "by": "Bo"}, {"settled-in-two-ways"}),
    ],
)
def test_a_mark_settled_twice_is_read_alike_in_a_folder_and_in_the_ledger(
    second, told, tmp_path
):
    first = {"task": "1", "pilot": "1", "method": "tape", "distance": "12.34", "by": "Ann", "settles": "photograph"}  # fmt: skip
    rows = tuple(RawRow(fields=row) for row in (first, {**first, **second}))
    raw = tiny_raw(replace(tiny_flight(tasks=TASKS), marks=rows), rules=RULES)
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(raw))
        imported = ledger.state().raw(ledger.file)

    for one in (raw, imported):
        event, faults = build(one)
        assert not faults
        found = [m for m in score(event).matters if m.kind.blocks]
        assert {m.says.kind for m in found if m.pilot == 1 and m.task == 1} == told
        assert not any(m.kind.name == "conflict" for m in found)


def test_a_difference_is_told_in_as_many_digits_as_it_takes():
    _, (told,) = only(("Ann", "10"), ("Bo", "10.012"))

    assert (told.get("gap"), told.get("tolerance")) == (pytest.approx(0.012), 0.01)
    assert said(told).startswith("Two entries differ by 0.012 m: ")


def test_results_carry_the_rows_as_entered_for_who_computes_them_again():
    flight = replace(
        tiny_flight(tasks=TASKS),
        marks=(RawRow(fields={"task": "1", "pilot": "1", "method": "tape", "distance": "32 ft", "by": "Ann", "time": ""}),),
    )  # fmt: skip
    tree = json.loads(to_json(score(tiny(flight, rules=RULES))))

    (mark,) = tree["tasks"][0]["scores"][0]["marks"]
    assert mark["state"] == "once"
    (row,) = mark["keyings"]
    assert (row["by"], row["method"]) == ("Ann", "tape")
    assert row["fields"]["distance"] == "32 ft"
