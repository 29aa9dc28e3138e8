"""The second verifier works from rows as entered to places, without any digest."""

import copy
import csv
import io
import json
from dataclasses import replace
from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import CRS, Geod, Transformer

from scorer.event.acceptances import rows_of
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.event.raw import RawRow
from scorer.recount.entries import read_entry
from scorer.recount.globe import GlobePoint, grid_of, line
from scorer.recount.links import _check_order_told
from scorer.recount.marks import taped_m
from scorer.recount.spread import check_remeasure, check_spread
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.units import Unreadable, length_m
from scorer.verify import read_results, verify
from tests.bench.altered import count, found, stands_once
from tests.scorer.scoring import test_by_result as race
from tests.scorer.scoring import test_target_log as target_log
from tests.scorer.tiny import FIN, RULES, tiny, tiny_flight

SAMPLE = Path(__file__).parents[2] / "sample_events" / "vashkorim"
STATES = ("planned", "flown", "cancelled")
GEOD = Geod(ellps="WGS84")
"""A general library's geodesics: C. Karney, Algorithms for geodesics, J. Geodesy 2013."""


@pytest.fixture(scope="module")
def text():
    """Score the small sample once."""
    return to_json(score(build_event(read_folder(SAMPLE))))


def tree_of(text):
    """Return a tree whose digests a forger has written anew: here, taken out."""
    tree = read_results(text, "results.json")
    del tree["digests"]
    return tree


def test_what_travels_in_the_file_is_enough_for_all_that_follows(text):
    tree = read_results(text, "results.json")
    assert {"entered", "statements"} <= set(tree)
    assert verify(tree) == []
    assert verify(tree_of(text)) == []


@pytest.mark.parametrize("states", [*product(STATES, repeat=2)], ids=" ".join)
def test_results_follow_in_whatever_state_each_task_is(states):
    """A cancelled task with an infringement was told to be altered."""
    raw = read_folder(SAMPLE)
    flights = [
        replace(
            flight,
            settings={
                **flight.settings,
                "task": [{**t, "state": state} for t in flight.settings["task"]],
            },
        )
        for flight, state in zip(raw.flights, states, strict=True)
    ]
    event = build_event(replace(raw, flights=tuple(flights)))
    text = to_json(score(event))
    assert [t["state"] for t in json.loads(text)["tasks"]] == [*states]
    assert verify(read_results(text, "results.json")) == []


def test_a_decision_on_nothing_in_a_cancelled_task_is_no_gap():
    raw = read_folder(SAMPLE)
    first, second = raw.flights
    row = {"task": "1", "pilot": "4", "finding": "floor", "decision": "apply"}
    row |= {"reason": "seen", "by": "A"}
    tasks = [{**t, "state": "cancelled"} for t in first.settings["task"]]
    first = replace(
        first,
        settings={**first.settings, "task": tasks},
        rulings=(*first.rulings, RawRow(fields=row)),
    )
    event = build_event(replace(raw, flights=(first, second)))
    assert verify(read_results(to_json(score(event)), "results.json")) == []


@pytest.mark.parametrize("leaver", range(1, 7))
def test_a_place_that_only_who_has_left_was_measured_from_is_named(leaver):
    """Who takes no part in a task has no score there, and so no rows in the file."""
    raw = read_folder(SAMPLE)
    pilots = tuple(
        RawRow(fields={**row.fields, "leaves": "2"}, origin=row.origin)
        if row.fields["number"] == str(leaver)
        else row
        for row in raw.pilots
    )
    flights = tuple(replace(flight, declarations=()) for flight in raw.flights)
    event = build_event(replace(raw, pilots=pilots, flights=flights))
    assert verify(read_results(to_json(score(event)), "results.json")) == []


@pytest.mark.parametrize("accepted", [False, True])
def test_pilots_without_a_log_are_told_together_and_one_by_one(accepted):
    """In one flight two lack theirs, in the other one does, or one's is accepted."""
    raw = read_folder(SAMPLE)
    lacking = ({1}, {3, 5, 6})
    flights = [
        replace(
            flight,
            logs=tuple(log for n, log in enumerate(flight.logs, 1) if n not in gone),
        )
        for flight, gone in zip(raw.flights, lacking, strict=True)
    ]
    raw = replace(raw, flights=tuple(flights))
    results = score(build_event(raw))
    (one,) = [
        m for m in results.matters if m.kind.name == "no-log" and m.pilots == (3,)
    ]
    rows = [RawRow(fields=row) for row in rows_of(one, why="lost", by="A", at="")]
    event = build_event(replace(raw, accepted=tuple(rows) if accepted else ()))
    tree = read_results(to_json(score(event)), "results.json")
    told = [m["pilots"] for m in tree["matters"] if m["kind"] == "no-log"]
    assert sorted(told) == ([[1], [3], [5, 6]] if accepted else [[1], [3, 5, 6]])
    assert verify(tree) == []


def test_results_without_rows_are_those_of_an_older_version(text):
    tree = tree_of(text)
    del tree["entered"], tree["statements"]
    assert verify(tree) == []


def test_of_random_changes_most_are_found_without_any_digest(text):
    """What is missed stands once: names, remarks and times of rows, which logs there were."""
    noticed, missed = count(text, 60, seed=21, digests=False)
    assert noticed >= 54, missed
    assert [path for _, path in missed if not stands_once(path)] == []


def step(tree, pilot, kind, task=0):
    """Return a step of a pilot's score."""
    return next(s for s in score_of(tree, pilot, task)["steps"] if s["kind"] == kind)


def score_of(tree, pilot, task=0):
    """Return a pilot's score."""
    return next(s for s in tree["tasks"][task]["scores"] if s["pilot"] == pilot)


def of_finding(tree, kind="floor"):
    """Return the first infringement of a kind."""
    return next(f for f in tree["findings"] if f["kind"] == kind)


def entered(tree, table, **fields):
    """Change the first row of a table."""
    tree["entered"][table][0].update(fields)


FORGED = {
    "a decision nobody made": lambda t: of_finding(t).update(ruling="waive"),
    "a decision taken out": lambda t: t["entered"]["rulings"].clear(),
    "another reason": lambda t: entered(t, "rulings", reason="none"),
    "another director": lambda t: entered(t, "rulings", by="Nobody"),
    "a decision on another pilot": lambda t: entered(t, "rulings", pilot="5"),
    "a report of somebody else": lambda t: entered(t, "reports", by="Nobody"),
    "a report of something else": lambda t: entered(t, "reports", kind="low"),
    "a report taken out": lambda t: t["entered"]["reports"].clear(),
    "a flight of another name": lambda t: entered(t, "reports", flight="third"),
    "a pilot nobody entered": lambda t: t["entered"]["pilots"].pop(),
    "a pilot who had left": lambda t: t["entered"]["pilots"][0].update(leaves=1),
    "a guest among the ranked": lambda t: t["entered"]["pilots"][0].update(
        competes=False
    ),
    "another declared goal": lambda t: step(t, 3, "declared-goal", 1).update(
        goal="home"
    ),
    "a goal that was not declared": lambda t: [
        row.update(goal="centre") for row in t["entered"]["declarations"]
    ],
    "a target elsewhere": lambda t: t["entered"]["places"][0].update(
        lat=Fraction("48.602")
    ),
    "a mark elsewhere": lambda t: score_of(t, 4)["marks"][0].update(
        lat=Fraction("48.6018")
    ),
    "a step taken out": lambda t: score_of(t, 4)["steps"].pop(),
    "a leg taken out": lambda t: score_of(t, 4)["steps"].remove(step(t, 4, "leg")),
    "steps in another order": lambda t: score_of(t, 4)["steps"].reverse(),
    "a kind of step there is not": lambda t: step(t, 4, "leg").update(kind="legs"),
    "a leg to another place": lambda t: step(t, 4, "leg").update(end_place="here"),
    "an area of another name": lambda t: step(t, 4, "inside-area").update(
        areas=[{"place": "here"}]
    ),
    "an entry said otherwise": lambda t: step(t, 4, "step-entered")["entry"].update(
        distance_m=Fraction("6.41")
    ),
    "a penalty said otherwise": lambda t: step(t, 6, "step-penalty")["amount"].update(
        most_number=400
    ),
    "a penalty's reason said otherwise": lambda t: step(t, 6, "step-penalty")[
        "ruling"
    ].update(parts=["ruling-apply"]),
    "the minimum height": lambda t: of_finding(t).update(limit=Fraction(20)),
    "the lowest height": lambda t: of_finding(t).update(measured=Fraction(12)),
    "how long it lasted": lambda t: of_finding(t).update(duration_s=Fraction(30)),
    "units over the limit": lambda t: [
        c["figures"]["parts"][0].update(
            units=Fraction(35), each_points=Fraction(36, 35)
        )
        for f in t["findings"]
        for c in f["charges"]
        if "parts" in c["figures"]
    ],
    "its log of another pilot": lambda t: t["flights"][0]["logs"][5].update(pilot=2),
    "settled where it is open": lambda t: score_of(t, 5).update(settled=True),
    "open where it is settled": lambda t: score_of(t, 4).update(settled=False),
    "places that are not sure": lambda t: score_of(t, 4).update(rank_range=[1, 3]),
    "a rank of the points": lambda t: (
        step(t, 1, "points-by-rank", 1).update(rank_number=5)
        if any(s["kind"] == "points-by-rank" for s in score_of(t, 1, 1)["steps"])
        else score_of(t, 1, 1).update(rank=7)
    ),
    "a time that is none": lambda t: of_finding(t).update({"from": "early"}),
    "a log that nobody has": lambda t: t["flights"][0]["logs"].pop(1),
    "two logs changed over": lambda t: t["flights"][0]["logs"][1].update(pilot=3),
    "evidence of another report": lambda t: of_finding(t, "ground-contact").update(
        evidence="reports.csv (Nobody, 06:15:42); logs/001.igc"
    ),
    "a contact at another height": lambda t: of_finding(t, "ground-contact").update(
        measured=Fraction(1)
    ),
    "a rule of another height": lambda t: of_finding(t)["rule"].update(
        value_height_m=Fraction(30)
    ),
    "an entry nobody can read": lambda t: score_of(t, 4)["marks"][0]["keyings"][0][
        "fields"
    ].update(distance="6x41"),
    "a coordinate nobody can read": lambda t: score_of(t, 2)["marks"][0]["keyings"][0][
        "fields"
    ].update(northing="538a551.9"),
    "a goal at other coordinates": lambda t: step(t, 3, "declared-goal", 1)["means"][0][
        "at"
    ].update(east_number=Fraction(299710)),
    "a goal that nobody declared": lambda t: step(t, 3, "leg", 1)["end"].update(
        goal="north well"
    ),
    "a place of another name": lambda t: t["entered"]["places"][0].update(name="here"),
    "other decimals": lambda t: t["tasks"][0]["rules"].update(decimals=3),
    "a rule there is not": lambda t: t["tasks"][0]["rules"].update(ties="any"),
    "a rule taken out": lambda t: t["tasks"][0]["rules"].pop("parted_by"),
    "a mark surer than it is": lambda t: score_of(t, 4).update(sigma=Fraction(1, 1000)),
    "scores in another order": lambda t: t["tasks"][0]["scores"].reverse(),
    "a gap that is none": lambda t: step(t, 5, "step-entries-open")["why"][0].update(
        gap_exact_m=Fraction(9)
    ),
    "a kind of statement doubled": lambda t: t["statements"]["kinds"]["leg"].append(
        t["statements"]["kinds"]["leg"][0]
    ),
    "a matter closed elsewhere": lambda t: t["matters"][0].update(closes="nowhere"),
    "a pilot entered twice": lambda t: t["entered"]["pilots"].append({"number": 6}),
    "a hash that is none": lambda t: t["flights"][0]["logs"][0].update(sha256="1"),
    "a task in another unit": lambda t: t["tasks"][0].update(unit="km"),
    "an infringement in another unit": lambda t: of_finding(t).update(unit="s"),
    "an infringement of another rule": lambda t: of_finding(t)["rule"].update(
        rule="contact.within"
    ),
    "a decision by another rule": lambda t: entered(
        t, "rulings", rule="contact.within"
    ),
    "entries that differ as one": lambda t: score_of(t, 5)["marks"][0].update(
        state="once"
    ),
    "an exact text taken out": lambda t: score_of(t, 4).update(measured_exact=None),
    "an exact text of nothing": lambda t: score_of(t, 5).update(measured_exact="6.4"),
    "a sigma of nothing": lambda t: score_of(t, 5).update(sigma=Fraction(1, 100)),
    "the rows taken out": lambda t: t.pop("entered"),
    "a flight taken out": lambda t: t["flights"].pop(),
    "an open infringement not told": lambda t: [
        m["evidence"].clear() for m in t["matters"] if m["kind"] == "unruled"
    ],
    "matters in another order": lambda t: t["matters"].reverse(),
    "a mark there is not": lambda t: t["matters"][0].update(mark="x"),
    "half a place": lambda t: of_finding(t).update(lat=None),
    "a target nowhere": lambda t: t["entered"]["tasks"][0].update(targets=["here"]),
    "a step said twice": lambda t: step(t, 3, "declared-goal", 1)["means"].append(
        step(t, 3, "declared-goal", 1)["means"][0]
    ),
    "a time on no clock": lambda t: entered(t, "declarations", time="06:90"),
    "a system there is not": lambda t: t["entered"].update(
        reference_system="EPSG132642"
    ),
}


@pytest.mark.parametrize("way", FORGED)
def test_a_forger_who_mends_the_digests_is_found(text, way):
    tree = tree_of(text)
    before = copy.deepcopy(tree)
    FORGED[way](tree)
    assert tree != before
    assert found(tree, digests=False)


SCORES = """task,pilot,finding,decision,amount,unit,rule,reason,by,at
1,1,,impose,50,task points,R 9,late,Jo,2026-06-01 10:03
1,2,,bonus,30,task points,R 1,blocked,Jo,2026-06-01 10:05
1,3,,result,1.5,metres,4,marker taken,Jury,2026-06-01 12:10
1,4,,impose,2,metres,R 2,late,Jo,2026-06-01 12:12
,4,,bonus,20,event points,5,redress,Jo,2026-06-01 12:13
"""
FOUR = """task,pilot,method,distance,by,time
1,1,tape,1 m,K,07:01
1,2,tape,2 m,K,07:02
1,3,tape,3 m,K,07:03
1,4,tape,4 m,K,
"""


@pytest.fixture(scope="module")
def changed_scores():
    """Publish scores that people changed in every way: given, less, more."""
    event = tiny(tiny_flight(marks=FOUR, rulings=SCORES))
    tree = tree_of(to_json(score(event)))
    assert verify(tree) == []
    rows = [{"bare": "m", **row} for row in csv.DictReader(io.StringIO(FOUR))]
    assert verify(tree, rows) == []
    return tree


OTHERWISE = {
    "no amount": lambda t: t["entered"]["rulings"][0].pop("amount"),
    "an amount nobody can read": lambda t: t["entered"]["rulings"][1].update(
        amount="3Z"
    ),
    "another result": lambda t: t["entered"]["rulings"][2].update(amount="2.5"),
    "another moment": lambda t: t["entered"]["rulings"][2].update(
        at="2026-06-02 12:10"
    ),
    "no such row": lambda t: t["entered"]["rulings"].pop(2),
    "a unit there is not": lambda t: t["entered"]["rulings"][2].update(unit="metrs"),
    "no moment in the step": lambda t: step(t, 3, "step-result-given")["ruling"][
        "parts"
    ].pop(2),
    "metres said otherwise": lambda t: step(t, 4, "step-result-more").update(
        penalty_m=3
    ),
    "a bonus said otherwise": lambda t: step(t, 2, "step-score-more").update(
        bonus_points=29
    ),
    "a decision that does not count": lambda t: score_of(t, 1)["charges"][0].update(
        counts=False, amount=0
    ),
    "figures of nothing": lambda t: t["event_charges"][0].update(figures=1),
    "an infringement there is not": lambda t: t["event_charges"][0].update(finding="x"),
    "steps changed over": lambda t: score_of(t, 4)["steps"].insert(
        4, score_of(t, 4)["steps"].pop(5)
    ),
    "a distance of no tape": lambda t: score_of(t, 1)["marks"][0].update(
        distance_m=Fraction(11)
    ),
    "a time of an entry": lambda t: step(t, 1, "step-entered")["entry"].update(
        at_time_s=1_780_297_261
    ),
    "a time on no clock": lambda t: score_of(t, 1)["marks"][0]["keyings"][0][
        "fields"
    ].update(time="07001"),
    "a mark in another year": lambda t: score_of(t, 1)["marks"][0].update(
        time="2126-06-01T07:01:00Z"
    ),
    "what counts": lambda t: t["standings"][0].update(counted=[]),
    "a result beside points": lambda t: t["standings"][0].update(result=1),
}


@pytest.mark.parametrize("way", OTHERWISE)
def test_what_people_changed_follows_from_their_decisions(changed_scores, way):
    tree = copy.deepcopy(changed_scores)
    OTHERWISE[way](tree)
    assert found(tree, digests=False)


RACED = {
    "a start elsewhere": lambda t: way_of(t)["start_at"].update(
        lat_position_deg=Fraction("40.7")
    ),
    "a place there is not": lambda t: way_of(t).update(start_place="9"),
    "a landing elsewhere": lambda t: way_of(t)["end_at"].update(
        lat_position_deg=Fraction("41.001")
    ),
    "another way": lambda t: way_of(t).update(distance_distance_m=Fraction(38772)),
    "another result": lambda t: step(t, 1, "step-result").update(
        result_race_m=Fraction(38774)
    ),
    "steps changed over": lambda t: score_of(t, 1)["steps"].insert(
        0, score_of(t, 1)["steps"].pop(2)
    ),
    "no way of measuring": lambda t: score_of(t, 1)["steps"].pop(1),
    "half a coordinate": lambda t: score_of(t, 1)["marks"][0]["keyings"][0][
        "fields"
    ].pop("lat"),
    "no targets": lambda t: t["entered"]["places"].clear(),
    "no teams": lambda t: t.pop("team_standings"),
    "a team of more": lambda t: t["team_standings"][0].update(members=3),
    "more of a team counting": lambda t: t["standings_rules"].update(team_size=2),
    "what counts": lambda t: t["standings"][0].update(counted=[1]),
}


def way_of(tree):
    """Return the way that a pilot of a race flew."""
    return step(tree, 1, "great-distance")


@pytest.fixture(scope="module")
def raced():
    """Publish a race of two stages."""
    tree = tree_of(to_json(race.race()))
    assert verify(tree) == []
    return tree


@pytest.mark.parametrize("way", RACED)
def test_a_race_follows_from_its_places_and_landings(raced, way):
    tree = copy.deepcopy(raced)
    RACED[way](tree)
    assert found(tree, digests=False)


CLASSES = (
    "number,name,class,club\n1,Ann,sport,Larks\n2,Bob,novice,Larks\n3,Cy,sport,Owls\n"
)
TAPED = (
    "task,pilot,method,distance,by\n1,1,tape,1 m,K\n1,2,tape,2 m,K\n1,3,tape,3 m,K\n"
)
RANKED = """[standings]
by_class = true
team_column = "club"
team_size = 1
"""


@pytest.fixture(scope="module")
def ranked():
    """Publish classes and teams."""
    event = tiny(tiny_flight(marks=TAPED), pilots=CLASSES, rules=RANKED)
    tree = tree_of(to_json(score(event)))
    assert verify(tree) == []
    return tree


MOVED = {
    "a pilot in another class": lambda t: t["entered"]["pilots"][1].update(
        {"class": "sport"}
    ),
    "a pilot in another team": lambda t: t["entered"]["pilots"][2].update(team="Larks"),
    "a team that counts another one": lambda t: t["team_standings"][0].update(
        pilots=[2], total=t["standings"][1]["total"]
    ),
    "a team taken out": lambda t: t["team_standings"].pop(),
    "a class taken out": lambda t: t["class_standings"].pop("novice"),
}


@pytest.mark.parametrize("way", MOVED)
def test_classes_and_teams_follow_from_the_roster(ranked, way):
    tree = copy.deepcopy(ranked)
    MOVED[way](tree)
    assert verify(tree)


def test_a_pilot_without_a_class_is_in_none(ranked):
    """A roster may leave the class empty: that is asked about, and no fault of the file."""
    pilots = CLASSES.replace("novice", "")
    event = tiny(tiny_flight(marks=TAPED), pilots=pilots, rules=RANKED)
    assert verify(read_results(to_json(score(event)), "results.json")) == []


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (
            {"method": "tape", "distance": "40 ft 3 in", "by": "K"},
            {"kind": "entry-tape", "by": "K", "distance_m": Fraction("12.2682")},
        ),
        (
            {"method": "polar", "distance": "2 m", "bearing": "360 T", "from": "post"},
            {
                "kind": "entry-bearing",
                "by": "somebody",
                "distance_m": 2,
                "bearing_bearing_deg": 0,
                "start_place": "post",
            },
        ),
        ({"method": "tape", "distance": "twelve"}, None),
        ({"method": "log", "time": "07:00"}, None),
    ],
)
def test_entries_are_read_by_a_reader_of_its_own(row, told):
    assert read_entry(row, "metric") == told


@settings(max_examples=60)
@given(
    st.floats(-80, 80),
    st.floats(-179, 179),
    st.floats(0, 360),
    st.floats(1, 500_000),
)
def test_its_geodesics_are_those_of_a_general_library(lat, lon, bearing, metres):
    east, north, _ = GEOD.fwd(lon, lat, bearing, metres)
    own = line(GlobePoint(lat, lon), GlobePoint(north, east))
    assert own.length_m == pytest.approx(metres, abs=1e-3)
    assert abs((own.bearing_deg - bearing + 180) % 360 - 180) * metres < 0.1


@pytest.mark.parametrize("code", ["EPSG:32642", "EPSG:32719", "EPSG:25830"])
@settings(max_examples=25)
@given(lat=st.floats(0.5, 70), off=st.floats(-3, 3))
def test_its_grid_is_that_of_a_general_library(code, lat, off):
    """The rest of the series from the fourth power of n on is under a tenth of a mm."""
    grid = grid_of(code)
    spot = GlobePoint(-lat if grid.south else lat, grid.meridian_deg + off)
    turn = Transformer.from_crs(CRS("EPSG:4326"), CRS(code), always_xy=True)
    east, north = turn.transform(spot.lon, spot.lat)
    assert grid.of(spot) == pytest.approx((east, north), abs=1e-3)


@pytest.mark.parametrize(
    ("text", "bare", "metres"),
    [
        ("38 4.5", "ft", Fraction("11.6967")),
        ("41' 7 1/4\"", "m", Fraction("12.68095")),
        ("12,5", "m", Fraction("12.5")),
        ("1 1/2 yards", "m", Fraction("1.3716")),
        ("2½ ft", "m", Fraction("0.762")),
        ("5 miles", "m", Fraction("8046.72")),
        ("2aa91 m", "m", None),
        ("2,91zz m", "m", None),
        ("m", "m", None),
        ("", "m", None),
    ],
)
def test_every_spelling_of_a_length_is_read_as_the_engine_reads_it(text, bare, metres):
    """The engine's reader is the one held against it: no two spellings part them."""
    assert taped_m(text, bare) == metres
    if metres is None:
        with pytest.raises(Unreadable):
            length_m(text, bare)
    else:
        assert length_m(text, bare) == pytest.approx(float(metres))


def test_a_system_that_it_does_not_know_is_left_alone():
    assert grid_of("EPSG:2154") is None
    assert grid_of("EPSG:32700") is None
    assert grid_of("somewhere") is None


SET = """task,pilot,decision,amount,unit,rule,reason,by,at
1,2,score,1200,,4,the jury,Eva,10:00
1,3,impose,10,task points,R 1,late,Eva,2026-09-12 10:00
"""


def test_scores_that_people_set_at_a_time_of_their_own_writing_hold():
    """A clock alone comes back with its day: that is no other decision."""
    event = tiny(tiny_flight(marks=TAPED, rulings=SET), pilots=CLASSES)
    tree = tree_of(to_json(score(event)))
    assert verify(tree) == []
    score_of(tree, 2)["steps"][-1]["ruling"]["parts"][1]["who"] = "Nobody"
    assert any("score that was set" in str(told) for told in verify(tree))


def test_marks_of_a_target_that_was_moved_are_held_against_no_one_place():
    results = target_log.moved(target_log.PLACED)
    assert verify(read_results(to_json(results), "results.json")) == []


def neighbour(pilot, rank, result, sigma, *, taped):
    """One result of a task as results.json has it, as far as its place goes."""
    exact = str(result) if taped else None
    return {
        "pilot": pilot,
        "group": "A",
        "field": "",
        "rank": rank,
        "rank_range": [1, 2],
        "result": Fraction(str(result)),
        "result_unit": "m",
        "measured_exact": exact,
        "sigma": sigma,
    }


@pytest.mark.parametrize(("taped", "told"), [(True, 1), (False, 0)])
def test_a_mark_measured_by_a_bearing_may_lie_farther_than_measured(taped, told):
    """Four metres beside its ray make it 8/26.1 m farther on average."""
    scores = [
        neighbour(250, 1, 26.11, 0.1472, taped=taped),
        neighbour(96, 2, 26.14, 0.0231, taped=True),
    ]
    pairs = [{"better": 250, "worse": 96, "chance": 0.669}]
    task = {"scores": scores, "remeasure": pairs, "best": "smallest"}
    assert len(list(check_remeasure("task 1", task))) == told
    ranges = {**task, "rules": {"decimals": 2}}
    assert list(check_spread("task 1", ranges, scores)) == []


def test_matters_of_the_same_words_stand_in_the_order_of_their_warnings():
    def warning(text):
        return {"kind": "log", "flight": "f", "task": None, "says": text}

    def matter(text):
        own = {"values": [], "blocks": "official", "accepted": None}
        return {**warning(text), **own}

    texts = ["a", "b", "a", "c", "a"]
    results = {"warnings": [warning(t) for t in texts]}
    results["matters"] = [matter(t) for t in texts]
    assert list(_check_order_told(results)) == []
    results["matters"] = [matter(t) for t in ("b", "a", "a", "c", "a")]
    assert len(list(_check_order_told(results))) == 1


@pytest.mark.parametrize("best_of", ["", "\n[standings]\nbest_of = 2\n"])
def test_tasks_flown_in_another_order_than_their_numbers_follow_from_each_other(
    best_of,
):
    """The first flight has tasks 1 and 4, the second 2 and 3, as events number them."""
    flights = []
    for name, day, numbers in (
        ("a", "2026-06-01", (1, 4)),
        ("b", "2026-06-02", (2, 3)),
    ):
        own = "".join(FIN.replace("number = 1", f"number = {n}") for n in numbers)
        marks = "task,pilot,method,distance,by\n" + "".join(
            f"{n},{pilot},tape,{pilot} m,K\n" for n in numbers for pilot in (1, 2, 3, 4)
        )
        flights.append(tiny_flight(name, tasks=own, marks=marks, day=day))
    results = score(tiny(*flights, rules=RULES + best_of))
    assert [task.task for task in results.tasks] == [1, 4, 2, 3]
    assert verify(read_results(to_json(results), "results.json")) == []
