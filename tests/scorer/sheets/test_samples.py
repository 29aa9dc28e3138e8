"""A sample event scored by the engine and published whole."""

import hashlib
import io
import json
from pathlib import Path

import pypdf
import pytest

from scorer.cli.target import load
from scorer.scoring.analysis import Tracks
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.sheets.board import board_setting
from scorer.sheets.schema import results_schema
from scorer.sheets.site import write_site
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Stamp
from scorer.sheets.tables import write_tables
from scorer.sheets.ways import keyed_files

jsonschema = pytest.importorskip("jsonschema")
SAMPLE = Path(__file__).parents[3] / "sample_events" / "vashkorim"


@pytest.fixture(scope="module")
def sample():
    event = load(str(SAMPLE))
    results = score(event)
    digest = hashlib.sha256(to_json(results).encode()).hexdigest()
    stamp = Stamp(published_at="2026-08-22T09:00:00Z", results_sha256=digest)
    return results, event, stamp, Tracks(event, results)


def test_engine_results_are_valid_by_the_schema(sample):
    schema = results_schema()
    tree = json.loads(write_tables(*sample[:3])["results.json"])
    assert [
        e.message for e in jsonschema.Draft202012Validator(schema).iter_errors(tree)
    ] == []


def test_hash_on_the_sheets_is_that_of_results_json(sample):
    results, event, stamp, _ = sample
    written = write_tables(results, event, stamp)["results.json"]
    assert hashlib.sha256(written).hexdigest() == stamp.results_sha256
    text = (
        pypdf.PdfReader(io.BytesIO(board_setting(results, event, stamp).pdf()))
        .pages[0]
        .extract_text()
    )
    assert stamp.results_sha256 in text


def test_every_finding_is_on_its_pilots_slip_and_page_with_map_and_profile(sample):
    results, event, stamp, tracks = sample
    site = write_site(results, event, stamp, tracks)
    assert results.findings
    for ruled in results.findings:
        finding = ruled.finding
        page = site[f"pilot-{finding.pilot}.html"].decode()
        slip = slips_setting(
            results, event, stamp, tracks, pilots={finding.pilot}
        ).pdf()
        text = " ".join(
            p.extract_text() for p in pypdf.PdfReader(io.BytesIO(slip)).pages
        )
        assert f"({results.voice.term(f'verdict-{finding.verdict}')})" in text
        assert "holds it in two cases of three" in " ".join(text.split())
        assert 'class="d-spot"' in page
        assert 'class="d-height"' in page


def test_a_track_made_when_asked_for_is_the_same_in_both_exports(sample):
    _, event, _, tracks = sample
    files = [
        b"".join(file.pieces)
        for file in keyed_files(event, tracks)
        if file.name.endswith(".geojson")
    ]
    lines = [line for data in files for line in json.loads(data)["features"]]
    assert [f["id"] for f in lines] == [f"{flight}-{n}" for flight, n in sorted(tracks)]
    for line in lines:
        assert len(line["geometry"]["coordinates"]) == len(
            line["properties"]["seconds"]
        )
