"""`verify` scores each distinct state once, reads each log once, and keeps nothing."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from scorer import recall
from scorer.ledger import api, event_commands
from scorer.ledger.acts import MarkKeyed, Stage
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.scoring import work as works
from scorer.scoring import workers


@pytest.fixture(scope="module")
def target(tmp_path_factory):
    """An event that went up three times, a mark changed between; the last was forged."""
    room = tmp_path_factory.mktemp("each")
    spec = crowd(pilots=2, fixes=100, flights=2, sample_s=15)
    write_meet(make_meet(spec, 3), room / "meet")
    desk = api.new_desk("test")
    api.import_folder(room / "meet", room / "event", desk=desk, who="Ann")
    with api.Ledger.open(room / "event", desk=desk, who="Ann") as ledger:
        api.publish(ledger, api.compute(ledger), Stage.PROVISIONAL)
        held, act = ledger.state().all_of(MarkKeyed)[0]
        fields = {**act.fields, "distance": "77.77"}
        ledger.record(replace(act, fields=fields), replaces=held.ids)
        done = api.compute(ledger)
        api.publish(ledger, done, Stage.PROVISIONAL)
        forged = replace(done, document=done.document.replace(b"77.77", b"70.77"))
        assert forged.document != done.document
        api.publish(ledger, forged, Stage.PROVISIONAL)
    return room / "event"


def test_each_log_is_read_once_for_all_versions_and_a_forged_one_is_found(
    target, monkeypatch
):
    read = Counter()

    def spied(blob, *, real=works.read_log, **how):
        read[blob.sha256] += 1
        return real(blob, **how)

    monkeypatch.setattr(works, "read_log", spied)
    monkeypatch.setattr(recall, "keep_of_user", None)  # nothing is believed
    audit = api.verify_target(target)
    assert (audit.publications, audit.reproduced) == (3, 2)
    assert [p.severity for p in audit.problems] == ["not reproduced"]
    assert "version 3" in audit.problems[0].where
    assert set(read.values()) == {1}
    assert len(read) == 4


def test_many_logs_are_given_to_others_with_the_same_verdict(target, monkeypatch):
    made = []

    def pool(workers, mp_context):
        made.append(mp_context.get_start_method())
        return ThreadPoolExecutor(2)  # as processes, but for what starting them costs

    monkeypatch.setattr(event_commands, "FEW_LOGS", 1)
    monkeypatch.setattr("scorer.fresh._Processes", pool)
    monkeypatch.setattr(workers, "look_at", None)
    audit = api.verify_target(target)
    assert (audit.publications, audit.reproduced) == (3, 2)
    assert made == ["spawn"]  # once for all versions
