"""Read GPX 1.0 and 1.1.

Source: the GPX 1.0 and 1.1 schemas (topografix.com/GPX/1/0, /GPX/1/1): positions are
WGS84, times UTC, `ele` metres without a stated datum.
"""

from datetime import date

import numpy as np

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.facts import number as number_value
from scorer.facts import words
from scorer.tracks.fixes import UERE_M, About, Fixes, Repairs, build_track, no_fix
from scorer.tracks.flown import Array, LogMark
from scorer.tracks.gpx_points import Points, plain_points
from scorer.tracks.gpx_xml import DoctypeError, ExcessError, GpxDocument, Point, parse
from scorer.tracks.lines import number, printable, refuse_oversize, too_big
from scorer.tracks.order import Spans
from scorer.tracks.times import iso_seconds
from scorer.tracks.track import Datum, Track


def read_gpx(
    blob: Blob,
    *,
    near_date: date | None = None,
    time_zone: str | None = None,
    periods: Spans = (),
) -> Track:
    """Read the tracks of a GPX file as one; its waypoints become marks.

    `time_zone` and `periods` are not used: GPX times are UTC and have dates.
    Raises InputError when the file is no GPX, holds no track or states no times.
    """
    del time_zone, periods
    refuse_oversize(blob)
    repairs = Repairs()
    points, document = _parse(blob, repairs)
    if not len(points):
        raise _no_track(blob, document)
    if np.isnan(points.time_s).all():
        raise _no_times(blob, points)
    loose = points.line[points.zoneless]
    repairs.note("no-zone", loose)
    fixes = _fixes(points)
    fixes = repairs.drop(fixes, points.no_fix, "no-position")
    about = About(
        format="gpx",
        gnss_datum=Datum.UNKNOWN,
        headers=document.headers,
        marks=_marks(document, repairs),
    )
    return build_track(blob, fixes, about, repairs, near_date)


def _parse(blob: Blob, repairs: Repairs) -> tuple[Points, GpxDocument]:
    """Read what stands in the file, up to the first fault in its XML."""
    try:
        plain, document = _read(blob.data)
    except DoctypeError as error:
        text = "a document type declaration (DOCTYPE)"
        remedy = "Export the track again without it; a log needs none"
        raise _fault(blob, error.line, text, remedy) from None
    except ExcessError as error:
        raise too_big(blob, error.found, error.allowed) from None
    if broken := document.broken:
        if not document.track:
            found = f"a file that is no XML from here on ({broken.reason})"
            raise _fault(blob, broken.line, found)
        line, reason = number_value(broken.line), words(broken.reason)
        repairs.note("broken-off", [broken.line], line=line, reason=reason)
    if document.root != "gpx":
        raise _fault(blob, 1, f"XML of a <{printable(document.root)}>")
    return document.points() if plain is None else plain, document


def _read(xml: bytes) -> tuple[Points | None, GpxDocument]:
    """Read the points the fast way if the file allows it, and all else by the parser.

    The order bounds what the parser can be made to hold: `plain_points` has seen how deep
    the track is nested, and Document the rest, before the whole is checked.
    """
    if plain := plain_points(xml):
        points, rest = plain
        document = GpxDocument(rest)
        if not document.broken and not parse(xml):
            return points, document
    return None, GpxDocument(xml)


def _fault(blob: Blob, line: int, found: str, remedy: str = "") -> InputError:
    allowed = "a GPX 1.0 or 1.1 track"
    return InputError(
        [Fault(where=blob.name, line=line, found=found, allowed=allowed, remedy=remedy)]
    )


def _no_track(blob: Blob, document: GpxDocument) -> InputError:
    if document.route_points:
        text = f"a route of {document.route_points} points, a plan and no recording"
    elif document.waypoints:
        text = f"{len(document.waypoints)} waypoints and no track"
    else:
        return no_fix(blob, "gpx", Repairs())
    return _fault(blob, 1, text, "Export the recorded track of the flight")


def _no_times(blob: Blob, points: Points) -> InputError:
    text = (
        f"a track of {len(points)} points without readable times: it cannot tell when or"
        " whether it was flown"
    )
    remedy = "Export the recorded track with its times; a drawn one is no evidence"
    return _fault(blob, int(points.line[0]), text, remedy)


def _fixes(points: Points) -> Fixes:
    return Fixes(
        line=points.line,
        part=points.part,
        time_s=points.time_s,
        lat_deg=points.lat_deg,
        lon_deg=points.lon_deg,
        valid_3d=~points.flat & ~np.isnan(points.ele_m),
        gnss_alt_m=points.ele_m,
        accuracy_m=_positive(points.hdop) * UERE_M,
        satellites=_positive(points.satellites),
    )


def _positive(values: Array) -> Array:
    return np.where(values > 0, values, np.nan)


def _marks(document: GpxDocument, repairs: Repairs) -> tuple[LogMark, ...]:
    """Turn waypoints with a time into marks."""
    waypoints, further = document.waypoints, document.further_waypoints
    lines = np.array([p.line for p in waypoints], dtype=np.int64)
    time_s, _ = iso_seconds([p.fields.get("time", "") for p in waypoints])
    timeless = lines[np.isnan(time_s)]
    repairs.note("mark-without-time", timeless)
    repairs.note("too-many-marks", further)
    pairs = zip(waypoints, time_s.tolist(), strict=True)
    return tuple(_mark(p, moment) for p, moment in pairs if not np.isnan(moment))


def _mark(point: Point, time_s: float) -> LogMark:
    lat, lon, alt = (number(t) for t in (point.lat, point.lon, _ele(point)))
    on_earth = abs(lat) <= 90 and abs(lon) <= 180
    return LogMark(
        time_s=time_s,
        label=printable(point.fields.get("name", "")),
        lat_deg=lat if on_earth else None,
        lon_deg=lon if on_earth else None,
        alt_m=None if np.isnan(alt) else alt,
    )


def _ele(point: Point) -> str:
    return point.fields.get("ele", "")
