"""Data for programs: whole, harmless in spreadsheets, valid by their own schema."""

import copy
import csv
import gc
import io
import json
import re
import shutil
import subprocess
import tracemalloc
from dataclasses import replace
from importlib.resources import files
from itertools import pairwise, zip_longest

import geopandas
import gpxpy
import numpy as np
import openpyxl
import pandas as pd
import pytest
import shapely

from scorer.facts import fact
from scorer.facts import task as a_task
from scorer.files import flaw_of_name, name_key
from scorer.ledger.files import address_of
from scorer.scoring import told
from scorer.scoring.document import document
from scorer.sheets import edition
from scorer.sheets.edition import documents
from scorer.sheets.kinds import SHEET_KINDS, Material
from scorer.sheets.kinds import made as made_of
from scorer.sheets.schema import results_schema
from scorer.sheets.tables import harmless, write_tables
from scorer.sheets.thinned import AROUND, LONGEST, THINNED_M, thinned
from scorer.sheets.unchanged import BOARD, SLIPS
from scorer.sheets.ways import keyed_files
from tests.scorer.sheets import meet

jsonschema = pytest.importorskip(
    "jsonschema", reason="nothing else checks a JSON schema"
)


@pytest.fixture(scope="module")
def data(results, event, stamp, tracks):
    return made(results, event, stamp, tracks)


def made(results, event, stamp, tracks):
    some = dict(list(tracks.items())[:3])
    lines = {file.name: b"".join(file.pieces) for file in keyed_files(event, some)}
    return {**write_tables(results, event, stamp), **lines}


@pytest.fixture(scope="module")
def schema():
    return results_schema()


def rows(data, name):
    return list(csv.DictReader(io.StringIO(data[name].decode("utf-8-sig"))))


def test_results_json_is_valid_by_its_schema(data, schema):
    validator = jsonschema.Draft202012Validator(schema)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert list(validator.iter_errors(json.loads(data["results.json"]))) == []


@pytest.mark.parametrize(
    ("path", "wrong"),
    [
        (("format",), 2),
        (("tasks", 0, "scores", 0, "group"), "D"),
        (("tasks", 0, "scores", 0, "result"), None),
        (("tasks", 0, "scores", 0, "score"), -1),
        (("tasks", 0, "unit"), "yards"),
        (("findings", 0, "probability"), 1.2),
        (("findings", 0, "from"), "2026-09-12 06:41"),
        (("findings", 0, "sha256"), "zz"),
        (("standings", 0, "rank"), 0),
    ],
)
def test_schema_refuses_what_no_reader_could_use(results, schema, path, wrong):
    tree = copy.deepcopy(document(results))
    place = tree
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = wrong

    errors = list(jsonschema.Draft202012Validator(schema).iter_errors(tree))

    assert errors


def test_the_schema_keeps_no_list_of_kinds_of_its_own():
    """Kinds stand in their declarations; two lists of no registry are told here."""
    text = (files("scorer.sheets") / "results.schema.json").read_text("utf-8")

    listed = re.findall(r'"enum": \[([^]]*)\]', text)

    assert listed == ['"points", "result"', '"", "smallest", "greatest"']


STATED = {
    *("says", "steps", "rule", "figures", "fields"),
    *("kinds", "terms", "roles", "reports", "rulings", "declarations", "targets"),
}
"""Keys that hold facts, whose values are named by their kinds, or cells as entered."""


def test_the_schema_knows_every_key_that_results_json_has(data, schema):
    """A key added to results.json must be described here before it is published."""
    named = set(re.findall(r'"([a-zA-Z_0-9]+)": ?\{', json.dumps(schema)))

    def keys(tree):
        if isinstance(tree, dict):
            for key, value in tree.items():
                yield key
                if key not in STATED:
                    yield from keys(value)
        elif isinstance(tree, list):
            for item in tree:
                yield from keys(item)

    used = {key for key in keys(json.loads(data["results.json"])) if not key.isdigit()}
    classes = {table.title for table in meet.results().class_standings}
    assert used - named - classes == set()


def test_a_file_beside_the_csv_states_the_publication_and_every_column(data, stamp):
    """CSV on the Web (W3C 2015), model of tabular data, 5.3: csv-metadata.json beside them."""
    about = json.loads(data["csv-metadata.json"])
    assert about["@context"][0] == "http://www.w3.org/ns/csvw"
    assert "State: Provisional, version 3" in about["dc:provenance"]
    assert f"Results SHA-256: {stamp.results_sha256}" in about["dc:provenance"]
    assert "not for navigation" in about["dc:description"]
    assert about["dc:issued"] == stamp.published_at
    tables = {
        table["url"]: table["tableSchema"]["columns"] for table in about["tables"]
    }
    assert set(tables) == {name for name in data if name.endswith(".csv")}
    assert len(tables) >= 12
    for url, columns in tables.items():
        head = next(csv.reader(io.StringIO(data[url].decode("utf-8-sig"))))
        assert head == [column["name"] for column in columns], url
        assert len(set(head)) == len(head), url


PANDAS = {"integer": "iuf", "double": "f", "string": "O"}
"""Kinds of numpy that pandas reads a column as; gaps make integers floats."""


def test_pandas_reads_every_csv_as_it_is_described(data):
    about = json.loads(data["csv-metadata.json"])
    for table in about["tables"]:
        frame = pd.read_csv(io.BytesIO(data[table["url"]]))
        for column in table["tableSchema"]["columns"]:
            if not frame[column["name"]].notna().any():
                continue
            kind, read = column["datatype"], frame[column["name"]].dtype.kind
            if isinstance(kind, dict):
                assert set(frame[column["name"]].dropna()) <= {"yes", "no"}
            elif kind != "string":
                assert read in PANDAS[kind], (table["url"], column)


def test_a_hash_in_a_name_cuts_nothing(event, results, stamp):
    named = replace(event.pilots[0], name="O'Brien #13")
    own = replace(event, pilots=(named, *event.pilots[1:]))
    frame = pd.read_csv(io.BytesIO(write_tables(results, own, stamp)["pilots.csv"]))
    assert frame.loc[0, "name"] == "O'Brien #13"
    assert frame.loc[0, "country"] == named.country


def test_results_json_names_the_pilots_and_has_its_schema_beside_it(data, schema):
    tree = json.loads(data["results.json"])
    names = {pilot["number"]: pilot["name"] for pilot in tree["pilots"]}
    assert names == {pilot.number: pilot.name for pilot in meet.event().pilots}
    assert json.loads(data["results.schema.json"]) == schema


def test_no_cell_of_any_csv_can_run_as_a_formula(data):
    for name in (name for name in data if name.endswith(".csv")):
        for row in csv.reader(io.StringIO(data[name].decode("utf-8-sig"))):
            for cell in row:
                armed = cell.lstrip().startswith(("=", "+", "-", "@", "\t", "\r"))
                assert not armed or re.fullmatch(r"-?[\d.]+(e-?\d+)?", cell), (
                    name,
                    cell,
                )


def test_numbers_stay_numbers_and_names_lose_only_their_danger():
    assert harmless(-3.25) == "-3.25"
    assert harmless("-3.25") == "'-3.25"
    assert harmless("  =1+1") == "'  =1+1"
    assert harmless("Ada = Fenn") == "Ada = Fenn"
    assert harmless(None) == ""
    assert harmless(True) == "yes"


def test_names_survive_in_csv_and_json(data):
    by_number = {int(row["pilot"]): row["name"] for row in rows(data, "pilots.csv")}
    tree = json.loads(data["tables.json"])["tables"]["pilots"]["rows"]
    exact = {row["pilot"]: row["name"] for row in tree}
    for number, name in meet.NASTY.items():
        assert exact[number] == name
        assert by_number[number].removeprefix("'") == name


def test_csv_scores_are_those_of_the_results(data, results):
    written = {(int(r["task"]), int(r["pilot"])): r for r in rows(data, "scores.csv")}
    for task in results.tasks:
        for score in task.scores:
            row = written[task.task, score.pilot]
            assert int(row["score"]) == score.score
            assert row["result"] == ("" if score.result is None else repr(score.result))


def test_marks_and_tracks_are_geojson_with_longitude_first(data, tracks):
    names = ("marks.geojson", f"tracks-{meet.MORNING}.geojson")
    marks, lines = (json.loads(data[name]) for name in names)
    assert marks["type"] == lines["type"] == "FeatureCollection"
    lon, lat = marks["features"][0]["geometry"]["coordinates"]
    assert (round(lon), round(lat)) == (11, 48)
    track = lines["features"][0]
    count = len(track["geometry"]["coordinates"])
    assert count == len(track["properties"]["heights_m"])
    assert count == len(track["properties"]["seconds"])
    assert lines["about"]["caution"].startswith("Results and heights")


def test_thinned_tracks_keep_place_and_height_at_every_moment(tracks):
    flown = tracks[meet.MORNING, 1]
    kept = thinned(flown)
    assert len(kept) < len(flown) / 4
    inside = slice(kept[0], kept[-1] + 1)
    for column in (flown.east_m, flown.north_m, flown.altitude_m):
        between = np.interp(flown.time_s[inside], flown.time_s[kept], column[kept])
        assert np.nanmax(np.abs(between - column[inside])) <= THINNED_M == 2.0


def test_each_line_of_a_thinned_track_goes_as_far_as_one_can(tracks):
    """Every line that could be longer is tried, on altitudes as loggers write them."""
    flown = replace(tracks[meet.MORNING, 1], launch=None, landing=None)
    jolts = np.random.default_rng(5).normal(scale=0.7, size=(3, len(flown)))
    flown = replace(
        flown,
        east_m=flown.east_m + jolts[0],
        north_m=flown.north_m + jolts[1],
        altitude_m=np.round(flown.altitude_m + jolts[2]),
    )
    columns = np.array([flown.east_m, flown.north_m, flown.altitude_m])

    def off(start, end):
        share = np.linspace(0, 1, end - start + 1)
        line = columns[:, [start]] * (1 - share) + columns[:, [end]] * share
        return np.abs(columns[:, start : end + 1] - line).max()

    kept = thinned(flown).tolist()
    assert len(kept) > 60
    for start, end in pairwise(kept[:40]):
        assert off(start, end) <= THINNED_M + 1e-9
        farther = range(end + 1, min(start + LONGEST, len(flown)))
        assert all(off(start, other) > THINNED_M - 1e-9 for other in farther)


def test_a_track_is_cut_to_the_flight(tracks):
    """The crew's car has driven to the field and drives home."""
    flown = replace(tracks[meet.MORNING, 1], launch=400, landing=900)
    kept = thinned(flown)
    assert (kept[0], kept[-1]) == (400 - AROUND, 900 + AROUND - 1)


def test_geopandas_reads_places_marks_and_tracks(data, event, results, tmp_path):
    for name in ("places.geojson", "marks.geojson", f"tracks-{meet.MORNING}.geojson"):
        (tmp_path / name).write_bytes(data[name])
    places = geopandas.read_file(tmp_path / "places.geojson").set_index("name")
    marks = geopandas.read_file(tmp_path / "marks.geojson")
    lines = geopandas.read_file(tmp_path / f"tracks-{meet.MORNING}.geojson")
    assert set(places.index) == {place.name for place in event.places}
    assert places.loc["depot"].geometry.geom_type == "Polygon"
    assert places.loc["depot", "upper_m"] == 900.0
    assert places.loc["depot"].geometry.exterior.is_ccw, "RFC 7946, 3.1.6"
    assert places.loc["centre", "kind"] == "Target"
    assert 1 in places.loc["centre", "tasks"]
    assert len(marks) == sum(len(s.marks) for t in results.tasks for s in t.scores)
    assert set(lines.geom_type) == {"LineString"}
    assert lines.to_crs("EPSG:25832").length.min() > 1_000


def read_kml(data, name, folder):
    """Read by GDAL, which names no track or place that it does not find."""
    path = folder / name
    path.write_bytes(data[name])
    return geopandas.read_file(path)


def test_kml_holds_areas_points_marks_and_tracks(data, event, results, tmp_path):
    read = read_kml(data, f"tracks-{meet.MORNING}.kml", tmp_path)
    marks = read_kml(data, "marks.kml", tmp_path)
    assert {place.name for place in event.places} <= set(read.Name) & set(marks.Name)
    assert set(read.geom_type) == {"Polygon", "Point", "LineString"}
    assert f"1 {event.pilots[0].name}" in set(read.Name)
    count = sum(len(s.marks) for task in results.tasks for s in task.scores)
    assert len(marks) == count + len(event.places)
    area = read[read.Name == "depot"].geometry.iloc[0]
    ring = shapely.Polygon(event.place("depot").rings[0])
    assert area.symmetric_difference(ring).area < 1e-4 * ring.area


def test_gpx_holds_points_marks_and_tracks_with_times(data, tracks, results):
    """Read by gpxpy; GPX 1.1."""
    read = gpxpy.parse(data[f"tracks-{meet.MORNING}.gpx"].decode())
    flown = tracks[meet.MORNING, 1]
    track = next(t for t in read.tracks if t.number == 1)
    first, last = track.get_time_bounds()
    kept = thinned(flown)
    assert first.timestamp() == int(flown.time_s[kept[0]])
    assert last.timestamp() == int(flown.time_s[kept[-1]])
    highest = track.get_elevation_extremes().maximum
    assert highest == pytest.approx(np.nanmax(flown.altitude_m[kept]), abs=0.1)
    marks = gpxpy.parse(data["marks.gpx"].decode())
    names, marked = ({p.name for p in own.waypoints} for own in (read, marks))
    assert {"centre", "bridge", "<mill> & co"} <= names & marked
    assert any(name.startswith("1: 7 ") for name in marked)
    assert read.version == marks.version == "1.1"


def test_gpx_points_are_in_the_order_of_the_schema_and_a_pause_begins_a_segment(
    results, event, tracks
):
    """GPX 1.1, wptType: ele before time; trkType: a segment where the log paused."""
    flown = tracks[meet.MORNING, 1]
    later = flown.time_s + np.where(
        np.arange(len(flown)) >= len(flown) // 2, 600.0, 0.0
    )
    paused = replace(flown, time_s=later, launch=None, landing=None)
    files = keyed_files(event, {(meet.MORNING, 1): paused})
    text = next(b"".join(f.pieces) for f in files if f.name.endswith(".gpx")).decode()
    (track,) = gpxpy.parse(text).tracks
    assert len(track.segments) == 2
    start, end = track.segments[1].points[0].time, track.segments[0].points[-1].time
    assert (start - end).total_seconds() > 600
    assert re.search(
        r"<trkpt [^>]*><ele>[-\d.]+</ele><time>[^<]+Z</time></trkpt>", text
    )


def test_libreoffice_opens_every_csv(data, tmp_path):
    soffice = shutil.which("soffice")
    if soffice is None:
        pytest.skip("LibreOffice is not installed")
    for name in ("scores.csv", "pilots.csv"):
        (tmp_path / name).write_bytes(data[name])
    subprocess.run(
        [
            soffice,
            f"-env:UserInstallation=file://{tmp_path}/profile",
            "--headless",
            "--infilter=CSV:44,34,76",  # comma, quotation mark, UTF-8
            "--convert-to",
            "xlsx",
            "--outdir",
            str(tmp_path),
            *(str(tmp_path / name) for name in ("scores.csv", "pilots.csv")),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    for name in ("scores", "pilots"):
        cells = openpyxl.load_workbook(tmp_path / f"{name}.xlsx").active
        wanted = rows(data, f"{name}.csv")
        assert [c.value for c in cells[1]] == list(wanted[0])
        assert cells.max_row == len(wanted) + 1
        read = [row[0].value for row in cells.iter_rows(min_row=2)]
        assert read == [int(row[next(iter(row))]) for row in wanted]


def test_the_same_input_gives_the_same_bytes(data, event, stamp, tracks):
    assert made(meet.results(), event, stamp, meet.tracks()) == data


def peak_of_writing(results, event, tracks):
    """Return the most bytes held; what Python has not collected yet is not held."""
    gc.collect()
    gc.freeze()  # so that collecting looks at what writing made alone
    tracemalloc.start()
    count = 0
    sides = (file.pieces for file in keyed_files(event, tracks))
    for pieces in zip_longest(*sides, fillvalue=b""):  # as `spool` takes them
        count += pieces[0].count(b'{"type":"Feature",')
        gc.collect()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    gc.unfreeze()
    assert count == len(tracks)
    return peak


def test_memory_does_not_grow_with_the_number_of_tracks_written(results, event, tracks):
    few, many = (dict(list(tracks.items())[:count]) for count in (2, 8))
    peak_of_writing(results, event, few)  # loads what writing needs
    small = peak_of_writing(results, event, few)
    assert peak_of_writing(results, event, many) < 1.5 * small


def test_a_later_version_of_the_same_logs_stores_no_track_again(
    results, event, stamp, tracks, tmp_path
):
    """Whatever was corrected of the marks: they are in files of their own."""
    task, *more = results.tasks
    bare = replace(task, scores=tuple(replace(s, marks=()) for s in task.scores))
    of_version = {1: results, 2: replace(results, tasks=(bare, *more))}

    def published(version):
        room = tmp_path / str(version)
        room.mkdir()
        own = Material(
            event=event,
            results=of_version[version],
            stamp=replace(stamp, version=version),
            tracks=tracks,
            room=room,
        )
        kinds = (SHEET_KINDS[name] for name in ("board", "data", "tracks"))
        files = made_of(kinds, own)
        return {name: address_of(content) for name, content in files.items()}

    one, two = published(1), published(2)
    same = {name for name in one if one[name] == two[name]}
    assert {name for name in one if "tracks" in name} <= same
    changed = {f"data/marks.{ending}" for ending in ("geojson", "kml", "gpx")}
    assert not {"board.pdf", *changed} & same


def test_the_files_of_two_flights_are_two_plain_names(results, event, tracks):
    first = next(iter(tracks.values()))
    odd = {("a/b", 1): first, ("a-b", 1): first, ("../a", 1): first}
    names = [file.name for file in keyed_files(event, odd)]

    assert len(set(map(name_key, names))) == 9
    assert not any(map(flaw_of_name, names))


def test_a_publication_of_a_task_makes_papers_and_workbook_of_that_task_alone(
    results, event, stamp, tmp_path, monkeypatch
):
    """Pages and data show the whole event, for they are what is read next."""
    own, *others = results.tasks
    wanted = []
    monkeypatch.setattr(
        edition, "made", lambda _, material, __: wanted.append(material)
    )
    documents(event, results, replace(stamp, scope=(own.task,)), {}, tmp_path)
    names = ("workbook", "board", "slips", "awards")
    made = dict(one for name in names for one in SHEET_KINDS[name].make(wanted[0]))

    of_task = [f"{n}-task-{own.task}" for n in ("results", "board", "slips")]
    workbook, board, slips = map(
        ".".join, zip(of_task, ("xlsx", "pdf", "pdf"), strict=True)
    )
    assert made.keys() == {workbook, board, slips, SLIPS, BOARD}
    sheets = openpyxl.load_workbook(io.BytesIO(made[workbook]())).sheetnames
    voice = results.voice
    titles = [voice.say(fact("page-task", task=a_task(t.task))) for t in results.tasks]
    assert titles[0] in sheets
    assert not {*titles[1:], voice.word("page-standings")} & {*sheets}
    for name in (board, slips):
        text = str(made[name].tree)
        assert told.task_title(voice, own) in text
        assert not any(told.task_title(voice, other) in text for other in others)
