"""Terrain files that claim or unpack to very much are refused before they are read."""

import gzip
import io
import zipfile

import pytest
from rasterio import Affine
from rasterio.io import MemoryFile

from scorer.errors import InputError
from scorer.geodesy import gridfile
from scorer.geodesy.gridfile import read_grid


def tiff(width, height, dtype="float32", **more):
    with MemoryFile() as memory:
        with memory.open(
            driver="GTiff",
            width=width,
            height=height,
            count=1,
            dtype=dtype,
            crs="EPSG:25832",
            transform=Affine(1, 0, 500_000, 0, -1, 5_500_000),
            SPARSE_OK=True,
            compress="deflate",
            **more,
        ):
            pass
        return memory.read()


def ascii_grid(columns, rows, body=b"1 2 3\n"):
    head = f"ncols {columns}\nnrows {rows}\nxllcorner 0\nyllcorner 0\ncellsize 1\n"
    return head.encode() + body


def zipped(data):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("a.asc", data)
    return out.getvalue()


MOST_BYTES = 2**23
"""What may be unpacked in these tests: the true limit takes seconds to reach."""
ZEROS = b"0 " * (MOST_BYTES // 2 + 1)
SMALL = {
    "empty tiles": ("a.tif", lambda: tiff(9900, 9900), "which hold no ground"),
    "a huge shape": ("a.tif", lambda: tiff(100_000, 100_000), "cells"),
    "complex numbers": ("a.tif", lambda: tiff(99, 99, "complex128"), "complex"),
    "one huge tile": (
        "a.tif",
        lambda: tiff(64, 64, tiled=True, blockxsize=32768, blockysize=32768),
        "tiles of",
    ),
    "a text that claims a huge shape": (
        "a.asc",
        lambda: ascii_grid(9_999, 9_999),
        "which hold no ground",
    ),
    "a gzip bomb": ("a.asc.gz", lambda: gzip.compress(ZEROS, 1), "MiB unpacked"),
    "a zip bomb": ("a.zip", lambda: zipped(ZEROS), "MiB unpacked"),
}


@pytest.mark.parametrize("kind", SMALL)
def test_a_small_grid_that_holds_very_much_is_a_fault(kind, monkeypatch):
    monkeypatch.setattr(gridfile, "MAX_UNPACKED_BYTES", MOST_BYTES)
    name, made, told = SMALL[kind]
    data = made()
    assert len(data) < MOST_BYTES // 10

    with pytest.raises(InputError, match=told):
        read_grid(name, data, "EPSG:25832")
