"""How the files of version 0.1.0 beside this one were made; kept as a record.

    python tests/formats/v0_1/make.py OUT

Both samples, worked on as a scoring group would: imported, published provisionally,
settled, ruled on by the identifiers of findings, complained about, published officially,
and written as event file, folder and archive.  The files are never written again, and
this script need not run with later versions.  Quillowen holds a part of its pilots only,
to keep the files small.
"""

import csv
import json
import shutil
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[2]
sys.path.insert(0, str(ROOT))

from scorer.event.build import build_event  # noqa: E402
from scorer.event.model import Level  # noqa: E402
from scorer.ledger import api  # noqa: E402
from scorer.ledger.acts import (  # noqa: E402
    ComplaintDecided,
    ComplaintFiled,
    DeskId,
    LogAssigned,
    MarkKeyed,
    NoteMade,
    RulingMade,
    Stage,
    Verdict,
)
from scorer.ledger.event_commands import computed_of  # noqa: E402
from scorer.ledger.keyings import disagreements, settle  # noqa: E402
from scorer.scoring.analysis import Tracks  # noqa: E402
from scorer.scoring.score import score  # noqa: E402
from scorer.sheets.edition import documents, prepare, put_up  # noqa: E402

HALL, FIELD = DeskId("hall-00000a"), DeskId("field-00000b")
KEPT = {1, 4, 5, 6, 8, 11, 18, 21, 22, 24, 25, 28, 29, 30, 31, 32, 35, 37}
"""Pilots of quillowen: all with something to settle or to rule on, and some without."""


class Watch:
    """A clock that goes on by a second whenever it is read, or as it is set."""

    def __init__(self, now):
        self.now = now

    def __call__(self):
        self.now += timedelta(seconds=1)
        return self.now


def trimmed(source, folder, pilots, more):
    """Copy a sample with some of its pilots, and add to its files."""
    shutil.copytree(source, folder)
    for name in ("answer.json", "README.md"):
        (folder / name).unlink()
    if pilots:
        _keep(folder / "pilots.csv", "number", pilots)
        for flight in (folder / "flights").iterdir():
            for path in flight.glob("*.csv"):
                _keep(path, "pilot", pilots)
            for log in (flight / "logs").iterdir():
                if int(log.stem) not in pilots:
                    log.unlink()
    for name, text in more.items():
        with (folder / name).open("a", encoding="utf-8") as file:
            file.write(text)
    return folder


def _keep(path, column, pilots):
    with path.open(encoding="utf-8", newline="") as file:
        header, *rows = list(csv.reader(file))
    at = header.index(column)
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(
            [header, *(row for row in rows if int(row[at]) in pilots)]
        )


def publish(ledger, stage, *, tasks=(), why="", complaint_s=None, sheets=True):
    """Score and put up, with all sheets and pages where wanted."""
    scope = {"tasks": tasks, "why": why, "complaint_s": complaint_s}
    state = ledger.state()
    event = build_event(state.raw(ledger.file))
    results = score(event)
    computed = computed_of(state, event, results)
    prepared = prepare(ledger, computed, stage, **scope)
    if prepared.refusals:
        raise SystemExit("\n".join(str(r.says) for r in prepared.refusals))
    tracks = Tracks(event, results)
    files = documents(event, results, prepared.stamp, tracks) if sheets else {}
    entry = put_up(ledger, prepared, files, **scope)
    return entry, computed.tree


def settle_all(ledger, imperial):
    """Take the first of the keyings wherever two differ by more than the rule allows."""
    for slot in disagreements(ledger.state(), imperial=imperial):
        fields = slot.keyings[0].act.fields
        draft = settle(
            slot, fields, reason="field sheet read again: the first is right"
        )
        ledger.record_all([draft])


def rule(ledger, results, pilot, decision, reason, **more):
    """Rule on the unruled finding of a pilot, by its identifier."""
    for finding in results["findings"]:
        if finding["pilot"] == pilot and finding["ruling"] == "unruled":
            fields = {
                "task": str(finding["task"]),
                "pilot": str(pilot),
                "finding": finding["id"],
                "decision": decision,
                "reason": reason,
                "by": ledger.who,
                "at": f"{ledger.clock():%Y-%m-%d %H:%M}",
                **more,
            }
            act = RulingMade(flight=finding["flight"], fields=fields)
            ledger.record(act, why=reason)


def keyed(ledger, flight, task, pilot, *, why, fields):
    """Key a mark in place of those that stand."""
    own = ledger.state().keyings(flight, str(task), str(pilot))
    named = {"task": str(task), "pilot": str(pilot), "by": ledger.who}
    act = MarkKeyed(flight=flight, fields=fields | named)
    replaces = [entry for current in own for entry in current.ids]
    return ledger.record(act, why=why, replaces=replaces)


def fields_of(ledger, flight, task, pilot):
    (current, *_) = ledger.state().keyings(flight, str(task), str(pilot))
    return {k: v for k, v in current.act.fields.items() if v and k != "by"}


def quillowen(folder, out):
    clock = Watch(datetime(2026, 3, 15, 14, 0, tzinfo=UTC))
    target = out / "quillowen.sandtail"
    api.import_folder(folder, target, desk=HALL, who="Calix", clock=clock)
    with api.Ledger.open(target, desk=HALL, who="Calix", clock=clock) as ledger:
        first, results = publish(
            ledger, Stage.PROVISIONAL, why="first look", sheets=False
        )
        filed = ledger.record(
            ComplaintFiled(
                pilot=24,
                text="my logger stood on the burner frame",
                task=2,
                publication=first.id,
            )
        )
        settle_all(ledger, imperial=True)
        rule(ledger, results, 4, "apply", "seen by an observer too")
        rule(ledger, results, 32, "waive", "not proven")
        rule(ledger, results, 21, "waive", "within the uncertainty")
        rule(
            ledger,
            results,
            24,
            "set",
            "logger mounted high",
            amount="20",
            unit="task points",
        )
        keyed(
            ledger, "saturday", 1, 18, why="nobody found it", fields={"method": "none"}
        )
        eight = fields_of(ledger, "saturday", 1, 8)
        thirty = fields_of(ledger, "saturday", 1, 30)
        swapped = "numbers 8 and 30 were swapped on the field sheet"
        keyed(ledger, "saturday", 1, 8, why=swapped, fields=thirty)
        keyed(ledger, "saturday", 1, 30, why=swapped, fields=eight)
        keyed(
            ledger,
            "saturday",
            1,
            37,
            why="marker of another pilot",
            fields={"method": "none"},
        )
        ledger.record(
            ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED),
            why="the height is taken from the ground under the logger",
        )
        settled = {"why": "settled and ruled", "complaint_s": 7200.0}
        publish(ledger, Stage.OFFICIAL, tasks=[1], **settled)
        publish(ledger, Stage.OFFICIAL, **settled, sheets=False)
        late = ledger.record(
            ComplaintFiled(pilot=32, text="points are missing", task=1)
        )
        ledger.record(
            ComplaintFiled(
                pilot=24,
                text="the mounting was inspected before the event",
                task=2,
                level=Level.PROTEST,
                against=filed.id,
            )
        )
        ledger.record(NoteMade(text="wind at 100 ft turned at 07:40", about=late.id))
        ledger.record(
            RulingMade(
                flight="saturday",
                fields={
                    "task": "1",
                    "pilot": "28",
                    "finding": "floor:1:28:00001",
                    "decision": "waive",
                    "reason": "ruled on what a later look no longer showed",
                    "by": "Calix",
                },
            )
        )


def vashkorim(folder, out):
    clock = Watch(datetime(2026, 8, 23, 9, 0, tzinfo=UTC))
    target = out / "vashkorim.sandtail"
    api.import_folder(folder, target, desk=HALL, who="Tendai", clock=clock)
    with api.Ledger.open(target, desk=HALL, who="Tendai", clock=clock) as ledger:
        first, results = publish(ledger, Stage.PROVISIONAL, sheets=False)
        shutil.copy(target, out / "field")
    with api.Ledger.open(out / "field", desk=FIELD, who="Merel", clock=clock) as field:
        log = field.state().logs[0]
        field.record(
            LogAssigned(flight=log.flight, name=log.name, sha256=log.sha256, pilot=1),
            why="handed in by the pilot",
        )
        rule(field, results, 1, "apply", "drag mark measured in the grass")
    api.merge_files([out / "field"], target, clock=clock)
    (out / "field").unlink()
    with api.Ledger.open(target, desk=HALL, who="Tendai", clock=clock) as ledger:
        settle_all(ledger, imperial=False)
        filed = ledger.record(
            ComplaintFiled(
                pilot=6, text="I was over 23 m", task=1, publication=first.id
            )
        )
        publish(ledger, Stage.OFFICIAL)
        ledger.record(
            ComplaintDecided(complaint=filed.id, verdict=Verdict.UPHELD),
            why="the observer agrees",
        )
        (floor,) = [f for f in results["findings"] if f["kind"] == "floor"]
        (old,) = [
            current
            for current, act in ledger.state().all_of(RulingMade)
            if act.fields["finding"] == "floor"
        ]
        fields = {**old.act.fields, "finding": floor["id"], "decision": "waive"}
        fields |= {"reason": "complaint upheld", "by": "Tendai"}
        act = RulingMade(flight=floor["flight"], fields=fields)
        ledger.record(act, why="complaint upheld", replaces=old.ids)
        publish(ledger, Stage.OFFICIAL, why="complaint of pilot 6 upheld", sheets=False)
        clock.now += timedelta(days=1)
        publish(ledger, Stage.FINAL, sheets=False)


MORE = {
    "quillowen": {
        "complaints.csv": "task,pilot,number,kind,against,text,by,at,note,outcome,"
        "reason,decided_by,decided_at\n"
        "1,22,1,complaint,,my launch was outside the mile,Calix,2026-03-14 12:00,"
        "on paper,rejected,the log says otherwise,Calix,2026-03-14 12:40\n",
        "notes.csv": "at,text,by\n2026-03-14 06:00,briefing at the barn,Calix\n",
    },
    "vashkorim": {
        "event.toml": "\n[rules.publication]\n"
        'complaint_time = "2 h"\nprotest_time = "1 h"\n',
    },
}


def main():
    out = Path(sys.argv[1])
    out.mkdir()
    for name, work in (("quillowen", quillowen), ("vashkorim", vashkorim)):
        pilots = KEPT if name == "quillowen" else None
        source = ROOT / "sample_events" / name
        folder = trimmed(source, out / "source" / name, pilots, MORE[name])
        work(folder, out)
        target = out / f"{name}.sandtail"
        api.export_folder(target, out / name)
        api.archive(target, out / f"{name}.zip")
    shutil.rmtree(out / "source")
    facts = {name: facts_of(out / f"{name}.sandtail") for name in MORE}
    (out / "facts.json").write_text(
        json.dumps(facts, indent=1) + "\n", encoding="utf-8"
    )


def facts_of(target):
    """Write down what a later version must find in an event file."""
    state = api.load(target).state
    return {
        "entries": len(state.entries),
        "heads": list(state.heads),
        "publications": [
            [p.act.stage, p.act.version, list(p.act.tasks), p.act.results]
            for p in state.publications
        ],
        "complaints": [
            [
                c.level,
                c.act.pilot,
                c.act.task,
                "" if c.is_open else c.row.fields["outcome"],
            ]
            for c in state.complaints
        ],
    }


if __name__ == "__main__":
    main()
