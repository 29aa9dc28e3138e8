"""An event as entered turned into ledger entries, for importing a folder."""

from collections.abc import Iterator, Sequence

from scorer.errors import Fault, InputError
from scorer.event.model import Origin
from scorer.event.moments import zone_of
from scorer.event.raw import RawEvent, RawFlight, RawRow
from scorer.ledger.acts import (
    DeclarationMade,
    FlightSet,
    LogAdded,
    LogAssigned,
    MarkKeyed,
    MarkSettled,
    MatterAccepted,
    PilotSet,
    PlaceSet,
    ReportMade,
    RowAct,
    RulingMade,
    SettingsSet,
    Sha256,
    TargetLogged,
    TerrainSet,
)
from scorer.ledger.air import air_draft
from scorer.ledger.disputes import (
    FROM_A_FOLDER,
    complaint_drafts,
    note_drafts,
    source_of,
)
from scorer.ledger.entry import Draft, as_if_named
from scorer.ledger.gate import UnfitError, check_act
from scorer.ledger.replay import State


def to_drafts(
    raw: RawEvent, why: str = "imported", known: State | None = None
) -> tuple[Draft, ...]:
    """Turn an event as entered into the acts that set it down, in its order.

    Of complaints and notes, those that `known` holds are left out, and the air of its
    flights: a folder read once more changes nobody's heights.

    Raises
    ------
    InputError
        Some of it no entry may hold: all that is so, each with its file and line.
    """
    drafts = _drafts(raw, why, known)
    if faults := [f for draft in drafts if (f := _unfit(draft)) is not None]:
        raise InputError(faults)
    return drafts


def _unfit(draft: Draft) -> Fault | None:
    """Say what the gate of the ledger would refuse, where it stands."""
    try:
        check_act(as_if_named(draft))
    except UnfitError as error:
        return Fault(
            where=getattr(draft.act, "source", "") or str(draft.act.kind),
            field=error.field.removeprefix("fields."),
            found=error.found,
            allowed=error.allowed,
        )
    return None


def _drafts(raw: RawEvent, why: str, known: State | None) -> tuple[Draft, ...]:
    drafts = [_settings(raw, why)]
    if raw.terrain is not None:
        blob = raw.terrain
        act = TerrainSet(name=blob.name, sha256=Sha256(blob.sha256), size=blob.size)
        drafts.append(Draft(act=act, why=why, files={act.sha256: blob.data}))
    drafts += [
        Draft(act=PilotSet(fields=row.fields, source=source_of(row.origin)), why=why)
        for row in raw.pilots
    ]
    where = source_of(raw.origins.get("places", Origin()))
    drafts += [
        Draft(act=PlaceSet(feature=feature, source=where), why=why)
        for feature in raw.places
    ]
    held = [act.flight for _, act in known.all_of(FlightSet)] if known else []
    for flight in raw.flights:
        drafts += _flight(flight, why)
        if flight.air is not None and flight.id not in held:
            drafts.append(air_draft(flight, why))
    drafts += [
        Draft(
            act=MatterAccepted(
                fields=row.fields, source=source_of(row.origin) or FROM_A_FOLDER
            ),
            why=row.fields.get("why", "").strip() or why,
        )
        for row in raw.accepted
    ]
    complaints = known.complaints if known else ()
    drafts += complaint_drafts(raw.complaints, why, zone_of(raw.settings), complaints)
    drafts += note_drafts(raw.notes, why, known.note_rows if known else ())
    return tuple(drafts)


def _settings(raw: RawEvent, why: str) -> Draft:
    source = source_of(raw.origins.get("", Origin()))
    return Draft(act=SettingsSet(settings=raw.settings, source=source), why=why)


def _flight(flight: RawFlight, why: str) -> Iterator[Draft]:
    yield Draft(
        act=FlightSet(
            flight=flight.id,
            settings=flight.settings,
            source=source_of(flight.origins.get("", Origin())),
        ),
        why=why,
    )
    tables: Sequence[tuple[type[RowAct], Sequence[RawRow]]] = (
        (MarkKeyed, flight.marks),
        (DeclarationMade, flight.declarations),
        (ReportMade, flight.reports),
        (RulingMade, flight.rulings),
        (TargetLogged, flight.targets),
    )
    for form, rows in tables:
        for row in rows:
            yield _row(form, flight.id, row, why)
    for log in flight.logs:
        sha256 = Sha256(log.blob.sha256)
        act = LogAdded(
            flight=flight.id,
            name=log.blob.name,
            sha256=sha256,
            size=log.blob.size,
            problem=log.problem,
        )
        yield Draft(act=act, why=why, files={sha256: log.blob.data})
        if log.pilot is not None:
            yield Draft(
                act=LogAssigned(
                    flight=flight.id,
                    name=log.blob.name,
                    sha256=sha256,
                    pilot=log.pilot,
                ),
                why=why,
            )


def _row(form: type[RowAct], flight: str, row: RawRow, why: str) -> Draft:
    if form is MarkKeyed and row.fields.get("settles", "").strip():
        form = MarkSettled
    source = source_of(row.origin)
    act = form(flight=flight, fields=row.fields, source=source)
    return Draft(act=act, why=row.fields.get("settles", "").strip() or why)
