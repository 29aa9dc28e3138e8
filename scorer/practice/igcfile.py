"""Write invented flights as IGC files.

Source: International Gliding Commission of the FAI, Technical Specification for GNSS
Flight Recorders, appendix A (data file structure; it belongs to section 3, gliding, of
the Sporting Code; from memory): A, H, I, B, E and L records; lines end in CR LF.  The
manufacturer code `XXX` is the one for recorders without approval.  No G record: nothing
here is signed.
"""

from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Bytes = NDArray[np.uint8]

_DAY_S = 86400
_B_LENGTH = 42
_EXTENSIONS = "I023638FXA3940SIU"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class IgcFlight:
    """What goes into one file; arrays are (N,)."""

    pilot: str
    """ASCII."""
    number: int
    """Competition number."""
    registration: str
    serial: str
    """Of the logger, digits."""
    time_s: Array
    """POSIX seconds, UTC, increasing."""
    lat_deg: Array
    lon_deg: Array
    pressure_alt_m: Array
    """NaN = no barometer, written as 0."""
    gnss_alt_m: Array
    """NaN = no height from satellites, written as 0 in a `V` fix."""
    accuracy_m: Array
    satellites: NDArray[np.int64]
    marks_s: tuple[float, ...] = ()
    """Moments at which the pilot pressed the button, POSIX seconds."""
    comment: str = ""


def igc_bytes(flight: IgcFlight) -> bytes:
    """Return the file's content."""
    fixes = _fixes(flight)
    where = np.searchsorted(flight.time_s, flight.marks_s).clip(0, len(fixes) - 1)
    parts, done = [_header(flight)], 0
    for mark_s, at in zip(flight.marks_s, where, strict=True):
        parts.append(fixes[done:at].tobytes())
        parts.append(f"E{_clock(mark_s)}PEV\r\n".encode("ascii"))
        done = int(at)
    parts.append(fixes[done:].tobytes())
    if flight.comment:
        parts.append(f"LXXX{flight.comment}\r\n".encode("ascii"))
    return b"".join(parts)


def _header(flight: IgcFlight) -> bytes:
    day = datetime.fromtimestamp(float(flight.time_s[0]), UTC)
    lines = (
        f"AXXX{flight.serial}",
        f"HFDTEDATE:{day:%d%m%y},01",
        "HFFXA010",
        f"HFPLTPILOTINCHARGE:{flight.pilot}",
        "HFGTYGLIDERTYPE:Hot-air balloon",
        f"HFGIDGLIDERID:{flight.registration}",
        "HFDTMGPSDATUM:WGS84",
        "HFRFWFIRMWAREVERSION:1",
        "HFRHWHARDWAREVERSION:1",
        "HFFTYFRTYPE:Invented practice logger",
        "HFGPSRECEIVER:Invented",
        "HFPRSPRESSALTSENSOR:Invented",
        "HFTZNTIMEZONE:0",
        f"HFCIDCOMPETITIONID:{flight.number}",
        "HFALGALTGPS:ELL",
        "HFALPALTPRESSURE:ISA",
        _EXTENSIONS,
    )
    return "".join(f"{line}\r\n" for line in lines).encode("ascii")


def _clock(time_s: float) -> str:
    return f"{datetime.fromtimestamp(time_s, UTC):%H%M%S}"


def _fixes(flight: IgcFlight) -> Bytes:
    """Return the B records as (N, 42) bytes."""
    lines = np.full((len(flight.time_s), _B_LENGTH), ord(" "), dtype=np.uint8)
    second = np.round(flight.time_s).astype(np.int64) % _DAY_S
    lines[:, 0] = ord("B")
    _digits(lines[:, 1:3], second // 3600)
    _digits(lines[:, 3:5], second // 60 % 60)
    _digits(lines[:, 5:7], second % 60)
    _angle(lines[:, 7:15], flight.lat_deg, degrees=2, signs="NS")
    _angle(lines[:, 15:24], flight.lon_deg, degrees=3, signs="EW")
    lost = np.isnan(flight.gnss_alt_m)
    lines[:, 24] = np.where(lost, ord("V"), ord("A"))
    _height(lines[:, 25:30], flight.pressure_alt_m)
    _height(lines[:, 30:35], flight.gnss_alt_m)
    _digits(lines[:, 35:38], np.round(flight.accuracy_m).astype(np.int64).clip(0, 999))
    _digits(lines[:, 38:40], flight.satellites.clip(0, 99))
    lines[:, 40:] = (ord("\r"), ord("\n"))
    return lines


def _digits(cells: Bytes, value: NDArray[np.int64]) -> None:
    """Write whole numbers, leading zeros kept, into (N, width) bytes."""
    for place in range(cells.shape[1] - 1, -1, -1):
        cells[:, place] = ord("0") + value % 10
        value = value // 10


def _angle(cells: Bytes, angle_deg: Array, *, degrees: int, signs: str) -> None:
    """Write degrees, minutes and thousandths of minutes, and the hemisphere."""
    thousandths = np.round(np.abs(angle_deg) * 60_000.0).astype(np.int64)
    _digits(cells[:, :degrees], thousandths // 60_000)
    _digits(cells[:, degrees:-1], thousandths % 60_000)
    plus, minus = (ord(sign) for sign in signs)
    cells[:, -1] = np.where(angle_deg < 0.0, minus, plus)


def _height(cells: Bytes, height_m: Array) -> None:
    """Write whole metres in five places, a minus taking the first."""
    metres = np.round(np.nan_to_num(height_m)).astype(np.int64)
    _digits(cells, np.abs(metres))
    cells[metres < 0, 0] = ord("-")
