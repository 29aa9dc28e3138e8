"""Elevation of the ground: grids held in memory, sampled without any file access."""

from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pyproj import Transformer

from scorer.event.model import Blob
from scorer.facts import Fact
from scorer.geodesy.arrays import Array, floats, mapped
from scorer.geodesy.cells import Cells, Whole

_RIM = 0.5 + 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Terrain:
    """A grid of elevations; read-only.  Other processes are sent the cells they need."""

    data: Cells
    """(rows, columns) metres above mean sea level at cell centres, NaN = no data."""
    affine: tuple[float, float, float, float, float, float]
    """(a, b, c, d, e, f) of the grid: x = a·column + b·row + c, y = d·column +
    e·row + f, counted from the outer corner of its first cell."""
    crs: str
    """Reference system of the grid, WKT or EPSG name; its horizontal part."""
    vertical: str = ""
    """What the file says of its heights, for people."""
    name: str = ""
    sha256: str = ""
    notes: tuple[Fact, ...] = ()
    """What was assumed or put right while reading."""

    def __post_init__(self) -> None:
        if isinstance(self.data, np.ndarray):
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

    def among(self, lat_deg: Array, lon_deg: Array) -> Whole:
        """Return the cells that elevations at points depend on, counted row by row."""
        _, rows, columns, _ = self._around(*self._cells(lat_deg, lon_deg))
        return np.unique(rows * self.data.shape[1] + columns)

    def _cells(self, lat: Array, lon: Array) -> tuple[Array, Array]:
        """Row and column in `data`, fractions counted from cell centres."""
        a, b, c, d, e, f = self.affine
        x, y = _to_grid(self.crs, lat, lon, west=c)
        determinant = a * e - b * d
        dx, dy = x - c, y - f
        column = (e * dx - b * dy) / determinant - 0.5
        row = (a * dy - d * dx) / determinant - 0.5
        return row, column

    def _around(
        self, row: Array, column: Array
    ) -> tuple[NDArray[np.bool_], Whole, Whole, tuple[Array, Array]]:
        """Return which points are inside, their four cells, and how far into them."""
        rows, columns = self.data.shape
        inside = (np.abs(2 * row - rows + 1) <= rows - 1 + 2 * _RIM) & (
            np.abs(2 * column - columns + 1) <= columns - 1 + 2 * _RIM
        )
        top, down = _split(row[inside], rows)
        left, right = _split(column[inside], columns)
        low, far = np.minimum(top + 1, rows - 1), np.minimum(left + 1, columns - 1)
        four = np.stack([top, top, low, low]), np.stack([left, far, left, far])
        return inside, *four, (down, right)

    def _bilinear(self, row: Array, column: Array) -> Array:
        inside, rows, columns, (down, right) = self._around(row, column)
        result = np.full(row.shape, np.nan)
        if not inside.any():
            return result
        near = self.data[rows, columns]
        result[inside] = _weighted(near[0], (1 - down) * (1 - right))
        result[inside] += _weighted(near[1], (1 - down) * right)
        result[inside] += _weighted(near[2], down * (1 - right))
        result[inside] += _weighted(near[3], down * right)
        return result


@lru_cache(maxsize=1)
def _opened(blob: Blob, crs_if_missing: str | None) -> Terrain:
    """Read a grid; the last one is kept, since checks and each score ask for it."""
    # What reads files of grids takes long to load: not for events that have none.
    from scorer.geodesy.gridfile import read_grid  # noqa: PLC0415

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


def _split(index: Array, size: int) -> tuple[NDArray[np.intp], Array]:
    """Whole cell and the fraction beyond its centre."""
    held = index.clip(0.0, size - 1.0)
    whole = np.floor(held).astype(np.intp)
    return whole, held - whole


def _weighted(value: NDArray[np.float32], weight: Array) -> Array:
    """Weigh a neighbour; one without weight may lack data."""
    return np.where(weight > 0, value * weight, 0.0)
