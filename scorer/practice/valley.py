"""The invented ground: an elevation grid with real relief, and its GeoTIFF."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from rasterio import Affine
from rasterio.io import MemoryFile
from scipy.ndimage import gaussian_filter, map_coordinates

from scorer.practice.scenes import Land

Array = NDArray[np.float64]

VALLEY_HALF_WIDTH_M = 2_600.0
KNOLL_SIZE_M = 450.0
"""One sigma of the smoothing of the small relief."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Valley:
    """A grid of elevations in the event's plane; what the file holds is the truth."""

    grid_m: NDArray[np.float32]
    """(rows, columns), row 0 in the north; cell centres, tenths of a metre."""
    west_m: float
    north_m: float
    """Outer corner of the first cell."""
    cell_m: float

    def elevation_m(self, east_m: Array, north_m: Array) -> Array:
        """Interpolate between cell centres, bilinearly; at the rim the rim's value."""
        column = (np.asarray(east_m) - self.west_m) / self.cell_m - 0.5
        row = (self.north_m - np.asarray(north_m)) / self.cell_m - 0.5
        return np.asarray(
            map_coordinates(
                self.grid_m,
                np.array([row, column]),
                output=np.float64,
                order=1,
                mode="nearest",
            )
        )

    def tiff(self, crs: str) -> bytes:
        """Return a GeoTIFF; not compressed, since compressors differ in their bytes."""
        rows, columns = self.grid_m.shape
        with MemoryFile() as memory:
            with memory.open(
                driver="GTiff",
                width=columns,
                height=rows,
                count=1,
                dtype="float32",
                crs=crs,
                transform=Affine(
                    self.cell_m, 0.0, self.west_m, 0.0, -self.cell_m, self.north_m
                ),
            ) as file:
                file.write(self.grid_m, 1)
            return bytes(memory.read())


def make_valley(land: Land, rng: np.random.Generator) -> Valley:
    """Shape a valley between two ridges, with knolls all over."""
    count = 2 * round(land.half_m / land.cell_m)
    offset = (np.arange(count) + 0.5) * land.cell_m - land.half_m
    east, north = np.meshgrid(offset, offset[::-1])
    axis = np.radians(land.axis_deg)
    across = east * np.cos(axis) - north * np.sin(axis)
    along = east * np.sin(axis) + north * np.cos(axis)
    bend = across - 700.0 * np.sin(along / 4_000.0)
    ridge = land.hills_m * (1.0 - np.exp(-((bend / VALLEY_HALF_WIDTH_M) ** 2)))
    noise = rng.standard_normal((count, count))
    knolls = gaussian_filter(noise, KNOLL_SIZE_M / land.cell_m, mode="reflect")
    knolls *= land.knolls_m / knolls.std()
    ground = land.elevation_m + ridge + knolls - 0.003 * along
    return Valley(
        grid_m=np.round(ground, 1).astype(np.float32),
        west_m=land.east_m - land.half_m,
        north_m=land.north_m + land.half_m,
        cell_m=land.cell_m,
    )
