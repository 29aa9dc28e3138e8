"""Work from what was entered to what was published, where the rows travel in the file."""

from collections.abc import Iterator, Mapping
from typing import Any

from scorer.recount.alike import check_alike
from scorer.recount.clocks import check_clocks, check_dates
from scorer.recount.decided import check_decided, check_named, check_reported
from scorer.recount.ends import check_ends
from scorer.recount.entries import (
    check_entries_said,
    check_places,
    check_settled,
    places_named,
)
from scorer.recount.evidence import check_evidence
from scorer.recount.forms import check_forms
from scorer.recount.numbers import Difference
from scorer.recount.seen import check_seen
from scorer.recount.spread import check_remeasure, check_spread
from scorer.recount.statements import check_statements
from scorer.recount.survey import check_survey
from scorer.recount.way import ONE_LEG, check_way
from scorer.recount.who import check_who

KEY = "entered"


def check_whole(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield all that does not follow from rows, roster and statements."""
    yield from check_forms(results)
    yield from check_statements(results)
    yield from check_alike(results)
    yield from check_evidence(results)
    yield from check_who(results)
    yield from check_decided(results)
    yield from check_reported(results)
    yield from check_named(results)
    yield from check_seen(results)
    yield from check_survey(results)
    yield from check_dates(results)
    yield from check_ends(results)
    yield from check_settled(results)
    known = places_named(results)
    findings = {finding["id"]: finding for finding in results["findings"]}
    for task in results["tasks"]:
        where = f"task {task['task']}"
        for score in task["scores"]:
            own = f"{where}, pilot {score['pilot']}"
            if task["kind"] in ONE_LEG:  # others name places in settings of their own
                yield from check_places(own, score, known)
            yield from check_entries_said(own, score, results[KEY]["units"])
            yield from check_clocks(own, score)
            yield from check_way(own, task, score, findings)
        fields = dict.fromkeys(score["field"] for score in task["scores"])
        for name in fields:
            among = [score for score in task["scores"] if score["field"] == name]
            yield from check_spread(where, task, among)
        yield from check_remeasure(where, task)
