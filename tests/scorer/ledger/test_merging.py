import hashlib
import shutil
import sqlite3
from contextlib import contextmanager
from functools import reduce
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.ledger.acts import (
    DeskId,
    LogAdded,
    MarkKeyed,
    NoteMade,
    PilotSet,
    Undone,
    Withdrawn,
)
from scorer.ledger.audit import verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import NO_ENTRY, Draft, Link, seal, sha256_of
from scorer.ledger.faults import DamagedError, OtherEventError
from scorer.ledger.merge import merge_into, unite
from scorer.ledger.opening import memory_store
from scorer.ledger.replay import replay
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    TENT,
    Watch,
    create,
    open_at,
    small_event,
    tape,
)

CLOCK = Watch()


def content(store):
    """Everything a ledger holds, without the order of arrival."""
    files = {sha: store.file(sha) for sha in store.file_hashes()}
    return set(store.entries()), files


@contextmanager
def merged(*sources):
    with memory_store(when=CLOCK()) as store:
        merge_into(store, sources)
        yield store


def united(*sources):
    with merged(*sources) as store:
        return content(store)


@pytest.fixture
def copies(tmp_path):
    """Three desks that each go on in a copy of one event, with files of their own."""
    with create(tmp_path / "hall") as hall:
        hall.record_all(to_drafts(small_event()))
    ledgers = []
    for name in ("field", "tent"):
        shutil.copy(tmp_path / "hall", tmp_path / name)
    for number, (name, desk) in enumerate(
        {"hall": HALL, "field": FIELD, "tent": TENT}.items()
    ):
        ledger = open_at(tmp_path / name, desk)
        data = name.encode() * 50
        act = LogAdded(
            flight="1", name=f"logs/{name}.igc", sha256=sha256_of(data), size=len(data)
        )
        ledger.record(act, files={act.sha256: data})
        fields = tape(1, f"12.3{number}", by=name)
        ledger.record(MarkKeyed(flight="1", fields=fields))
        ledgers.append(ledger)
    yield [ledger.store for ledger in ledgers]
    for ledger in ledgers:
        ledger.close()


def test_the_order_of_merging_does_not_matter(copies):
    outcomes = [united(*order) for order in permutations(copies)]

    assert all(outcome == outcomes[0] for outcome in outcomes)
    assert len(outcomes[0][0]) == 12 + 3 * 2


def test_merging_twice_changes_nothing(copies):
    with merged(*copies) as once:
        before = content(once)
        again = merge_into(once, copies)
        after = content(once)

    assert after == before
    assert [count for _, count in again.fresh] == [0, 0, 0]


def test_nothing_is_lost(copies):
    entries, files = united(*copies)

    for store in copies:
        assert set(store.entries()) <= entries
        assert set(store.file_hashes()) <= set(files)


def test_a_merged_ledger_is_sound(copies, tmp_path):
    merge_into(copies[0], copies[1:])

    audit = verify(copies[0])
    assert audit.sound, str(audit)
    assert audit.desks == 3


def test_keyings_that_differ_come_out_as_disagreements(copies):
    summary = merge_into(copies[0], copies[1:])

    (found,) = summary.disagreements
    assert (found.slot.task, found.slot.pilot) == ("1", "1")
    assert "marks-differ" in {told.kind for told in summary.says}


def test_two_events_are_not_united(copies, tmp_path):
    with create(tmp_path / "other") as other:
        with pytest.raises(OtherEventError, match="created apart"):
            merge_into(copies[0], [other.store])
        assert len(copies[0].entries()) == 14


def test_an_altered_source_is_refused_whole(copies):
    path = copies[1].where
    copies[1].close()
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER entry_no_update")
    connection.execute("UPDATE entry SET who = 'eve' WHERE kind = 'mark'")
    connection.commit()
    connection.close()

    before = content(copies[0])
    with pytest.raises(DamagedError, match=r"altered.*sandtail verify"):
        merge_into(copies[0], [copies[1]])
    assert content(copies[0]) == before


# The union of sets of entries, with any history that desks may have had.

DESKS = (HALL, FIELD, TENT, DeskId("hall-00000d"))


@st.composite
def histories(draw):
    """Copies of one event that desks wrote into, merging with each other as they went.

    Acts pick at random what they replace, withdraw or undo among what their copy holds.
    """
    root = seal(
        Draft(act=NoteMade(text="root"), token=""),
        Link(desk=HALL, number=1, tick=1, prev=NO_ENTRY),
        who="ann",
        when=CLOCK(),
    )
    copies = [{root.hash: root} for _ in range(3)]
    for step in range(draw(st.integers(1, 14))):
        here = copies[draw(st.integers(0, 2))]
        if draw(st.integers(0, 4)) == 0:
            here.update(copies[draw(st.integers(0, 2))])
            continue
        entry = draw(written(here, step))
        here[entry.hash] = entry
    return copies


@st.composite
def written(draw, here, step):
    desk = draw(st.sampled_from(DESKS))
    names = sorted(here)
    target = draw(st.sampled_from(names))
    act = draw(
        st.sampled_from(
            [
                PilotSet(fields={"number": draw(st.sampled_from("12")), "name": "A"}),
                PilotSet(fields={"number": "1", "name": draw(st.sampled_from("AB"))}),
                MarkKeyed(flight="1", fields={"task": "1", "distance": str(step)}),
                Withdrawn(entry=target),
                Undone(entry=target),
            ]
        )
    )
    own = [e for e in here.values() if e.desk == desk]
    last = max(own, key=lambda e: (e.number, e.hash), default=None)
    link = Link(
        desk=desk,
        number=last.number + 1 if last else 1,
        tick=max(e.tick for e in here.values()) + 1,
        prev=last.hash if last else min(here.values(), key=lambda e: e.tick).hash,
    )
    replaces = draw(st.lists(st.sampled_from(names), max_size=2))
    token = draw(st.sampled_from(["", "t1", f"own {step}"]))
    draft = Draft(act=act, replaces=tuple(replaces), token=token, why="because")
    return seal(draft, link, who="ann", when=CLOCK())


@settings(max_examples=150)
@given(histories())
def test_uniting_is_commutative_associative_idempotent_and_loses_nothing(copies):
    a, b, c = (tuple(copy.values()) for copy in copies)
    everything = {entry.hash for entry in (*a, *b, *c)}

    together = unite(a, b, c)

    assert {entry.hash for entry in together} == everything
    assert unite(b, a) == unite(a, b)
    assert unite(unite(a, b), c) == unite(a, unite(b, c)) == together
    assert unite(together, together) == together
    state = replay(together)
    assert (
        state
        == replay(reversed(together))
        == reduce(
            lambda _, order: replay(unite(*order)), permutations((a, b, c)), state
        )
    )


@settings(max_examples=150)
@given(histories())
def test_what_holds_or_clashes_was_entered_by_somebody(copies):
    """Nothing is made up, and what stands several times is always listed."""
    state = replay(unite(*(copy.values() for copy in copies)))

    known = {entry.hash for entry in state.entries}
    for current in state.current:
        assert set(current.ids) <= known
    numbers = [act.fields["number"] for _, act in state.all_of(PilotSet)]
    assert len(numbers) == len(set(numbers))


@settings(max_examples=10)
@given(histories())
def test_stores_unite_as_sets_do(copies):
    entries = [tuple(copy.values()) for copy in copies]
    stores = []
    for some in entries:
        store = memory_store(when=CLOCK())
        store.take(some, ())
        stores.append(store)

    with merged(*stores) as one, merged(*reversed(stores)) as other:
        assert one.entries() == other.entries() == unite(*entries)
    for store in stores:
        store.close()


def test_a_file_address_is_the_plain_sha256():
    """FIPS 180-4 gives this value for the message `abc`."""
    assert sha256_of(b"abc") == (
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )
    assert sha256_of(b"x") == hashlib.sha256(b"x").hexdigest()
