"""The safety check: what is asked before flying, and that it clears nothing.

Sun: on 1 June 2026 at 40.65 N, 3 W the sun rises at about 04:51 and sets at about 19:43 UTC
(sunrise equation by hand, with a declination of 22 degrees, within five minutes).
"""

import json

import pytest

from scorer.cli.main import main
from scorer.event import matters
from scorer.event.build import build_event
from scorer.event.folder import write_folder
from scorer.geodesy.site import Site
from scorer.scoring.safety import unsafe
from scorer.scoring.score import score
from tests.helpers import said
from tests.scorer.tiny import FIN, PLACES, place, tiny, tiny_flight, tiny_raw, wgs84

HEIGHT = 'book = "festival"\ncontact.within = "scoring-area"\nfloor.within = "none"\n'
FAIR = 'floor.penalty = { unit = "task points", per = 10, of = "ft" }\n'


def told(rules=HEIGHT + FAIR, tasks=FIN, places=PLACES):
    raw = tiny_raw(tiny_flight(tasks=tasks), rules=rules)
    event = build_event(raw.__class__(**{**_fields(raw), "places": places}))
    return {m.says.kind: m for m in unsafe(event)}


def _fields(raw):
    return {name: getattr(raw, name) for name in raw.__dataclass_fields__}


def hours(launch, scoring):
    return (
        f"{FIN}launch_period = {json.dumps(launch)}\n"
        f"scoring_period = {json.dumps(scoring)}\n"
    )


def test_an_ordinary_event_has_nothing_to_look_at():
    assert told(tasks=hours(["05:10", "06:00"], ["05:30", "19:20"])) == {}


@pytest.mark.parametrize(
    ("launch", "scoring", "kinds"),
    [
        (["02:00", "06:00"], ["05:30", "08:00"], {"launch-in-the-dark"}),
        (["04:30", "06:00"], ["05:30", "08:00"], {"launch-in-the-dark"}),
        (["18:00", "18:30"], ["18:00", "20:10"], {"landing-in-the-dark"}),
        (["18:00", "18:30"], ["18:00", "23:30"], {"landing-in-the-dark"}),
    ],
)
def test_launch_or_landing_in_the_dark(launch, scoring, kinds):
    assert told(tasks=hours(launch, scoring)).keys() == kinds


def test_what_the_night_rule_allows_is_not_dark():
    rules = HEIGHT + FAIR + 'night.before_sunrise = "30 min"\n'
    assert told(rules, hours(["04:30", "06:00"], ["05:30", "08:00"])) == {}


@pytest.mark.parametrize(
    ("rules", "kind"),
    [
        ('floor.height = "0 ft"\n', "minimum-of-nothing"),
        ('floor.tolerance = "75 ft"\n', "tolerance-eats-minimum"),
        ('floor.tolerance = "30 m"\n', "tolerance-eats-minimum"),
        ('floor.least_time = "1 h"\n', "least-time-long"),
        ('floor.least_time = "11 s"\n', "least-time-long"),
    ],
)
def test_a_minimum_height_that_holds_nothing_up(rules, kind):
    assert told(HEIGHT + FAIR + rules).keys() == {kind}


@pytest.mark.parametrize(
    ("penalty", "points"),
    [
        ('{ unit = "task points", per = 1, of = "ft", cap = 500 }', 38),  # 37.5 ft
        ('{ unit = "task points", base = 60, per = 1, of = "ft" }', 98),
        ('{ unit = "task points", base = 62, per = 1, of = "ft" }', None),  # 99.5
        ('{ unit = "no result" }', None),
        (
            '[{ unit = "task points", base = 60 }, { unit = "event points", base = 40 }]',
            None,
        ),
    ],
)
def test_low_flight_that_pays_is_told(penalty, points):
    found = told(f"{HEIGHT}floor.penalty = {penalty}\n")
    assert (found["low-flight-pays"].says.get("points") if found else None) == points


def test_the_festival_book_asks_for_the_scale_instead_of_choosing_one():
    event = tiny(tiny_flight(), rules=HEIGHT)
    asked = [m for m in score(event).matters if m.says.kind == "rule-unanswered"]

    assert [m.says.get("rule") for m in asked] == ["floor.penalty"]
    assert asked[0].holds_up
    assert not event.book.floor.penalty


def line(name, kind, *corners, **properties):
    own = {"name": name, "kind": kind, **properties}
    geometry = {"type": "LineString", "coordinates": [wgs84(*c) for c in corners]}
    if len(corners) == 1:
        geometry = {"type": "Point", "coordinates": wgs84(*corners[0])}
    return {"type": "Feature", "properties": own, "geometry": geometry}


@pytest.mark.parametrize(
    ("feature", "kinds"),
    [
        (place("zone", "prohibited", (-9, -9), (9, -9), (9, 9)), {"within-forbidden"}),
        (
            place("zone", "prohibited", (700, 0), (900, 0), (900, 90)),
            {"near-forbidden"},
        ),
        (place("zone", "prohibited", (4000, 0), (4100, 0), (4100, 90)), set()),
        (line("wires", "power-line", (700, -900), (700, 900)), {"near-forbidden"}),
        (
            line("wires", "power-line", (-900, 30), (900, 30)),
            {"within-forbidden", "near-forbidden"},
        ),
        (line("mast", "obstacle", (0, 800), height_m=60), {"near-forbidden"}),
        (line("mast", "obstacle", (0, 9000)), set()),
    ],
)
def test_what_stands_near_a_target_or_scoring_area_is_told(feature, kinds):
    assert told(places=(*PLACES, feature)).keys() == kinds


def test_what_lies_on_the_way_from_the_launch_area_is_told():
    start = place(
        "start", "launch-area", (4000, -50), (4100, -50), (4100, 50), (4000, 50)
    )
    across = line("wires", "power-line", (2000, -300), (2000, 300))
    aside = line("other", "power-line", (2000, 900), (2000, 1300))
    places = (*PLACES, start, across, aside)

    found = told(places=places)
    assert found.keys() == {"on-the-way"}
    assert found["on-the-way"].says.get("place") == "wires"


def test_high_airspace_is_not_in_the_way():
    high = place("airway", "prohibited", (-9, -9), (9, -9), (9, 9))
    high["properties"]["lower_m"] = 1500
    assert told(places=(*PLACES, high)) == {}


def test_a_line_becomes_a_strip_of_its_length_and_twenty_metres():
    """By hand: 1000 m by 20 m and two half discs of 10 m: 20 314 m2, within 2 %."""
    wires = line("wires", "power-line", (2000, 0), (2000, 1000))
    raw = tiny_raw(tiny_flight())
    event = build_event(raw.__class__(**{**_fields(raw), "places": (*PLACES, wires)}))

    assert Site.of(event).area("wires").area == pytest.approx(20_314, rel=0.02)


def test_cautions_can_be_accepted_by_name_and_defer_to_those_who_decide(
    tmp_path, capsys
):
    rules = HEIGHT + FAIR + 'floor.tolerance = "75 ft"\n'
    raw = tiny_raw(tiny_flight(), rules=rules)
    matter = unsafe(build_event(raw))[0]
    assert matter.kind is matters.SAFETY
    assert matter.kind.acceptable
    assert said(matter.says).startswith("Safety: ")

    write_folder(raw, tmp_path / "event")
    assert main(["check", str(tmp_path / "event")]) == 0
    out = capsys.readouterr().out
    assert "no height breaks the rule" in out
    assert "licensed pilots" in out
