"""Every outside source that a test names can be found in SOURCES.md, and is used."""

import csv
import re
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
ROWS = [
    [cell.strip() for cell in line.strip("|").split("|")]
    for line in (TESTS / "SOURCES.md").read_text(encoding="utf-8").splitlines()
    if line.startswith("|") and not line.startswith(("|---", "| short name"))
]
USED = {name: re.findall(r"`([^`]+\.(?:py|csv))`", used) for name, *_, used in ROWS}
NAMED = re.compile(
    r"ICAO Doc \d+|RFC \d{4}|WCAG|CSV on the Web|NMEA 0183|Snyder|Torge|Bennett|IEEE 754"
    r"|IGC (?:technical )?specification|U\.S\. Naval Observatory|Karney|ISO \d{4}\b"
    r"|Ordnance Survey|Guidance Note 7-2|Technical Manual|PNG"
)
"""How standards and books are named in the tests."""
ELSEWHERE = {
    "Karney": "Karney 2013",
    "U.S. Naval Observatory": "USNO",
    "Bennett": "Bennett 1982",
    "Guidance Note 7-2": "EPSG Guidance Note 7-2",
    "Technical Manual": "ICSM",
    "IGC technical specification": "IGC specification",
    "ISO 2533": "ICAO Doc 7488",
}
TABLES = sorted((TESTS / "reference").glob("*.csv"))


def test_each_source_says_what_where_and_when():
    assert len({name for name, *_ in ROWS}) == len(ROWS) > 25
    for name, title, part, read, used in ROWS:
        assert title, name
        assert part, name
        assert re.search(r"20\d\d-\d\d-\d\d|memory|check|run|shared data|noted", read)
        assert used, name


@pytest.mark.parametrize("name", USED)
def test_the_files_that_use_a_source_are_there(name):
    assert USED[name]
    for path in USED[name]:
        assert (TESTS / path).is_file(), path


def test_every_source_that_a_test_names_is_listed():
    for path in [*TESTS.rglob("*.py"), *TABLES]:
        if "bench" in path.parts or path == Path(__file__):
            continue
        for found in NAMED.findall(path.read_text(encoding="utf-8")):
            assert ELSEWHERE.get(found, found) in USED, f"{path}: {found}"


@pytest.mark.parametrize("path", TABLES, ids=lambda p: p.stem)
def test_each_table_says_where_it_is_from(path):
    text = path.read_text(encoding="utf-8")
    heads = re.findall(r"^# (\w+):", text, re.MULTILINE)
    assert heads == ["what", "source", "checked", "tolerance"]
    assert f"reference/{path.name}" in {own for used in USED.values() for own in used}
    lines = (line for line in text.splitlines() if not line.startswith("#"))
    assert list(csv.DictReader(lines))
