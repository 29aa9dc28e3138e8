"""Cells of grids that are not held whole: read where they are asked for, or sent here.

Both answer `cells[rows, columns]` as an array does.  A grid too large to hold stays packed,
and tiles of it are read as they are touched.  A process that works for another one is sent
the cells it turned out to need, never the grid: `Unsent` says which are still lacking.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.intp]
Values = NDArray[np.float32]
TILE = 512
"""Cells a side of what is read at once, where the file itself has tiles."""
MOST_HELD = 32_000_000
"""Cells of tiles held at once: 128 MB, the ways of some hundred balloons at 1 m."""


class Unsent(BaseException):
    """Cells are lacking here; no handler of faults in a log may take it for one."""

    def __init__(self, cells: Whole) -> None:
        super().__init__(cells)
        self.cells = cells
        """Row by row counted, sorted, each once."""


class Sent:
    """Some cells of a grid that lies elsewhere."""

    def __init__(
        self, shape: tuple[int, int], sample: Values, cells: Whole, values: Values
    ) -> None:
        self.shape, self.sample = shape, sample
        self.cells, self.values = cells, values

    @classmethod
    def of(cls, grid: "Cells", cells: Whole) -> "Sent":
        """Take cells, counted row by row, out of a grid."""
        shape = (grid.shape[0], grid.shape[1])
        held = np.unique(cells)
        return cls(shape, sample_of(grid), held, grid[np.divmod(held, shape[1])])

    def __getitem__(self, at: tuple[Whole, Whole]) -> Values:
        """Return cells; raise Unsent where some are not here."""
        wanted = at[0] * self.shape[1] + at[1]
        place = np.searchsorted(self.cells, wanted)
        here = np.append(self.cells, -1)[place] == wanted
        if not here.all():
            raise Unsent(np.unique(wanted[~here]))
        return self.values[place]


class Windows:
    """A grid that stays packed: tiles are read when a cell of theirs is asked for."""

    def __init__(
        self,
        shape: tuple[int, int],
        tile: tuple[int, int],
        read: Callable[[int, int, int, int], Values],
        sample: Values,
    ) -> None:
        """`read` gets row and column of a tile's first cell, and its rows and columns."""
        self.shape, self.sample = shape, sample
        self._tile, self._read = tile, read
        self._held: OrderedDict[int, Values] = OrderedDict()
        self._turn = threading.Lock()

    def __getitem__(self, at: tuple[Whole, Whole]) -> Values:
        """Return cells."""
        rows, columns = np.broadcast_arrays(*at)
        (high, wide), across = self._tile, -(-self.shape[1] // self._tile[1])
        tiles = rows // high * across + columns // wide
        found = np.empty(tiles.shape, dtype=np.float32)
        with self._turn:
            for tile in np.unique(tiles):
                own = tiles == tile
                values = self._of(int(tile), across)
                found[own] = values[rows[own] % high, columns[own] % wide]
        return found

    def _of(self, tile: int, across: int) -> Values:
        if tile not in self._held:
            (high, wide), (down, along) = self._tile, divmod(tile, across)
            row, column = down * high, along * wide
            rows = min(high, self.shape[0] - row)
            columns = min(wide, self.shape[1] - column)
            self._held[tile] = self._read(row, column, rows, columns)
            while len(self._held) * high * wide > MOST_HELD and len(self._held) > 1:
                self._held.popitem(last=False)
        self._held.move_to_end(tile)
        return self._held[tile]


Cells = Values | Sent | Windows
"""Elevations of a grid by row and column."""


def sample_of(cells: Cells) -> Values:
    """Return some five hundred cells spread over a grid."""
    if not isinstance(cells, np.ndarray):
        return cells.sample
    every = cells.ravel()
    return every[:: sample_step(every.size)]


def sample_step(size: int) -> int:
    """Return which cells of so many make the sample: each so-manieth."""
    return max(size // 500, 1)


def bytes_of(cells: Cells) -> int:
    """Return what a grid would take if it were sent whole."""
    rows, columns = cells.shape
    return 4 * int(rows) * int(columns)
