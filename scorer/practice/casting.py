"""Who plays which part in a flight."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from scorer.practice.scenes import FlightScene, Role, TaskScene


@dataclass(frozen=True, slots=True, kw_only=True)
class PilotPart:
    """One pilot's part in one flight."""

    role: Role
    partner: int | None = None
    """The other pilot of a mix-up."""
    side: float = 1.0
    """Side on which a wide flight passes the target, right positive."""
    goal: str = ""
    """The declared goal, in a flight where pilots choose."""

    def target(self, task: TaskScene) -> str:
        """Return the place that this pilot's distance counts from."""
        return task.target or self.goal


Cast = Mapping[int, PilotPart]

_PAIRS = {Role.SWAPPED: Role.SWAPPED, Role.WRONG_NUMBER: Role.WIDE}


def cast(
    scene: FlightScene, pilots: int, taken: set[int], rng: np.random.Generator
) -> Cast:
    """Give each part of the scene to a pilot of its own; `taken` have had theirs.

    Where there are more parts than pilots left, the last parts are not played.
    """
    order = [int(n) + 1 for n in rng.permutation(pilots)]
    order = [n for n in order if n not in taken]
    parts = {number: PilotPart(role=Role.CLEAN) for number in range(1, pilots + 1)}
    roles = list(scene.cast)
    while roles and order:
        role = roles.pop(0)
        other = _PAIRS.get(role)
        if other is None:
            parts[order.pop(0)] = PilotPart(role=role)
        elif other in roles and len(order) > 1:
            roles.remove(other)
            one, two = order.pop(0), order.pop(0)
            parts[one] = PilotPart(role=role, partner=two, side=-1.0)
            parts[two] = PilotPart(role=other, partner=one)
    return {n: replace(part, goal=_goal(scene, rng)) for n, part in parts.items()}


def _goal(scene: FlightScene, rng: np.random.Generator) -> str:
    goals = [name for task in scene.tasks for name, _, _ in task.goals]
    return str(rng.choice(goals)) if goals else ""
