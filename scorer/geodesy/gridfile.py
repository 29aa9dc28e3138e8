"""Elevation grids from files: GeoTIFF, SRTM tiles, ESRI ASCII; also zipped."""

import gzip
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
from rasterio.transform import Affine
from rasterio.windows import Window

from scorer.errors import Fault, InputError
from scorer.facts import Fact, count, fact, number, words

_TIFF = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
"""First bytes of a TIFF and a BigTIFF file, in both byte orders."""
MAX_CELLS = 100_000_000
"""Cells kept at most: 400 MB as float32, a square of 300 km at 30 m."""
COARSEST = 4
"""A finer grid is kept as means of squares of up to so many cells a side: a square of
20 km at 1 m in cells of 2 m."""
MAX_UNPACKED_BYTES = 512 * 2**20
"""Of a zip or gzip file: the most cells as float32, or as some five digits each."""
MAX_CELLS_PER_BYTE = 200
"""Real ground packs to some two cells a byte; the rest is for land beside much sea."""
CELLS_AT_LEAST = 2_000_000
"""So many cells any file may hold."""
STRIP_ROWS = 128
"""Rows of squares that are read at once."""
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


class ElevationFile(NamedTuple):
    """The content of an elevation file."""

    data: NDArray[np.float32]
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
        step = _step(source)
        values = _elevations(name, source, step, notes)
        affine = tuple(float(v) for v in (source.transform * Affine.scale(step))[:6])
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
    if not 1 <= _step(source) <= min(COARSEST, source.width, source.height):
        raise _too_large(name, shape)
    if cells > max(CELLS_AT_LEAST, size * MAX_CELLS_PER_BYTE):
        raise _fault(name, f"{shape} in {size:,} bytes, which hold no ground")
    block = math.prod(source.block_shapes[0])
    if block > 2 * MAX_CELLS:
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


def _step(source: Any) -> int:
    """Return the side, in cells, of the squares whose means are kept; 1 = every cell."""
    return max(math.ceil(math.sqrt(source.width * source.height / MAX_CELLS)), 1)


def _elevations(
    name: str, source: Any, step: int, notes: list[Fact]
) -> NDArray[np.float32]:
    # GDAL takes the unit from the band, else from the vertical reference system
    unit = (source.units[0] or "").strip().lower()
    if unit not in _METRES_PER:
        raise _fault(name, f'heights in "{unit}"', "Export them in metres.")
    factor = source.scales[0] * _METRES_PER[unit]
    if (factor, source.offsets[0]) != (1.0, 0.0):
        scaled = fact("terrain-scaled", terrain=words(name), factor=number(factor))
        notes.append(scaled)
    lost = 0
    kept = np.empty((source.height // step, source.width // step), dtype=np.float32)
    for window in _strips(source, step):
        values, empty = _metres(source, window, unit)
        lost += empty
        top, rows = window.row_off // step, window.height // step
        kept[top : top + rows] = values if step == 1 else _means(values, step)
    if lost:
        notes.append(
            fact("terrain-cells-empty", terrain=words(name), cells=count(lost))
        )
    if step > 1:
        cells = count(source.width * source.height)
        notes.append(
            fact(
                "terrain-in-squares", terrain=words(name), cells=cells, side=count(step)
            )
        )
    if not np.isfinite(np.fmax.reduce(kept, axis=None)):
        raise _fault(name, "no elevation in any cell")
    return kept


def _strips(source: Any, step: int) -> Iterator[Window]:
    """Yield what is read at once: some rows of whole squares."""
    width = source.width - source.width % step
    height = source.height - source.height % step
    rows = step * STRIP_ROWS
    for top in range(0, height, rows):
        yield Window(0, top, width, min(rows, height - top))


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


def _means(values: NDArray[np.float32], step: int) -> NDArray[np.float32]:
    """Return the mean elevation of each square; NaN where none of its cells has any."""
    rows, columns = values.shape
    squares = values.reshape(rows // step, step, columns // step, step)
    known = np.isfinite(squares)
    total = np.where(known, squares, 0).sum(axis=(1, 3), dtype=float)
    cells = known.sum(axis=(1, 3))
    means = np.full(cells.shape, np.nan)
    np.divide(total, cells, out=means, where=cells > 0)
    return means.astype(np.float32)


def _too_large(name: str, size: str) -> InputError:
    return _fault(
        name,
        size,
        "Cut it to the event's area, at most "
        f"{MAX_CELLS * COARSEST**2 // 1_000_000:,} million cells.",
    )


def _fault(name: str, found: str, remedy: str = _AGAIN) -> InputError:
    return InputError([Fault(where=name, found=found, allowed=_KINDS, remedy=remedy)])
