"""Elevation grids from files: GeoTIFF, SRTM tiles, ESRI ASCII; also zipped."""

import gzip
import hashlib
import io
import lzma
import math
import re
import struct
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import PurePosixPath
from typing import IO, Any, NamedTuple

import numpy as np
import rasterio
from numpy.typing import NDArray
from pyproj import CRS
from pyproj.exceptions import CRSError
from rasterio.errors import NotGeoreferencedWarning, RasterioError, RasterioIOError
from rasterio.windows import Window

from scorer.errors import Fault, InputError
from scorer.facts import Fact, count, fact, number, words
from scorer.geodesy.cells import TILE, Cells, Windows, sample_step
from scorer.remembered import remembered

_TIFF = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
"""First bytes of a TIFF and a BigTIFF file, in both byte orders."""
MAX_CELLS = 25_000_000
"""Cells held at most: 100 MB as float32, a square of 150 km at 30 m.  Larger grids stay
packed and are read by windows, at full resolution."""
MOST_CELLS = 1_600_000_000
"""A square of 40 km at 1 m; all are read once, some seconds for each hundred million,
and not again as long as the user's cache knows them."""
MAX_BLOCK = 25_000_000
"""Cells that a file may pack together: all of them are unpacked to read one."""
MAX_UNPACKED_BYTES = 512 * 2**20
"""Of a zip or gzip file: the most cells as float32, or as some five digits each."""
MAX_CELLS_PER_BYTE = 200
"""Real ground packs to some two cells a byte; the rest is for land beside much sea."""
CELLS_AT_LEAST = 2_000_000
"""So many cells any file may hold."""
PIECE = 1_000_000
"""Cells that are read at once."""
UNPACKED_MB = 64
"""Of blocks that GDAL holds for itself."""
_CHUNK = 2**20
_SUFFIXES = (".tif", ".tiff", ".geotiff", ".hgt", ".asc", ".agr", ".grd")
_TILE = re.compile(r"[NS]\d{2}[EW]\d{3}.*\.hgt", re.IGNORECASE)
_TILE_BYTES = {2 * n * m for n, m in ((1201, 1201), (3601, 3601), (3601, 1801))}
_EMPTY = (-9999.0, -32768.0, -32767.0)
"""What makers of grids write for "no data" without declaring it."""
_LAND_M = (-12_000.0, 9_000.0)
"""No ground lies beyond: Challenger Deep -10.9 km, Mount Everest 8.85 km."""
_METRES_PER = {
    "": 1.0,
    "m": 1.0,
    "metre": 1.0,
    "meter": 1.0,
    "metres": 1.0,
    "meters": 1.0,
    "ft": 0.3048,
    "foot": 0.3048,
    "feet": 0.3048,
    "us survey foot": 1200 / 3937,
    "ftus": 1200 / 3937,
    "us-ft": 1200 / 3937,
}
_KINDS = (
    "a GeoTIFF (.tif), an SRTM tile (.hgt) or an ESRI ASCII grid (.asc) of elevations"
)
_AGAIN = "Fetch the file again, or set event.ground_elevation and leave terrain out."


class SeenCells(NamedTuple):
    """What a look at all cells of a grid found."""

    lost: int
    """Cells in which something else than an elevation stands."""
    some: bool
    """Whether any has one."""
    sample: NDArray[np.float32]
    """Metres in cells spread over the grid."""


class ElevationFile(NamedTuple):
    """The content of an elevation file."""

    data: Cells
    """(rows, columns) metres above mean sea level, NaN = no data."""
    affine: tuple[float, float, float, float, float, float]
    crs: str
    vertical: str
    notes: tuple[Fact, ...]


def read_grid(name: str, data: bytes, crs_if_missing: str | None) -> ElevationFile:
    """Read the bytes of an elevation file; raise InputError naming file and remedy."""
    name, data = _unpacked(name, data)
    _check_tile(name, data)
    with _opened(name, data) as source:
        _check_content(name, source, len(data))
        notes: list[Fact] = []
        crs, vertical = _reference(name, source, crs_if_missing, notes)
        values = _elevations(name, data, source, notes)
        affine = tuple(float(v) for v in source.transform[:6])
    return ElevationFile(values, affine, crs, vertical, tuple(notes))  # type: ignore[arg-type]


def _unpacked(name: str, data: bytes) -> tuple[str, bytes]:
    """Take the grid out of a zip or gzip file."""
    lower = name.lower()
    if not data:
        raise _fault(name, "an empty file")
    try:
        if lower.endswith(".gz"):
            with gzip.GzipFile(fileobj=io.BytesIO(data)) as packed:
                return name[:-3], _bounded(name, packed)
        return _from_zip(name, data) if lower.endswith(".zip") else (name, data)
    except _DAMAGED as error:
        kind = "damaged gzip" if lower.endswith(".gz") else "damaged or locked zip"
        raise _fault(name, f"a {kind} file ({error})") from error


_DAMAGED = (
    *(zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error),
    *(EOFError, OSError, RuntimeError, ValueError),
)


def _bounded(name: str, packed: IO[bytes] | gzip.GzipFile) -> bytes:
    """Unpack as far as the limit goes, whatever size the file states."""
    pieces, size = [], 0
    while piece := packed.read(_CHUNK):
        size += len(piece)
        if size > MAX_UNPACKED_BYTES:
            raise _too_large(name, f"over {MAX_UNPACKED_BYTES // 2**20} MiB unpacked")
        pieces.append(piece)
    return b"".join(pieces)


def _from_zip(name: str, data: bytes) -> tuple[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        grids = [
            member
            for member in archive.infolist()
            if member.filename.lower().endswith(_SUFFIXES)
            and not member.filename.startswith("__MACOSX")
        ]
        if len(grids) != 1:
            raise _fault(
                name,
                f"{len(grids)} grids in the zip file",
                "Unpack it and give the one grid that covers the event.",
            )
        with archive.open(grids[0]) as packed:
            return grids[0].filename, _bounded(name, packed)


def _check_tile(name: str, data: bytes) -> None:
    """SRTM tiles say by their name alone where they lie, by their size how fine."""
    file = PurePosixPath(name).name
    if not file.lower().endswith(".hgt"):
        return
    if not _TILE.fullmatch(file):
        raise _fault(
            name,
            f'a tile named "{file}"',
            "A .hgt file must keep its name: it alone says where the tile lies, by "
            "its south-west corner, such as N42W004.hgt.",
        )
    if len(data) not in _TILE_BYTES:
        raise _fault(
            name, f"a tile of {len(data)} bytes, which is cut short or no tile"
        )


@contextmanager
def _opened(name: str, data: bytes) -> Iterator[Any]:
    file = PurePosixPath(name).name
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        try:
            with (
                rasterio.Env(GDAL_CACHEMAX=UNPACKED_MB),
                rasterio.MemoryFile(data, filename=file) as memory,
                memory.open(driver=_driver(file, data)) as source,
            ):
                yield source
        except (RasterioIOError, RasterioError, ValueError) as error:
            found = f"{len(data)} bytes that are damaged or no grid"
            raise _fault(name, found) from error


def _driver(file: str, data: bytes) -> str:
    """Name GDAL's reader by content, so that no file makes it open another one."""
    if file.lower().endswith(".hgt"):
        return "SRTMHGT"
    return "GTiff" if data[:4] in _TIFF else "AAIGrid"


def _check_content(name: str, source: Any, size: int) -> None:
    """Refuse pictures, grids without a place, and what would fill the memory."""
    if source.count > 2:
        raise _fault(name, f"{source.count} bands, which is a picture")
    if source.transform.is_identity or source.transform.determinant == 0:
        raise _fault(
            name,
            "a grid that does not say where it lies",
            "Export it again with its georeference.",
        )
    cells = source.width * source.height
    shape = f"{source.height:,} x {source.width:,} cells"
    if cells > MOST_CELLS:
        raise _too_large(name, shape)
    if cells > max(CELLS_AT_LEAST, size * MAX_CELLS_PER_BYTE):
        raise _fault(name, f"{shape} in {size:,} bytes, which hold no ground")
    block = math.prod(source.block_shapes[0])
    if block > MAX_BLOCK:
        raise _too_large(name, f"tiles of {block:,} cells")
    if source.dtypes[0].startswith("complex"):
        raise _fault(name, "complex numbers, which are no elevations")


def _reference(
    name: str,
    source: Any,
    crs_if_missing: str | None,
    notes: list[Fact],
) -> tuple[str, str]:
    """Name the horizontal system, and what the file says of its heights."""
    if source.crs is None:
        return _assumed(name, source, crs_if_missing, notes), ""
    try:
        crs = CRS.from_user_input(source.crs.to_wkt())
    except CRSError as error:
        raise _fault(name, f"an unknown reference system ({error})") from error
    parts = crs.sub_crs_list if crs.is_compound else [crs]
    code = parts[0].to_epsg()
    horizontal = f"EPSG:{code}" if code else parts[0].to_wkt()
    return horizontal, _vertical(name, parts, notes)


def _vertical(name: str, parts: list[CRS], notes: list[Fact]) -> str:
    """Find the name of the heights' system, and note what makes them doubtful."""
    if len(parts) > 1:
        return str(parts[1].name)
    axes = parts[0].axis_info
    if len(axes) == 3:
        notes.append(fact("terrain-above-the-ellipsoid", terrain=words(name)))
        return "ellipsoidal height"
    if axes and "foot" in axes[0].unit_name:
        notes.append(fact("terrain-on-a-map-in-feet", terrain=words(name)))
    return ""


def _assumed(
    name: str,
    source: Any,
    crs_if_missing: str | None,
    notes: list[Fact],
) -> str:
    west, south, east, north = source.bounds
    if -181 <= west < east <= 361 and -90.6 <= south < north <= 90.6:
        crs = "EPSG:4326"
    elif crs_if_missing:
        crs = crs_if_missing
    else:
        raise _fault(
            name,
            "a grid without a reference system",
            "Export it as GeoTIFF, which carries one.",
        )
    system = words(CRS.from_user_input(crs).name)
    notes.append(fact("terrain-without-system", terrain=words(name), system=system))
    return crs


def _elevations(name: str, data: bytes, source: Any, notes: list[Fact]) -> Cells:
    """Look at all cells; return them, or where there are too many what reads them."""
    unit = _unit(name, source, notes)
    kept = None
    if source.width * source.height <= MAX_CELLS:
        kept = np.empty((source.height, source.width), np.float32)
        seen = _looked_at(source, unit, kept)
    else:  # what the very same bytes held the last time
        key = f"grid {source.driver} {hashlib.sha256(data).hexdigest()}"
        seen = remembered(key, SeenCells, lambda: _looked_at(source, unit))
    if seen.lost:
        cells = count(seen.lost)
        says = fact("terrain-cells-empty", terrain=words(name), cells=cells)
        notes.append(says)
    if not seen.some:
        raise _fault(name, "no elevation in any cell")
    return _windows(name, data, source, seen.sample) if kept is None else kept


def _looked_at(
    source: Any, unit: str, kept: NDArray[np.float32] | None = None
) -> SeenCells:
    """Read all cells, strip by strip, and keep them where there is room."""
    size, lost = source.width * source.height, 0
    down, along = np.divmod(np.arange(0, size, sample_step(size)), source.width)
    sample, some = np.empty(down.size, dtype=np.float32), False
    for window in _pieces(source):
        values, empty = _metres(source, window, unit)
        lost += empty
        some = some or bool(np.isfinite(values).any())
        rows, columns = window.toslices()
        own = (down >= rows.start) & (down < rows.stop)
        own &= (along >= columns.start) & (along < columns.stop)
        sample[own] = values[down[own] - rows.start, along[own] - columns.start]
        if kept is not None:
            kept[rows, columns] = values
    return SeenCells(lost, some, sample)


def _unit(name: str, source: Any, notes: list[Fact]) -> str:
    """Return the unit of the heights, and note what they are multiplied by."""
    # GDAL takes it from the band, else from the vertical reference system
    unit = (source.units[0] or "").strip().lower()
    if unit not in _METRES_PER:
        raise _fault(name, f'heights in "{unit}"', "Export them in metres.")
    factor = source.scales[0] * _METRES_PER[unit]
    if (factor, source.offsets[0]) != (1.0, 0.0):
        scaled = fact("terrain-scaled", terrain=words(name), factor=number(factor))
        notes.append(scaled)
    return unit


def _windows(
    name: str, data: bytes, source: Any, sample: NDArray[np.float32]
) -> Windows:
    """Leave a grid packed; tiles of it are read when they are asked for."""
    rows, columns = source.block_shapes[0]
    tile = (TILE, TILE)
    if columns == source.width:  # packed by rows: all of a row is unpacked for a cell
        rows *= max(TILE * TILE // (rows * columns), 1)
        tile = (rows, columns)

    def read(row: int, column: int, rows: int, columns: int) -> NDArray[np.float32]:
        with _opened(name, data) as again:
            window = Window(column, row, columns, rows)
            return _metres(again, window, _unit(name, again, []))[0]

    return Windows((source.height, source.width), tile, read, sample)


def _pieces(source: Any) -> Iterator[Window]:
    """Yield what is read at once: whole blocks of the file, about a million cells."""
    high, wide = source.block_shapes[0]
    wide = min(wide * max(PIECE // (high * wide), 1), source.width)
    high *= max(PIECE // (high * wide), 1)
    for top in range(0, source.height, high):
        for left in range(0, source.width, wide):
            rows, columns = source.height - top, source.width - left
            yield Window(left, top, min(wide, columns), min(high, rows))


def _metres(source: Any, window: Window, unit: str) -> tuple[NDArray[np.float32], int]:
    """Read a window in metres, and count the cells in which something else stands."""
    raw = source.read(1, masked=True, window=window)
    values: NDArray[np.float32] = raw.astype(np.float32).filled(np.nan)
    hidden = np.isin(values, _EMPTY)
    values[hidden] = np.nan
    factor, offset = source.scales[0], source.offsets[0]
    if (factor * _METRES_PER[unit], offset) != (1.0, 0.0):
        values = (values * factor + offset) * np.float32(_METRES_PER[unit])
    absurd = (values < _LAND_M[0]) | (values > _LAND_M[1])
    values[absurd] = np.nan
    return values, int(hidden.sum() + absurd.sum())


def _too_large(name: str, size: str) -> InputError:
    return _fault(
        name,
        size,
        "Cut it to the event's area, at most "
        f"{MOST_CELLS // 1_000_000:,} million cells.",
    )


def _fault(name: str, found: str, remedy: str = _AGAIN) -> InputError:
    return InputError([Fault(where=name, found=found, allowed=_KINDS, remedy=remedy)])
