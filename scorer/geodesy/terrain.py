"""Elevation of the ground: grids held in memory, sampled without any file access."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pyproj import Transformer

from scorer.event.model import Blob
from scorer.facts import Fact
from scorer.geodesy.arrays import Array, floats, mapped
from scorer.geodesy.gridfile import read_grid

_METRES_PER_DEGREE = 110_574.0
"""Least length of a degree of latitude on WGS84, at the equator."""
_EDGE_POINTS = 33
_RIM = 0.5 + 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Terrain:
    """A grid of elevations; read-only, and cheap to send elsewhere once cropped."""

    data: NDArray[np.float32]
    """(rows, columns) metres above mean sea level at cell centres, NaN = no data."""
    affine: tuple[float, float, float, float, float, float]
    """(a, b, c, d, e, f) of the whole grid: x = a·column + b·row + c, y = d·column +
    e·row + f, counted from the outer corner of its first cell."""
    origin: tuple[int, int] = (0, 0)
    """Row and column of `data[0, 0]` in the whole grid."""
    crs: str
    """Reference system of the grid, WKT or EPSG name; its horizontal part."""
    vertical: str = ""
    """What the file says of its heights, for people."""
    name: str = ""
    sha256: str = ""
    notes: tuple[Fact, ...] = ()
    """What was assumed or put right while reading."""

    def __post_init__(self) -> None:
        self.data.setflags(write=False)

    def __repr__(self) -> str:
        rows, columns = self.data.shape
        return f"Terrain({self.name!r}, {rows} x {columns})"

    @classmethod
    def open(cls, blob: Blob, *, crs_if_missing: str | None = None) -> "Terrain":
        """Read a GeoTIFF, an SRTM tile (.hgt, also zipped) or an ESRI ASCII grid.

        `crs_if_missing` serves a file that names no reference system and whose numbers
        are no degrees.

        Raises
        ------
        InputError
            The file is damaged, holds no elevations, or does not say where it lies.
        """
        return _opened(blob, crs_if_missing)

    def elevation_m(self, lat_deg: ArrayLike, lon_deg: ArrayLike) -> Array:
        """Interpolate between cell centres, bilinearly.

        Parameters
        ----------
        lat_deg, lon_deg : array_like
            WGS84; NaN gives NaN.

        Returns
        -------
        ndarray
            Metres above mean sea level.  NaN outside the grid, and where a cell that
            takes part has no data.  In the outer half of the outermost cells the value
            of the nearest place between centres holds.
        """
        lat, lon = floats(lat_deg, lon_deg)
        row, column = self._cells(lat.ravel(), lon.ravel())
        return self._bilinear(row, column).reshape(lat.shape)[()]

    def crop(
        self,
        *,
        lat_min: float,
        lat_max: float,
        lon_min: float,
        lon_max: float,
        margin_m: float = 0.0,
    ) -> "Terrain":
        """Keep only what bounds and a margin need; the same answers there, to the bit.

        The result is empty (all answers NaN) where the bounds miss the grid.
        """
        north = margin_m / _METRES_PER_DEGREE
        poleward = min(max(abs(lat_min), abs(lat_max)) + north, 89.9)
        east = north / np.cos(np.radians(poleward))
        row, column = self._cells(
            *_rim(lat_min - north, lat_max + north, lon_min - east, lon_max + east)
        )
        rows = _span(row, self.data.shape[0])
        columns = _span(column, self.data.shape[1])
        part = self.data[rows, columns].copy()
        origin = (self.origin[0] + rows.start, self.origin[1] + columns.start)
        return replace(self, data=part, origin=origin)

    def _cells(self, lat: Array, lon: Array) -> tuple[Array, Array]:
        """Row and column in `data`, fractions counted from cell centres."""
        a, b, c, d, e, f = self.affine
        x, y = _to_grid(self.crs, lat, lon, west=c)
        determinant = a * e - b * d
        dx, dy = x - c, y - f
        column = (e * dx - b * dy) / determinant - 0.5
        row = (a * dy - d * dx) / determinant - 0.5
        return row - self.origin[0], column - self.origin[1]

    def _bilinear(self, row: Array, column: Array) -> Array:
        rows, columns = self.data.shape
        inside = (np.abs(2 * row - rows + 1) <= rows - 1 + 2 * _RIM) & (
            np.abs(2 * column - columns + 1) <= columns - 1 + 2 * _RIM
        )
        result = np.full(row.shape, np.nan)
        if not inside.any() or not self.data.size:
            return result
        top, down = _split(row[inside], rows)
        left, right = _split(column[inside], columns)
        low, far = np.minimum(top + 1, rows - 1), np.minimum(left + 1, columns - 1)
        result[inside] = _weighted(self.data[top, left], (1 - down) * (1 - right))
        result[inside] += _weighted(self.data[top, far], (1 - down) * right)
        result[inside] += _weighted(self.data[low, left], down * (1 - right))
        result[inside] += _weighted(self.data[low, far], down * right)
        return result


@lru_cache(maxsize=1)
def _opened(blob: Blob, crs_if_missing: str | None) -> Terrain:
    """Read a grid; the last one is kept, since checks and each score ask for it."""
    grid = read_grid(blob.name, blob.data, crs_if_missing)
    return Terrain(
        data=grid.data,
        affine=grid.affine,
        crs=grid.crs,
        vertical=grid.vertical,
        name=blob.name,
        sha256=blob.sha256,
        notes=grid.notes,
    )


class GroundElevation(NamedTuple):
    """Elevation of the ground at points, and where it is from; arrays of one shape."""

    elevation_m: Array
    """Above mean sea level; NaN where nothing is known."""
    from_terrain: NDArray[np.bool_]
    """True where the grid gave it, False where the fallback did or nothing."""


@dataclass(frozen=True, slots=True)
class Ground:
    """The elevation of the ground: a grid, and one number where the grid ends."""

    terrain: Terrain | None = None
    fallback_m: float | None = None

    def look_up(self, lat_deg: ArrayLike, lon_deg: ArrayLike) -> GroundElevation:
        """Return elevations above mean sea level and which source gave each."""
        lat, lon = floats(lat_deg, lon_deg)
        if self.terrain is None:
            elevation = np.full(lat.shape, np.nan)
        else:
            elevation = np.asarray(self.terrain.elevation_m(lat, lon))
        found = ~np.isnan(elevation)
        if self.fallback_m is not None:
            known = ~(np.isnan(lat) | np.isnan(lon))
            elevation = np.where(found | ~known, elevation, self.fallback_m)
        return GroundElevation(elevation[()], found[()])

    def elevation_m(self, lat_deg: ArrayLike, lon_deg: ArrayLike) -> Array:
        """Return elevations alone; NaN where nothing is known."""
        return self.look_up(lat_deg, lon_deg).elevation_m

    def crop(
        self,
        *,
        lat_min: float,
        lat_max: float,
        lon_min: float,
        lon_max: float,
        margin_m: float = 0.0,
    ) -> "Ground":
        """Keep only the part of the grid that bounds and a margin need."""
        if self.terrain is None:
            return self
        part = self.terrain.crop(
            lat_min=lat_min,
            lat_max=lat_max,
            lon_min=lon_min,
            lon_max=lon_max,
            margin_m=margin_m,
        )
        return replace(self, terrain=part)


def _to_grid(crs: str, lat: Array, lon: Array, *, west: float) -> tuple[Array, Array]:
    if crs == "EPSG:4326":
        # a grid may count longitude on beyond 180 degrees
        return np.where(lon < west, lon + 360.0, lon), lat
    x, y = mapped(_transformer(crs).transform, lon, lat)
    lost = ~(np.isfinite(x) & np.isfinite(y))
    return np.where(lost, np.nan, x), np.where(lost, np.nan, y)


@lru_cache(maxsize=16)
def _transformer(crs: str) -> Transformer:
    return Transformer.from_crs("EPSG:4326", crs, always_xy=True)


def _rim(south: float, north: float, west: float, east: float) -> tuple[Array, Array]:
    """Points all around a box: in a projected grid its sides are curved."""
    south, north = max(south, -90.0), min(north, 90.0)
    lat = np.linspace(south, north, _EDGE_POINTS)
    lon = np.linspace(west, east, _EDGE_POINTS)
    one = np.ones(_EDGE_POINTS)
    return (
        np.concatenate([lat, lat, south * one, north * one]),
        np.concatenate([west * one, east * one, lon, lon]),
    )


def _span(index: Array, size: int) -> slice:
    """Cells between the least and the greatest index, and two more on each side."""
    index = index[np.isfinite(index)]
    if index.size == 0:
        return slice(0, 0)
    first = int(np.clip(np.floor(index.min()) - 2, 0, size))
    last = int(np.clip(np.ceil(index.max()) + 3, first, size))
    return slice(first, last)


def _split(index: Array, size: int) -> tuple[NDArray[np.intp], Array]:
    """Whole cell and the fraction beyond its centre."""
    held = index.clip(0.0, size - 1.0)
    whole = np.floor(held).astype(np.intp)
    return whole, held - whole


def _weighted(value: NDArray[np.float32], weight: Array) -> Array:
    """Weigh a neighbour; one without weight may lack data."""
    return np.where(weight > 0, value * weight, 0.0)
