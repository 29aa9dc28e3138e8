"""Tracks and marks for maps and other programs: GeoJSON, KML and GPX, flight by flight.

A track is made when its turn comes, and no two are in hand at once.  The files carry no
version: they are the same in each publication of the same logs and marks.
"""

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import groupby
from math import isnan
from operator import itemgetter
from typing import Any
from xml.etree.ElementTree import Element, SubElement, tostring

import numpy as np
import simplekml
from numpy.typing import NDArray

from scorer.event.model import Event, Place
from scorer.files import name_key, safe_name
from scorer.scoring.results import MarkResult, Results
from scorer.sheets.flights import Tracks, keep_of, key_of
from scorer.sheets.records import iso
from scorer.sheets.scene import stretches
from scorer.sheets.sheet import clean
from scorer.sheets.thinned import THINNED_M, thinned
from scorer.tracks.flown import Flown
from scorer.words.voice import Voice

Pieces = Iterator[bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedTrack:
    """A track with whose it is."""

    flight: str
    name: str
    flown: Flown
    kept: NDArray[np.int64]
    """The fixes that are written."""

    @property
    def title(self) -> str:
        """Number and name of the pilot."""
        return f"{self.flown.pilot} {self.name}".strip()

    def fixes(self) -> Iterator[tuple[float, float, float, float]]:
        """Yield time, longitude, latitude and altitude of each fix that is written."""
        flown = self.flown
        columns = (flown.time_s, flown.lon_deg, flown.lat_deg, flown.altitude_m)
        return zip(*(column[self.kept].tolist() for column in columns), strict=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fallen:
    """A mark whose place is known."""

    task: int
    title: str
    mark: MarkResult


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightFiles:
    """What one flight's files hold."""

    id: str
    event: Event
    marks: tuple[Fallen, ...]
    pilots: tuple[tuple[int, str], ...]
    """Numbers and names of those who have a track."""
    ways: Callable[[], Iterator[NamedTrack]]

    @property
    def voice(self) -> Voice:
        """How the event speaks."""
        return Voice.of(self.event)

    @property
    def places(self) -> tuple[Place, ...]:
        """Targets, points and areas."""
        return self.event.places


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackFile:
    """A file of a flight's tracks, not yet made."""

    name: str
    flight: str
    pieces: Pieces
    key: str
    """Of all that it depends on; empty where nothing is kept."""


def keyed_files(results: Results, event: Event, tracks: Tracks) -> Iterator[TrackFile]:
    """Yield each flight's `tracks-FLIGHT.geojson`, `.kml` and `.gpx`: bytes in pieces.

    The GeoJSON (RFC 7946) has a line a track: longitude, latitude, altitude over sea
    level; `seconds` after `start`, `heights_m` and `height_sigmas_m` are arrays beside the
    coordinates, None where nothing was recorded.  KML 2.2 and GPX 1.1 have targets and
    marks as well.
    """
    taken: set[str] = set()
    for flight, keys in groupby(sorted(tracks), key=itemgetter(0)):
        own = _flight(results, event, tracks, flight, list(keys))
        for ending, write in (("geojson", geojson), ("kml", kml), ("gpx", gpx)):
            name = safe_name(f"tracks-{flight}.{ending}", taken)
            taken.add(name_key(name))
            key = _key(own, tracks, ending)
            yield TrackFile(name=name, flight=flight, pieces=write(own), key=key)


def _key(own: FlightFiles, tracks: Tracks, ending: str) -> str:
    keep = keep_of(tracks)
    if not keep.holds:
        return ""
    drawn = [(key_of(tracks, (own.id, n)), name) for n, name in own.pilots]
    about = (own.id, own.event.name, own.voice, drawn)
    beside = () if ending == "geojson" else (own.places, own.marks)
    return keep.key(f"tracks {ending}", about, beside)


def _flight(
    results: Results,
    event: Event,
    tracks: Tracks,
    flight: str,
    keys: list[tuple[str, int]],
) -> FlightFiles:
    names = {pilot.number: clean(pilot.name) for pilot in event.pilots}

    known: dict[tuple[str, int], NDArray[np.int64]] = {}

    def ways() -> Iterator[NamedTrack]:
        for key in keys:
            flown = tracks.get(key)
            if flown is not None and len(flown) > 1:
                if key not in known:
                    known[key] = thinned(flown)
                name = names.get(flown.pilot, "")
                yield NamedTrack(flight=flight, name=name, flown=flown, kept=known[key])

    marks = tuple(
        Fallen(
            task=task.task,
            title=f"{task.task}: {score.pilot} {names.get(score.pilot, '')} {mark.mark}",
            mark=mark,
        )
        for task in results.tasks
        if task.flight == flight
        for score in task.scores
        for mark in score.marks
        if mark.lat_deg is not None and mark.lon_deg is not None
    )
    pilots = tuple((pilot, names.get(pilot, "")) for _, pilot in keys)
    return FlightFiles(id=flight, event=event, marks=marks, pilots=pilots, ways=ways)


def geojson(own: FlightFiles) -> Pieces:
    """Yield a feature collection of tracks, one a line."""
    about = {
        "event": clean(own.event.name),
        "flight": own.id,
        "caution": own.voice.word("caution"),
        "thinned_to_m": THINNED_M,
    }
    head = _dumped(about)
    yield f'{{"type": "FeatureCollection", "about": {head}, "features": ['.encode()
    between = "\n"
    for way in own.ways():
        text = _dumped(_feature(way))
        yield f"{between}{text}".encode()
        between = ",\n"
    yield b"\n]}\n"


def _dumped(tree: Any) -> str:
    return json.dumps(tree, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _feature(way: NamedTrack) -> dict[str, Any]:
    flown, kept = way.flown, way.kept
    return {
        "type": "Feature",
        "id": f"{way.flight}-{flown.pilot}",
        "geometry": {
            "type": "LineString",
            "coordinates": [_place(*fix) for fix in way.fixes()],
        },
        "properties": {
            "flight": way.flight,
            "pilot": flown.pilot,
            "name": way.name,
            "log": clean(flown.log),
            "sha256": flown.sha256,
            "height_known_on_ground": flown.anchored,
            "start": iso(float(flown.time_s[kept[0]])),
            "seconds": _seconds(flown.time_s[kept]),
            "heights_m": _rounded(flown.height_m[kept]),
            "height_sigmas_m": _rounded(flown.height_sigma_m[kept]),
        },
    }


def _place(_time_s: float, lon: float, lat: float, alt: float) -> list[float]:
    high = [] if isnan(alt) else [round(alt, 1)]
    return [round(lon, 6), round(lat, 6), *high]


def _seconds(time_s: NDArray[np.float64]) -> list[int]:
    """Return whole seconds after the first of some moments, as `iso` cuts them."""
    whole = np.floor(time_s).astype(np.int64)
    return [int(s) for s in whole - whole[0]]


def _rounded(values: NDArray[np.float64]) -> list[float | None]:
    return [None if isnan(v) else round(v, 1) for v in values.tolist()]


def kml(own: FlightFiles) -> Pieces:
    """Yield a KML 2.2 document: areas, points, marks, then the tracks."""
    simplekml.Kml.resetidcounter()
    yield (
        b'<?xml version="1.0" encoding="UTF-8"?>\n'
        b'<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>\n'
    )
    yield _element("name", text=f"{clean(own.event.name)} {own.id}")
    yield _element("description", text=own.voice.word("caution"))
    for drawn in _drawn(own):
        yield f"{drawn.placemark}\n".encode()
    yield b"</Document>\n</kml>\n"


def _drawn(own: FlightFiles) -> Iterator[Any]:
    """Yield what a KML document shows, each in a document of its own: none is held."""
    for place in own.places:
        name, (edge, *holes) = clean(place.name), place.rings
        if place.is_point:
            yield simplekml.Kml().newpoint(name=name, coords=edge)
        else:
            yield simplekml.Kml().newpolygon(
                name=name, outerboundaryis=edge, innerboundaryis=holes
            )
    for fallen in own.marks:
        where = [(fallen.mark.lon_deg, fallen.mark.lat_deg)]
        point = simplekml.Kml().newpoint(name=clean(fallen.title), coords=where)
        if fallen.mark.time_s is not None:
            point.timestamp.when = iso(fallen.mark.time_s)
        yield point
    for way in own.ways():
        line = simplekml.Kml().newlinestring(
            name=way.title,
            coords=[_place(*fix) for fix in way.fixes()],
            altitudemode=simplekml.AltitudeMode.absolute,
        )
        first_s, *_, last_s = way.flown.time_s[way.kept].tolist()
        line.timespan.begin, line.timespan.end = iso(first_s), iso(last_s)
        yield line


def gpx(own: FlightFiles) -> Pieces:
    """Yield a GPX 1.1 document: points and marks as waypoints, then the tracks."""
    yield (
        b'<?xml version="1.0" encoding="UTF-8"?>\n'
        b'<gpx version="1.1" creator="sandtail" xmlns="http://www.topografix.com/GPX/1/1">\n'
    )
    about = Element("metadata")
    SubElement(about, "name").text = f"{clean(own.event.name)} {own.id}"
    SubElement(about, "desc").text = own.voice.word("caution")
    yield _bytes(about)
    for place in own.places:
        if place.is_point:
            yield _waypoint(*place.rings[0][0], clean(place.name))
    for fallen in own.marks:
        mark = fallen.mark
        yield _waypoint(
            mark.lon_deg or 0.0, mark.lat_deg or 0.0, clean(fallen.title), mark.time_s
        )
    for way in own.ways():
        yield from _gpx_track(way)
    yield b"</gpx>\n"


def _gpx_track(way: NamedTrack) -> Pieces:
    """Yield a track; a pause of the log begins a new segment."""
    made = Element("trk")
    SubElement(made, "name").text = way.title
    SubElement(made, "number").text = str(way.flown.pilot)
    segment: Element | None = None
    pauses = {part.start for part in stretches(way.flown.time_s)}
    for index, (time_s, lon, lat, alt) in zip(
        way.kept.tolist(), way.fixes(), strict=True
    ):
        if segment is None or index in pauses:
            segment = SubElement(made, "trkseg")
        point = SubElement(segment, "trkpt", lat=f"{lat:.6f}", lon=f"{lon:.6f}")
        if not isnan(alt):
            SubElement(point, "ele").text = f"{alt:.1f}"
        SubElement(point, "time").text = iso(time_s)
    yield _bytes(made)


def _waypoint(lon: float, lat: float, name: str, time_s: float | None = None) -> bytes:
    made = Element("wpt", lat=f"{lat:.7f}", lon=f"{lon:.7f}")
    if time_s is not None:
        SubElement(made, "time").text = iso(time_s)
    SubElement(made, "name").text = name
    return _bytes(made)


def _element(tag: str, *, text: str) -> bytes:
    made = Element(tag)
    made.text = text
    return _bytes(made)


def _bytes(element: Element) -> bytes:
    return tostring(element, encoding="unicode").encode() + b"\n"
