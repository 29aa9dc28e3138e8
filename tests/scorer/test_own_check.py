"""A check of one's own, declared in one place, is seen everywhere a check is seen."""

import csv
import io
import json
import pickle
from dataclasses import replace
from pathlib import Path

import pytest

from scorer.checks import base
from scorer.checks.base import FindingNumbers, Seen, check, finding_of, verdict_of
from scorer.event import finding as registry
from scorer.event.build import build_event
from scorer.event.finding import Drawing, Verdict, finding_kind, finding_kinds
from scorer.event.folder import read_folder
from scorer.event.matter import grouped
from scorer.event.model import Decision, Ruling
from scorer.event.rulebook import PenaltyRule
from scorer.facts import chance, fact, height, words
from scorer.manual.topics import written
from scorer.scoring.explain import explain
from scorer.scoring.results import RulingState
from scorer.scoring.score import score
from scorer.sheets.schema import results_schema
from scorer.sheets.site import write_site
from scorer.sheets.stamp import Stamp
from scorer.sheets.tables import write_tables
from scorer.words import catalogue

SAMPLE = Path(__file__).parents[2] / "sample_events" / "vashkorim"
TOP_M = 30.0
FIFTY = (PenaltyRule(unit="task points", base=50.0),)
WORDS = """
finding-own-ceiling = Over the ceiling of our own
term-finding-own-ceiling = flying over the ceiling of our own
seen-own-ceiling = { $highest } where { $limit } is the most, { $sure } sure.
"""


@pytest.fixture(scope="module")
def event():
    whole = build_event(read_folder(SAMPLE))
    first = whole.flights[0]
    return replace(whole, flights=(replace(first, logs=first.logs[:2], rulings=()),))


@pytest.fixture
def ceiling(monkeypatch):
    """The one place: a kind of finding, the check that finds it, its words."""
    monkeypatch.setattr(registry, "_KINDS", dict(registry._KINDS))
    monkeypatch.setattr(base, "_CHECKS", dict(base._CHECKS))
    catalogue.add(WORDS)
    kind = finding_kind("own-ceiling", picture=Drawing.HEIGHTS)

    @check("own ceiling")
    def check_ceiling(flown, about):
        at = int(flown.height_m.argmax())
        over = float(flown.height_m[at]) - TOP_M
        if over <= 0:
            return Seen()
        says = fact(
            "seen-own-ceiling",
            highest=height(TOP_M + over),
            limit=height(TOP_M),
            sure=chance(0.999),
        )
        measure = FindingNumbers(
            kind=kind,
            verdict=verdict_of(0.999),
            probability=0.999,
            from_s=float(flown.time_s[at]),
            to_s=float(flown.time_s[at]) + 5.0,
            measured=TOP_M + over,
            limit=TOP_M,
            excess=over,
            at=at,
            rule=fact("rule-in-words", text=words("our own rule 7")),
            says=says,
        )
        return Seen(findings=(finding_of(measure, FIFTY, flown, about),))

    return kind


def found(results, kind):
    return [r for r in results.findings if r.finding.kind is kind]


def ruled(event, one, name):
    flight, decision = event.flights[0], Decision.WAIVE
    ruling = Ruling(
        task=one.task, pilot=one.pilot, finding=name, decision=decision, by="Ida"
    )
    return replace(event, flights=(replace(flight, rulings=(ruling,)),))


def test_a_check_declared_in_one_place_is_scored_explained_and_printed(event, ceiling):
    results = score(event)
    seen = found(results, ceiling)
    assert len(seen) >= 2
    one = seen[0].finding
    assert one.verdict is Verdict.CERTAIN
    assert one.unit == "m"
    assert seen[0].charges[0].amount.amount == 50.0

    text = "\n".join(explain(event, results, one.pilot, one.task))
    assert "Over the ceiling of our own, certain (over 99 %)" in text
    assert results.voice.say(one.says) in text

    data = write_tables(results, event, Stamp(results_sha256=""))
    rows = csv.DictReader(
        line
        for line in io.StringIO(data["infringements.csv"].decode("utf-8-sig"))
        if not line.startswith("#")
    )
    assert any("ceiling of our own" in row["infringement"] for row in rows)

    site = write_site(results, event, Stamp(results_sha256=""), {})
    page = site[f"pilot-{one.pilot}.html"].decode()
    assert "Over the ceiling of our own" in page


def test_the_schema_of_results_json_takes_a_kind_of_ones_own(event, ceiling):
    jsonschema = pytest.importorskip("jsonschema")
    results = score(event)
    data = write_tables(results, event, Stamp(results_sha256=""))
    tree = json.loads(data["results.json"])

    errors = jsonschema.Draft202012Validator(results_schema()).iter_errors(tree)

    assert [list(error.absolute_path) for error in errors] == []
    mine = [f for f in tree["findings"] if f["kind"] == "own-ceiling"]
    assert mine
    assert mine[0]["says"]["kind"] == "seen-own-ceiling"
    assert mine[0]["says"]["limit_height_m"] == TOP_M
    assert "Over the ceiling of our own" in written("infringements", results.voice)


def test_what_is_undecided_names_it_and_like_ones_are_one_matter(event, ceiling):
    results = score(event)
    what = f"finding-{ceiling}"
    alone = [m for m in results.matters if m.says.get("what") == what]
    together = [m for m in grouped(results.matters) if m.says.get("what") == what]

    assert {m.says.kind for m in alone} == {"undecided"}
    assert len(together) < len(alone)
    assert {m.says.kind for m in together} == {"undecided-many"}
    assert results.voice.say(together[0].says) == (
        "2 pilots: flying over the ceiling of our own, not yet decided."
    )


def test_matters_on_unlike_infringements_are_never_told_as_one(event, ceiling):
    results = score(event)
    alone = [m for m in results.matters if m.says.kind == "undecided"]

    kinds = {m.says.get("what") for m in alone}

    assert len(kinds) >= 2
    for matter in grouped(results.matters):
        for member in matter.members:
            assert member.says.get("what") == matter.says.get("what")


def test_it_is_ruled_on_by_name_and_a_slip_in_the_name_is_told(event, ceiling):
    one = found(score(event), ceiling)[0].finding

    right = score(ruled(event, one, "own-ceiling"))
    states = {r.finding.id: r.state for r in found(right, ceiling)}
    assert states[one.id] is RulingState.WAIVE

    wrong = score(ruled(event, one, "own-celing"))
    (told,) = [m for m in wrong.matters if m.says.kind == "ruling-on-no-kind"]
    assert [v.amount.get("key") for v in told.says.get("kinds")] == ["own-ceiling"]


def test_a_kind_is_one_and_the_same_after_another_process(ceiling):
    assert pickle.loads(pickle.dumps(ceiling)) is ceiling
    assert ceiling in finding_kinds()
    with pytest.raises(ValueError, match="two kinds of finding"):
        finding_kind("own-ceiling", unit="s")
    with pytest.raises(ValueError, match="two checks"):
        check("own ceiling")(lambda *_: Seen())
