"""A state that grew entry by entry is the one that all entries give from nothing."""

import random
from datetime import timedelta

import pytest

from scorer.ledger import growing, snapshot
from scorer.ledger.acts import (
    MarkKeyed,
    MarkSettled,
    NoteMade,
    PilotSet,
    PlaceSet,
    RowAct,
    Undone,
    Withdrawn,
)
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft
from scorer.ledger.growing import Growing
from scorer.ledger.merge import merge_into
from scorer.ledger.replay import replay
from scorer.ledger.tried import with_drafts
from scorer.scoring.coded import decode, encode
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    create,
    open_at,
    small_event,
    tape,
)


@pytest.fixture
def desks(tmp_path):
    with create(tmp_path / "e") as hall:
        hall.record_all(to_drafts(small_event()))
        (tmp_path / "copy").write_bytes((tmp_path / "e").read_bytes())
        with open_at(tmp_path / "copy", FIELD) as field:
            yield hall, field


def told(state):
    """Everything a state says."""
    return (
        state,
        state.matters,
        state.publications,
        state.complaints,
        state.logs,
        state.note_rows,
        state.heads,
        dict(state.kept),
        state.raw(lambda _: b""),
    )


def same(desk):
    whole = replay(desk.store.entries(), stored=desk.store.known_files)
    assert told(desk.state()) == told(whole)
    from_a_snapshot(desk, told(whole))


def from_a_snapshot(desk, whole):
    """Hold what grew from the last snapshot against it, and make the next one."""
    known = desk.__dict__.setdefault("test_grown", {})
    last = desk.store.last()
    rows = desk.store.raw_rows(last)
    if known:
        fresh, _ = desk.store.new_since(known.pop("cursor"))
        assert told(known.pop("growing").add(fresh)) == whole
    found = snapshot.taken(rows, desk._growing, last)
    if found is not None:
        again = Growing(desk.store.known_files)
        snapshot.resumed(rows, decode(encode(found)), again)
        assert told(again.add(())) == whole
        known.update(growing=again, cursor=last)


def try_them(desk, drafts):
    """Hold the state that drafts would make against all entries with them put in."""
    before = told(desk.state())
    tried = with_drafts(desk, drafts)
    whole = replay(tried.entries, stored=desk.store.known_files)
    assert len(tried.entries) == len(desk.state().entries) + len(drafts)
    assert told(tried) == told(whole)
    assert told(desk.state()) == before


def mark(pilot, distance):
    return MarkKeyed(flight="1", fields=tape(pilot, distance))


def keyed(chance):
    return Draft(act=mark(chance.randint(1, 2), f"{chance.randint(1, 90)}.5"))


def corrected(desk, chance):
    own = [(c, a) for c, a in desk.state().all_of(RowAct) if isinstance(a, MarkKeyed)]
    if not own:
        return keyed(chance)
    held, act = chance.choice(own)
    fields = {**act.fields, "distance": f"{chance.randint(1, 90)}.25"}
    return Draft(act=MarkKeyed(flight=act.flight, fields=fields), replaces=held.ids)


def settled(desk, chance):
    own = [(c, a) for c, a in desk.state().all_of(RowAct) if isinstance(a, MarkKeyed)]
    if not own:
        return keyed(chance)
    held, act = chance.choice(own)
    fields = {**act.fields, "settles": "seen on the sheet"}
    return Draft(act=MarkSettled(flight=act.flight, fields=fields, keyings=held.ids))


def renumbered(desk, chance):
    held, act = chance.choice(desk.state().all_of(PilotSet))
    fields = {**act.fields, "number": str(chance.choice((1, 2, 7, 9)))}
    return Draft(act=PilotSet(fields=fields), replaces=held.ids)


def moved(desk, chance):
    held, act = chance.choice(desk.state().all_of(PlaceSet))
    lon, lat = act.feature["geometry"]["coordinates"][:2]
    point = {"type": "Point", "coordinates": [lon + chance.random() / 1e3, lat]}
    feature = {**act.feature, "geometry": point}
    return Draft(act=PlaceSet(feature=feature), replaces=held.ids)


def taken_back(desk, chance):
    entry = chance.choice(desk.state().entries[1:]).hash
    form = chance.choice((Undone, Withdrawn))
    return Draft(act=form(entry=entry), why="a slip")


def unsound(desk, chance):
    """An entry that names what it cannot be about."""
    entries = desk.state().entries
    return Draft(act=mark(1, "3.5"), replaces=(chance.choice(entries[:3]).hash,))


def named_before_it_came(desk, chance):
    return Draft(act=mark(2, "4.5"), replaces=(f"{chance.randint(0, 9)}" * 64,))


STEPS = (
    lambda _, chance: keyed(chance),
    lambda _, chance: keyed(chance),
    lambda _, __: Draft(act=NoteMade(text="a note")),
    corrected,
    corrected,
    settled,
    renumbered,
    moved,
    taken_back,
    unsound,
    named_before_it_came,
)


@pytest.mark.parametrize("seed", range(12))
def test_on_any_history_what_grew_is_what_all_entries_give(desks, seed):
    chance = random.Random(seed)
    clocks = [desk.clock for desk in desks]
    for _ in range(12):
        k = chance.randrange(2)
        desk, other = desks[k], desks[1 - k]
        if chance.random() < 0.2:
            merge_into(desk.store, [other.store])
        if chance.random() < 0.1:
            back = timedelta(seconds=chance.randint(30, 4000))
            desk.clock = lambda own=clocks[k], back=back: own() - back
        drafts = [
            chance.choice(STEPS)(desk, chance) for _ in range(chance.randint(1, 3))
        ]
        try_them(desk, drafts)
        desk.record_all(drafts)
        if chance.random() < 0.8:
            same(desk)
    for desk, other in (desks, desks[::-1]):
        merge_into(desk.store, [other.store])
        same(desk)


def test_a_mark_and_its_correction_are_worked_in_without_a_replay(desks, monkeypatch):
    hall, _ = desks
    hall.state()
    monkeypatch.setattr(growing, "sort_out", None)
    monkeypatch.setattr(growing, "replay", None)
    with_drafts(hall, [Draft(act=mark(1, "3.5"))])
    first = hall.record(mark(1, "3.5"))
    hall.state()
    hall.record(mark(1, "4.5"), replaces=[first.hash])
    hall.record_all([Draft(act=Withdrawn(entry=first.hash), why="a slip")])
    monkeypatch.undo()
    same(hall)


def test_an_older_state_does_not_hear_of_later_entries(desks):
    hall, _ = desks
    before = hall.state()
    was = told(before)
    first = hall.record(mark(1, "3.5"))
    hall.record(mark(1, "4.5"), replaces=[first.hash])
    hall.state()
    assert told(before) == was
    assert first.hash not in {entry.hash for entry in before.entries}
