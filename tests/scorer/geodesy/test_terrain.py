"""Elevations against rasterio's reading, scipy's interpolation and hand-made grids."""

import gzip
import io
import pickle
import zipfile

import numpy as np
import pytest
import rasterio
from pyproj import Transformer
from rasterio.transform import Affine
from scipy.interpolate import RegularGridInterpolator

from scorer.errors import InputError
from scorer.facts import count, fact, words
from scorer.geodesy.terrain import Ground, Terrain
from tests.helpers import shared_file
from tests.scorer.geodesy.grids import blob, geotiff, hills

HILLS = Terrain.open(blob("terrain.tif", geotiff(hills())))


def lattice(terrain):
    """Grid of (west, north, step) used by `geotiff`, as scipy wants it."""
    rows, columns = terrain.data.shape
    lat = 43.0 - 0.01 * (np.arange(rows) + 0.5)
    lon = -2.0 + 0.01 * (np.arange(columns) + 0.5)
    values = np.asarray(terrain.data, dtype=float)[::-1]
    return RegularGridInterpolator((lat[::-1], lon), values)


def test_interpolation_is_bilinear_between_cell_centres():
    rng = np.random.default_rng(3)
    lat, lon = rng.uniform(42.61, 42.99, 500), rng.uniform(-1.99, -1.51, 500)

    got = HILLS.elevation_m(lat, lon)

    np.testing.assert_allclose(got, lattice(HILLS)((lat, lon)), atol=1e-6)


def test_a_cell_centre_gives_the_value_that_rasterio_samples_there():
    with rasterio.MemoryFile(geotiff(hills())) as memory, memory.open() as source:
        spots = [source.xy(r, c) for r, c in [(0, 0), (7, 31), (39, 49)]]
        sampled = [float(v[0]) for v in source.sample(spots)]

    got = [float(HILLS.elevation_m(lat, lon)) for lon, lat in spots]

    np.testing.assert_allclose(got, sampled, atol=1e-4)


def test_four_cells_by_hand():
    """10 20 / 30 40, centres a degree apart; a quarter of the way in both directions."""
    terrain = Terrain.open(
        blob(
            "t.tif",
            geotiff(np.array([[10, 20], [30, 40]], "f4"), west=0, north=2, step=1),
        )
    )

    assert terrain.elevation_m(1.5, 0.5) == 10
    assert terrain.elevation_m(1.0, 1.0) == 25
    assert terrain.elevation_m(1.25, 0.75) == pytest.approx(10 + 2.5 + 5)


def test_the_outer_half_of_outer_cells_belongs_to_the_grid_and_beyond_is_unknown():
    terrain = Terrain.open(
        blob(
            "t.tif",
            geotiff(np.array([[10, 20], [30, 40]], "f4"), west=0, north=2, step=1),
        )
    )

    assert terrain.elevation_m(2.0, 0.0) == 10
    assert terrain.elevation_m(0.1, 1.9) == 40
    beyond = terrain.elevation_m([2.01, 1.0, 1.0, -0.01], [1.0, -0.01, 2.01, 1.0])
    assert np.isnan(beyond).all()


def test_no_data_spoils_only_the_places_it_takes_part_in():
    values = np.array([[1, 2, 3], [4, -99, 6], [7, 8, 9]], "f4")
    terrain = Terrain.open(
        blob("t.tif", geotiff(values, west=0, north=3, step=1, nodata=-99))
    )

    assert np.isnan(terrain.elevation_m(1.5, 1.5))
    assert np.isnan(terrain.elevation_m(2.0, 1.0))
    # on the line between two good centres the empty cell has no weight
    assert terrain.elevation_m(2.5, 1.0) == 1.5
    assert terrain.elevation_m(2.5, 0.5) == 1


@pytest.mark.parametrize("hidden", [-9999, -32768])
def test_undeclared_empty_cells_are_recognised_and_reported(hidden):
    values = hills().astype("i2")
    values[5, 5] = hidden

    terrain = Terrain.open(blob("t.tif", geotiff(values)))

    assert np.isnan(terrain.data[5, 5])
    assert np.isnan(terrain.data).sum() == 1
    assert terrain.notes[0].kind == "terrain-cells-empty"
    assert terrain.notes[0]["cells"] == count(1)


def test_nan_positions_give_nan_and_shapes_are_kept():
    lat = np.array([[42.8, np.nan], [42.7, 42.6]])

    got = HILLS.elevation_m(lat, -1.8)

    assert got.shape == (2, 2)
    assert np.isnan(got).tolist() == [[False, True], [False, False]]
    assert HILLS.elevation_m(42.8, -1.8) == got[0, 0]


def test_a_turned_grid_in_a_projected_system_is_sampled_where_it_lies():
    """Rotated by 30 degrees in UTM; values by plane geometry."""
    turn, step = np.radians(30), 50.0
    a, b = step * np.cos(turn), step * np.sin(turn)
    transform = Affine(a, b, 600_000, b, -a, 4_700_000)
    rows, columns = np.mgrid[0:60, 0:60]
    values = (rows * 2 + columns).astype("f4")
    terrain = Terrain.open(
        blob("t.tif", geotiff(values, crs="EPSG:25830", transform=transform))
    )
    to_wgs84 = Transformer.from_crs("EPSG:25830", "EPSG:4326")

    for row, column in [(3.0, 4.0), (30.25, 17.75), (58.5, 1.5)]:
        x, y = column + 0.5, row + 0.5
        lat, lon = to_wgs84.transform(
            600_000 + a * x + b * y, 4_700_000 + b * x - a * y
        )
        assert terrain.elevation_m(lat, lon) == pytest.approx(
            row * 2 + column, abs=1e-4
        )


def test_real_tiles_give_what_rasterio_samples_at_their_posts():
    """An SRTM tile, public domain: values at posts, and the mean half-way."""
    data = shared_file("terrain/N00E010.hgt").read_bytes()
    terrain = Terrain.open(blob("terrain/N00E010.hgt", data))
    with (
        rasterio.MemoryFile(data, filename="N00E010.hgt") as memory,
        memory.open() as source,
    ):
        raw = source.read(1)
        spots = [source.xy(r, c) for r, c in [(0, 0), (600, 601), (1200, 1200)]]
        sampled = [float(v[0]) for v in source.sample(spots)]

    got = [float(terrain.elevation_m(lat, lon)) for lon, lat in spots]

    np.testing.assert_allclose(got, sampled, atol=1e-6)
    # raw big-endian samples of the file itself, by the SRTM documentation
    posts = np.frombuffer(data, ">i2").reshape(1201, 1201)
    np.testing.assert_array_equal(posts, raw)
    half = terrain.elevation_m(1 - 600.5 / 1200, 10 + 300 / 1200)
    assert half == pytest.approx((posts[600, 300] + posts[601, 300]) / 2, abs=1e-6)


def test_a_zipped_tile_is_read_as_the_tile_in_it():
    data = shared_file("terrain/N00E011.hgt.zip").read_bytes()

    terrain = Terrain.open(blob("terrain/N00E011.hgt.zip", data))

    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        posts = np.frombuffer(archive.read(archive.namelist()[0]), ">i2")
    middle = posts.reshape(1201, 1201)[600, 600]
    assert terrain.elevation_m(0.5, 11.5) == pytest.approx(middle, abs=1e-6)


def test_a_tile_warped_to_utm_agrees_with_the_tile():
    """The same SRTM data warped by GDAL, 92 m cells, nearest: some metres apart."""
    tile = Terrain.open(
        blob("N00E010.hgt", shared_file("terrain/N00E010.hgt").read_bytes())
    )
    utm = Terrain.open(
        blob("t.tif", shared_file("terrain/srtm_utm_N00E010.tif").read_bytes())
    )
    rng = np.random.default_rng(1)
    lat, lon = rng.uniform(0.1, 0.9, 2000), rng.uniform(10.1, 10.9, 2000)

    apart = utm.elevation_m(lat, lon) - tile.elevation_m(lat, lon)

    assert abs(np.median(apart)) < 0.5
    assert np.std(apart) < 10


@pytest.mark.parametrize("file", ["nodata.geotiff", "eudem_N2000000E3000000.TIF"])
def test_a_file_with_no_elevations_at_all_is_refused(file):
    data = shared_file(f"terrain/{file}").read_bytes()
    with rasterio.MemoryFile(data) as memory, memory.open() as source:
        empty = source.read(1, masked=True).mask.all()
    if empty:
        with pytest.raises(InputError, match="no elevation in any cell"):
            Terrain.open(blob(file, data))
    else:
        assert not np.isnan(Terrain.open(blob(file, data)).data).all()


ASCII = b"""ncols 3
nrows 2
xllcorner %s
yllcorner %s
cellsize %s
NODATA_value -9999
1 2 3
4 5 -9999
"""


def test_an_ascii_grid_in_degrees_is_taken_as_wgs84_and_says_so():
    terrain = Terrain.open(blob("t.asc", ASCII % (b"-2", b"42", b"0.5")))

    assert terrain.elevation_m(42.75, -1.75) == 1
    assert terrain.crs == "EPSG:4326"
    assert terrain.notes[0].kind == "terrain-without-system"
    assert terrain.notes[0]["system"] == words("WGS 84")


def test_an_ascii_grid_in_metres_is_in_the_event_s_system():
    data = ASCII % (b"600000", b"4700000", b"100")
    to_wgs84 = Transformer.from_crs("EPSG:25830", "EPSG:4326")
    lat, lon = to_wgs84.transform(600_050, 4_700_150)

    terrain = Terrain.open(blob("t.asc", data), crs_if_missing="EPSG:25830")

    assert terrain.elevation_m(lat, lon) == pytest.approx(1, abs=1e-6)
    with pytest.raises(InputError, match="without a reference system"):
        Terrain.open(blob("t.asc", data))


@pytest.mark.parametrize(
    ("unit", "metres"), [("ft", 0.3048), ("US survey foot", 1200 / 3937), ("metre", 1)]
)
def test_heights_in_feet_become_metres(unit, metres):
    terrain = Terrain.open(blob("t.tif", geotiff(hills(), units=unit)))

    np.testing.assert_allclose(terrain.data, hills() * metres, rtol=1e-6)


@pytest.mark.parametrize(
    ("crs", "metres", "noted"),
    [
        ("EPSG:4269+6360", 1200 / 3937, ["terrain-scaled"]),
        ("EPSG:4269+5703", 1.0, []),
        ("EPSG:4979", 1.0, ["terrain-above-the-ellipsoid"]),
    ],
)
def test_the_unit_of_the_vertical_system_counts(crs, metres, noted):
    """NAVD88 in US survey feet (EPSG:6360) and in metres (EPSG:5703)."""
    terrain = Terrain.open(blob("t.tif", geotiff(hills(), crs=crs)))

    np.testing.assert_allclose(terrain.data, hills() * metres, rtol=1e-6)
    assert [note.kind for note in terrain.notes] == noted
    if metres != 1.0:
        assert terrain.notes[0].get("factor") == pytest.approx(metres)
    assert terrain.vertical


def test_a_map_in_feet_that_is_silent_on_heights_is_noted():
    """New York Long Island, EPSG:2263, is in US survey feet."""
    data = geotiff(hills(), crs="EPSG:2263", west=9e5, north=2e5, step=100)

    note = Terrain.open(blob("t.tif", data)).notes[0]
    assert note == fact("terrain-on-a-map-in-feet", terrain=words("t.tif"))


def test_stored_scales_are_applied():
    terrain = Terrain.open(blob("t.tif", geotiff(hills(), scales=0.1)))

    np.testing.assert_allclose(terrain.data, hills() * 0.1, rtol=1e-6)


def zipped(*names):
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name in names:
            archive.writestr(name, geotiff(hills()))
    return target.getvalue()


def test_zip_and_gzip_are_opened():
    plain = HILLS.elevation_m(42.8, -1.7)

    for name, data in (
        ("t.zip", zipped("readme.txt", "deep/terrain.tif")),
        ("t.tif.gz", gzip.compress(geotiff(hills()))),
    ):
        assert Terrain.open(blob(name, data)).elevation_m(42.8, -1.7) == plain


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("terrain.tif", b"", "an empty file"),
        ("terrain.tif", geotiff(hills())[:3000], "damaged"),
        ("terrain.asc", b"hello", "damaged"),
        ("my tile.hgt", bytes(2 * 1201 * 1201), "south-west corner"),
        ("N42W004.hgt", bytes(5000), "cut short"),
        ("t.zip", b"PK nonsense", "damaged or locked zip"),
        ("t.zip", zipped("a.tif", "b.tif"), "2 grids in the zip"),
        ("t.zip", zipped("a.txt"), "0 grids in the zip"),
        ("t.tif.gz", b"\x1f\x8bnonsense", "damaged gzip"),
        ("photo.tif", geotiff(np.zeros((3, 4, 4), "u1")), "a picture"),
        ("t.tif", geotiff(hills(), units="fathom"), "fathom"),
        ("t.tif", geotiff(hills(), transform=Affine.identity()), "where it lies"),
        ("t.tif", geotiff(np.full((4, 4), -9999, "i2")), "no elevation in any cell"),
        (
            "t.tif",
            geotiff(hills(), crs=None, west=6e5, north=4e6, step=9),
            "no.*system|without",
        ),
    ],
    ids=lambda part: part if isinstance(part, str) else "",  # a zip tells the time
)
def test_a_file_that_cannot_serve_is_named_with_the_remedy(name, data, said):
    with pytest.raises(InputError, match=said) as caught:
        Terrain.open(blob(name, data))

    (fault,) = caught.value.faults
    assert fault.where == name
    assert fault.remedy


def test_faults_read_the_same_each_time():
    """GDAL names its memory files at random; such names must not leak into texts."""
    texts = set()
    for _ in range(2):
        with pytest.raises(InputError) as caught:
            Terrain.open(blob("terrain.asc", b"hello"))
        texts.add(str(caught.value))

    assert len(texts) == 1


def test_terrain_is_read_only_and_travels():
    again = pickle.loads(pickle.dumps(HILLS))

    assert again.elevation_m(42.8, -1.7) == HILLS.elevation_m(42.8, -1.7)
    with pytest.raises(ValueError, match="read-only"):
        HILLS.data[0, 0] = 1


def test_the_fallback_serves_where_terrain_ends_and_is_told_apart():
    ground = Ground(HILLS, 640.0)

    got = ground.look_up([42.8, 50.0, np.nan], [-1.7, 5.0, 5.0])

    assert got.elevation_m[0] == HILLS.elevation_m(42.8, -1.7)
    assert got.elevation_m[1] == 640
    assert np.isnan(got.elevation_m[2])
    assert got.from_terrain.tolist() == [True, False, False]


def test_without_terrain_and_fallback_nothing_is_known():
    assert np.isnan(Ground().elevation_m([42.8], [-1.7])).all()
    assert Ground(None, 640.0).elevation_m(42.8, -1.7) == 640
