"""What commands print fits the screen, whatever people are called."""

import io

import pytest
from rich.cells import cell_len
from rich.console import Console

from scorer.cli import columns, screen

COLUMNS = (
    ("Rank", "right"),
    ("Pilot", "name"),
    ("Result m", "right"),
    ("Event pen.", "spare"),
    ("Places 95 %", "spare"),
    ("Remarks", "text"),
)
REMARK = "two keyings differ by 0.90 m, more than 0.01 m: " * 4
ROWS = [
    ("1", "風見坂 蒼介", "2.01", "", "1–2", ""),
    ("2", "ريحانة النجمراني", "160.62", "", "1–2", REMARK),
    ("3", "N" * 3000, "70.51", "", "3–3", "short"),
]
GIVEN = "".join(word for word in REMARK.split())


@pytest.fixture
def printed(monkeypatch):
    """Print on a made-up terminal of some width; return its lines."""

    def do(width, work, **more):
        console = Console(file=io.StringIO(), width=width, color_system=None, **more)
        monkeypatch.setattr(columns, "screen", console)
        monkeypatch.setattr(screen, "screen", console)
        work()
        return console.file.getvalue().splitlines()

    return do


def table():
    columns.show_table("Title", COLUMNS, ROWS)


@pytest.mark.parametrize("width", [60, 80, 100, 120, 200])
def test_a_table_is_never_wider_than_the_screen(printed, width):
    lines = printed(width, table, force_terminal=True)

    assert max(map(cell_len, lines)) <= width
    assert GIVEN in "".join(word for line in lines for word in line.split())


@pytest.mark.parametrize("width", [80, 200])
def test_numbers_align_beside_wide_and_right_to_left_names(printed, width):
    lines = printed(width, table, force_terminal=True)

    rows = [
        next(line for line in lines if n in line) for n in ("2.01", "160.62", "70.51")
    ]
    ends = {
        cell_len(row[: row.index(n) + len(n)])
        for row, n in zip(rows, ("2.01", "160.62", "70.51"), strict=True)
    }
    assert len(ends) == 1
    assert "\u200e" in rows[1]  # the number after it keeps its place


def test_columns_without_content_are_left_out(printed):
    lines = printed(200, table)

    assert "Event pen." not in lines[1]
    assert "Places 95 %" in lines[1]


def test_a_file_gets_lines_unbroken(printed):
    lines = printed(80, lambda: screen.say("x " * 200))

    assert len(lines) == 1


def test_long_lines_break_between_words_and_keep_their_indent(printed):
    words = (
        "    the lines meet right of the line between them, well away from both ends"
    )
    lines = printed(40, lambda: screen.say(words), force_terminal=True)

    assert len(lines) > 1
    assert all(len(line) <= 40 for line in lines)
    assert all(line.startswith("      ") for line in lines[1:])
    assert " ".join(line.strip() for line in lines) == words.strip()


def test_names_cannot_steer_the_terminal(printed):
    lines = printed(
        80,
        lambda: columns.show_table("T", COLUMNS[:2], [("1", "a\x1b[31mb\nc\u202ed")]),
    )

    assert "a\ufffd[31mb cd" in lines[-1]


def test_what_finds_no_room_is_named(printed):
    many = [("Pilot", "name"), *((f"Task {n}", "shed") for n in range(1, 21))]
    row = [
        "Kamilė Hřebíčkovský",
        *["1000"] * 20,
    ]

    lines = printed(
        80, lambda: columns.show_table("T", many, [row]), force_terminal=True
    )

    assert max(map(cell_len, lines)) <= 80
    assert "Task 20" in lines[1]
    assert "Not shown, for want of room: Task 1, Task 2" in " ".join(lines)
