"""Grids finer than is kept: means of squares, read strip by strip, against rasterio's own."""

import tracemalloc

import numpy as np
import pytest
import rasterio
from rasterio.enums import Resampling

from scorer.errors import InputError
from scorer.facts import count, fact, words
from scorer.geodesy import gridfile
from scorer.geodesy.gridfile import read_grid
from tests.scorer.geodesy.grids import geotiff, hills

TILED = {"tiled": True, "blockxsize": 64, "blockysize": 64, "compress": "deflate"}


@pytest.fixture
def fine(monkeypatch):
    """Ground of 200 x 300 cells with a lake of no data, where 20,000 are kept."""
    monkeypatch.setattr(gridfile, "MAX_CELLS", 20_000)
    monkeypatch.setattr(gridfile, "STRIP_ROWS", 7)
    ground = hills(200, 300)
    ground[20:45, 33:60] = -8000
    return geotiff(ground, nodata=-8000, **TILED)


def test_a_grid_too_fine_to_keep_is_kept_as_means_of_squares(fine):
    found = read_grid("fine.tif", fine, None)

    with rasterio.MemoryFile(fine) as memory, memory.open() as source:
        wanted = source.read(
            1, out_shape=(100, 150), resampling=Resampling.average, masked=True
        )
        corners = source.bounds
    assert found.data.shape == (100, 150)
    np.testing.assert_allclose(found.data, wanted.filled(np.nan), atol=0.001)
    a, _, west, _, e, north = found.affine
    assert (west, north) == (corners.left, corners.top)
    assert west + 150 * a == pytest.approx(corners.right)
    assert north + 100 * e == pytest.approx(corners.bottom)
    assert found.notes == (
        fact(
            "terrain-in-squares",
            terrain=words("fine.tif"),
            cells=count(60_000),
            side=count(2),
        ),
    )


def test_what_stands_for_no_data_goes_into_no_mean(fine):
    ground = hills(200, 300)
    ground[:, ::2] = -9999  # as makers write it without declaring it

    found = read_grid("fine.tif", geotiff(ground, **TILED), None)

    wanted = hills(200, 300)[:, 1::2].reshape(100, 2, 150).mean(axis=1)
    np.testing.assert_allclose(found.data, wanted, atol=0.001)
    assert fact(
        "terrain-cells-empty", terrain=words("fine.tif"), cells=count(30_000)
    ) in (found.notes)


def test_cells_at_the_rim_that_make_no_square_are_left_out(fine):
    found = read_grid("fine.tif", geotiff(hills(201, 301), **TILED), None)

    assert found.data.shape == (100, 150)
    np.testing.assert_allclose(
        found.data[0, 0], hills(201, 301)[:2, :2].mean(), atol=0.001
    )


def test_what_is_kept_bounds_what_is_held(monkeypatch):
    """4 million cells of 16 MB, of which a sixteenth is kept."""
    monkeypatch.setattr(gridfile, "MAX_CELLS", 250_000)
    monkeypatch.setattr(gridfile, "STRIP_ROWS", 16)
    data = geotiff(hills(2000, 2000), **{**TILED, "blockxsize": 256, "blockysize": 256})

    tracemalloc.start()
    found = read_grid("fine.tif", data, None)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    assert found.data.shape == (500, 500)
    assert peak < 8_000_000


def test_a_grid_that_is_kept_whole_is_held_once(monkeypatch):
    """A million cells of 4 MB: what is read at once comes on top, and nothing else."""
    monkeypatch.setattr(gridfile, "STRIP_ROWS", 16)
    ground = hills(1000, 1000)
    data = geotiff(ground, **TILED)

    tracemalloc.start()
    found = read_grid("plain.tif", data, None)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    assert np.array_equal(found.data, ground.astype("f4"))
    assert peak < 1.25 * found.data.nbytes


@pytest.mark.parametrize("shape", [(900, 900), (1, 30_000)])
def test_a_grid_finer_than_that_is_refused_with_what_to_do(shape, fine):
    data = geotiff(np.full(shape, 300, "f4"), step=0.0001)

    with pytest.raises(InputError, match="Cut it to the event's area, at most") as told:
        read_grid("fine.tif", data, None)
    assert f"{shape[0]:,} x {shape[1]:,} cells" in str(told.value)
