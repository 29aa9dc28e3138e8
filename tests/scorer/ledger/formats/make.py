"""Write the sample file of the newest format: one entry of every kind.

    python tests/scorer/ledger/formats/make.py

Run once when a schema step is added, before it is released; a file that exists is never
written again.
"""

import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parents[3]))

from scorer.ledger.acts import (  # noqa: E402
    ComplaintDecided,
    ComplaintFiled,
    DeclarationMade,
    MarkKeyed,
    NoteMade,
    PilotSet,
    PlaceSet,
    Stage,
    TerrainSet,
    Verdict,
)
from scorer.ledger.convert import to_drafts  # noqa: E402
from scorer.ledger.entry import sha256_of  # noqa: E402
from scorer.ledger.keyings import disagreements, settle  # noqa: E402
from scorer.ledger.publish import publish  # noqa: E402
from scorer.ledger.schema import STEPS  # noqa: E402
from tests.scorer.ledger.ledger_desks import computed, create, place, small_event, tape  # noqa: E402


def fill(ledger):
    ledger.record_all(to_drafts(small_event()))
    pilot = ledger.state().all_of(PilotSet)[0][0]
    fields = {**pilot.act.fields, "name": "Ödön Vigh"}
    ledger.record(PilotSet(fields=fields), replaces=pilot.ids, why="misspelt")
    extra = ledger.record(PlaceSet(feature=place("spare", kind="goal")))
    ledger.withdraw([extra.id], why="not used")
    ledger.record(MarkKeyed(flight="1", fields=tape(1, "13.24", by="bob")))
    (slot,) = disagreements(ledger.state())
    ledger.record_all([settle(slot, slot.keyings[0].act.fields, reason="photo")])
    fields = {"task": "1", "pilot": "1", "goal": "centre"}
    declared = ledger.record(DeclarationMade(flight="1", fields=fields))
    ledger.undo(declared.id, why="for another task")
    grid = b"no real grid"
    act = TerrainSet(name="terrain.tif", sha256=sha256_of(grid), size=len(grid))
    taken = ledger.record(act, files={act.sha256: grid})
    ledger.withdraw([taken.id], why="not a grid")
    results = b'{"tasks": [], "findings": [], "warnings": [], "standings": []}'
    publish(ledger, computed(ledger, results), Stage.PROVISIONAL)
    filed = ledger.record(ComplaintFiled(pilot=2, text="mine was nearer", task=1))
    decided = ComplaintDecided(complaint=filed.id, verdict=Verdict.REJECTED)
    ledger.record(decided, why="taped twice")
    ledger.record(NoteMade(text="wind 240°, 4 kt"))


def main():
    name = f"v{STEPS[-1].number}"
    with create(HERE / f"{name}.sqlite") as ledger:
        fill(ledger)
        (head,) = ledger.state().heads
    (HERE / f"{name}.head").write_text(head + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
