"""Classes that the rules score by themselves: places, formula and points of each."""

import pytest

from scorer.cli import show
from scorer.scoring.document import document, to_json
from scorer.scoring.explain import explain
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.helpers import said
from tests.scorer.tiny import RULES, tiny, tiny_flight

MARKS = "task,pilot,method,distance\n1,1,tape,9\n1,2,tape,4\n1,3,tape,30\n1,4,tape,20\n"
BY_CLASS = RULES + "points.by_class = true\n"


@pytest.fixture(scope="module")
def event():
    return tiny(tiny_flight(marks=MARKS), rules=BY_CLASS)


@pytest.fixture(scope="module")
def results(event):
    return score(event)


def test_each_class_has_its_own_places_and_points(results):
    """By hand: two classes of two, M = 1, SM = 1000·(2 + 1 − 1)/2; second place 500."""
    found = {s.pilot: (s.field, s.rank, s.score) for s in results.tasks[0].scores}
    assert found == {
        1: ("AX-7", 1, 1000),
        3: ("AX-7", 2, 500),
        2: ("AX-8", 1, 1000),
        4: ("AX-8", 2, 500),
    }
    formulas = {f.name: (f.formula.P, f.formula.W) for f in results.tasks[0].fields}
    assert formulas == {"AX-7": (2, 9), "AX-8": (2, 4)}
    assert [t.title for t in results.class_standings] == ["AX-7", "AX-8"]


def test_the_verifier_works_each_class_out_and_finds_what_is_altered(results):
    text = to_json(results)
    assert verify(read_results(text, "results.json")) == []

    tree = read_results(text, "results.json")
    tree["tasks"][0]["fields"][1]["formula"]["W"] += 1
    assert [d.where for d in verify(tree, digests=False)] == ["task 1, class AX-8, W"]
    tree = read_results(text, "results.json")
    tree["tasks"][0]["scores"][0]["field"] = "AX-8"
    assert any("rank" in d.where for d in verify(tree, digests=False))


def test_breakdown_and_lists_tell_the_class_and_its_formula(event, results, capsys):
    own = "\n".join(explain(event, results, 3))
    assert "class AX-7" in own
    assert "2 entered, 2 with result" in own
    assert "rank 2 of 2" in own

    show.results(event, results, None)
    out = capsys.readouterr().out
    assert out.index("class AX-7") < out.index("class AX-8")


def test_a_class_of_one_and_none_at_all_are_asked_about():
    pilots = "number,name,class\n1,Ann,AX-7\n2,Bob,AX7\n3,Cid,AX-7\n4,Dot,\n"
    found = score(tiny(tiny_flight(marks=MARKS), rules=BY_CLASS, pilots=pilots))
    own = {m.pilots: m for m in found.matters if m.kind.name == "class"}
    assert set(own) == {(2,), (4,)}
    assert all(m.holds_up for m in own.values())
    assert "class AX7" in said(own[2,], found.voice)
    assert found.tasks[0].score_of(4).rank == 1

    whole = score(tiny(tiny_flight(marks=MARKS), pilots=pilots))
    assert not [m for m in whole.matters if m.kind.name == "class"]
    assert document(whole)["tasks"][0]["fields"] == []


def test_first_places_of_two_classes_are_no_tie():
    """Only results of one class share a place."""
    rules = BY_CLASS + 'points.parted_by = "earlier-drop"\n'

    def tied(marks):
        found = score(tiny(tiny_flight(marks=marks), rules=rules)).matters
        return [m.pilots for m in found if m.kind.name == "tie"]

    assert tied(MARKS) == []
    assert tied(MARKS.replace("1,3,tape,30", "1,3,tape,9")) == [(1, 3)]
