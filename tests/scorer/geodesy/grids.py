"""Elevation grids made in memory."""

import hashlib
import warnings

import numpy as np
import rasterio
from rasterio.errors import NotGeoreferencedWarning
from rasterio.transform import Affine

from scorer.event.model import Blob


def blob(name, data):
    return Blob(name=name, sha256=hashlib.sha256(data).hexdigest(), content=data)


def geotiff(values, *, west=-2.0, north=43.0, step=0.01, crs="EPSG:4326", **profile):
    """Write values (rows, columns) or (bands, rows, columns) as GeoTIFF bytes."""
    values = np.asarray(values)
    bands = values if values.ndim == 3 else values[None]
    units = profile.pop("units", None)
    scales = profile.pop("scales", None)
    transform = profile.pop("transform", Affine(step, 0, west, 0, -step, north))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        with rasterio.MemoryFile() as memory:
            with memory.open(
                driver="GTiff",
                count=len(bands),
                height=bands.shape[1],
                width=bands.shape[2],
                dtype=bands.dtype,
                crs=crs,
                transform=transform,
                **profile,
            ) as target:
                target.write(bands)
                if units:
                    target.units = [units]
                if scales:
                    target.scales = [scales]
            return bytes(memory.getbuffer())


def hills(rows=40, columns=50):
    """Smooth ground with a fold in it, float32."""
    y, x = np.mgrid[0:rows, 0:columns]
    return (600 + 3.0 * y - 2.0 * x + 15 * np.sin(x / 3) * np.cos(y / 5)).astype("f4")
