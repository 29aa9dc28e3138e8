"""Reports on the wrong pilot, penalties of two desks, amounts ten times off: rates.

Invented meets (`tests.bench.marks`): what officials report of a balloon that came low past
the target, some under a number that is somebody else's; penalties for a few reasons at
usual amounts, some imposed by both desks, some with a nought too many or too few (common
practice, no source).

    python -m tests.bench.desks              # meets of 10, 100, 275 pilots
"""

import sys
from dataclasses import astuple, dataclass, replace

import numpy as np

from scorer.checks.mark_track import mistaken
from scorer.checks.report_log import NAMED, ReportBasis, contradicted
from scorer.event.model import Decision, PenaltyUnit, Report, ReportKind, Ruling
from scorer.facts import parts
from scorer.geodesy.site import Site
from scorer.scoring.amounts import unusual
from scorer.scoring.penalties import _imposed_twice
from tests.bench.marks import event_of, meet

HEAD = f"{'':<28} {'wrong':>6} {'asked %':>8} {'right':>6} {'asked %':>8}"
USUAL = {
    "gravity drop": (50.0, 100.0),
    "late": (25.0, 50.0),
    "low pass": (100.0, 250.0),
}
"""What like acts cost: the usual amount, and one for a worse case."""
SLIPS = 0.1
"""Share of penalties that are wrong."""


def row(title, wrong, found, right, false):
    return (
        f"{title:<28} {wrong:>6} {100 * found / max(wrong, 1):>8.1f} "
        f"{right:>6} {100 * false / max(right, 1):>8.1f}"
    )


TOUCHED = 0.15
"""Share of balloons that touch the ground as they pass the target, for 20 s."""
WATCH_S, JUDGED = 20.0, 0.2
"""One sigma of an official's watch; how far off heights are judged, at most."""


def reported(kind, when_s, height_m, rng):
    """Return what an official writes of one act, but for the number."""
    value = height_m * rng.uniform(1.0 - JUDGED, 1.0 + JUDGED)
    return Report(
        task=1,
        pilot=0,
        kind=kind,
        time_s=float(when_s + rng.normal(0.0, WATCH_S)),
        value=float(value) if kind is ReportKind.LOW else None,
        by="Ann",
    )


def touched(course, at):
    """Return a course that is on the ground for 20 s about a fix."""
    down = np.abs(course.time_s - course.time_s[at]) <= 10.0
    return replace(course, height_m=np.where(down, 0.5, course.height_m))


def decidable(seen, acts):
    """Tell whether the logs name whom it was: he and two others at most did so then.

    `acts` are when each came nearest to the target, and how high he was then.
    """
    did = set()
    for number, (when_s, height_m, down) in acts.items():
        as_seen = down
        if seen.kind is ReportKind.LOW:
            as_seen = abs(height_m - seen.value) <= 2.0 * JUDGED * seen.value
        if as_seen and abs(when_s - seen.time_s) <= 2.0 * WATCH_S:
            did.add(number)
    return seen.pilot in did and len(did) <= NAMED


def misread(number, numbers, rng):
    """Return a number that is easily written for another; anybody's where none is."""
    like = [n for n in numbers if mistaken(number, n)]
    return int(rng.choice(like or [n for n in numbers if n != number]))


@dataclass
class Reports:
    """What came of reports of one sort."""

    wrong: int = 0
    asked: int = 0
    right: int = 0
    false: int = 0
    named: int = 0
    """Asked about, and the one who was there is among those named."""
    decidable: int = 0
    """Asked about, and the logs name him."""
    told: int = 0
    """Of those, he is among those named."""

    def __add__(self, other):
        """Return both together."""
        both = zip(astuple(self), astuple(other), strict=True)
        return Reports(*(a + b for a, b in both))

    def row(self, title):
        return (
            f"{row(title, self.wrong, self.asked, self.right, self.false)} "
            f"{self.named:>6} {self.decidable:>10} {self.told:>6}"
        )


def reports(pilots, seed, most=40):
    """Return what came of reports, by what was seen and how the number is wrong."""
    rng = np.random.default_rng([seed, pilots, 17])
    own = meet(pilots, seed, timed=False)
    event = event_of(own, own.rows)
    site, task = Site.of(event), event.flights[0].tasks[0]
    target = site.point("T")
    tracks, acts = dict(own.courses), {}
    for number, course in own.courses.items():
        away = np.hypot(course.east_m - target[0], course.north_m - target[1])
        at, down = int(away.argmin()), bool(rng.random() < TOUCHED)
        tracks[number] = touched(course, at) if down else course
        acts[number] = float(course.time_s[at]), float(course.height_m[at]), down
    courses = {n: (lambda c=c: c) for n, c in tracks.items()}
    basis = ReportBasis(site=site, task=task, courses=courses, pilots=event.pilots)
    found = {sort: Reports() for sort in SORTS}
    for number in rng.permutation(own.numbers)[:most].tolist():
        when_s, height_m, down = acts[number]
        kind = ReportKind.GROUND_CONTACT if down else ReportKind.LOW
        seen = reported(kind, when_s, height_m, rng)
        anybody = int(rng.choice([n for n in own.numbers if n != number]))
        others = {"anybody's number": anybody}
        others["number misread"] = misread(number, own.numbers, rng)
        for how, other in others.items():
            tally = found[f"{'touch' if down else 'low'}, {how}"]
            _report(tally, replace(seen, pilot=number), other, basis, acts)
    return found


SORTS = tuple(
    f"{what}, {how}"
    for what in ("low", "touch")
    for how in ("anybody's number", "number misread")
)
REPORT_HEAD = f"{HEAD} {'named':>6} {'decidable':>10} {'named':>6}"


def _report(tally, seen, other, basis, acts):
    """Hold one report against the logs, under the right number and a wrong one."""
    courses = basis.courses
    tally.right += 1
    tally.false += basis.beside(seen, courses[seen.pilot]()).contradicts
    report = replace(seen, pilot=other)
    found = basis.beside(report, courses[other]())
    tally.wrong += 1
    if found is None or not found.contradicts:
        return
    tally.asked += 1
    told = contradicted(report, found, basis).says
    named = [p["pilot"].amount for p in parts(told) if p.kind == "report-other"]
    tally.named += seen.pilot in named
    if decidable(seen, acts):
        tally.decidable += 1
        tally.told += seen.pilot in named


def penalties(pilots, seed):
    """Return a penalty for each of many pilots, and the kinds of slips by their place."""
    rng = np.random.default_rng([seed, pilots, 23])
    made, slips = [], {}
    for pilot in range(1, pilots + 1):
        reason = str(rng.choice(list(USUAL)))
        amount = USUAL[reason][int(rng.random() < 0.2)]
        ruling = Ruling(
            task=1,
            pilot=pilot,
            decision=Decision.IMPOSE,
            amount=amount,
            unit=PenaltyUnit.TASK_POINTS,
            reason=reason,
            by="Ann",
        )
        draw = rng.random()
        if draw < SLIPS:
            slips[pilot] = "amount ten times off"
            times = float(rng.choice([0.1, 10.0]))
            ruling = replace(ruling, amount=amount * times)
        elif draw < 2 * SLIPS:
            slips[pilot] = "imposed by both desks"
            made.append(replace(ruling, by="Bo", reason=f"{reason}, seen by Bo"))
        made.append(ruling)
    return made, slips


def asked_of(pilots, seed):
    """Return (wrong, asked, right, asked) for twin penalties and for amounts."""
    made, slips = penalties(pilots, seed)
    own = meet(2, seed, timed=False)
    event = event_of(own, ())
    flights = (replace(event.flights[0], rulings=tuple(made)),)
    asked = {
        "imposed by both desks": {m.pilots[0] for m in _imposed_twice(made, "f1")},
        "amount ten times off": {
            m.pilots[0] for m in unusual(replace(event, flights=flights))
        },
    }
    found = {}
    for kind, numbers in asked.items():
        wrong = {p for p, slip in slips.items() if slip == kind}
        right = set(range(1, pilots + 1)) - slips.keys()
        found[kind] = (
            len(wrong),
            len(wrong & numbers),
            len(right),
            len(right & numbers),
        )
    return found


def table(pilots, seeds):
    """Return what came of reports and of penalties, by sort, and the lines of a table."""
    seen, total = {sort: Reports() for sort in SORTS}, {}
    for seed in seeds:
        for sort, own in reports(pilots, seed).items():
            seen[sort] += own
        for kind, own in asked_of(pilots, seed).items():
            before = total.get(kind, (0, 0, 0, 0))
            total[kind] = tuple(a + b for a, b in zip(before, own, strict=True))
    lines = [f"{len(seeds)} meets of {pilots} pilots", REPORT_HEAD]
    lines += [own.row(sort) for sort, own in seen.items()]
    lines += [row(kind, *own) for kind, own in total.items()]
    return seen, total, lines


def main():
    for pilots, meets in ((10, 20), (100, 4), (275, 2)):
        sys.stdout.write("\n".join(table(pilots, range(meets))[2]) + "\n\n")


if __name__ == "__main__":
    main()
