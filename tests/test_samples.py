"""The sample events, scored as a user does, against what really happened.

The truth is in each folder's `answer.json`; it comes from the flights themselves, from
pyproj's geodesic and from shapely, never from the engine.
"""

import json
import re
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).parents[1]
SAMPLES = ("quillowen", "vashkorim")
JUDGED = {"floor", "ground-contact", "launch-distance"}
"""Finding kinds that the answer knows of."""
FT_M = 0.3048


@pytest.fixture(scope="module", params=SAMPLES)
def scored(request, tmp_path_factory):
    folder = ROOT / "sample_events" / request.param
    out = tmp_path_factory.mktemp("scored") / "results.json"
    command = [sys.executable, "-m", "scorer", "score", str(folder), "--json", str(out)]
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert out.is_file(), done.stderr
    answer = json.loads((folder / "answer.json").read_text("utf-8"))
    return Scored(done.returncode, json.loads(out.read_text("utf-8")), answer)


class Scored:
    """Results and answer, by task and pilot."""

    def __init__(self, code, results, answer):
        self.code = code
        self.results = results
        self.planted = answer["planted"]
        self.true = {
            (task["task"], row["pilot"]): row
            for task in answer["tasks"]
            for row in task["pilots"]
        }
        self.scores = {
            (task["task"], row["pilot"]): row
            for task in results["tasks"]
            for row in task["scores"]
        }

    def findings(self, task, pilot):
        return [
            f
            for f in self.results["findings"]
            if (f["task"], f["pilot"]) == (task, pilot) and f["kind"] in JUDGED
        ]

    def warnings(self, kind):
        return [w for w in self.results["warnings"] if w["kind"] == kind]


DIGITS = 9
"""Decimals that a published number may have: more are another library version's noise."""


def test_no_number_is_published_to_the_last_digit_of_a_double(scored):
    """What one version of a library computes another must be able to verify."""
    numbers = re.findall(r"-?\d+\.\d+(?:e-?\d+)?", json.dumps(scored.results))
    assert len(numbers) > 200
    assert [own for own in numbers if round(float(own), DIGITS) != float(own)] == []


def posix(stamp):
    return datetime.fromisoformat(stamp).timestamp()


def overlaps(found, expected, slack_s=15):
    if "from" not in expected:
        return True
    return (
        posix(found["from"]) <= posix(expected["to"]) + slack_s
        and posix(found["to"]) >= posix(expected["from"]) - slack_s
    )


def test_every_pilot_has_a_score_in_every_task(scored):
    assert scored.scores.keys() == scored.true.keys()


def test_groups_are_those_that_the_evidence_leads_to(scored):
    wrong = {
        key: (scored.scores[key]["group"], row["group"], row["part"])
        for key, row in scored.true.items()
        if row["group"] not in {None, scored.scores[key]["group"]}
    }

    assert wrong == {}


def test_results_are_the_true_distances_to_within_their_sigma(scored):
    residuals = {}
    for key, row in scored.true.items():
        score = scored.scores[key]
        if row["group"] == "A" and row["settled"] and score["measured"] is not None:
            error = score["measured"] - row["entered"]["distance_m"]
            residuals[key] = error / score["sigma"]

    spread = np.array(list(residuals.values()))
    assert len(spread) >= 4
    assert np.abs(spread).max() < 4, residuals
    if len(spread) > 30:  # enough for their scatter to mean something
        assert 0.6 < np.sqrt((spread**2).mean()) < 1.3


def test_unsettled_keyings_are_said_to_be_unsettled(scored):
    open_ = {key for key, row in scored.scores.items() if not row["settled"]}

    assert open_ == {key for key, row in scored.true.items() if not row["settled"]}


def test_every_true_breach_contact_and_near_launch_is_found(scored):
    missed = [
        (key, expected)
        for key, row in scored.true.items()
        for expected in row["findings"]
        if not any(
            f["kind"] == expected["kind"]
            and f["verdict"] in expected["verdicts"]
            and overlaps(f, expected)
            for f in scored.findings(*key)
        )
    ]

    assert missed == []


def test_nothing_that_did_not_happen_is_called_certain(scored):
    invented = [
        f
        for key, row in scored.true.items()
        for f in scored.findings(*key)
        if f["verdict"] == "certain"
        and not any(f["kind"] == e["kind"] and overlaps(f, e) for e in row["findings"])
    ]

    assert invented == []


def test_few_flights_that_were_clean_are_called_possible(scored):
    doubted = [
        f
        for key, row in scored.true.items()
        for f in scored.findings(*key)
        if f["verdict"] == "possible"
        and not any(f["kind"] == e["kind"] for e in row["findings"])
    ]

    assert len(doubted) <= 0.03 * len(scored.true) + 1, doubted


def test_the_lowest_height_of_each_breach_is_true_to_a_few_sigma(scored):
    for key, row in scored.true.items():
        for found in scored.findings(*key):
            if found["kind"] == "floor" and row["breaches"]:
                true = min(run["lowest_m"] for run in row["breaches"])
                assert abs(found["measured"] - true) < max(3.5 * found["sigma"], 1.5)


def test_planted_warnings_are_given(scored):
    for line in scored.planted:
        if line["warning"] is None:
            continue
        given = [
            w for w in scored.warnings(line["warning"]) if w["pilot"] == line["pilot"]
        ]
        assert given, line


def test_a_mark_under_the_wrong_number_names_the_pilot_it_fits(scored):
    for line in scored.planted:
        if line["warning"] == "mark-far-from-track":
            (said,) = [
                w
                for w in scored.warnings("mark-far-from-track")
                if w["pilot"] == line["pilot"]
            ]
            assert str(line["partner"]) in said["text"]


def test_no_other_mark_is_called_far_from_its_track(scored):
    planted = {
        p["pilot"] for p in scored.planted if p["warning"] == "mark-far-from-track"
    }

    assert {w["pilot"] for w in scored.warnings("mark-far-from-track")} == planted


def penalty_of(scored, part):
    line = next((p for p in scored.planted if p["part"] == part), None)
    if line is None:
        pytest.skip("this sample has no such part")
    return scored.scores[line["task"], line["pilot"]]["task_penalty"]


def test_a_breach_that_is_applied_costs_a_point_a_foot(scored):
    """`per = 1, of = "ft"`: the invented meets' own scale; within two feet of truth."""
    line = next(p for p in scored.planted if p["part"] == "deep floor breach")
    (run,) = scored.true[line["task"], line["pilot"]]["breaches"]
    feet = 75 - run["lowest_m"] / FT_M

    assert penalty_of(scored, "deep floor breach") == pytest.approx(feet, abs=5)


def test_a_breach_that_is_waived_costs_nothing(scored):
    assert penalty_of(scored, "shallow floor breach") == 0


def test_a_breach_that_is_set_costs_what_was_set(scored):
    assert penalty_of(scored, "deep floor breach, also seen by an official") == 60


def test_an_imposed_penalty_is_taken(scored):
    part = "penalty imposed by officials, nothing in the log"

    assert penalty_of(scored, part) == 50


def test_results_with_open_questions_are_results(scored):
    """What keeps them from becoming official is told, and by `open-matters`."""
    assert scored.code == 0
