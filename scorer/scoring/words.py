"""Results in words: as people at the event read them, metres beside feet."""

from fractions import Fraction

from scorer.event.finding import Finding
from scorer.event.model import Units
from scorer.rounding import half_up
from scorer.scoring.results import Score, Standing, StandingsTable, TaskResult
from scorer.units import in_unit, show_length

UNIT_NAMES = {"m": "m", "km": "km", "deg": "°", "km2": "km²", "s": "s"}


def show_result(value: float, task: TaskResult, units: Units) -> str:
    """Print a result with its unit; beside metres what people at the event read."""
    if task.race:
        return show_race(value, units)
    plain = f"{half_up(value, task.decimals)} {UNIT_NAMES[task.unit]}"
    if task.unit == "deg":
        return plain.replace(" °", "°")
    beside = in_feet(value, task, units)
    return f"{plain} ({beside})" if beside else plain


def show_score(score: Score, task: TaskResult, units: Units) -> str:
    """Print a pilot's result; feet and inches are of the measurement, before rounding."""
    if score.result is None:
        return ""
    beside = score_in_feet(score, task, units)
    if not beside or task.race:
        return show_result(score.result, task, units)
    return f"{half_up(score.result, task.decimals)} m ({beside})"


def score_in_feet(score: Score, task: TaskResult, units: Units) -> str:
    """Print a result as it was taped, penalty put in; empty where not read so."""
    if score.result is None or score.measured is None:
        return ""
    sign = -1 if task.best == "greatest" else 1
    exact = max(score.measured + sign * score.metres_penalty, 0.0)
    return in_feet(exact, task, units)


def in_feet(value: float, task: TaskResult, units: Units) -> str:
    """Print a result in feet and inches, or miles of a race; empty where not read so."""
    if units is not Units.IMPERIAL or task.unit != "m":
        return ""
    if task.race:
        return f"{half_up(in_unit(value, 'mi'), 2)} mi"
    return show_length(value, units)


def sigma_decimals(task: TaskResult) -> int:
    """Return with how many decimals a sigma is shown: square kilometres are large."""
    return 4 if task.unit == "km2" else 2


def show_race(metres: float, units: Units) -> str:
    """Print a distance of a race: kilometres to the metre."""
    plain = f"{half_up(Fraction(repr(metres)) / 1000, 3)} km"
    if units is Units.IMPERIAL:
        return f"{plain} ({half_up(in_unit(metres, 'mi'), 2)} mi)"
    return plain


def show_part(
    row: Standing, table: StandingsTable, task: TaskResult, units: Units
) -> str:
    """Print what one task adds to a line of standings; empty where it adds nothing."""
    if table.by != "result":
        return str(row.tasks.get(task.task, ""))
    value = row.results.get(task.task)
    return "" if value is None else show_result(value, task, units)


def show_total(row: Standing, table: StandingsTable, units: Units) -> str:
    """Print what a line of standings comes to: points, or results added up."""
    if table.by != "result":
        return str(row.total)
    if row.result is None:
        return "no result"
    if table.unit == "m" and table.best == "greatest":
        return show_race(row.result, units)
    plain = f"{half_up(row.result, 2)} {UNIT_NAMES[table.unit]}"
    if table.unit == "m" and units is Units.IMPERIAL:
        return f"{plain} ({show_length(row.result, units)})"
    return plain


def show_evidence(finding: Finding) -> str:
    """Print where a finding's evidence is, with the hash of a log."""
    digest = f", SHA-256 {finding.sha256}" if finding.sha256 else ""
    return f"{finding.evidence}{digest}"
