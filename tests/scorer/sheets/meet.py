"""An invented meet, scored by a naive second implementation, to publish in tests.

Points follow the international formula as the event folder's description states it,
written here in fractions, so that the sheets' formulas are compared with something that
shares no code with them.
"""

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction

import numpy as np

from scorer.checks.floor import FLOOR
from scorer.event import matters, place_kinds
from scorer.event.finding import Amount, Finding, Verdict
from scorer.event.matter import Matter
from scorer.event.model import (
    Blob,
    Decision,
    Event,
    Flight,
    Keying,
    LogFile,
    Method,
    PenaltyUnit,
    Period,
    Pilot,
    Place,
    Ruling,
    Task,
    TaskState,
    Units,
)
from scorer.event.rulebook import Certainty, FloorRule, Provenance, RuleBook
from scorer.facts import fact, inner, words
from scorer.rounding import half_up
from scorer.scoring.keyings import Keyed
from scorer.scoring.points import award
from scorer.scoring.results import (
    Charge,
    Field,
    FlightResult,
    Formula,
    Group,
    LogSummary,
    MarkResult,
    Results,
    RuledFinding,
    RulingState,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.stamp import Binding, Edition, Stamp
from scorer.tracks.flown import Flown
from scorer.words.voice import Voice
from tests.helpers import sentence

LONG_NAME = (
    "Wilhelmina-Konstanze Freifrau von der Heiden-Oldenbarneveld zu Hohenfels-Ost III"
)
assert len(LONG_NAME) == 80
NASTY = {
    2: '<b>Bold</b> & "Quote" <script>alert(1)</script>',
    3: "=1+1",
    4: "+4917 Ada",
    5: "-Minus Mia",
    6: "@At Ada",
    7: LONG_NAME,
    8: "محمد بن سلمى",
    9: "שרה כהן",
    10: "Ærø Łukasz Żółć",
    11: "Nia 🎈 Sky",
    12: "王小明 田中さくら 김민수",
    13: "Елена Воздушная",
    14: 'O\'Brien; DROP TABLE, "x"',
}
PLAIN = ("Ines Vale", "Tomas Rill", "Greta Moor", "Sol Linden", "Ada Fenn", "Jon Weir")
HOME = (48.0, 11.0)
START = datetime(2026, 9, 12, 5, 0, tzinfo=UTC).timestamp()
MORNING, EVENING = "2026-09-12-am", "2026-09-13-am"
STAMP = Stamp(
    state=Binding.PROVISIONAL,
    version=3,
    published_at="2026-09-12T10:05:00Z",
    by="R. Keel, competition director",
    complaint_end="2026-09-12T16:00:00Z",
    results_sha256="3f" * 32,
    head=f"24:{'ab' * 16}:{'3f' * 16}",
    changes=(
        "Task 1, pilot 7: result 31.20 m to 29.87 m (mark measured again).",
        "Task 1, pilot 2 <i>& co</i>: infringement waived.",
    ),
    earlier=(
        Edition(
            version=2,
            state=Binding.PROVISIONAL,
            published_at="2026-09-12T09:30:00Z",
            by="R. Keel",
            results_sha256="2e" * 32,
            changes=("Task 2 added.",),
        ),
        Edition(
            version=1,
            state=Binding.PROVISIONAL,
            published_at="2026-09-12T09:00:00Z",
            results_sha256="1d" * 32,
        ),
    ),
    site_url="https://results.example/meridian-vale/",
)


def pilots(count):
    return tuple(
        Pilot(
            number=n,
            name=NASTY.get(n, f"{PLAIN[n % len(PLAIN)]} {n}"),
            registration=f"D-O{n:03d}",
            class_name="AX-8" if n % 3 else "AX-7",
            country=("GER", "POL", "ESP", "USA")[n % 4],
            logger=f"LG{n:04d}",
            extra={"team": "=Red" if n % 2 else "Blue"},
        )
        for n in range(1, count + 1)
    )


def ring(lat, lon, half_deg, sides=24):
    angles = [2 * np.pi * k / sides for k in range(sides + 1)]
    return tuple(
        (lon + 1.5 * half_deg * float(np.cos(a)), lat + half_deg * float(np.sin(a)))
        for a in angles
    )


def places():
    lat, lon = HOME

    def point(name, kind, dlat, dlon):
        return Place(name=name, kind=kind, rings=(((lon + dlon, lat + dlat),),))

    def area(name, kind, half, **more):
        return Place(name=name, kind=kind, rings=(ring(lat, lon, half),), **more)

    return (
        point("centre", place_kinds.TARGET, 0, 0),
        point("<mill> & co", place_kinds.GOAL, 0.02, 0.03),
        point("bridge", place_kinds.REFERENCE, -0.01, 0.01),
        area("scoring area", place_kinds.SCORING_AREA, 0.004),
        area("field", place_kinds.BOUNDARY, 0.012),
        Place(
            name="depot",
            kind=place_kinds.PROHIBITED,
            rings=(ring(lat + 0.012, lon + 0.02, 0.003),),
            upper_m=900.0,
        ),
    )


def book(units):
    return RuleBook(
        name="festival",
        title="Festival & <target> rules",
        floor=FloorRule(height_m=22.86, within="field", least_time_s=3.0),
        provenance={
            "floor.height": Provenance(
                entered="75 ft",
                source="practice-height",
                certainty=Certainty.PRACTICE,
            ),
            "results.decimals": Provenance(
                entered="2", source="state-2025-decimals", certainty=Certainty.CONFIRMED
            ),
        },
        paragraphs={"results.decimals": "=§ 9.4 <at> night"},
        unset=("publication.complaint_time",),
    )


TASKS = (
    (1, MORNING, "FIN", "m", "smallest"),
    (2, MORNING, "ELB", "deg", "greatest"),
    (3, EVENING, "PDG", "m", "smallest"),
    (4, EVENING, "LRN", "km2", "greatest"),
    (5, EVENING, "RTA", "s", "smallest"),
    (6, EVENING, "JDG", "m", "smallest"),
)


def task(number, flight, kind, *, state=TaskState.FLOWN):
    return Task(
        number=number,
        flight=flight,
        kind=kind,
        targets=("centre",),
        scoring_areas=("scoring area",),
        launch_period=Period(start_s=START, end_s=START + 2700),
        scoring_period=Period(start_s=START + 900, end_s=START + 9000),
        measuring_radius_m=100.0,
        marker="blue",
        state=state,
        settings={"note": "=hint <b>"},
    )


def event(count=24, units=Units.METRIC):
    keyings = tuple(
        Keying(
            task=1,
            pilot=n,
            method=Method.TAPE,
            distance_m=10.0 + n,
            by="@desk one",
            note="=A1",
            entered={"distance": f"{10 + n}.00 m"},
        )
        for n in range(1, count + 1)
    )
    rulings = (
        Ruling(
            task=1,
            pilot=1,
            finding="floor",
            decision=Decision.APPLY,
            rule="7.2",
            reason="Track and witness agree <sure>",
            by="M. Oake",
            at="2026-09-12 11:00",
        ),
        Ruling(
            task=1,
            pilot=3,
            decision=Decision.IMPOSE,
            amount=40.0,
            unit=PenaltyUnit.TASK_POINTS,
            rule="10.3",
            reason="=Marker thrown with motion",
            by="M. Oake",
            at="2026-09-12 11:10",
        ),
        Ruling(
            task=1,
            pilot=2,
            finding="floor",
            decision=Decision.WAIVE,
            reason="Powered lines forced a climb late & safely",
            by="M. Oake",
            at="2026-09-12 11:20",
        ),
    )
    flights = []
    for flight_id in (MORNING, EVENING):
        own = tuple(
            task(n, f, kind, state=TaskState.CANCELLED if n == 6 else TaskState.FLOWN)
            for n, f, kind, _, _ in TASKS
            if f == flight_id
        )
        first = flight_id == MORNING
        flights.append(
            Flight(
                id=flight_id,
                date=date.fromisoformat(flight_id[:10]),
                qnh_hpa=1021.0,
                tasks=own,
                keyings=keyings if first else (),
                rulings=rulings if first else (),
                logs=(
                    LogFile(
                        blob=Blob(name="logs/001.igc", sha256="ab" * 32, content=b""),
                        pilot=1,
                    ),
                )
                if first
                else (),
            )
        )
    return Event(
        name='Meridian Vale & "Sons" <Meet>',
        venue="Meridian Vale",
        time_zone="Europe/Madrid",
        crs="EPSG:25832",
        units=units,
        ground_elevation_m=500.0,
        book=book(units),
        pilots=pilots(count),
        places=places(),
        flights=tuple(flights),
    )


def whole(value):
    return int(half_up(Fraction(value)))


def points(rank, result, group, f):
    """The published formula in fractions."""
    if group is Group.C:
        return 0
    if group is Group.B:
        return 500 if f.A == 0 else whole(Fraction(1000 * (f.P + 1 - f.A), 2 * f.P))
    r, w, rm = (Fraction(str(v)) for v in (result, f.W, f.RM))
    if r == w:
        return 1000
    if rank < f.M:
        return whole(1000 - (1000 - f.SM) * (r - w) / (rm - w))
    return whole(Fraction(1000 * (f.P + 1 - rank), f.P))


def raw_results(number, count):
    """Result by pilot; None flew without a result, absent did not fly."""
    rng = np.random.default_rng(number)
    value = {
        n: float(half_up(v, 2))
        for n, v in enumerate(rng.gamma(2, 20, max(count, 24)), 1)
    }
    if number == 1:
        value[5] = value[6]
        value[9] = value[10] = value[11]
        value[20] = None
        del value[21]
    if number == 2:
        value = {n: 180 - v / 2 for n, v in value.items()}
        value[1] = value[2] = max(v for v in value.values())
    if number == 3:
        value = {n: (v if n in {3, 7, 8} else None) for n, v in value.items()}
        del value[4]
    if number == 5:
        value = dict.fromkeys(value)
    return {n: v for n, v in value.items() if n <= count}


def formula(results, total, best):
    ranked = sorted(
        (v for v in results.values() if v is not None), reverse=best != "smallest"
    )
    a, half = len(ranked), -(-total // 2)
    m = min(half, a)
    return Formula(
        method="international",
        P=total,
        A=a,
        M=m,
        W=ranked[0] if a else None,
        RM=ranked[m - 1] if a else None,
        SM=whole(Fraction(1000 * (total + 1 - m), total)) if a else 0,
    )


def score_task(row, count):
    number, flight, kind, unit, best = row
    if number == 6:
        empty = Formula(method="international", P=0, A=0, M=0, W=None, RM=None, SM=0)
        return TaskResult(
            flight=flight, task=6, kind=str(kind), unit=unit, best=best,
            state="cancelled", formula=empty, scores=(),
        )  # fmt: skip
    results = raw_results(number, count)
    f = formula(results, count, best)
    sign = 1 if best == "smallest" else -1
    got = [v for v in results.values() if v is not None]
    scores = []
    for n in range(1, count + 1):
        result = results.get(n)
        group = Group.A if result is not None else Group.B if n in results else Group.C
        if group is Group.A:
            rank = 1 + sum(sign * v < sign * result for v in got)
        else:
            rank = f.A + (
                1 if group is Group.B else 1 + sum(v is None for v in results.values())
            )
        got_points = points(rank, result, group, f)
        scores.append(one_score((number, kind), n, group, (result, rank, got_points)))
    scores.sort(key=lambda s: (s.rank, s.pilot))
    return TaskResult(
        flight=flight, task=number, kind=str(kind), unit=unit, best=best,
        state="flown", formula=f, scores=tuple(scores),
    )  # fmt: skip


def one_score(task_, pilot, group, got):
    (number, kind), (result, rank, formula_points) = task_, got
    charges, found, task_penalty, event_penalty = (), (), 0, 0
    if number == 1 and pilot in FOUND:
        finding, state = FOUND[pilot]
        charges, found = (charge(finding, state),), (finding.id,)
    if number == 1 and pilot == 3:
        imposed = Charge(
            finding="", amount=Amount(amount=40.0, unit=PenaltyUnit.TASK_POINTS), counts=True,
            ruling=RulingState.IMPOSE, rule=cited("10.3"), reason="=Marker thrown with motion",
            by="M. Oake", at="2026-09-12 11:10",
        )  # fmt: skip
        event_charge = replace(
            imposed,
            amount=Amount(amount=100.0, unit=PenaltyUnit.EVENT_POINTS),
            rule=cited("5.1"),
        )
        charges = (*charges, imposed, event_charge)
    for item in charges:
        if item.counts and item.amount.unit is PenaltyUnit.TASK_POINTS:
            task_penalty += int(item.amount.amount)
        if item.counts and item.amount.unit is PenaltyUnit.EVENT_POINTS:
            event_penalty += int(item.amount.amount)
    mark = MarkResult(
        mark="", method="tape", distance_m=result, sigma_m=0.02,
        lat_deg=HOME[0] + 0.0003 * (pilot % 5), lon_deg=HOME[1] + 0.0004 * (pilot % 3),
        time_s=START + 2400, keyings=tuple(
            Keying(
                task=number, pilot=pilot, method=Method.TAPE, distance_m=result, by=by,
                entered={"method": "tape", "distance": f"{result}", "by": by},
            )
            for by in ("@desk one <tape>", "desk two")
        ),
        state=Keyed.AGREE,
        steps=(sentence(f"tape {result} m from centre"),),
    )  # fmt: skip
    return Score(
        pilot=pilot,
        group=group,
        measured=result,
        sigma=0.02 if result is not None else None,
        result=result,
        shown=result,
        rank=rank,
        formula_points=formula_points,
        task_penalty=task_penalty,
        event_penalty=event_penalty,
        score=max(0, formula_points - task_penalty),
        settled=not (number == 1 and pilot == 12),
        findings=found,
        charges=charges,
        marks=(mark,) if result is not None and kind == "FIN" else (),
        why=WHY[group],
        steps=(
            sentence(f"measured {result}"),
            *(
                [fact("step-group-b", why=inner(WHY[group]))]
                if group is Group.B
                else ()
            ),
        ),
        how=sentence(f"rank {rank} gives {formula_points} points"),
        rank_low=max(1, rank - 1),
        rank_high=rank + 1,
    )


WHY = {
    Group.A: None,
    Group.B: fact("no-mark-found"),
    Group.C: fact("did-not-fly"),
}


def cited(paragraph):
    return fact("rule-in-words", text=words(paragraph))


def charge(finding, state):
    return Charge(
        finding=finding.id,
        kind=str(finding.kind),
        amount=finding.penalty or Amount(amount=0.0, unit=PenaltyUnit.TASK_POINTS),
        counts=state is RulingState.APPLY or (state is RulingState.UNRULED and finding.verdict is Verdict.CERTAIN),
        ruling=state,
        rule=cited("7.2"),
        reason="" if state is RulingState.UNRULED else "Track and witness agree <sure>",
        by="" if state is RulingState.UNRULED else "M. Oake",
        at="" if state is RulingState.UNRULED else "2026-09-12 11:00",
    )  # fmt: skip


CLASSES = ("AX-8: big", "light")


def awarded(among, rule, best):
    """Award points to those who are ranked among themselves."""
    got = {s.pilot: Fraction(repr(s.result)) for s in among if s.group is Group.A}
    without = [s.pilot for s in among if s.group is Group.B]
    f, pointed = award(got, without, len(among), rule, greatest=best == "greatest")
    points = {s.pilot: 0 for s in among} | {p: a.points for p, a in pointed.items()}
    ranks = {s.pilot: len(pointed) + 1 for s in among}
    ranks |= {p: a.rank for p, a in pointed.items()}
    return f, [
        replace(
            s,
            rank=ranks[s.pilot],
            formula_points=points[s.pilot],
            score=max(0, points[s.pilot] - s.task_penalty),
        )
        for s in among
    ]


def under(rule, count=24):
    """The same results under other rules for points, awarded by the engine."""
    tasks = []
    for number, flight, kind, unit, best in TASKS[:5]:
        old = score_task((number, flight, kind, unit, best), count)
        names = {s.pilot: CLASSES[s.pilot % 2] for s in old.scores}
        if not rule.by_class:
            names = dict.fromkeys(names, "")
        fields, scores = [], []
        for name in sorted(set(names.values())):
            among = [s for s in old.scores if names[s.pilot] == name]
            f, own = awarded(among, rule, best)
            fields.append(Field(name=name, formula=f))
            scores += [replace(s, field=name) for s in own]
        whole = fields[0].formula if len(fields) == 1 else old.formula
        fields = () if len(fields) == 1 else tuple(fields)
        new = replace(old, formula=whole, fields=fields, scores=tuple(scores))
        tasks.append(replace(new, points=rule))
    table = standings(tasks, range(1, count + 1))
    return replace(
        results(count), tasks=tuple(tasks), standings=table, class_standings=()
    )


def best_of(results_, many):
    """The standings where only the best `many` tasks of each pilot count."""
    rows = []
    for row in results_.standings.rows:
        kept = sorted(sorted(row.tasks, key=lambda t: (-row.tasks[t], t))[:many])
        total = sum(row.tasks[t] for t in kept) - row.event_penalty
        rows.append(replace(row, counted=tuple(kept), total=total))
    rows = [replace(r, rank=1 + sum(o.total > r.total for o in rows)) for r in rows]
    table = replace(
        results_.standings, rows=tuple(sorted(rows, key=lambda r: (r.rank, r.pilot)))
    )
    return replace(results_, standings=table, class_standings=())


LOWEST = 915
"""Second of the flight around which every track dips."""


def way(pilot, t, fixes=2400):
    """Latitude and longitude at some seconds of a flight."""
    share = t / fixes
    lat = HOME[0] - 0.03 + 0.05 * share + 0.002 * np.sin(9 * share + pilot)
    return lat, HOME[1] - 0.03 + 0.05 * share + 0.003 * np.sin(6 * share)


def finding(pilot, verdict, probability, measured, kind=FLOOR):
    limit = 22.86
    return Finding(
        kind=kind,
        flight=MORNING,
        task=1,
        pilot=pilot,
        verdict=verdict,
        probability=probability,
        from_s=START + 1500 + pilot,
        to_s=START + 1531 + pilot,
        measured=measured,
        limit=limit,
        unit="m",
        excess=max(0.0, limit - measured),
        duration_s=31.0,
        sigma=0.7,
        lat_deg=float(way(pilot, LOWEST)[0]),
        lon_deg=float(way(pilot, LOWEST)[1]),
        evidence=f"logs/{pilot:03d}.igc",
        sha256="ab" * 32,
        penalty=Amount(amount=15.0, unit=PenaltyUnit.TASK_POINTS),
        rule=book(Units.METRIC).cite("floor.height"),
        says=sentence(f"Lowest {measured} m above the ground, <limit> {limit} m."),
        details={"depth_m": limit - measured},
    )


FOUND = {
    1: (finding(1, Verdict.CERTAIN, 0.999, 18.4), RulingState.APPLY),
    2: (finding(2, Verdict.CERTAIN, 0.99, 19.9), RulingState.WAIVE),
    7: (finding(7, Verdict.CERTAIN, 0.98, 20.1), RulingState.UNRULED),
    8: (finding(8, Verdict.POSSIBLE, 0.62, 22.1), RulingState.UNRULED),
    9: (finding(9, Verdict.CLEAR, 0.02, 24.0), RulingState.UNRULED),
}


def standings(tasks, numbers, title="Overall"):
    rows = []
    for n in numbers:
        own = {t.task: s.score for t in tasks for s in t.scores if s.pilot == n}
        penalty = sum(s.event_penalty for t in tasks for s in t.scores if s.pilot == n)
        rows.append((sum(own.values()) - penalty, n, own, penalty))
    ordered = sorted(rows, key=lambda row: (-row[0], row[1]))
    return StandingsTable(
        title=title,
        rows=tuple(
            Standing(
                rank=1 + sum(other[0] > total for other in rows),
                pilot=n,
                total=total,
                tasks=own,
                event_penalty=penalty,
                counted=tuple(own),
            )
            for total, n, own, penalty in ordered
        ),
    )


def results(count=24):
    tasks = tuple(score_task(row, count) for row in TASKS)
    table = standings(tasks, range(1, count + 1))
    return Results(
        event='Meridian Vale & "Sons" <Meet>',
        book="festival",
        tasks=tasks,
        findings=tuple(
            RuledFinding(
                finding=f, state=state, ruling=None, charges=(charge(f, state),)
            )
            for f, state in FOUND.values()
            if f.pilot <= count
        ),
        standings=table,
        class_standings=(standings(tasks, range(3, count + 1, 3), "AX-7"),),
        flights=(
            FlightResult(
                id=MORNING,
                date="2026-09-12",
                logs=(
                    LogSummary(
                        name="logs/001.igc",
                        sha256="ab" * 32,
                        pilot=1,
                        fixes=3000,
                        launch_s=START + 600,
                        launch_lat_deg=HOME[0] - 0.03,
                        launch_lon_deg=HOME[1] - 0.03,
                        landing_s=START + 3000,
                        landing_lat_deg=HOME[0] + 0.02,
                        landing_lon_deg=HOME[1] + 0.02,
                        highest_m=410.0,
                        anchored=True,
                        notes=(fact("rule-in-words", text=words("=matched by logger")),),
                    ),
                ),
            ),
        ),
        voice=Voice(
            time_zone="Europe/Madrid", pilots={p.number: p.name for p in pilots(count)}
        ),
        matters=(
            Matter(
                kind=matters.NO_LOG, flight=MORNING, task=1, pilots=(20,), says=sentence("=No log <here>.")
            ),
            Matter(
                kind=matters.UNSETTLED, flight=MORNING, task=1, pilots=(12,),
                says=sentence("Two entries differ by 0.40 m."),
            ),
        ),
    )  # fmt: skip


def flown(pilot, flight_id=MORNING, fixes=2400):
    """A flight from the south-west over the centre, dipping once under the floor."""
    t = np.arange(fixes, dtype=float)
    share = t / fixes
    lat, lon = way(pilot, t, fixes)
    ground = 500 + 30 * np.sin(5 * share)
    dip = 120 * np.exp(-(((t - LOWEST - pilot) / 60.0) ** 2))
    height = np.clip(140 * np.sin(np.pi * share) ** 0.5 - dip, 0, None)
    sigma = 2.5 + 1.5 * np.sin(3 * share) ** 2
    return Flown(
        pilot=pilot,
        log=f"logs/{pilot:03d}.igc",
        sha256="ab" * 32,
        time_s=START + 600 + t,
        lat_deg=lat,
        lon_deg=lon,
        east_m=(lon - HOME[1]) * 74_500 + 500_000,
        north_m=(lat - HOME[0]) * 111_200 + 5_316_000,
        ground_m=ground,
        height_m=height,
        height_sigma_m=sigma,
        altitude_m=ground + height,
        climb_m_s=np.gradient(height),
        launch=5,
        landing=fixes - 5,
        anchored=True,
        accuracy_m=np.full(fixes, 3.0),
    )


def tracks(count=24):
    return {(MORNING, n): flown(n) for n in range(1, count + 1) if n != 20}
