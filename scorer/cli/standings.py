"""Print standings of the field, of classes and of teams."""

from scorer.cli.columns import show_table
from scorer.cli.screen import say
from scorer.facts import fact, task, words
from scorer.scoring import told
from scorer.scoring.results import Results, StandingsTable
from scorer.words.voice import Voice


def show_standings(scored: Results) -> None:
    """Print all standings that the results have."""
    voice = scored.voice
    _pilots(scored.standings, voice.word("title-standings"), scored)
    for part in scored.class_standings:
        title = fact("title-standings-class", name=words(part.title))
        _pilots(part, voice.say(title), scored)
    if scored.team_standings is not None:
        _teams(scored.team_standings, voice)
    if scored.standings_rule.best_of is not None:
        say(told.brackets(voice, scored))


def _pilots(own: StandingsTable, title: str, scored: Results) -> None:
    voice = scored.voice
    tasks = [t for t in scored.tasks if t.state == "flown"]
    heads = (voice.say(fact("head-task-number", task=task(t.task))) for t in tasks)
    columns = (
        (voice.word("head-rank"), "right"),
        (voice.word("head-number"), "right"),
        (voice.word("head-pilot"), "name"),
        *((head, "shed") for head in heads),
        (voice.word("head-competition-penalty"), "spare"),
        (told.total_head(voice, own), "right"),
    )
    rows = [
        (
            str(row.rank),
            str(row.pilot),
            voice.pilots.get(row.pilot, ""),
            *(told.cell(voice, row, own, task) for task in tasks),
            told.minus(voice, row.event_penalty),
            told.total(voice, row, own),
        )
        for row in own.rows
    ]
    show_table(f"\n{title}", columns, rows)
    if any(told.DASH in row for row in rows):
        say(told.legend_dash(voice, own))


def _teams(own: StandingsTable, voice: Voice) -> None:
    teams = list(own.teams.items())
    columns = (
        (voice.word("head-rank"), "right"),
        (voice.word("head-team"), "name"),
        (told.total_head(voice, own), "right"),
        (voice.word("head-team-pilots"), "text"),
    )
    rows = []
    for row in own.rows:
        name, members = teams[row.pilot - 1]
        who = ", ".join(voice.pilot(number) for number in members)
        rows.append((str(row.rank), name, told.total(voice, row, own), who))
    show_table(f"\n{voice.word('title-standings-teams')}", columns, rows)
