"""A race without points: stages of a gas race add up, worked by hand."""

import json
from dataclasses import replace

import pytest

from scorer.event import matters
from scorer.geodesy.geodesic import geodesic_inverse
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.verify import read_results, verify
from tests.helpers import said
from tests.scorer.tiny import rows, tiny, tiny_flight, wgs84

RACE = """book = "gas-race"
publication.complaint_time = "12 h"
standings.by_class = true
standings.team_column = "team"
standings.team_size = 1
"""
HEAD = "task,pilot,method,lat,lon,by\n"


def stage(number, landings, *, state="flown"):
    """One stage from T: pilots' landings as (lat, lon); None = not known."""
    task = (
        f'[[task]]\nnumber = {number}\nkind = "GAS"\ntarget = "T"\nstate = "{state}"\n'
    )
    lines = [
        f"{number},{pilot},latlon,{spot[0]},{spot[1]},Eva"
        if spot
        else f"{number},{pilot},none,,,Eva"
        for pilot, spot in landings.items()
    ]
    return tiny_flight(f"s{number}", tasks=task, marks=HEAD + "\n".join(lines) + "\n")


FIRST = {1: (41.0, -3.0), 2: (42.0, -3.0), 3: (41.0, -2.0), 4: None}
SECOND = {1: (43.0, -3.0), 2: (41.5, -3.0), 3: None, 4: (41.0, -3.0)}


def flown_m(spot):
    lon, lat = wgs84(0, 0)
    return round(float(geodesic_inverse(lat, lon, *spot)[0]))


def race(**changes):
    return score(tiny(stage(1, FIRST), stage(2, SECOND), rules=RACE, **changes))


def agrees(results):
    return verify(read_results(to_json(results), "results.json")) == []


def test_the_stages_of_a_race_add_up_and_the_greatest_sum_wins():
    results = race()

    sums = {
        pilot: sum(flown_m(s[pilot]) for s in (FIRST, SECOND) if s[pilot])
        for pilot in FIRST
    }
    got = [(r.rank, r.pilot, r.result, r.total) for r in results.standings.rows]
    # From 40.65° N a degree of latitude is some 111 km: 1 flew 39 + 261 km, 2 flew
    # 150 + 94 km, 3 flew 93 km once, 4 flew 39 km once.
    assert [pilot for _, pilot, _, _ in got] == [1, 2, 3, 4]
    assert [rank for rank, _, _, _ in got] == [1, 2, 3, 4]
    assert {pilot: value for _, pilot, value, _ in got} == sums
    assert all(total == 0 for *_, total in got)
    assert results.standings.by == "result"
    assert agrees(results)


def test_classes_and_teams_of_a_race_go_by_result_too():
    results = race()

    sevens = next(t for t in results.class_standings if t.title == "AX-7")
    assert [(r.rank, r.pilot) for r in sevens.rows] == [(1, 1), (2, 3)]
    teams = results.team_standings
    assert list(teams.teams.items()) == [("red", (1,)), ("blue", (3,))]
    assert teams.rows[0].result == results.standings.rows[0].result


def test_the_best_stages_alone_may_count():
    results = score(
        tiny(
            stage(1, FIRST),
            stage(2, SECOND),
            rules=RACE + "standings.best_of = 1\n",
        )
    )

    first = results.standings.rows[0]
    assert (first.pilot, first.result) == (1, flown_m(SECOND[1]))
    assert first.counted == (2,)
    assert agrees(results)


def test_a_cancelled_stage_adds_nothing():
    results = score(
        tiny(stage(1, FIRST), stage(2, SECOND, state="cancelled"), rules=RACE)
    )

    assert [r.pilot for r in results.standings.rows] == [2, 3, 1, 4]
    assert results.standings.rows[-1].result is None
    assert agrees(results)


def test_a_penalty_in_metres_shortens_the_race():
    ruling = "task,pilot,finding,decision,amount,unit,rule,reason,by\n"
    ruling += "2,1,,impose,100000,metres,airspace,50 km inside,Ida\n"
    ruled = replace(stage(2, SECOND), rulings=rows(ruling, "rulings.csv"))

    results = score(tiny(stage(1, FIRST), ruled, rules=RACE))

    first = results.standings.rows[0]
    assert first.pilot == 2  # 244 km; pilot 1 keeps 300 − 100 km
    assert agrees(results)


def test_points_cannot_come_off_a_race_and_somebody_is_told():
    ruling = "task,pilot,finding,decision,amount,unit,rule,reason,by\n"
    ruling += "1,1,,impose,100,task points,x,y,Ida\n"
    ruling += ",1,,impose,100,event points,x,y,Ida\n"
    event = tiny(
        tiny_flight(
            "s1",
            tasks='[[task]]\nnumber = 1\nkind = "GAS"\ntarget = "T"\n',
            marks=HEAD + "1,1,latlon,41,-3,Eva\n",
            rulings=ruling,
        ),
        rules=RACE,
    )

    told = [w for w in score(event).matters if w.kind is matters.RULES]

    assert [(w.says.kind, w.task, w.pilots) for w in told] == [
        ("points-penalty-without-points", 1, (1,)),
        ("points-penalty-without-points", None, (1,)),
    ]
    assert all(w.holds_up for w in told)


def test_results_of_unlike_tasks_are_not_added_up():
    fin = '[[task]]\nnumber = 2\nkind = "FIN"\ntarget = "T"\nscoring_area = "area"\n'
    marks = "task,pilot,method,distance,by\n2,1,tape,10,Eva\n"
    event = tiny(stage(1, FIRST), tiny_flight("f2", tasks=fin, marks=marks), rules=RACE)

    results = score(event)

    assert results.standings.by == "points"
    assert any("do not add up" in said(w) for w in results.matters)
    assert agrees(results)


def test_where_the_smallest_is_best_all_results_go_before_some():
    """Two fly-ins without points: 10 + 30 beats 25 + 25, and one result stands behind."""
    fins = "".join(
        f'[[task]]\nnumber = {n}\nkind = "FIN"\ntarget = "T"\nscoring_area = "area"\n'
        for n in (1, 2)
    )
    marks = """task,pilot,method,distance,by
1,1,tape,25,Eva
2,1,tape,25,Eva
1,2,tape,10,Eva
2,2,tape,30,Eva
1,3,tape,1,Eva
2,3,none,,Eva
"""
    rules = 'book = "festival"\npoints.method = "none"\nfloor.height = "none"\n'
    rules += 'floor.within = "none"\ncontact.within = "scoring-area"\n'

    results = score(tiny(tiny_flight(tasks=fins, marks=marks), rules=rules))

    got = [(r.rank, r.pilot, r.result) for r in results.standings.rows]
    assert got == [(1, 2, 40.0), (2, 1, 50.0), (3, 3, 1.0), (4, 4, None)]
    assert agrees(results)


@pytest.mark.parametrize(
    ("path", "change"),
    [
        (("standings", 0, "result"), 1),
        (("standings", 0, "rank"), 1),
        (("standings", 1, "results", "2"), 1),
        (("team_standings", 0, "result"), 1),
        (("class_standings", "AX-7", 0, "rank"), 1),
    ],
)
def test_the_verifier_finds_an_altered_standing(path, change):
    tree = json.loads(to_json(race()))
    place = tree
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] += change

    assert verify(read_results(json.dumps(tree), "results.json"), digests=False)


FAST = """book = "festival"
floor.height = "none"
floor.within = "none"
contact.within = "none"
points.method = "none"
standings.team_column = "team"
"""


@pytest.mark.parametrize(
    ("size", "ranks", "counting"),
    [
        # red: 1 has 5 + 6, 2 only 1; blue: 3 has 20 + 30, 4 has 9 + 9
        (1, {"red": 1, "blue": 2}, {"red": (1,), "blue": (4,)}),
        (2, {"red": 2, "blue": 1}, {"red": (1, 2), "blue": (4, 3)}),
        (None, {"red": 2, "blue": 1}, {"red": (1, 2), "blue": (4, 3)}),
    ],
)
def test_a_team_that_lacks_results_is_not_the_better_for_it(size, ranks, counting):
    task = '[[task]]\nnumber = 1\nkind = "JDG"\ntarget = "T"\n'
    marks = "task,pilot,method,distance\n" + "".join(
        f"{t},{pilot},tape,{m}\n"
        for t, own in enumerate(({1: 5, 2: 1, 3: 20, 4: 9}, {1: 6, 3: 30, 4: 9}), 1)
        for pilot, m in own.items()
    )
    both = task + task.replace("number = 1", "number = 2")
    rules = FAST + (f"standings.team_size = {size}\n" if size else "")
    results = score(tiny(tiny_flight(tasks=both, marks=marks), rules=rules))

    teams = results.team_standings
    names = list(teams.teams)
    assert {names[row.pilot - 1]: row.rank for row in teams.rows} == ranks
    assert teams.teams == counting
    assert agrees(results)
    tree = json.loads(to_json(results))
    for team in tree["team_standings"]:
        team["rank"] = 3 - team["rank"]
    assert verify(read_results(json.dumps(tree), "results.json"))
