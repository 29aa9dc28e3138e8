"""A slip for each pilot: what was measured, found and decided, and the sum."""

from collections.abc import Collection

from scorer.event.model import Event
from scorer.facts import fact, number, words
from scorer.scoring import told
from scorer.scoring.results import Results, RuledFinding, Standing
from scorer.sheets.board import QR_SIDE, draw_qr, formula_line, result_paper
from scorer.sheets.breakdown import (
    Breakdown,
    TaskPart,
    breakdowns,
    entry_line,
    finding_facts,
    finding_heading,
    step_lines,
)
from scorer.sheets.paper import (
    CLAY,
    GREY,
    INK,
    LEADING,
    MM,
    Column,
    Paper,
    Row,
    draw_table,
)
from scorer.sheets.pictures import (
    Size,
    Tracks,
    finding_heights,
    finding_map,
    part_map,
)
from scorer.sheets.scene import Scene
from scorer.sheets.scene_pdf import place
from scorer.sheets.sheet import DASH, Sheet, clean
from scorer.sheets.stamp import Stamp
from scorer.sheets.typeface import wrapped

MAP = Size(width=62 * MM, height=46 * MM)
PLOT = Size(width=46 * MM, height=34 * MM)
HEAD_OF_PART = 18 * MM
"""Rule, heading and formula line of a task."""
GAP = 4 * MM
SMALL = 8.0


def write_slips(
    results: Results,
    event: Event,
    stamp: Stamp,
    tracks: Tracks,
    *,
    pilots: Collection[int] | None = None,
) -> bytes:
    """Return the pilots' slips as one PDF, in roster order, a new page for each.

    `pilots` picks competition numbers (None: all entered).  A pilot without a track in
    `tracks` gets the slip without map and profile, and it says so.
    """
    sheet = Sheet(results=results, event=event, stamp=stamp)
    paper = result_paper(sheet, sheet.word("title-slips"))
    for no, own in breakdowns(sheet).items():
        if pilots is not None and no not in pilots:
            continue
        of = sheet.say(fact("title-slip", number=number(no)))
        paper.head_right = f"{of} · {sheet.headline}"
        paper.new_page()
        _slip(paper, sheet, own, tracks)
    if not paper.page:
        paper.new_page()
        paper.paragraph(sheet.word("no-slip"))
    return paper.finished()


def _slip(paper: Paper, sheet: Sheet, own: Breakdown, tracks: Tracks) -> None:
    pilot, top = sheet.pilot(own.pilot), paper.y
    if sheet.stamp.site_url:
        page = f"{sheet.stamp.site_url.rstrip('/')}/pilot-{own.pilot}.html"
        x = paper.left + paper.room - QR_SIDE
        draw_qr(paper, page, x, top, sheet.word("code-this-page"))
    room = paper.room - (QR_SIDE + GAP if sheet.stamp.site_url else 0)
    title = f"{own.pilot} · {sheet.name(own.pilot)}"
    paper.heading(title, mark=True, room=room)
    more = (pilot.registration, pilot.class_name, pilot.country)
    about = " · ".join(clean(text) for text in more if text)
    if about:
        paper.paragraph(about, size=SMALL, colour=GREY)
    paper.skip(1.5 * MM)
    left_out = {sheet.word("fact-event"), sheet.word("fact-venue")}
    paper.facts([f for f in sheet.facts if f[0] not in left_out], size=7.5)
    if sheet.stamp.site_url:
        paper.y = min(paper.y, top - QR_SIDE - 4 * MM)
    paper.skip(3 * MM)
    _summary(paper, sheet, own)
    paper.skip(1 * MM)
    paper.paragraph(sheet.word("caution"), size=6.5, colour=GREY)
    for part in own.parts:
        _part(paper, sheet, part, tracks)
    if own.event_charges:
        paper.heading(sheet.word("title-competition-points"), size=11)
        for charge in own.event_charges:
            line = clean(told.charge_line(sheet.voice, charge))
            paper.paragraph(line, size=SMALL)


def _summary(paper: Paper, sheet: Sheet, own: Breakdown) -> None:
    columns = [
        Column(title=sheet.word("head-task"), share=28),
        Column(title=sheet.word("head-result"), share=18, align="right"),
        Column(title=sheet.word("head-rank"), share=8, align="right"),
        Column(title=sheet.word("head-points"), share=10, align="right"),
        Column(title=sheet.word("head-task-penalty"), share=13, align="right"),
        Column(title=sheet.word("head-competition-penalty"), share=16, align="right"),
        Column(title=sheet.word("head-score"), share=10, align="right", bold=True),
    ]
    rows = [_summary_row(sheet, part) for part in own.parts]
    draw_table(paper, columns, rows, size=SMALL)
    standing = own.standing
    if standing is not None:
        paper.skip(1 * MM)
        paper.paragraph(sum_line(sheet, standing), size=10, bold=True)


def sum_line(sheet: Sheet, standing: Standing) -> str:
    """Say how a total came about, and which place it takes."""
    table = sheet.results.standings
    return sheet.say(
        fact(
            "sum-and-place",
            sum=words(told.total_sum(sheet.voice, standing, table)),
            rank=number(standing.rank),
            field=number(len(table.rows)),
        )
    )


def _summary_row(sheet: Sheet, part: TaskPart) -> Row:
    score, task = part.score, part.task
    if task.state == "cancelled":
        return Row(
            cells=(sheet.task_title(task), sheet.word("cancelled"), *([DASH] * 5))
        )
    return Row(
        cells=(
            sheet.task_title(task),
            sheet.result(score, task),
            str(score.rank),
            str(score.formula_points),
            f"−{score.task_penalty}" if score.task_penalty else "",
            f"−{score.event_penalty}" if score.event_penalty else "",
            str(score.score),
        )
    )


def _part(paper: Paper, sheet: Sheet, part: TaskPart, tracks: Tracks) -> None:
    if part.task.state == "cancelled":
        return
    scene, lines = part_map(sheet, part, PLOT), _steps(sheet, part)
    paper.need(HEAD_OF_PART + _height(paper, scene, PLOT, lines))
    paper.skip(3 * MM)
    paper.rule(paper.y, INK)
    title = sheet.task_title(part.task)
    paper.heading(f"{title}: {told.score_sum(sheet.voice, part.score)}", size=11)
    line = formula_line(sheet, part.task)
    paper.paragraph(line, size=7, colour=GREY)
    _beside(paper, scene, PLOT, lines)
    for ruled in part.findings:
        _finding(paper, sheet, ruled, tracks)
    imposed = [charge for charge in part.score.charges if not charge.finding]
    for charge in imposed:
        paper.skip(1.5 * MM)
        line = words(told.charge_line(sheet.voice, charge))
        added = sheet.say(fact("penalty-line", penalty=line))
        paper.paragraph(added, size=SMALL, colour=CLAY)


def _steps(sheet: Sheet, part: TaskPart) -> list[str]:
    """Return the steps to a score and the marks as keyed, a line each."""
    lines = list(step_lines(sheet, part.score))
    for mark in part.score.marks:
        lines += [entry_line(sheet, entered) for entered in mark.keyings]
    if not part.score.settled:
        lines.insert(0, sheet.word("explain-not-settled"))
    return lines


def _broken(
    paper: Paper, scene: Scene | None, size: Size, lines: list[str]
) -> list[str]:
    room = paper.room - (size.width + GAP if scene is not None else 0)
    return [piece for line in lines for piece in _bulleted(line, room)]


def _height(paper: Paper, scene: Scene | None, size: Size, lines: list[str]) -> float:
    """Return the room to ask for: all of it, but never more than most of a page."""
    tall = len(_broken(paper, scene, size, lines)) * SMALL * LEADING
    return min(max(tall, size.height if scene else 0), 120 * MM)


def _beside(paper: Paper, scene: Scene | None, size: Size, lines: list[str]) -> None:
    """Write lines left, a drawing right of them; on over pages without it."""
    paper.skip(1 * MM)
    top = paper.y
    if scene is not None:
        place(paper, scene, paper.left + paper.room - size.width, top)
    for line in _broken(paper, scene, size, lines):
        if paper.need(SMALL * LEADING):
            scene = None
        paper.y -= SMALL * LEADING
        paper.text(paper.left, paper.y, line, size=SMALL)
    if scene is not None:
        paper.y = min(paper.y, top - size.height)


def _bulleted(line: str, room: float) -> list[str]:
    first, *others = wrapped(line, room - 10, SMALL)
    return [f"·  {first}", *(f"    {other}" for other in others)]


def _finding(paper: Paper, sheet: Sheet, ruled: RuledFinding, tracks: Tracks) -> None:
    finding = ruled.finding
    flown = tracks.get((finding.flight, finding.pilot))
    scene = finding_map(sheet, finding, flown, MAP)
    wide = Size(width=paper.room - MAP.width - GAP, height=MAP.height)
    heights = finding_heights(sheet, finding, flown, wide)
    facts = finding_facts(sheet, ruled)
    drawn = scene is not None or heights is not None
    paper.need((MAP.height if drawn else 0) + (len(facts) + 4) * SMALL * LEADING)
    paper.skip(2 * MM)
    paper.paragraph(finding_heading(sheet, ruled), size=9.5, bold=True, colour=CLAY)
    paper.paragraph(sheet.say(finding.says), size=SMALL)
    paper.facts(facts, size=7.5)
    paper.skip(1.5 * MM)
    if not drawn:
        paper.paragraph(sheet.word("no-map"), size=7.5, colour=GREY)
        return
    x = paper.left
    if scene is not None:
        place(paper, scene, x, paper.y)
        x += MAP.width + GAP
    if heights is not None:
        place(paper, heights, x, paper.y)
    paper.y -= MAP.height
