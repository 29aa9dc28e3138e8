"""Competition numbers that change while entries go on under old ones."""

import shutil
from collections import Counter
from dataclasses import replace

from scorer.ledger.acts import MarkKeyed, PilotSet
from scorer.ledger.convert import to_drafts
from tests.scorer.ledger.ledger_desks import create, open_at, small_event, tape


def test_each_entry_follows_who_had_its_number_when_it_was_made(tmp_path):
    """A number that passes on: 1 becomes 11, 2 becomes 1 and then 22."""

    def renumber(ledger, old, new):
        held, act = next(
            x for x in ledger.state().all_of(PilotSet) if x[1].fields["number"] == old
        )
        fields = {**act.fields, "number": new}
        ledger.record(replace(act, fields=fields), replaces=held.ids)

    def marks(ledger):
        acts = [act.fields for _, act in ledger.state().all_of(MarkKeyed)]
        return {(own["distance"], own["pilot"]) for own in acts}

    def key(ledger, distance):
        ledger.record(MarkKeyed(flight="1", fields=tape(1, distance)))

    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
        shutil.copy(tmp_path / "e", tmp_path / "field")
        renumber(ledger, "1", "11")
        key(ledger, "5")  # still under the old number
        renumber(ledger, "2", "1")
        key(ledger, "6")  # of the other, who has it now
        renumber(ledger, "1", "22")
        key(ledger, "7")  # late: nobody has it, and he had it last
        with open_at(tmp_path / "field") as field:  # has heard of none of it
            key(field, "8")
            ledger.store.take(field.store.entries(), ())
        found = marks(ledger)
        matters = [m for m in ledger.state().matters if m.kind.name == "old-number"]

    assert found >= {("12.34", "11"), ("40 ft 3 1/2 in", "22")}
    assert found >= {("5", "11"), ("6", "22"), ("7", "22"), ("8", "11")}
    assert Counter(m.pilots for m in matters) == {(11,): 4, (22,): 5}
