"""How fast the window answers: marks, decisions, previews, pages, rows, stopping.

    python -m tests.bench.window 60
    python -m tests.bench.window 275

Each line: what was done; processor time of the window's own thread and of its workers,
seconds; the first as multiples of a fixed piece of the standard library's `json`, so that
machines compare; the longest that the window heard no key, seconds of its thread; and by
the clock from the key to what it brought, a mark to standings that hold it say (the goal
with 275 pilots: 0.3 s).  Other processes that read logs are not counted: here no log is new.
Pages are looked at for a moment before anything is done on them, and so are rows, gone
through with the arrow key; what the window draws meanwhile counts as turns.
"""

# ruff: noqa: T201

import json
import os
import sys
import tempfile
import time
from dataclasses import dataclass, replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("SANDTAIL_DESK", "bench-000000")

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from gui.home import Home
from gui.models.decision import Deciding, draft_of
from gui.models.giving import Giving
from gui.models.many import Many, try_many
from gui.window import Window
from scorer.event.finding import Amount
from scorer.event.model import Decision, PenaltyUnit
from scorer.ledger.acts import MarkKeyed
from scorer.ledger.api import import_folder, new_desk
from scorer.ledger.tried import try_out
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.progress import Control
from scorer.scoring.score import score

PILOTS, FIXES = 60, 2400
PATIENCE_S = 1800.0
ROWS, LOOK_S = 12, 0.2
"""How many rows are gone through, and how long somebody looks at each."""
TURNS: list[float] = []
"""How long turns of the window's thread took since something was begun."""


@dataclass
class Spent:
    """Processor time of the window's thread and of the rest of the process."""

    own_s: float
    rest_s: float
    longest_s: float
    """The longest turn of the window's thread."""
    wall_s: float
    """From beginning to end, by the clock."""


def plain_s():
    """Return what a fixed piece of `json` takes, the least of five."""
    tree, least = [{"n": n, "text": str(n)} for n in range(5000)], 1e9
    for _ in range(5):
        begun = time.thread_time()
        json.loads(json.dumps(tree))
        least = min(least, time.thread_time() - begun)
    return least


def turn(work):
    """Do what is one turn of the window's thread."""
    begun = time.thread_time()
    work()
    TURNS.append(time.thread_time() - begun)


def until(app, ready):
    """Let the window work until something is so."""
    end = time.monotonic() + PATIENCE_S
    while not ready():
        if time.monotonic() > end:
            raise TimeoutError
        turn(app.processEvents)
        time.sleep(0.001)


def spent(work):
    """Return what some work costs here and in the workers."""
    TURNS.clear()
    own, whole, begun = time.thread_time(), time.process_time(), time.monotonic()
    work()
    own, whole = time.thread_time() - own, time.process_time() - whole
    return Spent(
        own_s=own,
        rest_s=whole - own,
        longest_s=max(TURNS, default=own),
        wall_s=time.monotonic() - begun,
    )


def tell(what, cost, plain):
    """Print a line."""
    print(
        f"{what:32} {cost.own_s:7.3f} {cost.rest_s:7.3f} {cost.own_s / plain:7.1f}"
        f" {cost.longest_s:7.3f} {cost.wall_s:7.3f}",
        flush=True,
    )


def opened(app, pilots, place):
    """Return the window with a meet of so many pilots, scored."""
    folder, file = place / "meet", place / "meet.sandtail"
    write_meet(make_meet(crowd(pilots=pilots, fixes=FIXES), 3), folder)
    import_folder(folder, file, desk=new_desk("bench"), who="Merel")
    window = Window(Home(settings_file=place / "w.ini", data=place / "data"))
    window.resize(1280, 800)
    window.tidy.idle_s = 1e9  # nothing here comes through the system: nobody is away
    window.show()
    window.open_target(str(file), "Merel")
    until(app, lambda: window.session.up_to_date and not window.ahead.busy)
    return window


def a_mark(window):
    """Correct one mark by a centimetre."""
    snapshot = window.session.snapshot
    current, act = next(iter(snapshot.state.all_of(MarkKeyed)))
    typed = {**act.fields, "distance": "12.34 m"}
    corrected = MarkKeyed(flight=act.flight, fields=typed)
    window.session.record(corrected, why="read again", replaces=current.ids)


def a_decision(window):
    """Waive the first infringement that nobody decided."""
    session, results = window.session, window.session.results.results
    open_ = (r for r in results.findings if not r.ruling)
    wanted = Deciding(ruled=next(open_), decision=Decision.WAIVE, why="bench")
    draft = draft_of(wanted, session.snapshot, session.ledger, session.who)
    session.record_all([draft])


def measure(app, window):
    """Print all lines."""
    session, plain = window.session, plain_s()
    print(
        f"{'':32} {'window':>7} {'workers':>7} {'ratio':>7} {'longest':>7} {'clock':>7}"
    )
    for page in window.pages[1:]:
        window.go("start")
        until(app, waited(LOOK_S))
        cost = spent(lambda p=page: turn(lambda: window.go(p.name)))
        until(app, waited(LOOK_S))
        tell(f"page {page.title}", replace(cost, longest_s=max(TURNS)), plain)
    for name in ("matters", "results", "keying"):
        window.go(name)
        until(app, waited(LOOK_S))

        def mark():
            turn(lambda: a_mark(window))
            until(app, lambda: session.up_to_date and not session.pending)

        tell(f"mark to standings, on {window.page.title}", spent(mark), plain)
    what_if(app, window, plain)
    for name in ("findings", "results"):
        window.go(name)
        until(app, waited(LOOK_S))

        def decision():
            turn(lambda: a_decision(window))
            until(app, lambda: session.up_to_date and not session.pending)

        tell(f"a decision, on {window.page.title}", spent(decision), plain)
    for name in ("matters", "roster", "logs", "findings", "results"):
        window.go(name)
        until(app, waited(LOOK_S))
        cost = spent(lambda: down(app, window))
        tell(f"{ROWS} rows of {window.page.title}", cost, plain)
    preview(window, plain)
    stopping(app, window)


def what_if(app, window, plain):
    """Ask with F4 what the mark in the entry line would change."""
    session, keying = window.session, window.page
    current, act = next(iter(session.snapshot.state.all_of(MarkKeyed)))
    session.choose_task(int(act.fields["task"]))
    for distance in ("23.45 m", "34.56 m"):
        keying.clear()
        keying.line.put({"pilot": act.fields["pilot"], "distance": distance})
        keying._replaces = current.ids  # as F7 of who entered it

        def asked():
            turn(lambda: QTest.keyClick(keying.line.distance, Qt.Key.Key_F4))
            until(app, lambda: keying.trial.jobs.busy)
            until(app, lambda: not keying.trial.jobs.busy)

        tell("what a mark would change (F4)", spent(asked), plain)
    keying.clear()


def waited(time_s):
    """Return what tells whether a while has gone by."""
    end = time.monotonic() + time_s
    return lambda: time.monotonic() > end


def down(app, window):
    """Go through rows of the list that has the keyboard."""
    rows = window.focusWidget()
    for _ in range(ROWS):
        turn(lambda: QTest.keyClick(rows, Qt.Key.Key_Down))
        until(app, waited(LOOK_S))


def preview(window, plain):
    """Preview a bonus for one pilot, and many decisions together."""
    session, ledger = window.session, window.session.ledger
    pilot = session.results.results.tasks[0].scores[0].pilot
    bonus = Amount(amount=20.0, unit=PenaltyUnit.TASK_POINTS)
    given = Giving(
        pilot=pilot, task=1, decision=Decision.BONUS, amount=bonus, why="bench"
    )
    draft = given.draft(session.snapshot, ledger, "Merel")
    cost = spent(lambda: try_out(ledger, [draft], scoring=session.pool.score))
    tell("preview of one decision", cost, plain)
    voice = session.results.results.voice
    chosen = [r for r in session.results.results.findings if r.ruling is None][:23]
    many = replace(Many.of(Decision.WAIVE, chosen, voice), why="bench")
    drafts = many.drafts(session.snapshot, ledger, "Merel")
    cost = spent(lambda: try_many(ledger, drafts, session.pool, Control()))
    tell(f"preview of {len(drafts)} together", cost, plain)


def stopping(app, window):
    """Have everything scored from nothing, stop it, and see when it has stopped."""
    event, jobs = window.session.publishable.event, window.jobs
    jobs.start(lambda control: score(event, control=control), text="Reading logs")
    until(app, lambda: window.frame.foot.bar.value() > 0)
    asked, own = time.monotonic(), time.thread_time()
    window.cancel_job()
    app.processEvents()
    answered = time.thread_time() - own
    until(app, lambda: not jobs.busy)
    took = time.monotonic() - asked
    print(f"stopping: answered after {answered:.3f} s, stopped after {took:.2f} s")


def main():
    """Run it."""
    pilots = int(sys.argv[1]) if len(sys.argv) > 1 else PILOTS
    app = QApplication(sys.argv[:1])
    with tempfile.TemporaryDirectory() as place:
        window = opened(app, pilots, Path(place))
        measure(app, window)
        window.close()


if __name__ == "__main__":
    main()
