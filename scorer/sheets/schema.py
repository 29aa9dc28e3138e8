"""The JSON schema of results.json, with every kind there is."""

import json
from importlib import resources
from typing import Any

from scorer.event.finding import Verdict, finding_kinds
from scorer.event.matter import KINDS as MATTER_KINDS
from scorer.event.model import PenaltyUnit, TaskState
from scorer.event.task_kinds import TASK_KINDS
from scorer.scoring.results import Group, RulingState


def results_schema() -> dict[str, Any]:
    """Return the schema: the tree of `results.schema.json` with the kinds put in.

    Kinds come from the registries, so that a new one never breaks its own schema.
    """
    text = resources.files("scorer.sheets").joinpath("results.schema.json")
    tree: dict[str, Any] = json.loads(text.read_text(encoding="utf-8"))
    defs = tree["$defs"]
    task, score, finding = (
        defs[name]["properties"] for name in ("task", "score", "finding")
    )
    warning = tree["properties"]["warnings"]["items"]["properties"]
    matter = tree["properties"]["matters"]["items"]["properties"]
    for place, kinds in (
        (task["kind"], TASK_KINDS),
        (task["unit"], dict.fromkeys(kind.unit for kind in TASK_KINDS.values())),
        (task["state"], TaskState),
        (score["group"], Group),
        (finding["kind"], finding_kinds()),
        (finding["verdict"], Verdict),
        (defs["penalty_unit"], PenaltyUnit),
        (defs["ruling"], RulingState),
        (warning["kind"], MATTER_KINDS),
        (matter["kind"], MATTER_KINDS),
    ):
        place["enum"] = [str(kind) for kind in kinds]
    return tree
