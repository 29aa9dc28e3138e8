"""What earlier versions wrote stays readable, to be scored, published and verified.

Each folder `vX_Y` holds both samples as version X.Y wrote them, and `facts.json`, written
down on that day.  Results may come out differently as the engine gets better; the evidence,
what people decided and what was published may not.
"""

import csv
import json
import shutil
from pathlib import Path

import pytest

from scorer.cli.main import main
from scorer.event import matters
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.event.model import Decision
from scorer.ledger import api
from scorer.ledger.acts import DeskId, NoteMade
from scorer.ledger.audit import Severity
from scorer.scoring.score import score
from scorer.verify import read_results, verify

VERSIONS = sorted(Path(__file__).parent.glob("v*/"))
SAMPLES = ("quillowen", "vashkorim")
CASES = [(folder, name) for folder in VERSIONS for name in SAMPLES]
FORMS = ("{}.sandtail", "{}.zip", "{}")
TENT = DeskId("tent-00000c")
ALIKE = 50
"""Points by which the middle total may move as the engine gets better."""


@pytest.fixture(
    params=CASES, ids=lambda case: f"{case[0].name}-{case[1]}", scope="module"
)
def kept(request, tmp_path_factory):
    """Return a copy of what a version wrote of one sample, and its facts."""
    source, name = request.param
    folder = tmp_path_factory.mktemp("kept")
    for form in FORMS:
        path = source / form.format(name)
        copy = shutil.copytree if path.is_dir() else shutil.copy
        copy(path, folder / path.name)
    facts = json.loads((source / "facts.json").read_text(encoding="utf-8"))
    return folder, name, facts[name]


def facts_of(target):
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


@pytest.mark.parametrize("form", FORMS[:2])
def test_entries_publications_and_complaints_are_all_there(kept, form):
    folder, name, facts = kept
    assert facts_of(folder / form.format(name)) == facts


def test_an_archive_is_restored_and_gone_on_with(kept, tmp_path):
    folder, name, facts = kept
    target = tmp_path / "again.sandtail"
    api.restore(folder / f"{name}.zip", target)
    assert facts_of(target) == facts

    with api.Ledger.open(target, desk=TENT, who="Ines") as ledger:
        ledger.record(NoteMade(text="on"))
    api.archive(target, tmp_path / "again.zip")
    assert facts_of(tmp_path / "again.zip")["entries"] == facts["entries"] + 1


def test_the_event_file_merges_with_what_grew_from_it(kept, tmp_path):
    folder, name, facts = kept
    target = shutil.copy(folder / f"{name}.sandtail", tmp_path / "a")
    grown = shutil.copy(target, tmp_path / "b")
    with api.Ledger.open(grown, desk=TENT, who="Ines") as ledger:
        ledger.record(NoteMade(text="on"))
    merged = api.merge_files([grown], target)
    assert not merged.conflicts
    assert facts_of(target)["entries"] == facts["entries"] + 1


def _compared(path):
    """The bytes of a file; of marks without what a settling row saw.

    Entries say which ones it saw; a folder of version 0.1.0 has no column for it.
    """
    if path.name != "marks.csv":
        return path.read_bytes()
    rows = csv.DictReader(path.read_text(encoding="utf-8").splitlines())
    return [{k: v for k, v in row.items() if k != "between"} for row in rows]


def test_folder_event_file_and_archive_say_the_same(kept, tmp_path):
    """They say so when exported again; that way every table is compared cell by cell."""
    folder, name, _ = kept
    written = []
    for form in FORMS:
        out = tmp_path / form.format("out")
        api.export_folder(folder / form.format(name), out)
        written.append(
            {
                path.relative_to(out).as_posix(): _compared(path)
                for path in out.rglob("*")
                if path.is_file() and path.name not in {"complaints.csv", "notes.csv"}
            }
        )
    assert len(written[0]) > 20
    assert written[0] == written[1] == written[2]


def test_the_folder_is_imported(kept, tmp_path):
    folder, name, _ = kept
    target = tmp_path / "new.sandtail"
    assert api.import_folder(folder / name, target, desk=TENT, who="Ines") > 40
    given = read_folder(folder / name)
    taken = api.load(target).raw
    for before, after in zip(given.flights, taken.flights, strict=True):
        for table in ("marks", "declarations", "reports", "rulings"):
            rows = [
                [
                    {k: v for k, v in row.fields.items() if v}
                    for row in getattr(raw, table)
                ]
                for raw in (before, after)
            ]
            assert rows[0] == rows[1]
    assert len(api.load(target).state.complaints) == len(given.complaints)


@pytest.fixture(scope="module")
def scored(kept):
    folder, name, _ = kept
    loaded = api.load(folder / f"{name}.sandtail")
    event = build_event(loaded.raw)
    return loaded, event, score(event)


def test_every_ruling_joins_its_finding_or_a_warning_holds_official_up(scored):
    _, event, results = scored
    rulings = [r for flight in event.flights for r in flight.rulings]
    assert any(":" in r.finding for r in rulings)
    strays = {
        (w.task, w.pilot, r.finding)
        for w in results.matters
        for r in rulings
        if w.kind is matters.RULING
        and w.holds_up
        and r.finding == w.says.get("finding")
    }
    joined = {
        (f.finding.task, f.finding.pilot, f.ruling.finding, f.ruling.decision)
        for f in results.findings
        if f.ruling is not None
    }
    for ruling in rulings:
        if ruling.decision is not Decision.IMPOSE:
            key = (ruling.task, ruling.pilot, ruling.finding)
            assert key in strays or (*key, ruling.decision) in joined, ruling


def test_a_ruling_on_what_no_log_ever_showed_is_told(scored):
    _, event, results = scored
    if event.name.startswith("Quillowen"):
        (stray,) = [w for w in results.matters if w.kind is matters.RULING]
        assert (stray.task, stray.pilot, stray.holds_up) == (1, 28, True)
    else:
        assert not [w for w in results.matters if w.kind is matters.RULING]


def test_standings_stay_plausible(kept, scored):
    """Every pilot stands, in order of totals, most of them near what was published."""
    folder, name, _ = kept
    loaded, event, results = scored
    totals = {row.pilot: row.total for row in results.standings.rows}
    assert set(totals) == {pilot.number for pilot in event.pilots}
    assert list(totals.values()) == sorted(totals.values(), reverse=True)
    last = loaded.state.publications[-1].act.results
    with api.Ledger.open(
        folder / f"{name}.sandtail", desk=TENT, who="Ines", read_only=True
    ) as ledger:
        published = json.loads(ledger.file(last))
    moved = sorted(
        abs(row["total"] - totals[row["pilot"]]) for row in published["standings"]
    )
    assert moved[len(moved) // 2] <= ALIKE


def test_verify_finds_nothing_altered_or_lost(kept):
    folder, name, facts = kept
    audit = api.verify_target(folder / f"{name}.sandtail")
    assert audit.publications == len(facts["publications"])
    bad = [p for p in audit.problems if p.severity in {Severity.ALTERED, Severity.LOST}]
    assert not bad, str(audit)


def test_published_results_are_recounted(kept):
    """Steps and entries were sentences: the numbers are worked out again all the same."""
    folder, name, _ = kept
    with api.Ledger.open(
        folder / f"{name}.sandtail", desk=TENT, who="Ines", read_only=True
    ) as ledger:
        ups = [ledger.file(p.act.results) for p in ledger.state().publications]
    for data in ups:
        tree = read_results(data.decode(), name)
        assert verify(tree) == []
        score = next(s for t in tree["tasks"] for s in t["scores"] if s["rank"] == 2)
        score["formula_points"] += 1
        assert [d for d in verify(tree) if "formula points" in str(d)]


def test_verify_reads_the_archive_too(kept, capsys):
    folder, name, _ = kept
    assert main(["verify", str(folder / f"{name}.zip")]) in {0, 1}
    assert " publications" in capsys.readouterr().out


READING = (["check"], ["complaint"], ["rules"])
SCORING = (["score"], ["explain", "--pilot", "6"])
"""These take seconds; that all forms score alike is held above."""


@pytest.mark.parametrize(
    ("form", "command"),
    [(form, command) for form in FORMS for command in READING]
    + list(zip(FORMS[1:], SCORING, strict=True)),
    ids=lambda part: part if isinstance(part, str) else part[0],
)
def test_commands_read_it(kept, form, command, capsys):
    folder, name, _ = kept
    status = main([command[0], str(folder / form.format(name)), *command[1:]])
    told = capsys.readouterr()
    assert status in {0, 1}, told.err
    assert told.out.strip()
    assert "Traceback" not in told.err
