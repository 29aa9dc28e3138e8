"""What a measurement counts from, before anything is scored."""

from collections.abc import Sequence

from scorer.event.model import Declaration, Keying, Task
from scorer.geodesy.placed import Spot
from scorer.geodesy.site import Site


def taped_spot(
    site: Site,
    task: Task,
    keying: Keying | None,
    declarations: Sequence[Declaration] = (),
) -> Spot | None:
    """Return the point that a keyed distance counts from: pass it to `reduce_keying`.

    The place keyed under `from`; else the task's first target; else, in a task where
    pilots declare goals, the only named goal that this pilot declared.  None = nothing
    says so, and a distance alone is no mark then.
    """
    named = (keying.from_place if keying else None) or task.target
    if named is not None:
        return site.spots.get(named)
    folded = {name.casefold(): spot for name, spot in site.spots.items()}
    declared = {" ".join(d.goal.split()).casefold() for d in declarations}
    goals = [folded[name] for name in declared if name in folded]
    return goals[0] if len(goals) == 1 and len(declared) == 1 else None
