"""The safety check: what is asked before flying, and that it clears nothing.

Sun: on 1 June 2026 at 40.65 N, 3 W the sun rises at about 04:51 and sets at about 19:43 UTC
(sunrise equation by hand, with a declination of 22 degrees, within five minutes).
"""

import json

import pytest

from scorer.cli.main import main
from scorer.event import matters
from scorer.event.acceptances import rows_of
from scorer.event.build import build_event
from scorer.event.folder import write_folder
from scorer.event.raw import RawRow
from scorer.geodesy.site import Site
from scorer.scoring.safety import titled, unsafe
from scorer.scoring.score import score
from scorer.sheets.maps import areas_of
from scorer.sheets.scene import Label
from scorer.sheets.task_sheet import flight_area
from scorer.words.voice import Voice
from tests.helpers import said
from tests.scorer.tiny import FIN, PLACES, place, tiny, tiny_flight, tiny_raw, wgs84

HEIGHT = (
    'book = "festival"\ncontact.within = "scoring-area"\nfloor.within = "none"\n'
    'publication.complaint_time = "2 h"\n'
)
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


def test_without_a_minimum_height_nothing_is_asked_about_it():
    event = tiny(tiny_flight(), rules='floor.height = "none"\n')
    asked = [m for m in score(event).matters if m.says.kind == "rule-unanswered"]
    rules = [str(m.says.get("rule")) for m in asked]
    assert rules
    assert not [rule for rule in rules if rule.startswith("floor.")]


def line(name, kind, *corners, **properties):
    own = {"name": name, "kind": kind, **properties}
    geometry = {"type": "LineString", "coordinates": [wgs84(*c) for c in corners]}
    if len(corners) == 1:
        geometry = {"type": "Point", "coordinates": wgs84(*corners[0])}
    return {"type": "Feature", "properties": own, "geometry": geometry}


@pytest.mark.parametrize(
    ("feature", "kinds"),
    [
        (
            place("zone", "prohibited", (-9, -9), (9, -9), (9, 9)),
            {"within-forbidden", "overlaps-forbidden"},
        ),
        (
            place(
                "zone", "prohibited", (-900, -900), (900, -900), (900, 900), (-900, 900)
            ),
            {"within-forbidden"},
        ),
        (
            place("zone", "prohibited", (700, 0), (900, 0), (900, 90)),
            {"near-forbidden"},
        ),
        (place("zone", "prohibited", (4000, 0), (4100, 0), (4100, 90)), set()),
        (line("wires", "power-line", (700, -900), (700, 900)), {"near-forbidden"}),
        (
            line("wires", "power-line", (-900, 30), (900, 30)),
            {"overlaps-forbidden", "near-forbidden"},
        ),
        (line("mast", "obstacle", (0, 800), height_m=20), {"near-forbidden"}),
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
    assert said(titled(matter)).startswith("Safety: ")

    folder = str(tmp_path / "event")
    write_folder(raw, tmp_path / "event")
    assert main(["check", folder]) == 0
    out = capsys.readouterr().out
    assert out.count("no height breaks the rule") == 1
    assert "acknowledges each point by name" in out
    assert "licensed pilots" in out

    main(["open-matters", folder, "--all"])
    number = _number_of("no height breaks", capsys.readouterr().out)
    main(["accept", folder, number, "--by", "Calix", "--why", "observers decide"])
    assert "acknowledged by Calix" in capsys.readouterr().out
    assert main(["check", folder]) == 0
    out = capsys.readouterr().out
    assert "breaks the rule. (acknowledged by Calix, " in out
    assert "observers decide" in out
    assert "acknowledges each point by name" not in out


def _number_of(text, out):
    line = next(line for line in out.splitlines() if text in line)
    return line.split(".")[0].strip()


def test_an_acknowledgement_is_of_what_was_so_then():
    rules = HEIGHT + FAIR + 'floor.tolerance = "75 ft"\n'
    raw = tiny_raw(tiny_flight(), rules=rules)
    (matter,) = unsafe(build_event(raw))
    cells = rows_of(matter, why="observers decide", by="Calix", at="2026-06-01 04:00")
    rows = tuple(RawRow(fields=row) for row in cells)
    known = {**_fields(raw), "accepted": rows}
    (seen,) = unsafe(build_event(raw.__class__(**known)))
    assert seen.accepted.by == "Calix"

    wider = rules.replace("75 ft", "80 ft")
    other = _fields(tiny_raw(tiny_flight(), rules=wider))
    (seen,) = unsafe(build_event(raw.__class__(**{**other, "accepted": rows})))
    assert seen.accepted is None


def test_what_stands_higher_than_the_minimum_height_is_told_with_its_height():
    rules = HEIGHT + FAIR
    mast = line("mast", "obstacle", (0, 9000), height_m=60)
    low = line("shed", "obstacle", (0, 9500), height_m=6)
    found = told(rules, places=(*PLACES, mast, low))
    assert found.keys() == {"higher-than-minimum"}
    own = found["higher-than-minimum"]
    assert own.says.get("place") == "mast"
    assert "60.0 m high" in said(own)

    near = line("mast", "obstacle", (0, 800), height_m=60)
    assert "(Obstacle, 60.0 m high)" in said(
        told(places=(*PLACES, near))["near-forbidden"]
    )


def test_a_height_is_no_less_than_nothing():
    mast = line("mast", "obstacle", (0, 800), height_m=-3)
    with pytest.raises(Exception, match="height_m"):
        told(places=(*PLACES, mast))


def test_maps_draw_and_name_what_stands_in_the_way_without_going_there():
    wires = line("wires", "power-line", (-400, 60), (400, 60), height_m=30)
    far = line("mast", "obstacle", (0, 90_000), height_m=60)
    raw = tiny_raw(tiny_flight(), rules=HEIGHT + FAIR)
    event = build_event(
        raw.__class__(**{**_fields(raw), "places": (*PLACES, wires, far)})
    )
    flight = event.flights[0]
    names = {p.name for p in areas_of(event, flight.tasks)}
    assert {"wires", "mast"} <= names
    scene = flight_area(event, flight, Voice.of(event))
    labels = {s.text for s in scene.shapes if isinstance(s, Label)}
    assert "wires, 30.0 m" in labels
    assert "mast, 60.0 m" not in labels
