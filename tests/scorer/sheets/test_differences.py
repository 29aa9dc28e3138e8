"""A publication is the same bytes, whatever is kept of those before; the board of a later
one has what changed."""

import json
import random
import sys
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from scorer.cli.publish import score_ledger
from scorer.ledger.acts import MarkKeyed, PilotSet, Stage
from scorer.ledger.api import Ledger, import_folder, new_desk
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.recall import Recall
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import Keep
from scorer.sheets import typeset
from scorer.sheets.board import board_setting
from scorer.sheets.edition import prepare, put_up
from scorer.sheets.kinds import SHEET_KINDS, Material
from scorer.sheets.typeset import ReadySheet
from scorer.sheets.unchanged import BOARD, before, stayed_told

KINDS = ("tracks", "workbook", "board", "slips", "awards", "data", "site")
STEPS = 3


@pytest.fixture(scope="module")
def imported(tmp_path_factory):
    room = tmp_path_factory.mktemp("differences")
    spec = crowd(pilots=3, fixes=100, flights=2, sample_s=15)
    write_meet(make_meet(spec, 3), room / "meet")
    import_folder(room / "meet", room / "event", desk=new_desk("test"), who="Ann")
    return (room / "event").read_bytes()


@pytest.fixture
def ledger(imported, tmp_path):
    path = tmp_path / "event"
    path.write_bytes(imported)
    with Ledger.open(path, desk=new_desk("desk"), who="Ann") as own:
        yield own


def prepared(ledger, stage=Stage.PROVISIONAL):
    _, _, computed = score_ledger(ledger, Keep())
    return prepare(ledger, computed, stage)


def made(ledger, ready, keep, kinds=KINDS):
    """Make the sheets of a publication with what a store keeps; papers as their trees."""
    event, results, _ = score_ledger(ledger, keep)
    with TemporaryDirectory() as room:
        material = Material(
            event=event,
            results=results,
            stamp=ready.stamp,
            tracks=Tracks(event, results, keep),
            room=Path(room),
            before=before(ledger, ready.stamp.scope),
        )
        files = dict(f for kind in kinds for f in SHEET_KINDS[kind].make(material))
        keep.close()
        return {name: content(data) for name, data in files.items()}


def content(data):
    if isinstance(data, ReadySheet):
        return json.dumps(data.tree).encode()
    data = data() if callable(data) else data
    return data if isinstance(data, bytes) else b"".join(data)


def another_mark(ledger, chance):
    held, act = chance.choice(ledger.state().all_of(MarkKeyed))
    fields = {**act.fields, "distance": f"{chance.uniform(1, 90):.2f} m"}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


def another_name(ledger, chance):
    held, act = chance.choice(ledger.state().all_of(PilotSet))
    fields = {**act.fields, "name": f"=Somebody <{chance.randrange(99)}>"}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


@pytest.mark.parametrize("seed", range(3))
def test_what_is_kept_never_shows_in_what_is_published(ledger, tmp_path, seed):
    """A store that was filled by each version before, none, and one that was damaged."""
    chance, kept = random.Random(seed), tmp_path / "kept"
    damaged = tmp_path / "damaged"
    for _ in range(STEPS):
        chance.choice((another_mark, another_mark, another_name))(ledger, chance)
        ready = prepared(ledger)
        anew = made(ledger, ready, Keep())
        if kept.exists():
            data = bytearray(kept.read_bytes())
            for place in chance.sample(range(len(data)), 2000):
                data[place] ^= 255
            damaged.write_bytes(data)
        assert made(ledger, ready, Keep(Recall(damaged))) == anew
        assert made(ledger, ready, Keep(Recall(kept))) == anew
        assert made(ledger, ready, Keep(Recall(kept))) == anew
        put_up(ledger, ready, anew)


def boards(files):
    return {
        name: [part["title"] for part in json.loads(data)["parts"]]
        for name, data in files.items()
        if name.endswith(".pdf")
    }


def test_a_later_board_has_the_standings_and_the_tasks_that_changed(ledger):
    ready = prepared(ledger)
    first = made(ledger, ready, Keep(), ["board"])
    put_up(ledger, ready, first)
    ((name, (standings, one, *others)),) = boards(first).items()
    assert name == "board.pdf"
    assert others
    assert stayed_told(first, 1) is None

    held, act = next(
        (held, act)
        for held, act in ledger.state().all_of(MarkKeyed)
        if act.fields["task"] == "1"
    )
    fields = {**act.fields, "distance": "88.88 m"}
    ledger.record(replace(act, fields=fields), replaces=held.ids)
    ready = prepared(ledger)
    second = made(ledger, ready, Keep(), ["board"])
    put_up(ledger, ready, second)
    assert boards(second) == {"board-version-2.pdf": [standings, one]}
    first_part, last_part = json.loads(second["board-version-2.pdf"])["parts"]
    (said,) = (note for note in first_part["notes"] if others[0] in note)
    assert "stay up as they are" in said
    assert all(title in said for title in others)
    assert one not in said
    assert not any("stay up" in note for note in last_part["notes"])
    told = stayed_told(second, 2)
    assert (told.get("changed"), told.get("all")) == (2, 2 + len(others))
    listed = json.loads(second[BOARD])
    assert [own["version"] for own in listed.values()] == [2, 2, *(1 for _ in others)]


def test_a_new_name_or_paper_of_the_event_is_on_every_sheet_of_the_board(ledger):
    ready = prepared(ledger)
    first = made(ledger, ready, Keep(), ["board"])
    put_up(ledger, ready, first)
    another_name(ledger, random.Random(1))
    later = boards(made(ledger, prepared(ledger), Keep(), ["board"]))
    assert [*later.values()] == [*boards(first).values()]


@pytest.mark.parametrize("program", [sys.executable, "no such program", "false"])
def test_a_long_paper_is_set_elsewhere_in_the_same_bytes(
    results, event, stamp, monkeypatch, program
):
    """Or here, where no other process can be had."""
    board = board_setting(results, event, stamp)
    here = board.pdf()
    monkeypatch.setattr(typeset, "LONG", 0)
    monkeypatch.setattr(sys, "executable", program)
    assert board.pdf() == here


def test_what_lies_in_the_folder_at_hand_is_no_part_of_the_program(
    results, event, stamp, monkeypatch, tmp_path
):
    ran = tmp_path / "ran"
    for name in ("json", "typst", "scorer"):
        (tmp_path / f"{name}.py").write_text(f"open({str(ran)!r}, 'w').close()\n")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(typeset, "LONG", 0)
    assert board_setting(results, event, stamp).pdf().startswith(b"%PDF")
    assert not ran.exists()
