"""The ledger's public face: what the window and the command line use.

Opening
-------
``this_desk()``
    Identity of this computer (kept in the user's settings, never in the event file).
``Ledger.create(target, desk=, who=)``, ``Ledger.open(target, desk=, who=)``
    `target` is an event file or a `postgresql://` URL; `who` is the official.
``load(target) -> Loaded``
    Folder, event file, archive or URL, read only: `.raw` (RawEvent), `.state` (None for
    a folder), `.where`.  ``open_event(target) -> RawEvent`` is `load(target).raw`.

Recording
---------
``ledger.record(act, why=, replaces=, files=) -> Entry``
    Acts are in `scorer.ledger.acts`: `SettingsSet`, `PilotSet`, `PlaceSet`, `FlightSet`,
    `MarkKeyed`, `MarkSettled`, `DeclarationMade`, `ReportMade`, `RulingMade`,
    `LogAdded`, `LogAssigned`, `TerrainSet`, `NoteMade`, `ComplaintFiled`,
    `ComplaintDecided`.  `fields` are columns of the event folder's tables as text.
    When it returns, the entry is on the disk.  An edit is the new act with `replaces` =
    `current.ids` of what it takes the place of; `ledger.withdraw(ids, why=)` takes a
    thing away; `ledger.undo(id, why=)` makes one entry count as not made.
``ledger.record_all([Draft(act=, why=, replaces=, files=), ...])``
    All or none.  Trying again with the same Draft objects never writes twice.

Looking
-------
``ledger.state() -> State``
    `.all_of(PilotSet)` and the like give pairs of `Current` (entries, ids, origin) and
    act; `.keyings(flight, task, pilot)`, `.logs`, `.publications`, `.complaints`,
    `.conflicts`, `.set_aside`, `.forks`, `.history(entry_id)`,
    `.find("hall-3f9a1c #12")`, `.entries`.
    A complaint has `.number`, `.level` (complaint or protest), `.filed_by`, `.filed_at`,
    `.reason`, `.decided_by`, `.decided_at` (as imported, else as its entries say) and
    `.protest_end(protest_s)`.
    An `Origin.where` of a replayed record is `entry DESK #N (file, line)`.
``sound(state) -> Sound``
    `.state` without the entries that the event cannot be built with (they are in its
    `.set_aside`), `.event` built of it, `.faults` that are left.  Score, show and publish
    this one.
``ledger.raw() -> RawEvent``
    For `scorer.event.build.build_event`.
``ledger.watch(stop) -> Iterator[News]``
    For a worker thread: yields entries of all desks within a second of their arrival.
``scorer.ledger.keyings``
    Disagreements, slips (swapped digits, units), what is still to be keyed twice.

Publishing
----------
``compute(ledger) -> Computed`` scores the present state; then
``open_matters(computed, tasks)`` lists what is open or doubtful,
``refusals(ledger, computed, stage, tasks=)`` says what is still to be done,
``publish(ledger, computed, stage, tasks=)`` puts it up, and ``changes_since_last`` and
``changes_of`` say what changed for whom and why.

Acting on the whole
-------------------
``make_event``, ``import_folder``, ``export_folder``, ``merge_files``, ``verify_target``,
``archive``, ``restore``: one call each for the command line.  Every fault is a
`ScorerError` whose text says what to do.
"""

from scorer.ledger.against import of_results
from scorer.ledger.audit import Audit, Problem, Severity
from scorer.ledger.changes import Change
from scorer.ledger.desk import name_desk, new_desk, this_desk
from scorer.ledger.disputes import Complaint
from scorer.ledger.entry import Draft, Entry, sha256_of
from scorer.ledger.event_commands import (
    Loaded,
    archive,
    compare_published,
    compute,
    export_folder,
    import_folder,
    load,
    make_event,
    merge_files,
    open_event,
    restore,
    results_json,
    verify_target,
)
from scorer.ledger.faults import LedgerError, RefusedError
from scorer.ledger.ledger import Ledger, News, system_clock
from scorer.ledger.merge import Merged
from scorer.ledger.publish import (
    Computed,
    changes_of,
    changes_since_last,
    open_matters,
    publish,
    refusals,
)
from scorer.ledger.replay import LogHeld, Publication, State
from scorer.ledger.resolve import Conflict, Current, content_of
from scorer.ledger.sound import Sound, sound

__all__ = [
    "Audit",
    "Change",
    "Complaint",
    "Computed",
    "Conflict",
    "Current",
    "Draft",
    "Entry",
    "Ledger",
    "LedgerError",
    "Loaded",
    "LogHeld",
    "Merged",
    "News",
    "Problem",
    "Publication",
    "RefusedError",
    "Severity",
    "Sound",
    "State",
    "archive",
    "changes_of",
    "changes_since_last",
    "compare_published",
    "compute",
    "content_of",
    "export_folder",
    "import_folder",
    "load",
    "make_event",
    "merge_files",
    "name_desk",
    "new_desk",
    "of_results",
    "open_event",
    "open_matters",
    "publish",
    "refusals",
    "restore",
    "results_json",
    "sha256_of",
    "sound",
    "system_clock",
    "this_desk",
    "verify_target",
]
