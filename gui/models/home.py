"""Open matters as the home shows them, and a card for each task.

Both come from the one list of matters: the rows of the home, the counts of the rail and
what is left on the cards are the same matters, counted once each.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from gui.models.checklist import ChecklistPart, part_of
from gui.models.matters import MatterList, MatterRow
from gui.parts.rows import ListRow, head
from gui.parts.signs import RowSign
from gui.places_of import page_of
from gui.seen import StagesUp
from gui.snapshot import ScoredSnapshot, Snapshot, flight_said
from scorer.event.matter import Blocks, Decides, Matter
from scorer.event.model import Event, Task, TaskState
from scorer.event.moments import EventTime
from scorer.facts import count, fact, number, words
from scorer.scoring.results import Results
from scorer.words.voice import Voice

CARD_PARTS = (
    ChecklistPart.ACCOUNTED,
    ChecklistPart.TWICE,
    ChecklistPart.FIT,
    ChecklistPart.LOGS,
    ChecklistPart.DECIDED,
)


def open_matters(listed: MatterList, task: Task | None) -> tuple[Matter, ...]:
    """Return what is open: all of it, or what concerns one task."""
    return tuple(row.matter for row in open_rows(listed, task))


def open_rows(listed: MatterList, task: Task | None) -> tuple[MatterRow, ...]:
    """Return the same with what is said of it."""
    return tuple(
        row
        for row in listed.rows
        if row.matter.is_open and (task is None or concerns(row.matter, task))
    )


def concerns(matter: Matter, task: Task) -> bool:
    """Tell whether a matter is about a task, its flight, or the whole event."""
    if matter.task is not None:
        return matter.task == task.number
    return matter.flight in {"", task.flight}


def counts_of(matters: Iterable[Matter]) -> Counter[str]:
    """Count matters by the page on which they are closed."""
    return Counter(page_of(matter) for matter in matters)


class HomeRows:
    """The list of the home; a row is made once as long as its matter says the same."""

    def __init__(self) -> None:
        self._made: dict[int, tuple[MatterRow, ListRow]] = {}
        """By which object a matter's row is, which is held here."""

    def of(self, listed: Sequence[MatterRow], titles: dict[str, str]) -> list[ListRow]:
        """List matters under what they keep results from; `titles` are those of pages."""
        before = self._made
        self._made = {
            id(row): before.get(id(row)) or (row, _row(row, titles)) for row in listed
        }
        rows = []
        for blocks in Blocks:
            found = [row for row in listed if row.matter.blocks is blocks]
            if found:
                rows.append(head(found[0].voice.word(f"home-{blocks}"), len(found)))
                rows += [self._made[id(row)][1] for row in found]
        return rows


def _row(row: MatterRow, titles: dict[str, str]) -> ListRow:
    matter, voice, says = row.matter, row.voice, row.beside
    blocks = matter.blocks is not Blocks.NOTHING
    page = titles[page_of(matter)]
    at = f"{page}  ›"
    one = matter.pilot
    where = _where(matter, voice)
    if one is not None:
        name = voice.pilots.get(one, "")
    elif matter.pilots:
        name = voice.say(fact("home-pilots", pilots=count(len(matter.pilots))))
    else:
        name = page if blocks else where
    first, then = first_and_rest(says) or (voice.title(matter.kind.name), says)
    then = f"{then[:1].upper()}{then[1:]}"
    if then and first == name:  # how many it is about stands beside it already
        first, _, then = then.rstrip(".").partition(", ")
    return ListRow(
        key=matter.key,
        number=str(one) if one is not None else "",
        name=name,
        second=where if blocks else "",
        says=first if blocks else says,
        then=then if blocks else "",
        at=at,
        sign=RowSign.WAITS if matter.kind.decides is Decides.JURY else RowSign.NONE,
        strong=blocks,
        link=True,
        data=matter,
    )


def next_step(event: Event) -> tuple[str, str]:
    """Return the page to go on with where nothing is open, and in a word why.

    An event that somebody just began lacks pilots and tasks; nothing of it can go up.
    """
    if not event.pilots:
        return "roster", "no-pilots"
    if not event.tasks:
        return "tasks", "no-tasks"
    return "publish", "nothing-open"


def first_and_rest(said: str) -> tuple[str, str] | None:
    """Part what is so from what counts for now, as matters say it.

    `67 ft where 75 ft is the minimum`, `not charged yet`; None where what is so is long.
    """
    for stop, most in STOPS.items():
        first, _, rest = said.partition(stop)
        if rest and first and len(first) <= most:
            return first, rest
    return None


def _where(matter: Matter, voice: Voice) -> str:
    if matter.task is not None:
        return voice.say(fact("home-task", task=number(matter.task)))
    if matter.flight:
        return voice.say(fact("home-flight", flight=words(matter.flight)))
    return voice.word("home-whole-event")


STOPS = {". ": 40, ": ": 56}
"""Where what is so may end, the better one first, and how long it may be there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """What is left of one sort of work in a task."""

    title: str
    left: int
    """Pilots or matters that still wait."""
    told: str
    total: int
    page: str
    """Name of the page on which it is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskCard:
    """One task: what is left to do, and what went up."""

    task: int
    title: str
    aside: str
    lines: tuple[CardLine, ...]
    stage: str
    """How it was published, in words."""
    up: bool
    """Whether it was published at all."""

    @property
    def left(self) -> int:
        """How much is left."""
        return sum(line.left for line in self.lines)


def task_cards(
    snapshot: Snapshot,
    scored: ScoredSnapshot | None,
    matters: Sequence[Matter],
    up: StagesUp,
) -> list[TaskCard]:
    """Return a card for each task that is not cancelled."""
    voice = Voice.of(snapshot.event)
    results = scored.results if scored else None
    tasks = (t for t in snapshot.event.tasks if t.state is not TaskState.CANCELLED)
    zone = ZoneInfo(snapshot.event.time_zone)
    return [
        _card(task, results, matters, voice, _stage(task, up, voice, zone))
        for task in tasks
    ]


def _card(
    task: Task,
    results: Results | None,
    matters: Sequence[Matter],
    voice: Voice,
    stands: tuple[str, bool],
) -> TaskCard:
    own = [m for m in matters if m.blocks is not Blocks.NOTHING and _of(m, task)]
    totals = _totals(task, results)
    lines = []
    for part in CARD_PARTS:
        in_part = [matter for matter in own if part_of(matter) is part]
        left = sum(max(len(matter.pilots), 1) for matter in in_part)
        total = max(totals.get(part, 0), left)
        said = fact("card-left", left=count(left), total=count(total))
        page = page_of(in_part[0]) if in_part else ""
        if left or totals.get(part):
            lines.append(
                CardLine(
                    title=voice.word(f"card-{part}"),
                    left=left,
                    told=voice.say(said) if left else str(totals.get(part, "")),
                    total=total,
                    page=page,
                )
            )
    stage, up = stands
    kind = voice.word(f"task-kind-{task.kind.lower()}")
    return TaskCard(
        task=task.number,
        title=voice.say(fact("home-task", task=number(task.number))),
        aside=f"{kind}, {flight_said(task.flight)}",
        lines=tuple(lines),
        stage=stage,
        up=up,
    )


def _of(matter: Matter, task: Task) -> bool:
    if matter.task is not None:
        return matter.task == task.number
    return bool(matter.flight) and matter.flight == task.flight


def _totals(task: Task, results: Results | None) -> dict[ChecklistPart, int]:
    found = results.task(task.number) if results else None
    if results is None or found is None:
        return {}
    logs = (f for f in results.flights if f.id == task.flight)
    marks = sum(len(score.marks) for score in found.scores)
    return {
        ChecklistPart.ACCOUNTED: len(found.scores),
        ChecklistPart.TWICE: marks,
        ChecklistPart.LOGS: sum(log.counts for flight in logs for log in flight.logs),
        ChecklistPart.DECIDED: sum(
            r.finding.task == task.number for r in results.findings
        ),
    }


def _stage(task: Task, up: StagesUp, voice: Voice, zone: ZoneInfo) -> tuple[str, bool]:
    """Say where a task stands as the board does; nothing while that cannot be read."""
    if up is None:
        return "", False
    now = up.get(task.number)
    if now is None:
        return voice.word("card-not-published"), False
    said = voice.say(
        fact(
            "card-published",
            stage=words(str(now.stage)),
            version=number(now.version),
            at=words(EventTime.of(now.at, zone).dated(seconds=False)),
        )
    )
    return f"{said[:1].upper()}{said[1:]}", True
