"""Reports on the wrong pilot, penalties of two desks, amounts ten times off: rates.

Invented meets (`tests.bench.marks`): what officials report of a balloon that came low past
the target, some under a number that is somebody else's; penalties for a few reasons at
usual amounts, some imposed by both desks, some with a nought too many or too few (common
practice, no source).

    python -m tests.bench.desks              # meets of 10, 100, 275 pilots
"""

import sys
from dataclasses import replace

import numpy as np

from scorer.checks.report_log import beside, contradicted
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


def reports(pilots, seed, most=40):
    """Return (wrong, asked, right, asked), and how often the right pilot is proposed."""
    rng = np.random.default_rng([seed, pilots, 17])
    own = meet(pilots, seed, timed=False)
    event = event_of(own, own.rows)
    site, task = Site.of(event), event.flights[0].tasks[0]
    courses = {n: (lambda c=c: c) for n, c in own.courses.items()}
    target = site.point("T")
    tally, proposed = [0, 0, 0, 0], 0
    for number in rng.permutation(own.numbers)[:most].tolist():
        course = own.courses[number]
        away = np.hypot(course.east_m - target[0], course.north_m - target[1])
        at = int(away.argmin())
        seen = Report(
            task=1,
            pilot=number,
            kind=ReportKind.LOW,
            time_s=float(course.time_s[at] + rng.normal(0.0, 20.0)),
            value=float(course.height_m[at] * rng.uniform(0.8, 1.2)),
            by="Ann",
        )
        other = int(rng.choice([n for n in own.numbers if n != number]))
        for k, report in ((0, replace(seen, pilot=other)), (2, seen)):
            found = beside(report, courses[report.pilot](), site, task)
            asked = found is not None and found.contradicts(report)
            tally[k] += 1
            tally[k + 1] += asked
            if asked and k == 0:
                told = contradicted(report, found, courses, site, task).says
                named = [
                    p["pilot"].amount for p in parts(told) if p.kind == "report-other"
                ]
                proposed += number in named
    return (*tally, proposed)


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
    """Return the totals by sort of slip, and the lines of a table."""
    total, proposed = {}, 0
    for seed in seeds:
        *tally, named = reports(pilots, seed)
        proposed += named
        for kind, own in {
            "report on another pilot": tally,
            **asked_of(pilots, seed),
        }.items():
            before = total.get(kind, (0, 0, 0, 0))
            total[kind] = tuple(a + b for a, b in zip(before, own, strict=True))
    lines = [f"{len(seeds)} meets of {pilots} pilots", HEAD]
    lines += [row(kind, *own) for kind, own in total.items()]
    asked = total["report on another pilot"][1]
    lines.append(f"pilot who was there proposed: {proposed} of {asked}")
    return total, proposed, lines


def main():
    for pilots, meets in ((10, 20), (100, 4), (275, 2)):
        sys.stdout.write("\n".join(table(pilots, range(meets))[2]) + "\n\n")


if __name__ == "__main__":
    main()
