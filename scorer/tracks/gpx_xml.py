"""What expat meets in a GPX file: headers, waypoints, and points where need be.

A document type declaration is refused before anything in it is looked at: with none,
there are no entities to expand or to fetch.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NoReturn
from xml.parsers import expat

import numpy as np

from scorer.tracks.gpx_points import FIELDS, MAX_DEPTH, Points
from scorer.tracks.lines import printable

_HEADERS = {
    ("gpx", "author"): "pilot",
    ("gpx", "metadata", "author", "name"): "pilot",
    ("gpx", "trk", "name"): "track",
}
_POINTS = frozenset({"trkpt", "wpt"})
_CHILDREN = frozenset({*FIELDS, "name"})


MAX_POINTS = 500_000
"""Track points the parser keeps: four days at one a second are 345,600."""
MAX_MARKS = 10_000
"""Waypoints kept; further ones are counted."""


class ExcessError(Exception):
    """A file holds more than any logger writes."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(found)
        self.found, self.allowed = found, allowed


class DoctypeError(Exception):
    """A file declares a document type; `line` says where."""

    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """Where and why a file stops being XML."""

    line: int
    reason: str


def parse(
    xml: bytes,
    start: Callable[[str, dict[str, str]], None] | None = None,
    end: Callable[[str], None] | None = None,
    parser: expat.XMLParserType | None = None,
) -> Broken | None:
    """Parse XML, calling back for each element; return where it breaks off, if it does.

    Raises DoctypeError at a document type declaration.
    """
    parser = parser or expat.ParserCreate()
    known = parser

    def refuse(*_: object) -> NoReturn:
        raise DoctypeError(known.CurrentLineNumber)

    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    try:
        parser.Parse(xml, True)
    except (expat.ExpatError, LookupError, ValueError) as error:
        return Broken(line=parser.ErrorLineNumber, reason=printable(str(error)))
    finally:  # so that the parser and what it read are freed at once
        parser.StartDoctypeDeclHandler = None
        parser.StartElementHandler = parser.EndElementHandler = None
        parser.CharacterDataHandler = None
    return None


@dataclass(slots=True, kw_only=True)
class Point:
    """A track point or waypoint as written."""

    lat: str
    lon: str
    line: int
    part: int
    fields: dict[str, str]


class GpxDocument:
    """All of a GPX file that matters here."""

    def __init__(self, xml: bytes) -> None:
        self.track: list[Point] = []
        self.waypoints: list[Point] = []
        self.further_waypoints: list[int] = []
        """Lines of those beyond MAX_MARKS."""
        self.route_points = 0
        self.headers: dict[str, str] = {}
        self.root = ""
        self._local: dict[str, str] = {}
        self._path: list[str] = []
        self._point: Point | None = None
        self._depth = 0
        self._part = 0
        self._text: list[str] = []
        self._parser = expat.ParserCreate()
        self.broken = parse(xml, self._start, self._end, self._parser)

    def points(self) -> Points:
        """Return the track points as columns."""
        fields = {name: [p.fields.get(name, "") for p in self.track] for name in FIELDS}
        fields["lat"] = [p.lat for p in self.track]
        fields["lon"] = [p.lon for p in self.track]
        return Points.of(
            line=np.array([p.line for p in self.track], dtype=np.int64),
            part=np.array([p.part for p in self.track], dtype=np.int64),
            fields=fields,
        )

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        name = self._local.get(tag) or self._name(tag)
        path = self._path
        path.append(name)
        if len(path) > MAX_DEPTH:
            raise ExcessError("deeper nesting", f"at most {MAX_DEPTH} levels of XML")
        if self._point is not None:
            # Only direct children: extensions may have a `time` of their own.
            if len(path) == self._depth + 1 and name in _CHILDREN:
                self._listen()
        elif name in _POINTS:
            self._depth = len(path)
            self._point = Point(
                lat=attributes.get("lat", "").strip(),
                lon=attributes.get("lon", "").strip(),
                line=self._parser.CurrentLineNumber,
                part=self._part,
                fields={},
            )
        else:
            self._outside(name, attributes)

    def _end(self, _: str) -> None:
        name, point = self._path.pop(), self._point
        if self._parser.CharacterDataHandler is not None:
            self._parser.CharacterDataHandler = None
            text = "".join(self._text).strip()
            key = _HEADERS.get((*self._path, name))
            if point is not None:
                point.fields.setdefault(name, text)
            elif key and text:
                self.headers.setdefault(key, printable(text))
        if point is not None and len(self._path) < self._depth:
            self._keep(name, point)
            self._point = None

    def _keep(self, name: str, point: Point) -> None:
        if name == "trkpt":
            self.track.append(point)
            if len(self.track) > MAX_POINTS:
                raise ExcessError("more track points", f"at most {MAX_POINTS}")
        elif len(self.waypoints) < MAX_MARKS:
            self.waypoints.append(point)
        else:
            self.further_waypoints.append(point.line)

    def _outside(self, name: str, attributes: dict[str, str]) -> None:
        depth = len(self._path)
        if depth == 1:
            self.root = name
            if creator := printable(attributes.get("creator", "")):
                self.headers["recorder"] = creator
        elif depth <= 4 and tuple(self._path) in _HEADERS:
            self._listen()
        elif name == "trk":
            self._part += 1
        elif name == "rtept":
            self.route_points += 1

    def _listen(self) -> None:
        self._text = []
        self._parser.CharacterDataHandler = self._text.append

    def _name(self, tag: str) -> str:
        return self._local.setdefault(tag, tag.rpartition(":")[2])
