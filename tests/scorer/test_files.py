"""Names that lead nowhere else, and files that appear whole or not at all."""

import os
import time
import unicodedata

import pytest

from scorer.errors import InputError
from scorer.files import (
    LEFT_BEHIND_S,
    MOST_NAME_BYTES,
    check_name,
    drop_left_behind,
    flaw_of_name,
    inside,
    name_key,
    part_beside,
    put_in_place,
    safe_name,
    write_below,
    write_whole,
)

PLAIN = ("1", "first-morning", "Sat 12 a.m", "Ölmühle", "朝のフライト", "con-1", "a..b")
NOT_PLAIN = (
    *("", " ", ".", "..", "...", "/", "/etc/passwd", "../x", "a/b", "a\\b", "C:x"),
    *("con", "CON", "nul.txt", "Com1", "lpt9.igc", "aux .csv", "com²", "CONIN$"),
    *("sat: morning?", "a*b", 'a"b', "a<b", "a|b", "a\nb", "a\0b", "a\x7fb"),
    *("a.", "a ", " a", ".hidden", "~lock", "a\u202eb", "a\u2028b", "a\ud800"),
    *("x" * 201, "é" * 101),
)


@pytest.mark.parametrize("name", PLAIN)
def test_plain_names_stay_as_they_are(name):
    assert flaw_of_name(name) == ""
    assert safe_name(name) == name


@pytest.mark.parametrize("name", NOT_PLAIN)
def test_a_name_that_some_system_cannot_have_is_refused_everywhere(name, tmp_path):
    assert flaw_of_name(name)
    with pytest.raises(InputError):
        check_name(name, "here", "name")
    if name != "a/b":  # which is a file in a folder
        with pytest.raises(InputError):
            inside(tmp_path, f"logs/{name}")


@pytest.mark.parametrize("name", NOT_PLAIN)
def test_the_nearest_plain_name_is_plain(name):
    assert flaw_of_name(safe_name(name)) == ""


def test_every_single_character_becomes_plain():
    odd = [c for c in map(chr, range(0x3000)) if flaw_of_name(f"a{c}b")]

    assert not any(flaw_of_name(safe_name(f"a{c}b")) for c in odd)
    assert {"/", "\\", ":", "\0", "\n", "\u202e"} <= set(odd)
    assert not any(unicodedata.category(c).startswith(("L", "M", "N")) for c in odd)


def test_names_that_one_system_takes_for_the_same_are_kept_apart():
    taken = set()
    for name in ("Über.igc", "über.igc", unicodedata.normalize("NFD", "über.igc")):
        taken.add(name_key(safe_name(name, taken)))

    assert len(taken) == 3


def test_a_suffix_survives_the_cutting_of_a_long_name():
    name = safe_name("x" * 500 + ".igc")

    assert name.endswith(".igc")
    assert len(name.encode()) <= MOST_NAME_BYTES


def test_a_link_in_the_folder_does_not_lead_writing_out_of_it(tmp_path):
    out, folder = tmp_path / "out", tmp_path / "folder"
    out.mkdir()
    folder.mkdir()
    (folder / "link").symlink_to(out)
    (folder / "dangling").symlink_to(out / "new")

    for name in ("link/x", "dangling"):
        with pytest.raises(InputError, match="a link that leads out"):
            write_below(folder, name, b"x")
    assert list(out.iterdir()) == []


def test_what_cannot_be_written_whole_leaves_the_old_file(tmp_path):
    """A directory of the same name stands for any failure at the last step."""
    path = tmp_path / "results.json"
    write_whole(path, b"old")
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    with pytest.raises(TypeError):
        write_whole(path, "no bytes")

    assert path.read_bytes() == b"new"
    assert [p.name for p in tmp_path.iterdir()] == ["results.json"]


def test_permissions_stay_and_new_files_get_the_usual_ones(tmp_path):
    path, usual = tmp_path / "a", tmp_path / "b"
    usual.write_bytes(b"")
    write_whole(path, b"1")
    assert path.stat().st_mode == usual.stat().st_mode
    path.chmod(0o640)
    write_whole(path, b"2")

    assert path.stat().st_mode & 0o777 == 0o640


def test_a_device_or_a_link_named_outright_is_written_to(tmp_path):
    read, write = os.pipe()
    write_whole_to = tmp_path / "link"
    write_whole_to.symlink_to(f"/dev/fd/{write}")
    write_whole(write_whole_to, b"through")
    os.close(write)

    assert os.read(read, 20) == b"through"
    os.close(read)


def test_a_finished_file_never_takes_the_place_of_another(tmp_path):
    part, path = tmp_path / "part", tmp_path / "e"
    part.write_bytes(b"new")
    path.symlink_to(tmp_path / "nowhere")

    with pytest.raises(FileExistsError):
        put_in_place(part, path)
    assert not (tmp_path / "nowhere").exists()


def test_what_a_killed_program_began_to_write_is_taken_away(tmp_path):
    """It stood hidden among the pages and went to the web with them."""
    page, other = tmp_path / "a.html", tmp_path / "b.html"
    writers = [part_beside(path) for path in (page, page, other)]
    old, fresh, foreign = (writer.__enter__() for writer in writers)
    long_ago = time.time() - 2 * LEFT_BEHIND_S
    for part in (old, foreign):
        os.utime(part, (long_ago, long_ago))
    drop_left_behind([page])
    assert [part.exists() for part in (old, fresh, foreign)] == [False, True, True]
