"""The points of a GPX track as columns, and the fast way to get them."""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.lines import Bytes, Index, numbers
from scorer.tracks.times import iso_at

MAX_TAGS = 8_000_000
"""Beyond, the parser reads the file: slower, in less memory."""
MAX_DEPTH = 100
"""Elements within elements."""
FIELDS = ("ele", "time", "hdop", "sat", "fix")
_POINT, _POINT_END = b"<trkpt", b"</trkpt>"
_SPACE = np.frombuffer(b" \t\r\n", np.uint8)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Points:
    """Track points as written; arrays are (N,), NaN = not given."""

    line: Index
    part: Index
    """Number of the `trk` within the file."""
    lat_deg: Array
    lon_deg: Array
    ele_m: Array
    time_s: Array
    zoneless: NDArray[np.bool_]
    """The time stated no zone."""
    hdop: Array
    satellites: Array
    no_fix: NDArray[np.bool_]
    """The receiver said it had no fix."""
    flat: NDArray[np.bool_]
    """The receiver said the fix was two-dimensional."""

    def __len__(self) -> int:
        return len(self.line)

    @classmethod
    def of(
        cls,
        *,
        line: Index,
        part: Index,
        fields: dict[str, list[str]],
    ) -> Self:
        """Make points from texts by field name: `lat`, `lon` and FIELDS, each N."""
        columns = {name: _pack(texts) for name, texts in fields.items()}
        return cls.at(line=line, part=part, columns=columns)

    @classmethod
    def at(
        cls, *, line: Index, part: Index, columns: dict[str, tuple[Bytes, Index, Index]]
    ) -> Self:
        """Make points from where their texts stand: bytes, begins and ends by field."""
        time_s, zoneless = iso_at(*columns["time"])
        data, start, end = columns["fix"]
        first = np.where(end > start, data[np.minimum(start, len(data) - 1)], 0)
        return cls(
            line=line,
            part=part,
            time_s=time_s,
            zoneless=zoneless,
            lat_deg=numbers(*columns["lat"]),
            lon_deg=numbers(*columns["lon"]),
            ele_m=numbers(*columns["ele"]),
            hdop=numbers(*columns["hdop"]),
            satellites=numbers(*columns["sat"]),
            no_fix=first == ord("n"),
            flat=first == ord("2"),
        )


def _pack(texts: list[str]) -> tuple[Bytes, Index, Index]:
    """Lay texts end to end: their bytes, where each begins and where it ends."""
    length = np.fromiter(map(len, texts), dtype=np.int64, count=len(texts))
    joined = "".join(texts).encode("latin-1", "replace")
    end = np.cumsum(length)
    return np.frombuffer(joined + b" ", np.uint8), end - length, end


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tags:
    """All tags of a piece of well-formed XML without comments; arrays are (T,)."""

    data: Bytes
    open: Index
    """Offset of `<`."""
    close: Index
    """Offset of `>`."""
    depth: Index
    """Elements entered before the tag."""
    name: Bytes
    """(8, T) the bytes behind `<`."""

    def named(self, name: bytes) -> NDArray[np.bool_]:
        """Mark the tags that begin with these bytes (at most 8)."""
        good: NDArray[np.bool_] = self.name[0] == name[0]
        for place in range(1, len(name)):
            good &= self.name[place] == name[place]
        return good


def plain_points(xml: bytes) -> tuple[Points, bytes] | None:
    """Read the track points of an ordinary GPX file straight from its bytes.

    What comes back holds only if `xml` is well formed, without a DOCTYPE, and in an
    encoding that extends ASCII: the caller must see to that.
    Returns the points, and the file without them (lines keep their numbers).  None when
    anything in the track is out of the ordinary (comments, character data sections,
    entities, prefixes, attributes in other places): such a file is for the XML parser,
    which gives the same points slower.
    """
    first, last = xml.find(_POINT), xml.rfind(_POINT_END)
    if first < 0 or last < first or xml.count(b"<", first, last) > MAX_TAGS:
        return None
    last += len(_POINT_END)
    if b"trkpt" in xml[:first] or b"trkpt" in xml[last:]:
        return None
    tags = _tags(np.frombuffer(xml, np.uint8), first, last)
    columns = _columns(tags) if tags is not None else None
    if tags is None or columns is None:
        return None
    at = tags.open[tags.named(_POINT[1:])]
    breaks = np.flatnonzero(tags.data[:last] == ord("\n"))
    tracks = tags.open[tags.named(b"trk>") | tags.named(b"trk ")]
    points = Points.at(
        line=np.searchsorted(breaks, at) + 1,
        part=np.searchsorted(tracks, at),
        columns=columns,
    )
    lost = b"\n" * (int(np.searchsorted(breaks, last)) - int(points.line[0]) + 1)
    return points, xml[:first] + lost + xml[last:]


def _tags(data: Bytes, first: int, last: int) -> _Tags | None:
    piece = data[first:last]
    start = np.flatnonzero(piece == ord("<")) + first
    close = np.flatnonzero(piece == ord(">")) + first
    if len(start) != len(close) or not (start < close).all():
        return None  # a `>` stands in a text or an attribute
    if not (close[:-1] < start[1:]).all() or last + 8 > len(data):
        return None
    name = np.lib.stride_tricks.sliding_window_view(data, 8)[start + 1].T.copy()
    if _strange(data, piece, name, close):
        return None
    leaves = name[0] == ord("/")
    empty = data[close - 1] == ord("/")
    change = np.where(leaves, -1, np.where(empty, 0, 1))
    depth = np.cumsum(change) - change
    if depth.max() > MAX_DEPTH:
        return None
    return _Tags(data=data, open=start, close=close, depth=depth, name=name)


def _strange(data: Bytes, piece: Bytes, name: Bytes, close: Index) -> bool:
    """Tell whether a piece of XML holds more than plain elements and texts."""
    if (piece == ord("&")).any():
        return True
    # Comments and the like; waypoints and routes between the track points.
    if any((name[0] == char).any() for char in b"!?wr"):
        return True
    before = data[close - 1]  # the end of a comment or section that began earlier
    if ((before == ord("-")) | (before == ord("]"))).any():
        return True
    if not (name == ord(":")).any():
        return False
    return any(mark in piece.tobytes() for mark in _PREFIXED)


_PREFIXED = tuple(b":" + name.encode() for name in (*FIELDS, "trkpt", "wpt", "rtept"))


def _columns(tags: _Tags) -> dict[str, tuple[Bytes, Index, Index]] | None:
    """Find each point's texts; None for anything out of the ordinary."""
    opening = np.flatnonzero(tags.named(_POINT[1:]))
    closing = np.flatnonzero(tags.named(_POINT_END[1:]))
    if len(opening) != len(closing) or not (opening < closing).all():
        return None
    if not (closing[:-1] < opening[1:]).all():
        return None
    found = _places(tags, opening)
    if found is None:
        return None
    owner = np.searchsorted(opening, np.arange(len(tags.open)), side="right") - 1
    child = tags.depth == tags.depth[opening][owner] + 1
    child &= np.arange(len(tags.open)) < closing[owner]
    for field in FIELDS:
        texts = _texts(tags, field.encode(), child, owner, len(opening))
        if texts is None:
            return None
        found[field] = texts
    return found


def _places(
    tags: _Tags, opening: Index
) -> dict[str, tuple[Bytes, Index, Index]] | None:
    """Find latitude and longitude in tags such as `<trkpt lat="41.5" lon="-3.2">`."""
    data, start, close = tags.data, tags.open[opening], tags.close[opening]
    base = int(start[0])
    quote = np.flatnonzero(data[base : close[-1]] == ord('"')) + base
    at = np.searchsorted(quote, start)
    count = np.searchsorted(quote, close) - at
    if not (count == 4).all():
        return None
    found = {}
    names = {b"lat": 0, b"lon": 2} if _named(data, quote[at], b"lat") else None
    names = names or {b"lon": 0, b"lat": 2}
    for name, k in names.items():
        if not _named(data, quote[at + k], name):
            return None
        found[name.decode()] = (data, quote[at + k] + 1, quote[at + k + 1])
    return found


def _named(data: Bytes, quote: Index, name: bytes) -> bool:
    """Tell whether ` name=` stands before every one of the quotes."""
    good = np.isin(data[quote - len(name) - 2], _SPACE)
    for place, char in enumerate(name + b"="):
        good &= data[quote - len(name) - 1 + place] == char
    return bool(good.all())


def _texts(
    tags: _Tags, name: bytes, child: NDArray[np.bool_], owner: Index, n: int
) -> tuple[Bytes, Index, Index] | None:
    """Find the text of the first element of a name in each of n points."""
    named = tags.named(name) & child
    behind = tags.name[len(name)]
    if (named & (np.isin(behind, _SPACE) | (behind == ord("/")))).any():
        return None
    here = np.flatnonzero(named & (behind == ord(">")))[::-1]  # the first one stays
    if (tags.name[0, here + 1] != ord("/")).any():
        return None
    start, end = np.zeros(n, dtype=np.int64), np.zeros(n, dtype=np.int64)
    first, last = tags.close[here] + 1, tags.open[here + 1]
    if here.size:
        blank = np.isin(tags.data[first], _SPACE) | np.isin(tags.data[last - 1], _SPACE)
        if blank.any():
            return None
    start[owner[here]], end[owner[here]] = first, last
    return tags.data, start, end
