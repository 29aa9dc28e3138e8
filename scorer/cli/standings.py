"""Print standings of the field, of classes and of teams."""

from scorer.cli.columns import show_table
from scorer.cli.screen import say
from scorer.event.model import Units
from scorer.scoring.results import Results, Standing, StandingsTable, TaskResult
from scorer.scoring.words import show_part, show_total


def show_standings(scored: Results, names: dict[int, str], units: Units) -> None:
    """Print all standings that the results have."""
    _pilots(scored.standings, "Standings", scored, names, units)
    for part in scored.class_standings:
        _pilots(part, f"Standings of class {part.title}", scored, names, units)
    if scored.team_standings is not None:
        _teams(scored.team_standings, names, units)
    best_of = scored.standings_rule.best_of
    if best_of is not None:
        say(f"The best {best_of} tasks count; others stand in brackets.")


def _pilots(
    own: StandingsTable,
    title: str,
    scored: Results,
    names: dict[int, str],
    units: Units,
) -> None:
    tasks = [t for t in scored.tasks if t.state == "flown"]
    columns = (
        ("Rank", "right"),
        ("No.", "right"),
        ("Pilot", "name"),
        *((f"Task {task.task}", "shed") for task in tasks),
        ("Event pen.", "spare"),
        _total_column(own),
    )
    rows = [
        (
            str(row.rank),
            str(row.pilot),
            names.get(row.pilot, ""),
            *(_cell(row, own, task, units) for task in tasks),
            f"−{row.event_penalty}" if row.event_penalty else "",
            show_total(row, own, units),
        )
        for row in own.rows
    ]
    show_table(f"\n{title}", columns, rows)


def _total_column(own: StandingsTable) -> tuple[str, str]:
    return ("Result" if own.by == "result" else "Total", "right")


def _cell(row: Standing, own: StandingsTable, task: TaskResult, units: Units) -> str:
    """Print one task's part in a line; in brackets if it does not count."""
    text = show_part(row, own, task, units)
    return text if task.task in row.counted or not text else f"({text})"


def _teams(own: StandingsTable, names: dict[int, str], units: Units) -> None:
    teams = list(own.teams.items())
    columns = (
        ("Rank", "right"),
        ("Team", "name"),
        _total_column(own),
        ("Pilots that count", "text"),
    )
    rows = []
    for row in own.rows:
        name, members = teams[row.pilot - 1]
        who = ", ".join(f"{number} {names.get(number, '')}" for number in members)
        rows.append((str(row.rank), name, show_total(row, own, units), who))
    show_table("\nStandings of teams", columns, rows)
