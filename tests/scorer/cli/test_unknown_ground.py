"""Where the ground is unknown, heights are unknown: every output still comes, no NaN."""

import json
import re
import shutil
from pathlib import Path

import numpy as np
import pytest
import rasterio

from scorer.cli.main import main

ROOT = Path(__file__).parents[3]
NO_NUMBER = re.compile(r"(?<![\w.-])(nan|NaN|inf|Infinity|None)(?![\w-])")
"""What Python and JSON call no number; no word of ours."""


def with_holes(folder, unknown):
    """Take the elevations away where `unknown(rows, columns)` says so."""
    path = folder / "terrain.tif"
    with rasterio.open(path) as source:
        profile, cells = dict(source.profile), source.read(1).astype("f4")
    cells[unknown(*np.indices(cells.shape))] = -9999.0
    profile.update(dtype="float32", nodata=-9999.0)
    with rasterio.open(path, "w", **profile) as made:
        made.write(cells, 1)


HOLES = {
    "nearly all": lambda row, column: row + column > 4,
    "chequered": lambda row, column: (row // 8 + column // 8) % 2 == 0,
}


@pytest.mark.parametrize("holes", HOLES)
def test_no_output_prints_a_number_that_is_none(holes, tmp_path, capsys):
    meet = Path(shutil.copytree(ROOT / "sample_events/vashkorim", tmp_path / "meet"))
    with_holes(meet, HOLES[holes])

    assert main(["score", str(meet), "--out", str(tmp_path / "scored")]) == 0
    assert main(["score", str(meet), "--json", "-"]) == 0
    text = capsys.readouterr().out
    json.loads(text[text.index("{") :], parse_constant=pytest.fail)
    assert main(["sheets", str(meet), "--out", str(tmp_path / "sheets")]) == 0
    assert main(["site", str(meet), "--out", str(tmp_path / "site")]) == 0
    assert main(["open-matters", str(meet), "--all"]) in {0, 1}

    assert not NO_NUMBER.search(capsys.readouterr().out)
    written = [p for p in tmp_path.rglob("*") if p.is_file() and meet not in p.parents]
    assert any(p.suffix == ".html" for p in written)
    for path in written:
        if path.suffix in {".html", ".csv", ".json", ".geojson", ".svg", ".txt"}:
            found = NO_NUMBER.search(path.read_text(encoding="utf-8"))
            assert not found, (path, found)
