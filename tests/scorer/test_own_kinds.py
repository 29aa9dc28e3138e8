"""Kinds of one's own, declared in one place each, are seen everywhere such kinds are."""

import json
import pickle
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gui.log_files import choosable
from scorer.cli.main import main
from scorer.errors import InputError
from scorer.event.build import build, build_event
from scorer.event.columns import TABLES, Table
from scorer.event.folder import read_folder, write_folder
from scorer.event.log_formats import LOG_FORMATS, LogFormat
from scorer.event.model import Blob, Method
from scorer.event.place_kinds import PLACE_KINDS, Geometry, PlaceKind, PlaceSign
from scorer.event.raw import RawLog
from scorer.event.task_kinds import TASK_KINDS, TaskKind, TaskSetting
from scorer.manual.topics import TOPICS, contents, written
from scorer.registry import Registry
from scorer.scoring.document import document
from scorer.scoring.score import score
from scorer.scoring.told import task_title
from scorer.sheets.kinds import SHEET_KINDS, Material, SheetKind, made
from scorer.sheets.maps import areas_of
from scorer.sheets.schema import results_schema
from scorer.sheets.stamp import Stamp
from scorer.tasks.check import check_task
from scorer.tasks.goals import to_targets
from scorer.tasks.kinds import ONE_MARK
from scorer.tracks.read import read_log
from scorer.words import catalogue
from scorer.words.voice import Voice
from tests.scorer.tiny import PLACES, place, tiny, tiny_flight, tiny_raw

VOICE = Voice()
catalogue.add(
    """
task-kind-own = Our own task
task-kind-own-about = how far from the target, our way
place-kind-mooring-mast = Ground round a mooring mast
place-kind-mooring-mast-about = keep well away; the chart of the authority counts
log-format-own = Our own logger
log-format-own-about = a head that says OWN, then a table
sheet-own = Our own sheet
sheet-own-about = names, one a line
"""
)


@pytest.fixture
def own_task(monkeypatch):
    kind = TaskKind(
        code="OWN",
        measure=to_targets,
        best="greatest",
        targets=(1, 1),
        race=True,
        settings=(
            TaskSetting(key="own_key", kind="length", doc="our own key"),
            *ONE_MARK,
        ),
        example='target = "centre"\nown_key = "5 m"',
    )
    monkeypatch.setitem(TASK_KINDS, "OWN", kind)
    return kind


@pytest.fixture
def own_place(monkeypatch):
    kind = PlaceKind(
        name="mooring-mast",
        geometry=Geometry.AREA,
        levels=("upper_m",),
        role="prohibited",
        sign=PlaceSign.SOLID,
    )
    monkeypatch.setitem(PLACE_KINDS, kind.name, kind)
    return kind


@pytest.fixture
def own_format(monkeypatch):
    def read(blob, *, near_date, time_zone, periods):
        inner = replace(blob, content=blob.data.removeprefix(b"OWN\n"))
        return LOG_FORMATS["csv"].read(
            inner, near_date=near_date, time_zone=time_zone, periods=periods
        )

    form = LogFormat(
        name="own",
        suffixes=(".own",),
        signs=lambda head: float(head.startswith(b"OWN\n")),
        read=read,
    )
    monkeypatch.setitem(LOG_FORMATS, "own", form)


MARKS = """task,pilot,method,distance,by
1,1,tape,10.00,Eva
1,2,tape,30.00,Eva
1,3,none,,Eva
"""
OWN_TASK = 'number = 1\nkind = "OWN"\ntarget = "T"\nown_key = "5 m"\n'


def test_an_own_task_is_read_scored_shown_and_in_manual_and_schema(own_task):
    jsonschema = pytest.importorskip("jsonschema")
    event = tiny(tiny_flight(tasks=f"[[task]]\n{OWN_TASK}", marks=MARKS))

    results = score(event)

    task = results.tasks[0]
    assert (task.kind, task.best, task.race) == ("OWN", "greatest", True)
    assert [s.pilot for s in task.scores][:2] == [2, 1]
    assert task_title(VOICE, task) == "Task 1 · Our own task (OWN)"
    assert "own_key" in written("tasks", VOICE)
    assert "Our own task" in written("tasks", VOICE)
    tree = json.loads(json.dumps(document(results)))
    schema = results_schema()
    assert "OWN" in schema["$defs"]["task"]["properties"]["kind"]["enum"]
    jsonschema.validate(tree, schema)


def test_without_its_declaration_the_same_task_is_a_fault_with_the_nearest_code():
    _, faults = build(tiny_raw(tiny_flight(tasks='[[task]]\nnumber = 1\nkind = "FIM"')))

    (told,) = [str(f) for f in faults if "kind" in str(f.field)]
    assert "FIN" in told.partition("Did you mean")[2]
    assert "OWN" not in TASK_KINDS


def test_an_own_place_is_read_drawn_and_in_the_manual(own_place):
    corners = ((0, 0), (50, 0), (50, 50))
    raw = replace(
        tiny_raw(tiny_flight()),
        places=(*PLACES, place("line", "mooring-mast", *corners)),
    )

    event = build_event(raw)

    line = event.place("line")
    assert line.kind is own_place
    assert not line.is_point
    scored_there = replace(event.tasks[0], scoring_areas=("line",))
    assert areas_of(event, [scored_there])[-1] == line
    assert "`mooring-mast` (Ground round a mooring mast, Polygon)" in written(
        "places", VOICE
    )
    assert pickle.loads(pickle.dumps(line)).kind is own_place
    wrong = replace(raw, places=(*PLACES, place("line", "mooring-mast", (0, 0))))
    (told,) = build(wrong)[1]
    assert "Polygon for kind mooring-mast" in str(told)


def test_an_own_log_format_is_read_and_may_be_chosen(own_format, tmp_path):
    data = b"OWN\ntime,lat,lon,altitude\n" + b"".join(
        f"2026-06-01T06:00:{s:02d}Z,48.{s:04d},7.5,500\n".encode() for s in range(40)
    )
    blob = Blob(name="logs/001.own", sha256="", content=data)

    track = read_log(blob)

    assert len(track.time_s) == 40
    assert np.isfinite(track.lat_deg).all()
    assert "*.own" in choosable()
    assert "Our own logger (`.own`)" in written("log-formats", VOICE)
    flight = replace(tiny_flight(), logs=(RawLog(blob=blob),))
    write_folder(tiny_raw(flight), tmp_path / "e")
    (log,) = read_folder(tmp_path / "e").flights[0].logs
    assert log.problem == ""


def test_an_own_sheet_is_written_by_its_name_and_in_the_manual(monkeypatch):
    kind = SheetKind(
        name="own",
        make=lambda of: iter(
            [("own.txt", "\n".join(p.name for p in of.event.pilots).encode())]
        ),
    )
    monkeypatch.setitem(SHEET_KINDS, "own", kind)
    event = tiny(tiny_flight(marks=MARKS))
    material = Material(
        event=event,
        results=score(event),
        stamp=Stamp(results_sha256=""),
        tracks={},
        room=Path(),
    )

    assert made([SHEET_KINDS["own"]], material) == {"own.txt": b"Ann\nBob\nCid\nDot"}
    assert "`own` (Our own sheet): names, one a line" in written("sheets", VOICE)


def test_an_own_column_is_written_in_its_place_and_a_slip_in_it_is_told(
    monkeypatch, tmp_path
):
    notes = TABLES["notes"]
    own = replace(notes.columns[1], name="weather")
    monkeypatch.setitem(
        TABLES, "notes", Table(name="notes", of="event", columns=(*notes.columns, own))
    )
    write_folder(tiny_raw(tiny_flight()), tmp_path / "e")
    file = tmp_path / "e" / "notes.csv"

    file.write_text("at,text,wether\n2026-06-01 07:00,fog,mist\n")

    with pytest.raises(InputError, match="weather"):
        read_folder(tmp_path / "e")


# every declaration there is ------------------------------------------------------------


@pytest.mark.parametrize("name", list(TOPICS))
def test_every_topic_of_the_manual_has_its_words(name):
    text = written(name, VOICE)

    assert text.startswith(f"# {VOICE.word(f'manual-{name}')}\n")
    assert name in contents(VOICE)


def test_the_manual_names_every_kind_and_every_key():
    text = written("tasks", VOICE)

    for kind in TASK_KINDS.values():
        assert f"## {kind.code}: {VOICE.say(kind.title)}" in text
        assert all(f"- `{setting.key}` = " in text for setting in kind.settings)


NAMED = (
    *(place(n, "target", (0, 0)) for n in ("centre", "goal 1", "goal 2")),
    *(place(n, "reference", (0, 0)) for n in ("bridge", "hare's target")),
    *(
        place(n, "scoring-area", (0, 0), (9, 0), (9, 9))
        for n in ("scoring area", "north field", "south field")
    ),
)


@pytest.mark.parametrize("code", list(TASK_KINDS))
def test_the_manuals_example_of_a_task_has_no_fault(code):
    example = TASK_KINDS[code].example
    tasks = f'[[task]]\nnumber = 1\nkind = "{code}"\n{example}'
    raw = replace(tiny_raw(tiny_flight(tasks=tasks)), places=NAMED)

    event, faults = build(raw)

    places = {p.name: p for p in event.places}
    assert tomllib.loads(example)
    assert [str(f) for f in faults if "task" in str(f)] == []
    assert check_task(event.tasks[0], places) == ()


def test_the_choices_of_a_column_are_those_that_are_read():
    (column,) = [c for c in TABLES["marks"].columns if c.name == "method"]
    marks = "task,pilot,method,by\n1,1,stepped,Eva\n"

    (told,) = build(tiny_raw(tiny_flight(marks=marks)))[1]

    assert column.choices == tuple(Method)
    assert f"one of {', '.join(column.choices)}" in str(told)


def test_an_unknown_topic_lists_those_there_are(capsys):
    assert main(["manual", "tasks"]) == 0
    assert "## FIN: Fly in" in capsys.readouterr().out
    assert main(["manual", "taks"]) == 2
    assert 'Did you mean "tasks"?' in capsys.readouterr().err.replace("\n", " ")


def test_the_manual_lists_every_command(capsys):
    assert main(["manual", "commands"]) == 0
    text = capsys.readouterr().out

    for command in ("score", "publish", "manual", "complaint"):
        assert f"## sandtail {command}\n" in text


def test_one_name_is_declared_once():
    registry: Registry[int] = Registry("number")
    assert registry.declare("one", 1) == 1
    assert registry.declare("one", 1) == 1
    with pytest.raises(ValueError, match="two kinds of number are named one"):
        registry.declare("one", 2)
