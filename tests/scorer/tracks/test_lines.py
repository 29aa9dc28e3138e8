import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from scorer.errors import InputError
from scorer.tracks import lines
from scorer.tracks.lines import decimals, decode, numbers, printable, split_lines
from tests.scorer.tracks.logs import blob


def places(texts):
    data = np.frombuffer(" ".join(texts).encode() + b" ", np.uint8)
    length = np.array([len(t.encode()) for t in texts])
    end = np.cumsum(length + 1) - 1
    return data, end - length, end


@given(
    st.lists(
        st.from_regex(r"[-+]?[0-9]{1,8}(\.[0-9]{0,7})?", fullmatch=True), min_size=1
    )
)
def test_decimals_are_what_float_gives(texts):
    assert decimals(*places(texts)).tolist() == [float(t) for t in texts]


@pytest.mark.parametrize(
    "text", ["", "-", ".", "1.2.3", "1-2", "1e3", "x", "1_0", "9" * 16]
)
def test_decimals_reads_plain_numbers_only(text):
    assert np.isnan(decimals(*places([text, "1"]))[0])


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False).map(repr), min_size=1))
@example(["1e3", "-0.0", "123456789.123456789"])
def test_numbers_reads_whatever_float_reads(texts):
    assert numbers(*places(texts)).tolist() == [float(t) for t in texts]


@given(st.text(alphabet="ab\r\n", max_size=40))
def test_lines_are_those_of_the_standard_library(text):
    """Numbers count line feeds, as editors do; empty lines are passed over."""
    found = split_lines(blob("x", text))

    feed = "\n" if "\n" in text else "\r"
    expected = [
        (number, piece)
        for number, line in enumerate(text.split(feed), 1)
        for piece in line.split("\r" if feed == "\n" else "\n")
        if piece
    ]
    assert [(int(n), found.text(i)) for i, n in enumerate(found.number)] == expected


def test_logs_beyond_all_measure_are_refused(monkeypatch):
    monkeypatch.setattr(lines, "MAX_LOG_BYTES", 2**20)
    with pytest.raises(
        InputError, match=r"x.igc: found 2 MiB; allowed: a log of at most 1 MiB"
    ):
        split_lines(blob("x.igc", bytes(2 * 2**20)))

    monkeypatch.setattr(lines, "MAX_LOG_LINES", 10)
    with pytest.raises(InputError, match="at most 10 lines"):
        split_lines(blob("x.igc", b"A\n" * 11))


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        (b"Gro\xc3\x9f", "Groß"),
        (b"Gro\xdf", "Groß"),
        (b"\x81\x8d", "\N{REPLACEMENT CHARACTER}" * 2),
        (b" a\x00\x1b[31m  b\t", "a [31m b"),
        (b"x" * 1000, "x" * 200),
    ],
)
def test_text_of_any_encoding_becomes_printable(raw, text):
    assert decode(raw) == text
    assert printable(text) == text
