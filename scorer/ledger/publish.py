"""Put results up: provisional, official, final; what must be done before each.

Provisional results may have open ends, and say so.  Official results have none, and
start the complaint period of the rule book.  Final results are the official ones,
unchanged, once that period is over, every complaint and protest is answered and the
protest period after each answer is over too.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from scorer.ledger.acts import (
    Document,
    EntryId,
    Kind,
    Published,
    RowAct,
    Sha256,
    Stage,
)
from scorer.ledger.changes import Change, changes
from scorer.ledger.disputes import Complaint
from scorer.ledger.entry import Draft, Entry, sha256_of, utc_text
from scorer.ledger.faults import RefusedError
from scorer.ledger.files import Content, address_of
from scorer.ledger.ledger import Ledger
from scorer.ledger.replay import Publication, State
from scorer.version import PROGRAM

Results = Mapping[str, Any]
"""A results.json document, parsed."""
PROTEST_TIME = "publication.protest_time"
SILENT = frozenset({Kind.NOTE, Kind.COMPLAINT, Kind.OUTCOME, Kind.PUBLICATION})
"""Kinds of entries that no result depends on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Computed:
    """Results, and the state they were computed from."""

    state: State
    results: bytes
    """results.json, byte for byte."""
    complaint_s: float | None = None
    """Complaint period of the rule book; None = the book sets none."""
    protest_s: float | None = None
    """Protest period of the rule book, after an outcome; None = the book sets none."""
    unset: tuple[str, ...] = ()
    """Rules that the book asks for and the event has not answered, by key."""
    documents: Mapping[str, Content] | None = None
    """Sheets and pages that go up with it, by file name."""
    program: str = PROGRAM
    """Which version computed them."""

    @property
    def parsed(self) -> Results:
        """The results as a tree."""
        tree: Results = json.loads(self.results)
        return tree


def open_points(
    state: State, results: Results, tasks: Iterable[int] = ()
) -> tuple[str, ...]:
    """Return what keeps the results of some tasks (none = all) from being official."""
    scope = _Scope(results, tasks)
    points = [conflict.what for conflict in state.conflicts]
    for warning in results.get("warnings", ()):
        if warning.get("blocks") and scope.holds(warning):
            points.append(str(warning["text"]))
    said = {
        (w.get("kind"), w.get("task"), w.get("pilot"))
        for w in results.get("warnings", ())
    }
    for task in results.get("tasks", ()):
        for score in task["scores"]:
            key = ("unsettled", task["task"], score["pilot"])
            if scope.holds(task) and not score["settled"] and key not in said:
                points.append(
                    f"task {task['task']}, pilot {score['pilot']}: keyings differ and "
                    "nobody has settled them"
                )
    for finding in results.get("findings", ()):
        key = ("unruled", finding["task"], finding["pilot"])
        unruled = finding["ruling"] == "unruled" and finding["verdict"] != "clear"
        if scope.holds(finding) and unruled and key not in said:
            points.append(
                f"task {finding['task']}, pilot {finding['pilot']}: nobody has ruled "
                f"on {finding['id']}"
            )
    return tuple(dict.fromkeys(points))


def publications_of(state: State, tasks: Iterable[int]) -> tuple[Publication, ...]:
    """Return the standing publications of just these tasks, oldest first."""
    wanted = tuple(sorted(set(tasks)))
    return tuple(
        publication
        for publication in state.publications
        if publication.act.tasks == wanted and not publication.withdrawn
    )


def refusals(
    ledger: Ledger,
    computed: Computed,
    stage: Stage,
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
) -> tuple[str, ...]:
    """Return why this cannot be published now, each with what to do; empty = it can."""
    state, wanted = ledger.state(), tuple(sorted(set(tasks)))
    results = computed.parsed
    known = {task["task"] for task in results.get("tasks", ())}
    missing = [str(number) for number in wanted if number not in known]
    reasons = []
    if missing:
        reasons.append(f"the results hold no task {', '.join(missing)}; score it first")
    earlier = publications_of(state, wanted)
    if earlier and earlier[-1].act.stage is Stage.FINAL and not why.strip():
        reasons.append("final results are up; say why they are opened again")
    if stage is Stage.PROVISIONAL:
        return tuple(reasons)
    reasons += _stale(state, computed, wanted)
    reasons += open_points(state, results, wanted)
    if stage is Stage.OFFICIAL and _period(computed, complaint_s) is None:
        reasons.append(
            "the rule book sets no complaint period; set publication.complaint_time "
            "in the event's rules, or say how long it runs"
        )
    if stage is Stage.FINAL:
        reasons += _final_refusals(ledger, computed, earlier, wanted)
    return tuple(reasons)


def publish(
    ledger: Ledger,
    computed: Computed,
    stage: Stage,
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
) -> Entry:
    """Publish results, or raise RefusedError with every reason why not.

    `tasks` empty publishes the whole event with its standings.  `complaint_s` stands in
    for the rule book's complaint period where that sets none, and overrides it.
    """
    wanted = tuple(sorted(set(tasks)))
    reasons = refusals(
        ledger, computed, stage, tasks=wanted, complaint_s=complaint_s, why=why
    )
    if reasons:
        raise RefusedError(f"these results cannot become {stage} yet:", reasons)
    state = ledger.state()
    files: dict[Sha256, Content] = {sha256_of(computed.results): computed.results}
    documents = []
    for name, data in sorted((computed.documents or {}).items()):
        sha256 = address_of(data)
        files[sha256] = data
        documents.append(Document(name=name, sha256=sha256))
    act = Published(
        stage=stage,
        version=1 + max((p.act.version for p in _all_of(state, wanted)), default=0),
        tasks=wanted,
        results=sha256_of(computed.results),
        documents=tuple(documents),
        heads=computed.state.heads,
        complaints_until=complaints_until(ledger, computed, stage, complaint_s),
        program=computed.program,
        flags=open_points(computed.state, computed.parsed, wanted),
    )
    return ledger.record_all([Draft(act=act, why=why, files=files)])[0]


def changes_since_last(
    ledger: Ledger, computed: Computed, *, tasks: Iterable[int] = ()
) -> tuple[Change, ...]:
    """Return what publishing now would change, against the last version up."""
    earlier = publications_of(ledger.state(), tasks)
    if not earlier:
        return ()
    last = earlier[-1].act
    return changes(
        _results(ledger, last.results),
        computed.parsed,
        tasks=tasks,
        entries=_between(computed.state, last.heads),
    )


def changes_of(ledger: Ledger, publication: Publication) -> tuple[Change, ...]:
    """Return what a publication changed, against the version before it."""
    state = ledger.state()
    own = _all_of(state, publication.act.tasks)
    before = [p for p in own if p.act.version < publication.act.version]
    if not before:
        return ()
    last = before[-1].act
    seen = ancestors(state.entries, publication.act.heads)
    return changes(
        _results(ledger, last.results),
        _results(ledger, publication.act.results),
        tasks=publication.act.tasks,
        entries=[e for e in _between(state, last.heads) if e.hash in seen],
    )


def _results(ledger: Ledger, sha256: Sha256) -> Results:
    """Return published results; nothing where the file is none, whoever put it up."""
    try:
        tree = json.loads(ledger.file(sha256))
        changes(tree, tree)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return {}
    return dict(tree)


def ancestors(entries: Iterable[Entry], heads: Iterable[EntryId]) -> set[EntryId]:
    """Return some entries and all that stand before them in their chains."""
    before = {entry.hash: entry.prev for entry in entries}
    found: set[EntryId] = set()
    for head in heads:
        name = head
        while name in before and name not in found:
            found.add(name)
            name = before[name]
    return found


def complaint_end(publication: Publication) -> datetime | None:
    """Return when a publication's complaint period ends; None = none runs."""
    text = publication.act.complaints_until
    return datetime.fromisoformat(text) if text else None


def _final_refusals(
    ledger: Ledger,
    computed: Computed,
    earlier: Sequence[Publication],
    tasks: tuple[int, ...],
) -> list[str]:
    official = [p for p in earlier if p.act.stage is not Stage.PROVISIONAL]
    if not official or earlier[-1].act.stage is Stage.PROVISIONAL:
        return ["no official results are up; publish them first"]
    reasons = []
    end = complaint_end(official[-1])
    if end is not None and ledger.clock() < end:
        reasons.append(
            f"the complaint period runs until {end:%Y-%m-%d %H:%M:%S} UTC; wait for it"
        )
    for complaint in ledger.state().complaints:
        if not tasks or complaint.act.task in {None, *tasks}:
            reasons += _disputed(complaint, computed, ledger.clock())
    before = _results(ledger, official[-1].act.results)
    changed = [c for c in changes(before, computed.parsed, tasks=tasks) if c.values]
    if changed:
        reasons.append(
            f"{len(changed)} scores differ from the official version "
            f"{official[-1].act.version} (first: {changed[0]}); publish them as "
            "official again, for pilots to see"
        )
    return reasons


def _disputed(complaint: Complaint, computed: Computed, now: datetime) -> list[str]:
    """Say what a complaint or protest still keeps from being final."""
    name = f"the {complaint.level} of pilot {complaint.act.pilot}"
    label = f"(entry {complaint.entry.label})"
    if complaint.is_open:
        return [f"{name} {label} is open; decide on it"]
    if PROTEST_TIME in computed.unset and complaint.may_be_protested:
        open_rule = (
            "is answered, and the rule book leaves open how long one may protest"
        )
        remedy = f'set {PROTEST_TIME} in the event\'s rules, "none" where nobody may'
        return [f"{name} {label} {open_rule}; {remedy}"]
    end = complaint.protest_end(computed.protest_s)
    if end is None or now >= end:
        return []
    until = f"{end.astimezone(UTC):%Y-%m-%d %H:%M:%S} UTC"
    return [f"the protest period after {name} {label} runs until {until}; wait for it"]


def _stale(state: State, computed: Computed, tasks: Iterable[int]) -> list[str]:
    """Refuse results that do not know of something entered since about these tasks."""
    known = {entry.hash for entry in computed.state.entries}
    scope = _Scope(computed.parsed, tasks)
    fresh = [
        entry
        for entry in state.entries
        if entry.hash not in known
        and entry.kind not in SILENT
        and scope.holds(_whereabouts(entry))
    ]
    if not fresh:
        return []
    first = f"{fresh[0].kind} by {fresh[0].who}, entry {fresh[0].label}"
    arrived = f"{len(fresh)} entries arrived after these results were computed"
    return [f"{arrived} (first: {first}); score again"]


def _whereabouts(entry: Entry) -> dict[str, object]:
    """Return the flight and task an entry is about, as far as it says."""
    act = entry.act
    task = act.fields.get("task", "").strip() if isinstance(act, RowAct) else ""
    whole = task.isascii() and task.isdigit() and len(task) < 10
    number = int(task) if whole else None
    return {"flight": getattr(act, "flight", ""), "task": number}


def _all_of(state: State, tasks: Iterable[int]) -> tuple[Publication, ...]:
    wanted = tuple(sorted(set(tasks)))
    return tuple(p for p in state.publications if p.act.tasks == wanted)


def _between(state: State, heads: Iterable[EntryId]) -> list[Entry]:
    seen = ancestors(state.entries, heads)
    return [e for e in state.entries if e.hash not in seen and e.kind not in SILENT]


def _period(computed: Computed, complaint_s: float | None) -> float | None:
    return computed.complaint_s if complaint_s is None else complaint_s


def complaints_until(
    ledger: Ledger, computed: Computed, stage: Stage, complaint_s: float | None
) -> str:
    """Return when the complaint period of results put up now ends; empty = none runs."""
    period_s = _period(computed, complaint_s)
    if stage is not Stage.OFFICIAL or not period_s:
        return ""
    return utc_text(ledger.clock() + timedelta(seconds=period_s))


class _Scope:
    """Which tasks a publication is about, and so which flights."""

    def __init__(self, results: Results, tasks: Iterable[int]) -> None:
        self.tasks = set(tasks)
        self.flights = {
            task["flight"]
            for task in results.get("tasks", ())
            if task["task"] in self.tasks
        }

    def holds(self, item: Mapping[str, Any]) -> bool:
        """Tell whether a task, finding or warning concerns the publication."""
        if not self.tasks:
            return True
        if item.get("task") is not None:
            return item["task"] in self.tasks
        return not item.get("flight") or item["flight"] in self.flights


def file_hashes(act: Published) -> dict[str, Sha256]:
    """Return the hashes of all published files by name."""
    return {
        "results.json": act.results,
        **{document.name: document.sha256 for document in act.documents},
    }
