"""Data for programs: CSV and JSON of every table; marks and places for maps."""

import csv
import io
import json
from collections.abc import Iterable, Mapping
from typing import Any

from shapely.geometry import Polygon, mapping
from shapely.geometry.polygon import orient

from scorer.event.model import Event, Place
from scorer.rounding import shown
from scorer.scoring.document import to_json
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import MarkResult, Results, Score, TaskResult
from scorer.sheets.records import SheetTable, Value, all_tables, iso
from scorer.sheets.schema import results_schema
from scorer.sheets.sheet import Sheet, clean
from scorer.sheets.stamp import Stamp
from scorer.sheets.ways import marks_files

CSV_ABOUT = "csv-metadata.json"
"""Named as the standard has it, so that programs find it beside the tables."""
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def write_tables(
    results: Results,
    event: Event,
    stamp: Stamp,
    document: bytes = b"",
    *,
    keep: Keep = NOTHING_KEPT,
) -> Mapping[str, bytes]:
    """Return all tables of a publication by file name.

    `document` is results.json where it was made already; `keep` has what was made of
    tasks and logs before.

    `results.json` (format 1) with its schema beside it, a CSV for each table with
    `csv-metadata.json` that says what they are (W3C, CSV on the Web), `tables.json` with
    the same tables, `marks.geojson` and `places.geojson`, and both once more as
    `marks.kml` and `marks.gpx`.  A text in a CSV that a spreadsheet would take for a
    formula begins with an apostrophe; the JSON files hold names as they are.
    """
    sheet = Sheet(results=results, event=event, stamp=stamp, keep=keep)
    tables = all_tables(sheet)
    made = {
        "results.json": document or to_json(results).encode("utf-8"),
        "results.schema.json": _json(results_schema()),
        "tables.json": _json(_tables_tree(sheet, tables)),
        "marks.geojson": _json(marks_geojson(sheet)),
        "places.geojson": _json(places_geojson(sheet)),
        **marks_files(results, event),
        CSV_ABOUT: _json(csv_about(sheet, tables)),
    }
    made.update((f"{t.name}.csv", csv_bytes(t)) for t in tables)
    return made


def csv_bytes(table: SheetTable) -> bytes:
    """Return a table as CSV: UTF-8 with BOM, comma, the keys of the columns first."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([harmless(column.key) for column in table.columns])
    writer.writerows([[harmless(value) for value in row] for row in table.rows])
    return text.getvalue().encode("utf-8-sig")


def csv_about(sheet: Sheet, tables: tuple[SheetTable, ...]) -> dict[str, Any]:
    """Say what the CSV files are: W3C, Metadata Vocabulary for Tabular Data (2015)."""
    return {
        "@context": ["http://www.w3.org/ns/csvw", {"@language": sheet.voice.language}],
        "dc:title": sheet.event_name,
        "dc:description": sheet.word("caution"),
        "dc:issued": sheet.stamp.published_at or None,
        "dc:provenance": [f"{label}: {value}" for label, value in sheet.facts],
        "tables": [
            {
                "url": f"{table.name}.csv",
                "dc:title": table.title,
                **_carried(sheet, table),
                "dialect": {"header": True, "encoding": "utf-8"},
                "tableSchema": {
                    "columns": [
                        {
                            "name": column.key,
                            "titles": column.title,
                            "datatype": _datatype(row[n] for row in table.rows),
                        }
                        for n, column in enumerate(table.columns)
                    ]
                },
            }
            for table in tables
        ],
    }


def _carried(sheet: Sheet, table: SheetTable) -> dict[str, str]:
    """Return the caution of a table of its own."""
    return {"dc:description": sheet.word(table.caution)} if table.caution else {}


def _datatype(values: Iterable[Value]) -> str | dict[str, str]:
    """Return what a column holds, in the words of XML Schema."""
    kinds = {type(value) for value in values if value is not None}
    if kinds == {bool}:
        return {"base": "boolean", "format": "yes|no"}
    if kinds == {int}:
        return "integer"
    return "double" if kinds and kinds <= {int, float} else "string"


def harmless(value: Value) -> str:
    """Print a value for CSV; text that could run as a formula gets an apostrophe.

    Numbers stay numbers: a minus sign before a number is no formula.
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return repr(value)
    return f"'{value}" if value.lstrip().startswith(FORMULA_STARTS) else value


def _json(tree: Any) -> bytes:
    return f"{_spread(tree)}\n".encode()


def _spread(tree: Any) -> str:
    """Print a tree with a line for each entry of its mappings and for each row.

    Python's own indentation takes five times as long, and a line for each number.
    """
    if isinstance(tree, dict) and any(
        isinstance(v, dict | list) for v in tree.values()
    ):
        pairs = (
            f"{_plainly(str(key))}: {_spread(value)}" for key, value in tree.items()
        )
        return "{\n" + ",\n".join(pairs) + "\n}"
    if isinstance(tree, list) and any(isinstance(one, dict) for one in tree):
        return "[\n" + ",\n".join(map(_plainly, tree)) + "\n]"
    return _plainly(tree)


_plainly = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def about(sheet: Sheet) -> dict[str, Any]:
    """Return what every file states, for programs."""
    stamp, own = sheet.stamp, sheet.stamp.of_standings
    return {
        "event": sheet.event_name,
        "state": "draft" if own.state is None else own.state.value,
        "version": stamp.version,
        "published_at": own.published_at or None,
        "complaint_end": own.complaint_end or None,
        "published_by": clean(stamp.by),
        "why": clean(stamp.why),
        "tasks": [
            {
                "task": own.task,
                "state": "draft" if own.state is None else own.state.value,
                "version": own.version,
                "published_at": own.published_at or None,
                "complaint_end": own.complaint_end or None,
            }
            for own in stamp.tasks
        ],
        "rules": sheet.event.book.title,
        "results_sha256": stamp.results_sha256,
        "caution": sheet.word("caution"),
    }


def _tables_tree(sheet: Sheet, tables: tuple[SheetTable, ...]) -> dict[str, Any]:
    return {
        "about": about(sheet),
        "tables": {
            table.name: {
                "title": table.title,
                "columns": [{"key": c.key, "title": c.title} for c in table.columns],
                "rows": [
                    dict(zip([c.key for c in table.columns], row, strict=True))
                    for row in table.rows
                ],
            }
            for table in tables
        },
    }


def marks_geojson(sheet: Sheet) -> dict[str, Any]:
    """Return all marks whose place is known as a feature collection (RFC 7946)."""
    features = [
        _mark(sheet, task, score, mark)
        for task in sheet.results.tasks
        for score in task.scores
        for mark in score.marks
        if mark.lat_deg is not None and mark.lon_deg is not None
    ]
    return {"type": "FeatureCollection", "about": about(sheet), "features": features}


def places_geojson(sheet: Sheet) -> dict[str, Any]:
    """Return all targets, points and areas of the event (RFC 7946), with their tasks."""
    features = [_place(sheet, place) for place in sheet.event.places]
    return {"type": "FeatureCollection", "about": about(sheet), "features": features}


def _place(sheet: Sheet, place: Place) -> dict[str, Any]:
    corners = [[[shown(x, 7), shown(y, 7)] for x, y in ring] for ring in place.rings]
    geometry = (
        {"type": "Point", "coordinates": corners[0][0]}
        if place.is_point
        else mapping(orient(Polygon(corners[0], corners[1:])))
    )
    return {
        "type": "Feature",
        "id": place.name,
        "geometry": geometry,
        "properties": {
            "name": clean(place.name),
            "kind": sheet.voice.word(f"place-kind-{place.kind.name}"),
            "tasks": [
                task.number
                for task in sheet.event.tasks
                if place.name in {*task.targets, *task.scoring_areas}
                or place.name in task.roles.values()
            ],
            "lower_m": place.lower_m,
            "upper_m": place.upper_m,
        },
    }


def _mark(
    sheet: Sheet, task: TaskResult, score: Score, mark: MarkResult
) -> dict[str, Any]:
    return {
        "type": "Feature",
        "id": f"{task.task}-{score.pilot}-{mark.mark}",
        "geometry": {
            "type": "Point",
            "coordinates": [
                shown(mark.lon_deg or 0.0, 7),
                shown(mark.lat_deg or 0.0, 7),
            ],
        },
        "properties": {
            "task": task.task,
            "pilot": score.pilot,
            "name": sheet.name(score.pilot),
            "mark": mark.mark,
            "method": mark.method,
            "distance_m": None
            if mark.distance_m is None
            else shown(mark.distance_m, 4),
            "sigma_m": shown(mark.sigma_m, 4),
            "time": iso(mark.time_s),
        },
    }
