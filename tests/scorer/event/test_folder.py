"""Reading an event folder: every fault at once, nothing lost."""

import json
import os

import pytest
from openpyxl import Workbook

from scorer.errors import InputError
from scorer.event import place_kinds
from scorer.event.build import build, build_event
from scorer.event.folder import (
    MOST_LOG_BYTES,
    read_folder,
    read_folder_with_faults,
    write_folder,
)
from scorer.event.model import Method, North, Units

EVENT = """
format = 1
[event]
name = "Invented cup"
time_zone = "Europe/Madrid"
crs = "EPSG:25830"
ground_elevation = "640 m"
[rules]
book = "festival"
keying_tolerance = "2 cm"
[rules.floor]
height = "100 ft"
within = "field"
"""
FLIGHT = """
date = 2026-09-12
qnh_hpa = 1021.0
[[task]]
number = 1
kind = "FIN"
target = "centre"
scoring_area = "ring"
launch_period = ["06:45", "07:30"]
marker = "blue"
"""
SQUARE = [[-3.51, 40.1], [-3.49, 40.1], [-3.49, 40.12], [-3.51, 40.12], [-3.51, 40.1]]


def feature(name, kind, geometry, **more):
    return {
        "type": "Feature",
        "properties": {"name": name, "kind": kind, **more},
        "geometry": geometry,
    }


def point(lon, lat):
    return {"type": "Point", "coordinates": [lon, lat]}


PLACES = [
    feature("centre", "target", point(-3.5, 40.11), elevation_m=655),
    feature("ring", "scoring-area", {"type": "Polygon", "coordinates": [SQUARE]}),
    feature("field", "boundary", {"type": "Polygon", "coordinates": [SQUARE]}),
]


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "flights/f1/logs").mkdir(parents=True)
    (tmp_path / "event.toml").write_text(EVENT)
    (tmp_path / "pilots.csv").write_text("number,name,team\n1,Ann,red\n12,Bob,blue\n")
    collection = {"type": "FeatureCollection", "features": PLACES}
    (tmp_path / "places.geojson").write_text(json.dumps(collection))
    (tmp_path / "flights/f1/flight.toml").write_text(FLIGHT)
    (tmp_path / "flights/f1/marks.csv").write_text(
        "# measured by team two\n"
        "task,pilot,method,distance,bearing,time,by\n"
        "1,1,tape,12.34 m,,,Eva\n"
        "1,12,tape,40' 3 1/2\",123.5T,08:15:30,Max\n"
    )
    return tmp_path


def faults_of(folder):
    raw, faults = read_folder_with_faults(folder)
    return [str(f) for f in [*faults, *build(raw)[1]]]


def test_a_sound_folder_is_read_whole(folder):
    event = build_event(read_folder(folder))

    assert event.name == "Invented cup"
    assert event.units is Units.METRIC
    assert [p.extra for p in event.pilots] == [{"team": "red"}, {"team": "blue"}]
    assert event.place("centre").elevation_m == 655
    assert event.place("ring").kind is place_kinds.SCORING_AREA
    task = event.flights[0].tasks[0]
    # 06:45 in Madrid in September is 04:45 UTC
    assert task.launch_period.start_s % 86400 == 4 * 3600 + 45 * 60
    first, second = event.flights[0].keyings
    assert (first.distance_m, first.method, first.by) == (12.34, Method.TAPE, "Eva")
    assert second.distance_m == pytest.approx(12.2809)
    assert (second.bearing_deg, second.north) == (123.5, North.TRUE)
    assert second.entered["distance"] == "40' 3 1/2\""
    assert second.origin.line == 4
    assert event.book.floor.height_m == pytest.approx(30.48)
    assert event.book.keying.tolerance_m == pytest.approx(0.02)
    cited = event.book.cite("floor.height")
    assert (cited.get("rule"), cited.kind) == ("floor.height", "rule-of-event")
    assert cited.get("value") == pytest.approx(30.48)


def test_all_faults_are_reported_at_once_with_file_line_and_field(folder):
    (folder / "event.toml").write_text(EVENT.replace("within", "withn"))
    (folder / "pilots.csv").write_text("number,name\n1,Ann\n1,Bob\nx,Cid\n")
    (folder / "flights/f1/flight.toml").write_text(FLIGHT.replace("centre", "center"))
    (folder / "flights/f1/marks.csv").write_text(
        "task,pilot,method,distance\n1,21,tape,nan\n9,1,tape,-3\n1,1,taped,3\n"
    )

    found = "\n".join(faults_of(folder))

    for part in (
        'event.toml, line 13, rules.floor.withn: found "withn"',
        'Did you mean "within"?',
        'pilots.csv, line 3, number: found "1"',
        "also stands in pilots.csv, line 2",
        'pilots.csv, line 4, number: found "x"',
        'flights/f1/flight.toml, line 7, task.0.target: found "center"',
        'Did you mean "centre"?',
        'marks.csv, line 2, distance: found "nan"',
        'marks.csv, line 2, pilot: found "21"',
        'marks.csv, line 3, task: found "9"',
        'marks.csv, line 3, distance: found "-3"',
        'marks.csv, line 4, method: found "taped"',
        'Did you mean "tape"?',
    ):
        assert part in found


def test_a_number_with_swapped_digits_suggests_the_pilot_meant(folder):
    (folder / "flights/f1/marks.csv").write_text("task,pilot,method\n1,21,none\n")

    assert "Near numbers: 12 (Bob)." in faults_of(folder)[0]


def test_an_empty_folder_says_what_an_event_folder_holds(tmp_path):
    with pytest.raises(InputError, match=r"no event\.toml in it.*pilots\.csv"):
        read_folder(tmp_path)


def test_a_missing_folder_is_named(tmp_path):
    with pytest.raises(InputError, match="no such folder"):
        read_folder(tmp_path / "nowhere")


def test_a_table_that_is_not_utf8_names_the_line(folder):
    (folder / "pilots.csv").write_bytes(b"number,name\n1,Ann\n2,Jos\xe9\n")

    assert "pilots.csv, line 3: found byte 0xe9" in faults_of(folder)[0]


def test_a_byte_order_mark_and_semicolons_are_read(folder):
    (folder / "pilots.csv").write_bytes("﻿number;name\n1;Ann, née Li\n12;Bob\n".encode())

    assert build_event(read_folder(folder)).pilot(1).name == "Ann, née Li"


def test_a_quoted_cell_may_run_over_lines(folder):
    (folder / "flights/f1/reports.csv").write_text(
        'task,pilot,kind,note\n1,1,low,"seen low\n# twice"\n1,12,low,ok\n'
    )

    reports = build_event(read_folder(folder)).flights[0].reports

    assert [(r.note, r.origin.line) for r in reports] == [
        ("seen low\n# twice", 2),
        ("ok", 4),
    ]


def test_an_unclosed_quote_is_a_fault_with_its_line(folder):
    (folder / "pilots.csv").write_text('number,name\n1,Ann\n2,"Bob\n')

    assert "pilots.csv, line 3" in faults_of(folder)[0]


def test_too_many_cells_are_a_fault(folder):
    (folder / "flights/f1/marks.csv").write_text(
        "task,pilot,method,distance\n1,1,tape,12,34\n"
    )

    assert "5 cells" in faults_of(folder)[0]


def test_a_misspelt_column_is_a_fault_and_an_unknown_one_is_kept(folder):
    (folder / "flights/f1/marks.csv").write_text(
        "task,pilot,method,distence,weather\n1,1,none,,fog\n"
    )
    assert 'Did you mean "distance"?' in faults_of(folder)[0]

    (folder / "flights/f1/marks.csv").write_text(
        "task,pilot,method,weather\n1,1,none,fog\n"
    )
    keying = build_event(read_folder(folder)).flights[0].keyings[0]
    assert keying.entered["weather"] == "fog"


def test_a_two_gigabyte_line_is_refused_without_reading_it(folder):
    path = folder / "flights/f1/marks.csv"
    with path.open("wb") as file:
        file.write(b"task,pilot,method\n1,1,")
        os.truncate(file.fileno(), 2 * 2**30)

    assert "2,048 MiB; allowed: at most 16 MiB" in faults_of(folder)[0]


def test_a_huge_log_costs_that_log_alone(folder):
    with (folder / "flights/f1/logs/001.igc").open("wb") as file:
        os.truncate(file.fileno(), MOST_LOG_BYTES + 1)

    log = build_event(read_folder(folder)).flights[0].logs[0]

    assert "a log has at most" in log.problem


@pytest.mark.parametrize(
    ("crs", "part"),
    [
        ("EPSG:4326", "projected reference system in metres"),
        ("EPSG:2225", "projected reference system in metres"),  # feet
        ("EPSG:99999999", "projected reference system in metres"),
        ("", "text in quotes"),
    ],
)
def test_a_wrong_reference_system_is_refused(folder, crs, part):
    (folder / "event.toml").write_text(EVENT.replace("EPSG:25830", crs))

    assert any(part in fault for fault in faults_of(folder))


@pytest.mark.parametrize(
    ("geometry", "part"),
    [
        (point(40.11, -93.5), "longitude first"),
        ({"type": "Point", "coordinates": [float("nan"), 4]}, "longitude first"),
        ({"type": "Polygon", "coordinates": [SQUARE]}, "Point for kind target"),
    ],
)
def test_a_bad_place_is_refused_by_name(folder, geometry, part):
    places = [feature("centre", "target", geometry), *PLACES[1:]]
    text = json.dumps({"type": "FeatureCollection", "features": places})
    (folder / "places.geojson").write_text(text)

    found = faults_of(folder)

    assert len(found) == 1
    assert '"centre".geometry' in found[0]
    assert part in found[0]


def test_a_polygon_that_crosses_itself_is_refused(folder):
    bow = [SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3], SQUARE[0]]
    bad = feature("ring", "scoring-area", {"type": "Polygon", "coordinates": [bow]})
    text = json.dumps({"features": [PLACES[0], bad, PLACES[2]]})
    (folder / "places.geojson").write_text(text)

    assert "Self-intersection" in faults_of(folder)[0]


def test_a_roster_may_be_a_workbook(folder):
    (folder / "pilots.csv").unlink()
    book = Workbook()
    book.active.append(["number", "name", "class"])
    book.active.append([1, "Ann", "AX-8"])
    book.active.append([12, "Bob", None])
    book.save(folder / "pilots.xlsx")

    pilots = build_event(read_folder(folder)).pilots

    assert [(p.number, p.name, p.class_name) for p in pilots] == [
        (1, "Ann", "AX-8"),
        (12, "Bob", ""),
    ]


def test_two_rosters_are_a_fault(folder):
    (folder / "pilots.xlsx").write_bytes(b"")

    assert "both pilots.csv and pilots.xlsx" in faults_of(folder)[0]


@pytest.mark.parametrize("name", [".f1", "..x", "~f1"])
def test_a_flight_in_a_hidden_folder_is_told(folder, name):
    (folder / "flights/f1").rename(folder / "flights" / name)

    assert f"flights/{name}: found a name that not every system" in faults_of(folder)[0]


def test_a_hidden_folder_without_a_flight_is_what_systems_leave(folder):
    (folder / "flights/.cache").mkdir()

    assert not faults_of(folder)


def test_terrain_outside_the_folder_is_refused(folder):
    text = EVENT.replace("[rules]", 'terrain = "../secret.tif"\n[rules]', 1)
    (folder / "event.toml").write_text(text)

    assert "a file in the event folder" in faults_of(folder)[0]


@pytest.mark.parametrize(
    ("row", "part"),
    [
        ("1,1,floor,apply,,,,", None),
        ("1,1,,apply,,,,", "the finding ruled on"),
        ("1,1,floor,set,,task points,,", "how many task points"),
        ("1,1,floor,set,12.5,task points,,", "whole points"),
        ("1,1,floor,set,-5,task points,,", "penalties are positive"),
        ("1,1,floor,impose,5,task points,,", "nothing with impose"),
        (",1,,impose,100,event points,,", None),
        (",1,,impose,100,task points,,", "only event points"),
        ("1,1,floor,forgive,,,,", "one of apply, waive, set, hold, impose, bonus"),
    ],
)
def test_rulings_say_what_they_need(folder, row, part):
    head = "task,pilot,finding,decision,amount,unit,rule,reason"
    (folder / "flights/f1/rulings.csv").write_text(f"{head}\n{row}\n")

    found = faults_of(folder)

    assert (part in found[0]) if part else not found


@pytest.mark.parametrize(
    ("written", "metres"),
    [
        ("20 ft", 20 * 0.3048),  # the international foot, exactly
        ("4 ft 6 in", 54 * 0.0254),
        ("12,5", 12.5),
        ("2.5 m", 2.5),
        ("20 hours", None),
        ("-3 ft", None),
    ],
)
def test_metres_of_a_decision_may_be_written_in_feet(folder, written, metres):
    rows = f'task,pilot,finding,decision,amount,unit\n1,1,,impose,"{written}",metres\n'
    (folder / "flights/f1/rulings.csv").write_text(rows)
    if metres is None:
        assert "rulings.csv, line 2, amount" in faults_of(folder)[0]
    else:
        (ruling,) = build_event(read_folder(folder)).flights[0].rulings
        assert ruling.amount == pytest.approx(metres, abs=1e-12)


def test_a_written_folder_reads_back_the_same(folder, tmp_path):
    (folder / "flights/f1/logs/012.igc").write_bytes(b"AXXX\r\n")
    raw = read_folder(folder)

    write_folder(raw, tmp_path / "again")
    again = read_folder(tmp_path / "again")

    assert again.settings == raw.settings
    assert [r.fields for r in again.pilots] == [r.fields for r in raw.pilots]
    assert again.places == raw.places
    for one, other in zip(raw.flights, again.flights, strict=True):
        given = [{k: v for k, v in r.fields.items() if v} for r in one.marks]
        assert given == [{k: v for k, v in r.fields.items() if v} for r in other.marks]
        assert one.settings == other.settings
        assert one.logs == other.logs


def test_nothing_is_overwritten(folder):
    with pytest.raises(InputError, match="nothing is overwritten"):
        write_folder(read_folder(folder), folder)
