"""What people really hand in: each slip gives one clear report, and nothing is lost."""

import io
import json
import os
import shutil
import zipfile
from codecs import BOM_UTF8, BOM_UTF16_LE
from pathlib import Path

import pytest
from openpyxl import Workbook

from scorer.cli.target import load
from scorer.errors import Fault, InputError
from scorer.event import matters
from scorer.scoring.score import score
from tests.helpers import said

SAMPLE = Path(__file__).parents[3] / "sample_events/vashkorim"
FLIGHT = "flights/first-morning"


@pytest.fixture
def folder(tmp_path):
    return Path(shutil.copytree(SAMPLE, tmp_path / "event"))


def refusal(folder):
    with pytest.raises(InputError) as caught:
        load(str(folder))
    return [str(fault) for fault in caught.value.faults]


def put_in(path, old, new):
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def read_places(folder):
    return json.loads((folder / "places.geojson").read_text(encoding="utf-8"))


def write_places(folder, places):
    (folder / "places.geojson").write_text(json.dumps(places), encoding="utf-8")


def text_of(name, text):
    return lambda folder: (folder / name).write_text(text, encoding="utf-8")


def bytes_of(name, data):
    return lambda folder: (folder / name).write_bytes(data)


def gone(name):
    return lambda folder: (folder / name).unlink()


def changed(name, old, new):
    return lambda folder: put_in(folder / name, old, new)


def renamed(name, new):
    return lambda folder: (folder / name).rename(folder / new)


def pipe(name):
    def make(folder):
        (folder / name).unlink()
        os.mkfifo(folder / name)

    return make


def link(name, target):
    def make(folder):
        (folder / name).unlink()
        (folder / name).symlink_to(target)

    return make


def huge(name, size):
    def make(folder):
        with (folder / name).open("ab") as file:
            file.truncate(size)

    return make


def folder_for(name):
    def make(folder):
        (folder / name).unlink()
        (folder / name).mkdir()

    return make


def second_flight(folder):
    shutil.copytree(folder / FLIGHT, folder / "flights/late-copy")


def undecodable_flight(folder):
    os.mkdir(os.fsencode(folder / "flights") + b"/\xff")  # noqa: PTH102


def without_flight_toml(folder):
    (folder / FLIGHT / "flight.toml").unlink()


def far_crs(folder):
    put_in(folder / "event.toml", "EPSG:32642", "EPSG:25830")


def swapped_positions(folder):
    def turned(value):
        flat = isinstance(value[0], int | float)
        return value[::-1] if flat else [turned(v) for v in value]

    places = read_places(folder)
    for feature in places["features"]:
        geometry = feature["geometry"]
        geometry["coordinates"] = turned(geometry["coordinates"])
    write_places(folder, places)


def several_parts(folder):
    places = read_places(folder)
    area = next(f for f in places["features"] if f["geometry"]["type"] == "Polygon")
    ring = area["geometry"]["coordinates"]
    area["geometry"] = {"type": "MultiPolygon", "coordinates": [ring, ring]}
    write_places(folder, places)


ROSTER = "number,name\n1,Ann\n2,Bo\n3,Cy\n4,Di\n5,Ed\n6,Flo\n"
MARKS = f"{FLIGHT}/marks.csv"
TASKS = f"{FLIGHT}/flight.toml"
ASSIGNED = f"{FLIGHT}/logs/assigned.csv"
DEEP = "format = 1\nx = " + "[" * 3000 + "]" * 3000
LONG_NUMBER = "format = " + "9" * 5000

ONE_REPORT = {
    "no roster": (gone("pilots.csv"), "pilots.csv: found no roster"),
    "an empty roster": (text_of("pilots.csv", ""), "pilots.csv: found no pilot"),
    "a roster without rows": (text_of("pilots.csv", "number,name\n"), "found no pilot"),
    "no places": (gone("places.geojson"), "places.geojson: found no place, though "),
    "no flight.toml": (without_flight_toml, "flight.toml: found a file that cannot be"),
    "flight.toml without tasks": (
        text_of(TASKS, "date = 2026-08-22\n"),
        "flight.toml, task: found nothing; allowed: a [[task]] table",
    ),
    "flight.toml in disorder": (
        text_of(TASKS, "date = 2026-08-22\n[[task]\n"),
        "flight.toml, line 2: found text that is not TOML",
    ),
    "a roster in UTF-16": (
        bytes_of("pilots.csv", BOM_UTF16_LE + ROSTER.encode("utf-16-le")),
        "pilots.csv, line 1: found text in UTF-16",
    ),
    "a roster in Latin-1": (
        bytes_of("pilots.csv", "number,name\n1,José\n".encode("latin-1")),
        "pilots.csv, line 2: found byte 0xe9",
    ),
    "a roster with tabs": (
        text_of("pilots.csv", ROSTER.replace(",", "\t")),
        "parted by tabs",
    ),
    "a roster in a file misnamed": (renamed("pilots.csv", "pilots.txt"), "no roster"),
    "marks in a file misspelt": (
        renamed(MARKS, f"{FLIGHT}/mark.csv"),
        "mark.csv: found a file of a name that nothing reads; allowed: marks.csv",
    ),
    "marks in a workbook": (
        renamed(MARKS, f"{FLIGHT}/marks.xlsx"),
        "Save it as marks.csv",
    ),
    "two flights with one task": (second_flight, "number: found"),
    "an unknown time zone": (
        changed("event.toml", "Qyzylorda", "Qyzylordaa"),
        'event.toml, line 7, event.time_zone: found "Asia/Qyzylordaa"',
    ),
    "a date before balloons": (
        changed(TASKS, "2026-08-22", "0001-01-01"),
        "flight.toml, line 1, date: found 0001-01-01",
    ),
    "a date after all": (
        changed(TASKS, "2026-08-22", "9999-12-31"),
        "date: found 9999",
    ),
    "TOML a thousand deep": (
        text_of("event.toml", DEEP),
        "event.toml: found text that",
    ),
    "a number of 5,000 digits": (text_of("event.toml", LONG_NUMBER), "not TOML"),
    "a format in quotes": (changed("event.toml", "= 1", '= "1"'), 'format: found "1"'),
    "a format with a fraction": (
        changed("event.toml", "= 1", "= 1.0"),
        "format: found",
    ),
    "degrees for metres": (changed("event.toml", "32642", "4326"), "event.crs: found"),
    "feet for metres": (changed("event.toml", "32642", "2229"), "event.crs: found"),
    "a reference system elsewhere": (far_crs, "no place is nearer"),
    "latitude before longitude": (swapped_positions, "[longitude, latitude]"),
    "an area in two parts": (several_parts, "2 parts: make each a place"),
    "JSON of 5,000 digits": (
        text_of("places.geojson", '{"features": [' + "9" * 5000 + "]}"),
        "places.geojson: found text that is not JSON",
    ),
    "half a character": (
        text_of("places.geojson", '{"features": [], "x": "\\ud800"}'),
        "places.geojson: found text that is not JSON",
    ),
    "a bare list of features": (text_of("places.geojson", "[]"), "no list of features"),
    "a roster that is a folder": (folder_for("pilots.csv"), "Is a directory"),
    "a roster that is a pipe": (pipe("pilots.csv"), "a pipe or a device"),
    "a roster linked to nothing": (link("pilots.csv", "nowhere"), "cannot be read"),
    "a roster linked to a device": (
        link("pilots.csv", "/dev/zero"),
        "a link that leads out of the event folder",
    ),
    "a roster of 2 GB": (huge("pilots.csv", 2**31), "found 2,048 MiB"),
    "settings of 2 GB": (huge("event.toml", 2**31), "found 2,048 MiB"),
    "a terrain of 5 GB": (huge("terrain.tif", 5 * 2**30), "found 5,120 MiB"),
    "a terrain outside": (
        changed("event.toml", '"terrain.tif"', '"../terrain.tif"'),
        "event.terrain: found",
    ),
    "a terrain with a zero in its name": (
        changed("event.toml", '"terrain.tif"', '"a\\u0000b"'),
        "event.terrain: found",
    ),
    "a terrain cut short": (
        lambda folder: (folder / "terrain.tif").write_bytes(
            (SAMPLE / "terrain.tif").read_bytes()[:30_000]
        ),
        "terrain.tif: found 30000 bytes that are damaged",
    ),
    "a flight of no readable name": (undecodable_flight, "name is not UTF-8"),
    "a rule of an unknown area": (
        changed(TASKS, 'state = "flown"', 'rules.contact.within = "meadow"'),
        'flight.toml, line 14, task.0.rules.contact.within: found "meadow"',
    ),
    "a log that is not there": (
        text_of(ASSIGNED, "log,pilot\n0001.igc,1\n"),
        'assigned.csv, line 2, log: found "0001.igc"',
    ),
    "a log of an unknown pilot": (
        text_of(ASSIGNED, "log,pilot\n001.igc,99\n"),
        'assigned.csv, line 2, pilot: found "99"',
    ),
    "a log of two pilots": (
        text_of(ASSIGNED, "log,pilot\n001.igc,1\nlogs/001.igc,2\n"),
        "each log once; it also stands in line 2",
    ),
    "a pilot of 5,000 digits": (
        text_of(ASSIGNED, "log,pilot\n001.igc," + "9" * 5000 + "\n"),
        "assigned.csv, line 2, pilot",
    ),
    "a report of the year 1": (
        text_of(
            f"{FLIGHT}/reports.csv", "task,pilot,kind,time\n1,1,low,0001-01-01 00:00\n"
        ),
        "reports.csv, line 2, time",
    ),
    "a penalty beyond all points": (
        text_of(
            f"{FLIGHT}/rulings.csv",
            "task,pilot,decision,amount,unit,finding\n1,1,impose,"
            + "9" * 30
            + ",task points,\n",
        ),
        "rulings.csv, line 2, amount",
    ),
    "a ruling on what ended before it began": (
        text_of(
            f"{FLIGHT}/rulings.csv",
            "task,pilot,finding,decision,from,to,measured\n1,1,floor,waive,07:10,07:09,\n",
        ),
        "rulings.csv, line 2, to",
    ),
    "a ruling at no time": (
        text_of(
            f"{FLIGHT}/rulings.csv",
            "task,pilot,finding,decision,from,to,measured\n1,1,floor,waive,morning,,\n",
        ),
        "rulings.csv, line 2, from",
    ),
    "a ruling on no value": (
        text_of(
            f"{FLIGHT}/rulings.csv",
            "task,pilot,finding,decision,from,to,measured\n1,1,floor,waive,,,low\n",
        ),
        "rulings.csv, line 2, measured",
    ),
}
TWO_REPORTS = {"a roster in a file misnamed"}


@pytest.mark.parametrize("slip", ONE_REPORT)
def test_each_slip_gives_one_report_with_its_place(folder, slip):
    make, part = ONE_REPORT[slip]
    make(folder)

    found = refusal(folder)

    assert any(part in text for text in found), found
    assert len(found) == (2 if slip in TWO_REPORTS else 1)
    assert all("allowed: " in text for text in found)
    assert all(len(text) < 700 and text.isprintable() for text in found)


def test_an_unreadable_number_does_not_hide_other_faults(folder):
    (folder / MARKS).write_text(
        "task,pilot,method,distance,bearing,easting,northing,lat,lon\n"
        "1,1,tape,nan,,,,,\n1,2,tape,-3,,,,,\n1,3,tape,inf,,,,,\n"
        "1,4,grid,,,nan,1e400,,\n1,5,latlon,,,,,91,inf\n1,6,polar,3,361,,,,\n"
    )

    found = refusal(folder)

    fields = ["distance"] * 3 + ["easting", "northing", "lat", "lon", "bearing"]
    assert len(found) == len(fields)
    for text, field in zip(found, fields, strict=True):
        assert f", {field}: found" in text


def test_spellings_of_spreadsheets_are_read_alike(folder):
    plain = score(load(str(folder)))
    for name in ("pilots.csv", MARKS):
        text = (folder / name).read_text(encoding="utf-8")
        (folder / name).write_bytes(BOM_UTF8 + text.replace("\n", "\r\n").encode())

    assert score(load(str(folder))) == plain


def test_a_marks_file_with_semicolons_and_decimal_commas(folder):
    (folder / MARKS).write_text(
        "task;pilot;method;distance;bearing;by\n1;1;tape;40,04;;Eva\n"
        "1;2;polar;1,5 m;123,5T;Eva\n"
    )

    first, second = load(str(folder)).flights[0].keyings

    assert (first.distance_m, second.distance_m) == (40.04, 1.5)
    assert second.bearing_deg == 123.5


def test_a_place_exported_as_a_single_part_or_with_heights_is_read(folder):
    plain = load(str(folder))
    places = read_places(folder)
    for feature in places["features"]:
        geometry = feature["geometry"]
        if geometry["type"] == "Point":
            geometry["coordinates"].append(12.5)
        geometry["type"] = "Multi" + geometry["type"]
        geometry["coordinates"] = [geometry["coordinates"]]
    write_places(folder, places)

    again = load(str(folder))

    assert [p.rings for p in again.places] == [p.rings for p in plain.places]


def test_a_formula_that_failed_is_not_taken_for_a_comment(folder):
    book = Workbook()
    sheet = book.active
    for row in (("number", "name"), ("# a comment", ""), ("#REF!", "Ann"), (7.0, "Bo")):
        sheet.append(row)
    book.save(folder / "pilots.xlsx")
    (folder / "pilots.csv").unlink()

    found = refusal(folder)

    assert any('pilots.xlsx, line 3, number: found "#REF!"' in text for text in found)


def test_a_workbook_that_unpacks_to_gigabytes_is_refused(folder):
    data = io.BytesIO()
    with (
        zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as book,
        book.open("xl/sharedStrings.xml", "w", force_zip64=True) as member,
    ):
        for _ in range(520):
            member.write(bytes(2**20))
    (folder / "pilots.xlsx").write_bytes(data.getvalue())
    (folder / "pilots.csv").unlink()

    assert "found 520 MiB once unpacked" in refusal(folder)[0]


def warned(folder, kind):
    results = score(load(str(folder)))
    return [said(w) for w in results.matters if w.kind is kind]


def test_what_is_no_log_among_the_logs_is_told_and_costs_nothing_else(folder):
    logs = folder / FLIGHT / "logs"
    plain = score(load(str(folder)))
    (logs / "later").mkdir()
    (logs / "notes.docx").write_bytes(b"x")
    (logs / "lost.igc").symlink_to("nowhere")
    os.mkfifo(logs / "pipe.igc")
    (logs / "empty.igc").write_bytes(b"")
    with (logs / "vast.zip").open("wb") as file:
        file.truncate(2**31)
    (logs / ".DS_Store").write_bytes(b"x")
    (logs / "Thumbs.db").write_bytes(b"x")
    with open(os.fsencode(logs) + b"/\xff.igc", "wb") as file:  # noqa: PTH123
        file.write(b"x")

    results = score(load(str(folder)))

    texts = [said(w) for w in results.matters if w.kind is matters.LOG_BROKEN]
    names = ("later", "notes.docx", "lost.igc", "pipe.igc", "empty.igc", "vast.zip")
    for name in (*names, "\\udcff.igc"):
        assert sum(f"logs/{name}" in text for text in texts) == 1, name
    assert len(texts) == len(names) + 1
    assert results.tasks == plain.tasks


def test_pilots_without_logs_are_told_even_where_no_log_can_be_read(folder):
    for path in (folder / FLIGHT / "logs").iterdir():
        path.unlink()
    (folder / FLIGHT / "logs/all.zip").write_bytes(b"PK\3\4 no more")

    assert len(warned(folder, matters.NO_LOG)) >= 1


def test_an_assigned_log_says_where_it_was_assigned(folder):
    (folder / ASSIGNED).write_text("log,pilot\n001.igc,2\n")

    event = load(str(folder))

    assert next(log.pilot for log in event.flights[0].logs) == 2


def test_an_empty_settings_file_is_told_what_it_lacks(folder):
    (folder / "event.toml").write_bytes(b"")

    found = refusal(folder)

    assert found[0].startswith("event.toml, format: found nothing")
    assert any("event.crs: found nothing" in text for text in found)


@pytest.mark.parametrize("elevation", ["100 km", "-1 km"])
def test_no_ground_lies_that_high_or_low(folder, elevation):
    put_in(folder / "event.toml", '"215 m"', f'"{elevation}"')

    (found,) = refusal(folder)

    assert found.startswith("event.toml, line 12, event.ground_elevation: found")


def test_a_task_without_the_area_that_rules_ask_for_is_told_once(folder):
    put_in(folder / TASKS, 'scoring_area = "scoring area"\n', "")

    (found,) = warned(folder, matters.RULES)

    assert (
        "The minimum height holds until the scoring area, but the task has none"
        in found
    )


def test_a_name_with_a_lines_end_makes_no_line_of_its_own():
    fault = Fault(where="flights/a\nb: no faults", found="x\u2028y\r", allowed="z")
    assert str(fault) == "flights/a b: no faults: found x y ; allowed: z"
