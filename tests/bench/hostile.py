"""Whole scores of mutated logs: none crashes, none takes long, one costs itself alone.

Each event has six logs in four formats, flights and nonsense: lines shuffled, doubled,
cut, of other days and places, altitudes that are wild or none, bytes flipped, files cut
off, joined or called by another format's ending, a few zipped.

Run: python -m tests.bench.hostile [--events 100] [--seed 1]
"""

# ruff: noqa: T201

import argparse
import hashlib
import io
import random
import time
import zipfile
from dataclasses import dataclass, replace
from pathlib import Path

from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.event.model import Blob, LogFile
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from tests.helpers import said

SAMPLE = Path(__file__).parents[2] / "sample_events" / "vashkorim"
LOGS = 6
LONG_S = 2.0
"""No log may take longer, with its share of the whole score."""
FAILS = "the program fails"
"""What a warning says of a log on which the engine raised."""
ENDINGS = ("igc", "gpx", "nmea", "csv")


@dataclass(frozen=True)
class Ran:
    """One event that was scored."""

    seed: int
    seconds: float
    fails: tuple[str, ...]
    broken: int
    """Logs that could not be used."""


def sample():
    """The first flight of the small sample."""
    whole = build_event(read_folder(SAMPLE))
    return replace(whole, flights=whole.flights[:1])


def fixes_of(data):
    """Time, place and altitude of each fix of an IGC log, as text of its lines."""
    for line in data.split(b"\r\n"):
        if line[:1] == b"B" and len(line) >= 35:
            text = line.decode("latin-1")
            lat = int(text[7:9]) + int(text[9:14]) / 60_000
            lon = int(text[15:18]) + int(text[18:23]) / 60_000
            yield text[1:7], lat, lon, int(text[30:35])


def written(data, ending):
    """The same flight in another format."""
    rows = list(fixes_of(data))
    if ending == "gpx":
        points = "\n".join(
            f'<trkpt lat="{lat:.6f}" lon="{lon:.6f}"><ele>{alt}</ele>'
            f"<time>2026-08-22T{t[:2]}:{t[2:4]}:{t[4:]}Z</time></trkpt>"
            for t, lat, lon, alt in rows
        )
        head = '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">'
        return f"{head}<trk><trkseg>\n{points}\n</trkseg></trk></gpx>".encode()
    if ending == "csv":
        lines = [
            f"2026-08-22T{t[:2]}:{t[2:4]}:{t[4:]}Z,{la},{lo},{al}"
            for t, la, lo, al in rows
        ]
        return "\n".join(["time,lat,lon,altitude", *lines]).encode()
    if ending == "nmea":
        return "\r\n".join(_sentences(rows)).encode()
    return data


def _sentences(rows):
    for t, lat, lon, alt in rows:
        place = f"{int(lat):02}{60 * (lat % 1):07.4f},N,{int(lon):03}{60 * (lon % 1):07.4f},E"
        for body in (
            f"GPRMC,{t}.00,A,{place},5.0,90.0,220826,,,A",
            f"GPGGA,{t}.00,{place},1,08,1.0,{alt}.0,M,47.0,M,,",
        ):
            check = 0
            for sign in body:
                check ^= ord(sign)
            yield f"${body}*{check:02X}"


def mutated(data, rng):
    """Do to a file what bad cards, wrong clocks and joined files do, and worse."""
    lines = data.split(b"\n")
    for _ in range(rng.randint(0, 4)):
        at, upto = sorted(rng.choices(range(len(lines) + 1), k=2))
        part = lines[at:upto]
        match rng.randrange(7):
            case 0:
                rng.shuffle(part)
            case 1:
                part = part * rng.randint(0, 3)
            case 2:
                part = [_digit(rng, line) for line in part]
            case 3:
                part = part[:: rng.randint(2, 60)]
            case 4:
                part = [line[: rng.randrange(len(line) + 1)] for line in part]
            case 5:
                same = part[0] if part else b""
                part = [line[:7] + same[7:] for line in part]
            case 6:
                head = b"HFDTE%02d%02d%02d" % (
                    rng.randint(0, 32),
                    rng.randint(0, 13),
                    rng.randint(0, 99),
                )
                part = [head, *part]
        lines = [*lines[:at], *part, *lines[upto:]]
    data = bytearray(b"\n".join(lines))
    for _ in range(rng.choice((0, 0, 1, 10, 200))):
        if data:
            data[rng.randrange(len(data))] = rng.randrange(256)
    if rng.random() < 0.15:
        del data[rng.randrange(len(data) + 1) :]
    return bytes(data)


def _digit(rng, line):
    places = [i for i, sign in enumerate(line) if 48 <= sign <= 57]
    if not places or rng.random() < 0.5:
        return line
    at = rng.choice(places)
    return line[:at] + b"%d" % rng.randint(0, 9) + line[at + 1 :]


def zipped(name, data):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as into:
        into.writestr(name, data)
    return packed.getvalue()


def hostile(event, seed):
    """An event whose logs are mutated; the same seed, the same bytes."""
    rng = random.Random(seed)
    good = [log.blob.data for log in event.flights[0].logs]
    logs = []
    for number in range(LOGS):
        ending = rng.choice(ENDINGS)
        data = mutated(written(rng.choice(good), ending), rng)
        if rng.random() < 0.1:
            data += mutated(written(rng.choice(good), ending), rng)
        if rng.random() < 0.1:
            ending = rng.choice(ENDINGS)  # called by another name
        name = f"logs/{number + 1:03}.{ending}"
        if rng.random() < 0.05:
            data, name = zipped(f"{number + 1:03}.{ending}", data), f"logs/{number}.zip"
        pilot = event.pilots[number % len(event.pilots)].number
        sha256 = hashlib.sha256(data).hexdigest()
        blob = Blob(name=name, sha256=sha256, content=data)
        logs.append(LogFile(blob=blob, pilot=pilot if rng.random() < 0.7 else None))
    flight = replace(event.flights[0], logs=tuple(logs))
    return replace(event, flights=(flight,))


def run(event, seed):
    """Score one hostile event and write it; raises what the engine raises."""
    start = time.process_time()
    results = score(hostile(event, seed))
    to_json(results)
    took = time.process_time() - start
    told = [said(m.says) for m in results.matters]
    broken = sum(m.kind.name == "log-broken" for m in results.matters)
    return Ran(seed, took, tuple(t for t in told if FAILS in t), broken)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--events", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    event = sample()
    ran, crashed = [], []
    for seed in range(asked.seed, asked.seed + asked.events):
        try:
            ran.append(run(event, seed))
        except Exception as error:  # noqa: BLE001 - that is what is looked for
            crashed.append(seed)
            print(f"seed {seed}: {type(error).__name__}: {error}", flush=True)
            continue
        if ran[-1].fails:
            print(f"seed {seed}: {ran[-1].fails[0]}", flush=True)
    longest = max(ran, key=lambda one: one.seconds)
    print(
        f"{len(ran)} events of {LOGS} logs scored, {len(crashed)} crashed, "
        f"{sum(bool(one.fails) for one in ran)} with a fault of the program; "
        f"{sum(one.broken for one in ran)} logs not usable"
    )
    print(f"longest: seed {longest.seed}, {longest.seconds:.1f} s for {LOGS} logs")


if __name__ == "__main__":
    main()
