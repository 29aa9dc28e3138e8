"""Data for programs: whole, harmless in spreadsheets, valid by their own schema."""

import copy
import csv
import io
import json
import re
import tracemalloc
from dataclasses import replace

import pytest

from scorer.files import flaw_of_name, name_key
from scorer.ledger.files import address_of
from scorer.scoring.document import document
from scorer.sheets.edition import documents
from scorer.sheets.schema import results_schema
from scorer.sheets.tables import harmless, track_files, write_tables
from tests.scorer.sheets import meet

jsonschema = pytest.importorskip(
    "jsonschema", reason="nothing else checks a JSON schema"
)


@pytest.fixture(scope="module")
def data(results, event, stamp, tracks):
    return made(results, event, stamp, tracks)


def made(results, event, stamp, tracks):
    some = dict(list(tracks.items())[:3])
    lines = {name: b"".join(pieces) for name, pieces in track_files(event, some)}
    return {**write_tables(results, event, stamp), **lines}


@pytest.fixture(scope="module")
def schema():
    return results_schema()


def rows(data, name):
    text = data[name].decode("utf-8-sig")
    lines = [
        line for line in text.splitlines(keepends=True) if not line.startswith("#")
    ]
    return list(csv.DictReader(io.StringIO("".join(lines))))


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


STATED = {"says", "steps", "rule", "figures", "fields"}
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


def test_every_csv_states_the_publication(data, stamp):
    tables = [name for name in data if name.endswith(".csv")]
    assert len(tables) >= 12
    for name in tables:
        text = data[name].decode("utf-8-sig")
        assert "# State: Provisional, version 3" in text
        assert f"# Results SHA-256: {stamp.results_sha256}" in text
        assert ("not for navigation" in text) == (
            name in {"infringements.csv", "logs.csv", "winds.csv"}
        )


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
    flown = tracks[meet.MORNING, track["properties"]["pilot"]]
    assert len(track["geometry"]["coordinates"]) == len(flown)
    assert len(track["properties"]["heights_m"]) == len(flown)
    assert lines["about"]["caution"].startswith("Results and heights")


def test_the_same_input_gives_the_same_bytes(data, event, stamp, tracks):
    assert made(meet.results(), event, stamp, meet.tracks()) == data


def peak_of_writing(event, tracks):
    tracemalloc.start()
    count = sum(
        piece.count(b'{"type": "Feature",')
        for _, pieces in track_files(event, tracks)
        for piece in pieces
    )
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert count == len(tracks)
    return peak


def test_memory_does_not_grow_with_the_number_of_tracks_written(event, tracks):
    few, many = (dict(list(tracks.items())[:count]) for count in (2, 8))
    assert peak_of_writing(event, many) < 1.5 * peak_of_writing(event, few)


def test_a_later_version_of_the_same_logs_stores_no_track_again(
    results, event, stamp, tracks, tmp_path
):
    def published(version):
        room = tmp_path / str(version)
        room.mkdir()
        files = documents(event, results, replace(stamp, version=version), tracks, room)
        return {name: address_of(content) for name, content in files.items()}

    one, two = published(1), published(2)
    same = {name for name in one if one[name] == two[name]}
    assert {name for name in one if "tracks" in name} <= same
    assert "board.pdf" not in same


def test_the_files_of_two_flights_are_two_plain_names(event, tracks):
    first = next(iter(tracks.values()))
    odd = {("a/b", 1): first, ("a-b", 1): first, ("../a", 1): first}
    names = [name for name, _ in track_files(event, odd)]

    assert len(set(map(name_key, names))) == 3
    assert not any(map(flaw_of_name, names))
