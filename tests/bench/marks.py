"""Wrong marks on invented meets: how many are doubted, and how many right ones.

Two tasks flown in one morning.  Balloons come in on a wind that turns and grows with
height, pass each target at a distance of their own, and drop about where they are nearest;
some drop early or late.  Marks are taped, sighted from reference points or taken by a
receiver; then one sort of mistake is made in a few of them.  All but the marks and tracks
is the program's own way; the meets share no code with the model of throws.

    python -m tests.bench.marks              # meets of 10, 100, 275 pilots
    python -m tests.bench.marks 100 4 50     # 100 pilots, 4 meets, seeds from 50 on
    python -m tests.bench.marks curve        # false alarms and found, by threshold
    python -m tests.bench.marks slips        # rows one line off, by how many
"""

import math
import sys
from dataclasses import astuple, dataclass, replace
from itertools import pairwise

import numpy as np

from scorer.checks.mark_track import Aloft, Course, Marks
from scorer.event.build import build_event
from scorer.event.raw import RawRow
from scorer.geodesy.site import Site
from scorer.scoring.evidence import take
from scorer.scoring.meant import GuessBasis, doubted, weighed
from scorer.scoring.slipped import shifted
from tests.scorer.tiny import EAST, NORTH, place, tiny_flight, tiny_raw

START_S = 1_780_293_600.0  # 2026-06-01 06:00 UTC
EVERY_S = 4.0
FIRST, SECOND = np.array([0.0, 0.0]), np.array([2600.0, 900.0])
TASKS = """[[task]]
number = 1
kind = "JDG"
target = "T"
scoring_area = "area"

[[task]]
number = 2
kind = "FIN"
target = "S"
scoring_area = "area 2"
"""
MISTAKES = (
    "pilots swapped",
    "like numbers swapped",
    "another number",
    "bare tapes swapped",
    "tasks swapped",
    "wrong task",
    "digits exchanged",
    "feet for metres",
    "polar turned",
    "tape bearing turned",
    "wrong reference",
    "place turned digits",
)
NOTHING = frozenset({"none", "nothing"})
SHARE = 0.03
"""Of the marks with a mistake, one at least."""


@dataclass(frozen=True, kw_only=True)
class Morning:
    """How one meet flies, drops and measures."""

    pilots: int
    speed_m_s: float
    miss_m: float
    watch_s: float
    odd: float
    throw_m: float
    traffic_s: float
    timed: bool
    height_m: float


def morning(pilots, rng, *, timed):
    """Draw a morning: calm or brisk, skilled or not, crowded or spread out."""
    return Morning(
        pilots=pilots,
        speed_m_s=rng.uniform(1.2, 5.0),
        miss_m=rng.uniform(15.0, 55.0),
        watch_s=10.0,
        odd=rng.choice([0.0, 0.01, 0.03]),
        throw_m=rng.uniform(4.0, 14.0),
        traffic_s=rng.uniform(1200.0, 4200.0),
        timed=timed,
        height_m=rng.uniform(8.0, 60.0),
    )


@dataclass(frozen=True, kw_only=True)
class Meet:
    """A meet with its tracks, and the rows of right marks."""

    morning: Morning
    numbers: tuple[int, ...]
    courses: dict[int, Course]
    rows: tuple[dict[str, str], ...]
    references: dict[str, tuple[float, float]]
    """Points to measure from: P, Q, R about the first target, U, V, W the second."""


def flown(own, rng):
    """Fly one balloon past both targets; return its way and where its markers fell."""
    low = own.height_m * rng.uniform(0.4, 1.6)
    speed = own.speed_m_s * rng.uniform(0.8, 1.25) * (1.0 + low / 300.0)
    aside = rng.normal(0.0, own.miss_m, 2)
    way = SECOND - FIRST
    heading = math.atan2(way[0], way[1]) + rng.normal(0.0, 0.12)
    ahead = np.array([math.sin(heading), math.cos(heading)])
    right = np.array([ahead[1], -ahead[0]])
    legs = [
        FIRST - ahead * rng.uniform(2500.0, 5000.0) + right * rng.normal(0.0, 300.0),
        FIRST - ahead * 300.0 + right * (aside[0] + rng.normal(0.0, 15.0)),
        FIRST + right * aside[0],
        FIRST + ahead * 300.0 + right * (aside[0] + rng.normal(0.0, 15.0)),
        SECOND - ahead * 300.0 + right * (aside[1] + rng.normal(0.0, 15.0)),
        SECOND + right * aside[1],
        SECOND + ahead * 1500.0 + right * rng.normal(0.0, 200.0),
    ]
    corners = np.array(legs)
    along = np.r_[0.0, np.cumsum(np.hypot(*np.diff(corners, axis=0).T))]
    at_first = START_S + 3600.0 + rng.uniform(0.0, own.traffic_s)
    start = at_first - along[2] / speed
    time = np.arange(start, start + along[-1] / speed, EVERY_S)
    gone = (time - start) * speed
    east, north = (np.interp(gone, along, xy) for xy in corners.T)
    near = np.minimum(np.abs(gone - along[2]), np.abs(gone - along[5]))
    height = low + 250.0 * np.clip((near - 400.0) / 900.0, 0.0, 1.0)
    east = east + 3.0 * np.sin(gone / 170.0 + rng.uniform(0, 6))
    path = np.c_[east, north]
    drops = [
        dropped(own, time, (path, height), target, rng) for target in (FIRST, SECOND)
    ]
    noise = rng.normal(0.0, 1.5, 2) + rng.normal(0.0, 1.0, path.shape)
    seen = path + noise + (EAST, NORTH)
    course = Course(time, seen[:, 0], seen[:, 1], height + rng.normal(0.0, 4.0))
    return course, drops


def dropped(own, time, way, target, rng):
    """Drop a marker: when, and where it comes to lie."""
    path, height = way
    away = np.hypot(*(path - target).T)
    when = time[int(away.argmin())] + rng.normal(0.0, 2.5)
    if rng.random() < own.odd:
        when += rng.choice([-1.0, 1.0]) * rng.uniform(10.0, 40.0)
    here = np.array([np.interp(when, time, xy) for xy in path.T])
    before = np.array([np.interp(when - 5.0, time, xy) for xy in path.T])
    up = float(np.interp(when, time, height))
    fall = (here - before) / 5.0 * math.sqrt(up / 4.9)
    reach = max(float(np.hypot(*(target - here))), 1e-6)
    throw = min(abs(rng.normal(0.0, own.throw_m)), reach)
    spread = rng.normal(0.0, 1.0 + 0.05 * up, 2)
    return when, here + fall + (target - here) / reach * throw + spread


def meet(pilots, seed, *, timed):
    """Return a meet whose marks are all right."""
    rng = np.random.default_rng([seed, pilots])
    own = morning(pilots, rng, timed=timed)
    most = max(int(pilots * 1.3), pilots + 3)
    numbers = sorted(rng.choice(np.arange(1, most), pilots, replace=False).tolist())
    points = references(rng)
    courses, rows = {}, []
    for number in numbers:
        courses[number], drops = flown(own, rng)
        for task, (when, at) in enumerate(drops, start=1):
            rows.append(measured(own, points, (task, number, when), at, rng))
    order = sorted(range(len(rows)), key=lambda k: (rows[k]["task"], rng.random()))
    return Meet(
        morning=own,
        numbers=tuple(numbers),
        courses=courses,
        rows=tuple(rows[k] for k in order),
        references=points,
    )


def references(rng):
    """Put points to measure from round both targets."""
    found = {}
    for names, target in (("PQR", FIRST), ("UVW", SECOND)):
        for name in names:
            angle, far = rng.uniform(0.0, 2.0 * math.pi), rng.uniform(70.0, 350.0)
            east, north = target + far * np.array([math.sin(angle), math.cos(angle)])
            found[name] = (round(float(east), 1), round(float(north), 1))
    return found


def measured(own, points, what, at, rng):
    """Measure a marker as a team does."""
    task, number, when = what
    target = (FIRST, SECOND)[task - 1]
    away = float(np.hypot(*(at - target)))
    noted = ""
    if own.timed:
        noted = clock(when + rng.uniform(-own.watch_s, own.watch_s))
    row = {"task": str(task), "pilot": str(number), "time": noted, "by": "Ann"}
    draw = rng.random()
    method = "tape" if draw < 0.6 else "bearing" if draw < 0.75 else "polar"
    method = "grid" if away > 150.0 or draw > 0.95 else method
    if method == "grid":
        east, north = at + np.array([EAST, NORTH]) + rng.normal(0.0, 3.0, 2)
        return {
            **row,
            "method": "grid",
            "easting": f"{east:.1f}",
            "northing": f"{north:.1f}",
        }
    if method in {"tape", "bearing"}:
        taped = max(away * (1.0 + rng.normal(0.0, 0.0005)), 0.05)
        more = {"bearing": bearing(target, at, rng)} if method == "bearing" else {}
        return {**row, "method": "tape", "distance": f"{taped:.2f}", **more}
    near = str(rng.choice(list("PQR" if task == 1 else "UVW")))
    start = np.array(points[near])
    far = float(np.hypot(*(at - start)))
    return {
        **row,
        "method": "polar",
        "distance": f"{far:.2f}",
        "from": near,
        "bearing": bearing(start, at, rng),
    }


def bearing(start, end, rng):
    angle = math.degrees(math.atan2(end[0] - start[0], end[1] - start[1]))
    return f"{(angle + rng.normal(0.0, 1.0)) % 360.0:.1f}"


def clock(time_s):
    since = round(time_s - START_S) + 6 * 3600
    return f"{since // 3600:02}:{since // 60 % 60:02}:{since % 60:02}"


# Mistakes.


def spoilt(own, kind, seed):
    """Return the rows with some mistakes, and which rows are wrong."""
    rng = np.random.default_rng([seed, len(own.rows), MISTAKES.index(kind)])
    rows = list(own.rows)
    wrong: set[int] = set()
    wanted = max(1, round(SHARE * len(rows)))
    for _ in range(40 * wanted):
        if len(wrong) >= wanted:
            break
        k = int(rng.integers(len(rows)))
        made = {} if k in wrong else _spoil(own, rows, k, kind, rng)
        if made and not wrong & made.keys():
            for place_, row in made.items():
                rows[place_] = row
            wrong |= made.keys()
    return rows, wrong


def mistaken_rows(pilots, seed, *, timed):
    """Make mistakes of every sort in one meet; return it, its rows, and which are wrong."""
    own = meet(pilots, seed, timed=timed)
    rng = np.random.default_rng([seed, pilots, 7])
    rows, wrong = list(own.rows), set()
    for kind in MISTAKES if pilots > 20 else rng.permutation(MISTAKES)[:2]:
        for k in rng.permutation(len(rows)).tolist():
            made = {} if k in wrong else _spoil(own, rows, k, str(kind), rng)
            if made and not wrong & made.keys():
                for place_, row in made.items():
                    rows[place_] = row
                wrong |= made.keys()
                break
    return own, rows, wrong


def mixed(pilots, seed, *, timed):
    """Tally a meet with mistakes of every sort, at every threshold of `CURVE`."""
    own, rows, wrong = mistaken_rows(pilots, seed, timed=timed)
    marks, hard, doubts = look_at(own, rows, CURVE[0])
    found = {}
    for least in CURVE:
        kept = {slot: d for slot, d in doubts.items() if d.odds >= least}
        found[least] = Tally()
        found[least].add(rows, wrong, (marks, hard, kept), "mixed")
    return found


CURVE = (-3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 4.0, 8.0)
"""Natural logarithms of the odds from which a mark is doubted; the program takes 0."""


def curve(pilots, seeds, *, timed):
    """Return what came of meets by threshold, and the lines of a table."""
    meets = [mixed(pilots, seed, timed=timed) for seed in seeds]
    total = {least: sum((m[least] for m in meets), Tally()) for least in CURVE}
    how = "times to ± 10 s" if timed else "no times"
    lines = [f"{pilots} pilots, {how}", HEAD]
    lines += [own.row(f"odds from {least:+.0f}") for least, own in total.items()]
    return total, lines


SLIPS = (4, 6, 10, 20)
"""How many rows of a sheet are entered one line off."""


def slipped(own, first, last):
    """Move the measurements of some rows of task 1 down by one row."""
    rows = list(own.rows)
    for k in range(last, first, -1):
        rows[k] = {**own.rows[k - 1], "pilot": own.rows[k]["pilot"]}
    rows[first] = {**own.rows[last], "pilot": own.rows[first]["pilot"]}
    return rows


def asked_of_rows(own, rows):
    """Return what is asked about rows one line off."""
    event, _, _, weighing = weighed_meet(own, rows)
    return list(shifted(weighing, event.flights[0]))


def slips(pilots, seeds, *, timed, sizes=SLIPS):
    """Return how often slips of so many rows are asked about; 0 = sheets without one."""
    found = dict.fromkeys((0, *(n for n in sizes if n <= pilots)), 0)
    for seed in seeds:
        own = meet(pilots, seed, timed=timed)
        rng = np.random.default_rng([seed, 3])
        for wanted in found:
            first = int(rng.integers(0, pilots - wanted + 1))
            rows = slipped(own, first, first + wanted - 1) if wanted else own.rows
            found[wanted] += len(asked_of_rows(own, rows))
    return found


def slip_line(pilots, seeds, *, timed, sizes=SLIPS):
    """Return what came of slips, and a line of a table."""
    found = slips(pilots, seeds, timed=timed, sizes=sizes)
    how = "times to ± 10 s" if timed else "no times"
    told = ", ".join(f"{n} rows {k} of {len(seeds)}" for n, k in found.items() if n)
    right = f"none {found[0]} of {2 * len(seeds)} sheets"
    return found, f"{pilots} pilots, {how}, one line off: {told}; {right}"


def _spoil(own, rows, k, kind, rng):  # noqa: PLR0912 - one sort of mistake each
    row = rows[k]
    if kind in {"pilots swapped", "like numbers swapped", "bare tapes swapped"}:
        same = [i for i, r in enumerate(rows) if r["task"] == row["task"] and i != k]
        if kind == "like numbers swapped":
            turned = {row["pilot"][::-1], str(int(row["pilot"]) + 10)}
            same = [i for i in same if rows[i]["pilot"] in turned]
        if kind == "bare tapes swapped":
            bare = [i for i in same if _bare(rows[i])]
            same = bare if _bare(row) else []
        if not same:
            return {}
        i = int(rng.choice(same))
        return {
            k: {**row, "pilot": rows[i]["pilot"]},
            i: {**rows[i], "pilot": row["pilot"]},
        }
    if kind == "another number":
        # the other pilot's marker was not found
        same = [i for i, r in enumerate(rows) if r["task"] == row["task"] and i != k]
        i = int(rng.choice(same))
        gone = {
            "task": row["task"],
            "pilot": row["pilot"],
            "method": "none",
            "by": "Ann",
        }
        if {rows[i]["method"], row["method"]} & NOTHING:
            return {}
        lost = {**gone, "pilot": rows[i]["pilot"]}
        if rng.random() < 0.8:
            lost["method"] = "nothing"
        return {k: {**rows[i], "pilot": row["pilot"]}, i: lost}
    if kind in {"tasks swapped", "wrong task"}:
        i = next(
            i
            for i, r in enumerate(rows)
            if r["pilot"] == row["pilot"] and r["task"] != row["task"]
        )
        if kind == "wrong task":
            gone = {"task": row["task"], "pilot": row["pilot"], "method": "nothing"}
            return {i: {**row, "task": rows[i]["task"]}, k: gone}
        return {
            k: {**row, "task": rows[i]["task"]},
            i: {**rows[i], "task": row["task"]},
        }
    if kind == "digits exchanged" and row["method"] == "tape":
        text = row["distance"]
        digits = [n for n, c in enumerate(text) if c.isdigit()]
        pairs = [
            (a, b)
            for a, b in pairwise(digits)
            if text[a] != text[b] and b < len(text) - 1
        ]
        if not pairs:
            return {}
        a, b = pairs[int(rng.integers(len(pairs)))]
        letters = list(text)
        letters[a], letters[b] = letters[b], letters[a]
        return {k: {**row, "distance": "".join(letters)}}
    if kind == "feet for metres" and row["method"] == "tape":
        return {k: {**row, "distance": f"{float(row['distance']) / 0.3048:.2f}"}}
    turned = row["method"] == "polar" and kind == "polar turned"
    turned |= kind == "tape bearing turned" and "bearing" in row and not turned
    turned &= not (kind == "tape bearing turned" and row["method"] != "tape")
    if turned:
        back = (float(row["bearing"]) + 180.0) % 360.0
        return {k: {**row, "bearing": f"{back:.1f}"}}
    if kind == "wrong reference" and row["method"] == "polar":
        near = "PQR" if row["task"] == "1" else "UVW"
        others = [n for n in near if n != row["from"]]
        return {k: {**row, "from": str(rng.choice(others))}}
    if kind == "place turned digits" and row["method"] == "grid":
        text = row["easting"]
        letters = list(text)
        n = int(rng.integers(2, 4))
        letters[n], letters[n + 1] = letters[n + 1], letters[n]
        return (
            {} if letters == list(text) else {k: {**row, "easting": "".join(letters)}}
        )
    return {}


def _bare(row):
    return row["method"] == "tape" and "bearing" not in row


# What comes of it.


def event_of(own, rows):
    """Return the event with these rows keyed."""
    names = {f"{n}": f"Pilot {n}" for n in own.numbers}
    pilots = "number,name\n" + "\n".join(f"{n},{name}" for n, name in names.items())
    raw = tiny_raw(tiny_flight("f1", tasks=TASKS), pilots=pilots)
    columns = ("task", "pilot", "method", "distance", "bearing", "from")
    columns += ("easting", "northing", "time", "by")
    marks = tuple(
        RawRow(fields={c: row.get(c, "") for c in columns if row.get(c)})
        for row in rows
        if row["method"] != "nothing"
    )
    more = (
        place("S", "target", tuple(SECOND)),
        place("area 2", "scoring-area", *_square(SECOND)),
        *(place(name, "reference", at) for name, at in own.references.items()),
    )
    kept = [p for p in raw.places if p["properties"]["name"] not in own.references]
    return build_event(
        replace(
            raw,
            places=(*kept, *more),
            flights=(replace(raw.flights[0], marks=marks),),
        )
    )


def _square(at, half=500.0):
    east, north = at
    return [
        (east + e * half, north + n * half)
        for e, n in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]


def weighed_meet(own, rows):
    """Return what the program's own way makes of rows: all that weighing works on."""
    event = event_of(own, rows)
    flight, site = event.flights[0], Site.of(event)
    taken = take(event, flight, site)
    tracks = {}
    for number, course in own.courses.items():
        aloft = Aloft(
            pilot=number,
            log=f"{number}.igc",
            sigma_m=3.0,
            course=None,
        )
        tracks[number] = aloft.approaches(course.near(taken.placed))
    marks = Marks(marks=taken.placed, tracks=tracks, throw_m=100.0, flight="f1")
    return event, taken, marks, weighed(marks, taken)


def look_at(own, rows, least_odds=0.0):
    """Return the marks, and the doubted ones as (task, pilot), with their odds."""
    event, taken, marks, weighing = weighed_meet(own, rows)
    flight, site = event.flights[0], Site.of(event)
    courses = {n: (lambda c=c: c) for n, c in own.courses.items()}
    hand = GuessBasis(
        event=event,
        flight=flight,
        site=site,
        agreed=taken.by_pilot,
        courses=courses,
    )
    doubts = doubted(weighing, hand, least_odds) if weighing else []
    hard = {
        (m.task, m.pilot)
        for k, m in enumerate(taken.placed)
        if not marks.fits(k, m.pilot)
    }
    found = {(taken.placed[d.mark].task, taken.placed[d.mark].pilot): d for d in doubts}
    return marks, hard, found


@dataclass
class Tally:
    """What came of marks."""

    wrong: int = 0
    found: int = 0
    hard: int = 0
    named: int = 0
    right: int = 0
    alarms: int = 0

    def __add__(self, other):
        """Return both together."""
        both = zip(astuple(self), astuple(other), strict=True)
        return Tally(*(a + b for a, b in both))

    def add(self, rows, wrong, seen, kind):
        """Count one meet."""
        _, hard, doubts = seen
        for k, row in enumerate(rows):
            slot = int(row["task"]), int(row["pilot"])
            told = slot in hard or slot in doubts
            if row["method"] in NOTHING:
                continue
            if k not in wrong:
                self.right += 1
                self.alarms += told
                continue
            self.wrong += 1
            self.found += told
            self.hard += slot in hard
            doubt = doubts.get(slot)
            if doubt is not None and kind in NAMES:
                self.named += doubt.meant is not None and (
                    doubt.meant.kind == NAMES[kind]
                )
            elif doubt is not None:
                self.named += doubt.other is not None or doubt.swap is not None

    def row(self, title):
        return (
            f"{title:<24} {self.wrong:>6} {100 * self.found / max(self.wrong, 1):>7.1f} "
            f"{100 * self.hard / max(self.wrong, 1):>7.1f} "
            f"{100 * self.named / max(self.wrong, 1):>7.1f} {self.right:>7} "
            f"{100 * self.alarms / max(self.right, 1):>7.2f}"
        )


HEAD = (
    f"{'mistake':<24} {'wrong':>6} {'found %':>7} {'rule %':>7} {'named %':>7} "
    f"{'right':>7} {'false %':>7}"
)
NAMES = {
    "digits exchanged": "meant-digits",
    "place turned digits": "meant-digits",
    "feet for metres": "meant-unit",
    "polar turned": "meant-turned",
    "tape bearing turned": "meant-turned",
    "wrong reference": "meant-reference",
    "wrong task": "meant-task",
    "tasks swapped": "meant-task",
}


def tally(pilots, meets, first=0, *, timed, kinds=MISTAKES):
    """Make each mistake in so many meets."""
    found = {kind: Tally() for kind in (*kinds, "none")}
    for seed in range(first, first + meets):
        own = meet(pilots, seed, timed=timed)
        for kind, counted in found.items():
            rows, wrong = own.rows, set()
            if kind != "none":
                rows, wrong = spoilt(own, kind, seed)
            counted.add(rows, wrong, look_at(own, rows), kind)
    return found


def main():
    out = sys.stdout.write
    if sys.argv[1:] == ["curve"]:
        for pilots, meets in ((10, 24), (100, 4), (275, 2)):
            for timed in (False, True):
                out("\n".join(curve(pilots, range(meets), timed=timed)[1]) + "\n\n")
        return
    if sys.argv[1:] == ["slips"]:
        for pilots, meets in ((10, 20), (100, 6), (275, 2)):
            for timed in (False, True):
                out(slip_line(pilots, range(meets), timed=timed)[1] + "\n")
        return
    sizes = ((10, 12), (100, 3), (275, 1))
    first = 0
    if len(sys.argv) > 2:
        sizes = ((int(sys.argv[1]), int(sys.argv[2])),)
        first = int(sys.argv[3]) if len(sys.argv) > 3 else 0
    for pilots, meets in sizes:
        for timed in (False, True):
            how = "with times to ± 10 s" if timed else "without times"
            out(f"\n{meets} meets of {pilots} pilots, {how}\n{HEAD}\n")
            for kind, own in tally(pilots, meets, first, timed=timed).items():
                out(own.row(kind) + "\n")


if __name__ == "__main__":
    main()
