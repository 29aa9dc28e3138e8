"""How long places and elevations take, as ratios to the general libraries beneath.

Run: python tests/bench/geodesy.py
"""

import pickle
import time

import geopandas
import numpy as np
import rasterio
import shapely
from pyproj import Geod, Transformer
from scipy.interpolate import RegularGridInterpolator

from scorer.event.model import Blob, DistanceKind
from scorer.geodesy.cells import Sent
from scorer.geodesy.plane import Plane
from scorer.geodesy.terrain import Ground, Terrain

FIXES = 10_000
ROWS = 1200


def best_ms(work, rounds=7):
    """Best of several rounds, in milliseconds."""
    took = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return 1000.0 * min(took)


def make_tile():
    """An SRTM-like GeoTIFF of one degree, 1200 x 1200 posts, as bytes."""
    y, x = np.mgrid[0:ROWS, 0:ROWS]
    values = (600 + 30 * np.sin(x / 40) * np.cos(y / 50)).astype("f4")
    step = 1 / ROWS
    transform = rasterio.Affine(step, 0, -2.0, 0, -step, 43.0)
    with rasterio.MemoryFile() as memory:
        with memory.open(
            driver="GTiff",
            count=1,
            height=ROWS,
            width=ROWS,
            dtype="float32",
            crs="EPSG:4326",
            transform=transform,
        ) as target:
            target.write(values, 1)
        return bytes(memory.getbuffer())


def main():
    """Print a table of times and ratios."""
    data = make_tile()
    terrain = Terrain.open(Blob(name="tile.tif", sha256="", content=data))
    rng = np.random.default_rng(1)
    lat, lon = 42.4 + 0.2 * rng.random(FIXES), -1.6 + 0.2 * rng.random(FIXES)
    plane = Plane("EPSG:25830")
    track, target = plane.to_plane(lat, lon), plane.to_plane(42.5, -1.5)
    axis = (np.arange(ROWS) + 0.5) / ROWS
    lattice = RegularGridInterpolator(
        (42.0 + axis, -2.0 + axis), np.asarray(terrain.data, float)[::-1]
    )
    transformer = Transformer.from_crs("EPSG:4326", "EPSG:25830", always_xy=True)
    geod = Geod(ellps="WGS84")
    points, centre = geopandas.GeoSeries.from_xy(*track), shapely.Point(*target)
    pairs = list(zip(lon, lat, strict=True))
    with rasterio.MemoryFile(data) as memory, memory.open() as source:
        rows = [
            ("elevations", "scipy RegularGridInterpolator",
             lambda: terrain.elevation_m(lat, lon), lambda: lattice((lat, lon))),
            ("elevations", "rasterio sample (nearest cell)",
             lambda: terrain.elevation_m(lat, lon),
             lambda: list(source.sample(pairs))),
            ("to the plane", "pyproj Transformer",
             lambda: plane.to_plane(lat, lon), lambda: transformer.transform(lon, lat)),
            ("ground distances to a target", "pyproj Geod.inv",
             lambda: plane.distance(track, target, DistanceKind.GROUND, 600.0),
             lambda: geod.inv(lon, lat, lon * 0 - 1.5, lat * 0 + 42.5)),
            ("ground distances to a target", "geopandas, of the grid",
             lambda: plane.distance(track, target, DistanceKind.GROUND, 600.0),
             lambda: geopandas.GeoSeries.from_xy(*track).distance(centre)),
            ("grid distances to a target", "geopandas, points given",
             lambda: plane.distance(track, target, DistanceKind.GRID, None),
             lambda: points.distance(centre)),
        ]  # fmt: skip
        for what, library, ours, theirs in rows:
            mine, other = best_ms(ours), best_ms(theirs, 3)
            print(  # noqa: T201
                f"{what:30} {mine:8.2f} ms {mine / other:8.3g} x {library}"
            )
    ground = Ground(terrain, None)
    part = Sent.of(terrain.data, terrain.among(lat, lon))
    whole, cut = len(pickle.dumps(ground)), len(pickle.dumps(part))
    print(f"terrain sent to a worker        {cut / whole:6.3f} of the tile")  # noqa: T201


if __name__ == "__main__":
    main()
