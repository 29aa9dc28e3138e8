"""Folder, file, archive and database are one event, whatever way it came."""

import json
import re
from pathlib import Path

import pytest

from scorer.errors import InputError
from scorer.event.build import build_event
from scorer.event.folder import read_folder, write_folder
from scorer.ledger import api
from scorer.ledger.acts import MarkKeyed, PilotSet
from scorer.ledger.faults import LedgerError, NotALedgerError, OtherEventError
from scorer.recount.digests import KEY as DIGESTS
from tests.helpers import said
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    Watch,
    open_at,
    small_event,
    tape,
    without_origins,
)

ROOT = Path(__file__).parents[3]
SAMPLES = sorted(p.parent for p in (ROOT / "sample_events").glob("*/event.toml"))


def bring_in(folder, target, **more):
    return api.import_folder(
        folder, target, desk=HALL, who="ann", clock=Watch(), **more
    )


@pytest.fixture
def folder(tmp_path):
    write_folder(small_event(), tmp_path / "folder")
    return tmp_path / "folder"


def contents(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_a_folder_comes_back_without_loss(folder, tmp_path):
    bring_in(folder, tmp_path / "e")
    api.export_folder(tmp_path / "e", tmp_path / "again")

    assert without_origins(read_folder(tmp_path / "again")) == without_origins(
        read_folder(folder)
    )
    assert contents(tmp_path / "again") == contents(folder)


def undigested(results):
    """Return the text of results without the digests of its parts."""
    tree = json.loads(results)
    assert tree.pop(DIGESTS)
    return json.dumps(tree, indent=1)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)
def test_a_sample_event_comes_back_and_scores_alike_everywhere(sample, tmp_path):
    """The same bytes from the folder, the file, the exported folder and the archive."""
    bring_in(sample, tmp_path / "e")
    api.export_folder(tmp_path / "e", tmp_path / "again")
    api.archive(tmp_path / "e", tmp_path / "e.zip")

    targets = [sample, tmp_path / "e", tmp_path / "again", tmp_path / "e.zip"]
    raws = [api.open_event(target) for target in targets]
    assert all(without_origins(raw) == without_origins(raws[0]) for raw in raws)
    results = [api.results_json(build_event(raw)) for raw in raws]
    assert results[0] == results[2]
    assert results[1] == results[3]
    # Apart from saying where a record stands (an entry, and its file) and its digest.
    plain = re.sub(rb"entry \S+ #\d+ \(([^)]*)\)", rb"\1", results[1])
    assert undigested(plain) == undigested(results[0])


def test_a_folder_with_faults_is_refused_whole(folder, tmp_path):
    marks = folder / "flights/1/marks.csv"
    text = marks.read_text(encoding="utf-8")
    marks.write_text(text.replace("12.34", "far").replace("tape", "tepe"), "utf-8")

    with pytest.raises(InputError) as caught:
        bring_in(folder, tmp_path / "e")
    assert len(caught.value.faults) >= 2
    assert not (tmp_path / "e").exists()


def test_a_folder_brought_in_twice_adds_only_what_is_new(folder, tmp_path):
    assert bring_in(folder, tmp_path / "e") == 11
    assert bring_in(folder, tmp_path / "e", into=True) == 0

    marks = folder / "flights/1/marks.csv"
    with marks.open("a", encoding="utf-8") as file:
        columns = marks.read_text(encoding="utf-8").splitlines()[0].split(",")
        row = tape(1, "13.24", by="bob")
        file.write(",".join(row.get(column, "") for column in columns) + "\n")
    assert bring_in(folder, tmp_path / "e", into=True) == 1
    with open_at(tmp_path / "e") as ledger:
        assert len(ledger.state().keyings("1", "1", "1")) == 2


def test_importing_over_an_event_is_refused(folder, tmp_path):
    bring_in(folder, tmp_path / "e")
    with pytest.raises(LedgerError, match="choose another name"):
        bring_in(folder, tmp_path / "e")


def test_files_of_desks_are_merged_into_a_new_one(folder, tmp_path):
    bring_in(folder, tmp_path / "e")
    for name, desk in (("a", HALL), ("b", FIELD)):
        (tmp_path / name).write_bytes((tmp_path / "e").read_bytes())
        with open_at(tmp_path / name, desk) as ledger:
            ledger.record(PilotSet(fields={"number": "7", "name": name}))
    summary = api.merge_files([tmp_path / "a", tmp_path / "b"], tmp_path / "both")

    assert [count for _, count in summary.fresh] == [13, 1]
    assert "pilot 7: set down 2 times" in "".join(map(said, summary.says))
    assert api.load(tmp_path / "both").notes
    assert api.verify_target(tmp_path / "both", scoring=None).sound


def test_merging_into_one_of_the_files_itself(folder, tmp_path):
    bring_in(folder, tmp_path / "a")
    (tmp_path / "b").write_bytes((tmp_path / "a").read_bytes())
    with open_at(tmp_path / "b", FIELD) as ledger:
        ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))

    summary = api.merge_files([tmp_path / "b"], tmp_path / "a")
    assert summary.fresh[0][1] == 1
    assert len(summary.disagreements) == 1


def test_a_failed_merge_leaves_no_new_file(folder, tmp_path):
    bring_in(folder, tmp_path / "a")
    bring_in(folder, tmp_path / "b")

    with pytest.raises(OtherEventError, match="import that folder into the other"):
        api.merge_files([tmp_path / "a", tmp_path / "b"], tmp_path / "both")
    assert not (tmp_path / "both").exists()


def test_a_target_that_is_not_there_says_what_may_be(tmp_path):
    with pytest.raises(NotALedgerError, match="an event folder, an event file"):
        api.load(tmp_path / "nowhere")
    with pytest.raises(InputError):
        api.load(tmp_path)


def test_this_computer_keeps_its_desk(tmp_path, monkeypatch):
    monkeypatch.delenv("SANDTAIL_DESK", raising=False)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setattr("sys.platform", "linux")

    first = api.this_desk()
    assert api.this_desk() == first
    assert (tmp_path / "sandtail" / "desk").read_text(encoding="utf-8").strip() == first

    named = api.name_desk("Hall B / night")
    assert named.startswith("hall-b-night-")
    assert api.this_desk() == named


def test_a_desk_of_wrong_form_says_what_form_it_has(monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "Hall")
    with pytest.raises(LedgerError, match="as in hall-3f9a1c"):
        api.this_desk()
    monkeypatch.setenv("SANDTAIL_DESK", "hall-3f9a1c")
    assert api.this_desk() == "hall-3f9a1c"


def test_new_desks_never_share_a_name():
    assert len({api.new_desk("Hall") for _ in range(50)}) == 50
    assert api.new_desk("Ωμέγα").startswith("desk-")


def test_what_the_face_s_page_names_is_there():
    """Functions written as ``name(...)`` in the page of scorer.ledger.api."""
    named = set(re.findall(r"``(\w+)\(", api.__doc__ or ""))

    assert {"this_desk", "load", "compute", "publish"} <= named
    assert named <= set(api.__all__)
