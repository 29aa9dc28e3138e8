"""From entries to the state of the event: what holds, what clashes, who said so.

`replay` needs no files; `State.raw` fetches them when a `RawEvent` is wanted.  The same
set of entries gives the same state, in whatever order it is given.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePosixPath
from typing import Any, TypeVar

from scorer.event.model import Blob, Origin
from scorer.event.raw import RawEvent, RawFlight, RawLog, Row
from scorer.ledger.acts import (
    Act,
    ComplaintDecided,
    ComplaintFiled,
    DeclarationMade,
    EntryId,
    FlightSet,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    NoteMade,
    PilotSet,
    PlaceSet,
    Published,
    ReportMade,
    RowAct,
    RulingMade,
    SettingsSet,
    Sha256,
    TerrainSet,
    Undone,
    to_payload,
)
from scorer.ledger.entry import Entry
from scorer.ledger.faults import LedgerError
from scorer.ledger.lineage import Held, Lineage, Standing, named_by, sort_out
from scorer.ledger.weave import weave

Loader = Callable[[Sha256], bytes]
"""Fetches a file by its content address."""
A = TypeVar("A", bound=Act)

_KEPT_APART = (MarkKeyed, MarkSettled, DeclarationMade, ReportMade, NoteMade)
"""Where ends differ, all of them stand: scoring shows them as a disagreement."""
_TITLES: Mapping[type[Act], str] = {
    SettingsSet: "the event's settings",
    PilotSet: "pilot",
    PlaceSet: "place",
    FlightSet: "flight",
    RulingMade: "the ruling on",
    LogAssigned: "the pilot of log",
    TerrainSet: "the terrain",
    LogAdded: "log",
    MarkSettled: "the settled mark of",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Two desks set down different things without seeing each other."""

    what: str
    """What is in question, as a sentence for people, with the remedy."""
    entries: tuple[Entry, ...]
    """The entries that clash: one that replaces them all settles it."""
    fields: tuple[str, ...] = ()
    """Fields edited in different ways, where it is about fields."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Current:
    """One thing that holds, and the entries that say so."""

    act: Act
    entries: tuple[Entry, ...]
    """Usually one; several where equal or woven edits of desks were put together."""

    @property
    def entry(self) -> Entry:
        """The entry to show, and to replace when there is only one."""
        return self.entries[0]

    @property
    def ids(self) -> tuple[EntryId, ...]:
        """What an entry that replaces this must name."""
        return tuple(entry.hash for entry in self.entries)

    @property
    def origin(self) -> Origin:
        """Where the record stands, for messages of the engine."""
        labels = " + ".join(entry.label for entry in self.entries)
        source = getattr(self.act, "source", "")
        return Origin(where=f"entry {labels}" + (f" ({source})" if source else ""))


@dataclass(frozen=True, slots=True, kw_only=True)
class LogHeld:
    """A log, and whose an official says it is."""

    current: Current
    flight: str
    name: str
    sha256: Sha256
    size: int
    problem: str
    pilot: int | None
    assigned: Entry | None
    """The entry that assigned it, if any; replace it to change the pilot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Publication:
    """Results that went up, and whether they still stand."""

    entry: Entry
    act: Published
    withdrawn: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """A complaint and its answer, if it has one."""

    entry: Entry
    act: ComplaintFiled
    outcome: Entry | None
    decided: ComplaintDecided | None

    @property
    def is_open(self) -> bool:
        """Tell whether nobody has decided yet."""
        return self.decided is None


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """What all entries add up to."""

    standing: Standing
    current: tuple[Current, ...]
    """All that holds, in order of first setting down."""
    conflicts: tuple[Conflict, ...]
    forks: tuple[tuple[Entry, ...], ...]
    """Places where one desk's chain goes on twice (from two copies of a file)."""

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All entries in order."""
        return tuple(held.entry for held in self.standing.entries)

    @property
    def heads(self) -> tuple[EntryId, ...]:
        """The last entry of every chain, sorted."""
        before = {entry.prev for entry in self.entries}
        return tuple(sorted(e.hash for e in self.entries if e.hash not in before))

    def all_of(self, form: type[A]) -> tuple[tuple[Current, A], ...]:
        """Return all that holds of one kind of act, with the acts."""
        return tuple((c, c.act) for c in self.current if isinstance(c.act, form))

    def rows(
        self, form: type[RowAct], flight: str | None = None
    ) -> tuple[tuple[Current, Row], ...]:
        """Return the rows of one of a flight's tables, as the engine gets them."""
        return tuple(
            (current, Row(fields=act.fields, origin=current.origin))
            for current, act in self.all_of(form)
            if flight is None or act.flight == flight
        )

    def keyings(self, flight: str, task: str, pilot: str) -> tuple[Current, ...]:
        """Return what was keyed and settled for one pilot in one task."""
        return tuple(
            current
            for current, act in self.all_of(RowAct)
            if isinstance(act, MarkKeyed | MarkSettled)
            and act.flight == flight
            and act.fields.get("task", "").strip() == task
            and act.fields.get("pilot", "").strip() == pilot
        )

    @property
    def logs(self) -> tuple[LogHeld, ...]:
        """All logs with their assignments."""
        assigned = {
            _log_key(act): (current.entry, act)
            for current, act in self.all_of(LogAssigned)
        }
        return tuple(
            _log_held(current, act, assigned.get(_log_key(act)))
            for current, act in self.all_of(LogAdded)
        )

    @property
    def publications(self) -> tuple[Publication, ...]:
        """All publications, in order, withdrawn ones too."""
        standing = {
            entry.hash for c, _ in self.all_of(Published) for entry in c.entries
        }
        return tuple(
            Publication(
                entry=h.entry, act=h.act, withdrawn=h.entry.hash not in standing
            )
            for h in self.standing.entries
            if isinstance(h.act, Published)
        )

    @property
    def complaints(self) -> tuple[Complaint, ...]:
        """All complaints that were not withdrawn by mistake, with their answers."""
        answers = {
            act.complaint: (current.entry, act)
            for current, act in self.all_of(ComplaintDecided)
        }
        found = []
        for current, act in self.all_of(ComplaintFiled):
            outcome, decided = answers.get(current.entry.hash, (None, None))
            found.append(
                Complaint(
                    entry=current.entry, act=act, outcome=outcome, decided=decided
                )
            )
        return tuple(found)

    def find(self, name: str) -> Entry:
        """Find an entry by its label (`hall-3f9a #12`) or the start of its hash."""
        wanted = name.removeprefix("entry ").strip()
        found = [
            entry
            for entry in self.entries
            if wanted == entry.label
            or (len(wanted) >= 6 and entry.hash.startswith(wanted))
        ]
        if len(found) != 1:
            raise LedgerError(
                f"found {len(found)} entries named {name!r}; give desk and number "
                'as in "hall-3f9a #12", or more of the hash'
            )
        return found[0]

    def history(self, entry_id: EntryId) -> tuple[Entry, ...]:
        """Return all versions of the thing an entry is about, with undos, in order."""
        family = {entry_id}
        ordered = self.standing.entries
        for _ in range(2):  # back to the first version, then forward to the last
            for held in (*reversed(ordered), *ordered):
                names = set(named_by(held))
                if isinstance(held.act, Undone):
                    names.add(held.act.entry)
                if held.id in family:
                    family |= names
                elif names & family:
                    family.add(held.id)
        return tuple(held.entry for held in ordered if held.id in family)

    def raw(self, load: Loader) -> RawEvent:
        """Make the event as entered, with the files it needs."""
        settings = self.all_of(SettingsSet)
        terrain = self.all_of(TerrainSet)
        return RawEvent(
            settings=settings[0][1].settings if settings else {},
            pilots=tuple(
                Row(fields=act.fields, origin=current.origin)
                for current, act in self.all_of(PilotSet)
            ),
            places=tuple(act.feature for _, act in self.all_of(PlaceSet)),
            flights=tuple(
                self._raw_flight(current, act, load)
                for current, act in self.all_of(FlightSet)
            ),
            terrain=_blob(terrain[0][1].name, terrain[0][1].sha256, load)
            if terrain
            else None,
            origins=self._origins(),
        )

    def _raw_flight(self, current: Current, act: FlightSet, load: Loader) -> RawFlight:
        def rows(*forms: type[RowAct]) -> tuple[Row, ...]:
            return tuple(
                Row(fields=row.fields, origin=held.origin)
                for held, row in self.all_of(RowAct)
                if isinstance(row, forms) and row.flight == act.flight
            )

        return RawFlight(
            id=act.flight,
            settings=act.settings,
            marks=rows(MarkKeyed, MarkSettled),
            declarations=rows(DeclarationMade),
            reports=rows(ReportMade),
            rulings=rows(RulingMade),
            logs=self._raw_logs(act.flight, load),
            origins={"": current.origin},
        )

    def _raw_logs(self, flight: str, load: Loader) -> tuple[RawLog, ...]:
        taken: set[str] = set()
        logs = []
        for log in self.logs:
            if log.flight == flight:
                name = _free_name(log.name, log.sha256, taken)
                blob = _blob(name, log.sha256, load)
                logs.append(RawLog(blob=blob, pilot=log.pilot, problem=log.problem))
        return tuple(logs)

    def _origins(self) -> dict[str, Origin]:
        parts: tuple[tuple[str, type[Act]], ...] = (
            ("", SettingsSet),
            ("pilots", PilotSet),
            ("places", PlaceSet),
        )
        first = {name: self.all_of(form)[:1] for name, form in parts}
        return {name: held[0][0].origin for name, held in first.items() if held}


def replay(entries: Iterable[Entry]) -> State:
    """Work out the state that entries add up to."""
    standing = sort_out(entries)
    current: list[Current] = []
    conflicts: list[Conflict] = []
    for lineage in standing.lineages:
        found, clash = _resolve(lineage)
        current.extend(found)
        conflicts.extend(clash)
    current, doubles = _one_per_key(current)
    return State(
        standing=standing,
        current=tuple(current),
        conflicts=(*conflicts, *doubles, *_orphans(current)),
        forks=_forks(standing),
    )


def _resolve(lineage: Lineage) -> tuple[list[Current], list[Conflict]]:
    """Return what holds of one thing, and the clash about it if there is one."""
    ends = _distinct(lineage.ends)
    if lineage.settled or (len(ends) == 1 and not lineage.withdrawals):
        entries = tuple(end.entry for end in lineage.ends)
        return ([Current(act=ends[0].act, entries=entries)] if ends else []), []
    clashing = tuple(item.entry for item in (*lineage.ends, *lineage.withdrawals))
    if lineage.withdrawals:
        what = f"{_title(ends[0].act)}: withdrawn at one desk, changed at another"
        held = [Current(act=end.act, entries=(end.entry,)) for end in ends]
        return held, [_conflict(what, clashing)]
    if isinstance(ends[0].act, _KEPT_APART):
        what = f"{_title(ends[0].act)}: corrected in different ways"
        held = [Current(act=end.act, entries=(end.entry,)) for end in ends]
        return held, [_conflict(what, clashing)]
    return _woven(lineage, ends, clashing)


def _woven(
    lineage: Lineage, ends: Sequence[Held], clashing: tuple[Entry, ...]
) -> tuple[list[Current], list[Conflict]]:
    base = lineage.base or lineage.versions[0]
    name = _content_field(base.act)
    if name is None or any(type(end.act) is not type(base.act) for end in ends):
        what = f"{_title(base.act)}: changed in different ways"
        held = Current(act=base.act, entries=clashing)
        return [held], [_conflict(what, clashing)]
    value, clashes = weave(
        getattr(base.act, name), [getattr(end.act, name) for end in ends]
    )
    act = replace(base.act, **{name: value})
    held = Current(act=act, entries=clashing)
    if not clashes:
        return [held], []
    what = f"{_title(base.act)}: changed in different ways ({', '.join(clashes)})"
    return [held], [_conflict(what, clashing, clashes)]


def _one_per_key(
    current: Sequence[Current],
) -> tuple[list[Current], list[Conflict]]:
    """Let one thing hold per pilot number, place name and so on; list the doubles."""
    by_key: dict[tuple[object, ...], list[Current]] = defaultdict(list)
    for item in current:
        by_key[_key(item)].append(item)
    kept: list[Current] = []
    conflicts = []
    for items in by_key.values():
        entries = tuple(entry for item in items for entry in item.entries)
        if len({_content(item.act) for item in items}) == 1:
            kept.append(Current(act=items[0].act, entries=entries))
            continue
        title = _title(items[0].act)
        conflicts.append(_conflict(f"{title}: set down {len(items)} times", entries))
        if isinstance(items[0].act, MarkSettled):
            kept.extend(items)
        elif not isinstance(items[0].act, RulingMade | LogAssigned):
            kept.append(items[0])
    order = {id(item): place for place, item in enumerate(current)}
    place_of = {item.entries[0].hash: order[id(item)] for item in current}
    kept.sort(key=lambda item: place_of[item.entries[0].hash])
    return kept, conflicts


def _key(item: Current) -> tuple[object, ...]:
    """Return what there may be only one of; else something unique."""
    match item.act:
        case SettingsSet() | TerrainSet() as act:
            return (type(act),)
        case PilotSet() as act:
            return (type(act), _number(act.fields.get("number", "")))
        case PlaceSet() as act:
            return (type(act), str((act.feature.get("properties") or {}).get("name")))
        case FlightSet() as act:
            return (type(act), act.flight)
        case LogAdded() | LogAssigned() as act:
            return (type(act), *_log_key(act))
        case MarkSettled() as act:
            return (type(act), act.flight, *_cells(act, "task", "pilot", "mark"))
        case RulingMade() as act if act.fields.get("finding", "").strip():
            return (type(act), act.flight, *_cells(act, "task", "pilot", "finding"))
    return (item.entries[0].hash,)


def _cells(act: RowAct, *names: str) -> tuple[str, ...]:
    return tuple(_number(act.fields.get(name, "")) for name in names)


def _number(text: str) -> str:
    """Make `007` and `7` one number."""
    text = text.strip()
    return str(int(text)) if text.isascii() and text.isdigit() else text


def _content(act: Act) -> str:
    """Return what an act sets down, without where it came from."""
    if hasattr(act, "source"):
        act = replace(act, source="")  # type: ignore[call-arg]
    if isinstance(act, PilotSet | RowAct):
        given = {name: text for name, text in act.fields.items() if text.strip()}
        act = replace(act, fields=dict(sorted(given.items())))
    if isinstance(act, MarkSettled):
        act = replace(act, keyings=())
    return to_payload(act)


def _distinct(held: Sequence[Held]) -> list[Held]:
    by_content: dict[str, Held] = {}
    for item in held:
        by_content.setdefault(_content(item.act), item)
    return list(by_content.values())


def _content_field(act: Act) -> str | None:
    for name in ("settings", "fields", "feature"):
        if hasattr(act, name):
            return name
    return None


def _conflict(
    what: str, entries: tuple[Entry, ...], fields: tuple[str, ...] = ()
) -> Conflict:
    who = ", ".join(f"{entry.label} by {entry.who}" for entry in entries)
    text = f"{what} (entries {who}). Decide which holds and enter it once more."
    return Conflict(what=text, entries=entries, fields=fields)


def _title(act: Act) -> str:
    title = _TITLES.get(type(act), str(act.kind))
    match act:
        case PilotSet():
            return f"{title} {act.fields.get('number', '')}"
        case PlaceSet():
            return f"{title} {(act.feature.get('properties') or {}).get('name')}"
        case FlightSet():
            return f"{title} {act.flight}"
        case LogAssigned():
            return f"{title} {act.name}"
        case RulingMade():
            cells = act.fields
            about = cells.get("finding") or "a penalty"
            return (
                f"{title} {about} (pilot {cells.get('pilot')}, task "
                f"{cells.get('task')})"
            )
        case RowAct():
            cells = act.fields
            return f"{title} pilot {cells.get('pilot')} in task {cells.get('task')}"
    return title


def _log_held(
    current: Current, act: LogAdded, assigned: tuple[Entry, LogAssigned] | None
) -> LogHeld:
    return LogHeld(
        current=current,
        flight=act.flight,
        name=act.name,
        sha256=act.sha256,
        size=act.size,
        problem=act.problem,
        pilot=assigned[1].pilot if assigned else act.pilot,
        assigned=assigned[0] if assigned else None,
    )


def _orphans(current: Sequence[Current]) -> list[Conflict]:
    """List what belongs to a flight that is not there, so that it is not lost."""
    flights = {c.act.flight for c in current if isinstance(c.act, FlightSet)}
    lost: dict[str, list[Entry]] = defaultdict(list)
    for item in current:
        flight = getattr(item.act, "flight", None)
        if flight is not None and flight not in flights:
            lost[flight].extend(item.entries)
    return [
        Conflict(
            what=f"{len(entries)} entries belong to flight {flight!r}, which is not "
            "set down or was withdrawn. Undo the withdrawal, or withdraw them too.",
            entries=tuple(entries),
        )
        for flight, entries in sorted(lost.items())
    ]


def _forks(standing: Standing) -> tuple[tuple[Entry, ...], ...]:
    after: dict[tuple[str, EntryId], list[Entry]] = defaultdict(list)
    for held in standing.entries:
        after[(held.entry.desk, held.entry.prev)].append(held.entry)
    return tuple(tuple(entries) for entries in after.values() if len(entries) > 1)


def _log_key(act: LogAdded | LogAssigned) -> tuple[str, str, str]:
    return (act.flight, act.name.casefold(), act.sha256)


def _free_name(name: str, sha256: str, taken: set[str]) -> str:
    """Keep names of logs apart, as they must be in one folder."""
    if name.casefold() in taken:
        path = PurePosixPath(name)
        name = str(path.with_name(f"{path.stem}~{sha256[:8]}{path.suffix}"))
    taken.add(name.casefold())
    return name


def _blob(name: str, sha256: Sha256, load: Loader) -> Blob:
    return Blob(name=name, sha256=sha256, data=load(sha256))


def content_of(current: Current) -> Mapping[str, Any]:
    """Return the fields, settings or feature of what holds, for an edit form."""
    name = _content_field(current.act)
    return getattr(current.act, name) if name else {}
