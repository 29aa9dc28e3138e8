"""Sheets are the same whatever was made before, and what is known is not made again."""

from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from threadpoolctl import threadpool_info

from scorer.cli.target import checked, load
from scorer.event.model import TargetEvent, TargetLine, TaskState, Units
from scorer.ledger.acts import MarkKeyed, Stage
from scorer.ledger.api import Ledger, import_folder, new_desk, sound
from scorer.ledger.event_commands import computed_of
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.recall import Recall
from scorer.scoring import work as works
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.score import score
from scorer.sheets import kinds, site, ways
from scorer.sheets.breakdown import breakdowns
from scorer.sheets.drawn import Drawings, bare_flight
from scorer.sheets.edition import prepare, put_up
from scorer.sheets.kinds import SHEET_KINDS, Material
from scorer.sheets.pictures import Size
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import Shown, shown, write_site
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Binding, Stamp
from scorer.sheets.typeset import ReadySheet, picture
from scorer.sheets.unchanged import NEWEST, SITE, SLIPS
from scorer.sheets.ways import keyed_files

STAMP = Stamp(published_at="2026-08-22T09:00:00Z", results_sha256="0" * 64)
SIZE = Size(width=120, height=90)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("drawn") / "meet"
    write_meet(make_meet(crowd(pilots=2, fixes=100, flights=2, sample_s=15), 3), folder)
    return folder


@pytest.fixture(scope="module")
def event(folder):
    return load(str(folder))


def made(event, keep, language="en", scored=Keep()):  # noqa: B008 - one for all
    """Return all that is drawn, and the tracks."""
    results = score(event, keep=scored)
    tracks = Tracks(event, results, keep)
    sheet = Sheet(results=results, event=event, stamp=STAMP, language=language)
    drawn = []
    for form in (shown, picture):
        drawings = Drawings(sheet, tracks, form)
        for number, own in breakdowns(sheet).items():
            drawn += [drawings.marks(part, SIZE) for part in own.parts]
            drawn += [
                drawings.finding(r.finding) for p in own.parts for r in p.findings
            ]
            for flight in event.flights:
                parts = [p for p in own.parts if p.task.flight == flight.id]
                if (key := (flight.id, number)) in tracks:
                    drawn.append(drawings.flight(key, parts, (SIZE, SIZE)))
    files = {o.name: b"".join(o.pieces) for o in keyed_files(event, tracks)}
    keep.settle()
    return drawn, files


def a_flight(event, **changes):
    return replace(
        event, flights=(replace(event.flights[0], **changes), *event.flights[1:])
    )


def of_a_mark(event, **changes):
    keyings = list(event.flights[0].keyings)
    n = next(n for n, keying in enumerate(keyings) if keying.distance_m)
    keyings[n] = replace(keyings[n], **changes)
    return a_flight(event, keyings=tuple(keyings))


def a_mark(event):
    known = next(k for k in event.flights[0].keyings if k.distance_m)
    return of_a_mark(event, distance_m=known.distance_m + 7.0)


def measured_from_another_place(event):
    names = [p.name for p in event.places if p.is_point]
    return of_a_mark(event, from_place=names[-1])


def a_place(event):
    first, *rest = event.places
    ring = tuple((lon + 0.001, lat) for lon, lat in first.rings[0])
    return replace(event, places=(replace(first, rings=(ring,)), *rest))


def a_name(event):
    first, *rest = event.pilots
    return replace(event, pilots=(replace(first, name="Somebody Else"), *rest))


def a_log_less(event):
    return a_flight(event, logs=event.flights[0].logs[1:])


def another_pressure(event):
    return a_flight(event, qnh_hpa=(event.flights[0].qnh_hpa or 1013.0) + 9.0)


def a_target_moved(event):
    flight = event.flights[0]
    task, target = flight.tasks[0].number, next(p for p in event.places if p.is_point)
    lon, lat = target.rings[0][0]
    line = TargetLine(
        task=task,
        target=target.name,
        event=TargetEvent.MOVED,
        time_s=1.0e9,
        lat_deg=lat + 0.001,
        lon_deg=lon,
    )
    return a_flight(event, targets=(line,))


def in_feet(event):
    return replace(event, units=Units.IMPERIAL)


def a_flight_more(event):
    """As on the evening before: nobody flew it, and it has a target of its own."""
    last, name = event.flights[-1], "Somewhere else"
    task = replace(last.tasks[0], number=99, targets=(name,), state=TaskState.PLANNED)
    later = replace(bare_flight(last), id="later", tasks=(task,), targets=())
    point = replace(next(p for p in event.places if p.is_point), name=name)
    return replace(
        event, flights=(*event.flights, later), places=(point, *event.places)
    )


CHANGES = (
    a_mark,
    measured_from_another_place,
    a_place,
    a_name,
    a_log_less,
    another_pressure,
    a_target_moved,
    in_feet,
    a_flight_more,
)


@pytest.fixture(scope="module")
def known(event, tmp_path_factory):
    """A keep in which all sheets of the event were made."""
    keep = Keep(Recall(tmp_path_factory.mktemp("recall") / "kept.sqlite"))
    assert made(event, keep) == made(event, NOTHING_KEPT)
    return keep


@pytest.mark.parametrize("change", CHANGES)
def test_after_a_change_sheets_are_those_made_of_nothing(event, known, change):
    changed = change(event)
    assert made(changed, known) == made(changed, NOTHING_KEPT)


def test_a_moved_target_stands_on_the_map_of_marks(event):
    plain, moved = (made(e, NOTHING_KEPT)[0] for e in (event, a_target_moved(event)))
    time = datetime.fromtimestamp(1.0e9, ZoneInfo(event.time_zone)).strftime("%H:%M")
    assert f" {time}</text>" in "".join(d.svg for d in moved if isinstance(d, Shown))
    assert f" {time}</text>" not in "".join(
        d.svg for d in plain if isinstance(d, Shown)
    )


def test_another_language_is_drawn_anew(event, known):
    assert made(event, known, "de") == made(event, NOTHING_KEPT, "de")


def test_a_later_start_takes_all_drawings_from_the_file_and_reads_no_log(
    event, known, monkeypatch
):
    results = score(event)
    tracks = Tracks(event, results, known)
    pages = dict(write_site(results, event, STAMP, tracks))
    slips = slips_setting(results, event, STAMP, tracks)
    known.settle()
    monkeypatch.setattr(Tracks, "__getitem__", None)
    monkeypatch.setattr(works, "make_ready", None)
    tracks = Tracks(event, results, Keep(Recall(known._lasting.path)))
    assert dict(write_site(results, event, STAMP, tracks)) == pages
    assert slips_setting(results, event, STAMP, tracks) == slips


def test_a_flight_more_changes_nothing_that_shows_the_others(event, known, monkeypatch):
    monkeypatch.setattr(Drawings, "draw", None)
    assert made(a_flight_more(event), known) == made(event, known)


def test_of_another_stage_only_what_says_it_is_made_anew(event, known, monkeypatch):
    """What pages say of tasks and flights is as it was, as long as these are."""
    results = score(event)
    official = replace(STAMP, state=Binding.OFFICIAL)
    anew = dict(write_site(results, event, official, Tracks(event, results, Keep())))
    write_site(results, event, STAMP, tracks := Tracks(event, results, known))
    monkeypatch.setattr(site, "TaskView", None)
    monkeypatch.setattr(site, "FlightView", None)
    assert dict(write_site(results, event, official, tracks)) == anew


def test_a_track_is_the_same_to_the_last_bit_whether_its_log_was_known(event):
    keep = Keep()
    results = score(event, keep=keep)
    known, anew = (Tracks(event, results, k) for k in (keep, NOTHING_KEPT))
    for key in known:
        for name in ("time_s", "height_m", "height_sigma_m"):
            one, other = (getattr(t[key], name) for t in (known, anew))
            assert np.array_equal(one, other, equal_nan=True)


def test_tracks_are_made_with_one_thread_as_when_they_were_judged(event, monkeypatch):
    seen = []

    def spied(*given, real=works.flown_in):
        seen.extend(
            p["num_threads"] for p in threadpool_info() if p["user_api"] == "blas"
        )
        return real(*given)

    tracks = Tracks(event, score(event))
    monkeypatch.setattr(works, "flown_in", spied)
    assert len(tracks[next(iter(tracks))])
    assert set(seen) == {1}


def test_published_again_with_a_mark_corrected_no_track_is_made(
    folder, tmp_path, monkeypatch
):
    target, desk, keep = tmp_path / "event", new_desk("test"), Keep()
    import_folder(folder, target, desk=desk, who="Ann")
    with Ledger.open(target, desk=desk, who="Ann") as ledger:
        publish = partial(put_all_up, ledger, keep, tmp_path)
        first = publish("1")
        thinned = []
        real = ways.thinned
        monkeypatch.setattr(ways, "thinned", lambda f: thinned.append(f) or real(f))
        held, act = ledger.state().all_of(MarkKeyed)[0]
        fields = {**act.fields, "distance": "77.77"}
        ledger.record(replace(act, fields=fields), replaces=held.ids)
        second = publish("2")
        whole = publish("3", Keep())
    same = [name for name in first if "tracks" in name and first[name] == second[name]]
    assert len(same) == 6  # each flight as GeoJSON, KML and GPX: marks lie beside them
    assert len(thinned) == 4  # those that were made of nothing
    assert {n: h for n, h in second.items() if "tracks" in n} == {
        n: h for n, h in whole.items() if "tracks" in n
    }


def all_sheets(event, results, room, executor, keep):
    """Return all that goes up with a publication, bytes as they stand.

    The lists of what a later one may keep need a keep.
    """
    room.mkdir()
    material = Material(
        event=event,
        results=results,
        stamp=STAMP,
        tracks=Tracks(event, results, keep),
        room=room,
        executor=executor,
    )
    names = ("tracks", "site", "slips")
    files = dict(one for name in names for one in SHEET_KINDS[name].make(material))
    return {
        name: data if isinstance(data, bytes | ReadySheet) else b"".join(data)
        for name, data in files.items()
        if name not in {SLIPS, f"{SITE}{NEWEST}"}
    }


class Ended(Executor):
    """Processes that were killed before they did anything, or while they were asked."""

    def __init__(self, *, takes):
        self.takes = takes

    def submit(self, *_, **__):
        if not self.takes:
            raise BrokenProcessPool
        future = Future()
        future.set_exception(BrokenProcessPool())
        return future


def test_sheets_are_the_same_whoever_makes_the_tracks(event, tmp_path):
    results = score(event)
    alone = all_sheets(event, results, tmp_path / "1", None, NOTHING_KEPT)
    with ProcessPoolExecutor(2) as pool:
        executors = [None, pool, Ended(takes=True), Ended(takes=False)]
        for number, executor in enumerate(executors, 2):
            room = tmp_path / str(number)
            assert all_sheets(event, results, room, executor, Keep()) == alone


def test_what_was_drawn_with_the_tracks_is_not_drawn_again(
    event, tmp_path, monkeypatch
):
    """Nor is a track made again for it."""
    results, keep, drawn = score(event), Keep(), []
    with ProcessPoolExecutor(1) as pool:
        real = Drawings.draw
        monkeypatch.setattr(Drawings, "draw", lambda *a: drawn.append(a[1]) or real(*a))
        monkeypatch.setattr(Tracks, "__getitem__", None)
        all_sheets(event, results, tmp_path / "1", pool, keep)
    assert not [wish for wish in drawn if wish.track]


def put_all_up(ledger, default, room, name, keep=None):
    """Publish all, and return the hashes of its files."""
    keep = keep or default
    (room / name).mkdir()
    state = sound(ledger.state()).state
    event = checked(state.raw(ledger.file), [])
    results = score(event, keep=keep)
    computed = computed_of(state, event, results)
    prepared = prepare(ledger, computed, Stage.PROVISIONAL)
    tracks = Tracks(event, results, keep)
    material = Material(
        event=event,
        results=results,
        stamp=prepared.stamp,
        tracks=tracks,
        room=room / name,
        stored=ledger.store.held,
    )
    files = kinds.made([SHEET_KINDS["tracks"]], material)
    act = put_up(ledger, prepared, files).act
    return {document.name: document.sha256 for document in act.documents}
