"""Grids too large to hold: read by windows, and sent cell by cell, against rasterio."""

import pickle
import tracemalloc

import numpy as np
import pytest
import rasterio
from scipy.interpolate import RegularGridInterpolator

from scorer import recall
from scorer.errors import InputError
from scorer.event.model import Blob
from scorer.facts import count, fact, words
from scorer.geodesy import cells, gridfile
from scorer.geodesy.cells import Sent, Unsent, Windows, sample_of
from scorer.geodesy.gridfile import read_grid
from scorer.geodesy.terrain import Terrain
from scorer.recall import Recall
from scorer.remembered import remembering_in
from tests.scorer.geodesy.grids import blob, geotiff, hills

TILED = {"tiled": True, "blockxsize": 64, "blockysize": 64, "compress": "deflate"}
LAYOUTS = [TILED, {"compress": "deflate", "blockysize": 3}, {}]


@pytest.fixture
def large(monkeypatch):
    """Grids of more than 20,000 cells are large here; few tiles are held at once."""
    monkeypatch.setattr(gridfile, "MAX_CELLS", 20_000)
    monkeypatch.setattr(gridfile, "PIECE", 9_000)
    monkeypatch.setattr(gridfile, "TILE", 32)
    monkeypatch.setattr(cells, "MOST_HELD", 3 * 32 * 32)


def lake():
    """Ground of 200 x 300 cells with a lake of no data."""
    ground = hills(200, 300)
    ground[20:45, 33:60] = -8000
    return ground


def anywhere(data, many=4000):
    """Places in the grid and around it, by longitude and latitude."""
    with rasterio.MemoryFile(data) as memory, memory.open() as source:
        west, south, east, north = source.bounds
    rng = np.random.default_rng(7)
    high, wide = north - south, east - west
    lat = rng.uniform(south - 0.1 * high, north + 0.1 * high, many)
    return lat, rng.uniform(west - 0.1 * wide, east + 0.1 * wide, many)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_what_windows_say_is_what_the_whole_grid_says(layout, large, monkeypatch):
    data = geotiff(lake(), nodata=-8000, **layout)
    lat, lon = anywhere(data)
    windows = Terrain.open(blob("a.tif", data))
    monkeypatch.setattr(gridfile, "MAX_CELLS", 10**9)
    whole = Terrain.open(blob("b.tif", data))

    assert isinstance(windows.data, Windows)
    assert isinstance(whole.data, np.ndarray)
    got = windows.elevation_m(lat, lon)
    np.testing.assert_array_equal(got, whole.elevation_m(lat, lon))
    np.testing.assert_array_equal(sample_of(windows.data), sample_of(whole.data))
    assert windows.elevation_m(lat[0], lon[0]).shape == ()


@pytest.mark.parametrize("layout", LAYOUTS)
def test_heights_are_those_of_the_full_resolution(layout, large):
    """Against values that rasterio samples, and SciPy's own interpolation."""
    data = geotiff(lake(), nodata=-8000, **layout)
    terrain = Terrain.open(blob("large.tif", data))
    with rasterio.MemoryFile(data) as memory, memory.open() as source:
        rows, columns = np.divmod(np.arange(0, 60_000, 173), 300)
        x, y = rasterio.transform.xy(source.transform, rows, columns)
        stated = np.array([v[0] for v in source.sample(zip(x, y, strict=True))])
        values = source.read(1, masked=True).astype(float).filled(np.nan)
        centres = [
            np.array(
                rasterio.transform.xy(source.transform, np.arange(n), np.arange(n))
            )
            for n in source.shape
        ]
    wanted = np.where(stated == -8000, np.nan, stated)
    np.testing.assert_allclose(terrain.elevation_m(y, x), wanted, atol=0.001)

    lat, lon = anywhere(data)
    south_up = RegularGridInterpolator(
        (centres[0][1][::-1], centres[1][0]), values[::-1], bounds_error=False
    )
    theirs, ours = south_up((lat, lon)), terrain.elevation_m(lat, lon)
    both = np.isfinite(theirs)
    assert both.sum() > 2000
    np.testing.assert_allclose(ours[both], theirs[both], atol=0.01)


def test_what_stands_for_no_data_is_counted_once(large):
    ground = hills(200, 300)
    ground[:, ::2] = -9999  # as makers write it without declaring it

    found = read_grid("fine.tif", geotiff(ground, **TILED), None)

    assert found.notes == (
        fact("terrain-cells-empty", terrain=words("fine.tif"), cells=count(30_000)),
    )


def test_memory_does_not_grow_with_the_grid(monkeypatch):
    """4 million cells of 16 MB, of which some tiles are held."""
    monkeypatch.setattr(gridfile, "MAX_CELLS", 250_000)
    monkeypatch.setattr(gridfile, "PIECE", 60_000)
    monkeypatch.setattr(gridfile, "TILE", 128)
    monkeypatch.setattr(cells, "MOST_HELD", 300_000)
    data = geotiff(hills(2000, 2000), **{**TILED, "blockxsize": 256, "blockysize": 256})
    lat, lon = anywhere(data, 50)

    tracemalloc.start()
    terrain = Terrain.open(Blob(name="m.tif", sha256="m" * 64, content=data))
    assert np.isfinite(terrain.elevation_m(lat, lon)).any()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    assert peak < 5_000_000


def test_a_grid_that_is_kept_whole_is_held_once(monkeypatch):
    """A million cells of 4 MB: what is read at once comes on top, and nothing else."""
    monkeypatch.setattr(gridfile, "PIECE", 16_000)
    ground = hills(1000, 1000)
    data = geotiff(ground, **TILED)

    tracemalloc.start()
    found = read_grid("plain.tif", data, None)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    assert np.array_equal(found.data, ground.astype("f4"))
    assert peak < 1.25 * found.data.nbytes


@pytest.fixture
def looks(large, tmp_path, monkeypatch):
    """How often all cells of a grid were looked at; what was found is remembered."""
    seen = []

    def spied(*given, real=gridfile._looked_at):
        seen.append(given)
        return real(*given)

    monkeypatch.setattr(gridfile, "_looked_at", spied)
    with remembering_in(lambda: Recall(tmp_path / "logs.sqlite")):
        yield seen


def said(data):
    """Return what a grid says, places outside and its notes included."""
    grid = read_grid("fine.tif", data, None)
    rows, columns = np.divmod(np.arange(60_000), 300)
    heights = grid.data[rows, columns].tobytes(), grid.data.sample.tobytes()
    return *heights, grid.affine, grid.crs, grid.notes


def test_a_grid_that_was_looked_at_before_says_the_same_unlooked_at(looks):
    ground = lake()
    ground[:, ::2] = -9999
    data = geotiff(ground, **TILED)

    first, again = said(data), said(data)

    assert first == again
    assert [note.kind for note in first[-1]] == ["terrain-cells-empty"]
    assert len(looks) == 1


def test_a_grid_that_was_altered_is_looked_at_anew(looks):
    ground = lake()
    first = said(geotiff(ground, **TILED))
    ground[100, 100] += 1

    assert said(geotiff(ground, **TILED)) != first
    assert len(looks) == 2


def test_a_grid_cut_short_is_refused_though_it_was_sound_before(looks):
    data = geotiff(lake(), **TILED)
    said(data)

    with pytest.raises(InputError, match="damaged"):
        said(data[: len(data) // 2])


def test_what_another_version_saw_of_a_grid_counts_for_nothing(looks, monkeypatch):
    data = geotiff(lake(), **TILED)
    first = said(data)
    monkeypatch.setattr(recall, "fingerprint", lambda: "of another version")

    assert said(data) == first
    assert len(looks) == 2


def test_larger_than_anything_is_refused_with_what_to_do(large, monkeypatch):
    monkeypatch.setattr(gridfile, "MOST_CELLS", 30_000)
    with pytest.raises(InputError, match="Cut it to the event's area, at most") as told:
        read_grid("fine.tif", geotiff(hills(200, 300), **TILED), None)
    assert "200 x 300 cells" in str(told.value)


def test_a_large_grid_that_is_packed_in_one_piece_is_refused(large, monkeypatch):
    """To read one of its cells, all of them would be unpacked each time."""
    monkeypatch.setattr(gridfile, "MAX_BLOCK", 30_000)
    one = geotiff(hills(200, 300), compress="deflate", blockysize=200)
    with pytest.raises(InputError, match="tiles of 60,000 cells"):
        read_grid("fine.tif", one, None)


def test_a_worker_asks_for_the_cells_it_lacks_and_says_the_same(large):
    data = geotiff(lake(), nodata=-8000, **TILED)
    lat, lon = anywhere(data)
    terrain = Terrain.open(blob("large.tif", data))
    none = Sent.of(terrain.data, np.empty(0, dtype=np.intp))

    with pytest.raises(Unsent) as lacking:
        elsewhere(terrain, none).elevation_m(lat, lon)
    sent = Sent.of(terrain.data, pickle.loads(pickle.dumps(lacking.value)).cells)

    np.testing.assert_array_equal(
        elsewhere(terrain, sent).elevation_m(lat, lon), terrain.elevation_m(lat, lon)
    )
    np.testing.assert_array_equal(sent.cells, terrain.among(lat, lon))
    assert elsewhere(terrain, none).elevation_m(0.0, 0.0) is not None  # beside it


def elsewhere(terrain, sent):
    """Return the terrain as another process has it."""
    own = pickle.loads(pickle.dumps(sent))
    return Terrain(data=own, affine=terrain.affine, crs=terrain.crs)
