"""Entries that no desk of ours writes, with valid hashes: none of them stops an event.

Each kind is put into the event's file as a merge would, then every command runs.
"""

import json
import os
from dataclasses import replace

import pytest

from scorer.cli.main import main
from scorer.event.build import build_event
from scorer.event.folder import write_folder
from scorer.ledger.acts import (
    Aside,
    DeskId,
    MarkKeyed,
    PilotSet,
    SettingsSet,
)
from scorer.ledger.aside import MOST_AHEAD
from scorer.ledger.entry import NO_ENTRY, Entry, hash_of
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from scorer.ledger.opening import open_store
from scorer.ledger.sound import sound
from tests.scorer.ledger.ledger_desks import HALL, Watch
from tests.scorer.tiny import tiny_flight, tiny_raw

STRANGER = "stranger-0f0f0f"
MARKS = """task,pilot,method,distance,by
1,1,tape,1.50,ann
1,2,tape,2.50,ann
1,3,tape,3.50,ann
1,4,tape,4.50,ann
"""
DEEP = "[" * 50_000 + "]" * 50_000
LEVELS = "[" * 300 + "]" * 300
HASH = "ab" * 32


def row(**cells):
    cells = {"task": "1", "pilot": "1", "method": "tape", "distance": "9.99", **cells}
    return json.dumps({"flight": "f1", "fields": cells})


def feature(**changes):
    whole = {
        "type": "Feature",
        "properties": {"name": "X", "kind": "goal"},
        "geometry": {"type": "Point", "coordinates": [-3.0, 40.65]},
    }
    return json.dumps({"feature": {**whole, **changes}})


def log(**changes):
    whole = {"flight": "f1", "name": "logs/001.igc", "sha256": HASH, "size": 5}
    return json.dumps({**whole, **changes})


def published(**changes):
    whole = {"stage": "provisional", "version": 1, "results": HASH, "heads": [HASH]}
    return json.dumps({**whole, **changes})


def fields_of(*sets, **cells):
    return json.dumps({"fields": {k: v for d in (*sets, cells) for k, v in d.items()}})


def flight_of(**changes):
    """Return a flight whose one task is sound but for the changes."""
    task = {"number": 2, "kind": "FIN", "target": "T", **changes}
    given = {key: value for key, value in task.items() if value is not None}
    settings = {"date": "2026-09-12", "task": [given]}
    return json.dumps({"flight": "f2", "settings": settings})


ROSTER = {"number": "9", "name": "Eve"}
BOW_TIE = {
    "properties": {"name": "Bow", "kind": "scoring-area"},
    "geometry": {
        "type": "Polygon",
        "coordinates": [[[-3, 40], [-3.1, 40.1], [-3, 40.1], [-3.1, 40], [-3, 40]]],
    },
}
KINDS = {
    # The act.
    "unknown kind": ("teleport", "{}"),
    "no JSON": ("mark", "{"),
    "a list": ("mark", "[]"),
    "a number": ("mark", "3"),
    "deep JSON": ("mark", '{"flight":"f1","fields":' + DEEP + "}"),
    "300 levels": ("place", '{"feature":{"properties":{"a":' + LEVELS + "}}}"),
    "unknown field": ("mark", '{"flight":"f1","fields":{},"colour":"red"}'),
    "a field missing": ("mark", '{"flight":"f1"}'),
    "flight a number": ("mark", '{"flight":7,"fields":{}}'),
    "flight a list": ("flight", '{"flight":["f1"],"settings":{}}'),
    "cells a list": ("mark", '{"flight":"f1","fields":["task"]}'),
    "a cell a number": ("mark", '{"flight":"f1","fields":{"task":1,"pilot":1}}'),
    "a cell a table": ("mark", '{"flight":"f1","fields":{"task":{"a":[]}}}'),
    "pilot number of 5,000 digits": (
        "pilot",
        json.dumps({"fields": {"number": "9" * 5000}}),
    ),
    "keyed for a pilot of 4,999 digits": ("mark", row(pilot="1" * 4999)),
    "feature a number": ("place", '{"feature":5}'),
    "properties a list": ("place", feature(properties=[1])),
    "geometry a text": ("place", feature(geometry="here")),
    "settings a text": ("event-settings", '{"settings":"all"}'),
    "event a number": ("event-settings", '{"settings":{"event":5}}'),
    "task a number": ("flight", '{"flight":"f2","settings":{"task":5}}'),
    "tasks numbers": ("flight", '{"flight":"f2","settings":{"task":[1,2]}}'),
    "NaN": ("flight", '{"flight":"f2","settings":{"qnh_hpa":NaN}}'),
    "infinity": ("place", feature(bbox=[1]).replace("[1]", "Infinity")),
    "a dollar NaN": ("flight", '{"flight":"f2","settings":{"q":{"$float":"nan"}}}'),
    "a dollar date": ("flight", '{"flight":"f2","settings":{"date":{"$date":"x"}}}'),
    "huge text": ("note", json.dumps({"text": "x" * 2_000_000})),
    "huge cell": ("mark", row(note="x" * 100_000)),
    "many columns": ("mark", row(**{f"c{n}": "" for n in range(3000)})),
    "half a character": ("note", '{"text":"\\ud800"}'),
    "terrain named as a path": (
        "terrain",
        json.dumps({"name": "/tmp/x.tif", "sha256": HASH}),
    ),
    "terrain that is not here": (
        "terrain",
        json.dumps({"name": "x.tif", "sha256": HASH}),
    ),
    "a hash that is none": ("log-added", log(sha256="../x")),
    "size below nothing": ("log-added", log(size=-5)),
    "size a whole of 400 digits": ("log-added", log().replace("5}", "9" * 400 + "}")),
    "pilot a truth": ("log-assigned", log(pilot=True).replace(', "size": 5', "")),
    "stage unknown": ("publication", published(stage="secret")),
    "published without its file": ("publication", published(stage="official")),
    "tasks of texts": ("publication", published(tasks=["1"])),
    "complaint by a text": ("complaint", '{"pilot":"one","text":"no"}'),
    "outcome of no complaint": (
        "complaint-outcome",
        json.dumps({"complaint": HASH, "verdict": "upheld"}),
    ),
    "verdict unknown": (
        "complaint-outcome",
        json.dumps({"complaint": HASH, "verdict": "x"}),
    ),
    "protest against nothing": (
        "complaint",
        json.dumps({"pilot": 1, "text": "no", "level": "protest", "against": HASH}),
    ),
    "withdraws a list": ("withdraw", '{"entry":["a"]}'),
    "undoes a text": ("undo", '{"entry":"the last one"}'),
}
NONSENSE = {
    "a place without geometry": ("place", feature(geometry=None)),
    "a place of an unknown kind": (
        "place",
        feature(properties={"name": "Y", "kind": "castle"}),
    ),
    "a place without a name": ("place", feature(properties={"kind": "goal"})),
    "a place beyond the plane": (
        "place",
        feature(
            properties={"name": "Far", "kind": "goal"},
            geometry={"type": "Point", "coordinates": [87.0, 0.0]},
        ),
    ),
    "an area that crosses itself": ("place", feature(**BOW_TIE)),
    "a place named as another, with a blank": (
        "place",
        feature(properties={"name": "T ", "kind": "goal"}),
    ),
    "pilot number abc": ("pilot", json.dumps({"fields": {"number": "abc"}})),
    "pilot number of full-width digits": ("pilot", fields_of(ROSTER, number="９")),
    "a pilot without a name": ("pilot", fields_of(ROSTER, name="")),
    "a mark of an unknown pilot": ("mark", row(pilot="77")),
    "a mark in an unknown task": ("mark", row(task="88")),
    "a mark without a distance": ("mark", row(distance="")),
    "a distance of no length": ("mark", row(distance="1e99999999")),
    "a distance of 4,000 digits": ("mark", row(distance="9" * 4000)),
    "a method nobody knows": ("mark", row(method="ruler")),
    "a settled mark of an unknown pilot": ("settle", row(pilot="77")),
    "a declaration of an unknown pilot": ("declaration", row(pilot="77")),
    "a report of an unknown kind": ("report", row(kind="ufo", by="x")),
    "a ruling of an unknown pilot": ("ruling", row(pilot="77", decision="waive")),
    "a ruling that decides nothing": ("ruling", row(decision="maybe")),
    "a task of an unknown kind": ("flight", flight_of(kind="dance")),
    "a task without a number": ("flight", flight_of(number=None)),
    "a task at an unknown place": ("flight", flight_of(target="Nowhere")),
    "a task number taken": ("flight", flight_of(number=1)),
    "a task with unknown settings": ("flight", flight_of(colour="red")),
    "a task with an unknown rule": ("flight", flight_of(rules={"floor": {"x": 1}})),
    "a flight without a date": ("flight", '{"flight":"f2","settings":{}}'),
    "a flight with unknown settings": ("flight", '{"flight":"f2","settings":{"a":1}}'),
    "a complaint of an unknown pilot": ("complaint", '{"pilot":77,"text":"no"}'),
    "a complaint on an unknown task": (
        "complaint",
        '{"pilot":1,"task":88,"text":"no"}',
    ),
    "a note without text": ("note", '{"text":" "}'),
}
"""Of valid form, and no sense in this event."""
GOOD = ("mark", row(distance="1.50", by="bob"))
HEADERS = {
    "tick near the end": {"tick": 2**63 - 1},
    "tick a million ahead": {"tick": 2 * MOST_AHEAD},
    "tick below nothing": {"tick": -5},
    "number near the end": {"number": 2**31 - 1},
    "no moment": {"at": "yesterday"},
    "a moment without zone": {"at": "2026-09-12T06:00:00"},
    "who without end": {"who": "x" * 100_000},
}


def forged(store, kind, payload, **header):
    """Make an entry of a stranger's desk whose hash fits."""
    root = next(e for e in store.entries() if e.prev == NO_ENTRY)
    made = Entry(
        **{
            "desk": DeskId(STRANGER),
            "number": 1,
            "tick": len(store.entries()) + 1,
            "kind": kind,
            "payload": payload,
            "who": "Mallory",
            "at": "2026-09-12T06:00:00.000000Z",
            "prev": root.hash,
            "hash": NO_ENTRY,
            **header,
        }
    )
    return replace(made, hash=hash_of(made))


@pytest.fixture(scope="module")
def clean_file(tmp_path_factory):
    """An event in a folder and in a file, with nothing open but the usual."""
    folder = tmp_path_factory.mktemp("clean")
    write_folder(tiny_raw(tiny_flight(marks=MARKS)), folder / "meet")
    assert main(["import", str(folder / "meet"), str(folder / "meet.sandtail")]) == 0
    return folder / "meet.sandtail"


@pytest.fixture
def file(clean_file, tmp_path, monkeypatch):
    monkeypatch.setenv("SANDTAIL_DESK", "hall-0a0a0a")
    copy = tmp_path / "meet.sandtail"
    copy.write_bytes(clean_file.read_bytes())
    return copy


def put(file, kind, payload, **header):
    with open_store(file, when=Watch()()) as store:
        entry = forged(store, kind, payload, **header)
        store.take([entry], [])
    return entry


def put_all(file, acts, **header):
    """Put several acts of the stranger's desk in, a chain of entries; return them."""
    with open_store(file, when=Watch()()) as store:
        chain = []
        for number, (kind, payload) in enumerate(acts, start=1):
            own = {"prev": chain[-1].hash} if chain else {}
            own |= {"number": number, "tick": len(store.entries()) + number}
            chain.append(forged(store, kind, payload, **own | header))
        store.take(chain, [])
    return chain


def every_command(file, clean, tmp_path):
    """Run every command; return what each ended with."""
    at = str(file)
    commands = {
        "check": ["check", at],
        "score": ["score", at],
        "score --json": ["score", at, "--json", str(tmp_path / "r.json")],
        "verify": ["verify", at],
        "explain": ["explain", at, "--pilot", "1"],
        "export": ["export", at, str(tmp_path / "out")],
        "archive": ["archive", at, str(tmp_path / "a.zip")],
        "restore": ["restore", str(tmp_path / "a.zip"), str(tmp_path / "b.sandtail")],
        "merge": ["merge", at, str(clean), "--to", str(tmp_path / "c.sandtail")],
        "import": ["import", str(clean.parent / "meet"), at, "--into"],
        "complain": ["complaint", at, "file", "--pilot", "2", "--text", "why?"],
        "complaints": ["complaint", at],
        "publish": ["publish", at, "provisional"],
        "verify after": ["verify", at],
        "score the archive": ["score", str(tmp_path / "a.zip")],
        "score the folder": ["score", str(tmp_path / "out")],
        "score the merged": ["score", str(tmp_path / "c.sandtail")],
    }
    if LONG:
        commands |= {
            "season": ["season", at],
            "winds": ["winds", at],
            "sheets": ["sheets", at, "--out", str(tmp_path / "sheets")],
            "site": ["site", at, "--out", str(tmp_path / "site")],
            "slips": ["slips", at, "--out", str(tmp_path / "slips.pdf")],
            "publish again": ["publish", at, "provisional"],
        }
    return {name: main(command) for name, command in commands.items()}


WITHOUT_FILE = frozenset(
    {
        "terrain named as a path",
        "terrain that is not here",
        "published without its file",
    }
)


LONG = "SANDTAIL_LONG_TESTS" in os.environ
TOGETHER = 1 if LONG else 15
"""So many kinds go into one event: none hides another, for each is looked for by itself."""
_COMMON = sorted(KINDS.keys() - WITHOUT_FILE)
GROUPS = [
    *(_COMMON[n : n + TOGETHER] for n in range(0, len(_COMMON), TOGETHER)),
    *([name] for name in (*sorted(WITHOUT_FILE), *HEADERS)),
]


@pytest.mark.parametrize("names", GROUPS, ids=", ".join)
def test_no_foreign_entry_stops_any_command(names, file, clean_file, tmp_path, capsys):
    header = HEADERS.get(names[0], {})
    entries = put_all(file, [KINDS.get(name, GOOD) for name in names], **header)

    ended = every_command(file, clean_file, tmp_path)

    assert {name: code for name, code in ended.items() if code not in {0, 1}} == {}
    said = capsys.readouterr()
    told = " ".join((said.out + said.err).split())
    for entry in entries:
        assert f"{STRANGER} #{entry.number} by " in told
    # Nobody can tell a file that never came from one that was deleted: it is lost.
    lost = int(not WITHOUT_FILE.isdisjoint(names))
    assert ended["verify"] == ended["verify after"] == lost
    results = json.loads((tmp_path / "r.json").read_text(encoding="utf-8"))
    warnings = [w for w in results["warnings"] if w["kind"] == "set-aside"]
    assert [w["blocks"] for w in warnings] == [True] * len(names)
    assert [s["result"] for s in results["tasks"][0]["scores"]] == [1.5, 2.5, 3.5, 4.5]
    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        state = ledger.state()
        aside = {(one.entry, one.desk, one.kind) for one in state.set_aside}
        assert aside == {(e.hash, STRANGER, e.kind) for e in entries}
        assert len(state.set_aside) == len(entries)
        assert {e.hash for e in entries} <= {e.hash for e in state.entries}


@pytest.mark.parametrize("name", NONSENSE)
def test_content_that_makes_no_sense_in_the_event_is_set_aside(name, file, capsys):
    kind, payload = NONSENSE[name]
    entry = put(file, kind, payload)

    assert main(["score", str(file)]) in {0, 1}
    told = " ".join("".join(capsys.readouterr()).split())
    assert f"ntry {STRANGER} #1 by Mallory" in told  # as a sentence begins, or within
    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        found = sound(ledger.state())
        (record,) = found.state.set_aside
        assert (record.entry, record.desk, record.who) == (
            entry.hash,
            STRANGER,
            "Mallory",
        )
        assert found.all_faults == ()
        assert build_event(found.state.raw(ledger.file)).tasks
        ledger.withdraw([entry.hash], why="not ours")
        assert sound(ledger.state()).state.set_aside == ()


def test_nonsense_of_all_kinds_at_once_stops_no_command(
    file, clean_file, tmp_path, capsys
):
    put_all(file, NONSENSE.values())

    ended = every_command(file, clean_file, tmp_path)

    assert {name: code for name, code in ended.items() if code not in {0, 1}} == {}
    assert ended["verify"] == ended["verify after"] == 0
    results = json.loads((tmp_path / "r.json").read_text(encoding="utf-8"))
    told = [w for w in results["warnings"] if w["kind"] == "set-aside"]
    assert len(told) == len(NONSENSE)
    assert [s["result"] for s in results["tasks"][0]["scores"]] == [1.5, 2.5, 3.5, 4.5]


def test_what_an_entry_that_makes_no_sense_replaced_holds_again(file):
    with open_store(file, when=Watch()()) as store:
        pilot = next(
            e for e in store.entries() if e.kind == "pilot" and "Bob" in e.payload
        )
        bad = json.dumps({"fields": {"number": "abc", "name": "Bob"}})
        store.take([forged(store, "pilot", bad, replaces=(pilot.hash,))], [])

    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        found = sound(ledger.state())
    assert found.event.pilot(2).name == "Bob"
    assert len(found.state.set_aside) == 1


def test_an_entry_counts_again_once_it_makes_sense(file):
    put(file, "mark", row(pilot="5"))
    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        assert len(sound(ledger.state()).state.set_aside) == 1
        ledger.record(PilotSet(fields={"number": "5", "name": "Eve"}))
        found = sound(ledger.state())
    assert found.state.set_aside == ()
    assert {k.pilot for k in found.event.flights[0].keyings} == {1, 2, 3, 4, 5}


def test_a_pilot_set_aside_takes_the_marks_along(file):
    with open_store(file, when=Watch()()) as store:
        pilot = forged(store, "pilot", fields_of(ROSTER, name=""))
        mark = forged(store, *("mark", row(pilot="9")), number=2, prev=pilot.hash)
        store.take([pilot, mark], [])

    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        found = sound(ledger.state())
    assert {one.kind for one in found.state.set_aside} == {"pilot", "mark"}


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("event-settings", None),
        ("event-settings", "withdraw"),
        ("place", "withdraw"),
        ("event-settings", "undo"),
    ],
)
def test_what_spoils_what_all_rests_on_is_set_aside(kind, payload, file):
    """Settings changed so that nothing fits, or something needed taken back."""
    with open_store(file, when=Watch()()) as store:
        old = next(e for e in store.entries() if e.kind == kind)
        if payload is None:
            settings = json.dumps({"settings": {"format": 1, "event": {"crs": "x"}}})
            act, replaces = ("event-settings", settings), (old.hash,)
        else:
            act, replaces = (payload, json.dumps({"entry": old.hash})), ()
        bad = forged(store, *act, replaces=replaces)
        store.take([bad], [])

    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        found = sound(ledger.state())
    assert found.all_faults == ()
    assert [k.pilot for k in found.event.flights[0].keyings] == [1, 2, 3, 4]
    assert [one.entry for one in found.state.set_aside] == [bad.hash]


def test_faults_of_the_settings_themselves_stay(tmp_path):
    target = tmp_path / "m.sandtail"
    with Ledger.create(target, desk=HALL, who="ann", clock=Watch()) as ledger:
        ledger.record(SettingsSet(settings={"format": 1, "event": {"name": "X"}}))
        found = sound(ledger.state())
    assert found.state.set_aside == ()
    assert {fault.field for fault in found.faults} == {"event.crs", "event.time_zone"}


@pytest.mark.parametrize("name", ["tick near the end", "unknown kind"])
def test_withdrawing_what_is_set_aside_lets_results_become_official(name, file, capsys):
    entry = put(file, *KINDS.get(name, GOOD), **HEADERS.get(name, {}))
    official = ["publish", str(file), "official", "--complaint-time", "2 h"]
    assert main(official) == 1
    assert "set aside" in capsys.readouterr().out

    assert main(["withdraw", str(file), entry.label, "--why", "not ours"]) == 0

    assert main(official) == 0, capsys.readouterr().out


def test_a_foreign_tick_does_not_move_the_clock(file):
    put(file, *GOOD, tick=2**63 - 1)
    with Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger:
        count = len(ledger.state().entries)
        made = ledger.record(PilotSet(fields={"number": "7", "name": "Gil"}))
        assert made.tick <= count + 1


def test_a_forged_number_in_an_own_chain_does_not_end_it(file):
    put(file, *GOOD, desk="hall-0a0a0a", number=2**31 - 1)
    assert main(["complaint", str(file), "file", "--pilot", "2", "--text", "why?"]) == 0


def test_a_mark_cannot_take_the_place_of_the_settings(file, capsys):
    with open_store(file, when=Watch()()) as store:
        settings = next(e for e in store.entries() if e.kind == "event-settings")
        store.take([forged(store, *GOOD, replaces=(settings.hash,))], [])

    assert main(["score", str(file)]) in {0, 1}
    assert "set aside" in capsys.readouterr().out


def test_a_second_root_stops_no_merge(file, clean_file, tmp_path):
    payload = '{"format":1,"program":"x"}'
    put(file, "schema", payload, prev=NO_ENTRY, tick=1)

    target = str(tmp_path / "m.sandtail")
    assert main(["merge", str(file), str(clean_file), "--to", target]) in {0, 1}


@pytest.mark.parametrize(
    "act",
    [
        PilotSet(fields={"number": "9" * 5000}),
        SettingsSet(settings={"event": 5}),
        MarkKeyed(flight="f1", fields={"note": "x" * 100_000}),
    ],
)
def test_what_would_be_set_aside_cannot_be_written_here(act, file):
    with (
        Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger,
        pytest.raises(LedgerError, match="cannot be written down"),
    ):
        ledger.record(act)


def test_what_cannot_be_written_down_of_a_folder_is_told_with_its_line(file):
    fields = {"number": "7", "name": "A" * 10_000}
    act = PilotSet(fields=fields, source="pilots.csv line 8")
    with (
        Ledger.open(file, desk=HALL, who="ann", clock=Watch()) as ledger,
        pytest.raises(LedgerError, match=r"^pilots.csv line 8 cannot be .*10,000"),
    ):
        ledger.record(act)


def test_an_entry_that_is_set_aside_has_a_typed_record(file):
    entry = put(file, "place", '{"feature":5}')
    assert isinstance(entry.act, Aside)
    record = entry.act.record
    assert (record.field, record.found, record.allowed) == ("feature", "5", "a table")
