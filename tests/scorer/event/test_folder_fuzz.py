"""Whatever becomes of the files of a folder: a report that says so, or a score.

A sample folder's files are damaged as people, editors and disks do: words and numbers
exchanged for odd ones, lines lost or doubled, bytes flipped, ends cut off.
"""

import re
import shutil
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scorer.cli.target import load
from scorer.errors import ScorerError
from scorer.scoring.document import to_json
from scorer.scoring.score import score

SAMPLE = Path(__file__).parents[3] / "sample_events/vashkorim"
FILES = sorted(
    str(path.relative_to(SAMPLE))
    for path in SAMPLE.rglob("*")
    if path.is_file() and path.name not in {"README.md", "answer.json"}
)
SETTINGS = [name for name in FILES if not name.endswith((".igc", ".tif"))]
"""The files that people write: damaged more often than logs and terrain."""
ODD = [
    *("", "0", "-1", "1", "2", "3", "99", "1e400", "-0.0", "nan", "inf", "1e300"),
    *("9" * 30, "0x7fffffff", "٣", "½", "true", "null", '""', "[]", "{}", "[[]]", "'"),
    *(
        '"',
        ",",
        ";",
        "\n",
        "\r",
        "\t",
        "#",
        "=",
        "[",
        "]",
        "\ufeff",
        "\u202e",
        "\x1b[2J",
    ),
    *("none", "tape", "polar", "log", "centre", "field", "FIN", "PDG", "ELB", "3DT"),
    *("GAS", "JDG", "HWZ", "cancelled", "no result", "event points", "metres", "apply"),
    *("set", "impose", "waive", "Polygon", "Point", "target", "prohibited", "boundary"),
    *("12:00", "00:00", "23:59:59", "0001-01-01 00:00", "9999-12-31", "1969-12-31"),
    *(
        "EPSG:3857",
        "EPSG:4326",
        "EPSG:32633",
        "5 m",
        "0 m",
        "100000 km",
        "1 in",
        "0 ft",
    ),
    *("places", "grid", "ellipsoid", "imperial", "drop", "exit", "scoring area"),
]
WORD = re.compile(rb"[\w.:+-]+")


@st.composite
def damages(draw):
    """Draw a file, a place in it, and what happens there."""
    names = SETTINGS if draw(st.integers(0, 4)) else FILES
    return (
        draw(st.sampled_from(names)),
        draw(st.sampled_from(["word", "word", "word", "line", "twice", "byte", "end"])),
        draw(st.floats(0, 1, exclude_max=True)),
        draw(st.sampled_from(ODD)),
        draw(st.integers(0, 255)),
    )


def damaged(data, how, place, odd, byte):
    """Return the bytes of a file after one mishap."""
    at = int(place * len(data))
    lines = data.splitlines(keepends=True) or [b""]
    line = int(place * len(lines))
    words = list(WORD.finditer(data))
    match how:
        case "word" if words:
            start, end = words[int(place * len(words))].span()
            return data[:start] + odd.encode("utf-8", "surrogatepass") + data[end:]
        case "line":
            return b"".join(lines[:line] + lines[line + 1 :])
        case "twice":
            return b"".join([*lines[: line + 1], *lines[line:]])
        case "byte":
            return data[:at] + bytes([byte]) + data[at + 1 :]
        case _:
            return data[:at]


def damage(folder, mishaps):
    for name, *mishap in mishaps:
        path = folder / name
        path.write_bytes(damaged(path.read_bytes(), *mishap))


@settings(
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(st.lists(damages(), min_size=1, max_size=3))
def test_a_damaged_folder_is_refused_in_words_or_scored(mishaps):
    with tempfile.TemporaryDirectory() as place:
        folder = Path(shutil.copytree(SAMPLE, Path(place) / "event"))
        damage(folder, mishaps)
        try:
            event = load(str(folder))
        except ScorerError as error:
            words = str(error)
            words.encode()
            event = None
        if event is None:
            assert words.strip()
            return
        try:
            results = score(event)
        except ScorerError as error:
            raise AssertionError("loaded, but not scored") from error
        to_json(results).encode()
