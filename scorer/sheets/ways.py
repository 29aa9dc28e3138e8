"""Tracks and marks for maps and other programs: GeoJSON, KML and GPX.

Tracks come flight by flight.  Each is written when its turn comes, in all forms, and none
is held where the files of a flight are taken side by side, piece by piece.  Their files
carry neither version nor marks: they are the same in each publication of the same logs.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby, pairwise, tee
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

    @property
    def written(self) -> "Written":
        """The track as each file has it."""
        places = self._places()
        return Written(
            feature=_feature(self, places),
            placemark=_placemark(self, places),
            track=_gpx_track(self, places),
        )

    def _places(self) -> "Places":
        """Return longitude, latitude and altitude of the fixes that are written."""
        flown, kept = self.flown, self.kept
        return Places(
            lon_deg=rounded(flown.lon_deg[kept], 6),
            lat_deg=rounded(flown.lat_deg[kept], 6),
            altitude_m=rounded(flown.altitude_m[kept], 1),
        )


@dataclass(frozen=True, kw_only=True)
class Places:
    """Where the fixes of a track are, rounded as files have them."""

    lon_deg: list[float]
    lat_deg: list[float]
    altitude_m: list[float]
    """Over sea level; NaN where it was not recorded."""

    @cached_property
    def texts(self) -> list[str]:
        """Longitude, latitude and altitude with commas between them."""
        columns = self.lon_deg, self.lat_deg, self.altitude_m
        return [
            f"{lon!r},{lat!r}" if isnan(alt) else f"{lon!r},{lat!r},{alt!r}"
            for lon, lat, alt in zip(*columns, strict=True)
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A track as GeoJSON, KML and GPX have it."""

    feature: bytes
    placemark: bytes
    track: bytes


Write = Callable[[Sequence[tuple[str, int]]], Iterable[Written | None]]
"""Writes tracks, given by flight and pilot; None for one that shows no way."""


def written(flight: str, name: str, flown: Flown | None) -> Written | None:
    """Write a track, cut and thinned; None where there is none."""
    if flown is None or len(flown) < 2:
        return None
    kept = thinned(flown)
    return NamedTrack(flight=flight, name=name, flown=flown, kept=kept).written


@dataclass(frozen=True, slots=True, kw_only=True)
class Fallen:
    """A mark whose place is known."""

    title: str
    mark: MarkResult


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightFiles:
    """What one flight's files hold."""

    id: str
    event: Event
    """With the places that they show."""
    pilots: tuple[tuple[int, str], ...]
    """Numbers and names of those who have a track."""

    @property
    def voice(self) -> Voice:
        """How the event speaks."""
        return Voice.of(self.event)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackFile:
    """A file of a flight's tracks, not yet made."""

    name: str
    flight: str
    pieces: Pieces
    key: str
    """Of all that it depends on; empty where nothing is kept."""


def keyed_files(
    event: Event, tracks: Tracks, write: Write | None = None
) -> Iterator[TrackFile]:
    """Yield each flight's `tracks-FLIGHT.geojson`, `.kml` and `.gpx`: bytes in pieces.

    The GeoJSON (RFC 7946) has a line a track: longitude, latitude, altitude over sea
    level; `seconds` after `start`, `heights_m` and `height_sigmas_m` are arrays beside the
    coordinates, None where nothing was recorded.  KML 2.2 and GPX 1.1 have places as well,
    but no targets of other flights.  `write` writes tracks; by default here, one after
    another.
    """
    taken: set[str] = set()
    for flight, keys in groupby(sorted(tracks), key=itemgetter(0)):
        listed = list(keys)
        own = _flight(event, flight, listed)
        pieces = _files(own, (write or _here(event, tracks))(listed))
        for ending in FORMS:
            name = safe_name(f"tracks-{flight}.{ending}", taken)
            taken.add(name_key(name))
            key = _key(own, tracks, ending)
            yield TrackFile(name=name, flight=flight, pieces=pieces.pop(0), key=key)


def _key(own: FlightFiles, tracks: Tracks, ending: str) -> str:
    keep = keep_of(tracks)
    if not keep.holds:
        return ""
    drawn = [(key_of(tracks, (own.id, n)), name) for n, name in own.pilots]
    about = (own.id, own.event.name, own.voice.word("caution"), drawn)
    beside = () if ending == "geojson" else own.event.places
    return keep.key(f"tracks {ending}", about, beside)


def _flight(event: Event, flight: str, keys: list[tuple[str, int]]) -> FlightFiles:
    names = names_of(event)
    pilots = tuple((pilot, names.get(pilot, "")) for _, pilot in keys)
    own = replace(event, places=places_of(event, flight))
    return FlightFiles(id=flight, event=own, pilots=pilots)


def places_of(event: Event, flight: str) -> tuple[Place, ...]:
    """Return the places of a flight's files: all but the points of other flights' tasks.

    So another flight's targets change nothing in them.
    """
    own, others = (
        {
            name
            for one in event.flights
            if (one.id == flight) is mine
            for task in one.tasks
            for name in (*task.targets, *task.roles.values())
        }
        for mine in (True, False)
    )
    elsewhere = others - own
    return tuple(p for p in event.places if not p.is_point or p.name not in elsewhere)


FORMS = ("geojson", "kml", "gpx")


def _files(own: FlightFiles, made: Iterable[Written | None]) -> list[Pieces]:
    """Return the pieces of a flight's files in the order of `FORMS`."""
    one, two, three = tee((way for way in made if way is not None), len(FORMS))
    return [geojson(own, one), kml(own, two), gpx(own, three)]


def _here(event: Event, tracks: Tracks) -> Write:
    """Return what writes tracks one after another."""
    names = names_of(event)

    def write(keys: Sequence[tuple[str, int]]) -> Iterator[Written | None]:
        for key in keys:
            yield written(key[0], names.get(key[1], ""), tracks.get(key))

    return write


def names_of(event: Event) -> dict[int, str]:
    """Return the names of pilots as files have them, by number."""
    return {pilot.number: clean(pilot.name) for pilot in event.pilots}


def marks_files(results: Results, event: Event) -> Mapping[str, bytes]:
    """Return `marks.kml` and `marks.gpx`: targets, areas and all marks of an event."""
    names = names_of(event)
    marks = [
        Fallen(
            title=f"{task.task}: {score.pilot} {names.get(score.pilot, '')} {mark.mark}",
            mark=mark,
        )
        for task in results.tasks
        for score in task.scores
        for mark in score.marks
        if mark.lat_deg is not None and mark.lon_deg is not None
    ]
    title = clean(event.name)
    return {
        "marks.kml": b"".join(_kml(event, title, map(_drawn, map(_mark_drawn, marks)))),
        "marks.gpx": b"".join(_gpx(event, title, map(_mark_point, marks))),
    }


def geojson(own: FlightFiles, ways: Iterable[Written]) -> Pieces:
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
    for way in ways:
        yield between.encode() + way.feature
        between = ",\n"
    yield b"\n]}\n"


def _dumped(tree: Any) -> str:
    return json.dumps(tree, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _feature(way: NamedTrack, places: Places) -> bytes:
    flown, kept = way.flown, way.kept
    properties = {
        "flight": way.flight,
        "pilot": flown.pilot,
        "name": way.name,
        "log": clean(flown.log),
        "sha256": flown.sha256,
        "height_known_on_ground": flown.anchored,
        "start": iso(float(flown.time_s[kept[0]])),
        "seconds": _seconds(flown.time_s[kept]),
        "heights_m": _known(flown.height_m[kept]),
        "height_sigmas_m": _known(flown.height_sigma_m[kept]),
    }
    return (
        f'{{"type":"Feature","id":{_dumped(f"{way.flight}-{flown.pilot}")},'
        f'"geometry":{{"type":"LineString","coordinates":[[{"],[".join(places.texts)}]]}},'
        f'"properties":{_dumped(properties)}}}'
    ).encode()


def _seconds(time_s: NDArray[np.float64]) -> list[int]:
    """Return whole seconds after the first of some moments, as `iso` cuts them."""
    whole = np.floor(time_s).astype(np.int64)
    found: list[int] = (whole - whole[0]).tolist()
    return found


def _known(values: NDArray[np.float64]) -> list[float | None]:
    return [None if isnan(v) else v for v in rounded(values, 1)]


UNSURE = 1e-6
"""So near to half a step the product says nothing of the number itself."""


def rounded(values: NDArray[np.float64], decimals: int) -> list[float]:
    """Round numbers below a milliard, to six decimals at most, as `round` does."""
    scaled = values * 10.0**decimals
    whole = np.rint(scaled)
    found: list[float] = (whole / 10.0**decimals).tolist()
    halves = np.abs(np.abs(scaled - whole) - 0.5) < UNSURE
    for at in np.flatnonzero(halves).tolist():
        found[at] = round(float(values[at]), decimals)
    return found


def kml(own: FlightFiles, ways: Iterable[Written]) -> Pieces:
    """Yield a KML 2.2 document: areas, points, then the tracks."""
    title = f"{clean(own.event.name)} {own.id}"
    return _kml(own.event, title, (way.placemark for way in ways))


def _kml(event: Event, title: str, more: Iterable[bytes]) -> Pieces:
    """Yield a document of the places and more; what is drawn is not held."""
    simplekml.Kml.resetidcounter()
    head = (
        b'<?xml version="1.0" encoding="UTF-8"?>\n'
        b'<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>\n'
    )
    yield b"".join(
        (
            head,
            _element("name", text=title),
            _element("description", text=Voice.of(event).word("caution")),
            *map(_drawn, map(_place_drawn, event.places)),
        )
    )
    yield from more
    yield b"</Document>\n</kml>\n"


def _drawn(one: Any) -> bytes:
    return f"{one.placemark}\n".encode()


def _place_drawn(place: Place) -> Any:
    name, (edge, *holes) = clean(place.name), place.rings
    if place.is_point:
        return simplekml.Kml().newpoint(name=name, coords=edge)
    return simplekml.Kml().newpolygon(
        name=name, outerboundaryis=edge, innerboundaryis=holes
    )


def _mark_drawn(fallen: Fallen) -> Any:
    where = [(fallen.mark.lon_deg, fallen.mark.lat_deg)]
    point = simplekml.Kml().newpoint(name=clean(fallen.title), coords=where)
    if fallen.mark.time_s is not None:
        point.timestamp.when = iso(fallen.mark.time_s)
    return point


def _placemark(way: NamedTrack, places: Places) -> bytes:
    """Return a track as KML has it; without a number, for many write at once."""
    first_s, *_, last_s = way.flown.time_s[way.kept].tolist()
    made = Element("Placemark")
    SubElement(made, "name").text = way.title
    span = SubElement(made, "TimeSpan")
    SubElement(span, "begin").text = iso(first_s)
    SubElement(span, "end").text = iso(last_s)
    line = SubElement(made, "LineString")
    SubElement(line, "altitudeMode").text = "absolute"
    SubElement(line, "coordinates").text = " ".join(places.texts)
    return _bytes(made)


def gpx(own: FlightFiles, ways: Iterable[Written]) -> Pieces:
    """Yield a GPX 1.1 document: points as waypoints, then the tracks."""
    title = f"{clean(own.event.name)} {own.id}"
    return _gpx(own.event, title, (way.track for way in ways))


def _gpx(event: Event, title: str, more: Iterable[bytes]) -> Pieces:
    """Yield a document of the event's points and more."""
    about = Element("metadata")
    SubElement(about, "name").text = title
    SubElement(about, "desc").text = Voice.of(event).word("caution")
    points = [
        _waypoint(*place.rings[0][0], clean(place.name))
        for place in event.places
        if place.is_point
    ]
    head = (
        b'<?xml version="1.0" encoding="UTF-8"?>\n'
        b'<gpx version="1.1" creator="sandtail" xmlns="http://www.topografix.com/GPX/1/1">\n'
    )
    yield b"".join((head, _bytes(about), *points))
    yield from more
    yield b"</gpx>\n"


def _mark_point(fallen: Fallen) -> bytes:
    mark = fallen.mark
    where = mark.lon_deg or 0.0, mark.lat_deg or 0.0
    return _waypoint(*where, clean(fallen.title), mark.time_s)


def _gpx_track(way: NamedTrack, places: Places) -> bytes:
    """Return a track; a pause of the log begins a new segment.

    Its points are numbers alone, so they are printed as they stand: there is nothing to
    escape, and a tree of them would take ten times as long.
    """
    made = Element("trk")
    SubElement(made, "name").text = way.title
    SubElement(made, "number").text = str(way.flown.pilot)
    whole = way.flown.time_s[way.kept].astype(np.int64).astype("datetime64[s]")
    times = np.datetime_as_string(whole).tolist()
    columns = places.lat_deg, places.lon_deg, places.altitude_m, times
    points = list(map(_gpx_point, *columns))
    pauses = [part.start for part in stretches(way.flown.time_s)]
    cuts = np.unique([0, *np.searchsorted(way.kept, pauses), len(points)]).tolist()
    segments = (
        f"<trkseg>{''.join(points[one:other])}</trkseg>"
        for one, other in pairwise(cuts)
    )
    opened, end = _bytes(made).rsplit(b"</trk>", 1)
    return b"".join((opened, "".join(segments).encode(), b"</trk>", end))


def _gpx_point(lat: float, lon: float, alt: float, when: str) -> str:
    high = "" if isnan(alt) else f"<ele>{alt}</ele>"
    return f'<trkpt lat="{lat:.6f}" lon="{lon:.6f}">{high}<time>{when}Z</time></trkpt>'


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
