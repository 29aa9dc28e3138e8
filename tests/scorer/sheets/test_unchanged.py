"""Pages and slips on which nothing changed stay as they went up; all others are made."""

import json
import re
from dataclasses import replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from scorer.cli.publish import score_ledger
from scorer.ledger.acts import MarkKeyed, PilotSet, Stage, Withdrawn
from scorer.ledger.api import Ledger, import_folder, new_desk
from scorer.ledger.files import HeldFile
from scorer.ledger.publish import changes_of
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import Keep
from scorer.sheets import edition
from scorer.sheets.breakdown import breakdowns
from scorer.sheets.edition import prepare, put_up
from scorer.sheets.kinds import SHEET_KINDS, Material
from scorer.sheets.parts import key_of_part
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import write_site
from scorer.sheets.stamp import Binding, TaskStage
from scorer.sheets.typeset import ReadySheet
from scorer.sheets.unchanged import SLIPS, Contents, before, stayed_told

PILOTS = 2
PAGE = re.compile(r"site/pilot-\d+\.html")
OF_A_VERSION = re.compile(
    r"[Vv]ersion \d+|\d{4}-\d\d-\d\d[T ][\d:]+Z?|[0-9a-f+:]{12,}|SANDTAIL:\S+"
)


@pytest.fixture(scope="module")
def imported(tmp_path_factory):
    room = tmp_path_factory.mktemp("unchanged")
    spec = crowd(pilots=PILOTS, fixes=100, flights=1, sample_s=15)
    write_meet(make_meet(spec, 3), room / "meet")
    import_folder(room / "meet", room / "event", desk=new_desk("test"), who="Ann")
    return (room / "event").read_bytes()


@pytest.fixture
def ledger(imported, tmp_path):
    path = tmp_path / "event"
    path.write_bytes(imported)
    with Ledger.open(path, desk=new_desk("desk"), who="Ann") as own:
        yield own


WARM = Keep()


def put_all_up(ledger, *, tasks=(), keep=WARM):
    """Publish slips and pages, nothing set in type; return files, entry and what made them."""
    event, results, computed = score_ledger(ledger, keep)
    ready = prepare(ledger, computed, Stage.PROVISIONAL, tasks=tasks)
    with TemporaryDirectory() as room:
        material = Material(
            event=event,
            results=results,
            stamp=ready.stamp,
            tracks=Tracks(event, results, keep),
            room=Path(room),
            tasks=ready.stamp.scope,
            before=before(ledger, ready.stamp.scope),
        )
        made = dict(f for k in ("slips", "site") for f in SHEET_KINDS[k].make(material))
    files = {
        name: b"%PDF" if isinstance(data, ReadySheet) else data
        for name, data in made.items()
    }
    return files, put_up(ledger, ready, files, tasks=tasks), material


def another_distance(ledger):
    held, act = ledger.state().all_of(MarkKeyed)[0]
    fields = {**act.fields, "distance": "77.77 m"}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


def another_name(ledger):
    held, act = ledger.state().all_of(PilotSet)[0]
    fields = {**act.fields, "name": "Somebody Else"}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


def another_balloon(ledger):
    held, act = ledger.state().all_of(PilotSet)[0]
    fields = {**act.fields, "registration": f"X-{len(ledger.state().entries)}"}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


def kept(files):
    return {
        n for n, d in files.items() if PAGE.fullmatch(n) and isinstance(d, HeldFile)
    }


def content(data):
    return data if isinstance(data, bytes) else b"".join(data)


def test_put_up_again_no_page_and_no_slip_is_made(ledger):
    """Whatever is kept of what was scored and drawn."""
    first, _, _ = put_all_up(ledger)
    second, _, _ = put_all_up(ledger, keep=Keep())
    pages = {name for name in first if PAGE.fullmatch(name)}
    assert len(pages) == PILOTS
    assert not kept(first)
    assert kept(second) == pages
    assert "slips.pdf" in first
    assert "slips.pdf" not in second
    assert {own["version"] for own in json.loads(second[SLIPS]).values()} == {1}
    assert stayed_told(first, 1) is None
    told = stayed_told(second, 2)
    assert (told.get("changed"), told.get("all")) == (0, PILOTS)
    each_page_is_whole(first, second)


def papers(files):
    return {n for n in files if n.endswith(".pdf")}


def test_slips_that_changed_stand_beside_those_of_all_in_one_folder(ledger):
    """What was handed out is not overwritten with less, nor by the papers of a task."""
    first, _, _ = put_all_up(ledger)
    another_balloon(ledger)
    second, _, _ = put_all_up(ledger)
    told = stayed_told(second, 2)
    assert (told.get("changed"), told.get("all")) == (1, PILOTS)
    assert papers(first) == {"slips.pdf"}
    assert papers(second) == {"slips-version-2.pdf"} == {told.get("paper")}
    task, _, _ = put_all_up(ledger, tasks=(1,))
    assert papers(task) == {"slips-task-1.pdf"}
    another_balloon(ledger)
    later, _, _ = put_all_up(ledger, tasks=(1,))
    assert papers(later) == {"slips-task-1-version-4.pdf"}


def each_page_is_whole(first, files):
    """A page that stays finds the picture of its own head, and is the newest."""
    newest = json.loads(files["site/newest.json"])
    for name in kept(files):
        text = content(files[name]).decode()
        (picture,) = re.findall(r'<img src="(head-[^"]+)"', text)
        assert content(files[f"site/{picture}"]) == first[f"site/{picture}"]
        own = newest["pages"][name.removeprefix("site/")]
        assert f'data-edition="{own["edition"]}"' in text
        assert own["edition"] != newest["edition"]
        assert "Provisional, version 1" in text
    listed = content(files["site/pages.txt"]).decode().split()
    assert {f"site/{name}" for name in listed} >= {n for n in files if "head-" in n}


@pytest.mark.parametrize("change", [another_distance, another_name])
def test_only_pages_that_would_say_the_same_stay(ledger, change):
    """Held against all pages made anew; what says the version is left out of both."""
    before_, _, _ = put_all_up(ledger)
    change(ledger)
    files, _, of = put_all_up(ledger)
    anew = write_site(of.results, of.event, of.stamp, of.tracks)
    changed = set()
    for name, page in before_.items():
        if PAGE.fullmatch(name):
            new = content(anew[name.removeprefix("site/")])
            one, other = (OF_A_VERSION.sub("", p.decode()) for p in (page, new))
            changed |= {name} if one != other else set()
            assert name in kept(files) or content(files[name]) == new
    assert changed
    assert not changed & kept(files)
    slips = json.loads(files[SLIPS])
    numbers = {re.search(r"\d+", name)[0] for name in changed}
    assert {n for n, own in slips.items() if own["version"] == 2} >= numbers


def test_what_each_version_changed_is_told_as_it_was_told_then(ledger, monkeypatch):
    """No older results are compared again: that takes longer with each version."""
    put_all_up(ledger)
    another_distance(ledger)
    _, _, second = put_all_up(ledger)
    found = changes_of(ledger, ledger.state().publications[-1])
    monkeypatch.setattr(edition, "changes_of", None)
    _, _, third = put_all_up(ledger)
    told = [own.changes for own in third.stamp.earlier]
    assert told == [second.stamp.changes, ()]
    voice = second.results.voice
    assert told[0] == tuple(voice.say(change.says) for change in found) != ()


def test_what_was_withdrawn_is_made_again(ledger):
    put_all_up(ledger)
    another_name(ledger)
    made, entry, _ = put_all_up(ledger)
    ledger.record(Withdrawn(entry=entry.hash), why="wrong name")
    files, _, _ = put_all_up(ledger)
    assert kept(made) == kept(files)
    assert {own["version"] for own in json.loads(files[SLIPS]).values()} <= {1, 3}


def test_slips_of_a_task_follow_those_of_that_task(ledger):
    put_all_up(ledger)
    one, two = (put_all_up(ledger, tasks=(1,))[0] for _ in range(2))
    assert stayed_told(one, 2) is None
    assert stayed_told(two, 3).get("changed") == 0
    assert len(kept(one)) == len(kept(two)) == PILOTS


@pytest.mark.parametrize(
    "data", [b"", b"[]", b"{", b'{"1": 1}', b'{"1": {"version": 1}}']
)
def test_a_list_that_is_none_keeps_nothing(ledger, data):
    *_, computed = score_ledger(ledger, WARM)
    ready = prepare(ledger, computed, Stage.PROVISIONAL)
    put_up(ledger, ready, {SLIPS: data, "site/newest.json": data})
    found = before(ledger, ())
    assert not found.slips
    assert not found.pages


def with_stage(stamp, **changes):
    known = {"task": 1, "state": Binding.PROVISIONAL, "version": 3}
    return replace(stamp, tasks=(TaskStage(**(known | changes)),))


@pytest.mark.parametrize(
    ("change", "stays"),
    [
        (partial(replace, version=4), True),
        (partial(replace, published_at="2026-09-13T10:05:00Z"), True),
        (partial(replace, head="1:" + "0" * 32), True),
        (partial(replace, results_sha256="0" * 64), True),
        (partial(replace, by="Somebody Else", why="a reason", changes=("one",)), True),
        (partial(with_stage, version=4), True),
        (partial(with_stage, state=Binding.OFFICIAL), False),
        (partial(with_stage, complaint_end="2026-09-12T18:00:00Z"), False),
        (partial(replace, state=Binding.OFFICIAL), False),
        (partial(replace, complaint_end="2026-09-12T18:00:00Z"), False),
        (partial(replace, site_url="https://example.org/other"), False),
    ],
)
def test_a_new_stage_or_time_for_complaints_changes_each_page_a_new_version_none(
    results, event, stamp, change, stays
):
    old = with_stage(stamp)
    one, other = (
        Contents(sheet, {}).of(breakdowns(sheet)[1])
        for sheet in (
            Sheet(results=results, event=event, stamp=s) for s in (old, change(old))
        )
    )
    assert one
    assert (one == other) is stays


def test_what_only_officials_may_read_is_in_no_hash(results, event, stamp):
    """A hash goes up: columns of the roster could be guessed by it."""
    told = tuple(replace(p, extra={"phone": "0170"}, papers=True) for p in event.pilots)
    one, other = (
        Contents(sheet, {}).of(breakdowns(sheet)[1])
        for sheet in (
            Sheet(results=results, event=e, stamp=stamp)
            for e in (event, replace(event, pilots=told))
        )
    )
    assert one == other


def test_what_is_kept_of_logs_is_told_apart_once_their_air_is_set_down(ledger):
    """Of a flight that is not scored anew all else is the same."""
    keep = Keep()
    put_all_up(ledger, keep=keep)
    _, _, first = put_all_up(ledger, keep=Keep())
    _, _, again = put_all_up(ledger, keep=keep)
    assert again.results.flights == first.results.flights
    (flight,), (task,) = again.results.flights, again.results.tasks
    before = replace(again.results, flights=(replace(flight, air_kept=False),))
    keys = {key_of_part(again.whole, "rows", part) for part in (flight, task)}
    old = Sheet(results=before, event=again.event, stamp=again.stamp, keep=keep)
    assert key_of_part(old, "rows", before.flights[0]) not in keys
    assert key_of_part(old, "rows", task) in keys
