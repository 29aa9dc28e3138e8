"""One invented event from import to final results and the jury's check, with scoring."""

from datetime import timedelta
from pathlib import Path

import pytest

from scorer.ledger import api
from scorer.ledger.acts import (
    ComplaintDecided,
    ComplaintFiled,
    RulingMade,
    Stage,
    Verdict,
)
from scorer.ledger.faults import RefusedError
from scorer.ledger.keyings import disagreements, settle
from tests.scorer.ledger.ledger_desks import FIELD, HALL, Watch, open_at

SAMPLE = Path(__file__).parents[3] / "sample_events" / "vashkorim"
HOUR_S = 3600


def rule_on(ledger, finding):
    fields = {
        "task": str(finding["task"]),
        "pilot": str(finding["pilot"]),
        "finding": finding["id"],
        "decision": "apply",
        "reason": "seen by two observers",
        "by": "Ivo",
    }
    act = RulingMade(flight=finding["flight"], fields=fields)
    return ledger.record(act, why=fields["reason"])


def test_an_event_from_import_to_the_jury(tmp_path):
    if not (SAMPLE / "event.toml").is_file():
        pytest.skip("the sample event is not made here")
    path, clock = tmp_path / "meet", Watch()
    api.import_folder(SAMPLE, path, desk=HALL, who="Ivo", clock=clock)
    with open_at(path, HALL, who="Ivo", clock=clock) as hall:
        first = api.compute(hall)
        api.publish(hall, first, Stage.PROVISIONAL)
        with pytest.raises(RefusedError) as caught:
            api.publish(hall, first, Stage.OFFICIAL, complaint_s=HOUR_S)
        waiting = [m for m in api.open_matters(first) if m.holds_up]
        assert len(caught.value.reasons) == len(waiting)

        # Another desk, meanwhile without the network, settles what was keyed twice.
        (tmp_path / "copy").write_bytes(path.read_bytes())
        with open_at(tmp_path / "copy", FIELD, who="Runa", clock=clock) as field:
            for slot in disagreements(field.state()):
                chosen = slot.keyings[0].act.fields
                field.record_all([settle(slot, chosen, reason="photo of the tape")])
        unruled = [f for f in first.tree["findings"] if f["ruling"] == "unruled"]
        for finding in unruled:
            rule_on(hall, finding)
        summary = api.merge_files([tmp_path / "copy"], path)
        assert not summary.conflicts
        assert not summary.disagreements

        second = api.compute(hall)
        assert not [m for m in api.open_matters(second) if m.holds_up]
        told = api.changes_since_last(hall, second)
        api.publish(hall, second, Stage.OFFICIAL, complaint_s=HOUR_S)
        assert {reason for change in told for reason in change.reasons}
        assert api.changes_of(hall, hall.state().publications[-1]) == told

        filed = hall.record(ComplaintFiled(pilot=1, text="I never touched", task=1))
        clock.now += timedelta(hours=2)
        with pytest.raises(RefusedError, match="complaint of pilot 1"):
            api.publish(hall, api.compute(hall), Stage.FINAL)
        answer = ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED)
        hall.record(answer, why="drag mark in the grass, two observers")
        api.publish(hall, api.compute(hall), Stage.FINAL)
    api.archive(path, tmp_path / "meet.zip")

    for target in (path, tmp_path / "meet.zip"):
        audit = api.verify_target(target)
        assert audit.sound, str(audit)
        assert not audit.problems
        assert (audit.desks, audit.publications, audit.reproduced) == (2, 3, 3)
