"""What is said to be recorded is in the file that stands at the event's place.

Other programs (file synchronisation, a colleague's copy, a tidy person) move, replace,
empty or delete an event file while it is open.
"""

import os
import random
import shutil
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import pytest

from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.entry import Draft
from scorer.ledger.event_file import EventFile
from scorer.ledger.faults import MovedError
from scorer.ledger.merge import merge_into
from scorer.ledger.opening import open_store
from scorer.ledger.store import Store
from tests.scorer.ledger.ledger_desks import FIELD, HALL, MORNING, create, open_at

ROOT = Path(__file__).parents[3]
pytestmark = pytest.mark.skipif(
    not hasattr(os, "O_PATH"), reason="a deleted file is reached in Linux only"
)


@pytest.fixture
def place(tmp_path):
    """An event with two notes at `e`; beside it a copy of before and another event."""
    create(tmp_path / "e").close()
    shutil.copy(tmp_path / "e", tmp_path / "older")
    create(tmp_path / "other").close()
    with open_at(tmp_path / "e", HALL) as ledger:
        ledger.record(NoteMade(text="first"))
    return tmp_path


@pytest.fixture
def desk(place):
    ledger = open_at(place / "e", HALL)
    ledger.record(NoteMade(text="second"))
    yield ledger
    with suppress(MovedError):
        ledger.close()


def over(name):
    return lambda place: (place / name).replace(place / "e")


def onto(name):
    return lambda place: (place / "e").write_bytes((place / name).read_bytes())


def to_folder(place):
    (place / "e").unlink()
    (place / "e").mkdir()


GONE = {
    "deleted": lambda place: (place / "e").unlink(),
    "an older copy renamed over it": over("older"),
    "another event renamed over it": over("other"),
    "a folder in its place": to_folder,
}
WRITTEN_OVER = {
    "an older copy": onto("older"),
    "another event": onto("other"),
    "nothing": lambda place: (place / "e").write_bytes(b""),
    "something else": lambda place: (place / "e").write_text("hello" * 999),
}
AWAY = {
    "moved": lambda place: (place / "e").rename(place / "away"),
    "moved with its folder": lambda place: place.rename(place.with_name("gone")),
}


def texts(path):
    with open_store(path, when=MORNING, read_only=True) as store:
        assert verify(store).sound
        return [e.act.text for e in store.entries() if e.kind == "note"]


@pytest.mark.parametrize("happen", GONE.values(), ids=GONE.keys())
def test_a_file_that_is_gone_is_noticed_and_recovered(place, desk, happen):
    happen(place)
    with pytest.raises(MovedError, match=r"moved or replaced\. Nothing more") as caught:
        desk.record(NoteMade(text="third"))

    assert str(place / "e-recovered") in str(caught.value)
    assert texts(place / "e-recovered") == ["first", "second"]
    if (place / "e").is_file():
        assert "third" not in texts(place / "e")


@pytest.mark.parametrize("happen", WRITTEN_OVER.values(), ids=WRITTEN_OVER.keys())
def test_a_file_that_was_written_over_is_noticed_and_left_alone(place, desk, happen):
    happen(place)
    before = (place / "e").read_bytes()
    with pytest.raises(MovedError, match="until it is back at its place"):
        desk.record(NoteMade(text="third"))

    assert (place / "e").read_bytes() == before
    assert not (place / "e-recovered").exists()


@pytest.mark.parametrize("happen", AWAY.values(), ids=AWAY.keys())
def test_a_file_that_was_moved_goes_on_when_it_is_back(place, desk, happen):
    happen(place)
    draft = Draft(act=NoteMade(text="third"))
    for _ in range(2):
        with pytest.raises(MovedError, match="Put it back"):
            desk.record_all([draft])
    if place.with_name("gone").exists():
        place.with_name("gone").rename(place)
    else:
        (place / "away").rename(place / "e")
    desk.record_all([draft])

    assert texts(place / "e") == ["first", "second", "third"]
    assert not (place / "e-recovered").exists()


def test_reading_notices_too(place, desk):
    over("other")(place)
    with pytest.raises(MovedError):
        desk.state()


def test_a_link_that_leads_elsewhere_is_noticed(place):
    (place / "link").symlink_to(place / "e")
    with open_at(place / "link", HALL) as ledger:
        ledger.record(NoteMade(text="second"))
        (place / "link").unlink()
        (place / "link").symlink_to(place / "older")
        with pytest.raises(MovedError):
            ledger.record(NoteMade(text="third"))

    assert texts(place / "older") == []
    assert texts(place / "e") == ["first", "second"]


def test_a_copy_that_lacks_nothing_is_gone_on_with(place, desk):
    """As programs do that bring an unchanged or a colleague's newer copy."""
    shutil.copy(place / "e", place / "newer")
    with open_at(place / "newer", FIELD) as field:
        field.record(NoteMade(text="theirs"))
    over("newer")(place)
    desk.record(NoteMade(text="third"))

    assert texts(place / "e") == ["first", "second", "theirs", "third"]
    assert len(desk.state().entries) == 5


@pytest.mark.parametrize("happen", GONE.values(), ids=GONE.keys())
def test_an_entry_that_went_into_a_file_just_gone_is_recovered(
    place, desk, happen, monkeypatch
):
    """Between the look before the write and its end."""
    insert = Store.insert

    def late(self, *given):
        done = insert(self, *given)
        happen(place)
        return done

    monkeypatch.setattr(Store, "insert", late)
    with pytest.raises(MovedError, match="do not enter it again") as caught:
        desk.record(NoteMade(text="third"))

    assert str(place / "e-recovered") in str(caught.value)
    assert texts(place / "e-recovered") == ["first", "second", "third"]


def test_a_file_written_over_just_after_a_write_is_noticed(place, desk, monkeypatch):
    confirm = EventFile.confirm

    def late(self, *given):
        onto("older")(place)
        confirm(self, *given)

    monkeypatch.setattr(EventFile, "confirm", late)
    with pytest.raises(MovedError, match="Your last entry is not in it"):
        desk.record(NoteMade(text="third"))


def test_a_merge_is_not_said_to_be_done_in_a_file_that_is_gone(place, desk):
    shutil.copy(place / "e", place / "theirs")
    with open_at(place / "theirs", FIELD) as field:
        field.record(NoteMade(text="theirs"))
        take = desk.store._add_files

        def late(*given):
            over("older")(place)
            take(*given)

        desk.store._add_files = late
        with pytest.raises(MovedError, match="e-recovered"):
            merge_into(desk.store, [field.store])

    assert texts(place / "e-recovered") == ["first", "second"]


def test_closing_recovers_what_nobody_could_reach_any_more(place):
    ledger = open_at(place / "e", HALL)
    ledger.record(NoteMade(text="second"))
    over("older")(place)
    with pytest.raises(MovedError, match="e-recovered"):
        ledger.close()

    assert texts(place / "e-recovered") == ["first", "second"]
    (place / "e-recovered").replace(place / "e")
    assert texts(place / "e") == ["first", "second"]


def test_closing_tells_where_what_only_a_deleted_file_held_is_now(place):
    ledger = open_at(place / "e", HALL)
    ledger.record(NoteMade(text="second"))
    (place / "e").unlink()

    with pytest.raises(MovedError, match="recovered"):
        ledger.close()


def test_nothing_that_stands_there_is_written_over_by_recovering(place, desk):
    (place / "e-recovered").write_text("a letter")
    over("older")(place)
    with pytest.raises(MovedError, match="e-recovered-2"):
        desk.record(NoteMade(text="third"))
    with pytest.raises(MovedError, match="e-recovered-2"):
        desk.record(NoteMade(text="third"))

    assert (place / "e-recovered").read_text() == "a letter"
    assert texts(place / "e-recovered-2") == ["first", "second"]
    assert not (place / "e-recovered-3").exists()


def test_an_open_event_has_nothing_beside_it(place, desk):
    desk.record(NoteMade(text="third"))

    assert {path.name for path in place.iterdir()} == {"e", "older", "other"}


WRITER = """
import sys
from scorer.errors import ScorerError
from scorer.ledger.acts import NoteMade
from scorer.ledger.desk import checked_desk
from scorer.ledger.ledger import Ledger
while True:
    try:
        with Ledger.open(sys.argv[1], desk=checked_desk("hall-00000a"), who="a") as ledger:
            while True:
                print(ledger.record(NoteMade(text="x")).hash, flush=True)
    except ScorerError:
        pass
"""


def test_whatever_is_put_in_its_place_every_confirmed_entry_is_in_some_file(place):
    """A desk records while older copies are renamed over its file; then it is killed."""
    dice = random.Random(5)
    said = place / "told"  # a pipe that is full would stop a desk on a fast computer
    with said.open("w") as out:
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(place / "e")],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=out,
        )
    while not said.stat().st_size:
        time.sleep(0.01)
    for _ in range(8):
        time.sleep(dice.random() * 0.3)
        shutil.copy(place / "older", place / "copy")
        (place / "copy").replace(place / "e")
        time.sleep(0.3)  # else a copy nobody ever wrote into is replaced, too
    writer.terminate()
    writer.wait()
    told = said.read_text().split()

    held = set()
    for path in (place / "e", *place.glob("e-recovered*")):
        with open_store(path, when=MORNING, read_only=True) as store:
            held |= {entry.hash for entry in store.entries()}
    assert len(told) > 8
    lost = [name for name in told if len(name) == 64 and name not in held]
    assert not lost
