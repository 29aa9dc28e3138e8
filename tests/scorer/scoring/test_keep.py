"""What is kept by content never changes a result, and changes with all it depends on."""

import gc
import json
import random
import string
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import fields, replace
from datetime import date, timedelta
from fractions import Fraction
from functools import partial

import numpy as np
import pytest

from scorer.cli.target import load
from scorer.errors import Cancelled
from scorer.event.matter import Acceptance
from scorer.event.matters import AIR_LATE
from scorer.event.model import (
    Blob,
    Decision,
    Declaration,
    Method,
    Report,
    ReportKind,
    Ruling,
    TaskState,
    Units,
)
from scorer.geodesy.site import Site
from scorer.geodesy.stood import Stood
from scorer.ledger.air import air_file
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.progress import Control
from scorer.recall import Recall
from scorer.rounding import Exact, Rounded
from scorer.scoring import flight as flights
from scorer.scoring import log_keep
from scorer.scoring import work as works
from scorer.scoring.coded import decode, digest, encode
from scorer.scoring.document import to_json
from scorer.scoring.evidence import take
from scorer.scoring.keep import Keep
from scorer.scoring.log_keep import LogKeep
from scorer.scoring.meant import GuessBasis
from scorer.scoring.score import score
from scorer.scoring.shared import shared_work


@pytest.fixture(scope="module")
def event(tmp_path_factory):
    folder = tmp_path_factory.mktemp("kept") / "meet"
    write_meet(make_meet(crowd(pilots=5, fixes=200, flights=2, sample_s=10), 3), folder)
    return load(folder)


def text(event, **how):
    return to_json(score(event, **how))


def first(event, **changes):
    """Change something of the first flight."""
    flight, *rest = event.flights
    return replace(event, flights=(replace(flight, **changes), *rest))


def of_task(event, **changes):
    flight = event.flights[0]
    task, *rest = flight.tasks
    return first(event, tasks=(replace(task, **changes), *rest))


def of_rules(event, section, **changes):
    def changed(book):
        return replace(book, **{section: replace(getattr(book, section), **changes)})

    event = replace(event, book=changed(event.book))
    tasks = [t for f in event.flights for t in f.tasks]
    assert all(
        getattr(event.book_of(t), section) == getattr(event.book, section)
        for t in tasks
    )
    return event


def moved_mark(event, chance, by_m=7.0):
    keyings = list(event.flights[0].keyings)
    taped = [
        n for n, k in enumerate(keyings) if k.distance_m and k.method is Method.TAPE
    ]
    n = chance.choice(taped)
    keyings[n] = replace(keyings[n], distance_m=keyings[n].distance_m + by_m)
    return first(event, keyings=tuple(keyings))


def fewer_marks(event, chance):
    keyings = list(event.flights[0].keyings)
    del keyings[chance.randrange(len(keyings))]
    return first(event, keyings=tuple(keyings))


def fewer_logs(event, chance):
    logs = list(event.flights[0].logs)
    del logs[chance.randrange(len(logs))]
    return first(event, logs=tuple(logs))


def other_owner(event, chance):
    logs = list(event.flights[0].logs)
    n = chance.randrange(len(logs))
    logs[n] = replace(logs[n], pilot=chance.choice(event.pilots).number)
    return first(event, logs=tuple(logs))


def broken_log(event, chance):
    logs = list(event.flights[0].logs)
    n = chance.randrange(len(logs))
    data = logs[n].blob.data[: len(logs[n].blob.data) // 2]
    logs[n] = replace(logs[n], blob=blob(logs[n].blob.name, data))
    return first(event, logs=tuple(logs))


def blob(name, data):
    import hashlib

    return Blob(name=name, sha256=hashlib.sha256(data).hexdigest(), content=data)


def reported(event, chance):
    task = event.flights[0].tasks[0]
    pilot = chance.choice(event.pilots).number
    report = Report(
        task=task.number, pilot=pilot, kind=ReportKind.NOT_FLOWN, by="Ann Iso"
    )
    return first(event, reports=(*event.flights[0].reports, report))


def ruled(event, chance):
    results = score(event)
    found = [f for f in results.findings if f.finding.flight == event.flights[0].id]
    if not found:
        return event
    own = chance.choice(found).finding
    ruling = Ruling(
        task=own.task,
        pilot=own.pilot,
        finding=own.id,
        decision=Decision.WAIVE,
        by="Ann Iso",
        at="",
        reason="seen from the ground",
    )
    return first(event, rulings=(*event.flights[0].rulings, ruling))


def accepted(event, chance):
    matter = chance.choice(score(event).matters)
    acceptance = Acceptance(matter=matter.key, by="Ann Iso", at="", why="looked at")
    return replace(event, acceptances=(*event.acceptances, acceptance))


CHANGES = (
    moved_mark,
    partial(moved_mark, by_m=3000.0),
    fewer_marks,
    fewer_logs,
    other_owner,
    broken_log,
    reported,
    ruled,
    accepted,
    lambda e, _: first(e, qnh_hpa=(e.flights[0].qnh_hpa or 1000.0) + 1.5),
    lambda e, c: first(e, temperature_c=c.uniform(-5.0, 25.0)),
    lambda e, c: replace(e, terrain_sigma_m=c.uniform(0.5, 5.0)),
    lambda e, _: replace(e, ground_elevation_m=(e.ground_elevation_m or 0.0) + 3.0),
    lambda e, _: replace(e, terrain=None),
    lambda e, c: of_rules(e, "floor", height_m=c.uniform(10.0, 60.0)),
    lambda e, c: of_rules(e, "tracks", throw_m=c.uniform(5.0, 200.0)),
    lambda e, _: of_task(e, state=TaskState.CANCELLED),
    lambda e, _: replace(
        e, pilots=e.pilots[:-1], flights=_without(e, e.pilots[-1].number)
    ),
)


def _without(event, number):
    return tuple(
        replace(
            f,
            keyings=tuple(k for k in f.keyings if k.pilot != number),
            reports=tuple(r for r in f.reports if r.pilot != number),
            rulings=tuple(r for r in f.rulings if r.pilot != number),
            logs=tuple(g for g in f.logs if g.pilot != number),
        )
        for f in event.flights
    )


@pytest.mark.parametrize("seed", range(2))
def test_whatever_is_changed_a_warm_keep_gives_the_bytes_of_a_score_from_nothing(
    event, tmp_path, seed
):
    chance = random.Random(seed)
    warm, path = Keep(Recall(tmp_path / "a")), tmp_path / "b"
    text(event, keep=warm)
    now = event
    for _ in range(4):
        change = chance.choice(CHANGES)
        now = event if chance.random() < 0.2 else change(now, chance)
        fresh = text(now)
        assert text(now, keep=warm) == fresh, change
        text(now, keep=Keep(Recall(path)))
        assert text(now, keep=Keep(Recall(path))) == fresh, "what the file alone gives"


def mark_again(event, chance):
    """Enter a mark of somebody a second time, a little otherwise."""
    keyings = event.flights[0].keyings
    k = chance.choice([k for k in keyings if k.distance_m])
    again = replace(k, by="Bo Ort", distance_m=k.distance_m + chance.random())
    return first(event, keyings=(*keyings, again))


def same_file_twice(event, chance):
    logs = event.flights[0].logs
    return first(event, logs=(*logs, chance.choice(logs)))


def earlier_rows(event, chance):
    """Take some entries back and put others last, the rows being those of before."""
    keyings = list(event.flights[0].keyings)
    chance.shuffle(keyings)
    return first(event, keyings=tuple(keyings), reports=(), rulings=())


AT_THE_DESK = (
    *(moved_mark, moved_mark, mark_again, fewer_marks, earlier_rows),
    *(reported, ruled, accepted, same_file_twice, other_owner),
)


@pytest.mark.parametrize("seed", range(2))
def test_on_any_history_of_entries_what_is_kept_gives_the_bytes_of_none(
    event, seed, tmp_path
):
    chance, path = random.Random(seed), tmp_path / "kept.sqlite"
    start = replace(event, flights=event.flights[:1])
    states = [first(start, logs=start.flights[0].logs[:3])]
    keep = Keep(Recall(path))
    for _ in range(5):
        change = chance.choice(AT_THE_DESK)
        states.append(change(chance.choice(states[-2:]), chance))
        assert text(states[-1], keep=keep) == text(states[-1]), change
        text(chance.choice(states), keep=keep)  # a preview, or an undo
        if chance.random() < 0.5:  # another start, after an end or a kill
            if chance.random() < 0.5:
                keep.close()
            keep = Keep(Recall(path))


def test_the_first_mark_of_a_flight_comes_after_its_logs_and_the_last_may_go(event):
    start = replace(event, flights=event.flights[:1])
    marks, logs = start.flights[0].keyings, start.flights[0].logs[:2]
    keep = Keep()
    for some in ((), marks[:1], marks[:2], ()):
        now = first(start, logs=logs, keyings=some, reports=(), rulings=())
        assert text(now, keep=keep) == text(now)


@pytest.fixture(scope="module")
def warm(event, tmp_path_factory):
    path = tmp_path_factory.mktemp("warm") / "kept.sqlite"
    keep = Keep(Recall(path))
    before = text(event, keep=keep)
    keep.close()
    return keep, before, path


@pytest.mark.parametrize("change", CHANGES, ids=range(len(CHANGES)))
def test_each_change_reaches_a_score_of_which_all_was_kept(event, warm, change):
    keep, before, path = warm
    now = change(event, random.Random(7))
    fresh = text(now)
    assert text(now, keep=keep) == fresh
    assert text(now, keep=Keep(Recall(path))) == fresh, "at another start"
    assert text(event, keep=keep) == before


def test_at_another_start_a_mark_costs_what_it_touches(event, tmp_path, monkeypatch):
    start, held, own = replace(event, flights=event.flights[:1]), [], []
    near = log_keep.near_all
    monkeypatch.setattr(
        log_keep, "near_all", lambda c, m: held.append(len(m)) or near(c, m)
    )
    sums = ("wind_table", "check_same_flight")
    for name in sums:
        find = partial(_told, own, getattr(flights, name))
        monkeypatch.setattr(flights, name, find)
    signs = partial(_told, own, works.signs_of)
    monkeypatch.setattr(works, "signs_of", signs)
    path = tmp_path / "kept.sqlite"
    keep = Keep(Recall(path))
    score(start, keep=keep)
    keep.close()
    assert held, "at first everything is found"
    assert len(own) == len(sums) + 1
    held.clear(), own.clear()
    score(moved_mark(start, random.Random(1)), keep=Keep(Recall(path)))
    assert held == [1], "the mark beside all tracks"
    assert not own, "and nothing else"


def _told(called, find, *given):
    called.append(find)
    return find(*given)


def test_any_executor_fills_the_keep_alike(event, tmp_path):
    with ThreadPoolExecutor(2) as pool:
        own = text(event, executor=pool, keep=Keep(Recall(tmp_path / "a")))
    assert own == text(event) == text(event, keep=Keep(Recall(tmp_path / "a")))


def test_a_log_is_looked_at_once_and_again_only_where_it_changed(event, monkeypatch):
    seen, judged = [], []
    look, judge = works.look_at_one, works.judge_one
    monkeypatch.setattr(
        works,
        "look_at_one",
        lambda s, log, *c: seen.append(log.blob.name) or look(s, log, *c),
    )
    monkeypatch.setattr(
        works,
        "judge_one",
        lambda s, job: judged.append(job.looks[0].summary.name) or judge(s, job),
    )
    warm = Keep()
    score(event, keep=warm)
    every = [log.blob.name for flight in event.flights for log in flight.logs]
    assert sorted(seen) == sorted(every)
    assert len(judged) == len(every)
    seen.clear(), judged.clear()
    changed = moved_mark(event, random.Random(1))
    score(changed, keep=warm)
    assert not seen, "a mark does not change what a log shows by itself"
    assert len(judged) == 1, "nor what it means for anybody else"
    judged.clear()
    score(of_rules(event, "floor", height_m=33.0), keep=warm)
    assert not seen, "nor does a rule"
    assert len(judged) == len(every)


# What the keys are made of.

LOOKS = {
    "flight": "another",
    "day": date(2026, 3, 1),
    "time_zone": "Asia/Tokyo",
    "qnh_hpa": 999.0,
    "temperature_c": -3.0,
    "ground_elevation_m": 12.0,
    "terrain_sigma_m": 9.0,
    "periods": (),
}
JUDGES = {"tasks", "books", "places", "prohibited", "remarks", "others"}
BY_PILOT = {"own", "pilots"}
ELSEWHERE = {
    "site": "its plane and ground are asked for looks, all of it for judging",
    "hours": "changed by day and periods",
    "marks": "held against tracks mark by mark",
    "accepted": "asked by the parent alone",
    "air": "given to each log with its track",
}


def test_everything_that_logs_of_a_flight_share_is_accounted_for():
    own = {field.name for field in fields(works.FlightWork)}
    assert own == {*LOOKS, *JUDGES, *BY_PILOT, *ELSEWHERE}


@pytest.fixture(scope="module")
def shared(event):
    flight = event.flights[0]
    site = Site.of(event)
    return shared_work(event, flight, site, take(event, flight, site))


@pytest.mark.parametrize("name", LOOKS)
def test_each_thing_that_reading_a_log_depends_on_changes_its_key(event, shared, name):
    log = event.flights[0].logs[0]
    keep = Keep()
    key = LogKeep(shared, keep).key(log)
    assert getattr(shared, name) != LOOKS[name]
    assert LogKeep(replace(shared, **{name: LOOKS[name]}), keep).key(log) != key


def test_place_ground_hours_and_log_change_the_key_of_a_log(event, shared):
    log = event.flights[0].logs[0]
    keep, site = Keep(), shared.site
    ground = site.ground
    other = replace(ground.terrain, sha256="0" * 64)
    later = replace(shared.hours, end_s=shared.hours.end_s + 1.0)
    kept = LogKeep(shared, keep)
    keys = [
        kept.key(log),
        kept.key(log, 3600.0),
        kept.key(replace(log, pilot=77)),
        kept.key(replace(log, problem="lost")),
        kept.key(replace(log, blob=replace(log.blob, name="another.igc"))),
        kept.key(replace(log, blob=blob(log.blob.name, log.blob.data + b"\n"))),
        LogKeep(replace(shared, hours=later), keep).key(log),
        *(
            LogKeep(replace(shared, site=replace(site, ground=g)), keep).key(log)
            for g in (
                replace(ground, terrain=None),
                replace(ground, fallback_m=1.0),
                replace(ground, terrain=other),
            )
        ),
    ]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("name", sorted(JUDGES))
def test_each_thing_that_judging_depends_on_changes_its_key(event, shared, name):
    own = getattr(shared, name)
    other = (not own) if isinstance(own, bool) else type(own)()
    if not own:
        other = (1,)
    keep = Keep()
    changed = replace(shared, **{name: other})
    assert LogKeep(changed, keep).for_outcomes != LogKeep(shared, keep).for_outcomes


def test_judging_sees_no_mark_of_anybody_else_and_no_other_pilot(event, shared):
    """What its key leaves out cannot reach it."""
    from scorer.scoring.workers import LogsWork

    logs = event.flights[0].logs
    worked = LogsWork(shared, logs, None).done(Control(), lambda: None)
    for job, found in zip(worked.jobs, worked.outcomes, strict=True):
        pilot = job.looks[0].summary.pilot
        alone = replace(
            shared,
            marks=(),
            accepted=frozenset(),
            air=None,
            own={key: own for key, own in shared.own.items() if key[1] == pilot},
            pilots=tuple(p for p in shared.pilots if p.number == pilot),
        )
        (again,) = works.judge(alone, [job])
        assert encode(again) == encode(found)


# Values as bytes.


@pytest.mark.parametrize(
    "value",
    [
        (1, 1.0, True, None, "é\udc80", -0.0, float("inf"), [2], {"a": 1, 2: (3,)}),
        (Exact(Fraction(1, 3)), Rounded(Fraction(1, 8), 2), Fraction(2, 7)),
        (np.float32(0.1), np.int64(3), date(2026, 1, 2), frozenset({"x", "y"}), b"\0"),
    ],
)
def test_values_come_back_of_their_own_types_to_the_last_bit(value):
    back = decode(encode(value))
    assert repr(back) == repr(value)
    assert [type(a) for a in back] == [type(b) for b in value]
    assert encode(back) == encode(value)


def test_arrays_come_back_byte_for_byte():
    own = np.array([[1.0, np.nan], [-0.0, 5e-324]])
    back = decode(encode((own, own.T, np.arange(3, dtype=np.int16))))
    assert back[0].tobytes() == own.tobytes()
    assert (back[1].shape, back[2].dtype) == ((2, 2), np.int16)
    assert np.array_equal(back[1], own.T, equal_nan=True)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1, 1.0),
        (0.0, -0.0),
        (1, True),
        ("1", 1),
        (Exact(Fraction(1, 10)), 0.1),
        (Exact(Fraction(1, 10)), Exact(Fraction(0.1))),
        ((1,), [1]),
        (("a", "b"), ("ab",)),
        (np.zeros(2), np.zeros(2, dtype=np.float32)),
        (np.zeros((2, 3)), np.zeros((3, 2))),
        (np.zeros(1), bytes(8)),
    ],
)
def test_what_differs_in_type_or_shape_differs_in_hash(one, other):
    assert digest(one) != digest(other)


@pytest.mark.parametrize(
    "value", [object(), lambda: 0, np.array([object()]), timedelta(1), {1, 2}]
)
def test_what_is_no_plain_value_is_refused(value):
    with pytest.raises(TypeError):
        encode(value)


@pytest.mark.parametrize(
    "name",
    [
        "os:path",
        "scorer.files:write_whole",
        "subprocess:Popen",
        "scorer.errors:InputError",
    ],
)
def test_bytes_name_no_class_that_does_anything(name):
    import json
    import struct

    body = json.dumps([["c", 0, "x"], [], [name]]).encode()
    with pytest.raises((ValueError, LookupError, AttributeError)):
        decode(struct.pack(">Q", len(body)) + body)


def test_what_a_task_is_known_by_outlasts_the_logs_of_later_flights():
    """Else a first publication writes all tasks down, and the next one again."""
    keep, task = Keep(most_bytes=10_000), object()
    keep.name(("flight", 1), task, "key")
    for number in range(50):
        keep.put(f"log {number}", number, size=5_000)
    assert keep.named(("flight", 1), task) == "key"
    assert keep.named(("flight", 1), object()) == ""


def test_a_keep_holds_no_more_than_it_may():
    keep = Keep(most_bytes=1000)
    for letter in string.ascii_letters:
        keep.put(letter, letter, size=100)
    assert sum(keep.recent(letter) is not None for letter in string.ascii_letters) <= 10
    assert keep.recent("Z") == "Z"


def guesses(event, shared, keep):
    flight = event.flights[0]
    return GuessBasis(
        event=event,
        flight=flight,
        site=shared.site,
        agreed={},
        courses={},
        keep=keep,
    )


def test_each_thing_that_guesses_about_an_entry_depend_on_changes_their_key(
    event, shared
):
    """Its own entries aside, which come with each mark."""
    keep, flight, metric = Keep(), event.flights[0], Units.METRIC
    assert event.units is not metric
    other = replace(flight.keyings[0], from_place="Elsewhere")
    keyings = tuple(reversed((*flight.keyings, other)))
    declared = Declaration(task=flight.tasks[0].number, pilot=1)
    stood = (Stood(task=1, spot=next(iter(shared.site.spots.values()))),)
    after = replace(shared, site=replace(shared.site, stood=stood))
    timed = (replace(flight.keyings[0], time_s=1.0), *flight.keyings[1:])
    keys = [
        guesses(event, shared, keep).key,
        guesses(replace(event, units=metric), shared, keep).key,
        guesses(replace(event, places=event.places[1:]), shared, keep).key,
        guesses(of_task(event, targets=("Elsewhere",)), shared, keep).key,
        guesses(of_rules(event, "keying", tolerance_m=9.0), shared, keep).key,
        guesses(first(event, declarations=(declared,)), shared, keep).key,
        guesses(first(event, keyings=(*flight.keyings, other)), shared, keep).key,
        guesses(first(event, keyings=keyings), shared, keep).key,
        guesses(event, after, keep).key,
        guesses(first(event, keyings=timed), after, keep).key,
    ]
    assert len(set(keys)) == len(keys)


def set_down(event, results):
    """The event as it is once these results are up: its air is set down in a file."""
    airs = json.loads(air_file(results))
    flights = (replace(own, air=airs[own.id]) for own in event.flights)
    return replace(event, flights=tuple(flights))


@pytest.mark.parametrize("seed", range(3))
def test_once_its_air_is_set_down_a_flight_is_what_it_was(tmp_path, monkeypatch, seed):
    meet = crowd(pilots=4 + seed, fixes=200, flights=2, sample_s=10)
    write_meet(make_meet(meet, 20 + seed), tmp_path / "meet")
    event = load(tmp_path / "meet")
    keep = Keep(Recall(tmp_path / "kept"))
    up = set_down(event, score(event, keep=keep))
    keep.close()
    afresh = score(up)
    assert all(flight.air_kept for flight in afresh.flights)
    monkeypatch.setattr(flights.FlightJudge, "score", not_again)
    after = score(up, keep=Keep(Recall(tmp_path / "kept")))
    assert digest(after) == digest(afresh)
    assert to_json(after, keep) == to_json(afresh)


def not_again(*_):
    raise AssertionError("a flight was scored again")


def test_a_log_without_heights_comes_late_once_the_air_is_set_down(event, tmp_path):
    first, *rest = event.flights
    keep = Keep(Recall(tmp_path / "kept"))
    level = replace(first, logs=(*first.logs, without_heights(first.logs[0])))
    event = replace(event, flights=(level, *rest))
    up = set_down(event, score(event, keep=keep))
    results = score(up, keep=keep)
    assert [m.kind for m in results.matters].count(AIR_LATE) == 1
    assert digest(results) == digest(score(up))


def without_heights(log):
    """The log with no altitude in any of its fixes."""
    lines = log.blob.data.split(b"\r\n")
    flat = [b[:24] + b"V0000000000" + b[35:] if b[:1] == b"B" else b for b in lines]
    return replace(log, blob=blob("flat.igc", b"\r\n".join(flat)))


def test_parts_of_results_that_are_kept_are_the_text_of_none(event, tmp_path):
    keep = Keep(Recall(tmp_path / "kept"))
    for _ in range(2):
        results = score(event, keep=keep)
        assert to_json(results, keep) == to_json(score(event))
        keep.close()
        keep = Keep(Recall(tmp_path / "kept"))
    changed = moved_mark(event, random.Random(4))
    results = score(changed, keep=keep)
    assert to_json(results, keep) == to_json(score(changed)) != to_json(score(event))
    altered = replace(results, tasks=tuple(replace(t, kind="x") for t in results.tasks))
    assert to_json(altered, keep) == to_json(altered)


def test_what_is_alike_is_written_once_and_lists_stay_their_own():
    fact = Rounded(Fraction(1, 3), 2)
    many = encode(tuple((fact, "alike", n % 2) for n in range(100)))
    assert len(many) < 1500
    assert decode(many)[5] == (fact, "alike", 1)
    one, other = decode(encode(([], [])))
    assert one is not other


def test_a_score_leaves_the_search_for_garbage_as_it_was(event):
    for set_to in (gc.enable, gc.disable):
        set_to()
        was = gc.isenabled()
        score(event)
        assert gc.isenabled() is was
    gc.enable()


class Noting(Executor):
    """Does all at once, or that of one flight only, and notes what was handed out."""

    def __init__(self, only=None):
        self.sent, self.futures, self.only = [], [], only

    def submit(self, work, /, shared, items):
        flight = shared.work().flight
        self.sent.append((work.__name__.split("_")[0], flight))
        future = Future()
        if self.only in {None, flight}:
            future.set_result(work(shared, items))
        self.futures.append(future)
        return future


@pytest.fixture(scope="module")
def four(tmp_path_factory):
    folder = tmp_path_factory.mktemp("four") / "meet"
    write_meet(make_meet(crowd(pilots=3, fixes=200, flights=4, sample_s=10), 8), folder)
    return load(folder)


def test_logs_of_the_next_flights_are_handed_out_while_one_is_put_together(
    four, monkeypatch
):
    monkeypatch.setattr("scorer.scoring.workers.FEW", 0)
    alone = text(four)
    a, b, c, d = (flight.id for flight in four.flights)
    order = [("look", a), ("judge", a), ("look", b), ("look", c)]
    order += [("judge", b), ("look", d), ("judge", c), ("judge", d)]
    for keep in (Keep(most_bytes=0), Keep()):
        executor = Noting()
        assert text(four, executor=executor, keep=keep) == alone
        assert executor.sent == order
    executor = Noting()
    assert text(four, executor=executor, keep=keep) == alone
    assert not executor.sent  # all of it is known


def test_a_few_tracks_are_judged_where_they_were_read(four):
    """Nobody starts a process for one pilot's mark."""
    executor = Noting()
    assert text(four, executor=executor) == text(four)
    assert {what for what, _ in executor.sent} == {"look"}


def test_only_flights_that_changed_are_handed_out(four):
    keep = Keep()
    score(four, keep=keep)
    flights = list(four.flights)
    for n in (1, 3):
        flights[n] = replace(flights[n], logs=flights[n].logs[:-1])
    changed = replace(four, flights=tuple(flights))
    executor = Noting()
    assert text(changed, executor=executor, keep=keep) == text(changed)
    assert {flight for _, flight in executor.sent} <= {flights[1].id, flights[3].id}


@pytest.mark.parametrize("stop", ["begun", "judged"])
def test_who_cancels_leaves_nothing_in_flight(four, stop):
    def report(done, total, _):
        if stop == "begun" or done == total:
            control.cancel()

    control, executor = Control(report), Noting(only=four.flights[0].id)
    with pytest.raises(Cancelled):
        score(four, executor, control=control)
    left = [future for future in executor.futures if not future.cancelled()]
    assert all(future.done() for future in left)
    others = {flight for _, flight in executor.sent} - {four.flights[0].id}
    assert len(others) == (0 if stop == "begun" else 2)
