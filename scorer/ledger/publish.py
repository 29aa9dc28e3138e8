"""Put results up: provisional, official, final; what must be done before each.

Provisional results may have open ends, and say so.  Official results have none, and
start the complaint period of the rule book.  Final results are the official ones,
unchanged, once that period is over, every complaint and protest is answered and the
protest period after each answer is over too.
"""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cache, cached_property, partial
from typing import TYPE_CHECKING, Any

from scorer.event.matter import Blocks, Matter
from scorer.event.matters import RULES
from scorer.event.model import Event
from scorer.event.rulebook import COMPLAINT_TIME
from scorer.facts import (
    Fact,
    count,
    fact,
    inner,
    moment,
    number,
    parts,
    rule,
    several,
    words,
)
from scorer.facts import task as task_value
from scorer.ledger.acts import (
    Document,
    EntryId,
    EntryKind,
    MatterAccepted,
    Published,
    RowAct,
    Sha256,
    Stage,
)
from scorer.ledger.air import air_file
from scorer.ledger.cells import whole_number
from scorer.ledger.changes import (
    Change,
    changes,
    check_readable,
    number_changes,
    told_of,
)
from scorer.ledger.clocks import desk_off, must_confirm
from scorer.ledger.entry import Draft, Entry, ancestors, sha256_of, utc_text
from scorer.ledger.faults import RefusedError
from scorer.ledger.files import Content, Filed, HeldFile, address_of
from scorer.ledger.ledger import Ledger
from scorer.ledger.matters import matters
from scorer.ledger.numbers import numbers_since, under_new, with_other_numbers
from scorer.ledger.replay import Publication, State
from scorer.ledger.sound import sound
from scorer.ledger.up import Put, covers, put_of, same_numbers, standing, tree_up
from scorer.version import computed_by
from scorer.words.voice import Voice

if TYPE_CHECKING:
    from scorer.scoring.results import Results

Read = Callable[[Sha256], dict[str, Any]]
"""Reads published results by their content address."""
SILENT = frozenset(
    {
        EntryKind.NOTE,
        EntryKind.COMPLAINT,
        EntryKind.OUTCOME,
        EntryKind.PUBLICATION,
        EntryKind.SHEET,
    }
)
"""Kinds of entries that no result depends on."""


@dataclass(frozen=True, kw_only=True)
class Computed:
    """Results, and the state they were computed from."""

    state: State
    event: Event
    results: "Results"
    document: bytes
    """results.json, byte for byte."""
    documents: Mapping[str, Filed] | None = None
    """Sheets and pages that go up with it, by file name."""
    program: str = field(default_factory=computed_by)
    """Which version computed them, and with which libraries."""

    @property
    def voice(self) -> Voice:
        """How the event speaks."""
        return self.results.voice

    @cached_property
    def tree(self) -> Mapping[str, Any]:
        """results.json as a tree, to compare with one that was published."""
        tree: Mapping[str, Any] = json.loads(self.document)
        return tree


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """One thing that keeps results from being published as wished."""

    says: Fact
    """What is so, with what to do."""
    matter: Matter | None = None
    """The open matter behind it, if it is one."""


def open_matters(
    computed: Computed,
    tasks: Iterable[int] = (),
    *,
    state: State | None = None,
    now: datetime | None = None,
    complaint_s: float | None = None,
) -> tuple[Matter, ...]:
    """Return all that is open or doubtful about some tasks (none = all), accepted or not.

    `state` is that of the ledger now; by default the one that was scored.  `complaint_s`
    answers for one publication how long pilots may complain.
    """
    scope = _Scope(computed.results, tasks)
    found = matters(computed.event, computed.results, state or computed.state, now)
    return tuple(
        matter
        for matter in found
        if scope.holds(matter.task, matter.flight)
        and not (complaint_s is not None and _asks(matter, COMPLAINT_TIME))
    )


def _asks(matter: Matter, key: str) -> bool:
    """Tell whether a matter waits for an answer to this rule."""
    asked = (value for said in parts(matter.says) for _, value in said.values)
    return matter.kind is RULES and rule(key) in asked


def publications_of(state: State, tasks: Iterable[int]) -> tuple[Publication, ...]:
    """Return the standing publications that these tasks are part of, oldest first.

    No tasks = the whole event with its standings.
    """
    wanted = tuple(tasks)
    return tuple(
        publication
        for publication in state.publications
        if covers(publication.act, wanted) and not publication.withdrawn
    )


def next_version(state: State) -> int:
    """Return the version that results put up now would have: one line for the event."""
    return 1 + max((p.act.version for p in state.publications), default=0)


def read_once(ledger: Ledger) -> Read:
    """Return what reads published results, each file at most once."""
    return cache(partial(_results, ledger))


def what_is_up(state: State, read: Read) -> tuple[Put, ...]:
    """Return the standing publications, oldest first; their results are read when asked.

    A pilot whose number changed since has the new one in them: that takes nothing back.
    """
    up, numbers = state.publications, _numbers_since(state)
    return tuple(_put(own, read, numbers) for own in up if not own.withdrawn)


def _put(
    publication: Publication,
    read: Read,
    numbers: Callable[[Publication], dict[int, int]],
) -> Put:
    return put_of(
        publication,
        lambda: under_new(read(publication.act.results), numbers(publication)),
    )


AT_ANY_STAGE = frozenset({"refused-no-task", "refused-final-up", "refused-final-task"})
"""What keeps results from going up as provisional, too."""


def refusals(
    ledger: Ledger,
    computed: Computed,
    stage: Stage,
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
    clock_confirmed_by: str = "",
) -> tuple[Refusal, ...]:
    """Return why this cannot be published now, each with what to do; empty = it can."""
    state, wanted = ledger.state(), tuple(sorted(set(tasks)))
    known = {task.task for task in computed.results.tasks}
    missing = [task_value(number) for number in wanted if number not in known]
    reasons = []
    if missing:
        reasons.append(fact("refused-no-task", tasks=several(missing)))
    earlier = publications_of(state, wanted)
    if not why.strip():
        reasons += _final_up(ledger, computed, earlier, wanted)
    if stage is Stage.PROVISIONAL:
        return tuple(Refusal(says=says) for says in reasons)
    reasons += _not_flown(computed, wanted)
    off = desk_off(ledger)
    if off is not None and must_confirm(off) and not clock_confirmed_by.strip():
        reasons.append(fact("refused-clock", clock=inner(off.says)))
    reasons += _stale(state, computed, wanted)
    if stage is Stage.FINAL:
        reasons += _final_refusals(ledger, computed, earlier, wanted)
    asked = {Blocks.OFFICIAL} if stage is Stage.OFFICIAL else _FINAL
    held = sound(state).state
    found = open_matters(
        computed, wanted, state=held, now=ledger.clock(), complaint_s=complaint_s
    )
    waiting = [m for m in found if m.blocks in asked]
    return (
        *(Refusal(says=says) for says in reasons),
        *(Refusal(says=matter.placed, matter=matter) for matter in waiting),
    )


def _final_up(
    ledger: Ledger,
    computed: Computed,
    earlier: Sequence[Publication],
    tasks: tuple[int, ...],
) -> list[Fact]:
    """Refuse to open final results again without a word.

    A publication of the whole event opens a final task where its numbers changed; else
    the task stays as it is.
    """
    if earlier and earlier[-1].act.stage is Stage.FINAL:
        return [fact("refused-final-up")]
    state = ledger.state()
    if all(p.withdrawn or p.act.stage is not Stage.FINAL for p in state.publications):
        return []
    held = standing(what_is_up(state, read_once(ledger)))
    opened = [
        task_value(task)
        for task, put in sorted(held.items())
        if put.stage is Stage.FINAL
        and (task in tasks or not tasks)
        and (tasks or not same_numbers(put.tree, computed.tree, task))
    ]
    return [fact("refused-final-task", tasks=several(opened))] if opened else []


def _not_flown(computed: Computed, tasks: tuple[int, ...]) -> list[Fact]:
    """Refuse tasks that are not flown yet, and an event without any flown task."""
    results = computed.results.tasks
    planned = [t.task for t in results if t.task in tasks and t.state == "planned"]
    if planned:
        return [fact("refused-planned", tasks=several(map(task_value, planned)))]
    if not tasks and not any(t.state == "flown" for t in results):
        return [fact("refused-nothing-flown")]
    return []


_FINAL = frozenset({Blocks.OFFICIAL, Blocks.FINAL})


def publish(
    ledger: Ledger,
    computed: Computed,
    stage: Stage,
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
    at: datetime | None = None,
    clock_confirmed_by: str = "",
    version: int | None = None,
) -> Entry:
    """Publish results, or raise RefusedError with every reason why not.

    `version` is what its sheets say: nothing goes up where another one came first.
    `at` is the moment that its sheets say and its periods count from; None = now.

    `tasks` empty publishes the whole event with its standings.  `complaint_s` stands in
    for the rule book's complaint period where that sets none, and overrides it.
    """
    wanted = tuple(sorted(set(tasks)))
    state = ledger.state()
    number_up = next_version(state) if version is None else version

    def refuse() -> None:
        reasons = refusals(
            ledger,
            computed,
            stage,
            tasks=wanted,
            complaint_s=complaint_s,
            why=why,
            clock_confirmed_by=clock_confirmed_by,
        )
        if number_up != next_version(ledger.state()):
            overtaken = fact("refused-overtaken", version=number(number_up))
            reasons = (*reasons, Refusal(says=overtaken))
        if reasons:
            raise refused(computed, stage, reasons)

    def refuse_news() -> None:
        """Look once more when nobody else can write: another desk may have been first."""
        if ledger.state() is not state:
            refuse()

    refuse()
    files: dict[Sha256, Content] = {sha256_of(computed.document): computed.document}
    documents = []
    for name, data in sorted((computed.documents or {}).items()):
        sha256 = address_of(data)
        if not isinstance(data, HeldFile):
            files[sha256] = data
        documents.append(Document(name=name, sha256=sha256))
    air = air_file(computed.results)
    if air:
        files[sha256_of(air)] = air
    moment_up = at or whole_second(ledger.clock())
    act = Published(
        stage=stage,
        version=number_up,
        tasks=wanted,
        results=sha256_of(computed.document),
        documents=tuple(documents),
        heads=computed.state.heads,
        complaints_until=complaints_until(computed, stage, complaint_s, moment_up),
        program=computed.program,
        flags=_flags(computed, wanted, complaint_s),
        at=utc_text(moment_up),
        clock_confirmed_by=clock_confirmed_by.strip(),
        air=(sha256_of(air),) if air else (),
    )
    draft = Draft(act=act, why=why, files=files)
    return ledger.record_all([draft], first=refuse_news)[0]


def refused(
    computed: Computed, stage: Stage, reasons: Iterable[Refusal]
) -> RefusedError:
    """Return the error that says why a publication is refused, reason by reason."""
    voice = computed.voice
    title = voice.say(fact("refused-yet", stage=words(stage)))
    return RefusedError(title, tuple(voice.sentence(one.says) for one in reasons))


def changes_since_last(
    ledger: Ledger,
    computed: Computed,
    *,
    tasks: Iterable[int] = (),
    read: Read | None = None,
) -> tuple[Change, ...]:
    """Return what publishing now would change, against the last version up.

    `read` reads published results: one for many calls reads each once.
    """
    state, read = ledger.state(), read or read_once(ledger)
    up = [p for p in state.publications if not p.withdrawn]
    last, wanted = _compared(up, tasks)
    if last is None:
        return ()
    between = _between(computed.state, last.act.heads)
    found = changes(
        tree_up(what_is_up(state, read), wanted),
        computed.tree,
        tasks=wanted,
        entries=between,
    )
    known = {row["pilot"] for row in read(last.act.results).get("standings", ())}
    numbers = _numbers_since(state)(last)
    return (*number_changes(numbers, between, known), *found)


def changes_of(
    ledger: Ledger, publication: Publication, *, read: Read | None = None
) -> tuple[Change, ...]:
    """Return what a publication changed, against the version before it.

    `read` as in `changes_since_last`.
    """
    state, read = ledger.state(), read or read_once(ledger)
    place = state.publications.index(publication)
    until = state.publications[:place]
    last, wanted = _compared(until, publication.act.tasks)
    if last is None:
        return ()
    seen = ancestors(state.entries, publication.act.heads)
    between = [e for e in _between(state, last.act.heads) if e.hash in seen]
    numbers = _numbers_since(state)
    *puts, put = (_put(own, read, numbers) for own in (*until, publication))
    found = changes(tree_up(puts, wanted), put.tree, tasks=wanted, entries=between)
    known = {row["pilot"] for row in read(last.act.results).get("standings", ())}
    return (*number_changes(numbers(last), between, known), *found)


def _numbers_since(state: State) -> Callable[[Publication], dict[int, int]]:
    """Return what tells which numbers changed since a publication."""
    changed = with_other_numbers(state.standing.lineages)
    return lambda own: numbers_since(changed, state.entries, own.act.heads)


def _compared(
    up: Sequence[Publication], tasks: Iterable[int]
) -> tuple[Publication | None, tuple[int, ...]]:
    """Return the publication that one of these tasks follows, and what both have.

    The first of the whole event is held against the tasks that are up by themselves.
    """
    wanted = tuple(tasks)
    own = [p for p in up if covers(p.act, wanted)]
    if own or wanted or not up:
        return (own[-1] if own else None), wanted
    return up[-1], tuple(sorted({n for p in up for n in p.act.tasks}))


def _results(ledger: Ledger, sha256: Sha256) -> dict[str, Any]:
    """Return published results; nothing where the file is none, whoever put it up."""
    try:
        tree = json.loads(ledger.file(sha256))
        check_readable(tree)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return {}
    return dict(tree)


def complaint_end(publication: Publication) -> datetime | None:
    """Return when a publication's complaint period ends; None = none runs."""
    text = publication.act.complaints_until
    return datetime.fromisoformat(text) if text else None


def _flags(
    computed: Computed, tasks: tuple[int, ...], complaint_s: float | None
) -> tuple[str, ...]:
    """Say what is open as results go up, and what was accepted as it stands."""
    return tuple(
        computed.voice.sentence(matter.placed)
        for matter in open_matters(computed, tasks, complaint_s=complaint_s)
        if matter.holds_up or matter.accepted
    )


def _final_refusals(
    ledger: Ledger,
    computed: Computed,
    earlier: Sequence[Publication],
    tasks: tuple[int, ...],
) -> list[Fact]:
    official = [p for p in earlier if p.act.stage is not Stage.PROVISIONAL]
    if not official or _opened_again(earlier, official[-1], tasks):
        return [fact("refused-no-official")]
    reasons = []
    end = complaint_end(official[-1])
    if end is not None and ledger.clock() < end:
        until = moment(end.timestamp())
        reasons.append(fact("refused-complaint-time", until=until))
    numbers = _numbers_since(ledger.state())(official[-1])
    before = under_new(_results(ledger, official[-1].act.results), numbers)
    changed = [c for c in changes(before, computed.tree, tasks=tasks) if c.values]
    if changed:
        reasons.append(
            fact(
                "refused-changed",
                scores=count(len(changed)),
                version=number(official[-1].act.version),
                first=inner(changed[0].says),
            )
        )
    return reasons


def _opened_again(
    earlier: Sequence[Publication], official: Publication, tasks: tuple[int, ...]
) -> bool:
    """Tell whether just these went up as provisional after they were official."""
    later = earlier[earlier.index(official) + 1 :]
    return any(p.act.tasks == tasks for p in later)


def _stale(state: State, computed: Computed, tasks: Iterable[int]) -> list[Fact]:
    """Refuse results that do not know of something entered since about these tasks."""
    known = {entry.hash for entry in computed.state.entries}
    scope = _Scope(computed.results, tasks)
    fresh = [
        entry
        for entry in state.entries
        if entry.hash not in known
        and entry.kind not in SILENT
        and scope.holds(*_whereabouts(entry))
    ]
    if not fresh:
        return []
    first = inner(told_of(fresh[0]))
    return [fact("refused-stale", entries=count(len(fresh)), first=first)]


def _whereabouts(entry: Entry) -> tuple[int | None, str]:
    """Return the task and flight an entry is about, as far as it says."""
    act = entry.act
    cells = act.fields if isinstance(act, RowAct | MatterAccepted) else {}
    flight = getattr(act, "flight", cells.get("flight", ""))
    return whole_number(cells.get("task", "")), flight


def _between(state: State, heads: Iterable[EntryId]) -> list[Entry]:
    seen = ancestors(state.entries, heads)
    return [e for e in state.entries if e.hash not in seen and e.kind not in SILENT]


def entries_since(state: State, publication: Publication) -> list[Entry]:
    """Return the entries since a publication that results may depend on."""
    return _between(state, publication.act.heads)


def _period(computed: Computed, complaint_s: float | None) -> float | None:
    book = computed.event.book.publication
    return book.complaint_s if complaint_s is None else complaint_s


def whole_second(moment_: datetime) -> datetime:
    """Return a moment as papers print it."""
    return moment_.replace(microsecond=0)


def complaints_until(
    computed: Computed, stage: Stage, complaint_s: float | None, at: datetime
) -> str:
    """Return when the complaint period of results put up then ends; empty = none runs."""
    period_s = _period(computed, complaint_s)
    if stage is not Stage.OFFICIAL or not period_s:
        return ""
    return utc_text(at + timedelta(seconds=period_s))


class _Scope:
    """Which tasks a publication is about, and so which flights."""

    def __init__(self, results: "Results", tasks: Iterable[int]) -> None:
        self.tasks = set(tasks)
        self.flights = {t.flight for t in results.tasks if t.task in self.tasks}

    def holds(self, task: int | None, flight: str) -> bool:
        """Tell whether what is about a task or flight concerns the publication."""
        if not self.tasks:
            return True
        if task is not None:
            return task in self.tasks
        return not flight or flight in self.flights


def file_hashes(act: Published) -> dict[str, Sha256]:
    """Return the hashes of all published files by name."""
    return {
        "results.json": act.results,
        **{document.name: document.sha256 for document in act.documents},
    }
