"""From entries to the state of the event: what holds, what clashes, who said so.

`replay` needs no files; `State.raw` fetches them when a `RawEvent` is wanted.  The same
set of entries gives the same state, in whatever order it is given.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain
from pathlib import PurePosixPath
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from scorer.event.entries import between, entry_text
from scorer.event.matter import Matter
from scorer.event.model import Blob, Origin, Packed, SetAside
from scorer.event.moments import zone_of
from scorer.event.raw import RawEvent, RawFlight, RawLog, RawRow
from scorer.ledger.acts import (
    Act,
    AirRenewed,
    AirSet,
    ComplaintDecided,
    ComplaintFiled,
    DeclarationMade,
    EntryId,
    FlightSet,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    MatterAccepted,
    NoteMade,
    PilotSet,
    PlaceSet,
    Published,
    ReportMade,
    RowAct,
    RulingMade,
    SettingsSet,
    Sha256,
    TargetLogged,
    TerrainSet,
    Undone,
    kinds_of,
)
from scorer.ledger.air import air_down
from scorer.ledger.aside import ReadEntry, Stored
from scorer.ledger.cells import plain_number
from scorer.ledger.chains import Chains, SetBack
from scorer.ledger.disputes import Complaint, answered, local, note_row
from scorer.ledger.doubts import of_entries
from scorer.ledger.entry import Draft, Entry, heads_of
from scorer.ledger.faults import DamagedError, LedgerError, MissingBlobError
from scorer.ledger.holding import Held, resolve
from scorer.ledger.kept import Rules, Up, kept_rules, of_kept, with_kept
from scorer.ledger.lineage import SortedEntries, named_by, sort_out
from scorer.ledger.moved import of_moves
from scorer.ledger.numbers import of_numbers
from scorer.ledger.resolve import Conflict, Current, entered_by, log_key

Loader = Callable[[Sha256], bytes | Packed]
"""Fetches a file by its content address, held against it."""
A = TypeVar("A", bound=Act)


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

    @property
    def origin(self) -> Origin:
        """Where it is said whose it is."""
        if self.assigned is None:
            return self.current.origin
        return Current(act=self.assigned.act, entries=(self.assigned,)).origin

    def given_to(self, pilot: int | None, why: str) -> Draft:
        """Say whose it is; None takes back what was said."""
        act = LogAssigned(
            flight=self.flight, name=self.name, sha256=self.sha256, pilot=pilot
        )
        replaced = () if self.assigned is None else (self.assigned.hash,)
        return Draft(act=act, why=why, replaces=replaced)


@dataclass(frozen=True, slots=True, kw_only=True)
class Publication:
    """Results that went up, and whether they still stand."""

    entry: Entry
    act: Published
    withdrawn: bool


@dataclass(frozen=True, kw_only=True)
class State:
    """What all entries add up to."""

    standing: SortedEntries
    current: tuple[Current, ...]
    """All that holds, in order of first setting down."""
    conflicts: tuple[Conflict, ...]
    forks: tuple[tuple[Entry, ...], ...]
    """Places where one desk's chain goes on twice (from two copies of a file)."""
    backs: tuple[SetBack, ...]
    """Entries before which a desk's clock was set back."""

    @property
    def by_id(self) -> Mapping[EntryId, ReadEntry]:
        """Every entry."""
        return self.standing.by_id

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        """All entries in order."""
        return tuple(held.entry for held in self.standing.entries)

    @cached_property
    def heads(self) -> tuple[EntryId, ...]:
        """The last entry of every chain, sorted."""
        return heads_of(self.entries)

    @property
    def imperial(self) -> bool:
        """Tell whether a bare number counts feet at this event."""
        event = self.settings.get("event")
        return isinstance(event, dict) and event.get("units") == "imperial"

    @property
    def set_aside(self) -> tuple[SetAside, ...]:
        """Entries that cannot be applied and nobody has withdrawn."""
        return self.standing.set_aside

    @cached_property
    def matters(self) -> tuple[Matter, ...]:
        """What the entries by themselves leave open."""
        found = of_entries(self.conflicts, self.set_aside, self.forks, self.backs)
        numbers = of_numbers(self.standing.lineages, self.by_id)
        moves = of_moves(self.standing.lineages, self.current)
        return (*found, *numbers, *moves, *of_kept(self.kept, self.settings))

    @cached_property
    def kept(self) -> Mapping[int, Rules]:
        """The rules that official tasks keep, and that the event has changed since."""
        return kept_rules(self.standing, self.current, self._up())

    def _up(self) -> list[Up]:
        """Return the publications that stand, in order."""
        return [(p.entry, p.act) for p in self.publications if not p.withdrawn]

    @property
    def settings(self) -> Mapping[str, Any]:
        """The event's settings, as parsed from event.toml."""
        held = self.all_of(SettingsSet)
        return held[0][1].settings if held else {}

    def all_of(self, form: type[A]) -> tuple[tuple[Current, A], ...]:
        """Return all that holds of one kind of act, with the acts."""
        kinds = kinds_of(form)
        if len(kinds) == 1:
            found = self._by_kind.get(next(iter(kinds)), [])
        else:
            found = [c for c in self.current if c.kind in kinds]
        return tuple((c, c.act) for c in found if isinstance(c.act, form))

    @cached_property
    def _by_kind(self) -> Mapping[str, list[Current]]:
        found: dict[str, list[Current]] = defaultdict(list)
        for current in self.current:
            found[current.kind].append(current)
        return found

    @cached_property
    def _rows_of(self) -> Mapping[str, list[tuple[Current, RowAct]]]:
        """All lines of tables by flight."""
        found: dict[str, list[tuple[Current, RowAct]]] = defaultdict(list)
        for current, act in self.all_of(RowAct):
            found[act.flight].append((current, act))
        return found

    def rows(
        self, form: type[RowAct], flight: str | None = None
    ) -> tuple[tuple[Current, RawRow], ...]:
        """Return the rows of one of a flight's tables, as the engine gets them."""
        return tuple(
            (current, RawRow(fields=act.fields, origin=current.origin))
            for current, act in self.all_of(form)
            if flight is None or act.flight == flight
        )

    def keyings(self, flight: str, task: str, pilot: str) -> tuple[Current, ...]:
        """Return what was keyed and settled for one pilot in one task."""
        return tuple(
            current
            for current, act in self._rows_of.get(flight, ())
            if isinstance(act, MarkKeyed | MarkSettled)
            and act.fields.get("task", "").strip() == task
            and act.fields.get("pilot", "").strip() == pilot
        )

    @cached_property
    def logs(self) -> tuple[LogHeld, ...]:
        """All logs with their assignments."""
        assigned = {
            log_key(act): (current.entry, act)
            for current, act in self.all_of(LogAssigned)
        }
        return tuple(
            _log_held(current, act, assigned.get(log_key(act)))
            for current, act in self.all_of(LogAdded)
        )

    @cached_property
    def publications(self) -> tuple[Publication, ...]:
        """All publications, in order, withdrawn ones too."""
        standing = {
            entry.hash for c, _ in self.all_of(Published) for entry in c.entries
        }
        return tuple(
            Publication(
                entry=h.entry, act=h.act, withdrawn=h.entry.hash not in standing
            )
            for h in self.standing.all_of(Published)
            if isinstance(h.act, Published)
        )

    @property
    def complaints(self) -> tuple[Complaint, ...]:
        """All complaints that were not withdrawn by mistake, with their answers."""
        answers = {
            filed.hash: (current.entry, act)
            for current, act in self.all_of(ComplaintDecided)
            if (filed := self._first(act.complaint)) is not None
        }
        held = [(c.entry, act) for c, act in self.all_of(ComplaintFiled)]
        return answered(held, answers, self._first, self.zone)

    def answers(self, complaint: Complaint) -> tuple[EntryId, ...]:
        """Return the answers to a complaint, those too that clash and so count for none."""

        def of_it(act: Act) -> bool:
            named = act.complaint if isinstance(act, ComplaintDecided) else EntryId("")
            return bool(named) and self._first(named) == complaint.filed

        held = (c.ids for c, act in self.all_of(ComplaintDecided) if of_it(act))
        clashing = (
            tuple(entry.hash for entry in conflict.entries)
            for conflict in self.conflicts
            if any(of_it(entry.act) for entry in conflict.entries)
        )
        return tuple(dict.fromkeys(chain(*held, *clashing)))

    def _first(self, name: EntryId) -> Entry | None:
        """Return the first version of what an entry holds; None where it is not here."""
        item = self.by_id.get(name)
        while item is not None and (earlier := item.entry.replaces):
            item = self.by_id.get(earlier[0])
        return None if item is None else item.entry

    @property
    def note_rows(self) -> tuple[RawRow, ...]:
        """All notes, as lines of notes.csv."""
        made = self.all_of(NoteMade)
        return tuple(note_row(c.entry, act, c.origin, self.zone) for c, act in made)

    @property
    def acceptance_rows(self) -> tuple[RawRow, ...]:
        """All acceptances of open matters, as lines of accepted.csv."""
        return tuple(
            RawRow(fields=self._signed(current, act), origin=current.origin)
            for current, act in self.all_of(MatterAccepted)
        )

    def _signed(self, current: Current, act: MatterAccepted) -> Mapping[str, str]:
        """Return the cells of an acceptance; its entry says who and when if they do not."""
        if act.source:
            return act.fields
        signed = {"by": current.entry.who, "at": local(current.entry, self.zone)}
        return {
            **act.fields,
            **{k: v for k, v in signed.items() if not act.fields.get(k)},
        }

    @property
    def zone(self) -> ZoneInfo:
        """The event's time zone; UTC while none is set down."""
        return zone_of(self.settings)

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
                if held.is_a(Undone) and isinstance(held.act, Undone):
                    names.add(held.act.entry)
                if held.id in family:
                    family |= names
                elif names & family:
                    family.add(held.id)
        return tuple(held.entry for held in ordered if held.id in family)

    @property
    def log_files(self) -> tuple[Sha256, ...]:
        """The content addresses of all logs."""
        return tuple(log.sha256 for log in self.logs)

    def raw(self, load: Loader) -> RawEvent:
        """Make the event as entered, with the files it needs.

        Without complaints and notes, which no score may depend on.
        """
        terrain = self.all_of(TerrainSet)
        renewed = {act.flight: c.entry for c, act in self.all_of(AirRenewed)}
        came = ((c.entry, act) for c, act in self.all_of(AirSet))
        airs = air_down(
            (*self._up(), *came), renewed, lambda own: _blob("", own, load).data
        )
        return replace(
            self.roster(),
            places=tuple(act.feature for _, act in self.all_of(PlaceSet)),
            flights=tuple(
                replace(self._raw_flight(current, act, load), air=airs.get(act.flight))
                for current, act in self.all_of(FlightSet)
            ),
            accepted=self.acceptance_rows,
            terrain=_blob(terrain[0][1].name, terrain[0][1].sha256, load)
            if terrain
            else None,
            origins=self._origins(),
            matters=self.matters,
        )

    def roster(self) -> RawEvent:
        """Make the event with its pilots alone, for which no file is read."""
        return RawEvent(
            settings=self.settings,
            pilots=tuple(
                current.row(act.fields) for current, act in self.all_of(PilotSet)
            ),
        )

    def _raw_flight(self, current: Current, act: FlightSet, load: Loader) -> RawFlight:
        held = self._raw_logs(act.flight, load)
        logs = {raw.blob.name: log.origin for log, raw in held if log.pilot is not None}

        def rows(*forms: type[RowAct]) -> tuple[RawRow, ...]:
            return tuple(
                held.row(row.fields)
                for held, row in self._rows_of.get(act.flight, ())
                if isinstance(row, forms)
            )

        return RawFlight(
            id=act.flight,
            settings=with_kept(act.settings, self.kept),
            marks=self._mark_rows.get(act.flight, ()),
            declarations=rows(DeclarationMade),
            reports=rows(ReportMade),
            rulings=rows(RulingMade),
            targets=rows(TargetLogged),
            logs=tuple(raw for _, raw in held),
            origins={"": current.origin, **logs},
        )

    @cached_property
    def _mark_rows(self) -> Mapping[str, tuple[RawRow, ...]]:
        """The entries of marks by flight, each with who made it.

        One that settles also says what it had seen; all others are what they are for good.
        """
        return {flight: tuple(self._marks(flight)) for flight in self._rows_of}

    def _marks(self, flight: str) -> Iterator[RawRow]:
        marks = [
            (held, act)
            for held, act in self._rows_of[flight]
            if isinstance(act, MarkKeyed | MarkSettled)
        ]
        settled = any(isinstance(act, MarkSettled) for _, act in marks)
        keyed = _keyed(marks) if settled else {}
        for held, act in marks:
            settles = isinstance(act, MarkSettled) or len(held.ids) > 1
            if held.last_row is not None and not settles:
                yield held.last_row
                continue
            fields = dict(act.fields)
            by = entered_by(act, held.entry)
            if by and not fields.get("by", "").strip():
                fields["by"] = by
            if settles and not fields.get("between", "").strip():
                seen = _seen(held, self.by_id) or _seen_before(held, act, keyed)
                if seen:
                    fields["between"] = seen
            yield held.row(fields)

    def _raw_logs(
        self, flight: str, load: Loader
    ) -> tuple[tuple[LogHeld, RawLog], ...]:
        logs = []
        for name, log in self.logs_by_name(flight):
            blob, problem = _log_blob(name, log, load)
            logs.append((log, RawLog(blob=blob, pilot=log.pilot, problem=problem)))
        return tuple(logs)

    def logs_by_name(self, flight: str) -> tuple[tuple[str, LogHeld], ...]:
        """Return the logs of a flight, each with the name that people are told."""
        taken: set[str] = set()
        logs = self._logs_of.get(flight, ())
        return tuple((_free_name(log.name, log.sha256, taken), log) for log in logs)

    @cached_property
    def _logs_of(self) -> Mapping[str, list[LogHeld]]:
        found: dict[str, list[LogHeld]] = defaultdict(list)
        for log in self.logs:
            found[log.flight].append(log)
        return found

    def _origins(self) -> dict[str, Origin]:
        parts: tuple[tuple[str, type[Act]], ...] = (
            ("", SettingsSet),
            ("pilots", PilotSet),
            ("places", PlaceSet),
        )
        first = {name: self.all_of(form)[:1] for name, form in parts}
        places = enumerate(self.all_of(PlaceSet))
        return {
            **{name: held[0][0].origin for name, held in first.items() if held},
            **{f"places.{i}": current.origin for i, (current, _) in places},
        }


def replay(
    entries: Iterable[Entry],
    stored: Stored | None = None,
) -> State:
    """Work out the state that entries add up to; `stored` as in `sort_out`."""
    return state_of(sort_out(entries, stored=stored))


def state_of(
    standing: SortedEntries,
    chains: Chains | None = None,
    held: Held | None = None,
) -> State:
    """Work out the state that entries add up to, once it is known which of them hold.

    `chains` are those of all entries, and `held` what holds, where these are at hand.
    """
    current, conflicts = held or resolve(standing)
    if chains is None:
        chains = Chains.of(standing.entries)
    return State(
        standing=standing,
        current=current,
        conflicts=conflicts,
        forks=chains.forks,
        backs=chains.backs,
    )


def _seen(held: Current, by_id: Mapping[EntryId, ReadEntry]) -> str:
    """Return the entries that one which settles had seen, as a row names them."""
    acts = [by_id[own].act for own in held.ids]
    settled = [act for act in acts if isinstance(act, MarkSettled)]
    seen = [by_id[i] for act in settled for i in act.keyings if i in by_id]
    written = [(one.entry, one.written) for one in seen]
    return between(
        entry_text(entered_by(act, entry), act.fields)
        for entry, act in written
        if isinstance(act, RowAct)
    )


def _mark_of(act: RowAct) -> tuple[str, ...]:
    task, pilot = (plain_number(act.fields.get(c, "")) for c in ("task", "pilot"))
    return task, pilot, act.fields.get("mark", "").strip().upper()


def _keyed(
    marks: Iterable[tuple[Current, RowAct]],
) -> dict[tuple[str, ...], list[Current]]:
    """Return the entries of each mark."""
    keyed: dict[tuple[str, ...], list[Current]] = {}
    for held, act in marks:
        if isinstance(act, MarkKeyed):
            keyed.setdefault(_mark_of(act), []).append(held)
    return keyed


def _seen_before(
    held: Current, act: RowAct, keyed: Mapping[tuple[str, ...], Sequence[Current]]
) -> str:
    """Return what an imported row that settles had seen, once a desk corrected it.

    A row of a folder that names no entries decides over those of the folder; one that a
    desk entered after it, it has not seen.  Empty where there is none, or where more than
    two people had entered the mark: there the row decides nothing by itself.
    """
    if not isinstance(act, MarkSettled):
        return ""
    own = [(one, one.act) for one in keyed.get(_mark_of(act), ())]
    rows = [(one, keyed_) for one, keyed_ in own if isinstance(keyed_, MarkKeyed)]
    seen = [
        entry_text(entered_by(one, current.entry), one.fields)
        for current, one in rows
        if one.source or current.entry.order < held.entry.order
    ]
    if len(seen) == len(rows) or len(set(seen)) > 2:
        return ""
    return between((*seen, entry_text(entered_by(act, held.entry), act.fields)))


def with_talk(raw: RawEvent, state: State) -> RawEvent:
    """Add complaints and notes, which no score depends on."""
    rows = tuple(complaint.row for complaint in state.complaints)
    return replace(raw, complaints=rows, notes=state.note_rows)


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


def _free_name(name: str, sha256: str, taken: set[str]) -> str:
    """Keep names of logs apart, as they must be in one folder."""
    if name.casefold() in taken:
        path = PurePosixPath(name)
        name = str(path.with_name(f"{path.stem}~{sha256[:8]}{path.suffix}"))
    taken.add(name.casefold())
    return name


def _blob(name: str, sha256: Sha256, load: Loader) -> Blob:
    return Blob(name=name, sha256=sha256, content=load(sha256))


def _log_blob(name: str, log: LogHeld, load: Loader) -> tuple[Blob, str]:
    """Fetch a log; one that is lost or altered costs itself alone."""
    try:
        return _blob(name, log.sha256, load), log.problem
    except (MissingBlobError, DamagedError) as error:
        return Blob(name=name, sha256=log.sha256, content=b""), str(error)
