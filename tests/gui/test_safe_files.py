"""The window takes in and writes no file outside the folders it is given."""

import pytest

from gui.log_files import gather
from gui.publishing import write_again
from gui.snapshot import look
from gui.task_form import new_faults
from scorer.errors import ScorerError
from scorer.ledger.api import Ledger, new_desk
from scorer.ledger.entry import sha256_of
from scorer.progress import Control


@pytest.fixture
def ledger(small):
    with Ledger.open(small, desk=new_desk("a"), who="Yrsa") as opened:
        yield opened


def test_a_new_flight_named_like_a_device_is_refused_in_the_form(ledger):
    snapshot = look(ledger)

    for name in ("con", "sat: morning?", "../x"):
        (told,) = new_faults(snapshot, name, {})
        assert f"found {name}: " in told
        assert "allowed: another name" in told
    assert not any("name" in fault for fault in new_faults(snapshot, "saturday", {}))


def test_a_link_in_a_dropped_folder_that_leads_out_is_not_taken_in(tmp_path):
    (tmp_path / "secret.igc").write_text("AXXX secret\n")
    folder = tmp_path / "dropped"
    folder.mkdir()
    (folder / "own.igc").write_text("AXXX own\n")
    (folder / "link.igc").symlink_to(tmp_path / "secret.igc")

    found = gather([folder], Control())

    assert found.logs == (("own.igc", b"AXXX own\n"),)
    assert found.problems == (
        "link.igc: a link that leads out of the folder; put a copy in its place",
    )


def test_a_log_named_by_itself_may_be_a_link(tmp_path):
    (tmp_path / "own.igc").write_text("AXXX own\n")
    (tmp_path / "link.igc").symlink_to(tmp_path / "own.igc")

    assert gather([tmp_path / "link.igc"], Control()).problems == ()


def test_files_of_a_publication_are_written_below_the_chosen_folder_only(
    ledger, tmp_path
):
    """Names of documents stand in entries, which another program may have written."""
    sha256 = ledger.state().logs[0].sha256
    (tmp_path / "place").mkdir()

    for name in ("../pwned", str(tmp_path / "pwned"), "site/../../pwned"):
        with pytest.raises(ScorerError):
            write_again(ledger, [(name, sha256)], tmp_path / "place", Control())
    write_again(ledger, [("site/ok.html", sha256)], tmp_path / "place", Control())

    assert not (tmp_path / "pwned").exists()
    assert sha256_of((tmp_path / "place/site/ok.html").read_bytes()) == sha256
