"""Small files that unpack to very much are refused before they are read.

Found by attacking the first version: a workbook of 4,874 bytes took over a minute.
The memory of each attempt is limited, so that a failing test harms nobody.
"""

import io
import tracemalloc
import zipfile

import pytest
from openpyxl import Workbook

from scorer.event.columns import PILOTS
from scorer.event.folder import (
    MOST_KEY_PARTS,
    MOST_PLACES,
    read_folder_with_faults,
    write_folder,
)
from scorer.event.reading import Faults
from scorer.event.tables import (
    MOST_COLUMNS,
    MOST_LINES,
    MOST_SHEET_ROWS,
    read_csv,
    read_xlsx,
)
from tests.scorer.ledger.ledger_desks import small_event

MOST_MEMORY = 64 * 2**20


@pytest.fixture
def little_memory():
    """Fail where reading takes more memory than it should."""
    tracemalloc.start()
    yield
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < MOST_MEMORY


def workbook(*cells, part=None, old="", new=b""):
    book = Workbook()
    book.active.append(["number", "name"])
    book.active.append([1, "Ann"])
    for cell in cells:
        book.active[cell] = "x"
    out = io.BytesIO()
    book.save(out)
    if part is None:
        return out.getvalue()
    packed = io.BytesIO()
    with (
        zipfile.ZipFile(out) as source,
        zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as target,
    ):
        for name in source.namelist():
            data = source.read(name)
            if name == part:
                assert old in data
                data = data.replace(old, new + old, 1)
            target.writestr(name, data)
    return packed.getvalue()


SHEET, STYLES = "xl/worksheets/sheet1.xml", "xl/styles.xml"
BOMBS = {
    "a cell in the last corner": (("XFD300000",), {}, f"{MOST_SHEET_ROWS:,} rows"),
    "a cell far below": (("A1048576",), {}, f"{MOST_SHEET_ROWS:,} rows"),
    "a cell far to the right": (("XFD1",), {}, f"{MOST_COLUMNS} columns"),
    "very many cells": (
        (),
        {"part": SHEET, "old": b"</sheetData>", "new": b"<row>" + b"<c/>" * 2**20},
        "XML tags of cells",
    ),
    "very many formats": (
        (),
        {"part": STYLES, "old": b"</cellXfs>", "new": b"<xf/>" * 10**5},
        "XML tags of formats",
    ),
    "a sheet of spaces": (
        (),
        {"part": SHEET, "old": b"</sheetData>", "new": b" " * (33 * 2**20)},
        "once unpacked",
    ),
}


@pytest.mark.parametrize("bomb", BOMBS)
def test_a_small_workbook_that_holds_very_much_is_a_fault(bomb):
    cells, more, told = BOMBS[bomb]
    data = workbook(*cells, **more)
    faults = Faults()
    assert len(data) < 50_000 or bomb == "a sheet of spaces"

    assert read_xlsx(data, "pilots.xlsx", PILOTS.names, faults) == ()
    assert len(faults.found) == 1
    assert told in str(faults.found[0])


def test_an_ordinary_workbook_is_read_whatever_it_says_of_its_size():
    book = workbook(part=SHEET, old=b"<sheetData>", new=b"")
    lying = workbook(part=SHEET, old=b"<sheetViews>", new=b"")
    for data in (book, lying, workbook("B20")):
        faults = Faults()
        rows = read_xlsx(data, "pilots.xlsx", PILOTS.names, faults)
        assert rows[0].fields["name"] == "Ann"


@pytest.mark.usefixtures("little_memory")
@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("number,name," + ",".join(f"c{n}" for n in range(30_000)), "30,002 columns"),
        ("number,name," + "x," * 30_000, "columns"),
        ("number,name\n" + "\n" * (3 * MOST_LINES), "lines"),
        ("number,name\n" + "\r" * (3 * MOST_LINES), "lines"),
        ("number," * (MOST_COLUMNS - 1) + "\n" + "1\n" * 20_000, "cells"),
    ],
)
def test_a_table_of_very_many_columns_or_lines_is_one_fault(text, told):
    faults = Faults()

    assert read_csv(text, "pilots.csv", PILOTS.names, faults) == ()
    assert len(faults.found) == 1
    assert told in str(faults.found[0])


def test_a_column_that_stands_twice_is_named_once():
    faults = Faults()
    read_csv("number,name,a,a,a\n1,x\n", "pilots.csv", PILOTS.names, faults)

    assert [str(f.found) for f in faults.found] == ['""a" twice"']


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        ("event.toml", "a" + ".a" * 60_000 + " = 1\n", f"{MOST_KEY_PARTS} parts"),
        ("event.toml", "[" + '"x" . ' * 30 + "x]\n", f"{MOST_KEY_PARTS} parts"),
        ("event.toml", "x = {" + "'x'." * 30 + "x=1}\n", f"{MOST_KEY_PARTS} parts"),
        (
            "flights/1/flight.toml",
            "#" * 2**18,
            "found 256 KiB; allowed: at most 128 KiB",
        ),
        (
            "places.geojson",
            '{"type":"FeatureCollection","features":[' + "0," * MOST_PLACES + "0]}",
            "features",
        ),
    ],
)
def test_settings_and_places_of_very_many_parts_are_a_fault(file, text, told, tmp_path):
    write_folder(small_event(), tmp_path / "meet")
    (tmp_path / "meet" / file).write_text(text, encoding="utf-8")

    faults = [str(f) for f in read_folder_with_faults(tmp_path / "meet")[1]]

    assert any(f.startswith(file) and told in f for f in faults), faults


def test_texts_with_many_dots_are_no_deep_keys(tmp_path):
    write_folder(small_event(), tmp_path / "meet")
    path = tmp_path / "meet" / "event.toml"
    dots = "venue = 'by the lake........................ a.b.c, 1.5, 2.5'\n"
    text = path.read_text(encoding="utf-8").replace("[event]\n", f"[event]\n{dots}")
    path.write_text(text, encoding="utf-8")

    assert read_folder_with_faults(tmp_path / "meet")[1] == []
