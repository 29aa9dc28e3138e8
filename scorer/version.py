"""Which version of the program this is, and with what it computes: the one place."""

from functools import cache
from importlib.metadata import PackageNotFoundError, version

VERSION = "0.9.0"
"""Raise it whenever results may come out otherwise: publications keep the version that
computed them, and only so can a change of the program be told from altered evidence."""
PROGRAM = f"sandtail {VERSION}"
FIRST_VERSION = "0.1.0"
"""That of publications which name none."""
_COMPUTING = ("numpy", "scipy", "shapely", "pyproj", "rasterio", "tzdata")
"""Libraries on whose versions the last digit of a number, or an hour, may hang."""


@cache
def computed_by() -> str:
    """Return the program and the libraries it computes with, as publications keep it."""
    return f"{PROGRAM} with {libraries()}"


@cache
def libraries() -> str:
    """Return what it computes with, and of which versions."""
    import pyproj  # noqa: PLC0415 - who asks for the version alone does not wait for it

    known = *map(_library, _COMPUTING), f"PROJ {pyproj.proj_version_str}"
    return ", ".join(known)


def _library(name: str) -> str:
    try:
        return f"{name} {version(name)}"
    except PackageNotFoundError:
        return f"{name} of unknown version"
