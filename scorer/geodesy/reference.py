"""Reference systems by name, opened once per process and refused with a reason."""

from functools import lru_cache
from typing import NamedTuple

from pyproj import CRS, Geod, Proj, Transformer
from pyproj.database import query_crs_info
from pyproj.enums import PJType
from pyproj.exceptions import CRSError

from scorer.errors import Fault, InputError, nearest

_WHERE = "event.toml"
_FIELD = "event.crs"
_ALLOWED = "a projected system in metres, axes east and north, such as EPSG:25830"
_LOOK_UP = (
    "The event's maps print its name; the EPSG register (epsg.org) lists its number."
)


class ProjectedFrame(NamedTuple):
    """All that PROJ needs for one projected reference system."""

    horizontal: CRS
    geod: Geod
    """The system's own ellipsoid."""
    proj: Proj
    forward: Transformer
    """WGS84 longitude, latitude to east, north."""
    inverse: Transformer
    project: Transformer
    """Longitude, latitude of the system's own datum to east, north; no datum shift."""
    unproject: Transformer


@lru_cache(maxsize=64)
def frame(name: str) -> ProjectedFrame:
    """Open a projected reference system; raise InputError where it cannot serve."""
    horizontal = _horizontal(_parse(name))
    _check_projected(name, horizontal)
    _check_axes(name, horizontal)
    base = horizontal.geodetic_crs
    geod = horizontal.get_geod()
    if base is None or geod is None:
        raise _fault("a system without an ellipsoid")
    return ProjectedFrame(
        horizontal=horizontal,
        geod=geod,
        proj=Proj(horizontal),
        forward=Transformer.from_crs("EPSG:4326", horizontal, always_xy=True),
        inverse=Transformer.from_crs(horizontal, "EPSG:4326", always_xy=True),
        project=Transformer.from_crs(base, horizontal, always_xy=True),
        unproject=Transformer.from_crs(horizontal, base, always_xy=True),
    )


def utm_zone_crs(lat_deg: float, lon_deg: float) -> str:
    """Return the EPSG name of the WGS84 / UTM zone that covers a point.

    With the wider zones of Norway and Svalbard.  Source: the areas of use in the EPSG
    register, through PROJ.
    """
    zone = int((lon_deg + 180) % 360 // 6) + 1
    if 56 <= lat_deg < 64 and 3 <= lon_deg < 12:
        zone = 32
    if 72 <= lat_deg <= 84 and 0 <= lon_deg < 42:
        zone = 31 + 2 * int((lon_deg + 3) // 12)
    return f"EPSG:{(32600 if lat_deg >= 0 else 32700) + zone}"


def _parse(name: str) -> CRS:
    try:
        return CRS.from_user_input(name.strip())
    except CRSError:
        pass
    raise _fault(f'"{name}", which is unknown', _hint(name))


def _hint(name: str) -> str:
    """Nearest name in the register; nothing helps a number that does not exist."""
    if name.upper().startswith("EPSG"):
        return f"No system has this number. {_LOOK_UP}"
    known = query_crs_info(auth_name="EPSG", pj_types=[PJType.PROJECTED_CRS])
    close = nearest(name, [info.name for info in known])
    number = next((i.code for i in known if f'"{i.name}"' in close), None)
    return f"{close} That is EPSG:{number}." if number else _LOOK_UP


def _horizontal(crs: CRS) -> CRS:
    if crs.is_bound and crs.source_crs is not None:
        crs = crs.source_crs
    return crs.sub_crs_list[0] if crs.is_compound else crs


def _check_projected(name: str, crs: CRS) -> None:
    if crs.is_projected:
        return
    what = "latitude and longitude" if crs.is_geographic else crs.type_name
    remedy = f"Distances need a plane. {_suggestion(crs)}"
    raise _fault(f'"{name}", which is {what}', remedy)


def _check_axes(name: str, crs: CRS) -> None:
    units = {axis.unit_name for axis in crs.axis_info}
    if units - {"metre", "meter", "m"}:
        found = f'"{name}", which is in {" and ".join(sorted(units))}'
        raise _fault(found, _suggestion(crs))
    directions = [axis.direction for axis in crs.axis_info]
    if sorted(directions) != ["east", "north"]:
        found = f'"{name}", whose axes point {" and ".join(directions)}'
        raise _fault(found, _suggestion(crs))


def _suggestion(crs: CRS) -> str:
    """Name the UTM zone in the middle of the area that the refused system is for."""
    area = crs.area_of_use
    if area is None or area.east - area.west > 20 or area.west > area.east:
        return f"A UTM zone always serves. {_LOOK_UP}"
    name = utm_zone_crs((area.south + area.north) / 2, (area.west + area.east) / 2)
    return f"For the middle of its area {name} serves."


def _fault(found: str, remedy: str = _LOOK_UP) -> InputError:
    fault = Fault(
        where=_WHERE, field=_FIELD, found=found, allowed=_ALLOWED, remedy=remedy
    )
    return InputError([fault])
