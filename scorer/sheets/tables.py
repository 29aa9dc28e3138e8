"""Data for programs: CSV and JSON of every table, GeoJSON of marks and tracks."""

import csv
import io
import json
from collections.abc import Iterator, Mapping
from itertools import groupby
from math import isnan
from operator import itemgetter
from typing import Any

import numpy as np

from scorer.event.model import Event
from scorer.files import name_key, safe_name
from scorer.rounding import shown
from scorer.scoring.document import to_json
from scorer.scoring.results import MarkResult, Results, Score, TaskResult
from scorer.sheets.pictures import Tracks
from scorer.sheets.records import Table, Value, all_tables, iso
from scorer.sheets.sheet import Sheet, clean
from scorer.sheets.stamp import Stamp
from scorer.tracks.flown import Flown
from scorer.words.catalogue import message

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def write_tables(results: Results, event: Event, stamp: Stamp) -> Mapping[str, bytes]:
    """Return all tables of a publication by file name.

    `results.json` (format 1, see `results.schema.json`), a CSV for each table,
    `tables.json` with the same tables, and `marks.geojson`.  A text in a CSV that a
    spreadsheet would take for a formula begins with an apostrophe; the JSON files hold
    names as they are.
    """
    sheet = Sheet(results=results, event=event, stamp=stamp)
    tables = all_tables(sheet)
    made = {
        "results.json": to_json(results).encode("utf-8"),
        "tables.json": _json(_tables_tree(sheet, tables)),
        "marks.geojson": _json(marks_geojson(sheet)),
    }
    made.update((f"{t.name}.csv", csv_bytes(sheet, t)) for t in tables)
    return made


def csv_bytes(sheet: Sheet, table: Table) -> bytes:
    """Return a table as CSV: UTF-8 with BOM, comma, facts in comment lines first."""
    text = io.StringIO()
    for label, value in (
        *sheet.facts,
        *(
            [(sheet.word("fact-caution"), sheet.word("caution"))]
            if table.heights
            else []
        ),
    ):
        text.write(f"# {label}: {value}\r\n")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([harmless(column.key) for column in table.columns])
    writer.writerows([[harmless(value) for value in row] for row in table.rows])
    return text.getvalue().encode("utf-8-sig")


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
    text = json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False)
    return f"{text}\n".encode()


def about(sheet: Sheet) -> dict[str, Any]:
    """Return what every file states, for programs."""
    stamp = sheet.stamp
    return {
        "event": sheet.event_name,
        "state": "draft" if stamp.weakest is None else stamp.weakest.value,
        "version": stamp.version,
        "published_at": stamp.published_at or None,
        "complaint_end": stamp.complaint_end or None,
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


def _tables_tree(sheet: Sheet, tables: tuple[Table, ...]) -> dict[str, Any]:
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


def track_files(event: Event, tracks: Tracks) -> Iterator[tuple[str, Iterator[bytes]]]:
    """Yield the tracks of each flight: `tracks-FLIGHT.geojson`, and its bytes in pieces.

    A feature collection of line strings, one a line: longitude, latitude, altitude at
    sea level.  `times`, `heights_m` and `height_sigmas_m` are arrays beside the
    coordinates; None where nothing was recorded.  A track is made when its turn comes,
    and no two are in hand at once.  The files carry no version: they are the same in
    each that counts the same logs.
    """
    names = {pilot.number: clean(pilot.name) for pilot in event.pilots}
    taken: set[str] = set()
    for flight, keys in groupby(sorted(tracks), key=itemgetter(0)):
        name = safe_name(f"tracks-{flight}.geojson", taken)
        taken.add(name_key(name))
        yield name, _flight(event, tracks, names, list(keys))


def _flight(
    event: Event, tracks: Tracks, names: Mapping[int, str], keys: list[tuple[str, int]]
) -> Iterator[bytes]:
    about_ = {
        "event": clean(event.name),
        "flight": keys[0][0],
        "caution": message("caution", {}),
    }
    head = json.dumps(about_, ensure_ascii=False)
    yield f'{{"type": "FeatureCollection", "about": {head}, "features": ['.encode()
    between = "\n"
    for key in keys:
        flown = tracks.get(key)
        if flown is not None and len(flown) > 1:
            feature = _track(key[0], names.get(flown.pilot, ""), flown)
            text = json.dumps(feature, ensure_ascii=False, allow_nan=False)
            yield f"{between}{text}".encode()
            between = ",\n"
    yield b"\n]}\n"


def _track(flight: str, name: str, flown: Flown) -> dict[str, Any]:
    return {
        "type": "Feature",
        "id": f"{flight}-{flown.pilot}",
        "geometry": {"type": "LineString", "coordinates": list(_coordinates(flown))},
        "properties": {
            "flight": flight,
            "pilot": flown.pilot,
            "name": name,
            "log": clean(flown.log),
            "sha256": flown.sha256,
            "height_known_on_ground": flown.anchored,
            "times": [iso(t) for t in flown.time_s.tolist()],
            "heights_m": _rounded(flown.height_m),
            "height_sigmas_m": _rounded(flown.height_sigma_m),
        },
    }


def _coordinates(flown: Flown) -> Iterator[list[float]]:
    places = np.column_stack([flown.lon_deg, flown.lat_deg, flown.altitude_m])
    for lon, lat, alt in places.tolist():
        high = [] if isnan(alt) else [round(alt, 1)]
        yield [round(lon, 6), round(lat, 6), *high]


def _rounded(values: np.ndarray[Any, np.dtype[np.float64]]) -> list[float | None]:
    return [None if isnan(v) else round(v, 1) for v in values.tolist()]
