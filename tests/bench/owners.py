"""Whose log is whose, on invented meets: silent wrong matches and needless questions.

Each log has one of some sixty styles of file names and headers (common practice, no
source): recorders' names, phone exports, counters, dates in any order, folders of zips,
borrowed loggers, numbers of the last event, names spelt anew, headers of strangers.  The
generator knows the owner and whether a careful person could tell him without asking.

    python -m tests.bench.owners            # meets of 10, 100, 275 pilots
    python -m tests.bench.owners 40 7       # 40 pilots, seeds 0 to 6, style by style
"""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from scorer.event.model import Pilot
from scorer.tracks.heads import LogHead
from scorer.tracks.match import Identified, whose

SYLLABLES = (
    "ba be bo da de do fa ga ka ke la le lo ma me mi na ne no ra re ri sa so ta te vi"
)
ENDINGS = ("ström", "berg", "ez", "ski", "mann", "sson", "é", "ovic", "lund", "ák")
TELLING = (
    # file name, headers; what a careful person takes without a question
    ("2026-09-12-XYZ-{serial}-01.igc", "logger"),
    ("69CX{serial}1.igc", "logger"),
    ("LOG{k:05}.IGC", "logger"),
    ("LOG{k:05}.IGC", "pilot registration"),
    ("track({k}).gpx", "pilot"),
    ("track.gpx", "caps"),
    ("track.gpx", "turned"),
    ("x.igc", "registration"),
    ("export.gpx", "pilot"),
    ("{first} {last}.igc", ""),
    ("{first}_{last}_0912.igc", ""),
    ("{last}, {first}.gpx", ""),
    ("{first}{last}.gpx", ""),
    ("{first}{last}_2026-09-12.gpx", ""),
    ("{n} {first} {last}.igc", ""),
    ("{n:03}_{last}_{first}.igc", ""),
    ("{reg}.igc", ""),
    ("{reg} morning.igc", ""),
    ("2026-09-12 {reg} {k}.gpx", ""),
    ("pilot {n}.igc", ""),
    ("Pilot_{n:03}_flight 2.igc", ""),
    ("competitor {n}.csv", ""),
    ("{n:03}.igc", "pilot"),
    ("{n:03}.igc", "registration"),
    ("{n:03}.igc", "logger"),
    ("{n:03}.igc", "competition_id"),
    ("{n:03}.igc", "pilot registration logger competition_id"),
    ("{n:03}.igc", "typo"),
    ("{n:03}.igc", "surname"),
    ("{n:03}.igc", "filler registration"),
    ("{d}.09.2026 0641.igc", "pilot"),
    ("202609{d:02}_0641{k:02}.nmea", "pilot registration"),
    ("saturday/{first} {last}/track.gpx", ""),
    ("{k}/Pilot {n}/LOG{k:05}.IGC", ""),
    ("day 1/{reg}/track({k}).gpx", ""),
    ("flight {d}/{n:03} {last} {first}/gps.gpx", ""),
    ("activity_{k}8812{d:02}.gpx", "pilot"),
    ("recording ({k}).gpx", "typo registration"),
    ("{n}.igc", "lastyear pilot registration"),
    ("{n:03}_{last}.igc", ""),
    ("day {d}/{n} {last}/LOG{k:05}.IGC", ""),
)
DOUBTFUL = (
    ("{n:03}.igc", ""),
    ("no {n}.igc", ""),
    ("{k}.igc", ""),
    ("#{k}.gpx", ""),
    ("track({k}).gpx", ""),
    ("LOG{k:05}.IGC", ""),
    ("{d} Sep 2026 at 07_26.gpx", ""),
    ("{d:02}SEP0729.gpx", ""),
    ("{d:02}.09.2026 012.gpx", ""),
    ("09-{d:02}-26 {k}.gpx", ""),
    ("{k}_012.igc", ""),
    ("day {d}/{n:03}/track.gpx", ""),
    ("{d}/{k}.igc", ""),
    ("track.gpx", "lastyear"),
    ("track.gpx", "surname"),
    ("{k}.igc", "lastyear"),
    ("{last}.gpx", ""),
    ("export.gpx", "stranger"),
    ("{n:03}.igc", "stranger"),
    ("{n:03}.igc", "borrowed"),
    ("{n:03}.igc", "borrowed pilot registration"),
    ("{k}.igc", "borrowed pilot"),
    ("{k}.igc", "pilot registration logger"),
    ("{n:03}.igc", "owner"),
    ("{first} {last}.gpx", "owner"),
    ("pilot {n}.igc", "owner"),
    ("x.igc", "lastyear typo"),
    ("{first} {last} + {other}.gpx", ""),
    ("{last} ({k}).gpx", ""),
    ("{last}~1.IGC", ""),
    ("{n}.0.igc", ""),
    ("1.2E+05.igc", "lastyear"),
    ("{first}.igc", "borrowed"),
    ("{first} {k}.igc", "borrowed"),
    ("{k} {last} {d}.gpx", ""),
    ("{other} phone/{first} {last}.gpx", ""),
)
STYLES = (
    *((*style, True) for style in TELLING),
    *((*style, False) for style in DOUBTFUL),
)
REACHED = 0.3
"""Share of the tracks that pass within a throw of somebody else's mark."""


@dataclass(frozen=True)
class Case:
    """A log whose owner is known."""

    head: LogHead
    owner: int
    style: str
    decidable: bool


def pilots_of(count: int, rng: Random) -> list[Pilot]:
    """Return an invented roster: unlike names and registrations, some surnames shared."""
    syllables = SYLLABLES.split()
    surnames = [
        "".join(rng.sample(syllables, 2)).capitalize() + rng.choice(ENDINGS)
        for _ in range(count)
    ]
    found, names = [], set()
    numbers = rng.sample(range(1, int(count * 1.3) + 3), count)
    for number in numbers:
        while True:
            first = "".join(rng.sample(syllables, 3)).capitalize()
            name = f"{first} {rng.choice(surnames)}"
            if name not in names:
                names.add(name)
                break
        code = "".join(rng.sample("ABCDEFGHJKLMNPQRSTUVWXYZ", 4))
        found.append(
            Pilot(
                number=number,
                name=name,
                registration=f"Z{number % 10}-{code}",
                logger="".join(rng.sample("0123456789ABCDEFGHJK", 3)),
            )
        )
    unique = Counter(pilot.logger for pilot in found)
    return [p if unique[p.logger] == 1 else replace(p, logger="") for p in found]


def _headers(what: str, pilot: Pilot, other: Pilot, rng: Random) -> dict[str, str]:
    first, last = pilot.name.split()
    at = rng.randrange(1, len(first) - 1)
    made = {
        "pilot": {"pilot": pilot.name},
        "caps": {"pilot": pilot.name.upper()},
        "turned": {"pilot": f"{last}, {first}"},
        "typo": {"pilot": f"{first[:at]}{first[at + 1 :]} {last}"},
        "surname": {"pilot": last},
        "filler": {"pilot": rng.choice(["Unknown", "Pilot name", "not set", "N/A"])},
        "stranger": {"pilot": "Quirrel Umbrox"},
        "registration": {"registration": pilot.registration.replace("-", "")},
        "logger": {"logger": f"XYZ{pilot.logger}" if pilot.logger else ""},
        "borrowed": {"logger": f"XYZ{other.logger}" if other.logger else ""},
        "competition_id": {"competition_id": str(pilot.number)},
        "lastyear": {"competition_id": str(other.number)},
        "owner": {
            "pilot": other.name,
            "registration": other.registration,
            "logger": f"XYZ{other.logger}",
        },
    }
    found: dict[str, str] = {}
    for one in what.split():
        found |= made[one]
    return found


def case_of(pilot: Pilot, everybody: list[Pilot], style: int, rng: Random) -> Case:
    """Return a log of a pilot in one style."""
    template, what, decidable = STYLES[style]
    other = rng.choice([p for p in everybody if p is not pilot])
    first, last = pilot.name.split()
    name = template.format(
        n=pilot.number,
        first=first,
        last=last,
        reg=pilot.registration,
        serial=pilot.logger or "ZZZ",
        other=other.name,
        k=rng.randrange(1, 300),
        d=rng.randrange(1, 31),
    )
    if ("serial" in template or what == "logger") and not pilot.logger:
        decidable = False
    head = LogHead(
        name=name,
        sha256=f"{pilot.number}",
        headers=_headers(what, pilot, other, rng),
        fixes=1000,
        end_s=5000.0,
    )
    return Case(head, pilot.number, f"{template} | {what}", decidable)


def meet(count: int, seed: int, style: int | None = None) -> Iterator[Case]:
    """Yield the logs of one flight: each pilot in a style of his own, or all in one."""
    rng = Random(seed)
    everybody = pilots_of(count, rng)
    for pilot in everybody:
        own = rng.randrange(len(STYLES)) if style is None else style
        case = case_of(pilot, everybody, own, rng)
        reaches = {
            k
            for k, p in enumerate(everybody)
            if rng.random() < (0.97 if p is pilot else REACHED)
        }
        yield replace(case, head=replace(case.head, reaches=frozenset(reaches)))


def tried(
    count: int, seed: int, style: int | None = None
) -> list[tuple[Case, Identified]]:
    """Match one invented flight."""
    everybody = pilots_of(count, Random(seed))
    cases = list(meet(count, seed, style))
    marked = {p.number: (k,) for k, p in enumerate(everybody)}
    return list(
        zip(cases, whose([c.head for c in cases], everybody, marked), strict=True)
    )


@dataclass
class Tally:
    """What came of many logs."""

    logs: int = 0
    silent_wrong: int = 0
    decidable: int = 0
    unasked: int = 0
    """Decidable and rightly taken without a question."""
    asked: int = 0
    first_right: int = 0
    """Asked about, and the owner is the first choice."""

    def add(self, case: Case, found: Identified) -> None:
        """Count one log."""
        right = found.likely == case.owner
        self.logs += 1
        self.silent_wrong += found.sure and not right
        self.decidable += case.decidable
        self.unasked += case.decidable and found.sure and right
        self.asked += not found.sure
        self.first_right += not found.sure and right

    def row(self, title: str) -> str:
        """Return it as a line of the table."""
        share = 100.0 * self.unasked / max(self.decidable, 1)
        return (
            f"{title:<58} {self.logs:>6} {self.silent_wrong:>6} "
            f"{share:>7.1f} {self.asked:>6} {self.first_right:>6}"
        )


HEAD = f"{'':<58} {'logs':>6} {'wrong':>6} {'taken %':>7} {'asked':>6} {'first':>6}"


def mixed(count: int, seeds: int) -> Tally:
    """Match so many flights with all styles mixed."""
    tally = Tally()
    for seed in range(seeds):
        for case, found in tried(count, seed):
            tally.add(case, found)
    return tally


def main() -> None:
    """Print the tables."""
    out = sys.stdout.write
    out(HEAD + "\n")
    if len(sys.argv) > 2:
        count, seeds = int(sys.argv[1]), int(sys.argv[2])
        for style, (template, what, decidable) in enumerate(STYLES):
            tally = Tally()
            for seed in range(seeds):
                for case, found in tried(count, seed, style):
                    tally.add(case, found)
            title = f"{'tells' if decidable else 'doubt'}  {template} | {what}"
            out(tally.row(title) + "\n")
        return
    for count, seeds in ((10, 200), (100, 40), (275, 15)):
        out(mixed(count, seeds).row(f"{count} pilots, {seeds} flights, mixed") + "\n")


if __name__ == "__main__":
    main()
