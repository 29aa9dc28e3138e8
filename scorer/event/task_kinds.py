"""The registry of task kinds: codes, units, needs, keys and measure in one declaration.

Kinds are declared in `scorer.tasks.kinds`, beside their measure.  In the catalogue stand
a kind's name, `task-kind-CODE`, and what it measures, `task-kind-CODE-about`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from scorer.facts import Fact, Measure, fact
from scorer.registry import Registry


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskSetting:
    """A further key of a `[[task]]`: how it is read and what it means."""

    key: str
    kind: str
    """Names a reader in `scorer.tasks.settings`."""
    doc: str
    default: object = None
    """As it would be written; None = not set."""
    choices: tuple[str, ...] = ()
    required: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskKind:
    """One task kind of the published model event rules, or one of our own."""

    code: str
    """As in flight.toml and results.json; never changes."""
    unit: str = "m"
    """`m`, `deg`, `km2` or `s`."""
    best: str = "smallest"
    """`smallest` or `greatest`."""
    measure: Callable[[Any], Any]
    """From a `scorer.tasks.work.Work` to a `Quantity`; use `scorer.tasks.measure.measure`
    instead."""
    settings: tuple[TaskSetting, ...] = ()
    one_of: tuple[str, ...] = ()
    """Keys of which at least one must be given."""
    targets: tuple[int, int | None] = (0, None)
    """Least and greatest number of targets the task must give; None = any."""
    areas: int = 0
    """Least number of scoring areas."""
    areas_or: str = ""
    """Key that does instead of scoring areas."""
    roles: tuple[str, ...] = ()
    """Roles that a place, a mark or the launch may fill."""
    marked: bool = True
    """Whether every pilot who flew has a mark; else the log alone can give the result."""
    declared: bool = False
    """Whether pilots declare their goals."""
    race: bool = False
    """Whether metres are shown as kilometres."""
    example: str
    """What such a `[[task]]` says beyond number and kind, for the manual."""

    @property
    def title(self) -> Fact:
        """What it is called."""
        return fact(f"task-kind-{self.code.casefold()}")

    @property
    def about(self) -> Fact:
        """What is measured."""
        return fact(f"task-kind-{self.code.casefold()}-about")


TASK_KINDS: Registry[TaskKind] = Registry("task", "scorer.tasks.kinds")
"""Every kind by its code."""

MEASURES = {
    "m": Measure.LENGTH,
    "km": Measure.DISTANCE,
    "deg": Measure.ANGLE,
    "km2": Measure.AREA,
    "s": Measure.TAKEN,
}
"""What results in a task kind's unit count."""


def measure_of(unit: str, kind: str = "") -> Measure:
    """Return what results of a task kind count: the metres of a race are a long way."""
    known = TASK_KINDS.get(kind)
    return Measure.RACE if known and known.race else MEASURES[unit]
